/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/strength/bays.h"

#include "solver/model/place.h"

/* Bark thicker than the stem would leave nothing: this part of the diameter is always wood [-]. */
static const double wood_least = 0.01;

/* Wood is never thinner than this [m]: areas stay what a double holds, and stresses finite. */
static const double diameter_least = 1e-6;

int rn_bays_room(const rn_model *m)
{
	/* the foot, every section, node and branch, and the top make a break; a bay may be cut once more */
	return 2 * (m->section_count + m->node_count + m->stem_count + 2);
}

rn_status rn_bays_create(rn_arena *arena, const rn_model *m, rn_bays *bays_out)
{
	rn_bays bays = {.stem = RN_NONE};
	RN_TAKE(arena, bays.loads, m->node_count + m->stem_count + 1);
	RN_TAKE(arena, bays.breaks, rn_bays_room(m));
	RN_TAKE(arena, bays.bays, rn_bays_room(m));
	RN_TAKE(arena, bays.woods, m->stem_count + 1);
	*bays_out = bays;
	return RN_OK;
}

/* ---- what enters, and where ------------------------------------------------------------------ */

static double stem_value(const rn_model *m, const double *values, int stem, rn_attribute attribute)
{
	return rn_model_value(m, values, rn_object_of(RN_STEM, stem), attribute, 0);
}

/* From a place on the stem `from`, down the branches to the height where that enters the stem `onto`. */
static bool enters(const rn_model *m, const double *values, int from, int onto, double *height)
{
	for (; from != onto && from != RN_NONE; from = m->stems[from].on)
		*height = stem_value(m, values, from, RN_ATTRIBUTE_HEIGHT);
	return from == onto;
}

/* Force F at p, a = p - foot:  moment = (a . t)(F . n) - (a . n)(F . t) */
static void add_load(rn_bays *b, double height, const double place[2], const double force[2], bool rigging)
{
	rn_vec2 arm = rn_vec2_sub(rn_vec2_of(place), b->foot), f = rn_vec2_of(force);
	rn_stem_load load = {.height = height, .rigging = rigging};
	load.push = -rn_vec2_dot(f, b->along);
	load.side = rn_vec2_dot(f, b->across);
	load.moment = rn_vec2_dot(arm, b->along) * load.side + rn_vec2_dot(arm, b->across) * load.push;
	b->loads[b->load_count++] = load;
}

static void add_loads(rn_bays *b, const rn_model *m, const double *values, const rn_case_result *answer)
{
	b->load_count = 0;
	for (int i = 0; i < m->node_count; i++) {
		double height = rn_model_value(m, values, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_HEIGHT, 0);
		if (rn_node_is_fixed(&m->nodes[i]) && enters(m, values, m->nodes[i].stem, b->stem, &height))
			add_load(b, height, answer->nodes[i].place, answer->nodes[i].pull, true);
	}
	for (int i = b->stem + 1; i < m->stem_count; i++) {
		const double weight[2] = {0, -b->woods[i].weight};
		double height = 0;
		if (enters(m, values, i, b->stem, &height))
			add_load(b, height, b->woods[i].place, weight, false);
	}
}

/* ---- bays ------------------------------------------------------------------------------------ */

/* Keeps the breaks rising and each of them once. */
static void add_break(rn_bays *b, double height)
{
	int at = b->break_count;
	while (at > 0 && b->breaks[at - 1] > height)
		at--;
	if (at > 0 && b->breaks[at - 1] == height)
		return;
	for (int i = b->break_count++; i > at; i--)
		b->breaks[i] = b->breaks[i - 1];
	b->breaks[at] = height;
}

static void add_breaks(rn_bays *b, const rn_model *m, const double *values)
{
	const rn_stem *s = &m->stems[b->stem];
	b->break_count = 0;
	add_break(b, 0);
	for (int i = 0; i < s->section_count; i++) {
		rn_object section = rn_object_of(RN_SECTION, s->first_section + i);
		add_break(b, fmax(rn_model_value(m, values, section, RN_ATTRIBUTE_HEIGHT, 0), 0));
	}
	for (int i = 0; i < b->load_count; i++)
		add_break(b, fmax(b->loads[i].height, 0));
	b->top = b->breaks[b->break_count - 1];
}

static double over_bark(const rn_bay *bay, double height)
{
	double part = bay->to > bay->from ? (height - bay->from) / (bay->to - bay->from) : 0;
	return fmax(bay->lower + part * (bay->upper - bay->lower), diameter_least);
}

double rn_bays_diameter(const rn_bays *b, const rn_bay *bay, double height)
{
	double diameter = over_bark(bay, height);
	return fmax(diameter - 2 * b->bark, wood_least * diameter);
}

/* Where a bay stops being hollow, or being solid; its upper end if it does not. */
static double alike_until(const rn_bays *b, const rn_bay *bay)
{
	double hollow_lower = rn_bays_diameter(b, bay, bay->from) - 2 * bay->wall;
	double hollow_upper = rn_bays_diameter(b, bay, bay->to) - 2 * bay->wall;
	if (bay->wall <= 0 || hollow_lower * hollow_upper >= 0)
		return bay->to;
	return bay->from + (bay->to - bay->from) * hollow_lower / (hollow_lower - hollow_upper);
}

/* Cut in two where it must be, so that each is smooth. */
static void add_bay(rn_bays *b, const rn_bay *bay)
{
	double cut = alike_until(b, bay);
	rn_bay lower = *bay, upper = *bay;
	lower.to = upper.from = cut;
	lower.upper = upper.lower = over_bark(bay, cut);
	b->bays[b->count++] = lower;
	if (cut < bay->to)
		b->bays[b->count++] = upper;
}

static void add_bays(rn_bays *b, const rn_model *m, const double *values)
{
	double axis[2];
	b->count = 0;
	for (int i = 0; i + 1 < b->break_count; i++) {
		rn_bay bay = {.from = b->breaks[i], .to = b->breaks[i + 1]};
		rn_stem_at(m, values, b->stem, bay.from, axis, &bay.lower);
		rn_stem_at(m, values, b->stem, bay.to, axis, &bay.upper);
		bay.wall = rn_stem_wall(m, values, b->stem, bay.from);
		add_bay(b, &bay);
	}
}

/* ---- own weight ------------------------------------------------------------------------------ */

/* The section with its bark, without its hollow [m2]: the wood, and the ring of bark round it. */
static double heavy_area(const rn_bays *b, const rn_bay *bay, double height)
{
	double wood = rn_bays_diameter(b, bay, height);
	return rn_section_area(wood, bay->wall) + rn_section_area(over_bark(bay, height), 0) -
	       rn_section_area(wood, 0);
}

/* Weight of a bay from a height to its upper end, and its moment for a level lever from that height:
 *     int w A ds,   int w A (s - z) ds
 * The area is a quadratic in s, so Gauss and Legendre's two points are exact for both. */
static void weigh(const rn_bays *b, const rn_bay *bay, double height, double *weight, double *moment)
{
	double half = (bay->to - height) / 2, off = half / sqrt(3);
	double low = half * b->weight * heavy_area(b, bay, height + half - off);
	double high = half * b->weight * heavy_area(b, bay, height + half + off);
	*weight = low + high;
	*moment = low * (half - off) + high * (half + off);
}

/* The same of all the stem above a height. */
static void weigh_above(const rn_bays *b, const rn_bay *bay, double height, double *weight, double *moment)
{
	weigh(b, bay, height, weight, moment);
	*weight += bay->wood;
	*moment += bay->wood_moment + bay->wood * (bay->to - height);
}

static void stack_wood(rn_bays *b)
{
	double weight = 0, moment = 0;
	for (int i = b->count - 1; i >= 0; i--) {
		b->bays[i].wood = weight;
		b->bays[i].wood_moment = moment;
		weigh_above(b, &b->bays[i], b->bays[i].from, &weight, &moment);
	}
	double centre = weight > 0 ? moment / weight : 0;
	rn_vec2 place = rn_vec2_add(b->foot, rn_vec2_scale(centre, b->along));
	b->woods[b->stem] = (rn_bays_wood){weight, {place.x, place.y}};
}

/* ---- a stem ---------------------------------------------------------------------------------- */

static void stack_loads(rn_bays *b)
{
	for (int i = 0; i < b->count; i++) {
		rn_bay *bay = &b->bays[i];
		for (int k = 0; k < b->load_count; k++) {
			const rn_stem_load *load = &b->loads[k];
			if (load->height < bay->to)
				continue;
			bay->push += load->push;
			bay->side += load->side;
			bay->moment += load->moment;
			bay->rigging_push += load->rigging ? load->push : 0;
			bay->rigging_side += load->rigging ? load->side : 0;
		}
	}
}

static void set_axis(rn_bays *b, const rn_model *m, const double *values)
{
	double foot[2], unused, lean = stem_value(m, values, b->stem, RN_ATTRIBUTE_LEAN);
	rn_stem_at(m, values, b->stem, 0, foot, &unused);
	b->foot = rn_vec2_of(foot);
	b->along = (rn_vec2){sin(lean), cos(lean)};
	b->across = (rn_vec2){cos(lean), -sin(lean)};
}

void rn_bays_load(rn_bays *b, const rn_model *m, const double *values, const rn_case_result *answer, int stem)
{
	double gravity = rn_gravity(m, values);
	bool has_wood = m->stems[stem].section_count > 0;
	b->stem = stem;
	b->bark = fmax(stem_value(m, values, stem, RN_ATTRIBUTE_BARK), 0);
	b->weight = has_wood ? gravity * stem_value(m, values, stem, RN_ATTRIBUTE_DENSITY) : 0;
	set_axis(b, m, values);
	add_loads(b, m, values, answer);
	add_breaks(b, m, values);
	add_bays(b, m, values);
	stack_wood(b);
	stack_loads(b);
}

const rn_bay *rn_bays_find(const rn_bays *b, double height, bool upper)
{
	for (int i = 0; i < b->count; i++)
		if (height < b->bays[i].to || (!upper && height == b->bays[i].to))
			return &b->bays[i];
	return NULL;
}

/* N = sum push + W cos lean
 * V = sum side + W sin lean
 * M = sum moment - z sum side + sin lean int w A (s - z) ds
 * with t = (sin lean, cos lean): weight acts down, and on the axis, so that only its side part bends. */
rn_bay_forces rn_bays_forces(const rn_bays *b, const rn_bay *bay, double height)
{
	double weight, moment;
	weigh_above(b, bay, height, &weight, &moment);
	return (rn_bay_forces){.axial = bay->push + weight * b->along.y,
	                       .shear = bay->side + weight * b->along.x,
	                       .moment = bay->moment - height * bay->side + moment * b->along.x};
}
