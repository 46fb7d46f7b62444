/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A scene as SVG: real text, a title and a description for those who cannot see it, one group with
 * a title for each rope. No script, nothing fetched from anywhere.
 */
#ifndef RN_IO_FIGURE_SVG_H
#define RN_IO_FIGURE_SVG_H

#include "io/base/buffer.h"
#include "io/figure/scene.h"

/* A file of its own. */
void rn_svg_write(rn_buffer *buffer, const rn_scene *scene);
/* The element alone, to stand in a page; `mark` ends the names in it, another one for each figure of a page. */
void rn_svg_element(rn_buffer *buffer, const rn_scene *scene, const char *mark);

/* Text of a file as text of XML or HTML, also inside double quotes; what is no letter becomes '?'. */
void rn_svg_escaped(rn_buffer *buffer, const char *text);

#endif
