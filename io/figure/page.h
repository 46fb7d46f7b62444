/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A scene as a page of a PDF, or as a PNG, by cairo; its letters by Pango, so that every script is shown. Pango ends
 * a process that runs out of memory: write what must not be lost before.
 */
#ifndef RN_IO_FIGURE_PAGE_H
#define RN_IO_FIGURE_PAGE_H

#include <time.h>

#include "io/base/buffer.h"
#include "io/figure/scene.h"

/* Tagged, with title and description, its fonts in it; `date` is the only thing in it that is not the scene's, 0: none
 * is said. The same scene and date give the same bytes. Errors: MEMORY; LIMIT for a sheet cairo does not take. */
rn_status rn_page_pdf(rn_buffer *buffer, const rn_scene *scene, time_t date) RN_MUST_CHECK;
/* At so many dots for each inch. Errors: likewise. */
rn_status rn_page_png(rn_buffer *buffer, const rn_scene *scene, double dots_per_inch) RN_MUST_CHECK;

#endif
