/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * When a tapering cantilever buckles. Its own weight stands on it whatever happens; what the rigging
 * pushes is scaled by lambda until
 *
 *     K - G(own weight) - lambda G(rigging)
 *
 * is singular; K from bending, G geometric stiffness, both from beam elements with cubic shape
 * functions (Hermite). Foot clamped, top free. The answer is 1 / lambda: push over the push it buckles at.
 */
#ifndef RN_STRENGTH_BUCKLING_H
#define RN_STRENGTH_BUCKLING_H

#include "solver/statics/linear.h"

/* Points of an element at which it is asked for: Gauss and Legendre's, so that the taper within an
 * element counts. Three are exact for a quadratic EI and for a push that is linear along the element. */
enum { RN_COLUMN_POINTS = 3 };

typedef struct rn_column_element {
	double length;                      /* [m] */
	double stiffness[RN_COLUMN_POINTS]; /* EI [N m2] */
	double standing[RN_COLUMN_POINTS];  /* push of what stands anyway [N]; negative: it hangs */
	double rigging[RN_COLUMN_POINTS];   /* push that is scaled [N]; negative: it pulls */
} rn_column_element;

typedef struct rn_column {
	int count;                             /* elements, from the foot up */
	rn_triplets standing, rigging, scaled; /* K - G(own weight), G(rigging), their sum */
	rn_band band;
	double *shape, *push; /* one per freedom: how it bends aside, and G times that */
} rn_column;

/* Where a point stands in its element, 0 at its lower end, 1 at its upper [-]. */
double rn_column_point(int point);

/* Room for `element_room` elements. Errors: MEMORY. */
rn_status rn_column_create(rn_arena *arena, int element_room, rn_column *column_out) RN_MUST_CHECK;
void rn_column_clear(rn_column *column);
void rn_column_add(rn_column *column, const rn_column_element *element);

/* Push over the push it buckles at [-]: 0 when the rigging does not push to speak of, rn_buckling_most when
 * the column does not even stand by itself, or nearly so. */
double rn_column_buckling(rn_column *column);

#endif
