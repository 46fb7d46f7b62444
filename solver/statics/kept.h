/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Forces in a picture of the rig that carries its piece: places are kept, forces found.
 *
 *     A t = b                     balance of the free nodes; t one tension for each rope, one force
 *                                 for each prop, one push for each pair of bodies that touch
 *     min sum |dp_i|^2 / s_i^2    with A(p + dp) t = b, t >= 0: the nearest picture that balances,
 *                                 s_i how far the place of node i may be off
 *
 * by repeated linearisation: J = d(A t)/dp over all nodes, anchors too, S = J diag(s^2) J^T,
 *
 *     c = b + J dp_old,  t = argmin (A t - c)^T S^-1 (A t - c),  dp = diag(s^2) J^T S^-1 (c - A t)
 *
 * with A and J at the places and tensions of the last step. Forces are in units of the largest load.
 */
#ifndef RN_STATICS_KEPT_H
#define RN_STATICS_KEPT_H

#include "solver/statics/bounded.h"
#include "solver/statics/settle.h"

typedef struct rn_keeper {
	int rows, columns, places; /* of A; coordinates of all nodes */
	int *row, *node; /* of a node's x, RN_NONE = fixed; and back from half a row */
	int *rope_column, *contact_column; /* RN_NONE: known, or not touching */
	double *by_place; /* J, row after row [load / m] */
	double *error;    /* s per coordinate [m] */
	double *load;     /* b */
	double *drawn, *shift; /* places as drawn, dp [m] */
	double *left_over;     /* b - A t */
	double *balanced;      /* the right side that the tensions found meet */
	double *scratch;       /* as many as there are ropes and contacts */
	rn_bounded fit;
	bool exact; /* no place may be off */
	bool *side_changed; /* of a stop */
} rn_keeper;

/* Errors: MEMORY, LIMIT. */
rn_status rn_keeper_create(rn_arena *arena, const rn_network *network, rn_keeper *keeper_out) RN_MUST_CHECK;

/* Finds the forces of the case loaded into settler->net: its ropes get their tensions, its nodes the
 * places of the nearest picture that balances. Errors: MEMORY, STOPPED. */
rn_status rn_keep(rn_settler *settler, rn_keeper *keeper, rn_outcome *outcome_out,
                  rn_picture *picture_out) RN_MUST_CHECK;

/* ---- stages --------------------------------------------------------------------------------- */

/* Fills A, J and b at the present places, J with the forces of keeper->fit. */
void rn_keep_assemble(rn_settler *settler, rn_keeper *keeper);

/* Where the picture leaves forces open: shares them out by stretch, says so and how far each could
 * go. Returns how many are open in *open_out. Errors: MEMORY. */
rn_status rn_keep_share(rn_settler *settler, rn_keeper *keeper, int *open_out) RN_MUST_CHECK;

/* Ranges of the last shared answer into its spans, and notes about them; parts that rest on a guessed
 * stiffness become unchecked. Errors: MEMORY. */
rn_status rn_keep_ranges(rn_settler *settler, rn_keeper *keeper, rn_case_result *answer) RN_MUST_CHECK;

#endif
