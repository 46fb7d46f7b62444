/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Points that fill a unit cube evenly, and always the same ones: Sobol's sequence (GSL), beyond its number
 * of dimensions a hash of point and dimension.
 */
#ifndef RN_BASE_POINTS_H
#define RN_BASE_POINTS_H

#include "solver/base/arena.h"

typedef struct rn_points {
	int dimensions, given; /* so many points were given */
	void *state;           /* of the sequence */
	double *first;         /* what the sequence gives of one point */
} rn_points;

/* From the first point on. Errors: MEMORY. */
rn_status rn_points_begin(rn_arena *arena, int dimensions, rn_points *points_out) RN_MUST_CHECK;

/* The next point, each coordinate in (0, 1). */
void rn_points_next(rn_points *points, double *point_out);

#endif
