/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From locked to let run. The line slips at a pull S in it; the rope that runs out falls as S grows, from what no
 * hand stops to nothing at the pull of the locked catch. For each run-out S is found between two that bracket it.
 */
#include <math.h>

#include "solver/base/roots.h"
#include "solver/model/place.h"
#include "solver/study/caught_row.h"

/* Run-outs told [m]: what a hand on a rope can let go, in doublings. */
static const double runs[] = {0, 0.25, 0.5, 1, 2, 4, 8};
enum { RUNS = sizeof runs / sizeof *runs };

/* A run-out is found to this part of itself, a share of a limit likewise [-]: figures are told to three. */
static const double run_close = 2e-4;

/* Two pulls nearer than this part of themselves are one [-]: near the weight a run-out changes a thousand times as
 * fast as the pull it takes, and catches are settled to far less. */
static const double pull_close = 1e-8;

/* Catches for one row; six are usual. */
enum { TRIES_MOST = 40 };

/* What is looked for: a run-out, or with 0 that the closest part comes to its limit. */
typedef struct search {
	rn_catcher *catcher;
	double run;
	rn_caught_row row; /* of the last pull tried */
} search;

static bool is_stopped(const rn_caught_row *row)
{
	return row->outcome == RN_OUTCOME_SETTLED;
}

/* Above 0 where the line is to slip harder. Between -1/2 and 1/2 whatever runs out: a catch that is not stopped
 * lets run without end, and is over nothing. */
static double off_of(const search *s, const rn_caught_row *row)
{
	if (s->run > 0)
		return is_stopped(row) ? row->run_out / (row->run_out + s->run) - 0.5 : 0.5;
	return is_stopped(row) ? 1 - row->utilisation : 1;
}

/* The pull between two rows at which what is looked for is met, `low` slipping more easily than the other. *found_out:
 * false when the two do not bracket it, or what is there is not stopped. */
static rn_status find_pull(search *s, double low, double at_low, const rn_caught_row *from, bool *found_out)
{
	rn_bracket b = {.low = low, .high = from->slips_at, .at_low = at_low, .at_high = off_of(s, from)};
	*found_out = false;
	if (!(b.at_low > 0) || !(b.at_high < 0))
		return RN_OK;
	for (int i = 0; i < TRIES_MOST && b.high - b.low > pull_close * b.low; i++) {
		double pull = rn_bracket_next(&b);
		RN_TRY(rn_catcher_try(s->catcher, pull, &s->row));
		double at = off_of(s, &s->row);
		*found_out = is_stopped(&s->row);
		if (*found_out && fabs(at) < run_close / 4)
			break;
		rn_bracket_tell(&b, pull, at);
	}
	return RN_OK;
}

/* A part of the locked pull at which the line lets more run than any row asks for, or does not stop it. */
static rn_status find_least_pull(rn_catcher *c, double locked, double *pull_out)
{
	rn_caught_row row;
	for (*pull_out = locked / 2; *pull_out > 1e-6 * locked; *pull_out /= 2) {
		RN_TRY(rn_catcher_try(c, *pull_out, &row));
		if (!is_stopped(&row) || row.run_out > 2 * runs[RUNS - 1])
			return RN_OK;
	}
	return RN_OK;
}

static rn_status find_least_run(rn_catcher *c, double low, rn_let_run *out)
{
	const rn_caught_row *locked = &out->rows[0];
	if (locked->closest == RN_NONE)
		return RN_OK;
	if (locked->utilisation <= 1) {
		out->has_least = true;
		out->least = *locked;
		return RN_OK;
	}
	search s = {.catcher = c};
	RN_TRY(find_pull(&s, low, 1, locked, &out->has_least));
	/* of the two sides of the crossing the one that is not over */
	for (int i = 0; out->has_least && s.row.utilisation > 1 && i < TRIES_MOST; i++) {
		RN_TRY(rn_catcher_try(c, s.row.slips_at * (1 - run_close), &s.row));
		out->has_least = is_stopped(&s.row);
	}
	out->least = s.row;
	return RN_OK;
}

static rn_status fill(rn_catcher *c, rn_let_run *out)
{
	double low;
	RN_TAKE(c->arena, out->rows, RUNS);
	RN_TAKE(c->arena, out->asked, RUNS);
	RN_TRY(rn_catcher_try(c, HUGE_VAL, &out->rows[0]));
	out->shape = c->shape;
	out->count = 1;
	if (!is_stopped(&out->rows[0]) || out->rows[0].slips_at <= 0)
		return RN_OK;
	RN_TRY(find_least_pull(c, out->rows[0].slips_at, &low));
	for (int i = 1; i < RUNS; i++) {
		search s = {.catcher = c, .run = runs[i]};
		bool found;
		RN_TRY(find_pull(&s, low, 0.5, &out->rows[out->count - 1], &found));
		if (!found)
			break;
		out->asked[out->count] = runs[i];
		out->rows[out->count++] = s.row;
	}
	return find_least_run(c, low, out);
}

rn_status rn_let_run_find(const rn_model *model, const rn_options *options, int case_index, rn_let_run *let_run_out)
{
	rn_result_memory *memory;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_let_run found = {.case_index = case_index, .memory = memory, .station = RN_NONE};
	rn_catcher c = {0};
	rn_status status = rn_catcher_create(&memory->arena, model, options, case_index, &c);
	if (status == RN_OK)
		found.station = rn_fall_hold(model, c.of->fall);
	if (status == RN_OK && found.station == RN_NONE)
		status = RN_STATUS_ARGUMENT;
	if (status == RN_OK)
		status = fill(&c, &found);
	rn_catcher_release(&c);
	if (status == RN_OK)
		*let_run_out = found;
	else
		rn_let_run_release(&found);
	return status;
}

void rn_let_run_release(rn_let_run *let_run)
{
	rn_result_memory_release(&let_run->memory);
}
