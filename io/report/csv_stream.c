/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/csv_stream.h"

#include <string.h>

#include "io/base/words.h"

static const char heads[] = "case,kind,id,index,quantity,unit,value,checked\n";

/* What one thing of a list is called. */
static const struct {
	const char *list, *kind;
} kinds[] = {
	{"members", "member"},   {"cases", "case"},       {"nodes", "node"},
	{"guessed", "guess"},
	{"spans", "span"},       {"passes", "bend"},      {"holds", "hold"},
	{"hands", "hand"},       {"anchors", "anchor"},   {"stems", "stem"},
	{"parts", "part"},       {"factors", "factor"},   {"contacts", "contact"},
	{"ranges", "range"},     {"losses", "loss"},       {"numbers", "number"},
	{"hitches", "hitch"},    {"stops", "stop"},       {"breaks", "break"},
	{"notes", "note"},       {"cautions", "caution"}, {"files", "file"},
	{"counts", "count"},     {"lines", "line"},       {"stations", "station"},
	{"runs", "run"},         {"diagnostics", "diagnostic"},
	{"timbers", "timber"},   {"rows", "row"},
	{"choices", "choice"},   {"turns", "turn"},       {"pulls", "pull"},
};

static const char *const units[] = {"N", "m", "deg", "Nm", "Pa", "m3", "J"};

static rn_csv_stream *csv_of(rn_stream *stream)
{
	return (rn_csv_stream *)stream;
}

static const char *kind_of(const char *key)
{
	for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
		if (strcmp(kinds[i].list, key) == 0)
			return kinds[i].kind;
	return key;
}

/* ---- cells ----------------------------------------------------------------------------------- */

static bool is_formula(char first)
{
	return first == '=' || first == '+' || first == '-' || first == '@';
}

/* Control characters, line ends among them, become '?', see words.h. */
static void add_text(rn_buffer *buffer, const char *text)
{
	bool quoted = strpbrk(text, ",\"") != NULL;
	if (quoted)
		rn_buffer_char(buffer, '"');
	if (is_formula(text[0]))
		rn_buffer_char(buffer, '\'');
	while (*text) {
		uint32_t code;
		size_t size = rn_words_character(text, &code);
		if (code == '"')
			rn_buffer_char(buffer, '"');
		if (code == '?')
			rn_buffer_char(buffer, '?');
		else
			rn_buffer_add(buffer, text, size);
		text += size;
	}
	if (quoted)
		rn_buffer_char(buffer, '"');
}

static const char *unit_of(const char *key)
{
	const char *behind = strrchr(key, '_');
	for (size_t i = 0; behind && i < sizeof units / sizeof *units; i++)
		if (strcmp(behind + 1, units[i]) == 0)
			return units[i];
	return NULL;
}

/* ---- rows ------------------------------------------------------------------------------------ */

static rn_csv_level *innermost(rn_csv_stream *csv)
{
	return &csv->levels[csv->depth - 1];
}

static const char *or_empty(const rn_buffer *buffer)
{
	return buffer->bytes ? buffer->bytes : "";
}

static void add_place(rn_csv_stream *csv, const rn_csv_level *level, int index)
{
	rn_buffer *out = csv->stream.buffer;
	add_text(out, or_empty(&csv->case_id));
	rn_buffer_char(out, ',');
	rn_buffer_text(out, level->kind);
	rn_buffer_char(out, ',');
	add_text(out, or_empty(&csv->id));
	rn_buffer_char(out, ',');
	if (index != RN_NONE)
		rn_buffer_format(out, "%d", index);
	rn_buffer_char(out, ',');
}

/* Writes the rows of an object that wait. */
static void flush(rn_csv_stream *csv, rn_csv_level *level)
{
	rn_buffer *out = csv->stream.buffer;
	const char *row = or_empty(&level->rows);
	while (*row) {
		size_t size = strcspn(row, "\n");
		add_place(csv, level, level->index);
		rn_buffer_add(out, row, size);
		rn_buffer_format(out, ",%s\n", level->checked);
		row += size + (row[size] == '\n'); /* the last is cut short where memory ended */
	}
	out->failed = out->failed || level->rows.failed;
	rn_buffer_release(&level->rows);
}

/* Begins "quantity,unit," in the rows of the object; returns where the value goes. */
static rn_buffer *begin_row(rn_csv_level *level, const char *key, const char *absent)
{
	const char *unit = unit_of(key);
	size_t size = unit ? (size_t)(strrchr(key, '_') - key) : strlen(key);
	rn_buffer_add(&level->rows, key, size);
	rn_buffer_format(&level->rows, ",%s,", unit ? unit : absent);
	return &level->rows;
}

/* ---- the stream ------------------------------------------------------------------------------ */

static void open(rn_stream *stream, const char *key, char bracket)
{
	rn_csv_stream *csv = csv_of(stream);
	rn_csv_level *outer = csv->depth > 0 ? innermost(csv) : NULL;
	if (csv->depth == RN_CSV_DEPTH_MOST) {
		stream->buffer->failed = true;
		return;
	}
	if (outer && !outer->is_list)
		flush(csv, outer);
	csv->levels[csv->depth++] = (rn_csv_level){
		.kind = key ? kind_of(key) : outer ? outer->kind : "answer",
		.checked = "",
		.is_list = bracket == '[',
		.index = outer && outer->is_list ? outer->count++ : RN_NONE,
		.rows = rn_buffer_make(&stream->buffer->allocator)};
}

static void forget(rn_stream *stream, rn_buffer *id, int *depth)
{
	stream->buffer->failed = stream->buffer->failed || id->failed;
	rn_buffer_release(id);
	*depth = 0;
}

static void close(rn_stream *stream, char bracket)
{
	(void)bracket;
	rn_csv_stream *csv = csv_of(stream);
	flush(csv, innermost(csv));
	if (csv->depth == csv->id_depth)
		forget(stream, &csv->id, &csv->id_depth);
	if (csv->depth == csv->case_depth)
		forget(stream, &csv->case_id, &csv->case_depth);
	csv->depth--;
}

/* Whether a text is what its object is called by: it says so in the rows instead of having one. */
static bool names_object(rn_csv_stream *csv, const rn_csv_level *level, const char *words)
{
	bool is_case = strcmp(level->kind, "case") == 0;
	int *depth = is_case ? &csv->case_depth : &csv->id_depth;
	if (level->index == RN_NONE || *depth != 0)
		return false;
	rn_buffer_text(is_case ? &csv->case_id : &csv->id, words);
	*depth = csv->depth;
	return true;
}

static void text(rn_stream *stream, const char *key, const char *words)
{
	rn_csv_stream *csv = csv_of(stream);
	rn_csv_level *level = innermost(csv);
	if (level->is_list) {
		add_place(csv, level, level->count++);
		rn_buffer_text(stream->buffer, "text,,");
		add_text(stream->buffer, words);
		rn_buffer_text(stream->buffer, ",\n");
		return;
	}
	if (names_object(csv, level, words))
		return;
	if (strcmp(key, "not_checked") == 0)
		level->checked = "no";
	rn_buffer *row = begin_row(level, key, "");
	add_text(row, words);
	rn_buffer_char(row, '\n');
}

static void number(rn_stream *stream, const char *key, double value)
{
	rn_csv_level *level = innermost(csv_of(stream));
	if (strcmp(key, "index") == 0) {
		level->index = (int)value;
		return;
	}
	rn_buffer *row = begin_row(level, key, "1");
	rn_buffer_exact(row, value);
	rn_buffer_char(row, '\n');
}

static void word(rn_stream *stream, const char *key, const char *words)
{
	rn_csv_level *level = innermost(csv_of(stream));
	bool is_null = strcmp(words, "null") == 0;
	if (is_null && strcmp(key, "not_checked") == 0)
		level->checked = "yes";
	rn_buffer *row = begin_row(level, key, "");
	rn_buffer_text(row, is_null ? "" : words);
	rn_buffer_char(row, '\n');
}

rn_csv_stream rn_csv_stream_make(rn_buffer *buffer)
{
	rn_buffer_text(buffer, heads);
	return (rn_csv_stream){.stream = {open, close, text, number, word, buffer, false},
	                       .case_id = rn_buffer_make(&buffer->allocator),
	                       .id = rn_buffer_make(&buffer->allocator)};
}
