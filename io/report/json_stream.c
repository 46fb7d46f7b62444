/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/json_stream.h"

#include "io/base/words.h"

/* Objects down to this depth have a line for each member, deeper ones stand on one line. */
enum { DEPTH_IN_LINES = 4 };

static rn_json_stream *json_of(rn_stream *stream)
{
	return (rn_json_stream *)stream;
}

static void break_line(rn_json_stream *json)
{
	rn_buffer_char(json->stream.buffer, '\n');
	for (int i = 0; i < json->depth; i++)
		rn_buffer_text(json->stream.buffer, "  ");
}

static void add_escaped(rn_buffer *buffer, const char *text)
{
	rn_buffer_char(buffer, '"');
	while (*text) {
		uint32_t code;
		size_t size = rn_words_character(text, &code);
		if (code == '"' || code == '\\')
			rn_buffer_char(buffer, '\\');
		if (code == '?')
			rn_buffer_char(buffer, '?'); /* or what is not shown, see words.h */
		else
			rn_buffer_add(buffer, text, size);
		text += size;
	}
	rn_buffer_char(buffer, '"');
}

/* The comma, the line and the key before a value. */
static void begin(rn_json_stream *json, const char *key)
{
	rn_buffer *buffer = json->stream.buffer;
	if (!json->first)
		rn_buffer_char(buffer, ',');
	if (json->depth > 0 && json->depth <= DEPTH_IN_LINES)
		break_line(json);
	else if (!json->first)
		rn_buffer_char(buffer, ' ');
	json->first = false;
	if (key) {
		add_escaped(buffer, key);
		rn_buffer_text(buffer, ": ");
	}
}

static void open(rn_stream *stream, const char *key, char bracket)
{
	rn_json_stream *json = json_of(stream);
	begin(json, key);
	rn_buffer_char(stream->buffer, bracket);
	json->depth++;
	json->first = true;
}

static void close(rn_stream *stream, char bracket)
{
	rn_json_stream *json = json_of(stream);
	bool in_lines = json->depth <= DEPTH_IN_LINES && !json->first;
	json->depth--;
	if (in_lines)
		break_line(json);
	rn_buffer_char(stream->buffer, bracket);
	json->first = false;
	if (json->depth == 0)
		rn_buffer_char(stream->buffer, '\n');
}

static void text(rn_stream *stream, const char *key, const char *words)
{
	begin(json_of(stream), key);
	add_escaped(stream->buffer, words);
}

static void number(rn_stream *stream, const char *key, double value)
{
	begin(json_of(stream), key);
	rn_buffer_exact(stream->buffer, value);
}

static void word(rn_stream *stream, const char *key, const char *words)
{
	begin(json_of(stream), key);
	rn_buffer_text(stream->buffer, words);
}

rn_json_stream rn_json_stream_make(rn_buffer *buffer)
{
	return (rn_json_stream){
		.stream = {open, close, text, number, word, buffer, false}, .first = true};
}
