/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/model/give.h"

#include <math.h>

#include "solver/model/place.h"

/* ---- which ----------------------------------------------------------------------------------- */

int rn_stem_root(const rn_model *m, int stem)
{
	while (m->stems[stem].on != RN_NONE)
		stem = m->stems[stem].on;
	return stem;
}

static bool on_stem(const rn_model *m, int node, int root)
{
	int stem = m->nodes[node].stem;
	return stem != RN_NONE && rn_stem_root(m, stem) == root;
}

/* What the file says about the tree: the word of the stem itself counts for its branches. */
static bool has_section(const rn_model *m, int root)
{
	for (int i = 0; i < m->stem_count; i++)
		if (m->stems[i].section_count > 0 && rn_stem_root(m, i) == root)
			return true;
	return false;
}

/* A part of a line made fast at two fixed places, one of its stations on this stem: a guy, or a track
 * whatever hangs on it between. */
static bool line_joins(const rn_model *m, const rn_line *line, int stem)
{
	bool from_fixed = false, here = false;
	for (int i = 0; i < line->station_count; i++) {
		const rn_station *s = &m->stations[line->first_station + i];
		bool fixed = rn_node_is_fixed(&m->nodes[s->node]);
		here = here || on_stem(m, s->node, stem);
		if (i > 0 && s->kind == RN_THROUGH)
			continue;
		if (i > 0 && from_fixed && fixed && here)
			return true;
		from_fixed = fixed;
		here = on_stem(m, s->node, stem);
	}
	return false;
}

typedef struct meeting {
	int places[3]; /* different fixed nodes members lead to from one free node */
	int count;
	bool here; /* one of them is on the stem */
} meeting;

static void meet(const rn_model *m, int node, int free, int other, int stem, meeting *met)
{
	if (node != free || rn_node_is_fixed(&m->nodes[free]) || !rn_node_is_fixed(&m->nodes[other]))
		return;
	met->here = met->here || on_stem(m, other, stem);
	for (int i = 0; i < met->count; i++)
		if (met->places[i] == other)
			return;
	if (met->count < 3)
		met->places[met->count++] = other;
}

/* In one plane two legs hold a node; where three or more meet, how far each gives says what it carries. */
static bool legs_meet(const rn_model *m, int node, int stem)
{
	meeting met = {.count = 0};
	for (int i = 0; i < m->leg_count; i++) {
		meet(m, node, m->legs[i].from, m->legs[i].to, stem, &met);
		meet(m, node, m->legs[i].to, m->legs[i].from, stem, &met);
	}
	for (int i = 0; i + 1 < m->station_count; i++) {
		const rn_station *s = &m->stations[i];
		if (s[1].line != s->line || s->kind == RN_THROUGH || s[1].kind == RN_THROUGH)
			continue;
		meet(m, node, s->node, s[1].node, stem, &met);
		meet(m, node, s[1].node, s->node, stem, &met);
	}
	return met.here && met.count == 3;
}

bool rn_stem_gives(const rn_model *m, int stem)
{
	stem = rn_stem_root(m, stem);
	if (!has_section(m, stem) || m->stems[stem].give != RN_GIVE_AUTO)
		return has_section(m, stem) && m->stems[stem].give == RN_GIVE_YES;
	for (int i = 0; i < m->line_count; i++)
		if (line_joins(m, &m->lines[i], stem))
			return true;
	for (int i = 0; i < m->leg_count; i++) {
		const rn_leg *leg = &m->legs[i];
		if (rn_node_is_fixed(&m->nodes[leg->from]) && rn_node_is_fixed(&m->nodes[leg->to]) &&
		    (on_stem(m, leg->from, stem) || on_stem(m, leg->to, stem)))
			return true;
	}
	for (int i = 0; i < m->node_count; i++)
		if (legs_meet(m, i, stem))
			return true;
	return false;
}

/* ---- how far --------------------------------------------------------------------------------- */

/* Gauss and Legendre's five points on (-1, 1); Abramowitz and Stegun, table 25.4. */
static const double gauss_at[5] = {-0.906179845938663993, -0.538469310105683091, 0,
                                   0.538469310105683091, 0.906179845938663993};
static const double gauss_weight[5] = {0.236926885056189088, 0.478628670499366468,
                                       0.568888888888888889, 0.478628670499366468,
                                       0.236926885056189088};

/* A stretch of stem is cut into this many equal parts: the integrand is smooth between sections, and
 * five points each then hold it to rounding for any taper a stem has. */
enum { PARTS = 16 };

typedef struct bend_data {
	const rn_model *model;
	const double *values;
	int stem;
	double of, at, modulus;
	bool sideways;
} bend_data;

static double integrand(const bend_data *b, double z)
{
	double diameter = rn_stem_wood(b->model, b->values, b->stem, z);
	double wall = rn_stem_wall(b->model, b->values, b->stem, z);
	if (!b->sideways)
		return 1 / (b->modulus * rn_section_area(diameter, wall));
	return (b->of - z) * (b->at - z) / (b->modulus * rn_section_inertia(diameter, wall));
}

static double integrate(const bend_data *b, double from, double to)
{
	double sum = 0, step = (to - from) / PARTS;
	for (int i = 0; i < PARTS && step > 0; i++)
		for (int k = 0; k < 5; k++)
			sum += gauss_weight[k] * step / 2 *
			       integrand(b, from + step * (i + (1 + gauss_at[k]) / 2));
	return sum;
}

/* From the foot to the lower of the two heights, section by section. */
static double along_stem(const bend_data *b)
{
	const rn_stem *s = &b->model->stems[b->stem];
	double top = fmin(b->of, b->at), from = 0, sum = 0;
	for (int i = 0; i < s->section_count && from < top; i++) {
		rn_object section = rn_object_of(RN_SECTION, s->first_section + i);
		double height = rn_model_value(b->model, b->values, section, RN_ATTRIBUTE_HEIGHT, 0);
		sum += integrate(b, from, fmin(height, top));
		from = fmax(from, height);
	}
	return sum + integrate(b, from, top);
}

static bend_data data_of(const rn_model *model, const double *values, int stem, double of, double at)
{
	double modulus = rn_model_value(model, values, rn_object_of(RN_STEM, stem), RN_ATTRIBUTE_MODULUS, 0);
	return (bend_data){model, values, stem, of, at, modulus, true};
}

double rn_stem_bends(const rn_model *model, const double *values, int stem, double of, double at)
{
	bend_data b = data_of(model, values, stem, of, at);
	return along_stem(&b);
}

double rn_stem_shortens(const rn_model *model, const double *values, int stem, double of, double at)
{
	bend_data b = data_of(model, values, stem, of, at);
	b.sideways = false;
	return along_stem(&b);
}

/* ---- a tree ---------------------------------------------------------------------------------- */

/* Wood both places hang on: each stem from the root on, as far up as the lower of the two leaves it. */
enum { BRANCHES_DEEP = 16 };

typedef struct path {
	int stems[BRANCHES_DEEP];
	double tops[BRANCHES_DEEP]; /* where the next one leaves it, or the place itself */
	int count;
} path;

static void find_path(const rn_model *m, const double *values, int stem, double height, path *out)
{
	if (m->stems[stem].on != RN_NONE) {
		double at = rn_model_value(m, values, rn_object_of(RN_STEM, stem), RN_ATTRIBUTE_HEIGHT, 0);
		find_path(m, values, m->stems[stem].on, at, out);
	}
	if (out->count == BRANCHES_DEEP)
		return;
	out->stems[out->count] = stem;
	out->tops[out->count++] = height;
}

typedef struct tree_data {
	bend_data wood;
	double of[2], at[2], along[2]; /* places of the two forces, direction of the wood */
} tree_data;

/* The two integrands at z: moments of the unit forces, and their parts along the wood. */
static void tree_integrand(const tree_data *t, double z, double out[4])
{
	double axis[2], outside;
	const bend_data *b = &t->wood;
	rn_stem_at(b->model, b->values, b->stem, z, axis, &outside);
	double diameter = rn_stem_wood(b->model, b->values, b->stem, z);
	double wall = rn_stem_wall(b->model, b->values, b->stem, z);
	double bending = 1 / (b->modulus * rn_section_inertia(diameter, wall));
	double pressing = 1 / (b->modulus * rn_section_area(diameter, wall));
	/* moment of e_x at p about the axis: -(p_y - axis_y); of e_y: p_x - axis_x */
	const double m_of[2] = {axis[1] - t->of[1], t->of[0] - axis[0]};
	const double m_at[2] = {axis[1] - t->at[1], t->at[0] - axis[0]};
	for (int i = 0; i < 2; i++)
		for (int j = 0; j < 2; j++)
			out[2 * i + j] = m_at[i] * m_of[j] * bending + t->along[i] * t->along[j] * pressing;
}

static void tree_integrate(const tree_data *t, double from, double to, double out[4])
{
	double step = (to - from) / PARTS, value[4];
	for (int i = 0; i < PARTS && step > 0; i++)
		for (int k = 0; k < 5; k++) {
			tree_integrand(t, from + step * (i + (1 + gauss_at[k]) / 2), value);
			for (int n = 0; n < 4; n++)
				out[n] += gauss_weight[k] * step / 2 * value[n];
		}
}

static void along_wood(const tree_data *t, double top, double out[4])
{
	const rn_stem *s = &t->wood.model->stems[t->wood.stem];
	double from = 0;
	for (int i = 0; i < s->section_count && from < top; i++) {
		rn_object section = rn_object_of(RN_SECTION, s->first_section + i);
		double height =
			rn_model_value(t->wood.model, t->wood.values, section, RN_ATTRIBUTE_HEIGHT, 0);
		tree_integrate(t, from, fmin(height, top), out);
		from = fmax(from, height);
	}
	tree_integrate(t, from, top, out);
}

void rn_tree_bends(const rn_model *m, const double *values, int stem_of, double of, int stem_at, double at,
                   double out[4])
{
	path a = {.count = 0}, b = {.count = 0};
	tree_data t;
	double unused;
	find_path(m, values, stem_of, of, &a);
	find_path(m, values, stem_at, at, &b);
	rn_stem_at(m, values, stem_of, of, t.of, &unused);
	rn_stem_at(m, values, stem_at, at, t.at, &unused);
	for (int n = 0; n < 4; n++)
		out[n] = 0;
	for (int k = 0; k < a.count && k < b.count && a.stems[k] == b.stems[k]; k++) {
		rn_object stem = rn_object_of(RN_STEM, a.stems[k]);
		double lean = rn_model_value(m, values, stem, RN_ATTRIBUTE_LEAN, 0);
		if (m->stems[a.stems[k]].section_count == 0)
			continue;
		t.along[0] = sin(lean);
		t.along[1] = cos(lean);
		t.wood = data_of(m, values, a.stems[k], 0, 0);
		along_wood(&t, fmin(a.tops[k], b.tops[k]), out);
	}
}
