/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A piece that falls and is caught: against its motion integrated in time, against closed forms, by where its
 * work goes on random riggings, by what may not change it and by which way it changes.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>

#include "tests/build.h"
#include "tests/support.h"

static const double pi = 3.14159265358979323846;

/* ---- riggings ---------------------------------------------------------------------------------- */

/* A network with one piece in it that falls; loads of nodes are weights. The first line is the one that
 * catches it, `further` is behind its end that is not at the piece. */
typedef struct rigging {
	net_data net;
	int piece;
	double drop, further, below;
	double hand; /* where the first line is held [N]; 0: it is locked */
	bool guided;
} rigging;

/* One rigging and its answer. */
typedef struct solved {
	rn_model *model;
	rn_result *result;
	const rn_case_result *at;
	rn_caught caught;
} solved;

static void add_nodes(rn_model *m, const net_data *n)
{
	for (int i = 0; i < n->node_count; i++) {
		char id[16];
		const net_node *node = &n->nodes[i];
		snprintf(id, sizeof id, "n%d", i);
		build_node(m, id, node->kind, node->place[0], node->place[1], -node->load[1]);
		if (node->kind == RN_NODE_BOLLARD)
			build_number(m, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_TURNS, 2);
	}
}

/* Stiffness 0: nobody knows it. */
static void add_line(rn_model *m, const net_line *line, int index)
{
	char id[16];
	snprintf(id, sizeof id, "l%d", index);
	rn_line d = {.id = id, .gear = RN_NONE};
	rn_object object = rn_object_of(RN_LINE, index);
	assert_int_equal(rn_model_add_line(m, &d, NULL), RN_OK);
	if (line->stiffness > 0)
		build_number(m, object, RN_ATTRIBUTE_STIFFNESS, line->stiffness);
	if (line->slack > 0)
		build_number(m, object, RN_ATTRIBUTE_SLACK, line->slack);
	for (int i = 0; i < line->station_count; i++) {
		const net_station *s = &line->stations[i];
		int station = build_station(m, s->kind, s->node, s->tread, s->side);
		if (s->kind == RN_TIE)
			continue;
		build_number(m, rn_object_of(RN_STATION, station), RN_ATTRIBUTE_FRICTION, s->friction);
	}
}

static void add_fall(rn_model *m, const rigging *r)
{
	rn_case c = {.id = "only", .level = r->net.friction ? RN_FRICTION_NOMINAL : RN_FRICTION_NONE};
	rn_fall fall = {.piece = rn_object_of(RN_NODE, r->piece), .line = RN_NONE, .guided = r->guided};
	rn_object object = rn_object_of(RN_FALL, 0);
	assert_int_equal(rn_model_add_case(m, &c, NULL), RN_OK);
	assert_int_equal(rn_model_add_fall(m, &fall, NULL), RN_OK);
	build_number(m, object, RN_ATTRIBUTE_DROP, r->drop);
	build_number(m, object, RN_ATTRIBUTE_BELOW, r->below);
	if (r->hand > 0)
		build_number(m, object, RN_ATTRIBUTE_HAND, r->hand);
}

static rn_model *empty_model(void)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	m->made_cases = false;
	return m;
}

/* The station of the first line away from the piece. */
static int far_end(const rigging *r)
{
	const net_line *line = &r->net.lines[0];
	return line->stations[0].node == r->piece ? line->station_count - 1 : 0;
}

/* Not checked yet, so that numbers can be added. */
static rn_model *model_of(const rigging *r)
{
	rn_model *m = empty_model();
	add_nodes(m, &r->net);
	for (int i = 0; i < r->net.sling_count; i++) {
		const net_sling *s = &r->net.slings[i];
		char id[16];
		snprintf(id, sizeof id, "s%d", i);
		build_sling(m, id, s->from, s->to, s->stiffness, s->reach);
	}
	for (int i = 0; i < r->net.line_count; i++)
		add_line(m, &r->net.lines[i], i);
	add_fall(m, r);
	build_number(m, rn_object_of(RN_STATION, far_end(r)), RN_ATTRIBUTE_FURTHER, r->further);
	return m;
}

static rn_model *checked(rn_model *m)
{
	assert_int_equal(rn_model_check(m), RN_OK);
	return m;
}

/* Stiffness is given, and of a fall no other side of a bend is looked at. */
static rn_options plain_options(void)
{
	rn_options options = rn_options_default();
	options.stretch_check = options.side_check = false;
	return options;
}

static solved solve_model(rn_model *m)
{
	rn_options options = plain_options();
	solved a = {.model = checked(m)};
	assert_int_equal(rn_solve(m, &options, &a.result), RN_OK);
	a.at = &a.result->cases[0];
	a.caught = a.at->caught;
	return a;
}

static solved solve(const rigging *r)
{
	return solve_model(model_of(r));
}

static void end(solved *a)
{
	rn_result_destroy(a->result);
	rn_model_destroy(a->model);
}

static bool notes(const rn_case_result *answer, rn_note_kind kind)
{
	for (int i = 0; i < answer->notes.count; i++)
		if (answer->notes.items[i].kind == kind)
			return true;
	return false;
}

/* What was given, less where it went, as a part of it: by the numbers that are told. */
static double unaccounted(const rn_caught *c)
{
	double went = c->in_ropes + c->in_stems + c->in_bodies + c->raised + c->in_hands + c->in_friction;
	return (c->given + c->jumped - went) / c->given;
}

/* The answer of a rigging in which nothing snaps over. */
static solved caught_by(rn_model *m)
{
	solved a = solve_model(m);
	assert_int_equal(a.at->outcome, RN_OUTCOME_SETTLED);
	assert_int_equal(a.caught.fall, 0);
	assert_true(a.at->balance.closed);
	rn_assert_near(a.caught.left_over, 0, 0, 1e-8);
	rn_assert_near(unaccounted(&a.caught), 0, 0, 1e-8);
	return a;
}

static void check_refused(rn_model *m, rn_outcome outcome, rn_note_kind why)
{
	solved a = solve_model(m);
	assert_int_equal(a.at->outcome, outcome);
	assert_true(notes(a.at, why));
	end(&a);
}

static solved caught_in(const rigging *r)
{
	return caught_by(model_of(r));
}

static double weight_of(const rigging *r)
{
	return -r->net.nodes[r->piece].load[1];
}

/* A piece under an anchor, on so much rope. */
static rigging straight(double weight, double length, double stiffness, double drop)
{
	rigging r = {.drop = drop};
	int top = net_add_node(&r.net, RN_NODE_ANCHOR, 2.3, 9.1, 0);
	r.piece = net_add_node(&r.net, RN_NODE_PIECE, 2.3, 9.1 - length, weight);
	net_line *line = net_add_line(&r.net, stiffness, false);
	net_add_station(line, RN_TIE, r.piece, 0);
	net_add_station(line, RN_TIE, top, 0);
	return r;
}

/* A piece in the middle between two anchors at its height, each line with so much slack. */
static rigging level(double weight, double half, double stiffness, double drop, double slack)
{
	rigging r = {.drop = drop};
	int anchors[2] = {net_add_node(&r.net, RN_NODE_ANCHOR, 1.7 - half, 8.4, 0),
	                  net_add_node(&r.net, RN_NODE_ANCHOR, 1.7 + half, 8.4, 0)};
	r.piece = net_add_node(&r.net, RN_NODE_PIECE, 1.7, 8.4, weight);
	for (int i = 0; i < 2; i++) {
		net_line *line = net_add_line(&r.net, stiffness, false);
		line->slack = slack;
		net_add_station(line, RN_TIE, r.piece, 0);
		net_add_station(line, RN_TIE, anchors[i], 0);
	}
	return r;
}

/* From a piece, so far to the side, over a point to an anchor beside or right under it. */
static rigging over_a_point(double weight, double side, double lead, double behind, double lean,
                            double stiffness)
{
	rigging r = {.net.friction = true};
	double x = 2.3, y = 19.1, below = sqrt(lead * lead - side * side);
	int block = net_add_node(&r.net, RN_NODE_ANCHOR, x, y, 0);
	int anchor = net_add_node(&r.net, RN_NODE_ANCHOR, x + behind * sin(lean), y - behind * cos(lean), 0);
	r.piece = net_add_node(&r.net, RN_NODE_PIECE, x - side, y - below, weight);
	net_line *line = net_add_line(&r.net, stiffness, false);
	net_add_station(line, RN_TIE, r.piece, 0);
	net_add_station(line, RN_THROUGH, block, 0)->side = -1;
	net_add_station(line, RN_TIE, anchor, 0);
	return r;
}

/* The first line is held at its far end instead of tied. */
static void hold(rigging *r, rn_node_kind kind, double hand)
{
	net_station *s = &r->net.lines[0].stations[far_end(r)];
	s->kind = RN_HOLD;
	s->friction = 0.2;
	r->net.nodes[s->node].kind = kind;
	r->hand = hand;
}

/* ---- motion in time -------------------------------------------------------------------------------- */

/* A rope from the piece to a point, with so much of it behind the point, over which it slides freely. */
typedef struct strand {
	double point[2], behind, length0, stiffness;
} strand;

/* A mass on massless ropes. State: x, y and their rates. */
typedef struct swing {
	strand strands[2];
	int strand_count;
	double weight, gravity, start[2];
} swing;

static double pull_of(const strand *s, const double place[2], double pull_out[2])
{
	double way[2] = {s->point[0] - place[0], s->point[1] - place[1]}, far = hypot(way[0], way[1]);
	double tension = fmax(0, s->stiffness * ((far + s->behind) / s->length0 - 1));
	for (int k = 0; k < 2; k++)
		pull_out[k] = tension > 0 ? tension * way[k] / far : 0;
	return tension;
}

static int move(double t, const double state[], double rate[], void *context)
{
	const swing *s = context;
	(void)t;
	rate[0] = state[2];
	rate[1] = state[3];
	rate[2] = 0;
	rate[3] = -s->gravity;
	for (int i = 0; i < s->strand_count; i++) {
		double pull[2];
		pull_of(&s->strands[i], state, pull);
		rate[2] += pull[0] * s->gravity / s->weight;
		rate[3] += pull[1] * s->gravity / s->weight;
	}
	return GSL_SUCCESS;
}

static double tension_in(const swing *s, const double place[2])
{
	double most = 0, unused[2];
	for (int i = 0; i < s->strand_count; i++)
		most = fmax(most, pull_of(&s->strands[i], place, unused));
	return most;
}

/* What the motion comes to: the largest tension and the lowest place until the piece first rises, and
 * ever [N], [m]. */
typedef struct moved {
	double tension, lowest, tension_ever, lowest_ever;
} moved;

/* The frequency of the stiffest thing that can swing [1/s]. */
static double frequency(const swing *s)
{
	double stiffness = 0;
	for (int i = 0; i < s->strand_count; i++)
		stiffness += s->strands[i].stiffness / s->strands[i].length0;
	return sqrt(stiffness * s->gravity / s->weight);
}

static void keep(moved *m, const swing *s, const double state[4], bool rises)
{
	double tension = tension_in(s, state);
	m->tension = rises ? m->tension : fmax(m->tension, tension);
	m->lowest = rises ? m->lowest : fmin(m->lowest, state[1]);
	m->tension_ever = fmax(m->tension_ever, tension);
	m->lowest_ever = fmin(m->lowest_ever, state[1]);
}

/* Until the piece first rises, and for so long at least. Looked at every fiftieth of a radian of the
 * frequency: tension goes as its cosine there, so the largest that is seen is the largest there is to
 * (0.01)^2 / 2. */
static moved move_on(swing *s, double time)
{
	double step = 0.02 / frequency(s), t = 0, state[4] = {s->start[0], s->start[1], 0, 0};
	moved m = {.lowest = s->start[1], .lowest_ever = s->start[1]};
	gsl_odeiv2_system system = {move, NULL, 4, s};
	gsl_odeiv2_driver *driver =
		gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, step, 1e-10, 1e-10);
	assert_non_null(driver);
	for (bool rises = false; !rises || t < time;) {
		assert_int_equal(gsl_odeiv2_driver_apply(driver, &t, t + step, state), GSL_SUCCESS);
		keep(&m, s, state, rises);
		rises = rises || state[3] > 0;
	}
	gsl_odeiv2_driver_free(driver);
	return m;
}

/* The piece of a rigging as a mass: each line goes from it over one point, or to one. */
static swing swing_of(const rigging *r)
{
	const net_node *nodes = r->net.nodes;
	const double *from = nodes[r->piece].place;
	swing s = {.strand_count = r->net.line_count, .weight = weight_of(r), .gravity = 9.81,
	           .start = {from[0], from[1] + r->drop}};
	for (int i = 0; i < s.strand_count; i++) {
		const net_line *line = &r->net.lines[i];
		const double *point = nodes[line->stations[1].node].place;
		double behind = 0;
		if (line->station_count == 3) {
			const double *last = nodes[line->stations[2].node].place;
			behind = hypot(last[0] - point[0], last[1] - point[1]);
		}
		double length0 = hypot(point[0] - from[0], point[1] - from[1]) + behind + line->slack;
		s.strands[i] = (strand){{point[0], point[1]}, behind, length0, line->stiffness};
	}
	return s;
}

/* What has no way to move but up and down stops where its work does: the motion and the answer are one. */
static void check_as_it_moves(const rigging *r)
{
	swing s = swing_of(r);
	moved m = move_on(&s, 0);
	solved a = caught_in(r);
	rn_assert_near(net_tension(a.at, RN_LINE, 0, 0), m.tension, 1e-3, 0);
	rn_assert_near(a.caught.height, m.lowest, 0, 1e-3 * a.caught.travel);
	end(&a);
}

/* Measured: alike to 4e-5, which is what the looking leaves. */
static void test_straight_as_it_moves(void **state)
{
	(void)state;
	static const double rows[][4] = {
		{784.8, 2.6, 2e4, 0},         {784.8, 2.6, 2e4, 4.6}, {784.8, 2.6, 24081.372, 4.6},
		{1962, 5.3, 1.1e5, 0.5},      {1962, 12, 2e5, 2},     {11.3e3, 4.7, 2e6, 0},
		{11.3e3, 4.7, 2e6, 0.5},      {11.3e3, 4.7, 2e6, 4.6}, {238.5, 7.1, 2e6, 4.6},
		{9.3e3, 7.1, 4.1e5, 2},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rigging r = straight(rows[i][0], rows[i][1], rows[i][2], rows[i][3]);
		check_as_it_moves(&r);
	}
}

/* Weight, half the span, EA and drop; where it drops both lines are so long that they are slack there. */
static void test_level_as_it_moves(void **state)
{
	(void)state;
	static const double rows[][4] = {
		{784.8, 2.6, 2e4, 0}, {784.8, 2.6, 2e4, 1.3}, {1962, 5.3, 1.1e5, 0.5},
		{1962, 4.1, 2e6, 0},  {3.3e3, 4.1, 2e6, 0.5}, {412, 3.7, 3e5, 2},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double half = rows[i][1], drop = rows[i][3];
		rigging r = level(rows[i][0], half, rows[i][2], drop, 1.01 * (hypot(half, drop) - half));
		check_as_it_moves(&r);
	}
}

/* Weight, rope on both sides of the point, EA and drop: one spring, whose parts exchange rope. */
static void test_over_a_point_as_it_moves(void **state)
{
	(void)state;
	static const double rows[][5] = {
		{784.8, 2.6, 5.3, 2e4, 0}, {784.8, 2.6, 5.3, 2e4, 2}, {1962, 1, 11, 2e5, 2},
		{1962, 7.3, 2, 2e6, 4.6},  {6.1e3, 3, 12, 6e5, 0.5},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rigging r = over_a_point(rows[i][0], 0, rows[i][1], rows[i][2], 0.64, rows[i][3]);
		r.drop = rows[i][4];
		check_as_it_moves(&r);
	}
}

/* A piece to the side of its block swings, and that the answer leaves out: it lets the piece go sideways
 * as slowly as it is lowered, to right under its block. What holds of the true motion: on one rope without
 * friction, slack at first,
 *
 *     U + K = W (y_r - y),   U >= U_min(y)
 *
 * at all times, where U_min is stored with the piece right under the block. The answer stops at y* where
 * first U_min = W (y_r - y*), so nothing moves below y*, and no tension, sqrt(2 U EA/L0), is ever above its
 * own. Measured in the rows below: the answer is 1.016 to 1.90 times what the rope has while the piece comes
 * down, and 1.016 to 1.47 times what it has in five seconds; the more, the further to the side and the less
 * the drop. */
static void test_a_swing_stays_below(void **state)
{
	(void)state;
	static const double rows[][6] = { /* weight, side, rope before and behind the block, EA, drop */
		{784.8, 1, 2.6, 5.3, 2e4, 0}, {784.8, 1, 2.6, 5.3, 2e4, 2},   {1962, 1, 6, 11, 2e5, 2},
		{1962, 1, 7.3, 2, 2e6, 4.6},  {784.8, 2.5, 2.6, 5.3, 2e4, 0}, {784.8, 2.5, 2.6, 5.3, 2e4, 1},
		{1962, 2.5, 6, 11, 2e5, 2},   {1962, 2.5, 7.3, 2, 2e6, 0.5},  {1962, 2.5, 7.3, 2, 2e6, 4.6},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const double *row = rows[i], length0 = row[2] + row[3];
		rigging r = over_a_point(row[0], row[1], row[2], row[3], 0.64, row[4]);
		r.drop = row[5];
		swing s = swing_of(&r);
		moved m = move_on(&s, 5);
		solved a = caught_in(&r);
		double tension = net_tension(a.at, RN_LINE, 0, 0);
		assert_true(m.tension_ever <= tension * (1 + 1e-9));
		assert_true(m.lowest_ever >= a.caught.height - 1e-9 * a.caught.travel);
		assert_true(m.tension < 0.99 * tension);
		rn_assert_near(a.caught.across, row[1], 1e-9, 0);
		rn_assert_near(tension * tension * length0 / (2 * row[4]), row[0] * a.caught.travel, 1e-9, 0);
		end(&a);
	}
}

/* ---- closed forms ------------------------------------------------------------------------------------ */

/* The path goes from where the piece is let go to its peak, and the line begins to hold where it is taut, as
 * far as a twentieth of the weight tells. */
static void check_path(const solved *a, double taut, double stretch)
{
	const rn_caught *c = &a->caught;
	assert_true(c->path_count > 2);
	rn_assert_near(c->path[0][1], c->released, 0, 0);
	rn_assert_near(c->path[c->path_count - 1][1], c->height, 0, 0);
	for (int i = 1; i < c->path_count; i++)
		assert_true(c->path[i][1] <= c->path[i - 1][1] + 1e-12);
	assert_true(c->begins <= taut + 1e-9 && c->begins >= taut - stretch / 20);
}

/* W + sqrt(W^2 + 2 W h EA/L), which with h = 0 is 2 W whatever the rope. */
static void test_straight_by_its_energy(void **state)
{
	(void)state;
	static const double rows[][4] = {{1234.5, 5.7, 3e5, 0}, {87.3, 0.6, 2.2e4, 0}, {9.1e3, 31, 4e6, 0},
	                                 {784.8, 2.6, 24081.372, 4.6}, {1962, 12, 1.5e6, 2}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double w = rows[i][0], h = rows[i][3], k = rows[i][2] / rows[i][1];
		rigging r = straight(w, rows[i][1], rows[i][2], h);
		r.below = 0.7;
		solved a = caught_in(&r);
		double peak = w + sqrt(w * w + 2 * w * h * k);
		rn_assert_near(a.caught.peak, h > 0 ? peak : 2 * w, 1e-9, 0);
		rn_assert_near(a.caught.travel, h + peak / k, 1e-9, 0);
		rn_assert_near(a.caught.clear, h + peak / k + 0.7, 1e-9, 0);
		check_path(&a, 9.1 - rows[i][1], w / k);
		rn_assert_near(a.caught.given, w * (h + peak / k), 1e-9, 0);
		rn_assert_near(a.caught.in_ropes, peak * peak / (2 * k), 1e-9, 0);
		end(&a);
	}
}

/* A line drawn dead straight across stores with the fourth power of the sag, so its pull is four times what
 * it is on the way on average; a little less, as it grows less steep when it sags. */
static void test_level_is_four_times(void **state)
{
	(void)state;
	static const double rows[][3] = {{238.5, 4.7, 2.1e6}, {1e3, 11.3, 4.3e6}, {87, 2.9, 3e5}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rigging r = level(rows[i][0], rows[i][1], rows[i][2], 0, 0);
		solved a = caught_in(&r);
		assert_true(a.caught.peak < 4 * a.caught.weight);
		assert_true(a.caught.peak > 3.9 * a.caught.weight);
		end(&a);
	}
}

/* Unstretched l/(1 + T/EA) of a straight part stores T^2/2EA in a metre. */
static double stored_in(const solved *a, double stiffness)
{
	double sum = 0;
	for (int i = 0; i < a->at->span_count; i++) {
		double strain = a->at->spans[i].tension / stiffness;
		sum += a->at->spans[i].length / (1 + strain) * stiffness * strain * strain / 2;
	}
	return sum;
}

/* 981 N on 3 m of rope led back by a point to 12 m behind it. Heat is the integral of psi*(T1) - psi*(T2)
 * over the unstretched rope that crosses, psi*(T) = T + T^2/2EA, and U + Q = W (h + x); solved in one unknown
 * apart from this program. */
static void test_led_back_with_friction(void **state)
{
	(void)state;
	static const struct row {
		double stiffness, friction, drop, tensions[2], stretch, digits, stretch_digits;
	} rows[] = {
		{2e4, 0.1, 2, {3680.80, 2688.47}, 2.2358, 0.005, 5e-5},
		{2e4, 0.3, 2, {4164.10, 1622.59}, 1.7126, 0.005, 5e-5},
		{2e6, 0.1, 0.02, {3743.0346, 2733.9225}, 0, 5e-5, 0},
		{2e6, 0.3, 0.02, {4323.6519, 1684.7591}, 0, 5e-5, 0},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const struct row *row = &rows[i];
		rigging r = over_a_point(981, 0, 3, 12, 0, row->stiffness);
		r.drop = row->drop;
		r.net.lines[0].stations[1].friction = row->friction;
		solved a = caught_in(&r);
		for (int k = 0; k < 2; k++)
			rn_assert_near(net_tension(a.at, RN_LINE, 0, k), row->tensions[k], 0, row->digits);
		if (row->stretch > 0)
			rn_assert_near(a.caught.travel - row->drop, row->stretch, 0, row->stretch_digits);
		rn_assert_near(a.caught.in_ropes, stored_in(&a, row->stiffness), 1e-9, 0);
		end(&a);
	}
}

/* On a rope that hardly stretches, let run at one pull, the piece is stopped over s after h:
 * F/W = (h + s)/s. */
static void test_let_run_by_its_energy(void **state)
{
	(void)state;
	static const double runs[] = {0.5, 1, 2, 4, 8};
	for (size_t i = 0; i < sizeof runs / sizeof *runs; i++) {
		double s = runs[i], times = (2 + s) / s;
		rigging r = straight(1000, 12, 1e9, 2);
		hold(&r, RN_NODE_HAND, 1000 * times);
		solved a = caught_in(&r);
		rn_assert_near(a.caught.run_out, s, 1e-4, 0);
		rn_assert_near(a.caught.travel, 2 + s, 1e-4, 0);
		rn_assert_near(a.caught.peak / a.caught.weight, times, 1e-6, 0);
		rn_assert_near(a.caught.in_hands, 1000 * times * s, 1e-4, 0);
		assert_int_equal(a.caught.slips, 1);
		end(&a);
	}
}

/* A piece hung by two ropes at its butt and its tip hangs on both springs. */
static void test_a_long_piece(void **state)
{
	(void)state;
	rn_model *m = empty_model();
	rn_prop bar = {.id = "log", .is_piece = true};
	rn_case c = {.id = "only"};
	rn_fall fall = {.piece = rn_object_of(RN_PROP, 0), .line = RN_NONE};
	int ends[2];
	for (int k = 0; k < 2; k++) {
		int top = build_node(m, k ? "b" : "a", RN_NODE_ANCHOR, 3 * k, 9, 0);
		ends[k] = build_node(m, k ? "tip" : "butt", RN_NODE_JOINT, 3 * k, 5.2, 0);
		build_line(m, k ? "l" : "k", 8e4);
		build_station(m, RN_TIE, ends[k], 0, 0);
		build_station(m, RN_TIE, top, 0, 0);
	}
	bar.from = ends[0];
	bar.to = ends[1];
	assert_int_equal(rn_model_add_prop(m, &bar, NULL), RN_OK);
	build_number(m, fall.piece, RN_ATTRIBUTE_WEIGHT, 2100);
	assert_int_equal(rn_model_add_case(m, &c, NULL), RN_OK);
	assert_int_equal(rn_model_add_fall(m, &fall, NULL), RN_OK);
	build_number(m, rn_object_of(RN_FALL, 0), RN_ATTRIBUTE_DROP, 1.3);
	solved a = caught_by(m);
	double w = 2100, k = 2 * 8e4 / 3.8;
	rn_assert_near(a.caught.peak, w + sqrt(w * w + 2 * w * 1.3 * k), 1e-9, 0);
	rn_assert_near(a.caught.released, 6.5, 1e-12, 0);
	end(&a);
}

/* Points of a curve of load and stretch, and the pull at a stretch with what a metre stores up to there. */
static const double curve[][2] = {{0, 0}, {2000, 0.04}, {9000, 0.08}, {30000, 0.12}};

static double pull_at(double by, double *stored_out)
{
	double pull = 0;
	*stored_out = 0;
	for (size_t i = 1; i < sizeof curve / sizeof *curve && by > curve[i - 1][1]; i++) {
		double slope = (curve[i][0] - curve[i - 1][0]) / (curve[i][1] - curve[i - 1][1]);
		double part = fmin(by, curve[i][1]) - curve[i - 1][1];
		pull = curve[i - 1][0] + slope * part;
		*stored_out += (curve[i - 1][0] + pull) / 2 * part;
	}
	return pull;
}

/* Where a rope of a length stores what the weight has given; by bisection. */
static double peak_on_the_curve(double weight, double length, double drop)
{
	double low = 0, high = curve[3][1], stored;
	for (int i = 0; i < 100; i++) {
		double middle = (low + high) / 2;
		(void)pull_at(middle, &stored);
		*(stored * length < weight * (drop + middle * length) ? &low : &high) = middle;
	}
	return pull_at(low, &stored);
}

static void test_on_a_curve_of_stretch(void **state)
{
	(void)state;
	static const double drops[] = {0, 0.2, 1.1, 2.4};
	for (size_t i = 0; i < sizeof drops / sizeof *drops; i++) {
		rigging r = straight(1500, 6.2, 1, drops[i]);
		rn_model *m = model_of(&r);
		rn_item item = {.id = "r", .kind = RN_ITEM_ROPE};
		assert_int_equal(rn_model_add_item(m, &item, &m->lines[0].gear), RN_OK);
		for (int p = 1; p < 4; p++) {
			rn_stretch stretch = {.item = 0};
			assert_int_equal(rn_model_add_stretch(m, &stretch, NULL), RN_OK);
			build_number(m, rn_object_of(RN_STRETCH, p - 1), RN_ATTRIBUTE_LOAD, curve[p][0]);
			build_number(m, rn_object_of(RN_STRETCH, p - 1), RN_ATTRIBUTE_BY, curve[p][1]);
		}
		solved a = caught_by(m);
		rn_assert_near(a.caught.peak, peak_on_the_curve(1500, 6.2, drops[i]), 1e-8, 0);
		end(&a);
	}
}

/* Of its height and thickness, with an anchor at its top. */
static int add_stem_anchor(rn_model *m, double height)
{
	rn_stem stem = {.id = "stem", .give = RN_GIVE_YES, .on = RN_NONE};
	rn_node top = {.id = "top", .kind = RN_NODE_ANCHOR, .gear = RN_NONE, .connector = RN_NONE,
	               .sling = RN_NONE};
	int node;
	assert_int_equal(rn_model_add_stem(m, &stem, &top.stem), RN_OK);
	build_number(m, rn_object_of(RN_STEM, 0), RN_ATTRIBUTE_X, 0);
	build_number(m, rn_object_of(RN_STEM, 0), RN_ATTRIBUTE_Y, 0);
	build_number(m, rn_object_of(RN_STEM, 0), RN_ATTRIBUTE_MODULUS, 9e9);
	for (int k = 0; k < 2; k++) {
		rn_section section = {.stem = 0};
		assert_int_equal(rn_model_add_section(m, &section, NULL), RN_OK);
		build_number(m, rn_object_of(RN_SECTION, k), RN_ATTRIBUTE_HEIGHT, k * height);
		build_number(m, rn_object_of(RN_SECTION, k), RN_ATTRIBUTE_DIAMETER, k ? 0.2 : 0.4);
	}
	assert_int_equal(rn_model_add_node(m, &top, &node), RN_OK);
	build_number(m, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_HEIGHT, height);
	return node;
}

/* A stem that gives is a spring of its own: it stores half of its pull times its way. */
static void test_a_stem_that_gives(void **state)
{
	(void)state;
	rigging fall = {.net.friction = true, .drop = 1};
	rn_model *m = empty_model();
	int top = add_stem_anchor(m, 14), low = build_node(m, "low", RN_NODE_ANCHOR, 7, 1, 0);
	fall.piece = build_node(m, "log", RN_NODE_PIECE, -0.4, 8.5, 1700);
	build_line(m, "l", 2e5);
	build_station(m, RN_TIE, fall.piece, 0, 0);
	int over = build_station(m, RN_THROUGH, top, 0.06, -1);
	build_station(m, RN_TIE, low, 0, 0);
	build_number(m, rn_object_of(RN_STATION, over), RN_ATTRIBUTE_FRICTION, 0.1);
	add_fall(m, &fall);
	solved a = caught_by(m);
	const rn_node_result *at = &a.at->nodes[top];
	double work = 0;
	for (int k = 0; k < 2; k++)
		work += at->pull[k] * (at->place[k] - at->drawn[k]) / 2;
	assert_true(a.caught.in_stems > 1e-2 * a.caught.given);
	rn_assert_near(a.caught.in_stems, work, 1e-6, 0);
	end(&a);
}

/* A piece of 1100 N on which a force is put, to the right and down. */
static rn_model *pushed(rigging *r, double right, double down)
{
	*r = straight(1100, 5, 9e4, 0.8);
	rn_model *m = model_of(r);
	rn_force d = {.case_index = 0, .node = r->piece};
	int force;
	assert_int_equal(rn_model_add_force(m, &d, &force), RN_OK);
	build_number(m, rn_object_of(RN_FORCE, force), RN_ATTRIBUTE_SIZE, hypot(right, down));
	build_number(m, rn_object_of(RN_FORCE, force), RN_ATTRIBUTE_TOWARD, atan2(-down, right));
	return m;
}

/* What pushes the piece to the side all the while works along with the weights of rings, and what pulls down
 * on it is weight; a push that would take the slack line aside is refused. */
static void test_a_piece_that_is_pushed(void **state)
{
	(void)state;
	rigging r;
	solved a = caught_by(pushed(&r, 9, 400));
	double way = a.at->nodes[r.piece].place[0] - a.caught.path[1][0];
	rn_assert_near(a.caught.weight, 1100 + 400, 1e-12, 0);
	assert_true(fabs(way) > 0.001);
	rn_assert_near(a.caught.raised, -9 * way, 1e-7, 0);
	end(&a);
	check_refused(pushed(&r, 300, 400), RN_OUTCOME_NOT_FOUND, RN_NOTE_FALL_SIDEWAYS);
	check_refused(pushed(&r, -300, 0), RN_OUTCOME_NOT_FOUND, RN_NOTE_FALL_SIDEWAYS);
	check_refused(pushed(&r, 0, -1100), RN_OUTCOME_NOT_FOUND, RN_NOTE_FALL_WEIGHTLESS);
}

/* Two level lines without slack are taut again higher up: the true motion pulled with 5022 N where leaving that out
 * gave 4326 (integrated in time, as above). One line is taut above its anchor from as far as it is long. */
static void test_taut_where_it_is_let_go(void **state)
{
	(void)state;
	rigging r = level(784.8, 2.6, 2e4, 1.3, 0), high = straight(784.8, 5, 2e4, 12);
	check_refused(model_of(&r), RN_OUTCOME_NOT_FOUND, RN_NOTE_FALL_TAUT);
	check_refused(model_of(&high), RN_OUTCOME_NOT_FOUND, RN_NOTE_FALL_TAUT);
	high.drop = 9.9;
	solved a = caught_in(&high);
	end(&a);
	r = level(784.8, 2.6, 2e4, 0.4, 0.05); /* 0.4 m over 2.6 m is 30.6 mm longer */
	a = caught_in(&r);
	end(&a);
}

/* A fall of any depth is one of so much line: it is not "not stopped" because it fell far. */
static void test_a_deep_fall(void **state)
{
	(void)state;
	double stiffness = 2e5, length = 900, drop = 1500, weight = 700;
	rigging r = straight(weight, length, stiffness, drop);
	solved a = caught_in(&r);
	rn_assert_near(a.caught.peak, weight + sqrt(weight * weight + 2 * weight * stiffness * drop / length), 1e-6, 0);
	end(&a);
}

/* What befalls the piece is noted: the foot of a stem it reaches, a swing. */
static void test_what_befalls_it(void **state)
{
	(void)state;
	rigging r = over_a_point(981, 2.5, 4, 8, 0.4, 2e5);
	solved a = caught_in(&r);
	assert_true(notes(a.at, RN_NOTE_FALL_SWINGS));
	assert_false(notes(a.at, RN_NOTE_FALL_GROUND));
	end(&a);
	r = straight(981, 5, 2e5, 2);
	for (int k = 0; k < 2; k++) {
		rn_model *m = model_of(&r);
		rn_stem stem = {.id = "tree", .on = RN_NONE};
		int index;
		assert_int_equal(rn_model_add_stem(m, &stem, &index), RN_OK);
		build_number(m, rn_object_of(RN_STEM, index), RN_ATTRIBUTE_X, 0);
		build_number(m, rn_object_of(RN_STEM, index), RN_ATTRIBUTE_Y, k ? 3.9 : 0); /* it hangs at 4.1 m */
		a = caught_by(m);
		assert_int_equal(notes(a.at, RN_NOTE_FALL_GROUND), k);
		assert_false(notes(a.at, RN_NOTE_FALL_SWINGS));
		end(&a);
	}
}

/* ---- random riggings ------------------------------------------------------------------------------ */

/* The side the rope turns to as drawn. */
static void take_sides(net_data *n, net_line *line)
{
	for (int i = 1; i + 1 < line->station_count; i++) {
		net_station *s = &line->stations[i];
		const double *a = n->nodes[s[-1].node].place, *b = n->nodes[s->node].place;
		const double *c = n->nodes[s[1].node].place;
		s->side = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0 ? 1 : -1;
	}
}

static double between(support_random *random, double low, double high)
{
	return support_random_between(random, low, high);
}

static double between_in_ratio(support_random *random, double low, double high)
{
	return exp(support_random_between(random, log(low), log(high)));
}

/* A block made fast, or a ring that floats on a sling. */
static int add_redirect(support_random *random, net_data *n, double x, double y)
{
	int anchor = net_add_node(n, RN_NODE_ANCHOR, x, y, 0);
	if (support_random_chance(random, 0.5))
		return anchor;
	double reach = between(random, 0.3, 1.2), lean = between(random, -0.5, 0.5);
	double weight = between(random, 3, 30);
	int ring = net_add_node(n, RN_NODE_RING, x + reach * sin(lean), y - reach * cos(lean), weight);
	net_add_sling(n, anchor, ring, between_in_ratio(random, 1e5, 2e6));
	return ring;
}

/* From a piece up and over one to three redirects, down to an anchor. Every third is held by a hand. */
static rigging random_rigging(int seed)
{
	support_random random = support_random_from((uint64_t)seed);
	rigging r = {.drop = between(&random, 0, 3), .net.friction = true};
	net_data *n = &r.net;
	r.piece = net_add_node(n, RN_NODE_PIECE, between(&random, -1.5, 1.5), between(&random, 4, 8),
	                       between(&random, 300, 4000));
	net_line *line = net_add_line(n, between_in_ratio(&random, 2e4, 1e6), false);
	net_add_station(line, RN_TIE, r.piece, 0);
	double x = 0;
	for (int k = 1 + support_random_below(&random, 3); k > 0; k--) {
		int node = add_redirect(&random, n, x, between(&random, 10, 13));
		double tread = support_random_chance(&random, 0.7) ? between(&random, 0.02, 0.1) : 0;
		net_station *s = net_add_station(line, RN_THROUGH, node, tread);
		s->friction = between(&random, 0, 0.3);
		x += between(&random, 2, 5);
	}
	net_add_station(line, RN_TIE, net_add_node(n, RN_NODE_ANCHOR, x, between(&random, 0, 5), 0), 0);
	take_sides(n, line);
	if (seed % 3 == 2)
		hold(&r, RN_NODE_HAND, weight_of(&r) * between(&random, 0.7, 2));
	return r;
}

enum { RANDOM_RIGGINGS = 300 };

/* Whether what went is what was given to eight figures. Where a ring swings up to its rope so fast, at next
 * to no load, that it might as well snap, what that takes is not told of below a hundred-thousandth. */
static bool check_energy(int seed, const solved *a)
{
	const rn_caught *c = &a->caught;
	double off = fmax(fabs(c->left_over), fabs(unaccounted(c)));
	if (!a->at->balance.closed || off > 1e-5 || !(c->in_friction > 0) || !(c->in_ropes > 0))
		fail_msg("rigging %d: %g left over, %g of its parts, %g in friction", seed, c->left_over,
		         unaccounted(c), c->in_friction);
	return off <= 1e-8;
}

/* The work of the weight, integrated along the path, is what ropes, weights, hands and friction have in the
 * end. A hand that is too weak stops nothing, which is an answer; what is not found is none. */
static void test_where_the_work_goes(void **state)
{
	(void)state;
	int lost = 0, jumped = 0, slipped = 0, ran_away = 0, rough = 0;
	for (int seed = 0; seed < RANDOM_RIGGINGS; seed++) {
		rigging r = random_rigging(seed);
		solved a = solve(&r);
		bool caught = a.at->outcome == RN_OUTCOME_SETTLED;
		rough += caught && !check_energy(seed, &a);
		lost += a.at->outcome == RN_OUTCOME_NOT_FOUND;
		ran_away += notes(a.at, RN_NOTE_FALL_RUNS_AWAY);
		jumped += caught && a.caught.jumped != 0;
		slipped += caught && a.caught.run_out > 0;
		end(&a);
	}
	print_message("of %d riggings %d not found, %d ran away, %d slipped, %d snapped over, %d over 1e-8\n",
	              RANDOM_RIGGINGS, lost, ran_away, slipped, jumped, rough);
	assert_true(lost <= RANDOM_RIGGINGS * 2 / 100 && rough <= RANDOM_RIGGINGS / 100);
	assert_true(slipped > RANDOM_RIGGINGS / 10 && ran_away < RANDOM_RIGGINGS / 10);
}

/* ---- what may not change it -------------------------------------------------------------------------- */

static void check_same(const solved *a, const solved *b)
{
	rn_assert_near(b->caught.peak, a->caught.peak, 1e-8, 0);
	rn_assert_near(b->caught.travel, a->caught.travel, 1e-8, 0);
	rn_assert_near(b->caught.run_out, a->caught.run_out, 1e-8, 1e-8 * a->caught.travel);
}

static void test_mirrored_shifted_reversed(void **state)
{
	(void)state;
	net_change changes[] = {net_change_none(), net_change_none(), net_change_none()};
	changes[0].mirror = true;
	changes[1].shift[0] = 13.7;
	changes[1].shift[1] = -4.2;
	changes[2].reverse = true;
	for (int seed = 0; seed < 24; seed++) {
		rigging r = random_rigging(seed);
		if (seed % 4 == 1)
			hold(&r, RN_NODE_HAND, weight_of(&r));
		if (seed % 4 == 3)
			hold(&r, RN_NODE_BOLLARD, 0.08 * weight_of(&r));
		solved a = caught_in(&r);
		assert_int_equal(a.caught.run_out > 0, r.hand > 0);
		for (int k = 0; k < 3; k++) {
			rigging other = r;
			net_map map;
			other.net = net_changed(&r.net, changes[k], &map);
			other.piece = map.node[r.piece];
			solved b = caught_in(&other);
			check_same(&a, &b);
			rn_assert_near(b.caught.across, (k == 0 ? -1 : 1) * a.caught.across, 1e-7, 1e-7);
			end(&b);
		}
		end(&a);
	}
}

/* ---- which way it changes ---------------------------------------------------------------------------- */

static double peak_of(const rigging *r)
{
	solved a = caught_in(r);
	double peak = a.caught.peak;
	end(&a);
	return peak;
}

static double pull_where_held(const solved *a)
{
	assert_int_equal(a->at->hold_count, 1);
	return a->at->holds[0].tension;
}

static void check_let_run(const rigging *r, const solved *locked)
{
	rigging less = *r;
	double peak = locked->caught.peak, run = 0;
	for (double part = 0.9; part > 0.5; part -= 0.15) {
		less.hand = part * pull_where_held(locked);
		solved a = caught_in(&less);
		assert_true(a.caught.peak < peak && a.caught.run_out > run);
		peak = a.caught.peak;
		run = a.caught.run_out;
		end(&a);
	}
}

static void test_more_and_less(void **state)
{
	(void)state;
	for (int seed = 0; seed < 15; seed++) {
		rigging r = random_rigging(seed), higher, heavier, stiffer, longer;
		hold(&r, RN_NODE_HAND, 0);
		higher = heavier = stiffer = longer = r;
		higher.drop += 0.3;
		heavier.net.nodes[r.piece].load[1] *= 1.2;
		stiffer.net.lines[0].stiffness *= 1.5;
		longer.further += 2;
		solved a = caught_in(&r);
		double peak = a.caught.peak;
		assert_true(peak_of(&higher) > peak);
		assert_true(peak_of(&heavier) > peak);
		assert_true(peak_of(&stiffer) > peak);
		assert_true(peak_of(&longer) < peak);
		check_let_run(&r, &a);
		end(&a);
	}
}

/* ---- let run ----------------------------------------------------------------------------------------- */

/* The node made fast that is pulled hardest, and how hard [N]. */
static int hardest_anchor(const solved *a, double *pull_out)
{
	int hardest = RN_NONE;
	*pull_out = 0;
	for (int i = 0; i < a->model->node_count; i++) {
		double pull = hypot(a->at->nodes[i].pull[0], a->at->nodes[i].pull[1]);
		if (!rn_node_is_fixed(&a->model->nodes[i]) || pull <= *pull_out)
			continue;
		*pull_out = pull;
		hardest = i;
	}
	return hardest;
}

/* With a limit at the anchor that the locked catch pulls hardest, a part of that pull. */
static rn_model *limited(const rigging *r, double part)
{
	double pull;
	solved a = caught_in(r);
	int anchor = hardest_anchor(&a, &pull);
	rn_model *m = model_of(r);
	build_number(m, rn_object_of(RN_NODE, anchor), RN_ATTRIBUTE_WORKING_LOAD, part * pull);
	end(&a);
	return checked(m);
}

/* The same as solved by itself with that pull at the hand. */
static void check_row(const rigging *r, const rn_caught_row *row)
{
	rigging alone = *r;
	alone.hand = row->slips_at;
	solved a = caught_in(&alone);
	rn_assert_near(row->peak, a.caught.peak, 1e-6, 0);
	rn_assert_near(row->travel, a.caught.travel, 1e-6, 0);
	rn_assert_near(row->run_out, a.caught.run_out, 1e-6, 0);
	end(&a);
}

static void test_let_run(void **state)
{
	(void)state;
	static const int seeds[] = {4, 11};
	rn_options options = plain_options();
	for (size_t i = 0; i < sizeof seeds / sizeof *seeds; i++) {
		rigging r = random_rigging(seeds[i]);
		rn_let_run l;
		hold(&r, RN_NODE_HAND, 0);
		rn_model *m = limited(&r, 0.75);
		assert_int_equal(rn_let_run_find(m, &options, 0, &l), RN_OK);
		assert_int_equal(l.count, 7);
		rn_assert_near(l.rows[0].peak, peak_of(&r), 1e-9, 0);
		for (int k = 1; k < l.count; k++) {
			rn_assert_near(l.rows[k].run_out, l.asked[k], 1e-3, 0);
			assert_true(l.rows[k].peak < l.rows[k - 1].peak);
			check_row(&r, &l.rows[k]);
		}
		assert_true(l.rows[0].utilisation > 1 && l.has_least && l.least.utilisation <= 1);
		rn_assert_near(l.least.utilisation, 1, 1e-3, 0);
		check_row(&r, &l.least);
		rn_let_run_release(&l);
		rn_model_destroy(m);
	}
}

/* Where the locked catch is over nothing, no rope need run. */
static void test_none_need_run(void **state)
{
	(void)state;
	rn_options options = plain_options();
	rigging r = random_rigging(4);
	rn_let_run l;
	hold(&r, RN_NODE_HAND, 0);
	rn_model *m = limited(&r, 1.2);
	assert_int_equal(rn_let_run_find(m, &options, 0, &l), RN_OK);
	assert_true(l.has_least && l.least.run_out == 0);
	rn_assert_near(l.least.utilisation, 1 / 1.2, 1e-6, 0);
	rn_let_run_release(&l);
	rn_model_destroy(m);
}

/* ---- with other gear --------------------------------------------------------------------------------- */

static rigging changed(const rigging *r, const rn_otherwise *o)
{
	rigging other = *r;
	net_line *line = &other.net.lines[0];
	net_station *nearest = &line->stations[far_end(r) == 0 ? line->station_count - 2 : 1];
	switch (o->kind) {
	case RN_OTHERWISE_AS_IS: break;
	case RN_OTHERWISE_LONGER: other.further += o->amount; break;
	case RN_OTHERWISE_SOFTER: line->stiffness /= o->amount; break;
	case RN_OTHERWISE_BLOCK: nearest->friction = -log(o->amount) / pi; break; /* alike over half a turn */
	case RN_OTHERWISE_DROP: other.drop = o->amount; break;
	case RN_OTHERWISE_WEIGHT: other.net.nodes[r->piece].load[1] = -o->amount; break;
	case RN_OTHERWISE_RING: fail_msg("there is no sheave to be changed for a ring");
	}
	return other;
}

static void check_otherwise(const rigging *r, const rn_otherwise *o)
{
	rigging other = changed(r, o);
	solved a = solve(&other);
	assert_int_equal(o->row.outcome, a.at->outcome);
	if (a.at->outcome == RN_OUTCOME_SETTLED) {
		double pull;
		assert_int_equal(o->row.anchor, hardest_anchor(&a, &pull));
		rn_assert_near(o->row.anchor_pull, pull, 1e-6, 0);
		rn_assert_near(o->row.peak, a.caught.peak, 1e-6, 0);
		rn_assert_near(o->row.travel, a.caught.travel, 1e-6, 0);
		rn_assert_near(o->row.run_out, a.caught.run_out, 1e-6, 1e-6 * a.caught.travel);
	}
	end(&a);
}

/* What each is changed to, by its own words. */
static void check_amounts(const rigging *r, const rn_comparison *c)
{
	static const double longer[] = {1, 3, 10}, drops[] = {0.5, 2}, weights[] = {0.5, 0.75, 1.25};
	int counts[RN_OTHERWISE_WEIGHT + 1] = {0};
	for (int i = 0; i < c->count; i++) {
		const rn_otherwise *o = &c->list[i];
		int k = counts[o->kind]++;
		if (o->kind == RN_OTHERWISE_LONGER)
			rn_assert_near(o->amount, longer[k], 0, 0);
		if (o->kind == RN_OTHERWISE_DROP)
			rn_assert_near(o->amount, drops[k] * r->drop, 1e-12, 0);
		if (o->kind == RN_OTHERWISE_WEIGHT)
			rn_assert_near(o->amount, weights[k] * weight_of(r), 1e-12, 0);
	}
	assert_true(counts[RN_OTHERWISE_AS_IS] == 1 && counts[RN_OTHERWISE_LONGER] == 3);
	assert_true(counts[RN_OTHERWISE_SOFTER] == 3 && counts[RN_OTHERWISE_BLOCK] == 1);
	assert_true(counts[RN_OTHERWISE_DROP] == 2 && counts[RN_OTHERWISE_WEIGHT] == 3);
}

static void test_otherwise(void **state)
{
	(void)state;
	rn_options options = plain_options();
	net_change reversed = net_change_none();
	reversed.reverse = true;
	for (int seed = 0; seed < 6; seed++) {
		rigging r = random_rigging(seed);
		rn_comparison c;
		net_map map;
		if (seed % 2)
			r.net = net_changed(&r.net, reversed, &map);
		rn_model *m = checked(model_of(&r));
		assert_int_equal(rn_comparison_find(m, &options, 0, &c), RN_OK);
		check_amounts(&r, &c);
		for (int i = 0; i < c.count; i++)
			check_otherwise(&r, &c.list[i]);
		rn_comparison_release(&c);
		rn_model_destroy(m);
	}
}

/* Of a rope whose stiffness is guessed a row has the peak of its stiff end and the air of its stretchy one. */
static void test_rows_of_a_guess(void **state)
{
	(void)state;
	rn_options options = plain_options();
	const double low = 6e4, middle = 9e4, high = 14e4;
	rigging r = straight(900, 6, middle, 1), stiff = straight(900, 6, high, 1), soft = straight(900, 6, low, 1);
	rn_model *m = model_of(&r);
	rn_number guess = {.value = middle, .low = low, .high = high, .object = rn_object_of(RN_LINE, 0),
	                   .attribute = RN_ATTRIBUTE_STIFFNESS, .origin = RN_GUESSED};
	assert_int_equal(rn_model_set_number(m, &guess), RN_OK);
	rn_comparison c;
	assert_int_equal(rn_comparison_find(checked(m), &options, 0, &c), RN_OK);
	solved hard = caught_in(&stiff), deep = caught_in(&soft);
	rn_assert_near(c.list[0].row.peak, hard.caught.peak, 1e-9, 0);
	rn_assert_near(c.list[0].row.anchor_pull, hard.caught.peak, 1e-9, 0);
	rn_assert_near(c.list[0].row.clear, deep.caught.clear, 1e-9, 0);
	rn_assert_near(c.list[0].row.travel, deep.caught.travel, 1e-9, 0);
	end(&hard);
	for (int i = 0; i < c.count; i++) {
		if (c.list[i].kind != RN_OTHERWISE_SOFTER)
			continue;
		stiff = straight(900, 6, high / c.list[i].amount, 1);
		hard = caught_in(&stiff);
		rn_assert_near(c.list[i].row.peak, hard.caught.peak, 1e-9, 0);
		end(&hard);
	}
	end(&deep);
	rn_comparison_release(&c);
	rn_model_destroy(m);
}

/* ---- the largest piece ------------------------------------------------------------------------------- */

/* What is found along one path for all weights holds where the path is walked for that weight alone. */
static void test_the_largest_that_may_fall(void **state)
{
	(void)state;
	static const int seeds[] = {0, 4, 6};
	rn_options options = plain_options();
	for (size_t i = 0; i < sizeof seeds / sizeof *seeds; i++) {
		rigging r = random_rigging(seeds[i]);
		rn_largest l;
		rn_model *m = limited(&r, 1.3);
		assert_int_equal(rn_largest_find(m, &options, rn_object_of(RN_NODE, r.piece), &l), RN_OK);
		assert_true(l.working_count > 0 && l.weight > weight_of(&r));
		assert_int_equal(l.working[0].kind, RN_HALT_PART);
		int part = l.working[0].part, node = l.at->cases[0].parts[part].object.index;
		rn_model *alone = model_of(&r);
		build_number(alone, rn_object_of(RN_NODE, r.piece), RN_ATTRIBUTE_WEIGHT, l.weight);
		build_number(alone, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_WORKING_LOAD,
		             l.at->cases[0].parts[part].limit);
		solved a = caught_by(alone);
		rn_assert_near(a.at->parts[part].utilisation, 1, 1e-3, 0);
		end(&a);
		rn_largest_release(&l);
		rn_model_destroy(m);
	}
}

/* ---- what has no answer ------------------------------------------------------------------------------ */

static void test_a_rope_nobody_knows(void **state)
{
	(void)state;
	rigging r = straight(1234.5, 5.7, 0, 1);
	check_refused(model_of(&r), RN_OUTCOME_NOT_FOUND, RN_NOTE_FALL_NO_STRETCH);
}

/* The piece weighs more than a line that slips pulls it up with, on whichever side of a bend it does. */
static void test_a_weak_hand(void **state)
{
	(void)state;
	rigging r = straight(1000, 5.7, 2e5, 1), over = over_a_point(1000, 0, 3, 8, 0.4, 2e5);
	hold(&r, RN_NODE_HAND, 990);
	check_refused(model_of(&r), RN_OUTCOME_NO_EQUILIBRIUM, RN_NOTE_FALL_RUNS_AWAY);
	over.net.lines[0].stations[1].friction = 0.2;
	double bend = pi - 0.4;
	hold(&over, RN_NODE_HAND, 990 * exp(-0.2 * bend));
	check_refused(model_of(&over), RN_OUTCOME_NO_EQUILIBRIUM, RN_NOTE_FALL_RUNS_AWAY);
	over.hand = 1010 * exp(-0.2 * bend);
	solved a = caught_in(&over);
	rn_assert_near(a.caught.peak, 1010, 1e-6, 0);
	end(&a);
}

/* A guide along the plumb line of a piece to the side of its block would carry what that pulls across. */
static void test_a_guide_that_would_carry(void **state)
{
	(void)state;
	rigging r = over_a_point(981, 1, 4, 8, 0.4, 2e5), under = straight(981, 4, 2e5, 1);
	r.drop = 1;
	r.guided = under.guided = true;
	check_refused(model_of(&r), RN_OUTCOME_NOT_FOUND, RN_NOTE_FALL_GUIDE);
	solved a = caught_in(&under);
	under.guided = false;
	rn_assert_near(a.caught.peak, peak_of(&under), 1e-9, 0);
	rn_assert_near(a.caught.side, 0, 0, 1e-6);
	end(&a);
}

/* Its line is so short that it would be drawn up: it hangs, and nothing falls. */
static void test_held_where_it_is_let_go(void **state)
{
	(void)state;
	rigging r = straight(1000, 5, 2e5, 0);
	rn_model *m = model_of(&r);
	build_number(m, rn_object_of(RN_LINE, 0), RN_ATTRIBUTE_PRETENSION, 1500);
	solved a = solve_model(m);
	assert_int_equal(a.at->outcome, RN_OUTCOME_SETTLED);
	assert_true(notes(a.at, RN_NOTE_FALL_STAYS));
	rn_assert_near(a.caught.peak, 1000, 1e-9, 0);
	rn_assert_near(a.caught.travel, 0, 0, 0);
	end(&a);
}

/* Questions that are about a piece at rest are not asked of one that falls, and the other way. */
static void test_questions_not_asked(void **state)
{
	(void)state;
	rn_options options = plain_options();
	rigging r = straight(1000, 5, 2e5, 1);
	rn_model *m = model_of(&r);
	rn_case still = {.id = "still"};
	rn_ranges ranges;
	rn_matters matters;
	rn_let_run let_run;
	rn_comparison comparison;
	assert_int_equal(rn_model_add_case(m, &still, NULL), RN_OK);
	solved a = solve_model(m);
	assert_int_equal(rn_ranges_find(m, &options, 0, &ranges), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_matters_find(a.result, &options, 0, 0, &matters), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_comparison_find(m, &options, 1, &comparison), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_let_run_find(m, &options, 1, &let_run), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_let_run_find(m, &options, 0, &let_run), RN_STATUS_ARGUMENT); /* held by nobody */
	end(&a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_straight_as_it_moves),
		cmocka_unit_test(test_level_as_it_moves),
		cmocka_unit_test(test_over_a_point_as_it_moves),
		cmocka_unit_test(test_a_swing_stays_below),
		cmocka_unit_test(test_straight_by_its_energy),
		cmocka_unit_test(test_level_is_four_times),
		cmocka_unit_test(test_led_back_with_friction),
		cmocka_unit_test(test_let_run_by_its_energy),
		cmocka_unit_test(test_a_long_piece),
		cmocka_unit_test(test_on_a_curve_of_stretch),
		cmocka_unit_test(test_a_stem_that_gives),
		cmocka_unit_test(test_a_piece_that_is_pushed),
		cmocka_unit_test(test_taut_where_it_is_let_go),
		cmocka_unit_test(test_a_deep_fall),
		cmocka_unit_test(test_what_befalls_it),
		cmocka_unit_test(test_where_the_work_goes),
		cmocka_unit_test(test_mirrored_shifted_reversed),
		cmocka_unit_test(test_more_and_less),
		cmocka_unit_test(test_let_run),
		cmocka_unit_test(test_none_need_run),
		cmocka_unit_test(test_otherwise),
		cmocka_unit_test(test_rows_of_a_guess),
		cmocka_unit_test(test_the_largest_that_may_fall),
		cmocka_unit_test(test_a_rope_nobody_knows),
		cmocka_unit_test(test_a_weak_hand),
		cmocka_unit_test(test_a_guide_that_would_carry),
		cmocka_unit_test(test_held_where_it_is_let_go),
		cmocka_unit_test(test_questions_not_asked),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
