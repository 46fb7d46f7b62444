/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The two short ones: a card for the crew, and the inputs alone for someone who checks by other means.
 */
#include <math.h>

#include "io/report/remarks.h"
#include "io/report/reviewer.h"
#include "io/report/verdict.h"

bool rn_reviewer_caught(const rn_result *result)
{
	for (int c = 0; c < result->case_count; c++)
		if (result->cases[c].caught.fall != RN_NONE)
			return true;
	return false;
}

/* ---- stop conditions ----------------------------------------------------------------------------------- */

static void weight_item(rn_reviewer *w)
{
	const rn_largest *l = w->review->largest;
	if (!l || !(l->weight > 0) || l->under_load || l->nothing_checked || l->several) {
		rn_reviewer_item(w, "a piece is heavier than drawn here;");
		return;
	}
	rn_reviewer_say_object(w, l->piece);
	rn_reviewer_say(w, " is heavier than ");
	rn_words_weight_rounded(w->line, l->weight, rn_words_gravity(w->model), RN_DOWN, w->units);
	rn_reviewer_item(w, ";");
}

static void turns_items(rn_reviewer *w)
{
	for (int i = 0; i < w->model->station_count; i++) {
		const rn_station *s = &w->model->stations[i];
		int turns = rn_model_find_number(w->model, rn_object_of(RN_NODE, s->node), RN_ATTRIBUTE_TURNS);
		if (s->kind != RN_HOLD || turns == RN_NONE || !(w->model->numbers[turns].value > 0))
			continue;
		rn_reviewer_say_object(w, rn_object_of(RN_LINE, s->line));
		rn_reviewer_say(w, " has fewer than ");
		rn_words_number(w->line, w->model->numbers[turns].value);
		rn_reviewer_say(w, " turns on ");
		rn_reviewer_say_node(w, s->node);
		rn_reviewer_item(w, ", or it is wet and was counted dry;");
	}
}

void rn_reviewer_stops(rn_reviewer *w)
{
	weight_item(w);
	if (w->model->fall_count == 0)
		rn_reviewer_item(w, "the piece could drop before its line holds: a catch was not looked at;");
	else
		rn_reviewer_item(w, "the piece is let go from higher, or with more slack, than the cases say;");
	turns_items(w);
	rn_reviewer_item(w, "a rope runs another way than the cases say, round another side, or over something not drawn;");
	rn_reviewer_item(w, "a ring, block, knot or hitch is another one, or sits elsewhere than drawn;");
	rn_reviewer_item(w, "wood cracks, bark slips, decay shows, or a stem moves more than it should;");
	rn_reviewer_item(w, "wind rises, or anyone has to stand on a danger side.");
}

/* ---- the card -------------------------------------------------------------------------------------------- */

static void card_piece(rn_reviewer *w)
{
	const rn_largest *l = w->review->largest;
	rn_reviewer_section(w, "Largest piece");
	if (l && l->weight > 0 && !l->under_load && !l->nothing_checked && !l->several) {
		rn_reviewer_say_object(w, l->piece);
		rn_reviewer_say(w, ": ");
		rn_words_weight_rounded(w->line, l->weight, rn_words_gravity(w->model), RN_DOWN, w->units);
		rn_reviewer_say(w, l->guess_matters ? " (stiffness is guessed: the least of its ends)." : ".");
	} else {
		rn_reviewer_say(w, "None can be given: see the report.");
	}
	rn_folio_block(w->folio, RN_BLOCK_STRONG);
}

static bool any_over(const rn_case_result *answer)
{
	for (int i = 0; i < answer->part_count; i++)
		if (rn_verdict_is_over(&answer->parts[i]))
			return true;
	return false;
}

static bool holds_piece(const rn_case_result *answer, rn_object member, rn_object piece)
{
	for (int i = 0; piece.kind == RN_NODE && i < answer->span_count; i++) {
		const rn_span_result *s = &answer->spans[i];
		bool is_it = s->member.kind == member.kind && s->member.index == member.index;
		if (is_it && (s->from == piece.index || s->to == piece.index))
			return true;
	}
	return false;
}

/* A peak on a rope of guessed stretch is another one at the stiff end of the guess. */
static void say_stiffest(rn_reviewer *w, const rn_case_result *answer)
{
	rn_object piece = w->model->falls[answer->caught.fall].piece;
	double most = 0;
	for (int i = 0; i < answer->notes.count; i++) {
		const rn_note *note = &answer->notes.items[i];
		if (note->kind == RN_NOTE_STRETCH_MATTERS && holds_piece(answer, note->a, piece))
			most = fmax(most, note->value[1]);
	}
	if (!(most > 0))
		return;
	rn_reviewer_say(w, " (its rope up to ");
	rn_words_force(w->line, most, RN_UP, w->units);
	rn_reviewer_say(w, " if it is the stiffest of what is guessed)");
}

static void card_drop(rn_reviewer *w)
{
	rn_reviewer_section(w, "Drop");
	for (int c = 0; c < w->result->case_count; c++) {
		const rn_caught *caught = &w->result->cases[c].caught;
		if (caught->fall == RN_NONE || !rn_verdict_has_answer(&w->result->cases[c]))
			continue;
		int drop = rn_model_find_number(w->model, rn_object_of(RN_FALL, caught->fall), RN_ATTRIBUTE_DROP);
		rn_reviewer_say_case(w, c);
		rn_reviewer_say(w, ": let go ");
		rn_words_length(w->line, drop == RN_NONE ? 0 : w->model->numbers[drop].value, RN_NEAREST, w->units);
		rn_reviewer_say(w, " higher than drawn, peak ");
		rn_words_force(w->line, caught->peak, RN_UP, w->units);
		say_stiffest(w, &w->result->cases[c]);
		rn_reviewer_say(w, ", clear air below ");
		rn_words_length(w->line, caught->clear_most > caught->clear ? caught->clear_most : caught->clear, RN_UP, w->units);
		rn_reviewer_paragraph(w, any_over(&w->result->cases[c]) ? ": OVER ITS LIMIT." : ".");
	}
	if (rn_reviewer_next_case(w, RN_NONE) == RN_NONE)
		rn_reviewer_paragraph(w, "Not known: nothing was found that holds.");
	else if (!rn_reviewer_caught(w->result))
		rn_reviewer_paragraph(w, "None: the line is tight before the cut. A drop was not looked at.");
}

static void card_hands(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 5,
		.heads = {"line at", "case", "turns", "hand, best grip", "poorest"},
		.weights = {0.26, 0.22, 0.12, 0.2, 0.2},
		.to_the_right = {false, false, true, true, true},
	};
	bool any = false, hauled = false;
	for (int c = rn_reviewer_next_case(w, RN_NONE); c != RN_NONE; c = rn_reviewer_next_case(w, c)) {
		const rn_case_result *answer = &w->result->cases[c];
		any = any || answer->hold_count > 0;
		for (int i = 0; i < answer->hold_count; i++)
			hauled = hauled || !(answer->holds[i].turns > 0);
	}
	if (!any)
		return;
	rn_reviewer_section(w, "Turns and hand pull");
	rn_folio_table(w->folio, &columns);
	for (int c = rn_reviewer_next_case(w, RN_NONE); c != RN_NONE; c = rn_reviewer_next_case(w, c))
		for (int i = 0; i < w->result->cases[c].hold_count; i++) {
			const rn_hold_result *h = &w->result->cases[c].holds[i];
			rn_reviewer_say_object(w, rn_object_of(RN_LINE, h->line));
			rn_reviewer_say(w, " at ");
			rn_reviewer_say_node(w, h->node);
			rn_folio_cell(w->folio);
			rn_reviewer_say_case(w, c);
			rn_folio_cell(w->folio);
			rn_words_number(w->line, h->turns);
			rn_folio_cell(w->folio);
			rn_words_force(w->line, h->hand_least, RN_UP, w->units);
			rn_folio_cell(w->folio);
			rn_words_force(w->line, h->hand_most, RN_UP, w->units);
			rn_folio_cell(w->folio);
		}
	rn_folio_table_end(w->folio);
	if (hauled)
		rn_reviewer_paragraph(w, "Where no turns are on, all of that has to be hauled.");
	rn_reviewer_paragraph(w, "Dry rope, within the friction given. A soaked rope can lose nearly all its hold on the same turns "
	                         "(common practice, no source): more turns, and try it with a small piece.");
}

static void write_card(rn_reviewer *w)
{
	w->folio->is_card = true;
	rn_reviewer_begin(w, "");
	rn_verdict_sentence(w->line, w->result, w->units);
	rn_folio_block(w->folio, RN_BLOCK_STRONG);
	rn_reviewer_over_in_ranges(w, ": see the report.");
	card_piece(w);
	card_drop(w);
	card_hands(w);
	rn_reviewer_section(w, "Danger sides");
	size_t before = w->folio->count;
	rn_remarks_stand_clear(w->line, w->result, w->shown, w->units);
	rn_reviewer_paragraph(w, "");
	if (w->folio->count == before)
		rn_reviewer_paragraph(w, rn_reviewer_next_case(w, RN_NONE) == RN_NONE
		                             ? "Wherever the piece and its ropes can come to: nothing was found that holds."
		                             : "Below the piece. No bend of a rope is under load.");
	rn_reviewer_section(w, "Stop and ask if");
	rn_reviewer_stops(w);
	rn_reviewer_say(w, rn_words_caution(w->model, 0));
	rn_reviewer_say(w, " ");
	rn_reviewer_say(w, rn_words_caution(w->model, 2));
	rn_folio_block(w->folio, RN_BLOCK_BOXED);
}

rn_status rn_review_card_folio(rn_folio *folio, const rn_review *review)
{
	return rn_reviewer_write(folio, review, write_card);
}

/* ---- for a checker ------------------------------------------------------------------------------------- */

/* In a case without an answer every anchor is: which of them are pulled would be a result. */
static bool is_asked_about(const rn_reviewer *w, const rn_case_result *answer, int node)
{
	if (!rn_node_is_fixed(&w->model->nodes[node]))
		return false;
	if (!rn_verdict_has_answer(answer))
		return true;
	const double *pull = answer->nodes[node].pull;
	return hypot(pull[0], pull[1]) > rn_words_nothing;
}

/* What a checker puts down beside the inputs, before the report is opened. */
static void write_answers_asked(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 4,
		.heads = {"to be found", "in case", "by the checker", "method"},
		.weights = {0.34, 0.2, 0.22, 0.24},
		.row_height = 6,
	};
	rn_reviewer_chapter(w, "What the checker finds, by other means");
	rn_folio_table(w->folio, &columns);
	for (int c = 0; c < w->result->case_count; c++)
		for (int i = 0; i < w->model->node_count; i++) {
			if (w->shown[c] != c || !is_asked_about(w, &w->result->cases[c], i))
				continue;
			rn_reviewer_say(w, "pull on ");
			rn_words_part(w->line, w->model, rn_object_of(RN_NODE, i));
			rn_reviewer_cell(w, ", size and direction");
			rn_reviewer_say_case(w, c);
			rn_folio_cell(w->folio);
			rn_reviewer_cell(w, "");
			rn_reviewer_cell(w, "");
		}
	rn_reviewer_cell(w, "which part is closest to its limit, and by how much");
	rn_reviewer_cell(w, "any");
	rn_reviewer_cell(w, "");
	rn_reviewer_cell(w, "");
	rn_folio_table_end(w->folio);
}

static void write_inputs_only(rn_reviewer *w)
{
	rn_reviewer_begin(w, "For an independent check, inputs without results: ");
	rn_reviewer_title(w, false);
	rn_reviewer_inputs(w);
	rn_reviewer_guesses(w);
	rn_reviewer_gear(w);
	rn_reviewer_limits(w);
	write_answers_asked(w);
	rn_reviewer_signatures(w);
}

rn_status rn_review_inputs_folio(rn_folio *folio, const rn_review *review)
{
	return rn_reviewer_write(folio, review, write_inputs_only);
}
