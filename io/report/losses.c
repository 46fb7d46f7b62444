/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/losses.h"

#include "io/report/paragraph.h"
#include "io/report/table.h"
#include "io/report/verdict.h"

const double rn_losses_over = 0.5;

bool rn_losses_over_at_jolt(const rn_result *without)
{
	const rn_verdict *v = &without->verdict;
	return v->worst_case != RN_NONE && v->worst_part != RN_NONE &&
	       without->cases[v->worst_case].parts[v->worst_part].utilisation > rn_losses_over;
}

typedef struct writer {
	rn_table table;
	rn_buffer text; /* scratch */
	const rn_result *result;
	const rn_model *model;
	rn_units units;
} writer;

static const char *keep(writer *w)
{
	return rn_table_keep(&w->table, &w->text);
}

static const rn_part_result *part_of(const rn_result *result, int part)
{
	return &result->cases[0].parts[part];
}

/* "ring r1"; of a connector, which may be used in several places, "shackle at b1". */
static void add_part(writer *w, int part)
{
	const rn_part_result *p = part_of(w->result, part);
	if (p->object.kind != RN_ITEM || p->at == RN_NONE) {
		rn_words_part(&w->text, w->model, p->object);
		return;
	}
	rn_words_object(&w->text, w->model, p->object);
	rn_buffer_text(&w->text, " at ");
	rn_words_object(&w->text, w->model, rn_object_of(RN_NODE, p->at));
}

static bool holds(const rn_loss *loss)
{
	return loss->outcome == RN_OUTCOME_SETTLED || loss->outcome == RN_OUTCOME_KEPT;
}

static void add_why(writer *w, const rn_loss *loss)
{
	if (loss->outcome == RN_OUTCOME_NOT_FOUND)
		rn_buffer_text(&w->text, "nothing was found that holds");
	else if (loss->why.kind != RN_NOTE_COUNT)
		rn_words_note(&w->text, w->model, &loss->why, w->units);
	else
		rn_buffer_text(&w->text, "nothing holds");
}

/* Travel that nobody would see [m]. */
static const double drop_least = 0.005;

static void add_drop(writer *w, const rn_loss *loss)
{
	if (loss->piece == RN_NONE || loss->drop < drop_least) {
		rn_buffer_text(&w->text, "holds");
		return;
	}
	rn_words_object(&w->text, w->model, rn_object_of(RN_NODE, loss->piece));
	rn_buffer_text(&w->text, loss->falls ? " falls " : " drops ");
	rn_words_length(&w->text, loss->drop, RN_UP, w->units);
}

static void add_closest(writer *w, const rn_loss *loss)
{
	if (loss->closest == RN_NONE) {
		rn_buffer_text(&w->text, "; nothing left has a limit");
		return;
	}
	rn_buffer_text(&w->text, "; ");
	add_part(w, loss->closest);
	rn_buffer_char(&w->text, ' ');
	rn_words_percent(&w->text, loss->utilisation);
	rn_buffer_text(&w->text, ", jolt ");
	rn_words_percent(&w->text, 2 * loss->utilisation);
	rn_buffer_text(&w->text, loss->utilisation > rn_losses_over ? " OVER" : "");
	rn_buffer_text(&w->text, loss->unchecked ? ", not all checked" : "");
}

static void add_row(writer *w, const rn_loss *loss)
{
	add_part(w, loss->part);
	const char *name = keep(w);
	rn_words_object(&w->text, w->model, rn_object_of(RN_CASE, w->result->cases[loss->case_index].case_index));
	rn_table_row *row = rn_table_add_row(&w->table, name, keep(w));
	if (!row)
		return;
	if (loss->leads_to != RN_NONE) {
		rn_words_object(&w->text, w->model, rn_object_of(RN_NODE, loss->piece));
		rn_buffer_text(&w->text, " falls: its rope leads down to ");
		rn_words_object(&w->text, w->model, rn_object_of(RN_NODE, loss->leads_to));
	} else if (holds(loss)) {
		add_drop(w, loss);
		add_closest(w, loss);
	} else {
		add_why(w, loss);
	}
	row->cells[0].words = keep(w);
}

static const char at_the_jolt[] =
	"After it has settled; at the jolt up to twice this, so that above 50 % counts as over. A piece that falls is caught "
	"harder than that.";

static rn_status fill(writer *w, const rn_losses *losses)
{
	w->table.title = "if this lets go";
	rn_table_head(&w->table, 0, "then, in its worst case");
	for (int i = 0; i < losses->count; i++)
		add_row(w, &losses->losses[i]);
	RN_TRY(rn_buffer_status(&w->text));
	return rn_table_status(&w->table);
}

static writer begin(const rn_allocator *allocator, const rn_result *result, rn_units units)
{
	return (writer){.table = rn_table_make(allocator, 1),
	                .text = rn_buffer_make(allocator),
	                .result = result,
	                .model = result->model,
	                .units = units};
}

static void end(writer *w)
{
	rn_buffer_release(&w->text);
	rn_table_release(&w->table);
}

rn_status rn_losses_folio(rn_folio *folio, const rn_result *result, const rn_losses *losses, rn_units units)
{
	writer w = begin(&folio->pool.allocator, result, units);
	rn_status status = fill(&w, losses);
	if (status == RN_OK && losses->count > 0) {
		rn_folio_add_table(folio, &w.table);
		rn_buffer_text(&folio->line, at_the_jolt);
		rn_folio_block(folio, RN_BLOCK_PARAGRAPH);
	}
	end(&w);
	return status;
}

rn_status rn_losses_text(rn_buffer *buffer, const rn_result *result, const rn_losses *losses, rn_units units)
{
	if (losses->count == 0)
		return RN_OK;
	writer w = begin(&buffer->allocator, result, units);
	rn_status status = fill(&w, losses);
	if (status == RN_OK) {
		rn_buffer_char(buffer, '\n');
		rn_table_print(buffer, &w.table);
		rn_paragraph_add(buffer, at_the_jolt);
		status = rn_buffer_status(buffer);
	}
	end(&w);
	return status;
}

/* ---- for other programs ---------------------------------------------------------------------- */

static void tell_part(rn_teller *t, const char *key, const rn_result *result, int part)
{
	rn_tell_object(t, key, part == RN_NONE ? rn_object_of(RN_NODE, RN_NONE) : part_of(result, part)->object);
}

static void tell_loss(rn_teller *t, const rn_result *result, const rn_loss *loss)
{
	rn_tell_open(t, NULL);
	tell_part(t, "part", result, loss->part);
	rn_tell_node(t, "at", part_of(result, loss->part)->object.kind == RN_ITEM ? part_of(result, loss->part)->at : RN_NONE);
	rn_tell_object(t, "case", rn_object_of(RN_CASE, result->cases[loss->case_index].case_index));
	rn_stream_text(t->stream, "outcome", rn_outcome_text(loss->outcome));
	if (loss->why.kind != RN_NOTE_COUNT) {
		rn_words_note(&t->words, t->model, &loss->why, t->units);
		rn_tell_words(t, "why");
	} else {
		rn_stream_null(t->stream, "why");
	}
	rn_stream_bool(t->stream, "falls", loss->falls);
	rn_tell_node(t, "piece", loss->piece);
	rn_tell_node(t, "leads_to", loss->leads_to);
	rn_stream_number(t->stream, "drop_m", loss->drop);
	tell_part(t, "closest", result, loss->closest);
	if (loss->closest != RN_NONE) {
		rn_stream_number(t->stream, "utilisation", loss->utilisation);
		rn_stream_number(t->stream, "at_jolt", 2 * loss->utilisation);
	} else {
		rn_stream_null(t->stream, "utilisation");
		rn_stream_null(t->stream, "at_jolt");
	}
	rn_stream_bool(t->stream, "all_checked", holds(loss) && !loss->unchecked);
	rn_tell_close(t);
}

void rn_losses_tell(rn_teller *t, const rn_result *result, const rn_losses *losses)
{
	rn_tell_list(t, "losses");
	for (int i = 0; i < losses->count; i++)
		tell_loss(t, result, &losses->losses[i]);
	rn_tell_list_end(t);
}
