/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One number varied, as curves: how much of its limit each of the closest parts takes, the limit across, the part that is
 * closest with a band behind it, over its limit thick and in another colour; a gap where there is no answer, which says
 * why.
 */
#ifndef RN_IO_FIGURE_CURVE_H
#define RN_IO_FIGURE_CURVE_H

#include "io/figure/figure.h"

/* `placed`: the best is marked; may be NULL, and `varied` is its map else. Errors: MEMORY; ARGUMENT when there is no case,
 * or it is of two numbers, or a number is not finite. */
rn_status rn_curve_scene(const rn_allocator *allocator, const rn_varied *varied, const rn_placed *placed,
                         const rn_figure_options *options, rn_scene *scene_out) RN_MUST_CHECK;

#endif
