/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/equations.h"

#include <math.h>
#include <string.h>

rn_status rn_terms_create(rn_arena *arena, const rn_network *net, rn_terms *terms_out)
{
	size_t n = 2 * (size_t)net->stop_most;
	rn_terms terms = {0};
	RN_TAKE(arena, terms.residual, n);
	RN_TAKE(arena, terms.by_tension, n);
	RN_TAKE(arena, terms.stretch_by_place, n);
	RN_TAKE(arena, terms.log_share, n);
	RN_TAKE(arena, terms.log_share_last, n);
	RN_TAKE(arena, terms.matrix, n * n);
	*terms_out = terms;
	return RN_OK;
}

/* Below this exponent G is taken from its series, which is then exact to rounding [-]. */
static const double exponent_small = 1e-3;

/* G and its slopes by a and by k; see the header. */
static void arc_mean(double a, double k, double *g, double *by_a, double *by_k)
{
	double q = 1 / (1 + a);
	if (fabs(k) < exponent_small) {
		/* about the middle of the arc: b = a e^{k/2}, G = 1/(1+b) + O(k^2) with the curvature of
		 * 1/(1 + b e^z) at z = 0, averaged: k^2/24 times it */
		double b = a * exp(k / 2), p = 1 / (1 + b);
		double curvature = b * (b - 1) * p * p * p;
		*g = p + curvature * k * k / 24;
		*by_a = -p * p * exp(k / 2);
		*by_k = -b * p * p / 2 + curvature * k / 12;
		return;
	}
	double e = a * exp(k);
	double ratio = log1p((e - a) * q);
	*g = 1 - ratio / k;
	*by_a = -(exp(k) / (1 + e) - q) / k;
	*by_k = ratio / (k * k) - e / (1 + e) / k;
}

static int local(const rn_rope *rope, int stop)
{
	return 2 * (stop - rope->first_stop);
}

/* d phi of a span: n . dd / t, added with a factor to a row over the rope's coordinates. */
static void add_heading(const rn_rope *rope, const rn_span *span, double factor, double *row)
{
	rn_vec2 n = rn_vec2_left(span->u);
	double k = factor / span->length;
	int i = local(rope, span->from), j = local(rope, span->to);
	row[i] -= k * n.x;
	row[i + 1] -= k * n.y;
	row[j] += k * n.x;
	row[j + 1] += k * n.y;
}

static void add_bend(const rn_network *net, const rn_rope *rope, const rn_span *in, double factor,
                     double *row)
{
	const rn_stop *stop = &net->stops[in->to];
	add_heading(rope, in, -factor * stop->side, row);
	add_heading(rope, in + 1, factor * stop->side, row);
}

/* dt = d . dd / t with d = t u - rho n. */
static void add_length(const rn_rope *rope, const rn_span *span, double factor, double *row)
{
	rn_vec2 along = span->u;
	if (span->offset != 0)
		along = rn_vec2_sub(along, rn_vec2_scale(span->offset / span->length, rn_vec2_left(span->u)));
	int i = local(rope, span->from), j = local(rope, span->to);
	row[i] -= factor * along.x;
	row[i + 1] -= factor * along.y;
	row[j] += factor * along.x;
	row[j + 1] += factor * along.y;
}

static void add_row(double *row, const double *other, double factor, int n)
{
	for (int k = 0; k < n; k++)
		row[k] += factor * other[k];
}

/* T n n^T / t on the difference of the two ends; for a straight span I - u u^T in place of n n^T,
 * which says the same unless the span has no length. */
static void add_turning(const rn_rope *rope, const rn_span *span, double tension, double *matrix)
{
	int n = 2 * rope->stop_count, i = local(rope, span->from), j = local(rope, span->to);
	double k = tension / span->length;
	double xx, xy, yy;
	if (span->offset == 0) {
		xx = k * (1 - span->u.x * span->u.x);
		xy = -k * span->u.x * span->u.y;
		yy = k * (1 - span->u.y * span->u.y);
	} else {
		xx = k * span->u.y * span->u.y;
		xy = -k * span->u.x * span->u.y;
		yy = k * span->u.x * span->u.x;
	}
	const int at[2] = {i, j};
	for (int a = 0; a < 2; a++)
		for (int b = 0; b < 2; b++) {
			double sign = a == b ? 1 : -1;
			double *m = matrix + at[a] * n + at[b];
			m[0] += sign * xx;
			m[1] += sign * xy;
			m[n] += sign * xy;
			m[n + 1] += sign * yy;
		}
}

/* The share of a span changes with the bends before it: T E u (x) d ln E. */
static void add_sharing(const rn_rope *rope, const rn_span *span, double tension,
                        const double *log_share, double *matrix)
{
	int n = 2 * rope->stop_count, i = local(rope, span->from), j = local(rope, span->to);
	add_row(matrix + i * n, log_share, -tension * span->u.x, n);
	add_row(matrix + (i + 1) * n, log_share, -tension * span->u.y, n);
	add_row(matrix + j * n, log_share, tension * span->u.x, n);
	add_row(matrix + (j + 1) * n, log_share, tension * span->u.y, n);
}

static void add_pull(const rn_rope *rope, const rn_span *span, double factor, double *row)
{
	int i = local(rope, span->from), j = local(rope, span->to);
	row[i] -= factor * span->u.x;
	row[i + 1] -= factor * span->u.y;
	row[j] += factor * span->u.x;
	row[j + 1] += factor * span->u.y;
}

static void add_span_stretch(const rn_rope *rope, const rn_span *span, double further, double tension, rn_terms *terms)
{
	double f = 1 / (1 + tension / rope->stiffness_used);
	double slope = -f * f / rope->stiffness_used; /* df/dT */
	double along = span->length + further;
	terms->stretch += along * f;
	terms->stretch_by_tension += along * slope * span->share;
	add_length(rope, span, f, terms->stretch_by_place);
	if (rope->runs)
		add_row(terms->stretch_by_place, terms->log_share, along * slope * tension,
		        2 * rope->stop_count);
}

/* The arc between span `in` and the next, with log_share still that of `in`. */
static void add_arc_stretch(const rn_network *net, const rn_rope *rope, const rn_span *in,
                            rn_terms *terms)
{
	const rn_stop *stop = &net->stops[in->to];
	if (stop->radius == 0)
		return;
	double a = rope->tension * in->share / rope->stiffness_used, g, by_a, by_k;
	arc_mean(a, stop->log_ratio, &g, &by_a, &by_k);
	double arc = stop->radius * stop->bend;
	terms->stretch += arc * g;
	terms->stretch_by_tension += arc * by_a * in->share / rope->stiffness_used;
	add_bend(net, rope, in, stop->radius * g + arc * by_k * stop->log_ratio_slope,
	         terms->stretch_by_place);
	if (rope->runs)
		add_row(terms->stretch_by_place, terms->log_share, arc * by_a * a, 2 * rope->stop_count);
}

/* d ln E of the last span, when the pull is given there: shares are then taken from that end. */
static void measure_last_share(const rn_network *net, const rn_rope *rope, rn_terms *terms)
{
	memset(terms->log_share_last, 0, 2 * (size_t)rope->stop_count * sizeof(double));
	if (!rope->pulled || !rope->pull_at_last)
		return;
	const rn_span *span = net->spans + rope->first_span;
	for (int i = 0; i + 1 < rope->span_count; i++)
		add_bend(net, rope, &span[i], net->stops[span[i].to].log_ratio_slope, terms->log_share_last);
}

void rn_terms_compute(const rn_network *net, const rn_rope *rope, rn_terms *terms)
{
	int n = 2 * rope->stop_count;
	size_t size = (size_t)n * sizeof(double);
	memset(terms->residual, 0, size);
	memset(terms->by_tension, 0, size);
	memset(terms->stretch_by_place, 0, size);
	memset(terms->matrix, 0, size * (size_t)n);
	terms->stretch = -rope->length0;
	terms->stretch_by_tension = 0;
	if (rope->runs) {
		measure_last_share(net, rope, terms);
		for (int k = 0; k < n; k++)
			terms->log_share[k] = -terms->log_share_last[k];
	}
	for (int i = 0; i < rope->span_count; i++) {
		const rn_span *span = &net->spans[rope->first_span + i];
		double tension = rope->tension * span->share;
		add_pull(rope, span, tension, terms->residual);
		add_pull(rope, span, span->share, terms->by_tension);
		add_turning(rope, span, tension, terms->matrix);
		if (rope->runs)
			add_sharing(rope, span, tension, terms->log_share, terms->matrix);
		add_span_stretch(rope, span, rn_span_further(rope, i), tension, terms);
		if (i + 1 == rope->span_count)
			break;
		add_arc_stretch(net, rope, span, terms);
		if (rope->runs)
			add_bend(net, rope, span, net->stops[span->to].log_ratio_slope, terms->log_share);
	}
}

rn_gap rn_contact_gap(const rn_network *net, const rn_contact *contact)
{
	const rn_stop *i = &net->stops[contact->first], *j = &net->stops[contact->second];
	rn_gap gap = {.exists = false};
	if (!contact->exists || net->bodiless || i->at_tread || j->at_tread)
		return gap;
	rn_vec2 d = rn_vec2_sub(rn_vec2_of(&net->place[2 * j->node]), rn_vec2_of(&net->place[2 * i->node]));
	gap.distance = rn_vec2_length(d);
	gap.gap = gap.distance - contact->reach;
	gap.exists = gap.distance > 0;
	if (gap.exists)
		gap.direction = rn_vec2_scale(1 / gap.distance, d);
	return gap;
}

double rn_network_energy(const rn_network *net)
{
	double energy = 0;
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		double stretch = rope->length - rope->length0;
		if (rope->pulled)
			energy += rope->pull * rope->length;
		else if (stretch > 0 || rope->pushes)
			energy += 0.5 * rope->stiffness_used / rope->length0 * stretch * stretch;
	}
	for (int i = 0; i < net->contact_count; i++) {
		rn_gap gap = rn_contact_gap(net, &net->contacts[i]);
		if (gap.exists && gap.gap < 0)
			energy += 0.5 * net->contact_stiffness * gap.gap * gap.gap;
	}
	for (int b = 0; b < net->bending_count; b++)
		energy += rn_bending_energy(&net->bendings[b], net->place);
	for (int i = 0; i < 2 * net->model->node_count; i++)
		energy -= net->load[i] * net->place[i];
	if (net->guide)
		energy += 0.5 * (pow(rn_guide_lift(net), 2) + pow(rn_guide_side(net), 2) / rn_guide_plumb) / net->guide->stiffness;
	return energy;
}
