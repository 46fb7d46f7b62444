/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A growable run of bytes that every writer appends to. A failed append is remembered: writers need
 * not test each call, the caller asks once at the end.
 */
#ifndef RN_IO_BASE_BUFFER_H
#define RN_IO_BASE_BUFFER_H

#include "solver/funicle.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct rn_buffer {
	char *bytes; /* always ends in a NUL that `size` does not count; NULL while empty */
	size_t size, capacity;
	rn_allocator allocator;
	bool failed; /* memory ran out somewhere; what is in it is not whole */
} rn_buffer;

rn_buffer rn_buffer_make(const rn_allocator *allocator);
void rn_buffer_release(rn_buffer *buffer);
void rn_buffer_add(rn_buffer *buffer, const char *bytes, size_t size);
void rn_buffer_text(rn_buffer *buffer, const char *text);
void rn_buffer_char(rn_buffer *buffer, char c);
/* Only %s %c %d %zu and the like: numbers with a fraction go through the two below. */
void rn_buffer_format(rn_buffer *buffer, const char *format, ...)
#if defined(__GNUC__)
	__attribute__((format(printf, 2, 3)))
#endif
	;
/* A number with a point whatever the locale: rn_buffer_fixed with `digits` (0 to 40) after the
 * point and no sign on a zero, rn_buffer_exact with as few digits as read back to the same double.
 * A value that is not finite is written as null, which no reader takes for a number. */
void rn_buffer_fixed(rn_buffer *buffer, double value, int digits);
void rn_buffer_exact(rn_buffer *buffer, double value);
/* MEMORY if any append failed. */
rn_status rn_buffer_status(const rn_buffer *buffer);

#ifdef __cplusplus
}
#endif

#endif
