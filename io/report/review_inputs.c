/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What was put in: every value as written with its place, what was taken for granted, the identity of the gear.
 */
#include <math.h>
#include <string.h>

#include "io/report/check.h"
#include "io/report/reviewer.h"

/* ---- as written -------------------------------------------------------------------------------------- */

/* In kilonewtons and megapascals from where newtons and pascals have too many figures to be read. */
static void say_si(rn_reviewer *w, const rn_input *input)
{
	static const char *const units[RN_MEASURE_COUNT] = {
#define X(name, unit) unit,
		RN_QUANTITY_LIST(X)
#undef X
	};
	if (!input->is_number)
		return;
	const char *unit = units[input->measure];
	double per = 1;
	if (input->measure == RN_MEASURE_FORCE && input->amount.high >= 1e3) {
		unit = "kN";
		per = 1e3;
	} else if (input->measure == RN_MEASURE_PRESSURE && input->amount.high >= 1e6) {
		unit = "MPa";
		per = 1e6;
	}
	rn_words_number(w->line, input->amount.low / per);
	if (input->amount.high > input->amount.low) {
		rn_reviewer_say(w, " to ");
		rn_words_number(w->line, input->amount.high / per);
	}
	if (strcmp(unit, "1") != 0)
		rn_buffer_format(w->line, " %s", unit);
}

static void input_row(rn_reviewer *w, const rn_input *input)
{
	rn_reviewer_say_place(w, input->file, input->line);
	rn_folio_cell(w->folio);
	rn_words_plain(w->line, input->owner);
	rn_folio_cell(w->folio);
	rn_words_plain(w->line, input->attribute);
	rn_folio_cell(w->folio);
	rn_words_plain(w->line, input->value);
	rn_folio_cell(w->folio);
	say_si(w, input);
	rn_folio_cell(w->folio);
}

/* Gear of a store that nothing of the job names. */
static int unused_items(const rn_inputs *inputs)
{
	int count = 0;
	const char *last = "";
	for (int i = 0; i < inputs->count; i++)
		if (!inputs->items[i].is_used && strcmp(inputs->items[i].owner, last) != 0 &&
		    !strchr(inputs->items[i].owner, ',')) {
			last = inputs->items[i].owner;
			count++;
		}
	return count;
}

void rn_reviewer_inputs(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 5,
		.heads = {"file and line", "of", "what", "as written", "in SI units"},
		.weights = {0.23, 0.22, 0.16, 0.22, 0.17},
		.to_the_right = {false, false, false, false, true},
	};
	const rn_inputs *inputs = &w->review->document->inputs;
	rn_reviewer_chapter(w, "What was put in, value by value");
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < inputs->count; i++)
		if (inputs->items[i].is_used)
			input_row(w, &inputs->items[i]);
	rn_folio_table_end(w->folio);
	int unused = unused_items(inputs);
	if (unused > 0)
		rn_buffer_format(w->line, "Left out: %d item%s of gear that this job does not use.", unused, unused == 1 ? "" : "s");
	rn_reviewer_paragraph(w, "");
	rn_reviewer_section(w, "Cases: which way ropes run, and with how much of their friction");
	if (rn_check_cases_folio(w->folio, w->model, w->units) != RN_OK)
		w->folio->pool.failed = true;
	rn_reviewer_paragraph(w, "Low and high friction are the ends of each range that is given, nominal is the figure itself. A case "
	                         "that is made is the program's own.");
}

/* ---- taken for granted ------------------------------------------------------------------------------- */

static const char *origin_of(rn_origin origin)
{
	switch (origin) {
	case RN_GUESSED: return "guessed by its kind";
	case RN_DEFAULT: return "taken where nothing is said";
	case RN_LISTED: return "published table of the program";
	case RN_ESTIMATED: return "estimate, never counts as checked";
	case RN_COMPUTED: return "worked out from other values";
	case RN_GIVEN: break;
	}
	return "given";
}

static void number_row(rn_reviewer *w, const rn_number *n)
{
	rn_input as_input = {.is_number = true, .measure = (rn_measure)rn_attribute_quantity(n->attribute),
	                     .amount = {n->low, n->high}};
	rn_reviewer_say_object(w, n->object);
	rn_folio_cell(w->folio);
	rn_reviewer_cell(w, rn_attribute_word(n->attribute));
	if (n->value > n->low && n->value < n->high) {
		rn_input middle = as_input;
		middle.amount.low = middle.amount.high = n->value;
		say_si(w, &middle);
		rn_reviewer_say(w, ", ");
	}
	say_si(w, &as_input);
	rn_folio_cell(w->folio);
	rn_reviewer_cell(w, origin_of(n->origin));
}

void rn_reviewer_guesses(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 4,
		.heads = {"of", "what", "in SI units", "where from"},
		.weights = {0.25, 0.2, 0.25, 0.3},
		.to_the_right = {false, false, true, false},
	};
	rn_reviewer_chapter(w, "What was taken for granted");
	for (int i = 0; i < w->model->guesses.count; i++) {
		rn_buffer_format(w->line, "G%d  ", i + 1);
		rn_words_note(w->line, w->model, &w->model->guesses.items[i], w->units);
		rn_reviewer_paragraph(w, ".");
	}
	if (w->model->guesses.count == 0)
		rn_reviewer_paragraph(w, "Nothing was guessed.");
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < w->model->number_count; i++)
		if (w->model->numbers[i].origin != RN_GIVEN)
			number_row(w, &w->model->numbers[i]);
	rn_folio_table_end(w->folio);
}

/* ---- gear -------------------------------------------------------------------------------------------- */

static void cell_said(rn_reviewer *w, const char *text)
{
	if (text)
		rn_words_plain(w->line, text);
	rn_reviewer_cell(w, text ? "" : "not said");
}

static void gear_row(rn_reviewer *w, int index)
{
	static const char *const kinds[] = {
#define X(name, word) word,
		RN_ITEM_KIND_LIST(X)
#undef X
	};
	const rn_item *item = &w->model->items[index];
	int condition = rn_model_find_number(w->model, rn_object_of(RN_ITEM, index), RN_ATTRIBUTE_CONDITION_FACTOR);
	rn_reviewer_say_object(w, rn_object_of(RN_ITEM, index));
	rn_folio_cell(w->folio);
	rn_reviewer_cell(w, kinds[item->kind]);
	cell_said(w, item->serial);
	cell_said(w, item->checked_on);
	if (condition != RN_NONE)
		rn_words_number(w->line, w->model->numbers[condition].value);
	rn_reviewer_cell(w, condition != RN_NONE ? "" : "not said");
	rn_reviewer_cell(w, "");
}

void rn_reviewer_gear(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 6,
		.heads = {"item", "kind", "serial", "checked on", "condition factor", "seen on the day"},
		.weights = {0.17, 0.14, 0.18, 0.17, 0.16, 0.18},
		.row_height = 5,
	};
	rn_reviewer_chapter(w, "Gear: which pieces, and when they were looked at");
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < w->model->item_count; i++)
		if (rn_item_is_used(w->model, i))
			gear_row(w, i);
	rn_folio_table_end(w->folio);
	rn_reviewer_paragraph(w, "The last column is for whoever looks at the gear before it is loaded.");
}
