/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Least and most of everything, where nobody knows where the rope sticks.
 */
#ifndef RN_IO_REPORT_RANGES_H
#define RN_IO_REPORT_RANGES_H

#include "io/report/folio.h"
#include "io/report/tell.h"

/* A table of one case and a sentence about how it was found. Errors: MEMORY. */
rn_status rn_ranges_folio(rn_folio *folio, const rn_model *model, const rn_ranges *ranges,
                          rn_units units) RN_MUST_CHECK;
rn_status rn_ranges_text(rn_buffer *buffer, const rn_model *model, const rn_ranges *ranges,
                         rn_units units) RN_MUST_CHECK;
/* Whether some part is over its limit in some state. */
bool rn_ranges_over(const rn_ranges *ranges, int count);
/* Which they are: "rope bull, stem ash". */
void rn_ranges_name_over(rn_buffer *buffer, const rn_model *model, const rn_ranges *ranges);
void rn_ranges_tell(rn_teller *teller, const rn_ranges *ranges, int count);

#endif
