/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/catches.h"

#include <math.h>

#include "io/report/paragraph.h"
#include "io/report/table.h"
#include "io/report/verdict.h"

typedef struct writer {
	rn_table table;
	rn_buffer text; /* scratch */
	const rn_model *model;
	const rn_case_result *shape;
	rn_units units;
} writer;

static const char *keep(writer *w)
{
	return rn_table_keep(&w->table, &w->text);
}

static bool is_stopped(const rn_caught_row *row)
{
	return row->outcome == RN_OUTCOME_SETTLED;
}

static void add_node(writer *w, int node)
{
	rn_words_object(&w->text, w->model, rn_object_of(RN_NODE, node));
}

static void add_force(writer *w, double force)
{
	rn_words_force(&w->text, force, RN_UP, w->units);
}

/* ---- a catch in a line ------------------------------------------------------------------------------ */

/* "top.right 36.9; bull 463 % OVER; air 1.63 m" */
static void add_rest(writer *w, const rn_caught_row *row)
{
	if (row->anchor != RN_NONE) {
		add_node(w, row->anchor);
		rn_buffer_char(&w->text, ' ');
		rn_words_bare_force(&w->text, row->anchor_pull, RN_UP, w->units);
		rn_buffer_text(&w->text, "; ");
	}
	if (row->closest != RN_NONE) {
		rn_words_object(&w->text, w->model, w->shape->parts[row->closest].object);
		rn_buffer_char(&w->text, ' ');
		rn_words_percent(&w->text, row->utilisation);
		rn_buffer_text(&w->text, row->utilisation > 1 ? " OVER; " : "; ");
	}
	if (row->breaks)
		rn_buffer_text(&w->text, "BREAKS; ");
	rn_buffer_text(&w->text, row->ground ? "GROUND, air " : "air ");
	rn_words_length(&w->text, row->clear, RN_UP, w->units);
}

/* `change` is how far the peak is from that of the first row; "": nothing to tell. */
static void add_row(writer *w, const char *name, const char *way, const char *change, const rn_caught_row *row)
{
	rn_table_row *added = rn_table_add_row(&w->table, name, way);
	if (!added)
		return;
	if (!is_stopped(row)) {
		added->cells[0].words = row->outcome == RN_OUTCOME_NO_EQUILIBRIUM ? "not stopped" : "not found";
		return;
	}
	rn_words_bare_force(&w->text, row->peak, RN_UP, w->units);
	added->cells[0].number = keep(w);
	added->cells[0].share = change;
	add_rest(w, row);
	added->cells[0].words = keep(w);
}

static void begin(writer *w, int case_index, const char *title)
{
	rn_words_object(&w->text, w->model, rn_object_of(RN_CASE, case_index));
	rn_buffer_format(&w->text, "%s; %s", title, rn_words_force_unit(w->units));
	w->table.title = keep(w);
	rn_table_head(&w->table, 0, "peak; hardest pulled; closest part; clear air");
}

static rn_status finish(writer *w, rn_buffer *out, const char *below)
{
	RN_TRY(rn_buffer_status(&w->text));
	RN_TRY(rn_table_status(&w->table));
	rn_buffer_char(out, '\n');
	rn_table_print(out, &w->table);
	if (below)
		rn_paragraph_add(out, below);
	return rn_buffer_status(out);
}

static writer make_writer(const rn_buffer *out, const rn_model *model, const rn_case_result *shape, rn_units units)
{
	return (writer){.table = rn_table_make(&out->allocator, 1), .text = rn_buffer_make(&out->allocator),
	                .model = model, .shape = shape, .units = units};
}

static void release(writer *w)
{
	rn_buffer_release(&w->text);
	rn_table_release(&w->table);
}

/* ---- from locked to let run --------------------------------------------------------------------------- */

/* "at 4.20 kN, hand 210 to 640 N" */
static void add_pulls(writer *w, const rn_caught_row *row, bool by_hand)
{
	rn_buffer_text(&w->text, by_hand ? "hand " : "");
	if (by_hand)
		rn_words_force_range(&w->text, row->hand_least, row->hand_most, w->units);
	else
		add_force(w, row->slips_at);
}

static bool is_bollard(const rn_model *m, int station)
{
	return m->nodes[m->stations[station].node].kind == RN_NODE_BOLLARD;
}

static void add_run(writer *w, const rn_let_run *l, double run, const rn_caught_row *row)
{
	const char *name = "locked";
	if (run > 0) {
		rn_words_length(&w->text, run, RN_NEAREST, w->units);
		name = keep(w);
	}
	if (is_stopped(row))
		add_pulls(w, row, is_bollard(w->model, l->station));
	add_row(w, name, keep(w), "", row);
}

static void write_least(writer *w, const rn_let_run *l)
{
	if (l->rows[0].closest == RN_NONE)
		rn_buffer_text(&w->text, "Nothing is checked, so no run can be told at which nothing is over. ");
	else if (!l->has_least)
		rn_buffer_text(&w->text, "No run was found at which nothing checked is over. ");
	else if (l->least.run_out <= 0)
		rn_buffer_text(&w->text, l->rows[0].unchecked ? "Nothing that could be checked is over with the line locked; not all is. "
		                                              : "Nothing is over with the line locked. ");
	else {
		rn_buffer_text(&w->text, "Least run at which nothing checked is over: ");
		rn_words_length(&w->text, l->least.run_out, RN_UP, w->units);
		rn_buffer_text(&w->text, ", the line slipping at ");
		rn_words_force(&w->text, l->least.slips_at, RN_DOWN, w->units);
		rn_buffer_text(&w->text, " at ");
		add_node(w, w->model->stations[l->station].node);
		if (is_bollard(w->model, l->station)) {
			rn_buffer_text(&w->text, ", hand ");
			rn_words_force_range(&w->text, l->least.hand_least, l->least.hand_most, w->units);
		}
		rn_buffer_text(&w->text, ", if it slips as assumed: at one pull, all the way. ");
		if (l->least.ground)
			rn_buffer_text(&w->text, "It reaches the ground on that way: it is NOT caught in the air. ");
	}
	if (is_bollard(w->model, l->station))
		rn_buffer_text(&w->text, "The hand's pull is from its least to its most, as far as the friction of the post is known. ");
	rn_buffer_text(&w->text, "No hand holds a pull that steadily.");
}

rn_status rn_let_run_text(rn_buffer *buffer, const rn_model *model, const rn_let_run *l, rn_units units)
{
	writer w = make_writer(buffer, model, l->shape, units);
	begin(&w, l->case_index, ", let run");
	for (int i = 0; i < l->count; i++)
		add_run(&w, l, l->asked[i], &l->rows[i]);
	write_least(&w, l);
	const char *below = keep(&w);
	rn_status status = finish(&w, buffer, below);
	release(&w);
	return status;
}

/* ---- with one thing changed ---------------------------------------------------------------------------- */

/* What is changed; what it is changed to goes into the scratch buffer. */
static const char *add_change(writer *w, const rn_comparison *c, const rn_otherwise *o)
{
	rn_buffer *b = &w->text;
	switch (o->kind) {
	case RN_OTHERWISE_AS_IS: break;
	case RN_OTHERWISE_LONGER:
		rn_words_length(b, o->amount, RN_NEAREST, w->units);
		rn_buffer_text(b, " more");
		return "line";
	case RN_OTHERWISE_SOFTER:
		rn_words_number(b, o->amount);
		rn_buffer_text(b, " x as stretchy");
		return "rope";
	case RN_OTHERWISE_RING:
	case RN_OTHERWISE_BLOCK:
		rn_buffer_text(b, o->kind == RN_OTHERWISE_RING ? "ring, not block" : "block, not ring");
		return rn_object_id(w->model, rn_object_of(RN_NODE, c->node));
	case RN_OTHERWISE_DROP: rn_words_length(b, o->amount, RN_NEAREST, w->units); return "drop";
	case RN_OTHERWISE_WEIGHT: rn_words_mass(b, o->amount, rn_words_gravity(w->model), w->units); return "weight";
	}
	return "as it is";
}

/* How far the peak is from that of the catch as it is, "-12 %". */
static void add_saving(writer *w, const rn_comparison *c, const rn_otherwise *o)
{
	const rn_caught_row *as_is = &c->list[0].row;
	if (o == c->list || !is_stopped(as_is) || !is_stopped(&o->row))
		return;
	rn_buffer_format(&w->text, "%+d %%", (int)lround(100 * (o->row.peak / as_is->peak - 1)));
}

static const rn_otherwise *find(const rn_comparison *c, rn_otherwise_kind kind)
{
	for (int i = 0; i < c->count; i++)
		if (c->list[i].kind == kind)
			return &c->list[i];
	return NULL;
}

/* A change of less than this part of the peak is none [-]. */
static const double worth_a_word = 0.005;

/* What a metre of line is worth, and what new and worked rope come to. */
static void write_words(writer *w, const rn_comparison *c)
{
	const rn_caught_row *as_is = &c->list[0].row;
	const rn_otherwise *longer = find(c, RN_OTHERWISE_LONGER);
	if (longer && is_stopped(as_is) && is_stopped(&longer->row)) {
		double saved = (as_is->peak - longer->row.peak) / longer->amount;
		if (fabs(saved) < worth_a_word * as_is->peak) {
			rn_buffer_text(&w->text, "A further metre of line changes next to nothing. ");
		} else {
			rn_buffer_text(&w->text, saved > 0 ? "A further metre of line saves " : "A further metre of line costs ");
			rn_words_force(&w->text, fabs(saved), RN_DOWN, w->units);
			rn_buffer_text(&w->text, ", the next ones less. ");
		}
	}
	rn_buffer_text(&w->text, "New rope is two to five times as stretchy on its first loading as the same rope worked "
	                         "(common practice, no source): 2 x and 5 x tell what a "
	                         "worked rope would have done when new, 0.5 x what a new one will do. Rings and blocks by "
	                         "the middle of their class, made alike over half a turn.");
}

rn_status rn_comparison_text(rn_buffer *buffer, const rn_model *model, const rn_comparison *c, rn_units units)
{
	writer w = make_writer(buffer, model, c->shape, units);
	begin(&w, c->case_index, ", otherwise");
	for (int i = 0; i < c->count; i++) {
		const char *name = add_change(&w, c, &c->list[i]), *way = keep(&w);
		add_saving(&w, c, &c->list[i]);
		add_row(&w, name, way, keep(&w), &c->list[i].row);
	}
	write_words(&w, c);
	const char *below = keep(&w);
	rn_status status = finish(&w, buffer, below);
	release(&w);
	return status;
}

/* ---- for other programs ---------------------------------------------------------------------------------- */

static void tell_row(rn_teller *t, const rn_case_result *shape, const rn_caught_row *row)
{
	const struct {
		const char *key;
		double value;
	} numbers[] = {
		{"peak_N", row->peak},         {"travel_m", row->travel},         {"clear_m", row->clear},
		{"run_out_m", row->run_out},   {"held_N", row->slips_at},         {"hand_least_N", row->hand_least},
		{"hand_most_N", row->hand_most}, {"anchor_N", row->anchor_pull},
	};
	rn_stream_text(t->stream, "outcome", rn_outcome_text(row->outcome));
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
		if (is_stopped(row))
			rn_stream_number(t->stream, numbers[i].key, numbers[i].value);
		else
			rn_stream_null(t->stream, numbers[i].key);
	}
	rn_tell_node(t, "anchor", row->anchor);
	if (row->closest != RN_NONE) {
		rn_tell_object(t, "closest", shape->parts[row->closest].object);
		rn_stream_number(t->stream, "utilisation", row->utilisation);
	} else {
		rn_stream_null(t->stream, "closest");
		rn_stream_null(t->stream, "utilisation");
	}
	rn_stream_bool(t->stream, "reaches_ground", is_stopped(row) && row->ground);
	rn_stream_bool(t->stream, "breaks", is_stopped(row) && row->breaks);
	rn_stream_bool(t->stream, "all_checked", is_stopped(row) && !row->unchecked);
}

static void tell_let_run(rn_teller *t, const rn_let_run *l)
{
	rn_tell_open(t, NULL);
	rn_tell_object(t, "case", rn_object_of(RN_CASE, l->case_index));
	rn_tell_node(t, "at", t->model->stations[l->station].node);
	rn_tell_list(t, "rows");
	for (int i = 0; i < l->count; i++) {
		rn_tell_open(t, NULL);
		rn_stream_number(t->stream, "asked_m", l->asked[i]);
		tell_row(t, l->shape, &l->rows[i]);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
	if (l->has_least) {
		rn_tell_open(t, "least");
		tell_row(t, l->shape, &l->least);
		rn_tell_close(t);
	} else {
		rn_stream_null(t->stream, "least");
	}
	rn_tell_close(t);
}

void rn_let_runs_tell(rn_teller *t, const rn_let_run *let_runs, int count)
{
	rn_tell_list(t, "let_run");
	for (int i = 0; i < count; i++)
		tell_let_run(t, &let_runs[i]);
	rn_tell_list_end(t);
}

static const char *const changes[] = {
	[RN_OTHERWISE_AS_IS] = "as-is", [RN_OTHERWISE_LONGER] = "line-more_m", [RN_OTHERWISE_SOFTER] = "stretch-times",
	[RN_OTHERWISE_RING] = "ring-friction", [RN_OTHERWISE_BLOCK] = "block-efficiency", [RN_OTHERWISE_DROP] = "drop_m",
	[RN_OTHERWISE_WEIGHT] = "weight_N",
};

static void tell_comparison(rn_teller *t, const rn_comparison *c)
{
	rn_tell_open(t, NULL);
	rn_tell_object(t, "case", rn_object_of(RN_CASE, c->case_index));
	rn_tell_list(t, "rows");
	for (int i = 0; i < c->count; i++) {
		rn_tell_open(t, NULL);
		rn_stream_text(t->stream, "change", changes[c->list[i].kind]);
		rn_stream_number(t->stream, "amount", c->list[i].amount);
		tell_row(t, c->shape, &c->list[i].row);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
	rn_tell_close(t);
}

void rn_comparisons_tell(rn_teller *t, const rn_comparison *comparisons, int count)
{
	rn_tell_list(t, "compared");
	for (int i = 0; i < count; i++)
		tell_comparison(t, &comparisons[i]);
	rn_tell_list_end(t);
}
