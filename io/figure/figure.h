/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A figure of one case: the model as understood, to scale, with what it carries.
 */
#ifndef RN_IO_FIGURE_FIGURE_H
#define RN_IO_FIGURE_FIGURE_H

#include "io/base/buffer.h"
#include "io/figure/scene.h"
#include "io/base/words.h"
#include "io/report/folio.h"

typedef struct rn_figure_options {
	rn_units units;
	const char *file;   /* of the model, as typed; may be NULL */
	const char *digest; /* SHA-256 of the model's bytes, in hex; may be NULL */
	rn_paper paper;
} rn_figure_options;

/* Builds the scene of case `case_index` (into result->cases). The caller releases it, also after an
 * error. `options` may be NULL. Errors: MEMORY; ARGUMENT for a case there is none of, or a result
 * with a number that is not finite. */
rn_status rn_figure_scene(const rn_allocator *allocator, const rn_result *result, int case_index,
                          const rn_figure_options *options, rn_scene *scene_out) RN_MUST_CHECK;

/* The scene as SVG. Same errors; after an error what was added is not whole. */
rn_status rn_figure_svg(rn_buffer *buffer, const rn_result *result, int case_index,
                        const rn_figure_options *options) RN_MUST_CHECK;

#endif
