/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Linear systems behind one interface. Equations are written as triplets (row, column, value; equal
 * places add up); then a maker turns them into factors:
 *
 *   symmetric    K + shift I = L D L^T, in a band or sparse, with the count of negative pivots (Sylvester's
 *                law of inertia: as many as K has negative eigenvalues)
 *   unsymmetric  A P = Q R, GSL's column-pivoted QR, which tells rank and takes no memory; sparse ones as
 *                sparse.h says
 *
 * The band factor is ours because GSL's LDL^T calls the process-wide error handler on a zero pivot,
 * which a slack rope brings about in ordinary use; GSL's QR serves as its reference in the tests.
 */
#ifndef RN_STATICS_LINEAR_H
#define RN_STATICS_LINEAR_H

#include "solver/statics/sparse.h"

typedef struct rn_band {
	int size, half_band; /* entries (i, j), 0 <= i - j <= half_band */
	double *rows;        /* row i: columns i - half_band .. i */
	double *column;      /* scratch, one of L [half_band] */
} rn_band;

/* Room for a band matrix. Errors: MEMORY. */
rn_status rn_band_create(rn_arena *arena, int size, int half_band, rn_band *band_out) RN_MUST_CHECK;

/* Overwrites *band with the factors of (triplets + shift I). Entries above the diagonal are left
 * out. A pivot of at most `tiny` in size is replaced by an infinite one, which holds its unknown
 * still. Returns the number of negative pivots. */
int rn_band_factor(rn_band *band, const rn_triplets *triplets, double shift, double tiny);
/* Overwrites `right` with the solution. */
void rn_band_solve(const rn_band *band, double *right);

/* A symmetric matrix in whichever of the two takes less time. */
typedef struct rn_symmetric {
	bool is_sparse;
	rn_band band;
	rn_ldl ldl;
	double products; /* one factorisation, in those of a band [-] */
} rn_symmetric;

/* Room for matrices whose entries are among those of `pattern`, half_band wide at most. Errors: MEMORY, LIMIT. */
rn_status rn_symmetric_create(rn_arena *arena, int size, int half_band, const rn_triplets *pattern,
                              rn_symmetric *symmetric_out) RN_MUST_CHECK;
/* As rn_band_factor and rn_band_solve. */
int rn_symmetric_factor(rn_symmetric *symmetric, const rn_triplets *triplets, double shift, double tiny);
void rn_symmetric_solve(rn_symmetric *symmetric, double *right);

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

/* Unsymmetric systems, dense while that takes less time. */
typedef struct rn_full {
	rn_dense dense;
	rn_lu lu;
	double products; /* the last solution took so many [-] */
} rn_full;

/* Room for systems up to size x size of so many triplets. Errors: MEMORY. */
rn_status rn_full_create(rn_arena *arena, int size, int room, rn_full *full_out) RN_MUST_CHECK;
/* Overwrites `right` with the solution, of least squares where the rank is not full. Errors: MEMORY (large systems
 * only). */
rn_status rn_full_solve(rn_full *full, int size, const rn_triplets *triplets, double *right) RN_MUST_CHECK;

#endif
