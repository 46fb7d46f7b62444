/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How ropes and slings are made fast: words of the file, and what is taken where none is said.
 */
#ifndef RN_MODEL_TIES_H
#define RN_MODEL_TIES_H

#include "solver/funicle.h"

/* How a sling is made fast, by the word in its file. */
rn_hitch rn_hitch_of(const rn_sling *sling);

/* The end of a leg that is on a stem: a fixed node, RN_NONE if neither is. Of two the first. */
int rn_hitch_node(const rn_model *model, int leg);
/* The other end of a leg. */
int rn_hitch_far(const rn_model *model, int leg);
/* Whether the far end of a leg is made fast as its first is: round another stem, with no gear there for an eye to
 * sit on. */
bool rn_hitch_both(const rn_model *model, int leg);

/* Says which knots and hitches are guessed. Errors: MEMORY. */
rn_status rn_model_guess_ties(rn_model *model) RN_MUST_CHECK;

#endif
