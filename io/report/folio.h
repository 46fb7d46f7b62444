/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A written answer of several pages as blocks: headings, paragraphs, tables, figures. It is told once and written as
 * text, as a page for a browser, or as a PDF, so the three cannot differ in a word.
 *
 *     rn_buffer_text(&folio.line, "Free body");
 *     rn_folio_heading(&folio, 1);               takes what stands in the line
 *     rn_folio_table(&folio, &columns);
 *     rn_buffer_text(&folio.line, "top");
 *     rn_folio_cell(&folio);                      a row is full when its last cell is
 *     rn_folio_table_end(&folio);
 *
 * Nothing here can fail half way: what memory was short of is remembered.
 */
#ifndef RN_IO_REPORT_FOLIO_H
#define RN_IO_REPORT_FOLIO_H

#include "io/base/buffer.h"
#include "io/report/table.h"

enum { RN_FOLIO_COLUMNS = 8 };

/* ISO 216 A4, and the letter of North America (ANSI/ASME Y14.1); a card is half of either. */
typedef enum rn_paper { RN_PAPER_A4, RN_PAPER_LETTER } rn_paper;

typedef enum rn_block_kind {
	RN_BLOCK_HEADING,
	RN_BLOCK_PARAGRAPH,
	RN_BLOCK_STRONG,  /* a paragraph nobody may miss */
	RN_BLOCK_BOXED,   /* a paragraph with a frame round it: what the whole rests on */
	RN_BLOCK_ITEM,    /* of a list */
	RN_BLOCK_TABLE,
	RN_BLOCK_FIGURE,
	RN_BLOCK_SHEET    /* what follows begins on a new page */
} rn_block_kind;

/* How the columns of a table stand. */
typedef struct rn_columns {
	int count;
	const char *heads[RN_FOLIO_COLUMNS];  /* all NULL: no row of heads */
	double weights[RN_FOLIO_COLUMNS];     /* share of the width of a page [-] */
	bool to_the_right[RN_FOLIO_COLUMNS];  /* numbers */
	double row_height;                    /* least height of a row on paper [mm]: room to write by hand; 0 = as its text */
} rn_columns;

typedef enum rn_view { RN_VIEW_RIGGING, RN_VIEW_POLYGON, RN_VIEW_STEM } rn_view;

typedef struct rn_block {
	rn_block_kind kind;
	int level;         /* of a heading, 1 or 2 */
	const char *text;  /* of a figure its caption; of a table NULL */
	rn_columns columns;
	const char **cells; /* row by row */
	int row_count;
	rn_view view;      /* of a figure: */
	int case_index, object; /* of the answer; node or stem, RN_NONE for the rigging */
} rn_block;

typedef struct rn_folio {
	rn_pool pool;   /* everything in the folio lives in it */
	rn_buffer line; /* what is being put together */
	const char *title, *running; /* of the whole; at the head of every page */
	rn_block *blocks;
	size_t count, capacity;
	size_t cell_count, cell_capacity; /* of the table that is open */
	rn_paper paper;
	bool is_card; /* a page for a pocket, in large letters */
} rn_folio;

rn_folio rn_folio_make(const rn_allocator *allocator);
void rn_folio_release(rn_folio *folio);
/* Errors: MEMORY if anything was lost on the way. */
rn_status rn_folio_status(const rn_folio *folio) RN_MUST_CHECK;

/* Each takes what stands in the line, which is empty afterwards. */
const char *rn_folio_keep(rn_folio *folio);
void rn_folio_heading(rn_folio *folio, int level);
void rn_folio_block(rn_folio *folio, rn_block_kind kind); /* a paragraph of one of the four kinds; none where the line is empty */
void rn_folio_cell(rn_folio *folio);

void rn_folio_table(rn_folio *folio, const rn_columns *columns);
void rn_folio_table_end(rn_folio *folio);
/* A table of the text answer: names, ways, and a column for each case. */
void rn_folio_add_table(rn_folio *folio, const rn_table *table);
void rn_folio_figure(rn_folio *folio, rn_view view, int case_index, int object);
void rn_folio_sheet(rn_folio *folio);

/* As text of at most rn_paragraph_width columns; without its figures. Errors: MEMORY. */
rn_status rn_folio_text(rn_buffer *buffer, const rn_folio *folio) RN_MUST_CHECK;

#endif
