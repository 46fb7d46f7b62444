/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/strength/derate.h"

#include <math.h>
#include <stddef.h>

#include "solver/data/bends.h"
#include "solver/data/knots.h"
#include "solver/model/place.h"
#include "solver/strength/hitch.h"
#include "solver/strength/spans.h"

static const char from_gear[] = "given for this gear";

static double of_item(const rn_model *m, const double *values, int item, rn_attribute attribute)
{
	return rn_model_value(m, values, rn_object_of(RN_ITEM, item), attribute, 0);
}

static bool is_wire(const rn_model *m, int item)
{
	return item != RN_NONE && m->items[item].fibre == RN_FIBRE_WIRE;
}

/* ---- putting factors to a place -------------------------------------------------------------- */

/* A factor of 1 takes nothing off and is not listed. */
static void add(rn_spot *spot, rn_factor factor)
{
	if (factor.value < 1 && spot->factor_count < RN_FACTORS_MOST)
		spot->factors[spot->factor_count++] = factor;
}

static void refuse(rn_spot *spot, rn_unchecked reason)
{
	if (spot->unchecked == RN_CHECKED)
		spot->unchecked = reason;
}

bool rn_condition_of(const rn_model *m, const double *values, int item, rn_factor *out)
{
	double keeps = of_item(m, values, item, RN_ATTRIBUTE_CONDITION_FACTOR);
	*out = (rn_factor){.kind = RN_FACTOR_CONDITION, .value = keeps, .source = from_gear};
	return keeps > 0;
}

static void add_wet(const rn_model *m, const double *values, int item, rn_spot *spot)
{
	double given = of_item(m, values, item, RN_ATTRIBUTE_WET_FACTOR);
	rn_fibre fibre = item == RN_NONE ? RN_FIBRE_UNKNOWN : m->items[item].fibre;
	add(spot, (rn_factor){.kind = RN_FACTOR_WET,
	                      .value = given > 0 ? given : rn_wet_keeps(fibre),
	                      .source = given > 0 ? from_gear : rn_wet_source(fibre)});
}

/* What weakens all of it alike. */
static void add_state(const rn_model *m, const double *values, int item, bool wet, bool worn, rn_spot *spot)
{
	rn_factor condition;
	bool said = rn_condition_of(m, values, item, &condition);
	if (wet)
		add_wet(m, values, item, spot);
	if (worn && !said)
		refuse(spot, RN_WEAR_UNKNOWN);
	if (said)
		add(spot, condition);
}

static void add_knot(const rn_model *m, const double *values, int item, const char *name, rn_spot *spot)
{
	const rn_knot *knot = name ? rn_knot_find(name) : NULL;
	double given = of_item(m, values, item, RN_ATTRIBUTE_KNOT_FACTOR);
	rn_factor factor = {.kind = RN_FACTOR_KNOT, .value = given, .word = name, .source = from_gear};
	if (given <= 0) {
		const rn_knot *row = knot ? knot : rn_knot_worst();
		factor.value = row->keeps;
		factor.word = knot ? knot->name : name ? name : "not said";
		factor.source = knot ? row->source : "worst row of the table of knots";
	}
	add(spot, factor);
}

/* On the gear's own curve: linear between its points, level above the last, nothing known below the first. */
static double own_curve(const rn_model *m, const double *values, int item, double ratio)
{
	const rn_item *it = &m->items[item];
	double below_over = 0, below_keeps = 0;
	for (int i = 0; i < it->bend_count; i++) {
		rn_object point = rn_object_of(RN_BEND, it->first_bend + i);
		double over = rn_model_value(m, values, point, RN_ATTRIBUTE_OVER, 0);
		double keeps = rn_model_value(m, values, point, RN_ATTRIBUTE_KEEPS, 0);
		if (ratio < over)
			return i == 0 ? 0 : below_keeps + (keeps - below_keeps) * (ratio - below_over) / (over - below_over);
		below_over = over;
		below_keeps = keeps;
	}
	return below_keeps;
}

static rn_factor bend_factor(const rn_model *m, const double *values, int item, double ratio)
{
	bool own = item != RN_NONE && m->items[item].bend_count > 0;
	rn_factor factor = {.kind = RN_FACTOR_BEND, .measure = ratio};
	factor.value = own ? own_curve(m, values, item, ratio) : rn_bend_keeps(ratio, is_wire(m, item));
	factor.source = own ? from_gear : rn_bend_source(is_wire(m, item));
	return factor;
}

/* `ratio` 0: the tread or the rope is not known. */
static void add_bend(const rn_model *m, const double *values, int item, double ratio, rn_spot *spot)
{
	rn_factor factor = bend_factor(m, values, item, ratio);
	if (ratio > 0 && factor.value > 0)
		add(spot, factor);
	else
		refuse(spot, RN_BEND_UNKNOWN);
}

/* ---- lines --------------------------------------------------------------------------------- */

/* The largest pull in spans `first` to `last` of a member. */
static double pull_in(const rn_model *m, const rn_case_result *answer, rn_object member, int first, int last)
{
	double most = 0;
	for (int i = rn_spans_first(m, member); i < answer->span_count; i++) {
		const rn_span_result *s = &answer->spans[i];
		if (s->member.kind != member.kind || s->member.index != member.index)
			break;
		if (s->index >= first && s->index <= last)
			most = fmax(most, fabs(s->tension));
	}
	return most;
}

static const rn_pass_result *pass_at(const rn_case_result *answer, int station)
{
	for (int i = 0; i < answer->pass_count; i++)
		if (answer->passes[i].station == station)
			return &answer->passes[i];
	return NULL;
}

static double bollard_diameter(const rn_model *m, const double *values, int node)
{
	double tread = of_item(m, values, m->nodes[node].gear, RN_ATTRIBUTE_TREAD);
	if (tread > 0)
		return tread;
	double drum = of_item(m, values, m->nodes[node].gear, RN_ATTRIBUTE_DIAMETER);
	return rn_model_value(m, values, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_DIAMETER, drum);
}

double rn_line_bend_ratio(const rn_model *m, const double *values, int station)
{
	const rn_station *s = &m->stations[station];
	double rope = of_item(m, values, m->lines[s->line].gear, RN_ATTRIBUTE_DIAMETER);
	if (rope <= 0)
		return 0;
	if (s->kind == RN_HOLD)
		return bollard_diameter(m, values, s->node) / rope;
	double radius = rn_station_contact(m, values, station).radius;
	return radius > 0 ? (2 * radius - rope) / rope : 0;
}

static double turns_at(const rn_model *m, const double *values, const rn_case_result *answer, int station)
{
	const rn_station *s = &m->stations[station];
	for (int i = 0; i < answer->hold_count; i++)
		if (answer->holds[i].station == station)
			return answer->holds[i].turns;
	return rn_model_value(m, values, rn_object_of(RN_NODE, s->node), RN_ATTRIBUTE_TURNS, 0);
}

/* At a hold or a through. */
static bool bends_at(const rn_model *m, const double *values, const rn_case_result *answer, int station)
{
	const rn_station *s = &m->stations[station];
	if (s->kind == RN_HOLD)
		return m->nodes[s->node].kind == RN_NODE_BOLLARD && turns_at(m, values, answer, station) > 0;
	const rn_pass_result *pass = pass_at(answer, station);
	return !pass || (!pass->lifted && (pass->bend > 0 || turns_at(m, values, answer, station) > 0));
}

rn_spot rn_spot_of_line(const rn_model *m, const double *values, const rn_case_result *answer, int line, int k)
{
	const rn_line *l = &m->lines[line];
	int station = l->first_station + k;
	const rn_station *s = &m->stations[station];
	rn_spot spot = {.node = s->node};
	spot.demand = pull_in(m, answer, rn_object_of(RN_LINE, line), k - 1, k);
	if (s->kind == RN_TIE || s->kind == RN_GRIP)
		add_knot(m, values, l->gear, s->knot, &spot);
	else if (bends_at(m, values, answer, station))
		add_bend(m, values, l->gear, rn_line_bend_ratio(m, values, station), &spot);
	add_state(m, values, l->gear, l->wet, l->worn, &spot);
	return spot;
}

/* ---- slings -------------------------------------------------------------------------------- */

/* Round something that is not drawn as a stem a choke settles by itself. */
static double choke_angle(const rn_model *m, const double *values, const rn_case_result *answer, int leg, int node)
{
	double direction[2];
	if (node == RN_NONE)
		return rn_hitch_free_choke;
	rn_hitch_direction(m, answer, leg, node, direction);
	return rn_hitch_choke_angle(m, values, node, direction);
}

static void add_choke(const rn_model *m, const double *values, const rn_case_result *answer, int leg, int node,
                      rn_spot *spot)
{
	const rn_sling *sling = &m->slings[m->legs[leg].sling];
	double given = of_item(m, values, sling->gear, RN_ATTRIBUTE_CHOKE_FACTOR);
	const rn_item *item = &m->items[sling->gear];
	rn_body body = item->kind == RN_ITEM_ROPE ? RN_BODY_ROPE : item->body;
	bool wire = is_wire(m, sling->gear);
	add(spot, (rn_factor){.kind = RN_FACTOR_CHOKE,
	                      .value = given > 0 ? given : rn_choke_keeps(body, wire),
	                      .source = given > 0 ? from_gear : rn_choke_source(body, wire)});
	double angle = rn_model_value(m, values, rn_object_of(RN_SLING, m->legs[leg].sling), RN_ATTRIBUTE_ANGLE,
	                              choke_angle(m, values, answer, leg, node));
	add(spot, (rn_factor){.kind = RN_FACTOR_CHOKE_ANGLE,
	                      .value = rn_choke_angle_keeps(angle),
	                      .measure = angle,
	                      .source = rn_choke_angle_source});
}

/* Where the sling is made fast, `node` RN_NONE between nodes that are on no stem: there it pulls straight. To
 * what is round nothing can be straight, so round a stem that word says nothing of how it is made fast. */
static void add_hitch(const rn_model *m, const double *values, const rn_case_result *answer, int leg, int node,
                      rn_spot *spot)
{
	const rn_sling *sling = &m->slings[m->legs[leg].sling];
	switch (rn_hitch_of(sling)) {
	case RN_HITCH_STRAIGHT:
	case RN_HITCH_UNSAID:
		if (node != RN_NONE)
			refuse(spot, RN_HITCH_NOT_SAID);
		break;
	case RN_HITCH_CHOKE: add_choke(m, values, answer, leg, node, spot); break;
	case RN_HITCH_KNOT: add_knot(m, values, sling->gear, sling->hitch, spot); break;
	case RN_HITCH_BASKET: break;
	}
}

/* Webbing lies flat on a stem: what it bends round is many times its thickness. */
static bool lies_flat(const rn_model *m, const double *values, int item)
{
	rn_body body = m->items[item].body;
	return (body == RN_BODY_STRAP || body == RN_BODY_ROUND) &&
	       of_item(m, values, item, RN_ATTRIBUTE_DIAMETER) <= 0;
}

static void add_stem(const rn_model *m, const double *values, int leg, int node, rn_spot *spot)
{
	const rn_sling *sling = &m->slings[m->legs[leg].sling];
	rn_hitch hitch = rn_hitch_of(sling);
	bool goes_round = hitch == RN_HITCH_CHOKE || hitch == RN_HITCH_BASKET || node != RN_NONE;
	if (!goes_round || lies_flat(m, values, sling->gear))
		return;
	double body = of_item(m, values, sling->gear, RN_ATTRIBUTE_DIAMETER);
	add_bend(m, values, sling->gear, body > 0 ? rn_hitch_diameter(m, values, leg, node) / body : 0, spot);
}

/* Diameter of what the eye of a sling sits on: the gear's own seat for it, of a ring its tread. */
static double seat_of(const rn_model *m, const double *values, int node)
{
	int gear = m->nodes[node].gear;
	double eye = of_item(m, values, gear, RN_ATTRIBUTE_EYE);
	bool ring = gear != RN_NONE && m->items[gear].kind == RN_ITEM_RING;
	return eye <= 0 && ring ? of_item(m, values, gear, RN_ATTRIBUTE_TREAD) : eye;
}

double rn_leg_eye_ratio(const rn_model *m, const double *values, int leg)
{
	int gear = m->slings[m->legs[leg].sling].gear;
	if (gear == RN_NONE || m->items[gear].kind == RN_ITEM_ROPE || lies_flat(m, values, gear))
		return 0;
	double body = of_item(m, values, gear, RN_ATTRIBUTE_DIAMETER);
	return body > 0 ? seat_of(m, values, rn_hitch_far(m, leg)) / body : 0;
}

/* Where the maker's own curve keeps less than half somewhere, an eye can be weakened: its seat must be known. */
static bool eye_needs_seat(const rn_model *m, const double *values, int item)
{
	bool needs = false;
	for (int i = 0; i < m->items[item].bend_count; i++)
		needs = needs || rn_model_value(m, values, rn_object_of(RN_BEND, m->items[item].first_bend + i),
		                                RN_ATTRIBUTE_KEEPS, 1) < 0.5;
	return needs;
}

/* Both sides of an eye carry half each, so an eye that bends them fails at twice what one bent part keeps:
 *     keeps = min(1, 2 bend(D/d)).
 * By the table for wire rope that takes nothing off from D/d 1 up; the rule that asks for 2 warns. */
static void add_eye(const rn_model *m, const double *values, int leg, rn_spot *spot)
{
	const rn_sling *sling = &m->slings[m->legs[leg].sling];
	if (m->items[sling->gear].kind == RN_ITEM_ROPE) {
		add_knot(m, values, sling->gear, sling->knot, spot);
		return;
	}
	double ratio = rn_leg_eye_ratio(m, values, leg);
	if (ratio <= 0) {
		if (eye_needs_seat(m, values, sling->gear))
			refuse(spot, RN_BEND_UNKNOWN);
		return;
	}
	rn_factor factor = bend_factor(m, values, sling->gear, ratio);
	if (factor.value <= 0) /* below the data for this gear the table for wire still tells, to D/d 1 */
		factor.value = rn_bend_keeps(ratio, true);
	factor.kind = RN_FACTOR_EYE;
	factor.value = fmin(1, 2 * factor.value);
	if (factor.value > 0)
		add(spot, factor);
	else
		refuse(spot, RN_BEND_UNKNOWN);
}

/* Made fast at both ends: the second place is weakened by its hitch and, where that takes more, by its bend. */
static void add_far_hitch(const rn_model *m, const double *values, const rn_case_result *answer, int leg, int far,
                          rn_spot *spot)
{
	rn_spot bend = *spot;
	double hitched = 1, bent = 1;
	add_hitch(m, values, answer, leg, far, spot);
	add_stem(m, values, leg, far, &bend);
	if (bend.unchecked != RN_CHECKED)
		refuse(spot, bend.unchecked);
	for (int i = 0; i < spot->factor_count; i++)
		hitched *= spot->factors[i].value;
	for (int i = 0; i < bend.factor_count; i++)
		bent *= bend.factors[i].value;
	if (bent < hitched && spot->unchecked == RN_CHECKED)
		*spot = bend;
}

static bool is_too_short(const rn_case_result *answer, int sling)
{
	for (int i = 0; i < answer->hitch_count; i++)
		if (answer->hitches[i].sling == sling)
			return answer->hitches[i].too_short;
	return false;
}

rn_spot rn_spot_of_leg(const rn_model *m, const double *values, const rn_case_result *answer, int leg,
                       rn_leg_spot which)
{
	int sling = m->legs[leg].sling, gear = m->slings[sling].gear;
	int hitched = rn_hitch_node(m, leg);
	int far = rn_hitch_far(m, leg);
	rn_spot spot = {.node = which == RN_AT_EYE ? far : hitched != RN_NONE ? hitched : m->legs[leg].from};
	int index = leg - m->slings[sling].first_leg;
	spot.demand = pull_in(m, answer, rn_object_of(RN_SLING, sling), index, index);
	if (gear == RN_NONE)
		return spot;
	if (which == RN_AT_HITCH)
		add_hitch(m, values, answer, leg, hitched, &spot);
	else if (which == RN_ROUND_STEM)
		add_stem(m, values, leg, hitched, &spot);
	else if (rn_hitch_both(m, leg))
		add_far_hitch(m, values, answer, leg, far, &spot);
	else
		add_eye(m, values, leg, &spot);
	if (is_too_short(answer, sling))
		refuse(&spot, RN_TOO_SHORT);
	add_state(m, values, gear, m->slings[sling].wet, m->slings[sling].worn, &spot);
	return spot;
}

/* ---- labels -------------------------------------------------------------------------------- */

bool rn_label_contains(const rn_model *m, rn_object part, bool own, rn_factor_kind kind)
{
	if (part.kind != RN_SLING || kind != RN_FACTOR_CHOKE)
		return false;
	const rn_sling *sling = &m->slings[part.index];
	return own || (sling->gear != RN_NONE && m->items[sling->gear].label_for == RN_LABEL_FOR_CHOKE);
}
