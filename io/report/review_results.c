/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What came out: parts the worst first, pulls with their directions, what was taken off by which source, how well it
 * all closes.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "io/report/remarks.h"
#include "io/report/reviewer.h"
#include "io/report/verdict.h"

static const double pi = 3.14159265358979323846;

static void cell_force(rn_reviewer *w, double force, rn_rounding rounding)
{
	rn_words_force(w->line, force, rounding, w->units);
	rn_folio_cell(w->folio);
}

static void cell_object(rn_reviewer *w, rn_object object)
{
	rn_reviewer_say_object(w, object);
	rn_folio_cell(w->folio);
}

static void cell_node(rn_reviewer *w, int node)
{
	if (node != RN_NONE)
		rn_reviewer_say_node(w, node);
	rn_folio_cell(w->folio);
}

static void cell_degrees(rn_reviewer *w, double angle)
{
	rn_buffer_fixed(w->line, angle * 180 / pi, 1);
	rn_folio_cell(w->folio);
}

/* What the tables below are of: "Case raising". */
static void case_head(rn_reviewer *w, int c)
{
	const rn_case *own = &w->model->cases[w->result->cases[c].case_index];
	rn_reviewer_say(w, "Case ");
	rn_reviewer_say_case(w, c);
	if (own->title) {
		rn_reviewer_say(w, ": ");
		rn_words_plain(w->line, own->title);
	}
	rn_reviewer_section(w, "");
}

/* Where a chapter would be empty. */
static void say_no_answer(rn_reviewer *w)
{
	if (rn_reviewer_next_case(w, RN_NONE) == RN_NONE)
		rn_reviewer_paragraph(w, "No case has an answer: chapter \"warnings\" says why.");
}

/* ---- parts ------------------------------------------------------------------------------------------- */

/* Those that are checked by their share, then the others by their load. */
static int compare_parts(const void *left, const void *right)
{
	const rn_part_result *a = *(const rn_part_result *const *)left, *b = *(const rn_part_result *const *)right;
	bool checked = a->unchecked == RN_CHECKED, other = b->unchecked == RN_CHECKED;
	if (checked != other)
		return checked ? -1 : 1;
	double x = checked ? a->utilisation : a->demand, y = checked ? b->utilisation : b->demand;
	if (x > y || x < y)
		return x > y ? -1 : 1;
	return (a > b) - (a < b);
}

static void say_limit(rn_reviewer *w, const rn_case_result *c, const rn_part_result *p)
{
	if (p->unchecked != RN_CHECKED)
		rn_buffer_format(w->line, "NOT CHECKED: %s", rn_verdict_why(w->model, p));
	else if (p->object.kind == RN_STEM)
		rn_words_stem_limit(w->line, &c->stems[p->object.index], w->units);
	else
		rn_words_limit(w->line, p, w->units);
}

static void part_row(rn_reviewer *w, const rn_case_result *c, const rn_part_result *p)
{
	bool checked = p->unchecked == RN_CHECKED, stem = p->object.kind == RN_STEM;
	rn_words_part(w->line, w->model, p->object);
	bool elsewhere = p->at != RN_NONE && !(p->object.kind == RN_NODE && p->object.index == p->at);
	if (elsewhere && !stem) {
		rn_reviewer_say(w, " at ");
		rn_reviewer_say_node(w, p->at);
	} else if (stem && c->stems[p->object.index].diameter > 0) {
		rn_reviewer_say(w, ", ");
		rn_words_stem_height(w->line, w->model, &c->stems[p->object.index], w->units);
	}
	rn_folio_cell(w->folio);
	if (!stem)
		rn_words_force(w->line, p->demand, RN_UP, w->units);
	rn_folio_cell(w->folio);
	if (checked && !stem)
		rn_words_force(w->line, p->limit, RN_DOWN, w->units);
	rn_folio_cell(w->folio);
	if (checked)
		rn_words_percent(w->line, p->utilisation);
	rn_reviewer_say(w, checked && rn_verdict_is_over(p) ? " OVER" : "");
	rn_folio_cell(w->folio);
	say_limit(w, c, p);
	rn_folio_cell(w->folio);
}

static void parts_of_case(rn_reviewer *w, int c)
{
	static const rn_columns columns = {
		.count = 5,
		.heads = {"part, and where it is worst", "carries", "limit", "share", "how the limit is made"},
		.weights = {0.25, 0.11, 0.11, 0.13, 0.40},
		.to_the_right = {false, true, true, true, false},
	};
	const rn_case_result *answer = &w->result->cases[c];
	const rn_part_result **order = rn_pool_take(&w->folio->pool, (size_t)answer->part_count + 1, sizeof *order);
	if (!order)
		return;
	for (int i = 0; i < answer->part_count; i++)
		order[i] = &answer->parts[i];
	qsort(order, (size_t)answer->part_count, sizeof *order, compare_parts);
	case_head(w, c);
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < answer->part_count; i++)
		part_row(w, answer, order[i]);
	rn_folio_table_end(w->folio);
}

void rn_reviewer_parts(rn_reviewer *w)
{
	rn_reviewer_chapter(w, "What every part carries, the worst first");
	for (int c = rn_reviewer_next_case(w, RN_NONE); c != RN_NONE; c = rn_reviewer_next_case(w, c))
		parts_of_case(w, c);
	say_no_answer(w);
	rn_reviewer_paragraph(w, "Loads and shares are rounded up, limits down, to three figures; OVER is decided before "
	                         "rounding.");
}

/* ---- pulls ------------------------------------------------------------------------------------------- */

static void spans_of(rn_reviewer *w, const rn_case_result *answer)
{
	static const rn_columns columns = {
		.count = 5,
		.heads = {"rope, sling or prop", "from", "to", "pull", "length"},
		.weights = {0.24, 0.24, 0.24, 0.16, 0.12},
		.to_the_right = {false, false, false, true, true},
	};
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < answer->span_count; i++) {
		const rn_span_result *s = &answer->spans[i];
		rn_words_part(w->line, w->model, s->member);
		rn_folio_cell(w->folio);
		cell_node(w, s->from);
		cell_node(w, s->to);
		if (s->member.kind != RN_PROP && s->tension <= rn_words_nothing)
			rn_reviewer_say(w, "slack");
		else
			rn_words_force(w->line, fabs(s->tension), RN_UP, w->units);
		rn_reviewer_cell(w, s->tension < -rn_words_nothing ? " push" : "");
		rn_words_length(w->line, s->length, RN_NEAREST, w->units);
		rn_folio_cell(w->folio);
	}
	rn_folio_table_end(w->folio);
}

static void bends_of(rn_reviewer *w, const rn_case_result *answer)
{
	static const rn_columns columns = {
		.count = 7,
		.heads = {"bend", "at", "bent deg", "before", "after", "pulls it with", "which way"},
		.weights = {0.11, 0.11, 0.11, 0.13, 0.13, 0.15, 0.26},
		.to_the_right = {false, false, true, true, true, true, false},
	};
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < answer->pass_count; i++) {
		const rn_pass_result *p = &answer->passes[i];
		if (p->lifted)
			continue;
		cell_object(w, rn_object_of(RN_LINE, p->line));
		cell_node(w, p->node);
		cell_degrees(w, p->bend);
		cell_force(w, p->before, RN_UP);
		cell_force(w, p->after, RN_UP);
		cell_force(w, hypot(p->force[0], p->force[1]), RN_UP);
		if (hypot(p->force[0], p->force[1]) > rn_words_nothing)
			rn_words_direction(w->line, p->force, RN_POINT_FULL);
		rn_folio_cell(w->folio);
	}
	rn_folio_table_end(w->folio);
}

static void anchors_of(rn_reviewer *w, const rn_case_result *answer)
{
	static const rn_columns columns = {
		.count = 4,
		.heads = {"anchor", "on", "is pulled with", "which way"},
		.weights = {0.22, 0.20, 0.18, 0.40},
		.to_the_right = {false, false, true, false},
	};
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < w->model->node_count; i++) {
		const double *pull = answer->nodes[i].pull;
		double size = hypot(pull[0], pull[1]);
		if (!rn_node_is_fixed(&w->model->nodes[i]) || size <= rn_words_nothing)
			continue;
		rn_words_part(w->line, w->model, rn_object_of(RN_NODE, i));
		rn_folio_cell(w->folio);
		if (w->model->nodes[i].stem != RN_NONE)
			rn_reviewer_say_object(w, rn_object_of(RN_STEM, w->model->nodes[i].stem));
		rn_folio_cell(w->folio);
		cell_force(w, size, RN_UP);
		rn_words_direction(w->line, pull, RN_POINT_FULL);
		rn_folio_cell(w->folio);
	}
	rn_folio_table_end(w->folio);
}

static void stems_of(rn_reviewer *w, const rn_case_result *answer)
{
	static const rn_columns columns = {
		.count = 7,
		.heads = {"stem", "worst section", "push N", "shear V", "moment M", "pressed side", "drawn side"},
		.weights = {0.13, 0.15, 0.13, 0.13, 0.17, 0.145, 0.145},
		.to_the_right = {false, false, true, true, true, true, true},
	};
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < w->model->stem_count; i++) {
		const rn_stem_result *s = &answer->stems[i];
		if (!(s->diameter > 0) || s->pull <= rn_words_nothing)
			continue;
		cell_object(w, rn_object_of(RN_STEM, i));
		rn_words_stem_height(w->line, w->model, s, w->units);
		rn_folio_cell(w->folio);
		cell_force(w, fabs(s->axial), RN_UP);
		cell_force(w, fabs(s->shear), RN_UP);
		rn_words_moment(w->line, fabs(s->moment), RN_UP, w->units);
		rn_folio_cell(w->folio);
		rn_words_stress(w->line, s->compression, RN_UP, w->units);
		rn_folio_cell(w->folio);
		rn_words_stress(w->line, s->tension, RN_UP, w->units);
		rn_folio_cell(w->folio);
	}
	rn_folio_table_end(w->folio);
}

void rn_reviewer_pulls(rn_reviewer *w)
{
	rn_reviewer_chapter(w, "Pulls: every rope, every bend, every anchor, every stem");
	for (int c = rn_reviewer_next_case(w, RN_NONE); c != RN_NONE; c = rn_reviewer_next_case(w, c)) {
		const rn_case_result *answer = &w->result->cases[c];
		case_head(w, c);
		spans_of(w, answer);
		bends_of(w, answer);
		anchors_of(w, answer);
		if (answer->stems)
			stems_of(w, answer);
	}
	say_no_answer(w);
	rn_remarks_stand_clear(w->line, w->result, w->shown, w->units);
	rn_reviewer_paragraph(w, "");
}

/* ---- what was taken off ---------------------------------------------------------------------------------- */

static bool same_factor(const rn_part_result *a, int f, const rn_part_result *b, int g)
{
	const rn_factor *x = &a->factors[f], *y = &b->factors[g];
	bool same_place = a->object.kind == b->object.kind && a->object.index == b->object.index && a->at == b->at;
	return same_place && x->kind == y->kind && fabs(x->value - y->value) < 1e-12;
}

/* Whether a case before this one has said it. */
static bool said_before(const rn_reviewer *w, int c, int part, int factor)
{
	for (int i = rn_reviewer_next_case(w, RN_NONE); i != RN_NONE && i < c; i = rn_reviewer_next_case(w, i)) {
		const rn_part_result *p = &w->result->cases[i].parts[part];
		for (int k = 0; k < p->factor_count; k++)
			if (same_factor(p, k, &w->result->cases[c].parts[part], factor))
				return true;
	}
	return false;
}

static void factor_row(rn_reviewer *w, int c, const rn_part_result *p, const rn_factor *factor)
{
	rn_words_part(w->line, w->model, p->object);
	if (p->object.kind != RN_NODE && p->at != RN_NONE) {
		rn_reviewer_say(w, " at ");
		rn_reviewer_say_node(w, p->at);
	}
	rn_folio_cell(w->folio);
	rn_reviewer_say_case(w, c);
	rn_folio_cell(w->folio);
	rn_words_factor(w->line, factor);
	rn_folio_cell(w->folio);
	rn_reviewer_cell(w, factor->source ? factor->source : "given in the model");
}

void rn_reviewer_factors(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 4,
		.heads = {"part", "case", "its limit is multiplied by", "source"},
		.weights = {0.22, 0.13, 0.27, 0.38},
	};
	rn_reviewer_chapter(w, "What is taken off ratings, and by which source");
	rn_folio_table(w->folio, &columns);
	for (int c = rn_reviewer_next_case(w, RN_NONE); c != RN_NONE; c = rn_reviewer_next_case(w, c))
		for (int i = 0; i < w->result->cases[c].part_count; i++) {
			const rn_part_result *p = &w->result->cases[c].parts[i];
			for (int k = 0; k < p->factor_count; k++)
				if (!said_before(w, c, i, k))
					factor_row(w, c, p, &p->factors[k]);
		}
	rn_folio_table_end(w->folio);
	rn_reviewer_paragraph(w, "Where the part is worst in that case; said once where cases agree. A factor belongs to a place: "
	                         "knot, bend and hitch count where they are, wear and wet everywhere. The maker's own figures "
	                         "go before those of the tables.");
}

/* ---- how well it closes ------------------------------------------------------------------------------------ */

/* "3.1e-11": what is left of a difference is only worth its size. */
static void say_power(rn_reviewer *w, double value)
{
	int exponent = value > 0 ? (int)floor(log10(value)) : 0;
	if (value > 0 && (exponent < -3 || exponent > 5)) {
		rn_buffer_fixed(w->line, value / pow(10, exponent), 1);
		rn_buffer_format(w->line, "e%d", exponent);
	} else {
		rn_words_number(w->line, value);
	}
}

static void say_small(rn_reviewer *w, double force)
{
	say_power(w, w->units == RN_US ? force / 4.4482216152605 : force);
	rn_reviewer_cell(w, w->units == RN_US ? " lbf" : " N");
}

static double certified_most(const rn_case_result *c)
{
	double most = -1;
	for (int i = 0; i < c->span_count; i++)
		most = fmax(most, c->spans[i].certified);
	return most;
}

void rn_reviewer_checks(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 6,
		.heads = {"case", "outcome", "left over at a node", "of the largest pull", "second method", "steps"},
		.weights = {0.17, 0.15, 0.20, 0.19, 0.20, 0.09},
		.to_the_right = {false, false, true, true, true, true},
	};
	rn_reviewer_chapter(w, "Checks of the calculation itself");
	rn_folio_table(w->folio, &columns);
	for (int c = 0; c < w->result->case_count; c++) {
		const rn_case_result *r = &w->result->cases[c];
		bool has = rn_verdict_has_answer(r);
		rn_reviewer_say_case(w, c);
		rn_folio_cell(w->folio);
		rn_reviewer_say(w, rn_outcome_text(r->outcome));
		rn_reviewer_cell(w, has && !r->balance.closed ? ", DOES NOT CLOSE" : "");
		if (has)
			say_small(w, r->balance.worst);
		else
			rn_reviewer_cell(w, "");
		if (has)
			say_power(w, r->balance.relative);
		rn_folio_cell(w->folio);
		if (has && certified_most(r) >= 0)
			say_small(w, certified_most(r));
		else
			rn_reviewer_cell(w, "none");
		rn_buffer_format(w->line, "%d", r->info.steps);
		rn_folio_cell(w->folio);
	}
	rn_folio_table_end(w->folio);
	rn_reviewer_paragraph(w, "Left over: forces at every node that may move, and the moment of the whole, are added up "
	                         "from the answer alone by a sum that shares nothing with the way it was found; a case closes "
	                         "when nothing is left but rounding. Second method: where there is no friction, the energy is "
	                         "bounded from below as well, and every pull lies within so much of the true one; none: with "
	                         "friction there is no such bound.");
	rn_remarks_open_balance(w->line, w->result, w->units);
	rn_folio_block(w->folio, RN_BLOCK_STRONG);
}
