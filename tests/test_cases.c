/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Published and independently found numbers as data: every NAME.xml in RN_TESTS_DIR/cases,
 * RN_TESTS_DIR/kept-cases and RN_TESTS_DIR/hard that has a NAME.expect with rows
 *
 *     row | quantity | expected | tolerance | source
 *
 * (io/report/question.h) is read, solved and held against them. Lines that begin with # and, in hard/, the rows
 * `exit`, `message`, `node`, `line` (they are hard.sh's) are passed over.
 */
#define _POSIX_C_SOURCE 200809L
#include <dirent.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/report/question.h"
#include "io/xml/reader.h"
#include "solver/funicle.h"

enum { file_max = 1 << 20, case_max = 1000, case_least = 150 };

typedef struct test_file {
	char folder[512], name[128];
} test_file;

/* ---- files ----------------------------------------------------------------------------------- */

static char *read_file(const test_file *file, const char *suffix, size_t *size_out)
{
	char path[1024];
	snprintf(path, sizeof path, "%s/%s%s", file->folder, file->name, suffix);
	FILE *stream = fopen(path, "rb");
	if (stream == NULL)
		fail_msg("cannot read %s", path);
	char *bytes = malloc(file_max + 1);
	assert_non_null(bytes);
	*size_out = fread(bytes, 1, file_max, stream);
	assert_int_equal(fclose(stream), 0);
	bytes[*size_out] = '\0';
	return bytes;
}

static int check_rows(const rn_result *result, const char *text)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer why = rn_buffer_make(&allocator);
	rn_question q;
	int rows = 0;
	for (; rn_question_next(&text, &q); rows++) {
		rn_reply r;
		if (!rn_question_ask(result, &q, &r, &why))
			fail_msg("%s: %s: %s", q.row, q.quantity, why.bytes);
		if (!r.agrees)
			fail_msg("%s: %s is %.10g, expected %.10g %s within %s (%s)", q.row, q.quantity, r.actual, r.expected,
			         r.unit, q.tolerance, q.source);
	}
	rn_buffer_release(&why);
	return rows;
}

/* Rows of five fields ask the solver; a file may have none of them. */
static bool has_rows(const char *text)
{
	rn_question q;
	return rn_question_next(&text, &q);
}

static rn_result *solve(const rn_model *model)
{
	rn_options options = rn_options_default();
	rn_result *result = NULL;
	assert_int_equal(rn_solve(model, &options, &result), RN_OK);
	return result;
}

static void test_case(void **state)
{
	const test_file *file = *state;
	size_t size = 0, expect_size = 0;
	char *expect = read_file(file, ".expect", &expect_size);
	char *bytes = read_file(file, ".xml", &size);
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	rn_status status = rn_document_read(&allocator, file->name, bytes, size, NULL, &document);
	if (status != RN_OK)
		fail_msg("%s.xml: %s", file->name,
		         document && document->diagnostic_count ? document->diagnostics[0].text
		                                                : rn_status_text(status));
	rn_result *result = solve(document->model);
	assert_true(check_rows(result, expect) > 0);
	rn_result_destroy(result);
	rn_document_destroy(document);
	free(bytes);
	free(expect);
}

/* ---- finding the files ----------------------------------------------------------------------- */

static int by_name(const void *a, const void *b)
{
	return strcmp(((const test_file *)a)->name, ((const test_file *)b)->name);
}

static int find_files(const char *folder, test_file *files, int count)
{
	DIR *open = opendir(folder);
	if (open == NULL)
		return count;
	for (struct dirent *entry; (entry = readdir(open)) != NULL;) {
		size_t size = strlen(entry->d_name);
		if (size < 8 || size >= sizeof files->name || strcmp(entry->d_name + size - 7, ".expect") != 0)
			continue;
		test_file file = {0};
		snprintf(file.folder, sizeof file.folder, "%s", folder);
		memcpy(file.name, entry->d_name, size - 7);
		size_t bytes = 0;
		char *text = read_file(&file, ".expect", &bytes);
		if (has_rows(text) && count < case_max)
			files[count++] = file;
		free(text);
	}
	closedir(open);
	return count;
}

int main(void)
{
	static test_file files[case_max];
	static struct CMUnitTest tests[case_max];
	int count = find_files(RN_TESTS_DIR "/cases", files, 0);
	count = find_files(RN_TESTS_DIR "/kept-cases", files, count);
	count = find_files(RN_TESTS_DIR "/hard", files, count);
	if (count < case_least) {
		fprintf(stderr, "only %d cases found in %s\n", count, RN_TESTS_DIR);
		return 1;
	}
	qsort(files, (size_t)count, sizeof *files, by_name);
	for (int i = 0; i < count; i++)
		tests[i] = (struct CMUnitTest){files[i].name, test_case, NULL, NULL, &files[i]};
	return _cmocka_run_group_tests("cases", tests, (size_t)count, NULL, NULL);
}
