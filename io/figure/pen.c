/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/pen.h"

#include <cairo-pdf.h>
#include <math.h>
#include <string.h>

#include "io/base/words.h"

const double rn_pen_points = 72 / 25.4;

/* ---- marks --------------------------------------------------------------------------------------- */

static int hex(char c)
{
	return c <= '9' ? c - '0' : (c | 32) - 'a' + 10;
}

void rn_pen_colour(cairo_t *page, const char *colour)
{
	double part[3];
	for (int i = 0; i < 3; i++)
		part[i] = (16 * hex(colour[1 + 2 * i]) + hex(colour[2 + 2 * i])) / 255.0;
	cairo_set_source_rgb(page, part[0], part[1], part[2]);
}

/* "1.6 1.2" in mm; no locale reads it. */
static void set_dash(cairo_t *page, const char *dash)
{
	double lengths[6] = {0};
	int count = 0;
	for (const char *c = dash; *c && count < 6; count++) {
		double unit = 1;
		for (bool behind = false; *c && *c != ' '; c++) {
			if (*c == '.') {
				behind = true;
				continue;
			}
			unit *= behind ? 0.1 : 1;
			lengths[count] = behind ? lengths[count] + unit * (*c - '0') : 10 * lengths[count] + (*c - '0');
		}
		c += *c == ' ';
	}
	cairo_set_dash(page, lengths, count, 0);
}

static void add_path(cairo_t *page, const rn_scene *scene, const rn_mark *mark)
{
	double paper[2];
	cairo_new_path(page);
	for (int i = 0; i < mark->point_count; i++) {
		rn_scene_to_paper(scene, scene->points[mark->first_point + (size_t)i], paper);
		if (mark->shape == RN_SHAPE_LINE || mark->shape == RN_SHAPE_POLYGON)
			cairo_line_to(page, paper[0], paper[1]);
	}
	double radius = mark->radius * scene->scale;
	/* angles run anticlockwise in the scene, clockwise on paper */
	if (mark->shape == RN_SHAPE_CIRCLE)
		cairo_arc(page, paper[0], paper[1], radius, 0, 2 * G_PI);
	else if (mark->shape == RN_SHAPE_ARC && mark->sweep > 0)
		cairo_arc_negative(page, paper[0], paper[1], radius, -mark->from, -mark->from - mark->sweep);
	else if (mark->shape == RN_SHAPE_ARC)
		cairo_arc(page, paper[0], paper[1], radius, -mark->from, -mark->from - mark->sweep);
	if (mark->shape == RN_SHAPE_POLYGON)
		cairo_close_path(page);
}

static void draw_mark(cairo_t *page, const rn_scene *scene, const rn_mark *mark)
{
	rn_style style = rn_style_of(mark->role);
	add_path(page, scene, mark);
	if (strcmp(style.fill, "none") != 0) {
		rn_pen_colour(page, style.fill);
		cairo_fill_preserve(page);
	}
	if (strcmp(style.stroke, "none") != 0) {
		rn_pen_colour(page, style.stroke);
		set_dash(page, style.dash);
		cairo_set_line_width(page, mark->width > 0 ? mark->width : style.width);
		cairo_stroke_preserve(page);
	}
	cairo_new_path(page);
}

/* ---- letters --------------------------------------------------------------------------------------- */

/* What rn_words_character does not let through is no letter. */
void rn_pen_plain(rn_buffer *text, const char *from)
{
	text->size = 0;
	while (*from) {
		uint32_t code;
		size_t size = rn_words_character(from, &code);
		if (code == '?')
			rn_buffer_char(text, '?');
		else
			rn_buffer_add(text, from, size);
		from += size;
	}
}

PangoLayout *rn_pen_layout(PangoContext *context, const rn_buffer *text, double size, bool bold)
{
	PangoLayout *layout = pango_layout_new(context);
	PangoFontDescription *font = pango_font_description_new();
	pango_font_description_set_family(font, "DejaVu Sans, sans-serif");
	pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
	pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
	pango_layout_set_font_description(layout, font);
	pango_layout_set_text(layout, text->bytes ? text->bytes : "", (int)text->size);
	pango_font_description_free(font);
	return layout;
}

static void draw_letters(cairo_t *page, PangoContext *context, const rn_scene *scene, const rn_letters *letters,
                         rn_buffer *text)
{
	double paper[2];
	rn_lettering lettering = rn_lettering_of(letters->hand);
	rn_pen_plain(text, letters->text);
	if (text->size == 0)
		return;
	PangoLayout *layout = rn_pen_layout(context, text, lettering.size, lettering.bold);
	rn_scene_to_paper(scene, letters->at, paper);
	rn_pen_colour(page, lettering.colour);
	cairo_move_to(page, paper[0], paper[1] - (double)pango_layout_get_baseline(layout) / PANGO_SCALE);
	pango_cairo_show_layout(page, layout);
	g_object_unref(layout);
}

/* Hinting would move letters by the pixel of a screen that nobody has. */
void rn_pen_unhinted(cairo_t *page)
{
	cairo_font_options_t *options = cairo_font_options_create();
	cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
	cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
	cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
	cairo_set_font_options(page, options);
	cairo_font_options_destroy(options);
}

/* ---- pages ------------------------------------------------------------------------------------------- */

cairo_status_t rn_pen_bytes(void *context, const unsigned char *bytes, unsigned int size)
{
	rn_buffer *buffer = context;
	rn_buffer_add(buffer, (const char *)bytes, size);
	return buffer->failed ? CAIRO_STATUS_NO_MEMORY : CAIRO_STATUS_SUCCESS;
}

rn_status rn_pen_status(cairo_status_t status)
{
	if (status == CAIRO_STATUS_SUCCESS)
		return RN_OK;
	return status == CAIRO_STATUS_NO_MEMORY ? RN_STATUS_MEMORY : RN_STATUS_LIMIT;
}

PangoContext *rn_pen_context(cairo_t *page)
{
	PangoFontMap *fonts = pango_cairo_font_map_new();
	PangoContext *context = pango_font_map_create_context(fonts);
	pango_context_set_round_glyph_positions(context, FALSE); /* else they stand on whole millimetres, the unit here */
	pango_cairo_update_context(page, context);
	g_object_unref(fonts); /* the context keeps it */
	return context;
}

void rn_pen_scene(cairo_t *page, const rn_scene *scene, rn_buffer *text)
{
	cairo_set_line_cap(page, CAIRO_LINE_CAP_ROUND);
	cairo_set_line_join(page, CAIRO_LINE_JOIN_ROUND);
	rn_pen_unhinted(page);
	for (size_t g = 0; g < scene->group_count; g++)
		for (size_t i = scene->groups[g].first; i < scene->groups[g].end; i++)
			draw_mark(page, scene, &scene->marks[i]);
	cairo_set_dash(page, NULL, 0, 0);
	PangoContext *context = rn_pen_context(page);
	for (size_t i = 0; i < scene->letter_count; i++)
		draw_letters(page, context, scene, &scene->letters[i], text);
	g_object_unref(context);
}

void rn_pen_metadata(cairo_surface_t *surface, const char *title, const char *subject, time_t date)
{
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, subject);
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "funicle " RN_VERSION_TEXT);
	/* without one cairo says the time of day, and no two files are alike */
	char text[] = "1970-01-01T00:00:00Z";
	struct tm day;
	if (gmtime_r(&date, &day))
		strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &day);
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, text);
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, text);
}
