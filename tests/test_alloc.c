/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Memory ends at every place it can end, once and for good: building, checking and solving say so,
 * leave nothing behind, and do not crash. An arena asks for few, growing blocks; models of many
 * sizes move the ends of those blocks to many places in the code.
 */
#include <limits.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>

#include <cmocka.h>

#include "solver/base/arena.h"
#include "io/report/csv.h"
#include "io/report/json.h"
#include "io/report/text.h"
#include "tests/models.h"
#include "tests/support.h"

/* ---- a model, giving up as soon as memory does ----------------------------------------------- */

static rn_status set(rn_model *m, rn_object object, rn_attribute attribute, double value)
{
	rn_number n = {.value = value,
	               .low = value,
	               .high = value,
	               .object = object,
	               .attribute = attribute,
	               .origin = RN_GIVEN};
	return rn_model_set_number(m, &n);
}

static rn_status add_nodes(rn_model *m, const net_data *n)
{
	for (int i = 0; i < n->node_count; i++) {
		char id[] = {'n', (char)('a' + i), 0};
		rn_node d = {.id = id,
		             .kind = n->nodes[i].kind,
		             .gear = RN_NONE,
		             .connector = RN_NONE,
		             .stem = RN_NONE,
		             .sling = RN_NONE};
		rn_object node = rn_object_of(RN_NODE, i);
		RN_TRY(rn_model_add_node(m, &d, NULL));
		RN_TRY(set(m, node, RN_ATTRIBUTE_X, n->nodes[i].place[0]));
		RN_TRY(set(m, node, RN_ATTRIBUTE_Y, n->nodes[i].place[1]));
		if (n->nodes[i].load[1] < 0)
			RN_TRY(set(m, node, RN_ATTRIBUTE_WEIGHT, -n->nodes[i].load[1]));
	}
	return RN_OK;
}

static rn_status add_slings(rn_model *m, const net_data *n, int gear)
{
	for (int i = 0; i < n->sling_count; i++) {
		char id[] = {'s', (char)('a' + i / 10), (char)('a' + i % 10), 0};
		rn_sling d = {.id = id, .gear = gear, .connector = RN_NONE, .hitch = "choke"};
		rn_leg leg = {.sling = i, .from = n->slings[i].from, .to = n->slings[i].to, .connector = RN_NONE};
		RN_TRY(rn_model_add_sling(m, &d, NULL));
		RN_TRY(rn_model_add_leg(m, &leg, NULL));
	}
	return RN_OK;
}

static rn_status add_lines(rn_model *m, const net_data *n)
{
	for (int i = 0; i < n->line_count; i++) {
		char id[] = {'l', (char)('a' + i), 0};
		rn_line d = {.id = id, .gear = RN_NONE};
		RN_TRY(rn_model_add_line(m, &d, NULL));
		for (int k = 0; k < n->lines[i].station_count; k++) {
			const net_station *from = &n->lines[i].stations[k];
			int index;
			rn_station s = {.line = i,
			                .node = from->node,
			                .kind = from->kind,
			                .side = from->side,
			                .connector = RN_NONE,
			                .knot = "running bowline"};
			RN_TRY(rn_model_add_station(m, &s, &index));
			if (from->tread > 0)
				RN_TRY(set(m, rn_object_of(RN_STATION, index), RN_ATTRIBUTE_TREAD,
				           from->tread));
		}
	}
	return RN_OK;
}

static rn_status add_case(rn_model *m)
{
	rn_case d = {.id = "gust", .title = "a gust from the left", .level = RN_FRICTION_HIGH};
	rn_force force = {.case_index = 0, .node = m->node_count - 1};
	rn_setting setting = {.number = rn_model_number_by_name(m, "na.x"), .value = 0.1};
	int index;
	RN_TRY(rn_model_add_case(m, &d, NULL));
	RN_TRY(rn_model_add_force(m, &force, &index));
	RN_TRY(set(m, rn_object_of(RN_FORCE, index), RN_ATTRIBUTE_SIZE, 120));
	RN_TRY(rn_model_add_setting(m, 0, &setting));
	for (int i = 0; i < m->line_count; i++) {
		rn_run run = {.line = i, .toward_last = 1, .at = RN_NONE};
		RN_TRY(rn_model_add_run(m, 0, &run));
	}
	return RN_OK;
}

/* A log weighed by its wood that hangs on the stem: everything the tables of species are asked for. */
static rn_status add_wood(rn_model *m)
{
	rn_node top = {.id = "wood-top", .kind = RN_NODE_ANCHOR, .gear = RN_NONE, .connector = RN_NONE,
	               .stem = 0, .sling = RN_NONE};
	rn_node log = {.id = "wood", .kind = RN_NODE_PIECE, .gear = RN_NONE, .connector = RN_NONE,
	               .stem = RN_NONE, .sling = RN_NONE};
	rn_timber timber = {.species = "pin oak"};
	rn_sling strop = {.id = "strop", .gear = RN_NONE, .connector = RN_NONE};
	rn_leg leg = {0};
	RN_TRY(rn_model_add_node(m, &top, &leg.from));
	RN_TRY(set(m, rn_object_of(RN_NODE, leg.from), RN_ATTRIBUTE_HEIGHT, 7));
	RN_TRY(rn_model_add_node(m, &log, &leg.to));
	timber.piece = rn_object_of(RN_NODE, leg.to);
	RN_TRY(set(m, timber.piece, RN_ATTRIBUTE_X, 0));
	RN_TRY(set(m, timber.piece, RN_ATTRIBUTE_Y, 5));
	RN_TRY(set(m, timber.piece, RN_ATTRIBUTE_LONG, 3));
	RN_TRY(rn_model_add_timber(m, &timber, NULL));
	for (int k = 0; k < 2; k++) {
		rn_cut cut = {.timber = 0};
		RN_TRY(rn_model_add_cut(m, &cut, NULL));
		RN_TRY(set(m, rn_object_of(RN_CUT, k), RN_ATTRIBUTE_AT, 3 * k));
		RN_TRY(set(m, rn_object_of(RN_CUT, k), RN_ATTRIBUTE_DIAMETER, 0.1));
	}
	rn_number weight = {.object = timber.piece, .attribute = RN_ATTRIBUTE_WEIGHT, .origin = RN_COMPUTED};
	RN_TRY(rn_model_set_number(m, &weight));
	RN_TRY(rn_model_add_sling(m, &strop, &leg.sling));
	return rn_model_add_leg(m, &leg, NULL);
}

static rn_status fill(rn_model *m, const net_data *n)
{
	rn_item item = {.id = "sling20",
	                .kind = RN_ITEM_SLING,
	                .fibre = RN_FIBRE_POLYESTER,
	                .serial = "17-B",
	                .checked_on = "2024-03-01",
	                .label_for = RN_LABEL_FOR_CHOKE};
	rn_stem stem = {.id = "beech", .species = "sugar maple", .on = RN_NONE};
	rn_section section = {.stem = 0};
	RN_TRY(rn_model_set_title(m, "Fern House: one redirect on a long sling"));
	RN_TRY(rn_model_add_item(m, &item, NULL));
	RN_TRY(set(m, rn_object_of(RN_ITEM, 0), RN_ATTRIBUTE_STRENGTH, 75e3));
	RN_TRY(rn_model_add_stem(m, &stem, NULL));
	RN_TRY(set(m, rn_object_of(RN_STEM, 0), RN_ATTRIBUTE_X, 0));
	RN_TRY(set(m, rn_object_of(RN_STEM, 0), RN_ATTRIBUTE_Y, 0));
	RN_TRY(rn_model_add_section(m, &section, NULL));
	RN_TRY(set(m, rn_object_of(RN_SECTION, 0), RN_ATTRIBUTE_DIAMETER, 0.4));
	RN_TRY(add_nodes(m, n));
	RN_TRY(add_slings(m, n, 0));
	RN_TRY(add_lines(m, n));
	RN_TRY(add_wood(m));
	RN_TRY(add_case(m));
	return rn_model_check(m);
}

static rn_status run(const net_data *n, rn_allocator allocator)
{
	rn_model *model = NULL;
	rn_result *result = NULL;
	rn_options options = rn_options_default();
	options.allocator = allocator;
	rn_status status = rn_model_create(&allocator, &model);
	if (status == RN_OK)
		status = fill(model, n);
	if (status == RN_OK)
		status = rn_solve(model, &options, &result);
	assert_true((status == RN_OK) == (result != NULL));
	rn_result_destroy(result);
	rn_model_destroy(model);
	return status;
}

/* ---- every allocation fails ------------------------------------------------------------------ */

static net_data numbered(int index)
{
	if (index == 0)
		return net_rigging();
	support_random random = support_random_from(8000 + (uint64_t)index);
	return net_random(&random,
	                  (net_random_options){
				  .treads = true, .grips = true, .free_least = 1, .free_most = 7});
}

static long count_calls(const net_data *n)
{
	support_memory memory = {0};
	assert_int_equal(run(n, support_memory_allocator(&memory)), RN_OK);
	assert_int_equal(memory.live_count, 0);
	return memory.call_count;
}

static void fail_each(const net_data *n, bool for_good)
{
	long calls = count_calls(n);
	assert_true(calls > 8);
	for (long at = 1; at <= calls; at++) {
		support_memory memory = {.fail_at = at, .for_good = for_good};
		assert_int_equal(run(n, support_memory_allocator(&memory)), RN_STATUS_MEMORY);
		assert_int_equal(memory.live_count, 0);
	}
}

#ifdef RN_ARENA_SMALL /* ten times the calls, at every place */
enum { MODELS = 4 };
#else
enum { MODELS = 60 };
#endif

static void test_memory_ends_once(void **state)
{
	(void)state;
	for (int i = 0; i < MODELS; i++) {
		net_data n = numbered(i);
		fail_each(&n, false);
	}
}

static void test_memory_ends_for_good(void **state)
{
	(void)state;
	for (int i = 0; i < MODELS; i++) {
		net_data n = numbered(i);
		fail_each(&n, true);
	}
}

/* ---- a workspace: what a settling asks for is given back before the next --------------------- */

static rn_status settle_twice(rn_workspace *w, const rn_model *m, const double *values)
{
	const rn_case_result *answer;
	RN_TRY(rn_workspace_settle(w, &m->cases[0], values, false, &answer));
	return rn_workspace_settle(w, &m->cases[0], values, true, &answer);
}

static void test_memory_ends_in_a_workspace(void **state)
{
	(void)state;
	net_data n = net_rigging();
	rn_allocator plain = rn_allocator_default();
	rn_model *m = net_model(&n, &plain);
	double *values = calloc((size_t)m->number_count, sizeof *values);
	assert_non_null(values);
	rn_case_values(m, &m->cases[0], values);
	for (long at = 1, failed = 1; failed; at++) {
		support_memory memory = {.fail_at = at};
		rn_options options = rn_options_default();
		options.allocator = support_memory_allocator(&memory);
		rn_workspace *w = NULL;
		rn_status status = rn_workspace_create(m, &options, &w);
		assert_true((status == RN_OK) == (w != NULL));
		if (status == RN_OK)
			status = settle_twice(w, m, values);
		failed = memory.call_count >= at;
		assert_int_equal(status, failed ? RN_STATUS_MEMORY : RN_OK);
		/* it can be used again after memory has come back */
		if (w && failed)
			assert_int_equal(settle_twice(w, m, values), RN_OK);
		rn_workspace_destroy(w);
		assert_int_equal(memory.live_count, 0);
	}
	free(values);
	rn_model_destroy(m);
}

/* ---- stopping -------------------------------------------------------------------------------- */

static void test_stopping_leaves_nothing(void **state)
{
	(void)state;
	net_data n = net_rigging();
	support_memory memory = {0};
	rn_allocator allocator = support_memory_allocator(&memory);
	rn_model *m = net_model(&n, &allocator);
	volatile int stop = 1;
	rn_options options = rn_options_default();
	options.allocator = allocator;
	options.stop = &stop;
	rn_result *result = NULL;
	assert_int_equal(rn_solve(m, &options, &result), RN_STATUS_STOPPED);
	assert_null(result);
	rn_model_destroy(m);
	assert_int_equal(memory.live_count, 0);
}

/* ---- studies ------------------------------------------------------------------------------- */

/* Everything that is asked of a model beside what it settles at. */
static rn_status study(const rn_model *m, const rn_result *result, const rn_options *options)
{
	rn_largest largest = {.at = NULL};
	rn_ranges ranges = {0};
	rn_losses losses = {0};
	rn_matters matters = {0};
	rn_result *without = NULL, *rated = NULL;
	rn_object log = rn_object_of(RN_NODE, -1);
	while (m->nodes[++log.index].kind != RN_NODE_PIECE)
		continue;
	rn_status status = rn_largest_find(m, options, log, &largest);
	if (status == RN_OK)
		status = rn_ranges_find(m, options, 0, &ranges);
	if (status == RN_OK)
		status = rn_losses_find(result, options, &losses);
	if (status == RN_OK)
		status = rn_matters_find(result, options, 0, 0, &matters);
	if (status == RN_OK)
		status = rn_solve_without(m, options, rn_object_of(RN_LINE, 0), &without);
	if (status == RN_OK)
		status = rn_rate(m, options, &rated);
	rn_largest_release(&largest);
	rn_ranges_release(&ranges);
	rn_losses_release(&losses);
	rn_matters_release(&matters);
	rn_result_destroy(without);
	rn_result_destroy(rated);
	return status;
}

/* A study settles thousands of times: memory ends at each of the first calls, then at ever later ones. */
static void test_memory_ends_in_a_study(void **state)
{
	(void)state;
	net_data n = net_rigging();
	rn_allocator plain = rn_allocator_default();
	rn_options options = rn_options_default();
	rn_model *m;
	rn_result *result;
	assert_int_equal(rn_model_create(&plain, &m), RN_OK);
	assert_int_equal(fill(m, &n), RN_OK);
	options.stretch_check = options.side_check = false;
	assert_int_equal(rn_solve(m, &options, &result), RN_OK);
	int failures = 0;
	for (long at = 1, failed = 1; failed; at += 1 + at / 4) {
		support_memory memory = {.fail_at = at};
		options.allocator = support_memory_allocator(&memory);
		rn_status status = study(m, result, &options);
		failed = memory.call_count >= at;
		failures += failed != 0;
		assert_int_equal(status, failed ? RN_STATUS_MEMORY : RN_OK);
		assert_int_equal(memory.live_count, 0);
	}
	assert_true(failures > 30);
	rn_result_destroy(result);
	rn_model_destroy(m);
}

/* ---- telling ------------------------------------------------------------------------------- */

static rn_status tell(const rn_result *result, const rn_answer_options *options, const rn_allocator *a)
{
	rn_text_options as_text = {false, options->ranges, options->range_count, options->losses, options->matters,
	                           NULL, NULL, 0, NULL};
	rn_buffer out = rn_buffer_make(a);
	rn_status status = rn_text_write(&out, result, RN_METRIC, &as_text);
	if (status == RN_OK)
		status = rn_json_write(&out, result, options);
	if (status == RN_OK)
		status = rn_csv_write(&out, result, options);
	rn_buffer_release(&out);
	return status;
}

/* What was found is written with everything that can be asked for, and memory ends at each call in turn. */
static void test_memory_ends_in_the_telling(void **state)
{
	(void)state;
	rn_allocator plain = rn_allocator_default();
	rn_options options = rn_options_default();
	rn_document *document = models_read("two-legs.xml");
	rn_ranges ranges = {0};
	rn_losses losses = {0};
	rn_matters matters = {0};
	rn_result *result;
	assert_int_equal(rn_solve(document->model, &options, &result), RN_OK);
	assert_int_equal(rn_ranges_find(document->model, &options, 0, &ranges), RN_OK);
	assert_int_equal(rn_losses_find(result, &options, &losses), RN_OK);
	assert_int_equal(rn_matters_find(result, &options, 0, 0, &matters), RN_OK);
	rn_answer_options all = {.ranges = &ranges, .range_count = 1, .losses = &losses, .matters = &matters};
	assert_int_equal(tell(result, &all, &plain), RN_OK);
	for (int for_good = 0; for_good < 2; for_good++)
		for (long at = 1, failed = 1; failed; at++) {
			support_memory memory = {.fail_at = at, .for_good = for_good};
			rn_allocator a = support_memory_allocator(&memory);
			rn_status status = tell(result, &all, &a);
			failed = memory.call_count >= at;
			assert_int_equal(status, failed ? RN_STATUS_MEMORY : RN_OK);
			assert_int_equal(memory.live_count, 0);
		}
	rn_ranges_release(&ranges);
	rn_losses_release(&losses);
	rn_matters_release(&matters);
	rn_result_destroy(result);
	rn_document_destroy(document);
}

static void *never(void *context, size_t size)
{
	(void)size;
	++*(int *)context;
	return NULL;
}

static void never_again(void *context, void *block)
{
	(void)context;
	(void)block;
}

/* What does not fit a size_t is refused before anybody is asked for it: a product that went round would be a block too
 * small. The same numbers are refused where size_t has 32 bits. */
static void test_products_that_do_not_fit(void **state)
{
	(void)state;
	static const size_t sizes[] = {1, 2, 3, 8, 16, 24, 4096};
	int asked = 0;
	rn_arena arena = rn_arena_make(&(rn_allocator){never, never_again, &asked});
	for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
		size_t size = sizes[i], fits = SIZE_MAX / 2 / size;
		assert_null(rn_arena_take(&arena, fits + 1, size));
		assert_null(rn_arena_take(&arena, SIZE_MAX / size, size));
		assert_null(rn_arena_take(&arena, SIZE_MAX, size));
		assert_null(rn_arena_take(&arena, (size_t)-1, size)); /* of a count below 0 */
		assert_int_equal(asked, 0);
		assert_null(rn_arena_take(&arena, fits, size));
		assert_int_equal(asked, 1);
		asked = 0;
	}
	int capacity = INT_MAX / 2 + 1;
	void *array = NULL;
	assert_int_equal(rn_arena_grow(&arena, &array, capacity, &capacity, 1), RN_STATUS_MEMORY);
	assert_int_equal(asked, 0);
	rn_arena_release(&arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_memory_ends_once),
		cmocka_unit_test(test_memory_ends_for_good),
		cmocka_unit_test(test_memory_ends_in_a_workspace),
		cmocka_unit_test(test_memory_ends_in_a_study),
		cmocka_unit_test(test_memory_ends_in_the_telling),
		cmocka_unit_test(test_stopping_leaves_nothing),
		cmocka_unit_test(test_products_that_do_not_fit),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
