/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/paragraph.h"

#include <string.h>

const int rn_paragraph_width = 90;

enum { HANG = 2 };

static bool starts_character(char c)
{
	return ((unsigned char)c & 0xC0) != 0x80;
}

/* Columns of the first `size` bytes. */
static int columns_of(const char *text, size_t size)
{
	int columns = 0;
	for (size_t i = 0; i < size; i++)
		columns += starts_character(text[i]);
	return columns;
}

int rn_paragraph_columns(const char *text)
{
	return columns_of(text, strlen(text));
}

/* Bytes of the first `columns` characters. */
static size_t bytes_of(const char *text, int columns)
{
	size_t i = 0;
	while (text[i] && (columns > 0 || !starts_character(text[i]))) {
		columns -= starts_character(text[i]);
		i++;
	}
	if (columns == 0) /* stopped before the next character: i is its start */
		while (text[i] && !starts_character(text[i]))
			i++;
	return i;
}

static void add_blanks(rn_buffer *buffer, int count)
{
	for (int i = 0; i < count; i++)
		rn_buffer_char(buffer, ' ');
}

static void start_line(rn_buffer *buffer, int *column)
{
	rn_buffer_char(buffer, '\n');
	add_blanks(buffer, HANG);
	*column = HANG;
}

/* A word that may be longer than a whole line. */
static void add_word(rn_buffer *buffer, const char *word, size_t size, int *column)
{
	while (*column + columns_of(word, size) > rn_paragraph_width) {
		size_t part = bytes_of(word, rn_paragraph_width - *column);
		rn_buffer_add(buffer, word, part);
		word += part;
		size -= part;
		start_line(buffer, column);
	}
	rn_buffer_add(buffer, word, size);
	*column += columns_of(word, size);
}

/* A number is not parted from its unit, nor from what it is divided by. */
static bool stays_with(char last, const char *word)
{
	static const char *const units[] = {"N",  "kN", "lbf", "m",   "mm",  "ft",  "in", "kg",
	                                    "lb", "%",  "deg", "psi", "MPa", "GPa", "/"};
	size_t size = strcspn(word, " .,;:)");
	if (last == '/')
		return true;
	for (size_t i = 0; (last >= '0' && last <= '9') && i < sizeof units / sizeof *units; i++)
		if (strlen(units[i]) == size && memcmp(units[i], word, size) == 0)
			return true;
	return *word == '/';
}

/* Bytes up to the next blank at which a line may end. */
static size_t unbroken(const char *text)
{
	size_t size = strcspn(text, " ");
	while (size > 0 && text[size] == ' ' && stays_with(text[size - 1], text + size + 1))
		size += 1 + strcspn(text + size + 1, " ");
	return size;
}

void rn_paragraph_add(rn_buffer *buffer, const char *text)
{
	int column = 0;
	bool first = true;
	while (*text) {
		size_t size = unbroken(text);
		if (size == 0) {
			text++;
			continue;
		}
		if (!first && column + 1 + columns_of(text, size) > rn_paragraph_width) {
			start_line(buffer, &column);
		} else if (!first) {
			rn_buffer_char(buffer, ' ');
			column++;
		}
		add_word(buffer, text, size, &column);
		text += size;
		first = false;
	}
	rn_buffer_char(buffer, '\n');
}

void rn_paragraph_end(rn_buffer *buffer, rn_buffer *line)
{
	if (line->size > 0)
		rn_paragraph_add(buffer, line->bytes);
	buffer->failed = buffer->failed || line->failed;
	rn_buffer_release(line);
}

void rn_paragraph_fit(rn_buffer *buffer, const char *text, int least, int most)
{
	int columns = rn_paragraph_columns(text);
	if (columns > most) {
		rn_buffer_add(buffer, text, bytes_of(text, most - 1));
		rn_buffer_char(buffer, '~');
		columns = most;
	} else {
		rn_buffer_text(buffer, text);
	}
	add_blanks(buffer, least - columns);
}
