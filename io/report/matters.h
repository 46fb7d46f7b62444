/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the share of one part depends on, the most first.
 */
#ifndef RN_IO_REPORT_MATTERS_H
#define RN_IO_REPORT_MATTERS_H

#include "io/report/tell.h"

/* Errors: MEMORY. */
rn_status rn_matters_text(rn_buffer *buffer, const rn_result *result, const rn_matters *matters,
                          rn_units units) RN_MUST_CHECK;
void rn_matters_tell(rn_teller *teller, const rn_result *result, const rn_matters *matters);

#endif
