/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/findings.h"

#include <string.h>

#include "io/xml/utf8.h"

/* As much of a source line as is shown [bytes]. */
enum { SOURCE_MOST = 240 };

rn_findings rn_findings_make(rn_pool *pool)
{
	return (rn_findings){.pool = pool, .text = rn_buffer_make(&pool->allocator)};
}

void rn_findings_release(rn_findings *findings)
{
	rn_buffer_release(&findings->text);
}

/* Steps over one character and tells whether it may be shown. A byte that is not UTF-8, a control
 * character, or one that turns or hides the text around it, may not. */
static bool showable(const char **at, const char *end)
{
	uint32_t c;
	size_t size = rn_utf8_read(*at, (size_t)(end - *at), &c);
	*at += size ? size : 1;
	return size && c >= 0x20 && !(c >= 0x7F && c < 0xA0) && !rn_utf8_is_hidden(c);
}

static const char *clean(rn_pool *pool, const char *bytes, size_t size)
{
	char *copy = rn_pool_copy(pool, bytes, size);
	if (!copy)
		return NULL;
	char *to = copy;
	for (const char *at = bytes, *end = bytes + size; at < end;) {
		const char *start = at;
		if (showable(&at, end)) {
			memmove(to, start, (size_t)(at - start));
			to += at - start;
		} else
			*to++ = *start == '\t' ? ' ' : '?';
	}
	*to = '\0';
	return copy;
}

/* A cut never falls inside a character. */
static size_t shown_size(const char *line, size_t size)
{
	if (size <= SOURCE_MOST)
		return size;
	size = SOURCE_MOST;
	while (size > 0 && ((unsigned char)line[size] & 0xC0) == 0x80)
		size--;
	return size;
}

static const char *source_line(rn_findings *findings, int file, int line)
{
	if (line <= 0 || !findings->sources)
		return NULL;
	const rn_source *source = &findings->sources[file];
	const char *at = source->bytes, *end = source->bytes + source->size;
	for (int i = 1; i < line && at; i++) {
		at = at < end ? memchr(at, '\n', (size_t)(end - at)) : NULL;
		at = at ? at + 1 : NULL;
	}
	if (!at || at >= end)
		return NULL;
	while (at < end && (*at == ' ' || *at == '\t'))
		at++;
	const char *stop = memchr(at, '\n', (size_t)(end - at));
	size_t size = (size_t)((stop ? stop : end) - at);
	while (size > 0 && (at[size - 1] == '\r' || at[size - 1] == ' '))
		size--;
	return size ? clean(findings->pool, at, shown_size(at, size)) : NULL;
}

rn_buffer *rn_findings_begin(rn_findings *findings, int file, int line)
{
	findings->file = file;
	findings->line = line;
	findings->text.size = 0;
	return &findings->text;
}

void rn_findings_end(rn_findings *findings)
{
	if (!rn_findings_have_room(findings)) {
		findings->dropped++;
		return;
	}
	findings->items[findings->count++] = (rn_diagnostic){
		.file = findings->file,
		.line = findings->line,
		.severity = RN_ERROR,
		.text = clean(findings->pool, findings->text.bytes ? findings->text.bytes : "",
	                      findings->text.size),
		.source = source_line(findings, findings->file, findings->line),
	};
}

void rn_findings_add(rn_findings *findings, int file, int line, const char *text)
{
	rn_buffer *out = rn_findings_begin(findings, file, line);
	rn_buffer_text(out, text);
	rn_findings_end(findings);
}

bool rn_findings_have_room(const rn_findings *findings)
{
	return findings->count < RN_FINDINGS_MOST;
}

bool rn_findings_any(const rn_findings *findings)
{
	return findings->count > 0;
}

static bool comes_after(const rn_diagnostic *a, const rn_diagnostic *b)
{
	return a->file != b->file ? a->file > b->file : a->line > b->line;
}

void rn_findings_sort(rn_findings *findings)
{
	for (int i = 1; i < findings->count; i++) {
		rn_diagnostic moved = findings->items[i];
		int k = i;
		for (; k > 0 && comes_after(&findings->items[k - 1], &moved); k--)
			findings->items[k] = findings->items[k - 1];
		findings->items[k] = moved;
	}
}

rn_status rn_findings_status(const rn_findings *findings)
{
	return findings->pool->failed || findings->text.failed ? RN_STATUS_MEMORY : RN_OK;
}
