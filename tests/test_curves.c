/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ropes that follow a curve of load and stretch.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/model/place.h"
#include "tests/build.h"
#include "tests/support.h"

typedef struct point {
	double load, by;
} point;

static int add_curve(rn_model *m, const char *id, const point *points, int count)
{
	rn_item item = {.id = id, .kind = RN_ITEM_SLING};
	int i, k;
	assert_int_equal(rn_model_add_item(m, &item, &i), RN_OK);
	for (int p = 0; p < count; p++) {
		rn_stretch stretch = {.item = i};
		assert_int_equal(rn_model_add_stretch(m, &stretch, &k), RN_OK);
		build_number(m, rn_object_of(RN_STRETCH, k), RN_ATTRIBUTE_LOAD, points[p].load);
		build_number(m, rn_object_of(RN_STRETCH, k), RN_ATTRIBUTE_BY, points[p].by);
	}
	return i;
}

static int add_sling(rn_model *m, const char *id, int from, int to, int gear)
{
	rn_sling sling = {.id = id, .gear = gear, .connector = RN_NONE};
	int i;
	assert_int_equal(rn_model_add_sling(m, &sling, &i), RN_OK);
	rn_leg leg = {.sling = i, .from = from, .to = to, .connector = RN_NONE};
	assert_int_equal(rn_model_add_leg(m, &leg, NULL), RN_OK);
	return i;
}

static rn_model *begin(void)
{
	rn_model *model;
	rn_allocator allocator = rn_allocator_default();
	assert_int_equal(rn_model_create(&allocator, &model), RN_OK);
	return model;
}

static rn_result *solve(rn_model *m)
{
	rn_options options = rn_options_default();
	rn_result *result;
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	assert_int_equal(result->cases[0].outcome, RN_OUTCOME_SETTLED);
	assert_true(result->cases[0].balance.closed);
	return result;
}

/* One leg carries what hangs on it whatever its curve; it is longer by the curve's stretch. */
static void test_one_leg(void **state)
{
	(void)state;
	static const point curve[] = {{1000, 0.02}, {5000, 0.035}, {20000, 0.05}};
	static const double load[] = {300, 1000, 2385, 5000, 17300, 41000};
	static const double by[] = {0.006, 0.02, 0.02 + 1385 * 0.015 / 4000, 0.035,
	                            0.035 + 12300 * 0.015 / 15000, 0.035 + 36000 * 0.015 / 15000};
	for (int k = 0; k < 6; k++) {
		rn_model *m = begin();
		int gear = add_curve(m, "g", curve, 3);
		int top = build_node(m, "top", RN_NODE_ANCHOR, 0, 7, 0);
		int log = build_node(m, "log", RN_NODE_PIECE, 0, 4, load[k]);
		add_sling(m, "s", top, log, gear);
		rn_result *result = solve(m);
		rn_assert_near(result->cases[0].spans[0].tension, load[k], 1e-12, 0);
		rn_assert_near(result->cases[0].nodes[log].place[1], 7 - 3 * (1 + by[k]), 1e-11, 0);
		rn_result_destroy(result);
		rn_model_destroy(m);
	}
}

/* Two upright legs of one length share by their curves: both stretch alike, loads add up. The shared
 * stretch is found here by bisection on the curve itself. */
static void test_two_legs_share(void **state)
{
	(void)state;
	static const point soft[] = {{500, 0.03}, {4000, 0.06}};
	static const point stiff[] = {{2000, 0.01}, {9000, 0.09}};
	rn_model *m = begin();
	int a = add_curve(m, "soft", soft, 2), b = add_curve(m, "stiff", stiff, 2);
	int top = build_node(m, "top", RN_NODE_ANCHOR, 0, 7, 0);
	int log = build_node(m, "log", RN_NODE_PIECE, 0, 5, 6000);
	add_sling(m, "sa", top, log, a);
	add_sling(m, "sb", top, log, b);
	rn_result *result = solve(m);
	double values[64];
	for (int i = 0; i < m->number_count; i++)
		values[i] = m->numbers[i].value;
	double low = 0, high = 6000; /* of the soft leg */
	for (int i = 0; i < 100; i++) {
		double mid = (low + high) / 2;
		bool too_much = rn_curve_stretch(m, values, a, mid) > rn_curve_stretch(m, values, b, 6000 - mid);
		*(too_much ? &high : &low) = mid;
	}
	rn_assert_near(result->cases[0].spans[0].tension, low, 1e-9, 0);
	rn_assert_near(result->cases[0].spans[1].tension, 6000 - low, 1e-9, 0);
	rn_result_destroy(result);
	rn_model_destroy(m);
}

/* A curve of one straight line is a plain EA: the same three legs both ways. */
static void test_straight_curve_is_stiffness(void **state)
{
	(void)state;
	double tension[2][3];
	for (int k = 0; k < 2; k++) {
		rn_model *m = begin();
		static const point line[] = {{1e4, 0.01}, {3e4, 0.03}};
		int gear = k ? add_curve(m, "g", line, 2) : RN_NONE;
		int log = build_node(m, "log", RN_NODE_PIECE, 0.1, 0, 10000);
		for (int i = 0; i < 3; i++) {
			const char *ids[] = {"a", "b", "c"}, *legs[] = {"sa", "sb", "sc"};
			int top = build_node(m, ids[i], RN_NODE_ANCHOR, 3 * (i - 1), 4, 0);
			if (k)
				add_sling(m, legs[i], top, log, gear);
			else
				build_sling(m, legs[i], top, log, 1e6, 0);
		}
		rn_result *result = solve(m);
		for (int i = 0; i < 3; i++)
			tension[k][i] = result->cases[0].spans[i].tension;
		rn_result_destroy(result);
		rn_model_destroy(m);
	}
	for (int i = 0; i < 3; i++)
		rn_assert_near(tension[1][i], tension[0][i], 1e-10, 1e-6);
}

static void test_falling_curve_is_refused(void **state)
{
	(void)state;
	static const point curves[][2] = {{{1000, 0.02}, {900, 0.03}}, {{1000, 0.02}, {2000, 0.02}}};
	for (int k = 0; k < 2; k++) {
		rn_model *m = begin();
		int gear = add_curve(m, "g", curves[k], 2);
		int top = build_node(m, "top", RN_NODE_ANCHOR, 0, 7, 0);
		int log = build_node(m, "log", RN_NODE_PIECE, 0, 4, 100);
		add_sling(m, "s", top, log, gear);
		assert_int_equal(rn_model_check(m), RN_STATUS_INPUT);
		assert_int_equal(m->findings.items[0].kind, RN_NOTE_STRETCH_FALLS);
		rn_model_destroy(m);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_one_leg),
		cmocka_unit_test(test_two_legs_share),
		cmocka_unit_test(test_straight_curve_is_stiffness),
		cmocka_unit_test(test_falling_curve_is_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
