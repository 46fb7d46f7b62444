/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/book.h"

#include <cairo-pdf.h>

#include "io/base/words.h"
#include "io/figure/leaf.h"
#include "io/figure/pen.h"

static const char ink[] = "#000000", rule[] = "#8A8A8A";

typedef struct binder {
	cairo_surface_t *surface;
	cairo_t *page;
	PangoContext *context;
	const rn_folio *folio;
	const rn_scene *scenes;
	rn_leaves leaves;
	rn_buffer text;     /* scratch */
	const rn_block *table; /* whose tag is open; NULL */
	int chapter;        /* bookmark of the last heading of the first level */
} binder;

/* ---- lines ------------------------------------------------------------------------------------------- */

static bool stands_right(const rn_leaf_item *item, int cell)
{
	return item->block && item->block->kind == RN_BLOCK_TABLE && item->block->columns.to_the_right[cell];
}

static void draw_line(const binder *b, const rn_leaf_item *item, int cell, int line, double y)
{
	PangoLayoutLine *words = pango_layout_get_line_readonly(item->cells[cell], line);
	PangoRectangle box;
	if (!words)
		return;
	pango_layout_line_get_extents(words, NULL, &box);
	double x = b->leaves.style.left + item->lefts[cell];
	if (stands_right(item, cell))
		x += item->widths[cell] - (double)box.width / PANGO_SCALE;
	double base = (double)pango_layout_get_baseline(item->cells[cell]) / PANGO_SCALE;
	cairo_move_to(b->page, x, y + base);
	pango_cairo_show_layout_line(b->page, words);
}

static void draw_cell(const binder *b, const rn_leaf_item *item, const rn_leaf_slice *s, int cell)
{
	for (int line = s->first; line < s->end; line++)
		draw_line(b, item, cell, line, s->y + (line - s->first) * item->pitch);
}

static void draw_rule(const binder *b, double y, double width, const char *colour)
{
	rn_pen_colour(b->page, colour);
	cairo_set_line_width(b->page, width);
	cairo_move_to(b->page, b->leaves.style.left, y);
	cairo_line_to(b->page, b->leaves.style.width - b->leaves.style.left, y);
	cairo_stroke(b->page);
	rn_pen_colour(b->page, ink);
}

/* ---- what lines are ------------------------------------------------------------------------------------ */

static void open_table(binder *b, const rn_block *table)
{
	if (b->table == table)
		return;
	if (b->table)
		cairo_tag_end(b->page, "Table");
	if (table)
		cairo_tag_begin(b->page, "Table", NULL);
	b->table = table;
}

static void draw_row(binder *b, const rn_leaf_item *item, const rn_leaf_slice *s)
{
	const char *tag = item->row == RN_NONE ? "TH" : "TD";
	open_table(b, item->block);
	cairo_tag_begin(b->page, "TR", NULL);
	for (int cell = 0; cell < item->cell_count; cell++) {
		cairo_tag_begin(b->page, tag, NULL);
		draw_cell(b, item, s, cell);
		cairo_tag_end(b->page, tag);
	}
	cairo_tag_end(b->page, "TR");
	bool whole = s->first == 0 && s->end == item->line_count;
	double height = whole ? item->height : (s->end - s->first) * item->pitch;
	bool heads = item->row == RN_NONE;
	draw_rule(b, s->y + height + 0.2, heads ? 0.3 : 0.12, heads ? ink : rule);
}

static void add_bookmark(binder *b, const rn_leaf_item *item, const rn_leaf_slice *s)
{
	if (!item->block || s->first > 0)
		return;
	rn_buffer where = rn_buffer_make(&b->text.allocator);
	rn_buffer_format(&where, "page=%d pos=[", s->page + 1);
	rn_buffer_fixed(&where, b->leaves.style.left * rn_pen_points, 2);
	rn_buffer_char(&where, ' ');
	rn_buffer_fixed(&where, s->y * rn_pen_points, 2);
	rn_buffer_char(&where, ']');
	bool second = item->block->level > 1;
	rn_pen_plain(&b->text, item->block->text);
	if (where.bytes && b->text.bytes) {
		int mark = cairo_pdf_surface_add_outline(b->surface, second ? b->chapter : CAIRO_PDF_OUTLINE_ROOT,
		                                         b->text.bytes, where.bytes,
		                                         second ? (cairo_pdf_outline_flags_t)0 : CAIRO_PDF_OUTLINE_FLAG_OPEN);
		b->chapter = second ? b->chapter : mark;
	}
	b->text.failed = b->text.failed || where.failed;
	rn_buffer_release(&where);
}

static void draw_box(const binder *b, const rn_leaf_item *item, const rn_leaf_slice *s)
{
	const double inset = 3; /* as leaf.c leaves [mm] */
	rn_pen_colour(b->page, ink);
	cairo_set_line_width(b->page, 0.35);
	cairo_rectangle(b->page, b->leaves.style.left, s->y - inset / 2, b->leaves.style.width - 2 * b->leaves.style.left,
	                (s->end - s->first) * item->pitch + inset);
	cairo_stroke(b->page);
}

/* Before an item of a list: a letter, so that it is read out as one. */
static void draw_dash(binder *b, const rn_leaf_item *item, const rn_leaf_slice *s)
{
	b->text.size = 0;
	rn_buffer_text(&b->text, "-");
	PangoLayout *dash = rn_pen_layout(b->context, &b->text, b->leaves.style.body, false);
	double base = (double)(pango_layout_get_baseline(item->cells[0]) - pango_layout_get_baseline(dash)) / PANGO_SCALE;
	cairo_move_to(b->page, b->leaves.style.left + 1.5, s->y + base);
	pango_cairo_show_layout(b->page, dash);
	g_object_unref(dash);
}

static void draw_words(binder *b, const rn_leaf_item *item, const rn_leaf_slice *s)
{
	bool heading = !item->block || item->block->kind == RN_BLOCK_HEADING;
	const char *tag = !heading ? "P" : item->block && item->block->level > 1 ? "H3" : item->block ? "H2" : "H1";
	if (heading)
		add_bookmark(b, item, s);
	cairo_tag_begin(b->page, tag, NULL);
	if (item->block && item->block->kind == RN_BLOCK_ITEM && s->first == 0)
		draw_dash(b, item, s);
	draw_cell(b, item, s, 0);
	cairo_tag_end(b->page, tag);
	if (item->block && item->block->kind == RN_BLOCK_BOXED)
		draw_box(b, item, s);
}

static void draw_figure(binder *b, const rn_leaf_slice *s)
{
	cairo_tag_begin(b->page, "Figure", NULL);
	cairo_save(b->page);
	cairo_scale(b->page, b->scenes[s->figure].print, b->scenes[s->figure].print);
	rn_pen_scene(b->page, &b->scenes[s->figure], &b->text);
	cairo_restore(b->page);
	cairo_tag_end(b->page, "Figure");
}

static void draw_slice(binder *b, const rn_leaf_slice *s)
{
	const rn_leaf_item *item = s->item == RN_NONE ? NULL : &b->leaves.items[s->item];
	if (item && item->block && item->block->kind == RN_BLOCK_TABLE) {
		draw_row(b, item, s);
		return;
	}
	open_table(b, NULL);
	if (item)
		draw_words(b, item, s);
	else
		draw_figure(b, s);
}

/* ---- pages ------------------------------------------------------------------------------------------- */

/* What stands at the edge of a page; `align` 0: from the left, 1: to the right. */
static void draw_edge(binder *b, const char *text, double width, double y, double align)
{
	const double size = 2.6, edge = b->leaves.style.left;
	rn_pen_plain(&b->text, text);
	PangoLayout *layout = rn_pen_layout(b->context, &b->text, size, false);
	pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
	pango_layout_set_width(layout, (int)((width - 2 * edge) * PANGO_SCALE));
	pango_layout_set_alignment(layout, align > 0 ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
	cairo_move_to(b->page, edge, y);
	pango_cairo_show_layout(b->page, layout);
	g_object_unref(layout);
}

static void draw_edges(binder *b, int page, const rn_scene *figure)
{
	double width = figure ? figure->width * figure->print : b->leaves.style.width;
	double height = figure ? figure->height * figure->print : b->leaves.style.height;
	double foot = height - (figure ? 5.5 : b->leaves.style.bottom - 8);
	rn_buffer number = rn_buffer_make(&b->text.allocator);
	rn_buffer_format(&number, "page %d of %d", page + 1, b->leaves.page_count);
	rn_pen_colour(b->page, ink);
	if (!figure) {
		double head = b->leaves.style.top - (b->folio->is_card ? 7 : 10);
		draw_edge(b, b->folio->running, width, head, 0);
		draw_rule(b, head + 4.4, 0.2, rule);
		draw_edge(b, "funicle " RN_VERSION_TEXT, width, foot, 0);
	}
	draw_edge(b, number.bytes ? number.bytes : "", width, foot, 1);
	b->text.failed = b->text.failed || number.failed;
	rn_buffer_release(&number);
}

static void draw_page(binder *b, int page, size_t *slice)
{
	const rn_leaf_slice *s = &b->leaves.slices[*slice];
	bool begun = *slice < b->leaves.slice_count && s->page == page;
	const rn_scene *figure = begun && s->figure != RN_NONE ? &b->scenes[s->figure] : NULL;
	double k = rn_pen_points;
	cairo_pdf_surface_set_size(b->surface, k * (figure ? figure->width * figure->print : b->leaves.style.width),
	                           k * (figure ? figure->height * figure->print : b->leaves.style.height));
	if (page == 0)
		cairo_tag_begin(b->page, "Document", NULL);
	cairo_tag_begin(b->page, "Sect", NULL); /* nothing that has words in it may go on to another page */
	rn_pen_colour(b->page, ink);
	for (; *slice < b->leaves.slice_count && b->leaves.slices[*slice].page == page; ++*slice)
		draw_slice(b, &b->leaves.slices[*slice]);
	open_table(b, NULL);
	cairo_tag_end(b->page, "Sect");
	if (page + 1 == b->leaves.page_count)
		cairo_tag_end(b->page, "Document");
	draw_edges(b, page, figure);
	cairo_show_page(b->page);
}

static void draw_all(binder *b)
{
	size_t slice = 0;
	for (int page = 0; page < b->leaves.page_count; page++)
		draw_page(b, page, &slice);
}

rn_status rn_book_pdf(rn_buffer *buffer, const rn_folio *folio, const rn_scene *scenes, time_t date)
{
	RN_TRY(rn_folio_status(folio));
	double k = rn_pen_points;
	rn_pool pool = rn_pool_make(&buffer->allocator);
	binder b = {.surface = cairo_pdf_surface_create_for_stream(rn_pen_bytes, buffer, 1, 1),
	            .folio = folio, .scenes = scenes, .text = rn_buffer_make(&buffer->allocator)};
	rn_pen_metadata(b.surface, folio->title, folio->running, date);
	b.page = cairo_create(b.surface);
	cairo_scale(b.page, k, k);
	rn_pen_unhinted(b.page);
	b.context = rn_pen_context(b.page);
	rn_status status = rn_leaves_lay_out(&b.leaves, &pool, b.context, folio);
	if (status == RN_OK)
		draw_all(&b);
	rn_leaves_release(&b.leaves);
	g_object_unref(b.context);
	cairo_status_t drawn = cairo_status(b.page);
	cairo_destroy(b.page);
	cairo_surface_finish(b.surface);
	drawn = drawn == CAIRO_STATUS_SUCCESS ? cairo_surface_status(b.surface) : drawn;
	cairo_surface_destroy(b.surface);
	bool failed = b.text.failed;
	rn_buffer_release(&b.text);
	rn_pool_release(&pool);
	return status != RN_OK ? status : failed ? RN_STATUS_MEMORY : rn_pen_status(drawn);
}
