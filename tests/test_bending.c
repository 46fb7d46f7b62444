/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Stems that give: the flexibility of a cantilever against closed forms, and a rope between two stems
 * against the same by hand.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/model/give.h"
#include "tests/build.h"
#include "tests/support.h"

static const double pi = 3.14159265358979323846;

typedef struct rig {
	rn_model *model;
	double *values;
} rig;

static int add_stem(rn_model *m, const char *id, double x, double lean, double low, double high,
                    double height, rn_give give)
{
	rn_stem stem = {.id = id, .give = give, .on = RN_NONE};
	int i;
	assert_int_equal(rn_model_add_stem(m, &stem, &i), RN_OK);
	rn_object object = rn_object_of(RN_STEM, i);
	build_number(m, object, RN_ATTRIBUTE_X, x);
	build_number(m, object, RN_ATTRIBUTE_Y, 0);
	build_number(m, object, RN_ATTRIBUTE_LEAN, lean);
	build_number(m, object, RN_ATTRIBUTE_MODULUS, 9e9);
	for (int k = 0; k < 2; k++) {
		rn_section section = {.stem = i};
		int s;
		assert_int_equal(rn_model_add_section(m, &section, &s), RN_OK);
		build_number(m, rn_object_of(RN_SECTION, s), RN_ATTRIBUTE_HEIGHT, k ? height : 0);
		build_number(m, rn_object_of(RN_SECTION, s), RN_ATTRIBUTE_DIAMETER, k ? high : low);
	}
	return i;
}

static int add_anchor(rn_model *m, const char *id, int stem, double height)
{
	rn_node node = {.id = id, .kind = RN_NODE_ANCHOR, .gear = RN_NONE, .connector = RN_NONE,
	                .stem = stem, .sling = RN_NONE};
	int i;
	assert_int_equal(rn_model_add_node(m, &node, &i), RN_OK);
	build_number(m, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_HEIGHT, height);
	return i;
}

static rn_model *begin(void)
{
	rn_model *model;
	rn_allocator allocator = rn_allocator_default();
	assert_int_equal(rn_model_create(&allocator, &model), RN_OK);
	return model;
}

static double *values_of(const rn_model *m)
{
	double *values = malloc((size_t)m->number_count * sizeof *values);
	assert_non_null(values);
	for (int i = 0; i < m->number_count; i++)
		values[i] = m->numbers[i].value;
	return values;
}

/* Cantilever of one section: a^2 (3 b - a) / 6 EI, a <= b. */
static void test_uniform_cantilever(void **state)
{
	(void)state;
	rn_model *m = begin();
	int stem = add_stem(m, "s", 0, 0, 0.3, 0.3, 10, RN_GIVE_YES);
	double *values = values_of(m), ei = 9e9 * pi / 64 * pow(0.3, 4);
	for (double a = 0.7; a < 10; a += 1.13)
		for (double b = a; b < 11; b += 1.7) {
			rn_assert_near(rn_stem_bends(m, values, stem, a, b), a * a * (3 * b - a) / (6 * ei), 1e-13, 0);
			rn_assert_near(rn_stem_bends(m, values, stem, b, a), a * a * (3 * b - a) / (6 * ei), 1e-13, 0);
			rn_assert_near(rn_stem_shortens(m, values, stem, a, b), a / (9e9 * pi / 4 * 0.09), 1e-13, 0);
		}
	free(values);
	rn_model_destroy(m);
}

/* Tip load on a linear taper from D at the foot to d at the tip, I ~ d^4: the integral of
 * (h - z)^2 / d(z)^4 is h^3 / (3 D^3 d), so the tip moves by P h^3 / (3 E I_D) x D/d. */
static void test_tapered_cantilever(void **state)
{
	(void)state;
	rn_model *m = begin();
	int stem = add_stem(m, "s", 0, 0, 0.40, 0.16, 12, RN_GIVE_YES);
	double *values = values_of(m), ei = 9e9 * pi / 64 * pow(0.40, 4);
	double expected = pow(12, 3) / (3 * ei) * 0.40 / 0.16;
	rn_assert_near(rn_stem_bends(m, values, stem, 12, 12), expected, 1e-12, 0);
	free(values);
	rn_model_destroy(m);
}

static void test_which_stems_give(void **state)
{
	(void)state;
	for (int give = RN_GIVE_NO; give <= RN_GIVE_AUTO; give++)
		for (int joined = 0; joined < 2; joined++) {
			rn_model *m = begin();
			int stem = add_stem(m, "s", 0, 0, 0.3, 0.2, 10, (rn_give)give);
			int top = add_anchor(m, "top", stem, 9);
			int far = build_node(m, "far", joined ? RN_NODE_ANCHOR : RN_NODE_PIECE, 6, 1, 0);
			build_sling(m, "guy", top, far, 1e6, 0);
			bool expected = give == RN_GIVE_YES || (give == RN_GIVE_AUTO && joined);
			assert_int_equal(rn_stem_gives(m, stem), expected);
			rn_model_destroy(m);
		}
}

/* Two legs hold a ring in its plane whatever gives; a third one shares by what does, wherever it is made fast. */
static void test_stems_of_three_legs_give(void **state)
{
	(void)state;
	for (int legs = 2; legs <= 3; legs++)
		for (int twice = 0; twice < 2; twice++) {
			rn_model *m = begin();
			int stem = add_stem(m, "s", 0, 0, 0.3, 0.2, 10, RN_GIVE_AUTO);
			int other = add_stem(m, "o", 9, 0, 0.3, 0.2, 10, RN_GIVE_AUTO);
			int top = add_anchor(m, "top", stem, 9), far = build_node(m, "far", RN_NODE_ANCHOR, 6, 9, 0);
			int third = build_node(m, "third", RN_NODE_ANCHOR, 3, 9, 0);
			int ring = build_node(m, "ring", RN_NODE_RING, 3, 6, 0);
			build_sling(m, "left", top, ring, 1e6, 0);
			build_sling(m, "right", ring, far, 1e6, 0);
			if (twice)
				build_sling(m, "beside", top, ring, 1e6, 0); /* no other place */
			if (legs == 3) {
				build_line(m, "middle", 1e6);
				build_station(m, RN_TIE, third, 0, 0);
				build_station(m, RN_TIE, ring, 0, 0);
			}
			assert_int_equal(rn_stem_gives(m, stem), legs == 3);
			assert_false(rn_stem_gives(m, other));
			rn_model_destroy(m);
		}
}

/* A guy from a stem to the ground, pretension 2 kN on a stem that gives: two springs in a row. The
 * stem's top moves by T cos(angle) f, the guy shortens by that times cos(angle), so with the guy's
 * k = EA/L0:  T = T0 / (1 + k f cos^2(angle)), up to the small change of its angle. */
static void test_guy_relaxes(void **state)
{
	(void)state;
	rn_model *m = begin();
	int stem = add_stem(m, "s", 0, 0, 0.4, 0.4, 10, RN_GIVE_AUTO);
	int top = add_anchor(m, "top", stem, 8);
	int ground = build_node(m, "ground", RN_NODE_ANCHOR, 6, 0, 0);
	int guy = build_sling(m, "guy", top, ground, 2e5, 0);
	build_number(m, rn_object_of(RN_LEG, m->slings[guy].first_leg), RN_ATTRIBUTE_PRETENSION, 2000);
	rn_options options = rn_options_default();
	rn_result *result;
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	const rn_case_result *answer = &result->cases[0];
	double f = pow(8, 3) / (3 * 9e9 * pi / 64 * pow(0.4, 4)) * 1.001; /* bark gives a thousandth */
	double a = 8 / (9e9 * pi / 4 * 0.16) * 1.001;
	double length = 10, k = 2e5 / (length / (1 + 2000 / 2e5));
	double expected = 2000 / (1 + k * (f * 0.36 + a * 0.64));
	assert_int_equal(answer->outcome, RN_OUTCOME_SETTLED);
	rn_assert_near(answer->spans[0].tension, expected, 2e-3, 0);
	rn_assert_near(answer->nodes[top].place[0], expected * 0.6 * f, 2e-3, 0);
	assert_true(answer->balance.closed);
	rn_result_destroy(result);
	rn_model_destroy(m);
}

/* A leaning stem is the upright one turned: what it does to a rope square to it is the same. */
static void test_lean_turns(void **state)
{
	(void)state;
	double tension[2];
	for (int k = 0; k < 2; k++) {
		double lean = k ? 0.35 : 0;
		rn_model *m = begin();
		int stem = add_stem(m, "s", 0, lean, 0.4, 0.3, 10, RN_GIVE_AUTO);
		int top = add_anchor(m, "top", stem, 8);
		double x = 8 * sin(lean) + 5 * cos(lean), y = 8 * cos(lean) - 5 * sin(lean);
		int far = build_node(m, "far", RN_NODE_ANCHOR, x, y, 0);
		int guy = build_sling(m, "guy", top, far, 2e5, 0);
		build_number(m, rn_object_of(RN_LEG, m->slings[guy].first_leg), RN_ATTRIBUTE_PRETENSION, 2000);
		rn_options options = rn_options_default();
		rn_result *result;
		assert_int_equal(rn_model_check(m), RN_OK);
		assert_int_equal(rn_solve(m, &options, &result), RN_OK);
		tension[k] = result->cases[0].spans[0].tension;
		rn_result_destroy(result);
		rn_model_destroy(m);
	}
	rn_assert_near(tension[1], tension[0], 1e-9, 0);
}

/* A level branch of length a at height h of an upright stem, both uniform; a unit load down at its tip.
 * Down:     a^3 / 3 EI_b + a^2 h / EI_s + h / EA_s
 * Sideways: a h^2 / 2 EI_s     (the stem bends toward the load, and the branch with it) */
static void test_branch(void **state)
{
	(void)state;
	const double h = 6.5, a = 3.2, e = 9e9;
	rn_model *m = begin();
	int stem = add_stem(m, "s", 1.5, 0, 0.4, 0.4, 10, RN_GIVE_YES);
	rn_stem branch = {.id = "limb", .give = RN_GIVE_AUTO, .on = stem};
	int limb, section;
	assert_int_equal(rn_model_add_stem(m, &branch, &limb), RN_OK);
	rn_object object = rn_object_of(RN_STEM, limb);
	build_number(m, object, RN_ATTRIBUTE_HEIGHT, h);
	build_number(m, object, RN_ATTRIBUTE_LEAN, pi / 2);
	build_number(m, object, RN_ATTRIBUTE_MODULUS, e);
	rn_section d = {.stem = limb};
	assert_int_equal(rn_model_add_section(m, &d, &section), RN_OK);
	build_number(m, rn_object_of(RN_SECTION, section), RN_ATTRIBUTE_HEIGHT, 0);
	build_number(m, rn_object_of(RN_SECTION, section), RN_ATTRIBUTE_DIAMETER, 0.2);
	double *values = values_of(m), out[4], axis[2], diameter;
	double stem_ei = e * pi / 64 * pow(0.4, 4), limb_ei = e * pi / 64 * pow(0.2, 4);
	rn_stem_at(m, values, limb, a, axis, &diameter);
	rn_assert_near(axis[0], 1.5 + a, 1e-14, 0);
	rn_assert_near(axis[1], h, 1e-14, 0);
	rn_tree_bends(m, values, limb, a, limb, a, out);
	rn_assert_near(out[3], pow(a, 3) / (3 * limb_ei) + a * a * h / stem_ei + h / (e * pi / 4 * 0.16), 1e-12, 0);
	rn_assert_near(-out[1], a * h * h / (2 * stem_ei), 1e-12, 0);
	rn_assert_near(out[1], out[2], 1e-13, 0);
	/* Maxwell: the stem's top moves for a load on the branch as the branch does for one on the top */
	double other[4];
	rn_tree_bends(m, values, limb, a, stem, 9, out);
	rn_tree_bends(m, values, stem, 9, limb, a, other);
	for (int k = 0; k < 4; k++)
		rn_assert_near(out[k], other[2 * (k % 2) + k / 2], 1e-13, 1e-20);
	free(values);
	rn_model_destroy(m);
}

/* On one stem the tree's way and the stem's own agree. */
static void test_tree_is_stem(void **state)
{
	(void)state;
	rn_model *m = begin();
	int stem = add_stem(m, "s", 0, 0.2, 0.45, 0.2, 11, RN_GIVE_YES);
	double *values = values_of(m), out[4], n[2] = {cos(0.2), -sin(0.2)};
	rn_tree_bends(m, values, stem, 4.2, stem, 9.7, out);
	double across = n[0] * (out[0] * n[0] + out[1] * n[1]) + n[1] * (out[2] * n[0] + out[3] * n[1]);
	rn_assert_near(across, rn_stem_bends(m, values, stem, 4.2, 9.7), 1e-12, 0);
	double along = n[1] * (out[0] * n[1] - out[1] * n[0]) - n[0] * (out[2] * n[1] - out[3] * n[0]);
	rn_assert_near(along, rn_stem_shortens(m, values, stem, 4.2, 9.7), 1e-9, 0);
	free(values);
	rn_model_destroy(m);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_uniform_cantilever), cmocka_unit_test(test_tapered_cantilever),
		cmocka_unit_test(test_which_stems_give),   cmocka_unit_test(test_guy_relaxes),
		cmocka_unit_test(test_lean_turns),         cmocka_unit_test(test_branch),
		cmocka_unit_test(test_tree_is_stem),       cmocka_unit_test(test_stems_of_three_legs_give),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
