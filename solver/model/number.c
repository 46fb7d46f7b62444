/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The flat array of numbers: every physical quantity of a model lives here and nowhere else, so
 * that a case, a sweep or a sensitivity can replace any of them by its index.
 */
#include "solver/model/memory.h"

#include <string.h>

rn_object rn_object_of(rn_object_kind kind, int index)
{
	return (rn_object){kind, index};
}

static rn_place *place_of(const rn_model *model, rn_object object)
{
	switch (object.kind) {
	case RN_RIGGING: return (rn_place *)&model->rigging;
	case RN_ITEM: return &model->items[object.index].place;
	case RN_STEM: return &model->stems[object.index].place;
	case RN_SECTION: return &model->sections[object.index].place;
	case RN_NODE: return &model->nodes[object.index].place;
	case RN_SLING: return &model->slings[object.index].place;
	case RN_LEG: return &model->legs[object.index].place;
	case RN_LINE: return &model->lines[object.index].place;
	case RN_STATION: return &model->stations[object.index].place;
	case RN_PROP: return &model->props[object.index].place;
	case RN_STRETCH: return &model->stretches[object.index].place;
	case RN_BEND: return &model->bends[object.index].place;
	case RN_CUT: return &model->cuts[object.index].place;
	case RN_CASE: return &model->cases[object.index].place;
	case RN_FORCE: return &model->forces[object.index].place;
	case RN_FALL: return &model->falls[object.index].place;
	case RN_OBJECT_KIND_COUNT: break;
	}
	return NULL;
}

int rn_model_find_number(const rn_model *model, rn_object object, rn_attribute attribute)
{
	if (object.index == RN_NONE)
		return RN_NONE;
	int i = place_of(model, object)->first_number;
	while (i != RN_NONE && model->numbers[i].attribute != attribute)
		i = model->numbers[i].next;
	return i;
}

bool rn_model_has(const rn_model *model, rn_object object, rn_attribute attribute)
{
	return rn_model_find_number(model, object, attribute) != RN_NONE;
}

double rn_model_value(const rn_model *model, const double *values, rn_object object,
                      rn_attribute attribute, double absent)
{
	int i = rn_model_find_number(model, object, attribute);
	return i == RN_NONE ? absent : values[i];
}

rn_status rn_model_set_number(rn_model *model, const rn_number *number)
{
	rn_place *place = place_of(model, number->object);
	if (!place || number->object.index == RN_NONE)
		return RN_STATUS_ARGUMENT;
	int i = rn_model_find_number(model, number->object, number->attribute);
	if (i != RN_NONE) {
		int next = model->numbers[i].next;
		model->numbers[i] = *number;
		model->numbers[i].next = next;
		return RN_OK;
	}
	void *array = model->numbers;
	RN_TRY(rn_arena_grow(&model->memory->arena, &array, model->number_count,
	                     &model->memory->number_room, sizeof *model->numbers));
	model->numbers = array;
	model->numbers[model->number_count] = *number;
	model->numbers[model->number_count].next = place->first_number;
	place->first_number = model->number_count++;
	return RN_OK;
}

rn_status rn_model_guess(rn_model *model, rn_object object, rn_attribute attribute, double value,
                         double low, double high, rn_origin origin)
{
	const rn_place *place = place_of(model, object);
	rn_number number = {.value = value,
	                    .low = low,
	                    .high = high,
	                    .object = object,
	                    .attribute = attribute,
	                    .origin = origin,
	                    .file = place->file,
	                    .line = place->line};
	return rn_model_set_number(model, &number);
}

/* ---- names --------------------------------------------------------------------------------- */

const char *rn_object_id(const rn_model *model, rn_object object)
{
	const char *id = NULL;
	if (object.index == RN_NONE)
		return "?";
	switch (object.kind) {
	case RN_RIGGING: return "rigging";
	case RN_ITEM: id = model->items[object.index].id; break;
	case RN_STEM: id = model->stems[object.index].id; break;
	case RN_NODE: id = model->nodes[object.index].id; break;
	case RN_SLING: id = model->slings[object.index].id; break;
	case RN_LINE: id = model->lines[object.index].id; break;
	case RN_PROP: id = model->props[object.index].id; break;
	case RN_CASE: id = model->cases[object.index].id; break;
	default: break;
	}
	return id ? id : "?";
}

static const struct {
	rn_object_kind kind;
	size_t count_offset;
} named[] = {
	{RN_ITEM, offsetof(rn_model, item_count)},   {RN_STEM, offsetof(rn_model, stem_count)},
	{RN_NODE, offsetof(rn_model, node_count)},   {RN_SLING, offsetof(rn_model, sling_count)},
	{RN_LINE, offsetof(rn_model, line_count)},   {RN_CASE, offsetof(rn_model, case_count)},
	{RN_PROP, offsetof(rn_model, prop_count)},
};

static bool same_text(const char *a, const char *text, size_t size)
{
	return strlen(a) == size && memcmp(a, text, size) == 0;
}

static rn_object object_by_name(const rn_model *model, const char *name, size_t size)
{
	if (same_text("rigging", name, size))
		return rn_object_of(RN_RIGGING, 0);
	for (size_t k = 0; k < sizeof named / sizeof *named; k++) {
		int count;
		memcpy(&count, (const char *)model + named[k].count_offset, sizeof count);
		for (int i = 0; i < count; i++) {
			rn_object object = rn_object_of(named[k].kind, i);
			if (same_text(rn_object_id(model, object), name, size))
				return object;
		}
	}
	return rn_object_of(RN_NODE, RN_NONE);
}

rn_object rn_model_object_by_id(const rn_model *model, const char *id)
{
	return object_by_name(model, id, strlen(id));
}

/* A whole number of 1 to `most`, 0 if the text is none. */
static int counted(const char *text, size_t size, int most)
{
	int number = 0;
	for (size_t i = 0; i < size; i++) {
		if (text[i] < '0' || text[i] > '9' || number > most)
			return 0;
		number = 10 * number + (text[i] - '0');
	}
	return number <= most && text[0] != '0' ? number : 0;
}

/* "section2" of a stem, "r1" of a line that comes to r1. */
static rn_object member_by_name(const rn_model *model, rn_object owner, const char *name, size_t size)
{
	static const char section[] = "section";
	const size_t prefix = sizeof section - 1;
	static const char cut[] = "cut";
	for (int i = 0; i < model->timber_count && size > 3 && memcmp(name, cut, 3) == 0; i++) {
		const rn_timber *timber = &model->timbers[i];
		if (timber->piece.kind != owner.kind || timber->piece.index != owner.index)
			continue;
		int number = counted(name + 3, size - 3, timber->cut_count);
		if (number > 0)
			return rn_object_of(RN_CUT, timber->first_cut + number - 1);
	}
	if (owner.kind == RN_STEM && size > prefix && memcmp(name, section, prefix) == 0) {
		const rn_stem *stem = &model->stems[owner.index];
		int number = counted(name + prefix, size - prefix, stem->section_count);
		if (number > 0)
			return rn_object_of(RN_SECTION, stem->first_section + number - 1);
	}
	if (owner.kind == RN_SLING) {
		const rn_sling *sling = &model->slings[owner.index];
		for (int i = 0; i < sling->leg_count; i++)
			if (same_text(model->nodes[model->legs[sling->first_leg + i].to].id, name, size))
				return rn_object_of(RN_LEG, sling->first_leg + i);
	}
	if (owner.kind == RN_LINE) {
		const rn_line *line = &model->lines[owner.index];
		for (int i = 0; i < line->station_count; i++) {
			int station = line->first_station + i;
			if (same_text(model->nodes[model->stations[station].node].id, name, size))
				return rn_object_of(RN_STATION, station);
		}
	}
	return rn_object_of(RN_NODE, RN_NONE);
}

/* Numbers of a sling's legs answer to the sling's name, those of a fall to that of its case. */
static int find_with_legs(const rn_model *model, rn_object object, rn_attribute attribute)
{
	int i = rn_model_find_number(model, object, attribute);
	if (i == RN_NONE && object.kind == RN_CASE && object.index != RN_NONE)
		return rn_model_find_number(model, rn_object_of(RN_FALL, model->cases[object.index].fall), attribute);
	if (i != RN_NONE || object.kind != RN_SLING || object.index == RN_NONE)
		return i;
	/* of two legs neither is meant more than the other: they are named by what hangs on them */
	const rn_sling *sling = &model->slings[object.index];
	if (sling->leg_count != 1)
		return RN_NONE;
	return rn_model_find_number(model, rn_object_of(RN_LEG, sling->first_leg), attribute);
}

int rn_model_number_by_name(const rn_model *model, const char *name)
{
	/* ids may hold points ("pair.left"), so the attribute is what stands behind the last one */
	const char *last = strrchr(name, '.');
	if (!last)
		return RN_NONE;
	rn_object object = object_by_name(model, name, (size_t)(last - name));
	for (const char *p = name; object.index == RN_NONE && p < last; p++)
		if (*p == '.') {
			rn_object owner = object_by_name(model, name, (size_t)(p - name));
			if (owner.index != RN_NONE)
				object = member_by_name(model, owner, p + 1, (size_t)(last - p - 1));
		}
	/* one word can stand for two attributes, of ropes and of wood: an object has one of them */
	for (int k = 0; k < RN_ATTRIBUTE_COUNT; k++) {
		if (strcmp(rn_attribute_word((rn_attribute)k), last + 1) != 0)
			continue;
		int number = find_with_legs(model, object, (rn_attribute)k);
		if (number != RN_NONE)
			return number;
	}
	return RN_NONE;
}
