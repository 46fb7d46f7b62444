/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The settled network as a result: spans, passes, holds, pulls on what does not move.
 */
#ifndef RN_STATICS_ANSWER_H
#define RN_STATICS_ANSWER_H

#include "solver/statics/settle.h"

/* Room for the largest answer of this network. Errors: MEMORY. */
rn_status rn_answer_create(rn_arena *arena, const rn_network *network, rn_case_result *answer_out) RN_MUST_CHECK;

/* Overwrites the arrays of *answer. */
void rn_answer_fill(const rn_settler *settler, rn_case_result *answer);

/* What is left over at a node. */
typedef struct rn_left_over {
	double force[2], moment; /* [N], [N m] */
	int rides_on;            /* the node it has no distance to, RN_NONE */
} rn_left_over;

/* Left-over forces and moments from the answer alone; see balance.c. `scratch`: one per node. */
rn_balance rn_balance_check(const rn_model *model, const rn_case_result *answer, rn_left_over *scratch);

/* Fills `certified` of each span and info.gap by a lower bound of the energy; see certificate.c.
 * Errors: MEMORY. */
rn_status rn_certificate_fill(rn_settler *settler, rn_case_result *answer) RN_MUST_CHECK;

#endif
