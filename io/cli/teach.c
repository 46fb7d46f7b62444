/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/verbs.h"

#include <stdio.h>

#include "io/cli/paper.h"
#include "io/report/drill.h"
#include "io/report/explain.h"

/* The case an exercise is made of: the one asked for, else that of the closest part, else the first that comes to
 * rest. */
static int case_to_drill(const rn_job *r)
{
	int index = rn_job_case(r);
	if (r->command.case_id || (index != RN_NONE && r->result->cases[index].caught.fall == RN_NONE))
		return index;
	for (int i = 0; i < r->result->case_count; i++)
		if (r->result->cases[i].caught.fall == RN_NONE)
			return i;
	return index;
}

int rn_verb_drill(rn_job *r)
{
	int index = case_to_drill(r);
	if (index == RN_NONE)
		return rn_job_unknown_case(r);
	rn_drill d = {.seed = rn_job_seed(r), .units = r->command.units, .index = index, .key = r->command.key};
	d.node = r->command.node_id ? rn_job_named(r, RN_NODE, r->command.node_id) : rn_drill_node(r->document->model, &r->result->cases[index]);
	if (d.node == RN_NONE)
		return rn_job_unknown(r, "node", r->command.node_id);
	rn_status status = rn_drill_text(&r->out, r->result, &d);
	if (status == RN_STATUS_ARGUMENT) {
		fprintf(stderr, "funicle: the case does not come to rest, or nothing pulls there: no exercise can be made of it\n");
		return EXIT_USAGE;
	}
	return rn_job_deliver(r, status);
}

int rn_verb_explain(rn_job *r)
{
	int index = rn_job_case(r);
	if (index == RN_NONE)
		return rn_job_unknown_case(r);
	const rn_verdict *v = &r->result->verdict;
	int node = rn_explain_node(&r->result->cases[index], index == v->worst_case ? v->worst_part : RN_NONE);
	if (r->command.node_id)
		node = rn_job_named(r, RN_NODE, r->command.node_id);
	if (node == RN_NONE)
		return rn_job_unknown(r, "node", r->command.node_id);
	rn_folio folio = rn_folio_make(&r->allocator);
	rn_status status = rn_explain_folio(&folio, r->result, index, node, r->command.units);
	if (status == RN_OK)
		status = rn_paper_write(r, &folio);
	rn_folio_release(&folio);
	if (status == RN_STATUS_ARGUMENT)
		return rn_job_nothing_there(r);
	int code = rn_job_deliver(r, status);
	return code ? code : v->exit_class;
}
