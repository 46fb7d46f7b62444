/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Demands, limits, what is not checked, the one verdict over all cases.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/strength/parts.h"
#include "solver/strength/verdict.h"
#include "tests/fern_house.h"
#include "tests/support.h"

static const double degree = 3.14159265358979323846 / 180;

/* ---- opposed pull ---------------------------------------------------------------------------- */

static void put(double *forces, int i, double size, double angle_deg)
{
	forces[2 * i] = size * cos(angle_deg * degree);
	forces[2 * i + 1] = size * sin(angle_deg * degree);
}

static void test_opposed_pull_of_simple_sets(void **state)
{
	(void)state;
	double f[16] = {0};
	rn_assert_near(rn_parts_opposed_pull(f, 0), 0, 0, 0);
	put(f, 0, 2385, 37.2);
	rn_assert_near(rn_parts_opposed_pull(f, 1), 2385, 1e-14, 0);
	put(f, 1, 2385, 217.2); /* two opposed pulls P give P */
	rn_assert_near(rn_parts_opposed_pull(f, 2), 2385, 1e-14, 0);
	for (int i = 0; i < 3; i++) /* three at 120 deg give P */
		put(f, i, 2385, 37.2 + 120 * i);
	rn_assert_near(rn_parts_opposed_pull(f, 3), 2385, 1e-14, 0);
	for (int i = 0; i < 4; i++) /* two opposed pairs, square to each other */
		put(f, i, 2385, 37.2 + 90 * i);
	rn_assert_near(rn_parts_opposed_pull(f, 4), 2385 * sqrt(2), 1e-14, 0);
	f[0] = f[1] = f[2] = f[3] = 0;
	rn_assert_near(rn_parts_opposed_pull(f, 2), 0, 0, 0);
}

/* Two slings straight up and two loads straight down tear with the sum of two, and so at any angle.
 */
static void test_opposed_pull_of_parallel_pulls(void **state)
{
	(void)state;
	for (int turn = 0; turn < 360; turn += 15) {
		double f[12];
		put(f, 0, 700, turn);
		put(f, 1, 500, turn);
		put(f, 2, 800, turn + 180);
		put(f, 3, 400, turn + 180);
		rn_assert_near(rn_parts_opposed_pull(f, 4), 1200, 1e-13, 0);
		put(f, 4, 300, turn + 90);
		put(f, 5, 300, turn + 270);
		rn_assert_near(rn_parts_opposed_pull(f, 6), hypot(1200, 300), 1e-13, 0);
	}
}

enum { DIRECTIONS = 100000 };

static double by_brute_force(const double *f, int count)
{
	static double directions[2 * DIRECTIONS];
	if (directions[0] == 0)
		for (int k = 0; k < DIRECTIONS; k++)
			put(directions, k, 1, 360.0 * k / DIRECTIONS);
	double most = 0;
	for (int k = 0; k < DIRECTIONS; k++) {
		double sum = 0;
		for (int i = 0; i < count; i++)
			sum += fmax(0, directions[2 * k] * f[2 * i] +
			                       directions[2 * k + 1] * f[2 * i + 1]);
		most = fmax(most, sum);
	}
	return most;
}

/* In balance or not, with pulls side by side and dead opposite among them. The brute force misses
 * the best direction by half a step at most: (pi/1e5)^2/2 = 5e-10. */
static void test_opposed_pull_against_brute_force(void **state)
{
	(void)state;
	support_random random = support_random_from(71);
	for (int trial = 0; trial < 150; trial++) {
		double f[16];
		int count = 1 + support_random_below(&random, 8);
		for (int i = 0; i < count; i++) {
			double angle = support_random_between(&random, 0, 360);
			put(f, i, support_random_between(&random, 0, 5000), angle);
			if (i == 0 || !support_random_chance(&random, 0.3))
				continue;
			double k = support_random_between(&random, -2, 2);
			f[2 * i] = k * f[2 * i - 2];
			f[2 * i + 1] = k * f[2 * i - 1];
		}
		rn_assert_near(rn_parts_opposed_pull(f, count), by_brute_force(f, count), 1e-9, 0);
	}
}

/* ---- one hanging load ------------------------------------------------------------------------ */

/* A log of 1,000 N on a line with the given gear, tied to an anchor. */
typedef struct hanging {
	rn_model *model;
	rn_result *result;
	int gear;
} hanging;

static hanging hang(bool with_gear)
{
	rn_allocator allocator = rn_allocator_default();
	hanging h = {.gear = RN_NONE};
	assert_int_equal(rn_model_create(&allocator, &h.model), RN_OK);
	if (with_gear) {
		h.gear = fern_item(h.model, "rope", RN_ITEM_ROPE, 0, 0, 0);
		fern_full_strength(h.model, h.gear);
	}
	int top = build_node(h.model, "top", RN_NODE_ANCHOR, 0, 9, 0);
	int log = build_node(h.model, "log", RN_NODE_PIECE, 0, 4, 1000);
	int line = build_line(h.model, "line", 1e5);
	h.model->lines[line].gear = h.gear;
	build_station(h.model, RN_TIE, top, 0, 0);
	build_station(h.model, RN_TIE, log, 0, 0);
	return h;
}

static const rn_case_result *settle(hanging *h)
{
	rn_options options = rn_options_default();
	assert_int_equal(rn_model_check(h->model), RN_OK);
	assert_int_equal(rn_solve(h->model, &options, &h->result), RN_OK);
	assert_int_equal(h->result->cases[0].outcome, RN_OUTCOME_SETTLED);
	return &h->result->cases[0];
}

static void drop(hanging *h)
{
	rn_result_destroy(h->result);
	rn_model_destroy(h->model);
}

static const rn_part_result *part_at(const rn_model *m, const rn_case_result *answer,
                                     const char *id, int at)
{
	for (int i = 0; i < answer->part_count; i++)
		if (strcmp(rn_object_id(m, answer->parts[i].object), id) == 0 &&
		    (at == RN_NONE || answer->parts[i].at == at))
			return &answer->parts[i];
	return NULL;
}

/* limit = the smaller of working load and strength / design factor; 0 in a row = not given. */
static const struct {
	double strength, factor, whole_factor, working_load;
	double limit;
	rn_governed governed;
	rn_unchecked unchecked;
} limits[] = {
	{20000, 8, 0, 0, 2500, RN_BY_STRENGTH, RN_CHECKED},
	{20000, 0, 5, 0, 4000, RN_BY_STRENGTH, RN_CHECKED},
	{20000, 8, 5, 0, 2500, RN_BY_STRENGTH, RN_CHECKED}, /* its own comes first */
	{20000, 8, 0, 3000, 2500, RN_BY_STRENGTH, RN_CHECKED},
	{20000, 8, 0, 2200, 2200, RN_BY_WORKING_LOAD, RN_CHECKED},
	{20000, 0, 0, 2200, 2200, RN_BY_WORKING_LOAD, RN_CHECKED},
	{0, 8, 0, 2200, 2200, RN_BY_WORKING_LOAD, RN_CHECKED},
	{0, 0, 0, 900, 900, RN_BY_WORKING_LOAD, RN_CHECKED},
	{20000, 0, 0, 0, 0, RN_BY_NOTHING, RN_NO_DESIGN_FACTOR},
	{0, 8, 5, 0, 0, RN_BY_NOTHING, RN_NO_RATING},
	{0, 0, 0, 0, 0, RN_BY_NOTHING, RN_NO_RATING},
};

static void set_ratings(hanging *h, size_t i)
{
	rn_object gear = rn_object_of(RN_ITEM, h->gear);
	if (limits[i].strength > 0)
		build_number(h->model, gear, RN_ATTRIBUTE_STRENGTH, limits[i].strength);
	if (limits[i].factor > 0)
		build_number(h->model, gear, RN_ATTRIBUTE_DESIGN_FACTOR, limits[i].factor);
	if (limits[i].working_load > 0)
		build_number(h->model, gear, RN_ATTRIBUTE_WORKING_LOAD, limits[i].working_load);
	if (limits[i].whole_factor > 0)
		build_number(h->model, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_DESIGN_FACTOR,
		             limits[i].whole_factor);
}

static void test_limits(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
		hanging h = hang(true);
		set_ratings(&h, i);
		const rn_part_result *part = part_at(h.model, settle(&h), "line", RN_NONE);
		assert_non_null(part);
		rn_assert_near(part->demand, 1000, 1e-12, 0);
		rn_assert_near(part->limit, limits[i].limit, 1e-15, 0);
		rn_assert_near(part->utilisation, limits[i].limit > 0 ? 1000 / limits[i].limit : 0,
		               1e-12, 0);
		assert_int_equal(part->governed, limits[i].governed);
		assert_int_equal(part->unchecked, limits[i].unchecked);
		rn_assert_near(part->strength, limits[i].strength, 0, 0);
		rn_assert_near(part->working_load, limits[i].working_load, 0, 0);
		drop(&h);
	}
}

/* Over by a hair is over, exactly at the limit is not, and no rounding comes between. The anchor is
 * rated too, so that only the line decides. */
static void test_verdict_of_one_part(void **state)
{
	(void)state;
	static const double working_loads[] = {2000, 1000 * (1 + 1e-9), 1000 * (1 - 1e-9), 500};
	for (int i = 0; i < 4; i++) {
		hanging h = hang(true);
		build_number(h.model, rn_object_of(RN_ITEM, h.gear), RN_ATTRIBUTE_WORKING_LOAD,
		             working_loads[i]);
		build_number(h.model, rn_object_of(RN_NODE, 0), RN_ATTRIBUTE_WORKING_LOAD, 1e5);
		settle(&h);
		rn_verdict v = h.result->verdict;
		assert_int_equal(v.over, i >= 2);
		assert_int_equal(v.over_count, i >= 2);
		assert_int_equal(v.checked_count, 2);
		assert_int_equal(v.not_checked_count, 0);
		assert_int_equal(v.exit_class, i >= 2);
		assert_int_equal(v.worst_case, 0);
		assert_string_equal(
			rn_object_id(h.model, h.result->cases[0].parts[v.worst_part].object),
			"line");
		drop(&h);
	}
}

static void test_no_gear_is_not_checked(void **state)
{
	(void)state;
	hanging h = hang(false);
	const rn_part_result *part = part_at(h.model, settle(&h), "line", RN_NONE);
	assert_int_equal(part->unchecked, RN_NO_GEAR);
	assert_true(h.result->verdict.not_checked);
	assert_int_equal(h.result->verdict.exit_class, 1);
	assert_int_equal(h.result->verdict.worst_part, RN_NONE);
	drop(&h);
}

/* Two lines side by side share a load by their stiffness: nobody gave it, so neither is checked. */
static void test_stretch_unknown_is_not_checked(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	hanging h = {0};
	assert_int_equal(rn_model_create(&allocator, &h.model), RN_OK);
	int gear = fern_item(h.model, "rope", RN_ITEM_ROPE, 0, 5000, 0);
	int top = build_node(h.model, "top", RN_NODE_ANCHOR, 0, 9, 0);
	int log = build_node(h.model, "log", RN_NODE_PIECE, 0, 4, 1000);
	for (int i = 0; i < 2; i++) {
		rn_line d = {.id = i ? "given" : "guessed", .gear = i ? RN_NONE : gear};
		int line;
		assert_int_equal(rn_model_add_line(h.model, &d, &line), RN_OK);
		build_station(h.model, RN_TIE, top, 0, 0);
		build_station(h.model, RN_TIE, log, 0, 0);
		if (i)
			build_number(h.model, rn_object_of(RN_LINE, line), RN_ATTRIBUTE_STIFFNESS,
			             1e7);
	}
	const rn_case_result *answer = settle(&h);
	const rn_part_result *part = part_at(h.model, answer, "guessed", RN_NONE);
	assert_int_equal(part->unchecked, RN_STRETCH_UNKNOWN);
	rn_assert_near(part->demand, 500, 1e-9, 0);
	rn_assert_near(part->limit, 0, 0, 0);
	rn_assert_near(part->utilisation, 0, 0, 0);
	drop(&h);
}

/* ---- demands --------------------------------------------------------------------------------- */

/* A ring on two slings at 50 deg to plumb on either side, and a piece below: the demand of the ring
 * is what its slings pull up, not the larger sum of both. */
static void test_demand_of_a_ring(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	hanging h = {0};
	assert_int_equal(rn_model_create(&allocator, &h.model), RN_OK);
	int gear = fern_item(h.model, "steel", RN_ITEM_RING, 0, 15e3, 0);
	double across = 3 * tan(50 * degree);
	int left = build_node(h.model, "left", RN_NODE_ANCHOR, -across, 9, 0);
	int right = build_node(h.model, "right", RN_NODE_ANCHOR, across, 9, 0);
	int ring = build_node(h.model, "ring", RN_NODE_RING, 0, 6, 0);
	int log = build_node(h.model, "log", RN_NODE_PIECE, 0, 3, 1000);
	h.model->nodes[ring].gear = gear;
	build_sling(h.model, "s1", left, ring, 1e9, 0);
	build_sling(h.model, "s2", ring, right, 1e9, 0);
	build_sling(h.model, "s3", ring, log, 1e9, 0);
	const rn_case_result *answer = settle(&h);
	double leg = 500 / cos(50 * degree);
	rn_assert_near(part_at(h.model, answer, "s1", RN_NONE)->demand, leg, 1e-5, 0);
	rn_assert_near(part_at(h.model, answer, "left", RN_NONE)->demand, leg, 1e-5, 0);
	/* into the upper half plane: 1,000; sideways: one leg's level pull and nothing against it
	 * but the other's; along one leg: that leg and what the piece adds along it */
	double f[] = {-leg * sin(50 * degree), 500, leg * sin(50 * degree), 500, 0, -1000};
	rn_assert_near(part_at(h.model, answer, "ring", RN_NONE)->demand, by_brute_force(f, 3),
	               1e-5, 0);
	rn_assert_near(part_at(h.model, answer, "ring", RN_NONE)->utilisation,
	               by_brute_force(f, 3) / 15e3, 1e-5, 0);
	drop(&h);
}

/* More legs at one ring than anyone would hang there, up and down in turn: none may be forgotten.
 */
static void test_demand_of_a_crowded_ring(void **state)
{
	(void)state;
	enum { PAIRS = 45 };
	rn_allocator allocator = rn_allocator_default();
	hanging h = {0};
	assert_int_equal(rn_model_create(&allocator, &h.model), RN_OK);
	int gear = fern_item(h.model, "steel", RN_ITEM_RING, 0, 1e6, 0);
	int ring = build_node(h.model, "ring", RN_NODE_RING, 0, 6, 0);
	h.model->nodes[ring].gear = gear;
	for (int i = 0; i < 2 * PAIRS; i++) {
		bool up = i % 2 == 0;
		char id[] = {'n', (char)('0' + i / 10), (char)('0' + i % 10), 0};
		int other = build_node(h.model, id, up ? RN_NODE_ANCHOR : RN_NODE_PIECE, 0,
		                       up ? 9 : 3, up ? 0 : 100);
		id[0] = 's';
		build_sling(h.model, id, ring, other, 1e6, 0);
	}
	/* so many may be taken in lots, which is never less than the truth, nor much more */
	double demand = part_at(h.model, settle(&h), "ring", RN_NONE)->demand;
	assert_true(demand >= 100 * PAIRS * (1 - 1e-9));
	assert_true(demand <= 100 * PAIRS * 1.05);
	drop(&h);
}

/* The whole job: every part once, a block's demand is the resultant of its rope against its sling,
 * a connector carries what its sling carries. */
static void test_parts_of_the_whole_job(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	fern_house f = fern_house_make(&allocator, 3138.1, 10);
	rn_result *result = fern_house_solve(&f, &allocator);
	static const char *const ids[] = {"bull", "s1",      "s2",      "post",  "b1",
	                                  "r1",   "shackle", "shackle", "beech", "ash"};
	for (int c = 0; c < result->case_count; c++) {
		const rn_case_result *answer = &result->cases[c];
		assert_int_equal(answer->outcome, RN_OUTCOME_SETTLED);
		assert_int_equal(answer->part_count, 10);
		for (int i = 0; i < 10; i++)
			assert_string_equal(rn_object_id(f.model, answer->parts[i].object), ids[i]);
		double s1 = net_tension(answer, RN_SLING, f.s1, 0),
		       s2 = net_tension(answer, RN_SLING, f.s2, 0);
		rn_assert_near(answer->parts[1].demand, s1, 1e-12, 0);
		/* sling, rope and the weight of the block itself: the sling pulls against the other
		 * two */
		rn_assert_near(answer->parts[4].demand, s1, 1e-9, 0);
		rn_assert_near(answer->parts[5].demand, s2, 1e-9, 0);
		assert_int_equal(answer->parts[6].at, f.b1);
		rn_assert_near(answer->parts[6].demand, s1, 1e-9, 0);
		assert_int_equal(answer->parts[7].at, f.r1);
		rn_assert_near(answer->parts[7].demand, s2, 1e-9, 0);
		rn_assert_near(answer->parts[8].demand, s1, 1e-12, 0); /* what the beech feels below it */
		double largest = 0;
		for (int k = 0; k < 3; k++)
			largest = fmax(largest, net_tension(answer, RN_LINE, f.bull, k));
		rn_assert_near(answer->parts[0].demand, largest, 1e-12, 0);
		rn_assert_near(answer->parts[0].limit, 7000, 1e-12, 0);
	}
	rn_result_destroy(result);
	rn_model_destroy(f.model);
}

/* ---- the verdict ----------------------------------------------------------------------------- */

enum { CASES = 3, PARTS = 4 };

/* A made-up result: all settled, all proved, each part checked and half used. */
typedef struct made {
	rn_result result;
	rn_case_result cases[CASES];
	rn_part_result parts[CASES][PARTS];
} made;

static void make(made *m)
{
	memset(m, 0, sizeof *m);
	m->result.cases = m->cases;
	m->result.case_count = CASES;
	for (int c = 0; c < CASES; c++) {
		m->cases[c].outcome = RN_OUTCOME_SETTLED;
		m->cases[c].balance.closed = true;
		m->cases[c].parts = m->parts[c];
		m->cases[c].part_count = PARTS;
		for (int p = 0; p < PARTS; p++)
			m->parts[c][p] =
				(rn_part_result){.demand = 500, .limit = 1000, .utilisation = 0.5};
	}
}

static void uncheck(made *m, int c, int p, double demand)
{
	m->parts[c][p] = (rn_part_result){.demand = demand, .unchecked = RN_NO_RATING};
}

static void assert_verdict(const made *m, int over, int checked, int not_checked, int exit_class)
{
	rn_verdict v = rn_verdict_of(&m->result);
	assert_int_equal(v.over_count, over);
	assert_int_equal(v.checked_count, checked);
	assert_int_equal(v.not_checked_count, not_checked);
	assert_int_equal(v.over, over > 0);
	assert_int_equal(v.exit_class, exit_class);
}

static void test_none_over(void **state)
{
	(void)state;
	made m;
	make(&m);
	m.parts[2][1].utilisation = 0.75;
	assert_verdict(&m, 0, 4, 0, 0);
	rn_verdict v = rn_verdict_of(&m.result);
	assert_int_equal(v.worst_case, 2);
	assert_int_equal(v.worst_part, 1);
	assert_false(v.not_checked);
}

/* A part counts once however many cases it is over in. */
static void test_over_in_two_cases_counts_once(void **state)
{
	(void)state;
	made m;
	make(&m);
	m.parts[0][3].utilisation = 1.2;
	m.parts[2][3].utilisation = 1.4;
	assert_verdict(&m, 1, 4, 0, 1);
	assert_int_equal(rn_verdict_of(&m.result).worst_case, 2);
	m.parts[1][0].utilisation = 1 + 1e-12;
	assert_verdict(&m, 2, 4, 0, 1);
}

static void test_exactly_at_the_limit_is_not_over(void **state)
{
	(void)state;
	made m;
	make(&m);
	m.parts[1][2].utilisation = 1;
	assert_verdict(&m, 0, 4, 0, 0);
}

/* Loaded without a limit in one case: not checked at all. Without load it need not be. */
static void test_not_checked(void **state)
{
	(void)state;
	made m;
	make(&m);
	uncheck(&m, 1, 2, 800);
	assert_verdict(&m, 0, 3, 1, 1);
	assert_true(rn_verdict_of(&m.result).not_checked);
	make(&m);
	for (int c = 0; c < CASES; c++)
		uncheck(&m, c, 2, c == 0 ? 800 : 0); /* loaded in one case only */
	assert_verdict(&m, 0, 3, 1, 1);
	make(&m);
	for (int c = 0; c < CASES; c++)
		uncheck(&m, c, 2, 0);
	assert_verdict(&m, 0, 3, 0, 0);
	make(&m);
	for (int c = 0; c < CASES; c++)
		for (int p = 0; p < PARTS; p++)
			uncheck(&m, c, p, 100);
	assert_verdict(&m, 0, 0, 4, 1);
	assert_int_equal(rn_verdict_of(&m.result).worst_case, RN_NONE);
	assert_int_equal(rn_verdict_of(&m.result).worst_part, RN_NONE);
}

static void test_a_fall_is_not_checked(void **state)
{
	(void)state;
	made m;
	make(&m);
	m.cases[1].falls = true;
	assert_verdict(&m, 0, 4, 0, 1);
	assert_true(rn_verdict_of(&m.result).not_checked);
}

/* The worst counts, in the order 5, 4, 1, 0. */
static void test_order_of_exit_classes(void **state)
{
	(void)state;
	made m;
	make(&m);
	m.parts[0][0].utilisation = 2;
	assert_verdict(&m, 1, 4, 0, 1);
	m.cases[1].outcome = RN_OUTCOME_NO_EQUILIBRIUM;
	m.cases[1].balance.closed = false;
	assert_verdict(&m, 1, 4, 0, 4);
	m.cases[2].outcome = RN_OUTCOME_NOT_FOUND;
	m.cases[2].balance.closed = false;
	assert_verdict(&m, 1, 4, 0, 5);
	make(&m);
	m.cases[2].balance.closed = false; /* settled, but the proof failed */
	assert_verdict(&m, 0, 4, 0, 5);
	m.cases[0].outcome = RN_OUTCOME_NO_EQUILIBRIUM;
	assert_verdict(&m, 0, 4, 0, 5);
}

/* What did not settle has no demands to hold against anything. */
static void test_parts_of_what_did_not_settle_do_not_count(void **state)
{
	(void)state;
	made m;
	make(&m);
	m.cases[0].outcome = RN_OUTCOME_NO_EQUILIBRIUM;
	m.parts[0][0].utilisation = 9;
	uncheck(&m, 0, 1, 100);
	assert_verdict(&m, 0, 4, 0, 4);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_opposed_pull_of_simple_sets),
		cmocka_unit_test(test_opposed_pull_of_parallel_pulls),
		cmocka_unit_test(test_opposed_pull_against_brute_force),
		cmocka_unit_test(test_limits),
		cmocka_unit_test(test_verdict_of_one_part),
		cmocka_unit_test(test_no_gear_is_not_checked),
		cmocka_unit_test(test_stretch_unknown_is_not_checked),
		cmocka_unit_test(test_demand_of_a_ring),
		cmocka_unit_test(test_demand_of_a_crowded_ring),
		cmocka_unit_test(test_parts_of_the_whole_job),
		cmocka_unit_test(test_none_over),
		cmocka_unit_test(test_over_in_two_cases_counts_once),
		cmocka_unit_test(test_exactly_at_the_limit_is_not_over),
		cmocka_unit_test(test_not_checked),
		cmocka_unit_test(test_a_fall_is_not_checked),
		cmocka_unit_test(test_order_of_exit_classes),
		cmocka_unit_test(test_parts_of_what_did_not_settle_do_not_count),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
