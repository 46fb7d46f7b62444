/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Catches of one case tried one after the other, each told in a line.
 */
#ifndef RN_STUDY_CAUGHT_ROW_H
#define RN_STUDY_CAUGHT_ROW_H

#include "solver/study/workspace.h"

typedef struct rn_catcher {
	const rn_model *model;
	const rn_case *of;
	rn_workspace *workspace;
	rn_arena *arena; /* of the list that is made */
	rn_arena scratch; /* of one catch */
	double *values, *turned; /* the latter scratch, at an end of what is guessed */
	const rn_case_result *shape; /* a copy of the first answer */
} rn_catcher;

/* Errors: MEMORY, LIMIT, ARGUMENT (nothing falls in the case). */
rn_status rn_catcher_create(rn_arena *arena, const rn_model *model, const rn_options *options, int case_index,
                            rn_catcher *catcher_out) RN_MUST_CHECK;
void rn_catcher_release(rn_catcher *catcher);

/* The catch with the values at hand, each figure the worst of the middle and both ends of guessed
 * stiffness; slips_at as of rn_fall_settle_slipping, 0: as the model says. Errors: MEMORY, STOPPED. */
rn_status rn_catcher_try(rn_catcher *catcher, double slips_at, rn_caught_row *row_out) RN_MUST_CHECK;

#endif
