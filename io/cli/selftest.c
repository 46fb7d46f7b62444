/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/base/pool.h"
#include "io/cli/endorsed.h"
#include "io/cli/verbs.h"
#include "io/report/csv_stream.h"
#include "io/report/json_stream.h"
#include "io/report/selftest.h"

typedef struct asker {
	rn_pool pool;
	rn_selftest found;
	size_t capacity;
	rn_buffer why; /* scratch */
} asker;

static rn_asked_row *add_row(asker *a)
{
	size_t count = (size_t)a->found.count;
	rn_asked_row *grown = rn_pool_grow(&a->pool, a->found.rows, count, &a->capacity, sizeof *grown);
	if (!grown)
		return NULL;
	a->found.rows = grown;
	a->found.count++;
	return &grown[count];
}

/* `result` NULL: the model could not even be read or solved, as `why` says. */
static rn_status ask_rows(asker *a, const rn_endorsed *e, const rn_result *result, const char *why)
{
	const char *text = e->rows;
	rn_question question;
	while (rn_question_next(&text, &question)) {
		rn_asked_row *row = add_row(a);
		if (!row)
			return RN_STATUS_MEMORY;
		*row = (rn_asked_row){.model = e->name, .question = question, .why = why};
		a->why.size = 0;
		if (result && !rn_question_ask(result, &question, &row->reply, &a->why))
			row->why = rn_pool_copy(&a->pool, a->why.bytes ? a->why.bytes : "", a->why.size);
	}
	a->found.model_count++;
	return a->pool.failed || a->why.failed ? RN_STATUS_MEMORY : RN_OK;
}

static rn_status ask_case(asker *a, const rn_endorsed *e, const rn_options *options)
{
	rn_document *document = NULL;
	rn_result *result = NULL;
	rn_status status = rn_document_read(&options->allocator, e->name, e->model, e->model_size, NULL, &document);
	if (status == RN_OK)
		status = rn_solve(document->model, options, &result);
	if (status != RN_STATUS_MEMORY)
		status = ask_rows(a, e, result, result ? NULL : rn_status_text(status));
	rn_result_destroy(result);
	rn_document_destroy(document);
	return status;
}

static const char build[] =
#ifdef __VERSION__
	"built by compiler " __VERSION__ ", "
#endif
	"for "
#if defined(__x86_64__)
	"x86-64"
#elif defined(__aarch64__)
	"arm64"
#else
	"another kind of machine"
#endif
	;

static rn_status write(rn_job *r, const rn_selftest *found)
{
	if (r->command.format == RN_FORMAT_TEXT)
		return rn_selftest_text(&r->out, found);
	if (r->command.format == RN_FORMAT_CSV) {
		rn_csv_stream csv = rn_csv_stream_make(&r->out);
		return rn_selftest_tell(&csv.stream, found);
	}
	rn_json_stream json = rn_json_stream_make(&r->out);
	return rn_selftest_tell(&json.stream, found);
}

int rn_verb_selftest(rn_job *r, const rn_options *options)
{
	asker a = {.pool = rn_pool_make(&r->allocator), .why = rn_buffer_make(&r->allocator),
	           .found = {.libraries = RN_LIBRARIES, .build = build}};
	rn_status status = RN_OK;
	for (int i = 0; i < rn_endorsed_count && status == RN_OK; i++)
		status = ask_case(&a, &rn_endorsed_cases[i], options);
	if (status == RN_OK)
		status = write(r, &a.found);
	bool all = rn_selftest_agreeing(&a.found) == a.found.count;
	int code = rn_job_deliver(r, status);
	rn_buffer_release(&a.why);
	rn_pool_release(&a.pool);
	return code ? code : all ? EXIT_NONE_OVER : EXIT_NOT_FOUND;
}
