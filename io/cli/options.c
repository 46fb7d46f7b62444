/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/options.h"

#include <stdlib.h>
#include <string.h>

#include "io/base/words.h"
#include "io/xml/near.h"

static const rn_verb_row verbs[RN_VERB_COUNT] = {
	[RN_VERB_SOLVE] = {"solve", "what every part carries, and which is closest to its limit"},
	[RN_VERB_CHECK] = {"check", "what was understood of the model; nothing is solved"},
	[RN_VERB_DRAW] = {"draw", "the answer as a figure to scale: SVG, or PDF or PNG by its name"},
	[RN_VERB_LARGEST] = {"largest", "how big a piece may be, and what stops it"},
	[RN_VERB_VARY] = {"vary", "one or two numbers of the model varied: what becomes of the closest part"},
	[RN_VERB_PLACE] = {"place", "where to put a ring, block or anchor: the worst share made least"},
	[RN_VERB_FALL] = {"fall", "a piece that falls and is caught: the peak, and where it stops"},
	[RN_VERB_EXPLAIN] = {"explain", "the hand calculation at one node, step by step"},
	[RN_VERB_REPORT] = {"report", "everything for a safety review: PDF or HTML by its name"},
	[RN_VERB_SELFTEST] = {"selftest", "published values asked of this copy of the program"},
	[RN_VERB_SCATTER] = {"scatter", "how often something is over when numbers are not as guessed"},
	[RN_VERB_DRILL] = {"drill", "an exercise sheet with other weights, and its key"},
};

typedef enum option_kind {
	OPTION_OUTPUT,
	OPTION_FORMAT,
	OPTION_UNITS,
	OPTION_PAPER,
	OPTION_CASE,
	OPTION_ALL_CASES,
	OPTION_NODE,
	OPTION_STEM,
	OPTION_SEED,
	OPTION_KEY,
	OPTION_SINCE,
	OPTION_CARD,
	OPTION_CHECKER,
	OPTION_PIECE,
	OPTION_OF,
	OPTION_STEPS,
	OPTION_PART,
	OPTION_RANGES,
	OPTION_WITHOUT,
	OPTION_MATTERS,
	OPTION_DROP,
	OPTION_BELOW,
	OPTION_HAND,
	OPTION_LET_RUN,
	OPTION_COMPARE,
	OPTION_BETWEEN,
	OPTION_TRIALS,
	OPTION_THREADS,
	OPTION_QUIET,
	OPTION_HELP,
	OPTION_VERSION,
	OPTION_COUNT
} option_kind;

static const rn_option_row options[OPTION_COUNT] = {
	[OPTION_OUTPUT] = {"--output", "-o", "FILE", "write there instead of to standard output"},
	[OPTION_FORMAT] = {"--format", NULL, "text|json|csv", "form of the answer (text)"},
	[OPTION_UNITS] = {"--units", NULL, "metric|us", "kN and m, or lbf and ft (metric)"},
	[OPTION_PAPER] = {"--paper", NULL, "a4|letter", "of what is drawn, reported or explained (a4)"},
	[OPTION_CASE] = {"--case", NULL, "ID", "the case to draw or explain (the one with the closest part); with vary, place: that one only"},
	[OPTION_ALL_CASES] = {"--all-cases", NULL, NULL, "with draw: each case in a file of its own, NAME-CASE.svg"},
	[OPTION_NODE] = {"--node", NULL, "ID", "with explain: the node; with draw: the force polygon of that node"},
	[OPTION_STEM] = {"--stem", NULL, "ID", "with draw: what that stem feels along its height"},
	[OPTION_SEED] = {"--seed", NULL, "NUMBER", "with drill: which exercise, 0 to 999999 (1)"},
	[OPTION_KEY] = {"--key", NULL, NULL, "with drill: the key in place of the sheet"},
	[OPTION_SINCE] = {"--since", NULL, "OLD.xml", "with report: what changed since that edition"},
	[OPTION_CARD] = {"--card", NULL, NULL, "with report: one small page for the crew"},
	[OPTION_CHECKER] = {"--for-checker", NULL, NULL, "with report: the inputs without results"},
	[OPTION_PIECE] = {"--piece", NULL, "ID", "the piece that is asked about (the only one)"},
	[OPTION_OF] = {"--of", NULL, "NAME=FROM..TO", "with vary, place: a number, such as \"r1.x=2..6 m\"; once or twice"},
	[OPTION_STEPS] = {"--steps", NULL, "NUMBER", "with vary, place: steps of each number (20, of two 12)"},
	[OPTION_PART] = {"--part", NULL, "ID", "with vary: told beside the closest; with place: made least"},
	[OPTION_RANGES] = {"--ranges", NULL, NULL, "with solve: least and most, wherever the rope may stick"},
	[OPTION_WITHOUT] = {"--without", NULL, "ID|every", "with solve: if that part lets go, or each in its turn"},
	[OPTION_MATTERS] = {"--matters", NULL, "ID|closest", "with solve: what the share of that part depends on"},
	[OPTION_DROP] = {"--drop", NULL, "LENGTH", "how much higher than drawn a piece is let go, such as \"2 m\""},
	[OPTION_BELOW] = {"--below", NULL, "LENGTH", "how far it reaches below its knot"},
	[OPTION_HAND] = {"--hand", NULL, "FORCE", "pull behind the turns, at which its line is let run"},
	[OPTION_LET_RUN] = {"--let-run", NULL, NULL, "with fall: from locked to let run, metre by metre"},
	[OPTION_COMPARE] = {"--compare", NULL, NULL, "with fall: more line, softer rope, a ring, less drop, less weight"},
	[OPTION_BETWEEN] = {"--between", NULL, "NAME=LOW..HIGH", "with scatter: \"log.weight=-10..+25 %\"; may be repeated"},
	[OPTION_TRIALS] = {"--trials", NULL, "NUMBER", "with scatter: a power of two, 16 to 65536 (4096)"},
	[OPTION_THREADS] = {"--threads", NULL, "NUMBER", "with scatter: 1 to 64, the answer is the same (one a processor)"},
	[OPTION_QUIET] = {"--quiet", NULL, NULL, "no progress; cautions stay"},
	[OPTION_HELP] = {"--help", "-h", NULL, "this text"},
	[OPTION_VERSION] = {"--version", NULL, NULL, "version and licence"},
};

const rn_verb_row *rn_options_verb(int index)
{
	return index < RN_VERB_COUNT ? &verbs[index] : NULL;
}

const rn_option_row *rn_options_row(int index)
{
	return index < OPTION_COUNT ? &options[index] : NULL;
}

static void option_help(rn_buffer *b, int i)
{
	const char *value = options[i].value ? options[i].value : "";
	int room = 21 - (int)strlen(options[i].word);
	rn_buffer_format(b, "  %s %-*s %s", options[i].word, room, value, options[i].help);
	if (options[i].letter)
		rn_buffer_format(b, " (also %s)", options[i].letter);
	rn_buffer_char(b, '\n');
}

void rn_options_help(rn_buffer *b)
{
	rn_buffer_text(b, "funicle: forces in anchor and redirect networks of ropes, in one plane\n\n"
	                  "  funicle MODEL.xml                      the answer as text\n"
	                  "  funicle check MODEL.xml                read back before it is solved\n"
	                  "  funicle solve MODEL.xml --format json  the answer for other programs\n"
	                  "  funicle draw MODEL.xml -o FIGURE.svg   the answer as a figure\n"
	                  "  funicle largest MODEL.xml              how big a piece may be\n"
	                  "  funicle vary MODEL.xml --of \"r1.x=2..6 m\"   a number varied\n"
	                  "  funicle place MODEL.xml --of \"r1.x=2..6 m\"  the best place\n"
	                  "  funicle fall MODEL.xml --drop \"2 m\"    what a caught piece does\n"
	                  "  funicle scatter MODEL.xml              how often something is over\n"
	                  "  funicle explain MODEL.xml              the hand calculation\n"
	                  "  funicle report MODEL.xml -o REVIEW.pdf the figures for a safety review\n"
	                  "  funicle drill MODEL.xml --seed 7       an exercise sheet; its key with --key\n\nverbs\n");
	for (int i = 0; i < RN_VERB_COUNT; i++)
		rn_buffer_format(b, "  %-22s %s\n", verbs[i].word, verbs[i].help);
	rn_buffer_text(b, "\noptions\n");
	for (int i = 0; i < OPTION_COUNT; i++)
		option_help(b, i);
	rn_buffer_text(b,
	               "\nexit  0 every loaded part was checked, none is over   1 over, or not checked\n"
	               "      2 command line   3 model   4 no equilibrium   5 not found   6 memory or file\n"
	               "      check ends with 0 or 3; draw with 0 once the figure is written and every case has\n"
	               "      an answer, else 3 to 6\n\n"
	               "The tree is not rated and is usually the weakest part. Local law, the maker's\n"
	               "instructions and a competent person come first.\n");
}

/* ---- reading ------------------------------------------------------------------------------- */

typedef struct reading {
	int count, at;
	char **words;
	rn_command *command;
	rn_buffer *message;
	bool verb_seen, given[OPTION_COUNT];
} reading;

static bool complain(reading *r, const char *what, const char *word)
{
	rn_buffer_format(r->message, "%s \"", what);
	rn_words_plain(r->message, word);
	rn_buffer_char(r->message, '"');
	return false;
}

static bool suggest(reading *r, const rn_near *near)
{
	if (near->best)
		rn_buffer_format(r->message, "; did you mean %s?", near->best);
	return false;
}

static int find_option(const char *word, size_t size)
{
	for (int i = 0; i < OPTION_COUNT; i++) {
		bool is_long = strlen(options[i].word) == size && memcmp(options[i].word, word, size) == 0;
		bool is_short = options[i].letter && size == 2 && memcmp(options[i].letter, word, 2) == 0;
		if (is_long || is_short)
			return i;
	}
	return RN_NONE;
}

static bool unknown_option(reading *r, const char *word)
{
	rn_near near = rn_near_begin(word);
	for (int i = 0; i < OPTION_COUNT; i++)
		rn_near_offer(&near, options[i].word);
	complain(r, "unknown option", word);
	return suggest(r, &near);
}

/* Which word of "one|two|three" a value is. */
static bool choose(reading *r, option_kind option, const char *value, int *choice_out)
{
	const char *word = options[option].value;
	size_t size = strcspn(word, "|");
	for (*choice_out = 0; *word; ++*choice_out, size = strcspn(word, "|")) {
		if (strlen(value) == size && memcmp(value, word, size) == 0)
			return true;
		word += size + (word[size] == '|');
	}
	complain(r, options[option].word, value);
	rn_buffer_format(r->message, ": it is one of %s", options[option].value);
	return false;
}

/* A whole number of at most five figures; 0 when it is none. */
static long whole(const char *text)
{
	size_t size = strspn(text, "0123456789");
	return size > 0 && size <= 5 && !text[size] ? strtol(text, NULL, 10) : 0;
}

static bool is_power_of_two(long number)
{
	return number > 0 && (number & (number - 1)) == 0;
}

static bool add_between(reading *r, const char *value)
{
	if (r->command->between_count == RN_BETWEEN_MOST) {
		rn_buffer_format(r->message, "--between may be given %d times at most", RN_BETWEEN_MOST);
		return false;
	}
	r->command->between[r->command->between_count++] = value;
	return true;
}

static bool apply(reading *r, option_kind option, const char *value)
{
	int choice = 0;
	bool known = true;
	switch (option) {
	case OPTION_OUTPUT: r->command->output = value; break;
	case OPTION_FORMAT:
		known = choose(r, option, value, &choice);
		r->command->format = (rn_format)choice;
		break;
	case OPTION_UNITS:
		known = choose(r, option, value, &choice);
		r->command->units = (rn_units)choice;
		break;
	case OPTION_PAPER:
		known = choose(r, option, value, &choice);
		r->command->paper = (rn_paper)choice;
		break;
	case OPTION_CASE: r->command->case_id = value; break;
	case OPTION_STEM: r->command->stem_id = value; break;
	case OPTION_ALL_CASES: r->command->all_cases = true; break;
	case OPTION_SEED: r->command->seed = value; break;
	case OPTION_SINCE: r->command->since = value; break;
	case OPTION_CARD: r->command->card = true; break;
	case OPTION_CHECKER: r->command->for_checker = true; break;
	case OPTION_KEY: r->command->key = true; break;
	case OPTION_NODE: r->command->node_id = value; break;
	case OPTION_PIECE: r->command->piece_id = value; break;
	case OPTION_OF: r->command->of[r->command->of_count++] = value; break;
	case OPTION_STEPS: r->command->steps = value; break;
	case OPTION_PART: r->command->part_id = value; break;
	case OPTION_RANGES: r->command->ranges = true; break;
	case OPTION_WITHOUT: r->command->without = value; break;
	case OPTION_MATTERS: r->command->matters = value; break;
	case OPTION_DROP: r->command->drop = value; break;
	case OPTION_BELOW: r->command->below = value; break;
	case OPTION_HAND: r->command->hand = value; break;
	case OPTION_LET_RUN: r->command->let_run = true; break;
	case OPTION_COMPARE: r->command->compare = true; break;
	case OPTION_BETWEEN: return add_between(r, value);
	case OPTION_TRIALS: r->command->trials = value; break;
	case OPTION_THREADS: r->command->threads = value; break;
	case OPTION_QUIET: r->command->quiet = true; break;
	case OPTION_HELP: r->command->help = true; break;
	case OPTION_VERSION: r->command->version = true; break;
	case OPTION_COUNT: break;
	}
	return known;
}

static bool read_option(reading *r)
{
	const char *word = r->words[r->at], *equals = strchr(word, '=');
	size_t size = equals ? (size_t)(equals - word) : strlen(word);
	int option = find_option(word, size);
	if (option == RN_NONE)
		return unknown_option(r, word);
	bool again = option == OPTION_OF && r->command->of_count < RN_VARIED_MOST;
	if (r->given[option] && option == OPTION_OF && !again) {
		rn_buffer_text(r->message, "--of: two numbers at the most");
		return false;
	}
	if (r->given[option] && option != OPTION_BETWEEN && !again)
		return complain(r, "given twice:", options[option].word);
	r->given[option] = true;
	const char *value = equals ? equals + 1 : NULL;
	if (!options[option].value && value)
		return complain(r, "takes no value:", options[option].word);
	/* "-o --quiet": the name was forgotten; a file called so is had by --output=--quiet */
	bool has_next = r->at + 1 < r->count && strncmp(r->words[r->at + 1], "--", 2) != 0;
	if (options[option].value && !value && has_next)
		value = r->words[++r->at];
	if (options[option].value && (!value || !*value))
		return complain(r, "needs a value:", options[option].word);
	return apply(r, (option_kind)option, value);
}

static int find_verb(const char *word)
{
	for (int i = 0; i < RN_VERB_COUNT; i++)
		if (strcmp(word, verbs[i].word) == 0)
			return i;
	return RN_NONE;
}

/* Dashes as word processors make them out of a hyphen or two: en, em, minus. */
static bool begins_with_long_dash(const char *word)
{
	return strncmp(word, "\xE2\x80\x93", 3) == 0 || strncmp(word, "\xE2\x80\x94", 3) == 0 ||
	       strncmp(word, "\xE2\x88\x92", 3) == 0;
}

static bool read_operand(reading *r, bool only_operands)
{
	const char *word = r->words[r->at];
	int verb = find_verb(word);
	if (!*word) {
		rn_buffer_text(r->message, "a word is empty: no model is named by it");
		return false;
	}
	if (!only_operands && begins_with_long_dash(word)) {
		complain(r, "unknown option", word);
		rn_buffer_text(r->message, ": it begins with a long dash, options begin with two plain ones, --");
		return false;
	}
	if (!r->verb_seen && !r->command->model && verb != RN_NONE) {
		r->command->verb = (rn_verb)verb;
		r->verb_seen = true;
		return true;
	}
	if (!r->command->model) {
		r->command->model = word;
		return true;
	}
	if (r->verb_seen)
		return complain(r, "one model at a time; what is", word);
	if (verb != RN_NONE && strchr(r->command->model, '.')) {
		rn_buffer_format(r->message, "the verb comes first: funicle %s ", word);
		rn_words_plain(r->message, r->command->model);
		return false;
	}
	/* "funicle slove MODEL": the first word was meant as a verb */
	rn_near near = rn_near_begin(r->command->model);
	for (int i = 0; i < RN_VERB_COUNT; i++)
		rn_near_offer(&near, verbs[i].word);
	complain(r, "unknown verb", r->command->model);
	return suggest(r, &near);
}

static bool output_is(const reading *r, const char *ending)
{
	const char *path = r->command->output;
	size_t size = path ? strlen(path) : 0, own = strlen(ending);
	return size > own && strcmp(path + size - own, ending) == 0;
}

/* A text in a file called .pdf opens nowhere, and is found out on the job. */
static bool output_fits(const reading *r)
{
	rn_verb verb = r->command->verb;
	bool draws = verb == RN_VERB_DRAW || verb == RN_VERB_VARY || verb == RN_VERB_PLACE;
	bool scatters = verb == RN_VERB_SCATTER && r->command->format == RN_FORMAT_TEXT;
	bool told = verb == RN_VERB_EXPLAIN || verb == RN_VERB_REPORT || scatters;
	return (draws || told || !output_is(r, ".pdf")) && (told || !output_is(r, ".html")) &&
	       (draws || (!output_is(r, ".png") && !output_is(r, ".svg")));
}

/* Kinds of file that a figure is never written as, and somebody may ask for. */
static bool output_is_no_figure(const reading *r)
{
	static const char *const others[] = {".gif", ".jpg", ".jpeg", ".bmp", ".webp", ".tif", ".eps", ".ps",
	                                     ".dxf", ".txt", ".csv", ".json", ".xml", ".md", ".doc"};
	for (size_t i = 0; r->command->verb == RN_VERB_DRAW && i < sizeof others / sizeof *others; i++)
		if (output_is(r, others[i]))
			return true;
	return false;
}

static const char *written_by(const reading *r)
{
	switch (r->command->verb) {
	case RN_VERB_DRAW: return ".svg, .pdf and .png";
	case RN_VERB_VARY:
	case RN_VERB_PLACE: return ".svg, .pdf and .png, else text";
	case RN_VERB_EXPLAIN:
	case RN_VERB_REPORT: return ".pdf and .html, else text";
	case RN_VERB_SCATTER: return r->command->format == RN_FORMAT_TEXT ? ".pdf and .html, else text" : "JSON and CSV";
	default: return "text";
	}
}

/* As many as a figure shows. */
static bool fits(const char *steps, int of_count)
{
	long most = of_count == 2 ? 60 : 400, count = strtol(steps, NULL, 10);
	return count >= 1 && count <= most;
}

/* Of several refusals the first is said. */
static void refuse_if(reading *r, bool wrong, const char *text)
{
	if (wrong && r->message->size == 0)
		rn_buffer_text(r->message, text);
}

static bool is_verb(const reading *r, rn_verb verb)
{
	return r->command->verb == verb;
}

static bool varies(const reading *r)
{
	return is_verb(r, RN_VERB_VARY) || is_verb(r, RN_VERB_PLACE);
}

static void refuse_of_varied(reading *r)
{
	const char *steps = r->command->steps;
	bool figure = output_is(r, ".svg") || output_is(r, ".pdf") || output_is(r, ".png");
	refuse_if(r, varies(r) && r->command->of_count == 0, "vary and place need a number: --of \"r1.x=2..6 m\"");
	refuse_if(r, varies(r) && r->given[OPTION_FORMAT] && figure,
	          "--format does not go with a figure: the name of the file says it (.svg, .pdf, .png)");
	refuse_if(r, !varies(r) && (r->given[OPTION_OF] || r->given[OPTION_STEPS] || r->given[OPTION_PART]),
	          "--of, --steps and --part go with vary and place");
	refuse_if(r, steps && (strspn(steps, "0123456789") != strlen(steps) || strlen(steps) > 3 ||
	                       !fits(steps, r->command->of_count)),
	          "--steps is a whole number from 1 to 400, of two numbers to 60");
}

static void refuse_of_pages(reading *r)
{
	bool drills = is_verb(r, RN_VERB_DRILL), reports = is_verb(r, RN_VERB_REPORT);
	const char *seed = r->command->seed;
	refuse_if(r, (drills || is_verb(r, RN_VERB_EXPLAIN)) && r->given[OPTION_FORMAT],
	          "--format does not go with explain and drill: a working is always text");
	refuse_if(r, reports && r->given[OPTION_FORMAT],
	          "--format does not go with report: the name of the file says it (.pdf, .html, else text)");
	refuse_if(r, !reports && (r->given[OPTION_SINCE] || r->given[OPTION_CARD] || r->given[OPTION_CHECKER]),
	          "--since, --card and --for-checker go with report");
	refuse_if(r, r->given[OPTION_SINCE] + r->given[OPTION_CARD] + r->given[OPTION_CHECKER] > 1,
	          "--since, --card and --for-checker are three kinds of report: one at a time");
	refuse_if(r, seed && (!*seed || strspn(seed, "0123456789") != strlen(seed) || strlen(seed) > 6),
	          "--seed is a whole number from 0 to 999999");
	refuse_if(r, !drills && (r->given[OPTION_SEED] || r->given[OPTION_KEY]), "--seed and --key go with drill");
}

static void refuse_of_figures(reading *r)
{
	bool draws = is_verb(r, RN_VERB_DRAW), explains = is_verb(r, RN_VERB_EXPLAIN) || is_verb(r, RN_VERB_DRILL);
	bool on_paper = draws || varies(r) || is_verb(r, RN_VERB_EXPLAIN) || is_verb(r, RN_VERB_REPORT) ||
	                is_verb(r, RN_VERB_SCATTER);
	refuse_if(r, draws && r->given[OPTION_FORMAT],
	          "--format does not go with draw: the name of the file says it (.svg, .pdf, .png)");
	refuse_if(r, !draws && !explains && !varies(r) && r->given[OPTION_CASE],
	          "--case goes with draw, explain, drill, vary and place: the others tell every case");
	refuse_if(r, !draws && !explains && r->given[OPTION_NODE], "--node goes with draw, explain and drill");
	refuse_if(r, !draws && r->given[OPTION_ALL_CASES], "--all-cases goes with draw: the others tell every case");
	refuse_if(r, draws && r->given[OPTION_ALL_CASES] && !r->command->output,
	          "--all-cases needs a name to begin from: -o NAME.svg");
	refuse_if(r, r->given[OPTION_ALL_CASES] && r->given[OPTION_CASE], "--all-cases does not go with --case");
	refuse_if(r, !on_paper && r->given[OPTION_PAPER],
	          "--paper goes with draw, explain, report, scatter, vary and place");
	refuse_if(r, !draws && r->given[OPTION_STEM], "--stem goes with draw");
	refuse_if(r, r->given[OPTION_STEM] && r->given[OPTION_NODE],
	          "--stem does not go with --node: a figure is of one of them");
}

static void refuse_of_questions(reading *r)
{
	bool solves = is_verb(r, RN_VERB_SOLVE), falls = is_verb(r, RN_VERB_FALL), dropped = falls || r->given[OPTION_DROP];
	bool weighs = is_verb(r, RN_VERB_LARGEST) || is_verb(r, RN_VERB_REPORT);
	refuse_if(r, !weighs && !dropped && r->given[OPTION_PIECE],
	          "--piece goes with largest, with report, with fall and with --drop");
	refuse_if(r, !dropped && (r->given[OPTION_BELOW] || r->given[OPTION_HAND]),
	          "--below and --hand go with fall, or with --drop");
	refuse_if(r, !falls && (r->given[OPTION_LET_RUN] || r->given[OPTION_COMPARE]),
	          "--let-run and --compare go with fall");
	refuse_if(r, !solves && r->given[OPTION_RANGES], "--ranges goes with solve");
	refuse_if(r, !solves && r->given[OPTION_WITHOUT], "--without goes with solve");
	refuse_if(r, !solves && r->given[OPTION_MATTERS], "--matters goes with solve");
	refuse_if(r, r->given[OPTION_MATTERS] && r->given[OPTION_WITHOUT], "--matters and --without do not go together");
}

/* Options that go with some verbs only, and why not with the others. */
static bool options_fit(reading *r)
{
	refuse_of_varied(r);
	refuse_of_pages(r);
	refuse_of_figures(r);
	refuse_of_questions(r);
	if (r->message->size == 0 && (!output_fits(r) || output_is_no_figure(r))) {
		rn_buffer_text(r->message, "-o ");
		rn_words_plain(r->message, r->command->output);
		rn_buffer_format(r->message, ": by its name it is of another kind than what %s writes: %s",
		                 verbs[r->command->verb].word, written_by(r));
	}
	return r->message->size == 0;
}

static bool trials_fit(reading *r)
{
	enum { TRIALS_LEAST = 16 };
	bool scatters = r->command->verb == RN_VERB_SCATTER;
	const char *trials = r->command->trials, *threads = r->command->threads;
	if (!scatters && (r->given[OPTION_BETWEEN] || trials || threads))
		rn_buffer_text(r->message, "--between, --trials and --threads go with scatter");
	else if (trials && (!is_power_of_two(whole(trials)) || whole(trials) < TRIALS_LEAST || whole(trials) > RN_TRIALS_MOST))
		rn_buffer_format(r->message, "--trials is a power of two from %d to %d, such as 1024", TRIALS_LEAST, RN_TRIALS_MOST);
	else if (threads && (whole(threads) < 1 || whole(threads) > RN_THREADS_MOST))
		rn_buffer_format(r->message, "--threads is a whole number from 1 to %d", RN_THREADS_MOST);
	return r->message->size == 0;
}

bool rn_options_read(int count, char **words, rn_command *command_out, rn_buffer *message)
{
	reading r = {.count = count, .at = 1, .words = words, .command = command_out, .message = message};
	bool only_operands = false;
	*command_out = (rn_command){.verb = RN_VERB_SOLVE};
	for (; r.at < count; r.at++) {
		const char *word = words[r.at];
		if (!only_operands && strcmp(word, "--") == 0)
			only_operands = true;
		else if (!(only_operands || word[0] != '-' || word[1] == '\0' ? read_operand(&r, only_operands) : read_option(&r)))
			return false;
	}
	if (command_out->help || command_out->version)
		return true;
	bool own = command_out->verb == RN_VERB_SELFTEST;
	if (own && command_out->model) {
		rn_buffer_text(message, "selftest takes no model: it asks those it carries");
		return false;
	}
	if (own || command_out->model)
		return options_fit(&r) && trials_fit(&r);
	rn_buffer_text(message, "no model is named");
	return false;
}
