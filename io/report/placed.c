/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/placed.h"

#include <math.h>
#include <string.h>

#include "io/report/finite.h"
#include "io/report/paragraph.h"
#include "io/report/table.h"
#include "io/report/varied.h"
#include "io/report/verdict.h"

typedef struct writer {
	rn_buffer *out;
	rn_buffer line;
	const rn_placed *placed;
	const rn_varied *map;
	rn_units units;
} writer;

/* A place is told to some hundred-thousandth of the range: what is copied gives what was told. */
enum { MORE_DIGITS = 2 };

/* The attributes of a model file are in SI units with their names; they hold for both systems of units. */
static void add_attribute(rn_buffer *b, const rn_placed *placed, int number)
{
	const rn_varied *map = &placed->map;
	const rn_model *m = map->model;
	rn_attribute attribute = m->numbers[map->of[number].number].attribute;
	double range = map->of[number].to - map->of[number].from;
	rn_scale scale = rn_scale_of(m, attribute, range / 20, RN_METRIC);
	rn_buffer_format(b, " %s=\"", rn_attribute_word(attribute));
	rn_scale_value(b, &scale, placed->best.value[number], MORE_DIGITS);
	rn_buffer_char(b, '"');
}

/* "r1" of r1.x */
static void add_owner(rn_buffer *b, const rn_varied *map, int number)
{
	rn_buffer name = rn_buffer_make(&b->allocator);
	rn_varied_name(&name, map, number);
	size_t end = name.size;
	while (end > 0 && name.bytes[end - 1] != '.')
		end--;
	rn_buffer_add(b, name.bytes, end > 0 ? end - 1 : 0);
	b->failed = b->failed || name.failed;
	rn_buffer_release(&name);
}

static bool same_owner(const rn_varied *map, rn_buffer *out)
{
	rn_buffer a = rn_buffer_make(&out->allocator), b = rn_buffer_make(&out->allocator);
	add_owner(&a, map, 0);
	add_owner(&b, map, 1);
	bool same = a.bytes && b.bytes && strcmp(a.bytes, b.bytes) == 0;
	out->failed = out->failed || a.failed || b.failed;
	rn_buffer_release(&a);
	rn_buffer_release(&b);
	return same;
}

void rn_placed_attributes(rn_buffer *b, const rn_placed *placed)
{
	for (int i = 0; i < placed->map.of_count; i++) {
		if (i == 0 || !same_owner(&placed->map, b)) {
			rn_buffer_text(b, i ? "; " : "");
			add_owner(b, &placed->map, i);
		}
		add_attribute(b, placed, i);
	}
}

void rn_placed_goal(rn_buffer *b, const rn_placed *placed)
{
	if (!placed->of_part) {
		rn_buffer_text(b, "worst of all");
		return;
	}
	rn_varied_part(b, &placed->map, placed->map.part);
	if (placed->by_pull)
		rn_buffer_text(b, " (not checked, by what it carries)");
}

/* ---- the text ------------------------------------------------------------------------------ */

static void end_paragraph(writer *w)
{
	rn_paragraph_end(w->out, &w->line);
}

static void add_goal(writer *w, const rn_tried *t)
{
	if (w->placed->of_part)
		rn_varied_own(&w->line, w->map, t, w->units);
	else
		rn_varied_closest(&w->line, w->map, t, w->units);
}

static void add_as_drawn(writer *w)
{
	rn_buffer_text(&w->line, "as drawn, ");
	rn_varied_place(&w->line, w->map, w->map->drawn.value, 0, w->units);
	rn_buffer_text(&w->line, ": ");
	if (w->placed->drawn_goal < 0)
		rn_varied_closest(&w->line, w->map, &w->map->drawn, w->units);
	else
		add_goal(w, &w->map->drawn);
}

static void write_head(writer *w)
{
	const rn_placed *p = w->placed;
	if (!p->found) {
		rn_buffer_text(&w->line, "NO PLACE: in ");
		rn_buffer_format(&w->line, "%d choices there is none with an answer that can be held against its limits.",
		                 w->map->counts[0] * w->map->counts[1]);
	} else if (!p->better) {
		rn_buffer_text(&w->line, "NO BETTER PLACE for the ");
		rn_placed_goal(&w->line, p);
		rn_buffer_text(&w->line, " was found than ");
		add_as_drawn(w);
		rn_buffer_text(&w->line, "; the best that was found, ");
		rn_varied_place(&w->line, w->map, p->best.value, 1, w->units);
		rn_buffer_text(&w->line, ": ");
		add_goal(w, &p->best);
		rn_buffer_char(&w->line, '.');
	} else {
		rn_buffer_text(&w->line, "LEAST for the ");
		rn_placed_goal(&w->line, p);
		rn_buffer_text(&w->line, ": ");
		rn_varied_place(&w->line, w->map, p->best.value, 1, w->units);
		rn_buffer_text(&w->line, ", ");
		add_goal(w, &p->best);
		rn_buffer_text(&w->line, "; ");
		add_as_drawn(w);
		rn_buffer_char(&w->line, '.');
	}
	end_paragraph(w);
}

static void write_verdict(writer *w)
{
	bool better = w->placed->better;
	rn_buffer_text(&w->line, better ? "* With it: " : "* As drawn: ");
	rn_verdict_sentence(&w->line, better ? w->placed->result : w->map->result, w->units);
	end_paragraph(w);
	if (better) {
		rn_buffer_text(&w->line, "In the file: ");
		rn_placed_attributes(&w->line, w->placed);
	}
	end_paragraph(w);
}

static void add_flat(writer *w, int k)
{
	const rn_placed *p = w->placed;
	rn_scale scale = rn_varied_scale(w->map, k, w->units);
	rn_varied_name(&w->line, w->map, k);
	rn_buffer_char(&w->line, ' ');
	rn_scale_bare(&w->line, &scale, p->flat_from[k], 1);
	rn_buffer_text(&w->line, p->flat_from_bound[k]  ? " (its bound) to "
	                         : p->flat_from_lost[k] ? " (no answer below) to "
	                                                : " to ");
	rn_scale_value(&w->line, &scale, p->flat_to[k], 1);
	rn_buffer_text(&w->line, p->flat_to_bound[k] ? " (its bound)" : p->flat_to_lost[k] ? " (no answer above)" : "");
}

static void write_flat(writer *w)
{
	const rn_placed *p = w->placed;
	if (!p->better)
		return;
	rn_buffer_text(&w->line, "It may be off for 5 % more, each alone: ");
	for (int k = 0; k < w->map->of_count; k++) {
		rn_buffer_text(&w->line, k ? "; " : "");
		add_flat(w, k);
	}
	rn_buffer_char(&w->line, '.');
	end_paragraph(w);
	if (p->at_edge)
		rn_buffer_text(&w->line, "IT STANDS AT AN EDGE: right beside it there is no answer, or one that cannot be held against the "
		                         "one as drawn. Keep well away from there.");
	for (int k = 0; k < w->map->of_count; k++) {
		if (p->at_bound[k] == 0)
			continue;
		rn_buffer_text(&w->line, w->line.size > 0 ? " " : "");
		rn_varied_name(&w->line, w->map, k);
		rn_buffer_format(&w->line, " is at its %s bound: what lies beyond may be better, and was not looked at.",
		                 p->at_bound[k] < 0 ? "lower" : "upper");
	}
	end_paragraph(w);
}

/* The part's share in its worst case, below 0 where it is not checked though loaded, or there is no answer. */
static double share_of(const rn_result *result, int part)
{
	double most = -1;
	bool loaded = false;
	for (int c = 0; c < result->case_count; c++) {
		const rn_part_result *p = &result->cases[c].parts[part];
		if (!rn_verdict_has_answer(&result->cases[c]))
			return -1;
		if (p->unchecked == RN_CHECKED)
			most = fmax(most, p->utilisation);
		else
			loaded = loaded || p->demand > rn_words_nothing;
	}
	return loaded && !(most > 1) ? -1 : fmax(most, 0);
}

/* So much of a limit more is worth a word [-]. */
static const double worth_telling = 0.005;

/* What the new place takes off one part it puts on others. */
static void write_moved(writer *w)
{
	const rn_placed *p = w->placed;
	const char *before = "It moves load to other parts: ";
	if (!p->better || !p->result || p->drawn_goal < 0)
		return;
	for (int i = 0; i < w->map->part_count; i++) {
		double drawn = share_of(w->map->result, i), there = share_of(p->result, i);
		if (!(drawn >= 0 && there > drawn + worth_telling))
			continue;
		rn_buffer_text(&w->line, before);
		rn_varied_part(&w->line, w->map, i);
		rn_buffer_char(&w->line, ' ');
		rn_words_percent(&w->line, drawn);
		rn_buffer_text(&w->line, " to ");
		rn_words_percent(&w->line, there);
		rn_buffer_text(&w->line, there > 1 ? " OVER" : "");
		before = ", ";
	}
	rn_buffer_text(&w->line, w->line.size > 0 ? "; the closest is then " : "No part carries more of its limit; the closest is then ");
	rn_varied_closest(&w->line, w->map, &p->best, w->units);
	rn_buffer_char(&w->line, '.');
	end_paragraph(w);
}

/* ---- before and after ---------------------------------------------------------------------- */

static void fill_share(writer *w, rn_table *table, rn_table_cell *cell, const rn_result *result, int part)
{
	double share = share_of(result, part);
	if (share < 0) {
		cell->words = "not checked";
		return;
	}
	rn_varied_bare_percent(&w->line, share);
	cell->number = rn_table_keep(table, &w->line);
	cell->words = share > 1 ? "OVER" : "";
}

/* The hardest pull of all cases on a fixed node. */
static const rn_case_result *hardest(const rn_result *result, int node, double *pull_out)
{
	const rn_case_result *found = NULL;
	*pull_out = 0;
	for (int c = 0; c < result->case_count; c++) {
		const double *pull = result->cases[c].nodes[node].pull;
		double size = hypot(pull[0], pull[1]);
		if (rn_verdict_has_answer(&result->cases[c]) && size > *pull_out) {
			*pull_out = size;
			found = &result->cases[c];
		}
	}
	return found;
}

static void fill_pull(writer *w, rn_table *table, rn_table_cell *cell, const rn_result *result, int node)
{
	double size;
	const rn_case_result *a = hardest(result, node, &size);
	if (!a)
		return;
	rn_words_force(&w->line, size, RN_UP, w->units);
	rn_buffer_char(&w->line, ' ');
	rn_words_direction(&w->line, a->nodes[node].pull, RN_POINT_SHORT);
	cell->words = rn_table_keep(table, &w->line);
}

static bool is_pulled(const writer *w, int node)
{
	double before, after;
	(void)hardest(w->map->result, node, &before);
	(void)hardest(w->placed->result, node, &after);
	return rn_node_is_fixed(&w->map->model->nodes[node]) && (before > rn_words_nothing || after > rn_words_nothing);
}

static void fill_table(writer *w, rn_table *table)
{
	const rn_varied *map = w->map;
	table->title = "worst of all cases";
	rn_table_head(table, 0, "as drawn, % of limit");
	rn_table_head(table, 1, "there");
	for (int i = 0; i < map->part_count; i++) {
		rn_varied_part(&w->line, map, i);
		rn_table_row *row = rn_table_add_row(table, rn_table_keep(table, &w->line), "");
		if (!row)
			return;
		fill_share(w, table, &row->cells[0], map->result, i);
		fill_share(w, table, &row->cells[1], w->placed->result, i);
		row->cells[0].marked = i == map->drawn.part;
		row->cells[1].marked = i == w->placed->best.part;
	}
	for (int i = 0; i < map->model->node_count; i++) {
		if (!is_pulled(w, i))
			continue;
		rn_words_object(&w->line, map->model, rn_object_of(RN_NODE, i));
		const char *name = rn_table_keep(table, &w->line);
		rn_table_row *row = rn_table_add_row(table, name, "pull");
		if (!row)
			return;
		fill_pull(w, table, &row->cells[0], map->result, i);
		fill_pull(w, table, &row->cells[1], w->placed->result, i);
	}
}

static rn_status write_table(writer *w)
{
	if (!w->placed->better || !w->placed->result)
		return RN_OK;
	rn_table table = rn_table_make(&w->out->allocator, 2);
	fill_table(w, &table);
	rn_status status = rn_table_status(&table);
	rn_buffer_char(w->out, '\n');
	if (status == RN_OK)
		rn_table_print(w->out, &table);
	rn_buffer_char(w->out, '\n');
	rn_table_release(&table);
	return status;
}

static void write_basis(writer *w)
{
	rn_buffer_text(&w->line, "Looked at: ");
	for (int i = 0; i < w->map->of_count; i++) {
		rn_buffer_text(&w->line, i ? ", " : "");
		rn_varied_range(&w->line, w->map, i, w->units);
	}
	rn_buffer_format(&w->line, ", in %d answers. That there is nothing better is not proved.", w->map->solved_count);
	if (w->placed->drawn_unlike > 0)
		rn_buffer_text(&w->line, " Places were left out where a part that is checked as drawn would not be.");
	end_paragraph(w);
	rn_varied_remarks(&w->line, w->map);
	end_paragraph(w);
}

static rn_status write_text(writer *w)
{
	write_head(w);
	write_verdict(w);
	write_flat(w);
	write_moved(w);
	RN_TRY(write_table(w));
	write_basis(w);
	rn_varied_cautions(w->out, &w->line, w->map->model, w->units);
	return rn_buffer_status(w->out);
}

rn_status rn_placed_text(rn_buffer *buffer, const rn_placed *placed, rn_units units)
{
	RN_TRY(rn_finite_check(placed->map.result));
	if (placed->result)
		RN_TRY(rn_finite_check(placed->result));
	writer w = {.out = buffer,
	            .line = rn_buffer_make(&buffer->allocator),
	            .placed = placed,
	            .map = &placed->map,
	            .units = units};
	rn_status status = write_text(&w);
	rn_buffer_release(&w.line);
	return status;
}

int rn_placed_exit(const rn_placed *p)
{
	if (!p->found) {
		int code = rn_varied_exit(&p->map);
		return code > 1 ? code : 1;
	}
	return (p->better ? p->result : p->map.result)->verdict.exit_class;
}

/* ---- for other programs ---------------------------------------------------------------------- */

static void tell_flat(rn_teller *t, const rn_placed *p)
{
	rn_tell_list(t, "flat");
	for (int k = 0; p->found && k < p->map.of_count; k++) {
		rn_tell_open(t, NULL);
		rn_varied_name(&t->words, &p->map, k);
		rn_tell_words(t, "name");
		rn_stream_number(t->stream, "from", p->flat_from[k]);
		rn_stream_bool(t->stream, "from_is_bound", p->flat_from_bound[k]);
		rn_stream_number(t->stream, "to", p->flat_to[k]);
		rn_stream_bool(t->stream, "to_is_bound", p->flat_to_bound[k]);
		rn_stream_bool(t->stream, "lost_below", p->flat_from_lost[k]);
		rn_stream_bool(t->stream, "lost_above", p->flat_to_lost[k]);
		rn_stream_text(t->stream, "best_at", p->at_bound[k] < 0 ? "lower bound" : p->at_bound[k] > 0 ? "upper bound" : NULL);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

static void tell_share(rn_teller *t, const char *key, const rn_result *result, int part)
{
	double share = share_of(result, part);
	if (share < 0)
		rn_stream_null(t->stream, key);
	else
		rn_stream_number(t->stream, key, share);
}

static void tell_parts(rn_teller *t, const rn_placed *p)
{
	rn_tell_list(t, "parts");
	for (int i = 0; p->result && i < p->map.part_count; i++) {
		rn_tell_open(t, NULL);
		rn_varied_part(&t->words, &p->map, i);
		rn_tell_words(t, "part");
		tell_share(t, "drawn", p->map.result, i);
		tell_share(t, "best", p->result, i);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

static void tell_pull(rn_teller *t, const char *key, const rn_result *result, int node)
{
	double size;
	const rn_case_result *a = hardest(result, node, &size);
	if (!a) {
		rn_stream_null(t->stream, key);
		return;
	}
	rn_tell_open(t, key);
	rn_tell_object(t, "case", rn_object_of(RN_CASE, a->case_index));
	rn_stream_number(t->stream, "x_N", a->nodes[node].pull[0]);
	rn_stream_number(t->stream, "y_N", a->nodes[node].pull[1]);
	rn_tell_close(t);
}

static void tell_pulls(rn_teller *t, const rn_placed *p)
{
	rn_tell_list(t, "pulls");
	for (int i = 0; p->result && i < p->map.model->node_count; i++) {
		if (!rn_node_is_fixed(&p->map.model->nodes[i]))
			continue;
		rn_tell_open(t, NULL);
		rn_tell_node(t, "node", i);
		tell_pull(t, "drawn", p->map.result, i);
		tell_pull(t, "best", p->result, i);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

rn_status rn_placed_tell(rn_stream *stream, const rn_placed *p, const rn_answer_options *options)
{
	RN_TRY(rn_finite_check(p->map.result));
	if (p->result)
		RN_TRY(rn_finite_check(p->result));
	rn_teller t = rn_teller_make(stream, p->map.model, options);
	rn_tell_open(&t, NULL);
	rn_tell_head(&t, options);
	rn_varied_tell_numbers(&t, &p->map);
	rn_tell_object(&t, "asked_part", p->of_part ? p->map.result->cases[0].parts[p->map.part].object
	                                            : rn_object_of(RN_NODE, RN_NONE));
	rn_stream_bool(t.stream, "by_load", p->by_pull);
	rn_stream_bool(t.stream, "better", p->better);
	rn_stream_bool(t.stream, "at_edge", p->at_edge);
	rn_varied_tell_tried(&t, "drawn", &p->map, &p->map.drawn);
	if (p->found) {
		rn_varied_tell_tried(&t, "best", &p->map, &p->best);
		rn_placed_attributes(&t.words, p);
		rn_tell_words(&t, "attributes");
	} else {
		rn_stream_null(t.stream, "best");
		rn_stream_null(t.stream, "attributes");
	}
	tell_flat(&t, p);
	tell_parts(&t, p);
	tell_pulls(&t, p);
	rn_varied_tell_all(&t, &p->map);
	rn_tell_guessed(&t);
	rn_tell_cautions(&t);
	rn_tell_close(&t);
	return rn_teller_end(&t);
}
