/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * To be loaded before a program: memory runs out at the allocation FAIL_AT says (from 1), once, or with FAIL_ON set
 * from there on. How many allocations there were is written into the file FAIL_COUNT names when the program ends.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* glibc's own, under the names it keeps for this */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);
void *__libc_memalign(size_t alignment, size_t size);

static atomic_long seen;
static long fails_at;
static bool goes_on;

__attribute__((constructor)) static void begin(void)
{
	const char *at = getenv("FAIL_AT");
	fails_at = at ? strtol(at, NULL, 10) : 0;
	goes_on = getenv("FAIL_ON") != NULL;
	atomic_store(&seen, 0);
}

__attribute__((destructor)) static void end(void)
{
	const char *path = getenv("FAIL_COUNT");
	int file = path ? open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600) : -1;
	char text[24];
	int size = sizeof text;
	if (file < 0)
		return;
	for (long left = atomic_load(&seen); left > 0 || size == sizeof text; left /= 10)
		text[--size] = (char)('0' + left % 10);
	if (write(file, text + size, sizeof text - (size_t)size) < 0)
		return;
	close(file);
}

static bool fails(void)
{
	long now = atomic_fetch_add(&seen, 1) + 1;
	bool hit = fails_at > 0 && (now == fails_at || (goes_on && now > fails_at));
	if (hit)
		errno = ENOMEM;
	return hit;
}

void *malloc(size_t size)
{
	return fails() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
	return fails() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size)
{
	return fails() ? NULL : __libc_realloc(block, size);
}

int posix_memalign(void **block, size_t alignment, size_t size)
{
	if (fails())
		return ENOMEM;
	*block = __libc_memalign(alignment, size);
	return *block ? 0 : ENOMEM;
}
