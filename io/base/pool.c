/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/base/pool.h"

#include <stdalign.h>
#include <string.h>

enum { BLOCK_FIRST = 4096, BLOCK_LARGEST = 1 << 20 };

struct rn_pool_block {
	rn_pool_block *next;
	size_t size, used;
	alignas(max_align_t) unsigned char bytes[];
};

rn_pool rn_pool_make(const rn_allocator *allocator)
{
	return (rn_pool){.allocator = *allocator};
}

void rn_pool_release(rn_pool *pool)
{
	rn_pool_block *block = pool->blocks;
	while (block) {
		rn_pool_block *next = block->next;
		pool->allocator.release(pool->allocator.context, block);
		block = next;
	}
	pool->blocks = NULL;
}

static rn_pool_block *add_block(rn_pool *pool, size_t need)
{
	size_t size = BLOCK_FIRST;
	if (pool->blocks)
		size = pool->blocks->size < BLOCK_LARGEST / 2 ? 2 * pool->blocks->size
		                                              : BLOCK_LARGEST;
	if (size < need)
		size = need;
	rn_pool_block *block =
		pool->allocator.allocate(pool->allocator.context, sizeof *block + size);
	if (!block)
		return NULL;
	block->next = pool->blocks;
	block->size = size;
	block->used = 0;
	pool->blocks = block;
	return block;
}

void *rn_pool_take(rn_pool *pool, size_t count, size_t size)
{
	const size_t unit = alignof(max_align_t);
	if (size && count > SIZE_MAX / 4 / size) {
		pool->failed = true;
		return NULL;
	}
	size_t need = (count * size + unit - 1) / unit * unit;
	rn_pool_block *block = pool->blocks;
	if (!block || block->size - block->used < need)
		block = add_block(pool, need);
	if (!block) {
		pool->failed = true;
		return NULL;
	}
	void *taken = block->bytes + block->used;
	block->used += need;
	return memset(taken, 0, need);
}

char *rn_pool_copy(rn_pool *pool, const char *bytes, size_t size)
{
	char *copy = rn_pool_take(pool, size + 1, 1);
	if (copy && size)
		memcpy(copy, bytes, size);
	return copy;
}

char *rn_pool_copy_text(rn_pool *pool, const char *text)
{
	return rn_pool_copy(pool, text, strlen(text));
}

void *rn_pool_grow(rn_pool *pool, void *array, size_t count, size_t *capacity, size_t size)
{
	if (count < *capacity)
		return array;
	size_t larger = *capacity ? 2 * *capacity : 8;
	void *grown = rn_pool_take(pool, larger, size);
	if (!grown)
		return NULL;
	if (count)
		memcpy(grown, array, count * size);
	*capacity = larger;
	return grown;
}
