/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The proof must close on what the solver settles, and must not close when one tension, one pull or
 * one place is a little wrong.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/statics/answer.h"
#include "tests/support.h"

/* ---- models ---------------------------------------------------------------------------------- */

/* Over two forks to a bollard: spans between nodes that do not move. */
static net_data over_forks(void)
{
	net_data n = {.friction = true};
	int near = net_add_node(&n, RN_NODE_FORK, 0.4, 9.3, 0);
	int far = net_add_node(&n, RN_NODE_FORK, 5.2, 8.1, 0);
	int post = net_add_node(&n, RN_NODE_BOLLARD, 5.9, 0.9, 0);
	int log = net_add_node(&n, RN_NODE_PIECE, -0.3, 6.2, 2385);
	net_line *line = net_add_line(&n, 3.1e5, false);
	net_add_station(line, RN_TIE, log, 0);
	net_add_station(line, RN_THROUGH, near, 0.31)->friction = 0.27;
	net_add_station(line, RN_THROUGH, far, 0.24)->friction = 0.31;
	net_add_station(line, RN_HOLD, post, 0)->friction = 0.2;
	return n;
}

/* A load on a ring that runs on a level line tightened by a given pull, with a tag line. */
static net_data on_a_track(void)
{
	net_data n = {.friction = true};
	int left = net_add_node(&n, RN_NODE_ANCHOR, 0, 8.2, 0);
	int right = net_add_node(&n, RN_NODE_HAND, 11.3, 8.0, 0);
	int ring = net_add_node(&n, RN_NODE_RING, 4.1, 7.0, 6.1);
	int log = net_add_node(&n, RN_NODE_PIECE, 4.2, 5.6, 730);
	int tag = net_add_node(&n, RN_NODE_HAND, 0.8, 1.2, 0);
	net_add_sling(&n, ring, log, 4e5);
	net_line *track = net_add_line(&n, 5e5, true);
	net_add_station(track, RN_TIE, left, 0);
	net_add_station(track, RN_THROUGH, ring, 0.07)->efficiency = 0.93;
	net_add_station(track, RN_HOLD, right, 0)->pull = 910;
	net_line *tag_line = net_add_line(&n, 2e4, true);
	net_add_station(tag_line, RN_TIE, log, 0);
	net_add_station(tag_line, RN_HOLD, tag, 0)->pull = 95;
	return n;
}

/* Two rings on one rope that slide together until their bodies press on each other. */
static net_data pressed_together(void)
{
	net_data n = {0};
	int left = net_add_node(&n, RN_NODE_ANCHOR, 0, 9, 0);
	int right = net_add_node(&n, RN_NODE_ANCHOR, 6, 9, 0);
	int one = net_add_node(&n, RN_NODE_RING, 2, 6.5, 1400);
	int two = net_add_node(&n, RN_NODE_RING, 4, 6.5, 1100);
	net_line *line = net_add_line(&n, 2e5, true);
	net_add_station(line, RN_TIE, left, 0);
	net_add_station(line, RN_THROUGH, one, 0.3);
	net_add_station(line, RN_THROUGH, two, 0.3);
	net_add_station(line, RN_TIE, right, 0);
	return n;
}

/* ---- solving --------------------------------------------------------------------------------- */

typedef struct solved {
	rn_model *model;
	rn_result *result;
	rn_case_result answer; /* a copy to spoil; its arrays belong to the result */
} solved;

static solved solve(const net_data *n)
{
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	solved s = {.model = net_model(n, &allocator)};
	assert_non_null(s.model);
	assert_int_equal(rn_solve(s.model, &options, &s.result), RN_OK);
	s.answer = s.result->cases[0];
	assert_int_equal(s.answer.outcome, RN_OUTCOME_SETTLED);
	return s;
}

static void drop(solved *s)
{
	rn_result_destroy(s->result);
	rn_model_destroy(s->model);
}

static rn_balance check(const solved *s)
{
	rn_left_over *scratch = calloc((size_t)s->model->node_count, sizeof *scratch);
	assert_non_null(scratch);
	rn_balance balance = rn_balance_check(s->model, &s->answer, scratch);
	free(scratch);
	return balance;
}

static bool closes(const solved *s)
{
	return check(s).closed;
}

static void assert_closes(const solved *s)
{
	rn_balance balance = check(s);
	assert_true(balance.closed);
	rn_assert_near(balance.relative, 0, 0, 1e-9);
	assert_true(balance.closed == s->answer.balance.closed);
	rn_assert_near(s->answer.balance.relative, balance.relative, 1e-3, 1e-15);
}

/* Each number in turn that carries a real part of the load is made 1 % larger, then put back. */
static int spoil(solved *s, double *number, double least)
{
	double kept = *number;
	if (fabs(kept) < least)
		return 0;
	*number = kept * 1.01;
	bool closed = closes(s);
	*number = kept;
	assert_false(closed);
	return 1;
}

static void assert_spoiled_tensions_show(solved *s)
{
	/* what carries less than this of the largest tension, 1 % of it is below the proof's
	 * resolution */
	double least = 1e-6 * net_largest_tension(&s->answer);
	int spoiled = 0;
	for (int i = 0; i < s->answer.span_count; i++)
		spoiled += spoil(s, &s->answer.spans[i].tension, least);
	assert_true(spoiled > 0);
	assert_closes(s);
}

/* ---- tests ----------------------------------------------------------------------------------- */

static void prove(net_data n)
{
	solved s = solve(&n);
	assert_closes(&s);
	assert_spoiled_tensions_show(&s);
	drop(&s);
}

static void test_rigging(void **state)
{
	(void)state;
	prove(net_rigging());
}

static void test_over_forks(void **state)
{
	(void)state;
	prove(over_forks());
}

static void test_on_a_track(void **state)
{
	(void)state;
	prove(on_a_track());
}

static void test_pressed_together(void **state)
{
	(void)state;
	net_data n = pressed_together();
	solved s = solve(&n);
	assert_closes(&s);
	assert_true(s.answer.contact_count == 1);
	assert_int_equal(spoil(&s, &s.answer.contacts[0].push, 1), 1);
	assert_spoiled_tensions_show(&s);
	drop(&s);
}

static void test_random_nets(void **state)
{
	(void)state;
	support_random random = support_random_from(51);
	for (int trial = 0; trial < 200; trial++) {
		net_data n = net_random(&random, (net_random_options){.treads = true,
		                                                      .friction = trial % 2,
		                                                      .grips = true,
		                                                      .free_least = 2,
		                                                      .free_most = 6});
		prove(n);
	}
}

/* What the rigging does to an anchor is part of the proof: to size and to direction. */
static void test_wrong_pull_on_an_anchor_shows(void **state)
{
	(void)state;
	net_data n = net_rigging();
	solved s = solve(&n);
	int spoiled = 0;
	for (int i = 0; i < n.node_count; i++)
		for (int k = 0; k < 2; k++)
			spoiled += spoil(&s, &s.answer.nodes[i].pull[k], 1);
	assert_true(spoiled >= 8);
	drop(&s);
}

static void test_wrong_load_shows(void **state)
{
	(void)state;
	net_data n = net_rigging();
	solved s = solve(&n);
	int spoiled = 0;
	for (int i = 0; i < n.node_count; i++)
		spoiled += spoil(&s, &s.answer.nodes[i].load[1], 1);
	assert_true(spoiled == 5);
	drop(&s);
}

/* A millimetre across the span, at its end alone, and at both. */
static void move_across(rn_span_result *span, bool both)
{
	double across[2] = {-1e-3 * sin(span->heading), 1e-3 * cos(span->heading)};
	for (int k = 0; k < 2; k++) {
		span->end[k] += across[k];
		span->start[k] += both ? across[k] : 0;
	}
}

/* A rope that touches its tread elsewhere than it should pulls in another direction, or past the
 * node. */
static void test_wrong_tangent_point_shows(void **state)
{
	(void)state;
	net_data nets[] = {net_rigging(), over_forks()};
	for (int k = 0; k < 4; k++) {
		solved s = solve(&nets[k / 2]);
		for (int i = 0; i < s.answer.span_count; i++) {
			rn_span_result kept = s.answer.spans[i];
			move_across(&s.answer.spans[i], k % 2);
			assert_false(closes(&s));
			s.answer.spans[i] = kept;
		}
		assert_closes(&s);
		drop(&s);
	}
}

/* Far from the origin moments are large; the proof must neither open by itself nor go blind. */
static void test_far_from_the_origin(void **state)
{
	(void)state;
	net_map map;
	net_change change = net_change_none();
	change.shift[0] = 1e3;
	change.shift[1] = -2e3;
	net_data n = net_rigging(), far = net_changed(&n, change, &map);
	prove(far);
}

/* A log of 1,000 N on a plumb sling of 5 m, `away` from the origin. */
static solved hanging(double away)
{
	net_data n = {.friction = false};
	int top = net_add_node(&n, RN_NODE_ANCHOR, away, 5, 0);
	int log = net_add_node(&n, RN_NODE_PIECE, away, 0, 1000);
	net_add_sling(&n, top, log, 1e9);
	return solve(&n);
}

/* What is left over, where, and next to what: an anchor that pulls 3 N more to the side, 4 N less down. */
static void test_what_is_left_over_is_told(void **state)
{
	(void)state;
	solved s = hanging(2);
	rn_assert_near(check(&s).worst, 0, 0, 1e-9);
	s.answer.nodes[0].pull[0] += 3;
	s.answer.nodes[0].pull[1] += 4;
	rn_balance balance = check(&s);
	assert_int_equal(balance.worst_node, 0);
	rn_assert_near(balance.worst, 5, 1e-10, 0);
	rn_assert_near(balance.relative, 5.0 / 1000, 1e-10, 0);
	rn_assert_near(balance.moment, 5 * 3 - 2 * 4, 1e-9, 0); /* about the origin: y F_x - x F_y */
	drop(&s);
	s = hanging(2);
	s.answer.nodes[1].load[1] -= 8;
	balance = check(&s);
	assert_int_equal(balance.worst_node, 1);
	rn_assert_near(balance.worst, 8, 1e-10, 0);
	rn_assert_near(balance.relative, 8.0 / 1008, 1e-10, 0);
	rn_assert_near(balance.moment, 2 * 8, 1e-9, 0);
	drop(&s);
}

/* Of the largest force 1e-9 may be left over, no more; of moments as much for the arm, which is that of the drawing or,
 * farther from the origin than it is large, how far. */
static void test_how_much_may_be_left_over(void **state)
{
	(void)state;
	static const double aways[] = {0, 2, 3000}, arms[] = {5, 5.3851648, 3000.0042};
	for (int i = 0; i < 3; i++)
		for (int opens = 0; opens < 2; opens++) {
			double part = opens ? 1.1e-9 : 0.9e-9;
			solved s = hanging(aways[i]);
			s.answer.nodes[0].place[0] += part * arms[i]; /* the load goes past its anchor */
			assert_int_equal(closes(&s), !opens);
			drop(&s);
			s = hanging(0);
			s.answer.nodes[1].load[1] -= part * 1000;
			assert_int_equal(closes(&s), !opens);
			drop(&s);
		}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_rigging),
		cmocka_unit_test(test_over_forks),
		cmocka_unit_test(test_on_a_track),
		cmocka_unit_test(test_pressed_together),
		cmocka_unit_test(test_random_nets),
		cmocka_unit_test(test_wrong_pull_on_an_anchor_shows),
		cmocka_unit_test(test_wrong_load_shows),
		cmocka_unit_test(test_wrong_tangent_point_shows),
		cmocka_unit_test(test_far_from_the_origin),
		cmocka_unit_test(test_what_is_left_over_is_told),
		cmocka_unit_test(test_how_much_may_be_left_over),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
