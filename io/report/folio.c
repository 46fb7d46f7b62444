/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/folio.h"

#include "io/report/paragraph.h"

rn_folio rn_folio_make(const rn_allocator *allocator)
{
	return (rn_folio){.pool = rn_pool_make(allocator), .line = rn_buffer_make(allocator), .title = "", .running = ""};
}

void rn_folio_release(rn_folio *folio)
{
	rn_buffer_release(&folio->line);
	rn_pool_release(&folio->pool);
}

rn_status rn_folio_status(const rn_folio *folio)
{
	return folio->pool.failed || folio->line.failed ? RN_STATUS_MEMORY : RN_OK;
}

/* ---- blocks ------------------------------------------------------------------------------------------ */

const char *rn_folio_keep(rn_folio *f)
{
	const char *text = f->line.size > 0 ? rn_pool_copy(&f->pool, f->line.bytes, f->line.size) : "";
	f->line.size = 0;
	if (f->line.bytes)
		f->line.bytes[0] = '\0';
	return text ? text : "";
}

static rn_block *add_block(rn_folio *f, rn_block_kind kind)
{
	rn_block *grown = rn_pool_grow(&f->pool, f->blocks, f->count, &f->capacity, sizeof *grown);
	if (!grown)
		return NULL;
	f->blocks = grown;
	f->blocks[f->count] = (rn_block){.kind = kind};
	return &f->blocks[f->count++];
}

static void add_text(rn_folio *f, rn_block_kind kind, int level)
{
	const char *text = rn_folio_keep(f);
	rn_block *block = add_block(f, kind);
	if (block) {
		block->text = text;
		block->level = level;
	}
}

void rn_folio_heading(rn_folio *f, int level)
{
	add_text(f, RN_BLOCK_HEADING, level);
}

void rn_folio_block(rn_folio *f, rn_block_kind kind)
{
	if (f->line.size > 0)
		add_text(f, kind, 0);
}

void rn_folio_sheet(rn_folio *f)
{
	(void)add_block(f, RN_BLOCK_SHEET);
}

void rn_folio_figure(rn_folio *f, rn_view view, int case_index, int object)
{
	const char *caption = rn_folio_keep(f);
	rn_block *block = add_block(f, RN_BLOCK_FIGURE);
	if (!block)
		return;
	block->text = caption;
	block->view = view;
	block->case_index = case_index;
	block->object = object;
}

/* ---- tables ------------------------------------------------------------------------------------------ */

void rn_folio_table(rn_folio *f, const rn_columns *columns)
{
	rn_block *block = add_block(f, RN_BLOCK_TABLE);
	if (block)
		block->columns = *columns;
	f->cell_count = f->cell_capacity = 0;
}

void rn_folio_cell(rn_folio *f)
{
	const char *text = rn_folio_keep(f);
	rn_block *block = f->count > 0 ? &f->blocks[f->count - 1] : NULL;
	if (!block || block->kind != RN_BLOCK_TABLE)
		return; /* its table was lost for want of memory */
	const char **grown = rn_pool_grow(&f->pool, block->cells, f->cell_count, &f->cell_capacity, sizeof *grown);
	if (!grown)
		return;
	block->cells = grown;
	block->cells[f->cell_count++] = text;
}

/* A table without a row is none. */
void rn_folio_table_end(rn_folio *f)
{
	rn_block *block = f->count > 0 ? &f->blocks[f->count - 1] : NULL;
	if (!block || block->kind != RN_BLOCK_TABLE)
		return;
	block->row_count = (int)(f->cell_count / (size_t)block->columns.count);
	if (block->row_count == 0)
		f->count--;
}

static void add_cell(rn_folio *f, const char *text)
{
	rn_buffer_text(&f->line, text);
	rn_folio_cell(f);
}

static void add_parts(rn_folio *f, const rn_table_cell *cell)
{
	const char *parts[] = {cell->number, cell->share, cell->words};
	for (int i = 0; i < 3; i++) {
		rn_buffer_text(&f->line, *parts[i] && f->line.size > 0 ? ", " : "");
		rn_buffer_text(&f->line, parts[i]);
	}
	rn_folio_cell(f);
}

/* Cases beside each other that a page has room for. */
enum { CASES_MOST = 3 };

static void add_columns(rn_folio *f, const rn_table *table, int first, int end)
{
	rn_columns columns = {.count = 2 + end - first, .heads = {"", ""}, .weights = {0.9, 1.1}};
	columns.heads[0] = rn_pool_copy_text(&f->pool, table->title);
	for (int c = first; c < end; c++) {
		columns.heads[2 + c - first] = rn_pool_copy_text(&f->pool, table->heads[c]);
		columns.weights[2 + c - first] = 2;
	}
	rn_folio_table(f, &columns);
	for (size_t r = 0; r < table->row_count; r++) {
		add_cell(f, table->rows[r].name);
		add_cell(f, table->rows[r].way);
		for (int c = first; c < end; c++)
			add_parts(f, &table->rows[r].cells[c]);
	}
	rn_folio_table_end(f);
}

void rn_folio_add_table(rn_folio *f, const rn_table *table)
{
	for (int first = 0; first < table->column_count; first += CASES_MOST) {
		int left = table->column_count - first;
		add_columns(f, table, first, first + (left < CASES_MOST ? left : CASES_MOST));
	}
}

/* ---- as text ----------------------------------------------------------------------------------------- */

enum { GAP = 2, INDENT = 2, NARROWEST = 12 };

static int max_int(int a, int b)
{
	return a > b ? a : b;
}

/* Columns as wide as what is in them; where that is too much for a line the widest give way. */
static void fit_columns(const rn_block *t, int widths[RN_FOLIO_COLUMNS])
{
	int total = INDENT - GAP;
	for (int c = 0; c < t->columns.count; c++) {
		widths[c] = t->columns.heads[c] ? rn_paragraph_columns(t->columns.heads[c]) : 1;
		for (int r = 0; r < t->row_count; r++)
			widths[c] = max_int(widths[c], rn_paragraph_columns(t->cells[r * t->columns.count + c]));
		total += widths[c] + GAP;
	}
	while (total > rn_paragraph_width) {
		int widest = 0;
		for (int c = 1; c < t->columns.count; c++)
			widest = widths[c] > widths[widest] ? c : widest;
		if (widths[widest] <= NARROWEST)
			break;
		widths[widest]--;
		total--;
	}
}

/* Bytes of `text` that fit in so many columns, broken at a blank where there is one. */
static size_t piece_of(const char *text, int width)
{
	size_t end = 0, blank = 0;
	int columns = 0;
	for (; text[end] && columns <= width; end++) {
		if (text[end] == ' ')
			blank = end;
		columns += ((unsigned char)text[end] & 0xC0) != 0x80;
	}
	if (columns <= width)
		return end;
	while (((unsigned char)text[--end] & 0xC0) == 0x80)
		;
	return blank > 0 ? blank : end;
}

static int columns_of(const char *text, size_t size)
{
	int columns = 0;
	for (size_t i = 0; i < size; i++)
		columns += ((unsigned char)text[i] & 0xC0) != 0x80;
	return columns;
}

static void write_row(rn_buffer *out, const rn_block *t, const char *const *cells, const int *widths)
{
	const char *left[RN_FOLIO_COLUMNS];
	for (int c = 0; c < t->columns.count; c++)
		left[c] = cells[c] ? cells[c] : "";
	for (bool more = true; more;) {
		int start = INDENT, at = 0; /* columns: of the cell, of what is written so far */
		more = false;
		for (int c = 0; c < t->columns.count; c++) {
			size_t size = piece_of(left[c], widths[c]);
			int columns = columns_of(left[c], size);
			int from = start + (t->columns.to_the_right[c] ? widths[c] - columns : 0);
			if (size > 0) {
				rn_buffer_format(out, "%*s", from - at, "");
				rn_buffer_add(out, left[c], size);
				at = from + columns;
			}
			start += widths[c] + GAP;
			left[c] += size + (left[c][size] == ' ');
			more = more || *left[c];
		}
		rn_buffer_char(out, '\n');
	}
}

static void write_table(rn_buffer *out, const rn_block *t)
{
	int widths[RN_FOLIO_COLUMNS];
	fit_columns(t, widths);
	if (t->columns.heads[0])
		write_row(out, t, t->columns.heads, widths);
	for (int r = 0; r < t->row_count; r++)
		write_row(out, t, (const char *const *)t->cells + r * t->columns.count, widths);
}

rn_status rn_folio_text(rn_buffer *out, const rn_folio *folio)
{
	RN_TRY(rn_folio_status(folio));
	for (size_t i = 0; i < folio->count; i++) {
		const rn_block *b = &folio->blocks[i];
		switch (b->kind) {
		case RN_BLOCK_HEADING: rn_buffer_format(out, "%s%s\n", i > 0 ? "\n" : "", b->text); break;
		case RN_BLOCK_TABLE:
			rn_buffer_text(out, i > 0 && folio->blocks[i - 1].kind == RN_BLOCK_TABLE ? "\n" : "");
			write_table(out, b);
			break;
		case RN_BLOCK_SHEET:
		case RN_BLOCK_FIGURE: break;
		case RN_BLOCK_ITEM:
			rn_buffer_text(out, "- ");
			rn_paragraph_add(out, b->text);
			break;
		case RN_BLOCK_PARAGRAPH:
		case RN_BLOCK_STRONG:
		case RN_BLOCK_BOXED: rn_paragraph_add(out, b->text); break;
		}
	}
	return rn_buffer_status(out);
}
