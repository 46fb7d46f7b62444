/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What must not change an answer: turning the whole with its loads, mirroring, shifting, scaling,
 * the order in which nodes and members are written, the end a rope is written from.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>

#include "tests/support.h"

static const double degree = 3.14159265358979323846 / 180;

/* Agreement of tensions, over the largest of them [-]. Shifting by a kilometre costs three digits
 * of every coordinate. */
static const double agrees = 1e-9;

typedef struct solved {
	rn_model *model;
	rn_result *result;
	const rn_case_result *answer;
} solved;

static solved solve(const net_data *n)
{
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	solved s = {.model = net_model(n, &allocator)};
	assert_non_null(s.model);
	assert_int_equal(rn_solve(s.model, &options, &s.result), RN_OK);
	s.answer = &s.result->cases[0];
	assert_int_equal(s.answer->outcome, RN_OUTCOME_SETTLED);
	assert_true(s.answer->balance.closed);
	return s;
}

static void drop(solved *s)
{
	rn_result_destroy(s->result);
	rn_model_destroy(s->model);
}

/* ---- comparing ------------------------------------------------------------------------------- */

static void compare_tensions(const net_data *n, const rn_case_result *a, const rn_case_result *b,
                             const net_map *map, const net_change *change)
{
	double off = agrees * net_largest_tension(a) * change->load_scale;
	for (int i = 0; i < n->sling_count; i++)
		rn_assert_near(net_tension(b, RN_SLING, map->sling[i], 0),
		               net_tension(a, RN_SLING, i, 0) * change->load_scale, 0, off);
	for (int i = 0; i < n->line_count; i++) {
		int count = n->lines[i].station_count - 1;
		for (int k = 0; k < count; k++)
			rn_assert_near(net_tension(b, RN_LINE, map->line[i],
			                           change->reverse ? count - 1 - k : k),
			               net_tension(a, RN_LINE, i, k) * change->load_scale, 0, off);
	}
}

/* Pulls on anchors turn with the drawing. */
static void compare_pulls(const net_data *n, const rn_case_result *a, const rn_case_result *b,
                          const net_map *map, const net_change *change)
{
	double off = agrees * net_largest_tension(a) * change->load_scale;
	for (int i = 0; i < n->node_count; i++) {
		const double *was = a->nodes[i].pull, *is = b->nodes[map->node[i]].pull;
		double x = change->mirror ? -was[0] : was[0], y = was[1];
		rn_assert_near(is[0],
		               change->load_scale *
		                       (cos(change->angle) * x - sin(change->angle) * y),
		               0, off);
		rn_assert_near(is[1],
		               change->load_scale *
		                       (sin(change->angle) * x + cos(change->angle) * y),
		               0, off);
	}
}

static void compare(const net_data *n, net_change change)
{
	net_map map;
	net_data changed = net_changed(n, change, &map);
	solved a = solve(n), b = solve(&changed);
	compare_tensions(n, a.answer, b.answer, &map, &change);
	compare_pulls(n, a.answer, b.answer, &map, &change);
	drop(&a);
	drop(&b);
}

/* ---- models ---------------------------------------------------------------------------------- */

/* A floating ring on a track that a hand tightens, a tag line, a load under the ring. */
static net_data track(void)
{
	net_data n = {.friction = true};
	int left = net_add_node(&n, RN_NODE_ANCHOR, -0.6, 8.2, 0);
	int right = net_add_node(&n, RN_NODE_HAND, 11.3, 9.1, 0);
	int ring = net_add_node(&n, RN_NODE_RING, 4.1, 7.0, 6.1);
	int log = net_add_node(&n, RN_NODE_PIECE, 4.2, 5.6, 730);
	int tag = net_add_node(&n, RN_NODE_HAND, 0.8, 1.2, 0);
	net_add_sling(&n, ring, log, 4e5);
	net_line *line = net_add_line(&n, 5e5, true);
	net_add_station(line, RN_TIE, left, 0);
	net_station *s = net_add_station(line, RN_THROUGH, ring, 0.07);
	s->efficiency = 0.93;
	s->side = 1;
	net_add_station(line, RN_HOLD, right, 0)->pull = 910;
	line = net_add_line(&n, 2e4, false);
	net_add_station(line, RN_TIE, log, 0);
	net_add_station(line, RN_HOLD, tag, 0)->pull = 95;
	return n;
}

enum { NETS = 122 };

/* The two riggings, then random ones, every other with friction. */
static net_data numbered(int index)
{
	if (index == 0)
		return net_rigging();
	if (index == 1)
		return track();
	support_random random = support_random_from(6000 + (uint64_t)index);
	return net_random(&random, (net_random_options){.treads = true,
	                                                .friction = index % 2,
	                                                .grips = true,
	                                                .free_least = 2,
	                                                .free_most = 6});
}

static void compare_all(net_change change)
{
	for (int i = 0; i < NETS; i++) {
		net_data n = numbered(i);
		compare(&n, change);
	}
}

/* ---- changes --------------------------------------------------------------------------------- */

static void test_nothing_changed(void **state)
{
	(void)state;
	compare_all(net_change_none());
}

static void test_turned(void **state)
{
	(void)state;
	net_change change = net_change_none();
	change.angle = 37.2 * degree;
	compare_all(change);
	change.angle = -163.9 * degree;
	compare_all(change);
}

static void test_mirrored(void **state)
{
	(void)state;
	net_change change = net_change_none();
	change.mirror = true;
	compare_all(change);
}

static void test_shifted(void **state)
{
	(void)state;
	net_change change = net_change_none();
	change.shift[0] = 1e3;
	change.shift[1] = -2e3;
	compare_all(change);
}

/* Lengths alone: tensions stay. Loads and stiffness alone: tensions go with them. */
static void test_scaled(void **state)
{
	(void)state;
	net_change change = net_change_none();
	change.scale = 3.2808;
	compare_all(change);
	change = net_change_none();
	change.load_scale = 0.2248;
	compare_all(change);
}

static void test_permuted(void **state)
{
	(void)state;
	net_change change = net_change_none();
	for (uint64_t seed = 1; seed <= 3; seed++) {
		change.permute_seed = seed;
		compare_all(change);
	}
}

static void test_reversed(void **state)
{
	(void)state;
	net_change change = net_change_none();
	change.reverse = true;
	compare_all(change);
}

static void test_all_at_once(void **state)
{
	(void)state;
	compare_all((net_change){.angle = 37.2 * degree,
	                         .mirror = true,
	                         .shift = {-417.3, 238.5},
	                         .scale = 0.3048,
	                         .load_scale = 9.80665,
	                         .reverse = true,
	                         .permute_seed = 4});
}

/* The comparison itself can fail: gravity that does not turn with the drawing is another case. */
static void test_turning_without_the_loads_differs(void **state)
{
	(void)state;
	net_map map;
	net_change change = net_change_none();
	change.angle = 5 * degree;
	net_data n = net_rigging(), changed = net_changed(&n, change, &map);
	for (int i = 0; i < n.node_count; i++)
		for (int k = 0; k < 2; k++)
			changed.nodes[i].load[k] = n.nodes[i].load[k];
	solved a = solve(&n), b = solve(&changed);
	double off =
		fabs(net_tension(a.answer, RN_SLING, 1, 0) - net_tension(b.answer, RN_SLING, 1, 0));
	assert_true(off > 1e-3 * net_largest_tension(a.answer));
	drop(&a);
	drop(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_nothing_changed),
		cmocka_unit_test(test_turned),
		cmocka_unit_test(test_mirrored),
		cmocka_unit_test(test_shifted),
		cmocka_unit_test(test_scaled),
		cmocka_unit_test(test_permuted),
		cmocka_unit_test(test_reversed),
		cmocka_unit_test(test_all_at_once),
		cmocka_unit_test(test_turning_without_the_loads_differs),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
