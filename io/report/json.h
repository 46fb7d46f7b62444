/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The answer for other programs, described by doc/result.schema.json. SI units in the key names,
 * nothing rounded, keys always in the same order.
 */
#ifndef RN_IO_REPORT_JSON_H
#define RN_IO_REPORT_JSON_H

#include "io/report/answer.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Errors: MEMORY; ARGUMENT when a number of the result is not finite: a result that holds one is
 * none, and a JSON number cannot say it. After an error what was added is not whole. */
rn_status rn_json_write(rn_buffer *buffer, const rn_result *result,
                        const rn_answer_options *options) RN_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
