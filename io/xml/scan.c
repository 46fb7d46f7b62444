/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/scan.h"

#include <string.h>

#include "io/xml/utf8.h"

typedef struct scanner {
	rn_findings *findings;
	int file;
	const char *at, *end;
	int line; /* of `at` */
	int depth;
	int *elements_left;
	rn_scan *scan;
} scanner;

static bool starts_with(const char *at, const char *end, const char *text)
{
	size_t size = strlen(text);
	return (size_t)(end - at) >= size && memcmp(at, text, size) == 0;
}

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* ---- bytes --------------------------------------------------------------------------------- */

static const struct {
	const char *bytes;
	size_t size;
} wide_marks[] = {
	{"\xFF\xFE", 2},
	{"\xFE\xFF", 2},
	{"<\0", 2},
	{"\0<", 2},
};

static bool is_wide(const rn_source *source)
{
	for (size_t i = 0; i < sizeof wide_marks / sizeof *wide_marks; i++)
		if (source->size >= wide_marks[i].size &&
		    memcmp(source->bytes, wide_marks[i].bytes, wide_marks[i].size) == 0)
			return true;
	return false;
}

/* Finding about one byte or character that may not be there; always false. */
static bool refuse_byte(scanner *s, const char *before, unsigned value, const char *behind)
{
	rn_buffer *text = rn_findings_begin(s->findings, s->file, s->line);
	rn_buffer_format(text, "%s 0x%02X %s", before, value, behind);
	rn_findings_end(s->findings);
	return false;
}

static bool is_control(uint32_t c)
{
	return (c < 0x20 && c != '\t' && c != '\n' && c != '\r') || c == 0x7F;
}

static bool characters_are_fit(scanner *s)
{
	const char *p = s->at;
	while (p < s->end) {
		uint32_t c = 0;
		size_t size = rn_utf8_read(p, (size_t)(s->end - p), &c);
		if (!size)
			return refuse_byte(s, "the byte", (unsigned char)*p,
			                   "is not UTF-8: save the file as UTF-8");
		if (is_control(c))
			return refuse_byte(s, "the control character", c,
			                   "may not stand in a file");
		s->line += *p == '\n';
		p += size;
	}
	s->line = 1;
	return true;
}

/* An encoding named in the XML declaration, behind `encoding=`; NULL if there is none. */
static const char *declared_encoding(const char *at, const char *end, size_t *size_out)
{
	static const char word[] = "encoding";
	const char *stop = at;
	if (!starts_with(at, end, "<?xml") || end - at < 6 || !is_space(at[5]))
		return NULL;
	while (stop < end && *stop != '>')
		stop++;
	while (at < stop && !starts_with(at, stop, word))
		at++;
	while (at < stop && *at != '"' && *at != '\'')
		at++;
	if (at == stop)
		return NULL;
	const char *close = memchr(at + 1, *at, (size_t)(stop - at - 1));
	*size_out = close ? (size_t)(close - at - 1) : 0;
	return close ? at + 1 : NULL;
}

static bool same_word(const char *a, size_t size, const char *b)
{
	if (strlen(b) != size)
		return false;
	for (size_t i = 0; i < size; i++) {
		char c = a[i] >= 'A' && a[i] <= 'Z' ? (char)(a[i] - 'A' + 'a') : a[i];
		if (c != b[i])
			return false;
	}
	return true;
}

static bool encoding_is_fit(scanner *s)
{
	size_t size = 0;
	const char *encoding = declared_encoding(s->at, s->end, &size);
	if (!encoding || same_word(encoding, size, "utf-8") ||
	    same_word(encoding, size, "us-ascii"))
		return true;
	rn_buffer *text = rn_findings_begin(s->findings, s->file, 1);
	rn_buffer_format(text, "encoding=\"%.*s\": only UTF-8 is read", size > 40 ? 40 : (int)size,
	                 encoding);
	rn_findings_end(s->findings);
	return false;
}

static bool bytes_are_fit(scanner *s)
{
	const rn_source *source = &s->findings->sources[s->file];
	const char *fault = NULL;
	if (source->size == 0)
		fault = "the file is empty";
	else if (source->size > RN_SCAN_BYTES_MOST)
		fault = "the file is larger than 4 MiB";
	else if (is_wide(source))
		fault = "the file is not UTF-8: save it as UTF-8";
	if (fault) {
		rn_findings_add(s->findings, s->file, 0, fault);
		return false;
	}
	return characters_are_fit(s) && encoding_is_fit(s);
}

/* ---- tags ---------------------------------------------------------------------------------- */

/* What became of one piece of markup. */
typedef enum step { GO_ON, BROKEN, REFUSED } step;

static step refuse(scanner *s, int line, const char *text)
{
	rn_findings_add(s->findings, s->file, line, text);
	return REFUSED;
}

static void advance(scanner *s, const char *to)
{
	for (; s->at < to; s->at++)
		s->line += *s->at == '\n';
}

/* Goes behind the next `close`. */
static step skip_behind(scanner *s, const char *close)
{
	while (s->at < s->end && !starts_with(s->at, s->end, close))
		advance(s, s->at + 1);
	if (s->at == s->end)
		return BROKEN;
	advance(s, s->at + strlen(close));
	return GO_ON;
}

/* From an opening quote to behind the closing one. */
static step skip_value(scanner *s)
{
	const char quote = *s->at;
	const char *start = s->at + 1;
	int line = s->line;
	advance(s, start);
	while (s->at < s->end && *s->at != quote && *s->at != '<') {
		advance(s, s->at + 1);
		if (s->at - start > RN_SCAN_ATTRIBUTE_MOST)
			return refuse(s, line,
			              "an attribute is longer than 4 KiB; is a quote missing?");
	}
	if (s->at == s->end || *s->at == '<')
		return BROKEN;
	advance(s, s->at + 1);
	return GO_ON;
}

/* From '<' to behind '>', over quoted values; *is_empty_out tells "<.../>". */
static step skip_tag(scanner *s, bool *is_empty_out)
{
	const char *start = s->at;
	int line = s->line, values = 0;
	advance(s, s->at + 1);
	while (s->at < s->end && *s->at != '>' && *s->at != '<') {
		bool quoted = *s->at == '"' || *s->at == '\'';
		step done = GO_ON;
		if (quoted && ++values > RN_SCAN_ATTRIBUTES_MOST)
			return refuse(s, line, "a tag has more than 64 attributes");
		if (quoted)
			done = skip_value(s);
		else
			advance(s, s->at + 1);
		if (done != GO_ON)
			return done;
		if (s->at - start > RN_SCAN_TAG_MOST)
			return refuse(s, line, "a tag is longer than 64 KiB");
	}
	if (s->at == s->end || *s->at == '<')
		return BROKEN;
	*is_empty_out = s->at[-1] == '/';
	advance(s, s->at + 1);
	return GO_ON;
}

static step note_tag(scanner *s, const rn_scan_tag *tag)
{
	rn_scan *scan = s->scan;
	if ((*s->elements_left)-- <= 0)
		return refuse(s, tag->line, "there are more than 50,000 elements");
	rn_scan_tag *tags = rn_pool_grow(s->findings->pool, scan->tags, scan->count,
	                                 &scan->capacity, sizeof *tags);
	if (!tags)
		return BROKEN; /* the pool remembers */
	scan->tags = tags;
	scan->tags[scan->count++] = *tag;
	return GO_ON;
}

static step start_tag(scanner *s)
{
	rn_scan_tag tag = {s->at, s->line};
	bool is_empty = false;
	step done = skip_tag(s, &is_empty);
	if (done == GO_ON)
		done = note_tag(s, &tag);
	if (done == GO_ON && s->depth == RN_SCAN_DEPTH_MOST)
		return refuse(s, tag.line, "elements are nested more than 32 deep");
	s->depth += !is_empty;
	return done;
}

static step end_tag(scanner *s)
{
	s->depth--;
	return s->depth < 0 ? BROKEN : skip_behind(s, ">");
}

/* A catalog would be looked up by libxml2; every other instruction is for somebody else. */
static step instruction(scanner *s)
{
	if (starts_with(s->at, s->end, "<?oasis-xml-catalog"))
		return refuse(s, s->line, "a catalog is not read: take the instruction out");
	return skip_behind(s, "?>");
}

static step markup(scanner *s)
{
	if (starts_with(s->at, s->end, "<!--"))
		return skip_behind(s, "-->");
	if (starts_with(s->at, s->end, "<![CDATA["))
		return skip_behind(s, "]]>");
	if (starts_with(s->at, s->end, "<!"))
		return refuse(s, s->line, "a DOCTYPE and its entities are not read: take it out");
	if (starts_with(s->at, s->end, "<?"))
		return instruction(s);
	if (starts_with(s->at, s->end, "</"))
		return end_tag(s);
	return start_tag(s);
}

static bool markup_is_fit(scanner *s)
{
	step done = GO_ON;
	while (done == GO_ON && s->at < s->end) {
		if (*s->at == '<')
			done = markup(s);
		else
			advance(s, s->at + 1);
	}
	return done != REFUSED;
}

rn_status rn_scan_bytes(rn_findings *findings, int file, int *elements_left, rn_scan *scan_out)
{
	const rn_source *source = &findings->sources[file];
	scanner s = {.findings = findings,
	             .file = file,
	             .at = source->bytes,
	             .end = source->bytes + source->size,
	             .line = 1,
	             .elements_left = elements_left,
	             .scan = scan_out};
	*scan_out = (rn_scan){0};
	if (starts_with(s.at, s.end, "\xEF\xBB\xBF")) /* a mark that says UTF-8 */
		s.at += 3;
	bool fit = bytes_are_fit(&s) && markup_is_fit(&s);
	RN_TRY(rn_findings_status(findings));
	return fit ? RN_OK : RN_STATUS_INPUT;
}

/* ---- lines of attributes --------------------------------------------------------------------- */

typedef struct walk {
	const char *at, *end;
	int line;
} walk;

static void walk_to(walk *w, const char *stops)
{
	while (w->at < w->end && !strchr(stops, *w->at)) {
		w->line += *w->at == '\n';
		w->at++;
	}
}

static void walk_spaces(walk *w)
{
	while (w->at < w->end && is_space(*w->at)) {
		w->line += *w->at == '\n';
		w->at++;
	}
}

static bool declares_namespace(const walk *w)
{
	static const char word[] = "xmlns";
	const size_t size = sizeof word - 1;
	return starts_with(w->at, w->end, word) && w->at + size < w->end &&
	       (is_space(w->at[size]) || w->at[size] == '=' || w->at[size] == ':');
}

/* From the first letter of an attribute to behind its value. */
static void walk_attribute(walk *w)
{
	walk_to(w, "\"'>");
	if (w->at == w->end || *w->at == '>')
		return;
	const char quote[2] = {*w->at, '\0'};
	w->at++;
	walk_to(w, quote);
	if (w->at < w->end)
		w->at++;
}

void rn_scan_attribute_lines(const rn_scan_tag *tag, const char *end, int *lines, size_t count)
{
	walk w = {tag->at, end, tag->line};
	walk_to(&w, " \t\r\n/>");
	for (size_t i = 0; i < count;) {
		walk_spaces(&w);
		if (!declares_namespace(&w))
			lines[i++] = w.line;
		walk_attribute(&w);
	}
}
