/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/strength/parts.h"

#include <math.h>

#include "solver/base/vec2.h"
#include "solver/model/place.h"

/* ---- which parts there are ------------------------------------------------------------------- */

static bool node_is_part(const rn_node *node)
{
	return node->kind != RN_NODE_HAND && node->kind != RN_NODE_JOINT && node->kind != RN_NODE_PIECE;
}

static void add_part(rn_part_result *parts, int *count, rn_object object, int at)
{
	parts[(*count)++] = (rn_part_result){.object = object, .at = at};
}

rn_status rn_parts_create(rn_arena *arena, const rn_model *m, rn_part_result **parts_out, int *count_out)
{
	rn_part_result *parts;
	int count = 0;
	RN_TAKE(arena, parts, m->prop_count + m->line_count + 2 * m->sling_count + 2 * m->node_count + m->station_count + 1);
	for (int i = 0; i < m->line_count; i++)
		add_part(parts, &count, rn_object_of(RN_LINE, i), RN_NONE);
	for (int i = 0; i < m->sling_count; i++)
		add_part(parts, &count, rn_object_of(RN_SLING, i), RN_NONE);
	for (int i = 0; i < m->prop_count; i++)
		if (!m->props[i].is_piece)
			add_part(parts, &count, rn_object_of(RN_PROP, i), RN_NONE);
	for (int i = 0; i < m->node_count; i++)
		if (node_is_part(&m->nodes[i]))
			add_part(parts, &count, rn_object_of(RN_NODE, i), i);
	/* a connector is a part at each place it is used */
	for (int i = 0; i < m->node_count; i++)
		if (m->nodes[i].connector != RN_NONE)
			add_part(parts, &count, rn_object_of(RN_ITEM, m->nodes[i].connector), i);
	for (int i = 0; i < m->station_count; i++)
		if (m->stations[i].connector != RN_NONE)
			add_part(parts, &count, rn_object_of(RN_ITEM, m->stations[i].connector),
			         m->stations[i].node);
	for (int i = 0; i < m->sling_count; i++)
		if (m->slings[i].connector != RN_NONE)
			add_part(parts, &count, rn_object_of(RN_ITEM, m->slings[i].connector),
			         m->legs[m->slings[i].first_leg].to);
	*parts_out = parts;
	*count_out = count;
	return RN_OK;
}

/* ---- demand -------------------------------------------------------------------------------- */

/* Two pulls nearer to parallel than this count as parallel [-]: rounding of their directions. */
static const double parallel = 1e-12;

/* Length of the sum of the forces on one side (+1 left, -1 right) of a line along `axis`. Those along
 * the line itself count as it is turned a little: with the axis (+1) or against it (-1). */
static double half_plane(const double *forces, int count, const double axis[2], double side, double turn)
{
	double sx = 0, sy = 0, length = hypot(axis[0], axis[1]);
	for (int k = 0; k < count; k++) {
		double x = forces[2 * k], y = forces[2 * k + 1];
		double along = axis[0] * x + axis[1] * y, across = axis[0] * y - axis[1] * x;
		bool on_line = fabs(across) <= parallel * length * hypot(x, y);
		if (on_line ? turn * along <= 0 : side * across <= 0)
			continue;
		sx += x;
		sy += y;
	}
	return hypot(sx, sy);
}

/* As c turns, the forces with c . f > 0 change only where c is square to one of them; between two such
 * directions the sum is a fixed vector projected on c, and no larger than its length. */
double rn_parts_opposed_pull(const double *forces, int count)
{
	double most = 0;
	for (int i = 0; i < 4 * count; i++)
		most = fmax(most, half_plane(forces, count, &forces[2 * (i / 4)], i & 1 ? 1 : -1, i & 2 ? 1 : -1));
	return most;
}

/* Forces that meet at a node one by one: each sling leg, each end of a line, each through with its
 * two spans added. More than so many are taken in lots whose demands are added up: the demand of all is
 * never larger than that sum. */
enum { FORCES_MOST = 64 };

typedef struct gathered {
	double forces[2 * FORCES_MOST], demand;
	int count;
} gathered;

static void close_lot(gathered *g)
{
	g->demand += rn_parts_opposed_pull(g->forces, g->count);
	g->count = 0;
}

static void add_force(gathered *g, double x, double y)
{
	if (g->count == FORCES_MOST)
		close_lot(g);
	g->forces[2 * g->count] = x;
	g->forces[2 * g->count + 1] = y;
	g->count++;
}

static bool is_through(const rn_model *m, const rn_span_result *span, int node)
{
	if (span->member.kind != RN_LINE)
		return false;
	const rn_line *line = &m->lines[span->member.index];
	const rn_station *s = &m->stations[line->first_station + span->index];
	return s[span->from == node ? 0 : 1].kind == RN_THROUGH;
}

static double node_demand(const rn_model *m, const rn_case_result *answer, int node)
{
	gathered g = {.count = 0};
	const rn_node_result *n = &answer->nodes[node];
	if (rn_node_is_fixed(&m->nodes[node]))
		add_force(&g, -n->pull[0], -n->pull[1]);
	else
		add_force(&g, n->load[0], n->load[1]);
	for (int i = 0; i < answer->pass_count; i++)
		if (answer->passes[i].node == node)
			add_force(&g, answer->passes[i].force[0], answer->passes[i].force[1]);
	for (int i = 0; i < answer->span_count; i++) {
		const rn_span_result *span = &answer->spans[i];
		if ((span->from != node && span->to != node) || is_through(m, span, node))
			continue;
		double sign = span->from == node ? 1 : -1;
		add_force(&g, sign * span->tension * cos(span->heading),
		          sign * span->tension * sin(span->heading));
	}
	close_lot(&g);
	return g.demand;
}

static double member_demand(const rn_case_result *answer, rn_object member, int *at)
{
	double most = -1;
	for (int i = 0; i < answer->span_count; i++) {
		const rn_span_result *span = &answer->spans[i];
		if (span->member.kind != member.kind || span->member.index != member.index ||
		    fabs(span->tension) <= most)
			continue;
		most = fabs(span->tension);
		*at = span->to;
	}
	return fmax(most, 0);
}

static double demand(const rn_model *m, const rn_case_result *answer, rn_part_result *part)
{
	switch (part->object.kind) {
	case RN_LINE:
	case RN_PROP:
	case RN_SLING: return member_demand(answer, part->object, &part->at);
	case RN_NODE:
		if (rn_node_is_fixed(&m->nodes[part->object.index]))
			return hypot(answer->nodes[part->at].pull[0], answer->nodes[part->at].pull[1]);
		return node_demand(m, answer, part->object.index);
	default: return node_demand(m, answer, part->at);
	}
}

/* ---- limit --------------------------------------------------------------------------------- */

static int gear_of(const rn_model *m, rn_object object)
{
	switch (object.kind) {
	case RN_LINE: return m->lines[object.index].gear;
	case RN_SLING: return m->slings[object.index].gear;
	case RN_NODE: return m->nodes[object.index].gear;
	case RN_ITEM: return object.index;
	default: return RN_NONE;
	}
}

/* A part's own number, else its gear's, else (for the design factor) the whole gear list's. */
static double number(const rn_model *m, const double *values, const rn_part_result *part,
                     rn_attribute attribute)
{
	rn_object gear = rn_object_of(RN_ITEM, gear_of(m, part->object));
	double whole = attribute == RN_ATTRIBUTE_DESIGN_FACTOR
	                       ? rn_model_value(m, values, rn_object_of(RN_RIGGING, 0), attribute, 0)
	                       : 0;
	return rn_model_value(m, values, part->object, attribute,
	                      rn_model_value(m, values, gear, attribute, whole));
}

static void set_limit(rn_part_result *part)
{
	double by_strength = part->strength > 0 && part->design_factor > 0
	                             ? part->strength / part->design_factor
	                             : 0;
	part->limit = by_strength;
	part->governed = by_strength > 0 ? RN_BY_STRENGTH : RN_BY_NOTHING;
	if (part->working_load > 0 && (by_strength == 0 || part->working_load < by_strength)) {
		part->limit = part->working_load;
		part->governed = RN_BY_WORKING_LOAD;
	}
	part->unchecked = part->limit > 0 ? RN_CHECKED
	                  : part->strength > 0 ? RN_NO_DESIGN_FACTOR
	                                       : RN_NO_RATING;
}

/* ---- props --------------------------------------------------------------------------------- */

static const rn_span_result *span_of(const rn_case_result *answer, rn_object member)
{
	for (int i = 0; i < answer->span_count; i++)
		if (answer->spans[i].member.kind == member.kind &&
		    answer->spans[i].member.index == member.index)
			return &answer->spans[i];
	return NULL;
}

/* Where a number of the wood comes from; one that is not there is no more than a guess. */
static rn_origin origin_of(const rn_model *m, rn_object object, rn_attribute attribute)
{
	int i = rn_model_find_number(m, object, attribute);
	return i == RN_NONE ? RN_GUESSED : m->numbers[i].origin;
}

/* A published row of a table is as good as what the file says, one from memory is not. */
static rn_unchecked wood_unchecked(const rn_model *m, rn_object prop)
{
	rn_origin strength = origin_of(m, prop, RN_ATTRIBUTE_COMPRESSION);
	rn_origin modulus = origin_of(m, prop, RN_ATTRIBUTE_MODULUS);
	if (strength == RN_GUESSED || modulus == RN_GUESSED)
		return RN_WOOD_UNKNOWN;
	return strength == RN_ESTIMATED || modulus == RN_ESTIMATED ? RN_WOOD_ESTIMATED : RN_CHECKED;
}

/* A bar with hinged ends is crushed at sigma_c A and buckles at pi^2 E I / L^2 (Euler), whichever
 * comes first; the limit is that over the design factor. */
static void set_prop_limit(const rn_model *m, const double *values, const rn_case_result *answer,
                           rn_part_result *part)
{
	rn_object prop = part->object;
	const rn_span_result *span = span_of(answer, prop);
	double diameter = rn_model_value(m, values, prop, RN_ATTRIBUTE_DIAMETER, 0);
	double wall = rn_model_value(m, values, prop, RN_ATTRIBUTE_WALL, 0);
	double crushing = rn_model_value(m, values, prop, RN_ATTRIBUTE_COMPRESSION, 0) *
	                  rn_section_area(diameter, wall);
	double buckling = rn_model_value(m, values, prop, RN_ATTRIBUTE_MODULUS, 0) *
	                  rn_section_inertia(diameter, wall) * RN_PI * RN_PI /
	                  (span->length * span->length);
	part->limit = 0;
	part->unchecked = wood_unchecked(m, prop);
	if (span->tension > 0)
		part->unchecked = RN_PULLED;
	else if (crushing <= 0)
		part->unchecked = RN_WOOD_UNKNOWN;
	else if (part->unchecked == RN_CHECKED && part->design_factor <= 0)
		part->unchecked = RN_NO_DESIGN_FACTOR;
	if (part->unchecked != RN_CHECKED)
		return;
	part->governed = buckling < crushing ? RN_BY_BUCKLING : RN_BY_CRUSHING;
	part->strength = fmin(buckling, crushing);
	part->limit = part->strength / part->design_factor;
}

void rn_parts_fill(const rn_model *m, const double *values, rn_case_result *answer)
{
	for (int i = 0; i < answer->part_count; i++) {
		rn_part_result *part = &answer->parts[i];
		part->demand = demand(m, answer, part);
		part->strength = number(m, values, part, RN_ATTRIBUTE_STRENGTH);
		part->design_factor = number(m, values, part, RN_ATTRIBUTE_DESIGN_FACTOR);
		part->working_load = number(m, values, part, RN_ATTRIBUTE_WORKING_LOAD);
		set_limit(part);
		if (part->object.kind == RN_PROP)
			set_prop_limit(m, values, answer, part);
		else if (part->unchecked == RN_NO_RATING && gear_of(m, part->object) == RN_NONE)
			part->unchecked = RN_NO_GEAR;
		part->utilisation = part->limit > 0 ? part->demand / part->limit : 0;
	}
}
