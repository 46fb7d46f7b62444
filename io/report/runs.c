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

int rn_runs_direction(const rn_model *model, const rn_case *c, const rn_reach *reach, int station)
{
	return rn_case_direction(model, c, reach->first, reach->last, station);
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
