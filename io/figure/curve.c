/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/curve.h"

#include <math.h>

#include "io/figure/field.h"
#include "io/report/finite.h"
#include "io/report/placed.h"
#include "io/report/varied.h"

/* The field, with room for names to its right [mm]. */
static const double field_left = 24, field_top = 52, field_right = 226, field_bottom = 176;

/* No more is drawn than so many times a limit: what is beyond is over anyhow, and would flatten the rest [-]. */
static const double most_drawn = 2.5;

/* Curves that are drawn besides those that are closest somewhere. */
enum { CURVES_MOST = 6 };

/* Hatching of a gap [mm]. */
static const double hatch_apart = 4;

typedef struct curve {
	rn_plate plate;
	rn_field field;
	const rn_varied *varied;
	const rn_placed *placed; /* NULL: nothing is placed */
	const rn_model *model;
	double (*points)[2]; /* room for one curve */
	int point_count;
	double before[2], seen[2]; /* the last point told and the last one drawn: value, share */
	bool has_before;
} curve;

static const char *keep(curve *c)
{
	return rn_plate_keep(&c->plate);
}

static double share_at(const rn_varied *v, int step, int part)
{
	return v->shares[step * v->part_count + part];
}

/* ---- which curves -------------------------------------------------------------------------------- */

static double most_of(const rn_varied *v, int part)
{
	double most = -1;
	for (int i = 0; i < v->counts[0]; i++)
		most = fmax(most, share_at(v, i, part));
	return most;
}

static bool is_closest(const rn_varied *v, int part)
{
	bool closest = false;
	for (int i = 0; i < v->counts[0]; i++)
		closest = closest || (rn_varied_kind(&v->tried[i]) >= RN_CHOICE_OVER && v->tried[i].part == part);
	for (int i = 0; i < v->turn_count; i++)
		closest = closest || v->turns[i].above.part == part;
	return closest;
}

/* Those that are closest somewhere, the one asked about, and of the others those that come closest. */
static bool is_drawn(const rn_varied *v, int part)
{
	int closer = 0;
	double most = most_of(v, part);
	for (int p = 0; p < v->part_count; p++)
		closer += most_of(v, p) > most || (p < part && most_of(v, p) == most);
	return most > 0 && (is_closest(v, part) || part == v->part || closer < CURVES_MOST);
}

/* ---- lines of the field --------------------------------------------------------------------------- */

static void add_seen(curve *c, double value, double share)
{
	rn_scene_from_paper(c->plate.scene, rn_field_x(&c->field, value), rn_field_y(&c->field, share), c->points[c->point_count++]);
	c->seen[0] = value;
	c->seen[1] = share;
}

static void break_line(curve *c, rn_role role)
{
	if (c->point_count > 1)
		rn_scene_line(c->plate.scene, role, 0, (const double(*)[2])c->points, c->point_count);
	c->point_count = 0;
}

static void end_line(curve *c, rn_role role)
{
	break_line(c, role);
	c->has_before = false;
}

/* What is above the head of the field is cut off there. */
static void add_point(curve *c, rn_role role, double value, double share)
{
	double head = c->field.up[1];
	bool out = share > head, was_out = c->has_before && c->before[1] > head;
	if (c->has_before && out != was_out) {
		double part = (head - c->before[1]) / (share - c->before[1]);
		add_seen(c, c->before[0] + part * (value - c->before[0]), head);
	}
	if (out)
		break_line(c, role);
	else
		add_seen(c, value, share);
	c->before[0] = value;
	c->before[1] = share;
	c->has_before = true;
}

static rn_role role_of(const curve *c, int part)
{
	switch (c->varied->result->cases[0].parts[part].object.kind) {
	case RN_LINE: return RN_ROLE_CURVE_ROPE;
	case RN_SLING: return RN_ROLE_CURVE_SLING;
	case RN_STEM: return RN_ROLE_CURVE_STEM;
	default: return RN_ROLE_CURVE_OTHER;
	}
}

static void add_share(curve *c, int part, double value, double share)
{
	if (share < 0)
		end_line(c, role_of(c, part));
	else
		add_point(c, role_of(c, part), value, share);
}

/* From step to step, by way of what was closed in on between them. */
static void draw_part(curve *c, int part)
{
	const rn_varied *v = c->varied;
	int t = 0;
	c->seen[0] = v->of[0].to; /* of a curve that is cut off all along */
	c->seen[1] = c->field.up[1];
	for (int i = 0; i < v->counts[0]; i++) {
		for (; t < v->turn_count && v->turns[t].value < v->tried[i].value[0]; t++)
			for (int side = 0; side < 2; side++)
				add_share(c, part, v->turns[t].value, v->turn_shares[(2 * t + side) * v->part_count + part]);
		add_share(c, part, v->tried[i].value[0], share_at(v, i, part));
	}
	end_line(c, role_of(c, part));
}

/* The closest part has a band behind it, where it is over its limit another. */
static void add_worst(curve *c, const rn_tried *t, double value, bool over)
{
	bool wanted = rn_varied_kind(t) >= RN_CHOICE_OVER && t->utilisation >= (over ? 1 - 1e-6 : 0);
	rn_role role = over ? RN_ROLE_CURVE_OVER : RN_ROLE_CURVE_BAND;
	if (wanted)
		add_point(c, role, value, t->utilisation);
	else
		end_line(c, role);
}

static void draw_worst(curve *c, bool over)
{
	const rn_varied *v = c->varied;
	int t = 0;
	for (int i = 0; i < v->counts[0]; i++) {
		for (; t < v->turn_count && v->turns[t].value < v->tried[i].value[0]; t++) {
			add_worst(c, &v->turns[t].below, v->turns[t].value, over);
			/* what leaps because a part is not looked at any more is no curve */
			if (v->turns[t].below.unchecked_count != v->turns[t].above.unchecked_count)
				end_line(c, over ? RN_ROLE_CURVE_OVER : RN_ROLE_CURVE_BAND);
			add_worst(c, &v->turns[t].above, v->turns[t].value, over);
		}
		add_worst(c, &v->tried[i], v->tried[i].value[0], over);
	}
	end_line(c, over ? RN_ROLE_CURVE_OVER : RN_ROLE_CURVE_BAND);
}

/* ---- names --------------------------------------------------------------------------------------- */

static void label(curve *c, int rank, rn_hand_of_text hand, double value, double share, double toward_x, double toward_y)
{
	double at[2];
	rn_scene_from_paper(c->plate.scene, rn_field_x(&c->field, value), rn_field_y(&c->field, fmin(share, c->field.up[1])), at);
	rn_plate_label(&c->plate, rank, hand, keep(c), at, toward_x, toward_y);
}

/* The last share of a part that there is, at the right end or where answers end. */
static double last_share(const rn_varied *v, int part)
{
	int last = v->counts[0] - 1;
	while (last > 0 && share_at(v, last, part) < 0)
		last--;
	double share = share_at(v, last, part);
	for (int t = 0; t < v->turn_count; t++)
		if (v->turns[t].value > v->tried[last].value[0] && v->turn_shares[2 * t * v->part_count + part] >= 0)
			share = v->turn_shares[2 * t * v->part_count + part];
	return share;
}

/* Where its curve was last seen. */
static void name_part(curve *c, int part)
{
	double share = last_share(c->varied, part);
	rn_varied_part(&c->plate.text, c->varied, part);
	rn_buffer_char(&c->plate.text, ' ');
	rn_words_percent(&c->plate.text, share);
	rn_buffer_text(&c->plate.text, share > 1 ? " OVER" : "");
	label(c, 0, is_closest(c->varied, part) ? RN_TEXT_SMALL_STRONG : RN_TEXT_SMALL, c->seen[0], c->seen[1], 1, 0);
}

static const char *turn_words(rn_turn_kind kind)
{
	switch (kind) {
	case RN_TURN_OVER: return "over from ";
	case RN_TURN_UNDER: return "over up to ";
	default: return "";
	}
}

static void mark_turn(curve *c, const rn_turn *turn)
{
	double at[2], share = turn->kind == RN_TURN_LOST ? turn->below.utilisation : turn->above.utilisation;
	rn_scale scale = rn_varied_scale(c->varied, 0, c->plate.units);
	if (turn->kind == RN_TURN_LOST || turn->kind == RN_TURN_FOUND || turn->above.part == RN_NONE || turn->below.part == RN_NONE)
		return;
	rn_scene_from_paper(c->plate.scene, rn_field_x(&c->field, turn->value), rn_field_y(&c->field, fmin(share, c->field.up[1])), at);
	rn_scene_circle(c->plate.scene, RN_ROLE_PIN, at, 0.7);
	rn_buffer_text(&c->plate.text, turn_words(turn->kind));
	if (turn->kind == RN_TURN_GOVERNS) {
		rn_varied_part(&c->plate.text, c->varied, turn->above.part);
		rn_buffer_text(&c->plate.text, " from ");
	}
	rn_scale_value(&c->plate.text, &scale, turn->value, 1);
	label(c, 1, RN_TEXT_SMALL, turn->value, share, 0, 1);
}

static void mark_best(curve *c)
{
	const rn_tried *t = c->placed ? &c->placed->best : &c->varied->least;
	rn_scale scale = rn_varied_scale(c->varied, 0, c->plate.units);
	bool there = c->placed ? c->placed->found : c->varied->has_least && !rn_varied_is_level(c->varied);
	if (!there || t->part == RN_NONE)
		return;
	double at[2];
	rn_scene_from_paper(c->plate.scene, rn_field_x(&c->field, t->value[0]), rn_field_y(&c->field, fmin(t->utilisation, c->field.up[1])), at);
	rn_scene_circle(c->plate.scene, RN_ROLE_CLOSEST, at, 1.8);
	rn_buffer_text(&c->plate.text, c->placed ? "best, " : "least, ");
	rn_scale_value(&c->plate.text, &scale, t->value[0], 1);
	rn_buffer_text(&c->plate.text, ": ");
	rn_words_percent(&c->plate.text, t->utilisation);
	label(c, 0, RN_TEXT_SMALL_STRONG, t->value[0], t->utilisation, 0, -1);
}

static void mark_drawn(curve *c)
{
	double value = c->varied->drawn.value[0];
	rn_scale scale = rn_varied_scale(c->varied, 0, c->plate.units);
	if (value < c->field.across[0] || value > c->field.across[1])
		return;
	double x = rn_field_x(&c->field, value);
	rn_plate_line(&c->plate, RN_ROLE_GHOST, x, c->field.top, x, c->field.bottom);
	rn_buffer_text(&c->plate.text, "as drawn ");
	rn_scale_value(&c->plate.text, &scale, value, 0);
	const char *text = keep(c);
	rn_plate_text(&c->plate, RN_TEXT_SMALL, x - rn_lettering_width(text, RN_TEXT_SMALL) / 2, c->field.top - 1.5, text);
}

/* ---- gaps ---------------------------------------------------------------------------------------- */

static const char *gap_words(const rn_tried *t)
{
	switch (t->stand) {
	case RN_STAND_NO_EQUILIBRIUM: return "nothing holds";
	case RN_STAND_NOT_FOUND: return "not found";
	case RN_STAND_FALLS: return "falls first";
	case RN_STAND_CANNOT_BE: return "cannot be";
	default: return "";
	}
}

/* Lines from the foot up to the right, cut at the sides. */
static void hatch(curve *c, double left, double right)
{
	double high = c->field.bottom - c->field.top;
	int count = (int)ceil((right - left + high) / hatch_apart);
	for (int i = 0; i < count; i++) {
		double x = left - high + i * hatch_apart, from = fmax(x, left), to = fmin(x + high, right);
		if (to > from)
			rn_plate_line(&c->plate, RN_ROLE_RULE, from, c->field.bottom - (from - x), to, c->field.bottom - (to - x));
	}
}

static void draw_gap(curve *c, double from, double to, const rn_tried *in)
{
	double left = rn_field_x(&c->field, from), right = rn_field_x(&c->field, to), at[2];
	hatch(c, left, right);
	rn_plate_line(&c->plate, RN_ROLE_GHOST, left, c->field.top, left, c->field.bottom);
	rn_plate_line(&c->plate, RN_ROLE_GHOST, right, c->field.top, right, c->field.bottom);
	rn_buffer_format(&c->plate.text, "no answer: %s", gap_words(in));
	rn_scene_from_paper(c->plate.scene, (left + right) / 2, c->field.top + 8, at);
	rn_plate_label(&c->plate, 0, RN_TEXT_SMALL_STRONG, keep(c), at, 0, 0);
}

/* A gap begins where answers end, or with the first step, and goes on to where there is one again. */
static void draw_gaps(curve *c)
{
	const rn_varied *v = c->varied;
	double from = v->of[0].from;
	const rn_tried *in = rn_varied_kind(&v->tried[0]) == RN_CHOICE_LOST ? &v->tried[0] : NULL;
	for (int i = 0; i < v->turn_count; i++) {
		if (v->turns[i].kind == RN_TURN_LOST) {
			in = &v->turns[i].above;
			from = v->turns[i].value;
		} else if (v->turns[i].kind == RN_TURN_FOUND && in) {
			draw_gap(c, from, v->turns[i].value, in);
			in = NULL;
		}
	}
	if (in)
		draw_gap(c, from, v->of[0].to, in);
}

/* ---- the sheet ------------------------------------------------------------------------------------- */

static void draw_limit(curve *c)
{
	double y = rn_field_y(&c->field, 1);
	rn_plate_line(&c->plate, RN_ROLE_LIMIT, c->field.left, y, c->field.right, y);
	rn_buffer_text(&c->plate.text, "the limit");
	label(c, 0, RN_TEXT_SMALL_STRONG, c->field.across[1], 1, 1, 0);
}

static double top_of(const rn_varied *v)
{
	double most = 1.1;
	for (int i = 0; i < v->counts[0]; i++)
		if (rn_varied_kind(&v->tried[i]) >= RN_CHOICE_OVER)
			most = fmax(most, 1.06 * v->tried[i].utilisation);
	return fmin(most, most_drawn);
}

static void draw_field(curve *c)
{
	static const rn_scale percent = {0.01, "%", 0};
	rn_scale scale = rn_varied_scale(c->varied, 0, c->plate.units);
	rn_varied_name(&c->plate.text, c->varied, 0);
	const char *name = keep(c);
	rn_scene_open_group(c->plate.scene, "field");
	rn_field_frame(&c->field);
	rn_field_scale_across(&c->field, &scale, name);
	rn_field_scale_up(&c->field, &percent, "of its limit, in the worst case");
	rn_scene_close_group(c->plate.scene);
}

static void draw_curves(curve *c)
{
	const rn_varied *v = c->varied;
	rn_scene_open_group(c->plate.scene, "gaps");
	draw_gaps(c);
	rn_scene_close_group(c->plate.scene);
	rn_scene_open_group(c->plate.scene, "closest");
	draw_worst(c, false);
	draw_worst(c, true);
	rn_scene_close_group(c->plate.scene);
	rn_scene_open_group(c->plate.scene, "limit");
	draw_limit(c);
	rn_scene_close_group(c->plate.scene);
	for (int p = 0; p < v->part_count; p++) {
		if (!is_drawn(v, p))
			continue;
		rn_varied_part(&c->plate.text, v, p);
		rn_scene_open_group(c->plate.scene, keep(c));
		draw_part(c, p);
		rn_scene_close_group(c->plate.scene);
		name_part(c, p);
	}
	rn_scene_open_group(c->plate.scene, "marks");
	mark_drawn(c);
	for (int i = 0; i < v->turn_count; i++)
		mark_turn(c, &v->turns[i]);
	mark_best(c);
	rn_scene_close_group(c->plate.scene);
	rn_plate_place_labels(&c->plate, (double[4]){c->field.left, c->field.top - 1, rn_plate_width - rn_plate_margin, c->field.bottom});
}

static bool any_over(const rn_varied *v)
{
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++)
		if (rn_varied_kind(&v->tried[i]) == RN_CHOICE_OVER)
			return true;
	return false;
}

static void write_head(curve *c)
{
	const rn_tried *best = c->placed ? &c->placed->best : &c->varied->least;
	bool there = c->placed ? c->placed->found : c->varied->has_least && !rn_varied_is_level(c->varied);
	rn_buffer_text(&c->plate.text, c->placed ? "The best place: " : "Varied: ");
	rn_varied_range(&c->plate.text, c->varied, 0, c->plate.units);
	if (c->placed) {
		rn_buffer_text(&c->plate.text, ", made least is the ");
		rn_placed_goal(&c->plate.text, c->placed);
	}
	const char *subject = keep(c);
	if (there) {
		rn_buffer_text(&c->plate.text, c->placed ? "Best: " : "Least: ");
		rn_varied_closest(&c->plate.text, c->varied, best, c->plate.units);
		rn_buffer_text(&c->plate.text, ", with ");
		rn_varied_place(&c->plate.text, c->varied, best->value, 1, c->plate.units);
		rn_buffer_text(&c->plate.text, ". As drawn: ");
	} else {
		rn_buffer_text(&c->plate.text, "As drawn: ");
	}
	rn_varied_closest(&c->plate.text, c->varied, &c->varied->drawn, c->plate.units);
	rn_buffer_char(&c->plate.text, '.');
	const char *verdict = keep(c);
	rn_plate_title(&c->plate, subject, verdict, any_over(c->varied));
	c->plate.scene->description = verdict;
}

static void write_words(curve *c)
{
	rn_buffer_text(&c->plate.text, "Grey band: the closest part; thick: over its limit. Names: at the right end of each.");
	for (int i = 0; i < c->varied->counts[0]; i++)
		if (c->varied->tried[i].unchecked_count > 0) {
			rn_buffer_text(&c->plate.text, " Some loaded parts are not checked, and in no curve.");
			break;
		}
	if (top_of(c->varied) >= most_drawn)
		rn_buffer_text(&c->plate.text, " Cut off at 250 %.");
	rn_plate_text(&c->plate, RN_TEXT_SMALL, c->field.left, c->field.bottom + 10.5, keep(c));
}

static void compose(curve *c, const rn_figure_options *options)
{
	rn_scene_open_group(c->plate.scene, "sheet");
	write_head(c);
	write_words(c);
	rn_plate_foot(&c->plate, options);
	rn_scene_close_group(c->plate.scene);
	draw_field(c);
	draw_curves(c);
}

static rn_status make(rn_scene *scene, const rn_varied *v, const rn_placed *placed, const rn_figure_options *options)
{
	curve *c = rn_pool_take(&scene->pool, 1, sizeof *c);
	if (!c)
		return RN_STATUS_MEMORY;
	*c = (curve){.varied = v, .placed = placed, .model = v->model};
	c->points = rn_pool_take(&scene->pool, 2 * ((size_t)v->counts[0] + 2 * (size_t)v->turn_count) + 2, sizeof *c->points);
	c->field = (rn_field){.plate = &c->plate, .left = field_left, .top = field_top, .right = field_right, .bottom = field_bottom,
	                      .across = {v->of[0].from, v->of[0].to}, .up = {0, top_of(v)}};
	if (c->points) {
		rn_plate_begin(&c->plate, scene, v->result, 0, options);
		compose(c, options);
		rn_plate_end(&c->plate);
	}
	return rn_scene_status(scene);
}

rn_status rn_curve_scene(const rn_allocator *allocator, const rn_varied *varied, const rn_placed *placed,
                         const rn_figure_options *options, rn_scene *scene_out)
{
	static const rn_figure_options plain = {.units = RN_METRIC};
	*scene_out = rn_scene_make(allocator);
	if (varied->of_count != 1 || varied->result->case_count == 0)
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_finite_check(varied->result));
	return make(scene_out, varied, placed, options ? options : &plain);
}
