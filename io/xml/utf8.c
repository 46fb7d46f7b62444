/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/utf8.h"

/* First bytes by the length they announce, and the least character that needs that length. */
static const struct {
	unsigned char mask, mark;
	uint32_t least;
} forms[] = {
	{0x80, 0x00, 0},
	{0xE0, 0xC0, 0x80},
	{0xF0, 0xE0, 0x800},
	{0xF8, 0xF0, 0x10000},
};

size_t rn_utf8_read(const char *text, size_t size, uint32_t *character_out)
{
	unsigned char first = size ? (unsigned char)text[0] : 0xFF;
	size_t length = 0;
	while (length < 4 && (first & forms[length].mask) != forms[length].mark)
		length++;
	if (length == 4 || size <= length)
		return 0;
	uint32_t c = first & (unsigned char)~forms[length].mask;
	for (size_t i = 1; i <= length; i++) {
		unsigned char next = (unsigned char)text[i];
		if ((next & 0xC0) != 0x80)
			return 0;
		c = c << 6 | (next & 0x3F);
	}
	if (c < forms[length].least || c > 0x10FFFF || (c >= 0xD800 && c <= 0xDFFF))
		return 0;
	*character_out = c;
	return length + 1;
}

bool rn_utf8_is_hidden(uint32_t c)
{
	static const struct {
		uint32_t first, last;
	} hidden[] = {
		{0x00AD, 0x00AD}, {0x061C, 0x061C}, {0x180E, 0x180E},   {0x200B, 0x200F},
		{0x2028, 0x202E}, {0x2060, 0x206F}, {0xFE00, 0xFE0F},   {0xFEFF, 0xFEFF},
		{0xFFF9, 0xFFFB}, {0xFFFE, 0xFFFF}, {0xE0000, 0xE0FFF},
	};
	for (size_t i = 0; i < sizeof hidden / sizeof *hidden; i++)
		if (c >= hidden[i].first && c <= hidden[i].last)
			return true;
	return false;
}
