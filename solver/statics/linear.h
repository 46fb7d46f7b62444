/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Linear systems behind one interface. Equations are written as triplets (row, column, value; equal
 * places add up); then one of two makers turns them into factors:
 *
 *   symmetric    K + shift I = L D L^T in a band, with the count of negative pivots (Sylvester's law
 *                of inertia: as many as K has negative eigenvalues)
 *   unsymmetric  A P = Q R, GSL's column-pivoted QR, which tells rank and takes no memory
 *
 * The band factor is ours because GSL's LDL^T calls the process-wide error handler on a zero pivot,
 * which a slack rope brings about in ordinary use; GSL's QR serves as its reference in the tests.
 */
#ifndef RN_STATICS_LINEAR_H
#define RN_STATICS_LINEAR_H

#include "solver/base/arena.h"

typedef struct rn_triplet {
	int row, column;
	double value;
} rn_triplet;

typedef struct rn_triplets {
	rn_triplet *items;
	int count, room;
} rn_triplets;

static inline void rn_triplets_add(rn_triplets *t, int row, int column, double value)
{
	t->items[t->count++] = (rn_triplet){row, column, value};
}

typedef struct rn_band {
	int size, half_band; /* entries (i, j), 0 <= i - j <= half_band */
	double *rows;        /* row i: columns i - half_band .. i */
} rn_band;

/* Room for a band matrix. Errors: MEMORY. */
rn_status rn_band_create(rn_arena *arena, int size, int half_band, rn_band *band_out) RN_MUST_CHECK;

/* Overwrites *band with the factors of (triplets + shift I). Entries above the diagonal are left
 * out. A pivot of at most `tiny` in size is replaced by an infinite one, which holds its unknown
 * still. Returns the number of negative pivots. */
int rn_band_factor(rn_band *band, const rn_triplets *triplets, double shift, double tiny);
/* Overwrites `right` with the solution. */
void rn_band_solve(const rn_band *band, double *right);

typedef struct rn_dense {
	int room;
	double *matrix, *tau, *norm, *right, *solution, *residual;
	size_t *permutation;
} rn_dense;

/* Room for systems up to size x size. Errors: MEMORY. */
rn_status rn_dense_create(rn_arena *arena, int size, rn_dense *dense_out) RN_MUST_CHECK;

/* Solves the size x size system in the sense of least squares over its numerical rank, overwriting
 * `right`. Returns the rank. */
int rn_dense_solve(rn_dense *dense, int size, const rn_triplets *triplets, double *right);

#endif
