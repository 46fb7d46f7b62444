/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the fuzz targets share. Built with -fsanitize=fuzzer each is a libFuzzer target; with RN_FUZZ_REPLAY defined a
 * program of its own, that plays files once more and, after "--random COUNT SEED", bytes of chance:
 *
 *     fuzz_solver FILE... --random 2000 7
 */
#ifndef RN_TESTS_FUZZ_H
#define RN_TESTS_FUZZ_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static inline void fuzz_demand(bool met, const char *what)
{
	if (met)
		return;
	fprintf(stderr, "broken: %s\n", what);
	abort();
}

#ifdef RN_FUZZ_REPLAY
enum { FUZZ_ROOM = 5 << 20, FUZZ_RANDOM_MOST = 400 };

static inline void fuzz_replay(const char *path)
{
	FILE *file = fopen(path, "rb");
	uint8_t *bytes = malloc(FUZZ_ROOM);
	fuzz_demand(file && bytes, path);
	size_t size = fread(bytes, 1, FUZZ_ROOM, file);
	fclose(file);
	LLVMFuzzerTestOneInput(bytes, size);
	free(bytes);
}

/* splitmix64: the same bytes on every machine for one seed. */
static inline uint64_t fuzz_random(uint64_t *state)
{
	uint64_t z = *state += UINT64_C(0x9e3779b97f4a7c15);
	z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
	z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
	return z ^ (z >> 31);
}

/* The bytes of a run that ends badly are left in a file, to become a test. */
static inline void fuzz_play_random(long count, uint64_t seed)
{
	uint8_t bytes[FUZZ_RANDOM_MOST];
	const char *keep = getenv("FUZZ_KEEP");
	for (long i = 0; i < count; i++) {
		uint64_t state = seed * UINT64_C(1000003) + (uint64_t)i;
		size_t size = (size_t)(fuzz_random(&state) % (FUZZ_RANDOM_MOST + 1));
		for (size_t k = 0; k < size; k++)
			bytes[k] = (uint8_t)fuzz_random(&state);
		FILE *file = keep ? fopen(keep, "wb") : NULL;
		if (file) {
			fwrite(bytes, 1, size, file);
			fclose(file);
		}
		LLVMFuzzerTestOneInput(bytes, size);
	}
}

int main(int argument_count, char **arguments)
{
	for (int i = 1; i < argument_count; i++) {
		if (strcmp(arguments[i], "--random") == 0 && i + 2 < argument_count) {
			fuzz_play_random(strtol(arguments[i + 1], NULL, 10), (uint64_t)strtoll(arguments[i + 2], NULL, 10));
			i += 2;
		} else {
			fuzz_replay(arguments[i]);
		}
	}
	return 0;
}
#endif

#endif
