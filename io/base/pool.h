/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Memory that lives and dies together: what a document or a tree is made of. A failed take is
 * remembered, so that long chains of small takes can be tested once.
 */
#ifndef RN_IO_BASE_POOL_H
#define RN_IO_BASE_POOL_H

#include "solver/funicle.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct rn_pool_block rn_pool_block;

typedef struct rn_pool {
	rn_allocator allocator;
	rn_pool_block *blocks;
	bool failed;
} rn_pool;

rn_pool rn_pool_make(const rn_allocator *allocator);
void rn_pool_release(rn_pool *pool);

/* `count` zeroed elements of `size` bytes, aligned for any type; NULL when memory ends. */
void *rn_pool_take(rn_pool *pool, size_t count, size_t size);

/* A copy of `size` bytes with a NUL behind; NULL when memory ends. */
char *rn_pool_copy(rn_pool *pool, const char *bytes, size_t size);
char *rn_pool_copy_text(rn_pool *pool, const char *text);

/* Room for one more element in an array that doubles; NULL when memory ends, else the array, which
 * may have moved. *capacity in elements. */
void *rn_pool_grow(rn_pool *pool, void *array, size_t count, size_t *capacity, size_t size);

#ifdef __cplusplus
}
#endif

#endif
