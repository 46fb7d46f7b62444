/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A scene as SVG: real text, a title and a description for those who cannot see it, one group with
 * a title for each rope. No script, nothing fetched from anywhere.
 */
#ifndef RN_IO_FIGURE_SVG_H
#define RN_IO_FIGURE_SVG_H

#include "io/base/buffer.h"
#include "io/figure/scene.h"

void rn_svg_write(rn_buffer *buffer, const rn_scene *scene);

#endif
