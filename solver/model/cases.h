/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which way a line runs in a case.
 */
#ifndef RN_MODEL_CASES_H
#define RN_MODEL_CASES_H

#include "solver/funicle.h"

/* +1: the part of a line between stations `first` and `last` (made fast or held, both) runs over
 * `station` toward `last`, -1: toward `first`, 0: it does not run. */
int rn_case_direction(const rn_model *model, const rn_case *c, int first, int last, int station);

#endif
