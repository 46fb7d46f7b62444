/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What balance leaves open. With A of rank r and n > r unknown forces the picture is n - r times
 * indeterminate; of all forces that balance those are given that store the least energy,
 *
 *     min sum T^2 L / 2 EA   with  A t = b,  t >= 0  (EA the secant where a curve is given),
 *
 * as legs do that are all just taut in the picture and then stretch. How far each could go for other
 * lengths of the legs is a linear program.
 */
#include "solver/statics/kept.h"

#include <math.h>
#include <string.h>

#include "solver/base/notes.h"
#include "solver/statics/program.h"

/* Bodies give way by a tenth of what ropes do, or less [-]. */
static const double push_weight = 0.1;

/* A bar taken for stiff still counts as much as this part of the mean leg, so that the share of two such
 * is one share [-]. */
static const double weight_least = 1e-6;

/* An equation that the energy may break by this part, while it is looked for which forces are zero;
 * afterwards they hold to rounding [-]. */
static const double loose_floor = 1e-10;

/* ---- sharing ------------------------------------------------------------------------------- */

/* Twice the energy of a rope per square of the tension in its first span [m/N]. */
static double compliance(const rn_network *net, const rn_rope *rope)
{
	double sum = 0;
	for (int i = 0; i < rope->span_count; i++) {
		const rn_span *span = &net->spans[rope->first_span + i];
		const rn_stop *end = &net->stops[span->to];
		double arc = i + 1 < rope->span_count ? end->radius * end->bend : 0;
		sum += span->share * span->share * (span->length + arc);
	}
	return sum / rope->stiffness;
}

static void load_weights(const rn_network *net, rn_keeper *k)
{
	double sum = 0, mean;
	int count = 0;
	for (int r = 0; r < net->rope_count; r++) {
		if (k->rope_column[r] == RN_NONE)
			continue;
		k->fit.weight[k->rope_column[r]] = compliance(net, &net->ropes[r]);
		sum += k->fit.weight[k->rope_column[r]];
		count++;
	}
	mean = sum > 0 ? sum / count : 1;
	for (int i = 0; i < net->contact_count; i++)
		if (k->contact_column[i] != RN_NONE)
			k->fit.weight[k->contact_column[i]] = push_weight * mean;
	for (int c = 0; c < k->columns; c++)
		k->fit.weight[c] = fmax(k->fit.weight[c] / mean, weight_least);
}

/* What the present forces hold, in *to. */
static void hold(const rn_keeper *k, double *to)
{
	for (int i = 0; i < k->rows; i++) {
		to[i] = 0;
		for (int c = 0; c < k->columns; c++)
			to[i] += k->fit.matrix[(size_t)i * (size_t)k->columns + (size_t)c] * k->fit.force[c];
	}
}

static void clear_rounding(rn_keeper *k)
{
	for (int c = 0; c < k->columns; c++)
		if (!k->fit.is_free[c] && k->fit.force[c] < 0)
			k->fit.force[c] = 0;
}

/* Rank of A with all forces in. The forces found and which are left out stay as they are. */
static int whole_rank(rn_keeper *k)
{
	size_t columns = (size_t)k->columns;
	memcpy(k->fit.is_broken, k->fit.is_out, columns * sizeof(bool));
	memset(k->fit.is_out, 0, columns * sizeof(bool));
	memcpy(k->scratch, k->fit.force, columns * sizeof(double));
	int rank = k->columns ? rn_bounded_meet(&k->fit) : 0;
	memcpy(k->fit.force, k->scratch, columns * sizeof(double));
	memcpy(k->fit.is_out, k->fit.is_broken, columns * sizeof(bool));
	return rank;
}

static void share(rn_settler *s, rn_keeper *k)
{
	load_weights(&s->net, k);
	memcpy(k->fit.right, k->balanced, (size_t)k->rows * sizeof(double));
	rn_bounded_solve(&k->fit, loose_floor);
	rn_bounded_solve_same(&k->fit, 0);
	clear_rounding(k);
}

/* A curve of load and stretch is followed by its secants, until each leg is as stiff as it is at its
 * share; a limit only for what never ends. */
enum { CURVE_ROUNDS_MOST = 100 };

static void share_on_curves(rn_settler *s, rn_keeper *k)
{
	for (int round = 0; round < CURVE_ROUNDS_MOST; round++) {
		share(s, k);
		for (int r = 0; r < s->net.rope_count; r++) {
			rn_rope *rope = &s->net.ropes[r];
			double force = k->rope_column[r] == RN_NONE ? 0 : k->fit.force[k->rope_column[r]];
			rope->tension = rope->pulled ? rope->pull : force * s->net.load_scale;
			rope->taut = rope->tension != 0;
			k->scratch[r] = rope->stiffness;
		}
		if (!rn_network_take_secants(&s->net))
			return;
		/* half the way, in logarithms: the whole way goes to and fro round the bend of a curve */
		for (int r = 0; r < s->net.rope_count; r++)
			s->net.ropes[r].stiffness = sqrt(k->scratch[r] * s->net.ropes[r].stiffness);
	}
}

rn_status rn_keep_share(rn_settler *s, rn_keeper *k, int *open_out)
{
	*open_out = k->columns - whole_rank(k);
	memset(k->fit.metric, 0, (size_t)k->rows * (size_t)k->rows * sizeof(double));
	if (*open_out == 0) {
		memcpy(k->fit.right, k->load, (size_t)k->rows * sizeof(double));
		(void)rn_bounded_meet(&k->fit);
		clear_rounding(k);
		return RN_OK;
	}
	hold(k, k->balanced);
	share_on_curves(s, k);
	rn_note note = {.kind = RN_NOTE_PICTURE_OPEN,
	                .a = rn_object_of(RN_NODE, RN_NONE),
	                .b = rn_object_of(RN_NODE, RN_NONE),
	                .c = rn_object_of(RN_NODE, RN_NONE),
	                .value = {*open_out}};
	return rn_notes_add(s->notes_arena, s->notes, note);
}

/* ---- ranges -------------------------------------------------------------------------------- */

/* A force that can change by less than this part of the largest load is not open [-]: the programs
 * are solved to about 1e-9. */
static const double range_least = 1e-6;

/* A part rests on a guess when its force could change by more than this part of the largest load [-]. */
static const double range_matters = 0.02;

static bool is_given(const rn_model *m, rn_object object, rn_attribute attribute)
{
	int i = rn_model_find_number(m, object, attribute);
	return i != RN_NONE && m->numbers[i].origin == RN_GIVEN;
}

static bool stretch_given(const rn_model *m, rn_object member)
{
	if (member.kind == RN_PROP)
		return m->props[member.index].is_piece || (is_given(m, member, RN_ATTRIBUTE_DIAMETER) &&
		                                           is_given(m, member, RN_ATTRIBUTE_MODULUS));
	int gear = member.kind == RN_LINE ? m->lines[member.index].gear : m->slings[member.index].gear;
	return is_given(m, member, RN_ATTRIBUTE_STIFFNESS) ||
	       is_given(m, rn_object_of(RN_ITEM, gear), RN_ATTRIBUTE_STIFFNESS);
}

static bool reaches(const rn_extent *e, double least)
{
	return e->found && (e->open_above || e->open_below || e->most - e->least > least);
}

/* The span of the rope, of those measured, that covers the way from a stop to the next. */
static const rn_span *span_over(const rn_network *net, const rn_rope *rope, int stop)
{
	const rn_span *span = net->spans + rope->first_span;
	while (span->to <= stop)
		span++;
	return span;
}

static void set_range(const rn_extent *e, double scale, rn_span_result *span)
{
	span->has_range = e->found;
	span->open_below = e->open_below;
	span->open_above = e->open_above;
	/* a bound of the program may lie a rounding inside the force that was found */
	span->tension_least = e->open_below ? 0 : fmin(scale * e->least, span->tension);
	span->tension_most = e->open_above ? 0 : fmax(scale * e->most, span->tension);
}

static rn_status say_range(rn_settler *s, const rn_span_result *span)
{
	rn_note note = {.kind = span->open_above ? RN_NOTE_PICTURE_RANGE_OPEN : RN_NOTE_PICTURE_RANGE,
	                .a = span->member,
	                .b = rn_object_of(RN_NODE, span->from),
	                .c = rn_object_of(RN_NODE, span->to),
	                .value = {span->tension_least, span->tension_most}};
	return rn_notes_add(s->notes_arena, s->notes, note);
}

static bool comes_to(const rn_network *net, const rn_rope *rope, int node)
{
	for (int i = 0; i < rope->stop_count; i++)
		if (net->stops[rope->first_stop + i].node == node)
			return true;
	return false;
}

/* A limit is not held against a force that a guess has shared out. */
static void uncheck(const rn_network *net, const rn_rope *rope, rn_case_result *answer)
{
	for (int p = 0; p < answer->part_count; p++) {
		rn_part_result *part = &answer->parts[p];
		bool is_member = part->object.kind == rope->member.kind;
		bool rests = is_member ? part->object.index == rope->member.index
		                       : (part->object.kind == RN_NODE || part->object.kind == RN_ITEM) &&
		                                 comes_to(net, rope, part->at);
		if (!rests || part->unchecked != RN_CHECKED)
			continue;
		part->unchecked = RN_STRETCH_UNKNOWN;
		part->limit = part->utilisation = 0;
	}
}

static rn_status tell_rope(rn_settler *s, const rn_rope *rope, const rn_extent *e, int first_span,
                           rn_case_result *answer)
{
	const rn_network *net = &s->net;
	for (int i = 0; i + 1 < rope->stop_count; i++)
		set_range(e, net->load_scale * span_over(net, rope, rope->first_stop + i)->share,
		          &answer->spans[first_span + i]);
	if (!reaches(e, range_least))
		return RN_OK;
	RN_TRY(say_range(s, &answer->spans[first_span]));
	if (!reaches(e, range_matters) || stretch_given(net->model, rope->member))
		return RN_OK;
	uncheck(net, rope, answer);
	rn_note note = {.kind = RN_NOTE_PICTURE_EQUAL_STRETCH,
	                .a = rope->member,
	                .b = rn_object_of(RN_NODE, RN_NONE),
	                .c = rn_object_of(RN_NODE, RN_NONE)};
	return rn_notes_add(s->notes_arena, s->notes, note);
}

static rn_status tell_all(rn_settler *s, const rn_keeper *k, const rn_extent *extents,
                          rn_case_result *answer)
{
	int first_span = 0;
	for (int r = 0; r < s->net.rope_count; r++) {
		const rn_rope *rope = &s->net.ropes[r];
		if (k->rope_column[r] != RN_NONE)
			RN_TRY(tell_rope(s, rope, &extents[k->rope_column[r]], first_span, answer));
		first_span += rope->stop_count - 1;
	}
	return RN_OK;
}

rn_status rn_keep_ranges(rn_settler *s, rn_keeper *k, rn_case_result *answer)
{
	if (answer->picture.open_count == 0)
		return RN_OK;
	rn_arena arena = rn_arena_make(&s->notes_arena->allocator);
	rn_extent *extents = rn_arena_take(&arena, (size_t)k->columns, sizeof *extents);
	rn_program program = {.rows = k->rows,
	                      .columns = k->columns,
	                      .matrix = k->fit.matrix,
	                      .right = k->balanced,
	                      .is_free = k->fit.is_free};
	rn_status status = extents ? rn_program_extents(&program, extents) : RN_STATUS_MEMORY;
	if (status == RN_OK)
		status = tell_all(s, k, extents, answer);
	rn_arena_release(&arena);
	return status;
}
