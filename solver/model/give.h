/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which stems bend, and how far: flexibility of a tapering cantilever.
 */
#ifndef RN_MODEL_GIVE_H
#define RN_MODEL_GIVE_H

#include "solver/funicle.h"

/* Whether a stem counts as one that bends; from the shape alone. Only a stem with a section can. */
bool rn_stem_gives(const rn_model *model, int stem);

/* Sideways movement at height `at` for a unit sideways force at height `of`, both along the stem:
 *     f = int_0^min(of, at) (of - z)(at - z) / E I(z) dz                        [m/N]
 * and movement along the stem for a unit force along it: int_0^min dz / E A(z). */
double rn_stem_bends(const rn_model *model, const double *values, int stem, double of, double at);
double rn_stem_shortens(const rn_model *model, const double *values, int stem, double of, double at);

#endif
