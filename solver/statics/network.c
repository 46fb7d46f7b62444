/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/network.h"

#include <math.h>
#include <string.h>

#include "solver/model/place.h"
#include "solver/model/timber.h"
#include "solver/statics/geometry.h"

/* Hardware is thicker than the seat of its rope, and two ropes crossing between treads that touch
 * would have no straight part left: bodies meet at this many times the sum of the two radii [-]. */
static const double body_over_seat = 1.2;

/* A body is this many times stiffer than the stiffest rope, so that it gives way by less [-]. */
static const double body_over_rope = 10;

/* ---- shape --------------------------------------------------------------------------------- */

static bool is_captured(rn_node_kind kind)
{
	return kind != RN_NODE_FORK && kind != RN_NODE_BOLLARD;
}

static void add_stop(rn_network *net, int node, int station)
{
	const rn_model *m = net->model;
	rn_stop *stop = &net->stops[net->stop_count++];
	stop->node = node;
	stop->station = station;
	stop->through = station != RN_NONE && m->stations[station].kind == RN_THROUGH;
	stop->captured = is_captured(m->nodes[node].kind);
}

static void close_rope(rn_network *net, rn_object member, int member_span, int first_stop)
{
	rn_rope *rope = &net->ropes[net->rope_count++];
	rope->member = member;
	rope->member_span = member_span;
	rope->first_stop = first_stop;
	rope->stop_count = net->stop_count - first_stop;
	rope->first_span = net->span_room;
	net->span_room += rope->stop_count - 1;
	if (rope->stop_count > net->stop_most)
		net->stop_most = rope->stop_count;
	rope->bends = rope->stop_count > 2;
}

static void add_line(rn_network *net, int line)
{
	const rn_model *m = net->model;
	const rn_line *l = &m->lines[line];
	rn_object member = rn_object_of(RN_LINE, line);
	int first_stop = net->stop_count, member_span = 0;
	for (int i = 0; i < l->station_count; i++) {
		int station = l->first_station + i;
		add_stop(net, m->stations[station].node, station);
		if (i == 0 || m->stations[station].kind == RN_THROUGH)
			continue;
		close_rope(net, member, member_span, first_stop);
		member_span = i;
		first_stop = net->stop_count;
		if (i + 1 < l->station_count) /* a grip ends one rope and begins the next */
			add_stop(net, m->stations[station].node, station);
	}
}

static void add_legs(rn_network *net)
{
	const rn_model *m = net->model;
	for (int i = 0; i < m->leg_count; i++) {
		int first_stop = net->stop_count;
		add_stop(net, m->legs[i].from, RN_NONE);
		add_stop(net, m->legs[i].to, RN_NONE);
		const rn_sling *sling = &m->slings[m->legs[i].sling];
		close_rope(net, rn_object_of(RN_SLING, m->legs[i].sling), i - sling->first_leg, first_stop);
	}
}

static bool has_contact(const rn_network *net, int stop)
{
	return net->stops[stop].through && net->stops[stop + 1].through;
}

static rn_status add_contacts(rn_arena *arena, rn_network *net)
{
	int count = 0;
	for (int i = 0; i + 1 < net->stop_count; i++)
		count += has_contact(net, i);
	RN_TAKE(arena, net->contacts, count);
	for (int i = 0; i + 1 < net->stop_count; i++)
		if (has_contact(net, i))
			net->contacts[net->contact_count++] = (rn_contact){.first = i, .second = i + 1};
	return RN_OK;
}

static void add_props(rn_network *net)
{
	for (int i = 0; i < net->model->prop_count; i++) {
		int first_stop = net->stop_count;
		add_stop(net, net->model->props[i].from, RN_NONE);
		add_stop(net, net->model->props[i].to, RN_NONE);
		close_rope(net, rn_object_of(RN_PROP, i), 0, first_stop);
		net->ropes[net->rope_count - 1].pushes = true;
	}
}

/* ---- numbering ----------------------------------------------------------------------------- */

static rn_status list_visits(rn_arena *arena, rn_network *net)
{
	int n = net->model->node_count, *next;
	RN_TAKE(arena, net->visits, net->stop_count + 1);
	RN_TAKE(arena, net->first_visit, n + 1);
	RN_TAKE(arena, next, n + 1);
	for (int i = 0; i < net->stop_count; i++)
		net->first_visit[net->stops[i].node + 1]++;
	for (int i = 0; i < n; i++)
		next[i + 1] = net->first_visit[i + 1] += net->first_visit[i];
	for (int r = 0; r < net->rope_count; r++)
		for (int i = 0; i < net->ropes[r].stop_count; i++)
			net->visits[next[net->stops[net->ropes[r].first_stop + i].node]++] = r;
	return RN_OK;
}

/* Numbers the free nodes breadth first along the ropes (Cuthill and McKee, 1969), starting from a
 * node at the end of such a walk, so that nodes on one rope get near numbers and the matrix a
 * narrow band. `mark` has room for all nodes. Returns how many were numbered. */
static int walk(const rn_network *net, int start, int *order, bool *mark)
{
	int count = 0;
	order[count++] = start;
	mark[start] = true;
	for (int head = 0; head < count; head++)
		for (int v = net->first_visit[order[head]]; v < net->first_visit[order[head] + 1]; v++) {
			const rn_rope *rope = &net->ropes[net->visits[v]];
			const rn_stop *s = net->stops + rope->first_stop;
			for (int i = 0; i < rope->stop_count; i++)
				if (!mark[s[i].node] && net->moves[s[i].node]) {
					mark[s[i].node] = true;
					order[count++] = s[i].node;
				}
		}
	return count;
}

static rn_status number_unknowns(rn_arena *arena, rn_network *net)
{
	int n = net->model->node_count, numbered = 0;
	bool *mark;
	RN_TAKE(arena, mark, n);
	RN_TAKE(arena, net->order, n);
	RN_TAKE(arena, net->unknown, n);
	for (int i = 0; i < n; i++)
		net->unknown[i] = RN_NONE;
	for (int i = 0; i < n; i++) {
		if (mark[i] || !net->moves[i])
			continue;
		int *order = net->order + numbered;
		int count = walk(net, i, order, mark), far = order[count - 1];
		for (int k = 0; k < count; k++)
			mark[order[k]] = false;
		numbered += walk(net, far, order, mark);
	}
	for (int k = 0; k < numbered; k++)
		net->unknown[net->order[k]] = 2 * k;
	net->unknown_count = 2 * numbered;
	return RN_OK;
}

static rn_status find_moving(rn_arena *arena, rn_network *net)
{
	const rn_model *m = net->model;
	RN_TRY(rn_bending_create(arena, m, &net->bendings, &net->bending_count));
	RN_TAKE(arena, net->moves, m->node_count + 1);
	for (int i = 0; i < m->node_count; i++)
		net->moves[i] = !rn_node_is_fixed(&m->nodes[i]);
	for (int b = 0; b < net->bending_count; b++)
		for (int i = 0; i < net->bendings[b].node_count; i++)
			net->moves[net->bendings[b].nodes[i]] = true;
	return RN_OK;
}

static void widen(rn_network *net, int least, int most)
{
	if (most - least + 1 > net->half_band)
		net->half_band = most - least + 1;
}

static void measure_bending_band(rn_network *net, const rn_bending *bending)
{
	int least = net->unknown_count, most = -1;
	for (int i = 0; i < bending->node_count; i++) {
		int k = net->unknown[bending->nodes[i]];
		least = k < least ? k : least;
		most = k > most ? k : most;
	}
	widen(net, least, most);
}

static void measure_band(rn_network *net)
{
	net->half_band = net->unknown_count > 0 ? 1 : 0;
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		int least = net->unknown_count, most = -1;
		for (int i = 0; i < rope->stop_count; i++) {
			int k = net->unknown[net->stops[rope->first_stop + i].node];
			if (k == RN_NONE)
				continue;
			least = k < least ? k : least;
			most = k > most ? k : most;
		}
		widen(net, least, most);
	}
	for (int b = 0; b < net->bending_count; b++)
		measure_bending_band(net, &net->bendings[b]);
}

rn_status rn_network_create(rn_arena *arena, const rn_model *model, rn_network *network_out)
{
	rn_network net = {.model = model};
	size_t most = 2 * (size_t)(model->station_count + model->leg_count + model->prop_count) + 1;
	RN_TAKE(arena, net.ropes, most);
	RN_TAKE(arena, net.stops, most);
	RN_TAKE(arena, net.spans, most);
	RN_TAKE(arena, net.place, 2 * model->node_count);
	RN_TAKE(arena, net.load, 2 * model->node_count);
	for (int i = 0; i < model->line_count; i++)
		add_line(&net, i);
	add_legs(&net);
	add_props(&net);
	RN_TRY(add_contacts(arena, &net));
	RN_TRY(find_moving(arena, &net));
	RN_TRY(list_visits(arena, &net));
	RN_TRY(number_unknowns(arena, &net));
	measure_band(&net);
	*network_out = net;
	return RN_OK;
}

/* ---- numbers of a case ----------------------------------------------------------------------- */

static double value(const rn_network *net, rn_object object, rn_attribute attribute, double absent)
{
	return rn_model_value(net->model, net->values, object, attribute, absent);
}

static const double *grip_at(const rn_network *net, int station)
{
	return net->unsure && net->unsure->grip ? &net->unsure->grip[station] : NULL;
}

/* A rope that does not run is held by anything up to its friction, one way or the other. */
static void load_grip(const rn_network *net, rn_stop *stop)
{
	const double *grip = grip_at(net, stop->station);
	if (!grip)
		return;
	stop->run = (*grip > 0) - (*grip < 0);
	stop->friction *= fabs(*grip);
}

static void load_stop(rn_network *net, rn_rope *rope, rn_stop *stop)
{
	stop->radius = stop->tread_radius = 0;
	stop->lifted = stop->untouched = stop->at_tread = stop->doubtful = stop->gone = false;
	stop->flips = 0;
	stop->run = 0;
	stop->turns = stop->friction = stop->bend = stop->log_ratio = stop->log_ratio_slope = 0;
	if (!stop->through)
		return;
	const rn_station *station = &net->model->stations[stop->station];
	rn_contact_law law = rn_station_contact(net->model, net->values, stop->station);
	stop->radius = stop->tread_radius = law.radius;
	stop->side = station->side ? station->side : 1;
	stop->side_drawn = station->side;
	stop->doubtful = station->side_doubtful;
	stop->is_sheave = law.is_sheave;
	stop->friction = law.is_sheave ? (1 - law.efficiency) / (1 + law.efficiency) : law.friction;
	if (net->model->nodes[stop->node].kind == RN_NODE_BOLLARD && !law.is_sheave)
		stop->turns = value(net, rn_object_of(RN_NODE, stop->node), RN_ATTRIBUTE_TURNS, 0);
	int last = rope->first_stop + rope->stop_count - 1;
	stop->run = rn_case_direction(net->model, net->c, net->stops[rope->first_stop].station,
	                              net->stops[last].station, stop->station);
	load_grip(net, stop);
	if (stop->run != 0 && stop->friction > 0)
		rope->runs = true;
}

bool rn_network_hauls(const rn_network *net, const rn_rope *rope, int stop)
{
	const rn_stop *first = &net->stops[rope->first_stop], *last = first + rope->stop_count - 1;
	const rn_stop *end = &net->stops[stop];
	int run = rn_case_direction(net->model, net->c, first->station, last->station, end->station);
	return end == last ? run > 0 : run < 0;
}

static double turned_exponent(const rn_network *net, const rn_stop *end)
{
	if (net->model->nodes[end->node].kind != RN_NODE_BOLLARD)
		return 0;
	double friction = rn_station_contact(net->model, net->values, end->station).friction;
	double turns = value(net, rn_object_of(RN_NODE, end->node), RN_ATTRIBUTE_TURNS, 0);
	return friction * turns * 2 * RN_PI;
}

double rn_network_turned(const rn_network *net, int stop)
{
	return turned_exponent(net, &net->stops[stop]);
}

/* The pull behind a bollard holds more in the rope before it while rope runs out over the turns. To
 * haul in, the turns are taken off. */
static double pull_before_turns(const rn_network *net, const rn_rope *rope, int stop, double pull)
{
	const rn_stop *end = &net->stops[stop];
	const rn_stop *first = &net->stops[rope->first_stop], *last = first + rope->stop_count - 1;
	bool bollard = net->model->nodes[end->node].kind == RN_NODE_BOLLARD;
	const double *grip = grip_at(net, end->station);
	if (bollard && grip)
		return pull * exp(*grip * turned_exponent(net, end));
	if (!bollard || rn_network_hauls(net, rope, stop) ||
	    rn_case_direction(net->model, net->c, first->station, last->station, end->station) == 0)
		return pull;
	return pull * exp(turned_exponent(net, end));
}

/* The pull in the rope at a hold, below 0 where its length is given instead. */
static double hold_pull(const rn_network *net, const rn_rope *rope, int stop)
{
	int station = net->stops[stop].station;
	double said = net->unsure && net->unsure->hold_pull ? net->unsure->hold_pull[station] : 0;
	if (said != 0)
		return said;
	double pull = value(net, rn_object_of(RN_STATION, station), RN_ATTRIBUTE_PULL, -1);
	return pull < 0 ? pull : pull_before_turns(net, rope, stop, pull);
}

static void load_pull(rn_network *net, rn_rope *rope)
{
	rope->pulled = false;
	rope->pull = 0;
	for (int end = 0; end < 2; end++) {
		int stop = rope->first_stop + (end ? rope->stop_count - 1 : 0);
		double pull = net->stops[stop].station == RN_NONE ? -1 : hold_pull(net, rope, stop);
		if (pull < 0)
			continue;
		rope->pulled = true;
		rope->pull_at_last = end;
		rope->pull = pull;
	}
}

static double part_of_line(const rn_network *net, const rn_rope *rope)
{
	double whole = 0;
	for (int r = 0; r < net->rope_count; r++)
		if (net->ropes[r].member.kind == RN_LINE && net->ropes[r].member.index == rope->member.index)
			whole += net->ropes[r].drawn;
	return whole > 0 ? rope->drawn / whole : 1;
}

static double stretch_at(const rn_network *net, const rn_rope *rope, double pull)
{
	return rope->curve == RN_NONE ? pull / rope->stiffness
	                              : rn_curve_stretch(net->model, net->values, rope->curve, pull);
}

/* Mean tension of a rope, its spans by their lengths. */
static double mean_tension(const rn_network *net, const rn_rope *rope)
{
	double sum = 0, length = 0;
	for (int i = 0; i < rope->span_count; i++) {
		const rn_span *span = &net->spans[rope->first_span + i];
		double along = span->length + rn_span_further(rope, i);
		sum += span->share * along;
		length += along;
	}
	return rope->tension * sum / length;
}

/* A secant is settled when it moves by less than this part [-]. */
static const double secant_settled = 1e-12;

bool rn_network_take_secants(rn_network *net)
{
	bool moved = false;
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		if (rope->curve == RN_NONE || !rope->taut || rope->pulled || rope->tension <= 0)
			continue;
		double tension = mean_tension(net, rope);
		double secant = tension / stretch_at(net, rope, tension);
		moved = moved || fabs(secant - rope->stiffness) > secant_settled * secant;
		rope->stiffness = rope->stiffness_used = secant;
	}
	return moved;
}

/* On a part of its curve a rope is a plain spring, of another length and stiffness:
 *     L = L0 (1 + offset + slope T) = L0' + L0 slope T,   L0' = L0 (1 + offset),  EA' = L0'/(L0 slope)
 */
static void take_part(const rn_network *net, rn_rope *rope, int index)
{
	rn_curve_part part = rn_curve_part_of(net->model, net->values, rope->curve, index);
	rope->curve_part = index;
	rope->length0 = rope->length0_made * (1 + part.offset);
	rope->stiffness = rope->stiffness_used = rope->length0 / (rope->length0_made * part.slope);
}

bool rn_network_follow_curves(rn_network *net, bool one_step)
{
	bool changed = false;
	for (int r = 0; r < net->rope_count && !(changed && one_step); r++) {
		rn_rope *rope = &net->ropes[r];
		if (rope->curve == RN_NONE || rope->pulled)
			continue;
		double tension = rope->taut && rope->tension > 0 ? mean_tension(net, rope) : 0;
		int index = rn_curve_part_at(net->model, net->values, rope->curve, tension).index;
		if (index == rope->curve_part)
			continue;
		int step = index > rope->curve_part ? 1 : -1;
		take_part(net, rope, one_step ? rope->curve_part + step : index);
		changed = true;
	}
	return changed;
}

/* How far the length of a rope is off, as a part of it. */
static double length_off(const rn_network *net, const rn_rope *rope)
{
	const rn_unsure *u = net->unsure;
	if (!u || rope->pushes)
		return 0;
	if (rope->member.kind == RN_SLING)
		return u->leg_off ? u->leg_off[net->model->slings[rope->member.index].first_leg + rope->member_span] : 0;
	return u->line_off ? u->line_off[rope->member.index] : 0;
}

/* Unstretched length: as given, else as drawn less the stretch of its pretension. A length given
 * for a line with grips is shared by its parts as drawn. */
static void load_length(rn_network *net, rn_rope *rope)
{
	rn_object object = rope->member;
	double part = 1;
	rope->length0 = rope->drawn;
	if (rope->pushes)
		return;
	if (object.kind == RN_SLING)
		object = rn_object_of(RN_LEG, net->model->slings[object.index].first_leg + rope->member_span);
	else
		part = part_of_line(net, rope);
	double length = value(net, object, RN_ATTRIBUTE_LENGTH, 0);
	double reach = object.kind == RN_LEG ? value(net, object, RN_ATTRIBUTE_REACH, 0) : 0;
	double slack = value(net, object, RN_ATTRIBUTE_SLACK, 0);
	double pretension = value(net, object, RN_ATTRIBUTE_PRETENSION, 0);
	if (reach > 0)
		rope->length0 = reach + slack;
	else if (length > 0)
		rope->length0 = length * part;
	else
		rope->length0 = rope->drawn / (1 + stretch_at(net, rope, pretension)) + slack * part;
}

/* Whether only the drawing says how long a rope is; the parts of a line share the length it is given as drawn. */
static bool is_as_drawn(const rn_network *net, const rn_rope *rope)
{
	rn_object object = rope->member;
	if (object.kind == RN_SLING)
		object = rn_object_of(RN_LEG, net->model->slings[object.index].first_leg + rope->member_span);
	bool said = value(net, object, RN_ATTRIBUTE_LENGTH, 0) > 0 || value(net, object, RN_ATTRIBUTE_REACH, 0) > 0;
	return !rope->pulled && !rope->gone && !(said && rope->length0 > 0);
}

int rn_network_undrawn(const rn_network *net)
{
	for (int r = 0; r < net->rope_count; r++)
		if (!net->ropes[r].laid && is_as_drawn(net, &net->ropes[r]))
			return r;
	return RN_NONE;
}

static void load_further(const rn_network *net, rn_rope *rope)
{
	for (int end = 0; end < 2; end++) {
		int station = net->stops[rope->first_stop + (end ? rope->stop_count - 1 : 0)].station;
		rope->further[end] = station == RN_NONE ? 0 : value(net, rn_object_of(RN_STATION, station), RN_ATTRIBUTE_FURTHER, 0);
	}
}

static void load_ropes(rn_network *net)
{
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		rope->runs = false;
		rope->taut = rope->pushes = rope->member.kind == RN_PROP;
		rope->tension = 0;
		for (int i = 0; i < rope->stop_count; i++)
			load_stop(net, rope, &net->stops[rope->first_stop + i]);
		rope->stiffness = rn_member_stiffness(net->model, net->values, rope->member);
		rope->curve = rn_member_curve(net->model, rope->member);
		rope->stiffness_used = rope->stiffness;
		load_pull(net, rope);
		load_further(net, rope);
		rn_rope_lay(net, rope);
		rope->laid = rn_rope_measure(net, rope);
		rope->drawn = rope->laid ? rope->length : 0;
	}
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		load_length(net, rope);
		rope->length0 *= 1 + length_off(net, rope);
		rope->length0_made = rope->length0;
		rope->curve_part = 0;
	}
}

/* ---- what has let go ------------------------------------------------------------------------- */

static bool is_gone(const bool *list, int index)
{
	return list && index != RN_NONE && list[index];
}

static bool end_is_gone(const rn_network *net, const rn_stop *end)
{
	return is_gone(net->unsure->node_gone, end->node) || is_gone(net->unsure->station_gone, end->station);
}

static bool rope_is_gone(const rn_network *net, const rn_rope *rope)
{
	const rn_stop *first = &net->stops[rope->first_stop];
	int index = rope->member.index;
	bool member = false;
	if (rope->member.kind == RN_LINE)
		member = is_gone(net->unsure->line_gone, index);
	if (rope->member.kind == RN_SLING)
		member = is_gone(net->unsure->leg_gone, net->model->slings[index].first_leg + rope->member_span);
	return member || end_is_gone(net, first) || end_is_gone(net, first + rope->stop_count - 1);
}

/* So long that nothing pulls it taut, in sizes of the drawing [-]; not so long that products of it leave
 * what a double holds. */
static const double gone_length = 1e3;

static void let_go_rope(const rn_network *net, rn_rope *rope)
{
	rope->gone = true;
	rope->pulled = rope->pushes = rope->taut = rope->runs = false;
	rope->curve = RN_NONE;
	rope->pull = 0;
	rope->length0 = rope->length0_made = gone_length * (net->size + rope->drawn);
}

/* The rope keeps the length it had round what has let go. */
static void let_go_stops(rn_network *net, rn_rope *rope)
{
	for (int i = 1; i + 1 < rope->stop_count; i++) {
		rn_stop *stop = &net->stops[rope->first_stop + i];
		stop->gone = stop->untouched = is_gone(net->unsure->node_gone, stop->node);
	}
	rn_rope_lay(net, rope);
	rn_rope_measure(net, rope);
}

static void let_go(rn_network *net)
{
	for (int r = 0; r < net->rope_count; r++)
		net->ropes[r].gone = false;
	if (!net->unsure)
		return;
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		if (rope_is_gone(net, rope))
			let_go_rope(net, rope);
		else
			let_go_stops(net, rope);
	}
	for (int i = 0; i < net->model->node_count; i++)
		if (is_gone(net->unsure->node_gone, i))
			net->load[2 * i] = net->load[2 * i + 1] = 0;
	for (int i = 0; i < net->contact_count; i++) {
		rn_contact *contact = &net->contacts[i];
		for (int r = 0; r < net->rope_count; r++) {
			const rn_rope *rope = &net->ropes[r];
			bool on_it = contact->first >= rope->first_stop && contact->first < rope->first_stop + rope->stop_count;
			contact->exists = contact->exists && !(on_it && rope->gone);
		}
		contact->exists = contact->exists && !net->stops[contact->first].gone && !net->stops[contact->second].gone;
	}
}

static void load_loads(rn_network *net)
{
	const rn_model *m = net->model;
	for (int i = 0; i < m->node_count; i++) {
		net->load[2 * i] = net->load[2 * i + 1] = 0;
		if (rn_node_is_fixed(&m->nodes[i]))
			continue;
		net->load[2 * i + 1] -= value(net, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_WEIGHT, 0);
		net->load[2 * i + 1] -=
			value(net, rn_object_of(RN_ITEM, m->nodes[i].gear), RN_ATTRIBUTE_WEIGHT, 0);
	}
	for (int i = 0; i < m->prop_count; i++) {
		/* the ends that do not move pass their share on to the anchor: see answer.c */
		double weight = value(net, rn_object_of(RN_PROP, i), RN_ATTRIBUTE_WEIGHT, 0);
		double share = rn_prop_share(m, net->values, i);
		net->load[2 * m->props[i].from + 1] -= share * weight;
		net->load[2 * m->props[i].to + 1] -= (1 - share) * weight;
	}
	for (int i = 0; i < net->c->force_count; i++) {
		int force = net->c->first_force + i, node = m->forces[force].node;
		if (rn_node_is_fixed(&m->nodes[node]))
			continue;
		double size = value(net, rn_object_of(RN_FORCE, force), RN_ATTRIBUTE_SIZE, 0);
		double toward = value(net, rn_object_of(RN_FORCE, force), RN_ATTRIBUTE_TOWARD, 0);
		net->load[2 * node] += size * cos(toward);
		net->load[2 * node + 1] += size * sin(toward);
	}
}

static void load_scales(rn_network *net)
{
	const rn_model *m = net->model;
	double low[2] = {HUGE_VAL, HUGE_VAL}, high[2] = {-HUGE_VAL, -HUGE_VAL}, strained = 0;
	for (int i = 0; i < 2 * m->node_count; i++) {
		low[i % 2] = fmin(low[i % 2], net->place[i]);
		high[i % 2] = fmax(high[i % 2], net->place[i]);
	}
	net->size = hypot(high[0] - low[0], high[1] - low[1]);
	net->load_scale = 0;
	for (int i = 0; i < m->node_count; i++)
		net->load_scale = fmax(net->load_scale, hypot(net->load[2 * i], net->load[2 * i + 1]));
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		net->load_scale = fmax(net->load_scale, rope->pull);
		net->size = fmax(net->size, rope->pulled ? 0 : rope->length0);
		if (rope->pulled)
			continue;
		strained = fmax(strained, rope->stiffness * (rope->drawn / rope->length0 - 1));
	}
	if (net->load_scale == 0) /* nothing but what the ropes were tightened to */
		net->load_scale = strained;
}

/* ---- a guided piece ---------------------------------------------------------------------------- */

static double guided(const rn_network *net, int k)
{
	const rn_guide *g = net->guide;
	return g->share[0] * net->place[2 * g->nodes[0] + k] + g->share[1] * net->place[2 * g->nodes[1] + k];
}

const double rn_guide_plumb = 3e4;

double rn_guide_height(const rn_network *net)
{
	return guided(net, 1);
}

double rn_guide_across(const rn_network *net)
{
	return guided(net, 0);
}

double rn_guide_lift(const rn_network *net)
{
	return net->guide->stiffness * (net->guide->rest - guided(net, 1));
}

double rn_guide_side(const rn_network *net)
{
	return net->guide->plumb ? rn_guide_plumb * net->guide->stiffness * (net->guide->across - guided(net, 0)) : 0;
}

void rn_network_stiffen(rn_network *net, double most)
{
	double stiffest = 0;
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		rope->stiffness_used = fmin(rope->stiffness, most);
		if (!rope->pulled)
			stiffest = fmax(stiffest, rope->stiffness_used / rope->length0);
	}
	/* ropes that are all pulled leave no scale but the loads */
	net->contact_stiffness = body_over_rope * (stiffest > 0 ? stiffest : net->load_scale / net->size);
}

void rn_network_grow_treads(rn_network *net, double part)
{
	for (int i = 0; i < net->stop_count; i++) {
		rn_stop *stop = &net->stops[i];
		if (stop->through && stop->captured && !stop->at_tread)
			stop->radius = part * stop->tread_radius;
	}
}

void rn_network_load(rn_network *net, const rn_case *c, const double *values)
{
	net->c = c;
	net->values = values;
	net->friction_share = 0;
	net->smoothing = 0;
	net->bodiless = false;
	for (int i = 0; i < net->model->node_count; i++)
		rn_node_drawn(net->model, values, i, &net->place[2 * i]);
	for (int b = 0; b < net->bending_count && !net->keep_bending; b++)
		rn_bending_load(&net->bendings[b], net->model, values);
	load_ropes(net);
	load_loads(net);
	load_scales(net);
	rn_network_stiffen(net, HUGE_VAL);
	rn_network_grow_treads(net, 1);
	for (int i = 0; i < net->contact_count; i++) {
		rn_contact *contact = &net->contacts[i];
		contact->reach = body_over_seat * (net->stops[contact->first].tread_radius +
		                                   net->stops[contact->second].tread_radius);
		contact->push = 0;
		contact->touching = false;
		/* two points have no bodies; a point by a tread would lose its tangent inside it */
		contact->exists = contact->reach > 0;
	}
	let_go(net);
}
