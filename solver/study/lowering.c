/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/study/lowering.h"

#include <math.h>
#include <string.h>

/* The work of one step is right to this part of that of the whole fall [-]: a hundred steps leave eight
 * figures. */
static const double work_close = 1e-10;

/* What one step may lose of it [-]: above what is summed badly where a rope on a curve of stretch runs through
 * friction, far below what a ring that snaps over takes. */
static const double energy_close = 1e-5;

/* A line slips from a pull, and is locked from a length, that is known to this part [-]: above what settling
 * leaves. */
static const double slip_close = 1e-9;

/* No step is shorter than this part of the drawing [-]: at a kink the error is its square. */
static const double step_least = 1e-9;

/* Where steps become shorter than this part of the drawing the path is near to an end: it is begun before [-]. */
static const double step_sure = 1e-5;

/* Lines hold nothing while they carry less than this part of the weight [-]. */
static const double holds_least = 1e-9;

/* What may be lost or gained where something snaps over, as a part of the work of the fall [-]. */
static const double jump_most = 0.1;

/* Steps of climbing to where the lines let go. */
enum { CLIMB_MOST = 200 };

/* ---- polynomials through values at equal steps ------------------------------------------------ */

/* Value and slope at s of the polynomial through v[0], v[stride], ... at 0 .. 1 in equal steps (Lagrange). */
static void interpolate(const double *v, int stride, double s, double *value, double *slope)
{
	int n = (RN_FALL_NODES - 1) / stride;
	*value = *slope = 0;
	for (int i = 0; i <= n; i++) {
		double product = 1, sum = 0;
		for (int j = 0; j <= n; j++) {
			if (j == i)
				continue;
			double factor = n / (double)(i - j), term = factor * (s - (double)j / n);
			/* product rule, one factor at a time */
			sum = sum * term + product * factor;
			product *= term;
		}
		*value += v[i * stride] * product;
		*slope += v[i * stride] * sum;
	}
}

/* Integral of a db from 0 to s; Gauss and Legendre on four points, exact for these. */
static double integral(const double *a, const double *b, int stride, double s)
{
	static const double at[] = {0.06943184420297371, 0.33000947820757187, 0.6699905217924281, 0.9305681557970263};
	static const double weight[] = {0.17392742256872692, 0.32607257743127307, 0.32607257743127307,
	                                0.17392742256872692};
	double sum = 0, value, slope, unused;
	for (int k = 0; k < 4; k++) {
		interpolate(a, stride, s * at[k], &value, &unused);
		interpolate(b, stride, s * at[k], &unused, &slope);
		sum += weight[k] * s * value * slope;
	}
	return sum;
}

void rn_fall_step_at(const rn_fall_step *step, double s, double *height_out, double *work_out)
{
	double unused;
	interpolate(step->height, 1, s, height_out, &unused);
	*work_out = step->work - integral(step->force, step->height, 1, s);
}

/* ---- one state --------------------------------------------------------------------------------- */

const rn_network *rn_lowering_network(const rn_catch *c)
{
	return rn_workspace_network(c->workspace);
}

/* Weight of the piece, with what a case pulls down on it besides [N]. */
double rn_lowering_weight(const rn_catch *c)
{
	const rn_network *net = rn_lowering_network(c);
	int a = c->guide.nodes[0], b = c->guide.nodes[1];
	return -(net->load[2 * a + 1] + (a == b ? 0 : net->load[2 * b + 1]));
}

/* The rope that is let run, the first where none is, and which end of it runs. */
static const rn_rope *slipping_rope(const rn_catch *c, bool *at_last_out)
{
	const rn_network *net = rn_lowering_network(c);
	for (int r = 0; r < net->rope_count; r++)
		for (int end = 0; end < 2; end++) {
			const rn_rope *rope = &net->ropes[r];
			*at_last_out = end;
			if (net->stops[rope->first_stop + (end ? rope->stop_count - 1 : 0)].station == c->slips)
				return rope;
		}
	return net->ropes;
}

static double pull_at_hold(const rn_catch *c)
{
	bool at_last;
	const rn_rope *rope = slipping_rope(c, &at_last);
	const rn_span *spans = rn_lowering_network(c)->spans + rope->first_span;
	return rope->taut ? rope->tension * spans[at_last ? rope->span_count - 1 : 0].share : 0;
}

double rn_lowering_run_out(const rn_catch *c)
{
	bool at_last;
	const rn_rope *rope = slipping_rope(c, &at_last);
	return rn_rope_content(rn_lowering_network(c), rope) - rope->length0_made;
}

void rn_lowering_lock(rn_catch *c, bool locked)
{
	if (c->slips != RN_NONE)
		c->hold_pull[c->slips] = locked ? -1 : c->slips_at;
	c->locked = locked;
}

/* What has been found, to try again from; a line that slips would be lifted off by its pull where it is locked. */
void rn_lowering_mark(rn_catch *c, rn_mark which)
{
	rn_workspace_mark(c->workspace, which);
	c->marked_locked[which] = c->locked;
}

void rn_lowering_back(rn_catch *c, rn_mark which)
{
	rn_workspace_back(c->workspace, which);
	rn_lowering_lock(c, c->marked_locked[which]);
}

/* Settles with the guide's rest at a height. The line slips where it would have to hold more than it can, and
 * is locked where it would have to take rope in. */
rn_status rn_lowering_settle(rn_catch *c, double rest, bool *found)
{
	c->guide.rest = rest + (c->weight - c->path_weight) / c->guide.stiffness;
	for (int turn = 0; turn < 3; turn++) {
		RN_TRY(rn_workspace_lower(c->workspace, c->of, c->values, found));
		if (!*found || c->slips == RN_NONE || !(c->slips_at < HUGE_VAL))
			break;
		bool wrong = c->locked ? pull_at_hold(c) > c->slips_at * (1 + slip_close)
		                       : rn_lowering_run_out(c) < -slip_close * rn_lowering_network(c)->size;
		if (!wrong)
			break;
		rn_lowering_lock(c, !c->locked);
	}
	if (*found) {
		c->height = rn_guide_height(rn_lowering_network(c));
		c->across = rn_guide_across(rn_lowering_network(c));
		c->force = rn_lowering_weight(c) - rn_guide_lift(rn_lowering_network(c));
	}
	return RN_OK;
}

/* ---- one step ---------------------------------------------------------------------------------- */

/* Terms of the heat at node k of the step; angles go on from those of the node before. */
static void take_terms(rn_catch *c, int k)
{
	rn_heat_term *terms = c->terms;
	c->term_count = rn_network_heat_terms(rn_lowering_network(c), terms);
	for (int i = 0; i < c->term_count; i++) {
		double b = terms[i].b;
		if (terms[i].is_angle && k > 0) {
			double before = c->term_b[i * RN_FALL_NODES + k - 1];
			b = before + remainder(b - before, 2 * RN_PI);
		}
		c->term_a[i * RN_FALL_NODES + k] = terms[i].a;
		c->term_b[i * RN_FALL_NODES + k] = b;
	}
}

static void take_state(rn_catch *c, int k)
{
	c->node_force[k] = c->force;
	c->node_height[k] = c->height;
	c->stored = rn_network_stored(rn_lowering_network(c));
	c->node_stored[k] = rn_stored_sum(&c->stored);
	take_terms(c, k);
}

rn_status rn_lowering_begin(rn_catch *c, double rest, bool *found)
{
	RN_TRY(rn_lowering_settle(c, rest, found));
	if (*found)
		take_state(c, 0);
	return RN_OK;
}

/* The four states that follow node 0. */
rn_status rn_lowering_walk(rn_catch *c, double rest, double down, bool *found)
{
	for (int k = 1; k < RN_FALL_NODES; k++) {
		RN_TRY(rn_lowering_settle(c, rest - down * k / (RN_FALL_NODES - 1), found));
		if (!*found)
			return RN_OK;
		take_state(c, k);
	}
	return RN_OK;
}

double rn_lowering_work(const rn_catch *c, int stride)
{
	return -integral(c->node_force, c->node_height, stride, 1);
}

/* Heat of the step at hand; adds what would have come of rope running back to `back`, per stop. */
double rn_lowering_heat(const rn_catch *c, double *back)
{
	double sum = 0, of_stop = 0;
	for (int i = 0; i < c->term_count; i++) {
		of_stop += integral(&c->term_a[i * RN_FALL_NODES], &c->term_b[i * RN_FALL_NODES], 1, 1);
		int stop = c->terms[i].stop;
		if (i + 1 < c->term_count && c->terms[i + 1].stop == stop)
			continue;
		back[stop] += fmax(0, -of_stop);
		sum += of_stop;
		of_stop = 0;
	}
	return sum;
}

/* The last state becomes the first of the next step. */
static void go_on(rn_catch *c)
{
	const int last = RN_FALL_NODES - 1;
	c->node_force[0] = c->node_force[last];
	c->node_height[0] = c->node_height[last];
	c->node_stored[0] = c->node_stored[last];
	for (int i = 0; i < c->term_count; i++) {
		c->term_a[i * RN_FALL_NODES] = c->term_a[i * RN_FALL_NODES + last];
		c->term_b[i * RN_FALL_NODES] = c->term_b[i * RN_FALL_NODES + last];
	}
}

static rn_status keep_step(rn_catch *c, double rest, double down, double work)
{
	void *array = c->steps;
	RN_TRY(rn_arena_grow(c->arena, &array, c->step_count, &c->step_room, sizeof *c->steps));
	c->steps = array;
	rn_fall_step *step = &c->steps[c->step_count++];
	*step = (rn_fall_step){.rest = rest, .down = down, .work = c->work, .heat = c->heat, .across = c->across};
	memcpy(step->force, c->node_force, sizeof step->force);
	memcpy(step->height, c->node_height, sizeof step->height);
	c->work += work;
	c->heat += rn_lowering_heat(c, c->back);
	return RN_OK;
}

/* Whether a step shows the path to go on as a curve does, and by how much it is off: in its work, and in where
 * that went. A jump is left over when steps have become as short as they may. */
static bool is_smooth(const rn_catch *c, double *off_out)
{
	double work = rn_lowering_work(c, 1);
	double gone = c->node_stored[RN_FALL_NODES - 1] - c->node_stored[0] + rn_lowering_heat(c, c->unused);
	double off = fabs(work - rn_lowering_work(c, 2)) / work_close;
	/* the path goes on for heavier pieces than the one it was begun with */
	*off_out = fmax(off, fabs(work - gone) / energy_close) / (c->energy_scale + fabs(c->work));
	return *off_out <= 1;
}

/* Takes the next step from c->rest, down (way 1) or up (-1), as long as it may be; its states are then at hand.
 * False in *found: the path ends here, or jumps to what c->snapped says is there. */
static rn_status take_step(rn_catch *c, int way, bool *found)
{
	double least = step_least * rn_lowering_network(c)->size, off = 0;
	rn_lowering_mark(c, RN_MARK_STEP);
	for (;;) {
		RN_TRY(rn_lowering_walk(c, c->rest, way * c->down, found));
		if (*found && is_smooth(c, &off)) {
			c->taken = c->down;
			c->down *= fmin(4, fmax(1, 0.8 * pow(fmax(off, 1e-12), -0.2)));
			return RN_OK;
		}
		double shorter = *found ? fmax(0.1, fmin(0.5, 0.8 * pow(off, -0.2))) : 0.25;
		rn_lowering_back(c, RN_MARK_STEP);
		if (c->down <= least) {
			bool again;
			c->snapped = *found;
			RN_TRY(rn_lowering_settle(c, c->rest, &again));
			*found = false;
			return RN_OK;
		}
		c->down = fmax(least, c->down * shorter);
	}
}

/* The node that a jump moves farthest, between what is marked and what is at hand. */
static void remember_snap(rn_catch *c)
{
	double most = -1;
	for (int i = 0; i < c->model->node_count; i++) {
		const double *place = &rn_lowering_network(c)->place[2 * i], *before = &rn_workspace_marked(c->workspace, RN_MARK_STEP)[2 * i];
		double moved = hypot(place[0] - before[0], place[1] - before[1]);
		if (moved <= most)
			continue;
		most = moved;
		c->snaps = i;
	}
}

/* Something snaps over: the path goes on from there. The piece has given no work for it, so what it put into the
 * ropes or took out of them is kept apart. */
static rn_status jump(rn_catch *c, bool *found)
{
	double down = step_least * rn_lowering_network(c)->size;
	RN_TRY(rn_lowering_begin(c, c->rest, found));
	if (!*found)
		return RN_OK;
	double before = rn_stored_sum(&c->stored);
	RN_TRY(rn_lowering_walk(c, c->rest, down, found));
	if (!*found)
		return RN_OK;
	remember_snap(c);
	double gained = rn_stored_sum(&c->stored) - before + rn_lowering_heat(c, c->unused) - rn_lowering_work(c, 1);
	c->jumped += gained;
	c->jumped_all += fabs(gained);
	RN_TRY(keep_step(c, c->rest, down, rn_lowering_work(c, 1)));
	c->steps[c->step_count - 1].jumps = true;
	go_on(c);
	c->rest -= down;
	c->down = 1e-3 * rn_lowering_network(c)->size;
	return RN_OK;
}

/* Draws the path out by a step. */
rn_status rn_lowering_extend(rn_catch *c, bool *found)
{
	if (c->left) { /* another step is at hand */
		RN_TRY(rn_lowering_begin(c, c->rest, found));
		if (!*found)
			return RN_OK;
		c->left = false;
	}
	RN_TRY(take_step(c, 1, found));
	if (!*found && c->snapped && c->jumped_all < jump_most * c->energy_scale)
		return jump(c, found);
	if (!*found)
		return RN_OK;
	RN_TRY(keep_step(c, c->rest, c->taken, rn_lowering_work(c, 1)));
	go_on(c);
	c->rest -= c->taken;
	return RN_OK;
}

/* ---- where the lines begin to hold --------------------------------------------------------------- */

/* The rest of the guide for which the piece comes to a height, carrying so much. */
double rn_lowering_rest(const rn_catch *c, double height, double force)
{
	return height + (c->path_weight - force) / c->guide.stiffness;
}

static bool is_above(const rn_catch *c)
{
	return c->force <= holds_least * c->weight || c->height >= c->released;
}

/* Closes in on where the lines let go, between two heights of the guide, always from where they hold: slack rope
 * lies some way or other, and would come taut from there. */
static rn_status halve(rn_catch *c, double low, double high, bool *found)
{
	rn_lowering_back(c, RN_MARK_STEP);
	while (high - low > step_least * rn_lowering_network(c)->size) {
		double middle = (low + high) / 2;
		RN_TRY(rn_lowering_settle(c, middle, found));
		bool holds = *found && !is_above(c);
		*(holds ? &low : &high) = middle;
		if (holds)
			rn_lowering_mark(c, RN_MARK_STEP);
		else
			rn_lowering_back(c, RN_MARK_STEP);
	}
	RN_TRY(rn_lowering_settle(c, low, found));
	c->rest = low;
	return RN_OK;
}

/* Climbs from where the piece hangs at rest to where its lines hold nothing, or to where it is let go. Where the
 * curve ends before that - a ring with much friction snaps over to its rope at some small pull - the path begins
 * there, and what the lines took up before is left out, which makes the peak the higher. */
rn_status rn_lowering_find_beginning(rn_catch *c, bool *found)
{
	c->rest = rn_lowering_rest(c, c->height, c->force);
	c->down = 1e-3 * rn_lowering_network(c)->size;
	RN_TRY(rn_lowering_begin(c, c->rest, found));
	double sure = c->rest;
	bool lets_go = false;
	rn_lowering_mark(c, RN_MARK_CLIMB);
	for (int i = 0; *found && i < CLIMB_MOST && !lets_go; i++) {
		bool goes_on;
		RN_TRY(take_step(c, -1, &goes_on));
		if (!goes_on) {
			c->rest = sure;
			rn_lowering_back(c, RN_MARK_CLIMB);
			break;
		}
		go_on(c);
		c->rest += c->taken;
		lets_go = is_above(c);
		if (c->taken < step_sure * rn_lowering_network(c)->size || lets_go)
			continue;
		sure = c->rest;
		rn_lowering_mark(c, RN_MARK_CLIMB);
	}
	if (lets_go)
		RN_TRY(halve(c, c->rest - c->taken, c->rest, found));
	return *found ? rn_lowering_begin(c, c->rest, found) : RN_OK;
}
