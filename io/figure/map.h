/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Two numbers varied, as a map: a cell for each choice, the darker the nearer its closest part is to its limit, hatched
 * where it is over, crossed where there is no answer; lines between choices that another part governs, and its letter.
 */
#ifndef RN_IO_FIGURE_MAP_H
#define RN_IO_FIGURE_MAP_H

#include "io/figure/figure.h"

/* `placed`: the best is marked, and the map is of what it makes least; may be NULL, and `varied` is its map else. Errors:
 * MEMORY; ARGUMENT when there is no case, or it is of one number, or a number is not finite. */
rn_status rn_map_scene(const rn_allocator *allocator, const rn_varied *varied, const rn_placed *placed,
                       const rn_figure_options *options, rn_scene *scene_out) RN_MUST_CHECK;

#endif
