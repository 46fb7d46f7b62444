/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Vectors of the plane, by value.
 */
#ifndef RN_BASE_VEC2_H
#define RN_BASE_VEC2_H

#include <math.h>

#define RN_PI 3.14159265358979323846

typedef struct rn_vec2 {
	double x, y;
} rn_vec2;

static inline rn_vec2 rn_vec2_of(const double *p)
{
	return (rn_vec2){p[0], p[1]};
}

static inline rn_vec2 rn_vec2_add(rn_vec2 a, rn_vec2 b)
{
	return (rn_vec2){a.x + b.x, a.y + b.y};
}

static inline rn_vec2 rn_vec2_sub(rn_vec2 a, rn_vec2 b)
{
	return (rn_vec2){a.x - b.x, a.y - b.y};
}

static inline rn_vec2 rn_vec2_scale(double k, rn_vec2 a)
{
	return (rn_vec2){k * a.x, k * a.y};
}

static inline double rn_vec2_dot(rn_vec2 a, rn_vec2 b)
{
	return a.x * b.x + a.y * b.y;
}

static inline double rn_vec2_cross(rn_vec2 a, rn_vec2 b)
{
	return a.x * b.y - a.y * b.x;
}

static inline double rn_vec2_length(rn_vec2 a)
{
	return sqrt(a.x * a.x + a.y * a.y);
}

/* The left normal: a turned by +90 deg. */
static inline rn_vec2 rn_vec2_left(rn_vec2 a)
{
	return (rn_vec2){-a.y, a.x};
}

static inline rn_vec2 rn_vec2_heading(double angle)
{
	return (rn_vec2){cos(angle), sin(angle)};
}

#endif
