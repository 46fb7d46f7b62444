/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * No answer with a number that is none leaves the program: each number of an answer in its turn is made no number, and
 * then without end, and nothing is written.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/report/csv.h"
#include "io/report/finite.h"
#include "io/report/json.h"
#include "io/report/text.h"
#include "tests/models.h"

/* ---- which numbers there are ------------------------------------------------------------------------ */

typedef struct field {
	const char *name;
	size_t at;
	int count; /* of doubles there */
} field;

#define ONE(type, name) {#type "." #name, offsetof(type, name), 1}
#define TWO(type, name) {#type "." #name, offsetof(type, name), 2}

static const field of_node[] = {TWO(rn_node_result, drawn), TWO(rn_node_result, place), TWO(rn_node_result, pull),
                                TWO(rn_node_result, load)};
static const field of_span[] = {ONE(rn_span_result, tension),       ONE(rn_span_result, length),
                                ONE(rn_span_result, heading),       TWO(rn_span_result, start),
                                TWO(rn_span_result, end),           ONE(rn_span_result, certified),
                                ONE(rn_span_result, tension_least), ONE(rn_span_result, tension_most)};
static const field of_pass[] = {ONE(rn_pass_result, bend),      ONE(rn_pass_result, before),
                                ONE(rn_pass_result, after),     TWO(rn_pass_result, force),
                                ONE(rn_pass_result, radius),    ONE(rn_pass_result, arc_start),
                                ONE(rn_pass_result, friction_exponent)};
static const field of_hold[] = {ONE(rn_hold_result, turns), ONE(rn_hold_result, tension), ONE(rn_hold_result, hand_least),
                                ONE(rn_hold_result, hand_most)};
static const field of_contact[] = {ONE(rn_contact_result, push)};
static const field of_part[] = {ONE(rn_part_result, demand),        ONE(rn_part_result, limit),
                                ONE(rn_part_result, utilisation),   ONE(rn_part_result, strength),
                                ONE(rn_part_result, design_factor), ONE(rn_part_result, working_load),
                                ONE(rn_part_result, breaking)};
static const field of_factor[] = {ONE(rn_factor, value), ONE(rn_factor, measure)};
static const field of_stem[] = {ONE(rn_stem_result, height),      ONE(rn_stem_result, diameter),
                                ONE(rn_stem_result, wall),        ONE(rn_stem_result, axial),
                                ONE(rn_stem_result, shear),       ONE(rn_stem_result, moment),
                                ONE(rn_stem_result, compression), ONE(rn_stem_result, tension),
                                ONE(rn_stem_result, buckling),    ONE(rn_stem_result, growth),
                                ONE(rn_stem_result, pull),        ONE(rn_stem_result, pull_direction),
                                ONE(rn_stem_result, utilisation)};
static const field of_hitch[] = {ONE(rn_hitch_result, girth), ONE(rn_hitch_result, bend_ratio), ONE(rn_hitch_result, taken),
                                 ONE(rn_hitch_result, reach), ONE(rn_hitch_result, made),       ONE(rn_hitch_result, left),
                                 ONE(rn_hitch_result, needed), ONE(rn_hitch_result, angle),     ONE(rn_hitch_result, spread)};
static const field of_case[] = {
	ONE(rn_case_result, balance.worst),       ONE(rn_case_result, balance.relative),    ONE(rn_case_result, balance.moment),
	ONE(rn_case_result, picture.left_over),   ONE(rn_case_result, picture.largest_move), ONE(rn_case_result, info.residual),
	ONE(rn_case_result, info.energy),         ONE(rn_case_result, info.gap),            ONE(rn_case_result, caught.weight),
	ONE(rn_case_result, caught.peak),         ONE(rn_case_result, caught.released),     ONE(rn_case_result, caught.begins),
	ONE(rn_case_result, caught.height),       ONE(rn_case_result, caught.travel),       ONE(rn_case_result, caught.across),
	ONE(rn_case_result, caught.lowest),       ONE(rn_case_result, caught.clear),        ONE(rn_case_result, caught.clear_most),
	ONE(rn_case_result, caught.side),         ONE(rn_case_result, caught.slips_at),     ONE(rn_case_result, caught.run_out),
	ONE(rn_case_result, caught.given),        ONE(rn_case_result, caught.in_ropes),     ONE(rn_case_result, caught.in_stems),
	ONE(rn_case_result, caught.in_bodies),    ONE(rn_case_result, caught.raised),       ONE(rn_case_result, caught.in_hands),
	ONE(rn_case_result, caught.in_friction),  ONE(rn_case_result, caught.jumped),       ONE(rn_case_result, caught.left_over),
};
static const field of_path[] = {{"path", 0, 2}};

/* ---- each in its turn -------------------------------------------------------------------------------- */

static void is_refused(const rn_result *result, const char *name)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer out = rn_buffer_make(&allocator);
	rn_text_options as_text = {0};
	rn_answer_options options = {0};
	if (rn_finite_check(result) != RN_STATUS_ARGUMENT)
		fail_msg("%s is not looked at", name);
	assert_int_equal(rn_text_write(&out, result, RN_METRIC, &as_text), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_json_write(&out, result, &options), RN_STATUS_ARGUMENT);
	assert_int_equal(out.size, 0);
	assert_int_equal(rn_csv_write(&out, result, &options), RN_STATUS_ARGUMENT);
	rn_buffer_release(&out);
}

static void poke(rn_result *result, void *thing, const field *fields, size_t count)
{
	static const double none[] = {(double)NAN, HUGE_VAL, -HUGE_VAL};
	for (size_t i = 0; i < count; i++)
		for (int k = 0; k < fields[i].count; k++)
			for (int n = 0; n < 3; n++) {
				double kept, *number = (double *)(void *)((char *)thing + fields[i].at) + k;
				memcpy(&kept, number, sizeof kept);
				*number = none[n];
				is_refused(result, fields[i].name);
				*number = kept;
			}
}

/* The first and the last of a list. */
static int poke_list(rn_result *result, void *list, int length, size_t size, const field *fields, size_t count)
{
	for (int i = 0; i < length; i += length > 1 ? length - 1 : 1)
		poke(result, (char *)list + (size_t)i * size, fields, count);
	return length > 0;
}

#define POKE(list, length, fields) \
	poke_list(result, list, length, sizeof *(list), fields, sizeof fields / sizeof *fields)

enum { NODES = 1, SPANS = 2, PASSES = 4, HOLDS = 8, CONTACTS = 16, PARTS = 32, STEMS = 64, HITCHES = 128, PATH = 256, FACTORS = 512,
       ALL = 1023 };

/* Which lists this answer has. */
static int poke_case(rn_result *result, rn_case_result *c)
{
	int seen = 0;
	poke(result, c, of_case, sizeof of_case / sizeof *of_case);
	seen |= POKE(c->nodes, result->model->node_count, of_node) * NODES;
	seen |= POKE(c->spans, c->span_count, of_span) * SPANS;
	seen |= POKE(c->passes, c->pass_count, of_pass) * PASSES;
	seen |= POKE(c->holds, c->hold_count, of_hold) * HOLDS;
	seen |= POKE(c->contacts, c->contact_count, of_contact) * CONTACTS;
	seen |= POKE(c->parts, c->part_count, of_part) * PARTS;
	seen |= POKE(c->stems, c->stems ? result->model->stem_count : 0, of_stem) * STEMS;
	seen |= POKE(c->hitches, c->hitch_count, of_hitch) * HITCHES;
	seen |= POKE(c->caught.path, c->caught.path_count, of_path) * PATH;
	for (int i = 0; i < c->part_count; i++)
		seen |= POKE(c->parts[i].factors, c->parts[i].factor_count, of_factor) * FACTORS;
	return seen;
}

static void test_no_number_leaves(void **state)
{
	(void)state;
	static const char *const names[] = {"../tests/hard/treads-meet.xml", "fern-house.xml", "caught-log.xml"};
	int seen = 0;
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		rn_document *document = models_read(names[i]);
		rn_options options = rn_options_default();
		rn_result *result;
		assert_non_null(document->model);
		assert_int_equal(rn_solve(document->model, &options, &result), RN_OK);
		assert_int_equal(rn_finite_check(result), RN_OK);
		seen |= poke_case(result, &result->cases[0]);
		seen |= poke_case(result, &result->cases[result->case_count - 1]);
		assert_int_equal(rn_finite_check(result), RN_OK);
		rn_result_destroy(result);
		rn_document_destroy(document);
	}
	assert_int_equal(seen, ALL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_no_number_leaves)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
