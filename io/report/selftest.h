/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What came of asking the endorsed cases: which values agree, and how closely.
 */
#ifndef RN_IO_REPORT_SELFTEST_H
#define RN_IO_REPORT_SELFTEST_H

#include "io/report/question.h"
#include "io/report/tell.h"

typedef struct rn_asked_row {
	const char *model; /* its name */
	rn_question question;
	rn_reply reply;
	const char *why;   /* it could not be asked; NULL: it was */
} rn_asked_row;

typedef struct rn_selftest {
	rn_asked_row *rows;
	int count, model_count;
	const char *libraries, *build; /* what the program is made of, and by what */
} rn_selftest;

int rn_selftest_agreeing(const rn_selftest *selftest);

/* A summary by sources, and every value that differs. Errors: MEMORY. */
rn_status rn_selftest_text(rn_buffer *buffer, const rn_selftest *selftest) RN_MUST_CHECK;
/* Every value. Errors: MEMORY. */
rn_status rn_selftest_tell(rn_stream *stream, const rn_selftest *selftest) RN_MUST_CHECK;

#endif
