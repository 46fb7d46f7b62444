/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * UTF-8, read strictly: no overlong forms, no surrogates, nothing above U+10FFFF.
 */
#ifndef RN_IO_XML_UTF8_H
#define RN_IO_XML_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Bytes of the character at `text`, 1 to 4; 0 if it is not UTF-8. */
size_t rn_utf8_read(const char *text, size_t size, uint32_t *character_out);

/* Characters that show nothing and change how others show: direction marks, joiners, tags. */
bool rn_utf8_is_hidden(uint32_t character);

#endif
