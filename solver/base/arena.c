/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/base/arena.h"

#include <limits.h>
#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

/* A block starts at this size and doubles, so that a model needs few of them. */
#ifdef RN_ARENA_SMALL /* for tests: nearly every take is an allocation, which can fail */
enum { BLOCK_FIRST = 64, BLOCK_LARGEST = 64 };
#else
enum { BLOCK_FIRST = 4096, BLOCK_LARGEST = 1 << 20 };
#endif

struct rn_arena_block {
	rn_arena_block *next;
	size_t size, used;
	alignas(max_align_t) unsigned char bytes[];
};

static void *default_allocate(void *context, size_t size)
{
	(void)context;
	return malloc(size);
}

static void default_release(void *context, void *block)
{
	(void)context;
	free(block);
}

rn_allocator rn_allocator_default(void)
{
	return (rn_allocator){default_allocate, default_release, NULL};
}

rn_arena rn_arena_make(const rn_allocator *allocator)
{
	return (rn_arena){*allocator, NULL};
}

void rn_arena_release(rn_arena *arena)
{
	rn_arena_block *block = arena->blocks;
	while (block) {
		rn_arena_block *next = block->next;
		arena->allocator.release(arena->allocator.context, block);
		block = next;
	}
	arena->blocks = NULL;
}

static size_t round_up(size_t size)
{
	const size_t unit = alignof(max_align_t);
	return (size + unit - 1) / unit * unit;
}

static rn_arena_block *add_block(rn_arena *arena, size_t need)
{
	size_t size = arena->blocks ? arena->blocks->size : BLOCK_FIRST / 2;
	size = size < BLOCK_LARGEST / 2 ? size * 2 : BLOCK_LARGEST;
	if (size < need)
		size = need;
	if (size > SIZE_MAX - sizeof(rn_arena_block))
		return NULL;
	rn_arena_block *block =
		arena->allocator.allocate(arena->allocator.context, sizeof *block + size);
	if (!block)
		return NULL;
	block->next = arena->blocks;
	block->size = size;
	block->used = 0;
	arena->blocks = block;
	return block;
}

void *rn_arena_take(rn_arena *arena, size_t count, size_t size)
{
	if (size && count > (SIZE_MAX / 2) / size)
		return NULL;
	size_t need = round_up(count * size);
	rn_arena_block *block = arena->blocks;
	if (!block || block->size - block->used < need)
		block = add_block(arena, need);
	if (!block)
		return NULL;
	void *taken = block->bytes + block->used;
	block->used += need;
	return memset(taken, 0, need);
}

rn_status rn_arena_copy_text(rn_arena *arena, const char *text, const char **copy_out)
{
	*copy_out = NULL;
	if (!text)
		return RN_OK;
	size_t size = strlen(text) + 1;
	char *copy;
	RN_TAKE(arena, copy, size);
	memcpy(copy, text, size);
	*copy_out = copy;
	return RN_OK;
}

rn_status rn_arena_join_text(rn_arena *arena, const char *first, const char *second, const char **joined_out)
{
	size_t before = strlen(first), size = strlen(second) + 1;
	char *joined;
	RN_TAKE(arena, joined, before + size);
	memcpy(joined, first, before);
	memcpy(joined + before, second, size);
	*joined_out = joined;
	return RN_OK;
}

rn_status rn_arena_copy_array(rn_arena *arena, void **array, int count, size_t size)
{
	void *copy = rn_arena_take(arena, (size_t)count, size);
	if (!copy)
		return RN_STATUS_MEMORY;
	if (count)
		memcpy(copy, *array, (size_t)count * size);
	*array = copy;
	return RN_OK;
}

rn_status rn_arena_grow(rn_arena *arena, void **array, int count, int *capacity, size_t size)
{
	if (count < *capacity)
		return RN_OK;
	if (*capacity > INT_MAX / 2)
		return RN_STATUS_MEMORY;
	int larger = *capacity ? *capacity * 2 : 8;
	void *grown = rn_arena_take(arena, (size_t)larger, size);
	if (!grown)
		return RN_STATUS_MEMORY;
	if (count)
		memcpy(grown, *array, (size_t)count * size);
	*array = grown;
	*capacity = larger;
	return RN_OK;
}
