/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where the spans of a member are in an answer: lines come first, then legs, then props, each in the order of the
 * model, whatever is slack, lifted or gone (statics/answer.c).
 */
#ifndef RN_STRENGTH_SPANS_H
#define RN_STRENGTH_SPANS_H

#include "solver/funicle.h"

/* The first span of a line, sling or prop, an index into the spans of an answer. */
static inline int rn_spans_first(const rn_model *m, rn_object member)
{
	int of_lines = m->station_count - m->line_count;
	switch (member.kind) {
	case RN_LINE: return m->lines[member.index].first_station - member.index;
	case RN_SLING: return of_lines + m->slings[member.index].first_leg;
	default: return of_lines + m->leg_count + member.index;
	}
}

#endif
