/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/fold.h"

#include <math.h>

#include "io/report/verdict.h"

static const double part_apart = 0.01;    /* of the larger value */
static const double force_apart = 1;      /* N; below this nobody feels a difference */
static const double place_apart = 0.005;  /* m; a rope's own width */

static bool near(double a, double b, double least)
{
	return fabs(a - b) <= fmax(least, part_apart * fmax(fabs(a), fabs(b)));
}

static bool near_vector(const double a[2], const double b[2], double least)
{
	double size = fmax(hypot(a[0], a[1]), hypot(b[0], b[1]));
	return hypot(a[0] - b[0], a[1] - b[1]) <= fmax(least, part_apart * size);
}

static bool near_move(const rn_node_result *a, const rn_node_result *b)
{
	double move_a[2] = {a->place[0] - a->drawn[0], a->place[1] - a->drawn[1]};
	double move_b[2] = {b->place[0] - b->drawn[0], b->place[1] - b->drawn[1]};
	return near_vector(move_a, move_b, place_apart);
}

static bool same_nodes(const rn_model *model, const rn_case_result *a, const rn_case_result *b)
{
	for (int i = 0; a->nodes && b->nodes && i < model->node_count; i++)
		if (!near_move(&a->nodes[i], &b->nodes[i]) ||
		    !near_vector(a->nodes[i].pull, b->nodes[i].pull, force_apart) ||
		    !near_vector(a->nodes[i].load, b->nodes[i].load, force_apart))
			return false;
	return true;
}

static bool same_forces(const rn_case_result *a, const rn_case_result *b)
{
	if (a->span_count != b->span_count || a->pass_count != b->pass_count ||
	    a->hold_count != b->hold_count || a->contact_count != b->contact_count)
		return false;
	for (int i = 0; i < a->span_count; i++)
		if (!near(a->spans[i].tension, b->spans[i].tension, force_apart))
			return false;
	for (int i = 0; i < a->pass_count; i++)
		if (!near_vector(a->passes[i].force, b->passes[i].force, force_apart) ||
		    a->passes[i].lifted != b->passes[i].lifted)
			return false;
	for (int i = 0; i < a->hold_count; i++)
		if (!near(a->holds[i].hand_least, b->holds[i].hand_least, force_apart) ||
		    !near(a->holds[i].hand_most, b->holds[i].hand_most, force_apart))
			return false;
	for (int i = 0; i < a->contact_count; i++)
		if (!near(a->contacts[i].push, b->contacts[i].push, force_apart))
			return false;
	return true;
}

static bool same_parts(const rn_case_result *a, const rn_case_result *b)
{
	if (a->part_count != b->part_count)
		return false;
	for (int i = 0; i < a->part_count; i++) {
		const rn_part_result *p = &a->parts[i], *q = &b->parts[i];
		if (p->unchecked != q->unchecked ||
		    rn_verdict_is_over(p) != rn_verdict_is_over(q) ||
		    !near(p->demand, q->demand, force_apart) ||
		    !near(p->limit, q->limit, force_apart) ||
		    !near(p->utilisation, q->utilisation, 0))
			return false;
	}
	return true;
}

static bool same_case(const rn_model *model, const rn_case_result *a, const rn_case_result *b)
{
	return rn_verdict_has_answer(a) && rn_verdict_has_answer(b) && a->falls == b->falls &&
	       a->balance.closed == b->balance.closed && same_parts(a, b) && same_forces(a, b) &&
	       same_nodes(model, a, b);
}

/* The first of the cases that stand for themselves, the worst before all others. */
static int stand_in(const rn_result *result, const int *shown, int worst, int c)
{
	if (c != worst && worst != RN_NONE &&
	    same_case(result->model, &result->cases[worst], &result->cases[c]))
		return worst;
	for (int i = 0; i < c; i++)
		if (shown[i] == i && c != worst &&
		    same_case(result->model, &result->cases[i], &result->cases[c]))
			return i;
	return c;
}

void rn_fold_cases(const rn_result *result, int *shown)
{
	for (int c = 0; c < result->case_count; c++)
		shown[c] = stand_in(result, shown, result->verdict.worst_case, c);
}
