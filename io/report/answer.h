/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The answer of `solve` for other programs, told to a stream of either form.
 */
#ifndef RN_IO_REPORT_ANSWER_H
#define RN_IO_REPORT_ANSWER_H

#include "io/report/tell.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Errors: MEMORY; ARGUMENT when a number of the result is not finite. */
rn_status rn_answer_tell(rn_stream *stream, const rn_result *result,
                         const rn_answer_options *options) RN_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
