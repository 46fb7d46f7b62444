/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/model/timber.h"

#include <math.h>

#include "solver/base/notes.h"
#include "solver/base/vec2.h"
#include "solver/model/memory.h"
#include "solver/model/place.h"

/* A cut this near to where it should be is there: a tape shows no less [m]. */
static const double tape = 1e-3;

/* A third cut no farther than this part of the length from the middle is in the middle [-]: Newton's rule
 * then is off by less than the tape round the wood. */
static const double middle_within = 0.01;

/* ---- shape ----------------------------------------------------------------------------------- */

static double area(double diameter)
{
	return RN_PI / 4 * diameter * diameter;
}

/* V = L (A + sqrt(A a) + a) / 3, sqrt(A a) = pi/4 D d: a cone frustum (Larsen, University of
 * Missouri, forest functions page). */
static double frustum(const rn_log *log, int from)
{
	double length = log->at[from + 1] - log->at[from];
	double d = log->diameter[from], e = log->diameter[from + 1];
	return length * (area(d) + RN_PI / 4 * d * e + area(e)) / 3;
}

static double length_of(const rn_log *log)
{
	return log->at[log->count - 1] - log->at[0];
}

static bool third_is_in_the_middle(const rn_log *log)
{
	double middle = (log->at[0] + log->at[2]) / 2;
	return fabs(log->at[1] - middle) <= middle_within * length_of(log);
}

/* Newton's rule L (A_s + 4 A_m + A_l) / 6, exact for frusta of cone, paraboloid and neiloid. */
double rn_log_volume(const rn_log *log)
{
	if (log->count == 2)
		return frustum(log, 0);
	const double *d = log->diameter;
	if (third_is_in_the_middle(log))
		return length_of(log) * (area(d[0]) + 4 * area(d[1]) + area(d[2])) / 6;
	return frustum(log, 0) + frustum(log, 1);
}

/* Smalian's rule L (A_s + A_l) / 2 takes a cone for too much: the safe side. */
static double smalian(const rn_log *log, int from, int to)
{
	return (log->at[to] - log->at[from]) * (area(log->diameter[from]) + area(log->diameter[to])) / 2;
}

double rn_log_volume_most(const rn_log *log)
{
	int last = log->count - 1;
	double parts = 0;
	for (int i = 0; i < last; i++)
		parts += smalian(log, i, i + 1);
	return fmax(fmax(smalian(log, 0, last), parts), rn_log_volume(log));
}

/* A cone frustum from the end of radius R: x = (L/4) (R^2 + 2 R r + 3 r^2) / (R^2 + R r + r^2) (closed
 * form, whichever end is the larger). */
static double frustum_centre(const rn_log *log, int from)
{
	double length = log->at[from + 1] - log->at[from];
	double d = log->diameter[from], e = log->diameter[from + 1];
	return log->at[from] + length / 4 * (d * d + 2 * d * e + 3 * e * e) / (d * d + d * e + e * e);
}

/* Diameters as parts of the largest: squares of very small ones would vanish, and 0/0 is no centre. */
static rn_log scaled(const rn_log *log)
{
	rn_log unit = *log;
	double largest = 0;
	for (int i = 0; i < log->count; i++)
		largest = fmax(largest, log->diameter[i]);
	for (int i = 0; i < log->count; i++)
		unit.diameter[i] = largest > 0 ? log->diameter[i] / largest : 1;
	return unit;
}

double rn_log_centre(const rn_log *log)
{
	rn_log unit = scaled(log);
	double volume = 0, moment = 0;
	for (int i = 0; i + 1 < log->count; i++) {
		double part = frustum(&unit, i);
		if (part <= 0)
			continue; /* a part too thin to weigh */
		volume += part;
		moment += part * frustum_centre(&unit, i);
	}
	return moment / volume;
}

/* ---- density --------------------------------------------------------------------------------- */

static double mixed(const rn_density_row *row, bool barked)
{
	return barked ? row->wood : row->with_bark;
}

/* Waterlogged. Bark that has drunk its fill is taken as no lighter than the wood: of its own bound no table
 * says anything. */
static double soaked(const rn_density_row *row, bool barked)
{
	double b = barked ? 0 : row->bark_share;
	return (row->saturated + b * fmax(row->bark, row->saturated)) / (1 + b);
}

double rn_timber_density(const rn_density_row *row, rn_moisture moisture, bool barked)
{
	switch (moisture) {
	case RN_MOISTURE_MIXED:
	case RN_MOISTURE_HEART: return mixed(row, barked);
	case RN_MOISTURE_SAP: return (mixed(row, barked) + soaked(row, barked)) / 2;
	case RN_MOISTURE_SOAKED: break;
	}
	return soaked(row, barked);
}

double rn_timber_density_most(const rn_density_row *row, rn_moisture moisture, bool barked)
{
	bool wet = moisture == RN_MOISTURE_SAP || moisture == RN_MOISTURE_SOAKED;
	return wet ? soaked(row, barked) : rn_timber_density(row, moisture, barked);
}

/* ---- weight ---------------------------------------------------------------------------------- */

int rn_timber_of(const rn_model *m, rn_object piece)
{
	for (int i = 0; i < m->timber_count; i++)
		if (m->timbers[i].piece.kind == piece.kind && m->timbers[i].piece.index == piece.index)
			return i;
	return RN_NONE;
}

static double number(const rn_model *m, const double *values, rn_object object, rn_attribute attribute,
                     double absent)
{
	int i = rn_model_find_number(m, object, attribute);
	return i == RN_NONE ? absent : values ? values[i] : m->numbers[i].value;
}

static rn_object cut_object(const rn_timber *timber, int cut)
{
	return rn_object_of(RN_CUT, timber->first_cut + cut);
}

static rn_log log_of(const rn_model *m, const double *values, const rn_timber *timber)
{
	rn_log log = {.count = timber->cut_count < RN_CUTS_MOST ? timber->cut_count : RN_CUTS_MOST};
	for (int i = 0; i < log.count; i++) {
		log.at[i] = number(m, values, cut_object(timber, i), RN_ATTRIBUTE_AT, 0);
		log.diameter[i] = number(m, values, cut_object(timber, i), RN_ATTRIBUTE_DIAMETER, 0);
	}
	return log;
}

/* A density given on the piece wins over the species'. */
static void set_density(const rn_model *m, const double *values, const rn_timber *timber, rn_weighed *out)
{
	const rn_density_row *row = timber->species ? rn_density_of(timber->species) : NULL;
	out->density = out->density_most = number(m, values, timber->piece, RN_ATTRIBUTE_DENSITY, 0);
	if (out->density > 0 || !row)
		return;
	out->density = rn_timber_density(row, timber->moisture, timber->barked);
	out->density_most = rn_timber_density_most(row, timber->moisture, timber->barked);
}

rn_weighed rn_timber_weighed(const rn_model *m, const double *values, int index)
{
	const rn_timber *timber = &m->timbers[index];
	double gravity = rn_gravity(m, values);
	rn_log log = log_of(m, values, timber);
	rn_weighed w = {0};
	w.has_centre = log.count >= 2 && number(m, values, timber->piece, RN_ATTRIBUTE_LONG, 0) > 0;
	if (!w.has_centre)
		return w;
	w.volume = rn_log_volume(&log);
	w.volume_most = rn_log_volume_most(&log);
	w.centre = rn_log_centre(&log);
	set_density(m, values, timber, &w);
	w.has_weight = w.density > 0;
	w.weight = gravity * w.volume * w.density;
	w.weight_most = gravity * w.volume_most * w.density_most;
	return w;
}

void rn_timber_weigh(const rn_model *m, const rn_case *c, double *values)
{
	for (int i = 0; i < m->timber_count; i++) {
		int weight = rn_model_find_number(m, m->timbers[i].piece, RN_ATTRIBUTE_WEIGHT);
		if (weight == RN_NONE || m->numbers[weight].origin != RN_COMPUTED || (c && rn_case_sets(m, c, weight)))
			continue;
		rn_weighed w = rn_timber_weighed(m, values, i);
		if (w.has_weight)
			values[weight] = w.weight_most;
	}
}

/* Moments about `to`: share x long = long - centre. */
double rn_prop_share(const rn_model *m, const double *values, int prop)
{
	rn_object object = rn_object_of(RN_PROP, prop);
	int timber = m->props[prop].is_piece ? rn_timber_of(m, object) : RN_NONE;
	rn_weighed w = {0};
	if (timber != RN_NONE)
		w = rn_timber_weighed(m, values, timber);
	return w.has_centre ? 1 - w.centre / number(m, values, object, RN_ATTRIBUTE_LONG, 0) : 0.5;
}

/* ---- rules ----------------------------------------------------------------------------------- */

static rn_status find(rn_model *m, rn_note_kind kind, rn_object a, double first, double second)
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	rn_note note = {.kind = kind, .a = a, .b = none, .c = none, .value = {first, second}};
	return rn_notes_add(&m->memory->arena, &m->findings, note);
}

static rn_status check_cuts(rn_model *m, const double *values, const rn_timber *timber)
{
	rn_log log = log_of(m, values, timber);
	int last = log.count - 1;
	double tip = number(m, values, timber->piece, RN_ATTRIBUTE_LONG, 0);
	if (timber->cut_count < 2 || timber->cut_count > RN_CUTS_MOST)
		return find(m, RN_NOTE_CUT_COUNT, timber->piece, timber->cut_count, 0);
	if (fabs(log.at[0]) > tape)
		RN_TRY(find(m, RN_NOTE_CUT_FIRST, cut_object(timber, 0), log.at[0], 0));
	for (int i = 1; i <= last; i++)
		if (log.at[i] <= log.at[i - 1])
			return find(m, RN_NOTE_CUT_ORDER, cut_object(timber, i), log.at[i], log.at[i - 1]);
	if (tip > 0 && fabs(log.at[last] - tip) > tape)
		return find(m, RN_NOTE_CUT_LAST, cut_object(timber, last), log.at[last], tip);
	return RN_OK;
}

/* A species or a density, one that is known. */
static rn_status check_wood(rn_model *m, const double *values, const rn_timber *timber)
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	if (number(m, values, timber->piece, RN_ATTRIBUTE_DENSITY, 0) > 0)
		return RN_OK;
	if (!timber->species)
		return find(m, RN_NOTE_TIMBER_WOOD, timber->piece, 0, 0);
	if (rn_density_of(timber->species))
		return RN_OK;
	const char *near = rn_species_near(timber->species, false);
	if (near && !rn_density_of(near))
		near = NULL; /* a name of the other table alone is no help */
	rn_note note = {.kind = near ? RN_NOTE_TIMBER_NEAR : RN_NOTE_TIMBER_SPECIES,
	                .a = timber->piece,
	                .b = none,
	                .c = none,
	                .word = near ? near : timber->species};
	return rn_notes_add(&m->memory->arena, &m->findings, note);
}

/* A weight that is given needs neither wood nor length: then they only say where the middle of it is. */
rn_status rn_timber_check(rn_model *m, const double *values, int index)
{
	const rn_timber *timber = &m->timbers[index];
	int weight = rn_model_find_number(m, timber->piece, RN_ATTRIBUTE_WEIGHT);
	bool open = weight != RN_NONE && m->numbers[weight].origin == RN_COMPUTED;
	RN_TRY(check_cuts(m, values, timber));
	if (open && number(m, values, timber->piece, RN_ATTRIBUTE_LONG, 0) <= 0)
		RN_TRY(find(m, RN_NOTE_TIMBER_LONG, timber->piece, 0, 0));
	return open ? check_wood(m, values, timber) : RN_OK;
}
