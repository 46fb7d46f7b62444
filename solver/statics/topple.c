/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Props push, and what pushes can topple. Near the drawing the settled shape is a minimum of the
 * energy; it is one only if its tangent
 *
 *     K = sum EA/L0 g g^T + sum T/t n n^T
 *
 * has no negative eigenvalue (T < 0 in a prop makes the second sum negative across it). How many it
 * has is read off the pivots of L D L^T (Sylvester). Zero ones belong to slack parts and are ordinary.
 */
#include <float.h>
#include <math.h>

#include "solver/statics/settle.h"

/* A drawing that is exactly straight is balanced on its edge: it is moved once by this part of its
 * size across its props, and either comes back or does not [-]. */
static const double nudge_part = 1e-6;

/* A prop that has turned by more than this from where it was drawn lies down [rad]. */
static const double turn_most = RN_PI / 4;

static rn_vec2 along(const rn_network *net, const rn_rope *rope)
{
	const rn_stop *s = &net->stops[rope->first_stop];
	return rn_vec2_sub(rn_vec2_of(&net->place[2 * s[1].node]), rn_vec2_of(&net->place[2 * s[0].node]));
}

void rn_topple_nudge(rn_settler *s)
{
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		if (!rope->pushes)
			continue;
		rn_vec2 d = along(&s->net, rope), n = rn_vec2_left(d);
		for (int i = 0; i < rope->stop_count; i++) {
			int node = s->net.stops[rope->first_stop + i].node;
			if (s->net.unknown[node] == RN_NONE)
				continue;
			s->net.place[2 * node] += nudge_part * n.x;
			s->net.place[2 * node + 1] += nudge_part * n.y;
		}
	}
}

/* The prop that turned most, if it lies down now. */
static int lying(const rn_settler *s, const double *drawn)
{
	int worst = RN_NONE;
	double most = turn_most;
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		if (!rope->pushes)
			continue;
		const rn_stop *stop = &s->net.stops[rope->first_stop];
		rn_vec2 was = rn_vec2_sub(rn_vec2_of(&drawn[2 * stop[1].node]), rn_vec2_of(&drawn[2 * stop[0].node]));
		rn_vec2 is = along(&s->net, rope);
		double turned = fabs(atan2(rn_vec2_cross(was, is), rn_vec2_dot(was, is)));
		bool is_load = s->net.model->props[rope->member.index].is_piece;
		if (turned <= most || is_load)
			continue;
		most = turned;
		worst = r;
	}
	return worst;
}

/* The prop that is pressed hardest for its length: T/t is what it adds to the negative side of K. */
static int pressed_most(const rn_settler *s)
{
	int worst = RN_NONE;
	double least = 0;
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		if (rope->pushes && rope->tension / rope->length < least) {
			least = rope->tension / rope->length;
			worst = r;
		}
	}
	return worst;
}

bool rn_topple_on_edge(rn_settler *s)
{
	double largest = 0;
	/* assembling takes tensions from lengths, which are not as good as those found */
	rn_settler_keep(s, &s->step_kept);
	rn_minimise_assemble(s, false);
	rn_settler_return(s, &s->step_kept);
	for (int k = 0; k < s->triplets.count; k++)
		largest = fmax(largest, fabs(s->triplets.items[k].value));
	/* pivots below the rounding of the largest entry are zero */
	double tiny = 1e3 * DBL_EPSILON * largest;
	return rn_symmetric_factor(&s->symmetric, &s->triplets, 0, tiny) > 0;
}

int rn_topple_check(rn_settler *s, const double *drawn)
{
	int worst = lying(s, drawn);
	if (worst != RN_NONE)
		return worst;
	worst = pressed_most(s);
	return worst != RN_NONE && rn_topple_on_edge(s) ? worst : RN_NONE;
}
