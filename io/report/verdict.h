/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The verdict in words. There are three sentences and no other; which one it is follows from the
 * result before anything is rounded.
 */
#ifndef RN_IO_REPORT_VERDICT_H
#define RN_IO_REPORT_VERDICT_H

#include "io/base/buffer.h"
#include "io/base/words.h"

/* "NONE OVER ITS LIMIT (n checked, m not checked)", "OVER ITS LIMIT: ..." or "NOT CHECKED: ...". */
void rn_verdict_sentence(rn_buffer *buffer, const rn_result *result, rn_units units);
/* "sling s1 at top, 84.1 % in raising: 6.31 of 7.50 kN (strength 75.0 kN / 10)"; nothing when no
 * part is checked. */
void rn_verdict_closest(rn_buffer *buffer, const rn_result *result, rn_units units);
/* "rope bull (no design factor); anchor top and anchor oak (no rating)": every part that is not
 * checked in some case, loaded or not; nothing when there is none. */
void rn_verdict_unchecked(rn_buffer *buffer, const rn_result *result);
/* Why one part is not checked. */
const char *rn_verdict_why(const rn_model *model, const rn_part_result *part);

/* The part closest to its limit, NULL when no part is checked. */
const rn_part_result *rn_verdict_worst(const rn_result *result);
/* Whether a case has forces to show: settled, or a picture that was kept. */
bool rn_verdict_has_answer(const rn_case_result *answer);
/* Decided on the unrounded numbers. */
bool rn_verdict_is_over(const rn_part_result *part);

#endif
