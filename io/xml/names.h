/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The names in the files of one model: who is called what, and whether every name that is used
 * belongs to something that fits.
 */
#ifndef RN_IO_XML_NAMES_H
#define RN_IO_XML_NAMES_H

#include "io/xml/tree.h"

typedef struct rn_name {
	rn_tree_element *element;
	const char *id;
	size_t order; /* in which it came; files in theirs */
} rn_name;

typedef struct rn_names {
	rn_name *items; /* sorted by id, capitals not counting, then by order */
	size_t count;
} rn_names;

/* Collects the ids of all trees. Two alike, or alike but for capitals, are findings that name both
 * places. Errors: MEMORY. */
rn_status rn_names_collect(rn_findings *findings, rn_tree_element *const *roots, int root_count,
			   rn_names *names_out) RN_MUST_CHECK;

/* The element called `id`, or NULL. */
rn_tree_element *rn_names_find(const rn_names *names, const char *id);

/* Looks up every reference in a tree and notes its target in its attribute; values that cases set
 * are read here, by the rows of the objects they belong to. What does not fit is a finding. */
void rn_names_check(rn_findings *findings, const rn_names *names, rn_tree_element *root,
		    double gravity);

/* Adds "line 7" to the finding begun, with the file's name when that is another one. */
void rn_names_tell_place(rn_findings *findings, const rn_tree_element *element, int from_file);

#endif
