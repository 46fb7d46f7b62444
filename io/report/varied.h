/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One or two numbers varied, as a person reads it and for other programs.
 */
#ifndef RN_IO_REPORT_VARIED_H
#define RN_IO_REPORT_VARIED_H

#include "io/base/scale.h"
#include "io/report/tell.h"

/* Errors: MEMORY, ARGUMENT when a number is not finite. */
rn_status rn_varied_text(rn_buffer *buffer, const rn_varied *varied, rn_units units) RN_MUST_CHECK;
rn_status rn_varied_tell(rn_stream *stream, const rn_varied *varied, const rn_answer_options *options) RN_MUST_CHECK;

/* 0 when every choice has an answer, every loaded part was checked and none is over; 1 when some is not so; 4 or 5 when
 * there is no answer at all. */
int rn_varied_exit(const rn_varied *varied);

/* ---- shared with the best place and with the figures -------------------------------------------- */

typedef enum rn_kind_of_choice { RN_CHOICE_LOST, RN_CHOICE_UNKNOWN, RN_CHOICE_OVER, RN_CHOICE_BELOW } rn_kind_of_choice;

rn_kind_of_choice rn_varied_kind(const rn_tried *tried);
/* Of a number of it, so that its steps can be told apart. */
rn_scale rn_varied_scale(const rn_varied *varied, int number, rn_units units);
/* "r1.x" */
void rn_varied_name(rn_buffer *buffer, const rn_varied *varied, int number);
/* "r1.x from 2.00 to 6.00 m" */
void rn_varied_range(rn_buffer *buffer, const rn_varied *varied, int number, rn_units units);
/* "r1.x 4.40 m, r1.y 8.10 m", with so many more digits. */
void rn_varied_place(rn_buffer *buffer, const rn_varied *varied, const double *value, int more, rn_units units);
/* "stem ash"; of a connector "shackle at b1". */
void rn_varied_part(rn_buffer *buffer, const rn_varied *varied, int part);
/* "119 % OVER, stem ash in raising", or why there is no answer: "nothing holds the log, in raising". */
void rn_varied_closest(rn_buffer *buffer, const rn_varied *varied, const rn_tried *tried, rn_units units);
/* "84.1", for columns whose head says what it is. */
void rn_varied_bare_percent(rn_buffer *buffer, double ratio);
/* "84.1 % of the limit", of what has none its pull or stress. */
void rn_varied_own(rn_buffer *buffer, const rn_varied *varied, const rn_tried *tried, rn_units units);
/* Wherever there is an answer it is the same. */
bool rn_varied_is_level(const rn_varied *varied);
/* What a moved place does to lengths, and what a case keeps as it sets it; nothing when neither is so. */
void rn_varied_remarks(rn_buffer *line, const rn_varied *varied);
/* Cautions, as in every answer. */
void rn_varied_cautions(rn_buffer *out, rn_buffer *line, const rn_model *model, rn_units units);
void rn_varied_tell_numbers(rn_teller *teller, const rn_varied *varied);
void rn_varied_tell_tried(rn_teller *teller, const char *key, const rn_varied *varied, const rn_tried *tried);
void rn_varied_tell_all(rn_teller *teller, const rn_varied *varied);

#endif
