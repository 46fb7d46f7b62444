/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Manufactured answers. A shape and all its tensions are drawn at random first; unstretched
 * lengths, loads and the ratios of friction are then what they must be for it to be at rest. The
 * solver gets these, with every free node drawn somewhere else, and must return the shape and the
 * tensions.
 *
 * Why that is the answer, and not one of several:
 *
 *   points   every rope a chain of straight spans between points: the energy is convex, so a
 *            place of rest is its least value, and every tension, the slope of a convex energy in
 *            a length, is the same at all places where it is least. Places are compared only
 *            where the curvature of the energy (own sum, factored here) is positive with a
 *            margin: a slack or collinear part may leave a node free. Drawn up to 3 m off.
 *   treads   the same round treads, which lie far apart against their size (t > 2 |rho|, no two
 *            bodies near): there the energy is convex near the answer, not everywhere. Sides are
 *            written; drawn up to 0.3 m off.
 *   running  lines with friction have no energy, and nothing says that there is one answer.
 *            Shapes are taken that stand firm without it; drawn up to 0.1 m off.
 *   props    bars that push make the energy fall off somewhere. Only shapes are taken whose
 *            curvature is positive with a margin, and the drawing lies within 1 cm. Where a rope
 *            that steadies a prop is slack as drawn, the drawing can still lie outside that
 *            hollow.
 *
 * What can come back instead is counted: not found (under one in a thousand); for treads,
 * friction and props another place of rest, its balance closed, every rope as long as it was and
 * its tensions in the ratios of its bends (two in a thousand with friction, else one); "would
 * topple" of a prop (counted as elsewhere). For points another answer is wrong. Nothing else may
 * happen.
 *
 * How many digits are right is told by condition, EA over the largest tension: a length that is handed over rounded
 * moves the tension of its rope by eps EA, and friction hands that on.
 *
 * RN_MANUFACTURED in the environment is the number of networks of each kind, RN_MANUFACTURED_FIRST the number of the
 * first: a million is told in pieces (tests/long.sh).
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/build.h"
#include "tests/support.h"

#ifndef RN_MANUFACTURED_COUNT
#define RN_MANUFACTURED_COUNT 25000
#endif

static const double pi = 3.14159265358979323846;

enum { NODES = 14, ROPES = 24, STOPS = 6, DIGITS = 17 };

typedef enum family { POINTS, TREADS, RUNNING, PROPS, FAMILY_COUNT } family;

static const char *const family_names[] = {"points", "treads", "running", "props"};

/* How far from the answer a free node is drawn [m]. */
static const double drawn_off[] = {3, 0.3, 0.1, 0.01};

/* Largest error of a tension, of the largest one [-]; that of a place, of the drawing. Lengths are
 * handed over rounded, which moves a tension by eps EA at most: ropes are up to 1e6 times as stiff
 * as they are loaded. */
static const double tension_allowed = 1e-8, place_allowed = 1e-7;

/* Share of draws that need not be found; that may be found elsewhere [-]. */
static const double lost_allowed = 1e-3, elsewhere_allowed[] = {0, 1e-3, 2e-3, 1e-3};

typedef struct rope {
	rn_object_kind kind; /* RN_SLING, RN_LINE, RN_PROP */
	int stops[STOPS], stop_count;
	double radius[STOPS], exponent[STOPS], loss[STOPS]; /* of a through; loss: (1 - eta)/(1 + eta) */
	int side[STOPS];
	double stiffness, tension; /* of the first span; 0 = slack */
	double length0, weight;
	bool toward_last, pulled;
	/* as laid out in the shape at hand */
	double t[STOPS], rho[STOPS], phi[STOPS], share[STOPS], bend[STOPS];
} rope;

typedef struct network {
	support_random random;
	family family;
	int node_count, anchor_count, rope_count;
	rn_node_kind kind[NODES];
	double place[NODES][2], drawn[NODES][2], force[NODES][2], weight[NODES];
	rope ropes[ROPES];
	double largest, size;
} network;

static double between(network *n, double low, double high)
{
	return support_random_between(&n->random, low, high);
}

static bool chance(network *n, double probability)
{
	return support_random_chance(&n->random, probability);
}

static int below(network *n, int count)
{
	return support_random_below(&n->random, count);
}

/* ---- geometry, written anew --------------------------------------------- */

/* Tangents and bends at the given places; false where a span has none. */
static bool lay(rope *r, double place[][2])
{
	for (int k = 0; k + 1 < r->stop_count; k++) {
		const double *a = place[r->stops[k]], *b = place[r->stops[k + 1]];
		double dx = b[0] - a[0], dy = b[1] - a[1], d = hypot(dx, dy);
		r->rho[k] = r->side[k] * r->radius[k] - r->side[k + 1] * r->radius[k + 1];
		if (d <= fabs(r->rho[k]))
			return false;
		r->t[k] = sqrt(d * d - r->rho[k] * r->rho[k]);
		r->phi[k] = atan2(dy, dx) + asin(r->rho[k] / d);
		if (k > 0) {
			double turn = remainder(r->phi[k] - r->phi[k - 1], 2 * pi);
			r->bend[k] = r->radius[k] > 0 ? r->side[k] * turn : fabs(turn);
		}
	}
	return true;
}

/* Tension after over tension before a through, in the direction in which the rope runs:
 * (q - 1)^2 = c^2 (1 + q^2 - 2 q cos bend) for a sheave, e^(mu bend) for a pin. */
static double ratio_at(const rope *r, int k)
{
	double c = r->loss[k], q = exp(r->exponent[k] * r->bend[k]);
	if (c > 0) {
		double half = (1 - c * c * cos(r->bend[k])) / (1 - c * c);
		q = half + sqrt(fmax(half * half - 1, 0));
	}
	return r->toward_last ? q : 1 / q;
}

static void share_out(rope *r)
{
	r->share[0] = 1;
	for (int k = 1; k + 1 < r->stop_count; k++)
		r->share[k] = r->share[k - 1] * ratio_at(r, k);
}

/* Unstretched part of an arc over its length, the tension rising evenly in its logarithm; by Gauss
 * and Legendre's five points. */
static double arc_part(double before, double after, double stiffness)
{
	static const double at[] = {0, 0.538469310105683091, 0.906179845938663993};
	static const double weight[] = {0.568888888888888889, 0.478628670499366468, 0.236926885056189088};
	double sum = 0, k = log(after / before);
	for (int i = -2; i <= 2; i++) {
		double s = 0.5 + 0.5 * (i < 0 ? -at[-i] : at[i]);
		sum += 0.5 * weight[i < 0 ? -i : i] / (1 + before * exp(k * s) / stiffness);
	}
	return sum;
}

static double unstretched(const rope *r)
{
	double sum = 0;
	for (int k = 0; k + 1 < r->stop_count; k++) {
		double tension = r->tension * r->share[k];
		sum += r->t[k] / (1 + tension / r->stiffness);
		if (k > 0 && r->radius[k] > 0)
			sum += r->radius[k] * r->bend[k] *
			       arc_part(r->tension * r->share[k - 1], tension, r->stiffness);
	}
	return sum;
}

/* ---- drawing --------------------------------------------- */

static bool apart(double place[][2], int count, const double *at, double least)
{
	for (int i = 0; i < count; i++)
		if (hypot(place[i][0] - at[0], place[i][1] - at[1]) < least)
			return false;
	return true;
}

static int add_node(network *n, rn_node_kind kind)
{
	int i = n->node_count++;
	n->kind[i] = kind;
	do {
		n->place[i][0] = between(n, -6, 6);
		n->place[i][1] = between(n, 0, 12);
	} while (!apart(n->place, i, n->place[i], 0.8));
	return i;
}

static rope *add_rope(network *n, rn_object_kind kind, int from, int to)
{
	rope *r = &n->ropes[n->rope_count++];
	*r = (rope){.kind = kind, .stops = {from, to}, .stop_count = 2};
	r->tension = pow(10, between(n, 1, 4));
	r->stiffness = r->tension * pow(10, between(n, 0.7, 6));
	return r;
}

static void add_prop(network *n, int from, int to)
{
	rope *r = add_rope(n, RN_PROP, from, to);
	r->stiffness = fmax(r->stiffness, 100 * r->tension);
	if (chance(n, 0.7))
		r->tension = -r->tension;
	r->weight = chance(n, 0.5) ? between(n, 10, 1000) : 0;
}

static bool joined(const network *n, int a, int b)
{
	for (int i = 0; i < n->rope_count; i++) {
		const int *s = n->ropes[i].stops;
		if (n->ropes[i].stop_count == 2 &&
		    ((s[0] == a && s[1] == b) || (s[0] == b && s[1] == a)))
			return true;
	}
	return false;
}

/* Every free node hangs on one that came before it, so that all lead to an anchor. */
static void add_tree(network *n)
{
	static const rn_node_kind kinds[] = {RN_NODE_RING, RN_NODE_BLOCK, RN_NODE_JOINT, RN_NODE_PIECE};
	n->anchor_count = 1 + below(n, 4);
	for (int i = 0; i < n->anchor_count; i++)
		add_node(n, i == 0 || chance(n, 0.7) ? RN_NODE_ANCHOR : RN_NODE_HAND);
	int free_count = 1 + below(n, 6);
	for (int i = 0; i < free_count; i++) {
		int before = below(n, n->node_count), node = add_node(n, kinds[below(n, 4)]);
		if (n->family == PROPS && (i == 0 || chance(n, 0.3)))
			add_prop(n, before, node);
		else
			add_rope(n, RN_SLING, before, node);
	}
}

static void add_more_slings(network *n)
{
	int count = below(n, 5) + (n->family == PROPS ? 2 : 0);
	for (int i = 0; i < count; i++) {
		int a = n->anchor_count + below(n, n->node_count - n->anchor_count), b = below(n, n->node_count);
		if (a == b || joined(n, a, b))
			continue;
		rope *r = add_rope(n, RN_SLING, b, a);
		if (chance(n, 0.2))
			r->tension = 0;
	}
}

static void add_grip(network *n, rope *r, int k)
{
	if (n->family != RUNNING)
		return;
	if (chance(n, 0.5))
		r->exponent[k] = between(n, 0.02, 0.15);
	else
		r->loss[k] = between(n, 0.01, 0.05);
}

static void add_line(network *n)
{
	int order[NODES], most = n->node_count < STOPS ? n->node_count : STOPS;
	if (most < 3)
		return;
	support_random_permute(&n->random, order, n->node_count);
	rope *r = add_rope(n, RN_LINE, order[0], order[1]);
	r->stop_count = 3 + below(n, most - 2);
	r->toward_last = chance(n, 0.5);
	bool treads = n->family == TREADS || (n->family == RUNNING && chance(n, 0.5));
	for (int k = 0; k < r->stop_count; k++) {
		r->stops[k] = order[k];
		if (k == 0 || k + 1 == r->stop_count)
			continue;
		r->radius[k] = treads && chance(n, 0.8) ? between(n, 0.01, 0.07) : 0;
		add_grip(n, r, k);
	}
	r->pulled = n->kind[r->stops[r->stop_count - 1]] == RN_NODE_HAND && chance(n, 0.5);
}

/* The side to which the rope turns round each tread. */
static void choose_sides(network *n, rope *r)
{
	for (int k = 1; k + 1 < r->stop_count; k++) {
		const double *a = n->place[r->stops[k - 1]], *b = n->place[r->stops[k]],
		             *c = n->place[r->stops[k + 1]];
		double turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
		r->side[k] = turn > 0 ? 1 : -1;
	}
}

/* Treads far apart, bends that are bends. */
static bool is_clear(const rope *r)
{
	for (int k = 0; k + 1 < r->stop_count; k++)
		if (r->t[k] < 2 * fabs(r->rho[k]) + 0.05)
			return false;
	for (int k = 1; k + 1 < r->stop_count; k++)
		if (r->bend[k] < 0.1 || r->bend[k] > 3.0)
			return false;
	return true;
}

/* ---- what follows from shape and tensions --------------------------------------------- */

static void pull_on(network *n, int node, double x, double y)
{
	n->force[node][0] += x;
	n->force[node][1] += y;
}

/* The loads are what balances the ropes. */
static void balance(network *n)
{
	memset(n->force, 0, sizeof n->force);
	n->largest = 0;
	for (int i = 0; i < n->rope_count; i++) {
		rope *r = &n->ropes[i];
		for (int k = 0; k + 1 < r->stop_count; k++) {
			double tension = r->tension * r->share[k];
			double x = tension * cos(r->phi[k]), y = tension * sin(r->phi[k]);
			pull_on(n, r->stops[k], -x, -y);
			pull_on(n, r->stops[k + 1], x, y);
			n->largest = fmax(n->largest, fabs(tension));
		}
		pull_on(n, r->stops[0], 0, r->weight / 2);
		pull_on(n, r->stops[r->stop_count - 1], 0, r->weight / 2);
	}
	for (int i = n->anchor_count; i < n->node_count; i++) {
		n->weight[i] = n->force[i][1] < 0 && chance(n, 0.5) ? -n->force[i][1] * between(n, 0, 1) : 0;
		n->force[i][1] += n->weight[i];
	}
}

static bool follow(network *n)
{
	n->size = 0;
	for (int i = 0; i < n->node_count; i++)
		n->size = fmax(n->size, hypot(n->place[i][0] - n->place[0][0], n->place[i][1] - n->place[0][1]));
	for (int i = 0; i < n->rope_count; i++) {
		rope *r = &n->ropes[i];
		choose_sides(n, r);
		if (!lay(r, n->place) || !is_clear(r))
			return false;
		share_out(r);
		r->length0 = unstretched(r);
		if (r->tension == 0)
			r->length0 *= 1 + pow(10, between(n, -6, -0.5));
	}
	balance(n);
	return true;
}

/* ---- curvature of the energy --------------------------------------------- */

enum { WIDTH = 2 * NODES };

static void add_square(double k[WIDTH][WIDTH], const double *v, double factor, int size)
{
	for (int i = 0; i < size; i++)
		for (int j = 0; j < size; j++)
			k[i][j] += factor * v[i] * v[j];
}

static void add_curvature(const network *n, const rope *r, double k[WIDTH][WIDTH])
{
	double along[WIDTH] = {0};
	int size = 2 * n->node_count;
	if (r->tension == 0)
		return;
	for (int s = 0; s + 1 < r->stop_count; s++) {
		double across[WIDTH] = {0}, ux = cos(r->phi[s]), uy = sin(r->phi[s]);
		int i = 2 * r->stops[s], j = 2 * r->stops[s + 1];
		along[i] -= ux;
		along[i + 1] -= uy;
		along[j] += ux;
		along[j + 1] += uy;
		across[i] = uy;
		across[i + 1] = -ux;
		across[j] = -uy;
		across[j + 1] = ux;
		add_square(k, across, r->tension * r->share[s] / r->t[s], size);
	}
	if (!r->pulled)
		add_square(k, along, r->stiffness / r->length0, size);
}

/* Whether sum EA/L0 g g^T + sum T/t n n^T less the margin has only positive pivots over the free
 * nodes. The margin is this part of the largest tension over the drawing [-]. */
static bool is_firm(const network *n, double part)
{
	double k[WIDTH][WIDTH] = {{0}};
	int from = 2 * n->anchor_count, to = 2 * n->node_count;
	for (int i = 0; i < n->rope_count; i++)
		add_curvature(n, &n->ropes[i], k);
	for (int p = from; p < to; p++)
		k[p][p] -= part * n->largest / n->size;
	for (int p = from; p < to; p++) {
		if (k[p][p] <= 0)
			return false;
		for (int i = p + 1; i < to; i++) {
			double factor = k[i][p] / k[p][p];
			for (int j = p; j < to; j++)
				k[i][j] -= factor * k[p][j];
		}
	}
	return true;
}

/* ---- the drawing that the solver gets --------------------------------------------- */

/* The prop of which a node is the head, if any: its length is that of its drawing. */
static const rope *prop_under(const network *n, int node)
{
	for (int i = 0; i < n->rope_count; i++)
		if (n->ropes[i].kind == RN_PROP && n->ropes[i].stops[1] == node)
			return &n->ropes[i];
	return NULL;
}

static void displace(network *n, int node)
{
	double off = drawn_off[n->family] * between(n, 0, 1), angle = between(n, -pi, pi);
	n->drawn[node][0] = n->place[node][0] + off * cos(angle);
	n->drawn[node][1] = n->place[node][1] + off * sin(angle);
	const rope *prop = prop_under(n, node);
	if (!prop)
		return;
	const double *heel = n->drawn[prop->stops[0]];
	double dx = n->drawn[node][0] - heel[0], dy = n->drawn[node][1] - heel[1];
	double part = prop->length0 / hypot(dx, dy);
	n->drawn[node][0] = heel[0] + part * dx;
	n->drawn[node][1] = heel[1] + part * dy;
}

/* Heads come after heels, so that one pass is enough. False where the drawing has no tangents. */
static bool draw_elsewhere(network *n)
{
	memcpy(n->drawn, n->place, sizeof n->drawn);
	for (int i = n->anchor_count; i < n->node_count; i++) {
		int tries = 0;
		do
			displace(n, i);
		while (!apart(n->drawn, i, n->drawn[i], 0.35) && ++tries < 50);
		if (tries == 50)
			return false;
	}
	for (int i = 0; i < n->rope_count; i++) {
		rope as_drawn = n->ropes[i];
		if (!lay(&as_drawn, n->drawn))
			return false;
		for (int k = 0; n->family != POINTS && k + 1 < as_drawn.stop_count; k++)
			if (as_drawn.t[k] < 1.2 * fabs(as_drawn.rho[k]) + 0.02)
				return false;
	}
	return true;
}

/* The largest stiffness over the largest tension. */
static double condition(const network *n)
{
	double most = 0;
	for (int i = 0; i < n->rope_count; i++)
		most = fmax(most, n->ropes[i].stiffness / n->largest);
	return most;
}

/* Margins of the curvature of shapes that are taken, of those whose places are compared [-]. */
static const double firm_least[] = {0, 0, 0.2, 0.5}, firm_place = 1e-3;

static network draw(family kind, uint64_t seed)
{
	network n;
	/* one stream for all seeds, entered far apart: near ones would run into each other */
	support_random random = support_random_from(seed * 0xd1342543de82ef95u);
	bool at_rest;
	do {
		n = (network){.random = random, .family = kind};
		add_tree(&n);
		add_more_slings(&n);
		int lines = kind == TREADS || kind == RUNNING ? 1 + below(&n, 2) : below(&n, 3);
		for (int i = 0; i < lines; i++)
			add_line(&n);
		at_rest = follow(&n);
		random = n.random; /* the next try goes on from here */
		at_rest = at_rest && (firm_least[kind] == 0 || is_firm(&n, firm_least[kind]));
	} while (!at_rest || !draw_elsewhere(&n));
	return n;
}

/* ---- the model --------------------------------------------- */

static void build_prop(rn_model *m, const rope *r, const char *id)
{
	rn_prop prop = {.id = id, .from = r->stops[0], .to = r->stops[1]};
	int i;
	assert_int_equal(rn_model_add_prop(m, &prop, &i), RN_OK);
	rn_object object = rn_object_of(RN_PROP, i);
	build_number(m, object, RN_ATTRIBUTE_DIAMETER, 0.2);
	build_number(m, object, RN_ATTRIBUTE_MODULUS, r->stiffness / (pi / 4 * 0.04));
	if (r->weight > 0)
		build_number(m, object, RN_ATTRIBUTE_WEIGHT, r->weight);
}

static void build_through(rn_model *m, const rope *r, int k)
{
	int i = build_station(m, RN_THROUGH, r->stops[k], 2 * r->radius[k], r->side[k]);
	rn_object station = rn_object_of(RN_STATION, i);
	if (r->loss[k] > 0)
		build_number(m, station, RN_ATTRIBUTE_EFFICIENCY, (1 - r->loss[k]) / (1 + r->loss[k]));
	else
		build_number(m, station, RN_ATTRIBUTE_FRICTION, r->exponent[k]);
}

static void build_rope_line(rn_model *m, const network *n, const rope *r, const char *id)
{
	int line = build_line(m, id, r->stiffness), last = r->stop_count - 1;
	for (int k = 0; k < r->stop_count; k++) {
		bool hand = n->kind[r->stops[k]] == RN_NODE_HAND;
		if (k > 0 && k < last)
			build_through(m, r, k);
		else
			build_station(m, hand ? RN_HOLD : RN_TIE, r->stops[k], 0, 0);
	}
	if (!r->pulled)
		build_number(m, rn_object_of(RN_LINE, line), RN_ATTRIBUTE_LENGTH, r->length0);
	else
		build_number(m, rn_object_of(RN_STATION, m->station_count - 1), RN_ATTRIBUTE_PULL,
		             r->tension * r->share[last - 1]);
}

static void build_case(rn_model *m, const network *n)
{
	rn_case c = {.id = "case", .level = n->family == RUNNING ? RN_FRICTION_NOMINAL : RN_FRICTION_NONE};
	int at;
	assert_int_equal(rn_model_add_case(m, &c, &at), RN_OK);
	for (int i = 0, line = 0; i < n->rope_count; i++) {
		if (n->ropes[i].kind != RN_LINE)
			continue;
		rn_run run = {.line = line++, .toward_last = n->ropes[i].toward_last, .at = RN_NONE};
		assert_int_equal(rn_model_add_run(m, at, &run), RN_OK);
	}
	for (int i = n->anchor_count; i < n->node_count; i++) {
		rn_force force = {.case_index = at, .node = i};
		int f;
		assert_int_equal(rn_model_add_force(m, &force, &f), RN_OK);
		rn_object object = rn_object_of(RN_FORCE, f);
		build_number(m, object, RN_ATTRIBUTE_SIZE, hypot(n->force[i][0], n->force[i][1]));
		build_number(m, object, RN_ATTRIBUTE_TOWARD, atan2(n->force[i][1], n->force[i][0]));
	}
}

static rn_model *model_of(const network *n)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	char id[16];
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	m->made_cases = false;
	for (int i = 0; i < n->node_count; i++) {
		snprintf(id, sizeof id, "n%d", i);
		build_node(m, id, n->kind[i], n->drawn[i][0], n->drawn[i][1], n->weight[i]);
	}
	for (int i = 0; i < n->rope_count; i++) {
		const rope *r = &n->ropes[i];
		snprintf(id, sizeof id, "r%d", i);
		if (r->kind == RN_PROP)
			build_prop(m, r, id);
		else if (r->kind == RN_LINE)
			build_rope_line(m, n, r, id);
		else
			build_sling(m, id, r->stops[0], r->stops[1], r->stiffness, r->length0);
	}
	build_case(m, n);
	return m;
}

/* ---- comparing --------------------------------------------- */

/* Decades of condition, two together. */
enum { CONDITIONS = 5 };

typedef struct tally {
	family family;
	int count, lost, elsewhere, wrong, placed;
	int digits[DIGITS + 1]; /* how many networks had so many right digits in their worst tension */
	int by_condition[CONDITIONS][DIGITS + 1];
	double worst_by[CONDITIONS];
	double worst, worst_place;
	int worst_seed;
} tally;

static double tension_error(const network *n, const rn_case_result *answer)
{
	int counts[RN_OBJECT_KIND_COUNT] = {0};
	double most = 0;
	for (int i = 0; i < n->rope_count; i++) {
		const rope *r = &n->ropes[i];
		int index = counts[r->kind]++;
		for (int k = 0; k + 1 < r->stop_count; k++) {
			double found = net_tension(answer, r->kind, index, k);
			most = fmax(most, fabs(found - r->tension * r->share[k]));
		}
	}
	return most / n->largest;
}

static double place_error(const network *n, const rn_case_result *answer)
{
	double most = 0;
	for (int i = 0; i < n->node_count; i++) {
		const double *found = answer->nodes[i].place;
		most = fmax(most, hypot(found[0] - n->place[i][0], found[1] - n->place[i][1]));
	}
	return most / n->size;
}

/* Whether an end of the rope has come up to this tread, which counts as a point then. */
static bool is_drawn_up(const rope *r, int k, const rn_case_result *answer)
{
	const double *at = answer->nodes[r->stops[k]].place;
	bool drawn = false;
	for (int end = 0; end < 2; end++) {
		int neighbour = end ? k + 1 : k - 1;
		const double *from = answer->nodes[r->stops[neighbour]].place;
		bool is_end = neighbour == 0 || neighbour == r->stop_count - 1;
		drawn = drawn || (is_end && hypot(at[0] - from[0], at[1] - from[1]) <= 1.06 * r->radius[k]);
	}
	return drawn;
}

/* Whether an answer, wherever it lies, is a place of rest: its ropes as long as they were, their
 * tensions in the ratios of its bends. That its forces balance is tested apart. */
static bool rope_rests(const rope *r, int index, const rn_case_result *answer)
{
	double sum = 0, before = 0, stretched = 0;
	const rn_pass_result *pass = answer->passes;
	while (r->kind == RN_LINE && pass < answer->passes + answer->pass_count && pass->line != index)
		pass++;
	rope found = *r;
	for (int i = 0, k = 0; i < answer->span_count; i++) {
		const rn_span_result *span = &answer->spans[i];
		if (span->member.kind != r->kind || span->member.index != index)
			continue;
		if (k > 0) {
			double arc = pass->radius * pass->bend;
			found.bend[k] = pass->bend;
			double off = span->tension - before * ratio_at(&found, k);
			bool same_tread = (pass->radius > 0) == (r->radius[k] > 0) || is_drawn_up(r, k, answer);
			bool is_slack = span->tension == 0 && before == 0; /* lies anyhow */
			if (!is_slack && (pass->bend < -1e-9 || !same_tread || fabs(off) > 1e-9 * fabs(span->tension)))
				return false;
			stretched += arc;
			sum += arc > 0 && before > 0 ? arc * arc_part(before, span->tension, r->stiffness) : arc;
			pass++;
		}
		stretched += span->length;
		sum += span->length / (1 + span->tension / r->stiffness);
		before = span->tension;
		k++;
	}
	if (r->pulled)
		return true;
	return before == 0 ? stretched <= r->length0 * (1 + 1e-9) : fabs(sum / r->length0 - 1) < 1e-9;
}

/* The loads that were handed over, as weights, forces and halves of props. */
static bool is_loaded(const network *n, const rn_case_result *answer)
{
	double load[NODES][2];
	for (int i = 0; i < n->node_count; i++) {
		load[i][0] = n->force[i][0];
		load[i][1] = n->force[i][1] - n->weight[i];
	}
	for (int i = 0; i < n->rope_count; i++) {
		const rope *r = &n->ropes[i];
		load[r->stops[0]][1] -= r->weight / 2;
		load[r->stops[r->stop_count - 1]][1] -= r->weight / 2;
	}
	for (int i = n->anchor_count; i < n->node_count; i++) {
		const double *found = answer->nodes[i].load;
		if (hypot(found[0] - load[i][0], found[1] - load[i][1]) > 1e-12 * n->largest)
			return false;
	}
	return true;
}

static bool rests(const network *n, const rn_case_result *answer)
{
	if (!is_loaded(n, answer))
		return false;
	int counts[RN_OBJECT_KIND_COUNT] = {0};
	for (int i = 0; i < n->rope_count; i++)
		if (!rope_rests(&n->ropes[i], counts[n->ropes[i].kind]++, answer))
			return false;
	return true;
}

static void note_digits(tally *t, const network *n, double error)
{
	int digits = error > 0 ? (int)floor(-log10(error)) : DIGITS;
	digits = digits < 0 ? 0 : digits > DIGITS ? DIGITS : digits;
	double decades = log10(condition(n)) / 2;
	int row = decades < CONDITIONS - 1 ? (int)fmax(decades, 0) : CONDITIONS - 1;
	t->digits[digits]++;
	t->by_condition[row][digits]++;
	t->worst_by[row] = fmax(t->worst_by[row], error);
}

static void tell(tally *t, int seed, const char *what, double error)
{
	t->wrong++;
	print_error("%s %d: %s (%.2e)\n", family_names[t->family], seed, what, error);
}

static bool says_topples(const rn_case_result *answer)
{
	bool says = false;
	for (int i = 0; i < answer->notes.count; i++)
		says = says || answer->notes.items[i].kind == RN_NOTE_TOPPLES;
	return says && answer->outcome == RN_OUTCOME_NO_EQUILIBRIUM;
}

static void compare(tally *t, const network *n, int seed, const rn_case_result *answer)
{
	if (answer->outcome == RN_OUTCOME_NOT_FOUND) {
		t->lost++;
		return;
	}
	if (t->family == PROPS && says_topples(answer)) {
		t->elsewhere++;
		return;
	}
	if (answer->outcome != RN_OUTCOME_SETTLED) {
		tell(t, seed, "has no equilibrium", 0);
		return;
	}
	double error = tension_error(n, answer), off = place_error(n, answer);
	if (!answer->balance.closed) { /* and so not given out */
		t->lost++;
		return;
	}
	if (!rests(n, answer)) {
		tell(t, seed, "is not at rest", error);
		return;
	}
	if (t->family != POINTS && error > tension_allowed) {
		t->elsewhere++;
		return;
	}
	note_digits(t, n, error);
	if (error > t->worst) {
		t->worst = error;
		t->worst_seed = seed;
	}
	if (!(error <= tension_allowed))
		tell(t, seed, "a tension differs", error);
	if (!is_firm(n, firm_place))
		return;
	t->placed++;
	t->worst_place = fmax(t->worst_place, off);
	if (!(off <= place_allowed))
		tell(t, seed, "a place differs", off);
}

static void try_one(tally *t, int seed)
{
	network n = draw(t->family, (uint64_t)seed * FAMILY_COUNT + t->family);
	rn_model *m = model_of(&n);
	rn_options options = rn_options_default();
	rn_result *result;
	if (rn_model_check(m) != RN_OK)
		fail_msg("%s %d: %s", family_names[t->family], seed,
		         rn_note_text(m->findings.items[0].kind));
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	compare(t, &n, seed, &result->cases[0]);
	t->count++;
	rn_result_destroy(result);
	rn_model_destroy(m);
}

/* The log relative error, -log10 of the largest error of a tension over the largest tension: the least, and that which
 * half of the networks have at least. */
static void print_condition(const tally *t, int row)
{
	int count = 0, above = 0, half = DIGITS;
	for (int i = 0; i <= DIGITS; i++)
		count += t->by_condition[row][i];
	if (count == 0)
		return;
	for (int i = DIGITS; i >= 0 && 2 * above < count; i--) {
		above += t->by_condition[row][i];
		half = i;
	}
	print_message("   condition 1e%d to 1e%d: %d networks, least LRE %.2f, half have %d or more\n", 2 * row, 2 * row + 2, count,
	              t->worst_by[row] > 0 ? fmin(DIGITS, -log10(t->worst_by[row])) : DIGITS, half);
}

static void print_tally(const tally *t)
{
	print_message("%s: %d networks, worst tension %.1e (network %d), worst of %d placed %.1e, %d not "
	              "found, %d elsewhere\n   right digits:",
	              family_names[t->family], t->count, t->worst, t->worst_seed, t->placed,
	              t->worst_place, t->lost, t->elsewhere);
	for (int i = 0; i <= DIGITS; i++)
		if (t->digits[i] > 0)
			print_message(" %d: %d", i, t->digits[i]);
	print_message("\n");
	for (int row = 0; row < CONDITIONS; row++)
		print_condition(t, row);
}

/* Networks that were once answered wrongly, whatever else is tried. */
static const struct {
	family family;
	int seed;
} kept[] = {
	{RUNNING, 117391}, {RUNNING, 124867}, {RUNNING, 170474}, {RUNNING, 235657}, /* elsewhere, with a rope slack or drawn up */
	{TREADS, 181846}, /* an end that only came by a tread on the way, left as one that is drawn up to it */
};

static int wanted(const char *name, int otherwise)
{
	const char *text = getenv(name);
	return text ? (int)strtol(text, NULL, 10) : otherwise;
}

static void try_family(family kind)
{
	tally t = {.family = kind};
	int count = wanted("RN_MANUFACTURED", RN_MANUFACTURED_COUNT), first = wanted("RN_MANUFACTURED_FIRST", 0);
	for (int seed = first; seed < first + count; seed++)
		try_one(&t, seed);
	assert_true(t.count > 0);
	print_tally(&t);
	assert_int_equal(t.wrong, 0);
	/* one is no share of a short run */
	assert_true(t.lost <= fmax(1, lost_allowed * t.count));
	assert_true(t.elsewhere <= fmax(kind == POINTS ? 0 : 1, elsewhere_allowed[kind] * t.count));
	tally again = {.family = kind};
	for (size_t i = 0; i < sizeof kept / sizeof *kept; i++)
		if (kept[i].family == kind)
			try_one(&again, kept[i].seed);
	assert_int_equal(again.wrong, 0);
}

static void test_points(void **state)
{
	(void)state;
	try_family(POINTS);
}

static void test_treads(void **state)
{
	(void)state;
	try_family(TREADS);
}

static void test_running(void **state)
{
	(void)state;
	try_family(RUNNING);
}

static void test_props(void **state)
{
	(void)state;
	try_family(PROPS);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_points),
		cmocka_unit_test(test_treads),
		cmocka_unit_test(test_running),
		cmocka_unit_test(test_props),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
