/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The best place, as a person reads it and for other programs.
 */
#ifndef RN_IO_REPORT_PLACED_H
#define RN_IO_REPORT_PLACED_H

#include "io/report/tell.h"

/* Errors: MEMORY, ARGUMENT when a number is not finite. */
rn_status rn_placed_text(rn_buffer *buffer, const rn_placed *placed, rn_units units) RN_MUST_CHECK;
rn_status rn_placed_tell(rn_stream *stream, const rn_placed *placed, const rn_answer_options *options) RN_MUST_CHECK;

/* As the verdict of the answer with what is proposed, of the model as drawn where nothing is better; 4 or 5 when no
 * choice has an answer. */
int rn_placed_exit(const rn_placed *placed);

/* What is made least, in words: "worst of all" or "stem ash". */
void rn_placed_goal(rn_buffer *buffer, const rn_placed *placed);
/* "r1 x="2.713 m" y="7.204 m"", as it is written in the file; on a sling round a stem its height. */
void rn_placed_attributes(rn_buffer *buffer, const rn_placed *placed);

#endif
