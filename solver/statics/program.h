/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Linear programs: how far each of several numbers can go,
 *
 *     least and most of x_k  over  { x : A x = b, x_j >= 0 unless j is free }
 *
 * The one file that knows GLPK. GLPK ends the process on an error; here it comes back as a status.
 */
#ifndef RN_STATICS_PROGRAM_H
#define RN_STATICS_PROGRAM_H

#include "solver/funicle.h"

typedef struct rn_program {
	int rows, columns;
	const double *matrix; /* A, row after row */
	const double *right;  /* b */
	const bool *is_free;
} rn_program;

typedef struct rn_extent {
	double least, most;         /* 0 where open */
	bool open_below, open_above;
	bool found; /* false: no x meets the equations */
} rn_extent;

/* One extent for each column. Errors: MEMORY. */
rn_status rn_program_extents(const rn_program *program, rn_extent *extents) RN_MUST_CHECK;

#endif
