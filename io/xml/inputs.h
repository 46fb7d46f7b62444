/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every value of a model as it was written, with its place in the files: for a review, which looks at what was put in
 * before it looks at what came out, and for telling two editions of a model apart.
 */
#ifndef RN_IO_XML_INPUTS_H
#define RN_IO_XML_INPUTS_H

#include "io/xml/quantity.h"

#ifdef __cplusplus
extern "C" {
#endif

/* An attribute of an element. */
typedef struct rn_input {
	int file, line;          /* of the attribute */
	const char *owner;       /* "ring r1"; of a nameless thing by its parent: "line bull, through 2" */
	const char *attribute;
	const char *value;       /* as written */
	bool is_number;
	rn_measure measure;      /* of a number */
	rn_range amount;         /* of a number [SI]; both ends alike unless a range was written */
	bool is_used;            /* false: of an item that nothing in the model names */
} rn_input;

typedef struct rn_inputs {
	const rn_input *items; /* in the order of the files, a gear file behind the model */
	int count;
} rn_inputs;

#ifdef __cplusplus
}
#endif

#endif
