/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The answer as a person reads it: verdict first, then what is closest and why, one table with the
 * cases as columns, and everything that was guessed, not checked or not looked at.
 */
#ifndef RN_IO_REPORT_TEXT_H
#define RN_IO_REPORT_TEXT_H

#include "io/base/words.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct rn_text_options {
	bool bold; /* the verdict in bold, for a terminal that shows it */
	const rn_ranges *ranges; /* to be told as well; NULL: none were asked for */
	int range_count;
	const rn_losses *losses;   /* likewise */
	const rn_matters *matters; /* likewise */
	const rn_let_run *let_runs; /* likewise */
	const rn_comparison *comparisons; /* likewise */
	int catch_count;         /* of each of them */
	const char *without;     /* what has let go in this answer; NULL: nothing */
} rn_text_options;

/* Lines of at most 90 columns. `options` may be NULL. Errors: MEMORY; ARGUMENT when the result
 * holds a number that is not finite. After an error what was added is not whole. */
rn_status rn_text_write(rn_buffer *buffer, const rn_result *result, rn_units units,
                        const rn_text_options *options) RN_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
