/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Search along directions: from the best place so far a step each way, along directions that are turned by the golden
 * angle whenever none of them went down and the step was halved; the step that went down is taken again, twice as
 * long. Fixed directions can stand still on an edge of the function, directions that come to lie everywhere cannot
 * (Audet and Dennis, SIAM J. Optim. 17 (2006), from memory).
 */
#include "solver/study/descent.h"

#include <math.h>

#include "solver/base/vec2.h"

/* Directions of one round, evenly apart. Five: then no turn maps them on themselves. */
enum { DIRECTIONS = 5 };

/* Steps of one descent; a straight way down takes some thirty, a bent edge some hundreds. */
enum { STEPS_MOST = 600 };

/* Down by less than this part is rounding [-]: where nothing changes the search stays where it is. */
static const double rounding = 1e-11;

static const double golden_angle = 2.39996322972865332;

static int direction_count(const rn_descent *d)
{
	return d->size == 1 ? 2 : DIRECTIONS;
}

static void direction(const rn_descent *d, int k, double turned, double *out)
{
	double angle = d->size == 1 ? k * RN_PI : turned + 2 * RN_PI * k / DIRECTIONS;
	out[0] = d->size == 1 ? 1 - 2 * k : cos(angle);
	out[1] = d->size == 1 ? 0 : sin(angle);
}

/* A step, kept in the box; takes it when it goes down. */
static rn_status step_along(rn_descent *d, const double *way, bool *down_out)
{
	double to[RN_VARIED_MOST] = {0}, value;
	bool moved = false;
	*down_out = false;
	for (int i = 0; i < RN_VARIED_MOST; i++) {
		to[i] = fmin(fmax(d->at[i] + d->step * way[i], 0), 1);
		moved = moved || to[i] != d->at[i];
	}
	if (!moved)
		return RN_OK;
	RN_TRY(d->of(d->context, to, &value));
	*down_out = value < d->value * (1 - rounding);
	if (!*down_out)
		return RN_OK;
	d->value = value;
	for (int i = 0; i < RN_VARIED_MOST; i++)
		d->at[i] = to[i];
	return RN_OK;
}

rn_status rn_descend(rn_descent *d)
{
	double way[RN_VARIED_MOST] = {0}, turned = 0;
	bool down = false;
	double first = d->step;
	for (int i = 0; i < STEPS_MOST && d->step > d->close; i++) {
		if (down)
			RN_TRY(step_along(d, way, &down));
		for (int k = 0; k < direction_count(d) && !down; k++) {
			direction(d, k, turned, way);
			RN_TRY(step_along(d, way, &down));
		}
		d->step = down ? fmin(2 * d->step, first) : d->step / 2;
		turned += down ? 0 : golden_angle;
	}
	return RN_OK;
}
