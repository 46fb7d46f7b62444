/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How the values of one number that is varied read: all in one unit, all with as many digits as tell its steps apart.
 */
#ifndef RN_IO_BASE_SCALE_H
#define RN_IO_BASE_SCALE_H

#include "io/base/words.h"

typedef struct rn_scale {
	double per_unit;  /* SI for each unit */
	const char *unit; /* "" for a ratio */
	int digits;       /* behind the point */
} rn_scale;

/* Lengths in m or ft, weights as masses in kg or lb, other forces in kN or lbf, angles in deg. `step`: what is to be told
 * apart, above 0 [SI]. */
rn_scale rn_scale_of(const rn_model *model, rn_attribute attribute, double step, rn_units units);
/* "4.40"; with its unit "4.40 m". `more` digits. */
void rn_scale_bare(rn_buffer *buffer, const rn_scale *scale, double value, int more);
void rn_scale_value(rn_buffer *buffer, const rn_scale *scale, double value, int more);

#endif
