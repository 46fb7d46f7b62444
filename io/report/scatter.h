/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Trials with numbers drawn from their ranges, as a person reads them and for other programs.
 */
#ifndef RN_IO_REPORT_SCATTER_H
#define RN_IO_REPORT_SCATTER_H

#include "io/report/folio.h"
#include "io/report/tell.h"

/* `result`: of the model as given. Errors: MEMORY, ARGUMENT when a number of it is not finite. */
rn_status rn_scatter_folio(rn_folio *folio, const rn_result *result, const rn_scatter *scatter,
                           rn_units units) RN_MUST_CHECK;
rn_status rn_scatter_tell(rn_stream *stream, const rn_result *result, const rn_scatter *scatter,
                          const rn_answer_options *options) RN_MUST_CHECK;

/* 4 or 5 when the model as given has no answer; 1 when a trial is anything but one in which every loaded part is
 * checked and none is over; else 0. */
int rn_scatter_exit(const rn_result *result, const rn_scatter *scatter);

#endif
