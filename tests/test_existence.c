/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is said of a rig that nothing holds: which load falls, by which rope, and past which pull. All of it can be
 * seen on the drawing.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>

#include "tests/build.h"
#include "tests/support.h"

typedef struct asked {
	rn_model *model;
	rn_result *result;
	const rn_notes *notes;
} asked;

static rn_model *begin(void)
{
	rn_model *model;
	rn_allocator allocator = rn_allocator_default();
	assert_int_equal(rn_model_create(&allocator, &model), RN_OK);
	return model;
}

/* Settles a model in which something falls. */
static asked ask(rn_model *model)
{
	rn_options options = rn_options_default();
	asked a = {.model = model};
	assert_int_equal(rn_model_check(model), RN_OK);
	assert_int_equal(model->findings.count, 0);
	assert_int_equal(rn_solve(model, &options, &a.result), RN_OK);
	assert_int_equal(a.result->cases[0].outcome, RN_OUTCOME_NO_EQUILIBRIUM);
	a.notes = &a.result->cases[0].notes;
	return a;
}

static void drop(asked *a)
{
	rn_result_destroy(a->result);
	rn_model_destroy(a->model);
}

static const rn_note *note_of(const asked *a, rn_note_kind kind)
{
	for (int i = 0; i < a->notes->count; i++)
		if (a->notes->items[i].kind == kind)
			return &a->notes->items[i];
	fail_msg("not said: %s", rn_note_text(kind));
	return NULL;
}

static int count_of(const asked *a, rn_note_kind kind)
{
	int count = 0;
	for (int i = 0; i < a->notes->count; i++)
		count += a->notes->items[i].kind == kind;
	return count;
}

/* From a piece or an anchor over a fork without friction down to a hand that pulls so much. */
static void add_held_line(rn_model *m, const char *const ids[3], int tied, double x, double pull)
{
	int fork = build_node(m, ids[1], RN_NODE_FORK, x, 9, 0);
	int hand = build_node(m, ids[2], RN_NODE_HAND, x + 3, 1, 0);
	build_line(m, ids[0], 5e4);
	build_station(m, RN_TIE, tied, 0, 0);
	build_station(m, RN_THROUGH, fork, 0, 0);
	int hold = build_station(m, RN_HOLD, hand, 0, 0);
	build_number(m, rn_object_of(RN_STATION, hold), RN_ATTRIBUTE_PULL, pull);
}

/* 2,000 N over a fork, held by 300 N: it falls. A second line is pulled harder and holds nothing of it: what is told
 * is the pull on the line of the log, whichever of the two was drawn first. */
static void test_the_weak_hand_is_that_of_the_falling_log(void **state)
{
	(void)state;
	static const char *const own[] = {"own", "own fork", "own hand"}, *const other[] = {"other", "other fork", "other hand"};
	for (int own_first = 0; own_first < 2; own_first++) {
		rn_model *m = begin();
		int log = build_node(m, "log", RN_NODE_PIECE, 0, 4, 2000);
		int anchor = build_node(m, "anchor", RN_NODE_ANCHOR, 20, 4, 0);
		if (own_first)
			add_held_line(m, own, log, 0, 300);
		add_held_line(m, other, anchor, 20, 900);
		if (!own_first)
			add_held_line(m, own, log, 0, 300);
		asked a = ask(m);
		const rn_note *note = note_of(&a, RN_NOTE_HAND_WEAK);
		assert_int_equal(note->a.kind, RN_NODE);
		assert_int_equal(note->a.index, log);
		rn_assert_near(note->value[0], 300, 1e-12, 0);
		rn_assert_near(note->value[1], 2000, 1e-12, 0);
		drop(&a);
	}
}

/* Two logs tied to each other and to nothing else, beside one that hangs: both are named, the third is not. */
static void test_what_nothing_holds_is_named(void **state)
{
	(void)state;
	rn_model *m = begin();
	int top = build_node(m, "top", RN_NODE_ANCHOR, 0, 9, 0);
	int hangs = build_node(m, "hangs", RN_NODE_PIECE, 0, 4, 500);
	int upper = build_node(m, "upper", RN_NODE_PIECE, 5, 6, 700);
	int lower = build_node(m, "lower", RN_NODE_PIECE, 5, 3, 800);
	build_sling(m, "holds", top, hangs, 1e5, 0);
	build_sling(m, "between", upper, lower, 1e5, 0);
	asked a = ask(m);
	assert_int_equal(count_of(&a, RN_NOTE_NOTHING_HOLDS), 2);
	assert_int_equal(count_of(&a, RN_NOTE_NOTHING_HOLDS_ROPE), 0);
	assert_int_equal(a.notes->items[0].a.index, upper);
	assert_int_equal(a.notes->items[1].a.index, lower);
	drop(&a);
}

/* The far end of a line is tied to a joint that nothing else comes to, or to one with a sling that leads nowhere: it
 * runs out until it meets the fork. Written from either end, and with `hung` a sling below the joint. */
static void test_the_loose_rope_is_named_and_what_it_meets(void **state)
{
	(void)state;
	for (int k = 0; k < 4; k++) {
		int reversed = k & 1, hung = k & 2;
		rn_model *m = begin();
		int log = build_node(m, "log", RN_NODE_PIECE, 0, 4, 1000);
		int ring = build_node(m, "ring", RN_NODE_RING, 0, 7, 0); /* floats, for nothing fixed to be met there */
		int fork = build_node(m, "fork", RN_NODE_FORK, 1, 9, 0);
		int end = build_node(m, "end", RN_NODE_JOINT, 3, 3, 0);
		int top = build_node(m, "top", RN_NODE_ANCHOR, -2, 9, 0);
		build_sling(m, "to ring", top, ring, 1e5, 0);
		if (hung)
			build_sling(m, "idle", end, build_node(m, "nowhere", RN_NODE_JOINT, 3, 1, 0), 1e5, 0);
		int line = build_line(m, "line", 5e4);
		build_station(m, RN_TIE, reversed ? end : log, 0, 0);
		build_station(m, RN_THROUGH, reversed ? fork : ring, 0, 0);
		build_station(m, RN_THROUGH, reversed ? ring : fork, 0, 0);
		build_station(m, RN_TIE, reversed ? log : end, 0, 0);
		asked a = ask(m);
		const rn_note *note = note_of(&a, RN_NOTE_NOTHING_HOLDS_ROPE);
		assert_int_equal(a.notes->count, 1);
		assert_int_equal(note->a.index, log);
		assert_int_equal(note->b.kind, RN_LINE);
		assert_int_equal(note->b.index, line);
		assert_int_equal(note->c.index, fork);
		drop(&a);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_the_weak_hand_is_that_of_the_falling_log),
		cmocka_unit_test(test_what_nothing_holds_is_named),
		cmocka_unit_test(test_the_loose_rope_is_named_and_what_it_meets),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
