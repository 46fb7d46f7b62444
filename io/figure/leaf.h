/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which lines of a folio stand where on which page. A heading is never the last thing on a page, a row of a table is
 * whole on one page unless no page would hold it, and its heads stand again on every page it goes on to. A figure has
 * a page of its own, the next one behind its caption.
 */
#ifndef RN_IO_FIGURE_LEAF_H
#define RN_IO_FIGURE_LEAF_H

#include "io/figure/pen.h"
#include "io/report/folio.h"

/* How a page is set [mm]. */
typedef struct rn_leaf_style {
	double width, height, left, top, bottom; /* of the page; of the text, from its edges. Right as left */
	double body, small, title, first, second; /* sizes of letters: text, tables, headings */
} rn_leaf_style;

/* Lines that belong together: a heading, a paragraph, a row. */
typedef struct rn_leaf_item {
	const rn_block *block; /* NULL: the title of the whole */
	int row;               /* of a table; RN_NONE: its heads, or no table */
	PangoLayout *cells[RN_FOLIO_COLUMNS];
	double lefts[RN_FOLIO_COLUMNS], widths[RN_FOLIO_COLUMNS]; /* of the cells, from the left edge of the text [mm] */
	int cell_count, line_count;
	double before, pitch, height; /* white above it, from line to line, of all lines [mm] */
	bool is_bold;
} rn_leaf_item;

/* Lines of an item at a place, or a figure. */
typedef struct rn_leaf_slice {
	int item;          /* RN_NONE: a figure */
	int figure;        /* which, RN_NONE */
	int page;          /* from 0 */
	double y;          /* top of its first line [mm] */
	int first, end;    /* lines */
	bool again;        /* heads repeated */
} rn_leaf_slice;

typedef struct rn_leaves {
	rn_leaf_style style;
	rn_leaf_item *items;
	rn_leaf_slice *slices; /* in the order of the pages */
	size_t item_count, item_capacity, slice_count, slice_capacity;
	int page_count;
} rn_leaves;

/* `context` measures in millimetres; what is found lives in `pool`. Errors: MEMORY. */
rn_status rn_leaves_lay_out(rn_leaves *leaves_out, rn_pool *pool, PangoContext *context,
                            const rn_folio *folio) RN_MUST_CHECK;
void rn_leaves_release(rn_leaves *leaves);

#endif
