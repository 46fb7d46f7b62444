/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What stems and branches feel: forces, stresses, the worst section, buckling and the verdict, against
 * published values, closed forms, an independent integration, and themselves turned about.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/model/place.h"
#include "solver/strength/stem.h"
#include "tests/build.h"
#include "tests/support.h"

static const double pi = 3.14159265358979323846;
static const double gravity = 9.80665; /* where a model says nothing */

/* ---- stems as plain data --------------------------------------------------------------------- */

enum { RIG_NODES = 12, RIG_STEMS = 4 };

typedef struct rig {
	rn_model *m;
	double *values;
	rn_node_result nodes[RIG_NODES];
	rn_case_result answer;
	rn_arena arena;
	rn_stems stems;
	rn_stem_result *results;
} rig;

static rig begin(void)
{
	rig r = {0};
	rn_allocator allocator = rn_allocator_default();
	assert_int_equal(rn_model_create(&allocator, &r.m), RN_OK);
	return r;
}

static void number(rig *r, rn_object_kind kind, int index, rn_attribute attribute, double value)
{
	build_number(r->m, rn_object_of(kind, index), attribute, value);
}

/* `on` RN_NONE: a foot at x = where, y = 0; else a branch at that height. */
static int add_stem(rig *r, int on, double where, double lean)
{
	rn_stem stem = {.id = "s", .on = on};
	int i;
	assert_int_equal(rn_model_add_stem(r->m, &stem, &i), RN_OK);
	number(r, RN_STEM, i, on == RN_NONE ? RN_ATTRIBUTE_X : RN_ATTRIBUTE_HEIGHT, where);
	number(r, RN_STEM, i, RN_ATTRIBUTE_LEAN, lean);
	if (on == RN_NONE)
		number(r, RN_STEM, i, RN_ATTRIBUTE_Y, 0);
	return i;
}

/* Of the stem added last; wall 0: solid. */
static void add_section(rig *r, double height, double diameter, double wall)
{
	rn_section section = {.stem = r->m->stem_count - 1};
	int i;
	assert_int_equal(rn_model_add_section(r->m, &section, &i), RN_OK);
	number(r, RN_SECTION, i, RN_ATTRIBUTE_HEIGHT, height);
	number(r, RN_SECTION, i, RN_ATTRIBUTE_DIAMETER, diameter);
	if (wall > 0)
		number(r, RN_SECTION, i, RN_ATTRIBUTE_WALL, wall);
}

static int add_node(rig *r, int stem, double height, rn_bark bark)
{
	rn_node node = {.id = "n", .kind = RN_NODE_ANCHOR, .gear = RN_NONE, .connector = RN_NONE,
	                .stem = stem, .bark = bark, .sling = RN_NONE};
	int i;
	assert_int_equal(rn_model_add_node(r->m, &node, &i), RN_OK);
	number(r, RN_NODE, i, RN_ATTRIBUTE_HEIGHT, height);
	return i;
}

static void set_pull(rig *r, int node, double x, double y)
{
	r->nodes[node].pull[0] = x;
	r->nodes[node].pull[1] = y;
}

static void fill(rig *r)
{
	rn_allocator allocator = rn_allocator_default();
	r->values = malloc((size_t)r->m->number_count * sizeof *r->values);
	assert_non_null(r->values);
	for (int i = 0; i < r->m->number_count; i++)
		r->values[i] = r->m->numbers[i].value;
	for (int i = 0; i < r->m->node_count; i++)
		rn_node_drawn(r->m, r->values, i, r->nodes[i].place);
	r->answer = (rn_case_result){.nodes = r->nodes};
	r->arena = rn_arena_make(&allocator);
	assert_int_equal(rn_stems_create(&r->arena, r->m, &r->stems, &r->results), RN_OK);
	rn_stems_fill(&r->stems, r->m, r->values, &r->answer, r->results);
	r->answer.stems = r->results;
}

static rn_stem_section at(rig *r, int stem, double height, bool above)
{
	rn_stem_section section;
	r->answer.nodes = r->nodes; /* a rig is returned by value, and its nodes stand in it */
	rn_stem_section_at(&r->stems, r->m, r->values, &r->answer, stem, height, above, &section);
	return section;
}

static void end(rig *r)
{
	rn_arena_release(&r->arena);
	free(r->values);
	rn_model_destroy(r->m);
}

/* One upright stem of one thickness, an anchor on its axis. */
static rig pole(double diameter, double length, double anchor, double x, double y)
{
	rig r = begin();
	add_stem(&r, RN_NONE, 1.37, 0);
	add_section(&r, 0, diameter, 0);
	add_section(&r, length, diameter, 0);
	set_pull(&r, add_node(&r, 0, anchor, RN_BARK_AXIS), x, y);
	return r;
}

static double area(double d)
{
	return pi / 4 * d * d;
}

static double inertia(double d)
{
	return pi / 64 * d * d * d * d;
}

/* ---- published ------------------------------------------------------------------------------- */

/* F = (pi/4) d^2 (sigma - (H - 1) rho g) / (cos a + 8 sin a (H - 1)/d), [N]; Tree Rescue Manual p. 136,
 * quoting RR668 (a trade copy). Rows as recomputed from it, F in kN. */
static const struct {
	double diameter, height, force[7];
} largest_forces[] = {
	{0.20, 10, {625.5448, 19.3235, 9.8514, 5.0420, 3.4586, 2.4506, 1.7376}},
	{0.40, 10, {2502.1793, 149.9727, 77.6075, 40.0327, 27.5370, 19.5504, 13.9010}},
	{0.60, 10, {5629.9034, 491.4850, 257.9851, 134.1024, 92.4966, 65.8007, 46.9159}},
	{0.40, 5, {2508.3431, 314.7763, 168.6093, 88.6299, 61.3797, 43.7942, 31.3543}},
};

static void test_largest_force(void **state)
{
	(void)state;
	static const double angles[] = {0, 5, 10, 20, 30, 45, 90};
	for (int row = 0; row < 4; row++)
		for (int k = 0; k < 7; k++) {
			double d = largest_forces[row].diameter, h = largest_forces[row].height;
			double a = angles[k] * pi / 180;
			double force = area(d) * (20e6 - (h - 1) * 1000 * 9.81) /
			               (cos(a) + 8 * sin(a) * (h - 1) / d);
			rn_assert_near(force / 1e3, largest_forces[row].force[k], 0, 0.5001e-4);
			rig r = pole(d, h, h, force * sin(a), -force * cos(a));
			number(&r, RN_RIGGING, 0, RN_ATTRIBUTE_GRAVITY, 9.81);
			number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, 1000);
			fill(&r);
			rn_assert_near(at(&r, 0, 1, true).compression, 20e6, 1e-12, 0);
			rn_assert_near(at(&r, 0, 1, false).compression, 20e6, 1e-12, 0);
			end(&r);
		}
}

/* Strength left in a centred hollow, 1 - (1 - t/R)^4; from the section modulus (recomputed rows). */
static void test_hollow(void **state)
{
	(void)state;
	static const double rows[][2] = {{0.10, 0.343900}, {0.15, 0.477994}, {0.20, 0.590400},
	                                 {0.25, 0.683594}, {0.30, 0.759900}, {0.35, 0.821494}};
	const double d = 0.437;
	for (int k = 0; k < 6; k++) {
		rig r = begin();
		add_stem(&r, RN_NONE, 0, 0);
		add_section(&r, 0, d, rows[k][0] * d / 2);
		set_pull(&r, add_node(&r, 0, 7.3, RN_BARK_AXIS), 2385, 0);
		fill(&r);
		double solid = 2385 * 7.3 / (pi * d * d * d / 32);
		rn_assert_near(solid / r.results[0].tension, rows[k][1], 0, 0.51e-6);
		rn_assert_near(r.results[0].compression, r.results[0].tension, 1e-13, 0);
		end(&r);
	}
}

/* Foot of a branch at 45 deg, 5 m long, from a redirect with 1 kN in the rope: Tree Rescue Manual p. 121
 * (printed 7.1, 3.5 and 0 kN m). */
static void test_branch_foot(void **state)
{
	(void)state;
	static const struct {
		double x, y, moment;
	} rows[] = {{0, -1, 7.0710678}, {-0.70710678118654752, -0.70710678118654752, 3.5355339}, {-1, 0, 0}};
	for (int k = 0; k < 3; k++) {
		rig r = begin();
		add_stem(&r, RN_NONE, 0, 0);
		add_section(&r, 0, 0.5, 0);
		int branch = add_stem(&r, 0, 6.1, pi / 4);
		add_section(&r, 0, 0.3, 0);
		set_pull(&r, add_node(&r, branch, 5, RN_BARK_AXIS), 1e3 * rows[k].x, 1e3 * (rows[k].y - 1));
		fill(&r);
		rn_assert_near(at(&r, branch, 0, true).moment, 1e3 * rows[k].moment, 1e-8, 1e-9);
		end(&r);
	}
}

/* A side load on a linear taper is worst where the stem is 1.5 x as thick as at the load, and at the
 * foot if it nowhere is: M/W ~ (h - z)/d(z)^3 is level there. Common practice; closed form. */
static void test_taper(void **state)
{
	(void)state;
	const double foot = 0.61, tip = 0.11, length = 13.7;
	for (int k = 0; k < 2; k++) {
		double anchor = k ? 4.7 : 11.3, taper = (foot - tip) / length;
		double there = foot - taper * anchor, expected = fmax((foot - 1.5 * there) / taper, 0);
		assert_true((expected > 0) == (k == 0)); /* both kinds are tried */
		rig r = begin();
		add_stem(&r, RN_NONE, 0, 0);
		add_section(&r, 0, foot, 0);
		add_section(&r, length, tip, 0);
		set_pull(&r, add_node(&r, 0, anchor, RN_BARK_AXIS), -1733, 0);
		fill(&r);
		rn_assert_near(r.results[0].height, expected, 1e-6, 1e-9);
		rn_assert_near(r.results[0].diameter, fmin(1.5 * there, foot), 1e-6, 0);
		rn_assert_near(r.results[0].moment, -1733 * (anchor - expected), 1e-6, 0);
		end(&r);
	}
}

/* ---- forces ---------------------------------------------------------------------------------- */

/* A leaning frustum, closed form: weight w pi L (D^2 + D d + d^2) / 12, its centre of mass at
 * L/4 (D^2 + 2 D d + 3 d^2) / (D^2 + D d + d^2). */
static void test_own_weight_of_a_leaning_frustum(void **state)
{
	(void)state;
	const double low = 0.53, high = 0.17, length = 14.2, lean = -0.31, density = 930;
	rig r = begin();
	add_stem(&r, RN_NONE, 0, lean);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, density);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_BARK, 0.023); /* the bark weighs, but carries nothing */
	add_section(&r, 0, low, 0);
	add_section(&r, length, high, 0);
	fill(&r);
	double squares = low * low + low * high + high * high;
	double weight = density * gravity * pi * length / 12 * squares;
	double centre = length / 4 * (low * low + 2 * low * high + 3 * high * high) / squares;
	rn_stem_section foot = at(&r, 0, 0, true);
	rn_assert_near(foot.axial, weight * cos(lean), 1e-13, 0);
	rn_assert_near(foot.shear, weight * sin(lean), 1e-13, 0);
	rn_assert_near(foot.moment, weight * centre * sin(lean), 1e-13, 0);
	rn_assert_near(foot.diameter, low - 0.046, 1e-13, 0);
	double bending = fabs(foot.moment) / (inertia(foot.diameter) / (foot.diameter / 2));
	rn_assert_near(foot.compression, bending + foot.axial / area(foot.diameter), 1e-13, 0);
	rn_assert_near(foot.tension, bending - foot.axial / area(foot.diameter), 1e-13, 0);
	assert_true(r.results[0].compression >= foot.compression); /* unloaded, but it has its own weight */
	assert_true(r.results[0].pull == 0 && r.results[0].pull_direction == 0);
	end(&r);
}

/* A tube that closes half way up: the hollow is a frustum too, whose tip stands inside the bay. Closed form. */
static void test_own_weight_of_a_hollow_that_closes(void **state)
{
	(void)state;
	const double low = 0.5, high = 0.2, length = 9, wall = 0.15, density = 1013;
	rig r = begin();
	add_stem(&r, RN_NONE, 0, 0);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, density);
	add_section(&r, 0, low, wall);
	add_section(&r, length, high, wall);
	fill(&r);
	double whole = pi * length / 12 * (low * low + low * high + high * high);
	double closes = (low - 2 * wall) / ((low - high) / length), inner = low - 2 * wall;
	double cone = pi * closes / 12 * inner * inner;
	rn_assert_near(at(&r, 0, 0, true).axial, density * gravity * (whole - cone), 1e-13, 0);
	assert_true(at(&r, 0, closes + 0.01, true).wall == 0); /* solid */
	assert_true(at(&r, 0, closes - 0.01, true).wall == wall);
	end(&r);
}

/* A rope down the bark presses beside the axis: M = N d/2, on every height below it. */
static void test_bark_side_bends(void **state)
{
	(void)state;
	for (int right = 0; right < 2; right++) {
		rig r = begin();
		add_stem(&r, RN_NONE, -2.2, 0);
		add_section(&r, 0, 0.47, 0);
		add_section(&r, 12, 0.23, 0);
		int node = add_node(&r, 0, 8.3, right ? RN_BARK_RIGHT : RN_BARK_LEFT);
		set_pull(&r, node, 0, -6543);
		fill(&r);
		double d = 0.47 - 0.24 * 8.3 / 12;
		for (double z = 0; z < 8.3; z += 1.19) {
			rn_assert_near(at(&r, 0, z, true).moment, (right ? 1 : -1) * 6543 * d / 2, 1e-12, 0);
			rn_assert_near(at(&r, 0, z, true).axial, 6543, 1e-13, 0);
		}
		assert_true(at(&r, 0, 8.3, true).axial == 0 && at(&r, 0, 8.3, false).axial > 0);
		end(&r);
	}
}

/* A lowering line over a block and down the bark to a bollard: 2 T from the block, T up at the bollard. */
static void test_bollard_takes_the_push_out(void **state)
{
	(void)state;
	const double t = 4321;
	rig r = begin();
	add_stem(&r, RN_NONE, 0, 0);
	add_section(&r, 0, 0.4, 0);
	int block = add_node(&r, 0, 9.7, RN_BARK_RIGHT), bollard = add_node(&r, 0, 1.3, RN_BARK_RIGHT);
	set_pull(&r, block, 0, -2 * t);
	set_pull(&r, bollard, 0, t);
	fill(&r);
	rn_assert_near(at(&r, 0, 1.3, true).axial, 2 * t, 1e-13, 0);
	rn_assert_near(at(&r, 0, 1.3, false).axial, t, 1e-13, 0);
	rn_assert_near(at(&r, 0, 0, true).moment, t * 0.2, 1e-12, 0);
	rn_assert_near(r.results[0].pull, 2 * t, 1e-13, 0); /* above the worst section, which is above it */
	rn_assert_near(r.results[0].pull_direction, -pi / 2, 1e-13, 0);
	assert_true(r.results[0].height >= 1.3);
	end(&r);
}

/* Stem, branch, branch of the branch: at the foot all forces and moments there are, summed by hand. */
static void test_branches_pass_everything_on(void **state)
{
	(void)state;
	const double density[3] = {870, 910, 1050};
	rig r = begin();
	add_stem(&r, RN_NONE, 2.1, 0.13);
	add_section(&r, 0, 0.6, 0);
	add_section(&r, 11, 0.3, 0);
	add_stem(&r, 0, 7.7, 1.1);
	add_section(&r, 0, 0.3, 0);
	add_section(&r, 5.1, 0.18, 0);
	add_stem(&r, 1, 3.3, -0.4);
	add_section(&r, 0, 0.16, 0);
	add_section(&r, 2.9, 0.07, 0);
	for (int i = 0; i < 3; i++)
		number(&r, RN_STEM, i, RN_ATTRIBUTE_DENSITY, density[i]);
	set_pull(&r, add_node(&r, 0, 9.2, RN_BARK_LEFT), -1200, -3100);
	set_pull(&r, add_node(&r, 1, 4.4, RN_BARK_RIGHT), 730, -2500);
	set_pull(&r, add_node(&r, 2, 2.6, RN_BARK_AXIS), 410, -950);
	fill(&r);
	double force[2] = {0, 0}, moment = 0, pulls[2] = {0, 0};
	for (int i = 0; i < 3; i++) {
		const rn_node_result *n = &r.nodes[i];
		for (int k = 0; k < 2; k++)
			pulls[k] += n->pull[k];
		moment += n->place[1] * n->pull[0] - (n->place[0] - 2.1) * n->pull[1];
	}
	const double shape[3][3] = {{0.6, 0.3, 11}, {0.3, 0.18, 5.1}, {0.16, 0.07, 2.9}};
	for (int i = 0; i < 3; i++) {
		double a = shape[i][0], b = shape[i][1], length = shape[i][2], axis[2], unused;
		double squares = a * a + a * b + b * b;
		double weight = density[i] * gravity * pi * length / 12 * squares;
		double centre = length / 4 * (a * a + 2 * a * b + 3 * b * b) / squares;
		rn_stem_at(r.m, r.values, i, centre, axis, &unused);
		force[1] -= weight;
		moment += (axis[0] - 2.1) * weight;
	}
	force[0] = pulls[0];
	force[1] += pulls[1];
	rn_stem_section foot = at(&r, 0, 0, true);
	rn_assert_near(foot.axial, -force[0] * sin(0.13) - force[1] * cos(0.13), 1e-12, 0);
	rn_assert_near(foot.shear, force[0] * cos(0.13) - force[1] * sin(0.13), 1e-12, 0);
	rn_assert_near(foot.moment, moment, 1e-12, 0);
	rn_assert_near(r.results[0].pull_direction, atan2(pulls[1], pulls[0]), 1e-12, 0);
	/* above the branch only the stem's own anchor is left */
	rn_stem_section above = at(&r, 0, 7.7, true), below = at(&r, 0, 7.7, false);
	assert_true(below.axial > above.axial + 3000);
	assert_true(at(&r, 2, 2.6, true).axial > 0); /* its tip still carries its own wood */
	end(&r);
}

/* ---- random trees ---------------------------------------------------------------------------- */

typedef struct tree_node {
	int stem;
	double height, pull[2];
	rn_bark bark;
} tree_node;

/* A stem with up to two branches, the second perhaps on the first. */
typedef struct tree {
	int stem_count, on[RIG_STEMS];
	double where[RIG_STEMS], lean[RIG_STEMS], length[RIG_STEMS], low[RIG_STEMS], high[RIG_STEMS];
	double wall[RIG_STEMS], bark[RIG_STEMS], middle[RIG_STEMS];
	double density, compression, bending, modulus;
	int node_count;
	tree_node nodes[RIG_NODES];
} tree;

static tree random_tree(support_random *s)
{
	tree t = {.stem_count = 1 + support_random_below(s, 3)};
	for (int i = 0; i < t.stem_count; i++) {
		t.on[i] = i == 0 ? RN_NONE : support_random_below(s, i);
		t.where[i] = i == 0 ? support_random_between(s, -3, 3)
		                    : t.length[t.on[i]] * support_random_between(s, 0.3, 0.95);
		t.lean[i] = support_random_between(s, -1, 1) * (i == 0 ? 0.3 : 1.9);
		t.length[i] = support_random_between(s, 3, 17) / (i + 1);
		t.low[i] = t.length[i] * support_random_between(s, 0.03, 0.07);
		t.high[i] = t.low[i] * support_random_between(s, 0.15, 1);
		t.middle[i] = support_random_between(s, 0.2, 0.8);
		t.wall[i] = support_random_chance(s, 0.4) ? t.low[i] * support_random_between(s, 0.1, 0.6) : 0;
		t.bark[i] = support_random_chance(s, 0.5) ? t.high[i] * support_random_between(s, 0, 0.2) : 0;
	}
	t.density = support_random_chance(s, 0.8) ? support_random_between(s, 600, 1200) : 0;
	t.compression = support_random_between(s, 12e6, 30e6);
	t.bending = support_random_between(s, 30e6, 70e6);
	t.modulus = support_random_between(s, 5e9, 13e9);
	t.node_count = 1 + support_random_below(s, 6);
	for (int i = 0; i < t.node_count; i++) {
		tree_node *n = &t.nodes[i];
		n->stem = support_random_below(s, t.stem_count);
		n->height = t.length[n->stem] * support_random_between(s, 0.1, 1.1);
		n->bark = (rn_bark)support_random_below(s, 3);
		n->pull[0] = support_random_between(s, -1, 1) * 4e3;
		n->pull[1] = support_random_between(s, -6e3, 2e3);
	}
	return t;
}

static rig make_tree(const tree *t, bool mirror, const int *order)
{
	rig r = begin();
	double sign = mirror ? -1 : 1;
	for (int i = 0; i < t->stem_count; i++) {
		add_stem(&r, t->on[i], t->on[i] == RN_NONE ? sign * t->where[i] : t->where[i], sign * t->lean[i]);
		add_section(&r, 0, t->low[i], t->wall[i]);
		add_section(&r, t->length[i] * t->middle[i], (t->low[i] + 2 * t->high[i]) / 3, t->wall[i] * 0.7);
		add_section(&r, t->length[i], t->high[i], 0);
		if (t->density > 0)
			number(&r, RN_STEM, i, RN_ATTRIBUTE_DENSITY, t->density);
		number(&r, RN_STEM, i, RN_ATTRIBUTE_BARK, t->bark[i]);
		number(&r, RN_STEM, i, RN_ATTRIBUTE_COMPRESSION, t->compression);
		number(&r, RN_STEM, i, RN_ATTRIBUTE_BENDING, t->bending);
		number(&r, RN_STEM, i, RN_ATTRIBUTE_MODULUS, t->modulus);
		number(&r, RN_STEM, i, RN_ATTRIBUTE_DESIGN_FACTOR, 3.7);
	}
	for (int k = 0; k < t->node_count; k++) {
		const tree_node *n = &t->nodes[order ? order[k] : k];
		rn_bark bark = n->bark;
		if (mirror && bark != RN_BARK_AXIS)
			bark = bark == RN_BARK_LEFT ? RN_BARK_RIGHT : RN_BARK_LEFT;
		set_pull(&r, add_node(&r, n->stem, n->height, bark), sign * n->pull[0], n->pull[1]);
	}
	fill(&r);
	return r;
}

static double need(const rn_stem_result *r, const rn_stem_section *s)
{
	return fmax(s->compression / r->compression_strength, s->tension / r->bending_strength);
}

/* Largest need of a stem on a fine ladder, and on both sides of whatever enters. */
static double need_by_ladder(rig *r, int stem, double top)
{
	enum { RUNGS = 1000 };
	double most = 0;
	for (int i = 0; i <= RUNGS; i++) {
		rn_stem_section s = at(r, stem, top * i / RUNGS, false);
		most = fmax(most, need(&r->results[stem], &s));
	}
	for (int above = 0; above < 2; above++) {
		for (int i = 0; i < r->m->node_count + r->m->stem_count + r->m->section_count; i++) {
			int n = r->m->node_count, k = n + r->m->stem_count;
			rn_object o = i < n   ? rn_object_of(RN_NODE, i)
			              : i < k ? rn_object_of(RN_STEM, i - n)
			                      : rn_object_of(RN_SECTION, i - k);
			double height = rn_model_value(r->m, r->values, o, RN_ATTRIBUTE_HEIGHT, 0);
			rn_stem_section s = at(r, stem, height, above != 0);
			most = fmax(most, need(&r->results[stem], &s));
		}
	}
	return most;
}

static void test_the_worst_section_is_found(void **state)
{
	(void)state;
	support_random random = support_random_from(20);
	int inside = 0;
	double largest_gain = 0;
	for (int k = 0; k < 300; k++) {
		tree t = random_tree(&random);
		rig r = make_tree(&t, false, NULL);
		for (int i = 0; i < t.stem_count; i++) {
			const rn_stem_result *result = &r.results[i];
			rn_stem_section worst = {.compression = result->compression, .tension = result->tension};
			double found = need(result, &worst), ladder = need_by_ladder(&r, i, 1.1 * t.length[i]);
			assert_true(found >= ladder * (1 - 1e-12));
			rn_assert_near(found, ladder, 2e-5, 1e-15);
			inside += found > ladder * (1 + 1e-12);
			largest_gain = fmax(largest_gain, found / ladder - 1);
		}
		end(&r);
	}
	assert_true(inside > 20); /* peaks between rungs occur at all */
	print_message("worst section: %d between rungs, at most %.1e above the ladder\n", inside, largest_gain);
}

/* dM/dz = -V,  dV/dz = -w A sin lean,  dN/dz = -w A cos lean  where nothing enters. */
static void test_forces_follow_from_each_other(void **state)
{
	(void)state;
	support_random random = support_random_from(31);
	const double h = 1e-3;
	for (int k = 0; k < 100; k++) {
		tree t = random_tree(&random);
		rig r = make_tree(&t, false, NULL);
		for (int i = 0; i < 20; i++) {
			double z = t.length[0] * support_random_between(&random, 0.01, 0.99);
			rn_stem_section low = at(&r, 0, z - h, true), here = at(&r, 0, z, true),
					high = at(&r, 0, z + h, true);
			if (fabs(low.shear - high.shear) + fabs(low.axial - high.axial) > 20)
				continue; /* something enters between */
			double slope = (high.moment - low.moment) / (2 * h);
			rn_assert_near(slope, -here.shear, 1e-5, 1e-2);
			double down = (high.axial - low.axial) * sin(t.lean[0]);
			rn_assert_near((high.shear - low.shear) * cos(t.lean[0]), down, 1e-6, 1e-8);
		}
		end(&r);
	}
}

static void test_mirrored(void **state)
{
	(void)state;
	support_random random = support_random_from(47);
	for (int k = 0; k < 60; k++) {
		tree t = random_tree(&random);
		rig a = make_tree(&t, false, NULL), b = make_tree(&t, true, NULL);
		for (int i = 0; i < t.stem_count; i++) {
			const rn_stem_result *p = &a.results[i], *q = &b.results[i];
			rn_assert_near(q->height, p->height, 1e-12, 1e-12);
			rn_assert_near(q->axial, p->axial, 1e-12, 1e-9);
			rn_assert_near(q->shear, -p->shear, 1e-12, 1e-9);
			rn_assert_near(q->moment, -p->moment, 1e-12, 1e-9);
			rn_assert_near(q->utilisation, p->utilisation, 1e-12, 0);
			rn_assert_near(q->pull, p->pull, 1e-12, 0);
			rn_assert_near(cos(q->pull_direction), (p->pull > 0 ? -1 : 1) * cos(p->pull_direction), 0, 1e-12);
			assert_true(q->governed == p->governed && q->unchecked == p->unchecked);
		}
		end(&a);
		end(&b);
	}
}

static void test_order_does_not_matter(void **state)
{
	(void)state;
	support_random random = support_random_from(53);
	for (int k = 0; k < 60; k++) {
		tree t = random_tree(&random);
		int order[RIG_NODES];
		support_random_permute(&random, order, t.node_count);
		rig a = make_tree(&t, false, NULL), b = make_tree(&t, false, order);
		for (int i = 0; i < t.stem_count; i++) {
			const rn_stem_result *p = &a.results[i], *q = &b.results[i];
			rn_assert_near(q->height, p->height, 1e-6, 1e-6);
			rn_assert_near(q->compression, p->compression, 1e-9, 1e-6);
			rn_assert_near(q->buckling, p->buckling, 1e-9, 0);
			rn_assert_near(q->utilisation, p->utilisation, 1e-9, 0);
			rn_assert_near(q->pull, p->pull, 1e-11, 0);
			assert_int_equal(q->governed, p->governed);
		}
		end(&a);
		end(&b);
	}
}

/* ---- buckling -------------------------------------------------------------------------------- */

/* Clamped and free, load P at height a of a uniform column: pi^2 EI / 4 a^2, as what is above is idle
 * (Euler). */
static void test_euler(void **state)
{
	(void)state;
	const double d = 0.173, e = 9.1e9, length = 10.9;
	const double heights[] = {10.9, 7.13, 3.01, 0.37};
	for (int k = 0; k < 4; k++) {
		double critical = pi * pi * e * inertia(d) / (4 * heights[k] * heights[k]);
		rig r = pole(d, length, heights[k], 0, -0.37 * critical);
		number(&r, RN_STEM, 0, RN_ATTRIBUTE_MODULUS, e);
		fill(&r);
		rn_assert_near(r.results[0].buckling, 0.37, 3e-6, 0);
		end(&r);
	}
}

/* Moments grow by 1/(1 - N/N_cr): for a side load at the end of a column more than the exact tan(u)/u,
 * u^2 = P L^2 / EI (beam-columns, closed form). */
static void test_growth(void **state)
{
	(void)state;
	const double d = 0.19, e = 8.3e9, length = 9.7, part = 0.43;
	double critical = pi * pi * e * inertia(d) / (4 * length * length), side = 217;
	rig r = pole(d, length, length, side, -part * critical);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_MODULUS, e);
	fill(&r);
	const rn_stem_result *s = &r.results[0];
	double u = pi / 2 * sqrt(part), pressing = part * critical / area(d);
	double bending = side * length * (d / 2) / inertia(d);
	rn_assert_near(s->growth, 1 / (1 - part), 1e-5, 0);
	rn_assert_near(s->compression, bending * s->growth + pressing, 1e-12, 0);
	rn_assert_near(s->tension, bending * s->growth - pressing, 1e-12, 0);
	rn_assert_near(s->moment, side * length, 1e-12, 0); /* told without growth */
	assert_true(s->growth > tan(u) / u && s->growth < 1.1 * tan(u) / u);
	end(&r);
}

/* A uniform column under its own weight q per metre buckles at q L^3 = 7.8373 EI (Greenhill 1881). */
static void test_greenhill(void **state)
{
	(void)state;
	const double d = 0.021, e = 8e9, length = 12.3;
	double density = 7.83735 * e * inertia(d) / pow(length, 3) / (gravity * area(d));
	for (int k = 0; k < 2; k++)
		for (int pulled = 0; pulled < 2; pulled++) {
			rig r = pole(d, length, 12.3, 0, pulled ? -1e-3 : 0);
			number(&r, RN_STEM, 0, RN_ATTRIBUTE_MODULUS, e);
			number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, density * (k ? 1.00002 : 0.99998));
			fill(&r);
			assert_true((r.results[0].buckling == rn_buckling_most) == (k == 1));
			if (k == 0)
				assert_true((r.results[0].buckling > 0) == (pulled == 1));
			assert_true(isfinite(r.results[0].compression) && r.results[0].growth >= 1);
			end(&r);
		}
}

/* A tapering column by shooting. From the top down with theta the slope and m = EI theta':
 *     d theta = m / EI,  d m = -N theta,   theta = 1, m = 0 at the top, theta = 0 at the foot
 * The load stands at height `at`. Runge and Kutta's classical step, which ends at the load. */
typedef struct shot {
	double low, high, length, modulus, weight, at; /* weight of the wood [N/m3] */
} shot;

static void shot_slope(const shot *s, double z, double load, const double y[2], double out[2])
{
	double d = s->low + (s->high - s->low) * z / s->length;
	double push = load + s->weight * pi * (s->length - z) / 12 * (d * d + d * s->high + s->high * s->high);
	out[0] = y[1] / (s->modulus * inertia(d));
	out[1] = -push * y[0];
}

/* Whether the slope stays positive all the way down, which it does until the first way to buckle. */
static bool shot_stands(const shot *s, double from, double to, double load, double y[2])
{
	enum { STEPS = 1500 };
	double h = (from - to) / STEPS;
	for (int i = 0; i < STEPS && y[0] > 0; i++) {
		double z = from - i * h, k[4][2], at[2];
		shot_slope(s, z, load, y, k[0]);
		for (int n = 1; n < 4; n++) {
			double part = n < 3 ? h / 2 : h;
			at[0] = y[0] + part * k[n - 1][0];
			at[1] = y[1] + part * k[n - 1][1];
			shot_slope(s, z - part, load, at, k[n]);
		}
		for (int j = 0; j < 2; j++)
			y[j] += h / 6 * (k[0][j] + 2 * k[1][j] + 2 * k[2][j] + k[3][j]);
	}
	return y[0] > 0;
}

static double shot_critical(const shot *s)
{
	double stands = 0, buckles = 10 * s->modulus * inertia(fmax(s->low, s->high)) / (s->at * s->at);
	for (int i = 0; i < 60; i++) {
		double load = (stands + buckles) / 2, y[2] = {1, 0};
		if (shot_stands(s, s->length, s->at, 0, y) && shot_stands(s, s->at, 0, load, y))
			stands = load;
		else
			buckles = load;
	}
	return stands;
}

static double stem_critical(const shot *s)
{
	rig r = begin();
	add_stem(&r, RN_NONE, 0, 0);
	add_section(&r, 0, s->low, 0);
	add_section(&r, s->length, s->high, 0);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_MODULUS, s->modulus);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, s->weight / gravity);
	set_pull(&r, add_node(&r, 0, s->at, RN_BARK_AXIS), 0, -5e3);
	fill(&r);
	double critical = 5e3 / r.results[0].buckling;
	end(&r);
	return critical;
}

/* The spar of 12 m, 0.25 to 0.12 m, that goes at about 10 kN; with and without its weight, and loads part
 * way up. Against shooting. */
static void test_tapered_columns(void **state)
{
	(void)state;
	const shot shots[] = {
		{0.25, 0.12, 12, 8e9, 0, 12},       {0.25, 0.12, 12, 8e9, 900 * 9.80665, 12},
		{0.25, 0.12, 12, 8e9, 8826, 7.77},  {0.31, 0.02, 14.3, 7.3e9, 9512, 9.1},
		{0.18, 0.17, 11.1, 8e9, 11000, 11}, {0.20, 0.40, 5.3, 11e9, 9000, 5.1},
	};
	for (size_t k = 0; k < sizeof shots / sizeof *shots; k++) {
		double by_shooting = shot_critical(&shots[k]), by_elements = stem_critical(&shots[k]);
		rn_assert_near(by_elements, by_shooting, 2e-6, 0);
		print_message("column %zu: %.2f N by elements, off by %.1e\n", k, by_elements,
		              by_elements / by_shooting - 1);
	}
}

/* The spar in 5, 10, 20 ... elements: each halving takes at least ten times off, till the tolerance. */
static void test_elements_converge(void **state)
{
	(void)state;
	const shot spar = {0.25, 0.12, 12, 8e9, 8826, 12};
	double exact = shot_critical(&spar), before = 1;
	for (int count = 5; count <= 80; count *= 2) {
		rn_allocator allocator = rn_allocator_default();
		rn_arena arena = rn_arena_make(&allocator);
		rn_column column;
		assert_int_equal(rn_column_create(&arena, count, &column), RN_OK);
		for (int i = 0; i < count; i++) {
			rn_column_element e = {.length = spar.length / count};
			for (int p = 0; p < RN_COLUMN_POINTS; p++) {
				double z = e.length * (i + rn_column_point(p)), up = spar.length - z;
				double d = spar.low + (spar.high - spar.low) * z / spar.length, t = spar.high;
				e.stiffness[p] = spar.modulus * inertia(d);
				e.standing[p] = spar.weight * pi * up / 12 * (d * d + d * t + t * t);
				e.rigging[p] = 5e3;
			}
			rn_column_add(&column, &e);
		}
		double off = fabs(5e3 / rn_column_buckling(&column) / exact - 1);
		print_message("spar in %d elements: off by %.1e\n", count, off);
		assert_true(off < fmax(before / 10, 2e-7));
		before = off;
		rn_arena_release(&arena);
	}
}

static void test_what_pulls_does_not_buckle(void **state)
{
	(void)state;
	rig r = pole(0.1, 9, 8, 100, 5000);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_MODULUS, 8e9);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, 900);
	fill(&r);
	assert_true(r.results[0].buckling == 0 && r.results[0].growth == 1);
	end(&r);
}

/* ---- the verdict ----------------------------------------------------------------------------- */

static void set_origin(rig *r, rn_attribute attribute, double value, rn_origin origin)
{
	rn_number n = {.value = value, .low = value, .high = value, .object = rn_object_of(RN_STEM, 0),
	               .attribute = attribute, .origin = origin};
	assert_int_equal(rn_model_set_number(r->m, &n), RN_OK);
}

/* A stem of which one thing is changed: value < 0 leaves it away. */
static void test_what_is_checked(void **state)
{
	(void)state;
	static const rn_attribute wood[] = {RN_ATTRIBUTE_COMPRESSION, RN_ATTRIBUTE_BENDING, RN_ATTRIBUTE_MODULUS,
	                                    RN_ATTRIBUTE_DENSITY, RN_ATTRIBUTE_DESIGN_FACTOR};
	static const double value[] = {21e6, 43e6, 8.8e9, 940, 3.3};
	static const struct {
		int changed;
		bool missing;
		rn_origin origin;
		rn_unchecked expected;
	} rows[] = {
		{0, false, RN_LISTED, RN_CHECKED},           {0, false, RN_ESTIMATED, RN_WOOD_ESTIMATED},
		{1, false, RN_ESTIMATED, RN_WOOD_ESTIMATED}, {2, false, RN_ESTIMATED, RN_WOOD_ESTIMATED},
		{3, false, RN_ESTIMATED, RN_CHECKED},        {0, false, RN_GUESSED, RN_WOOD_UNKNOWN},
		{1, false, RN_GUESSED, RN_WOOD_UNKNOWN},     {2, false, RN_GUESSED, RN_WOOD_UNKNOWN},
		{3, false, RN_GUESSED, RN_WOOD_UNKNOWN},     {0, true, RN_GIVEN, RN_WOOD_UNKNOWN},
		{1, true, RN_GIVEN, RN_WOOD_UNKNOWN},        {2, true, RN_GIVEN, RN_WOOD_UNKNOWN},
		{3, true, RN_GIVEN, RN_CHECKED},             {4, true, RN_GIVEN, RN_NO_DESIGN_FACTOR},
	};
	for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
		rig r = pole(0.33, 11, 9, 1234, -5678);
		for (int i = 0; i < 5; i++)
			if (i != rows[k].changed || !rows[k].missing)
				set_origin(&r, wood[i], value[i], i == rows[k].changed ? rows[k].origin : RN_GIVEN);
		fill(&r);
		const rn_stem_result *s = &r.results[0];
		assert_int_equal(s->unchecked, rows[k].expected);
		assert_true((s->utilisation > 0) == (rows[k].expected == RN_CHECKED));
		assert_true((s->governed != RN_BY_NOTHING) == (rows[k].expected == RN_CHECKED));
		assert_true(s->compression > 0 && s->tension > 0); /* said, checked or not */
		end(&r);
	}
}

static void test_what_governs(void **state)
{
	(void)state;
	static const struct {
		double compression, bending, modulus, factor;
		rn_governed expected;
	} rows[] = {{5e6, 80e6, 9e9, 4, RN_BY_CRUSHING},
	            {80e6, 9e6, 9e9, 4, RN_BY_BENDING},
	            {800e6, 800e6, 9e9, 4, RN_BY_BUCKLING},
	            {800e6, 800e6, 1e8, 0, RN_BY_BUCKLING},
	            {0, 0, 1e8, 3, RN_BY_BUCKLING}};
	for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
		rig r = pole(0.2, 11, 9, 300, -9e3);
		number(&r, RN_STEM, 0, RN_ATTRIBUTE_MODULUS, rows[k].modulus);
		if (rows[k].compression > 0) {
			number(&r, RN_STEM, 0, RN_ATTRIBUTE_COMPRESSION, rows[k].compression);
			number(&r, RN_STEM, 0, RN_ATTRIBUTE_BENDING, rows[k].bending);
		}
		if (rows[k].factor > 0)
			number(&r, RN_STEM, 0, RN_ATTRIBUTE_DESIGN_FACTOR, rows[k].factor);
		fill(&r);
		const rn_stem_result *s = &r.results[0];
		double part = s->governed == RN_BY_CRUSHING  ? s->compression / rows[k].compression
		              : s->governed == RN_BY_BENDING ? s->tension / rows[k].bending
		                                             : s->buckling;
		assert_int_equal(s->governed, rows[k].expected);
		assert_int_equal(s->unchecked, RN_CHECKED);
		rn_assert_near(s->utilisation, part * fmax(rows[k].factor, 1), 1e-12, 0);
		assert_true((s->buckling >= 1) == (rows[k].modulus < 1e9));
		if (s->buckling >= 1)
			assert_true(s->growth == 1 && s->utilisation > 1);
		end(&r);
	}
}

/* ---- odd input ------------------------------------------------------------------------------- */

static void assert_finite(const rig *r)
{
	for (int i = 0; i < r->m->stem_count; i++) {
		const rn_stem_result *s = &r->results[i];
		const double all[] = {s->height, s->diameter, s->axial, s->shear, s->moment, s->compression,
		                      s->tension, s->buckling, s->growth, s->pull, s->pull_direction,
		                      s->utilisation};
		for (size_t k = 0; k < sizeof all / sizeof *all; k++)
			assert_true(isfinite(all[k]));
		assert_true(s->compression >= 0 && s->tension >= 0 && s->buckling >= 0 && s->utilisation >= 0);
	}
}

static void test_odd_stems(void **state)
{
	(void)state;
	static const double sections[][3] = {{0, 0.4, 0}, {0, 0.4, 0.5}, {3.3, 0.2, 0.1}, {5, 1e-9, 0},
	                                     {8, 1e-300, 0}, {7, 3, 1e-9}};
	static const double anchors[] = {0, 1e-9, 4, 1e6};
	for (size_t s = 0; s < sizeof sections / sizeof *sections; s++)
		for (size_t a = 0; a < sizeof anchors / sizeof *anchors; a++)
			for (int k = 0; k < 24; k++) {
				rig r = begin();
				add_stem(&r, RN_NONE, 0, k % 3);
				add_section(&r, sections[s][0], sections[s][1], sections[s][2]);
				if (k % 2)
					add_section(&r, sections[s][0] + 2, 0.3, 0.15);
				if (k % 4 < 2)
					number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, 1000);
				number(&r, RN_STEM, 0, RN_ATTRIBUTE_BARK, k < 12 ? 0 : 0.3);
				number(&r, RN_STEM, 0, RN_ATTRIBUTE_MODULUS, 8e9);
				number(&r, RN_STEM, 0, RN_ATTRIBUTE_COMPRESSION, 2e7);
				number(&r, RN_STEM, 0, RN_ATTRIBUTE_BENDING, 4e7);
				number(&r, RN_STEM, 0, RN_ATTRIBUTE_DESIGN_FACTOR, 5);
				int node = add_node(&r, 0, anchors[a], RN_BARK_LEFT);
				set_pull(&r, node, k < 6 ? 0 : 1e3, k < 6 ? 0 : k < 18 ? -1e18 : 1e3);
				fill(&r);
				assert_finite(&r);
				for (int above = 0; above < 2; above++)
					for (double z = -1; z < 9; z += 0.5) {
						rn_stem_section at_z = at(&r, 0, z, above != 0);
						assert_true(isfinite(at_z.compression) && isfinite(at_z.moment));
					}
				end(&r);
			}
}

/* Measured from breast height up: the foot is as thick as the lowest section, and is where it bends most. */
static void test_below_the_lowest_section(void **state)
{
	(void)state;
	rig r = begin();
	add_stem(&r, RN_NONE, 0, 0);
	add_section(&r, 1.3, 0.3, 0);
	add_section(&r, 8, 0.3, 0);
	set_pull(&r, add_node(&r, 0, 6, RN_BARK_AXIS), 1000, -700);
	fill(&r);
	const rn_stem_result *s = &r.results[0];
	rn_assert_near(s->height, 0, 0, 0);
	rn_assert_near(fabs(s->moment), 6 * 1000, 1e-13, 0);
	rn_assert_near(s->diameter, 0.3, 1e-15, 0);
	rn_assert_near(s->compression, 6 * 1000 * 0.15 / inertia(0.3) + 700 / area(0.3), 1e-13, 0);
	rn_assert_near(s->tension, 6 * 1000 * 0.15 / inertia(0.3) - 700 / area(0.3), 1e-13, 0);
	end(&r);
}

/* Nothing is known of its wood, but the rigging's pull is. */
static void test_a_stem_without_sections(void **state)
{
	(void)state;
	rig r = begin();
	add_stem(&r, RN_NONE, 0, 0.2);
	add_stem(&r, 0, 3, 1);
	set_pull(&r, add_node(&r, 0, 6, RN_BARK_AXIS), 300, -400);
	set_pull(&r, add_node(&r, 1, 2, RN_BARK_AXIS), 0, -120);
	fill(&r);
	const rn_stem_result *s = &r.results[0];
	rn_assert_near(s->pull, hypot(300, 520), 1e-13, 0);
	rn_assert_near(s->pull_direction, atan2(-520, 300), 1e-13, 0);
	assert_int_equal(s->unchecked, RN_WOOD_UNKNOWN);
	assert_true(s->compression == 0 && s->moment == 0 && s->utilisation == 0 && s->height == 0);
	assert_finite(&r);
	end(&r);
}

/* Above the worst section nothing pulls (the stem's own lean is worse); said is the most that does. */
static void test_pull_below_the_worst_section(void **state)
{
	(void)state;
	rig r = begin();
	add_stem(&r, RN_NONE, 0, 0.9);
	add_section(&r, 0, 0.9, 0);
	add_section(&r, 4, 0.3, 0);
	add_section(&r, 14, 0.25, 0);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, 900);
	set_pull(&r, add_node(&r, 0, 1.5, RN_BARK_AXIS), 30, -40);
	set_pull(&r, add_node(&r, 0, 1.0, RN_BARK_AXIS), -30, 30);
	fill(&r);
	rn_assert_near(r.results[0].height, 4, 1e-9, 0);
	rn_assert_near(r.results[0].pull, 50, 1e-13, 0);
	rn_assert_near(r.results[0].pull_direction, -pi / 2, 1e-12, 0);
	end(&r);
}

/* A piece on a sling from a bark: the solver's own pull and place. */
static void test_on_a_settled_case(void **state)
{
	(void)state;
	rig r = begin();
	add_stem(&r, RN_NONE, 0, 0);
	add_section(&r, 0, 0.42, 0);
	add_section(&r, 10, 0.42, 0);
	int anchor = add_node(&r, 0, 8.5, RN_BARK_RIGHT);
	int piece = build_node(r.m, "log", RN_NODE_PIECE, 0.21, 6, 2385);
	build_sling(r.m, "sling", anchor, piece, 1e6, 0);
	rn_options options = rn_options_default();
	rn_result *result;
	assert_int_equal(rn_model_check(r.m), RN_OK);
	assert_int_equal(rn_solve(r.m, &options, &result), RN_OK);
	memcpy(r.nodes, result->cases[0].nodes, (size_t)r.m->node_count * sizeof *r.nodes);
	fill(&r);
	rn_assert_near(r.results[0].axial, 2385, 1e-9, 0);
	rn_assert_near(r.results[0].moment, 2385 * 0.21, 1e-6, 0);
	rn_result_destroy(result);
	end(&r);
}

/* The stem among the parts of an answer: its need by closed forms, and a limit that has the same share of its pull. */
static void test_as_a_part(void **state)
{
	(void)state;
	const double d = 0.42, e = 8e10, height = 8.5, strength = 20e6, factor = 5;
	const double density = 3; /* hardly any, so that it does not tell in the buckling */
	rig r = begin();
	add_stem(&r, RN_NONE, 0, 0);
	add_section(&r, 0, d, 0);
	add_section(&r, 10, d, 0);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_MODULUS, e);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_COMPRESSION, strength);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_BENDING, 2 * strength);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_DESIGN_FACTOR, factor);
	number(&r, RN_STEM, 0, RN_ATTRIBUTE_DENSITY, density);
	int anchor = add_node(&r, 0, height, RN_BARK_RIGHT);
	int piece = build_node(r.m, "log", RN_NODE_PIECE, d / 2, 6, 2385);
	build_sling(r.m, "sling", anchor, piece, 1e6, 0);
	rn_options options = rn_options_default();
	rn_result *result;
	assert_int_equal(rn_model_check(r.m), RN_OK);
	assert_int_equal(rn_solve(r.m, &options, &result), RN_OK);
	const rn_case_result *answer = &result->cases[0];
	const rn_part_result *part = &answer->parts[answer->part_count - 1];
	double buckles = 2385 / (pi * pi * e * inertia(d) / (4 * height * height));
	double bending = 2385 * (d / 2) * (d / 2) / inertia(d) / (1 - buckles);
	double expected = factor * (bending + 2385 / area(d) + 10 * density * gravity) / strength;
	assert_int_equal(part->object.kind, RN_STEM);
	assert_int_equal(part->unchecked, RN_CHECKED);
	assert_int_equal(part->governed, RN_BY_CRUSHING);
	rn_assert_near(part->utilisation, expected, 1e-5, 0);
	rn_assert_near(part->demand, 2385, 1e-9, 0);
	rn_assert_near(part->limit, 2385 / expected, 1e-5, 0);
	rn_assert_near(part->breaking, factor * 2385 / expected, 1e-5, 0);
	rn_result_destroy(result);
	rn_model_destroy(r.m);
}

/* The n-th failure of memory is reported and leaves nothing behind. */
static void test_memory(void **state)
{
	(void)state;
	rig r = pole(0.3, 10, 9, 1, -1);
	for (long k = 1;; k++) {
		support_memory memory = {.fail_at = k};
		rn_allocator allocator = support_memory_allocator(&memory);
		rn_arena arena = rn_arena_make(&allocator);
		rn_stems stems;
		rn_stem_result *results;
		rn_status status = rn_stems_create(&arena, r.m, &stems, &results);
		rn_arena_release(&arena);
		assert_int_equal(memory.live_count, 0);
		if (status == RN_OK)
			break;
		assert_int_equal(status, RN_STATUS_MEMORY);
	}
	fill(&r);
	end(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_largest_force),
		cmocka_unit_test(test_hollow),
		cmocka_unit_test(test_branch_foot),
		cmocka_unit_test(test_taper),
		cmocka_unit_test(test_own_weight_of_a_leaning_frustum),
		cmocka_unit_test(test_own_weight_of_a_hollow_that_closes),
		cmocka_unit_test(test_bark_side_bends),
		cmocka_unit_test(test_bollard_takes_the_push_out),
		cmocka_unit_test(test_branches_pass_everything_on),
		cmocka_unit_test(test_the_worst_section_is_found),
		cmocka_unit_test(test_forces_follow_from_each_other),
		cmocka_unit_test(test_mirrored),
		cmocka_unit_test(test_order_does_not_matter),
		cmocka_unit_test(test_euler),
		cmocka_unit_test(test_growth),
		cmocka_unit_test(test_greenhill),
		cmocka_unit_test(test_tapered_columns),
		cmocka_unit_test(test_elements_converge),
		cmocka_unit_test(test_what_pulls_does_not_buckle),
		cmocka_unit_test(test_what_is_checked),
		cmocka_unit_test(test_what_governs),
		cmocka_unit_test(test_odd_stems),
		cmocka_unit_test(test_below_the_lowest_section),
		cmocka_unit_test(test_a_stem_without_sections),
		cmocka_unit_test(test_pull_below_the_worst_section),
		cmocka_unit_test(test_on_a_settled_case),
		cmocka_unit_test(test_as_a_part),
		cmocka_unit_test(test_memory),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
