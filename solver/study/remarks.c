/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/study/remarks.h"

#include <math.h>

#include "solver/base/notes.h"
#include "solver/data/bends.h"
#include "solver/model/give.h"
#include "solver/strength/derate.h"
#include "solver/strength/hitch.h"

/* Above this capstan exponent per radian several answers were seen [-]. */
static const double friction_strong = 0.6;

static rn_status say(rn_settler *s, rn_note_kind kind, rn_object a, rn_object b, double value)
{
	rn_note note = {.kind = kind, .a = a, .b = b, .c = rn_object_of(RN_NODE, RN_NONE), .value = {value}};
	return rn_notes_add(s->notes_arena, s->notes, note);
}

/* For what is said of each object once, where it is looked at. */
static rn_status say_once(rn_settler *s, rn_note_kind kind, rn_object a, double value)
{
	rn_note note = {.kind = kind, .a = a, .b = rn_object_of(RN_NODE, RN_NONE), .c = rn_object_of(RN_NODE, RN_NONE),
	                .value = {value}};
	return rn_notes_append(s->notes_arena, s->notes, note);
}

static rn_object nothing(void)
{
	return rn_object_of(RN_NODE, RN_NONE);
}

/* ---- ropes --------------------------------------------------------------------------------- */

static bool all_fixed(const rn_network *net, const rn_rope *rope)
{
	for (int i = 0; i < rope->stop_count; i++)
		if (net->moves[net->stops[rope->first_stop + i].node])
			return false;
	return true;
}

static bool meets_friction(const rn_network *net, const rn_rope *rope)
{
	for (int i = 1; i + 1 < rope->stop_count; i++)
		if (net->stops[rope->first_stop + i].friction > 0)
			return true;
	return false;
}

static bool does_run(const rn_network *net, const rn_rope *rope)
{
	for (int i = 1; i + 1 < rope->stop_count; i++)
		if (net->stops[rope->first_stop + i].run != 0)
			return true;
	return false;
}

/* A span between an end and a through that has come to less than this part of the drawing has no
 * length left [-]. */
static const double span_none = 1e-5;

/* Says so where an end of the rope was drawn up to its neighbour, tread or point. */
static rn_status remark_ends(rn_settler *s, const rn_rope *rope)
{
	const rn_network *net = &s->net;
	for (int last = 0; rope->bends && rope->taut && last < 2; last++) {
		const rn_span *span = &net->spans[rope->first_span + (last ? rope->span_count - 1 : 0)];
		if (span->length > span_none * net->size)
			continue;
		rn_note note = {.kind = RN_NOTE_AT_TREAD,
		                .a = rope->member,
		                .b = rn_stop_object(net, last ? span->from : span->to),
		                .c = rn_stop_object(net, last ? span->to : span->from)};
		RN_TRY(rn_notes_add(s->notes_arena, s->notes, note));
	}
	return RN_OK;
}

/* Said once of a line or sling: of its first rope nothing has been said yet. */
static rn_status say_of_member(rn_settler *s, rn_note_kind kind, const rn_rope *rope)
{
	return rope->member_span == 0 ? say_once(s, kind, rope->member, 0) : say(s, kind, rope->member, nothing(), 0);
}

static rn_status remark_rope(rn_settler *s, const rn_rope *rope)
{
	const rn_network *net = &s->net;
	if (rope->gone)
		return RN_OK;
	if (all_fixed(net, rope) && !rope->pulled)
		RN_TRY(say_of_member(s, RN_NOTE_BOTH_ENDS_FIXED, rope));
	else if (!rope->taut)
		RN_TRY(say_of_member(s, RN_NOTE_SLACK_LINE, rope));
	if (net->c->level != RN_FRICTION_NONE && meets_friction(net, rope) && !does_run(net, rope))
		RN_TRY(say(s, RN_NOTE_DOES_NOT_RUN, rope->member, nothing(), 0));
	for (int i = 1; i + 1 < rope->stop_count; i++) {
		const rn_stop *stop = &net->stops[rope->first_stop + i];
		if (rope->runs && !stop->is_sheave && stop->friction > friction_strong)
			RN_TRY(say(s, RN_NOTE_STRONG_FRICTION, rn_object_of(RN_NODE, stop->node), nothing(), 0));
	}
	return RN_OK;
}

/* ---- pieces -------------------------------------------------------------------------------- */

static double height_drawn(const rn_network *net, const rn_case_result *answer, int stop)
{
	return answer->nodes[net->stops[stop].node].drawn[1];
}

/* How far a piece drops before this rope of its holds it: nothing if the rope leads up and is taut.
 * A piece above its first block hangs as far below it afterwards as the rope between is long. */
static double drop_of(const rn_network *net, const rn_case_result *answer, const rn_rope *rope, int end)
{
	int next = end == rope->first_stop ? end + 1 : end - 1;
	const double *piece = answer->nodes[net->stops[end].node].drawn;
	const double *block = answer->nodes[net->stops[next].node].drawn;
	double slack = rope->pulled ? 0 : fmax(0, rope->length0 - rope->drawn * (1 + 1e-9));
	double above = height_drawn(net, answer, end) - height_drawn(net, answer, next);
	bool stays = net->stops[next].through || rn_node_is_fixed(&net->model->nodes[net->stops[next].node]);
	if (above <= 0 || !stays)
		return slack;
	return above + hypot(piece[0] - block[0], piece[1] - block[1]) + slack;
}

/* A piece that settles by more than this part of the drawing has fallen there [-]. */
static const double sinks_most = 0.25;

/* Whether something has let go. */
static bool is_without(const rn_network *net)
{
	const rn_unsure *u = net->unsure;
	return u && (u->node_gone || u->line_gone || u->leg_gone || u->station_gone);
}

/* Twice the energy a rope took up since it was drawn [N m]; one held by a given pull takes up none. */
static double taken_up(const rn_network *net, const rn_rope *rope)
{
	if (rope->gone || rope->pulled || !rope->taut || rope->length0 <= 0)
		return 0;
	double most = 0, before = fmax(0, rope->drawn - rope->length0);
	for (int i = 0; i < rope->span_count; i++)
		most = fmax(most, fabs(rope->tension * net->spans[rope->first_span + i].share));
	double energy = most * fabs(rope->length - rope->length0);
	return fmax(0, energy - rope->stiffness * before * before / rope->length0);
}

static double sinks_of(const rn_case_result *answer, int node)
{
	return answer->nodes[node].drawn[1] - answer->nodes[node].place[1];
}

/* A rope in line with the load takes up half of load times way, one across it a quarter; what pieces give
 * beyond that went into a fall. */
static const double across = 4;

/* Whether pieces sink as ropes stretch: nothing comes free, the ropes have taken it all up. */
static bool stretches(const rn_network *net, const rn_case_result *answer)
{
	double given = 0, taken = 0;
	for (int i = 0; i < net->model->node_count; i++)
		if (net->model->nodes[i].kind == RN_NODE_PIECE)
			given += fmax(0, -answer->nodes[i].load[1] * sinks_of(answer, i));
	for (int r = 0; r < net->rope_count; r++)
		taken += taken_up(net, &net->ropes[r]) / 2;
	return given <= across * taken;
}

static rn_status remark_piece(rn_settler *s, int node, rn_case_result *answer)
{
	const rn_network *net = &s->net;
	double least = HUGE_VAL;
	int lines = 0;
	for (int v = net->first_visit[node], seen = RN_NONE; v < net->first_visit[node + 1]; v++) {
		const rn_rope *rope = &net->ropes[net->visits[v]];
		if (net->visits[v] == seen)
			continue;
		seen = net->visits[v];
		int ends[2] = {rope->first_stop, rope->first_stop + rope->stop_count - 1};
		for (int k = 0; k < 2; k++) {
			if (net->stops[ends[k]].node != node || rope->gone)
				continue;
			lines += rope->member.kind == RN_LINE;
			least = fmin(least, drop_of(net, answer, rope, ends[k]));
		}
	}
	/* or it comes to rest, but far below: something that should hold its rope up does not */
	double sinks = sinks_of(answer, node);
	bool is_far = sinks > sinks_most * net->size, is_stretch = is_far && least <= 0 && stretches(net, answer);
	if (is_far && !is_stretch)
		least = least == HUGE_VAL ? sinks : fmax(least, sinks);
	rn_object piece = rn_object_of(RN_NODE, node);
	if (is_stretch)
		RN_TRY(say_once(s, RN_NOTE_SINKS, piece, sinks));
	bool end_of_log = false;
	for (int i = 0; i < net->model->prop_count; i++)
		end_of_log = end_of_log || net->model->props[i].from == node || net->model->props[i].to == node;
	if (!end_of_log && rn_model_find_number(net->model, piece, RN_ATTRIBUTE_WEIGHT) == RN_NONE) {
		answer->unweighed = true;
		RN_TRY(say_once(s, RN_NOTE_NO_WEIGHT, piece, 0));
	}
	if (net->c->made && lines > 1 && net->c->level != RN_FRICTION_NONE)
		RN_TRY(say_once(s, RN_NOTE_TWO_LINES, piece, 0));
	if (least == HUGE_VAL || least <= 0)
		return RN_OK;
	if (is_without(net) && !(sinks > sinks_most * net->size))
		return RN_OK; /* a rope that comes free of a redirect has rope to spare: it is looked at apart */
	answer->falls = true;
	return say_once(s, RN_NOTE_FALLS_FIRST, piece, least);
}

/* ---- bends sharper than a rule asks ---------------------------------------------------------- */

static rn_status remark_sharp(rn_settler *s, rn_object member, rn_object at, double ratio, rn_bend_place place)
{
	if (ratio <= 0 || ratio >= rn_bend_least(place))
		return RN_OK;
	rn_note note = {.kind = RN_NOTE_BEND_SHARP,
	                .a = member,
	                .b = at,
	                .c = nothing(),
	                .word = rn_bend_least_source(place),
	                .value = {ratio, rn_bend_least(place)}};
	return rn_notes_add(s->notes_arena, s->notes, note);
}

static rn_status remark_line_bends(rn_settler *s, const rn_case_result *answer)
{
	const rn_network *net = &s->net;
	for (int i = 0; i < answer->pass_count; i++) {
		const rn_pass_result *pass = &answer->passes[i];
		double ratio = rn_line_bend_ratio(net->model, net->values, pass->station);
		if (!pass->lifted && pass->bend > 0)
			RN_TRY(remark_sharp(s, rn_object_of(RN_LINE, pass->line), rn_object_of(RN_NODE, pass->node), ratio,
			                    RN_BEND_OF_ROPE));
	}
	return RN_OK;
}

static rn_status remark_eyes(rn_settler *s)
{
	const rn_model *m = s->net.model;
	for (int i = 0; i < m->leg_count; i++)
		RN_TRY(remark_sharp(s, rn_object_of(RN_SLING, m->legs[i].sling), rn_object_of(RN_NODE, rn_hitch_far(m, i)),
		                    rn_leg_eye_ratio(m, s->net.values, i), RN_BEND_OF_EYE));
	return RN_OK;
}

static rn_status remark_hitches(rn_settler *s, const rn_case_result *answer)
{
	for (int i = 0; i < answer->hitch_count; i++) {
		const rn_hitch_result *h = &answer->hitches[i];
		rn_object sling = rn_object_of(RN_SLING, h->sling), stem = rn_object_of(RN_STEM, h->stem);
		if (h->hitch == RN_HITCH_CHOKE || h->hitch == RN_HITCH_BASKET)
			RN_TRY(remark_sharp(s, sling, stem, h->bend_ratio,
			                    h->hitch == RN_HITCH_CHOKE ? RN_BEND_OF_CHOKE : RN_BEND_OF_BASKET));
		rn_note note = {.kind = RN_NOTE_SLING_SHORT, .a = sling, .b = stem, .c = nothing(), .value = {h->made, h->needed}};
		if (h->too_short)
			RN_TRY(rn_notes_add(s->notes_arena, s->notes, note));
	}
	return RN_OK;
}

/* ---- stems --------------------------------------------------------------------------------- */

/* From here on buckling is worth a word [-]; above the other bound the give of a stem, which leaves it out,
 * is too small to be shown without one. */
static const double slender_from = 0.1, give_buckles_from = 0.3;

static rn_status remark_stems(rn_settler *s, const rn_case_result *answer)
{
	for (int i = 0; i < s->net.model->stem_count; i++) {
		double share = answer->stems[i].buckling;
		rn_object stem = rn_object_of(RN_STEM, i);
		if (share >= 1)
			RN_TRY(say(s, RN_NOTE_STEM_BUCKLES, stem, nothing(), share));
		else if (share > give_buckles_from && rn_stem_gives(s->net.model, i))
			RN_TRY(say(s, RN_NOTE_GIVE_BUCKLES, stem, nothing(), share));
		else if (share > slender_from)
			RN_TRY(say(s, RN_NOTE_STEM_SLENDER, stem, nothing(), share));
	}
	return RN_OK;
}

rn_status rn_remarks_add(rn_settler *s, rn_case_result *answer)
{
	const rn_model *m = s->net.model;
	answer->falls = answer->unweighed = false;
	for (int i = 0; i < m->node_count; i++)
		if (m->nodes[i].kind == RN_NODE_PIECE)
			RN_TRY(remark_piece(s, i, answer));
	for (int r = 0; r < s->net.rope_count; r++) {
		RN_TRY(remark_rope(s, &s->net.ropes[r]));
		RN_TRY(remark_ends(s, &s->net.ropes[r]));
	}
	RN_TRY(remark_line_bends(s, answer));
	RN_TRY(remark_eyes(s));
	RN_TRY(remark_hitches(s, answer));
	RN_TRY(remark_stems(s, answer));
	for (int i = 0; i < answer->contact_count; i++)
		RN_TRY(say(s, RN_NOTE_PUSHES, rn_object_of(RN_NODE, answer->contacts[i].a),
		           rn_object_of(RN_NODE, answer->contacts[i].b), answer->contacts[i].push));
	return RN_OK;
}
