/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/collect.h"

#include <string.h>

typedef struct collector {
	rn_pool *pool;
	rn_input *items;
	size_t count, capacity;
	rn_buffer text; /* scratch */
} collector;

/* ---- seen once from end to end ---------------------------------------------------------------------- */

static void count_children(rn_tree_element *parent)
{
	int counts[RN_ELEMENT_COUNT + 1] = {0};
	for (rn_tree_element *child = parent->first_child; child; child = child->next)
		child->ordinal = ++counts[child->element];
}

static void mark_named(rn_tree_element *e)
{
	for (size_t i = 0; i < e->attribute_count; i++)
		if (e->attributes[i].target)
			e->attributes[i].target->is_named = true;
}

/* ---- what an element is called ------------------------------------------------------------------------ */

static void add_name(rn_buffer *text, const rn_tree_element *e)
{
	const char *id = rn_tree_value(e, "id");
	if (id || !e->parent) {
		rn_buffer_format(text, id ? "%s %s" : "%s", e->name, id);
		return;
	}
	if (e->parent->parent) {
		add_name(text, e->parent);
		rn_buffer_text(text, ", ");
	}
	bool several = rn_table_element(e->element)->most != 1;
	rn_buffer_format(text, several ? "%s %d" : "%s", e->name, e->ordinal);
}

static const char *owner_of(collector *c, const rn_tree_element *e)
{
	c->text.size = 0;
	add_name(&c->text, e);
	c->pool->failed |= c->text.failed;
	return rn_pool_copy_text(c->pool, c->text.bytes ? c->text.bytes : "");
}

/* What belongs to an item is used as it is. */
static bool is_used(const rn_tree_element *e)
{
	while (e && e->element != RN_ELEMENT_ITEM)
		e = e->parent;
	return !e || e->is_named;
}

/* ---- attributes ---------------------------------------------------------------------------------------- */

static bool is_number(const rn_attribute_row *row)
{
	switch (row->kind) {
	case RN_VALUE_NUMBER:
	case RN_VALUE_RANGE:
	case RN_VALUE_DIRECTION:
	case RN_VALUE_LEAN:
	case RN_VALUE_SETTING: return true;
	default: return false;
	}
}

static void add_attributes(collector *c, const rn_tree_element *e)
{
	const char *owner = owner_of(c, e);
	bool used = is_used(e);
	for (size_t i = 0; i < e->attribute_count; i++) {
		const rn_tree_attribute *a = &e->attributes[i];
		if (!a->row || a->row->kind == RN_VALUE_ID)
			continue;
		rn_input *grown = rn_pool_grow(c->pool, c->items, c->count, &c->capacity, sizeof *grown);
		if (!grown)
			return;
		c->items = grown;
		c->items[c->count++] = (rn_input){.file = e->file, .line = a->line, .owner = owner, .attribute = a->name,
		                                  .value = a->value, .is_number = is_number(a->row),
		                                  .measure = a->row->measure, .amount = a->range, .is_used = used};
	}
}

rn_status rn_inputs_collect(rn_pool *pool, rn_tree_element *const *roots, int root_count, rn_inputs *inputs_out)
{
	collector c = {.pool = pool, .text = rn_buffer_make(&pool->allocator)};
	for (int i = 0; i < root_count; i++)
		for (rn_tree_element *e = roots[i]; e; e = rn_tree_following(e)) {
			count_children(e);
			mark_named(e);
		}
	for (int i = 0; i < root_count; i++)
		for (const rn_tree_element *e = roots[i]; e; e = rn_tree_following(e))
			if (e->element != RN_ELEMENT_NOTE)
				add_attributes(&c, e);
	rn_buffer_release(&c.text);
	*inputs_out = (rn_inputs){c.items, (int)c.count};
	return pool->failed ? RN_STATUS_MEMORY : RN_OK;
}
