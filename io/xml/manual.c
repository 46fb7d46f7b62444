/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/manual.h"

#include <string.h>

#include "io/xml/table.h"

/* ---- quantities ---------------------------------------------------------------------------- */

static bool is_used(rn_measure measure)
{
	for (int i = 0; i < RN_ELEMENT_COUNT; i++) {
		const rn_attribute_row *row = NULL;
		while ((row = rn_table_next((rn_element)i, row)))
			if (row->kind == RN_VALUE_NUMBER && row->measure == measure)
				return true;
	}
	return false;
}

static void quantities(rn_buffer *out)
{
	rn_buffer_text(out, "## Quantities\n\n| what | units | such as |\n|---|---|---|\n");
	for (int i = 0; i < RN_MEASURE_COUNT; i++) {
		if (!is_used((rn_measure)i))
			continue;
		rn_buffer_format(out, "| %s | ", rn_measure_name((rn_measure)i));
		rn_measure_units((rn_measure)i, out);
		rn_buffer_format(out, " | %s |\n", rn_measure_example((rn_measure)i));
	}
	rn_buffer_text(
		out,
		"\nA number is figures, a point with figures behind it, and a power of ten "
		"written e3: 12, 0.25, 1.5e3. Its unit stands behind it, glued or spaced; "
		"feet may be followed by inches. Where a force or weight is due, kg, lb and t "
		"count with the gravity of the model; lbf and kip are forces whatever it is. No length is beyond "
		"10,000 km and no force beyond 1e18 N; a length or force that must be more than 0 is a millionth of a "
		"millimetre or a billionth of a newton at the least.\n");
}

/* ---- attributes ---------------------------------------------------------------------------- */

/* `a`, `b` */
static void words(rn_buffer *out, const char *list)
{
	const char *between = "";
	while (*list) {
		size_t size = strcspn(list, " ");
		rn_buffer_format(out, "%s`%.*s`", between, (int)size, list);
		list += size + (list[size] == ' ');
		between = ", ";
	}
}

static void targets(rn_buffer *out, const rn_attribute_row *row)
{
	const char *between = "the name of a ";
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (row->targets & RN_ELEMENT_BIT(i)) {
			rn_buffer_format(out, "%s%s", between,
			                 rn_table_element((rn_element)i)->name);
			between = ", ";
		}
	if (row->words) {
		rn_buffer_text(out, " of kind ");
		words(out, row->words);
	}
}

static void number(rn_buffer *out, const rn_attribute_row *row)
{
	rn_buffer_text(out, rn_measure_name(row->measure));
	if (row->demand != RN_DEMAND_ANY)
		rn_buffer_format(out, ", %s", rn_demand_text(row->demand));
}

static void content(rn_buffer *out, const rn_attribute_row *row)
{
	switch (row->kind) {
	case RN_VALUE_ID: rn_buffer_text(out, "a name of its own"); break;
	case RN_VALUE_REFERENCE: targets(out, row); break;
	case RN_VALUE_LINE_END: rn_buffer_text(out, "the name of a node, `start` or `end`"); break;
	case RN_VALUE_PATH: rn_buffer_text(out, "the name of an object"); break;
	case RN_VALUE_WORD: words(out, row->words); break;
	case RN_VALUE_TEXT: rn_buffer_text(out, "text"); break;
	case RN_VALUE_NUMBER: number(out, row); break;
	case RN_VALUE_RANGE: rn_buffer_text(out, "two numbers, such as 0.14..0.25"); break;
	case RN_VALUE_DIRECTION:
		rn_buffer_text(out, "a direction, such as left, 30 deg, 30 deg left of down");
		break;
	case RN_VALUE_LEAN: rn_buffer_text(out, "a lean, such as 3 deg left"); break;
	case RN_VALUE_SETTING: rn_buffer_text(out, "as where the object is described"); break;
	}
}

static void form_names(rn_buffer *out, rn_element element, int form)
{
	const rn_attribute_row *row = NULL;
	const char *between = "";
	while ((row = rn_table_next(element, row)))
		if (row->form == form && row->required) {
			rn_buffer_format(out, "%s`%s`", between, row->name);
			between = " and ";
		}
	/* a form that no attribute tells is told by what it holds */
	for (int i = 0; i < RN_ELEMENT_COUNT && !*between; i++) {
		const rn_element_row *child = rn_table_element((rn_element)i);
		if (rn_table_holds(element, (rn_element)i) && child->form == form)
			rn_buffer_format(out, "two `<%s>`", child->name);
	}
}

static void need(rn_buffer *out, rn_element element, const rn_attribute_row *row)
{
	if (row->form && row->required) {
		rn_buffer_text(out, "yes, or ");
		form_names(out, element, 3 - row->form);
	} else if (row->form) {
		rn_buffer_text(out, "only with ");
		form_names(out, element, row->form);
	} else if (row->required && !row->one_of)
		rn_buffer_text(out, "yes");
	if (row->one_of) {
		rn_buffer_text(out, row->form       ? "; one of "
		                    : row->required ? "exactly one of "
		                                    : "one of ");
		const rn_attribute_row *other = NULL;
		const char *between = "";
		while ((other = rn_table_next(element, other)))
			if (other->one_of == row->one_of) {
				rn_buffer_format(out, "%s`%s`", between, other->name);
				between = ", ";
			}
	}
}

static void attributes(rn_buffer *out, rn_element element)
{
	const rn_attribute_row *row = NULL;
	rn_buffer_text(out, "| attribute | holds | needed | |\n|---|---|---|---|\n");
	while ((row = rn_table_next(element, row))) {
		if (rn_table_attribute(element, row->name) != row)
			continue; /* a word that stands for two numbers */
		rn_buffer_format(out, "| `%s` | ", row->name);
		content(out, row);
		rn_buffer_text(out, " | ");
		need(out, element, row);
		rn_buffer_format(out, " | %s |\n", row->help);
	}
}

/* ---- elements ------------------------------------------------------------------------------ */

static void parents(rn_buffer *out, const rn_element_row *row)
{
	const char *between = " in ";
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (row->parents & RN_ELEMENT_BIT(i)) {
			const char *name = rn_table_element((rn_element)i)->name;
			/* both kinds of <gear> hold the same: said once */
			if (i != RN_ELEMENT_GEAR_FILE)
				rn_buffer_format(out, "%s`<%s>`", between, name);
			between = i == RN_ELEMENT_GEAR_FILE ? between : ", ";
		}
	if (!row->parents)
		rn_buffer_text(out, ", a root");
}

static void count(rn_buffer *out, const rn_element_row *row)
{
	if (row->least && row->most)
		rn_buffer_format(out, ", %d to %d of them", row->least, row->most);
	else if (row->most)
		rn_buffer_format(out, ", at most %d", row->most);
}

static void element(rn_buffer *out, rn_element which)
{
	const rn_element_row *row = rn_table_element(which);
	rn_buffer_format(out, "\n## `<%s>`", row->name);
	parents(out, row);
	rn_buffer_format(out, "\n\n%c%s", row->help[0] - 'a' + 'A', row->help + 1);
	count(out, row);
	rn_buffer_text(out, ".\n\n");
	attributes(out, which);
}

void rn_manual_write(rn_buffer *out)
{
	quantities(out);
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
			element(out, (rn_element)i);
}
