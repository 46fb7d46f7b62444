/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers of a model and their ends as typed on a command line: what is read, and what is refused in which words;
 * every name that is offered leads back to its number.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "io/base/words.h"
#include "io/cli/bounds.h"
#include "tests/models.h"

static const double g = 9.80665;

/* Of models/floating-redirect.xml: log 320 kg, ring28 friction 0.20, r1 at x = 4.4 m. `times`: SI per unit. */
static const struct {
	const char *text, *name;
	double low, high, times;
} read_rows[] = {
	{"log.weight=280..400 kg", "log.weight", 280, 400, 9.80665},
	{"log.weight = 280 kg .. 400 kg", "log.weight", 280, 400, 9.80665},
	{"log.weight= 3 kN..4 kN", "log.weight", 3000, 4000, 1},
	{"log.weight=-10..+25 %", "log.weight", 320 * 0.9, 320 * 1.25, 9.80665},
	{"log.weight=0..+25 %", "log.weight", 320, 320 * 1.25, 9.80665},
	{"log.weight=+-10 %", "log.weight", 320 * 0.9, 320 * 1.1, 9.80665},
	{"log.weight=+-20 kg", "log.weight", 300, 340, 9.80665},
	{"r1.x=4.2..4.6 m", "r1.x", 4.2, 4.6, 1},
	{"r1.x=-0.5..+0.5 m", "r1.x", -0.5, 0.5, 1},
	{"r1.x=+-5 cm", "r1.x", 4.35, 4.45, 1},
	{"ring28.friction=0.1..0.3", "ring28.friction", 0.1, 0.3, 1},
	{"ring28.friction=10..30 %", "ring28.friction", 0.1, 0.3, 1},
	{"ring28.friction=-50..+50 %", "ring28.friction", 0.1, 0.3, 1},
	{"ring28.friction=+-0.05", "ring28.friction", 0.15, 0.25, 1},
	{"ring28.friction=+-5 %", "ring28.friction", 0.19, 0.21, 1},
	{"beech.section2.diameter=28..32 cm", "beech.section2.diameter", 0.28, 0.32, 1},
	{"long.reach=2.9..3.1 m", "long.reach", 2.9, 3.1, 1},
	{"ash.lean=1..3 deg", "ash.lean", 1, 3, 3.14159265358979323846 / 180},
};

static const struct {
	const char *text, *words;
} refused_rows[] = {
	{"log.weight", "such as log.weight=280..400 kg"},
	{"log.weight=280 kg", "a range is due"},
	{"log.weight=400..280 kg", "from the smaller to the larger"},
	{"log.weight=280..280 kg", "the two ends are the same"},
	{"log.weight=280..400", "there is no unit"},
	{"log.weight=280..400 m", "this is a length"},
	{"log.weight=10..25 %", "told by a sign"},
	{"log.weight=-120..+25 %", "weight cannot go from"},
	{"ring28.friction=-0.1..0.2", "friction cannot go from"},
	{"log.weight=+-0 kg", "more than 0"},
	{"log.weight=nan..400 kg", "does not begin with a number"},
	{"r1.x=-10..+10 %", "has no per cents"},
	{"r1.x=+-10 %", "has no per cents"},
	{"log.weigth=1..2 kg", "the model has no number log.weigth; did you mean log.weight?"},
	{"ring28.hardness=1..2", "it has "},
	{"=1..2 kg", "the model has no number"},
	{"x=1..2 kg", "the model has no number x"},
};

static rn_buffer empty(void)
{
	rn_allocator allocator = rn_allocator_default();
	return rn_buffer_make(&allocator);
}

static void test_read(void **state)
{
	(void)state;
	rn_document *document = models_read("floating-redirect.xml");
	for (size_t i = 0; i < sizeof read_rows / sizeof *read_rows; i++) {
		rn_buffer why = empty();
		rn_bounds bounds;
		bool read = rn_bounds_read(read_rows[i].text, document->model, &bounds, &why);
		assert_true(read);
		assert_int_equal(bounds.number, rn_model_number_by_name(document->model, read_rows[i].name));
		rn_assert_near(bounds.low, read_rows[i].low * read_rows[i].times, 1e-12, 1e-12);
		rn_assert_near(bounds.high, read_rows[i].high * read_rows[i].times, 1e-12, 1e-12);
		assert_int_equal(why.size, 0);
		rn_buffer_release(&why);
	}
	rn_document_destroy(document);
}

static void test_refused(void **state)
{
	(void)state;
	rn_document *document = models_read("floating-redirect.xml");
	for (size_t i = 0; i < sizeof refused_rows / sizeof *refused_rows; i++) {
		rn_buffer why = empty();
		rn_bounds bounds;
		assert_false(rn_bounds_read(refused_rows[i].text, document->model, &bounds, &why));
		if (!strstr(why.bytes ? why.bytes : "", refused_rows[i].words))
			fail_msg("%s: \"%s\" does not say \"%s\"", refused_rows[i].text, why.bytes, refused_rows[i].words);
		rn_buffer_release(&why);
	}
	rn_document_destroy(document);
}

/* A share is of what the piece weighs in the model, whatever its unit: a mass weighs by the model's gravity. */
static void test_weight_in_units(void **state)
{
	(void)state;
	rn_document *document = models_read("floating-redirect.xml");
	rn_buffer text = empty();
	rn_words_value_range(&text, document->model, RN_ATTRIBUTE_WEIGHT, 280 * g, 400 * g, RN_METRIC);
	assert_string_equal(text.bytes, "280 to 400 kg");
	text.size = 0;
	rn_words_value_range(&text, document->model, RN_ATTRIBUTE_X, 0.05, 0.25, RN_METRIC);
	assert_string_equal(text.bytes, "50.0 mm to 0.250 m");
	text.size = 0;
	rn_words_value_range(&text, document->model, RN_ATTRIBUTE_FRICTION, 0.14, 0.25, RN_US);
	assert_string_equal(text.bytes, "0.14 to 0.25");
	text.size = 0;
	/* what three figures do not tell apart has more */
	rn_words_value_range(&text, document->model, RN_ATTRIBUTE_Y, 10.48, 10.52, RN_METRIC);
	assert_string_equal(text.bytes, "10.48 to 10.52 m");
	text.size = 0;
	rn_words_value_range(&text, document->model, RN_ATTRIBUTE_WEIGHT, 300.1 * g, 300.4 * g, RN_METRIC);
	assert_string_equal(text.bytes, "300.1 to 300.4 kg");
	text.size = 0;
	rn_words_value_range(&text, document->model, RN_ATTRIBUTE_STRENGTH, 70010, 70040, RN_METRIC);
	assert_string_equal(text.bytes, "70.01 to 70.04 kN");
	rn_buffer_release(&text);
	rn_document_destroy(document);
}

/* Points of a curve and outer forces have no name to be asked for by. */
static bool has_no_name(rn_object object)
{
	return object.kind == RN_STRETCH || object.kind == RN_BEND || object.kind == RN_FORCE;
}

/* Names lead back to their numbers. */
static void test_names(void **state)
{
	(void)state;
	static const char *const models[] = {"floating-redirect.xml", "fern-house.xml", "weighed-log.xml", "choked-pair.xml",
	                                     "caught-log.xml"};
	for (size_t k = 0; k < sizeof models / sizeof *models; k++) {
		rn_document *document = models_read(models[k]);
		const rn_model *m = document->model;
		for (int i = 0; i < m->number_count; i++) {
			rn_buffer name = empty();
			if (rn_words_number_name(&name, m, i)) {
				assert_int_equal(rn_model_number_by_name(m, name.bytes), i);
			} else {
				assert_true(has_no_name(m->numbers[i].object));
				assert_int_equal(name.size, 0);
			}
			rn_buffer_release(&name);
		}
		rn_document_destroy(document);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_read),
		cmocka_unit_test(test_refused),
		cmocka_unit_test(test_weight_in_units),
		cmocka_unit_test(test_names),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
