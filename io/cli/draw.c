/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/verbs.h"

#include <string.h>

#include "io/cli/paper.h"
#include "io/figure/diagram.h"
#include "io/figure/figure.h"
#include "io/figure/polygon.h"

/* The figure asked for, of one case, into the output buffer. *there_out: false when the case has none. */
static rn_status draw_case(rn_job *r, int drawn, int node, int stem, bool *there_out)
{
	rn_figure_options options = {r->command.units, r->command.model, r->digest, r->command.paper};
	rn_scene scene;
	rn_status status;
	if (node != RN_NONE)
		status = rn_polygon_scene(&r->allocator, r->result, drawn, node, &options, &scene);
	else if (stem != RN_NONE)
		status = rn_diagram_scene(&r->allocator, r->result, drawn, stem, &options, &scene);
	else
		status = rn_figure_scene(&r->allocator, r->result, drawn, &options, &scene);
	*there_out = status != RN_STATUS_ARGUMENT;
	if (status == RN_OK)
		status = rn_paper_scene(r, &scene);
	rn_scene_release(&scene);
	return status;
}

/* "dir/name.svg" and the case "lowering": "dir/name-lowering.svg". */
static void add_case_path(const rn_job *r, int c, rn_buffer *path)
{
	const char *output = r->command.output, *slash = strrchr(output, '/'), *dot = strrchr(output, '.');
	size_t stem = dot && dot > (slash ? slash + 1 : output) ? (size_t)(dot - output) : strlen(output);
	rn_buffer_add(path, output, stem);
	rn_buffer_char(path, '-');
	rn_buffer_text(path, rn_object_id(r->document->model, rn_object_of(RN_CASE, r->result->cases[c].case_index)));
	rn_buffer_text(path, output + stem);
}

/* One file for each case that has such a figure. */
static int draw_all_cases(rn_job *r, int node, int stem)
{
	rn_buffer path = rn_buffer_make(&r->allocator);
	int code = EXIT_NONE_OVER, count = 0;
	for (int c = 0; c < r->result->case_count && code == EXIT_NONE_OVER; c++) {
		bool there;
		r->out.size = path.size = 0;
		rn_status status = draw_case(r, c, node, stem, &there);
		if (!there)
			continue;
		add_case_path(r, c, &path);
		if (status == RN_OK)
			status = rn_buffer_status(&path);
		code = rn_job_deliver_to(r, path.bytes, status);
		count++;
	}
	rn_buffer_release(&path);
	return count > 0 ? code : rn_job_nothing_there(r);
}

int rn_verb_draw(rn_job *r)
{
	int drawn = rn_job_case(r);
	if (drawn == RN_NONE)
		return rn_job_unknown_case(r);
	int node = rn_job_named(r, RN_NODE, r->command.node_id), stem = rn_job_named(r, RN_STEM, r->command.stem_id), code;
	if (r->command.node_id && node == RN_NONE)
		return rn_job_unknown(r, "node", r->command.node_id);
	if (r->command.stem_id && stem == RN_NONE)
		return rn_job_unknown(r, "stem", r->command.stem_id);
	if (r->command.all_cases) {
		code = draw_all_cases(r, node, stem);
	} else {
		bool there;
		rn_status status = draw_case(r, drawn, node, stem, &there);
		if (!there)
			return rn_job_nothing_there(r);
		code = rn_job_deliver(r, status);
	}
	int verdict = r->result->verdict.exit_class;
	return code ? code : verdict >= EXIT_NO_EQUILIBRIUM ? verdict : EXIT_NONE_OVER;
}
