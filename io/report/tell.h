/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What every answer for other programs begins with and is made of, told to a stream.
 */
#ifndef RN_IO_REPORT_TELL_H
#define RN_IO_REPORT_TELL_H

#include "io/base/words.h"
#include "io/report/stream.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct rn_answer_options {
	const char *file;   /* of the model, as typed; NULL = null */
	const char *sha256; /* of the model's bytes, in hex; NULL = null */
	rn_units units;     /* for sentences only */
	const rn_ranges *ranges; /* to be told as well; NULL: none were asked for */
	int range_count;
	const rn_losses *losses;   /* likewise */
	const rn_matters *matters; /* likewise */
	const rn_let_run *let_runs; /* likewise */
	const rn_comparison *comparisons; /* likewise */
	int catch_count;         /* of each of them */
	const char *without;     /* what has let go in this answer; NULL: nothing */
} rn_answer_options;

typedef struct rn_teller {
	rn_stream *stream;
	rn_buffer words;       /* scratch */
	const rn_model *model; /* NULL: there is none, nothing below that asks for it is called */
	rn_units units;
} rn_teller;

rn_teller rn_teller_make(rn_stream *stream, const rn_model *model,
                         const rn_answer_options *options);
/* Errors: MEMORY, ARGUMENT as of rn_stream_status. */
rn_status rn_teller_end(rn_teller *teller) RN_MUST_CHECK;

void rn_tell_list(rn_teller *teller, const char *key);
void rn_tell_list_end(rn_teller *teller);
void rn_tell_open(rn_teller *teller, const char *key); /* an object */
void rn_tell_close(rn_teller *teller);

/* What stands in the scratch buffer, which is emptied. */
void rn_tell_words(rn_teller *teller, const char *key);
void rn_tell_object(rn_teller *teller, const char *key, rn_object object); /* or null */
void rn_tell_node(rn_teller *teller, const char *key, int node);
void rn_tell_notes(rn_teller *teller, const rn_notes *notes);

/* What a part's limit is multiplied by, each with its source. */
void rn_tell_factors(rn_teller *teller, const rn_part_result *part);

/* "kind" of a part. */
void rn_tell_kind(rn_teller *teller, rn_object part);

/* funicle, format, model. */
void rn_tell_head(rn_teller *teller, const rn_answer_options *options);
/* The sentence and what it counts. */
void rn_tell_verdict(rn_teller *teller, const rn_result *result);
void rn_tell_guessed(rn_teller *teller);
/* What is not looked at, what every answer warns of, what was remarked about the model. */
void rn_tell_cautions(rn_teller *teller);
/* What the spans belong to. */
void rn_tell_members(rn_teller *teller);

#ifdef __cplusplus
}
#endif

#endif
