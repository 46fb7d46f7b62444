/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/runs.h"

bool rn_runs_next(const rn_model *model, int line, rn_reach *reach)
{
	const rn_line *l = &model->lines[line];
	const rn_station *s = model->stations;
	int first = reach->last == RN_NONE ? l->first_station : reach->last;
	for (int last = first + 1; last < l->first_station + l->station_count; last++) {
		if (s[last].kind == RN_THROUGH)
			continue;
		*reach = (rn_reach){first, last};
		if (last > first + 1 || s[first].kind == RN_HOLD || s[last].kind == RN_HOLD)
			return true;
		first = last;
	}
	return false;
}

/* Rope runs down this order when a load is lowered: doc/theory.md. */
static int end_rank(const rn_model *model, int station)
{
	switch (model->nodes[model->stations[station].node].kind) {
	case RN_NODE_HAND: return 3;
	case RN_NODE_BOLLARD: return 2;
	case RN_NODE_ANCHOR:
	case RN_NODE_FORK: return 1;
	case RN_NODE_PIECE: return -1;
	default: return 0;
	}
}

int rn_runs_direction(const rn_model *model, const rn_case *c, const rn_reach *reach, int station)
{
	if (c->level == RN_FRICTION_NONE)
		return 0;
	for (int i = 0; i < c->run_count; i++) {
		const rn_run *run = &model->runs[c->first_run + i];
		if (run->line == model->stations[reach->first].line &&
		    (run->at == RN_NONE || run->at == station))
			return run->toward_last ? 1 : -1;
	}
	if (c->run_count > 0)
		return 0;
	int fall = end_rank(model, reach->first) - end_rank(model, reach->last);
	int lowering = (fall > 0) - (fall < 0);
	return c->raising ? -lowering : lowering;
}

int rn_runs_end(const rn_reach *reach, int direction)
{
	return direction == 0 ? RN_NONE : direction > 0 ? reach->last : reach->first;
}

bool rn_runs_without_turns(const rn_model *model, int end)
{
	return end != RN_NONE && model->stations[end].kind == RN_HOLD &&
	       model->nodes[model->stations[end].node].kind == RN_NODE_BOLLARD;
}
