/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How numbers and things are called in a sentence: units both ways, three figures, names of what has none of its own,
 * and reasons that are told apart.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "io/base/words.h"
#include "tests/models.h"

typedef struct said {
	rn_document *document;
	rn_model *model;
	rn_buffer text;
} said;

static said begin(void)
{
	rn_allocator allocator = rn_allocator_default();
	said s = {.text = rn_buffer_make(&allocator)};
	s.document = models_read_text(
		"<rigging xmlns='urn:funicle:rigging' format='1'><stem id='oak' x='0 m' y='0 m'>"
		"<section height='0 m' diameter='0.4 m'/>"
		"<section height='12 m' diameter='0.3 m'/></stem><stem id='limb' on='oak' height='6 m' lean='75 deg right'>"
		"<section height='0 m' diameter='0.2 m'/></stem><ring id='ra' x='1 m' y='8 m'/>"
		"<ring id='rb' x='2 m' y='8 m'/>"
		"<hand id='h' x='5 m' y='0 m'/><anchor id='a' x='2 m' y='12 m'/>"
		"<piece id='log' x='1 m' y='4 m' weight='100 kg' long='2 m'><cut at='0 m' diameter='20 cm'/>"
		"<cut at='2 m' diameter='18 cm'/></piece>"
		"<sling id='pair' on='oak' height='10 m'><end to='ra' side='right' reach='2 m'/>"
		"<end to='rb' side='right' reach='3 m'/></sling>"
		"<sling id='sa' from='a' to='rb' reach='4.1 m'/><line id='l'><tie at='log'/>"
		"<through at='ra' friction='0.2'/><hold at='h'/></line>"
		"<case id='gust'><force at='log' size='300 N' toward='30 deg left of down'/></case></rigging>");
	s.model = s.document->model;
	assert_non_null(s.model);
	return s;
}

static void end(said *s)
{
	rn_buffer_release(&s->text);
	rn_document_destroy(s->document);
}

static void expect(said *s, const char *text)
{
	assert_string_equal(s->text.bytes ? s->text.bytes : "", text);
	rn_buffer_release(&s->text);
}

/* By hand: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg, 1 lbf = 4.4482216 N, 1 psi = 6894.757 Pa, 1 lb/ft3 = 16.018463 kg/m3. */
static void test_values(void **state)
{
	(void)state;
	static const struct {
		rn_attribute attribute;
		double value;
		const char *metric, *us;
	} rows[] = {
		{RN_ATTRIBUTE_LENGTH, 3.048, "3.05 m", "10.00 ft"},
		{RN_ATTRIBUTE_TOWARD, 0.5235987755982988, "30 deg", "30 deg"},
		{RN_ATTRIBUTE_DENSITY, 801, "801 kg/m3", "50.0 lb/ft3"},
		{RN_ATTRIBUTE_COMPRESSION, 20e6, "20.0 MPa", "2900 psi"},
		{RN_ATTRIBUTE_WEIGHT, 980.665, "100 kg", "220 lb"},
		{RN_ATTRIBUTE_SIZE, 4448.2216, "4.45 kN", "1000 lbf"},
		{RN_ATTRIBUTE_FRICTION, 0.25, "0.25", "0.25"},
		{RN_ATTRIBUTE_GRAVITY, 9.80665, "9.81 m/s2", "32.2 ft/s2"},
	};
	said s = begin();
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (int us = 0; us < 2; us++) {
			rn_words_value(&s.text, s.model, rows[i].attribute, rows[i].value, us ? RN_US : RN_METRIC);
			expect(&s, us ? rows[i].us : rows[i].metric);
		}
	end(&s);
}

/* The unit once; with more figures where three do not tell the ends apart. */
static void test_ranges_of_values(void **state)
{
	(void)state;
	static const struct {
		rn_attribute attribute;
		double low, high;
		const char *metric, *us;
	} rows[] = {
		{RN_ATTRIBUTE_GRAVITY, 9.8066, 9.80665, "9.8066 to 9.80665 m/s2", NULL},
		{RN_ATTRIBUTE_LENGTH, 2, 3, "2.00 to 3.00 m", "6.56 to 9.84 ft"},
		{RN_ATTRIBUTE_LENGTH, 3.048, 3.0484, "3.048 to 3.0484 m", "10 to 10.0013 ft"},
		{RN_ATTRIBUTE_DENSITY, 801, 801.1, "801 to 801.1 kg/m3", NULL},
		{RN_ATTRIBUTE_COMPRESSION, 20e6, 20.001e6, "20 to 20.001 MPa", NULL},
		{RN_ATTRIBUTE_WEIGHT, 980.665, 980.674807, "100 to 100.001 kg", NULL},
		{RN_ATTRIBUTE_SIZE, 4448, 4448.1, "4.448 to 4.4481 kN", NULL},
		{RN_ATTRIBUTE_FRICTION, 0.2, 0.25, "0.2 to 0.25", "0.2 to 0.25"},
	};
	said s = begin();
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (int us = 0; us < (rows[i].us ? 2 : 1); us++) {
			rn_words_value_range(&s.text, s.model, rows[i].attribute, rows[i].low, rows[i].high, us ? RN_US : RN_METRIC);
			expect(&s, us ? rows[i].us : rows[i].metric);
		}
	end(&s);
}

static void test_things(void **state)
{
	(void)state;
	said s = begin();
	int pair = rn_model_object_by_id(s.model, "pair").index, sa = rn_model_object_by_id(s.model, "sa").index;
	const struct {
		rn_object object;
		const char *words, *kind;
	} rows[] = {
		{rn_object_of(RN_SECTION, 1), "section 2 of oak", "part"},
		{rn_object_of(RN_SECTION, 2), "section 1 of limb", "part"},
		{rn_object_of(RN_CUT, 1), "cut 2 of log", "part"},
		{rn_object_of(RN_LEG, s.model->slings[pair].first_leg + 1), "pair to rb", "sling"},
		{rn_object_of(RN_LEG, s.model->slings[sa].first_leg), "sa", "sling"},
		{rn_object_of(RN_STATION, 1), "l at ra", "part"},
		{rn_object_of(RN_FORCE, 0), "force at log", "part"},
		{rn_object_of(RN_RIGGING, 0), "the model", "part"},
		{rn_object_of(RN_NODE, RN_NONE), "nothing", "part"},
		{rn_model_object_by_id(s.model, "oak"), "oak", "stem"},
		{rn_model_object_by_id(s.model, "limb"), "limb", "branch"},
		{rn_model_object_by_id(s.model, "ra"), "ra", "ring"},
		{rn_model_object_by_id(s.model, "l"), "l", "rope"},
		{rn_model_object_by_id(s.model, "gust"), "gust", "case"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_words_object(&s.text, s.model, rows[i].object);
		expect(&s, rows[i].words);
		assert_string_equal(rn_words_kind(s.model, rows[i].object), rows[i].kind);
	}
	end(&s);
}

/* The name of a number, where it has one, leads back to it. */
static void test_names_lead_back(void **state)
{
	(void)state;
	said s = begin();
	int named = 0;
	for (int i = 0; i < s.model->number_count; i++) {
		bool has = rn_words_number_name(&s.text, s.model, i);
		assert_int_equal(has, s.text.size > 0);
		if (has)
			assert_int_equal(rn_model_number_by_name(s.model, s.text.bytes), i);
		named += has;
		rn_buffer_release(&s.text);
	}
	assert_true(named > 20);
	static const char *const names[] = {"oak.section2.diameter", "log.cut1.at", "pair.rb.reach", "sa.reach", "l.ra.friction",
	                                    "log.weight"};
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		int number = rn_model_number_by_name(s.model, names[i]);
		assert_true(number != RN_NONE);
		assert_true(rn_words_number_name(&s.text, s.model, number));
		expect(&s, names[i]);
	}
	end(&s);
}

/* Each has words of its own; what is not checked is not called anything good. */
static void test_reasons(void **state)
{
	(void)state;
	for (int i = RN_CHECKED; i <= RN_THICKNESS_UNKNOWN; i++) {
		const char *words = rn_words_unchecked((rn_unchecked)i);
		assert_true(strlen(words) > 3);
		assert_int_equal(strcmp(words, "checked") == 0, i == RN_CHECKED);
		assert_null(strstr(words, "safe"));
		for (int k = RN_CHECKED; k < i; k++)
			assert_string_not_equal(words, rn_words_unchecked((rn_unchecked)k));
	}
}

static void test_limits(void **state)
{
	(void)state;
	static const struct {
		rn_part_result part;
		const char *words;
	} rows[] = {
		{{.governed = RN_BY_STRENGTH, .strength = 70e3, .design_factor = 10}, "strength 70.0 kN / 10"},
		{{.governed = RN_BY_WORKING_LOAD, .working_load = 15e3}, "working load 15.0 kN"},
		{{.governed = RN_BY_CRUSHING, .strength = 45678, .design_factor = 5}, "crushed at 45.6 kN / 5"},
		{{.governed = RN_BY_BUCKLING, .strength = 45678, .design_factor = 5}, "buckles at 45.6 kN / 5"},
		{{.governed = RN_BY_NOTHING}, ""},
		{{.governed = RN_BY_STRENGTH, .strength = 70e3, .design_factor = 8, .factor_count = 2,
		  .factors = {{.kind = RN_FACTOR_BEND, .value = 0.77, .measure = 5}, {.kind = RN_FACTOR_WET, .value = 0.755}}},
		 "strength 70.0 kN x bend 0.77 (D/d 5.00) x wet 0.755 / 8"},
	};
	said s = begin();
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_words_limit(&s.text, &rows[i].part, RN_METRIC);
		expect(&s, rows[i].words);
	}
	end(&s);
}

static void test_which_way_beside(void **state)
{
	(void)state;
	static const struct {
		double way[2];
		const char *words;
	} rows[] = {{{0, 0}, "all round"},        {{0, 3}, "straight above"}, {{0.1, -3}, "straight below"},
	            {{3, 0.1}, "level right of"}, {{-3, 0}, "level left of"}};
	said s = begin();
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_words_beside(&s.text, rows[i].way);
		expect(&s, rows[i].words);
	}
	end(&s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_values),          cmocka_unit_test(test_ranges_of_values), cmocka_unit_test(test_things),
		cmocka_unit_test(test_names_lead_back), cmocka_unit_test(test_reasons),          cmocka_unit_test(test_limits),
		cmocka_unit_test(test_which_way_beside),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
