/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What each part of a model is rated for, as written, before anything is solved.
 */
#ifndef RN_IO_REPORT_RATINGS_H
#define RN_IO_REPORT_RATINGS_H

#include "solver/funicle.h"

typedef struct rn_rating {
	rn_object object;
	int at;   /* of a node and a connector: the node; else RN_NONE */
	int gear; /* item or RN_NONE */
	double strength, design_factor, working_load; /* 0 = not given */
	rn_unchecked unchecked; /* what is known beforehand; a solved case can find more reasons */
} rn_rating;

/* One rating for each part, in the order of the answer. `list` has room for what the call with NULL
 * returns: how many there are. */
int rn_ratings_list(const rn_model *model, rn_rating *list);

#endif
