/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/question.h"

#include <math.h>
#include <string.h>

#include "io/base/words.h"
#include "io/report/verdict.h"
#include "io/xml/quantity.h"

static const double pi = 3.14159265358979323846;

enum { WORDS_MOST = 16, WORD_SIZE = 64 };

/* A question cut into words, and how far it has been read. What is wrong with it is said once; every reader gives 0
 * from then on. */
typedef struct asking {
	const rn_model *model;
	const rn_case_result *answer;
	char words[WORDS_MOST][WORD_SIZE];
	int count, next;
	bool failed;
	rn_buffer *why;
} asking;

static void fail(asking *q, const char *what, const char *word)
{
	if (!q->failed) {
		rn_buffer_text(q->why, what);
		rn_words_plain(q->why, word);
	}
	q->failed = true;
}

/* ---- words ------------------------------------------------------------------------------------------- */

static void split_words(asking *q, const char *text)
{
	q->count = q->next = 0;
	while (*(text += strspn(text, " \t"))) {
		size_t size = strcspn(text, " \t");
		if (q->count == WORDS_MOST || size >= WORD_SIZE) {
			fail(q, "too long: ", text);
			return;
		}
		memcpy(q->words[q->count], text, size);
		q->words[q->count++][size] = '\0';
		text += size;
	}
}

static const char *take_word(asking *q)
{
	if (q->next < q->count)
		return q->words[q->next++];
	fail(q, "a word is missing after ", q->count > 0 ? q->words[q->count - 1] : "nothing");
	return "";
}

static double number_of(asking *q, const char *word)
{
	double value = 0;
	rn_buffer why = rn_buffer_make(&q->why->allocator);
	if (!rn_quantity_read(word, RN_MEASURE_RATIO, RN_GRAVITY_STANDARD, &value, &why))
		fail(q, "not a number: ", word);
	rn_buffer_release(&why);
	return q->failed ? 0 : value;
}

static int take_index(asking *q)
{
	double value = number_of(q, take_word(q));
	return value >= 0 && value < 1e6 ? (int)value : 0;
}

static rn_object take_object(asking *q)
{
	const char *id = take_word(q);
	rn_object object = rn_model_object_by_id(q->model, id);
	if (object.index == RN_NONE)
		fail(q, "there is no ", id);
	return object;
}

/* NULL after a failure. */
static const rn_node_result *take_node(asking *q, int *index_out)
{
	rn_object object = take_object(q);
	if (object.kind != RN_NODE)
		fail(q, "not a node: ", q->next > 0 ? q->words[q->next - 1] : "");
	*index_out = object.index;
	return q->failed ? NULL : &q->answer->nodes[object.index];
}

/* ---- terms ------------------------------------------------------------------------------------------- */

static bool same_object(rn_object a, rn_object b)
{
	return a.kind == b.kind && a.index == b.index;
}

static const rn_span_result *take_span(asking *q)
{
	static const rn_span_result none;
	rn_object member = take_object(q);
	int index = take_index(q);
	for (int i = 0; i < q->answer->span_count; i++) {
		const rn_span_result *span = &q->answer->spans[i];
		if (same_object(span->member, member) && span->index == index)
			return span;
	}
	fail(q, "it has no such span: ", rn_object_id(q->model, member));
	return &none;
}

static const rn_pass_result *take_pass(asking *q)
{
	static const rn_pass_result none;
	rn_object member = take_object(q);
	int index = take_index(q);
	for (int i = 0, seen = 0; i < q->answer->pass_count; i++) {
		const rn_pass_result *pass = &q->answer->passes[i];
		if (member.kind == RN_LINE && pass->line == member.index && seen++ == index)
			return pass;
	}
	fail(q, "it has no such pass: ", rn_object_id(q->model, member));
	return &none;
}

static double path_of(const asking *q, rn_object member)
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

static double read_tension(asking *q) { return take_span(q)->tension; }
static double read_length(asking *q) { return take_span(q)->length; }
static double read_direction(asking *q) { return take_span(q)->heading; }
static double read_path(asking *q) { return path_of(q, take_object(q)); }
static double read_bend(asking *q) { return take_pass(q)->bend; }

static double read_force(asking *q)
{
	const double *force = take_pass(q)->force;
	return hypot(force[0], force[1]);
}

static double read_force_direction(asking *q)
{
	const double *force = take_pass(q)->force;
	return atan2(force[1], force[0]);
}

static void take_pull(asking *q, double pull_out[2])
{
	int index;
	const rn_node_result *node = take_node(q, &index);
	pull_out[0] = node ? node->pull[0] : 0;
	pull_out[1] = node ? node->pull[1] : 0;
}

static double read_pull_x(asking *q)
{
	double pull[2];
	take_pull(q, pull);
	return pull[0];
}

static double read_pull_y(asking *q)
{
	double pull[2];
	take_pull(q, pull);
	return pull[1];
}

static double read_pull(asking *q)
{
	double pull[2];
	take_pull(q, pull);
	return hypot(pull[0], pull[1]);
}

static double read_pull_direction(asking *q)
{
	double pull[2];
	take_pull(q, pull);
	return atan2(pull[1], pull[0]);
}

static double read_load(asking *q)
{
	int index;
	const rn_node_result *node = take_node(q, &index);
	return node ? hypot(node->load[0], node->load[1]) : 0;
}

static double read_x(asking *q)
{
	int index;
	const rn_node_result *node = take_node(q, &index);
	return node ? node->place[0] : 0;
}

static double read_y(asking *q)
{
	int index;
	const rn_node_result *node = take_node(q, &index);
	return node ? node->place[1] : 0;
}

static double read_hand(asking *q)
{
	rn_object line = take_object(q);
	const char *end = take_word(q);
	for (int i = 0; i < q->answer->hold_count; i++) {
		const rn_hold_result *hold = &q->answer->holds[i];
		if (line.kind == RN_LINE && hold->line == line.index)
			return strcmp(end, "least") == 0 ? hold->hand_least : hold->hand_most;
	}
	fail(q, "it is not held: ", rn_object_id(q->model, line));
	return 0;
}

static double read_push(asking *q)
{
	int a, b;
	(void)take_node(q, &a);
	(void)take_node(q, &b);
	for (int i = 0; i < q->answer->contact_count; i++) {
		const rn_contact_result *contact = &q->answer->contacts[i];
		if ((contact->a == a && contact->b == b) || (contact->a == b && contact->b == a))
			return contact->push;
	}
	fail(q, "these treads do not meet", "");
	return 0;
}

/* Sum of T^2 L0 / 2 EA over the ropes, less the work of the loads; no friction, no given pulls. */
static double read_potential(asking *q)
{
	double sum = 0;
	for (int i = 0; i < q->answer->span_count; i++) {
		const rn_span_result *span = &q->answer->spans[i];
		if (span->index > 0)
			continue;
		bool sling = span->member.kind == RN_SLING;
		int gear = sling ? q->model->slings[span->member.index].gear : q->model->lines[span->member.index].gear;
		int number = rn_model_find_number(q->model, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_STIFFNESS);
		if (number == RN_NONE) {
			fail(q, "no stiffness is known of ", rn_object_id(q->model, span->member));
			return 0;
		}
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

static const rn_part_result *take_part(asking *q)
{
	static const rn_part_result none;
	const char *part = take_word(q), *node = NULL;
	if (q->next < q->count && !strchr("/-", q->words[q->next][0]) && strcmp(q->words[q->next], "in") != 0)
		node = take_word(q);
	for (int i = 0; i < q->answer->part_count; i++) {
		const rn_part_result *p = &q->answer->parts[i];
		bool there = !node || (p->at != RN_NONE && strcmp(q->model->nodes[p->at].id, node) == 0);
		if (there && strcmp(rn_object_id(q->model, p->object), part) == 0)
			return p;
	}
	fail(q, "no such part: ", part);
	return &none;
}

static double read_limit(asking *q) { return take_part(q)->limit; }
static double read_share(asking *q) { return take_part(q)->utilisation; }
static double read_checked(asking *q) { return take_part(q)->unchecked == RN_CHECKED; }

static const rn_caught *caught(asking *q)
{
	if (q->answer->caught.fall == RN_NONE)
		fail(q, "nothing falls in this case", "");
	return &q->answer->caught;
}

static double read_peak(asking *q) { return caught(q)->peak; }
static double read_travel(asking *q) { return caught(q)->travel; }
static double read_clear(asking *q) { return caught(q)->clear; }
static double read_run_out(asking *q) { return caught(q)->run_out; }

static double read_term(asking *q)
{
	static const struct {
		const char *word;
		double (*read)(asking *);
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
	const char *word = take_word(q);
	for (size_t i = 0; i < sizeof terms / sizeof *terms; i++)
		if (strcmp(terms[i].word, word) == 0)
			return terms[i].read(q);
	fail(q, "unknown quantity: ", word);
	return 0;
}

/* ---- asking ------------------------------------------------------------------------------------------ */

static const rn_case_result *find_case(asking *q, const rn_result *result, const char *id)
{
	for (int i = 0; i < result->case_count; i++) {
		const rn_case *c = &result->model->cases[result->cases[i].case_index];
		if (!id || strcmp(c->id, id) == 0)
			return &result->cases[i];
	}
	fail(q, "there is no case ", id ? id : "at all");
	return NULL;
}

static double ask(const rn_result *result, const char *text, asking *q)
{
	split_words(q, text);
	bool names_case = q->count > 2 && strcmp(q->words[q->count - 2], "in") == 0;
	q->answer = find_case(q, result, names_case ? q->words[q->count - 1] : NULL);
	q->count -= names_case ? 2 : 0;
	if (q->answer && !rn_verdict_has_answer(q->answer))
		fail(q, "the case has no answer: ", rn_outcome_text(q->answer->outcome));
	if (q->failed)
		return 0;
	double value = read_term(q);
	if (q->next < q->count) {
		const char *sign = take_word(q);
		double other = read_term(q);
		if (strcmp(sign, "/") == 0)
			value /= other;
		else if (strcmp(sign, "-") == 0)
			value -= other;
		else
			fail(q, "unknown sign: ", sign);
	}
	if (q->next < q->count)
		fail(q, "too much is said: ", q->words[q->next]);
	return value;
}

/* ---- expected values ----------------------------------------------------------------------------------- */

static double unit_factor(asking *q, const char *unit)
{
	static const struct {
		const char *word;
		double factor;
	} units[] = {
		{"", 1},     {"N", 1},     {"kN", 1e3},    {"lbf", 4.4482216152605}, {"kip", 4448.2216152605}, {"m", 1},
		{"cm", 0.01}, {"mm", 0.001}, {"ft", 0.3048}, {"J", 1},
	};
	if (strcmp(unit, "deg") == 0)
		return pi / 180;
	if (strcmp(unit, "kg") == 0) {
		int number = rn_model_number_by_name(q->model, "rigging.gravity");
		return number == RN_NONE ? RN_GRAVITY_STANDARD : q->model->numbers[number].value;
	}
	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		if (strcmp(units[i].word, unit) == 0)
			return units[i].factor;
	fail(q, "unknown unit: ", unit);
	return 1;
}

bool rn_question_ask(const rn_result *result, const rn_question *question, rn_reply *reply_out, rn_buffer *why)
{
	asking q = {.model = result->model, .why = why};
	rn_reply reply = {.agrees = false};
	split_words(&q, question->expected);
	reply.expected = number_of(&q, take_word(&q));
	const char *unit = q.count > 1 ? take_word(&q) : "";
	size_t size = strlen(unit);
	if (size < sizeof reply.unit)
		memcpy(reply.unit, unit, size + 1);
	double factor = unit_factor(&q, unit);
	split_words(&q, question->tolerance);
	bool relative = strcmp(take_word(&q), "rel") == 0;
	reply.room = number_of(&q, take_word(&q)) * (relative ? fabs(reply.expected) : 1);
	double actual = ask(result, question->quantity, &q), off = actual - reply.expected * factor;
	if (strcmp(unit, "deg") == 0)
		off = remainder(off, 2 * pi);
	reply.actual = actual / factor;
	reply.off = off / factor;
	reply.agrees = !q.failed && fabs(off) <= reply.room * factor; /* so that a value that is no number does not */
	*reply_out = reply;
	return !q.failed;
}

/* ---- rows -------------------------------------------------------------------------------------------- */

static void copy_field(char field[RN_QUESTION_FIELD_SIZE], const char *from, const char *end)
{
	while (from < end && strchr(" \t", *from))
		from++;
	while (end > from && strchr(" \t\r", end[-1]))
		end--;
	size_t size = (size_t)(end - from);
	if (size >= RN_QUESTION_FIELD_SIZE)
		size = RN_QUESTION_FIELD_SIZE - 1;
	memcpy(field, from, size);
	field[size] = '\0';
}

static bool read_row(const char *line, size_t size, rn_question *out)
{
	char *fields[RN_QUESTION_FIELDS] = {out->row, out->quantity, out->expected, out->tolerance, out->source};
	const char *end = line + size, *from = line;
	if (size == 0 || line[strspn(line, " \t")] == '#')
		return false;
	for (int i = 0; i < RN_QUESTION_FIELDS; i++) {
		const char *bar = memchr(from, '|', (size_t)(end - from));
		bool last = i + 1 == RN_QUESTION_FIELDS;
		if (last == (bar != NULL))
			return false;
		copy_field(fields[i], from, last ? end : bar);
		from = last ? end : bar + 1;
	}
	return true;
}

bool rn_question_next(const char **text, rn_question *question_out)
{
	while (**text) {
		const char *line = *text;
		size_t size = strcspn(line, "\n");
		*text = line + size + (line[size] == '\n');
		if (read_row(line, size, question_out))
			return true;
	}
	return false;
}
