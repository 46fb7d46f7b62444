/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/sheet.h"

#include <math.h>
#include <string.h>

#include "io/figure/symbols.h"
#include "io/report/cautions.h"
#include "io/report/verdict.h"

/* On paper [mm]. */
static const double margin = 9;
static const double panel_width = 86, gutter = 4;
static const double bars_width = 88;
static const double line_step = 3.9, title_step = 7.6, verdict_step = 4.9;
static const double room_beside = 27, room_above = 13, room_below = 13; /* for labels */

/* ---- texts ----------------------------------------------------------------------------------- */

static const char *keep(rn_drawing *d)
{
	return rn_scene_keep(d->scene, &d->text);
}

/* The longest run of whole words from the start of a text that fits; at least one character. */
static size_t line_size(const char *text, rn_hand_of_text hand, double width)
{
	size_t fits = rn_lettering_fit(text, hand, width);
	if (text[fits] == '\0')
		return fits;
	size_t at = fits;
	while (at > 0 && text[at] != ' ')
		at--;
	uint32_t code;
	return at > 0 ? at : fits > 0 ? fits : rn_words_character(text, &code);
}

/* One line, with "..." where it had to be cut. */
static const char *cut_to(rn_drawing *d, const char *text, rn_hand_of_text hand, double width)
{
	rn_lettering_cut(&d->text, text, hand, width);
	return keep(d);
}

static rn_sheet_text broken(rn_drawing *d, const char *text, rn_hand_of_text hand, double width)
{
	rn_sheet_text out = {.count = 0};
	while (*text && out.count < RN_SHEET_LINES - 1) {
		size_t size = line_size(text, hand, width);
		rn_buffer_add(&d->text, text, size);
		out.lines[out.count++] = keep(d);
		text += size;
		text += strspn(text, " ");
	}
	if (*text)
		out.lines[out.count++] = cut_to(d, text, hand, width);
	return out;
}

static const char *case_words(rn_drawing *d)
{
	static const char *const friction[] = {
		[RN_FRICTION_NONE] = "no friction",
		[RN_FRICTION_LOW] = "friction low",
		[RN_FRICTION_NOMINAL] = "friction as given",
		[RN_FRICTION_HIGH] = "friction high",
	};
	const rn_case *c = &d->model->cases[d->answer->case_index];
	rn_buffer_text(&d->text, "Case ");
	rn_words_object(&d->text, d->model, rn_object_of(RN_CASE, d->answer->case_index));
	if (c->title) {
		rn_buffer_text(&d->text, ": ");
		rn_words_plain(&d->text, c->title);
	}
	rn_buffer_text(&d->text, " (");
	if (c->made && c->level != RN_FRICTION_NONE)
		rn_buffer_text(&d->text, c->fall != RN_NONE ? "caught, at its lowest, "
		               : c->raising      ? "load going up, "
		                                 : "load going down, ");
	rn_buffer_format(&d->text, "%s)", friction[c->level]);
	return keep(d);
}

static const char *source_words(rn_drawing *d, const char *file, const char *sha256)
{
	rn_buffer_text(&d->text, "funicle " RN_VERSION_TEXT);
	if (file) {
		rn_buffer_text(&d->text, ", model ");
		rn_words_plain(&d->text, file);
	}
	if (sha256) {
		rn_buffer_text(&d->text, ", SHA-256 ");
		rn_words_plain(&d->text, sha256);
	}
	return keep(d);
}

static const char *caution_words(rn_drawing *d)
{
	rn_words_doubts(&d->text, d->model, d->units);
	rn_buffer_text(&d->text, d->model->doubts.count > 0 ? " " : "");
	rn_cautions_sight(&d->text, d->model);
	rn_buffer_char(&d->text, ' ');
	rn_cautions_words(&d->text, d->model);
	if (d->model->guesses.count > 0) {
		rn_buffer_text(&d->text, " Guessed: ");
		rn_words_notes(&d->text, d->model, &d->model->guesses, d->units);
		rn_buffer_char(&d->text, '.');
	}
	return keep(d);
}

static void write_texts(rn_sheet *sheet, rn_drawing *d, double inner)
{
	const char *title = d->model->title ? d->model->title : "Rigging";
	rn_words_plain(&d->text, title);
	sheet->title = cut_to(d, keep(d), RN_TEXT_TITLE, inner);
	sheet->case_line = cut_to(d, case_words(d), RN_TEXT_PLAIN, inner);
	rn_verdict_sentence(&d->text, d->result, d->units);
	sheet->verdict = broken(d, keep(d), RN_TEXT_STRONG, inner);
	if (sheet->verdict.count > 3) { /* the whole sentence stands in the text answer */
		rn_buffer_text(&d->text, sheet->verdict.lines[2]);
		rn_buffer_text(&d->text, "            ");
		sheet->verdict.lines[2] = cut_to(d, keep(d), RN_TEXT_STRONG, inner - 8);
		sheet->verdict.count = 3;
	}
	sheet->cautions = broken(d, caution_words(d), RN_TEXT_SMALL, inner - bars_width);
}

/* ---- layout ---------------------------------------------------------------------------------- */

static void set(double r[4], double left, double top, double right, double bottom)
{
	r[0] = left;
	r[1] = top;
	r[2] = right;
	r[3] = bottom;
}

static double key_step(rn_sign sign)
{
	return sign == RN_SIGN_KEEP_OUT                          ? 12.8
	       : sign == RN_SIGN_CLOSEST || sign == RN_SIGN_OVER ? 6.4
	                                                         : 5.4;
}

static double key_height(const bool signs[RN_SIGN_COUNT])
{
	double height = 8;
	for (int i = 0; i < RN_SIGN_COUNT; i++)
		height += signs[i] ? key_step((rn_sign)i) : 0;
	return height;
}

/* Of a panel under the drawing: as high as its key, and as its parts up to some dozen. */
static double panel_height(const rn_drawing *d)
{
	const int parts_most = 14;
	int parts = d->answer->part_count < parts_most ? d->answer->part_count : parts_most;
	return fmax(key_height(d->expects), 12 + line_step * parts) + 2;
}

static void lay_out(rn_sheet *sheet, rn_drawing *d, bool standing)
{
	double width = standing ? sheet->short_side : sheet->long_side;
	double height = standing ? sheet->long_side : sheet->short_side;
	double right = width - margin, bottom = height - margin;
	sheet->standing = standing;
	write_texts(sheet, d, right - margin);
	double head = margin + title_step + verdict_step * (sheet->verdict.count + 1) + 1;
	double foot = bottom - line_step * (fmax(sheet->cautions.count, 3) + 1) - 3;
	set(sheet->head, margin, margin, right, head);
	set(sheet->foot, margin, foot, right, bottom);
	if (standing) {
		double top = foot - panel_height(d), middle = width / 2;
		set(sheet->area, margin, head, right, top);
		set(sheet->parts, margin, top, middle - gutter / 2, foot);
		set(sheet->key, middle + gutter / 2, top, right, foot);
	} else {
		double left = right - panel_width;
		set(sheet->area, margin, head, left - gutter / 2, foot);
		set(sheet->parts, left + gutter / 2, head, right, foot);
		set(sheet->key, left + gutter / 2, head, right, foot);
	}
}

/* The scale at which the rigging fits with room for its labels [mm/m]. */
static double fitting_scale(const rn_sheet *sheet, const double extent[4])
{
	const double smallest = 0.2; /* m: nothing a rigger builds is smaller */
	double wide = sheet->area[2] - sheet->area[0] - 2 * room_beside;
	double high = sheet->area[3] - sheet->area[1] - room_above - room_below;
	return fmin(wide / fmax(extent[2] - extent[0], smallest),
	            high / fmax(extent[3] - extent[1], smallest));
}

void rn_sheet_lay_out(rn_sheet *sheet, rn_drawing *d, const char *file, const char *sha256, rn_paper paper)
{
	sheet->long_side = paper == RN_PAPER_LETTER ? 279.4 : 297;
	sheet->short_side = paper == RN_PAPER_LETTER ? 215.9 : 210;
	const double worth_turning = 1.12;
	double extent[4];
	rn_drawing_extent(d, extent);
	lay_out(sheet, d, true);
	double standing = fitting_scale(sheet, extent);
	lay_out(sheet, d, false);
	if (standing > worth_turning * fitting_scale(sheet, extent))
		lay_out(sheet, d, true);
	rn_scene *s = d->scene;
	s->width = sheet->standing ? sheet->short_side : sheet->long_side;
	s->height = sheet->standing ? sheet->long_side : sheet->short_side;
	s->scale = fitting_scale(sheet, extent);
	double middle_x = (sheet->area[0] + sheet->area[2]) / 2;
	double middle_y = (sheet->area[1] + room_above + sheet->area[3] - room_below) / 2;
	s->origin[0] = middle_x - s->scale * (extent[0] + extent[2]) / 2;
	s->origin[1] = middle_y + s->scale * (extent[1] + extent[3]) / 2;
	sheet->source = cut_to(d, source_words(d, file, sha256), RN_TEXT_SMALL,
	                       sheet->foot[2] - sheet->foot[0]);
}

/* ---- pen on paper ---------------------------------------------------------------------------- */

static void text_at(rn_drawing *d, rn_hand_of_text hand, double x, double y, const char *text)
{
	double at[2];
	rn_scene_from_paper(d->scene, x, y, at);
	rn_scene_text(d->scene, hand, at, text);
}

static void text_right(rn_drawing *d, rn_hand_of_text hand, double x, double y, const char *text)
{
	text_at(d, hand, x - rn_lettering_width(text, hand), y, text);
}

static void line_at(rn_drawing *d, rn_role role, double width, double x0, double y0, double x1,
                    double y1)
{
	double a[2], b[2];
	rn_scene_from_paper(d->scene, x0, y0, a);
	rn_scene_from_paper(d->scene, x1, y1, b);
	rn_scene_segment(d->scene, role, width, a, b);
}

static void polygon_at(rn_drawing *d, rn_role role, const double (*paper)[2], int count)
{
	double points[5][2];
	for (int i = 0; i < count && i < 5; i++)
		rn_scene_from_paper(d->scene, paper[i][0], paper[i][1], points[i]);
	rn_scene_polygon(d->scene, role, (const double (*)[2])points, count);
}

static void box_at(rn_drawing *d, rn_role role, double x0, double y0, double x1, double y1)
{
	const double corners[4][2] = {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
	polygon_at(d, role, corners, 4);
}

/* ---- head and foot --------------------------------------------------------------------------- */

static void add_head(const rn_sheet *sheet, rn_drawing *d)
{
	double x = sheet->head[0], y = sheet->head[1] + rn_lettering_rise(RN_TEXT_TITLE);
	text_at(d, RN_TEXT_TITLE, x, y, sheet->title);
	y = sheet->head[1] + title_step + rn_lettering_rise(RN_TEXT_PLAIN);
	text_at(d, RN_TEXT_PLAIN, x, y, sheet->case_line);
	rn_hand_of_text hand = d->result->verdict.over ? RN_TEXT_ALERT : RN_TEXT_STRONG;
	for (int i = 0; i < sheet->verdict.count; i++)
		text_at(d, hand, x, y + verdict_step * (i + 1), sheet->verdict.lines[i]);
	line_at(d, RN_ROLE_FRAME, 0, sheet->head[0], sheet->head[3], sheet->head[2],
	        sheet->head[3]);
}

/* The largest of 1, 2, 5 times a power of ten that is not longer than `most` at `scale`. */
static double round_length(double most)
{
	double power = pow(10, floor(log10(most)));
	return most >= 5 * power ? 5 * power : most >= 2 * power ? 2 * power : power;
}

/* A bar of two halves, one black, one white, with what it stands for behind it. */
static void add_bar(rn_drawing *d, double x, double y, double length, const char *text)
{
	box_at(d, RN_ROLE_BAR, x, y - 1.6, x + length / 2, y);
	box_at(d, RN_ROLE_BAR_EMPTY, x + length / 2, y - 1.6, x + length, y);
	text_at(d, RN_TEXT_SMALL, x + length + 2, y + 0.2, text);
}

static void add_scale_bar(rn_drawing *d, double x, double y)
{
	const double bar_most = 36, foot = 0.3048;
	double unit = d->units == RN_US ? foot : 1;
	double length = round_length(bar_most / (d->scene->scale * unit));
	rn_words_number(&d->text, length);
	rn_buffer_text(&d->text, d->units == RN_US ? " ft" : " m");
	add_bar(d, x, y, length * unit * d->scene->scale, keep(d));
}

static void add_force_bar(rn_drawing *d, double x, double y)
{
	const double bar_most = 30, pound_force = 4.4482216152605;
	double unit = d->units == RN_US ? pound_force : 1000;
	if (d->scene->force_scale <= 0)
		return;
	double force = round_length(bar_most / (d->scene->force_scale * unit));
	rn_words_number(&d->text, force);
	rn_buffer_format(&d->text, " %s pull on an anchor", rn_words_force_unit(d->units));
	add_bar(d, x, y, force * unit * d->scene->force_scale, keep(d));
}

static void add_left_out(const rn_sheet *sheet, rn_drawing *d, double y)
{
	if (d->scene->labels_left_out == 0)
		return;
	rn_buffer_format(&d->text, "labels left out for want of room: %d",
	                 d->scene->labels_left_out);
	text_at(d, RN_TEXT_SMALL, sheet->foot[0], y, keep(d));
}

static void add_foot(const rn_sheet *sheet, rn_drawing *d)
{
	double x = sheet->foot[0], y = sheet->foot[1] + 1 + rn_lettering_rise(RN_TEXT_SMALL) + 1.4;
	line_at(d, RN_ROLE_FRAME, 0, x, sheet->foot[1], sheet->foot[2], sheet->foot[1]);
	add_scale_bar(d, x, y);
	add_force_bar(d, x, y + line_step * 1.25);
	add_left_out(sheet, d, y + line_step * 2.4);
	for (int i = 0; i < sheet->cautions.count; i++)
		text_at(d, RN_TEXT_SMALL, x + bars_width, y - 0.4 + line_step * i,
		        sheet->cautions.lines[i]);
	text_at(d, RN_TEXT_SMALL, x, sheet->foot[3] - rn_lettering_drop(RN_TEXT_SMALL),
	        sheet->source);
}

/* ---- parts ----------------------------------------------------------------------------------- */

/* Checked parts before unchecked ones, the harder used first, loaded before idle. */
static bool goes_before(const rn_part_result *a, const rn_part_result *b)
{
	bool checked_a = a->unchecked == RN_CHECKED, checked_b = b->unchecked == RN_CHECKED;
	if (checked_a != checked_b)
		return checked_a;
	return checked_a ? a->utilisation > b->utilisation : a->demand > b->demand;
}

/* The part that comes after `last` in that order, those of one rank as they stand. */
static int part_after(const rn_case_result *c, int last)
{
	int next = RN_NONE;
	for (int i = 0; i < c->part_count; i++) {
		const rn_part_result *p = &c->parts[i];
		if (last != RN_NONE) {
			const rn_part_result *l = &c->parts[last];
			bool told =
				i == last || goes_before(p, l) || (!goes_before(l, p) && i < last);
			if (told)
				continue;
		}
		if (next == RN_NONE || goes_before(p, &c->parts[next]))
			next = i;
	}
	return next;
}

/* "sling s1"; of a connector, which may be used in several places, "shackle at b1". */
static void add_part_name(rn_drawing *d, const rn_part_result *p)
{
	if (p->object.kind != RN_ITEM || p->at == RN_NONE) {
		rn_words_part(&d->text, d->model, p->object);
		return;
	}
	rn_words_object(&d->text, d->model, p->object);
	rn_buffer_text(&d->text, " at ");
	rn_words_object(&d->text, d->model, rn_object_of(RN_NODE, p->at));
}

/* "6.37 of 7.50 kN", or without a limit "6.37 kN"; of a stem "4.25 MPa, 4.28 m up", without the place where there is no
 * room for it. */
static void add_demand(rn_drawing *d, const rn_part_result *p, bool with_place)
{
	const rn_stem_result *stem = p->object.kind == RN_STEM ? &d->answer->stems[p->object.index] : NULL;
	if (stem && stem->diameter > 0) {
		rn_words_stress(&d->text, stem->compression, RN_UP, d->units);
		if (!with_place)
			return;
		rn_buffer_text(&d->text, ", ");
		rn_words_stem_height(&d->text, d->model, stem, d->units);
		return;
	}
	if (p->unchecked != RN_CHECKED) {
		rn_words_force(&d->text, p->demand, RN_UP, d->units);
		return;
	}
	rn_words_bare_force(&d->text, p->demand, RN_UP, d->units);
	rn_buffer_text(&d->text, " of ");
	rn_words_bare_force(&d->text, p->limit, RN_DOWN, d->units);
	rn_buffer_char(&d->text, ' ');
	rn_buffer_text(&d->text, rn_words_force_unit(d->units));
}

static void part_row(rn_drawing *d, int part, const double r[4], double y)
{
	const double name_at = 5, force_at = 60, apart = 2; /* [mm] */
	const rn_part_result *p = &d->answer->parts[part];
	bool over = rn_verdict_is_over(p);
	rn_hand_of_text hand = over ? RN_TEXT_SMALL_STRONG : RN_TEXT_SMALL;
	for (int i = 0; i < d->lettered_count; i++)
		if (d->lettered[i] == part) {
			rn_buffer_char(&d->text, (char)('A' + i));
			text_at(d, RN_TEXT_SMALL_STRONG, r[0], y, keep(d));
		}
	add_part_name(d, p);
	const char *name = keep(d);
	double room = force_at - name_at - apart;
	add_demand(d, p, true);
	const char *demand = keep(d);
	if (rn_lettering_width(name, hand) + rn_lettering_width(demand, hand) > room) {
		add_demand(d, p, false);
		demand = keep(d);
	}
	text_at(d, hand, r[0] + name_at, y, cut_to(d, name, hand, room - rn_lettering_width(demand, hand)));
	text_right(d, hand, r[0] + force_at, y, demand);
	if (p->unchecked == RN_CHECKED) {
		rn_words_percent(&d->text, p->utilisation);
		rn_buffer_text(&d->text, over ? " OVER" : "");
	} else {
		rn_buffer_text(&d->text, "not checked");
	}
	text_right(d, hand, r[2], y, keep(d));
}

static double heading(rn_drawing *d, const double r[4], double top, const char *text)
{
	double y = top + 2.2 + rn_lettering_rise(RN_TEXT_STRONG);
	text_at(d, RN_TEXT_STRONG, r[0], y, text);
	line_at(d, RN_ROLE_RULE, 0, r[0], y + 1.6, r[2], y + 1.6);
	return y + 2.4;
}

/* Returns where the list ends. */
static double add_parts(rn_drawing *d, const double r[4], double bottom)
{
	double y = heading(d, r, r[1], "Parts in this case, closest first") + line_step;
	if (!d->settled) {
		text_at(d, RN_TEXT_SMALL, r[0], y, "no answer: this case did not settle");
		return y + line_step;
	}
	int shown = 0;
	for (int part = part_after(d->answer, RN_NONE); part != RN_NONE;
	     part = part_after(d->answer, part), y += line_step) {
		bool last_row = y + line_step > bottom - 1;
		if (last_row && shown + 1 < d->answer->part_count) {
			rn_buffer_format(&d->text, "and %d more: see the text answer",
			                 d->answer->part_count - shown);
			text_at(d, RN_TEXT_SMALL, r[0] + 5, y, keep(d));
			return y + line_step;
		}
		part_row(d, part, r, y);
		shown++;
	}
	return y;
}

/* ---- key ------------------------------------------------------------------------------------- */

static const double sample = 15; /* width of the column of samples */

static void sample_tail(rn_drawing *d, double x, double y)
{
	const double points[5][2] = {{x + 0.5, y - 1.7},
	                             {x + 9.5, y - 1.7},
	                             {x + 12.5, y},
	                             {x + 9.5, y + 1.7},
	                             {x + 0.5, y + 1.7}};
	polygon_at(d, d->uses[RN_SIGN_ROPE] ? RN_ROLE_TAIL_ROPE : RN_ROLE_TAIL_SLING, points, 5);
}

static void sample_keep_out(rn_drawing *d, double x, double y)
{
	double centre[2];
	rn_scene_from_paper(d->scene, x + 2, y, centre);
	rn_symbols_keep_out(d, centre, 5.2, 0);
}

static void sample_ring(rn_drawing *d, double x, double y, bool over)
{
	double centre[2];
	rn_scene_from_paper(d->scene, x + 6, y, centre);
	rn_role role = over ? RN_ROLE_CLOSEST_OVER : RN_ROLE_CLOSEST;
	rn_scene_circle(d->scene, role, centre, rn_scene_mm(d->scene, over ? 2.3 : 1.8));
	if (!over)
		rn_scene_circle(d->scene, role, centre, rn_scene_mm(d->scene, 2.5));
	else {
		line_at(d, RN_ROLE_CROSS, 0, x + 4.9, y - 1.1, x + 7.1, y + 1.1);
		line_at(d, RN_ROLE_CROSS, 0, x + 4.9, y + 1.1, x + 7.1, y - 1.1);
	}
}

static void sample_member(rn_drawing *d, rn_role role, double x, double y)
{
	line_at(d, role, 0.6, x + 0.5, y, x + 6, y);
	line_at(d, role, 2.0, x + 6, y, x + 12.5, y);
}

static void sample_run(rn_drawing *d, double x, double y)
{
	double at[2];
	line_at(d, RN_ROLE_ROPE, 0.9, x + 0.5, y, x + 12.5, y);
	rn_scene_from_paper(d->scene, x + 6.5, y, at);
	rn_symbols_run(d->scene, at, 0, 0.9);
}

static void sample_force(rn_drawing *d, double x, double y)
{
	double tail[2], tip[2];
	rn_scene_from_paper(d->scene, x + 0.5, y, tail);
	rn_scene_from_paper(d->scene, x + 12.5, y, tip);
	rn_symbols_arrow(d->scene, tail, tip);
}

static void sample_path(rn_drawing *d, double x, double y)
{
	double at[2];
	line_at(d, RN_ROLE_PATH, 0, x + 1.5, y, x + 12.5, y);
	rn_scene_from_paper(d->scene, x + 1.5, y, at);
	rn_scene_circle(d->scene, RN_ROLE_PATH_END, at, rn_scene_mm(d->scene, 1));
}

static void add_sample(rn_drawing *d, rn_sign sign, double x, double y)
{
	switch (sign) {
	case RN_SIGN_ROPE: sample_member(d, RN_ROLE_ROPE, x, y); break;
	case RN_SIGN_SLING: sample_member(d, RN_ROLE_SLING, x, y); break;
	case RN_SIGN_SLACK:
		line_at(d, d->uses[RN_SIGN_ROPE] ? RN_ROLE_ROPE_SLACK : RN_ROLE_SLING_SLACK, 0,
		        x + 0.5, y, x + 12.5, y);
		break;
	case RN_SIGN_PROP: box_at(d, RN_ROLE_PROP, x + 0.5, y - 1.1, x + 12.5, y + 1.1); break;
	case RN_SIGN_RUN: sample_run(d, x, y); break;
	case RN_SIGN_TAIL: sample_tail(d, x, y); break;
	case RN_SIGN_KEEP_OUT: sample_keep_out(d, x, y); break;
	case RN_SIGN_UNSETTLED: line_at(d, RN_ROLE_ROPE_SLACK, 0, x + 0.5, y, x + 12.5, y); break;
	case RN_SIGN_GHOST: line_at(d, RN_ROLE_GHOST, 0, x + 0.5, y, x + 12.5, y); break;
	case RN_SIGN_PATH: sample_path(d, x, y); break;
	case RN_SIGN_CLOSEST: sample_ring(d, x, y, false); break;
	case RN_SIGN_OVER: sample_ring(d, x, y, true); break;
	case RN_SIGN_FORCE: sample_force(d, x, y); break;
	case RN_SIGN_COUNT: break;
	}
}

static const char *sign_words(rn_sign sign)
{
	static const char *const words[] = {
		[RN_SIGN_ROPE] = "rope: the wider, the more it carries",
		[RN_SIGN_SLING] = "sling, likewise",
		[RN_SIGN_SLACK] = "slack",
		[RN_SIGN_PROP] = "prop: can push",
		[RN_SIGN_RUN] = "the way the rope runs",
		[RN_SIGN_TAIL] = "pull on an anchor, to the force scale",
		[RN_SIGN_KEEP_OUT] = "keep out: a failing redirect flies here",
		[RN_SIGN_UNSETTLED] = "as drawn; it did not settle",
		[RN_SIGN_GHOST] = "as drawn, before it settled",
		[RN_SIGN_PATH] = "way of the piece, from where it is let go",
		[RN_SIGN_CLOSEST] = "closest to its limit",
		[RN_SIGN_OVER] = "over its limit",
		[RN_SIGN_FORCE] = "outer force (not to scale)",
	};
	return words[sign];
}

static void add_key(rn_drawing *d, const double r[4], double top)
{
	rn_scene_open_group(d->scene, "key");
	double y = heading(d, r, top, "Key");
	for (int i = 0; i < RN_SIGN_COUNT; i++) {
		if (!d->uses[i])
			continue;
		const char *words = sign_words((rn_sign)i);
		if (i == RN_SIGN_SLING && !d->uses[RN_SIGN_ROPE])
			words = "sling: the wider, the more it carries";
		if (i == RN_SIGN_GHOST && d->model->drawn_under_load)
			words = "as drawn; solid: the nearest that balances";
		double step = key_step((rn_sign)i), middle = y + step / 2;
		add_sample(d, (rn_sign)i, r[0], middle);
		text_at(d, RN_TEXT_SMALL, r[0] + sample, middle + 1, words);
		y += step;
	}
	rn_scene_close_group(d->scene);
}

void rn_sheet_add(const rn_sheet *sheet, rn_drawing *d)
{
	rn_scene_open_group(d->scene, "sheet");
	add_head(sheet, d);
	add_foot(sheet, d);
	double bottom = sheet->standing ? sheet->parts[3]
	                                : sheet->parts[3] - key_height(d->uses) - line_step;
	double end = add_parts(d, sheet->parts, bottom);
	if (!sheet->standing)
		line_at(d, RN_ROLE_FRAME, 0, sheet->area[2], sheet->head[3], sheet->area[2],
		        sheet->foot[1]);
	else
		line_at(d, RN_ROLE_FRAME, 0, sheet->foot[0], sheet->parts[1], sheet->foot[2],
		        sheet->parts[1]);
	rn_scene_close_group(d->scene);
	add_key(d, sheet->key, sheet->standing ? sheet->key[1] : end);
}
