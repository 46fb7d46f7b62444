/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _POSIX_C_SOURCE 200809L
#include "io/cli/verbs.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

#include "io/cli/bounds.h"
#include "io/cli/files.h"
#include "io/cli/paper.h"
#include "io/report/csv_stream.h"
#include "io/report/json_stream.h"
#include "io/report/scatter.h"

/* ---- what is asked ---------------------------------------------------------------------------------- */

static int refuse(rn_job *r, const char *text)
{
	fputs("funicle: --between \"", stderr);
	rn_job_print(text);
	fputs("\": ", stderr);
	rn_job_print(r->message.bytes ? r->message.bytes : "out of memory");
	fputc('\n', stderr);
	return EXIT_USAGE;
}

static int read_ranges(rn_job *r, rn_between *ranges)
{
	for (int i = 0; i < r->command.between_count; i++) {
		rn_bounds bounds;
		if (!rn_bounds_read(r->command.between[i], r->document->model, &bounds, &r->message))
			return refuse(r, r->command.between[i]);
		ranges[i] = (rn_between){.number = bounds.number, .low = bounds.low, .high = bounds.high};
		for (int k = 0; k < i; k++)
			if (ranges[k].number == bounds.number) {
				rn_buffer_text(&r->message, "this number is given twice");
				return refuse(r, r->command.between[i]);
			}
	}
	return EXIT_NONE_OVER;
}

/* One for each processor, which changes nothing but the time it takes. */
static int threads_of(const rn_job *r)
{
	long processors = sysconf(_SC_NPROCESSORS_ONLN);
	if (r->command.threads)
		return (int)strtol(r->command.threads, NULL, 10);
	return processors < 1 ? 1 : processors > RN_THREADS_MOST ? RN_THREADS_MOST : (int)processors;
}

/* Sobol's points fill their cube evenly at every power of two; this many settle in seconds. */
enum { TRIALS = 4096 };

static int trials_of(const rn_job *r)
{
	return r->command.trials ? (int)strtol(r->command.trials, NULL, 10) : TRIALS;
}

/* ---- on the way ------------------------------------------------------------------------------------ */

typedef struct watching {
	time_t told; /* when it was told last [s] */
	bool any;
} watching;

static void tell_progress(void *context, int done, int count)
{
	watching *w = context;
	time_t now = time(NULL);
	if (now == w->told)
		return;
	w->told = now;
	w->any = true;
	fprintf(stderr, "\r%d of %d trials", done, count);
	fflush(stderr);
}

static void end_progress(const watching *w)
{
	if (w->any)
		fputs("\r\033[K", stderr);
}

/* ---- the answer ------------------------------------------------------------------------------------- */

static rn_status write_scatter(rn_job *r)
{
	rn_answer_options options = {.file = r->command.model, .sha256 = r->digest, .units = r->command.units};
	if (r->command.format == RN_FORMAT_CSV) {
		rn_csv_stream csv = rn_csv_stream_make(&r->out);
		return rn_scatter_tell(&csv.stream, r->result, &r->scatter, &options);
	}
	if (r->command.format == RN_FORMAT_JSON) {
		rn_json_stream json = rn_json_stream_make(&r->out);
		return rn_scatter_tell(&json.stream, r->result, &r->scatter, &options);
	}
	rn_folio folio = rn_folio_make(&r->allocator);
	rn_status status = rn_scatter_folio(&folio, r->result, &r->scatter, r->command.units);
	if (status == RN_OK)
		status = rn_paper_write(r, &folio);
	rn_folio_release(&folio);
	return status;
}

static int refuse_model(const rn_job *r)
{
	rn_job_complain(rn_job_model_name(r), r->document->model->drawn_under_load
	                ? "a picture under load fits no other numbers than those it was drawn with"
	                : "no number in it has a range: give one (--between log.weight=-10..+25 %)");
	return r->document->model->drawn_under_load ? EXIT_INPUT : EXIT_USAGE;
}

static rn_status find(rn_job *r, const rn_options *options, const rn_scatter_asked *asked)
{
	watching watch = {.told = time(NULL)};
	rn_scatter_asked watched = *asked;
	rn_options stoppable = *options;
	if (!r->command.quiet && isatty(STDERR_FILENO)) {
		watched.progress = tell_progress;
		watched.context = &watch;
	}
	stoppable.stop = rn_files_catch_interrupt();
	rn_status status = rn_scatter_find(r->result, &stoppable, &watched, &r->scatter);
	rn_files_release_interrupt();
	end_progress(&watch);
	return status;
}

int rn_verb_scatter(rn_job *r, const rn_options *options)
{
	rn_between ranges[RN_BETWEEN_MOST];
	int code = read_ranges(r, ranges);
	if (code)
		return code;
	rn_scatter_asked asked = {.ranges = ranges, .range_count = r->command.between_count, .count = trials_of(r),
	                          .threads = threads_of(r)};
	rn_status status = find(r, options, &asked);
	if (status == RN_STATUS_ARGUMENT)
		return refuse_model(r);
	if (status == RN_STATUS_STOPPED)
		rn_files_end_by_interrupt();
	if (status != RN_OK)
		return rn_job_complain(rn_status_text(status), NULL);
	code = rn_job_deliver(r, write_scatter(r));
	return code ? code : rn_scatter_exit(r->result, &r->scatter);
}
