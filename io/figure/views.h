/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The figures a folio asks for.
 */
#ifndef RN_IO_FIGURE_VIEWS_H
#define RN_IO_FIGURE_VIEWS_H

#include "io/figure/figure.h"
#include "io/report/folio.h"

typedef struct rn_views {
	rn_allocator allocator;
	rn_scene *scenes; /* one for each figure of the folio, in their order */
	int count;
} rn_views;

/* Errors: MEMORY; ARGUMENT for a figure that the answer does not give. To be released in any case. */
rn_status rn_views_make(const rn_allocator *allocator, const rn_folio *folio, const rn_result *result,
                        const rn_figure_options *options, rn_views *views_out) RN_MUST_CHECK;
void rn_views_release(rn_views *views);

#endif
