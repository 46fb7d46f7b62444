/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the tables of species say of stems and props of which the file does not say it.
 */
#ifndef RN_MODEL_WOOD_H
#define RN_MODEL_WOOD_H

#include "solver/funicle.h"

/* Of stems that carry rigging density, bark and strength, of props strength; and what the weight of a
 * piece was worked out from. Says so in model->guesses and model->remarks. Errors: MEMORY, LIMIT. */
rn_status rn_wood_guess(rn_model *model, const double *values) RN_MUST_CHECK;

#endif
