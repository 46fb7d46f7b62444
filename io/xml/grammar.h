/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The table as a RELAX NG grammar in XML syntax: for editors that complete and check while a file
 * is written. It knows the shape of a file and the words; quantities and names are the reader's.
 */
#ifndef RN_IO_XML_GRAMMAR_H
#define RN_IO_XML_GRAMMAR_H

#include "io/base/buffer.h"

void rn_grammar_write(rn_buffer *out);

#endif
