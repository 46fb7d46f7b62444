/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The hand calculation at one place, step by step: free body, parts of each force, sums, bends and friction, what
 * the parts there may carry, the stem. In the book's symbols, with the numbers of the answer.
 */
#ifndef RN_IO_REPORT_EXPLAIN_H
#define RN_IO_REPORT_EXPLAIN_H

#include "io/base/words.h"
#include "io/report/folio.h"

/* Where an explanation is most worth having: the place of the closest part, else the node pulled hardest. */
int rn_explain_node(const rn_case_result *answer, int closest_part);

/* `index`: of the case in the answer. Errors: MEMORY; ARGUMENT when a number is not finite, or the case has no
 * answer to explain. */
rn_status rn_explain_folio(rn_folio *folio, const rn_result *result, int index, int node,
                           rn_units units) RN_MUST_CHECK;
/* The working alone, as a part of something longer: headings of the second level. Errors: likewise. */
rn_status rn_explain_part(rn_folio *folio, const rn_result *result, int index, int node,
                          rn_units units) RN_MUST_CHECK;
/* The first as text. Errors: likewise. */
rn_status rn_explain_text(rn_buffer *buffer, const rn_result *result, int index, int node,
                          rn_units units) RN_MUST_CHECK;

#endif
