/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/base/buffer.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	CAPACITY_FIRST = 256,
	DIGITS_MOST = 40,  /* after the point; more would only print the noise of a double */
	NUMBER_ROOM = 400, /* 309 digits before the point, DIGITS_MOST after it, sign, point, NUL */
	DIGITS_SURE = 15,  /* any decimal of 15 figures survives a double */
	DIGITS_ENOUGH = 17 /* any double survives a decimal of 17 figures */
};

rn_buffer rn_buffer_make(const rn_allocator *allocator)
{
	return (rn_buffer){.allocator = *allocator};
}

void rn_buffer_release(rn_buffer *buffer)
{
	if (buffer->bytes)
		buffer->allocator.release(buffer->allocator.context, buffer->bytes);
	*buffer = (rn_buffer){.allocator = buffer->allocator};
}

rn_status rn_buffer_status(const rn_buffer *buffer)
{
	return buffer->failed ? RN_STATUS_MEMORY : RN_OK;
}

static size_t enough(size_t capacity, size_t need)
{
	size_t larger = capacity ? capacity : CAPACITY_FIRST;
	while (larger < need && larger <= SIZE_MAX / 2)
		larger *= 2;
	return larger;
}

/* Room for `more` bytes and the NUL; false, and the buffer marked, when there is none. */
static bool reserve(rn_buffer *buffer, size_t more)
{
	if (buffer->failed)
		return false;
	if (more < buffer->capacity - buffer->size)
		return true;
	size_t larger = 0;
	char *moved = NULL;
	if (more < SIZE_MAX / 2 - buffer->size) {
		larger = enough(buffer->capacity, buffer->size + more + 1);
		moved = buffer->allocator.allocate(buffer->allocator.context, larger);
	}
	if (!moved) {
		buffer->failed = true;
		return false;
	}
	if (buffer->bytes) {
		memcpy(moved, buffer->bytes, buffer->size);
		buffer->allocator.release(buffer->allocator.context, buffer->bytes);
	}
	moved[buffer->size] = '\0';
	buffer->bytes = moved;
	buffer->capacity = larger;
	return true;
}

void rn_buffer_add(rn_buffer *buffer, const char *bytes, size_t size)
{
	if (size == 0 || !reserve(buffer, size))
		return;
	memcpy(buffer->bytes + buffer->size, bytes, size);
	buffer->size += size;
	buffer->bytes[buffer->size] = '\0';
}

void rn_buffer_text(rn_buffer *buffer, const char *text)
{
	rn_buffer_add(buffer, text, strlen(text));
}

void rn_buffer_char(rn_buffer *buffer, char c)
{
	rn_buffer_add(buffer, &c, 1);
}

void rn_buffer_format(rn_buffer *buffer, const char *format, ...)
{
	va_list arguments, again;
	va_start(arguments, format);
	va_copy(again, arguments);
	int size = vsnprintf(NULL, 0, format, arguments);
	if (size < 0)
		buffer->failed = true;
	else if (reserve(buffer, (size_t)size)) {
		vsnprintf(buffer->bytes + buffer->size, (size_t)size + 1, format, again);
		buffer->size += (size_t)size;
	}
	va_end(again);
	va_end(arguments);
}

/* The C library writes the point of the host's locale, which may be more than one byte. */
static void add_with_point(rn_buffer *buffer, const char *number)
{
	static const char plain[] = "+-0123456789e";
	size_t whole = strspn(number, plain);
	rn_buffer_add(buffer, number, whole);
	if (number[whole] == '\0')
		return;
	rn_buffer_char(buffer, '.');
	rn_buffer_text(buffer, number + whole + strcspn(number + whole, plain));
}

/* Nothing that is not a number is ever printed as one. */
static bool add_not_finite(rn_buffer *buffer, double value)
{
	if (isfinite(value))
		return false;
	rn_buffer_text(buffer, "null");
	return true;
}

/* "-0.00" says less than nothing. */
static const char *without_idle_sign(const char *number)
{
	return number[0] == '-' && !strpbrk(number, "123456789") ? number + 1 : number;
}

void rn_buffer_fixed(rn_buffer *buffer, double value, int digits)
{
	char number[NUMBER_ROOM];
	if (add_not_finite(buffer, value))
		return;
	int kept = digits < 0 ? 0 : digits > DIGITS_MOST ? DIGITS_MOST : digits;
	snprintf(number, sizeof number, "%.*f", kept, value);
	add_with_point(buffer, without_idle_sign(number));
}

void rn_buffer_exact(rn_buffer *buffer, double value)
{
	char number[NUMBER_ROOM];
	if (add_not_finite(buffer, value))
		return;
	int digits = DIGITS_SURE;
	do /* reading back under the same locale, so a comma does no harm */
		snprintf(number, sizeof number, "%.*g", digits, value);
	while (strtod(number, NULL) != value && ++digits <= DIGITS_ENOUGH);
	add_with_point(buffer, number);
}
