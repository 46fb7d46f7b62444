/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/build.h"

#include <string.h>

#include "io/xml/check.h"
#include "io/xml/names.h"
#include "io/xml/picture.h"

typedef struct builder {
	rn_model *model;
	rn_findings *findings;
	rn_tree_element *root;
} builder;

/* The table lists nodes and stations in the order of the model's own lists. */
_Static_assert((int)RN_ELEMENT_PIECE - (int)RN_ELEMENT_ANCHOR == (int)RN_NODE_PIECE, "nodes");
_Static_assert((int)RN_ELEMENT_HOLD - (int)RN_ELEMENT_TIE == (int)RN_HOLD, "stations");
/* Words of the table are indices of the model's lists. */
_Static_assert(RN_BARK_AXIS == 0 && RN_BARK_LEFT == 1 && RN_BARK_RIGHT == 2, "axis left right");
_Static_assert(RN_FRICTION_HIGH - RN_FRICTION_LOW == 2, "low nominal high");

/* ---- attributes as the model wants them ------------------------------------------------------ */

static rn_place place_of(const rn_tree_element *e)
{
	return (rn_place){.file = e->file, .line = e->line};
}

/* Index in the model of what a reference names, RN_NONE if it is not given. */
static int target_of(const rn_tree_element *e, const char *name)
{
	const rn_tree_attribute *a = rn_tree_attribute_named(e, name);
	return a ? a->target->index : RN_NONE;
}

/* Index of a word in its list, `absent` if it is not given. */
static int choice_of(const rn_tree_element *e, const char *name, int absent)
{
	const rn_tree_attribute *a = rn_tree_attribute_named(e, name);
	return a ? a->choice : absent;
}

static rn_number number_of(const rn_tree_element *e, const rn_tree_attribute *a, rn_object object,
			   rn_attribute attribute)
{
	return (rn_number){.value = a->amount,
	                   .low = a->amount,
	                   .high = a->amount,
	                   .object = object,
	                   .attribute = attribute,
	                   .origin = RN_GIVEN,
	                   .file = e->file,
	                   .line = a->line};
}

static rn_status set_number(builder *b, const rn_tree_element *e, const rn_tree_attribute *a,
			    rn_object object, rn_attribute attribute)
{
	rn_number number = number_of(e, a, object, attribute);
	return rn_model_set_number(b->model, &number);
}

/* These belong to a leg of the sling, not to the sling. */
static bool is_of_leg(rn_attribute attribute)
{
	return attribute == RN_ATTRIBUTE_REACH || attribute == RN_ATTRIBUTE_LENGTH ||
	       attribute == RN_ATTRIBUTE_SLACK || attribute == RN_ATTRIBUTE_PRETENSION;
}

/* The height of a sling round a stem is that of the anchors its ends make. */
static bool belongs(const rn_tree_element *e, rn_attribute attribute, rn_object object)
{
	if (e->element != RN_ELEMENT_SLING)
		return true;
	if (attribute == RN_ATTRIBUTE_HEIGHT)
		return object.kind == RN_NODE;
	return is_of_leg(attribute) == (object.kind == RN_LEG);
}

/* Every number an element gives to one object. */
static rn_status set_numbers(builder *b, const rn_tree_element *e, rn_object object)
{
	for (size_t i = 0; i < e->attribute_count; i++) {
		const rn_tree_attribute *a = &e->attributes[i];
		if (a->row->number == RN_NONE)
			continue;
		rn_attribute attribute = (rn_attribute)a->row->number;
		if (belongs(e, attribute, object))
			RN_TRY(set_number(b, e, a, object, attribute));
	}
	return RN_OK;
}

/* ---- gear ---------------------------------------------------------------------------------- */

static rn_status set_friction_range(builder *b, const rn_tree_element *e, rn_object object)
{
	const rn_tree_attribute *range = rn_tree_attribute_named(e, "friction-range");
	const rn_tree_attribute *middle = rn_tree_attribute_named(e, "friction");
	if (!range || !middle)
		return RN_OK;
	rn_number number = number_of(e, middle, object, RN_ATTRIBUTE_FRICTION);
	number.low = range->range.low;
	number.high = range->range.high;
	return rn_model_set_number(b->model, &number);
}

/* The factor of the whole <gear> is that of each item that names none. */
static rn_status set_common_factor(builder *b, const rn_tree_element *e, rn_object object)
{
	const rn_tree_attribute *common = rn_tree_attribute_named(e->parent, "design-factor");
	if (!common || rn_tree_attribute_named(e, "design-factor"))
		return RN_OK;
	return set_number(b, e, common, object, RN_ATTRIBUTE_DESIGN_FACTOR);
}

static rn_status add_stretch(builder *b, rn_tree_element *e)
{
	rn_stretch stretch = {.place = place_of(e), .item = e->parent->index};
	RN_TRY(rn_model_add_stretch(b->model, &stretch, &e->index));
	return set_numbers(b, e, rn_object_of(RN_STRETCH, e->index));
}

static rn_status add_bend(builder *b, rn_tree_element *e)
{
	rn_bend bend = {.place = place_of(e), .item = e->parent->index};
	RN_TRY(rn_model_add_bend(b->model, &bend, &e->index));
	return set_numbers(b, e, rn_object_of(RN_BEND, e->index));
}

static rn_status add_item(builder *b, rn_tree_element *e)
{
	rn_item item = {
		.place = place_of(e),
		.id = rn_tree_value(e, "id"),
		.kind = (rn_item_kind)choice_of(e, "kind", 0),
		.fibre = (rn_fibre)choice_of(e, "fibre", RN_FIBRE_UNKNOWN),
		.state = (rn_rope_state)(1 + choice_of(e, "state",
	                                               -1)), /* new worked, behind unknown */
		.serial = rn_tree_value(e, "serial"),
		.checked_on = rn_tree_value(e, "checked-on"),
		.label_for = (rn_label_for)choice_of(e, "label-for", RN_LABEL_FOR_STRAIGHT),
		.body = (rn_body)choice_of(e, "body", RN_BODY_UNKNOWN),
	};
	RN_TRY(rn_model_add_item(b->model, &item, &e->index));
	rn_object object = rn_object_of(RN_ITEM, e->index);
	RN_TRY(set_numbers(b, e, object));
	RN_TRY(set_friction_range(b, e, object));
	RN_TRY(set_common_factor(b, e, object));
	for (rn_tree_element *child = e->first_child; child; child = child->next)
		RN_TRY(child->element == RN_ELEMENT_STRETCH ? add_stretch(b, child) : add_bend(b, child));
	return RN_OK;
}

/* ---- stems and nodes ------------------------------------------------------------------------- */

static rn_status add_section(builder *b, rn_tree_element *e)
{
	rn_section section = {.place = place_of(e), .stem = e->parent->index};
	RN_TRY(rn_model_add_section(b->model, &section, &e->index));
	return set_numbers(b, e, rn_object_of(RN_SECTION, e->index));
}

static rn_status add_stem(builder *b, rn_tree_element *e)
{
	rn_stem stem = {.place = place_of(e),
	                .id = rn_tree_value(e, "id"),
	                .species = rn_tree_value(e, "species"),
	                .strength_like = rn_tree_value(e, "strength-like"),
	                .give = (rn_give)choice_of(e, "give", RN_GIVE_AUTO),
	                .on = target_of(e, "on")};
	RN_TRY(rn_model_add_stem(b->model, &stem, &e->index));
	RN_TRY(set_numbers(b, e, rn_object_of(RN_STEM, e->index)));
	for (rn_tree_element *child = e->first_child; child; child = child->next)
		RN_TRY(add_section(b, child));
	return RN_OK;
}

/* Places read off a photo may be off by more, unless something else is said. */
static rn_status set_place_error(builder *b, const rn_tree_element *e, rn_object object)
{
	const rn_tree_attribute *stem = rn_tree_attribute_named(e, "on");
	if (!rn_picture_places(e) && !(stem && stem->target && rn_picture_places(stem->target)))
		return RN_OK;
	if (rn_tree_value(e, "place-error") || rn_tree_value(b->root, "place-error"))
		return RN_OK;
	rn_number number = {.value = RN_PICTURE_ERROR,
	                    .low = RN_PICTURE_ERROR,
	                    .high = RN_PICTURE_ERROR,
	                    .object = object,
	                    .attribute = RN_ATTRIBUTE_PLACE_ERROR,
	                    .origin = RN_DEFAULT,
	                    .file = e->file,
	                    .line = e->line};
	return rn_model_set_number(b->model, &number);
}

enum { BEING_ADDED = RN_NONE - 1 };

static rn_status tell_ring(builder *b, const rn_tree_element *e)
{
	if (rn_findings_begin(b->findings, e->file, e->line)) {
		rn_buffer_format(&b->findings->text, "%s grows from itself, by way of its own branches",
		                 rn_tree_value(e, "id"));
		rn_findings_end(b->findings);
	}
	return RN_STATUS_INPUT;
}

/* A branch may stand before its stem in a file: the parent then goes first. */
static rn_status add_stem_with_parents(builder *b, rn_tree_element *e)
{
	rn_tree_attribute *on = rn_tree_attribute_named(e, "on");
	if (e->index == BEING_ADDED)
		return tell_ring(b, e);
	if (e->index != RN_NONE)
		return RN_OK;
	e->index = BEING_ADDED;
	if (on)
		RN_TRY(add_stem_with_parents(b, on->target));
	return add_stem(b, e);
}

static rn_status add_piece_ends(builder *b, rn_tree_element *piece)
{
	for (rn_tree_element *e = piece->first_child; e; e = e->next) {
		if (e->element != RN_ELEMENT_PIECE_END)
			continue;
		rn_node node = {.place = place_of(e),
		                .id = rn_tree_value(e, "id"),
		                .kind = RN_NODE_PIECE,
		                .gear = RN_NONE,
		                .connector = RN_NONE,
		                .stem = RN_NONE,
		                .sling = RN_NONE};
		RN_TRY(rn_model_add_node(b->model, &node, &e->index));
		RN_TRY(set_numbers(b, e, rn_object_of(RN_NODE, e->index)));
	}
	return RN_OK;
}

static rn_status add_cut(builder *b, rn_tree_element *e, int timber)
{
	rn_cut cut = {.place = place_of(e), .timber = timber};
	RN_TRY(rn_model_add_cut(b->model, &cut, &e->index));
	return set_numbers(b, e, rn_object_of(RN_CUT, e->index));
}

/* A weight to come, from the wood: a number from the start, so that a case can set it. */
static rn_status leave_weight_open(builder *b, const rn_tree_element *e, rn_object piece)
{
	rn_number weight = {.object = piece,
	                    .attribute = RN_ATTRIBUTE_WEIGHT,
	                    .origin = RN_COMPUTED,
	                    .file = e->file,
	                    .line = e->line};
	return rn_tree_value(e, "weight") ? RN_OK : rn_model_set_number(b->model, &weight);
}

/* A piece of which at least one cut is given has wood to be weighed. */
static rn_status add_timber(builder *b, const rn_tree_element *e, rn_object piece)
{
	if (!rn_tree_child(e, RN_ELEMENT_CUT, 1))
		return RN_OK;
	rn_timber timber = {.place = place_of(e),
	                    .piece = piece,
	                    .species = rn_tree_value(e, "species"),
	                    .moisture = (rn_moisture)choice_of(e, "wood", RN_MOISTURE_MIXED),
	                    .barked = choice_of(e, "bark", 0) == 1};
	int index;
	RN_TRY(rn_model_add_timber(b->model, &timber, &index));
	for (rn_tree_element *child = e->first_child; child; child = child->next)
		if (child->element == RN_ELEMENT_CUT)
			RN_TRY(add_cut(b, child, index));
	return leave_weight_open(b, e, piece);
}

static bool is_long_piece(const rn_tree_element *e)
{
	return e->element == RN_ELEMENT_PIECE && rn_tree_child(e, RN_ELEMENT_PIECE_END, 1) != NULL;
}

/* A piece hung at butt and tip: a bar between two nodes. */
static rn_status add_long_piece(builder *b, rn_tree_element *e)
{
	if (!is_long_piece(e))
		return RN_OK;
	rn_prop bar = {.place = place_of(e),
	               .id = rn_tree_value(e, "id"),
	               .from = rn_tree_child(e, RN_ELEMENT_PIECE_END, 1)->index,
	               .to = rn_tree_child(e, RN_ELEMENT_PIECE_END, 2)->index,
	               .is_piece = true};
	RN_TRY(rn_model_add_prop(b->model, &bar, &e->index));
	rn_object object = rn_object_of(RN_PROP, e->index);
	RN_TRY(set_numbers(b, e, object));
	return add_timber(b, e, object);
}

static rn_status add_node(builder *b, rn_tree_element *e)
{
	if (is_long_piece(e))
		return add_piece_ends(b, e);
	rn_node node = {
		.place = place_of(e),
		.id = rn_tree_value(e, "id"),
		.kind = (rn_node_kind)(e->element - RN_ELEMENT_ANCHOR),
		.gear = target_of(e, "gear"),
		.connector = target_of(e, "connector"),
		.stem = target_of(e, "on"),
		.bark = (rn_bark)choice_of(e, "side", rn_tree_value(e, "on") ? RN_BARK_UNSAID : RN_BARK_AXIS),
		.sling = RN_NONE,
	};
	RN_TRY(rn_model_add_node(b->model, &node, &e->index));
	rn_object object = rn_object_of(RN_NODE, e->index);
	RN_TRY(set_place_error(b, e, object));
	RN_TRY(set_numbers(b, e, object));
	return e->element == RN_ELEMENT_PIECE ? add_timber(b, e, object) : RN_OK;
}

/* ---- slings -------------------------------------------------------------------------------- */

static rn_status add_leg(builder *b, const rn_tree_element *sling, rn_tree_element *e, int from)
{
	rn_leg leg = {.place = place_of(e),
	              .sling = sling->index,
	              .from = from,
	              .to = target_of(e, "to"),
	              .connector = e == sling ? RN_NONE : target_of(e, "connector")};
	int index;
	RN_TRY(rn_model_add_leg(b->model, &leg, &index));
	return set_numbers(b, e, rn_object_of(RN_LEG, index));
}

/* "pair.left"; with two ends on one side the second is "pair.left2". Names in files hold no point,
 * so nothing else is called that. */
static rn_status name_hitch(const rn_tree_element *sling, const rn_tree_element *e, rn_bark bark,
			    rn_buffer *name)
{
	static const char *const sides[] = {"axis", "left", "right"};
	rn_buffer_format(name, "%s.%s", rn_tree_value(sling, "id"), sides[bark]);
	const rn_tree_element *first = sling->first_child;
	if (e != first && choice_of(first, "side", RN_BARK_AXIS) == (int)bark)
		rn_buffer_char(name, '2');
	return rn_buffer_status(name);
}

/* Where an end of a sling round a stem comes off the bark there is an anchor nobody wrote. */
static rn_status add_hitch_named(builder *b, const rn_tree_element *sling, rn_tree_element *e,
				 rn_buffer *name, int *node_out)
{
	rn_bark bark = (rn_bark)choice_of(e, "side", RN_BARK_AXIS);
	RN_TRY(name_hitch(sling, e, bark, name));
	rn_node node = {
		.place = place_of(e),
		.id = name->bytes,
		.kind = RN_NODE_ANCHOR,
		.gear = RN_NONE,
		.connector = RN_NONE,
		.stem = target_of(sling, "on"),
		.bark = bark,
		.sling = sling->index,
	};
	RN_TRY(rn_model_add_node(b->model, &node, node_out));
	return set_number(b, sling, rn_tree_attribute_named(sling, "height"),
	                  rn_object_of(RN_NODE, *node_out), RN_ATTRIBUTE_HEIGHT);
}

static rn_status add_end(builder *b, const rn_tree_element *sling, rn_tree_element *e)
{
	rn_buffer name = rn_buffer_make(&b->findings->pool->allocator);
	int node = RN_NONE;
	rn_status status = add_hitch_named(b, sling, e, &name, &node);
	rn_buffer_release(&name);
	RN_TRY(status);
	return add_leg(b, sling, e, node);
}

static rn_status add_sling(builder *b, rn_tree_element *e)
{
	rn_sling sling = {.place = place_of(e),
	                  .id = rn_tree_value(e, "id"),
	                  .gear = target_of(e, "gear"),
	                  .connector = target_of(e, "connector"),
	                  .hitch = rn_tree_value(e, "hitch"),
	                  .wet = choice_of(e, "wet", 0) == 1,
	                  .worn = choice_of(e, "worn", 0) == 1,
	                  .knot = rn_tree_value(e, "knot")};
	RN_TRY(rn_model_add_sling(b->model, &sling, &e->index));
	RN_TRY(set_numbers(b, e, rn_object_of(RN_SLING, e->index)));
	if (!e->first_child)
		return add_leg(b, e, e, target_of(e, "from"));
	for (rn_tree_element *child = e->first_child; child; child = child->next)
		RN_TRY(add_end(b, e, child));
	return RN_OK;
}

/* ---- lines --------------------------------------------------------------------------------- */

static rn_status add_station(builder *b, rn_tree_element *e)
{
	static const int turns[] = {0, 1, -1}; /* as drawn, left, right */
	rn_station station = {
		.place = place_of(e),
		.line = e->parent->index,
		.node = target_of(e, "at"),
		.kind = (rn_station_kind)(e->element - RN_ELEMENT_TIE),
		.side = turns[1 + choice_of(e, "side", -1)],
		.connector = target_of(e, "connector"),
		.knot = rn_tree_value(e, "knot"),
	};
	RN_TRY(rn_model_add_station(b->model, &station, &e->index));
	return set_numbers(b, e, rn_object_of(RN_STATION, e->index));
}

static rn_status add_line(builder *b, rn_tree_element *e)
{
	rn_line line = {.place = place_of(e),
	                .id = rn_tree_value(e, "id"),
	                .gear = target_of(e, "gear"),
	                .wet = choice_of(e, "wet", 0) == 1,
	                .worn = choice_of(e, "worn", 0) == 1};
	RN_TRY(rn_model_add_line(b->model, &line, &e->index));
	RN_TRY(set_numbers(b, e, rn_object_of(RN_LINE, e->index)));
	for (rn_tree_element *child = e->first_child; child; child = child->next)
		RN_TRY(add_station(b, child));
	return RN_OK;
}

/* ---- props --------------------------------------------------------------------------------- */

static rn_status add_prop(builder *b, rn_tree_element *e)
{
	rn_prop prop = {.place = place_of(e),
	                .id = rn_tree_value(e, "id"),
	                .species = rn_tree_value(e, "species"),
	                .from = target_of(e, "from"),
	                .to = target_of(e, "to")};
	RN_TRY(rn_model_add_prop(b->model, &prop, &e->index));
	return set_numbers(b, e, rn_object_of(RN_PROP, e->index));
}

/* ---- cases --------------------------------------------------------------------------------- */

static rn_status add_run(builder *b, const rn_tree_element *e)
{
	const rn_tree_element *station = rn_tree_attribute_named(e, "toward")->target;
	const rn_tree_element *line = rn_tree_attribute_named(e, "line")->target;
	rn_run run = {.line = line->index,
	              .toward_last = station == line->last_child,
	              .at = target_of(e, "at")};
	return rn_model_add_run(b->model, e->parent->index, &run);
}

static rn_status add_force(builder *b, rn_tree_element *e)
{
	rn_force force = {.place = place_of(e),
	                  .case_index = e->parent->index,
	                  .node = target_of(e, "at")};
	RN_TRY(rn_model_add_force(b->model, &force, &e->index));
	return set_numbers(b, e, rn_object_of(RN_FORCE, e->index));
}

/* The whole of a piece, hung at one place or at both ends. */
static rn_object piece_of(const rn_tree_element *e, const char *name)
{
	const rn_tree_element *piece = rn_tree_attribute_named(e, name)->target;
	return rn_object_of(is_long_piece(piece) ? RN_PROP : RN_NODE, piece->index);
}

static rn_status add_fall(builder *b, rn_tree_element *e)
{
	rn_fall fall = {.place = place_of(e),
	                .case_index = e->parent->index,
	                .piece = piece_of(e, "of"),
	                .line = target_of(e, "line"),
	                .guided = rn_tree_value(e, "guide") != NULL};
	RN_TRY(rn_model_add_fall(b->model, &fall, &e->index));
	return set_numbers(b, e, rn_object_of(RN_FALL, e->index));
}

static void tell_no_number(builder *b, const rn_tree_element *e, const rn_tree_attribute *a,
			   const char *of)
{
	rn_buffer *text = rn_check_begin(b->findings, e, a);
	const rn_tree_element *target = rn_tree_attribute_named(e, "of")->target;
	bool given = rn_tree_attribute_named(target, a->name) != NULL;
	if (given)
		rn_buffer_format(text, "the %s of %s cannot be replaced in a case", a->name, of);
	else
		rn_buffer_format(text, "%s has no %s to replace: write one at the <%s> in ", of,
		                 a->name, target->name);
	if (!given)
		rn_names_tell_place(b->findings, target, e->file);
	rn_findings_end(b->findings);
}

/* The model looks a number up by its full name. */
static rn_status add_setting(builder *b, const rn_tree_element *e, const rn_tree_attribute *a,
			     rn_buffer *name)
{
	const char *of = rn_tree_value(e, "of");
	name->size = 0;
	rn_buffer_format(name, "%s.%s", of, a->name);
	RN_TRY(rn_buffer_status(name));
	rn_setting setting = {.number = rn_model_number_by_name(b->model, name->bytes),
	                      .value = a->amount};
	if (setting.number == RN_NONE) {
		tell_no_number(b, e, a, of);
		return RN_OK;
	}
	return rn_model_add_setting(b->model, e->parent->index, &setting);
}

static rn_status add_set(builder *b, const rn_tree_element *e)
{
	rn_buffer name = rn_buffer_make(&b->findings->pool->allocator);
	rn_status status = RN_OK;
	for (size_t i = 0; i < e->attribute_count && status == RN_OK; i++)
		if (e->attributes[i].row->kind == RN_VALUE_SETTING)
			status = add_setting(b, e, &e->attributes[i], &name);
	rn_buffer_release(&name);
	return status;
}

/* A run at one node is an exception from one of the whole line: the model takes the first that
 * fits, so exceptions go first. */
static rn_status add_runs(builder *b, const rn_tree_element *e, bool at_one_node)
{
	for (const rn_tree_element *child = e->first_child; child; child = child->next)
		if (child->element == RN_ELEMENT_RUN &&
		    (rn_tree_attribute_named(child, "at") != NULL) == at_one_node)
			RN_TRY(add_run(b, child));
	return RN_OK;
}

static rn_status add_case(builder *b, rn_tree_element *e)
{
	rn_case added = {
		.place = place_of(e),
		.id = rn_tree_value(e, "id"),
		.title = rn_tree_value(e, "title"),
		.level = (rn_level)(RN_FRICTION_LOW + choice_of(e, "friction", 1)),
		.after = rn_tree_value(e, "after"),
	};
	RN_TRY(rn_model_add_case(b->model, &added, &e->index));
	RN_TRY(add_runs(b, e, true));
	RN_TRY(add_runs(b, e, false));
	for (rn_tree_element *child = e->first_child; child; child = child->next) {
		if (child->element == RN_ELEMENT_FORCE)
			RN_TRY(add_force(b, child));
		if (child->element == RN_ELEMENT_SET)
			RN_TRY(add_set(b, child));
		if (child->element == RN_ELEMENT_FALL)
			RN_TRY(add_fall(b, child));
	}
	return RN_OK;
}

/* ---- the whole ----------------------------------------------------------------------------- */

typedef rn_status add_function(builder *b, rn_tree_element *e);

/* All children of one parent whose element is in `wanted`. */
static rn_status add_all(builder *b, rn_tree_element *parent, rn_elements wanted, add_function *add)
{
	for (rn_tree_element *e = parent->first_child; e; e = e->next)
		if (wanted & RN_ELEMENT_BIT(e->element))
			RN_TRY(add(b, e));
	return RN_OK;
}

static rn_status add_items(builder *b, rn_tree_element *gear)
{
	return add_all(b, gear, RN_ELEMENT_BIT(RN_ELEMENT_ITEM), add_item);
}

static rn_status set_rigging(builder *b)
{
	b->model->rigging.file = b->root->file;
	b->model->rigging.line = b->root->line;
	b->model->made_cases = true;
	b->model->drawn_under_load = choice_of(b->root, "drawn", 0) == 1;
	for (const rn_tree_element *e = b->root->first_child; e; e = e->next)
		if (e->element == RN_ELEMENT_CASES)
			b->model->made_cases = false;
	const char *title = rn_tree_value(b->root, "title");
	if (title)
		RN_TRY(rn_model_set_title(b->model, title));
	return set_numbers(b, b->root, rn_object_of(RN_RIGGING, 0));
}

rn_status rn_build_model(rn_model *model, rn_findings *findings, rn_tree_element *const *roots,
			 int root_count)
{
	static const struct {
		rn_element first, last;
		add_function *add;
	} kinds[] = {
		{RN_ELEMENT_GEAR, RN_ELEMENT_GEAR, add_items},
		{RN_ELEMENT_STEM, RN_ELEMENT_STEM, add_stem_with_parents},
		{RN_ELEMENT_ANCHOR, RN_ELEMENT_PIECE, add_node},
		{RN_ELEMENT_SLING, RN_ELEMENT_SLING, add_sling},
		{RN_ELEMENT_LINE, RN_ELEMENT_LINE, add_line},
		{RN_ELEMENT_PROP, RN_ELEMENT_PROP, add_prop},
		{RN_ELEMENT_PIECE, RN_ELEMENT_PIECE, add_long_piece},
		{RN_ELEMENT_CASE, RN_ELEMENT_CASE, add_case},
	};
	builder b = {model, findings, roots[0]};
	RN_TRY(set_rigging(&b));
	for (int i = 1; i < root_count; i++)
		RN_TRY(add_items(&b, roots[i]));
	for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
		/* the bits from `first` to `last` */
		rn_elements wanted =
			RN_ELEMENT_BIT(kinds[k].last + 1) - RN_ELEMENT_BIT(kinds[k].first);
		RN_TRY(add_all(&b, b.root, wanted, kinds[k].add));
	}
	return rn_findings_status(findings);
}
