/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/friction.h"

#include <math.h>

#include "solver/base/vec2.h"

void rn_friction_capstan(double mu, double bend, double turns, double *log_ratio_out, double *slope_out)
{
	*log_ratio_out = mu * (bend + 2 * RN_PI * turns);
	*slope_out = mu;
}

/* With q = T2/T1 the law squared reads
 *     (q - 1)^2 = c^2 (1 + q^2 - 2 q cos bend)
 *     a q^2 - 2 b q + a = 0,   a = 1 - c^2,  b = 1 - c^2 cos bend = a + h,  h = 2 c^2 sin^2(bend/2)
 * so ln q = arcosh(b/a) = ln((b + w)/a), w = sqrt(b^2 - a^2) = sqrt(h (h + 2 a)), and
 *     d ln q / d bend = b' / w = c^2 sin(bend) / w.
 * w is written through sin(bend/2) so that both stay exact at small bends, where ln q -> c bend. */
void rn_friction_sheave(double c, double bend, double *log_ratio_out, double *slope_out)
{
	double a = 1 - c * c;
	double half = sin(bend / 2);
	double h = 2 * c * c * half * half;
	double root = sqrt(2 * (h + 2 * a)); /* w = c half root */
	double w = c * fabs(half) * root;
	*log_ratio_out = log1p((h + w) / a);
	*slope_out = 2 * c * cos(bend / 2) / root * (half < 0 ? -1 : 1);
}
