/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A tree held against the table: which elements and attributes it has, which it lacks, and what
 * their values are. Values that pass are left in the attributes, in SI.
 */
#ifndef RN_IO_XML_CHECK_H
#define RN_IO_XML_CHECK_H

#include "io/xml/tree.h"

/* Checks a whole tree as the element `as`. *gravity, used for weights given as masses, takes the
 * root's if it has one. All that is wrong becomes findings. */
void rn_check_tree(rn_findings *findings, rn_tree_element *root, rn_element as, double *gravity);

/* Reads one value by `row`, which need not be the row of its own element. false after a finding. */
/* "; its first odd character is U+0430": of what looks like a letter and is none. */
void rn_check_odd_character(rn_buffer *text, const char *value);
bool rn_check_value(rn_findings *findings, const rn_tree_element *element,
		    rn_tree_attribute *attribute, const rn_attribute_row *row, double gravity);

/* Begins a finding at an attribute, as rn_findings_begin, with the words `<ring> weight="12": `. */
rn_buffer *rn_check_begin(rn_findings *findings, const rn_tree_element *element,
			  const rn_tree_attribute *attribute);

#endif
