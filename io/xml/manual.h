/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The table as the reference part of the manual, in Markdown.
 */
#ifndef RN_IO_XML_MANUAL_H
#define RN_IO_XML_MANUAL_H

#include "io/base/buffer.h"

void rn_manual_write(rn_buffer *out);

#endif
