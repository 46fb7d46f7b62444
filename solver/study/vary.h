/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One choice of the varied numbers at a time, for whoever looks between the steps.
 */
#ifndef RN_STUDY_VARY_H
#define RN_STUDY_VARY_H

#include "solver/study/workspace.h"

typedef struct rn_varying {
	const rn_model *model; /* as drawn */
	const rn_options *options;
	rn_arena *arena;   /* of the answer */
	rn_varied *varied;
	rn_object part;    /* asked about */
	double *spare;     /* shares of a choice that is not kept */
} rn_varying;

/* Tells the model with these numbers, checks and solves it. *shares: part_count numbers, as in rn_varied. `model_out` and
 * `result_out` may be NULL; else they get the model and its answer, NULL when it cannot be so.
 * Errors: MEMORY, STOPPED. */
rn_status rn_vary_try(rn_varying *v, const double *value, rn_tried *tried_out, double *shares, rn_model **model_out,
                      rn_result **result_out) RN_MUST_CHECK;

/* As rn_vary_find, and keeps `v` fit for rn_vary_try as long as the answer is kept. Errors: as rn_vary_find. */
rn_status rn_vary_begin(rn_varying *v, const rn_varied_number *of, int of_count, const int *steps) RN_MUST_CHECK;

/* Value of a number at a part of the way from its lower to its upper bound. */
double rn_vary_value(const rn_varied *varied, int number, double part);

#endif
