/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/near.h"

#include <stddef.h>
#include <string.h>

#include "solver/funicle.h"

rn_near rn_near_begin(const char *word)
{
	return (rn_near){word, NULL, RN_FAR};
}

static void offer(rn_near *near, const char *candidate, size_t size)
{
	int distance = rn_word_distance(near->word, strlen(near->word), candidate, size);
	if (distance < near->best_distance) {
		near->best = candidate;
		near->best_distance = distance;
	}
}

void rn_near_offer(rn_near *near, const char *candidate)
{
	offer(near, candidate, strlen(candidate));
}

void rn_near_offer_list(rn_near *near, const char *list)
{
	while (*list) {
		size_t size = strcspn(list, " ");
		offer(near, list, size);
		list += size + (list[size] == ' ');
	}
}

int rn_near_size(const rn_near *near)
{
	return near->best ? (int)strcspn(near->best, " ") : 0;
}
