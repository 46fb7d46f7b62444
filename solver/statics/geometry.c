/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/geometry.h"

#include <math.h>

#include "solver/statics/friction.h"

/* A tangent whose straight part is shorter than this part of the offset is none [-]: closer than
 * that its direction is lost in rounding. */
static const double tangent_least = 1e-7;

static rn_vec2 centre(const rn_network *net, const rn_stop *stop)
{
	return rn_vec2_of(&net->place[2 * stop->node]);
}

/* One span between two stops that are not lifted. */
static bool measure_span(const rn_network *net, rn_span *span, bool needs_heading)
{
	const rn_stop *i = &net->stops[span->from], *j = &net->stops[span->to];
	rn_vec2 d = rn_vec2_sub(centre(net, j), centre(net, i));
	double square = rn_vec2_dot(d, d);
	span->offset = i->side * i->radius - j->side * j->radius;
	span->distance = sqrt(square);
	if (span->offset == 0) {
		span->length = sqrt(square + net->smoothing * net->smoothing);
		if (span->length == 0)
			return false;
		span->u = rn_vec2_scale(1 / span->length, d);
		if (needs_heading)
			span->heading = atan2(d.y, d.x);
		return true;
	}
	double t_square = (span->distance - fabs(span->offset)) * (span->distance + fabs(span->offset));
	if (!(t_square > tangent_least * span->offset * span->offset))
		return false;
	span->length = sqrt(t_square);
	span->heading = atan2(d.y, d.x) + asin(span->offset / span->distance);
	/* u from d itself rather than from its angle: exact to rounding */
	span->u.x = (span->length * d.x - span->offset * d.y) / square;
	span->u.y = (span->length * d.y + span->offset * d.x) / square;
	return true;
}

/* ---- bends --------------------------------------------------------------------------------- */

static double turn(double heading_in, double heading_out)
{
	return remainder(heading_out - heading_in, 2 * RN_PI);
}

static double first_bend(const rn_stop *stop, double heading_in, double heading_out)
{
	double left = turn(heading_in, heading_out);
	if (stop->radius == 0)
		return fabs(left);
	double bend = stop->side * left; /* (-pi, pi] */
	return bend <= -RN_PI / 2 ? bend + 2 * RN_PI : bend;
}

static double followed_bend(rn_stop *stop, double heading_in, double heading_out)
{
	double left = turn(heading_in, heading_out);
	if (stop->radius == 0) {
		stop->side = left < 0 ? -1 : 1; /* a point has the side the rope happens to turn to */
		return fabs(left);
	}
	double bend = stop->side * left;
	return bend + 2 * RN_PI * round((stop->bend - bend) / (2 * RN_PI));
}

/* On its way to an answer the bend at a ring may turn negative for a while. The law is continued as an
 * odd function there, so that nothing jumps; no answer keeps such a bend. At a post with turns they outweigh it. */
static void measure_friction(const rn_network *net, rn_stop *stop)
{
	stop->log_ratio = stop->log_ratio_slope = 0;
	double strength = net->friction_share * stop->friction, wound = rn_stop_wound(stop);
	if (strength == 0 || stop->run == 0)
		return;
	if (stop->is_sheave)
		rn_friction_sheave(strength, fabs(wound), &stop->log_ratio, &stop->log_ratio_slope);
	else
		rn_friction_capstan(strength, fabs(wound), 0, &stop->log_ratio, &stop->log_ratio_slope);
	stop->log_ratio *= wound < 0 ? -stop->run : stop->run;
	stop->log_ratio_slope *= stop->run;
}

/* ---- rope ---------------------------------------------------------------------------------- */

/* Spans join neighbouring stops that are not lifted. */
static void connect(rn_network *net, rn_rope *rope)
{
	int last = rope->first_stop;
	rope->span_count = 0;
	for (int i = 1; i < rope->stop_count; i++) {
		int stop = rope->first_stop + i;
		if (net->stops[stop].lifted)
			continue;
		rn_span *span = &net->spans[rope->first_span + rope->span_count++];
		span->from = last;
		span->to = stop;
		last = stop;
	}
}

static bool measure_spans(rn_network *net, rn_rope *rope)
{
	connect(net, rope);
	for (int i = 0; i < rope->span_count; i++)
		if (!measure_span(net, &net->spans[rope->first_span + i], rope->bends))
			return false;
	return true;
}

/* A slack rope has no memory: it lies the short way round. A taut one is followed. */
static void measure_bends(rn_network *net, const rn_rope *rope)
{
	const rn_span *span = net->spans + rope->first_span;
	for (int i = 1; i < rope->span_count; i++) {
		rn_stop *stop = &net->stops[span[i].from];
		if (rope->taut || stop->radius == 0)
			stop->bend = followed_bend(stop, span[i - 1].heading, span[i].heading);
		else
			stop->bend = first_bend(stop, span[i - 1].heading, span[i].heading);
	}
}

/* The fork or post that the rope would have to push most, RN_NONE if there is none. */
static int most_negative(const rn_network *net, const rn_rope *rope)
{
	int worst = RN_NONE;
	double least = 0;
	for (int i = 1; i + 1 < rope->stop_count; i++) {
		const rn_stop *stop = &net->stops[rope->first_stop + i];
		if (stop->radius > 0 && !stop->captured && !stop->lifted && rn_stop_wound(stop) < least) {
			least = rn_stop_wound(stop);
			worst = rope->first_stop + i;
		}
	}
	return worst;
}

static void touch_all(rn_network *net, const rn_rope *rope)
{
	for (int i = 0; i < rope->stop_count; i++) {
		rn_stop *stop = &net->stops[rope->first_stop + i];
		stop->lifted = stop->untouched;
	}
}

/* Over forks and open posts the rope is a taut string: all of them first, then without those it would
 * have to push, the worst one first. L is then the larger of the length over a tread and that past it,
 * equal in value and slope where the two meet, and still convex. */
static bool pull_taut(rn_network *net, rn_rope *rope)
{
	touch_all(net, rope);
	for (;;) {
		if (!measure_spans(net, rope))
			return false;
		measure_bends(net, rope);
		int pushed = most_negative(net, rope);
		if (pushed == RN_NONE)
			return true;
		net->stops[pushed].lifted = true;
	}
}

/* Tension of each span over that of the first, or over the given pull at the far end. */
static void measure_shares(rn_network *net, rn_rope *rope)
{
	rn_span *span = net->spans + rope->first_span;
	double log_share = 0;
	span[0].share = 1;
	for (int i = 1; i < rope->span_count; i++) {
		log_share += net->stops[span[i].from].log_ratio;
		span[i].share = exp(log_share);
	}
	if (!rope->pulled || !rope->pull_at_last)
		return;
	double last = span[rope->span_count - 1].share;
	for (int i = 0; i < rope->span_count; i++)
		span[i].share /= last;
}

void rn_rope_lay(rn_network *net, rn_rope *rope)
{
	touch_all(net, rope);
	if (!rope->bends || !measure_spans(net, rope))
		return;
	for (int i = 1; i < rope->span_count; i++) {
		const rn_span *in = &net->spans[rope->first_span + i - 1], *out = in + 1;
		rn_stop *stop = &net->stops[out->from];
		stop->bend = first_bend(stop, in->heading, out->heading);
	}
}

static bool measure_straight(rn_network *net, rn_rope *rope)
{
	rn_span *span = net->spans + rope->first_span;
	rope->span_count = 1;
	span->from = rope->first_stop;
	span->to = rope->first_stop + 1;
	span->share = 1;
	if (!measure_span(net, span, false))
		return false;
	rope->length = span->length + rope->further[0] + rope->further[1];
	return true;
}

bool rn_rope_measure(rn_network *net, rn_rope *rope)
{
	if (!rope->bends)
		return measure_straight(net, rope);
	if (!pull_taut(net, rope))
		return false;
	rn_span *span = net->spans + rope->first_span;
	rope->length = span[0].length + rope->further[0] + rope->further[1];
	span[0].share = 1;
	for (int i = 1; i < rope->span_count; i++) {
		rn_stop *stop = &net->stops[span[i].from];
		measure_friction(net, stop);
		rope->length += span[i].length + stop->radius * stop->bend;
	}
	measure_shares(net, rope);
	return true;
}
