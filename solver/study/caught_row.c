/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/study/caught_row.h"

#include <math.h>

#include "solver/model/place.h"

rn_status rn_catcher_create(rn_arena *arena, const rn_model *model, const rn_options *options, int case_index,
                            rn_catcher *out)
{
	*out = (rn_catcher){.model = model, .of = &model->cases[case_index], .arena = arena,
	                    .scratch = rn_arena_make(&options->allocator)};
	if (out->of->fall == RN_NONE)
		return RN_STATUS_ARGUMENT;
	RN_TAKE(arena, out->values, model->number_count + 1);
	RN_TRY(rn_workspace_create(model, options, &out->workspace));
	rn_case_values(model, out->of, out->values);
	return RN_OK;
}

void rn_catcher_release(rn_catcher *c)
{
	rn_workspace_destroy(c->workspace);
	rn_arena_release(&c->scratch);
}

static void find_anchor(const rn_model *m, const rn_case_result *a, rn_caught_row *row)
{
	row->anchor = RN_NONE;
	for (int i = 0; i < m->node_count; i++) {
		double pull = hypot(a->nodes[i].pull[0], a->nodes[i].pull[1]);
		if (!rn_node_is_fixed(&m->nodes[i]) || pull <= row->anchor_pull)
			continue;
		row->anchor = i;
		row->anchor_pull = pull;
	}
}

static void find_closest(const rn_case_result *a, rn_caught_row *row)
{
	double most = 0;
	row->closest = RN_NONE;
	for (int p = 0; p < a->part_count; p++)
		most = fmax(most, a->parts[p].demand);
	for (int p = 0; p < a->part_count; p++) {
		const rn_part_result *part = &a->parts[p];
		if (part->unchecked != RN_CHECKED) {
			row->unchecked = row->unchecked || part->demand > rn_loaded_least * most;
		} else if (part->utilisation > row->utilisation) {
			row->utilisation = part->utilisation;
			row->closest = p;
		}
	}
}

static void find_hand(const rn_case_result *a, int station, rn_caught_row *row)
{
	for (int i = 0; i < a->hold_count; i++) {
		const rn_hold_result *hold = &a->holds[i];
		if (hold->station != station)
			continue;
		row->slips_at = hold->tension;
		row->hand_least = hold->hand_least;
		row->hand_most = hold->hand_most;
	}
}

static rn_status keep_shape(rn_catcher *c, const rn_case_result *answer)
{
	rn_case_result *copy;
	if (c->shape)
		return RN_OK;
	RN_TAKE(c->arena, copy, 1);
	RN_TRY(rn_case_result_copy(c->arena, c->model, answer, copy));
	c->shape = copy;
	return RN_OK;
}

rn_status rn_catcher_try(rn_catcher *c, double slips_at, rn_caught_row *row)
{
	const rn_case_result *answer;
	rn_arena_release(&c->scratch);
	RN_TRY(rn_fall_settle_slipping(&c->scratch, c->workspace, c->model, c->of, c->values, slips_at, &answer));
	RN_TRY(keep_shape(c, answer));
	*row = (rn_caught_row){.outcome = answer->outcome, .anchor = RN_NONE, .closest = RN_NONE};
	if (answer->outcome != RN_OUTCOME_SETTLED)
		return RN_OK;
	row->peak = answer->caught.peak;
	row->travel = answer->caught.travel;
	row->clear = answer->caught.clear;
	row->run_out = answer->caught.run_out;
	find_anchor(c->model, answer, row);
	find_closest(answer, row);
	find_hand(answer, rn_fall_hold(c->model, c->of->fall), row);
	return RN_OK;
}
