/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/largest.h"

#include <math.h>

#include "io/report/cautions.h"
#include "io/report/finite.h"
#include "io/report/verdict.h"

typedef struct writer {
	rn_folio *folio;
	const rn_largest *largest;
	const rn_model *model;
	rn_units units;
} writer;

/* ---- whether there is one -------------------------------------------------------------------- */

static bool lightest_fails(const rn_largest *l)
{
	return l->weight <= 0 && l->working_count > 0;
}

/* Why there is no largest piece, for other programs; NULL when there is one. */
static const char *why_none(const rn_largest *l)
{
	static const char *const kinds[] = {
		[RN_HALT_PART] = "over", [RN_HALT_OUTCOME] = "not-held", [RN_HALT_FALLS] = "falls"};
	if (l->under_load)
		return "drawn-under-load";
	if (l->nothing_checked)
		return "no-limits";
	if (l->several)
		return "several-answers";
	return lightest_fails(l) ? kinds[l->working[0].kind] : NULL;
}

/* ---- words --------------------------------------------------------------------------------- */

static void end_paragraph(writer *w)
{
	rn_folio_block(w->folio, RN_BLOCK_PARAGRAPH);
}

/* How big a piece may be is a limit: rounded down. */
static void add_weight(writer *w, double weight)
{
	rn_words_weight_rounded(&w->folio->line, weight, rn_words_gravity(w->model), RN_DOWN, w->units);
}

/* What is given is said as the answer says it. */
static void add_given(writer *w, double weight)
{
	rn_words_weight(&w->folio->line, weight, rn_words_gravity(w->model), w->units);
}

static const rn_part_result *part_of(const rn_largest *largest, const rn_halt *halt)
{
	return &largest->at->cases[halt->case_index].parts[halt->part];
}

static void add_case(writer *w, const rn_halt *halt)
{
	rn_buffer_text(&w->folio->line, " in ");
	rn_words_object(&w->folio->line, w->model, rn_object_of(RN_CASE, w->largest->at->cases[halt->case_index].case_index));
}

static void add_part(writer *w, const rn_halt *halt)
{
	rn_object object = part_of(w->largest, halt)->object;
	rn_words_part(&w->folio->line, w->model, object);
	bool elsewhere = halt->node != RN_NONE && !(object.kind == RN_NODE && object.index == halt->node);
	if (elsewhere) {
		rn_buffer_text(&w->folio->line, " at ");
		rn_words_object(&w->folio->line, w->model, rn_object_of(RN_NODE, halt->node));
	}
}

/* "rope bull at r1 is at its limit in raising" */
static void add_reason(writer *w, const rn_halt *halt)
{
	if (halt->kind == RN_HALT_PART) {
		add_part(w, halt);
		rn_buffer_text(&w->folio->line, " is at its limit");
	} else if (halt->kind == RN_HALT_FALLS) {
		rn_buffer_text(&w->folio->line, "a heavier one falls before its line holds");
	} else {
		rn_buffer_text(&w->folio->line, "nothing was found that holds a heavier one");
	}
	add_case(w, halt);
}

static void add_piece(writer *w)
{
	rn_words_object(&w->folio->line, w->model, w->largest->piece);
}

/* ---- the text ------------------------------------------------------------------------------ */

static void write_under_load(writer *w)
{
	rn_buffer_text(&w->folio->line, "NOT CHECKED: the picture was drawn under load and holds only with the weight of ");
	add_piece(w);
	rn_buffer_text(&w->folio->line, " in it, ");
	add_given(w, w->largest->drawn);
	rn_buffer_text(&w->folio->line, ": no largest piece can be given");
}

static void write_no_limits(writer *w)
{
	rn_buffer_text(&w->folio->line, "NOT CHECKED: nothing in this set-up has a limit: no largest piece can be given");
}

static void write_several(writer *w)
{
	rn_buffer_text(&w->folio->line, "NOT CHECKED: there is more than one equilibrium with ");
	add_weight(w, w->largest->weight);
	rn_buffer_text(&w->folio->line, ", and a part is over its limit in one: no largest piece can be given");
}

static void write_over(writer *w)
{
	rn_buffer_text(&w->folio->line, "OVER ITS LIMIT even with a piece of ");
	add_given(w, w->largest->looked_from);
	rn_buffer_text(&w->folio->line, ": ");
	add_part(w, &w->largest->working[0]);
	add_case(w, &w->largest->working[0]);
}

/* Why the case of a halt has no answer, where it says so. */
static void add_why(writer *w, const rn_halt *halt)
{
	const rn_notes *notes = &w->largest->at->cases[halt->case_index].notes;
	for (int i = 0; i < notes->count; i++) {
		if (rn_note_severity(notes->items[i].kind) != RN_OUTCOME)
			continue;
		rn_buffer_text(&w->folio->line, ": ");
		rn_words_note(&w->folio->line, w->largest->at->model, &notes->items[i], w->units);
		return;
	}
}

static void write_not_held(writer *w)
{
	const rn_halt *halt = &w->largest->working[0];
	rn_buffer_text(&w->folio->line, "NOT CHECKED: even with a piece of ");
	add_given(w, w->largest->looked_from);
	rn_buffer_text(&w->folio->line, halt->kind == RN_HALT_FALLS ? " it falls before its line holds"
	                                                     : " nothing was found that holds it");
	add_case(w, halt);
	add_why(w, halt);
}

static void write_figure(writer *w)
{
	const rn_largest *l = w->largest;
	rn_buffer_text(&w->folio->line, "LARGEST PIECE ");
	add_piece(w);
	rn_buffer_text(&w->folio->line, ": ");
	add_weight(w, l->weight);
	rn_buffer_text(&w->folio->line, l->working_count > 0 ? ": then " : ", the heaviest looked at; nothing checked is over");
	if (l->working_count > 0)
		add_reason(w, &l->working[0]);
}

static void write_answer(writer *w)
{
	const rn_largest *l = w->largest;
	if (l->under_load)
		write_under_load(w);
	else if (l->nothing_checked)
		write_no_limits(w);
	else if (l->several)
		write_several(w);
	else if (lightest_fails(l))
		(l->working[0].kind == RN_HALT_PART ? write_over : write_not_held)(w);
	else
		write_figure(w);
	end_paragraph(w);
}

/* "* Its limit: 4.20 kN, strength 70.0 kN x knot 0.60 (bowline) / 10." */
static void write_limit(writer *w)
{
	const rn_largest *l = w->largest;
	if (why_none(l) || l->working_count == 0 || l->working[0].kind != RN_HALT_PART)
		return;
	const rn_part_result *part = part_of(l, &l->working[0]);
	if (part->unchecked != RN_CHECKED)
		return;
	rn_buffer_text(&w->folio->line, "* Its limit: ");
	if (part->object.kind == RN_STEM) {
		rn_words_stem_limit(&w->folio->line, &l->at->cases[l->working[0].case_index].stems[part->object.index], w->units);
	} else {
		rn_words_force(&w->folio->line, part->limit, RN_DOWN, w->units);
		rn_buffer_text(&w->folio->line, ", ");
		rn_words_limit(&w->folio->line, part, w->units);
	}
	rn_buffer_char(&w->folio->line, '.');
	end_paragraph(w);
}

static void write_guess(writer *w)
{
	if (w->largest->guess_matters)
		rn_buffer_text(&w->folio->line, "Stiffness is guessed: this is the least of what the ends of the guess give.");
	end_paragraph(w);
}

static void write_next(writer *w)
{
	const rn_largest *l = w->largest;
	const char *before = "Next: ";
	for (int i = 1; i < l->working_count; i++) {
		rn_buffer_text(&w->folio->line, before);
		add_reason(w, &l->working[i]);
		rn_buffer_text(&w->folio->line, " with ");
		add_weight(w, l->working[i].weight);
		before = "; ";
	}
	if (w->folio->line.size > 0)
		rn_buffer_char(&w->folio->line, '.');
	end_paragraph(w);
}

/* What a strength is, wherever one is told without a factor. */
static const char as_tested[] = ". As tested when new, by a steady pull: nothing to work to.";

/* Why nothing would break: the walk may have ended too soon. Its end comes last of what stops the piece, if it
 * is among the first. */
static void write_none_breaks(writer *w)
{
	const rn_largest *l = w->largest;
	rn_buffer_text(&w->folio->line, "No part of known strength would break up to ");
	add_weight(w, l->looked_to);
	rn_buffer_text(&w->folio->line, ", the heaviest looked at");
	bool told = l->working_count > 0 && l->working[l->working_count - 1].kind != RN_HALT_PART;
	if (l->ended && !told) {
		rn_buffer_text(&w->folio->line, ": ");
		add_reason(w, &l->end);
	}
	rn_buffer_text(&w->folio->line, as_tested);
	end_paragraph(w);
}

static void write_breaking(writer *w)
{
	const rn_largest *l = w->largest;
	if (l->breaking_count == 0 && l->looked_to > 0 && !l->nothing_checked)
		write_none_breaks(w);
	const char *before = "Would break, with no reserve left: ";
	for (int i = 0; i < l->breaking_count; i++) {
		rn_buffer_text(&w->folio->line, before);
		add_part(w, &l->breaking[i]);
		add_case(w, &l->breaking[i]);
		rn_buffer_text(&w->folio->line, " with ");
		add_weight(w, l->breaking[i].weight);
		before = "; ";
	}
	if (w->folio->line.size > 0)
		rn_buffer_text(&w->folio->line, as_tested);
	end_paragraph(w);
}

/* What the piece is held against: hung, or caught with the drop of each fall. */
static void write_falls(writer *w)
{
	const char *before = "Caught in ";
	for (int i = 0; i < w->model->fall_count; i++) {
		rn_buffer_text(&w->folio->line, before);
		rn_words_object(&w->folio->line, w->model, rn_object_of(RN_CASE, w->model->falls[i].case_index));
		rn_buffer_text(&w->folio->line, ", let go ");
		int drop = rn_model_find_number(w->model, rn_object_of(RN_FALL, i), RN_ATTRIBUTE_DROP);
		rn_words_length(&w->folio->line, drop == RN_NONE ? 0 : w->model->numbers[drop].value, RN_NEAREST, w->units);
		rn_buffer_text(&w->folio->line, " higher than drawn");
		before = "; in ";
	}
	if (w->model->fall_count == 0)
		rn_buffer_text(&w->folio->line, "A steady pull: a piece that is caught pulls several times its weight (--drop).");
	else
		rn_buffer_text(&w->folio->line, ". Measured peaks were a third to a half of what is computed on trees, and up to 1.43 "
		                         "times it with heavy pieces on little rope (RR668 ch. 8, as restated; Weber 2002).");
}

/* Weights said are those of the plain cases; a case that sets the weight has it in proportion. */
static void write_basis(writer *w)
{
	rn_buffer_text(&w->folio->line, "Drawn with ");
	add_given(w, w->largest->drawn);
	rn_buffer_text(&w->folio->line, "; over all cases");
	int weight = rn_model_find_number(w->model, w->largest->piece, RN_ATTRIBUTE_WEIGHT);
	const char *before = "; in proportion heavier or lighter in ";
	for (int i = 0; i < w->model->case_count; i++)
		if (rn_case_sets(w->model, &w->model->cases[i], weight)) {
			rn_buffer_text(&w->folio->line, before);
			rn_words_object(&w->folio->line, w->model, rn_object_of(RN_CASE, i));
			before = ", ";
		}
	rn_buffer_text(&w->folio->line, ". ");
	write_falls(w);
	end_paragraph(w);
}

static void write_unchecked(writer *w)
{
	rn_buffer words = rn_buffer_make(&w->folio->line.allocator);
	rn_verdict_unchecked(&words, w->largest->at);
	if (words.size > 0 && !w->largest->under_load) {
		rn_buffer_text(&w->folio->line, "Not checked, so it may stop sooner: ");
		rn_buffer_add(&w->folio->line, words.bytes, words.size);
		rn_buffer_char(&w->folio->line, '.');
	}
	w->folio->line.failed = w->folio->line.failed || words.failed;
	rn_buffer_release(&words);
	end_paragraph(w);
}

static void write_limits(writer *w)
{
	write_answer(w);
	write_limit(w);
	write_guess(w);
	write_next(w);
	write_breaking(w);
	write_basis(w);
	write_unchecked(w);
}

rn_status rn_largest_folio(rn_folio *folio, const rn_largest *largest, rn_units units)
{
	RN_TRY(rn_finite_check(largest->at));
	writer w = {.folio = folio, .largest = largest, .model = largest->at->model, .units = units};
	write_limits(&w);
	return rn_folio_status(folio);
}

static void write_all(rn_folio *folio, const rn_largest *largest, rn_units units)
{
	writer w = {.folio = folio, .largest = largest, .model = largest->at->model, .units = units};
	write_limits(&w);
	rn_cautions_folio(folio, w.model, units);
}

rn_status rn_largest_text(rn_buffer *buffer, const rn_largest *largest, rn_units units)
{
	RN_TRY(rn_finite_check(largest->at));
	rn_folio folio = rn_folio_make(&buffer->allocator);
	write_all(&folio, largest, units);
	rn_status status = rn_folio_text(buffer, &folio);
	rn_folio_release(&folio);
	return status;
}

/* ---- for other programs ---------------------------------------------------------------------- */

static void tell_halt(rn_teller *t, const rn_largest *l, const rn_halt *halt)
{
	static const char *const kinds[] = {
		[RN_HALT_PART] = "part", [RN_HALT_OUTCOME] = "not-held", [RN_HALT_FALLS] = "falls"};
	bool part = halt->kind == RN_HALT_PART;
	rn_object object = part ? part_of(l, halt)->object : rn_object_of(RN_NODE, RN_NONE);
	rn_tell_open(t, NULL);
	rn_stream_text(t->stream, "why", kinds[halt->kind]);
	rn_tell_object(t, "part", object);
	rn_stream_text(t->stream, "kind", !part                    ? NULL
	                                  : object.kind == RN_LINE ? "line"
	                                                           : rn_words_kind(t->model, object));
	rn_tell_node(t, "at", halt->node);
	rn_tell_object(t, "case", rn_object_of(RN_CASE, l->at->cases[halt->case_index].case_index));
	rn_stream_number(t->stream, "weight_N", halt->weight);
	rn_stream_bool(t->stream, "guess_end", halt->guess_end);
	rn_tell_close(t);
}

static void tell_halts(rn_teller *t, const char *key, const rn_largest *l, const rn_halt *halts, int count)
{
	rn_tell_list(t, key);
	for (int i = 0; i < count; i++)
		tell_halt(t, l, &halts[i]);
	rn_tell_list_end(t);
}

static void tell_unchecked(rn_teller *t, const rn_largest *l)
{
	rn_verdict_unchecked(&t->words, l->at);
	if (t->words.size > 0)
		rn_tell_words(t, "unchecked_parts");
	else
		rn_stream_null(t->stream, "unchecked_parts");
}

rn_status rn_largest_tell(rn_stream *stream, const rn_largest *l, const rn_answer_options *options)
{
	RN_TRY(rn_finite_check(l->at));
	rn_teller t = rn_teller_make(stream, l->at->model, options);
	rn_tell_open(&t, NULL);
	rn_tell_head(&t, options);
	rn_tell_object(&t, "piece", l->piece);
	rn_stream_number(t.stream, "drawn_N", l->drawn);
	if (why_none(l))
		rn_stream_null(t.stream, "largest_N");
	else
		rn_stream_number(t.stream, "largest_N", l->weight);
	rn_stream_text(t.stream, "why_none", why_none(l));
	rn_stream_bool(t.stream, "guess_matters", l->guess_matters);
	rn_stream_number(t.stream, "looked_to_N", l->looked_to);
	tell_halts(&t, "stops", l, l->working, l->working_count);
	tell_halts(&t, "breaks", l, l->breaking, l->breaking_count);
	tell_unchecked(&t, l);
	rn_tell_guessed(&t);
	rn_tell_cautions(&t);
	rn_tell_close(&t);
	return rn_teller_end(&t);
}

int rn_largest_exit(const rn_largest *l)
{
	int verdict = l->at->verdict.exit_class;
	if (why_none(l))
		return 1;
	return verdict == 0 && l->guess_matters ? 1 : verdict;
}
