/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/study/drawn.h"

#include <math.h>

#include "solver/model/timber.h"

static const char *const source_words[] = {
#define X(name, word) word,
	RN_RANGE_SOURCE_LIST(X)
#undef X
};

const char *rn_range_source_word(rn_range_source source)
{
	return source_words[source];
}

/* ---- which numbers ------------------------------------------------------------------------------ */

typedef struct finder {
	const rn_model *model;
	rn_between *ranges;
	int asked_count, count;
} finder;

static bool is_asked(const finder *f, int number)
{
	for (int i = 0; i < f->asked_count; i++)
		if (f->ranges[i].number == number)
			return true;
	return false;
}

static void add(finder *f, rn_range_source source, int number, double low, double high)
{
	f->ranges[f->count++] = (rn_between){source, number, rn_object_of(RN_LINE, RN_NONE), low, high};
}

static void add_numbers(finder *f)
{
	for (int i = 0; i < f->model->number_count; i++) {
		const rn_number *n = &f->model->numbers[i];
		bool idle = n->object.kind == RN_ITEM && !rn_item_is_used(f->model, n->object.index);
		if (n->low < n->high && !idle && !is_asked(f, i))
			add(f, n->origin == RN_GIVEN ? RN_RANGE_GIVEN : RN_RANGE_GUESSED, i, n->low, n->high);
	}
}

static void add_length(finder *f, rn_object owner, rn_object length)
{
	int number = rn_model_find_number(f->model, owner, RN_ATTRIBUTE_LENGTH_ERROR);
	double error = number == RN_NONE ? 0 : f->model->numbers[number].value;
	if (!(error > 0))
		return;
	add(f, RN_RANGE_LENGTH_ERROR, number, -error, error);
	f->ranges[f->count - 1].length = length;
}

/* Each leg was cut and spliced by itself, a line once. */
static void add_lengths(finder *f)
{
	for (int i = 0; i < f->model->line_count; i++)
		add_length(f, rn_object_of(RN_LINE, i), rn_object_of(RN_LINE, i));
	for (int i = 0; i < f->model->leg_count; i++)
		add_length(f, rn_object_of(RN_SLING, f->model->legs[i].sling), rn_object_of(RN_LEG, i));
}

/* Of a node, else of the whole drawing; one that nobody wrote is none. */
static double place_error(const rn_model *m, int node)
{
	int own = rn_model_find_number(m, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_PLACE_ERROR);
	int whole = rn_model_find_number(m, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_PLACE_ERROR);
	int number = own != RN_NONE ? own : whole;
	return number == RN_NONE ? 0 : m->numbers[number].value;
}

static void add_places(finder *f)
{
	static const rn_attribute places[] = {RN_ATTRIBUTE_X, RN_ATTRIBUTE_Y, RN_ATTRIBUTE_HEIGHT};
	for (int i = 0; i < f->model->node_count; i++)
		for (int k = 0; k < 3; k++) {
			int number = rn_model_find_number(f->model, rn_object_of(RN_NODE, i), places[k]);
			double error = place_error(f->model, i);
			if (number == RN_NONE || !(error > 0) || is_asked(f, number))
				continue;
			double value = f->model->numbers[number].value, low = value - error;
			/* nothing hangs below the foot of its stem */
			add(f, RN_RANGE_PLACE_ERROR, number, k < 2 ? low : fmax(0, low), value + error);
		}
}

rn_status rn_drawn_ranges(rn_arena *arena, const rn_model *m, const rn_between *asked, int asked_count,
                          rn_between **ranges_out, int *count_out)
{
	finder f = {.model = m, .asked_count = asked_count};
	RN_TAKE(arena, f.ranges, asked_count + m->number_count + m->line_count + m->leg_count + 3 * m->node_count + 1);
	for (int i = 0; i < asked_count; i++)
		add(&f, RN_RANGE_ASKED, asked[i].number, asked[i].low, asked[i].high);
	add_numbers(&f);
	add_lengths(&f);
	add_places(&f);
	*ranges_out = f.ranges;
	*count_out = f.count;
	return RN_OK;
}

/* ---- one state --------------------------------------------------------------------------------- */

static double drawn_between(const rn_drawn *drawn, int i)
{
	const rn_between *r = &drawn->ranges[i];
	return r->low + (r->high - r->low) * drawn->point[i];
}

static bool is_length(const rn_between *range)
{
	return range->length.index != RN_NONE;
}

/* The weight of a piece between the two figures that its wood comes to with the numbers at hand. */
static double between_weights(const rn_model *m, const double *values, rn_object piece, double part)
{
	rn_weighed w = rn_timber_weighed(m, values, rn_timber_of(m, piece));
	return w.weight + (w.weight_most - w.weight) * part;
}

static void take(const rn_model *m, const rn_case *c, const rn_drawn *drawn, bool computed, double *values)
{
	for (int i = 0; i < drawn->count; i++) {
		const rn_between *r = &drawn->ranges[i];
		const rn_number *n = &m->numbers[r->number];
		if (is_length(r) || (n->origin == RN_COMPUTED) != computed || rn_case_sets(m, c, r->number))
			continue;
		values[r->number] = computed && r->source != RN_RANGE_ASKED
		                            ? between_weights(m, values, n->object, drawn->point[i])
		                            : drawn_between(drawn, i);
	}
}

void rn_drawn_values(const rn_model *m, const rn_case *c, const rn_drawn *drawn, double *values)
{
	take(m, c, drawn, false, values);
	rn_timber_weigh(m, c, values);
	take(m, c, drawn, true, values);
}

void rn_drawn_lengths(const rn_drawn *drawn, double *line_off, double *leg_off)
{
	for (int i = 0; i < drawn->count; i++)
		if (is_length(&drawn->ranges[i])) {
			rn_object length = drawn->ranges[i].length;
			*(length.kind == RN_LINE ? &line_off[length.index] : &leg_off[length.index]) = drawn_between(drawn, i);
		}
}
