/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The rules a model must meet. All findings are collected; nothing is solved while there is one.
 */
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "solver/base/notes.h"
#include "solver/base/vec2.h"
#include "solver/model/doubts.h"
#include "solver/model/guess.h"
#include "solver/model/memory.h"
#include "solver/model/place.h"
#include "solver/model/ties.h"
#include "solver/model/timber.h"

/* Two places nearer than this part of the larger coordinate are one place [-]: some hundred times
 * the rounding of a coordinate, far below anything a tape can tell. */
static const double same_place = 1e-12;

typedef struct checker {
	rn_model *model;
	double *values;
	bool numbers_can_be; /* what is wrong, if anything, is not a number by itself */
} checker;

static rn_object node_object(int node)
{
	return rn_object_of(RN_NODE, node);
}

static rn_status find(checker *c, rn_note_kind kind, rn_object a, int b, int cc)
{
	rn_note note = {.kind = kind, .a = a, .b = node_object(b), .c = node_object(cc)};
	return rn_notes_add(&c->model->memory->arena, &c->model->findings, note);
}

static bool has(const checker *c, rn_object object, rn_attribute attribute)
{
	return rn_model_has(c->model, object, attribute);
}

/* ---- numbers ------------------------------------------------------------------------------- */

/* What each attribute may be; everything else need only be finite. */
static const struct {
	rn_attribute attribute;
	double least, most;
	bool least_itself; /* whether `least` is allowed; where not it is 0 */
} ranges[] = {
	{RN_ATTRIBUTE_DIAMETER, 0, DBL_MAX, false},      {RN_ATTRIBUTE_WALL, 0, DBL_MAX, false},
	{RN_ATTRIBUTE_WEIGHT, 0, DBL_MAX, true},         {RN_ATTRIBUTE_STRENGTH, 0, DBL_MAX, false},
	{RN_ATTRIBUTE_WORKING_LOAD, 0, DBL_MAX, false},  {RN_ATTRIBUTE_DESIGN_FACTOR, 1, DBL_MAX, true},
	{RN_ATTRIBUTE_TREAD, 0, DBL_MAX, true},          {RN_ATTRIBUTE_EYE, 0, DBL_MAX, false},
	{RN_ATTRIBUTE_LONG, 0, DBL_MAX, false},          {RN_ATTRIBUTE_STIFFNESS, 0, DBL_MAX, false},
	{RN_ATTRIBUTE_FRICTION, 0, 3, true},             {RN_ATTRIBUTE_EFFICIENCY, 0.01, 1, true},
	{RN_ATTRIBUTE_TURNS, 0, 20, true},               {RN_ATTRIBUTE_TAIL, 0, 20, true},
	{RN_ATTRIBUTE_REACH, 0, DBL_MAX, false},         {RN_ATTRIBUTE_LENGTH, 0, DBL_MAX, false},
	{RN_ATTRIBUTE_SLACK, 0, DBL_MAX, true},          {RN_ATTRIBUTE_PRETENSION, 0, DBL_MAX, true},
	{RN_ATTRIBUTE_PULL, 0, DBL_MAX, true},           {RN_ATTRIBUTE_SIZE, 0, DBL_MAX, true},
	{RN_ATTRIBUTE_GRAVITY, 0, DBL_MAX, false},       {RN_ATTRIBUTE_PLACE_ERROR, 0, DBL_MAX, true},
	{RN_ATTRIBUTE_DENSITY, 0, DBL_MAX, false},       {RN_ATTRIBUTE_WET_FACTOR, 0, 1, false},
	{RN_ATTRIBUTE_COMPRESSION, 0, DBL_MAX, false},   {RN_ATTRIBUTE_MODULUS, 0, DBL_MAX, false},
	{RN_ATTRIBUTE_LOAD, 0, DBL_MAX, false},          {RN_ATTRIBUTE_BY, 0, 10, false},
	{RN_ATTRIBUTE_CONDITION_FACTOR, 0, 1, false},    {RN_ATTRIBUTE_HEIGHT, 0, DBL_MAX, true},
	{RN_ATTRIBUTE_BENDING, 0, DBL_MAX, false},       {RN_ATTRIBUTE_BARK, 0, DBL_MAX, true},
	{RN_ATTRIBUTE_AT, 0, DBL_MAX, true},
};

/* No rigging is larger or pulled harder than this, whatever its file says; beyond it products of lengths
 * and forces would leave what a double holds. [m], [N] */
static const double length_most = 1e7, force_most = 1e18;
/* Nor is what must be more than nothing smaller than this: a demand over a limit next to nothing would be no number
 * either. [m], [N] */
static const double length_least = 1e-9, force_least = 1e-9;

typedef struct bounds {
	double least, most;
	bool above_zero; /* 0 itself is not allowed, and `least` is the least that counts as more */
} bounds;

static bounds bounds_of(rn_attribute attribute)
{
	rn_quantity quantity = rn_attribute_quantity(attribute);
	bool length = quantity == RN_QUANTITY_LENGTH, force = quantity == RN_QUANTITY_FORCE;
	double most = length ? length_most : force ? force_most : DBL_MAX;
	double more_than_nothing = length ? length_least : force ? force_least : 0;
	for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
		if (ranges[i].attribute == attribute)
			return (bounds){.least = ranges[i].least_itself ? ranges[i].least : more_than_nothing,
			                .most = fmin(ranges[i].most, most),
			                .above_zero = !ranges[i].least_itself};
	return (bounds){.least = -most, .most = most};
}

bool rn_attribute_allows(rn_attribute attribute, double value)
{
	bounds b = bounds_of(attribute);
	return isfinite(value) && value >= b.least && value <= b.most && (!b.above_zero || value > 0);
}

static rn_status check_value(checker *c, rn_object object, rn_attribute attribute, double value)
{
	if (rn_attribute_allows(attribute, value))
		return RN_OK;
	bounds b = bounds_of(attribute);
	rn_note note = {.kind = RN_NOTE_NUMBER_NONE,
	                .a = object,
	                .b = node_object(RN_NONE),
	                .c = node_object(RN_NONE),
	                .word = rn_attribute_word(attribute),
	                .attribute = attribute};
	if (isfinite(value)) {
		note.kind = value > b.most                    ? RN_NOTE_NUMBER_MORE
		            : b.above_zero && !(value > 0) ? RN_NOTE_NUMBER_ZERO
		                                           : RN_NOTE_NUMBER_LESS;
		note.value[0] = value;
		note.value[1] = value > b.most ? b.most : b.least;
	}
	return rn_notes_add(&c->model->memory->arena, &c->model->findings, note);
}

static rn_status check_numbers(checker *c)
{
	for (int i = 0; i < c->model->number_count; i++) {
		const rn_number n = c->model->numbers[i];
		RN_TRY(check_value(c, n.object, n.attribute, n.value));
		RN_TRY(check_value(c, n.object, n.attribute, n.low));
		RN_TRY(check_value(c, n.object, n.attribute, n.high));
	}
	for (int i = 0; i < c->model->setting_count; i++) {
		const rn_number n = c->model->numbers[c->model->settings[i].number];
		RN_TRY(check_value(c, n.object, n.attribute, c->model->settings[i].value));
	}
	return RN_OK;
}

/* ---- wood ------------------------------------------------------------------------------------ */

/* The weights that come from wood, once nothing keeps them from it. */
static rn_status weigh(checker *c, const rn_case *of_case)
{
	int before = c->model->findings.count;
	for (int i = 0; i < c->model->timber_count; i++)
		RN_TRY(rn_timber_check(c->model, c->values, i));
	if (c->model->findings.count > before)
		return RN_OK;
	rn_timber_weigh(c->model, of_case, c->values);
	for (int i = 0; i < c->model->timber_count; i++) {
		rn_object piece = c->model->timbers[i].piece;
		double weight = rn_model_value(c->model, c->values, piece, RN_ATTRIBUTE_WEIGHT, 0);
		RN_TRY(check_value(c, piece, RN_ATTRIBUTE_WEIGHT, weight));
	}
	return RN_OK;
}

/* The model keeps both figures: what it is lifted with is the upper one. */
static void keep_weights(checker *c)
{
	for (int i = 0; i < c->model->timber_count; i++) {
		int weight = rn_model_find_number(c->model, c->model->timbers[i].piece, RN_ATTRIBUTE_WEIGHT);
		if (weight == RN_NONE || c->model->numbers[weight].origin != RN_COMPUTED)
			continue;
		rn_number *n = &c->model->numbers[weight];
		n->value = n->high = c->values[weight];
		n->low = rn_timber_weighed(c->model, c->values, i).weight;
	}
}

/* ---- names, nodes, stems --------------------------------------------------------------------- */

typedef struct named_object {
	const char *id;
	rn_object object;
	int order;
} named_object;

static int compare_named(const void *left, const void *right)
{
	const named_object *a = left, *b = right;
	int by_id = strcmp(a->id, b->id);
	return by_id ? by_id : (a->order > b->order) - (a->order < b->order);
}

/* All names share one set; of two alike the later one is the finding. */
static rn_status check_ids(checker *c)
{
	static const rn_object_kind kinds[] = {RN_ITEM, RN_STEM, RN_NODE, RN_SLING, RN_LINE, RN_CASE, RN_PROP};
	const rn_model *m = c->model;
	const int counts[] = {m->item_count,  m->stem_count, m->node_count, m->sling_count,
	                      m->line_count,  m->case_count, m->prop_count};
	int all = 0, count = 0;
	for (size_t k = 0; k < sizeof counts / sizeof *counts; k++)
		all += counts[k];
	named_object *names;
	RN_TAKE(&c->model->memory->arena, names, all + 1);
	for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++)
		for (int i = 0; i < counts[k]; i++, count++) {
			rn_object object = rn_object_of(kinds[k], i);
			names[count] = (named_object){rn_object_id(m, object), object, count};
		}
	qsort(names, (size_t)all, sizeof *names, compare_named);
	for (int i = 1; i < all; i++)
		if (strcmp(names[i].id, names[i - 1].id) == 0)
			RN_TRY(find(c, RN_NOTE_ID_TWICE, names[i].object, RN_NONE, RN_NONE));
	return RN_OK;
}

/* A stem has a foot, a branch a height on its parent. */
static rn_status check_root(checker *c, int stem)
{
	rn_object object = rn_object_of(RN_STEM, stem);
	bool foot = has(c, object, RN_ATTRIBUTE_X) && has(c, object, RN_ATTRIBUTE_Y);
	bool branch = c->model->stems[stem].on != RN_NONE && has(c, object, RN_ATTRIBUTE_HEIGHT);
	return foot == branch ? find(c, RN_NOTE_NO_PLACE, object, RN_NONE, RN_NONE) : RN_OK;
}

static rn_status check_node(checker *c, int node)
{
	const rn_node *n = &c->model->nodes[node];
	rn_object object = node_object(node);
	bool drawn = has(c, object, RN_ATTRIBUTE_X) && has(c, object, RN_ATTRIBUTE_Y);
	bool on_stem = n->stem != RN_NONE && has(c, object, RN_ATTRIBUTE_HEIGHT);
	if (drawn == on_stem)
		RN_TRY(find(c, RN_NOTE_NO_PLACE, object, RN_NONE, RN_NONE));
	if (n->stem != RN_NONE && (n->bark == RN_BARK_LEFT || n->bark == RN_BARK_RIGHT) &&
	    c->model->stems[n->stem].section_count == 0)
		RN_TRY(find(c, RN_NOTE_STEM_SECTION, rn_object_of(RN_STEM, n->stem), RN_NONE, RN_NONE));
	return RN_OK;
}

static rn_status check_stem(checker *c, int stem)
{
	const rn_stem *s = &c->model->stems[stem];
	double below = -1;
	RN_TRY(check_root(c, stem));
	for (int i = 0; i < s->section_count; i++) {
		rn_object section = rn_object_of(RN_SECTION, s->first_section + i);
		double height = rn_model_value(c->model, c->values, section, RN_ATTRIBUTE_HEIGHT, 0);
		if (height <= below)
			RN_TRY(find(c, RN_NOTE_SECTION_ORDER, rn_object_of(RN_STEM, stem), RN_NONE, RN_NONE));
		below = height;
	}
	return RN_OK;
}

/* A curve of an item's points: each lies further along than the last, and higher; or as high, where `level`. */
static bool rises(const checker *c, rn_object first, int count, rn_attribute along, rn_attribute up, bool level)
{
	double far = 0, high = 0;
	for (int i = 0; i < count; i++) {
		rn_object point = rn_object_of(first.kind, first.index + i);
		double further = rn_model_value(c->model, c->values, point, along, 0);
		double higher = rn_model_value(c->model, c->values, point, up, 0);
		if (further <= far || higher < high || (!level && higher <= high))
			return false;
		far = further;
		high = higher;
	}
	return true;
}

static rn_status check_item(checker *c, int item)
{
	const rn_item *it = &c->model->items[item];
	rn_object object = rn_object_of(RN_ITEM, item);
	if (!rises(c, rn_object_of(RN_STRETCH, it->first_stretch), it->stretch_count, RN_ATTRIBUTE_LOAD,
	           RN_ATTRIBUTE_BY, false))
		RN_TRY(find(c, RN_NOTE_STRETCH_FALLS, object, RN_NONE, RN_NONE));
	/* a sharper bend first; a wider one keeps no less */
	if (!rises(c, rn_object_of(RN_BEND, it->first_bend), it->bend_count, RN_ATTRIBUTE_OVER, RN_ATTRIBUTE_KEEPS,
	           true))
		RN_TRY(find(c, RN_NOTE_BEND_FALLS, object, RN_NONE, RN_NONE));
	return RN_OK;
}

/* ---- lines and slings ------------------------------------------------------------------------ */

static rn_vec2 drawn(const checker *c, int node)
{
	double place[2];
	rn_node_drawn(c->model, c->values, node, place);
	return rn_vec2_of(place);
}

static double apart(const checker *c, int a, int b)
{
	return rn_vec2_length(rn_vec2_sub(drawn(c, a), drawn(c, b)));
}

static bool same(const checker *c, int a, int b)
{
	double size = fmax(rn_vec2_length(drawn(c, a)), rn_vec2_length(drawn(c, b)));
	return apart(c, a, b) <= same_place * size;
}

static rn_status check_ends(checker *c, int line)
{
	const rn_line *l = &c->model->lines[line];
	const rn_station *s = c->model->stations + l->first_station;
	rn_object object = rn_object_of(RN_LINE, line);
	for (int i = 0; i < l->station_count; i++) {
		bool end = i == 0 || i == l->station_count - 1;
		rn_node_kind kind = c->model->nodes[s[i].node].kind;
		if (end && s[i].kind == RN_THROUGH)
			RN_TRY(find(c, RN_NOTE_LINE_END_THROUGH, object, s[i].node, RN_NONE));
		if (!end && s[i].kind == RN_HOLD)
			RN_TRY(find(c, RN_NOTE_HOLD_MIDDLE, object, s[i].node, RN_NONE));
		if (!end && s[i].kind == RN_TIE)
			RN_TRY(find(c, RN_NOTE_TIE_MIDDLE, object, s[i].node, RN_NONE));
		if (s[i].kind == RN_HOLD && kind != RN_NODE_BOLLARD && kind != RN_NODE_HAND)
			RN_TRY(find(c, RN_NOTE_HOLD_PLACE, object, s[i].node, RN_NONE));
	}
	return RN_OK;
}

/* Two neighbouring treads need the sum of their radii, a tread and an end the one radius. */
static rn_status check_spans(checker *c, int line)
{
	const rn_line *l = &c->model->lines[line];
	rn_object object = rn_object_of(RN_LINE, line);
	for (int i = 0; i + 1 < l->station_count; i++) {
		int a = l->first_station + i, b = a + 1;
		const rn_station *s = c->model->stations;
		if (s[a].node == s[b].node) {
			RN_TRY(find(c, RN_NOTE_SAME_NODE, object, s[a].node, RN_NONE));
			continue;
		}
		if (same(c, s[a].node, s[b].node)) {
			RN_TRY(find(c, RN_NOTE_COINCIDENT, object, s[a].node, s[b].node));
			continue;
		}
		double need = 0, distance = apart(c, s[a].node, s[b].node);
		for (int k = a; k <= b; k++)
			if (s[k].kind == RN_THROUGH)
				need += rn_station_contact(c->model, c->values, k).radius;
		if (need < distance)
			continue;
		rn_note note = {.kind = RN_NOTE_TREAD_TOO_LARGE,
		                .a = object,
		                .b = node_object(s[a].node),
		                .c = node_object(s[b].node),
		                .value = {need, distance}};
		RN_TRY(rn_notes_add(&c->model->memory->arena, &c->model->findings, note));
	}
	return RN_OK;
}

static rn_status check_lengths(checker *c, rn_object object)
{
	static const rn_attribute rivals[] = {RN_ATTRIBUTE_LENGTH, RN_ATTRIBUTE_SLACK,
	                                      RN_ATTRIBUTE_PRETENSION};
	int given = 0;
	for (size_t i = 0; i < sizeof rivals / sizeof *rivals; i++)
		given += has(c, object, rivals[i]);
	if (object.kind == RN_LINE) {
		const rn_line *l = &c->model->lines[object.index];
		for (int i = 0; i < l->station_count; i++)
			given += has(c, rn_object_of(RN_STATION, l->first_station + i), RN_ATTRIBUTE_PULL);
	}
	if (given > 1)
		RN_TRY(find(c, RN_NOTE_LENGTH_TWICE, object, RN_NONE, RN_NONE));
	return RN_OK;
}

static rn_status check_line(checker *c, int line)
{
	rn_object object = rn_object_of(RN_LINE, line);
	if (c->model->lines[line].station_count < 2)
		return find(c, RN_NOTE_LINE_SHORT, object, RN_NONE, RN_NONE);
	RN_TRY(check_ends(c, line));
	RN_TRY(check_spans(c, line));
	return check_lengths(c, object);
}

static rn_status check_leg(checker *c, int leg)
{
	const rn_leg *l = &c->model->legs[leg];
	rn_object sling = rn_object_of(RN_SLING, l->sling);
	if (l->from == l->to)
		return find(c, RN_NOTE_SAME_NODE, sling, l->from, RN_NONE);
	bool has_length = has(c, rn_object_of(RN_LEG, leg), RN_ATTRIBUTE_REACH);
	if (!has_length && same(c, l->from, l->to))
		return find(c, RN_NOTE_COINCIDENT, sling, l->from, l->to);
	return check_lengths(c, rn_object_of(RN_LEG, leg));
}

static rn_status check_prop(checker *c, int prop)
{
	const rn_prop *p = &c->model->props[prop];
	rn_object object = rn_object_of(RN_PROP, prop);
	if (p->from == p->to)
		return find(c, RN_NOTE_SAME_NODE, object, p->from, RN_NONE);
	return same(c, p->from, p->to) ? find(c, RN_NOTE_COINCIDENT, object, p->from, p->to) : RN_OK;
}

/* ---- side of a pass drawn near straight ------------------------------------------------------ */

/* The pull of everything but this line on a node as drawn: its weight, and each other member by a
 * weight of one, or of its own when the node weighs nothing. Only its side matters. */
static rn_vec2 other_pull(const checker *c, int node, int line)
{
	const rn_model *m = c->model;
	rn_object object = node_object(node);
	double own = rn_model_value(m, c->values, object, RN_ATTRIBUTE_WEIGHT, 0) +
	             rn_model_value(m, c->values, rn_object_of(RN_ITEM, m->nodes[node].gear),
	                            RN_ATTRIBUTE_WEIGHT, 0);
	rn_vec2 sum = {0, -own}, here = drawn(c, node);
	double pull = own > 0 ? own * 1e3 : 1; /* a rope that holds a load pulls more than a ring weighs */
	for (int i = 0; i < m->leg_count; i++)
		if (m->legs[i].from == node || m->legs[i].to == node) {
			int other = m->legs[i].from == node ? m->legs[i].to : m->legs[i].from;
			rn_vec2 d = rn_vec2_sub(drawn(c, other), here);
			double length = rn_vec2_length(d);
			if (length > 0)
				sum = rn_vec2_add(sum, rn_vec2_scale(pull / length, d));
		}
	for (int i = 0; i < m->station_count; i++) {
		const rn_station *s = &m->stations[i];
		if (s->node != node || s->line == line || s->kind == RN_THROUGH)
			continue;
		const rn_line *l = &m->lines[s->line];
		int next = i + 1 < l->first_station + l->station_count ? i + 1 : i - 1;
		rn_vec2 d = rn_vec2_sub(drawn(c, m->stations[next].node), here);
		double length = rn_vec2_length(d);
		if (length > 0)
			sum = rn_vec2_add(sum, rn_vec2_scale(pull / length, d));
	}
	return sum;
}

/* Sets the side of one through from the drawing; see doc/theory.md, "Side". */
static rn_status settle_side(checker *c, int station)
{
	rn_station *s = &c->model->stations[station];
	double r = rn_station_contact(c->model, c->values, station).radius;
	if (s->kind != RN_THROUGH || s->side != 0 || r <= 0)
		return RN_OK;
	rn_vec2 before = drawn(c, s[-1].node), here = drawn(c, s->node), after = drawn(c, s[1].node);
	rn_vec2 in = rn_vec2_sub(here, before), out = rn_vec2_sub(after, here);
	double turn = atan2(rn_vec2_cross(in, out), rn_vec2_dot(in, out));
	double doubt = asin(fmin(1, r / rn_vec2_length(in))) + asin(fmin(1, r / rn_vec2_length(out)));
	if (fabs(turn) > doubt) {
		s->side = turn > 0 ? 1 : -1;
		return RN_OK;
	}
	rn_vec2 along = rn_vec2_sub(after, before);
	rn_vec2 q = rn_node_is_fixed(&c->model->nodes[s->node]) ? (rn_vec2){0, 0}
	                                                        : other_pull(c, s->node, s->line);
	double across = rn_vec2_dot(q, rn_vec2_left(along));
	if (fabs(across) <= 1e-9 * rn_vec2_length(q) * rn_vec2_length(along))
		return find(c, RN_NOTE_SIDE_NEEDED, rn_object_of(RN_LINE, s->line), s->node, RN_NONE);
	s->side = across < 0 ? 1 : -1;
	s->side_doubtful = true;
	return RN_OK;
}

/* ---- the whole ----------------------------------------------------------------------------- */

static rn_status check_members(checker *c)
{
	const rn_model *m = c->model;
	for (int i = 0; i < m->line_count; i++)
		RN_TRY(check_line(c, i));
	for (int i = 0; i < m->leg_count; i++)
		RN_TRY(check_leg(c, i));
	for (int i = 0; i < m->prop_count; i++)
		RN_TRY(check_prop(c, i));
	return RN_OK;
}

/* What a case sets must leave a rigging that a file could have drawn. */
static rn_status check_settings(checker *c)
{
	const rn_model *m = c->model;
	double *values;
	RN_TAKE(&c->model->memory->arena, values, m->number_count + 1);
	for (int k = 0; k < m->case_count && m->findings.count == 0; k++) {
		if (m->cases[k].setting_count == 0)
			continue;
		rn_case_values(m, &m->cases[k], values);
		checker of_case = {.model = c->model, .values = values};
		RN_TRY(weigh(&of_case, &m->cases[k]));
		for (int i = 0; i < m->stem_count; i++)
			RN_TRY(check_stem(&of_case, i));
		RN_TRY(check_members(&of_case));
		if (m->findings.count) /* the lines named are innocent, what the case sets is not */
			RN_TRY(find(c, RN_NOTE_CASE_SETS, rn_object_of(RN_CASE, k), RN_NONE, RN_NONE));
	}
	return m->findings.count ? RN_STATUS_INPUT : RN_OK;
}

static rn_status check_shape(checker *c)
{
	const rn_model *m = c->model;
	RN_TRY(check_ids(c));
	for (int i = 0; i < m->stem_count; i++)
		RN_TRY(check_stem(c, i));
	for (int i = 0; i < m->item_count; i++)
		RN_TRY(check_item(c, i));
	for (int i = 0; i < m->node_count; i++)
		RN_TRY(check_node(c, i));
	if (m->findings.count)
		return RN_STATUS_INPUT; /* places are needed below */
	RN_TRY(check_members(c));
	if (m->line_count == 0 && m->leg_count == 0 && m->prop_count == 0)
		RN_TRY(find(c, RN_NOTE_NO_LINE, rn_object_of(RN_RIGGING, 0), RN_NONE, RN_NONE));
	return m->findings.count ? RN_STATUS_INPUT : RN_OK;
}

static rn_status check_runs(checker *c)
{
	const rn_model *m = c->model;
	for (int i = 0; i < m->case_count; i++)
		for (int k = 0; k < m->cases[i].run_count; k++) {
			const rn_run *run = &m->runs[m->cases[i].first_run + k];
			if (run->at != RN_NONE && m->stations[run->at].line != run->line)
				RN_TRY(find(c, RN_NOTE_RUN_PLACE, rn_object_of(RN_CASE, i),
				            m->stations[run->at].node, RN_NONE));
		}
	return m->findings.count ? RN_STATUS_INPUT : RN_OK;
}

/* The case at the beginning of a chain of followers; RN_NONE where it goes round. */
static int root_case(const rn_model *m, int c)
{
	for (int i = 0; i <= m->case_count; i++) {
		if (m->cases[c].follows == RN_NONE)
			return c;
		c = m->cases[c].follows;
	}
	return RN_NONE;
}

static rn_status say_follower(checker *c, rn_note_kind kind, int index)
{
	rn_note note = {.kind = kind, .a = rn_object_of(RN_CASE, index), .b = node_object(RN_NONE),
	                .c = node_object(RN_NONE), .word = c->model->cases[index].after};
	return rn_notes_add(&c->model->memory->arena, &c->model->findings, note);
}

/* A case may follow one that the program makes: those exist only now. */
static rn_status check_following(checker *c)
{
	rn_model *m = c->model;
	for (int i = 0; i < m->case_count; i++) {
		if (!m->cases[i].after)
			continue;
		rn_object followed = rn_model_object_by_id(m, m->cases[i].after);
		if (followed.kind != RN_CASE || followed.index == RN_NONE) {
			RN_TRY(say_follower(c, RN_NOTE_AFTER_UNKNOWN, i));
			continue;
		}
		m->cases[i].follows = followed.index;
		if (m->cases[i].run_count > 0)
			RN_TRY(say_follower(c, RN_NOTE_AFTER_RUNS, i));
		if (m->drawn_under_load)
			RN_TRY(say_follower(c, RN_NOTE_AFTER_PICTURE, i));
	}
	for (int i = 0; i < m->case_count; i++)
		if (root_case(m, i) == RN_NONE)
			RN_TRY(say_follower(c, RN_NOTE_AFTER_ITSELF, i));
	return m->findings.count ? RN_STATUS_INPUT : RN_OK;
}

/* ---- falls --------------------------------------------------------------------------------- */

static rn_status check_fall(checker *c, const rn_fall *fall)
{
	const rn_model *m = c->model;
	const rn_case *of = &m->cases[fall->case_index];
	rn_object at = rn_object_of(RN_CASE, fall->case_index);
	int weight = rn_model_find_number(m, fall->piece, RN_ATTRIBUTE_WEIGHT);
	if (m->drawn_under_load)
		RN_TRY(find(c, RN_NOTE_FALL_PICTURE, at, RN_NONE, RN_NONE));
	if (of->after)
		RN_TRY(find(c, RN_NOTE_FALL_AFTER, at, RN_NONE, RN_NONE));
	for (int i = 0; i < m->case_count; i++)
		if (m->cases[i].follows == fall->case_index)
			RN_TRY(find(c, RN_NOTE_FALL_AFTER, rn_object_of(RN_CASE, i), RN_NONE, RN_NONE));
	if (weight == RN_NONE || !(m->numbers[weight].value > 0))
		RN_TRY(rn_notes_add(&c->model->memory->arena, &c->model->findings,
		                    (rn_note){.kind = RN_NOTE_FALL_WEIGHT, .a = at, .b = fall->piece, .c = node_object(RN_NONE)}));
	for (int i = of->first_run; i < of->first_run + of->run_count; i++) {
		int way = rn_fall_direction(m, of, m->runs[i].line);
		if (way != 0 && way != (m->runs[i].toward_last ? 1 : -1))
			RN_TRY(rn_notes_add(&c->model->memory->arena, &c->model->findings,
			                    (rn_note){.kind = RN_NOTE_FALL_RUN, .a = at, .b = rn_object_of(RN_LINE, m->runs[i].line),
			                              .c = node_object(RN_NONE)}));
	}
	bool lets_run = fall->line != RN_NONE || rn_model_has(m, rn_object_of(RN_FALL, of->fall), RN_ATTRIBUTE_HAND);
	if (lets_run && rn_fall_hold(m, of->fall) == RN_NONE)
		RN_TRY(find(c, RN_NOTE_FALL_LINE, at, RN_NONE, RN_NONE));
	return RN_OK;
}

static rn_status check_falls(checker *c)
{
	for (int i = 0; i < c->model->fall_count; i++)
		RN_TRY(check_fall(c, &c->model->falls[i]));
	return c->model->findings.count ? RN_STATUS_INPUT : RN_OK;
}

static rn_status check_all(checker *c)
{
	rn_model *m = c->model;
	RN_TRY(check_numbers(c));
	if (m->findings.count)
		return RN_STATUS_INPUT;
	c->numbers_can_be = true;
	RN_TRY(weigh(c, NULL));
	RN_TRY(check_shape(c));
	keep_weights(c);
	RN_TRY(check_runs(c));
	RN_TRY(check_settings(c));
	for (int i = 0; i < m->station_count; i++)
		RN_TRY(settle_side(c, i));
	if (m->findings.count)
		return RN_STATUS_INPUT;
	RN_TRY(rn_model_guess_missing(m, c->values));
	RN_TRY(rn_model_guess_ties(m));
	RN_TRY(rn_model_make_cases(m));
	RN_TRY(check_following(c));
	return check_falls(c);
}

rn_status rn_model_check(rn_model *model)
{
	if (model->memory->checked)
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_model_keep_told(model));
	double *values;
	RN_TAKE(&model->memory->arena, values, model->number_count + 1);
	for (int i = 0; i < model->number_count; i++)
		values[i] = model->numbers[i].value;
	checker c = {.model = model, .values = values};
	rn_status status = check_all(&c);
	model->memory->checked = status == RN_OK;
	if (status == RN_OK || (status == RN_STATUS_INPUT && c.numbers_can_be))
		RN_TRY(rn_doubts_find(model)); /* of a model that cannot be they may say why */
	return status;
}
