/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/map.h"

#include <math.h>

#include "io/figure/field.h"
#include "io/report/finite.h"
#include "io/report/placed.h"
#include "io/report/varied.h"

/* The field, and the words beside it [mm]. */
static const double field_left = 24, field_top = 52, field_right = 206, field_bottom = 176, words_left = 214;
static const double words_step = 5.2;

/* A cell that is smaller has no words in it [mm]. */
static const double cell_wide = 10.5, cell_high = 5;
static const double hatch_apart = 2.4, dot = 0.7;

/* The best and the place as drawn [mm]. */
static const double ring = 2.2, inner_ring = 1.1;

/* From which share of the limit a cell is so dark [-]. */
static const struct {
	double from;
	rn_role role;
	const char *words;
} shades[] = {{0.9, RN_ROLE_SHADE_4, "90 to 100 %"},
              {0.75, RN_ROLE_SHADE_3, "75 to 90 %"},
              {0.5, RN_ROLE_SHADE_2, "50 to 75 %"},
              {0.25, RN_ROLE_SHADE_1, "25 to 50 %"},
              {0, RN_ROLE_PAPER, "less"}};

enum { SHADES = sizeof shades / sizeof *shades };

typedef struct map {
	rn_plate plate;
	rn_field field;
	const rn_varied *varied;
	const rn_placed *placed; /* NULL: nothing is placed */
	double most;             /* the largest value of what is made least by what it carries */
	double wide, high;       /* of a cell [mm] */
} map;

static const char *keep(map *m)
{
	return rn_plate_keep(&m->plate);
}

static bool of_part(const map *m)
{
	return m->placed && m->placed->of_part;
}

static bool by_pull(const map *m)
{
	return m->placed && m->placed->by_pull;
}

static bool is_stem(const map *m)
{
	const rn_varied *v = m->varied;
	return v->part != RN_NONE && v->result->cases[0].parts[v->part].object.kind == RN_STEM;
}

static double load_of(const map *m, const rn_tried *t)
{
	return is_stem(m) ? t->own_stress : t->own_demand;
}

/* What a cell tells: a share of a limit, of what has none the share of the largest. Below 0: nothing. */
static double share_of(const map *m, const rn_tried *t)
{
	if (t->stand != RN_STAND_FOUND)
		return -1;
	if (by_pull(m))
		return m->most > 0 ? fmin(load_of(m, t) / m->most, 0.999) : 0;
	if (of_part(m))
		return t->own_checked ? t->own_utilisation : -1;
	return t->part == RN_NONE ? -1 : t->utilisation;
}

static int governing(const map *m, const rn_tried *t)
{
	return of_part(m) || share_of(m, t) < 0 ? RN_NONE : t->part;
}

/* ---- cells ------------------------------------------------------------------------------------- */

static const rn_tried *tried_at(const map *m, int x, int y)
{
	return &m->varied->tried[y * m->varied->counts[0] + x];
}

/* Left, top of a cell on paper. */
static void corner(const map *m, int x, int y, double out[2])
{
	out[0] = m->field.left + x * m->wide;
	out[1] = m->field.bottom - (y + 1) * m->high;
}

static void fill(map *m, const double at[2], double wide, double high, rn_role role)
{
	const double paper[4][2] = {
		{at[0], at[1]}, {at[0] + wide, at[1]}, {at[0] + wide, at[1] + high}, {at[0], at[1] + high}};
	double points[4][2];
	for (int i = 0; i < 4; i++)
		rn_scene_from_paper(m->plate.scene, paper[i][0], paper[i][1], points[i]);
	rn_scene_polygon(m->plate.scene, role, (const double(*)[2])points, 4);
}

static void stroke(map *m, rn_role role, double width, double x0, double y0, double x1, double y1)
{
	double a[2], b[2];
	rn_scene_from_paper(m->plate.scene, x0, y0, a);
	rn_scene_from_paper(m->plate.scene, x1, y1, b);
	rn_scene_segment(m->plate.scene, role, width, a, b);
}

/* Up to the right, in step with its neighbours, so that an area is hatched as one. */
static void hatch(map *m, const double at[2], double wide, double high)
{
	const double thick = 0.35, right = at[0] + wide, foot = at[1] + high;
	/* lines x + y = k hatch_apart */
	for (double k = ceil((at[0] + at[1]) / hatch_apart); k * hatch_apart < right + foot; k++) {
		double sum = k * hatch_apart, x0 = fmax(at[0], sum - foot), x1 = fmin(right, sum - at[1]);
		if (x1 > x0)
			stroke(m, RN_ROLE_CROSS, thick, x0, sum - x0, x1, sum - x1);
	}
}

static void cross(map *m, const double at[2], double wide, double high)
{
	stroke(m, RN_ROLE_RULE, 0.25, at[0], at[1], at[0] + wide, at[1] + high);
	stroke(m, RN_ROLE_RULE, 0.25, at[0], at[1] + high, at[0] + wide, at[1]);
}

static void draw_look(map *m, double share, bool lost, const double at[2], double wide, double high)
{
	if (lost)
		cross(m, at, wide, high);
	if (share > 1)
		hatch(m, at, wide, high);
	for (int i = 0; i < SHADES; i++)
		if (share >= shades[i].from && share <= 1) {
			fill(m, at, wide, high, shades[i].role);
			return;
		}
}

static bool governs(const map *m, int part)
{
	for (int i = 0; i < m->varied->counts[0] * m->varied->counts[1]; i++)
		if (governing(m, &m->varied->tried[i]) == part)
			return true;
	return false;
}

/* A letter for each part that governs somewhere, in the order of the parts; those that read like others are left out. */
static char letter_of(const map *m, int part)
{
	static const char letters[] = "ABCDEFGHJKLMNPQRSTUVWXYZ";
	int before = 0;
	for (int p = 0; p < part; p++)
		before += governs(m, p);
	return letters[before % ((int)sizeof letters - 1)];
}

static void say_value(map *m, const rn_tried *t)
{
	double share = share_of(m, t);
	if (share < 0) {
		rn_buffer_text(&m->plate.text, t->stand == RN_STAND_FOUND ? "?" : "");
		return;
	}
	if (by_pull(m) && is_stem(m)) {
		rn_words_stress(&m->plate.text, t->own_stress, RN_UP, m->plate.units);
		return;
	}
	if (by_pull(m)) {
		rn_words_bare_force(&m->plate.text, t->own_demand, RN_UP, m->plate.units);
		return;
	}
	if (governing(m, t) != RN_NONE) {
		rn_buffer_char(&m->plate.text, letter_of(m, t->part));
		rn_buffer_char(&m->plate.text, ' ');
	}
	double percent = ceil(100 * share - 1e-9);
	rn_buffer_format(&m->plate.text, "%d%s", (int)fmin(percent + (share > 1 && percent <= 100), 9999),
	                 t->unchecked_count > 0 ? "?" : "");
}

static const rn_tried *best_of(const map *m)
{
	if (m->placed)
		return m->placed->found ? &m->placed->best : NULL;
	return m->varied->has_least && !rn_varied_is_level(m->varied) ? &m->varied->least : NULL;
}

/* Whether the ring round the best, or round what is drawn, would hide what stands in a cell. */
static bool is_marked(const map *m, const double at[2])
{
	const rn_tried *marks[2] = {best_of(m), &m->varied->drawn};
	for (int i = 0; i < 2; i++) {
		if (!marks[i])
			continue;
		double x = rn_field_x(&m->field, marks[i]->value[0]) - at[0] - m->wide / 2;
		double y = rn_field_y(&m->field, marks[i]->value[1]) - at[1] - m->high / 2;
		if (fabs(x) < ring + 4 && fabs(y) < ring + 1.2)
			return true;
	}
	return false;
}

static void write_cell(map *m, const rn_tried *t, const double at[2])
{
	if (is_marked(m, at))
		return; /* it is told beside */
	say_value(m, t);
	const char *text = keep(m);
	rn_hand_of_text hand = share_of(m, t) > 1 ? RN_TEXT_SMALL_STRONG : RN_TEXT_SMALL;
	double wide = rn_lettering_width(text, hand), rise = rn_lettering_rise(hand), drop = rn_lettering_drop(hand);
	double x = at[0] + (m->wide - wide) / 2, y = at[1] + (m->high + rise - drop) / 2;
	if (!*text || wide > m->wide - 0.4)
		return;
	if (share_of(m, t) > 1)
		fill(m, (double[2]){x - 0.4, y - rise}, wide + 0.8, rise + drop, RN_ROLE_PAPER);
	rn_plate_text(&m->plate, hand, x, y, text);
}

static bool has_words(const map *m)
{
	return m->wide >= cell_wide && m->high >= cell_high;
}

static void draw_cells(map *m)
{
	const rn_varied *v = m->varied;
	rn_scene_open_group(m->plate.scene, "cells");
	for (int y = 0; y < v->counts[1]; y++)
		for (int x = 0; x < v->counts[0]; x++) {
			double at[2];
			const rn_tried *t = tried_at(m, x, y);
			corner(m, x, y, at);
			draw_look(m, share_of(m, t), t->stand != RN_STAND_FOUND, at, m->wide, m->high);
		}
	for (int y = 0; y < v->counts[1]; y++)
		for (int x = 0; x < v->counts[0]; x++) {
			double at[2];
			const rn_tried *t = tried_at(m, x, y);
			corner(m, x, y, at);
			if (has_words(m))
				write_cell(m, t, at);
			else if (t->stand == RN_STAND_FOUND && t->unchecked_count > 0)
				fill(m, (double[2]){at[0] + m->wide / 2 - dot / 2, at[1] + m->high / 2 - dot / 2}, dot, dot, RN_ROLE_BAR);
		}
	rn_scene_close_group(m->plate.scene);
}

/* ---- borders ------------------------------------------------------------------------------------- */

typedef enum border { NO_BORDER, OTHER_PART, LIMIT } border;

static border between(const map *m, const rn_tried *a, const rn_tried *b)
{
	double s = share_of(m, a), t = share_of(m, b);
	if ((s > 1) != (t > 1) || (s < 0) != (t < 0))
		return LIMIT;
	return governing(m, a) != governing(m, b) ? OTHER_PART : NO_BORDER;
}

/* Where the limit runs, or answers end, thick; where another part governs thin. */
static void draw_border(map *m, border which, double x0, double y0, double x1, double y1)
{
	if (which == LIMIT)
		stroke(m, RN_ROLE_LIMIT, 1, x0, y0, x1, y1);
	else if (which == OTHER_PART)
		stroke(m, RN_ROLE_FRAME, 0.25, x0, y0, x1, y1);
}

static void draw_borders(map *m)
{
	const rn_varied *v = m->varied;
	rn_scene_open_group(m->plate.scene, "borders");
	for (int y = 0; y < v->counts[1]; y++)
		for (int x = 0; x < v->counts[0]; x++) {
			double at[2];
			corner(m, x, y, at);
			if (x + 1 < v->counts[0])
				draw_border(m, between(m, tried_at(m, x, y), tried_at(m, x + 1, y)), at[0] + m->wide, at[1],
				            at[0] + m->wide, at[1] + m->high);
			if (y + 1 < v->counts[1])
				draw_border(m, between(m, tried_at(m, x, y), tried_at(m, x, y + 1)), at[0], at[1], at[0] + m->wide, at[1]);
		}
	rn_scene_close_group(m->plate.scene);
}

/* ---- words beside it ------------------------------------------------------------------------------- */

static void write_line(map *m, double *y, rn_hand_of_text hand, double indent)
{
	const char *text = keep(m);
	double room = rn_plate_width - rn_plate_margin - words_left - indent;
	rn_buffer_add(&m->plate.text, text, rn_lettering_fit(text, hand, room));
	rn_plate_text(&m->plate, hand, words_left + indent, *y, keep(m));
	*y += words_step;
}

static void draw_key(map *m, double *y)
{
	const double wide = 8, high = 3.6, over = 1.5;
	static const char *const looks[] = {"over its limit", "no answer"};
	for (int i = -2; i < SHADES; i++) {
		double at[2] = {words_left, *y - 3};
		draw_look(m, i == -2 ? over : i == -1 ? -1 : shades[i].from, i == -1, at, wide, high);
		for (int k = 0; k < 2; k++) {
			stroke(m, RN_ROLE_RULE, 0, at[0], at[1] + k * high, at[0] + wide, at[1] + k * high);
			stroke(m, RN_ROLE_RULE, 0, at[0] + k * wide, at[1], at[0] + k * wide, at[1] + high);
		}
		rn_buffer_text(&m->plate.text, i < 0 ? looks[i + 2] : shades[i].words);
		write_line(m, y, RN_TEXT_SMALL, wide + 2);
	}
	*y += 2;
}

static void write_letters(map *m, double *y)
{
	const rn_varied *v = m->varied;
	for (int p = 0; p < v->part_count; p++) {
		if (!governs(m, p))
			continue;
		rn_buffer_format(&m->plate.text, "%c  ", letter_of(m, p));
		rn_varied_part(&m->plate.text, v, p);
		write_line(m, y, RN_TEXT_SMALL, 0);
	}
	*y += 2;
}

static void mark_at(map *m, const double *value, bool best)
{
	double at[2], x = rn_field_x(&m->field, value[0]), y = rn_field_y(&m->field, value[1]);
	if (x < m->field.left || x > m->field.right || y < m->field.top || y > m->field.bottom)
		return;
	rn_scene_from_paper(m->plate.scene, x, y, at);
	if (best)
		rn_scene_circle(m->plate.scene, RN_ROLE_STEEL, at, inner_ring);
	rn_scene_circle(m->plate.scene, RN_ROLE_STEEL, at, ring);
}

static void write_mark(map *m, double *y, const char *what, const rn_tried *t, bool best)
{
	double at[2];
	rn_scene_from_paper(m->plate.scene, words_left + 3, *y - 1, at);
	rn_scene_circle(m->plate.scene, RN_ROLE_STEEL, at, ring);
	if (best)
		rn_scene_circle(m->plate.scene, RN_ROLE_STEEL, at, inner_ring);
	rn_buffer_text(&m->plate.text, what);
	write_line(m, y, RN_TEXT_SMALL_STRONG, 8);
	for (int k = 0; k < 2; k++) {
		rn_scale scale = rn_varied_scale(m->varied, k, m->plate.units);
		rn_varied_name(&m->plate.text, m->varied, k);
		rn_buffer_char(&m->plate.text, ' ');
		rn_scale_value(&m->plate.text, &scale, t->value[k], best ? 1 : 0);
		write_line(m, y, RN_TEXT_SMALL, 8);
	}
	if (of_part(m))
		rn_varied_own(&m->plate.text, m->varied, t, m->plate.units);
	else
		rn_varied_closest(&m->plate.text, m->varied, t, m->plate.units);
	write_line(m, y, RN_TEXT_SMALL, 8);
	*y += 1.5;
}

static void draw_beside(map *m)
{
	double y = m->field.top + 2;
	const rn_tried *best = best_of(m);
	rn_scene_open_group(m->plate.scene, "key");
	draw_key(m, &y);
	write_letters(m, &y);
	if (best)
		write_mark(m, &y, m->placed ? "best" : "least", best, true);
	write_mark(m, &y, "as drawn", &m->varied->drawn, false);
	rn_scene_close_group(m->plate.scene);
	rn_scene_open_group(m->plate.scene, "marks");
	if (best)
		mark_at(m, best->value, true);
	mark_at(m, m->varied->drawn.value, false);
	rn_scene_close_group(m->plate.scene);
}

/* ---- the sheet ------------------------------------------------------------------------------------- */

static void write_head(map *m)
{
	const rn_varied *v = m->varied;
	const rn_tried *best = best_of(m);
	int over = 0;
	rn_buffer_text(&m->plate.text, m->placed ? "The best place: " : "Varied: ");
	rn_varied_name(&m->plate.text, v, 0);
	rn_buffer_text(&m->plate.text, " and ");
	rn_varied_name(&m->plate.text, v, 1);
	rn_buffer_text(&m->plate.text, m->placed ? ", made least is the " : ", what the closest part takes of its limit");
	if (m->placed)
		rn_placed_goal(&m->plate.text, m->placed);
	const char *subject = keep(m);
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++)
		over += rn_varied_kind(&v->tried[i]) == RN_CHOICE_OVER;
	rn_buffer_format(&m->plate.text, "%d choices, %d OVER ITS LIMIT. ", v->counts[0] * v->counts[1], over);
	if (best) {
		rn_buffer_text(&m->plate.text, m->placed ? "Best: " : "Least: ");
		rn_varied_closest(&m->plate.text, v, best, m->plate.units);
		rn_buffer_char(&m->plate.text, '.');
	}
	const char *verdict = keep(m);
	rn_plate_title(&m->plate, subject, verdict, over > 0);
	m->plate.scene->description = verdict;
}

static void write_words(map *m)
{
	bool words = has_words(m), unchecked = false;
	for (int i = 0; i < m->varied->counts[0] * m->varied->counts[1]; i++)
		unchecked = unchecked || m->varied->tried[i].unchecked_count > 0;
	if (by_pull(m))
		rn_buffer_text(&m->plate.text, words ? "In the cells what it carries; as dark as it is of the largest."
		                                     : "As dark as what it carries is of the largest.");
	else if (!words)
		rn_buffer_text(&m->plate.text, "The darker the nearer to its limit in its worst case.");
	else
		rn_buffer_format(&m->plate.text, "In the cells %% of the limit%s, in its worst case.",
		                 of_part(m) ? "" : " of the part of that letter, the closest of all");
	if (unchecked)
		rn_buffer_text(&m->plate.text, words ? " ?: a loaded part is not checked there." : " A dot: a loaded part is not checked there.");
	rn_plate_text(&m->plate, RN_TEXT_SMALL, m->field.left, m->field.bottom + 10.5, keep(m));
}

/* Cells lie round their values: the field reaches half a cell beyond the outer ones. */
static void lay_field(map *m)
{
	const rn_varied *v = m->varied;
	double half[2];
	for (int k = 0; k < 2; k++)
		half[k] = (v->of[k].to - v->of[k].from) / (v->counts[k] - 1) / 2;
	m->field = (rn_field){.plate = &m->plate, .left = field_left, .top = field_top, .right = field_right, .bottom = field_bottom,
	                      .across = {v->of[0].from - half[0], v->of[0].to + half[0]},
	                      .up = {v->of[1].from - half[1], v->of[1].to + half[1]}};
	m->wide = (field_right - field_left) / v->counts[0];
	m->high = (field_bottom - field_top) / v->counts[1];
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++)
		m->most = v->tried[i].stand == RN_STAND_FOUND ? fmax(m->most, load_of(m, &v->tried[i])) : m->most;
}

static void draw_field(map *m)
{
	rn_scene_open_group(m->plate.scene, "field");
	rn_field_frame(&m->field);
	for (int k = 0; k < 2; k++) {
		rn_scale scale = rn_varied_scale(m->varied, k, m->plate.units);
		rn_varied_name(&m->plate.text, m->varied, k);
		(k ? rn_field_scale_up : rn_field_scale_across)(&m->field, &scale, keep(m));
	}
	rn_scene_close_group(m->plate.scene);
}

static void compose(map *m, const rn_figure_options *options)
{
	lay_field(m);
	rn_scene_open_group(m->plate.scene, "sheet");
	write_head(m);
	write_words(m);
	rn_plate_foot(&m->plate, options);
	rn_scene_close_group(m->plate.scene);
	draw_cells(m);
	draw_borders(m);
	draw_field(m);
	draw_beside(m);
}

rn_status rn_map_scene(const rn_allocator *allocator, const rn_varied *varied, const rn_placed *placed,
                       const rn_figure_options *options, rn_scene *scene_out)
{
	static const rn_figure_options plain = {.units = RN_METRIC};
	*scene_out = rn_scene_make(allocator);
	if (varied->of_count != 2 || varied->result->case_count == 0)
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_finite_check(varied->result));
	map *m = rn_pool_take(&scene_out->pool, 1, sizeof *m);
	if (!m)
		return RN_STATUS_MEMORY;
	*m = (map){.varied = varied, .placed = placed};
	rn_plate_begin(&m->plate, scene_out, varied->result, 0, options ? options : &plain);
	compose(m, options ? options : &plain);
	rn_plate_end(&m->plate);
	return rn_scene_status(scene_out);
}
