/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slings round stems: what goes round, what is left to reach, and at what angle a choke is pulled.
 */
#ifndef RN_STRENGTH_HITCH_H
#define RN_STRENGTH_HITCH_H

#include "solver/base/arena.h"
#include "solver/model/ties.h"

/* Diameter of the stem a leg is hitched to at a node, over the bark [m]. Node RN_NONE, on no stem: of what the leg goes
 * round at whichever end it is known of, a piece where it is thinnest, a bar. 0 when it is not. */
double rn_hitch_diameter(const rn_model *model, const double *values, int leg, int node);

/* Angle of choke of a leg that leaves its stem in a direction [rad]. The loop lies square to the stem. At
 * its eye three pulls of one size meet where nothing rubs, the leg's and those of the loop's two parts, and
 * hold each other at 120 deg: so the loop's parts lie at 120 deg to the way straight out of the bark, on
 * either side of it. A leg that leaves at an angle e to straight out is turned less,
 *
 *     cos(angle) = -cos(e) / 2
 *
 * 90 deg along the stem, 60 deg back across it. On a side not said the leg leaves as straight as it can. A
 * free choke may settle wider, up to 135 deg: that is not counted on. */
double rn_hitch_choke_angle(const rn_model *model, const double *values, int node, const double direction[2]);

/* What a choke that nothing holds settles at, by the same balance: 120 deg [rad]. */
extern const double rn_hitch_free_choke;

/* Direction of a leg's span away from one of its nodes; node RN_NONE, on no stem: away from where it begins. */
void rn_hitch_direction(const rn_model *model, const rn_case_result *answer, int leg, int node, double direction_out[2]);

/* Room for one result per sling round a stem. Errors: MEMORY. */
rn_status rn_hitches_create(rn_arena *arena, const rn_model *model, rn_hitch_result **hitches_out,
                            int *count_out) RN_MUST_CHECK;
/* `answer` gives places and directions; its hitches are filled. */
void rn_hitches_fill(const rn_model *model, const double *values, rn_case_result *answer);

#endif
