/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file as a tree of elements that know their lines. Only tree.c knows libxml2.
 */
#ifndef RN_IO_XML_TREE_H
#define RN_IO_XML_TREE_H

#include "io/xml/findings.h"
#include "io/xml/table.h"

typedef struct rn_tree_element rn_tree_element;

typedef struct rn_tree_attribute {
	const char *name; /* with its prefix, if it has one */
	const char *value;
	int line;
	/* from here on what the table made of it */
	const rn_attribute_row *row; /* NULL: refused */
	double amount;               /* numbers, directions, leans [SI] */
	rn_range range;
	int choice;              /* index into the row's words */
	rn_tree_element *target; /* what a reference names; of a run: the station */
} rn_tree_attribute;

struct rn_tree_element {
	const char *name; /* of a foreign one with its prefix */
	bool is_foreign;  /* of another namespace, or of none */
	int file, line;
	rn_tree_attribute *attributes;
	size_t attribute_count;
	rn_tree_element *parent, *first_child, *last_child, *next;
	const char *text; /* the last run of it that is not space, trimmed; NULL if there is none */
	int text_line;
	rn_element element;   /* RN_ELEMENT_COUNT until the table knows it */
	int index;            /* of what it became in the model */
	rn_tree_element *run; /* the last <run> that spoke about this line or station */
	int ordinal;          /* among its parent's children of its kind, from 1; counted by inputs.c */
	bool is_named;        /* by an attribute of another; likewise */
};

/* Reads file `file` of findings->sources into the findings' pool. Errors: INPUT (a finding says
 * why), MEMORY. */
rn_status rn_tree_read(rn_findings *findings, int file, int *elements_left,
		       rn_tree_element **root_out) RN_MUST_CHECK;

/* NULL if the element has no such attribute. */
rn_tree_attribute *rn_tree_attribute_named(const rn_tree_element *element, const char *name);
/* Its value, or NULL. */
const char *rn_tree_value(const rn_tree_element *element, const char *name);

/* The n-th child (from 1) of one kind; NULL if there are fewer. */
rn_tree_element *rn_tree_child(const rn_tree_element *element, rn_element kind, int n);

/* The next element of a tree in the order of the file; NULL behind the last. */
rn_tree_element *rn_tree_following(const rn_tree_element *element);

#endif
