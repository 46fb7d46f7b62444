/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What each verb does with a job: finds what it asks for, writes it, and says what the program ends with.
 */
#ifndef RN_IO_CLI_VERBS_H
#define RN_IO_CLI_VERBS_H

#include "io/cli/job.h"

/* After reading, which may have failed with `read_code`: what is wrong with a model is an answer as well. */
int rn_verb_check(rn_job *job, int read_code);

/* Of no model but those the program carries. */
int rn_verb_selftest(rn_job *job, const rn_options *options);

/* Of a model that was read. */
int rn_verb_largest(rn_job *job, const rn_options *options);
int rn_verb_vary(rn_job *job, rn_options *options);
int rn_verb_place(rn_job *job, rn_options *options);

/* Fills job->result, of the model or of what is left of it without a part. */
int rn_verb_settle(rn_job *job, const rn_options *options);

/* Of a result. */
int rn_verb_solve(rn_job *job, const rn_options *options);
int rn_verb_scatter(rn_job *job, const rn_options *options);
int rn_verb_draw(rn_job *job);
int rn_verb_explain(rn_job *job);
int rn_verb_drill(rn_job *job);
int rn_verb_report(rn_job *job, const rn_options *options);

/* ---- shared by several ------------------------------------------------------------------------ */

/* Fills job->ranges, case by case. */
rn_status rn_verb_find_ranges(rn_job *job, const rn_options *options) RN_MUST_CHECK;
/* The n-th piece with a weight, from 0; ends of a long one have none. Index RN_NONE: there are not so many. */
rn_object rn_verb_weighed_piece(const rn_model *model, int n);

#endif
