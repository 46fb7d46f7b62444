/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sparse factors against the band and the dense ones on the same matrices: random ones, those of random networks,
 * singular ones; and every way memory can end.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/laid.h"
#include "tests/sparse_memory.h"

enum { SIZE_MOST = 120, ROOM = 40 * SIZE_MOST };

#include "tests/system_bench.h"

static void clear(bench *b, int size)
{
	b->size = size;
	b->triplets = (rn_triplets){b->items, 0, ROOM};
}

static void add(bench *b, int row, int column, double value)
{
	assert_true(b->triplets.count < ROOM);
	rn_triplets_add(&b->triplets, row, column, value);
}

/* Both halves of a few entries in each column; what stands above the diagonal is left out. */
static void fill_symmetric(bench *b, support_random *random, int size, double diagonal)
{
	clear(b, size);
	for (int j = 0; j < size; j++) {
		add(b, j, j, diagonal + support_random_between(random, -1, 1));
		for (int k = 0; k < 3; k++) {
			int i = support_random_below(random, size);
			double value = support_random_between(random, -1, 1);
			if (i == j)
				continue;
			add(b, i, j, value);
			add(b, j, i, value);
		}
	}
}

static void random_vector(support_random *random, double *v, int size)
{
	for (int i = 0; i < size; i++)
		v[i] = support_random_between(random, -10, 10);
}

static double largest(const double *v, int size)
{
	double most = 0;
	for (int i = 0; i < size; i++)
		most = fmax(most, fabs(v[i]));
	return most;
}

static void assert_same_vector(const double *actual, const double *expected, int size, double rel)
{
	for (int i = 0; i < size; i++)
		rn_assert_near(actual[i], expected[i], 0, rel * largest(expected, size));
}

static rn_ldl ldl_of(rn_arena *arena, int size, const rn_triplets *pattern)
{
	rn_ldl ldl;
	assert_int_equal(rn_ldl_analyse(arena, size, pattern, &ldl), RN_OK);
	assert_int_equal(rn_ldl_create(arena, &ldl), RN_OK);
	return ldl;
}

static rn_band band_of(rn_arena *arena, int size)
{
	rn_band band;
	assert_int_equal(rn_band_create(arena, size, size > 0 ? size - 1 : 0, &band), RN_OK);
	return band;
}

/* ---- symmetric ------------------------------------------------------------------------------ */

/* The same count of negative pivots and the same solution as the band; definite and not. */
static void test_ldl_is_the_band(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(1);
	int indefinite = 0;
	for (int trial = 0; trial < 200; trial++) {
		int size = 1 + support_random_below(&random, SIZE_MOST);
		bool definite = trial % 2;
		fill_symmetric(b, &random, size, definite ? 8 : 0);
		double x[SIZE_MOST], expected[SIZE_MOST], shift = definite ? 0.37 : support_random_between(&random, -3, 3);
		random_vector(&random, x, size);
		memcpy(expected, x, sizeof x);
		rn_ldl ldl = ldl_of(&b->arena, size, &b->triplets);
		rn_band band = band_of(&b->arena, size);
		int negative = rn_band_factor(&band, &b->triplets, shift, 0);
		assert_int_equal(rn_ldl_factor(&ldl, &b->triplets, shift, 0), negative);
		assert_true(!definite || negative == 0);
		indefinite += negative > 0 && negative < size;
		rn_band_solve(&band, expected);
		rn_ldl_solve(&ldl, x);
		/* without a choice of pivots digits are lost where none is safe */
		if (definite)
			assert_same_vector(x, expected, size, 1e-13);
	}
	assert_true(indefinite > 60);
}

/* Entries may be missing, and come in another order, from one time to the next. */
static void test_ldl_takes_what_comes(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(2);
	fill_symmetric(b, &random, 90, 8);
	rn_ldl ldl = ldl_of(&b->arena, 90, &b->triplets);
	rn_band band = band_of(&b->arena, 90);
	for (int trial = 0; trial < 30; trial++) {
		double x[90], expected[90];
		for (int k = 1; k < b->triplets.count; k++) {
			int other = support_random_below(&random, k + 1);
			rn_triplet swapped = b->items[k];
			b->items[k] = b->items[other];
			b->items[other] = swapped;
		}
		for (int k = 0; trial % 7 == 6 && k < b->triplets.count; k++)
			if (b->items[k].row == trial && b->items[k].column != trial)
				b->items[k--] = b->items[--b->triplets.count];
		random_vector(&random, x, 90);
		memcpy(expected, x, sizeof x);
		assert_int_equal(rn_ldl_factor(&ldl, &b->triplets, 1, 0), rn_band_factor(&band, &b->triplets, 1, 0));
		rn_band_solve(&band, expected);
		rn_ldl_solve(&ldl, x);
		assert_same_vector(x, expected, 90, 1e-13);
	}
}

/* What is not in the pattern has no place: the matrix never counts as positive then. */
static void test_ldl_refuses_what_has_no_place(void **state)
{
	bench *b = *state;
	clear(b, 3);
	for (int i = 0; i < 3; i++)
		add(b, i, i, 2);
	rn_ldl ldl = ldl_of(&b->arena, 3, &b->triplets);
	assert_int_equal(rn_ldl_factor(&ldl, &b->triplets, 0, 0), 0);
	add(b, 2, 0, 0.5);
	assert_true(rn_ldl_factor(&ldl, &b->triplets, 0, 0) > 0);
}

/* A node whose ropes are all slack, and two joined by a rope that nothing holds: both stay still. */
static void test_ldl_holds_what_has_no_pivot(void **state)
{
	bench *b = *state;
	clear(b, 5);
	add(b, 0, 0, 4);
	add(b, 2, 2, 0);
	add(b, 3, 3, 1);
	add(b, 4, 3, -1);
	add(b, 4, 4, 1);
	rn_ldl ldl = ldl_of(&b->arena, 5, &b->triplets);
	double x[5] = {8, 1, 1, 3, -3};
	assert_int_equal(rn_ldl_factor(&ldl, &b->triplets, 0, 1e-15), 0);
	rn_ldl_solve(&ldl, x);
	rn_assert_near(x[0], 2, 1e-15, 0);
	assert_true(x[1] == 0 && x[2] == 0);
	rn_assert_near(x[3] - x[4], 3, 1e-15, 0);
	assert_true(x[3] == 0 || x[4] == 0);
	rn_ldl none = ldl_of(&b->arena, 0, &(rn_triplets){0});
	assert_int_equal(rn_ldl_factor(&none, &(rn_triplets){0}, 1, 0), 0);
	rn_ldl_solve(&none, NULL);
}

/* A net of side x side points, each with its neighbours. */
static void fill_grid(rn_triplets *t, int side)
{
	t->count = 0;
	for (int i = 0; i < side * side; i++) {
		rn_triplets_add(t, i, i, 4.1);
		if (i % side > 0)
			rn_triplets_add(t, i, i - 1, -1);
		if (i >= side)
			rn_triplets_add(t, i, i - side, -1);
	}
}

static rn_status make_grid(bench *b, int side, rn_triplets *t, rn_symmetric *grid_out)
{
	rn_allocator allocator = support_memory_allocator(&b->memory);
	rn_arena arena = rn_arena_make(&allocator);
	rn_status status = rn_symmetric_create(&arena, side * side, side, t, grid_out);
	rn_arena_release(&arena);
	return status;
}

static void test_memory_ends_in_symmetric(void **state)
{
	bench *b = *state;
	enum { SIDE = 50 };
	rn_triplets t = {calloc(3 * SIDE * SIDE, sizeof *t.items), 0, 3 * SIDE * SIDE};
	assert_non_null(t.items);
	fill_grid(&t, SIDE);
	rn_symmetric grid = {0};
	int failures = 0;
	for (long at = 1; failures == at - 1; at++) {
		b->memory = (support_memory){.fail_at = at};
		rn_status status = make_grid(b, SIDE, &t, &grid);
		failures += status == RN_STATUS_MEMORY;
		assert_true(status == RN_OK || status == RN_STATUS_MEMORY);
		assert_int_equal(b->memory.live_count, 0);
	}
	assert_true(grid.is_sparse);
	assert_true(failures > 10);
	b->memory = (support_memory){0};
	free(t.items);
}

/* A chain is a band however long it is; a net is not. */
static void test_the_cheaper_one_is_taken(void **state)
{
	bench *b = *state;
	clear(b, SIZE_MOST);
	for (int i = 0; i < SIZE_MOST; i++)
		add(b, i, i, 2);
	rn_symmetric chain;
	assert_int_equal(rn_symmetric_create(&b->arena, SIZE_MOST, 3, &b->triplets, &chain), RN_OK);
	assert_false(chain.is_sparse);
	rn_triplets t = {calloc(3 * 2500, sizeof *t.items), 0, 3 * 2500};
	double *x = calloc(2500, sizeof *x), *left = calloc(2500, sizeof *left);
	assert_true(t.items && x && left);
	fill_grid(&t, 50);
	rn_symmetric grid;
	assert_int_equal(rn_symmetric_create(&b->arena, 2500, 50, &t, &grid), RN_OK);
	assert_true(grid.is_sparse);
	assert_int_equal(rn_symmetric_factor(&grid, &t, 0, 0), 0);
	for (int i = 0; i < 2500; i++)
		x[i] = left[i] = sin(i);
	rn_symmetric_solve(&grid, x);
	for (int k = 0; k < t.count; k++) {
		left[t.items[k].row] -= t.items[k].value * x[t.items[k].column];
		if (t.items[k].row != t.items[k].column)
			left[t.items[k].column] -= t.items[k].value * x[t.items[k].row];
	}
	assert_true(largest(left, 2500) < 1e-14);
	free(left);
	free(x);
	free(t.items);
}

/* ---- unsymmetric ---------------------------------------------------------------------------- */

static void fill_full(bench *b, support_random *random, int size)
{
	clear(b, size);
	for (int j = 0; j < size; j++) {
		add(b, j, j, support_random_between(random, 1, 3));
		for (int k = 0; k < 4; k++)
			add(b, support_random_below(random, size), j, support_random_between(random, -1, 1));
	}
}

static rn_lu lu_of(rn_arena *arena, int size)
{
	rn_lu lu;
	assert_int_equal(rn_lu_create(arena, size, ROOM, &lu), RN_OK);
	return lu;
}

static void multiply(const bench *b, const double *x, double *product)
{
	memset(product, 0, (size_t)b->size * sizeof *product);
	for (int k = 0; k < b->triplets.count; k++)
		product[b->items[k].row] += b->items[k].value * x[b->items[k].column];
}

/* One after the other in the same room, smaller and larger, with other values in the same places. */
static void test_lu_is_the_dense_one(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(3);
	rn_lu lu = lu_of(&b->arena, SIZE_MOST);
	rn_dense dense;
	bool regular;
	assert_int_equal(rn_dense_create(&b->arena, SIZE_MOST, &dense), RN_OK);
	for (int trial = 0; trial < 300; trial++) {
		double truth[SIZE_MOST], x[SIZE_MOST], expected[SIZE_MOST];
		if (trial % 2 == 0)
			fill_full(b, &random, 1 + support_random_below(&random, SIZE_MOST));
		for (int k = 0; k < b->triplets.count; k++)
			b->items[k].value *= 1 + 0.01 * (trial % 2) * k;
		random_vector(&random, truth, b->size);
		multiply(b, truth, x);
		memcpy(expected, x, sizeof x);
		assert_int_equal(rn_dense_solve(&dense, b->size, &b->triplets, expected), b->size);
		assert_int_equal(rn_lu_solve(&lu, b->size, &b->triplets, x, &regular), RN_OK);
		assert_true(regular);
		assert_same_vector(x, expected, b->size, 1e-9);
	}
	assert_int_equal(rn_lu_solve(&lu, 0, &b->triplets, NULL, &regular), RN_OK);
	assert_true(regular);
}

/* Rows that are multiples of others, rows and columns of nothing. As little is left over as by the dense one. */
static void spoil(bench *b, int lost, bool empty)
{
	for (int k = 0; k < b->triplets.count; k++) {
		rn_triplet *t = &b->items[k];
		if (t->row < lost || (empty && t->column < lost))
			t->value = 0;
	}
	for (int k = 0, count = b->triplets.count; k < count && !empty; k++)
		for (int i = 0; i < lost && b->items[k].row == b->size - 1; i++)
			add(b, i, b->items[k].column, (i + 1) * b->items[k].value);
}

static void test_lu_where_rank_is_not_full(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(4);
	rn_lu lu = lu_of(&b->arena, SIZE_MOST);
	rn_dense dense;
	assert_int_equal(rn_dense_create(&b->arena, SIZE_MOST, &dense), RN_OK);
	for (int trial = 0; trial < 80; trial++) {
		int size = 20 + support_random_below(&random, 60), lost = 1 + support_random_below(&random, 5);
		double truth[SIZE_MOST], right[SIZE_MOST], x[SIZE_MOST], expected[SIZE_MOST], left[SIZE_MOST], least[SIZE_MOST];
		bool regular, empty = trial % 2;
		fill_full(b, &random, size);
		spoil(b, lost, empty);
		random_vector(&random, truth, size);
		multiply(b, truth, right);
		for (int i = 0; i < lost && trial % 4 > 1; i++)
			right[i] += 1; /* cannot be met */
		memcpy(x, right, sizeof x);
		memcpy(expected, right, sizeof x);
		assert_int_equal(rn_dense_solve(&dense, size, &b->triplets, expected), size - lost);
		assert_int_equal(rn_lu_solve(&lu, size, &b->triplets, x, &regular), RN_OK);
		assert_false(regular);
		multiply(b, x, left);
		multiply(b, expected, least);
		for (int i = 0; i < size; i++)
			rn_assert_near(left[i], least[i], 0, 1e-5 * largest(right, size)); /* weak directions are held back */
		for (int i = 0; i < lost && empty; i++)
			assert_true(x[i] == 0);
	}
}

/* A weak direction beside one that is none: it is held back at first, and let go again. */
static void test_weak_directions_are_let_go(void **state)
{
	bench *b = *state;
	double x[4] = {1, 2e-5, 0, 0};
	bool regular;
	rn_lu lu = lu_of(&b->arena, 4);
	clear(b, 4);
	add(b, 0, 0, 1);
	add(b, 1, 1, 1e-5);
	add(b, 2, 2, 1);
	add(b, 2, 3, 1);
	add(b, 3, 2, 1);
	add(b, 3, 3, 1);
	assert_int_equal(rn_lu_solve(&lu, 4, &b->triplets, x, &regular), RN_OK);
	assert_false(regular);
	rn_assert_near(x[0], 1, 1e-9, 0);
	rn_assert_near(x[1], 2, 1e-6, 0);
	rn_assert_near(x[2] + x[3], 0, 0, 1e-9);
}

static void test_lu_of_zeros(void **state)
{
	bench *b = *state;
	double x[3] = {1, 2, 3};
	bool regular;
	rn_lu lu = lu_of(&b->arena, 3);
	clear(b, 3);
	assert_int_equal(rn_lu_solve(&lu, 3, &b->triplets, x, &regular), RN_OK);
	assert_false(regular);
	for (int i = 0; i < 3; i++)
		assert_true(x[i] == 0);
}

/* -- its memory: KLU's own, and ours where the rank is not full -- */

static void test_memory_ends_in_klu(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(5);
	rn_lu lu = lu_of(&b->arena, 60);
	fill_full(b, &random, 60);
	struct SuiteSparse_config_struct kept = sparse_memory_fails();
	int failures = 0;
	for (fail_at = 1; failures == fail_at - 1; fail_at++) {
		double x[60] = {1};
		bool regular;
		calls = 0;
		rn_status status = rn_lu_solve(&lu, 60, &b->triplets, x, &regular);
		failures += status == RN_STATUS_MEMORY;
		assert_true(status == RN_STATUS_MEMORY || (status == RN_OK && regular));
	}
	SuiteSparse_config = kept;
	assert_true(calls < fail_at); /* none is left that was not failed */
	assert_true(failures > 10);
}

static void test_memory_ends_in_least_squares(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(5);
	rn_lu lu = lu_of(&b->arena, 60);
	fill_full(b, &random, 60);
	spoil(b, 2, false);
	long live = b->memory.live_count, before = b->memory.call_count;
	rn_status status = RN_STATUS_MEMORY;
	int failures = 0;
	while (status == RN_STATUS_MEMORY) {
		double x[60] = {1};
		bool regular;
		b->memory.call_count = 0;
		b->memory.fail_at = failures + 1;
		status = rn_lu_solve(&lu, 60, &b->triplets, x, &regular);
		failures += status == RN_STATUS_MEMORY;
		assert_int_equal(b->memory.live_count, live);
	}
	assert_int_equal(status, RN_OK);
	assert_true(failures > 3);
	b->memory.fail_at = 0;
	b->memory.call_count = before;
}

/* ---- of networks ---------------------------------------------------------------------------- */

typedef struct tally {
	int systems, singular, doubtful;
} tally;

/* Stiffness and full system of random nets where they were drawn and on the way, by both makers. */
static void compare_makers(laid *l, tally *seen)
{
	rn_settler *s = &l->settler;
	rn_arena arena = rn_arena_make(&(rn_allocator){l->arena.allocator.allocate, l->arena.allocator.release, NULL});
	int n = s->net.unknown_count;
	bool regular;
	double x[SIZE_MOST], expected[SIZE_MOST];
	assert_true(rn_settler_measure(s));
	rn_minimise_assemble(s, false);
	rn_ldl ldl = ldl_of(&arena, n, &s->triplets);
	rn_band band = band_of(&arena, n);
	for (double shift = 0; shift < 20; shift = 10 * shift + 1e-3) {
		double unit = s->net.load_scale / s->net.size;
		int negative = rn_band_factor(&band, &s->triplets, shift * unit, 1e-10 * unit);
		assert_int_equal(rn_ldl_factor(&ldl, &s->triplets, shift * unit, 1e-10 * unit), negative);
		if (negative > 0 || shift == 0)
			continue;
		memcpy(x, s->residual, (size_t)n * sizeof *x);
		memcpy(expected, x, sizeof x);
		rn_band_solve(&band, expected);
		rn_ldl_solve(&ldl, x);
		assert_same_vector(x, expected, n, 1e-7);
	}
	int size = rn_newton_assemble(s);
	assert_true(size <= SIZE_MOST);
	rn_lu lu;
	rn_dense dense;
	assert_int_equal(rn_lu_create(&arena, size, s->triplets.room, &lu), RN_OK);
	assert_int_equal(rn_dense_create(&arena, size, &dense), RN_OK);
	memcpy(x, s->residual, (size_t)size * sizeof *x);
	memcpy(expected, x, sizeof x);
	int expected_rank = rn_dense_solve(&dense, size, &s->triplets, expected);
	assert_int_equal(rn_lu_solve(&lu, size, &s->triplets, x, &regular), RN_OK);
	seen->systems++;
	seen->singular += !regular;
	seen->doubtful += regular != (expected_rank == size); /* one judges columns, the other pivots */
	if (regular && expected_rank == size)
		assert_same_vector(x, expected, size, 1e-6);
	rn_arena_release(&arena);
}

static void test_networks_by_both_makers(void **state)
{
	(void)state;
	support_random random = support_random_from(6);
	tally seen = {0, 0, 0};
	for (int trial = 0; trial < 200; trial++) {
		net_random_options options = {.treads = trial % 2, .friction = trial % 3 == 0, .wild = trial % 5 == 0,
		                              .free_least = 2, .free_most = 6};
		laid *l = laid_random(&random, options);
		for (int k = 0; k < 3 && rn_settler_measure(&l->settler); k++) {
			compare_makers(l, &seen);
			for (int i = 0; i < 2 * l->model->node_count; i++)
				if (l->settler.net.moves[i / 2])
					l->settler.net.place[i] += support_random_between(&random, -0.3, 0.2);
		}
		laid_drop(l);
	}
	assert_true(seen.singular > 20);
	assert_true(seen.systems - seen.singular > 200);
	assert_true(100 * seen.doubtful <= seen.systems);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(test_ldl_is_the_band, setup, teardown),
		cmocka_unit_test_setup_teardown(test_ldl_takes_what_comes, setup, teardown),
		cmocka_unit_test_setup_teardown(test_ldl_refuses_what_has_no_place, setup, teardown),
		cmocka_unit_test_setup_teardown(test_ldl_holds_what_has_no_pivot, setup, teardown),
		cmocka_unit_test_setup_teardown(test_memory_ends_in_symmetric, setup, teardown),
		cmocka_unit_test_setup_teardown(test_the_cheaper_one_is_taken, setup, teardown),
		cmocka_unit_test_setup_teardown(test_lu_is_the_dense_one, setup, teardown),
		cmocka_unit_test_setup_teardown(test_lu_where_rank_is_not_full, setup, teardown),
		cmocka_unit_test_setup_teardown(test_weak_directions_are_let_go, setup, teardown),
		cmocka_unit_test_setup_teardown(test_lu_of_zeros, setup, teardown),
		cmocka_unit_test_setup_teardown(test_memory_ends_in_klu, setup, teardown),
		cmocka_unit_test_setup_teardown(test_memory_ends_in_least_squares, setup, teardown),
		cmocka_unit_test(test_networks_by_both_makers),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
