/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One or two numbers varied, and the best place: against closed forms, against a finer grid, mirrored, and that a model
 * told again is the same model. That every step is the answer of a file with that number is tests/vary.py's.
 */
#define _POSIX_C_SOURCE 200809L
#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/report/placed.h"
#include "io/report/varied.h"
#include "io/xml/reader.h"
#include "tests/models.h"
#include "tests/support.h"

#ifndef RN_VARY_STRIDE
#define RN_VARY_STRIDE 4 /* so-manyth number of a model */
#endif

static const rn_object no_part = {RN_NODE, RN_NONE};

static rn_varied_number number_of(const rn_model *m, const char *name, double from, double to)
{
	rn_varied_number of = {rn_altered_number(m, name), from, to};
	assert_true(of.number != RN_NONE);
	return of;
}

static rn_varied vary(const rn_model *m, const rn_varied_number *of, int count, int steps, rn_object part)
{
	rn_options options = rn_options_default();
	rn_varied varied;
	const int both[] = {steps, steps};
	assert_int_equal(rn_vary_find(m, &options, of, count, both, part, &varied), RN_OK);
	return varied;
}

static rn_placed place(const rn_model *m, const rn_varied_number *of, int count, int steps, rn_object part)
{
	rn_options options = rn_options_default();
	rn_placed placed;
	const int both[] = {steps, steps};
	assert_int_equal(rn_place_find(m, &options, of, count, both, part, &placed), RN_OK);
	return placed;
}

/* ---- a weight on two legs ---------------------------------------------------------------------- */

static const double leg_weight = 2000, leg_limit = 3000, leg_half = 2, leg_head = 6;

/* Two legs from either side, the weight hung in their middle or beside it. */
static rn_document *two_legs(double x, double y, double stiffness, double right_limit)
{
	char text[2048];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear>"
	         "<item id=\"g\" kind=\"sling\" working-load=\"%.17g N\" stiffness=\"%.17g N\"/>"
	         "<item id=\"h\" kind=\"sling\" working-load=\"%.17g N\" stiffness=\"%.17g N\"/></gear>"
	         "<anchor id=\"left\" x=\"%g m\" y=\"%g m\" working-load=\"1 MN\"/>"
	         "<anchor id=\"right\" x=\"%g m\" y=\"%g m\" working-load=\"1 MN\"/>"
	         "<piece id=\"log\" x=\"%g m\" y=\"%g m\" weight=\"%g N\"/>"
	         "<sling id=\"a\" from=\"left\" to=\"log\" gear=\"g\" hitch=\"straight\"/>"
	         "<sling id=\"b\" from=\"right\" to=\"log\" gear=\"h\" hitch=\"straight\"/><case id=\"c\"/>",
	         leg_limit, stiffness, right_limit, stiffness, -leg_half, leg_head, leg_half, leg_head, x, y, leg_weight);
	return models_from(text);
}

/* At its limit T a leg is as long as l = a / sqrt(1 - c^2), c = W / 2T, when it holds; drawn it was l / (1 + T/EA), from
 * which the height it was drawn at follows. */
static void test_crossing_of_a_limit(void **state)
{
	(void)state;
	const double stiffness = 60e3, c = leg_weight / (2 * leg_limit);
	double drawn = leg_half / sqrt(1 - c * c) / (1 + leg_limit / stiffness);
	double expected = leg_head - sqrt(drawn * drawn - leg_half * leg_half);
	rn_document *d = two_legs(0, 3, stiffness, leg_limit);
	rn_varied_number of = number_of(d->model, "log.y", 2, 5.9);
	rn_varied v = vary(d->model, &of, 1, 13, rn_model_object_by_id(d->model, "a"));
	int over = 0;
	for (int i = 0; i < v.turn_count; i++)
		if (v.turns[i].kind == RN_TURN_OVER) {
			over++;
			rn_assert_near(v.turns[i].value, expected, 1e-9, 0);
			rn_assert_near(v.turns[i].above.utilisation, 1, 1e-9, 0);
		}
	assert_int_equal(over, 1);
	for (int i = 0; i < v.counts[0]; i++) {
		assert_int_equal(v.tried[i].stand, RN_STAND_FOUND);
		assert_true((v.tried[i].utilisation > 1) == (v.tried[i].value[0] > expected));
		rn_assert_near(v.tried[i].own_demand, v.tried[i].own_utilisation * leg_limit, 1e-12, 0);
	}
	/* the lower it hangs the less it pulls */
	rn_assert_near(v.least.value[0], 2, 0, 1e-9);
	rn_vary_release(&v);
	rn_document_destroy(d);
}

/* One part takes over from another, and where the weight is drawn above its anchors it falls: answers end. */
static void test_end_of_answers(void **state)
{
	(void)state;
	rn_document *d = two_legs(0, 3, 1e8, leg_limit);
	rn_varied_number of = number_of(d->model, "left.working-load", 500, 4000);
	rn_varied v = vary(d->model, &of, 1, 4, no_part);
	/* the pull on the anchor stays, its limit moves: one part takes over from another, and one limit is crossed */
	const rn_part_result *leg = NULL;
	for (int p = 0; p < v.part_count; p++)
		if (v.result->cases[0].parts[p].object.kind == RN_SLING)
			leg = &v.result->cases[0].parts[p];
	assert_non_null(leg);
	assert_int_equal(v.turn_count, 2);
	assert_int_equal(v.turns[0].kind, RN_TURN_UNDER);
	rn_assert_near(v.turns[0].value, leg->demand, 1e-9, 0);
	assert_int_equal(v.turns[1].kind, RN_TURN_GOVERNS);
	rn_assert_near(v.turns[1].value, leg_limit, 1e-6, 0);
	rn_vary_release(&v);
	of = number_of(d->model, "log.x", -3, 3);
	v = vary(d->model, &of, 1, 7, no_part);
	for (int i = 0; i < v.counts[0]; i++) /* outside its anchors it swings in: an answer, of one leg */
		assert_int_equal(v.tried[i].stand, RN_STAND_FOUND);
	rn_vary_release(&v);
	of = number_of(d->model, "log.y", 3, 9);
	v = vary(d->model, &of, 1, 6, no_part);
	assert_int_equal(v.tried[6].stand, RN_STAND_FALLS);
	bool lost = false;
	for (int i = 0; i < v.turn_count; i++)
		lost = lost || v.turns[i].kind == RN_TURN_LOST;
	assert_true(lost);
	rn_vary_release(&v);
	rn_document_destroy(d);
}

/* What cannot be drawn is said to be so, and why. */
static void test_cannot_be(void **state)
{
	(void)state;
	rn_document *d = two_legs(0, 3, 1e8, leg_limit);
	const rn_varied_number of[] = {number_of(d->model, "log.x", -2, 2), number_of(d->model, "log.y", 2, 6)};
	rn_varied v = vary(d->model, of, 2, 4, no_part);
	assert_int_equal(v.tried[4 * 5].stand, RN_STAND_CANNOT_BE); /* at the left anchor */
	assert_int_equal(v.tried[4 * 5].why.kind, RN_NOTE_COINCIDENT);
	assert_int_equal(v.tried[0].stand, RN_STAND_FOUND);
	rn_vary_release(&v);
	rn_document_destroy(d);
}

/* ---- the best place ---------------------------------------------------------------------------- */

/* With stiff legs T1 sin t1 = T2 sin t2, so both are as near to their limits where sin t2 / sin t1 = L1 / L2; as the
 * weight goes to one side one share grows and the other falls, so that is the least of the larger. */
static double level_place(double ratio, double h)
{
	double low = -leg_half, high = leg_half;
	for (int i = 0; i < 200; i++) {
		double x = (low + high) / 2;
		double sine1 = (leg_half + x) / hypot(leg_half + x, h), sine2 = (leg_half - x) / hypot(leg_half - x, h);
		*(sine2 / sine1 > ratio ? &low : &high) = x;
	}
	return low;
}

static void test_place_in_closed_form(void **state)
{
	(void)state;
	const double right_limit = 1800, h = 3;
	rn_document *d = two_legs(0.3, leg_head - h, 1e9, right_limit);
	double expected = level_place(leg_limit / right_limit, h);
	rn_varied_number of[] = {number_of(d->model, "log.x", -1.9, 1.9), number_of(d->model, "log.y", 3, 5)};
	rn_placed p = place(d->model, of, 1, 10, no_part);
	assert_true(p.found && p.better);
	rn_assert_near(p.best.value[0], expected, 0, 1e-5);
	assert_int_equal(p.at_bound[0], 0);
	assert_true(p.flat_from[0] < expected && p.flat_to[0] > expected && !p.flat_from_bound[0] && !p.flat_to_bound[0]);
	/* the ends of what is flat carry 5 % more */
	rn_varied_number end = {of[0].number, p.flat_from[0], p.flat_to[0]};
	rn_varied ends = vary(d->model, &end, 1, 1, no_part);
	rn_assert_near(ends.tried[0].utilisation, 1.05 * p.goal, 1e-3, 0);
	rn_assert_near(ends.tried[1].utilisation, 1.05 * p.goal, 1e-3, 0);
	rn_vary_release(&ends);
	rn_place_release(&p);
	/* the lower the better: the height is at its bound, the place sideways that of its depth there */
	p = place(d->model, of, 2, 8, no_part);
	assert_int_equal(p.at_bound[1], -1);
	rn_assert_near(p.best.value[0], expected, 0, 1e-4);
	rn_place_release(&p);
	/* of one leg alone: as far from it as may be */
	p = place(d->model, of, 1, 10, rn_model_object_by_id(d->model, "b"));
	assert_int_equal(p.at_bound[0], -1);
	assert_true(p.of_part && !p.by_pull);
	rn_place_release(&p);
	rn_document_destroy(d);
}

/* Drawn at the best place there is none better; and nothing is proposed that falls. */
static void test_no_better_place(void **state)
{
	(void)state;
	rn_document *d = two_legs(level_place(leg_limit / 1800, 3), 3, 1e9, 1800);
	rn_varied_number of[] = {number_of(d->model, "log.x", -1.9, 1.9), number_of(d->model, "log.y", 6.5, 9)};
	rn_placed p = place(d->model, of, 1, 10, no_part);
	assert_true(p.found && !p.better);
	rn_place_release(&p);
	p = place(d->model, &of[1], 1, 5, no_part);
	assert_false(p.found);
	assert_null(p.result);
	rn_place_release(&p);
	rn_document_destroy(d);
}

/* A picture of one moment has no other places. */
static void test_picture_is_refused(void **state)
{
	(void)state;
	rn_document *d = models_read("photo.xml");
	rn_options options = rn_options_default();
	rn_placed p;
	const int steps[] = {4, 4};
	rn_varied_number of = {0, 0, 1};
	assert_true(d->model->drawn_under_load);
	assert_int_equal(rn_place_find(d->model, &options, &of, 1, steps, no_part, &p), RN_STATUS_ARGUMENT);
	rn_document_destroy(d);
}

static void test_bad_ranges_are_refused(void **state)
{
	(void)state;
	rn_document *d = two_legs(0, 3, 1e8, leg_limit);
	rn_options options = rn_options_default();
	rn_varied v;
	const int steps[] = {4, 4}, none[] = {0, 4};
	rn_varied_number good = number_of(d->model, "log.y", 2, 3), empty = {good.number, 3, 3}, nothing = {9999, 0, 1};
	const rn_varied_number twice[] = {good, good};
	assert_int_equal(rn_vary_find(d->model, &options, &empty, 1, steps, no_part, &v), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_vary_find(d->model, &options, &nothing, 1, steps, no_part, &v), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_vary_find(d->model, &options, &good, 1, none, no_part, &v), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_vary_find(d->model, &options, twice, 2, steps, no_part, &v), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_vary_find(d->model, &options, &good, 1, steps, rn_object_of(RN_STEM, 0), &v), RN_STATUS_ARGUMENT);
	options.only_case = "nowhere";
	assert_int_equal(rn_vary_find(d->model, &options, &good, 1, steps, no_part, &v), RN_STATUS_ARGUMENT);
	rn_document_destroy(d);
}

/* ---- against a finer grid ---------------------------------------------------------------------- */

static const struct {
	const char *model, *numbers[2];
	double ends[2][2];
} boxes[] = {
	{"floating-redirect.xml", {"long.reach", "long.height"}, {{1, 4}, {6, 10.5}}},
	{"two-legs.xml", {"upper.height", "b1.x"}, {{11.2, 12}, {0.2, 1.5}}},
	{"three-legs.xml", {"hub.x", "hub.y"}, {{2, 5}, {5, 8}}},
};

/* Never worse than the best of a grid four times as fine, and not better by more than such a grid can miss. */
static void test_place_against_a_grid(void **state)
{
	(void)state;
	for (size_t k = 0; k < sizeof boxes / sizeof *boxes; k++) {
		rn_document *d = models_read(boxes[k].model);
		rn_varied_number of[2];
		for (int i = 0; i < 2; i++)
			of[i] = number_of(d->model, boxes[k].numbers[i], boxes[k].ends[i][0], boxes[k].ends[i][1]);
		rn_placed p = place(d->model, of, 2, 6, no_part);
		rn_varied fine = vary(d->model, of, 2, 24, no_part);
		double best = (double)INFINITY;
		for (int i = 0; i < 25 * 25; i++) {
			bool comparable = fine.tried[i].stand == RN_STAND_FOUND;
			for (int q = 0; q < fine.part_count; q++)
				comparable = comparable && !(fine.shares[i * fine.part_count + q] < 0 && p.map.drawn_shares[q] >= 0);
			if (comparable && fine.tried[i].part != RN_NONE)
				best = fmin(best, fine.tried[i].utilisation);
		}
		print_message("%s: %.6f found, %.6f on the grid, %.6f as drawn\n", boxes[k].model, p.goal, best, p.drawn_goal);
		assert_true(isfinite(best) && p.found);
		assert_true(p.goal <= best * (1 + 1e-9));
		assert_true(p.goal > 0.9 * best);
		/* what is proposed has an answer of its own, and it is what was told */
		assert_int_equal(p.result->verdict.exit_class < 4, true);
		rn_assert_near(p.result->cases[p.result->verdict.worst_case].parts[p.result->verdict.worst_part].utilisation,
		               p.goal, 1e-12, 0);
		rn_vary_release(&fine);
		rn_place_release(&p);
		rn_document_destroy(d);
	}
}

/* ---- mirrored ---------------------------------------------------------------------------------- */

static rn_document *redirect(double way)
{
	char text[2048];
	snprintf(text, sizeof text,
	         "<gear design-factor=\"10\"><item id=\"k\" kind=\"sling\" strength=\"60 kN\" diameter=\"16 mm\" stiffness=\"400 kN\"/>"
	         "<item id=\"q\" kind=\"rope\" strength=\"60 kN\" diameter=\"14 mm\" stiffness=\"300 kN\"/></gear>"
	         "<anchor id=\"a\" x=\"%g m\" y=\"9 m\" working-load=\"12 kN\"/><anchor id=\"b\" x=\"%g m\" y=\"8 m\" working-load=\"7 kN\"/>"
	         "<ring id=\"r\" x=\"%g m\" y=\"7 m\"/><bollard id=\"p\" x=\"%g m\" y=\"1 m\" turns=\"2\" working-load=\"20 kN\"/>"
	         "<piece id=\"log\" x=\"%g m\" y=\"4 m\" weight=\"2 kN\"/>"
	         "<sling id=\"s\" from=\"a\" to=\"r\" gear=\"k\" hitch=\"straight\"/>"
	         "<sling id=\"t\" from=\"b\" to=\"r\" gear=\"k\" hitch=\"straight\"/>"
	         "<line id=\"l\" gear=\"q\"><tie at=\"log\" knot=\"bowline\"/><through at=\"r\"/><hold at=\"p\"/></line>",
	         -3 * way, 4 * way, 0.5 * way, 2.5 * way, 0.4 * way);
	return models_from(text);
}

static void test_mirrored(void **state)
{
	(void)state;
	rn_document *d[2] = {redirect(1), redirect(-1)};
	rn_placed p[2];
	rn_varied v[2];
	for (int k = 0; k < 2; k++) {
		double low = k ? -3 : -2, high = k ? 2 : 3;
		const rn_varied_number of[] = {number_of(d[k]->model, "r.x", low, high), number_of(d[k]->model, "r.y", 5, 8)};
		p[k] = place(d[k]->model, of, 2, 10, no_part);
		v[k] = vary(d[k]->model, of, 1, 10, no_part);
		assert_true(p[k].found);
	}
	print_message("mirrored: %.9f and %.9f at %.6f, %.6f and %.6f, %.6f\n", p[0].goal, p[1].goal, p[0].best.value[0],
	              p[0].best.value[1], p[1].best.value[0], p[1].best.value[1]);
	rn_assert_near(p[1].goal, p[0].goal, 1e-5, 0);
	rn_assert_near(p[1].best.value[0], -p[0].best.value[0], 0, 5e-3);
	rn_assert_near(p[1].best.value[1], p[0].best.value[1], 0, 5e-3);
	for (int i = 0; i <= 10; i++) {
		assert_int_equal(v[0].tried[i].stand, v[1].tried[10 - i].stand);
		rn_assert_near(v[0].tried[i].utilisation, v[1].tried[10 - i].utilisation, 1e-9, 0);
	}
	assert_int_equal(v[0].turn_count, v[1].turn_count);
	for (int i = 0; i < v[0].turn_count; i++)
		rn_assert_near(v[0].turns[i].value, -v[1].turns[v[1].turn_count - 1 - i].value, 0, 1e-5);
	for (int k = 0; k < 2; k++) {
		rn_place_release(&p[k]);
		rn_vary_release(&v[k]);
		rn_document_destroy(d[k]);
	}
}

/* What carries nothing because nothing holds is not the least a part without a limit can carry. */
static void test_least_pull(void **state)
{
	(void)state;
	rn_document *d = redirect(1);
	const rn_varied_number of[] = {number_of(d->model, "r.x", -2, 3), number_of(d->model, "r.y", 3, 8)};
	rn_placed p = place(d->model, of, 2, 6, rn_model_object_by_id(d->model, "r"));
	int lost = 0;
	double least = (double)INFINITY;
	for (int i = 0; i < 49; i++)
		if (p.map.tried[i].stand == RN_STAND_FOUND)
			least = fmin(least, p.map.tried[i].own_demand);
		else
			lost++;
	assert_true(lost > 0 && p.found && p.by_pull);
	assert_int_equal(p.best.stand, RN_STAND_FOUND);
	assert_true(p.goal > 100 && p.goal <= least);
	rn_place_release(&p);
	rn_document_destroy(d);
}

/* ---- told again -------------------------------------------------------------------------------- */

static void assert_same_answers(const rn_result *a, const rn_result *b)
{
	assert_int_equal(a->case_count, b->case_count);
	for (int c = 0; c < a->case_count; c++) {
		const rn_case_result *p = &a->cases[c], *q = &b->cases[c];
		assert_int_equal(p->outcome, q->outcome);
		assert_int_equal(p->span_count, q->span_count);
		assert_int_equal(p->part_count, q->part_count);
		for (int i = 0; i < p->span_count; i++)
			assert_true(p->spans[i].tension == q->spans[i].tension);
		for (int i = 0; i < p->part_count; i++)
			assert_true(p->parts[i].utilisation == q->parts[i].utilisation && p->parts[i].unchecked == q->parts[i].unchecked);
	}
}

/* Given again what it had, every model is the same model to the last digit. */
static void test_told_again(void **state)
{
	(void)state;
	DIR *folder = opendir(RN_MODELS_DIR);
	rn_options options = rn_options_default();
	int count = 0;
	assert_non_null(folder);
	for (const struct dirent *e = readdir(folder); e; e = readdir(folder)) {
		if (!strstr(e->d_name, ".xml") || strcmp(e->d_name, "yard.xml") == 0)
			continue;
		rn_document *d = models_read(e->d_name);
		const rn_model *m = d->model;
		rn_result *before, *after;
		assert_int_equal(rn_solve(m, &options, &before), RN_OK);
		for (int i = count % RN_VARY_STRIDE; i < m->number_count; i += 5 * RN_VARY_STRIDE) {
			const rn_number *n = &m->numbers[i];
			rn_model *again;
			if (n->origin != RN_GIVEN || n->low != n->high)
				continue;
			const rn_setting same = {i, n->value};
			assert_int_equal(rn_model_altered(m, &same, 1, NULL, &again), RN_OK);
			assert_int_equal(rn_model_check(again), RN_OK);
			assert_int_equal(rn_solve(again, &options, &after), RN_OK);
			assert_same_answers(before, after);
			rn_result_destroy(after);
			rn_model_destroy(again);
			count++;
		}
		rn_result_destroy(before);
		rn_document_destroy(d);
	}
	closedir(folder);
	print_message("%d models told again\n", count);
	assert_true(count > 100 / RN_VARY_STRIDE);
}

/* A fixed block that the rope passes on one side or the other, as it is drawn: the side follows the drawing of each
 * choice, as it does in a file. */
static rn_document *passing(double x)
{
	char text[2048];
	snprintf(text, sizeof text,
	         "<cases made=\"none\"/><gear design-factor=\"10\"><item id=\"q\" kind=\"rope\" strength=\"60 kN\" diameter=\"14 mm\" "
	         "stiffness=\"300 kN\"/><item id=\"b\" kind=\"ring\" tread=\"60 mm\" friction=\"0.3\" working-load=\"9 kN\"/></gear>"
	         "<anchor id=\"t\" x=\"0 m\" y=\"9 m\" working-load=\"9 kN\" gear=\"b\"/>"
	         "<anchor id=\"m\" x=\"%.17g m\" y=\"5 m\" gear=\"b\"/><bollard id=\"p\" x=\"0 m\" y=\"1 m\" turns=\"2\" working-load=\"9 kN\"/>"
	         "<piece id=\"log\" x=\"3 m\" y=\"4 m\" weight=\"2 kN\"/>"
	         "<line id=\"l\" gear=\"q\"><tie at=\"log\" knot=\"bowline\"/><through at=\"t\"/><through at=\"m\"/><hold at=\"p\"/></line>"
	         "<case id=\"c\"/>",
	         x);
	return models_from(text);
}

static void test_sides_follow(void **state)
{
	(void)state;
	rn_options options = rn_options_default();
	rn_document *d = passing(0.8);
	rn_varied_number of = number_of(d->model, "m.x", -0.8, 0.8);
	rn_varied v = vary(d->model, &of, 1, 8, rn_model_object_by_id(d->model, "m"));
	for (int i = 0; i <= 8; i++) {
		rn_result *alone;
		if (i == 4)
			continue; /* dead straight */
		rn_document *file = passing(v.tried[i].value[0]);
		assert_int_equal(rn_solve(file->model, &options, &alone), RN_OK);
		assert_int_equal(v.tried[i].stand, RN_STAND_FOUND);
		assert_true(v.tried[i].own_demand == alone->cases[0].parts[v.part].demand);
		assert_true(v.tried[i].own_demand > 1);
		rn_result_destroy(alone);
		rn_document_destroy(file);
	}
	rn_vary_release(&v);
	rn_document_destroy(d);
}

/* Above the last section of the ash nobody knows how thick it is. That it is not looked at there is no gain. */
static void test_unchecked_is_no_gain(void **state)
{
	(void)state;
	rn_document *d = models_read("floating-redirect.xml");
	rn_model *light;
	const rn_setting third = {rn_altered_number(d->model, "log.weight"), 1000};
	assert_int_equal(rn_model_altered(d->model, &third, 1, NULL, &light), RN_OK);
	assert_int_equal(rn_model_check(light), RN_OK);
	rn_varied_number of = number_of(light, "long.height", 10, 14);
	rn_placed p = place(light, &of, 1, 8, no_part);
	assert_true(p.found && p.map.tried[4].unchecked_count > 0 && p.map.tried[4].utilisation < p.goal);
	assert_true(p.drawn_unlike > 0);
	rn_assert_near(p.best.value[0], 10, 0, 1e-4);
	rn_place_release(&p);
	rn_varied v = vary(light, &of, 1, 8, no_part);
	assert_true(v.has_least && v.least.unchecked_count == 0);
	rn_assert_near(v.least.value[0], 10, 0, 1e-4);
	rn_vary_release(&v);
	rn_model_destroy(light);
	rn_document_destroy(d);
}

/* One height stands in the file for both ends of a sling round a stem. */
static void test_height_of_a_sling(void **state)
{
	(void)state;
	rn_document *d = models_read("twin-rings.xml");
	const rn_model *m = d->model;
	rn_model *again;
	int sling = 0, count = 0;
	while (sling < m->sling_count && m->slings[sling].leg_count < 2)
		sling++;
	assert_true(sling < m->sling_count);
	char name[64];
	snprintf(name, sizeof name, "%s.height", m->slings[sling].id);
	const rn_setting higher = {rn_altered_number(m, name), 4.25};
	assert_true(higher.number != RN_NONE);
	assert_int_equal(rn_model_altered(m, &higher, 1, NULL, &again), RN_OK);
	for (int i = 0; i < again->node_count; i++)
		if (again->nodes[i].sling == sling) {
			int number = rn_model_find_number(again, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_HEIGHT);
			assert_true(again->numbers[number].value == 4.25);
			count++;
		}
	assert_int_equal(count, 2);
	rn_model_destroy(again);
	rn_document_destroy(d);
}

/* A number a case sets is varied in that case when it is the one asked about, and there only. */
static void test_one_case(void **state)
{
	(void)state;
	rn_document *d = models_read("track-line.xml");
	rn_options options = rn_options_default();
	rn_varied_number of = number_of(d->model, "control.length", 21, 28);
	const int steps[] = {1, 1};
	rn_varied v;
	rn_result *result;
	options.only_case = "far";
	assert_int_equal(rn_vary_find(d->model, &options, &of, 1, steps, no_part, &v), RN_OK);
	assert_int_equal(rn_solve(d->model, &options, &result), RN_OK);
	assert_int_equal(result->case_count, 1);
	rn_assert_near(v.drawn.value[0], 28, 1e-12, 0);
	double far = result->cases[0].parts[result->verdict.worst_part].utilisation;
	assert_true(v.tried[1].utilisation == far && v.tried[0].utilisation != far);
	rn_result_destroy(result);
	rn_vary_release(&v);
	rn_document_destroy(d);
}

/* ---- memory ------------------------------------------------------------------------------------ */

static void test_memory_ends(void **state)
{
	(void)state;
	rn_document *d = two_legs(0.3, 3, 1e6, leg_limit);
	rn_varied_number of = number_of(d->model, "log.y", 2, 5.9);
	const int steps[] = {3, 3};
	support_memory memory = {0};
	rn_options options = rn_options_default();
	rn_status status = RN_STATUS_MEMORY;
	options.allocator = support_memory_allocator(&memory);
	for (long fail = 1; status == RN_STATUS_MEMORY; fail += 1 + fail / 8) {
		rn_placed p;
		memory = (support_memory){.fail_at = fail, .for_good = true};
		status = rn_place_find(d->model, &options, &of, 1, steps, no_part, &p);
		if (status == RN_OK)
			rn_place_release(&p);
		assert_int_equal(memory.live_count, 0);
	}
	assert_int_equal(status, RN_OK);
	rn_document_destroy(d);
}

/* ---- words ------------------------------------------------------------------------------------- */

static void test_what_is_told(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_document *d = two_legs(0.3, 3, 1e9, 1800);
	rn_varied_number of[] = {number_of(d->model, "log.x", -1.9, 1.9), number_of(d->model, "log.y", 3, 9)};
	for (int units = 0; units < 2; units++) {
		rn_buffer text = rn_buffer_make(&allocator);
		rn_placed p = place(d->model, of, 1, 10, no_part);
		assert_int_equal(rn_placed_text(&text, &p, (rn_units)units), RN_OK);
		assert_non_null(strstr(text.bytes, "In the file: log x=\""));
		assert_non_null(strstr(text.bytes, "It moves load to other parts"));
		rn_place_release(&p);
		text.size = 0;
		rn_varied v = vary(d->model, of, 2, 6, no_part);
		assert_int_equal(rn_varied_text(&text, &v, (rn_units)units), RN_OK);
		assert_non_null(strstr(text.bytes, "NO ANSWER in"));
		assert_non_null(strstr(text.bytes, "Cautions:"));
		assert_int_equal(rn_varied_exit(&v), 1);
		rn_vary_release(&v);
		rn_buffer_release(&text);
	}
	rn_document_destroy(d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_crossing_of_a_limit),    cmocka_unit_test(test_end_of_answers),
		cmocka_unit_test(test_cannot_be),              cmocka_unit_test(test_place_in_closed_form),
		cmocka_unit_test(test_no_better_place),        cmocka_unit_test(test_picture_is_refused),
		cmocka_unit_test(test_bad_ranges_are_refused), cmocka_unit_test(test_place_against_a_grid),
		cmocka_unit_test(test_mirrored),               cmocka_unit_test(test_told_again),
		cmocka_unit_test(test_least_pull),
		cmocka_unit_test(test_sides_follow),           cmocka_unit_test(test_unchecked_is_no_gain),
		cmocka_unit_test(test_height_of_a_sling),      cmocka_unit_test(test_one_case),
		cmocka_unit_test(test_memory_ends),            cmocka_unit_test(test_what_is_told),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
