/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/table.h"

#include <string.h>

#include "io/report/paragraph.h"

enum { NAME_MOST = 16, WAY_MOST = 26, GAP = 2, WORDS_GAP = 1, BELOW = 2, CELL_LEAST = 16 };

rn_table rn_table_make(const rn_allocator *allocator, int column_count)
{
	rn_table table = {
		.pool = rn_pool_make(allocator), .title = "", .column_count = column_count};
	table.heads = rn_pool_take(&table.pool, (size_t)column_count, sizeof *table.heads);
	for (int i = 0; table.heads && i < column_count; i++)
		table.heads[i] = "";
	return table;
}

void rn_table_release(rn_table *table)
{
	rn_pool_release(&table->pool);
}

rn_status rn_table_status(const rn_table *table)
{
	return table->pool.failed ? RN_STATUS_MEMORY : RN_OK;
}

const char *rn_table_keep(rn_table *table, rn_buffer *text)
{
	if (text->failed)
		table->pool.failed = true;
	const char *copy = text->bytes ? rn_pool_copy(&table->pool, text->bytes, text->size) : "";
	text->size = 0;
	if (text->bytes)
		text->bytes[0] = '\0';
	return copy ? copy : "";
}

void rn_table_head(rn_table *table, int column, const char *head)
{
	if (table->heads)
		table->heads[column] = head;
}

rn_table_row *rn_table_add_row(rn_table *table, const char *name, const char *way)
{
	rn_table_row *rows = rn_pool_grow(&table->pool, table->rows, table->row_count,
	                                  &table->row_capacity, sizeof *rows);
	rn_table_cell *cells =
		rn_pool_take(&table->pool, (size_t)table->column_count, sizeof *cells);
	if (!rows || !cells)
		return NULL;
	for (int i = 0; i < table->column_count; i++)
		cells[i] = (rn_table_cell){.number = "", .share = "", .words = ""};
	table->rows = rows;
	rn_table_row *row = &rows[table->row_count++];
	*row = (rn_table_row){.name = name, .way = way, .cells = cells};
	return row;
}

/* ---- widths ---------------------------------------------------------------------------------- */

/* Columns a number takes before its point (or end), and from the point on. */
static int before_point(const char *number)
{
	return (int)strcspn(number, ".");
}

static int from_point(const char *number)
{
	return (int)strlen(number) - before_point(number);
}

typedef struct widths {
	int name, way, whole, part, share, cell;
} widths;

static int larger(int a, int b)
{
	return a > b ? a : b;
}

static int smaller(int a, int b)
{
	return a < b ? a : b;
}

static int number_columns(const widths *w)
{
	return 1 + w->whole + w->part; /* a mark stands before every number */
}

static bool is_words_alone(const rn_table_cell *cell)
{
	return !cell->number[0] && !cell->share[0];
}

/* Columns of a cell with everything on one line. */
static int full_need(const rn_table_cell *cell, const widths *w)
{
	int words = rn_paragraph_columns(cell->words);
	if (is_words_alone(cell))
		return 1 + words;
	return number_columns(w) + (cell->share[0] ? GAP + w->share : 0) +
	       (words ? WORDS_GAP + words : 0);
}

/* Columns of a cell whose words may stand on a line of their own. */
static int narrow_need(const rn_table_cell *cell, const widths *w)
{
	int words = rn_paragraph_columns(cell->words);
	if (is_words_alone(cell))
		return 1 + words;
	return larger(number_columns(w) + (cell->share[0] ? GAP + w->share : 0), BELOW + words);
}

static bool words_go_below(const rn_table_cell *cell, const widths *w)
{
	return cell->words[0] && !is_words_alone(cell) && full_need(cell, w) > w->cell;
}

/* The width of all cells: wide if two cases fit beside each other like that, narrow if only that
 * lets them. */
static int cell_columns(const rn_table *table, const widths *w)
{
	int full = CELL_LEAST, narrow = CELL_LEAST;
	for (size_t r = 0; r < table->row_count; r++)
		for (int c = 0; c < table->column_count; c++) {
			full = larger(full, full_need(&table->rows[r].cells[c], w));
			narrow = larger(narrow, narrow_need(&table->rows[r].cells[c], w));
		}
	int beside = smaller(table->column_count, 2);
	int room = (rn_paragraph_width - w->name - 1 - w->way) / beside - GAP;
	if (full <= room)
		return full;
	if (narrow <= room)
		return room;
	return smaller(full, rn_paragraph_width - w->name - 1 - w->way - GAP);
}

static widths measure(const rn_table *table)
{
	widths w = {0};
	for (size_t r = 0; r < table->row_count; r++) {
		const rn_table_row *row = &table->rows[r];
		w.name = larger(w.name, smaller(NAME_MOST, rn_paragraph_columns(row->name)));
		w.way = larger(w.way, smaller(WAY_MOST, rn_paragraph_columns(row->way)));
		for (int c = 0; c < table->column_count; c++) {
			w.whole = larger(w.whole, before_point(row->cells[c].number));
			w.part = larger(w.part, from_point(row->cells[c].number));
			w.share = larger(w.share, rn_paragraph_columns(row->cells[c].share));
		}
	}
	int labels = w.name + 1 + w.way; /* over which the title reaches */
	w.way += larger(0, rn_paragraph_columns(table->title) - labels);
	w.cell = cell_columns(table, &w);
	return w;
}

/* ---- printing -------------------------------------------------------------------------------- */

static void add_blanks(rn_buffer *buffer, int count)
{
	for (int i = 0; i < count; i++)
		rn_buffer_char(buffer, ' ');
}

static void end_line(rn_buffer *buffer)
{
	while (buffer->size > 0 && buffer->bytes[buffer->size - 1] == ' ')
		buffer->bytes[--buffer->size] = '\0';
	rn_buffer_char(buffer, '\n');
}

static void print_number(rn_buffer *buffer, const rn_table_cell *cell, const widths *w)
{
	add_blanks(buffer, w->whole - before_point(cell->number));
	rn_buffer_char(buffer, cell->marked ? '*' : ' ');
	rn_buffer_text(buffer, cell->number);
	add_blanks(buffer, w->part - from_point(cell->number));
}

static void print_cell(rn_buffer *buffer, const rn_table_cell *cell, const widths *w)
{
	if (is_words_alone(cell)) {
		rn_buffer_char(buffer, cell->marked ? '*' : ' ');
		rn_paragraph_fit(buffer, cell->words, w->cell - 1, w->cell - 1);
		return;
	}
	int rest = w->cell - number_columns(w);
	print_number(buffer, cell, w);
	if (cell->share[0]) {
		add_blanks(buffer, GAP);
		rn_paragraph_fit(buffer, cell->share, w->share, rest - GAP);
		rest -= GAP + w->share;
	}
	if (cell->words[0] && !words_go_below(cell, w)) {
		add_blanks(buffer, WORDS_GAP);
		rn_paragraph_fit(buffer, cell->words, rest - WORDS_GAP, rest - WORDS_GAP);
	} else {
		add_blanks(buffer, rest);
	}
}

static void print_labels(rn_buffer *buffer, const char *name, const char *way, const widths *w)
{
	rn_paragraph_fit(buffer, name, w->name + 1, w->name);
	rn_paragraph_fit(buffer, way, w->way, w->way);
}

static void print_below(rn_buffer *buffer, const rn_table_row *row, const widths *w, int first,
                        int end)
{
	bool any = false;
	for (int c = first; c < end; c++)
		any = any || words_go_below(&row->cells[c], w);
	if (!any)
		return;
	print_labels(buffer, "", "", w);
	for (int c = first; c < end; c++) {
		const char *words = words_go_below(&row->cells[c], w) ? row->cells[c].words : "";
		add_blanks(buffer, GAP + BELOW);
		rn_paragraph_fit(buffer, words, w->cell - BELOW, w->cell - BELOW);
	}
	end_line(buffer);
}

static void print_block(rn_buffer *buffer, const rn_table *table, const widths *w, int first,
                        int end)
{
	rn_paragraph_fit(buffer, table->title, w->name + 1 + w->way, w->name + 1 + w->way);
	for (int c = first; c < end; c++) {
		add_blanks(buffer, GAP + 1);
		rn_paragraph_fit(buffer, table->heads[c], w->cell - 1, w->cell - 1);
	}
	end_line(buffer);
	for (size_t r = 0; r < table->row_count; r++) {
		const rn_table_row *row = &table->rows[r];
		print_labels(buffer, row->name, row->way, w);
		for (int c = first; c < end; c++) {
			add_blanks(buffer, GAP);
			print_cell(buffer, &row->cells[c], w);
		}
		end_line(buffer);
		print_below(buffer, row, w, first, end);
	}
}

void rn_table_print(rn_buffer *buffer, const rn_table *table)
{
	if (rn_table_status(table) != RN_OK || table->row_count == 0) {
		buffer->failed = buffer->failed || rn_table_status(table) != RN_OK;
		return;
	}
	widths w = measure(table);
	int room = rn_paragraph_width - w.name - 1 - w.way;
	int at_once = larger(1, room / (GAP + w.cell));
	for (int first = 0; first < table->column_count; first += at_once) {
		if (first > 0)
			rn_buffer_char(buffer, '\n');
		print_block(buffer, table, &w, first,
		            smaller(first + at_once, table->column_count));
	}
}
