/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What riggers ask of a catch: with more line, a stretchier rope, a ring or a block up top, less drop, less weight.
 * One number is changed at a time, and the piece is caught again.
 */
#include <math.h>
#include <string.h>

#include "solver/base/vec2.h"
#include "solver/model/guess.h"
#include "solver/model/place.h"
#include "solver/study/caught_row.h"

typedef struct asking {
	rn_catcher catcher;
	const rn_model *model;
	rn_comparison *found;
} asking;

static const struct {
	rn_otherwise_kind kind;
	double amount; /* of a weight or a drop: times what it is */
} asked[] = {
	{RN_OTHERWISE_AS_IS, 0},   {RN_OTHERWISE_LONGER, 1},   {RN_OTHERWISE_LONGER, 3},   {RN_OTHERWISE_LONGER, 10},
	{RN_OTHERWISE_SOFTER, 0.5}, {RN_OTHERWISE_SOFTER, 2},  {RN_OTHERWISE_SOFTER, 5},   {RN_OTHERWISE_RING, 0},
	{RN_OTHERWISE_BLOCK, 0},   {RN_OTHERWISE_DROP, 0.5},   {RN_OTHERWISE_DROP, 2},     {RN_OTHERWISE_WEIGHT, 0.5},
	{RN_OTHERWISE_WEIGHT, 0.75}, {RN_OTHERWISE_WEIGHT, 1.25},
};
enum { ASKED = sizeof asked / sizeof *asked };

/* ---- what is changed ------------------------------------------------------------------------------ */

/* The line that the piece is tied to: the one that is let run, else the first. */
static int line_of(const rn_model *m, int fall)
{
	int hold = rn_fall_hold(m, fall);
	if (hold != RN_NONE)
		return m->stations[hold].line;
	for (int i = 0; i < m->station_count; i++)
		if (m->stations[i].kind == RN_TIE && rn_fall_is_on(m, m->falls[fall].piece, i))
			return m->stations[i].line;
	return RN_NONE;
}

/* Whether the piece is at the last station of its line. */
static bool piece_is_last(const asking *a)
{
	const rn_line *line = &a->model->lines[a->found->line];
	return rn_fall_is_on(a->model, a->model->falls[a->catcher.of->fall].piece,
	                     line->first_station + line->station_count - 1);
}

/* The end of the line away from the piece. */
static int far_end(const asking *a)
{
	const rn_line *line = &a->model->lines[a->found->line];
	return piece_is_last(a) ? line->first_station : line->first_station + line->station_count - 1;
}

/* The through nearest to the piece, RN_NONE: the line does not bend. */
static int nearest_through(const asking *a)
{
	const rn_line *line = &a->model->lines[a->found->line];
	if (line->station_count < 3)
		return RN_NONE;
	int station = line->first_station + (piece_is_last(a) ? line->station_count - 2 : 1);
	return a->model->stations[station].kind == RN_THROUGH ? station : RN_NONE;
}

/* A ring in place of a block, or the other way, by the middle of its class. A sheave and a tread that rope slides
 * over differ in their law; they are made alike over half a turn, which is what a rope leads back by. */
static bool change_bearing(asking *a, rn_otherwise_kind kind, double *amount)
{
	int station = nearest_through(a);
	if (station == RN_NONE)
		return false;
	bool is_sheave = rn_station_contact(a->model, a->catcher.values, station).is_sheave;
	if (is_sheave != (kind == RN_OTHERWISE_RING))
		return false;
	int number = rn_station_number(a->model, station, is_sheave ? RN_ATTRIBUTE_EFFICIENCY : RN_ATTRIBUTE_FRICTION);
	if (number == RN_NONE)
		return false;
	*amount = rn_friction_of_kind(is_sheave ? RN_NODE_RING : RN_NODE_BLOCK);
	a->catcher.values[number] = is_sheave ? exp(-*amount * RN_PI) : -log(*amount) / RN_PI;
	a->found->node = a->model->stations[station].node;
	return true;
}

static bool change_rope(asking *a, double times)
{
	const rn_model *m = a->model;
	rn_object line = rn_object_of(RN_LINE, a->found->line);
	int curve = rn_member_curve(m, line);
	if (curve != RN_NONE) {
		for (int i = 0; i < m->items[curve].stretch_count; i++) {
			rn_object point = rn_object_of(RN_STRETCH, m->items[curve].first_stretch + i);
			a->catcher.values[rn_model_find_number(m, point, RN_ATTRIBUTE_BY)] *= times;
		}
		return true;
	}
	int number = rn_model_find_number(m, rn_object_of(RN_ITEM, m->lines[line.index].gear), RN_ATTRIBUTE_STIFFNESS);
	if (number == RN_NONE)
		number = rn_model_find_number(m, line, RN_ATTRIBUTE_STIFFNESS);
	if (number == RN_NONE)
		return false;
	a->catcher.values[number] /= times;
	return true;
}

static bool add_to(asking *a, rn_object object, rn_attribute attribute, double amount)
{
	int number = rn_model_find_number(a->model, object, attribute);
	if (number != RN_NONE)
		a->catcher.values[number] += amount;
	return number != RN_NONE;
}

/* Of a drop or a weight that is nothing no part makes anything else. */
static bool multiply(asking *a, rn_object object, rn_attribute attribute, double *amount)
{
	int number = rn_model_find_number(a->model, object, attribute);
	if (number == RN_NONE || !(a->catcher.values[number] > 0))
		return false;
	*amount = a->catcher.values[number] *= *amount;
	return true;
}

/* False when the model has nothing that could be changed so. *amount becomes what it is changed to. */
static bool change(asking *a, rn_otherwise_kind kind, double *amount)
{
	int fall = a->catcher.of->fall;
	bool has_line = a->found->line != RN_NONE;
	switch (kind) {
	case RN_OTHERWISE_AS_IS: return true;
	case RN_OTHERWISE_LONGER:
		return has_line && add_to(a, rn_object_of(RN_STATION, far_end(a)), RN_ATTRIBUTE_FURTHER, *amount);
	case RN_OTHERWISE_SOFTER: return has_line && change_rope(a, *amount);
	case RN_OTHERWISE_RING:
	case RN_OTHERWISE_BLOCK: return has_line && change_bearing(a, kind, amount);
	case RN_OTHERWISE_DROP: return multiply(a, rn_object_of(RN_FALL, fall), RN_ATTRIBUTE_DROP, amount);
	case RN_OTHERWISE_WEIGHT: return multiply(a, a->model->falls[fall].piece, RN_ATTRIBUTE_WEIGHT, amount);
	}
	return false;
}

/* ---- all of them --------------------------------------------------------------------------------- */

static rn_status fill(asking *a)
{
	rn_comparison *out = a->found;
	RN_TAKE(a->catcher.arena, out->list, ASKED);
	for (int i = 0; i < ASKED; i++) {
		rn_otherwise *o = &out->list[out->count];
		*o = (rn_otherwise){.kind = asked[i].kind, .amount = asked[i].amount};
		rn_case_values(a->model, a->catcher.of, a->catcher.values);
		if (!change(a, o->kind, &o->amount))
			continue;
		RN_TRY(rn_catcher_try(&a->catcher, 0, &o->row));
		out->count++;
	}
	out->shape = a->catcher.shape;
	return RN_OK;
}

rn_status rn_comparison_find(const rn_model *model, const rn_options *options, int case_index,
                             rn_comparison *comparison_out)
{
	rn_result_memory *memory;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_comparison found = {.case_index = case_index, .node = RN_NONE, .line = RN_NONE, .memory = memory};
	asking a = {.model = model, .found = &found};
	rn_status status = rn_catcher_create(&memory->arena, model, options, case_index, &a.catcher);
	if (status == RN_OK) {
		found.line = line_of(model, a.catcher.of->fall);
		status = fill(&a);
	}
	rn_catcher_release(&a.catcher);
	if (status == RN_OK)
		*comparison_out = found;
	else
		rn_comparison_release(&found);
	return status;
}

void rn_comparison_release(rn_comparison *comparison)
{
	rn_result_memory_release(&comparison->memory);
}
