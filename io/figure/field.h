/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A field of a plate with a scale along its foot and one up its left side.
 */
#ifndef RN_IO_FIGURE_FIELD_H
#define RN_IO_FIGURE_FIELD_H

#include "io/base/scale.h"
#include "io/figure/plate.h"

typedef struct rn_field {
	rn_plate *plate;
	double left, top, right, bottom; /* on paper [mm] */
	double across[2], up[2];         /* values at its left and right, its foot and head */
} rn_field;

double rn_field_x(const rn_field *field, double value); /* on paper [mm] */
double rn_field_y(const rn_field *field, double value);
/* Marks with their values, and what they are of; `scale` of per cents: {0.01, "%", 0}. */
void rn_field_scale_across(const rn_field *field, const rn_scale *scale, const char *name);
void rn_field_scale_up(const rn_field *field, const rn_scale *scale, const char *name);
/* Its four sides. */
void rn_field_frame(const rn_field *field);

#endif
