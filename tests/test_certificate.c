/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The bound printed beside a tension must hold: for states pushed away from the answer on purpose
 * it covers the true error, and at the answer it is next to nothing.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>

#include "solver/statics/answer.h"
#include "tests/laid.h"

enum { ROPES_MOST = NET_SLINGS + NET_LINES * NET_STATIONS };

static const net_random_options points = {.grips = true, .free_least = 2, .free_most = 6};
static const net_random_options treads = {
	.treads = true, .grips = true, .free_least = 2, .free_most = 6};

static rn_case_result make_answer(laid *l)
{
	rn_case_result answer;
	assert_int_equal(rn_answer_create(&l->arena, &l->settler.net, &answer), RN_OK);
	return answer;
}

static void certify(laid *l, rn_case_result *answer)
{
	rn_answer_fill(&l->settler, answer);
	assert_int_equal(rn_certificate_fill(&l->settler, answer), RN_OK);
}

/* A random net that settles, and is then certified: nothing presses, some rope carries. */
static laid *settled(support_random *random, net_random_options options, rn_case_result *answer_out)
{
	for (;;) {
		laid *l = laid_random(random, options);
		rn_outcome outcome;
		assert_int_equal(rn_settle(&l->settler, false, &outcome), RN_OK);
		assert_int_equal(outcome, RN_OUTCOME_SETTLED);
		*answer_out = make_answer(l);
		certify(l, answer_out);
		if (answer_out->info.gap >= 0)
			return l;
		assert_true(answer_out->contact_count > 0 || l->settler.net.smoothing > 0);
		laid_drop(l);
	}
}

/* The tension that belongs to the length of each rope at the places now. */
static void take_tensions(rn_network *net)
{
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		double tension = rope->stiffness * (rope->length / rope->length0 - 1);
		rope->taut = tension > 0;
		rope->tension = rope->taut ? tension : 0;
	}
}

/* By a ten millionth up to some per cent of the drawing. */
static void push_away(rn_network *net, support_random *random)
{
	double reach = net->size * exp(support_random_between(random, log(1e-7), log(3e-2)));
	for (int i = 0; i < 2 * net->model->node_count; i++)
		if (net->unknown[i / 2] != RN_NONE)
			net->place[i] += support_random_between(random, -reach, reach);
}

/* The first span of each rope; the others have its tension, as nothing rubs here. */
static double certified_of(const rn_network *net, const rn_case_result *answer, int rope)
{
	int span = 0;
	for (int r = 0; r < rope; r++)
		span += net->ropes[r].stop_count - 1;
	return answer->spans[span].certified;
}

/* True if there was a bound to hold the error against. */
static bool bound_holds(support_random *random, net_random_options options, double *sharpest)
{
	rn_case_result answer;
	laid *l = settled(random, options, &answer);
	rn_network *net = &l->settler.net;
	double truth[ROPES_MOST], least = answer.info.energy;
	for (int r = 0; r < net->rope_count; r++)
		truth[r] = net->ropes[r].tension;
	push_away(net, random);
	bool measured = rn_settler_measure(&l->settler);
	if (measured) {
		take_tensions(net);
		certify(l, &answer);
	}
	bool bounded = measured && answer.info.gap >= 0;
	/* no shape has less energy than the bound: not the answer, whose energy is known to
	 * rounding */
	double rounding = 1e-12 * (fabs(least) + net->load_scale * net->size);
	assert_true(!bounded || answer.info.energy - answer.info.gap <= least + rounding);
	for (int r = 0; bounded && r < net->rope_count; r++) {
		double bound = certified_of(net, &answer, r),
		       off = fabs(net->ropes[r].tension - truth[r]);
		/* the truth itself is known to rounding only */
		assert_true(off <= bound * (1 + 1e-9) + 1e-9 * net->load_scale);
		if (bound > 0)
			*sharpest = fmax(*sharpest, off / bound);
	}
	laid_drop(l);
	return bounded;
}

static void hold_many(net_random_options options, uint64_t seed)
{
	support_random random = support_random_from(seed);
	int bounded = 0, trial = 0;
	double sharpest = 0;
	/* a state that leaves a load on slack ropes has no bound */
	for (; bounded < 200 && trial < 600; trial++)
		bounded += bound_holds(&random, options, &sharpest);
	assert_int_equal(bounded, 200);
	/* a bound that is never nearly reached could be any large number */
	assert_true(sharpest > 0.9);
}

static void test_bound_covers_the_error_with_points(void **state)
{
	(void)state;
	hold_many(points, 41);
}

static void test_bound_covers_the_error_with_treads(void **state)
{
	(void)state;
	hold_many(treads, 42);
}

/* At the answer the gap is what rounding leaves, and the bound the root of it. */
static void test_bound_is_tiny_at_the_answer(void **state)
{
	(void)state;
	support_random random = support_random_from(43);
	for (int trial = 0; trial < 200; trial++) {
		rn_case_result answer;
		laid *l = settled(&random, trial % 2 ? treads : points, &answer);
		double largest = net_largest_tension(&answer);
		for (int i = 0; i < answer.span_count; i++) {
			assert_true(answer.spans[i].certified >= 0);
			rn_assert_near(answer.spans[i].certified, 0, 0, 1e-5 * largest);
		}
		laid_drop(l);
	}
}

/* Nothing is certified where the theory does not reach: friction, or bodies that press. */
static void test_nothing_is_certified_with_friction(void **state)
{
	(void)state;
	net_data n = net_rigging();
	laid *l = laid_from(&n);
	rn_outcome outcome;
	assert_int_equal(rn_settle(&l->settler, false, &outcome), RN_OK);
	assert_int_equal(outcome, RN_OUTCOME_SETTLED);
	rn_case_result answer = make_answer(l);
	certify(l, &answer);
	assert_true(answer.info.gap < 0);
	for (int i = 0; i < answer.span_count; i++)
		assert_true(answer.spans[i].certified < 0);
	laid_drop(l);
}

/* What is certified is the pull of a rope over a fork, whether the case has friction or the fork has; of both together
 * nothing is. */
static void test_friction_takes_a_way_to_run_and_something_rough(void **state)
{
	(void)state;
	for (int k = 0; k < 4; k++) {
		bool runs = k & 1, rough = k & 2;
		net_data n = {.friction = runs};
		int log = net_add_node(&n, RN_NODE_PIECE, 0, 4, 1000);
		int fork = net_add_node(&n, RN_NODE_FORK, 0, 9, 0);
		int end = net_add_node(&n, RN_NODE_ANCHOR, 4, 2, 0);
		net_line *line = net_add_line(&n, 5e4, true);
		net_add_station(line, RN_TIE, log, 0);
		net_add_station(line, RN_THROUGH, fork, 0)->friction = rough ? 0.2 : 0;
		net_add_station(line, RN_TIE, end, 0);
		laid *l = laid_from(&n);
		rn_outcome outcome;
		assert_int_equal(rn_settle(&l->settler, false, &outcome), RN_OK);
		rn_case_result answer = make_answer(l);
		certify(l, &answer);
		assert_int_equal(answer.info.gap >= 0, !(runs && rough));
		assert_int_equal(answer.spans[0].certified >= 0, !(runs && rough));
		laid_drop(l);
	}
}

/* A log of 1,000 N on a plumb sling of 5 m: W^2 L0 / 2 EA in the sling, W y in the log. */
static void test_energy_of_a_hanging_log(void **state)
{
	(void)state;
	net_data n = {.friction = false};
	int top = net_add_node(&n, RN_NODE_ANCHOR, 2, 9, 0);
	int log = net_add_node(&n, RN_NODE_PIECE, 2, 4, 1000);
	net_add_sling(&n, top, log, 2e4);
	laid *l = laid_from(&n);
	rn_outcome outcome;
	assert_int_equal(rn_settle(&l->settler, false, &outcome), RN_OK);
	rn_case_result answer = make_answer(l);
	certify(l, &answer);
	double stretch = 1000 * 5 / 2e4;
	rn_assert_near(answer.info.energy, 1000 * stretch / 2 + 1000 * (4 - stretch), 1e-12, 0);
	laid_drop(l);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_bound_covers_the_error_with_points),
		cmocka_unit_test(test_bound_covers_the_error_with_treads),
		cmocka_unit_test(test_bound_is_tiny_at_the_answer),
		cmocka_unit_test(test_nothing_is_certified_with_friction),
		cmocka_unit_test(test_friction_takes_a_way_to_run_and_something_rough),
		cmocka_unit_test(test_energy_of_a_hanging_log),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
