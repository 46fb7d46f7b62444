/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is taken off a rope or sling, and where. A factor belongs to a place: a knot weakens the rope where
 * it is tied, a bend where it bends, and the two never multiply unless they meet. Wet and wear are
 * everywhere.
 */
#ifndef RN_STRENGTH_DERATE_H
#define RN_STRENGTH_DERATE_H

#include "solver/funicle.h"

/* One place of a line or sling: the pull there and what weakens it there. */
typedef struct rn_spot {
	int node;
	double demand; /* [N] */
	rn_factor factors[RN_FACTORS_MOST];
	int factor_count;
	rn_unchecked unchecked; /* why nothing can be said of this place; RN_CHECKED when it can */
} rn_spot;

/* A line at its k-th station. Of what the answer has no pass every through bends; of no hold, turns are as given. */
rn_spot rn_spot_of_line(const rn_model *model, const double *values, const rn_case_result *answer, int line,
                        int k);

/* A sling leg: at its hitch, round its stem, at the seat of its eye. */
typedef enum rn_leg_spot { RN_AT_HITCH, RN_ROUND_STEM, RN_AT_EYE, RN_LEG_SPOT_COUNT } rn_leg_spot;
rn_spot rn_spot_of_leg(const rn_model *model, const double *values, const rn_case_result *answer, int leg,
                       rn_leg_spot which);

/* Diameter bent round over the rope's own at a through or a bollard's turns; 0 when not known. */
double rn_line_bend_ratio(const rn_model *model, const double *values, int station);

/* Diameter of the seat a leg's eye sits on over the sling's own; 0 when not known, or it has no eye. */
double rn_leg_eye_ratio(const rn_model *model, const double *values, int leg);

/* What a piece of gear keeps by its condition, as a factor; false when that is not given. */
bool rn_condition_of(const rn_model *model, const double *values, int item, rn_factor *out);

/* Whether a working load already has a factor of this kind in it: the part's `own`, or its gear's label. */
bool rn_label_contains(const rn_model *model, rn_object part, bool own, rn_factor_kind kind);

#endif
