/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The largest piece: over all cases, over the ends of a guessed stiffness, and on every model of models/.
 */
#define _POSIX_C_SOURCE 200809L
#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/report/largest.h"
#include "io/xml/reader.h"
#include "solver/study/workspace.h"
#include "tests/models.h"
#include "tests/support.h"

/* One model, its largest piece and what is said of it. */
typedef struct job {
	rn_document *document;
	rn_largest largest;
	char *text;
} job;

static rn_object first_piece(const rn_model *m)
{
	for (int k = 0; k < 2; k++)
		for (int i = 0; i < (k ? m->prop_count : m->node_count); i++) {
			rn_object object = rn_object_of(k ? RN_PROP : RN_NODE, i);
			bool is_piece = k ? m->props[i].is_piece : m->nodes[i].kind == RN_NODE_PIECE;
			if (is_piece && rn_model_find_number(m, object, RN_ATTRIBUTE_WEIGHT) != RN_NONE)
				return object;
		}
	return rn_object_of(RN_NODE, RN_NONE);
}

static job job_of(const char *bytes, size_t size)
{
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	rn_fetch store = {models_fetch, NULL};
	job j = {.document = NULL};
	assert_int_equal(rn_document_read(&allocator, "test", bytes, size, &store, &j.document), RN_OK);
	rn_object piece = first_piece(j.document->model);
	assert_int_equal(rn_largest_find(j.document->model, &options, piece, &j.largest), RN_OK);
	rn_buffer text = rn_buffer_make(&allocator);
	assert_int_equal(rn_largest_text(&text, &j.largest, RN_METRIC), RN_OK);
	j.text = strdup(text.bytes);
	assert_non_null(j.text);
	for (char *c = j.text; *c; c++) /* a paragraph in one line */
		*c = *c == '\n' && c[1] == ' ' ? ' ' : *c;
	rn_buffer_release(&text);
	return j;
}

static job job_of_text(const char *body)
{
	char text[4096];
	int size = snprintf(text, sizeof text, "<rigging xmlns=\"urn:funicle:rigging\" format=\"1\">%s</rigging>", body);
	assert_true(size > 0 && size < (int)sizeof text);
	return job_of(text, (size_t)size);
}

static job job_of_model(const char *name)
{
	char path[1024];
	size_t size = 0;
	snprintf(path, sizeof path, "%s/%s", RN_MODELS_DIR, name);
	char *bytes = models_slurp(path, &size);
	assert_non_null(bytes);
	job j = job_of(bytes, size);
	free(bytes);
	return j;
}

static void end(job *j)
{
	free(j->text);
	rn_largest_release(&j->largest);
	rn_document_destroy(j->document);
}

static bool says(const job *j, const char *words)
{
	return strstr(j->text, words) != NULL;
}

/* ---- guessed stiffness ----------------------------------------------------------------------- */

/* A rope drawn straight across, held in its middle by a second one to the piece. */
static job across(const char *stiffness)
{
	char text[2048];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear design-factor=\"5\">"
	         "<item id=\"r\" kind=\"rope\" diameter=\"16 mm\" strength=\"70 kN\" %s/>"
	         "<item id=\"k\" kind=\"rope\" diameter=\"16 mm\" strength=\"90 kN\" stiffness=\"400 kN\"/></gear>"
	         "<anchor id=\"a\" x=\"0 m\" y=\"9 m\" working-load=\"50 kN\"/>"
	         "<anchor id=\"b\" x=\"10 m\" y=\"9 m\" working-load=\"50 kN\"/>"
	         "<joint id=\"j\" x=\"5 m\" y=\"9 m\"/><piece id=\"p\" x=\"5 m\" y=\"7 m\" weight=\"1 kN\"/>"
	         "<line id=\"l1\" gear=\"r\"><tie at=\"a\" knot=\"eye splice\"/><grip at=\"j\" knot=\"eye splice\"/>"
	         "<tie at=\"b\" knot=\"eye splice\"/></line>"
	         "<line id=\"l2\" gear=\"k\"><tie at=\"j\" knot=\"eye splice\"/><tie at=\"p\" knot=\"eye splice\"/></line>"
	         "<case id=\"c\"/>",
	         stiffness);
	return job_of_text(text);
}

/* The stiff end sags least, so it pulls hardest. */
static void test_least_of_a_guess(void **state)
{
	(void)state;
	job guessed = across(""), given = across("stiffness=\"630 kN\"");
	rn_assert_near(guessed.largest.weight, given.largest.weight, 1e-5, 0);
	assert_true(guessed.largest.guess_matters && guessed.largest.working[0].guess_end);
	assert_true(says(&guessed, "Stiffness is guessed: this is the least"));
	assert_int_equal(rn_largest_exit(&guessed.largest), 1);
	assert_false(given.largest.guess_matters || says(&given, "Stiffness is guessed"));
	assert_int_equal(rn_largest_exit(&given.largest), 0);
	end(&guessed);
	end(&given);
}

/* ---- cases --------------------------------------------------------------------------------- */

/* Case two has a tenth of the weight and 900.5 N, so the anchor comes to 1000 N there at 995 N; at the end of
 * that step case one is further over. */
static void test_the_case_that_comes_first(void **state)
{
	(void)state;
	job j = job_of_text("<gear design-factor=\"1\"><item id=\"rope\" kind=\"rope\" diameter=\"16 mm\""
	                    " strength=\"1000 kN\" stiffness=\"500 kN\"/></gear>"
	                    "<anchor id=\"a\" x=\"0 m\" y=\"5 m\" working-load=\"1000 N\"/>"
	                    "<piece id=\"p\" x=\"0 m\" y=\"3 m\" weight=\"100 N\"/><cases made=\"none\"/>"
	                    "<line id=\"l\" gear=\"rope\"><tie at=\"a\" knot=\"bowline\"/><tie at=\"p\" knot=\"bowline\"/>"
	                    "</line><case id=\"one\"/><case id=\"two\"><force at=\"p\" size=\"900.5 N\" toward=\"down\"/>"
	                    "<set of=\"p\" weight=\"10 N\"/></case>");
	rn_assert_near(j.largest.weight, 995, 1e-5, 0);
	assert_int_equal(j.largest.working[0].case_index, 1);
	assert_false(j.largest.at->verdict.over);
	assert_int_equal(rn_largest_exit(&j.largest), 0);
	end(&j);
}

/* ---- no answer ------------------------------------------------------------------------------ */

static void test_a_picture_under_load(void **state)
{
	(void)state;
	job j = job_of_model("photo.xml");
	assert_true(j.largest.under_load);
	assert_true(says(&j, "NOT CHECKED: the picture was drawn under load and holds only with the weight of log"));
	assert_true(says(&j, "Drawn with 320 kg (3.14 kN)"));
	assert_int_equal(rn_largest_exit(&j.largest), 1);
	end(&j);
}

static job on_one_rope(double weight, double tight, double limit)
{
	char text[1024];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear design-factor=\"1\"><item id=\"r\" kind=\"rope\" diameter=\"10 mm\""
	         " strength=\"70 kN\" stiffness=\"60 kN\"/></gear>"
	         "<anchor id=\"a\" x=\"0 m\" y=\"9 m\" working-load=\"%g N\"/>"
	         "<piece id=\"p\" x=\"0 m\" y=\"5 m\" weight=\"%g N\"/>"
	         "<line id=\"l\" gear=\"r\" length=\"%g m\"><tie at=\"a\" knot=\"eye splice\"/>"
	         "<tie at=\"p\" knot=\"eye splice\"/></line><case id=\"c\"/>",
	         limit, weight, tight);
	return job_of_text(text);
}

static void test_over_with_the_lightest(void **state)
{
	(void)state;
	job j = on_one_rope(100, 4, 5);
	assert_true(says(&j, "OVER ITS LIMIT even with a piece of 1.02 kg (10.0 N): anchor a in c"));
	assert_int_equal(rn_largest_exit(&j.largest), 1);
	end(&j);
}

/* ---- stretch is no fall ---------------------------------------------------------------------- */

static bool notes(const rn_result *result, rn_note_kind kind)
{
	for (int i = 0; i < result->cases[0].notes.count; i++)
		if (result->cases[0].notes.items[i].kind == kind)
			return true;
	return false;
}

/* 50 kN stretch 4 m of rope by 3.33 m. A rope with slack lets the piece fall all the same. */
static void test_stretch_is_no_fall(void **state)
{
	(void)state;
	job taut = on_one_rope(18000, 4, 50000), slack = on_one_rope(18000, 5.5, 50000);
	rn_assert_near(taut.largest.weight, 50000, 1e-5, 0);
	assert_true(notes(taut.largest.at, RN_NOTE_SINKS) && !notes(taut.largest.at, RN_NOTE_FALLS_FIRST));
	assert_false(taut.largest.at->cases[0].falls);
	assert_int_equal(slack.largest.working[0].kind, RN_HALT_FALLS);
	assert_true(notes(slack.largest.at, RN_NOTE_FALLS_FIRST) && !notes(slack.largest.at, RN_NOTE_SINKS));
	end(&taut);
	end(&slack);
}

/* A rope drawn taut and level swings down round its anchor: that is a fall, however taut it is. */
static void test_a_swing_is_a_fall(void **state)
{
	(void)state;
	job j = job_of_text("<cases made=\"none\"/><gear design-factor=\"1\"><item id=\"r\" kind=\"rope\" diameter=\"10 mm\""
	                    " strength=\"70 kN\" stiffness=\"300 kN\"/></gear>"
	                    "<anchor id=\"a\" x=\"0 m\" y=\"9 m\" working-load=\"50 kN\"/>"
	                    "<piece id=\"p\" x=\"4 m\" y=\"8.9 m\" weight=\"1 kN\"/>"
	                    "<line id=\"l\" gear=\"r\"><tie at=\"a\" knot=\"eye splice\"/>"
	                    "<tie at=\"p\" knot=\"eye splice\"/></line><case id=\"c\"/>");
	assert_int_equal(j.largest.working[0].kind, RN_HALT_FALLS);
	end(&j);
}

/* ---- where the walk ends --------------------------------------------------------------------- */

static void test_nothing_would_break(void **state)
{
	(void)state;
	job j = job_of_model("track-line.xml");
	assert_int_equal(j.largest.breaking_count, 0);
	assert_true(j.largest.ended && says(&j, "No part of known strength would break up to "));
	assert_true(says(&j, "nothing to work to"));
	end(&j);
}

/* ---- all models ------------------------------------------------------------------------------ */

static bool any_over(const rn_result *result)
{
	for (int c = 0; c < result->case_count; c++)
		for (int p = 0; p < result->cases[c].part_count; p++) {
			const rn_part_result *part = &result->cases[c].parts[p];
			if (part->unchecked == RN_CHECKED && part->utilisation > 1)
				return true;
		}
	return false;
}

static rn_result *solved_with(const rn_model *m, rn_object piece, double scale)
{
	rn_options options = rn_options_default();
	rn_result *result = NULL;
	int number = rn_model_find_number(m, piece, RN_ATTRIBUTE_WEIGHT);
	options.stretch_check = options.side_check = false;
	assert_int_equal(rn_solve_scaled(m, &options, number, scale, &result), RN_OK);
	return result;
}

/* With the piece nothing is over, with one a little heavier something is, if stiffness is not at an end. */
static void look_around(const char *name, const rn_largest *l)
{
	const rn_model *m = l->at->model;
	rn_result *below = solved_with(m, l->piece, l->weight * (1 - 1e-6) / l->drawn);
	rn_result *above = solved_with(m, l->piece, l->weight * (1 + 1e-5) / l->drawn);
	if (any_over(below))
		fail_msg("%s: over with its largest piece", name);
	if (!l->working[0].guess_end && l->working[0].kind == RN_HALT_PART && !any_over(above))
		fail_msg("%s: a larger piece may hang", name);
	rn_result_destroy(below);
	rn_result_destroy(above);
}

#ifndef RN_LARGEST_STRIDE
#define RN_LARGEST_STRIDE 1
#endif

static void test_nothing_over_in_any_model(void **state)
{
	(void)state;
	int count = 0, seen = 0;
	DIR *folder = opendir(RN_MODELS_DIR);
	assert_non_null(folder);
	for (struct dirent *entry; (entry = readdir(folder));) {
		if (!strstr(entry->d_name, ".xml") || strcmp(entry->d_name, "yard.xml") == 0 ||
		    seen++ % RN_LARGEST_STRIDE)
			continue;
		job j = job_of_model(entry->d_name);
		if (j.largest.several)
			fail_msg("%s: more than one answer", entry->d_name);
		if (j.largest.weight > 0 && j.largest.working_count > 0) {
			look_around(entry->d_name, &j.largest);
			count++;
		}
		end(&j);
	}
	closedir(folder);
	assert_true(count >= 24 / RN_LARGEST_STRIDE);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_least_of_a_guess),       cmocka_unit_test(test_the_case_that_comes_first),
		cmocka_unit_test(test_a_picture_under_load),   cmocka_unit_test(test_over_with_the_lightest),
		cmocka_unit_test(test_stretch_is_no_fall),     cmocka_unit_test(test_a_swing_is_a_fall),
		cmocka_unit_test(test_nothing_would_break),    cmocka_unit_test(test_nothing_over_in_any_model),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
