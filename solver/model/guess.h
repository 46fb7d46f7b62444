/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef RN_MODEL_GUESS_H
#define RN_MODEL_GUESS_H

#include "solver/funicle.h"

/* Adds every number the solver needs and the file does not give, and says so in model->guesses.
 * Errors: MEMORY, LIMIT. */
rn_status rn_model_guess_missing(rn_model *model, const double *values) RN_MUST_CHECK;

/* The middle of the class of a kind of node: of a block its efficiency, of others the capstan exponent [-]. */
double rn_friction_of_kind(rn_node_kind kind);

bool rn_member_stiffness_known(const rn_model *model, rn_object member, int gear);

#endif
