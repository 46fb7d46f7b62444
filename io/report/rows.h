/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The table of the text answer: what every part carries, case by case.
 */
#ifndef RN_IO_REPORT_ROWS_H
#define RN_IO_REPORT_ROWS_H

#include "io/base/words.h"
#include "io/report/folio.h"

/* The table of the cases that stand for themselves (shown[c] == c), into a folio, or as text. Errors: MEMORY. */
rn_status rn_rows_folio(rn_folio *folio, const rn_result *result, const int *shown, rn_units units) RN_MUST_CHECK;
rn_status rn_rows_print(rn_buffer *buffer, const rn_result *result, const int *shown,
                        rn_units units) RN_MUST_CHECK;

#endif
