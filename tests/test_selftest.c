/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Questions that cannot be asked, values that do not agree: the self-test must say so.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "io/report/selftest.h"
#include "tests/models.h"

static rn_result *solved(rn_document **document_out)
{
	rn_options options = rn_options_default();
	rn_result *result;
	*document_out = models_read("one-redirect.xml");
	assert_int_equal(rn_solve((*document_out)->model, &options, &result), RN_OK);
	return result;
}

static void rows_are_read_and_others_passed_over(void **state)
{
	(void)state;
	const char *text = "# row | a | b | c | d\n\nA | x b1 | 1 m | abs 2 | by hand \r\nB | too | few\nC | a | b | c | d | many\n"
	                   "D|y b1|2|rel 1|last";
	rn_question q;
	assert_true(rn_question_next(&text, &q));
	assert_string_equal(q.row, "A");
	assert_string_equal(q.quantity, "x b1");
	assert_string_equal(q.source, "by hand");
	assert_true(rn_question_next(&text, &q));
	assert_string_equal(q.row, "D");
	assert_string_equal(q.tolerance, "rel 1");
	assert_string_equal(q.source, "last");
	assert_false(rn_question_next(&text, &q));
}

static void wrong_questions_are_refused(void **state)
{
	(void)state;
	static const char *const rows[] = {
		"r | | 1 | abs 1 | s",
		"r | weight log | 1 | abs 1 | s",
		"r | tension nobody 0 | 1 | abs 1 | s",
		"r | tension bull 99 | 1 | abs 1 | s",
		"r | tension bull | 1 | abs 1 | s",
		"r | tension bull zero | 1 | abs 1 | s",
		"r | bend bull 99 | 1 | abs 1 | s",
		"r | x bull | 1 | abs 1 | s",
		"r | pull nobody | 1 | abs 1 | s",
		"r | hand nobody least | 1 | abs 1 | s",
		"r | limit nobody | 1 | abs 1 | s",
		"r | peak | 1 | abs 1 | s",
		"r | tension bull 0 in nowhere | 1 | abs 1 | s",
		"r | tension bull 0 * tension bull 1 | 1 | abs 1 | s",
		"r | tension bull 0 0 0 | 1 | abs 1 | s",
		"r | tension bull 0 | one | abs 1 | s",
		"r | tension bull 0 | 1 stone | abs 1 | s",
		"r | tension bull 0 | 1 | abs | s",
		"r | tension bull 0 | 1 | abs nan | s",
		"r | a a a a a a a a a a a a a a a a a | 1 | abs 1 | s",
		"r | aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa | 1 | abs 1 | s",
	};
	rn_document *document;
	rn_result *result = solved(&document);
	rn_allocator allocator = rn_allocator_default();
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_buffer why = rn_buffer_make(&allocator);
		const char *text = rows[i];
		rn_question q;
		rn_reply reply;
		assert_true(rn_question_next(&text, &q));
		if (rn_question_ask(result, &q, &reply, &why) || reply.agrees || why.size == 0)
			fail_msg("not refused: %s", rows[i]);
		rn_buffer_release(&why);
	}
	rn_result_destroy(result);
	rn_document_destroy(document);
}

/* The same value twice, once with an expectation that it misses. */
static void what_differs_is_said(void **state)
{
	(void)state;
	rn_document *document;
	rn_result *result = solved(&document);
	rn_allocator allocator = rn_allocator_default();
	rn_buffer why = rn_buffer_make(&allocator), out = rn_buffer_make(&allocator);
	rn_asked_row rows[3] = {{.model = "m"}, {.model = "m"}, {.model = "m", .why = "it could not be read"}};
	const char *text = "r | tension bull 0 | 3.138128 kN | rel 1e-6 | weight of 320 kg\nr | tension bull 0 | 3.0 kN | abs 0.05 | s\n"
	                   "r | x b1 | 0 | abs 1 | s";
	for (int i = 0; i < 3; i++)
		assert_true(rn_question_next(&text, &rows[i].question));
	for (int i = 0; i < 2; i++)
		assert_true(rn_question_ask(result, &rows[i].question, &rows[i].reply, &why));
	assert_true(rows[0].reply.agrees);
	assert_false(rows[1].reply.agrees);
	rn_selftest found = {.rows = rows, .count = 1, .model_count = 1, .libraries = "l", .build = "b"};
	assert_int_equal(rn_selftest_text(&out, &found), RN_OK);
	assert_non_null(strstr(out.bytes, "1 of 1 values of 1 models agree."));
	assert_null(strstr(out.bytes, "DO NOT USE"));
	out.size = 0;
	found.count = 3;
	assert_int_equal(rn_selftest_agreeing(&found), 1);
	assert_int_equal(rn_selftest_text(&out, &found), RN_OK);
	assert_non_null(strstr(out.bytes, "1 of 3 values of 1 models agree. DO NOT USE THIS COPY"));
	assert_non_null(strstr(out.bytes, "DIFFERS: m, tension bull 0 is 3.138"));
	assert_non_null(strstr(out.bytes, "DIFFERS: m, x b1: it could not be read."));
	rn_buffer_release(&out);
	rn_buffer_release(&why);
	rn_result_destroy(result);
	rn_document_destroy(document);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rows_are_read_and_others_passed_over),
		cmocka_unit_test(wrong_questions_are_refused),
		cmocka_unit_test(what_differs_is_said),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
