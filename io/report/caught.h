/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a caught piece does, and what measurement says of such sums.
 */
#ifndef RN_IO_REPORT_CAUGHT_H
#define RN_IO_REPORT_CAUGHT_H

#include "io/report/folio.h"
#include "io/report/tell.h"

/* Between what a computed peak has been found to be, of the computed one [-]. */
extern const double rn_caught_tree_least, rn_caught_tree_most, rn_caught_rigid_most;

/* How deep, how hard, where its work went, what was measured: a paragraph for each case in which a piece was
 * caught. */
void rn_caught_folio(rn_folio *folio, const rn_result *result, rn_units units);
/* The same as text. Errors: MEMORY. */
rn_status rn_caught_text(rn_buffer *buffer, const rn_result *result, rn_units units) RN_MUST_CHECK;

/* The object "caught" of a case; null when nothing falls in it, or nothing stopped it. */
void rn_caught_tell(rn_teller *teller, const rn_case_result *c);

/* "0.620 m of rope are let run at 1.93 kN" */
void rn_caught_run_words(rn_buffer *buffer, const rn_model *model, const rn_caught *caught, rn_units units);

#endif
