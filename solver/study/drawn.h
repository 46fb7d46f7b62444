/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which numbers of a model may be otherwise, and a case with such numbers drawn.
 */
#ifndef RN_STUDY_DRAWN_H
#define RN_STUDY_DRAWN_H

#include "solver/base/arena.h"

/* One state of what is not known. */
typedef struct rn_drawn {
	const rn_between *ranges;
	const double *point; /* per range: where between its ends, 0 to 1 */
	int count;
} rn_drawn;

/* What is asked, then every other number that has a range: given or guessed, of gear that is used; lengths and places
 * that may be off. Errors: MEMORY. */
rn_status rn_drawn_ranges(rn_arena *arena, const rn_model *model, const rn_between *asked, int asked_count,
                          rn_between **ranges_out, int *count_out) RN_MUST_CHECK;

/* Puts the drawn numbers into `values` of a case, which keeps what it sets itself, and works out anew what follows from
 * them. */
void rn_drawn_values(const rn_model *model, const rn_case *c, const rn_drawn *drawn, double *values);

/* How far lengths are off, per line and per leg [-]; untouched where no length is drawn. */
void rn_drawn_lengths(const rn_drawn *drawn, double *line_off, double *leg_off);

#endif
