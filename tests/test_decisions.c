/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Conditions of solver/strength and solver/statics one by one: pairs of inputs that differ in one condition alone, with
 * what follows from each. The rest of what these folders decide is shown by their other tests; tests/coverage.sh tells
 * which conditions never showed an effect of their own.
 */
#include <float.h>
#include <limits.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "solver/statics/geometry.h"
#include "solver/statics/kept.h"
#include "solver/statics/program.h"
#include "solver/strength/derate.h"
#include "solver/strength/hitch.h"
#include "solver/strength/parts.h"
#include "solver/strength/stem.h"
#include "solver/strength/verdict.h"
#include "tests/fern_house.h"
#include "tests/laid.h"
#include "tests/models.h"

static const double degree = 3.14159265358979323846 / 180;

/* ---- a model, its answer and its numbers ------------------------------------------------------- */

#define HEAD "<rigging xmlns='urn:funicle:rigging' format='1'"

typedef struct rig {
	rn_document *document;
	const rn_model *model;
	rn_result *result;
	const rn_case_result *answer;
	double values[128];
} rig;

__attribute__((format(printf, 1, 2))) static rig rig_of(const char *format, ...)
{
	char xml[4096];
	rig r = {0};
	va_list list;
	va_start(list, format);
	int size = vsnprintf(xml, sizeof xml, format, list);
	va_end(list);
	assert_true(size > 0 && (size_t)size < sizeof xml);
	r.document = models_read_text(xml);
	r.model = r.document->model;
	assert_non_null(r.model);
	assert_true(r.model->number_count < 128);
	rn_options options = rn_options_default();
	assert_int_equal(rn_solve(r.model, &options, &r.result), RN_OK);
	r.answer = &r.result->cases[0];
	rn_case_values(r.model, &r.model->cases[0], r.values);
	return r;
}

static void rig_end(rig *r)
{
	rn_result_destroy(r->result);
	rn_document_destroy(r->document);
}

static rn_object object_of(const rig *r, const char *id)
{
	rn_object object = rn_model_object_by_id(r->model, id);
	assert_true(object.index != RN_NONE);
	return object;
}

/* NULL if it is no part. */
static const rn_part_result *part_of(const rig *r, const char *id)
{
	rn_object object = object_of(r, id);
	for (int i = 0; i < r->answer->part_count; i++)
		if (r->answer->parts[i].object.kind == object.kind && r->answer->parts[i].object.index == object.index)
			return &r->answer->parts[i];
	return NULL;
}

static int count_parts(const rig *r, const char *id)
{
	rn_object object = object_of(r, id);
	int count = 0;
	for (int i = 0; i < r->answer->part_count; i++)
		count += r->answer->parts[i].object.kind == object.kind && r->answer->parts[i].object.index == object.index;
	return count;
}

static const rn_note *note_of(const rn_case_result *answer, rn_note_kind kind)
{
	for (int i = 0; i < answer->notes.count; i++)
		if (answer->notes.items[i].kind == kind)
			return &answer->notes.items[i];
	return NULL;
}

/* ---- a model that is built ------------------------------------------------------------------------ */

/* Parts are added right behind what they belong to, and to something; a case has one fall, a branch something to grow
 * from. Whatever is refused leaves no trace. */
static void test_definitions_that_do_not_fit(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	for (int filled = 0; filled < 2; filled++) {
		rn_model *m;
		assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
		rn_item item = {.id = "g"}, other = {.id = "h"};
		rn_stem stem = {.id = "oak", .on = RN_NONE};
		rn_case a = {.id = "a"}, b = {.id = "b"};
		rn_timber timber = {.species = "oak"};
		int last = filled ? 1 : RN_NONE;
		for (int k = 0; filled && k < 2; k++) {
			assert_int_equal(rn_model_add_item(m, k ? &other : &item, NULL), RN_OK);
			stem.on = k - 1;
			assert_int_equal(rn_model_add_stem(m, &stem, NULL), RN_OK);
			assert_int_equal(rn_model_add_case(m, k ? &b : &a, NULL), RN_OK);
			assert_int_equal(rn_model_add_timber(m, &timber, NULL), RN_OK);
		}
		for (int at = last - 1; at <= last + 1; at++) {
			rn_status due = filled && at == last ? RN_OK : RN_STATUS_ARGUMENT;
			rn_bend bend = {.item = at};
			rn_stretch stretch = {.item = at};
			rn_section section = {.stem = at};
			rn_cut cut = {.timber = at};
			rn_force force = {.case_index = at};
			rn_fall fall = {.case_index = at};
			rn_run run = {.line = 0, .toward_last = 1, .at = RN_NONE};
			rn_setting setting = {.number = 0};
			assert_int_equal(rn_model_add_bend(m, &bend, NULL), due);
			assert_int_equal(rn_model_add_stretch(m, &stretch, NULL), due);
			assert_int_equal(rn_model_add_section(m, &section, NULL), due);
			assert_int_equal(rn_model_add_cut(m, &cut, NULL), due);
			assert_int_equal(rn_model_add_force(m, &force, NULL), due);
			assert_int_equal(rn_model_add_fall(m, &fall, NULL), due);
			if (due == RN_OK)
				assert_int_equal(rn_model_add_fall(m, &fall, NULL), RN_STATUS_ARGUMENT);
			assert_int_equal(rn_model_add_run(m, at, &run), due);
			assert_int_equal(rn_model_add_setting(m, at, &setting), due);
		}
		assert_int_equal(m->bend_count + m->stretch_count + m->section_count + m->cut_count + m->force_count +
		                         m->fall_count + m->run_count + m->setting_count,
		                 filled ? 8 : 0);
		stem.on = m->stem_count;
		assert_int_equal(rn_model_add_stem(m, &stem, NULL), RN_STATUS_ARGUMENT);
		rn_model_destroy(m);
	}
}

/* Sections, cuts, legs and stations answer to the names the manual gives them, and to no others. */
static void test_names_of_members(void **state)
{
	(void)state;
	rig r = rig_of(HEAD "><stem id='oak' x='0 m' y='0 m'><section height='0 m' diameter='0.4 m'/>"
	               "<section height='9 m' diameter='0.3 m'/></stem><stem id='ash' x='9 m' y='0 m'>"
	               "<section height='0 m' diameter='0.5 m'/></stem><ring id='ra' x='0.5 m' y='7 m'/>"
	               "<ring id='rb' x='1.5 m' y='7 m'/><hand id='h' x='5 m' y='0 m'/><anchor id='b' x='2 m' y='9 m'/>"
	               "<piece id='log' x='1 m' y='3 m' weight='100 kg' long='2 m'><cut at='0 m' diameter='20 cm'/>"
	               "<cut at='2 m' diameter='18 cm'/></piece><piece id='low' x='2 m' y='2 m' weight='7 kg' long='1 m'>"
	               "<cut at='0 m' diameter='10 cm'/><cut at='1 m' diameter='9 cm'/></piece>"
	               "<sling id='pair' on='oak' height='8 m'><end to='ra' side='right' reach='1.5 m'/>"
	               "<end to='rb' side='right' reach='2 m'/></sling>"
	               "<sling id='sb' from='b' to='rb' reach='2.2 m'/><sling id='sl' from='rb' to='low'/>"
	               "<line id='l'><tie at='log'/><through at='ra' tread='50 mm'/><hold at='h'/></line></rigging>");
	static const struct {
		const char *name;
		double value; /* 0: no such number */
	} rows[] = {
		{"oak.section1.diameter", 0.4}, {"oak.section2.diameter", 0.3}, {"oak.section3.diameter", 0},
		{"oak.section0.diameter", 0},   {"oak.section.diameter", 0},    {"oak.section1x.diameter", 0},
		{"oak.section01.diameter", 0},  {"oak.section-1.diameter", 0},  {"oak.section99999999999.diameter", 0},
		{"oak.cut1.diameter", 0},       {"ash.section1.diameter", 0.5}, {"ash.section2.diameter", 0},
		{"oak.sectiom1.diameter", 0},   {"log.cut1.diameter", 0.2},     {"log.cut2.diameter", 0.18},
		{"log.cut3.diameter", 0},       {"log.cux1.diameter", 0},       {"low.cut2.diameter", 0.09},
		{"low.section1.diameter", 0},   {"pair.ra.reach", 1.5},         {"pair.rb.reach", 2},
		{"pair.h.reach", 0},            {"pair.reach", 0},              {"sb.reach", 2.2},
		{"sb.rb.reach", 2.2},           {"l.ra.tread", 0.05},           {"l.rb.tread", 0},
		{"l.ra.reach", 0},              {"nobody.ra.tread", 0},         {"l", 0},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		int number = rn_model_number_by_name(r.model, rows[i].name);
		if ((number != RN_NONE) != (rows[i].value > 0))
			fail_msg("%s is %d", rows[i].name, number);
		if (number != RN_NONE)
			rn_assert_near(r.model->numbers[number].value, rows[i].value, 1e-14, 0);
	}
	rn_setting none[] = {{.number = RN_NONE}, {.number = r.model->number_count}};
	for (int i = 0; i < 2; i++) {
		rn_model *again = NULL;
		assert_int_equal(rn_model_altered(r.model, &none[i], 1, NULL, &again), RN_STATUS_ARGUMENT);
		assert_null(again);
	}
	rig_end(&r);
}

/* ---- what is taken off --------------------------------------------------------------------------- */

/* Worn rope needs a figure of what is left; a figure counts whether the rope is called worn or not. */
static void test_wear_needs_a_figure(void **state)
{
	(void)state;
	static const struct {
		const char *worn, *figure;
		rn_unchecked unchecked;
		double limit;
	} rows[] = {
		{"no", "", RN_CHECKED, 7000},
		{"yes", "", RN_WEAR_UNKNOWN, 0},
		{"yes", "condition-factor='0.8'", RN_CHECKED, 5600},
		{"no", "condition-factor='0.8'", RN_CHECKED, 5600},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rig r = rig_of(HEAD "><gear design-factor='10'>"
		               "<item id='g' kind='rope' strength='70 kN' stiffness='500 kN' knot-factor='1' %s/>"
		               "</gear><anchor id='a' x='0 m' y='9 m'/><piece id='p' x='0 m' y='4 m' weight='100 kg'/>"
		               "<line id='l' gear='g' worn='%s'><tie at='a'/><tie at='p'/></line></rigging>",
		               rows[i].figure, rows[i].worn);
		assert_int_equal(part_of(&r, "l")->unchecked, rows[i].unchecked);
		rn_assert_near(part_of(&r, "l")->limit, rows[i].limit, 1e-14, 0);
		rig_end(&r);
	}
}

/* Gear that keeps less than half somewhere on its own curve is weakened in an eye, so its seat must be known: an eye
 * keeps twice what one bent part does. On a seat of 40 mm D/d is 2, where this curve keeps 0.3. */
static void test_an_eye_of_gear_that_bends_badly_needs_its_seat(void **state)
{
	(void)state;
	static const struct {
		const char *curve, *seat;
		rn_unchecked unchecked;
		double limit;
	} rows[] = {
		{"<bend over='1' keeps='0.3'/>", "", RN_BEND_UNKNOWN, 0},
		{"<bend over='1' keeps='0.3'/><bend over='8' keeps='0.9'/>", "", RN_BEND_UNKNOWN, 0},
		{"<bend over='1' keeps='0.5'/>", "", RN_CHECKED, 10000},
		{"", "", RN_CHECKED, 10000},
		{"<bend over='1' keeps='0.3'/>", "eye='40 mm'", RN_CHECKED, 6000},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rig r = rig_of(HEAD "><gear design-factor='10'>"
		               "<item id='g' kind='sling' body='rope' strength='100 kN' diameter='20 mm' "
		               "stiffness='500 kN'>%s</item><item id='c' kind='connector' working-load='99 kN' %s/>"
		               "</gear>"
		               "<anchor id='a' x='0 m' y='9 m'/><piece id='p' x='0 m' y='4 m' weight='100 kg' gear='c'/>"
		               "<sling id='s' from='a' to='p' gear='g' hitch='straight'/></rigging>",
		               rows[i].curve, rows[i].seat);
		assert_int_equal(part_of(&r, "s")->unchecked, rows[i].unchecked);
		rn_assert_near(part_of(&r, "s")->limit, rows[i].limit, 1e-14, 0);
		rig_end(&r);
	}
}

/* Round a second stem a sling is weakened by its hitch or by its bend, whichever takes more; a hitch not said stays
 * what cannot be checked, however sharp the bend. The stems are 0.4 m, the sling 20 mm: D/d 20. */
static void test_hitch_or_bend_at_the_second_stem(void **state)
{
	(void)state;
	static const struct {
		const char *hitch;
		double keeps;
		rn_unchecked unchecked;
		rn_factor_kind kind;
		double value;
	} rows[] = {
		{"hitch='bowline'", 0.7, RN_CHECKED, RN_FACTOR_KNOT, 0.60},
		{"hitch='bowline'", 0.5, RN_CHECKED, RN_FACTOR_BEND, 0.5},
		{"", 0.5, RN_HITCH_NOT_SAID, RN_FACTOR_BEND, 0},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rig r = rig_of(HEAD "><gear design-factor='10'>"
		               "<item id='g' kind='sling' body='rope' strength='100 kN' diameter='20 mm' "
		               "stiffness='500 kN'><bend over='1' keeps='%g'/></item></gear>"
		               "<stem id='oak' x='0 m' y='0 m'><section height='0 m' diameter='0.4 m'/>"
		               "<section height='12 m' diameter='0.4 m'/></stem>"
		               "<stem id='ash' x='4 m' y='0 m'><section height='0 m' diameter='0.4 m'/>"
		               "<section height='12 m' diameter='0.4 m'/></stem>"
		               "<anchor id='a' on='oak' height='9 m' side='right'/>"
		               "<anchor id='b' on='ash' height='9 m' side='left'/>"
		               "<piece id='p' x='0 m' y='4 m' weight='100 kg'/><sling id='t' from='a' to='p'/>"
		               "<sling id='s' from='a' to='b' gear='g' pretension='300 N' %s/></rigging>",
		               rows[i].keeps, rows[i].hitch);
		rn_spot spot = rn_spot_of_leg(r.model, r.values, r.answer, 1, RN_AT_EYE);
		assert_int_equal(spot.node, object_of(&r, "b").index);
		assert_int_equal(spot.unchecked, rows[i].unchecked);
		assert_int_equal(spot.factor_count, rows[i].value > 0);
		if (spot.factor_count) {
			assert_int_equal(spot.factors[0].kind, rows[i].kind);
			rn_assert_near(spot.factors[0].value, rows[i].value, 1e-14, 0);
		}
		rig_end(&r);
	}
}

/* The label of gear made out for a choke has the choke in it, for no other part and no other factor; a sling without
 * gear has no label but its own. */
static void test_what_a_label_has_in_it(void **state)
{
	(void)state;
	rn_item gear = {.label_for = RN_LABEL_FOR_CHOKE}, plain = {.label_for = RN_LABEL_FOR_STRAIGHT};
	rn_item items[] = {gear, plain};
	rn_sling slings[] = {{.gear = 0}, {.gear = 1}, {.gear = RN_NONE}};
	rn_model m = {.items = items, .item_count = 2, .slings = slings, .sling_count = 3};
	static const struct {
		rn_object_kind part;
		int sling;
		bool own;
		rn_factor_kind kind;
		bool contains;
	} rows[] = {
		{RN_SLING, 0, false, RN_FACTOR_CHOKE, true},  {RN_SLING, 0, false, RN_FACTOR_WET, false},
		{RN_SLING, 1, false, RN_FACTOR_CHOKE, false}, {RN_SLING, 2, false, RN_FACTOR_CHOKE, false},
		{RN_SLING, 2, true, RN_FACTOR_CHOKE, true},   {RN_LINE, 0, true, RN_FACTOR_CHOKE, false},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		assert_int_equal(rn_label_contains(&m, rn_object_of(rows[i].part, rows[i].sling), rows[i].own, rows[i].kind),
		                 rows[i].contains);
}

/* ---- slings round stems ------------------------------------------------------------------------ */

/* A sling of two legs of which one or both are choked round the stem. The first leaves it straight out, at 120 deg of
 * choke, the second straight down, at 90: the smaller counts, of those that are choked. */
static void test_the_second_leg_of_a_choke(void **state)
{
	(void)state;
	for (int both = 0; both < 2; both++) {
		rn_allocator allocator = rn_allocator_default();
		rn_model *m;
		rn_result *result;
		int sling;
		assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
		int stem = fern_stem(m, "oak", 0, 0, 12, 0.4, 0.4);
		int top = fern_on_stem(m, "top", RN_NODE_ANCHOR, stem, 9, RN_BARK_RIGHT);
		int apart = build_node(m, "apart", RN_NODE_ANCHOR, 0.2, 9, 0);
		int out = build_node(m, "out", RN_NODE_JOINT, 2.2, 9, 0), down = build_node(m, "down", RN_NODE_PIECE, 0.2, 6, 500);
		int pull = build_node(m, "pull", RN_NODE_ANCHOR, 5.2, 9, 0);
		build_sling(m, "taut", out, pull, 1e9, 2.999);
		rn_sling d = {.id = "s", .gear = RN_NONE, .connector = RN_NONE, .hitch = "choke"};
		assert_int_equal(rn_model_add_sling(m, &d, &sling), RN_OK);
		build_number(m, rn_object_of(RN_SLING, sling), RN_ATTRIBUTE_STIFFNESS, 1e9);
		rn_leg legs[] = {{.sling = sling, .from = top, .to = out, .connector = RN_NONE},
		                 {.sling = sling, .from = both ? top : apart, .to = down, .connector = RN_NONE}};
		for (int k = 0; k < 2; k++)
			assert_int_equal(rn_model_add_leg(m, &legs[k], NULL), RN_OK);
		rn_options options = rn_options_default();
		assert_int_equal(rn_model_check(m), RN_OK);
		assert_int_equal(rn_solve(m, &options, &result), RN_OK);
		const rn_case_result *answer = &result->cases[0];
		assert_int_equal(answer->outcome, RN_OUTCOME_SETTLED);
		assert_int_equal(answer->hitch_count, 1);
		rn_assert_near(answer->hitches[0].angle, (both ? 90 : 120) * degree, 1e-4, 0);
		rn_assert_near(answer->hitches[0].spread, hypot(2, 3), 1e-3, 0);
		rn_result_destroy(result);
		rn_model_destroy(m);
	}
}

/* A sling that goes round a piece bends over it where that piece is thinnest, whatever is said of others; round a
 * joint, over the bar that ends there. D/d 5, 10 and 7.5. */
static void test_what_a_free_choke_goes_round(void **state)
{
	(void)state;
	rig r = rig_of(HEAD "><gear design-factor='10'>"
	               "<item id='g' kind='sling' body='rope' strength='100 kN' diameter='20 mm' "
	                    "stiffness='500 kN'/></gear><anchor id='a' x='0 m' y='9 m'/><anchor id='b' x='4 m' y='9 m'/>"
	                    "<anchor id='c' x='8 m' y='9 m'/><anchor id='heel' x='8 m' y='2 m'/>"
	                    "<anchor id='far' x='12 m' y='9 m'/>"
	                    "<piece id='thin' x='0 m' y='5 m' weight='50 kg' long='1 m'>"
	                    "<cut at='0 m' diameter='10 cm'/><cut at='1 m' diameter='12 cm'/></piece>"
	                    "<piece id='thick' x='4 m' y='5 m' weight='50 kg' long='1 m'>"
	                    "<cut at='0 m' diameter='24 cm'/><cut at='1 m' diameter='20 cm'/></piece>"
	                    "<joint id='head' x='8 m' y='5 m'/><piece id='low' x='14 m' y='1 m' weight='50 kg'/>"
	                    "<sling id='s' from='a' to='thin' gear='g' hitch='choke'/>"
	                    "<sling id='t' from='b' to='thick' gear='g' hitch='choke'/>"
	                    "<sling id='u' from='c' to='head' gear='g' hitch='choke'/><sling id='v' from='far' to='low'/>"
	                    "<prop id='bar' from='heel' to='head' diameter='15 cm'/>"
	                    "<prop id='other' from='a' to='b' diameter='50 cm'/>"
	                    "</rigging>");
	static const double diameter[] = {0.10, 0.20, 0.15};
	for (int leg = 0; leg < 3; leg++)
		rn_assert_near(rn_hitch_diameter(r.model, r.values, leg, RN_NONE), diameter[leg], 1e-14, 0);
	rn_assert_near(rn_hitch_diameter(r.model, r.values, 3, RN_NONE), 0, 0, 0);
	rig_end(&r);
}

/* ---- parts ------------------------------------------------------------------------------------- */

/* A hand is a part only with a limit of its own or gear; a connector once for each place it is at. */
static void test_what_is_a_part(void **state)
{
	(void)state;
	for (int i = 0; i < 4; i++) {
		bool limited = i & 1, together = i & 2;
		rig r = rig_of(HEAD "><gear><item id='link' kind='connector' working-load='22 kN'/>"
		               "<item id='bow' kind='connector' working-load='9 kN'/>"
		               "</gear><anchor id='a' x='0 m' y='9 m' connector='bow'/><anchor id='b' x='2 m' y='9 m'/>"
		               "<hand id='h' x='5 m' y='0 m' %s/>"
		               "<ring id='ra' x='0.5 m' y='7 m'/><ring id='rb' x='1.5 m' y='7 m'/>"
		               "<piece id='p' x='1 m' y='3 m' weight='100 kg'/>"
		               "<stem id='oak' x='1 m' y='0 m'><section height='0 m' diameter='0.2 m'/>"
		               "<section height='12 m' diameter='0.2 m'/></stem>"
		               "<sling id='pair' on='oak' height='11 m' hitch='choke' connector='link'>"
		               "<end to='ra' side='left'/><end to='%s' side='right'/></sling>"
		               "<sling id='sa' from='a' to='ra'/><sling id='sb' from='b' to='rb'/>"
		               "<line id='l'><tie at='p' connector='bow'/><through at='ra'/><through at='rb'/>"
		               "<hold at='h'/></line></rigging>",
		               limited ? "working-load='1 kN'" : "", together ? "ra" : "rb");
		assert_int_equal(part_of(&r, "h") != NULL, limited);
		assert_int_equal(count_parts(&r, "link"), together ? 1 : 2);
		assert_int_equal(count_parts(&r, "bow"), 2);
		rig_end(&r);
	}
}

/* Of the label of a sling's gear and that of the sling itself the smaller counts, whichever it is, and stands beside
 * the limit; a strength that allows less governs all the same, beside the smaller label. */
static void test_two_labels(void **state)
{
	(void)state;
	static const struct {
		const char *gear, *own;
		double strength, working_load, limit;
		rn_governed governed;
	} rows[] = {
		{"12 kN", "9 kN", 0, 9000, 9000, RN_BY_WORKING_LOAD},
		{"9 kN", "12 kN", 0, 9000, 9000, RN_BY_WORKING_LOAD},
		{"9 kN", "9 kN", 0, 9000, 9000, RN_BY_WORKING_LOAD},
		{"12 kN", "9 kN", 80, 9000, 8000, RN_BY_STRENGTH},
		{"12 kN", "9 kN", 100, 9000, 9000, RN_BY_WORKING_LOAD},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char strength[40] = "";
		if (rows[i].strength > 0)
			snprintf(strength, sizeof strength, "strength='%g kN'", rows[i].strength);
		rig r = rig_of(HEAD "><gear design-factor='10'>"
		               "<item id='g' kind='sling' body='strap' working-load='%s' %s stiffness='500 kN'/></gear>"
		               "<anchor id='a' x='0 m' y='9 m'/><piece id='p' x='0 m' y='4 m' weight='100 kg'/>"
		               "<sling id='s' from='a' to='p' gear='g' hitch='straight' working-load='%s'/></rigging>",
		               rows[i].gear, strength, rows[i].own);
		const rn_part_result *part = part_of(&r, "s");
		rn_assert_near(part->limit, rows[i].limit, 1e-14, 0);
		assert_int_equal(part->governed, rows[i].governed);
		if (rows[i].governed == RN_BY_WORKING_LOAD)
			rn_assert_near(part->working_load, rows[i].working_load, 1e-14, 0);
		rig_end(&r);
	}
}

/* Wear counts for a ring as well: as a factor only where it takes something off. */
static void test_a_worn_ring(void **state)
{
	(void)state;
	static const struct {
		const char *figure;
		double limit;
		int factors;
	} rows[] = {{"", 15e3, 0}, {"condition-factor='0.8'", 12e3, 1}, {"condition-factor='1'", 15e3, 0}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rig r = rig_of(HEAD "><gear><item id='g' kind='ring' working-load='15 kN' %s/></gear>"
		               "<anchor id='a' x='0 m' y='9 m'/>"
		               "<ring id='r' x='0 m' y='7 m' gear='g'/><piece id='p' x='0 m' y='4 m' weight='100 kg'/>"
		               "<sling id='s' from='a' to='r'/><sling id='t' from='r' to='p'/></rigging>",
		               rows[i].figure);
		rn_assert_near(part_of(&r, "r")->limit, rows[i].limit, 1e-14, 0);
		assert_int_equal(part_of(&r, "r")->factor_count, rows[i].factors);
		rig_end(&r);
	}
}

/* A spar straight up under a load: 100 mm, 2 m, crushed at sigma A, so that its modulus decides nothing here but
 * whether it is known. Red maple stands in the table from memory. */
static void test_wood_of_a_prop(void **state)
{
	(void)state;
	static const struct {
		const char *wood;
		rn_unchecked unchecked;
	} rows[] = {
		{"compression='5 MPa' stiffness='9 GPa'", RN_CHECKED},
		{"compression='5 MPa'", RN_WOOD_UNKNOWN},
		{"compression='5 MPa' species='red maple'", RN_WOOD_ESTIMATED},
		{"stiffness='9 GPa' species='red maple'", RN_WOOD_ESTIMATED},
		{"stiffness='9 GPa'", RN_WOOD_UNKNOWN},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rig r = rig_of(HEAD "><gear><item id='g' kind='sling' stiffness='1 MN'/></gear>"
		               "<anchor id='heel' x='0 m' y='0 m'/><anchor id='l' x='-3 m' y='0 m'/>"
		               "<anchor id='r' x='3 m' y='0 m'/>"
		               "<joint id='head' x='0 m' y='2 m'/><piece id='p' x='0.2 m' y='1 m' weight='100 kg'/>"
		               "<sling id='sl' from='l' to='head' gear='g' pretension='100 N'/>"
		               "<sling id='sr' from='r' to='head' gear='g' pretension='100 N'/>"
		               "<sling id='d' from='head' to='p' gear='g'/>"
		               "<prop id='spar' from='heel' to='head' diameter='100 mm' design-factor='5' %s/></rigging>",
		               rows[i].wood);
		assert_int_equal(r.answer->outcome, RN_OUTCOME_SETTLED);
		assert_int_equal(part_of(&r, "spar")->unchecked, rows[i].unchecked);
		if (rows[i].unchecked == RN_CHECKED)
			rn_assert_near(part_of(&r, "spar")->limit, 5e6 * 3.14159265358979323846 * 0.01 / 4 / 5, 1e-12, 0);
		rig_end(&r);
	}
}

/* Nothing was asked, nothing is over. */
static void test_verdict_of_no_case(void **state)
{
	(void)state;
	rn_result none = {.case_count = 0};
	rn_verdict v = rn_verdict_of(&none);
	assert_int_equal(v.exit_class, 0);
	assert_int_equal(v.worst_case, RN_NONE);
	assert_int_equal(v.checked_count + v.not_checked_count + v.over_count, 0);
}

/* ---- stems ------------------------------------------------------------------------------------- */

/* A pin-ended guess is exact for a uniform cantilever: it buckles at pi^2 EI/(4 L^2). Where it takes a million times
 * the push, or nearly, the answer is that end of what is looked for, from either side. */
static void test_a_push_too_small_to_buckle(void **state)
{
	(void)state;
	static const double parts[] = {1e-6 * (1 + 1e-8), 1e-6 * (1 - 1e-3), 2e-6, 0.5};
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		rn_allocator allocator = rn_allocator_default();
		rn_arena arena = rn_arena_make(&allocator);
		rn_column column;
		enum { ELEMENTS = 40 };
		double push = parts[i] * pow(3.14159265358979323846 / 2, 2);
		assert_int_equal(rn_column_create(&arena, ELEMENTS, &column), RN_OK);
		rn_column_clear(&column);
		for (int k = 0; k < ELEMENTS; k++) {
			rn_column_element e = {.length = 1.0 / ELEMENTS};
			for (int p = 0; p < RN_COLUMN_POINTS; p++) {
				e.stiffness[p] = 1;
				e.rigging[p] = push;
			}
			rn_column_add(&column, &e);
		}
		rn_assert_near(rn_column_buckling(&column), i == 1 ? 0 : parts[i], 3e-7, 0);
		rn_arena_release(&arena);
	}
}

/* The section of a stem that has none is nothing, as is that above the top; of one that has it is what is given. */
static void test_section_of_a_stem_without_sections(void **state)
{
	(void)state;
	rig r = rig_of(HEAD "><stem id='oak' x='0 m' y='0 m'><section height='0 m' diameter='0.4 m'/>"
	               "<section height='9 m' diameter='0.4 m'/></stem><stem id='bare' x='4 m' y='0 m'/>"
	               "<anchor id='a' on='oak' height='8 m'/><anchor id='b' on='bare' height='8 m'/>"
	               "<piece id='p' x='0 m' y='4 m' weight='1000 N'/><piece id='q' x='4 m' y='4 m' weight='1000 N'/>"
	               "<sling id='s' from='a' to='p'/><sling id='t' from='b' to='q'/></rigging>");
	rn_allocator allocator = rn_allocator_default();
	rn_arena arena = rn_arena_make(&allocator);
	rn_stems stems;
	rn_stem_result *results;
	assert_int_equal(rn_stems_create(&arena, r.model, &stems, &results), RN_OK);
	static const double heights[] = {2, 9.5};
	for (int stem = 0; stem < 2; stem++)
		for (int k = 0; k < 2; k++) {
			rn_stem_section section;
			bool there = stem == 0 && k == 0;
			rn_stem_section_at(&stems, r.model, r.values, r.answer, stem, heights[k], false, &section);
			rn_assert_near(section.height, heights[k], 1e-14, 0);
			rn_assert_near(section.diameter, there ? 0.4 : 0, 1e-14, 0);
			rn_assert_near(section.axial, there ? 1000 : 0, 1e-9, 0);
		}
	rn_arena_release(&arena);
	rig_end(&r);
}

/* A sling without legs, as a model that was not checked can have it, goes round nothing. */
static void test_a_sling_without_legs(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_arena arena = rn_arena_make(&allocator);
	rn_model *m;
	rn_hitch_result *hitches;
	int count = -1, sling;
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int stem = fern_stem(m, "oak", 0, 0, 12, 0.4, 0.4);
	int top = fern_on_stem(m, "top", RN_NODE_ANCHOR, stem, 9, RN_BARK_RIGHT);
	int log = build_node(m, "log", RN_NODE_PIECE, 0.2, 6, 500);
	rn_sling d = {.id = "s", .gear = RN_NONE, .connector = RN_NONE, .hitch = "choke"};
	assert_int_equal(rn_model_add_sling(m, &d, &sling), RN_OK);
	assert_int_equal(rn_hitches_create(&arena, m, &hitches, &count), RN_OK);
	assert_int_equal(count, 0);
	rn_leg leg = {.sling = sling, .from = top, .to = log, .connector = RN_NONE};
	assert_int_equal(rn_model_add_leg(m, &leg, NULL), RN_OK);
	assert_int_equal(rn_hitches_create(&arena, m, &hitches, &count), RN_OK);
	assert_int_equal(count, 1);
	assert_int_equal(hitches[0].stem, stem);
	rn_arena_release(&arena);
	rn_model_destroy(m);
}

/* ---- without an equilibrium ------------------------------------------------------------------------ */

/* Two loads that nothing holds: both are told, and memory may end between. */
static void test_memory_ends_while_two_fall(void **state)
{
	(void)state;
	rn_allocator plain = rn_allocator_default();
	rn_model *m;
	assert_int_equal(rn_model_create(&plain, &m), RN_OK);
	int a = build_node(m, "a", RN_NODE_JOINT, 0, 9, 0), b = build_node(m, "b", RN_NODE_JOINT, 3, 9, 0);
	int p = build_node(m, "p", RN_NODE_PIECE, 0, 4, 500), q = build_node(m, "q", RN_NODE_PIECE, 3, 4, 700);
	build_node(m, "c", RN_NODE_ANCHOR, 5, 9, 0);
	build_sling(m, "s", a, p, 1e6, 0);
	build_sling(m, "t", b, q, 1e6, 0);
	assert_int_equal(rn_model_check(m), RN_OK);
	bool failed = true;
	for (long at = 1; failed; at++) {
		support_memory memory = {.fail_at = at};
		rn_options options = rn_options_default();
		rn_result *result = NULL;
		options.allocator = support_memory_allocator(&memory);
		rn_status status = rn_solve(m, &options, &result);
		failed = memory.call_count >= at;
		assert_int_equal(status, failed ? RN_STATUS_MEMORY : RN_OK);
		if (!failed) {
			assert_int_equal(result->cases[0].outcome, RN_OUTCOME_NO_EQUILIBRIUM);
			int told = 0;
			for (int i = 0; i < result->cases[0].notes.count; i++)
				told += result->cases[0].notes.items[i].kind == RN_NOTE_NOTHING_HOLDS;
			assert_int_equal(told, 2);
		}
		rn_result_destroy(result);
		assert_int_equal(memory.live_count, 0);
	}
	rn_model_destroy(m);
}

/* ---- stages that end ------------------------------------------------------------------------------- */

/* What ends a stage: nobody's flag, a flag not raised, a flag raised; work that is spent; no step allowed; a number
 * that is none. From the same start, which ends well. */
static void test_what_ends_a_stage(void **state)
{
	(void)state;
	net_data n = net_rigging();
	volatile int no = 0, yes = 1;
	const struct {
		const volatile int *stop;
		double work, load;
		int steps;
		rn_ended ended;
	} rows[] = {
		{NULL, 0, 0, 500, RN_ENDED_WELL},     {&no, 0, 0, 500, RN_ENDED_WELL},    {&yes, 0, 0, 500, RN_ENDED_STOPPED},
		{NULL, 1e300, 0, 500, RN_ENDED_STUCK}, {NULL, 0, 0, 1, RN_ENDED_STUCK}, {NULL, 0, (double)NAN, 500, RN_ENDED_STUCK},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		laid *l = laid_from(&n);
		rn_settler *s = &l->settler;
		assert_non_null(l);
		double loose = 1e-3 * s->net.load_scale;
		s->step_max = 500;
		rn_network_stiffen(&s->net, 50 * s->net.load_scale);
		if (rows[i].stop || rows[i].work > 0 || rows[i].steps < 500) {
			s->stop = rows[i].stop;
			s->work = rows[i].work;
			s->step_max = rows[i].steps;
			assert_int_equal(rn_minimise(s, loose, loose), rows[i].ended);
			s->stop = NULL;
			s->work = 0;
			s->step_max = 500;
		}
		assert_int_equal(rn_minimise(s, loose, loose), RN_ENDED_WELL);
		s->stop = rows[i].stop;
		s->work = rows[i].work;
		s->step_max = rows[i].steps;
		s->net.load[1] += rows[i].load;
		for (int k = 0; k < 2 * s->net.model->node_count; k++)
			s->net.load[k] += rows[i].load;
		assert_int_equal(rn_newton(s), rows[i].ended);
		laid_drop(l);
	}
}

/* Treads that overlap with the rope crossing between them have no tangent: the bends stay as they were, and the rope
 * cannot be measured; apart it can. */
static void test_no_tangent_between_overlapping_treads(void **state)
{
	(void)state;
	net_data n = {0};
	int a = net_add_node(&n, RN_NODE_ANCHOR, -4, 0, 0), b = net_add_node(&n, RN_NODE_ANCHOR, 4, 0, 0);
	int p = net_add_node(&n, RN_NODE_BLOCK, -1, 0.5, 100), q = net_add_node(&n, RN_NODE_BLOCK, 1, -0.5, 100);
	net_line *line = net_add_line(&n, 1e6, true);
	net_add_station(line, RN_TIE, a, 0);
	net_add_station(line, RN_THROUGH, p, 0.4)->side = -1;
	net_add_station(line, RN_THROUGH, q, 0.4)->side = 1;
	net_add_station(line, RN_TIE, b, 0);
	laid *l = laid_from(&n);
	assert_non_null(l);
	rn_network *net = &l->settler.net;
	assert_true(rn_rope_measure(net, &net->ropes[0]));
	net->stops[1].bend = net->stops[2].bend = 0.123;
	net->place[2 * q] = net->place[2 * p] + 0.1;
	net->place[2 * q + 1] = net->place[2 * p + 1];
	rn_rope_lay(net, &net->ropes[0]);
	rn_assert_near(net->stops[1].bend + net->stops[2].bend, 0.246, 1e-15, 0);
	assert_false(rn_rope_measure(net, &net->ropes[0]));
	laid_drop(l);
}

/* What holds a rope behind two turns of a post grips with any part of its friction, one way or the other; behind a hand
 * nothing grips. What has let go at one of its ends, node or station, or by itself carries nothing. */
static void test_grip_and_what_has_let_go(void **state)
{
	(void)state;
	static const double grips[] = {-1, 0, 0.5, 1};
	rig r = rig_of(HEAD "><gear><item id='drum' kind='bollard' friction='0.2' diameter='17 cm'/></gear>"
	               "<bollard id='post' x='2 m' y='0 m' turns='2' gear='drum'/><hand id='h' x='-2 m' y='0 m'/>"
	               "<piece id='p' x='0 m' y='2 m' weight='1000 N'/><anchor id='a' x='0 m' y='9 m'/><sling id='s' from='a' to='p'/>"
	               "<line id='l'><tie at='p'/><hold at='post' pull='50 N'/></line>"
	               "<line id='k'><tie at='p'/><hold at='h' pull='50 N'/></line></rigging>");
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	rn_arena arena = rn_arena_make(&allocator);
	rn_settler s;
	double grip[4] = {0};
	assert_int_equal(rn_settler_create(&arena, r.model, &options, &s), RN_OK);
	for (int i = 0; i < 4; i++) {
		rn_unsure unsure = {.grip = grip};
		for (int k = 0; k < 4; k++)
			grip[k] = grips[i];
		s.net.unsure = &unsure;
		rn_network_load(&s.net, &r.model->cases[0], r.values);
		rn_assert_near(s.net.ropes[0].pull, 50 * exp(grips[i] * 0.2 * 2 * 2 * 3.14159265358979323846), 1e-12, 0);
		rn_assert_near(s.net.ropes[1].pull, 50, 1e-14, 0);
	}
	bool nodes[4] = {false}, stations[4] = {false}, lines[2] = {false};
	rn_unsure unsure = {.node_gone = nodes, .station_gone = stations, .line_gone = lines};
	bool *const gone[] = {NULL, &nodes[object_of(&r, "post").index], &stations[0], &stations[1], &lines[0], &lines[1]};
	for (int i = 0; i < 6; i++) {
		if (gone[i])
			*gone[i] = true;
		s.net.unsure = &unsure;
		rn_network_load(&s.net, &r.model->cases[0], r.values);
		assert_int_equal(s.net.ropes[0].gone, i > 0 && i < 5);
		assert_int_equal(s.net.ropes[1].gone, i == 5);
		if (gone[i])
			*gone[i] = false;
	}
	rn_arena_release(&arena);
	rig_end(&r);
}

/* ---- linear systems -------------------------------------------------------------------------------- */

/* More entries than an int counts are refused before one of them is looked at; as many triplets as the pattern has
 * come to known places, more of them are looked for each time: the sum is the same. */
static void test_more_triplets_than_the_pattern(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_arena arena = rn_arena_make(&allocator);
	rn_triplet pattern[] = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}};
	rn_triplet more[16];
	rn_ldl ldl;
	rn_triplets t = {pattern, INT_MAX / 8, INT_MAX / 8};
	assert_int_equal(rn_ldl_analyse(&arena, 2, &t, &ldl), RN_STATUS_LIMIT);
	t.count = t.room = 3;
	assert_int_equal(rn_ldl_analyse(&arena, 2, &t, &ldl), RN_OK);
	assert_int_equal(rn_ldl_create(&arena, &ldl), RN_OK);
	for (int shares = 1; shares <= 4; shares += 3) {
		rn_triplets m = {more, 0, 16};
		for (int k = 0; k < shares; k++) {
			rn_triplets_add(&m, 0, 0, 4.0 / shares);
			rn_triplets_add(&m, 1, 0, 1.0 / shares);
			rn_triplets_add(&m, 1, 1, 3.0 / shares);
		}
		double x[] = {1, 2}; /* 4 x + y = 1, x + 3 y = 2: x = 1/11, y = 7/11 */
		assert_int_equal(rn_ldl_factor(&ldl, &m, 0, 0), 0);
		rn_ldl_solve(&ldl, x);
		rn_assert_near(x[0], 1.0 / 11, 1e-14, 0);
		rn_assert_near(x[1], 7.0 / 11, 1e-14, 0);
	}
	rn_arena_release(&arena);
}

/* A system whose entries stand in other rows or in other columns than those of the one before is another system. */
static void test_entries_that_move_between_solutions(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_arena arena = rn_arena_make(&allocator);
	rn_lu lu;
	/* x_i of entries on the diagonal; two columns exchanged; two rows exchanged; and again */
	static const int orders[][6] = {{0, 0, 1, 1, 2, 2}, {0, 1, 1, 0, 2, 2}, {2, 1, 1, 0, 0, 2}, {2, 1, 1, 0, 0, 2}};
	assert_int_equal(rn_lu_create(&arena, 3, 3, &lu), RN_OK);
	for (int i = 0; i < 4; i++) {
		rn_triplet items[3];
		rn_triplets t = {items, 0, 3};
		double x[] = {0, 0, 0}, found[3];
		for (int k = 0; k < 3; k++) {
			rn_triplets_add(&t, orders[i][2 * k], orders[i][2 * k + 1], 2.0 + k);
			x[orders[i][2 * k]] = (2.0 + k) * (10 + k);
			found[k] = 10 + k;
		}
		bool regular = false;
		assert_int_equal(rn_lu_solve(&lu, 3, &t, x, &regular), RN_OK);
		assert_true(regular);
		for (int k = 0; k < 3; k++)
			rn_assert_near(x[orders[i][2 * k + 1]], found[k], 1e-14, 0);
	}
	rn_arena_release(&arena);
}

/* Without an equation a force may be anything it may be at all. */
static void test_a_program_without_equations(void **state)
{
	(void)state;
	static const bool is_free[] = {false, true};
	rn_program program = {.rows = 0, .columns = 2, .is_free = is_free};
	rn_extent extents[2];
	assert_int_equal(rn_program_extents(&program, extents), RN_OK);
	for (int k = 0; k < 2; k++) {
		assert_true(extents[k].found && extents[k].open_above);
		assert_int_equal(extents[k].open_below, is_free[k]);
		rn_assert_near(extents[k].least, 0, 0, 0);
	}
}

/* ---- curves ------------------------------------------------------------------------------------ */

/* Ropes on a curve that bends at 2 kN, each 4 m long; forces by hand. */
typedef struct curved {
	rn_model *model;
	rn_arena arena;
	rn_settler settler;
	rn_notes notes;
	double values[64];
} curved;

static void curved_begin(curved *c)
{
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	rn_item item = {.id = "g", .kind = RN_ITEM_ROPE};
	int gear, stretch;
	memset(c, 0, sizeof *c);
	assert_int_equal(rn_model_create(&allocator, &c->model), RN_OK);
	rn_model *m = c->model;
	assert_int_equal(rn_model_add_item(m, &item, &gear), RN_OK);
	static const double points[][2] = {{2000, 0.02}, {4000, 0.03}, {9000, 0.04}};
	for (int k = 0; k < 3; k++) {
		rn_stretch s = {.item = gear};
		assert_int_equal(rn_model_add_stretch(m, &s, &stretch), RN_OK);
		build_number(m, rn_object_of(RN_STRETCH, stretch), RN_ATTRIBUTE_LOAD, points[k][0]);
		build_number(m, rn_object_of(RN_STRETCH, stretch), RN_ATTRIBUTE_BY, points[k][1]);
	}
	int log = build_node(m, "log", RN_NODE_PIECE, 0, 5, 6000);
	for (int k = 0; k < 3; k++) {
		static const char *const ids[] = {"la", "lb", "lc"}, *const nodes[] = {"a", "b", "c"};
		rn_line line = {.id = ids[k], .gear = gear};
		int index, top = build_node(m, nodes[k], k < 2 ? RN_NODE_ANCHOR : RN_NODE_HAND, 0.1 * k, 9, 0);
		assert_int_equal(rn_model_add_line(m, &line, &index), RN_OK);
		build_station(m, RN_TIE, log, 0, 0);
		int hold = build_station(m, k < 2 ? RN_TIE : RN_HOLD, top, 0, 0);
		if (k == 2)
			build_number(m, rn_object_of(RN_STATION, hold), RN_ATTRIBUTE_PULL, 500);
	}
	assert_int_equal(rn_model_check(m), RN_OK);
	c->arena = rn_arena_make(&allocator);
	assert_int_equal(rn_settler_create(&c->arena, m, &options, &c->settler), RN_OK);
	rn_case_values(m, &m->cases[0], c->values);
	rn_network_load(&c->settler.net, &m->cases[0], c->values);
}

static void curved_end(curved *c)
{
	rn_arena_release(&c->arena);
	rn_model_destroy(c->model);
}

static void carry(curved *c, double first, double second)
{
	rn_rope *ropes = c->settler.net.ropes;
	ropes[0].tension = first;
	ropes[1].tension = second;
	ropes[0].taut = first != 0;
	ropes[1].taut = second != 0;
}

/* Each rope goes to the part its tension lies on; one step at a time only the first that is elsewhere, by one part,
 * up or down. One that is held with a given pull has no part, nor has one that carries nothing another than the first. */
static void test_ropes_go_to_their_parts(void **state)
{
	(void)state;
	static const struct {
		double first, second;
		bool one_step, changed;
		int parts[2];
	} rows[] = {
		{1000, 1500, false, false, {0, 0}}, {5000, 3000, false, true, {2, 1}}, {5000, 3000, false, false, {2, 1}},
		{1000, 5000, true, true, {1, 1}},   {1000, 5000, true, true, {0, 1}},  {1000, 5000, true, true, {0, 2}},
		{1000, 5000, true, false, {0, 2}},  {1000, 0, false, true, {0, 0}},    {5000, 3000, false, true, {2, 1}},
		{-5000, 3000, false, true, {0, 1}},
	};
	curved c;
	curved_begin(&c);
	rn_network *net = &c.settler.net;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		carry(&c, rows[i].first, rows[i].second);
		assert_int_equal(rn_network_follow_curves(net, rows[i].one_step), rows[i].changed);
		for (int k = 0; k < 2; k++)
			assert_int_equal(net->ropes[k].curve_part, rows[i].parts[k]);
		assert_int_equal(net->ropes[2].curve_part, 0);
	}
	curved_end(&c);
}

/* Secants of the curve: 3 kN at 2.5 % and 1 kN at 1 %; ropes that are slack, pushed or held with a given pull keep
 * what they have. */
static void test_secants(void **state)
{
	(void)state;
	static const struct {
		double first, second;
		bool moved;
		double stiffness[2];
	} rows[] = {
		{3000, 1000, true, {3000 / 0.025, 1000 / 0.01}}, {3000, 1000, false, {3000 / 0.025, 1000 / 0.01}},
		{4000, 1000, true, {4000 / 0.03, 1000 / 0.01}},  {4000, 3000, true, {4000 / 0.03, 3000 / 0.025}},
		{0, 3000, false, {4000 / 0.03, 3000 / 0.025}},   {-1000, 3000, false, {4000 / 0.03, 3000 / 0.025}},
	};
	curved c;
	curved_begin(&c);
	rn_network *net = &c.settler.net;
	assert_true(net->ropes[2].pulled);
	double held = net->ropes[2].stiffness;
	net->ropes[2].taut = true;
	net->ropes[2].tension = 500;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		carry(&c, rows[i].first, rows[i].second);
		assert_int_equal(rn_network_take_secants(net), rows[i].moved);
		for (int k = 0; k < 2; k++)
			rn_assert_near(net->ropes[k].stiffness, rows[i].stiffness[k], 1e-12, 0);
		rn_assert_near(net->ropes[2].stiffness, held, 0, 0);
	}
	curved_end(&c);
}

/* ---- pictures ---------------------------------------------------------------------------------- */

#define PICTURE HEAD " drawn='under-load' place-error='%s'>"

/* A ring that hangs in the middle of a rope, drawn 3 m to either side of anchors 1 m up. */
static rig hung_ring(const char *side, const char *error, const char *ring_height)
{
	return rig_of(PICTURE "<gear><item id='g' kind='ring' tread='0.2 m'/>"
	              "<item id='ro' kind='rope' diameter='16 mm'/></gear>"
	                      "<anchor id='a' x='-3 m' y='1 m'/><anchor id='b' x='3 m' y='1 m'/>"
	                      "<ring id='r' x='0 m' y='%s m' gear='g'/>"
	                      "<piece id='p' x='0 m' y='-1 m' weight='1000 N'/><sling id='s' from='r' to='p'/>"
	                      "<line id='l' gear='ro'><tie at='a'/><through at='r' %s/><tie at='b'/></line></rigging>",
	              error, ring_height, side);
}

/* A rope cannot push its ring: said to run over the top of one that hangs in it, it runs below, and that is told. With
 * r = 0.1 + 0.008 m and half the rope at an angle to the level of atan(1/3) + asin(r/sqrt(10)), W = 2 T sin of it. */
static void test_a_picture_with_a_rope_on_the_wrong_side(void **state)
{
	(void)state;
	static const char *const errors[] = {"0 m", "1 cm"}, *const sides[] = {"side='left'", "", "side='right'"};
	double angle = atan(1.0 / 3) + asin(0.108 / sqrt(10));
	for (int i = 0; i < 6; i++) {
		rig r = hung_ring(sides[i % 3], errors[i / 3], "0");
		assert_int_equal(r.answer->outcome, RN_OUTCOME_KEPT);
		rn_assert_near(r.answer->spans[0].tension, 500 / sin(angle), 1e-9, 0);
		rn_assert_near(r.answer->passes[0].bend, 2 * angle, 1e-9, 0);
		assert_int_equal(note_of(r.answer, RN_NOTE_SIDE_CHANGED) != NULL, i % 3 == 2);
		assert_true(r.answer->balance.closed);
		rig_end(&r);
	}
}

/* Two nodes are all there is to be told of: a piece 4 cm out of plumb below its anchor comes half the way, and so does
 * the anchor. Both go equally far, and of two alike one is told. */
static void test_a_picture_of_two_nodes(void **state)
{
	(void)state;
	rig r = rig_of(PICTURE "<anchor id='a' x='0 m' y='4 m'/><piece id='p' x='4 cm' y='0 m' weight='1000 N'/>"
	               "<sling id='s' from='a' to='p'/></rigging>", "5 cm");
	const rn_note *move = note_of(r.answer, RN_NOTE_PICTURE_MOVE);
	assert_int_equal(r.answer->outcome, RN_OUTCOME_KEPT);
	assert_non_null(move);
	rn_assert_near(move->value[0], 0.02, 1e-9, 0);
	rn_assert_near(r.answer->nodes[1].place[0] - r.answer->nodes[0].place[0], 0, 0, 1e-9);
	assert_null(note_of(r.answer, RN_NOTE_PICTURE_MOVE_TOO));
	rig_end(&r);
}

/* A picture is looked for in steps, and can be stopped between them. */
static void test_stopping_a_picture(void **state)
{
	(void)state;
	rig r = hung_ring("", "1 cm", "-0.01");
	volatile int no = 0, yes = 1;
	const volatile int *const flags[] = {NULL, &no, &yes};
	for (int i = 0; i < 3; i++) {
		rn_allocator allocator = rn_allocator_default();
		rn_options options = rn_options_default();
		rn_arena arena = rn_arena_make(&allocator);
		rn_settler s;
		rn_keeper k;
		rn_notes notes = {0};
		rn_outcome outcome;
		rn_picture picture;
		assert_int_equal(rn_settler_create(&arena, r.model, &options, &s), RN_OK);
		assert_int_equal(rn_keeper_create(&arena, &s.net, &k), RN_OK);
		s.notes_arena = &arena;
		s.notes = &notes;
		s.stop = flags[i];
		rn_network_load(&s.net, &r.model->cases[0], r.values);
		assert_int_equal(rn_keep(&s, &k, &outcome, &picture), i == 2 ? RN_STATUS_STOPPED : RN_OK);
		if (i < 2)
			assert_int_equal(outcome, RN_OUTCOME_KEPT);
		rn_arena_release(&arena);
	}
	rig_end(&r);
}

/* A rope that hangs plumb past a fork it was led over does not touch it, and that is told; led round it, it does. */
static void test_a_picture_past_a_fork(void **state)
{
	(void)state;
	static const char *const anchors[] = {"0", "-1"}, *const forks[] = {"0.5", "-0.1"}, *const sides[] = {"left", "right"};
	for (int i = 0; i < 2; i++) {
		rig r = rig_of(PICTURE "<gear><item id='f' kind='fork' tread='0.2 m'/></gear><anchor id='a' x='%s m' y='5 m'/>"
		               "<fork id='crotch' x='%s m' y='3.5 m' gear='f'/><piece id='p' x='0 m' y='2 m' weight='1000 N'/>"
		               "<line id='l'><tie at='a'/><through at='crotch' side='%s'/><tie at='p'/></line></rigging>",
		               "0 m", anchors[i], forks[i], sides[i]);
		assert_int_equal(r.answer->outcome, RN_OUTCOME_KEPT);
		assert_int_equal(note_of(r.answer, RN_NOTE_LIFTED_OFF) != NULL, i == 0);
		assert_int_equal(r.answer->passes[0].lifted, i == 0);
		rn_assert_near(r.answer->spans[1].tension, 1000, 1e-9, 0);
		rig_end(&r);
	}
}

/* Three slings on one ring with a load: their shares rest on their stretch, which nobody gave or somebody did. A part
 * of theirs, and gear where they meet, is then not held against its limit; what only hangs below is. */
static void test_what_rests_on_a_guessed_share(void **state)
{
	(void)state;
	for (int given = 0; given < 2; given++) {
		rig r = rig_of(PICTURE "<gear design-factor='10'><item id='g' kind='sling' body='strap' strength='100 kN' %s/>"
		               "<item id='link' kind='connector' working-load='9 kN'/>"
		                       "<item id='low' kind='sling' body='strap' strength='50 kN' stiffness='1 MN'/></gear>"
		                       "<anchor id='a' x='-3 m' y='4 m' connector='link'/><anchor id='b' x='0 m' y='4 m'/>"
		                       "<anchor id='c' x='3 m' y='4 m'/>"
		                       "<joint id='j' x='0 m' y='0 m'/><piece id='p' x='0 m' y='-2 m' weight='1000 N'/>"
		                       "<sling id='sa' from='a' to='j' gear='g' hitch='straight'/>"
		                       "<sling id='sb' from='b' to='j' gear='g' hitch='straight'/>"
		                       "<sling id='sc' from='c' to='j' gear='g' hitch='straight'/>"
		                       "<sling id='d' from='j' to='p' gear='low' hitch='straight'/></rigging>",
		               "0 m", given ? "stiffness='1 MN'" : "");
		rn_unchecked due = given ? RN_CHECKED : RN_STRETCH_UNKNOWN;
		/* alike: T_mid = W/(1 + 2 cos^3), T_side = T_mid cos^2, cos = 4/5 */
		double middle = 1000 / (1 + 2 * pow(0.8, 3));
		rn_assert_near(r.answer->spans[1].tension, middle, 1e-9, 0);
		rn_assert_near(r.answer->spans[0].tension, middle * 0.64, 1e-9, 0);
		assert_int_equal(part_of(&r, "sb")->unchecked, due);
		assert_int_equal(part_of(&r, "link")->unchecked, due);
		assert_int_equal(part_of(&r, "d")->unchecked, RN_CHECKED);
		rig_end(&r);
	}
}

/* The same of a bar between two slings: its stretch is given by its wood and its thickness. */
static void test_what_rests_on_a_guessed_bar(void **state)
{
	(void)state;
	for (int given = 0; given < 2; given++) {
		rig r = rig_of(PICTURE "<gear><item id='g' kind='sling' stiffness='1 MN'/></gear>"
		               "<anchor id='a' x='-3 m' y='4 m'/><anchor id='b' x='0 m' y='-4 m'/>"
		               "<anchor id='c' x='3 m' y='4 m'/>"
		                       "<joint id='j' x='0 m' y='0 m'/><piece id='p' x='0 m' y='-2 m' weight='1000 N'/>"
		                       "<sling id='sa' from='a' to='j' gear='g'/><sling id='sc' from='c' to='j' gear='g'/>"
		                       "<sling id='d' from='j' to='p' gear='g'/>"
		                       "<prop id='bar' from='b' to='j' diameter='10 cm' compression='20 MPa' design-factor='5' "
		                       "%s/></rigging>",
		               "0 m", given ? "stiffness='9 GPa'" : "");
		bool told = note_of(r.answer, RN_NOTE_PICTURE_EQUAL_STRETCH) != NULL;
		assert_int_equal(r.answer->outcome, RN_OUTCOME_KEPT);
		assert_int_equal(told, !given);
		/* all stretch by the way j goes down, e: bar E A e/4, slings EA cos e/5 with cos = 4/5, upright each cos times */
		double bar = (given ? 9e9 : 8e9) * 3.14159265358979323846 * 0.0025 / 4, sling = 2 * 1e6 * 0.64 / 5;
		rn_assert_near(fabs(r.answer->spans[3].tension), 1000 * bar / (bar + sling), 1e-6, 0);
		rig_end(&r);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_definitions_that_do_not_fit),
		cmocka_unit_test(test_names_of_members),
		cmocka_unit_test(test_wear_needs_a_figure),
		cmocka_unit_test(test_an_eye_of_gear_that_bends_badly_needs_its_seat),
		cmocka_unit_test(test_hitch_or_bend_at_the_second_stem),
		cmocka_unit_test(test_what_a_label_has_in_it),
		cmocka_unit_test(test_the_second_leg_of_a_choke),
		cmocka_unit_test(test_what_a_free_choke_goes_round),
		cmocka_unit_test(test_what_is_a_part),
		cmocka_unit_test(test_two_labels),
		cmocka_unit_test(test_a_worn_ring),
		cmocka_unit_test(test_wood_of_a_prop),
		cmocka_unit_test(test_verdict_of_no_case),
		cmocka_unit_test(test_section_of_a_stem_without_sections),
		cmocka_unit_test(test_a_sling_without_legs),
		cmocka_unit_test(test_grip_and_what_has_let_go),
		cmocka_unit_test(test_a_picture_past_a_fork),
		cmocka_unit_test(test_a_push_too_small_to_buckle),
		cmocka_unit_test(test_memory_ends_while_two_fall),
		cmocka_unit_test(test_what_ends_a_stage),
		cmocka_unit_test(test_no_tangent_between_overlapping_treads),
		cmocka_unit_test(test_more_triplets_than_the_pattern),
		cmocka_unit_test(test_entries_that_move_between_solutions),
		cmocka_unit_test(test_a_program_without_equations),
		cmocka_unit_test(test_ropes_go_to_their_parts),
		cmocka_unit_test(test_secants),
		cmocka_unit_test(test_a_picture_with_a_rope_on_the_wrong_side),
		cmocka_unit_test(test_a_picture_of_two_nodes),
		cmocka_unit_test(test_stopping_a_picture),
		cmocka_unit_test(test_what_rests_on_a_guessed_share),
		cmocka_unit_test(test_what_rests_on_a_guessed_bar),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
