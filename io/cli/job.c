/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _POSIX_C_SOURCE 200809L
#include "io/cli/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "io/base/words.h"
#include "io/cli/asked.h"
#include "io/cli/files.h"
#include "io/report/drill.h"
#include "io/xml/near.h"
#include "io/xml/scan.h"

rn_job rn_job_make(const rn_allocator *allocator)
{
	return (rn_job){.allocator = *allocator,
	                .message = rn_buffer_make(allocator),
	                .model_bytes = rn_buffer_make(allocator),
	                .out = rn_buffer_make(allocator),
	                .stores = rn_buffer_make(allocator)};
}

void rn_job_release(rn_job *r)
{
	rn_result_destroy(r->result);
	rn_largest_release(&r->largest);
	rn_vary_release(&r->varied);
	rn_place_release(&r->placed);
	for (int i = 0; i < r->range_count; i++)
		rn_ranges_release(&r->ranges[i]);
	free(r->ranges);
	for (int i = 0; i < r->catch_count; i++) {
		if (r->let_runs)
			rn_let_run_release(&r->let_runs[i]);
		if (r->comparisons)
			rn_comparison_release(&r->comparisons[i]);
	}
	free(r->let_runs);
	free(r->comparisons);
	rn_losses_release(&r->losses);
	rn_matters_release(&r->matters);
	rn_scatter_release(&r->scatter);
	rn_document_destroy(r->document);
	rn_buffer_release(&r->message);
	rn_buffer_release(&r->model_bytes);
	rn_buffer_release(&r->stores);
	rn_buffer_release(&r->out);
}

/* Character by character, for memory may have ended. */
void rn_job_print(const char *text)
{
	while (*text) {
		uint32_t code;
		size_t size = rn_words_character(text, &code);
		if (code == '?')
			fputc('?', stderr);
		else
			fwrite(text, 1, size, stderr);
		text += size;
	}
}

int rn_job_complain(const char *what, const char *why)
{
	fputs("funicle: ", stderr);
	rn_job_print(what);
	fprintf(stderr, "%s%s\n", why ? ": " : "", why ? why : "");
	return EXIT_MACHINE;
}

/* ---- reading ------------------------------------------------------------------------------- */

/* Values of a job stand in these as much as in the model: what changes there changes the answer. */
static void note_store(rn_job *r, const char *href, const rn_buffer *bytes)
{
	char digest[RN_DIGEST_SIZE];
	rn_digest(bytes->bytes ? bytes->bytes : "", bytes->size, digest);
	rn_buffer_text(&r->stores, r->stores.size > 0 ? "; " : "");
	rn_words_plain(&r->stores, href);
	rn_buffer_format(&r->stores, ", SHA-256 %s", digest);
}

static rn_status fetch_store(void *context, const char *href, char **bytes_out, size_t *size_out,
                             const char **reason_out)
{
	rn_job *r = context;
	rn_buffer bytes = rn_buffer_make(&r->allocator);
	*reason_out = rn_files_read_beside(r->command.model, href, RN_SCAN_BYTES_MOST, &bytes);
	rn_status status = rn_buffer_status(&bytes);
	if (status == RN_OK && *reason_out)
		status = RN_STATUS_INPUT;
	if (status != RN_OK) {
		rn_buffer_release(&bytes);
		return status;
	}
	note_store(r, href, &bytes);
	*bytes_out = bytes.bytes;
	*size_out = bytes.size;
	return RN_OK;
}

static void print_diagnostics(rn_job *r)
{
	rn_document_print(&r->message, r->document);
	if (r->message.size > 0)
		fwrite(r->message.bytes, 1, r->message.size, stderr);
}

const char *rn_job_model_name(const rn_job *r)
{
	return strcmp(r->command.model, "-") == 0 ? "standard input" : r->command.model;
}

typedef struct preparing {
	const rn_job *job;
	rn_asked *asked;
} preparing;

unsigned long rn_job_seed(const rn_job *r)
{
	return r->command.seed ? strtoul(r->command.seed, NULL, 10) : 1;
}

/* What the command line asks besides what the file says. */
static rn_status prepare_model(void *context, rn_model *model)
{
	const preparing *p = context;
	if (p->job->command.verb == RN_VERB_DRILL)
		return rn_drill_change(model, rn_job_seed(p->job), p->job->command.units);
	return rn_asked_prepare(p->asked, model);
}

int rn_job_read(rn_job *r)
{
	const char *path = r->command.model;
	const char *why = rn_files_read(path, RN_SCAN_BYTES_MOST, &r->model_bytes);
	if (why) { /* a model that cannot be had is no model, and no fault of the machine */
		rn_job_complain(path, why);
		if (strcmp(path, "help") == 0 || strcmp(path, "version") == 0)
			fprintf(stderr, "    did you mean funicle --%s?\n", path);
		return EXIT_INPUT;
	}
	if (rn_buffer_status(&r->model_bytes) != RN_OK)
		return rn_job_complain("out of memory", NULL);
	rn_digest(r->model_bytes.bytes, r->model_bytes.size, r->digest);
	rn_fetch fetch = {fetch_store, r};
	rn_asked asked = {.falls = r->command.verb == RN_VERB_FALL || r->command.drop,
	                  .studied = r->command.let_run || r->command.compare,
	                  .drop = r->command.drop,
	                  .below = r->command.below,
	                  .hand = r->command.hand,
	                  .piece = r->command.piece_id,
	                  .message = &r->message};
	rn_prepare prepare = {prepare_model, &(preparing){r, &asked}};
	rn_status status = rn_document_read_prepared(&r->allocator, rn_job_model_name(r), r->model_bytes.bytes,
	                                             r->model_bytes.size, &fetch, &prepare, &r->document);
	if (status == RN_STATUS_ARGUMENT) {
		rn_job_complain(r->message.bytes ? r->message.bytes : "out of memory", NULL);
		return EXIT_USAGE;
	}
	if (r->document)
		print_diagnostics(r);
	if (status == RN_STATUS_MEMORY)
		return rn_job_complain(rn_status_text(status), NULL);
	return status == RN_OK ? EXIT_NONE_OVER : EXIT_INPUT;
}

/* ---- delivering ------------------------------------------------------------------------------ */

/* An answer never takes the place of what it was made from. */
static const char *why_not_over(const rn_job *r, const char *path)
{
	if (r->command.model && rn_files_same(path, r->command.model))
		return "it is the model itself";
	if (r->command.since && rn_files_same(path, r->command.since))
		return "it is the model that --since names";
	for (int i = 1; r->document && i < r->document->file_count; i++)
		if (rn_files_is_beside(r->command.model, r->document->files[i], path))
			return "it is a gear file of the model";
	return NULL;
}

int rn_job_deliver_to(rn_job *r, const char *path, rn_status status)
{
	if (status == RN_OK)
		status = rn_buffer_status(&r->out);
	if (status != RN_OK)
		return rn_job_complain(rn_status_text(status), NULL);
	const char *why = path ? why_not_over(r, path) : NULL;
	if (!why)
		why = rn_files_write(path, &r->out);
	if (why)
		return rn_job_complain(path ? path : "standard output", why);
	return EXIT_NONE_OVER;
}

int rn_job_deliver(rn_job *r, rn_status status)
{
	return rn_job_deliver_to(r, r->command.output, status);
}

/* ---- what was asked for ----------------------------------------------------------------------- */

/* The case asked for, else the one with the closest part, else the first without an answer. */
int rn_job_case(const rn_job *r)
{
	const rn_model *model = r->document->model;
	const rn_verdict *verdict = &r->result->verdict;
	if (!r->command.case_id && verdict->worst_case != RN_NONE)
		return verdict->worst_case;
	for (int i = 0; !r->command.case_id && i < r->result->case_count; i++)
		if (r->result->cases[i].outcome == RN_OUTCOME_NO_EQUILIBRIUM ||
		    r->result->cases[i].outcome == RN_OUTCOME_NOT_FOUND)
			return i;
	if (!r->command.case_id)
		return 0;
	rn_object found = rn_model_object_by_id(model, r->command.case_id);
	return found.kind == RN_CASE ? found.index : RN_NONE;
}

int rn_job_unknown_case(const rn_job *r)
{
	const rn_model *model = r->document->model;
	fputs("funicle: there is no case \"", stderr);
	rn_job_print(r->command.case_id);
	fputs("\"; the model has", stderr);
	for (int i = 0; i < model->case_count; i++)
		fprintf(stderr, "%s %s", i ? "," : "", model->cases[i].id);
	fputc('\n', stderr);
	return EXIT_USAGE;
}

/* The name nearest to it among nodes or stems; NULL when none is near. */
static const char *near_name(const rn_model *m, const char *kind, const char *id)
{
	bool stems = strcmp(kind, "stem") == 0;
	rn_near near = rn_near_begin(id);
	for (int i = 0; i < (stems ? m->stem_count : m->node_count); i++)
		rn_near_offer(&near, rn_object_id(m, rn_object_of(stems ? RN_STEM : RN_NODE, i)));
	return near.best;
}

int rn_job_unknown(const rn_job *r, const char *kind, const char *id)
{
	const char *name = id ? id : "", *near = near_name(r->document->model, kind, name);
	fprintf(stderr, "funicle: there is no %s \"", kind);
	rn_job_print(name);
	if (near)
		fprintf(stderr, "\"; did you mean %s?\n", near);
	else
		fputs("\"\n", stderr);
	return EXIT_USAGE;
}

/* The object of that kind called so; RN_NONE: none is, or `id` is NULL. */
int rn_job_named(const rn_job *r, rn_object_kind kind, const char *id)
{
	rn_object found = rn_object_of(kind, RN_NONE);
	if (id)
		found = rn_model_object_by_id(r->document->model, id);
	return found.kind == kind ? found.index : RN_NONE;
}

/* A working, a polygon or a diagram of what has no answer, or carries nothing. */
int rn_job_nothing_there(const rn_job *r)
{
	fprintf(stderr, "funicle: the case has no answer there, or nothing pulls on that node, or that stem has no section\n");
	int verdict = r->result->verdict.exit_class;
	return verdict >= EXIT_NO_EQUILIBRIUM ? verdict : EXIT_USAGE;
}
