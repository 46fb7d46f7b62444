/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Forces that fit loads best while ropes only pull:
 *
 *     t = argmin (c - A t)^T S^-1 (c - A t) + t^T W t,   t_k >= 0 unless k is free
 *
 * S is square, symmetric, never negative, and may be singular or nothing at all; then what it lacks
 * counts as an equation to be met, or if that cannot be as one to be met as nearly as possible. With
 * the forces that are zero left out the minimum solves
 *
 *     [ S + eps I    A ] [ q ]   [ c ]
 *     [ A^T         -W ] [ t ] = [ 0 ]
 *
 * and it is the whole minimum when t >= 0 and a_k . q <= 0 at every force left out. Which are left out
 * is found by exchanging all that break this, or one at a time when that no longer helps (Kostreva
 * 1978; Portugal, Judice and Vicente 1994), which ends because W > 0 makes the minimum unique.
 */
#ifndef RN_STATICS_BOUNDED_H
#define RN_STATICS_BOUNDED_H

#include "solver/statics/linear.h"

typedef struct rn_bounded {
	int rows, columns;
	double *matrix;    /* A, row after row */
	double *metric;    /* S, row after row */
	double *weight;    /* diagonal of W, positive */
	double *right;     /* c */
	bool *is_free;     /* may be negative */
	double *force;     /* t */
	double *multiplier; /* q */
	bool *is_out;      /* left out: t = 0 */
	/* private */
	rn_dense dense;
	rn_triplets triplets;
	double *unknown;
	int *place; /* of a column among the unknowns */
	bool *is_broken;
} rn_bounded;

/* Room for rows x columns. Errors: MEMORY. */
rn_status rn_bounded_create(rn_arena *arena, int rows, int columns, rn_bounded *bounded_out) RN_MUST_CHECK;

/* Fills force, multiplier and is_out. `floor` is eps over the mean of the diagonal of S; where S is
 * nothing, eps itself. */
void rn_bounded_solve(rn_bounded *bounded, double floor);

/* The same with the forces left out as they are, signs not looked at, for another `right`. */
void rn_bounded_solve_same(rn_bounded *bounded, double floor);

/* min |c - A t| over the forces that are not left out, signs not looked at; returns their rank. */
int rn_bounded_meet(rn_bounded *bounded);

#endif
