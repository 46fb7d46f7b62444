/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/drill.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "io/base/pool.h"
#include "io/report/arrows.h"
#include "io/report/explain.h"
#include "io/report/finite.h"
#include "io/report/paragraph.h"
#include "io/report/verdict.h"

/* What counts as right: a drawing to scale, and a calculation [-] (common practice, no source). */
static const double drawn_right = 0.05, worked_right = 0.01;

/* Two unknown pulls nearer than this to one line are not told apart by two sums [-], the sine of their angle. */
static const double parallel = 0.05;

/* The mistake: a pull is printed this many times as large, which neither its parts nor its sum agree with [-]. */
static const double mistake = 1.15;

/* Not in a pull smaller than this part of the largest, whose last figure would hide it [-]. */
static const double told_apart = 0.1;

/* ---- numbers of a seed --------------------------------------------------------------------------- */

/* Index of the number that says where the mistake is; those of the weights are their places in the model. */
static const uint64_t mistake_index = UINT64_C(1) << 40;

/* To a step that is small beside it [N]. */
static double on_a_tag(double weight, double gravity, rn_units units)
{
	double unit = gravity * (units == RN_US ? 0.45359237 : 1), mass = weight / unit;
	double step = mass >= 100 ? 10 : mass >= 10 ? 1 : 0.1;
	return fmax(round(mass / step), 1) * step * unit;
}

rn_status rn_drill_change(rn_model *m, unsigned long seed, rn_units units)
{
	const double most = 0.3;
	const double standard = 9.80665; /* where the model gives none [m/s2] */
	double gravity = rn_words_gravity(m) > 0 ? rn_words_gravity(m) : standard;
	for (int i = 0; i < m->number_count; i++) {
		rn_number changed = m->numbers[i];
		if (changed.attribute != RN_ATTRIBUTE_WEIGHT || changed.origin != RN_GIVEN || !rn_is_piece(m, changed.object))
			continue;
		double times = 1 + most * (2 * rn_random_of(seed, (uint64_t)i) - 1);
		changed.value = changed.low = changed.high = on_a_tag(times * changed.value, gravity, units);
		RN_TRY(rn_model_set_number(m, &changed));
	}
	return RN_OK;
}

/* ---- what a pencil finds --------------------------------------------------------------------------- */

enum { GIVEN = 1, FOUND = 2 }; /* 0: not known yet */

typedef struct writer {
	rn_buffer *out;
	rn_buffer line;
	const rn_result *result;
	const rn_model *model;
	const rn_case_result *answer;
	const rn_drill *drill;
	double *values;
	char *known; /* per span */
} writer;

static bool pulls(const rn_span_result *s)
{
	return fabs(s->tension) > rn_words_nothing;
}

static bool ends_at(const rn_span_result *s, int node)
{
	return s->from == node || s->to == node;
}

/* What friction says about a pass: of its two pulls one gives the other. */
static bool follow_passes(writer *w)
{
	bool any = false;
	for (int i = 0; i < w->answer->pass_count; i++) {
		const rn_pass_result *p = &w->answer->passes[i];
		char *before = &w->known[p->span_before], *after = &w->known[p->span_after];
		if (!*before == !*after)
			continue;
		*(*before ? after : before) = FOUND;
		any = true;
	}
	return any;
}

/* A pass at a node whose two pulls are unknown counts as one unknown. */
static int unknowns_at(const writer *w, int node, const rn_span_result *first[2])
{
	int count = 0;
	for (int i = 0; i < w->answer->span_count; i++) {
		const rn_span_result *s = &w->answer->spans[i];
		if (!ends_at(s, node) || w->known[i])
			continue;
		if (count < 2)
			first[count] = s;
		count++;
	}
	for (int i = 0; i < w->answer->pass_count; i++) {
		const rn_pass_result *p = &w->answer->passes[i];
		count -= p->node == node && !w->known[p->span_before] && !w->known[p->span_after];
	}
	return count;
}

static bool presses(const writer *w, int node)
{
	for (int i = 0; i < w->answer->contact_count; i++)
		if (w->answer->contacts[i].a == node || w->answer->contacts[i].b == node)
			return true;
	return false;
}

/* The two sums of a free node give two unknown pulls. */
static bool sum_up(writer *w)
{
	for (int n = 0; n < w->model->node_count; n++) {
		const rn_span_result *first[2];
		if (rn_node_is_fixed(&w->model->nodes[n]) || presses(w, n))
			continue;
		int count = unknowns_at(w, n, first);
		if (count < 1 || count > 2 || (count == 2 && fabs(sin(first[0]->heading - first[1]->heading)) < parallel))
			continue;
		for (int i = 0; i < w->answer->span_count; i++)
			if (ends_at(&w->answer->spans[i], n) && !w->known[i])
				w->known[i] = FOUND;
		return true;
	}
	return false;
}

/* Whatever the sums leave open is given, one pull at a time. */
static void find_known(writer *w)
{
	for (int i = 0; i < w->answer->span_count; i++)
		w->known[i] = pulls(&w->answer->spans[i]) ? 0 : GIVEN;
	for (;;) {
		while (follow_passes(w) || sum_up(w))
			;
		char *open = memchr(w->known, 0, (size_t)w->answer->span_count);
		if (!open)
			return;
		*open = GIVEN;
	}
}

/* ---- words ----------------------------------------------------------------------------------------- */

static void say(writer *w, const char *text)
{
	rn_buffer_text(&w->line, text);
}

static void end_paragraph(writer *w)
{
	rn_paragraph_end(w->out, &w->line);
}

static void heading(writer *w, const char *text)
{
	rn_buffer_format(w->out, "\n%s\n", text);
}

static void say_bare(writer *w, double force)
{
	rn_words_bare_force(&w->line, force, RN_NEAREST, w->drill->units);
}

static void say_force(writer *w, double force)
{
	rn_words_force(&w->line, force, RN_NEAREST, w->drill->units);
}

static void say_span(writer *w, const rn_span_result *s)
{
	rn_words_object(&w->line, w->model, s->member);
	say(w, " ");
	rn_words_object(&w->line, w->model, rn_object_of(RN_NODE, s->from));
	say(w, " to ");
	rn_words_object(&w->line, w->model, rn_object_of(RN_NODE, s->to));
}

/* Anticlockwise from the right, as in the working. */
static void say_angle(writer *w, double angle)
{
	double degrees = remainder(angle, 2 * acos(-1.0)) * 180 / acos(-1.0);
	rn_buffer_fixed(&w->line, degrees < -0.05 ? degrees + 360 : fabs(degrees), 1);
}

/* The scratch line as a column. */
static void put_column(writer *w, int width)
{
	rn_paragraph_fit(w->out, w->line.size > 0 ? w->line.bytes : "", width, width);
	rn_buffer_text(w->out, " ");
	w->out->failed = w->out->failed || w->line.failed;
	rn_buffer_release(&w->line);
}

enum { NAME_WIDTH = 34, ANGLE_WIDTH = 7, BLANK_WIDTH = 10 };

static void put_blanks(writer *w, int count)
{
	for (int i = 0; i < count; i++)
		rn_buffer_text(w->out, i ? " __________" : "__________");
	rn_buffer_char(w->out, '\n');
}

/* ---- sheet ----------------------------------------------------------------------------------------- */

static void write_loads(writer *w)
{
	heading(w, "1  What is known");
	for (int n = 0; n < w->model->node_count; n++) {
		if (rn_node_is_fixed(&w->model->nodes[n]))
			continue;
		rn_arrows a = rn_arrows_at(w->model, w->answer, w->values, n);
		for (int i = 0; i < a.count; i++) {
			const rn_arrow *load = &a.list[i];
			bool is_load = load->member.kind == RN_CASE || load->member.kind == RN_FORCE || load->member.kind == RN_NODE;
			if (!is_load)
				continue;
			const double pull[2] = {load->x, load->y};
			rn_words_part(&w->line, w->model, rn_object_of(RN_NODE, n));
			say(w, ": ");
			rn_arrows_words(&w->line, &a, i);
			say(w, " ");
			say_force(w, hypot(load->x, load->y));
			if (load->member.kind == RN_CASE && rn_is_piece(w->model, rn_object_of(RN_NODE, n))) {
				say(w, " (");
				rn_words_mass(&w->line, hypot(load->x, load->y), rn_words_gravity(w->model), w->drill->units);
				say(w, ")");
			}
			say(w, ", ");
			rn_words_direction(&w->line, pull, RN_POINT_FULL);
			say(w, ".");
			end_paragraph(w);
		}
	}
}

static void write_ratios(writer *w)
{
	for (int i = 0; i < w->answer->pass_count; i++) {
		const rn_pass_result *p = &w->answer->passes[i];
		const rn_span_result *before = &w->answer->spans[p->span_before], *after = &w->answer->spans[p->span_after];
		if (p->lifted || !pulls(before) || !pulls(after))
			continue;
		say(w, "Over ");
		rn_words_object(&w->line, w->model, rn_object_of(RN_NODE, p->node));
		say(w, " the pull in ");
		say_span(w, after);
		say(w, " is ");
		rn_buffer_fixed(&w->line, after->tension / before->tension, 4);
		say(w, " times that in ");
		say_span(w, before);
		say(w, ".");
		end_paragraph(w);
	}
	for (int i = 0; i < w->answer->span_count; i++) {
		const rn_span_result *s = &w->answer->spans[i];
		if (w->known[i] != GIVEN)
			continue;
		say_span(w, s);
		if (pulls(s)) {
			say(w, " carries ");
			say_force(w, s->tension);
			say(w, ": the sums do not say how it shares, so it is given.");
		} else {
			say(w, " is slack.");
		}
		end_paragraph(w);
	}
}

static void put_heads(writer *w)
{
	rn_buffer_format(w->out, "%-*s %-*s %-*s %-*s %s\n", NAME_WIDTH, rn_words_force_unit(w->drill->units), ANGLE_WIDTH, "deg",
	                 BLANK_WIDTH, "guess", BLANK_WIDTH, "worked out", "load cell");
}

static bool is_asked(const writer *w, int node)
{
	const double *pull = w->answer->nodes[node].pull;
	return rn_node_is_fixed(&w->model->nodes[node]) && hypot(pull[0], pull[1]) > rn_words_nothing;
}

static void put_answer(writer *w, double force)
{
	say_bare(w, force);
	put_column(w, BLANK_WIDTH);
	for (int k = 0; k < 2; k++) {
		double room = (k ? worked_right : drawn_right) * fabs(force);
		say_bare(w, force - room);
		say(w, " to ");
		say_bare(w, force + room);
		put_column(w, 2 * BLANK_WIDTH - 4);
	}
	while (w->out->size > 0 && w->out->bytes[w->out->size - 1] == ' ')
		w->out->size--;
	rn_buffer_char(w->out, '\n');
}

/* A row of the sheet or of the key: what is asked for, which way it leads, how hard it is pulled. */
static void put_row(writer *w, double angle, bool angle_asked, double force)
{
	put_column(w, NAME_WIDTH);
	if (angle_asked && !w->drill->key)
		say(w, "_____");
	else
		say_angle(w, angle);
	put_column(w, ANGLE_WIDTH);
	if (w->drill->key)
		put_answer(w, force);
	else
		put_blanks(w, 3);
}

static void put_rows(writer *w)
{
	for (int i = 0; i < w->answer->span_count; i++) {
		const rn_span_result *s = &w->answer->spans[i];
		if (w->known[i] != FOUND)
			continue;
		say_span(w, s);
		put_row(w, s->heading, false, s->tension);
	}
	for (int n = 0; n < w->model->node_count; n++) {
		const double *pull = w->answer->nodes[n].pull;
		if (!is_asked(w, n))
			continue;
		say(w, "pull on ");
		rn_words_object(&w->line, w->model, rn_object_of(RN_NODE, n));
		put_row(w, atan2(pull[1], pull[0]), true, hypot(pull[0], pull[1]));
	}
}

static void write_questions(writer *w)
{
	heading(w, "2  What does each carry? First guess all of them, then draw or work them out, then read the cell");
	put_heads(w);
	put_rows(w);
	say(w, "deg: the way the rope leads from the first name to the second, anticlockwise from the right; of a pull on an "
	       "anchor it is asked for. A prop that pushes has a figure below 0. Drawn to scale within 5 % is right, worked out within 1 %.");
	end_paragraph(w);
}

/* ---- the mistake ------------------------------------------------------------------------------------ */

/* A row "  F2  rope bull to post   2.824   271.1   0.054   -2.824": where its size stands in the text. */
typedef struct row {
	size_t begin, size_at, size_end, end;
	double size;
} row;

/* The size is the fourth number from the end of the line. */
static bool read_row(const char *text, size_t begin, size_t end, row *out)
{
	if (end - begin < 3 || strncmp(text + begin, "  F", 3) != 0)
		return false;
	size_t at = end;
	for (int k = 0; k < 4; k++) {
		while (at > begin && text[at - 1] == ' ')
			at--;
		out->size_end = at;
		while (at > begin && text[at - 1] != ' ')
			at--;
	}
	out->begin = begin;
	out->end = end;
	out->size_at = at;
	out->size = strtod(text + at, NULL);
	return out->size > 0;
}

/* The row of that number among those with a size of at least `least`, and how many there are. */
static bool find_row(const char *text, size_t size, double least, int wanted, row *out, int *count_out)
{
	bool found = false;
	*count_out = 0;
	for (size_t begin = 0; begin < size;) {
		const char *stop = memchr(text + begin, '\n', size - begin);
		size_t end = stop ? (size_t)(stop - text) : size;
		row r;
		if (read_row(text, begin, end, &r) && r.size >= least) {
			if (*count_out == wanted) {
				*out = r;
				found = true;
			}
			++*count_out;
		}
		begin = end + 1;
	}
	return found;
}

/* As many places as the number it stands in for. */
static void print_like(const char *text, const row *r, rn_buffer *out)
{
	const char *point = memchr(text + r->size_at, '.', r->size_end - r->size_at);
	int places = point ? (int)(text + r->size_end - point) - 1 : 0;
	rn_buffer_fixed(out, r->size * mistake, places);
}

/* A row of the working whose size shows, and what is printed there instead. */
static rn_status choose_mistake(const writer *w, const rn_buffer *working, row *out, rn_buffer *wrong)
{
	const char *text = working->bytes;
	size_t size = working->size;
	double least = 0;
	int count = 0;
	for (int i = 0; find_row(text, size, 0, i, out, &count); i++)
		least = fmax(least, told_apart * out->size);
	find_row(text, size, least, RN_NONE, out, &count);
	if (count == 0)
		return RN_STATUS_ARGUMENT;
	int chosen = (int)(count * rn_random_of(w->drill->seed, mistake_index));
	find_row(text, size, least, chosen, out, &count);
	print_like(text, out, wrong);
	return rn_buffer_status(wrong);
}

static void write_wrong(writer *w, const rn_buffer *working, const row *r, const rn_buffer *wrong)
{
	heading(w, "3  To be handed out when 2 is done: one number in this working is wrong. Which?");
	rn_buffer_add(w->out, working->bytes, r->size_end - wrong->size); /* one figure more takes a blank */
	rn_buffer_add(w->out, wrong->bytes, wrong->size);
	rn_buffer_add(w->out, working->bytes + r->size_end, working->size - r->size_end);
}

static void write_right(writer *w, const rn_buffer *working, const row *r, const rn_buffer *wrong)
{
	const char *name = working->bytes + r->begin + 2;
	heading(w, "3  The mistake");
	say(w, "It stands in ");
	rn_buffer_add(&w->line, name, strcspn(name, " "));
	say(w, ": ");
	rn_buffer_add(&w->line, wrong->bytes, wrong->size);
	say(w, " was printed, ");
	rn_buffer_add(&w->line, working->bytes + r->size_at, r->size_end - r->size_at);
	say(w, " is right. Its two parts and the sum belong to the right one.");
	end_paragraph(w);
}

/* The working with its one mistake on the sheet; what it is, in the key. */
static rn_status write_mistake(writer *w)
{
	rn_buffer working = rn_buffer_make(&w->out->allocator), wrong = rn_buffer_make(&w->out->allocator);
	row r = {0};
	rn_status status = rn_explain_text(&working, w->result, w->drill->index, w->drill->node, w->drill->units);
	if (status == RN_OK)
		status = choose_mistake(w, &working, &r, &wrong);
	if (status == RN_OK)
		(w->drill->key ? write_right : write_wrong)(w, &working, &r, &wrong);
	rn_buffer_release(&working);
	rn_buffer_release(&wrong);
	return status;
}

/* ---- key ---------------------------------------------------------------------------------------------- */

static void write_answers(writer *w)
{
	heading(w, "2  What each carries");
	rn_buffer_format(w->out, "%-*s %-*s %-*s %-*s %s\n", NAME_WIDTH, rn_words_force_unit(w->drill->units), ANGLE_WIDTH, "deg",
	                 BLANK_WIDTH, "right", 2 * BLANK_WIDTH - 4, "drawn (5 %)", "worked out (1 %)");
	put_rows(w);
}

int rn_drill_node(const rn_model *m, const rn_case_result *answer)
{
	int node = RN_NONE, most = 0;
	for (int n = 0; n < m->node_count; n++) {
		int count = 0;
		for (int i = 0; i < answer->span_count; i++)
			count += ends_at(&answer->spans[i], n) && pulls(&answer->spans[i]);
		if (rn_node_is_fixed(&m->nodes[n]) || count <= most)
			continue;
		node = n;
		most = count;
	}
	return node;
}

/* ---- all of it ------------------------------------------------------------------------------------------ */

static void write_head(writer *w)
{
	say(w, w->drill->key ? "Key to the exercise of seed " : "Exercise of seed ");
	rn_buffer_format(&w->line, "%lu: ", w->drill->seed);
	if (w->model->title) {
		rn_words_plain(&w->line, w->model->title);
		say(w, ", ");
	}
	say(w, "case ");
	rn_words_object(&w->line, w->model, rn_object_of(RN_CASE, w->answer->case_index));
	say(w, ". Weights are those of the seed, not of the model.");
	end_paragraph(w);
	if (w->drill->key)
		return;
	say(w, "For training, on the ground. Name __________________  date ____________");
	end_paragraph(w);
}

static rn_status write_all(writer *w)
{
	find_known(w);
	write_head(w);
	if (w->drill->key) {
		write_answers(w);
	} else {
		write_loads(w);
		write_ratios(w);
		write_questions(w);
	}
	RN_TRY(write_mistake(w));
	return rn_buffer_status(w->out);
}

rn_status rn_drill_text(rn_buffer *buffer, const rn_result *result, const rn_drill *drill)
{
	const rn_model *m = result->model;
	const rn_case_result *answer = &result->cases[drill->index];
	if (!rn_verdict_has_answer(answer) || answer->caught.fall != RN_NONE)
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_finite_check(result));
	writer w = {.out = buffer, .line = rn_buffer_make(&buffer->allocator), .result = result, .model = m,
	            .answer = answer, .drill = drill};
	rn_pool pool = rn_pool_make(&buffer->allocator);
	w.values = rn_pool_take(&pool, (size_t)m->number_count + 1, sizeof *w.values);
	w.known = rn_pool_take(&pool, (size_t)answer->span_count + 1, 1);
	rn_status status = w.values && w.known ? RN_OK : RN_STATUS_MEMORY;
	if (status == RN_OK) {
		rn_case_values(m, &m->cases[answer->case_index], w.values);
		status = write_all(&w);
	}
	rn_pool_release(&pool);
	rn_buffer_release(&w.line);
	return status;
}
