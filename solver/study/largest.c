/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The largest piece: up from a light one in small steps, for a utilisation need not grow with the piece
 * (a redirect can swing out of the way of one part into that of another), then back into the step in which
 * a part first came over. Every case is looked at as guessed and at each end of what is guessed of stiffness:
 * nobody knows which of them is true, so the least counts.
 */
#include <math.h>

#include "solver/base/arena.h"
#include "solver/study/fall.h"

/* The walk: from a handful to far more than any rope holds [N]; a step of 2 % is finer than anybody weighs
 * a log. */
static const double lightest = 10, heaviest = 1e6, step = 1.02;

/* A crossing is closed in on to this part of the weight [-]: below the last figure printed. */
static const double close_enough = 1e-6;

/* An answer is not held against its limits closer than this [-]: above what settling leaves. */
static const double held_off = 1e-7;

/* A share that the guessed stiffness puts this far below the limit shows in what is printed [-]. */
static const double guess_shows = 0.005;

/* Halvings of one step; far fewer are needed. */
enum { CLOSING_MOST = 60 };

/* The turn in which stiffness is as guessed. */
enum { AS_GUESSED = -1 };

/* What the weight walks up to: a part over its limit in one case and turn, or RN_NONE: no answer in it. */
typedef struct crossing {
	int case_index, turn, part;
	bool breaking;
} crossing;

/* The least weight at which a part comes over in the step at hand, 0 when it does not. */
typedef struct least {
	crossing what;
	int node;
	bool found;
	double weight;
} least;

/* The path a piece falls along in one case and turn: drawn once, asked about for every weight. */
typedef struct path {
	rn_catch caught;
	double *values;
	bool drawn;
} path;

typedef struct walker {
	const rn_model *model;
	rn_arena *arena;
	path *paths; /* one per case and turn */
	rn_workspace *workspace;
	double *values;
	int number;        /* the weight of the piece */
	int part_count, turn_count;
	least *leasts;     /* two per part: at its limit, and where it would break */
	bool *over;        /* likewise: it has been, in an earlier step */
	bool *over_now;    /* likewise: in the answer at hand */
	int *nodes;        /* per part: where it is worst in the answer at hand */
	double before, now; /* the step: every case had an answer at `before` */
	rn_largest *found;
} walker;

/* How near a part is to its limit, or to failing as tested. */
static double share_of(const rn_part_result *part, bool breaking)
{
	if (breaking)
		return part->breaking > 0 ? part->demand / part->breaking : 0;
	return part->unchecked == RN_CHECKED ? part->utilisation : 0;
}

static bool is_over(const rn_case_result *answer, int part, bool breaking)
{
	return share_of(&answer->parts[part], breaking) > 1 - held_off;
}

static void load_values(const walker *w, int c, int turn, double weight, double *values)
{
	rn_case_values(w->model, &w->model->cases[c], values);
	values[w->number] *= weight / w->found->drawn;
	if (turn != AS_GUESSED)
		(void)rn_guess_turn(w->model, values, turn);
}

/* Draws the path of a fall with the piece of a weight, and asks for it. Light pieces on heavy rings let rope run
 * back: their peaks come out too high, and the largest piece too small, which is no reason to end there. */
static rn_status draw_path(walker *w, path *p, int c, int turn, double weight, const rn_case_result **out)
{
	if (!p->values)
		RN_TAKE(w->arena, p->values, w->model->number_count + 1);
	load_values(w, c, turn, weight, p->values);
	RN_TRY(rn_catch_begin(w->arena, w->workspace, w->model, &w->model->cases[c], p->values, 0, &p->caught, out));
	p->caught.lenient = true;
	p->drawn = p->caught.hangs && !p->caught.stays && !p->caught.failed;
	return p->caught.hangs ? rn_catch_peak(&p->caught, out) : RN_OK;
}

/* What does not come of the path of another weight may come of its own. */
static rn_status ask_path(walker *w, path *p, int c, int turn, double weight, const rn_case_result **out)
{
	if (!p->drawn)
		RN_TRY(draw_path(w, p, c, turn, w->found->drawn, out));
	if (p->drawn) {
		load_values(w, c, turn, weight, p->values);
		RN_TRY(rn_catch_peak(&p->caught, out));
		if ((*out)->outcome == RN_OUTCOME_SETTLED)
			return RN_OK;
	}
	rn_catch_end(&p->caught);
	RN_TRY(draw_path(w, p, c, turn, weight, out));
	p->drawn = false;
	return RN_OK;
}

static rn_status settle_fall(walker *w, int c, int turn, double weight, const rn_case_result **out)
{
	path *p = &w->paths[c * (w->turn_count + 1) + turn + 1];
	rn_status status = ask_path(w, p, c, turn, weight, out);
	rn_catch_end(&p->caught);
	return status;
}

static rn_status settle(walker *w, int c, int turn, double weight, const rn_case_result **out)
{
	const rn_case *the_case = &w->model->cases[c];
	load_values(w, c, turn, weight, w->values);
	if (the_case->fall != RN_NONE)
		return settle_fall(w, c, turn, weight, out);
	RN_TRY(rn_workspace_settle(w->workspace, the_case, w->values, true, out));
	/* what a warm start does not find may be found from the drawing */
	if ((*out)->outcome == RN_OUTCOME_NOT_FOUND)
		return rn_workspace_settle(w->workspace, the_case, w->values, false, out);
	return RN_OK;
}

/* ---- closing in on one crossing -------------------------------------------------------------- */

static rn_status look_past(walker *w, const crossing *what, double weight, bool *past_out)
{
	const rn_case_result *answer;
	RN_TRY(settle(w, what->case_index, what->turn, weight, &answer));
	*past_out = !rn_case_stays(answer) || (what->part != RN_NONE && is_over(answer, what->part, what->breaking));
	return RN_OK;
}

/* Where in the step it comes, given that it is past at `high`; the side on which it is not. */
static rn_status close_in(walker *w, const crossing *what, double high, double *out)
{
	double low = w->before;
	bool past;
	for (int i = 0; i < CLOSING_MOST && low > 0 && high > low * (1 + close_enough); i++) {
		double middle = sqrt(low * high);
		RN_TRY(look_past(w, what, middle, &past));
		*(past ? &high : &low) = middle;
	}
	*out = low;
	return RN_OK;
}

/* Closes in on a part that is over with `high`, unless another case or turn comes first. */
static rn_status close_in_on_part(walker *w, const crossing *what, int node, double high)
{
	least *so_far = &w->leasts[2 * what->part + what->breaking];
	bool past = true;
	double weight;
	if (so_far->found && so_far->weight <= w->before)
		return RN_OK;
	if (so_far->found && so_far->weight < high) {
		high = so_far->weight;
		RN_TRY(look_past(w, what, high, &past));
	}
	if (!past)
		return RN_OK;
	RN_TRY(close_in(w, what, high, &weight));
	*so_far = (least){*what, node, true, weight};
	return RN_OK;
}

/* ---- one step ------------------------------------------------------------------------------ */

/* What is over in the answer at hand, before closing in settles others. */
static void see_parts(walker *w, const rn_case_result *answer)
{
	for (int i = 0; i < 2 * w->part_count; i++) {
		w->over_now[i] = is_over(answer, i / 2, i % 2);
		w->nodes[i / 2] = answer->parts[i / 2].at;
	}
}

static rn_status close_in_on_parts(walker *w, int c, int turn, double high)
{
	for (int i = 0; i < 2 * w->part_count; i++)
		if (w->over_now[i] && !w->over[i])
			RN_TRY(close_in_on_part(w, &(crossing){c, turn, i / 2, i % 2}, w->nodes[i / 2], high));
	return RN_OK;
}

static void end_at(walker *w, rn_halt end)
{
	rn_largest *found = w->found;
	if (!found->ended || end.weight < found->end.weight)
		found->end = end;
	found->ended = true;
}

/* One case and turn. Where it ceases to have an answer the walk ends; parts may be over short of that. */
static rn_status look_at(walker *w, int c, int turn)
{
	const rn_case_result *answer;
	double high = w->now;
	RN_TRY(settle(w, c, turn, high, &answer));
	if (!rn_case_stays(answer)) {
		bool falls = answer->outcome == RN_OUTCOME_SETTLED && answer->falls;
		RN_TRY(close_in(w, &(crossing){c, turn, RN_NONE, false}, high, &high));
		end_at(w, (rn_halt){.kind = falls ? RN_HALT_FALLS : RN_HALT_OUTCOME, .part = RN_NONE, .case_index = c,
		                    .node = RN_NONE, .guess_end = turn != AS_GUESSED, .weight = high});
		if (high <= 0)
			return RN_OK;
		RN_TRY(settle(w, c, turn, high, &answer));
	}
	if (rn_case_stays(answer)) {
		see_parts(w, answer);
		return close_in_on_parts(w, c, turn, high);
	}
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

/* Everything the step came to, in order of weight. */
static void keep_stops(walker *w)
{
	rn_largest *found = w->found;
	for (int i = 0; i < 2 * w->part_count; i++) {
		const least *l = &w->leasts[i];
		rn_halt stop = {RN_HALT_PART, i / 2, l->what.case_index, l->node, l->what.turn != AS_GUESSED, l->weight};
		if (l->found && i % 2)
			insert(found->breaking, &found->breaking_count, stop);
		else if (l->found)
			insert(found->working, &found->working_count, stop);
		w->over[i] = w->over[i] || l->found;
		w->leasts[i].found = false;
	}
	if (found->ended)
		insert(found->working, &found->working_count, found->end);
}

static rn_status take_step(walker *w)
{
	for (int c = 0; c < w->model->case_count; c++)
		for (int turn = AS_GUESSED; turn < w->turn_count; turn++)
			RN_TRY(look_at(w, c, turn));
	keep_stops(w);
	w->found->looked_to = w->found->ended ? w->found->end.weight : w->now;
	return RN_OK;
}

/* ---- the walk ------------------------------------------------------------------------------ */

static bool is_done(const rn_largest *found)
{
	return found->ended || (found->working_count == RN_HALTS_MOST && found->breaking_count == RN_HALTS_MOST);
}

static rn_status walk(walker *w)
{
	for (w->now = lightest; w->now < heaviest && !is_done(w->found); w->now *= step) {
		RN_TRY(take_step(w));
		w->before = w->now;
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
	w->arena = arena;
	RN_TAKE(arena, w->values, w->model->number_count + 1);
	RN_TRY(rn_workspace_create(w->model, options, &w->workspace));
	while (options->stretch_check && rn_guess_turn(w->model, w->values, w->turn_count))
		w->turn_count++;
	RN_TAKE(arena, w->paths, w->model->case_count * (w->turn_count + 1) + 1);
	RN_TRY(settle(w, 0, AS_GUESSED, lightest, &answer));
	w->part_count = answer->part_count;
	RN_TAKE(arena, w->leasts, 2 * w->part_count + 1);
	RN_TAKE(arena, w->over, 2 * w->part_count + 1);
	RN_TAKE(arena, w->over_now, 2 * w->part_count + 1);
	RN_TAKE(arena, w->nodes, w->part_count + 1);
	return RN_OK;
}

/* Whether the first stop would come later, as far as is printed, with the stiffness as guessed. */
static bool guess_matters(const rn_largest *found)
{
	const rn_halt *stop = &found->working[0];
	if (found->working_count == 0 || !stop->guess_end)
		return false;
	return stop->kind != RN_HALT_PART ||
	       share_of(&found->at->cases[stop->case_index].parts[stop->part], false) < 1 - guess_shows;
}

/* The walk goes from answer to answer; from the drawing another one may be found. A case that follows another
 * starts from that one. */
static bool is_over_from_drawing(const walker *w)
{
	for (int c = 0; c < w->found->at->case_count; c++)
		for (int p = 0; p < w->part_count && w->model->cases[c].follows == RN_NONE; p++)
			if (share_of(&w->found->at->cases[c].parts[p], false) > 1)
				return true;
	return false;
}

/* The ends of the guess have been looked at: stretch leaves nothing unchecked. */
static rn_status solve_at(const walker *w, const rn_options *options, double weight)
{
	rn_options as_guessed = *options;
	as_guessed.stretch_check = false;
	return rn_solve_scaled(w->model, &as_guessed, w->number, weight / w->found->drawn, &w->found->at);
}

static rn_status find(walker *w, rn_arena *arena, const rn_options *options)
{
	rn_largest *found = w->found;
	if (w->model->drawn_under_load)
		return solve_at(w, options, found->drawn);
	RN_TRY(begin(w, arena, options));
	RN_TRY(walk(w));
	found->weight = found->working_count > 0 ? found->working[0].weight : found->looked_to;
	RN_TRY(solve_at(w, options, found->weight > 0 ? found->weight : lightest));
	found->nothing_checked = !any_checked(found->at);
	found->guess_matters = guess_matters(found);
	found->several = found->weight > 0 && is_over_from_drawing(w);
	return RN_OK;
}

rn_status rn_largest_find(const rn_model *model, const rn_options *options, rn_object piece, rn_largest *out)
{
	int number = rn_model_find_number(model, piece, RN_ATTRIBUTE_WEIGHT);
	if (number == RN_NONE || !(model->numbers[number].value > 0) || model->case_count == 0)
		return RN_STATUS_ARGUMENT;
	rn_largest found = {.piece = piece, .drawn = model->numbers[number].value, .looked_from = lightest,
	                    .under_load = model->drawn_under_load};
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
