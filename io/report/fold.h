/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which cases an answer need not show twice.
 */
#ifndef RN_IO_REPORT_FOLD_H
#define RN_IO_REPORT_FOLD_H

#include "solver/funicle.h"

/* shown[i] = the case that stands for case i: i itself, or one from which it differs nowhere by 1 %
 * and in nothing that is said. The case with the worst part always stands for itself. `shown` has
 * room for result->case_count. */
void rn_fold_cases(const rn_result *result, int *shown);

#endif
