/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/check.h"

#include "io/report/runs.h"
#include "io/report/verdict.h"

/* ---- what there is --------------------------------------------------------------------------- */

static void tell_count(rn_teller *t, const char *kind, int count)
{
	rn_tell_open(t, NULL);
	rn_stream_text(t->stream, "kind", kind);
	rn_stream_whole(t->stream, "count", count);
	rn_tell_close(t);
}

static int nodes_of_kind(const rn_model *m, rn_node_kind kind)
{
	int count = 0;
	for (int i = 0; i < m->node_count; i++)
		count += m->nodes[i].kind == kind;
	return count;
}

static void tell_counts(rn_teller *t)
{
	static const char *const kinds[] = {
#define X(name, word) word,
		RN_NODE_KIND_LIST(X)
#undef X
	};
	const rn_model *m = t->model;
	tell_count(t, "item", m->item_count);
	tell_count(t, "stem", m->stem_count);
	for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
		tell_count(t, kinds[i], nodes_of_kind(m, (rn_node_kind)i));
	tell_count(t, "sling", m->sling_count);
	tell_count(t, "line", m->line_count);
	tell_count(t, "prop", m->prop_count);
	tell_count(t, "case", m->case_count);
}

/* The value a model file gives, or null. */
static void tell_number(rn_teller *t, const char *key, rn_object object, rn_attribute attribute)
{
	int number = rn_model_find_number(t->model, object, attribute);
	if (number == RN_NONE)
		rn_stream_null(t->stream, key);
	else
		rn_stream_number(t->stream, key, t->model->numbers[number].value);
}

static void tell_nodes(rn_teller *t, const double *values)
{
	for (int i = 0; i < t->model->node_count; i++) {
		const rn_node *n = &t->model->nodes[i];
		rn_object node = rn_object_of(RN_NODE, i);
		double place[2];
		rn_node_drawn(t->model, values, i, place);
		rn_tell_open(t, NULL);
		rn_tell_object(t, "id", node);
		rn_stream_text(t->stream, "kind", rn_words_kind(t->model, node));
		rn_tell_object(t, "gear", rn_object_of(RN_ITEM, n->gear));
		rn_stream_number(t->stream, "x_m", place[0]);
		rn_stream_number(t->stream, "y_m", place[1]);
		rn_tell_object(t, "stem", rn_object_of(RN_STEM, n->stem));
		tell_number(t, "height_m", node, RN_ATTRIBUTE_HEIGHT);
		tell_number(t, "weight_N", node, RN_ATTRIBUTE_WEIGHT);
		rn_tell_close(t);
	}
}

static void tell_lines(rn_teller *t)
{
	static const char *const how[] = {
		[RN_TIE] = "tie", [RN_THROUGH] = "through", [RN_GRIP] = "grip", [RN_HOLD] = "hold"};
	for (int i = 0; i < t->model->line_count; i++) {
		const rn_line *line = &t->model->lines[i];
		rn_tell_open(t, NULL);
		rn_tell_object(t, "id", rn_object_of(RN_LINE, i));
		rn_tell_list(t, "stations");
		for (int k = 0; k < line->station_count; k++) {
			const rn_station *s = &t->model->stations[line->first_station + k];
			rn_tell_open(t, NULL);
			rn_tell_node(t, "at", s->node);
			rn_stream_text(t->stream, "how", how[s->kind]);
			rn_stream_text(t->stream, "knot", s->knot);
			rn_tell_close(t);
		}
		rn_tell_list_end(t);
		rn_tell_close(t);
	}
}

/* ---- wood ------------------------------------------------------------------------------------ */

/* A value, or null where what it needs is not said. */
static void tell_known(rn_teller *t, const char *key, bool known, double value)
{
	if (known)
		rn_stream_number(t->stream, key, value);
	else
		rn_stream_null(t->stream, key);
}

static void tell_timbers(rn_teller *t, const double *values)
{
	for (int i = 0; i < t->model->timber_count; i++) {
		const rn_timber *timber = &t->model->timbers[i];
		rn_weighed w = rn_timber_weighed(t->model, values, i);
		int weight = rn_model_find_number(t->model, timber->piece, RN_ATTRIBUTE_WEIGHT);
		bool computed = weight != RN_NONE && t->model->numbers[weight].origin == RN_COMPUTED;
		rn_tell_open(t, NULL);
		rn_tell_object(t, "id", timber->piece);
		rn_stream_text(t->stream, "species", timber->species);
		rn_stream_bool(t->stream, "weighed", computed);
		tell_known(t, "volume_m3", w.has_centre, w.volume);
		tell_known(t, "volume_most_m3", w.has_centre, w.volume_most);
		tell_known(t, "weight_middle_N", w.has_weight, w.weight);
		tell_known(t, "weight_most_N", w.has_weight, w.weight_most);
		tell_known(t, "centre_m", w.has_centre, w.centre);
		rn_tell_close(t);
	}
}

/* ---- ratings --------------------------------------------------------------------------------- */

static void tell_rated(rn_teller *t, const char *key, double value)
{
	if (value > 0)
		rn_stream_number(t->stream, key, value);
	else
		rn_stream_null(t->stream, key);
}

static void tell_rating(rn_teller *t, const rn_part_result *r)
{
	bool checked = r->unchecked == RN_CHECKED;
	rn_tell_open(t, NULL);
	rn_tell_object(t, "id", r->object);
	rn_stream_text(t->stream, "kind",
	               r->object.kind == RN_LINE ? "line" : rn_words_kind(t->model, r->object));
	rn_tell_node(t, "at", r->at);
	rn_tell_object(t, "gear", rn_object_of(RN_ITEM, rn_part_gear(t->model, r->object)));
	tell_rated(t, "strength_N", r->strength);
	tell_rated(t, "design_factor", r->design_factor);
	tell_rated(t, "working_load_N", r->working_load);
	tell_rated(t, "limit_N", r->limit);
	rn_stream_text(t->stream, "not_checked", checked ? NULL : rn_verdict_why(t->model, r));
	rn_tell_factors(t, r);
	rn_tell_close(t);
}

/* ---- cases ----------------------------------------------------------------------------------- */

static void tell_run(rn_teller *t, const rn_case *c, int line, const rn_reach *reach, int station)
{
	const rn_station *s = t->model->stations;
	int end = rn_runs_end(reach, rn_runs_direction(t->model, c, reach, station));
	rn_tell_open(t, NULL);
	rn_tell_object(t, "line", rn_object_of(RN_LINE, line));
	rn_tell_node(t, "over", s[station].node);
	rn_tell_node(t, "toward", end == RN_NONE ? RN_NONE : s[end].node);
	rn_stream_bool(t->stream, "turns_off", rn_runs_without_turns(t->model, end));
	rn_tell_close(t);
}

/* Over every through of a reach, or over its end if it has none. */
static void tell_runs(rn_teller *t, const rn_case *c)
{
	for (int line = 0; line < t->model->line_count; line++) {
		rn_reach reach = {RN_NONE, RN_NONE};
		while (rn_runs_next(t->model, line, &reach)) {
			bool direct = reach.last == reach.first + 1;
			for (int s = reach.first + 1; s < reach.last + direct; s++)
				tell_run(t, c, line, &reach, s);
		}
	}
}

static void tell_fall(rn_teller *t, int fall)
{
	if (fall == RN_NONE) {
		rn_stream_null(t->stream, "fall");
		return;
	}
	const rn_fall *f = &t->model->falls[fall];
	rn_object numbers = rn_object_of(RN_FALL, fall);
	rn_tell_open(t, "fall");
	rn_tell_object(t, "of", f->piece);
	rn_tell_object(t, "line", rn_object_of(RN_LINE, f->line));
	rn_stream_bool(t->stream, "plumb", f->guided);
	tell_number(t, "drop_m", numbers, RN_ATTRIBUTE_DROP);
	tell_number(t, "below_m", numbers, RN_ATTRIBUTE_BELOW);
	tell_number(t, "hand_N", numbers, RN_ATTRIBUTE_HAND);
	rn_tell_close(t);
}

static void tell_case(rn_teller *t, int index)
{
	static const char *const levels[] = {[RN_FRICTION_NONE] = "none",
	                                     [RN_FRICTION_LOW] = "low",
	                                     [RN_FRICTION_NOMINAL] = "nominal",
	                                     [RN_FRICTION_HIGH] = "high"};
	const rn_case *c = &t->model->cases[index];
	rn_tell_open(t, NULL);
	rn_tell_object(t, "id", rn_object_of(RN_CASE, index));
	rn_stream_text(t->stream, "title", c->title);
	rn_stream_bool(t->stream, "made", c->made);
	rn_stream_text(t->stream, "friction", levels[c->level]);
	rn_tell_list(t, "runs");
	tell_runs(t, c);
	rn_tell_list_end(t);
	tell_fall(t, c->fall);
	rn_tell_close(t);
}

/* ---- what is wrong --------------------------------------------------------------------------- */

static void tell_diagnostics(rn_teller *t, const rn_document *d)
{
	rn_tell_list(t, "diagnostics");
	for (int i = 0; i < d->diagnostic_count; i++) {
		const rn_diagnostic *one = &d->diagnostics[i];
		rn_tell_open(t, NULL);
		rn_stream_text(t->stream, "file", d->files[one->file]);
		if (one->line > 0)
			rn_stream_whole(t->stream, "line", one->line);
		else
			rn_stream_null(t->stream, "line");
		rn_stream_text(t->stream, "severity", "error");
		rn_stream_text(t->stream, "text", one->text);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
	rn_stream_whole(t->stream, "not_listed", d->dropped_count);
}

/* ---- the whole ------------------------------------------------------------------------------- */

/* Numbers as given and a rating for each part. */
typedef struct lists {
	double *values;
	const rn_case_result *rated;
} lists;

static void tell_model(rn_teller *t, const lists *l)
{
	rn_tell_list(t, "counts");
	tell_counts(t);
	rn_tell_list_end(t);
	rn_tell_guessed(t);
	rn_tell_cautions(t);
	rn_tell_list(t, "nodes");
	tell_nodes(t, l->values);
	rn_tell_list_end(t);
	rn_tell_list(t, "timbers");
	tell_timbers(t, l->values);
	rn_tell_list_end(t);
	rn_tell_members(t);
	rn_tell_list(t, "lines");
	tell_lines(t);
	rn_tell_list_end(t);
	rn_tell_list(t, "parts");
	for (int i = 0; i < l->rated->part_count; i++)
		tell_rating(t, &l->rated->parts[i]);
	rn_tell_list_end(t);
	rn_tell_list(t, "cases");
	for (int i = 0; i < t->model->case_count; i++)
		tell_case(t, i);
	rn_tell_list_end(t);
}

/* The same keys, with nothing in them. */
static void tell_no_model(rn_teller *t)
{
	static const char *const keys[] = {"counts",  "guessed", "cautions", "nodes", "timbers",
	                                   "members", "lines",   "parts",    "cases"};
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
		rn_tell_list(t, keys[i]);
		rn_tell_list_end(t);
	}
}

static void tell_all(rn_teller *t, const rn_document *d, const rn_answer_options *options,
                     const lists *l)
{
	rn_tell_open(t, NULL);
	rn_tell_head(t, options);
	rn_stream_bool(t->stream, "whole", t->model != NULL);
	rn_tell_list(t, "files");
	for (int i = 0; i < d->file_count; i++)
		rn_stream_text(t->stream, NULL, d->files[i]);
	rn_tell_list_end(t);
	if (t->model && l->rated)
		tell_model(t, l);
	else
		tell_no_model(t);
	tell_diagnostics(t, d);
	rn_tell_close(t);
}

rn_status rn_check_tell(rn_stream *stream, const rn_document *document,
                        const rn_answer_options *options)
{
	const rn_model *m = document->model;
	const rn_allocator *a = &stream->buffer->allocator;
	rn_options rating = rn_options_default();
	rating.allocator = *a;
	rn_result *rated = NULL;
	if (m)
		RN_TRY(rn_rate(m, &rating, &rated));
	lists l = {.rated = rated ? &rated->cases[0] : NULL};
	size_t number_count = m ? (size_t)m->number_count : 0;
	l.values = a->allocate(a->context, sizeof *l.values * (number_count + 1));
	rn_status status = l.values ? RN_OK : RN_STATUS_MEMORY;
	if (status == RN_OK) {
		for (size_t i = 0; i < number_count; i++)
			l.values[i] = m->numbers[i].value;
		rn_teller t = rn_teller_make(stream, m, options);
		tell_all(&t, document, options, &l);
		status = rn_teller_end(&t);
	}
	if (l.values)
		a->release(a->context, l.values);
	rn_result_destroy(rated);
	return status;
}
