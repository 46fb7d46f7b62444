/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ranges over all states that friction and lengths nobody knows can hold.
 *
 * At a settled shape with a free ring the balance fixes every ratio of tensions, so no range can be had from
 * one shape. Each through gets a number s in [-1, 1] instead,
 *
 *     T_after = T_before e^(s mu bend),
 *
 * every state that friction can hold is one choice of all of them, settled for it, and so is every length of
 * a leg within its error. Least and most over that box are looked for at its corners, inside, and along its
 * coordinates. In a picture of the loaded rig, whose shape is kept, the same is a linear program and sharp.
 */
#include <math.h>
#include <string.h>

#include "solver/base/points.h"
#include "solver/base/vec2.h"
#include "solver/model/place.h"
#include "solver/statics/friction.h"
#include "solver/statics/program.h"
#include "solver/study/workspace.h"

/* All corners of a box of so many dimensions are looked at; of larger ones this many. Then so many points
 * inside. */
enum { CORNERS_ALL = 8, CORNERS_MOST = 256, INSIDE = 64 };

/* Along a coordinate these places are tried, ends first. */
static const double along_coordinate[] = {-1, 1, 0, -0.5, 0.5};
enum { ALONG = sizeof along_coordinate / sizeof *along_coordinate };

/* A search along the coordinates ends when it has settled so many states; the largest rigs of the trade
 * need a tenth. */
enum { SEARCHED_MOST = 20000 };

/* One thing that is not known exactly: friction at a station, the length of a line or leg. */
typedef struct coordinate {
	double *target; /* where its value in [-1, 1] times `scale` goes */
	double scale;
} coordinate;

typedef struct ranger {
	const rn_model *model;
	const rn_case *c;
	rn_workspace *workspace;
	rn_arena *arena;
	double *values, *grip, *line_off, *leg_off;
	rn_unsure unsure;
	coordinate *coordinates;
	int count;
	double *point;     /* the state at hand, per coordinate */
	double **best;     /* per quantity, least and most: the state it was found in */
	double *found;     /* per quantity, least and most */
	double *first_direction; /* per node, NaN until it is pulled [rad] */
	int quantity_count;
	rn_ranges *ranges;
} ranger;

/* ---- quantities ---------------------------------------------------------------------------- */

/* In a row: tensions of all spans, pulls of all nodes, their directions off the first one seen, shares of
 * all parts. */
static int quantities_of(const ranger *r)
{
	const rn_case_result *m = r->ranges->middle;
	return m->span_count + 2 * r->model->node_count + m->part_count;
}

static double direction_off(ranger *r, int node, const double pull[2])
{
	double heading = atan2(pull[1], pull[0]);
	if (isnan(r->first_direction[node]))
		r->first_direction[node] = heading;
	return remainder(heading - r->first_direction[node], 2 * RN_PI);
}

/* Pulls smaller than this part of the largest load have no direction [-]. */
static const double pull_least = 1e-9;

static double quantity_of(ranger *r, const rn_case_result *a, int q)
{
	if (q < a->span_count)
		return a->spans[q].tension;
	q -= a->span_count;
	if (q < r->model->node_count)
		return hypot(a->nodes[q].pull[0], a->nodes[q].pull[1]);
	q -= r->model->node_count;
	if (q < r->model->node_count) {
		const double *pull = a->nodes[q].pull;
		bool pulled = hypot(pull[0], pull[1]) > pull_least * (1 + fabs(a->balance.worst));
		return pulled ? direction_off(r, q, pull) : (double)NAN;
	}
	q -= r->model->node_count;
	return a->parts[q].unchecked == RN_CHECKED ? a->parts[q].utilisation : (double)NAN;
}

static void keep_if_best(ranger *r, double value, int q)
{
	for (int most = 0; most < 2; most++) {
		int k = 2 * q + most;
		bool better = isnan(r->found[k]) || (most ? value > r->found[k] : value < r->found[k]);
		if (isnan(value) || !better)
			continue;
		r->found[k] = value;
		memcpy(r->best[k], r->point, (size_t)r->count * sizeof(double));
	}
}

/* ---- states -------------------------------------------------------------------------------- */

static void set_state(ranger *r)
{
	for (int i = 0; i < r->count; i++)
		*r->coordinates[i].target = r->coordinates[i].scale * r->point[i];
}

static rn_status settle(ranger *r, const rn_case_result **out)
{
	set_state(r);
	RN_TRY(rn_workspace_settle(r->workspace, r->c, r->values, true, out));
	return rn_case_holds(*out) ? RN_OK : rn_workspace_settle(r->workspace, r->c, r->values, false, out);
}

static rn_status see_state(ranger *r)
{
	const rn_case_result *a;
	RN_TRY(settle(r, &a));
	bool same_shape = a->span_count == r->ranges->middle->span_count;
	if (!rn_case_holds(a) || !same_shape) {
		r->ranges->lost_count++;
		return RN_OK;
	}
	r->ranges->state_count++;
	for (int q = 0; q < r->quantity_count; q++)
		keep_if_best(r, quantity_of(r, a, q), q);
	return RN_OK;
}

static rn_status see_corners(ranger *r)
{
	rn_points points;
	bool all = r->count <= CORNERS_ALL;
	double *point = r->point;
	RN_TRY(rn_points_begin(r->arena, r->count, &points));
	for (int k = 0; k < (all ? 1 << r->count : CORNERS_MOST); k++) {
		if (!all)
			rn_points_next(&points, point);
		for (int i = 0; i < r->count; i++)
			point[i] = (all ? (k >> i) & 1 : point[i] >= 0.5) ? 1 : -1;
		RN_TRY(see_state(r));
	}
	return RN_OK;
}

static rn_status see_inside(ranger *r)
{
	rn_points points;
	RN_TRY(rn_points_begin(r->arena, r->count, &points));
	for (int k = 0; k < INSIDE && r->count > 0; k++) {
		rn_points_next(&points, r->point);
		for (int i = 0; i < r->count; i++)
			r->point[i] = 2 * r->point[i] - 1;
		RN_TRY(see_state(r));
	}
	return RN_OK;
}

/* From the best state of one quantity along each coordinate in turn, keeping what is better. */
static rn_status search_quantity(ranger *r, int k, int *searched)
{
	for (int i = 0; i < r->count && !isnan(r->found[k]); i++) {
		double kept = r->best[k][i];
		for (int a = 0; a < ALONG && *searched < SEARCHED_MOST; a++) {
			memcpy(r->point, r->best[k], (size_t)r->count * sizeof(double));
			bool there = !(along_coordinate[a] < kept) && !(along_coordinate[a] > kept);
			if (there)
				continue;
			r->point[i] = along_coordinate[a];
			++*searched;
			RN_TRY(see_state(r));
		}
	}
	return RN_OK;
}

static rn_status search(ranger *r)
{
	int searched = 0;
	for (int k = 0; k < 2 * r->quantity_count; k++)
		RN_TRY(search_quantity(r, k, &searched));
	return RN_OK;
}

/* ---- what is unsure ------------------------------------------------------------------------ */

static void add_coordinate(ranger *r, double *target, double scale)
{
	r->coordinates[r->count++] = (coordinate){target, scale};
}

static double number(const ranger *r, rn_object object, rn_attribute attribute)
{
	return rn_model_value(r->model, r->values, object, attribute, 0);
}

/* Whether friction there can hold a difference of pulls: at a through, and behind the turns of a bollard
 * where the pull of the hand is given. */
static bool is_open(const ranger *r, int station)
{
	const rn_station *s = &r->model->stations[station];
	rn_contact_law law = rn_station_contact(r->model, r->values, station);
	bool grips = law.is_sheave ? law.efficiency < 1 : law.friction > 0;
	bool turned = r->model->nodes[s->node].kind == RN_NODE_BOLLARD &&
	              number(r, rn_object_of(RN_NODE, s->node), RN_ATTRIBUTE_TURNS) > 0;
	bool pulled = rn_model_find_number(r->model, rn_object_of(RN_STATION, station), RN_ATTRIBUTE_PULL) != RN_NONE;
	return grips && (s->kind == RN_THROUGH || (s->kind == RN_HOLD && turned && pulled));
}

static void find_coordinates(ranger *r)
{
	const rn_model *m = r->model;
	for (int i = 0; i < m->station_count; i++)
		if (is_open(r, i))
			add_coordinate(r, &r->grip[i], 1);
	for (int i = 0; i < m->line_count; i++)
		if (number(r, rn_object_of(RN_LINE, i), RN_ATTRIBUTE_LENGTH_ERROR) > 0)
			add_coordinate(r, &r->line_off[i], number(r, rn_object_of(RN_LINE, i), RN_ATTRIBUTE_LENGTH_ERROR));
	for (int i = 0; i < m->leg_count; i++) {
		double error = number(r, rn_object_of(RN_SLING, m->legs[i].sling), RN_ATTRIBUTE_LENGTH_ERROR);
		if (error > 0)
			add_coordinate(r, &r->leg_off[i], error);
	}
	r->ranges->unsure_count = r->count;
}

/* ---- from what was found to ranges ------------------------------------------------------------- */

static rn_spread range_of(const ranger *r, int q)
{
	bool known = !isnan(r->found[2 * q]);
	return (rn_spread){known ? r->found[2 * q] : 0, known ? r->found[2 * q + 1] : 0};
}

/* Tensions that come this near to nothing, of the largest, may be slack [-]. */
static const double slack_share = 1e-6;

static void fill_ranges(ranger *r)
{
	rn_ranges *out = r->ranges;
	int spans = out->middle->span_count, nodes = r->model->node_count;
	double largest = 0;
	for (int i = 0; i < spans; i++) {
		out->tensions[i] = range_of(r, i);
		largest = fmax(largest, fabs(out->tensions[i].most));
	}
	for (int i = 0; i < spans; i++)
		out->may_be_slack[i] = out->middle->spans[i].member.kind != RN_PROP &&
		                       out->tensions[i].least <= slack_share * largest;
	for (int i = 0; i < nodes; i++) {
		double first = isnan(r->first_direction[i]) ? 0 : r->first_direction[i];
		rn_spread off = range_of(r, spans + nodes + i);
		out->pulls[i] = range_of(r, spans + i);
		out->directions[i] = (rn_spread){first + off.least, first + off.most};
	}
	for (int i = 0; i < out->middle->part_count; i++)
		out->utilisations[i] = range_of(r, spans + 2 * nodes + i);
}

/* ---- a kept picture: by linear programs --------------------------------------------------------- */

/* Columns: tension of each span, two spares for each bend, then the pull of each fixed node along and across
 * the one it has in the middle. Rows: balance of each free node, the law of friction at each bend, what the
 * pulls are. */
typedef struct picture {
	double *matrix, *right;
	bool *is_free;
	int rows, columns;
} picture;

static double *entry(const picture *p, int row, int column)
{
	return &p->matrix[(size_t)row * (size_t)p->columns + (size_t)column];
}

static double exponent_most(const ranger *r, const rn_pass_result *pass)
{
	rn_contact_law law = rn_station_contact(r->model, r->values, pass->station);
	double turns = rn_model_value(r->model, r->values, rn_object_of(RN_NODE, pass->node), RN_ATTRIBUTE_TURNS, 0);
	double most = 0, unused;
	if (law.is_sheave)
		rn_friction_sheave((1 - law.efficiency) / (1 + law.efficiency), pass->bend, &most, &unused);
	else
		rn_friction_capstan(law.friction, pass->bend, turns, &most, &unused);
	return pass->lifted ? 0 : most;
}

/* T_a <= e^m T_b and T_b <= e^m T_a, each with a spare that is not negative. */
static void add_bend(const ranger *r, picture *p, const rn_pass_result *pass, int row, int spare)
{
	double most = exp(exponent_most(r, pass));
	*entry(p, row, pass->span_before) = 1;
	*entry(p, row, pass->span_after) = -most;
	*entry(p, row, spare) = 1;
	*entry(p, row + 1, pass->span_after) = 1;
	*entry(p, row + 1, pass->span_before) = -most;
	*entry(p, row + 1, spare + 1) = 1;
}

/* Puts the force of each span on a node, along and across an axis, into two rows. */
static void add_node(const ranger *r, picture *p, int node, const double axis[2], int row)
{
	const rn_case_result *m = r->ranges->middle;
	for (int i = 0; i < m->span_count; i++) {
		const rn_span_result *s = &m->spans[i];
		double away = (s->from == node) - (double)(s->to == node);
		double u[2] = {cos(s->heading), sin(s->heading)};
		*entry(p, row, i) += away * (axis[0] * u[0] + axis[1] * u[1]);
		*entry(p, row + 1, i) += away * (axis[0] * u[1] - axis[1] * u[0]);
	}
}

static void middle_axis(const rn_node_result *node, double axis[2])
{
	double size = hypot(node->pull[0], node->pull[1]);
	axis[0] = size > 0 ? node->pull[0] / size : 1;
	axis[1] = size > 0 ? node->pull[1] / size : 0;
}

static void fill_picture(const ranger *r, picture *p)
{
	const rn_case_result *m = r->ranges->middle;
	int row = 0, pull = m->span_count + 2 * m->pass_count;
	static const double upright[2] = {1, 0};
	for (int i = 0; i < m->span_count; i++)
		p->is_free[i] = m->spans[i].member.kind == RN_PROP;
	for (int i = 0; i < m->pass_count; i++, row += 2)
		add_bend(r, p, &m->passes[i], row, m->span_count + 2 * i);
	for (int i = 0; i < r->model->node_count; i++, row += 2) {
		double axis[2];
		middle_axis(&m->nodes[i], axis);
		if (!rn_node_is_fixed(&r->model->nodes[i])) {
			add_node(r, p, i, upright, row);
			p->right[row] = -m->nodes[i].load[0];
			p->right[row + 1] = -m->nodes[i].load[1];
			continue;
		}
		add_node(r, p, i, axis, row);
		for (int k = 0; k < 2; k++, pull++) {
			*entry(p, row + k, pull) = -1;
			p->is_free[pull] = true;
		}
	}
}

static int fixed_count(const rn_model *m)
{
	int count = 0;
	for (int i = 0; i < m->node_count; i++)
		count += rn_node_is_fixed(&m->nodes[i]);
	return count;
}

static rn_spread as_range(const rn_extent *e, double middle)
{
	if (!e->found)
		return (rn_spread){middle, middle};
	return (rn_spread){e->open_below ? -HUGE_VAL : e->least, e->open_above ? HUGE_VAL : e->most};
}

/* From the extents of a pull along and across its middle direction: no smaller than the truth. */
static void range_of_pull(const double pull[2], rn_spread along, rn_spread across, rn_spread *size, rn_spread *direction)
{
	double heading = atan2(pull[1], pull[0]), aside = fmax(fabs(across.least), fabs(across.most));
	size->least = fmax(0, along.least);
	size->most = hypot(fmax(fabs(along.least), fabs(along.most)), aside);
	double near = along.least > 0 ? along.least : 0;
	double below = fmin(atan2(across.least, near), atan2(across.least, fmax(near, along.most)));
	double above = fmax(atan2(across.most, near), atan2(across.most, fmax(near, along.most)));
	bool any = !(along.least > 0);
	*direction = any ? (rn_spread){heading - RN_PI, heading + RN_PI} : (rn_spread){heading + below, heading + above};
}

static void take_extents(ranger *r, const rn_extent *extents)
{
	rn_ranges *out = r->ranges;
	const rn_case_result *m = out->middle;
	int pull = m->span_count + 2 * m->pass_count;
	for (int i = 0; i < m->span_count; i++)
		out->tensions[i] = as_range(&extents[i], m->spans[i].tension);
	for (int i = 0; i < r->model->node_count; i++) {
		if (!rn_node_is_fixed(&r->model->nodes[i]))
			continue;
		double size = hypot(m->nodes[i].pull[0], m->nodes[i].pull[1]);
		range_of_pull(m->nodes[i].pull, as_range(&extents[pull], size), as_range(&extents[pull + 1], 0),
		              &out->pulls[i], &out->directions[i]);
		pull += 2;
	}
	for (int i = 0; i < m->span_count; i++)
		out->may_be_slack[i] = m->spans[i].member.kind != RN_PROP && !(out->tensions[i].least > 0);
	out->by_balance = true;
}

static rn_status range_picture(ranger *r)
{
	const rn_case_result *m = r->ranges->middle;
	picture p = {.rows = 2 * m->pass_count + 2 * r->model->node_count,
	             .columns = m->span_count + 2 * m->pass_count + 2 * fixed_count(r->model)};
	rn_extent *extents;
	RN_TAKE(r->arena, p.matrix, p.rows * p.columns + 1);
	RN_TAKE(r->arena, p.right, p.rows + 1);
	RN_TAKE(r->arena, p.is_free, p.columns + 1);
	RN_TAKE(r->arena, extents, p.columns + 1);
	fill_picture(r, &p);
	rn_program program = {p.rows, p.columns, p.matrix, p.right, p.is_free};
	RN_TRY(rn_program_extents(&program, extents));
	take_extents(r, extents);
	return RN_OK;
}

/* ---- the whole ----------------------------------------------------------------------------- */

static rn_status take_lists(ranger *r)
{
	rn_ranges *out = r->ranges;
	int spans = out->middle->span_count, nodes = r->model->node_count, parts = out->middle->part_count;
	RN_TAKE(r->arena, out->tensions, spans + 1);
	RN_TAKE(r->arena, out->may_be_slack, spans + 1);
	RN_TAKE(r->arena, out->pulls, nodes + 1);
	RN_TAKE(r->arena, out->directions, nodes + 1);
	RN_TAKE(r->arena, out->utilisations, parts + 1);
	r->quantity_count = quantities_of(r);
	RN_TAKE(r->arena, r->found, 2 * r->quantity_count + 1);
	RN_TAKE(r->arena, r->best, 2 * r->quantity_count + 1);
	RN_TAKE(r->arena, r->first_direction, nodes + 1);
	for (int i = 0; i < nodes; i++)
		r->first_direction[i] = (double)NAN;
	for (int k = 0; k < 2 * r->quantity_count; k++) {
		r->found[k] = (double)NAN;
		RN_TAKE(r->arena, r->best[k], r->count + 1);
	}
	return RN_OK;
}

static rn_status take_numbers(ranger *r)
{
	const rn_model *m = r->model;
	RN_TAKE(r->arena, r->values, m->number_count + 1);
	RN_TAKE(r->arena, r->grip, m->station_count + 1);
	RN_TAKE(r->arena, r->line_off, m->line_count + 1);
	RN_TAKE(r->arena, r->leg_off, m->leg_count + 1);
	RN_TAKE(r->arena, r->coordinates, m->station_count + m->line_count + m->leg_count + 1);
	RN_TAKE(r->arena, r->point, m->station_count + m->line_count + m->leg_count + 1);
	/* friction at its most: a smaller one is a smaller grip */
	rn_case slippery = *r->c;
	slippery.level = RN_FRICTION_HIGH;
	rn_case_values(m, &slippery, r->values);
	r->unsure = (rn_unsure){.grip = r->grip, .line_off = r->line_off, .leg_off = r->leg_off};
	return RN_OK;
}

static rn_status settle_as_said(ranger *r, const rn_case_result **out)
{
	double *said;
	RN_TAKE(r->arena, said, r->model->number_count + 1);
	rn_case_values(r->model, r->c, said);
	rn_workspace_unsure(r->workspace, NULL);
	RN_TRY(rn_workspace_settle(r->workspace, r->c, said, false, out));
	rn_workspace_unsure(r->workspace, &r->unsure);
	return RN_OK;
}

/* The middle of the box: no friction, no errors. */
static rn_status settle_middle(ranger *r)
{
	const rn_case_result *settled;
	memset(r->point, 0, (size_t)r->count * sizeof(double));
	if (r->model->drawn_under_load) /* the shape of a picture goes with the way the rope runs in it */
		RN_TRY(settle_as_said(r, &settled));
	else
		RN_TRY(settle(r, &settled));
	RN_TAKE(r->arena, r->ranges->middle, 1);
	return rn_case_result_copy(r->arena, r->model, settled, r->ranges->middle);
}

static rn_status find(ranger *r, const rn_options *options)
{
	RN_TRY(take_numbers(r));
	find_coordinates(r);
	RN_TRY(rn_workspace_create(r->model, options, &r->workspace));
	rn_workspace_unsure(r->workspace, &r->unsure);
	RN_TRY(settle_middle(r));
	RN_TRY(take_lists(r));
	if (r->ranges->middle->outcome == RN_OUTCOME_KEPT)
		return range_picture(r);
	RN_TRY(see_corners(r));
	RN_TRY(see_inside(r));
	RN_TRY(search(r));
	fill_ranges(r);
	return RN_OK;
}

rn_status rn_ranges_find(const rn_model *model, const rn_options *options, int case_index, rn_ranges *ranges_out)
{
	if (model->cases[case_index].fall != RN_NONE)
		return RN_STATUS_ARGUMENT;
	rn_result_memory *memory;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_ranges ranges = {.case_index = case_index, .memory = memory};
	ranger r = {.model = model, .c = &model->cases[case_index], .arena = &memory->arena, .ranges = &ranges};
	rn_status status = find(&r, options);
	rn_workspace_destroy(r.workspace);
	if (status == RN_OK)
		*ranges_out = ranges;
	else
		rn_ranges_release(&ranges);
	return status;
}

void rn_ranges_release(rn_ranges *ranges)
{
	rn_result_memory_release(&ranges->memory);
}
