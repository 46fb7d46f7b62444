/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/pages.h"

#include <string.h>

#include "io/cli/options.h"
#include "io/cli/roff.h"
#include "io/xml/manual.h"

/* ---- the program --------------------------------------------------------------------------- */

static void verbs(rn_buffer *out)
{
	rn_roff_section(out, "Verbs");
	const rn_verb_row *row = NULL;
	for (int i = 0; (row = rn_options_verb(i)); i++) {
		rn_roff_item(out, row->word, strlen(row->word));
		rn_roff_text(out, row->help, strlen(row->help));
		rn_buffer_char(out, '\n');
	}
}

static void options(rn_buffer *out)
{
	rn_roff_section(out, "Options");
	const rn_option_row *row = NULL;
	for (int i = 0; (row = rn_options_row(i)); i++) {
		rn_buffer_text(out, ".TP\n");
		for (int k = row->letter ? 0 : 1; k < 2; k++) {
			const char *word = k ? row->word : row->letter;
			rn_buffer_text(out, "\\fB");
			rn_roff_text(out, word, strlen(word));
			rn_buffer_text(out, k ? "\\fR" : "\\fR, ");
		}
		if (row->value) {
			rn_buffer_text(out, " \\fI");
			rn_roff_text(out, row->value, strlen(row->value));
			rn_buffer_text(out, "\\fR");
		}
		rn_buffer_char(out, '\n');
		rn_roff_text(out, row->help, strlen(row->help));
		rn_buffer_char(out, '\n');
	}
}

/* Where the command of an example ends: at two blanks, or else where `column` says that all of them have ended. */
static size_t command_size(const char *text, size_t size, size_t column)
{
	for (size_t i = 0; i + 1 < size; i++)
		if (text[i] == ' ' && text[i + 1] == ' ')
			return i;
	return column && column < size ? column - 1 : size;
}

/* The commands that --help begins with: "  funicle MODEL.xml   the answer as text". */
static void examples(rn_buffer *out, const char *help)
{
	static const char begin[] = "\n  funicle ";
	size_t column = 0; /* where the first says what it does */
	rn_roff_section(out, "Examples");
	for (const char *at = help; (at = strstr(at, begin));) {
		at += 3; /* the line feed and two blanks */
		size_t size = strcspn(at, "\n"), command = command_size(at, size, column);
		size_t what = command + strspn(at + command, " ");
		column = column ? column : what;
		rn_roff_item(out, at, command);
		rn_roff_text(out, at + what, size - what);
		rn_buffer_char(out, '\n');
		at += size;
	}
}

static void exit_status(rn_buffer *out)
{
	static const char *const meanings[] = {
		"every part that carries load was checked, and none is over its limit",
		"a part is over its limit, or one that carries load could not be checked",
		"the command line is wrong",
		"the model cannot be read or breaks a rule; each mistake is named with its line",
		"there is no equilibrium: something would come down",
		"no equilibrium was found, or its proof failed",
		"memory ran out, or what was to be written could not be",
	};
	rn_roff_section(out, "Exit status");
	for (size_t i = 0; i < sizeof meanings / sizeof *meanings; i++) {
		char code = (char)('0' + i);
		rn_roff_item(out, &code, 1);
		rn_buffer_text(out, meanings[i]);
		rn_buffer_char(out, '\n');
	}
	rn_roff_paragraph(out, "`check` ends with 0 or 3; `draw` with 0 once the figure is written and every case has an "
	                       "answer, else 3 to 6.");
}

static void surroundings(rn_buffer *out)
{
	static const char *const lines[][2] = {
		{"SOURCE_DATE_EPOCH", "the date of what is drawn and reported, in seconds since 1970; without it there is none"},
		{"NO_COLOR", "when it is set and not empty, the verdict is not in bold on a terminal"},
	};
	rn_roff_section(out, "Environment");
	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
		rn_roff_item(out, lines[i][0], strlen(lines[i][0]));
		rn_buffer_format(out, "%s\n", lines[i][1]);
	}
	rn_roff_section(out, "Files");
	rn_roff_paragraph(out, "Below the folder that all was installed to, models to copy stand in `share/funicle/models`, the "
	                       "manual in `share/doc/funicle`.");
}

/* What --help ends with. */
static void cautions(rn_buffer *out, const char *help)
{
	const char *last = help, *next = help;
	while ((next = strstr(next, "\n\n")))
		last = next += 2;
	rn_roff_section(out, "Cautions");
	for (size_t size = 0; *last; last += size + (last[size] == '\n')) {
		size = strcspn(last, "\n");
		rn_roff_text(out, last, size);
		rn_buffer_char(out, '\n');
	}
}

void rn_pages_program(rn_buffer *out, const char *date)
{
	rn_buffer help = rn_buffer_make(&out->allocator);
	rn_options_help(&help);
	out->failed = out->failed || help.failed;
	const char *text = help.bytes ? help.bytes : "";
	rn_roff_begin(out, "FUNICLE", 1, date, "forces in anchor and redirect networks of ropes, in one plane");
	rn_roff_section(out, "Synopsis");
	rn_buffer_text(out, ".B funicle\n[\\fIverb\\fR] \\fIMODEL.xml\\fR [\\fIoption\\fR ...]\n");
	rn_roff_section(out, "Description");
	rn_roff_paragraph(out, "`funicle` reads a model of a rigging, finds where everything settles, and says what every part "
	                       "carries, how hard and which way every anchor is pulled, and which part is closest to its "
	                       "limit. Without a verb it solves. A model called `-` is read from standard input. A value "
	                       "stands behind its option, or joined to it by an equals sign; the verb comes before the "
	                       "model, options stand anywhere, and `--` ends them.");
	verbs(out);
	options(out);
	examples(out, text);
	exit_status(out);
	surroundings(out);
	cautions(out, text);
	rn_roff_section(out, "See also");
	rn_buffer_text(out, ".BR funicle (5),\nthe model file\n");
	rn_buffer_release(&help);
}

/* ---- the model file ------------------------------------------------------------------------ */

void rn_pages_format(rn_buffer *out, const char *date)
{
	rn_buffer tables = rn_buffer_make(&out->allocator);
	rn_manual_write(&tables);
	out->failed = out->failed || tables.failed;
	rn_roff_begin(out, "FUNICLE", 5, date, "a model of a rigging, as an XML file");
	rn_roff_section(out, "Description");
	rn_roff_paragraph(out, "A model is one `<rigging>` in the namespace `urn:funicle:rigging`, in UTF-8. Every element, "
	                       "every attribute and what may stand in it:");
	rn_roff_markdown(out, tables.bytes ? tables.bytes : "");
	rn_roff_section(out, "See also");
	rn_buffer_text(out, ".BR funicle (1)\n");
	rn_buffer_release(&tables);
}

/* ---- completion ---------------------------------------------------------------------------- */

/* What may follow an option: each of its "one|two|THREE" is a word, or says what it stands for. */
typedef struct values {
	bool files, names;
	const char *text;
} values;

static bool is_alternative(const char *word, size_t size, const char *what)
{
	return size >= strlen(what) && memcmp(word + size - strlen(what), what, strlen(what)) == 0;
}

static values values_of(const rn_option_row *row)
{
	values v = {.text = row->value};
	for (const char *at = row->value; *at;) {
		size_t size = strcspn(at, "|");
		v.files = v.files || is_alternative(at, size, "FILE") || is_alternative(at, size, ".xml");
		v.names = v.names || (size == 2 && is_alternative(at, size, "ID"));
		at += size + (at[size] == '|');
	}
	return v;
}

/* The words among them that are typed as they stand: they begin with a small letter. */
static void plain_words(rn_buffer *out, const char *text)
{
	while (*text) {
		size_t size = strcspn(text, "|");
		if (*text >= 'a' && *text <= 'z')
			rn_buffer_format(out, "%.*s ", (int)size, text);
		text += size + (text[size] == '|');
	}
}

static void value_arm(rn_buffer *out, const rn_option_row *row)
{
	values v = values_of(row);
	rn_buffer_format(out, "\t%s%s%s)\n", row->word, row->letter ? "|" : "", row->letter ? row->letter : "");
	if (v.files) {
		rn_buffer_text(out, "\t\t_funicle_files '' ;;\n");
		return;
	}
	rn_buffer_text(out, "\t\tmapfile -t COMPREPLY < <(compgen -W \"");
	plain_words(out, v.text);
	rn_buffer_text(out, v.names ? "$(_funicle_names)\" -- \"$word\") ;;\n" : "\" -- \"$word\") ;;\n");
}

static void all_words(rn_buffer *out)
{
	const rn_option_row *row = NULL;
	const rn_verb_row *verb = NULL;
	rn_buffer_text(out, "\t-*)\n\t\tmapfile -t COMPREPLY < <(compgen -W \"");
	for (int i = 0; (row = rn_options_row(i)); i++)
		rn_buffer_format(out, "%s %s%s", row->word, row->letter ? row->letter : "", row->letter ? " " : "");
	rn_buffer_text(out, "\" -- \"$word\") ;;\n\t*)\n\t\t_funicle_files '!*.xml'\n"
	                    "\t\tif [ \"$COMP_CWORD\" -eq 1 ]; then\n"
	                    "\t\t\tmapfile -t -O \"${#COMPREPLY[@]}\" COMPREPLY < <(compgen -W \"");
	for (int i = 0; (verb = rn_options_verb(i)); i++)
		rn_buffer_format(out, "%s ", verb->word);
	rn_buffer_text(out, "\" -- \"$word\")\n\t\tfi ;;\n");
}

void rn_pages_completion(rn_buffer *out, const char *date)
{
	(void)date;
	rn_buffer_text(out,
	               "# SPDX-License-Identifier: GPL-3.0-or-later\n"
	               "# What bash completes after funicle: verbs, options, their values, models, names in the model.\n\n"
	               "# Files but those that match the pattern, and folders.\n"
	               "_funicle_files()\n{\n"
	               "\tmapfile -t COMPREPLY < <(compgen -f -X \"$1\" -- \"$word\"; compgen -d -- \"$word\")\n"
	               "\tmapfile -t COMPREPLY < <(printf '%s\\n' \"${COMPREPLY[@]}\" | sort -u | sed '/^$/d')\n"
	               "\tcompopt -o filenames 2>/dev/null\n}\n\n"
	               "# The names in the model that stands on the line.\n"
	               "_funicle_names()\n{\n\tlocal file\n"
	               "\tfor file in \"${COMP_WORDS[@]:1}\"; do\n"
	               "\t\t[[ $file == *.xml && -f $file ]] && grep -oE '[[:space:]]id=\"[^\"]+\"' \"$file\" | cut -d'\"' -f2\n"
	               "\tdone\n}\n\n"
	               "_funicle()\n{\n"
	               "\tlocal word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}\n"
	               "\tCOMPREPLY=()\n"
	               "\t# --option=value comes as three words\n"
	               "\tif [ \"$word\" = = ]; then\n\t\tword=\n"
	               "\telif [ \"$before\" = = ] && [ \"$COMP_CWORD\" -gt 2 ]; then\n"
	               "\t\tbefore=${COMP_WORDS[COMP_CWORD-2]}\n\tfi\n"
	               "\tcase $before in\n");
	const rn_option_row *row = NULL;
	for (int i = 0; (row = rn_options_row(i)); i++)
		if (row->value)
			value_arm(out, row);
	rn_buffer_text(out, "\t*)\n\t\t_funicle_words ;;\n\tesac\n}\n\n_funicle_words()\n{\n\tcase $word in\n");
	all_words(out);
	rn_buffer_text(out, "\tesac\n}\n\ncomplete -F _funicle funicle\n");
}
