/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/verbs.h"

#include "io/report/check.h"
#include "io/report/csv_stream.h"
#include "io/report/json_stream.h"

static rn_status write_check(rn_job *r)
{
	rn_answer_options options = {.file = r->command.model, .sha256 = r->digest, .units = r->command.units};
	if (r->command.format == RN_FORMAT_TEXT)
		return rn_check_text(&r->out, r->document, r->command.units);
	if (r->command.format == RN_FORMAT_CSV) {
		rn_csv_stream csv = rn_csv_stream_make(&r->out);
		return rn_check_tell(&csv.stream, r->document, &options);
	}
	rn_json_stream json = rn_json_stream_make(&r->out);
	return rn_check_tell(&json.stream, r->document, &options);
}

/* What is wrong with a model is an answer as well, but as text it stands in standard error only. */
int rn_verb_check(rn_job *r, int read_code)
{
	bool told = r->document && (r->document->model || r->command.format != RN_FORMAT_TEXT);
	int code = told ? rn_job_deliver(r, write_check(r)) : EXIT_NONE_OVER;
	return code ? code : read_code;
}
