/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers that can be, and that nobody would mean: a slip of a unit, of a sign, of the point.
 */
#ifndef RN_MODEL_DOUBTS_H
#define RN_MODEL_DOUBTS_H

#include "solver/funicle.h"

/* Adds to model->doubts what a person should look at again, each with where it is written. Nothing is
 * refused or changed by it. Its numbers are within what they can be. Errors: MEMORY. */
rn_status rn_doubts_find(rn_model *model) RN_MUST_CHECK;

#endif
