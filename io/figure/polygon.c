/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/polygon.h"

#include <math.h>
#include <string.h>

#include "io/figure/plate.h"
#include "io/figure/symbols.h"
#include "io/report/arrows.h"
#include "io/report/finite.h"
#include "io/report/verdict.h"

static const double pi = 3.14159265358979323846;

/* Its two fields and the table below them [mm]. */
static const double field_bottom = 132, table_top = 142, closing_top = 192;

/* Length of an arrow of the free body, which is not to scale, and of the gap between two that nearly coincide
 * [mm]. */
static const double arrow_long = 34, arrow_from = 3, arrow_apart = 2.2, arrows_alike = 0.1; /* [rad] */

typedef struct plot {
	rn_plate plate;
	rn_arrows arrows; /* clockwise from straight up */
} plot;

static const char *keep(plot *p)
{
	return rn_plate_keep(&p->plate);
}

/* ---- order and letters --------------------------------------------------------------------------- */

/* How far clockwise from straight up it points [rad]. */
static double clockwise(const rn_arrow *a)
{
	double angle = pi / 2 - atan2(a->y, a->x);
	return angle < 0 ? angle + 2 * pi : angle;
}

static void sort_clockwise(rn_arrows *a)
{
	for (int i = 1; i < a->count; i++) {
		rn_arrow moved = a->list[i];
		int k = i;
		for (; k > 0 && clockwise(&a->list[k - 1]) > clockwise(&moved); k--)
			a->list[k] = a->list[k - 1];
		a->list[k] = moved;
	}
}

/* The space before pull i, going clockwise; letters that read like others (I, O) are passed over as in drawing
 * offices. */
static void add_letter(plot *p, int i, bool small)
{
	static const char letters[] = "ABCDEFGHJKLMNPQRSTUVWXYZ";
	i %= p->arrows.count;
	int most = (int)sizeof letters - 1;
	rn_buffer_char(&p->plate.text, (char)(letters[i % most] + (small ? 'a' - 'A' : 0)));
	if (i >= most)
		rn_buffer_format(&p->plate.text, "%d", i / most);
}

static void add_pair(plot *p, int i, bool small)
{
	add_letter(p, i, small);
	add_letter(p, i + 1, small);
}

/* ---- the free body ---------------------------------------------------------------------------------- */

/* How far beside its line an arrow is drawn, so that two that nearly coincide can be told apart [mm]. */
static double beside(const plot *p, int i)
{
	int before = 0, all = 1;
	for (int k = 0; k < p->arrows.count; k++) {
		double off = fabs(remainder(clockwise(&p->arrows.list[k]) - clockwise(&p->arrows.list[i]), 2 * pi));
		if (k == i || off > arrows_alike)
			continue;
		all++;
		before += k < i;
	}
	return (before - (all - 1) / 2.0) * arrow_apart;
}

static void draw_arrow(plot *p, const double centre[2], int i)
{
	const rn_arrow *a = &p->arrows.list[i];
	double size = hypot(a->x, a->y), x = a->x / size, y = a->y / size, off = beside(p, i);
	double tail[2] = {centre[0] + arrow_from * x + off * y, centre[1] + arrow_from * y - off * x};
	double tip[2] = {tail[0] + arrow_long * x, tail[1] + arrow_long * y};
	rn_symbols_arrow(p->plate.scene, tail, tip);
	add_pair(p, i, false);
	rn_plate_label(&p->plate, 1, RN_TEXT_STRONG, keep(p), tip, x, y);
}

/* The letter of a space stands in the middle of it, nearer in than the arrows' heads. */
static void letter_space(plot *p, const double centre[2], int i)
{
	int n = p->arrows.count, before = (i + n - 1) % n;
	double from = clockwise(&p->arrows.list[before]), to = clockwise(&p->arrows.list[i]);
	double gap = n == 1 ? 2 * pi : fmod(to - from + 4 * pi, 2 * pi), middle = from + gap / 2;
	double reach = fmin(22, 9 + 2.5 / fmax(0.2, gap));
	double at[2] = {centre[0] + reach * sin(middle), centre[1] + reach * cos(middle)};
	add_letter(p, i, false);
	rn_plate_label(&p->plate, 0, RN_TEXT_PLAIN, keep(p), at, 0, 0);
}

static void draw_free_body(plot *p)
{
	double left = rn_plate_margin, right = rn_plate_width / 2 - 6, centre[2];
	rn_scene_from_paper(p->plate.scene, (left + right) / 2, (rn_plate_top + field_bottom) / 2 + 2, centre);
	rn_scene_open_group(p->plate.scene, "free body");
	for (int i = 0; i < p->arrows.count; i++)
		draw_arrow(p, centre, i);
	rn_scene_circle(p->plate.scene, RN_ROLE_PIN, centre, 1.4);
	rn_scene_close_group(p->plate.scene);
	for (int i = 0; i < p->arrows.count; i++)
		letter_space(p, centre, i);
	rn_plate_text(&p->plate, RN_TEXT_STRONG, left, rn_plate_top - 2, "Free body: directions true, lengths not to scale");
	rn_plate_place_labels(&p->plate, (double[4]){left, rn_plate_top, right, field_bottom});
}

/* ---- the polygon -------------------------------------------------------------------------------------- */

static double unit_of(const plot *p)
{
	return p->plate.units == RN_US ? 4.4482216152605 : 1e3;
}

/* Left, bottom, right, top of the polygon drawn from 0, 0 [N]. */
static void extent_of(const plot *p, double extent[4])
{
	double x = 0, y = 0;
	memset(extent, 0, 4 * sizeof *extent);
	for (int i = 0; i < p->arrows.count; i++) {
		x += p->arrows.list[i].x;
		y += p->arrows.list[i].y;
		extent[0] = fmin(extent[0], x);
		extent[1] = fmin(extent[1], y);
		extent[2] = fmax(extent[2], x);
		extent[3] = fmax(extent[3], y);
	}
}

static void record_edge(plot *p, int node, double force, double length)
{
	void *grown = rn_pool_grow(&p->plate.scene->pool, p->plate.scene->tails, p->plate.scene->tail_count, &p->plate.scene->tail_room,
	                           sizeof *p->plate.scene->tails);
	if (!grown)
		return;
	p->plate.scene->tails = grown;
	p->plate.scene->tails[p->plate.scene->tail_count++] = (rn_tail){node, force, length};
}

static void draw_edges(plot *p, const double start[2])
{
	double at[2] = {start[0], start[1]}, k = p->plate.scene->force_scale;
	for (int i = 0; i < p->arrows.count; i++) {
		const rn_arrow *a = &p->arrows.list[i];
		double size = hypot(a->x, a->y), end[2] = {at[0] + k * a->x, at[1] + k * a->y};
		double middle[2] = {(at[0] + end[0]) / 2, (at[1] + end[1]) / 2};
		if (k * size > 4)
			rn_symbols_arrow(p->plate.scene, at, end);
		else
			rn_scene_segment(p->plate.scene, RN_ROLE_FORCE, 0, at, end);
		record_edge(p, p->arrows.node, size, k * size);
		add_letter(p, i, true);
		rn_plate_label(&p->plate, 0, RN_TEXT_PLAIN, keep(p), at, 0, 0);
		rn_words_bare_force(&p->plate.text, size, RN_NEAREST, p->plate.units);
		rn_plate_label(&p->plate, 3, RN_TEXT_SMALL, keep(p), middle, -a->y / size, a->x / size);
		memcpy(at, end, sizeof at);
	}
}

static void draw_force_bar(plot *p, double left, double y)
{
	double force = rn_plate_round_down(30 / (p->plate.scene->force_scale * unit_of(p)));
	double length = force * unit_of(p) * p->plate.scene->force_scale;
	rn_plate_line(&p->plate, RN_ROLE_FORCE, left, y, left + length, y);
	rn_plate_line(&p->plate, RN_ROLE_FORCE, left, y - 1.2, left, y + 1.2);
	rn_plate_line(&p->plate, RN_ROLE_FORCE, left + length, y - 1.2, left + length, y + 1.2);
	rn_words_number(&p->plate.text, force);
	rn_buffer_format(&p->plate.text, " %s", rn_words_force_unit(p->plate.units));
	rn_plate_text(&p->plate, RN_TEXT_SMALL, left + length + 2, y + 1, keep(p));
}

static void draw_polygon(plot *p)
{
	double left = rn_plate_width / 2 + 4, right = rn_plate_width - rn_plate_margin, extent[4], start[2];
	extent_of(p, extent);
	double width = fmax(extent[2] - extent[0], 1e-9), height = fmax(extent[3] - extent[1], 1e-9);
	double room = fmin((right - left - 44) / width, (field_bottom - rn_plate_top - 22) / height);
	p->plate.scene->force_scale = rn_plate_round_down(room * unit_of(p)) / unit_of(p); /* 1, 2 or 5 mm for each kN or lbf, or tens of it */
	double k = p->plate.scene->force_scale;
	rn_scene_from_paper(p->plate.scene, (left + right) / 2 - k * (extent[0] + extent[2]) / 2,
	                    (rn_plate_top + field_bottom) / 2 - 3 + k * (extent[1] + extent[3]) / 2, start);
	rn_scene_open_group(p->plate.scene, "force polygon");
	draw_edges(p, start);
	draw_force_bar(p, left, field_bottom + 4);
	rn_scene_close_group(p->plate.scene);
	rn_plate_text(&p->plate, RN_TEXT_STRONG, left, rn_plate_top - 2, "Force polygon: to scale, it closes");
	rn_plate_place_labels(&p->plate, (double[4]){left, rn_plate_top, right, field_bottom});
}

/* ---- table, head, foot --------------------------------------------------------------------------------- */

static void add_angle(plot *p, const rn_arrow *a)
{
	double angle = atan2(a->y, a->x) * 180 / pi;
	rn_buffer_fixed(&p->plate.text, angle < -0.05 ? angle + 360 : angle, 1);
	rn_buffer_text(&p->plate.text, " deg");
}

static void write_table(plot *p)
{
	enum { ROWS = 10 };
	double column = (rn_plate_width - 2 * rn_plate_margin) / 2;
	for (int i = 0; i < p->arrows.count && i < 2 * ROWS; i++) {
		double x = rn_plate_margin + column * (i / ROWS), y = table_top + 5 * (i % ROWS);
		add_pair(p, i, false);
		rn_plate_text(&p->plate, RN_TEXT_SMALL_STRONG, x, y, keep(p));
		rn_arrows_words(&p->plate.text, &p->arrows, i);
		rn_plate_text(&p->plate, RN_TEXT_SMALL, x + 12, y, keep(p));
		rn_words_bare_force(&p->plate.text, hypot(p->arrows.list[i].x, p->arrows.list[i].y), RN_NEAREST, p->plate.units);
		rn_buffer_format(&p->plate.text, " %s", rn_words_force_unit(p->plate.units));
		rn_plate_text(&p->plate, RN_TEXT_SMALL, x + 82, y, keep(p));
		add_angle(p, &p->arrows.list[i]);
		rn_plate_text(&p->plate, RN_TEXT_SMALL, x + 106, y, keep(p));
	}
}

static void describe(plot *p)
{
	for (int i = 0; i < p->arrows.count; i++) {
		rn_arrows_words(&p->plate.text, &p->arrows, i);
		rn_buffer_text(&p->plate.text, " pulls with ");
		rn_words_force(&p->plate.text, hypot(p->arrows.list[i].x, p->arrows.list[i].y), RN_NEAREST, p->plate.units);
		rn_buffer_text(&p->plate.text, " at ");
		add_angle(p, &p->arrows.list[i]);
		rn_buffer_text(&p->plate.text, ". ");
	}
	p->plate.scene->description = keep(p);
}

/* How far from its beginning the polygon ends: rounding, or an open answer. */
static void write_closing(plot *p)
{
	double x = 0, y = 0;
	for (int i = 0; i < p->arrows.count; i++) {
		x += p->arrows.list[i].x;
		y += p->arrows.list[i].y;
	}
	rn_buffer_text(&p->plate.text, "Read round the node clockwise, the pull between the spaces A and B is AB; in the polygon it runs "
	                         "from a to b. Closing error ");
	rn_words_force(&p->plate.text, hypot(x, y), RN_UP, p->plate.units);
	rn_buffer_char(&p->plate.text, '.');
	rn_plate_text(&p->plate, RN_TEXT_SMALL, rn_plate_margin, closing_top, keep(p));
}

/* ---- the whole ----------------------------------------------------------------------------------------- */

static void compose(plot *p, const rn_figure_options *options)
{
	rn_scene_open_group(p->plate.scene, "sheet");
	rn_plate_head(&p->plate, "Forces at", rn_object_of(RN_NODE, p->arrows.node));
	write_table(p);
	write_closing(p);
	rn_plate_foot(&p->plate, options);
	rn_scene_close_group(p->plate.scene);
	describe(p);
	draw_free_body(p);
	draw_polygon(p);
}

static rn_status make(rn_scene *scene, const rn_result *result, int case_index, int node,
                      const rn_figure_options *options)
{
	const rn_model *m = result->model;
	const rn_case_result *answer = &result->cases[case_index];
	double *values = rn_pool_take(&scene->pool, (size_t)m->number_count + 1, sizeof *values);
	plot *p = rn_pool_take(&scene->pool, 1, sizeof *p);
	if (!values || !p)
		return RN_STATUS_MEMORY;
	rn_case_values(m, &m->cases[answer->case_index], values);
	p->arrows = rn_arrows_at(m, answer, values, node);
	rn_arrows_hold(&p->arrows);
	sort_clockwise(&p->arrows);
	if (p->arrows.count == 0)
		return RN_STATUS_ARGUMENT;
	rn_plate_begin(&p->plate, scene, result, case_index, options);
	compose(p, options);
	rn_plate_end(&p->plate);
	return rn_scene_status(scene);
}

rn_status rn_polygon_scene(const rn_allocator *allocator, const rn_result *result, int case_index, int node,
                           const rn_figure_options *options, rn_scene *scene_out)
{
	static const rn_figure_options plain = {.units = RN_METRIC};
	*scene_out = rn_scene_make(allocator);
	bool there = case_index >= 0 && case_index < result->case_count && node >= 0 && node < result->model->node_count;
	if (!there || !rn_verdict_has_answer(&result->cases[case_index]))
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_finite_check(result));
	return make(scene_out, result, case_index, node, options ? options : &plain);
}
