/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/strength/hitch.h"

#include <math.h>

#include "solver/base/vec2.h"
#include "solver/model/place.h"
#include "solver/strength/spans.h"

/* ---- where --------------------------------------------------------------------------------- */

/* The thinnest cut of a piece [m]; 0 when it has none. */
static double thinnest(const rn_model *m, const double *values, rn_object piece)
{
	double least = HUGE_VAL;
	for (int i = 0; i < m->timber_count; i++) {
		const rn_timber *t = &m->timbers[i];
		for (int k = 0; k < t->cut_count && t->piece.kind == piece.kind && t->piece.index == piece.index; k++)
			least = fmin(least, rn_model_value(m, values, rn_object_of(RN_CUT, t->first_cut + k),
			                                   RN_ATTRIBUTE_DIAMETER, HUGE_VAL));
	}
	return least < HUGE_VAL ? least : 0;
}

/* What is said of an anchor; a piece, or the bar that ends at a node. */
static double around_node(const rn_model *m, const double *values, int node)
{
	rn_object object = rn_object_of(RN_NODE, node);
	double own = rn_model_value(m, values, object, RN_ATTRIBUTE_DIAMETER, thinnest(m, values, object));
	for (int i = 0; i < m->prop_count && own <= 0; i++) {
		rn_object bar = rn_object_of(RN_PROP, i);
		if (m->props[i].from == node || m->props[i].to == node)
			own = m->props[i].is_piece ? thinnest(m, values, bar)
			                           : rn_model_value(m, values, bar, RN_ATTRIBUTE_DIAMETER, 0);
	}
	return own;
}

double rn_hitch_diameter(const rn_model *m, const double *values, int leg, int node)
{
	if (node == RN_NONE) {
		double other = around_node(m, values, m->legs[leg].to);
		return other > 0 ? other : around_node(m, values, m->legs[leg].from);
	}
	double height = rn_model_value(m, values, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_HEIGHT, 0);
	double axis[2], diameter;
	rn_stem_at(m, values, m->nodes[node].stem, height, axis, &diameter);
	return diameter;
}

static const rn_span_result *span_of_leg(const rn_model *m, const rn_case_result *answer, int leg)
{
	rn_object sling = rn_object_of(RN_SLING, m->legs[leg].sling);
	return &answer->spans[rn_spans_first(m, sling) + leg - m->slings[sling.index].first_leg];
}

void rn_hitch_direction(const rn_model *m, const rn_case_result *answer, int leg, int node, double out[2])
{
	const rn_span_result *span = span_of_leg(m, answer, leg);
	double away = span->from == node || node == RN_NONE ? 1 : -1;
	out[0] = away * cos(span->heading);
	out[1] = away * sin(span->heading);
}

const double rn_hitch_free_choke = 2 * RN_PI / 3;

double rn_hitch_choke_angle(const rn_model *m, const double *values, int at, const double direction[2])
{
	const rn_node *node = &m->nodes[at];
	double lean = rn_model_value(m, values, rn_object_of(RN_STEM, node->stem), RN_ATTRIBUTE_LEAN, 0);
	double out = direction[0] * cos(lean) - direction[1] * sin(lean); /* part of it square to the stem */
	out = node->bark == RN_BARK_LEFT ? -out : node->bark == RN_BARK_RIGHT ? out : fabs(out);
	return acos(-fmax(-1, fmin(1, out)) / 2);
}

/* ---- one sling ----------------------------------------------------------------------------- */

static double reach_of(const rn_model *m, const double *values, int leg)
{
	const rn_leg *l = &m->legs[leg];
	double from[2], to[2];
	rn_node_drawn(m, values, l->from, from);
	rn_node_drawn(m, values, l->to, to);
	double drawn = hypot(to[0] - from[0], to[1] - from[1]);
	return rn_model_value(m, values, rn_object_of(RN_LEG, leg), RN_ATTRIBUTE_REACH, drawn);
}

/* Rounds of the stem a sling makes: the bight of a choked one with two ends goes round doubled, a basket
 * lies round the half of the stem its legs do not leave from. */
static double rounds(rn_hitch hitch, int leg_count)
{
	switch (hitch) {
	case RN_HITCH_STRAIGHT: return 0;
	case RN_HITCH_BASKET: return 0.5;
	default: return leg_count > 1 ? 2 : 1;
	}
}

static double angle_between(const double a[2], const double b[2])
{
	return acos(fmax(-1, fmin(1, a[0] * b[0] + a[1] * b[1])));
}

static void fill_angle(const rn_model *m, const double *values, const rn_case_result *answer, rn_hitch_result *h)
{
	const rn_sling *sling = &m->slings[h->sling];
	double first[2], away[2];
	int leg = sling->first_leg, node = rn_hitch_node(m, leg), second;
	rn_hitch_direction(m, answer, leg, node, first);
	h->angle = h->spread = 0;
	if (h->hitch == RN_HITCH_CHOKE)
		h->angle = rn_hitch_choke_angle(m, values, node, first);
	if (sling->leg_count < 2)
		return;
	second = rn_hitch_node(m, leg + 1);
	rn_hitch_direction(m, answer, leg + 1, second, away);
	if (h->hitch == RN_HITCH_BASKET)
		h->angle = angle_between(first, away);
	if (h->hitch == RN_HITCH_CHOKE && second != RN_NONE)
		h->angle = fmin(h->angle, rn_hitch_choke_angle(m, values, second, away));
	const double *eye = answer->nodes[rn_hitch_far(m, leg)].place, *other = answer->nodes[rn_hitch_far(m, leg + 1)].place;
	h->spread = hypot(other[0] - eye[0], other[1] - eye[1]);
}

/* Less than this part of what is needed is rounding, not shortness [-]. */
static const double short_by = 1e-9;

static void fill_lengths(const rn_model *m, const double *values, rn_hitch_result *h)
{
	const rn_sling *sling = &m->slings[h->sling];
	rn_object gear = rn_object_of(RN_ITEM, sling->gear);
	double diameter = rn_hitch_diameter(m, values, sling->first_leg, rn_hitch_node(m, sling->first_leg));
	double body = rn_model_value(m, values, gear, RN_ATTRIBUTE_DIAMETER, 0), reaches = 0;
	h->girth = RN_PI * diameter;
	h->bend_ratio = body > 0 ? diameter / body : 0;
	h->taken = rounds(h->hitch, sling->leg_count) * h->girth;
	h->reach = 0;
	for (int i = 0; i < sling->leg_count; i++) {
		double reach = reach_of(m, values, sling->first_leg + i);
		h->reach = fmax(h->reach, reach);
		reaches += reach;
	}
	h->needed = h->taken + reaches;
	h->made = rn_model_value(m, values, gear, RN_ATTRIBUTE_LONG, 0);
	h->left = h->made > 0 ? (h->made - h->taken) / sling->leg_count : 0;
	h->too_short = h->made > 0 && h->made < h->needed * (1 - short_by);
}

static bool is_round_stem(const rn_model *m, int sling)
{
	return m->slings[sling].leg_count > 0 && rn_hitch_node(m, m->slings[sling].first_leg) != RN_NONE;
}

rn_status rn_hitches_create(rn_arena *arena, const rn_model *m, rn_hitch_result **hitches_out, int *count_out)
{
	rn_hitch_result *hitches;
	int count = 0;
	RN_TAKE(arena, hitches, m->sling_count + 1);
	for (int i = 0; i < m->sling_count; i++)
		if (is_round_stem(m, i)) {
			int node = rn_hitch_node(m, m->slings[i].first_leg);
			hitches[count++] = (rn_hitch_result){
				.sling = i, .stem = m->nodes[node].stem, .hitch = rn_hitch_of(&m->slings[i])};
		}
	*hitches_out = hitches;
	*count_out = count;
	return RN_OK;
}

void rn_hitches_fill(const rn_model *m, const double *values, rn_case_result *answer)
{
	for (int i = 0; i < answer->hitch_count; i++) {
		fill_lengths(m, values, &answer->hitches[i]);
		fill_angle(m, values, answer, &answer->hitches[i]);
	}
}
