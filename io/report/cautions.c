/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/cautions.h"

static void write_notes(rn_folio *f, const rn_model *model, const char *head, const rn_notes *notes, rn_units units)
{
	if (notes->count == 0)
		return;
	rn_buffer_text(&f->line, head);
	rn_words_notes(&f->line, model, notes, units);
	rn_buffer_char(&f->line, '.');
	rn_folio_block(f, RN_BLOCK_PARAGRAPH);
}

void rn_cautions_folio(rn_folio *f, const rn_model *model, rn_units units)
{
	write_notes(f, model, "Notes: ", &model->remarks, units);
	write_notes(f, model, "Guessed: ", &model->guesses, units);
	for (int i = 0; rn_words_sight(model, i); i++) {
		rn_buffer_text(&f->line, i > 0 ? " " : "");
		rn_buffer_text(&f->line, rn_words_sight(model, i));
	}
	rn_folio_block(f, RN_BLOCK_PARAGRAPH);
	rn_buffer_text(&f->line, "Cautions:");
	for (int i = 0; rn_words_caution(model, i); i++) {
		rn_buffer_char(&f->line, ' ');
		rn_buffer_text(&f->line, rn_words_caution(model, i));
	}
	rn_folio_block(f, RN_BLOCK_PARAGRAPH);
}
