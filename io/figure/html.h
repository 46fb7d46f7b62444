/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A folio as one page for a browser: a single file with its figures in it, no script, nothing fetched from anywhere.
 */
#ifndef RN_IO_FIGURE_HTML_H
#define RN_IO_FIGURE_HTML_H

#include "io/figure/scene.h"
#include "io/report/folio.h"

/* `scenes`: one for each figure of the folio, in their order. Errors: MEMORY. */
rn_status rn_html_write(rn_buffer *buffer, const rn_folio *folio, const rn_scene *scenes) RN_MUST_CHECK;

#endif
