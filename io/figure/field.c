/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/field.h"

#include <math.h>

/* Room of one value along the foot and up the side, at least; length of a mark [mm]. */
static const double across_apart = 18, up_apart = 11, mark = 1.5;
static const double beside = 6; /* what the foot is of stands so far to its right [mm] */

double rn_field_x(const rn_field *f, double value)
{
	return f->left + (value - f->across[0]) / (f->across[1] - f->across[0]) * (f->right - f->left);
}

double rn_field_y(const rn_field *f, double value)
{
	return f->bottom - (value - f->up[0]) / (f->up[1] - f->up[0]) * (f->bottom - f->top);
}

/* Between two values that are told, in units: 1, 2 or 5 times a power of ten, no nearer than `least`. */
static double step_of(double least)
{
	double below = rn_plate_round_down(least), power = pow(10, floor(log10(below) + 1e-9));
	double next = below > 4.5 * power ? 10 * power : below > 1.5 * power ? 5 * power : 2 * power;
	return below >= least * (1 - 1e-9) ? below : next;
}

static const char *keep(const rn_field *f)
{
	return rn_plate_keep(f->plate);
}

static const char *said(const rn_field *f, double value, double step)
{
	int digits = (int)fmax(0, -floor(log10(step) + 1e-9));
	rn_buffer_fixed(&f->plate->text, value, digits);
	return keep(f);
}

static const char *titled(const rn_field *f, const char *name, const rn_scale *scale)
{
	rn_buffer_format(&f->plate->text, "%s%s%s", name, *scale->unit ? ", " : "", scale->unit);
	return keep(f);
}

void rn_field_scale_across(const rn_field *f, const rn_scale *scale, const char *name)
{
	double low = f->across[0] / scale->per_unit, high = f->across[1] / scale->per_unit;
	double step = step_of((high - low) * across_apart / (f->right - f->left));
	for (double k = ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) {
		double x = rn_field_x(f, k * step * scale->per_unit);
		const char *text = said(f, k * step, step);
		rn_plate_line(f->plate, RN_ROLE_FRAME, x, f->bottom, x, f->bottom + mark);
		rn_plate_text(f->plate, RN_TEXT_SMALL, x - rn_lettering_width(text, RN_TEXT_SMALL) / 2, f->bottom + 5, text);
	}
	rn_plate_text(f->plate, RN_TEXT_PLAIN, f->right + beside, f->bottom + 5, titled(f, name, scale));
}

void rn_field_scale_up(const rn_field *f, const rn_scale *scale, const char *name)
{
	double low = f->up[0] / scale->per_unit, high = f->up[1] / scale->per_unit;
	double step = step_of((high - low) * up_apart / (f->bottom - f->top));
	for (double k = ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) {
		double y = rn_field_y(f, k * step * scale->per_unit);
		const char *text = said(f, k * step, step);
		rn_plate_line(f->plate, RN_ROLE_FRAME, f->left - mark, y, f->left, y);
		rn_plate_text(f->plate, RN_TEXT_SMALL, f->left - mark - 1 - rn_lettering_width(text, RN_TEXT_SMALL), y + 0.9, text);
	}
	rn_plate_text(f->plate, RN_TEXT_PLAIN, rn_plate_margin, f->top - 5.5, titled(f, name, scale));
}

void rn_field_frame(const rn_field *f)
{
	rn_plate_line(f->plate, RN_ROLE_FRAME, f->left, f->bottom, f->right, f->bottom);
	rn_plate_line(f->plate, RN_ROLE_FRAME, f->left, f->top, f->left, f->bottom);
	rn_plate_line(f->plate, RN_ROLE_RULE, f->left, f->top, f->right, f->top);
	rn_plate_line(f->plate, RN_ROLE_RULE, f->right, f->top, f->right, f->bottom);
}
