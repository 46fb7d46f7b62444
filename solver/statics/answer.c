/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/answer.h"

#include <math.h>
#include <string.h>

#include "solver/model/place.h"

rn_status rn_answer_create(rn_arena *arena, const rn_network *net, rn_case_result *answer_out)
{
	rn_case_result answer = {0};
	RN_TAKE(arena, answer.nodes, net->model->node_count + 1);
	RN_TAKE(arena, answer.spans, net->span_room + 1);
	RN_TAKE(arena, answer.passes, net->stop_count + 1);
	RN_TAKE(arena, answer.holds, net->stop_count + 1);
	RN_TAKE(arena, answer.contacts, net->contact_count + 1);
	*answer_out = answer;
	return RN_OK;
}

static void put(rn_vec2 v, double out[2])
{
	out[0] = v.x;
	out[1] = v.y;
}

/* ---- spans and passes ------------------------------------------------------------------------ */

/* Tangent points: the centre lies s r to the left of the rope's travel. */
static rn_vec2 tangent_point(const rn_network *net, const rn_span *span, int stop)
{
	const rn_stop *s = &net->stops[stop];
	rn_vec2 centre = rn_vec2_of(&net->place[2 * s->node]);
	return rn_vec2_add(centre, rn_vec2_scale(-s->side * s->radius, rn_vec2_left(span->u)));
}

/* A stop that is passed by lies in the middle of a span: each of its two sides is reported with the
 * tension of the whole, cut at the point of the span nearest to the node, and no further back than a
 * stop before it. */
static rn_vec2 cut_point(const rn_network *net, const rn_span *span, int stop)
{
	rn_vec2 start = tangent_point(net, span, span->from);
	double along = 0;
	for (int i = span->from + 1; i <= stop; i++) {
		rn_vec2 centre = rn_vec2_of(&net->place[2 * net->stops[i].node]);
		along = fmax(along, rn_vec2_dot(rn_vec2_sub(centre, start), span->u));
	}
	return rn_vec2_add(start, rn_vec2_scale(fmin(along, span->length), span->u));
}

static void fill_span(const rn_network *net, const rn_rope *rope, const rn_span *span, int from, int to,
                      rn_span_result *out)
{
	bool cut = from != span->from || to != span->to;
	rn_vec2 start = from == span->from ? tangent_point(net, span, from) : cut_point(net, span, from);
	rn_vec2 end = to == span->to ? tangent_point(net, span, to) : cut_point(net, span, to);
	out->member = rope->member;
	out->index = rope->member_span + (from - rope->first_stop);
	out->from = net->stops[from].node;
	out->to = net->stops[to].node;
	out->tension = rope->taut ? rope->tension * span->share : 0;
	out->length = cut ? rn_vec2_length(rn_vec2_sub(end, start)) : span->length;
	out->heading = atan2(span->u.y, span->u.x);
	out->certified = -1;
	put(start, out->start);
	put(end, out->end);
}

static void fill_pass(const rn_network *net, const rn_rope *rope, int stop, int span_after,
                      const rn_case_result *answer, rn_pass_result *out)
{
	const rn_stop *s = &net->stops[stop];
	const rn_span_result *in = &answer->spans[span_after - 1], *on = &answer->spans[span_after];
	*out = (rn_pass_result){.line = rope->member.index,
	                        .station = s->station,
	                        .node = s->node,
	                        .span_before = span_after - 1,
	                        .span_after = span_after,
	                        .bend = s->lifted ? 0 : s->bend,
	                        .before = in->tension,
	                        .after = on->tension,
	                        .radius = s->radius,
	                        .side = s->side,
	                        .lifted = s->lifted,
	                        .guessed_side = s->doubtful,
	                        .friction_exponent = s->lifted ? 0 : s->log_ratio};
	if (s->lifted)
		return;
	/* the rope pulls the node with -T_in u_in + T_out u_out; its arc adds nothing */
	rn_vec2 u_in = rn_vec2_heading(in->heading), u_out = rn_vec2_heading(on->heading);
	put(rn_vec2_sub(rn_vec2_scale(on->tension, u_out), rn_vec2_scale(in->tension, u_in)), out->force);
	out->arc_start = remainder(in->heading - s->side * RN_PI / 2, 2 * RN_PI);
}

/* The span of the rope, of those measured, that covers the way from a stop to the next. */
static const rn_span *span_over(const rn_network *net, const rn_rope *rope, int stop)
{
	const rn_span *span = net->spans + rope->first_span;
	while (span->to <= stop)
		span++;
	return span;
}

static void fill_rope(const rn_network *net, const rn_rope *rope, rn_case_result *answer)
{
	for (int i = 0; i + 1 < rope->stop_count; i++) {
		int stop = rope->first_stop + i;
		fill_span(net, rope, span_over(net, rope, stop), stop, stop + 1,
		          &answer->spans[answer->span_count++]);
		if (i > 0)
			fill_pass(net, rope, stop, answer->span_count - 1, answer,
			          &answer->passes[answer->pass_count++]);
	}
}

/* ---- holds --------------------------------------------------------------------------------- */

static bool is_set(const rn_network *net, int number)
{
	for (int i = 0; i < net->c->setting_count; i++)
		if (net->model->settings[net->c->first_setting + i].number == number)
			return true;
	return false;
}

/* Friction of the post the rope is held on: as low and as high as it may be, or as the case sets it. */
static void grip_range(const rn_network *net, int station, double *low, double *high)
{
	int k = rn_station_number(net->model, station, RN_ATTRIBUTE_FRICTION);
	*low = *high = 0;
	if (k == RN_NONE)
		return;
	*low = is_set(net, k) ? net->values[k] : net->model->numbers[k].low;
	*high = is_set(net, k) ? net->values[k] : net->model->numbers[k].high;
}

static void fill_hold(const rn_network *net, const rn_rope *rope, int stop, double tension,
                      rn_case_result *answer)
{
	int station = net->stops[stop].station;
	if (station == RN_NONE || net->model->stations[station].kind != RN_HOLD)
		return;
	const rn_station *s = &net->model->stations[station];
	rn_hold_result *hold = &answer->holds[answer->hold_count++];
	*hold = (rn_hold_result){.line = s->line, .station = station, .node = s->node, .tension = tension};
	hold->hand_least = hold->hand_most = tension;
	if (net->model->nodes[s->node].kind != RN_NODE_BOLLARD || rn_network_hauls(net, rope, stop))
		return;
	double low, high;
	grip_range(net, station, &low, &high);
	hold->turns = rn_model_value(net->model, net->values, rn_object_of(RN_NODE, s->node),
	                             RN_ATTRIBUTE_TURNS, 0);
	hold->hand_least = tension * exp(-high * hold->turns * 2 * RN_PI);
	hold->hand_most = tension * exp(-low * hold->turns * 2 * RN_PI);
	double pull = rn_model_value(net->model, net->values, rn_object_of(RN_STATION, station),
	                             RN_ATTRIBUTE_PULL, -1);
	if (pull >= 0) /* not asked for: given */
		hold->hand_least = hold->hand_most = pull;
}

static void fill_holds(const rn_network *net, rn_case_result *answer)
{
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		const rn_span *span = &net->spans[rope->first_span];
		double tension = rope->taut ? rope->tension : 0;
		fill_hold(net, rope, rope->first_stop, tension * span[0].share, answer);
		fill_hold(net, rope, rope->first_stop + rope->stop_count - 1,
		          tension * span[rope->span_count - 1].share, answer);
	}
}

/* ---- nodes --------------------------------------------------------------------------------- */

static void fill_nodes(const rn_network *net, rn_case_result *answer)
{
	for (int i = 0; i < net->model->node_count; i++) {
		rn_node_result *node = &answer->nodes[i];
		memset(node, 0, sizeof *node);
		rn_node_drawn(net->model, net->values, i, node->drawn);
		memcpy(node->place, &net->place[2 * i], sizeof node->place);
		memcpy(node->load, &net->load[2 * i], sizeof node->load);
	}
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		for (int i = 0; rope->taut && i < rope->span_count; i++) {
			const rn_span *span = &net->spans[rope->first_span + i];
			double tension = rope->tension * span->share;
			double *from = answer->nodes[net->stops[span->from].node].pull;
			double *to = answer->nodes[net->stops[span->to].node].pull;
			from[0] += tension * span->u.x;
			from[1] += tension * span->u.y;
			to[0] -= tension * span->u.x;
			to[1] -= tension * span->u.y;
		}
	}
	for (int i = 0; i < answer->contact_count; i++) {
		const rn_contact_result *contact = &answer->contacts[i];
		rn_vec2 d = rn_vec2_sub(rn_vec2_of(&net->place[2 * contact->b]),
		                        rn_vec2_of(&net->place[2 * contact->a]));
		double k = contact->push / rn_vec2_length(d);
		answer->nodes[contact->a].pull[0] -= k * d.x;
		answer->nodes[contact->a].pull[1] -= k * d.y;
		answer->nodes[contact->b].pull[0] += k * d.x;
		answer->nodes[contact->b].pull[1] += k * d.y;
	}
	/* what weighs on a fixed node, half a prop, pulls on it too */
	for (int i = 0; i < net->model->node_count; i++)
		for (int k = 0; k < 2; k++)
			answer->nodes[i].pull[k] += net->load[2 * i + k];
	for (int i = 0; i < net->model->node_count; i++)
		if (!rn_node_is_fixed(&net->model->nodes[i]))
			memset(answer->nodes[i].pull, 0, sizeof answer->nodes[i].pull);
}

static void fill_contacts(const rn_network *net, rn_case_result *answer)
{
	for (int i = 0; i < net->contact_count; i++) {
		double push = net->contacts[i].push;
		if (net->contacts[i].touching && push > 0)
			answer->contacts[answer->contact_count++] =
				(rn_contact_result){net->stops[net->contacts[i].first].node,
			                            net->stops[net->contacts[i].second].node, push};
	}
}

void rn_answer_fill(const rn_settler *settler, rn_case_result *answer)
{
	const rn_network *net = &settler->net;
	answer->span_count = answer->pass_count = answer->hold_count = answer->contact_count = 0;
	for (int r = 0; r < net->rope_count; r++)
		fill_rope(net, &net->ropes[r], answer);
	fill_holds(net, answer);
	fill_contacts(net, answer);
	fill_nodes(net, answer);
	answer->info = (rn_solve_info){.steps = settler->step_count, .stages = settler->stage_count, .gap = -1};
}
