/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A start for a network drawn slack. Newton on the energy sees no rope before it is taut, so in a
 * long slack chain the news of a load travels one rope a step. Here every rope is taken for a spring
 * of no length at first, which makes the shape linear in the loads (force densities: Schek, Computer
 * Methods in Applied Mechanics and Engineering 3, 1974):
 *
 *     sum over spans at a node of q (x_other - x) + load = 0,   q = part EA / L0
 *
 * Several parts are tried, and the shape of least true energy is taken if it beats the drawing.
 *
 * Where there are many ropes the densities are renewed from the shape they gave, again and again:
 *
 *     T = q L,   q' = T / (L0 (1 + T / EA))
 *
 * so that each rope comes to the length it has under its own tension. What this comes to rest at is the
 * answer itself, if all ropes are taut. With g(q) = ln q' and r = g - ln q, the next ln q is mixed of the
 * last two rounds (Anderson, Journal of the ACM 12, 1965, with one round remembered):
 *
 *     ln q_next = g - theta (g - g_last),   theta = r.(r - r_last) / |r - r_last|^2
 *
 * which takes the one slow way out of it, that in which all densities of a shallow chain rise together. A
 * long chain takes ten rounds, however stiff or shallow; a net that carries a load in many ways comes closer
 * more slowly, and is left to the energy.
 */
#include <float.h>
#include <math.h>
#include <string.h>

#include "solver/statics/geometry.h"
#include "solver/statics/settle.h"

/* A rope shorter than its length by more than this part of it is slack for good [-]. */
static const double slack_clear = 1e-3;

static const double parts[] = {1, 1.0 / 8, 1.0 / 64, 1.0 / 512, 1.0 / 4096};

static bool mostly_slack(const rn_network *net)
{
	int slack = 0;
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		slack += !rope->pulled && !rope->pushes && rope->length < rope->length0 * (1 - slack_clear);
	}
	return 2 * slack > net->rope_count;
}

/* In steps from the present places. */
static void add_span(rn_settler *s, const rn_span *span, double q, double *right)
{
	const rn_network *net = &s->net;
	const int node[2] = {net->stops[span->from].node, net->stops[span->to].node};
	for (int end = 0; end < 2; end++) {
		int own = net->unknown[node[end]], other = net->unknown[node[1 - end]];
		for (int k = 0; k < 2 && own != RN_NONE; k++) {
			right[own + k] += q * (net->place[2 * node[1 - end] + k] - net->place[2 * node[end] + k]);
			rn_triplets_add(&s->triplets, own + k, own + k, q);
			if (other != RN_NONE)
				rn_triplets_add(&s->triplets, own + k, other + k, -q);
		}
	}
}

/* Places of the free nodes at the densities of the spans, straight into the network. */
static bool lay(rn_settler *s)
{
	rn_network *net = &s->net;
	double stiffest = 0;
	s->triplets.count = 0;
	memset(s->step, 0, (size_t)net->unknown_count * sizeof(double));
	for (int r = 0; r < net->rope_count; r++)
		for (int i = 0; i < net->ropes[r].span_count; i++) {
			int span = net->ropes[r].first_span + i;
			stiffest = fmax(stiffest, s->densities[span].now);
			add_span(s, &net->spans[span], s->densities[span].now, s->step);
		}
	for (int i = 0; i < net->model->node_count; i++)
		for (int k = 0; k < 2 && net->unknown[i] != RN_NONE; k++)
			s->step[net->unknown[i] + k] += net->load[2 * i + k];
	/* a node that no rope comes to, or a hand alone that does not pull, has no pivot; it stays where it is */
	rn_symmetric_factor(&s->symmetric, &s->triplets, 0, DBL_EPSILON * stiffest);
	rn_symmetric_solve(&s->symmetric, s->step);
	for (int i = 0; i < net->model->node_count; i++)
		for (int k = 0; k < 2 && net->unknown[i] != RN_NONE; k++)
			net->place[2 * i + k] += s->step[net->unknown[i] + k];
	return rn_settler_measure(s);
}

/* A hand that does not pull has none. */
static double logarithm(double density)
{
	return log(fmax(density, DBL_MIN));
}

/* No rope counts as stiffer than `most` [N]. */
static void take_densities(rn_settler *s, double part, double most)
{
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		double q = rope->pulled ? rope->pull / s->net.size : part * fmin(rope->stiffness_used, most) / rope->length0;
		for (int i = 0; i < rope->span_count; i++)
			s->densities[rope->first_span + i] = (rn_density){.now = q, .begun = logarithm(q)};
	}
}

/* ---- densities renewed ----------------------------------------------------------------------- */

/* A round that lowers the energy by less than this part of all loads times the drawing is the last [-]: four Newton
 * steps do the rest. */
static const double round_least = 1e-5;
/* More rounds are a sign that the energy is the better way. */
enum { ROUNDS_MOST = 20 };

/* A rope has one tension, the mean along it, however many spans. */
static void renew_densities(rn_settler *s)
{
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		const rn_span *span = &s->net.spans[rope->first_span];
		double tension = 0;
		rn_density *density = &s->densities[rope->first_span];
		for (int i = 0; i < rope->span_count; i++)
			tension += density[i].now * span[i].length * span[i].length / rope->length;
		double held = rope->pulled ? rope->pull : tension * rope->length / (rope->length0 * (1 + tension / rope->stiffness));
		for (int i = 0; i < rope->span_count; i++)
			density[i].now = held / span[i].length;
	}
}

/* Parts of the last round further than these are no mixture any more [-]. */
static const double theta_least = -30, theta_most = 0.9;

/* The first round began with a guess, which says nothing. */
static void mix_densities(rn_settler *s, int round)
{
	double along = 0, square = 0;
	for (int r = 0; r < s->net.rope_count; r++)
		for (int i = 0; i < s->net.ropes[r].span_count; i++) {
			rn_density *d = &s->densities[s->net.ropes[r].first_span + i];
			double renewed = logarithm(d->now), change = renewed - d->begun, further = change - d->change;
			along += change * further;
			square += further * further;
			d->step = renewed - d->renewed;
			d->renewed = renewed;
			d->change = change;
		}
	double theta = round > 1 && square > 0 ? fmax(theta_least, fmin(along / square, theta_most)) : 0;
	for (int r = 0; r < s->net.rope_count; r++)
		for (int i = 0; i < s->net.ropes[r].span_count; i++) {
			rn_density *d = &s->densities[s->net.ropes[r].first_span + i];
			d->begun = d->renewed - theta * d->step;
			d->now = exp(d->begun);
		}
}

bool rn_start_by_lengths(rn_settler *s)
{
	const rn_network *net = &s->net;
	double loads = rn_settler_loads(s), last = HUGE_VAL;
	if (net->bending_count > 0 || net->model->prop_count > 0 || !rn_settler_measure(s) || !mostly_slack(net))
		return false;
	take_densities(s, 1, loads);
	for (int round = 0; round < ROUNDS_MOST && lay(s); round++) {
		double energy = rn_network_energy(net);
		if (fabs(last - energy) <= round_least * loads * net->size)
			return true;
		last = energy;
		renew_densities(s);
		mix_densities(s, round);
	}
	return false;
}

/* ---- the best of several --------------------------------------------------------------------- */

void rn_start_loose(rn_settler *s)
{
	/* a stem that gives has its own stiffness, which this start knows nothing of */
	if (s->net.bending_count > 0 || !rn_settler_measure(s) || !mostly_slack(&s->net))
		return;
	double least = rn_network_energy(&s->net);
	rn_settler_keep(s, &s->step_kept);
	bool better = false, worse = false;
	for (size_t i = 0; i < sizeof parts / sizeof *parts && !worse; i++) {
		take_densities(s, parts[i], HUGE_VAL);
		bool laid = lay(s);
		double energy = laid ? rn_network_energy(&s->net) : least;
		worse = better && energy >= least; /* past the best of them */
		if (energy < least) {
			better = true;
			least = energy;
			rn_settler_keep(s, &s->step_kept);
		}
		rn_settler_return(s, &s->step_kept);
		(void)rn_settler_measure(s);
	}
}
