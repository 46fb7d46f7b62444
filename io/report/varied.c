/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/varied.h"

#include <math.h>
#include <string.h>

#include "io/report/cautions.h"
#include "io/report/finite.h"
#include "io/report/paragraph.h"
#include "io/report/table.h"

typedef struct writer {
	rn_buffer *out;
	rn_buffer line;
	const rn_varied *varied;
	const rn_model *model;
	rn_units units;
} writer;

/* ---- shared -------------------------------------------------------------------------------- */

rn_kind_of_choice rn_varied_kind(const rn_tried *t)
{
	if (t->stand != RN_STAND_FOUND)
		return RN_CHOICE_LOST;
	if (t->part == RN_NONE)
		return RN_CHOICE_UNKNOWN;
	return t->utilisation > 1 ? RN_CHOICE_OVER : RN_CHOICE_BELOW;
}

rn_scale rn_varied_scale(const rn_varied *v, int number, rn_units units)
{
	const rn_varied_number *n = &v->of[number];
	return rn_scale_of(v->model, v->model->numbers[n->number].attribute, (n->to - n->from) / (v->counts[number] - 1), units);
}

/* The ends of a sling round a stem share the height that the file gives the sling. */
void rn_varied_name(rn_buffer *buffer, const rn_varied *v, int number)
{
	const rn_model *m = v->model;
	const rn_number *n = &m->numbers[v->of[number].number];
	int sling = n->object.kind == RN_NODE ? m->nodes[n->object.index].sling : RN_NONE;
	if (sling != RN_NONE)
		rn_buffer_format(buffer, "%s.%s", m->slings[sling].id, rn_attribute_word(n->attribute));
	else
		(void)rn_words_number_name(buffer, m, v->of[number].number);
}

void rn_varied_range(rn_buffer *buffer, const rn_varied *v, int number, rn_units units)
{
	rn_scale scale = rn_varied_scale(v, number, units);
	rn_varied_name(buffer, v, number);
	rn_buffer_text(buffer, " from ");
	rn_scale_bare(buffer, &scale, v->of[number].from, 0);
	rn_buffer_text(buffer, " to ");
	rn_scale_value(buffer, &scale, v->of[number].to, 0);
}

void rn_varied_place(rn_buffer *buffer, const rn_varied *v, const double *value, int more, rn_units units)
{
	for (int i = 0; i < v->of_count; i++) {
		rn_scale scale = rn_varied_scale(v, i, units);
		rn_buffer_text(buffer, i ? ", " : "");
		rn_varied_name(buffer, v, i);
		rn_buffer_char(buffer, ' ');
		rn_scale_value(buffer, &scale, value[i], more);
	}
}

void rn_varied_part(rn_buffer *buffer, const rn_varied *v, int part)
{
	const rn_part_result *p = &v->result->cases[0].parts[part];
	if (p->object.kind != RN_ITEM || p->at == RN_NONE) {
		rn_words_part(buffer, v->model, p->object);
		return;
	}
	rn_words_object(buffer, v->model, p->object);
	rn_buffer_text(buffer, " at ");
	rn_words_object(buffer, v->model, rn_object_of(RN_NODE, p->at));
}

void rn_varied_bare_percent(rn_buffer *buffer, double ratio)
{
	static const char sign[] = " %";
	rn_words_percent(buffer, ratio);
	if (!buffer->failed && buffer->size >= sizeof sign - 1)
		buffer->bytes[buffer->size -= sizeof sign - 1] = '\0';
}

static void add_case(rn_buffer *buffer, const rn_varied *v, int case_index)
{
	if (case_index == RN_NONE)
		return;
	rn_buffer_text(buffer, " in ");
	rn_words_object(buffer, v->model, rn_object_of(RN_CASE, case_index));
}

static void add_lost(rn_buffer *buffer, const rn_varied *v, const rn_tried *t, rn_units units)
{
	if (t->stand == RN_STAND_CANNOT_BE)
		rn_buffer_text(buffer, "cannot be: ");
	if (t->why.kind != RN_NOTE_COUNT)
		rn_words_note(buffer, v->model, &t->why, units);
	else
		rn_buffer_text(buffer, t->stand == RN_STAND_NOT_FOUND ? "no equilibrium was found" : "nothing holds it");
	add_case(buffer, v, t->case_index);
}

void rn_varied_closest(rn_buffer *buffer, const rn_varied *v, const rn_tried *t, rn_units units)
{
	if (t->stand != RN_STAND_FOUND) {
		add_lost(buffer, v, t, units);
		return;
	}
	if (t->part == RN_NONE) {
		rn_buffer_text(buffer, "nothing has a limit");
		return;
	}
	rn_words_percent(buffer, t->utilisation);
	rn_buffer_text(buffer, t->utilisation > 1 ? " OVER, " : ", ");
	rn_varied_part(buffer, v, t->part);
	add_case(buffer, v, t->case_index);
}

static bool is_of_stem(const rn_varied *v)
{
	return v->result->cases[0].parts[v->part].object.kind == RN_STEM;
}

static void add_own_load(rn_buffer *buffer, const rn_varied *v, const rn_tried *t, rn_units units)
{
	if (is_of_stem(v))
		rn_words_stress(buffer, t->own_stress, RN_UP, units);
	else
		rn_words_force(buffer, t->own_demand, RN_UP, units);
}

void rn_varied_own(rn_buffer *buffer, const rn_varied *v, const rn_tried *t, rn_units units)
{
	if (t->stand != RN_STAND_FOUND || t->own_case == RN_NONE)
		return;
	if (t->own_checked) {
		rn_words_percent(buffer, t->own_utilisation);
		rn_buffer_text(buffer, t->own_utilisation > 1 ? " OVER, " : ", ");
	}
	add_own_load(buffer, v, t, units);
	add_case(buffer, v, t->own_case);
}

static bool is_place(rn_attribute attribute)
{
	return attribute == RN_ATTRIBUTE_X || attribute == RN_ATTRIBUTE_Y || attribute == RN_ATTRIBUTE_HEIGHT ||
	       attribute == RN_ATTRIBUTE_LEAN;
}

/* Whether a length is told and does not follow the drawing. */
static bool any_drawn_length(const rn_model *m)
{
	for (int i = 0; i < m->line_count; i++)
		if (!rn_model_has(m, rn_object_of(RN_LINE, i), RN_ATTRIBUTE_LENGTH))
			return true;
	for (int i = 0; i < m->leg_count; i++)
		if (!rn_model_has(m, rn_object_of(RN_LEG, i), RN_ATTRIBUTE_LENGTH) &&
		    !rn_model_has(m, rn_object_of(RN_LEG, i), RN_ATTRIBUTE_REACH))
			return true;
	return false;
}

/* Other cases than the ones that are asked about keep what they set. */
static bool keeps(const rn_varied *v, const rn_case_result *a, int number)
{
	const rn_case *c = &v->model->cases[a->case_index];
	for (int k = 0; k < c->setting_count && v->result->case_count > 1; k++)
		if (v->model->settings[c->first_setting + k].number == number)
			return true;
	return false;
}

/* Less than anybody sees of a utilisation [-]. */
static const double same_share = 1e-6;

bool rn_varied_is_level(const rn_varied *v)
{
	int first = RN_NONE, found = 0;
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++) {
		if (v->tried[i].stand != RN_STAND_FOUND)
			continue;
		first = first == RN_NONE ? i : first;
		found++;
		for (int p = 0; p < v->part_count; p++)
			if (fabs(v->shares[i * v->part_count + p] - v->shares[first * v->part_count + p]) > same_share)
				return false;
	}
	return found > 1;
}

void rn_varied_remarks(rn_buffer *line, const rn_varied *v)
{
	bool moved = false;
	for (int i = 0; i < v->of_count; i++)
		moved = moved || is_place(v->model->numbers[v->of[i].number].attribute);
	if (rn_varied_is_level(v))
		rn_buffer_format(line, "No part takes another share of its limit with it%s. ",
		                 moved ? ": what floats settles where ropes and lengths put it, wherever it is drawn"
		                       : "; what a hand holds and how far things move may still change");
	if (moved && any_drawn_length(v->model))
		rn_buffer_text(line, "Ropes are as long as they are drawn: those that come to another place have another length, but "
		                     "where the file gives one.");
	for (int i = 0; i < v->of_count; i++)
		for (int c = 0; c < v->result->case_count; c++) {
			if (!keeps(v, &v->result->cases[c], v->of[i].number))
				continue;
			rn_buffer_text(line, line->size > 0 ? " Case " : "Case ");
			rn_words_object(line, v->model, rn_object_of(RN_CASE, v->result->cases[c].case_index));
			rn_buffer_text(line, " sets ");
			rn_varied_name(line, v, i);
			rn_buffer_text(line, " itself and keeps it (--case varies it there).");
		}
}

static void end_notes(rn_buffer *out, rn_buffer *line, const char *head, const rn_model *m, const rn_notes *notes,
                      rn_units units)
{
	if (notes->count == 0)
		return;
	rn_buffer_text(line, head);
	rn_words_notes(line, m, notes, units);
	rn_buffer_char(line, '.');
	rn_paragraph_end(out, line);
}

void rn_varied_cautions(rn_buffer *out, rn_buffer *line, const rn_model *m, rn_units units)
{
	rn_words_doubts(line, m, units);
	rn_paragraph_end(out, line);
	end_notes(out, line, "Notes: ", m, &m->remarks, units);
	end_notes(out, line, "Guessed: ", m, &m->guesses, units);
	rn_cautions_sight(line, m);
	rn_paragraph_end(out, line);
	rn_buffer_text(line, "Cautions: ");
	rn_cautions_words(line, m);
	rn_paragraph_end(out, line);
}

/* ---- the head ------------------------------------------------------------------------------ */

static void end_paragraph(writer *w)
{
	rn_paragraph_end(w->out, &w->line);
}

static void add_number(writer *w, double value, int more)
{
	rn_scale scale = rn_varied_scale(w->varied, 0, w->units);
	rn_scale_value(&w->line, &scale, value, more);
}

/* Where one number is of one kind, from turn to turn: " from 2.00 to 2.41 m, from 5.03 to 6.00 m". */
static void add_stretches(writer *w, rn_kind_of_choice kind, const char *before)
{
	const rn_varied *v = w->varied;
	rn_scale scale = rn_varied_scale(v, 0, w->units);
	/* a stretch whose ends read alike is a point on paper */
	double from = v->of[0].from, told_apart = scale.per_unit * pow(10, -scale.digits - 1);
	const rn_tried *at = &v->tried[0];
	bool inside = rn_varied_kind(at) == kind;
	for (int i = 0; i <= v->turn_count; i++) {
		bool end = i == v->turn_count;
		rn_kind_of_choice next = end ? RN_CHOICE_LOST : rn_varied_kind(&v->turns[i].above);
		double to = end ? v->of[0].to : v->turns[i].value;
		if (!end && (next == kind) == inside)
			continue;
		if (inside && to - from > told_apart) {
			rn_buffer_text(&w->line, before);
			rn_buffer_text(&w->line, "from ");
			rn_scale_bare(&w->line, &scale, from, 1);
			rn_buffer_text(&w->line, " to ");
			rn_scale_value(&w->line, &scale, to, 1);
			before = ", ";
		}
		inside = next == kind;
		from = to;
	}
}

/* The first line says what is over, first of all. */
static void write_stretches(writer *w)
{
	static const struct {
		rn_kind_of_choice kind;
		const char *words;
	} kinds[] = {{RN_CHOICE_OVER, "OVER ITS LIMIT"},
	             {RN_CHOICE_LOST, "NO ANSWER"},
	             {RN_CHOICE_UNKNOWN, "NOT CHECKED"},
	             {RN_CHOICE_BELOW, "none over its limit"}};
	for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
		rn_buffer head = rn_buffer_make(&w->out->allocator);
		bool first = w->line.size == 0;
		rn_buffer_format(&head, "%s%s with ", first ? "" : "; ",
		                 first && kinds[k].kind == RN_CHOICE_BELOW ? "None over its limit" : kinds[k].words);
		rn_varied_name(&head, w->varied, 0);
		rn_buffer_char(&head, ' ');
		add_stretches(w, kinds[k].kind, head.bytes ? head.bytes : "");
		w->line.failed = w->line.failed || head.failed;
		rn_buffer_release(&head);
	}
	rn_buffer_char(&w->line, '.');
	end_paragraph(w);
}

static int count_of(const rn_varied *v, rn_kind_of_choice kind)
{
	int count = 0;
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++)
		count += rn_varied_kind(&v->tried[i]) == kind;
	return count;
}

static void write_counts(writer *w)
{
	const rn_varied *v = w->varied;
	int over = count_of(v, RN_CHOICE_OVER), lost = count_of(v, RN_CHOICE_LOST), all = v->counts[0] * v->counts[1];
	if (over > 0)
		rn_buffer_format(&w->line, "OVER ITS LIMIT in %d of %d choices of ", over, all);
	else
		rn_buffer_format(&w->line, "None over its limit in %d choices of ", all);
	rn_varied_range(&w->line, v, 0, w->units);
	rn_buffer_text(&w->line, " and ");
	rn_varied_range(&w->line, v, 1, w->units);
	if (lost > 0)
		rn_buffer_format(&w->line, "; NO ANSWER in %d", lost);
	rn_buffer_char(&w->line, '.');
	end_paragraph(w);
}

static int most_unchecked(const rn_varied *v)
{
	int most = 0;
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++)
		most = v->tried[i].unchecked_count > most ? v->tried[i].unchecked_count : most;
	return most;
}

static void write_unchecked(writer *w)
{
	int most = most_unchecked(w->varied);
	if (most > 0)
		rn_buffer_format(&w->line, "NOT CHECKED: up to %d %s load without a limit and %s not in these figures.", most,
		                 most == 1 ? "part carries" : "parts carry", most == 1 ? "is" : "are");
	end_paragraph(w);
}

/* Right beside a place where answers end. */
static bool is_at_edge(const rn_varied *v)
{
	for (int i = 0; i < v->turn_count; i++) {
		bool ends = rn_varied_kind(&v->turns[i].below) < RN_CHOICE_OVER || rn_varied_kind(&v->turns[i].above) < RN_CHOICE_OVER;
		if (ends && fabs(v->turns[i].value - v->least.value[0]) < 1e-5 * (v->of[0].to - v->of[0].from))
			return true;
	}
	return false;
}

static void write_least(writer *w)
{
	const rn_varied *v = w->varied;
	if (v->has_least && !rn_varied_is_level(v)) {
		rn_buffer_text(&w->line, "* Least: ");
		rn_varied_closest(&w->line, v, &v->least, w->units);
		rn_buffer_text(&w->line, ", with ");
		rn_varied_place(&w->line, v, v->least.value, 1, w->units);
		rn_buffer_text(&w->line, is_at_edge(v) ? ", AT THE EDGE: right beside it there is no answer, or none that is checked." : ".");
	}
	end_paragraph(w);
	rn_buffer_text(&w->line, "As drawn, with ");
	rn_varied_place(&w->line, v, v->drawn.value, 0, w->units);
	rn_buffer_text(&w->line, ": ");
	rn_varied_closest(&w->line, v, &v->drawn, w->units);
	rn_buffer_char(&w->line, '.');
	end_paragraph(w);
}

/* ---- one number ---------------------------------------------------------------------------- */

static void fill_cell(writer *w, rn_table *table, rn_table_cell *cell, const rn_tried *t)
{
	const rn_varied *v = w->varied;
	if (rn_varied_kind(t) < RN_CHOICE_OVER) {
		rn_varied_closest(&w->line, v, t, w->units);
		cell->words = rn_table_keep(table, &w->line);
		return;
	}
	rn_varied_bare_percent(&w->line, t->utilisation);
	cell->number = rn_table_keep(table, &w->line);
	rn_varied_part(&w->line, v, t->part);
	add_case(&w->line, v, t->case_index);
	if (t->utilisation > 1)
		rn_buffer_text(&w->line, " OVER");
	if (t->unchecked_count > 0)
		rn_buffer_format(&w->line, ", %d not checked", t->unchecked_count);
	cell->words = rn_table_keep(table, &w->line);
}

static void fill_own(writer *w, rn_table *table, rn_table_cell *cell, const rn_tried *t)
{
	const rn_varied *v = w->varied;
	if (t->stand != RN_STAND_FOUND || t->own_case == RN_NONE)
		return;
	if (t->own_checked) {
		rn_varied_bare_percent(&w->line, t->own_utilisation);
		cell->number = rn_table_keep(table, &w->line);
	}
	add_own_load(&w->line, v, t, w->units);
	add_case(&w->line, v, t->own_case);
	cell->words = rn_table_keep(table, &w->line);
}

static void fill_table(writer *w, rn_table *table)
{
	const rn_varied *v = w->varied;
	rn_scale scale = rn_varied_scale(v, 0, w->units);
	rn_varied_name(&w->line, v, 0);
	table->title = rn_table_keep(table, &w->line);
	rn_table_head(table, 0, "% of limit, closest");
	if (v->part != RN_NONE) {
		rn_varied_part(&w->line, v, v->part);
		rn_table_head(table, 1, rn_table_keep(table, &w->line));
	}
	for (int i = 0; i < v->counts[0]; i++) {
		rn_scale_value(&w->line, &scale, v->tried[i].value[0], 0);
		rn_table_row *row = rn_table_add_row(table, rn_table_keep(table, &w->line), "");
		if (!row)
			return;
		fill_cell(w, table, &row->cells[0], &v->tried[i]);
		if (v->part != RN_NONE)
			fill_own(w, table, &row->cells[1], &v->tried[i]);
	}
}

static rn_status write_table(writer *w)
{
	rn_table table = rn_table_make(&w->out->allocator, w->varied->part == RN_NONE ? 1 : 2);
	fill_table(w, &table);
	rn_status status = rn_table_status(&table);
	rn_buffer_char(w->out, '\n');
	if (status == RN_OK)
		rn_table_print(w->out, &table);
	rn_table_release(&table);
	return status;
}

/* "at 3.41 m stem ash comes over its limit in raising" */
static void add_turn(writer *w, const rn_turn *t)
{
	const rn_tried *of = t->kind == RN_TURN_UNDER ? &t->below : &t->above;
	rn_buffer_text(&w->line, t->kind == RN_TURN_LOST || t->kind == RN_TURN_FOUND ? "from " : "at ");
	add_number(w, t->value, 1);
	switch (t->kind) {
	case RN_TURN_LOST:
		rn_buffer_text(&w->line, " up no answer: ");
		add_lost(&w->line, w->varied, &t->above, w->units);
		return;
	case RN_TURN_FOUND:
		rn_buffer_text(&w->line, " up an answer, ");
		rn_varied_closest(&w->line, w->varied, &t->above, w->units);
		return;
	case RN_TURN_GOVERNS:
		rn_buffer_char(&w->line, ' ');
		if (t->above.part == RN_NONE) {
			rn_buffer_text(&w->line, "nothing is checked any more");
			return;
		}
		rn_varied_part(&w->line, w->varied, t->above.part);
		rn_buffer_text(&w->line, " becomes the closest, ");
		rn_words_percent(&w->line, t->above.utilisation);
		if (t->above.unchecked_count > t->below.unchecked_count)
			rn_buffer_format(&w->line, " (%d not checked)", t->above.unchecked_count);
		break;
	default:
		rn_buffer_char(&w->line, ' ');
		if (of->part != RN_NONE)
			rn_varied_part(&w->line, w->varied, of->part);
		rn_buffer_text(&w->line, t->kind == RN_TURN_OVER ? " comes over its limit" : " comes back below its limit");
	}
	add_case(&w->line, w->varied, of->case_index);
}

static void write_turns(writer *w)
{
	const char *before = "Upward: ";
	for (int i = 0; i < w->varied->turn_count; i++) {
		rn_buffer_text(&w->line, before);
		add_turn(w, &w->varied->turns[i]);
		before = "; ";
	}
	if (w->line.size > 0)
		rn_buffer_char(&w->line, '.');
	end_paragraph(w);
}

/* ---- two numbers --------------------------------------------------------------------------- */

/* Columns of a map beside its labels. */
enum { MAP_COLUMNS = 14, MAP_CELL = 6 };

static void write_cell(writer *w, const rn_tried *t)
{
	rn_buffer cell = rn_buffer_make(&w->out->allocator);
	rn_kind_of_choice kind = rn_varied_kind(t);
	double percent = ceil(100 * t->utilisation - 1e-9);
	if (kind == RN_CHOICE_LOST)
		rn_buffer_text(&cell, "x ");
	else if (kind == RN_CHOICE_UNKNOWN)
		rn_buffer_text(&cell, "? ");
	else if (percent < 1e4)
		rn_buffer_format(&cell, "%d%s", (int)percent + (kind == RN_CHOICE_OVER && percent <= 100), kind == RN_CHOICE_OVER ? "#" : " ");
	else
		rn_buffer_text(&cell, ">>#");
	for (size_t i = cell.size; i < MAP_CELL; i++)
		rn_buffer_char(w->out, ' ');
	rn_buffer_text(w->out, cell.bytes ? cell.bytes : "");
	w->out->failed = w->out->failed || cell.failed;
	rn_buffer_release(&cell);
}

/* The choices with one value of the second number. */
static const rn_tried *row_of(const rn_varied *v, int y)
{
	return v->tried + (size_t)y * (size_t)v->counts[0];
}

static int label_columns(const rn_varied *v, const rn_scale *scale, rn_buffer *out)
{
	rn_buffer text = rn_buffer_make(&out->allocator);
	size_t most = 0;
	for (int i = 0; i < v->counts[1]; i++) {
		text.size = 0;
		rn_scale_bare(&text, scale, row_of(v, i)->value[1], 0);
		most = text.size > most ? text.size : most;
	}
	out->failed = out->failed || text.failed;
	rn_buffer_release(&text);
	return (int)most;
}

static void cut_spaces(rn_buffer *out)
{
	while (out->size > 0 && out->bytes[out->size - 1] == ' ')
		out->bytes[--out->size] = '\0';
}

/* The second number runs up the page, the first to the right; of a map too wide every so many-th column. */
static void write_map(writer *w)
{
	const rn_varied *v = w->varied;
	rn_scale across = rn_varied_scale(v, 0, w->units), up = rn_varied_scale(v, 1, w->units);
	int each = (v->counts[0] - 1) / MAP_COLUMNS + 1, wide = label_columns(v, &up, w->out);
	rn_buffer_text(w->out, "\n");
	rn_varied_name(w->out, v, 1);
	rn_buffer_format(w->out, "%s%s up, ", *up.unit ? ", " : "", up.unit);
	rn_varied_name(w->out, v, 0);
	rn_buffer_format(w->out, "%s%s to the right: %% of the limit of the closest part\n", *across.unit ? ", " : "", across.unit);
	for (int y = v->counts[1] - 1; y >= 0; y--) {
		rn_scale_bare(&w->line, &up, row_of(v, y)->value[1], 0);
		rn_paragraph_fit(w->out, "", wide - (int)w->line.size, wide);
		rn_buffer_text(w->out, w->line.bytes ? w->line.bytes : "");
		w->line.size = 0;
		for (int x = 0; x < v->counts[0]; x += each)
			write_cell(w, row_of(v, y) + x);
		cut_spaces(w->out);
		rn_buffer_char(w->out, '\n');
	}
	rn_paragraph_fit(w->out, "", wide, wide);
	for (int x = 0; x < v->counts[0]; x += each) {
		rn_scale_bare(&w->line, &across, v->tried[x].value[0], 0);
		rn_paragraph_fit(w->out, "", MAP_CELL - 1 - (int)w->line.size, MAP_CELL);
		rn_buffer_format(w->out, "%s ", w->line.bytes ? w->line.bytes : "");
		w->line.size = 0;
	}
	cut_spaces(w->out);
	rn_buffer_char(w->out, '\n');
	rn_buffer_text(&w->line, "# over its limit, x no answer, ? nothing has a limit.");
	if (each > 1)
		rn_buffer_format(&w->line, " One column in %d; all of them with --format csv.", each);
	end_paragraph(w);
}

static void write_governing(writer *w)
{
	const rn_varied *v = w->varied;
	const char *before = "Closest: ";
	for (int p = 0; p < v->part_count; p++) {
		int count = 0;
		for (int i = 0; i < v->counts[0] * v->counts[1]; i++)
			count += rn_varied_kind(&v->tried[i]) >= RN_CHOICE_OVER && v->tried[i].part == p;
		if (count == 0)
			continue;
		rn_buffer_text(&w->line, before);
		rn_varied_part(&w->line, v, p);
		rn_buffer_format(&w->line, " in %d", count);
		before = "; ";
	}
	if (w->line.size > 0)
		rn_buffer_format(&w->line, ", of %d.", v->counts[0] * v->counts[1]);
	end_paragraph(w);
}

/* The first of each kind of no answer says why. */
static void write_lost(writer *w)
{
	const rn_varied *v = w->varied;
	bool told[RN_STAND_CANNOT_BE + 1] = {false};
	const char *before = "No answer: ";
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++) {
		const rn_tried *t = &v->tried[i];
		if (t->stand == RN_STAND_FOUND || told[t->stand])
			continue;
		told[t->stand] = true;
		rn_buffer_text(&w->line, before);
		add_lost(&w->line, v, t, w->units);
		rn_buffer_text(&w->line, ", with ");
		rn_varied_place(&w->line, v, t->value, 0, w->units);
		before = "; ";
	}
	if (w->line.size > 0)
		rn_buffer_char(&w->line, '.');
	end_paragraph(w);
}

/* ---- the text ------------------------------------------------------------------------------ */

static rn_status write_text(writer *w)
{
	bool one = w->varied->of_count == 1;
	(one ? write_stretches : write_counts)(w);
	write_unchecked(w);
	write_least(w);
	if (one) {
		write_turns(w);
		RN_TRY(write_table(w));
		rn_buffer_char(w->out, '\n');
	} else {
		write_governing(w);
		write_lost(w);
		write_map(w);
		rn_buffer_char(w->out, '\n');
	}
	rn_varied_remarks(&w->line, w->varied);
	end_paragraph(w);
	rn_varied_cautions(w->out, &w->line, w->model, w->units);
	return rn_buffer_status(w->out);
}

rn_status rn_varied_text(rn_buffer *buffer, const rn_varied *varied, rn_units units)
{
	RN_TRY(rn_finite_check(varied->result));
	writer w = {.out = buffer,
	            .line = rn_buffer_make(&buffer->allocator),
	            .varied = varied,
	            .model = varied->model,
	            .units = units};
	rn_status status = write_text(&w);
	rn_buffer_release(&w.line);
	return status;
}

int rn_varied_exit(const rn_varied *v)
{
	int all = v->counts[0] * v->counts[1], lost = count_of(v, RN_CHOICE_LOST);
	bool not_found = false;
	for (int i = 0; i < all; i++)
		not_found = not_found || v->tried[i].stand == RN_STAND_NOT_FOUND;
	if (lost == all)
		return not_found ? 5 : 4;
	return count_of(v, RN_CHOICE_BELOW) < all || most_unchecked(v) > 0 ? 1 : 0;
}

/* ---- for other programs ---------------------------------------------------------------------- */

void rn_varied_tell_numbers(rn_teller *t, const rn_varied *v)
{
	static const char *const units[] = {
#define X(name, unit) unit,
		RN_QUANTITY_LIST(X)
#undef X
	};
	rn_tell_list(t, "numbers");
	for (int i = 0; i < v->of_count; i++) {
		const rn_number *n = &v->model->numbers[v->of[i].number];
		rn_tell_open(t, NULL);
		rn_varied_name(&t->words, v, i);
		rn_tell_words(t, "name");
		rn_stream_text(t->stream, "unit", units[rn_attribute_quantity(n->attribute)]);
		rn_stream_number(t->stream, "drawn", v->drawn.value[i]);
		rn_stream_number(t->stream, "from", v->of[i].from);
		rn_stream_number(t->stream, "to", v->of[i].to);
		rn_stream_whole(t->stream, "count", v->counts[i]);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

static void tell_part(rn_teller *t, const rn_varied *v, int part)
{
	if (part == RN_NONE) {
		rn_stream_null(t->stream, "part");
	} else {
		rn_varied_part(&t->words, v, part);
		rn_tell_words(t, "part");
	}
}

static void tell_own(rn_teller *t, const rn_varied *v, const rn_tried *tried)
{
	if (v->part == RN_NONE || tried->own_case == RN_NONE || tried->stand != RN_STAND_FOUND) {
		rn_stream_null(t->stream, "asked");
		return;
	}
	rn_tell_open(t, "asked");
	rn_tell_object(t, "case", rn_object_of(RN_CASE, tried->own_case));
	rn_stream_number(t->stream, "demand_N", tried->own_demand);
	if (tried->own_checked)
		rn_stream_number(t->stream, "utilisation", tried->own_utilisation);
	else
		rn_stream_null(t->stream, "utilisation");
	if (is_of_stem(v)) {
		rn_stream_number(t->stream, "stress_Pa", tried->own_stress);
		rn_stream_number(t->stream, "height_m", tried->own_height);
	}
	rn_tell_close(t);
}

void rn_varied_tell_tried(rn_teller *t, const char *key, const rn_varied *v, const rn_tried *tried)
{
	bool checked = rn_varied_kind(tried) >= RN_CHOICE_OVER;
	rn_tell_open(t, key);
	rn_varied_place(&t->words, v, tried->value, 0, t->units);
	rn_tell_words(t, "choice");
	rn_stream_number(t->stream, "first", tried->value[0]);
	if (v->of_count > 1)
		rn_stream_number(t->stream, "second", tried->value[1]);
	else
		rn_stream_null(t->stream, "second");
	rn_stream_text(t->stream, "answer", rn_stand_text(tried->stand));
	if (tried->stand != RN_STAND_FOUND && tried->why.kind != RN_NOTE_COUNT) {
		rn_words_note(&t->words, v->model, &tried->why, t->units);
		rn_tell_words(t, "why");
	} else {
		rn_stream_null(t->stream, "why");
	}
	rn_tell_object(t, "case", rn_object_of(RN_CASE, tried->case_index));
	tell_part(t, v, checked ? tried->part : RN_NONE);
	if (checked)
		rn_stream_number(t->stream, "utilisation", tried->utilisation);
	else
		rn_stream_null(t->stream, "utilisation");
	rn_stream_bool(t->stream, "over", rn_varied_kind(tried) == RN_CHOICE_OVER);
	rn_stream_whole(t->stream, "unchecked_count", tried->unchecked_count);
	tell_own(t, v, tried);
	rn_tell_close(t);
}

void rn_varied_tell_all(rn_teller *t, const rn_varied *v)
{
	rn_tell_list(t, "choices");
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++)
		rn_varied_tell_tried(t, NULL, v, &v->tried[i]);
	rn_tell_list_end(t);
}

static void tell_turns(rn_teller *t, const rn_varied *v)
{
	static const char *const kinds[] = {[RN_TURN_OVER] = "over", [RN_TURN_UNDER] = "below", [RN_TURN_GOVERNS] = "closest",
	                                    [RN_TURN_LOST] = "lost", [RN_TURN_FOUND] = "found"};
	rn_tell_list(t, "turns");
	for (int i = 0; i < v->turn_count; i++) {
		const rn_turn *turn = &v->turns[i];
		rn_tell_open(t, NULL);
		rn_stream_text(t->stream, "what", kinds[turn->kind]);
		rn_stream_number(t->stream, "value", turn->value);
		rn_varied_tell_tried(t, "below", v, &turn->below);
		rn_varied_tell_tried(t, "above", v, &turn->above);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

rn_status rn_varied_tell(rn_stream *stream, const rn_varied *v, const rn_answer_options *options)
{
	RN_TRY(rn_finite_check(v->result));
	rn_teller t = rn_teller_make(stream, v->model, options);
	rn_tell_open(&t, NULL);
	rn_tell_head(&t, options);
	rn_varied_tell_numbers(&t, v);
	rn_tell_object(&t, "asked_part", v->part == RN_NONE ? rn_object_of(RN_NODE, RN_NONE)
	                                                    : v->result->cases[0].parts[v->part].object);
	rn_varied_tell_tried(&t, "drawn", v, &v->drawn);
	if (v->has_least)
		rn_varied_tell_tried(&t, "least", v, &v->least);
	else
		rn_stream_null(t.stream, "least");
	tell_turns(&t, v);
	rn_varied_tell_all(&t, v);
	rn_tell_guessed(&t);
	rn_tell_cautions(&t);
	rn_tell_close(&t);
	return rn_teller_end(&t);
}
