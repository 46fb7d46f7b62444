/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/quantity.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "io/base/words.h"
#include "io/xml/near.h"

#define PI 3.14159265358979323846

enum { NUMBER_MOST = 60, UNIT_MOST = 24 };

/* ---- what is known ------------------------------------------------------------------------- */

static const struct {
	const char *name, *example;
} measures[] = {
	[RN_MEASURE_RATIO] = {"a plain number", "0.25 or 15 %"},
	[RN_MEASURE_LENGTH] = {"a length", "3.5 m or 12 ft 6 in"},
	[RN_MEASURE_FORCE] = {"a force or weight", "12 kN, 320 kg or 450 lb"},
	[RN_MEASURE_ANGLE] = {"an angle", "30 deg"},
	[RN_MEASURE_ACCELERATION] = {"an acceleration", "9.81 m/s2"},
	[RN_MEASURE_DENSITY] = {"a density", "900 kg/m3 or 56 lb/ft3"},
	[RN_MEASURE_PRESSURE] = {"a stress", "35 MPa"},
};

/* SI value = written value * times / over: with both whole where they can be, 16 mm is the double
 * nearest to 0.016. Factors are exact by definition: an inch is 25.4 mm, a pound 0.45359237 kg. */
typedef struct unit {
	const char *word;
	rn_measure measure;
	double times, over;
	bool is_mass; /* weighs times gravity */
} unit;

static const unit units[] = {
	{"m", RN_MEASURE_LENGTH, 1, 1, false},
	{"cm", RN_MEASURE_LENGTH, 1, 100, false},
	{"mm", RN_MEASURE_LENGTH, 1, 1000, false},
	{"km", RN_MEASURE_LENGTH, 1000, 1, false},
	{"ft", RN_MEASURE_LENGTH, 3048, 10000, false},
	{"in", RN_MEASURE_LENGTH, 254, 10000, false},
	{"N", RN_MEASURE_FORCE, 1, 1, false},
	{"kN", RN_MEASURE_FORCE, 1000, 1, false},
	{"MN", RN_MEASURE_FORCE, 1e6, 1, false},
	{"lbf", RN_MEASURE_FORCE, 4.4482216152605, 1, false},
	{"kip", RN_MEASURE_FORCE, 4448.2216152605, 1, false},
	{"kg", RN_MEASURE_FORCE, 1, 1, true},
	{"t", RN_MEASURE_FORCE, 1000, 1, true},
	{"lb", RN_MEASURE_FORCE, 0.45359237, 1, true},
	{"deg", RN_MEASURE_ANGLE, PI, 180, false},
	{"rad", RN_MEASURE_ANGLE, 1, 1, false},
	{"%", RN_MEASURE_RATIO, 1, 100, false},
	{"m/s2", RN_MEASURE_ACCELERATION, 1, 1, false},
	{"kg/m3", RN_MEASURE_DENSITY, 1, 1, false},
	{"lb/ft3", RN_MEASURE_DENSITY, 0.45359237, 0.028316846592, false},
	{"Pa", RN_MEASURE_PRESSURE, 1, 1, false},
	{"kPa", RN_MEASURE_PRESSURE, 1e3, 1, false},
	{"MPa", RN_MEASURE_PRESSURE, 1e6, 1, false},
	{"GPa", RN_MEASURE_PRESSURE, 1e9, 1, false},
};

static const unit no_unit = {"", RN_MEASURE_RATIO, 1, 1, false};

/* What people write for a unit; too far off in letters to be found as a slip of the keyboard. */
static const struct {
	const char *found, *meant;
} other_words[] = {
	{"'", "ft"},
	{"\"", "in"},
	{"\xE2\x80\xB2", "ft"},
	{"\xE2\x80\xB3", "in"},
	{"foot", "ft"},
	{"feet", "ft"},
	{"inch", "in"},
	{"inches", "in"},
	{"metre", "m"},
	{"metres", "m"},
	{"meter", "m"},
	{"meters", "m"},
	{"lbs", "lb"},
	{"pound", "lb"},
	{"pounds", "lb"},
	{"#", "lb"},
	{"kgf", "kg"},
	{"kilo", "kg"},
	{"kilos", "kg"},
	{"tonne", "t"},
	{"tonnes", "t"},
	{"newton", "N"},
	{"newtons", "N"},
	{"\xC2\xB0", "deg"},
	{"degree", "deg"},
	{"degrees", "deg"},
	{"percent", "%"},
	{"m/s^2", "m/s2"},
	{"m/s\xC2\xB2", "m/s2"},
	{"kg/m^3", "kg/m3"},
	{"kg/m\xC2\xB3", "kg/m3"},
	{"pcf", "lb/ft3"},
	{"kilogram", "kg"},
	{"kilograms", "kg"},
	{"kgs", "kg"},
	{"kips", "kip"},
	{"ins", "in"},
	{"mtr", "m"},
	{"mtrs", "m"},
	{"feets", "ft"},
	{"T", "t"},
	{"\xE3\x8E\x9D", "cm"}, /* one character, as some keyboards have it */
	{"\xE3\x8E\x9C", "mm"},
	{"\xE3\x8E\x8F", "kg"},
};

/* Units there are, and that are not read: how to write them. None of them is a slip for another. */
static const struct {
	const char *found, *text;
} other_units[] = {
	{"ton", "a ton has several sizes: write t for 1000 kg, or lb"},
	{"tons", "a ton has several sizes: write t for 1000 kg, or lb"},
	{"daN", "daN is not read: 1 daN is 10 N, 100 daN are 1 kN"},
	{"g", "g is not read: 1000 g are 1 kg"},
	{"oz", "oz is not read: 16 oz are 1 lb"},
	{"st", "a stone is not read: 1 stone is 14 lb"},
	{"stone", "a stone is not read: 1 stone is 14 lb"},
	{"cwt", "a hundredweight has several sizes: write lb or kg"},
	{"yd", "yd is not read: 1 yd is 3 ft"},
	{"yard", "a yard is not read: 1 yd is 3 ft"},
	{"yards", "a yard is not read: 1 yd is 3 ft"},
	{"mi", "mi is not read: write feet, or m"},
	{"dm", "dm is not read: 1 dm is 10 cm"},
	{"um", "a thousandth of a mm is written 0.001 mm"},
	{"\xC2\xB5m", "a thousandth of a mm is written 0.001 mm"},
	{"\xCE\xBCm", "a thousandth of a mm is written 0.001 mm"},
	{"psi", "psi is not read: 1000 psi are 6.895 MPa"},
	{"ksi", "ksi is not read: 1 ksi is 6.895 MPa"},
	{"bar", "bar is not read: 10 bar are 1 MPa"},
	{"gon", "gon is not read: 100 gon are 90 deg"},
	{"turn", "a turn is not read: 1 turn is 360 deg"},
};

static const size_t unit_count = sizeof units / sizeof *units;

const char *rn_measure_name(rn_measure measure)
{
	return measures[measure].name;
}

const char *rn_measure_example(rn_measure measure)
{
	return measures[measure].example;
}

void rn_measure_units(rn_measure measure, rn_buffer *list)
{
	bool first = true;
	for (size_t i = 0; i < unit_count; i++) {
		if (units[i].measure != measure)
			continue;
		if (!first)
			rn_buffer_char(list, ' ');
		rn_buffer_text(list, units[i].word);
		first = false;
	}
}

/* ---- reading along a text -------------------------------------------------------------------- */

typedef struct reading {
	const char *at; /* what is not read yet */
	rn_measure measure;
	double gravity;
	rn_buffer *why;
} reading;

static bool is_figure(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static void skip_spaces(reading *r)
{
	while (is_space(*r->at))
		r->at++;
}

/* Always false: `return refuse(...)` says why and gives up. */
static bool refuse(const reading *r, const char *text)
{
	rn_buffer_text(r->why, text);
	return false;
}

static bool refuse_with_example(const reading *r, const char *text)
{
	rn_buffer_format(r->why, "%s%s is due, such as %s", text, rn_measure_name(r->measure),
	                 rn_measure_example(r->measure));
	return false;
}

/* ---- numbers ------------------------------------------------------------------------------- */

static const char *skip_figures(const char *p)
{
	while (is_figure(*p))
		p++;
	return p;
}

static bool refuse_no_figure(const reading *r)
{
	static const char *const fractions[] = {"\xC2\xBC", "\xC2\xBD", "\xC2\xBE", "\xE2\x85"};
	for (size_t i = 0; i < sizeof fractions / sizeof *fractions; i++)
		if (strncmp(r->at, fractions[i], strlen(fractions[i])) == 0)
			return refuse(r, "a fraction is not read: write it in decimals, 5/8 is 0.625 and 1 1/2 is 1.5");
	if (strncmp(r->at, "\xEF\xBC", 2) == 0) /* as wide as a letter of East Asia */
		return refuse(r, "the figures are not plain ones: type 0 to 9");
	if (*r->at == '\0')
		return refuse_with_example(r, "this is empty: ");
	if (r->at[0] == '.' && is_figure(r->at[1]))
		return refuse(r, "a number begins with a figure: write 0.5, not .5");
	return refuse_with_example(r, "this does not begin with a number: ");
}

/* One comma between figures is taken for a decimal one, and the cure is shown. */
static bool refuse_comma(const reading *r, const char *number, const char *comma)
{
	bool plain = is_figure(comma[1]) && !strpbrk(comma + 1, ",.") &&
	             strcspn(number, ".") > (size_t)(comma - number) &&
	             strlen(number) <= NUMBER_MOST;
	if (!plain)
		return refuse(
			r, "a comma is not read: decimals have a point, thousands nothing, 1250.5");
	int whole = (int)(comma - number);
	const char *behind = skip_figures(comma + 1);
	if (behind - comma - 1 == 3 && whole <= 4) /* 1,250 kg: which of the two makes a difference of a thousand */
		rn_buffer_format(r->why, "a comma is not read: write %.*s%s if it parts the thousands, %.*s.%s if it is a decimal one",
		                 whole, number, comma + 1, whole, number, comma + 1);
	else
		rn_buffer_format(r->why, "a decimal comma is not read: write %.*s.%s", whole, number, comma + 1);
	return false;
}

/* The end of the number that starts at r->at; NULL after saying why there is none. */
static const char *number_end(const reading *r)
{
	const char *start = r->at, *p = start + (*start == '+' || *start == '-');
	const char *end = skip_figures(p);
	if (end == p) {
		refuse_no_figure(r);
		return NULL;
	}
	if (end[0] == '.' && is_figure(end[1]))
		end = skip_figures(end + 1);
	else if (end[0] == '.' && end[1] != '.') {
		refuse(r, "a point needs a figure behind it: write 1 or 1.0, not 1.");
		return NULL;
	}
	if (*end == ',') {
		refuse_comma(r, start, end);
		return NULL;
	}
	if ((*end == 'x' || *end == 'X') && end == p + 1 && *p == '0') {
		refuse(r, "hexadecimal is not read: write the number in decimals");
		return NULL;
	}
	if (*end == 'e' || *end == 'E') {
		const char *power = end + 1 + (end[1] == '+' || end[1] == '-');
		if (*end == 'E' || !is_figure(*power)) {
			refuse(r,
			       "a power of ten is written with a small e and figures, such as 1e3");
			return NULL;
		}
		end = skip_figures(power);
	}
	return end;
}

/* The bytes between the figures of one half as the C library prints it: the point that strtod wants
 * in the locale the host has set. */
static const char *point_of_locale(char room[static 16])
{
	snprintf(room, 16, "%.1f", 0.5);
	room[strlen(room) - 1] = '\0';
	return room + 1;
}

/* "5/8 in", "1 5/8 in", "1 250 kg", "1'250 kg", "1_250 kg" behind the figures at r->at .. `end`: says how they are
 * written. */
static bool refuse_parted(const reading *r, const char *end)
{
	static const char *const parting[] = {"'", "_", "\xE2\x80\x99", " ", "\xC2\xA0", "\xE2\x80\x89", "\xE2\x80\xAF"};
	const char *second = end;
	while (is_space(*second))
		second++;
	const char *stroke = skip_figures(second);
	bool mixed = second > end && stroke > second;
	if (*end == '/' || (mixed && *stroke == '/'))
		return refuse(r, "a fraction is not read: write it in decimals, 5/8 is 0.625 and 1 1/2 is 1.5");
	for (size_t i = 0; i < sizeof parting / sizeof *parting; i++) {
		size_t size = strlen(parting[i]);
		if (strncmp(end, parting[i], size) == 0 && skip_figures(end + size) == end + size + 3)
			return refuse(r, "figures are not parted: write 1250, not 1 250");
	}
	return true;
}

/* strtod rounds to the nearest double, whatever the length; the text is a number of the grammar and
 * its point is exchanged for the locale's. */
static double nearest_double(const char *number, size_t size)
{
	char point_room[16], plain[NUMBER_MOST + 16];
	const char *point = memchr(number, '.', size);
	size_t whole = point ? (size_t)(point - number) : size;
	snprintf(plain, sizeof plain, "%.*s%s%.*s", (int)whole, number,
	         point ? point_of_locale(point_room) : "", point ? (int)(size - whole - 1) : 0,
	         point ? point + 1 : "");
	return strtod(plain, NULL);
}

static bool has_value(const char *number, size_t size)
{
	for (size_t i = 0; i < size && number[i] != 'e'; i++)
		if (number[i] >= '1' && number[i] <= '9')
			return true;
	return false;
}

/* Refuses what a double cannot hold; `is_zero`: written as nothing, so nothing was lost. */
static bool in_reach(const reading *r, double value, bool is_zero)
{
	if (!isfinite(value))
		return refuse(r, "the number is too large to work with");
	if (fabs(value) < DBL_MIN && !is_zero)
		return refuse(r, "the number is too small to work with");
	return true;
}

static bool read_number(reading *r, double *value_out)
{
	skip_spaces(r);
	const char *end = number_end(r);
	if (!end)
		return false;
	size_t size = (size_t)(end - r->at);
	if (size > NUMBER_MOST)
		return refuse(r, "a number has at most 60 characters");
	*value_out = nearest_double(r->at, size);
	if (!in_reach(r, *value_out, !has_value(r->at, size)))
		return false;
	if (!refuse_parted(r, end))
		return false;
	r->at = end;
	return true;
}

/* ---- units --------------------------------------------------------------------------------- */

/* A unit runs to the next space, ".." or figure; figures belong to it only as powers, behind a
 * stroke or a hat, so that "6ft2in" parts where it should. */
static size_t unit_size(const char *p)
{
	bool power = false;
	size_t size = 0;
	for (; p[size] && !is_space(p[size]); size++) {
		if (p[size] == '.' && p[size + 1] == '.')
			break;
		if (is_figure(p[size]) && !power)
			break;
		power = power || p[size] == '/' || p[size] == '^';
	}
	return size;
}

static const unit *unit_named(const char *word)
{
	for (size_t i = 0; i < unit_count; i++)
		if (strcmp(units[i].word, word) == 0)
			return &units[i];
	return NULL;
}

static const char *unit_meant(const char *word, rn_measure measure)
{
	for (size_t i = 0; i < sizeof other_words / sizeof *other_words; i++)
		if (strcmp(other_words[i].found, word) == 0 && unit_named(other_words[i].meant)->measure == measure)
			return other_words[i].meant;
	rn_near near = rn_near_begin(word);
	for (size_t i = 0; i < unit_count; i++)
		if (units[i].measure == measure)
			rn_near_offer(&near, units[i].word);
	return near.best;
}

static bool refuse_unit(const reading *r, const char *word)
{
	if (strcmp(word, "px") == 0)
		return refuse(r, "px is for places in a photo: x, y and place-error");
	for (size_t i = 0; i < sizeof other_units / sizeof *other_units; i++)
		if (strcmp(word, other_units[i].found) == 0)
			return refuse(r, other_units[i].text);
	const char *meant = unit_meant(word, r->measure);
	if (meant)
		rn_buffer_format(r->why, "the unit %s is not known; did you mean %s?", word, meant);
	else {
		rn_buffer_format(r->why, "the unit %s is not known: ", word);
		refuse_with_example(r, "");
	}
	return false;
}

/* A space that is not a plain one comes along when text is copied from a page. */
static bool begins_with_odd_space(const char *p)
{
	static const char *const odd[] = {"\xC2\xA0", "\xE2\x80\x89", "\xE2\x80\xAF",
	                                  "\xE2\x80\x8B"};
	for (size_t i = 0; i < sizeof odd / sizeof *odd; i++)
		if (strncmp(p, odd[i], strlen(odd[i])) == 0)
			return true;
	return false;
}

/* The unit at r->at; no_unit if there is none; NULL after saying why it cannot be. */
static const unit *read_unit(reading *r)
{
	char word[UNIT_MOST + 1];
	skip_spaces(r);
	size_t size = unit_size(r->at);
	if (size == 0)
		return &no_unit;
	if (begins_with_odd_space(r->at)) {
		refuse(r, "the space before the unit is not a plain space");
		return NULL;
	}
	if (memchr(r->at, ',', size)) {
		refuse(r, "a comma is not read: decimals have a point, thousands nothing, 1250.5");
		return NULL;
	}
	if (size > UNIT_MOST) {
		refuse_with_example(r, "what stands behind the number is no unit: ");
		return NULL;
	}
	memcpy(word, r->at, size);
	word[size] = '\0';
	const unit *found = unit_named(word);
	if (!found)
		refuse_unit(r, word);
	else
		r->at += size;
	return found;
}

/* ---- quantities ---------------------------------------------------------------------------- */

static bool apply_unit(const reading *r, const unit *u, double *value)
{
	if (u == &no_unit && r->measure != RN_MEASURE_RATIO)
		return refuse_with_example(r, "there is no unit: ");
	if (u->measure != r->measure) {
		rn_buffer_format(r->why, "this is %s where ",
		                 u->is_mass ? "a weight" : rn_measure_name(u->measure));
		return refuse_with_example(r, "");
	}
	bool is_zero = *value == 0;
	*value *= u->times * (u->is_mass ? r->gravity : 1);
	*value /= u->over;
	return in_reach(r, *value, is_zero);
}

/* "12 ft" is read, "6 in" may follow. */
static bool add_inches(reading *r, double feet, double *value)
{
	double inches;
	if (feet != floor(feet))
		return refuse(r, "feet before inches are whole: write 12 ft 6 in");
	if (!read_number(r, &inches))
		return false;
	const unit *u = read_unit(r);
	if (!u)
		return false;
	if (strcmp(u->word, "in") != 0 || inches >= 12)
		return refuse(r, "behind feet stand inches below 12: write 12 ft 6 in");
	*value = (fabs(feet) * 12 + inches) * 254 / 10000;
	if (signbit(feet))
		*value = -*value;
	return true;
}

static bool begins_range(const reading *r)
{
	return strncmp(r->at, "..", 2) == 0;
}

/* One quantity; when `unit_out` is not NULL its unit, or no_unit, is told and not asked for. */
static bool read_part(reading *r, double *value_out, const unit **unit_out)
{
	if (!read_number(r, value_out))
		return false;
	double written = *value_out;
	const unit *u = read_unit(r);
	if (!u)
		return false;
	if (unit_out)
		*unit_out = u;
	if (unit_out && u == &no_unit)
		return true;
	if (u == &no_unit && begins_range(r))
		return refuse(r, "one value is due, not a range");
	if (!apply_unit(r, u, value_out))
		return false;
	skip_spaces(r);
	if (strcmp(u->word, "ft") == 0 && is_figure(*r->at) && !add_inches(r, written, value_out))
		return false;
	*value_out += 0.0; /* -0 becomes 0 */
	skip_spaces(r);
	return true;
}

static bool at_end(reading *r)
{
	skip_spaces(r);
	if (*r->at == '\0')
		return true;
	if (begins_range(r))
		return refuse(r, "one value is due, not a range");
	return refuse_with_example(r, "there is more than one quantity here: ");
}

bool rn_quantity_read(const char *text, rn_measure measure, double gravity, double *value_out,
		      rn_buffer *why)
{
	reading r = {text, measure, gravity, why};
	return read_part(&r, value_out, NULL) && at_end(&r);
}

static bool read_range(reading *r, rn_range *range)
{
	const unit *first, *second;
	if (!read_part(r, &range->low, &first))
		return false;
	skip_spaces(r);
	if (!begins_range(r))
		return refuse(r, "a range is due, such as 0.14..0.25");
	r->at += 2;
	if (!read_part(r, &range->high, &second))
		return false;
	if (second == &no_unit && !apply_unit(r, second, &range->high))
		return false;
	return first != &no_unit || apply_unit(r, second, &range->low);
}

bool rn_quantity_read_range(const char *text, rn_measure measure, double gravity,
			    rn_range *range_out, rn_buffer *why)
{
	reading r = {text, measure, gravity, why};
	if (!read_range(&r, range_out) || !at_end(&r))
		return false;
	if (range_out->low > range_out->high)
		return refuse(&r, "a range runs from the smaller to the larger value");
	return true;
}

/* ---- directions ---------------------------------------------------------------------------- */

static bool read_word(reading *r, const char *word)
{
	size_t size = strlen(word);
	skip_spaces(r);
	bool ends = r->at[0] != '\0' && strncmp(r->at, word, size) == 0 &&
	            (is_space(r->at[size]) || r->at[size] == '\0');
	if (ends)
		r->at += size;
	return ends;
}

static bool ends_here(reading *r)
{
	skip_spaces(r);
	return *r->at == '\0';
}

static const struct {
	const char *word;
	double angle_deg;
} plain_directions[] = {{"right", 0}, {"up", 90}, {"left", 180}, {"down", -90}};

/* "A first [of] second" is the direction base + turn * A. */
static const struct {
	const char *first, *of, *second;
	double base_deg, turn;
} turned_directions[] = {
	{"left", "of", "down", -90, -1}, {"right", "of", "down", -90, 1},
	{"left", "of", "up", 90, 1},     {"right", "of", "up", 90, -1},
	{"above", "", "right", 0, 1},    {"below", "", "right", 0, -1},
	{"above", "", "left", 180, -1},  {"below", "", "left", 180, 1},
};

static const double degree = PI / 180;

/* Into (-pi, pi]. */
static double wrap(double angle)
{
	double turned = remainder(angle, 2 * PI);
	return turned <= -PI ? turned + 2 * PI : turned;
}

static bool refuse_direction(const reading *r)
{
	return refuse(r, "a direction is due, such as left, 30 deg, 30 deg left of down or "
	                 "20 deg above right");
}

/* Says how many degrees were written: they may be radians, or the other way round. */
static bool refuse_angle(const reading *r, const char *text, double angle)
{
	rn_buffer_format(r->why, "%s; this is ", text);
	rn_words_angle(r->why, angle);
	return false;
}

static bool read_turned(reading *r, double angle, double *angle_out)
{
	const char *rest = r->at;
	for (size_t i = 0; i < sizeof turned_directions / sizeof *turned_directions; i++) {
		r->at = rest;
		bool of = turned_directions[i].of[0] != '\0';
		if (!read_word(r, turned_directions[i].first) || (of && !read_word(r, "of")) ||
		    !read_word(r, turned_directions[i].second) || !ends_here(r))
			continue;
		if (angle < 0 || angle > PI / 2)
			return refuse_angle(r, "the angle off left, right, up or down is from 0 to 90 deg", angle);
		*angle_out = wrap(turned_directions[i].base_deg * degree +
		                  turned_directions[i].turn * angle);
		return true;
	}
	return refuse_direction(r);
}

bool rn_quantity_read_direction(const char *text, double *angle_out, rn_buffer *why)
{
	reading r = {text, RN_MEASURE_ANGLE, RN_GRAVITY_STANDARD, why};
	for (size_t i = 0; i < sizeof plain_directions / sizeof *plain_directions; i++) {
		r.at = text;
		if (read_word(&r, plain_directions[i].word) && ends_here(&r)) {
			*angle_out = wrap(plain_directions[i].angle_deg * degree);
			return true;
		}
	}
	double angle;
	r.at = text;
	skip_spaces(&r);
	if (!is_figure(*r.at) && *r.at != '-' && *r.at != '+')
		return refuse_direction(&r);
	if (!read_part(&r, &angle, NULL))
		return false;
	if (!ends_here(&r))
		return read_turned(&r, angle, angle_out);
	if (fabs(angle) > 2 * PI)
		return refuse_angle(&r, "a direction is from -360 to 360 deg", angle);
	*angle_out = wrap(angle);
	return true;
}

bool rn_quantity_read_lean(const char *text, double *angle_out, rn_buffer *why)
{
	reading r = {text, RN_MEASURE_ANGLE, RN_GRAVITY_STANDARD, why};
	double angle;
	if (!read_part(&r, &angle, NULL))
		return false;
	bool right = read_word(&r, "right");
	if (!right && !read_word(&r, "left"))
		return refuse(&r,
		              "which way it leans is not said: write 3 deg left or 3 deg right");
	if (!ends_here(&r))
		return refuse(&r, "a lean is due, such as 3 deg left");
	if (angle < 0 || angle >= PI / 2)
		return refuse_angle(&r, angle < 0 ? "a lean is from 0 to below 90 deg, to the left or to the right"
		                                  : "a lean is from 0 to below 90 deg", angle);
	*angle_out = right ? angle : 0.0 - angle;
	return true;
}
