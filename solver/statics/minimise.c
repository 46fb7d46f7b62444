/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Newton on the energy of the frictionless network, with a Levenberg term that vanishes with the
 * left-over force (Levenberg 1944; Nocedal and Wright, Numerical Optimization, ch. 4):
 *
 *     (K + shift I) p = -g,   shift = damping |g| / size
 *
 * A slack rope has no tension and no stiffness, so the start may be as slack as it likes.
 */
#include <float.h>
#include <math.h>
#include <string.h>

#include "solver/statics/geometry.h"
#include "solver/statics/settle.h"

/* Ratios of true to foretold fall of the energy between which the damping stays [-]. */
static const double ratio_poor = 0.25, ratio_good = 0.6;
static const double damping_first = 0.5, damping_least = 1e-12, damping_most = 1e12;

/* A load has fallen for good when the energy is this many times load x size below zero [-]: no
 * rigging holds its loads that far away. */
static const double fall_depth = 1e6;

bool rn_settler_measure(rn_settler *s)
{
	for (int r = 0; r < s->net.rope_count; r++)
		if (!rn_rope_measure(&s->net, &s->net.ropes[r]))
			return false;
	return true;
}

void rn_settler_keep(const rn_settler *s, rn_snapshot *kept)
{
	memcpy(kept->place, s->net.place, 2 * (size_t)s->net.model->node_count * sizeof(double));
	for (int i = 0; i < s->net.stop_count; i++)
		kept->bend[i] = s->net.stops[i].bend;
	for (int r = 0; r < s->net.rope_count; r++) {
		kept->tension[r] = s->net.ropes[r].tension;
		kept->taut[r] = s->net.ropes[r].taut;
	}
	for (int i = 0; i < s->net.contact_count; i++)
		kept->push[i] = s->net.contacts[i].touching ? s->net.contacts[i].push : -1;
}

void rn_settler_return(rn_settler *s, const rn_snapshot *kept)
{
	memcpy(s->net.place, kept->place, 2 * (size_t)s->net.model->node_count * sizeof(double));
	for (int i = 0; i < s->net.stop_count; i++)
		s->net.stops[i].bend = kept->bend[i];
	for (int r = 0; r < s->net.rope_count; r++) {
		s->net.ropes[r].taut = kept->taut[r];
		s->net.ropes[r].tension = kept->tension[r];
	}
	for (int i = 0; i < s->net.contact_count; i++) {
		s->net.contacts[i].touching = kept->push[i] >= 0;
		s->net.contacts[i].push = fmax(0, kept->push[i]);
	}
}

/* A rope that swings round a tread by more than this in one step [rad] may have gone past what it
 * should have met on the way, and its bend could be followed to the wrong branch. */
static const double swing_most = 1.0;

bool rn_settler_swings(const rn_settler *s, const rn_snapshot *kept)
{
	for (int i = 0; i < s->net.stop_count; i++)
		if (s->net.stops[i].radius > 0 && !s->net.stops[i].lifted &&
		    fabs(s->net.stops[i].bend - kept->bend[i]) > swing_most)
			return true;
	return false;
}

/* A bend this far below none is no passing overshoot [rad]. */
static const double bend_unwound = -RN_PI;

bool rn_settler_unwound(const rn_settler *s)
{
	for (int i = 0; i < s->net.stop_count; i++) {
		const rn_stop *stop = &s->net.stops[i];
		if (stop->radius > 0 && !stop->lifted && rn_stop_wound(stop) < bend_unwound)
			return true;
	}
	return false;
}

/* Where many loads hang on one another places go on well beyond the drawing, and tensions beyond the loads. */
static void measure_net(const rn_settler *s, double *force, double *size)
{
	for (int r = 0; r < s->net.rope_count && rn_settler_is_large(s); r++)
		*force = fmax(*force, s->net.ropes[r].tension);
	for (int i = 0; i < 2 * s->net.model->node_count && rn_settler_is_large(s); i++)
		*size = fmax(*size, fabs(s->net.place[i] - s->place_drawn[i]));
}

double rn_settler_tolerance(const rn_settler *s)
{
	double force = s->net.load_scale, size = s->net.size;
	measure_net(s, &force, &size);
	double rounding = rn_bending_stiffest(s->net.bendings, s->net.bending_count);
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		if (!rope->pulled)
			rounding = fmax(rounding, rope->stiffness_used / rope->length0);
	}
	rounding *= 8 * DBL_EPSILON * 2 * size;
	return fmax(1e-10 * force, rounding);
}

/* ---- gradient and stiffness ------------------------------------------------------------------ */

/* A rope that is slack by no more than this part of its length is as long as it was drawn [-]: what it was drawn
 * for is to carry, so the first step counts on it. */
static const double drawn_taut = 1e-9;

static void set_tension(rn_rope *rope, bool first)
{
	double stretch = rope->length - rope->length0;
	rope->taut = rope->pulled || rope->pushes || stretch > (first ? -drawn_taut * rope->length0 : 0);
	if (rope->pulled)
		rope->tension = rope->pull;
	else
		rope->tension = rope->taut ? rope->stiffness_used * stretch / rope->length0 : 0;
}

static void add_rope(rn_settler *s, const rn_rope *rope)
{
	const rn_network *net = &s->net;
	const rn_terms *terms = &s->terms;
	int n = 2 * rope->stop_count;
	double k = rope->pulled ? 0 : rope->stiffness_used / rope->length0;
	for (int a = 0; a < n; a++) {
		int row = net->unknown[net->stops[rope->first_stop + a / 2].node];
		if (row == RN_NONE)
			continue;
		row += a % 2;
		s->residual[row] += terms->residual[a];
		for (int b = 0; b < n; b++) {
			int column = net->unknown[net->stops[rope->first_stop + b / 2].node];
			if (column == RN_NONE || column + b % 2 > row)
				continue;
			double value = terms->matrix[a * n + b] + k * terms->by_tension[a] * terms->by_tension[b];
			if (value != 0)
				rn_triplets_add(&s->triplets, row, column + b % 2, value);
		}
	}
}

/* The block of two nodes into rows and columns that begin there: all of it between two, its lower half on the diagonal. */
static void add_block(rn_triplets *t, int row, int column, const double block[3], double sign)
{
	rn_triplets_add(t, row, column, sign * block[0]);
	rn_triplets_add(t, row + 1, column, sign * block[1]);
	rn_triplets_add(t, row + 1, column + 1, sign * block[2]);
	if (row != column)
		rn_triplets_add(t, row, column + 1, sign * block[1]);
}

/* The same for a rope without a bend, which most ropes of a net are: k u u^T + T/t (I - u u^T) on the difference of
 * its ends. */
static void add_straight(rn_settler *s, const rn_rope *rope)
{
	const rn_network *net = &s->net;
	const rn_span *span = &net->spans[rope->first_span];
	int from = net->unknown[net->stops[rope->first_stop].node], to = net->unknown[net->stops[rope->first_stop + 1].node];
	if (from == to) /* neither moves, or both are one */
		return;
	double turning = rope->tension / span->length, k = rope->pulled ? 0 : rope->stiffness_used / rope->length0;
	double x = span->u.x, y = span->u.y, stretching = k - turning;
	const double block[3] = {turning + stretching * x * x, stretching * x * y, turning + stretching * y * y};
	if (from != RN_NONE) {
		s->residual[from] -= rope->tension * x;
		s->residual[from + 1] -= rope->tension * y;
		add_block(&s->triplets, from, from, block, 1);
	}
	if (to != RN_NONE) {
		s->residual[to] += rope->tension * x;
		s->residual[to + 1] += rope->tension * y;
		add_block(&s->triplets, to, to, block, 1);
	}
	if (from != RN_NONE && to != RN_NONE)
		add_block(&s->triplets, from > to ? from : to, from > to ? to : from, block, -1);
}

static void add_contact(rn_settler *s, rn_contact *contact)
{
	rn_gap gap = rn_contact_gap(&s->net, contact);
	contact->touching = gap.exists && gap.gap < 0;
	contact->push = contact->touching ? -s->net.contact_stiffness * gap.gap : 0;
	if (!contact->touching)
		return;
	const double u[2] = {gap.direction.x, gap.direction.y};
	int at[2] = {s->net.unknown[s->net.stops[contact->first].node],
	             s->net.unknown[s->net.stops[contact->second].node]};
	/* the part of its stiffness that is negative across its line is left out: it would only spoil
	 * the factors far from the answer, and is small at it */
	for (int a = 0; a < 4; a++) {
		if (at[a / 2] == RN_NONE)
			continue;
		int row = at[a / 2] + a % 2;
		double sign = a / 2 ? 1 : -1;
		s->residual[row] -= sign * contact->push * u[a % 2];
		for (int b = 0; b < 4; b++)
			if (at[b / 2] != RN_NONE)
				rn_triplets_add(&s->triplets, row, at[b / 2] + b % 2,
				                s->net.contact_stiffness * u[a % 2] * u[b % 2] *
				                        ((a / 2 == b / 2) ? 1 : -1));
	}
}

static void add_bending(rn_settler *s, const rn_bending *bending)
{
	int n = 2 * bending->node_count;
	for (int k = 0; k < n; k++) {
		int row = s->net.unknown[bending->nodes[k / 2]] + k % 2;
		s->residual[row] += rn_bending_residual(bending, s->net.place, k);
		for (int j = 0; j < n; j++)
			rn_triplets_add(&s->triplets, row, s->net.unknown[bending->nodes[j / 2]] + j % 2,
			                bending->stiffness[k * n + j]);
	}
}

/* The guide's spring: the tangent is that of 1/2 k (rest - height)^2. */
void rn_guide_add(rn_settler *s, double force_unit, double turning, bool lower_half)
{
	const rn_network *net = &s->net;
	const rn_guide *g = net->guide;
	if (!g)
		return;
	const double force[2] = {rn_guide_side(net), rn_guide_lift(net)};
	for (int k = g->plumb ? 0 : 1; k < 2; k++) {
		double stiffness = k == 0 ? rn_guide_plumb * g->stiffness : g->stiffness;
		for (int a = 0; a < 2; a++) {
			int row = net->unknown[g->nodes[a]] + k;
			s->residual[row] -= g->share[a] * force[k] / force_unit;
			for (int b = 0; b < 2; b++) {
				int column = net->unknown[g->nodes[b]] + k;
				if (!lower_half || column <= row)
					rn_triplets_add(&s->triplets, row, column, g->share[a] * g->share[b] * stiffness * turning);
			}
		}
	}
}

static void add_loads(rn_settler *s)
{
	for (int i = 0; i < s->net.model->node_count; i++) {
		int row = s->net.unknown[i];
		if (row == RN_NONE)
			continue;
		s->residual[row] -= s->net.load[2 * i];
		s->residual[row + 1] -= s->net.load[2 * i + 1];
	}
}

void rn_minimise_assemble(rn_settler *s, bool first)
{
	s->triplets.count = 0;
	memset(s->residual, 0, (size_t)s->net.unknown_count * sizeof(double));
	add_loads(s);
	for (int r = 0; r < s->net.rope_count; r++) {
		rn_rope *rope = &s->net.ropes[r];
		set_tension(rope, first);
		if (!rope->taut)
			continue;
		if (!rope->bends) {
			add_straight(s, rope);
			continue;
		}
		rn_terms_compute(&s->net, rope, &s->terms);
		add_rope(s, rope);
	}
	for (int i = 0; i < s->net.bending_count; i++)
		add_bending(s, &s->net.bendings[i]);
	for (int i = 0; i < s->net.contact_count; i++)
		add_contact(s, &s->net.contacts[i]);
	rn_guide_add(s, 1, 1, true);
}

static double largest(const double *v, int n)
{
	double most = 0;
	for (int i = 0; i < n; i++)
		most = fmax(most, fabs(v[i]));
	return most;
}

/* ---- one step ------------------------------------------------------------------------------ */

/* Solves for the step under the damping, which is raised until the factors are positive. Returns
 * the fall of the energy that the quadratic model foretells. */
static double find_step(rn_settler *s, double left_over, double *damping)
{
	int n = s->net.unknown_count;
	double unit = left_over / s->net.size, tiny = DBL_EPSILON * unit * 1e-3;
	while (rn_symmetric_factor(&s->symmetric, &s->triplets, *damping * unit, tiny) > 0 && *damping < damping_most)
		*damping = fmax(*damping * 10, 1e-3);
	for (int i = 0; i < n; i++)
		s->step[i] = -s->residual[i];
	rn_symmetric_solve(&s->symmetric, s->step);
	/* -g.p - 1/2 p.K.p = -1/2 g.p + 1/2 shift p.p */
	double fall = 0, square = 0;
	for (int i = 0; i < n; i++) {
		fall -= 0.5 * s->residual[i] * s->step[i];
		square += s->step[i] * s->step[i];
	}
	return fall + 0.5 * *damping * unit * square;
}

static void move(rn_settler *s)
{
	for (int i = 0; i < s->net.model->node_count; i++) {
		int k = s->net.unknown[i];
		if (k == RN_NONE)
			continue;
		s->net.place[2 * i] += s->step[k];
		s->net.place[2 * i + 1] += s->step[k + 1];
	}
}

static void adapt(double ratio, double *damping)
{
	if (ratio < ratio_poor)
		*damping *= 4;
	else if (ratio > ratio_good)
		*damping = fmax(*damping * 0.1, damping_least);
}

static bool fallen(const rn_settler *s)
{
	return !(s->energy > -fall_depth * s->net.load_scale * s->net.size);
}

/* Rounding of the energy [N m], which is the sum of many where there are many. */
static double energy_noise(const rn_settler *s)
{
	double terms = rn_settler_is_large(s) ? sqrt(s->net.rope_count) : 1;
	return 4 * DBL_EPSILON * terms * (fabs(s->energy) + s->net.load_scale * s->net.size);
}

/* Tries steps from the present place until one lowers the energy. False: none does. */
static bool advance(rn_settler *s, double left_over, double *damping)
{
	double noise = energy_noise(s);
	rn_settler_keep(s, &s->step_kept);
	while (*damping < damping_most) {
		double foretold = find_step(s, left_over, damping);
		move(s);
		if (rn_settler_measure(s) && !rn_settler_swings(s, &s->step_kept)) {
			double energy = rn_network_energy(&s->net), fall = s->energy - energy;
			/* below the noise of the energy a Newton step is taken on trust: the caller watches
			 * the left-over force */
			if (fall > 0.05 * foretold || (foretold < noise && fall > -noise)) {
				adapt(foretold < noise ? 1 : fall / foretold, damping);
				s->energy = energy;
				return true;
			}
		}
		rn_settler_return(s, &s->step_kept);
		*damping = fmax(*damping * 8, 1e-3);
	}
	(void)rn_settler_measure(s);
	return false;
}

/* So many steps on end that gain no more than rounding are the last. */
enum { STEPS_OF_NOISE = 5 };

rn_ended rn_minimise(rn_settler *s, double aim, double enough)
{
	double damping = damping_first, least_left = HUGE_VAL;
	int idle = 0, noise = 0;
	if (!rn_settler_measure(s))
		return RN_ENDED_STUCK;
	s->energy = rn_network_energy(&s->net);
	for (int step = 0; step < s->step_max; step++) {
		if (s->stop && *s->stop)
			return RN_ENDED_STOPPED;
		if (!rn_settler_spend(s, s->symmetric.products + 100.0 * s->net.unknown_count))
			return RN_ENDED_STUCK;
		rn_minimise_assemble(s, step == 0 && rn_settler_is_large(s));
		double left_over = largest(s->residual, s->net.unknown_count);
		/* rounding may keep it from falling further */
		idle = left_over < 0.5 * least_left ? 0 : idle + 1;
		least_left = fmin(least_left, left_over);
		if (idle > 0 && aim < enough && rn_settler_is_large(s))
			enough = fmax(enough, rn_settler_tolerance(s));
		if (left_over <= aim || (left_over <= enough && idle > 0))
			return RN_ENDED_WELL;
		if (fallen(s))
			return RN_ENDED_FALLING;
		double before = s->energy;
		if (!advance(s, left_over, &damping))
			return left_over <= enough ? RN_ENDED_WELL : RN_ENDED_STUCK;
		noise = before - s->energy > energy_noise(s) ? 0 : noise + 1;
		if (noise > STEPS_OF_NOISE && rn_settler_is_large(s))
			return left_over <= enough ? RN_ENDED_WELL : RN_ENDED_STUCK;
		s->step_count++;
		if (rn_settler_unwound(s))
			return RN_ENDED_TURNED;
	}
	return RN_ENDED_STUCK;
}
