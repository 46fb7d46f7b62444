/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What changed since an earlier edition of the same job: every value that is written otherwise, and what that does to
 * shares and pulls.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "io/report/reviewer.h"
#include "io/report/verdict.h"

/* ---- what was put in ----------------------------------------------------------------------------------- */

typedef struct sorted {
	const rn_input **items;
	size_t count;
} sorted;

static int compare_keys(const rn_input *a, const rn_input *b)
{
	int by_owner = strcmp(a->owner, b->owner);
	return by_owner ? by_owner : strcmp(a->attribute, b->attribute);
}

static int compare_inputs(const void *left, const void *right)
{
	const rn_input *a = *(const rn_input *const *)left, *b = *(const rn_input *const *)right;
	int by_key = compare_keys(a, b);
	return by_key ? by_key : (a > b) - (a < b); /* as they stand in the file */
}

static sorted sort_inputs(rn_pool *pool, const rn_inputs *inputs)
{
	sorted s = {.items = rn_pool_take(pool, (size_t)inputs->count + 1, sizeof *s.items)};
	for (int i = 0; s.items && i < inputs->count; i++)
		if (inputs->items[i].is_used)
			s.items[s.count++] = &inputs->items[i];
	if (s.count)
		qsort(s.items, s.count, sizeof *s.items, compare_inputs);
	return s;
}

static void say_value(rn_reviewer *w, const rn_document *document, const rn_input *input)
{
	if (!input) {
		rn_reviewer_cell(w, "not there");
		return;
	}
	const char *name = document->files[input->file], *slash = strrchr(name, '/');
	rn_words_plain(w->line, input->value);
	rn_reviewer_say(w, " (");
	rn_words_plain(w->line, slash ? slash + 1 : name);
	rn_buffer_format(w->line, ":%d)", input->line);
	rn_folio_cell(w->folio);
}

static void change_row(rn_reviewer *w, const rn_input *was, const rn_input *is)
{
	const rn_input *either = is ? is : was;
	rn_words_plain(w->line, either->owner);
	rn_folio_cell(w->folio);
	rn_words_plain(w->line, either->attribute);
	rn_folio_cell(w->folio);
	say_value(w, w->review->since->document, was);
	say_value(w, w->review->document, is);
}

static bool same_value(const rn_input *a, const rn_input *b)
{
	return strcmp(a->value, b->value) == 0;
}

/* Both lists side by side. Returns how many rows there are. */
static int input_rows(rn_reviewer *w, const sorted *was, const sorted *is)
{
	int rows = 0;
	size_t i = 0, k = 0;
	while (i < was->count || k < is->count) {
		int order = i == was->count ? 1 : k == is->count ? -1 : compare_keys(was->items[i], is->items[k]);
		const rn_input *old = order <= 0 ? was->items[i++] : NULL, *new = order >= 0 ? is->items[k++] : NULL;
		if (old && new && same_value(old, new))
			continue;
		change_row(w, old, new);
		rows++;
	}
	return rows;
}

static void write_inputs(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 4,
		.heads = {"of", "what", "was", "is"},
		.weights = {0.24, 0.18, 0.29, 0.29},
	};
	sorted was = sort_inputs(&w->folio->pool, &w->review->since->document->inputs);
	sorted is = sort_inputs(&w->folio->pool, &w->review->document->inputs);
	rn_reviewer_section(w, "Values that are written otherwise");
	rn_folio_table(w->folio, &columns);
	int rows = input_rows(w, &was, &is);
	rn_folio_table_end(w->folio);
	if (rows == 0)
		rn_reviewer_paragraph(w, "None: every value that is used is written as it was.");
}

/* ---- what came out ------------------------------------------------------------------------------------- */

/* A change of a share or a pull that is worth a row [-]: below it three figures hardly move. */
static const double worth_a_row = 0.005;

typedef struct worst_of {
	bool found, checked;
	double share, demand;
} worst_of;

/* Of a part by its name, over all cases; connectors are told apart by where they are. */
static worst_of find_worst(const rn_result *result, rn_object_kind kind, const char *id, const char *at)
{
	worst_of w = {0};
	for (int c = 0; c < result->case_count; c++) {
		const rn_case_result *r = &result->cases[c];
		for (int i = 0; rn_verdict_has_answer(r) && i < r->part_count; i++) {
			const rn_part_result *p = &r->parts[i];
			bool is_it = p->object.kind == kind && strcmp(rn_object_id(result->model, p->object), id) == 0;
			if (is_it && kind == RN_ITEM)
				is_it = strcmp(rn_object_id(result->model, rn_object_of(RN_NODE, p->at)), at) == 0;
			if (!is_it)
				continue;
			w.found = true;
			w.checked = w.checked || p->unchecked == RN_CHECKED;
			w.share = fmax(w.share, p->utilisation);
			w.demand = fmax(w.demand, p->demand);
		}
	}
	return w;
}

static bool differs(double a, double b)
{
	return fabs(a - b) > worth_a_row * fmax(fabs(a), fabs(b));
}

static void share_cell(rn_reviewer *w, const worst_of *of)
{
	if (of->checked)
		rn_words_percent(w->line, of->share);
	else
		rn_reviewer_say(w, of->found ? "not checked" : "not there");
	rn_reviewer_cell(w, of->checked && of->share > 1 ? " OVER" : "");
}

/* Parts of `of` against those of the other edition; `gone`: only such as the other has no more. */
static int part_rows(rn_reviewer *w, const rn_result *of, const rn_result *other, bool gone)
{
	int rows = 0, count = of->case_count > 0 ? of->cases[0].part_count : 0;
	for (int i = 0; i < count; i++) {
		const rn_part_result *p = &of->cases[0].parts[i];
		const char *id = rn_object_id(of->model, p->object);
		const char *at = p->at == RN_NONE ? "" : rn_object_id(of->model, rn_object_of(RN_NODE, p->at));
		worst_of own = find_worst(of, p->object.kind, id, at), theirs = find_worst(other, p->object.kind, id, at);
		if (gone ? theirs.found : own.found == theirs.found && own.checked == theirs.checked && !differs(own.share, theirs.share))
			continue;
		rn_words_part(w->line, of->model, p->object);
		rn_folio_cell(w->folio);
		share_cell(w, gone ? &own : &theirs);
		share_cell(w, gone ? &theirs : &own);
		rows++;
	}
	return rows;
}

static void write_shares(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 3,
		.heads = {"part, in its worst case", "was", "is"},
		.weights = {0.5, 0.25, 0.25},
		.to_the_right = {false, true, true},
	};
	const rn_result *was = w->review->since->result;
	rn_reviewer_section(w, "Shares of limits that change");
	rn_folio_table(w->folio, &columns);
	int rows = part_rows(w, w->result, was, false) + part_rows(w, was, w->result, true);
	rn_folio_table_end(w->folio);
	if (rows == 0)
		rn_reviewer_paragraph(w, "None by more than half of one per cent.");
}

static double pull_of(const rn_result *result, const char *id, bool *there_out)
{
	rn_object node = rn_model_object_by_id(result->model, id);
	double most = 0;
	*there_out = node.kind == RN_NODE && node.index != RN_NONE;
	for (int c = 0; *there_out && c < result->case_count; c++)
		if (rn_verdict_has_answer(&result->cases[c])) {
			const double *pull = result->cases[c].nodes[node.index].pull;
			most = fmax(most, hypot(pull[0], pull[1]));
		}
	return most;
}

static void pull_cell(rn_reviewer *w, double pull, bool there)
{
	if (there)
		rn_words_force(w->line, pull, RN_UP, w->units);
	rn_reviewer_cell(w, there ? "" : "not there");
}

static int pull_rows(rn_reviewer *w, const rn_result *of, const rn_result *was, const rn_result *is, bool gone)
{
	int rows = 0;
	for (int i = 0; i < of->model->node_count; i++) {
		bool then, now;
		const char *id = of->model->nodes[i].id;
		if (!id || !rn_node_is_fixed(&of->model->nodes[i]))
			continue;
		double before = pull_of(was, id, &then), after = pull_of(is, id, &now);
		if (gone ? now : then && !differs(before, after))
			continue;
		rn_words_part(w->line, of->model, rn_object_of(RN_NODE, i));
		rn_folio_cell(w->folio);
		pull_cell(w, before, then);
		pull_cell(w, after, now);
		rows++;
	}
	return rows;
}

static void write_pulls(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 3,
		.heads = {"pull on an anchor, in its worst case", "was", "is"},
		.weights = {0.5, 0.25, 0.25},
		.to_the_right = {false, true, true},
	};
	const rn_result *was = w->review->since->result;
	rn_folio_table(w->folio, &columns);
	(void)pull_rows(w, w->result, was, w->result, false);
	(void)pull_rows(w, was, was, w->result, true);
	rn_folio_table_end(w->folio);
}

void rn_reviewer_changes(rn_reviewer *w)
{
	const rn_edition *since = w->review->since;
	rn_reviewer_chapter(w, "What changed since the edition before");
	rn_reviewer_say(w, "Before: ");
	rn_words_plain(w->line, since->file);
	rn_reviewer_say(w, ", SHA-256 ");
	rn_reviewer_say(w, since->digest);
	rn_reviewer_say(w, ": ");
	rn_verdict_sentence(w->line, since->result, w->units);
	rn_reviewer_say(w, ". Now: ");
	rn_verdict_sentence(w->line, w->result, w->units);
	rn_reviewer_paragraph(w, ".");
	write_inputs(w);
	write_shares(w);
	write_pulls(w);
}
