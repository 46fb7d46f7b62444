/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/json_stream.h"

#include <math.h>
#include <string.h>

#include "io/base/words.h"

/* Objects down to this depth have a line for each member, deeper ones stand on one line. */
enum { DEPTH_IN_LINES = 4 };

rn_json_stream rn_json_stream_make(rn_buffer *buffer)
{
	return (rn_json_stream){.buffer = buffer, .first = true};
}

static void break_line(rn_json_stream *json)
{
	rn_buffer_char(json->buffer, '\n');
	for (int i = 0; i < json->depth; i++)
		rn_buffer_text(json->buffer, "  ");
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
	if (!json->first)
		rn_buffer_char(json->buffer, ',');
	if (json->depth > 0 && json->depth <= DEPTH_IN_LINES)
		break_line(json);
	else if (!json->first)
		rn_buffer_char(json->buffer, ' ');
	json->first = false;
	if (key) {
		add_escaped(json->buffer, key);
		rn_buffer_text(json->buffer, ": ");
	}
}

void rn_json_stream_open(rn_json_stream *json, const char *key, char bracket)
{
	begin(json, key);
	rn_buffer_char(json->buffer, bracket);
	json->depth++;
	json->first = true;
}

void rn_json_stream_close(rn_json_stream *json, char bracket)
{
	bool in_lines = json->depth <= DEPTH_IN_LINES && !json->first;
	json->depth--;
	if (in_lines)
		break_line(json);
	rn_buffer_char(json->buffer, bracket);
	json->first = false;
	if (json->depth == 0)
		rn_buffer_char(json->buffer, '\n');
}

void rn_json_stream_text(rn_json_stream *json, const char *key, const char *text)
{
	begin(json, key);
	if (text)
		add_escaped(json->buffer, text);
	else
		rn_buffer_text(json->buffer, "null");
}

void rn_json_stream_number(rn_json_stream *json, const char *key, double value)
{
	begin(json, key);
	if (!isfinite(value)) {
		json->not_finite = true;
		rn_buffer_text(json->buffer, "null");
		return;
	}
	const double plain_zero = value + 0.0; /* turns -0 into 0 */
	rn_buffer_exact(json->buffer, plain_zero);
}

void rn_json_stream_whole(rn_json_stream *json, const char *key, int value)
{
	begin(json, key);
	rn_buffer_format(json->buffer, "%d", value);
}

void rn_json_stream_bool(rn_json_stream *json, const char *key, bool value)
{
	begin(json, key);
	rn_buffer_text(json->buffer, value ? "true" : "false");
}

void rn_json_stream_null(rn_json_stream *json, const char *key)
{
	begin(json, key);
	rn_buffer_text(json->buffer, "null");
}
