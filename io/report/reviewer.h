/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the chapters of a review are written with, and the chapters that have files of their own.
 */
#ifndef RN_IO_REPORT_REVIEWER_H
#define RN_IO_REPORT_REVIEWER_H

#include "io/report/review.h"

typedef struct rn_reviewer {
	rn_folio *folio;
	rn_buffer *line; /* of the folio */
	const rn_review *review;
	const rn_result *result;
	const rn_model *model;
	rn_units units;
	int *shown;      /* per case of the result: the one that stands for it */
	int chapter;     /* of the headings, from 1 */
} rn_reviewer;

void rn_reviewer_say(rn_reviewer *w, const char *text);
void rn_reviewer_say_object(rn_reviewer *w, rn_object object);
void rn_reviewer_say_node(rn_reviewer *w, int node);
void rn_reviewer_say_case(rn_reviewer *w, int index); /* into the cases of the answer */
/* File and line: "yard.xml:14". */
void rn_reviewer_say_place(rn_reviewer *w, int file, int line);

void rn_reviewer_chapter(rn_reviewer *w, const char *title);    /* numbered */
void rn_reviewer_section(rn_reviewer *w, const char *title);    /* below it */
void rn_reviewer_paragraph(rn_reviewer *w, const char *text);   /* behind what stands in the line */
void rn_reviewer_item(rn_reviewer *w, const char *text);        /* of a list, likewise */
void rn_reviewer_cell(rn_reviewer *w, const char *text);        /* likewise */

/* Cases that stand for themselves and have an answer: the next one behind `index` (RN_NONE: the first), RN_NONE. */
int rn_reviewer_next_case(const rn_reviewer *w, int index);

/* Whether a piece falls in some case. */
bool rn_reviewer_caught(const rn_result *result);

/* A folio told by `write`. Errors: MEMORY; ARGUMENT when a number is not finite. */
rn_status rn_reviewer_write(rn_folio *folio, const rn_review *review, void (*write)(rn_reviewer *)) RN_MUST_CHECK;

/* review.c */
void rn_reviewer_begin(rn_reviewer *w, const char *what); /* the title: that, and the job */
void rn_reviewer_title(rn_reviewer *w, bool with_verdict);
/* What is over in the ranges, `where` behind it. */
void rn_reviewer_over_in_ranges(rn_reviewer *w, const char *where);
void rn_reviewer_limits(rn_reviewer *w);
void rn_reviewer_signatures(rn_reviewer *w);
/* review_short.c */
void rn_reviewer_stops(rn_reviewer *w);
/* review_results.c */
void rn_reviewer_parts(rn_reviewer *w);
void rn_reviewer_pulls(rn_reviewer *w);
void rn_reviewer_factors(rn_reviewer *w);
void rn_reviewer_checks(rn_reviewer *w);
/* review_inputs.c */
void rn_reviewer_inputs(rn_reviewer *w);
void rn_reviewer_guesses(rn_reviewer *w);
void rn_reviewer_gear(rn_reviewer *w);
/* since.c */
void rn_reviewer_changes(rn_reviewer *w);

#endif
