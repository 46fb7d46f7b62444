/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Memory ends at every place it can end while a file is read, a study is made and its answer is told: each says so,
 * gives back all it had, and what was there before is whole. tests/test_alloc.c does the same for building and solving,
 * tests/faults.py for the whole program. Where a study takes thousands of allocations the later ones are tried at ever
 * larger steps. tests/coverage.sh gives arenas small blocks (RN_ARENA_SMALL), so that nearly every take is an
 * allocation that can fail.
 */
#include <glob.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/report/check.h"
#include "io/report/csv.h"
#include "io/report/csv_stream.h"
#include "io/report/drill.h"
#include "io/report/explain.h"
#include "io/report/json.h"
#include "io/report/json_stream.h"
#include "io/report/largest.h"
#include "io/report/placed.h"
#include "io/report/review.h"
#include "io/report/scatter.h"
#include "io/report/text.h"
#include "io/report/varied.h"
#include "tests/models.h"
#include "tests/support.h"

/* ---- what is asked about --------------------------------------------------------------------------- */

typedef struct subject {
	const char *folder;
	char *bytes;
	size_t size;
	rn_document *document;
	rn_result *result;
	rn_varied_number of[2];
	int of_count;
	rn_varied varied;
	rn_placed placed;
	rn_scatter scatter;
	rn_largest largest;
	rn_let_run let_run;
	rn_comparison comparison;
} subject;

typedef rn_status (*job)(subject *s, const rn_allocator *allocator);

typedef struct shelf {
	const char *folder;
	const rn_allocator *allocator; /* of the document */
} shelf;

static rn_status fetch_beside(void *context, const char *href, char **bytes_out, size_t *size_out,
                              const char **reason_out)
{
	const shelf *from = context;
	char path[1024];
	snprintf(path, sizeof path, "%s/%s", from->folder, href);
	char *bytes = models_slurp(path, size_out);
	*reason_out = bytes ? NULL : "it cannot be read";
	if (!bytes)
		return RN_STATUS_INPUT;
	*bytes_out = from->allocator->allocate(from->allocator->context, *size_out + 1);
	if (*bytes_out)
		memcpy(*bytes_out, bytes, *size_out);
	free(bytes);
	return *bytes_out ? RN_OK : RN_STATUS_MEMORY;
}

static rn_status read_document(const subject *s, const rn_allocator *allocator, rn_document **document_out)
{
	shelf from = {s->folder, allocator};
	rn_fetch fetch = {fetch_beside, &from};
	return rn_document_read(allocator, "model", s->bytes, s->size, &fetch, document_out);
}

static subject subject_of(const char *folder, const char *name)
{
	char path[1024];
	subject s = {.folder = folder};
	snprintf(path, sizeof path, "%s/%s", folder, name);
	s.bytes = models_slurp(path, &s.size);
	assert_non_null(s.bytes);
	return s;
}

static rn_options options_with(const rn_allocator *allocator)
{
	rn_options options = rn_options_default();
	options.allocator = *allocator;
	return options;
}

/* One that is solved, its first numbers of two kinds there to be varied by a little. */
static subject solved(const char *name, const char *first, const char *second)
{
	rn_allocator plain = rn_allocator_default();
	rn_options options = options_with(&plain);
	subject s = subject_of(RN_MODELS_DIR, name);
	const char *const names[] = {first, second};
	assert_int_equal(read_document(&s, &plain, &s.document), RN_OK);
	assert_int_equal(rn_solve(s.document->model, &options, &s.result), RN_OK);
	for (int i = 0; i < 2 && names[i]; i++) {
		int number = rn_model_number_by_name(s.document->model, names[i]);
		assert_true(number != RN_NONE);
		double value = s.document->model->numbers[number].value;
		s.of[s.of_count++] = (rn_varied_number){number, value * 0.95, value * 1.05};
	}
	return s;
}

static void subject_end(subject *s)
{
	rn_result_destroy(s->result);
	rn_document_destroy(s->document);
	free(s->bytes);
}

#ifdef RN_ARENA_SMALL
enum { FINER = 2 };
#else
enum { FINER = 1 };
#endif

/* Every allocation of a job fails in its turn; the later ones by steps of 1/`growth` of their number, 0: each. */
static void fail_each(job run, subject *s, long growth)
{
	long failures = 0;
	bool failed = true;
	for (long at = 1; failed; at += 1 + (growth ? at / (growth * FINER) : 0)) {
		support_memory memory = {.fail_at = at, .for_good = at % 2 == 0};
		rn_allocator allocator = support_memory_allocator(&memory);
		rn_status status = run(s, &allocator);
		failed = memory.call_count >= at;
		failures += failed;
		assert_int_equal(status, failed ? RN_STATUS_MEMORY : RN_OK);
		assert_int_equal(memory.live_count, 0);
	}
	assert_true(failures > 2);
}

/* ---- reading ----------------------------------------------------------------------------------------- */

static rn_status read_it(subject *s, const rn_allocator *allocator)
{
	rn_document *document = NULL;
	rn_status status = read_document(s, allocator, &document);
	assert_true((status == RN_OK) == (document != NULL));
	if (status == RN_OK)
		assert_non_null(document->model);
	rn_document_destroy(document);
	return status;
}

static void test_memory_ends_while_reading(void **state)
{
	(void)state;
	static const char *const good[] = {"everything.xml", "fall.xml", "feet-and-pounds.xml", "photo.xml",
	                                   "props-and-curves.xml", "strength.xml", "wood.xml"};
	for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
		subject s = subject_of(RN_TESTS_DIR "/good", good[i]);
		fail_each(read_it, &s, 0);
		subject_end(&s);
	}
}

/* Reading what is wrong ends with INPUT and its diagnostics, printed; or with MEMORY. */
static rn_status read_wrong(subject *s, const rn_allocator *allocator)
{
	rn_document *document = NULL;
	rn_status status = read_document(s, allocator, &document);
	assert_true(status == RN_STATUS_MEMORY || status == RN_STATUS_INPUT);
	if (status == RN_STATUS_INPUT) {
		rn_buffer out = rn_buffer_make(allocator);
		assert_true(document->diagnostic_count > 0 && !document->model);
		rn_document_print(&out, document);
		status = rn_buffer_status(&out);
		rn_buffer_release(&out);
	}
	rn_document_destroy(document);
	return status;
}

static void test_memory_ends_while_refusing(void **state)
{
	(void)state;
	static const char wrong[] = "<rigging xmlns='urn:funicle:rigging' format='1' tilt='3'><anchor id='a' x='0 m' y='5'/>"
	                            "<anchor id='a' x='1 furlong' y='5 m'/><peice id='p'/><line id='l' gear='rope'><tie at='a'/>"
	                            "<tie at='nobody'/></line><store href='none.xml'/></rigging>";
	subject s = {.folder = RN_MODELS_DIR, .bytes = (char *)(size_t)wrong, .size = sizeof wrong - 1};
	fail_each(read_wrong, &s, 0);
	glob_t files;
	assert_int_equal(glob(RN_TESTS_DIR "/bad/*.xml", 0, NULL, &files), 0);
	assert_true(files.gl_pathc > 50);
	for (size_t i = 0; i < files.gl_pathc; i++) {
		subject bad = subject_of(RN_TESTS_DIR "/bad", strrchr(files.gl_pathv[i], '/') + 1);
		fail_each(read_wrong, &bad, 8);
		subject_end(&bad);
	}
	globfree(&files);
}

/* ---- telling what the model is and what it answers ---------------------------------------------------- */

static rn_status finish(rn_status status, rn_buffer *out)
{
	if (status == RN_OK)
		status = rn_buffer_status(out);
	rn_buffer_release(out);
	return status;
}

static rn_status tell_check(subject *s, const rn_allocator *allocator)
{
	rn_buffer out = rn_buffer_make(allocator);
	rn_answer_options options = {.file = "model.xml", .sha256 = "0123"};
	rn_json_stream json = rn_json_stream_make(&out);
	rn_csv_stream csv = rn_csv_stream_make(&out);
	rn_status status = rn_check_text(&out, s->document, RN_METRIC);
	if (status == RN_OK)
		status = rn_check_tell(&json.stream, s->document, &options);
	if (status == RN_OK)
		status = rn_check_tell(&csv.stream, s->document, &options);
	return finish(status, &out);
}

typedef rn_status (*folio_job)(rn_folio *folio, const rn_review *review);

static rn_status cases_folio(rn_folio *folio, const rn_review *review)
{
	return rn_check_cases_folio(folio, review->document->model, review->units);
}

static rn_status explained_folio(rn_folio *folio, const rn_review *review)
{
	int node = rn_drill_node(review->document->model, &review->result->cases[0]);
	return rn_explain_folio(folio, review->result, 0, node, review->units);
}

static rn_status review_since(rn_folio *folio, const rn_review *review)
{
	rn_edition same = {review->document, review->result, "old.xml", "4567"};
	rn_review with = *review;
	with.since = &same;
	return rn_review_folio(folio, &with);
}

static rn_status tell_folios(subject *s, const rn_allocator *allocator)
{
	static const folio_job jobs[] = {rn_review_folio, review_since, rn_review_inputs_folio, rn_review_card_folio,
	                                 cases_folio, explained_folio};
	rn_review review = {.document = s->document, .result = s->result, .units = RN_METRIC, .file = "model.xml",
	                    .digest = "0123", .stores = "yard.xml 4567", .command = "funicle report", .libraries = "none",
	                    .answer_digest = "89ab", .answer_command = "funicle solve"};
	rn_status status = RN_OK;
	for (size_t i = 0; i < sizeof jobs / sizeof *jobs && status == RN_OK; i++) {
		rn_folio folio = rn_folio_make(allocator);
		rn_buffer out = rn_buffer_make(allocator);
		status = jobs[i](&folio, &review);
		if (status == RN_OK)
			status = rn_folio_text(&out, &folio);
		rn_folio_release(&folio);
		status = finish(status, &out);
	}
	return status;
}

static rn_status tell_drill(subject *s, const rn_allocator *allocator)
{
	rn_status status = RN_OK;
	for (int key = 0; key < 2 && status == RN_OK; key++) {
		rn_buffer out = rn_buffer_make(allocator);
		rn_drill drill = {.seed = 7, .units = RN_US, .index = 0, .key = key};
		drill.node = rn_drill_node(s->document->model, &s->result->cases[0]);
		status = finish(rn_drill_text(&out, s->result, &drill), &out);
	}
	return status;
}

static void test_memory_ends_while_telling(void **state)
{
	(void)state;
	static const char *const names[] = {"fern-house.xml", "weighed-log.xml", "tag-line-given.xml", "choked-pair.xml",
	                                    "guyed-prop.xml", "branch-down.xml", "photo.xml"};
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		subject s = solved(names[i], NULL, NULL);
		fail_each(tell_check, &s, 0);
		fail_each(tell_folios, &s, 40);
		fail_each(tell_drill, &s, 0);
		subject_end(&s);
	}
}

/* ---- studies and what they tell ------------------------------------------------------------------------ */

static const int steps[] = {2, 1};
static const rn_object no_part = {RN_NODE, RN_NONE};

static rn_status vary(subject *s, const rn_allocator *allocator)
{
	rn_options options = options_with(allocator);
	rn_varied varied = {0};
	rn_status status = rn_vary_find(s->document->model, &options, s->of, s->of_count, steps, no_part, &varied);
	rn_vary_release(&varied);
	return status;
}

static rn_status put(subject *s, const rn_allocator *allocator)
{
	rn_options options = options_with(allocator);
	rn_placed placed = {0};
	rn_status status = rn_place_find(s->document->model, &options, s->of, s->of_count, steps, no_part, &placed);
	rn_place_release(&placed);
	return status;
}

static rn_status solve_it(subject *s, const rn_allocator *allocator)
{
	rn_options options = options_with(allocator);
	rn_result *result = NULL;
	rn_status status = rn_solve(s->document->model, &options, &result);
	rn_result_destroy(result);
	return status;
}

static rn_status find_largest(subject *s, const rn_allocator *allocator)
{
	rn_options options = options_with(allocator);
	rn_largest found = {.at = NULL};
	rn_status status = rn_largest_find(s->document->model, &options, rn_model_object_by_id(s->document->model, "log"), &found);
	rn_largest_release(&found);
	return status;
}

static rn_status find_ranges(subject *s, const rn_allocator *allocator)
{
	rn_options options = options_with(allocator);
	rn_ranges found = {0};
	rn_status status = rn_ranges_find(s->document->model, &options, 0, &found);
	rn_ranges_release(&found);
	return status;
}

static rn_status find_losses(subject *s, const rn_allocator *allocator)
{
	rn_options options = options_with(allocator);
	rn_losses found = {0};
	rn_result *without = NULL;
	rn_status status = rn_solve_without(s->document->model, &options, rn_object_of(RN_LINE, 0), &without);
	if (status == RN_OK)
		status = rn_losses_find(s->result, &options, &found);
	rn_result_destroy(without);
	rn_losses_release(&found);
	return status;
}

static rn_status find_matters(subject *s, const rn_allocator *allocator)
{
	rn_options options = options_with(allocator);
	rn_matters found = {0};
	rn_status status = rn_matters_find(s->result, &options, 0, 0, &found);
	rn_matters_release(&found);
	return status;
}

static rn_status scatter(subject *s, const rn_allocator *allocator)
{
	rn_options options = options_with(allocator);
	rn_scatter_asked asked = {.count = 8, .threads = 1};
	rn_scatter found = {0};
	rn_status status = rn_scatter_find(s->result, &options, &asked, &found);
	rn_scatter_release(&found);
	return status;
}

static rn_status tell_varied(subject *s, const rn_allocator *allocator)
{
	rn_buffer out = rn_buffer_make(allocator);
	rn_answer_options options = {.file = "model.xml", .sha256 = "0123"};
	rn_json_stream json = rn_json_stream_make(&out);
	rn_csv_stream csv = rn_csv_stream_make(&out);
	rn_status status = rn_varied_text(&out, &s->varied, RN_METRIC);
	if (status == RN_OK)
		status = rn_varied_tell(&json.stream, &s->varied, &options);
	if (status == RN_OK)
		status = rn_varied_tell(&csv.stream, &s->varied, &options);
	if (status == RN_OK)
		status = rn_placed_text(&out, &s->placed, RN_US);
	if (status == RN_OK)
		status = rn_placed_tell(&json.stream, &s->placed, &options);
	return finish(status, &out);
}

static rn_status tell_found(subject *s, const rn_allocator *allocator)
{
	rn_folio folio = rn_folio_make(allocator);
	rn_buffer out = rn_buffer_make(allocator);
	rn_answer_options options = {.file = "model.xml", .sha256 = "0123"};
	rn_json_stream json = rn_json_stream_make(&out);
	rn_csv_stream csv = rn_csv_stream_make(&out);
	rn_status status = rn_scatter_folio(&folio, s->result, &s->scatter, RN_METRIC);
	if (status == RN_OK)
		status = rn_folio_text(&out, &folio);
	if (status == RN_OK)
		status = rn_scatter_tell(&json.stream, s->result, &s->scatter, &options);
	if (status == RN_OK)
		status = rn_scatter_tell(&csv.stream, s->result, &s->scatter, &options);
	if (status == RN_OK)
		status = rn_largest_text(&out, &s->largest, RN_US);
	if (status == RN_OK)
		status = rn_largest_tell(&json.stream, &s->largest, &options);
	rn_folio_release(&folio);
	return finish(status, &out);
}

static void test_memory_ends_in_a_study_of_numbers(void **state)
{
	(void)state;
	rn_allocator plain = rn_allocator_default();
	rn_options options = options_with(&plain);
	subject s = solved("two-legs.xml", "b1.x", "log.weight");
	const rn_model *m = s.document->model;
	for (s.of_count = 1; s.of_count <= 2; s.of_count++) {
		rn_object part = s.of_count == 1 ? rn_model_object_by_id(m, "bull") : no_part;
		fail_each(vary, &s, 5);
		fail_each(put, &s, 2);
		assert_int_equal(rn_vary_find(m, &options, s.of, s.of_count, steps, part, &s.varied), RN_OK);
		assert_int_equal(rn_place_find(m, &options, s.of, s.of_count, steps, part, &s.placed), RN_OK);
		fail_each(tell_varied, &s, 0);
		rn_vary_release(&s.varied);
		rn_place_release(&s.placed);
	}
	rn_scatter_asked asked = {.count = 8, .threads = 1};
	fail_each(scatter, &s, 3);
	fail_each(find_largest, &s, 3);
	fail_each(find_ranges, &s, 6);
	fail_each(find_losses, &s, 6);
	fail_each(find_matters, &s, 6);
	assert_int_equal(rn_scatter_find(s.result, &options, &asked, &s.scatter), RN_OK);
	assert_int_equal(rn_largest_find(m, &options, rn_model_object_by_id(m, "log"), &s.largest), RN_OK);
	fail_each(tell_found, &s, 0);
	rn_scatter_release(&s.scatter);
	rn_largest_release(&s.largest);
	subject_end(&s);
}

/* ---- a piece that is caught ------------------------------------------------------------------------------ */

static rn_status catch_it(subject *s, const rn_allocator *allocator)
{
	const rn_model *m = s->document->model;
	rn_options options = options_with(allocator);
	rn_result *result = NULL;
	rn_let_run let_run = {0};
	rn_comparison comparison = {0};
	rn_status status = rn_solve(m, &options, &result);
	if (status == RN_OK)
		status = rn_let_run_find(m, &options, m->falls[0].case_index, &let_run);
	if (status == RN_OK)
		status = rn_comparison_find(m, &options, m->falls[0].case_index, &comparison);
	rn_result_destroy(result);
	rn_let_run_release(&let_run);
	rn_comparison_release(&comparison);
	return status;
}

static rn_status tell_catch(subject *s, const rn_allocator *allocator)
{
	rn_text_options as_text = {.let_runs = &s->let_run, .comparisons = &s->comparison, .catch_count = 1};
	rn_answer_options options = {.let_runs = &s->let_run, .comparisons = &s->comparison, .catch_count = 1};
	rn_buffer out = rn_buffer_make(allocator);
	rn_status status = rn_text_write(&out, s->result, RN_METRIC, &as_text);
	if (status == RN_OK)
		status = rn_json_write(&out, s->result, &options);
	if (status == RN_OK)
		status = rn_csv_write(&out, s->result, &options);
	return finish(status, &out);
}

static void test_memory_ends_in_a_catch(void **state)
{
	(void)state;
	rn_allocator plain = rn_allocator_default();
	rn_options options = options_with(&plain);
	subject s = solved("caught-log.xml", NULL, NULL);
	const rn_model *m = s.document->model;
	assert_true(m->fall_count > 0);
	fail_each(catch_it, &s, 2);
	assert_int_equal(rn_let_run_find(m, &options, m->falls[0].case_index, &s.let_run), RN_OK);
	assert_int_equal(rn_comparison_find(m, &options, m->falls[0].case_index, &s.comparison), RN_OK);
	fail_each(tell_catch, &s, 0);
	fail_each(tell_folios, &s, 40);
	rn_let_run_release(&s.let_run);
	rn_comparison_release(&s.comparison);
	subject_end(&s);
}

/* A case that follows another is settled with its rope held, and so in every study of it. */
static void test_memory_ends_where_a_rope_is_held(void **state)
{
	(void)state;
	subject s = solved("held-rope.xml", NULL, NULL);
	fail_each(solve_it, &s, 6);
	fail_each(find_losses, &s, 2);
	subject_end(&s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_memory_ends_while_reading),
		cmocka_unit_test(test_memory_ends_while_refusing),
		cmocka_unit_test(test_memory_ends_while_telling),
		cmocka_unit_test(test_memory_ends_in_a_study_of_numbers),
		cmocka_unit_test(test_memory_ends_in_a_catch),
		cmocka_unit_test(test_memory_ends_where_a_rope_is_held),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
