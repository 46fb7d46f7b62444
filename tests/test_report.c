/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the text and the JSON say: rounding and directions, the three verdicts, what may be folded,
 * the size of the text, and that the JSON is the result and nothing else.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <jansson.h>

#include "io/report/check.h"
#include "io/report/csv.h"
#include "io/report/csv_stream.h"
#include "io/report/fold.h"
#include "io/report/json.h"
#include "io/report/json_stream.h"
#include "io/report/runs.h"
#include "io/report/text.h"
#include "io/report/verdict.h"
#include "tests/fern_house.h"
#include "tests/support.h"

static const double pi = 3.14159265358979323846;
static const double log_weight = 3138.128; /* 320 kg [N] */

static rn_buffer empty(void)
{
	rn_allocator a = rn_allocator_default();
	return rn_buffer_make(&a);
}

/* ---- quantities ------------------------------------------------------------------------------ */

static void expect_words(rn_buffer *words, const char *expected)
{
	assert_string_equal(words->bytes, expected);
	rn_buffer_release(words);
}

static void forces_are_rounded_to_their_side(void **state)
{
	(void)state;
	static const struct {
		double force;
		rn_rounding rounding;
		rn_units units;
		const char *expected;
	} rows[] = {
		{3138.128, RN_UP, RN_METRIC, "3.14 kN"},
		{3138.128, RN_DOWN, RN_METRIC, "3.13 kN"},
		{3134.9, RN_NEAREST, RN_METRIC, "3.13 kN"},
		{3135.1, RN_NEAREST, RN_METRIC, "3.14 kN"},
		{3140, RN_UP, RN_METRIC, "3.14 kN"},     /* 3.14 typed is not rounded up to 3.15 */
		{7e3, RN_DOWN, RN_METRIC, "7.00 kN"},
		{0.29 * 1e5, RN_DOWN, RN_METRIC, "29.0 kN"}, /* 28999.999999999996 */
		{3140.001, RN_UP, RN_METRIC, "3.15 kN"},
		{999.4, RN_UP, RN_METRIC, "1.00 kN"},    /* rounded first, then given its unit */
		{998.2, RN_UP, RN_METRIC, "999 N"},
		{94.31, RN_UP, RN_METRIC, "94.4 N"},
		{2.385, RN_UP, RN_METRIC, "2.39 N"},
		{0.0123, RN_UP, RN_METRIC, "0.0123 N"},
		{1e-4, RN_UP, RN_METRIC, "0 N"},
		{-2385, RN_UP, RN_METRIC, "-2.39 kN"},
		{123456, RN_UP, RN_METRIC, "124 kN"},
		{1234567, RN_UP, RN_METRIC, "1240 kN"},
		{3138.128, RN_UP, RN_US, "706 lbf"},
		{3138.128, RN_DOWN, RN_US, "705 lbf"},
		{4.4482216152605, RN_UP, RN_US, "1.00 lbf"},
		{HUGE_VAL, RN_UP, RN_METRIC, "? kN"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_buffer words = empty();
		rn_words_force(&words, rows[i].force, rows[i].rounding, rows[i].units);
		expect_words(&words, rows[i].expected);
	}
}

static void rounding_never_flatters(void **state)
{
	(void)state;
	support_random random = support_random_from(20260611);
	for (int i = 0; i < 4000; i++) {
		double force = pow(10, support_random_between(&random, -2, 7));
		for (int r = RN_UP; r <= RN_NEAREST; r++) {
			rn_buffer words = empty();
			rn_words_bare_force(&words, force, (rn_rounding)r, RN_METRIC);
			double read = strtod(words.bytes, NULL) * 1e3;
			rn_buffer_release(&words);
			assert_true(r != RN_UP || read >= force * (1 - 2e-9));
			assert_true(r != RN_DOWN || read <= force * (1 + 2e-9));
			rn_assert_near(read, force, 0.0101, 0);
		}
	}
}

static void lengths_choose_their_unit(void **state)
{
	(void)state;
	static const struct {
		double length;
		rn_units units;
		const char *expected;
	} rows[] = {
		{1.2341, RN_METRIC, "1.24 m"},  {0.515, RN_METRIC, "0.515 m"},
		{0.0996, RN_METRIC, "99.6 mm"}, {0.09999, RN_METRIC, "0.100 m"},
		{0.0043, RN_METRIC, "4.30 mm"}, {1e-5, RN_METRIC, "0 mm"},
		{31.62, RN_METRIC, "31.7 m"},   {3.048, RN_US, "10.00 ft"},
		{1.0, RN_US, "3.29 ft"},        {0.3047, RN_US, "1.00 ft"},
		{0.1, RN_US, "3.94 in"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_buffer words = empty();
		rn_words_length(&words, rows[i].length, RN_UP, rows[i].units);
		expect_words(&words, rows[i].expected);
	}
}

static void per_cents_over_never_read_100(void **state)
{
	(void)state;
	static const struct {
		double ratio;
		const char *expected;
	} rows[] = {
		{0.8411, "84.2 %"},   {0.0904, "9.04 %"},  {1, "100 %"},
		{1 + 1e-12, "101 %"}, {1 + 1e-9, "101 %"}, {1.0001, "101 %"},
		{0.9996, "100 %"},    {0, "0 %"},          {1.626, "163 %"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_buffer words = empty();
		rn_words_percent(&words, rows[i].ratio);
		expect_words(&words, rows[i].expected);
	}
}

static void other_words(void **state)
{
	(void)state;
	rn_buffer words = empty();
	rn_words_weight(&words, log_weight, 9.80665, RN_METRIC);
	expect_words(&words, "320 kg (3.14 kN)");
	rn_words_weight(&words, log_weight, 9.80665, RN_US);
	expect_words(&words, "706 lb (706 lbf)");
	rn_words_weight(&words, 100 * 9.81, 9.81, RN_METRIC);
	expect_words(&words, "100 kg (981 N)");
	rn_words_force_range(&words, 4.9335, 250.39, RN_METRIC);
	expect_words(&words, "4.94 to 251 N");
	rn_words_force_range(&words, 250.39, 2503.9, RN_METRIC);
	expect_words(&words, "251 N to 2.51 kN");
	rn_words_force_range(&words, 32.01, 32.02, RN_METRIC);
	expect_words(&words, "32.1 N");
	rn_words_number(&words, 0.14);
	expect_words(&words, "0.14");
	rn_words_number(&words, -2.5);
	expect_words(&words, "-2.5");
	rn_words_number(&words, 0.1 + 0.2);
	expect_words(&words, "0.3");
	rn_words_number(&words, 12000);
	expect_words(&words, "12000");
	rn_words_angle(&words, 3.4906585);
	expect_words(&words, "200 deg");
}

/* ---- directions ------------------------------------------------------------------------------ */

static void directions_can_be_pointed(void **state)
{
	(void)state;
	static const struct {
		double degrees; /* anticlockwise from the right */
		const char *full, *side, *beside;
	} rows[] = {
		{-90, "straight down", "straight down", "straight below"},
		{90, "straight up", "straight up", "straight above"},
		{0, "level to the right", "level to the right", "level right of"},
		{180, "level to the left", "level to the left", "level left of"},
		{-59, "down and right, 31 deg off plumb", "down and right", "down and right of"},
		{102, "up and left, 12 deg off plumb", "up and left", "up and left of"},
		{-150, "down and left, 60 deg off plumb", "down and left", "down and left of"},
		{44.6, "up and right, 45 deg off plumb", "up and right", "up and right of"},
		{-90.4, "straight down", "straight down", "straight below"},
		{-90.6, "down and left, 1 deg off plumb", "down and left", "straight below"},
		{179.7, "level to the left", "level to the left", "level left of"},
		{-5, "down and right, 85 deg off plumb", "down and right", "level right of"},
		{-105, "down and left, 15 deg off plumb", "down and left", "down and left of"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double a = rows[i].degrees * pi / 180, vector[2] = {2.385 * cos(a), 2.385 * sin(a)};
		rn_buffer words = empty();
		rn_words_direction(&words, vector, RN_POINT_FULL);
		expect_words(&words, rows[i].full);
		rn_words_direction(&words, vector, RN_POINT_SIDE);
		expect_words(&words, rows[i].side);
		rn_words_beside(&words, vector);
		expect_words(&words, rows[i].beside);
	}
}

/* ---- user text ------------------------------------------------------------------------------- */

static void hostile_text_is_made_plain(void **state)
{
	(void)state;
	static const struct {
		const char *text, *expected;
	} rows[] = {
		{"beech", "beech"},
		{"a\tb\nc\033[31m", "a?b?c?[31m"},
		{"gr\xC3\xBC\xC3\x9F dich", "gr\xC3\xBC\xC3\x9F dich"},
		{"\xE2\x80\xAE" "evil", "?evil"},      /* turns the reading direction */
		{"\xC0\xAF", "??"},                     /* overlong */
		{"\xED\xA0\x80", "?"},                  /* half a surrogate pair */
		{"cut\xE2\x82", "cut?"},                /* ends within a character */
		{"\xF0\x9F\x8C\xB3", "\xF0\x9F\x8C\xB3"},
		{"\xF5\x80", "??"},
		{"", NULL},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_buffer words = empty();
		rn_words_plain(&words, rows[i].text);
		if (rows[i].expected)
			assert_string_equal(words.bytes, rows[i].expected);
		else
			assert_int_equal(words.size, 0);
		rn_buffer_release(&words);
	}
}

/* ---- a job to write about -------------------------------------------------------------------- */

typedef struct job {
	fern_house house;
	rn_result *result;
} job;

static job job_make(double weight, double design_factor)
{
	rn_allocator a = rn_allocator_default();
	job j = {.house = fern_house_make(&a, weight, design_factor)};
	j.result = fern_house_solve(&j.house, &a);
	return j;
}

static void job_end(job *j)
{
	rn_result_destroy(j->result);
	rn_model_destroy(j->house.model);
}

/* As if every tree had been rated. */
static void rate_everything(rn_result *result)
{
	for (int c = 0; c < result->case_count; c++)
		for (int p = 0; p < result->cases[c].part_count; p++) {
			rn_part_result *part = &result->cases[c].parts[p];
			if (part->unchecked == RN_CHECKED)
				continue;
			part->unchecked = RN_CHECKED;
			part->working_load = part->limit = 40e3;
			part->utilisation = part->demand / part->limit;
			part->governed = RN_BY_WORKING_LOAD;
		}
	result->verdict.not_checked = false;
	result->verdict.not_checked_count = 0;
	result->verdict.checked_count = result->cases[0].part_count;
	result->verdict.exit_class = result->verdict.over ? 1 : 0;
}

static char *text_of(const rn_result *result, rn_units units)
{
	rn_buffer out = empty();
	assert_int_equal(rn_text_write(&out, result, units, NULL), RN_OK);
	return out.bytes;
}

static bool has(const char *text, const char *words)
{
	return strstr(text, words) != NULL;
}

static int line_count(const char *text)
{
	int count = 0;
	for (; *text; text++)
		count += *text == '\n';
	return count;
}

static int widest_line(const char *text)
{
	int widest = 0, columns = 0;
	for (; *text; text++) {
		columns = *text == '\n' ? 0 : columns + (((unsigned char)*text & 0xC0) != 0x80);
		widest = columns > widest ? columns : widest;
	}
	return widest;
}

/* ---- models from files ----------------------------------------------------------------------- */

static rn_status fetch_store(void *context, const char *href, char **bytes_out, size_t *size_out,
                             const char **reason_out)
{
	char path[512];
	(void)context;
	snprintf(path, sizeof path, "%s/%s", RN_MODELS_DIR, href);
	FILE *file = fopen(path, "rb");
	*reason_out = "it cannot be opened";
	if (!file)
		return RN_STATUS_INPUT;
	enum { ROOM = 1 << 16 };
	*bytes_out = malloc(ROOM);
	*size_out = *bytes_out ? fread(*bytes_out, 1, ROOM, file) : 0;
	fclose(file);
	return *bytes_out ? RN_OK : RN_STATUS_MEMORY;
}

static rn_document *model_document(const char *name)
{
	rn_allocator a = rn_allocator_default();
	rn_fetch fetch = {fetch_store, NULL};
	char file[64], *bytes = NULL;
	size_t size = 0;
	const char *reason;
	rn_document *document = NULL;
	snprintf(file, sizeof file, "%s.xml", name);
	assert_int_equal(fetch_store(NULL, file, &bytes, &size, &reason), RN_OK);
	assert_int_equal(rn_document_read(&a, file, bytes, size, &fetch, &document), RN_OK);
	free(bytes);
	return document;
}

/* ---- verdicts -------------------------------------------------------------------------------- */

static char *sentence_of(const rn_result *result)
{
	rn_buffer out = empty();
	rn_verdict_sentence(&out, result, RN_METRIC);
	return out.bytes;
}

static void expect_sentence(const rn_result *result, const char *expected)
{
	char *sentence = sentence_of(result);
	assert_string_equal(sentence, expected);
	free(sentence);
}

static void verdict_not_checked(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	expect_sentence(j.result,
	                "NOT CHECKED: stem beech and stem ash (wood not known); bollard post (no rating)");
	job_end(&j);
	j = job_make(log_weight, 0);
	char *sentence = sentence_of(j.result);
	assert_true(has(sentence,
	                "NOT CHECKED: rope bull, sling s1 and sling s2 (no design factor); "));
	free(sentence);
	job_end(&j);
}

static void verdict_none_over(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rate_everything(j.result);
	expect_sentence(j.result, "NONE OVER ITS LIMIT (10 checked, 0 not checked)");
	job_end(&j);
}

static void verdict_over(void **state)
{
	(void)state;
	job j = job_make(3000, 20);
	char *sentence = sentence_of(j.result);
	assert_true(j.result->verdict.over);
	assert_int_equal(strncmp(sentence, "OVER ITS LIMIT: sling s1 163 %, rope bull ", 42), 0);
	assert_true(has(sentence, "% in raising"));
	free(sentence);
	job_end(&j);
}

/* The verdict is taken before rounding: a hair over is over, and reads as over. */
static void verdict_at_the_limit(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rate_everything(j.result);
	rn_verdict *v = &j.result->verdict;
	rn_part_result *worst = &j.result->cases[v->worst_case].parts[v->worst_part];
	worst->demand = worst->limit * (1 + 1e-13);
	worst->utilisation = 1 + 1e-13;
	v->over = true;
	v->over_count = 1;
	expect_sentence(j.result, "OVER ITS LIMIT: sling s1 101 % in raising");
	worst->demand = worst->limit;
	worst->utilisation = 1;
	v->over = false;
	expect_sentence(j.result, "NONE OVER ITS LIMIT (10 checked, 0 not checked)");
	char *text = text_of(j.result, RN_METRIC);
	assert_true(has(text, "100 % of 7.50"));
	assert_false(has(text, "100 % of 7.50 OVER"));
	free(text);
	job_end(&j);
}

/* Were the counts of a result ever to forget a part, the sentence would not. */
static void the_harder_verdict_counts(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	j.result->verdict.not_checked = false;
	j.result->verdict.not_checked_count = 0;
	expect_sentence(j.result,
	                "NOT CHECKED: stem beech and stem ash (wood not known); bollard post (no rating)");
	rate_everything(j.result);
	j.result->cases[0].parts[0].utilisation = 1.2;
	expect_sentence(j.result, "OVER ITS LIMIT: rope bull 120 % in lowering");
	job_end(&j);
}

/* A picture that was kept has an answer like a rig that settled. */
static void a_kept_picture_is_an_answer(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	for (int c = 0; c < j.result->case_count; c++)
		j.result->cases[c].outcome = RN_OUTCOME_KEPT;
	char *sentence = sentence_of(j.result), *text = text_of(j.result, RN_METRIC);
	assert_int_equal(strncmp(sentence, "NOT CHECKED: stem beech", 23), 0);
	assert_true(has(text, "down and right, 31 deg"));
	free(sentence);
	free(text);
	job_end(&j);
}

/* A case without an answer has no numbers in any output, only what happens. */
static void verdict_without_equilibrium(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rn_note falls = {.kind = RN_NOTE_NOTHING_HOLDS_ROPE,
	                 .a = rn_object_of(RN_NODE, j.house.log),
	                 .b = rn_object_of(RN_LINE, j.house.bull),
	                 .c = rn_object_of(RN_NODE, j.house.b1)};
	for (int c = 0; c < j.result->case_count; c++) {
		j.result->cases[c].outcome = RN_OUTCOME_NO_EQUILIBRIUM;
		j.result->cases[c].notes = (rn_notes){&falls, 1};
	}
	j.result->verdict = (rn_verdict){
		.worst_case = RN_NONE, .worst_part = RN_NONE, .exit_class = 4};
	char *sentence = sentence_of(j.result), *text = text_of(j.result, RN_METRIC);
	assert_int_equal(strncmp(sentence, "NOT CHECKED: nothing holds ", 27), 0);
	assert_true(has(sentence,
	                "it would come down until the end of bull meets b1 (lowering, raising)"));
	assert_false(has(text, "5.21"));
	assert_false(has(text, "Closest"));
	free(sentence);
	free(text);
	rn_buffer out = empty();
	assert_int_equal(rn_json_write(&out, j.result, NULL), RN_OK);
	json_t *root = json_loads(out.bytes, 0, NULL);
	json_t *first = json_array_get(json_object_get(root, "cases"), 0);
	assert_int_equal(json_array_size(json_object_get(first, "spans")), 0);
	assert_int_equal(json_array_size(json_object_get(first, "parts")), 0);
	assert_int_equal(json_array_size(json_object_get(first, "anchors")), 0);
	assert_string_equal(json_string_value(json_object_get(first, "outcome")), "no-equilibrium");
	json_decref(root);
	rn_buffer_release(&out);
	for (int c = 0; c < j.result->case_count; c++)
		j.result->cases[c].notes = (rn_notes){0};
	job_end(&j);
}

static void verdict_of_a_piece_that_falls(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rate_everything(j.result);
	rn_note falls = {.kind = RN_NOTE_FALLS_FIRST,
	                 .a = rn_object_of(RN_NODE, j.house.log),
	                 .b = rn_object_of(RN_NODE, RN_NONE),
	                 .c = rn_object_of(RN_NODE, RN_NONE),
	                 .value = {1.8961}};
	j.result->cases[0].falls = true;
	j.result->cases[0].notes = (rn_notes){&falls, 1};
	j.result->verdict.not_checked = true;
	char *sentence = sentence_of(j.result);
	assert_int_equal(strncmp(sentence, "NOT CHECKED: log falls 1.90 m ", 30), 0);
	assert_true(has(sentence, "use funicle fall (lowering)"));
	free(sentence);
	j.result->cases[0].notes = (rn_notes){0};
	job_end(&j);
}

static void a_balance_that_does_not_close_is_no_verdict(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rate_everything(j.result);
	j.result->cases[1].balance.closed = false;
	j.result->cases[1].balance.worst = 12.341;
	j.result->cases[1].balance.worst_node = j.house.r1;
	char *sentence = sentence_of(j.result), *text = text_of(j.result, RN_METRIC);
	assert_int_equal(strncmp(sentence, "NOT CHECKED: ", 13), 0);
	assert_true(has(text, "DOES NOT CLOSE in raising: 12.4 N is left over at r1"));
	free(sentence);
	free(text);
	job_end(&j);
}

/* ---- notes ----------------------------------------------------------------------------------- */

static void every_note_reads(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	for (int kind = 0; kind < RN_NOTE_COUNT; kind++)
		for (int units = RN_METRIC; units <= RN_US; units++) {
			rn_note note = {.kind = (rn_note_kind)kind,
			                .a = rn_object_of(RN_NODE, j.house.log),
			                .b = rn_object_of(RN_LINE, j.house.bull),
			                .c = rn_object_of(RN_NODE, j.house.b1),
			                .word = "turns",
			                .value = {0.385, 0.51}};
			rn_buffer words = empty();
			rn_words_note(&words, j.house.model, &note, (rn_units)units);
			assert_true(words.size > 5);
			bool asks = rn_note_severity(note.kind) == RN_DOUBT;
			assert_null(strpbrk(words.bytes, asks ? "{}" : "{}?"));
			assert_true(!asks || strchr(words.bytes, '?'));
			rn_buffer_release(&words);
		}
	job_end(&j);
}

static void nameless_things_get_a_phrase(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	static const struct {
		rn_object_kind kind;
		int index;
		const char *expected;
	} rows[] = {
		{RN_STATION, 2, "bull at r1"},       {RN_SECTION, 1, "section 2 of beech"},
		{RN_SECTION, 2, "section 1 of ash"}, {RN_LEG, 1, "s2"},
		{RN_RIGGING, 0, "the model"},        {RN_NODE, RN_NONE, "nothing"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_buffer words = empty();
		rn_words_object(&words, j.house.model, rn_object_of(rows[i].kind, rows[i].index));
		expect_words(&words, rows[i].expected);
	}
	job_end(&j);
}

static void densities_and_masses_read(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rn_object log = rn_object_of(RN_NODE, j.house.log);
	static const struct {
		rn_note_kind kind;
		double values[2];
		rn_units units;
		const char *expected;
	} rows[] = {
		{RN_NOTE_GUESS_DENSITY, {888, 0}, RN_METRIC, "density of log: 888 kg/m3 (oak)"},
		{RN_NOTE_GUESS_DENSITY, {888, 0}, RN_US, "density of log: 55.4 lb/ft3 (oak)"},
		/* masses are rounded up: 411.01 and 370.6 kg */
		{RN_NOTE_GUESS_TIMBER, {411.01 * 9.80665, 370.6 * 9.80665}, RN_METRIC,
	         "weight of log: 412 kg at most, 371 kg by its middle figures (oak)"},
		{RN_NOTE_GUESS_TIMBER, {411.4 * 9.80665, 370.6 * 9.80665}, RN_US,
	         "weight of log: 907 lb at most, 818 lb by its middle figures (oak)"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_buffer words = empty();
		rn_note note = {.kind = rows[i].kind, .a = log, .word = "oak",
		                .value = {rows[i].values[0], rows[i].values[1]}};
		rn_words_note(&words, j.house.model, &note, rows[i].units);
		expect_words(&words, rows[i].expected);
	}
	job_end(&j);
}

/* A log of red oak: 5 m, 29 and 25 cm, bark off (check values LV-9: 294.258 kg, LV-7: 2.3767686 m). */
static void a_weighed_piece_says_both_figures(void **state)
{
	(void)state;
	rn_model *m;
	rn_result *result;
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int top = build_node(m, "top", RN_NODE_ANCHOR, 0, 9, 0);
	int log = build_node(m, "log", RN_NODE_PIECE, 0, 4, 0);
	build_sling(m, "leg", top, log, 1e6, 0);
	rn_object piece = rn_object_of(RN_NODE, log);
	rn_timber timber = {.piece = piece, .species = "northern red oak", .barked = true};
	rn_number weight = {.object = piece, .attribute = RN_ATTRIBUTE_WEIGHT, .origin = RN_COMPUTED};
	assert_int_equal(rn_model_add_timber(m, &timber, NULL), RN_OK);
	for (int k = 0; k < 2; k++) {
		rn_cut cut = {.timber = 0};
		assert_int_equal(rn_model_add_cut(m, &cut, NULL), RN_OK);
		build_number(m, rn_object_of(RN_CUT, k), RN_ATTRIBUTE_AT, k ? 5 : 0);
		build_number(m, rn_object_of(RN_CUT, k), RN_ATTRIBUTE_DIAMETER, k ? 0.25 : 0.29);
	}
	build_number(m, piece, RN_ATTRIBUTE_LONG, 5);
	assert_int_equal(rn_model_set_number(m, &weight), RN_OK);
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	char *metric = text_of(result, RN_METRIC), *us = text_of(result, RN_US);
	char flat[512] = "";
	for (size_t i = 0, n = 0; metric[i] && n + 1 < sizeof flat; i++) /* lines are folded */
		if (!(metric[i] == '\n' && metric[i + 1] == ' '))
			flat[n++] = metric[i];
		else
			i++;
	assert_true(has(flat, "Carried: log 296 kg (2.90 kN) at most, 295 kg in the middle, centre of mass 2.38 m"));
	assert_true(has(us, "Carried: log 652 lb (652 lbf) at most, 649 lb in the middle"));
	free(metric);
	free(us);
	rn_result_destroy(result);
	rn_model_destroy(m);
}

static void guesses_alike_are_said_once(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	rn_note items[4];
	const int nodes[4] = {j.house.b1, j.house.r1, j.house.b1, j.house.log};
	for (int i = 0; i < 4; i++)
		items[i] = (rn_note){
			.kind = RN_NOTE_GUESS_TREAD, .a = rn_object_of(RN_NODE, nodes[i]), .b = none, .c = none};
	rn_notes notes = {items, 4};
	rn_buffer words = empty();
	rn_words_notes(&words, j.house.model, &notes, RN_METRIC);
	expect_words(&words, "tread of b1, r1 and log: taken as a point");
	job_end(&j);
}

/* ---- the text -------------------------------------------------------------------------------- */

static const char *const forbidden[] = {"safe", "Safe", "SAFE", "OK", "pass ", "passes", "approved",
                                        "within limits", "nan", "inf ", "{", "}", NULL};

static void text_is_short_and_narrow(void **state)
{
	(void)state;
	static const struct {
		double weight, factor;
		int lines; /* ten parts and two places on stems; one more for each sentence about parts that
		              are not checked */
	} jobs[] = {{3138.128, 10, 34}, {3000, 20, 35}, {5000, 0, 35}, {19000, 7, 36}};
	for (size_t i = 0; i < sizeof jobs / sizeof *jobs; i++)
		for (int units = RN_METRIC; units <= RN_US; units++) {
			job j = job_make(jobs[i].weight, jobs[i].factor);
			assert_int_equal(j.result->cases[0].part_count, 10);
			assert_int_equal(j.result->case_count, 2);
			char *text = text_of(j.result, (rn_units)units);
			if (line_count(text) > jobs[i].lines)
				fail_msg("%d lines, not %d:\n%s", (int)line_count(text), jobs[i].lines, text);
			assert_true(widest_line(text) <= 90);
			assert_false(has(text, "~"));
			for (int k = 0; forbidden[k]; k++)
				assert_false(has(text, forbidden[k]));
			free(text);
			job_end(&j);
		}
}

static void text_says_everything(void **state)
{
	(void)state;
	static const char *const wanted[] = {"* Closest: sling s1 at top",
	                                     "Not looked at:",
	                                     "one upright plane",
	                                     "lowering",
	                                     "raising",
	                                     "bull",
	                                     "b1 to r1",
	                                     "s2",
	                                     "ring",
	                                     "block",
	                                     "connector at b1",
	                                     "down and right, 31 deg",
	                                     "by hand",
	                                     "2.5 turns",
	                                     "no turns",
	                                     "moves",
	                                     "Guessed: ",
	                                     "Stand clear down and right of b1",
	                                     "Balance: pulls cancel to 0.001 N.",
	                                     "wind, decay.",
	                                     "log     moves, by stretch    0.385 to 0.442 m",
	                                     "Cautions: ",
	                                     "320 kg (3.14 kN)",
	                                     "anchor on beech",
	                                     "between planes",
	                                     "come first",
	                                     "*6.37",
	                                     NULL};
	job j = job_make(log_weight, 10);
	char *text = text_of(j.result, RN_METRIC);
	char *sentence = sentence_of(j.result);
	assert_int_equal(strncmp(text, sentence, strlen(sentence)), 0);
	for (int i = 0; wanted[i]; i++)
		if (!has(text, wanted[i]))
			fail_msg("\"%s\" is missing in:\n%s", wanted[i], text);
	free(text);
	free(sentence);
	job_end(&j);
}

/* Every tension, demand and pull of the result stands in the text, rounded up. */
static void text_holds_the_result(void **state)
{
	(void)state;
	job j = job_make(2749.3, 10);
	char *text = text_of(j.result, RN_METRIC);
	for (int c = 0; c < j.result->case_count; c++) {
		const rn_case_result *r = &j.result->cases[c];
		for (int i = 0; i < r->span_count + r->part_count; i++) {
			double force = i < r->span_count ? r->spans[i].tension
			                                 : r->parts[i - r->span_count].demand;
			if (i >= r->span_count && r->parts[i - r->span_count].object.kind == RN_STEM)
				continue; /* told by its stress */
			rn_buffer words = empty();
			rn_words_bare_force(&words, force, RN_UP, RN_METRIC);
			if (!has(text, words.bytes))
				fail_msg("%s is missing in:\n%s", words.bytes, text);
			rn_buffer_release(&words);
		}
	}
	free(text);
	job_end(&j);
}

/* The four steps by which a heavier and an outer case come in, and a hostile title. */
static void text_of_written_cases(void **state)
{
	(void)state;
	rn_allocator a = rn_allocator_default();
	fern_house f = fern_house_start(&a, log_weight, 10);
	rn_case gust = {.id = "gust", .level = RN_FRICTION_NOMINAL};
	rn_force force = {.node = f.log};
	int index;
	if (rn_model_set_title(f.model, "<script>\033[2J\xE2\x80\xAE") != RN_OK ||
	    rn_model_add_case(f.model, &gust, &index) != RN_OK)
		abort();
	rn_setting heavier = {
		rn_model_number_by_name(f.model, "log.weight"), 4000};
	if (rn_model_add_setting(f.model, index, &heavier) != RN_OK)
		abort();
	force.case_index = index;
	if (rn_model_add_force(f.model, &force, &index) != RN_OK)
		abort();
	build_number(f.model, rn_object_of(RN_FORCE, index), RN_ATTRIBUTE_SIZE, 300);
	build_number(f.model, rn_object_of(RN_FORCE, index), RN_ATTRIBUTE_TOWARD, pi);
	assert_int_equal(rn_model_check(f.model), RN_OK);
	rn_result *result = fern_house_solve(&f, &a);
	char *text = text_of(result, RN_METRIC);
	assert_true(has(text, "<script>?[2J?"));
	assert_null(strchr(text, '\033'));
	assert_true(has(text, "408 kg (4.00 kN)"));
	assert_true(has(text, "level to the left"));
	assert_true(widest_line(text) <= 90);
	free(text);
	rn_result_destroy(result);
	rn_model_destroy(f.model);
}

static void random_nets_keep_to_the_columns(void **state)
{
	(void)state;
	support_random random = support_random_from(4711);
	rn_allocator a = rn_allocator_default();
	for (int i = 0; i < 30; i++) {
		net_data net = net_random(&random, (net_random_options){.treads = i % 2,
		                                                        .friction = i % 3 > 0,
		                                                        .pulls = i % 5 == 0,
		                                                        .free_least = 1,
		                                                        .free_most = 4});
		rn_model *model = net_model(&net, &a);
		rn_options options = rn_options_default();
		rn_result *result = NULL;
		if (!model)
			continue;
		assert_int_equal(rn_solve(model, &options, &result), RN_OK);
		for (int units = RN_METRIC; units <= RN_US; units++) {
			char *text = text_of(result, (rn_units)units);
			assert_true(widest_line(text) <= 90);
			assert_false(has(text, "nan"));
			free(text);
		}
		rn_result_destroy(result);
		rn_model_destroy(model);
	}
}

/* ---- folding --------------------------------------------------------------------------------- */

/* Makes case 0 a copy of case 1 with all forces a little larger. */
static void copy_with(rn_result *result, double factor)
{
	const rn_case_result *from = &result->cases[1];
	rn_case_result *to = &result->cases[0];
	for (int i = 0; i < from->span_count; i++) {
		to->spans[i] = from->spans[i];
		to->spans[i].tension *= factor;
	}
	for (int i = 0; i < from->pass_count; i++) {
		to->passes[i] = from->passes[i];
		to->passes[i].force[0] *= factor;
		to->passes[i].force[1] *= factor;
	}
	for (int i = 0; i < from->hold_count; i++)
		to->holds[i] = from->holds[i];
	for (int i = 0; i < from->part_count; i++) {
		to->parts[i] = from->parts[i];
		to->parts[i].demand *= factor;
		to->parts[i].utilisation *= factor;
	}
	for (int i = 0; i < result->model->node_count; i++)
		to->nodes[i] = from->nodes[i];
}

static void expect_folded(const rn_result *result, bool folded)
{
	int shown[2];
	rn_fold_cases(result, shown);
	assert_int_equal(shown[1], 1); /* the one with the worst part stands for itself */
	assert_int_equal(shown[0], folded ? 1 : 0);
	char *text = text_of(result, RN_METRIC);
	assert_int_equal(has(text, "lowering: same as raising"), folded);
	free(text);
}

static void cases_alike_are_folded(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	expect_folded(j.result, false);
	copy_with(j.result, 0.995);
	expect_folded(j.result, true);
	copy_with(j.result, 0.985);
	expect_folded(j.result, false);
	copy_with(j.result, 0.995);
	j.result->cases[0].nodes[j.house.r1].place[0] += 0.05;
	expect_folded(j.result, false);
	copy_with(j.result, 0.995);
	j.result->cases[0].holds[0].hand_most *= 0.9;
	expect_folded(j.result, false);
	job_end(&j);
}

static void over_is_never_folded_into_under(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	copy_with(j.result, 0.995);
	rn_verdict *v = &j.result->verdict;
	rn_part_result *worst = &j.result->cases[1].parts[v->worst_part];
	worst->utilisation = 1.002;
	j.result->cases[0].parts[v->worst_part].utilisation = 0.998;
	expect_folded(j.result, false);
	job_end(&j);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static json_t *json_of(const rn_result *result)
{
	rn_buffer out = empty();
	rn_answer_options options = {.file = "models/\"fern\".xml", .sha256 = "00ff", .units = RN_METRIC};
	json_error_t error;
	assert_int_equal(rn_json_write(&out, result, &options), RN_OK);
	assert_false(has(out.bytes, "nan"));
	assert_false(has(out.bytes, "inf,"));
	json_t *root = json_loads(out.bytes, JSON_REJECT_DUPLICATES, &error);
	if (!root)
		fail_msg("line %d: %s", error.line, error.text);
	rn_buffer_release(&out);
	return root;
}

static double number_in(const json_t *object, const char *key)
{
	const json_t *value = json_object_get(object, key);
	assert_true(json_is_number(value));
	return json_number_value(value);
}

static const char *text_in(const json_t *object, const char *key)
{
	const json_t *value = json_object_get(object, key);
	assert_true(json_is_string(value));
	return json_string_value(value);
}

static void near_to_the_last(double actual, double expected)
{
	rn_assert_near(actual, expected, 1e-15, 0);
}

static void expect_force(const json_t *object, const double force[2])
{
	near_to_the_last(number_in(object, "force_N"), hypot(force[0], force[1]));
	double angle = number_in(object, "direction_deg");
	assert_true(angle > -180 && angle <= 180);
	rn_assert_near(angle * pi / 180, atan2(force[1], force[0]), 1e-14, 1e-14);
}

static void expect_case(const rn_result *result, const json_t *list, int index)
{
	const rn_case_result *c = &result->cases[index];
	const rn_model *m = result->model;
	const json_t *object = json_array_get(list, (size_t)index), *one;
	size_t i, anchor = 0;
	json_array_foreach(json_object_get(object, "nodes"), i, one) {
		near_to_the_last(number_in(one, "x_m"), c->nodes[i].place[0]);
		near_to_the_last(number_in(one, "y_m"), c->nodes[i].place[1]);
		assert_string_equal(text_in(one, "id"), m->nodes[i].id);
		if (rn_node_is_fixed(&m->nodes[i])) {
			const json_t *pulled =
				json_array_get(json_object_get(object, "anchors"), anchor++);
			assert_string_equal(text_in(pulled, "id"), m->nodes[i].id);
			expect_force(pulled, c->nodes[i].pull);
		}
	}
	assert_int_equal(json_array_size(json_object_get(object, "anchors")), anchor);
	json_array_foreach(json_object_get(object, "spans"), i, one) {
		near_to_the_last(number_in(one, "tension_N"), c->spans[i].tension);
		near_to_the_last(number_in(one, "length_m"), c->spans[i].length);
		assert_int_equal(number_in(one, "index"), c->spans[i].index);
		assert_string_equal(text_in(one, "from"), m->nodes[c->spans[i].from].id);
		assert_int_equal(json_object_get(one, "certified_N") != NULL,
		                 c->spans[i].certified >= 0);
	}
	assert_int_equal(i, c->span_count);
	json_array_foreach(json_object_get(object, "passes"), i, one) {
		near_to_the_last(number_in(one, "before_N"), c->passes[i].before);
		near_to_the_last(number_in(one, "after_N"), c->passes[i].after);
		expect_force(one, c->passes[i].force);
	}
	json_array_foreach(json_object_get(object, "holds"), i, one) {
		near_to_the_last(number_in(one, "hand_least_N"), c->holds[i].hand_least);
		near_to_the_last(number_in(one, "hand_most_N"), c->holds[i].hand_most);
	}
	json_array_foreach(json_object_get(object, "parts"), i, one) {
		near_to_the_last(number_in(one, "demand_N"), c->parts[i].demand);
		bool checked = c->parts[i].unchecked == RN_CHECKED;
		assert_int_equal(json_is_null(json_object_get(one, "limit_N")), !checked);
		assert_int_equal(json_is_null(json_object_get(one, "utilisation")), !checked);
		if (checked)
			near_to_the_last(number_in(one, "utilisation"), c->parts[i].utilisation);
	}
	assert_int_equal(i, c->part_count);
}

static void json_is_the_result(void **state)
{
	(void)state;
	job j = job_make(2749.3, 10);
	json_t *root = json_of(j.result);
	assert_string_equal(text_in(json_object_get(root, "model"), "file"), "models/\"fern\".xml");
	char *sentence = sentence_of(j.result);
	assert_string_equal(text_in(json_object_get(root, "verdict"), "sentence"), sentence);
	free(sentence);
	for (int c = 0; c < j.result->case_count; c++)
		expect_case(j.result, json_object_get(root, "cases"), c);
	const json_t *worst = json_object_get(root, "worst");
	near_to_the_last(number_in(worst, "utilisation"), rn_verdict_worst(j.result)->utilisation);
	assert_string_equal(text_in(worst, "case"), "raising");
	json_decref(root);
	job_end(&j);
}

static void json_keys_keep_their_order(void **state)
{
	(void)state;
	static const char *const order[] = {"\"funicle\"",
	                                    "\"format\"",
	                                    "\"model\"",
	                                    "\"verdict\"",
	                                    "\"guessed\"",
	                                    "\"cautions\"",
	                                    "\"cases\"",
	                                    "\"outcome\"",
	                                    "\"nodes\"",
	                                    "\"moved_m\"",
	                                    "\"spans\": [\n        {",
	                                    "\"direction_deg\"",
	                                    "\"passes\"",
	                                    "\"bend_deg\"",
	                                    "\"holds\"",
	                                    "\"hands\"",
	                                    "\"anchors\"",
	                                    "\"stems\"",
	                                    "\"parts\"",
	                                    "\"contacts\"",
	                                    "\"balance\"",
	                                    "\"notes\"",
	                                    "\"worst\"",
	                                    NULL};
	job j = job_make(log_weight, 10);
	rn_buffer out = empty();
	assert_int_equal(rn_json_write(&out, j.result, NULL), RN_OK);
	const char *at = out.bytes;
	for (int i = 0; order[i]; i++) {
		at = strstr(at, order[i]);
		if (!at)
			fail_msg("%s is not where it should be", order[i]);
	}
	rn_buffer_release(&out);
	job_end(&j);
}

static void not_a_number_is_never_written(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	double *places[] = {
		&j.result->cases[1].spans[0].tension, &j.result->cases[0].nodes[2].pull[1],
		&j.result->cases[0].parts[3].demand,  &j.result->cases[1].passes[0].bend,
		&j.result->cases[1].balance.moment,   &j.result->cases[0].holds[0].hand_most,
	};
	const double bad[] = {(double)NAN, HUGE_VAL, -HUGE_VAL};
	for (size_t i = 0; i < sizeof places / sizeof *places; i++)
		for (int k = 0; k < 3; k++) {
			double kept = *places[i];
			rn_buffer out = empty();
			*places[i] = bad[k];
			assert_int_equal(rn_json_write(&out, j.result, NULL), RN_STATUS_ARGUMENT);
			assert_int_equal(rn_csv_write(&out, j.result, NULL), RN_STATUS_ARGUMENT);
			assert_int_equal(rn_text_write(&out, j.result, RN_METRIC, NULL),
			                 RN_STATUS_ARGUMENT);
			*places[i] = kept;
			rn_buffer_release(&out);
		}
	job_end(&j);
}

/* ---- JSON against its schema ----------------------------------------------------------------- */

/* As much of JSON Schema as doc/result.schema.json uses; any other word in it fails. */
static const char *const schema_words[] = {
	"$comment",   "title", "description", "type",    "required", "additionalProperties",
	"properties", "items", "enum",        "minimum", "maximum",  "exclusiveMinimum",
	"$ref",       "$defs", "maxItems",    NULL};

static const char *type_of(const json_t *value)
{
	switch (json_typeof(value)) {
	case JSON_OBJECT: return "object";
	case JSON_ARRAY: return "array";
	case JSON_STRING: return "string";
	case JSON_INTEGER: return "integer";
	case JSON_REAL: return "number";
	case JSON_NULL: return "null";
	default: return "boolean";
	}
}

static bool is_type(const json_t *value, const char *type)
{
	return strcmp(type_of(value), type) == 0 ||
	       (json_is_integer(value) && strcmp(type, "number") == 0);
}

static void check_type(const json_t *schema, const json_t *value, const char *where)
{
	const json_t *types = json_object_get(schema, "type"), *one;
	bool fits = !types || (json_is_string(types) && is_type(value, json_string_value(types)));
	size_t i;
	json_array_foreach(types, i, one)
		fits = fits || is_type(value, json_string_value(one));
	const json_t *list = json_object_get(schema, "enum");
	bool listed = !list;
	json_array_foreach(list, i, one)
		listed = listed || json_equal(one, value);
	if (!fits || !listed)
		fail_msg("%s: a %s that the schema does not take", where, type_of(value));
}

static void check_bounds(const json_t *schema, const json_t *value, const char *where)
{
	const json_t *least = json_object_get(schema, "minimum"),
		     *most = json_object_get(schema, "maximum");
	const json_t *above = json_object_get(schema, "exclusiveMinimum");
	double number = json_number_value(value);
	if (!json_is_number(value))
		return;
	if ((least && number < json_number_value(least)) ||
	    (most && number > json_number_value(most)) ||
	    (above && number <= json_number_value(above)))
		fail_msg("%s: %g is outside what the schema takes", where, number);
}

static void validate(const json_t *root, const json_t *schema, const json_t *value,
                     const char *where);

static void check_object(const json_t *root, const json_t *schema, const json_t *value,
                         const char *where)
{
	const json_t *properties = json_object_get(schema, "properties"), *one, *member;
	const char *key;
	size_t i;
	if (!json_is_object(value) || !properties)
		return;
	json_array_foreach(json_object_get(schema, "required"), i, one)
		if (!json_object_get(value, json_string_value(one)))
			fail_msg("%s: %s is missing", where, json_string_value(one));
	json_object_foreach((json_t *)value, key, member) {
		if (!json_object_get(properties, key))
			fail_msg("%s: the schema does not know %s", where, key);
		validate(root, json_object_get(properties, key), member, key);
	}
}

static void validate(const json_t *root, const json_t *schema, const json_t *value,
                     const char *where)
{
	static const char prefix[] = "#/$defs/";
	const char *key, *reference = json_string_value(json_object_get(schema, "$ref"));
	const json_t *one;
	json_object_foreach((json_t *)schema, key, one) {
		int i = 0;
		while (schema_words[i] && strcmp(schema_words[i], key) != 0)
			i++;
		if (!schema_words[i])
			fail_msg("the schema says %s, which this test does not understand", key);
	}
	if (reference) {
		assert_int_equal(strncmp(reference, prefix, sizeof prefix - 1), 0);
		const json_t *defined = json_object_get(json_object_get(root, "$defs"),
		                                        reference + sizeof prefix - 1);
		assert_non_null(defined);
		validate(root, defined, value, where);
	}
	check_type(schema, value, where);
	check_bounds(schema, value, where);
	check_object(root, schema, value, where);
	size_t i;
	const json_t *most = json_object_get(schema, "maxItems");
	if (most && json_array_size(value) > (size_t)json_integer_value(most))
		fail_msg("%s: has more than %d things", where, (int)json_integer_value(most));
	json_array_foreach((json_is_array(value) ? value : NULL), i, one)
		if (json_object_get(schema, "items"))
			validate(root, json_object_get(schema, "items"), one, where);
}

static void json_meets_its_schema(void **state)
{
	(void)state;
	json_error_t error;
	json_t *schema = json_load_file(RN_TESTS_DIR "/../doc/result.schema.json", 0, &error);
	if (!schema)
		fail_msg("result.schema.json, line %d: %s", error.line, error.text);
	for (int factor = 0; factor <= 10; factor += 10) {
		job j = job_make(log_weight, factor);
		json_t *answer = json_of(j.result);
		validate(schema, schema, answer, "answer");
		json_decref(answer);
		job_end(&j);
	}
	net_data net = net_rigging();
	rn_allocator a = rn_allocator_default();
	rn_model *model = net_model(&net, &a);
	rn_options options = rn_options_default();
	rn_result *result = NULL;
	assert_non_null(model);
	assert_int_equal(rn_solve(model, &options, &result), RN_OK);
	json_t *answer = json_of(result);
	validate(schema, schema, answer, "answer");
	json_decref(answer);
	json_decref(schema);
	rn_result_destroy(result);
	rn_model_destroy(model);
}

static void a_prop_that_pushes(void **state)
{
	(void)state;
	rn_allocator a = rn_allocator_default();
	fern_house f = {.model = fern_spar(&a)};
	rn_result *result = fern_house_solve(&f, &a);
	assert_int_equal(result->cases[0].outcome, RN_OUTCOME_SETTLED);
	char *text = text_of(result, RN_METRIC);
	assert_true(has(text, "* Closest: prop spar at head, "));
	assert_true(has(text, "(buckles at "));
	assert_true(has(text, "spar  heel to head"));
	assert_true(has(text, "push"));
	assert_false(has(text, "-9"));
	free(text);
	json_error_t error;
	json_t *schema = json_load_file(RN_TESTS_DIR "/../doc/result.schema.json", 0, &error);
	json_t *answer = json_of(result), *one;
	assert_non_null(schema);
	validate(schema, schema, answer, "answer");
	size_t i;
	int pushes = 0;
	json_array_foreach(
		json_object_get(json_array_get(json_object_get(answer, "cases"), 0), "spans"), i,
		one) pushes += number_in(one, "tension_N") < 0;
	assert_int_equal(pushes, 1);
	json_decref(schema);
	json_decref(answer);
	rn_result_destroy(result);
	rn_model_destroy(f.model);
}

/* ---- CSV and check --------------------------------------------------------------------------- */

/* tests/schema.py holds the CSV of whole models against their JSON; here is what they have not got. */
static void csv_cells_are_harmless(void **state)
{
	(void)state;
	rn_buffer out = empty();
	rn_csv_stream csv = rn_csv_stream_make(&out);
	rn_stream_open(&csv.stream, NULL, '{');
	rn_stream_text(&csv.stream, "a", "=1+1");
	rn_stream_text(&csv.stream, "b", "@x, \"y\"\r\n-2");
	rn_stream_text(&csv.stream, "c", "+1");
	rn_stream_text(&csv.stream, "d", "-1");
	rn_stream_number(&csv.stream, "e_N", -1.5);
	rn_stream_number(&csv.stream, "f_kN", 1e-300);
	rn_stream_bool(&csv.stream, "g", true);
	rn_stream_null(&csv.stream, "h_m");
	rn_stream_text(&csv.stream, "i", "");
	rn_stream_open(&csv.stream, "parts", '[');
	rn_stream_open(&csv.stream, NULL, '{');
	rn_stream_text(&csv.stream, "id", "=evil");
	rn_stream_number(&csv.stream, "demand_N", 0.1);
	rn_stream_null(&csv.stream, "not_checked");
	rn_stream_close(&csv.stream, '}');
	rn_stream_close(&csv.stream, ']');
	rn_stream_close(&csv.stream, '}');
	assert_int_equal(rn_stream_status(&csv.stream), RN_OK);
	assert_string_equal(out.bytes, "case,kind,id,index,quantity,unit,value,checked\n"
	                               ",answer,,,a,,'=1+1,\n"
	                               ",answer,,,b,,\"'@x, \"\"y\"\"\?\?-2\",\n"
	                               ",answer,,,c,,'+1,\n"
	                               ",answer,,,d,,'-1,\n"
	                               ",answer,,,e,N,-1.5,\n"
	                               ",answer,,,f_kN,1,1e-300,\n"
	                               ",answer,,,g,,true,\n"
	                               ",answer,,,h,m,,\n"
	                               ",answer,,,i,,,\n"
	                               ",part,'=evil,0,demand,N,0.1,yes\n"
	                               ",part,'=evil,0,not_checked,,,yes\n");
	rn_buffer_release(&out);
}

/* Turns that are off before anything is solved are those the solver takes off. */
static void expect_turns(const rn_result *result, int c)
{
	const rn_model *m = result->model;
	const rn_case_result *answer = &result->cases[c];
	for (int i = 0; i < answer->hold_count; i++) {
		const rn_hold_result *hold = &answer->holds[i];
		rn_object node = rn_object_of(RN_NODE, hold->node);
		int turns = rn_model_find_number(m, node, RN_ATTRIBUTE_TURNS);
		rn_reach reach = {RN_NONE, RN_NONE};
		while (rn_runs_next(m, hold->line, &reach)) {
			if (reach.first != hold->station && reach.last != hold->station)
				continue;
			int way = rn_runs_direction(m, &m->cases[answer->case_index], &reach,
			                            hold->station);
			bool off = rn_runs_end(&reach, way) == hold->station &&
			           rn_runs_without_turns(m, hold->station);
			if (turns != RN_NONE && m->numbers[turns].value > 0)
				assert_int_equal(hold->turns > 0, !off);
		}
	}
}

/* Ratings are listed before anything is solved; whatever the solver makes of them later, the parts and
 * what they are rated for are the same, and so are the reasons that do not come from solving. */
static void expect_ratings(const rn_result *result)
{
	const rn_case_result *c = &result->cases[0];
	rn_options options = rn_options_default();
	rn_result *rated;
	assert_int_equal(rn_rate(result->model, &options, &rated), RN_OK);
	assert_int_equal(rated->cases[0].part_count, c->part_count);
	for (int i = 0; i < c->part_count; i++) {
		const rn_part_result *r = &rated->cases[0].parts[i];
		const rn_part_result *p = &c->parts[i];
		assert_int_equal(r->object.kind, p->object.kind);
		assert_int_equal(r->object.index, p->object.index);
		if (r->object.kind == RN_NODE || r->object.kind == RN_ITEM)
			assert_int_equal(r->at, p->at);
		if (p->unchecked != RN_STRETCH_UNKNOWN && p->unchecked != RN_PULLED)
			assert_int_equal(r->unchecked, p->unchecked);
		if (r->object.kind == RN_PROP || r->object.kind == RN_STEM)
			continue; /* its strength is worked out */
		rn_assert_near(r->strength, p->strength, 0, 0);
		rn_assert_near(r->working_load, p->working_load, 0, 0);
		rn_assert_near(r->design_factor, p->design_factor, 0, 0);
	}
	rn_result_destroy(rated);
}

static int expect_runs(const rn_model *m)
{
	int count = 0;
	for (int c = 0; c < m->case_count; c++)
		for (int line = 0; line < m->line_count; line++) {
			rn_reach reach = {RN_NONE, RN_NONE};
			while (rn_runs_next(m, line, &reach)) {
				for (int s = reach.first + 1; s <= reach.last; s++)
					assert_int_equal(
						rn_runs_direction(m, &m->cases[c], &reach, s),
						rn_case_direction(m, &m->cases[c], reach.first,
				                                  reach.last, s));
				count++;
			}
		}
	return count;
}

static void check_knows_what_solve_does(void **state)
{
	(void)state;
	for (int factor = 0; factor <= 10; factor += 10) {
		job j = job_make(2000, factor);
		expect_ratings(j.result);
		assert_int_equal(expect_runs(j.result->model), 2);
		job_end(&j);
	}
	static const char *const models[] = {"track-line", "drift", "guyed-prop", "three-to-one",
	                                     "twin-rings", "branch-led-back", "tag-line-given"};
	int runs = 0;
	for (size_t i = 0; i < sizeof models / sizeof *models; i++) {
		rn_document *document = model_document(models[i]);
		rn_options options = rn_options_default();
		rn_result *result = NULL;
		assert_int_equal(rn_solve(document->model, &options, &result), RN_OK);
		expect_ratings(result);
		for (int c = 0; c < result->case_count; c++)
			expect_turns(result, c);
		runs += expect_runs(document->model);
		rn_result_destroy(result);
		rn_document_destroy(document);
	}
	assert_true(runs > 20);
}

static void check_reads_back(void **state)
{
	(void)state;
	static const char *const wanted[] = {
		"Made of 1 rope, 4 slings",
		"bull: rope bull16, from log (tied, running bowline) over b1, r1, low to post (held, 3 turns)",
		"top: sling20, choke, beech at 11.0 m, right side to b1, 0.600 m. Limit 11.3 kN at top.right: strength 130 kN x choke 0.50 x choke angle 0.87 (104 deg) / 5.",
		"r1: ring28, tread 44.0 mm, friction 0.14 to 0.25, 4.40 m right, 8.10 m up.",
		"Working load 12.0 kN.",
		"log: piece, 320 kg (3.14 kN), 0.600 m right, 7.00 m up.",
		"Case lowering (made, low friction): bull runs toward log.",
		"Case raising (made, high friction): bull runs toward post (turns off).",
		"weight of log 400 kg (3.93 kN)",
		"Every part has a limit.",
		"stiffness of bull16",
		"Not looked at:",
		"Cautions:"};
	rn_document *document = model_document("fern-house");
	rn_buffer out = empty(), running = empty();
	assert_int_equal(rn_check_text(&out, document, RN_METRIC), RN_OK);
	assert_true(widest_line(out.bytes) <= 90);
	assert_true(line_count(out.bytes) <= 48); /* thirteen parts, three cases */
	for (const char *c = out.bytes; *c; c++) {
		bool hang = c[0] == '\n' && c[1] == ' ';
		rn_buffer_char(&running, hang ? ' ' : *c);
		c += hang ? 2 : 0;
	}
	for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
		if (!has(running.bytes, wanted[i]))
			fail_msg("\"%s\" is missing in:\n%s", wanted[i], out.bytes);
	for (int k = 0; forbidden[k]; k++)
		assert_false(has(out.bytes, forbidden[k]));
	rn_buffer_release(&out);
	assert_int_equal(rn_check_text(&out, document, RN_US), RN_OK);
	assert_false(has(out.bytes, " kN") || has(out.bytes, " m ") || has(out.bytes, " mm"));
	rn_buffer_release(&out);
	rn_buffer_release(&running);
	rn_document_destroy(document);
}

/* ---- memory ---------------------------------------------------------------------------------- */

static rn_status write_check(rn_buffer *out, const rn_result *result)
{
	static const char *const files[] = {"fern.xml"};
	rn_document document = {.model = (rn_model *)result->model, .files = files, .file_count = 1};
	rn_json_stream json = rn_json_stream_make(out);
	RN_TRY(rn_check_text(out, &document, RN_US));
	return rn_check_tell(&json.stream, &document, NULL);
}

static rn_status write_all_forms(const rn_result *result, support_memory *memory)
{
	rn_allocator a = support_memory_allocator(memory);
	rn_buffer out = rn_buffer_make(&a);
	rn_status status = rn_text_write(&out, result, RN_US, NULL);
	if (status == RN_OK)
		status = rn_json_write(&out, result, NULL);
	if (status == RN_OK)
		status = rn_csv_write(&out, result, NULL);
	if (status == RN_OK)
		status = write_check(&out, result);
	rn_buffer_release(&out);
	return status;
}

static void running_out_of_memory_is_said(void **state)
{
	(void)state;
	job j = job_make(3000, 20);
	support_memory whole = {0};
	assert_int_equal(write_all_forms(j.result, &whole), RN_OK);
	assert_int_equal(whole.live_count, 0);
	assert_true(whole.call_count > 50);
	for (long n = 1; n <= whole.call_count; n++)
		for (int for_good = 0; for_good <= 1; for_good++) {
			support_memory memory = {.fail_at = n, .for_good = for_good};
			assert_int_equal(write_all_forms(j.result, &memory), RN_STATUS_MEMORY);
			assert_int_equal(memory.live_count, 0);
		}
	job_end(&j);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(forces_are_rounded_to_their_side),
		cmocka_unit_test(rounding_never_flatters),
		cmocka_unit_test(lengths_choose_their_unit),
		cmocka_unit_test(per_cents_over_never_read_100),
		cmocka_unit_test(other_words),
		cmocka_unit_test(directions_can_be_pointed),
		cmocka_unit_test(hostile_text_is_made_plain),
		cmocka_unit_test(verdict_not_checked),
		cmocka_unit_test(verdict_none_over),
		cmocka_unit_test(verdict_over),
		cmocka_unit_test(verdict_at_the_limit),
		cmocka_unit_test(the_harder_verdict_counts),
		cmocka_unit_test(a_kept_picture_is_an_answer),
		cmocka_unit_test(verdict_without_equilibrium),
		cmocka_unit_test(verdict_of_a_piece_that_falls),
		cmocka_unit_test(a_balance_that_does_not_close_is_no_verdict),
		cmocka_unit_test(every_note_reads),
		cmocka_unit_test(nameless_things_get_a_phrase),
		cmocka_unit_test(densities_and_masses_read),
		cmocka_unit_test(a_weighed_piece_says_both_figures),
		cmocka_unit_test(guesses_alike_are_said_once),
		cmocka_unit_test(text_is_short_and_narrow),
		cmocka_unit_test(text_says_everything),
		cmocka_unit_test(text_holds_the_result),
		cmocka_unit_test(text_of_written_cases),
		cmocka_unit_test(random_nets_keep_to_the_columns),
		cmocka_unit_test(cases_alike_are_folded),
		cmocka_unit_test(over_is_never_folded_into_under),
		cmocka_unit_test(json_is_the_result),
		cmocka_unit_test(json_keys_keep_their_order),
		cmocka_unit_test(not_a_number_is_never_written),
		cmocka_unit_test(json_meets_its_schema),
		cmocka_unit_test(a_prop_that_pushes),
		cmocka_unit_test(csv_cells_are_harmless),
		cmocka_unit_test(check_knows_what_solve_does),
		cmocka_unit_test(check_reads_back),
		cmocka_unit_test(running_out_of_memory_is_said),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
