/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The figures of a job for a safety review: verdict, drawing, what every part carries, how sure it is, everything that
 * was put in with its place in the files, limits of the calculation, its checks, a node worked by hand, room for
 * signatures. And two shorter ones made of the same: the inputs alone, for someone who checks by other means, and a
 * card for the crew.
 */
#ifndef RN_IO_REPORT_REVIEW_H
#define RN_IO_REPORT_REVIEW_H

#include "io/base/words.h"
#include "io/report/folio.h"
#include "io/xml/reader.h"

/* An earlier edition of the same job. */
typedef struct rn_edition {
	const rn_document *document;
	const rn_result *result;
	const char *file, *digest; /* of its model */
} rn_edition;

typedef struct rn_review {
	const rn_document *document;
	const rn_result *result;
	rn_units units;
	const char *file, *digest;  /* of the model: as typed; SHA-256 in hex */
	const char *stores;         /* files of gear, each with its SHA-256; "": none */
	const char *command;        /* as typed */
	const char *libraries;      /* names and versions */
	const char *date;           /* "2026-11-27"; NULL: to be written in by hand */
	const char *answer_digest;  /* SHA-256 of the answer as JSON */
	const char *answer_command; /* which gives that again */
	const rn_ranges *ranges;    /* one per case that was asked about */
	int range_count;
	const rn_losses *losses;    /* NULL: none were looked for, as are the next two */
	const rn_largest *largest;
	const rn_edition *since;
} rn_review;

/* Errors: MEMORY; ARGUMENT when a number is not finite. */
rn_status rn_review_folio(rn_folio *folio, const rn_review *review) RN_MUST_CHECK;
rn_status rn_review_inputs_folio(rn_folio *folio, const rn_review *review) RN_MUST_CHECK;
rn_status rn_review_card_folio(rn_folio *folio, const rn_review *review) RN_MUST_CHECK;

#endif
