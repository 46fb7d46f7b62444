/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sling tables in print against the program: a load on two legs, the legs' pulls found by balance, their
 * limit from the label, and how big the load may be until a leg is at its limit.
 *
 * Sources: 29 CFR Part 1918 App. II Table 2 (natural-fibre rope slings, eye and eye, lb; legal reprint, trade
 * copy), 29 CFR 1910.184 Table N-184-16, text before 2011 (manila; published), OSHA Guidance on Safe Sling
 * Use, Tables 1 and 2 (alloy chain; published), EN 13414-1:2003 Table 4 and AS charts (trade copy). The
 * tables are rounded; how far is said beside each. Three and four legs are no matter of one plane.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/fern_house.h"
#include "tests/support.h"

static const double degree = 3.14159265358979323846 / 180;
static const double newtons_per_lbf = 4.4482216152605;

typedef struct rig {
	rn_model *model;
	rn_result *result;
} rig;

/* A load on the two legs of one sling, each at an angle off plumb; stiff, so that it stays as drawn. */
static rig two_legs(double label, rn_label_for label_for, const char *hitch, double off_plumb, double load)
{
	rn_allocator allocator = rn_allocator_default();
	rig r = {0};
	assert_int_equal(rn_model_create(&allocator, &r.model), RN_OK);
	rn_model *m = r.model;
	int gear = fern_item(m, "gear", RN_ITEM_SLING, 0, label, 0);
	m->items[gear].label_for = label_for;
	m->items[gear].body = RN_BODY_ROPE;
	build_number(m, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_STIFFNESS, 1e11);
	rn_sling d = {.id = "s", .gear = gear, .connector = RN_NONE, .hitch = hitch};
	int sling, log = build_node(m, "log", RN_NODE_PIECE, 0, 0, load);
	assert_int_equal(rn_model_add_sling(m, &d, &sling), RN_OK);
	for (int k = -1; k <= 1; k += 2) {
		/* legs side by side stay a hand apart */
		double x = k * fmax(1e-6, 2 * sin(off_plumb));
		int node = build_node(m, k < 0 ? "l" : "r", RN_NODE_ANCHOR, x, 2 * cos(off_plumb), 0);
		rn_leg leg = {.sling = sling, .from = node, .to = log, .connector = RN_NONE};
		assert_int_equal(rn_model_add_leg(m, &leg, NULL), RN_OK);
	}
	return r;
}

/* The load at which a leg is at its limit. */
static double load_at_limit(double label, rn_label_for label_for, const char *hitch, double off_plumb)
{
	rig r = two_legs(label, label_for, hitch, off_plumb, 1000);
	rn_options options = rn_options_default();
	assert_int_equal(rn_model_check(r.model), RN_OK);
	assert_int_equal(rn_solve(r.model, &options, &r.result), RN_OK);
	const rn_part_result *part = &r.result->cases[0].parts[0];
	assert_int_equal(part->unchecked, RN_CHECKED);
	double load = 1000 / part->utilisation;
	rn_result_destroy(r.result);
	rn_model_destroy(r.model);
	return load;
}

/* Vertical V, choker, basket at 0, 30, 45, 60 deg off plumb [lb]; the largest misfit of 2 V cos. */
static void test_natural_fibre(void **state)
{
	(void)state;
	static const double rows[][7] = {
		{550, 250, 1100, 900, 750, 550, 0.055},        {700, 350, 1400, 1200, 1000, 700, 0.010},
		{900, 450, 1800, 1500, 1200, 900, 0.057},      {1100, 550, 2200, 1900, 1500, 1100, 0.036},
		{1500, 750, 3100, 2700, 2200, 1500, 0.039},    {1800, 900, 3600, 3100, 2600, 1800, 0.021},
		{2700, 1400, 5400, 4700, 3800, 2700, 0.005},   {3700, 1850, 7400, 6400, 5200, 3700, 0.006},
		{6200, 3100, 12500, 10500, 8800, 6200, 0.022}, {10500, 5200, 21000, 18000, 14500, 10500, 0.024},
	};
	static const double angles[] = {0, 30, 45, 60};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double v = rows[i][0] * newtons_per_lbf;
		for (int k = 0; k < 4; k++) {
			double load = load_at_limit(v, RN_LABEL_FOR_STRAIGHT, "straight", angles[k] * degree);
			rn_assert_near(load / newtons_per_lbf, 2 * rows[i][0] * cos(angles[k] * degree), 1e-6, 0);
			/* beside the printed one, by its misfit, which is stated of the larger of the two */
			rn_assert_near(load / newtons_per_lbf, rows[i][2 + k], rows[i][6] * 1.1, 0);
		}
	}
}

/* The choke of a fibre rope sling is half its straight rating in the same table, to its rounding of 50 lb. */
static void test_natural_fibre_choker(void **state)
{
	(void)state;
	static const double rows[][2] = {{550, 250}, {700, 350}, {900, 450},   {1100, 550},  {1500, 750},
	                                 {1800, 900}, {2700, 1400}, {3700, 1850}, {6200, 3100}, {10500, 5200}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_allocator allocator = rn_allocator_default();
		rig r = {0};
		assert_int_equal(rn_model_create(&allocator, &r.model), RN_OK);
		rn_model *m = r.model;
		int gear = fern_item(m, "gear", RN_ITEM_SLING, 0, rows[i][0] * newtons_per_lbf, 0);
		m->items[gear].body = RN_BODY_ROPE;
		build_number(m, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_DIAMETER, 0.02);
		build_number(m, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_STIFFNESS, 1e9);
		int stem = fern_stem(m, "beech", 0, 0, 12, 0.40, 0.40);
		int top = fern_on_stem(m, "top", RN_NODE_ANCHOR, stem, 9, RN_BARK_RIGHT);
		int log = build_node(m, "log", RN_NODE_PIECE, 0.2, 7, 100);
		rn_sling d = {.id = "s", .gear = gear, .connector = RN_NONE, .hitch = "choke"};
		int sling;
		assert_int_equal(rn_model_add_sling(m, &d, &sling), RN_OK);
		build_number(m, rn_object_of(RN_SLING, sling), RN_ATTRIBUTE_ANGLE, 135 * degree); /* a free choke */
		rn_leg leg = {.sling = sling, .from = top, .to = log, .connector = RN_NONE};
		assert_int_equal(rn_model_add_leg(m, &leg, NULL), RN_OK);
		rn_options options = rn_options_default();
		assert_int_equal(rn_model_check(m), RN_OK);
		assert_int_equal(rn_solve(m, &options, &r.result), RN_OK);
		double limit = r.result->cases[0].parts[0].limit / newtons_per_lbf;
		rn_assert_near(limit, rows[i][0] / 2, 1e-12, 0);
		rn_assert_near(limit, rows[i][1], 0, 50);
		rn_result_destroy(r.result);
		rn_model_destroy(m);
	}
}

/* Manila: vertical, basket at 90, 60, 45, 30 deg from level [lb], rounded to 5 or 10 lb. */
static void test_manila(void **state)
{
	(void)state;
	static const double rows[][5] = {
		{480, 960, 830, 680, 480}, {620, 1240, 1070, 875, 620}, {790, 1580, 1370, 1120, 790}};
	static const double from_level[] = {90, 60, 45, 30};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (int k = 0; k < 4; k++) {
			double load = load_at_limit(rows[i][0] * newtons_per_lbf, RN_LABEL_FOR_STRAIGHT, "straight",
			                            (90 - from_level[k]) * degree);
			rn_assert_near(load / newtons_per_lbf, rows[i][1 + k], 0, 5);
		}
}

/* Alloy chain, grade 100 3/8 in and grade 80 1/2 in: one leg, two at 60, 45, 30 deg from level [lb], printed
 * to 100 lb. */
static void test_chain(void **state)
{
	(void)state;
	static const double rows[][4] = {{8800, 15200, 12400, 8800}, {12000, 20800, 17000, 12000}};
	static const double from_level[] = {60, 45, 30};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (int k = 0; k < 3; k++) {
			double load = load_at_limit(rows[i][0] * newtons_per_lbf, RN_LABEL_FOR_STRAIGHT, "straight",
			                            (90 - from_level[k]) * degree);
			rn_assert_near(load / newtons_per_lbf, rows[i][1 + k], 0, 50);
		}
}

/* Mode factors on one leg's rating: EN 13414-1 Table 4 gives two legs 1.4 up to 45 deg off plumb and 1.0 up
 * to 60, the exact ones being 1.414 and 1; AS charts a basket at an included angle of 30, 60, 90, 120 deg. */
static void test_mode_factors(void **state)
{
	(void)state;
	static const double rows[][3] = {{90, 1.4, 0.015}, {120, 1.0, 1e-6}, {30, 1.90, 0.035}, {60, 1.73, 0.005},
	                                 {0, 2.0, 1e-6}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double half = rows[i][0] / 2 * degree;
		double factor = load_at_limit(5000, RN_LABEL_FOR_STRAIGHT, "straight", half) / 5000;
		rn_assert_near(factor, 2 * cos(half), 1e-6, 0);
		rn_assert_near(factor, rows[i][1], 0, rows[i][2]);
	}
	/* a label for the basket has both legs in it already */
	rn_assert_near(load_at_limit(10000, RN_LABEL_FOR_BASKET, "straight", 0), 10000, 1e-6, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_natural_fibre), cmocka_unit_test(test_natural_fibre_choker),
		cmocka_unit_test(test_manila),        cmocka_unit_test(test_chain),
		cmocka_unit_test(test_mode_factors),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
