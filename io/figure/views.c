/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/views.h"

#include "io/figure/diagram.h"
#include "io/figure/polygon.h"

static rn_status make_view(const rn_views *v, const rn_block *b, const rn_result *result,
                           const rn_figure_options *options, rn_scene *scene_out)
{
	switch (b->view) {
	case RN_VIEW_POLYGON:
		return rn_polygon_scene(&v->allocator, result, b->case_index, b->object, options, scene_out);
	case RN_VIEW_STEM: return rn_diagram_scene(&v->allocator, result, b->case_index, b->object, options, scene_out);
	case RN_VIEW_RIGGING: break;
	}
	return rn_figure_scene(&v->allocator, result, b->case_index, options, scene_out);
}

rn_status rn_views_make(const rn_allocator *allocator, const rn_folio *folio, const rn_result *result,
                        const rn_figure_options *options, rn_views *views_out)
{
	size_t figures = 1; /* room for none is still room */
	for (size_t i = 0; i < folio->count; i++)
		figures += folio->blocks[i].kind == RN_BLOCK_FIGURE;
	*views_out = (rn_views){.allocator = *allocator};
	views_out->scenes = allocator->allocate(allocator->context, figures * sizeof *views_out->scenes);
	if (!views_out->scenes)
		return RN_STATUS_MEMORY;
	for (size_t i = 0; i < folio->count; i++)
		if (folio->blocks[i].kind == RN_BLOCK_FIGURE)
			RN_TRY(make_view(views_out, &folio->blocks[i], result, options, &views_out->scenes[views_out->count++]));
	return RN_OK;
}

void rn_views_release(rn_views *views)
{
	for (int i = 0; i < views->count; i++)
		rn_scene_release(&views->scenes[i]);
	if (views->scenes)
		views->allocator.release(views->allocator.context, views->scenes);
}
