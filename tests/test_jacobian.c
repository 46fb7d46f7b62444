/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Derivatives the solver writes down against central differences of what it derives them from, on
 * random networks in random states, far from equilibrium.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/statics/geometry.h"
#include "tests/laid.h"

enum { SIZE_MOST = 2 * NET_NODES + NET_SLINGS + NET_LINES * NET_STATIONS };

/* Step of the differences, over the size of the drawing or the largest load [-]: truncation goes
 * with its square, rounding with its inverse; both stay below 1e-7 of a row. */
static const double step = 1e-6;
static const double row_agrees = 1e-6;

/* ---- random states --------------------------------------------------------------------------- */

/* Too near a place where something has a kink, or bends within one step of the differences. */
static bool near_kink(const rn_network *net)
{
	for (int i = 0; i < net->stop_count; i++) {
		const rn_stop *s = &net->stops[i];
		bool bends_nothing =
			fabs(s->bend) < 1e-2 || (s->radius == 0 && s->bend > RN_PI - 1e-2);
		if (s->through && s->friction > 0 && bends_nothing)
			return true;
	}
	for (int r = 0; r < net->rope_count; r++)
		for (int i = 0; i < net->ropes[r].span_count; i++)
			if (net->spans[net->ropes[r].first_span + i].length < 0.03 * net->size)
				return true;
	for (int i = 0; i < net->contact_count; i++) {
		const rn_contact *c = &net->contacts[i];
		const double *a = &net->place[2 * net->stops[c->first].node];
		const double *b = &net->place[2 * net->stops[c->second].node];
		if (fabs(hypot(a[0] - b[0], a[1] - b[1]) - c->reach) < 1e-3)
			return true;
	}
	return false;
}

static void shake_places(rn_network *net, support_random *random)
{
	for (int i = 0; i < 2 * net->model->node_count; i++)
		if (net->unknown[i / 2] != RN_NONE)
			net->place[i] += support_random_between(random, -0.4, 0.4);
}

static void shake_tensions(rn_network *net, support_random *random)
{
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		rope->taut = support_random_chance(random, 0.9);
		rope->tension = rope->taut ? support_random_between(random, 50, 5000) : 0;
	}
}

/* Bodies are larger here than treads make them, so that some press on each other. */
static void widen_contacts(rn_network *net, support_random *random)
{
	for (int i = 0; i < net->contact_count; i++) {
		rn_contact *c = &net->contacts[i];
		if (!c->exists || !support_random_chance(random, 0.7))
			continue;
		c->reach = support_random_between(random, 1, 8);
		c->touching = true;
		c->push = support_random_between(random, 10, 2000);
	}
}

static bool overlapping(const rn_network *net)
{
	for (int i = 0; i < net->contact_count; i++) {
		rn_gap gap = rn_contact_gap(net, &net->contacts[i]);
		if (gap.exists && gap.gap < 0)
			return true;
	}
	return false;
}

static laid *shaken(support_random *random, net_random_options options, bool contacts)
{
	for (;;) {
		laid *l = laid_random(random, options);
		rn_network *net = &l->settler.net;
		net->friction_share = support_random_between(random, 0.2, 1);
		shake_places(net, random);
		shake_tensions(net, random);
		if (contacts)
			widen_contacts(net, random);
		if (rn_settler_measure(&l->settler) && !near_kink(net))
			return l;
		laid_drop(l);
	}
}

/* ---- the full system ------------------------------------------------------------------------- */

typedef struct system_pair {
	double matrix[SIZE_MOST][SIZE_MOST], differences[SIZE_MOST][SIZE_MOST];
	int size;
} system_pair;

static void write_out(const rn_triplets *triplets, double matrix[SIZE_MOST][SIZE_MOST])
{
	memset(matrix, 0, sizeof(double[SIZE_MOST][SIZE_MOST]));
	for (int k = 0; k < triplets->count; k++)
		matrix[triplets->items[k].row][triplets->items[k].column] +=
			triplets->items[k].value;
}

/* The number behind a column, and what one unit of the column is. */
static double *unknown_at(rn_settler *s, int column, double *unit_out)
{
	if (column < s->net.unknown_count) {
		*unit_out = s->net.size;
		return &s->net.place[2 * s->net.order[column / 2] + column % 2];
	}
	*unit_out = s->net.load_scale;
	for (int r = 0; r < s->net.rope_count; r++)
		if (s->rope_unknown[r] == column)
			return &s->net.ropes[r].tension;
	for (int i = 0; i < s->net.contact_count; i++)
		if (s->contact_unknown[i] == column)
			return &s->net.contacts[i].push;
	return NULL;
}

static void difference_column(rn_settler *s, system_pair *pair, int column)
{
	double unit, *unknown = unknown_at(s, column, &unit);
	assert_non_null(unknown);
	double kept = *unknown;
	for (int up = 0; up < 2; up++) {
		*unknown = kept + (up ? step : -step) * unit;
		assert_true(rn_settler_measure(s));
		assert_int_equal(rn_newton_assemble(s), pair->size);
		for (int row = 0; row < pair->size; row++)
			pair->differences[row][column] =
				up ? (s->residual[row] - pair->differences[row][column]) /
						(2 * step)
				   : s->residual[row];
	}
	*unknown = kept;
}

static system_pair *measure_system(rn_settler *s)
{
	system_pair *pair = calloc(1, sizeof *pair);
	assert_non_null(pair);
	pair->size = rn_newton_assemble(s);
	assert_true(pair->size <= SIZE_MOST);
	assert_true(s->triplets.count <= s->triplets.room);
	write_out(&s->triplets, pair->matrix);
	for (int column = 0; column < pair->size; column++)
		difference_column(s, pair, column);
	return pair;
}

static void compare_system(const system_pair *pair)
{
	for (int i = 0; i < pair->size; i++) {
		double scale = 0;
		for (int j = 0; j < pair->size; j++)
			scale = fmax(scale, fabs(pair->differences[i][j]));
		for (int j = 0; j < pair->size; j++)
			rn_assert_near(pair->matrix[i][j], pair->differences[i][j], 0,
			               row_agrees * scale);
	}
}

static const net_random_options plain = {
	.treads = true, .grips = true, .free_least = 2, .free_most = 6};
static const net_random_options with_friction = {
	.treads = true, .friction = true, .grips = true, .free_least = 2, .free_most = 6};
static const net_random_options with_all = {
	.treads = true, .friction = true, .pulls = true, .free_least = 2, .free_most = 6};

static bool touching(const rn_network *net)
{
	for (int i = 0; i < net->contact_count; i++)
		if (net->contacts[i].touching)
			return true;
	return false;
}

static void compare_many(net_random_options options, bool contacts, uint64_t seed, int count)
{
	support_random random = support_random_from(seed);
	int pushing = 0;
	for (int trial = 0; trial < count; trial++) {
		laid *l = shaken(&random, options, contacts);
		pushing += touching(&l->settler.net);
		system_pair *pair = measure_system(&l->settler);
		compare_system(pair);
		free(pair);
		laid_drop(l);
	}
	if (contacts)
		assert_true(pushing > count / 20);
}

static void test_jacobian_without_friction(void **state)
{
	(void)state;
	compare_many(plain, false, 31, 120);
}

static void test_jacobian_with_friction(void **state)
{
	(void)state;
	compare_many(with_friction, false, 32, 200);
}

static void test_jacobian_with_pulled_ropes(void **state)
{
	(void)state;
	compare_many(with_all, false, 33, 200);
}

static void test_jacobian_with_contacts(void **state)
{
	(void)state;
	compare_many(with_friction, true, 34, 200);
}

/* Friction on a line that runs one way only, each way, pulled at each end: signs of log shares. */
static void test_jacobian_of_a_long_running_line(void **state)
{
	(void)state;
	for (int variant = 0; variant < 8; variant++) {
		net_data n = {.friction = true};
		int from = net_add_node(&n, RN_NODE_HAND, 0, 9, 0),
		    to = net_add_node(&n, RN_NODE_HAND, 9, 8, 0);
		net_line *line = net_add_line(&n, 3e4, variant & 1);
		net_station *first = net_add_station(line, RN_HOLD, from, 0);
		for (int i = 0; i < 5; i++) {
			int node =
				net_add_node(&n, RN_NODE_RING, 1.5 + 1.4 * i, i % 2 ? 6.5 : 4, 300);
			net_station *s = net_add_station(line, RN_THROUGH, node,
			                                 i == 2 ? 0 : 0.1 + 0.05 * i);
			s->side = i % 2 ? -1 : 1;
			s->friction = 0.1 + 0.07 * i;
			s->efficiency = i == 1 || i == 4 ? 0.8 : 0;
		}
		net_station *last = net_add_station(line, RN_HOLD, to, 0);
		if (variant & 2)
			(variant & 4 ? first : last)->pull = 700;
		laid *l = laid_from(&n);
		assert_non_null(l);
		l->settler.net.friction_share = 1;
		for (int r = 0; r < l->settler.net.rope_count; r++) {
			l->settler.net.ropes[r].taut = true;
			l->settler.net.ropes[r].tension = 900;
		}
		assert_true(rn_settler_measure(&l->settler));
		assert_false(near_kink(&l->settler.net));
		system_pair *pair = measure_system(&l->settler);
		compare_system(pair);
		free(pair);
		laid_drop(l);
	}
}

/* ---- what the equation of a rope is made of -------------------------------------------------- */

/* The unstretched length under a tread: Simpson's rule over 1/(1 + a e^(k s)), s from 0 to 1. */
static double arc_by_quadrature(double a, double k)
{
	enum { STRIPS = 2000 };
	double sum = 0;
	for (int i = 0; i <= STRIPS; i++) {
		double weight = i == 0 || i == STRIPS ? 1 : i % 2 ? 4 : 2;
		sum += weight / (1 + a * exp(k * i / STRIPS));
	}
	return sum / (3 * STRIPS);
}

static double unstretched(const rn_network *net, const rn_rope *rope)
{
	double sum = 0;
	for (int i = 0; i < rope->span_count; i++) {
		const rn_span *span = &net->spans[rope->first_span + i];
		double a = rope->tension * span->share / rope->stiffness;
		sum += span->length / (1 + a);
		if (i + 1 == rope->span_count)
			break;
		const rn_stop *stop = &net->stops[span->to];
		sum += stop->radius * stop->bend * arc_by_quadrature(a, stop->log_ratio);
	}
	return sum;
}

/* From hardly any friction, where a series stands in for the logarithm, to a great deal; the rope
 * stretches by a third. Rounding of the logarithm is divided by an exponent of 1e-3 at worst. */
static void test_stretch_is_the_integral_along_the_rope(void **state)
{
	(void)state;
	for (double friction = 1e-6; friction < 2; friction *= 1.7)
		for (int toward_last = 0; toward_last < 2; toward_last++) {
			net_data n = {.friction = true};
			int a = net_add_node(&n, RN_NODE_ANCHOR, 0, 9, 0),
			    b = net_add_node(&n, RN_NODE_HAND, 4, 9, 0);
			int ring = net_add_node(&n, RN_NODE_RING, 2, 5, 300);
			net_line *line = net_add_line(&n, 3e4, toward_last);
			net_add_station(line, RN_TIE, a, 0);
			net_add_station(line, RN_THROUGH, ring, 1.2)->friction = friction;
			net_add_station(line, RN_HOLD, b, 0);
			laid *l = laid_from(&n);
			rn_network *net = &l->settler.net;
			rn_rope *rope = &net->ropes[0];
			net->friction_share = 1;
			rope->tension = 1e4;
			assert_true(rn_rope_measure(net, rope));
			rn_terms_compute(net, rope, &l->settler.terms);
			rn_assert_near(l->settler.terms.stretch + rope->length0,
			               unstretched(net, rope), 0, 1e-12);
			laid_drop(l);
		}
}

/* Without friction R is a gradient: its matrix is symmetric, and the row of a rope is its column
 * times 1/(1 + T/EA), the unstretched length of a unit of rope; a push does the opposite of a pull.
 */
static void test_system_is_symmetric_without_friction(void **state)
{
	(void)state;
	support_random random = support_random_from(35);
	for (int trial = 0; trial < 100; trial++) {
		laid *l = shaken(&random, plain, true);
		rn_settler *s = &l->settler;
		static double matrix[SIZE_MOST][SIZE_MOST];
		(void)rn_newton_assemble(s);
		write_out(&s->triplets, matrix);
		int places = s->net.unknown_count;
		for (int i = 0; i < places; i++)
			for (int j = 0; j < i; j++)
				rn_assert_near(matrix[i][j], matrix[j][i], 1e-12,
				               1e-12 * fabs(matrix[i][i]));
		for (int i = 0; i < s->net.contact_count; i++)
			for (int j = 0, own = s->contact_unknown[i]; own != RN_NONE && j < places;
			     j++)
				rn_assert_near(matrix[own][j], -matrix[j][own], 0, 1e-12);
		for (int r = 0; r < s->net.rope_count; r++) {
			int own = s->rope_unknown[r];
			double f =
				1 / (1 + s->net.ropes[r].tension / s->net.ropes[r].stiffness_used);
			for (int j = 0; own != RN_NONE && j < places; j++)
				rn_assert_near(matrix[own][j], f * matrix[j][own], 0, 1e-12);
		}
		laid_drop(l);
	}
}

/* ---- the energy ------------------------------------------------------------------------------ */

/* Whether a rope is within one step of going slack, where its stiffness jumps. */
static bool near_slack(const rn_network *net)
{
	for (int r = 0; r < net->rope_count; r++)
		if (fabs(net->ropes[r].length - net->ropes[r].length0) < 1e-3)
			return true;
	return false;
}

static double energy_at(rn_settler *s, double *place, double value)
{
	double kept = *place;
	*place = value;
	assert_true(rn_settler_measure(s));
	double energy = rn_network_energy(&s->net);
	*place = kept;
	return energy;
}

/* A tolerance nothing can miss: the energy and its gradient are worked out, no step is taken. */
static void take_gradient(rn_settler *s)
{
	assert_int_equal(rn_minimise(s, HUGE_VAL, HUGE_VAL), RN_ENDED_WELL);
}

static void compare_gradient(rn_settler *s)
{
	double gradient[2 * NET_NODES], largest = 0, h = 1e-5;
	take_gradient(s);
	memcpy(gradient, s->residual, (size_t)s->net.unknown_count * sizeof(double));
	for (int i = 0; i < s->net.unknown_count; i++)
		largest = fmax(largest, fabs(gradient[i]));
	for (int i = 0; i < s->net.unknown_count; i++) {
		double unit, *place = unknown_at(s, i, &unit);
		double slope = (energy_at(s, place, *place + h) - energy_at(s, place, *place - h)) /
		               (2 * h);
		rn_assert_near(gradient[i], slope, 0, 1e-6 * largest);
	}
}

/* The matrix of a minimisation is the slope of the gradient. Only where nothing pushes: there a
 * part of it is left out on purpose. Its upper triangle is not written. */
static void compare_stiffness(rn_settler *s)
{
	static double matrix[SIZE_MOST][SIZE_MOST];
	double low[2 * NET_NODES], h = 1e-5, scale = 0;
	int size = s->net.unknown_count;
	take_gradient(s);
	write_out(&s->triplets, matrix);
	for (int i = 0; i < size; i++)
		scale = fmax(scale, fabs(matrix[i][i]));
	for (int j = 0; j < size; j++) {
		double unit, *place = unknown_at(s, j, &unit), kept = *place;
		*place = kept - h;
		take_gradient(s);
		memcpy(low, s->residual, (size_t)size * sizeof(double));
		*place = kept + h;
		take_gradient(s);
		*place = kept;
		for (int i = j; i < size; i++)
			rn_assert_near(matrix[i][j], (s->residual[i] - low[i]) / (2 * h), 0,
			               1e-6 * scale);
	}
}

static void test_gradient_and_stiffness_of_the_energy(void **state)
{
	(void)state;
	support_random random = support_random_from(36);
	const net_random_options options = {
		.treads = true, .pulls = true, .grips = true, .free_least = 2, .free_most = 6};
	int seen = 0, pushing = 0;
	while (seen < 150) {
		laid *l = shaken(&random, options, seen % 2);
		l->settler.net.friction_share = 0;
		if (!near_slack(&l->settler.net)) {
			bool pushes = overlapping(&l->settler.net);
			compare_gradient(&l->settler);
			if (!pushes)
				compare_stiffness(&l->settler);
			pushing += pushes;
			seen++;
		}
		laid_drop(l);
	}
	assert_true(pushing > 5);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_jacobian_without_friction),
		cmocka_unit_test(test_jacobian_with_friction),
		cmocka_unit_test(test_jacobian_with_pulled_ropes),
		cmocka_unit_test(test_jacobian_with_contacts),
		cmocka_unit_test(test_jacobian_of_a_long_running_line),
		cmocka_unit_test(test_stretch_is_the_integral_along_the_rope),
		cmocka_unit_test(test_system_is_symmetric_without_friction),
		cmocka_unit_test(test_gradient_and_stiffness_of_the_energy),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
