/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How often something is over its limit when numbers are not what the model says. Every number with a range is one
 * dimension of a cube; trial i takes point i of Sobol's sequence in it (Sobol 1967; Bratley and Fox 1988, by GSL),
 *
 *     value = low + (high - low) u,        u in (0, 1),
 *
 * and settles every case with these numbers. Shares of trials over are means of a function that is 0 or 1, shares that
 * are not exceeded are read off the trials in their order (inverse of the empirical distribution: of n trials the
 * k-th smallest, k = ceil(p n); Hyndman and Fan 1996, definition 1): no value is told that no trial had.
 *
 * A trial begins where the model as given came to rest, not where the trial before it did: so it does not depend on
 * which were before it, nor on which hand settles it.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "solver/base/crew.h"
#include "solver/base/points.h"
#include "solver/study/drawn.h"
#include "solver/study/fall.h"
#include "solver/study/workspace.h"

static const char *const trial_texts[] = {
#define X(name, text) text,
	RN_TRIAL_LIST(X)
#undef X
};

const char *rn_trial_text(rn_trial trial)
{
	return trial_texts[trial];
}

/* What all hands share. Rows of trials are each written by one hand; the rest is looked at under the lock. */
typedef struct scatterer {
	const rn_result *result;
	const rn_model *model;
	rn_options options;       /* of one trial, which is never stopped */
	const volatile int *stop; /* may be NULL */
	const rn_scatter_asked *asked;
	rn_scatter *found;
	rn_trial *kinds;  /* per trial and case */
	bool *unchecked;  /* per trial and part: loaded, and without a limit in some case */
	rn_crew crew;
	rn_points points;
	int next, done_count; /* trials handed out, trials done */
	rn_status status; /* what went wrong; STOPPED included */
} scatterer;

/* One case of a hand. */
typedef struct begun {
	rn_workspace *workspace;
	bool found; /* where it comes to rest as given is marked, to begin from */
} begun;

/* One hand, with everything it needs to settle trials. */
typedef struct hand {
	scatterer *all;
	rn_arena arena;
	begun *cases;
	double *values, *point, *line_off, *leg_off;
	rn_drawn drawn;
	rn_unsure unsure;
	int trial;
} hand;

static const rn_case *case_of(const scatterer *s, int k)
{
	return &s->model->cases[s->found->cases[k].case_index];
}

/* ---- one case of a trial ------------------------------------------------------------------------- */

/* What a warm start does not find may be found from the drawing. */
static rn_status settle_hung(hand *h, int k, const rn_case_result **out)
{
	rn_workspace *w = h->cases[k].workspace;
	const rn_case *c = case_of(h->all, k);
	if (h->cases[k].found) {
		rn_workspace_back(w, RN_MARK_GIVEN);
		RN_TRY(rn_workspace_settle(w, c, h->values, true, out));
		if (rn_case_holds(*out))
			return RN_OK;
	}
	return rn_workspace_settle(w, c, h->values, false, out);
}

static rn_status settle_case(hand *h, int k, rn_arena *scratch, const rn_case_result **out)
{
	const rn_model *m = h->all->model;
	const rn_case *c = case_of(h->all, k);
	rn_case_values(m, c, h->values);
	rn_drawn_values(m, c, &h->drawn, h->values);
	if (c->fall != RN_NONE)
		return rn_fall_settle(scratch, h->cases[k].workspace, m, c, h->values, out);
	if (c->follows != RN_NONE)
		return rn_held_settle(scratch, h->cases[k].workspace, m, c,
		                      &(rn_held_with){.scaled = RN_NONE, .scale = 1, .drawn = &h->drawn, .unsure = &h->unsure}, out);
	return settle_hung(h, k, out);
}

static double loaded_above(const rn_case_result *a)
{
	double most = 0;
	for (int p = 0; p < a->part_count; p++)
		most = fmax(most, a->parts[p].demand);
	return rn_loaded_least * most;
}

/* Of a case with an answer: takes what its parts come to into the row of the trial. */
static rn_trial take_parts(hand *h, const rn_case_result *a)
{
	scatterer *s = h->all;
	size_t row = (size_t)h->trial * (size_t)s->found->part_count;
	double loaded = loaded_above(a), below;
	bool over = false, unchecked = a->unweighed;
	for (int p = 0; p < a->part_count; p++) {
		const rn_part_result *part = &a->parts[p];
		double *share = &s->found->utilisations[row + (size_t)p], *demand = &s->found->demands[row + (size_t)p];
		*demand = fmax(*demand, part->demand);
		if (part->unchecked == RN_CHECKED) {
			*share = fmax(*share, part->utilisation);
			over = over || part->utilisation > 1;
		} else if (part->demand > loaded) {
			unchecked = s->unchecked[row + (size_t)p] = true;
		}
	}
	if (over)
		return RN_TRIAL_OVER;
	bool caught = a->caught.fall != RN_NONE;
	if (caught && rn_fall_ground(s->model, h->values, &a->caught, &below) != RN_NONE)
		return RN_TRIAL_GROUND;
	return unchecked ? RN_TRIAL_NOT_CHECKED : RN_TRIAL_NONE_OVER;
}

static rn_trial look(hand *h, const rn_case_result *a)
{
	if (a->outcome == RN_OUTCOME_NO_EQUILIBRIUM)
		return RN_TRIAL_NO_EQUILIBRIUM;
	if (!rn_case_holds(a))
		return RN_TRIAL_NOT_FOUND;
	return a->falls ? RN_TRIAL_FALLS : take_parts(h, a);
}

/* ---- one trial --------------------------------------------------------------------------------- */

static void clear_row(hand *h)
{
	scatterer *s = h->all;
	size_t row = (size_t)h->trial * (size_t)s->found->part_count;
	for (int p = 0; p < s->found->part_count; p++)
		s->found->utilisations[row + (size_t)p] = -1;
}

static rn_status try_cases(hand *h, rn_arena *scratch)
{
	scatterer *s = h->all;
	rn_trial *kinds = &s->kinds[(size_t)h->trial * (size_t)s->found->case_count], worst = RN_TRIAL_NONE_OVER;
	for (int k = 0; k < s->found->case_count; k++) {
		const rn_case_result *answer;
		RN_TRY(settle_case(h, k, scratch, &answer));
		kinds[k] = look(h, answer);
		worst = kinds[k] > worst ? kinds[k] : worst;
	}
	s->found->trials[h->trial] = worst;
	return RN_OK;
}

static rn_status try_once(hand *h)
{
	rn_arena scratch = rn_arena_make(&h->all->options.allocator);
	rn_drawn_lengths(&h->drawn, h->line_off, h->leg_off);
	clear_row(h);
	rn_status status = try_cases(h, &scratch);
	rn_arena_release(&scratch);
	return status;
}

/* ---- all trials -------------------------------------------------------------------------------- */

/* Stored by a signal handler or another thread: hence the atomic load, which C11 itself has for atomic types alone. */
static bool is_stopped(const scatterer *s)
{
	return s->stop && __atomic_load_n(s->stop, __ATOMIC_RELAXED);
}

/* The next trial and its point, which come in their order; false: there is nothing more to do. What is begun is
 * finished, so that there is never a gap. */
static bool begin_trial(hand *h)
{
	scatterer *s = h->all;
	rn_crew_lock(&s->crew);
	if (s->status == RN_OK && is_stopped(s))
		s->status = RN_STATUS_STOPPED;
	bool more = s->status == RN_OK && s->next < s->asked->count;
	if (more) {
		h->trial = s->next++;
		rn_points_next(&s->points, h->point);
	}
	rn_crew_unlock(&s->crew);
	return more;
}

static void end_trial(hand *h, rn_status status)
{
	scatterer *s = h->all;
	rn_crew_lock(&s->crew);
	if (status == RN_OK) {
		s->done_count++;
		if (s->asked->progress)
			s->asked->progress(s->asked->context, s->done_count, s->asked->count);
	} else if (s->status != RN_STATUS_MEMORY) {
		s->status = status;
	}
	rn_crew_unlock(&s->crew);
}

/* Where each case comes to rest as given, to begin from; what is caught or held finds its own beginning. */
static rn_status settle_given(hand *h, int k)
{
	scatterer *s = h->all;
	begun *b = &h->cases[k];
	const rn_case *c = case_of(s, k);
	const rn_case_result *answer;
	RN_TRY(rn_workspace_create(s->model, &s->options, &b->workspace));
	if (c->fall == RN_NONE && c->follows == RN_NONE) {
		rn_case_values(s->model, c, h->values);
		RN_TRY(rn_workspace_settle(b->workspace, c, h->values, false, &answer));
		b->found = rn_case_holds(answer);
		if (b->found)
			rn_workspace_mark(b->workspace, RN_MARK_GIVEN);
	}
	rn_workspace_unsure(b->workspace, &h->unsure);
	return RN_OK;
}

static rn_status equip(hand *h)
{
	const scatterer *s = h->all;
	const rn_model *m = s->model;
	RN_TAKE(&h->arena, h->cases, s->found->case_count + 1);
	RN_TAKE(&h->arena, h->values, m->number_count + 1);
	RN_TAKE(&h->arena, h->point, s->found->range_count + 1);
	RN_TAKE(&h->arena, h->line_off, m->line_count + 1);
	RN_TAKE(&h->arena, h->leg_off, m->leg_count + 1);
	h->drawn = (rn_drawn){s->found->ranges, h->point, s->found->range_count};
	h->unsure = (rn_unsure){.line_off = h->line_off, .leg_off = h->leg_off};
	for (int k = 0; k < s->found->case_count; k++)
		RN_TRY(settle_given(h, k));
	return RN_OK;
}

static void work(void *context)
{
	hand *h = context;
	h->arena = rn_arena_make(&h->all->options.allocator);
	rn_status status = equip(h);
	if (status != RN_OK)
		end_trial(h, status);
	while (status == RN_OK && begin_trial(h)) {
		status = try_once(h);
		end_trial(h, status);
	}
	for (int k = 0; h->cases && k < h->all->found->case_count; k++)
		rn_workspace_destroy(h->cases[k].workspace);
	rn_arena_release(&h->arena);
}

static rn_status try_all(scatterer *s)
{
	hand hands[RN_THREADS_MOST];
	int count = s->asked->threads < s->asked->count ? s->asked->threads : s->asked->count;
	for (int i = 0; i < count; i++)
		hands[i] = (hand){.all = s};
	if (!rn_crew_begin(&s->crew))
		return RN_STATUS_MEMORY;
	rn_crew_work(work, hands, sizeof *hands, count);
	rn_crew_end(&s->crew);
	s->found->count = s->done_count;
	s->found->stopped = s->status == RN_STATUS_STOPPED;
	return s->found->stopped && s->found->count > 0 ? RN_OK : s->status;
}

/* ---- what they come to --------------------------------------------------------------------------- */

static bool has_answer(rn_trial kind)
{
	return kind == RN_TRIAL_NONE_OVER || kind == RN_TRIAL_NOT_CHECKED || kind == RN_TRIAL_GROUND || kind == RN_TRIAL_OVER;
}

/* Whether some case of a trial has no answer, so that nobody knows what its parts would come to. */
static bool is_lost(const scatterer *s, int trial)
{
	for (int k = 0; k < s->found->case_count; k++)
		if (!has_answer(s->kinds[(size_t)trial * (size_t)s->found->case_count + (size_t)k]))
			return true;
	return false;
}

static int compare(const void *left, const void *right)
{
	double a = *(const double *)left, b = *(const double *)right;
	return (a > b) - (a < b);
}

/* Sorts one value per trial, which may be infinite, in place. */
static void rank(double *sorted, int count, double *ranked)
{
	static const int per_cent[] = {[RN_RANK_5] = 5, [RN_RANK_50] = 50, [RN_RANK_95] = 95};
	qsort(sorted, (size_t)count, sizeof *sorted, compare);
	for (int r = 0; r < RN_RANK_MOST; r++)
		ranked[r] = sorted[((int64_t)per_cent[r] * count + 99) / 100 - 1];
}

/* The closest part of a trial, RN_NONE when none is checked. */
static int closest_of(const scatterer *s, int trial)
{
	int parts = s->found->part_count, closest = RN_NONE;
	const double *shares = &s->found->utilisations[(size_t)trial * (size_t)parts];
	for (int p = 0; p < parts; p++)
		if (shares[p] > (closest == RN_NONE ? 0 : shares[closest]))
			closest = p;
	return closest;
}

static void rank_closest(scatterer *s, double *sorted)
{
	rn_scatter *found = s->found;
	for (int i = 0; i < found->count; i++) {
		int p = closest_of(s, i);
		double share = p == RN_NONE ? 0 : found->utilisations[(size_t)i * (size_t)found->part_count + (size_t)p];
		found->closest[RN_RANK_MOST] = fmax(found->closest[RN_RANK_MOST], share);
		sorted[i] = is_lost(s, i) ? HUGE_VAL : share;
		if (p != RN_NONE)
			found->parts[p].closest_count++;
	}
	rank(sorted, found->count, found->closest);
}

static void rank_part(scatterer *s, int p, double *sorted)
{
	rn_scatter *found = s->found;
	rn_scatter_part *part = &found->parts[p];
	size_t stride = (size_t)found->part_count;
	bool checked = false;
	for (int i = 0; i < found->count; i++) {
		double share = found->utilisations[(size_t)i * stride + (size_t)p];
		checked = checked || share >= 0;
		part->over_count += share > 1;
		part->unchecked_count += s->unchecked[(size_t)i * stride + (size_t)p];
	}
	part->is_demand = !checked || part->unchecked_count > 0;
	for (int i = 0; i < found->count; i++) {
		const double *values = part->is_demand ? found->demands : found->utilisations;
		double value = fmax(0, values[(size_t)i * stride + (size_t)p]);
		part->ranked[RN_RANK_MOST] = fmax(part->ranked[RN_RANK_MOST], value);
		sorted[i] = is_lost(s, i) ? HUGE_VAL : value;
	}
	rank(sorted, found->count, part->ranked);
}

static void count_trials(scatterer *s)
{
	rn_scatter *found = s->found;
	for (int i = 0; i < found->count; i++) {
		found->counts[found->trials[i]]++;
		for (int k = 0; k < found->case_count; k++)
			found->cases[k].counts[s->kinds[(size_t)i * (size_t)found->case_count + (size_t)k]]++;
	}
}

static rn_status sum_up(scatterer *s, rn_arena *arena)
{
	double *sorted;
	RN_TAKE(arena, sorted, s->found->count);
	count_trials(s);
	rank_closest(s, sorted);
	for (int p = 0; p < s->found->part_count; p++)
		rank_part(s, p, sorted);
	return RN_OK;
}

/* ---- the whole ----------------------------------------------------------------------------------- */

static rn_status take_lists(scatterer *s, rn_arena *arena)
{
	rn_scatter *found = s->found;
	size_t trials = (size_t)s->asked->count, rows = trials * (size_t)found->part_count;
	RN_TAKE(arena, found->cases, found->case_count + 1);
	RN_TAKE(arena, found->parts, found->part_count + 1);
	RN_TAKE(arena, found->trials, trials);
	RN_TAKE(arena, found->utilisations, rows + 1);
	RN_TAKE(arena, found->demands, rows + 1);
	RN_TAKE(arena, s->unchecked, rows + 1);
	RN_TAKE(arena, s->kinds, trials * (size_t)found->case_count + 1);
	for (int k = 0; k < found->case_count; k++)
		found->cases[k].case_index = s->result->cases[k].case_index;
	return rn_points_begin(arena, found->range_count, &s->points);
}

static bool can_be(const rn_model *m, const rn_scatter_asked *asked)
{
	for (int i = 0; i < asked->range_count; i++) {
		const rn_between *r = &asked->ranges[i];
		if (r->number < 0 || r->number >= m->number_count || !(r->low <= r->high))
			return false;
		rn_attribute attribute = m->numbers[r->number].attribute;
		if (!rn_attribute_allows(attribute, r->low) || !rn_attribute_allows(attribute, r->high))
			return false;
	}
	return asked->count > 0 && asked->count <= RN_TRIALS_MOST && asked->threads > 0 &&
	       asked->threads <= RN_THREADS_MOST && !m->drawn_under_load;
}

static rn_status find(scatterer *s, rn_arena *arena)
{
	rn_scatter *found = s->found;
	RN_TRY(rn_drawn_ranges(arena, s->model, s->asked->ranges, s->asked->range_count, &found->ranges,
	                       &found->range_count));
	if (found->range_count == 0)
		return RN_STATUS_ARGUMENT;
	RN_TRY(take_lists(s, arena));
	RN_TRY(try_all(s));
	return sum_up(s, arena);
}

rn_status rn_scatter_find(const rn_result *result, const rn_options *options, const rn_scatter_asked *asked,
                          rn_scatter *scatter_out)
{
	rn_result_memory *memory;
	if (!can_be(result->model, asked))
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_scatter found = {.asked = asked->count, .memory = memory, .case_count = result->case_count,
	                    .part_count = result->case_count ? result->cases[0].part_count : 0};
	scatterer s = {.result = result, .model = result->model, .options = *options, .stop = options->stop, .asked = asked,
	               .found = &found};
	s.options.stop = NULL;
	rn_status status = find(&s, &memory->arena);
	if (status == RN_OK)
		*scatter_out = found;
	else
		rn_scatter_release(&found);
	return status;
}

void rn_scatter_release(rn_scatter *scatter)
{
	rn_result_memory_release(&scatter->memory);
}
