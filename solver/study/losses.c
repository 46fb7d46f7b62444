/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One part letting go. Nothing is taken out of the model: what has let go carries nothing, bends no rope and
 * weighs nothing, and every rope keeps the length it had round it, so that parts before and after are the
 * same and can be held against each other.
 */
#include <math.h>

#include "solver/base/arena.h"
#include "solver/model/place.h"
#include "solver/model/ties.h"
#include "solver/study/workspace.h"

/* What lets go together with one part. */
typedef struct gone {
	bool *node, *line, *leg, *station;
	rn_unsure unsure;
} gone;

static rn_status take_gone(rn_arena *arena, const rn_model *m, gone *out)
{
	RN_TAKE(arena, out->node, m->node_count + 1);
	RN_TAKE(arena, out->line, m->line_count + 1);
	RN_TAKE(arena, out->leg, m->leg_count + 1);
	RN_TAKE(arena, out->station, m->station_count + 1);
	out->unsure = (rn_unsure){.node_gone = out->node, .line_gone = out->line, .leg_gone = out->leg,
	                          .station_gone = out->station};
	return RN_OK;
}

static void clear(const rn_model *m, gone *g)
{
	for (int i = 0; i < m->node_count; i++)
		g->node[i] = false;
	for (int i = 0; i < m->line_count; i++)
		g->line[i] = false;
	for (int i = 0; i < m->leg_count; i++)
		g->leg[i] = false;
	for (int i = 0; i < m->station_count; i++)
		g->station[i] = false;
}

/* A connector joins what is made fast through it. `at` RN_NONE: wherever it is used. */
static bool set_connector(const rn_model *m, gone *g, int item, int at)
{
	bool any = false;
	for (int i = 0; i < m->station_count; i++)
		if (m->stations[i].connector == item && (at == RN_NONE || m->stations[i].node == at))
			any = g->station[i] = true;
	for (int i = 0; i < m->leg_count; i++) {
		bool of_sling = m->slings[m->legs[i].sling].connector == item;
		if ((of_sling || m->legs[i].connector == item) && (at == RN_NONE || rn_hitch_far(m, i) == at))
			any = g->leg[i] = true;
	}
	for (int i = 0; i < m->node_count; i++)
		if (m->nodes[i].connector == item && (at == RN_NONE || i == at))
			any = g->node[i] = true;
	return any;
}

static bool set_stem(const rn_model *m, gone *g, int stem)
{
	bool any = false;
	for (int i = 0; i < m->node_count; i++)
		if (rn_node_grows_on(m, i, stem))
			any = g->node[i] = true;
	return any;
}

static bool leg_holds(const rn_model *m, const gone *g, int leg)
{
	return !g->leg[leg] && !g->node[m->legs[leg].from] && !g->node[m->legs[leg].to];
}

/* Whether anything is still made fast to a node. */
static bool is_tied(const rn_model *m, const gone *g, int node)
{
	for (int i = 0; i < m->leg_count; i++)
		if ((m->legs[i].from == node || m->legs[i].to == node) && leg_holds(m, g, i))
			return true;
	for (int i = 0; i < m->station_count; i++) {
		const rn_station *s = &m->stations[i];
		if (s->node == node && s->kind != RN_THROUGH && !g->line[s->line] && !g->station[i])
			return true;
	}
	for (int i = 0; i < m->prop_count; i++)
		if (m->props[i].from == node || m->props[i].to == node)
			return true;
	return false;
}

/* A ring or block that nothing holds any more slides along the rope in it, down to whatever comes first. It
 * bends the rope no longer, and weighs little beside what hangs there: it is left out. */
static void set_sliders(const rn_model *m, gone *g)
{
	for (int i = 0; i < m->node_count; i++) {
		bool slides = !rn_node_is_fixed(&m->nodes[i]) && m->nodes[i].kind != RN_NODE_PIECE;
		g->node[i] = g->node[i] || (slides && !is_tied(m, g, i));
	}
}

/* False: it is nothing that can let go. A piece is what is held, a prop topples and does not let go. */
static bool set_part(const rn_model *m, gone *g, rn_object object, int at)
{
	clear(m, g);
	switch (object.kind) {
	case RN_LINE: return g->line[object.index] = true;
	case RN_SLING:
		for (int i = 0; i < m->slings[object.index].leg_count; i++)
			g->leg[m->slings[object.index].first_leg + i] = true;
		return true;
	case RN_NODE:
		g->node[object.index] = m->nodes[object.index].kind != RN_NODE_PIECE;
		return g->node[object.index];
	case RN_ITEM: return set_connector(m, g, object.index, at);
	case RN_STEM: return set_stem(m, g, object.index);
	default: return false;
	}
}

static bool set_gone(const rn_model *m, gone *g, rn_object object, int at)
{
	bool any = set_part(m, g, object, at);
	set_sliders(m, g);
	return any;
}

/* ---- what is left -------------------------------------------------------------------------- */

typedef struct looser {
	const rn_result *result;
	const rn_model *model;
	rn_workspace *workspace;
	double *values;
	gone gone;
} looser;

static double loaded_above(const rn_case_result *a)
{
	double most = 0;
	for (int i = 0; i < a->part_count; i++)
		most = fmax(most, a->parts[i].demand);
	return rn_loaded_least * most;
}

static rn_note why_not(const rn_case_result *a)
{
	for (int i = 0; i < a->notes.count; i++)
		if (rn_note_severity(a->notes.items[i].kind) == RN_OUTCOME)
			return a->notes.items[i];
	return (rn_note){.kind = RN_NOTE_COUNT};
}

/* The node a line leads to from one of its ends, past what has let go; RN_NONE when the line has too. */
static int next_from_end(const rn_model *m, const gone *g, int line, bool last)
{
	const rn_line *l = &m->lines[line];
	int step = last ? -1 : 1, end = last ? l->station_count - 1 : 0;
	if (g->line[line] || g->station[l->first_station + end])
		return RN_NONE;
	for (int k = end + step; k >= 0 && k < l->station_count; k += step) {
		const rn_station *s = &m->stations[l->first_station + k];
		bool fast = s->kind != RN_THROUGH;
		if (g->node[s->node] || g->station[l->first_station + k]) {
			if (fast)
				return RN_NONE; /* the far end is loose */
			continue;
		}
		return s->node;
	}
	return RN_NONE;
}

/* Whether nothing holds a piece from above: every rope and sling of it leads down, or has let go. One it
 * leads to is told. */
static bool leads_down(const looser *l, const rn_case_result *before, int piece, int *to_out)
{
	const rn_model *m = l->model;
	double height = before->nodes[piece].place[1];
	*to_out = RN_NONE;
	for (int i = 0; i < m->leg_count; i++) {
		int other = m->legs[i].from == piece ? m->legs[i].to : m->legs[i].to == piece ? m->legs[i].from : RN_NONE;
		if (other != RN_NONE && leg_holds(m, &l->gone, i) && before->nodes[other].place[1] >= height)
			return false;
	}
	for (int i = 0; i < m->line_count; i++)
		for (int last = 0; last < 2; last++) {
			int end = m->lines[i].first_station + (last ? m->lines[i].station_count - 1 : 0);
			int next = m->stations[end].node == piece ? next_from_end(m, &l->gone, i, last) : RN_NONE;
			if (next != RN_NONE && before->nodes[next].place[1] >= height)
				return false;
			*to_out = next != RN_NONE ? next : *to_out;
		}
	return *to_out != RN_NONE;
}

/* A piece whose rope leads down to what is left of its rig falls past it before anything holds. */
static bool find_fall(const looser *l, const rn_case_result *before, rn_loss *loss)
{
	for (int i = 0; i < l->model->node_count; i++)
		if (l->model->nodes[i].kind == RN_NODE_PIECE && leads_down(l, before, i, &loss->leads_to)) {
			loss->falls = true;
			loss->piece = i;
			return true;
		}
	return false;
}

/* How far the piece that sinks most has sunk, from where it hung before. */
static void find_drop(const looser *l, const rn_case_result *before, const rn_case_result *after, rn_loss *loss)
{
	for (int i = 0; i < l->model->node_count; i++) {
		double drop = before->nodes[i].place[1] - after->nodes[i].place[1];
		if (l->model->nodes[i].kind != RN_NODE_PIECE || drop <= loss->drop)
			continue;
		loss->drop = drop;
		loss->piece = i;
	}
}

static void find_closest(const rn_case_result *after, int lost, rn_loss *loss)
{
	double loaded = loaded_above(after);
	for (int p = 0; p < after->part_count; p++) {
		const rn_part_result *part = &after->parts[p];
		if (p == lost || part->demand <= loaded)
			continue;
		if (part->unchecked != RN_CHECKED) {
			loss->unchecked = true;
		} else if (part->utilisation > loss->utilisation) {
			loss->utilisation = part->utilisation;
			loss->closest = p;
		}
	}
}

static rn_loss look_at(const looser *l, const rn_case_result *before, const rn_case_result *after, int part, int c)
{
	rn_loss loss = {.part = part, .case_index = c, .outcome = after->outcome, .falls = after->falls,
	                .piece = RN_NONE, .leads_to = RN_NONE, .closest = RN_NONE, .why = why_not(after)};
	if (find_fall(l, before, &loss))
		return loss;
	if (!rn_case_holds(after)) {
		loss.outcome = after->outcome == RN_OUTCOME_NO_EQUILIBRIUM ? after->outcome : RN_OUTCOME_NOT_FOUND;
		return loss;
	}
	find_drop(l, before, after, &loss);
	find_closest(after, part, &loss);
	return loss;
}

/* From the least to the worst: settles, falls far, not found, nothing holds. */
static int severity_of(const rn_loss *loss)
{
	if (loss->outcome == RN_OUTCOME_NO_EQUILIBRIUM)
		return 3;
	return loss->outcome == RN_OUTCOME_NOT_FOUND ? 2 : loss->falls;
}

static bool is_worse(const rn_loss *a, const rn_loss *b)
{
	int by = severity_of(a) - severity_of(b);
	return by > 0 || (by == 0 && a->utilisation > b->utilisation);
}

/* One part in all cases in which it carries load. False: in none, or it cannot let go. */
static rn_status lose(looser *l, int part, rn_loss *worst, bool *any_out)
{
	for (int c = 0; c < l->result->case_count; c++) {
		const rn_case_result *before = &l->result->cases[c], *after;
		if (!rn_case_rests(before) || before->parts[part].demand <= loaded_above(before))
			continue;
		const rn_part_result *p = &before->parts[part];
		if (!set_gone(l->model, &l->gone, p->object, p->object.kind == RN_ITEM ? p->at : RN_NONE))
			return RN_OK;
		const rn_case *the_case = &l->model->cases[before->case_index];
		rn_case_values(l->model, the_case, l->values);
		RN_TRY(rn_workspace_settle(l->workspace, the_case, l->values, false, &after));
		rn_loss loss = look_at(l, before, after, part, c);
		if (!*any_out || is_worse(&loss, worst))
			*worst = loss;
		*any_out = true;
	}
	return RN_OK;
}

static rn_status find(looser *l, rn_arena *arena, const rn_options *options, rn_losses *out)
{
	int part_count = l->result->case_count ? l->result->cases[0].part_count : 0;
	RN_TAKE(arena, l->values, l->model->number_count + 1);
	RN_TAKE(arena, out->losses, part_count + 1);
	RN_TRY(take_gone(arena, l->model, &l->gone));
	RN_TRY(rn_workspace_create(l->model, options, &l->workspace));
	rn_workspace_unsure(l->workspace, &l->gone.unsure);
	for (int p = 0; p < part_count; p++) {
		bool any = false;
		RN_TRY(lose(l, p, &out->losses[out->count], &any));
		out->count += any;
	}
	return RN_OK;
}

rn_status rn_losses_find(const rn_result *result, const rn_options *options, rn_losses *losses_out)
{
	rn_result_memory *memory;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_losses losses = {.memory = memory};
	looser l = {.result = result, .model = result->model};
	rn_status status = find(&l, &memory->arena, options, &losses);
	rn_workspace_destroy(l.workspace);
	if (status == RN_OK)
		*losses_out = losses;
	else
		rn_losses_release(&losses);
	return status;
}

void rn_losses_release(rn_losses *losses)
{
	rn_result_memory_release(&losses->memory);
}

rn_status rn_solve_without(const rn_model *model, const rn_options *options, rn_object part, rn_result **result_out)
{
	rn_arena arena = rn_arena_make(&options->allocator);
	gone g;
	rn_status status = take_gone(&arena, model, &g);
	if (status == RN_OK && !set_gone(model, &g, part, RN_NONE))
		status = RN_STATUS_ARGUMENT;
	if (status == RN_OK)
		status = rn_solve_unsure(model, options, &g.unsure, result_out);
	rn_arena_release(&arena);
	return status;
}
