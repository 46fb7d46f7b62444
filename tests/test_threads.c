/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What doc/library.md promises about threads: each reads and solves a model of its own, or all solve one that none
 * changes, and every answer is, byte for byte, that of one thread alone. tests/long.sh builds this with -fsanitize=thread
 * as well, which sees what two threads touch even when the bytes come out alike.
 */
#include <pthread.h>
#include <setjmp.h>
#include <stdarg.h>

#include <cmocka.h>
#include <libxml/parser.h>

#include "io/report/json.h"
#include "tests/models.h"

enum { THREADS = 4, ROUNDS = 3 };

/* Friction, cases that follow, stems that give, a catch, and a picture, whose ranges are GLPK's. */
static const char *const names[] = {"fern-house.xml", "photo.xml", "held-rope.xml", "guyed-stem.xml", "caught-log.xml"};
enum { NAMES = sizeof names / sizeof *names };

/* cmocka's assertions jump, and only in the first thread: what went wrong is counted, and asked about there. */
typedef struct worker {
	pthread_t thread;
	int first;              /* of names, own models */
	const rn_model *shared; /* or this one, which others solve meanwhile */
	const rn_buffer *expected;
	int wrong;
} worker;

static bool answer(const rn_model *model, rn_buffer *out)
{
	rn_options options = rn_options_default();
	rn_answer_options form = {.units = RN_METRIC};
	rn_result *result = NULL;
	bool well = rn_solve(model, &options, &result) == RN_OK && rn_json_write(out, result, &form) == RN_OK;
	rn_result_destroy(result);
	return well;
}

static rn_document *read_model(const char *name)
{
	char path[1024];
	size_t size;
	snprintf(path, sizeof path, "%s/%s", RN_MODELS_DIR, name);
	char *bytes = models_slurp(path, &size);
	rn_allocator allocator = rn_allocator_default();
	rn_fetch fetch = {models_fetch, NULL};
	rn_document *document = NULL;
	if (bytes && rn_document_read(&allocator, name, bytes, size, &fetch, &document) != RN_OK) {
		rn_document_destroy(document);
		document = NULL;
	}
	free(bytes);
	return document;
}

static bool is_same(const rn_model *model, const rn_buffer *expected)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer out = rn_buffer_make(&allocator);
	bool same = answer(model, &out) && out.size == expected->size && memcmp(out.bytes, expected->bytes, out.size) == 0;
	rn_buffer_release(&out);
	return same;
}

static void *work(void *context)
{
	worker *w = context;
	for (int i = 0; i < ROUNDS * NAMES; i++) {
		int name = (w->first + i) % NAMES;
		rn_document *own = w->shared ? NULL : read_model(names[name]);
		const rn_model *model = w->shared ? w->shared : own ? own->model : NULL;
		w->wrong += !model || !is_same(model, &w->expected[w->shared ? w->first : name]);
		rn_document_destroy(own);
		if (w->shared && i == ROUNDS)
			break;
	}
	return NULL;
}

static void run(worker workers[THREADS])
{
	for (int i = 0; i < THREADS; i++)
		assert_int_equal(pthread_create(&workers[i].thread, NULL, work, &workers[i]), 0);
	int wrong = 0;
	for (int i = 0; i < THREADS; i++) {
		assert_int_equal(pthread_join(workers[i].thread, NULL), 0);
		wrong += workers[i].wrong;
	}
	assert_int_equal(wrong, 0);
}

static rn_document *documents[NAMES];
static rn_buffer expected[NAMES];

static int set_up(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	xmlInitParser(); /* before a second thread reads */
	for (int i = 0; i < NAMES; i++) {
		documents[i] = read_model(names[i]);
		expected[i] = rn_buffer_make(&allocator);
		if (!documents[i] || !answer(documents[i]->model, &expected[i]) || expected[i].size < 1000)
			return -1;
	}
	return 0;
}

static int tear_down(void **state)
{
	(void)state;
	for (int i = 0; i < NAMES; i++) {
		rn_document_destroy(documents[i]);
		rn_buffer_release(&expected[i]);
	}
	return 0;
}

static void test_each_its_own_model(void **state)
{
	(void)state;
	worker workers[THREADS];
	for (int i = 0; i < THREADS; i++)
		workers[i] = (worker){.first = i, .expected = expected};
	run(workers);
}

static void test_all_one_model(void **state)
{
	(void)state;
	for (int name = 0; name < NAMES; name++) {
		worker workers[THREADS];
		for (int i = 0; i < THREADS; i++)
			workers[i] = (worker){.first = name, .shared = documents[name]->model, .expected = expected};
		run(workers);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_each_its_own_model),
		cmocka_unit_test(test_all_one_model),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
