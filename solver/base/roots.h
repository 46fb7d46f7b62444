/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A root between two places where a function has two signs; Brent (1973), ch. 4, as GSL has it.
 */
#ifndef RN_BASE_ROOTS_H
#define RN_BASE_ROOTS_H

#include "solver/funicle.h"

/* *root_out is `low` where the function is not below 0 there. Closes in to `close` [in what the function is
 * asked with]. Errors: MEMORY. */
rn_status rn_root_between(double (*of)(double at, void *context), void *context, double low, double high, double close,
                          double *root_out) RN_MUST_CHECK;

/* Regula falsi in its Illinois form, asked step by step, for what can fail or end early; Dowell and Jarratt (1971). The
 * values at the two ends have two signs. */
typedef struct rn_bracket {
	double low, high, at_low, at_high;
	int side; /* 0 to begin with: the end that moved last */
} rn_bracket;

double rn_bracket_next(const rn_bracket *bracket);
void rn_bracket_tell(rn_bracket *bracket, double place, double at);

#endif
