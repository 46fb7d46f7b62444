/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A catch told in lines: from locked to let run, and with one thing changed at a time.
 */
#ifndef RN_IO_REPORT_CATCHES_H
#define RN_IO_REPORT_CATCHES_H

#include "io/report/tell.h"

/* Errors: MEMORY. */
rn_status rn_let_run_text(rn_buffer *buffer, const rn_model *model, const rn_let_run *let_run,
                          rn_units units) RN_MUST_CHECK;
rn_status rn_comparison_text(rn_buffer *buffer, const rn_model *model, const rn_comparison *comparison,
                             rn_units units) RN_MUST_CHECK;

/* The lists "let_run" and "compared": an object for each case. */
void rn_let_runs_tell(rn_teller *teller, const rn_let_run *let_runs, int count);
void rn_comparisons_tell(rn_teller *teller, const rn_comparison *comparisons, int count);

#endif
