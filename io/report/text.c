/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The answer as a person reads it.
 */
#include "io/report/text.h"

#include <math.h>
#include <string.h>

#include "io/report/catches.h"
#include "io/report/caught.h"
#include "io/report/cautions.h"
#include "io/report/finite.h"
#include "io/report/fold.h"
#include "io/report/losses.h"
#include "io/report/matters.h"
#include "io/report/paragraph.h"
#include "io/report/ranges.h"
#include "io/report/remarks.h"
#include "io/report/rows.h"
#include "io/report/verdict.h"

typedef struct writer {
	rn_buffer *out;
	rn_buffer line; /* the paragraph being put together */
	const rn_result *result;
	const rn_model *model;
	rn_units units;
	int *shown; /* per case: the case that stands for it */
} writer;

static void end_paragraph(writer *w)
{
	rn_paragraph_end(w->out, &w->line);
}

static void add_object(writer *w, rn_object object)
{
	rn_words_object(&w->line, w->model, object);
}

static void add_case(writer *w, int index)
{
	add_object(w, rn_object_of(RN_CASE, w->result->cases[index].case_index));
}

/* ---- above the table ------------------------------------------------------------------------- */

static void write_verdict(writer *w, bool bold)
{
	rn_verdict_sentence(&w->line, w->result, w->units);
	if (bold)
		rn_buffer_text(w->out, "\033[1m");
	end_paragraph(w);
	if (bold)
		rn_buffer_text(w->out, "\033[0m");
}

static void write_closest(writer *w)
{
	if (!rn_verdict_worst(w->result))
		return;
	rn_buffer_text(&w->line, "* Closest: ");
	rn_verdict_closest(&w->line, w->result, w->units);
	end_paragraph(w);
}

/* What its wood says beside the weight: how much of that is caution, and where its middle is. */
static void add_wood(writer *w, int timber, rn_origin origin, double gravity)
{
	rn_weighed wood = rn_timber_weighed(w->model, NULL, timber);
	if (origin == RN_COMPUTED && wood.has_weight) {
		rn_buffer_text(&w->line, " at most, ");
		rn_words_mass(&w->line, wood.weight, gravity, w->units);
		rn_buffer_text(&w->line, " in the middle");
	}
	if (!wood.has_centre)
		return;
	rn_buffer_text(&w->line, ", centre of mass ");
	rn_words_length(&w->line, wood.centre, RN_NEAREST, w->units);
	rn_buffer_text(&w->line, " from the butt");
}

/* Returns what goes before the next one. */
static const char *add_weight(writer *w, rn_object piece, const char *before)
{
	int number = rn_model_find_number(w->model, piece, RN_ATTRIBUTE_WEIGHT);
	if (number == RN_NONE)
		return before;
	rn_buffer_text(&w->line, before);
	add_object(w, piece);
	rn_buffer_char(&w->line, ' ');
	double fall = rn_words_gravity(w->model);
	rn_words_weight(&w->line, w->model->numbers[number].value, fall, w->units);
	int timber = rn_timber_of(w->model, piece);
	if (timber == RN_NONE)
		return ", ";
	add_wood(w, timber, w->model->numbers[number].origin, fall);
	return "; ";
}

/* The weight of every piece, as first given; a case that changes it has a row of its own. */
static void add_weights(writer *w)
{
	const char *const first = "Carried: ", *before = first;
	for (int i = 0; i < w->model->node_count; i++)
		if (w->model->nodes[i].kind == RN_NODE_PIECE)
			before = add_weight(w, rn_object_of(RN_NODE, i), before);
	for (int i = 0; i < w->model->prop_count; i++)
		if (w->model->props[i].is_piece)
			before = add_weight(w, rn_object_of(RN_PROP, i), before);
	if (before != first)
		rn_buffer_char(&w->line, '.');
}

static void write_without(writer *w, const rn_text_options *options)
{
	if (!options || !options->without)
		return;
	rn_buffer_text(&w->line, "WITHOUT ");
	rn_words_plain(&w->line, options->without);
	if (rn_losses_over_at_jolt(w->result)) {
		const rn_verdict *v = &w->result->verdict;
		const rn_part_result *part = &w->result->cases[v->worst_case].parts[v->worst_part];
		rn_buffer_text(&w->line, ": OVER ITS LIMIT AT THE JOLT: ");
		rn_words_part(&w->line, w->model, part->object);
		rn_buffer_text(&w->line, " up to ");
		rn_words_percent(&w->line, 2 * part->utilisation);
		rn_buffer_text(&w->line, ", twice what follows, which is after all has settled.");
	} else {
		rn_buffer_text(&w->line, ", after all has settled; at the jolt up to twice this.");
	}
	end_paragraph(w);
}

static void write_subject(writer *w)
{
	if (w->model->title) {
		rn_words_plain(&w->line, w->model->title);
		rn_buffer_text(&w->line, ". ");
	}
	add_weights(w);
	end_paragraph(w);
}

static void write_limits_of_sight(writer *w)
{
	rn_cautions_sight(&w->line, w->model);
	end_paragraph(w);
}

/* ---- below the table ------------------------------------------------------------------------- */

static void write_folded(writer *w)
{
	for (int c = 0; c < w->result->case_count; c++) {
		if (w->shown[c] == c)
			continue;
		add_case(w, c);
		rn_buffer_text(&w->line, ": same as ");
		add_case(w, w->shown[c]);
		rn_buffer_text(&w->line, ", nowhere 1 % apart.");
		end_paragraph(w);
	}
}

static void write_unchecked(writer *w)
{
	const rn_verdict *v = &w->result->verdict;
	if (v->over || !v->not_checked) /* else the verdict has named them */
		rn_verdict_unchecked(&w->line, w->result);
	if (w->line.size == 0)
		return;
	rn_buffer words = w->line;
	w->line = rn_buffer_make(&w->out->allocator);
	rn_buffer_text(&w->line, "Not checked: ");
	rn_buffer_add(&w->line, words.bytes, words.size);
	rn_buffer_char(&w->line, '.');
	w->line.failed = w->line.failed || words.failed;
	rn_buffer_release(&words);
	end_paragraph(w);
}

static void write_guessed(writer *w)
{
	if (w->model->guesses.count == 0)
		return;
	rn_buffer_text(&w->line, "Guessed: ");
	rn_words_notes(&w->line, w->model, &w->model->guesses, w->units);
	rn_buffer_char(&w->line, '.');
	end_paragraph(w);
}

/* The next power of ten above a left-over, so that one short word says how well it closes. */
static double bound_of(double left_over)
{
	double bound = 1e-3;
	while (bound < left_over && bound < 1e12)
		bound *= 10;
	return bound;
}

/* How well it closes, when it does in every case. A pound-force is more than a newton: the same
 * number of them is a bound as well. */
static void add_balance(writer *w)
{
	double worst = -1;
	for (int c = 0; c < w->result->case_count; c++) {
		const rn_case_result *r = &w->result->cases[c];
		if (!rn_verdict_has_answer(r))
			continue;
		if (!r->balance.closed)
			return;
		worst = fmax(worst, r->balance.worst);
	}
	if (worst < 0)
		return;
	rn_buffer_text(&w->line, " Balance: pulls cancel to ");
	rn_words_number(&w->line, bound_of(worst));
	rn_buffer_text(&w->line, w->units == RN_US ? " lbf." : " N.");
}

static void write_cautions(writer *w)
{
	rn_buffer_text(&w->line, "Cautions: ");
	rn_cautions_words(&w->line, w->model);
	add_balance(w);
	end_paragraph(w);
}

/* Whether a case has a column of its own. */
static bool is_shown(const writer *w, int case_index)
{
	for (int c = 0; c < w->result->case_count; c++)
		if (w->result->cases[c].case_index == case_index)
			return w->shown[c] == c;
	return false;
}

/* The first set of rows that is the same: cases may differ in the hand alone, which is what is tried here. */
static int same_let_run(const rn_text_options *options, int index)
{
	const rn_let_run *own = &options->let_runs[index];
	for (int i = 0; i < index; i++) {
		const rn_let_run *other = &options->let_runs[i];
		bool same = own->count == other->count;
		for (int k = 0; same && k < own->count; k++)
			same = fabs(own->rows[k].peak - other->rows[k].peak) <= 1e-6 * own->rows[k].peak &&
			       fabs(own->rows[k].clear - other->rows[k].clear) <= 1e-6 * own->rows[k].clear;
		if (same)
			return i;
	}
	return index;
}

static rn_status write_let_run(writer *w, const rn_text_options *options, int index)
{
	int same = same_let_run(options, index);
	if (same == index)
		return rn_let_run_text(w->out, w->model, &options->let_runs[index], w->units);
	add_object(w, rn_object_of(RN_CASE, options->let_runs[index].case_index));
	rn_buffer_text(&w->line, ", let run: as ");
	add_object(w, rn_object_of(RN_CASE, options->let_runs[same].case_index));
	rn_buffer_char(&w->line, '.');
	end_paragraph(w);
	return RN_OK;
}

static rn_status write_catches(writer *w, const rn_text_options *options)
{
	for (int i = 0; options && options->let_runs && i < options->catch_count; i++)
		if (is_shown(w, options->let_runs[i].case_index))
			RN_TRY(write_let_run(w, options, i));
	for (int i = 0; options && options->comparisons && i < options->catch_count; i++)
		if (is_shown(w, options->comparisons[i].case_index))
			RN_TRY(rn_comparison_text(w->out, w->model, &options->comparisons[i], w->units));
	return RN_OK;
}

/* Ranges were asked for, and a catch has none. */
static void write_unranged(writer *w, const rn_text_options *options)
{
	const char *before = "No ranges are found of a catch: ";
	for (int c = 0; options && options->ranges && c < w->result->case_count; c++) {
		if (w->result->cases[c].caught.fall == RN_NONE)
			continue;
		rn_buffer_text(&w->line, before);
		add_case(w, c);
		before = ", ";
	}
	if (w->line.size > 0)
		rn_buffer_char(&w->line, '.');
	end_paragraph(w);
}

static rn_status write_all(writer *w, const rn_text_options *options)
{
	write_without(w, options);
	write_verdict(w, options && options->bold);
	write_closest(w);
	write_subject(w);
	write_limits_of_sight(w);
	rn_words_doubts(&w->line, w->model, w->units);
	end_paragraph(w);
	rn_buffer_char(w->out, '\n');
	RN_TRY(rn_rows_print(w->out, w->result, w->shown, w->units));
	write_folded(w);
	RN_TRY(rn_caught_text(w->out, w->result, w->units));
	RN_TRY(write_catches(w, options));
	write_unranged(w, options);
	for (int i = 0; options && i < options->range_count; i++)
		RN_TRY(rn_ranges_text(w->out, w->model, &options->ranges[i], w->units));
	if (options && options->losses)
		RN_TRY(rn_losses_text(w->out, w->result, options->losses, w->units));
	if (options && options->matters)
		RN_TRY(rn_matters_text(w->out, w->result, options->matters, w->units));
	write_unchecked(w);
	rn_remarks_taken_off(&w->line, w->result, w->units);
	end_paragraph(w);
	rn_remarks_notes(&w->line, w->result, w->units);
	end_paragraph(w);
	write_guessed(w);
	rn_remarks_stand_clear(&w->line, w->result, w->shown, w->units);
	end_paragraph(w);
	rn_remarks_open_balance(&w->line, w->result, w->units);
	end_paragraph(w);
	write_cautions(w);
	return rn_buffer_status(w->out);
}

rn_status rn_text_write(rn_buffer *buffer, const rn_result *result, rn_units units,
                        const rn_text_options *options)
{
	RN_TRY(rn_finite_check(result));
	const rn_allocator *a = &buffer->allocator;
	size_t room = sizeof(int) * (size_t)(result->case_count + 1);
	writer w = {.out = buffer,
	            .line = rn_buffer_make(a),
	            .result = result,
	            .model = result->model,
	            .units = units,
	            .shown = a->allocate(a->context, room)};
	if (!w.shown)
		return RN_STATUS_MEMORY;
	rn_fold_cases(result, w.shown);
	rn_status status = write_all(&w, options);
	rn_buffer_release(&w.line);
	a->release(a->context, w.shown);
	return status;
}
