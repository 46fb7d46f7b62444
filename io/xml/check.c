/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/check.h"

#include <string.h>

#include "io/base/words.h"
#include "io/xml/near.h"
#include "io/xml/picture.h"

enum { ID_MOST = 40, QUOTED_MOST = 60, GROUP_MOST = 8 };

typedef struct checker {
	rn_findings *findings;
	double gravity;
} checker;

/* ---- how findings begin ---------------------------------------------------------------------- */

/* As much of a value as can be shown in a sentence; never cut inside a character. */
static void quote(rn_buffer *text, const char *value)
{
	size_t size = strlen(value);
	if (size <= QUOTED_MOST) {
		rn_buffer_format(text, "\"%s\"", value);
		return;
	}
	size = QUOTED_MOST;
	while (size > 0 && ((unsigned char)value[size] & 0xC0) == 0x80)
		size--;
	rn_buffer_format(text, "\"%.*s...\"", (int)size, value);
}

rn_buffer *rn_check_begin(rn_findings *findings, const rn_tree_element *element,
			  const rn_tree_attribute *attribute)
{
	rn_buffer *text = rn_findings_begin(findings, element->file, attribute->line);
	rn_buffer_format(text, "<%s> %s=", element->name, attribute->name);
	quote(text, attribute->value);
	rn_buffer_text(text, ": ");
	return text;
}

/* A finding about an element as a whole, begun with its name. */
static rn_buffer *begin_element(checker *c, const rn_tree_element *e)
{
	rn_buffer *text = rn_findings_begin(c->findings, e->file, e->line);
	rn_buffer_format(text, "<%s> ", e->name);
	return text;
}

static void end(checker *c)
{
	rn_findings_end(c->findings);
}

/* "; did you mean ring?" */
static bool add_near(rn_buffer *text, const rn_near *near, const char *before, const char *behind)
{
	if (near->best)
		rn_buffer_format(text, "; did you mean %s%.*s%s?", before, rn_near_size(near),
		                 near->best, behind);
	return near->best != NULL;
}

/* ---- values -------------------------------------------------------------------------------- */

static bool refuse_value(rn_findings *findings, const rn_tree_element *e,
			 const rn_tree_attribute *a, const char *why)
{
	rn_buffer *text = rn_check_begin(findings, e, a);
	rn_buffer_text(text, why);
	rn_findings_end(findings);
	return false;
}

static bool is_id(const char *value)
{
	static const char letters[] =
		"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
	size_t size = strlen(value);
	if (size == 0 || size > ID_MOST || !strchr(letters, value[0]))
		return false;
	for (size_t i = 0; i < size; i++)
		if (!strchr(letters, value[i]) && value[i] != '-' && value[i] != '_')
			return false;
	return true;
}

void rn_check_odd_character(rn_buffer *text, const char *value)
{
	int place = 1;
	for (const char *at = value; *at; place++) {
		uint32_t code;
		size_t size = rn_words_character(at, &code);
		if (code > 0x7E) {
			rn_buffer_format(text, "; its character %d is none of them, whatever it looks like (U+%04X)", place, (unsigned)code);
			return;
		}
		at += size;
	}
}

static bool read_id(rn_findings *findings, const rn_tree_element *e, const rn_tree_attribute *a)
{
	if (!is_id(a->value)) {
		rn_buffer *text = rn_check_begin(findings, e, a);
		rn_buffer_text(text, "a name has up to 40 letters a to z, figures, - and _, and begins with a letter or figure");
		rn_check_odd_character(text, a->value);
		rn_findings_end(findings);
		return false;
	}
	if (strcmp(a->value, "rigging") == 0)
		return refuse_value(findings, e, a, "this name is kept for the whole");
	return true;
}

static bool read_word(rn_findings *findings, const rn_tree_element *e, rn_tree_attribute *a,
		      const rn_attribute_row *row)
{
	a->choice = rn_table_word_index(row->words, a->value);
	if (a->choice != RN_NONE)
		return true;
	rn_buffer *text = rn_check_begin(findings, e, a);
	rn_near near = rn_near_begin(a->value);
	rn_near_offer_list(&near, row->words);
	rn_buffer_text(text, "it must be ");
	if (strchr(row->words, ' '))
		rn_buffer_text(text, "one of ");
	rn_table_spell_words(text, row->words);
	add_near(text, &near, "", "");
	rn_findings_end(findings);
	return false;
}

/* One reader of quantity.c, by the kind of value. */
static bool read_amount(const rn_tree_element *e, const rn_tree_attribute *a,
			const rn_attribute_row *row, double gravity, rn_range *range, rn_buffer *why)
{
	bool good;
	switch (row->kind) {
	case RN_VALUE_RANGE:
		return rn_quantity_read_range(a->value, row->measure, gravity, range, why);
	case RN_VALUE_DIRECTION:
		good = rn_quantity_read_direction(a->value, &range->low, why);
		break;
	case RN_VALUE_LEAN: good = rn_quantity_read_lean(a->value, &range->low, why); break;
	default:
		good = row->measure == RN_MEASURE_LENGTH && rn_picture_is_px(a->value)
			       ? rn_picture_read(e, a, row, &range->low, why)
			       : rn_quantity_read(a->value, row->measure, gravity, &range->low, why);
	}
	range->high = range->low;
	return good;
}

/* "; did you mean 20 %?" of a number that would do as one of per cent. */
static void add_per_cent(rn_buffer *why, const char *value, const rn_attribute_row *row, const rn_range *range)
{
	bool is_part = row->demand == RN_DEMAND_SHARE || row->demand == RN_DEMAND_SHEAVE || row->demand == RN_DEMAND_PART ||
	               row->demand == RN_DEMAND_GRIPPY;
	if (is_part && !strpbrk(value, "%.") && range->high > 1 && rn_demand_met(row->demand, range->low / 100) &&
	    rn_demand_met(row->demand, range->high / 100))
		rn_buffer_format(why, "; did you mean %s %%?", value);
}

static bool read_number(rn_findings *findings, const rn_tree_element *e, rn_tree_attribute *a,
			const rn_attribute_row *row, double gravity)
{
	rn_buffer why = rn_buffer_make(&findings->pool->allocator);
	rn_range range = {0, 0};
	bool good = read_amount(e, a, row, gravity, &range, &why);
	if (good &&
	    (!rn_demand_met(row->demand, range.low) || !rn_demand_met(row->demand, range.high))) {
		rn_buffer_format(&why, "it must be %s", rn_demand_text(row->demand));
		add_per_cent(&why, a->value, row, &range);
		good = false;
	}
	double times = row->times > 0 ? row->times : 1;
	a->range = (rn_range){range.low * times, range.high * times};
	a->amount = a->range.low;
	if (!good && !why.failed)
		refuse_value(findings, e, a, why.bytes);
	findings->pool->failed |= why.failed;
	rn_buffer_release(&why);
	return good;
}

bool rn_check_value(rn_findings *findings, const rn_tree_element *element,
		    rn_tree_attribute *attribute, const rn_attribute_row *row, double gravity)
{
	switch (row->kind) {
	case RN_VALUE_ID: return read_id(findings, element, attribute);
	case RN_VALUE_WORD: return read_word(findings, element, attribute, row);
	case RN_VALUE_NUMBER:
	case RN_VALUE_RANGE:
	case RN_VALUE_DIRECTION:
	case RN_VALUE_LEAN: return read_number(findings, element, attribute, row, gravity);
	case RN_VALUE_TEXT:
	case RN_VALUE_REFERENCE:
	case RN_VALUE_LINE_END:
	case RN_VALUE_PATH:
	case RN_VALUE_SETTING: break; /* text is free; names are looked up when all are known */
	}
	return true;
}

/* ---- attributes ---------------------------------------------------------------------------- */

/* "x, y, gear, ...", or nothing if the list would be longer than a sentence. */
static void spell_attributes(rn_buffer *text, rn_element element)
{
	const rn_attribute_row *row = NULL;
	const char *between = "; it has ";
	while ((row = rn_table_next(element, row))) {
		rn_buffer_format(text, "%s%s", between, row->name);
		between = ", ";
	}
}

static void refuse_unknown(checker *c, const rn_tree_element *e, const rn_tree_attribute *a)
{
	rn_buffer *text = rn_findings_begin(c->findings, e->file, a->line);
	rn_near near = rn_near_begin(a->name);
	const rn_attribute_row *row = NULL;
	while ((row = rn_table_next(e->element, row)))
		rn_near_offer(&near, row->name);
	rn_buffer_format(text, "<%s> has no attribute %s", e->name, a->name);
	if (!add_near(text, &near, "", "") && e->element != RN_ELEMENT_SET)
		spell_attributes(text, e->element);
	end(c);
}

static void check_attribute(checker *c, const rn_tree_element *e, rn_tree_attribute *a)
{
	const rn_attribute_row *row = rn_table_attribute(e->element, a->name);
	if (!row)
		refuse_unknown(c, e, a);
	else if (rn_check_value(c->findings, e, a, row, c->gravity))
		a->row = row;
}

/* Which of its forms an element has, by the attributes and children that are there: a set of bits. A
 * child tells only where no attribute could: a sling's ends come with its stem. */
static int forms_used(const rn_tree_element *e)
{
	int forms = 0;
	for (const rn_tree_element *c = e->first_child; c && e->element == RN_ELEMENT_PIECE; c = c->next) {
		rn_element child = rn_table_child(e->element, c->name);
		if (child != RN_ELEMENT_COUNT)
			forms |= 1 << rn_table_element(child)->form;
	}
	for (size_t i = 0; i < e->attribute_count; i++) {
		const rn_attribute_row *row = rn_table_attribute(e->element, e->attributes[i].name);
		if (row)
			forms |= 1 << row->form;
	}
	return forms >> 1;
}

/* "x and y, or on and height" */
static void spell_form(rn_buffer *text, rn_element element, int form)
{
	const rn_attribute_row *row = NULL;
	const char *between = "";
	while ((row = rn_table_next(element, row)))
		if (row->form == form && row->required) {
			rn_buffer_format(text, "%s%s", between, row->name);
			between = " and ";
		}
	for (int i = 0; i < RN_ELEMENT_COUNT; i++) {
		const rn_element_row *child = rn_table_element((rn_element)i);
		if (element == RN_ELEMENT_PIECE && rn_table_holds(element, (rn_element)i) && child->form == form)
			rn_buffer_format(text, "%stwo <%s>", between, child->name);
	}
}

/* The form an element has, 0 if none or after a finding. */
static int settle_form(checker *c, const rn_tree_element *e)
{
	int forms = forms_used(e);
	if (!rn_table_has_forms(e->element) || forms == 1 || forms == 2)
		return forms;
	rn_buffer *text = begin_element(c, e);
	rn_buffer_text(text, "needs ");
	spell_form(text, e->element, 1);
	rn_buffer_text(text, ", or ");
	spell_form(text, e->element, 2);
	if (forms)
		rn_buffer_text(text, ", not both");
	end(c);
	return 0;
}

static void find_missing(checker *c, const rn_tree_element *e, int form)
{
	const rn_attribute_row *row = NULL;
	while ((row = rn_table_next(e->element, row))) {
		if (!row->required || row->one_of || (row->form && row->form != form) ||
		    rn_tree_attribute_named(e, row->name))
			continue;
		rn_buffer *text = begin_element(c, e);
		rn_buffer_format(text, "needs %s: %s", row->name, row->help);
		end(c);
	}
}

/* "length, slack and pretension", with `last` before the last one; all of a group, or with `given`
 * only those the element has. */
static void spell_group(rn_buffer *text, const rn_tree_element *e, int group, bool given,
			const char *last)
{
	const rn_attribute_row *row = NULL, *names[GROUP_MOST];
	int count = 0;
	while ((row = rn_table_next(e->element, row)))
		if (row->one_of == group && count < GROUP_MOST &&
		    (!given || rn_tree_attribute_named(e, row->name)))
			names[count++] = row;
	for (int i = 0; i < count; i++)
		rn_buffer_format(text, "%s%s",
		                 i == 0           ? ""
		                 : i == count - 1 ? last
		                                  : ", ",
		                 names[i]->name);
}

static void check_group(checker *c, const rn_tree_element *e, int group)
{
	const rn_attribute_row *row = NULL;
	int given = 0;
	bool required = false;
	while ((row = rn_table_next(e->element, row)))
		if (row->one_of == group) {
			given += rn_tree_attribute_named(e, row->name) != NULL;
			required = row->required;
		}
	if (given == 1 || (given == 0 && !required))
		return;
	rn_buffer *text = begin_element(c, e);
	rn_buffer_text(text, given ? "takes one of " : "needs ");
	spell_group(text, e, group, false, given ? ", " : " or ");
	if (given) {
		rn_buffer_text(text, "; here are ");
		spell_group(text, e, group, true, " and ");
	}
	end(c);
}

/* The middle of an item's friction must lie in its range. */
static void check_friction_range(checker *c, const rn_tree_element *e)
{
	const rn_tree_attribute *range = rn_tree_attribute_named(e, "friction-range");
	const rn_tree_attribute *middle = rn_tree_attribute_named(e, "friction");
	if (!range || !range->row || (middle && !middle->row))
		return;
	if (!middle)
		refuse_value(c->findings, e, range, "it goes with friction, which is not given");
	else if (middle->amount < range->range.low || middle->amount > range->range.high)
		refuse_value(c->findings, e, middle, "it lies outside friction-range");
}

static void check_setting(checker *c, const rn_tree_element *e)
{
	for (size_t i = 0; i < e->attribute_count; i++)
		if (strcmp(e->attributes[i].name, "of") != 0)
			return;
	rn_buffer *text = begin_element(c, e);
	rn_buffer_text(text, "sets nothing: give a number to replace, such as weight=\"400 kg\"");
	end(c);
}

static int check_attributes(checker *c, rn_tree_element *e)
{
	for (size_t i = 0; i < e->attribute_count; i++)
		check_attribute(c, e, &e->attributes[i]);
	int form = settle_form(c, e);
	find_missing(c, e, form);
	check_group(c, e, 1);
	rn_picture_check(c->findings, e);
	if (e->element == RN_ELEMENT_ITEM)
		check_friction_range(c, e);
	if (e->element == RN_ELEMENT_SET)
		check_setting(c, e);
	return form;
}

/* ---- children ------------------------------------------------------------------------------ */

static rn_elements parents_of_name(const char *name)
{
	rn_elements parents = 0;
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (strcmp(rn_table_element((rn_element)i)->name, name) == 0)
			parents |= rn_table_element((rn_element)i)->parents;
	return parents;
}

/* "; it holds tie, through, grip, hold" or "; it holds no elements" */
static void spell_children(rn_buffer *text, rn_element parent)
{
	const char *between = "; it holds ";
	for (int i = 0; i < RN_ELEMENT_COUNT; i++) {
		const rn_element_row *row = rn_table_element((rn_element)i);
		if (!rn_table_holds(parent, (rn_element)i))
			continue;
		rn_buffer_format(text, "%s%s", between, row->name);
		between = ", ";
	}
	if (strcmp(between, ", ") != 0)
		rn_buffer_text(text, "; it holds no elements");
}

/* "; it stands in <line>" */
static void spell_parents(rn_buffer *text, rn_elements parents)
{
	const char *between = "; it stands in ";
	if (parents & RN_ELEMENT_BIT(RN_ELEMENT_GEAR)) /* the other <gear> need not be said */
		parents &= ~RN_ELEMENT_BIT(RN_ELEMENT_GEAR_FILE);
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (parents & RN_ELEMENT_BIT(i)) {
			rn_buffer_format(text, "%s<%s>", between,
			                 rn_table_element((rn_element)i)->name);
			between = " or ";
		}
}

static void refuse_child(checker *c, const rn_tree_element *e, rn_element parent)
{
	rn_buffer *text = rn_findings_begin(c->findings, e->file, e->line);
	rn_near near = rn_near_begin(e->name);
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (rn_table_holds(parent, (rn_element)i))
			rn_near_offer(&near, rn_table_element((rn_element)i)->name);
	rn_elements parents = parents_of_name(e->name);
	rn_buffer_format(text, "<%s> holds no <%s>", rn_table_element(parent)->name, e->name);
	if (parents)
		spell_parents(text, parents);
	else if (!add_near(text, &near, "<", ">"))
		spell_children(text, parent);
	end(c);
}

static void refuse_foreign(checker *c, const rn_tree_element *e)
{
	rn_buffer *text = begin_element(c, e);
	rn_buffer_text(text, "is not in the namespace \"" RN_NAMESPACE "\"");
	end(c);
}

static int count_children(const rn_tree_element *e, rn_element element)
{
	int count = 0;
	for (const rn_tree_element *child = e->first_child; child; child = child->next)
		count += child->element == element;
	return count;
}

/* From 0; there are that many. */
static const rn_tree_element *nth_child(const rn_tree_element *e, rn_element element, int n)
{
	const rn_tree_element *child = e->first_child;
	while (child->element != element || n-- > 0)
		child = child->next;
	return child;
}

static void check_count(checker *c, const rn_tree_element *e, rn_element element, int form)
{
	const rn_element_row *row = rn_table_element(element);
	int count = count_children(e, element);
	bool wrong_form = row->form && form && row->form != form;
	bool too_few = (row->form == 0 || row->form == form) && count < row->least;
	bool too_many = row->most && count > row->most;
	if (!too_few && !too_many && !(wrong_form && count))
		return;
	const rn_tree_element *surplus =
		too_few ? e : nth_child(e, element, wrong_form ? 0 : row->most);
	rn_buffer *text = rn_findings_begin(c->findings, e->file, surplus->line);
	rn_buffer_format(text, "<%s> ", e->name);
	if (wrong_form) {
		rn_buffer_format(text, "holds <%s> only with ", row->name);
		spell_form(text, e->element, row->form);
	} else if (too_few)
		rn_buffer_format(text, "needs at least %d <%s>", row->least, row->name);
	else
		rn_buffer_format(text, "holds at most %d <%s>", row->most, row->name);
	end(c);
}

static void check_text(checker *c, const rn_tree_element *e)
{
	if (!e->text || rn_table_element(e->element)->takes_text)
		return;
	rn_buffer *text = rn_findings_begin(c->findings, e->file, e->text_line);
	rn_buffer_format(text, "<%s> holds no text; words for people go into a <note>", e->name);
	end(c);
}

static void check_element(checker *c, rn_tree_element *e, rn_element as);

static void check_child(checker *c, rn_tree_element *child, rn_element parent)
{
	rn_element found =
		child->is_foreign ? RN_ELEMENT_COUNT : rn_table_child(parent, child->name);
	if (child->is_foreign)
		refuse_foreign(c, child);
	else if (found == RN_ELEMENT_COUNT)
		refuse_child(c, child, parent);
	else
		check_element(c, child, found);
}

/* The tree is at most RN_SCAN_DEPTH_MOST deep. */
static void check_element(checker *c, rn_tree_element *e, rn_element as)
{
	e->element = as;
	int form = check_attributes(c, e);
	if (as == RN_ELEMENT_RIGGING) {
		const rn_tree_attribute *gravity = rn_tree_attribute_named(e, "gravity");
		if (gravity && gravity->row)
			c->gravity = gravity->amount;
	}
	check_text(c, e);
	for (rn_tree_element *child = e->first_child; child; child = child->next)
		check_child(c, child, as);
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (rn_table_holds(as, (rn_element)i))
			check_count(c, e, (rn_element)i, form);
}

void rn_check_tree(rn_findings *findings, rn_tree_element *root, rn_element as, double *gravity)
{
	checker c = {findings, *gravity};
	check_element(&c, root, as);
	*gravity = c.gravity;
}
