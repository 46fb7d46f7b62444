/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Quantities as text: what is read, to the last bit where that can be asked for; what is refused,
 * and in which words; numbers written and read back.
 */
#include <float.h>
#include <locale.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/base/buffer.h"
#include "io/xml/near.h"
#include "io/xml/quantity.h"
#include "tests/support.h"

#define PI 3.14159265358979323846
#define G RN_GRAVITY_STANDARD

static const size_t readable_size = 200;

static rn_buffer make_buffer(void)
{
	rn_allocator allocator = rn_allocator_default();
	return rn_buffer_make(&allocator);
}

static const char *text_of(const rn_buffer *buffer)
{
	return buffer->bytes ? buffer->bytes : "";
}

/* ---- what is read ---------------------------------------------------------------------------- */

/* `exact`: the double nearest to the decimal value, which every factor here allows. */
static const struct {
	const char *text;
	rn_measure measure;
	double value;
	bool exact;
} read_rows[] = {
	{"0.25", RN_MEASURE_RATIO, 0.25, true},
	{"15 %", RN_MEASURE_RATIO, 0.15, true},
	{"15%", RN_MEASURE_RATIO, 0.15, true},
	{"3", RN_MEASURE_RATIO, 3, true},
	{"+3", RN_MEASURE_RATIO, 3, true},
	{"-3", RN_MEASURE_RATIO, -3, true},
	{"-0", RN_MEASURE_RATIO, 0, true},
	{"0", RN_MEASURE_RATIO, 0, true},
	{"0e0", RN_MEASURE_RATIO, 0, true},
	{"0.000e-999", RN_MEASURE_RATIO, 0, true},
	{"1e3", RN_MEASURE_RATIO, 1000, true},
	{"1e+3", RN_MEASURE_RATIO, 1000, true},
	{"1.25e-3", RN_MEASURE_RATIO, 0.00125, true},
	{"007", RN_MEASURE_RATIO, 7, true},
	{"2.385", RN_MEASURE_RATIO, 2.385, true},
	{"179769313486231570000e288", RN_MEASURE_RATIO, DBL_MAX, true},
	{"2.2250738585072014e-308", RN_MEASURE_RATIO, DBL_MIN, true},
	{"9007199254740993", RN_MEASURE_RATIO, 9007199254740992.0, true},
	{"0.1000000000000000055511151231257827021181583404541015625", RN_MEASURE_RATIO, 0.1, true},
	{"  7  ", RN_MEASURE_RATIO, 7, true},
	{"16 mm", RN_MEASURE_LENGTH, 0.016, true},
	{"16mm", RN_MEASURE_LENGTH, 0.016, true},
	{"16\tmm", RN_MEASURE_LENGTH, 0.016, true},
	{"44 mm", RN_MEASURE_LENGTH, 0.044, true},
	{"195 cm", RN_MEASURE_LENGTH, 1.95, true},
	{"-0.2 m", RN_MEASURE_LENGTH, -0.2, true},
	{"1.2 km", RN_MEASURE_LENGTH, 1200, true},
	{"34 ft", RN_MEASURE_LENGTH, 10.3632, true},
	{"3.5 in", RN_MEASURE_LENGTH, 0.0889, true},
	{"0.625in", RN_MEASURE_LENGTH, 0.015875, true},
	{"12 ft 6 in", RN_MEASURE_LENGTH, 3.81, true},
	{"12ft6in", RN_MEASURE_LENGTH, 3.81, true},
	{"12ft 6.5in", RN_MEASURE_LENGTH, 3.8227, true},
	{"-3 ft 6 in", RN_MEASURE_LENGTH, -1.0668, true},
	{"-0 ft 6 in", RN_MEASURE_LENGTH, -0.1524, true},
	{"0 ft 0 in", RN_MEASURE_LENGTH, 0, true},
	{"12 kN", RN_MEASURE_FORCE, 12000, true},
	{"250 N", RN_MEASURE_FORCE, 250, true},
	{"1.5 MN", RN_MEASURE_FORCE, 1.5e6, true},
	{"1e3kN", RN_MEASURE_FORCE, 1e6, true},
	{"320 kg", RN_MEASURE_FORCE, 320 * G, false},
	{"0.4 t", RN_MEASURE_FORCE, 400 * G, false},
	{"450 lb", RN_MEASURE_FORCE, 450 * 0.45359237 * G, false},
	{"450 lbf", RN_MEASURE_FORCE, 450 * 4.4482216152605, false},
	{"2 kip", RN_MEASURE_FORCE, 8896.443230521, false},
	{"180 deg", RN_MEASURE_ANGLE, PI, true},
	{"37.2 deg", RN_MEASURE_ANGLE, 37.2 * PI / 180, false},
	{"0.5 rad", RN_MEASURE_ANGLE, 0.5, true},
	{"9.81 m/s2", RN_MEASURE_ACCELERATION, 9.81, true},
	{"980 kg/m3", RN_MEASURE_DENSITY, 980, true},
	{"62 lb/ft3", RN_MEASURE_DENSITY, 62 * 16.018463373960142, false},
	{"35 MPa", RN_MEASURE_PRESSURE, 35e6, true},
	{"35 kPa", RN_MEASURE_PRESSURE, 35e3, true},
	{"9.1 GPa", RN_MEASURE_PRESSURE, 9.1e9, true},
	{"5 Pa", RN_MEASURE_PRESSURE, 5, true},
};

static void quantities_are_read(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof read_rows / sizeof *read_rows; i++) {
		rn_buffer why = make_buffer();
		double value = -99;
		bool good =
			rn_quantity_read(read_rows[i].text, read_rows[i].measure, G, &value, &why);
		if (!good)
			fail_msg("%s: %s", read_rows[i].text, text_of(&why));
		if (read_rows[i].exact && memcmp(&value, &read_rows[i].value, sizeof value) != 0)
			fail_msg("%s is %.17g, not %.17g", read_rows[i].text, value,
			         read_rows[i].value);
		rn_assert_near(value, read_rows[i].value, 4 * DBL_EPSILON, 0);
		assert_int_equal(why.size, 0);
		rn_buffer_release(&why);
	}
}

static void masses_weigh_with_the_gravity_of_the_model(void **state)
{
	(void)state;
	double moon = 1.62, kg, lb, lbf, t;
	rn_buffer why = make_buffer();
	assert_true(rn_quantity_read("10 kg", RN_MEASURE_FORCE, moon, &kg, &why));
	assert_true(rn_quantity_read("10 lb", RN_MEASURE_FORCE, moon, &lb, &why));
	assert_true(rn_quantity_read("10 lbf", RN_MEASURE_FORCE, moon, &lbf, &why));
	assert_true(rn_quantity_read("10 t", RN_MEASURE_FORCE, moon, &t, &why));
	rn_assert_near(kg, 16.2, 1e-15, 0);
	rn_assert_near(lb, 4.5359237 * moon, 1e-15, 0);
	rn_assert_near(lbf, 44.482216152605, 1e-15, 0);
	rn_assert_near(t, 16200, 1e-15, 0);
	assert_true(rn_quantity_read("10 lb", RN_MEASURE_FORCE, G, &lb, &why));
	rn_assert_near(lb, lbf, 1e-15, 0);
	rn_buffer_release(&why);
}

/* ---- what is refused ------------------------------------------------------------------------- */

static const struct {
	const char *text;
	rn_measure measure;
	const char *why;
} refused_rows[] = {
	{"", RN_MEASURE_LENGTH, "this is empty: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"   ", RN_MEASURE_LENGTH, "this is empty: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"3", RN_MEASURE_LENGTH, "there is no unit: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"0", RN_MEASURE_ANGLE, "there is no unit: an angle is due, such as 30 deg"},
	{"12 kN", RN_MEASURE_LENGTH,
	 "this is a force or weight where a length is due, such as 3.5 m or 12 ft 6 in"},
	{"12 kg", RN_MEASURE_LENGTH,
	 "this is a weight where a length is due, such as 3.5 m or 12 ft 6 in"},
	{"3 m", RN_MEASURE_FORCE,
	 "this is a length where a force or weight is due, such as 12 kN, 320 kg or 450 lb"},
	{"3 m", RN_MEASURE_RATIO,
	 "this is a length where a plain number is due, such as 0.25 or 15 %"},
	{"3 %", RN_MEASURE_FORCE,
	 "this is a plain number where a force or weight is due, such as 12 kN, 320 kg or 450 lb"},
	{"3 rad", RN_MEASURE_LENGTH,
	 "this is an angle where a length is due, such as 3.5 m or 12 ft 6 in"},
	{"12 Kn", RN_MEASURE_FORCE, "the unit Kn is not known; did you mean kN?"},
	{"12 kNm", RN_MEASURE_FORCE, "the unit kNm is not known; did you mean kN?"},
	{"12 lbs", RN_MEASURE_FORCE, "the unit lbs is not known; did you mean lb?"},
	{"12'", RN_MEASURE_LENGTH, "the unit ' is not known; did you mean ft?"},
	{"30\xC2\xB0", RN_MEASURE_ANGLE, "the unit \xC2\xB0 is not known; did you mean deg?"},
	{"9.81 m/s^2", RN_MEASURE_ACCELERATION, "the unit m/s^2 is not known; did you mean m/s2?"},
	{"3 furlong", RN_MEASURE_LENGTH,
	 "the unit furlong is not known: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"2 ton", RN_MEASURE_FORCE, "a ton has several sizes: write t for 1000 kg, or lb"},
	{"300 px", RN_MEASURE_LENGTH,
	 "px is for places in a photo: x, y and place-error"},
	{"1,5 kN", RN_MEASURE_FORCE, "a decimal comma is not read: write 1.5 kN"},
	{"1,5", RN_MEASURE_RATIO, "a decimal comma is not read: write 1.5"},
	{"1,5kN", RN_MEASURE_FORCE, "a decimal comma is not read: write 1.5kN"},
	{"-0,2 m", RN_MEASURE_LENGTH, "a decimal comma is not read: write -0.2 m"},
	{"1,250.5 N", RN_MEASURE_FORCE,
	 "a comma is not read: decimals have a point, thousands nothing, 1250.5"},
	{"1,250,500 N", RN_MEASURE_FORCE,
	 "a comma is not read: decimals have a point, thousands nothing, 1250.5"},
	{"1, kN", RN_MEASURE_FORCE,
	 "a comma is not read: decimals have a point, thousands nothing, 1250.5"},
	{"12 kN, 3", RN_MEASURE_FORCE,
	 "a comma is not read: decimals have a point, thousands nothing, 1250.5"},
	{".5 m", RN_MEASURE_LENGTH, "a number begins with a figure: write 0.5, not .5"},
	{"-.5 m", RN_MEASURE_LENGTH,
	 "this does not begin with a number: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"1. m", RN_MEASURE_LENGTH, "a point needs a figure behind it: write 1 or 1.0, not 1."},
	{"1.e3 m", RN_MEASURE_LENGTH, "a point needs a figure behind it: write 1 or 1.0, not 1."},
	{"1e m", RN_MEASURE_LENGTH,
	 "a power of ten is written with a small e and figures, such as 1e3"},
	{"1e+ m", RN_MEASURE_LENGTH,
	 "a power of ten is written with a small e and figures, such as 1e3"},
	{"1E3 m", RN_MEASURE_LENGTH,
	 "a power of ten is written with a small e and figures, such as 1e3"},
	{"0x10 m", RN_MEASURE_LENGTH, "hexadecimal is not read: write the number in decimals"},
	{"0X10 m", RN_MEASURE_LENGTH, "hexadecimal is not read: write the number in decimals"},
	{"NaN", RN_MEASURE_RATIO,
	 "this does not begin with a number: a plain number is due, such as 0.25 or 15 %"},
	{"nan m", RN_MEASURE_LENGTH,
	 "this does not begin with a number: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"inf", RN_MEASURE_RATIO,
	 "this does not begin with a number: a plain number is due, such as 0.25 or 15 %"},
	{"-infinity N", RN_MEASURE_FORCE,
	 "this does not begin with a number: a force or weight is due, such as 12 kN, 320 kg or "
	 "450 lb"},
	{"--3 m", RN_MEASURE_LENGTH,
	 "this does not begin with a number: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"+ 3 m", RN_MEASURE_LENGTH,
	 "this does not begin with a number: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"\xEF\xBC\x91 m", RN_MEASURE_LENGTH, "the figures are not plain ones: type 0 to 9"},
	{"3\xC2\xA0m", RN_MEASURE_LENGTH, "the space before the unit is not a plain space"},
	{"3\xE2\x80\x89m", RN_MEASURE_LENGTH, "the space before the unit is not a plain space"},
	{"1e400 N", RN_MEASURE_FORCE, "the number is too large to work with"},
	{"1e308 km", RN_MEASURE_LENGTH, "the number is too large to work with"},
	{"1e-320 N", RN_MEASURE_FORCE, "the number is too small to work with"},
	{"1e-400 N", RN_MEASURE_FORCE, "the number is too small to work with"},
	{"3e-308 mm", RN_MEASURE_LENGTH, "the number is too small to work with"},
	{"2..3 kN", RN_MEASURE_FORCE, "one value is due, not a range"},
	{"2 kN..3 kN", RN_MEASURE_FORCE, "one value is due, not a range"},
	{"0.1..0.2", RN_MEASURE_RATIO, "one value is due, not a range"},
	{"3 m 5", RN_MEASURE_LENGTH,
	 "there is more than one quantity here: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"3 m 20 cm", RN_MEASURE_LENGTH,
	 "there is more than one quantity here: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"3 m!", RN_MEASURE_LENGTH, "the unit m! is not known; did you mean m?"},
	{"12 ft 6", RN_MEASURE_LENGTH, "behind feet stand inches below 12: write 12 ft 6 in"},
	{"12 ft 6 ft", RN_MEASURE_LENGTH, "behind feet stand inches below 12: write 12 ft 6 in"},
	{"12 ft 12 in", RN_MEASURE_LENGTH, "behind feet stand inches below 12: write 12 ft 6 in"},
	{"12.5 ft 6 in", RN_MEASURE_LENGTH, "feet before inches are whole: write 12 ft 6 in"},
	{"12 ft 6,5 in", RN_MEASURE_LENGTH, "a decimal comma is not read: write 6.5 in"},
	{"12 ft 6 inn", RN_MEASURE_LENGTH, "the unit inn is not known; did you mean in?"},
	{"12 ft 6 in 1", RN_MEASURE_LENGTH,
	 "there is more than one quantity here: a length is due, such as 3.5 m or 12 ft 6 in"},
	{"0.10000000000000000555111512312578270211815834045410156250000", RN_MEASURE_RATIO,
	 "a number has at most 60 characters"},
	{"3 abcdefghijklmnopqrstuvwxyz", RN_MEASURE_LENGTH,
	 "what stands behind the number is no unit: a length is due, such as 3.5 m or 12 ft 6 in"},
};

static void anything_else_is_refused_in_words(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof refused_rows / sizeof *refused_rows; i++) {
		rn_buffer why = make_buffer();
		double value;
		if (rn_quantity_read(refused_rows[i].text, refused_rows[i].measure, G, &value,
		                     &why))
			fail_msg("\"%s\" was read as %g", refused_rows[i].text, value);
		if (strcmp(text_of(&why), refused_rows[i].why) != 0)
			fail_msg("\"%s\": %s", refused_rows[i].text, text_of(&why));
		rn_buffer_release(&why);
	}
}

/* Every text of up to three characters out of those that matter: nothing but the grammar is read,
 * and every refusal says why. */
static void short_texts_follow_the_grammar(void **state)
{
	(void)state;
	static const char letters[] = " 01.,-+emx%'N\x80";
	const size_t count = sizeof letters; /* with the NUL */
	int read_count = 0;
	for (size_t k = 0; k < count * count * count; k++) {
		char text[4] = {letters[k % count], letters[k / count % count],
		                letters[k / count / count], '\0'};
		rn_buffer why = make_buffer();
		double value = nan("");
		bool good = rn_quantity_read(text, RN_MEASURE_LENGTH, G, &value, &why);
		size_t start = strspn(text, " "), unit = start + strspn(text + start, "+-01. ");
		if (good) {
			assert_true(isfinite(value));
			assert_true(text[unit] == 'm');
			assert_int_equal(why.size, 0);
			read_count++;
		} else
			assert_true(why.size > 0 && why.size < readable_size);
		rn_buffer_release(&why);
	}
	assert_int_equal(read_count,
	                 18); /* 0 and 1 m: alone, signed, doubled, with one space; mm */
}

/* ---- ranges -------------------------------------------------------------------------------- */

static const struct {
	const char *text;
	rn_measure measure;
	double low, high;
	const char *why; /* NULL: it is read */
} range_rows[] = {
	{"0.14..0.25", RN_MEASURE_RATIO, 0.14, 0.25, NULL},
	{"0.14 .. 0.25", RN_MEASURE_RATIO, 0.14, 0.25, NULL},
	{"1..2", RN_MEASURE_RATIO, 1, 2, NULL},
	{"1..1", RN_MEASURE_RATIO, 1, 1, NULL},
	{"2..3 kN", RN_MEASURE_FORCE, 2000, 3000, NULL},
	{"2 kN..3 kN", RN_MEASURE_FORCE, 2000, 3000, NULL},
	{"900 N .. 3 kN", RN_MEASURE_FORCE, 900, 3000, NULL},
	{"10..20 %", RN_MEASURE_RATIO, 0.1, 0.2, NULL},
	{"5 ft 6 in..6 ft", RN_MEASURE_LENGTH, 1.6764, 1.8288, NULL},
	{"3..2", RN_MEASURE_RATIO, 0, 0, "a range runs from the smaller to the larger value"},
	{"3 kN..200 N", RN_MEASURE_FORCE, 0, 0,
	 "a range runs from the smaller to the larger value"},
	{"3", RN_MEASURE_RATIO, 0, 0, "a range is due, such as 0.14..0.25"},
	{"3 kN", RN_MEASURE_FORCE, 0, 0, "a range is due, such as 0.14..0.25"},
	{"2 kN..3", RN_MEASURE_FORCE, 0, 0,
	 "there is no unit: a force or weight is due, such as 12 kN, 320 kg or 450 lb"},
	{"2..3", RN_MEASURE_FORCE, 0, 0,
	 "there is no unit: a force or weight is due, such as 12 kN, 320 kg or 450 lb"},
	{"2..3 m", RN_MEASURE_FORCE, 0, 0,
	 "this is a length where a force or weight is due, such as 12 kN, 320 kg or 450 lb"},
	{"1..2..3", RN_MEASURE_RATIO, 0, 0, "one value is due, not a range"},
	{"1...2", RN_MEASURE_RATIO, 0, 0, "a number begins with a figure: write 0.5, not .5"},
	{"1..", RN_MEASURE_RATIO, 0, 0,
	 "this is empty: a plain number is due, such as 0.25 or 15 %"},
	{"..2", RN_MEASURE_RATIO, 0, 0,
	 "this does not begin with a number: a plain number is due, such as 0.25 or 15 %"},
	{"1..2 3", RN_MEASURE_RATIO, 0, 0,
	 "there is more than one quantity here: a plain number is due, such as 0.25 or 15 %"},
};

static void ranges_are_read(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof range_rows / sizeof *range_rows; i++) {
		rn_buffer why = make_buffer();
		rn_range range = {-99, -99};
		bool good = rn_quantity_read_range(range_rows[i].text, range_rows[i].measure, G,
		                                   &range, &why);
		if (good != !range_rows[i].why ||
		    (!good && strcmp(text_of(&why), range_rows[i].why) != 0))
			fail_msg("\"%s\": %s", range_rows[i].text, text_of(&why));
		if (good) {
			rn_assert_near(range.low, range_rows[i].low, 1e-15, 0);
			rn_assert_near(range.high, range_rows[i].high, 1e-15, 0);
		}
		rn_buffer_release(&why);
	}
}

/* ---- directions and leans ------------------------------------------------------------------ */

static const char direction_due[] =
	"a direction is due, such as left, 30 deg, 30 deg left of down or 20 deg above right";

static const struct {
	const char *text;
	double angle_deg;
	const char *why; /* NULL: it is read */
} direction_rows[] = {
	{"right", 0, NULL},
	{"up", 90, NULL},
	{"left", 180, NULL},
	{"down", -90, NULL},
	{" down ", -90, NULL},
	{"30 deg", 30, NULL},
	{"30deg", 30, NULL},
	{"-30 deg", -30, NULL},
	{"180 deg", 180, NULL},
	{"-180 deg", 180, NULL},
	{"270 deg", -90, NULL},
	{"360 deg", 0, NULL},
	{"-360 deg", 0, NULL},
	{"0.5 rad", 0.5 * 180 / PI, NULL},
	{"30 deg left of down", -120, NULL},
	{"30 deg right of down", -60, NULL},
	{"30 deg left of up", 120, NULL},
	{"30 deg right of up", 60, NULL},
	{"90 deg left of down", 180, NULL},
	{"0 deg left of down", -90, NULL},
	{"37.2 deg  left  of  down ", -127.2, NULL},
	{"20 deg above right", 20, NULL},
	{"20 deg below right", -20, NULL},
	{"20 deg above left", 160, NULL},
	{"20 deg below left", -160, NULL},
	{"91 deg left of down", 0, "the angle off left, right, up or down is from 0 to 90 deg; this is 91 deg"},
	{"-1 deg left of down", 0, "the angle off left, right, up or down is from 0 to 90 deg; this is -1 deg"},
	{"361 deg", 0, "a direction is from -360 to 360 deg; this is 361 deg"},
	{"", 0, direction_due},
	{"north", 0, direction_due},
	{"Left", 0, direction_due},
	{"leftish", 0, direction_due},
	{"left of down", 0, direction_due},
	{"30 deg left", 0, direction_due},
	{"30 deg left down", 0, direction_due},
	{"30 deg of down", 0, direction_due},
	{"30 deg left of left", 0, direction_due},
	{"30 deg above up", 0, direction_due},
	{"30 deg left of down slope", 0, direction_due},
	{"30", 0, "there is no unit: an angle is due, such as 30 deg"},
	{"30 m", 0, "this is a length where an angle is due, such as 30 deg"},
	{"30 degrees", 0, "the unit degrees is not known; did you mean deg?"},
};

static void directions_are_read(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof direction_rows / sizeof *direction_rows; i++) {
		rn_buffer why = make_buffer();
		double angle = -99;
		bool good = rn_quantity_read_direction(direction_rows[i].text, &angle, &why);
		if (good != !direction_rows[i].why ||
		    (!good && strcmp(text_of(&why), direction_rows[i].why) != 0))
			fail_msg("\"%s\": %s", direction_rows[i].text, text_of(&why));
		if (good) {
			rn_assert_near(angle, direction_rows[i].angle_deg * PI / 180, 1e-15, 1e-15);
			assert_true(angle > -PI && angle <= PI);
		}
		rn_buffer_release(&why);
	}
}

static const char lean_bare[] = "which way it leans is not said: write 3 deg left or 3 deg right";

static const struct {
	const char *text;
	double angle_deg;
	const char *why; /* NULL: it is read */
} lean_rows[] = {
	{"3 deg left", -3, NULL},
	{"3 deg right", 3, NULL},
	{"3deg left", -3, NULL},
	{"0 deg left", 0, NULL},
	{"89 deg right", 89, NULL},
	{"3 deg", 0, lean_bare},
	{"0 deg", 0, lean_bare},
	{"3 deg up", 0, lean_bare},
	{"3 deg lefty", 0, lean_bare},
	{"3 deg left of up", 0, "a lean is due, such as 3 deg left"},
	{"-3 deg left", 0, "a lean is from 0 to below 90 deg, to the left or to the right; this is -3 deg"},
	{"90 deg left", 0, "a lean is from 0 to below 90 deg; this is 90 deg"},
	{"left", 0, "this does not begin with a number: an angle is due, such as 30 deg"},
	{"3 left", 0, "the unit left is not known: an angle is due, such as 30 deg"},
};

static void leans_are_read(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof lean_rows / sizeof *lean_rows; i++) {
		rn_buffer why = make_buffer();
		double angle = -99;
		bool good = rn_quantity_read_lean(lean_rows[i].text, &angle, &why);
		if (good != !lean_rows[i].why ||
		    (!good && strcmp(text_of(&why), lean_rows[i].why) != 0))
			fail_msg("\"%s\": %s", lean_rows[i].text, text_of(&why));
		if (good)
			rn_assert_near(angle, lean_rows[i].angle_deg * PI / 180, 1e-15, 0);
		rn_buffer_release(&why);
	}
}

/* ---- what is said when something is due can itself be read ----------------------------------- */

static void examples_can_be_copied(void **state)
{
	(void)state;
	for (int m = 0; m < RN_MEASURE_COUNT; m++) {
		char copy[100];
		snprintf(copy, sizeof copy, "%s", rn_measure_example((rn_measure)m));
		for (char *part = copy, *next; part; part = next) { /* "a, b or c" */
			next = strstr(part, " or ");
			char *comma = strchr(part, ',');
			if (comma && (!next || comma < next))
				next = comma;
			size_t skip = next == comma ? 2 : 4;
			if (next)
				*next = '\0';
			rn_buffer why = make_buffer();
			double value;
			if (!rn_quantity_read(part, (rn_measure)m, G, &value, &why))
				fail_msg("\"%s\": %s", part, text_of(&why));
			rn_buffer_release(&why);
			if (next)
				next += skip;
		}
	}
}

static void every_unit_is_listed(void **state)
{
	(void)state;
	rn_buffer list = make_buffer();
	rn_measure_units(RN_MEASURE_LENGTH, &list);
	assert_string_equal(text_of(&list), "m cm mm km ft in");
	rn_buffer_release(&list);
	rn_measure_units(RN_MEASURE_FORCE, &list);
	assert_string_equal(text_of(&list), "N kN MN lbf kip kg t lb");
	rn_buffer_release(&list);
}

/* ---- numbers, out and in --------------------------------------------------------------------- */

static void written_numbers_read_back(void **state)
{
	(void)state;
	static const double odd[] = {0,    1,       0.1,     1.0 / 3,      2.385,
	                             1e23, DBL_MAX, DBL_MIN, 123456789.125};
	support_random random = support_random_from(7);
	for (int i = 0; i < 20000; i++) {
		double value = i < 9 ? odd[i]
		                     : support_random_between(&random, -1, 1) *
		                               pow(10, support_random_between(&random, -30, 30));
		rn_buffer text = make_buffer(), why = make_buffer();
		double back;
		rn_buffer_exact(&text, value);
		if (!rn_quantity_read(text_of(&text), RN_MEASURE_RATIO, G, &back, &why))
			fail_msg("%s: %s", text_of(&text), text_of(&why));
		assert_true(back == value);
		rn_buffer_release(&text);
		rn_buffer_release(&why);
	}
}

static void numbers_are_written(void **state)
{
	(void)state;
	static const struct {
		double value;
		int digits; /* -1: exact */
		const char *text;
	} rows[] = {
		{0.1, -1, "0.1"},
		{1.0 / 3, -1, "0.3333333333333333"},
		{1e100, -1, "1e+100"},
		{5, -1, "5"},
		{-2.5, -1, "-2.5"},
		{0.30000000000000004, -1, "0.30000000000000004"},
		{3.14159, 2, "3.14"},
		{-0.001, 2, "0.00"},
		{-0.005001, 2, "-0.01"},
		{1234.5, 0, "1234"},
		{-HUGE_VAL, 2, "null"},
		{HUGE_VAL, -1, "null"},
		{2, 60, "2.0000000000000000000000000000000000000000"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_buffer text = make_buffer();
		if (rows[i].digits < 0)
			rn_buffer_exact(&text, rows[i].value);
		else
			rn_buffer_fixed(&text, rows[i].value, rows[i].digits);
		assert_string_equal(text_of(&text), rows[i].text);
		rn_buffer_release(&text);
	}
}

/* A host may have set a locale whose point is a comma. */
static void the_locale_does_not_matter(void **state)
{
	(void)state;
	static const char *const comma_locales[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "de_DE.utf8",
	                                            "de_DE"};
	bool set = false;
	for (size_t i = 0; i < sizeof comma_locales / sizeof *comma_locales && !set; i++)
		set = setlocale(LC_NUMERIC, comma_locales[i]) != NULL;
	if (!set)
		skip();
	char probe[16];
	snprintf(probe, sizeof probe, "%.1f", 0.5);
	assert_string_equal(probe, "0,5");
	quantities_are_read(state);
	anything_else_is_refused_in_words(state);
	written_numbers_read_back(state);
	numbers_are_written(state);
	setlocale(LC_NUMERIC, "C");
}

static void buffers_grow_and_fail(void **state)
{
	(void)state;
	for (long fail_at = 0; fail_at < 12; fail_at++) {
		support_memory memory = {.fail_at = fail_at};
		rn_allocator allocator = support_memory_allocator(&memory);
		rn_buffer buffer = rn_buffer_make(&allocator);
		for (int i = 0; i < 3000; i++)
			rn_buffer_format(&buffer, "%d,", i);
		rn_buffer_char(&buffer, '.');
		bool failing = fail_at > 0 && fail_at <= memory.call_count;
		assert_int_equal(rn_buffer_status(&buffer), failing ? RN_STATUS_MEMORY : RN_OK);
		if (!failing) {
			assert_int_equal(buffer.size, strlen(buffer.bytes));
			assert_string_equal(buffer.bytes + buffer.size - 11, "2998,2999,.");
		}
		rn_buffer_release(&buffer);
		assert_int_equal(memory.live_count, 0);
	}
}

/* ---- near misses ----------------------------------------------------------------------------- */

static void near_words_are_found(void **state)
{
	(void)state;
	static const struct {
		const char *word, *list, *best; /* NULL: none is near */
	} rows[] = {
		{"gaer", "id x y gear weight", "gear"},
		{"gear", "id x y gear weight", "gear"},
		{"GEAR", "id x y gear weight", "gear"},
		{"gears", "id x y gear weight", "gear"},
		{"ger", "id x y gear weight", "gear"},
		{"wieght", "id x y gear weight", "weight"},
		{"r1", "top ring1 log", "ring1"},
		{"ring1", "top r1 log", "r1"},
		{"rng", "top ring1 ring", "ring"},
		{"colour", "id x y gear weight", NULL},
		{"z", "id x y gear weight", NULL},
		{"", "id x y", NULL},
		{"rope", "", NULL},
		{"abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyz", "abc", NULL},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_near near = rn_near_begin(rows[i].word);
		rn_near_offer_list(&near, rows[i].list);
		if (!rows[i].best) {
			assert_null(near.best);
			assert_int_equal(rn_near_size(&near), 0);
			continue;
		}
		assert_non_null(near.best);
		assert_int_equal(rn_near_size(&near), strlen(rows[i].best));
		assert_memory_equal(near.best, rows[i].best, strlen(rows[i].best));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(quantities_are_read),
		cmocka_unit_test(masses_weigh_with_the_gravity_of_the_model),
		cmocka_unit_test(anything_else_is_refused_in_words),
		cmocka_unit_test(short_texts_follow_the_grammar),
		cmocka_unit_test(ranges_are_read),
		cmocka_unit_test(directions_are_read),
		cmocka_unit_test(leans_are_read),
		cmocka_unit_test(examples_can_be_copied),
		cmocka_unit_test(every_unit_is_listed),
		cmocka_unit_test(written_numbers_read_back),
		cmocka_unit_test(numbers_are_written),
		cmocka_unit_test(the_locale_does_not_matter),
		cmocka_unit_test(buffers_grow_and_fail),
		cmocka_unit_test(near_words_are_found),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
