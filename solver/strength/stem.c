/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/strength/stem.h"

#include <math.h>

#include "solver/model/place.h"

/* Elements of a stem as far up as the rigging presses it, and of what idly stands above. Push and taper
 * count within each; 40 find the push a tapering spar buckles at to 3e-7 (20: 4e-6, 10: 6e-5). */
enum { PRESSED_ELEMENTS = 40, IDLE_ELEMENTS = 10 };

/* Elements end where something enters, but none is shorter than this part of the others [-]: bending
 * stiffness goes with its third power, and would leave the rest to rounding. */
static const double element_least = 0.01;

/* A bay is looked at in so many steps; between the three that enclose a peak it is then found by golden
 * section, which narrows them to the root of rounding. */
enum { BAY_STEPS = 32, GOLDEN_STEPS = 40 };
static const double golden = 0.61803398874989485; /* (sqrt(5) - 1) / 2 */

/* Between two steps the need of a section rises above both by far less than this part of itself [-]: a peak
 * that is lower by more than this than the worst so far is left alone. */
static const double peak_most = 0.05;

/* Two stresses, or sums of forces, nearer than this part of themselves are alike [-]: only rounding lies
 * between. Of heights that are alike the lowest is told. */
static const double alike = 1e-12;

rn_status rn_stems_create(rn_arena *arena, const rn_model *m, rn_stems *stems_out,
                          rn_stem_result **results_out)
{
	rn_stems stems;
	rn_stem_result *results;
	RN_TRY(rn_bays_create(arena, m, &stems.bays));
	RN_TRY(rn_column_create(arena, PRESSED_ELEMENTS + IDLE_ELEMENTS + rn_bays_room(m), &stems.column));
	RN_TAKE(arena, results, m->stem_count + 1);
	*stems_out = stems;
	*results_out = results;
	return RN_OK;
}

static double stem_value(const rn_model *m, const double *values, int stem, rn_attribute attribute)
{
	return rn_model_value(m, values, rn_object_of(RN_STEM, stem), attribute, 0);
}

/* ---- buckling -------------------------------------------------------------------------------- */

/* A branch is clamped where it grows out of its parent: that this gives as well is left out. */
static void add_element(rn_column *column, const rn_bays *b, double from, double length, double modulus)
{
	rn_column_element element = {.length = length};
	for (int p = 0; p < RN_COLUMN_POINTS; p++) {
		double height = from + length * rn_column_point(p);
		const rn_bay *bay = rn_bays_find(b, height, false);
		double inertia = rn_section_inertia(rn_bays_diameter(b, bay, height), bay->wall);
		element.stiffness[p] = modulus * inertia;
		element.rigging[p] = bay->rigging_push;
		element.standing[p] = rn_bays_forces(b, bay, height).axial - bay->rigging_push;
	}
	rn_column_add(column, &element);
}

/* In equal elements none longer than `longest`, but for rounding. */
static void add_elements(rn_column *column, const rn_bays *b, double from, double to, double longest,
                         double modulus)
{
	double share = ceil((to - from) / longest - element_least);
	int count = share > 1 ? (int)share : 1;
	double length = (to - from) / count;
	for (int i = 0; i < count; i++)
		add_element(column, b, from + i * length, length, modulus);
}

/* Height up to which the rigging presses or pulls along the stem; all of it where it does so nowhere. */
static double pressed_height(const rn_bays *b)
{
	for (int i = b->count - 1; i >= 0; i--)
		if (b->bays[i].rigging_push != 0)
			return b->bays[i].to;
	return b->top;
}

static double buckling(rn_column *column, const rn_bays *b, double modulus)
{
	double pressed = pressed_height(b), from = 0;
	double length = pressed / PRESSED_ELEMENTS, idle_length = fmax((b->top - pressed) / IDLE_ELEMENTS, length);
	double least = element_least * length;
	if (modulus <= 0)
		return 0;
	rn_column_clear(column);
	for (int i = 0; i < b->count; i++) {
		double to = b->bays[i].to;
		if (to < b->top && (to - from < least || b->top - to < least))
			continue;
		add_elements(column, b, from, to, to <= pressed ? length : idle_length, modulus);
		from = to;
	}
	return rn_column_buckling(column);
}

/* Moments are the larger for the way the axis is bent aside; what buckles is judged by that alone. With
 * p = buckling, u = pi/2 sqrt(p), the exact factor at the foot of a uniform column is tan(u)/u for a side load
 * at its top, which is less, and 1/cos(u) for a push beside the axis there, which is more: by 7 % at p = 0.3,
 * by 4/pi at most (beam-columns, closed form). */
static double growth(double buckling)
{
	return buckling < 1 ? 1 / (1 - buckling) : 1;
}

/* ---- stress ---------------------------------------------------------------------------------- */

static rn_stem_section section_of(const rn_bays *b, const rn_bay *bay, double height, double grown)
{
	rn_bay_forces forces = rn_bays_forces(b, bay, height);
	double diameter = rn_bays_diameter(b, bay, height);
	double modulus = rn_section_inertia(diameter, bay->wall) / (diameter / 2);
	double pressing = forces.axial / rn_section_area(diameter, bay->wall);
	double bending = grown * fabs(forces.moment) / modulus;
	return (rn_stem_section){.height = height,
	                         .diameter = diameter,
	                         .wall = bay->wall < diameter / 2 ? bay->wall : 0,
	                         .axial = forces.axial,
	                         .shear = forces.shear,
	                         .moment = forces.moment,
	                         .compression = fmax(bending + pressing, 0),
	                         .tension = fmax(bending - pressing, 0)};
}

/* One stem loaded, after the branches on it. */
static rn_bays bays_of(const rn_stems *stems, const rn_model *m, const double *values, const rn_case_result *answer,
                       int stem)
{
	rn_bays b = stems->bays;
	for (int i = m->stem_count - 1; i >= stem; i--)
		rn_bays_load(&b, m, values, answer, i);
	return b;
}

void rn_stem_section_at(const rn_stems *stems, const rn_model *m, const double *values,
                        const rn_case_result *answer, int stem, double height, bool above,
                        rn_stem_section *section_out)
{
	rn_bays b = bays_of(stems, m, values, answer, stem);
	double grown = answer->stems ? fmax(answer->stems[stem].growth, 1) : 1;
	const rn_bay *bay = rn_bays_find(&b, height, above);
	*section_out = (rn_stem_section){.height = height};
	if (bay && m->stems[stem].section_count > 0)
		*section_out = section_of(&b, bay, fmax(height, bay->from), grown);
}

int rn_stem_profile_room(const rn_model *m)
{
	return rn_bays_room(m) * (BAY_STEPS + 1);
}

int rn_stem_profile(const rn_stems *stems, const rn_model *m, const double *values, const rn_case_result *answer,
                    int stem, rn_stem_section *sections_out)
{
	rn_bays b = bays_of(stems, m, values, answer, stem);
	double grown = fmax(answer->stems[stem].growth, 1);
	int count = 0;
	for (int i = 0; i < b.count; i++) {
		const rn_bay *bay = &b.bays[i];
		for (int k = 0; k <= BAY_STEPS; k++)
			sections_out[count++] = section_of(&b, bay, bay->from + (bay->to - bay->from) * k / BAY_STEPS, grown);
	}
	return count;
}

/* ---- the worst section ----------------------------------------------------------------------- */

/* How much of the wood's strength a section takes; where that is not known, how hard it is pressed. */
static double need(const rn_stem_result *r, const rn_stem_section *s)
{
	if (r->compression_strength <= 0 || r->bending_strength <= 0)
		return s->compression;
	return fmax(s->compression / r->compression_strength, s->tension / r->bending_strength);
}

typedef struct search {
	const rn_bays *bays;
	const rn_stem_result *result; /* strengths and growth */
	const rn_bay *bay;            /* that is looked at */
	const rn_bay *worst_bay;
	rn_stem_section worst;
	double most; /* need there */
} search;

/* The need at a height; the worst that was ever looked at is kept. */
static double look(search *s, double height)
{
	rn_stem_section section = section_of(s->bays, s->bay, height, s->result->growth);
	double here = need(s->result, &section);
	if (!s->worst_bay || here > s->most * (1 + alike)) {
		s->most = here;
		s->worst = section;
		s->worst_bay = s->bay;
	}
	return here;
}

static void narrow(search *s, double low, double high)
{
	double left = high - golden * (high - low), right = low + golden * (high - low);
	double at_left = look(s, left), at_right = look(s, right);
	for (int i = 0; i < GOLDEN_STEPS; i++)
		if (at_left >= at_right) {
			high = right;
			right = left;
			at_right = at_left;
			left = high - golden * (high - low);
			at_left = look(s, left);
		} else {
			low = left;
			left = right;
			at_left = at_right;
			right = low + golden * (high - low);
			at_right = look(s, right);
		}
}

/* From just above its lower end to just below its upper one: what enters there is not in the bay. */
static void look_through(search *s)
{
	double from = s->bay->from, to = s->bay->to, step = (to - from) / BAY_STEPS;
	double before = -1, here = look(s, from);
	for (int i = 0; i <= BAY_STEPS; i++) {
		double next = i + 1 < BAY_STEPS ? from + (i + 1) * step : to;
		double after = i < BAY_STEPS ? look(s, next) : -1;
		bool is_peak = here > before * (1 + alike) && here >= after;
		if (is_peak && here * (1 + peak_most) > s->most)
			narrow(s, fmax(from + (i - 1) * step, from), fmin(from + (i + 1) * step, to));
		before = here;
		here = after;
	}
}

static search find_worst(const rn_bays *b, const rn_stem_result *result)
{
	search s = {.bays = b, .result = result};
	for (int i = 0; i < b->count; i++) {
		s.bay = &b->bays[i];
		look_through(&s);
	}
	return s;
}

static void set_section(rn_stem_result *r, const rn_stem_section *worst)
{
	r->height = worst->height;
	r->diameter = worst->diameter;
	r->wall = worst->wall;
	r->axial = worst->axial;
	r->shear = worst->shear;
	r->moment = worst->moment;
	r->compression = worst->compression;
	r->tension = worst->tension;
}

/* ---- the rigging's pull ---------------------------------------------------------------------- */

/* Of all rigging on a stem and its branches, and the sum of its sizes, next to which rounding is small. */
static rn_vec2 rigging_pull(const rn_bays *b, double *sizes)
{
	rn_vec2 sum = {0, 0};
	*sizes = 0;
	for (int i = 0; i < b->load_count; i++) {
		const rn_stem_load *load = &b->loads[i];
		if (!load->rigging)
			continue;
		sum = rn_vec2_add(sum, rn_vec2_scale(-load->push, b->along));
		sum = rn_vec2_add(sum, rn_vec2_scale(load->side, b->across));
		*sizes += hypot(load->push, load->side);
	}
	return sum;
}

/* Above the worst section; where nothing pulls there, the most that does anywhere. */
static void set_pull(rn_stem_result *r, const rn_bays *b, const rn_bay *worst)
{
	double sizes;
	rn_vec2 all = rigging_pull(b, &sizes);
	bool pulls = rn_vec2_length(all) > alike * sizes;
	r->pull_direction = pulls ? atan2(all.y, all.x) : 0;
	r->pull = worst ? hypot(worst->rigging_push, worst->rigging_side) : 0;
	if (r->pull > alike * sizes)
		return;
	r->pull = pulls ? rn_vec2_length(all) : 0;
	for (int i = 0; i < b->count; i++)
		r->pull = fmax(r->pull, hypot(b->bays[i].rigging_push, b->bays[i].rigging_side));
}

/* ---- the verdict ----------------------------------------------------------------------------- */

static bool comes_from(const rn_model *m, int stem, rn_attribute attribute, rn_origin origin)
{
	int i = rn_model_find_number(m, rn_object_of(RN_STEM, stem), attribute);
	return i != RN_NONE && m->numbers[i].origin == origin;
}

/* Whether the wood is known well enough to be held against; a guess or an estimate never is. */
static rn_unchecked wood_unchecked(const rn_model *m, const rn_stem_result *r, double modulus)
{
	static const rn_attribute wood[] = {RN_ATTRIBUTE_COMPRESSION, RN_ATTRIBUTE_BENDING,
	                                    RN_ATTRIBUTE_MODULUS, RN_ATTRIBUTE_DENSITY};
	bool guessed = false, estimated = false;
	for (int i = 0; i < 4; i++) {
		guessed = guessed || comes_from(m, r->stem, wood[i], RN_GUESSED);
		/* an estimated weight of the stem itself is near enough */
		estimated = estimated || (i < 3 && comes_from(m, r->stem, wood[i], RN_ESTIMATED));
	}
	if (guessed || r->compression_strength <= 0 || r->bending_strength <= 0 || modulus <= 0)
		return RN_WOOD_UNKNOWN;
	return estimated ? RN_WOOD_ESTIMATED : RN_CHECKED;
}

/* What buckles is over whatever the factor, and whatever is known of its strength. */
static void judge_buckled(rn_stem_result *r)
{
	r->unchecked = RN_CHECKED;
	r->governed = RN_BY_BUCKLING;
	r->utilisation = r->buckling * fmax(r->design_factor, 1);
}

static void govern(rn_stem_result *r, double part_of_strength, rn_governed by)
{
	if (r->governed != RN_BY_NOTHING && r->design_factor * part_of_strength <= r->utilisation)
		return;
	r->utilisation = r->design_factor * part_of_strength;
	r->governed = by;
}

/* Whether something pulls well above the highest section, where the stem may be any thinner: the sections
 * then show it stronger than it is. A place within one thickness of the section is as good as at it. */
static bool is_measured(const rn_model *m, const double *values, const rn_bays *b)
{
	const rn_stem *s = &m->stems[b->stem];
	rn_object last = rn_object_of(RN_SECTION, s->first_section + s->section_count - 1);
	double height = rn_model_value(m, values, last, RN_ATTRIBUTE_HEIGHT, 0);
	return b->top <= height + rn_model_value(m, values, last, RN_ATTRIBUTE_DIAMETER, 0);
}

static void judge(const rn_model *m, rn_stem_result *r, double modulus)
{
	if (r->buckling >= 1) {
		judge_buckled(r);
		return;
	}
	r->unchecked = wood_unchecked(m, r, modulus);
	if (r->unchecked == RN_CHECKED && r->design_factor <= 0)
		r->unchecked = RN_NO_DESIGN_FACTOR;
	if (r->unchecked != RN_CHECKED)
		return;
	govern(r, r->compression / r->compression_strength, RN_BY_CRUSHING);
	govern(r, r->tension / r->bending_strength, RN_BY_BENDING);
	govern(r, r->buckling, RN_BY_BUCKLING);
}

/* ---- a stem ---------------------------------------------------------------------------------- */

static void set_wood(const rn_model *m, const double *values, rn_stem_result *r)
{
	r->compression_strength = stem_value(m, values, r->stem, RN_ATTRIBUTE_COMPRESSION);
	r->bending_strength = stem_value(m, values, r->stem, RN_ATTRIBUTE_BENDING);
	r->design_factor = stem_value(m, values, r->stem, RN_ATTRIBUTE_DESIGN_FACTOR);
}

static void fill(const rn_bays *b, rn_column *column, const rn_model *m, const double *values,
                 rn_stem_result *r)
{
	double modulus = stem_value(m, values, b->stem, RN_ATTRIBUTE_MODULUS);
	set_wood(m, values, r);
	r->buckling = buckling(column, b, modulus);
	r->growth = growth(r->buckling);
	search found = find_worst(b, r);
	if (found.worst_bay)
		set_section(r, &found.worst);
	set_pull(r, b, found.worst_bay);
	judge(m, r, modulus);
	if (r->unchecked == RN_CHECKED && r->utilisation <= 1 && !is_measured(m, values, b))
		r->unchecked = RN_THICKNESS_UNKNOWN;
}

void rn_stems_fill(const rn_stems *stems, const rn_model *m, const double *values,
                   const rn_case_result *answer, rn_stem_result *results)
{
	rn_bays b = stems->bays;
	rn_column column = stems->column;
	/* branches were added after what they grow on, and are weighed before it */
	for (int i = m->stem_count - 1; i >= 0; i--) {
		results[i] = (rn_stem_result){.stem = i, .unchecked = RN_WOOD_UNKNOWN};
		rn_bays_load(&b, m, values, answer, i);
		if (m->stems[i].section_count > 0)
			fill(&b, &column, m, values, &results[i]);
		else
			set_pull(&results[i], &b, NULL);
	}
}
