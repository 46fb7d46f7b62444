/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The one file that knows GSL's quasi-random numbers. Its generator lives in our arena, so that GSL need not
 * allocate and its error handler is never reached.
 */
#include "solver/base/points.h"

#include <gsl/gsl_qrng.h>

/* Sobol's sequence in GSL has so many dimensions. */
enum { SOBOL_MOST = 40 };

static int sobol_dimensions(const rn_points *p)
{
	return p->dimensions < SOBOL_MOST ? p->dimensions : SOBOL_MOST;
}

rn_status rn_points_begin(rn_arena *arena, int dimensions, rn_points *points_out)
{
	rn_points p = {.dimensions = dimensions};
	unsigned sobol = (unsigned)sobol_dimensions(&p);
	char *state;
	RN_TAKE(arena, state, gsl_qrng_sobol->state_size(sobol) + 1);
	RN_TAKE(arena, p.first, SOBOL_MOST);
	if (sobol > 0)
		gsl_qrng_sobol->init_state(state, sobol);
	p.state = state;
	*points_out = p;
	return RN_OK;
}

/* Steele, Lea and Flood's mixer of 64 bits (2014), to (0, 1). */
double rn_random_of(uint64_t point, uint64_t dimension)
{
	uint64_t z = point * UINT64_C(0x9E3779B97F4A7C15) + dimension * UINT64_C(0xD1B54A32D192ED03);
	z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
	z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
	z ^= z >> 31;
	return ((double)(z >> 11) + 0.5) / 9007199254740992.0;
}

void rn_points_next(rn_points *p, double *point_out)
{
	int sobol = sobol_dimensions(p);
	if (sobol > 0)
		gsl_qrng_sobol->get(p->state, (unsigned)sobol, p->first);
	p->given++;
	for (int i = 0; i < p->dimensions; i++)
		point_out[i] = i < sobol ? p->first[i] : rn_random_of((uint64_t)p->given, (uint64_t)i);
}
