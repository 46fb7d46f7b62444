/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/explain.h"

#include <math.h>

#include "io/report/arrows.h"
#include "io/report/cautions.h"
#include "io/report/finite.h"
#include "io/report/verdict.h"

static const double pi = 3.14159265358979323846;

typedef struct writer {
	rn_folio *folio;
	const rn_result *result;
	const rn_model *model;
	const rn_case_result *answer;
	int node;
	rn_units units;
	rn_arrows arrows;
	int level, step; /* of its headings; of the working, from 1 */
} writer;

/* ---- words and numbers --------------------------------------------------------------------------- */

static void say(writer *w, const char *text)
{
	rn_buffer_text(&w->folio->line, text);
}

/* Numbered on a page of its own; chapters of a report have numbers already. */
static void heading(writer *w, const char *text)
{
	if (w->level == 1)
		rn_buffer_format(&w->folio->line, "%d  ", ++w->step);
	say(w, text);
	rn_folio_heading(w->folio, w->level);
}

static void end_paragraph(writer *w)
{
	rn_folio_block(w->folio, RN_BLOCK_PARAGRAPH);
}

static void say_node(writer *w, int node)
{
	rn_words_object(&w->folio->line, w->model, rn_object_of(RN_NODE, node));
}

static double per_unit(const writer *w)
{
	return w->units == RN_US ? 4.4482216152605 : 1e3;
}

/* Digits behind the point that show the largest force at hand in four figures: every term of a sum has as many. */
static int digits_for(const writer *w)
{
	double most = 0;
	for (int i = 0; i < w->arrows.count; i++)
		most = fmax(most, hypot(w->arrows.list[i].x, w->arrows.list[i].y) / per_unit(w));
	int digits = 3;
	for (double limit = 10; digits > 0 && most >= limit; limit *= 10)
		digits--;
	return digits;
}

/* To the nearest: these numbers are to be added, not worked to. */
static void say_plain(writer *w, double force)
{
	rn_buffer_fixed(&w->folio->line, force / per_unit(w), digits_for(w));
}

static void say_unit(writer *w)
{
	rn_buffer_format(&w->folio->line, " %s", rn_words_force_unit(w->units));
}

static void say_force(writer *w, double force)
{
	say_plain(w, force);
	say_unit(w);
}

static void say_degrees(writer *w, double angle)
{
	rn_buffer_fixed(&w->folio->line, angle * 180 / pi, 1);
	say(w, " deg");
}

/* ---- the free body ------------------------------------------------------------------------------------ */

/* A number in a cell; nothing when there is none. */
static void write_cell(writer *w, bool given, double value, int digits)
{
	if (given)
		rn_buffer_fixed(&w->folio->line, value, digits);
	rn_folio_cell(w->folio);
}

/* In columns, so that they can be added with a pencil. A sum has neither size nor angle. */
static void write_row(writer *w, bool is_sum, double x, double y)
{
	int digits = digits_for(w);
	double angle = atan2(y, x) * 180 / pi;
	write_cell(w, !is_sum, hypot(x, y) / per_unit(w), digits);
	write_cell(w, !is_sum, angle < -0.05 ? angle + 360 : angle, 1);
	write_cell(w, true, x / per_unit(w), digits);
	write_cell(w, true, y / per_unit(w), digits);
}

static void write_forces(writer *w, double sum[2])
{
	const rn_columns columns = {
		.count = 6,
		.heads = {"", "", rn_words_force_unit(w->units), "deg", "x = F cos", "y = F sin"},
		.weights = {0.07, 0.37, 0.14, 0.14, 0.14, 0.14},
		.to_the_right = {false, false, true, true, true, true},
	};
	rn_folio_table(w->folio, &columns);
	sum[0] = sum[1] = 0;
	for (int i = 0; i < w->arrows.count; i++) {
		const rn_arrow *f = &w->arrows.list[i];
		rn_buffer_format(&w->folio->line, "F%d", i + 1);
		rn_folio_cell(w->folio);
		rn_arrows_words(&w->folio->line, &w->arrows, i);
		rn_folio_cell(w->folio);
		write_row(w, false, f->x, f->y);
		sum[0] += f->x;
		sum[1] += f->y;
	}
	rn_folio_cell(w->folio);
	say(w, "sum");
	rn_folio_cell(w->folio);
	write_row(w, true, sum[0], sum[1]);
	rn_folio_table_end(w->folio);
}

static void write_free_body(writer *w)
{
	double sum[2];
	bool is_fixed = rn_node_is_fixed(&w->model->nodes[w->node]);
	heading(w, "Free body: every pull on it, as an arrow away from it");
	say(w, "Cut every rope that comes to ");
	say_node(w, w->node);
	say(w, " and put its pull T in its place: a rope only pulls, along itself, away from it. Angles run "
	       "anticlockwise from the right: 90 deg is up, 270 deg is down.");
	end_paragraph(w);
	write_forces(w, sum);
	if (is_fixed) {
		say(w, "What holds ");
		say_node(w, w->node);
		say(w, " pulls back with the same the other way, or it would come: R = square root of (x^2 + y^2) = ");
		say_force(w, hypot(sum[0], sum[1]));
		say(w, ", ");
		rn_words_direction(&w->folio->line, sum, RN_POINT_FULL);
		say(w, ".");
	} else if (rn_arrows_caught(&w->arrows)) {
		say(w, "It stands still for a moment, at the bottom of its fall, and is pulled up harder than it weighs: what closes "
		       "the sum is its weight and its inertia.");
	} else {
		say(w, "Nothing moves, so the sum of x is 0 and the sum of y is 0: those two lines are the whole of statics at "
		       "a point. What is left over is rounding.");
	}
	end_paragraph(w);
}

/* ---- ropes that bend here ------------------------------------------------------------------------------- */

static bool bends_here(const writer *w, const rn_pass_result *p)
{
	return p->node == w->node && !p->lifted && fmax(p->before, p->after) > rn_words_nothing;
}

/* What both parts pull together on what they bend round [N]. */
static double resultant(const rn_pass_result *p)
{
	double a = p->before, b = p->after;
	return sqrt(fmax(0, a * a + b * b + 2 * a * b * cos(pi - p->bend)));
}

/* The loss goes with the load on the pin: T2 - T1 = c R, c = (1 - eta) / (1 + eta), doc/theory.md 4. */
static void write_sheave(writer *w, const rn_pass_result *p)
{
	double c = fabs(p->after - p->before) / resultant(p);
	say(w, ". A sheave takes a part c of the pull R on its pin, below: c = (larger - smaller) / R = ");
	rn_buffer_fixed(&w->folio->line, c, 4);
	say(w, ", an efficiency of (1 - c) / (1 + c) = ");
	rn_buffer_fixed(&w->folio->line, (1 - c) / (1 + c), 3);
	say(w, " over half a turn. ");
}

static void write_friction(writer *w, const rn_pass_result *p)
{
	double ratio = fmax(p->before, p->after) / fmin(p->before, p->after);
	if (!(ratio > 1 + 1e-6)) {
		say(w, "No friction is counted here, so both parts pull alike. ");
		return;
	}
	say(w, "The rope runs from the smaller pull to the larger: ");
	say_force(w, fmax(p->before, p->after));
	say(w, " / ");
	say_force(w, fmin(p->before, p->after));
	say(w, " = ");
	rn_buffer_fixed(&w->folio->line, ratio, 3);
	if (rn_station_is_sheave(w->model, p->station)) {
		write_sheave(w, p);
		return;
	}
	say(w, " = e^(mu theta), so mu = ln(");
	rn_buffer_fixed(&w->folio->line, ratio, 3);
	say(w, ") / ");
	rn_buffer_fixed(&w->folio->line, p->bend, 3);
	say(w, " = ");
	rn_buffer_fixed(&w->folio->line, log(ratio) / p->bend, 3);
	say(w, ". ");
}

/* The law of cosines, and what people carry in their heads. */
static void write_resultant(writer *w, const rn_pass_result *p)
{
	double larger = fmax(p->before, p->after), between = pi - p->bend;
	say(w, "The two parts have ");
	say_degrees(w, fabs(between));
	say(w, " between them and pull together with R = square root of (T1^2 + T2^2 + 2 T1 T2 cos(");
	say_degrees(w, fabs(between));
	say(w, ")) = ");
	say_force(w, resultant(p));
	say(w, ": halfway between them where both pull alike, else leaning to the harder one. Rule of thumb: ");
	if (fabs(between) < pi / 6) {
		say(w, "two parts side by side pull double: 2 x ");
		say_force(w, larger);
		say(w, " = ");
		say_force(w, 2 * larger);
	} else {
		say(w, "with the larger pull on both sides, 2 T cos(half of that) = ");
		say_force(w, 2 * larger * cos(between / 2));
	}
	say(w, ".");
}

static void write_bends(writer *w)
{
	for (int i = 0; i < w->answer->pass_count; i++) {
		const rn_pass_result *p = &w->answer->passes[i];
		if (!bends_here(w, p))
			continue;
		heading(w, "The bend: capstan and resultant");
		rn_words_part(&w->folio->line, w->model, rn_object_of(RN_LINE, p->line));
		say(w, " bends by theta = ");
		say_degrees(w, p->bend);
		say(w, " = ");
		rn_buffer_fixed(&w->folio->line, p->bend, 3);
		say(w, " rad; T1 = ");
		say_force(w, p->before);
		say(w, " before it and T2 = ");
		say_force(w, p->after);
		say(w, " after it. ");
		write_friction(w, p);
		write_resultant(w, p);
		end_paragraph(w);
	}
}

/* ---- legs --------------------------------------------------------------------------------------------- */

/* Legs less than this apart lie alike, and one less than this off level lies level, rad: by eye they do. */
static const double alike = 0.1;

/* A sling to the side asked for, up 1 or down -1; a level one is on both. */
static bool is_leg(const rn_arrow *f, double side)
{
	return f->member.kind == RN_SLING && f->other != RN_NONE && side * f->y > -alike * hypot(f->x, f->y);
}

static int legs_of(const writer *w, double side)
{
	int count = 0;
	for (int i = 0; i < w->arrows.count; i++)
		count += is_leg(&w->arrows.list[i], side);
	return count;
}

static bool legs_lie_alike(const writer *w, double side)
{
	double least = HUGE_VAL;
	double most = -HUGE_VAL;
	for (int i = 0; i < w->arrows.count; i++) {
		const rn_arrow *f = &w->arrows.list[i];
		if (!is_leg(f, side))
			continue;
		double off_plumb = atan2(f->x, side * f->y);
		least = fmin(least, off_plumb);
		most = fmax(most, off_plumb);
	}
	return most - least < alike;
}

/* What a leg carries for lying flat: 1 / cos of its angle off plumb. */
static void say_leg(writer *w, const rn_arrow *f)
{
	double size = hypot(f->x, f->y);
	double lift = fabs(f->y);
	rn_words_part(&w->folio->line, w->model, f->member);
	say(w, " pulls ");
	say_force(w, size);
	if (lift < alike * size) {
		say(w, " and lies level: it lifts next to nothing. ");
		return;
	}
	say(w, " and lifts ");
	say_force(w, lift);
	say(w, ": for each ");
	say(w, rn_words_force_unit(w->units));
	say(w, " it lifts it carries ");
	rn_buffer_fixed(&w->folio->line, size / lift, 3);
	say(w, ", 1 / cos of the ");
	say_degrees(w, acos(lift / size));
	say(w, " it lies off plumb. ");
}

/* The legs a node hangs in; else those that hang from it. */
static void write_legs(writer *w)
{
	double side = legs_of(w, 1) > 1 ? 1 : -1;
	if (legs_of(w, side) < 2)
		return;
	if (legs_lie_alike(w, side)) {
		heading(w, "How the legs share");
		say(w, "They lie alike, so the sums come out however they share: what one leaves the other takes. Length and stretch "
		       "decide, and no pencil does that quickly: the leg that comes tight first takes the load until it has "
		       "stretched as far as the other is longer. To make them share, load them and see that both are tight.");
	} else {
		heading(w, "Why the flat leg carries more");
		for (int i = 0; i < w->arrows.count; i++)
			if (is_leg(&w->arrows.list[i], side))
				say_leg(w, &w->arrows.list[i]);
		say(w, "Rule of thumb: at 60 deg off plumb a leg carries twice what it lifts, and at 90 deg nothing is lifted "
		       "however hard it is pulled.");
	}
	end_paragraph(w);
}

/* ---- what may be carried ------------------------------------------------------------------------------ */

static void write_part(writer *w, const rn_part_result *p)
{
	rn_words_part(&w->folio->line, w->model, p->object);
	say(w, ": ");
	if (p->unchecked != RN_CHECKED) {
		rn_words_force(&w->folio->line, p->demand, RN_UP, w->units);
		rn_buffer_format(&w->folio->line, ", not checked (%s).", rn_verdict_why(w->model, p));
		end_paragraph(w);
		return;
	}
	rn_words_limit(&w->folio->line, p, w->units);
	if (p->governed != RN_BY_WORKING_LOAD || p->factor_count > 0) {
		say(w, " = ");
		rn_words_force(&w->folio->line, p->limit, RN_DOWN, w->units);
	}
	say(w, "; ");
	rn_words_force(&w->folio->line, p->demand, RN_UP, w->units);
	say(w, " of that is ");
	rn_words_percent(&w->folio->line, p->utilisation);
	say(w, p->utilisation > 1 ? ": OVER." : ".");
	end_paragraph(w);
}

static bool is_here(const writer *w, const rn_part_result *p)
{
	bool own = p->object.kind == RN_NODE && p->object.index == w->node;
	return p->object.kind != RN_STEM && p->demand > rn_words_nothing && (own || p->at == w->node);
}

static void write_parts(writer *w)
{
	bool any = false;
	for (int i = 0; i < w->answer->part_count; i++) {
		if (!is_here(w, &w->answer->parts[i]))
			continue;
		if (!any)
			heading(w, "What may be carried: rating, less what is taken off");
		any = true;
		write_part(w, &w->answer->parts[i]);
	}
}

/* ---- the stem -------------------------------------------------------------------------------------------- */

static void say_stress(writer *w, double stress)
{
	rn_words_stress(&w->folio->line, stress, RN_UP, w->units);
}

/* Its section modulus and its area, in the unit its diameter is measured in. */
static void say_round(writer *w, const rn_stem_result *s)
{
	bool inches = w->units == RN_US, hollow = s->wall > 0;
	double per_unit = inches ? 0.0254 : 0.01, d = s->diameter / per_unit;
	double b = hollow ? d - 2 * s->wall / per_unit : 0;
	const char *unit = inches ? "in" : "cm";
	say(w, hollow ? ". A hollow round of d = " : ". A solid round of d = ");
	rn_buffer_fixed(&w->folio->line, d, 1);
	if (hollow) {
		rn_buffer_format(&w->folio->line, " %s, b = ", unit);
		rn_buffer_fixed(&w->folio->line, b, 1);
		rn_buffer_format(&w->folio->line, " %s within,", unit);
	} else {
		rn_buffer_format(&w->folio->line, " %s", unit);
	}
	say(w, hollow ? " has W = pi (d^4 - b^4) / (32 d) = " : " has W = pi d^3 / 32 = ");
	rn_buffer_fixed(&w->folio->line, pi * (pow(d, 4) - pow(b, 4)) / (32 * d), 0);
	rn_buffer_format(&w->folio->line, " %s3 and A = pi %s / 4 = ", unit, hollow ? "(d^2 - b^2)" : "d^2");
	rn_buffer_fixed(&w->folio->line, pi * (d * d - b * b) / 4, 0);
	rn_buffer_format(&w->folio->line, " %s2", unit);
}

static void write_stem(writer *w)
{
	int stem = w->model->nodes[w->node].stem;
	if (stem == RN_NONE || !w->answer->stems)
		return;
	const rn_stem_result *s = &w->answer->stems[stem];
	if (!(s->diameter > 0) || s->height < 0)
		return;
	heading(w, "The stem: a lever on its worst section");
	rn_words_object(&w->folio->line, w->model, rn_object_of(RN_STEM, stem));
	say(w, " is stressed most ");
	rn_words_stem_height(&w->folio->line, w->model, s, w->units);
	say(w, ". What pulls above bends it there with M = ");
	rn_words_moment(&w->folio->line, fabs(s->moment), RN_NEAREST, w->units);
	say(w, " and presses on it with N = ");
	say_force(w, s->axial);
	say_round(w, s);
	say(w, ". Pressed side: N / A + M / W = ");
	say_stress(w, s->compression);
	say(w, "; drawn side: M / W - N / A = ");
	say_stress(w, s->tension);
	if (s->growth > 1.001) {
		say(w, ", with M grown by ");
		rn_buffer_fixed(&w->folio->line, s->growth, 3);
		say(w, " because the stem is on its way to buckling");
	}
	say(w, ". ");
	if (s->unchecked == RN_CHECKED) {
		rn_words_stem_limit(&w->folio->line, s, w->units);
		say(w, " is ");
		rn_words_percent(&w->folio->line, s->utilisation);
		say(w, s->utilisation > 1 ? ": OVER." : ".");
	} else {
		rn_buffer_format(&w->folio->line, "Not checked (%s).", rn_words_unchecked(s->unchecked));
	}
	end_paragraph(w);
}

/* ---- all of it ------------------------------------------------------------------------------------------- */

static void write_glossary(writer *w)
{
	static const char *const words[] = {
		"pull of a rope, tension, T", "pull on an anchor, reaction, R", "bend round a ring, angle of wrap, theta",
		"grip of a ring or drum, coefficient of friction, mu", "share of the limit, utilisation, demand / limit",
		"lever, moment of a force about a point, M", "push along the stem, axial force, N",
	};
	heading(w, "Words: as said on the job, as in the book, the symbol");
	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		say(w, i ? "; " : "");
		say(w, words[i]);
	}
	say(w, ".");
	end_paragraph(w);
}

static void say_subject(writer *w)
{
	say(w, "The working at ");
	rn_words_part(&w->folio->line, w->model, rn_object_of(RN_NODE, w->node));
	say(w, ", case ");
	rn_words_object(&w->folio->line, w->model, rn_object_of(RN_CASE, w->answer->case_index));
	say(w, rn_arrows_caught(&w->arrows) ? ", at the peak of the catch" : "");
}

static void write_head(writer *w)
{
	say_subject(w);
	say(w, ". ");
	if (w->model->title) {
		rn_words_plain(&w->folio->line, w->model->title);
		say(w, ".");
	}
	end_paragraph(w);
	say(w, "Take a pencil and add it up: forces to the nearest figure here, rounded up where they are worked to.");
	end_paragraph(w);
}

static void write_working(writer *w)
{
	write_free_body(w);
	write_bends(w);
	write_legs(w);
	write_parts(w);
	write_stem(w);
}

/* A page of its own has a head, words and cautions; the part of a report has them elsewhere. */
static void write_all(writer *w, bool is_whole)
{
	if (!is_whole) {
		write_working(w);
		return;
	}
	say_subject(w);
	w->folio->title = rn_folio_keep(w->folio);
	write_head(w);
	write_working(w);
	if (w->arrows.count > 1) {
		say(w, "The force polygon of ");
		rn_words_part(&w->folio->line, w->model, rn_object_of(RN_NODE, w->node));
		say(w, ", to scale: the same sums with a ruler.");
		rn_folio_figure(w->folio, RN_VIEW_POLYGON, (int)(w->answer - w->result->cases), w->node);
	}
	write_glossary(w);
	heading(w, "Cautions");
	rn_cautions_words(&w->folio->line, w->model);
	end_paragraph(w);
}

static double pull_at(const rn_part_result *part)
{
	return part->at == RN_NONE ? -1 : part->demand;
}

int rn_explain_node(const rn_case_result *answer, int closest_part)
{
	if (closest_part != RN_NONE && answer->parts[closest_part].at != RN_NONE)
		return answer->parts[closest_part].at;
	int best = RN_NONE;
	for (int i = 0; i < answer->part_count; i++)
		if (best == RN_NONE || pull_at(&answer->parts[i]) > pull_at(&answer->parts[best]))
			best = i;
	return best == RN_NONE || answer->parts[best].at == RN_NONE ? 0 : answer->parts[best].at;
}

static rn_status explain(rn_folio *folio, const rn_result *result, int index, int node, rn_units units, bool is_whole)
{
	const rn_case_result *answer = &result->cases[index];
	RN_TRY(rn_finite_check(result));
	if (!rn_verdict_has_answer(answer) || node < 0 || node >= result->model->node_count)
		return RN_STATUS_ARGUMENT;
	double *values = rn_pool_take(&folio->pool, (size_t)result->model->number_count + 1, sizeof *values);
	if (!values)
		return RN_STATUS_MEMORY;
	rn_case_values(result->model, &result->model->cases[answer->case_index], values);
	writer w = {.folio = folio, .result = result, .model = result->model, .answer = answer, .node = node,
	            .units = units, .level = is_whole ? 1 : 2,
	            .arrows = rn_arrows_at(result->model, answer, values, node)};
	write_all(&w, is_whole);
	return rn_folio_status(folio);
}

rn_status rn_explain_folio(rn_folio *folio, const rn_result *result, int index, int node, rn_units units)
{
	return explain(folio, result, index, node, units, true);
}

rn_status rn_explain_part(rn_folio *folio, const rn_result *result, int index, int node, rn_units units)
{
	return explain(folio, result, index, node, units, false);
}

rn_status rn_explain_text(rn_buffer *buffer, const rn_result *result, int index, int node, rn_units units)
{
	rn_folio folio = rn_folio_make(&buffer->allocator);
	rn_status status = rn_explain_folio(&folio, result, index, node, units);
	if (status == RN_OK)
		status = rn_folio_text(buffer, &folio);
	rn_folio_release(&folio);
	return status;
}
