/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/names.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "io/xml/check.h"
#include "io/xml/near.h"

typedef struct checker {
	rn_findings *findings;
	const rn_names *names;
	double gravity;
} checker;

/* ---- ids ----------------------------------------------------------------------------------- */

static int small(char c)
{
	return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : (unsigned char)c;
}

static int compare_folded(const char *a, const char *b)
{
	while (*a && small(*a) == small(*b)) {
		a++;
		b++;
	}
	return small(*a) - small(*b);
}

static int compare_names(const void *left, const void *right)
{
	const rn_name *a = left, *b = right;
	int by_id = compare_folded(a->id, b->id);
	return by_id ? by_id : (a->order > b->order) - (a->order < b->order);
}

static const char *id_of(const rn_tree_element *e)
{
	const rn_tree_attribute *id = rn_tree_attribute_named(e, "id");
	return id && id->row ? id->value : NULL;
}

static bool add_names(rn_pool *pool, rn_names *names, size_t *capacity, rn_tree_element *root)
{
	for (rn_tree_element *e = root; e; e = rn_tree_following(e)) {
		const char *id = id_of(e);
		if (!id)
			continue;
		rn_name *grown =
			rn_pool_grow(pool, names->items, names->count, capacity, sizeof *grown);
		if (!grown)
			return false;
		names->items = grown;
		names->items[names->count] = (rn_name){e, id, names->count};
		names->count++;
	}
	return true;
}

/* "line 7", with its file when that is another one. */
void rn_names_tell_place(rn_findings *findings, const rn_tree_element *e, int from_file)
{
	rn_buffer_format(&findings->text, "line %d", e->line);
	if (e->file != from_file)
		rn_buffer_format(&findings->text, " of %s", findings->sources[e->file].name);
}

static void find_twins(rn_findings *findings, const rn_names *names)
{
	size_t first = 0;
	for (size_t i = 1; i < names->count; i++) {
		const rn_name *a = &names->items[first], *b = &names->items[i];
		if (compare_folded(a->id, b->id) != 0) {
			first = i;
			continue;
		}
		rn_buffer *text = rn_check_begin(findings, b->element,
		                                 rn_tree_attribute_named(b->element, "id"));
		if (strcmp(a->id, b->id) == 0)
			rn_buffer_format(text, "this name is taken by the <%s> in ",
			                 a->element->name);
		else
			rn_buffer_format(text, "only capitals tell it from %s in ", a->id);
		rn_names_tell_place(findings, a->element, b->element->file);
		rn_findings_end(findings);
	}
}

rn_status rn_names_collect(rn_findings *findings, rn_tree_element *const *roots, int root_count,
			   rn_names *names_out)
{
	rn_names names = {0};
	size_t capacity = 0;
	for (int i = 0; i < root_count; i++)
		if (!add_names(findings->pool, &names, &capacity, roots[i]))
			return RN_STATUS_MEMORY;
	if (names.count)
		qsort(names.items, names.count, sizeof *names.items, compare_names);
	find_twins(findings, &names);
	*names_out = names;
	return rn_findings_status(findings);
}

static int compare_with_id(const void *key, const void *item)
{
	return compare_folded(key, ((const rn_name *)item)->id);
}

/* Names that only capitals tell apart stand side by side, and the search may land on any of them. */
rn_tree_element *rn_names_find(const rn_names *names, const char *id)
{
	if (!names->count)
		return NULL;
	const rn_name *end = names->items + names->count;
	const rn_name *found = bsearch(id, names->items, names->count, sizeof *names->items, compare_with_id);
	while (found && found > names->items && compare_with_id(id, found - 1) == 0)
		found--;
	for (; found && found < end && compare_with_id(id, found) == 0; found++)
		if (strcmp(found->id, id) == 0)
			return found->element;
	return NULL;
}

/* ---- references ---------------------------------------------------------------------------- */

static bool kind_fits(const rn_tree_element *target, const char *kinds)
{
	if (!kinds)
		return true;
	return rn_table_word_index(kinds, rn_tree_value(target, "kind")) != RN_NONE;
}

/* A piece hung at both ends is no place: its ends are. */
static bool is_place(const rn_tree_element *target)
{
	return target->element != RN_ELEMENT_PIECE || !rn_tree_child(target, RN_ELEMENT_PIECE_END, 1);
}

static bool fits(const rn_tree_element *target, const rn_attribute_row *row)
{
	bool whole = row->targets == RN_ELEMENT_BIT(RN_ELEMENT_PIECE); /* nothing but a piece can be meant */
	return (whole || is_place(target)) && (row->targets & RN_ELEMENT_BIT(target->element)) && kind_fits(target, row->words);
}

static const char *article(const char *noun)
{
	return strchr("aeiou", noun[0]) ? "an" : "a";
}

/* "a <ring>, <block> or <piece>" */
static void spell_elements(rn_buffer *text, rn_elements elements)
{
	const char *between = NULL;
	for (int i = 0; i < RN_ELEMENT_COUNT; i++) {
		if (!(elements & RN_ELEMENT_BIT(i)))
			continue;
		const char *name = rn_table_element((rn_element)i)->name;
		elements &= ~RN_ELEMENT_BIT(i);
		if (between)
			rn_buffer_text(text, elements ? ", " : " or ");
		else
			rn_buffer_format(text, "%s ", article(name));
		rn_buffer_format(text, "<%s>", name);
		between = name;
	}
}

/* "an item of kind ring or block" */
static void spell_kinds(rn_buffer *text, const char *kinds)
{
	rn_buffer_text(text, "an item of kind ");
	while (*kinds) {
		size_t size = strcspn(kinds, " ");
		rn_buffer_add(text, kinds, size);
		kinds += size + (kinds[size] == ' ');
		if (*kinds)
			rn_buffer_text(text, strchr(kinds, ' ') ? ", " : " or ");
	}
}

static void spell_targets(rn_buffer *text, const rn_attribute_row *row)
{
	if (row->words)
		spell_kinds(text, row->words);
	else
		spell_elements(text, row->targets);
}

static void tell_unknown(checker *c, const rn_tree_element *e, const rn_tree_attribute *a,
			 const rn_attribute_row *row)
{
	rn_buffer *text = rn_check_begin(c->findings, e, a);
	rn_near near = rn_near_begin(a->value);
	for (size_t i = 0; rn_findings_have_room(c->findings) && i < c->names->count; i++)
		if (fits(c->names->items[i].element, row))
			rn_near_offer(&near, c->names->items[i].id);
	rn_buffer_text(text, "nothing is called that");
	if (near.best)
		rn_buffer_format(text, "; did you mean %s?", near.best);
	else {
		rn_buffer_text(text, "; it must name ");
		spell_targets(text, row);
	}
	for (const char *at = a->value; *at; at++)
		if ((unsigned char)*at > 0x7E) {
			rn_buffer_text(text, "; names are of letters a to z");
			rn_check_odd_character(text, a->value);
			break;
		}
	rn_findings_end(c->findings);
}

static void tell_unfit(checker *c, const rn_tree_element *e, const rn_tree_attribute *a,
		       const rn_attribute_row *row, const rn_tree_element *target)
{
	rn_buffer *text = rn_check_begin(c->findings, e, a);
	if (target->element == RN_ELEMENT_ITEM && row->words)
		rn_buffer_format(text, "that is an item of kind %s (",
		                 rn_tree_value(target, "kind"));
	else
		rn_buffer_format(text, "that is %s <%s> (", article(target->name), target->name);
	rn_names_tell_place(c->findings, target, e->file);
	rn_buffer_text(text, "); it must be ");
	if (is_place(target))
		spell_targets(text, row);
	else
		rn_buffer_text(text, "one of its ends, by its own name");
	rn_findings_end(c->findings);
}

static void check_reference(checker *c, const rn_tree_element *e, rn_tree_attribute *a)
{
	rn_tree_element *target = rn_names_find(c->names, a->value);
	if (!target)
		tell_unknown(c, e, a, a->row);
	else if (!fits(target, a->row))
		tell_unfit(c, e, a, a->row, target);
	else
		a->target = target;
}

/* ---- ends of a line -------------------------------------------------------------------------- */

static bool says_at(const rn_tree_element *station, const char *id)
{
	const char *at = rn_tree_value(station, "at");
	return at && strcmp(at, id) == 0;
}

static void tell_no_end(checker *c, const rn_tree_element *e, const rn_tree_attribute *a,
                        const rn_tree_element *line)
{
	const char *id = rn_tree_value(line, "id");
	const char *first = line->first_child ? rn_tree_value(line->first_child, "at") : "start";
	const char *last = line->last_child ? rn_tree_value(line->last_child, "at") : "end";
	rn_buffer *text = rn_check_begin(c->findings, e, a);
	if (strcmp(first, last) != 0)
		rn_buffer_format(text, "%s has no end there; it runs toward %s or %s", id, first,
		                 last);
	else
		rn_buffer_format(text, "both ends of %s are at %s; say start or end", id, first);
	rn_findings_end(c->findings);
}

/* The station at the end of `line` that `a` names. */
static void check_line_end(checker *c, const rn_tree_element *e, rn_tree_attribute *a)
{
	const rn_tree_attribute *named = rn_tree_attribute_named(e, "line");
	rn_tree_element *line = named ? named->target : NULL;
	if (!line)
		return; /* said already */
	rn_tree_element *first = line->first_child, *last = line->last_child;
	bool at_first = first && says_at(first, a->value),
	     at_last = last && says_at(last, a->value);
	if (at_first != at_last)
		a->target = at_first ? first : last;
	else if (!at_first && strcmp(a->value, "start") == 0)
		a->target = first;
	else if (!at_first && strcmp(a->value, "end") == 0)
		a->target = last;
	if (!a->target)
		tell_no_end(c, e, a, line);
}

/* `at` of a run names a node its line comes to. */
static void check_run_place(checker *c, const rn_tree_element *e)
{
	rn_tree_attribute *at = rn_tree_attribute_named(e, "at");
	const rn_tree_attribute *named = rn_tree_attribute_named(e, "line");
	if (!at || !at->target || !named || !named->target)
		return;
	rn_tree_element *station = named->target->first_child;
	while (station && (station->element != RN_ELEMENT_THROUGH || !says_at(station, at->value)))
		station = station->next;
	at->target = station;
	if (station)
		return;
	rn_buffer *text = rn_check_begin(c->findings, e, at);
	rn_buffer_format(text, "%s does not run through it", named->value);
	rn_findings_end(c->findings);
}

/* One line runs one way: a second run of it needs another `at`. */
static void check_run_twice(checker *c, rn_tree_element *e)
{
	const rn_tree_attribute *line = rn_tree_attribute_named(e, "line");
	const rn_tree_attribute *at = rn_tree_attribute_named(e, "at");
	rn_tree_element *about = at ? at->target : line->target;
	if (!about)
		return; /* said already */
	rn_tree_element *other = about->run;
	about->run = e;
	if (!other || other->parent != e->parent)
		return;
	rn_buffer *text = rn_check_begin(c->findings, e, line);
	rn_buffer_text(text, "this case says already which way it runs, in ");
	rn_names_tell_place(c->findings, other, e->file);
	rn_findings_end(c->findings);
}

/* ---- numbers replaced in a case ------------------------------------------------------------ */

enum { PATH_MOST = 100 };

static rn_tree_element *end_to(rn_tree_element *end, const char *id)
{
	while (end && (!rn_tree_value(end, "to") || strcmp(rn_tree_value(end, "to"), id) != 0))
		end = end->next;
	return end;
}

/* "section2" of a stem, "cut2" of a piece; NULL if the name is no such one. */
static rn_tree_element *numbered_member(const rn_tree_element *owner, const char *name)
{
	rn_element element = owner->element == RN_ELEMENT_STEM ? RN_ELEMENT_SECTION : RN_ELEMENT_CUT;
	const char *word = rn_table_element(element)->name;
	const size_t prefix = strlen(word);
	if (strncmp(name, word, prefix) != 0 || name[prefix] < '1' || name[prefix] > '9')
		return NULL;
	char *end;
	long number = strtol(name + prefix, &end, 10);
	return *end || number > INT_MAX ? NULL : rn_tree_child(owner, element, (int)number);
}

/* "section2" of a stem, "cut2" of a piece, the name of a node a line comes to or a sling's end holds;
 * NULL if there is no such member. */
static rn_tree_element *member_named(const rn_tree_element *owner, const char *name)
{
	rn_tree_element *member = owner->first_child;
	if (owner->element == RN_ELEMENT_LINE) {
		while (member && !says_at(member, name))
			member = member->next;
		return member;
	}
	if (owner->element == RN_ELEMENT_SLING)
		return end_to(member, name);
	bool numbers = owner->element == RN_ELEMENT_STEM || owner->element == RN_ELEMENT_PIECE;
	return numbers ? numbered_member(owner, name) : NULL;
}

static rn_tree_element *path_target(const checker *c, const char *path)
{
	char owner[PATH_MOST];
	const char *point = strchr(path, '.');
	if (!point)
		return rn_names_find(c->names, path);
	size_t size = (size_t)(point - path);
	if (size >= sizeof owner)
		return NULL;
	memcpy(owner, path, size);
	owner[size] = '\0';
	rn_tree_element *found = rn_names_find(c->names, owner);
	return found ? member_named(found, point + 1) : NULL;
}

static void tell_no_path(checker *c, const rn_tree_element *e, const rn_tree_attribute *of)
{
	rn_buffer *text = rn_check_begin(c->findings, e, of);
	rn_near near = rn_near_begin(of->value);
	for (size_t i = 0; rn_findings_have_room(c->findings) && i < c->names->count; i++)
		rn_near_offer(&near, c->names->items[i].id);
	rn_buffer_text(text, "nothing is called that");
	if (near.best)
		rn_buffer_format(text, "; did you mean %s?", near.best);
	else
		rn_buffer_text(text, "; a station is called line.node, a section stem.section2, a sling's end sling.node");
	rn_findings_end(c->findings);
}

/* "...; set it of ring28, its gear" when that is where the number is. */
static void tell_no_number(checker *c, const rn_tree_element *e, const rn_tree_attribute *a,
			   const rn_tree_element *target)
{
	rn_buffer *text = rn_check_begin(c->findings, e, a);
	const rn_tree_attribute *gear = rn_tree_attribute_named(target, "gear");
	rn_buffer_format(text, "%s <%s> has no %s", article(target->name), target->name, a->name);
	if (gear && gear->target && rn_table_attribute(RN_ELEMENT_ITEM, a->name))
		rn_buffer_format(text, "; set it of %s, its gear", gear->value);
	rn_findings_end(c->findings);
}

static void check_setting(checker *c, rn_tree_element *e)
{
	rn_tree_attribute *of = rn_tree_attribute_named(e, "of");
	rn_tree_element *target = path_target(c, of->value);
	of->target = target;
	if (!target) {
		tell_no_path(c, e, of);
		return;
	}
	for (size_t i = 0; i < e->attribute_count; i++) {
		rn_tree_attribute *a = &e->attributes[i];
		if (a == of)
			continue;
		const rn_attribute_row *row = rn_table_attribute(target->element, a->name);
		if (!row || row->number == RN_NONE)
			tell_no_number(c, e, a, target);
		else
			rn_check_value(c->findings, e, a, row, c->gravity);
	}
}

/* ---- the whole ----------------------------------------------------------------------------- */

static void check_element(checker *c, rn_tree_element *e)
{
	for (size_t i = 0; i < e->attribute_count; i++)
		if (e->attributes[i].row->kind == RN_VALUE_REFERENCE)
			check_reference(c, e, &e->attributes[i]);
	if (e->element == RN_ELEMENT_RUN) {
		check_line_end(c, e, rn_tree_attribute_named(e, "toward"));
		check_run_place(c, e);
		check_run_twice(c, e);
	}
	if (e->element == RN_ELEMENT_SET)
		check_setting(c, e);
}

void rn_names_check(rn_findings *findings, const rn_names *names, rn_tree_element *root,
		    double gravity)
{
	checker c = {findings, names, gravity};
	for (rn_tree_element *e = root; e; e = rn_tree_following(e))
		check_element(&c, e);
}
