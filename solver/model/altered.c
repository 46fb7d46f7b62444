/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A model told again with other numbers. The check of a model adds to it (sides of bends, guesses, cases), and all of
 * that follows from its numbers: so what was told is kept as it was, and copied from there.
 */
#include <string.h>

#include "solver/model/memory.h"

#define ARRAYS(X)                                                                                                    \
	X(number, numbers) X(item, items) X(stem, stems) X(section, sections) X(node, nodes) X(sling, slings)             \
	X(leg, legs) X(line, lines) X(station, stations) X(prop, props) X(stretch, stretches) X(bend, bends)              \
	X(timber, timbers) X(cut, cuts) X(case, cases) X(run, runs) X(force, forces) X(fall, falls) X(setting, settings)

/* Arrays of its own in place of those it shares. */
static rn_status copy_arrays(rn_arena *arena, rn_model *model)
{
	void *array;
#define X(noun, plural)                                                                                              \
	array = model->plural;                                                                                       \
	RN_TRY(rn_arena_copy_array(arena, &array, model->noun##_count, sizeof *model->plural));                      \
	model->plural = array;
	ARRAYS(X)
#undef X
	return RN_OK;
}

rn_status rn_model_keep_told(rn_model *model)
{
	model->memory->told = *model;
	return copy_arrays(&model->memory->arena, &model->memory->told);
}

/* The copy owns its arrays, with no room left in them. */
static rn_status tell_again(const rn_model *told, rn_model *again)
{
	rn_model_memory *memory = again->memory;
	*again = *told;
	again->memory = memory;
	RN_TRY(copy_arrays(&memory->arena, again));
#define X(noun, plural) memory->noun##_room = again->noun##_count;
	ARRAYS(X)
#undef X
	return RN_OK;
}

static rn_status give(rn_model *again, const rn_number *like, rn_object object, double value)
{
	rn_number number = *like;
	number.object = object;
	number.value = number.low = number.high = value;
	number.origin = RN_GIVEN;
	return rn_model_set_number(again, &number);
}

/* One height stands in the file for all ends of a sling round a stem. */
static rn_status give_heights(rn_model *again, const rn_number *like, double value)
{
	int sling = again->nodes[like->object.index].sling;
	for (int i = 0; i < again->node_count; i++)
		if (again->nodes[i].sling == sling)
			RN_TRY(give(again, like, rn_object_of(RN_NODE, i), value));
	return RN_OK;
}

static bool is_of_hitch(const rn_model *model, const rn_number *n)
{
	return n->object.kind == RN_NODE && n->attribute == RN_ATTRIBUTE_HEIGHT &&
	       model->nodes[n->object.index].sling != RN_NONE;
}

/* What a case sets goes before what the model has: there the change is one of what it sets. */
static void set_in_case(rn_model *again, const rn_setting *change, const char *id)
{
	for (int c = 0; c < again->case_count; c++)
		for (int k = 0; strcmp(again->cases[c].id, id) == 0 && k < again->cases[c].setting_count; k++) {
			rn_setting *setting = &again->settings[again->cases[c].first_setting + k];
			if (setting->number == change->number)
				setting->value = change->value;
		}
}

static rn_status alter(const rn_model *model, const rn_setting *changes, int count, const char *also_in, rn_model *again)
{
	RN_TRY(tell_again(&model->memory->told, again));
	for (int i = 0; i < count; i++) {
		if (changes[i].number < 0 || changes[i].number >= model->number_count)
			return RN_STATUS_ARGUMENT;
		const rn_number *n = &model->numbers[changes[i].number];
		RN_TRY(is_of_hitch(model, n) ? give_heights(again, n, changes[i].value)
		                             : give(again, n, n->object, changes[i].value));
		if (also_in)
			set_in_case(again, &changes[i], also_in);
	}
	return RN_OK;
}

rn_status rn_model_altered(const rn_model *model, const rn_setting *changes, int change_count, const char *also_in,
                           rn_model **altered_out)
{
	rn_model *again;
	if (!model->memory->checked)
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_model_create(&model->memory->allocator, &again));
	rn_status status = alter(model, changes, change_count, also_in, again);
	if (status == RN_OK)
		*altered_out = again;
	else
		rn_model_destroy(again);
	return status;
}

int rn_altered_number(const rn_model *model, const char *name)
{
	static const char height[] = ".height";
	int number = rn_model_number_by_name(model, name);
	size_t size = strlen(name);
	if (number != RN_NONE || size < sizeof height || strcmp(name + size - (sizeof height - 1), height) != 0)
		return number;
	for (int i = 0; i < model->node_count; i++) {
		int sling = model->nodes[i].sling;
		const char *id = sling == RN_NONE ? "" : model->slings[sling].id;
		if (strlen(id) == size - (sizeof height - 1) && memcmp(id, name, strlen(id)) == 0)
			return rn_model_find_number(model, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_HEIGHT);
	}
	return RN_NONE;
}
