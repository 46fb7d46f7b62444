/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The answer for other programs: one function for each kind of thing in it, in the order they are
 * told.
 */
#include "io/report/answer.h"

#include <math.h>

#include "io/report/catches.h"
#include "io/report/caught.h"
#include "io/report/finite.h"
#include "io/report/losses.h"
#include "io/report/matters.h"
#include "io/report/ranges.h"
#include "io/report/verdict.h"

static const double degrees_per_radian = 180 / 3.14159265358979323846;

typedef struct writer {
	rn_teller t;
	const rn_result *result;
	const rn_model *model;
} writer;

/* ---- values ---------------------------------------------------------------------------------- */

static void put_object(writer *w, const char *key, rn_object object)
{
	rn_tell_object(&w->t, key, object);
}

static void put_node(writer *w, const char *key, int node)
{
	rn_tell_node(&w->t, key, node);
}

static void put_number(writer *w, const char *key, double value)
{
	rn_stream_number(w->t.stream, key, value);
}

static void put_text(writer *w, const char *key, const char *text)
{
	rn_stream_text(w->t.stream, key, text);
}

static void put_null(writer *w, const char *key)
{
	rn_stream_null(w->t.stream, key);
}

/* An angle in degrees, in (-180, 180]. */
static void put_direction(writer *w, double angle)
{
	double degrees = fmod(angle * degrees_per_radian, 360);
	if (degrees > 180)
		degrees -= 360;
	else if (degrees <= -180)
		degrees += 360;
	put_number(w, "direction_deg", degrees);
}

/* Size and direction of a force; the direction of no force is null. */
static void put_force(writer *w, const double force[2])
{
	double size = hypot(force[0], force[1]);
	put_number(w, "force_N", size);
	if (size > 0)
		put_direction(w, atan2(force[1], force[0]));
	else
		put_null(w, "direction_deg");
}

static void open_list(writer *w, const char *key)
{
	rn_tell_list(&w->t, key);
}

static void close_list(writer *w)
{
	rn_tell_list_end(&w->t);
}

static void open_object(writer *w, const char *key)
{
	rn_tell_open(&w->t, key);
}

static void close_object(writer *w)
{
	rn_tell_close(&w->t);
}

/* ---- one case -------------------------------------------------------------------------------- */

static void put_nodes(writer *w, const rn_case_result *c)
{
	open_list(w, "nodes");
	for (int i = 0; c->nodes && i < w->model->node_count; i++) {
		const rn_node_result *n = &c->nodes[i];
		open_object(w, NULL);
		put_node(w, "id", i);
		put_number(w, "x_m", n->place[0]);
		put_number(w, "y_m", n->place[1]);
		put_number(w, "moved_m",
		           hypot(n->place[0] - n->drawn[0], n->place[1] - n->drawn[1]));
		close_object(w);
	}
	close_list(w);
}

/* What balance alone allows; null where it sets no limit. */
static void put_range(writer *w, const rn_span_result *s)
{
	if (s->open_below)
		put_null(w, "least_N");
	else
		put_number(w, "least_N", s->tension_least);
	if (s->open_above)
		put_null(w, "most_N");
	else
		put_number(w, "most_N", s->tension_most);
}

static void put_spans(writer *w, const rn_case_result *c)
{
	open_list(w, "spans");
	for (int i = 0; i < c->span_count; i++) {
		const rn_span_result *s = &c->spans[i];
		open_object(w, NULL);
		put_object(w, "member", s->member);
		rn_stream_whole(w->t.stream, "index", s->index);
		put_node(w, "from", s->from);
		put_node(w, "to", s->to);
		put_number(w, "tension_N", s->tension);
		put_number(w, "length_m", s->length);
		put_direction(w, s->heading);
		if (s->certified >= 0)
			put_number(w, "certified_N", s->certified);
		if (s->has_range)
			put_range(w, s);
		close_object(w);
	}
	close_list(w);
}

static void put_passes(writer *w, const rn_case_result *c)
{
	open_list(w, "passes");
	for (int i = 0; i < c->pass_count; i++) {
		const rn_pass_result *p = &c->passes[i];
		open_object(w, NULL);
		put_object(w, "line", rn_object_of(RN_LINE, p->line));
		rn_stream_whole(w->t.stream, "index",
		                     p->station - w->model->lines[p->line].first_station);
		put_node(w, "at", p->node);
		put_number(w, "bend_deg", p->bend * degrees_per_radian);
		put_number(w, "before_N", p->before);
		put_number(w, "after_N", p->after);
		put_force(w, p->force);
		close_object(w);
	}
	close_list(w);
}

static bool by_bollard(const writer *w, const rn_hold_result *h)
{
	return w->model->nodes[h->node].kind == RN_NODE_BOLLARD;
}

static void put_holds(writer *w, const rn_case_result *c)
{
	open_list(w, "holds");
	for (int i = 0; i < c->hold_count; i++) {
		const rn_hold_result *h = &c->holds[i];
		if (!by_bollard(w, h))
			continue;
		open_object(w, NULL);
		put_object(w, "line", rn_object_of(RN_LINE, h->line));
		put_node(w, "at", h->node);
		put_number(w, "turns", h->turns);
		put_number(w, "hand_least_N", h->hand_least);
		put_number(w, "hand_most_N", h->hand_most);
		close_object(w);
	}
	close_list(w);
}

/* The last span of a held line, or the first if it is held at its beginning. */
static const rn_span_result *held_span(const writer *w, const rn_case_result *c,
                                       const rn_hold_result *h)
{
	const rn_line *line = &w->model->lines[h->line];
	int index = h->station == line->first_station ? 0 : line->station_count - 2;
	for (int i = 0; i < c->span_count; i++)
		if (c->spans[i].member.kind == RN_LINE && c->spans[i].member.index == h->line &&
		    c->spans[i].index == index)
			return &c->spans[i];
	return NULL;
}

/* The hand pulls along its rope, away from the rigging. */
static void put_hands(writer *w, const rn_case_result *c)
{
	open_list(w, "hands");
	for (int i = 0; i < c->hold_count; i++) {
		const rn_hold_result *h = &c->holds[i];
		const rn_span_result *span = held_span(w, c, h);
		if (by_bollard(w, h) || !span)
			continue;
		bool first = h->station == w->model->lines[h->line].first_station;
		double turned = first ? 180 / degrees_per_radian : 0;
		open_object(w, NULL);
		put_object(w, "line", rn_object_of(RN_LINE, h->line));
		put_node(w, "at", h->node);
		put_number(w, "force_N", h->hand_most);
		put_direction(w, span->heading + turned);
		close_object(w);
	}
	close_list(w);
}

static void put_anchors(writer *w, const rn_case_result *c)
{
	open_list(w, "anchors");
	for (int i = 0; c->nodes && i < w->model->node_count; i++) {
		if (!rn_node_is_fixed(&w->model->nodes[i]))
			continue;
		open_object(w, NULL);
		put_node(w, "id", i);
		put_force(w, c->nodes[i].pull);
		close_object(w);
	}
	close_list(w);
}

static const char *const governed[] = {
	[RN_BY_NOTHING] = NULL,          [RN_BY_WORKING_LOAD] = "working-load", [RN_BY_STRENGTH] = "strength",
	[RN_BY_CRUSHING] = "crushing",   [RN_BY_BENDING] = "bending",           [RN_BY_BUCKLING] = "buckling",
};

/* Null where it is not known. */
static void put_known(writer *w, const char *key, double value)
{
	if (value > 0)
		put_number(w, key, value);
	else
		put_null(w, key);
}

static bool is_part(const rn_case_result *c, rn_object object)
{
	for (int i = 0; i < c->part_count; i++)
		if (c->parts[i].object.kind == object.kind && c->parts[i].object.index == object.index)
			return true;
	return false;
}

static void put_stem(writer *w, const rn_stem_result *s)
{
	bool checked = s->unchecked == RN_CHECKED;
	open_object(w, NULL);
	put_object(w, "id", rn_object_of(RN_STEM, s->stem));
	put_number(w, "height_m", s->height);
	put_number(w, "diameter_m", s->diameter);
	put_number(w, "moment_Nm", s->moment);
	put_number(w, "axial_N", s->axial);
	put_number(w, "shear_N", s->shear);
	put_number(w, "stress_Pa", s->compression);
	put_number(w, "tension_Pa", s->tension);
	put_known(w, "compression_strength_Pa", s->compression_strength);
	put_known(w, "bending_strength_Pa", s->bending_strength);
	put_number(w, "buckling", s->buckling);
	put_number(w, "growth", s->growth);
	put_number(w, "pull_N", s->pull);
	put_number(w, "top_direction_deg", s->pull_direction * degrees_per_radian);
	if (checked)
		put_number(w, "utilisation", s->utilisation);
	else
		put_null(w, "utilisation");
	put_text(w, "governed_by", governed[s->governed]);
	put_text(w, "not_checked", checked ? NULL : rn_words_unchecked(s->unchecked));
	close_object(w);
}

/* Stems that the rigging is on. */
static void put_stems(writer *w, const rn_case_result *c)
{
	open_list(w, "stems");
	for (int i = 0; c->stems && i < w->model->stem_count; i++)
		if (is_part(c, rn_object_of(RN_STEM, i)))
			put_stem(w, &c->stems[i]);
	close_list(w);
}

static void put_hitch(writer *w, const rn_hitch_result *h)
{
	open_object(w, NULL);
	put_object(w, "sling", rn_object_of(RN_SLING, h->sling));
	put_object(w, "stem", rn_object_of(RN_STEM, h->stem));
	put_text(w, "hitch", rn_hitch_text(h->hitch));
	put_known(w, "girth_m", h->girth);
	put_known(w, "bend_ratio", h->bend_ratio);
	put_number(w, "round_stem_m", h->taken);
	put_number(w, "reach_m", h->reach);
	put_known(w, "made_m", h->made);
	if (h->made > 0)
		put_number(w, "left_m", h->left);
	else
		put_null(w, "left_m");
	put_number(w, "needed_m", h->needed);
	if (h->angle > 0)
		put_number(w, "angle_deg", h->angle * degrees_per_radian);
	else
		put_null(w, "angle_deg");
	put_known(w, "spread_m", h->spread);
	rn_stream_bool(w->t.stream, "too_short", h->too_short);
	close_object(w);
}

static void put_hitches(writer *w, const rn_case_result *c)
{
	open_list(w, "hitches");
	for (int i = 0; i < c->hitch_count; i++)
		put_hitch(w, &c->hitches[i]);
	close_list(w);
}

static void put_limit(writer *w, const rn_part_result *p)
{
	bool stem = p->object.kind == RN_STEM; /* has a utilisation, but no one pull that is its limit */
	put_known(w, "breaking_N", stem ? 0 : p->breaking);
	if (p->unchecked == RN_CHECKED) {
		put_known(w, "limit_N", stem ? 0 : p->limit);
		put_number(w, "utilisation", p->utilisation);
		put_text(w, "governed_by", governed[p->governed]);
		put_null(w, "not_checked");
	} else {
		put_null(w, "limit_N");
		put_null(w, "utilisation");
		put_null(w, "governed_by");
		put_text(w, "not_checked", rn_verdict_why(w->model, p));
	}
}

static void put_parts(writer *w, const rn_case_result *c)
{
	open_list(w, "parts");
	for (int i = 0; i < c->part_count; i++) {
		const rn_part_result *p = &c->parts[i];
		open_object(w, NULL);
		put_object(w, "id", p->object);
		rn_tell_kind(&w->t, p->object);
		put_node(w, "at", p->at);
		put_number(w, "demand_N", p->demand);
		put_limit(w, p);
		rn_tell_factors(&w->t, p);
		close_object(w);
	}
	close_list(w);
}

static void put_contacts(writer *w, const rn_case_result *c)
{
	open_list(w, "contacts");
	for (int i = 0; i < c->contact_count; i++) {
		open_object(w, NULL);
		put_node(w, "a", c->contacts[i].a);
		put_node(w, "b", c->contacts[i].b);
		put_number(w, "push_N", c->contacts[i].push);
		close_object(w);
	}
	close_list(w);
}

static void put_balance(writer *w, const rn_case_result *c)
{
	open_object(w, "balance");
	put_number(w, "worst_residual_N", c->balance.worst);
	put_number(w, "relative", c->balance.relative);
	put_number(w, "moment_Nm", c->balance.moment);
	rn_stream_bool(w->t.stream, "closed", c->balance.closed);
	close_object(w);
}

/* Of a case that did not settle only places and notes are worth having: forces that balance
 * nothing are no answer. */
static void put_answer(writer *w, const rn_case_result *c)
{
	static const rn_case_result nothing;
	const rn_case_result *told = rn_verdict_has_answer(c) ? c : &nothing;
	put_spans(w, told);
	put_passes(w, told);
	put_holds(w, told);
	put_hands(w, told);
	put_anchors(w, told);
	put_stems(w, told);
	put_hitches(w, told);
	put_parts(w, told);
	put_contacts(w, told);
}

static void put_case(writer *w, const rn_case_result *c)
{
	open_object(w, NULL);
	put_object(w, "id", rn_object_of(RN_CASE, c->case_index));
	put_text(w, "title", w->model->cases[c->case_index].title);
	put_text(w, "outcome", rn_outcome_text(c->outcome));
	put_nodes(w, c);
	put_answer(w, c);
	put_balance(w, c);
	rn_caught_tell(&w->t, c);
	rn_stream_bool(w->t.stream, "falls", c->falls);
	rn_stream_whole(w->t.stream, "steps", c->info.steps);
	open_list(w, "notes");
	rn_tell_notes(&w->t, &c->notes);
	close_list(w);
	close_object(w);
}

static void put_worst(writer *w)
{
	const rn_part_result *p = rn_verdict_worst(w->result);
	if (!p) {
		put_null(w, "worst");
		return;
	}
	const rn_case_result *c = &w->result->cases[w->result->verdict.worst_case];
	open_object(w, "worst");
	put_object(w, "part", p->object);
	rn_tell_kind(&w->t, p->object);
	put_object(w, "case", rn_object_of(RN_CASE, c->case_index));
	put_number(w, "utilisation", p->utilisation);
	close_object(w);
}

static void put_all(writer *w, const rn_answer_options *options)
{
	open_object(w, NULL);
	rn_tell_head(&w->t, options);
	if (options && options->without)
		put_text(w, "without", options->without);
	rn_tell_verdict(&w->t, w->result);
	rn_tell_guessed(&w->t);
	rn_tell_cautions(&w->t);
	rn_tell_members(&w->t);
	open_list(w, "cases");
	for (int i = 0; i < w->result->case_count; i++)
		put_case(w, &w->result->cases[i]);
	close_list(w);
	if (options && options->ranges)
		rn_ranges_tell(&w->t, options->ranges, options->range_count);
	if (options && options->losses)
		rn_losses_tell(&w->t, w->result, options->losses);
	if (options && options->matters)
		rn_matters_tell(&w->t, w->result, options->matters);
	if (options && options->let_runs)
		rn_let_runs_tell(&w->t, options->let_runs, options->catch_count);
	if (options && options->comparisons)
		rn_comparisons_tell(&w->t, options->comparisons, options->catch_count);
	put_worst(w);
	close_object(w);
}

rn_status rn_answer_tell(rn_stream *stream, const rn_result *result,
                         const rn_answer_options *options)
{
	RN_TRY(rn_finite_check(result));
	writer w = {.t = rn_teller_make(stream, result->model, options),
	            .result = result,
	            .model = result->model};
	put_all(&w, options);
	return rn_teller_end(&w.t);
}
