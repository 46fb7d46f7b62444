/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A piece that is caught. Its path is kept, so that many weights can be asked about one path.
 */
#ifndef RN_STUDY_FALL_H
#define RN_STUDY_FALL_H

#include "solver/study/lowering.h"

/* Finds where the lines begin to hold. *hanging_out: the piece at rest, which is the answer where `hangs` is
 * false. `values` stay the caller's, who may change the weight of the piece in them between peaks. `slip_asked` as
 * of rn_fall_settle_slipping. To be ended whatever it returns. Errors: MEMORY, STOPPED. */
rn_status rn_catch_begin(rn_arena *arena, rn_workspace *workspace, const rn_model *model, const rn_case *of,
                         const double *values, double slip_asked, rn_catch *catch_out,
                         const rn_case_result **hanging_out) RN_MUST_CHECK;
/* Where the piece stops. Errors: MEMORY, STOPPED. */
rn_status rn_catch_peak(rn_catch *c, const rn_case_result **result_out) RN_MUST_CHECK;
/* The workspace is as it was before. */
void rn_catch_end(rn_catch *c);

/* The stem at whose foot the piece reaches the ground before it is stopped, the nearest one, and how far it is too low
 * there [m]; RN_NONE when it does not, or no stem stands on the ground. */
int rn_fall_ground(const rn_model *model, const double *values, const rn_caught *caught, double *below_out);
/* The part that is pulled farthest past what it breaks at, RN_NONE when none is. */
int rn_fall_breaks(const rn_case_result *answer);

#endif
