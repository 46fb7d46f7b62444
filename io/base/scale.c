/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/base/scale.h"

#include <math.h>

static const double newtons_per_lbf = 4.4482216152605; /* exact by definition */
static const double gravity_standard = 9.80665;
static const double degree = 3.14159265358979323846 / 180;

/* Digits nobody reads. */
enum { DIGITS_MOST = 9 };

static rn_scale of_force(const rn_model *model, rn_attribute attribute, rn_units units)
{
	double gravity = rn_words_gravity(model);
	if (attribute != RN_ATTRIBUTE_WEIGHT)
		return (rn_scale){units == RN_US ? newtons_per_lbf : 1e3, units == RN_US ? "lbf" : "kN", 0};
	gravity = gravity > 0 ? gravity : gravity_standard;
	return (rn_scale){units == RN_US ? 0.45359237 * gravity : gravity, units == RN_US ? "lb" : "kg", 0};
}

static rn_scale unit_of(const rn_model *model, rn_attribute attribute, rn_units units)
{
	bool us = units == RN_US;
	switch (rn_attribute_quantity(attribute)) {
	case RN_QUANTITY_LENGTH: return (rn_scale){us ? 0.3048 : 1, us ? "ft" : "m", 0};
	case RN_QUANTITY_FORCE: return of_force(model, attribute, units);
	case RN_QUANTITY_ANGLE: return (rn_scale){degree, "deg", 0};
	case RN_QUANTITY_ACCELERATION: return (rn_scale){us ? 0.3048 : 1, us ? "ft/s2" : "m/s2", 0};
	case RN_QUANTITY_DENSITY: return (rn_scale){us ? 16.018463 : 1, us ? "lb/ft3" : "kg/m3", 0};
	case RN_QUANTITY_STRESS:
		return (rn_scale){us ? newtons_per_lbf / (0.0254 * 0.0254) : 1e6, us ? "psi" : "MPa", 0};
	default: return (rn_scale){1, "", 0};
	}
}

rn_scale rn_scale_of(const rn_model *model, rn_attribute attribute, double step, rn_units units)
{
	rn_scale s = unit_of(model, attribute, units);
	double digits = 1 - floor(log10(step / s.per_unit));
	s.digits = digits > 0 ? (int)fmin(digits, DIGITS_MOST) : 0;
	return s;
}

void rn_scale_bare(rn_buffer *buffer, const rn_scale *scale, double value, int more)
{
	rn_buffer_fixed(buffer, value / scale->per_unit, scale->digits + more);
}

void rn_scale_value(rn_buffer *buffer, const rn_scale *scale, double value, int more)
{
	rn_scale_bare(buffer, scale, value, more);
	rn_buffer_format(buffer, "%s%s", *scale->unit ? " " : "", scale->unit);
}
