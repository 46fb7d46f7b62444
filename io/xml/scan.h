/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A first look at the bytes of a file, before libxml2 sees them. It refuses what is not UTF-8, what
 * is larger than any real model, and every document type, so that no entity is ever declared; and
 * it notes where each tag starts, because libxml2 tells the line of an element only up to 65,535
 * and that of an attribute never.
 */
#ifndef RN_IO_XML_SCAN_H
#define RN_IO_XML_SCAN_H

#include "io/xml/findings.h"

enum {
	RN_SCAN_BYTES_MOST = 4 << 20,  /* of one file */
	RN_SCAN_ELEMENTS_MOST = 50000, /* of a model and its gear files together */
	RN_SCAN_DEPTH_MOST = 32,
	RN_SCAN_TAG_MOST = 64 << 10,     /* bytes; libxml2 2.9 is quadratic in the attributes */
	RN_SCAN_ATTRIBUTES_MOST = 64,    /* of one tag, for the same reason */
	RN_SCAN_ATTRIBUTE_MOST = 4 << 10 /* bytes of one value */
};

/* Where a start tag begins. */
typedef struct rn_scan_tag {
	const char *at; /* its '<' */
	int line;
} rn_scan_tag;

typedef struct rn_scan {
	rn_scan_tag *tags; /* in the order of the file */
	size_t count, capacity;
} rn_scan;

/* Looks at file `file` of findings->sources. *elements_left counts down over several files. Where
 * the form of a tag is broken it stops without a word: libxml2 says what is wrong there.
 * Errors: INPUT (a finding says why), MEMORY. */
rn_status rn_scan_bytes(rn_findings *findings, int file, int *elements_left,
			rn_scan *scan_out) RN_MUST_CHECK;

/* Lines of the first `count` attributes of a whole tag, namespace declarations left out. */
void rn_scan_attribute_lines(const rn_scan_tag *tag, const char *end, int *lines, size_t count);

#endif
