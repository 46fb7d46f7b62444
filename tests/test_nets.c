/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Networks of hundreds and thousands of nodes: a hanging chain in closed form, nets whose forces are added up from
 * places and the law of a rope alone, lines through many rings, the order of nodes, warm starts; and memory that ends
 * at every place it can, in the solver and in what factors for it.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/build.h"
#include "tests/sparse_memory.h"
#include "tests/support.h"

typedef struct bed {
	support_memory memory;
	rn_options options;
	rn_model *model;
	rn_workspace *workspace;
	double *values;
	const rn_case_result *answer;
} bed;

static rn_model *empty(void)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	return m;
}

static bed bed_of(rn_model *m)
{
	bed b = {.options = rn_options_default(), .model = m};
	assert_int_equal(rn_model_check(m), RN_OK);
	b.values = calloc((size_t)m->number_count, sizeof *b.values);
	assert_non_null(b.values);
	rn_case_values(m, &m->cases[0], b.values);
	assert_int_equal(rn_workspace_create(m, &b.options, &b.workspace), RN_OK);
	return b;
}

static void settle(bed *b, bool warm)
{
	assert_int_equal(rn_workspace_settle(b->workspace, &b->model->cases[0], b->values, warm, &b->answer), RN_OK);
	assert_int_equal(b->answer->outcome, RN_OUTCOME_SETTLED);
	assert_true(b->answer->balance.closed);
}

static void drop(bed *b)
{
	free(b->values);
	rn_workspace_destroy(b->workspace);
	rn_model_destroy(b->model);
}

/* ---- chain ---------------------------------------------------------------------------------- */

/* n links of L0 and EA between (0, 0) and (span, drop), W at each joint. With the pull (H, V) at the first end link i
 * has (H, V - i W), and the same closed form as one elastic rope (Irvine, Cable Structures, 1981, for the limit):
 *     x = sum L0 H (1/T_i + 1/EA),   y = -sum L0 (V - i W) (1/T_i + 1/EA)
 * Two equations for H and V, by Newton. */
typedef struct chain {
	int links;
	double link, stiffness, weight, span, drop;
} chain;

static void hang(const chain *c, const double pull[2], double end[2], double slope[2][2])
{
	memset(slope, 0, 4 * sizeof(double));
	end[0] = end[1] = 0;
	for (int i = 0; i < c->links; i++) {
		double h = pull[0], v = pull[1] - i * c->weight, t = hypot(h, v), cube = t * t * t;
		double give = 1 / t + 1 / c->stiffness;
		end[0] += c->link * h * give;
		end[1] -= c->link * v * give;
		slope[0][0] += c->link * (give - h * h / cube);
		slope[0][1] -= c->link * h * v / cube;
		slope[1][0] += c->link * h * v / cube;
		slope[1][1] -= c->link * (give - v * v / cube);
	}
}

static void find_pull(const chain *c, double pull[2])
{
	pull[1] = 0.5 * c->links * c->weight;
	pull[0] = 0.1 * pull[1];
	for (int step = 0; step < 100; step++) {
		double end[2], a[2][2];
		hang(c, pull, end, a);
		double rx = c->span - end[0], ry = c->drop - end[1], det = a[0][0] * a[1][1] - a[0][1] * a[1][0];
		double dh = (rx * a[1][1] - ry * a[0][1]) / det, dv = (ry * a[0][0] - rx * a[1][0]) / det, part = 1;
		while (pull[0] + part * dh <= 0.2 * pull[0]) /* it is drawn together by no less than nothing */
			part /= 2;
		pull[0] += part * dh;
		pull[1] += part * dv;
	}
}

static void test_chain_in_closed_form(void **state)
{
	(void)state;
	static const chain chains[] = {
		{200, 0.05, 4000, 12, 6.385, -1.2},
		{2000, 0.004, 9e4, 1.7, 5.1, 0.6},
		{2000, 0.0031, 8e5, 3.3, 6.19, -0.05},
		{2000, 0.004, 9e7, 1.7, 5.1, 0.6}, /* far stiffer than loaded */
		{2000, 0.00224, 44.7, 9.81, 2, -1}}; /* soft: it hangs down forty times its span */
	for (size_t k = 0; k < sizeof chains / sizeof *chains; k++) {
		const chain *c = &chains[k];
		rn_model *m = empty();
		for (int i = 0; i <= c->links; i++) {
			char id[16];
			bool end = i == 0 || i == c->links;
			snprintf(id, sizeof id, "n%d", i);
			build_node(m, id, end ? RN_NODE_ANCHOR : RN_NODE_JOINT, c->span * i / c->links, c->drop * i / c->links,
			           end ? 0 : c->weight);
		}
		for (int i = 0; i < c->links; i++) {
			char id[16];
			snprintf(id, sizeof id, "s%d", i);
			build_sling(m, id, i, i + 1, c->stiffness, c->link);
		}
		bed b = bed_of(m);
		settle(&b, false);
		/* by its lengths, however stiff; and rounding, which grows with how far it hangs down, is not taken for
		 * something left over */
		assert_true(b.answer->info.steps <= 8);
		double pull[2], largest = 0;
		find_pull(c, pull);
		for (int i = 0; i < c->links; i++)
			largest = fmax(largest, hypot(pull[0], pull[1] - i * c->weight));
		for (int i = 0; i < c->links; i++)
			rn_assert_near(b.answer->spans[i].tension, hypot(pull[0], pull[1] - i * c->weight), 0, 1e-7 * largest);
		drop(&b);
	}
}

/* ---- nets ----------------------------------------------------------------------------------- */

typedef struct net {
	int side;
	double spread;      /* of the edge over the net [-] */
	double stiffness;   /* of the least stiff [N] */
	uint64_t seed;
	int *order;         /* place in the model of each node, NULL: as it comes */
} net;

static rn_model *hung(const net *n)
{
	int side = n->side, count = side * (side + 1);
	rn_model *m = empty();
	support_random random = support_random_from(n->seed);
	double *at = calloc(3 * (size_t)count, sizeof *at);
	int *node = calloc((size_t)count, sizeof *node);
	assert_true(at && node);
	for (int i = 0; i < count; i++) {
		int across = i % side, down = i / side;
		at[3 * i] = down ? across : n->spread * across;
		at[3 * i + 1] = -down;
		at[3 * i + 2] = down ? support_random_between(&random, 5, 40) : 0;
	}
	for (int k = 0; k < count; k++) {
		char id[16];
		int i = n->order ? n->order[k] : k;
		snprintf(id, sizeof id, "n%d", i);
		node[i] = build_node(m, id, i < side ? RN_NODE_ANCHOR : RN_NODE_JOINT, at[3 * i], at[3 * i + 1], at[3 * i + 2]);
	}
	for (int i = side; i < count; i++)
		for (int way = 0; way < 2; way++) {
			char id[16];
			double stiffness = n->stiffness * support_random_between(&random, 1, 3);
			if (way && i % side == 0)
				continue;
			snprintf(id, sizeof id, "%c%d", way ? 'h' : 'v', i);
			build_sling(m, id, node[way ? i - 1 : i - side], node[i], stiffness, 1);
		}
	free(node);
	free(at);
	return m;
}

/* T = EA (L / L0 - 1) where it is taut, from the places of the answer; and what is left over at the free nodes of
 * those. Returns the largest tension. */
static double add_up(const rn_model *m, const rn_case_result *a, double *left)
{
	double largest = 0;
	for (int i = 0; i < m->node_count; i++) {
		left[2 * i] = 0;
		int weight = rn_model_find_number(m, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_WEIGHT);
		left[2 * i + 1] = weight == RN_NONE ? 0 : -m->numbers[weight].value;
	}
	for (int s = 0; s < m->leg_count; s++) {
		int from = m->legs[s].from, to = m->legs[s].to;
		double dx = a->nodes[to].place[0] - a->nodes[from].place[0];
		double dy = a->nodes[to].place[1] - a->nodes[from].place[1];
		double stiffness = m->numbers[rn_model_find_number(m, rn_object_of(RN_SLING, s), RN_ATTRIBUTE_STIFFNESS)].value;
		double length = hypot(dx, dy), tension = fmax(0, stiffness * (length - 1));
		rn_assert_near(a->spans[s].tension, tension, 1e-6, 1e-6 * stiffness * 1e-6);
		largest = fmax(largest, tension);
		left[2 * from] += a->spans[s].tension * dx / length;
		left[2 * from + 1] += a->spans[s].tension * dy / length;
		left[2 * to] -= a->spans[s].tension * dx / length;
		left[2 * to + 1] -= a->spans[s].tension * dy / length;
	}
	return largest;
}

static void assert_balanced(const rn_model *m, const rn_case_result *a)
{
	double *left = calloc(2 * (size_t)m->node_count, sizeof *left);
	assert_non_null(left);
	double largest = add_up(m, a, left);
	for (int i = 0; i < 2 * m->node_count; i++)
		if (!rn_node_is_fixed(&m->nodes[i / 2]))
			rn_assert_near(left[i], 0, 0, 1e-9 * largest);
	free(left);
}

/* Narrower and wider edges: with slack slings and without, soft and stiff. */
static void test_nets_balance(void **state)
{
	(void)state;
	static const int sides[] = {6, 13, 30, 50};
	static const double spreads[] = {0.9, 1, 1.02, 1.1}, stiffness[] = {2e4, 4e5};
	int slack = 0;
	for (int k = 0; k < 4 * 4 * 2; k++) {
		net n = {sides[k / 8], spreads[k / 2 % 4], stiffness[k % 2], (uint64_t)k + 1, NULL};
		if (n.side == 50 && k % 3)
			continue;
		bed b = bed_of(hung(&n));
		settle(&b, false);
		assert_balanced(b.model, b.answer);
		for (int i = 0; i < b.answer->span_count; i++)
			slack += b.answer->spans[i].tension <= 0;
		drop(&b);
	}
	assert_true(slack > 100);
}

/* Too stiff to be found at once, not stiff enough to be softened much, far from the drawing. */
static void test_stiff_nets_drawn_wrong(void **state)
{
	(void)state;
	static const double spreads[] = {0.9, 1.1};
	for (int k = 0; k < 4; k++) {
		net n = {k < 2 ? 33 : 50, spreads[k % 2], 1e6, 7, NULL};
		bed b = bed_of(hung(&n));
		settle(&b, false);
		assert_balanced(b.model, b.answer);
		drop(&b);
	}
}

/* The news of the loads does not travel one rope a step. */
static void test_steps_do_not_grow_with_the_net(void **state)
{
	(void)state;
	static const int sides[] = {8, 20, 45};
	for (size_t k = 0; k < sizeof sides / sizeof *sides; k++) {
		net n = {sides[k], 1.02, 1e5, 4, NULL};
		bed b = bed_of(hung(&n));
		settle(&b, false);
		assert_true(b.answer->info.steps <= 24);
		drop(&b);
	}
}

/* The order in which nodes were written says nothing. */
static void test_net_in_any_order(void **state)
{
	(void)state;
	enum { SIDE = 14, COUNT = SIDE * (SIDE + 1) };
	support_random random = support_random_from(9);
	int order[COUNT];
	net n = {SIDE, 1.05, 6e4, 77, NULL};
	bed plain = bed_of(hung(&n));
	settle(&plain, false);
	support_random_permute(&random, order, COUNT);
	n.order = order;
	bed other = bed_of(hung(&n));
	settle(&other, false);
	double largest = net_largest_tension(plain.answer);
	for (int i = 0; i < plain.answer->span_count; i++)
		rn_assert_near(other.answer->spans[i].tension, plain.answer->spans[i].tension, 0, 1e-8 * largest);
	drop(&plain);
	drop(&other);
}

static void test_net_warm_and_cold(void **state)
{
	(void)state;
	net n = {17, 1.06, 9e4, 5, NULL};
	bed cold = bed_of(hung(&n)), warm = bed_of(hung(&n));
	int weight = rn_model_find_number(warm.model, rn_object_of(RN_NODE, 200), RN_ATTRIBUTE_WEIGHT);
	settle(&warm, false);
	warm.values[weight] *= 1.3;
	cold.values[weight] *= 1.3;
	settle(&warm, true);
	settle(&cold, false);
	assert_true(warm.answer->info.steps < cold.answer->info.steps + 3);
	double largest = net_largest_tension(cold.answer);
	for (int i = 0; i < cold.answer->span_count; i++)
		rn_assert_near(warm.answer->spans[i].tension, cold.answer->spans[i].tension, 0, 1e-7 * largest);
	drop(&warm);
	drop(&cold);
}

/* ---- a line through many rings --------------------------------------------------------------- */

/* Without friction it has one tension from end to end, whatever hangs where. */
static void test_line_through_many_rings(void **state)
{
	(void)state;
	enum { RINGS = 120 };
	rn_model *m = empty();
	build_node(m, "a", RN_NODE_ANCHOR, 0, 0, 0);
	build_node(m, "b", RN_NODE_ANCHOR, RINGS + 1, 0, 0);
	for (int i = 1; i <= RINGS; i++) {
		char id[16];
		snprintf(id, sizeof id, "t%d", i);
		int top = build_node(m, id, RN_NODE_ANCHOR, i, 3, 0);
		snprintf(id, sizeof id, "r%d", i);
		int ring = build_node(m, id, RN_NODE_RING, i, i % 2 ? 0.5 : 0, i % 2 ? 10 : 100);
		snprintf(id, sizeof id, "s%d", i);
		build_sling(m, id, top, ring, 1e5, 0);
	}
	build_line(m, "l", 1e5);
	build_station(m, RN_TIE, 0, 0, 0);
	for (int i = 1; i <= RINGS; i++)
		build_station(m, RN_THROUGH, 2 * i + 1, 0.1, 0);
	build_station(m, RN_TIE, 1, 0, 0);
	bed b = bed_of(m);
	settle(&b, false);
	double tension = b.answer->spans[0].tension;
	assert_true(tension > 10);
	for (int i = 0; i <= RINGS; i++)
		rn_assert_near(b.answer->spans[i].tension, tension, 1e-12, 0);
	drop(&b);
}

/* A full system of this line would have more entries than an int counts. */
static void test_line_beyond_all_limits(void **state)
{
	(void)state;
	rn_model *m = empty();
	rn_options options = rn_options_default();
	rn_workspace *w;
	int ends[] = {build_node(m, "a", RN_NODE_ANCHOR, 0, 0, 0), build_node(m, "b", RN_NODE_ANCHOR, 3, 0, 0)};
	int rings[] = {build_node(m, "r", RN_NODE_RING, 1, -1, 10), build_node(m, "s", RN_NODE_RING, 2, -2, 10)};
	build_line(m, "l", 1e5);
	build_station(m, RN_TIE, ends[0], 0, 0);
	for (int i = 0; i < 24000; i++)
		build_station(m, RN_THROUGH, rings[i % 2], 0, 0);
	build_station(m, RN_TIE, ends[1], 0, 0);
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_workspace_create(m, &options, &w), RN_STATUS_LIMIT);
	rn_model_destroy(m);
}

/* ---- what no rope comes to --------------------------------------------------------------------- */

/* A chain drawn slack is looked for from another start than the drawing; a ring beside it stays where it was drawn. */
static void leave_alone(int links)
{
	rn_model *m = empty();
	int before = build_node(m, "a", RN_NODE_ANCHOR, 10, 15, 0);
	for (int i = 1; i <= links; i++) {
		char id[16];
		snprintf(id, sizeof id, "j%d", i);
		int node = i < links ? build_node(m, id, RN_NODE_JOINT, 10 + i, 15, 50)
		                     : build_node(m, id, RN_NODE_ANCHOR, 10 + i, 15, 0);
		snprintf(id, sizeof id, "s%d", i);
		build_sling(m, id, before, node, 5e5, 1.5);
		before = node;
	}
	int alone = build_node(m, "alone", RN_NODE_RING, 12, 8, 0);
	bed b = bed_of(m);
	settle(&b, false);
	rn_assert_near(b.answer->nodes[alone].place[0], 12, 1e-12, 0);
	rn_assert_near(b.answer->nodes[alone].place[1], 8, 1e-12, 0);
	drop(&b);
}

static void test_ring_that_no_rope_comes_to(void **state)
{
	(void)state;
	leave_alone(5);
	leave_alone(40);
}

/* ---- memory --------------------------------------------------------------------------------- */

static const net small = {9, 1.04, 3e6, 3, NULL}; /* stiff: places and tensions together, by KLU */

/* Whatever is asked for and fails is told as MEMORY, if it cannot be done without (KLU shrinks its blocks at the end);
 * the next call answers as if nothing had been. */
static void test_memory_ends_in_the_factors(void **state)
{
	(void)state;
	bed b = bed_of(hung(&small));
	settle(&b, false);
	double tension = b.answer->spans[40].tension;
	struct SuiteSparse_config_struct kept = sparse_memory_fails();
	int failures = 0;
	bool reached = true;
	for (fail_at = 1; reached; fail_at++) {
		calls = 0;
		rn_status status = rn_workspace_settle(b.workspace, &b.model->cases[0], b.values, false, &b.answer);
		failures += status == RN_STATUS_MEMORY;
		assert_true(status == RN_STATUS_MEMORY || status == RN_OK);
		if (status == RN_OK)
			rn_assert_near(b.answer->spans[40].tension, tension, 0, 0);
		reached = calls >= fail_at;
	}
	SuiteSparse_config = kept;
	assert_true(failures > 30);
	settle(&b, false);
	rn_assert_near(b.answer->spans[40].tension, tension, 0, 0);
	drop(&b);
}

static rn_status settle_within(const rn_model *m, const double *values, support_memory *memory)
{
	rn_options options = rn_options_default();
	options.allocator = support_memory_allocator(memory);
	rn_workspace *w;
	const rn_case_result *answer;
	RN_TRY(rn_workspace_create(m, &options, &w));
	rn_status status = rn_workspace_settle(w, &m->cases[0], values, false, &answer);
	rn_workspace_destroy(w);
	return status;
}

static void test_memory_ends_in_a_net(void **state)
{
	(void)state;
	net n = small;
	n.side = 24; /* sparse factors, of which memory is ours */
	bed b = bed_of(hung(&n));
	rn_status status = RN_STATUS_MEMORY;
	int failures = 0;
	while (status == RN_STATUS_MEMORY) {
		support_memory memory = {.fail_at = failures + 1};
		status = settle_within(b.model, b.values, &memory);
		assert_int_equal(memory.live_count, 0);
		failures += status == RN_STATUS_MEMORY;
	}
	assert_int_equal(status, RN_OK);
	assert_true(failures > 10);
	drop(&b);
}

static void test_stopping_a_net(void **state)
{
	(void)state;
	volatile int stop = 1;
	bed b = bed_of(hung(&small));
	rn_workspace *w;
	b.options.stop = &stop;
	assert_int_equal(rn_workspace_create(b.model, &b.options, &w), RN_OK);
	assert_int_equal(rn_workspace_settle(w, &b.model->cases[0], b.values, false, &b.answer), RN_STATUS_STOPPED);
	rn_workspace_destroy(w);
	drop(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_chain_in_closed_form),
		cmocka_unit_test(test_nets_balance),
		cmocka_unit_test(test_stiff_nets_drawn_wrong),
		cmocka_unit_test(test_steps_do_not_grow_with_the_net),
		cmocka_unit_test(test_net_in_any_order),
		cmocka_unit_test(test_net_warm_and_cold),
		cmocka_unit_test(test_line_through_many_rings),
		cmocka_unit_test(test_line_beyond_all_limits),
		cmocka_unit_test(test_ring_that_no_rope_comes_to),
		cmocka_unit_test(test_memory_ends_in_the_factors),
		cmocka_unit_test(test_memory_ends_in_a_net),
		cmocka_unit_test(test_stopping_a_net),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
