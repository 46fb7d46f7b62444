/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef RN_STRENGTH_VERDICT_H
#define RN_STRENGTH_VERDICT_H

#include "solver/funicle.h"

/* The verdict over all cases, from utilisations that are not rounded. */
rn_verdict rn_verdict_of(const rn_result *result);

#endif
