/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The command line: every option with every verb, as the help says it, what values they take, which do not go together.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "io/cli/options.h"
#include "tests/support.h"

/* ---- reading a line ------------------------------------------------------------------------------ */

typedef struct line {
	char text[400];
	char *words[24];
	int count;
	rn_command command;
	rn_buffer message;
	bool read;
} line;

/* Words are apart by |. */
static void read_line(line *l, const char *text)
{
	rn_allocator allocator = rn_allocator_default();
	assert_true(strlen(text) < sizeof l->text);
	strcpy(l->text, text);
	l->count = 0;
	for (char *word = l->text; word; l->count++) {
		char *bar = strchr(word, '|');
		assert_true(l->count < 24);
		l->words[l->count] = word;
		if (bar)
			*bar++ = '\0';
		word = bar;
	}
	l->message = rn_buffer_make(&allocator);
	l->read = rn_options_read(l->count, l->words, &l->command, &l->message);
	assert_int_equal(l->read, l->message.size == 0);
}

static void line_end(line *l)
{
	rn_buffer_release(&l->message);
}

/* ---- options and verbs ----------------------------------------------------------------------------- */

static const char *const verbs[] = {"solve", "check", "draw",    "largest", "vary",  "place",
                                    "fall",  "explain", "report", "drill",   "scatter"};
enum { VERBS = sizeof verbs / sizeof *verbs };

#define ALL "solve check draw largest vary place fall explain report drill scatter"

/* What it goes with; what the refusal names. */
static const struct {
	const char *words, *verbs, *named;
} rows[] = {
	{"--units=us", ALL, ""},
	{"--quiet", ALL, ""},
	{"--drop=2 m", ALL, ""},
	{"-o|a.txt", "solve check largest vary place fall explain report drill scatter", "by its name"},
	{"--output|a", ALL, ""},
	{"-o|a.pdf", "draw vary place explain report scatter", "by its name"},
	{"-o|a.html", "explain report scatter", "by its name"},
	{"-o|a.svg", "draw vary place", "by its name"},
	{"-o|a.png", "draw vary place", "by its name"},
	{"-o|.svg", ALL, ""},
	{"--format=json", "solve check largest vary place fall scatter", "--format"},
	{"--steps=5", "vary place", "--steps"},
	{"--part=log", "vary place", "--part"},
	{"--since=old.xml", "report", "--since"},
	{"--card", "report", "--card"},
	{"--for-checker", "report", "--for-checker"},
	{"--seed=7", "drill", "--seed"},
	{"--key", "drill", "--key"},
	{"--case=gust", "draw explain drill vary place", "--case"},
	{"--node=r1", "draw explain drill", "--node"},
	{"--all-cases|-o|a", "draw", "--all-cases"},
	{"--paper=letter", "draw report vary place scatter explain", "--paper"},
	{"--stem=oak", "draw", "--stem"},
	{"--piece=log", "largest report fall", "--piece"},
	{"--piece=log|--drop=2 m", ALL, ""},
	{"--below=1 m", "fall", "--below"},
	{"--hand=1 kN", "fall", "--hand"},
	{"--below=1 m|--drop=2 m", ALL, ""},
	{"--hand=1 kN|--drop=2 m", ALL, ""},
	{"--let-run", "fall", "--let-run"},
	{"--compare", "fall", "--compare"},
	{"--ranges", "solve", "--ranges"},
	{"--without=bull", "solve", "--without"},
	{"--matters=bull", "solve", "--matters"},
	{"--between=a.b=1..2", "scatter", "--between"},
	{"--trials=64", "scatter", "--trials"},
	{"--threads=2", "scatter", "--threads"},
};

static bool lists(const char *list, const char *word)
{
	size_t size = strlen(word);
	for (const char *at = strstr(list, word); at; at = strstr(at + 1, word))
		if ((at == list || at[-1] == ' ') && (at[size] == ' ' || !at[size]))
			return true;
	return false;
}

static void test_every_option_with_every_verb(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (int v = 0; v < VERBS; v++) {
			char text[300];
			bool varies = strcmp(verbs[v], "vary") == 0 || strcmp(verbs[v], "place") == 0;
			line l;
			snprintf(text, sizeof text, "funicle|%s|m.xml%s|%s", verbs[v], varies ? "|--of|r1.x=2..6 m" : "", rows[i].words);
			read_line(&l, text);
			if (l.read != lists(rows[i].verbs, verbs[v]) || (!l.read && !strstr(l.message.bytes, rows[i].named)))
				fail_msg("%s: %s", text, l.read ? "is taken" : l.message.bytes);
			if (l.read)
				assert_string_equal(l.command.model, "m.xml");
			line_end(&l);
		}
}

/* ---- values ------------------------------------------------------------------------------------ */

/* `says` NULL: is taken. */
static const struct {
	const char *words, *says;
} values[] = {
	{"m.xml", NULL},
	{"--|-m.xml", NULL},
	{"-", NULL},
	{"", "needs a value"},
	{"solve", "no model is named"},
	{"selftest", NULL},
	{"selftest|m.xml", "selftest takes no model"},
	{"--help", NULL},
	{"-h|--quiet", NULL},
	{"--version", NULL},
	{"m.xml|n.xml", "unknown verb \"m.xml\""},
	{"slove|m.xml", "did you mean solve?"},
	{"solve|m.xml|n.xml", "one model at a time; what is \"n.xml\""},
	{"solve|solve", NULL},
	{"m.xml|--formet|json", "did you mean --format?"},
	{"m.xml|-x", "unknown option \"-x\""},
	{"m.xml|-oo", "unknown option"},
	{"m.xml|--quiet=yes", "takes no value: \"--quiet\""},
	{"m.xml|--format", "needs a value: \"--format\""},
	{"m.xml|--format=", "needs a value: \"--format\""},
	{"m.xml|--format=xml", "it is one of text|json|csv"},
	{"m.xml|--format=jso", "it is one of"},
	{"m.xml|--format|text", NULL},
	{"m.xml|--format=csv", NULL},
	{"m.xml|--units=imperial", "it is one of metric|us"},
	{"draw|m.xml|--paper=a3", "it is one of a4|letter"},
	{"m.xml|--quiet|--quiet", "given twice: \"--quiet\""},
	{"vary|m.xml", "need a number"},
	{"place|m.xml", "need a number"},
	{"solve|m.xml|--of=a.x=1..2 m", "go with vary and place"},
	{"vary|m.xml|--of=a|--of=b", NULL},
	{"vary|m.xml|--of=a|--of=b|--of=c", "two numbers at the most"},
	{"vary|m.xml|--of=a|--steps=1", NULL},
	{"vary|m.xml|--of=a|--steps=400", NULL},
	{"vary|m.xml|--of=a|--steps=401", "from 1 to 400"},
	{"vary|m.xml|--of=a|--steps=0", "from 1 to 400"},
	{"vary|m.xml|--of=a|--steps=1000", "from 1 to 400"},
	{"vary|m.xml|--of=a|--steps=5x", "from 1 to 400"},
	{"vary|m.xml|--of=a|--of=b|--steps=60", NULL},
	{"vary|m.xml|--of=a|--of=b|--steps=61", "of two numbers to 60"},
	{"vary|m.xml|--of=a|--format=csv|-o|a.txt", NULL},
	{"vary|m.xml|--of=a|--format=csv|-o|a.svg", "the name of the file says it"},
	{"vary|m.xml|--of=a|--format=csv|-o|a.pdf", "the name of the file says it"},
	{"vary|m.xml|--of=a|--format=csv|-o|a.png", "the name of the file says it"},
	{"drill|m.xml|--seed=0", NULL},
	{"drill|m.xml|--seed=999999", NULL},
	{"drill|m.xml|--seed=1000000", "from 0 to 999999"},
	{"drill|m.xml|--seed=-1", "from 0 to 999999"},
	{"draw|m.xml|--all-cases", "needs a name to begin from"},
	{"draw|m.xml|--all-cases|-o|a.svg|--case=gust", "does not go with --case"},
	{"draw|m.xml|--stem=oak|--node=r1", "a figure is of one of them"},
	{"report|m.xml|--card|--since=old.xml", "one at a time"},
	{"report|m.xml|--card|--for-checker", "one at a time"},
	{"report|m.xml|--since=a.xml|--for-checker", "one at a time"},
	{"m.xml|--matters=a|--without=b", "do not go together"},
	{"scatter|m.xml|--format=json|-o|a.pdf", "by its name"},
	{"scatter|m.xml|--format=csv|-o|a.html", "by its name"},
	{"scatter|m.xml|--trials=16", NULL},
	{"scatter|m.xml|--trials=65536", NULL},
	{"scatter|m.xml|--trials=8", "power of two"},
	{"scatter|m.xml|--trials=17", "power of two"},
	{"scatter|m.xml|--trials=131072", "power of two"},
	{"scatter|m.xml|--trials=16.", "power of two"},
	{"scatter|m.xml|--trials=many", "power of two"},
	{"scatter|m.xml|--threads=1", NULL},
	{"scatter|m.xml|--threads=64", NULL},
	{"scatter|m.xml|--threads=0", "whole number from 1 to 64"},
	{"scatter|m.xml|--threads=65", "whole number from 1 to 64"},
	{"scatter|m.xml|--between=a|--between=b|--between=c", NULL},
};

static void test_values(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
		char text[300];
		line l;
		snprintf(text, sizeof text, "funicle|%s%s", *values[i].words ? "" : "m.xml|--case|", values[i].words);
		read_line(&l, text);
		if (l.read != !values[i].says || (values[i].says && !strstr(l.message.bytes, values[i].says)))
			fail_msg("%s: %s", text, l.read ? "is taken" : l.message.bytes);
		line_end(&l);
	}
}

/* Of several refusals the first alone is said; a name is told with what would be written. */
static void test_one_refusal(void **state)
{
	(void)state;
	static const struct {
		const char *words, *says;
	} whole[] = {
		{"solve|m.xml|--key|--stem=oak|--let-run|-o|a.pdf", "--seed and --key go with drill"},
		{"solve|m.xml|--below=1 m|--compare|--trials=3", "--below and --hand go with fall, or with --drop"},
		{"draw|m.xml|-o|a.txt",
		 "-o a.txt: by its name it is of another kind than what draw writes: .svg, .pdf and .png"},
		{"solve|m.xml|-o|a.pdf", "-o a.pdf: by its name it is of another kind than what solve writes: text"},
		{"vary|m.xml|--of=a|-o|a.html",
		 "-o a.html: by its name it is of another kind than what vary writes: .svg, .pdf and .png, else text"},
		{"report|m.xml|-o|a.svg",
		 "-o a.svg: by its name it is of another kind than what report writes: .pdf and .html, else text"},
		{"scatter|m.xml|--format=csv|-o|a.pdf",
		 "-o a.pdf: by its name it is of another kind than what scatter writes: JSON and CSV"},
	};
	for (size_t i = 0; i < sizeof whole / sizeof *whole; i++) {
		char text[300];
		line l;
		snprintf(text, sizeof text, "funicle|%s", whole[i].words);
		read_line(&l, text);
		assert_false(l.read);
		assert_string_equal(l.message.bytes, whole[i].says);
		line_end(&l);
	}
}

static void test_too_many_between(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	for (int over = 0; over < 2; over++) {
		char *words[RN_BETWEEN_MOST + 4] = {(char[]){"funicle"}, (char[]){"scatter"}, (char[]){"m.xml"}};
		char between[] = "--between=a.b=1..2";
		int count = 3;
		while (count < 3 + RN_BETWEEN_MOST + over)
			words[count++] = between;
		rn_command command;
		rn_buffer message = rn_buffer_make(&allocator);
		assert_int_equal(rn_options_read(count, words, &command, &message), !over);
		if (over)
			assert_non_null(strstr(message.bytes, "times at most"));
		else
			assert_int_equal(command.between_count, RN_BETWEEN_MOST);
		rn_buffer_release(&message);
	}
}

/* Values arrive where the verbs look for them. */
static void test_what_is_read(void **state)
{
	(void)state;
	line l;
	read_line(&l, "funicle|vary|m.xml|--of=r1.x=2..6 m|--of|r1.y=1..2 m|--steps=4|--part=log|--units=us|--paper=letter|-o|a.svg|"
	              "--case=gust|--quiet");
	assert_true(l.read);
	assert_int_equal(l.command.verb, RN_VERB_VARY);
	assert_int_equal(l.command.of_count, 2);
	assert_string_equal(l.command.of[0], "r1.x=2..6 m");
	assert_string_equal(l.command.of[1], "r1.y=1..2 m");
	assert_string_equal(l.command.steps, "4");
	assert_string_equal(l.command.part_id, "log");
	assert_string_equal(l.command.output, "a.svg");
	assert_string_equal(l.command.case_id, "gust");
	assert_int_equal(l.command.units, RN_US);
	assert_int_equal(l.command.paper, 1);
	assert_true(l.command.quiet && !l.command.help && !l.command.version);
	line_end(&l);
}

/* Every verb and every option has its row, in the help as well, and there are no more. */
static void test_rows(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_buffer help = rn_buffer_make(&allocator);
	int verb_count = 0, option_count = 0;
	rn_options_help(&help);
	for (; rn_options_verb(verb_count); verb_count++)
		assert_non_null(strstr(help.bytes, rn_options_verb(verb_count)->help));
	for (; rn_options_row(option_count); option_count++)
		assert_non_null(strstr(help.bytes, rn_options_row(option_count)->help));
	assert_int_equal(verb_count, VERBS + 1);
	assert_true(option_count > 30);
	rn_buffer_release(&help);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_every_option_with_every_verb), cmocka_unit_test(test_values),
		cmocka_unit_test(test_too_many_between),             cmocka_unit_test(test_what_is_read),
		cmocka_unit_test(test_rows),                         cmocka_unit_test(test_one_refusal),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
