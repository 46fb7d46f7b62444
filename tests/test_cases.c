/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Published and independently found numbers as data: every NAME.xml in RN_TESTS_DIR/cases,
 * RN_TESTS_DIR/kept-cases and RN_TESTS_DIR/hard that has a NAME.expect with rows
 *
 *     row | quantity | expected | tolerance | source
 *
 * is read, solved and held against them. Lines that begin with # and, in hard/, the rows
 * `exit`, `message`, `node`, `line` (they are hard.sh's) are passed over.
 *
 *     quantity  = term [ / term | - term ] [ in CASE ]       the first case if none is named
 *     term      = tension MEMBER SPAN        of a line, or of a leg of a sling; counted from 0
 *               | length MEMBER SPAN         between the tangent points
 *               | direction MEMBER SPAN      of travel
 *               | path LINE                  all spans and arcs of a line
 *               | bend LINE PASS             counted from 0
 *               | force LINE PASS            of the rope on the node
 *               | force-direction LINE PASS
 *               | pull NODE                  of the rigging on a fixed node
 *               | pull-x NODE | pull-y NODE | pull-direction NODE
 *               | load NODE                  weight and outer forces on a free node
 *               | x NODE | y NODE
 *               | hand LINE least | most     pull that just holds the line
 *               | push NODE NODE             of two treads that press on each other
 *               | potential                  of the stretched ropes and of all loads
 *               | limit PART [NODE]          of a part, at one node where it is a part at several
 *               | share PART [NODE]          its utilisation
 *               | checked PART [NODE]        1 when it is held against a limit, 0 when not
 *               | peak | travel | clear | run-out    of a piece that is caught
 *     expected  = number [unit]              SI if no unit is given; angles are compared round the
 *                                            circle
 *     tolerance = rel number                 of the expected value
 *               | abs number                 in the unit of the expected value
 */
#define _POSIX_C_SOURCE 200809L
#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/xml/reader.h"
#include "solver/funicle.h"

#define PI 3.14159265358979323846
#define GRAVITY_STANDARD 9.80665 /* [m/s2] */

enum { word_max = 16, word_size = 64, file_max = 1 << 20, case_max = 1000, case_least = 150 };

typedef struct test_file {
	char folder[512], name[128];
} test_file;

typedef struct question {
	const rn_model *model;
	const rn_case_result *answer;
	char words[word_max][word_size];
	int count, next;
} question;

/* ---- words ----------------------------------------------------------------------------------- */

static void split_words(question *q, const char *text)
{
	q->count = 0;
	q->next = 0;
	while (*(text += strspn(text, " \t")) != '\0') {
		size_t size = strcspn(text, " \t");
		if (q->count == word_max || size >= word_size)
			fail_msg("too long: %s", text);
		memcpy(q->words[q->count], text, size);
		q->words[q->count++][size] = '\0';
		text += size;
	}
}

static const char *take_word(question *q)
{
	if (q->next == q->count)
		fail_msg("a word is missing after %s", q->count > 0 ? q->words[q->count - 1] : "nothing");
	return q->words[q->next++];
}

static double number_of(const char *word)
{
	char *end = NULL;
	double value = strtod(word, &end);
	if (end == word || *end != '\0')
		fail_msg("not a number: %s", word);
	return value;
}

static int take_index(question *q)
{
	double value = number_of(take_word(q));
	if (!(value >= 0 && value < 1e6))
		fail_msg("not an index: %g", value);
	return (int)value;
}

static rn_object take_object(question *q)
{
	const char *id = take_word(q);
	rn_object object = rn_model_object_by_id(q->model, id);
	if (object.index == RN_NONE)
		fail_msg("there is no %s", id);
	return object;
}

static int take_node(question *q)
{
	rn_object object = take_object(q);
	assert_int_equal(object.kind, RN_NODE);
	return object.index;
}

/* ---- terms ----------------------------------------------------------------------------------- */

static bool same_object(rn_object a, rn_object b)
{
	return a.kind == b.kind && a.index == b.index;
}

static const rn_span_result *take_span(question *q)
{
	rn_object member = take_object(q);
	int index = take_index(q);
	for (int i = 0; i < q->answer->span_count; i++) {
		const rn_span_result *span = &q->answer->spans[i];
		if (same_object(span->member, member) && span->index == index)
			return span;
	}
	fail_msg("%s has no span %d", rn_object_id(q->model, member), index);
	return NULL;
}

static const rn_pass_result *take_pass(question *q)
{
	rn_object member = take_object(q);
	int index = take_index(q);
	for (int i = 0, seen = 0; i < q->answer->pass_count; i++) {
		const rn_pass_result *pass = &q->answer->passes[i];
		if (member.kind == RN_LINE && pass->line == member.index && seen++ == index)
			return pass;
	}
	fail_msg("%s has no pass %d", rn_object_id(q->model, member), index);
	return NULL;
}

static double path_of(const question *q, rn_object member)
{
	double path = 0;
	for (int i = 0; i < q->answer->span_count; i++)
		if (same_object(q->answer->spans[i].member, member))
			path += q->answer->spans[i].length;
	for (int i = 0; i < q->answer->pass_count; i++)
		if (member.kind == RN_LINE && q->answer->passes[i].line == member.index)
			path += q->answer->passes[i].radius * q->answer->passes[i].bend;
	return path;
}

static double read_tension(question *q) { return take_span(q)->tension; }
static double read_length(question *q) { return take_span(q)->length; }
static double read_direction(question *q) { return take_span(q)->heading; }
static double read_path(question *q) { return path_of(q, take_object(q)); }
static double read_bend(question *q) { return take_pass(q)->bend; }

static double read_force(question *q)
{
	const double *force = take_pass(q)->force;
	return hypot(force[0], force[1]);
}

static double read_force_direction(question *q)
{
	const double *force = take_pass(q)->force;
	return atan2(force[1], force[0]);
}

static double read_pull_x(question *q) { return q->answer->nodes[take_node(q)].pull[0]; }
static double read_pull_y(question *q) { return q->answer->nodes[take_node(q)].pull[1]; }

static double read_pull(question *q)
{
	const double *pull = q->answer->nodes[take_node(q)].pull;
	return hypot(pull[0], pull[1]);
}

static double read_pull_direction(question *q)
{
	const double *pull = q->answer->nodes[take_node(q)].pull;
	return atan2(pull[1], pull[0]);
}

static double read_load(question *q)
{
	const double *load = q->answer->nodes[take_node(q)].load;
	return hypot(load[0], load[1]);
}

static double read_x(question *q) { return q->answer->nodes[take_node(q)].place[0]; }
static double read_y(question *q) { return q->answer->nodes[take_node(q)].place[1]; }

static double read_hand(question *q)
{
	rn_object line = take_object(q);
	const char *end = take_word(q);
	for (int i = 0; i < q->answer->hold_count; i++) {
		const rn_hold_result *hold = &q->answer->holds[i];
		if (line.kind == RN_LINE && hold->line == line.index)
			return strcmp(end, "least") == 0 ? hold->hand_least : hold->hand_most;
	}
	fail_msg("%s is not held", rn_object_id(q->model, line));
	return 0;
}

static double read_push(question *q)
{
	int a = take_node(q), b = take_node(q);
	for (int i = 0; i < q->answer->contact_count; i++) {
		const rn_contact_result *contact = &q->answer->contacts[i];
		if ((contact->a == a && contact->b == b) || (contact->a == b && contact->b == a))
			return contact->push;
	}
	fail_msg("these treads do not meet");
	return 0;
}

/* sum of T^2 L0 / 2 EA over the ropes, less the work of the loads; no friction, no given pulls */
static double read_potential(question *q)
{
	double sum = 0;
	for (int i = 0; i < q->answer->span_count; i++) {
		const rn_span_result *span = &q->answer->spans[i];
		if (span->index > 0)
			continue;
		bool sling = span->member.kind == RN_SLING;
		int gear = sling ? q->model->slings[span->member.index].gear
		                 : q->model->lines[span->member.index].gear;
		int number = rn_model_find_number(q->model, rn_object_of(RN_ITEM, gear),
		                                  RN_ATTRIBUTE_STIFFNESS);
		assert_int_not_equal(number, RN_NONE);
		double stiffness = q->model->numbers[number].value;
		double unstretched = path_of(q, span->member) / (1 + span->tension / stiffness);
		sum += span->tension * span->tension * unstretched / (2 * stiffness);
	}
	for (int i = 0; i < q->model->node_count; i++) {
		const rn_node_result *node = &q->answer->nodes[i];
		sum -= node->load[0] * node->place[0] + node->load[1] * node->place[1];
	}
	return sum;
}

static const rn_part_result *take_part(question *q)
{
	const char *part = take_word(q), *node = NULL;
	if (q->next < q->count && !strchr("/-", q->words[q->next][0]) && strcmp(q->words[q->next], "in") != 0)
		node = take_word(q);
	for (int i = 0; i < q->answer->part_count; i++) {
		const rn_part_result *p = &q->answer->parts[i];
		bool there = !node || (p->at != RN_NONE && strcmp(q->model->nodes[p->at].id, node) == 0);
		if (there && strcmp(rn_object_id(q->model, p->object), part) == 0)
			return p;
	}
	fail_msg("no such part: %s", part);
	return NULL;
}

static double read_limit(question *q)
{
	return take_part(q)->limit;
}

static double read_share(question *q)
{
	return take_part(q)->utilisation;
}

static double read_checked(question *q)
{
	return take_part(q)->unchecked == RN_CHECKED;
}

static const rn_caught *caught(const question *q)
{
	if (q->answer->caught.fall == RN_NONE)
		fail_msg("nothing falls in this case");
	return &q->answer->caught;
}

static double read_peak(question *q) { return caught(q)->peak; }
static double read_travel(question *q) { return caught(q)->travel; }
static double read_clear(question *q) { return caught(q)->clear; }
static double read_run_out(question *q) { return caught(q)->run_out; }

static const struct {
	const char *word;
	double (*read)(question *);
} terms[] = {
	{"tension", read_tension},
	{"length", read_length},
	{"direction", read_direction},
	{"path", read_path},
	{"bend", read_bend},
	{"force", read_force},
	{"force-direction", read_force_direction},
	{"pull", read_pull},
	{"pull-x", read_pull_x},
	{"pull-y", read_pull_y},
	{"pull-direction", read_pull_direction},
	{"load", read_load},
	{"x", read_x},
	{"y", read_y},
	{"hand", read_hand},
	{"push", read_push},
	{"potential", read_potential},
	{"limit", read_limit},
	{"share", read_share},
	{"checked", read_checked},
	{"peak", read_peak},
	{"travel", read_travel},
	{"clear", read_clear},
	{"run-out", read_run_out},
};

static double read_term(question *q)
{
	const char *word = take_word(q);
	for (size_t i = 0; i < sizeof terms / sizeof *terms; i++)
		if (strcmp(terms[i].word, word) == 0)
			return terms[i].read(q);
	fail_msg("unknown quantity: %s", word);
	return 0;
}

/* ---- questions ------------------------------------------------------------------------------- */

static const rn_case_result *find_case(const rn_result *result, const char *id)
{
	for (int i = 0; i < result->case_count; i++) {
		const rn_case *c = &result->model->cases[result->cases[i].case_index];
		if (id == NULL || strcmp(c->id, id) == 0)
			return &result->cases[i];
	}
	fail_msg("there is no case %s", id == NULL ? "at all" : id);
	return NULL;
}

static double ask(const rn_result *result, const char *text)
{
	question q = {.model = result->model};
	split_words(&q, text);
	bool names_case = q.count > 2 && strcmp(q.words[q.count - 2], "in") == 0;
	q.answer = find_case(result, names_case ? q.words[q.count - 1] : NULL);
	q.count -= names_case ? 2 : 0;
	if (q.answer->outcome != RN_OUTCOME_SETTLED && q.answer->outcome != RN_OUTCOME_KEPT)
		fail_msg("%s: %s", text, rn_outcome_text(q.answer->outcome));
	double value = read_term(&q);
	if (q.next < q.count) {
		const char *sign = take_word(&q);
		double other = read_term(&q);
		if (strcmp(sign, "/") == 0)
			value /= other;
		else if (strcmp(sign, "-") == 0)
			value -= other;
		else
			fail_msg("unknown sign: %s", sign);
	}
	assert_int_equal(q.next, q.count);
	return value;
}

/* ---- expected values ------------------------------------------------------------------------- */

static const struct {
	const char *word;
	double factor;
} units[] = {
	{"N", 1},
	{"kN", 1e3},
	{"lbf", 4.4482216152605},
	{"kip", 4448.2216152605},
	{"m", 1},
	{"cm", 0.01},
	{"mm", 0.001},
	{"ft", 0.3048},
	{"deg", PI / 180},
	{"J", 1},
};

static double unit_factor(const rn_model *model, const char *unit)
{
	if (strcmp(unit, "kg") == 0) {
		int number = rn_model_number_by_name(model, "rigging.gravity");
		return number == RN_NONE ? GRAVITY_STANDARD : model->numbers[number].value;
	}
	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		if (strcmp(units[i].word, unit) == 0)
			return units[i].factor;
	fail_msg("unknown unit: %s", unit);
	return 0;
}

static void check_row(const rn_result *result, char *fields[5])
{
	question expected = {0}, tolerance = {0};
	split_words(&expected, fields[2]);
	split_words(&tolerance, fields[3]);
	double value = number_of(take_word(&expected)), factor = 1;
	const char *unit = expected.count > 1 ? take_word(&expected) : "";
	if (*unit != '\0')
		factor = unit_factor(result->model, unit);
	bool relative = strcmp(take_word(&tolerance), "rel") == 0;
	double room = number_of(take_word(&tolerance)) * (relative ? fabs(value) : 1) * factor;

	double actual = ask(result, fields[1]), off = actual - value * factor;
	if (strcmp(unit, "deg") == 0)
		off = remainder(off, 2 * PI);
	/* written so that a value that is no number fails too */
	if (!(fabs(off) <= room))
		fail_msg("%s: %s is %.10g, expected %.10g %s within %s (%s)", fields[0], fields[1],
		         actual / factor, value, unit, fields[3], fields[4]);
}

/* ---- files ----------------------------------------------------------------------------------- */

static char *read_file(const test_file *file, const char *suffix, size_t *size_out)
{
	char path[1024];
	snprintf(path, sizeof path, "%s/%s%s", file->folder, file->name, suffix);
	FILE *stream = fopen(path, "rb");
	if (stream == NULL)
		fail_msg("cannot read %s", path);
	char *bytes = malloc(file_max + 1);
	assert_non_null(bytes);
	*size_out = fread(bytes, 1, file_max, stream);
	assert_int_equal(fclose(stream), 0);
	bytes[*size_out] = '\0';
	return bytes;
}

static char *trimmed(char *text)
{
	text += strspn(text, " \t");
	size_t size = strlen(text);
	while (size > 0 && strchr(" \t\r", text[size - 1]) != NULL)
		text[--size] = '\0';
	return text;
}

/* Cuts a line at its bars; the number of fields. */
static int split_fields(char *line, char *fields[5])
{
	int count = 0;
	char *rest = line;
	while (rest != NULL && count < 5) {
		char *bar = strchr(rest, '|');
		if (bar != NULL)
			*bar = '\0';
		fields[count++] = trimmed(rest);
		rest = bar == NULL ? NULL : bar + 1;
	}
	return count;
}

static int check_rows(const rn_result *result, char *text)
{
	int rows = 0;
	char *rest = NULL;
	for (char *line = strtok_r(text, "\n", &rest); line != NULL;
	     line = strtok_r(NULL, "\n", &rest)) {
		char *fields[5];
		if (*trimmed(line) == '#' || *trimmed(line) == '\0')
			continue;
		int count = split_fields(line, fields);
		if (count == 5) {
			check_row(result, fields);
			rows++;
		}
	}
	return rows;
}

/* Rows of five fields ask the solver; a file may have none of them. */
static bool has_rows(const char *text)
{
	for (const char *line = text; line != NULL; line = strchr(line, '\n')) {
		line += *line == '\n';
		int bars = 0;
		for (const char *c = line; *c != '\0' && *c != '\n'; c++)
			bars += *c == '|';
		if (bars == 4 && *line != '#')
			return true;
	}
	return false;
}

static rn_result *solve(const rn_model *model)
{
	rn_options options = rn_options_default();
	rn_result *result = NULL;
	assert_int_equal(rn_solve(model, &options, &result), RN_OK);
	return result;
}

static void test_case(void **state)
{
	const test_file *file = *state;
	size_t size = 0, expect_size = 0;
	char *expect = read_file(file, ".expect", &expect_size);
	char *bytes = read_file(file, ".xml", &size);
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	rn_status status = rn_document_read(&allocator, file->name, bytes, size, NULL, &document);
	if (status != RN_OK)
		fail_msg("%s.xml: %s", file->name,
		         document && document->diagnostic_count ? document->diagnostics[0].text
		                                                : rn_status_text(status));
	rn_result *result = solve(document->model);
	assert_true(check_rows(result, expect) > 0);
	rn_result_destroy(result);
	rn_document_destroy(document);
	free(bytes);
	free(expect);
}

/* ---- finding the files ----------------------------------------------------------------------- */

static int by_name(const void *a, const void *b)
{
	return strcmp(((const test_file *)a)->name, ((const test_file *)b)->name);
}

static int find_files(const char *folder, test_file *files, int count)
{
	DIR *open = opendir(folder);
	if (open == NULL)
		return count;
	for (struct dirent *entry; (entry = readdir(open)) != NULL;) {
		size_t size = strlen(entry->d_name);
		if (size < 8 || size >= sizeof files->name || strcmp(entry->d_name + size - 7, ".expect") != 0)
			continue;
		test_file file = {0};
		snprintf(file.folder, sizeof file.folder, "%s", folder);
		memcpy(file.name, entry->d_name, size - 7);
		size_t bytes = 0;
		char *text = read_file(&file, ".expect", &bytes);
		if (has_rows(text) && count < case_max)
			files[count++] = file;
		free(text);
	}
	closedir(open);
	return count;
}

int main(void)
{
	static test_file files[case_max];
	static struct CMUnitTest tests[case_max];
	int count = find_files(RN_TESTS_DIR "/cases", files, 0);
	count = find_files(RN_TESTS_DIR "/kept-cases", files, count);
	count = find_files(RN_TESTS_DIR "/hard", files, count);
	if (count < case_least) {
		fprintf(stderr, "only %d cases found in %s\n", count, RN_TESTS_DIR);
		return 1;
	}
	qsort(files, (size_t)count, sizeof *files, by_name);
	for (int i = 0; i < count; i++)
		tests[i] = (struct CMUnitTest){files[i].name, test_case, NULL, NULL, &files[i]};
	return _cmocka_run_group_tests("cases", tests, (size_t)count, NULL, NULL);
}
