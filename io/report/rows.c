/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Rows in the order a rope is walked: ropes, slings, what hangs in them, what holds them, hands,
 * moves.
 */
#include "io/report/rows.h"

#include <math.h>
#include <string.h>

#include "io/report/table.h"
#include "io/report/verdict.h"

/* A node that settles nearer than this to where it was drawn has not moved, to the eye [m]. */
static const double moves_least = 0.005;

typedef struct rows {
	rn_table table;
	rn_buffer text; /* scratch */
	const rn_result *result;
	const rn_model *model;
	rn_units units;
	const int *cases; /* per column */
	double *values;   /* numbers of one case */
} rows;

static const rn_case_result *case_of(const rows *r, int column)
{
	return &r->result->cases[r->cases[column]];
}

static const char *keep(rows *r)
{
	return rn_table_keep(&r->table, &r->text);
}

static const char *name_of(rows *r, rn_object object)
{
	rn_words_object(&r->text, r->model, object);
	return keep(r);
}

static const char *node_name(rows *r, int node)
{
	return name_of(r, rn_object_of(RN_NODE, node));
}

static const char *force_of(rows *r, double force)
{
	rn_words_bare_force(&r->text, force, RN_UP, r->units);
	return keep(r);
}

static const char *direction_of(rows *r, const double vector[2])
{
	rn_words_direction(&r->text, vector, RN_POINT_SHORT);
	return keep(r);
}

static bool has_answer(const rows *r, int column)
{
	return rn_verdict_has_answer(case_of(r, column));
}

/* A row for which a case has no answer says so. */
static bool no_answer(rows *r, rn_table_cell *cell, int column)
{
	if (!has_answer(r, column))
		cell->words = "no answer";
	return !has_answer(r, column);
}

/* ---- share of the limit ---------------------------------------------------------------------- */

static void mark_worst(const rows *r, rn_table_cell *cell, int column, const rn_part_result *part)
{
	const rn_verdict *v = &r->result->verdict;
	cell->marked = v->worst_case == r->cases[column] && part == &case_of(r, column)->parts[v->worst_part];
}

static void add_share(rows *r, rn_table_cell *cell, int column, const rn_part_result *part)
{
	const int percent_columns = 4;
	if (part->unchecked != RN_CHECKED) {
		cell->share = "not checked";
		return;
	}
	rn_buffer percent = rn_buffer_make(&r->text.allocator);
	rn_words_percent(&percent, part->utilisation);
	for (int i = (int)percent.size - 2; i < percent_columns; i++)
		rn_buffer_char(&r->text, ' ');
	rn_buffer_add(&r->text, percent.bytes, percent.size);
	r->text.failed = r->text.failed || percent.failed;
	rn_buffer_release(&percent);
	rn_buffer_text(&r->text, " of ");
	rn_words_bare_force(&r->text, part->limit, RN_DOWN, r->units);
	rn_buffer_text(&r->text, rn_verdict_is_over(part) ? " OVER" : "");
	cell->share = keep(r);
	mark_worst(r, cell, column, part);
}

static const rn_part_result *part_of(const rn_case_result *c, rn_object object)
{
	for (int i = 0; i < c->part_count; i++)
		if (c->parts[i].object.kind == object.kind &&
		    c->parts[i].object.index == object.index)
			return &c->parts[i];
	return NULL;
}

/* ---- ropes and slings ------------------------------------------------------------------------ */

static bool same_member(const rn_span_result *span, rn_object member)
{
	return span->member.kind == member.kind && span->member.index == member.index;
}

static const rn_span_result *find_span(const rn_case_result *c, rn_object member, int index)
{
	for (int i = 0; i < c->span_count; i++)
		if (same_member(&c->spans[i], member) && c->spans[i].index == index)
			return &c->spans[i];
	return NULL;
}

/* The span whose tension a member's share of its limit belongs to: the hardest pulled of those at
 * its worst place. */
static const rn_span_result *governing_span(const rn_case_result *c, rn_object member, int at)
{
	const rn_span_result *hardest = NULL;
	for (int pass = 0; pass < 2 && !hardest; pass++)
		for (int i = 0; i < c->span_count; i++) {
			const rn_span_result *s = &c->spans[i];
			bool there = pass == 1 || s->from == at || s->to == at;
			if (same_member(s, member) && there &&
			    (!hardest || s->tension > hardest->tension))
				hardest = s;
		}
	return hardest;
}

static const rn_note *find_note(const rn_case_result *c, rn_note_kind kind, rn_object a)
{
	for (int i = 0; i < c->notes.count; i++)
		if (c->notes.items[i].kind == kind && c->notes.items[i].a.kind == a.kind &&
		    c->notes.items[i].a.index == a.index)
			return &c->notes.items[i];
	return NULL;
}

/* A pull that rests on a guessed stiffness has its range beside it. */
static void add_stretch_range(rows *r, rn_table_cell *cell, int column, rn_object member)
{
	const rn_note *note = find_note(case_of(r, column), RN_NOTE_STRETCH_MATTERS, member);
	if (!note)
		return;
	rn_words_bare_force(&r->text, note->value[0], RN_UP, r->units);
	rn_buffer_text(&r->text, " to ");
	rn_words_bare_force(&r->text, note->value[1], RN_UP, r->units);
	cell->words = keep(r);
}

static void fill_span(rows *r, rn_table_cell *cell, int column, rn_object member, int index)
{
	const rn_case_result *c = case_of(r, column);
	const rn_span_result *span = find_span(c, member, index);
	if (no_answer(r, cell, column) || !span)
		return;
	cell->number = force_of(r, fabs(span->tension));
	if (member.kind == RN_PROP)
		cell->words = span->tension < 0 ? "push" : "pull";
	else if (span->tension <= rn_words_nothing)
		cell->words = "slack";
	const rn_part_result *part = part_of(c, member);
	if (!part || span != governing_span(c, member, part->at))
		return;
	add_share(r, cell, column, part);
	add_stretch_range(r, cell, column, member);
}

static const char *way_of(rows *r, int from, int to)
{
	rn_words_object(&r->text, r->model, rn_object_of(RN_NODE, from));
	rn_buffer_text(&r->text, " to ");
	rn_words_object(&r->text, r->model, rn_object_of(RN_NODE, to));
	return keep(r);
}

static void add_span_row(rows *r, rn_object member, int index, int from, int to)
{
	const char *name = index == 0 ? name_of(r, member) : "";
	rn_table_row *row = rn_table_add_row(&r->table, name, way_of(r, from, to));
	for (int column = 0; row && column < r->table.column_count; column++)
		fill_span(r, &row->cells[column], column, member, index);
}

static void add_lines(rows *r)
{
	for (int i = 0; i < r->model->line_count; i++) {
		const rn_line *line = &r->model->lines[i];
		const rn_station *s = &r->model->stations[line->first_station];
		for (int k = 0; k + 1 < line->station_count; k++)
			add_span_row(r, rn_object_of(RN_LINE, i), k, s[k].node, s[k + 1].node);
	}
}

static void add_slings(rows *r)
{
	for (int i = 0; i < r->model->sling_count; i++) {
		const rn_sling *sling = &r->model->slings[i];
		const rn_leg *leg = &r->model->legs[sling->first_leg];
		for (int k = 0; k < sling->leg_count; k++)
			add_span_row(r, rn_object_of(RN_SLING, i), k, leg[k].from, leg[k].to);
	}
}

static void add_props(rows *r)
{
	for (int i = 0; i < r->model->prop_count; i++)
		add_span_row(r, rn_object_of(RN_PROP, i), 0, r->model->props[i].from,
		             r->model->props[i].to);
}

/* ---- rings, blocks, connectors --------------------------------------------------------------- */

static bool is_fixed_node(const rn_model *model, rn_object object)
{
	return object.kind == RN_NODE && rn_node_is_fixed(&model->nodes[object.index]);
}

static bool is_hardware(const rn_model *model, const rn_part_result *part)
{
	bool member = part->object.kind == RN_LINE || part->object.kind == RN_SLING ||
	              part->object.kind == RN_PROP || part->object.kind == RN_STEM;
	return !member && !is_fixed_node(model, part->object);
}

/* "block", or of a connector where it is. */
static const char *hardware_way(rows *r, const rn_part_result *part)
{
	rn_buffer_text(&r->text, rn_words_kind(r->model, part->object));
	if (part->object.kind == RN_ITEM && part->at != RN_NONE) {
		rn_buffer_text(&r->text, " at ");
		rn_words_object(&r->text, r->model, rn_object_of(RN_NODE, part->at));
	}
	return keep(r);
}

static void add_hardware(rows *r)
{
	const rn_case_result *first = case_of(r, 0);
	for (int i = 0; i < first->part_count; i++) {
		const rn_part_result *part = &first->parts[i];
		if (!is_hardware(r->model, part))
			continue;
		rn_table_row *row = rn_table_add_row(&r->table, name_of(r, part->object),
		                                     hardware_way(r, part));
		for (int column = 0; row && column < r->table.column_count; column++) {
			rn_table_cell *cell = &row->cells[column];
			if (no_answer(r, cell, column) || i >= case_of(r, column)->part_count)
				continue;
			part = &case_of(r, column)->parts[i];
			cell->number = force_of(r, part->demand);
			add_share(r, cell, column, part);
		}
	}
}

/* ---- stems --------------------------------------------------------------------------------- */

/* "77.3 %, 4.25 MPa, 4.28 m": share of what is allowed, stress at the pressed side of the worst section,
 * and where that is. */
static void fill_stem(rows *r, rn_table_cell *cell, int column, const rn_part_result *first)
{
	const rn_case_result *c = case_of(r, column);
	const rn_part_result *part = part_of(c, first->object);
	if (no_answer(r, cell, column) || !part)
		return;
	const rn_stem_result *stem = &c->stems[part->object.index];
	if (part->unchecked == RN_CHECKED)
		rn_words_percent(&r->text, part->utilisation);
	else
		rn_buffer_text(&r->text, "unchecked");
	if (stem->diameter > 0) {
		rn_buffer_text(&r->text, ", ");
		rn_words_stress(&r->text, stem->compression, RN_UP, r->units);
		rn_buffer_text(&r->text, ", ");
		if (rn_words_stem_at_foot(stem))
			rn_buffer_text(&r->text, r->model->stems[stem->stem].on == RN_NONE ? "foot" : "base");
		else
			rn_words_length(&r->text, stem->height, RN_NEAREST, r->units);
	}
	rn_buffer_text(&r->text, rn_verdict_is_over(part) ? " OVER" : "");
	cell->words = keep(r);
	mark_worst(r, cell, column, part);
}

static void add_stems(rows *r)
{
	const rn_case_result *first = case_of(r, 0);
	for (int i = 0; i < first->part_count; i++) {
		const rn_part_result *part = &first->parts[i];
		if (part->object.kind != RN_STEM)
			continue;
		rn_table_row *row = rn_table_add_row(&r->table, name_of(r, part->object),
		                                     rn_words_kind(r->model, part->object));
		for (int column = 0; row && column < r->table.column_count; column++)
			fill_stem(r, &row->cells[column], column, part);
	}
}

/* ---- anchors and hands ----------------------------------------------------------------------- */

/* Whether an anchor is checked in every column. */
static bool always_checked(const rows *r, int node)
{
	for (int column = 0; column < r->table.column_count; column++) {
		const rn_part_result *part =
			part_of(case_of(r, column), rn_object_of(RN_NODE, node));
		if (has_answer(r, column) && (!part || part->unchecked != RN_CHECKED))
			return false;
	}
	return true;
}

/* Its pull; of gear fixed there what tears it, which pulls that cancel each other do too. */
static double tearing_pull(const rn_case_result *c, int node)
{
	const rn_part_result *part = part_of(c, rn_object_of(RN_NODE, node));
	return fmax(hypot(c->nodes[node].pull[0], c->nodes[node].pull[1]), part ? part->demand : 0);
}

static void fill_anchor(rows *r, rn_table_cell *cell, int column, int node, bool share)
{
	const rn_case_result *c = case_of(r, column);
	if (no_answer(r, cell, column))
		return;
	const double *pull = c->nodes[node].pull;
	double size = hypot(pull[0], pull[1]);
	cell->number = force_of(r, tearing_pull(c, node));
	if (size > rn_words_nothing)
		cell->words = direction_of(r, pull);
	const rn_part_result *part = part_of(c, rn_object_of(RN_NODE, node));
	if (share && part)
		add_share(r, cell, column, part);
}

static bool is_held_somewhere(const rn_model *model, int node)
{
	for (int i = 0; i < model->station_count; i++)
		if (model->stations[i].node == node && model->stations[i].kind == RN_HOLD)
			return true;
	return false;
}

static bool is_used(const rows *r, int node)
{
	for (int column = 0; column < r->table.column_count; column++) {
		const rn_case_result *c = case_of(r, column);
		if (has_answer(r, column) && tearing_pull(c, node) > rn_words_nothing)
			return true;
	}
	return false;
}

/* What is told of a place on a stem is told of the stem. */
static void add_carrier(rows *r, int node, bool share)
{
	bool is_part = part_of(case_of(r, 0), rn_object_of(RN_NODE, node)) != NULL;
	if (!is_part && r->model->nodes[node].stem != RN_NONE) {
		rn_buffer_text(&r->text, " on ");
		rn_words_object(&r->text, r->model, rn_object_of(RN_STEM, r->model->nodes[node].stem));
	} else if (!share) {
		rn_buffer_text(&r->text, ", unchecked");
	}
}

static void add_anchors(rows *r)
{
	for (int i = 0; i < r->model->node_count; i++) {
		const rn_node *node = &r->model->nodes[i];
		bool hand = node->kind == RN_NODE_HAND && is_held_somewhere(r->model, i);
		if (!rn_node_is_fixed(node) || hand || !is_used(r, i))
			continue;
		bool share = always_checked(r, i);
		rn_buffer_text(&r->text, rn_words_kind(r->model, rn_object_of(RN_NODE, i)));
		add_carrier(r, i, share);
		const char *way = keep(r);
		rn_table_row *row = rn_table_add_row(&r->table, node_name(r, i), way);
		for (int column = 0; row && column < r->table.column_count; column++)
			fill_anchor(r, &row->cells[column], column, i, share);
	}
}

static const rn_hold_result *find_hold(const rn_case_result *c, int station)
{
	for (int i = 0; i < c->hold_count; i++)
		if (c->holds[i].station == station)
			return &c->holds[i];
	return NULL;
}

/* Behind turns: least to most pull, with units of their own, for a hand feels newtons where the
 * rest is kilonewtons. */
static void behind_turns(rows *r, rn_table_cell *cell, const rn_hold_result *hold)
{
	if (hold->turns > 0) {
		rn_words_force_range(&r->text, hold->hand_least, hold->hand_most, r->units);
		rn_buffer_text(&r->text, ", ");
		rn_words_number(&r->text, hold->turns);
		rn_buffer_text(&r->text, " turns");
	} else {
		rn_words_force(&r->text, hold->hand_most, RN_UP, r->units);
		rn_buffer_text(&r->text, ", no turns");
	}
	cell->words = keep(r);
}

static void fill_hand(rows *r, rn_table_cell *cell, int column, int station)
{
	const rn_case_result *c = case_of(r, column);
	const rn_hold_result *hold = find_hold(c, station);
	if (no_answer(r, cell, column) || !hold)
		return;
	if (r->model->nodes[hold->node].kind == RN_NODE_BOLLARD) {
		behind_turns(r, cell, hold);
		return;
	}
	double own[2] = {-c->nodes[hold->node].pull[0], -c->nodes[hold->node].pull[1]};
	cell->number = force_of(r, hold->hand_most);
	cell->words = direction_of(r, own);
}

static void add_hands(rows *r)
{
	for (int i = 0; i < r->model->station_count; i++) {
		const rn_station *s = &r->model->stations[i];
		if (s->kind != RN_HOLD)
			continue;
		rn_words_object(&r->text, r->model, rn_object_of(RN_LINE, s->line));
		rn_buffer_text(&r->text, " by hand");
		const char *way = keep(r);
		rn_table_row *row = rn_table_add_row(&r->table, node_name(r, s->node), way);
		for (int column = 0; row && column < r->table.column_count; column++)
			fill_hand(r, &row->cells[column], column, i);
	}
}

/* ---- loads that a case changes --------------------------------------------------------------- */

static double value_of(const rows *r, rn_object object, rn_attribute attribute)
{
	return rn_model_value(r->model, r->values, object, attribute, 0);
}

static void load_values(rows *r, int column)
{
	rn_case_values(r->model, &r->model->cases[case_of(r, column)->case_index], r->values);
}

static bool weight_changes(rows *r, rn_object object)
{
	int number = rn_model_find_number(r->model, object, RN_ATTRIBUTE_WEIGHT);
	for (int column = 0; number != RN_NONE && column < r->table.column_count; column++) {
		load_values(r, column);
		if (fabs(r->values[number] - r->model->numbers[number].value) > rn_words_nothing)
			return true;
	}
	return false;
}

static void add_weight(rows *r, rn_object object)
{
	if (!weight_changes(r, object))
		return;
	rn_table_row *row = rn_table_add_row(&r->table, name_of(r, object), "weight");
	for (int column = 0; row && column < r->table.column_count; column++) {
		load_values(r, column);
		double gravity = value_of(r, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_GRAVITY);
		rn_words_weight(&r->text, value_of(r, object, RN_ATTRIBUTE_WEIGHT), gravity, r->units);
		row->cells[column].words = keep(r);
	}
}

static void add_weights(rows *r)
{
	for (int i = 0; i < r->model->node_count; i++)
		add_weight(r, rn_object_of(RN_NODE, i));
	for (int i = 0; i < r->model->prop_count; i++)
		add_weight(r, rn_object_of(RN_PROP, i));
}

static void add_outer_forces(rows *r)
{
	for (int i = 0; i < r->model->force_count; i++) {
		const rn_force *force = &r->model->forces[i];
		for (int column = 0; column < r->table.column_count; column++) {
			if (case_of(r, column)->case_index != force->case_index)
				continue;
			rn_table_row *row = rn_table_add_row(&r->table, node_name(r, force->node),
			                                     "outer force");
			if (!row)
				continue;
			load_values(r, column);
			double toward = value_of(r, rn_object_of(RN_FORCE, i), RN_ATTRIBUTE_TOWARD);
			double way[2] = {cos(toward), sin(toward)};
			row->cells[column].number = force_of(
				r, value_of(r, rn_object_of(RN_FORCE, i), RN_ATTRIBUTE_SIZE));
			row->cells[column].words = direction_of(r, way);
		}
	}
}

/* ---- moves ----------------------------------------------------------------------------------- */

static double move_of(const rn_node_result *node, double move_out[2])
{
	move_out[0] = node->place[0] - node->drawn[0];
	move_out[1] = node->place[1] - node->drawn[1];
	return hypot(move_out[0], move_out[1]);
}

static void fill_moves(rows *r, rn_table_cell *cell, int column)
{
	const rn_case_result *c = case_of(r, column);
	if (no_answer(r, cell, column))
		return;
	int most = 0;
	double move[2] = {0, 0}, largest = 0;
	for (int i = 0; i < r->model->node_count; i++)
		if (move_of(&c->nodes[i], move) > largest) {
			largest = move_of(&c->nodes[i], move);
			most = i;
		}
	if (largest < moves_least) {
		cell->words = "nothing moves";
		return;
	}
	move_of(&c->nodes[most], move);
	rn_words_object(&r->text, r->model, rn_object_of(RN_NODE, most));
	rn_buffer_char(&r->text, ' ');
	rn_words_length(&r->text, largest, RN_UP, r->units);
	rn_buffer_text(&r->text, ", ");
	rn_words_direction(&r->text, move, RN_POINT_SIDE);
	cell->words = keep(r);
}

static void add_moves(rows *r)
{
	const char *way = r->model->drawn_under_load ? "to balance" : "most of all";
	rn_table_row *row = rn_table_add_row(&r->table, "moves", way);
	for (int column = 0; row && column < r->table.column_count; column++)
		fill_moves(r, &row->cells[column], column);
}

static bool travel_is_told(const rows *r, rn_object piece)
{
	for (int column = 0; column < r->table.column_count; column++)
		if (has_answer(r, column) && find_note(case_of(r, column), RN_NOTE_TRAVEL, piece))
			return true;
	return false;
}

static void fill_travel(rows *r, rn_table_cell *cell, int column, rn_object piece)
{
	const rn_case_result *c = case_of(r, column);
	if (no_answer(r, cell, column))
		return;
	const rn_note *note = find_note(c, RN_NOTE_TRAVEL, piece);
	double move[2];
	if (note)
		rn_words_length_range(&r->text, note->value[0], note->value[1], r->units);
	else
		rn_words_length(&r->text, move_of(&c->nodes[piece.index], move), RN_UP, r->units);
	cell->words = keep(r);
}

/* How far a piece moves where that rests on a guessed stiffness. */
static void add_travel(rows *r)
{
	for (int i = 0; i < r->model->node_count; i++) {
		rn_object node = rn_object_of(RN_NODE, i);
		if (!travel_is_told(r, node))
			continue;
		rn_table_row *row =
			rn_table_add_row(&r->table, node_name(r, i), "moves, by stretch");
		for (int column = 0; row && column < r->table.column_count; column++)
			fill_travel(r, &row->cells[column], column, node);
	}
}

/* ---- the table ------------------------------------------------------------------------------- */

static void fill_heads(rows *r)
{
	for (int column = 0; column < r->table.column_count; column++)
		rn_table_head(&r->table, column, name_of(r, rn_object_of(RN_CASE, case_of(r, column)->case_index)));
	rn_buffer_format(&r->text, "%s; deg off plumb", rn_words_force_unit(r->units));
	r->table.title = keep(r);
}

static rn_status fill(rows *r)
{
	fill_heads(r);
	add_lines(r);
	add_slings(r);
	add_props(r);
	add_hardware(r);
	add_stems(r);
	add_anchors(r);
	add_hands(r);
	add_weights(r);
	add_outer_forces(r);
	add_moves(r);
	add_travel(r);
	RN_TRY(rn_buffer_status(&r->text));
	return rn_table_status(&r->table);
}

/* Where the table goes: one of the two. */
typedef struct target {
	rn_buffer *buffer;
	rn_folio *folio;
} target;

static rn_status put_columns(const target *out, const rn_allocator *a, const rn_result *result, const int *cases,
                             int column_count, double *values, rn_units units)
{
	rows r = {.table = rn_table_make(a, column_count),
	          .text = rn_buffer_make(a),
	          .result = result,
	          .model = result->model,
	          .units = units,
	          .cases = cases,
	          .values = values};
	rn_status status = fill(&r);
	if (status == RN_OK && out->folio)
		rn_folio_add_table(out->folio, &r.table);
	else if (status == RN_OK)
		rn_table_print(out->buffer, &r.table);
	rn_buffer_release(&r.text);
	rn_table_release(&r.table);
	return status;
}

static rn_status put(const target *out, const rn_allocator *a, const rn_result *result, const int *shown,
                     rn_units units)
{
	int *cases = a->allocate(a->context, sizeof *cases * (size_t)(result->case_count + 1));
	double *values =
		a->allocate(a->context, sizeof *values * (size_t)(result->model->number_count + 1));
	rn_status status = cases && values ? RN_OK : RN_STATUS_MEMORY;
	int column_count = 0;
	bool any = false; /* a table of nothing but "no answer" is none */
	for (int c = 0; cases && c < result->case_count; c++) {
		if (shown[c] == c)
			cases[column_count++] = c;
		any = any || rn_verdict_has_answer(&result->cases[c]);
	}
	if (status == RN_OK && any)
		status = put_columns(out, a, result, cases, column_count, values, units);
	if (cases)
		a->release(a->context, cases);
	if (values)
		a->release(a->context, values);
	return status;
}

rn_status rn_rows_folio(rn_folio *folio, const rn_result *result, const int *shown, rn_units units)
{
	return put(&(target){.folio = folio}, &folio->pool.allocator, result, shown, units);
}

rn_status rn_rows_print(rn_buffer *buffer, const rn_result *result, const int *shown, rn_units units)
{
	RN_TRY(put(&(target){.buffer = buffer}, &buffer->allocator, result, shown, units));
	return rn_buffer_status(buffer);
}
