/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Volume, weight and centre of mass of a piece of wood, from its cuts and its species.
 */
#ifndef RN_MODEL_TIMBER_H
#define RN_MODEL_TIMBER_H

#include "solver/data/species.h"
#include "solver/funicle.h"

enum { RN_CUTS_MOST = 3 };

/* Two or three cuts, from the butt on. */
typedef struct rn_log {
	double at[RN_CUTS_MOST], diameter[RN_CUTS_MOST]; /* [m] */
	int count;
} rn_log;

/* [m3]. Of two cuts that of a cone frustum; of three Newton's rule, or where the third is not in the
 * middle two cone frusta. */
double rn_log_volume(const rn_log *log);
/* No smaller: the largest of that, of Smalian's rule over the whole and over its parts. */
double rn_log_volume_most(const rn_log *log);
/* Of its mass, from the butt; cone frusta [m]. */
double rn_log_centre(const rn_log *log);

/* Of green wood, by its middle figures and at most [kg/m3]. With its bark off the volume is that of the
 * wood alone. */
double rn_timber_density(const rn_density_row *row, rn_moisture moisture, bool barked);
double rn_timber_density_most(const rn_density_row *row, rn_moisture moisture, bool barked);

/* Finds what keeps its cuts from giving a weight; says so in model->findings. Errors: MEMORY. */
rn_status rn_timber_check(rn_model *model, const double *values, int timber) RN_MUST_CHECK;

/* Works out anew the weights in `values` that come from wood, but not one that case `c` (NULL: none) sets
 * itself. */
void rn_timber_weigh(const rn_model *model, const rn_case *c, double *values);

/* Which part of a bar's own weight its end `from` carries [-]: half, or of a piece with cuts and a length
 * by its centre of mass, whose moments about either end balance. */
double rn_prop_share(const rn_model *model, const double *values, int prop);

#endif
