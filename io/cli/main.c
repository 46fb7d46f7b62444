/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * funicle: files and options in, answers and figures out. All thinking is done in the library.
 */
#define _POSIX_C_SOURCE 200809L
#include <gsl/gsl_errno.h>
#include <libxml/parser.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "io/cli/files.h"
#include "io/cli/verbs.h"

static int answer(rn_job *r)
{
	rn_options options = rn_options_default();
	options.allocator = r->allocator;
	options.falls_only = r->command.verb == RN_VERB_FALL;
	if (r->command.verb == RN_VERB_SELFTEST)
		return rn_verb_selftest(r, &options);
	int code = rn_job_read(r);
	if (r->command.verb == RN_VERB_CHECK)
		return rn_verb_check(r, code);
	if (code)
		return code;
	if (r->command.verb == RN_VERB_LARGEST)
		return rn_verb_largest(r, &options);
	if (r->command.verb == RN_VERB_VARY)
		return rn_verb_vary(r, &options);
	if (r->command.verb == RN_VERB_PLACE)
		return rn_verb_place(r, &options);
	code = rn_verb_settle(r, &options);
	if (code)
		return code;
	switch (r->command.verb) {
	case RN_VERB_DRAW: return rn_verb_draw(r);
	case RN_VERB_EXPLAIN: return rn_verb_explain(r);
	case RN_VERB_DRILL: return rn_verb_drill(r);
	case RN_VERB_REPORT: return rn_verb_report(r, &options);
	case RN_VERB_SCATTER: return rn_verb_scatter(r, &options);
	default: return rn_verb_solve(r, &options);
	}
}

static const char version_text[] =
	"funicle " RN_VERSION_TEXT "\n"
	"Licence GPL-3.0-or-later. There is no warranty, to the extent that law permits.\n";

static int obey(rn_job *r, int count, char **words)
{
	if (count < 2) {
		rn_options_help(&r->out);
		(void)rn_job_deliver(r, RN_OK);
		return EXIT_USAGE;
	}
	if (!rn_options_read(count, words, &r->command, &r->message)) {
		fprintf(stderr, "funicle: %s (see funicle --help)\n",
		        r->message.bytes ? r->message.bytes : "out of memory");
		return EXIT_USAGE;
	}
	if (r->command.help)
		rn_options_help(&r->out);
	else if (r->command.version)
		rn_buffer_text(&r->out, version_text);
	else
		return answer(r);
	r->command.output = NULL;
	return rn_job_deliver(r, RN_OK);
}

/* libxml2 has a channel of its own for what no parser has been asked about. */
static void say_nothing(void *context, const char *message, ...)
{
	(void)context;
	(void)message;
}

int main(int count, char **words)
{
	rn_allocator allocator = rn_allocator_default();
	rn_job r = rn_job_make(&allocator);
	r.words = words;
	r.word_count = count;
	rn_files_begin();
	gsl_set_error_handler_off();
	LIBXML_TEST_VERSION
	xmlInitParser();
	xmlSetGenericErrorFunc(NULL, say_nothing);
	int code = obey(&r, count, words);
	rn_job_release(&r);
	xmlCleanupParser();
	return code;
}
