/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The best place. The worst of several utilisations has an edge wherever another part takes over, ends where nothing
 * holds any more, and can have several dips: so all of the box is looked at in steps first, and from the deepest dips
 * among them a search that needs no slopes goes down. A choice that cannot be held against the model as drawn, because
 * a part is not checked there that is as drawn, is no better however little the others carry.
 */
#include <math.h>

#include "solver/study/descent.h"
#include "solver/study/vary.h"

/* Dips that are gone down from. */
enum { DIPS_MOST = 5 };

/* The best is found to this part of its range [-]: below what anybody measures. */
static const double close_enough = 1e-7, close_enough_of_two = 1e-6;

/* Less than this part better than as drawn is nothing to move a ring for [-]. */
static const double worth_moving = 1e-3;

/* How much more counts as flat [-]; how near its end is found, in parts of the range [-]. */
static const double flat_more = 0.05, flat_enough = 1e-4;

/* Nearer to a bound than this part of the range is at it [-]: what the search leaves. */
static const double bound_near = 1e-5;

typedef struct seeker {
	rn_varying vary;
	rn_placed *placed;
	const bool *checked; /* per part: loaded and checked as drawn, or not loaded */
	rn_descent dips[DIPS_MOST];
	int dip_count;
} seeker;

/* ---- what is made least ------------------------------------------------------------------------ */

static double goal_of(const rn_placed *placed, const rn_tried *t)
{
	if (!placed->of_part)
		return t->part == RN_NONE ? -1 : t->utilisation;
	if (!placed->by_pull)
		return t->own_checked ? t->own_utilisation : -1;
	return placed->map.result->cases[0].parts[placed->map.part].object.kind == RN_STEM ? t->own_stress : t->own_demand;
}

/* INFINITY: no answer, or none that can be held against the one as drawn. */
static double value_of(seeker *s, const rn_tried *t, const double *shares)
{
	double goal = goal_of(s->placed, t);
	if (t->stand != RN_STAND_FOUND || goal < 0)
		return (double)INFINITY;
	for (int p = 0; p < s->placed->map.part_count; p++)
		if (shares[p] < 0 && s->checked[p]) {
			s->placed->drawn_unlike++;
			return (double)INFINITY;
		}
	return goal;
}

static rn_status try_at(seeker *s, const double *at, rn_tried *tried, double *value_out)
{
	const rn_varied *map = &s->placed->map;
	double value[RN_VARIED_MOST] = {0};
	for (int i = 0; i < RN_VARIED_MOST && i < map->of_count; i++)
		value[i] = rn_vary_value(map, i, at[i]);
	RN_TRY(rn_vary_try(&s->vary, value, tried, s->vary.spare, NULL, NULL));
	*value_out = value_of(s, tried, s->vary.spare);
	return RN_OK;
}

static rn_status goal_at(void *context, const double *at, double *value_out)
{
	rn_tried tried;
	return try_at(context, at, &tried, value_out);
}

/* What is not checked as drawn may stay so. */
static rn_status see_drawn(seeker *s)
{
	rn_placed *placed = s->placed;
	rn_varied *map = &placed->map;
	bool *checked, found = map->drawn.stand == RN_STAND_FOUND;
	placed->of_part = map->part != RN_NONE;
	placed->by_pull = placed->of_part && found && !map->drawn.own_checked;
	placed->drawn_goal = found ? goal_of(placed, &map->drawn) : -1;
	RN_TAKE(s->vary.arena, checked, map->part_count + 1);
	for (int p = 0; p < map->part_count; p++)
		checked[p] = found && map->drawn_shares[p] >= 0;
	s->checked = checked;
	return RN_OK;
}

/* ---- dips -------------------------------------------------------------------------------------- */

/* The deepest first. */
static void insert(seeker *s, rn_descent dip)
{
	int i = s->dip_count < DIPS_MOST ? s->dip_count++ : DIPS_MOST;
	for (; i > 0 && s->dips[i - 1].value > dip.value; i--)
		if (i < DIPS_MOST)
			s->dips[i] = s->dips[i - 1];
	if (i < DIPS_MOST)
		s->dips[i] = dip;
}

static bool is_dip(const double *values, const int counts[2], int i)
{
	int x = i % counts[0], y = i / counts[0];
	for (int dy = -1; dy <= 1; dy++)
		for (int dx = -1; dx <= 1; dx++) {
			int u = x + dx, v = y + dy;
			bool inside = u >= 0 && v >= 0 && u < counts[0] && v < counts[1];
			if (inside && values[v * counts[0] + u] < values[i])
				return false;
		}
	return isfinite(values[i]);
}

static rn_descent dip_at(const rn_varied *map, int i, double value)
{
	rn_descent d = {.size = map->of_count, .step = 0.5, .value = value,
	                .close = map->of_count == 1 ? close_enough : close_enough_of_two, .of = goal_at};
	for (int k = 0; k < map->of_count; i /= map->counts[k], k++) {
		d.at[k] = (double)(i % map->counts[k]) / (map->counts[k] - 1);
		d.step = fmin(d.step, 1.0 / (map->counts[k] - 1));
	}
	return d;
}

static rn_status find_dips(seeker *s)
{
	const rn_varied *map = &s->placed->map;
	int count = map->counts[0] * map->counts[1];
	double *values;
	RN_TAKE(s->vary.arena, values, count);
	for (int i = 0; i < count; i++)
		values[i] = value_of(s, &map->tried[i], map->shares + (size_t)i * (size_t)map->part_count);
	for (int i = 0; i < count; i++)
		if (is_dip(values, map->counts, i))
			insert(s, dip_at(map, i, values[i]));
	return RN_OK;
}

/* As drawn, where that is in the box: what is found is never worse than it. */
static void add_drawn(seeker *s)
{
	const rn_varied *map = &s->placed->map;
	double goal = s->placed->drawn_goal;
	rn_descent d = dip_at(map, 0, goal);
	for (int k = 0; k < map->of_count; k++) {
		d.at[k] = (map->drawn.value[k] - map->of[k].from) / (map->of[k].to - map->of[k].from);
		if (!(d.at[k] >= 0 && d.at[k] <= 1))
			return;
	}
	if (goal >= 0)
		insert(s, d);
}

/* ---- how flat it is ------------------------------------------------------------------------------- */

typedef struct flat_end {
	double value;
	bool bound, lost;
} flat_end;

/* From the best along one number, the other kept, until more than that is carried; in steps of the map, then by
 * halves. */
static rn_status find_flat(seeker *s, const double *best, int k, int way, flat_end *end_out)
{
	const rn_varied *map = &s->placed->map;
	double at[RN_VARIED_MOST] = {best[0], best[1]}, most = s->placed->goal * (1 + flat_more), value, beyond = 0, far;
	double step = way / (double)(map->counts[k] - 1), inside = best[k];
	bool bound = false;
	while (!bound) {
		far = fmin(fmax(inside + step, 0), 1);
		at[k] = far;
		RN_TRY(goal_at(s, at, &value));
		if (value > most)
			break;
		inside = far;
		bound = far <= 0 || far >= 1;
	}
	for (beyond = value; !bound && fabs(far - inside) > flat_enough;) {
		at[k] = (far + inside) / 2;
		RN_TRY(goal_at(s, at, &value));
		*(value > most ? &far : &inside) = at[k];
		beyond = value > most ? value : beyond;
	}
	*end_out = (flat_end){rn_vary_value(map, k, inside), bound, !bound && isinf(beyond)};
	return RN_OK;
}

static rn_status look_round(seeker *s, const double *best)
{
	rn_placed *placed = s->placed;
	for (int k = 0; k < RN_VARIED_MOST && k < placed->map.of_count; k++) {
		bool low = best[k] < bound_near, high = best[k] > 1 - bound_near;
		double edge = 2 * flat_enough * (placed->map.of[k].to - placed->map.of[k].from), here = placed->best.value[k];
		flat_end from = {here, low, false}, to = {here, high, false};
		placed->at_bound[k] = high - low;
		if (!low)
			RN_TRY(find_flat(s, best, k, -1, &from));
		if (!high)
			RN_TRY(find_flat(s, best, k, 1, &to));
		placed->flat_from[k] = from.value;
		placed->flat_to[k] = to.value;
		placed->flat_from_bound[k] = from.bound;
		placed->flat_to_bound[k] = to.bound;
		placed->flat_from_lost[k] = from.lost;
		placed->flat_to_lost[k] = to.lost;
		bool beside = (from.lost && here - from.value < edge) || (to.lost && to.value - here < edge);
		placed->at_edge = placed->at_edge || beside;
	}
	return RN_OK;
}

/* ---- the whole ----------------------------------------------------------------------------- */

/* A search that ends a hair inside its bound ends at it. */
static void put_at_bounds(int size, double *at)
{
	for (int k = 0; k < RN_VARIED_MOST && k < size; k++)
		at[k] = at[k] < bound_near ? 0 : at[k] > 1 - bound_near ? 1 : at[k];
}

static rn_status keep_best(seeker *s, const rn_descent *best)
{
	rn_placed *placed = s->placed;
	double at[RN_VARIED_MOST] = {best->at[0], best->at[1]}, value;
	put_at_bounds(best->size, at);
	RN_TRY(goal_at(s, at, &value));
	for (int k = 0; k < best->size && !(value <= best->value * (1 + worth_moving / 10)); k++)
		at[k] = best->at[k];
	RN_TRY(try_at(s, at, &placed->best, &placed->goal));
	RN_TRY(rn_vary_try(&s->vary, placed->best.value, &placed->best, s->vary.spare, &placed->model, &placed->result));
	placed->found = true;
	placed->better = placed->drawn_goal < 0 || placed->goal < placed->drawn_goal * (1 - worth_moving);
	return look_round(s, at);
}

static rn_status find(seeker *s, const rn_varied_number *of, int of_count, const int *steps)
{
	int best = 0;
	RN_TRY(rn_vary_begin(&s->vary, of, of_count, steps));
	RN_TRY(see_drawn(s));
	RN_TRY(find_dips(s));
	add_drawn(s);
	for (int i = 0; i < s->dip_count; i++) {
		s->dips[i].context = s;
		RN_TRY(rn_descend(&s->dips[i]));
		best = s->dips[i].value < s->dips[best].value ? i : best;
	}
	return s->dip_count > 0 ? keep_best(s, &s->dips[best]) : RN_OK;
}

rn_status rn_place_find(const rn_model *model, const rn_options *options, const rn_varied_number *of, int of_count,
                        const int *steps, rn_object part, rn_placed *placed_out)
{
	rn_result_memory *memory;
	rn_options of_each = *options;
	of_each.side_check = false; /* adds a word to an answer, and nothing else */
	if (model->drawn_under_load)
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_placed found = {.map = {.memory = memory}};
	seeker s = {.vary = {.model = model, .options = &of_each, .arena = &memory->arena, .varied = &found.map, .part = part},
	            .placed = &found};
	rn_status status = find(&s, of, of_count, steps);
	if (status == RN_OK)
		*placed_out = found;
	else
		rn_place_release(&found);
	return status;
}

void rn_place_release(rn_placed *placed)
{
	rn_result_destroy(placed->result);
	rn_model_destroy(placed->model);
	placed->result = NULL;
	placed->model = NULL;
	rn_vary_release(&placed->map);
}
