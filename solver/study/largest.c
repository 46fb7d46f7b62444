/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The largest piece: up from a light one in small steps, for a utilisation need not grow with the piece
 * (a redirect can swing out of the way of one part into that of another), then back into the step in which
 * a part first came over.
 */
#include <math.h>

#include "solver/base/arena.h"
#include "solver/study/workspace.h"

/* The walk: from a handful to far more than any rope holds [N]; a step of 2 % is finer than anybody weighs
 * a log. */
static const double lightest = 10, heaviest = 1e6, step = 1.02;

/* A crossing is closed in on to this part of the weight [-]: below the last figure printed. */
static const double close_enough = 1e-6;

/* A walk ends when so many parts have come to their limit and would have failed. */
enum { CLOSING_MOST = 60 };

typedef struct walker {
	const rn_model *model;
	rn_workspace *workspace;
	double *values;
	int number;       /* the weight of the piece */
	bool *over;       /* per part: it has been over its limit; then: it would have failed */
	int part_count;
	rn_largest *found;
} walker;

/* How near a part is to its limit, or to failing as tested. */
static double share_of(const rn_part_result *part, bool breaking)
{
	if (breaking)
		return part->breaking > 0 ? part->demand / part->breaking : 0;
	return part->unchecked == RN_CHECKED ? part->utilisation : 0;
}

static rn_status settle(walker *w, int c, double weight, const rn_case_result **out)
{
	const rn_case *the_case = &w->model->cases[c];
	rn_case_values(w->model, the_case, w->values);
	w->values[w->number] *= weight / w->found->drawn;
	RN_TRY(rn_workspace_settle(w->workspace, the_case, w->values, true, out));
	/* what a warm start does not find may be found from the drawing */
	if ((*out)->outcome == RN_OUTCOME_NOT_FOUND)
		return rn_workspace_settle(w->workspace, the_case, w->values, false, out);
	return RN_OK;
}

static bool has_answer(const rn_case_result *answer)
{
	bool settled = answer->outcome == RN_OUTCOME_SETTLED || answer->outcome == RN_OUTCOME_KEPT;
	return settled && answer->balance.closed;
}

/* ---- closing in on one crossing -------------------------------------------------------------- */

/* The weight between `low`, where the part is not over, and `high`, where it is, at which it comes to its
 * limit; the side that is not over. */
static rn_status close_in(walker *w, int c, int part, bool breaking, double low, double high, double *out)
{
	const rn_case_result *answer;
	for (int i = 0; i < CLOSING_MOST && high > low * (1 + close_enough); i++) {
		double middle = sqrt(low * high);
		RN_TRY(settle(w, c, middle, &answer));
		bool over = !has_answer(answer) || share_of(&answer->parts[part], breaking) > 1;
		*(over ? &high : &low) = middle;
	}
	*out = low;
	return RN_OK;
}

/* Keeps a list in order of weight, the lightest first. */
static void insert(rn_halt *stops, int *count, rn_halt stop)
{
	int i = *count < RN_HALTS_MOST ? (*count)++ : RN_HALTS_MOST;
	for (; i > 0 && stops[i - 1].weight > stop.weight; i--)
		if (i < RN_HALTS_MOST)
			stops[i] = stops[i - 1];
	if (i < RN_HALTS_MOST)
		stops[i] = stop;
}

static void stop_at(walker *w, bool breaking, rn_halt stop)
{
	rn_largest *found = w->found;
	insert(breaking ? found->breaking : found->working, breaking ? &found->breaking_count : &found->working_count,
	       stop);
}

/* The case of this step in which a part is furthest over, RN_NONE when it is in none. */
typedef struct crossing {
	int case_index, node;
	double share;
} crossing;

static void see_parts(const walker *w, const rn_case_result *answer, int c, bool breaking, crossing *crossings)
{
	for (int p = 0; p < w->part_count; p++) {
		double share = share_of(&answer->parts[p], breaking);
		if (share > 1 && share > crossings[p].share)
			crossings[p] = (crossing){c, answer->parts[p].at, share};
	}
}

static rn_status add_crossings(walker *w, bool breaking, crossing *crossings, double before, double weight)
{
	for (int p = 0; p < w->part_count; p++) {
		bool *was_over = &w->over[2 * p + breaking];
		if (crossings[p].share <= 1 || *was_over)
			continue;
		*was_over = true;
		rn_halt stop = {RN_HALT_PART, p, crossings[p].case_index, crossings[p].node, 0};
		if (before > 0)
			RN_TRY(close_in(w, stop.case_index, p, breaking, before, weight, &stop.weight));
		stop_at(w, breaking, stop);
	}
	return RN_OK;
}

/* ---- the walk ------------------------------------------------------------------------------ */

static bool is_done(const rn_largest *found)
{
	return found->working_count == RN_HALTS_MOST && found->breaking_count == RN_HALTS_MOST;
}

static void clear(crossing *crossings, int count)
{
	for (int i = 0; i < count; i++)
		crossings[i] = (crossing){RN_NONE, RN_NONE, 0};
}

/* Between `before`, where every case held, and `weight`, where this one does not: where it stops holding. */
static rn_status stop_of_case(walker *w, int c, rn_halt_kind kind, double before, double weight)
{
	const rn_case_result *answer;
	double low = before, high = weight;
	for (int i = 0; i < CLOSING_MOST && low > 0 && high > low * (1 + close_enough); i++) {
		double middle = sqrt(low * high);
		RN_TRY(settle(w, c, middle, &answer));
		*(has_answer(answer) && !answer->falls ? &low : &high) = middle;
	}
	stop_at(w, false, (rn_halt){kind, RN_NONE, c, RN_NONE, low});
	return RN_OK;
}

/* One weight over all cases. *ends_out: there is no answer any more, the walk ends here. */
static rn_status take_step(walker *w, crossing *crossings, double before, double weight, bool *ends_out)
{
	const rn_case_result *answer;
	clear(crossings, 2 * w->part_count);
	for (int c = 0; c < w->model->case_count && !*ends_out; c++) {
		RN_TRY(settle(w, c, weight, &answer));
		if (!has_answer(answer) || answer->falls) {
			*ends_out = true;
			RN_TRY(stop_of_case(w, c, has_answer(answer) ? RN_HALT_FALLS : RN_HALT_OUTCOME, before, weight));
			continue;
		}
		see_parts(w, answer, c, false, crossings);
		see_parts(w, answer, c, true, crossings + w->part_count);
	}
	RN_TRY(add_crossings(w, false, crossings, before, weight));
	return add_crossings(w, true, crossings + w->part_count, before, weight);
}

static rn_status walk(walker *w, rn_arena *arena)
{
	crossing *crossings;
	bool ends = false;
	double before = 0;
	RN_TAKE(arena, crossings, 2 * w->part_count + 1);
	for (double weight = lightest; weight < heaviest && !ends && !is_done(w->found); weight *= step) {
		RN_TRY(take_step(w, crossings, before, weight, &ends));
		w->found->looked_to = before = weight;
	}
	return RN_OK;
}

static bool any_checked(const rn_result *result)
{
	for (int c = 0; c < result->case_count; c++)
		for (int p = 0; p < result->cases[c].part_count; p++)
			if (result->cases[c].parts[p].unchecked == RN_CHECKED)
				return true;
	return false;
}

static rn_status begin(walker *w, rn_arena *arena, const rn_options *options)
{
	const rn_case_result *answer;
	RN_TAKE(arena, w->values, w->model->number_count + 1);
	RN_TRY(rn_workspace_create(w->model, options, &w->workspace));
	RN_TRY(settle(w, 0, lightest, &answer));
	w->part_count = answer->part_count;
	RN_TAKE(arena, w->over, 2 * w->part_count + 1);
	return RN_OK;
}

static rn_status find(walker *w, rn_arena *arena, const rn_options *options)
{
	rn_largest *found = w->found;
	RN_TRY(begin(w, arena, options));
	RN_TRY(walk(w, arena));
	found->weight = found->working_count > 0 ? found->working[0].weight : found->looked_to;
	double shown = found->weight > 0 ? found->weight : lightest;
	RN_TRY(rn_solve_scaled(w->model, options, w->number, shown / found->drawn, &found->at));
	found->nothing_checked = !any_checked(found->at);
	return RN_OK;
}

rn_status rn_largest_find(const rn_model *model, const rn_options *options, rn_object piece, rn_largest *out)
{
	int number = rn_model_find_number(model, piece, RN_ATTRIBUTE_WEIGHT);
	if (number == RN_NONE || !(model->numbers[number].value > 0) || model->case_count == 0)
		return RN_STATUS_ARGUMENT;
	rn_largest found = {.piece = piece, .drawn = model->numbers[number].value};
	walker w = {.model = model, .number = number, .found = &found};
	rn_arena arena = rn_arena_make(&options->allocator);
	rn_status status = find(&w, &arena, options);
	rn_workspace_destroy(w.workspace);
	rn_arena_release(&arena);
	if (status == RN_OK)
		*out = found;
	else
		rn_largest_release(&found);
	return status;
}

void rn_largest_release(rn_largest *largest)
{
	rn_result_destroy(largest->at);
	largest->at = NULL;
}
