/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/bounded.h"

#include <math.h>
#include <string.h>

rn_status rn_bounded_create(rn_arena *arena, int rows, int columns, rn_bounded *bounded_out)
{
	rn_bounded b = {.rows = rows, .columns = columns};
	size_t m = (size_t)rows, n = (size_t)columns;
	RN_TAKE(arena, b.matrix, m * n + 1);
	RN_TAKE(arena, b.metric, m * m + 1);
	RN_TAKE(arena, b.weight, n + 1);
	RN_TAKE(arena, b.right, m + 1);
	RN_TAKE(arena, b.is_free, n + 1);
	RN_TAKE(arena, b.force, n + 1);
	RN_TAKE(arena, b.multiplier, m + 1);
	RN_TAKE(arena, b.is_out, n + 1);
	RN_TRY(rn_dense_create(arena, rows + columns, &b.dense));
	RN_TAKE(arena, b.triplets.items, m * m + 2 * m * n + n + 1);
	RN_TAKE(arena, b.unknown, m + n + 1);
	RN_TAKE(arena, b.place, n + 1);
	RN_TAKE(arena, b.is_broken, n + 1);
	*bounded_out = b;
	return RN_OK;
}

static double entry(const rn_bounded *b, int row, int column)
{
	return b->matrix[(size_t)row * (size_t)b->columns + (size_t)column];
}

static double metric_mean(const rn_bounded *b)
{
	double sum = 0;
	for (int i = 0; i < b->rows; i++)
		sum += b->metric[(size_t)i * (size_t)b->rows + (size_t)i];
	return b->rows > 0 ? sum / b->rows : 0;
}

/* Numbers the forces that are in behind the rows; returns how many unknowns there are. */
static int number_unknowns(rn_bounded *b)
{
	int count = b->rows;
	for (int k = 0; k < b->columns; k++)
		b->place[k] = b->is_out[k] ? RN_NONE : count++;
	return count;
}

/* S is divided by the mean of its diagonal, so that both blocks are of one size; q then is times it. */
static int assemble(rn_bounded *b, double floor)
{
	double mean = metric_mean(b), scale = mean > 0 ? 1 / mean : 0;
	int count = number_unknowns(b);
	b->triplets.count = 0;
	for (int i = 0; i < b->rows; i++) {
		for (int j = 0; j < b->rows; j++)
			rn_triplets_add(&b->triplets, i, j,
			                scale * b->metric[(size_t)i * (size_t)b->rows + (size_t)j] +
			                        (i == j ? floor : 0));
		for (int k = 0; k < b->columns; k++) {
			if (b->place[k] == RN_NONE || entry(b, i, k) == 0)
				continue;
			rn_triplets_add(&b->triplets, i, b->place[k], entry(b, i, k));
			rn_triplets_add(&b->triplets, b->place[k], i, entry(b, i, k));
		}
	}
	for (int k = 0; k < b->columns; k++)
		if (b->place[k] != RN_NONE)
			rn_triplets_add(&b->triplets, b->place[k], b->place[k], -b->weight[k]);
	return count;
}

void rn_bounded_solve_same(rn_bounded *b, double floor)
{
	int count = assemble(b, floor);
	memset(b->unknown, 0, (size_t)count * sizeof *b->unknown);
	memcpy(b->unknown, b->right, (size_t)b->rows * sizeof *b->unknown);
	(void)rn_dense_solve(&b->dense, count, &b->triplets, b->unknown);
	double mean = metric_mean(b);
	for (int i = 0; i < b->rows; i++)
		b->multiplier[i] = b->unknown[i] / (mean > 0 ? mean : 1);
	for (int k = 0; k < b->columns; k++)
		b->force[k] = b->is_out[k] ? 0 : b->unknown[b->place[k]];
}

/* ---- which forces are zero ------------------------------------------------------------------- */

/* Signs are told apart down to this part of the largest force, or of the largest slope [-]. */
static const double sign_least = 1e-11;

static double slope(const rn_bounded *b, int column)
{
	double sum = 0;
	for (int i = 0; i < b->rows; i++)
		sum += entry(b, i, column) * b->multiplier[i];
	return sum;
}

static double largest(const double *values, int count)
{
	double most = 0;
	for (int i = 0; i < count; i++)
		most = fmax(most, fabs(values[i]));
	return most;
}

/* How many forces break their sign; the last of them in *last_out. */
static int count_broken(const rn_bounded *b, int *last_out)
{
	double force_least = sign_least * largest(b->force, b->columns);
	double slope_least = sign_least * largest(b->multiplier, b->rows);
	int count = 0;
	for (int k = 0; k < b->columns; k++) {
		b->is_broken[k] = b->is_out[k] ? slope(b, k) > slope_least
		                               : !b->is_free[k] && b->force[k] < -force_least;
		if (!b->is_broken[k])
			continue;
		count++;
		*last_out = k;
	}
	return count;
}

/* Rounds in which all may be exchanged although their number does not fall, before it is one by one. */
enum { PATIENCE = 3 };

void rn_bounded_solve(rn_bounded *b, double floor)
{
	int least = b->columns + 1, patience = PATIENCE, last = 0;
	memset(b->is_out, 0, (size_t)b->columns * sizeof *b->is_out);
	/* far above what random nets need; in exact numbers it ends by itself */
	for (int round = 0; round < 20 * (b->columns + 5); round++) {
		rn_bounded_solve_same(b, floor);
		int count = count_broken(b, &last);
		if (count == 0)
			break;
		if (count < least) {
			least = count;
			patience = PATIENCE;
		} else if (patience > 0) {
			patience--;
		} else {
			b->is_out[last] = !b->is_out[last];
			continue;
		}
		for (int k = 0; k < b->columns; k++)
			if (b->is_broken[k])
				b->is_out[k] = !b->is_out[k];
	}
	for (int k = 0; k < b->columns; k++)
		if (!b->is_free[k] && b->force[k] < 0)
			b->force[k] = 0;
}

/* ---- without a metric ------------------------------------------------------------------------ */

int rn_bounded_meet(rn_bounded *b)
{
	int size = b->rows > b->columns ? b->rows : b->columns;
	b->triplets.count = 0;
	for (int i = 0; i < b->rows; i++)
		for (int k = 0; k < b->columns; k++)
			if (!b->is_out[k] && entry(b, i, k) != 0)
				rn_triplets_add(&b->triplets, i, k, entry(b, i, k));
	memset(b->unknown, 0, (size_t)size * sizeof *b->unknown);
	memcpy(b->unknown, b->right, (size_t)b->rows * sizeof *b->unknown);
	int rank = rn_dense_solve(&b->dense, size, &b->triplets, b->unknown);
	for (int k = 0; k < b->columns; k++)
		b->force[k] = b->is_out[k] ? 0 : b->unknown[k];
	return rank;
}
