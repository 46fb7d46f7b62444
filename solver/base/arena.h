/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One arena per object with a lifetime: everything in it goes at once, so functions that build
 * may return early and own nothing.
 */
#ifndef RN_BASE_ARENA_H
#define RN_BASE_ARENA_H

#include "solver/funicle.h"

typedef struct rn_arena_block rn_arena_block;

typedef struct rn_arena {
	rn_allocator allocator;
	rn_arena_block *blocks;
} rn_arena;

rn_arena rn_arena_make(const rn_allocator *allocator);
void rn_arena_release(rn_arena *arena);

/* `count` zeroed elements of `size` bytes, aligned for any type. NULL when memory ends or the
 * product does not fit a size_t. A count of 0 gives a valid pointer. */
void *rn_arena_take(rn_arena *arena, size_t count, size_t size);

/* A copy of `text`; *copy_out is NULL for NULL. Errors: MEMORY. */
rn_status rn_arena_copy_text(rn_arena *arena, const char *text, const char **copy_out) RN_MUST_CHECK;

/* A text of two, one behind the other. Errors: MEMORY. */
rn_status rn_arena_join_text(rn_arena *arena, const char *first, const char *second,
                             const char **joined_out) RN_MUST_CHECK;

/* A copy of `count` elements in place of *array. Errors: MEMORY. */
rn_status rn_arena_copy_array(rn_arena *arena, void **array, int count, size_t size) RN_MUST_CHECK;

/* Room for one more element in an array that grows by doubling; the old array stays behind in the
 * arena. *capacity in elements. Errors: MEMORY. */
rn_status rn_arena_grow(rn_arena *arena, void **array, int count, int *capacity,
                        size_t size) RN_MUST_CHECK;

/* Takes from `arena` into a variable of pointer type, or leaves with MEMORY. */
#define RN_TAKE(arena, pointer, count)                                                             \
	do {                                                                                       \
		(pointer) = rn_arena_take((arena), (size_t)(count), sizeof *(pointer));            \
		if (!(pointer))                                                                    \
			return RN_STATUS_MEMORY;                                                   \
	} while (0)

#endif
