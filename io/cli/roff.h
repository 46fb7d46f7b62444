/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Manual pages as groff's man macros take them: for the pages that are made while building.
 */
#ifndef RN_IO_CLI_ROFF_H
#define RN_IO_CLI_ROFF_H

#include "io/base/buffer.h"

/* Text that is printed as it stands, none of it taken for a request; `between backquotes` in bold. */
void rn_roff_text(rn_buffer *out, const char *text, size_t size);
/* The page's own line and its section NAME. `name` as in "FUNICLE", `date` as it is to be read. */
void rn_roff_begin(rn_buffer *out, const char *name, int section, const char *date, const char *what);
void rn_roff_section(rn_buffer *out, const char *heading);
void rn_roff_paragraph(rn_buffer *out, const char *text);
/* A term in bold with what it is, the term of `size` bytes. */
void rn_roff_item(rn_buffer *out, const char *term, size_t size);

/* Markdown of the plain kind that rn_manual_write makes: headings, paragraphs, tables without breaks in a cell. Of a
 * table the first column becomes the term, the others what stands behind it. */
void rn_roff_markdown(rn_buffer *out, const char *text);

#endif
