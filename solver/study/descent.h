/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Down to the nearest least of a function that need not be smooth, in the unit box: for the largest of several
 * utilisations, which has an edge wherever another part takes over.
 */
#ifndef RN_STUDY_DESCENT_H
#define RN_STUDY_DESCENT_H

#include "solver/funicle.h"

typedef struct rn_descent {
	int size;                           /* of the box: 1 or 2 */
	double step, close;                 /* the first step and the last [parts of the box] */
	double at[RN_VARIED_MOST], value;   /* to begin with, and where it came to */
	/* INFINITY where there is no value. Errors are passed on. */
	rn_status (*of)(void *context, const double *at, double *value_out);
	void *context;
} rn_descent;

/* Errors: those of `of`. */
rn_status rn_descend(rn_descent *descent) RN_MUST_CHECK;

#endif
