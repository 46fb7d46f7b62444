/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every part that has, or should have, a limit: what it carries and how much of its limit that is.
 *
 *     limit = the smaller of  working load x every factor its label does not have in it
 *             and             strength x every factor / design factor
 *
 * at the place where demand over limit is largest. What lacks both, or lacks a design factor for its
 * strength, is not checked: never flattered.
 */
#ifndef RN_STRENGTH_PARTS_H
#define RN_STRENGTH_PARTS_H

#include "solver/base/arena.h"

/* Parts of the model in one fixed order, so that a part has one index in every case.
 * Errors: MEMORY. */
rn_status rn_parts_create(rn_arena *arena, const rn_model *model, rn_part_result **parts_out,
                          int *count_out) RN_MUST_CHECK;

/* Which spans and passes of an answer come to each node, rising; the same in every case. Those of node i are
 * first[i] .. first[i + 1] - 1 of the list. */
typedef struct rn_meetings {
	int *first_span, *spans;
	int *first_pass, *passes;
} rn_meetings;

/* Errors: MEMORY. */
rn_status rn_meetings_create(rn_arena *arena, const rn_model *model, rn_meetings *meetings_out) RN_MUST_CHECK;

/* Demand, limit and utilisation of each part in one settled case, whose stems and hitches are filled. */
void rn_parts_fill(const rn_model *model, const double *values, const rn_meetings *meetings, rn_case_result *answer);

/* Largest total pull into any half plane: max over directions c of sum max(0, c . f). For forces in
 * balance this is what tears a ring apart; two opposed pulls P give P. `forces` holds x, y pairs. */
double rn_parts_opposed_pull(const double *forces, int count);

#endif
