/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _POSIX_C_SOURCE 200809L
#include "io/cli/verbs.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "io/base/words.h"
#include "io/report/csv.h"
#include "io/report/json.h"
#include "io/report/losses.h"
#include "io/report/ranges.h"
#include "io/report/text.h"

static bool is_set(const char *variable)
{
	const char *value = getenv(variable);
	return value && *value;
}

/* Bold goes only to a terminal that shows it and whose owner wants it. */
static bool shows_bold(const rn_job *r)
{
	const char *terminal = getenv("TERM");
	return !r->command.output && isatty(STDOUT_FILENO) && !is_set("NO_COLOR") && terminal &&
	       *terminal && strcmp(terminal, "dumb") != 0;
}

static const rn_matters *matters_of(const rn_job *r)
{
	return r->command.matters ? &r->matters : NULL;
}

/* "every" is each part in its turn, unless a part is called that. */
static bool loses_every(const rn_job *r)
{
	return r->command.without && strcmp(r->command.without, "every") == 0 &&
	       rn_model_object_by_id(r->document->model, "every").index == RN_NONE;
}

static rn_status write_answer(rn_job *r)
{
	bool every = loses_every(r);
	const rn_losses *losses = every ? &r->losses : NULL;
	const char *without = every ? NULL : r->command.without;
	rn_answer_options options = {r->command.model, r->digest, r->command.units, r->ranges, r->range_count, losses,
	                             matters_of(r), r->let_runs, r->comparisons, r->catch_count, without};
	rn_text_options text = {shows_bold(r), r->ranges, r->range_count, losses, matters_of(r),
	                        r->let_runs, r->comparisons, r->catch_count, without};
	switch (r->command.format) {
	case RN_FORMAT_JSON: return rn_json_write(&r->out, r->result, &options);
	case RN_FORMAT_CSV: return rn_csv_write(&r->out, r->result, &options);
	case RN_FORMAT_TEXT: break;
	}
	return rn_text_write(&r->out, r->result, r->command.units, &text);
}

/* Of the cases made by the program one is enough: they are ends of the same box. */
static bool is_ranged(const rn_model *m, int c)
{
	return m->cases[c].fall == RN_NONE && (!m->cases[c].made || c == 0);
}

rn_status rn_verb_find_ranges(rn_job *r, const rn_options *options)
{
	const rn_model *m = r->document->model;
	r->ranges = calloc((size_t)m->case_count + 1, sizeof *r->ranges);
	if (!r->ranges)
		return RN_STATUS_MEMORY;
	for (int c = 0; c < m->case_count; c++)
		if (is_ranged(m, c)) {
			rn_status status = rn_ranges_find(m, options, c, &r->ranges[r->range_count]);
			if (status != RN_OK)
				return status;
			r->range_count++;
		}
	return RN_OK;
}

/* The part asked for in the case in which it is closest to its limit, else pulled hardest; RN_NONE: there is
 * no such part. */
static int case_of_part(const rn_result *result, rn_object object, int *part_out)
{
	int found = RN_NONE;
	double most = -1;
	for (int c = 0; c < result->case_count; c++)
		for (int p = 0; p < result->cases[c].part_count; p++) {
			const rn_part_result *part = &result->cases[c].parts[p];
			double share = part->unchecked == RN_CHECKED ? 1e9 + part->utilisation : part->demand;
			bool is_it = part->object.kind == object.kind && part->object.index == object.index;
			if (!is_it || result->cases[c].outcome != RN_OUTCOME_SETTLED || share <= most ||
			    result->cases[c].caught.fall != RN_NONE)
				continue;
			most = share;
			found = c;
			*part_out = p;
		}
	return found;
}

/* The closest part of the cases that come to rest, RN_NONE: none is checked there. */
static int closest_at_rest(const rn_result *result, int *part_out)
{
	int found = RN_NONE;
	double most = 0;
	for (int c = 0; c < result->case_count; c++) {
		const rn_case_result *a = &result->cases[c];
		for (int p = 0; p < a->part_count; p++) {
			bool counts = a->outcome == RN_OUTCOME_SETTLED && a->caught.fall == RN_NONE &&
			              a->parts[p].unchecked == RN_CHECKED && a->parts[p].utilisation > most;
			if (!counts)
				continue;
			most = a->parts[p].utilisation;
			found = c;
			*part_out = p;
		}
	}
	return found;
}

static int find_matters(rn_job *r, const rn_options *options)
{
	const rn_verdict *v = &r->result->verdict;
	int part = v->worst_part, c = v->worst_case;
	if (c != RN_NONE && r->result->cases[c].caught.fall != RN_NONE)
		c = closest_at_rest(r->result, &part);
	rn_object named = rn_model_object_by_id(r->document->model, r->command.matters);
	if (named.index != RN_NONE || strcmp(r->command.matters, "closest") != 0)
		c = named.index == RN_NONE ? RN_NONE : case_of_part(r->result, named, &part);
	rn_status status = c == RN_NONE ? RN_STATUS_ARGUMENT
	                                : rn_matters_find(r->result, options, c, part, &r->matters);
	if (status == RN_STATUS_ARGUMENT) {
		fprintf(stderr, "funicle: --matters: there is no such part with a settled answer\n");
		return EXIT_USAGE;
	}
	return status == RN_OK ? EXIT_NONE_OVER : rn_job_complain(rn_status_text(status), NULL);
}

/* What is asked about every fall besides what becomes of it. */
static rn_status find_catches(rn_job *r, const rn_options *options)
{
	const rn_model *m = r->document->model;
	size_t room = (size_t)m->fall_count + 1;
	r->let_runs = r->command.let_run ? calloc(room, sizeof *r->let_runs) : NULL;
	r->comparisons = r->command.compare ? calloc(room, sizeof *r->comparisons) : NULL;
	if ((r->command.let_run && !r->let_runs) || (r->command.compare && !r->comparisons))
		return RN_STATUS_MEMORY;
	for (int i = 0; i < m->fall_count; i++) {
		rn_status status = RN_OK;
		if (r->command.let_run)
			status = rn_let_run_find(m, options, m->falls[i].case_index, &r->let_runs[i]);
		if (status == RN_OK && r->command.compare)
			status = rn_comparison_find(m, options, m->falls[i].case_index, &r->comparisons[i]);
		r->catch_count = i + 1;
		if (status != RN_OK)
			return status;
	}
	return RN_OK;
}

static int refuse_let_run(void)
{
	fprintf(stderr, "funicle: --let-run: no line of the model is held by a bollard or a hand that could let it run, or "
	                "it is not plain which\n");
	return EXIT_USAGE;
}

int rn_verb_solve(rn_job *r, const rn_options *options)
{
	int matters = r->command.matters ? find_matters(r, options) : EXIT_NONE_OVER;
	if (matters)
		return matters;
	rn_status status = find_catches(r, options);
	if (status == RN_STATUS_ARGUMENT)
		return refuse_let_run();
	if (status == RN_OK && r->command.ranges)
		status = rn_verb_find_ranges(r, options);
	if (status == RN_OK && loses_every(r))
		status = rn_losses_find(r->result, options, &r->losses);
	int code = status == RN_OK ? rn_job_deliver(r, write_answer(r)) : rn_job_complain(rn_status_text(status), NULL);
	int verdict = r->result->verdict.exit_class;
	bool jolt = r->command.without && !loses_every(r) && rn_losses_over_at_jolt(r->result);
	bool over = jolt || rn_ranges_over(r->ranges, r->range_count);
	return code ? code : verdict == EXIT_NONE_OVER && over ? 1 : verdict;
}

static rn_status settle(rn_job *r, const rn_options *options)
{
	const rn_model *m = r->document->model;
	if (!r->command.without || loses_every(r))
		return rn_solve(m, options, &r->result);
	rn_object part = rn_model_object_by_id(m, r->command.without);
	return part.index == RN_NONE ? RN_STATUS_ARGUMENT : rn_solve_without(m, options, part, &r->result);
}

static int refuse_part(const rn_job *r)
{
	fputs("funicle: nothing called \"", stderr);
	rn_job_print(r->command.without);
	fputs("\" can let go: name a line, sling, anchor, ring, block, connector or stem, or every\n", stderr);
	return EXIT_USAGE;
}

int rn_verb_settle(rn_job *r, const rn_options *options)
{
	rn_status status = settle(r, options);
	if (status == RN_STATUS_ARGUMENT)
		return refuse_part(r);
	return status == RN_OK ? EXIT_NONE_OVER : rn_job_complain(rn_status_text(status), NULL);
}
