/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/html.h"

#include "io/figure/svg.h"

/* Black on white, as the figures are, and on paper as on a screen. */
static const char head[] =
	"<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
	"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
	"<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
	"<style>\n"
	"body { font: 16px/1.45 \"DejaVu Sans\", sans-serif; color: #000; background: #fff; max-width: 60em; margin: 0 auto; padding: 1em; }\n"
	"h1 { font-size: 1.6em; } h2 { font-size: 1.25em; margin-top: 1.6em; } h3 { font-size: 1.05em; }\n"
	".wide { overflow-x: auto; }\n"
	"table { border-collapse: collapse; width: 100%; font-size: 0.9em; }\n"
	"th { text-align: left; border-bottom: 2px solid #000; } td { border-bottom: 1px solid #8a8a8a; }\n"
	"th, td { padding: 0.2em 0.6em 0.2em 0; vertical-align: top; overflow-wrap: anywhere; } .n { text-align: right; }\n"
	".strong { font-weight: bold; } .box { border: 2px solid #000; padding: 0.6em; } .running { font-size: 0.85em; }\n"
	"figure { margin: 1em 0; } svg { max-width: 100%; height: auto; }\n"
	"@media print { body { max-width: none; padding: 0; } h2, h3 { break-after: avoid; } tr, figure { break-inside: avoid; } }\n"
	"</style>\n<title>";

static void element(rn_buffer *out, const char *tag, const char *attributes, const char *text)
{
	rn_buffer_format(out, "<%s%s>", tag, attributes);
	rn_svg_escaped(out, text);
	rn_buffer_format(out, "</%s>\n", tag);
}

static void write_row(rn_buffer *out, const rn_columns *columns, const char *const *cells, const char *tag)
{
	rn_buffer_text(out, "<tr>");
	for (int c = 0; c < columns->count; c++) {
		rn_buffer_format(out, "<%s%s>", tag, columns->to_the_right[c] ? " class=\"n\"" : "");
		rn_svg_escaped(out, cells[c] ? cells[c] : "");
		rn_buffer_format(out, "</%s>", tag);
	}
	rn_buffer_text(out, "</tr>\n");
}

static void write_table(rn_buffer *out, const rn_block *t)
{
	rn_buffer_text(out, "<div class=\"wide\"><table>\n");
	if (t->columns.heads[0]) {
		rn_buffer_text(out, "<thead>\n");
		write_row(out, &t->columns, t->columns.heads, "th");
		rn_buffer_text(out, "</thead>\n");
	}
	rn_buffer_text(out, "<tbody>\n");
	for (int r = 0; r < t->row_count; r++)
		write_row(out, &t->columns, (const char *const *)t->cells + r * t->columns.count, "td");
	rn_buffer_text(out, "</tbody>\n</table></div>\n");
}

static void write_figure(rn_buffer *out, const rn_block *b, const rn_scene *scene, int index)
{
	rn_buffer mark = rn_buffer_make(&out->allocator);
	rn_buffer_format(&mark, "-%d", index + 1);
	rn_buffer_text(out, "<figure>\n");
	rn_svg_element(out, scene, mark.bytes ? mark.bytes : "");
	element(out, "figcaption", "", b->text);
	rn_buffer_text(out, "</figure>\n");
	out->failed = out->failed || mark.failed;
	rn_buffer_release(&mark);
}

static void write_heading(rn_buffer *out, const rn_block *b, size_t index)
{
	if (b->level > 1) {
		element(out, "h3", "", b->text);
		return;
	}
	rn_buffer_format(out, "<h2 id=\"s%zu\">", index);
	rn_svg_escaped(out, b->text);
	rn_buffer_text(out, "</h2>\n");
}

/* Where there is enough to look for. */
static void write_contents(rn_buffer *out, const rn_folio *folio)
{
	int chapters = 0;
	for (size_t i = 0; i < folio->count; i++)
		chapters += folio->blocks[i].kind == RN_BLOCK_HEADING && folio->blocks[i].level == 1;
	if (chapters < 4)
		return;
	rn_buffer_text(out, "<nav aria-label=\"contents\"><details><summary>Contents</summary><ul>\n");
	for (size_t i = 0; i < folio->count; i++) {
		const rn_block *b = &folio->blocks[i];
		if (b->kind != RN_BLOCK_HEADING || b->level > 1)
			continue;
		rn_buffer_format(out, "<li><a href=\"#s%zu\">", i);
		rn_svg_escaped(out, b->text);
		rn_buffer_text(out, "</a></li>\n");
	}
	rn_buffer_text(out, "</ul></details></nav>\n");
}

rn_status rn_html_write(rn_buffer *out, const rn_folio *folio, const rn_scene *scenes)
{
	int figure = 0;
	bool in_list = false;
	RN_TRY(rn_folio_status(folio));
	rn_buffer_text(out, head);
	rn_svg_escaped(out, folio->title);
	rn_buffer_text(out, "</title>\n</head>\n<body>\n");
	element(out, "h1", "", folio->title);
	element(out, "p", " class=\"running\"", folio->running);
	write_contents(out, folio);
	for (size_t i = 0; i < folio->count; i++) {
		const rn_block *b = &folio->blocks[i];
		bool is_item = b->kind == RN_BLOCK_ITEM;
		if (is_item != in_list)
			rn_buffer_text(out, is_item ? "<ul>\n" : "</ul>\n");
		in_list = is_item;
		switch (b->kind) {
		case RN_BLOCK_ITEM: element(out, "li", "", b->text); break;
		case RN_BLOCK_HEADING: write_heading(out, b, i); break;
		case RN_BLOCK_PARAGRAPH: element(out, "p", "", b->text); break;
		case RN_BLOCK_STRONG: element(out, "p", " class=\"strong\"", b->text); break;
		case RN_BLOCK_BOXED: element(out, "p", " class=\"box\"", b->text); break;
		case RN_BLOCK_TABLE: write_table(out, b); break;
		case RN_BLOCK_FIGURE: write_figure(out, b, &scenes[figure], figure); figure++; break;
		case RN_BLOCK_SHEET: break;
		}
	}
	rn_buffer_text(out, in_list ? "</ul>\n" : "");
	rn_buffer_text(out, "</body>\n</html>\n");
	return rn_buffer_status(out);
}
