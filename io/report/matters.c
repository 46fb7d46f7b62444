/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/matters.h"

#include <math.h>

#include "io/report/paragraph.h"
#include "io/report/table.h"

typedef struct writer {
	rn_table table;
	rn_buffer text; /* scratch */
	const rn_result *result;
	const rn_model *model;
	const rn_matters *matters;
	rn_units units;
} writer;

static const char *keep(writer *w)
{
	return rn_table_keep(&w->table, &w->text);
}

static const rn_number *number_of(const writer *w, const rn_matter *m)
{
	return &w->model->numbers[m->number];
}

/* What more and less of a number are called. */
static void ways(rn_attribute attribute, const char **more, const char **less)
{
	bool sideways = attribute == RN_ATTRIBUTE_X || attribute == RN_ATTRIBUTE_LEAN;
	bool upward = attribute == RN_ATTRIBUTE_Y || attribute == RN_ATTRIBUTE_HEIGHT;
	bool turned = attribute == RN_ATTRIBUTE_TOWARD;
	*more = sideways ? "right" : upward ? "up" : turned ? "left about" : "more";
	*less = sideways ? "left" : upward ? "down" : turned ? "right about" : "less";
}

/* "10.0 cm", "10 %", "1 deg" */
static void add_step(writer *w, const rn_matter *m)
{
	switch (rn_attribute_quantity(number_of(w, m)->attribute)) {
	case RN_QUANTITY_LENGTH: rn_words_length(&w->text, m->step, RN_NEAREST, w->units); break;
	case RN_QUANTITY_ANGLE: rn_words_angle(&w->text, m->step); break;
	case RN_QUANTITY_RATIO: rn_words_number(&w->text, m->step); break;
	default: rn_words_percent(&w->text, m->step / fabs(number_of(w, m)->value)); break;
	}
}

/* "adds 3.10 %", of the demand of a part that is not checked "takes 120 N" */
static void add_change(writer *w, double change, rn_beside how)
{
	if (how != RN_BESIDE_FOUND) {
		rn_buffer_text(&w->text, how == RN_BESIDE_NOT_FOUND ? "nothing found that holds" : "cannot be");
		return;
	}
	const double nothing = w->matters->is_demand ? rn_words_nothing : 5e-5;
	if (fabs(change) < nothing) {
		rn_buffer_text(&w->text, "nothing");
		return;
	}
	rn_buffer_text(&w->text, change > 0 ? "adds " : "takes ");
	if (w->matters->is_demand)
		rn_words_force(&w->text, fabs(change), change > 0 ? RN_UP : RN_DOWN, w->units);
	else
		rn_words_percent(&w->text, fabs(change));
}

static void add_row(writer *w, const rn_matter *m)
{
	const rn_number *n = number_of(w, m);
	const char *more, *less;
	ways(n->attribute, &more, &less);
	rn_words_object(&w->text, w->model, n->object);
	const char *name = keep(w);
	rn_buffer_format(&w->text, "%s, ", rn_attribute_word(n->attribute));
	add_step(w, m);
	rn_table_row *row = rn_table_add_row(&w->table, name, keep(w));
	if (!row)
		return;
	rn_buffer_format(&w->text, "%s ", more);
	add_change(w, m->more, m->more_how);
	rn_buffer_format(&w->text, ", %s ", less);
	add_change(w, m->less, m->less_how);
	row->cells[0].words = keep(w);
}

static void add_head(writer *w)
{
	const rn_matters *m = w->matters;
	const rn_part_result *part = &w->result->cases[m->case_index].parts[m->part];
	rn_words_part(&w->text, w->model, part->object);
	rn_buffer_text(&w->text, ", ");
	if (m->is_demand)
		rn_words_force(&w->text, m->share, RN_UP, w->units);
	else
		rn_words_percent(&w->text, m->share);
	rn_buffer_text(&w->text, " in ");
	rn_words_object(&w->text, w->model, rn_object_of(RN_CASE, w->result->cases[m->case_index].case_index));
	rn_table_head(&w->table, 0, keep(w));
}

static rn_status print(writer *w, rn_buffer *out)
{
	w->table.title = "what matters most";
	add_head(w);
	for (int i = 0; i < w->matters->count; i++)
		add_row(w, &w->matters->list[i]);
	RN_TRY(rn_buffer_status(&w->text));
	RN_TRY(rn_table_status(&w->table));
	rn_buffer_char(out, '\n');
	rn_table_print(out, &w->table);
	rn_paragraph_add(out, w->matters->is_demand ? "Each alone, settled anew."
	                                            : "Each alone, settled anew; per cents of the limit are added or taken.");
	return rn_buffer_status(out);
}

rn_status rn_matters_text(rn_buffer *buffer, const rn_result *result, const rn_matters *matters, rn_units units)
{
	writer w = {.table = rn_table_make(&buffer->allocator, 1),
	            .text = rn_buffer_make(&buffer->allocator),
	            .result = result,
	            .model = result->model,
	            .matters = matters,
	            .units = units};
	rn_status status = print(&w, buffer);
	rn_buffer_release(&w.text);
	rn_table_release(&w.table);
	return status;
}

/* ---- for other programs ---------------------------------------------------------------------- */

static void tell_change(rn_teller *t, const char *key, double change, rn_beside how)
{
	if (how != RN_BESIDE_FOUND)
		rn_stream_null(t->stream, key);
	else
		rn_stream_number(t->stream, key, change);
}

static void tell_matter(rn_teller *t, const rn_matter *m)
{
	const rn_number *n = &t->model->numbers[m->number];
	rn_tell_open(t, NULL);
	rn_tell_object(t, "of", n->object);
	rn_stream_text(t->stream, "number", rn_attribute_word(n->attribute));
	rn_stream_whole(t->stream, "line", n->line);
	rn_stream_number(t->stream, "slope", m->slope);
	rn_stream_number(t->stream, "step", m->step);
	tell_change(t, "more", m->more, m->more_how);
	tell_change(t, "less", m->less, m->less_how);
	rn_tell_close(t);
}

void rn_matters_tell(rn_teller *t, const rn_result *result, const rn_matters *m)
{
	const rn_case_result *c = &result->cases[m->case_index];
	rn_tell_open(t, "matters");
	rn_tell_object(t, "part", c->parts[m->part].object);
	rn_tell_object(t, "case", rn_object_of(RN_CASE, c->case_index));
	rn_stream_bool(t->stream, "is_demand", m->is_demand);
	rn_stream_number(t->stream, "share", m->share);
	rn_tell_list(t, "numbers");
	for (int i = 0; i < m->count; i++)
		tell_matter(t, &m->list[i]);
	rn_tell_list_end(t);
	rn_tell_close(t);
}
