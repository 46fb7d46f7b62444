/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where things are as drawn: nodes by x and y, or on the bark or axis of a stem.
 */
#include "solver/base/vec2.h"
#include "solver/model/place.h"

/* Standard gravity [m/s2], CGPM 1901. */
static const double gravity_standard = 9.80665;

double rn_gravity(const rn_model *model, const double *values)
{
	return rn_model_value(model, values, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_GRAVITY, gravity_standard);
}

bool rn_node_is_fixed(const rn_node *node)
{
	return node->kind <= RN_NODE_BOLLARD;
}

bool rn_node_grows_on(const rn_model *model, int node, int stem)
{
	int on = model->nodes[node].stem;
	while (on != RN_NONE && on != stem)
		on = model->stems[on].on;
	return on != RN_NONE;
}

/* Diameter at a height along the stem: linear between sections, level outside the outermost two. */
static double diameter_at(const rn_model *model, const double *values, const rn_stem *stem,
                          double height)
{
	double below_height = 0, below = 0;
	for (int i = 0; i < stem->section_count; i++) {
		rn_object section = rn_object_of(RN_SECTION, stem->first_section + i);
		double h = rn_model_value(model, values, section, RN_ATTRIBUTE_HEIGHT, 0);
		double d = rn_model_value(model, values, section, RN_ATTRIBUTE_DIAMETER, 0);
		if (height <= h)
			return i == 0 ? d : below + (d - below) * (height - below_height) / (h - below_height);
		below_height = h;
		below = d;
	}
	return below;
}

void rn_stem_at(const rn_model *model, const double *values, int stem, double height,
                double axis_out[2], double *diameter_out)
{
	rn_object object = rn_object_of(RN_STEM, stem);
	double lean = rn_model_value(model, values, object, RN_ATTRIBUTE_LEAN, 0);
	int on = model->stems[stem].on;
	if (on != RN_NONE) {
		/* a branch begins on the axis of the stem it grows from, which was added before it */
		double at = rn_model_value(model, values, object, RN_ATTRIBUTE_HEIGHT, 0), unused;
		rn_stem_at(model, values, on, at, axis_out, &unused);
	} else {
		axis_out[0] = rn_model_value(model, values, object, RN_ATTRIBUTE_X, 0);
		axis_out[1] = rn_model_value(model, values, object, RN_ATTRIBUTE_Y, 0);
	}
	axis_out[0] += height * sin(lean);
	axis_out[1] += height * cos(lean);
	*diameter_out = diameter_at(model, values, &model->stems[stem], height);
}

double rn_stem_wall(const rn_model *model, const double *values, int stem, double height)
{
	const rn_stem *s = &model->stems[stem];
	double wall = 0;
	for (int i = 0; i < s->section_count; i++) {
		rn_object section = rn_object_of(RN_SECTION, s->first_section + i);
		if (i > 0 && rn_model_value(model, values, section, RN_ATTRIBUTE_HEIGHT, 0) > height)
			break;
		wall = rn_model_value(model, values, section, RN_ATTRIBUTE_WALL, 0);
	}
	return wall;
}

/* Bark thicker than the stem is a slip in the file; a thread of wood in it keeps 1/EI finite [-]. */
static const double wood_least = 0.01;

double rn_stem_wood(const rn_model *model, const double *values, int stem, double height)
{
	double outside = diameter_at(model, values, &model->stems[stem], height);
	double bark = rn_model_value(model, values, rn_object_of(RN_STEM, stem), RN_ATTRIBUTE_BARK, 0);
	return fmax(outside - 2 * bark, wood_least * outside);
}

static void place_on_stem(const rn_model *model, const double *values, int node, double place_out[2])
{
	const rn_node *n = &model->nodes[node];
	double height =
		rn_model_value(model, values, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_HEIGHT, 0);
	double diameter;
	rn_stem_at(model, values, n->stem, height, place_out, &diameter);
	double lean =
		rn_model_value(model, values, rn_object_of(RN_STEM, n->stem), RN_ATTRIBUTE_LEAN, 0);
	double out = n->bark == RN_BARK_RIGHT  ? diameter / 2
	             : n->bark == RN_BARK_LEFT ? -diameter / 2
	                                       : 0;
	place_out[0] += out * cos(lean);
	place_out[1] -= out * sin(lean);
}

bool rn_is_piece(const rn_model *model, rn_object object)
{
	return object.index != RN_NONE && ((object.kind == RN_NODE && model->nodes[object.index].kind == RN_NODE_PIECE) ||
	                                   (object.kind == RN_PROP && model->props[object.index].is_piece));
}

void rn_node_drawn(const rn_model *model, const double *values, int node, double place_out[2])
{
	if (model->nodes[node].stem != RN_NONE) {
		place_on_stem(model, values, node, place_out);
		return;
	}
	rn_object object = rn_object_of(RN_NODE, node);
	place_out[0] = rn_model_value(model, values, object, RN_ATTRIBUTE_X, 0);
	place_out[1] = rn_model_value(model, values, object, RN_ATTRIBUTE_Y, 0);
}

/* ---- what a rope meets at a station ---------------------------------------------------------- */

enum { HOLDERS = 3 };

/* What can say how a rope meets a station, the nearest first: itself, its node's gear, the node. */
static void list_holders(const rn_model *model, int station, rn_object holders_out[HOLDERS])
{
	int node = model->stations[station].node;
	holders_out[0] = rn_object_of(RN_STATION, station);
	holders_out[1] = rn_object_of(RN_ITEM, model->nodes[node].gear);
	holders_out[2] = rn_object_of(RN_NODE, node);
}

int rn_station_number(const rn_model *model, int station, rn_attribute attribute)
{
	rn_object holders[HOLDERS];
	list_holders(model, station, holders);
	int number = RN_NONE;
	for (int i = 0; i < HOLDERS && number == RN_NONE; i++)
		number = rn_model_find_number(model, holders[i], attribute);
	return number;
}

/* The nearest that says a law. Friction and efficiency say the same thing two ways: a groove's own friction goes before
 * the efficiency of its gear. */
static rn_object law_holder(const rn_model *model, int station)
{
	rn_object holders[HOLDERS];
	list_holders(model, station, holders);
	for (int i = 0; i < HOLDERS; i++)
		if (rn_model_has(model, holders[i], RN_ATTRIBUTE_EFFICIENCY) ||
		    rn_model_has(model, holders[i], RN_ATTRIBUTE_FRICTION))
			return holders[i];
	return rn_object_of(RN_NODE, RN_NONE);
}

bool rn_station_is_sheave(const rn_model *model, int station)
{
	return rn_model_has(model, law_holder(model, station), RN_ATTRIBUTE_EFFICIENCY);
}

rn_contact_law rn_station_contact(const rn_model *model, const double *values, int station)
{
	const rn_line *line = &model->lines[model->stations[station].line];
	rn_object says = law_holder(model, station);
	int number = rn_station_number(model, station, RN_ATTRIBUTE_TREAD);
	double tread = number == RN_NONE ? 0 : values[number];
	double rope = rn_model_value(model, values, rn_object_of(RN_ITEM, line->gear),
	                             RN_ATTRIBUTE_DIAMETER, 0);
	rn_contact_law law = {.radius = tread > 0 ? (tread + rope) / 2 : 0};
	law.is_sheave = rn_model_has(model, says, RN_ATTRIBUTE_EFFICIENCY);
	law.efficiency = rn_model_value(model, values, says, RN_ATTRIBUTE_EFFICIENCY, 0);
	law.friction = rn_model_value(model, values, says, RN_ATTRIBUTE_FRICTION, 0);
	return law;
}

double rn_section_area(double diameter, double wall)
{
	double inner = wall > 0 && wall < diameter / 2 ? diameter - 2 * wall : 0;
	return RN_PI / 4 * (diameter * diameter - inner * inner);
}

double rn_section_inertia(double diameter, double wall)
{
	double inner = wall > 0 && wall < diameter / 2 ? diameter - 2 * wall : 0;
	return RN_PI / 64 * (pow(diameter, 4) - pow(inner, 4));
}

/* A bar of which no diameter is known is as stiff as a trunk [N]. */
static const double prop_stiffness_unknown = 1e8;

static double prop_stiffness(const rn_model *model, const double *values, rn_object prop)
{
	double diameter = rn_model_value(model, values, prop, RN_ATTRIBUTE_DIAMETER, 0);
	double modulus = rn_model_value(model, values, prop, RN_ATTRIBUTE_MODULUS, 0);
	double wall = rn_model_value(model, values, prop, RN_ATTRIBUTE_WALL, 0);
	double stiffness = modulus * rn_section_area(diameter, wall);
	return stiffness > 0 ? stiffness : prop_stiffness_unknown;
}

int rn_member_curve(const rn_model *model, rn_object member)
{
	int gear = member.kind == RN_LINE    ? model->lines[member.index].gear
	           : member.kind == RN_SLING ? model->slings[member.index].gear
	                                     : RN_NONE;
	return gear != RN_NONE && model->items[gear].stretch_count > 0 ? gear : RN_NONE;
}

static void curve_point(const rn_model *model, const double *values, int item, int index, double out[2])
{
	out[0] = out[1] = 0; /* a curve starts at nothing */
	if (index < 0)
		return;
	rn_object point = rn_object_of(RN_STRETCH, model->items[item].first_stretch + index);
	out[0] = rn_model_value(model, values, point, RN_ATTRIBUTE_LOAD, 0);
	out[1] = rn_model_value(model, values, point, RN_ATTRIBUTE_BY, 0);
}

rn_curve_part rn_curve_part_of(const rn_model *model, const double *values, int item, int index)
{
	double from[2], to[2];
	curve_point(model, values, item, index - 1, from);
	curve_point(model, values, item, index, to);
	double slope = (to[1] - from[1]) / (to[0] - from[0]);
	return (rn_curve_part){index, from[1] - slope * from[0], slope};
}

rn_curve_part rn_curve_part_at(const rn_model *model, const double *values, int item, double pull)
{
	int index = 0, last = model->items[item].stretch_count - 1;
	double end[2];
	for (; index < last; index++) {
		curve_point(model, values, item, index, end);
		if (pull <= end[0])
			break;
	}
	return rn_curve_part_of(model, values, item, index);
}

double rn_curve_stretch(const rn_model *model, const double *values, int item, double pull)
{
	rn_curve_part part = rn_curve_part_at(model, values, item, pull);
	return part.offset + part.slope * pull;
}

double rn_member_stiffness(const rn_model *model, const double *values, rn_object member)
{
	if (member.kind == RN_PROP)
		return prop_stiffness(model, values, member);
	int curve = rn_member_curve(model, member);
	if (curve != RN_NONE) {
		rn_object first = rn_object_of(RN_STRETCH, model->items[curve].first_stretch);
		return rn_model_value(model, values, first, RN_ATTRIBUTE_LOAD, 0) /
		       rn_model_value(model, values, first, RN_ATTRIBUTE_BY, 0);
	}
	int gear = member.kind == RN_LINE ? model->lines[member.index].gear
	                                  : model->slings[member.index].gear;
	double own = rn_model_value(model, values, member, RN_ATTRIBUTE_STIFFNESS, 0);
	return rn_model_value(model, values, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_STIFFNESS, own);
}
