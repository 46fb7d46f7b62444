/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the studies tell beside their main number: which stops come next, which case and place they are in, where a
 * choice turns into another, how far off it may be, what the second answer of two is. On rigs whose answers are
 * closed forms, or against every choice solved by itself.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/xml/reader.h"
#include "solver/model/guess.h"
#include "solver/study/workspace.h"
#include "tests/build.h"
#include "tests/models.h"
#include "tests/support.h"

static const double pi = 3.14159265358979323846;

static const rn_object no_part = {RN_NODE, RN_NONE};

static const char *id_of(const rn_result *result, int part)
{
	return rn_object_id(result->model, result->cases[0].parts[part].object);
}

static int part_of(const rn_result *result, const char *id)
{
	for (int p = 0; p < result->cases[0].part_count; p++)
		if (strcmp(id_of(result, p), id) == 0)
			return p;
	fail_msg("no part %s", id);
	return RN_NONE;
}

/* ---- a chain: every link carries the whole weight ------------------------------------------------ */

enum { LINKS_MOST = 6 };

/* Slings one below the other, s0 at the top, each with a limit of its own; it breaks at twice that. `rest`: cases. */
static rn_document *chain_of(const double *limits, int count, double weight, const char *rest)
{
	char text[8192];
	int n = snprintf(text, sizeof text, "<cases made=\"none\"/><gear design-factor=\"2\">");
	for (int i = 0; i < count; i++)
		n += snprintf(text + n, sizeof text - (size_t)n,
		              "<item id=\"g%d\" kind=\"sling\" strength=\"%.17g N\" stiffness=\"100 MN\"/>", i, 2 * limits[i]);
	n += snprintf(text + n, sizeof text - (size_t)n,
	              "</gear><anchor id=\"top\" x=\"0 m\" y=\"9 m\" working-load=\"100 MN\"/>"
	              "<piece id=\"log\" x=\"0 m\" y=\"2 m\" weight=\"%.17g N\"/>",
	              weight);
	for (int i = 0; i + 1 < count; i++)
		n += snprintf(text + n, sizeof text - (size_t)n, "<joint id=\"j%d\" x=\"0 m\" y=\"%d m\"/>", i, 8 - i);
	for (int i = 0; i < count; i++) {
		char from[8] = "top", to[8] = "log";
		if (i > 0)
			snprintf(from, sizeof from, "j%d", i - 1);
		if (i + 1 < count)
			snprintf(to, sizeof to, "j%d", i);
		n += snprintf(text + n, sizeof text - (size_t)n,
		              "<sling id=\"s%d\" from=\"%s\" to=\"%s\" gear=\"g%d\" hitch=\"straight\"/>", i, from, to, i);
	}
	snprintf(text + n, sizeof text - (size_t)n, "%s", rest);
	return models_from(text);
}

static rn_largest largest_of(const rn_document *d)
{
	rn_options options = rn_options_default();
	rn_largest l;
	assert_int_equal(rn_largest_find(d->model, &options, rn_model_object_by_id(d->model, "log"), &l), RN_OK);
	return l;
}

static void check_stop(const rn_largest *l, const rn_halt *stop, const char *id, double weight)
{
	assert_int_equal(stop->kind, RN_HALT_PART);
	assert_string_equal(id_of(l->at, stop->part), id);
	rn_assert_near(stop->weight, weight, 2e-6, 0);
	assert_false(stop->guess_end);
}

/* Of six that come to their limit the three that come first are told, in order, though two come within one step; and
 * the walk ends with the third that would break. */
static void test_stops_in_their_order(void **state)
{
	(void)state;
	static const double limits[] = {1005, 1500, 1001, 1300, 1000, 1100};
	rn_document *d = chain_of(limits, 6, 400, "<case id=\"one\"/><case id=\"two\"/>");
	rn_largest l = largest_of(d);
	static const char *const ids[] = {"s4", "s2", "s0"};
	static const double first[] = {1000, 1001, 1005};
	assert_int_equal(l.working_count, RN_HALTS_MOST);
	assert_int_equal(l.breaking_count, RN_HALTS_MOST);
	for (int i = 0; i < RN_HALTS_MOST; i++) {
		check_stop(&l, &l.working[i], ids[i], first[i]);
		check_stop(&l, &l.breaking[i], ids[i], 2 * first[i]);
		assert_int_equal(l.working[i].case_index, 0); /* of two alike the first */
	}
	assert_true(l.weight <= 1000 && l.weight == l.working[0].weight);
	assert_true(l.looked_to >= 2010 && l.looked_to < 2010 * 1.02);
	assert_true(l.drawn == 400 && l.looked_from == 10);
	assert_false(l.ended || l.nothing_checked || l.under_load || l.guess_matters || l.several);
	rn_assert_near(l.at->cases[0].parts[part_of(l.at, "s4")].demand, l.weight, 1e-9, 0);
	rn_largest_release(&l);
	rn_document_destroy(d);
}

/* Each part stops in the case in which it comes first: the second pulls 100 N down besides, at the first joint alone. */
static void test_each_stop_in_its_case(void **state)
{
	(void)state;
	static const double limits[] = {1000, 1100};
	rn_document *d = chain_of(limits, 2, 400,
	                          "<case id=\"one\"><set of=\"log\" weight=\"500 N\"/></case>"
	                          "<case id=\"two\"><force at=\"j0\" size=\"300 N\" toward=\"down\"/></case>");
	rn_largest l = largest_of(d);
	assert_int_equal(l.working_count, 2);
	check_stop(&l, &l.working[0], "s0", 700); /* W + 300 in two; 1.25 W in one at 800 */
	assert_int_equal(l.working[0].case_index, 1);
	check_stop(&l, &l.working[1], "s1", 880); /* 1.25 W in one */
	assert_int_equal(l.working[1].case_index, 0);
	check_stop(&l, &l.breaking[0], "s0", 1600); /* 2000 / 1.25, before 1700 */
	assert_int_equal(l.breaking[0].case_index, 0);
	rn_largest_release(&l);
	rn_document_destroy(d);
}

/* Where no part comes to a limit the walk goes to its end, in steps of 2 %. */
static void test_nothing_stops_it(void **state)
{
	(void)state;
	static const double limits[] = {3e6};
	rn_document *d = chain_of(limits, 1, 400, "<case id=\"one\"/>");
	rn_largest l = largest_of(d);
	assert_int_equal(l.working_count, 0);
	assert_int_equal(l.breaking_count, 0);
	assert_true(l.looked_to > 1e6 / 1.02 && l.looked_to < 1e6 && l.weight == l.looked_to);
	assert_false(l.ended || l.nothing_checked);
	rn_options options = rn_options_default();
	rn_largest none;
	assert_int_equal(rn_largest_find(d->model, &options, rn_model_object_by_id(d->model, "top"), &none), RN_STATUS_ARGUMENT);
	rn_largest_release(&l);
	rn_document_destroy(d);
}

/* A weight that a hand above holds up with a pull, tied to a foot below: with less pull than weight it falls past the
 * foot. In the second case it weighs twice as much. */
static rn_document *pulled_up(double weight, double pull)
{
	char text[2048];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear design-factor=\"2\"><item id=\"g\" kind=\"sling\" strength=\"2000 N\" stiffness=\"100 MN\"/>"
	         "<item id=\"q\" kind=\"rope\" strength=\"20 kN\" diameter=\"14 mm\" stiffness=\"100 MN\"/></gear>"
	         "<anchor id=\"foot\" x=\"0 m\" y=\"0 m\" working-load=\"100 MN\"/><hand id=\"crew\" x=\"0 m\" y=\"9 m\"/>"
	         "<piece id=\"log\" x=\"0 m\" y=\"2 m\" weight=\"%.17g N\"/>"
	         "<sling id=\"s\" from=\"foot\" to=\"log\" gear=\"g\" hitch=\"straight\"/>"
	         "<line id=\"l\" gear=\"q\"><tie at=\"log\" knot=\"bowline\"/><hold at=\"crew\" pull=\"%.17g N\"/></line>"
	         "<case id=\"one\"/><case id=\"two\"><set of=\"log\" weight=\"%.17g N\"/></case>",
	         weight, pull, 2 * weight);
	return models_from(text);
}

static rn_varied_number pull_of_hand(const rn_document *d, double from, double to)
{
	const rn_model *m = d->model;
	for (int i = 0; i < m->station_count; i++) {
		int number = rn_model_find_number(m, rn_object_of(RN_STATION, i), RN_ATTRIBUTE_PULL);
		if (number != RN_NONE)
			return (rn_varied_number){number, from, to};
	}
	fail_msg("no pull");
	return (rn_varied_number){0};
}

/* The heavier case ends it, where it comes to the pull; with a pull below the lightest there is none at all. */
static void test_ends_where_it_falls(void **state)
{
	(void)state;
	static const double pulls[] = {900, 15};
	for (int i = 0; i < 2; i++) {
		rn_document *d = pulled_up(100, pulls[i]);
		rn_largest l = largest_of(d);
		double expected = i ? 0 : 450;
		assert_true(l.ended && l.working_count == 1);
		rn_assert_near(l.weight, expected, 2e-6, 0);
		assert_true(l.working[0].kind == RN_HALT_FALLS && l.working[0].weight == l.weight && l.looked_to == l.weight);
		assert_true(l.end.kind == RN_HALT_FALLS && l.end.weight == l.weight);
		assert_int_equal(l.end.case_index, 1);
		assert_true(l.end.part == RN_NONE && l.end.node == RN_NONE && !l.end.guess_end);
		/* the answer told is with the largest, or with the lightest when there is none */
		rn_assert_near(l.at->cases[0].parts[part_of(l.at, "s")].demand, pulls[i] - (i ? 10 : 450), 1e-5, 0);
		rn_largest_release(&l);
		rn_document_destroy(d);
	}
}

/* Two hands at the same height pull with so much each: together they hold less than twice that, for lines are never
 * plumb. */
static rn_document *between_hands(double weight, double pull)
{
	char text[2048];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear design-factor=\"1\"><item id=\"q\" kind=\"rope\" strength=\"900 kN\" diameter=\"14 mm\" "
	         "stiffness=\"10 MN\"/></gear><hand id=\"a\" x=\"-3 m\" y=\"9 m\"/><hand id=\"b\" x=\"3 m\" y=\"9 m\"/>"
	         "<piece id=\"log\" x=\"0 m\" y=\"6 m\" weight=\"%.17g N\"/>"
	         "<line id=\"l\" gear=\"q\"><tie at=\"log\" knot=\"bowline\"/><hold at=\"a\" pull=\"%.17g N\"/></line>"
	         "<line id=\"m\" gear=\"q\"><tie at=\"log\" knot=\"bowline\"/><hold at=\"b\" pull=\"%.17g N\"/></line>"
	         "<case id=\"one\"><set of=\"log\" weight=\"%.17g N\"/></case><case id=\"two\"/>",
	         weight, pull, pull, weight / 10);
	return models_from(text);
}

static void test_ends_without_an_answer(void **state)
{
	(void)state;
	rn_document *d = between_hands(400, 4.9);
	rn_largest l = largest_of(d);
	assert_true(l.ended && l.weight == 0 && l.looked_to == 0);
	assert_true(l.working_count == 1 && l.breaking_count == 0);
	assert_int_equal(l.working[0].kind, RN_HALT_OUTCOME);
	assert_true(l.end.kind == RN_HALT_OUTCOME && l.end.case_index == 1 && l.end.part == RN_NONE && l.end.node == RN_NONE);
	rn_assert_near(l.at->cases[0].nodes[rn_model_object_by_id(d->model, "log").index].load[1], -1, 1e-12, 0); /* a tenth of 10 N */
	rn_largest_release(&l);
	rn_document_destroy(d);
}

/* A weight on a sling below a joint that is pulled up, and tied to a foot. */
static rn_document *below_a_joint(double limit, double pull)
{
	char text[2048];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear design-factor=\"1\"><item id=\"q\" kind=\"rope\" strength=\"900 kN\" diameter=\"14 mm\" "
	         "stiffness=\"10 MN\"/><item id=\"g\" kind=\"sling\" strength=\"%.17g N\" stiffness=\"10 MN\"/>"
	         "<item id=\"h\" kind=\"sling\" strength=\"9 kN\" stiffness=\"10 MN\"/></gear>"
	         "<anchor id=\"foot\" x=\"0 m\" y=\"-4 m\" working-load=\"90 kN\"/><hand id=\"crew\" x=\"0 m\" y=\"9 m\"/>"
	         "<joint id=\"j\" x=\"0 m\" y=\"2 m\"/><piece id=\"log\" x=\"0 m\" y=\"1 m\" weight=\"400 N\"/>"
	         "<sling id=\"s\" from=\"j\" to=\"log\" gear=\"g\" hitch=\"straight\"/>"
	         "<sling id=\"t\" from=\"foot\" to=\"j\" gear=\"h\" hitch=\"straight\"/>"
	         "<line id=\"l\" gear=\"q\"><tie at=\"j\" knot=\"eye splice\"/><hold at=\"crew\" pull=\"%.17g N\"/></line>"
	         "<case id=\"c\"/>",
	         limit, pull);
	return models_from(text);
}

/* The sling comes to its limit before the joint falls past its foot, and both are told, within one step of the weight
 * (602.9 to 614.9 N) too. Beside the end it is as the answers by themselves say. */
static void test_stops_before_the_end(void **state)
{
	(void)state;
	static const double limits[] = {600, 605}, pulls[] = {800, 610};
	for (int i = 0; i < 2; i++) {
		rn_document *d = below_a_joint(limits[i], pulls[i]);
		rn_largest l = largest_of(d);
		rn_options options = rn_options_default();
		int number = rn_altered_number(d->model, "log.weight");
		assert_true(l.ended && l.working_count == 2 && l.breaking_count == 1);
		check_stop(&l, &l.working[0], "s", limits[i]);
		check_stop(&l, &l.breaking[0], "s", limits[i]);
		rn_assert_near(l.end.weight, pulls[i], 2e-6, 0);
		assert_true(l.end.kind == RN_HALT_FALLS && l.working[1].kind == RN_HALT_FALLS);
		assert_true(l.working[1].weight == l.end.weight && l.looked_to == l.end.weight);
		for (int k = 0; k < 2; k++) {
			rn_result *alone;
			double scale = l.end.weight * (k ? 1.0001 : 0.9999) / l.drawn;
			assert_int_equal(rn_solve_scaled(d->model, &options, number, scale, &alone), RN_OK);
			assert_int_equal(alone->cases[0].outcome != RN_OUTCOME_SETTLED || alone->cases[0].falls, k);
			rn_result_destroy(alone);
		}
		rn_largest_release(&l);
		rn_document_destroy(d);
	}
}

/* ---- numbers varied ------------------------------------------------------------------------------ */

static rn_varied_number number_of(const rn_document *d, const char *name, double from, double to)
{
	rn_varied_number of = {rn_altered_number(d->model, name), from, to};
	assert_true(of.number != RN_NONE);
	return of;
}

static rn_varied vary(const rn_document *d, rn_varied_number of, int steps, rn_object part)
{
	rn_options options = rn_options_default();
	rn_varied v;
	assert_int_equal(rn_vary_find(d->model, &options, &of, 1, &steps, part, &v), RN_OK);
	return v;
}

static rn_placed place(const rn_document *d, rn_varied_number of, int steps, rn_object part)
{
	rn_options options = rn_options_default();
	rn_placed p;
	assert_int_equal(rn_place_find(d->model, &options, &of, 1, &steps, part, &p), RN_OK);
	return p;
}

/* Two stiff legs from (-2, 6) and (2, 6) to a weight of 2 kN at (x, 3). */
static const double half = 2, deep = 3, weight = 2000;

static rn_document *two_legs(double x, double left_limit, double right_limit)
{
	char text[2048];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear><item id=\"g\" kind=\"sling\" working-load=\"%.17g N\" stiffness=\"1000 MN\"/>"
	         "<item id=\"h\" kind=\"sling\" working-load=\"%.17g N\" stiffness=\"1000 MN\"/></gear>"
	         "<anchor id=\"left\" x=\"-2 m\" y=\"6 m\" working-load=\"1 MN\"/>"
	         "<anchor id=\"right\" x=\"2 m\" y=\"6 m\" working-load=\"1 MN\"/>"
	         "<piece id=\"log\" x=\"%.17g m\" y=\"3 m\" weight=\"2 kN\"/>"
	         "<sling id=\"a\" from=\"left\" to=\"log\" gear=\"g\" hitch=\"straight\"/>"
	         "<sling id=\"b\" from=\"right\" to=\"log\" gear=\"h\" hitch=\"straight\"/><case id=\"c\"/>",
	         left_limit, right_limit, x);
	return models_from(text);
}

/* By moments about the head of the other: T (half + half) deep / l = W (half - x), l the length of the leg. */
static double pull_of_leg(bool right, double x)
{
	double aside = right ? half - x : half + x;
	return weight * hypot(aside, deep) * (2 * half - aside) / (2 * half * deep);
}

static double share_at(double x, double left_limit, double right_limit)
{
	return fmax(pull_of_leg(false, x) / left_limit, pull_of_leg(true, x) / right_limit);
}

typedef double difference(double x, double left_limit, double right_limit);

static double of_legs(double x, double left_limit, double right_limit)
{
	return pull_of_leg(false, x) / left_limit - pull_of_leg(true, x) / right_limit;
}

static double of_left(double x, double left_limit, double right_limit)
{
	(void)right_limit;
	return pull_of_leg(false, x) / left_limit - 1;
}

static double of_right(double x, double left_limit, double right_limit)
{
	(void)left_limit;
	return 1 - pull_of_leg(true, x) / right_limit;
}

/* Where what falls from one bound to the other is nothing. */
static double root(difference *f, double left_limit, double right_limit)
{
	double low = -1.9, high = 1.9;
	for (int i = 0; i < 100; i++) {
		double middle = (low + high) / 2;
		*(f(middle, left_limit, right_limit) > 0 ? &low : &high) = middle;
	}
	return low;
}

static const char *varied_id(const rn_varied *v, int part)
{
	return id_of(v->result, part);
}

/* In one step from over to over three changes are found, each where it is: the left leg comes under its limit, the
 * right one takes over, and comes over its own. */
static void test_turns_within_one_step(void **state)
{
	(void)state;
	const double left = 1600, right = 1400;
	static difference *const at[] = {of_left, of_legs, of_right};
	static const rn_turn_kind kinds[] = {RN_TURN_UNDER, RN_TURN_GOVERNS, RN_TURN_OVER};
	rn_document *d = two_legs(0.4, left, right);
	for (int steps = 1; steps <= 3; steps += 2) {
		rn_varied v = vary(d, number_of(d, "log.x", -1.9, 1.9), steps, no_part);
		assert_int_equal(v.turn_count, 3);
		for (int i = 0; i < 3; i++) {
			const rn_turn *t = &v.turns[i];
			const double *shares = v.turn_shares + (ptrdiff_t)2 * i * v.part_count;
			double expected = root(at[i], left, right);
			assert_int_equal(t->kind, kinds[i]);
			rn_assert_near(t->value, expected, 0, 1e-5); /* legs stretch by micrometres */
			assert_true(t->below.value[0] < t->above.value[0]);
			assert_true(t->above.value[0] - t->below.value[0] <= 1e-7 * 3.8);
			assert_true(t->value >= t->below.value[0] && t->value <= t->above.value[0]);
			assert_string_equal(varied_id(&v, t->below.part), i < 2 ? "a" : "b");
			assert_string_equal(varied_id(&v, t->above.part), i < 1 ? "a" : "b");
			assert_int_equal(t->below.utilisation > 1, i == 0);
			assert_int_equal(t->above.utilisation > 1, i == 2);
			assert_true(shares[t->below.part] == t->below.utilisation);
			assert_true(shares[v.part_count + t->above.part] == t->above.utilisation);
		}
		/* as drawn, and the least, which is where one takes over from the other */
		rn_assert_near(v.drawn.value[0], 0.4, 1e-12, 0);
		rn_assert_near(v.drawn.utilisation, share_at(0.4, left, right), 1e-4, 0);
		rn_assert_near(v.drawn_shares[part_of(v.result, "a")], pull_of_leg(false, 0.4) / left, 1e-4, 0);
		double best = root(of_legs, left, right);
		rn_assert_near(v.least.value[0], best, 0, 1e-5);
		rn_assert_near(v.least.utilisation, share_at(best, left, right), 1e-4, 0);
		rn_vary_release(&v);
	}
	rn_document_destroy(d);
}

/* Answers begin and end within a step, where they do; the case without one is told, and why. */
static void test_ends_of_answers(void **state)
{
	(void)state;
	rn_document *d = pulled_up(500.25, 900);
	rn_varied v = vary(d, pull_of_hand(d, 600, 3000), 1, rn_model_object_by_id(d->model, "s"));
	assert_int_equal(v.turn_count, 2);
	const rn_turn *found = &v.turns[0], *over = &v.turns[1];
	/* in the lighter case the sling is pulled by 500.25 N more: 0.5 of its limit where answers begin */
	assert_int_equal(found->kind, RN_TURN_FOUND);
	rn_assert_near(found->value, 1000.5, 0, 2400e-7);
	assert_true(found->above.value[0] - found->below.value[0] <= 2400e-7);
	assert_int_equal(found->below.stand, RN_STAND_FALLS);
	assert_int_equal(found->above.stand, RN_STAND_FOUND);
	assert_int_equal(over->kind, RN_TURN_OVER);
	rn_assert_near(over->value, 1500.25, 1e-9, 0);
	assert_int_equal(v.tried[0].stand, RN_STAND_FALLS);
	assert_int_equal(v.tried[0].case_index, 1);
	assert_int_equal(v.tried[0].why.kind, RN_NOTE_FALLS_FIRST);
	for (int p = 0; p < v.part_count; p++)
		assert_true(v.shares[p] < 0 && v.shares[v.part_count + p] >= 0);
	/* what is told of the part is where it is pulled harder */
	assert_int_equal(v.tried[1].own_case, 0);
	assert_int_equal(v.tried[1].case_index, 0);
	assert_true(v.tried[1].own_checked && v.tried[1].own_stress == 0);
	rn_assert_near(v.tried[1].own_demand, 2499.75, 1e-9, 0);
	rn_assert_near(v.tried[1].own_utilisation, 2.49975, 1e-9, 0);
	assert_true(v.has_least && v.drawn.stand == RN_STAND_FALLS);
	rn_assert_near(v.least.value[0], 1000.5, 0, 2400e-7);
	rn_vary_release(&v);
	rn_document_destroy(d);
	d = between_hands(500, 1000);
	v = vary(d, number_of(d, "log.weight", 900, 3000), 1, no_part);
	assert_int_equal(v.tried[0].stand, RN_STAND_FOUND);
	assert_int_equal(v.tried[1].stand, RN_STAND_NO_EQUILIBRIUM);
	assert_int_equal(v.tried[1].case_index, 1);
	assert_int_equal(rn_note_severity(v.tried[1].why.kind), RN_OUTCOME);
	assert_true(v.turn_count == 1 && v.turns[0].kind == RN_TURN_LOST);
	rn_vary_release(&v);
	rn_document_destroy(d);
	static const double limits[] = {2000};
	d = chain_of(limits, 1, 1500, "<case id=\"one\"/>");
	/* a rope that leads up holds the weight, one that leads down does not: answers begin as its anchor passes it */
	v = vary(d, number_of(d, "top.y", 1, 9), 3, no_part);
	assert_int_equal(v.turn_count, 1);
	assert_int_equal(v.turns[0].kind, RN_TURN_FOUND);
	rn_assert_near(v.turns[0].value, 2, 0, 1e-4); /* as near as two places may be */
	assert_int_equal(v.tried[0].stand, RN_STAND_FALLS);
	assert_int_equal(v.tried[0].why.kind, RN_NOTE_FALLS_FIRST);
	rn_vary_release(&v);
	v = vary(d, number_of(d, "log.y", 1, 12), 1, no_part);
	assert_int_equal(v.turn_count, 1);
	assert_int_equal(v.turns[0].kind, RN_TURN_LOST);
	rn_assert_near(v.turns[0].value, 9, 0, 1e-4);
	rn_vary_release(&v);
	rn_document_destroy(d);
}

/* Of choices that come to the same the first counts, in order of the steps. */
static void test_first_of_equals(void **state)
{
	(void)state;
	rn_document *d = two_legs(0, 1600, 1400);
	rn_varied v = vary(d, number_of(d, "left.working-load", 2e5, 9e5), 4, no_part);
	assert_true(v.has_least && v.least.value[0] == 2e5);
	assert_int_equal(v.turn_count, 0);
	rn_vary_release(&v);
	rn_document_destroy(d);
}

/* Every choice of two numbers as it is when the model is told so and solved by itself, over three cases. */
static void test_every_choice_by_itself(void **state)
{
	(void)state;
	static const double limits[] = {1000, 700};
	rn_document *d = chain_of(limits, 2, 400,
	                          "<case id=\"one\"/><case id=\"two\"><force at=\"j0\" size=\"300 N\" toward=\"down\"/></case>"
	                          "<case id=\"three\"><force at=\"log\" size=\"100 N\" toward=\"down\"/></case>");
	rn_options options = rn_options_default();
	const rn_varied_number of[] = {number_of(d, "log.weight", 100, 900), number_of(d, "top.working-load", 300, 1900)};
	const int steps[] = {4, 2};
	rn_varied v;
	assert_int_equal(rn_vary_find(d->model, &options, of, 2, steps, rn_model_object_by_id(d->model, "s1"), &v), RN_OK);
	assert_true(v.counts[0] == 5 && v.counts[1] == 3 && v.turn_count == 0);
	for (int i = 0; i < 15; i++) {
		const rn_tried *t = &v.tried[i];
		double w = 100 + 200 * (i % 5), top = 300 + 800 * (i / 5);
		/* links of the whole, and below the joint; the anchor as the upper one */
		double upper = (w + 300) / 1000, lower = (w + 100) / 700, anchor = (w + 300) / top;
		double most = fmax(fmax(upper, lower), anchor);
		rn_assert_near(t->value[0], w, 1e-12, 0);
		rn_assert_near(t->value[1], top, 1e-12, 0);
		rn_assert_near(t->utilisation, most, 1e-9, 0);
		assert_int_equal(t->case_index, most > lower ? 1 : 2);
		assert_string_equal(varied_id(&v, t->part), most > fmax(upper, lower) ? "top" : upper > lower ? "s0" : "s1");
		assert_int_equal(t->own_case, 2);
		rn_assert_near(t->own_utilisation, lower, 1e-9, 0);
		rn_assert_near(t->own_demand, w + 100, 1e-9, 0);
		const double *shares = v.shares + (ptrdiff_t)i * v.part_count;
		rn_assert_near(shares[part_of(v.result, "s0")], upper, 1e-9, 0);
		rn_assert_near(shares[part_of(v.result, "s1")], lower, 1e-9, 0);
		rn_assert_near(shares[part_of(v.result, "top")], anchor, 1e-9, 0);
	}
	rn_assert_near(v.least.value[0], 100, 0, 1e-9);
	rn_assert_near(v.least.utilisation, 0.4, 1e-9, 0);
	rn_vary_release(&v);
	rn_document_destroy(d);
}

/* ---- the best place ------------------------------------------------------------------------------ */

/* The place from the best at which the worse leg carries 5 % more, on one side. */
static double flat_end(double best, double beyond, double left, double right)
{
	double most = 1.05 * share_at(best, left, right), inside = best;
	for (int i = 0; i < 100; i++) {
		double middle = (inside + beyond) / 2;
		*(share_at(middle, left, right) > most ? &beyond : &inside) = middle;
	}
	return inside;
}

static void test_how_far_off_it_may_be(void **state)
{
	(void)state;
	const double left = 1600, right = 1400, best = root(of_legs, left, right);
	rn_document *d = two_legs(0.4, left, right);
	rn_placed p = place(d, number_of(d, "log.x", -1.9, 1.9), 7, no_part);
	assert_true(p.found && p.better && !p.of_part && !p.by_pull && !p.at_edge && p.drawn_unlike == 0);
	rn_assert_near(p.best.value[0], best, 0, 1e-5);
	rn_assert_near(p.goal, share_at(best, left, right), 1e-4, 0);
	rn_assert_near(p.drawn_goal, share_at(0.4, left, right), 1e-4, 0);
	rn_assert_near(p.flat_from[0], flat_end(best, -1.9, left, right), 0, 3.8e-4); /* a ten-thousandth of the range */
	rn_assert_near(p.flat_to[0], flat_end(best, 1.9, left, right), 0, 3.8e-4);
	assert_false(p.flat_from_bound[0] || p.flat_to_bound[0] || p.flat_from_lost[0] || p.flat_to_lost[0]);
	rn_place_release(&p);
	/* of one leg alone as far from it as may be: at its upper bound, flat on one side */
	p = place(d, number_of(d, "log.x", -1.9, 1.9), 7, rn_model_object_by_id(d->model, "a"));
	double most = 1.05 * pull_of_leg(false, 1.9), near = 1.9, far = -1.9;
	for (int i = 0; i < 100; i++) {
		double middle = (near + far) / 2;
		*(pull_of_leg(false, middle) > most ? &far : &near) = middle;
	}
	assert_true(p.found && p.of_part && !p.by_pull && p.at_bound[0] == 1 && p.best.value[0] == 1.9);
	assert_true(p.flat_to[0] == 1.9 && p.flat_to_bound[0] && !p.flat_from_bound[0] && !p.flat_from_lost[0]);
	rn_assert_near(p.flat_from[0], near, 0, 3.8e-4);
	rn_assert_near(p.goal, pull_of_leg(false, 1.9) / left, 1e-4, 0);
	rn_assert_near(p.drawn_goal, pull_of_leg(false, 0.4) / left, 1e-4, 0);
	rn_place_release(&p);
	rn_document_destroy(d);
}

/* A tenth of a per cent is worth moving it for, less is not; drawn outside the box all the same. */
static void test_worth_moving(void **state)
{
	(void)state;
	const double left = 1600, right = 1400, best = root(of_legs, left, right), least = share_at(best, left, right);
	static const double parts[] = {0.0007, 0.0015, -0.0007, -0.0015};
	for (int i = 0; i < 4; i++) {
		double low = best, high = i < 2 ? 1.9 : -1.9;
		for (int k = 0; k < 100; k++) {
			double middle = (low + high) / 2;
			*(share_at(middle, left, right) > least * (1 + fabs(parts[i])) ? &high : &low) = middle;
		}
		rn_document *d = two_legs(low, left, right);
		rn_placed p = place(d, number_of(d, "log.x", -1.9, 1.9), 5, no_part);
		assert_true(p.found);
		assert_int_equal(p.better, i % 2);
		rn_place_release(&p);
		p = place(d, number_of(d, "log.x", 1, 1.9), 5, no_part); /* all worse than as drawn */
		assert_true(p.found && !p.better && p.at_bound[0] == -1 && p.goal > p.drawn_goal);
		rn_assert_near(p.best.value[0], 1, 1e-12, 0);
		rn_place_release(&p);
		rn_document_destroy(d);
	}
}

/* Where nothing has a limit there is nothing to make least, and no best place; each answer is told all the same. */
static void test_nothing_to_make_least(void **state)
{
	(void)state;
	rn_document *d = models_from("<cases made=\"none\"/><gear><item id=\"g\" kind=\"sling\" stiffness=\"100 MN\"/></gear>"
	                             "<anchor id=\"top\" x=\"0 m\" y=\"9 m\"/><piece id=\"log\" x=\"0 m\" y=\"2 m\" weight=\"1 kN\"/>"
	                             "<sling id=\"s\" from=\"top\" to=\"log\" gear=\"g\" hitch=\"straight\"/><case id=\"c\"/>");
	rn_varied_number of = number_of(d, "log.weight", 500, 900);
	rn_varied v = vary(d, of, 4, rn_model_object_by_id(d->model, "s"));
	assert_true(!v.has_least && v.turn_count == 0);
	for (int i = 0; i < 5; i++) {
		assert_true(v.tried[i].stand == RN_STAND_FOUND && v.tried[i].part == RN_NONE && v.tried[i].unchecked_count == 2);
		assert_true(!v.tried[i].own_checked && v.tried[i].own_utilisation == 0);
		rn_assert_near(v.tried[i].own_demand, 500 + 100 * i, 1e-9, 0);
		for (int p = 0; p < v.part_count; p++)
			assert_true(v.shares[i * v.part_count + p] < 0);
	}
	rn_vary_release(&v);
	rn_placed p = place(d, of, 4, no_part);
	assert_true(!p.found && !p.better && p.drawn_goal < 0 && !p.model && !p.result && p.drawn_unlike == 0);
	rn_place_release(&p);
	/* of the sling its pull is made least: at the lightest, flat to 5 % more */
	p = place(d, of, 4, rn_model_object_by_id(d->model, "s"));
	assert_true(p.found && p.better && p.of_part && p.by_pull && p.at_bound[0] == -1 && p.best.value[0] == 500);
	rn_assert_near(p.goal, 500, 1e-9, 0);
	rn_assert_near(p.drawn_goal, 1000, 1e-9, 0);
	rn_assert_near(p.flat_to[0], 525, 0, 0.04);
	assert_true(p.flat_from[0] == 500 && p.flat_from_bound[0] && !p.flat_to_bound[0]);
	rn_assert_near(p.result->cases[0].nodes[rn_model_object_by_id(p.model, "log").index].load[1], -500, 1e-12, 0);
	rn_place_release(&p);
	rn_document_destroy(d);
}

/* Right beside the least there is no answer: with less pull nothing holds it up in the second case. */
static void test_best_at_an_edge(void **state)
{
	(void)state;
	static const double limits[] = {2000};
	rn_document *d = pulled_up(500.25, 900);
	rn_placed p = place(d, pull_of_hand(d, 600, 1900), 7, rn_model_object_by_id(d->model, "s"));
	assert_true(p.found && p.better && p.drawn_goal < 0); /* as drawn there is none */
	assert_true(p.at_edge && p.at_bound[0] == 0);
	rn_assert_near(p.best.value[0], 1000.5, 0, 1e-3);
	rn_assert_near(p.goal, 0.50025, 1e-5, 0);
	assert_true(p.flat_from_lost[0] && !p.flat_to_lost[0] && !p.flat_from_bound[0] && !p.flat_to_bound[0]);
	rn_assert_near(p.flat_from[0], 1000.5, 0, 0.13);
	rn_assert_near(p.flat_to[0], 500.25 + 1.05 * 500.25, 0, 0.13);
	rn_place_release(&p);
	rn_document_destroy(d);
	/* an anchor anywhere above the weight holds it as well: flat to the bound, and to where it falls */
	rn_document *held = chain_of(limits, 1, 900, "<case id=\"one\"/>");
	p = place(held, number_of(held, "top.y", 1, 9), 3, no_part);
	assert_true(p.found && !p.better && p.flat_to_bound[0] && p.flat_to[0] == 9);
	assert_true(p.flat_from_lost[0] && !p.flat_from_bound[0] && !p.at_edge);
	rn_assert_near(p.flat_from[0], 2, 0, 2 * 8e-4);
	rn_place_release(&p);
	rn_document_destroy(held);
}

/* ---- one part letting go ------------------------------------------------------------------------- */

static rn_losses losses_of(const rn_result *result)
{
	rn_options options = rn_options_default();
	rn_losses losses;
	assert_int_equal(rn_losses_find(result, &options, &losses), RN_OK);
	return losses;
}

static const rn_loss *loss_of(const rn_losses *losses, const rn_result *result, const char *id)
{
	for (int i = 0; i < losses->count; i++)
		if (strcmp(id_of(result, losses->losses[i].part), id) == 0)
			return &losses->losses[i];
	fail_msg("%s does not let go", id);
	return NULL;
}

static rn_result *solved(const rn_document *d)
{
	rn_options options = rn_options_default();
	rn_result *result;
	assert_int_equal(rn_solve(d->model, &options, &result), RN_OK);
	return result;
}

/* A link of a chain leaves nothing that holds, whichever it is: that is worse than any share, and said why. */
static void test_a_link_lets_go(void **state)
{
	(void)state;
	static const double limits[] = {1000, 700, 900};
	rn_document *d = chain_of(limits, 3, 400, "<case id=\"one\"/><case id=\"two\"/>");
	rn_result *result = solved(d);
	rn_losses losses = losses_of(result);
	assert_int_equal(losses.count, 4); /* three links and the anchor */
	for (int i = 0; i < losses.count; i++) {
		const rn_loss *l = &losses.losses[i];
		assert_true(i == 0 || l->part > l[-1].part);
		assert_int_equal(l->outcome, RN_OUTCOME_NO_EQUILIBRIUM);
		assert_int_equal(rn_note_severity(l->why.kind), RN_OUTCOME);
		assert_true(l->case_index == 0 && l->drop == 0 && l->utilisation == 0 && !l->unchecked);
		assert_true(l->piece == RN_NONE && l->leads_to == RN_NONE && l->closest == RN_NONE);
	}
	rn_losses_release(&losses);
	rn_result_destroy(result);
	rn_document_destroy(d);
}

/* Two legs of 5 m and, beside them, a second weight on a sling of its own, drawn first. `cases` as they are written. */
static rn_document *legs_and_another(double other_limit, const char *anchor_limit, const char *cases)
{
	char text[4096];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear><item id=\"g\" kind=\"sling\" working-load=\"9 kN\" stiffness=\"1000 MN\"/>"
	         "<item id=\"h\" kind=\"sling\" working-load=\"%.17g N\" stiffness=\"1000 MN\"/></gear>"
	         "<anchor id=\"over-d\" x=\"9 m\" y=\"4 m\" %s/><anchor id=\"over-a\" x=\"-3 m\" y=\"4 m\" %s/>"
	         "<anchor id=\"over-c\" x=\"3 m\" y=\"4 m\" %s/>"
	         "<piece id=\"other\" x=\"9 m\" y=\"3 m\" weight=\"500 N\"/><piece id=\"log\" x=\"0 m\" y=\"0 m\" weight=\"2 kN\"/>"
	         "<sling id=\"d\" from=\"over-d\" to=\"other\" gear=\"h\" hitch=\"straight\"/>"
	         "<sling id=\"a\" from=\"over-a\" to=\"log\" gear=\"g\" hitch=\"straight\"/>"
	         "<sling id=\"c\" from=\"over-c\" to=\"log\" gear=\"g\" hitch=\"straight\"/>%s",
	         other_limit, anchor_limit, anchor_limit, anchor_limit, cases);
	return models_from(text);
}

/* What is told of a leg that lets go: the case in which it is worst, the piece that sinks and how far, and of all that
 * still carries the part that is closest. */
static void test_what_is_left_of_two_legs(void **state)
{
	(void)state;
	static const char *const cases[] = {
		"<case id=\"light\"><set of=\"log\" weight=\"1 kN\"/></case><case id=\"heavy\"/>",
		"<case id=\"heavy\"/><case id=\"light\"><set of=\"log\" weight=\"1 kN\"/></case>"};
	for (int i = 0; i < 4; i++) {
		bool other = i / 2; /* whether the second weight's sling is the closer */
		rn_document *d = legs_and_another(other ? 600 : 6000, "working-load=\"90 kN\"", cases[i % 2]);
		rn_result *result = solved(d);
		rn_losses losses = losses_of(result);
		assert_int_equal(losses.count, 6);
		static const char *const ids[] = {"a", "over-a", "c", "over-c"};
		for (int k = 0; k < 4; k++) {
			const rn_loss *l = loss_of(&losses, result, ids[k]);
			assert_true(l->outcome == RN_OUTCOME_SETTLED && l->why.kind == RN_NOTE_COUNT);
			/* alike in both cases where the other weight's sling is the closest: then the first is told */
			assert_int_equal(l->case_index, other ? 0 : 1 - i % 2);
			assert_int_equal(l->piece, rn_model_object_by_id(d->model, "log").index);
			rn_assert_near(l->drop, 1, 1e-4, 0);
			assert_string_equal(id_of(result, l->closest), other ? "d" : k < 2 ? "c" : "a");
			rn_assert_near(l->utilisation, other ? 500.0 / 600 : 2000.0 / 9000, 1e-6, 0);
			assert_true(!l->unchecked && l->leads_to == RN_NONE);
		}
		assert_int_equal(loss_of(&losses, result, "d")->outcome, RN_OUTCOME_NO_EQUILIBRIUM);
		rn_losses_release(&losses);
		rn_result_destroy(result);
		rn_document_destroy(d);
	}
	/* anchors without a limit carry what is left, unchecked */
	rn_document *d = legs_and_another(6000, "", "<case id=\"one\"/>");
	rn_result *result = solved(d);
	rn_losses losses = losses_of(result);
	assert_true(loss_of(&losses, result, "a")->unchecked);
	rn_losses_release(&losses);
	rn_result_destroy(result);
	rn_document_destroy(d);
}

/* A line over a redirect to a post: without the redirect it leads down to the post, so the piece falls past; or, where the
 * post is above, it hangs there, lower by what was on the way. Whichever way round the line is written. */
static void test_what_leads_down(void **state)
{
	(void)state;
	static const char *const ways[][2] = {{"log", "post"}, {"post", "log"}};
	for (int i = 0; i < 4; i++) {
		bool below = i / 2;
		char text[2048];
		snprintf(text, sizeof text,
		         "<cases made=\"none\"/><gear design-factor=\"2\"><item id=\"q\" kind=\"rope\" strength=\"20 kN\" diameter=\"14 mm\" "
		         "stiffness=\"100 MN\"/></gear><anchor id=\"block\" x=\"0 m\" y=\"9 m\" working-load=\"90 kN\"/>"
		         "<piece id=\"log\" x=\"0 m\" y=\"4 m\" weight=\"1 kN\"/><anchor id=\"far\" x=\"9 m\" y=\"9 m\"/>"
		         "<anchor id=\"post\" x=\"3 m\" y=\"%d m\" working-load=\"90 kN\"/>"
		         "<line id=\"l\" gear=\"q\"><tie at=\"%s\" knot=\"bowline\"/>"
		         "<through at=\"block\" friction=\"0.2\"/><tie at=\"%s\" knot=\"bowline\"/></line><case id=\"c\"/>",
		         below ? 1 : 8, ways[i % 2][0], ways[i % 2][1]);
		rn_document *d = models_from(text);
		rn_result *result = solved(d);
		rn_losses losses = losses_of(result);
		const rn_loss *l = loss_of(&losses, result, "block");
		assert_int_equal(losses.count, 3); /* the far anchor carries nothing */
		assert_true(l->falls && l->outcome == RN_OUTCOME_SETTLED); /* by so much rope as was on the way: far below */
		assert_int_equal(l->leads_to, below ? rn_model_object_by_id(d->model, "post").index : RN_NONE);
		assert_int_equal(l->piece, rn_model_object_by_id(d->model, "log").index);
		if (below)
			assert_true(l->closest == RN_NONE && l->drop == 0);
		else
			rn_assert_near(l->drop, 4 - (8 - (5 + hypot(3, 1))), 1e-3, 0);
		rn_losses_release(&losses);
		rn_result_destroy(result);
		rn_document_destroy(d);
	}
}

/* A sling that holds the piece from above holds it when its line leads down. */
static void test_held_besides(void **state)
{
	(void)state;
	rn_document *d = models_from(
		"<cases made=\"none\"/><gear design-factor=\"2\"><item id=\"q\" kind=\"rope\" strength=\"20 kN\" diameter=\"14 mm\" "
		"stiffness=\"100 MN\"/><item id=\"g\" kind=\"sling\" working-load=\"5 kN\" stiffness=\"100 MN\"/></gear>"
		"<anchor id=\"block\" x=\"2 m\" y=\"9 m\" working-load=\"90 kN\"/><anchor id=\"top\" x=\"-2 m\" y=\"9 m\" working-load=\"90 kN\"/>"
		"<anchor id=\"post\" x=\"3 m\" y=\"0 m\" working-load=\"90 kN\"/><piece id=\"log\" x=\"0 m\" y=\"4 m\" weight=\"1 kN\"/>"
		"<sling id=\"s\" from=\"top\" to=\"log\" gear=\"g\" hitch=\"straight\"/><line id=\"l\" gear=\"q\"><tie at=\"log\" knot=\"bowline\"/>"
		"<through at=\"block\" friction=\"0.2\"/><tie at=\"post\" knot=\"bowline\"/></line><case id=\"c\"/>");
	rn_result *result = solved(d);
	rn_losses losses = losses_of(result);
	const rn_loss *l = loss_of(&losses, result, "block");
	assert_true(l->outcome == RN_OUTCOME_SETTLED && l->leads_to == RN_NONE);
	assert_string_equal(id_of(result, l->closest), "s");
	/* under the top, on a sling of hypot(2, 5) */
	rn_assert_near(l->drop, 4 - (9 - hypot(2, 5)), 1e-3, 0);
	rn_assert_near(l->utilisation, 0.2, 1e-3, 0);
	rn_losses_release(&losses);
	rn_result_destroy(result);
	rn_document_destroy(d);
}

/* Two slings, one on a connector at its anchor: where that lets go it takes its own sling along, and leaves the other. */
static void test_a_connector_lets_go(void **state)
{
	(void)state;
	rn_document *d = models_from(
		"<cases made=\"none\"/><gear><item id=\"g\" kind=\"sling\" working-load=\"5 kN\" stiffness=\"1000 MN\"/>"
		"<item id=\"h\" kind=\"sling\" working-load=\"6 kN\" stiffness=\"1000 MN\"/>"
		"<item id=\"k\" kind=\"connector\" working-load=\"9 kN\"/></gear>"
		"<anchor id=\"left\" x=\"-3 m\" y=\"4 m\" working-load=\"90 kN\" connector=\"k\"/>"
		"<anchor id=\"right\" x=\"3 m\" y=\"4 m\" working-load=\"90 kN\"/>"
		"<piece id=\"log\" x=\"0 m\" y=\"0 m\" weight=\"2 kN\"/>"
		"<sling id=\"a\" from=\"left\" to=\"log\" gear=\"g\" hitch=\"straight\"/>"
		"<sling id=\"b\" from=\"right\" to=\"log\" gear=\"h\" hitch=\"straight\"/><case id=\"c\"/>");
	rn_result *result = solved(d), *without;
	rn_options options = rn_options_default();
	rn_losses losses = losses_of(result);
	const rn_loss *l = loss_of(&losses, result, "k");
	assert_true(l->outcome == RN_OUTCOME_SETTLED && l->leads_to == RN_NONE);
	rn_assert_near(l->drop, 1, 1e-4, 0);
	assert_string_equal(id_of(result, l->closest), "b");
	rn_assert_near(l->utilisation, 2.0 / 6, 1e-6, 0);
	assert_int_equal(losses.count, 5); /* two slings, two anchors, the connector */
	rn_losses_release(&losses);
	assert_int_equal(rn_solve_without(d->model, &options, rn_model_object_by_id(d->model, "k"), &without), RN_OK);
	rn_assert_near(without->cases[0].nodes[rn_model_object_by_id(d->model, "log").index].place[0], 3, 0, 1e-3);
	rn_result_destroy(without);
	/* a sling's own kind of gear joins nothing, and lets nothing go */
	assert_int_equal(rn_solve_without(d->model, &options, rn_model_object_by_id(d->model, "g"), &without), RN_STATUS_ARGUMENT);
	rn_result_destroy(result);
	rn_document_destroy(d);
}

/* ---- what matters most --------------------------------------------------------------------------- */

static rn_matters matters_of(const rn_result *result, int c, const char *id)
{
	rn_options options = rn_options_default();
	rn_matters matters;
	assert_int_equal(rn_matters_find(result, &options, c, part_of(result, id), &matters), RN_OK);
	return matters;
}

static const rn_matter *matter_of(const rn_matters *matters, const rn_result *result, const char *name)
{
	for (int i = 0; i < matters->count; i++)
		if (matters->list[i].number == rn_altered_number(result->model, name))
			return &matters->list[i];
	return NULL;
}

/* A share of W / (S / f): by W, by S, and by f, of which nobody asks for a step. */
static void test_share_of_a_link(void **state)
{
	(void)state;
	static const double limits[] = {1000};
	rn_document *d = chain_of(limits, 1, 400, "<case id=\"c\"/>");
	rn_result *result = solved(d);
	rn_matters matters = matters_of(result, 0, "s0");
	assert_true(matters.count == 2 && !matters.is_demand);
	rn_assert_near(matters.share, 0.4, 1e-9, 0);
	const rn_matter *load = matter_of(&matters, result, "log.weight"), *strength = matter_of(&matters, result, "g0.strength");
	assert_non_null(load);
	assert_non_null(strength);
	rn_assert_near(load->slope, 1e-3, 1e-6, 0);
	rn_assert_near(load->step, 40, 1e-12, 0);
	rn_assert_near(load->more, 0.04, 1e-6, 0);
	rn_assert_near(load->less, -0.04, 1e-6, 0);
	rn_assert_near(strength->slope, -0.4 / 2000, 1e-6, 0);
	rn_assert_near(strength->step, 200, 1e-12, 0);
	rn_assert_near(strength->more, 0.4 / 1.1 - 0.4, 1e-6, 0);
	rn_assert_near(strength->less, 0.4 / 0.9 - 0.4, 1e-6, 0);
	for (int i = 0; i < 2; i++)
		assert_true(matters.list[i].more_how == RN_BESIDE_FOUND && matters.list[i].less_how == RN_BESIDE_FOUND);
	rn_matters_release(&matters);
	rn_result_destroy(result);
	rn_document_destroy(d);
}

/* A sling carries what the hand pulls more than the weight: with less pull, or more weight, nothing is found beside. */
static void test_nothing_beside(void **state)
{
	(void)state;
	rn_document *d = pulled_up(500, 1040);
	rn_result *result = solved(d);
	rn_matters matters = matters_of(result, 1, "s");
	rn_varied_number pull = pull_of_hand(d, 0, 1);
	rn_assert_near(matters.share, 0.04, 1e-6, 0);
	int seen = 0;
	for (int i = 0; i < matters.count; i++) {
		const rn_matter *m = &matters.list[i];
		const rn_number *n = &d->model->numbers[m->number];
		if (m->number == pull.number) {
			rn_assert_near(m->slope, 1e-3, 1e-6, 0);
			rn_assert_near(m->step, 104, 1e-12, 0);
			rn_assert_near(m->more, 0.104, 1e-6, 0);
			assert_true(m->more_how == RN_BESIDE_FOUND && m->less_how == RN_BESIDE_NOT_FOUND && m->less == 0);
			assert_int_equal(i, 0); /* the largest first */
			seen++;
		}
		if (n->attribute == RN_ATTRIBUTE_WEIGHT) {
			rn_assert_near(m->slope, -1e-3, 1e-6, 0);
			rn_assert_near(m->step, 100, 1e-12, 0); /* of what it weighs in this case */
			rn_assert_near(m->less, 0.1, 1e-6, 0);
			assert_true(m->less_how == RN_BESIDE_FOUND && m->more_how == RN_BESIDE_NOT_FOUND && m->more == 0);
			assert_int_equal(i, 1);
			seen++;
		}
	}
	assert_int_equal(seen, 2);
	rn_matters_release(&matters);
	rn_result_destroy(result);
	rn_document_destroy(d);
}

/* Of many numbers the twelve that change most are told, the largest first, and what each comes to settled anew. */
static void test_the_twelve_that_matter_most(void **state)
{
	(void)state;
	rn_document *d = models_read("floating-redirect.xml");
	const rn_model *m = d->model;
	rn_options options = rn_options_default();
	rn_result *result = solved(d);
	int c = result->verdict.worst_case, part = result->verdict.worst_part, settled = 0;
	const rn_case *the_case = &m->cases[result->cases[c].case_index];
	rn_matters matters;
	rn_workspace *w;
	double *values = calloc((size_t)m->number_count + 1, sizeof *values);
	assert_non_null(values);
	rn_case_values(m, the_case, values);
	assert_int_equal(rn_workspace_create(m, &options, &w), RN_OK);
	assert_int_equal(rn_matters_find(result, &options, c, part, &matters), RN_OK);
	assert_int_equal(matters.count, 12);
	rn_assert_near(matters.share, result->cases[c].parts[part].utilisation, 1e-12, 0);
	const rn_matter *last = &matters.list[matters.count - 1];
	for (int i = 0; i < matters.count; i++) {
		const rn_matter *a = &matters.list[i];
		assert_true(i == 0 || fabs(a->slope * a->step) <= fabs(a[-1].slope * a[-1].step));
		assert_true(a->slope == matters.slopes[a->number] && a->step > 0);
		for (int side = 0; side < 2; side++) {
			const rn_case_result *alone;
			double value = values[a->number];
			if ((side ? a->less_how : a->more_how) != RN_BESIDE_FOUND)
				continue;
			values[a->number] = value + (side ? -a->step : a->step);
			assert_int_equal(rn_workspace_settle(w, the_case, values, false, &alone), RN_OK);
			values[a->number] = value;
			rn_assert_near(side ? a->less : a->more, alone->parts[part].utilisation - matters.share, 1e-9, 1e-12);
			settled++;
		}
	}
	assert_true(settled > 12);
	for (int i = 0; i < m->number_count; i++) {
		bool told = false, place = m->numbers[i].attribute == RN_ATTRIBUTE_X || m->numbers[i].attribute == RN_ATTRIBUTE_Y;
		for (int k = 0; k < matters.count; k++)
			told = told || matters.list[k].number == i;
		if (place && !told) /* of a hand's width, 0.1 m */
			assert_true(fabs(matters.slopes[i]) * 0.1 <= fabs(last->slope * last->step));
	}
	free(values);
	rn_workspace_destroy(w);
	rn_matters_release(&matters);
	rn_result_destroy(result);
	rn_document_destroy(d);
}

/* ---- a caught piece ------------------------------------------------------------------------------ */

/* What holds the line where it leads over: the station, the gear of the node, or the node itself says how it runs. */
typedef enum holder { AT_STATION, AT_GEAR, AT_NODE } bearer;

/* A piece of 900 N on 3 m of rope under a point, over which the rope leads down to a hand 8 m below; it falls 1 m. */
typedef struct catching {
	rn_attribute attribute; /* EFFICIENCY or FRICTION at the point */
	double bearing;
	bearer bearer;
	bool first_at_hand; /* the line is written from the hand to the piece */
	bool curve;         /* the rope is on a curve of stretch */
	double times;       /* so many times as stretchy */
	double limit;       /* of the point [N]; 0: none */
	double guessed;     /* times its middle, and as often less: the ends of what is guessed of its stiffness; 0: given */
	double turns;       /* round a bollard in front of the hand; 0: the hand holds the rope itself */
} catching;

enum { POINT, HAND, LOG };

static const double ground = 3.5, let_go = 7; /* heights [m] */

static void add_rope(rn_model *m, const catching *c)
{
	static const double points[][2] = {{2000, 0.04}, {9000, 0.08}, {30000, 0.12}};
	rn_item item = {.id = "r", .kind = RN_ITEM_ROPE};
	int index;
	build_number(m, rn_object_of(RN_LINE, 0), RN_ATTRIBUTE_STIFFNESS, c->curve ? 1 : 2e5 / c->times); /* a curve goes before */
	if (c->guessed > 0) {
		rn_number guess = {.value = 2e5, .low = 2e5 / c->guessed, .high = 2e5 * c->guessed, .object = rn_object_of(RN_LINE, 0),
		                   .attribute = RN_ATTRIBUTE_STIFFNESS, .origin = RN_GUESSED};
		assert_int_equal(rn_model_set_number(m, &guess), RN_OK);
	}
	if (!c->curve)
		return;
	assert_int_equal(rn_model_add_item(m, &item, &index), RN_OK);
	m->lines[0].gear = index;
	for (int p = 0; p < 3; p++) {
		rn_stretch stretch = {.item = index};
		assert_int_equal(rn_model_add_stretch(m, &stretch, NULL), RN_OK);
		build_number(m, rn_object_of(RN_STRETCH, p), RN_ATTRIBUTE_LOAD, points[p][0]);
		build_number(m, rn_object_of(RN_STRETCH, p), RN_ATTRIBUTE_BY, points[p][1] * c->times);
	}
}

static rn_model *caught_over(const catching *c)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	m->made_cases = false;
	rn_stem stem = {.id = "stem", .on = RN_NONE}; /* its foot is the ground */
	int foot;
	assert_int_equal(rn_model_add_stem(m, &stem, &foot), RN_OK);
	build_number(m, rn_object_of(RN_STEM, foot), RN_ATTRIBUTE_X, -1);
	build_number(m, rn_object_of(RN_STEM, foot), RN_ATTRIBUTE_Y, ground);
	build_node(m, "point", RN_NODE_ANCHOR, 0, 9, 0);
	build_node(m, "hand", c->turns > 0 ? RN_NODE_BOLLARD : RN_NODE_HAND, 1, 1, 0);
	if (c->turns > 0)
		build_number(m, rn_object_of(RN_NODE, HAND), RN_ATTRIBUTE_TURNS, c->turns);
	build_node(m, "log", RN_NODE_PIECE, 0, 6, 900);
	if (c->limit > 0)
		build_number(m, rn_object_of(RN_NODE, POINT), RN_ATTRIBUTE_WORKING_LOAD, c->limit);
	rn_line line = {.id = "line", .gear = RN_NONE};
	assert_int_equal(rn_model_add_line(m, &line, NULL), RN_OK);
	add_rope(m, c);
	int hold, first = c->first_at_hand ? build_station(m, RN_HOLD, HAND, 0, 0) : build_station(m, RN_TIE, LOG, 0, 0);
	int through = build_station(m, RN_THROUGH, POINT, 0, c->first_at_hand ? 1 : -1);
	int last = c->first_at_hand ? build_station(m, RN_TIE, LOG, 0, 0) : build_station(m, RN_HOLD, HAND, 0, 0);
	hold = c->first_at_hand ? first : last;
	build_number(m, rn_object_of(RN_STATION, hold), RN_ATTRIBUTE_FURTHER, 0.5);
	build_number(m, rn_object_of(RN_STATION, hold), RN_ATTRIBUTE_FRICTION, 0.15);
	rn_object holder = rn_object_of(RN_STATION, through);
	if (c->bearer == AT_GEAR) {
		rn_item ring = {.id = "b", .kind = RN_ITEM_BLOCK};
		assert_int_equal(rn_model_add_item(m, &ring, &m->nodes[POINT].gear), RN_OK);
		holder = rn_object_of(RN_ITEM, m->nodes[POINT].gear);
	} else if (c->bearer == AT_NODE) {
		holder = rn_object_of(RN_NODE, POINT);
	}
	build_number(m, holder, c->attribute, c->bearing);
	rn_case only = {.id = "only", .level = RN_FRICTION_NOMINAL};
	rn_fall fall = {.piece = rn_object_of(RN_NODE, LOG), .line = RN_NONE};
	assert_int_equal(rn_model_add_case(m, &only, NULL), RN_OK);
	assert_int_equal(rn_model_add_fall(m, &fall, NULL), RN_OK);
	build_number(m, rn_object_of(RN_FALL, 0), RN_ATTRIBUTE_DROP, 1);
	assert_int_equal(rn_model_check(m), RN_OK);
	return m;
}

static rn_options plain_options(void)
{
	rn_options options = rn_options_default();
	options.stretch_check = options.side_check = false;
	return options;
}

/* Peak of the catch solved by itself [N]. */
static double peak_over(const catching *c)
{
	rn_options options = plain_options();
	rn_model *m = caught_over(c);
	rn_result *result;
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	assert_int_equal(result->cases[0].outcome, RN_OUTCOME_SETTLED);
	double peak = result->cases[0].caught.peak;
	assert_true(peak > 900);
	rn_result_destroy(result);
	rn_model_destroy(m);
	return peak;
}

static const rn_otherwise *first_of(const rn_comparison *c, rn_otherwise_kind kind)
{
	for (int i = 0; i < c->count; i++)
		if (c->list[i].kind == kind)
			return &c->list[i];
	return NULL;
}

/* A ring for a block and a block for a ring, made alike over half a turn, whoever says how the rope runs there. */
static void test_ring_for_block(void **state)
{
	(void)state;
	rn_options options = plain_options();
	for (int i = 0; i < 12; i++) {
		bool block = i % 2;
		catching c = {.attribute = block ? RN_ATTRIBUTE_EFFICIENCY : RN_ATTRIBUTE_FRICTION, .bearing = block ? 0.93 : 0.22,
		              .bearer = (bearer)(i / 2 % 3), .first_at_hand = i >= 6, .times = 1};
		rn_model *m = caught_over(&c);
		rn_comparison found;
		assert_int_equal(rn_comparison_find(m, &options, 0, &found), RN_OK);
		const rn_otherwise *other = first_of(&found, block ? RN_OTHERWISE_RING : RN_OTHERWISE_BLOCK);
		assert_null(first_of(&found, block ? RN_OTHERWISE_BLOCK : RN_OTHERWISE_RING));
		assert_non_null(other);
		assert_int_equal(found.count, 13);
		assert_int_equal(found.node, POINT);
		assert_int_equal(found.line, 0);
		assert_int_equal(found.case_index, 0);
		double middle = rn_friction_of_kind(block ? RN_NODE_RING : RN_NODE_BLOCK);
		rn_assert_near(other->amount, middle, 0, 0);
		rn_assert_near(found.list[0].row.peak, peak_over(&c), 1e-9, 0);
		c.bearing = block ? exp(-middle * pi) : -log(middle) / pi;
		rn_assert_near(other->row.peak, peak_over(&c), 1e-9, 0);
		assert_true(block ? other->row.peak > found.list[0].row.peak : other->row.peak < found.list[0].row.peak);
		rn_comparison_release(&found);
		rn_model_destroy(m);
	}
}

/* A rope on a curve of load and stretch is made stretchier in all its points. */
static void test_a_stretchier_curve(void **state)
{
	(void)state;
	static const double times[] = {0.5, 2, 5};
	rn_options options = plain_options();
	catching c = {.attribute = RN_ATTRIBUTE_FRICTION, .bearing = 0.001, .curve = true, .times = 1};
	rn_model *m = caught_over(&c);
	rn_comparison found;
	assert_int_equal(rn_comparison_find(m, &options, 0, &found), RN_OK);
	int seen = 0;
	for (int i = 0; i < found.count; i++)
		if (found.list[i].kind == RN_OTHERWISE_SOFTER) {
			assert_true(seen < 3);
			rn_assert_near(found.list[i].amount, times[seen], 0, 0);
			c.times = times[seen++];
			rn_assert_near(found.list[i].row.peak, peak_over(&c), 1e-9, 0);
		}
	assert_int_equal(seen, 3);
	rn_comparison_release(&found);
	rn_model_destroy(m);
}

/* What is asked of a hand that lets run: doublings of a quarter of a metre. The least it must let run is told where a
 * limit can be met, and none where no run meets it, or where nothing has a limit. */
static void test_how_much_must_run(void **state)
{
	(void)state;
	static const double asked[] = {0, 0.25, 0.5, 1, 2, 4, 8};
	rn_options options = plain_options();
	catching c = {.attribute = RN_ATTRIBUTE_FRICTION, .bearing = 0.22, .times = 1};
	double locked = 0;
	for (int i = 0; i < 4; i++) {
		rn_let_run l;
		c.turns = i % 2;
		/* none; between locked and 8 m; above locked; below the weight alone */
		c.limit = i == 0 ? 0 : i == 1 ? 0.6 * locked : i == 2 ? 1.1 * locked : 500;
		rn_model *m = caught_over(&c);
		assert_int_equal(rn_let_run_find(m, &options, 0, &l), RN_OK);
		locked = l.rows[0].anchor_pull;
		assert_true(l.count == 7 && l.station == 2 && l.case_index == 0 && l.shape);
		for (int k = 0; k < 7; k++) {
			assert_true(l.asked[k] == asked[k]);
			rn_assert_near(l.rows[k].run_out, asked[k], 2e-4, 1e-7);
			assert_true(k == 0 || (l.rows[k].peak < l.rows[k - 1].peak && l.rows[k].slips_at < l.rows[k - 1].slips_at));
			assert_int_equal(l.rows[k].anchor, POINT);
			assert_int_equal(l.rows[k].closest != RN_NONE, i > 0);
			assert_true(l.rows[k].unchecked); /* the rope has no strength */
			double hand = l.rows[k].slips_at * exp(-0.15 * 2 * pi * c.turns);
			rn_assert_near(l.rows[k].hand_least, hand, 1e-9, 0);
			rn_assert_near(l.rows[k].hand_most, hand, 1e-9, 0);
			/* in the lead e^(mu bend) more, bent by half a turn less what the rope behind leans */
			rn_assert_near(l.rows[k].peak, l.rows[k].slips_at * exp(0.22 * (pi - atan2(1, 8))), 1e-6, 0);
			assert_int_equal(l.rows[k].ground, let_go - l.rows[k].travel < ground);
			assert_int_equal(l.rows[k].ground, k >= 5);
			rn_assert_near(l.rows[k].clear, l.rows[k].travel, 1e-12, 0);
			assert_false(l.rows[k].breaks);
			if (i > 0)
				rn_assert_near(l.rows[k].utilisation, l.rows[k].anchor_pull / c.limit, 1e-9, 0);
		}
		assert_int_equal(l.has_least, i == 1 || i == 2);
		if (i == 1) {
			rn_assert_near(l.least.utilisation, 1, 2e-4, 0);
			assert_true(l.least.utilisation <= 1 && l.least.run_out > 0 && l.least.run_out < 8);
		}
		if (i == 2)
			assert_true(l.least.run_out == 0 && l.least.peak == l.rows[0].peak);
		rn_let_run_release(&l);
		rn_model_destroy(m);
	}
}

/* Of a guessed stiffness a row has what is worse of either end: the pulls of the stiff one, the air of the soft one, and
 * a part is unchecked if it is at any. */
static void test_rows_of_a_guess(void **state)
{
	(void)state;
	rn_options options = plain_options();
	catching c = {.attribute = RN_ATTRIBUTE_FRICTION, .bearing = 0.22, .times = 1, .limit = 4000, .guessed = 1.5, .turns = 1};
	rn_let_run guessed, ends[2];
	rn_model *m = caught_over(&c), *of_end[2];
	assert_int_equal(rn_let_run_find(m, &options, 0, &guessed), RN_OK);
	c.guessed = 0;
	for (int i = 0; i < 2; i++) {
		c.times = i ? 1 / 1.5 : 1.5;
		of_end[i] = caught_over(&c);
		assert_int_equal(rn_let_run_find(of_end[i], &options, 0, &ends[i]), RN_OK);
	}
	const rn_caught_row *row = &guessed.rows[0], *soft = &ends[0].rows[0], *stiff = &ends[1].rows[0];
	rn_assert_near(row->peak, stiff->peak, 1e-9, 0);
	rn_assert_near(row->slips_at, stiff->slips_at, 1e-9, 0);
	rn_assert_near(row->hand_least, stiff->hand_least, 1e-9, 0);
	rn_assert_near(row->hand_most, stiff->hand_most, 1e-9, 0);
	rn_assert_near(row->anchor_pull, stiff->anchor_pull, 1e-9, 0);
	rn_assert_near(row->utilisation, stiff->utilisation, 1e-9, 0);
	rn_assert_near(row->travel, soft->travel, 1e-9, 0);
	rn_assert_near(row->clear, soft->clear, 1e-9, 0);
	assert_true(row->anchor == POINT && row->closest == stiff->closest && row->unchecked);
	assert_true(soft->travel > stiff->travel && stiff->peak > soft->peak);
	for (int i = 0; i < 2; i++) {
		rn_let_run_release(&ends[i]);
		rn_model_destroy(of_end[i]);
	}
	rn_let_run_release(&guessed);
	rn_model_destroy(m);
}

/* ---- a held rope ---------------------------------------------------------------------------------- */

/* A point post between a hanging piece and a fixed end, capstan exponent mu, the rope turned by half a turn:
 * after the piece was lowered the fall part pulls W e^(-mu pi). Its length and its ends stay, so while the rope
 * sticks on the post its pull stays too, whatever hangs on the lead; it slips on as soon as the lead pulls more
 * than W, and back when it pulls less than W e^(-2 mu pi). */
static rn_model *over_a_post(double mu, const double *weights, int count)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int log = build_node(m, "log", RN_NODE_PIECE, 0, 3, weights[0]);
	int post = build_node(m, "post", RN_NODE_ANCHOR, 0, 9, 0), foot = build_node(m, "foot", RN_NODE_ANCHOR, 0, 1, 0);
	build_line(m, "line", 2e5);
	build_station(m, RN_TIE, log, 0, 0);
	int through = build_station(m, RN_THROUGH, post, 0, 1);
	build_station(m, RN_TIE, foot, 0, 0);
	build_number(m, rn_object_of(RN_STATION, through), RN_ATTRIBUTE_FRICTION, mu);
	int number = rn_model_find_number(m, rn_object_of(RN_NODE, log), RN_ATTRIBUTE_WEIGHT);
	static const char *const ids[] = {"w0", "w1", "w2", "w3", "w4", "w5", "w6", "w7"};
	for (int i = 0; i < count; i++) {
		rn_case c = {.id = ids[i], .level = RN_FRICTION_NOMINAL, .after = i ? ids[i - 1] : NULL};
		int index;
		assert_int_equal(rn_model_add_case(m, &c, &index), RN_OK);
		rn_run run = {.line = 0, .toward_last = 0, .at = RN_NONE};
		rn_setting set = {number, weights[i]};
		if (i == 0)
			assert_int_equal(rn_model_add_run(m, index, &run), RN_OK);
		assert_int_equal(rn_model_add_setting(m, index, &set), RN_OK);
	}
	m->made_cases = false;
	assert_int_equal(rn_model_check(m), RN_OK);
	return m;
}

/* Whether a case says that the rope sticks at the post, or slips there toward a node. */
static bool says(const rn_case_result *answer, rn_note_kind kind, int toward)
{
	int count = 0;
	for (int i = 0; i < answer->notes.count; i++) {
		const rn_note *n = &answer->notes.items[i];
		if (n->kind != RN_NOTE_STICKS && n->kind != RN_NOTE_SLIPS)
			continue;
		if (n->kind != kind || n->a.kind != RN_LINE || n->b.index != 1 || (kind == RN_NOTE_SLIPS && n->c.index != toward))
			return false;
		count++;
	}
	return count == 1;
}

static void test_a_held_rope_sticks_and_slips(void **state)
{
	(void)state;
	const double mu = 0.2, k = exp(mu * pi);
	/* sticks, sticks, slips on, sticks, slips back, sticks, slips on */
	const double weights[] = {1000, 900, 400, 1200, 1100, 1200 / (k * k) * 0.9, 350, 1200};
	double fall = 1000 / k, expected[8];
	int slips[8]; /* toward the piece, toward the foot, or not */
	for (int i = 0; i < 8; i++) {
		slips[i] = fall < weights[i] / k ? 0 : fall > weights[i] * k ? 2 : RN_NONE;
		fall = fmax(fall, weights[i] / k);
		fall = fmin(fall, weights[i] * k);
		expected[i] = fall;
	}
	rn_model *m = over_a_post(mu, weights, 8);
	rn_options options = rn_options_default();
	rn_result *result;
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	for (int c = 0; c < 8; c++) {
		assert_int_equal(result->cases[c].outcome, RN_OUTCOME_SETTLED);
		assert_true(result->cases[c].balance.closed);
		rn_assert_near(net_tension(&result->cases[c], RN_LINE, 0, 0), weights[c], 1e-9, 0);
		rn_assert_near(net_tension(&result->cases[c], RN_LINE, 0, 1), expected[c], 2e-5, 0);
		if (c > 0)
			assert_true(says(&result->cases[c], slips[c] == RN_NONE ? RN_NOTE_STICKS : RN_NOTE_SLIPS, slips[c]));
	}
	/* the path matters: 1200 before and after are not alike with 350 between, but a loop that is gone round
	 * once comes back to itself */
	rn_assert_near(expected[3], expected[7], 1e-12, 0);
	assert_true(fabs(expected[2] - expected[6]) > 30);
	rn_result_destroy(result);
	rn_model_destroy(m);
}

/* ---- ranges -------------------------------------------------------------------------------------- */

/* Behind the turns of a bollard the hand's pull may be held back either way: the line carries from P e^(-mu a) to
 * P e^(mu a), and a sling to the foot what is more than the weight. */
static void test_range_behind_turns(void **state)
{
	(void)state;
	rn_options options = rn_options_default();
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	rn_ranges r;
	const double mu = 0.1, turns = 0.5, hand = 1000, load = 300;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int foot = build_node(m, "foot", RN_NODE_ANCHOR, 0, 0, 0), log = build_node(m, "log", RN_NODE_PIECE, 0, 2, load);
	int post = build_node(m, "post", RN_NODE_BOLLARD, 0, 9, 0);
	build_number(m, rn_object_of(RN_NODE, post), RN_ATTRIBUTE_TURNS, turns);
	build_number(m, rn_object_of(RN_NODE, foot), RN_ATTRIBUTE_WORKING_LOAD, 2000);
	build_sling(m, "s", foot, log, 1e8, 0);
	build_line(m, "l", 1e8);
	build_station(m, RN_TIE, log, 0, 0);
	rn_object hold = rn_object_of(RN_STATION, build_station(m, RN_HOLD, post, 0, 0));
	build_number(m, hold, RN_ATTRIBUTE_FRICTION, mu);
	build_number(m, hold, RN_ATTRIBUTE_PULL, hand);
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_ranges_find(m, &options, 0, &r), RN_OK);
	double grip = exp(mu * 2 * pi * turns);
	assert_int_equal(r.unsure_count, 1);
	assert_true(r.state_count > 0 && r.lost_count == 0 && !r.by_balance);
	for (int i = 0; i < r.middle->span_count; i++) {
		bool line = r.middle->spans[i].member.kind == RN_LINE;
		rn_assert_near(r.tensions[i].least, hand / grip - (line ? 0 : load), 1e-6, 0);
		rn_assert_near(r.tensions[i].most, hand * grip - (line ? 0 : load), 1e-6, 0);
		rn_assert_near(r.middle->spans[i].tension, hand - (line ? 0 : load), 1e-6, 0);
		assert_false(r.may_be_slack[i]);
	}
	rn_assert_near(r.pulls[foot].least, hand / grip - load, 1e-6, 0);
	rn_assert_near(r.pulls[foot].most, hand * grip - load, 1e-6, 0);
	rn_assert_near(r.directions[foot].least, pi / 2, 1e-9, 0);
	rn_assert_near(r.directions[foot].most, pi / 2, 1e-9, 0);
	for (int p = 0; p < r.middle->part_count; p++) {
		rn_object object = r.middle->parts[p].object;
		bool checked = object.kind == RN_NODE && object.index == foot;
		rn_assert_near(r.utilisations[p].least, checked ? (hand / grip - load) / 2000 : 0, 1e-6, 0);
		rn_assert_near(r.utilisations[p].most, checked ? (hand * grip - load) / 2000 : 0, 1e-6, 0);
	}
	rn_ranges_release(&r);
	rn_model_destroy(m);
}

/* Where nothing is open each range is the answer, of the case that is asked about. */
static void test_range_of_nothing_open(void **state)
{
	(void)state;
	rn_document *d = pulled_up(200, 1000);
	rn_options options = rn_options_default();
	rn_ranges r;
	assert_int_equal(rn_ranges_find(d->model, &options, 1, &r), RN_OK);
	assert_true(r.case_index == 1 && r.unsure_count == 0 && r.lost_count == 0 && r.state_count > 0);
	for (int i = 0; i < r.middle->span_count; i++) {
		double tension = r.middle->spans[i].member.kind == RN_LINE ? 1000 : 600;
		rn_assert_near(r.tensions[i].least, tension, 1e-6, 0);
		rn_assert_near(r.tensions[i].most, tension, 1e-6, 0);
	}
	rn_ranges_release(&r);
	rn_document_destroy(d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_stops_in_their_order),              cmocka_unit_test(test_each_stop_in_its_case),
		cmocka_unit_test(test_nothing_stops_it),                  cmocka_unit_test(test_ends_where_it_falls),
		cmocka_unit_test(test_ends_without_an_answer),            cmocka_unit_test(test_stops_before_the_end),
		cmocka_unit_test(test_turns_within_one_step),             cmocka_unit_test(test_ends_of_answers),
		cmocka_unit_test(test_first_of_equals),                   cmocka_unit_test(test_every_choice_by_itself),
		cmocka_unit_test(test_how_far_off_it_may_be),             cmocka_unit_test(test_worth_moving),
		cmocka_unit_test(test_nothing_to_make_least),             cmocka_unit_test(test_best_at_an_edge),
		cmocka_unit_test(test_a_link_lets_go),                    cmocka_unit_test(test_what_is_left_of_two_legs),
		cmocka_unit_test(test_what_leads_down),                   cmocka_unit_test(test_held_besides),
		cmocka_unit_test(test_a_connector_lets_go),               cmocka_unit_test(test_share_of_a_link),
		cmocka_unit_test(test_nothing_beside),                    cmocka_unit_test(test_the_twelve_that_matter_most),
		cmocka_unit_test(test_ring_for_block),                    cmocka_unit_test(test_a_stretchier_curve),
		cmocka_unit_test(test_how_much_must_run),                 cmocka_unit_test(test_rows_of_a_guess),
		cmocka_unit_test(test_a_held_rope_sticks_and_slips),      cmocka_unit_test(test_range_behind_turns),
		cmocka_unit_test(test_range_of_nothing_open),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
