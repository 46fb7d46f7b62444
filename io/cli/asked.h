/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A fall that is asked about on the command line and not in the model's file.
 */
#ifndef RN_IO_CLI_ASKED_H
#define RN_IO_CLI_ASKED_H

#include "io/base/buffer.h"
#include "solver/funicle.h"

/* NULL texts: not said. */
typedef struct rn_asked {
	bool falls;          /* a piece is to fall even if the file says nothing of it */
	bool studied;        /* the falls are looked at with more rope and with rope let run */
	const char *drop, *below, *hand; /* quantities as typed */
	const char *piece;   /* id */
	rn_buffer *message;  /* gets what is wrong with them */
} rn_asked;

/* Puts what is asked into a model: into the falls it has, else into two cases made for it, friction at its
 * least and at its most. `context` is a rn_asked. Errors: MEMORY, LIMIT; ARGUMENT with a message. */
rn_status rn_asked_prepare(void *context, rn_model *model) RN_MUST_CHECK;

#endif
