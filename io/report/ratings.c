/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/ratings.h"

typedef struct listing {
	const rn_model *model;
	rn_rating *list; /* NULL: only counted */
	int count;
} listing;

static bool find(const rn_model *model, rn_object object, rn_attribute attribute, double *value_out)
{
	int number = object.index == RN_NONE ? RN_NONE
	                                     : rn_model_find_number(model, object, attribute);
	if (number != RN_NONE)
		*value_out = model->numbers[number].value;
	return number != RN_NONE;
}

/* A part's own number, else its gear's, else 0. */
static double number_of(const rn_model *model, const rn_rating *r, rn_attribute attribute)
{
	double value = 0;
	if (!find(model, r->object, attribute, &value))
		(void)find(model, rn_object_of(RN_ITEM, r->gear), attribute, &value);
	return value;
}

static rn_origin origin_of(const rn_model *model, rn_object object, rn_attribute attribute)
{
	int number = rn_model_find_number(model, object, attribute);
	return number == RN_NONE ? RN_GUESSED : model->numbers[number].origin;
}

static rn_unchecked prop_reason(const rn_model *model, const rn_rating *r)
{
	double diameter = 0, compression = 0;
	(void)find(model, r->object, RN_ATTRIBUTE_DIAMETER, &diameter);
	(void)find(model, r->object, RN_ATTRIBUTE_COMPRESSION, &compression);
	rn_origin strength = origin_of(model, r->object, RN_ATTRIBUTE_COMPRESSION);
	rn_origin modulus = origin_of(model, r->object, RN_ATTRIBUTE_MODULUS);
	if (!(diameter > 0 && compression > 0) || modulus == RN_GUESSED)
		return RN_WOOD_UNKNOWN;
	if (strength == RN_ESTIMATED || modulus == RN_ESTIMATED)
		return RN_WOOD_ESTIMATED;
	return r->design_factor > 0 ? RN_CHECKED : RN_NO_DESIGN_FACTOR;
}

static rn_unchecked reason(const rn_model *model, const rn_rating *r)
{
	if (r->object.kind == RN_PROP)
		return prop_reason(model, r);
	if (r->working_load > 0 || (r->strength > 0 && r->design_factor > 0))
		return RN_CHECKED;
	if (r->strength > 0)
		return RN_NO_DESIGN_FACTOR;
	return r->gear == RN_NONE ? RN_NO_GEAR : RN_NO_RATING;
}

static void add(listing *l, rn_object object, int at, int gear)
{
	rn_rating r = {.object = object, .at = at, .gear = gear};
	r.strength = number_of(l->model, &r, RN_ATTRIBUTE_STRENGTH);
	r.working_load = number_of(l->model, &r, RN_ATTRIBUTE_WORKING_LOAD);
	r.design_factor = number_of(l->model, &r, RN_ATTRIBUTE_DESIGN_FACTOR);
	if (r.design_factor <= 0)
		(void)find(l->model, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_DESIGN_FACTOR,
		           &r.design_factor);
	r.unchecked = reason(l->model, &r);
	if (l->list)
		l->list[l->count] = r;
	l->count++;
}

static void add_members(listing *l)
{
	const rn_model *m = l->model;
	for (int i = 0; i < m->line_count; i++)
		add(l, rn_object_of(RN_LINE, i), RN_NONE, m->lines[i].gear);
	for (int i = 0; i < m->sling_count; i++)
		add(l, rn_object_of(RN_SLING, i), RN_NONE, m->slings[i].gear);
	for (int i = 0; i < m->prop_count; i++)
		if (!m->props[i].is_piece)
			add(l, rn_object_of(RN_PROP, i), RN_NONE, RN_NONE);
}

static bool node_is_part(const rn_node *node)
{
	return node->kind != RN_NODE_HAND && node->kind != RN_NODE_JOINT &&
	       node->kind != RN_NODE_PIECE;
}

static void add_connector(listing *l, int item, int at)
{
	if (item != RN_NONE)
		add(l, rn_object_of(RN_ITEM, item), at, item);
}

int rn_ratings_list(const rn_model *m, rn_rating *list)
{
	listing l = {.model = m, .list = list};
	add_members(&l);
	for (int i = 0; i < m->node_count; i++)
		if (node_is_part(&m->nodes[i]))
			add(&l, rn_object_of(RN_NODE, i), i, m->nodes[i].gear);
	for (int i = 0; i < m->node_count; i++)
		add_connector(&l, m->nodes[i].connector, i);
	for (int i = 0; i < m->station_count; i++)
		add_connector(&l, m->stations[i].connector, m->stations[i].node);
	for (int i = 0; i < m->sling_count; i++)
		add_connector(&l, m->slings[i].connector, m->legs[m->slings[i].first_leg].to);
	return l.count;
}
