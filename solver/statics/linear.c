/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/linear.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

rn_status rn_band_create(rn_arena *arena, int size, int half_band, rn_band *band_out)
{
	rn_band band = {.size = size, .half_band = half_band};
	RN_TAKE(arena, band.column, half_band + 1);
	/* row by row, so that the product is tested where size_t is narrow */
	band.rows = rn_arena_take(arena, (size_t)size + 1, ((size_t)half_band + 1) * sizeof *band.rows);
	if (!band.rows)
		return RN_STATUS_MEMORY;
	*band_out = band;
	return RN_OK;
}

/* Row i such that row[j] is entry (i, j). */
static double *row_of(const rn_band *band, int i)
{
	return band->rows + (ptrdiff_t)i * (band->half_band + 1) + band->half_band - i;
}

static void scatter(rn_band *band, const rn_triplets *triplets, double shift)
{
	memset(band->rows, 0, (size_t)band->size * (size_t)(band->half_band + 1) * sizeof *band->rows);
	for (int k = 0; k < triplets->count; k++) {
		const rn_triplet *t = &triplets->items[k];
		if (t->row >= t->column)
			row_of(band, t->row)[t->column] += t->value;
	}
	for (int i = 0; i < band->size; i++)
		row_of(band, i)[i] += shift;
}

/* For k = 0, 1, ...:  D_k = K_kk,  L_ik = K_ik / D_k,  K_ij -= K_ik L_jk  for k < j <= i <= k + half_band.
 * The diagonal of a row ends as 1 / D, the rest of it as L. */
int rn_band_factor(rn_band *band, const rn_triplets *triplets, double shift, double tiny)
{
	int negative = 0, size = band->size, half = band->half_band;
	double *restrict l = band->column;
	scatter(band, triplets, shift);
	double *diagonal = row_of(band, 0);
	for (int k = 0; k < size; k++, diagonal += half + 1) {
		double pivot = *diagonal, inverse = fabs(pivot) <= tiny ? 0 : 1 / pivot;
		int below = size - 1 - k < half ? size - 1 - k : half;
		negative += pivot < -tiny;
		*diagonal = inverse;
		/* a row lower the same column is one entry further to the left */
		double *restrict row = diagonal + half;
		for (int i = 0; i < below; i++, row += half) {
			double w = *row;
			*row = l[i] = w * inverse;
			for (int j = 0; j <= i; j++)
				row[1 + j] -= w * l[j];
		}
	}
	return negative;
}

void rn_band_solve(const rn_band *band, double *restrict right)
{
	int half = band->half_band;
	for (int i = 0; i < band->size; i++) {
		const double *l = row_of(band, i);
		double sum = right[i];
		for (int j = i > half ? i - half : 0; j < i; j++)
			sum -= l[j] * right[j];
		right[i] = sum;
	}
	for (int i = 0; i < band->size; i++)
		right[i] *= row_of(band, i)[i];
	for (int i = band->size - 1; i >= 0; i--) {
		const double *l = row_of(band, i);
		double own = right[i];
		for (int j = i > half ? i - half : 0; j < i; j++)
			right[j] -= l[j] * own;
	}
}

/* ---- band or sparse --------------------------------------------------------------------------- */

/* A product takes so many times as long between entries that are looked up [-], and below so many products of the
 * band ordering is not worth its time; measured, see doc/decisions.md. */
static const double sparse_slower = 7, band_enough = 4e5;

rn_status rn_symmetric_create(rn_arena *arena, int size, int half_band, const rn_triplets *pattern,
                              rn_symmetric *symmetric_out)
{
	rn_symmetric s = {.products = size * (half_band + 1.0) * (half_band + 1.0)};
	if (s.products > band_enough) {
		RN_TRY(rn_ldl_analyse(arena, size, pattern, &s.ldl));
		s.is_sparse = sparse_slower * s.ldl.products < s.products;
	}
	if (s.is_sparse) {
		s.products = sparse_slower * s.ldl.products;
		RN_TRY(rn_ldl_create(arena, &s.ldl));
	} else {
		RN_TRY(rn_band_create(arena, size, half_band, &s.band));
	}
	*symmetric_out = s;
	return RN_OK;
}

int rn_symmetric_factor(rn_symmetric *s, const rn_triplets *triplets, double shift, double tiny)
{
	return s->is_sparse ? rn_ldl_factor(&s->ldl, triplets, shift, tiny)
	                    : rn_band_factor(&s->band, triplets, shift, tiny);
}

void rn_symmetric_solve(rn_symmetric *s, double *right)
{
	if (s->is_sparse)
		rn_ldl_solve(&s->ldl, right);
	else
		rn_band_solve(&s->band, right);
}

/* ---- dense --------------------------------------------------------------------------------- */

rn_status rn_dense_create(rn_arena *arena, int size, rn_dense *dense_out)
{
	rn_dense dense = {.room = size};
	size_t n = (size_t)size;
	RN_TAKE(arena, dense.matrix, n * n + 1);
	RN_TAKE(arena, dense.tau, n + 1);
	RN_TAKE(arena, dense.norm, n + 1);
	RN_TAKE(arena, dense.right, n + 1);
	RN_TAKE(arena, dense.solution, n + 1);
	RN_TAKE(arena, dense.residual, n + 1);
	RN_TAKE(arena, dense.permutation, n + 1);
	*dense_out = dense;
	return RN_OK;
}

/* A diagonal of R below this part of the largest is rounding, not rank [-]. */
static const double rank_least = 1e-14;

static int rank_of(const gsl_matrix *qr)
{
	size_t rank = 0;
	double largest = fabs(gsl_matrix_get(qr, 0, 0));
	while (rank < qr->size1 && fabs(gsl_matrix_get(qr, rank, rank)) > rank_least * largest)
		rank++;
	return (int)rank;
}

int rn_dense_solve(rn_dense *dense, int size, const rn_triplets *triplets, double *right)
{
	size_t n = (size_t)size;
	if (n == 0)
		return 0;
	memset(dense->matrix, 0, n * n * sizeof *dense->matrix);
	for (int k = 0; k < triplets->count; k++) {
		const rn_triplet *t = &triplets->items[k];
		dense->matrix[(size_t)t->row * n + (size_t)t->column] += t->value;
	}
	gsl_matrix_view a = gsl_matrix_view_array(dense->matrix, n, n);
	gsl_vector_view tau = gsl_vector_view_array(dense->tau, n);
	gsl_vector_view norm = gsl_vector_view_array(dense->norm, n);
	gsl_vector_view b = gsl_vector_view_array(right, n);
	gsl_vector_view x = gsl_vector_view_array(dense->solution, n);
	gsl_permutation p = {n, dense->permutation};
	int sign;
	gsl_linalg_QRPT_decomp(&a.matrix, &tau.vector, &p, &sign, &norm.vector);
	int rank = rank_of(&a.matrix);
	if (rank == 0) {
		memset(right, 0, n * sizeof *right);
		return 0;
	}
	gsl_vector_view residual = gsl_vector_view_array(dense->residual, n);
	gsl_linalg_QRPT_lssolve2(&a.matrix, &tau.vector, &p, &b.vector, (size_t)rank, &x.vector,
	                         &residual.vector);
	memcpy(right, dense->solution, n * sizeof *right);
	return rank;
}

/* ---- dense or sparse ------------------------------------------------------------------------- */

/* Above this size KLU takes less time, analysis included; measured, see doc/decisions.md. */
enum { DENSE_MOST = 30 };
/* Ordering takes so many products for each entry [-]; for the account of what a case costs only. */
static const double order_worth = 30;

rn_status rn_full_create(rn_arena *arena, int size, int room, rn_full *full_out)
{
	rn_full full = {.products = 0};
	RN_TRY(rn_dense_create(arena, size < DENSE_MOST ? size : DENSE_MOST, &full.dense));
	if (size > DENSE_MOST)
		RN_TRY(rn_lu_create(arena, size, room, &full.lu));
	*full_out = full;
	return RN_OK;
}

rn_status rn_full_solve(rn_full *full, int size, const rn_triplets *triplets, double *right)
{
	bool regular;
	if (size <= DENSE_MOST) {
		(void)rn_dense_solve(&full->dense, size, triplets, right);
		full->products = pow(size, 3);
		return RN_OK;
	}
	RN_TRY(rn_lu_solve(&full->lu, size, triplets, right, &regular));
	full->products = sparse_slower * (full->lu.products + order_worth * triplets->count);
	return RN_OK;
}
