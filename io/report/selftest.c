/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/selftest.h"

#include <math.h>
#include <string.h>

#include "io/report/folio.h"

int rn_selftest_agreeing(const rn_selftest *s)
{
	int agreeing = 0;
	for (int i = 0; i < s->count; i++)
		agreeing += s->rows[i].reply.agrees;
	return agreeing;
}

/* ---- as text ----------------------------------------------------------------------------------------- */

static void cell_number(rn_folio *f, double value)
{
	rn_buffer_fixed(&f->line, value, 2);
	rn_folio_cell(f);
}

static void cell_count(rn_folio *f, int count)
{
	rn_buffer_format(&f->line, "%d", count);
	rn_folio_cell(f);
}

/* Difference over what is allowed [-]. */
static double share_of(const rn_reply *r)
{
	return r->room > 0 ? fabs(r->off) / r->room : r->agrees ? 0 : HUGE_VAL;
}

/* The first row of each source stands for it. */
static bool is_first(const rn_selftest *s, int index)
{
	for (int i = 0; i < index; i++)
		if (strcmp(s->rows[i].question.source, s->rows[index].question.source) == 0)
			return false;
	return true;
}

static void source_row(rn_folio *f, const rn_selftest *s, int first)
{
	int count = 0, agreeing = 0;
	double most = 0;
	for (int i = first; i < s->count; i++) {
		const rn_asked_row *row = &s->rows[i];
		if (strcmp(row->question.source, s->rows[first].question.source) != 0)
			continue;
		count++;
		agreeing += row->reply.agrees;
		if (row->reply.agrees)
			most = fmax(most, share_of(&row->reply));
	}
	rn_words_plain(&f->line, s->rows[first].question.source);
	rn_folio_cell(f);
	cell_count(f, count);
	cell_count(f, agreeing);
	cell_number(f, most);
}

static void write_sources(rn_folio *f, const rn_selftest *s)
{
	const rn_columns columns = {.count = 4,
	                            .heads = {"source", "values", "agree", "closest call"},
	                            .weights = {0.6, 0.12, 0.12, 0.16},
	                            .to_the_right = {false, true, true, true}};
	rn_folio_table(f, &columns);
	for (int i = 0; i < s->count; i++)
		if (is_first(s, i))
			source_row(f, s, i);
	rn_folio_table_end(f);
}

static void write_difference(rn_folio *f, const rn_asked_row *row)
{
	rn_buffer_text(&f->line, "DIFFERS: ");
	rn_words_plain(&f->line, row->model);
	rn_buffer_text(&f->line, ", ");
	rn_words_plain(&f->line, row->question.quantity);
	if (row->why) {
		rn_buffer_text(&f->line, ": ");
		rn_words_plain(&f->line, row->why);
	} else {
		rn_buffer_text(&f->line, " is ");
		rn_buffer_exact(&f->line, row->reply.actual);
		rn_buffer_format(&f->line, " %s, expected %s within %s (%s)", row->reply.unit, row->question.expected,
		                 row->question.tolerance, row->question.source);
	}
	rn_buffer_char(&f->line, '.');
	rn_folio_block(f, RN_BLOCK_STRONG);
}

static void write_all(rn_folio *f, const rn_selftest *s)
{
	int agreeing = rn_selftest_agreeing(s);
	rn_buffer_format(&f->line, "SELF-TEST: %d of %d values of %d models agree%s", agreeing, s->count, s->model_count,
	                 agreeing == s->count ? "." : ". DO NOT USE THIS COPY OF THE PROGRAM.");
	rn_folio_block(f, RN_BLOCK_STRONG);
	for (int i = 0; i < s->count; i++)
		if (!s->rows[i].reply.agrees)
			write_difference(f, &s->rows[i]);
	rn_buffer_format(&f->line, "funicle " RN_VERSION_TEXT ", %s; %s.", s->libraries, s->build);
	rn_folio_block(f, RN_BLOCK_PARAGRAPH);
	rn_buffer_text(&f->line, "Every value is published or was found by other means, and its row says by whom; the closest call is "
	                         "the largest difference over what is allowed, which is half of the last printed figure, or a "
	                         "millionth where the value was recomputed. Run this after each installation and once a year, and keep "
	                         "what it prints. That these agree does not prove that the next answer is right: it proves that this "
	                         "copy computes as it did when they were endorsed.");
	rn_folio_block(f, RN_BLOCK_PARAGRAPH);
	write_sources(f, s);
}

rn_status rn_selftest_text(rn_buffer *buffer, const rn_selftest *selftest)
{
	rn_folio folio = rn_folio_make(&buffer->allocator);
	write_all(&folio, selftest);
	rn_status status = rn_folio_text(buffer, &folio);
	rn_folio_release(&folio);
	return status;
}

/* ---- for other programs ---------------------------------------------------------------------- */

static void tell_row(rn_teller *t, const rn_asked_row *row)
{
	rn_tell_open(t, NULL);
	rn_stream_text(t->stream, "row", row->question.row);
	rn_stream_text(t->stream, "model", row->model);
	rn_stream_text(t->stream, "quantity", row->question.quantity);
	rn_stream_text(t->stream, "source", row->question.source);
	rn_stream_text(t->stream, "unit", row->reply.unit);
	rn_stream_number(t->stream, "expected", row->reply.expected);
	rn_stream_number(t->stream, "computed", row->reply.actual);
	rn_stream_number(t->stream, "difference", row->reply.off);
	rn_stream_number(t->stream, "allowed", row->reply.room);
	rn_stream_bool(t->stream, "agrees", row->reply.agrees);
	rn_stream_text(t->stream, "not_asked", row->why);
	rn_tell_close(t);
}

rn_status rn_selftest_tell(rn_stream *stream, const rn_selftest *s)
{
	rn_answer_options none = {.units = RN_METRIC};
	rn_teller t = rn_teller_make(stream, NULL, &none);
	rn_tell_open(&t, NULL);
	rn_stream_text(stream, "funicle", RN_VERSION_TEXT);
	rn_stream_text(stream, "libraries", s->libraries);
	rn_stream_text(stream, "build", s->build);
	rn_stream_whole(stream, "models", s->model_count);
	rn_stream_whole(stream, "agree", rn_selftest_agreeing(s));
	rn_stream_whole(stream, "differ", s->count - rn_selftest_agreeing(s));
	rn_tell_list(&t, "values");
	for (int i = 0; i < s->count; i++)
		tell_row(&t, &s->rows[i]);
	rn_tell_list_end(&t);
	rn_tell_close(&t);
	return rn_teller_end(&t);
}
