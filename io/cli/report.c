/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "io/base/words.h"
#include "io/cli/paper.h"
#include "io/cli/verbs.h"
#include "io/report/json.h"
#include "io/report/ranges.h"
#include "io/report/review.h"

/* ---- what is asked besides the answer ------------------------------------------------------------------ */

/* The largest piece where there is no doubt which one is asked about. */
static rn_status find_largest(rn_job *r, const rn_options *options, bool *found_out)
{
	const rn_model *m = r->document->model;
	rn_object piece = rn_verb_weighed_piece(m, 0);
	if (r->command.piece_id)
		piece = rn_model_object_by_id(m, r->command.piece_id);
	*found_out = piece.index != RN_NONE && (r->command.piece_id || rn_verb_weighed_piece(m, 1).index == RN_NONE);
	rn_status status = *found_out ? rn_largest_find(m, options, piece, &r->largest) : RN_OK;
	*found_out = *found_out && status == RN_OK;
	return status == RN_STATUS_ARGUMENT ? RN_OK : status;
}

/* An earlier edition is a model like any other, and is asked the same. */
static int read_since(const rn_job *r, const rn_options *options, rn_job *old)
{
	old->command = r->command;
	old->command.model = r->command.since;
	int code = rn_job_read(old);
	if (code)
		return code;
	rn_status status = rn_solve(old->document->model, options, &old->result);
	return status == RN_OK ? EXIT_NONE_OVER : rn_job_complain(rn_status_text(status), NULL);
}

static void add_command(const rn_job *r, rn_buffer *typed)
{
	rn_buffer_text(typed, "funicle");
	for (int i = 1; i < r->word_count; i++) {
		rn_buffer_char(typed, ' ');
		rn_words_plain(typed, r->words[i]);
	}
}

static void add_asked(rn_buffer *typed, const char *option, const char *value)
{
	if (!value)
		return;
	rn_buffer_format(typed, " %s \"", option);
	rn_words_plain(typed, value);
	rn_buffer_char(typed, '"');
}

/* What gives the same answer again. */
static void add_copy_command(const rn_job *r, rn_buffer *typed)
{
	rn_buffer_text(typed, "funicle solve ");
	rn_words_plain(typed, r->command.model);
	rn_buffer_text(typed, " --format json");
	rn_buffer_text(typed, r->command.units == RN_US ? " --units us" : "");
	add_asked(typed, "--drop", r->command.drop);
	add_asked(typed, "--below", r->command.below);
	add_asked(typed, "--hand", r->command.hand);
	add_asked(typed, "--piece", r->command.drop ? r->command.piece_id : NULL);
}

/* ---- writing ------------------------------------------------------------------------------------------- */

/* "dir/name.pdf": "dir/name.json" */
static void add_copy_path(const char *path, rn_buffer *out)
{
	const char *slash = strrchr(path, '/'), *dot = strrchr(path, '.');
	size_t stem = dot && dot > (slash ? slash + 1 : path) ? (size_t)(dot - path) : strlen(path);
	rn_buffer_add(out, path, stem);
	rn_buffer_text(out, ".json");
}

/* The answer for machines, its digest, and beside a report that is a file the answer itself: pages are set last, by a
 * library that ends a process that is out of memory, and by then the numbers are safe. */
static int copy_answer(rn_job *r, char digest_out[RN_DIGEST_SIZE])
{
	rn_answer_options options = {.file = r->command.model, .sha256 = r->digest, .units = r->command.units};
	rn_status status = rn_json_write(&r->out, r->result, &options);
	int code = EXIT_NONE_OVER;
	rn_digest(r->out.bytes ? r->out.bytes : "", r->out.size, digest_out);
	if (rn_paper_is(r, ".pdf") || rn_paper_is(r, ".html")) {
		rn_buffer path = rn_buffer_make(&r->allocator);
		add_copy_path(r->command.output, &path);
		if (status == RN_OK)
			status = rn_buffer_status(&path);
		code = rn_job_deliver_to(r, path.bytes, status);
		rn_buffer_release(&path);
	} else if (status != RN_OK) {
		code = rn_job_complain(rn_status_text(status), NULL);
	}
	r->out.size = 0;
	return code;
}

static int write_review(rn_job *r, const rn_review *review)
{
	rn_folio folio = rn_folio_make(&r->allocator);
	rn_status (*tell)(rn_folio *, const rn_review *) = r->command.card          ? rn_review_card_folio
	                                                   : r->command.for_checker ? rn_review_inputs_folio
	                                                                            : rn_review_folio;
	rn_status status = tell(&folio, review);
	if (status == RN_OK && !rn_paper_is(r, ".pdf") && !rn_paper_is(r, ".html"))
		rn_buffer_format(&r->out, "%s\n", folio.title);
	if (status == RN_OK)
		status = rn_paper_write(r, &folio);
	rn_folio_release(&folio);
	int code = rn_job_deliver(r, status), verdict = r->result->verdict.exit_class;
	bool over = rn_ranges_over(r->ranges, r->range_count);
	return code ? code : verdict == EXIT_NONE_OVER && over ? 1 : verdict;
}

static int report(rn_job *r, const rn_options *options, rn_job *old)
{
	rn_buffer typed = rn_buffer_make(&r->allocator), copied = rn_buffer_make(&r->allocator);
	char date[] = "1970-01-01", copy[RN_DIGEST_SIZE];
	rn_review review = {.document = r->document, .result = r->result, .units = r->command.units,
	                    .file = rn_job_model_name(r), .digest = r->digest, .libraries = RN_LIBRARIES,
	                    .date = rn_paper_day(date, sizeof date) ? date : NULL};
	rn_edition since = {old->document, old->result, r->command.since, old->digest};
	bool brief = r->command.card || r->command.for_checker, has_largest = false;
	rn_status status = r->command.for_checker ? RN_OK : find_largest(r, options, &has_largest);
	if (status == RN_OK && !r->command.for_checker)
		status = rn_verb_find_ranges(r, options);
	if (status == RN_OK && !brief)
		status = rn_losses_find(r->result, options, &r->losses);
	add_command(r, &typed);
	add_copy_command(r, &copied);
	if (status == RN_OK)
		status = typed.failed || copied.failed ? RN_STATUS_MEMORY : RN_OK;
	if (status == RN_OK)
		status = rn_buffer_status(&r->stores);
	if (status != RN_OK) {
		rn_buffer_release(&typed);
		rn_buffer_release(&copied);
		return rn_job_complain(rn_status_text(status), NULL);
	}
	review.command = typed.bytes;
	review.stores = r->stores.bytes ? r->stores.bytes : "";
	review.answer_command = copied.bytes;
	review.ranges = r->ranges;
	review.range_count = r->range_count;
	review.losses = brief ? NULL : &r->losses;
	review.largest = has_largest ? &r->largest : NULL;
	review.since = r->command.since ? &since : NULL;
	int code = brief ? EXIT_NONE_OVER : copy_answer(r, copy);
	review.answer_digest = brief ? NULL : copy;
	code = code ? code : write_review(r, &review);
	rn_buffer_release(&typed);
	rn_buffer_release(&copied);
	return code;
}

int rn_verb_report(rn_job *r, const rn_options *options)
{
	rn_job old = rn_job_make(&r->allocator);
	int code = r->command.since ? read_since(r, options, &old) : EXIT_NONE_OVER;
	code = code ? code : report(r, options, &old);
	rn_job_release(&old);
	return code;
}
