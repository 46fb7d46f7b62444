/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What holds when one part lets go.
 */
#ifndef RN_IO_REPORT_LOSSES_H
#define RN_IO_REPORT_LOSSES_H

#include "io/report/folio.h"
#include "io/report/tell.h"

/* Above this share of its limit, settled, a part counts as over: at the jolt it may carry twice as much
 * (Timoshenko, suddenly applied load; textbook) [-]. */
extern const double rn_losses_over;

/* Of an answer without a part: whether what is closest then may be over at the jolt. */
bool rn_losses_over_at_jolt(const rn_result *without);

/* A table: what lets go, what then holds, what is closest. Errors: MEMORY. */
rn_status rn_losses_folio(rn_folio *folio, const rn_result *result, const rn_losses *losses,
                          rn_units units) RN_MUST_CHECK;
rn_status rn_losses_text(rn_buffer *buffer, const rn_result *result, const rn_losses *losses,
                         rn_units units) RN_MUST_CHECK;
void rn_losses_tell(rn_teller *teller, const rn_result *result, const rn_losses *losses);

#endif
