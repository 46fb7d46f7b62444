/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Bars that push: textbook struts, own weight, limits, and what topples.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/build.h"
#include "tests/support.h"

typedef struct rig {
	rn_model *model;
	rn_result *result;
} rig;

static rig begin(void)
{
	rig r = {NULL, NULL};
	rn_allocator allocator = rn_allocator_default();
	assert_int_equal(rn_model_create(&allocator, &r.model), RN_OK);
	return r;
}

static int add_prop(rn_model *m, const char *id, int from, int to, double weight)
{
	rn_prop prop = {.id = id, .from = from, .to = to};
	int i;
	assert_int_equal(rn_model_add_prop(m, &prop, &i), RN_OK);
	if (weight > 0)
		build_number(m, rn_object_of(RN_PROP, i), RN_ATTRIBUTE_WEIGHT, weight);
	return i;
}

/* A bar so thick and stiff that it keeps its length. */
static void make_rigid(rn_model *m, int prop)
{
	rn_object object = rn_object_of(RN_PROP, prop);
	build_number(m, object, RN_ATTRIBUTE_DIAMETER, 1);
	build_number(m, object, RN_ATTRIBUTE_MODULUS, 1e15);
}

static const rn_case_result *solve(rig *r)
{
	rn_options options = rn_options_default();
	assert_int_equal(rn_model_check(r->model), RN_OK);
	assert_int_equal(rn_solve(r->model, &options, &r->result), RN_OK);
	return &r->result->cases[0];
}

static void end(rig *r)
{
	rn_result_destroy(r->result);
	rn_model_destroy(r->model);
}

static double tension_of(const rig *r, rn_object_kind kind, int index)
{
	const rn_case_result *answer = &r->result->cases[0];
	for (int i = 0; i < answer->span_count; i++)
		if (answer->spans[i].member.kind == kind && answer->spans[i].member.index == index)
			return answer->spans[i].tension;
	return nan("");
}

/* Baker and Haynes, Engineering Statics: Open and Interactive, ch. 3 "Cargo Boom": boom 20 m at 50 deg,
 * topping lift along (-4, 1), 24 kN: lift 17.16 kN, boom 25.9 kN. */
static void test_cargo_boom(void **state)
{
	(void)state;
	rig r = begin();
	int heel = build_node(r.model, "heel", RN_NODE_ANCHOR, 0, 0, 0);
	int head = build_node(r.model, "head", RN_NODE_JOINT, 12.855752, 15.320889, 24000);
	int mast = build_node(r.model, "mast", RN_NODE_ANCHOR, 0, 18.534827, 0);
	make_rigid(r.model, add_prop(r.model, "boom", heel, head, 0));
	build_sling(r.model, "lift", head, mast, 1e13, 0);
	const rn_case_result *answer = solve(&r);
	assert_int_equal(answer->outcome, RN_OUTCOME_SETTLED);
	rn_assert_near(tension_of(&r, RN_SLING, 0), 17158.71, 0, 0.005);
	rn_assert_near(tension_of(&r, RN_PROP, 0), -25897.19, 0, 0.005);
	assert_true(answer->balance.closed);
	end(&r);
}

/* OpenStax, University Physics vol. 1, m58341: uniform strut 4 m, 600 N, cable from its tip to (0, 3),
 * 400 N at the tip: cable 1,167 N, hinge 980 N at 18 deg above the horizontal. */
static void test_strut_with_own_weight(void **state)
{
	(void)state;
	rig r = begin();
	int hinge = build_node(r.model, "hinge", RN_NODE_ANCHOR, 0, 0, 0);
	int tip = build_node(r.model, "tip", RN_NODE_JOINT, 4, 0, 400);
	int wall = build_node(r.model, "wall", RN_NODE_ANCHOR, 0, 3, 0);
	make_rigid(r.model, add_prop(r.model, "strut", hinge, tip, 600));
	build_sling(r.model, "cable", tip, wall, 1e13, 0);
	const rn_case_result *answer = solve(&r);
	rn_assert_near(tension_of(&r, RN_SLING, 0), 1166.667, 0, 0.0005);
	rn_assert_near(tension_of(&r, RN_PROP, 0), -933.3333, 0, 0.00005);
	const double *pull = answer->nodes[hinge].pull;
	rn_assert_near(hypot(pull[0], pull[1]), 980.3627, 0, 0.0005);
	rn_assert_near(atan2(-pull[1], -pull[0]) * 180 / 3.14159265358979, 17.81889, 0, 0.0001);
	end(&r);
}

/* Tayal, Engineering Mechanics, Ex. 2.9: bracket A(0, 0.3), B(0, -0.2), C(0.25, 0), 1,000 N: tie 781.0 N,
 * strut 640.3 N. */
static void test_bracket(void **state)
{
	(void)state;
	rig r = begin();
	int a = build_node(r.model, "a", RN_NODE_ANCHOR, 0, 0.3, 0);
	int b = build_node(r.model, "b", RN_NODE_ANCHOR, 0, -0.2, 0);
	int c = build_node(r.model, "c", RN_NODE_JOINT, 0.25, 0, 1000);
	make_rigid(r.model, add_prop(r.model, "strut", b, c, 0));
	build_sling(r.model, "tie", a, c, 1e13, 0);
	solve(&r);
	rn_assert_near(tension_of(&r, RN_SLING, 0), 781.025, 0, 0.0005);
	rn_assert_near(tension_of(&r, RN_PROP, 0), -640.3124, 0, 0.0005);
	end(&r);
}

static bool says(const rn_case_result *answer, rn_note_kind kind)
{
	for (int i = 0; i < answer->notes.count; i++)
		if (answer->notes.items[i].kind == kind)
			return true;
	return false;
}

static void assert_topples(double lean)
{
	rig r = begin();
	int heel = build_node(r.model, "heel", RN_NODE_ANCHOR, 0, 0, 0);
	int head = build_node(r.model, "head", RN_NODE_PIECE, lean, 8, 4000);
	add_prop(r.model, "spar", heel, head, 600);
	const rn_case_result *answer = solve(&r);
	assert_int_equal(answer->outcome, RN_OUTCOME_NO_EQUILIBRIUM);
	assert_true(says(answer, RN_NOTE_TOPPLES));
	assert_int_equal(r.result->verdict.exit_class, 4);
	end(&r);
}

static void test_bare_spar_topples(void **state)
{
	(void)state;
	assert_topples(0); /* balanced on its edge */
	assert_topples(0.2);
	assert_topples(-3);
}

/* The slack guy on the side the spar leans to is ordinary: no toppling. */
static void test_guyed_spar_stands(void **state)
{
	(void)state;
	for (int side = -1; side <= 1; side += 2) {
		rig r = begin();
		int heel = build_node(r.model, "heel", RN_NODE_ANCHOR, 0, 0, 0);
		int head = build_node(r.model, "head", RN_NODE_JOINT, side * 1.0, 8, 4000);
		int left = build_node(r.model, "left", RN_NODE_ANCHOR, -6, 0, 0);
		int right = build_node(r.model, "right", RN_NODE_ANCHOR, 6, 0, 0);
		make_rigid(r.model, add_prop(r.model, "spar", heel, head, 0));
		build_sling(r.model, "guy", side > 0 ? left : right, head, 1e13, 0);
		build_sling(r.model, "lee", side > 0 ? right : left, head, 1e13, 0);
		const rn_case_result *answer = solve(&r);
		assert_int_equal(answer->outcome, RN_OUTCOME_SETTLED);
		/* moments about the heel: guy x arm = W x 1 m, arm = |heel x direction of the guy| */
		double length = hypot(7, 8), arm = 6 * 8 / length;
		rn_assert_near(tension_of(&r, RN_SLING, 0), 4000 / arm, 1e-6, 0);
		rn_assert_near(tension_of(&r, RN_SLING, 1), 0, 0, 0.1);
		end(&r);
	}
}

/* Limits by hand: d 0.3 m, sigma_c 15 MPa, E 8 GPa, factor 5. 4 m long it is crushed at 1,060 kN before
 * it buckles at pi^2 E I / L^2 = 1,962 kN; 8 m long it buckles at a quarter of that. */
static void test_limits(void **state)
{
	(void)state;
	for (int k = 1; k <= 2; k++) {
		rig r = begin();
		int heel = build_node(r.model, "heel", RN_NODE_ANCHOR, 0, 0, 0);
		int head = build_node(r.model, "head", RN_NODE_JOINT, 0, 4 * k, 10000);
		int left = build_node(r.model, "left", RN_NODE_ANCHOR, -6, 0, 0);
		int right = build_node(r.model, "right", RN_NODE_ANCHOR, 6, 0, 0);
		int prop = add_prop(r.model, "spar", heel, head, 0);
		rn_object object = rn_object_of(RN_PROP, prop);
		build_number(r.model, object, RN_ATTRIBUTE_DIAMETER, 0.3);
		build_number(r.model, object, RN_ATTRIBUTE_COMPRESSION, 15e6);
		build_number(r.model, object, RN_ATTRIBUTE_MODULUS, 8e9);
		build_number(r.model, object, RN_ATTRIBUTE_DESIGN_FACTOR, 5);
		build_sling(r.model, "a", left, head, 3e5, 0);
		build_sling(r.model, "b", right, head, 3e5, 0);
		const rn_case_result *answer = solve(&r);
		const rn_part_result *part = &answer->parts[2];
		assert_int_equal(part->object.kind, RN_PROP);
		assert_int_equal(part->governed, k == 1 ? RN_BY_CRUSHING : RN_BY_BUCKLING);
		double pi = 3.14159265358979323846, inertia = pi / 64 * pow(0.3, 4);
		double expected = k == 1 ? 15e6 * pi / 4 * 0.09 / 5 : pi * pi * 8e9 * inertia / 64 / 5;
		rn_assert_near(part->limit, expected, 1e-4, 0); /* the load shortens it a little */
		rn_assert_near(part->utilisation, part->demand / part->limit, 1e-15, 0);
		end(&r);
	}
}

/* A level log hung at butt and tip on two upright legs: each carries half, the log nothing along it. */
static void test_log_at_butt_and_tip(void **state)
{
	(void)state;
	rig r = begin();
	int a = build_node(r.model, "a", RN_NODE_ANCHOR, 0, 9, 0);
	int b = build_node(r.model, "b", RN_NODE_ANCHOR, 3.5, 8, 0);
	int butt = build_node(r.model, "butt", RN_NODE_PIECE, 0, 5, 0);
	int tip = build_node(r.model, "tip", RN_NODE_PIECE, 3.5, 5, 0);
	rn_prop log = {.id = "log", .from = butt, .to = tip, .is_piece = true};
	int i;
	assert_int_equal(rn_model_add_prop(r.model, &log, &i), RN_OK);
	build_number(r.model, rn_object_of(RN_PROP, i), RN_ATTRIBUTE_WEIGHT, 3000);
	build_sling(r.model, "sa", a, butt, 1e6, 0);
	build_sling(r.model, "sb", b, tip, 1e6, 0);
	const rn_case_result *answer = solve(&r);
	assert_int_equal(answer->outcome, RN_OUTCOME_SETTLED);
	rn_assert_near(tension_of(&r, RN_SLING, 0), 1500, 1e-6, 0);
	rn_assert_near(tension_of(&r, RN_SLING, 1), 1500, 1e-6, 0);
	rn_assert_near(tension_of(&r, RN_PROP, 0), 0, 0, 1);
	for (int p = 0; p < answer->part_count; p++)
		assert_true(answer->parts[p].object.kind != RN_PROP); /* the load is no part */
	end(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_cargo_boom),         cmocka_unit_test(test_strut_with_own_weight),
		cmocka_unit_test(test_bracket),            cmocka_unit_test(test_bare_spar_topples),
		cmocka_unit_test(test_guyed_spar_stands),  cmocka_unit_test(test_limits),
		cmocka_unit_test(test_log_at_butt_and_tip),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
