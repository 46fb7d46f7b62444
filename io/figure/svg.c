/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/svg.h"

#include <math.h>
#include <string.h>

#include "io/base/words.h"

enum { DIGITS = 3 }; /* of a millimetre: far finer than any printer */

static const double two_pi = 6.28318530717958647693;

void rn_svg_escaped(rn_buffer *buffer, const char *text)
{
	while (*text) {
		uint32_t code;
		size_t size = rn_words_character(text, &code);
		switch (code) {
		case '&': rn_buffer_text(buffer, "&amp;"); break;
		case '<': rn_buffer_text(buffer, "&lt;"); break;
		case '>': rn_buffer_text(buffer, "&gt;"); break;
		case '"': rn_buffer_text(buffer, "&quot;"); break;
		case '?': rn_buffer_char(buffer, '?'); break;
		default: rn_buffer_add(buffer, text, size); break;
		}
		text += size;
	}
}

static void add_number(rn_buffer *buffer, const char *name, double value)
{
	rn_buffer_format(buffer, " %s=\"", name);
	rn_buffer_fixed(buffer, value, DIGITS);
	rn_buffer_char(buffer, '"');
}

static void add_pair(rn_buffer *buffer, const double paper[2])
{
	rn_buffer_fixed(buffer, paper[0], DIGITS);
	rn_buffer_char(buffer, ' ');
	rn_buffer_fixed(buffer, paper[1], DIGITS);
}

static void add_style(rn_buffer *buffer, const rn_mark *mark)
{
	rn_style style = rn_style_of(mark->role);
	rn_buffer_format(buffer, " fill=\"%s\" stroke=\"%s\"", style.fill, style.stroke);
	if (strcmp(style.stroke, "none") != 0)
		add_number(buffer, "stroke-width", mark->width > 0 ? mark->width : style.width);
	if (style.dash[0])
		rn_buffer_format(buffer, " stroke-dasharray=\"%s\"", style.dash);
	rn_buffer_text(buffer, "/>\n");
}

static void mark_point(const rn_scene *scene, const rn_mark *mark, int index, double paper_out[2])
{
	rn_scene_to_paper(scene, scene->points[mark->first_point + (size_t)index], paper_out);
}

static void write_points(rn_buffer *buffer, const rn_scene *scene, const rn_mark *mark)
{
	rn_buffer_text(buffer, mark->shape == RN_SHAPE_POLYGON ? "<polygon points=\""
	                                                       : "<polyline points=\"");
	for (int i = 0; i < mark->point_count; i++) {
		double paper[2];
		mark_point(scene, mark, i, paper);
		rn_buffer_text(buffer, i > 0 ? " " : "");
		add_pair(buffer, paper);
	}
	rn_buffer_char(buffer, '"');
	add_style(buffer, mark);
}

static void write_circle(rn_buffer *buffer, const rn_scene *scene, const rn_mark *mark)
{
	double paper[2];
	mark_point(scene, mark, 0, paper);
	rn_buffer_text(buffer, "<circle");
	add_number(buffer, "cx", paper[0]);
	add_number(buffer, "cy", paper[1]);
	add_number(buffer, "r", mark->radius * scene->scale);
	add_style(buffer, mark);
}

/* One arc of a path takes less than a full turn; a rope wound farther covers itself anyway. */
static void write_arc(rn_buffer *buffer, const rn_scene *scene, const rn_mark *mark)
{
	const double *centre = scene->points[mark->first_point];
	double most = 0.999 * two_pi, sweep = fmin(fmax(mark->sweep, -most), most);
	double ends[2][2], radius = mark->radius * scene->scale;
	for (int i = 0; i < 2; i++) {
		double angle = mark->from + i * sweep;
		double place[2] = {centre[0] + mark->radius * cos(angle),
		                   centre[1] + mark->radius * sin(angle)};
		rn_scene_to_paper(scene, place, ends[i]);
	}
	rn_buffer_text(buffer, "<path d=\"M ");
	add_pair(buffer, ends[0]);
	rn_buffer_text(buffer, " A ");
	rn_buffer_fixed(buffer, radius, DIGITS);
	rn_buffer_char(buffer, ' ');
	rn_buffer_fixed(buffer, radius, DIGITS);
	rn_buffer_format(buffer, " 0 %d %d ", fabs(sweep) > two_pi / 2, sweep < 0);
	add_pair(buffer, ends[1]);
	rn_buffer_char(buffer, '"');
	add_style(buffer, mark);
}

static void write_mark(rn_buffer *buffer, const rn_scene *scene, const rn_mark *mark)
{
	switch (mark->shape) {
	case RN_SHAPE_LINE:
	case RN_SHAPE_POLYGON: write_points(buffer, scene, mark); break;
	case RN_SHAPE_CIRCLE: write_circle(buffer, scene, mark); break;
	case RN_SHAPE_ARC: write_arc(buffer, scene, mark); break;
	}
}

static void write_group(rn_buffer *buffer, const rn_scene *scene, const rn_mark_group *group)
{
	if (group->first >= group->end)
		return;
	rn_buffer_text(buffer, "<g><title>");
	rn_svg_escaped(buffer, group->title);
	rn_buffer_text(buffer, "</title>\n");
	for (size_t i = group->first; i < group->end; i++)
		write_mark(buffer, scene, &scene->marks[i]);
	rn_buffer_text(buffer, "</g>\n");
}

static void write_letters(rn_buffer *buffer, const rn_scene *scene, const rn_letters *letters)
{
	double paper[2];
	rn_lettering lettering = rn_lettering_of(letters->hand);
	rn_scene_to_paper(scene, letters->at, paper);
	rn_buffer_text(buffer, "<text");
	add_number(buffer, "x", paper[0]);
	add_number(buffer, "y", paper[1]);
	add_number(buffer, "font-size", lettering.size);
	rn_buffer_format(buffer, " fill=\"%s\"%s>", lettering.colour,
	                 lettering.bold ? " font-weight=\"bold\"" : "");
	rn_svg_escaped(buffer, letters->text);
	rn_buffer_text(buffer, "</text>\n");
}

/* Names in it end in `mark`, so that several figures can stand in one page. */
static void write_head(rn_buffer *buffer, const rn_scene *scene, const char *mark)
{
	rn_buffer_format(buffer,
	                 "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" role=\"img\" "
	                 "aria-labelledby=\"title%s desc%s\" xml:lang=\"en\"", mark, mark);
	rn_buffer_text(buffer, " width=\"");
	rn_words_number(buffer, scene->width * scene->print);
	rn_buffer_text(buffer, "mm\" height=\"");
	rn_words_number(buffer, scene->height * scene->print);
	rn_buffer_text(buffer, "mm\" viewBox=\"0 0 ");
	rn_words_number(buffer, scene->width);
	rn_buffer_char(buffer, ' ');
	rn_words_number(buffer, scene->height);
	rn_buffer_format(buffer, "\">\n<title id=\"title%s\">", mark);
	rn_svg_escaped(buffer, scene->title);
	rn_buffer_format(buffer, "</title>\n<desc id=\"desc%s\">", mark);
	rn_svg_escaped(buffer, scene->description);
	rn_buffer_text(buffer, "</desc>\n<rect");
	add_number(buffer, "width", scene->width);
	add_number(buffer, "height", scene->height);
	rn_buffer_text(buffer, " fill=\"#FFFFFF\"/>\n");
}

void rn_svg_element(rn_buffer *buffer, const rn_scene *scene, const char *mark)
{
	write_head(buffer, scene, mark);
	rn_buffer_text(buffer, "<g stroke-linecap=\"round\" stroke-linejoin=\"round\">\n");
	for (size_t i = 0; i < scene->group_count; i++)
		write_group(buffer, scene, &scene->groups[i]);
	rn_buffer_text(buffer, "</g>\n<g font-family=\"DejaVu Sans, sans-serif\">\n");
	for (size_t i = 0; i < scene->letter_count; i++)
		write_letters(buffer, scene, &scene->letters[i]);
	rn_buffer_text(buffer, "</g>\n</svg>\n");
}

void rn_svg_write(rn_buffer *buffer, const rn_scene *scene)
{
	rn_buffer_text(buffer, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
	rn_svg_element(buffer, scene, "");
}
