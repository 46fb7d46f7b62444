/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A matrix as triplets and written out, with an arena that counts, for the tests of linear systems. The test says
 * SIZE_MOST and ROOM before it includes this.
 */
#ifndef RN_TESTS_SYSTEM_BENCH_H
#define RN_TESTS_SYSTEM_BENCH_H

typedef struct bench {
	rn_arena arena;
	support_memory memory;
	rn_triplet items[ROOM];
	rn_triplets triplets;
	double full[SIZE_MOST * SIZE_MOST]; /* the same matrix written out */
	int size;
} bench;

static int setup(void **state)
{
	bench *b = calloc(1, sizeof *b);
	if (!b)
		return 1;
	rn_allocator allocator = support_memory_allocator(&b->memory);
	b->arena = rn_arena_make(&allocator);
	*state = b;
	return 0;
}

static int teardown(void **state)
{
	bench *b = *state;
	rn_arena_release(&b->arena);
	long live = b->memory.live_count;
	free(b);
	return live != 0;
}

#endif
