/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Bytes as a tape from which a small rigging is told: every tape is one, most of them make no sense. Whatever it is, the
 * answer is finite, an answer that is given out balances, and it can be written in every form.
 */
#include <math.h>

#include "io/report/csv.h"
#include "io/report/finite.h"
#include "io/report/json.h"
#include "io/report/text.h"
#include "tests/fuzz.h"

typedef struct tape {
	const uint8_t *bytes;
	size_t size, at;
	rn_model *model;
	int node_count, gear_count, stem_count, line_count;
} tape;

static unsigned take(tape *t, unsigned below)
{
	return t->at < t->size ? t->bytes[t->at++] % below : 0;
}

/* Most often of a coarse grid, where things meet; now and then far off or odd. */
static double take_length(tape *t, double least, double step)
{
	static const double odd[] = {0, 1e-12, 1e-6, 0.1, 3.14159265, 1e3, 1e6, 1e9};
	unsigned kind = take(t, 16);
	if (kind == 15)
		return odd[take(t, sizeof odd / sizeof *odd)];
	return least + step * (kind + 15.0 * take(t, 4));
}

static void number(tape *t, rn_object object, rn_attribute attribute, double value)
{
	rn_number n = {.value = value, .low = value, .high = value, .object = object, .attribute = attribute};
	(void)!rn_model_set_number(t->model, &n);
}

static const char *name_of(char text[8], char kind, int index)
{
	text[0] = kind;
	text[1] = (char)('0' + index / 10);
	text[2] = (char)('0' + index % 10);
	text[3] = '\0';
	return text;
}

/* Another node than that one, most often. */
static int take_other(tape *t, int node)
{
	int step = take(t, 40) == 39 ? 0 : 1 + (int)take(t, (unsigned)t->node_count - 1);
	return (node + step) % t->node_count;
}

static bool holds(const tape *t, int node)
{
	return t->model->nodes[node].kind == RN_NODE_HAND || t->model->nodes[node].kind == RN_NODE_BOLLARD;
}

static void add_gear(tape *t)
{
	char name[8];
	int kinds = RN_ITEM_FORK + 1, count = 1 + (int)take(t, 4);
	for (; t->gear_count < count; t->gear_count++) {
		rn_item item = {.id = name_of(name, 'g', t->gear_count), .kind = (rn_item_kind)take(t, (unsigned)kinds),
		                .fibre = (rn_fibre)take(t, RN_FIBRE_WIRE + 1), .body = (rn_body)take(t, 4)};
		int index;
		if (rn_model_add_item(t->model, &item, &index) != RN_OK)
			return;
		rn_object object = rn_object_of(RN_ITEM, index);
		if (take(t, 2))
			number(t, object, RN_ATTRIBUTE_STRENGTH, 1e3 * (1 + take(t, 200)));
		if (take(t, 2))
			number(t, object, RN_ATTRIBUTE_DESIGN_FACTOR, 1 + take(t, 12));
		if (take(t, 2))
			number(t, object, RN_ATTRIBUTE_STIFFNESS, pow(10, 2 + take(t, 9)));
		if (take(t, 2))
			number(t, object, RN_ATTRIBUTE_DIAMETER, 0.001 * (1 + take(t, 40)));
		if (take(t, 3) == 0)
			number(t, object, RN_ATTRIBUTE_TREAD, 0.01 * take(t, 60));
		if (take(t, 3) == 0)
			number(t, object, RN_ATTRIBUTE_FRICTION, 0.1 * take(t, 30));
		if (take(t, 3) == 0)
			number(t, object, RN_ATTRIBUTE_WEIGHT, take(t, 100));
	}
}

static void add_stems(tape *t)
{
	char name[8];
	int count = (int)take(t, 3);
	for (; t->stem_count < count; t->stem_count++) {
		rn_stem stem = {.id = name_of(name, 's', t->stem_count), .species = take(t, 2) ? "white oak" : NULL,
		                .give = (rn_give)take(t, 3), .on = RN_NONE};
		int index;
		if (rn_model_add_stem(t->model, &stem, &index) != RN_OK)
			return;
		number(t, rn_object_of(RN_STEM, index), RN_ATTRIBUTE_X, take_length(t, -5, 1));
		number(t, rn_object_of(RN_STEM, index), RN_ATTRIBUTE_Y, 0);
		number(t, rn_object_of(RN_STEM, index), RN_ATTRIBUTE_LEAN, 0.05 * take(t, 8));
		number(t, rn_object_of(RN_STEM, index), RN_ATTRIBUTE_DESIGN_FACTOR, 1 + take(t, 8));
		for (int k = 0; k < 2; k++) {
			rn_section section = {.stem = index};
			int s;
			if (rn_model_add_section(t->model, &section, &s) != RN_OK)
				return;
			number(t, rn_object_of(RN_SECTION, s), RN_ATTRIBUTE_HEIGHT, 0.3 + 10 * k);
			number(t, rn_object_of(RN_SECTION, s), RN_ATTRIBUTE_DIAMETER, 0.1 + 0.02 * take(t, 30));
		}
	}
}

static void add_nodes(tape *t)
{
	char name[8];
	int count = 2 + (int)take(t, 7);
	for (; t->node_count < count; t->node_count++) {
		bool on = t->stem_count > 0 && take(t, 4) == 0;
		rn_node node = {.id = name_of(name, 'n', t->node_count),
		                .kind = (rn_node_kind)(on ? take(t, 4) : take(t, RN_NODE_KIND_COUNT)),
		                .gear = take(t, 2) ? (int)take(t, (unsigned)t->gear_count) : RN_NONE, .connector = RN_NONE,
		                .stem = on ? (int)take(t, (unsigned)t->stem_count) : RN_NONE,
		                .bark = (rn_bark)take(t, 4), .sling = RN_NONE};
		int index;
		if (rn_model_add_node(t->model, &node, &index) != RN_OK)
			return;
		rn_object object = rn_object_of(RN_NODE, index);
		if (on) {
			number(t, object, RN_ATTRIBUTE_HEIGHT, take_length(t, 1, 0.5));
		} else {
			number(t, object, RN_ATTRIBUTE_X, take_length(t, -8, 1));
			number(t, object, RN_ATTRIBUTE_Y, take_length(t, 0, 1));
		}
		if (node.kind == RN_NODE_PIECE || take(t, 4) == 0)
			number(t, object, RN_ATTRIBUTE_WEIGHT, 100.0 * take(t, 60));
		if (node.kind == RN_NODE_BOLLARD)
			number(t, object, RN_ATTRIBUTE_TURNS, 0.5 * take(t, 12));
	}
}

static void add_slings(tape *t)
{
	char name[8];
	int count = (int)take(t, 6);
	for (int i = 0; i < count; i++) {
		rn_sling sling = {.id = name_of(name, 'l', i), .gear = take(t, 2) ? (int)take(t, (unsigned)t->gear_count) : RN_NONE,
		                  .connector = RN_NONE, .hitch = take(t, 2) ? "choke" : NULL, .wet = take(t, 8) == 0};
		int index;
		if (rn_model_add_sling(t->model, &sling, &index) != RN_OK)
			return;
		rn_leg leg = {.sling = index, .from = (int)take(t, (unsigned)t->node_count), .connector = RN_NONE};
		leg.to = take_other(t, leg.from);
		int own;
		if (rn_model_add_leg(t->model, &leg, &own) == RN_OK && take(t, 2))
			number(t, rn_object_of(RN_LEG, own), RN_ATTRIBUTE_LENGTH, take_length(t, 0.1, 0.5));
	}
}

static void add_lines(tape *t)
{
	char name[8];
	int count = 1 + (int)take(t, 3);
	for (; t->line_count < count; t->line_count++) {
		rn_line line = {.id = name_of(name, 'r', t->line_count), .gear = take(t, 2) ? (int)take(t, (unsigned)t->gear_count) : RN_NONE};
		int index, stations = 2 + (int)take(t, 5);
		if (rn_model_add_line(t->model, &line, &index) != RN_OK)
			return;
		bool pulled = false;
		for (int k = 0, node = (int)take(t, (unsigned)t->node_count); k < stations; k++, node = take_other(t, node)) {
			bool end = k == 0 || k == stations - 1, held = end && holds(t, node) && take(t, 20) < 19;
			rn_station station = {.line = index, .node = node,
			                      .kind = end ? (held ? RN_HOLD : RN_TIE) : (take(t, 6) ? RN_THROUGH : RN_GRIP),
			                      .side = (int)take(t, 3) - 1, .connector = RN_NONE,
			                      .knot = take(t, 3) ? NULL : "bowline"};
			int own;
			if (rn_model_add_station(t->model, &station, &own) != RN_OK)
				return;
			pulled = pulled || station.kind == RN_HOLD;
			if (station.kind == RN_HOLD && take(t, 2))
				number(t, rn_object_of(RN_STATION, own), RN_ATTRIBUTE_PULL, 50.0 * take(t, 40));
			if (station.kind == RN_THROUGH && take(t, 4) == 0)
				number(t, rn_object_of(RN_STATION, own), RN_ATTRIBUTE_FRICTION, 0.05 * take(t, 20));
		}
		if (!pulled && take(t, 5) == 0)
			number(t, rn_object_of(RN_LINE, index), RN_ATTRIBUTE_SLACK, 0.1 * take(t, 30));
	}
}

static void add_props(tape *t)
{
	char name[8];
	if (take(t, 4))
		return;
	rn_prop prop = {.id = name_of(name, 'p', 0), .species = take(t, 2) ? "red pine" : NULL,
	                .from = (int)take(t, (unsigned)t->node_count)};
	int index;
	prop.to = take_other(t, prop.from);
	if (rn_model_add_prop(t->model, &prop, &index) == RN_OK && take(t, 2))
		number(t, rn_object_of(RN_PROP, index), RN_ATTRIBUTE_DIAMETER, 0.01 * (1 + take(t, 40)));
}

static void add_cases(tape *t)
{
	char name[8];
	int count = (int)take(t, 3);
	for (int i = 0; i < count; i++) {
		rn_case c = {.id = name_of(name, 'c', i), .level = (rn_level)take(t, 4), .follows = RN_NONE, .fall = RN_NONE};
		int index, force;
		if (rn_model_add_case(t->model, &c, &index) != RN_OK)
			return;
		rn_force f = {.case_index = index, .node = (int)take(t, (unsigned)t->node_count)};
		if (take(t, 2) && rn_model_add_force(t->model, &f, &force) == RN_OK) {
			number(t, rn_object_of(RN_FORCE, force), RN_ATTRIBUTE_SIZE, 10.0 * take(t, 250));
			number(t, rn_object_of(RN_FORCE, force), RN_ATTRIBUTE_TOWARD, 0.1 * take(t, 63));
		}
		rn_run run = {.line = (int)take(t, (unsigned)t->line_count), .toward_last = (int)take(t, 2), .at = RN_NONE};
		if (take(t, 2))
			(void)!rn_model_add_run(t->model, index, &run);
	}
	t->model->drawn_under_load = take(t, 8) == 0;
}

static void check_answer(const rn_result *result)
{
	rn_allocator allocator = rn_allocator_default();
	fuzz_demand(rn_finite_check(result) == RN_OK, "every number is one");
	bool open = false;
	for (int c = 0; c < result->case_count; c++) {
		const rn_case_result *r = &result->cases[c];
		bool has = r->outcome == RN_OUTCOME_SETTLED || r->outcome == RN_OUTCOME_KEPT;
		open = open || (has && !r->balance.closed);
		for (int i = 0; has && i < r->span_count; i++)
			fuzz_demand(r->spans[i].member.kind == RN_PROP || r->spans[i].tension >= 0, "no rope pushes");
	}
	fuzz_demand(!open || result->verdict.exit_class == 5, "what does not balance is not given out as an answer");
	rn_buffer out = rn_buffer_make(&allocator);
	rn_answer_options options = {.units = RN_US};
	fuzz_demand(rn_text_write(&out, result, RN_METRIC, NULL) == RN_OK, "as text");
	fuzz_demand(rn_json_write(&out, result, &options) == RN_OK, "as JSON");
	fuzz_demand(rn_csv_write(&out, result, &options) == RN_OK, "as CSV");
	rn_buffer_release(&out);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	rn_allocator allocator = rn_allocator_default();
	tape t = {.bytes = data, .size = size};
	fuzz_demand(rn_model_create(&allocator, &t.model) == RN_OK, "memory");
	add_gear(&t);
	add_stems(&t);
	add_nodes(&t);
	add_slings(&t);
	add_lines(&t);
	add_props(&t);
	add_cases(&t);
	rn_status status = rn_model_check(t.model);
	fuzz_demand(status == RN_OK || status == RN_STATUS_INPUT, "it is checked or refused");
	fuzz_demand((status == RN_OK) == (t.model->findings.count == 0), "a refusal has a reason");
	if (status == RN_OK) {
		rn_options options = rn_options_default();
		rn_result *result = NULL;
		status = rn_solve(t.model, &options, &result);
		fuzz_demand(status == RN_OK, "what is checked can be solved");
		check_answer(result);
		rn_result_destroy(result);
	}
	rn_model_destroy(t.model);
	return 0;
}
