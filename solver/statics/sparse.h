/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Factors of large systems in which most entries are nothing (Davis, Direct Methods for Sparse Linear Systems,
 * SIAM 2006), with SuiteSparse:
 *
 *   rn_ldl   K + shift I = L D L^T, unknowns in the order of AMD (Amestoy, Davis, Duff 2004); all of its memory is
 *            taken when it is made, from an arena
 *   rn_lu    A P = L U by KLU (Davis, Palamadai Natarajan 2010), which takes its memory by malloc while it works; where
 *            the rank is not full, least squares by rn_ldl
 *
 * Both are made and used through linear.h, which knows when they are worth it.
 */
#ifndef RN_STATICS_SPARSE_H
#define RN_STATICS_SPARSE_H

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

/* Entries by columns, rows rising, and where in them each triplet goes. */
typedef struct rn_sparse_columns {
	int size, room;
	int *first;    /* of a column, size + 1 */
	int *row;
	double *value;
	int *next;     /* scratch, size + 1 */
	rn_triplet *last; /* triplets as they came the last time: nearly always they come in that order again, */
	int *slot;        /* and go where they went [room each] */
	int last_count;
} rn_sparse_columns;

/* ---- symmetric ------------------------------------------------------------------------------ */

typedef struct rn_ldl {
	int size;
	int *order;        /* unknown that comes k-th */
	int *rank;         /* its inverse */
	rn_sparse_columns upper;  /* upper half of the matrix in that order */
	int *l_first, *l_row, *l_filled, *parent, *flag, *path;
	double *l, *pivot, *work;
	double products;   /* a factorisation takes so many */
} rn_ldl;

/* Orders a matrix whose entries below and on the diagonal are among those of `pattern`, whatever their values, and
 * counts; nothing can be factored yet. Errors: MEMORY, LIMIT (more entries than an int counts). */
rn_status rn_ldl_analyse(rn_arena *arena, int size, const rn_triplets *pattern, rn_ldl *ldl_out) RN_MUST_CHECK;
/* Takes room for the factors. Errors: MEMORY. */
rn_status rn_ldl_create(rn_arena *arena, rn_ldl *ldl) RN_MUST_CHECK;
/* As rn_band_factor and rn_band_solve. An entry outside of the pattern counts as a negative pivot. */
int rn_ldl_factor(rn_ldl *ldl, const rn_triplets *triplets, double shift, double tiny);
void rn_ldl_solve(rn_ldl *ldl, double *right);

/* ---- unsymmetric ---------------------------------------------------------------------------- */

typedef struct rn_lu {
	rn_sparse_columns columns;
	rn_allocator allocator;
	int *rows, *of, *order; /* scratch, one per triplet and unknown */
	bool *used;             /* scratch, one per unknown */
	double products; /* the last solution took so many */
} rn_lu;

/* Room for systems up to size x size of so many triplets. Errors: MEMORY. */
rn_status rn_lu_create(rn_arena *arena, int size, int room, rn_lu *lu_out) RN_MUST_CHECK;
/* Overwrites `right` with the solution, or, with *regular_out false, with one of least squares. Errors: MEMORY. */
rn_status rn_lu_solve(rn_lu *lu, int size, const rn_triplets *triplets, double *right,
                      bool *regular_out) RN_MUST_CHECK;

#endif
