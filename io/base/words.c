/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Quantities, directions, objects and notes in words.
 */
#include "io/base/words.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;
static const double standard_gravity = 9.80665;      /* m/s2 */
static const double newtons_per_lbf = 4.4482216152605; /* exact by definition */
static const double metres_per_foot = 0.3048;
static const double kilograms_per_pound = 0.45359237;
static const double cubic_foot = 0.3048 * 0.3048 * 0.3048; /* m3 */

const double rn_words_nothing = 1e-3;

/* ---- rounding -------------------------------------------------------------------------------- */

/* A value within this part of a rounded one is that one: "3.14 kN" in a file is not exactly 3.14
 * and must not be rounded up to 3.15. Some hundred times what a solved force is off [-]. */
static const double rounding_slack = 1e-9;

/* count / 10^places: a rounded number, exactly. */
typedef struct rounded {
	double count; /* whole, at most some 1e15 */
	int places;
} rounded;

static double round_whole(double value, rn_rounding rounding)
{
	if (rounding == RN_UP)
		return ceil(value * (1 - rounding_slack));
	if (rounding == RN_DOWN)
		return floor(value * (1 + rounding_slack));
	return floor(value + 0.5);
}

/* value >= 0 to so many decimal places. */
static rounded round_places(double value, int places, rn_rounding rounding)
{
	return (rounded){round_whole(value * pow(10, places), rounding), places};
}

/* value > 0 to so many significant figures. */
static rounded round_figures(double value, int figures, rn_rounding rounding)
{
	int places = figures - 1 - (int)floor(log10(value));
	rounded r = round_places(value, places, rounding);
	if (r.count >= pow(10, figures)) /* 999.6 has become 1000, or log10 fell just short */
		r = round_places(value, places - 1, rounding);
	return r;
}

static double value_of(rounded r)
{
	return r.count / pow(10, r.places);
}

static void add_whole(rn_buffer *buffer, double count, int least_digits)
{
	char digits[40];
	int n = 0;
	for (; (count >= 1 || n < least_digits) && n < (int)sizeof digits;
	     count = floor(count / 10))
		digits[n++] = (char)('0' + (int)fmod(count, 10));
	while (n > 0)
		rn_buffer_char(buffer, digits[--n]);
}

static void add_rounded(rn_buffer *buffer, rounded r)
{
	const int most_zeros = 12;
	if (r.places < -most_zeros) {
		add_whole(buffer, r.count, 1);
		rn_buffer_format(buffer, "e%d", -r.places);
		return;
	}
	if (r.places <= 0) {
		add_whole(buffer, r.count * pow(10, -r.places), 1);
		return;
	}
	double one = pow(10, r.places), whole = floor(r.count / one);
	add_whole(buffer, whole, 1);
	rn_buffer_char(buffer, '.');
	add_whole(buffer, r.count - whole * one, r.places);
}

/* ---- quantities ------------------------------------------------------------------------------ */

static void add_sign(rn_buffer *buffer, double value)
{
	if (value < 0)
		rn_buffer_char(buffer, '-');
}

/* Figures and a unit; "0 unit" below the smallest that is worth a word. */
static void add_figures(rn_buffer *buffer, double value, double least, rn_rounding rounding,
                        const char *unit)
{
	if (!isfinite(value)) {
		rn_buffer_char(buffer, '?');
	} else if (fabs(value) < least) {
		rn_buffer_char(buffer, '0');
	} else {
		add_sign(buffer, value);
		add_rounded(buffer, round_figures(fabs(value), 3, rounding));
	}
	rn_buffer_text(buffer, unit);
}

const char *rn_words_force_unit(rn_units units)
{
	return units == RN_US ? "lbf" : "kN";
}

void rn_words_bare_force(rn_buffer *buffer, double force, rn_rounding rounding, rn_units units)
{
	double per_unit = units == RN_US ? newtons_per_lbf : 1e3;
	add_figures(buffer, force / per_unit, rn_words_nothing / per_unit, rounding, "");
}

/* Whether a size, once rounded, is less than a whole larger unit. */
static bool reads_below(double size, double least, rn_rounding rounding, double unit)
{
	return isfinite(size) && (size < least || value_of(round_figures(size, 3, rounding)) <
	                                                  unit * (1 - rounding_slack));
}

void rn_words_force(rn_buffer *buffer, double force, rn_rounding rounding, rn_units units)
{
	if (units == RN_METRIC && reads_below(fabs(force), rn_words_nothing, rounding, 1000)) {
		add_figures(buffer, force, rn_words_nothing, rounding, " N");
		return;
	}
	rn_words_bare_force(buffer, force, rounding, units);
	rn_buffer_char(buffer, ' ');
	rn_buffer_text(buffer, rn_words_force_unit(units));
}

/* Whether two sizes read the same once rounded up. */
static bool reads_alike(double a, double b, double least)
{
	if (fabs(a) < least || fabs(b) < least || !isfinite(a) || !isfinite(b))
		return fabs(a) < least && fabs(b) < least;
	rounded r = round_figures(fabs(a), 3, RN_UP), s = round_figures(fabs(b), 3, RN_UP);
	return r.places == s.places && fabs(r.count - s.count) < 0.5;
}

void rn_words_force_range(rn_buffer *buffer, double least, double most, rn_units units)
{
	double per_unit = units == RN_US ? newtons_per_lbf : 1;
	bool one_unit = units == RN_US || reads_below(fabs(most), rn_words_nothing, RN_UP, 1000);
	if (!reads_alike(least / per_unit, most / per_unit, rn_words_nothing / per_unit)) {
		if (one_unit)
			add_figures(buffer, least / per_unit, rn_words_nothing / per_unit, RN_UP,
			            "");
		else
			rn_words_force(buffer, least, RN_UP, units);
		rn_buffer_text(buffer, " to ");
	}
	rn_words_force(buffer, most, RN_UP, units);
}

static void add_metres(rn_buffer *buffer, double length, rn_rounding rounding)
{
	const double least = 5e-5; /* 0.05 mm: no tape shows it */
	if (reads_below(fabs(length), least, rounding, 0.1))
		add_figures(buffer, length * 1e3, least * 1e3, rounding, " mm");
	else
		add_figures(buffer, length, least, rounding, " m");
}

static void add_feet(rn_buffer *buffer, double length, rn_rounding rounding)
{
	double feet = length / metres_per_foot;
	if (!isfinite(feet) || value_of(round_places(fabs(feet), 2, rounding)) < 1) {
		add_figures(buffer, feet * 12, 2e-3, rounding, " in");
		return;
	}
	add_sign(buffer, length);
	add_rounded(buffer, round_places(fabs(feet), 2, rounding));
	rn_buffer_text(buffer, " ft");
}

void rn_words_length(rn_buffer *buffer, double length, rn_rounding rounding, rn_units units)
{
	if (units == RN_US)
		add_feet(buffer, length, rounding);
	else
		add_metres(buffer, length, rounding);
}

/* Takes the unit off the end of `buffer` when `other` ends in the same. */
static void cut_shared_unit(rn_buffer *buffer, const rn_buffer *other)
{
	const char *unit = buffer->bytes ? strrchr(buffer->bytes, ' ') : NULL;
	const char *other_unit = other->bytes ? strrchr(other->bytes, ' ') : NULL;
	if (unit && other_unit && strcmp(unit, other_unit) == 0) {
		buffer->size = (size_t)(unit - buffer->bytes);
		buffer->bytes[buffer->size] = '\0';
	}
	buffer->failed = buffer->failed || other->failed;
}

void rn_words_force_spread(rn_buffer *buffer, double least, double most, rn_units units)
{
	rn_buffer end = rn_buffer_make(&buffer->allocator);
	rn_words_force(&end, most, RN_UP, units);
	rn_words_force(buffer, least, RN_DOWN, units);
	cut_shared_unit(buffer, &end);
	rn_buffer_text(buffer, " to ");
	rn_buffer_add(buffer, end.bytes, end.size);
	rn_buffer_release(&end);
}

void rn_words_length_range(rn_buffer *buffer, double least, double most, rn_units units)
{
	rn_buffer end = rn_buffer_make(&buffer->allocator);
	rn_words_length(&end, most, RN_UP, units);
	rn_words_length(buffer, least, RN_UP, units);
	cut_shared_unit(buffer, &end);
	rn_buffer_text(buffer, " to ");
	rn_buffer_add(buffer, end.bytes, end.size);
	rn_buffer_release(&end);
}

void rn_words_percent(rn_buffer *buffer, double ratio)
{
	if (ratio > 1 && ratio < 1 + 2 * rounding_slack)
		rn_buffer_text(buffer, "101 %"); /* over by less than the slack, but over */
	else
		add_figures(buffer, ratio * 100, 1e-5, RN_UP, " %");
}

void rn_words_angle(rn_buffer *buffer, double angle)
{
	double degrees = isfinite(angle) ? angle * 180 / pi : 0;
	rounded r = round_places(fabs(degrees), 0, RN_NEAREST);
	add_sign(buffer, r.count > 0 ? degrees : 0);
	add_rounded(buffer, r);
	rn_buffer_text(buffer, " deg");
}

void rn_words_stress(rn_buffer *buffer, double stress, rn_rounding rounding, rn_units units)
{
	const double pascals_per_psi = newtons_per_lbf / (0.0254 * 0.0254), least = 1;
	if (units == RN_US)
		add_figures(buffer, stress / pascals_per_psi, least / pascals_per_psi, rounding,
		            " psi");
	else if (reads_below(fabs(stress), least, rounding, 1e9))
		add_figures(buffer, stress / 1e6, least / 1e6, rounding, " MPa");
	else
		add_figures(buffer, stress / 1e9, least / 1e9, rounding, " GPa");
}

void rn_words_moment(rn_buffer *buffer, double moment, rn_rounding rounding, rn_units units)
{
	const double per_unit = units == RN_US ? newtons_per_lbf * 0.3048 : 1e3, least = 1e-3;
	add_figures(buffer, moment / per_unit, least / per_unit, rounding, units == RN_US ? " lbf ft" : " kN m");
}

static void add_mass(rn_buffer *buffer, double weight, double gravity, rn_rounding rounding, rn_units units)
{
	double mass = weight / (gravity > 0 ? gravity : standard_gravity);
	if (units == RN_US)
		add_figures(buffer, mass / kilograms_per_pound, 1e-3, rounding, " lb");
	else
		add_figures(buffer, mass, 1e-3, rounding, " kg");
}

void rn_words_mass(rn_buffer *buffer, double weight, double gravity, rn_units units)
{
	add_mass(buffer, weight, gravity, RN_UP, units);
}

void rn_words_weight_rounded(rn_buffer *buffer, double weight, double gravity, rn_rounding rounding,
                             rn_units units)
{
	add_mass(buffer, weight, gravity, rounding, units);
	rn_buffer_text(buffer, " (");
	rn_words_force(buffer, weight, rounding, units);
	rn_buffer_char(buffer, ')');
}

void rn_words_weight(rn_buffer *buffer, double weight, double gravity, rn_units units)
{
	rn_words_weight_rounded(buffer, weight, gravity, RN_UP, units);
}

void rn_words_density(rn_buffer *buffer, double density, rn_units units)
{
	const double per_unit = kilograms_per_pound / cubic_foot, least = 1e-3;
	if (units == RN_US)
		add_figures(buffer, density / per_unit, least / per_unit, RN_NEAREST, " lb/ft3");
	else
		add_figures(buffer, density, least, RN_NEAREST, " kg/m3");
}

void rn_words_volume(rn_buffer *buffer, double volume, rn_rounding rounding, rn_units units)
{
	const double least = 1e-9; /* a cubic millimetre */
	if (units == RN_US)
		add_figures(buffer, volume / cubic_foot, least / cubic_foot, rounding, " ft3");
	else
		add_figures(buffer, volume, least, rounding, " m3");
}

void rn_words_number(rn_buffer *buffer, double value)
{
	const double least = 1e-12;
	if (!isfinite(value) || fabs(value) < least) {
		rn_buffer_char(buffer, isfinite(value) ? '0' : '?');
		return;
	}
	rounded r = round_figures(fabs(value), 6, RN_NEAREST);
	while (r.places > 0 && fmod(r.count, 10) < 0.5) {
		r.count /= 10;
		r.places--;
	}
	add_sign(buffer, value);
	add_rounded(buffer, r);
}

void rn_words_count(rn_buffer *buffer, int count)
{
	if (count >= 1000) {
		rn_words_count(buffer, count / 1000);
		rn_buffer_format(buffer, ",%03d", count % 1000);
	} else {
		rn_buffer_format(buffer, "%d", count);
	}
}

/* ---- directions ------------------------------------------------------------------------------ */

typedef struct bearing {
	bool up, right;
	int off_plumb; /* whole degrees, 0 to 90 */
} bearing;

static bearing bearing_of(const double vector[2])
{
	double off = atan2(fabs(vector[0]), fabs(vector[1])) * 180 / pi;
	return (bearing){vector[1] > 0, vector[0] > 0, (int)floor(off + 0.5)};
}

static bool points_nowhere(const double vector[2])
{
	return hypot(vector[0], vector[1]) < 1e-12;
}

static const char *up_or_down(bearing b)
{
	return b.up ? "up" : "down";
}

static const char *right_or_left(bearing b)
{
	return b.right ? "right" : "left";
}

void rn_words_direction(rn_buffer *buffer, const double vector[2], rn_pointing pointing)
{
	if (points_nowhere(vector)) {
		rn_buffer_text(buffer, "nowhere");
		return;
	}
	bearing b = bearing_of(vector);
	if (b.off_plumb == 0) {
		rn_buffer_format(buffer, "straight %s", up_or_down(b));
	} else if (b.off_plumb == 90) {
		rn_buffer_format(buffer, "level to the %s", right_or_left(b));
	} else {
		rn_buffer_format(buffer, "%s and %s", up_or_down(b), right_or_left(b));
		if (pointing != RN_POINT_SIDE)
			rn_buffer_format(buffer, ", %d deg", b.off_plumb);
		if (pointing == RN_POINT_FULL)
			rn_buffer_text(buffer, " off plumb");
	}
}

void rn_words_beside(rn_buffer *buffer, const double vector[2])
{
	/* nearer than this to plumb or level the second word would send people the wrong way */
	const int axis_within = 10;
	bearing b = bearing_of(vector);
	if (points_nowhere(vector))
		rn_buffer_text(buffer, "all round");
	else if (b.off_plumb <= axis_within)
		rn_buffer_text(buffer, b.up ? "straight above" : "straight below");
	else if (b.off_plumb >= 90 - axis_within)
		rn_buffer_format(buffer, "level %s of", right_or_left(b));
	else
		rn_buffer_format(buffer, "%s and %s of", up_or_down(b), right_or_left(b));
}

/* ---- user text ------------------------------------------------------------------------------- */

/* Bytes of the character that starts with this one, 0 if none may. */
static size_t sequence_size(unsigned char first)
{
	if (first < 0x80)
		return 1;
	if (first >= 0xC2 && first <= 0xDF)
		return 2;
	if (first >= 0xE0 && first <= 0xEF)
		return 3;
	return first >= 0xF0 && first <= 0xF4 ? 4 : 0;
}

static bool is_printed(uint32_t code, size_t size)
{
	static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
	bool control =
		code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0x2028 || code == 0x2029;
	bool turns = (code >= 0x200E && code <= 0x200F) || (code >= 0x202A && code <= 0x202E) ||
	             (code >= 0x2066 && code <= 0x2069) || code == 0x061C;
	bool nothing = (code >= 0xD800 && code <= 0xDFFF) || code > 0x10FFFF ||
	               (code & 0xFFFE) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF) ||
	               code == 0xFEFF;
	return code >= least[size] && !control && !turns && !nothing;
}

size_t rn_words_character(const char *text, uint32_t *code_out)
{
	static const unsigned char payload[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
	const unsigned char *bytes = (const unsigned char *)text;
	size_t size = sequence_size(bytes[0]);
	*code_out = '?';
	if (size == 0)
		return 1;
	uint32_t code = bytes[0] & payload[size];
	for (size_t i = 1; i < size; i++) {
		if ((bytes[i] & 0xC0) != 0x80) /* also stops at the closing NUL */
			return i;
		code = code << 6 | (bytes[i] & 0x3Fu);
	}
	if (is_printed(code, size))
		*code_out = code;
	return size;
}

void rn_words_plain(rn_buffer *buffer, const char *text)
{
	while (text && *text) {
		uint32_t code;
		size_t size = rn_words_character(text, &code);
		if (code == '?')
			rn_buffer_char(buffer, '?');
		else
			rn_buffer_add(buffer, text, size);
		text += size;
	}
}

/* ---- objects --------------------------------------------------------------------------------- */

static const char *const node_words[] = {
#define X(name, word) word,
	RN_NODE_KIND_LIST(X)
#undef X
};

static const char *const item_words[] = {
#define X(name, word) word,
	RN_ITEM_KIND_LIST(X)
#undef X
};

const char *rn_words_kind(const rn_model *model, rn_object object)
{
	if (object.index == RN_NONE)
		return "part";
	switch (object.kind) {
	case RN_NODE: return node_words[model->nodes[object.index].kind];
	case RN_ITEM: return item_words[model->items[object.index].kind];
	case RN_LINE: return "rope";
	case RN_SLING:
	case RN_LEG: return "sling";
	case RN_STEM: return model->stems[object.index].on == RN_NONE ? "stem" : "branch";
	case RN_PROP: return model->props[object.index].is_piece ? "piece" : "prop";
	case RN_CASE: return "case";
	default: return "part";
	}
}

static bool has_name(const rn_model *model, rn_object object)
{
	const char *id = rn_object_id(model, object);
	return id[0] != '\0' && strcmp(id, "?") != 0;
}

static rn_object node_object(int node)
{
	return rn_object_of(RN_NODE, node);
}

static void nameless_node(rn_buffer *buffer, const rn_model *model, int index)
{
	const rn_node *node = &model->nodes[index];
	if (node->sling != RN_NONE && has_name(model, rn_object_of(RN_SLING, node->sling))) {
		rn_buffer_text(buffer, "hitch of ");
		rn_words_object(buffer, model, rn_object_of(RN_SLING, node->sling));
		return;
	}
	int number = 0; /* counted among its kind, as a person would */
	for (int i = 0; i <= index; i++)
		number += model->nodes[i].kind == node->kind;
	rn_buffer_format(buffer, "%s %d", node_words[node->kind], number);
}

static void leg_words(rn_buffer *buffer, const rn_model *model, int index)
{
	const rn_leg *leg = &model->legs[index];
	rn_words_object(buffer, model, rn_object_of(RN_SLING, leg->sling));
	if (model->slings[leg->sling].leg_count > 1) {
		rn_buffer_text(buffer, " to ");
		rn_words_object(buffer, model, node_object(leg->to));
	}
}

/* Things that never have a name of their own. */
static void owned_words(rn_buffer *buffer, const rn_model *model, rn_object object)
{
	switch (object.kind) {
	case RN_SECTION: {
		int stem = model->sections[object.index].stem;
		rn_buffer_format(buffer, "section %d of ",
		                 object.index - model->stems[stem].first_section + 1);
		rn_words_object(buffer, model, rn_object_of(RN_STEM, stem));
		break;
	}
	case RN_CUT: {
		const rn_timber *timber = &model->timbers[model->cuts[object.index].timber];
		rn_buffer_format(buffer, "cut %d of ", object.index - timber->first_cut + 1);
		rn_words_object(buffer, model, timber->piece);
		break;
	}
	case RN_LEG: leg_words(buffer, model, object.index); break;
	case RN_STATION:
		rn_words_object(buffer, model,
		                rn_object_of(RN_LINE, model->stations[object.index].line));
		rn_buffer_text(buffer, " at ");
		rn_words_object(buffer, model, node_object(model->stations[object.index].node));
		break;
	case RN_FORCE:
		rn_buffer_text(buffer, "force at ");
		rn_words_object(buffer, model, node_object(model->forces[object.index].node));
		break;
	case RN_FALL:
		rn_buffer_text(buffer, "fall of ");
		rn_words_object(buffer, model, model->falls[object.index].piece);
		break;
	case RN_RIGGING: rn_buffer_text(buffer, "the model"); break;
	default:
		rn_buffer_format(buffer, "%s %d", rn_words_kind(model, object), object.index + 1);
		break;
	}
}

void rn_words_object(rn_buffer *buffer, const rn_model *model, rn_object object)
{
	if (object.index == RN_NONE)
		rn_buffer_text(buffer, "nothing");
	else if (object.kind != RN_RIGGING && has_name(model, object))
		rn_words_plain(buffer, rn_object_id(model, object));
	else if (object.kind == RN_NODE)
		nameless_node(buffer, model, object.index);
	else
		owned_words(buffer, model, object);
}

/* ---- numbers by name ------------------------------------------------------------------------- */

/* The object a nameless one is named by, and the word behind its name: "beech" and "section2" of a section. Nameless
 * ones without an owner own themselves. */
static rn_object owner_of(rn_buffer *word, const rn_model *model, rn_object object)
{
	switch (object.kind) {
	case RN_SECTION: {
		int stem = model->sections[object.index].stem;
		rn_buffer_format(word, ".section%d", object.index - model->stems[stem].first_section + 1);
		return rn_object_of(RN_STEM, stem);
	}
	case RN_CUT: {
		const rn_timber *timber = &model->timbers[model->cuts[object.index].timber];
		rn_buffer_format(word, ".cut%d", object.index - timber->first_cut + 1);
		return timber->piece;
	}
	case RN_LEG: {
		const rn_leg *leg = &model->legs[object.index];
		if (model->slings[leg->sling].leg_count > 1)
			rn_buffer_format(word, ".%s", rn_object_id(model, node_object(leg->to)));
		return rn_object_of(RN_SLING, leg->sling);
	}
	case RN_STATION:
		rn_buffer_format(word, ".%s", rn_object_id(model, node_object(model->stations[object.index].node)));
		return rn_object_of(RN_LINE, model->stations[object.index].line);
	case RN_FALL: return rn_object_of(RN_CASE, model->falls[object.index].case_index);
	default: return object;
	}
}

bool rn_words_number_name(rn_buffer *buffer, const rn_model *model, int number)
{
	const rn_number *n = &model->numbers[number];
	rn_buffer name = rn_buffer_make(&buffer->allocator), word = rn_buffer_make(&buffer->allocator);
	rn_buffer_text(&name, rn_object_id(model, owner_of(&word, model, n->object)));
	rn_buffer_add(&name, word.bytes, word.size);
	rn_buffer_format(&name, ".%s", rn_attribute_word(n->attribute));
	bool leads_back = name.bytes && rn_model_number_by_name(model, name.bytes) == number;
	if (leads_back)
		rn_words_plain(buffer, name.bytes);
	buffer->failed = buffer->failed || name.failed || word.failed;
	rn_buffer_release(&name);
	rn_buffer_release(&word);
	return leads_back;
}

static void add_degrees(rn_buffer *buffer, double angle)
{
	rn_words_number(buffer, angle * 180 / pi);
	rn_buffer_text(buffer, " deg");
}

void rn_words_value(rn_buffer *buffer, const rn_model *model, rn_attribute attribute, double value, rn_units units)
{
	switch (rn_attribute_quantity(attribute)) {
	case RN_QUANTITY_LENGTH: rn_words_length(buffer, value, RN_NEAREST, units); break;
	case RN_QUANTITY_ANGLE: add_degrees(buffer, value); break;
	case RN_QUANTITY_DENSITY: rn_words_density(buffer, value, units); break;
	case RN_QUANTITY_STRESS: rn_words_stress(buffer, value, RN_NEAREST, units); break;
	case RN_QUANTITY_FORCE:
		if (attribute == RN_ATTRIBUTE_WEIGHT)
			add_mass(buffer, value, rn_words_gravity(model), RN_NEAREST, units);
		else
			rn_words_force(buffer, value, RN_NEAREST, units);
		break;
	case RN_QUANTITY_ACCELERATION:
		add_figures(buffer, units == RN_US ? value / metres_per_foot : value, 1e-6, RN_NEAREST,
		            units == RN_US ? " ft/s2" : " m/s2");
		break;
	default: rn_words_number(buffer, value); break;
	}
}

/* What a number of the model is told in when three figures do not tell its ends apart. */
static double fine_unit(const rn_model *model, rn_attribute attribute, rn_units units, const char **word_out)
{
	double gravity = rn_words_gravity(model);
	bool us = units == RN_US;
	switch (rn_attribute_quantity(attribute)) {
	case RN_QUANTITY_LENGTH: *word_out = us ? " ft" : " m"; return us ? metres_per_foot : 1;
	case RN_QUANTITY_DENSITY: *word_out = us ? " lb/ft3" : " kg/m3"; return us ? kilograms_per_pound / cubic_foot : 1;
	case RN_QUANTITY_STRESS: *word_out = us ? " psi" : " MPa"; return us ? newtons_per_lbf / (0.0254 * 0.0254) : 1e6;
	case RN_QUANTITY_FORCE:
		if (attribute == RN_ATTRIBUTE_WEIGHT) {
			*word_out = us ? " lb" : " kg";
			return (gravity > 0 ? gravity : standard_gravity) * (us ? kilograms_per_pound : 1);
		}
		*word_out = us ? " lbf" : " kN";
		return us ? newtons_per_lbf : 1e3;
	case RN_QUANTITY_ACCELERATION: *word_out = us ? " ft/s2" : " m/s2"; return us ? metres_per_foot : 1;
	default: *word_out = ""; return 1;
	}
}

static void add_fine_range(rn_buffer *buffer, const rn_model *model, rn_attribute attribute, double low, double high,
                           rn_units units)
{
	const char *word;
	double unit = fine_unit(model, attribute, units, &word);
	rn_words_number(buffer, low / unit);
	rn_buffer_text(buffer, " to ");
	rn_words_number(buffer, high / unit);
	rn_buffer_text(buffer, word);
}

void rn_words_value_range(rn_buffer *buffer, const rn_model *model, rn_attribute attribute, double low, double high,
                          rn_units units)
{
	rn_buffer end = rn_buffer_make(&buffer->allocator), from = rn_buffer_make(&buffer->allocator);
	rn_words_value(&end, model, attribute, high, units);
	rn_words_value(&from, model, attribute, low, units);
	if (from.bytes && end.bytes && strcmp(from.bytes, end.bytes) == 0) {
		add_fine_range(buffer, model, attribute, low, high, units);
	} else {
		cut_shared_unit(&from, &end);
		rn_buffer_add(buffer, from.bytes, from.size);
		rn_buffer_text(buffer, " to ");
		rn_buffer_add(buffer, end.bytes, end.size);
	}
	buffer->failed = buffer->failed || from.failed || end.failed;
	rn_buffer_release(&from);
	rn_buffer_release(&end);
}

void rn_words_part(rn_buffer *buffer, const rn_model *model, rn_object object)
{
	if (object.index != RN_NONE && has_name(model, object)) {
		rn_buffer_text(buffer, rn_words_kind(model, object));
		rn_buffer_char(buffer, ' ');
	}
	rn_words_object(buffer, model, object);
}

/* Two decimals, three where the third says something. */
static void factor_value(rn_buffer *buffer, double value)
{
	int thousandths = (int)(value * 1000 + 0.5);
	if (thousandths % 10)
		rn_buffer_format(buffer, "%d.%03d", thousandths / 1000, thousandths % 1000);
	else
		rn_buffer_format(buffer, "%d.%02d", thousandths / 1000, thousandths % 1000 / 10);
}

void rn_words_factor(rn_buffer *buffer, const rn_factor *factor)
{
	rn_buffer_format(buffer, "%s ", rn_factor_text(factor->kind));
	factor_value(buffer, factor->value);
	if (factor->word) {
		rn_buffer_text(buffer, " (");
		rn_words_plain(buffer, factor->word);
		rn_buffer_char(buffer, ')');
	} else if (factor->kind == RN_FACTOR_CHOKE_ANGLE) {
		rn_buffer_text(buffer, " (");
		rn_words_angle(buffer, factor->measure);
		rn_buffer_char(buffer, ')');
	} else if (factor->measure > 0) {
		rn_buffer_text(buffer, " (D/d ");
		add_rounded(buffer, round_figures(factor->measure, 3, RN_NEAREST));
		rn_buffer_char(buffer, ')');
	}
}

static const char *limit_head(const rn_part_result *part)
{
	switch (part->governed) {
	case RN_BY_STRENGTH: return "strength ";
	case RN_BY_WORKING_LOAD: return "working load ";
	case RN_BY_CRUSHING: return "crushed at ";
	case RN_BY_BUCKLING: return "buckles at ";
	case RN_BY_BENDING: /* only stems, which are told apart */
	case RN_BY_NOTHING: break;
	}
	return "";
}

void rn_words_limit(rn_buffer *buffer, const rn_part_result *part, rn_units units)
{
	bool label = part->governed == RN_BY_WORKING_LOAD;
	if (part->governed == RN_BY_NOTHING)
		return;
	rn_buffer_text(buffer, limit_head(part));
	rn_words_force(buffer, label ? part->working_load : part->strength, RN_DOWN, units);
	for (int i = 0; i < part->factor_count; i++) {
		rn_buffer_text(buffer, " x ");
		rn_words_factor(buffer, &part->factors[i]);
	}
	if (label)
		return;
	rn_buffer_text(buffer, " / ");
	rn_words_number(buffer, part->design_factor);
}

bool rn_words_stem_at_foot(const rn_stem_result *stem)
{
	const double foot = 1e-3; /* nearer to its lower end than this is there [m] */
	return stem->height < foot;
}

void rn_words_stem_height(rn_buffer *buffer, const rn_model *model, const rn_stem_result *stem, rn_units units)
{
	if (rn_words_stem_at_foot(stem)) {
		rn_buffer_text(buffer, model->stems[stem->stem].on == RN_NONE ? "at its foot" : "where it grows");
		return;
	}
	rn_words_length(buffer, stem->height, RN_NEAREST, units);
	rn_buffer_text(buffer, model->stems[stem->stem].on == RN_NONE ? " up" : " along");
}

void rn_words_stem_limit(rn_buffer *buffer, const rn_stem_result *stem, rn_units units)
{
	double factor = stem->design_factor > 0 ? stem->design_factor : 1;
	if (stem->governed == RN_BY_BUCKLING && stem->buckling >= rn_buckling_most) {
		rn_buffer_text(buffer, "does not carry even its own weight, or is pushed over a thousand times too hard");
		return;
	}
	if (stem->governed == RN_BY_BUCKLING) {
		rn_words_percent(buffer, stem->buckling);
		rn_buffer_text(buffer, " of the push it buckles at, allowed 1 / ");
		rn_words_number(buffer, factor);
		return;
	}
	bool pressed = stem->governed == RN_BY_CRUSHING;
	rn_buffer_text(buffer, pressed ? "pressed " : "drawn ");
	rn_words_stress(buffer, pressed ? stem->compression : stem->tension, RN_UP, units);
	rn_buffer_text(buffer, " of ");
	rn_words_stress(buffer, pressed ? stem->compression_strength : stem->bending_strength, RN_DOWN, units);
	rn_buffer_text(buffer, " / ");
	rn_words_number(buffer, factor);
}

const char *rn_words_unchecked(rn_unchecked reason)
{
	switch (reason) {
	case RN_CHECKED: return "checked";
	case RN_NO_RATING: return "no rating";
	case RN_NO_DESIGN_FACTOR: return "no design factor";
	case RN_NO_GEAR: return "no gear named";
	case RN_STRETCH_UNKNOWN: return "stretch matters: give the stiffness";
	case RN_WOOD_UNKNOWN: return "wood not known";
	case RN_PULLED: return "pulled: its ends have no rating";
	case RN_WOOD_ESTIMATED: return "strength of its wood from memory";
	case RN_BEND_UNKNOWN: return "bend not known";
	case RN_HITCH_NOT_SAID: return "hitch not said";
	case RN_WEAR_UNKNOWN: return "worn, what is left not said";
	case RN_THICKNESS_UNKNOWN: return "pulled above its highest section: measure it there";
	case RN_TOO_SHORT: return "too short to go round";
	}
	return "not known why";
}

/* ---- notes ----------------------------------------------------------------------------------- */

/* Travel and forces that came out of the solver are rounded up; what somebody wrote or what was
 * guessed is echoed to the nearest. */
static rn_rounding note_rounding(rn_note_kind kind)
{
	rn_severity severity = rn_note_severity(kind);
	return severity == RN_OUTCOME || severity == RN_REMARK ? RN_UP : RN_NEAREST;
}

double rn_words_gravity(const rn_model *model)
{
	int number = rn_model_find_number(model, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_GRAVITY);
	return number == RN_NONE ? 0 : model->numbers[number].value;
}

/* Of a number in its own quantity; a weight is told as mass and force, for one may be there for the other. */
static void own_value(rn_buffer *buffer, const rn_model *model, rn_attribute attribute, double value, rn_units units)
{
	const double finest = 1e-4; /* below it a length reads as nothing [m]; a force does below rn_words_nothing */
	if (attribute == RN_ATTRIBUTE_WEIGHT) {
		rn_words_weight_rounded(buffer, value, rn_words_gravity(model), RN_NEAREST, units);
	} else if (rn_attribute_quantity(attribute) == RN_QUANTITY_LENGTH && fabs(value) < finest) {
		rn_words_number(buffer, value / (units == RN_US ? metres_per_foot / 12 : 1e-3));
		rn_buffer_text(buffer, units == RN_US ? " in" : " mm");
	} else if (rn_attribute_quantity(attribute) == RN_QUANTITY_FORCE && fabs(value) < rn_words_nothing) {
		rn_words_number(buffer, value / (units == RN_US ? newtons_per_lbf : 1));
		rn_buffer_text(buffer, units == RN_US ? " lbf" : " N");
	} else {
		rn_words_value(buffer, model, attribute, value, units);
	}
}

static void note_value(rn_buffer *buffer, const rn_model *model, const rn_note *note, int which,
                       const char *quantity, rn_units units)
{
	double value = note->value[which];
	rn_rounding rounding = note_rounding(note->kind);
	if (strcmp(quantity, "own") == 0)
		own_value(buffer, model, note->attribute, value, units);
	else if (strcmp(quantity, "force") == 0)
		rn_words_force(buffer, value, rounding, units);
	else if (strcmp(quantity, "length") == 0)
		rn_words_length(buffer, value, rounding, units);
	else if (strcmp(quantity, "stress") == 0)
		rn_words_stress(buffer, value, rounding, units);
	else if (strcmp(quantity, "density") == 0)
		rn_words_density(buffer, value, units);
	else if (strcmp(quantity, "mass") == 0)
		rn_words_mass(buffer, value, rn_words_gravity(model), units);
	else if (strcmp(quantity, "angle") == 0)
		rn_words_angle(buffer, value);
	else if (strcmp(quantity, "percent") == 0)
		rn_words_percent(buffer, value);
	else if (strcmp(quantity, "ratio") == 0)
		add_figures(buffer, value, 1e-6, RN_NEAREST, "");
	else
		rn_words_number(buffer, value);
}

/* "315 to 630 kN": takes the unit of {0} off the end when " to {1}" follows in the same unit. */
static void drop_shared_unit(rn_buffer *buffer, const rn_model *model, const rn_note *note,
                             const char *quantity, const char *behind, rn_units units)
{
	static const char range[] = "} to {1:";
	if (strncmp(behind, range, sizeof range - 1) != 0)
		return;
	rn_buffer other = rn_buffer_make(&buffer->allocator);
	note_value(&other, model, note, 1, quantity, units);
	cut_shared_unit(buffer, &other);
	rn_buffer_release(&other);
}

/* `names` stands for {a}, when not NULL. */
static void note_field(rn_buffer *buffer, const rn_model *model, const rn_note *note,
                       const char *field, const char *names, rn_units units)
{
	switch (field[0]) {
	case 'a':
		if (names)
			rn_buffer_text(buffer, names);
		else
			rn_words_object(buffer, model, note->a);
		break;
	case 'b': rn_words_object(buffer, model, note->b); break;
	case 'c': rn_words_object(buffer, model, note->c); break;
	case 'w': rn_words_plain(buffer, note->word); break;
	case '0':
	case '1':
	case '2': note_value(buffer, model, note, field[0] - '0', field + 2, units); break;
	default: break;
	}
}

/* "fern-house.xml:31: " */
static void note_place(rn_buffer *buffer, const rn_model *model, const rn_note *note)
{
	if (note->line <= 0)
		return;
	bool named = note->file < model->file_count;
	rn_words_plain(buffer, named ? model->files[note->file] : "line");
	rn_buffer_format(buffer, named ? ":%d: " : " %d: ", note->line);
}

static void fill_note(rn_buffer *buffer, const rn_model *model, const rn_note *note,
                      const char *names, rn_units units)
{
	char field[16];
	note_place(buffer, model, note);
	for (const char *p = rn_note_text(note->kind); *p; p++) {
		const char *end = *p == '{' ? strchr(p, '}') : NULL;
		size_t size = end ? (size_t)(end - p - 1) : 0;
		if (size == 0 || size >= sizeof field) {
			rn_buffer_char(buffer, *p);
			continue;
		}
		memcpy(field, p + 1, size);
		field[size] = '\0';
		note_field(buffer, model, note, field, names, units);
		if (field[0] == '0')
			drop_shared_unit(buffer, model, note, field + 2, end, units);
		p = end;
	}
	if (rn_note_severity(note->kind) == RN_DOUBT && note->c.index != RN_NONE) {
		rn_buffer_text(buffer, " (in case ");
		rn_words_object(buffer, model, note->c);
		rn_buffer_char(buffer, ')');
	}
}

void rn_words_note(rn_buffer *buffer, const rn_model *model, const rn_note *note, rn_units units)
{
	fill_note(buffer, model, note, NULL, units);
}

static bool same_object(rn_object a, rn_object b)
{
	return a.index == b.index && (a.index == RN_NONE || a.kind == b.kind);
}

static bool same_word(const char *a, const char *b)
{
	return a == b || (a && b && strcmp(a, b) == 0);
}

/* Whether two notes are said as one. Guesses begin with what they are about and can share a
 * sentence; the others are sentences about one thing. */
static bool same_saying(const rn_note *m, const rn_note *n)
{
	bool same_subject = rn_note_severity(m->kind) == RN_GUESS || same_object(m->a, n->a);
	return m->kind == n->kind && same_subject && same_object(m->b, n->b) &&
	       same_object(m->c, n->c) && same_word(m->word, n->word) &&
	       !(m->value[0] < n->value[0]) && !(m->value[0] > n->value[0]) &&
	       !(m->value[1] < n->value[1]) && !(m->value[1] > n->value[1]);
}

static bool said_before(const rn_notes *notes, int index)
{
	for (int i = 0; i < index; i++)
		if (same_saying(&notes->items[i], &notes->items[index]))
			return true;
	return false;
}

static bool named_before(const rn_notes *notes, int first, int index)
{
	for (int i = first; i < index; i++)
		if (same_saying(&notes->items[i], &notes->items[index]) &&
		    same_object(notes->items[i].a, notes->items[index].a))
			return true;
	return false;
}

/* "b1, r1 and r2": every {a} of which the same is said. */
static void gather_names(rn_buffer *names, const rn_model *model, const rn_notes *notes, int first)
{
	int last = first;
	for (int i = first; i < notes->count; i++)
		if (same_saying(&notes->items[first], &notes->items[i]) &&
		    !named_before(notes, first, i))
			last = i;
	for (int i = first; i <= last; i++) {
		if (!same_saying(&notes->items[first], &notes->items[i]) ||
		    named_before(notes, first, i))
			continue;
		if (i > first)
			rn_buffer_text(names, i == last ? " and " : ", ");
		rn_words_object(names, model, notes->items[i].a);
	}
}

void rn_words_notes(rn_buffer *buffer, const rn_model *model, const rn_notes *notes, rn_units units)
{
	bool first = true;
	for (int i = 0; i < notes->count; i++) {
		if (said_before(notes, i))
			continue;
		rn_buffer names = rn_buffer_make(&buffer->allocator);
		gather_names(&names, model, notes, i);
		if (!first)
			rn_buffer_text(buffer, "; ");
		fill_note(buffer, model, &notes->items[i], names.bytes, units);
		buffer->failed = buffer->failed || names.failed;
		rn_buffer_release(&names);
		first = false;
	}
}

void rn_words_doubts(rn_buffer *buffer, const rn_model *model, rn_units units)
{
	if (model->doubts.count == 0)
		return;
	const int most = 10; /* past that the file is wrong as a whole */
	rn_buffer_text(buffer, "Look again:");
	for (int i = 0; i < model->doubts.count && i < most; i++) {
		rn_buffer_char(buffer, ' ');
		rn_words_note(buffer, model, &model->doubts.items[i], units);
		bool asked = buffer->size > 0 && buffer->bytes[buffer->size - 1] == '?';
		rn_buffer_text(buffer, asked ? "" : ".");
	}
	if (model->doubts.count > most)
		rn_buffer_format(buffer, " And %d more.", model->doubts.count - most);
}

/* ---- cautions -------------------------------------------------------------------------------- */

const char *rn_words_sight(const rn_model *model, int index)
{
	static const char *const sight[2][2] = {
		{"Looked at: a steady pull in one upright plane.", "Not looked at: catch, swing, wind, decay."},
		{"Looked at: a steady pull, and a catch, in one upright plane.", "Not looked at: swing, wind, decay."},
	};
	return index >= 0 && index < 2 ? sight[model->fall_count > 0][index] : NULL;
}

const char *rn_words_caution(const rn_model *model, int index)
{
	static const char *const cautions[] = {
		("The tree is not rated and usually the weakest part; the strength of clear wood does not "
		 "foretell how a whole tree fails."),
		("Caught pieces pull several times their weight, and peaks scatter: cut smaller, "
		 "let run."),
		"Local law, the makers' instructions and a competent person come first.",
		("Several stems: unroll the job along the rope; redirects between planes are not "
		 "given."),
	};
	const int count = model->stem_count > 1 ? 4 : 3;
	return index >= 0 && index < count ? cautions[index] : NULL;
}
