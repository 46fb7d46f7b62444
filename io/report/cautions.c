/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/cautions.h"

static void add_each(rn_buffer *line, const rn_model *model, const char *(*sentence)(const rn_model *, int))
{
	for (int i = 0; sentence(model, i); i++) {
		rn_buffer_text(line, i > 0 ? " " : "");
		rn_buffer_text(line, sentence(model, i));
	}
}

void rn_cautions_sight(rn_buffer *line, const rn_model *model)
{
	add_each(line, model, rn_words_sight);
}

void rn_cautions_words(rn_buffer *line, const rn_model *model)
{
	add_each(line, model, rn_words_caution);
}

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
	rn_words_doubts(&f->line, model, units);
	rn_folio_block(f, RN_BLOCK_PARAGRAPH);
	write_notes(f, model, "Notes: ", &model->remarks, units);
	write_notes(f, model, "Guessed: ", &model->guesses, units);
	rn_cautions_sight(&f->line, model);
	rn_folio_block(f, RN_BLOCK_PARAGRAPH);
	rn_buffer_text(&f->line, "Cautions: ");
	rn_cautions_words(&f->line, model);
	rn_folio_block(f, RN_BLOCK_PARAGRAPH);
}
