/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A number of the model and from what to what it may go, as typed on a command line:
 *
 *     log.weight=280..400 kg     both ends, read as in a model file
 *     log.weight=-10..+25 %      shares of what the model has, told by their signs
 *     r1.x=+-5 cm                either side of what the model has; +-10 % likewise
 */
#ifndef RN_IO_CLI_BOUNDS_H
#define RN_IO_CLI_BOUNDS_H

#include "io/base/buffer.h"
#include "solver/funicle.h"

typedef struct rn_bounds {
	int number;       /* into the model's numbers */
	double low, high; /* SI, low below high */
} rn_bounds;

/* Of a model that was checked, so that what was guessed has a name too. False: `why` says what is wrong. */
bool rn_bounds_read(const char *text, const rn_model *model, rn_bounds *bounds_out, rn_buffer *why);

#endif
