/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/grammar.h"

#include <string.h>

#include "io/xml/table.h"

typedef struct writer {
	rn_buffer *out;
	int depth;
} writer;

static const char *const define_names[] = {
#define X(name) #name,
	RN_ELEMENT_LIST(X)
#undef X
};

/* ---- lines of XML ---------------------------------------------------------------------------- */

static void indent(const writer *w)
{
	for (int i = 0; i < w->depth; i++)
		rn_buffer_text(w->out, "  ");
}

static void line(const writer *w, const char *text)
{
	indent(w);
	rn_buffer_format(w->out, "%s\n", text);
}

static void open(writer *w, const char *tag)
{
	indent(w);
	rn_buffer_format(w->out, "<%s>\n", tag);
	w->depth++;
}

static void open_named(writer *w, const char *tag, const char *name)
{
	indent(w);
	rn_buffer_format(w->out, "<%s name=\"%s\">\n", tag, name);
	w->depth++;
}

static void close(writer *w, const char *tag)
{
	w->depth--;
	indent(w);
	rn_buffer_format(w->out, "</%s>\n", tag);
}

static void escaped(const writer *w, const char *text)
{
	for (; *text; text++)
		switch (*text) {
		case '<': rn_buffer_text(w->out, "&lt;"); break;
		case '&': rn_buffer_text(w->out, "&amp;"); break;
		default: rn_buffer_char(w->out, *text);
		}
}

static void documentation(const writer *w, const char *help)
{
	indent(w);
	rn_buffer_text(w->out, "<a:documentation>");
	escaped(w, help);
	rn_buffer_text(w->out, "</a:documentation>\n");
}

/* ---- attributes ---------------------------------------------------------------------------- */

static void values(writer *w, const char *words)
{
	open(w, "choice");
	while (*words) {
		size_t size = strcspn(words, " ");
		indent(w);
		rn_buffer_text(w->out, "<value>");
		rn_buffer_add(w->out, words, size);
		rn_buffer_text(w->out, "</value>\n");
		words += size + (words[size] == ' ');
	}
	close(w, "choice");
}

static void attribute(writer *w, const rn_attribute_row *row)
{
	open_named(w, "attribute", row->name);
	documentation(w, row->help);
	if (row->kind == RN_VALUE_WORD)
		values(w, row->words);
	if (row->kind == RN_VALUE_ID)
		line(w, "<data type=\"token\"><param name=\"pattern\">"
		        "[a-zA-Z0-9][a-zA-Z0-9_\\-]{0,39}</param></data>");
	close(w, "attribute");
}

static void lone_attribute(writer *w, const rn_attribute_row *row)
{
	if (!row->required)
		open(w, "optional");
	attribute(w, row);
	if (!row->required)
		close(w, "optional");
}

/* The attributes of which there is at most one, or exactly one. */
static void rival_attributes(writer *w, rn_element element, const rn_attribute_row *first)
{
	if (!first->required)
		open(w, "optional");
	open(w, "choice");
	const rn_attribute_row *row = NULL;
	while ((row = rn_table_next(element, row)))
		if (row->one_of == first->one_of && row->form == first->form)
			attribute(w, row);
	close(w, "choice");
	if (!first->required)
		close(w, "optional");
}

static bool is_first_rival(rn_element element, const rn_attribute_row *row)
{
	const rn_attribute_row *other = NULL;
	while ((other = rn_table_next(element, other)))
		if (other->one_of == row->one_of && other->form == row->form)
			return other == row;
	return false;
}

static void attributes(writer *w, rn_element element, int form)
{
	const rn_attribute_row *row = NULL;
	while ((row = rn_table_next(element, row))) {
		bool said = rn_table_attribute(element, row->name) != row; /* one word, two numbers */
		if (row->form != form || said)
			continue;
		if (!row->one_of)
			lone_attribute(w, row);
		else if (is_first_rival(element, row))
			rival_attributes(w, element, row);
	}
}

/* ---- children ------------------------------------------------------------------------------ */

enum { COUNTED_MOST = 2 }; /* more than that is not counted here, only by the reader */

static bool is_counted(const rn_element_row *row)
{
	return row->least > 0 || (row->most > 0 && row->most <= COUNTED_MOST);
}

/* In a form stands what belongs to it and what belongs to any: children come in any order, so they may not
 * be told apart before. */
static bool stands(rn_element parent, rn_element child, int form)
{
	const rn_element_row *row = rn_table_element(child);
	return rn_table_holds(parent, child) && (row->form == form || row->form == 0);
}

static void reference(const writer *w, rn_element element)
{
	indent(w);
	rn_buffer_format(w->out, "<ref name=\"%s\"/>\n", define_names[element]);
}

static void counted_child(writer *w, rn_element child)
{
	const rn_element_row *row = rn_table_element(child);
	open(w, "group"); /* an interleave may not hold one element in two of its parts */
	for (int i = 0; i < row->most; i++) {
		if (i >= row->least)
			open(w, "optional");
		reference(w, child);
		if (i >= row->least)
			close(w, "optional");
	}
	close(w, "group");
}

static bool has_uncounted(rn_element parent, int form)
{
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (stands(parent, (rn_element)i, form) &&
		    !is_counted(rn_table_element((rn_element)i)))
			return true;
	return false;
}

static void children(writer *w, rn_element parent, int form)
{
	open(w, "interleave");
	if (has_uncounted(parent, form)) {
		open(w, "zeroOrMore");
		open(w, "choice");
		for (int i = 0; i < RN_ELEMENT_COUNT; i++)
			if (stands(parent, (rn_element)i, form) &&
			    !is_counted(rn_table_element((rn_element)i)))
				reference(w, (rn_element)i);
		close(w, "choice");
		close(w, "zeroOrMore");
	}
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (stands(parent, (rn_element)i, form) &&
		    is_counted(rn_table_element((rn_element)i)))
			counted_child(w, (rn_element)i);
	line(w, rn_table_element(parent)->takes_text && form == 0 ? "<text/>" : "<empty/>");
	close(w, "interleave");
}

static void one_form(writer *w, rn_element element, int form)
{
	open(w, "group");
	attributes(w, element, form);
	children(w, element, form);
	close(w, "group");
}

static void define(writer *w, rn_element element)
{
	const rn_element_row *row = rn_table_element(element);
	open_named(w, "define", define_names[element]);
	open_named(w, "element", row->name);
	documentation(w, row->help);
	attributes(w, element, 0);
	if (!rn_table_has_forms(element)) {
		children(w, element, 0);
	} else {
		open(w, "choice");
		one_form(w, element, 1);
		one_form(w, element, 2);
		close(w, "choice");
	}
	close(w, "element");
	close(w, "define");
}

void rn_grammar_write(rn_buffer *out)
{
	writer w = {out, 0};
	rn_buffer_text(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
	                    "<!-- SPDX-License-Identifier: GPL-3.0-or-later -->\n"
	                    "<!-- Made from the table of the reader: change that, not this. -->\n");
	open(&w, "grammar xmlns=\"http://relaxng.org/ns/structure/1.0\"\n"
	         "  xmlns:a=\"http://relaxng.org/ns/compatibility/annotations/1.0\"\n"
	         "  datatypeLibrary=\"http://www.w3.org/2001/XMLSchema-datatypes\"\n"
	         "  ns=\"" RN_NAMESPACE "\"");
	open(&w, "start");
	open(&w, "choice");
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
		if (rn_table_element((rn_element)i)->parents == 0)
			reference(&w, (rn_element)i);
	close(&w, "choice");
	close(&w, "start");
	for (int i = 0; i < RN_ELEMENT_COUNT; i++)
			define(&w, (rn_element)i);
	close(&w, "grammar");
}
