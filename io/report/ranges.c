/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/ranges.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "io/report/paragraph.h"
#include "io/report/table.h"
#include "io/report/verdict.h"

static const double pi = 3.14159265358979323846;

typedef struct writer {
	rn_table table;
	rn_buffer text; /* scratch */
	const rn_model *model;
	const rn_ranges *ranges;
	rn_units units;
} writer;

static const char *keep(writer *w)
{
	return rn_table_keep(&w->table, &w->text);
}

static const char *name_of(writer *w, rn_object object)
{
	rn_words_object(&w->text, w->model, object);
	return keep(w);
}

/* ---- cells --------------------------------------------------------------------------------- */

/* Whether two numbers print alike: the range is none, to the eye [-]. */
static const double alike = 1e-3;

static bool is_one(rn_spread s)
{
	return s.most - s.least <= alike * fmax(fabs(s.most), rn_words_nothing);
}

/* "2.30 to 4.80 kN" or "3.14 kN"; without an end where balance sets none. */
static void add_forces(writer *w, rn_spread s)
{
	bool open_below = !isfinite(s.least), open_above = !isfinite(s.most);
	if (open_below && open_above) {
		rn_buffer_text(&w->text, "anything");
	} else if (open_above) {
		rn_words_force(&w->text, s.least, RN_DOWN, w->units);
		rn_buffer_text(&w->text, " and more");
	} else if (open_below) {
		rn_words_force(&w->text, s.most, RN_UP, w->units);
		rn_buffer_text(&w->text, " and less");
	} else if (is_one(s)) {
		rn_words_force(&w->text, s.most, RN_UP, w->units);
	} else {
		rn_words_force_spread(&w->text, s.least, s.most, w->units);
	}
}

/* Half a degree: a sector narrower than that is one direction [rad]. */
static const double narrow = 0.0087;

static rn_buffer way_words(const writer *w, double angle)
{
	rn_buffer words = rn_buffer_make(&w->text.allocator);
	double way[2] = {cos(angle), sin(angle)};
	rn_words_direction(&words, way, RN_POINT_SHORT);
	return words;
}

/* Length of what two directions that point the same way begin with, "down and right, ". */
static size_t shared_beginning(const rn_buffer *a, const rn_buffer *b)
{
	const char *comma = a->bytes ? strrchr(a->bytes, ',') : NULL;
	size_t size = comma ? (size_t)(comma - a->bytes) + 2 : 0;
	bool same = size > 0 && b->size > size && strncmp(a->bytes, b->bytes, size) == 0;
	return same ? size : 0;
}

/* "down and right, 2 to 19 deg", or both ends in full when they do not point the same way. */
static void add_sector(writer *w, rn_spread d)
{
	if (d.most - d.least >= 2 * pi - narrow) {
		rn_buffer_text(&w->text, ", any way");
		return;
	}
	rn_buffer from = way_words(w, d.least), to = way_words(w, d.most);
	size_t shared = shared_beginning(&from, &to);
	int least = shared ? atoi(from.bytes + shared) : 0, most = shared ? atoi(to.bytes + shared) : 0;
	rn_buffer_text(&w->text, ", ");
	if (d.most - d.least <= narrow || (shared && least == most)) {
		rn_buffer_add(&w->text, from.bytes, from.size);
	} else if (shared) {
		rn_buffer_add(&w->text, from.bytes, shared);
		rn_buffer_format(&w->text, "%d to %d deg", least < most ? least : most, least < most ? most : least);
	} else {
		rn_buffer_add(&w->text, from.bytes, from.size);
		rn_buffer_text(&w->text, " to ");
		rn_buffer_add(&w->text, to.bytes, to.size);
	}
	w->text.failed = w->text.failed || from.failed || to.failed;
	rn_buffer_release(&from);
	rn_buffer_release(&to);
}

/* ---- rows ---------------------------------------------------------------------------------- */

static void add_span(writer *w, int i)
{
	const rn_span_result *s = &w->ranges->middle->spans[i];
	const char *name = s->index == 0 ? name_of(w, s->member) : "";
	rn_words_object(&w->text, w->model, rn_object_of(RN_NODE, s->from));
	rn_buffer_text(&w->text, " to ");
	rn_words_object(&w->text, w->model, rn_object_of(RN_NODE, s->to));
	rn_table_row *row = rn_table_add_row(&w->table, name, keep(w));
	if (!row)
		return;
	add_forces(w, w->ranges->tensions[i]);
	if (w->ranges->may_be_slack[i])
		rn_buffer_text(&w->text, ": do not count on it");
	row->cells[0].words = keep(w);
}

static void add_anchor(writer *w, int node)
{
	rn_spread pull = w->ranges->pulls[node];
	if (!rn_node_is_fixed(&w->model->nodes[node]) || pull.most <= rn_words_nothing)
		return;
	const char *name = name_of(w, rn_object_of(RN_NODE, node));
	rn_table_row *row = rn_table_add_row(&w->table, name, rn_words_kind(w->model, rn_object_of(RN_NODE, node)));
	if (!row)
		return;
	add_forces(w, pull);
	add_sector(w, w->ranges->directions[node]);
	row->cells[0].words = keep(w);
}

static void add_part(writer *w, int i)
{
	rn_spread share = w->ranges->utilisations[i];
	if (share.most <= 0 || is_one(share))
		return;
	const char *name = name_of(w, w->ranges->middle->parts[i].object);
	rn_table_row *row = rn_table_add_row(&w->table, name, "of its limit");
	if (!row)
		return;
	rn_words_percent(&w->text, share.least);
	rn_buffer_text(&w->text, " to ");
	rn_words_percent(&w->text, share.most);
	rn_buffer_text(&w->text, share.most > 1 ? " OVER" : "");
	row->cells[0].words = keep(w);
}

static rn_status fill(writer *w)
{
	rn_buffer_text(&w->text, "least to most");
	w->table.title = keep(w);
	bool made = w->model->cases[w->ranges->case_index].made;
	rn_table_head(&w->table, 0, made ? "any way it runs or sticks" : name_of(w, rn_object_of(RN_CASE, w->ranges->case_index)));
	for (int i = 0; i < w->ranges->middle->span_count; i++)
		add_span(w, i);
	for (int i = 0; i < w->model->node_count; i++)
		add_anchor(w, i);
	for (int i = 0; i < w->ranges->middle->part_count && !w->ranges->by_balance; i++)
		add_part(w, i);
	RN_TRY(rn_buffer_status(&w->text));
	return rn_table_status(&w->table);
}

static void add_states(writer *w)
{
	const rn_ranges *r = w->ranges;
	if (r->unsure_count == 0) {
		rn_buffer_text(&w->text, "Neither friction nor a length is open here: one state.");
		return;
	}
	rn_buffer_format(&w->text, "Found in %d states of %d place%s where friction or a length is open", r->state_count,
	                 r->unsure_count, r->unsure_count == 1 ? "" : "s");
	if (r->lost_count)
		rn_buffer_format(&w->text, "; in %d nothing was found", r->lost_count);
	rn_buffer_char(&w->text, '.');
}

/* How it was found, which is also how far it may be trusted. */
static const char *add_how(writer *w)
{
	const rn_ranges *r = w->ranges;
	if (r->by_balance) {
		rn_buffer_text(&w->text, "By balance and friction alone in the picture as it stands: nothing that holds lies outside.");
	} else {
		add_states(w);
	}
	if (rn_ranges_over(r, 1)) {
		rn_buffer_text(&w->text, " OVER ITS LIMIT in some state: ");
		rn_ranges_name_over(&w->text, w->model, r);
		rn_buffer_char(&w->text, '.');
	}
	return keep(w);
}

static bool has_answer(const rn_ranges *r)
{
	return rn_verdict_has_answer(r->middle);
}

static writer begin(const rn_allocator *allocator, const rn_model *model, const rn_ranges *ranges, rn_units units)
{
	return (writer){.table = rn_table_make(allocator, 1),
	                .text = rn_buffer_make(allocator),
	                .model = model,
	                .ranges = ranges,
	                .units = units};
}

static void end(writer *w)
{
	rn_buffer_release(&w->text);
	rn_table_release(&w->table);
}

rn_status rn_ranges_folio(rn_folio *folio, const rn_model *model, const rn_ranges *ranges, rn_units units)
{
	if (!has_answer(ranges))
		return RN_OK;
	writer w = begin(&folio->pool.allocator, model, ranges, units);
	rn_status status = fill(&w);
	if (status == RN_OK) {
		rn_folio_add_table(folio, &w.table);
		rn_buffer_text(&folio->line, add_how(&w));
		rn_folio_block(folio, RN_BLOCK_PARAGRAPH);
		status = rn_table_status(&w.table);
	}
	end(&w);
	return status;
}

rn_status rn_ranges_text(rn_buffer *buffer, const rn_model *model, const rn_ranges *ranges, rn_units units)
{
	if (!has_answer(ranges))
		return RN_OK;
	writer w = begin(&buffer->allocator, model, ranges, units);
	rn_status status = fill(&w);
	if (status == RN_OK) {
		rn_buffer_char(buffer, '\n');
		rn_table_print(buffer, &w.table);
		rn_paragraph_add(buffer, add_how(&w));
		status = rn_table_status(&w.table);
	}
	end(&w);
	return status != RN_OK ? status : rn_buffer_status(buffer);
}

bool rn_ranges_over(const rn_ranges *ranges, int count)
{
	for (int k = 0; k < count; k++)
		for (int i = 0; i < ranges[k].middle->part_count; i++)
			if (ranges[k].utilisations[i].most > 1)
				return true;
	return false;
}

void rn_ranges_name_over(rn_buffer *buffer, const rn_model *model, const rn_ranges *ranges)
{
	const char *before = "";
	for (int i = 0; i < ranges->middle->part_count; i++)
		if (ranges->utilisations[i].most > 1) {
			rn_buffer_text(buffer, before);
			rn_words_part(buffer, model, ranges->middle->parts[i].object);
			before = ", ";
		}
}

/* ---- for other programs ---------------------------------------------------------------------- */

/* Null where there is no end. */
static void tell_end(rn_teller *t, const char *key, double value)
{
	if (isfinite(value))
		rn_stream_number(t->stream, key, value);
	else
		rn_stream_null(t->stream, key);
}

/* In (-180, 180]. */
static double degrees(double angle)
{
	double turned = fmod(angle * 180 / pi, 360);
	return turned > 180 ? turned - 360 : turned <= -180 ? turned + 360 : turned;
}

static void tell_spans(rn_teller *t, const rn_ranges *r)
{
	rn_tell_list(t, "spans");
	for (int i = 0; has_answer(r) && i < r->middle->span_count; i++) {
		const rn_span_result *s = &r->middle->spans[i];
		rn_tell_open(t, NULL);
		rn_tell_object(t, "member", s->member);
		rn_stream_whole(t->stream, "index", s->index);
		rn_tell_node(t, "from", s->from);
		rn_tell_node(t, "to", s->to);
		tell_end(t, "least_N", r->tensions[i].least);
		tell_end(t, "most_N", r->tensions[i].most);
		rn_stream_bool(t->stream, "may_be_slack", r->may_be_slack[i]);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

static void tell_anchors(rn_teller *t, const rn_ranges *r)
{
	rn_tell_list(t, "anchors");
	for (int i = 0; has_answer(r) && i < t->model->node_count; i++) {
		if (!rn_node_is_fixed(&t->model->nodes[i]))
			continue;
		bool pulled = r->pulls[i].most > 0;
		rn_tell_open(t, NULL);
		rn_tell_node(t, "id", i);
		tell_end(t, "least_N", r->pulls[i].least);
		tell_end(t, "most_N", r->pulls[i].most);
		tell_end(t, "from_deg", pulled ? degrees(r->directions[i].least) : (double)NAN);
		tell_end(t, "to_deg", pulled ? degrees(r->directions[i].most) : (double)NAN);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

static void tell_parts(rn_teller *t, const rn_ranges *r)
{
	rn_tell_list(t, "parts");
	for (int i = 0; has_answer(r) && !r->by_balance && i < r->middle->part_count; i++) {
		if (r->utilisations[i].most <= 0)
			continue;
		rn_tell_open(t, NULL);
		rn_tell_object(t, "id", r->middle->parts[i].object);
		rn_tell_node(t, "at", r->middle->parts[i].at);
		rn_stream_number(t->stream, "least", r->utilisations[i].least);
		rn_stream_number(t->stream, "most", r->utilisations[i].most);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}

void rn_ranges_tell(rn_teller *t, const rn_ranges *ranges, int count)
{
	rn_tell_list(t, "ranges");
	for (int i = 0; i < count; i++) {
		rn_tell_open(t, NULL);
		rn_tell_object(t, "case", rn_object_of(RN_CASE, ranges[i].case_index));
		rn_stream_whole(t->stream, "unsure", ranges[i].unsure_count);
		rn_stream_whole(t->stream, "states", ranges[i].state_count);
		rn_stream_whole(t->stream, "not_found", ranges[i].lost_count);
		rn_stream_bool(t->stream, "by_balance", ranges[i].by_balance);
		tell_spans(t, &ranges[i]);
		tell_anchors(t, &ranges[i]);
		tell_parts(t, &ranges[i]);
		rn_tell_close(t);
	}
	rn_tell_list_end(t);
}
