/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A rope that is held while its load changes. At every through friction holds any difference of pulls up to
 * its most, and which it holds depends on what went before:
 *
 *     sticks          no rope crosses,                     |s| < 1
 *     slips on        rope crosses toward the last end,     s = +1
 *     slips back      rope crosses toward the first end,    s = -1        T_after = T_before e^(s mu bend)
 *
 * With b the unstretched length before a through, b falls when rope slips on, and rises with s, for more
 * friction against running on lets less rope run on. So each through alone is a monotone equation between
 * bounds; all together are met by going round until nothing changes (projected Gauss and Seidel). The numbers
 * go from those of the case before to its own in small steps: what slips on the way stays where it slipped.
 */
#include <math.h>
#include <string.h>

#include "solver/base/roots.h"
#include "solver/model/place.h"
#include "solver/study/drawn.h"
#include "solver/study/workspace.h"

/* Steps of the numbers from one case to the next; halving them moves tensions by less than a per cent. */
enum { STEPS = 16 };

/* Rounds over all throughs, and evaluations for one of them. */
enum { ROUNDS_MOST = 60, EVALUATIONS_MOST = 40 };

/* Rope that has crossed less than this part of all rope has not crossed [-]; friction is known no better than
 * this part of its most [-]. */
static const double crossed_least = 1e-10, grip_close = 1e-9;

typedef struct holder {
	const rn_model *model;
	rn_workspace *workspace;
	const rn_case *c;
	double *values, *grip, *before, *now;
	int *open; /* stations where friction holds something */
	int open_count;
	double rope; /* longest unstretched length before a through [m] */
	const rn_case_result *answer;
	const rn_held_with *with;
} holder;

static void load_values(const holder *h, const rn_case *c, double *values)
{
	rn_case_values(h->model, c, values);
	if (h->with->drawn)
		rn_drawn_values(h->model, c, h->with->drawn, values);
	if (h->with->scaled != RN_NONE)
		values[h->with->scaled] *= h->with->scale;
}

static bool has_answer(const rn_case_result *a)
{
	return a && a->outcome == RN_OUTCOME_SETTLED;
}

static rn_status settle(holder *h)
{
	RN_TRY(rn_workspace_settle(h->workspace, h->c, h->values, true, &h->answer));
	if (!has_answer(h->answer))
		RN_TRY(rn_workspace_settle(h->workspace, h->c, h->values, false, &h->answer));
	rn_workspace_lengths(h->workspace, h->now);
	return RN_OK;
}

/* How much rope has crossed back over a through since the last step, with a grip tried there. */
static rn_status crossed_back(holder *h, int station, double grip, double *out)
{
	h->grip[station] = grip;
	RN_TRY(settle(h));
	*out = h->now[station] - h->before[station];
	return RN_OK;
}

/* The grip at one through at which no rope crosses, else the bound at which it slips. */
static rn_status settle_one(holder *h, int station)
{
	rn_bracket b = {.low = -1, .high = 1};
	double least = crossed_least * h->rope;
	RN_TRY(crossed_back(h, station, b.low, &b.at_low));
	if (b.at_low >= -least || !has_answer(h->answer))
		return RN_OK; /* slips back, or just sticks */
	RN_TRY(crossed_back(h, station, b.high, &b.at_high));
	if (b.at_high <= least || !has_answer(h->answer))
		return RN_OK;
	for (int i = 0; i < EVALUATIONS_MOST && b.high - b.low > grip_close; i++) {
		double middle = rn_bracket_next(&b), at;
		RN_TRY(crossed_back(h, station, middle, &at));
		if (fabs(at) <= least || !has_answer(h->answer))
			return RN_OK;
		rn_bracket_tell(&b, middle, at);
	}
	return RN_OK;
}

/* Whether every through sticks or slips the way its grip says, with the numbers at hand. */
static bool all_meet(const holder *h)
{
	double least = 10 * crossed_least * h->rope;
	for (int i = 0; i < h->open_count; i++) {
		double back = h->now[h->open[i]] - h->before[h->open[i]], grip = h->grip[h->open[i]];
		bool slips_on = back < -least && grip < 1, slips_back = back > least && grip > -1;
		if (slips_on || slips_back)
			return false;
	}
	return true;
}

static rn_status settle_step(holder *h)
{
	RN_TRY(settle(h));
	for (int round = 0; round < ROUNDS_MOST && has_answer(h->answer) && !all_meet(h); round++)
		for (int i = 0; i < h->open_count; i++)
			RN_TRY(settle_one(h, h->open[i]));
	return RN_OK;
}

/* ---- from case to case ----------------------------------------------------------------------- */

static void find_open(holder *h)
{
	h->open_count = 0;
	for (int i = 0; i < h->model->station_count; i++) {
		rn_contact_law law = rn_station_contact(h->model, h->values, i);
		bool grips = law.is_sheave ? law.efficiency < 1 : law.friction > 0;
		if (h->model->stations[i].kind == RN_THROUGH && grips)
			h->open[h->open_count++] = i;
	}
	h->rope = 0;
	for (int i = 0; i < h->model->station_count; i++)
		h->rope = fmax(h->rope, fabs(h->before[i]));
}

/* The first case of a chain is settled as it says; its rope has just run the way it ran. */
static rn_status begin_chain(holder *h, const rn_case *first)
{
	const rn_model *m = h->model;
	load_values(h, first, h->values);
	rn_workspace_unsure(h->workspace, h->with->unsure);
	RN_TRY(rn_workspace_settle(h->workspace, first, h->values, false, &h->answer));
	rn_workspace_lengths(h->workspace, h->before);
	for (int i = 0; i < m->station_count; i++) {
		const rn_line *line = &m->lines[m->stations[i].line];
		int last = line->first_station + line->station_count - 1;
		h->grip[i] = rn_case_direction(m, first, line->first_station, last, i);
	}
	return RN_OK;
}

/* From the numbers of one case to those of the next. */
static rn_status follow(holder *h, const rn_case *next, double *from, double *to)
{
	rn_unsure unsure = h->with->unsure ? *h->with->unsure : (rn_unsure){0};
	size_t size = (size_t)h->model->number_count * sizeof(double);
	memcpy(from, h->values, size);
	load_values(h, next, to);
	h->c = next;
	unsure.grip = h->grip;
	rn_workspace_unsure(h->workspace, &unsure);
	rn_status status = RN_OK;
	for (int step = 0; step <= STEPS && status == RN_OK && has_answer(h->answer); step++) {
		for (int i = 0; i < h->model->number_count; i++)
			h->values[i] = step == STEPS ? to[i] : from[i] + (to[i] - from[i]) * step / STEPS;
		find_open(h);
		status = settle_step(h);
		if (step < STEPS)
			memcpy(h->before, h->now, (size_t)h->model->station_count * sizeof(double));
	}
	rn_workspace_unsure(h->workspace, h->with->unsure);
	return status;
}

static rn_status follow_chain(holder *h, const rn_case *c, double *from, double *to)
{
	if (c->follows == RN_NONE)
		return begin_chain(h, c);
	RN_TRY(follow_chain(h, &h->model->cases[c->follows], from, to));
	if (!has_answer(h->answer))
		return RN_OK;
	return follow(h, c, from, to);
}

/* ---- what each through does -------------------------------------------------------------------- */

static rn_status say(holder *h, int station, rn_note_kind kind, int toward)
{
	const rn_station *s = &h->model->stations[station];
	rn_note note = {.kind = kind,
	                .a = rn_object_of(RN_LINE, s->line),
	                .b = rn_object_of(RN_NODE, s->node),
	                .c = rn_object_of(RN_NODE, toward)};
	return rn_workspace_note(h->workspace, note);
}

static rn_status say_states(holder *h)
{
	for (int i = 0; i < h->open_count; i++) {
		int station = h->open[i];
		const rn_line *line = &h->model->lines[h->model->stations[station].line];
		int end = h->grip[station] > 0 ? line->first_station + line->station_count - 1 : line->first_station;
		if (fabs(h->grip[station]) < 1)
			RN_TRY(say(h, station, RN_NOTE_STICKS, RN_NONE));
		else
			RN_TRY(say(h, station, RN_NOTE_SLIPS, h->model->stations[end].node));
	}
	return RN_OK;
}

rn_status rn_held_settle(rn_arena *scratch, rn_workspace *w, const rn_model *m, const rn_case *c,
                         const rn_held_with *with, const rn_case_result **result_out)
{
	holder h = {.model = m, .workspace = w, .c = c, .with = with};
	double *from, *to;
	RN_TAKE(scratch, h.values, m->number_count + 1);
	RN_TAKE(scratch, h.grip, m->station_count + 1);
	RN_TAKE(scratch, h.before, m->station_count + 1);
	RN_TAKE(scratch, h.now, m->station_count + 1);
	RN_TAKE(scratch, h.open, m->station_count + 1);
	RN_TAKE(scratch, from, m->number_count + 1);
	RN_TAKE(scratch, to, m->number_count + 1);
	rn_status status = follow_chain(&h, c, from, to);
	if (status == RN_OK && has_answer(h.answer))
		status = say_states(&h);
	*result_out = h.answer;
	return status;
}
