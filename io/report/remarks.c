/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/remarks.h"

#include <math.h>
#include <string.h>

#include "io/report/verdict.h"

typedef struct writer {
	rn_buffer *line;
	const rn_result *result;
	const rn_model *model;
	rn_units units;
} writer;

static void add_object(writer *w, rn_object object)
{
	rn_words_object(w->line, w->model, object);
}

static void add_case(writer *w, int index)
{
	add_object(w, rn_object_of(RN_CASE, w->result->cases[index].case_index));
}

/* ---- what was seen on the way ---------------------------------------------------------------------- */

static bool same_note(const rn_note *m, const rn_note *n)
{
	return m->kind == n->kind && m->a.kind == n->a.kind && m->a.index == n->a.index &&
	       m->b.index == n->b.index && m->c.index == n->c.index &&
	       memcmp(m->value, n->value, sizeof m->value) == 0;
}

static bool case_notes(const rn_case_result *c, const rn_note *note)
{
	for (int i = 0; i < c->notes.count; i++)
		if (same_note(&c->notes.items[i], note))
			return true;
	return false;
}

/* Whether a case before c has it too. */
static bool seen_before(const rn_result *result, int c, const rn_note *note)
{
	for (int i = 0; i < c; i++)
		if (case_notes(&result->cases[i], note))
			return true;
	return false;
}

/* A note, first seen in case c, with the cases it was seen in when those are not all. */
static void add_seen_in(writer *w, int c, const rn_note *note)
{
	int count = 0;
	for (int i = c; i < w->result->case_count; i++)
		count += case_notes(&w->result->cases[i], note);
	rn_words_note(w->line, w->model, note, w->units);
	if (count == w->result->case_count)
		return;
	const char *before = " (";
	for (int i = c; i < w->result->case_count; i++)
		if (case_notes(&w->result->cases[i], note)) {
			rn_buffer_text(w->line, before);
			add_case(w, i);
			before = ", ";
		}
	rn_buffer_char(w->line, ')');
}

/* What rests on a guessed stretch stands in the table. */
static bool is_told_here(const rn_note *note)
{
	return rn_note_severity(note->kind) == RN_REMARK && note->kind != RN_NOTE_STRETCH_MATTERS &&
	       note->kind != RN_NOTE_TRAVEL;
}

void rn_remarks_notes(rn_buffer *line, const rn_result *result, rn_units units)
{
	writer *w = &(writer){line, result, result->model, units};
	const char *before = "Notes: ";
	for (int c = 0; c < w->result->case_count; c++) {
		const rn_notes *notes = &w->result->cases[c].notes;
		for (int i = 0; i < notes->count; i++) {
			if (!is_told_here(&notes->items[i]) || seen_before(w->result, c, &notes->items[i]))
				continue;
			bool goes_on = notes->items[i].kind == RN_NOTE_PICTURE_MOVE_TOO;
			rn_buffer_text(w->line, goes_on ? " " : before);
			add_seen_in(w, c, &notes->items[i]);
			before = "; ";
		}
	}
	if (w->model->remarks.count > 0) {
		rn_buffer_text(w->line, before);
		rn_words_notes(w->line, w->model, &w->model->remarks, w->units);
	}
	if (w->line->size > 0)
		rn_buffer_char(w->line, '.');
}

int rn_remarks_note_count(const rn_result *result)
{
	int count = result->model->remarks.count;
	for (int c = 0; c < result->case_count; c++) {
		const rn_notes *notes = &result->cases[c].notes;
		for (int i = 0; i < notes->count; i++) {
			const rn_note *note = &notes->items[i];
			bool counts = is_told_here(note) && note->kind != RN_NOTE_PICTURE_MOVE_TOO;
			count += counts && !seen_before(result, c, note);
		}
	}
	return count;
}

/* ---- what was taken off ---------------------------------------------------------------------- */

static const rn_part_result *worst_of_part(const writer *w, int part)
{
	const rn_part_result *worst = NULL;
	for (int c = 0; c < w->result->case_count; c++) {
		const rn_case_result *answer = &w->result->cases[c];
		if (!rn_verdict_has_answer(answer) || part >= answer->part_count)
			continue;
		const rn_part_result *p = &answer->parts[part];
		if (p->unchecked == RN_CHECKED && (!worst || p->utilisation > worst->utilisation))
			worst = p;
	}
	return worst;
}

/* Every factor of every part, in the case in which it is closest to its limit. */
void rn_remarks_taken_off(rn_buffer *line, const rn_result *result, rn_units units)
{
	writer *w = &(writer){line, result, result->model, units};
	const char *before = "Taken off: ";
	int count = w->result->case_count > 0 ? w->result->cases[0].part_count : 0;
	for (int i = 0; i < count; i++) {
		const rn_part_result *part = worst_of_part(w, i);
		if (!part || part->factor_count == 0)
			continue;
		rn_buffer_text(w->line, before);
		add_object(w, part->object);
		if (part->object.kind != RN_NODE && part->at != RN_NONE) {
			rn_buffer_text(w->line, " at ");
			add_object(w, rn_object_of(RN_NODE, part->at));
		}
		for (int k = 0; k < part->factor_count; k++) {
			rn_buffer_text(w->line, k == 0 ? " " : " x ");
			rn_words_factor(w->line, &part->factors[k]);
		}
		before = "; ";
	}
	if (w->line->size > 0)
		rn_buffer_char(w->line, '.');
}

/* The side of a bend the rope flies to when what holds the bend lets go, in case c; false when the
 * rope does not pull there. */
static bool add_bend(writer *w, int c, int node)
{
	double sum[2] = {0, 0};
	const rn_case_result *r = &w->result->cases[c];
	for (int i = 0; rn_verdict_has_answer(r) && i < r->pass_count; i++)
		if (r->passes[i].node == node && !r->passes[i].lifted) {
			sum[0] += r->passes[i].force[0];
			sum[1] += r->passes[i].force[1];
		}
	if (hypot(sum[0], sum[1]) <= rn_words_nothing)
		return false;
	rn_words_beside(w->line, sum);
	rn_buffer_char(w->line, ' ');
	add_object(w, rn_object_of(RN_NODE, node));
	return true;
}

/* Whether bytes [start, end) of the line stand in it before. */
static bool said_already(const rn_buffer *line, size_t from, size_t start)
{
	size_t size = line->size - start;
	for (size_t i = from; size > 0 && i + size <= start; i++)
		if (memcmp(line->bytes + i, line->bytes + start, size) == 0)
			return true;
	return false;
}

void rn_remarks_stand_clear(rn_buffer *line, const rn_result *result, const int *shown, rn_units units)
{
	writer *w = &(writer){line, result, result->model, units};
	const char *before = "Stand clear ";
	for (int node = 0; node < w->model->node_count; node++) {
		size_t from = w->line->size;
		for (int c = 0; c < w->result->case_count; c++) {
			size_t begin = w->line->size;
			rn_buffer_text(w->line, before);
			size_t start = w->line->size;
			bool new = shown[c] == c && add_bend(w, c, node) &&
			           !said_already(w->line, from, start);
			if (new)
				before = ", ";
			else if (w->line->bytes)
				w->line->bytes[w->line->size = begin] = '\0';
		}
	}
	if (w->line->size > 0)
		rn_buffer_text(w->line, ": the way a failing redirect flies.");
}

/* ---- balance ------------------------------------------------------------------------------------ */

/* Even less than is ever printed of a force: it is what keeps the proof open. */
static void add_left_over(writer *w, double force)
{
	if (force >= rn_words_nothing) {
		rn_words_force(w->line, force, RN_UP, w->units);
		return;
	}
	rn_words_number(w->line, force);
	rn_buffer_text(w->line, " N");
}

void rn_remarks_open_balance(rn_buffer *line, const rn_result *result, rn_units units)
{
	writer *w = &(writer){line, result, result->model, units};
	const char *before = "Balance: DOES NOT CLOSE in ";
	for (int c = 0; c < w->result->case_count; c++) {
		const rn_case_result *r = &w->result->cases[c];
		if (!rn_verdict_has_answer(r) || r->balance.closed)
			continue;
		rn_buffer_text(w->line, before);
		add_case(w, c);
		rn_buffer_text(w->line, ": ");
		add_left_over(w, r->balance.worst);
		rn_buffer_text(w->line, " is left over at ");
		add_object(w, rn_object_of(RN_NODE, r->balance.worst_node));
		before = "; in ";
	}
	if (w->line->size > 0)
		rn_buffer_text(w->line, ": do not use these numbers.");
}
