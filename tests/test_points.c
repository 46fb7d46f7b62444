/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers that only look like chance: the mixer against its published outputs, points against the library's own.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>
#include <gsl/gsl_qrng.h>

#include "solver/base/points.h"
#include "solver/funicle.h"
#include "tests/support.h"

/* The first outputs of SplitMix64 from seed 0 (Steele, Lea and Flood, OOPSLA 2014), whose state grows by the same odd
 * number that stands before the point here; then one of the dimension alone and one of both, recomputed in whole numbers
 * of 64 bits. */
static const struct {
	uint64_t point, dimension, bits;
} mixed[] = {
	{1, 0, UINT64_C(0xE220A8397B1DCDAF)}, {2, 0, UINT64_C(0x6E789E6AA1B965F4)}, {3, 0, UINT64_C(0x06C45D188009454F)},
	{4, 0, UINT64_C(0xF88BB8A8724C81EC)}, {0, 1, UINT64_C(0x8209B480FAED1B10)}, {5, 7, UINT64_C(0x8F22FF03E5CA0550)},
};

/* The upper 53 bits, in the middle of their step. */
static void test_the_mixer_as_published(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof mixed / sizeof *mixed; i++) {
		double expected = ((double)(mixed[i].bits >> 11) + 0.5) * ldexp(1, -53);
		rn_assert_near(rn_random_of(mixed[i].point, mixed[i].dimension), expected, 0, 0);
	}
}

/* Forty coordinates are those of Sobol's sequence, the rest the mixer's, of points counted from 1. */
static void test_points_past_the_last_dimension(void **state)
{
	(void)state;
	static const int dimensions[] = {0, 1, 39, 40, 41, 47};
	for (size_t k = 0; k < sizeof dimensions / sizeof *dimensions; k++) {
		int n = dimensions[k], own = n < 40 ? n : 40;
		rn_allocator allocator = rn_allocator_default();
		rn_arena arena = rn_arena_make(&allocator);
		rn_points points;
		double point[48] = {0}, expected[48] = {0};
		gsl_qrng *q = own > 0 ? gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)own) : NULL;
		assert_int_equal(rn_points_begin(&arena, n, &points), RN_OK);
		for (int i = 1; i <= 20; i++) {
			point[n] = -1; /* is left alone */
			rn_points_next(&points, point);
			if (q)
				gsl_qrng_get(q, expected);
			for (int d = own; d < n; d++)
				expected[d] = rn_random_of((uint64_t)i, (uint64_t)d);
			for (int d = 0; d < n; d++)
				rn_assert_near(point[d], expected[d], 0, 0);
			rn_assert_near(point[n], -1, 0, 0);
		}
		if (q)
			gsl_qrng_free(q);
		rn_arena_release(&arena);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_the_mixer_as_published),
		cmocka_unit_test(test_points_past_the_last_dimension),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
