/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The proof. From the answer alone (places, tangent points, tensions) and with no code of the solver
 * the forces at every free node and the moments of the whole are added up again:
 *
 *   node:  sum of T along each span that comes to it + its load + pushes
 *          (a fixed node: less its pull)                                            = 0
 *          moments of the same about the node, each span along its own line         = 0
 *   whole: sum of loads and of pulls of the fixed nodes, and their moments          = 0
 *
 * Directions come from the two tangent points of a span, not from the headings the solver used. A
 * rope that slides over a tread with friction turns it with a couple (T_in - T_out) s r; the couple
 * is carried by the sling as a sideways shift of millimetres, which the shape leaves out, so it is
 * added to the moments here.
 */
#include <math.h>

#include "solver/statics/answer.h"

/* The proof holds when no more than this part of the largest tension is left over [-]: the
 * tangent points are known to about 1e-16 of the drawing, a span of a hundredth of the drawing
 * gives its direction to 1e-14, and every step below adds a little. */
static const double balance_closed = 1e-9;

/* A span shorter than this part of the drawing has no direction of its own [-]; its two ends are
 * then balanced as one. */
static const double span_none = 1e-5;

typedef rn_left_over totals;

static double drawing_size(const rn_model *model, const rn_case_result *answer)
{
	double size = 0;
	for (int i = 1; i < model->node_count; i++)
		size = fmax(size, hypot(answer->nodes[i].place[0] - answer->nodes[0].place[0],
		                        answer->nodes[i].place[1] - answer->nodes[0].place[1]));
	return size;
}

/* Pull of a span on the node at one of its ends. */
static void pull_of_span(const rn_span_result *span, bool at_start, double out[2])
{
	double dx = span->end[0] - span->start[0], dy = span->end[1] - span->start[1];
	double length = hypot(dx, dy), sign = at_start ? 1 : -1;
	out[0] = length > 0 ? sign * span->tension * dx / length : 0;
	out[1] = length > 0 ? sign * span->tension * dy / length : 0;
}

static void add_pull(totals *t, const rn_node_result *n, const double at[2], const double pull[2])
{
	t->force[0] += pull[0];
	t->force[1] += pull[1];
	t->moment += (at[0] - n->place[0]) * pull[1] - (at[1] - n->place[1]) * pull[0];
}

/* A node tied to another by a span of no length: the balance of both counts as one. */
static void ride(totals *left, const rn_span_result *span)
{
	if (span->tension <= 0)
		return;
	if (left[span->from].rides_on == RN_NONE)
		left[span->from].rides_on = span->to;
	if (left[span->to].rides_on == RN_NONE)
		left[span->to].rides_on = span->from;
}

static void add_spans(const rn_case_result *answer, double size, totals *left)
{
	for (int i = 0; i < answer->span_count; i++) {
		const rn_span_result *span = &answer->spans[i];
		if (span->length < span_none * size) {
			ride(left, span);
			continue;
		}
		for (int end = 0; end < 2; end++) {
			double pull[2];
			int node = end ? span->to : span->from;
			pull_of_span(span, !end, pull);
			add_pull(&left[node], &answer->nodes[node], end ? span->end : span->start, pull);
		}
	}
}

static void add_push(const rn_case_result *answer, double push, int own, int other, totals *left)
{
	const double *at = answer->nodes[own].place, *from = answer->nodes[other].place;
	double distance = hypot(at[0] - from[0], at[1] - from[1]);
	left[own].force[0] += push * (at[0] - from[0]) / distance;
	left[own].force[1] += push * (at[1] - from[1]) / distance;
}

/* What is left over at every node. */
static void add_up(const rn_model *model, const rn_case_result *answer, double size, totals *left)
{
	for (int i = 0; i < model->node_count; i++) {
		const rn_node_result *n = &answer->nodes[i];
		left[i] = (totals){{n->load[0] - n->pull[0], n->load[1] - n->pull[1]}, 0, RN_NONE};
	}
	add_spans(answer, size, left);
	for (int i = 0; i < answer->contact_count; i++) {
		const rn_contact_result *c = &answer->contacts[i];
		add_push(answer, c->push, c->a, c->b, left);
		add_push(answer, c->push, c->b, c->a, left);
	}
	for (int i = 0; i < answer->pass_count; i++) {
		const rn_pass_result *p = &answer->passes[i];
		if (!p->lifted)
			left[p->node].moment += p->side * p->radius * (p->before - p->after);
	}
}

static void add_force(totals *t, const double at[2], const double force[2], double sign)
{
	t->force[0] += sign * force[0];
	t->force[1] += sign * force[1];
	t->moment += sign * (at[0] * force[1] - at[1] * force[0]);
}

/* Outer forces on the whole: loads, and what the fixed nodes hold with. A rope at a fixed node acts
 * along its own line, past the node by the radius of the tread, which the couples below account for. */
static totals whole(const rn_model *model, const rn_case_result *answer)
{
	totals t = {{0, 0}, 0, RN_NONE};
	for (int i = 0; i < model->node_count; i++) {
		add_force(&t, answer->nodes[i].place, answer->nodes[i].load, 1);
		add_force(&t, answer->nodes[i].place, answer->nodes[i].pull, -1);
	}
	for (int i = 0; i < answer->pass_count; i++) {
		const rn_pass_result *p = &answer->passes[i];
		if (!p->lifted)
			t.moment += p->side * p->radius * (p->before - p->after);
	}
	return t;
}

rn_balance rn_balance_check(const rn_model *model, const rn_case_result *answer, rn_left_over *scratch)
{
	double size = drawing_size(model, answer), scale = 0;
	rn_balance balance = {.worst_node = RN_NONE};
	for (int i = 0; i < answer->span_count; i++)
		scale = fmax(scale, answer->spans[i].tension);
	add_up(model, answer, size, scratch);
	for (int i = 0; i < model->node_count; i++) {
		scale = fmax(scale, hypot(answer->nodes[i].load[0], answer->nodes[i].load[1]));
		totals left = scratch[i];
		if (left.rides_on != RN_NONE) {
			left.force[0] += scratch[left.rides_on].force[0];
			left.force[1] += scratch[left.rides_on].force[1];
			left.moment = 0; /* two nodes in one place: which carries a couple is not told */
		}
		double force = hypot(left.force[0], left.force[1]);
		balance.moment = fmax(balance.moment, fabs(left.moment));
		if (force > balance.worst || balance.worst_node == RN_NONE) {
			balance.worst = force;
			balance.worst_node = i;
		}
	}
	totals t = whole(model, answer);
	balance.moment = fmax(balance.moment, fabs(t.moment));
	balance.relative = scale > 0 ? fmax(balance.worst, hypot(t.force[0], t.force[1])) / scale : 0;
	/* moments are taken about the origin: rounding grows with how far away the drawing is */
	double arm = size;
	for (int i = 0; i < model->node_count; i++)
		arm = fmax(arm, hypot(answer->nodes[i].place[0], answer->nodes[i].place[1]));
	balance.closed = balance.relative <= balance_closed && balance.moment <= balance_closed * scale * arm;
	return balance;
}
