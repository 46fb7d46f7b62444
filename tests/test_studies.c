/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ranges, one part letting go, what matters most: against closed forms, against settling anew, and on every
 * model of models/.
 */
#define _POSIX_C_SOURCE 200809L
#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/xml/reader.h"
#include "solver/statics/friction.h"
#include "solver/strength/derate.h"
#include "solver/study/workspace.h"
#include "tests/build.h"
#include "tests/models.h"
#include "tests/support.h"

/* ---- models of models/ ----------------------------------------------------------------------- */

/* Calls back for every model that is drawn as rigged and settles in its first case. */
typedef void on_model(const char *name, const rn_model *model, const rn_result *result);

static int for_each_model(on_model *look)
{
	int count = 0;
	DIR *folder = opendir(RN_MODELS_DIR);
	assert_non_null(folder);
	for (struct dirent *entry; (entry = readdir(folder));) {
		if (!strstr(entry->d_name, ".xml") || strcmp(entry->d_name, "yard.xml") == 0)
			continue;
		rn_document *document = models_read(entry->d_name);
		rn_options options = rn_options_default();
		rn_result *result;
		options.stretch_check = options.side_check = false;
		assert_int_equal(rn_solve(document->model, &options, &result), RN_OK);
		if (result->cases[0].outcome == RN_OUTCOME_SETTLED) {
			look(entry->d_name, document->model, result);
			count++;
		}
		rn_result_destroy(result);
		rn_document_destroy(document);
	}
	closedir(folder);
	return count;
}

/* ---- ranges: a ring on a rope ---------------------------------------------------------------- */

/* A weight on a point ring that slides on a rope of length L between (0, 0) and (d, 0), capstan exponent mu.
 * With both parts a1, a2 below level: T1 cos a1 = T2 cos a2, and where friction holds all it can
 * T2/T1 = e^(s mu (a1 + a2)), s = -1 .. 1. Found by bisection along the ellipse the ring can move on. */
typedef struct sliding {
	double x, y, first, second;
} sliding;

static sliding on_ellipse(double angle, double length, double apart, double weight)
{
	double a = length / 2, b = sqrt(a * a - apart * apart / 4);
	sliding s = {.x = apart / 2 + a * sin(angle), .y = -b * cos(angle)};
	double a1 = atan2(-s.y, s.x), a2 = atan2(-s.y, apart - s.x);
	s.first = weight * cos(a2) / sin(a1 + a2);
	s.second = weight * cos(a1) / sin(a1 + a2);
	return s;
}

static sliding where_it_sticks(double length, double apart, double weight, double exponent)
{
	double low = -1.55, high = 1.55;
	for (int i = 0; i < 200; i++) {
		double middle = (low + high) / 2;
		sliding s = on_ellipse(middle, length, apart, weight);
		double bend = atan2(-s.y, s.x) + atan2(-s.y, apart - s.x);
		*(log(s.second / s.first) < exponent * bend ? &low : &high) = middle;
	}
	return on_ellipse((low + high) / 2, length, apart, weight);
}

static rn_model *ring_on_a_rope(double mu)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int left = build_node(m, "left", RN_NODE_ANCHOR, 0, 0, 0);
	int right = build_node(m, "right", RN_NODE_ANCHOR, 4, 0, 0);
	int ring = build_node(m, "ring", RN_NODE_RING, 2.1, -1.4, 238.5);
	int line = build_line(m, "line", 1e10);
	build_number(m, rn_object_of(RN_LINE, line), RN_ATTRIBUTE_LENGTH, 5);
	build_station(m, RN_TIE, left, 0, 0);
	int through = build_station(m, RN_THROUGH, ring, 0, 0);
	build_station(m, RN_TIE, right, 0, 0);
	build_number(m, rn_object_of(RN_STATION, through), RN_ATTRIBUTE_FRICTION, mu);
	assert_int_equal(rn_model_check(m), RN_OK);
	return m;
}

static void test_both_ends_of_a_ring_on_a_rope(void **state)
{
	(void)state;
	static const double exponents[] = {0.05, 0.2, 0.37};
	for (int i = 0; i < 3; i++) {
		rn_model *m = ring_on_a_rope(exponents[i]);
		rn_options options = rn_options_default();
		rn_ranges ranges;
		assert_int_equal(rn_ranges_find(m, &options, 0, &ranges), RN_OK);
		sliding one = where_it_sticks(5, 4, 238.5, exponents[i]), other = where_it_sticks(5, 4, 238.5, -exponents[i]);
		assert_int_equal(ranges.unsure_count, 1);
		assert_int_equal(ranges.lost_count, 0);
		rn_assert_near(ranges.tensions[0].least, fmin(one.first, other.first), 1e-6, 0);
		rn_assert_near(ranges.tensions[0].most, fmax(one.first, other.first), 1e-6, 0);
		rn_assert_near(ranges.tensions[1].least, fmin(one.second, other.second), 1e-6, 0);
		rn_assert_near(ranges.tensions[1].most, fmax(one.second, other.second), 1e-6, 0);
		/* the left anchor is pulled down to the right, as steeply as the ring is near */
		double steep = atan2(one.y, one.x), flat = atan2(other.y, other.x);
		rn_assert_near(ranges.directions[0].least, fmin(steep, flat), 1e-6, 0);
		rn_assert_near(ranges.directions[0].most, fmax(steep, flat), 1e-6, 0);
		rn_ranges_release(&ranges);
		rn_model_destroy(m);
	}
}

/* ---- ranges of a picture: by balance alone ----------------------------------------------------- */

/* Legs to (-3,4), (0,4), (3,4) and 10 kN at the origin: the middle leg carries any part of it, 2 (4/5) T + T_mid = W. */
static void test_balance_of_three_legs(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	rn_model *m;
	rn_ranges ranges;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int log = build_node(m, "log", RN_NODE_PIECE, 0, 0, 1e4);
	static const char *const anchors[] = {"a", "b", "c"}, *const legs[] = {"left", "middle", "right"};
	for (int i = 0; i < 3; i++)
		build_sling(m, legs[i], build_node(m, anchors[i], RN_NODE_ANCHOR, 3 * (i - 1), 4, 0), log, 1e5, 0);
	m->drawn_under_load = true;
	build_number(m, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_PLACE_ERROR, 0);
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_ranges_find(m, &options, 0, &ranges), RN_OK);
	assert_true(ranges.by_balance);
	for (int i = 0; i < 3; i++) {
		double most = i == 1 ? 1e4 : 6250, heading = atan2(-4, 3 * (1 - i));
		rn_assert_near(ranges.tensions[i].least, 0, 0, 1e-6);
		rn_assert_near(ranges.tensions[i].most, most, 1e-9, 0);
		assert_true(ranges.may_be_slack[i]);
		rn_assert_near(ranges.pulls[1 + i].least, 0, 0, 1e-6);
		rn_assert_near(ranges.pulls[1 + i].most, most, 1e-9, 0);
		assert_true(ranges.directions[1 + i].least <= heading + 1e-9 && ranges.directions[1 + i].most >= heading - 1e-9);
	}
	rn_ranges_release(&ranges);
	rn_model_destroy(m);
}

enum { TURNS = 2 };
static const double post_friction = 0.2, post_radius = 0.1, post_weight = 3e3;

/* A rope from (0, 10) with two turns round a post at (x, 5), and a piece hung from it. */
static rn_model *hung_from_a_post(double x, bool picture)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int top = build_node(m, "top", RN_NODE_ANCHOR, 0, 10, 0), post = build_node(m, "post", RN_NODE_BOLLARD, x, 5, 0);
	int log = build_node(m, "log", RN_NODE_PIECE, 0, 0, post_weight);
	build_number(m, rn_object_of(RN_NODE, post), RN_ATTRIBUTE_TURNS, TURNS);
	build_line(m, "bull", 4e5);
	build_station(m, RN_TIE, top, 0, 0);
	int through = build_station(m, RN_THROUGH, post, 2 * post_radius, 1);
	build_number(m, rn_object_of(RN_STATION, through), RN_ATTRIBUTE_FRICTION, post_friction);
	build_station(m, RN_TIE, log, 0, 0);
	m->drawn_under_load = picture;
	assert_int_equal(rn_model_check(m), RN_OK);
	return m;
}

/* Euler and Eytelwein over all that is wound, 2 pi n + bend, which turns keep on the post where the bend goes the other
 * way; it bends the rope there too. */
static void test_turns_hold_a_rope_on_its_post(void **state)
{
	(void)state;
	static const double places[] = {-0.5, 0.1, 0.11, 0.5, 1.5};
	for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
		rn_model *m = hung_from_a_post(places[i], false);
		rn_options options = rn_options_default();
		rn_result *result;
		double values[16];
		assert_in_range(m->number_count, 1, 16);
		rn_case_values(m, &m->cases[0], values);
		assert_int_equal(rn_solve(m, &options, &result), RN_OK);
		double heading = atan2(-5, places[i]) - asin(post_radius / hypot(places[i], 5)), bend = -RN_PI / 2 - heading;
		for (int c = 0; c < 2; c++) {
			const rn_case_result *a = &result->cases[c];
			assert_true(rn_case_holds(a));
			assert_false(a->passes[0].lifted);
			rn_assert_near(a->passes[0].bend, bend, 1e-9, 1e-12);
			rn_assert_near(a->spans[1].tension, post_weight, 1e-12, 0);
			double exponent = post_friction * (2 * RN_PI * TURNS + bend) * (c == 0 ? -1 : 1);
			rn_assert_near(a->spans[0].tension, post_weight * exp(exponent), 1e-9, 0);
			assert_int_equal(rn_spot_of_line(m, values, a, 0, 1).unchecked, RN_BEND_UNKNOWN);
		}
		rn_result_destroy(result);
		rn_model_destroy(m);
	}
}

/* In a picture too anything up to its friction one way or the other, turns and all. */
static void test_balance_round_turns(void **state)
{
	(void)state;
	rn_model *m = hung_from_a_post(post_radius, true);
	rn_options options = rn_options_default();
	rn_ranges ranges;
	assert_int_equal(rn_ranges_find(m, &options, 0, &ranges), RN_OK);
	assert_true(ranges.by_balance);
	double most = exp(post_friction * 2 * RN_PI * TURNS);
	rn_assert_near(ranges.tensions[0].least, post_weight / most, 1e-6, 0);
	rn_assert_near(ranges.tensions[0].most, post_weight * most, 1e-6, 0);
	rn_ranges_release(&ranges);
	rn_model_destroy(m);
}

/* A ring on a level rope of like sides, (-a, b) and (a, b) away, with a sling along (c, d): T1 - T2 = S c/a and
 * (T1 + T2) b + S d = W, and T1 is at most k T2, k = e^(mu theta) with theta = 2 atan(b/a), or of a block what its
 * efficiency allows. So S goes from 0 to W / ((k + 1)/(k - 1) b c/a + d). */
static void test_balance_over_a_rough_ring(void **state)
{
	(void)state;
	static const double b[] = {0.6, 0.6, 0.28}, mu[] = {0.2, 0.45, 0.3}, weight = 2385;
	for (int i = 0; i < 6; i++) {
		bool sheave = i >= 3;
		double up = b[i % 3], aside = sqrt(1 - up * up), theta = 2 * atan2(up, aside), efficiency = 0.9, unused, k;
		rn_allocator allocator = rn_allocator_default();
		rn_options options = rn_options_default();
		rn_model *m;
		rn_ranges ranges;
		assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
		int left = build_node(m, "left", RN_NODE_ANCHOR, -5 * aside, 5 * up, 0);
		int right = build_node(m, "right", RN_NODE_ANCHOR, 5 * aside, 5 * up, 0);
		int top = build_node(m, "top", RN_NODE_ANCHOR, 3, 4, 0);
		int ring = build_node(m, "ring", RN_NODE_RING, 0, 0, weight);
		build_sling(m, "sling", top, ring, 1e5, 0);
		build_line(m, "line", 1e5);
		build_station(m, RN_TIE, left, 0, 0);
		rn_object through = rn_object_of(RN_STATION, build_station(m, RN_THROUGH, ring, 0, 0));
		build_station(m, RN_TIE, right, 0, 0);
		build_number(m, through, sheave ? RN_ATTRIBUTE_EFFICIENCY : RN_ATTRIBUTE_FRICTION, sheave ? efficiency : mu[i % 3]);
		m->drawn_under_load = true;
		build_number(m, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_PLACE_ERROR, 0);
		assert_int_equal(rn_model_check(m), RN_OK);
		if (sheave)
			rn_friction_sheave((1 - efficiency) / (1 + efficiency), theta, &k, &unused);
		else
			k = mu[i] * theta;
		k = exp(k);
		assert_int_equal(rn_ranges_find(m, &options, 0, &ranges), RN_OK);
		assert_true(ranges.by_balance);
		double c = 0.6, d = 0.8, most = weight / ((k + 1) / (k - 1) * up * c / aside + d);
		double low = most * c / aside / (k - 1), even = weight / (2 * up);
		/* the line first, then the sling */
		rn_assert_near(ranges.tensions[0].least, fmin(even, k * low), 1e-9, 0);
		rn_assert_near(ranges.tensions[0].most, fmax(even, k * low), 1e-9, 0);
		rn_assert_near(ranges.tensions[1].least, fmin(even, low), 1e-9, 0);
		rn_assert_near(ranges.tensions[1].most, fmax(even, low), 1e-9, 0);
		rn_assert_near(ranges.tensions[2].least, 0, 0, 1e-6);
		rn_assert_near(ranges.tensions[2].most, most, 1e-9, 0);
		assert_true(ranges.may_be_slack[2] && !ranges.may_be_slack[0] && !ranges.may_be_slack[1]);
		rn_assert_near(ranges.pulls[left].most, ranges.tensions[0].most, 1e-9, 0);
		rn_assert_near(ranges.pulls[left].least, ranges.tensions[0].least, 1e-9, 0);
		rn_assert_near(ranges.pulls[right].most, ranges.tensions[1].most, 1e-9, 0);
		rn_assert_near(ranges.directions[left].least, atan2(-up, aside), 1e-9, 0);
		rn_assert_near(ranges.directions[left].most, atan2(-up, aside), 1e-9, 0);
		rn_ranges_release(&ranges);
		rn_model_destroy(m);
	}
}

/* ---- ranges: legs of unknown length ------------------------------------------------------------ */

/* Three legs in a plane, anchors (-3,4), (0,4), (3,4), EA 1000 kN, 10 kN down; free lengths 5, 4 + delta, 5.
 * Large displacement, recomputed: at -40 mm the middle one carries all, at +40 mm none; at -10 and +10 mm
 * 6209.670 and 3660.905 N. */
static rn_model *three_legs(double error)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int node = build_node(m, "node", RN_NODE_PIECE, 0, 0, 10000);
	static const char *const names[] = {"a", "b", "c"}, *const anchors[] = {"A", "B", "C"};
	for (int i = 0; i < 3; i++) {
		int top = build_node(m, anchors[i], RN_NODE_ANCHOR, 3 * (i - 1), 4, 0);
		int leg = build_sling(m, names[i], top, node, 1e6, i == 1 ? 4 : 5);
		if (i == 1)
			build_number(m, rn_object_of(RN_SLING, leg), RN_ATTRIBUTE_LENGTH_ERROR, error);
	}
	assert_int_equal(rn_model_check(m), RN_OK);
	return m;
}

static void test_legs_a_little_off(void **state)
{
	(void)state;
	static const double rows[][4] = {{0.0025, 3660.905, 6209.670, 2365.821}, {0.005, 2390.133, 7487.660, 1568.832},
	                                 {0.01, 0, 10000, 0}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_model *m = three_legs(rows[i][0]);
		rn_options options = rn_options_default();
		rn_ranges ranges;
		assert_int_equal(rn_ranges_find(m, &options, 0, &ranges), RN_OK);
		rn_assert_near(ranges.tensions[1].least, rows[i][1], 1e-6, 0.01);
		rn_assert_near(ranges.tensions[1].most, rows[i][2], 1e-6, 0.01);
		rn_assert_near(ranges.tensions[0].least, rows[i][3], 1e-6, 0.01);
		assert_int_equal(ranges.may_be_slack[1], rows[i][1] < 1);
		rn_ranges_release(&ranges);
		rn_model_destroy(m);
	}
}

/* ---- ranges: random states ----------------------------------------------------------------------- */

static int states_seen, states_outside;
static support_random dice;

static void look_at_random_states(const char *name, const rn_model *m, const rn_result *result)
{
	rn_options options = rn_options_default();
	rn_ranges ranges;
	rn_workspace *w;
	double *grip = calloc((size_t)m->station_count + 1, sizeof *grip);
	double *values = calloc((size_t)m->number_count + 1, sizeof *values);
	assert_non_null(grip);
	assert_non_null(values);
	assert_int_equal(rn_ranges_find(m, &options, 0, &ranges), RN_OK);
	assert_int_equal(rn_workspace_create(m, &options, &w), RN_OK);
	rn_unsure unsure = {.grip = grip};
	rn_case slippery = m->cases[0];
	slippery.level = RN_FRICTION_HIGH;
	rn_case_values(m, &slippery, values);
	rn_workspace_unsure(w, &unsure);
	for (int trial = 0; trial < 40; trial++) {
		const rn_case_result *a;
		for (int i = 0; i < m->station_count; i++)
			grip[i] = support_random_between(&dice, -1, 1);
		assert_int_equal(rn_workspace_settle(w, &m->cases[0], values, false, &a), RN_OK);
		if (a->outcome != RN_OUTCOME_SETTLED || !a->balance.closed)
			continue;
		states_seen++;
		for (int i = 0; i < a->span_count; i++) {
			rn_spread s = ranges.tensions[i];
			double room = 0.01 * (s.most - s.least) + 1e-4 * fabs(s.most) + 1e-3;
			bool outside = a->spans[i].tension < s.least - room || a->spans[i].tension > s.most + room;
			if (outside)
				print_error("%s: %g is outside %g to %g\n", name, a->spans[i].tension, s.least, s.most);
			states_outside += outside;
		}
	}
	/* what runs one way or the other is a corner of the box */
	for (int c = 0; c < result->case_count && m->cases[0].made; c++)
		for (int i = 0; m->cases[c].made && i < result->cases[c].span_count; i++) {
			rn_spread s = ranges.tensions[i];
			double room = 0.01 * (s.most - s.least) + 1e-4 * fabs(s.most) + 1e-3, t = result->cases[c].spans[i].tension;
			assert_true(t >= s.least - room && t <= s.most + room);
		}
	rn_workspace_destroy(w);
	rn_ranges_release(&ranges);
	free(grip);
	free(values);
}

static void test_no_random_state_lies_outside(void **state)
{
	(void)state;
	dice = support_random_from(57);
	assert_true(for_each_model(look_at_random_states) > 18);
	assert_true(states_seen > 700);
	assert_int_equal(states_outside, 0);
}

/* ---- letting go ------------------------------------------------------------------------------- */

static const rn_loss *loss_of(const rn_losses *losses, const rn_result *result, const char *id)
{
	for (int i = 0; i < losses->count; i++)
		if (strcmp(rn_object_id(result->model, result->cases[0].parts[losses->losses[i].part].object), id) == 0)
			return &losses->losses[i];
	return NULL;
}

/* Two stiff legs of 5 m from (-3, 4) and (3, 4): one alone, the piece swings under its anchor, 1 m lower. */
static void test_one_of_two_legs(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int gear = RN_NONE;
	rn_item item = {.id = "gear", .kind = RN_ITEM_SLING};
	assert_int_equal(rn_model_add_item(m, &item, &gear), RN_OK);
	build_number(m, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_WORKING_LOAD, 9000);
	int log = build_node(m, "log", RN_NODE_PIECE, 0, 0, 2385);
	for (int i = -1; i <= 1; i += 2) {
		int top = build_node(m, i < 0 ? "A" : "C", RN_NODE_ANCHOR, 3 * i, 4, 0);
		int leg = build_sling(m, i < 0 ? "a" : "c", top, log, 1e9, 5);
		m->slings[leg].gear = gear;
		m->slings[leg].hitch = "straight";
	}
	rn_options options = rn_options_default();
	rn_result *result;
	rn_losses losses;
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	assert_int_equal(rn_losses_find(result, &options, &losses), RN_OK);
	assert_int_equal(losses.count, 4); /* two legs, two anchors */
	const rn_loss *loss = loss_of(&losses, result, "a");
	assert_int_equal(loss->outcome, RN_OUTCOME_SETTLED);
	rn_assert_near(loss->drop, 1, 1e-5, 0);
	assert_string_equal(rn_object_id(m, result->cases[0].parts[loss->closest].object), "c");
	rn_assert_near(loss->utilisation, 2385.0 / 9000, 1e-6, 0);
	rn_assert_near(loss_of(&losses, result, "A")->utilisation, 2385.0 / 9000, 1e-6, 0);
	assert_true(loss->unchecked); /* the anchor has no limit */
	rn_losses_release(&losses);
	rn_result_destroy(result);
	rn_model_destroy(m);
}

/* A stiff line from an anchor over a redirect that a sling holds aside, down to the log: without the redirect
 * it hangs plumb, lower by what the way round was longer. */
static void test_a_redirect_lets_go(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int top = build_node(m, "top", RN_NODE_ANCHOR, 0, 10, 0), aside = build_node(m, "aside", RN_NODE_ANCHOR, 6, 8, 0);
	int ring = build_node(m, "ring", RN_NODE_RING, 2, 7, 5), log = build_node(m, "log", RN_NODE_PIECE, 2, 4, 1000);
	build_sling(m, "s", aside, ring, 1e9, 0);
	build_line(m, "line", 1e9);
	build_station(m, RN_TIE, top, 0, 0);
	int through = build_station(m, RN_THROUGH, ring, 0, 0);
	build_number(m, rn_object_of(RN_STATION, through), RN_ATTRIBUTE_FRICTION, 0);
	build_station(m, RN_TIE, log, 0, 0);
	rn_options options = rn_options_default();
	rn_result *result, *without;
	rn_losses losses;
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	assert_int_equal(rn_losses_find(result, &options, &losses), RN_OK);
	double length = hypot(2, 3) + 3, before = result->cases[0].nodes[log].place[1];
	static const char *const parts[] = {"s", "ring", "aside"};
	for (int i = 0; i < 3; i++) {
		const rn_loss *loss = loss_of(&losses, result, parts[i]);
		assert_non_null(loss);
		assert_int_equal(loss->outcome, RN_OUTCOME_SETTLED);
		rn_assert_near(loss->drop, before - (10 - length), 0, 1e-5); /* it stretches by some micrometres */
	}
	assert_int_equal(loss_of(&losses, result, "line")->outcome, RN_OUTCOME_NO_EQUILIBRIUM);
	assert_int_equal(rn_solve_without(m, &options, rn_object_of(RN_NODE, ring), &without), RN_OK);
	rn_assert_near(without->cases[0].nodes[log].place[1], 10 - length, 0, 1e-5);
	rn_assert_near(without->cases[0].nodes[log].place[0], 0, 0, 1e-6);
	rn_result_destroy(without);
	assert_int_equal(rn_solve_without(m, &options, rn_object_of(RN_NODE, log), &without), RN_STATUS_ARGUMENT);
	rn_losses_release(&losses);
	rn_result_destroy(result);
	rn_model_destroy(m);
}

/* Nothing is said to hold that the program itself does not find to hold without it. */
static int losses_seen;

static void look_at_losses(const char *name, const rn_model *m, const rn_result *result)
{
	rn_options options = rn_options_default();
	options.stretch_check = options.side_check = false;
	rn_losses losses;
	assert_int_equal(rn_losses_find(result, &options, &losses), RN_OK);
	for (int i = 0; i < losses.count; i++) {
		const rn_loss *loss = &losses.losses[i];
		const rn_part_result *part = &result->cases[loss->case_index].parts[loss->part];
		bool settled = loss->outcome == RN_OUTCOME_SETTLED && loss->leads_to == RN_NONE;
		rn_result *without;
		if (part->object.kind == RN_ITEM)
			continue; /* a connector in several places goes in all of them there */
		assert_int_equal(rn_solve_without(m, &options, part->object, &without), RN_OK);
		const rn_case_result *c = &without->cases[loss->case_index];
		if (settled) {
			if (c->outcome != RN_OUTCOME_SETTLED)
				fail_msg("%s without %s in case %d: %s", name, rn_object_id(m, part->object), loss->case_index,
				         rn_outcome_text(c->outcome));
			double most = 0;
			for (int p = 0; p < c->part_count; p++)
				if (p != loss->part && c->parts[p].unchecked == RN_CHECKED)
					most = fmax(most, c->parts[p].utilisation);
			if (loss->closest != RN_NONE && fabs(most - loss->utilisation) > 1e-6 * most + 0.06)
				print_error("%s without part %d: %g, not %g\n", name, loss->part, most, loss->utilisation);
			losses_seen++;
		}
		rn_result_destroy(without);
	}
	rn_losses_release(&losses);
}

static void test_losses_of_all_models(void **state)
{
	(void)state;
	for_each_model(look_at_losses);
	print_message("%d losses\n", losses_seen);
	assert_true(losses_seen > 30);
}

/* ---- a held rope ----------------------------------------------------------------------------- */

/* On a rig with two redirects: every through within its friction, and loops that close. */
static void test_held_loops_close(void **state)
{
	(void)state;
	rn_document *document = models_read("held-rope.xml");
	rn_options options = rn_options_default();
	rn_result *result;
	options.stretch_check = options.side_check = false;
	assert_int_equal(rn_solve(document->model, &options, &result), RN_OK);
	const rn_model *m = document->model;
	int first = rn_model_object_by_id(m, "lighter").index, again = rn_model_object_by_id(m, "lighter-again").index;
	const rn_case_result *a = &result->cases[first], *b = &result->cases[again];
	assert_true(first != RN_NONE && again != RN_NONE);
	for (int i = 0; i < a->span_count; i++)
		rn_assert_near(a->spans[i].tension, b->spans[i].tension, 1e-4, 0);
	/* it is another state than one that was just raised or lowered to */
	double lowered = result->cases[0].spans[1].tension / result->cases[0].spans[0].tension;
	assert_true(fabs(a->spans[1].tension / a->spans[0].tension - lowered) > 0.02);
	for (int i = 0; i < a->pass_count; i++)
		assert_true(fabs(log(a->passes[i].after / a->passes[i].before)) < 0.25 * a->passes[i].bend + 1e-6);
	rn_result_destroy(result);
	rn_document_destroy(document);
}

/* What is asked beside the model counts in every case of a chain: a weight scaled is the weight in the file, and
 * a sling that is gone is gone while the rope is held. */
static void test_a_held_rope_in_studies(void **state)
{
	(void)state;
	rn_document *document = models_read("held-rope.xml");
	rn_model *m = document->model;
	rn_options options = rn_options_default();
	rn_result *scaled, *written, *without;
	options.stretch_check = options.side_check = false;
	int weight = rn_model_find_number(m, rn_model_object_by_id(m, "log"), RN_ATTRIBUTE_WEIGHT);
	rn_object gone = rn_model_object_by_id(m, "long");
	assert_int_equal(rn_solve_scaled(m, &options, weight, 1.3, &scaled), RN_OK);
	assert_int_equal(rn_solve_without(m, &options, gone, &without), RN_OK);
	m->numbers[weight].value *= 1.3;
	for (int k = 0; k < m->setting_count; k++)
		if (m->settings[k].number == weight)
			m->settings[k].value *= 1.3;
	assert_int_equal(rn_solve(m, &options, &written), RN_OK);
	int held = 0;
	for (int c = 0; c < written->case_count; c++) {
		const rn_case_result *a = &scaled->cases[c], *b = &written->cases[c], *left = &without->cases[c];
		held += m->cases[b->case_index].follows != RN_NONE;
		for (int i = 0; i < b->span_count; i++)
			rn_assert_near(a->spans[i].tension, b->spans[i].tension, 1e-12, 0);
		for (int i = 0; i < left->span_count; i++)
			if (left->spans[i].member.kind == gone.kind && left->spans[i].member.index == gone.index)
				assert_true(left->spans[i].tension == 0);
	}
	assert_true(held >= 3);
	rn_result_destroy(scaled);
	rn_result_destroy(written);
	rn_result_destroy(without);
	rn_document_destroy(document);
}

/* ---- what matters most ------------------------------------------------------------------------- */

#ifndef RN_STUDIES_STRIDE
#define RN_STUDIES_STRIDE 1 /* every so-manyth number; more where instruments make it slow */
#endif

static int slopes_seen, slopes_wrong, remainders_seen, remainders_wrong;

static double share_with(rn_workspace *w, const rn_model *m, int c, double *values, int number, double by, int part,
                         bool *good_out)
{
	const rn_case_result *a;
	double value = values[number];
	values[number] = value + by;
	assert_int_equal(rn_workspace_settle(w, &m->cases[c], values, false, &a), RN_OK);
	values[number] = value;
	*good_out = *good_out && a->outcome == RN_OUTCOME_SETTLED && a->balance.closed;
	return a->parts[part].utilisation;
}

/* Slopes against differences of settled answers; where the second difference is well above rounding, what
 * the slope leaves over falls with the square of the step (Taylor). */
static void look_at_slopes(const char *name, const rn_model *m, const rn_result *result)
{
	rn_options options = rn_options_default();
	rn_matters matters;
	rn_workspace *w;
	int c = result->verdict.worst_case, part = result->verdict.worst_part;
	if (c == RN_NONE || !rn_case_rests(&result->cases[c]) || result->cases[c].falls)
		return;
	double *values = calloc((size_t)m->number_count + 1, sizeof *values);
	assert_non_null(values);
	assert_int_equal(rn_matters_find(result, &options, c, part, &matters), RN_OK);
	assert_int_equal(rn_workspace_create(m, &options, &w), RN_OK);
	rn_case_values(m, &m->cases[result->cases[c].case_index], values);
	double scale = 0;
	for (int i = 0; i < m->number_count; i++)
		scale = fmax(scale, fabs(matters.slopes[i] * fmax(fabs(values[i]), 0.01)));
	for (int i = 0; i < m->number_count; i += RN_STUDIES_STRIDE) {
		double step = 1e-3 * fmax(fabs(values[i]), 0.01);
		bool good = true;
		double base = share_with(w, m, result->cases[c].case_index, values, i, 0, part, &good);
		double up = share_with(w, m, result->cases[c].case_index, values, i, step, part, &good);
		double down = share_with(w, m, result->cases[c].case_index, values, i, -step, part, &good);
		double near = share_with(w, m, result->cases[c].case_index, values, i, step / 2, part, &good);
		double nigh = share_with(w, m, result->cases[c].case_index, values, i, -step / 2, part, &good);
		if (!good || m->numbers[i].attribute == RN_ATTRIBUTE_GRAVITY)
			continue;
		double by_difference = (up - down) / (2 * step), weight = fmax(fabs(values[i]), 0.01);
		double second = fabs(up - 2 * base + down);
		bool kink = fabs((up - base) / step - (base - down) / step) * weight > 0.02 * scale;
		if (kink)
			continue; /* one-sided: told by settling anew */
		slopes_seen++;
		bool wrong = fabs(by_difference - matters.slopes[i]) * weight > 2e-3 * scale;
		if (wrong)
			print_error("%s: number %d (%s, line %d): slope %g, not %g (scale %g)\n", name, i,
			            rn_attribute_word(m->numbers[i].attribute), m->numbers[i].line, matters.slopes[i],
			            by_difference, scale);
		slopes_wrong += wrong;
		double left = fabs(up - base - matters.slopes[i] * step), left_near = fabs(near - base - matters.slopes[i] * step / 2);
		bool bends = fabs(4 * fabs(near - 2 * base + nigh) - second) > 0.2 * second; /* a kink within the step */
		if (second < 1e-6 * fabs(base) || left < 1e-7 * fabs(base) || bends)
			continue;
		remainders_seen++;
		remainders_wrong += left_near > 0.35 * left;
	}
	rn_workspace_destroy(w);
	rn_matters_release(&matters);
	free(values);
}

static void test_slopes_against_settling_anew(void **state)
{
	(void)state;
	assert_true(for_each_model(look_at_slopes) > 18);
	print_message("%d slopes, %d remainders, %d of them wrong\n", slopes_seen, remainders_seen, remainders_wrong);
	assert_true(slopes_seen > 1000 / RN_STUDIES_STRIDE);
	assert_true(remainders_seen > 40 / RN_STUDIES_STRIDE);
	assert_int_equal(slopes_wrong, 0);
	assert_int_equal(remainders_wrong, 0);
}

/* The slope of the three-bar problem: dT_mid/d delta = -127.4382 kN/m at delta 0 (recomputed). */
static void test_slope_of_three_bars(void **state)
{
	(void)state;
	rn_model *m = three_legs(0.001);
	rn_options options = rn_options_default();
	rn_result *result;
	rn_matters matters;
	options.stretch_check = false;
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	int part = RN_NONE;
	for (int i = 0; i < result->cases[0].part_count; i++)
		if (strcmp(rn_object_id(m, result->cases[0].parts[i].object), "b") == 0)
			part = i;
	assert_int_equal(rn_matters_find(result, &options, 0, part, &matters), RN_OK);
	assert_true(matters.is_demand);
	rn_assert_near(matters.slopes[rn_model_number_by_name(m, "b.reach")], -127438.2, 1e-5, 0);
	rn_matters_release(&matters);
	rn_result_destroy(result);
	rn_model_destroy(m);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_both_ends_of_a_ring_on_a_rope),
		cmocka_unit_test(test_balance_of_three_legs),         cmocka_unit_test(test_balance_over_a_rough_ring),
		cmocka_unit_test(test_turns_hold_a_rope_on_its_post), cmocka_unit_test(test_balance_round_turns),
		cmocka_unit_test(test_legs_a_little_off),
		cmocka_unit_test(test_no_random_state_lies_outside),  cmocka_unit_test(test_one_of_two_legs),
		cmocka_unit_test(test_a_redirect_lets_go),            cmocka_unit_test(test_losses_of_all_models),
		cmocka_unit_test(test_held_loops_close),              cmocka_unit_test(test_a_held_rope_in_studies),
		cmocka_unit_test(test_slopes_against_settling_anew),  cmocka_unit_test(test_slope_of_three_bars),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
