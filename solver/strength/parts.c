/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/strength/parts.h"

#include <math.h>

#include "solver/base/vec2.h"
#include "solver/model/place.h"
#include "solver/strength/derate.h"
#include "solver/strength/hitch.h"
#include "solver/strength/spans.h"

/* ---- which parts there are ------------------------------------------------------------------- */

/* What a stem carries it is judged by itself; a hand, a knot and a log are no gear. Such a place is a part only
 * with gear fixed to it or a limit of its own. */
static bool node_is_part(const rn_model *m, int node)
{
	const rn_node *n = &m->nodes[node];
	bool own = rn_model_find_number(m, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_WORKING_LOAD) != RN_NONE;
	bool carried = n->stem != RN_NONE && n->kind != RN_NODE_BOLLARD;
	bool bare = carried || n->kind == RN_NODE_HAND || n->kind == RN_NODE_JOINT || n->kind == RN_NODE_PIECE;
	return !bare || n->gear != RN_NONE || own;
}

/* A stem is a part when something is on it or on a branch of it. */
static bool stem_is_part(const rn_model *m, int stem)
{
	for (int i = 0; i < m->node_count; i++)
		if (rn_node_is_fixed(&m->nodes[i]) && rn_node_grows_on(m, i, stem))
			return true;
	return false;
}

static void add_part(rn_part_result *parts, int *count, rn_object object, int at)
{
	parts[(*count)++] = (rn_part_result){.object = object, .at = at};
}

/* One at each node its legs lead to. */
static void add_sling_connector(const rn_model *m, const rn_sling *sling, rn_part_result *parts, int *count)
{
	int before = *count;
	for (int k = 0; k < sling->leg_count && sling->connector != RN_NONE; k++) {
		int far = rn_hitch_far(m, sling->first_leg + k), i = before;
		while (i < *count && parts[i].at != far)
			i++;
		if (i == *count)
			add_part(parts, count, rn_object_of(RN_ITEM, sling->connector), far);
	}
}

rn_status rn_parts_create(rn_arena *arena, const rn_model *m, rn_part_result **parts_out, int *count_out)
{
	rn_part_result *parts;
	int count = 0;
	RN_TAKE(arena, parts, m->prop_count + m->line_count + m->sling_count + 2 * m->leg_count + 2 * m->node_count +
	                              m->station_count + m->stem_count + 1);
	for (int i = 0; i < m->line_count; i++)
		add_part(parts, &count, rn_object_of(RN_LINE, i), RN_NONE);
	for (int i = 0; i < m->sling_count; i++)
		add_part(parts, &count, rn_object_of(RN_SLING, i), RN_NONE);
	for (int i = 0; i < m->prop_count; i++)
		if (!m->props[i].is_piece)
			add_part(parts, &count, rn_object_of(RN_PROP, i), RN_NONE);
	for (int i = 0; i < m->node_count; i++)
		if (node_is_part(m, i))
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
		add_sling_connector(m, &m->slings[i], parts, &count);
	for (int i = 0; i < m->leg_count; i++)
		if (m->legs[i].connector != RN_NONE)
			add_part(parts, &count, rn_object_of(RN_ITEM, m->legs[i].connector), rn_hitch_far(m, i));
	for (int i = 0; i < m->stem_count; i++)
		if (stem_is_part(m, i))
			add_part(parts, &count, rn_object_of(RN_STEM, i), RN_NONE);
	*parts_out = parts;
	*count_out = count;
	return RN_OK;
}

/* ---- what meets at a node --------------------------------------------------------------------- */

/* Sorts items 0 .. count - 1 by the node each comes to, `per` items to a thing: a span has two ends. */
static rn_status sort_by_node(rn_arena *arena, int node_count, const int *node, int count, int per, int **first_out,
                              int **things_out)
{
	int *first, *things, *next;
	RN_TAKE(arena, first, node_count + 1);
	RN_TAKE(arena, next, node_count + 1);
	RN_TAKE(arena, things, count + 1);
	for (int k = 0; k < count; k++)
		first[node[k] + 1]++;
	for (int i = 0; i < node_count; i++)
		next[i + 1] = first[i + 1] += first[i];
	for (int k = 0; k < count; k++)
		things[next[node[k]]++] = k / per;
	*first_out = first;
	*things_out = things;
	return RN_OK;
}

/* Spans in the order of spans.h; passes as they come along the lines. */
rn_status rn_meetings_create(rn_arena *arena, const rn_model *m, rn_meetings *meetings_out)
{
	rn_meetings meetings;
	int *ends, *at, end_count = 0, pass_count = 0;
	RN_TAKE(arena, ends, 2 * (m->station_count + m->leg_count + m->prop_count) + 1);
	RN_TAKE(arena, at, m->station_count + 1);
	for (int i = 0; i < m->station_count; i++) {
		const rn_station *s = &m->stations[i];
		if (s->kind == RN_THROUGH)
			at[pass_count++] = s->node;
		if (i + 1 < m->station_count && s[1].line == s->line) {
			ends[end_count++] = s->node;
			ends[end_count++] = s[1].node;
		}
	}
	for (int i = 0; i < m->leg_count; i++) {
		ends[end_count++] = m->legs[i].from;
		ends[end_count++] = m->legs[i].to;
	}
	for (int i = 0; i < m->prop_count; i++) {
		ends[end_count++] = m->props[i].from;
		ends[end_count++] = m->props[i].to;
	}
	RN_TRY(sort_by_node(arena, m->node_count, ends, end_count, 2, &meetings.first_span, &meetings.spans));
	RN_TRY(sort_by_node(arena, m->node_count, at, pass_count, 1, &meetings.first_pass, &meetings.passes));
	*meetings_out = meetings;
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

static double node_demand(const rn_model *m, const rn_meetings *meetings, const rn_case_result *answer, int node)
{
	gathered g = {.count = 0};
	const rn_node_result *n = &answer->nodes[node];
	if (rn_node_is_fixed(&m->nodes[node]))
		add_force(&g, -n->pull[0], -n->pull[1]);
	else
		add_force(&g, n->load[0], n->load[1]);
	for (int k = meetings->first_pass[node]; k < meetings->first_pass[node + 1] && answer->pass_count > 0; k++) {
		const rn_pass_result *pass = &answer->passes[meetings->passes[k]];
		add_force(&g, pass->force[0], pass->force[1]);
	}
	for (int k = meetings->first_span[node]; k < meetings->first_span[node + 1]; k++) {
		const rn_span_result *span = &answer->spans[meetings->spans[k]];
		if (is_through(m, span, node))
			continue;
		double sign = span->from == node ? 1 : -1;
		add_force(&g, sign * span->tension * cos(span->heading),
		          sign * span->tension * sin(span->heading));
	}
	close_lot(&g);
	return g.demand;
}

static const rn_span_result *span_of_prop(const rn_model *m, const rn_case_result *answer, rn_object prop)
{
	return &answer->spans[rn_spans_first(m, prop)];
}

static double prop_demand(const rn_model *m, const rn_case_result *answer, rn_part_result *part)
{
	const rn_span_result *span = span_of_prop(m, answer, part->object);
	part->at = span->to;
	return fabs(span->tension);
}

static double demand(const rn_model *m, const rn_meetings *meetings, const rn_case_result *answer, rn_part_result *part)
{
	switch (part->object.kind) {
	case RN_PROP: return prop_demand(m, answer, part);
	case RN_NODE:
		/* the ground feels the sum of what pulls; gear fixed to it is torn by pulls that oppose each other */
		if (rn_node_is_fixed(&m->nodes[part->object.index]) && m->nodes[part->object.index].gear == RN_NONE)
			return hypot(answer->nodes[part->at].pull[0], answer->nodes[part->at].pull[1]);
		return node_demand(m, meetings, answer, part->object.index);
	default: return node_demand(m, meetings, answer, part->at);
	}
}

/* ---- limit --------------------------------------------------------------------------------- */

int rn_part_gear(const rn_model *m, rn_object object)
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
	rn_object gear = rn_object_of(RN_ITEM, rn_part_gear(m, part->object));
	double whole = attribute == RN_ATTRIBUTE_DESIGN_FACTOR
	                       ? rn_model_value(m, values, rn_object_of(RN_RIGGING, 0), attribute, 0)
	                       : 0;
	return rn_model_value(m, values, part->object, attribute,
	                      rn_model_value(m, values, gear, attribute, whole));
}

/* Factors that count against the maker's working load: those its label does not have in it. */
static double beside_label(const rn_model *m, const rn_part_result *part, bool own)
{
	double beside = 1;
	for (int i = 0; i < part->factor_count; i++)
		if (!rn_label_contains(m, part->object, own, part->factors[i].kind))
			beside *= part->factors[i].value;
	return beside;
}

/* Keeps the factors that make the limit, so that they multiply to it. */
static void keep_beside_label(const rn_model *m, bool own, rn_part_result *part)
{
	int kept = 0;
	for (int i = 0; i < part->factor_count; i++)
		if (!rn_label_contains(m, part->object, own, part->factors[i].kind))
			part->factors[kept++] = part->factors[i];
	part->factor_count = kept;
}

/* A working load for a basket is that of both its legs together. */
static double share_of_label(const rn_model *m, const rn_part_result *part, bool own)
{
	if (part->object.kind != RN_SLING)
		return 1;
	const rn_sling *sling = &m->slings[part->object.index];
	bool basket = own ? rn_hitch_of(sling) == RN_HITCH_BASKET
	                  : sling->gear != RN_NONE && m->items[sling->gear].label_for == RN_LABEL_FOR_BASKET;
	return basket ? 0.5 : 1;
}

static void by_working_load(const rn_model *m, bool own, double legs, rn_part_result *part)
{
	part->governed = RN_BY_WORKING_LOAD;
	keep_beside_label(m, own, part);
	if (legs < 1 && part->factor_count < RN_FACTORS_MOST)
		part->factors[part->factor_count++] =
			(rn_factor){.kind = RN_FACTOR_LEGS, .value = legs, .source = "a basket's label is for both legs"};
}

/* A part's own working load, or the label of its gear; 0 when there is none. */
static double working_load(const rn_model *m, const double *values, const rn_part_result *part, bool own)
{
	rn_object gear = rn_object_of(RN_ITEM, rn_part_gear(m, part->object));
	if (!own && part->object.kind == RN_ITEM)
		return 0; /* gear of its own is one and the same */
	return rn_model_value(m, values, own ? part->object : gear, RN_ATTRIBUTE_WORKING_LOAD, 0);
}

/* The least of strength x factors / design factor and of each working load x factors it does not contain. */
static void set_limit(const rn_model *m, const double *values, rn_part_result *part)
{
	int governs = -1;
	double all = 1, legs = 1;
	for (int i = 0; i < part->factor_count; i++)
		all *= part->factors[i].value;
	part->breaking = part->strength * all;
	part->limit = part->design_factor > 0 ? part->breaking / part->design_factor : 0;
	part->governed = part->limit > 0 ? RN_BY_STRENGTH : RN_BY_NOTHING;
	part->working_load = 0;
	for (int own = 0; own < 2; own++) {
		double load = working_load(m, values, part, own), share = share_of_label(m, part, own);
		double limit = load * beside_label(m, part, own) * share;
		if (load > 0 && (part->working_load <= 0 || limit < part->limit))
			part->working_load = load; /* the one that governs, else any there is */
		if (load <= 0 || (part->limit > 0 && limit >= part->limit))
			continue;
		part->limit = limit;
		governs = own;
		legs = share;
	}
	if (governs >= 0)
		by_working_load(m, governs, legs, part);
	part->unchecked = part->limit > 0      ? RN_CHECKED
	                  : part->strength > 0 ? RN_NO_DESIGN_FACTOR
	                                       : RN_NO_RATING;
	part->utilisation = part->limit > 0 ? part->demand / part->limit : 0;
}

/* ---- ropes and slings ------------------------------------------------------------------------ */

/* Takes a place of a part when it is nearer to its limit than the worst so far; of two alike the one
 * pulled harder or weakened more. */
static void take_spot(const rn_model *m, const double *values, const rn_spot *spot, rn_part_result *worst, bool *any)
{
	rn_part_result here = *worst;
	here.at = spot->node;
	here.demand = spot->demand;
	here.factor_count = spot->factor_count;
	for (int i = 0; i < spot->factor_count; i++)
		here.factors[i] = spot->factors[i];
	set_limit(m, values, &here);
	bool nearer = here.utilisation > worst->utilisation ||
	              (!(here.utilisation < worst->utilisation) &&
	               (here.demand > worst->demand || (!(here.demand < worst->demand) && here.limit < worst->limit)));
	if (!*any || nearer)
		*worst = here;
	*any = true;
}

/* A place of which nothing can be said leaves the whole part unchecked, unless it is over elsewhere. */
static void finish_spots(rn_unchecked hidden, double most, rn_part_result *part)
{
	if (hidden != RN_CHECKED && part->utilisation <= 1) {
		if (part->unchecked == RN_CHECKED)
			part->unchecked = hidden;
		part->limit = part->utilisation = part->breaking = 0;
		part->governed = RN_BY_NOTHING;
		part->factor_count = 0;
	}
	if (part->unchecked != RN_CHECKED)
		part->demand = most;
}

typedef struct spots {
	rn_unchecked hidden; /* why a place of the part cannot be checked */
	double most;         /* largest pull of all places [N] */
	bool any;
} spots;

static void see_spot(const rn_model *m, const double *values, const rn_spot *spot, spots *seen,
                     rn_part_result *part)
{
	seen->most = fmax(seen->most, spot->demand);
	if (spot->unchecked != RN_CHECKED)
		seen->hidden = seen->hidden == RN_CHECKED ? spot->unchecked : seen->hidden;
	else
		take_spot(m, values, spot, part, &seen->any);
}

static void judge_line(const rn_model *m, const double *values, const rn_case_result *answer, rn_part_result *part)
{
	spots seen = {RN_CHECKED, 0, false};
	for (int k = 0; k < m->lines[part->object.index].station_count; k++) {
		rn_spot spot = rn_spot_of_line(m, values, answer, part->object.index, k);
		see_spot(m, values, &spot, &seen, part);
	}
	finish_spots(seen.hidden, seen.most, part);
}

static void judge_sling(const rn_model *m, const double *values, const rn_case_result *answer, rn_part_result *part)
{
	const rn_sling *sling = &m->slings[part->object.index];
	spots seen = {RN_CHECKED, 0, false};
	for (int i = 0; i < sling->leg_count; i++)
		for (int which = 0; which < RN_LEG_SPOT_COUNT; which++) {
			rn_spot spot = rn_spot_of_leg(m, values, answer, sling->first_leg + i, (rn_leg_spot)which);
			see_spot(m, values, &spot, &seen, part);
		}
	finish_spots(seen.hidden, seen.most, part);
}

/* Rings, blocks, connectors, anchors, bollards: only wear takes something off. */
static void judge_hardware(const rn_model *m, const double *values, rn_part_result *part)
{
	part->factor_count = 0;
	if (rn_condition_of(m, values, rn_part_gear(m, part->object), &part->factors[0]))
		part->factor_count = part->factors[0].value < 1;
	set_limit(m, values, part);
}

/* ---- props --------------------------------------------------------------------------------- */

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
	const rn_span_result *span = span_of_prop(m, answer, prop);
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

static void judge_prop(const rn_model *m, const double *values, const rn_case_result *answer, rn_part_result *part)
{
	set_limit(m, values, part);
	set_prop_limit(m, values, answer, part);
	part->breaking = part->unchecked == RN_CHECKED ? part->strength : 0;
	part->utilisation = part->limit > 0 ? part->demand / part->limit : 0;
}

/* ---- stems --------------------------------------------------------------------------------- */

/* By its utilisation alone: own weight and the give of the stem do not grow with the pull, so there is no one
 * pull it may be held against. The two numbers that stand for one have the right share only at this answer. */
static void judge_stem(const rn_case_result *answer, rn_part_result *part)
{
	const rn_stem_result *stem = &answer->stems[part->object.index];
	part->demand = stem->pull;
	part->design_factor = stem->design_factor;
	part->unchecked = stem->unchecked;
	part->governed = stem->governed;
	part->utilisation = stem->unchecked == RN_CHECKED ? stem->utilisation : 0;
	part->limit = part->utilisation > 0 ? part->demand / part->utilisation : 0;
	part->breaking = part->limit * part->design_factor;
}

/* ---- all ----------------------------------------------------------------------------------- */

static void judge(const rn_model *m, const double *values, const rn_meetings *meetings, rn_case_result *answer,
                  rn_part_result *part)
{
	part->factor_count = 0;
	part->limit = part->utilisation = part->breaking = 0;
	if (part->object.kind == RN_STEM) {
		judge_stem(answer, part);
		return;
	}
	part->strength = number(m, values, part, RN_ATTRIBUTE_STRENGTH);
	part->design_factor = number(m, values, part, RN_ATTRIBUTE_DESIGN_FACTOR);
	if (part->object.kind != RN_LINE && part->object.kind != RN_SLING)
		part->demand = demand(m, meetings, answer, part);
	switch (part->object.kind) {
	case RN_LINE: judge_line(m, values, answer, part); break;
	case RN_SLING: judge_sling(m, values, answer, part); break;
	case RN_PROP: judge_prop(m, values, answer, part); break;
	default: judge_hardware(m, values, part); break;
	}
	if (part->unchecked == RN_NO_RATING && rn_part_gear(m, part->object) == RN_NONE)
		part->unchecked = RN_NO_GEAR;
}

void rn_parts_fill(const rn_model *m, const double *values, const rn_meetings *meetings, rn_case_result *answer)
{
	for (int i = 0; i < answer->part_count; i++)
		judge(m, values, meetings, answer, &answer->parts[i]);
}
