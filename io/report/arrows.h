/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The free body of one node: every pull on it as an arrow away from it.
 */
#ifndef RN_IO_REPORT_ARROWS_H
#define RN_IO_REPORT_ARROWS_H

#include "io/base/words.h"

enum { RN_ARROWS_MOST = 64 };

typedef struct rn_arrow {
	double x, y;      /* [N] */
	rn_object member; /* a rope, sling or prop; RN_NODE: a body that presses; RN_CASE: weight; RN_FORCE: outer;
	                     RN_STEM: what holds it */
	int other;        /* the node it leads to, RN_NONE */
} rn_arrow;

typedef struct rn_arrows {
	const rn_model *model;
	const rn_case_result *answer;
	int node;
	rn_arrow list[RN_ARROWS_MOST];
	int count;
} rn_arrows;

/* `values`: numbers of the case. A fixed node has what pulls on it, without what holds it. */
rn_arrows rn_arrows_at(const rn_model *model, const rn_case_result *answer, const double *values, int node);
/* What holds a fixed node, the other way than all of it; nothing at others. */
void rn_arrows_hold(rn_arrows *arrows);
/* "rope bull to log", "weight" */
void rn_arrows_words(rn_buffer *buffer, const rn_arrows *arrows, int index);
/* Whether it is the piece that is caught in this case. */
bool rn_arrows_caught(const rn_arrows *arrows);

#endif
