/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/tell.h"

#include "io/report/verdict.h"

/* Raised when a key is taken away or changes its meaning. */
enum { FORMAT = 1 };

rn_teller rn_teller_make(rn_stream *stream, const rn_model *model, const rn_answer_options *options)
{
	return (rn_teller){.stream = stream,
	                   .words = rn_buffer_make(&stream->buffer->allocator),
	                   .model = model,
	                   .units = options ? options->units : RN_METRIC};
}

rn_status rn_teller_end(rn_teller *t)
{
	rn_buffer_release(&t->words);
	return rn_stream_status(t->stream);
}

/* ---- values ---------------------------------------------------------------------------------- */

void rn_tell_list(rn_teller *t, const char *key)
{
	rn_stream_open(t->stream, key, '[');
}

void rn_tell_list_end(rn_teller *t)
{
	rn_stream_close(t->stream, ']');
}

void rn_tell_open(rn_teller *t, const char *key)
{
	rn_stream_open(t->stream, key, '{');
}

void rn_tell_close(rn_teller *t)
{
	rn_stream_close(t->stream, '}');
}

void rn_tell_words(rn_teller *t, const char *key)
{
	rn_stream_text(t->stream, key, t->words.bytes ? t->words.bytes : "");
	t->stream->buffer->failed = t->stream->buffer->failed || t->words.failed;
	rn_buffer_release(&t->words);
}

void rn_tell_object(rn_teller *t, const char *key, rn_object object)
{
	if (object.index == RN_NONE) {
		rn_stream_null(t->stream, key);
		return;
	}
	rn_words_object(&t->words, t->model, object);
	rn_tell_words(t, key);
}

void rn_tell_node(rn_teller *t, const char *key, int node)
{
	rn_tell_object(t, key, rn_object_of(RN_NODE, node));
}

void rn_tell_notes(rn_teller *t, const rn_notes *notes)
{
	for (int i = 0; i < notes->count; i++) {
		rn_words_note(&t->words, t->model, &notes->items[i], t->units);
		rn_tell_words(t, NULL);
	}
}

void rn_tell_factors(rn_teller *t, const rn_part_result *part)
{
	const double degrees_per_radian = 180 / 3.14159265358979323846;
	rn_tell_list(t, "factors");
	for (int i = 0; i < part->factor_count; i++) {
		const rn_factor *f = &part->factors[i];
		rn_tell_open(t, NULL);
		rn_stream_text(t->stream, "what", rn_factor_text(f->kind));
		rn_stream_number(t->stream, "value", f->value);
		rn_stream_text(t->stream, "row", f->word);
		if (f->kind == RN_FACTOR_CHOKE_ANGLE)
			rn_stream_number(t->stream, "angle_deg", f->measure * degrees_per_radian);
		else if (f->measure > 0)
			rn_stream_number(t->stream, "ratio", f->measure);
		rn_stream_text(t->stream, "source", f->source);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

void rn_tell_kind(rn_teller *t, rn_object part)
{
	rn_stream_text(t->stream, "kind", part.kind == RN_LINE ? "line" : rn_words_kind(t->model, part));
}

/* ---- the same in every answer ---------------------------------------------------------------- */

void rn_tell_head(rn_teller *t, const rn_answer_options *options)
{
	rn_stream_text(t->stream, "funicle", RN_VERSION_TEXT);
	rn_stream_whole(t->stream, "format", FORMAT);
	rn_tell_open(t, "model");
	rn_stream_text(t->stream, "title", t->model ? t->model->title : NULL);
	rn_stream_text(t->stream, "file", options ? options->file : NULL);
	rn_stream_text(t->stream, "sha256", options ? options->sha256 : NULL);
	rn_tell_close(t);
}

void rn_tell_verdict(rn_teller *t, const rn_result *result)
{
	const rn_verdict *v = &result->verdict;
	rn_tell_open(t, "verdict");
	rn_verdict_sentence(&t->words, result, t->units);
	rn_tell_words(t, "sentence");
	rn_stream_whole(t->stream, "over", v->over_count);
	rn_stream_whole(t->stream, "checked", v->checked_count);
	rn_stream_whole(t->stream, "not_checked", v->not_checked_count);
	rn_tell_close(t);
}

void rn_tell_guessed(rn_teller *t)
{
	rn_tell_list(t, "guessed");
	rn_tell_notes(t, &t->model->guesses);
	rn_tell_list_end(t);
}

void rn_tell_cautions(rn_teller *t)
{
	rn_tell_list(t, "cautions");
	for (int i = 0; rn_words_sight(t->model, i); i++)
		rn_stream_text(t->stream, NULL, rn_words_sight(t->model, i));
	for (int i = 0; rn_words_caution(t->model, i); i++)
		rn_stream_text(t->stream, NULL, rn_words_caution(t->model, i));
	rn_tell_notes(t, &t->model->doubts);
	rn_tell_notes(t, &t->model->remarks);
	rn_tell_list_end(t);
}

/* ---- members --------------------------------------------------------------------------------- */

static void open_member(rn_teller *t, rn_object member, int gear)
{
	rn_tell_open(t, NULL);
	rn_tell_object(t, "id", member);
	rn_stream_text(t->stream, "kind", member.kind == RN_LINE    ? "line"
	                                  : member.kind == RN_SLING ? "sling"
	                                                            : "prop");
	rn_tell_object(t, "gear", rn_object_of(RN_ITEM, gear));
	rn_tell_list(t, "spans");
}

static void tell_ends(rn_teller *t, int from, int to)
{
	rn_tell_open(t, NULL);
	rn_tell_node(t, "from", from);
	rn_tell_node(t, "to", to);
	rn_tell_close(t);
}

static void close_member(rn_teller *t)
{
	rn_tell_list_end(t);
	rn_tell_close(t);
}

void rn_tell_members(rn_teller *t)
{
	const rn_model *m = t->model;
	rn_tell_list(t, "members");
	for (int i = 0; i < m->line_count; i++) {
		const rn_station *s = &m->stations[m->lines[i].first_station];
		open_member(t, rn_object_of(RN_LINE, i), m->lines[i].gear);
		for (int k = 0; k + 1 < m->lines[i].station_count; k++)
			tell_ends(t, s[k].node, s[k + 1].node);
		close_member(t);
	}
	for (int i = 0; i < m->sling_count; i++) {
		const rn_leg *leg = &m->legs[m->slings[i].first_leg];
		open_member(t, rn_object_of(RN_SLING, i), m->slings[i].gear);
		for (int k = 0; k < m->slings[i].leg_count; k++)
			tell_ends(t, leg[k].from, leg[k].to);
		close_member(t);
	}
	for (int i = 0; i < m->prop_count; i++) {
		open_member(t, rn_object_of(RN_PROP, i), RN_NONE);
		tell_ends(t, m->props[i].from, m->props[i].to);
		close_member(t);
	}
	rn_tell_list_end(t);
}
