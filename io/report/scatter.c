/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/scatter.h"

#include <math.h>

#include "io/report/cautions.h"
#include "io/report/finite.h"
#include "io/report/verdict.h"

typedef struct writer {
	rn_folio *folio;
	const rn_result *result;
	const rn_model *model;
	const rn_scatter *scatter;
	rn_units units;
} writer;

/* ---- words --------------------------------------------------------------------------------------- */

static rn_buffer *line(const writer *w)
{
	return &w->folio->line;
}

static void say(const writer *w, const char *text)
{
	rn_buffer_text(line(w), text);
}

static void end_paragraph(const writer *w)
{
	rn_folio_block(w->folio, RN_BLOCK_PARAGRAPH);
}

static void cell(const writer *w, const char *text)
{
	say(w, text);
	rn_folio_cell(w->folio);
}

static void count_cell(const writer *w, int count)
{
	rn_words_count(line(w), count);
	rn_folio_cell(w->folio);
}

/* The leg or line whose length it is, else the object of the number. */
static rn_object object_of(const rn_model *m, const rn_between *r)
{
	return r->length.index != RN_NONE ? r->length : m->numbers[r->number].object;
}

static bool is_length_error(const rn_between *r)
{
	return r->length.index != RN_NONE;
}

/* "log.weight", or in words what has no such name: "bull length". */
static void range_name(rn_buffer *b, const rn_model *m, const rn_between *r)
{
	if (!is_length_error(r) && rn_words_number_name(b, m, r->number))
		return;
	rn_words_object(b, m, object_of(m, r));
	rn_buffer_format(b, " %s", is_length_error(r) ? "length" : rn_attribute_word(m->numbers[r->number].attribute));
}

/* ---- how many trials -------------------------------------------------------------------------------- */

static void write_stopped(const writer *w)
{
	if (!w->scatter->stopped)
		return;
	say(w, "STOPPED after ");
	rn_words_count(line(w), w->scatter->count);
	say(w, " of ");
	rn_words_count(line(w), w->scatter->asked);
	say(w, " trials: what follows is of these.");
	rn_folio_block(w->folio, RN_BLOCK_STRONG);
}

static void add_others(const writer *w, rn_trial kind, const char *words)
{
	if (w->scatter->counts[kind] == 0)
		return;
	say(w, "; ");
	rn_words_count(line(w), w->scatter->counts[kind]);
	say(w, words);
}

static void write_counts(const writer *w)
{
	int over = w->scatter->counts[RN_TRIAL_OVER];
	rn_words_count(line(w), over);
	say(w, " of ");
	rn_words_count(line(w), w->scatter->count);
	say(w, " trials over");
	if (over > 0) {
		say(w, ", ");
		rn_words_percent(line(w), (double)over / w->scatter->count);
	}
	add_others(w, RN_TRIAL_NO_EQUILIBRIUM, " without equilibrium");
	add_others(w, RN_TRIAL_FALLS, " in which a piece falls before its line holds");
	add_others(w, RN_TRIAL_GROUND, " in which a caught piece reaches the ground");
	add_others(w, RN_TRIAL_NOT_FOUND, " not found");
	add_others(w, RN_TRIAL_NOT_CHECKED, " with none over, but a loaded part not checked");
	add_others(w, RN_TRIAL_NONE_OVER, " with none over");
	rn_folio_block(w->folio, RN_BLOCK_STRONG);
	say(w, "As given: ");
	rn_verdict_sentence(line(w), w->result, w->units);
	end_paragraph(w);
}

/* ---- parts ----------------------------------------------------------------------------------------- */

static bool is_answer(double ranked)
{
	return ranked < HUGE_VAL;
}

static void ranked_cells(const writer *w, const double *ranked, bool is_demand)
{
	for (int r = 0; r < RN_RANK_COUNT; r++) {
		if (!is_answer(ranked[r]))
			say(w, "no answer");
		else if (is_demand)
			rn_words_force(line(w), ranked[r], RN_UP, w->units);
		else
			rn_words_percent(line(w), ranked[r]);
		rn_folio_cell(w->folio);
	}
}

static bool is_idle(const rn_scatter_part *part)
{
	double most = part->ranked[RN_RANK_MOST];
	return part->is_demand ? most <= rn_words_nothing : !(most > 0);
}

static void write_part(const writer *w, int p)
{
	const rn_scatter_part *part = &w->scatter->parts[p];
	rn_object object = w->result->cases[0].parts[p].object;
	if (is_idle(part))
		return;
	rn_words_object(line(w), w->model, object);
	rn_folio_cell(w->folio);
	cell(w, rn_words_kind(w->model, object));
	if (!part->is_demand || part->over_count > 0)
		rn_words_count(line(w), part->over_count);
	if (part->is_demand)
		say(w, part->over_count > 0 ? ", not all checked" : "not checked");
	rn_folio_cell(w->folio);
	count_cell(w, part->closest_count);
	ranked_cells(w, part->ranked, part->is_demand);
}

static void write_parts(const writer *w)
{
	const rn_columns columns = {
		.count = 8,
		.heads = {"", "", "over", "closest", "5 %", "50 %", "95 %", "most"},
		.weights = {0.18, 0.12, 0.14, 0.1, 0.115, 0.115, 0.115, 0.115},
		.to_the_right = {false, false, true, true, true, true, true, true},
	};
	say(w, "Parts at their most over all cases of a trial: in how many trials over, in how many the closest to its limit; "
	       "what 5, 50 and 95 % of the trials stay at or below; the most with an answer.");
	end_paragraph(w);
	rn_folio_table(w->folio, &columns);
	for (int p = 0; p < w->scatter->part_count; p++)
		write_part(w, p);
	cell(w, "the closest");
	cell(w, "");
	count_cell(w, w->scatter->counts[RN_TRIAL_OVER]);
	cell(w, "");
	ranked_cells(w, w->scatter->closest, false);
	rn_folio_table_end(w->folio);
}

/* ---- cases ----------------------------------------------------------------------------------------- */

static bool comes_about(const rn_scatter *s, int kind)
{
	for (int k = 0; k < s->case_count; k++)
		if (s->cases[k].counts[kind] > 0)
			return true;
	return false;
}

/* The worst first; what no case ever comes to has no column. */
static void write_cases(const writer *w)
{
	const rn_scatter *s = w->scatter;
	rn_columns columns = {.count = 1, .heads = {"case"}, .weights = {2}};
	int kinds[RN_TRIAL_COUNT + 1];
	for (int kind = RN_TRIAL_COUNT - 1; kind >= 0; kind--)
		if (comes_about(s, kind)) {
			kinds[columns.count] = kind;
			columns.heads[columns.count] = rn_trial_text((rn_trial)kind);
			columns.weights[columns.count] = 1;
			columns.to_the_right[columns.count++] = true;
		}
	if (s->case_count < 2)
		return;
	rn_folio_table(w->folio, &columns);
	for (int k = 0; k < s->case_count; k++) {
		rn_words_object(line(w), w->model, rn_object_of(RN_CASE, s->cases[k].case_index));
		rn_folio_cell(w->folio);
		for (int c = 1; c < columns.count; c++)
			count_cell(w, s->cases[k].counts[kinds[c]]);
	}
	rn_folio_table_end(w->folio);
}

/* ---- what was taken --------------------------------------------------------------------------------- */

static void add_share(const writer *w, double share)
{
	say(w, share > 0 ? "+" : "");
	rn_words_number(line(w), share * 100);
}

static void write_range(const writer *w, const rn_between *r)
{
	range_name(line(w), w->model, r);
	rn_folio_cell(w->folio);
	cell(w, rn_range_source_word(r->source));
	if (is_length_error(r)) {
		add_share(w, r->low);
		say(w, " to ");
		add_share(w, r->high);
		say(w, " %");
	} else {
		rn_words_value_range(line(w), w->model, w->model->numbers[r->number].attribute, r->low, r->high, w->units);
	}
	rn_folio_cell(w->folio);
}

static void write_ranges(const writer *w)
{
	const rn_columns columns = {.count = 3, .heads = {"may be otherwise", "by", "least to most"}, .weights = {0.4, 0.2, 0.4}};
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < w->scatter->range_count; i++)
		write_range(w, &w->scatter->ranges[i]);
	rn_folio_table_end(w->folio);
}

/* Cases that set one of the numbers themselves. */
static void add_set(const writer *w)
{
	for (int k = 0; k < w->scatter->case_count; k++)
		for (int i = 0; i < w->scatter->range_count; i++) {
			const rn_between *r = &w->scatter->ranges[i];
			int c = w->scatter->cases[k].case_index;
			if (is_length_error(r) || !rn_case_sets(w->model, &w->model->cases[c], r->number))
				continue;
			say(w, " In ");
			rn_words_object(line(w), w->model, rn_object_of(RN_CASE, c));
			say(w, " ");
			range_name(line(w), w->model, r);
			say(w, " is as that case sets it.");
		}
}

static void write_basis(const writer *w)
{
	say(w, "Every number is drawn evenly between its two ends, each by itself; what shares a number, such as every through "
	       "over one item, shares what is drawn. Friction is drawn in every case, whichever end of it the case has as given.");
	add_set(w);
	end_paragraph(w);
	say(w, "The share of trials is only as good as these ranges, and no probability of an accident. A trial without an answer "
	       "never counts as one with none over; where 5, 50 and 95 % are told it stands above all others.");
	end_paragraph(w);
}

static void write_unchecked(const writer *w)
{
	size_t before;
	say(w, "Not checked as given: ");
	before = line(w)->size;
	rn_verdict_unchecked(line(w), w->result);
	if (line(w)->size > before)
		say(w, ".");
	else
		line(w)->size = 0;
	end_paragraph(w);
}

rn_status rn_scatter_folio(rn_folio *folio, const rn_result *result, const rn_scatter *scatter, rn_units units)
{
	RN_TRY(rn_finite_check(result));
	writer w = {.folio = folio, .result = result, .model = result->model, .scatter = scatter, .units = units};
	write_stopped(&w);
	write_counts(&w);
	write_parts(&w);
	write_cases(&w);
	write_ranges(&w);
	write_basis(&w);
	write_unchecked(&w);
	rn_cautions_folio(folio, w.model, units);
	return rn_folio_status(folio);
}

/* ---- for other programs ------------------------------------------------------------------------------ */

static void tell_counts(rn_teller *t, const int *counts)
{
	rn_stream_whole(t->stream, "over", counts[RN_TRIAL_OVER]);
	rn_stream_whole(t->stream, "no_equilibrium", counts[RN_TRIAL_NO_EQUILIBRIUM]);
	rn_stream_whole(t->stream, "falls", counts[RN_TRIAL_FALLS]);
	rn_stream_whole(t->stream, "ground", counts[RN_TRIAL_GROUND]);
	rn_stream_whole(t->stream, "not_found", counts[RN_TRIAL_NOT_FOUND]);
	rn_stream_whole(t->stream, "not_checked", counts[RN_TRIAL_NOT_CHECKED]);
	rn_stream_whole(t->stream, "none_over", counts[RN_TRIAL_NONE_OVER]);
}

static void tell_trials(rn_teller *t, const rn_scatter *s)
{
	rn_tell_open(t, "trials");
	rn_stream_whole(t->stream, "asked", s->asked);
	rn_stream_whole(t->stream, "done", s->count);
	rn_stream_bool(t->stream, "stopped", s->stopped);
	tell_counts(t, s->counts);
	rn_tell_close(t);
}

/* Null where the trials without an answer decide. */
static void tell_ranked(rn_teller *t, const double *ranked)
{
	static const char *const keys[] = {
		[RN_RANK_5] = "p5", [RN_RANK_50] = "p50", [RN_RANK_95] = "p95", [RN_RANK_MOST] = "most"};
	for (int r = 0; r < RN_RANK_COUNT; r++)
		if (is_answer(ranked[r]))
			rn_stream_number(t->stream, keys[r], ranked[r]);
		else
			rn_stream_null(t->stream, keys[r]);
}

static void tell_range(rn_teller *t, const rn_between *r)
{
	static const char *const units[] = {
#define X(name, unit) unit,
		RN_QUANTITY_LIST(X)
#undef X
	};
	const rn_number *n = &t->model->numbers[r->number];
	rn_tell_open(t, NULL);
	range_name(&t->words, t->model, r);
	rn_tell_words(t, "name");
	rn_tell_object(t, "of", object_of(t->model, r));
	rn_stream_text(t->stream, "number", rn_attribute_word(n->attribute));
	rn_stream_text(t->stream, "source", rn_range_source_word(r->source));
	rn_stream_number(t->stream, "low", r->low);
	rn_stream_number(t->stream, "high", r->high);
	rn_stream_text(t->stream, "unit", units[rn_attribute_quantity(n->attribute)]);
	rn_tell_close(t);
}

static void tell_part(rn_teller *t, rn_object object, const rn_scatter_part *part)
{
	rn_tell_open(t, NULL);
	rn_tell_object(t, "id", object);
	rn_tell_kind(t, object);
	rn_stream_whole(t->stream, "over", part->over_count);
	rn_stream_whole(t->stream, "closest", part->closest_count);
	rn_stream_whole(t->stream, "not_checked", part->unchecked_count);
	rn_stream_bool(t->stream, "is_demand", part->is_demand);
	tell_ranked(t, part->ranked);
	rn_tell_close(t);
}

static void tell_lists(rn_teller *t, const rn_result *result, const rn_scatter *s)
{
	rn_tell_list(t, "ranges");
	for (int i = 0; i < s->range_count; i++)
		tell_range(t, &s->ranges[i]);
	rn_tell_list_end(t);
	rn_tell_list(t, "parts");
	for (int p = 0; p < s->part_count; p++)
		tell_part(t, result->cases[0].parts[p].object, &s->parts[p]);
	rn_tell_list_end(t);
	rn_tell_list(t, "cases");
	for (int k = 0; k < s->case_count; k++) {
		rn_tell_open(t, NULL);
		rn_tell_object(t, "id", rn_object_of(RN_CASE, s->cases[k].case_index));
		tell_counts(t, s->cases[k].counts);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

rn_status rn_scatter_tell(rn_stream *stream, const rn_result *result, const rn_scatter *s,
                          const rn_answer_options *options)
{
	RN_TRY(rn_finite_check(result));
	rn_teller t = rn_teller_make(stream, result->model, options);
	rn_tell_open(&t, NULL);
	rn_tell_head(&t, options);
	rn_tell_verdict(&t, result);
	tell_trials(&t, s);
	rn_tell_open(&t, "closest");
	tell_ranked(&t, s->closest);
	rn_tell_close(&t);
	tell_lists(&t, result, s);
	rn_tell_guessed(&t);
	rn_tell_cautions(&t);
	rn_tell_close(&t);
	return rn_teller_end(&t);
}

int rn_scatter_exit(const rn_result *result, const rn_scatter *s)
{
	int given = result->verdict.exit_class;
	bool all_none_over = s->counts[RN_TRIAL_NONE_OVER] == s->count;
	return given > 1 || all_none_over ? given : 1;
}
