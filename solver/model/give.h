/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which stems bend, and how far: flexibility of a tapering cantilever.
 */
#ifndef RN_MODEL_GIVE_H
#define RN_MODEL_GIVE_H

#include "solver/funicle.h"

/* The stem a branch, or a branch of a branch, grows from at last. */
int rn_stem_root(const rn_model *model, int stem);

/* Whether a stem with all its branches counts as one that bends; from the shape alone. Only a stem
 * with a section can. */
bool rn_stem_gives(const rn_model *model, int stem);

/* Movement of the axis at one place for a unit force on the axis at another, both on one tree: 2 x 2,
 * row after row [m/N]:
 *     f_ij = int m_i m_j / EI ds + int (t . e_i)(t . e_j) / EA ds
 * over the wood both hang on, m the moment of the unit force about the axis at s, t along it. Wood
 * without a section does not give. */
void rn_tree_bends(const rn_model *model, const double *values, int stem_of, double of, int stem_at,
                   double at, double out[4]);

/* Sideways movement at height `at` for a unit sideways force at height `of`, both along the stem:
 *     f = int_0^min(of, at) (of - z)(at - z) / E I(z) dz                        [m/N]
 * and movement along the stem for a unit force along it: int_0^min dz / E A(z). */
double rn_stem_bends(const rn_model *model, const double *values, int stem, double of, double at);
double rn_stem_shortens(const rn_model *model, const double *values, int stem, double of, double at);

#endif
