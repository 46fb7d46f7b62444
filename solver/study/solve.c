/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The whole answer, as a table of contents:
 *
 *   every case:  its numbers -> settle -> certificate, limits, balance, remarks  (workspace.c)
 *                again with softer ropes where their stiffness is a guess
 *                again on the other side of a bend that the drawing leaves open
 *   then:        the verdict over all cases
 */
#include <math.h>
#include <string.h>

#include "solver/base/notes.h"
#include "solver/strength/verdict.h"
#include "solver/study/workspace.h"

rn_options rn_options_default(void)
{
	return (rn_options){
		.allocator = rn_allocator_default(),
		.step_max = 300, /* random nets need up to 60; a limit only for what never ends */
		.stretch_check = true,
		.side_check = true,
	};
}

typedef struct solving {
	const rn_model *model;
	const rn_options *options;
	rn_workspace *workspace;
	rn_arena *arena; /* of the result */
	double *values;
	rn_result *result;
	const rn_unsure *unsure; /* NULL: all is there */
	int scaled;   /* a number that is multiplied by `scale` in every case, RN_NONE */
	double scale;
} solving;

static void load_values(const solving *s, const rn_case *c)
{
	rn_case_values(s->model, c, s->values);
	if (s->scaled != RN_NONE)
		s->values[s->scaled] *= s->scale;
}

/* ---- copying an answer out of the workspace ---------------------------------------------------- */

#define COPY(field, count)                                                                         \
	do {                                                                                       \
		void *array_ = copy->field;                                                        \
		RN_TRY(rn_arena_copy_array(arena, &array_, (count), sizeof *copy->field));                  \
		copy->field = array_;                                                              \
	} while (0)

rn_status rn_case_result_copy(rn_arena *arena, const rn_model *model, const rn_case_result *from,
                              rn_case_result *copy)
{
	*copy = *from;
	COPY(nodes, model->node_count);
	COPY(spans, copy->span_count);
	COPY(passes, copy->pass_count);
	COPY(holds, copy->hold_count);
	COPY(contacts, copy->contact_count);
	COPY(parts, copy->part_count);
	COPY(stems, model->stem_count);
	COPY(hitches, copy->hitch_count);
	COPY(caught.path, copy->caught.path_count);
	copy->notes = (rn_notes){0};
	for (int i = 0; i < from->notes.count; i++)
		RN_TRY(rn_notes_add(arena, &copy->notes, from->notes.items[i]));
	return RN_OK;
}

/* ---- comparing two answers ---------------------------------------------------------------------- */

/* Largest change of a tension, of its own size but at least of a part of the largest one [-]; the
 * span it happens in. */
static double largest_change(const rn_case_result *a, const rn_case_result *b, int *span_out)
{
	double most = 0, largest = 0;
	for (int i = 0; i < a->span_count; i++)
		largest = fmax(largest, a->spans[i].tension);
	for (int i = 0; i < a->span_count; i++) {
		double base = fmax(a->spans[i].tension, 0.05 * largest);
		double change = base > 0 ? fabs(b->spans[i].tension - a->spans[i].tension) / base : 0;
		if (change > most) {
			most = change;
			*span_out = i;
		}
	}
	return most;
}

/* A load that differs by more than this between the ends of the guessed stiffness depends on it [-];
 * where a piece comes to, by more than this. */
static const double stretch_matters = 0.02, travel_matters = 0.05;

static bool is_guess(const rn_number *n)
{
	return n->origin == RN_GUESSED && n->low != n->high &&
	       (n->attribute == RN_ATTRIBUTE_STIFFNESS || n->attribute == RN_ATTRIBUTE_MODULUS);
}

/* With more guesses than some fifty the rest keep their middle. */
enum { TURNS_MOST = 100 };

/* How legs share depends on the ratio of their stiffness, so all guesses going up and down together
 * would show nothing: each in its turn goes to one end while all others go to the other. */
bool rn_guess_turn(const rn_model *model, double *values, int turn)
{
	int guess = 0, chosen = turn / 2 - 1;
	bool high = turn % 2;
	for (int i = 0; i < model->number_count; i++) {
		const rn_number *n = &model->numbers[i];
		if (!is_guess(n))
			continue;
		values[i] = (guess == chosen) != high ? n->high : n->low;
		if (chosen < 0)
			values[i] = high ? n->high : n->low;
		guess++;
	}
	return turn < TURNS_MOST && guess > 0 && chosen < guess && (chosen < 0 || guess > 1);
}

static void widen(double value, double range[2])
{
	range[0] = fmin(range[0], value);
	range[1] = fmax(range[1], value);
}

/* What each part carries and how far each node moves, between the ends of what is guessed: [least,
 * most] pairs. */
typedef struct spread {
	double *demand, *moved;
} spread;

static double moved_by(const rn_node_result *node)
{
	return hypot(node->place[0] - node->drawn[0], node->place[1] - node->drawn[1]);
}

static rn_status begin_spread(solving *s, const rn_case_result *answer, spread *out)
{
	RN_TAKE(s->arena, out->demand, 2 * answer->part_count + 1);
	RN_TAKE(s->arena, out->moved, 2 * s->model->node_count + 1);
	for (int p = 0; p < answer->part_count; p++)
		out->demand[2 * p] = out->demand[2 * p + 1] = answer->parts[p].demand;
	for (int i = 0; i < s->model->node_count; i++)
		out->moved[2 * i] = out->moved[2 * i + 1] = moved_by(&answer->nodes[i]);
	return RN_OK;
}

static void add_to_spread(const solving *s, const rn_case_result *other, const spread *out)
{
	for (int p = 0; p < other->part_count; p++)
		widen(other->parts[p].demand, &out->demand[2 * p]);
	for (int i = 0; i < s->model->node_count; i++)
		widen(moved_by(&other->nodes[i]), &out->moved[2 * i]);
}

static rn_status say_range(solving *s, rn_case_result *answer, rn_note_kind kind, rn_object a,
                           const double range[2])
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	rn_note note = {.kind = kind, .a = a, .b = none, .c = none, .value = {range[0], range[1]}};
	return rn_notes_add(s->arena, &answer->notes, note);
}

static void mark_stretch_unknown(rn_part_result *part)
{
	part->unchecked = RN_STRETCH_UNKNOWN;
	part->limit = part->utilisation = part->breaking = 0;
	part->governed = RN_BY_NOTHING;
	part->factor_count = 0;
}

/* A part that is over with whatever stiffness is over. */
static bool is_over_anyhow(const rn_part_result *part, double least)
{
	return part->unchecked == RN_CHECKED && part->demand > 0 && part->utilisation * least / part->demand > 1;
}

/* Parts whose load rests on a stiffness nobody gave are not checked. */
static rn_status mark_stretched(solving *s, const spread *range, rn_case_result *answer)
{
	double largest = 0;
	for (int i = 0; i < answer->span_count; i++)
		largest = fmax(largest, fabs(answer->spans[i].tension));
	for (int p = 0; p < answer->part_count; p++) {
		rn_part_result *part = &answer->parts[p];
		const double *demand = &range->demand[2 * p];
		if (demand[1] - demand[0] <= stretch_matters * fmax(part->demand, 0.05 * largest))
			continue;
		if (!is_over_anyhow(part, demand[0]))
			mark_stretch_unknown(part);
		if (part->object.kind == RN_LINE || part->object.kind == RN_SLING)
			RN_TRY(say_range(s, answer, RN_NOTE_STRETCH_MATTERS, part->object, demand));
	}
	return RN_OK;
}

static rn_status say_travel(solving *s, const spread *range, rn_case_result *answer)
{
	for (int i = 0; i < s->model->node_count; i++) {
		const double *moved = &range->moved[2 * i];
		bool matters = moved[1] - moved[0] > travel_matters * moved[1] && moved[1] > 0.01;
		if (matters && s->model->nodes[i].kind == RN_NODE_PIECE)
			RN_TRY(say_range(s, answer, RN_NOTE_TRAVEL, rn_object_of(RN_NODE, i), moved));
	}
	return RN_OK;
}

static rn_status settle_case(solving *s, const rn_case *c, const rn_case_result **out)
{
	if (c->fall != RN_NONE)
		return rn_fall_settle(s->arena, s->workspace, s->model, c, s->values, out);
	return rn_workspace_settle(s->workspace, c, s->values, true, out);
}

/* An end of the guess at which nothing is found leaves every load open. */
static void distrust(const rn_case_result *answer, const spread *range)
{
	for (int p = 0; p < answer->part_count; p++)
		range->demand[2 * p + 1] = fmax(range->demand[2 * p + 1], 2 * answer->parts[p].demand);
}

static rn_status check_stretch(solving *s, const rn_case *c, rn_case_result *answer)
{
	const rn_case_result *other;
	spread range;
	if (!s->options->stretch_check || !rn_guess_turn(s->model, s->values, 0))
		return RN_OK;
	RN_TRY(begin_spread(s, answer, &range));
	for (int turn = 0; rn_guess_turn(s->model, s->values, turn); turn++) {
		RN_TRY(settle_case(s, c, &other));
		answer->caught.clear_most = fmax(answer->caught.clear_most, other->caught.clear);
		if (other->outcome == RN_OUTCOME_SETTLED && other->balance.closed)
			add_to_spread(s, other, &range);
		else
			distrust(answer, &range);
	}
	load_values(s, c);
	RN_TRY(mark_stretched(s, &range, answer));
	return say_travel(s, &range, answer);
}

/* The other side of a doubtful bend is worth a word when it closes too and differs by this [-]. */
static const double side_matters = 0.01;

static rn_status check_sides(solving *s, const rn_case *c, rn_case_result *answer)
{
	for (int i = 0; s->options->side_check && i < answer->pass_count; i++) {
		const rn_pass_result *pass = &answer->passes[i];
		const rn_case_result *other;
		int span;
		if (!pass->guessed_side)
			continue;
		RN_TRY(rn_workspace_settle_flipped(s->workspace, c, s->values, pass->station, &other));
		if (other->outcome != RN_OUTCOME_SETTLED)
			continue;
		/* a rope that went back to the first side has closed on one side only */
		if (other->passes[i].side == pass->side)
			continue;
		double change = largest_change(answer, other, &span);
		if (change > side_matters)
			RN_TRY(rn_notes_add(s->arena, &answer->notes,
			                    (rn_note){.kind = RN_NOTE_BOTH_SIDES,
			                              .a = rn_object_of(RN_LINE, pass->line),
			                              .b = rn_object_of(RN_NODE, pass->node),
			                              .c = rn_object_of(RN_NODE, RN_NONE),
			                              .value = {change}}));
	}
	return RN_OK;
}

/* What rests on a guessed stiffness with the rope running does with the rope held: all of the chain would have to
 * be gone through for each guess, and is not. */
static rn_status check_held_stretch(solving *s, const rn_case *c, rn_case_result *answer)
{
	const rn_case_result *settled;
	rn_case_result running;
	RN_TRY(rn_workspace_settle(s->workspace, c, s->values, false, &settled));
	RN_TRY(rn_case_result_copy(s->arena, s->model, settled, &running));
	if (running.outcome != RN_OUTCOME_SETTLED)
		return RN_OK;
	RN_TRY(check_stretch(s, c, &running));
	for (int p = 0; p < answer->part_count; p++)
		if (running.parts[p].unchecked == RN_STRETCH_UNKNOWN)
			mark_stretch_unknown(&answer->parts[p]);
	for (int i = 0; i < running.notes.count; i++)
		if (running.notes.items[i].kind == RN_NOTE_STRETCH_MATTERS)
			RN_TRY(rn_notes_add(s->arena, &answer->notes, running.notes.items[i]));
	return RN_OK;
}

/* ---- falls --------------------------------------------------------------------------------- */

static rn_status solve_fall(solving *s, const rn_case *c, rn_case_result *answer)
{
	const rn_case_result *settled;
	RN_TRY(settle_case(s, c, &settled));
	RN_TRY(rn_case_result_copy(s->arena, s->model, settled, answer));
	return answer->outcome == RN_OUTCOME_SETTLED ? check_stretch(s, c, answer) : RN_OK;
}

/* ---- all cases ----------------------------------------------------------------------------- */

static rn_status solve_case(solving *s, int index)
{
	const rn_case *c = &s->model->cases[index];
	const rn_case_result *settled;
	rn_case_result *answer = &s->result->cases[s->result->case_count];
	load_values(s, c);
	if (c->fall != RN_NONE)
		return solve_fall(s, c, answer);
	if (c->follows != RN_NONE)
		RN_TRY(rn_held_settle(s->arena, s->workspace, s->model, c,
		                      &(rn_held_with){.scaled = s->scaled, .scale = s->scale, .unsure = s->unsure}, &settled));
	else
		RN_TRY(rn_workspace_settle(s->workspace, c, s->values, false, &settled));
	RN_TRY(rn_case_result_copy(s->arena, s->model, settled, answer));
	if (answer->outcome != RN_OUTCOME_SETTLED)
		return RN_OK;
	if (c->follows != RN_NONE)
		return check_held_stretch(s, c, answer);
	RN_TRY(check_stretch(s, c, answer));
	return check_sides(s, c, answer);
}

static bool is_asked(const solving *s, int index)
{
	const rn_case *c = &s->model->cases[index];
	return (!s->options->falls_only || c->fall != RN_NONE) &&
	       (!s->options->only_case || strcmp(s->options->only_case, c->id) == 0);
}

static rn_status solve_all(solving *s)
{
	RN_TAKE(s->arena, s->values, s->model->number_count + 1);
	RN_TAKE(s->arena, s->result->cases, s->model->case_count + 1);
	RN_TRY(rn_workspace_create(s->model, s->options, &s->workspace));
	rn_workspace_unsure(s->workspace, s->unsure);
	for (int i = 0; i < s->model->case_count; i++) {
		if (!is_asked(s, i))
			continue;
		RN_TRY(solve_case(s, i));
		s->result->case_count++;
	}
	s->result->verdict = rn_verdict_of(s->result);
	return RN_OK;
}

static rn_status rate_all(solving *s)
{
	const rn_case_result *rated;
	RN_TAKE(s->arena, s->values, s->model->number_count + 1);
	RN_TAKE(s->arena, s->result->cases, 1);
	RN_TRY(rn_workspace_create(s->model, s->options, &s->workspace));
	load_values(s, &s->model->cases[0]);
	rn_workspace_rate(s->workspace, &s->model->cases[0], s->values, &rated);
	RN_TRY(rn_case_result_copy(s->arena, s->model, rated, &s->result->cases[0]));
	s->result->case_count = 1;
	return RN_OK;
}

/* What is asked for beside the model itself. */
typedef struct asked {
	rn_status (*fill)(solving *);
	int scaled;
	double scale;
	const rn_unsure *unsure;
} asked;

static rn_status make_result(const rn_model *model, const rn_options *options, asked what, rn_result **result_out)
{
	rn_result_memory *memory;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_result *result = rn_arena_take(&memory->arena, 1, sizeof *result);
	if (!result) {
		rn_result_memory_release(&memory);
		return RN_STATUS_MEMORY;
	}
	result->memory = memory;
	result->model = model;
	solving s = {.model = model, .options = options, .arena = &memory->arena, .result = result,
	             .scaled = what.scaled, .scale = what.scale, .unsure = what.unsure};
	rn_status status = what.fill(&s);
	rn_workspace_destroy(s.workspace);
	if (status != RN_OK)
		rn_result_destroy(result);
	else
		*result_out = result;
	return status;
}

rn_status rn_solve(const rn_model *model, const rn_options *options, rn_result **result_out)
{
	return make_result(model, options, (asked){solve_all, RN_NONE, 1, NULL}, result_out);
}

rn_status rn_rate(const rn_model *model, const rn_options *options, rn_result **result_out)
{
	return make_result(model, options, (asked){rate_all, RN_NONE, 1, NULL}, result_out);
}

rn_status rn_solve_scaled(const rn_model *model, const rn_options *options, int number, double scale,
                          rn_result **result_out)
{
	return make_result(model, options, (asked){solve_all, number, scale, NULL}, result_out);
}

rn_status rn_solve_unsure(const rn_model *model, const rn_options *options, const rn_unsure *unsure,
                          rn_result **result_out)
{
	return make_result(model, options, (asked){solve_all, RN_NONE, 1, unsure}, result_out);
}

void rn_result_destroy(rn_result *result)
{
	if (!result)
		return;
	rn_result_memory *memory = result->memory; /* holds the result itself */
	rn_result_memory_release(&memory);
}
