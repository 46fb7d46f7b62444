/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a stem feels along its height, for every stem of every model in every case. Held against itself and against the
 * pulls of the answer: the moment falls by the shear (dM/dh = -V, any book of statics), push and shear jump by what
 * enters, nothing is left above the top, no section needs more of the wood than the worst one of the answer; and the
 * curves on the sheet are those values.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "io/figure/diagram.h"
#include "io/report/verdict.h"
#include "tests/scenes.h"

/* Of the largest value of a curve [-]: what the trapezoid rule leaves on 32 steps of a taper, and what rounding
 * leaves; of a length on paper [mm]: what a pen draws. */
static const double slope_off = 1e-3, rounding = 1e-9, seen = 0.02;

static double largest(const rn_profile *p, size_t member)
{
	double most = 1e-3;
	for (int i = 0; i < p->count; i++)
		most = fmax(most, fabs(*(const double *)(const void *)((const char *)&p->sections[i] + member)));
	return most;
}

static void moment_falls_by_shear(const rn_profile *p)
{
	double most = largest(p, offsetof(rn_stem_section, moment));
	for (int i = 0; i + 1 < p->count; i++) {
		const rn_stem_section *a = &p->sections[i], *b = &p->sections[i + 1];
		double step = b->height - a->height;
		assert_true(step >= 0);
		if (step > 0)
			assert_true(fabs(a->moment - b->moment - step * (a->shear + b->shear) / 2) < slope_off * most);
	}
}

static bool has_branch(const rn_model *m, int stem)
{
	for (int i = 0; i < m->stem_count; i++)
		if (m->stems[i].on == stem)
			return true;
	return false;
}

/* What the pulls add up to along the axis and across it, and how far push and shear jump in all, the end at the top
 * being a jump to nothing. */
static void jumps_are_pulls(const rn_result *result, const rn_case_result *answer, int stem, const rn_profile *p)
{
	const rn_model *m = result->model;
	double *values = calloc((size_t)m->number_count + 1, sizeof *values);
	double pull[2] = {0, 0}, jumped[2] = {0, 0}, sizes = 1e-3, axis[2][2], thick;
	assert_non_null(values);
	rn_case_values(m, &m->cases[answer->case_index], values);
	rn_stem_at(m, values, stem, 0, axis[0], &thick);
	rn_stem_at(m, values, stem, 1, axis[1], &thick);
	free(values);
	double along[2] = {axis[1][0] - axis[0][0], axis[1][1] - axis[0][1]};
	for (int i = 0; i < m->node_count; i++) {
		const double *f = answer->nodes[i].pull;
		if (m->nodes[i].stem != stem)
			continue;
		pull[0] -= f[0] * along[0] + f[1] * along[1];
		pull[1] += f[0] * along[1] - f[1] * along[0];
		sizes += hypot(f[0], f[1]);
	}
	for (int i = 0; i < p->count; i++) {
		const rn_stem_section *a = &p->sections[i], *b = a + 1;
		bool last = i + 1 == p->count;
		if (!last && b->height > a->height)
			continue;
		jumped[0] += a->axial - (last ? 0 : b->axial);
		jumped[1] += a->shear - (last ? 0 : b->shear);
	}
	for (int k = 0; k < 2; k++)
		if (!(fabs(jumped[k] - pull[k]) < rounding * sizes))
			fail_msg("stem %d: enters %g N, jumps by %g N", stem, pull[k], jumped[k]);
}

static double need(const rn_stem_result *r, double compression, double tension)
{
	if (r->compression_strength <= 0 || r->bending_strength <= 0)
		return compression;
	return fmax(compression / r->compression_strength, tension / r->bending_strength);
}

static void none_is_worse(const rn_stem_result *r, const rn_profile *p)
{
	double worst = need(r, r->compression, r->tension), most = 0;
	for (int i = 0; i < p->count; i++)
		most = fmax(most, need(r, p->sections[i].compression, p->sections[i].tension));
	assert_true(most <= worst * (1 + rounding));
	assert_true(most >= worst * 0.99); /* the worst lies between two of its steps */
}

/* The curve's polygon: a point on its line, one for each section, a point on its line. */
static void curve_is_drawn(const rn_scene *scene, const char *title, const rn_profile *p, size_t member)
{
	const rn_mark *mark = &scene->marks[scenes_group(scene, title)->first];
	const double(*points)[2] = (const double(*)[2])(scene->points + mark->first_point);
	double most = largest(p, member), zero = points[0][0], scale = 0;
	assert_int_equal(mark->shape, RN_SHAPE_POLYGON);
	assert_int_equal(mark->point_count, p->count + 2);
	for (int i = 0; i < p->count; i++)
		scale = fmax(scale, fabs(points[i + 1][0] - zero) / most);
	for (int i = 0; i < p->count; i++) {
		double value = *(const double *)(const void *)((const char *)&p->sections[i] + member);
		assert_true(fabs(points[i + 1][0] - zero - scale * value) < seen);
	}
}

static void look_at_stem(const rn_result *result, int c, int stem, const rn_scene *scene)
{
	rn_options options = rn_options_default();
	rn_profile profile;
	assert_int_equal(rn_profile_find(result, c, stem, &options, &profile), RN_OK);
	moment_falls_by_shear(&profile);
	if (!has_branch(result->model, stem))
		jumps_are_pulls(result, &result->cases[c], stem, &profile);
	none_is_worse(&result->cases[c].stems[stem], &profile);
	curve_is_drawn(scene, "Push N", &profile, offsetof(rn_stem_section, axial));
	curve_is_drawn(scene, "Shear V", &profile, offsetof(rn_stem_section, shear));
	curve_is_drawn(scene, "Bending moment M", &profile, offsetof(rn_stem_section, moment));
	scenes_letters_apart(scene);
	assert_int_equal(scene->labels_left_out, 0);
	rn_profile_release(&profile);
}

static int look_at_cases(const rn_result *result)
{
	rn_allocator allocator = rn_allocator_default();
	int drawn = 0;
	for (int c = 0; c < result->case_count; c++)
		for (int stem = 0; stem < result->model->stem_count; stem++) {
			rn_scene scene;
			rn_status status = rn_diagram_scene(&allocator, result, c, stem, NULL, &scene);
			bool has_section = result->model->stems[stem].section_count > 0;
			assert_int_equal(status, has_section && rn_verdict_has_answer(&result->cases[c]) ? RN_OK : RN_STATUS_ARGUMENT);
			if (status == RN_OK)
				look_at_stem(result, c, stem, &scene);
			drawn += status == RN_OK;
			rn_scene_release(&scene);
		}
	return drawn;
}

static void diagrams_hold(void **state)
{
	(void)state;
	int drawn = scenes_each_answer(look_at_cases);
	print_message("%d diagrams\n", drawn);
	assert_true(drawn > 80);
}

static void there_is_none_of_nothing(void **state)
{
	(void)state;
	scenes_refused(rn_diagram_scene);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(diagrams_hold),
		cmocka_unit_test(there_is_none_of_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
