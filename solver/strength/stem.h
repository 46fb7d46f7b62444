/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a stem or branch feels, where it is worst, and how much of its strength that is.
 *
 *     pressed side  N/A + g |M|/W    against green compression strength
 *     drawn side    g |M|/W - N/A    against green bending strength
 *     g = 1/(1 - buckling),  buckling = push over the push it buckles at
 *
 * All for the wood without its bark. A stem whose wood or design factor nobody gave is not checked: there
 * is no default.
 */
#ifndef RN_STRENGTH_STEM_H
#define RN_STRENGTH_STEM_H

#include "solver/strength/bays.h"
#include "solver/strength/buckling.h"

/* Scratch for all stems of a model, one after the other. */
typedef struct rn_stems {
	rn_bays bays;
	rn_column column;
} rn_stems;

/* One result per stem of the model. Errors: MEMORY. */
rn_status rn_stems_create(rn_arena *arena, const rn_model *model, rn_stems *stems_out,
                          rn_stem_result **results_out) RN_MUST_CHECK;

/* Every stem in one settled case, from the pulls and places of the fixed nodes in `answer`. A place that a
 * stem has given way to counts as it is, so that what gives is bent by its load's own way aside as well
 * as by g: on the safe side. */
void rn_stems_fill(const rn_stems *stems, const rn_model *model, const double *values,
                   const rn_case_result *answer, rn_stem_result *results);

/* Just above (else just below) whatever enters at a height. Stresses grow by what answer->stems says, not
 * at all where that is NULL. All 0 but the height above the top and where a stem has no section. */
void rn_stem_section_at(const rn_stems *stems, const rn_model *model, const double *values,
                        const rn_case_result *answer, int stem, double height, bool above,
                        rn_stem_section *section_out);

/* Rows of a profile: at most. */
int rn_stem_profile_room(const rn_model *model);
/* The sections of a stem from its foot up, as in rn_profile; returns how many. Stresses as of rn_stem_section_at. */
int rn_stem_profile(const rn_stems *stems, const rn_model *model, const double *values,
                    const rn_case_result *answer, int stem, rn_stem_section *sections_out);

#endif
