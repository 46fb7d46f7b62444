/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Models with published or independently found answers, carried by the program itself, so that anyone can ask them of
 * the copy that runs on his machine.
 */
#ifndef RN_IO_CLI_ENDORSED_H
#define RN_IO_CLI_ENDORSED_H

#include <stddef.h>

typedef struct rn_endorsed {
	const char *name;
	const char *model, *rows; /* a model file; questions as io/report/question.h describes them */
	size_t model_size;
} rn_endorsed;

extern const rn_endorsed rn_endorsed_cases[];
extern const int rn_endorsed_count;

#endif
