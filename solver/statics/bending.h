/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A stem that bends, as one stiffness matrix over the nodes on it.
 *
 *     R = K (x - x_drawn),   K = F^-1
 *
 * F holds rn_tree_bends between all pairs of nodes on the stem and its branches, each taken at the axis
 * beside it. A node that is drawn fixed but sits on such a stem moves, and still counts as one
 * that the rigging pulls on.
 */
#ifndef RN_STATICS_BENDING_H
#define RN_STATICS_BENDING_H

#include "solver/base/arena.h"

typedef struct rn_bending {
	int stem, node_count;
	int *nodes;        /* of the model, each above the foot */
	double *stiffness; /* 2 node_count square, x and y of each node [N/m] */
	double *rest;      /* x and y of each node as drawn [m] */
	double *height;    /* along its own stem or branch [m] */
} rn_bending;

/* The bending stems of a model, from its shape. Errors: MEMORY. */
rn_status rn_bending_create(rn_arena *arena, const rn_model *model, rn_bending **bendings_out,
                            int *count_out) RN_MUST_CHECK;

/* The largest entry of the stiffness of all of them [N/m]: what rounding of places is multiplied by. */
double rn_bending_stiffest(const rn_bending *bendings, int count);

/* Numbers of one case. */
void rn_bending_load(rn_bending *bending, const rn_model *model, const double *values);

/* Force of the stem's resistance on coordinate k of its nodes, with the sign of R [N]. */
double rn_bending_residual(const rn_bending *bending, const double *place, int k);
double rn_bending_energy(const rn_bending *bending, const double *place);

#endif
