/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One case at a time, with a change to the shape that only the studies ask for.
 */
#ifndef RN_STUDY_WORKSPACE_H
#define RN_STUDY_WORKSPACE_H

#include "solver/funicle.h"

/* As rn_workspace_settle, from the drawing, with the rope on the other side of one through.
 * Errors: MEMORY, STOPPED. */
rn_status rn_workspace_settle_flipped(rn_workspace *workspace, const rn_case *c, const double *values,
                                      int station, const rn_case_result **result_out) RN_MUST_CHECK;

/* The parts as they are rated, with nothing pulling. Only for a workspace that is then thrown away. */
void rn_workspace_rate(rn_workspace *w, const rn_case *c, const double *values, const rn_case_result **result_out);

/* rn_solve with one number multiplied in every case. Errors: MEMORY, STOPPED. */
rn_status rn_solve_scaled(const rn_model *model, const rn_options *options, int number, double scale,
                          rn_result **result_out) RN_MUST_CHECK;

#endif
