/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is made from the tables of the program while it is built: its manual pages, and what a shell completes. A new
 * verb, option, element or attribute is in them by itself.
 */
#ifndef RN_IO_CLI_PAGES_H
#define RN_IO_CLI_PAGES_H

#include "io/base/buffer.h"

void rn_pages_program(rn_buffer *out, const char *date);    /* funicle(1) */
void rn_pages_format(rn_buffer *out, const char *date);     /* funicle(5), the model file */
void rn_pages_completion(rn_buffer *out, const char *date); /* for bash; of no date */

#endif
