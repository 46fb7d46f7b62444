/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/verbs.h"

#include <stdio.h>

#include "io/report/csv_stream.h"
#include "io/report/json_stream.h"
#include "io/report/largest.h"

static bool has_weight(const rn_model *m, rn_object piece)
{
	int number = rn_model_find_number(m, piece, RN_ATTRIBUTE_WEIGHT);
	return number != RN_NONE && m->numbers[number].value > 0;
}

/* The n-th piece with a weight, from 0; ends of a long one have none. */
rn_object rn_verb_weighed_piece(const rn_model *m, int n)
{
	for (int k = 0; k < 2; k++)
		for (int i = 0; i < (k ? m->prop_count : m->node_count); i++) {
			rn_object object = rn_object_of(k ? RN_PROP : RN_NODE, i);
			if (rn_is_piece(m, object) && has_weight(m, object) && n-- == 0)
				return object;
		}
	return rn_object_of(RN_NODE, RN_NONE);
}

static int refuse_piece(const rn_job *r, const char *why)
{
	const rn_model *m = r->document->model;
	fprintf(stderr, "funicle: %s", why);
	for (int i = 0; rn_verb_weighed_piece(m, i).index != RN_NONE; i++)
		fprintf(stderr, "%s%s", i ? ", " : "; there is ", rn_object_id(m, rn_verb_weighed_piece(m, i)));
	fputc('\n', stderr);
	return EXIT_USAGE;
}

static rn_object first_piece(const rn_model *m)
{
	for (int k = 0; k < 2; k++)
		for (int i = 0; i < (k ? m->prop_count : m->node_count); i++)
			if (rn_is_piece(m, rn_object_of(k ? RN_PROP : RN_NODE, i)))
				return rn_object_of(k ? RN_PROP : RN_NODE, i);
	return rn_object_of(RN_NODE, RN_NONE);
}

/* Nobody named a wrong piece: the model has none to walk up from. */
static int refuse_model(const rn_job *r, rn_object piece)
{
	const char *file = rn_job_model_name(r);
	if (piece.index == RN_NONE) {
		rn_job_complain(file, "there is no piece in it");
	} else {
		fputs("funicle: ", stderr);
		rn_job_print(file);
		fprintf(stderr, ": piece %s has no weight to begin with\n", rn_object_id(r->document->model, piece));
	}
	return EXIT_INPUT;
}

static rn_status write_largest(rn_job *r)
{
	rn_answer_options options = {.file = r->command.model, .sha256 = r->digest, .units = r->command.units};
	if (r->command.format == RN_FORMAT_TEXT)
		return rn_largest_text(&r->out, &r->largest, r->command.units);
	if (r->command.format == RN_FORMAT_CSV) {
		rn_csv_stream csv = rn_csv_stream_make(&r->out);
		return rn_largest_tell(&csv.stream, &r->largest, &options);
	}
	rn_json_stream json = rn_json_stream_make(&r->out);
	return rn_largest_tell(&json.stream, &r->largest, &options);
}

int rn_verb_largest(rn_job *r, const rn_options *options)
{
	const rn_model *m = r->document->model;
	rn_object piece = r->command.piece_id ? rn_model_object_by_id(m, r->command.piece_id) : rn_verb_weighed_piece(m, 0);
	if (!r->command.piece_id && rn_verb_weighed_piece(m, 1).index != RN_NONE)
		return refuse_piece(r, "say which piece (--piece ID)");
	if (piece.index == RN_NONE && !r->command.piece_id)
		return refuse_model(r, first_piece(m));
	if (!rn_is_piece(m, piece))
		return refuse_piece(r, "no piece is called that");
	if (!has_weight(m, piece))
		return refuse_model(r, piece);
	rn_status status = rn_largest_find(m, options, piece, &r->largest);
	if (status != RN_OK)
		return rn_job_complain(rn_status_text(status), NULL);
	int code = rn_job_deliver(r, write_largest(r));
	return code ? code : rn_largest_exit(&r->largest);
}
