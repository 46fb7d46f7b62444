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
 */
#include <float.h>
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

static void add_span(rn_settler *s, const rn_span *span, double q, double *right)
{
	const rn_network *net = &s->net;
	const int node[2] = {net->stops[span->from].node, net->stops[span->to].node};
	for (int end = 0; end < 2; end++) {
		int own = net->unknown[node[end]], other = net->unknown[node[1 - end]];
		for (int k = 0; k < 2 && own != RN_NONE; k++) {
			rn_triplets_add(&s->triplets, own + k, own + k, q);
			if (other == RN_NONE)
				right[own + k] += q * net->place[2 * node[1 - end] + k];
			else
				rn_triplets_add(&s->triplets, own + k, other + k, -q);
		}
	}
}

/* Places of the free nodes for one part, straight into the network. */
static bool lay_linear(rn_settler *s, double part)
{
	rn_network *net = &s->net;
	double stiffest = 0;
	s->triplets.count = 0;
	memset(s->step, 0, (size_t)net->unknown_count * sizeof(double));
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		double q = rope->pulled ? rope->pull / net->size : part * rope->stiffness_used / rope->length0;
		stiffest = q > stiffest ? q : stiffest;
		for (int i = 0; i < rope->span_count; i++)
			add_span(s, &net->spans[rope->first_span + i], q, s->step);
	}
	for (int i = 0; i < net->model->node_count; i++)
		for (int k = 0; k < 2 && net->unknown[i] != RN_NONE; k++)
			s->step[net->unknown[i] + k] += net->load[2 * i + k];
	/* a piece that no rope comes to has no pivot; it stays where it is */
	rn_symmetric_factor(&s->symmetric, &s->triplets, 0, DBL_EPSILON * stiffest);
	rn_symmetric_solve(&s->symmetric, s->step);
	for (int i = 0; i < net->model->node_count; i++)
		for (int k = 0; k < 2 && net->unknown[i] != RN_NONE; k++)
			net->place[2 * i + k] = s->step[net->unknown[i] + k];
	return rn_settler_measure(s);
}

void rn_start_loose(rn_settler *s)
{
	/* a stem that gives has its own stiffness, which this start knows nothing of */
	if (s->net.bending_count > 0 || !rn_settler_measure(s) || !mostly_slack(&s->net))
		return;
	double least = rn_network_energy(&s->net);
	rn_settler_keep(s, &s->step_kept);
	bool better = false, worse = false;
	for (size_t i = 0; i < sizeof parts / sizeof *parts && !worse; i++) {
		bool laid = lay_linear(s, parts[i]);
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
