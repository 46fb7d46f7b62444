/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/base/crew.h"

bool rn_crew_begin(rn_crew *crew)
{
	return pthread_mutex_init(&crew->lock, NULL) == 0;
}

void rn_crew_end(rn_crew *crew)
{
	(void)pthread_mutex_destroy(&crew->lock);
}

void rn_crew_lock(rn_crew *crew)
{
	(void)pthread_mutex_lock(&crew->lock);
}

void rn_crew_unlock(rn_crew *crew)
{
	(void)pthread_mutex_unlock(&crew->lock);
}

typedef struct hand {
	pthread_t thread;
	void (*work)(void *context);
	void *context;
} hand;

static void *begin(void *given)
{
	hand *h = given;
	h->work(h->context);
	return NULL;
}

void rn_crew_work(void (*work)(void *context), void *contexts, size_t size, int count)
{
	hand hands[RN_THREADS_MOST];
	int started = 1;
	for (int i = 1; i < count && i < RN_THREADS_MOST; i++) {
		hand *h = &hands[started];
		*h = (hand){.work = work, .context = (char *)contexts + (size_t)i * size};
		started += pthread_create(&h->thread, NULL, begin, h) == 0;
	}
	work(contexts);
	for (int i = 1; i < started; i++)
		(void)pthread_join(hands[i].thread, NULL);
}
