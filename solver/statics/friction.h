/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What friction makes of a bend: ln(T_after / T_before) for rope that runs from before to after.
 */
#ifndef RN_STATICS_FRICTION_H
#define RN_STATICS_FRICTION_H

/* Capstan: ln ratio = mu (bend + 2 pi turns). Euler (1769), Eytelwein (1808). */
void rn_friction_capstan(double mu, double bend, double turns, double *log_ratio_out, double *slope_out);

/* Sheave on a pin: T2 - T1 = c |T1 u1 - T2 u2|, c = (1 - eta)/(1 + eta): the loss goes with the
 * resultant on the pin, so that over half a turn T2/T1 = 1/eta. */
void rn_friction_sheave(double c, double bend, double *log_ratio_out, double *slope_out);

#endif
