/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A folio as a PDF: tagged, with bookmarks, its fonts in it, every page with its number and how many there are.
 */
#ifndef RN_IO_FIGURE_BOOK_H
#define RN_IO_FIGURE_BOOK_H

#include <time.h>

#include "io/figure/scene.h"
#include "io/report/folio.h"

/* `scenes`: one for each figure of the folio, in their order. The same folio, scenes and date give the same bytes.
 * Errors: MEMORY; LIMIT for what cairo does not take. Pango ends a process that is out of memory: what must not be
 * lost is written before. */
rn_status rn_book_pdf(rn_buffer *buffer, const rn_folio *folio, const rn_scene *scenes, time_t date) RN_MUST_CHECK;

#endif
