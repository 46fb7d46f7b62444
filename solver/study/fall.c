/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A piece that falls and is caught. It is lowered by a guide from where its lines begin to hold, free to swing
 * in under its block, and at each height the rigging settles with its rope running toward the piece. What it
 * then pulls up with is F(y); the piece stops at the first y* at which the work of the rigging is that of the
 * weight,
 *
 *     integral from y* to y_0 of F dy = W (y_r - y*),   F > W          y_r let go, y_0 lines begin to hold
 *
 * Kinetic energy is nothing at either end, and what is between does not matter as long as the rigging keeps up,
 * which is what "quasi-static" means. The swing itself is not computed. The work is
 * what is stored plus the heat of friction (energy.h), which are summed apart as a proof.
 */
#include <float.h>
#include <math.h>
#include <string.h>

#include "solver/base/notes.h"
#include "solver/base/roots.h"
#include "solver/model/place.h"
#include "solver/model/timber.h"
#include "solver/study/fall.h"

/* A piece that goes so many sizes of the drawing deeper than where its lines begin to hold is not stopped [-]. */
static const double depth_most = 100;

/* Friction that rope would have gained by running back over a through, as a part of the work of the fall [-].
 * A ring turns to its rope as that draws taut, and rope slides back over it while it carries next to nothing; more
 * than this is no such thing. What there is of it makes the peak a little too high. */
static const double back_most = 0.25, back_said = 0.01;

/* Where two settlings end alike, their pulls do to this part of the weight [-]. */
static const double same_force = 1e-6;

/* A guide along a plumb line holds at most this part of the weight sideways [-]. */
static const double guide_most = 0.1;

/* A steady pull across on the falling piece, as of a tag line or wind, that is left alone [-]: with nothing else to hold
 * it a slack line lets it go aside as far as it reaches, so that its work, this part of the weight over some lengths of
 * the fall, is gone from the catch. */
static const double sideways_most = 0.01;

/* More than this part of its fall, and than this length [m], is a swing that is worth a word. */
static const double swing_share = 0.25, swing_least = 0.25;

/* Steps of one path. */
enum { STEPS_MOST = 4000 };

/* Lines hold nothing to speak of while they carry less than this part of the weight, as where a ring's own weight
 * keeps them taut [-]. */
static const double holds_worth = 0.02;

/* What ropes may store where the piece is let go, as a part of the work of the fall to where its lines begin to hold
 * [-]: less than is said of a jump. */
static const double taut_most = 1e-3;

/* What is lost or gained where something snaps over is said from here on, as a part of the work of the fall [-]. */
static const double jump_said = 0.005;

/* ---- the peak -------------------------------------------------------------------------------- */

/* Work of the rigging less work of the weight, at a part of a step [J]. */
typedef struct balance_at {
	const rn_catch *c;
	const rn_fall_step *step;
} balance_at;

static double left_of_energy(double s, void *context)
{
	const balance_at *b = context;
	double height, work;
	rn_fall_step_at(b->step, s, &height, &work);
	return work - b->c->weight * (b->c->released - height);
}

static bool is_past(const rn_catch *c, const rn_fall_step *step)
{
	const int last = RN_FALL_NODES - 1;
	return step->force[last] > c->weight && left_of_energy(1, &(balance_at){c, step}) >= 0;
}

/* The part of a step at which the piece stops. */
static rn_status find_part(const rn_catch *c, const rn_fall_step *step, double *part_out)
{
	balance_at b = {c, step};
	return rn_root_between(left_of_energy, &b, 0, 1, 4 * DBL_EPSILON, part_out);
}

static rn_object none(void)
{
	return rn_object_of(RN_NODE, RN_NONE);
}

static rn_note note_of(const rn_catch *c, rn_note_kind kind, double value)
{
	return (rn_note){.kind = kind, .a = c->fall->piece, .b = none(), .c = none(), .value = {value}};
}

/* What became of it instead of a stop. */
static rn_status fail(rn_catch *c, rn_note note, rn_outcome outcome)
{
	c->failed = true;
	c->failure = note;
	c->outcome = outcome;
	return RN_OK;
}

static rn_status fail_lost(rn_catch *c)
{
	double height = c->step_count > 0 ? c->steps[c->step_count - 1].height[RN_FALL_NODES - 1] : c->height;
	return fail(c, note_of(c, RN_NOTE_FALL_LOST, c->released - height), RN_OUTCOME_NOT_FOUND);
}

static rn_status fail_deep(rn_catch *c)
{
	if (c->step_count == 0 && (c->slips == RN_NONE || c->locked))
		return fail_lost(c);
	if (c->slips != RN_NONE && !c->locked)
		return fail(c, (rn_note){.kind = RN_NOTE_FALL_RUNS_AWAY, .a = c->fall->piece,
		                         .b = rn_object_of(RN_LINE, c->model->stations[c->slips].line), .c = none(),
		                         .value = {c->slips_at, rn_lowering_run_out(c)}},
		            RN_OUTCOME_NO_EQUILIBRIUM);
	return fail(c, note_of(c, RN_NOTE_FALL_UNCAUGHT, c->released - c->height), RN_OUTCOME_NO_EQUILIBRIUM);
}

static rn_note back_note(const rn_catch *c, int back_at)
{
	const rn_stop *stop = &rn_lowering_network(c)->stops[back_at];
	int line = stop->station == RN_NONE ? RN_NONE : c->model->stations[stop->station].line;
	return (rn_note){.kind = RN_NOTE_FALL_BACKWARD, .a = rn_object_of(RN_LINE, line),
	                 .b = rn_object_of(RN_NODE, stop->node), .c = c->fall->piece};
}

/* The step in which the piece stops, the path drawn out as far as that takes; RN_NONE when it does not. */
static rn_status find_step(rn_catch *c, int *step_out)
{
	bool found = true;
	*step_out = RN_NONE;
	for (int i = 0; i < STEPS_MOST; i++) {
		if (i == c->step_count) {
			RN_TRY(rn_lowering_extend(c, &found));
			if (!found)
				return c->step_count > 0 ? fail_lost(c) : fail_deep(c);
		}
		if (is_past(c, &c->steps[i])) {
			*step_out = i;
			return RN_OK;
		}
		if (c->steps[0].height[0] - c->steps[i].height[RN_FALL_NODES - 1] > depth_most * rn_lowering_network(c)->size)
			return fail_deep(c);
	}
	return fail_lost(c);
}

/* ---- what became of it ------------------------------------------------------------------------- */

static double value_of(const rn_catch *c, rn_attribute attribute, double absent)
{
	return rn_model_value(c->model, c->values, rn_object_of(RN_FALL, c->of->fall), attribute, absent);
}

static rn_status keep_path(rn_catch *c, int step_count, rn_caught *caught)
{
	RN_TAKE(c->arena, caught->path, step_count + 3);
	double begin_across = c->begin_across;
	caught->path[caught->path_count][0] = c->released_across;
	caught->path[caught->path_count++][1] = c->released;
	caught->path[caught->path_count][0] = begin_across;
	caught->path[caught->path_count++][1] = c->steps ? c->steps[0].height[0] : c->height;
	for (int i = 0; i < step_count; i++) {
		caught->path[caught->path_count][0] = c->steps[i].across;
		caught->path[caught->path_count++][1] = c->steps[i].height[RN_FALL_NODES - 1];
	}
	caught->path[caught->path_count][0] = c->across;
	caught->path[caught->path_count++][1] = c->height;
	return RN_OK;
}

static void keep_energy(rn_catch *c, double work, double heat, rn_caught *caught)
{
	rn_stored now = c->stored, before = c->stored_before;
	caught->given = c->weight * caught->travel;
	caught->in_ropes = now.ropes - before.ropes;
	caught->in_stems = now.stems - before.stems;
	caught->in_bodies = now.bodies - before.bodies;
	caught->raised = now.raised - before.raised;
	caught->in_hands = now.hands - before.hands;
	caught->in_friction = heat;
	/* a line that slips keeps what it would have taken for its whole length from the beginning */
	double sum = rn_stored_sum(&now) - rn_stored_sum(&before) + heat;
	caught->left_over = (work - sum + c->jumped) / fmax(caught->given, work);
	caught->jumped = c->jumped;
	caught->snaps = c->jumped != 0 ? c->snaps : RN_NONE;
}

static double lowest_of(const rn_catch *c)
{
	const double *place = rn_lowering_network(c)->place;
	return fmin(place[2 * c->guide.nodes[0] + 1], place[2 * c->guide.nodes[1] + 1]) -
	       value_of(c, RN_ATTRIBUTE_BELOW, 0);
}

/* Where its lines begin to hold what is worth a word. */
static double begins_at(const rn_catch *c)
{
	for (int i = 0; i < c->step_count; i++)
		for (int k = 1; k < RN_FALL_NODES; k++) {
			const rn_fall_step *step = &c->steps[i];
			double rise = step->force[k] - step->force[k - 1], lacks = holds_worth * c->weight - step->force[k - 1];
			if (lacks <= 0)
				return step->height[k - 1];
			if (lacks <= rise)
				return step->height[k - 1] + (step->height[k] - step->height[k - 1]) * lacks / rise;
		}
	return c->height;
}

/* Fills what can be read off the state in which the piece has stopped. */
static void describe(const rn_catch *c, rn_caught *caught)
{
	*caught = (rn_caught){.fall = c->of->fall, .slips = c->locked ? RN_NONE : c->slips, .snaps = RN_NONE};
	caught->weight = c->weight;
	caught->peak = c->force;
	caught->released = c->released;
	caught->begins = begins_at(c);
	caught->height = c->height;
	caught->travel = c->released - c->height;
	caught->across = c->across - c->released_across;
	caught->lowest = lowest_of(c);
	caught->clear = caught->clear_most = c->released - caught->lowest;
	caught->side = rn_guide_side(rn_lowering_network(c));
	if (caught->slips == RN_NONE)
		return;
	caught->slips_at = c->slips_at;
	caught->run_out = rn_lowering_run_out(c);
}

/* Settles at the peak itself, with the step to it walked once more for its heat. */
static rn_status finish(rn_catch *c, int index, double part, rn_caught *caught, bool *found)
{
	const rn_fall_step *step = &c->steps[index];
	if (!c->left && index + 1 == c->step_count)
		rn_lowering_back(c, RN_MARK_STEP); /* to where this step, the last, began */
	c->left = true;
	RN_TRY(rn_lowering_begin(c, step->rest, found));
	*found = *found && fabs(c->force - step->force[0]) <= same_force * c->weight;
	if (*found)
		RN_TRY(rn_lowering_walk(c, step->rest, step->down * part, found));
	if (!*found)
		return RN_OK;
	describe(c, caught);
	keep_energy(c, step->work + rn_lowering_work(c, 1), step->heat + rn_lowering_heat(c, c->unused), caught);
	return keep_path(c, index, caught);
}

/* ---- beginning --------------------------------------------------------------------------------- */

static void make_guide(rn_catch *c)
{
	rn_object piece = c->fall->piece;
	rn_guide *g = &c->guide;
	*g = (rn_guide){.nodes = {piece.index, piece.index}, .share = {1, 0}, .plumb = c->fall->guided};
	if (piece.kind == RN_PROP) {
		const rn_prop *bar = &c->model->props[piece.index];
		g->nodes[0] = bar->from;
		g->nodes[1] = bar->to;
		g->share[0] = rn_prop_share(c->model, c->values, piece.index);
		g->share[1] = 1 - g->share[0];
	}
}

/* Stiffness of the guide over that of what holds the piece [-]. So soft that a rigging which lets the piece down
 * while its pull grows, as a ring does that swings up to its rope, does not jump; so stiff that a line which slips at
 * one pull is held. */
static const double guide_soft = 0.03;

static double guide_stiffness(const rn_catch *c)
{
	const rn_network *net = rn_lowering_network(c);
	double sum = rn_lowering_weight(c) / net->size;
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		const rn_stop *first = &net->stops[rope->first_stop], *last = first + rope->stop_count - 1;
		bool holds = first->node == c->guide.nodes[0] || last->node == c->guide.nodes[0] ||
		             first->node == c->guide.nodes[1] || last->node == c->guide.nodes[1];
		if (holds && !rope->pushes && !rope->gone)
			sum = fmax(sum, rope->stiffness / rope->length0);
	}
	return guide_soft * sum;
}

/* The line that carries load and whose stretch nobody knows anything of, RN_NONE if there is none. */
static int line_without_stretch(const rn_model *m, const rn_case_result *answer)
{
	for (int i = 0; i < m->guesses.count; i++) {
		const rn_note *note = &m->guesses.items[i];
		for (int s = 0; note->kind == RN_NOTE_GUESS_STIFFNESS_NONE && s < answer->span_count; s++) {
			const rn_span_result *span = &answer->spans[s];
			if (span->member.kind != RN_LINE || span->tension <= 0)
				continue;
			bool own = note->a.kind == RN_LINE && note->a.index == span->member.index;
			bool gear = note->a.kind == RN_ITEM && note->a.index == m->lines[span->member.index].gear;
			if (own || gear)
				return span->member.index;
		}
	}
	return RN_NONE;
}

/* Where the line slips, from what the fall or the hold says; locked for good where neither does. */
static void find_slip(rn_catch *c)
{
	const rn_model *m = c->model;
	c->slips = rn_fall_hold(m, c->of->fall);
	c->slips_at = HUGE_VAL;
	if (c->slips == RN_NONE)
		return;
	if (c->slip_asked > 0) {
		c->slips_at = c->slip_asked;
		return;
	}
	double hand = rn_model_value(m, c->values, rn_object_of(RN_STATION, c->slips), RN_ATTRIBUTE_PULL, HUGE_VAL);
	hand = value_of(c, RN_ATTRIBUTE_HAND, hand);
	const rn_network *net = rn_lowering_network(c);
	for (int i = 0; i < net->stop_count; i++)
		if (net->stops[i].station == c->slips && !net->stops[i].through)
			c->slips_at = hand * exp(rn_network_turned(net, i));
}

/* With the line locked and nobody's hand on the piece it hangs somewhere: from there the path is found. */
static rn_status settle_hanging(rn_catch *c, const rn_case_result **hanging_out)
{
	memset(c->hold_pull, 0, (size_t)c->model->station_count * sizeof *c->hold_pull);
	int hold = rn_fall_hold(c->model, c->of->fall);
	if (hold != RN_NONE)
		c->hold_pull[hold] = -1;
	RN_TRY(rn_workspace_settle(c->workspace, c->of, c->values, false, hanging_out));
	find_slip(c);
	rn_lowering_lock(c, true);
	return RN_OK;
}

static rn_status take_room(rn_catch *c)
{
	int stops = rn_lowering_network(c)->stop_count;
	int terms = RN_HEAT_TERMS_OF_STOP * stops;
	RN_TAKE(c->arena, c->hold_pull, c->model->station_count + 1);
	RN_TAKE(c->arena, c->terms, terms + 1);
	RN_TAKE(c->arena, c->term_a, terms * RN_FALL_NODES + 1);
	RN_TAKE(c->arena, c->term_b, terms * RN_FALL_NODES + 1);
	RN_TAKE(c->arena, c->back, stops + 1);
	RN_TAKE(c->arena, c->unused, stops + 1);
	return RN_OK;
}

/* Where it is let go, from the drawing. */
static void find_release(rn_catch *c)
{
	double drawn[2][2];
	for (int k = 0; k < 2; k++)
		rn_node_drawn(c->model, c->values, c->guide.nodes[k], drawn[k]);
	c->released_across = c->guide.share[0] * drawn[0][0] + c->guide.share[1] * drawn[1][0];
	c->released = c->guide.share[0] * drawn[0][1] + c->guide.share[1] * drawn[1][1] + value_of(c, RN_ATTRIBUTE_DROP, 0);
	c->guide.across = c->released_across;
}

/* The rope that stores most, as an object. */
static rn_object tautest(const rn_catch *c)
{
	const rn_network *net = rn_lowering_network(c);
	rn_object most = none();
	double stored = 0;
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		double energy = rope->taut && !rope->pulled ? rope->tension * fabs(rope->length - rope->length0) : 0;
		if (energy > stored) {
			stored = energy;
			most = rope->member;
		}
	}
	return most;
}

/* The path begins below where the piece is let go, and between the two nothing holds it. That is not so where a rope
 * is taut at the very place: it reaches no farther than below it, or down to the ground. The piece is held there by a
 * stiff guide, and what ropes store is looked at. */
static rn_status look_where_let_go(rn_catch *c, rn_object *taut_out)
{
	rn_guide path = c->guide;
	double slack = c->weight * (c->released - c->height), begun = c->stored.ropes;
	bool found;
	*taut_out = none();
	if (slack <= taut_most * c->energy_scale)
		return RN_OK;
	rn_lowering_mark(c, RN_MARK_CLIMB);
	c->guide.plumb = true;
	c->guide.stiffness *= 10 / guide_soft;
	RN_TRY(rn_lowering_settle(c, rn_lowering_rest(c, c->released, 0), &found));
	if (found && rn_network_stored(rn_lowering_network(c)).ropes - begun > taut_most * slack)
		*taut_out = tautest(c);
	c->guide = path;
	rn_lowering_back(c, RN_MARK_CLIMB);
	RN_TRY(rn_lowering_begin(c, c->rest, &found));
	return RN_OK;
}

/* What pulls the piece across whether it falls or hangs: its loads, and ropes in hands that pull as they are told [N]. */
static double pulled_across(const rn_catch *c)
{
	const rn_network *net = rn_lowering_network(c);
	const int *piece = c->guide.nodes;
	double across = net->load[2 * piece[0]] + (piece[1] == piece[0] ? 0 : net->load[2 * piece[1]]);
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		const rn_stop *first = &net->stops[rope->first_stop], *last = first + rope->stop_count - 1;
		const rn_span *spans = net->spans + rope->first_span, *end = spans + rope->span_count - 1;
		if (!rope->pulled || !rope->taut || rope->gone)
			continue;
		if (first->node == piece[0] || first->node == piece[1])
			across += rope->tension * spans->u.x;
		if (last->node == piece[0] || last->node == piece[1])
			across -= rope->tension * end->share * end->u.x;
	}
	return across;
}

static rn_status begin_path(rn_catch *c)
{
	bool found;
	find_release(c);
	c->weight = c->path_weight = rn_lowering_weight(c);
	if (!(c->weight > 0))
		return fail(c, note_of(c, RN_NOTE_FALL_WEIGHTLESS, 0), RN_OUTCOME_NOT_FOUND);
	double across = fabs(pulled_across(c));
	if (across > sideways_most * c->weight && !c->fall->guided)
		return fail(c, note_of(c, RN_NOTE_FALL_SIDEWAYS, across), RN_OUTCOME_NOT_FOUND);
	c->guide.stiffness = guide_stiffness(c);
	c->height = rn_guide_height(rn_lowering_network(c));
	c->across = rn_guide_across(rn_lowering_network(c));
	c->force = c->weight; /* it hangs */
	c->energy_scale = c->weight * fmax(c->released - c->height, 1e-3 * rn_lowering_network(c)->size);
	c->stays = c->height >= c->released;
	if (c->stays)
		return RN_OK;
	RN_TRY(rn_lowering_find_beginning(c, &found));
	if (!found)
		return fail(c, note_of(c, RN_NOTE_FALL_LOST, 0), RN_OUTCOME_NOT_FOUND);
	rn_object taut;
	RN_TRY(look_where_let_go(c, &taut));
	if (taut.index != RN_NONE)
		return fail(c, (rn_note){.kind = RN_NOTE_FALL_TAUT, .a = c->fall->piece, .b = taut, .c = none()},
		            RN_OUTCOME_NOT_FOUND);
	c->stored_before = c->stored;
	c->begin_across = c->across;
	c->down = 1e-2 * rn_lowering_network(c)->size;
	return RN_OK;
}

rn_status rn_catch_begin(rn_arena *arena, rn_workspace *w, const rn_model *model, const rn_case *of,
                         const double *values, double slip_asked, rn_catch *c, const rn_case_result **hanging_out)
{
	*c = (rn_catch){.slip_asked = slip_asked, .arena = arena, .workspace = w, .model = model, .of = of, .values = values,
	                .fall = &model->falls[of->fall], .slips = RN_NONE};
	const rn_unsure *outer = rn_lowering_network(c)->unsure;
	RN_TRY(take_room(c));
	c->unsure = outer ? *outer : (rn_unsure){0};
	c->unsure.hold_pull = c->hold_pull;
	c->outer = outer;
	rn_workspace_unsure(w, &c->unsure);
	make_guide(c);
	RN_TRY(settle_hanging(c, hanging_out));
	c->hangs = rn_case_holds(*hanging_out);
	if (!c->hangs)
		return RN_OK;
	int unknown = line_without_stretch(model, *hanging_out);
	if (unknown != RN_NONE)
		return fail(c, (rn_note){.kind = RN_NOTE_FALL_NO_STRETCH, .a = rn_object_of(RN_LINE, unknown), .b = none(),
		                         .c = none()},
		            RN_OUTCOME_NOT_FOUND);
	rn_workspace_guide(w, &c->guide);
	return begin_path(c);
}

void rn_catch_end(rn_catch *c)
{
	if (!c->workspace) /* never begun */
		return;
	rn_workspace_guide(c->workspace, NULL);
	rn_workspace_unsure(c->workspace, c->outer);
}

/* ---- the answer -------------------------------------------------------------------------------- */

static rn_status hand_out_failure(rn_catch *c, const rn_case_result **result_out)
{
	rn_caught caught = {.fall = c->of->fall, .slips = RN_NONE, .snaps = RN_NONE, .weight = c->weight, .released = c->released};
	rn_workspace_guide(c->workspace, NULL);
	RN_TRY(rn_workspace_settle(c->workspace, c->of, c->values, false, result_out));
	rn_workspace_forget_notes(c->workspace);
	rn_workspace_caught(c->workspace, &caught, c->outcome);
	return rn_workspace_note(c->workspace, c->failure);
}

/* The line holds it where it is let go: it only hangs. */
static rn_status hand_out_hanging(rn_catch *c, const rn_case_result **result_out)
{
	rn_caught caught = {.fall = c->of->fall, .slips = RN_NONE, .snaps = RN_NONE, .weight = c->weight, .peak = c->weight,
	                    .released = c->released, .begins = c->released, .height = c->height};
	rn_lowering_lock(c, true);
	RN_TRY(keep_path(c, 0, &caught));
	rn_workspace_guide(c->workspace, NULL);
	RN_TRY(rn_workspace_settle(c->workspace, c->of, c->values, false, result_out));
	caught.lowest = lowest_of(c);
	caught.clear = caught.clear_most = fmax(0, c->released - caught.lowest);
	rn_workspace_caught(c->workspace, &caught, (*result_out)->outcome);
	return rn_workspace_note(c->workspace, note_of(c, RN_NOTE_FALL_STAYS, 0));
}

/* The through over which most rope ran the wrong way. */
static int ran_back(const rn_catch *c)
{
	int most = 0;
	for (int i = 1; i < rn_lowering_network(c)->stop_count; i++)
		most = c->back[i] > c->back[most] ? i : most;
	return most;
}

int rn_fall_ground(const rn_model *m, const double *values, const rn_caught *caught, double *below_out)
{
	double across = caught->path[caught->path_count - 1][0], nearest = HUGE_VAL, foot[2] = {0, 0}, thick;
	int stem = RN_NONE;
	for (int i = 0; i < m->stem_count; i++) {
		double axis[2];
		if (m->stems[i].on != RN_NONE)
			continue;
		rn_stem_at(m, values, i, 0, axis, &thick);
		if (fabs(axis[0] - across) >= nearest)
			continue;
		nearest = fabs(axis[0] - across);
		memcpy(foot, axis, sizeof foot);
		stem = i;
	}
	*below_out = foot[1] - caught->lowest;
	return *below_out > 0 ? stem : RN_NONE;
}

int rn_fall_breaks(const rn_case_result *answer)
{
	double most = 1;
	int part = RN_NONE;
	for (int i = 0; i < answer->part_count; i++) {
		const rn_part_result *p = &answer->parts[i];
		if (p->breaking <= 0 || p->demand <= most * p->breaking)
			continue;
		most = p->demand / p->breaking;
		part = i;
	}
	return part;
}

/* What happens to it that is not in the numbers. */
static rn_status say_otherwise(rn_catch *c, const rn_caught *caught, const rn_case_result *answer)
{
	double below, across = fabs(caught->across);
	int part = rn_fall_breaks(answer), stem = rn_fall_ground(c->model, c->values, caught, &below);
	if (part != RN_NONE) {
		rn_note note = note_of(c, RN_NOTE_FALL_BREAKS, answer->parts[part].breaking);
		note.b = answer->parts[part].object;
		RN_TRY(rn_workspace_note(c->workspace, note));
	}
	if (stem != RN_NONE) {
		rn_note note = note_of(c, RN_NOTE_FALL_GROUND, below);
		note.b = rn_object_of(RN_STEM, stem);
		RN_TRY(rn_workspace_note(c->workspace, note));
	}
	if (across <= fmax(swing_least, swing_share * caught->travel))
		return RN_OK;
	return rn_workspace_note(c->workspace, note_of(c, RN_NOTE_FALL_SWINGS, across));
}

/* What is worth knowing of how good the answer is. */
static rn_status say_doubts(rn_catch *c, const rn_caught *caught, rn_note back, double back_share)
{
	double share = c->jumped_all / caught->given;
	back.kind = RN_NOTE_FALL_BACK_SOME;
	back.value[0] = back_share;
	if (back_share > back_said)
		RN_TRY(rn_workspace_note(c->workspace, back));
	if (share <= jump_said)
		return RN_OK;
	return rn_workspace_note(c->workspace, (rn_note){.kind = RN_NOTE_FALL_SNAPS, .a = rn_object_of(RN_NODE, caught->snaps),
	                                                 .b = c->fall->piece, .c = none(), .value = {share}});
}

rn_status rn_catch_peak(rn_catch *c, const rn_case_result **result_out)
{
	int index;
	double part;
	rn_caught caught;
	bool found;
	rn_workspace_unsure(c->workspace, &c->unsure);
	rn_workspace_guide(c->workspace, &c->guide);
	rn_workspace_load(c->workspace, c->of, c->values);
	c->weight = rn_lowering_weight(c);
	if (c->failed)
		return hand_out_failure(c, result_out);
	if (c->stays)
		return hand_out_hanging(c, result_out);
	RN_TRY(find_step(c, &index));
	if (index == RN_NONE)
		return hand_out_failure(c, result_out);
	RN_TRY(find_part(c, &c->steps[index], &part));
	RN_TRY(finish(c, index, part, &caught, &found));
	if (!found) {
		RN_TRY(fail_lost(c));
		return hand_out_failure(c, result_out);
	}
	int back_at = ran_back(c);
	rn_note back = back_note(c, back_at);
	double back_share = c->back[back_at] / caught.given;
	if (back_share > back_most && !c->lenient) {
		RN_TRY(fail(c, back, RN_OUTCOME_NOT_FOUND));
		return hand_out_failure(c, result_out);
	}
	if (fabs(caught.side) > guide_most * c->weight) {
		RN_TRY(fail(c, note_of(c, RN_NOTE_FALL_GUIDE, fabs(caught.side)), RN_OUTCOME_NOT_FOUND));
		return hand_out_failure(c, result_out);
	}
	RN_TRY(rn_workspace_let_go(c->workspace, c->of, c->values, result_out));
	rn_workspace_caught(c->workspace, &caught, (*result_out)->outcome);
	RN_TRY(say_otherwise(c, &caught, *result_out));
	return say_doubts(c, &caught, back, back_share);
}

rn_status rn_fall_settle_slipping(rn_arena *scratch, rn_workspace *w, const rn_model *model, const rn_case *of,
                                  const double *values, double slips_at, const rn_case_result **result_out)
{
	rn_catch c;
	rn_status status = rn_catch_begin(scratch, w, model, of, values, slips_at, &c, result_out);
	if (status == RN_OK && c.hangs)
		status = rn_catch_peak(&c, result_out);
	rn_catch_end(&c);
	return status;
}

rn_status rn_fall_settle(rn_arena *scratch, rn_workspace *w, const rn_model *model, const rn_case *of,
                         const double *values, const rn_case_result **result_out)
{
	return rn_fall_settle_slipping(scratch, w, model, of, values, 0, result_out);
}
