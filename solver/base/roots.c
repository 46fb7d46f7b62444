/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/base/roots.h"

#include <gsl/gsl_roots.h>

/* Brent's method halves at the least every other time: far fewer are needed. */
enum { STEPS_MOST = 200 };

rn_status rn_root_between(double (*of)(double at, void *context), void *context, double low, double high, double close,
                          double *root_out)
{
	gsl_function f = {of, context};
	*root_out = low;
	if (!(of(low, context) < 0))
		return RN_OK;
	gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
	if (!solver)
		return RN_STATUS_MEMORY;
	int failed = gsl_root_fsolver_set(solver, &f, low, high);
	for (int i = 0; !failed && i < STEPS_MOST; i++) {
		failed = gsl_root_fsolver_iterate(solver);
		*root_out = gsl_root_fsolver_root(solver);
		if (gsl_root_fsolver_x_upper(solver) - gsl_root_fsolver_x_lower(solver) < close)
			break;
	}
	gsl_root_fsolver_free(solver);
	return RN_OK;
}

double rn_bracket_next(const rn_bracket *b)
{
	return (b->low * b->at_high - b->high * b->at_low) / (b->at_high - b->at_low);
}

/* An end that stays twice counts half. */
void rn_bracket_tell(rn_bracket *b, double place, double at)
{
	if ((at > 0) == (b->at_low > 0)) {
		b->low = place;
		b->at_low = at;
		b->at_high = b->side == -1 ? b->at_high / 2 : b->at_high;
		b->side = -1;
	} else {
		b->high = place;
		b->at_high = at;
		b->at_low = b->side == 1 ? b->at_low / 2 : b->at_low;
		b->side = 1;
	}
}
