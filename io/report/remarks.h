/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What an answer says in sentences beside its numbers. Each adds one to a line that is empty, or nothing where there is
 * nothing to say.
 */
#ifndef RN_IO_REPORT_REMARKS_H
#define RN_IO_REPORT_REMARKS_H

#include "io/base/words.h"

/* "Notes: ": what was seen on the way, with the cases it was seen in. */
void rn_remarks_notes(rn_buffer *line, const rn_result *result, rn_units units);
/* How many these are. */
int rn_remarks_note_count(const rn_result *result);
/* "Taken off: ": every factor of every part, in the case in which it is closest to its limit. */
void rn_remarks_taken_off(rn_buffer *line, const rn_result *result, rn_units units);
/* "Stand clear ": the sides of bends that rope flies to; shown[i]: as of rn_fold_cases. */
void rn_remarks_stand_clear(rn_buffer *line, const rn_result *result, const int *shown, rn_units units);
/* "Balance: DOES NOT CLOSE ": where an answer must not be used. */
void rn_remarks_open_balance(rn_buffer *line, const rn_result *result, rn_units units);

#endif
