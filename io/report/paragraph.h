/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Running text in lines of at most rn_paragraph_width columns.
 */
#ifndef RN_IO_REPORT_PARAGRAPH_H
#define RN_IO_REPORT_PARAGRAPH_H

#include "io/base/buffer.h"

extern const int rn_paragraph_width;

/* Adds `text` broken at blanks; lines after the first stand in by two. A word longer than a line is
 * broken where the line ends. */
void rn_paragraph_add(rn_buffer *buffer, const char *text);

/* Adds what is in `line`, nothing where it is empty, and empties it; what memory it was short of, `buffer` is short of
 * too. */
void rn_paragraph_end(rn_buffer *buffer, rn_buffer *line);

/* Columns a text takes: one for each of its characters. */
int rn_paragraph_columns(const char *text);

/* Adds `text`, cut to `most` columns and then ending in "~", or filled with blanks to `least`. */
void rn_paragraph_fit(rn_buffer *buffer, const char *text, int least, int most);

#endif
