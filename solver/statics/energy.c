/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/energy.h"

#include <math.h>

#include "solver/model/place.h"
#include "solver/statics/equations.h"

/* ---- a metre of rope ----------------------------------------------------------------------- */

/* Of rope on a curve everything is meant by the metre as made, not by that of the part it lies on. */
static double strain_at(const rn_network *net, const rn_rope *rope, double tension)
{
	if (rope->curve == RN_NONE)
		return tension / rope->stiffness;
	if (rope->pulled) /* its length is not asked for, so it was not put on a part */
		return rn_curve_stretch(net->model, net->values, rope->curve, tension);
	rn_curve_part part = rn_curve_part_of(net->model, net->values, rope->curve, rope->curve_part);
	return part.offset + part.slope * tension;
}

/* The parts below the one the rope lies on are full triangles and trapezia. */
static double curve_energy(const rn_network *net, const rn_rope *rope, double tension)
{
	double energy = 0, from = 0;
	int index = rope->pulled ? rn_curve_part_at(net->model, net->values, rope->curve, tension).index : rope->curve_part;
	for (int i = 0; i < index; i++) {
		rn_curve_part part = rn_curve_part_of(net->model, net->values, rope->curve, i);
		rn_curve_part next = rn_curve_part_of(net->model, net->values, rope->curve, i + 1);
		double to = (next.offset - part.offset) / (part.slope - next.slope);
		energy += part.slope * (to * to - from * from) / 2;
		from = to;
	}
	rn_curve_part last = rn_curve_part_of(net->model, net->values, rope->curve, index);
	return energy + last.slope * (tension * tension - from * from) / 2;
}

static double energy_at(const rn_network *net, const rn_rope *rope, double tension)
{
	return rope->curve == RN_NONE ? tension * tension / (2 * rope->stiffness) : curve_energy(net, rope, tension);
}

static double taken_along(const rn_network *net, const rn_rope *rope, double tension)
{
	return tension * (1 + strain_at(net, rope, tension)) - energy_at(net, rope, tension);
}

/* ---- along a rope ------------------------------------------------------------------------------ */

/* Gauss and Legendre, six points on (0, 1): the arc of a rope, where tensions change by e^(mu theta), is then
 * right to twelve figures. */
enum { POINTS = 6 };
static const double point_at[POINTS] = {0.033765242898423975, 0.16939530676686776, 0.3806904069584015,
                                        0.6193095930415985, 0.8306046932331322, 0.966234757101576};
static const double point_weight[POINTS] = {0.08566224618958487, 0.18038078652406947, 0.23395696728634569,
                                            0.23395696728634569, 0.18038078652406947, 0.08566224618958487};

static double tension_of(const rn_rope *rope, const rn_span *span)
{
	return rope->taut ? rope->tension * span->share : 0;
}

typedef struct amounts {
	double content, energy; /* [m], [J] */
} amounts;

static void add_straight(const rn_network *net, const rn_rope *rope, int i, amounts *sum)
{
	const rn_span *span = &net->spans[rope->first_span + i];
	double tension = tension_of(rope, span);
	double content = (span->length + rn_span_further(rope, i)) / (1 + strain_at(net, rope, tension));
	sum->content += content;
	sum->energy += content * energy_at(net, rope, tension);
}

/* From the start of the arc behind span i to a part of it. */
static amounts of_arc(const rn_network *net, const rn_rope *rope, int i, double part)
{
	const rn_span *span = &net->spans[rope->first_span + i];
	const rn_stop *stop = &net->stops[span->to];
	amounts sum = {0, 0};
	double arc = stop->radius * stop->bend * part, in = tension_of(rope, span);
	for (int k = 0; arc != 0 && k < POINTS; k++) {
		double tension = in * exp(stop->log_ratio * part * point_at[k]);
		double content = point_weight[k] * arc / (1 + strain_at(net, rope, tension));
		sum.content += content;
		sum.energy += content * energy_at(net, rope, tension);
	}
	return sum;
}

static void add_amounts(amounts *sum, amounts more)
{
	sum->content += more.content;
	sum->energy += more.energy;
}

static amounts of_rope(const rn_network *net, const rn_rope *rope)
{
	amounts sum = {0, 0};
	for (int i = 0; i < rope->span_count; i++) {
		add_straight(net, rope, i, &sum);
		if (i + 1 < rope->span_count)
			add_amounts(&sum, of_arc(net, rope, i, 1));
	}
	return sum;
}

double rn_rope_content(const rn_network *net, const rn_rope *rope)
{
	return of_rope(net, rope).content;
}

/* ---- stored ---------------------------------------------------------------------------------- */

static double bar_energy(const rn_rope *rope)
{
	double stretch = rope->length - rope->length0;
	return 0.5 * rope->stiffness / rope->length0 * stretch * stretch;
}

static double bodies_energy(const rn_network *net)
{
	double energy = 0;
	for (int i = 0; i < net->contact_count; i++)
		if (net->contacts[i].touching)
			energy += 0.5 * net->contacts[i].push * net->contacts[i].push / net->contact_stiffness;
	return energy;
}

/* Of the piece itself the work is what is asked for. */
static double raised_energy(const rn_network *net)
{
	double energy = 0;
	for (int i = 0; i < net->model->node_count; i++)
		for (int k = 0; k < 2; k++) {
			bool is_own = net->guide && k == 1 && (i == net->guide->nodes[0] || i == net->guide->nodes[1]);
			energy -= is_own ? 0 : net->load[2 * i + k] * net->place[2 * i + k];
		}
	return energy;
}

rn_stored rn_network_stored(const rn_network *net)
{
	rn_stored stored = {.raised = raised_energy(net), .bodies = bodies_energy(net)};
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		amounts sum = rope->pushes ? (amounts){0, bar_energy(rope)} : of_rope(net, rope);
		stored.ropes += sum.energy;
		if (rope->pulled)
			stored.hands += taken_along(net, rope, rope->pull) * (sum.content - rope->length0_made);
	}
	for (int b = 0; b < net->bending_count; b++)
		stored.stems += rn_bending_energy(&net->bendings[b], net->place);
	return stored;
}

double rn_stored_sum(const rn_stored *s)
{
	return s->ropes + s->stems + s->bodies + s->raised + s->hands;
}

/* ---- heat of friction ---------------------------------------------------------------------------- */

/* Of a line, the rope that bends: it is counted from an end that does not slip. */
static double counted_from(const rn_network *net, const rn_rope *rope, double all)
{
	int first = net->stops[rope->first_stop].station;
	int last = net->stops[rope->first_stop + rope->stop_count - 1].station;
	const rn_station *stations = net->model->stations;
	bool first_slips = stations[first].kind == RN_HOLD, last_slips = stations[last].kind == RN_HOLD;
	bool from_last = rope->pulled ? !rope->pull_at_last : first_slips && !last_slips;
	return from_last ? all : 0;
}

static int add_point(const rn_network *net, const rn_rope *rope, const rn_span *in, double before, rn_heat_term *out)
{
	double a = taken_along(net, rope, tension_of(rope, in + 1)) - taken_along(net, rope, tension_of(rope, in));
	*out = (rn_heat_term){.a = a, .b = -before, .stop = in->to};
	return 1;
}

static int add_tread(const rn_network *net, const rn_rope *rope, int i, double before, rn_heat_term *out)
{
	const rn_span *in = &net->spans[rope->first_span + i];
	const rn_stop *stop = &net->stops[in->to];
	for (int k = 0; k < POINTS; k++) {
		double tension = tension_of(rope, in) * exp(stop->log_ratio * point_at[k]);
		double rise = point_weight[k] * tension * stop->log_ratio;
		double content = before + of_arc(net, rope, i, point_at[k]).content;
		double angle = in->heading + stop->side * stop->bend * point_at[k];
		*out++ = (rn_heat_term){.a = rise * (1 + strain_at(net, rope, tension)), .b = -content, .stop = in->to};
		*out++ = (rn_heat_term){.a = rise * stop->radius * stop->side, .b = angle, .is_angle = true, .stop = in->to};
	}
	return 2 * POINTS;
}

static int add_rope(const rn_network *net, const rn_rope *rope, rn_heat_term *out)
{
	amounts sum = {-counted_from(net, rope, rn_rope_content(net, rope)), 0};
	int count = 0, i = 0;
	for (int k = 1; k + 1 < rope->stop_count; k++) {
		int stop = rope->first_stop + k;
		bool touches = i + 1 < rope->span_count && net->spans[rope->first_span + i].to == stop;
		bool is_point = net->stops[stop].tread_radius == 0;
		if (!touches) { /* lifted: no friction here now */
			for (int n = is_point ? 1 : RN_HEAT_TERMS_OF_STOP; n > 0; n--)
				out[count++] = (rn_heat_term){.stop = stop};
			continue;
		}
		add_straight(net, rope, i, &sum);
		const rn_span *in = &net->spans[rope->first_span + i];
		count += is_point ? add_point(net, rope, in, sum.content, out + count)
		                  : add_tread(net, rope, i, sum.content, out + count);
		add_amounts(&sum, of_arc(net, rope, i, 1));
		i++;
	}
	return count;
}

int rn_network_heat_terms(const rn_network *net, rn_heat_term *out)
{
	int count = 0;
	for (int r = 0; r < net->rope_count; r++)
		if (net->ropes[r].bends)
			count += add_rope(net, &net->ropes[r], out + count);
	return count;
}
