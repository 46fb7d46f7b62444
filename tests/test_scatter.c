/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Trials with numbers drawn from their ranges: against closed forms at the points of the sequence, each against one
 * solve of a model that has these very numbers, with one, two and three threads, stopped halfway, and without memory.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_qrng.h>

#include <cmocka.h>

#include "io/report/csv_stream.h"
#include "io/report/json_stream.h"
#include "io/report/scatter.h"
#include "solver/study/workspace.h"
#include "tests/models.h"
#include "tests/support.h"

#define HEAD "<rigging xmlns='urn:funicle:rigging' format='1'>"
#define TAIL "</rigging>"

typedef struct subject {
	rn_document *document;
	rn_result *result;
	rn_scatter scatter;
} subject;

static subject solved(rn_document *document)
{
	rn_options options = rn_options_default();
	subject s = {.document = document};
	assert_int_equal(rn_solve(document->model, &options, &s.result), RN_OK);
	return s;
}

static void find(subject *s, const rn_scatter_asked *asked)
{
	rn_options options = rn_options_default();
	assert_int_equal(rn_scatter_find(s->result, &options, asked, &s->scatter), RN_OK);
}

/* So many trials with these ranges, and what the model has. */
static void draw(subject *s, const rn_between *ranges, int range_count, int count)
{
	rn_scatter_asked asked = {.ranges = ranges, .range_count = range_count, .count = count, .threads = 1};
	find(s, &asked);
}

static void end(subject *s)
{
	rn_scatter_release(&s->scatter);
	rn_result_destroy(s->result);
	rn_document_destroy(s->document);
}

static rn_between between(const rn_model *m, const char *name, double low, double high)
{
	int number = rn_model_number_by_name(m, name);
	assert_int_not_equal(number, RN_NONE);
	return (rn_between){.number = number, .low = low, .high = high};
}

static int part_of(const subject *s, const char *id)
{
	rn_object object = rn_model_object_by_id(s->document->model, id);
	const rn_case_result *a = &s->result->cases[0];
	for (int p = 0; p < a->part_count; p++)
		if (a->parts[p].object.kind == object.kind && a->parts[p].object.index == object.index)
			return p;
	fail_msg("there is no part %s", id);
	return RN_NONE;
}

/* The points once more, by the library itself. */
static double *sobol(int dimensions, int count)
{
	double *points = malloc((size_t)dimensions * (size_t)count * sizeof *points);
	gsl_qrng *q = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)dimensions);
	assert_non_null(points);
	assert_non_null(q);
	for (int i = 0; i < count; i++)
		gsl_qrng_get(q, points + (size_t)i * (size_t)dimensions);
	gsl_qrng_free(q);
	return points;
}

static int ascending(const void *left, const void *right)
{
	double a = *(const double *)left, b = *(const double *)right;
	return (a > b) - (a < b);
}

/* ---- a weight on one sling ----------------------------------------------------------------------- */

/* Limit 60 kN / 6 = 10 kN, whatever hangs on it: its share is the weight over that. */
static const char one_sling[] =
	HEAD "<gear design-factor='6'><item id='rope' kind='sling' strength='60 kN' stiffness='490 kN'/></gear>"
	     "<anchor id='top' x='0 m' y='6 m' working-load='100 kN'/><piece id='log' x='0 m' y='3 m' weight='9 kN'/>"
	     "<sling id='drop' from='top' to='log' gear='rope' hitch='straight'/>" TAIL;

static void test_one_sling(void **state)
{
	(void)state;
	enum { COUNT = 1024 };
	const double low = 8.1e3, high = 12e3;
	subject s = solved(models_read_text(one_sling));
	rn_between range = between(s.document->model, "log.weight", low, high);
	draw(&s, &range, 1, COUNT);
	int drop = part_of(&s, "drop"), top = part_of(&s, "top"), over = 0, parts = s.scatter.part_count;
	double *u = sobol(1, COUNT), shares[COUNT];
	for (int i = 0; i < COUNT; i++) {
		shares[i] = (low + (high - low) * u[i]) / 10e3;
		over += shares[i] > 1;
		rn_assert_near(s.scatter.utilisations[i * parts + drop], shares[i], 1e-9, 0);
		rn_assert_near(s.scatter.utilisations[i * parts + top], shares[i] / 10, 1e-9, 0);
		assert_int_equal(s.scatter.trials[i], shares[i] > 1 ? RN_TRIAL_OVER : RN_TRIAL_NONE_OVER);
	}
	const rn_scatter_part *part = &s.scatter.parts[drop];
	qsort(shares, COUNT, sizeof *shares, ascending);
	assert_int_equal(s.scatter.range_count, 1);
	assert_int_equal(s.scatter.count, COUNT);
	assert_false(s.scatter.stopped);
	assert_int_equal(part->over_count, over);
	assert_int_equal(part->closest_count, COUNT);
	assert_int_equal(part->unchecked_count, 0);
	assert_false(part->is_demand);
	assert_int_equal(s.scatter.counts[RN_TRIAL_OVER], over);
	assert_int_equal(s.scatter.counts[RN_TRIAL_NONE_OVER], COUNT - over);
	/* of 1024 the 52nd, 512th, 973rd and the last */
	rn_assert_near(part->ranked[RN_RANK_5], shares[51], 1e-9, 0);
	rn_assert_near(part->ranked[RN_RANK_50], shares[511], 1e-9, 0);
	rn_assert_near(part->ranked[RN_RANK_95], shares[972], 1e-9, 0);
	rn_assert_near(part->ranked[RN_RANK_MOST], shares[COUNT - 1], 1e-9, 0);
	rn_assert_near(s.scatter.closest[RN_RANK_95], shares[972], 1e-9, 0);
	/* and what they stand for: uniform from 0.81 to 1.2 */
	rn_assert_near((double)over / COUNT, (1.2 - 1) / 0.39, 0, 1.5 / COUNT);
	rn_assert_near(part->ranked[RN_RANK_5], 0.81 + 0.05 * 0.39, 0, 1.5 * 0.39 / COUNT);
	rn_assert_near(part->ranked[RN_RANK_50], 0.81 + 0.50 * 0.39, 0, 1.5 * 0.39 / COUNT);
	rn_assert_near(part->ranked[RN_RANK_95], 0.81 + 0.95 * 0.39, 0, 1.5 * 0.39 / COUNT);
	free(u);
	end(&s);
}

/* Strength is a number like any other, and both are drawn each by itself: over where W > S / 6. */
static void test_weight_and_strength(void **state)
{
	(void)state;
	enum { COUNT = 512 };
	subject s = solved(models_read_text(one_sling));
	rn_between ranges[] = {between(s.document->model, "rope.strength", 50e3, 70e3),
	                       between(s.document->model, "log.weight", 8e3, 11e3)};
	draw(&s, ranges, 2, COUNT);
	int drop = part_of(&s, "drop"), over = 0;
	double *u = sobol(2, COUNT);
	for (int i = 0; i < COUNT; i++) {
		double share = 6 * (8e3 + 3e3 * u[2 * i + 1]) / (50e3 + 20e3 * u[2 * i]);
		rn_assert_near(s.scatter.utilisations[i * s.scatter.part_count + drop], share, 1e-9, 0);
		over += share > 1;
	}
	assert_int_equal(s.scatter.counts[RN_TRIAL_OVER], over);
	assert_true(over > COUNT / 4 && over < 3 * COUNT / 4);
	free(u);
	end(&s);
}

/* ---- two legs and a place ------------------------------------------------------------------------ */

/* Legs of length L0 as drawn, EA, spread 2 a: T = EA (L / L0 - 1) and 2 T d / L = W with L^2 = a^2 + d^2, by halving. */
static double leg_tension(double a, double drawn_depth, double weight, double stiffness)
{
	double made = hypot(a, drawn_depth), low = drawn_depth, high = 2 * drawn_depth + 1;
	for (int i = 0; i < 200; i++) {
		double d = (low + high) / 2, length = hypot(a, d);
		*(2 * stiffness * (length / made - 1) * d / length < weight ? &low : &high) = d;
	}
	return stiffness * (hypot(a, low) / made - 1);
}

static const char two_legs[] =
	HEAD "<gear><item id='rope' kind='sling' strength='60 kN' stiffness='490 kN' design-factor='6'/></gear>"
	     "<anchor id='left' x='-2 m' y='6 m' working-load='100 kN'/><anchor id='right' x='2 m' y='6 m' working-load='100 kN'/>"
	     "<piece id='log' x='0 m' y='3 m' weight='12 kN'/>"
	     "<sling id='a' from='left' to='log' gear='rope' hitch='straight'/>"
	     "<sling id='b' from='right' to='log' gear='rope' hitch='straight'/>" TAIL;

static void test_two_legs(void **state)
{
	(void)state;
	enum { COUNT = 256 };
	subject s = solved(models_read_text(two_legs));
	rn_between range = between(s.document->model, "log.y", 3, 5.5);
	draw(&s, &range, 1, COUNT);
	int a = part_of(&s, "a"), b = part_of(&s, "b"), over = 0;
	double *u = sobol(1, COUNT);
	for (int i = 0; i < COUNT; i++) {
		double tension = leg_tension(2, 6 - (3 + 2.5 * u[i]), 12e3, 490e3);
		rn_assert_near(s.scatter.demands[i * s.scatter.part_count + a], tension, 1e-9, 0);
		rn_assert_near(s.scatter.utilisations[i * s.scatter.part_count + b], tension / 10e3, 1e-9, 0);
		over += tension > 10e3;
	}
	assert_int_equal(s.scatter.parts[a].over_count, over);
	assert_true(over > COUNT / 8 && over < COUNT);
	free(u);
	end(&s);
}

/* ---- what no trial may pass over ------------------------------------------------------------------ */

/* A log over a frictionless fork, held by a hand that pulls 3 kN: it falls where it weighs more. Percentiles above the
 * trials with an answer have no value. */
static void test_no_equilibrium(void **state)
{
	(void)state;
	enum { COUNT = 128 };
	static const char held[] =
		HEAD "<gear><item id='rope' kind='rope' diameter='16 mm' strength='60 kN' stiffness='490 kN' design-factor='6'/></gear>"
		     "<anchor id='top' x='0 m' y='6 m' working-load='100 kN'/><hand id='me' x='2 m' y='1 m'/>"
		     "<piece id='log' x='0 m' y='3 m' weight='2 kN'/>"
		     "<line id='bull' gear='rope'><tie at='log' knot='bowline'/>"
		     "<through at='top' tread='76 mm' side='right' friction='0'/><hold at='me' pull='3 kN'/></line>" TAIL;
	subject s = solved(models_read_text(held));
	rn_between range = between(s.document->model, "log.weight", 2e3, 4e3);
	draw(&s, &range, 1, COUNT);
	double *u = sobol(1, COUNT);
	int lost = 0;
	for (int i = 0; i < COUNT; i++)
		lost += s.scatter.trials[i] == RN_TRIAL_NO_EQUILIBRIUM || s.scatter.trials[i] == RN_TRIAL_NOT_FOUND;
	for (int i = 0; i < COUNT; i++)
		if (2e3 + 2e3 * u[i] > 3.001e3)
			assert_int_equal(s.scatter.trials[i], RN_TRIAL_NO_EQUILIBRIUM);
	assert_true(lost >= COUNT / 2 - 2);
	int part = part_of(&s, "bull");
	assert_false(s.scatter.parts[part].ranked[RN_RANK_95] < HUGE_VAL);
	assert_false(s.scatter.closest[RN_RANK_95] < HUGE_VAL);
	assert_true(s.scatter.parts[part].ranked[RN_RANK_MOST] < HUGE_VAL);
	int sum = 0;
	for (int k = 0; k < RN_TRIAL_COUNT; k++)
		sum += s.scatter.counts[k];
	assert_int_equal(sum, COUNT);
	free(u);
	end(&s);
}

/* A sling with slack: the log falls first wherever there is enough of it; no such trial counts as not over. */
static void test_falls_first(void **state)
{
	(void)state;
	enum { COUNT = 64 };
	static const char slack[] =
		HEAD "<gear design-factor='6'><item id='rope' kind='rope' diameter='16 mm' strength='60 kN' stiffness='490 kN'/></gear>"
		     "<anchor id='top' x='0 m' y='6 m' working-load='100 kN'/><piece id='log' x='0 m' y='3 m' weight='2 kN'/>"
		     "<line id='drop' gear='rope' slack='0 m'><tie at='top' knot='bowline'/><tie at='log' knot='bowline'/></line>" TAIL;
	subject s = solved(models_read_text(slack));
	rn_between range = between(s.document->model, "drop.slack", 0, 1);
	draw(&s, &range, 1, COUNT);
	assert_true(s.scatter.counts[RN_TRIAL_FALLS] > COUNT / 2);
	assert_int_equal(s.scatter.counts[RN_TRIAL_FALLS] + s.scatter.counts[RN_TRIAL_NONE_OVER], COUNT);
	assert_int_equal(s.scatter.cases[0].counts[RN_TRIAL_FALLS], s.scatter.counts[RN_TRIAL_FALLS]);
	end(&s);
}

/* A light log that is caught, and reaches so far down that it meets the ground first. */
static void test_ground(void **state)
{
	(void)state;
	subject s = solved(models_read("caught-log.xml"));
	const rn_model *m = s.document->model;
	rn_between ranges[] = {between(m, "log.weight", 30, 40), between(m, "locked.below", 1, 12)};
	draw(&s, ranges, 2, 16);
	assert_in_range(s.scatter.counts[RN_TRIAL_GROUND], 4, 12);
	assert_int_equal(s.scatter.counts[RN_TRIAL_GROUND] + s.scatter.counts[RN_TRIAL_NONE_OVER], 16);
	assert_int_equal(s.scatter.cases[1].counts[RN_TRIAL_GROUND], s.scatter.counts[RN_TRIAL_GROUND]);
	end(&s);
}

/* A trial is the worst of its cases, wherever that stands among them. */
static void test_worst_case(void **state)
{
	(void)state;
	static const char light_last[] =
		HEAD "<gear design-factor='6'><item id='rope' kind='sling' strength='60 kN' stiffness='490 kN'/></gear>"
		     "<anchor id='top' x='0 m' y='6 m' working-load='100 kN'/><piece id='log' x='0 m' y='3 m' weight='9 kN'/>"
		     "<sling id='drop' from='top' to='log' gear='rope' hitch='straight'/>"
		     "<case id='light'><set of='log' weight='1 kN'/></case>" TAIL;
	subject s = solved(models_read_text(light_last));
	rn_between range = between(s.document->model, "log.weight", 8e3, 12e3);
	draw(&s, &range, 1, 64);
	assert_in_range(s.scatter.counts[RN_TRIAL_OVER], 31, 32);
	assert_int_equal(s.scatter.cases[0].counts[RN_TRIAL_OVER], s.scatter.counts[RN_TRIAL_OVER]);
	assert_int_equal(s.scatter.cases[1].counts[RN_TRIAL_NONE_OVER], 64);
	end(&s);
}

/* A part without a limit is told by its demand, and no trial is one in which nothing is over. */
static void test_not_checked(void **state)
{
	(void)state;
	static const char unrated[] =
		HEAD "<gear><item id='rope' kind='sling' strength='60 kN' stiffness='490 kN' design-factor='6'/></gear>"
		     "<anchor id='top' x='0 m' y='6 m'/><piece id='log' x='0 m' y='3 m' weight='9 kN'/>"
		     "<sling id='drop' from='top' to='log' gear='rope' hitch='straight'/>" TAIL;
	subject s = solved(models_read_text(unrated));
	rn_between range = between(s.document->model, "log.weight", 8e3, 9e3);
	draw(&s, &range, 1, 16);
	const rn_scatter_part *top = &s.scatter.parts[part_of(&s, "top")];
	assert_int_equal(s.scatter.counts[RN_TRIAL_NOT_CHECKED], 16);
	assert_int_equal(top->unchecked_count, 16);
	assert_true(top->is_demand);
	assert_in_range((int)top->ranked[RN_RANK_50], 8400, 8600);
	end(&s);
}

/* ---- which numbers, and which cases keep their own ------------------------------------------------- */

static const char ranges_of_all_kinds[] =
	HEAD "<gear design-factor='6'><item id='rope' kind='sling' strength='60 kN' fibre='polyester'/>"
	     "<item id='ring' kind='ring' tread='40 mm' working-load='20 kN' friction='0.2' friction-range='0.1..0.3'/>"
	     "<item id='shelf' kind='ring' tread='40 mm' working-load='20 kN' friction='0.2' friction-range='0.1..0.3'/></gear>"
	     "<anchor id='left' x='-2 m' y='6 m' working-load='100 kN' place-error='5 cm'/>"
	     "<anchor id='right' x='2 m' y='6 m' working-load='100 kN'/>"
	     "<piece id='log' x='0 m' y='3 m' weight='9 kN'/>"
	     "<sling id='a' from='left' to='log' gear='rope' hitch='straight' length-error='2 %'/>"
	     "<sling id='b' from='right' to='log' gear='rope' hitch='straight'/>"
	     "<case id='heavy'><set of='log' weight='11 kN'/></case>" TAIL;

static int count_of(const rn_scatter *s, rn_range_source source)
{
	int count = 0;
	for (int i = 0; i < s->range_count; i++)
		count += s->ranges[i].source == source;
	return count;
}

static void test_which_ranges(void **state)
{
	(void)state;
	subject s = solved(models_read_text(ranges_of_all_kinds));
	const rn_model *m = s.document->model;
	rn_between ranges[] = {between(m, "log.weight", 8e3, 9e3), between(m, "left.y", 5.9, 6)};
	draw(&s, ranges, 2, 16);
	assert_int_equal(count_of(&s.scatter, RN_RANGE_ASKED), 2);
	assert_int_equal(count_of(&s.scatter, RN_RANGE_GIVEN), 0);        /* a ring nobody hangs up */
	assert_int_equal(count_of(&s.scatter, RN_RANGE_GUESSED), 1);      /* stiffness, of both slings */
	assert_int_equal(count_of(&s.scatter, RN_RANGE_LENGTH_ERROR), 1); /* of one of them */
	assert_int_equal(count_of(&s.scatter, RN_RANGE_PLACE_ERROR), 1);  /* left.x: left.y is asked for */
	assert_int_equal(s.scatter.range_count, 5);
	const rn_between *place = &s.scatter.ranges[4];
	assert_int_equal(place->number, rn_model_number_by_name(m, "left.x"));
	rn_assert_near(place->low, -2.05, 1e-12, 0);
	rn_assert_near(place->high, -1.95, 1e-12, 0);
	end(&s);
}

/* What a case sets is not drawn in it. */
static void test_case_keeps_its_own(void **state)
{
	(void)state;
	static const char cases[] =
		HEAD "<gear design-factor='6'><item id='rope' kind='sling' strength='60 kN' stiffness='490 kN'/></gear>"
		     "<anchor id='top' x='0 m' y='6 m' working-load='100 kN'/><piece id='log' x='0 m' y='3 m' weight='9 kN'/>"
		     "<sling id='drop' from='top' to='log' gear='rope' hitch='straight'/><cases made='none'/>"
		     "<case id='heavy'><set of='log' weight='9.5 kN'/></case>" TAIL;
	subject s = solved(models_read_text(cases));
	rn_between range = between(s.document->model, "log.weight", 8e3, 12e3);
	draw(&s, &range, 1, 16);
	const rn_scatter_part *drop = &s.scatter.parts[part_of(&s, "drop")];
	rn_assert_near(drop->ranked[RN_RANK_5], 0.95, 1e-9, 0);
	rn_assert_near(drop->ranked[RN_RANK_MOST], 0.95, 1e-9, 0);
	end(&s);
}

static void test_what_cannot_be(void **state)
{
	(void)state;
	subject s = solved(models_read_text(one_sling));
	rn_options options = rn_options_default();
	rn_scatter scatter;
	rn_between good = between(s.document->model, "log.weight", 8e3, 9e3);
	rn_between bad[] = {{.number = RN_NONE, .low = 1, .high = 2},      {.number = 10000, .low = 1, .high = 2},
	                    {.number = good.number, .low = 2, .high = 1},  {.number = good.number, .low = -1, .high = 1},
	                    {.number = good.number, .low = 1, .high = HUGE_VAL}, {.number = good.number, .low = (double)NAN, .high = 1}};
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		rn_scatter_asked asked = {.ranges = &bad[i], .range_count = 1, .count = 16, .threads = 1};
		assert_int_equal(rn_scatter_find(s.result, &options, &asked, &scatter), RN_STATUS_ARGUMENT);
	}
	rn_scatter_asked odd[] = {{.ranges = &good, .range_count = 1, .count = 0, .threads = 1},
	                          {.ranges = &good, .range_count = 1, .count = RN_TRIALS_MOST + 1, .threads = 1},
	                          {.ranges = &good, .range_count = 1, .count = 16, .threads = 0},
	                          {.ranges = &good, .range_count = 1, .count = 16, .threads = RN_THREADS_MOST + 1},
	                          {.count = 16, .threads = 1}}; /* nothing in this model has a range */
	for (size_t i = 0; i < sizeof odd / sizeof *odd; i++)
		assert_int_equal(rn_scatter_find(s.result, &options, &odd[i], &scatter), RN_STATUS_ARGUMENT);
	end(&s);
	subject photo = solved(models_read("photo.xml"));
	rn_between friction = {.number = 0, .low = photo.document->model->numbers[0].value,
	                       .high = photo.document->model->numbers[0].value};
	rn_scatter_asked asked = {.ranges = &friction, .range_count = 1, .count = 16, .threads = 1};
	assert_int_equal(rn_scatter_find(photo.result, &options, &asked, &scatter), RN_STATUS_ARGUMENT);
	rn_result_destroy(photo.result);
	rn_document_destroy(photo.document);
}

/* ---- each trial against one solve ------------------------------------------------------------------ */

/* The numbers of one trial, given as if the file had said them. */
typedef struct given {
	const rn_model *model;
	const rn_scatter *scatter;
	const double *point;
} given;

static double drawn(const given *of, int i)
{
	const rn_between *r = &of->scatter->ranges[i];
	return r->low + (r->high - r->low) * of->point[i];
}

static rn_status give_numbers(void *context, rn_model *m)
{
	const given *of = context;
	for (int i = 0; i < of->scatter->range_count; i++) {
		rn_number n = of->model->numbers[of->scatter->ranges[i].number];
		if (of->scatter->ranges[i].length.index != RN_NONE)
			continue;
		n.value = n.low = n.high = drawn(of, i);
		n.origin = RN_GIVEN;
		RN_TRY(rn_model_set_number(m, &n));
	}
	return RN_OK;
}

static rn_result *solve_alone(const given *of, const char *model, rn_document **document_out)
{
	rn_prepare prepare = {give_numbers, (void *)of};
	rn_options options = rn_options_default();
	rn_result *result;
	double line_off[16] = {0}, leg_off[32] = {0};
	rn_unsure unsure = {.line_off = line_off, .leg_off = leg_off};
	*document_out = models_read_either(model, &prepare);
	for (int i = 0; i < of->scatter->range_count; i++) {
		rn_object length = of->scatter->ranges[i].length;
		if (length.index != RN_NONE)
			(length.kind == RN_LINE ? line_off : leg_off)[length.index] = drawn(of, i);
	}
	options.stretch_check = options.side_check = false;
	assert_int_equal(rn_solve_unsure((*document_out)->model, &options, &unsure, &result), RN_OK);
	return result;
}

static bool counts(const rn_case_result *a)
{
	return rn_case_holds(a) && !a->falls;
}

/* Demands and utilisations of one trial, over all cases. */
static void compare_trial(const subject *s, const rn_result *alone, int trial)
{
	int parts = s->scatter.part_count;
	assert_int_equal(alone->case_count, s->scatter.case_count);
	for (int p = 0; p < parts; p++) {
		double demand = 0, share = -1, largest = 0;
		for (int c = 0; c < alone->case_count; c++) {
			const rn_case_result *a = &alone->cases[c];
			for (int q = 0; q < a->part_count; q++)
				largest = fmax(largest, a->parts[q].demand);
			if (!counts(a))
				continue;
			demand = fmax(demand, a->parts[p].demand);
			if (a->parts[p].unchecked == RN_CHECKED)
				share = fmax(share, a->parts[p].utilisation);
		}
		/* settled from two beginnings: each to a few parts in 1e9 of the largest load */
		rn_assert_near(s->scatter.demands[trial * parts + p], demand, 1e-6, 1e-7 * largest);
		rn_assert_near(s->scatter.utilisations[trial * parts + p], share, 1e-6, 1e-7);
	}
}

/* Three legs to one ring, one more than it needs: a few millimetres decide who carries. */
static const char lengths_off[] =
	HEAD "<gear design-factor='6'><item id='rope' kind='sling' strength='60 kN' stiffness='490 kN'/></gear>"
	     "<anchor id='left' x='-2 m' y='6 m' working-load='100 kN'/><anchor id='middle' x='0.5 m' y='7 m' working-load='100 kN'/>"
	     "<anchor id='right' x='3 m' y='6 m' working-load='100 kN'/><piece id='log' x='0 m' y='3 m' weight='9 kN'/>"
	     "<sling id='a' from='left' to='log' gear='rope' hitch='straight' length-error='1 %'/>"
	     "<sling id='b' from='middle' to='log' gear='rope' hitch='straight' length-error='1 %'/>"
	     "<sling id='c' from='right' to='log' gear='rope' hitch='straight' length-error='2 %'/>" TAIL;

/* A rope over a fork that is held while more comes on: most is carried in the case that follows. */
static const char held_rope[] =
	HEAD "<gear design-factor='6'><item id='rope' kind='rope' diameter='16 mm' strength='60 kN' stiffness='490 kN'/>"
	     "<item id='drum' kind='bollard' friction='0.2' working-load='20 kN'/></gear>"
	     "<anchor id='top' x='0 m' y='6 m' working-load='100 kN'/><bollard id='post' x='2 m' y='1 m' gear='drum' turns='3'/>"
	     "<piece id='log' x='-0.1 m' y='3 m' weight='2 kN'/>"
	     "<line id='bull' gear='rope'><tie at='log' knot='bowline'/>"
	     "<through at='top' tread='76 mm' side='right' friction='0.2'/><hold at='post'/></line><cases made='none'/>"
	     "<case id='low'/><case id='more' after='low'><force at='log' size='1 kN' toward='down'/></case>" TAIL;

/* Sapwood: how wet it is, and how round, is open. */
static const char wood[] =
	HEAD "<gear design-factor='6'><item id='rope' kind='sling' strength='60 kN' stiffness='490 kN'/></gear>"
	     "<anchor id='top' x='0 m' y='6 m' working-load='100 kN'/>"
	     "<piece id='log' x='0 m' y='3 m' species='white oak' long='2.4 m' wood='sap'><cut at='0 m' diameter='40 cm'/>"
	     "<cut at='2.4 m' diameter='30 cm'/></piece><sling id='drop' from='top' to='log' gear='rope' hitch='straight'/>" TAIL;

static const struct {
	const char *model, *number; /* asked about besides what the model has */
	double less, more;
	int count, every; /* trials; compared */
} compared[] = {
	{"floating-redirect.xml", "log.weight", 0.8, 1.3, 64, 3}, {"fern-house.xml", "log.weight", 0.8, 1.2, 64, 7},
	{"three-legs.xml", "log.weight", 0.8, 1.2, 64, 7},        {"one-redirect.xml", "b1.x", 0.9, 1.1, 64, 7},
	{"twin-rings.xml", "log.weight", 0.7, 1.3, 64, 7},        {"three-to-one.xml", "log.weight", 0.8, 1.2, 64, 7},
	{wood, NULL, 0, 0, 16, 5},                                {"track-line.xml", "log.weight", 0.8, 1.2, 64, 7},
	{"guyed-stem.xml", "log.weight", 0.8, 1.2, 32, 5},        {"caught-log.xml", "log.weight", 0.9, 1.1, 8, 3},
	{held_rope, "log.weight", 0.9, 1.1, 16, 5},               {lengths_off, "log.weight", 0.8, 1.2, 64, 7},
	{"weighed-log.xml", "log.x", 0.9, 1.1, 16, 5},
};

/* What is counted of the parts, once more from what is told of each trial. */
static void compare_counts(const rn_scatter *s)
{
	int closest[64] = {0}, over[64] = {0};
	for (int i = 0; i < s->count; i++) {
		int best = RN_NONE;
		for (int p = 0; p < s->part_count; p++) {
			double share = s->utilisations[i * s->part_count + p];
			over[p] += share > 1;
			if (share > 0 && (best == RN_NONE || share > s->utilisations[i * s->part_count + best]))
				best = p;
		}
		if (best != RN_NONE)
			closest[best]++;
	}
	for (int p = 0; p < s->part_count; p++) {
		assert_int_equal(s->parts[p].closest_count, closest[p]);
		assert_int_equal(s->parts[p].over_count, over[p]);
	}
}

static void test_each_trial_alone(void **state)
{
	(void)state;
	for (size_t k = 0; k < sizeof compared / sizeof *compared; k++) {
		subject s = solved(models_read_either(compared[k].model, NULL));
		const rn_model *m = s.document->model;
		rn_between range = {0};
		if (compared[k].number) {
			int number = rn_model_number_by_name(m, compared[k].number);
			if (number == RN_NONE)
				fail_msg("%s has no %s", compared[k].model, compared[k].number);
			range = between(m, compared[k].number, compared[k].less * m->numbers[number].value,
			                compared[k].more * m->numbers[number].value);
		}
		draw(&s, &range, compared[k].number != NULL, compared[k].count);
		double *points = sobol(s.scatter.range_count, compared[k].count);
		for (int i = 0; i < compared[k].count; i += compared[k].every) {
			given of = {m, &s.scatter, points + i * s.scatter.range_count};
			rn_document *document;
			rn_result *alone = solve_alone(&of, compared[k].model, &document);
			compare_trial(&s, alone, i);
			rn_result_destroy(alone);
			rn_document_destroy(document);
		}
		compare_counts(&s.scatter);
		free(points);
		end(&s);
	}
}

/* Every place of a large rig two centimetres off: more numbers than the sequence has dimensions. */
static rn_status give_place_error(void *context, rn_model *m)
{
	const rn_number n = {.value = 0.02, .low = 0.02, .high = 0.02, .object = rn_object_of(RN_RIGGING, 0),
	                     .attribute = RN_ATTRIBUTE_PLACE_ERROR, .origin = RN_GIVEN};
	(void)context;
	return rn_model_set_number(m, &n);
}

static void test_many_numbers(void **state)
{
	(void)state;
	enum { COUNT = 64, SOBOL = 40, EVERY = 13 };
	static const char *const names[] = {"oak.lean", "beech.y", "ash.lean", "log.weight", "block16.tread",
	                                    "block16.weight", "block16.working-load", "block16.efficiency",
	                                    "ring28.working-load", "drum.working-load",
	                                    "bull16.strength", "bull16.diameter", "ring28.tread", "ring28.weight",
	                                    "sling20.strength", "sling14.strength", "sling20.stiffness", "sling14.stiffness",
	                                    "oak.x", "oak.y", "beech.x", "ash.x", "ash.y", "top.reach", "back.reach",
	                                    "long.reach"};
	enum { NAMES = sizeof names / sizeof *names };
	rn_prepare prepare = {give_place_error, NULL};
	subject s = solved(models_read_prepared("fern-house.xml", &prepare));
	const rn_model *m = s.document->model;
	rn_between ranges[NAMES];
	for (int i = 0; i < NAMES; i++) {
		int number = rn_model_number_by_name(m, names[i]);
		double value = number == RN_NONE ? 0 : m->numbers[number].value, off = 0.01 * fabs(value) + 1e-3;
		ranges[i] = between(m, names[i], value - off, value + off);
	}
	draw(&s, ranges, NAMES, COUNT);
	int dimensions = s.scatter.range_count;
	assert_true(dimensions > SOBOL);
	double *first = sobol(SOBOL, COUNT), *point = malloc((size_t)dimensions * sizeof *point);
	assert_non_null(point);
	for (int i = 0; i < COUNT; i += EVERY) {
		for (int d = 0; d < dimensions; d++)
			point[d] = d < SOBOL ? first[i * SOBOL + d] : rn_random_of((uint64_t)i + 1, (uint64_t)d);
		given of = {m, &s.scatter, point};
		rn_document *document;
		rn_result *alone = solve_alone(&of, "fern-house.xml", &document);
		compare_trial(&s, alone, i);
		rn_result_destroy(alone);
		rn_document_destroy(document);
	}
	free(point);
	free(first);
	end(&s);
}

/* A weight that comes from wood follows what else is drawn of it: between the two figures of the log as it is then. */
static void test_weight_follows_its_wood(void **state)
{
	(void)state;
	enum { COUNT = 32 };
	subject s = solved(models_read_text(wood));
	const rn_model *m = s.document->model;
	rn_between range = between(m, "log.cut1.diameter", 0.35, 0.5);
	draw(&s, &range, 1, COUNT);
	assert_int_equal(s.scatter.range_count, 2);
	assert_int_equal(s.scatter.ranges[1].number, rn_model_number_by_name(m, "log.weight"));
	double *u = sobol(2, COUNT), *values = malloc((size_t)m->number_count * sizeof *values);
	assert_non_null(values);
	rn_case_values(m, &m->cases[0], values);
	for (int i = 0; i < COUNT; i++) {
		values[range.number] = 0.35 + 0.15 * u[2 * i];
		rn_weighed w = rn_timber_weighed(m, values, 0);
		assert_true(w.weight_most > 1.05 * w.weight);
		rn_assert_near(s.scatter.demands[i * s.scatter.part_count + part_of(&s, "drop")],
		               w.weight + (w.weight_most - w.weight) * u[2 * i + 1], 1e-9, 0);
	}
	free(values);
	free(u);
	end(&s);
}

/* ---- threads, prefixes, stopping -------------------------------------------------------------------- */

static rn_between heavier(const rn_model *m)
{
	int number = rn_model_number_by_name(m, "log.weight");
	double value = m->numbers[number].value;
	return (rn_between){.number = number, .low = 0.8 * value, .high = 1.3 * value};
}

/* The first `count` trials of two are the same to the last bit. */
static void same_trials(const rn_scatter *a, const rn_scatter *b, int count)
{
	size_t values = (size_t)count * (size_t)a->part_count * sizeof(double);
	assert_int_equal(a->part_count, b->part_count);
	assert_memory_equal(a->trials, b->trials, (size_t)count * sizeof *a->trials);
	assert_memory_equal(a->utilisations, b->utilisations, values);
	assert_memory_equal(a->demands, b->demands, values);
}

/* Everything that is told. */
static void same_sums(const rn_scatter *a, const rn_scatter *b)
{
	assert_int_equal(a->count, b->count);
	assert_memory_equal(a->counts, b->counts, sizeof a->counts);
	assert_memory_equal(a->closest, b->closest, sizeof a->closest);
	assert_memory_equal(a->cases, b->cases, (size_t)a->case_count * sizeof *a->cases);
	for (int p = 0; p < a->part_count; p++) {
		assert_int_equal(a->parts[p].over_count, b->parts[p].over_count);
		assert_int_equal(a->parts[p].closest_count, b->parts[p].closest_count);
		assert_int_equal(a->parts[p].unchecked_count, b->parts[p].unchecked_count);
		assert_memory_equal(a->parts[p].ranked, b->parts[p].ranked, sizeof a->parts[p].ranked);
	}
}

static const char *const shared_models[] = {"floating-redirect.xml", "fern-house.xml", "three-legs.xml", "twin-rings.xml",
                                            "track-line.xml", "caught-log.xml"};

static void test_threads(void **state)
{
	(void)state;
	for (size_t k = 0; k < sizeof shared_models / sizeof *shared_models; k++) {
		subject s = solved(models_read(shared_models[k]));
		rn_between range = heavier(s.document->model);
		rn_options options = rn_options_default();
		int count = strcmp(shared_models[k], "caught-log.xml") ? 256 : 16;
		rn_scatter_asked asked = {.ranges = &range, .range_count = 1, .count = count, .threads = 1};
		find(&s, &asked);
		for (asked.threads = 2; asked.threads <= 3; asked.threads++) {
			rn_scatter other;
			assert_int_equal(rn_scatter_find(s.result, &options, &asked, &other), RN_OK);
			same_trials(&s.scatter, &other, count);
			same_sums(&s.scatter, &other);
			rn_scatter_release(&other);
		}
		end(&s);
	}
}

/* A piece just below its block, by less than places may be off: where it comes to lie within the tread nobody can draw the
 * rope, whose length is then that of no trial before. */
static void test_what_cannot_be_drawn(void **state)
{
	(void)state;
	static const char near[] =
		HEAD "<gear design-factor='6'><item id='rope' kind='rope' strength='60 kN' diameter='14 mm' stiffness='490 kN'/></gear>"
		     "<anchor id='top' x='0 m' y='6 m' working-load='100 kN'/><anchor id='post' x='2 m' y='0 m' working-load='100 kN'/>"
		     "<piece id='log' x='-0.1 m' y='5.88 m' weight='9 kN' place-error='0.1 m'/>"
		     "<line id='bull' gear='rope'><tie at='log' knot='bowline'/>"
		     "<through at='top' tread='0.2 m' side='right' friction='0.1'/><tie at='post' knot='bowline'/></line>" TAIL;
	subject s = solved(models_read_text(near));
	rn_options options = rn_options_default();
	rn_scatter_asked asked = {.count = 256, .threads = 1};
	find(&s, &asked);
	assert_in_range(s.scatter.counts[RN_TRIAL_NOT_FOUND], 1, 255);
	for (asked.threads = 2; asked.threads <= 3; asked.threads++) {
		rn_scatter other;
		assert_int_equal(rn_scatter_find(s.result, &options, &asked, &other), RN_OK);
		same_trials(&s.scatter, &other, asked.count);
		same_sums(&s.scatter, &other);
		rn_scatter_release(&other);
	}
	end(&s);
}

/* More trials only add to those before: none depends on how many are to come, nor on which were before it. */
static void test_first_trials(void **state)
{
	(void)state;
	subject s = solved(models_read("floating-redirect.xml"));
	rn_between range = heavier(s.document->model);
	rn_options options = rn_options_default();
	rn_scatter_asked asked = {.ranges = &range, .range_count = 1, .count = 256, .threads = 2};
	find(&s, &asked);
	for (asked.count = 1; asked.count <= 100; asked.count += 33) {
		rn_scatter fewer;
		assert_int_equal(rn_scatter_find(s.result, &options, &asked, &fewer), RN_OK);
		same_trials(&fewer, &s.scatter, asked.count);
		rn_scatter_release(&fewer);
	}
	end(&s);
}

typedef struct stopping {
	int stop, after, last;
} stopping;

static void stop_after(void *context, int done, int count)
{
	stopping *s = context;
	assert_true(done == s->last + 1 && done <= count);
	s->last = done;
	if (done == s->after)
		__atomic_store_n(&s->stop, 1, __ATOMIC_RELAXED);
}

/* What is stopped halfway is the answer of its first trials. */
static void test_stopped(void **state)
{
	(void)state;
	subject s = solved(models_read("floating-redirect.xml"));
	rn_between range = heavier(s.document->model);
	for (int threads = 1; threads <= 3; threads++) {
		stopping stop = {.after = 40};
		rn_options options = rn_options_default();
		rn_scatter_asked asked = {.ranges = &range, .range_count = 1, .count = 4096, .threads = threads,
		                          .progress = stop_after, .context = &stop};
		rn_scatter part, whole;
		options.stop = &stop.stop;
		assert_int_equal(rn_scatter_find(s.result, &options, &asked, &part), RN_OK);
		assert_true(part.stopped);
		assert_int_equal(part.asked, 4096);
		assert_in_range(part.count, 40, 40 + threads - 1);
		asked = (rn_scatter_asked){.ranges = &range, .range_count = 1, .count = part.count, .threads = 1};
		options.stop = NULL;
		assert_int_equal(rn_scatter_find(s.result, &options, &asked, &whole), RN_OK);
		assert_false(whole.stopped);
		same_trials(&part, &whole, part.count);
		same_sums(&part, &whole);
		rn_scatter_release(&part);
		rn_scatter_release(&whole);
	}
	/* before the first trial there is nothing to tell */
	int stop = 1;
	rn_options options = rn_options_default();
	rn_scatter_asked asked = {.ranges = &range, .range_count = 1, .count = 16, .threads = 1};
	rn_scatter none;
	options.stop = &stop;
	assert_int_equal(rn_scatter_find(s.result, &options, &asked, &none), RN_STATUS_STOPPED);
	end(&s);
}

/* ---- memory ---------------------------------------------------------------------------------------- */

static void test_memory_ends(void **state)
{
	(void)state;
	static const char *const models[] = {"three-legs.xml", "caught-log.xml"};
	for (int k = 0; k < 2; k++) {
		subject s = solved(models_read(models[k]));
		rn_between range = heavier(s.document->model);
		rn_scatter_asked asked = {.ranges = &range, .range_count = 1, .count = 4, .threads = 1};
		rn_status status = RN_STATUS_MEMORY;
		long failures = 0;
		for (long fail_at = 1; status == RN_STATUS_MEMORY; fail_at += 1 + fail_at / 50) {
			support_memory memory = {.fail_at = fail_at, .for_good = fail_at % 2};
			rn_options options = rn_options_default();
			rn_scatter scatter;
			options.allocator = support_memory_allocator(&memory);
			status = rn_scatter_find(s.result, &options, &asked, &scatter);
			assert_true(status == RN_OK || status == RN_STATUS_MEMORY);
			if (status == RN_OK)
				rn_scatter_release(&scatter);
			assert_int_equal(memory.live_count, 0);
			failures += status == RN_STATUS_MEMORY;
		}
		assert_true(failures > 10);
		rn_result_destroy(s.result);
		rn_document_destroy(s.document);
	}
}

/* ---- told ------------------------------------------------------------------------------------------ */

static rn_status tell_as(const subject *s, int form, rn_buffer *out)
{
	rn_answer_options options = {.file = "test.xml"};
	if (form == 0) {
		rn_folio folio = rn_folio_make(&out->allocator);
		rn_status status = rn_scatter_folio(&folio, s->result, &s->scatter, RN_METRIC);
		if (status == RN_OK)
			status = rn_folio_text(out, &folio);
		rn_folio_release(&folio);
		return status;
	}
	if (form == 1) {
		rn_json_stream json = rn_json_stream_make(out);
		return rn_scatter_tell(&json.stream, s->result, &s->scatter, &options);
	}
	rn_csv_stream csv = rn_csv_stream_make(out);
	return rn_scatter_tell(&csv.stream, s->result, &s->scatter, &options);
}

/* In every form, and without memory in none: what comes out is whole or said to be lost. */
static void test_told_without_memory(void **state)
{
	(void)state;
	subject s = solved(models_read("fern-house.xml"));
	rn_between range = heavier(s.document->model);
	draw(&s, &range, 1, 16);
	for (int form = 0; form < 3; form++) {
		rn_status status = RN_STATUS_MEMORY;
		long failures = 0;
		for (long fail_at = 1; status == RN_STATUS_MEMORY; fail_at += 1 + fail_at / 20) {
			support_memory memory = {.fail_at = fail_at, .for_good = fail_at % 2};
			rn_allocator allocator = support_memory_allocator(&memory);
			rn_buffer out = rn_buffer_make(&allocator);
			status = tell_as(&s, form, &out);
			assert_true(status == RN_OK || status == RN_STATUS_MEMORY);
			rn_buffer_release(&out);
			assert_int_equal(memory.live_count, 0);
			failures += status == RN_STATUS_MEMORY;
		}
		assert_true(failures > 5);
	}
	end(&s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_one_sling),
		cmocka_unit_test(test_weight_and_strength),
		cmocka_unit_test(test_two_legs),
		cmocka_unit_test(test_no_equilibrium),
		cmocka_unit_test(test_falls_first),
		cmocka_unit_test(test_ground),
		cmocka_unit_test(test_worst_case),
		cmocka_unit_test(test_not_checked),
		cmocka_unit_test(test_which_ranges),
		cmocka_unit_test(test_case_keeps_its_own),
		cmocka_unit_test(test_what_cannot_be),
		cmocka_unit_test(test_each_trial_alone),
		cmocka_unit_test(test_many_numbers),
		cmocka_unit_test(test_weight_follows_its_wood),
		cmocka_unit_test(test_threads),
		cmocka_unit_test(test_what_cannot_be_drawn),
		cmocka_unit_test(test_first_trials),
		cmocka_unit_test(test_stopped),
		cmocka_unit_test(test_memory_ends),
		cmocka_unit_test(test_told_without_memory),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
