/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/polygon.h"

#include <math.h>
#include <string.h>

#include "io/figure/labels.h"
#include "io/figure/symbols.h"
#include "io/report/arrows.h"
#include "io/report/finite.h"
#include "io/report/verdict.h"

static const double pi = 3.14159265358979323846;

/* The sheet, A4 lying, and its two fields [mm], from the top left corner. */
static const double sheet_width = 297, sheet_height = 210, margin = 9;
static const double field_top = 41, field_bottom = 132, table_top = 142, foot_top = 192;

/* Length of an arrow of the free body, which is not to scale, and of the gap between two that nearly coincide
 * [mm]. */
static const double arrow_long = 34, arrow_from = 3, arrow_apart = 2.2, arrows_alike = 0.1; /* [rad] */

typedef struct plot {
	rn_scene *scene;
	const rn_result *result;
	const rn_case_result *answer;
	rn_units units;
	rn_buffer text; /* scratch */
	rn_arrows arrows; /* clockwise from straight up */
	rn_label labels[2 * RN_ARROWS_MOST + 2 * RN_ARROWS_MOST];
	size_t label_count;
} plot;

static const char *keep(plot *p)
{
	return rn_scene_keep(p->scene, &p->text);
}

static void text_at(plot *p, rn_hand_of_text hand, double x, double y, const char *text)
{
	double at[2];
	rn_scene_from_paper(p->scene, x, y, at);
	rn_scene_text(p->scene, hand, at, text);
}

static void line_at(plot *p, rn_role role, double x0, double y0, double x1, double y1)
{
	double a[2], b[2];
	rn_scene_from_paper(p->scene, x0, y0, a);
	rn_scene_from_paper(p->scene, x1, y1, b);
	rn_scene_segment(p->scene, role, 0, a, b);
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
	rn_buffer_char(&p->text, (char)(letters[i % most] + (small ? 'a' - 'A' : 0)));
	if (i >= most)
		rn_buffer_format(&p->text, "%d", i / most);
}

static void add_pair(plot *p, int i, bool small)
{
	add_letter(p, i, small);
	add_letter(p, i + 1, small);
}

/* ---- labels ------------------------------------------------------------------------------------- */

static void add_label(plot *p, int rank, rn_hand_of_text hand, const char *text, const double at[2], double toward_x,
                      double toward_y)
{
	if (p->label_count == sizeof p->labels / sizeof *p->labels)
		return;
	p->labels[p->label_count++] = (rn_label){
		.lines = {text}, .hands = {hand}, .line_count = 1, .targets = {{at[0], at[1]}}, .target_count = 1,
		.toward = {toward_x, toward_y}, .clear = 1.2, .rank = rank};
}

static void place_labels(plot *p, double left, double right)
{
	const double area[4] = {left, field_top, right, field_bottom};
	rn_scene_open_group(p->scene, "labels");
	rn_labels_place(p->scene, p->labels, p->label_count, area);
	rn_scene_close_group(p->scene);
	p->label_count = 0;
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
	rn_symbols_arrow(p->scene, tail, tip);
	add_pair(p, i, false);
	add_label(p, 1, RN_TEXT_STRONG, keep(p), tip, x, y);
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
	add_label(p, 0, RN_TEXT_PLAIN, keep(p), at, 0, 0);
}

static void draw_free_body(plot *p)
{
	double left = margin, right = sheet_width / 2 - 6, centre[2];
	rn_scene_from_paper(p->scene, (left + right) / 2, (field_top + field_bottom) / 2 + 2, centre);
	rn_scene_open_group(p->scene, "free body");
	for (int i = 0; i < p->arrows.count; i++)
		draw_arrow(p, centre, i);
	rn_scene_circle(p->scene, RN_ROLE_PIN, centre, 1.4);
	rn_scene_close_group(p->scene);
	for (int i = 0; i < p->arrows.count; i++)
		letter_space(p, centre, i);
	text_at(p, RN_TEXT_STRONG, left, field_top - 2, "Free body: directions true, lengths not to scale");
	place_labels(p, left, right);
}

/* ---- the polygon -------------------------------------------------------------------------------------- */

/* The largest of 1, 2, 5 times a power of ten that is not longer. */
static double round_down(double most)
{
	double power = pow(10, floor(log10(most)));
	return most >= 5 * power ? 5 * power : most >= 2 * power ? 2 * power : power;
}

static double unit_of(const plot *p)
{
	return p->units == RN_US ? 4.4482216152605 : 1e3;
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
	void *grown = rn_pool_grow(&p->scene->pool, p->scene->tails, p->scene->tail_count, &p->scene->tail_room,
	                           sizeof *p->scene->tails);
	if (!grown)
		return;
	p->scene->tails = grown;
	p->scene->tails[p->scene->tail_count++] = (rn_tail){node, force, length};
}

static void draw_edges(plot *p, const double start[2])
{
	double at[2] = {start[0], start[1]}, k = p->scene->force_scale;
	for (int i = 0; i < p->arrows.count; i++) {
		const rn_arrow *a = &p->arrows.list[i];
		double size = hypot(a->x, a->y), end[2] = {at[0] + k * a->x, at[1] + k * a->y};
		double middle[2] = {(at[0] + end[0]) / 2, (at[1] + end[1]) / 2};
		if (k * size > 4)
			rn_symbols_arrow(p->scene, at, end);
		else
			rn_scene_segment(p->scene, RN_ROLE_FORCE, 0, at, end);
		record_edge(p, p->arrows.node, size, k * size);
		add_letter(p, i, true);
		add_label(p, 0, RN_TEXT_PLAIN, keep(p), at, 0, 0);
		rn_words_bare_force(&p->text, size, RN_NEAREST, p->units);
		add_label(p, 3, RN_TEXT_SMALL, keep(p), middle, -a->y / size, a->x / size);
		memcpy(at, end, sizeof at);
	}
}

static void draw_force_bar(plot *p, double left, double y)
{
	double force = round_down(30 / (p->scene->force_scale * unit_of(p)));
	double length = force * unit_of(p) * p->scene->force_scale;
	line_at(p, RN_ROLE_FORCE, left, y, left + length, y);
	line_at(p, RN_ROLE_FORCE, left, y - 1.2, left, y + 1.2);
	line_at(p, RN_ROLE_FORCE, left + length, y - 1.2, left + length, y + 1.2);
	rn_words_number(&p->text, force);
	rn_buffer_format(&p->text, " %s", rn_words_force_unit(p->units));
	text_at(p, RN_TEXT_SMALL, left + length + 2, y + 1, keep(p));
}

static void draw_polygon(plot *p)
{
	double left = sheet_width / 2 + 4, right = sheet_width - margin, extent[4], start[2];
	extent_of(p, extent);
	double width = fmax(extent[2] - extent[0], 1e-9), height = fmax(extent[3] - extent[1], 1e-9);
	double room = fmin((right - left - 44) / width, (field_bottom - field_top - 22) / height);
	p->scene->force_scale = round_down(room * unit_of(p)) / unit_of(p); /* 1, 2 or 5 mm for each kN or lbf, or tens of it */
	double k = p->scene->force_scale;
	rn_scene_from_paper(p->scene, (left + right) / 2 - k * (extent[0] + extent[2]) / 2,
	                    (field_top + field_bottom) / 2 - 3 + k * (extent[1] + extent[3]) / 2, start);
	rn_scene_open_group(p->scene, "force polygon");
	draw_edges(p, start);
	draw_force_bar(p, left, field_bottom + 4);
	rn_scene_close_group(p->scene);
	text_at(p, RN_TEXT_STRONG, left, field_top - 2, "Force polygon: to scale, it closes");
	place_labels(p, left, right);
}

/* ---- table, head, foot --------------------------------------------------------------------------------- */

static void add_angle(plot *p, const rn_arrow *a)
{
	double angle = atan2(a->y, a->x) * 180 / pi;
	rn_buffer_fixed(&p->text, angle < -0.05 ? angle + 360 : angle, 1);
	rn_buffer_text(&p->text, " deg");
}

static void write_table(plot *p)
{
	enum { ROWS = 10 };
	double column = (sheet_width - 2 * margin) / 2;
	for (int i = 0; i < p->arrows.count && i < 2 * ROWS; i++) {
		double x = margin + column * (i / ROWS), y = table_top + 5 * (i % ROWS);
		add_pair(p, i, false);
		text_at(p, RN_TEXT_SMALL_STRONG, x, y, keep(p));
		rn_arrows_words(&p->text, &p->arrows, i);
		text_at(p, RN_TEXT_SMALL, x + 12, y, keep(p));
		rn_words_bare_force(&p->text, hypot(p->arrows.list[i].x, p->arrows.list[i].y), RN_NEAREST, p->units);
		rn_buffer_format(&p->text, " %s", rn_words_force_unit(p->units));
		text_at(p, RN_TEXT_SMALL, x + 82, y, keep(p));
		add_angle(p, &p->arrows.list[i]);
		text_at(p, RN_TEXT_SMALL, x + 106, y, keep(p));
	}
}

static void write_head(plot *p)
{
	const rn_model *m = p->result->model;
	rn_words_plain(&p->text, m->title ? m->title : "Rigging");
	const char *title = keep(p);
	text_at(p, RN_TEXT_TITLE, margin, margin + 6, title);
	rn_buffer_text(&p->text, "Forces at ");
	rn_words_part(&p->text, m, rn_object_of(RN_NODE, p->arrows.node));
	rn_buffer_text(&p->text, ", case ");
	rn_words_object(&p->text, m, rn_object_of(RN_CASE, p->answer->case_index));
	if (rn_arrows_caught(&p->arrows))
		rn_buffer_text(&p->text, ", at the peak of the catch");
	const char *subject = keep(p);
	text_at(p, RN_TEXT_PLAIN, margin, margin + 13, subject);
	rn_verdict_sentence(&p->text, p->result, p->units);
	const char *verdict = keep(p);
	size_t fits = rn_lettering_fit(verdict, RN_TEXT_STRONG, sheet_width - 2 * margin);
	rn_buffer_add(&p->text, verdict, fits);
	text_at(p, p->result->verdict.over ? RN_TEXT_ALERT : RN_TEXT_STRONG, margin, margin + 19, keep(p));
	line_at(p, RN_ROLE_FRAME, margin, field_top - 7, sheet_width - margin, field_top - 7);
	rn_buffer_text(&p->text, title);
	rn_buffer_text(&p->text, ": ");
	rn_buffer_text(&p->text, subject);
	p->scene->title = keep(p);
}

static void describe(plot *p)
{
	for (int i = 0; i < p->arrows.count; i++) {
		rn_arrows_words(&p->text, &p->arrows, i);
		rn_buffer_text(&p->text, " pulls with ");
		rn_words_force(&p->text, hypot(p->arrows.list[i].x, p->arrows.list[i].y), RN_NEAREST, p->units);
		rn_buffer_text(&p->text, " at ");
		add_angle(p, &p->arrows.list[i]);
		rn_buffer_text(&p->text, ". ");
	}
	p->scene->description = keep(p);
}

/* How far from its beginning the polygon ends: rounding, or an open answer. */
static void write_closing(plot *p)
{
	double x = 0, y = 0;
	for (int i = 0; i < p->arrows.count; i++) {
		x += p->arrows.list[i].x;
		y += p->arrows.list[i].y;
	}
	rn_buffer_text(&p->text, "Read round the node clockwise, the pull between the spaces A and B is AB; in the polygon it runs "
	                         "from a to b. Closing error ");
	rn_words_force(&p->text, hypot(x, y), RN_UP, p->units);
	rn_buffer_char(&p->text, '.');
	text_at(p, RN_TEXT_SMALL, margin, foot_top, keep(p));
}

static void write_foot(plot *p, const rn_figure_options *options)
{
	write_closing(p);
	rn_buffer_text(&p->text, rn_words_caution(p->result->model, 0));
	text_at(p, RN_TEXT_SMALL, margin, foot_top + 5, keep(p));
	rn_buffer_text(&p->text, "funicle " RN_VERSION_TEXT);
	if (options->file) {
		rn_buffer_text(&p->text, ", model ");
		rn_words_plain(&p->text, options->file);
	}
	if (options->digest)
		rn_buffer_format(&p->text, ", SHA-256 %s", options->digest);
	text_at(p, RN_TEXT_SMALL, margin, foot_top + 10, keep(p));
}

/* ---- the whole ----------------------------------------------------------------------------------------- */

static void compose(plot *p, const rn_figure_options *options)
{
	p->scene->width = sheet_width;
	p->scene->height = sheet_height;
	p->scene->origin[1] = sheet_height; /* metres of this scene are millimetres of paper */
	rn_scene_open_group(p->scene, "sheet");
	write_head(p);
	write_table(p);
	write_foot(p, options);
	rn_scene_close_group(p->scene);
	describe(p);
	draw_free_body(p);
	draw_polygon(p);
}

static rn_status make(const rn_allocator *allocator, const rn_result *result, int case_index, int node,
                      const rn_figure_options *options, rn_scene *scene)
{
	const rn_model *m = result->model;
	const rn_case_result *answer = &result->cases[case_index];
	double *values = rn_pool_take(&scene->pool, (size_t)m->number_count + 1, sizeof *values);
	plot *p = rn_pool_take(&scene->pool, 1, sizeof *p);
	if (!values || !p)
		return RN_STATUS_MEMORY;
	rn_case_values(m, &m->cases[answer->case_index], values);
	*p = (plot){.scene = scene, .result = result, .answer = answer, .units = options->units,
	            .text = rn_buffer_make(allocator), .arrows = rn_arrows_at(m, answer, values, node)};
	rn_arrows_hold(&p->arrows);
	sort_clockwise(&p->arrows);
	if (p->arrows.count == 0)
		return RN_STATUS_ARGUMENT;
	compose(p, options);
	rn_buffer_release(&p->text);
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
	return make(allocator, result, case_index, node, options ? options : &plain, scene_out);
}
