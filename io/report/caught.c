/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/caught.h"

#include <math.h>

#include "io/report/verdict.h"

/* All of the energy put into the stretch of the rope gave 2 to 3 times the peaks measured in rigging on real
 * trees (Health and Safety Executive, Research Report RR668, ch. 8, as restated); the same kind of sum was up to
 * 30 % low with heavy mass, high fall factor and rope tied off on a rigid anchor (Weber, Analysis of impact force
 * equations, International Technical Rescue Symposium, 2002). */
const double rn_caught_tree_least = 1.0 / 3, rn_caught_tree_most = 1.0 / 2, rn_caught_rigid_most = 1 / 0.7;

typedef struct writer {
	rn_folio *folio;
	const rn_result *result;
	const rn_model *model;
	rn_units units;
} writer;

static void end_paragraph(writer *w)
{
	rn_folio_block(w->folio, RN_BLOCK_PARAGRAPH);
}

static void say(writer *w, const char *text)
{
	rn_buffer_text(&w->folio->line, text);
}

static void say_length(writer *w, double length, rn_rounding rounding)
{
	rn_words_length(&w->folio->line, length, rounding, w->units);
}

static void say_force(writer *w, double force)
{
	rn_words_force(&w->folio->line, force, RN_UP, w->units);
}

static bool is_told(const rn_case_result *c)
{
	return c->caught.fall != RN_NONE && rn_verdict_has_answer(c) && c->caught.travel > 0;
}

static rn_object piece_of(const writer *w, const rn_caught *caught)
{
	return w->model->falls[caught->fall].piece;
}

/* ---- how deep, how hard -------------------------------------------------------------------------- */

/* Less than this is no way to go [m]. */
static const double no_way = 5e-3;

static void say_way(writer *w, const rn_caught *caught)
{
	double free = caught->released - caught->begins;
	rn_words_object(&w->folio->line, w->model, piece_of(w, caught));
	if (free > no_way) {
		say(w, " falls ");
		say_length(w, free, RN_NEAREST);
		say(w, " before its line holds, and is stopped ");
	} else {
		say(w, " is let go on its line, and is stopped ");
	}
	say_length(w, caught->travel, RN_UP);
	say(w, " below where it was let go");
	if (fabs(caught->across) > no_way) {
		say(w, ", ");
		say_length(w, fabs(caught->across), RN_UP);
		say(w, caught->across > 0 ? " to the right" : " to the left");
	}
}

/* A difference of less than this part is none [-]. */
static const double worth_a_word = 0.005;

static void say_peak(writer *w, const rn_caught *caught)
{
	say(w, ". It is pulled up with ");
	say_force(w, caught->peak);
	double times = caught->peak / caught->weight;
	rn_buffer_text(&w->folio->line, ", ");
	rn_buffer_fixed(&w->folio->line, times, times < 10 ? 2 : 1);
	say(w, " times its weight");
	if (w->model->falls[caught->fall].guided) {
		say(w, "; a guide holds it with ");
		say_force(w, fabs(caught->side));
		say(w, " sideways");
	}
	say(w, ". It needs ");
	say_length(w, caught->clear, RN_UP);
	say(w, " of clear air below where it is let go");
	if (caught->clear_most > caught->clear * (1 + worth_a_word)) {
		say(w, " (up to ");
		say_length(w, caught->clear_most, RN_UP);
		say(w, " if its rope is the stretchiest of what is guessed)");
	}
	double below = caught->clear - caught->travel;
	if (below > no_way) {
		say(w, ", ");
		say_length(w, below, RN_UP);
		say(w, " of it for what hangs below its knot");
	} else {
		say(w, " for its knot; what hangs below that comes on top, and is not said (below)");
	}
	say(w, ".");
}

void rn_caught_run_words(rn_buffer *buffer, const rn_model *model, const rn_caught *caught, rn_units units)
{
	rn_words_length(buffer, caught->run_out, RN_UP, units);
	rn_buffer_text(buffer, " of ");
	rn_words_object(buffer, model, rn_object_of(RN_LINE, model->stations[caught->slips].line));
	rn_buffer_text(buffer, " are let run at ");
	rn_words_force(buffer, caught->slips_at, RN_UP, units);
}

static void say_run(writer *w, const rn_caught *caught)
{
	if (caught->slips == RN_NONE)
		return;
	say(w, " ");
	rn_caught_run_words(&w->folio->line, w->model, caught, w->units);
	say(w, ".");
}

/* Where the work went, the parts of it that are worth a word. */
static void say_energy(writer *w, const rn_caught *caught)
{
	const struct {
		double energy;
		const char *name;
	} parts[] = {
		{caught->in_ropes, "the stretch of the ropes"}, {caught->in_friction, "friction where they bend"},
		{caught->in_hands, "the turns and the hand"},   {caught->in_stems, "the bending of the stems"},
		{caught->raised, "other weights, raised"},      {caught->in_bodies, "treads pressed together"},
	};
	const char *before = " Its work went into ";
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		double share = parts[i].energy / caught->given;
		if (share < 0.005)
			continue;
		say(w, before);
		say(w, parts[i].name);
		rn_buffer_format(&w->folio->line, " %d %%", (int)lround(100 * share));
		before = ", ";
	}
	double lowered = -caught->raised / caught->given;
	if (lowered >= 0.005)
		rn_buffer_format(&w->folio->line, "; other weights, lowered, gave %d %% more", (int)lround(100 * lowered));
	say(w, ".");
}

static void write_case(writer *w, int c)
{
	const rn_caught *caught = &w->result->cases[c].caught;
	rn_words_object(&w->folio->line, w->model, rn_object_of(RN_CASE, w->result->cases[c].case_index));
	say(w, ": ");
	say_way(w, caught);
	say_peak(w, caught);
	say_run(w, caught);
	say_energy(w, caught);
	end_paragraph(w);
}

/* ---- what was measured ----------------------------------------------------------------------------- */

static void write_measured(writer *w, double least, double most)
{
	say(w, "Measured: such sums, all of the fall into the rope, gave two to three times the peaks found in rigging "
	       "on trees: ");
	rn_words_force_spread(&w->folio->line, least * rn_caught_tree_least, most * rn_caught_tree_most, w->units);
	say(w, " here (RR668 ch. 8, as restated). With heavy pieces, little rope and a stiff anchor they were up to 30 % "
	       "low: ");
	say_force(w, most * rn_caught_rigid_most);
	say(w, " (Weber 2002). The verdict takes what is computed. The piece is lowered, not swung: what a swing adds "
	       "sideways is not computed.");
	end_paragraph(w);
}

void rn_caught_folio(rn_folio *folio, const rn_result *result, rn_units units)
{
	writer w = {.folio = folio, .result = result, .model = result->model, .units = units};
	double least = HUGE_VAL, most = 0;
	for (int c = 0; c < result->case_count; c++) {
		if (!is_told(&result->cases[c]))
			continue;
		write_case(&w, c);
		least = fmin(least, result->cases[c].caught.peak);
		most = fmax(most, result->cases[c].caught.peak);
	}
	if (most > 0)
		write_measured(&w, least, most);
}

rn_status rn_caught_text(rn_buffer *buffer, const rn_result *result, rn_units units)
{
	rn_folio folio = rn_folio_make(&buffer->allocator);
	rn_caught_folio(&folio, result, units);
	rn_status status = rn_folio_text(buffer, &folio);
	rn_folio_release(&folio);
	return status;
}

/* ---- for other programs --------------------------------------------------------------------------- */

static void tell_numbers(rn_teller *t, const rn_caught *caught)
{
	const struct {
		const char *key;
		double value;
	} numbers[] = {
		{"weight_N", caught->weight},      {"peak_N", caught->peak},
		{"released_y_m", caught->released}, {"begins_y_m", caught->begins},
		{"peak_y_m", caught->height},      {"travel_m", caught->travel},
		{"across_m", caught->across},      {"lowest_y_m", caught->lowest},
		{"clear_m", caught->clear},        {"clear_most_m", caught->clear_most},
		{"guide_N", caught->side},
		{"slips_at_N", caught->slips_at},  {"run_out_m", caught->run_out},
		{"given_J", caught->given},        {"ropes_J", caught->in_ropes},
		{"friction_J", caught->in_friction}, {"turns_J", caught->in_hands},
		{"stems_J", caught->in_stems},     {"raised_J", caught->raised},
		{"bodies_J", caught->in_bodies},   {"jumped_J", caught->jumped},
		{"left_over", caught->left_over},
		{"measured_least_N", caught->peak * rn_caught_tree_least},
		{"measured_N", caught->peak * rn_caught_tree_most},
		{"measured_most_N", caught->peak * rn_caught_rigid_most},
	};
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
		rn_stream_number(t->stream, numbers[i].key, numbers[i].value);
}

void rn_caught_tell(rn_teller *t, const rn_case_result *c)
{
	const rn_caught *caught = &c->caught;
	if (caught->fall == RN_NONE || !rn_verdict_has_answer(c)) {
		rn_stream_null(t->stream, "caught");
		return;
	}
	rn_tell_open(t, "caught");
	rn_tell_object(t, "of", t->model->falls[caught->fall].piece);
	rn_tell_object(t, "line", caught->slips == RN_NONE ? rn_object_of(RN_LINE, RN_NONE)
	                                                    : rn_object_of(RN_LINE, t->model->stations[caught->slips].line));
	tell_numbers(t, caught);
	rn_tell_list(t, "path");
	for (int i = 0; i < caught->path_count; i++) {
		rn_tell_open(t, NULL);
		rn_stream_number(t->stream, "x_m", caught->path[i][0]);
		rn_stream_number(t->stream, "y_m", caught->path[i][1]);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
	rn_tell_close(t);
}
