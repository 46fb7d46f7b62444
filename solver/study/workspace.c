/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/study/workspace.h"

#include <math.h>
#include <string.h>

#include "solver/base/notes.h"
#include "solver/model/place.h"
#include "solver/statics/answer.h"
#include "solver/statics/geometry.h"
#include "solver/statics/kept.h"
#include "solver/strength/hitch.h"
#include "solver/strength/parts.h"
#include "solver/strength/stem.h"
#include "solver/study/remarks.h"

rn_status rn_result_memory_create(const rn_options *options, rn_result_memory **memory_out)
{
	rn_arena arena = rn_arena_make(&options->allocator);
	rn_result_memory *memory = rn_arena_take(&arena, 1, sizeof *memory);
	if (!memory)
		return RN_STATUS_MEMORY;
	memory->arena = arena;
	*memory_out = memory;
	return RN_OK;
}

void rn_result_memory_release(rn_result_memory **memory)
{
	if (!*memory)
		return;
	rn_arena arena = (*memory)->arena; /* holds the memory itself */
	*memory = NULL;
	rn_arena_release(&arena);
}

struct rn_workspace {
	rn_arena arena; /* everything below, for the life of the workspace */
	rn_arena notes; /* of the last answer only */
	const rn_model *model;
	rn_settler settler;
	rn_keeper keeper; /* of a model drawn under load */
	rn_case_result answer;
	rn_stems stems;
	rn_meetings meetings;
	rn_left_over *left_over; /* scratch of the proof */
	rn_snapshot last; /* where the last answer left everything */
	int *last_sides;
	rn_snapshot marked[RN_MARK_COUNT]; /* others such, to come back to */
	int *marked_sides[RN_MARK_COUNT];
	bool has_last;
};

static const rn_caught nothing_caught = {.fall = RN_NONE, .slips = RN_NONE, .snaps = RN_NONE};

static rn_status create_last(rn_workspace *w)
{
	RN_TRY(rn_snapshot_create(&w->arena, &w->settler.net, &w->last));
	RN_TAKE(&w->arena, w->last_sides, w->settler.net.stop_count + 1);
	for (int k = 0; k < RN_MARK_COUNT; k++) {
		RN_TRY(rn_snapshot_create(&w->arena, &w->settler.net, &w->marked[k]));
		RN_TAKE(&w->arena, w->marked_sides[k], w->settler.net.stop_count + 1);
	}
	return RN_OK;
}

static rn_status build(rn_workspace *w, const rn_options *options)
{
	RN_TRY(rn_settler_create(&w->arena, w->model, options, &w->settler));
	RN_TRY(rn_answer_create(&w->arena, &w->settler.net, &w->answer));
	RN_TRY(rn_hitches_create(&w->arena, w->model, &w->answer.hitches, &w->answer.hitch_count));
	RN_TRY(rn_stems_create(&w->arena, w->model, &w->stems, &w->answer.stems));
	RN_TRY(rn_parts_create(&w->arena, w->model, &w->answer.parts, &w->answer.part_count));
	RN_TRY(rn_meetings_create(&w->arena, w->model, &w->meetings));
	RN_TAKE(&w->arena, w->left_over, w->model->node_count + 1);
	if (w->model->drawn_under_load)
		RN_TRY(rn_keeper_create(&w->arena, &w->settler.net, &w->keeper));
	return create_last(w);
}

rn_status rn_workspace_create(const rn_model *model, const rn_options *options,
                              rn_workspace **workspace_out)
{
	rn_arena arena = rn_arena_make(&options->allocator);
	rn_workspace *w = rn_arena_take(&arena, 1, sizeof *w);
	if (!w) {
		rn_arena_release(&arena);
		return RN_STATUS_MEMORY;
	}
	w->arena = arena;
	w->notes = rn_arena_make(&options->allocator);
	w->model = model;
	rn_status status = build(w, options);
	if (status != RN_OK)
		rn_workspace_destroy(w);
	else
		*workspace_out = w;
	return status;
}

void rn_workspace_destroy(rn_workspace *w)
{
	if (!w)
		return;
	rn_arena arena = w->arena; /* holds *w itself */
	rn_arena_release(&w->notes);
	rn_arena_release(&arena);
}

/* ---- warm start ------------------------------------------------------------------------------ */

static void keep_last(rn_workspace *w)
{
	rn_settler_keep(&w->settler, &w->last);
	for (int i = 0; i < w->settler.net.stop_count; i++)
		w->last_sides[i] = w->settler.net.stops[i].side;
	w->has_last = true;
}

/* Free nodes go where the last answer left them, if the ropes can be laid that way. */
static bool take_last(rn_workspace *w)
{
	rn_settler *settler = &w->settler;
	rn_network *net = &settler->net;
	rn_settler_keep(settler, &settler->step_kept);
	rn_settler_return(settler, &w->last);
	/* what does not move stands where the numbers at hand put it */
	for (int i = 0; i < net->model->node_count; i++)
		for (int k = 0; k < 2 && net->unknown[i] == RN_NONE; k++)
			net->place[2 * i + k] = settler->step_kept.place[2 * i + k];
	for (int i = 0; i < net->stop_count; i++)
		net->stops[i].side = w->last_sides[i];
	return rn_settler_measure(settler);
}

/* ---- one case ------------------------------------------------------------------------------ */

static void hold_against_limits(rn_workspace *w, const double *values)
{
	rn_stems_fill(&w->stems, w->model, values, &w->answer, w->answer.stems);
	rn_hitches_fill(w->model, values, &w->answer);
	rn_parts_fill(w->model, values, &w->meetings, &w->answer);
}

static rn_status look(rn_workspace *w, const double *values)
{
	RN_TRY(rn_certificate_fill(&w->settler, &w->answer));
	hold_against_limits(w, values);
	w->answer.balance = rn_balance_check(w->model, &w->answer, w->left_over);
	return rn_remarks_add(&w->settler, &w->answer);
}

/* ---- drawn under load ------------------------------------------------------------------------ */

/* The coordinates of a textbook drawing are rounded, and none is moved: this part of the largest force
 * may be left over [-]. */
static const double exact_closed = 1e-6;

static void check_kept_balance(rn_workspace *w)
{
	const rn_network *net = &w->settler.net;
	rn_balance *balance = &w->answer.balance;
	*balance = rn_balance_check(w->model, &w->answer, w->left_over);
	double arm = net->size;
	for (int i = 0; i < w->model->node_count; i++)
		arm = fmax(arm, hypot(net->place[2 * i], net->place[2 * i + 1]));
	if (w->answer.picture.exact)
		balance->closed = balance->closed || (balance->relative <= exact_closed &&
		                                      balance->moment <= exact_closed * net->load_scale * arm);
}

/* A piece that is drawn hanging does not fall first, whatever is above it. */
static void drop_falls(rn_case_result *answer)
{
	int kept = 0;
	for (int i = 0; i < answer->notes.count; i++)
		if (answer->notes.items[i].kind != RN_NOTE_FALLS_FIRST && answer->notes.items[i].kind != RN_NOTE_SINKS)
			answer->notes.items[kept++] = answer->notes.items[i];
	answer->notes.count = kept;
	answer->falls = false;
}

static rn_status look_at_kept(rn_workspace *w, const double *values)
{
	hold_against_limits(w, values);
	check_kept_balance(w);
	RN_TRY(rn_remarks_add(&w->settler, &w->answer));
	drop_falls(&w->answer);
	return rn_keep_ranges(&w->settler, &w->keeper, &w->answer);
}

static void clear_ranges(rn_case_result *answer)
{
	for (int i = 0; i < answer->span_count; i++) {
		rn_span_result *span = &answer->spans[i];
		span->has_range = span->open_below = span->open_above = false;
		span->tension_least = span->tension_most = 0;
	}
}

static rn_status settle_or_keep(rn_workspace *w, bool warm)
{
	w->answer.picture = (rn_picture){.left_over_node = RN_NONE, .moved_node = RN_NONE};
	if (w->model->drawn_under_load)
		return rn_keep(&w->settler, &w->keeper, &w->answer.outcome, &w->answer.picture);
	return rn_settle(&w->settler, warm, &w->answer.outcome);
}

/* Numbers at the very ends of what is allowed can still leave what a double holds. Such an answer is
 * none: its case is not found, and stands as drawn. */
static bool is_finite_answer(const rn_workspace *w)
{
	const rn_case_result *a = &w->answer;
	for (int i = 0; i < w->model->node_count; i++)
		if (!isfinite(a->nodes[i].place[0] + a->nodes[i].place[1] + a->nodes[i].pull[0] + a->nodes[i].pull[1]))
			return false;
	for (int i = 0; i < a->span_count; i++)
		if (!isfinite(a->spans[i].tension + a->spans[i].length + a->spans[i].heading))
			return false;
	return true;
}

static void stand_as_drawn(rn_workspace *w, const rn_case *c, const double *values)
{
	rn_network_load(&w->settler.net, c, values);
	rn_answer_fill(&w->settler, &w->answer);
	w->answer.outcome = RN_OUTCOME_NOT_FOUND;
}

static rn_status settle_loaded(rn_workspace *w, const rn_case *c, const double *values, bool warm)
{
	w->answer.notes = (rn_notes){0};
	w->answer.falls = w->answer.unweighed = false;
	w->answer.caught = nothing_caught;
	w->settler.notes = &w->answer.notes;
	w->settler.notes_arena = &w->notes;
	w->answer.case_index = (int)(c - w->model->cases);
	RN_TRY(settle_or_keep(w, warm));
	rn_answer_fill(&w->settler, &w->answer);
	if (!is_finite_answer(w))
		stand_as_drawn(w, c, values);
	clear_ranges(&w->answer);
	w->answer.balance = (rn_balance){.worst_node = RN_NONE};
	w->has_last = false;
	if (w->answer.outcome == RN_OUTCOME_KEPT)
		return look_at_kept(w, values);
	if (w->answer.outcome != RN_OUTCOME_SETTLED)
		return RN_OK;
	keep_last(w);
	return look(w, values);
}

/* ---- a piece lowered by a guide ---------------------------------------------------------------- */

void rn_workspace_guide(rn_workspace *w, const rn_guide *guide)
{
	w->settler.net.guide = guide;
	w->settler.net.keep_bending = false;
}

static void copy_snapshot(const rn_network *net, rn_snapshot *to, const rn_snapshot *from)
{
	memcpy(to->place, from->place, 2 * (size_t)net->model->node_count * sizeof *to->place);
	memcpy(to->bend, from->bend, (size_t)net->stop_count * sizeof *to->bend);
	memcpy(to->tension, from->tension, (size_t)net->rope_count * sizeof *to->tension);
	memcpy(to->taut, from->taut, (size_t)net->rope_count * sizeof *to->taut);
	memcpy(to->push, from->push, (size_t)net->contact_count * sizeof *to->push);
}

void rn_workspace_mark(rn_workspace *w, rn_mark mark)
{
	copy_snapshot(&w->settler.net, &w->marked[mark], &w->last);
	memcpy(w->marked_sides[mark], w->last_sides, (size_t)w->settler.net.stop_count * sizeof *w->last_sides);
}

void rn_workspace_back(rn_workspace *w, rn_mark mark)
{
	copy_snapshot(&w->settler.net, &w->last, &w->marked[mark]);
	memcpy(w->last_sides, w->marked_sides[mark], (size_t)w->settler.net.stop_count * sizeof *w->last_sides);
	w->has_last = true;
}

const double *rn_workspace_marked(const rn_workspace *w, rn_mark mark)
{
	return w->marked[mark].place;
}

const rn_network *rn_workspace_network(const rn_workspace *w)
{
	return &w->settler.net;
}

void rn_workspace_load(rn_workspace *w, const rn_case *c, const double *values)
{
	rn_network_load(&w->settler.net, c, values);
}

rn_status rn_workspace_lower(rn_workspace *w, const rn_case *c, const double *values, bool *found_out)
{
	rn_outcome outcome;
	rn_arena_release(&w->notes);
	w->answer.notes = (rn_notes){0};
	w->settler.notes = &w->answer.notes;
	w->settler.notes_arena = &w->notes;
	rn_network_load(&w->settler.net, c, values);
	bool taken = w->has_last && take_last(w);
	if (!taken)
		rn_network_load(&w->settler.net, c, values);
	w->settler.net.keep_bending = true;
	RN_TRY(rn_settle(&w->settler, taken, &outcome));
	*found_out = outcome == RN_OUTCOME_SETTLED;
	if (*found_out)
		keep_last(w);
	return RN_OK;
}

rn_status rn_workspace_let_go(rn_workspace *w, const rn_case *c, const double *values, const rn_case_result **result_out)
{
	rn_network *net = &w->settler.net;
	const rn_guide *guide = net->guide;
	double lift = rn_guide_lift(net), side = rn_guide_side(net);
	for (int k = 0; k < 2; k++) {
		net->load[2 * guide->nodes[k]] += guide->share[k] * side;
		net->load[2 * guide->nodes[k] + 1] += guide->share[k] * lift;
	}
	rn_workspace_guide(w, NULL);
	w->answer.case_index = (int)(c - w->model->cases);
	w->answer.outcome = RN_OUTCOME_SETTLED;
	w->answer.picture = (rn_picture){.left_over_node = RN_NONE, .moved_node = RN_NONE};
	rn_answer_fill(&w->settler, &w->answer);
	clear_ranges(&w->answer);
	*result_out = &w->answer;
	if (!is_finite_answer(w)) {
		stand_as_drawn(w, c, values);
		return RN_OK;
	}
	RN_TRY(look(w, values));
	drop_falls(&w->answer);
	return RN_OK;
}

void rn_workspace_forget_notes(rn_workspace *w)
{
	w->answer.notes.count = 0;
	w->answer.falls = false;
}

void rn_workspace_caught(rn_workspace *w, const rn_caught *caught, rn_outcome outcome)
{
	w->answer.caught = *caught;
	w->answer.outcome = outcome;
}

void rn_workspace_rate(rn_workspace *w, const rn_case *c, const double *values, const rn_case_result **result_out)
{
	rn_arena_release(&w->notes);
	w->answer.notes = (rn_notes){0};
	w->answer.caught = nothing_caught;
	stand_as_drawn(w, c, values);
	for (int i = 0; i < w->answer.span_count; i++)
		w->answer.spans[i].tension = 0;
	for (int i = 0; i < w->model->node_count; i++)
		for (int k = 0; k < 2; k++)
			w->answer.nodes[i].pull[k] = w->answer.nodes[i].load[k] = 0;
	w->answer.pass_count = w->answer.hold_count = 0; /* every through bends, turns are as given */
	hold_against_limits(w, values);
	*result_out = &w->answer;
}

/* A unit of stretched rope is so much unstretched. */
static double unstretched(const rn_network *net, const rn_rope *rope, double tension)
{
	if (rope->curve != RN_NONE)
		return 1 / (1 + rn_curve_stretch(net->model, net->values, rope->curve, tension));
	return 1 / (1 + tension / rope->stiffness);
}

static void add_lengths(const rn_network *net, const rn_rope *rope, double *before)
{
	bool backward = rope->pulled && !rope->pull_at_last;
	double sum = 0;
	for (int i = 0; i + 1 < rope->span_count; i++) {
		int k = backward ? rope->span_count - 1 - i : i;
		const rn_span *span = &net->spans[rope->first_span + k];
		const rn_span *next = backward ? span - 1 : span + 1;
		const rn_stop *stop = &net->stops[backward ? span->from : span->to];
		double tension = rope->taut ? rope->tension * span->share : 0, on = rope->taut ? rope->tension * next->share : 0;
		double half = stop->radius * stop->bend / 2;
		sum += (span->length + rn_span_further(rope, k) + half) * unstretched(net, rope, tension);
		before[stop->station] = backward ? -sum : sum;
		sum += half * unstretched(net, rope, on);
	}
}

void rn_workspace_lengths(const rn_workspace *w, double *before_out)
{
	const rn_network *net = &w->settler.net;
	for (int i = 0; i < w->model->station_count; i++)
		before_out[i] = 0;
	for (int r = 0; r < net->rope_count; r++)
		if (net->ropes[r].bends && !net->ropes[r].gone)
			add_lengths(net, &net->ropes[r], before_out);
}

rn_status rn_workspace_note(rn_workspace *w, rn_note note)
{
	return rn_notes_add(&w->notes, &w->answer.notes, note);
}

bool rn_workspace_look(rn_workspace *w, const rn_case *c, const double *values, int shifted, double by,
                       rn_system *system_out)
{
	rn_settler *s = &w->settler;
	rn_network_load(&s->net, c, values);
	s->net.friction_share = 1;
	if (!take_last(w))
		return false;
	while (rn_network_follow_curves(&s->net, false)) {
	}
	int size = rn_newton_assemble(s);
	if (shifted != RN_NONE) {
		for (int i = 0; i < size; i++)
			s->step[i] = i == shifted;
		rn_newton_move(s, by);
		if (!rn_settler_measure(s))
			return false;
		size = rn_newton_assemble(s);
	}
	rn_answer_fill(s, &w->answer);
	hold_against_limits(w, values);
	*system_out = (rn_system){size, s->residual, &s->triplets, &w->answer};
	return true;
}

rn_status rn_workspace_solve(rn_workspace *w, int size, const rn_triplets *matrix, double *right)
{
	return rn_full_solve(&w->settler.full, size, matrix, right);
}

void rn_workspace_unsure(rn_workspace *w, const rn_unsure *unsure)
{
	w->settler.net.unsure = unsure;
}

rn_status rn_workspace_settle(rn_workspace *w, const rn_case *c, const double *values, bool warm,
                              const rn_case_result **result_out)
{
	rn_arena_release(&w->notes);
	rn_network_load(&w->settler.net, c, values);
	bool taken = warm && w->has_last && take_last(w);
	if (warm && w->has_last && !taken)
		rn_network_load(&w->settler.net, c, values);
	*result_out = &w->answer;
	return settle_loaded(w, c, values, taken);
}

rn_status rn_workspace_settle_flipped(rn_workspace *w, const rn_case *c, const double *values,
                                      int station, const rn_case_result **result_out)
{
	rn_arena_release(&w->notes);
	rn_network *net = &w->settler.net;
	rn_network_load(net, c, values);
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		for (int i = 1; i + 1 < rope->stop_count; i++)
			if (net->stops[rope->first_stop + i].station == station)
				net->stops[rope->first_stop + i].side *= -1;
		/* lengths stay those of the drawing with the side it was drawn on */
		rn_rope_lay(net, rope);
	}
	*result_out = &w->answer;
	return settle_loaded(w, c, values, false);
}

bool rn_case_holds(const rn_case_result *answer)
{
	bool settled = answer->outcome == RN_OUTCOME_SETTLED || answer->outcome == RN_OUTCOME_KEPT;
	return settled && answer->balance.closed;
}

bool rn_case_rests(const rn_case_result *answer)
{
	return rn_case_holds(answer) && answer->caught.fall == RN_NONE;
}

bool rn_case_stays(const rn_case_result *answer)
{
	return answer->outcome == RN_OUTCOME_SETTLED && answer->balance.closed && !answer->falls;
}
