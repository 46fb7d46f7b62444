/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * An exercise in working out forces, and its key: one case of an answer with what a pencil cannot find given, the rest
 * to be guessed, worked out and, where there is a load cell, read; and a working with one mistake in it.
 */
#ifndef RN_IO_REPORT_DRILL_H
#define RN_IO_REPORT_DRILL_H

#include "io/base/words.h"

/* Changes the weights that a model gives, each by up to three tenths, in steps a trainee would see on a tag. The same
 * seed gives the same. Errors: MEMORY. */
rn_status rn_drill_change(rn_model *model, unsigned long seed, rn_units units) RN_MUST_CHECK;

typedef struct rn_drill {
	unsigned long seed;
	rn_units units;
	int index, node; /* of the case in the answer; where the working with the mistake is */
	bool key;        /* the key, else the sheet */
} rn_drill;

/* The free node on which most pulls act: where a working has most to get wrong. */
int rn_drill_node(const rn_model *model, const rn_case_result *answer);
/* Errors: MEMORY; ARGUMENT when the case is no answer at rest, a number is not finite, or nothing pulls on the node. */
rn_status rn_drill_text(rn_buffer *buffer, const rn_result *result, const rn_drill *drill) RN_MUST_CHECK;

#endif
