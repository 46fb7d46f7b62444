/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a model leaves out and the program takes for granted, each with its range, and each said.
 */
#include "solver/model/guess.h"

#include "solver/base/notes.h"
#include "solver/model/give.h"
#include "solver/model/memory.h"
#include "solver/model/place.h"
#include "solver/model/wood.h"

#include <math.h>

static rn_status say(rn_model *model, rn_note note)
{
	return rn_notes_add(&model->memory->arena, &model->guesses, note);
}

/* ---- friction ------------------------------------------------------------------------------ */

/* Class ranges of the capstan exponent (sheaves: of the efficiency over 180 deg), by kind of node.
 * Sources: rings and tubes, raise/lower pairs of Delaney (2022) p. 88 and ring data after Kane
 * (2007), 0.14 to 0.50; timber 0.22 to 0.37, same pairs; bollards 0.15 (wet) to 0.40, textbook and
 * marine values; blocks, tension ratio 1.05 to 1.40 over half a turn. The middle of a range is its
 * geometric mean, rounded. */
static const struct {
	bool is_sheave;
	double value, low, high;
} friction_class[] = {
	[RN_NODE_ANCHOR] = {false, 0.28, 0.20, 0.40}, [RN_NODE_FORK] = {false, 0.28, 0.20, 0.40},
	[RN_NODE_HAND] = {false, 0.28, 0.20, 0.40},   [RN_NODE_BOLLARD] = {false, 0.25, 0.15, 0.40},
	[RN_NODE_RING] = {false, 0.26, 0.14, 0.50},   [RN_NODE_BLOCK] = {true, 0.83, 0.71, 0.95},
	[RN_NODE_JOINT] = {false, 0.26, 0.14, 0.50},  [RN_NODE_PIECE] = {false, 0.28, 0.20, 0.40},
};

double rn_friction_of_kind(rn_node_kind kind)
{
	return friction_class[kind].value;
}

static rn_status guess_friction(rn_model *model, int node)
{
	const rn_node *n = &model->nodes[node];
	bool by_gear = n->gear != RN_NONE;
	rn_object object = by_gear ? rn_object_of(RN_ITEM, n->gear) : rn_object_of(RN_NODE, node);
	bool is_sheave = friction_class[n->kind].is_sheave;
	double low = friction_class[n->kind].low, high = friction_class[n->kind].high;
	RN_TRY(rn_model_guess(model, object,
	                      is_sheave ? RN_ATTRIBUTE_EFFICIENCY : RN_ATTRIBUTE_FRICTION,
	                      friction_class[n->kind].value, low, high, RN_GUESSED));
	return say(model, (rn_note){.kind = is_sheave ? RN_NOTE_GUESS_EFFICIENCY
	                                              : RN_NOTE_GUESS_FRICTION,
	                            .a = object,
	                            .b = rn_object_of(RN_NODE, RN_NONE),
	                            .c = rn_object_of(RN_NODE, RN_NONE),
	                            .value = {low, high}});
}

/* ---- stiffness ----------------------------------------------------------------------------- */

/* EA over breaking strength, by fibre. Sources: UFC 4-159-03 (2005) Table 6-8 (nylon 3.54);
 * NAVEDTRA 14160 Table 4-6 (polyester 2.9 to 3.3, aramid 16.7); worked polyester double braid 6 to 9
 * from memory; HMPE 25 and dynamic nylon 1.4 common practice; natural fibre and wire from memory. */
static const struct {
	double low, high;
} stiffness_ratio[] = {
	[RN_FIBRE_UNKNOWN] = {1.5, 9},      [RN_FIBRE_NYLON] = {1.4, 3.54},
	[RN_FIBRE_POLYESTER] = {2.9, 9},    [RN_FIBRE_ARAMID] = {12, 17},
	[RN_FIBRE_HMPE] = {17, 30},         [RN_FIBRE_POLYPROPYLENE] = {2.5, 5},
	[RN_FIBRE_NATURAL] = {4, 10},       [RN_FIBRE_WIRE] = {45, 80},
};
static const double polyester_split = 4.5; /* first loading is 2 to 5 times softer than worked */

/* For a rope of which nothing is known: stiff enough that shapes are those of rope that does not
 * stretch. Answers that depend on it are found out by halving it. [N] */
static const double stiffness_unknown = 1e7;

static void ratio_range(const rn_item *item, double *low_out, double *high_out)
{
	*low_out = stiffness_ratio[item->fibre].low;
	*high_out = stiffness_ratio[item->fibre].high;
	if (item->fibre == RN_FIBRE_POLYESTER && item->state == RN_STATE_NEW)
		*high_out = polyester_split;
	if (item->fibre == RN_FIBRE_POLYESTER && item->state == RN_STATE_WORKED)
		*low_out = polyester_split;
}

static rn_note about(rn_note_kind kind, rn_object a)
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	return (rn_note){.kind = kind, .a = a, .b = none, .c = none};
}

static rn_status guess_stiffness(rn_model *model, rn_object member, int gear)
{
	if (rn_member_stiffness_known(model, member, gear))
		return RN_OK;
	rn_object object = gear == RN_NONE ? member : rn_object_of(RN_ITEM, gear);
	int strength = rn_model_find_number(model, object, RN_ATTRIBUTE_STRENGTH);
	if (gear == RN_NONE || strength == RN_NONE) {
		rn_note note = about(RN_NOTE_GUESS_STIFFNESS_NONE, object);
		note.value[0] = stiffness_unknown;
		RN_TRY(say(model, note));
		return rn_model_guess(model, object, RN_ATTRIBUTE_STIFFNESS, stiffness_unknown,
		                      stiffness_unknown / 2, stiffness_unknown, RN_GUESSED);
	}
	double low, high;
	ratio_range(&model->items[gear], &low, &high);
	low *= model->numbers[strength].value;
	high *= model->numbers[strength].value;
	rn_note note = about(RN_NOTE_GUESS_STIFFNESS, object);
	note.value[0] = low;
	note.value[1] = high;
	RN_TRY(say(model, note));
	return rn_model_guess(model, object, RN_ATTRIBUTE_STIFFNESS, sqrt(low * high), low, high,
	                      RN_GUESSED);
}

bool rn_member_stiffness_known(const rn_model *model, rn_object member, int gear)
{
	return rn_member_curve(model, member) != RN_NONE ||
	       rn_model_find_number(model, member, RN_ATTRIBUTE_STIFFNESS) != RN_NONE ||
	       rn_model_find_number(model, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_STIFFNESS) != RN_NONE;
}

/* ---- the rest ------------------------------------------------------------------------------ */

/* By the numbers there are, which those guessed on the way here have joined. */
static bool has_friction(const rn_model *model, int station)
{
	const rn_station *s = &model->stations[station];
	const rn_object places[] = {rn_object_of(RN_STATION, station),
	                            rn_object_of(RN_ITEM, model->nodes[s->node].gear), rn_object_of(RN_NODE, s->node)};
	for (int i = 0; i < 3; i++)
		if (rn_model_has(model, places[i], RN_ATTRIBUTE_EFFICIENCY) || rn_model_has(model, places[i], RN_ATTRIBUTE_FRICTION))
			return true;
	return false;
}

static rn_status guess_station(rn_model *model, int station)
{
	const rn_station *s = &model->stations[station];
	const rn_node *node = &model->nodes[s->node];
	bool bends = s->kind == RN_THROUGH, grips = s->kind == RN_HOLD && node->kind == RN_NODE_BOLLARD;
	if (!bends && !grips)
		return RN_OK;
	if (!has_friction(model, station))
		RN_TRY(guess_friction(model, s->node));
	bool has_tread = rn_model_has(model, rn_object_of(RN_STATION, station), RN_ATTRIBUTE_TREAD) ||
	                 rn_model_has(model, rn_object_of(RN_ITEM, node->gear), RN_ATTRIBUTE_TREAD);
	if (bends && !has_tread)
		RN_TRY(say(model, about(RN_NOTE_GUESS_TREAD,
		                        node->gear == RN_NONE ? rn_object_of(RN_NODE, s->node)
		                                              : rn_object_of(RN_ITEM, node->gear))));
	int gear = model->lines[s->line].gear;
	if (bends && has_tread && !rn_model_has(model, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_DIAMETER))
		RN_TRY(say(model, about(RN_NOTE_GUESS_ROPE, rn_object_of(RN_LINE, s->line))));
	return RN_OK;
}

/* Green wood bends and shortens with about this modulus [Pa]: between the green means of common
 * species, 6 to 12 GPa (Wood Handbook FPL-GTR-282 (2021) Table 5-3). */
static const double modulus_unknown = 8e9;

static rn_status guess_modulus(rn_model *model, rn_object object)
{
	if (rn_model_has(model, object, RN_ATTRIBUTE_MODULUS))
		return RN_OK;
	rn_note note = about(RN_NOTE_GUESS_MODULUS, object);
	note.value[0] = modulus_unknown;
	RN_TRY(say(model, note));
	return rn_model_guess(model, object, RN_ATTRIBUTE_MODULUS, modulus_unknown, 6e9, 12e9, RN_GUESSED);
}

static rn_status guess_prop(rn_model *model, int prop)
{
	rn_object object = rn_object_of(RN_PROP, prop);
	if (model->props[prop].is_piece)
		return RN_OK; /* a log does not shorten to speak of */
	if (!rn_model_has(model, object, RN_ATTRIBUTE_DIAMETER))
		return say(model, about(RN_NOTE_GUESS_DIAMETER, object));
	return guess_modulus(model, object);
}

static bool is_piece_end(const rn_model *model, int node)
{
	for (int i = 0; i < model->prop_count; i++)
		if (model->props[i].is_piece && (model->props[i].from == node || model->props[i].to == node))
			return true;
	return false;
}

static rn_status guess_node(rn_model *model, int node)
{
	const rn_node *n = &model->nodes[node];
	rn_object object = rn_object_of(RN_NODE, node);
	if (n->kind == RN_NODE_BOLLARD && !rn_model_has(model, object, RN_ATTRIBUTE_TURNS)) {
		RN_TRY(rn_model_guess(model, object, RN_ATTRIBUTE_TURNS, 0, 0, 0, RN_GUESSED));
		RN_TRY(say(model, about(RN_NOTE_GUESS_TURNS, object)));
	}
	if (n->kind == RN_NODE_PIECE && !is_piece_end(model, node) &&
	    !rn_model_has(model, object, RN_ATTRIBUTE_WEIGHT))
		RN_TRY(say(model, about(RN_NOTE_GUESS_WEIGHT, object)));
	if (n->stem != RN_NONE && n->bark == RN_BARK_UNSAID) {
		rn_note note = about(RN_NOTE_GUESS_SIDE, object);
		note.b = rn_object_of(RN_STEM, n->stem);
		RN_TRY(say(model, note));
	}
	return RN_OK;
}

rn_status rn_model_guess_missing(rn_model *model, const double *values)
{
	for (int i = 0; i < model->node_count; i++)
		RN_TRY(guess_node(model, i));
	for (int i = 0; i < model->station_count; i++)
		RN_TRY(guess_station(model, i));
	RN_TRY(rn_wood_guess(model, values));
	for (int i = 0; i < model->stem_count; i++)
		if (model->stems[i].section_count > 0 && rn_stem_gives(model, i))
			RN_TRY(guess_modulus(model, rn_object_of(RN_STEM, i)));
	for (int i = 0; i < model->prop_count; i++)
		RN_TRY(guess_prop(model, i));
	for (int i = 0; i < model->line_count; i++)
		RN_TRY(guess_stiffness(model, rn_object_of(RN_LINE, i), model->lines[i].gear));
	for (int i = 0; i < model->sling_count; i++)
		RN_TRY(guess_stiffness(model, rn_object_of(RN_SLING, i), model->slings[i].gear));
	return RN_OK;
}
