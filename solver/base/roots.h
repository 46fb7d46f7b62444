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

#endif
