/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ropes round treads: published belt lengths, derivatives, bends followed past a full turn.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/statics/equations.h"
#include "solver/statics/geometry.h"
#include "tests/laid.h"

static const double degree = RN_PI / 180;

static void put(laid *l, int node, double x, double y)
{
	l->settler.net.place[2 * node] = x;
	l->settler.net.place[2 * node + 1] = y;
}

/* ---- published belts ------------------------------------------------------------------------- */

/* A belt round two pulleys, cut open at the middle of its straight upper part: a rope from there
 * round the first and the second pulley and back. */
typedef struct belt {
	double first, second, apart; /* diameters, distance of the centres [m] */
	bool crossed;
} belt;

static net_data belt_net(belt b)
{
	net_data n = {0};
	double r1 = b.first / 2, r2 = b.crossed ? -b.second / 2 : b.second / 2;
	/* the common tangent touches both circles at this angle from the line of centres */
	double angle = acos((r1 - r2) / b.apart);
	double x = (r1 * cos(angle) + b.apart + r2 * cos(angle)) / 2,
	       y = (r1 + r2) * sin(angle) / 2;
	int cut = net_add_node(&n, RN_NODE_ANCHOR, x, y, 0);
	int one = net_add_node(&n, RN_NODE_FORK, 0, 0, 0);
	int two = net_add_node(&n, RN_NODE_FORK, b.apart, 0, 0);
	net_line *line = net_add_line(&n, 1e5, true);
	net_add_station(line, RN_TIE, cut, 0);
	net_add_station(line, RN_THROUGH, one, b.first)->side = 1;
	net_add_station(line, RN_THROUGH, two, b.second)->side = b.crossed ? -1 : 1;
	net_add_station(line, RN_TIE, cut, 0);
	return n;
}

typedef struct belt_row {
	belt b;
	double printed, half_digit; /* [m] */
	double length;              /* recomputed [m] */
	double lap[2];              /* recomputed [deg]; 0 = not given */
} belt_row;

/* Textbook exercises on belt drives. The printed lengths of the first and third are theirs, the
 * recomputed ones come from the exact tangents. */
static const belt_row belts[] = {
	/* crossed belt, 0.45 and 0.20 m, centres 1.95 m */
	{{0.45, 0.20, 1.95, true}, 4.975, 0.0005, 4.97531072, {199.188136, 199.188136}},
	/* open belt on the same pulleys */
	{{0.45, 0.20, 1.95, false}, 0, 0, 4.92903318, {187.350653, 172.649347}},
	/* open belt, 0.5 and 1.6 m, centres 12 m; crossed: recomputed only */
	{{0.5, 1.6, 12, false}, 27.32, 0.005, 27.32388504, {0, 0}},
	{{0.5, 1.6, 12, true}, 0, 0, 27.39060604, {0, 0}},
	/* open belt, 105 and 393 mm, centres 697 mm */
	{{0.105, 0.393, 0.697, false}, 2.2, 0.05, 2.20611413, {0, 0}},
};

static void test_belts_have_their_published_length(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof belts / sizeof *belts; i++) {
		const belt_row *row = &belts[i];
		net_data n = belt_net(row->b);
		laid *l = laid_from(&n);
		rn_rope *rope = &l->settler.net.ropes[0];
		rn_rope_lay(&l->settler.net, rope);
		assert_true(rn_rope_measure(&l->settler.net, rope));
		rn_assert_near(rope->length, row->length, 0, 0.6e-8);
		if (row->printed > 0)
			rn_assert_near(rope->length, row->printed, 0, row->half_digit);
		for (int k = 0; k < 2 && row->lap[k] > 0; k++)
			rn_assert_near(l->settler.net.stops[rope->first_stop + 1 + k].bend / degree,
			               row->lap[k], 0, 0.6e-6);
		laid_drop(l);
	}
}

/* ---- tangents -------------------------------------------------------------------------------- */

/* What makes a tangent: it touches each circle square to the radius, on the side it should. */
static void assert_tangent(const rn_network *net, const rn_span *span)
{
	const rn_stop *from = &net->stops[span->from], *to = &net->stops[span->to];
	rn_vec2 left = rn_vec2_left(span->u);
	rn_vec2 start = rn_vec2_sub(rn_vec2_of(&net->place[2 * from->node]),
	                            rn_vec2_scale(from->side * from->radius, left));
	rn_vec2 end = rn_vec2_sub(rn_vec2_of(&net->place[2 * to->node]),
	                          rn_vec2_scale(to->side * to->radius, left));
	rn_vec2 straight = rn_vec2_sub(end, start);
	rn_assert_near(rn_vec2_length(span->u), 1, 1e-14, 0);
	rn_assert_near(straight.x, span->length * span->u.x, 0, 1e-13);
	rn_assert_near(straight.y, span->length * span->u.y, 0, 1e-13);
}

static void test_spans_touch_their_treads(void **state)
{
	(void)state;
	support_random random = support_random_from(11);
	for (int trial = 0; trial < 200; trial++) {
		laid *l = laid_random(
			&random,
			(net_random_options){.treads = true, .free_least = 2, .free_most = 6});
		for (int r = 0; r < l->settler.net.rope_count; r++)
			for (int i = 0; i < l->settler.net.ropes[r].span_count; i++)
				assert_tangent(
					&l->settler.net,
					&l->settler.net
						 .spans[l->settler.net.ropes[r].first_span + i]);
		laid_drop(l);
	}
}

static void test_overlapping_treads_have_no_tangent(void **state)
{
	(void)state;
	net_data n = belt_net((belt){0.45, 0.20, 1.95, true});
	laid *l = laid_from(&n);
	rn_rope *rope = &l->settler.net.ropes[0];
	put(l, 2, 0.3251, 0); /* crossed: the sum of the radii is needed */
	assert_true(rn_rope_measure(&l->settler.net, rope));
	put(l, 2, 0.3249, 0);
	assert_false(rn_rope_measure(&l->settler.net, rope));
	laid_drop(l);
	n = belt_net((belt){0.45, 0.20, 1.95, false});
	l = laid_from(&n);
	rope = &l->settler.net.ropes[0];
	put(l, 2, 0.1251, 0); /* open: the difference */
	assert_true(rn_rope_measure(&l->settler.net, rope));
	put(l, 2, 0.1249, 0);
	assert_false(rn_rope_measure(&l->settler.net, rope));
	laid_drop(l);
}

/* ---- bends ----------------------------------------------------------------------------------- */

/* From a fixed end past a ring or post at the origin to an end that is led round it. */
static net_data round_net(rn_node_kind kind, double tread, int side)
{
	net_data n = {0};
	int from = net_add_node(&n, RN_NODE_ANCHOR, -2, 0, 0);
	int post = net_add_node(&n, kind, 0, 0, 0);
	int end = net_add_node(&n, RN_NODE_PIECE, 2, side * 0.3, 100);
	net_line *line = net_add_line(&n, 1e5, true);
	net_add_station(line, RN_TIE, from, 0);
	net_add_station(line, RN_THROUGH, post, tread)->side = side;
	net_add_station(line, RN_TIE, end, 0);
	return n;
}

/* Bend by hand: both spans lean by asin(r/2) off the line to the centre. */
static double expected_bend(double angle, double radius)
{
	return angle + 2 * asin(radius / 2);
}

static void follow(int side)
{
	net_data n = round_net(RN_NODE_RING, 0.2, side);
	laid *l = laid_from(&n);
	rn_rope *rope = &l->settler.net.ropes[0];
	rope->taut = true;
	const rn_stop *post = &l->settler.net.stops[rope->first_stop + 1];
	/* once and a half round one way, then back to where the rope would push the post */
	for (int step = 0; step <= 54; step++) {
		put(l, 2, 2 * cos(10 * step * degree), side * 2 * sin(10 * step * degree));
		assert_true(rn_rope_measure(&l->settler.net, rope));
		rn_assert_near(post->bend, expected_bend(10 * step * degree, 0.1), 0, 1e-13);
		rn_assert_near(rope->length, 2 * sqrt(4 - 0.01) + 0.1 * post->bend, 1e-14, 0);
	}
	for (int step = 54; step >= -6; step--) {
		put(l, 2, 2 * cos(10 * step * degree), side * 2 * sin(10 * step * degree));
		assert_true(rn_rope_measure(&l->settler.net, rope));
		rn_assert_near(post->bend, expected_bend(10 * step * degree, 0.1), 0, 1e-13);
	}
	laid_drop(l);
}

static void test_bend_is_followed_past_a_full_turn_and_back(void **state)
{
	(void)state;
	follow(1);
	follow(-1);
}

/* A bend of a billionth below nothing must not become a full turn of rope. */
static void test_bend_just_below_nothing_stays_there(void **state)
{
	(void)state;
	net_data n = round_net(RN_NODE_RING, 0.2, 1);
	laid *l = laid_from(&n);
	rn_rope *rope = &l->settler.net.ropes[0];
	rope->taut = true;
	double none = -2 * asin(0.05), angle = none - 1e-9;
	put(l, 2, 2 * cos(angle), 2 * sin(angle));
	assert_true(rn_rope_measure(&l->settler.net, rope));
	rn_assert_near(l->settler.net.stops[1].bend, -1e-9, 0, 1e-15);
	laid_drop(l);
}

/* The first value lies in (-90, 270] deg, whatever was there before. */
static void test_first_bend_lies_between_minus_90_and_270(void **state)
{
	(void)state;
	net_data n = round_net(RN_NODE_RING, 0.2, 1);
	laid *l = laid_from(&n);
	rn_rope *rope = &l->settler.net.ropes[0];
	for (int angle = 0; angle < 360; angle += 7) {
		put(l, 2, 2 * cos(angle * degree), 2 * sin(angle * degree));
		rn_rope_lay(&l->settler.net, rope);
		double bend = expected_bend(angle * degree, 0.1);
		double expected = bend > 1.5 * RN_PI ? bend - 2 * RN_PI : bend;
		rn_assert_near(l->settler.net.stops[1].bend, expected, 0, 1e-13);
	}
	laid_drop(l);
}

/* A point has no side: its bend is the size of the turn, its rope the two straight parts. */
static void test_point_has_the_bend_of_the_polyline(void **state)
{
	(void)state;
	net_data n = round_net(RN_NODE_RING, 0, 1);
	laid *l = laid_from(&n);
	rn_rope *rope = &l->settler.net.ropes[0];
	for (int angle = -175; angle < 540; angle += 10) {
		put(l, 2, 2.385 * cos(angle * degree), 2.385 * sin(angle * degree));
		assert_true(rn_rope_measure(&l->settler.net, rope));
		rn_assert_near(l->settler.net.stops[1].bend,
		               fabs(remainder(angle * degree, 2 * RN_PI)), 0, 1e-13);
		rn_assert_near(rope->length, 2 + 2.385, 1e-15, 0);
	}
	laid_drop(l);
}

/* A slack rope remembers no turns: it lies the short way. */
static void test_slack_rope_is_not_followed(void **state)
{
	(void)state;
	net_data n = round_net(RN_NODE_RING, 0.2, 1);
	laid *l = laid_from(&n);
	rn_rope *rope = &l->settler.net.ropes[0];
	rope->taut = false;
	for (int angle = 0; angle <= 720; angle += 10) {
		put(l, 2, 2 * cos(angle * degree), 2 * sin(angle * degree));
		assert_true(rn_rope_measure(&l->settler.net, rope));
		assert_true(l->settler.net.stops[1].bend <= 1.5 * RN_PI + 1e-12);
	}
	laid_drop(l);
}

/* Over a fork the rope is a taut string: it lifts off where it would have to push, and comes back,
 * and its length does not jump on the way. */
static void test_rope_lifts_off_a_fork_and_comes_back(void **state)
{
	(void)state;
	net_data n = round_net(RN_NODE_FORK, 0.2, 1);
	laid *l = laid_from(&n);
	rn_rope *rope = &l->settler.net.ropes[0];
	double none = -2 * asin(0.05);
	rope->taut = true;
	for (int step = 0; step <= 80; step++) {
		double angle = 20 * cos(step * RN_PI / 40) * degree;
		bool touches = angle > none;
		put(l, 2, 2 * cos(angle), 2 * sin(angle));
		assert_true(rn_rope_measure(&l->settler.net, rope));
		assert_int_equal(l->settler.net.stops[1].lifted, !touches);
		assert_int_equal(rope->span_count, touches ? 2 : 1);
		double over = 2 * sqrt(4 - 0.01) + 0.1 * expected_bend(angle, 0.1);
		double straight = hypot(2 + 2 * cos(angle), 2 * sin(angle));
		rn_assert_near(rope->length, touches ? over : straight, 1e-14, 0);
	}
	laid_drop(l);
}

/* ---- derivatives ----------------------------------------------------------------------------- */

/* dL/dx of a rope is the sum of its directions at each node: the solver's by_tension. */
static double slope_of(const rn_network *net, const rn_rope *rope, const rn_terms *terms, int node,
                       int k)
{
	double slope = 0;
	for (int s = 0; s < rope->stop_count; s++)
		if (net->stops[rope->first_stop + s].node == node)
			slope += terms->by_tension[2 * s + k];
	return slope;
}

static void compare_slopes(rn_network *net, rn_rope *rope, const rn_terms *terms)
{
	const double h = 1e-5;
	for (int i = 0; i < 2 * net->model->node_count; i++) {
		double kept = net->place[i], length[2],
		       expected = slope_of(net, rope, terms, i / 2, i % 2);
		for (int up = 0; up < 2; up++) {
			net->place[i] = kept + (up ? h : -h);
			assert_true(rn_rope_measure(net, rope));
			length[up] = rope->length;
		}
		net->place[i] = kept;
		rn_assert_near(expected, (length[1] - length[0]) / (2 * h), 0, 1e-7);
	}
}

static void test_length_changes_as_the_directions_say(void **state)
{
	(void)state;
	support_random random = support_random_from(12);
	int seen = 0;
	for (int trial = 0; trial < 100; trial++) {
		laid *l = laid_random(
			&random,
			(net_random_options){.treads = true, .free_least = 2, .free_most = 5});
		rn_terms terms;
		assert_int_equal(rn_terms_create(&l->arena, &l->settler.net, &terms), RN_OK);
		for (int r = 0; r < l->settler.net.rope_count; r++) {
			rn_rope *rope = &l->settler.net.ropes[r];
			rope->tension = 1000;
			rn_terms_compute(&l->settler.net, rope, &terms);
			compare_slopes(&l->settler.net, rope, &terms);
			seen += rope->bends;
		}
		laid_drop(l);
	}
	assert_true(seen > 100);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_belts_have_their_published_length),
		cmocka_unit_test(test_spans_touch_their_treads),
		cmocka_unit_test(test_overlapping_treads_have_no_tangent),
		cmocka_unit_test(test_bend_is_followed_past_a_full_turn_and_back),
		cmocka_unit_test(test_bend_just_below_nothing_stays_there),
		cmocka_unit_test(test_first_bend_lies_between_minus_90_and_270),
		cmocka_unit_test(test_point_has_the_bend_of_the_polyline),
		cmocka_unit_test(test_slack_rope_is_not_followed),
		cmocka_unit_test(test_rope_lifts_off_a_fork_and_comes_back),
		cmocka_unit_test(test_length_changes_as_the_directions_say),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
