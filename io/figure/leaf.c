/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/leaf.h"

#include <math.h>

/* A sheet, and half of one for a pocket, where letters are large enough to read at arm's length. */
static const rn_leaf_style sheets[] = {
	[RN_PAPER_A4] = {210, 297, 20, 24, 20, 3.2, 2.75, 6.0, 4.4, 3.5},
	[RN_PAPER_LETTER] = {215.9, 279.4, 20, 24, 20, 3.2, 2.75, 6.0, 4.4, 3.5},
};
static const rn_leaf_style cards[] = {
	[RN_PAPER_A4] = {148, 210, 10, 15, 12, 3.7, 3.5, 5.4, 4.2, 3.7},
	[RN_PAPER_LETTER] = {139.7, 215.9, 10, 15, 12, 3.7, 3.5, 5.4, 4.2, 3.7},
};

static const double leading = 1.38; /* from line to line, over the size of the letters [-] */
static const double gutter = 3;     /* between columns [mm] */

typedef struct composer {
	rn_leaves *leaves;
	rn_pool *pool;
	PangoContext *context;
	rn_buffer text; /* scratch */
	double y, bottom;
	int page, figure_count, first_pending; /* figures seen, and the first without a page yet */
} composer;

/* ---- lines ------------------------------------------------------------------------------------------- */

static rn_leaf_item *add_item(composer *c, const rn_block *block, int row, double size, double before, bool bold)
{
	rn_leaves *l = c->leaves;
	rn_leaf_item *grown = rn_pool_grow(c->pool, l->items, l->item_count, &l->item_capacity, sizeof *grown);
	if (!grown)
		return NULL;
	l->items = grown;
	rn_leaf_item *item = &l->items[l->item_count++];
	*item = (rn_leaf_item){.block = block, .row = row, .before = before, .pitch = leading * size, .is_bold = bold};
	return item;
}

static void set_cell(composer *c, rn_leaf_item *item, const char *text, double size, double left, double width)
{
	int cell = item->cell_count++;
	rn_pen_plain(&c->text, text);
	PangoLayout *layout = rn_pen_layout(c->context, &c->text, size, item->is_bold);
	pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
	pango_layout_set_width(layout, (int)floor(width * PANGO_SCALE));
	item->cells[cell] = layout;
	item->lefts[cell] = left;
	item->widths[cell] = width;
	int lines = pango_layout_get_line_count(layout);
	item->line_count = lines > item->line_count ? lines : item->line_count;
	item->height = item->line_count * item->pitch;
}

static double text_width(const composer *c)
{
	return c->leaves->style.width - 2 * c->leaves->style.left;
}

/* How far text stands in on both sides: from its frame, behind its dash [mm]. */
static double inset_of(const rn_block *block)
{
	return !block ? 0 : block->kind == RN_BLOCK_BOXED ? 3 : block->kind == RN_BLOCK_ITEM ? 4 : 0;
}

static void add_words(composer *c, const rn_block *block, const char *text, double size, double before, bool bold)
{
	double inset = inset_of(block);
	rn_leaf_item *item = add_item(c, block, RN_NONE, size, before, bold);
	if (item)
		set_cell(c, item, text, size, inset, text_width(c) - 2 * inset);
}

static void add_row(composer *c, const rn_block *block, int row, const char *const *cells)
{
	const rn_columns *k = &block->columns;
	double size = c->leaves->style.small, total = 0, left = 0;
	rn_leaf_item *item = add_item(c, block, row, size, row == RN_NONE ? 0.6 * size : 0.35 * size, row == RN_NONE);
	if (!item)
		return;
	for (int i = 0; i < k->count; i++)
		total += k->weights[i];
	for (int i = 0; i < k->count; i++) {
		double width = text_width(c) * k->weights[i] / total;
		set_cell(c, item, cells[i] ? cells[i] : "", size, left, width - gutter);
		left += width;
	}
	if (row != RN_NONE)
		item->height = fmax(item->height, k->row_height);
}

static void add_table(composer *c, const rn_block *block)
{
	if (block->columns.heads[0])
		add_row(c, block, RN_NONE, block->columns.heads);
	for (int r = 0; r < block->row_count; r++)
		add_row(c, block, r, (const char *const *)block->cells + r * block->columns.count);
}

static void add_block(composer *c, const rn_block *block)
{
	const rn_leaf_style *s = &c->leaves->style;
	bool second = block->level > 1;
	switch (block->kind) {
	case RN_BLOCK_HEADING:
		add_words(c, block, block->text, second ? s->second : s->first, (second ? 0.8 : 1.2) * s->first, true);
		break;
	case RN_BLOCK_FIGURE:
	case RN_BLOCK_ITEM: add_words(c, block, block->text, s->body, 0.15 * s->body, false); break;
	case RN_BLOCK_PARAGRAPH: add_words(c, block, block->text, s->body, 0.6 * s->body, false); break;
	case RN_BLOCK_BOXED: add_words(c, block, block->text, s->body, 0.6 * s->body + inset_of(block), false); break;
	case RN_BLOCK_STRONG: add_words(c, block, block->text, s->body, 0.6 * s->body, true); break;
	case RN_BLOCK_TABLE: add_table(c, block); break;
	case RN_BLOCK_SHEET: (void)add_item(c, block, RN_NONE, 0, 0, false); break;
	}
}

/* ---- pages ------------------------------------------------------------------------------------------- */

static rn_leaf_slice *add_slice(composer *c, int item, int first, int end)
{
	rn_leaves *l = c->leaves;
	rn_leaf_slice *grown = rn_pool_grow(c->pool, l->slices, l->slice_count, &l->slice_capacity, sizeof *grown);
	if (!grown)
		return NULL;
	l->slices = grown;
	rn_leaf_slice *slice = &l->slices[l->slice_count++];
	*slice = (rn_leaf_slice){.item = item, .figure = RN_NONE, .page = c->page, .y = c->y, .first = first, .end = end};
	return slice;
}

/* Figures that wait for a page have theirs now. */
static void place_figures(composer *c)
{
	for (; c->first_pending < c->figure_count; c->first_pending++) {
		c->page++;
		rn_leaf_slice *slice = add_slice(c, RN_NONE, 0, 0);
		if (slice)
			slice->figure = c->first_pending;
	}
}

static bool is_page_begun(const composer *c)
{
	return c->y > c->leaves->style.top;
}

static void turn_page(composer *c)
{
	place_figures(c);
	c->page++;
	c->y = c->leaves->style.top;
}

static const rn_leaf_item *item_at(const composer *c, size_t i)
{
	return i < c->leaves->item_count ? &c->leaves->items[i] : NULL;
}

static bool is_sheet(const rn_leaf_item *item)
{
	return item->block && item->block->kind == RN_BLOCK_SHEET;
}

static bool is_row(const rn_leaf_item *item)
{
	return item->block && item->block->kind == RN_BLOCK_TABLE && item->row != RN_NONE;
}

/* A title, a heading and the heads of a table go with what comes behind them. */
static bool leads(const rn_leaf_item *item)
{
	bool heads = item->block && item->block->kind == RN_BLOCK_TABLE && item->row == RN_NONE;
	return !item->block || item->block->kind == RN_BLOCK_HEADING || heads;
}

static double room_of_a_page(const composer *c)
{
	return c->bottom - c->leaves->style.top;
}

/* The height that must be left on a page for an item to begin there. */
static double needs(const composer *c, size_t i)
{
	double sum = 0;
	const rn_leaf_item *item = item_at(c, i);
	for (; item && leads(item); item = item_at(c, ++i))
		sum += item->before + item->height;
	if (!item || is_sheet(item))
		return sum;
	bool whole = item->height < room_of_a_page(c) / 2 && (is_row(item) || item->line_count < 4);
	return sum + item->before + (whole ? item->height : 2 * item->pitch);
}

/* The heads of the table of a row, where that has any; RN_NONE. */
static int heads_of(const composer *c, size_t row)
{
	const rn_leaf_item *items = c->leaves->items;
	for (size_t i = row; i-- > 0 && items[i].block == items[row].block;)
		if (items[i].row == RN_NONE)
			return (int)i;
	return RN_NONE;
}

static void repeat_heads(composer *c, size_t row)
{
	const rn_leaf_item *own = &c->leaves->items[row];
	int heads = is_row(own) && own->row > 0 ? heads_of(c, row) : RN_NONE;
	if (heads == RN_NONE)
		return;
	const rn_leaf_item *item = &c->leaves->items[heads];
	c->y += item->before;
	rn_leaf_slice *slice = add_slice(c, heads, 0, item->line_count);
	if (slice)
		slice->again = true;
	c->y += item->height;
}

/* As many lines of what is left as the page holds, never one alone of several. */
static int lines_that_fit(const composer *c, const rn_leaf_item *item, int left)
{
	int most = (int)floor((c->bottom - c->y) / item->pitch + 1e-9);
	if (most >= left)
		return left;
	if (left - most == 1 && most > 2)
		most--;
	return most;
}

static void place_item(composer *c, size_t i)
{
	const rn_leaf_item *item = &c->leaves->items[i];
	if (is_sheet(item)) {
		if (is_page_begun(c))
			turn_page(c);
		return;
	}
	if (c->y + needs(c, i) > c->bottom && is_page_begun(c)) {
		turn_page(c);
		repeat_heads(c, i);
	}
	c->y += is_page_begun(c) ? item->before : 0;
	for (int first = 0; first < item->line_count;) {
		int count = lines_that_fit(c, item, item->line_count - first);
		if (count < 1) {
			turn_page(c);
			repeat_heads(c, i);
			count = lines_that_fit(c, item, item->line_count - first);
			count = count < 1 ? 1 : count;
		}
		add_slice(c, (int)i, first, first + count);
		c->y += first == 0 && count == item->line_count ? item->height : count * item->pitch;
		first += count;
	}
	if (item->block && item->block->kind == RN_BLOCK_BOXED)
		c->y += 3;
	if (item->block && item->block->kind == RN_BLOCK_FIGURE)
		c->figure_count++;
}

static rn_status lay_out(rn_leaves *leaves_out, rn_pool *pool, PangoContext *context, const rn_folio *folio,
                         rn_leaf_style style)
{
	*leaves_out = (rn_leaves){.style = style};
	composer c = {.leaves = leaves_out, .pool = pool, .context = context, .text = rn_buffer_make(&pool->allocator)};
	if (*folio->title)
		add_words(&c, NULL, folio->title, leaves_out->style.title, 0, true);
	for (size_t i = 0; i < folio->count; i++)
		add_block(&c, &folio->blocks[i]);
	c.y = leaves_out->style.top;
	c.bottom = leaves_out->style.height - leaves_out->style.bottom;
	for (size_t i = 0; i < leaves_out->item_count; i++)
		place_item(&c, i);
	place_figures(&c);
	leaves_out->page_count = c.page + 1;
	bool failed = pool->failed || c.text.failed;
	rn_buffer_release(&c.text);
	return failed ? RN_STATUS_MEMORY : RN_OK;
}

static rn_leaf_style smaller(rn_leaf_style style, double times)
{
	style.body *= times;
	style.small *= times;
	style.title *= times;
	style.first *= times;
	style.second *= times;
	return style;
}

/* A card is one page: its letters give way, down to what is still read without glasses. */
rn_status rn_leaves_lay_out(rn_leaves *leaves_out, rn_pool *pool, PangoContext *context, const rn_folio *folio)
{
	const double least = 0.6, step = 0.93; /* of the letters of a card: 2.2 mm, and how much at a time [-] */
	rn_status status = lay_out(leaves_out, pool, context, folio, (folio->is_card ? cards : sheets)[folio->paper]);
	for (double times = step; folio->is_card && status == RN_OK && leaves_out->page_count > 1 && times > least;
	     times *= step) {
		rn_leaves_release(leaves_out);
		status = lay_out(leaves_out, pool, context, folio, smaller(cards[folio->paper], times));
	}
	return status;
}

void rn_leaves_release(rn_leaves *leaves)
{
	for (size_t i = 0; i < leaves->item_count; i++)
		for (int k = 0; k < leaves->items[i].cell_count; k++)
			g_object_unref(leaves->items[i].cells[k]);
}
