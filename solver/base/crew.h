/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Many hands for one task. The one place that knows threads.
 */
#ifndef RN_BASE_CREW_H
#define RN_BASE_CREW_H

#include <pthread.h>

#include "solver/funicle.h"

/* What hands share is looked at and changed between these two. */
typedef struct rn_crew {
	pthread_mutex_t lock;
} rn_crew;

/* False where the system has no lock to give. */
bool rn_crew_begin(rn_crew *crew);
void rn_crew_end(rn_crew *crew);
void rn_crew_lock(rn_crew *crew);
void rn_crew_unlock(rn_crew *crew);

/* Calls work(contexts + i * size) for i = 0 to count - 1 all at once, the first in the thread of who calls, and comes
 * back when all have. Hands that cannot be had are left out, never the first. */
void rn_crew_work(void (*work)(void *context), void *contexts, size_t size, int count);

#endif
