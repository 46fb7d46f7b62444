/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Force polygons of every node of every model, in every case: edges as long as their forces, end to end, closed;
 * letters neither over each other nor off the sheet.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "io/figure/polygon.h"
#include "tests/scenes.h"

/* Of a length on paper [mm]: what a pen draws. */
static const double seen = 0.02;

/* The longest way from the beginning of the first edge to a place any edge goes to, and how far the last is from
 * it: an edge is a shaft and, if it has one, a head whose first point is its tip. */
static double open_end(const rn_scene *scene)
{
	const rn_mark_group *group = scenes_group(scene, "force polygon");
	double first[2] = {0}, last[2] = {0};
	size_t seen_edges = 0;
	for (size_t i = group->first; i < group->end && seen_edges < scene->tail_count; i++) {
		const rn_mark *mark = &scene->marks[i];
		const double(*points)[2] = (const double(*)[2])(scene->points + mark->first_point);
		if (mark->shape != RN_SHAPE_LINE)
			continue;
		if (seen_edges == 0)
			memcpy(first, points[0], sizeof first);
		bool headed = i + 1 < group->end && scene->marks[i + 1].shape == RN_SHAPE_POLYGON;
		memcpy(last, headed ? scene->points[scene->marks[i + 1].first_point] : points[1], sizeof last);
		double length = hypot(last[0] - points[0][0], last[1] - points[0][1]);
		assert_true(fabs(length - scene->tails[seen_edges].length) < seen);
		assert_true(fabs(scene->tails[seen_edges].force * scene->force_scale - length) < seen);
		seen_edges++;
	}
	assert_int_equal(seen_edges, scene->tail_count);
	return hypot(last[0] - first[0], last[1] - first[1]);
}

static int look_at_case(const rn_result *result, int c)
{
	rn_allocator allocator = rn_allocator_default();
	int drawn = 0;
	for (int node = 0; node < result->model->node_count; node++) {
		rn_scene scene;
		rn_status status = rn_polygon_scene(&allocator, result, c, node, NULL, &scene);
		if (status == RN_OK) {
			drawn++;
			assert_true(open_end(&scene) < 3 * seen);
			scenes_letters_apart(&scene);
			assert_int_equal(scene.labels_left_out, 0);
		} else {
			assert_int_equal(status, RN_STATUS_ARGUMENT);
		}
		rn_scene_release(&scene);
	}
	return drawn;
}

static int look_at_cases(const rn_result *result)
{
	int drawn = 0;
	for (int c = 0; c < result->case_count; c++)
		drawn += look_at_case(result, c);
	return drawn;
}

static void polygons_close(void **state)
{
	(void)state;
	int drawn = scenes_each_answer(look_at_cases);
	print_message("%d polygons\n", drawn);
	assert_true(drawn > 200);
}

static void what_carries_nothing_has_none(void **state)
{
	(void)state;
	scenes_refused(rn_polygon_scene);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(polygons_close),
		cmocka_unit_test(what_carries_nothing_has_none),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
