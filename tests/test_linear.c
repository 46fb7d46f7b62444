/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The two makers of factors against GSL on random matrices.
 */
#include <float.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_sort_vector.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/statics/linear.h"
#include "tests/support.h"

enum { SIZE_MOST = 60, ROOM = SIZE_MOST * SIZE_MOST * 2 };

#include "tests/system_bench.h"

static void clear(bench *b, int size)
{
	b->size = size;
	b->triplets = (rn_triplets){b->items, 0, ROOM};
	memset(b->full, 0, sizeof b->full);
}

static double *entry(bench *b, int i, int j)
{
	return &b->full[i * b->size + j];
}

static void add(bench *b, int i, int j, double value)
{
	assert_true(b->triplets.count < b->triplets.room);
	rn_triplets_add(&b->triplets, i, j, value);
	*entry(b, i, j) += value;
}

/* Both triangles, in two halves: what stands above the diagonal is left out by the band, equal
 * places add up. */
static void add_symmetric(bench *b, int i, int j, double value)
{
	add(b, i, j, value / 4);
	add(b, i, j, value - value / 4);
	if (i != j)
		add(b, j, i, value);
}

static void fill_random_band(bench *b, support_random *random, int size, int half_band,
                             double diagonal)
{
	clear(b, size);
	for (int i = 0; i < size; i++)
		for (int j = i - half_band < 0 ? 0 : i - half_band; j <= i; j++)
			add_symmetric(b, i, j,
			              support_random_between(random, -1, 1) +
			                      (i == j ? diagonal : 0));
}

/* x of A x = b by GSL's QR. */
static void solve_by_gsl(const double *matrix, int size, const double *right, double *x)
{
	size_t n = (size_t)size;
	gsl_matrix *a = gsl_matrix_alloc(n, n);
	gsl_vector *tau = gsl_vector_alloc(n), *solution = gsl_vector_alloc(n);
	memcpy(a->data, matrix, n * n * sizeof(double));
	gsl_linalg_QR_decomp(a, tau);
	gsl_vector_const_view b = gsl_vector_const_view_array(right, n);
	gsl_linalg_QR_solve(a, tau, &b.vector, solution);
	memcpy(x, solution->data, n * sizeof(double));
	gsl_vector_free(solution);
	gsl_vector_free(tau);
	gsl_matrix_free(a);
}

static void random_vector(support_random *random, double *v, int size)
{
	for (int i = 0; i < size; i++)
		v[i] = support_random_between(random, -10, 10);
}

static void assert_same_vector(const double *actual, const double *expected, int size, double rel)
{
	double largest = 0;
	for (int i = 0; i < size; i++)
		largest = fmax(largest, fabs(expected[i]));
	for (int i = 0; i < size; i++)
		rn_assert_near(actual[i], expected[i], 0, rel * largest);
}

static void test_band_solves_as_gsl_does(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(1);
	for (int trial = 0; trial < 300; trial++) {
		int size = 1 + support_random_below(&random, SIZE_MOST),
		    half = support_random_below(&random, 9);
		half = half < size ? half : size - 1;
		double right[SIZE_MOST], x[SIZE_MOST], expected[SIZE_MOST];
		fill_random_band(b, &random, size, half, 2.0 * half + 1.5);
		random_vector(&random, right, size);
		rn_band band;
		assert_int_equal(rn_band_create(&b->arena, size, half, &band), RN_OK);
		assert_int_equal(rn_band_factor(&band, &b->triplets, 0, 0), 0);
		memcpy(x, right, sizeof x);
		rn_band_solve(&band, x);
		solve_by_gsl(b->full, size, right, expected);
		assert_same_vector(x, expected, size, 1e-12);
	}
}

static void test_band_wider_than_its_matrix_changes_nothing(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(2);
	double x[2][12];
	fill_random_band(b, &random, 12, 2, 6);
	random_vector(&random, x[0], 12);
	memcpy(x[1], x[0], sizeof x[1]);
	for (int k = 0; k < 2; k++) {
		rn_band band;
		assert_int_equal(rn_band_create(&b->arena, 12, k ? 11 : 2, &band), RN_OK);
		assert_int_equal(rn_band_factor(&band, &b->triplets, 0, 0), 0);
		rn_band_solve(&band, x[k]);
	}
	assert_same_vector(x[1], x[0], 12, 1e-15);
}

static int count_negative(const bench *b, double shift, double *nearest)
{
	size_t n = (size_t)b->size;
	gsl_matrix *a = gsl_matrix_alloc(n, n);
	gsl_vector *values = gsl_vector_alloc(n);
	gsl_eigen_symm_workspace *work = gsl_eigen_symm_alloc(n);
	memcpy(a->data, b->full, n * n * sizeof(double));
	gsl_eigen_symm(a, values, work);
	int negative = 0;
	*nearest = HUGE_VAL;
	for (size_t i = 0; i < n; i++) {
		double value = gsl_vector_get(values, i) + shift;
		negative += value < 0;
		*nearest = fmin(*nearest, fabs(value));
	}
	gsl_eigen_symm_free(work);
	gsl_vector_free(values);
	gsl_matrix_free(a);
	return negative;
}

/* Sylvester's law of inertia, over the whole spectrum by the shift. */
static void test_negative_pivots_count_negative_eigenvalues(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(3);
	int seen = 0, indefinite = 0;
	for (int trial = 0; trial < 400; trial++) {
		int size = 2 + support_random_below(&random, 29),
		    half = 1 + support_random_below(&random, 5);
		half = half < size ? half : size - 1;
		fill_random_band(b, &random, size, half, 0);
		double shift = support_random_between(&random, -3, 3), nearest;
		int expected = count_negative(b, shift, &nearest);
		if (nearest < 1e-6)
			continue;
		rn_band band;
		assert_int_equal(rn_band_create(&b->arena, size, half, &band), RN_OK);
		assert_int_equal(rn_band_factor(&band, &b->triplets, shift, 0), expected);
		seen++;
		indefinite += expected > 0 && expected < size;
	}
	assert_true(seen > 350);
	assert_true(indefinite > 200);
}

static void test_shift_is_a_diagonal(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(4);
	double shifted[20], plain[20];
	fill_random_band(b, &random, 20, 3, 7);
	random_vector(&random, shifted, 20);
	memcpy(plain, shifted, sizeof plain);
	rn_band band;
	assert_int_equal(rn_band_create(&b->arena, 20, 3, &band), RN_OK);
	rn_band_factor(&band, &b->triplets, 2.385, 0);
	rn_band_solve(&band, shifted);
	for (int i = 0; i < 20; i++)
		add(b, i, i, 2.385);
	rn_band_factor(&band, &b->triplets, 0, 0);
	rn_band_solve(&band, plain);
	assert_same_vector(shifted, plain, 20, 1e-15);
}

/* A node whose ropes are all slack has no row at all: it stays where it is and spoils nothing. */
static void test_empty_rows_hold_still(void **state)
{
	bench *b = *state;
	const int empty[] = {0, 4, 5, 11};
	support_random random = support_random_from(5);
	fill_random_band(b, &random, 12, 3, 8);
	for (size_t k = 0; k < 4; k++)
		for (int t = 0; t < b->triplets.count; t++)
			if (b->items[t].row == empty[k] || b->items[t].column == empty[k])
				b->items[t].value = 0;
	double x[12], right[12];
	random_vector(&random, right, 12);
	memcpy(x, right, sizeof x);
	rn_band band;
	assert_int_equal(rn_band_create(&b->arena, 12, 3, &band), RN_OK);
	assert_int_equal(rn_band_factor(&band, &b->triplets, 0, 1e-14), 0);
	rn_band_solve(&band, x);
	for (size_t k = 0; k < 4; k++)
		assert_true(x[empty[k]] == 0);
	for (int i = 0; i < 12; i++) {
		bool is_empty = i == 0 || i == 4 || i == 5 || i == 11;
		double sum = 0;
		for (int t = 0; t < b->triplets.count; t++)
			if (b->items[t].row == i)
				sum += b->items[t].value * x[b->items[t].column];
		if (!is_empty)
			rn_assert_near(sum, right[i], 0, 1e-13);
	}
}

/* Two nodes joined by one rope that nothing holds: singular, though no row is empty. */
static void test_vanishing_pivot_is_held(void **state)
{
	bench *b = *state;
	clear(b, 2);
	add_symmetric(b, 0, 0, 1);
	add_symmetric(b, 1, 0, -1);
	add_symmetric(b, 1, 1, 1);
	double x[2] = {3, -3};
	rn_band band;
	assert_int_equal(rn_band_create(&b->arena, 2, 1, &band), RN_OK);
	assert_int_equal(rn_band_factor(&band, &b->triplets, 0, 1e-15), 0);
	rn_band_solve(&band, x);
	rn_assert_near(x[0], 3, 0, 0);
	rn_assert_near(x[1], 0, 0, 0);
}

static void test_band_of_nothing(void **state)
{
	bench *b = *state;
	clear(b, 0);
	rn_band band;
	assert_int_equal(rn_band_create(&b->arena, 0, 0, &band), RN_OK);
	assert_int_equal(rn_band_factor(&band, &b->triplets, 1, 0), 0);
	rn_band_solve(&band, NULL);
}

/* ---- dense ----------------------------------------------------------------------------------- */

static void test_dense_solves_random_systems(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(6);
	rn_dense dense;
	assert_int_equal(rn_dense_create(&b->arena, 30, &dense), RN_OK);
	for (int size = 1; size <= 30; size++)
		for (int trial = 0; trial < 10; trial++) {
			double x[30], expected[30], right[30] = {0};
			clear(b, size);
			for (int i = 0; i < size; i++)
				for (int j = 0; j < size; j++)
					add(b, i, j,
					    support_random_between(&random, -1, 1) +
					            (i == j ? 3 : 0));
			random_vector(&random, expected, size);
			for (int i = 0; i < size; i++)
				for (int j = 0; j < size; j++)
					right[i] += *entry(b, i, j) * expected[j];
			memcpy(x, right, sizeof x);
			assert_int_equal(rn_dense_solve(&dense, size, &b->triplets, x), size);
			assert_same_vector(x, expected, size, 1e-11);
		}
}

/* A = B C with B size x rank and C rank x size, whole numbers, so that A is singular exactly; a
 * unit block in each, so that the rank is no less. */
static void fill_of_rank(bench *b, support_random *random, int size, int rank)
{
	int left[30 * 30], right[30 * 30];
	for (int i = 0; i < size; i++)
		for (int k = 0; k < rank; k++) {
			left[i * rank + k] =
				i < rank ? i == k : support_random_below(random, 19) - 9;
			right[k * size + i] =
				i < rank ? i == k : support_random_below(random, 19) - 9;
		}
	clear(b, size);
	for (int i = 0; i < size; i++)
		for (int j = 0; j < size; j++) {
			int sum = 0;
			for (int k = 0; k < rank; k++)
				sum += left[i * rank + k] * right[k * size + j];
			add(b, i, j, sum);
		}
}

/* The rank is told, and what is left over is square to every column. */
static void test_dense_tells_rank(void **state)
{
	bench *b = *state;
	support_random random = support_random_from(7);
	rn_dense dense;
	assert_int_equal(rn_dense_create(&b->arena, 30, &dense), RN_OK);
	for (int trial = 0; trial < 300; trial++) {
		int size = 2 + support_random_below(&random, 29),
		    rank = 1 + support_random_below(&random, size);
		double right[30] = {0}, x[30], left[30], largest = 0;
		fill_of_rank(b, &random, size, rank);
		random_vector(&random, right, size);
		memcpy(x, right, sizeof x);
		assert_int_equal(rn_dense_solve(&dense, size, &b->triplets, x), rank);
		for (int i = 0; i < size; i++) {
			left[i] = -right[i];
			for (int j = 0; j < size; j++) {
				left[i] += *entry(b, i, j) * x[j];
				largest = fmax(largest, fabs(*entry(b, i, j)));
			}
		}
		for (int j = 0; j < size; j++) {
			double along = 0;
			for (int i = 0; i < size; i++)
				along += *entry(b, i, j) * left[i];
			rn_assert_near(along, 0, 0, 1e-8 * largest * size);
		}
	}
}

static void test_dense_of_zeros(void **state)
{
	bench *b = *state;
	double x[3] = {1, 2, 3};
	rn_dense dense;
	assert_int_equal(rn_dense_create(&b->arena, 3, &dense), RN_OK);
	clear(b, 3);
	assert_int_equal(rn_dense_solve(&dense, 3, &b->triplets, x), 0);
	for (int i = 0; i < 3; i++)
		assert_true(x[i] == 0);
	assert_int_equal(rn_dense_solve(&dense, 0, &b->triplets, x), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(test_band_solves_as_gsl_does, setup, teardown),
		cmocka_unit_test_setup_teardown(test_band_wider_than_its_matrix_changes_nothing,
	                                        setup, teardown),
		cmocka_unit_test_setup_teardown(test_negative_pivots_count_negative_eigenvalues,
	                                        setup, teardown),
		cmocka_unit_test_setup_teardown(test_shift_is_a_diagonal, setup, teardown),
		cmocka_unit_test_setup_teardown(test_empty_rows_hold_still, setup, teardown),
		cmocka_unit_test_setup_teardown(test_vanishing_pivot_is_held, setup, teardown),
		cmocka_unit_test_setup_teardown(test_band_of_nothing, setup, teardown),
		cmocka_unit_test_setup_teardown(test_dense_solves_random_systems, setup, teardown),
		cmocka_unit_test_setup_teardown(test_dense_tells_rank, setup, teardown),
		cmocka_unit_test_setup_teardown(test_dense_of_zeros, setup, teardown),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
