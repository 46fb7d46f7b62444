/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/settle.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#include "solver/base/notes.h"
#include "solver/statics/geometry.h"

rn_status rn_snapshot_create(rn_arena *arena, const rn_network *net, rn_snapshot *snapshot)
{
	RN_TAKE(arena, snapshot->place, 2 * net->model->node_count + 1);
	RN_TAKE(arena, snapshot->bend, net->stop_count + 1);
	RN_TAKE(arena, snapshot->tension, net->rope_count + 1);
	RN_TAKE(arena, snapshot->taut, net->rope_count + 1);
	RN_TAKE(arena, snapshot->push, net->contact_count + 1);
	return RN_OK;
}

/* Both unknowns of every two nodes that ever act on each other. */
static void couple(rn_settler *s, int node, int other)
{
	int row = s->net.unknown[node], column = s->net.unknown[other];
	for (int k = 0; k < 4 && row != RN_NONE && column != RN_NONE; k++)
		if (row + k / 2 >= column + k % 2)
			rn_triplets_add(&s->triplets, row + k / 2, column + k % 2, 0);
}

/* Where the stiffness can have entries, whatever is taut: bodies meet, and a guide holds, on one rope. */
static void list_pattern(rn_settler *s)
{
	const rn_network *net = &s->net;
	for (int r = 0; r < net->rope_count; r++) {
		const rn_stop *stops = net->stops + net->ropes[r].first_stop;
		for (int i = 0; i < net->ropes[r].stop_count; i++)
			for (int j = 0; j < net->ropes[r].stop_count; j++)
				couple(s, stops[i].node, stops[j].node);
	}
	for (int b = 0; b < net->bending_count; b++)
		for (int i = 0; i < net->bendings[b].node_count; i++)
			for (int j = 0; j < net->bendings[b].node_count; j++)
				couple(s, net->bendings[b].nodes[i], net->bendings[b].nodes[j]);
}

/* Entries of the full system at most: two bodies, a rope, a stem that gives, a guide couple all that they hold. */
static rn_status count_entries(const rn_network *net, int *entries_out)
{
	double entries = 8 + 25.0 * net->contact_count;
	for (int r = 0; r < net->rope_count; r++) {
		double n = 2.0 * net->ropes[r].stop_count;
		entries += n * n + 2 * n + 1;
	}
	for (int b = 0; b < net->bending_count; b++)
		entries += 4.0 * net->bendings[b].node_count * net->bendings[b].node_count;
	if (entries >= INT_MAX)
		return RN_STATUS_LIMIT;
	*entries_out = (int)entries;
	return RN_OK;
}

rn_status rn_settler_create(rn_arena *arena, const rn_model *model, const rn_options *options,
                            rn_settler *settler_out)
{
	int entries;
	rn_settler s = {.step_max = options->step_max, .stop = options->stop};
	RN_TRY(rn_network_create(arena, model, &s.net));
	RN_TRY(count_entries(&s.net, &entries));
	RN_TRY(rn_terms_create(arena, &s.net, &s.terms));
	int full = s.net.unknown_count + s.net.rope_count + s.net.contact_count;
	s.triplets.room = entries;
	RN_TAKE(arena, s.triplets.items, entries + 1);
	list_pattern(&s);
	RN_TRY(rn_symmetric_create(arena, s.net.unknown_count, s.net.half_band, &s.triplets, &s.symmetric));
	RN_TRY(rn_full_create(arena, full, entries, &s.full));
	RN_TAKE(arena, s.residual, full + 1);
	RN_TAKE(arena, s.step, full + 1);
	RN_TRY(rn_snapshot_create(arena, &s.net, &s.step_kept));
	RN_TRY(rn_snapshot_create(arena, &s.net, &s.stage_kept));
	RN_TRY(rn_snapshot_create(arena, &s.net, &s.start_kept));
	RN_TAKE(arena, s.place_drawn, 2 * model->node_count + 1);
	RN_TAKE(arena, s.densities, s.net.span_room + 1);
	RN_TAKE(arena, s.rope_unknown, s.net.rope_count + 1);
	RN_TAKE(arena, s.contact_unknown, s.net.contact_count + 1);
	*settler_out = s;
	return RN_OK;
}

/* Products a case may cost [-]: a full system of 300 unknowns takes 2.7e7 a step. A large one may take so many
 * steps all the same. */
static const double work_most = 4e8, steps_worth = 150;

bool rn_settler_spend(rn_settler *s, double work)
{
	s->work += work;
	return s->work <= fmax(work_most, steps_worth * fmax(s->symmetric.products, s->full.products));
}

static rn_status say(rn_settler *s, rn_note_kind kind, rn_object a, rn_object b, rn_object c)
{
	return rn_notes_add(s->notes_arena, s->notes, (rn_note){.kind = kind, .a = a, .b = b, .c = c});
}

/* Above so many unknowns a network is a net rather than a rigging [-]. Only these take the ways of a net; what the ways
 * of a rigging have found stays as it is to the last digit. */
enum { LARGE = 60 };

bool rn_settler_is_large(const rn_settler *s)
{
	return s->net.unknown_count > LARGE;
}

/* ---- without friction ------------------------------------------------------------------------ */

/* While a first shape is looked for no rope is stiffer than this many times the largest load [-]:
 * it then stretches by two per cent, and the valley of the energy is wide enough to walk in. */
static const double soft_stiffness = 50;

/* A prop that is let stretch and shorten so much can snap through to where it was never drawn: with
 * props the search is for the minimum near the drawing, and softness is for the last digits only [-]. */
static const double soft_stiffness_props = 1e4;

/* Whether most ropes were drawn shorter than they are, by more than this part [-]. */
static const double drawn_slack = 1e-3;

static bool is_drawn_slack(const rn_network *net)
{
	int slack = 0;
	for (int r = 0; r < net->rope_count; r++)
		slack += net->ropes[r].drawn < net->ropes[r].length0 * (1 - drawn_slack);
	return 2 * slack > net->rope_count;
}

double rn_settler_loads(const rn_settler *s)
{
	double sum = 0;
	for (int i = 0; i < s->net.model->node_count; i++)
		sum += hypot(s->net.load[2 * i], s->net.load[2 * i + 1]);
	return sum;
}

/* The load that softness goes by. A net that was drawn as it hangs need not be looked for far away: there it is all of
 * the loads, which one rope can carry where they hang on one another. */
static double soft_scale(const rn_settler *s)
{
	if (!rn_settler_is_large(s) || is_drawn_slack(&s->net))
		return s->net.load_scale;
	return fmax(rn_settler_loads(s), s->net.load_scale);
}

static double stiffest(const rn_settler *s)
{
	double most = 0;
	for (int r = 0; r < s->net.rope_count; r++)
		most = fmax(most, s->net.ropes[r].stiffness);
	return most;
}

/* A net is first tried as stiff as it is if it would be softened less than this many times, and softened at least as
 * much where that fails [-]. */
static const double softened_least = 10;

/* Over the load that softness goes by [-]. */
static double first_softness(const rn_settler *s)
{
	double most = s->net.model->prop_count > 0 ? soft_stiffness_props : soft_stiffness;
	return rn_settler_is_large(s) ? fmin(most, stiffest(s) / softened_least / soft_scale(s)) : most;
}

/* Softened ropes give a start, not an answer: this part of the load may be left over [-]. */
static const double soft_tolerance = 1e-5;

/* True if some rope is softer now than it is. */
static bool soften(rn_settler *s, double factor)
{
	double most = factor * soft_scale(s);
	rn_network_stiffen(&s->net, most);
	return stiffest(s) > most;
}

/* To the last digit, the ropes as stiff as they are; or near, while they are softened. */
static rn_ended minimise(rn_settler *s, bool softened)
{
	double near = soft_tolerance * s->net.load_scale;
	if (softened)
		return rn_minimise(s, near, near);
	return rn_minimise(s, 1e-14 * s->net.load_scale, rn_settler_tolerance(s));
}

/* Newton from here; back to where it began if it gets stuck. */
static rn_ended leap(rn_settler *s)
{
	rn_settler_keep(s, &s->stage_kept);
	rn_ended ended = rn_newton(s);
	/* Newton goes to any point of rest, also to one that props balance on */
	bool on_edge = ended == RN_ENDED_WELL && s->net.model->prop_count > 0 && rn_topple_on_edge(s);
	if (ended == RN_ENDED_STUCK || on_edge) {
		rn_settler_return(s, &s->stage_kept);
		(void)rn_settler_measure(s);
		return RN_ENDED_STUCK;
	}
	return ended;
}

/* Ten times stiffer at a time, each from the shape of the one before, until a leap succeeds. */
static rn_ended stiffen(rn_settler *s)
{
	rn_ended ended = RN_ENDED_STUCK;
	double softest = first_softness(s);
	for (double factor = softest; factor < 1e18; factor *= 10) {
		bool softened = soften(s, factor);
		ended = minimise(s, softened);
		s->stage_count++;
		if (ended != RN_ENDED_WELL && ended != RN_ENDED_STUCK)
			break;
		/* soft ropes are good to the last digit without it, unless there are many */
		bool needs_leap = softened || (factor > softest && ended == RN_ENDED_WELL) ||
		                  (ended == RN_ENDED_STUCK && rn_settler_is_large(s));
		rn_ended leapt = needs_leap ? leap(s) : RN_ENDED_STUCK;
		if (leapt != RN_ENDED_STUCK)
			return leapt;
		if (!softened)
			break;
	}
	return ended;
}

/* A net that is not found in so many steps as stiff as it is wants another way. */
enum { STIFF_STEPS = 45 };

static bool is_soft(const rn_settler *s)
{
	return stiffest(s) <= softened_least * soft_stiffness * soft_scale(s);
}

/* From where its ropes come to their lengths, or, if it is not drawn slack, from the drawing. Back to the drawing if it
 * is not found. */
static rn_ended settle_stiff(rn_settler *s)
{
	rn_ended ended = RN_ENDED_STUCK;
	int step_max = s->step_max;
	rn_settler_keep(s, &s->start_kept);
	rn_network_stiffen(&s->net, HUGE_VAL);
	bool near = rn_start_by_lengths(s);
	s->step_max = step_max < STIFF_STEPS ? step_max : STIFF_STEPS;
	if (near || (!is_drawn_slack(&s->net) && is_soft(s)))
		ended = minimise(s, false);
	s->step_max = step_max;
	s->stage_count++;
	/* the last digits of stiff ropes are in their tensions */
	if (ended == RN_ENDED_WELL && !is_soft(s) && leap(s) == RN_ENDED_STOPPED)
		ended = RN_ENDED_STOPPED;
	if (ended != RN_ENDED_WELL) {
		rn_settler_return(s, &s->start_kept);
		(void)rn_settler_measure(s);
	}
	return ended;
}

static rn_ended settle_plain(rn_settler *s, bool warm)
{
	s->net.friction_share = 0;
	rn_ended ended = warm ? leap(s) : RN_ENDED_STUCK;
	if (ended != RN_ENDED_STUCK)
		return ended;
	if (!warm && rn_settler_is_large(s)) {
		ended = settle_stiff(s);
		if (ended == RN_ENDED_WELL || ended == RN_ENDED_STOPPED)
			return ended;
	}
	(void)soften(s, first_softness(s));
	if (!warm)
		rn_start_loose(s);
	return stiffen(s);
}

/* ---- with friction --------------------------------------------------------------------------- */

/* Parts of the friction no smaller than this are brought in at a time [-]. */
static const double friction_part_least = 1.0 / 64;

static bool any_runs(const rn_network *net)
{
	bool runs = false;
	for (int r = 0; r < net->rope_count; r++)
		runs = runs || net->ropes[r].runs;
	return runs;
}

static rn_ended bring_friction(rn_settler *s)
{
	double done = 0, part = 1;
	while (done < 1) {
		rn_settler_keep(s, &s->stage_kept);
		s->net.friction_share = fmin(1, done + part);
		rn_ended ended = rn_newton(s);
		s->stage_count++;
		if (ended == RN_ENDED_STOPPED || ended == RN_ENDED_TURNED)
			return ended;
		if (ended == RN_ENDED_WELL) {
			done = s->net.friction_share;
			part *= 2;
			continue;
		}
		rn_settler_return(s, &s->stage_kept);
		part /= 2;
		if (part < friction_part_least)
			return RN_ENDED_STUCK;
	}
	return RN_ENDED_WELL;
}

/* ---- looking at what came out ---------------------------------------------------------------- */

/* How often a rope may go to the other side of one ring: there and back. */
enum { FLIPS_MOST = 2 };

/* Whether a rope that does not touch a ring runs through its opening all the same: the ring then
 * hangs on its own slings. */
static bool runs_through(const rn_settler *s, const rn_rope *rope, int stop)
{
	const rn_stop *p = &s->net.stops[stop];
	rn_vec2 centre = rn_vec2_of(&s->net.place[2 * p->node]);
	const rn_span *span = &s->net.spans[rope->first_span];
	while (span->to < stop)
		span++;
	const rn_stop *from = &s->net.stops[span->from];
	rn_vec2 d = rn_vec2_sub(centre, rn_vec2_of(&s->net.place[2 * from->node]));
	double along = rn_vec2_dot(d, span->u);
	double off = rn_vec2_cross(span->u, d) + from->side * from->radius;
	/* a hair more than the radius, for rope that lies against its tread without a bend */
	double opening = p->radius * (1 + 1e-6);
	return fabs(off) <= opening && along >= -opening && along <= span->length + opening;
}

const double rn_bend_negative = -1e-9;

/* A bend at a ring beyond this can only have been wound up on the way [rad]. */
static const double bend_most = 1.4 * RN_PI;

int rn_settler_most_pushed(const rn_settler *s, double least)
{
	int worst = RN_NONE;
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		for (int i = 1; rope->taut && rope->tension > 0 && i + 1 < rope->stop_count; i++) {
			const rn_stop *p = &s->net.stops[rope->first_stop + i];
			if (p->radius == 0 || p->lifted || rn_stop_wound(p) >= least)
				continue;
			least = rn_stop_wound(p);
			worst = rope->first_stop + i;
		}
	}
	return worst;
}

/* A rope that would have to push its ring was drawn on the wrong side of it; one that would have to on
 * both sides does not touch. One ring changes at a time: others may be pushed because of this one. */
static void look_at_sides(rn_settler *s, double least, bool *changed)
{
	int worst = rn_settler_most_pushed(s, least);
	if (worst == RN_NONE)
		return;
	*changed = true;
	rn_stop *p = &s->net.stops[worst];
	if (p->flips == FLIPS_MOST) {
		p->untouched = true;
		return;
	}
	p->flips++;
	p->side = -p->side;
	p->bend = -p->bend;
}

/* No answer has a rope that pushes, that is wound up, or that has left a ring it cannot leave. */
static bool is_no_answer(const rn_settler *s)
{
	if (rn_settler_most_pushed(s, rn_bend_negative) != RN_NONE)
		return true;
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		for (int i = 1; rope->taut && rope->tension > 0 && i + 1 < rope->stop_count; i++) {
			int stop = rope->first_stop + i;
			const rn_stop *p = &s->net.stops[stop];
			if (p->gone)
				continue;
			if (p->lifted ? p->captured && !runs_through(s, rope, stop)
			              : p->radius > 0 && p->captured && p->bend > bend_most)
				return true;
		}
	}
	return false;
}

static rn_status say_sides(rn_settler *s)
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		for (int i = 1; i + 1 < rope->stop_count; i++) {
			int stop = rope->first_stop + i;
			const rn_stop *p = &s->net.stops[stop];
			if (p->gone)
				continue;
			if (p->lifted && rope->tension > 0)
				RN_TRY(say(s, RN_NOTE_LIFTED_OFF, rope->member, rn_stop_object(&s->net, stop), none));
			else if (p->radius > 0 && p->side_drawn == -p->side)
				RN_TRY(say(s, RN_NOTE_SIDE_CHANGED, rope->member, rn_stop_object(&s->net, stop), none));
		}
	}
	return RN_OK;
}

/* An end nearer to a tread than this many of its radii has been drawn up to it [-]. */
static const double at_tread_distance = 1.05;

static double distance_between(const rn_settler *s, int stop, int other)
{
	const double *a = &s->net.place[2 * s->net.stops[stop].node];
	const double *b = &s->net.place[2 * s->net.stops[other].node];
	return hypot(a[0] - b[0], a[1] - b[1]);
}

/* The tread next to an end of a rope; RN_NONE if there is none. */
static int next_to_end(const rn_rope *rope, int last, int *end_out)
{
	*end_out = rope->first_stop + (last ? rope->stop_count - 1 : 0);
	return !rope->bends ? RN_NONE : last ? *end_out - 1 : *end_out + 1;
}

static bool is_drawn_up(const rn_settler *s, int end, int stop)
{
	return distance_between(s, stop, end) <= at_tread_distance * s->net.stops[stop].tread_radius;
}

/* A tread alone on its rope is next to both ends. */
static bool is_near_an_end(const rn_settler *s, const rn_rope *rope, int stop)
{
	bool near = false;
	for (int last = 0; last < 2; last++) {
		int end;
		if (next_to_end(rope, last, &end) == stop)
			near = near || is_drawn_up(s, end, stop);
	}
	return near;
}

/* The tread next to the end of a rope becomes a point once the end has reached it, and a tread again
 * if it turns out that the end only came by on the way. */
static void look_at_ends(rn_settler *s, bool settled, bool *changed)
{
	for (int k = 0; k < 2 * s->net.rope_count; k++) {
		int end, next = next_to_end(&s->net.ropes[k / 2], k % 2, &end);
		if (next == RN_NONE)
			continue;
		rn_stop *p = &s->net.stops[next];
		bool near = is_near_an_end(s, &s->net.ropes[k / 2], next);
		if (settled ? !p->at_tread || near : p->radius == 0 || !near)
			continue;
		*changed = true;
		p->at_tread = !settled;
		p->radius = settled ? p->tread_radius : 0;
		p->bend = fabs(p->bend);
	}
}

static rn_status say_ends(rn_settler *s)
{
	for (int k = 0; k < 2 * s->net.rope_count; k++) {
		const rn_rope *rope = &s->net.ropes[k / 2];
		int end, next = next_to_end(rope, k % 2, &end);
		if (next != RN_NONE && s->net.stops[next].at_tread && is_drawn_up(s, end, next))
			RN_TRY(say(s, RN_NOTE_AT_TREAD, rope->member, rn_stop_object(&s->net, next),
			           rn_stop_object(&s->net, end)));
	}
	return RN_OK;
}

/* ---- the whole ----------------------------------------------------------------------------- */

/* Rounds of looking and settling again: every change can happen once to each stop. */
enum { ROUNDS_MOST = 40 };

/* Lengths below which a span counts as none, from coarse to fine [-], times the drawing. At the last
 * one a span of metres changes by less than its rounding, and finer ones lose its direction. */
static const double smoothings[] = {1e-2, 1e-3, 1e-4, 1e-5, 1e-6};

static rn_ended settle_smoothed(rn_settler *s)
{
	rn_ended ended = RN_ENDED_STUCK;
	for (size_t i = 0; i < sizeof smoothings / sizeof *smoothings; i++) {
		s->net.smoothing = smoothings[i] * s->net.size;
		ended = settle_plain(s, i > 0);
		if (ended == RN_ENDED_FALLING || ended == RN_ENDED_STOPPED || ended == RN_ENDED_TURNED)
			break;
	}
	return ended;
}

static rn_ended settle_once(rn_settler *s, bool warm)
{
	if (warm && any_runs(&s->net)) {
		s->net.friction_share = 1;
		rn_ended ended = leap(s);
		if (ended != RN_ENDED_STUCK)
			return ended;
	}
	rn_ended ended = settle_plain(s, warm);
	if (ended == RN_ENDED_WELL && any_runs(&s->net))
		ended = bring_friction(s);
	return ended;
}

static rn_status settle_rounds(rn_settler *s, bool warm, rn_ended *ended_out)
{
	for (int round = 0; round < ROUNDS_MOST; round++) {
		bool changed = false;
		*ended_out = settle_once(s, warm || round > 0);
		if (*ended_out == RN_ENDED_STOPPED)
			return s->stopped_by;
		if (*ended_out == RN_ENDED_FALLING)
			return RN_OK;
		if (*ended_out == RN_ENDED_TURNED) {
			look_at_sides(s, 0, &changed);
			if (changed)
				continue;
			*ended_out = RN_ENDED_STUCK;
		}
		if (*ended_out == RN_ENDED_WELL)
			look_at_sides(s, rn_bend_negative, &changed);
		if (!changed)
			look_at_ends(s, *ended_out == RN_ENDED_WELL, &changed);
		if (!changed && *ended_out == RN_ENDED_STUCK && s->net.smoothing == 0) {
			*ended_out = settle_smoothed(s);
			changed = *ended_out == RN_ENDED_WELL && any_runs(&s->net);
			if (*ended_out == RN_ENDED_WELL)
				look_at_ends(s, true, &changed);
		}
		if (!changed)
			break;
	}
	if (*ended_out == RN_ENDED_WELL && is_no_answer(s))
		*ended_out = RN_ENDED_STUCK;
	return RN_OK;
}

/* ---- from points ----------------------------------------------------------------------------- */

/* Parts of their treads that rings are given one after the other [-]. */
static const double tread_parts[] = {0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1};

/* Each ring takes the side to which the rope turns at it. */
static void take_sides(rn_settler *s)
{
	for (int i = 0; i < s->net.stop_count; i++) {
		rn_stop *stop = &s->net.stops[i];
		stop->flips = 0;
		stop->untouched = stop->gone;
	}
	/* a point has the side it turns to already, and its bend */
	(void)rn_settler_measure(s);
}

static bool any_overlap(rn_network *net)
{
	bool overlap = false;
	net->bodiless = false;
	for (int i = 0; i < net->contact_count; i++) {
		rn_gap gap = rn_contact_gap(net, &net->contacts[i]);
		overlap = overlap || (net->contacts[i].exists && (!gap.exists || gap.gap < 0));
	}
	return overlap;
}

static rn_ended settle_points(rn_settler *s, bool bodiless)
{
	rn_network *net = &s->net;
	memcpy(net->place, s->place_drawn, 2 * (size_t)net->model->node_count * sizeof(double));
	net->smoothing = 0;
	net->bodiless = bodiless;
	for (int r = 0; r < net->rope_count; r++)
		net->ropes[r].taut = net->ropes[r].pushes;
	for (int i = 0; i < net->contact_count; i++)
		net->contacts[i].touching = false;
	rn_network_grow_treads(net, 0);
	rn_topple_nudge(s);
	take_sides(s);
	rn_ended ended = settle_plain(s, false);
	return ended == RN_ENDED_STUCK && !bodiless ? settle_smoothed(s) : ended;
}

/* Rings as points have no sides, cannot be wound round and need not meet: their shape is the one
 * minimum of a convex energy, found from any start. From there treads grow, and sides follow from the
 * load, not from a drawing that may have been far from it. Only if the points come so near to each
 * other that their bodies would overlap do the bodies push from the start. */
static rn_status settle_from_points(rn_settler *s, rn_ended *ended_out)
{
	*ended_out = settle_points(s, true);
	if (*ended_out != RN_ENDED_WELL || any_overlap(&s->net))
		*ended_out = settle_points(s, false);
	for (size_t i = 0; i < sizeof tread_parts / sizeof *tread_parts; i++) {
		if (*ended_out != RN_ENDED_WELL)
			return RN_OK;
		take_sides(s);
		rn_network_grow_treads(&s->net, tread_parts[i]);
		RN_TRY(settle_rounds(s, true, ended_out));
	}
	return RN_OK;
}

static bool has_rings(const rn_network *net)
{
	for (int i = 0; i < net->stop_count; i++)
		if (net->stops[i].captured && net->stops[i].tread_radius > 0)
			return true;
	return false;
}

/* `force` [N] at a node. */
static rn_status say_left_over(rn_settler *s, int node, double force)
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	rn_note note = {.kind = RN_NOTE_NOT_FOUND, .a = rn_object_of(RN_NODE, node), .b = none, .c = none, .value = {force}};
	return rn_notes_add(s->notes_arena, s->notes, note);
}

/* The node with most left over, for the answer that nothing was found. */
static rn_status explain_stuck(rn_settler *s)
{
	int worst = 0;
	double most = -1;
	(void)rn_settler_measure(s);
	(void)rn_newton_assemble(s);
	for (int i = 0; i + 1 < s->net.unknown_count; i += 2) {
		double left = hypot(s->residual[i], s->residual[i + 1]);
		if (left > most) {
			most = left;
			worst = s->net.order[i / 2];
		}
	}
	return say_left_over(s, worst, fmax(most, 0) * s->net.load_scale);
}

/* Ropes on curves change the parts they lie on all at once at first, then one by one, since several that
 * change together can chase each other for ever. */
enum { PARTS_AT_ONCE = 15, PARTS_MOST = 200 };

/* Everything that can be tried, and what only shows once it is found. */
static rn_status find_rest(rn_settler *s, bool warm, rn_ended *ended_out)
{
	for (int i = 0; i < s->net.model->node_count; i++)
		rn_node_drawn(s->net.model, s->net.values, i, &s->place_drawn[2 * i]);
	if (!warm)
		rn_topple_nudge(s);
	RN_TRY(settle_rounds(s, warm, ended_out));
	if (*ended_out == RN_ENDED_STUCK && has_rings(&s->net))
		RN_TRY(settle_from_points(s, ended_out));
	for (int i = 0; *ended_out == RN_ENDED_WELL && rn_network_follow_curves(&s->net, i > PARTS_AT_ONCE);
	     i++) {
		if (i == PARTS_MOST)
			*ended_out = RN_ENDED_STUCK;
		else
			RN_TRY(settle_rounds(s, true, ended_out));
	}
	if (*ended_out == RN_ENDED_WELL && s->net.model->prop_count > 0) {
		s->toppled = rn_topple_check(s, s->place_drawn);
		*ended_out = s->toppled == RN_NONE ? RN_ENDED_WELL : RN_ENDED_TOPPLED;
	}
	return RN_OK;
}

/* What happens instead of coming to rest. */
static rn_status explain(rn_settler *s, rn_ended ended, rn_outcome *outcome_out)
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	*outcome_out = RN_OUTCOME_NO_EQUILIBRIUM;
	if (ended == RN_ENDED_FALLING)
		return rn_existence_explain(s);
	if (ended == RN_ENDED_TOPPLED)
		return say(s, RN_NOTE_TOPPLES, s->net.ropes[s->toppled].member, none, none);
	*outcome_out = RN_OUTCOME_NOT_FOUND;
	return explain_stuck(s);
}

rn_status rn_settle(rn_settler *s, bool warm, rn_outcome *outcome_out)
{
	bool holds;
	int undrawn = rn_network_undrawn(&s->net);
	rn_ended ended = RN_ENDED_WELL;
	s->step_count = s->stage_count = 0;
	s->work = s->full.products = 0;
	s->stopped_by = RN_STATUS_STOPPED;
	*outcome_out = RN_OUTCOME_NO_EQUILIBRIUM;
	RN_TRY(rn_existence_check(s, &holds));
	if (!holds)
		return RN_OK;
	if (undrawn != RN_NONE) { /* nobody knows how long it is: it holds nothing */
		*outcome_out = RN_OUTCOME_NOT_FOUND;
		return say_left_over(s, s->net.stops[s->net.ropes[undrawn].first_stop].node, s->net.load_scale);
	}
	*outcome_out = RN_OUTCOME_SETTLED;
	if (s->net.load_scale == 0) { /* nothing pulls: it stays as drawn */
		(void)rn_settler_measure(s);
		return RN_OK;
	}
	RN_TRY(find_rest(s, warm, &ended));
	if (ended == RN_ENDED_STOPPED)
		return s->stopped_by;
	if (ended != RN_ENDED_WELL)
		return explain(s, ended, outcome_out);
	RN_TRY(say_sides(s));
	return say_ends(s);
}
