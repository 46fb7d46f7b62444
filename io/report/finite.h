/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * No number that is not one leaves the program.
 */
#ifndef RN_IO_REPORT_FINITE_H
#define RN_IO_REPORT_FINITE_H

#include "solver/funicle.h"

/* Looks at every number of an answer. Errors: ARGUMENT when one is infinite or not a number: such a
 * result is a fault of the program, never of the model, and no writer prints it. */
rn_status rn_finite_check(const rn_result *result) RN_MUST_CHECK;

#endif
