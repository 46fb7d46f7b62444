/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every number that somebody wrote is held against what is usual, and against its neighbours: a rope by its
 * diameter, a piece by the rope that it hangs on, a length by the drawing. What lies far outside is asked
 * about, with the slip of unit that would bring it nearest to the middle of what is usual.
 *
 * What is usual is common practice, no source, unless it says otherwise; the bounds lie so wide that only
 * a slip gets past them.
 */
#include "solver/model/doubts.h"

#include <math.h>
#include <stdlib.h>

#include "solver/base/notes.h"
#include "solver/base/vec2.h"
#include "solver/model/memory.h"
#include "solver/model/place.h"

typedef struct usual {
	double least, middle, most;
} usual;

/* What holds a node, as far as it is known. */
typedef struct holder {
	double strength; /* of the strongest rope or sling on it [N]; HUGE_VAL: of one it is not known */
	double weight;   /* of the lightest such rope, as drawn [N]; HUGE_VAL: not known */
	rn_object member; /* the strongest */
} holder;

/* No job of this trade is larger than a reel is long, or smaller than a hand [m]. */
static const usual size_usual = {0.1, 20, 600};

typedef struct rated_item {
	double load; /* [N] */
	int item;
} rated_item;

typedef struct doubter {
	rn_model *model;
	const double *values;
	int of_case; /* whose settings are looked at, RN_NONE = the model's own numbers */
	holder *holders; /* one per node */
	double pieces;   /* weight of all pieces [N] */
	rated_item *rated; /* by rising load */
	int rated_count;
} doubter;

static rn_object nothing(void)
{
	return rn_object_of(RN_NODE, RN_NONE);
}

static double value_of(const doubter *d, rn_object object, rn_attribute attribute)
{
	return object.index == RN_NONE ? 0 : rn_model_value(d->model, d->values, object, attribute, 0);
}

/* ---- saying it ------------------------------------------------------------------------------- */

static rn_note about(const doubter *d, rn_note_kind kind, rn_object a, rn_place place)
{
	bool set = d->of_case != RN_NONE;
	rn_place at = set ? d->model->cases[d->of_case].place : place;
	return (rn_note){.kind = kind, .a = a, .b = nothing(), .c = set ? rn_object_of(RN_CASE, d->of_case) : nothing(),
	                 .file = at.file, .line = at.line};
}

/* What it is called in a sentence, where its word in the file is none. */
static const char *word_of(rn_attribute attribute)
{
	switch (attribute) {
	case RN_ATTRIBUTE_LONG: return "length as made";
	case RN_ATTRIBUTE_BY: return "stretch";
	case RN_ATTRIBUTE_KEEPS: return "part that is left";
	case RN_ATTRIBUTE_BELOW: return "reach below its knot";
	case RN_ATTRIBUTE_FURTHER: return "rope beyond the drawing";
	case RN_ATTRIBUTE_HAND: return "pull of the hand";
	case RN_ATTRIBUTE_BENDING: return "strength in bending";
	default: return rn_attribute_word(attribute);
	}
}

static rn_note about_number(const doubter *d, rn_note_kind kind, const rn_number *n)
{
	rn_note note = about(d, kind, n->object, (rn_place){.file = n->file, .line = n->line});
	note.attribute = n->attribute;
	note.word = word_of(n->attribute);
	return note;
}

static rn_status say(doubter *d, rn_note note, double first, double second, double third)
{
	if (note.a.kind == RN_ITEM && !rn_item_is_used(d->model, note.a.index))
		return RN_OK; /* a store has more gear than the job */
	const rn_notes *told = &d->model->doubts;
	const rn_note *last = told->count > 0 && note.line <= 0 ? &told->items[told->count - 1] : NULL;
	if (last && last->kind == note.kind && last->attribute == note.attribute && last->a.kind == note.a.kind &&
	    !(last->value[0] < first) && !(last->value[0] > first))
		return RN_OK; /* what a command line asks stands in every case */
	note.value[0] = first;
	note.value[1] = second;
	note.value[2] = third;
	return rn_notes_append(&d->model->memory->arena, &d->model->doubts, note);
}

/* ---- slips ----------------------------------------------------------------------------------- */

/* What a value has to be multiplied with when one unit was written for another; each the other way round
 * too. A kilogram weighs 9.80665 N (CGPM 1901); a pound 4.4482216 N; a cubic foot is 0.0283168 m3. */
static const struct {
	rn_quantity quantity;
	double times;
	bool mixes; /* metric and feet and pounds: rarer in one file */
} slips[] = {
	{RN_QUANTITY_LENGTH, 1e3, false},                         /* mm for m */
	{RN_QUANTITY_LENGTH, 1e2, false},                         /* cm for m */
	{RN_QUANTITY_LENGTH, 10, false},                          /* mm for cm; a point one place off */
	{RN_QUANTITY_LENGTH, 304.8, true},                        /* mm for ft */
	{RN_QUANTITY_LENGTH, 25.4, true},                         /* mm for in */
	{RN_QUANTITY_FORCE, 1e3, false},                          /* N for kN, kg for t, lb for kip */
	{RN_QUANTITY_FORCE, 9.80665, false},                      /* kN for t, N for kg */
	{RN_QUANTITY_FORCE, 101.971621, false},                   /* kg for kN */
	{RN_QUANTITY_FORCE, 224.808943, true},                    /* lb for kN */
	{RN_QUANTITY_RATIO, 10, false},                           /* a point one place off */
	{RN_QUANTITY_RATIO, 100, false},                          /* per cent for parts of one */
	{RN_QUANTITY_ANGLE, 180 / RN_PI, false},                  /* deg for rad */
	{RN_QUANTITY_DENSITY, 1e3, false},                        /* kg for t */
	{RN_QUANTITY_DENSITY, 16.018463, true},                   /* kg/m3 for lb/ft3 */
	{RN_QUANTITY_STRESS, 1e3, false},                         /* MPa for GPa */
	{RN_QUANTITY_STRESS, 1e6, false},                         /* Pa for MPa */
	{RN_QUANTITY_ACCELERATION, 0.3048, true},                 /* m/s2 for ft/s2 */
};
/* A slip between metric and feet and pounds has to come so many times nearer to be the likelier one [-]. */
static const double mixes_nearer = 2;

/* The value that may have been meant: among the slips the one nearest to the middle of what is usual, and
 * in it; 0 when none is. */
static double meant(rn_quantity quantity, double value, usual u)
{
	double best = 0, nearest = HUGE_VAL;
	for (size_t i = 0; i < sizeof slips / sizeof *slips; i++)
		for (int back = 0; back < 2 && slips[i].quantity == quantity; back++) {
			double other = back ? value / slips[i].times : value * slips[i].times;
			double off = fabs(log(fabs(other) / u.middle)) + (slips[i].mixes ? log(mixes_nearer) : 0);
			if (fabs(other) < u.least || fabs(other) > u.most || off >= nearest)
				continue;
			best = other;
			nearest = off;
		}
	return best;
}

static rn_status ask(doubter *d, const rn_number *n, double value, usual u)
{
	if (fabs(value) >= u.least && fabs(value) <= u.most)
		return RN_OK;
	double other = meant(rn_attribute_quantity(n->attribute), value, u);
	if (fabs(other) > 0)
		return say(d, about_number(d, RN_NOTE_DOUBT_UNIT, n), value, other, 0);
	bool more = fabs(value) > u.most;
	return say(d, about_number(d, more ? RN_NOTE_DOUBT_MORE : RN_NOTE_DOUBT_LESS, n), value, more ? u.most : u.least, 0);
}

/* ---- ropes by their diameter ----------------------------------------------------------------- */

/* Breaking strength over the square of the diameter, by fibre [N/m2]: a 16 mm rope of polyester breaks at some
 * 70 kN. Makers' sheets lie between the outer two; common practice, no source. */
static const usual strength_of_square[] = {
	[RN_FIBRE_UNKNOWN] = {0.03e9, 0.27e9, 1.6e9},    [RN_FIBRE_NYLON] = {0.12e9, 0.27e9, 0.5e9},
	[RN_FIBRE_POLYESTER] = {0.12e9, 0.27e9, 0.6e9},  [RN_FIBRE_ARAMID] = {0.3e9, 0.7e9, 1.5e9},
	[RN_FIBRE_HMPE] = {0.3e9, 0.7e9, 1.6e9},         [RN_FIBRE_POLYPROPYLENE] = {0.06e9, 0.15e9, 0.35e9},
	[RN_FIBRE_NATURAL] = {0.03e9, 0.08e9, 0.2e9},    [RN_FIBRE_WIRE] = {0.3e9, 0.6e9, 1e9},
};

/* A strength is asked about that many times outside [-]: ropes differ by how they are laid, and a grommet
 * has two parts. */
static const double strength_outside = 2;

/* What such a rope breaks at; all zero when its diameter is not said or it is no rope. */
static usual strength_usual(const doubter *d, int item)
{
	const rn_item *it = &d->model->items[item];
	double diameter = value_of(d, rn_object_of(RN_ITEM, item), RN_ATTRIBUTE_DIAMETER), square = diameter * diameter;
	bool rope = it->kind == RN_ITEM_ROPE ||
	            (it->kind == RN_ITEM_SLING && it->body != RN_BODY_STRAP && it->body != RN_BODY_ROUND);
	if (!rope)
		return (usual){0, 0, 0};
	const usual *of = &strength_of_square[it->fibre];
	return (usual){of->least * square, of->middle * square, of->most * square};
}

/* A rope fresh from the reel weighs about this of its round section [kg/m3]: the fibre with the air in it;
 * common practice, no source. */
static const double rope_density = 800;

static const usual rope_diameter = {1e-3, 13e-3, 60e-3}; /* throw line to hawser [m] */
static const usual strength_alone = {500, 60e3, 5e6};    /* of a strap or a shackle, from a cord to a crane's [N] */

static bool has_usual_diameter(const doubter *d, int item)
{
	double diameter = value_of(d, rn_object_of(RN_ITEM, item), RN_ATTRIBUTE_DIAMETER);
	return diameter >= rope_diameter.least && diameter <= rope_diameter.most;
}

/* What a strength is held against: by its diameter where that is usual itself. */
static usual strength_bounds(const doubter *d, int item)
{
	usual u = strength_usual(d, item);
	if (u.middle <= 0 || !has_usual_diameter(d, item))
		return strength_alone;
	return (usual){u.least / strength_outside, u.middle, u.most * strength_outside};
}

/* Its own when that is usual, else the most of its diameter; 0 when neither is known. */
static double strength_of(const doubter *d, int gear)
{
	if (gear == RN_NONE)
		return 0;
	double told = value_of(d, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_STRENGTH);
	usual u = strength_bounds(d, gear);
	if (told >= u.least && told <= u.most)
		return told;
	return has_usual_diameter(d, gear) ? strength_usual(d, gear).most : 0;
}

/* A strength is at least this many times the load that its maker allows [-]: below it the two were changed
 * about, or one has the other's unit. */
static const double strength_over_load = 1.5;

static rn_status ask_strength(doubter *d, const rn_number *n, double value)
{
	usual u = has_usual_diameter(d, n->object.index) ? strength_usual(d, n->object.index) : (usual){0, 0, 0};
	double factor = value_of(d, n->object, RN_ATTRIBUTE_DESIGN_FACTOR);
	if (factor <= 0)
		factor = value_of(d, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_DESIGN_FACTOR);
	bool factored = value * strength_outside < u.least && value * factor >= u.least && value * factor <= u.most;
	if (value_of(d, n->object, RN_ATTRIBUTE_WORKING_LOAD) * strength_over_load > value)
		return RN_OK; /* asked about where the working load is */
	if (factored)
		return say(d, about_number(d, RN_NOTE_DOUBT_FACTORED, n), value, value * factor, 0);
	return ask(d, n, value, strength_bounds(d, n->object.index));
}

/* ---- working loads --------------------------------------------------------------------------- */

/* Gear of one job differs by less than this [-]: from a hand line to a crane's shackle. */
static const double neighbours_differ = 100;

static double rated(const doubter *d, rn_object object)
{
	double load = value_of(d, object, RN_ATTRIBUTE_WORKING_LOAD);
	const double factor = 10; /* near enough to be compared by a hundred */
	return load > 0 ? load : value_of(d, object, RN_ATTRIBUTE_STRENGTH) / factor;
}

static int compare_rated(const void *left, const void *right)
{
	const rated_item *a = left, *b = right;
	return a->load < b->load ? -1 : a->load > b->load ? 1 : (a->item > b->item) - (a->item < b->item);
}

static rn_status sort_rated(doubter *d)
{
	RN_TAKE(&d->model->memory->arena, d->rated, d->model->item_count + 1);
	for (int i = 0; i < d->model->item_count; i++) {
		double load = rated(d, rn_object_of(RN_ITEM, i));
		if (load > 0)
			d->rated[d->rated_count++] = (rated_item){load, i};
	}
	qsort(d->rated, (size_t)d->rated_count, sizeof *d->rated, compare_rated);
	return RN_OK;
}

/* The first of the sorted that is no less. */
static int first_above(const doubter *d, double load)
{
	int low = 0, high = d->rated_count;
	while (low < high) {
		int middle = low + (high - low) / 2;
		if (d->rated[middle].load < load)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/* The rated item whose load is nearest to this one's; NULL when there are fewer than two others. */
static const rated_item *nearest_rated(const doubter *d, rn_object object, double load)
{
	const rated_item *nearest = NULL;
	bool is_item = object.kind == RN_ITEM;
	int at = first_above(d, load), from = at < 2 ? 0 : at - 2, to = at + 2 < d->rated_count ? at + 2 : d->rated_count;
	for (int i = from; i < to && d->rated_count - is_item >= 2; i++) {
		const rated_item *other = &d->rated[i];
		bool itself = is_item && other->item == object.index;
		if (!itself && (!nearest || fabs(log(other->load / load)) < fabs(log(nearest->load / load))))
			nearest = other;
	}
	return nearest;
}

static rn_status ask_load(doubter *d, const rn_number *n, double value)
{
	static const usual load_usual = {300, 15e3, 1e6}; /* small shackle to crane's [N] */
	rn_object item = n->object.kind == RN_ITEM ? n->object : nothing();
	double strength = value_of(d, item, RN_ATTRIBUTE_STRENGTH);
	if (strength > 0 && value * strength_over_load > strength)
		return say(d, about_number(d, RN_NOTE_DOUBT_SWAPPED, n), value, strength, 0);
	usual breaks = item.index != RN_NONE ? strength_usual(d, item.index) : (usual){0, 0, 0};
	if (strength <= 0 && breaks.middle > 0 && has_usual_diameter(d, item.index) && value > breaks.middle / 2 &&
	    value <= breaks.most)
		return say(d, about_number(d, RN_NOTE_DOUBT_IS_STRENGTH, n), value, breaks.middle, 0);
	if (value < load_usual.least || value > load_usual.most)
		return ask(d, n, value, load_usual);
	const rated_item *other = nearest_rated(d, n->object, value);
	if (!other || fabs(log(value / other->load)) < log(neighbours_differ))
		return RN_OK;
	rn_note note = about_number(d, RN_NOTE_DOUBT_NEIGHBOUR, n);
	note.b = rn_object_of(RN_ITEM, other->item);
	return say(d, note, value, other->load, 0);
}

/* ---- pieces by what they hang on ------------------------------------------------------------- */

static void hold(doubter *d, int node, rn_object member, int gear, double drawn)
{
	holder *h = &d->holders[node];
	double strength = strength_of(d, gear);
	double diameter = value_of(d, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_DIAMETER);
	double weight = RN_PI / 4 * diameter * diameter * rope_density * drawn * rn_gravity(d->model, d->values);
	bool rope = gear != RN_NONE && d->model->items[gear].kind == RN_ITEM_ROPE && diameter <= rope_diameter.most &&
	            drawn <= size_usual.most;
	if (strength <= 0)
		strength = HUGE_VAL;
	if (strength > h->strength) {
		h->strength = strength;
		h->member = member;
	}
	h->weight = fmin(h->weight, rope && weight > 0 ? weight : HUGE_VAL);
}

static double apart(const doubter *d, int a, int b)
{
	double p[2], q[2];
	rn_node_drawn(d->model, d->values, a, p);
	rn_node_drawn(d->model, d->values, b, q);
	return hypot(p[0] - q[0], p[1] - q[1]);
}

static double line_drawn(const doubter *d, int line)
{
	const rn_line *l = &d->model->lines[line];
	double drawn = 0;
	for (int i = l->first_station; i + 1 < l->first_station + l->station_count; i++)
		drawn += apart(d, d->model->stations[i].node, d->model->stations[i + 1].node);
	return drawn;
}

static void find_holders(doubter *d)
{
	const rn_model *m = d->model;
	for (int i = 0; i < m->node_count; i++)
		d->holders[i] = (holder){0, HUGE_VAL, nothing()};
	for (int i = 0; i < m->line_count; i++) {
		double drawn = line_drawn(d, i);
		for (int s = m->lines[i].first_station; s < m->lines[i].first_station + m->lines[i].station_count; s++)
			hold(d, m->stations[s].node, rn_object_of(RN_LINE, i), m->lines[i].gear, drawn);
	}
	for (int i = 0; i < m->leg_count; i++) {
		rn_object sling = rn_object_of(RN_SLING, m->legs[i].sling);
		int gear = m->slings[sling.index].gear;
		hold(d, m->legs[i].from, sling, gear, apart(d, m->legs[i].from, m->legs[i].to));
		hold(d, m->legs[i].to, sling, gear, apart(d, m->legs[i].from, m->legs[i].to));
	}
}

/* Ropes as strong as that break under a piece which a job with them would have the weight of, at the most;
 * it is rather this part of it [-]: a factor of ten, and a peak of three. */
static const double weight_middle = 1.0 / 30;

static rn_status ask_piece(doubter *d, const rn_number *n, double value, const holder *h)
{
	bool known = h->strength > 0 && h->strength < HUGE_VAL;
	const double mass_middle = 200; /* [kg] of a piece, where nothing is known of its rope */
	double middle = known ? h->strength * weight_middle : mass_middle * rn_gravity(d->model, d->values);
	usual u = {h->weight < HUGE_VAL ? h->weight : middle / 1e3, middle, known ? h->strength / 2 : middle * 1e3};
	if (!(value > 0))
		return say(d, about_number(d, RN_NOTE_DOUBT_WEIGHTLESS, n), 0, 0, 0);
	bool light = h->weight < HUGE_VAL && value < h->weight, heavy = known && value > h->strength;
	if (!light && !heavy)
		return RN_OK;
	rn_note note = about_number(d, heavy ? RN_NOTE_DOUBT_HEAVY : RN_NOTE_DOUBT_LIGHT, n);
	double other = meant(RN_QUANTITY_FORCE, value, u);
	note.b = h->member;
	if (other > 0)
		note.kind = heavy ? RN_NOTE_DOUBT_HEAVY_UNIT : RN_NOTE_DOUBT_LIGHT_UNIT;
	return say(d, note, value, heavy ? h->strength : h->weight, other);
}

static rn_status ask_weight(doubter *d, const rn_number *n, double value)
{
	/* of a shackle, a ring, a block for a crane, and a drum on a vehicle; [N] of [kg] times 9.81 */
	static const usual small = {0.05, 5, 300}, large = {0.3, 20, 2000};
	const rn_model *m = d->model;
	int index = n->object.index;
	if (n->object.kind == RN_ITEM) {
		rn_item_kind kind = m->items[index].kind;
		bool by_hand = kind == RN_ITEM_RING || kind == RN_ITEM_CONNECTOR;
		return value > 0 ? ask(d, n, value, by_hand ? small : large) : RN_OK;
	}
	if (n->object.kind == RN_NODE && m->nodes[index].kind == RN_NODE_PIECE)
		return ask_piece(d, n, value, &d->holders[index]);
	if (n->object.kind != RN_PROP || !m->props[index].is_piece)
		return RN_OK;
	const holder *butt = &d->holders[m->props[index].from], *tip = &d->holders[m->props[index].to];
	holder both = butt->strength > tip->strength ? *butt : *tip;
	both.strength = butt->strength + tip->strength;
	both.weight = fmin(butt->weight, tip->weight);
	return ask_piece(d, n, value, &both);
}

/* ---- lengths by the drawing ------------------------------------------------------------------ */

/* A rope that is so many times longer or shorter than it is drawn is not the one that is drawn [-]. */
static const double length_differs = 20;

static rn_status ask_length(doubter *d, const rn_number *n, double value)
{
	rn_object o = n->object;
	double drawn = o.kind == RN_LINE  ? line_drawn(d, o.index)
	               : o.kind == RN_LEG ? apart(d, d->model->legs[o.index].from, d->model->legs[o.index].to)
	                                  : 0;
	usual u = {drawn / length_differs, drawn, drawn * length_differs};
	bool usual_length = n->attribute == RN_ATTRIBUTE_SLACK ? value <= u.most : value >= u.least && value <= u.most;
	if (drawn <= 0 || drawn > size_usual.most || usual_length)
		return RN_OK; /* a drawing that is wrong itself is asked about below */
	rn_note note = about_number(d, RN_NOTE_DOUBT_LENGTH, n);
	double other = meant(RN_QUANTITY_LENGTH, value, u);
	if (other > 0)
		note.kind = RN_NOTE_DOUBT_LENGTH_UNIT;
	return say(d, note, value, drawn, other);
}

/* ---- forces ---------------------------------------------------------------------------------- */

static rn_status ask_pretension(doubter *d, const rn_number *n, double value)
{
	rn_object o = n->object;
	int gear = o.kind == RN_LINE  ? d->model->lines[o.index].gear
	           : o.kind == RN_LEG ? d->model->slings[d->model->legs[o.index].sling].gear
	                              : RN_NONE;
	double strength = strength_of(d, gear);
	return strength > 0 ? ask(d, n, value, (usual){0, strength * weight_middle, strength}) : RN_OK;
}

/* An outer force is a gust or a pull by hand, no more than so many times the weight of all pieces [-]. */
static const double force_most = 30;

static rn_status ask_size(doubter *d, const rn_number *n, double value)
{
	return d->pieces > 0 ? ask(d, n, value, (usual){0, d->pieces / 10, d->pieces * force_most}) : RN_OK;
}

/* Steeper than this a force pulls up, not aside: sine of 30 deg [-]. */
static const double steep = 0.5;

static rn_status ask_toward(doubter *d, const rn_number *n, double value)
{
	if (n->object.kind != RN_FORCE || d->pieces <= 0 || sin(value) < steep)
		return RN_OK;
	rn_note note = about_number(d, RN_NOTE_DOUBT_UPWARD, n);
	note.b = rn_object_of(RN_NODE, d->model->forces[n->object.index].node);
	return say(d, note, value_of(d, n->object, RN_ATTRIBUTE_SIZE), 0, 0);
}

/* ---- what is usual of the rest ---------------------------------------------------------------- */

/* Of an attribute, wherever it stands; nothing is asked about a value of nothing, which is meant. */
static const struct {
	rn_attribute attribute;
	usual usual;
} usuals[] = {
	{RN_ATTRIBUTE_WALL, {1e-3, 0.1, 2}},            /* [m] */
	{RN_ATTRIBUTE_HEIGHT, {0, 10, 130}},            /* the tallest trees stand 116 m high; from memory [m] */
	{RN_ATTRIBUTE_BARK, {0, 15e-3, 0.4}},           /* [m] */
	{RN_ATTRIBUTE_TREAD, {3e-3, 60e-3, 3}},         /* carabiner to a bough [m] */
	{RN_ATTRIBUTE_EYE, {5e-3, 50e-3, 2}},           /* [m] */
	{RN_ATTRIBUTE_LONG, {0.05, 4, 200}},            /* loop to a reel [m] */
	{RN_ATTRIBUTE_DROP, {0, 2, 60}},                /* [m] */
	{RN_ATTRIBUTE_BELOW, {0, 1, 40}},               /* [m] */
	{RN_ATTRIBUTE_FURTHER, {0, 5, 300}},            /* [m] */
	{RN_ATTRIBUTE_PULL, {0, 250, 10e3}},            /* one hand to a winch [N] */
	{RN_ATTRIBUTE_HAND, {0, 250, 10e3}},            /* the same */
	{RN_ATTRIBUTE_FRICTION, {0.015, 0.25, 1}},      /* exponent per radian: oiled steel to rubber [-] */
	{RN_ATTRIBUTE_EFFICIENCY, {0.3, 0.9, 1}},       /* rope over a rusted pin to a sheave on balls [-] */
	{RN_ATTRIBUTE_DESIGN_FACTOR, {1.2, 7, 25}},     /* [-] */
	{RN_ATTRIBUTE_CONDITION_FACTOR, {0.1, 0.8, 1}}, /* worn past that it is no rope [-] */
	{RN_ATTRIBUTE_WET_FACTOR, {0.1, 0.9, 1}},       /* [-] */
	{RN_ATTRIBUTE_KNOT_FACTOR, {0.1, 0.6, 1}},      /* [-] */
	{RN_ATTRIBUTE_CHOKE_FACTOR, {0.1, 0.75, 1}},    /* [-] */
	{RN_ATTRIBUTE_KEEPS, {0.1, 0.8, 1}},            /* [-] */
	{RN_ATTRIBUTE_LENGTH_ERROR, {0, 0.02, 0.4}},    /* [-] */
	{RN_ATTRIBUTE_BY, {0, 0.03, 0.6}},              /* nylon breaks at some 0.4 [-] */
	{RN_ATTRIBUTE_DENSITY, {150, 900, 1500}},       /* balsa to soaked ironwood [kg/m3] */
	{RN_ATTRIBUTE_MODULUS, {1e9, 9e9, 30e9}},       /* wood along the grain [Pa] */
	{RN_ATTRIBUTE_COMPRESSION, {3e6, 25e6, 150e6}}, /* the same */
	{RN_ATTRIBUTE_BENDING, {5e6, 55e6, 250e6}},     /* the same */
	{RN_ATTRIBUTE_GRAVITY, {9.5, 9.80665, 10.1}},   /* on this Earth, or 10 for short [m/s2] */
};

static rn_status ask_other(doubter *d, const rn_number *n, double value)
{
	for (size_t i = 0; fabs(value) > 0 && i < sizeof usuals / sizeof *usuals; i++)
		if (usuals[i].attribute == n->attribute)
			return ask(d, n, value, usuals[i].usual);
	return RN_OK;
}

static rn_status ask_diameter(doubter *d, const rn_number *n, double value)
{
	static const usual sling = {3e-3, 20e-3, 0.3}, drum = {20e-3, 0.15, 1.5}; /* [m] */
	static const usual wood = {0.01, 0.4, 8};                                /* twig to the thickest tree [m] */
	if (n->object.kind != RN_ITEM)
		return ask(d, n, value, wood);
	switch (d->model->items[n->object.index].kind) {
	case RN_ITEM_ROPE: return ask(d, n, value, rope_diameter);
	case RN_ITEM_SLING: return ask(d, n, value, sling);
	default: return ask(d, n, value, drum);
	}
}

/* What a rope of such a strength stretches, EA over strength [-]: rubber to steel, ten times wider than the
 * ranges that are guessed (guess.c). */
static rn_status ask_stiffness(doubter *d, const rn_number *n, double value)
{
	double strength = n->object.kind == RN_ITEM ? strength_of(d, n->object.index) : 0;
	return strength > 0 ? ask(d, n, value, (usual){strength / 5, strength * 8, strength * 800}) : RN_OK;
}

static rn_status ask_lean(doubter *d, const rn_number *n, double value)
{
	/* beyond this a stem with a foot of its own lies rather than leans, and a number of radians from 1 on is
	 * there: 45 deg */
	static const double lies = RN_PI / 4;
	bool foot = d->model->stems[n->object.index].on == RN_NONE;
	return foot ? ask(d, n, fabs(value), (usual){0, 0.05, lies}) : RN_OK;
}

static rn_status ask_choke(doubter *d, const rn_number *n, double value)
{
	/* a choke bends its sling by a right angle and more; a number of degrees that would be one of radians, up
	 * to pi, is far below */
	static const double degrees = 3.15 * RN_PI / 180;
	return ask(d, n, value, (usual){degrees, 2.1, 3.1416});
}

static rn_status ask_number(doubter *d, const rn_number *n, double value)
{
	switch (n->attribute) {
	case RN_ATTRIBUTE_DIAMETER: return ask_diameter(d, n, value);
	case RN_ATTRIBUTE_STRENGTH: return ask_strength(d, n, value);
	case RN_ATTRIBUTE_WORKING_LOAD: return ask_load(d, n, value);
	case RN_ATTRIBUTE_WEIGHT: return ask_weight(d, n, value);
	case RN_ATTRIBUTE_STIFFNESS: return ask_stiffness(d, n, value);
	case RN_ATTRIBUTE_LENGTH:
	case RN_ATTRIBUTE_REACH:
	case RN_ATTRIBUTE_SLACK: return ask_length(d, n, value);
	case RN_ATTRIBUTE_PRETENSION: return ask_pretension(d, n, value);
	case RN_ATTRIBUTE_SIZE: return ask_size(d, n, value);
	case RN_ATTRIBUTE_TOWARD: return ask_toward(d, n, value);
	case RN_ATTRIBUTE_LEAN: return ask_lean(d, n, value);
	case RN_ATTRIBUTE_ANGLE: return ask_choke(d, n, value);
	default: return ask_other(d, n, value);
	}
}

/* ---- the drawing ----------------------------------------------------------------------------- */

/* The two least and the two greatest of a coordinate, to have the box of all nodes but one. */
typedef struct bounds {
	double low, next_low, high, next_high;
} bounds;

static void widen(bounds *b, double x)
{
	b->next_low = fmin(b->next_low, fmax(b->low, x));
	b->low = fmin(b->low, x);
	b->next_high = fmax(b->next_high, fmin(b->high, x));
	b->high = fmax(b->high, x);
}

static bounds bounds_along(const doubter *d, int axis)
{
	bounds b = {HUGE_VAL, HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
	for (int i = 0; i < d->model->node_count; i++) {
		double place[2];
		rn_node_drawn(d->model, d->values, i, place);
		widen(&b, place[axis]);
	}
	return b;
}

/* How far x lies outside the others, and how far those reach. */
static void leave_out(const bounds *b, double x, double *outside_out, double *across_out)
{
	double low = x <= b->low ? b->next_low : b->low, high = x >= b->high ? b->next_high : b->high;
	*outside_out = fmax(0, fmax(low - x, x - high));
	*across_out = high - low;
}

/* A node is far when it lies so many times further from the others than those reach [-], and further than a
 * bollard at the foot of a tree whose top is all the rest [m]; of fewer than four nodes none is. */
static const double far_most = 4, far_least = 60;
enum { FAR_NODES_LEAST = 4 };

static rn_status ask_far(doubter *d, const bounds box[2], bool *far_out)
{
	for (int i = 0; i < d->model->node_count && d->model->node_count >= FAR_NODES_LEAST; i++) {
		double place[2], outside[2], across[2];
		rn_node_drawn(d->model, d->values, i, place);
		for (int axis = 0; axis < 2; axis++)
			leave_out(&box[axis], place[axis], &outside[axis], &across[axis]);
		double away = hypot(outside[0], outside[1]), size = hypot(across[0], across[1]);
		if (size <= 0 || away <= far_most * size || away <= far_least)
			continue;
		*far_out = true;
		rn_object node = rn_object_of(RN_NODE, i);
		RN_TRY(say(d, about(d, RN_NOTE_DOUBT_FAR, node, d->model->nodes[i].place), away, size, 0));
	}
	return RN_OK;
}

/* Whether any rope has a diameter: a job of the yard, not an exercise. */
static bool has_rope(const doubter *d)
{
	for (int i = 0; i < d->model->item_count; i++)
		if (d->model->items[i].kind == RN_ITEM_ROPE && rn_model_has(d->model, rn_object_of(RN_ITEM, i), RN_ATTRIBUTE_DIAMETER))
			return true;
	return false;
}

static rn_status ask_drawing(doubter *d)
{
	bounds box[2] = {bounds_along(d, 0), bounds_along(d, 1)};
	bool far = false;
	RN_TRY(ask_far(d, box, &far));
	double size = hypot(box[0].high - box[0].low, box[1].high - box[1].low);
	if (far || !(size > 0) || (size >= size_usual.least && size <= size_usual.most) || !has_rope(d))
		return RN_OK;
	rn_note note = about(d, RN_NOTE_DOUBT_SIZE, rn_object_of(RN_RIGGING, 0), d->model->rigging);
	const double mm_per_m = 1e3; /* the one slip that goes through a whole file */
	double other = size > size_usual.most ? size / mm_per_m : size * mm_per_m;
	if (other >= size_usual.least && other <= size_usual.most)
		note.kind = RN_NOTE_DOUBT_SIZE_UNIT;
	return say(d, note, size, other, 0);
}

/* ---- the whole ------------------------------------------------------------------------------- */

static double weight_of_pieces(const doubter *d)
{
	double sum = 0;
	for (int i = 0; i < d->model->node_count; i++)
		if (d->model->nodes[i].kind == RN_NODE_PIECE)
			sum += value_of(d, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_WEIGHT);
	for (int i = 0; i < d->model->prop_count; i++)
		sum += value_of(d, rn_object_of(RN_PROP, i), RN_ATTRIBUTE_WEIGHT);
	return sum;
}

static void begin(doubter *d)
{
	find_holders(d);
	d->pieces = weight_of_pieces(d);
}

static rn_status ask_settings(doubter *d)
{
	rn_model *m = d->model;
	double *values;
	RN_TAKE(&m->memory->arena, values, m->number_count + 1);
	for (int c = 0; c < m->case_count; c++) {
		const rn_case *of = &m->cases[c];
		if (of->setting_count == 0)
			continue;
		rn_case_values(m, of, values);
		doubter in_case = *d;
		in_case.of_case = c;
		in_case.values = values;
		begin(&in_case);
		for (int i = of->first_setting; i < of->first_setting + of->setting_count; i++)
			RN_TRY(ask_number(&in_case, &m->numbers[m->settings[i].number], m->settings[i].value));
	}
	return RN_OK;
}

rn_status rn_doubts_find(rn_model *model)
{
	double *values;
	RN_TAKE(&model->memory->arena, values, model->number_count + 1);
	for (int i = 0; i < model->number_count; i++)
		values[i] = model->numbers[i].value;
	doubter d = {.model = model, .values = values, .of_case = RN_NONE};
	RN_TAKE(&model->memory->arena, d.holders, model->node_count + 1);
	begin(&d);
	RN_TRY(sort_rated(&d));
	for (int i = 0; i < model->number_count; i++)
		if (model->numbers[i].origin == RN_GIVEN)
			RN_TRY(ask_number(&d, &model->numbers[i], values[i]));
	RN_TRY(ask_drawing(&d));
	return ask_settings(&d);
}
