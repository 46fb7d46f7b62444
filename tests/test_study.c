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
#include <string.h>

#include <cmocka.h>

#include "io/xml/reader.h"
#include "solver/study/workspace.h"
#include "tests/support.h"

static const rn_object no_part = {RN_NODE, RN_NONE};

static rn_document *document_of(const char *body)
{
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	char text[8192];
	int size = snprintf(text, sizeof text, "<rigging xmlns=\"urn:funicle:rigging\" format=\"1\">%s</rigging>", body);
	assert_true(size > 0 && size < (int)sizeof text);
	assert_int_equal(rn_document_read(&allocator, "test", text, (size_t)size, NULL, &document), RN_OK);
	return document;
}

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
		n += snprintf(text + n, sizeof text - (size_t)n, "<item id=\"g%d\" kind=\"sling\" strength=\"%.17g N\" stiffness=\"100 MN\"/>", i,
		              2 * limits[i]);
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
		n += snprintf(text + n, sizeof text - (size_t)n, "<sling id=\"s%d\" from=\"%s\" to=\"%s\" gear=\"g%d\" hitch=\"straight\"/>", i, from,
		              to, i);
	}
	snprintf(text + n, sizeof text - (size_t)n, "%s", rest);
	return document_of(text);
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
	return document_of(text);
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
	return document_of(text);
}

static void test_ends_without_an_answer(void **state)
{
	(void)state;
	rn_document *d = between_hands(400, 4.9);
	rn_largest l = largest_of(d);
	assert_true(l.ended && l.weight == 0 && l.working_count == 1 && l.breaking_count == 0 && l.looked_to == 0);
	assert_int_equal(l.working[0].kind, RN_HALT_OUTCOME);
	assert_true(l.end.kind == RN_HALT_OUTCOME && l.end.case_index == 1 && l.end.part == RN_NONE && l.end.node == RN_NONE);
	rn_assert_near(l.at->cases[0].nodes[rn_model_object_by_id(d->model, "log").index].load[1], -1, 1e-12, 0); /* a tenth of 10 N */
	rn_largest_release(&l);
	rn_document_destroy(d);
}

/* A weight on a sling below a joint that is pulled up, and tied to a foot: the sling comes to its limit before the joint
 * falls past its foot, and both are told. Beside the end it is as the answers by themselves say. */
static void test_stops_before_the_end(void **state)
{
	(void)state;
	rn_document *d = document_of(
		"<cases made=\"none\"/><gear design-factor=\"1\"><item id=\"q\" kind=\"rope\" strength=\"900 kN\" diameter=\"14 mm\" "
		"stiffness=\"10 MN\"/><item id=\"g\" kind=\"sling\" strength=\"600 N\" stiffness=\"10 MN\"/>"
		"<item id=\"h\" kind=\"sling\" strength=\"9 kN\" stiffness=\"10 MN\"/></gear>"
		"<anchor id=\"foot\" x=\"0 m\" y=\"-4 m\" working-load=\"90 kN\"/><hand id=\"crew\" x=\"0 m\" y=\"9 m\"/>"
		"<joint id=\"j\" x=\"0 m\" y=\"2 m\"/><piece id=\"log\" x=\"0 m\" y=\"1 m\" weight=\"400 N\"/>"
		"<sling id=\"s\" from=\"j\" to=\"log\" gear=\"g\" hitch=\"straight\"/>"
		"<sling id=\"t\" from=\"foot\" to=\"j\" gear=\"h\" hitch=\"straight\"/>"
		"<line id=\"l\" gear=\"q\"><tie at=\"j\" knot=\"eye splice\"/><hold at=\"crew\" pull=\"800 N\"/></line><case id=\"c\"/>");
	rn_largest l = largest_of(d);
	rn_options options = rn_options_default();
	int number = rn_altered_number(d->model, "log.weight");
	assert_true(l.ended && l.working_count == 2 && l.breaking_count == 1);
	check_stop(&l, &l.working[0], "s", 600);
	check_stop(&l, &l.breaking[0], "s", 600);
	rn_assert_near(l.end.weight, 800, 2e-6, 0);
	assert_true(l.end.kind == RN_HALT_FALLS && l.working[1].kind == RN_HALT_FALLS);
	assert_true(l.working[1].weight == l.end.weight && l.looked_to == l.end.weight);
	for (int k = 0; k < 2; k++) {
		rn_result *alone;
		assert_int_equal(rn_solve_scaled(d->model, &options, number, l.end.weight * (k ? 1.0001 : 0.9999) / l.drawn, &alone), RN_OK);
		assert_int_equal(alone->cases[0].outcome != RN_OUTCOME_SETTLED || alone->cases[0].falls, k);
		rn_result_destroy(alone);
	}
	rn_largest_release(&l);
	rn_document_destroy(d);
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
	         "<anchor id=\"left\" x=\"-2 m\" y=\"6 m\" working-load=\"1 MN\"/><anchor id=\"right\" x=\"2 m\" y=\"6 m\" working-load=\"1 MN\"/>"
	         "<piece id=\"log\" x=\"%.17g m\" y=\"3 m\" weight=\"2 kN\"/>"
	         "<sling id=\"a\" from=\"left\" to=\"log\" gear=\"g\" hitch=\"straight\"/>"
	         "<sling id=\"b\" from=\"right\" to=\"log\" gear=\"h\" hitch=\"straight\"/><case id=\"c\"/>",
	         left_limit, right_limit, x);
	return document_of(text);
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

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_stops_in_their_order),   cmocka_unit_test(test_each_stop_in_its_case),
		cmocka_unit_test(test_nothing_stops_it),       cmocka_unit_test(test_ends_where_it_falls),
		cmocka_unit_test(test_ends_without_an_answer), cmocka_unit_test(test_stops_before_the_end),   cmocka_unit_test(test_turns_within_one_step),
		cmocka_unit_test(test_ends_of_answers),        cmocka_unit_test(test_first_of_equals),
		cmocka_unit_test(test_every_choice_by_itself), cmocka_unit_test(test_how_far_off_it_may_be),
		cmocka_unit_test(test_worth_moving),           cmocka_unit_test(test_best_at_an_edge),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
