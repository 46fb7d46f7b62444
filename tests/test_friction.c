/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The two friction laws against published rows, against the laws themselves by substitution, and
 * their slopes against differences.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>

#include "solver/base/vec2.h"
#include "solver/model/place.h"
#include "solver/statics/friction.h"
#include "tests/build.h"
#include "tests/support.h"

static double capstan_ratio(double mu, double bend, double turns)
{
	double log_ratio, slope;
	rn_friction_capstan(mu, bend, turns, &log_ratio, &slope);
	return exp(log_ratio);
}

static double sheave_ratio(double c, double bend)
{
	double log_ratio, slope;
	rn_friction_sheave(c, bend, &log_ratio, &slope);
	return exp(log_ratio);
}

/* ---- capstan --------------------------------------------------------------------------------- */

/* Turns on a bollard: aluminium tube, polyester sheath, mu 0.175, 100 kg; Delaney, Physics for
 * Roping Technicians (2022), p. 88; printed ratio and hand force [kg], half a digit each. */
static const struct {
	double turns, ratio, ratio_half_digit, hand, exact_ratio, exact_hand;
} bollard[] = {
	{0.25, 1.32, 0.005, 75.97, 1.316385, 75.965617},
	{0.5, 1.73, 0.005, 57.71, 1.732870, 57.707750},
	{1, 3.00, 0.005, 33.30, 3.002837, 33.301844},
	{2, 9.02, 0.005, 11.09, 9.017029, 11.090128},
	{3, 27.08, 0.005, 3.69, 27.076665, 3.693217},
	{4, 81.31, 0.005, 1.23, 81.306805, 1.229909},
	{5, 244.15, 0.005, 0.41, 244.151063, 0.409582},
	{6, 733.15, 0.005, 0.14, 733.145787, 0.136399},
};

static void test_turns_on_a_bollard_hold_as_published(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof bollard / sizeof *bollard; i++) {
		double ratio = capstan_ratio(0.175, 0, bollard[i].turns);
		rn_assert_near(ratio, bollard[i].ratio, 0, bollard[i].ratio_half_digit);
		rn_assert_near(100 / ratio, bollard[i].hand, 0, 0.005);
		rn_assert_near(ratio, bollard[i].exact_ratio, 0, 0.6e-6);
		rn_assert_near(100 / ratio, bollard[i].exact_hand, 0, 0.6e-6);
		/* turns and bend are the same thing */
		rn_assert_near(capstan_ratio(0.175, 2 * RN_PI * bollard[i].turns, 0), ratio, 1e-14,
		               0);
	}
}

static void test_capstan_rows(void **state)
{
	(void)state;
	/* open course Engineering Mechanics 1, exercise 27: 100 kg, g 9.81, mu 0.2, 3 pi/2: 382.26
	 * N */
	double hold = 100 * 9.81 / capstan_ratio(0.2, 1.5 * RN_PI, 0);
	rn_assert_near(hold, 382.26, 0, 0.005);
	rn_assert_near(hold, 382.25758, 0, 0.6e-5);
	/* Beer and Johnston, Statics, 10th ed., problem 8.104: 2 turns, 80 lb hold 5,000 lb: mu
	 * 0.329; 2.67 turns hold 20,000 lb */
	rn_assert_near(80 * capstan_ratio(0.3290661, 0, 2), 5000, 1e-6, 0);
	rn_assert_near(80 * capstan_ratio(0.3290661, 0, 2.6704902), 20000, 1e-6, 0);
	/* Meriam and Kraige, Statics, 6/86: 50 kg, g 9.81, half a turn, 70 N lowers it: mu 0.620;
	 * it is raised by 3.44 kN */
	rn_assert_near(70 * capstan_ratio(0.61972708, RN_PI, 0), 50 * 9.81, 1e-7, 0);
	rn_assert_near(50 * 9.81 * capstan_ratio(0.61972708, RN_PI, 0), 3437.0036, 1e-7, 0);
	/* homework problem "rope friction": 1.5 turns, mu 0.25, 1,000 N: 94.78 to 10,550.72 N */
	rn_assert_near(1000 / capstan_ratio(0.25, 0, 1.5), 94.780225, 0, 0.6e-6);
	rn_assert_near(1000 * capstan_ratio(0.25, 0, 1.5), 10550.724, 0, 0.6e-3);
	/* homework problem: three fixed pipes, half a turn on each, mu 0.25, 44 lb: 4.173 lb
	 * (rounded on the way, 2 %) */
	rn_assert_near(44 / capstan_ratio(0.25, 3 * RN_PI, 0), 4.1703299, 0, 0.6e-7);
	rn_assert_near(44 / capstan_ratio(0.25, 3 * RN_PI, 0), 4.173, 0.02, 0);
	/* textbook exercise: crossed belt with a lap of 199.188136 deg, mu 0.25, T1 1,000 N */
	rn_assert_near(1000 / capstan_ratio(0.25, 199.188136 * RN_PI / 180, 0), 419.319465, 1e-8,
	               0);
}

/* Static rope over tubes, bars, timber: Delaney (2022) p. 88: arc [deg], raise and lower [kg], mu.
 * One contact: raise / load = load / lower = exp(mu arc). */
static void test_raise_and_lower_pairs(void **state)
{
	(void)state;
	static const double rows[][4] = {
		{90, 98, 50, 0.214205},   {180, 88, 35, 0.146739},  {90, 103, 47, 0.249740},
		{180, 125, 37, 0.193755}, {180, 127, 29, 0.235055}, {180, 179, 17, 0.374678},
		{180, 140, 15, 0.355487}, {90, 135, 34, 0.438922},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double ratio = capstan_ratio(rows[i][3], rows[i][0] * RN_PI / 180, 0);
		rn_assert_near(ratio * ratio, rows[i][1] / rows[i][2], 4e-6, 0);
	}
}

/* ---- sheave ---------------------------------------------------------------------------------- */

static void test_half_a_turn_gives_one_over_the_efficiency(void **state)
{
	(void)state;
	for (double eta = 0.02; eta < 1; eta += 0.0173)
		rn_assert_near(sheave_ratio((1 - eta) / (1 + eta), RN_PI), 1 / eta, 1e-13, 0);
	rn_assert_near(sheave_ratio(0, RN_PI), 1, 0, 0);
}

/* Plain pin: T2/T1 = (1 + mu r/R)/(1 - mu r/R) over half a turn, mu 0.2 assumed; tread and pin
 * radii of three blocks from Donzelli, J. Arboric. 25(2):61-68 (1999), Table 1. */
static void test_plain_pins(void **state)
{
	(void)state;
	static const double rows[][3] = {
		{27.559, 9.525, 1.148515}, {52.324, 9.525, 1.075567}, {29.21, 9.3898, 1.137418}};
	for (size_t i = 0; i < 3; i++)
		rn_assert_near(sheave_ratio(0.2 * rows[i][1] / rows[i][0], RN_PI), rows[i][2], 0,
		               0.6e-6);
}

/* The law itself: T2 - T1 = c |T1 u1 - T2 u2|, for rope that turns by the bend. */
static void test_sheave_satisfies_its_law(void **state)
{
	(void)state;
	support_random random = support_random_from(21);
	for (int trial = 0; trial < 2000; trial++) {
		double c = support_random_between(&random, 1e-4, 0.5);
		double bend = support_random_between(&random, 1e-3, 2 * RN_PI - 1e-3);
		double t1 = support_random_between(&random, 10, 5000),
		       t2 = t1 * sheave_ratio(c, bend);
		rn_vec2 u1 = rn_vec2_heading(0.649), u2 = rn_vec2_heading(0.649 + bend);
		double resultant =
			rn_vec2_length(rn_vec2_sub(rn_vec2_scale(t1, u1), rn_vec2_scale(t2, u2)));
		assert_true(t2 > t1);
		rn_assert_near(t2 - t1, c * resultant, 0, 1e-12 * t2);
	}
}

/* At small bends dT = c sqrt(dT^2 + (T bend)^2): the loss is c/sqrt(1 - c^2) times the bend, to the
 * second order. */
static void test_sheave_at_small_bends(void **state)
{
	(void)state;
	for (double c = 0.01; c < 0.4; c += 0.037)
		for (double k = c / sqrt(1 - c * c), bend = 1e-9; bend < 1e-2; bend *= 7) {
			double log_ratio, slope;
			rn_friction_sheave(c, bend, &log_ratio, &slope);
			rn_assert_near(log_ratio, k * bend, bend * bend + 1e-15, 0);
			rn_assert_near(slope, k, bend * bend + 1e-15, 0);
		}
}

/* ---- slopes ---------------------------------------------------------------------------------- */

static void test_slopes_are_those_of_differences(void **state)
{
	(void)state;
	support_random random = support_random_from(22);
	const double h = 1e-5;
	for (int trial = 0; trial < 1000; trial++) {
		double strength = support_random_between(&random, 1e-3, 0.5);
		double bend = support_random_between(&random, 0.01, 6.2),
		       turns = support_random_below(&random, 4);
		double low, high, slope, unused;
		rn_friction_capstan(strength, bend - h, turns, &low, &unused);
		rn_friction_capstan(strength, bend + h, turns, &high, &unused);
		rn_friction_capstan(strength, bend, turns, &unused, &slope);
		rn_assert_near(slope, (high - low) / (2 * h), 1e-8, 0);
		rn_friction_sheave(strength, bend - h, &low, &unused);
		rn_friction_sheave(strength, bend + h, &high, &unused);
		rn_friction_sheave(strength, bend, &unused, &slope);
		rn_assert_near(slope, (high - low) / (2 * h), 0, 1e-8 * strength);
	}
}

static void test_no_bend_no_loss(void **state)
{
	(void)state;
	rn_assert_near(sheave_ratio(0.1, 0), 1, 0, 0);
	rn_assert_near(capstan_ratio(0.3, 0, 0), 1, 0, 0);
}

/* ---- in a solution --------------------------------------------------------------------------- */

typedef struct settled {
	rn_model *model;
	rn_result *result;
	const rn_case_result *answer;
} settled;

static settled settle(const net_data *n)
{
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	settled s = {.model = net_model(n, &allocator)};
	assert_non_null(s.model);
	assert_int_equal(rn_solve(s.model, &options, &s.result), RN_OK);
	s.answer = &s.result->cases[0];
	assert_int_equal(s.answer->outcome, RN_OUTCOME_SETTLED);
	return s;
}

static void drop(settled *s)
{
	rn_result_destroy(s->result);
	rn_model_destroy(s->model);
}

/* Every pass of a settled rigging obeys the law of its station, the way its line runs. */
static void test_passes_obey_their_law(void **state)
{
	(void)state;
	for (int toward_last = 0; toward_last < 2; toward_last++) {
		net_data n = net_rigging();
		n.lines[0].toward_last = toward_last;
		settled s = settle(&n);
		assert_int_equal(s.answer->pass_count, 3);
		for (int i = 0; i < 3; i++) {
			const rn_pass_result *p = &s.answer->passes[i];
			const net_station *station = &n.lines[0].stations[p->station];
			double low = toward_last ? p->before : p->after,
			       high = toward_last ? p->after : p->before;
			double resultant = hypot(p->force[0], p->force[1]);
			assert_true(high > low);
			if (station->efficiency > 0)
				rn_assert_near(high - low,
				               (1 - station->efficiency) /
				                       (1 + station->efficiency) * resultant,
				               1e-10, 0);
			else
				rn_assert_near(log(high / low), station->friction * p->bend, 1e-10,
				               0);
		}
		drop(&s);
	}
}

/* A tag line held with 95 N behind two turns of a bollard: rope that is let out is held by more
 * than the hand; to haul in, the turns are taken off. */
static void test_turns_before_a_given_pull(void **state)
{
	(void)state;
	for (int hauled = 0; hauled < 2; hauled++)
		for (int reverse = 0; reverse < 2; reverse++) {
			net_data n = {.friction = true};
			net_change change = net_change_none();
			net_map map;
			int top = net_add_node(&n, RN_NODE_ANCHOR, 0, 9, 0);
			int post = net_add_node(&n, RN_NODE_BOLLARD, 6, 1, 0);
			int log = net_add_node(&n, RN_NODE_PIECE, 0, 4, 2385);
			net_add_sling(&n, top, log, 5e5);
			net_line *line = net_add_line(&n, 2e4, hauled);
			net_add_station(line, RN_TIE, log, 0);
			net_station *hold = net_add_station(line, RN_HOLD, post, 0);
			hold->friction = 0.15;
			hold->pull = 95;
			change.reverse = reverse;
			net_data written = net_changed(&n, change, &map);
			settled s = settle(&written);
			double ratio = exp(0.15 * 2 * 2 * RN_PI);
			rn_assert_near(net_tension(s.answer, RN_LINE, 0, 0),
			               hauled ? 95 : 95 * ratio, 1e-12, 0);
			assert_int_equal(s.answer->hold_count, 1); /* the hand is told what it was given */
			rn_assert_near(s.answer->holds[0].hand_least, 95, 1e-12, 0);
			rn_assert_near(s.answer->holds[0].hand_most, 95, 1e-12, 0);
			drop(&s);
		}
}

/* A ring on a line between two anchors: that a rough line does not run, for both its ends are alike, is said where there is
 * friction, and only there. Over a fork to a bollard it runs, and nothing is said. */
static void test_what_does_not_run_is_said(void **state)
{
	(void)state;
	for (int k = 0; k < 8; k++) {
		bool friction = k & 1, rough = k & 2, runs = k & 4;
		net_data n = {.friction = friction};
		int left = net_add_node(&n, runs ? RN_NODE_PIECE : RN_NODE_ANCHOR, 0, runs ? 5 : 9, runs ? 900 : 0);
		int over = net_add_node(&n, runs ? RN_NODE_FORK : RN_NODE_RING, 3, runs ? 9 : 6, runs ? 0 : 900);
		int right = net_add_node(&n, runs ? RN_NODE_BOLLARD : RN_NODE_ANCHOR, 6, runs ? 1 : 9, 0);
		net_line *line = net_add_line(&n, 5e4, false);
		net_add_station(line, RN_TIE, left, 0);
		net_add_station(line, RN_THROUGH, over, 0)->friction = rough ? 0.2 : 0;
		net_add_station(line, runs ? RN_HOLD : RN_TIE, right, 0);
		rn_allocator allocator = rn_allocator_default();
		rn_options options = rn_options_default();
		rn_model *model = net_model(&n, &allocator);
		assert_non_null(model);
		if (!runs) /* nobody said which way */
			model->cases[0].run_count = 0;
		rn_result *result;
		assert_int_equal(rn_solve(model, &options, &result), RN_OK);
		int said = 0;
		for (int i = 0; i < result->cases[0].notes.count; i++)
			said += result->cases[0].notes.items[i].kind == RN_NOTE_DOES_NOT_RUN;
		assert_int_equal(said, friction && rough && !runs);
		rn_result_destroy(result);
		rn_model_destroy(model);
	}
}

/* A groove's own friction goes before the efficiency of its gear, and the other way round. */
static void test_the_nearest_number_says_the_law(void **state)
{
	(void)state;
	static const struct {
		double gear_friction, gear_efficiency, own_friction, own_efficiency;
		bool is_sheave;
		double counts;
	} rows[] = {
		{0, 0.9, 0.1, 0, false, 0.1}, {0.2, 0, 0, 0.95, true, 0.95}, {0, 0.9, 0, 0.95, true, 0.95},
		{0.2, 0, 0.1, 0, false, 0.1}, {0, 0.9, 0, 0, true, 0.9},     {0.2, 0, 0, 0, false, 0.2},
	};
	rn_allocator allocator = rn_allocator_default();
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_model *m;
		assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
		rn_item gear = {.id = "gear", .kind = RN_ITEM_BLOCK};
		int item;
		assert_int_equal(rn_model_add_item(m, &gear, &item), RN_OK);
		int node = build_node(m, "top", RN_NODE_ANCHOR, 0, 9, 0);
		m->nodes[node].gear = item;
		build_line(m, "line", 1e5);
		int station = build_station(m, RN_THROUGH, node, 0, 0);
		const struct {
			rn_object object;
			rn_attribute attribute;
			double value;
		} numbers[] = {
			{rn_object_of(RN_ITEM, item), RN_ATTRIBUTE_FRICTION, rows[i].gear_friction},
			{rn_object_of(RN_ITEM, item), RN_ATTRIBUTE_EFFICIENCY, rows[i].gear_efficiency},
			{rn_object_of(RN_STATION, station), RN_ATTRIBUTE_FRICTION, rows[i].own_friction},
			{rn_object_of(RN_STATION, station), RN_ATTRIBUTE_EFFICIENCY, rows[i].own_efficiency},
		};
		for (size_t k = 0; k < 4; k++)
			if (numbers[k].value > 0)
				build_number(m, numbers[k].object, numbers[k].attribute, numbers[k].value);
		double values[16];
		assert_true(m->number_count <= 16);
		for (int k = 0; k < m->number_count; k++)
			values[k] = m->numbers[k].value;
		rn_contact_law law = rn_station_contact(m, values, station);
		assert_true(law.is_sheave == rows[i].is_sheave);
		rn_assert_near(law.is_sheave ? law.efficiency : law.friction, rows[i].counts, 0, 0);
		rn_model_destroy(m);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_turns_on_a_bollard_hold_as_published),
		cmocka_unit_test(test_capstan_rows),
		cmocka_unit_test(test_raise_and_lower_pairs),
		cmocka_unit_test(test_half_a_turn_gives_one_over_the_efficiency),
		cmocka_unit_test(test_plain_pins),
		cmocka_unit_test(test_sheave_satisfies_its_law),
		cmocka_unit_test(test_sheave_at_small_bends),
		cmocka_unit_test(test_slopes_are_those_of_differences),
		cmocka_unit_test(test_no_bend_no_loss),
		cmocka_unit_test(test_passes_obey_their_law),
		cmocka_unit_test(test_turns_before_a_given_pull),
		cmocka_unit_test(test_what_does_not_run_is_said),
		cmocka_unit_test(test_the_nearest_number_says_the_law),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
