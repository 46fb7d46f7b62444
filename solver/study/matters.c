/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a part's share of its limit depends on. With R(x, p) = 0 the equations of equilibrium, x places,
 * tensions and pushes, p the numbers of the model, and J(x, p) the share,
 *
 *     dJ/dp = dJ/dp|x - l . dR/dp|x,     (dR/dx)^T l = dJ/dx:
 *
 * one linear system for all numbers (adjoint method; Strang, Computational Science and Engineering, ch. 8).
 * dR/dx is exact; dJ/dx and the partials by p are central differences at fixed x, in which nothing is settled.
 * A slope says nothing of ropes that go slack or of treads that are met on the way: the largest changes are
 * settled anew, both ways.
 */
#include <math.h>
#include <string.h>

#include "solver/study/workspace.h"

/* Of the numbers that matter most so many are settled anew and told. */
enum { TOLD_MOST = 12 };

/* Steps of the differences: of an unknown in units of the drawing and the largest load [-], and of a number
 * in parts of itself or of a metre [-]: about the cube root of rounding. */
static const double unknown_step = 1e-6, number_step = 1e-6;

typedef struct seeker {
	const rn_result *result;
	const rn_model *model;
	const rn_case *c;
	rn_workspace *workspace;
	rn_arena *arena;
	double *values;
	rn_matters *found;
	double *adjoint; /* l, one per unknown */
	double *above;   /* R a little above */
	int size;
} seeker;

/* ---- the share ----------------------------------------------------------------------------- */

static double share_of(const seeker *s, const rn_case_result *a)
{
	const rn_part_result *part = &a->parts[s->found->part];
	return s->found->is_demand ? part->demand : part->utilisation;
}

/* ---- numbers ------------------------------------------------------------------------------- */

/* A change that a person can picture: a hand's width of a place, a tenth of a weight. 0: nobody asks. */
static double step_of(const rn_number *n, double value)
{
	const double hand = 0.1, tenth = 0.1, degree = 3.14159265358979323846 / 180;
	switch (n->attribute) {
	case RN_ATTRIBUTE_X:
	case RN_ATTRIBUTE_Y:
	case RN_ATTRIBUTE_HEIGHT:
	case RN_ATTRIBUTE_REACH:
	case RN_ATTRIBUTE_LENGTH:
	case RN_ATTRIBUTE_SLACK: return hand;
	case RN_ATTRIBUTE_LEAN:
	case RN_ATTRIBUTE_TOWARD: return degree;
	case RN_ATTRIBUTE_ANGLE: return 10 * degree;
	case RN_ATTRIBUTE_EFFICIENCY: return 0.02;
	case RN_ATTRIBUTE_FRICTION: return 0.05;
	case RN_ATTRIBUTE_TURNS: return 1;
	case RN_ATTRIBUTE_DESIGN_FACTOR:
	case RN_ATTRIBUTE_GRAVITY:
	case RN_ATTRIBUTE_PLACE_ERROR:
	case RN_ATTRIBUTE_LENGTH_ERROR:
	case RN_ATTRIBUTE_TAIL: return 0;
	default: return tenth * fabs(value);
	}
}

/* Factors, and efficiencies, end at 1; what is a size does not go below nothing. */
static bool is_possible(const rn_number *n, double value)
{
	bool signed_number = n->attribute == RN_ATTRIBUTE_X || n->attribute == RN_ATTRIBUTE_Y ||
	                     n->attribute == RN_ATTRIBUTE_LEAN || n->attribute == RN_ATTRIBUTE_TOWARD;
	bool share = n->attribute == RN_ATTRIBUTE_EFFICIENCY || n->attribute == RN_ATTRIBUTE_WET_FACTOR ||
	             n->attribute == RN_ATTRIBUTE_CONDITION_FACTOR || n->attribute == RN_ATTRIBUTE_KNOT_FACTOR ||
	             n->attribute == RN_ATTRIBUTE_CHOKE_FACTOR || n->attribute == RN_ATTRIBUTE_KEEPS;
	return signed_number || (value > 0 && (!share || value <= 1)) ||
	       (value >= 0 && n->attribute == RN_ATTRIBUTE_SLACK);
}

/* ---- the adjoint --------------------------------------------------------------------------- */

static bool slope_by_unknowns(seeker *s)
{
	rn_system system;
	for (int i = 0; i < s->size; i++) {
		double side[2];
		for (int k = 0; k < 2; k++) {
			if (!rn_workspace_look(s->workspace, s->c, s->values, i, k ? unknown_step : -unknown_step, &system))
				return false;
			side[k] = share_of(s, system.answer);
		}
		s->adjoint[i] = (side[1] - side[0]) / (2 * unknown_step);
	}
	return true;
}

static rn_status find_adjoint(seeker *s, bool *found_out)
{
	rn_system system;
	*found_out = rn_workspace_look(s->workspace, s->c, s->values, RN_NONE, 0, &system);
	if (!*found_out)
		return RN_OK;
	s->size = system.size;
	rn_triplets turned = {.count = system.tangent->count, .room = system.tangent->count};
	RN_TAKE(s->arena, turned.items, turned.count + 1);
	for (int i = 0; i < turned.count; i++) {
		rn_triplet t = system.tangent->items[i];
		turned.items[i] = (rn_triplet){t.column, t.row, t.value};
	}
	RN_TAKE(s->arena, s->adjoint, s->size + 1);
	RN_TAKE(s->arena, s->above, s->size + 1);
	*found_out = slope_by_unknowns(s);
	return *found_out ? rn_workspace_solve(s->workspace, s->size, &turned, s->adjoint) : RN_OK;
}

/* dJ/dp of one number; 0 where the equations cannot be looked at beside it. */
static double slope_of(seeker *s, int number)
{
	double value = s->values[number], step = number_step * fmax(fabs(value), 1e-3), slope = 0;
	rn_system system;
	double shares[2];
	for (int k = 1; k >= 0; k--) {
		s->values[number] = value + (k ? step : -step);
		bool looked = rn_workspace_look(s->workspace, s->c, s->values, RN_NONE, 0, &system);
		s->values[number] = value;
		if (!looked || system.size != s->size)
			return 0;
		shares[k] = share_of(s, system.answer);
		for (int i = 0; i < s->size; i++)
			slope -= s->adjoint[i] * (k ? 1 : -1) * system.residual[i] / (2 * step);
	}
	return slope + (shares[1] - shares[0]) / (2 * step);
}

/* ---- settled anew -------------------------------------------------------------------------- */

static rn_status settle_beside(seeker *s, rn_matter *matter, double by, double *change_out, rn_beside *how_out)
{
	const rn_number *n = &s->model->numbers[matter->number];
	double value = s->values[matter->number];
	const rn_case_result *a;
	*how_out = RN_BESIDE_NO_SUCH_NUMBER;
	if (!is_possible(n, value + by))
		return RN_OK;
	s->values[matter->number] = value + by;
	rn_status status = rn_workspace_settle(s->workspace, s->c, s->values, false, &a);
	s->values[matter->number] = value;
	RN_TRY(status);
	*how_out = rn_case_stays(a) ? RN_BESIDE_FOUND : RN_BESIDE_NOT_FOUND;
	*change_out = *how_out == RN_BESIDE_FOUND ? share_of(s, a) - s->found->share : 0;
	return RN_OK;
}

/* Largest change for the step that can be pictured first; equal ones as they stand in the model. */
static void insert(rn_matters *found, rn_matter matter)
{
	double size = fabs(matter.slope * matter.step);
	int i = found->count < TOLD_MOST ? found->count++ : TOLD_MOST;
	for (; i > 0 && fabs(found->list[i - 1].slope * found->list[i - 1].step) < size; i--)
		if (i < TOLD_MOST)
			found->list[i] = found->list[i - 1];
	if (i < TOLD_MOST)
		found->list[i] = matter;
}

/* Less than this part of the share for a step is nothing to speak of [-]. */
static const double worth_telling = 1e-3;

static rn_status rank(seeker *s)
{
	rn_matters *found = s->found;
	for (int i = 0; i < s->model->number_count; i++) {
		const rn_number *n = &s->model->numbers[i];
		double step = step_of(n, s->values[i]);
		found->slopes[i] = slope_of(s, i);
		if (step > 0 && fabs(found->slopes[i]) * step > worth_telling * fabs(found->share))
			insert(found, (rn_matter){.number = i, .slope = found->slopes[i], .step = step});
	}
	for (int i = 0; i < found->count; i++) {
		rn_matter *m = &found->list[i];
		RN_TRY(settle_beside(s, m, m->step, &m->more, &m->more_how));
		RN_TRY(settle_beside(s, m, -m->step, &m->less, &m->less_how));
	}
	return RN_OK;
}

static rn_status find(seeker *s, const rn_options *options)
{
	const rn_case_result *a;
	bool found;
	RN_TAKE(s->arena, s->values, s->model->number_count + 1);
	RN_TAKE(s->arena, s->found->slopes, s->model->number_count + 1);
	RN_TAKE(s->arena, s->found->list, TOLD_MOST + 1);
	rn_case_values(s->model, s->c, s->values);
	RN_TRY(rn_workspace_create(s->model, options, &s->workspace));
	RN_TRY(rn_workspace_settle(s->workspace, s->c, s->values, false, &a));
	if (!rn_case_stays(a))
		return RN_STATUS_ARGUMENT;
	s->found->is_demand = a->parts[s->found->part].unchecked != RN_CHECKED;
	s->found->share = share_of(s, a);
	RN_TRY(find_adjoint(s, &found));
	return found ? rank(s) : RN_OK;
}

rn_status rn_matters_find(const rn_result *result, const rn_options *options, int case_index, int part,
                          rn_matters *matters_out)
{
	if (!rn_case_rests(&result->cases[case_index]))
		return RN_STATUS_ARGUMENT;
	rn_result_memory *memory;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_matters found = {.part = part, .case_index = case_index, .memory = memory};
	const rn_model *m = result->model;
	seeker s = {.result = result, .model = m, .c = &m->cases[result->cases[case_index].case_index],
	            .arena = &memory->arena, .found = &found};
	rn_status status = find(&s, options);
	rn_workspace_destroy(s.workspace);
	if (status == RN_OK)
		*matters_out = found;
	else
		rn_matters_release(&found);
	return status;
}

void rn_matters_release(rn_matters *matters)
{
	rn_result_memory_release(&matters->memory);
}
