/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/roff.h"

#include <string.h>

void rn_roff_text(rn_buffer *out, const char *text, size_t size)
{
	bool bold = false;
	/* a dot or quote at the start of a line would be a request; \& is nothing of no width */
	if (size && strchr(".'", text[0]))
		rn_buffer_text(out, "\\&");
	for (size_t i = 0; i < size; i++)
		switch (text[i]) {
		case '`':
			bold = !bold;
			rn_buffer_text(out, bold ? "\\fB" : "\\fR");
			break;
		case '\\': rn_buffer_text(out, "\\e"); break;
		case '-': rn_buffer_text(out, "\\-"); break;
		case '\'': rn_buffer_text(out, "\\(aq"); break;
		case '"': rn_buffer_text(out, "\\(dq"); break;
		case '^': rn_buffer_text(out, "\\(ha"); break;
		case '~': rn_buffer_text(out, "\\(ti"); break;
		default: rn_buffer_char(out, text[i]);
		}
}

static void line(rn_buffer *out, const char *text)
{
	rn_roff_text(out, text, strlen(text));
	rn_buffer_char(out, '\n');
}

void rn_roff_begin(rn_buffer *out, const char *name, int section, const char *date, const char *what)
{
	rn_buffer_text(out, ".\\\" SPDX-License-Identifier: GPL-3.0-or-later\n");
	rn_buffer_format(out, ".TH %s %d \"%s\" \"funicle " RN_VERSION_TEXT "\"\n", name, section, date);
	rn_roff_section(out, "Name");
	rn_buffer_text(out, "funicle \\- ");
	line(out, what);
}

void rn_roff_section(rn_buffer *out, const char *heading)
{
	rn_buffer_text(out, ".SH \"");
	for (; *heading; heading++) {
		bool small = *heading >= 'a' && *heading <= 'z';
		rn_buffer_char(out, (char)(small ? *heading - 'a' + 'A' : *heading));
	}
	rn_buffer_text(out, "\"\n");
}

/* A paragraph behind a heading begins by itself. */
static void begin_paragraph(rn_buffer *out)
{
	size_t at = out->size ? out->size - 1 : 0;
	while (at > 0 && out->bytes[at - 1] != '\n')
		at--;
	if (out->size && strncmp(out->bytes + at, ".S", 2) != 0)
		rn_buffer_text(out, ".PP\n");
}

void rn_roff_paragraph(rn_buffer *out, const char *text)
{
	begin_paragraph(out);
	line(out, text);
}

void rn_roff_item(rn_buffer *out, const char *term, size_t size)
{
	rn_buffer_text(out, ".TP\n\\fB");
	rn_roff_text(out, term, size);
	rn_buffer_text(out, "\\fR\n");
}

/* ---- Markdown ------------------------------------------------------------------------------ */

typedef struct cell {
	const char *text;
	size_t size;
} cell;

enum { CELLS_MOST = 8 };

/* The cells of "| a | b |", blanks at their ends left out. */
static int split(const char *text, size_t size, cell *cells)
{
	int count = 0;
	const char *end = text + size, *from = text + 1;
	while (from < end && count < CELLS_MOST) {
		const char *to = memchr(from, '|', (size_t)(end - from));
		to = to ? to : end;
		const char *first = from, *last = to;
		while (first < last && *first == ' ')
			first++;
		while (last > first && last[-1] == ' ')
			last--;
		cells[count++] = (cell){first, (size_t)(last - first)};
		from = to + 1;
	}
	return count;
}

/* A row of a table: its head says what its cells are, "needed" or "units". */
static void row(rn_buffer *out, const cell *head, const cell *cells, int count)
{
	bool quoted = cells[0].size && cells[0].text[0] == '`';
	rn_buffer_text(out, quoted ? ".TP\n" : ".TP\n\\fI");
	rn_roff_text(out, cells[0].text, cells[0].size);
	rn_buffer_text(out, quoted ? "\n" : "\\fR\n");
	const char *between = "";
	for (int i = 1; i < count; i++) {
		if (!cells[i].size)
			continue;
		rn_buffer_text(out, between);
		if (i > 1 && head[i].size) {
			rn_roff_text(out, head[i].text, head[i].size);
			rn_buffer_text(out, ": ");
		}
		rn_roff_text(out, cells[i].text, cells[i].size);
		between = "; ";
	}
	rn_buffer_char(out, '\n');
}

/* A table from its head on. Returns what stands behind it. */
static const char *table(rn_buffer *out, const char *at)
{
	cell head[CELLS_MOST] = {{"", 0}}, cells[CELLS_MOST] = {{"", 0}};
	for (int i = 0; *at == '|'; i++) {
		size_t size = strcspn(at, "\n");
		int count = split(at, size, i == 0 ? head : cells);
		if (i > 1) /* the second line is the rule under the head */
			row(out, head, cells, count);
		at += size + (at[size] == '\n');
	}
	return at;
}

void rn_roff_markdown(rn_buffer *out, const char *text)
{
	for (const char *at = text; *at;) {
		if (*at == '|') {
			at = table(out, at);
			continue;
		}
		size_t size = strcspn(at, "\n"), skip = strspn(at, "# ");
		if (*at == '#')
			rn_buffer_text(out, ".SS \"");
		else if (size)
			begin_paragraph(out);
		if (size) {
			rn_roff_text(out, at + skip, size - skip);
			rn_buffer_text(out, *at == '#' ? "\"\n" : "\n");
		}
		at += size + (at[size] == '\n');
	}
}
