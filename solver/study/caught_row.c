/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/study/caught_row.h"

#include <math.h>
#include <string.h>

#include "solver/model/place.h"
#include "solver/study/fall.h"

rn_status rn_catcher_create(rn_arena *arena, const rn_model *model, const rn_options *options, int case_index,
                            rn_catcher *out)
{
	*out = (rn_catcher){.model = model, .of = &model->cases[case_index], .arena = arena,
	                    .scratch = rn_arena_make(&options->allocator)};
	if (out->of->fall == RN_NONE)
		return RN_STATUS_ARGUMENT;
	RN_TAKE(arena, out->values, model->number_count + 1);
	RN_TAKE(arena, out->turned, model->number_count + 1);
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

static rn_status try_with(rn_catcher *c, const double *values, double slips_at, rn_caught_row *row)
{
	const rn_case_result *answer;
	double below;
	rn_arena_release(&c->scratch);
	RN_TRY(rn_fall_settle_slipping(&c->scratch, c->workspace, c->model, c->of, values, slips_at, &answer));
	RN_TRY(keep_shape(c, answer));
	*row = (rn_caught_row){.outcome = answer->outcome, .anchor = RN_NONE, .closest = RN_NONE};
	if (answer->outcome != RN_OUTCOME_SETTLED)
		return RN_OK;
	row->peak = answer->caught.peak;
	row->travel = answer->caught.travel;
	row->clear = answer->caught.clear;
	row->run_out = answer->caught.run_out;
	row->ground = answer->caught.path_count > 0 && rn_fall_ground(c->model, values, &answer->caught, &below) != RN_NONE;
	row->breaks = rn_fall_breaks(answer) != RN_NONE;
	find_anchor(c->model, answer, row);
	find_closest(answer, row);
	find_hand(answer, rn_fall_hold(c->model, c->of->fall), row);
	return RN_OK;
}

/* Each figure as bad as either has it: stiff rope pulls harder, stretchy rope needs more air. */
static void take_worse(rn_caught_row *row, const rn_caught_row *other)
{
	if (row->outcome != RN_OUTCOME_SETTLED)
		return;
	if (other->outcome != RN_OUTCOME_SETTLED) {
		*row = *other;
		return;
	}
	row->peak = fmax(row->peak, other->peak);
	row->travel = fmax(row->travel, other->travel);
	row->clear = fmax(row->clear, other->clear);
	row->run_out = fmax(row->run_out, other->run_out);
	row->slips_at = fmax(row->slips_at, other->slips_at);
	row->hand_least = fmax(row->hand_least, other->hand_least);
	row->hand_most = fmax(row->hand_most, other->hand_most);
	row->unchecked = row->unchecked || other->unchecked;
	row->ground = row->ground || other->ground;
	row->breaks = row->breaks || other->breaks;
	if (other->anchor_pull > row->anchor_pull) {
		row->anchor = other->anchor;
		row->anchor_pull = other->anchor_pull;
	}
	if (other->utilisation > row->utilisation) {
		row->closest = other->closest;
		row->utilisation = other->utilisation;
	}
}

/* All that is guessed at its stretchy end, then at its stiff one, a rope that was made stretchier in its measure. */
static void turn_values(const rn_catcher *c, int turn)
{
	const rn_model *m = c->model;
	memcpy(c->turned, c->values, (size_t)m->number_count * sizeof *c->turned);
	rn_guess_turn(m, c->turned, turn);
	for (int i = 0; i < m->number_count; i++)
		if (c->turned[i] != c->values[i])
			c->turned[i] *= c->values[i] / m->numbers[i].value;
}

rn_status rn_catcher_try(rn_catcher *c, double slips_at, rn_caught_row *row)
{
	RN_TRY(try_with(c, c->values, slips_at, row));
	memcpy(c->turned, c->values, (size_t)c->model->number_count * sizeof *c->turned);
	if (!rn_guess_turn(c->model, c->turned, 0))
		return RN_OK;
	for (int turn = 0; turn < 2; turn++) {
		rn_caught_row other;
		turn_values(c, turn);
		RN_TRY(try_with(c, c->turned, slips_at, &other));
		take_worse(row, &other);
	}
	return RN_OK;
}
