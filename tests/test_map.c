/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Varied numbers as a figure, of every model: letters neither overlap nor leave the sheet, none is left out, curves pass
 * where the answers are, cells look as their answers are, and what is over is never told by colour alone.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "io/figure/curve.h"
#include "io/figure/map.h"
#include "io/report/varied.h"
#include "tests/scenes.h"

static const double seen = 0.02; /* of a length on paper [mm] */
static const double field_bottom = 176, field_high = 124;

static const rn_object no_part = {RN_NODE, RN_NONE};

static rn_varied varied_of(const rn_model *m, const rn_varied_number *of, int count, int steps, rn_object part)
{
	rn_options options = rn_options_default();
	const int both[] = {steps, steps};
	rn_varied v;
	options.stretch_check = false;
	assert_int_equal(rn_vary_find(m, &options, of, count, both, part, &v), RN_OK);
	return v;
}

static rn_varied_number number_of(const rn_model *m, const char *name, double from, double to)
{
	rn_varied_number of = {rn_altered_number(m, name), from, to};
	assert_true(of.number != RN_NONE);
	return of;
}

static int marks_of(const rn_scene *scene, const char *group, rn_role role)
{
	const rn_mark_group *g = scenes_group(scene, group);
	int count = 0;
	for (size_t i = g->first; i < g->end; i++)
		count += scene->marks[i].role == role;
	return count;
}

/* Marks of a kind in one square of paper [mm]. */
static int marks_in(const rn_scene *scene, const char *group, rn_role role, const double low[2], const double high[2])
{
	const rn_mark_group *g = scenes_group(scene, group);
	int count = 0;
	for (size_t i = g->first; i < g->end; i++) {
		const rn_mark *mark = &scene->marks[i];
		double middle[2] = {0, 0}, paper[2];
		for (int k = 0; k < mark->point_count; k++)
			for (int axis = 0; axis < 2; axis++)
				middle[axis] += scene->points[mark->first_point + (size_t)k][axis] / mark->point_count;
		rn_scene_to_paper(scene, middle, paper);
		bool inside = paper[0] > low[0] && paper[0] < high[0] && paper[1] > low[1] && paper[1] < high[1];
		count += mark->role == role && inside;
	}
	return count;
}

static void sheet_holds(const rn_scene *scene)
{
	scenes_letters_apart(scene);
	if (scene->labels_left_out != 0)
		fail_msg("%s: %d labels left out", scene->title, scene->labels_left_out);
}

/* ---- curves ------------------------------------------------------------------------------------ */

/* Whether some mark of a group has a point there on paper. */
static bool passes(const rn_scene *scene, const char *group, double x, double y)
{
	const rn_mark_group *g = scenes_group(scene, group);
	for (size_t i = g->first; i < g->end; i++)
		for (int k = 0; k < scene->marks[i].point_count; k++) {
			double paper[2];
			rn_scene_to_paper(scene, scene->points[scene->marks[i].first_point + (size_t)k], paper);
			if (fabs(paper[0] - x) < seen && fabs(paper[1] - y) < seen)
				return true;
		}
	return false;
}

/* The head of the scale, from where the limit is drawn. */
static double head_of(const rn_scene *scene)
{
	double paper[2];
	rn_scene_to_paper(scene, scene->points[scene->marks[scenes_group(scene, "limit")->first].first_point], paper);
	return field_high / (field_bottom - paper[1]);
}

static void curve_holds(const rn_varied *v)
{
	rn_allocator allocator = rn_allocator_default();
	rn_scene scene;
	assert_int_equal(rn_curve_scene(&allocator, v, NULL, NULL, &scene), RN_OK);
	sheet_holds(&scene);
	double head = head_of(&scene);
	bool over = false, lost = false;
	for (int i = 0; i < v->counts[0]; i++) {
		double share = v->tried[i].utilisation, x = 24 + 202.0 * i / (v->counts[0] - 1);
		lost = lost || rn_varied_kind(&v->tried[i]) == RN_CHOICE_LOST;
		over = over || (rn_varied_kind(&v->tried[i]) == RN_CHOICE_OVER && (share < head || i == 0 || v->tried[i - 1].utilisation < head));
		bool alone = (i == 0 || rn_varied_kind(&v->tried[i - 1]) < RN_CHOICE_OVER) &&
		             (i + 1 == v->counts[0] || rn_varied_kind(&v->tried[i + 1]) < RN_CHOICE_OVER);
		if (rn_varied_kind(&v->tried[i]) >= RN_CHOICE_OVER && !alone && share < head)
			assert_true(passes(&scene, "closest", x, field_bottom - field_high * share / head));
	}
	assert_int_equal(marks_of(&scene, "closest", RN_ROLE_CURVE_OVER) > 0, over);
	assert_int_equal(scenes_group(&scene, "gaps")->end > scenes_group(&scene, "gaps")->first, lost);
	rn_scene_release(&scene);
}

/* A weight from nothing to too much, and a height from hanging to falling, in every model that has them. */
static int look_at_curves(const rn_result *result)
{
	const rn_model *m = result->model;
	int count = 0;
	for (int i = 0; i < m->number_count && !m->drawn_under_load && m->fall_count == 0; i++) {
		const rn_number *n = &m->numbers[i];
		bool weight = n->attribute == RN_ATTRIBUTE_WEIGHT && rn_is_piece(m, n->object) && n->value > 0;
		bool height = n->attribute == RN_ATTRIBUTE_Y && rn_is_piece(m, n->object);
		if ((!weight && !height) || n->origin != RN_GIVEN || m->case_count > 4)
			continue;
		const rn_varied_number of = {i, weight ? n->value / 10 : n->value - 1, weight ? n->value * 6 : n->value + 6};
		rn_varied v = varied_of(m, &of, 1, 6, no_part);
		curve_holds(&v);
		rn_vary_release(&v);
		count++;
	}
	return count;
}

static void curves_hold(void **state)
{
	(void)state;
	int count = scenes_each_answer(look_at_curves);
	print_message("%d sheets of curves\n", count);
	assert_true(count > 25);
}

/* ---- maps -------------------------------------------------------------------------------------- */

static void cells_hold(const rn_scene *scene, const rn_varied *v)
{
	static const struct {
		double from;
		rn_role role;
	} shades[] = {{0.9, RN_ROLE_SHADE_4}, {0.75, RN_ROLE_SHADE_3}, {0.5, RN_ROLE_SHADE_2}, {0.25, RN_ROLE_SHADE_1}};
	double wide = 182.0 / v->counts[0], high = field_high / v->counts[1];
	for (int i = 0; i < v->counts[0] * v->counts[1]; i++) {
		const rn_tried *t = &v->tried[i];
		double low[2] = {24 + i % v->counts[0] * wide, field_bottom - (i / v->counts[0] + 1) * high};
		double far[2] = {low[0] + wide, low[1] + high};
		bool over = rn_varied_kind(t) == RN_CHOICE_OVER, lost = rn_varied_kind(t) == RN_CHOICE_LOST, shaded = false;
		assert_int_equal(marks_in(scene, "cells", RN_ROLE_CROSS, low, far) > 2, over);
		assert_int_equal(marks_in(scene, "cells", RN_ROLE_RULE, low, far) == 2, lost);
		for (int k = 0; k < 4; k++) {
			bool wanted = !over && !lost && !shaded && t->utilisation >= shades[k].from;
			shaded = shaded || wanted;
			assert_int_equal(marks_in(scene, "cells", shades[k].role, low, far), wanted);
		}
	}
}

static void maps_hold(void **state)
{
	(void)state;
	static const struct {
		const char *model, *numbers[2];
		double ends[2][2];
	} boxes[] = {{"floating-redirect.xml", {"long.reach", "top.height"}, {{1, 6}, {8, 12}}},
	             {"three-legs.xml", {"hub.x", "log.weight"}, {{-1, 4}, {500, 9000}}},
	             {"basket-sling.xml", {"log.weight", "log.y"}, {{500, 9000}, {3, 9}}}};
	rn_allocator allocator = rn_allocator_default();
	for (size_t k = 0; k < sizeof boxes / sizeof *boxes; k++)
		for (int steps = 3; steps <= 30; steps = 3 * steps + 1) {
			rn_document *d = models_read(boxes[k].model);
			rn_varied_number of[2];
			rn_scene scene;
			for (int i = 0; i < 2; i++)
				of[i] = number_of(d->model, boxes[k].numbers[i], boxes[k].ends[i][0], boxes[k].ends[i][1]);
			rn_varied v = varied_of(d->model, of, 2, steps, no_part);
			assert_int_equal(rn_map_scene(&allocator, &v, NULL, NULL, &scene), RN_OK);
			sheet_holds(&scene);
			cells_hold(&scene, &v);
			rn_scene_release(&scene);
			rn_vary_release(&v);
			rn_document_destroy(d);
		}
}

/* The best of one part, of one that is not checked too, in both kinds of figure and both systems of units. */
static void the_best_is_drawn(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_document *d = models_read("three-legs.xml");
	rn_options options = rn_options_default();
	const int steps[] = {5, 5};
	const rn_varied_number of[] = {number_of(d->model, "hub.x", -1, 4), number_of(d->model, "hub.y", 5, 8)};
	static const char *const parts[] = {"ash", "beech-leg", "hub", NULL};
	for (int i = 0; i < 4; i++)
		for (int count = 1; count <= 2; count++) {
			rn_placed p;
			rn_scene scene;
			rn_figure_options figure = {i % 2 ? RN_US : RN_METRIC, "three-legs.xml", "00ff", i % 2 ? RN_PAPER_LETTER : RN_PAPER_A4};
			rn_object part = parts[i] ? rn_model_object_by_id(d->model, parts[i]) : no_part;
			assert_int_equal(rn_place_find(d->model, &options, of, count, steps, part, &p), RN_OK);
			assert_true(p.found);
			assert_int_equal((count == 1 ? rn_curve_scene : rn_map_scene)(&allocator, &p.map, &p, &figure, &scene), RN_OK);
			sheet_holds(&scene);
			assert_true(marks_of(&scene, "marks", count == 1 ? RN_ROLE_CLOSEST : RN_ROLE_STEEL) > 0);
			rn_scene_release(&scene);
			rn_place_release(&p);
		}
	rn_document_destroy(d);
}

static void wrong_kind_is_refused(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_document *d = models_read("three-legs.xml");
	const rn_varied_number of[] = {number_of(d->model, "hub.x", -1, 4), number_of(d->model, "hub.y", 5, 8)};
	for (int count = 1; count <= 2; count++) {
		rn_varied v = varied_of(d->model, of, count, 2, no_part);
		rn_scene scene;
		assert_int_equal((count == 2 ? rn_curve_scene : rn_map_scene)(&allocator, &v, NULL, NULL, &scene), RN_STATUS_ARGUMENT);
		rn_scene_release(&scene);
		rn_vary_release(&v);
	}
	rn_document_destroy(d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(curves_hold),
		cmocka_unit_test(maps_hold),
		cmocka_unit_test(the_best_is_drawn),
		cmocka_unit_test(wrong_kind_is_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
