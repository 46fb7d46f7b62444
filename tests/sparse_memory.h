/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * SuiteSparse's memory, which a test may let end: its allocator is one for the whole process.
 */
#ifndef RN_TESTS_SPARSE_MEMORY_H
#define RN_TESTS_SPARSE_MEMORY_H

#include <stdbool.h>
#include <stdlib.h>

#include <SuiteSparse_config.h>

/* Calls since they were set to 0, and the one that fails, from 1. */
static long calls, fail_at;

static bool fails(void)
{
	return ++calls == fail_at;
}

static void *failing_malloc(size_t size)
{
	return fails() ? NULL : malloc(size);
}

static void *failing_calloc(size_t count, size_t size)
{
	return fails() ? NULL : calloc(count, size);
}

static void *failing_realloc(void *block, size_t size)
{
	return fails() ? NULL : realloc(block, size);
}

/* From here on; what was there before is returned. */
static struct SuiteSparse_config_struct sparse_memory_fails(void)
{
	struct SuiteSparse_config_struct kept = SuiteSparse_config;
	SuiteSparse_config.malloc_func = failing_malloc;
	SuiteSparse_config.calloc_func = failing_calloc;
	SuiteSparse_config.realloc_func = failing_realloc;
	return kept;
}

#endif
