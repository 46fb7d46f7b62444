/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The Fern House job as a model in memory, for tests of what is written about it: two stems, a
 * block and a ring on slings, a log, a bollard; ten parts.
 */
#ifndef RN_TESTS_FERN_HOUSE_H
#define RN_TESTS_FERN_HOUSE_H

#include "tests/build.h"

typedef struct fern_house {
	rn_model *model;
	int block, ring, rope_gear, sling_gear, connector; /* items */
	int top, far, b1, r1, post, log;                   /* nodes */
	int s1, s2, bull;
} fern_house;

static inline int fern_item(rn_model *m, const char *id, rn_item_kind kind, double strength,
                            double working_load, double weight)
{
	rn_item d = {.id = id, .kind = kind, .fibre = RN_FIBRE_POLYESTER, .state = RN_STATE_WORKED};
	int i;
	if (rn_model_add_item(m, &d, &i) != RN_OK)
		abort();
	rn_object object = rn_object_of(RN_ITEM, i);
	if (strength > 0)
		build_number(m, object, RN_ATTRIBUTE_STRENGTH, strength);
	if (working_load > 0)
		build_number(m, object, RN_ATTRIBUTE_WORKING_LOAD, working_load);
	if (weight > 0)
		build_number(m, object, RN_ATTRIBUTE_WEIGHT, weight);
	return i;
}

/* Gear that no knot and no bend takes anything off, so that limits are what stands on the label. Right
 * behind its item. */
static inline void fern_full_strength(rn_model *m, int item)
{
	rn_bend bend = {.item = item};
	int index;
	if (rn_model_add_bend(m, &bend, &index) != RN_OK)
		abort();
	build_number(m, rn_object_of(RN_BEND, index), RN_ATTRIBUTE_OVER, 0.1);
	build_number(m, rn_object_of(RN_BEND, index), RN_ATTRIBUTE_KEEPS, 1);
	build_number(m, rn_object_of(RN_ITEM, item), RN_ATTRIBUTE_KNOT_FACTOR, 1);
}

static inline void fern_items(fern_house *f)
{
	rn_model *m = f->model;
	f->rope_gear = fern_item(m, "bull16", RN_ITEM_ROPE, 70e3, 0, 0);
	fern_full_strength(m, f->rope_gear);
	f->sling_gear = fern_item(m, "sling20", RN_ITEM_SLING, 75e3, 0, 0);
	m->items[f->sling_gear].body = RN_BODY_STRAP;
	build_number(m, rn_object_of(RN_ITEM, f->sling_gear), RN_ATTRIBUTE_CHOKE_FACTOR, 1);
	f->ring = fern_item(m, "ring28", RN_ITEM_RING, 0, 15e3, 0.9 * 9.80665);
	f->block = fern_item(m, "block16", RN_ITEM_BLOCK, 0, 20e3, 2.4 * 9.80665);
	f->connector = fern_item(m, "shackle", RN_ITEM_CONNECTOR, 0, 20e3, 0);
	build_number(m, rn_object_of(RN_ITEM, f->rope_gear), RN_ATTRIBUTE_DIAMETER, 0.016);
	build_number(m, rn_object_of(RN_ITEM, f->ring), RN_ATTRIBUTE_TREAD, 0.044);
	build_number(m, rn_object_of(RN_ITEM, f->block), RN_ATTRIBUTE_TREAD, 0.12);
	rn_number friction = {.value = 0.20, .low = 0.14, .high = 0.25,
	                      .object = rn_object_of(RN_ITEM, f->ring),
	                      .attribute = RN_ATTRIBUTE_FRICTION, .origin = RN_GIVEN};
	if (rn_model_set_number(m, &friction) != RN_OK)
		abort();
}

static inline int fern_stem(rn_model *m, const char *id, double x, double lean, double height,
                            double foot, double tip)
{
	rn_stem d = {.id = id, .on = RN_NONE};
	int i, section;
	if (rn_model_add_stem(m, &d, &i) != RN_OK)
		abort();
	build_number(m, rn_object_of(RN_STEM, i), RN_ATTRIBUTE_X, x);
	build_number(m, rn_object_of(RN_STEM, i), RN_ATTRIBUTE_Y, 0);
	build_number(m, rn_object_of(RN_STEM, i), RN_ATTRIBUTE_LEAN, lean);
	for (int k = 0; k < 2; k++) {
		rn_section s = {.stem = i};
		if (rn_model_add_section(m, &s, &section) != RN_OK)
			abort();
		rn_object object = rn_object_of(RN_SECTION, section);
		build_number(m, object, RN_ATTRIBUTE_HEIGHT, k ? height : 0.3);
		build_number(m, object, RN_ATTRIBUTE_DIAMETER, k ? tip : foot);
	}
	return i;
}

static inline int fern_on_stem(rn_model *m, const char *id, rn_node_kind kind, int stem,
                               double height, rn_bark bark)
{
	rn_node d = {.id = id, .kind = kind, .gear = RN_NONE, .connector = RN_NONE, .stem = stem,
	             .bark = bark, .sling = RN_NONE};
	int i;
	if (rn_model_add_node(m, &d, &i) != RN_OK)
		abort();
	build_number(m, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_HEIGHT, height);
	return i;
}

static inline int fern_sling(fern_house *f, const char *id, int from, int to, int connector)
{
	rn_sling d = {.id = id, .gear = f->sling_gear, .connector = connector, .hitch = "choke"};
	int i;
	if (rn_model_add_sling(f->model, &d, &i) != RN_OK)
		abort();
	rn_leg l = {.sling = i, .from = from, .to = to, .connector = RN_NONE};
	if (rn_model_add_leg(f->model, &l, NULL) != RN_OK)
		abort();
	build_number(f->model, rn_object_of(RN_SLING, i), RN_ATTRIBUTE_ANGLE, 2.3); /* a free choke */
	return i;
}

static inline void fern_rigging(fern_house *f, double weight)
{
	rn_model *m = f->model;
	int beech = fern_stem(m, "beech", 0, -0.0523599, 12, 0.62, 0.30);
	int ash = fern_stem(m, "ash", 6.4, 0.0174533, 10.5, 0.55, 0.34);
	f->top = fern_on_stem(m, "top", RN_NODE_ANCHOR, beech, 11, RN_BARK_RIGHT);
	f->far = fern_on_stem(m, "far", RN_NODE_ANCHOR, ash, 9.2, RN_BARK_LEFT);
	f->post = fern_on_stem(m, "post", RN_NODE_BOLLARD, ash, 1, RN_BARK_LEFT);
	build_number(m, rn_object_of(RN_NODE, f->post), RN_ATTRIBUTE_TURNS, 2.5);
	build_number(m, rn_object_of(RN_NODE, f->post), RN_ATTRIBUTE_DIAMETER, 0.17);
	f->b1 = build_node(m, "b1", RN_NODE_BLOCK, 0.15, 10.3, 0);
	f->r1 = build_node(m, "r1", RN_NODE_RING, 4.4, 8.6, 0);
	m->nodes[f->b1].gear = f->block;
	m->nodes[f->r1].gear = f->ring;
	f->log = build_node(m, "log", RN_NODE_PIECE, 0.3, 7.2, weight);
	f->s1 = fern_sling(f, "s1", f->top, f->b1, f->connector);
	f->s2 = fern_sling(f, "s2", f->far, f->r1, f->connector);
	rn_line d = {.id = "bull", .gear = f->rope_gear};
	if (rn_model_add_line(m, &d, &f->bull) != RN_OK)
		abort();
	build_station(m, RN_TIE, f->log, 0, 0);
	build_station(m, RN_THROUGH, f->b1, 0, 0);
	build_station(m, RN_THROUGH, f->r1, 0, 0);
	build_station(m, RN_HOLD, f->post, 0, 0);
}

/* The model before its check, so that a test can add to it. Weight of the log [N]. */
static inline fern_house fern_house_start(const rn_allocator *allocator, double weight,
                                          double design_factor)
{
	fern_house f = {0};
	if (rn_model_create(allocator, &f.model) != RN_OK ||
	    rn_model_set_title(f.model, "Fern House: one redirect on a long sling") != RN_OK)
		abort();
	if (design_factor > 0)
		build_number(f.model, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_DESIGN_FACTOR,
		             design_factor);
	fern_items(&f);
	fern_rigging(&f, weight);
	return f;
}

static inline fern_house fern_house_make(const rn_allocator *allocator, double weight,
                                         double design_factor)
{
	fern_house f = fern_house_start(allocator, weight, design_factor);
	if (rn_model_check(f.model) != RN_OK)
		abort();
	return f;
}

static inline rn_result *fern_house_solve(const fern_house *f, const rn_allocator *allocator)
{
	rn_options options = rn_options_default();
	options.allocator = *allocator;
	rn_result *result = NULL;
	if (rn_solve(f->model, &options, &result) != RN_OK)
		abort();
	return result;
}

/* A leaning spar that pushes, held by a guy, with a log at its head. */
static inline rn_model *fern_spar(const rn_allocator *allocator)
{
	rn_model *m;
	int spar;
	if (rn_model_create(allocator, &m) != RN_OK)
		abort();
	build_number(m, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_DESIGN_FACTOR, 5);
	int heel = build_node(m, "heel", RN_NODE_ANCHOR, 0, 0, 0);
	int back = build_node(m, "back", RN_NODE_ANCHOR, -7, 0, 0);
	int head = build_node(m, "head", RN_NODE_JOINT, 3, 9, 0);
	int log = build_node(m, "log", RN_NODE_PIECE, 3, 4, 6000);
	rn_prop d = {.id = "spar", .from = heel, .to = head};
	if (rn_model_add_prop(m, &d, &spar) != RN_OK)
		abort();
	rn_object object = rn_object_of(RN_PROP, spar);
	build_number(m, object, RN_ATTRIBUTE_DIAMETER, 0.22);
	build_number(m, object, RN_ATTRIBUTE_COMPRESSION, 18e6);
	build_number(m, object, RN_ATTRIBUTE_MODULUS, 8e9);
	build_sling(m, "guy", back, head, 4e6, 0);
	build_sling(m, "drop", head, log, 4e6, 0);
	if (rn_model_check(m) != RN_OK)
		abort();
	return m;
}

#endif
