/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a stem feels along its height, side by side: the stem with what pulls on it, push N, shear V, bending moment M,
 * and the stress on its pressed and its drawn side, beside what the wood may bear. Its worst section is marked across.
 */
#ifndef RN_IO_FIGURE_DIAGRAM_H
#define RN_IO_FIGURE_DIAGRAM_H

#include "io/figure/figure.h"

/* Builds the scene. Errors: as of rn_figure_scene; also ARGUMENT when the case has no answer, or the stem no
 * section. */
rn_status rn_diagram_scene(const rn_allocator *allocator, const rn_result *result, int case_index, int stem,
                           const rn_figure_options *options, rn_scene *scene_out) RN_MUST_CHECK;
#endif
