/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Building a model: growing arrays in one arena, strings copied, numbers chained per object.
 */
#include "solver/model/memory.h"

#include <string.h>

/* Far above any real job; keeps every index an int and every product of sizes small. */
enum { OBJECTS_MOST = 1 << 20 };

rn_status rn_model_create(const rn_allocator *allocator, rn_model **model_out)
{
	rn_arena arena = rn_arena_make(allocator);
	rn_model *model = rn_arena_take(&arena, 1, sizeof *model);
	rn_model_memory *memory = rn_arena_take(&arena, 1, sizeof *memory);
	if (!model || !memory) {
		rn_arena_release(&arena);
		return RN_STATUS_MEMORY;
	}
	memory->arena = arena;
	memory->allocator = *allocator;
	model->memory = memory;
	model->made_cases = true;
	model->rigging.first_number = RN_NONE;
	*model_out = model;
	return RN_OK;
}

void rn_model_destroy(rn_model *model)
{
	if (!model)
		return;
	rn_arena arena = model->memory->arena; /* the arena holds the model itself */
	rn_arena_release(&arena);
}

rn_status rn_model_set_files(rn_model *model, const char *const *names, int count)
{
	const char **files;
	RN_TAKE(&model->memory->arena, files, count + 1);
	for (int i = 0; i < count; i++)
		RN_TRY(rn_arena_copy_text(&model->memory->arena, names[i], &files[i]));
	model->files = files;
	model->file_count = count;
	return RN_OK;
}

static rn_status room(rn_model *model, void **array, int count, int *capacity, size_t size)
{
	if (count >= OBJECTS_MOST)
		return RN_STATUS_LIMIT;
	return rn_arena_grow(&model->memory->arena, array, count, capacity, size);
}

static rn_status copy(rn_model *model, const char **text)
{
	return rn_arena_copy_text(&model->memory->arena, *text, text);
}

/* Appends *definition to the array `plural` of the model; `slot` is the new element. */
#define APPEND(noun, plural)                                                                       \
	void *array_ = model->plural;                                                              \
	RN_TRY(room(model, &array_, model->noun##_count, &model->memory->noun##_room,              \
	            sizeof *model->plural));                                                       \
	model->plural = array_;                                                                    \
	model->plural[model->noun##_count] = *definition;                                          \
	if (index_out)                                                                             \
		*index_out = model->noun##_count;                                                  \
	model->plural[model->noun##_count].place.first_number = RN_NONE

rn_status rn_model_set_title(rn_model *model, const char *title)
{
	RN_TRY(copy(model, &title));
	model->title = title;
	return RN_OK;
}

/* Parts follow what they are parts of. */
static bool is_last(int index, int count)
{
	return count > 0 && index == count - 1;
}

rn_status rn_model_add_item(rn_model *model, const rn_item *definition, int *index_out)
{
	APPEND(item, items);
	rn_item *item = &model->items[model->item_count];
	item->first_stretch = model->stretch_count;
	item->stretch_count = 0;
	item->first_bend = model->bend_count;
	item->bend_count = 0;
	RN_TRY(copy(model, &item->id));
	RN_TRY(copy(model, &item->serial));
	RN_TRY(copy(model, &item->checked_on));
	model->item_count++;
	return RN_OK;
}

rn_status rn_model_add_stem(rn_model *model, const rn_stem *definition, int *index_out)
{
	if (definition->on >= model->stem_count)
		return RN_STATUS_ARGUMENT; /* a branch comes after what it grows from */
	APPEND(stem, stems);
	rn_stem *stem = &model->stems[model->stem_count];
	stem->first_section = model->section_count;
	stem->section_count = 0;
	RN_TRY(copy(model, &stem->id));
	RN_TRY(copy(model, &stem->species));
	RN_TRY(copy(model, &stem->strength_like));
	model->stem_count++;
	return RN_OK;
}

rn_status rn_model_add_section(rn_model *model, const rn_section *definition, int *index_out)
{
	if (!is_last(definition->stem, model->stem_count))
		return RN_STATUS_ARGUMENT; /* a stem's sections stand together */
	APPEND(section, sections);
	model->section_count++;
	model->stems[definition->stem].section_count++;
	return RN_OK;
}

rn_status rn_model_add_node(rn_model *model, const rn_node *definition, int *index_out)
{
	APPEND(node, nodes);
	RN_TRY(copy(model, &model->nodes[model->node_count].id));
	model->node_count++;
	return RN_OK;
}

rn_status rn_model_add_sling(rn_model *model, const rn_sling *definition, int *index_out)
{
	APPEND(sling, slings);
	rn_sling *sling = &model->slings[model->sling_count];
	sling->first_leg = model->leg_count;
	sling->leg_count = 0;
	RN_TRY(copy(model, &sling->id));
	RN_TRY(copy(model, &sling->hitch));
	RN_TRY(copy(model, &sling->knot));
	model->sling_count++;
	return RN_OK;
}

rn_status rn_model_add_leg(rn_model *model, const rn_leg *definition, int *index_out)
{
	if (!is_last(definition->sling, model->sling_count))
		return RN_STATUS_ARGUMENT;
	APPEND(leg, legs);
	model->leg_count++;
	model->slings[definition->sling].leg_count++;
	return RN_OK;
}

rn_status rn_model_add_line(rn_model *model, const rn_line *definition, int *index_out)
{
	APPEND(line, lines);
	rn_line *line = &model->lines[model->line_count];
	line->first_station = model->station_count;
	line->station_count = 0;
	RN_TRY(copy(model, &line->id));
	model->line_count++;
	return RN_OK;
}

rn_status rn_model_add_station(rn_model *model, const rn_station *definition, int *index_out)
{
	if (!is_last(definition->line, model->line_count))
		return RN_STATUS_ARGUMENT;
	APPEND(station, stations);
	RN_TRY(copy(model, &model->stations[model->station_count].knot));
	model->station_count++;
	model->lines[definition->line].station_count++;
	return RN_OK;
}

rn_status rn_model_add_stretch(rn_model *model, const rn_stretch *definition, int *index_out)
{
	if (!is_last(definition->item, model->item_count))
		return RN_STATUS_ARGUMENT;
	APPEND(stretch, stretches);
	model->stretch_count++;
	model->items[definition->item].stretch_count++;
	return RN_OK;
}

rn_status rn_model_add_bend(rn_model *model, const rn_bend *definition, int *index_out)
{
	if (!is_last(definition->item, model->item_count))
		return RN_STATUS_ARGUMENT;
	APPEND(bend, bends);
	model->bend_count++;
	model->items[definition->item].bend_count++;
	return RN_OK;
}

rn_status rn_model_add_timber(rn_model *model, const rn_timber *definition, int *index_out)
{
	APPEND(timber, timbers);
	rn_timber *timber = &model->timbers[model->timber_count];
	timber->first_cut = model->cut_count;
	timber->cut_count = 0;
	RN_TRY(copy(model, &timber->species));
	model->timber_count++;
	return RN_OK;
}

rn_status rn_model_add_cut(rn_model *model, const rn_cut *definition, int *index_out)
{
	if (!is_last(definition->timber, model->timber_count))
		return RN_STATUS_ARGUMENT;
	APPEND(cut, cuts);
	model->cut_count++;
	model->timbers[definition->timber].cut_count++;
	return RN_OK;
}

rn_status rn_model_add_prop(rn_model *model, const rn_prop *definition, int *index_out)
{
	APPEND(prop, props);
	rn_prop *prop = &model->props[model->prop_count];
	RN_TRY(copy(model, &prop->id));
	RN_TRY(copy(model, &prop->species));
	model->prop_count++;
	return RN_OK;
}

rn_status rn_model_add_case(rn_model *model, const rn_case *definition, int *index_out)
{
	APPEND(case, cases);
	rn_case *added = &model->cases[model->case_count];
	added->first_run = model->run_count;
	added->first_force = model->force_count;
	added->first_setting = model->setting_count;
	added->run_count = added->force_count = added->setting_count = 0;
	RN_TRY(copy(model, &added->id));
	RN_TRY(copy(model, &added->title));
	RN_TRY(copy(model, &added->after));
	added->follows = added->fall = RN_NONE;
	model->case_count++;
	return RN_OK;
}

rn_status rn_model_add_force(rn_model *model, const rn_force *definition, int *index_out)
{
	if (!is_last(definition->case_index, model->case_count))
		return RN_STATUS_ARGUMENT;
	APPEND(force, forces);
	model->force_count++;
	model->cases[definition->case_index].force_count++;
	return RN_OK;
}

rn_status rn_model_add_fall(rn_model *model, const rn_fall *definition, int *index_out)
{
	if (!is_last(definition->case_index, model->case_count) || model->cases[definition->case_index].fall != RN_NONE)
		return RN_STATUS_ARGUMENT;
	APPEND(fall, falls);
	model->cases[definition->case_index].fall = model->fall_count++;
	return RN_OK;
}

rn_status rn_model_add_run(rn_model *model, int case_index, const rn_run *definition)
{
	if (!is_last(case_index, model->case_count))
		return RN_STATUS_ARGUMENT;
	void *array = model->runs;
	RN_TRY(room(model, &array, model->run_count, &model->memory->run_room, sizeof *model->runs));
	model->runs = array;
	model->runs[model->run_count++] = *definition;
	model->cases[case_index].run_count++;
	return RN_OK;
}

rn_status rn_model_add_setting(rn_model *model, int case_index, const rn_setting *definition)
{
	if (!is_last(case_index, model->case_count))
		return RN_STATUS_ARGUMENT;
	void *array = model->settings;
	RN_TRY(room(model, &array, model->setting_count, &model->memory->setting_room,
	            sizeof *model->settings));
	model->settings = array;
	model->settings[model->setting_count++] = *definition;
	model->cases[case_index].setting_count++;
	return RN_OK;
}

bool rn_item_is_used(const rn_model *m, int item)
{
	for (int i = 0; i < m->node_count; i++)
		if (m->nodes[i].gear == item || m->nodes[i].connector == item)
			return true;
	for (int i = 0; i < m->sling_count; i++)
		if (m->slings[i].gear == item || m->slings[i].connector == item)
			return true;
	for (int i = 0; i < m->leg_count; i++)
		if (m->legs[i].connector == item)
			return true;
	for (int i = 0; i < m->line_count; i++)
		if (m->lines[i].gear == item)
			return true;
	for (int i = 0; i < m->station_count; i++)
		if (m->stations[i].connector == item)
			return true;
	return false;
}
