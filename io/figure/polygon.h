/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The force polygon of one node beside its free body, to scale, lettered by Bow's notation: the spaces between
 * the lines of action have capital letters, clockwise; the pull between spaces A and B is AB on the left and runs
 * from a to b on the right.
 */
#ifndef RN_IO_FIGURE_POLYGON_H
#define RN_IO_FIGURE_POLYGON_H

#include "io/figure/figure.h"

/* Builds the scene; scene->tails are the edges of the polygon. Errors: as of rn_figure_scene; also ARGUMENT when
 * the case has no answer, or nothing pulls on the node. */
rn_status rn_polygon_scene(const rn_allocator *allocator, const rn_result *result, int case_index, int node,
                           const rn_figure_options *options, rn_scene *scene_out) RN_MUST_CHECK;
#endif
