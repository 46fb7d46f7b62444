/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/strength/buckling.h"

#include <math.h>

const double rn_buckling_most = 1e3;

/* A push smaller than this part of what it takes is none [-]: rounding lives down there. */
static const double buckling_least = 1e-6;

/* The answer is found to this part of itself [-]: less than forty elements leave open for any taper. */
static const double buckling_tolerance = 1e-7;

/* Rounds of the first guess; a uniform column takes five, one pulled as well as pushed may not get there,
 * which costs time alone. */
enum { GUESS_ROUNDS = 20 };

/* Gauss and Legendre's three points on (0, 1); Abramowitz and Stegun, table 25.4. */
static const double gauss_at[RN_COLUMN_POINTS] = {0.112701665379258311, 0.5, 0.887298334620741689};
static const double gauss_weight[RN_COLUMN_POINTS] = {0.277777777777777778, 0.444444444444444444,
                                                      0.277777777777777778};

/* Movement and slope at both ends of an element, and entries on or below the diagonal of its matrix. */
enum { FREEDOMS = 4, ENTRIES = FREEDOMS * (FREEDOMS + 1) / 2 };

double rn_column_point(int point)
{
	return gauss_at[point];
}

rn_status rn_column_create(rn_arena *arena, int element_room, rn_column *column_out)
{
	rn_column column = {.count = 0};
	RN_TAKE(arena, column.standing.items, ENTRIES * element_room + 1);
	RN_TAKE(arena, column.rigging.items, ENTRIES * element_room + 1);
	RN_TAKE(arena, column.scaled.items, ENTRIES * element_room + 1);
	column.standing.room = column.rigging.room = column.scaled.room = ENTRIES * element_room;
	RN_TAKE(arena, column.shape, 2 * element_room + 1);
	RN_TAKE(arena, column.push, 2 * element_room + 1);
	RN_TRY(rn_band_create(arena, 2 * element_room, FREEDOMS - 1, &column.band));
	*column_out = column;
	return RN_OK;
}

void rn_column_clear(rn_column *column)
{
	column->count = column->standing.count = column->rigging.count = column->scaled.count = 0;
}

/* Slope and curvature of the four shape functions at xi in an element of length h:
 *     1 - 3 xi^2 + 2 xi^3,   h (xi - 2 xi^2 + xi^3),   3 xi^2 - 2 xi^3,   h (xi^3 - xi^2) */
static void shapes(double xi, double h, double slope[FREEDOMS], double curvature[FREEDOMS])
{
	slope[0] = -6 * xi * (1 - xi) / h;
	slope[1] = (1 - xi) * (1 - 3 * xi);
	slope[2] = -slope[0];
	slope[3] = xi * (3 * xi - 2);
	curvature[0] = (12 * xi - 6) / (h * h);
	curvature[1] = (6 * xi - 4) / h;
	curvature[2] = -curvature[0];
	curvature[3] = (6 * xi - 2) / h;
}

/* K_ij = int EI n_i'' n_j'' dz,  G_ij = int N n_i' n_j' dz */
void rn_column_add(rn_column *c, const rn_column_element *e)
{
	double standing[FREEDOMS][FREEDOMS] = {{0}}, rigging[FREEDOMS][FREEDOMS] = {{0}};
	for (int p = 0; p < RN_COLUMN_POINTS; p++) {
		double slope[FREEDOMS], curvature[FREEDOMS], weight = gauss_weight[p] * e->length;
		shapes(gauss_at[p], e->length, slope, curvature);
		for (int i = 0; i < FREEDOMS; i++)
			for (int j = 0; j <= i; j++) {
				standing[i][j] += weight * (e->stiffness[p] * curvature[i] * curvature[j] -
				                            e->standing[p] * slope[i] * slope[j]);
				rigging[i][j] += weight * e->rigging[p] * slope[i] * slope[j];
			}
	}
	/* the two freedoms of the foot are not there: it is clamped */
	int first = 2 * c->count++ - 2;
	for (int i = 0; i < FREEDOMS; i++)
		for (int j = 0; j <= i && first + i >= 0; j++)
			if (first + j >= 0) {
				rn_triplets_add(&c->standing, first + i, first + j, standing[i][j]);
				rn_triplets_add(&c->rigging, first + i, first + j, rigging[i][j]);
			}
}

/* Whether it has buckled once the rigging is scaled by lambda. As long as it stands under its own weight,
 * K - G(own weight) is positive definite and the pencil has as many eigenvalues between 0 and lambda as
 * K - G(own weight) - lambda G(rigging) has negative ones (Sylvester's law of inertia). */
static bool has_buckled(rn_column *c, double lambda)
{
	c->scaled.count = 0;
	for (int k = 0; k < c->standing.count; k++) {
		const rn_triplet *t = &c->standing.items[k];
		rn_triplets_add(&c->scaled, t->row, t->column, t->value - lambda * c->rigging.items[k].value);
	}
	c->band.size = 2 * c->count;
	return rn_band_factor(&c->band, &c->scaled, 0, 0) > 0;
}

/* push = G shape; returns shape . push */
static double press(rn_column *c)
{
	double sum = 0;
	for (int i = 0; i < c->band.size; i++)
		c->push[i] = 0;
	for (int k = 0; k < c->rigging.count; k++) {
		const rn_triplet *t = &c->rigging.items[k];
		c->push[t->row] += t->value * c->shape[t->column];
		if (t->row != t->column)
			c->push[t->column] += t->value * c->shape[t->row];
	}
	for (int i = 0; i < c->band.size; i++)
		sum += c->shape[i] * c->push[i];
	return sum;
}

/* (K - G(own weight)) x' = G x again and again, with Rayleigh's quotient x.Kx / x.Gx; the band holds the
 * factors of the left side. Scaled each time, so that nothing leaves what a double holds. */
static double guess(rn_column *c)
{
	double lambda = 0, before = -1;
	for (int i = 0; i < c->band.size; i++)
		c->shape[i] = 1;
	for (int n = 0; n < GUESS_ROUNDS && fabs(lambda - before) > buckling_tolerance / 100 * lambda; n++) {
		double work = 0, scale = sqrt(fabs(press(c)));
		if (!(scale > 0))
			return 0;
		for (int i = 0; i < c->band.size; i++) {
			c->push[i] /= scale;
			c->shape[i] = c->push[i];
		}
		rn_band_solve(&c->band, c->shape);
		for (int i = 0; i < c->band.size; i++)
			work += c->shape[i] * c->push[i];
		before = lambda;
		lambda = work / press(c);
	}
	return lambda;
}

typedef struct bracket {
	double stands, buckles; /* lambdas between which it buckles [-] */
} bracket;

static void narrow(rn_column *c, bracket *b, double lambda)
{
	if (!(lambda > b->stands && lambda < b->buckles))
		return;
	if (has_buckled(c, lambda))
		b->buckles = lambda;
	else
		b->stands = lambda;
}

double rn_column_buckling(rn_column *c)
{
	bracket b = {1 / rn_buckling_most, 1 / buckling_least};
	if (has_buckled(c, 0))
		return rn_buckling_most;
	double first = guess(c);
	if (has_buckled(c, b.stands))
		return rn_buckling_most;
	if (!has_buckled(c, b.buckles))
		return 0;
	/* a good guess closes the bracket at once; whatever it leaves open is halved */
	narrow(c, &b, first * (1 + buckling_tolerance / 3));
	narrow(c, &b, first * (1 - buckling_tolerance / 3));
	while (b.buckles > b.stands * (1 + buckling_tolerance))
		narrow(c, &b, sqrt(b.stands * b.buckles));
	return 1 / sqrt(b.stands * b.buckles);
}
