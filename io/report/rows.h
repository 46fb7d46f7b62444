/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The table of the text answer: what every part carries, case by case.
 */
#ifndef RN_IO_REPORT_ROWS_H
#define RN_IO_REPORT_ROWS_H

#include "io/base/words.h"

/* Prints the table of the cases that stand for themselves (shown[c] == c). Errors: MEMORY. */
rn_status rn_rows_print(rn_buffer *buffer, const rn_result *result, const int *shown,
                        rn_units units) RN_MUST_CHECK;

#endif
