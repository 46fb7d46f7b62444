/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One or two numbers varied. Every choice is a model of its own, told with these numbers, checked and solved from its
 * drawing: no answer depends on the one before, and sides, weights of wood, guesses and rules follow the numbers as
 * they would in a file. Between the steps of one number every change is closed in on: first where answers begin or
 * end, then where another part becomes the closest, then where the closest crosses its limit.
 */
#include "solver/study/vary.h"

#include <math.h>
#include <string.h>

#include "solver/base/roots.h"
#include "solver/study/descent.h"

/* Steps that are kept of one number, and in all: a figure shows no more. */
enum { STEPS_MOST = 400, CHOICES_MOST = 4000 };

/* A change of the closest part, or an end of the answers, is closed in on to this part of the range [-]: below what
 * is printed of it. A crossing of a limit, which is a root, to less. */
static const double close_enough = 1e-7, root_enough = 1e-12;

/* Halvings of a step, and steps towards a root; far fewer are needed. */
enum { CLOSING_MOST = 60, ROOT_MOST = 100 };

/* Changes between two steps; more are not told. */
enum { TURNS_MOST = 6 };

/* The least is looked for between the steps to this part of the range [-]. */
static const double least_enough = 1e-7, least_enough_of_two = 1e-5;

const char *rn_stand_text(rn_stand stand)
{
	static const char *const texts[] = {
#define X(name, text) text,
		RN_STAND_LIST(X)
#undef X
	};
	return texts[stand];
}

double rn_vary_value(const rn_varied *varied, int number, double part)
{
	const rn_varied_number *n = &varied->of[number];
	return part >= 1 ? n->to : n->from + part * (n->to - n->from);
}

/* ---- one choice ---------------------------------------------------------------------------- */

static const rn_note nothing_to_say = {.kind = RN_NOTE_COUNT};

/* A note of a model that goes. */
static rn_status keep_why(rn_varying *v, const rn_note *note, rn_tried *tried)
{
	tried->why = *note;
	return rn_arena_copy_text(v->arena, note->word, &tried->why.word);
}

static rn_status keep_first(rn_varying *v, const rn_notes *notes, rn_severity severity, rn_note_kind kind, rn_tried *tried)
{
	for (int i = 0; i < notes->count; i++)
		if (rn_note_severity(notes->items[i].kind) == severity && (kind == RN_NOTE_COUNT || notes->items[i].kind == kind))
			return keep_why(v, &notes->items[i], tried);
	return RN_OK;
}

static rn_stand stand_of_case(const rn_case_result *a)
{
	if (a->outcome == RN_OUTCOME_NO_EQUILIBRIUM)
		return RN_STAND_NO_EQUILIBRIUM;
	if (!rn_case_holds(a))
		return RN_STAND_NOT_FOUND;
	return a->falls ? RN_STAND_FALLS : RN_STAND_FOUND;
}

/* The first case without an answer speaks for all. */
static rn_status find_stand(rn_varying *v, const rn_result *result, rn_tried *tried)
{
	tried->stand = RN_STAND_FOUND;
	for (int c = 0; c < result->case_count && tried->stand == RN_STAND_FOUND; c++) {
		const rn_case_result *a = &result->cases[c];
		tried->stand = stand_of_case(a);
		tried->case_index = a->case_index;
		if (tried->stand == RN_STAND_FALLS)
			RN_TRY(keep_first(v, &a->notes, RN_REMARK, RN_NOTE_FALLS_FIRST, tried));
		else if (tried->stand != RN_STAND_FOUND)
			RN_TRY(keep_first(v, &a->notes, RN_OUTCOME, RN_NOTE_COUNT, tried));
	}
	return RN_OK;
}

static double stress_of(const rn_case_result *a, const rn_part_result *part)
{
	if (part->object.kind != RN_STEM)
		return 0;
	const rn_stem_result *stem = &a->stems[part->object.index];
	return fmax(stem->compression, stem->tension);
}

/* The part asked about where it is closest; where it is nowhere checked, where it is pulled or stressed most. */
static void look_at_own(const rn_varying *v, const rn_result *result, rn_tried *tried)
{
	int p = v->varied->part;
	for (int c = 0; p != RN_NONE && c < result->case_count; c++) {
		const rn_case_result *a = &result->cases[c];
		const rn_part_result *part = &a->parts[p];
		bool checked = part->unchecked == RN_CHECKED;
		double stress = stress_of(a, part);
		bool more = checked ? part->utilisation > tried->own_utilisation
		                    : part->object.kind == RN_STEM ? stress > tried->own_stress : part->demand > tried->own_demand;
		if (tried->own_case != RN_NONE && (checked != tried->own_checked ? !checked : !more))
			continue;
		tried->own_case = a->case_index;
		tried->own_checked = checked;
		tried->own_demand = part->demand;
		tried->own_utilisation = checked ? part->utilisation : 0;
		tried->own_stress = stress;
		tried->own_height = part->object.kind == RN_STEM ? a->stems[part->object.index].height : 0;
	}
}

static void look_at_parts(const rn_varying *v, const rn_result *result, double *shares)
{
	double loaded = 0;
	for (int c = 0; c < result->case_count; c++)
		for (int p = 0; p < v->varied->part_count; p++)
			loaded = fmax(loaded, rn_loaded_least * result->cases[c].parts[p].demand);
	for (int p = 0; p < v->varied->part_count; p++) {
		double most = 0;
		bool unchecked = false;
		for (int c = 0; c < result->case_count; c++) {
			const rn_part_result *part = &result->cases[c].parts[p];
			if (part->unchecked == RN_CHECKED)
				most = fmax(most, part->utilisation);
			else
				unchecked = unchecked || part->demand > loaded;
		}
		shares[p] = unchecked && !(most > 1) ? -1 : most;
	}
}

static void look(const rn_varying *v, const rn_result *result, rn_tried *tried, double *shares)
{
	const rn_verdict *verdict = &result->verdict;
	tried->part = verdict->worst_part;
	tried->unchecked_count = verdict->not_checked_count;
	if (verdict->worst_part != RN_NONE) {
		tried->case_index = result->cases[verdict->worst_case].case_index;
		tried->utilisation = result->cases[verdict->worst_case].parts[verdict->worst_part].utilisation;
	}
	look_at_parts(v, result, shares);
	look_at_own(v, result, tried);
}

static rn_status solve(rn_varying *v, const rn_model *model, rn_tried *tried, double *shares, rn_result **result_out)
{
	rn_result *result;
	RN_TRY(rn_solve(model, v->options, &result));
	v->varied->solved_count++;
	rn_status status = find_stand(v, result, tried);
	if (status == RN_OK && tried->stand == RN_STAND_FOUND)
		look(v, result, tried, shares);
	if (status == RN_OK && result_out)
		*result_out = result;
	else
		rn_result_destroy(result);
	return status;
}

static rn_status tell(const rn_varying *v, const double *value, rn_model **model_out)
{
	rn_setting changes[RN_VARIED_MOST];
	for (int i = 0; i < v->varied->of_count; i++)
		changes[i] = (rn_setting){v->varied->of[i].number, value[i]};
	return rn_model_altered(v->model, changes, v->varied->of_count, v->options->only_case, model_out);
}

rn_status rn_vary_try(rn_varying *v, const double *value, rn_tried *tried_out, double *shares, rn_model **model_out,
                      rn_result **result_out)
{
	rn_tried tried = {.stand = RN_STAND_CANNOT_BE, .why = nothing_to_say, .case_index = RN_NONE, .part = RN_NONE,
	                  .own_case = RN_NONE};
	rn_model *model;
	for (int i = 0; i < v->varied->of_count; i++)
		tried.value[i] = value[i];
	for (int p = 0; p < v->varied->part_count; p++)
		shares[p] = -1;
	RN_TRY(tell(v, value, &model));
	rn_status status = rn_model_check(model);
	bool can_be = status == RN_OK;
	if (can_be)
		status = solve(v, model, &tried, shares, result_out);
	else if (status == RN_STATUS_INPUT)
		status = keep_first(v, &model->findings, RN_ERROR, RN_NOTE_COUNT, &tried);
	if (status == RN_OK && can_be && model_out)
		*model_out = model;
	else
		rn_model_destroy(model);
	*tried_out = tried;
	return status;
}

/* ---- between two steps of one number ------------------------------------------------------------ */

/* In what two choices can differ, the first difference first. */
typedef enum unlike { ALIKE, BY_STAND, BY_PART, BY_LIMIT } unlike;

static bool is_found(const rn_tried *t)
{
	return t->stand == RN_STAND_FOUND;
}

static bool is_over(const rn_tried *t)
{
	return is_found(t) && t->part != RN_NONE && t->utilisation > 1;
}

static unlike compare(const rn_tried *a, const rn_tried *b)
{
	if (is_found(a) != is_found(b))
		return BY_STAND;
	if (!is_found(a))
		return ALIKE;
	if (a->part != b->part)
		return BY_PART;
	return is_over(a) != is_over(b) ? BY_LIMIT : ALIKE;
}

static rn_status try_one(rn_varying *v, double value, rn_tried *out)
{
	return rn_vary_try(v, &value, out, v->spare, NULL, NULL);
}

/* Halves until both sides of a change are as near as can be told. */
static rn_status halve(rn_varying *v, unlike by, rn_tried *low, rn_tried *high)
{
	double enough = close_enough * (v->varied->of[0].to - v->varied->of[0].from);
	for (int i = 0; i < CLOSING_MOST && high->value[0] - low->value[0] > enough; i++) {
		rn_tried middle;
		RN_TRY(try_one(v, (low->value[0] + high->value[0]) / 2, &middle));
		bool changed = by == BY_STAND ? is_found(&middle) != is_found(low)
		                              : !is_found(&middle) || middle.part != low->part;
		*(changed ? high : low) = middle;
	}
	return RN_OK;
}

static double past_limit(const rn_tried *t)
{
	return t->utilisation - 1;
}

/* The limit is crossed at a root of the utilisation less 1: regula falsi, halved now and then for where it jumps. */
static rn_status close_in(rn_varying *v, rn_tried *low, rn_tried *high)
{
	double enough = root_enough * (v->varied->of[0].to - v->varied->of[0].from);
	rn_bracket b = {low->value[0], high->value[0], past_limit(low), past_limit(high), 0};
	for (int i = 0; i < ROOT_MOST && b.high - b.low > enough; i++) {
		rn_tried middle;
		double at = i % 8 == 7 ? (b.low + b.high) / 2 : rn_bracket_next(&b);
		if (!(at > b.low && at < b.high))
			return RN_OK;
		RN_TRY(try_one(v, at, &middle));
		if (!is_found(&middle) || middle.part == RN_NONE)
			return RN_OK; /* an island without an answer inside a step: told as near as it is known */
		bool below = is_over(&middle) == is_over(low);
		rn_bracket_tell(&b, at, past_limit(&middle));
		*(below ? low : high) = middle;
	}
	return RN_OK;
}

static rn_turn_kind kind_of(unlike by, const rn_tried *above)
{
	switch (by) {
	case BY_STAND: return is_found(above) ? RN_TURN_FOUND : RN_TURN_LOST;
	case BY_PART: return RN_TURN_GOVERNS;
	default: return is_over(above) ? RN_TURN_OVER : RN_TURN_UNDER;
	}
}

static void add_turn(rn_varying *v, unlike by, const rn_tried *below, const rn_tried *above)
{
	double value = (below->value[0] + above->value[0]) / 2;
	if (by == BY_LIMIT) /* the nearer to the limit of the two */
		value = fabs(past_limit(below)) < fabs(past_limit(above)) ? below->value[0] : above->value[0];
	v->varied->turns[v->varied->turn_count++] = (rn_turn){kind_of(by, above), *below, *above, value};
}

/* All changes between two choices, in order. `left`: how many more may be told. */
static rn_status look_between(rn_varying *v, const rn_tried *low, const rn_tried *high, int left)
{
	unlike by = compare(low, high);
	rn_tried below = *low, above = *high;
	if (by == ALIKE || left == 0)
		return RN_OK;
	if (by == BY_LIMIT) {
		RN_TRY(close_in(v, &below, &above));
		add_turn(v, by, &below, &above);
		return RN_OK;
	}
	RN_TRY(halve(v, by, &below, &above));
	int count = v->varied->turn_count;
	RN_TRY(look_between(v, low, &below, left / 2));
	left -= v->varied->turn_count - count;
	add_turn(v, compare(&below, &above), &below, &above);
	/* one part takes over from another where both are at their limit */
	if (compare(&below, &above) != BY_STAND && is_over(&below) != is_over(&above))
		add_turn(v, BY_LIMIT, &below, &above);
	return look_between(v, &above, high, left - 1);
}

static rn_status find_turns(rn_varying *v)
{
	rn_varied *found = v->varied;
	RN_TAKE(v->arena, found->turns, 2 * TURNS_MOST * found->counts[0] + 1);
	for (int i = 0; found->of_count == 1 && i + 1 < found->counts[0]; i++)
		RN_TRY(look_between(v, &found->tried[i], &found->tried[i + 1], TURNS_MOST));
	RN_TAKE(v->arena, found->turn_shares, 2 * (size_t)found->turn_count * (size_t)found->part_count + 1);
	for (int i = 0; i < 2 * found->turn_count; i++) {
		rn_turn *turn = &found->turns[i / 2];
		rn_tried *side = i % 2 ? &turn->above : &turn->below;
		RN_TRY(rn_vary_try(v, side->value, side, found->turn_shares + (size_t)i * (size_t)found->part_count, NULL, NULL));
	}
	return RN_OK;
}

/* ---- the least ----------------------------------------------------------------------------- */

static bool has_share(const rn_tried *t)
{
	return is_found(t) && t->part != RN_NONE;
}

/* By more than rounding [-]: of choices that come to the same the first counts. */
static const double rounding = 1e-9;

/* What leaves fewer parts unchecked goes first: little is no gain where the rest is not looked at. */
static bool is_less(const rn_tried *a, const rn_tried *b)
{
	if (a->unchecked_count != b->unchecked_count)
		return a->unchecked_count < b->unchecked_count;
	return a->utilisation < b->utilisation * (1 - rounding);
}

static rn_status worst_at(void *context, const double *at, double *value_out)
{
	rn_varying *v = context;
	rn_tried tried;
	double value[RN_VARIED_MOST] = {0};
	for (int i = 0; i < v->varied->of_count; i++)
		value[i] = rn_vary_value(v->varied, i, at[i]);
	RN_TRY(rn_vary_try(v, value, &tried, v->spare, NULL, NULL));
	bool counts = has_share(&tried) && tried.unchecked_count <= v->varied->least.unchecked_count;
	*value_out = counts ? tried.utilisation : (double)INFINITY;
	if (counts && is_less(&tried, &v->varied->least))
		v->varied->least = tried;
	return RN_OK;
}

/* From the best step down to what is between the steps. */
static rn_status find_least(rn_varying *v)
{
	rn_varied *found = v->varied;
	int best = RN_NONE, count = found->counts[0] * found->counts[1];
	for (int i = 0; i < count; i++)
		if (has_share(&found->tried[i]) && (best == RN_NONE || is_less(&found->tried[i], &found->tried[best])))
			best = i;
	if (best == RN_NONE)
		return RN_OK;
	found->has_least = true;
	found->least = found->tried[best];
	rn_descent down = {.size = found->of_count, .step = 0.5, .close = found->of_count == 1 ? least_enough : least_enough_of_two,
	                   .value = found->least.utilisation, .of = worst_at, .context = v};
	for (int k = 0, i = best; k < found->of_count; i /= found->counts[k], k++) {
		down.at[k] = (double)(i % found->counts[k]) / (found->counts[k] - 1);
		down.step = fmin(down.step, 1.0 / (found->counts[k] - 1));
	}
	return rn_descend(&down);
}

/* ---- the whole ----------------------------------------------------------------------------- */

/* As the model has it, or the one case that is asked about. */
static double drawn_value(const rn_varying *v, int number)
{
	const rn_model *m = v->model;
	for (int c = 0; c < m->case_count && v->options->only_case; c++)
		for (int k = 0; strcmp(m->cases[c].id, v->options->only_case) == 0 && k < m->cases[c].setting_count; k++)
			if (m->settings[m->cases[c].first_setting + k].number == number)
				return m->settings[m->cases[c].first_setting + k].value;
	return m->numbers[number].value;
}

/* The parts are those of the shape alone, so that the first answer has all. */
static rn_status begin_as_drawn(rn_varying *v)
{
	rn_varied *found = v->varied;
	double value[RN_VARIED_MOST] = {0};
	const rn_tried none = {.part = RN_NONE, .case_index = RN_NONE, .own_case = RN_NONE, .why = nothing_to_say};
	for (int i = 0; i < found->of_count; i++)
		value[i] = drawn_value(v, found->of[i].number);
	found->drawn = none;
	RN_TRY(tell(v, value, &found->model));
	RN_TRY(rn_model_check(found->model));
	RN_TRY(rn_solve(found->model, v->options, &found->result));
	found->solved_count++;
	found->part_count = found->result->case_count > 0 ? found->result->cases[0].part_count : 0;
	found->part = RN_NONE;
	for (int p = 0; p < found->part_count && v->part.index != RN_NONE; p++) {
		rn_object object = found->result->cases[0].parts[p].object;
		if (found->part == RN_NONE && object.kind == v->part.kind && object.index == v->part.index)
			found->part = p;
	}
	if (v->part.index != RN_NONE && found->part == RN_NONE)
		return RN_STATUS_ARGUMENT;
	RN_TAKE(v->arena, v->spare, found->part_count + 1);
	RN_TAKE(v->arena, found->drawn_shares, found->part_count + 1);
	for (int p = 0; p < found->part_count; p++)
		found->drawn_shares[p] = -1;
	for (int i = 0; i < found->of_count; i++)
		found->drawn.value[i] = value[i];
	RN_TRY(find_stand(v, found->result, &found->drawn));
	if (is_found(&found->drawn))
		look(v, found->result, &found->drawn, found->drawn_shares);
	return RN_OK;
}

static rn_status try_all(rn_varying *v)
{
	rn_varied *found = v->varied;
	int count = found->counts[0] * found->counts[1];
	RN_TAKE(v->arena, found->tried, count);
	RN_TAKE(v->arena, found->shares, (size_t)count * (size_t)found->part_count + 1);
	for (int i = 0; i < count; i++) {
		const int at[RN_VARIED_MOST] = {i % found->counts[0], i / found->counts[0]};
		double value[RN_VARIED_MOST] = {0};
		for (int k = 0; k < RN_VARIED_MOST && k < found->of_count; k++)
			value[k] = rn_vary_value(found, k, (double)at[k] / (found->counts[k] - 1));
		RN_TRY(rn_vary_try(v, value, &found->tried[i], found->shares + (size_t)i * (size_t)found->part_count, NULL, NULL));
	}
	return RN_OK;
}

static bool has_case(const rn_model *model, const char *id)
{
	for (int c = 0; id && c < model->case_count; c++)
		if (strcmp(model->cases[c].id, id) == 0)
			return true;
	return !id;
}

static bool fits(const rn_model *model, const char *only_case, const rn_varied_number *of, int of_count, const int *steps)
{
	bool good = of_count >= 1 && of_count <= RN_VARIED_MOST && model->case_count > 0 && has_case(model, only_case);
	double choices = 1;
	for (int i = 0; good && i < of_count; i++) {
		good = of[i].number >= 0 && of[i].number < model->number_count && of[i].from < of[i].to &&
		       isfinite(of[i].to - of[i].from) && steps[i] >= 1 && steps[i] <= STEPS_MOST;
		choices *= good ? steps[i] + 1 : 1;
	}
	return good && choices <= CHOICES_MOST && (of_count == 1 || of[0].number != of[1].number);
}

rn_status rn_vary_begin(rn_varying *v, const rn_varied_number *of, int of_count, const int *steps)
{
	rn_varied *found = v->varied;
	if (!fits(v->model, v->options->only_case, of, of_count, steps))
		return RN_STATUS_ARGUMENT;
	found->of_count = of_count;
	found->part = RN_NONE;
	for (int i = 0; i < RN_VARIED_MOST; i++) {
		found->counts[i] = i < of_count ? steps[i] + 1 : 1;
		if (i < of_count)
			found->of[i] = of[i];
	}
	RN_TRY(begin_as_drawn(v));
	RN_TRY(try_all(v));
	return find_turns(v);
}

static rn_status find(rn_varying *v, const rn_varied_number *of, int of_count, const int *steps)
{
	RN_TRY(rn_vary_begin(v, of, of_count, steps));
	return find_least(v);
}

rn_status rn_vary_find(const rn_model *model, const rn_options *options, const rn_varied_number *of, int of_count,
                       const int *steps, rn_object part, rn_varied *varied_out)
{
	rn_result_memory *memory;
	rn_options of_each = *options;
	of_each.side_check = false; /* adds a word to an answer, and nothing else */
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_varied found = {.memory = memory};
	rn_varying v = {.model = model, .options = &of_each, .arena = &memory->arena, .varied = &found, .part = part};
	rn_status status = find(&v, of, of_count, steps);
	if (status == RN_OK)
		*varied_out = found;
	else
		rn_vary_release(&found);
	return status;
}

void rn_vary_release(rn_varied *varied)
{
	rn_result_destroy(varied->result);
	rn_model_destroy(varied->model);
	varied->result = NULL;
	varied->model = NULL;
	rn_result_memory_release(&varied->memory);
}
