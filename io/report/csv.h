/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The answer as one long table for spreadsheets, described in csv_stream.h: every value of the JSON
 * in the same order and to the same last digit.
 */
#ifndef RN_IO_REPORT_CSV_H
#define RN_IO_REPORT_CSV_H

#include "io/report/answer.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Errors as of rn_json_write. */
rn_status rn_csv_write(rn_buffer *buffer, const rn_result *result,
                       const rn_answer_options *options) RN_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
