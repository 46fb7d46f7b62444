/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Places and tensions together (a mixed form): with T an unknown of its own, balance closes to the
 * rounding of T however stiff the ropes are, and friction, which has no energy, fits in.
 *
 *     [ dR/dx  dR/dT ] [dx]     [R]
 *     [ dS/dx  dS/dT ] [dT] = - [S]
 *
 * Rows and columns are scaled by the size of the drawing and by the largest load. Ropes whose
 * tension falls below zero go slack and leave the system; slack ones that reach their length
 * come back.
 */
#include <float.h>
#include <math.h>
#include <string.h>

#include "solver/statics/settle.h"

static void add_scaled(rn_settler *s, int row, int column, double value)
{
	if (value != 0)
		rn_triplets_add(&s->triplets, row, column, value);
}

static int number_forces(rn_settler *s)
{
	int size = s->net.unknown_count;
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		s->rope_unknown[r] = rope->taut && !rope->pulled ? size++ : RN_NONE;
	}
	for (int i = 0; i < s->net.contact_count; i++)
		s->contact_unknown[i] = s->net.contacts[i].touching ? size++ : RN_NONE;
	return size;
}

static void add_rope(rn_settler *s, int r)
{
	const rn_network *net = &s->net;
	const rn_rope *rope = &net->ropes[r];
	const rn_terms *terms = &s->terms;
	int n = 2 * rope->stop_count, own = s->rope_unknown[r];
	double turning = net->size / net->load_scale;
	for (int a = 0; a < n; a++) {
		int row = net->unknown[net->stops[rope->first_stop + a / 2].node];
		if (row == RN_NONE)
			continue;
		row += a % 2;
		s->residual[row] += terms->residual[a] / net->load_scale;
		for (int b = 0; b < n; b++) {
			int column = net->unknown[net->stops[rope->first_stop + b / 2].node];
			if (column != RN_NONE)
				add_scaled(s, row, column + b % 2, terms->matrix[a * n + b] * turning);
		}
		if (own == RN_NONE)
			continue;
		add_scaled(s, row, own, terms->by_tension[a]);
		add_scaled(s, own, row, terms->stretch_by_place[a]);
	}
	if (own == RN_NONE)
		return;
	s->residual[own] = terms->stretch / net->size;
	add_scaled(s, own, own, terms->stretch_by_tension / turning);
}

/* A push is an unknown of its own like a tension: C = |d| - reach + push/k = 0. */
static void add_contact(rn_settler *s, int i)
{
	const rn_network *net = &s->net;
	const rn_contact *contact = &net->contacts[i];
	int own = s->contact_unknown[i];
	if (own == RN_NONE)
		return;
	rn_gap gap = rn_contact_gap(net, contact);
	double turning = net->size / net->load_scale, across = contact->push / gap.distance;
	const double u[2] = {gap.direction.x, gap.direction.y};
	int at[2] = {net->unknown[net->stops[contact->first].node],
	             net->unknown[net->stops[contact->second].node]};
	for (int a = 0; a < 4; a++) {
		if (at[a / 2] == RN_NONE)
			continue;
		int row = at[a / 2] + a % 2;
		double sign = a / 2 ? 1 : -1;
		s->residual[row] -= sign * contact->push * u[a % 2] / net->load_scale;
		add_scaled(s, row, own, -sign * u[a % 2]);
		add_scaled(s, own, row, sign * u[a % 2]);
		for (int b = 0; b < 4; b++) {
			if (at[b / 2] == RN_NONE)
				continue;
			double value = -across * ((a % 2 == b % 2 ? 1 : 0) - u[a % 2] * u[b % 2]);
			add_scaled(s, row, at[b / 2] + b % 2, (a / 2 == b / 2 ? value : -value) * turning);
		}
	}
	s->residual[own] = (gap.gap + contact->push / net->contact_stiffness) / net->size;
	add_scaled(s, own, own, 1 / (net->contact_stiffness * turning));
}

static void add_bending(rn_settler *s, const rn_bending *bending)
{
	double turning = s->net.size / s->net.load_scale;
	int n = 2 * bending->node_count;
	for (int k = 0; k < n; k++) {
		int row = s->net.unknown[bending->nodes[k / 2]] + k % 2;
		s->residual[row] += rn_bending_residual(bending, s->net.place, k) / s->net.load_scale;
		for (int j = 0; j < n; j++)
			add_scaled(s, row, s->net.unknown[bending->nodes[j / 2]] + j % 2,
			           bending->stiffness[k * n + j] * turning);
	}
}

int rn_newton_assemble(rn_settler *s)
{
	rn_network *net = &s->net;
	int size = number_forces(s);
	s->triplets.count = 0;
	memset(s->residual, 0, (size_t)size * sizeof(double));
	for (int i = 0; i < net->model->node_count; i++)
		if (net->unknown[i] != RN_NONE) {
			s->residual[net->unknown[i]] -= net->load[2 * i] / net->load_scale;
			s->residual[net->unknown[i] + 1] -= net->load[2 * i + 1] / net->load_scale;
		}
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		if (rope->pulled) {
			rope->taut = true;
			rope->tension = rope->pull;
		}
		if (!rope->taut)
			continue;
		rn_terms_compute(net, rope, &s->terms);
		add_rope(s, r);
	}
	for (int i = 0; i < net->bending_count; i++)
		add_bending(s, &net->bendings[i]);
	for (int i = 0; i < net->contact_count; i++)
		add_contact(s, i);
	rn_guide_add(s, net->load_scale, net->size / net->load_scale, false);
	return size;
}

static double merit(const rn_settler *s, int size)
{
	double sum = 0;
	for (int i = 0; i < size; i++)
		sum += s->residual[i] * s->residual[i];
	return sqrt(sum);
}

/* ---- steps --------------------------------------------------------------------------------- */

void rn_newton_move(rn_settler *s, double part)
{
	rn_network *net = &s->net;
	for (int i = 0; i < net->model->node_count; i++)
		for (int k = 0; k < 2 && net->unknown[i] != RN_NONE; k++)
			net->place[2 * i + k] += part * s->step[net->unknown[i] + k] * net->size;
	for (int r = 0; r < net->rope_count; r++)
		if (s->rope_unknown[r] != RN_NONE)
			net->ropes[r].tension += part * s->step[s->rope_unknown[r]] * net->load_scale;
	for (int i = 0; i < net->contact_count; i++)
		if (s->contact_unknown[i] != RN_NONE)
			net->contacts[i].push += part * s->step[s->contact_unknown[i]] * net->load_scale;
}

static bool switch_rope(rn_rope *rope)
{
	bool was = rope->taut;
	if (rope->pushes)
		return false;
	if (rope->taut && rope->tension < 0)
		rope->taut = false;
	else if (!rope->taut && rope->length > rope->length0 * (1 + 4 * DBL_EPSILON))
		rope->taut = true;
	if (was != rope->taut)
		rope->tension = 0;
	return was != rope->taut;
}

static bool switch_contact(const rn_network *net, rn_contact *contact)
{
	bool was = contact->touching;
	rn_gap gap = rn_contact_gap(net, contact);
	if (!gap.exists || (contact->touching && contact->push < 0))
		contact->touching = false;
	else if (!contact->touching && gap.gap < -4 * DBL_EPSILON * gap.distance)
		contact->touching = true;
	if (was != contact->touching)
		contact->push = 0;
	return was != contact->touching;
}

/* Ropes go slack or come taut, bodies part or meet. True if any did. */
static bool switch_forces(rn_settler *s)
{
	bool switched = false;
	for (int r = 0; r < s->net.rope_count; r++)
		if (!s->net.ropes[r].pulled && switch_rope(&s->net.ropes[r]))
			switched = true;
	for (int i = 0; i < s->net.contact_count; i++)
		if (switch_contact(&s->net, &s->net.contacts[i]))
			switched = true;
	return switched;
}

/* No step moves a node farther than this part of the drawing [-]: beyond it headings turn too far
 * to be followed. */
static const double step_longest = 0.2;

static double longest_part(const rn_settler *s)
{
	double most = 0;
	for (int i = 0; i < s->net.unknown_count; i++)
		most = fmax(most, fabs(s->step[i]));
	return most > step_longest ? step_longest / most : 1;
}

/* Takes as much of the step as keeps the left-over from growing. The first few halvings may let it
 * grow a little: the stretch of a stiff rope swings past before it comes back. */
static bool advance(rn_settler *s, double before)
{
	rn_settler_keep(s, &s->step_kept);
	double part = longest_part(s);
	for (int halving = 0; halving < 12; halving++, part /= 2) {
		rn_newton_move(s, part);
		if (rn_settler_measure(s) && !rn_settler_swings(s, &s->step_kept)) {
			bool switched = switch_forces(s);
			int size = rn_newton_assemble(s);
			double after = merit(s, size);
			if (switched || after < before * (1 - 1e-4 * part) || (halving < 1 && after < 4 * before))
				return true;
		}
		rn_settler_return(s, &s->step_kept);
	}
	(void)rn_settler_measure(s);
	return false;
}

/* The left-over at which rounding takes over, over load and size [-]. */
static const double merit_least = 3e-15;
/* A left-over from which steps no longer gain is good enough when it is below this [-]. */
static const double merit_enough = 1e-11;

/* Wood is stiff, and what it resists with is its stiffness times a difference of places: the rounding
 * of a place [-], a few times over, comes back as force. */
static double wood_noise(const rn_network *net)
{
	double stiffest = rn_bending_stiffest(net->bendings, net->bending_count);
	return 8 * DBL_EPSILON * stiffest * net->size / net->load_scale;
}

/* Of a net: the rounding of places turns a rope of length L by eps size / L, and its tension with it, which may be that
 * of many loads [-]. */
static double net_noise(const rn_settler *s)
{
	double sum = 0;
	for (int r = 0; r < s->net.rope_count && rn_settler_is_large(s); r++) {
		double turning = s->net.ropes[r].tension / s->net.ropes[r].length;
		sum += turning * turning;
	}
	return 4 * DBL_EPSILON * s->net.size / s->net.load_scale * sqrt(sum);
}

rn_ended rn_newton(rn_settler *s)
{
	const double sure = fmax(merit_enough, wood_noise(&s->net));
	double best = HUGE_VAL;
	int idle = 0;
	if (!rn_settler_measure(s))
		return RN_ENDED_STUCK;
	rn_network_stiffen(&s->net, HUGE_VAL);
	switch_forces(s);
	int size = rn_newton_assemble(s);
	for (int step = 0; step < s->step_max; step++) {
		if (s->stop && *s->stop)
			return RN_ENDED_STOPPED;
		if (!rn_settler_spend(s, s->full.products))
			return RN_ENDED_STUCK;
		double now = merit(s, size), enough = fmax(sure, net_noise(s));
		if (!isfinite(now))
			return RN_ENDED_STUCK;
		idle = now < 0.5 * best ? 0 : idle + 1;
		best = fmin(best, now);
		if (now <= merit_least || (now <= enough && idle >= 1))
			return RN_ENDED_WELL;
		if (idle > 15)
			return RN_ENDED_STUCK;
		for (int i = 0; i < size; i++)
			s->step[i] = -s->residual[i];
		rn_status status = rn_full_solve(&s->full, size, &s->triplets, s->step);
		if (status != RN_OK) {
			s->stopped_by = status;
			return RN_ENDED_STOPPED;
		}
		if (!advance(s, now))
			return now <= enough ? RN_ENDED_WELL : RN_ENDED_STUCK;
		s->step_count++;
		if (rn_settler_unwound(s))
			return RN_ENDED_TURNED;
		size = number_forces(s);
	}
	return RN_ENDED_STUCK;
}
