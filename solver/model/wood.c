/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/model/wood.h"

#include <math.h>

#include "solver/base/notes.h"
#include "solver/data/species.h"
#include "solver/model/memory.h"
#include "solver/model/place.h"

static rn_note about(rn_note_kind kind, rn_object a, const char *word, double value)
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	return (rn_note){.kind = kind, .a = a, .b = none, .c = none, .word = word, .value = {value}};
}

static rn_status remark(rn_model *m, rn_note_kind kind, rn_object a, const char *word)
{
	return rn_notes_add(&m->memory->arena, &m->remarks, about(kind, a, word, 0));
}

/* A number out of a table, and the guess that says so: `name`, then `what` of it. */
static rn_status take(rn_model *m, rn_object object, rn_attribute attribute, double value, bool estimated,
                      rn_note_kind kind, const char *name, const char *what)
{
	const char *word;
	RN_TRY(rn_arena_join_text(&m->memory->arena, name, what, &word));
	RN_TRY(rn_model_guess(m, object, attribute, value, value, value,
	                      estimated ? RN_ESTIMATED : RN_LISTED));
	return rn_notes_add(&m->memory->arena, &m->guesses, about(kind, object, word, value));
}

/* ---- names that no table has ----------------------------------------------------------------- */

static bool is_known(const char *species)
{
	return rn_density_of(species) || rn_strength_of(species);
}

static rn_status say_unknown(rn_model *m, rn_object object, const char *species)
{
	const char *near = rn_species_near(species, false);
	return near ? remark(m, RN_NOTE_SPECIES_UNKNOWN, object, near)
	            : remark(m, RN_NOTE_SPECIES_NOT_LISTED, object, species);
}

/* strength-like names nothing of which a strength is known. */
static rn_status say_like_unknown(rn_model *m, rn_object object, const char *like)
{
	const char *near = is_known(like) ? NULL : rn_species_near(like, true);
	return near ? remark(m, RN_NOTE_LIKE_UNKNOWN, object, near)
	            : remark(m, RN_NOTE_STRENGTH_UNKNOWN, object, like);
}

/* ---- strength -------------------------------------------------------------------------------- */

static rn_status set(rn_model *m, rn_object object, rn_attribute attribute, double value, bool estimated)
{
	return rn_model_guess(m, object, attribute, value, value, value, estimated ? RN_ESTIMATED : RN_LISTED);
}

static rn_status say_taken(rn_model *m, rn_note_kind kind, rn_object object, const char *name)
{
	return rn_notes_add(&m->memory->arena, &m->guesses, about(kind, object, name, 0));
}

/* Compression and bending are the strength that a verdict rests on; a prop is hinged, nothing bends it. */
static rn_status take_row(rn_model *m, rn_object object, const rn_strength_row *row)
{
	bool estimated = row->from_memory, modulus = !rn_model_has(m, object, RN_ATTRIBUTE_MODULUS);
	bool strength = false;
	if (!rn_model_has(m, object, RN_ATTRIBUTE_COMPRESSION)) {
		RN_TRY(set(m, object, RN_ATTRIBUTE_COMPRESSION, row->compression, estimated));
		strength = true;
	}
	if (object.kind == RN_STEM && !rn_model_has(m, object, RN_ATTRIBUTE_BENDING)) {
		RN_TRY(set(m, object, RN_ATTRIBUTE_BENDING, row->bending, estimated));
		strength = true;
	}
	if (strength && estimated)
		RN_TRY(remark(m, RN_NOTE_STRENGTH_ESTIMATED, object, row->name));
	else if (strength)
		RN_TRY(say_taken(m, modulus ? RN_NOTE_WOOD_WHOLLY_BY : RN_NOTE_WOOD_CHECKED_BY, object, row->name));
	if (modulus && strength && !estimated)
		return set(m, object, RN_ATTRIBUTE_MODULUS, row->modulus, false);
	return modulus ? take(m, object, RN_ATTRIBUTE_MODULUS, row->modulus, estimated, RN_NOTE_GUESS_MODULUS_OF,
	                      row->name, estimated ? ", from memory" : ", mean")
	               : RN_OK;
}

static bool lacks_strength(const rn_model *m, rn_object object)
{
	return !rn_model_has(m, object, RN_ATTRIBUTE_COMPRESSION) || !rn_model_has(m, object, RN_ATTRIBUTE_MODULUS) ||
	       (object.kind == RN_STEM && !rn_model_has(m, object, RN_ATTRIBUTE_BENDING));
}

static rn_status guess_strength(rn_model *m, rn_object object, const char *species, const char *like)
{
	const char *name = like ? like : species;
	const rn_strength_row *row = name ? rn_strength_of(name) : NULL;
	if (!name || !lacks_strength(m, object))
		return RN_OK;
	if (row)
		return take_row(m, object, row);
	if (rn_model_has(m, object, RN_ATTRIBUTE_COMPRESSION))
		return RN_OK;
	if (like)
		return say_like_unknown(m, object, like);
	return is_known(species) ? remark(m, RN_NOTE_STRENGTH_UNKNOWN, object, species) : RN_OK;
}

/* ---- stems ----------------------------------------------------------------------------------- */

/* Whether a rope, a sling or a prop comes to it or to a branch of it. */
static bool carries(const rn_model *m, int stem)
{
	for (int i = 0; i < m->station_count; i++)
		if (rn_node_grows_on(m, m->stations[i].node, stem))
			return true;
	for (int i = 0; i < m->leg_count; i++)
		if (rn_node_grows_on(m, m->legs[i].from, stem) || rn_node_grows_on(m, m->legs[i].to, stem))
			return true;
	for (int i = 0; i < m->prop_count; i++)
		if (rn_node_grows_on(m, m->props[i].from, stem) || rn_node_grows_on(m, m->props[i].to, stem))
			return true;
	return false;
}

static double thickest(const rn_model *m, const double *values, int stem)
{
	double most = 0;
	for (int i = 0; i < m->stems[stem].section_count; i++) {
		rn_object section = rn_object_of(RN_SECTION, m->stems[stem].first_section + i);
		most = fmax(most, rn_model_value(m, values, section, RN_ATTRIBUTE_DIAMETER, 0));
	}
	return most;
}

/* Bark of b times the volume of the wood it is on: D^2 = (1 + b) d^2, so it is (D - D / sqrt(1 + b)) / 2
 * thick (closed form). Thick wood has thick bark; that of the thickest section is taken for the whole
 * stem, which leaves its thinner parts less wood than they have. */
static double bark_of(const rn_model *m, const double *values, int stem, const rn_density_row *row)
{
	return thickest(m, values, stem) * (1 - 1 / sqrt(1 + row->bark_share)) / 2;
}

/* A branch that says nothing of its own is of its tree. */
static const char *species_of(const rn_model *m, int stem)
{
	while (!m->stems[stem].species && m->stems[stem].on != RN_NONE)
		stem = m->stems[stem].on;
	return m->stems[stem].species;
}

/* Bark as thick for its branch's thickness as its tree's is for its own. */
static rn_status inherit_bark(rn_model *m, const double *values, int stem, bool *any)
{
	rn_object object = rn_object_of(RN_STEM, stem), parent = rn_object_of(RN_STEM, m->stems[stem].on);
	int number = rn_model_find_number(m, parent, RN_ATTRIBUTE_BARK);
	double parents = thickest(m, values, m->stems[stem].on);
	if (number == RN_NONE || rn_model_has(m, object, RN_ATTRIBUTE_BARK) || !(parents > 0))
		return RN_OK;
	double bark = m->numbers[number].value * thickest(m, values, stem) / parents;
	*any = true;
	return rn_model_guess(m, object, RN_ATTRIBUTE_BARK, bark, bark, bark,
	                      m->numbers[number].origin == RN_GIVEN ? RN_DEFAULT : m->numbers[number].origin);
}

static rn_status inherit(rn_model *m, const double *values, int stem)
{
	static const rn_attribute inherited[] = {RN_ATTRIBUTE_DENSITY, RN_ATTRIBUTE_COMPRESSION, RN_ATTRIBUTE_BENDING,
	                                         RN_ATTRIBUTE_MODULUS, RN_ATTRIBUTE_DESIGN_FACTOR};
	rn_object object = rn_object_of(RN_STEM, stem), parent = rn_object_of(RN_STEM, m->stems[stem].on);
	bool any = false;
	for (size_t i = 0; i < sizeof inherited / sizeof *inherited; i++) {
		int number = rn_model_find_number(m, parent, inherited[i]);
		if (number == RN_NONE || rn_model_has(m, object, inherited[i]))
			continue;
		const rn_number n = m->numbers[number];
		RN_TRY(rn_model_guess(m, object, inherited[i], n.value, n.low, n.high,
		                      n.origin == RN_GIVEN ? RN_DEFAULT : n.origin));
		any = true;
	}
	RN_TRY(inherit_bark(m, values, stem, &any));
	rn_note note = about(RN_NOTE_GUESS_BRANCH_WOOD, object, NULL, 0);
	note.b = parent;
	return any ? rn_notes_add(&m->memory->arena, &m->guesses, note) : RN_OK;
}

/* Density and bark out of one row are said in one. */
static rn_status take_wood(rn_model *m, rn_object object, const rn_density_row *row, double bark)
{
	const char *word;
	RN_TRY(set(m, object, RN_ATTRIBUTE_DENSITY, row->with_bark, row->is_group));
	RN_TRY(set(m, object, RN_ATTRIBUTE_BARK, bark, row->is_group));
	RN_TRY(rn_arena_join_text(&m->memory->arena, row->name, row->is_group ? " (average of a group)" : "", &word));
	rn_note note = about(RN_NOTE_GUESS_STEM_WOOD, object, word, row->with_bark);
	note.value[1] = bark;
	return rn_notes_add(&m->memory->arena, &m->guesses, note);
}

static rn_status guess_density_and_bark(rn_model *m, const double *values, int stem, const rn_density_row *row)
{
	rn_object object = rn_object_of(RN_STEM, stem);
	double bark = bark_of(m, values, stem, row);
	bool weighed = rn_model_has(m, object, RN_ATTRIBUTE_DENSITY), peeled = rn_model_has(m, object, RN_ATTRIBUTE_BARK);
	if (!weighed && !peeled)
		return take_wood(m, object, row, bark);
	if (!weighed)
		RN_TRY(take(m, object, RN_ATTRIBUTE_DENSITY, row->with_bark, row->is_group, RN_NOTE_GUESS_DENSITY,
		            row->name, row->is_group ? " with its bark, average of a group" : " with its bark, whole logs"));
	return peeled ? RN_OK
	              : take(m, object, RN_ATTRIBUTE_BARK, bark, row->is_group, RN_NOTE_GUESS_BARK, row->name,
	                     ", that of its thickest section everywhere");
}

/* Green wood of which nothing is known weighs about as much as water: the default of the largest-force rule
 * of HSE RR668 (trade copy). [kg/m3] */
static const double density_unknown = 1000;

static rn_status guess_unknown_density(rn_model *m, rn_object object)
{
	if (rn_model_has(m, object, RN_ATTRIBUTE_DENSITY) || !rn_model_has(m, object, RN_ATTRIBUTE_COMPRESSION))
		return RN_OK;
	RN_TRY(rn_model_guess(m, object, RN_ATTRIBUTE_DENSITY, density_unknown, density_unknown, density_unknown,
	                      RN_DEFAULT));
	return rn_notes_add(&m->memory->arena, &m->guesses,
	                    about(RN_NOTE_GUESS_DENSITY, object, "nothing known", density_unknown));
}

/* A thickness measured over the bark, taken as wood, shows a stem stronger than it is. */
static rn_status say_barkless(rn_model *m, rn_object object)
{
	if (rn_model_has(m, object, RN_ATTRIBUTE_BARK) || !rn_model_has(m, object, RN_ATTRIBUTE_COMPRESSION))
		return RN_OK;
	return rn_notes_add(&m->memory->arena, &m->guesses, about(RN_NOTE_GUESS_BARK_NONE, object, NULL, 0));
}

static rn_status guess_stem(rn_model *m, const double *values, int stem)
{
	const char *species = species_of(m, stem), *like = m->stems[stem].strength_like;
	const rn_density_row *row = species ? rn_density_of(species) : NULL;
	rn_object object = rn_object_of(RN_STEM, stem);
	bool own = m->stems[stem].species || like, branch = m->stems[stem].on != RN_NONE;
	bool lacks = !rn_model_has(m, object, RN_ATTRIBUTE_DENSITY) || !rn_model_has(m, object, RN_ATTRIBUTE_BARK) ||
	             (!like && lacks_strength(m, object));
	if (branch && !own)
		RN_TRY(inherit(m, values, stem));
	if (species && own && lacks && !is_known(species))
		RN_TRY(say_unknown(m, object, species));
	if (row)
		RN_TRY(guess_density_and_bark(m, values, stem, row));
	if (own)
		RN_TRY(guess_strength(m, object, species, like));
	RN_TRY(say_barkless(m, object));
	return guess_unknown_density(m, object);
}

/* ---- props and pieces ------------------------------------------------------------------------ */

static rn_status guess_prop(rn_model *m, int prop)
{
	const char *species = m->props[prop].species;
	rn_object object = rn_object_of(RN_PROP, prop);
	if (species && lacks_strength(m, object) && !is_known(species))
		return say_unknown(m, object, species);
	return guess_strength(m, object, species, NULL);
}

static rn_status say_weighed(rn_model *m, int index)
{
	static const char *const woods[] = {
		[RN_MOISTURE_MIXED] = ", whole-log average",
		[RN_MOISTURE_HEART] = ", whole-log average",
		[RN_MOISTURE_SAP] = ", between its whole-log average and waterlogged",
		[RN_MOISTURE_SOAKED] = ", waterlogged"};
	const rn_timber *timber = &m->timbers[index];
	int weight = rn_model_find_number(m, timber->piece, RN_ATTRIBUTE_WEIGHT);
	if (weight == RN_NONE || m->numbers[weight].origin != RN_COMPUTED)
		return RN_OK;
	const char *word = "its cuts and density";
	if (!rn_model_has(m, timber->piece, RN_ATTRIBUTE_DENSITY)) {
		const rn_density_row *row = rn_density_of(timber->species);
		RN_TRY(rn_arena_join_text(&m->memory->arena, row->name, woods[timber->moisture], &word));
		RN_TRY(rn_arena_join_text(&m->memory->arena, word, row->is_group ? " of a group" : "", &word));
	}
	rn_note note = about(RN_NOTE_GUESS_TIMBER, timber->piece, word, m->numbers[weight].high);
	note.value[1] = m->numbers[weight].low;
	return rn_notes_add(&m->memory->arena, &m->guesses, note);
}

rn_status rn_wood_guess(rn_model *m, const double *values)
{
	for (int i = 0; i < m->timber_count; i++)
		RN_TRY(say_weighed(m, i));
	for (int i = 0; i < m->stem_count; i++)
		if (m->stems[i].section_count > 0 && carries(m, i))
			RN_TRY(guess_stem(m, values, i));
	for (int i = 0; i < m->prop_count; i++)
		if (!m->props[i].is_piece && rn_model_has(m, rn_object_of(RN_PROP, i), RN_ATTRIBUTE_DIAMETER))
			RN_TRY(guess_prop(m, i));
	return RN_OK;
}
