/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/figure.h"

#include <math.h>

#include "io/figure/drawing.h"
#include "io/figure/sheet.h"
#include "io/figure/svg.h"
#include "io/report/finite.h"
#include "io/report/verdict.h"

static const char *keep(rn_drawing *d)
{
	return rn_scene_keep(d->scene, &d->text);
}

/* The figure in words, for those who cannot see it: case, verdict, closest part, every pull. */
static void describe(rn_drawing *d, const rn_sheet *sheet)
{
	rn_buffer_text(&d->text, sheet->title);
	rn_buffer_text(&d->text, ", ");
	rn_buffer_text(&d->text, sheet->case_line);
	d->scene->title = keep(d);
	rn_verdict_sentence(&d->text, d->result, d->units);
	rn_buffer_text(&d->text, ". ");
	if (rn_verdict_worst(d->result)) {
		rn_buffer_text(&d->text, "Closest to its limit: ");
		rn_verdict_closest(&d->text, d->result, d->units);
		rn_buffer_text(&d->text, ". ");
	}
	for (int i = 0; d->settled && i < d->model->node_count; i++) {
		const double *pull = d->answer->nodes[i].pull;
		double size = hypot(pull[0], pull[1]);
		if (size <= rn_words_nothing)
			continue;
		rn_words_part(&d->text, d->model, rn_object_of(RN_NODE, i));
		rn_buffer_text(&d->text, " is pulled with ");
		rn_words_force(&d->text, size, RN_UP, d->units);
		rn_buffer_char(&d->text, ' ');
		rn_words_direction(&d->text, pull, RN_POINT_FULL);
		rn_buffer_text(&d->text, ". ");
	}
	rn_buffer_text(&d->text, "Seen square to one upright plane, to scale.");
	d->scene->description = keep(d);
}

static void compose(rn_drawing *d, const rn_figure_options *options)
{
	rn_sheet sheet;
	rn_drawing_study(d);
	rn_sheet_lay_out(&sheet, d, options->file, options->digest, options->paper);
	describe(d, &sheet);
	rn_drawing_add(d, sheet.area);
	rn_sheet_add(&sheet, d);
}

rn_status rn_figure_scene(const rn_allocator *allocator, const rn_result *result, int case_index,
                          const rn_figure_options *options, rn_scene *scene_out)
{
	static const rn_figure_options plain = {.units = RN_METRIC};
	*scene_out = rn_scene_make(allocator);
	if (case_index < 0 || case_index >= result->case_count)
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_finite_check(result));
	const rn_model *model = result->model;
	const rn_case_result *answer = &result->cases[case_index];
	double *values =
		rn_pool_take(&scene_out->pool, (size_t)model->number_count + 1, sizeof *values);
	if (!values)
		return RN_STATUS_MEMORY;
	rn_case_values(model, &model->cases[answer->case_index], values);
	const rn_figure_options *chosen = options ? options : &plain;
	rn_drawing drawing = {.scene = scene_out,
	                      .result = result,
	                      .answer = answer,
	                      .model = model,
	                      .units = chosen->units,
	                      .values = values,
	                      .text = rn_buffer_make(allocator)};
	compose(&drawing, chosen);
	rn_buffer_release(&drawing.text);
	return rn_scene_status(scene_out);
}

rn_status rn_figure_svg(rn_buffer *buffer, const rn_result *result, int case_index,
                        const rn_figure_options *options)
{
	rn_scene scene;
	rn_status status = rn_figure_scene(&buffer->allocator, result, case_index, options, &scene);
	if (status == RN_OK) {
		rn_svg_write(buffer, &scene);
		status = rn_buffer_status(buffer);
	}
	rn_scene_release(&scene);
	return status;
}
