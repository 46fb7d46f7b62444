/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/diagram.h"

#include <math.h>

#include "io/figure/plate.h"
#include "io/report/finite.h"

/* Heights run from `ground_line` up to `top_line`; the columns stand side by side [mm]. */
static const double top_line = 58, ground_line = 178, words_line = 187, stem_left = 15, stem_axis = 30, stem_right = 84;
static const double column_left = 90, column_wide = 44, column_apart = 50.5;
static const double letters_most = 0.72; /* of a column, for its curve: the rest is for letters [-] */
static const double tick_apart = 9;      /* of height, at least [mm] */
/* Two points of a curve nearer than this on paper, or as far as this from its line, have one label [mm]. */
static const double apart_enough = 7, value_apart = 0.5;

/* A limit is drawn where it is less than this many times the largest stress, else only told [-]. */
static const double limit_near = 3;

typedef enum quantity { PUSH, SHEAR, MOMENT, PRESSED, DRAWN } quantity;

typedef struct diagram {
	rn_plate plate;
	const rn_model *model;
	const rn_stem_result *stem;
	double *values;
	rn_profile profile;
	double (*points)[2]; /* room for one curve */
	double rise;         /* mm on paper for each m of height */
} diagram;

static double value_of(const rn_stem_section *s, quantity q)
{
	switch (q) {
	case PUSH: return s->axial;
	case SHEAR: return s->shear;
	case MOMENT: return s->moment;
	case PRESSED: return s->compression;
	case DRAWN: return s->tension;
	}
	return 0;
}

static const char *keep(diagram *d)
{
	return rn_plate_keep(&d->plate);
}

static double line_of(const diagram *d, double height)
{
	return ground_line - d->rise * height;
}

/* Nearest, with its unit. */
static void say_value(diagram *d, quantity q, double value)
{
	rn_buffer *text = &d->plate.text;
	switch (q) {
	case PUSH:
	case SHEAR: rn_words_force(text, fabs(value), RN_NEAREST, d->plate.units); break;
	case MOMENT: rn_words_moment(text, fabs(value), RN_NEAREST, d->plate.units); break;
	default: rn_words_stress(text, value, RN_NEAREST, d->plate.units);
	}
}

/* ---- the stem ------------------------------------------------------------------------------------- */

static double height_on(const diagram *d, int node)
{
	return rn_model_value(d->model, d->values, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_HEIGHT, 0);
}

/* To scale in both directions, as if it stood upright. */
static void draw_wood(diagram *d)
{
	int count = d->profile.count, used = 0;
	for (int side = -1; side <= 1; side += 2)
		for (int i = 0; i < count; i++) {
			const rn_stem_section *s = &d->profile.sections[side < 0 ? i : count - 1 - i];
			rn_scene_from_paper(d->plate.scene, stem_axis + side * s->diameter / 2 * d->rise, line_of(d, s->height),
			                    d->points[used++]);
		}
	rn_scene_polygon(d->plate.scene, RN_ROLE_STEM, (const double(*)[2])d->points, used);
}

static void draw_heights(diagram *d, double top)
{
	double unit = d->plate.units == RN_US ? 0.3048 : 1;
	double step = rn_plate_round_down(tick_apart / (d->rise * unit) * 2.49);
	for (double h = 0; h * unit <= top * (1 + 1e-9); h += step) {
		double y = line_of(d, h * unit);
		rn_plate_line(&d->plate, RN_ROLE_RULE, stem_left - 2, y, stem_left, y);
		rn_words_number(&d->plate.text, h);
		rn_plate_text(&d->plate, RN_TEXT_SMALL, rn_plate_margin - 2, y + 1, keep(d));
	}
	rn_plate_line(&d->plate, RN_ROLE_RULE, stem_left, line_of(d, 0), stem_left, line_of(d, top));
	rn_plate_text(&d->plate, RN_TEXT_SMALL, rn_plate_margin - 2, top_line - 5, d->plate.units == RN_US ? "ft" : "m");
}

static void draw_pull(diagram *d, int node)
{
	const double *pull = d->plate.answer->nodes[node].pull;
	double height = height_on(d, node), size = hypot(pull[0], pull[1]), at[2], axis[2], thick;
	if (size <= rn_words_nothing)
		return;
	rn_stem_at(d->model, d->values, d->stem->stem, height, axis, &thick);
	rn_scene_from_paper(d->plate.scene, stem_axis, line_of(d, height), at);
	rn_scene_circle(d->plate.scene, RN_ROLE_PIN, at, 0.8);
	rn_words_object(&d->plate.text, d->model, rn_object_of(RN_NODE, node));
	rn_buffer_char(&d->plate.text, ' ');
	rn_words_force(&d->plate.text, size, RN_UP, d->plate.units);
	rn_buffer_char(&d->plate.text, ' ');
	rn_words_direction(&d->plate.text, pull, RN_POINT_SHORT);
	at[0] += thick / 2 * d->rise;
	rn_plate_label(&d->plate, 2, RN_TEXT_SMALL, keep(d), at, 1, 0);
}

static void draw_stem(diagram *d, double top)
{
	rn_scene_open_group(d->plate.scene, "stem");
	draw_wood(d);
	draw_heights(d, top);
	for (int i = 0; i < d->model->node_count; i++)
		if (d->model->nodes[i].stem == d->stem->stem)
			draw_pull(d, i);
	rn_scene_close_group(d->plate.scene);
	rn_plate_place_labels(&d->plate, (double[4]){stem_left + 2, top_line - 3, stem_right + 2, ground_line + 3});
}

/* ---- a column --------------------------------------------------------------------------------------- */

typedef struct column {
	double zero;  /* of its scale, on paper [mm] */
	double scale; /* mm for each N, N m or Pa */
} column;

static void take_in(const diagram *d, quantity q, double *least, double *most)
{
	for (int i = 0; i < d->profile.count; i++) {
		*least = fmin(*least, value_of(&d->profile.sections[i], q));
		*most = fmax(*most, value_of(&d->profile.sections[i], q));
	}
}

static column column_for(double left, double least, double most)
{
	double wide = letters_most * column_wide, range = most - least;
	column c = {.scale = range > 0 ? wide / range : 0};
	c.zero = left + (column_wide - wide) / 2 - c.scale * least;
	return c;
}

static void label_at(diagram *d, const column *c, quantity q, int i, int rank)
{
	const rn_stem_section *s = &d->profile.sections[i];
	double at[2], value = value_of(s, q);
	rn_scene_from_paper(d->plate.scene, c->zero + c->scale * value, line_of(d, s->height), at);
	say_value(d, q, value);
	rn_plate_label(&d->plate, rank, RN_TEXT_SMALL, keep(d), at, value < 0 ? -1 : 1, 0.3);
}

/* The value at the worst section, and the largest to each side. */
static void label_curve(diagram *d, const column *c, quantity q)
{
	int least = 0, most = 0, worst = 0, marked[3] = {0}, count = 0;
	for (int i = 0; i < d->profile.count; i++) {
		const rn_stem_section *s = &d->profile.sections[i];
		double value = value_of(s, q);
		least = value < value_of(&d->profile.sections[least], q) ? i : least;
		most = value > value_of(&d->profile.sections[most], q) ? i : most;
		double off = fabs(s->height - d->stem->height), best = fabs(d->profile.sections[worst].height - d->stem->height);
		worst = off < best ? i : worst;
	}
	const int wanted[3] = {worst, most, least};
	for (int k = 0; k < 3; k++) {
		bool again = false;
		double value = value_of(&d->profile.sections[wanted[k]], q);
		for (int j = 0; j < count; j++) {
			double other = value_of(&d->profile.sections[marked[j]], q);
			double up = d->profile.sections[wanted[k]].height - d->profile.sections[marked[j]].height;
			double aside = fabs(value - other) * c->scale;
			again = again || aside < value_apart || (fabs(up) * d->rise < apart_enough && aside < apart_enough);
		}
		if (again || fabs(value) * c->scale < 0.3)
			continue;
		marked[count++] = wanted[k];
		label_at(d, c, q, wanted[k], k);
	}
}

static void draw_curve(diagram *d, const column *c, quantity q, rn_role role)
{
	int used = 0, count = d->profile.count;
	bool filled = role != RN_ROLE_GHOST;
	if (filled)
		rn_scene_from_paper(d->plate.scene, c->zero, line_of(d, d->profile.sections[0].height), d->points[used++]);
	for (int i = 0; i < count; i++) {
		const rn_stem_section *s = &d->profile.sections[i];
		rn_scene_from_paper(d->plate.scene, c->zero + c->scale * value_of(s, q), line_of(d, s->height), d->points[used++]);
	}
	if (filled) {
		rn_scene_from_paper(d->plate.scene, c->zero, line_of(d, d->profile.sections[count - 1].height), d->points[used++]);
		rn_scene_polygon(d->plate.scene, role, (const double(*)[2])d->points, used);
	} else {
		rn_scene_line(d->plate.scene, role, 0.5, (const double(*)[2])d->points, used);
	}
	rn_plate_line(&d->plate, RN_ROLE_FRAME, c->zero, line_of(d, d->profile.sections[0].height), c->zero,
	              line_of(d, d->profile.sections[count - 1].height));
	label_curve(d, c, q);
}

static void end_column(diagram *d, double left)
{
	rn_scene_close_group(d->plate.scene);
	rn_plate_place_labels(&d->plate, (double[4]){left - 3, top_line - 3, left + column_wide + 3, ground_line + 3});
}

static double begin_column(diagram *d, int index, const char *title, const char *below)
{
	double left = column_left + index * column_apart;
	rn_plate_text(&d->plate, RN_TEXT_STRONG, left - 2, top_line - 11, title);
	rn_plate_text(&d->plate, RN_TEXT_SMALL, left - 2, top_line - 6, below);
	rn_scene_open_group(d->plate.scene, title);
	return left;
}

static void draw_force(diagram *d, int index, quantity q, const char *title, const char *below)
{
	double least = 0, most = 0, left = begin_column(d, index, title, below);
	take_in(d, q, &least, &most);
	column c = column_for(left, least, most);
	draw_curve(d, &c, q, RN_ROLE_TAIL_SLING);
	end_column(d, left);
}

static double allowed(const diagram *d, double strength)
{
	bool known = d->stem->unchecked == RN_CHECKED && strength > 0 && d->stem->design_factor > 0;
	return known ? strength / d->stem->design_factor : 0;
}

static void draw_limit(diagram *d, const column *c, double limit, const char *name)
{
	double top = d->profile.sections[d->profile.count - 1].height, at[2], x = c->zero + c->scale * limit;
	rn_plate_line(&d->plate, RN_ROLE_KEEP_OUT, x, line_of(d, 0), x, line_of(d, top));
	rn_scene_from_paper(d->plate.scene, x, line_of(d, top) + 8, at);
	rn_buffer_format(&d->plate.text, "%s: allowed ", name);
	rn_words_stress(&d->plate.text, limit, RN_DOWN, d->plate.units);
	rn_plate_label(&d->plate, 1, RN_TEXT_SMALL, keep(d), at, -1, 0);
}

static void draw_stress(diagram *d)
{
	double left = begin_column(d, 3, "Stress of the wood", "filled: pressed side; dashed: drawn");
	double least = 0, most = 0;
	take_in(d, PRESSED, &least, &most);
	take_in(d, DRAWN, &least, &most);
	const double limits[2] = {allowed(d, d->stem->compression_strength), allowed(d, d->stem->bending_strength)};
	double widest = most;
	for (int k = 0; k < 2; k++)
		widest = limits[k] < limit_near * most ? fmax(widest, limits[k]) : widest;
	column c = column_for(left, least, widest);
	draw_curve(d, &c, PRESSED, RN_ROLE_TAIL_SLING);
	draw_curve(d, &c, DRAWN, RN_ROLE_GHOST);
	for (int k = 0; k < 2; k++)
		if (limits[k] > 0 && limits[k] <= widest)
			draw_limit(d, &c, limits[k], k ? "drawn" : "pressed");
	end_column(d, left);
}

/* ---- what is said ------------------------------------------------------------------------------------ */

static void draw_worst(diagram *d)
{
	double y = line_of(d, d->stem->height);
	rn_scene_open_group(d->plate.scene, "worst section");
	rn_plate_line(&d->plate, RN_ROLE_GHOST, stem_left, y, rn_plate_width - rn_plate_margin, y);
	rn_scene_close_group(d->plate.scene);
}

static void say_worst(diagram *d)
{
	const rn_stem_result *s = d->stem;
	rn_buffer *text = &d->plate.text;
	rn_buffer_text(text, "Worst section (dashed across): ");
	rn_words_stem_height(text, d->model, s, d->plate.units);
	rn_buffer_text(text, ", ");
	if (s->unchecked == RN_CHECKED) {
		rn_words_stem_limit(text, s, d->plate.units);
		rn_buffer_text(text, " is ");
		rn_words_percent(text, s->utilisation);
		rn_buffer_text(text, s->utilisation > 1 ? ", OVER." : ".");
	} else {
		rn_buffer_format(text, "not checked (%s).", rn_words_unchecked(s->unchecked));
	}
}

static void write_words(diagram *d)
{
	say_worst(d);
	const char *worst = keep(d);
	rn_plate_text(&d->plate, d->stem->utilisation > 1 ? RN_TEXT_ALERT : RN_TEXT_STRONG, rn_plate_margin, words_line, worst);
	rn_buffer_text(&d->plate.text, "To the right: N pushes, V pushes what is above to the right, M bends the top to the right. ");
	if (d->model->stems[d->stem->stem].on != RN_NONE)
		rn_buffer_text(&d->plate.text, "Heights run along the branch. ");
	if (d->stem->growth > 1.001) {
		rn_buffer_text(&d->plate.text, "Stress is of M times ");
		rn_buffer_fixed(&d->plate.text, d->stem->growth, 3);
		rn_buffer_text(&d->plate.text, ", for buckling.");
	}
	rn_plate_text(&d->plate, RN_TEXT_SMALL, rn_plate_margin, words_line + 5, keep(d));
	rn_buffer_text(&d->plate.text, worst);
	d->plate.scene->description = keep(d);
}

static void compose(diagram *d, const rn_figure_options *options)
{
	double top = d->profile.sections[d->profile.count - 1].height;
	d->rise = (ground_line - top_line) / top;
	rn_scene_open_group(d->plate.scene, "sheet");
	rn_plate_head(&d->plate, "Along", rn_object_of(RN_STEM, d->stem->stem));
	write_words(d);
	rn_plate_foot(&d->plate, options);
	rn_scene_close_group(d->plate.scene);
	draw_worst(d);
	draw_stem(d, top);
	draw_force(d, 0, PUSH, "Push N", "along the stem");
	draw_force(d, 1, SHEAR, "Shear V", "across the stem");
	draw_force(d, 2, MOMENT, "Bending moment M", "lever of all that is above");
	draw_stress(d);
}

static rn_status make(rn_scene *scene, const rn_result *result, int case_index, int stem,
                      const rn_figure_options *options)
{
	const rn_model *m = result->model;
	diagram *d = rn_pool_take(&scene->pool, 1, sizeof *d);
	rn_options solving = rn_options_default();
	if (!d)
		return RN_STATUS_MEMORY;
	*d = (diagram){.model = m};
	solving.allocator = scene->pool.allocator;
	RN_TRY(rn_profile_find(result, case_index, stem, &solving, &d->profile));
	d->values = rn_pool_take(&scene->pool, (size_t)m->number_count + 1, sizeof *d->values);
	d->points = rn_pool_take(&scene->pool, 2 * (size_t)d->profile.count + 2, sizeof *d->points);
	if (d->values && d->points) {
		rn_plate_begin(&d->plate, scene, result, case_index, options);
		d->stem = &d->plate.answer->stems[stem];
		rn_case_values(m, &m->cases[d->plate.answer->case_index], d->values);
		compose(d, options);
		rn_plate_end(&d->plate);
	}
	rn_profile_release(&d->profile);
	return rn_scene_status(scene);
}

rn_status rn_diagram_scene(const rn_allocator *allocator, const rn_result *result, int case_index, int stem,
                           const rn_figure_options *options, rn_scene *scene_out)
{
	static const rn_figure_options plain = {.units = RN_METRIC};
	*scene_out = rn_scene_make(allocator);
	if (case_index < 0 || case_index >= result->case_count)
		return RN_STATUS_ARGUMENT;
	RN_TRY(rn_finite_check(result));
	return make(scene_out, result, case_index, stem, options ? options : &plain);
}
