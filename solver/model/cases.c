/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Cases: a copy of the numbers with some replaced, and which way each line runs.
 */
#include <string.h>

#include "solver/model/memory.h"
#include "solver/model/place.h"
#include "solver/model/timber.h"

/* A held end outranks a made-fast one, a load comes last: rope runs down this order when a load is
 * lowered (common practice, no source). */
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

static int made_direction(const rn_model *model, bool raising, int first, int last)
{
	int fall = end_rank(model, first) - end_rank(model, last);
	int lowering = (fall > 0) - (fall < 0);
	return raising ? -lowering : lowering;
}

bool rn_fall_is_on(const rn_model *model, rn_object piece, int station)
{
	int node = model->stations[station].node;
	if (piece.kind == RN_NODE)
		return node == piece.index;
	return node == model->props[piece.index].from || node == model->props[piece.index].to;
}

/* The line of a piece that is caught runs out toward it; 0 where it is not tied to it. */
static int caught_direction(const rn_model *model, const rn_case *c, int first, int last)
{
	rn_object piece = model->falls[c->fall].piece;
	return rn_fall_is_on(model, piece, last) - rn_fall_is_on(model, piece, first);
}

int rn_case_direction(const rn_model *model, const rn_case *c, int first, int last, int station)
{
	if (c->level == RN_FRICTION_NONE)
		return 0;
	int line = model->stations[first].line;
	int caught = c->fall == RN_NONE ? 0 : caught_direction(model, c, first, last);
	if (caught != 0)
		return caught;
	for (int i = 0; i < c->run_count; i++) {
		const rn_run *run = &model->runs[c->first_run + i];
		if (run->line == line && (run->at == RN_NONE || run->at == station))
			return run->toward_last ? 1 : -1;
	}
	if (c->after)
		return 0; /* held: what rope slips is found, not said */
	/* a written case that names no run at all lowers, like the first made one */
	return c->run_count == 0 ? made_direction(model, c->raising, first, last) : 0;
}

static bool rises_with_friction(rn_attribute attribute)
{
	return attribute == RN_ATTRIBUTE_FRICTION;
}

static double at_level(const rn_number *number, rn_level level)
{
	bool is_friction = number->attribute == RN_ATTRIBUTE_FRICTION ||
	                   number->attribute == RN_ATTRIBUTE_EFFICIENCY;
	if (!is_friction || level == RN_FRICTION_NOMINAL || level == RN_FRICTION_NONE)
		return number->value;
	bool low = level == RN_FRICTION_LOW;
	return low == rises_with_friction(number->attribute) ? number->low : number->high;
}

void rn_case_values(const rn_model *model, const rn_case *c, double *values)
{
	for (int i = 0; i < model->number_count; i++)
		values[i] = at_level(&model->numbers[i], c->level);
	for (int i = 0; i < c->setting_count; i++) {
		const rn_setting *setting = &model->settings[c->first_setting + i];
		values[setting->number] = setting->value;
	}
	rn_timber_weigh(model, c, values);
}

bool rn_case_sets(const rn_model *model, const rn_case *c, int number)
{
	for (int i = 0; i < c->setting_count; i++)
		if (model->settings[c->first_setting + i].number == number)
			return true;
	return false;
}

/* ---- falls --------------------------------------------------------------------------------- */

static bool is_tied_to(const rn_model *model, rn_object piece, int line)
{
	const rn_line *l = &model->lines[line];
	return rn_fall_is_on(model, piece, l->first_station) ||
	       rn_fall_is_on(model, piece, l->first_station + l->station_count - 1);
}

/* The first station of a line where it is held, RN_NONE if there is none. */
static int held_at(const rn_model *model, int line)
{
	const rn_line *l = &model->lines[line];
	for (int i = l->first_station; i < l->first_station + l->station_count; i++)
		if (model->stations[i].kind == RN_HOLD)
			return i;
	return RN_NONE;
}

int rn_fall_hold(const rn_model *model, int fall)
{
	const rn_fall *f = &model->falls[fall];
	int tied = RN_NONE, tied_count = 0, held = RN_NONE, held_count = 0;
	if (f->line != RN_NONE)
		return held_at(model, f->line);
	for (int i = 0; i < model->line_count; i++) {
		if (is_tied_to(model, f->piece, i)) {
			tied = i;
			tied_count++;
		}
		if (held_at(model, i) != RN_NONE) {
			held = i;
			held_count++;
		}
	}
	if (tied_count > 0)
		return tied_count == 1 ? held_at(model, tied) : RN_NONE;
	return held_count == 1 ? held_at(model, held) : RN_NONE;
}

int rn_fall_direction(const rn_model *model, const rn_case *c, int line)
{
	int first = model->lines[line].first_station, last = first + model->lines[line].station_count - 1;
	int caught = caught_direction(model, c, first, last);
	return caught != 0 ? caught : made_direction(model, false, first, last);
}

/* ---- cases made by themselves ---------------------------------------------------------------- */

static bool is_part_end(const rn_station *station)
{
	return station->kind != RN_THROUGH;
}

/* Whether some part of a line, between two made-fast stations, has ends of unequal rank and meets
 * friction on its way. */
static bool line_can_run(const rn_model *model, const rn_line *line)
{
	const rn_station *s = model->stations;
	int first = line->first_station, end = first + line->station_count;
	for (int last = first + 1; last < end; last++) {
		if (!is_part_end(&s[last]))
			continue;
		bool meets = last > first + 1 || s[first].kind == RN_HOLD || s[last].kind == RN_HOLD;
		if (meets && end_rank(model, first) != end_rank(model, last))
			return true;
		first = last;
	}
	return false;
}

static bool any_friction_given(const rn_model *model)
{
	for (int i = 0; i < model->number_count; i++) {
		const rn_number *n = &model->numbers[i];
		if (n->origin == RN_GIVEN && (n->attribute == RN_ATTRIBUTE_FRICTION ||
		                              n->attribute == RN_ATTRIBUTE_EFFICIENCY))
			return true;
	}
	return false;
}

static rn_status make_case(rn_model *model, const char *id, rn_level level, bool raising)
{
	if (rn_model_object_by_id(model, id).index != RN_NONE)
		return RN_OK; /* the file has a case of that name: it is meant to replace this one */
	rn_case made = {.id = id, .made = true, .level = level, .raising = raising};
	return rn_model_add_case(model, &made, NULL);
}

static rn_status make_cases(rn_model *model)
{
	bool runs = false;
	for (int i = 0; i < model->line_count; i++)
		runs = runs || line_can_run(model, &model->lines[i]);
	if (!runs)
		return make_case(model, "at-rest", RN_FRICTION_NONE, false);
	RN_TRY(make_case(model, "lowering", RN_FRICTION_LOW, false));
	RN_TRY(make_case(model, "raising", RN_FRICTION_HIGH, true));
	if (!any_friction_given(model))
		RN_TRY(make_case(model, "no-friction", RN_FRICTION_NONE, false));
	return RN_OK;
}

/* Brings the cases made last before the written ones, which keep their order. */
static rn_status put_made_first(rn_model *model, int written)
{
	int made = model->case_count - written;
	rn_case *sorted;
	RN_TAKE(&model->memory->arena, sorted, model->case_count);
	memcpy(sorted, model->cases + written, (size_t)made * sizeof *sorted);
	memcpy(sorted + made, model->cases, (size_t)written * sizeof *sorted);
	memcpy(model->cases, sorted, (size_t)model->case_count * sizeof *sorted);
	for (int i = 0; i < model->force_count; i++)
		model->forces[i].case_index += made;
	for (int i = 0; i < model->fall_count; i++)
		model->falls[i].case_index += made;
	return RN_OK;
}

rn_status rn_model_make_cases(rn_model *model)
{
	if (!model->made_cases && model->case_count > 0)
		return RN_OK;
	int written = model->case_count;
	RN_TRY(make_cases(model));
	return written > 0 ? put_made_first(model, written) : RN_OK;
}
