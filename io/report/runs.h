/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which way each line runs in a case, before anything is solved.
 */
#ifndef RN_IO_REPORT_RUNS_H
#define RN_IO_REPORT_RUNS_H

#include "solver/funicle.h"

/* A piece of a line between two neighbouring stations at which it is made fast or held. */
typedef struct rn_reach {
	int first, last; /* stations */
} rn_reach;

/* Steps to the next reach of a line that meets friction; begin with {RN_NONE, RN_NONE}. False when
 * there is none. */
bool rn_runs_next(const rn_model *model, int line, rn_reach *reach);

/* +1: the reach runs over `station` toward its last station, -1: toward its first, 0: it does not
 * run. */
int rn_runs_direction(const rn_model *model, const rn_case *c, const rn_reach *reach, int station);

/* The end a reach runs to, RN_NONE when it does not run. */
int rn_runs_end(const rn_reach *reach, int direction);
/* Whether a rope that runs to this station is hauled in over a bollard: then its turns are off. */
bool rn_runs_without_turns(const rn_model *model, int end);

#endif
