/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What holds of every sheet, and every answer of models/ to draw.
 */
#ifndef RN_TESTS_SCENES_H
#define RN_TESTS_SCENES_H

#include <dirent.h>
#include <string.h>

#include "io/figure/figure.h"
#include "tests/models.h"

static inline const rn_mark_group *scenes_group(const rn_scene *scene, const char *title)
{
	for (size_t i = 0; i < scene->group_count; i++)
		if (strcmp(scene->groups[i].title, title) == 0)
			return &scene->groups[i];
	fail_msg("no group %s", title);
	return NULL;
}

/* Letters neither over each other nor nearer than a printer's edge to that of the sheet. */
static inline void scenes_letters_apart(const rn_scene *scene)
{
	const double hair = 1e-6 / scene->scale, edge = 4; /* [m], [mm] */
	for (size_t i = 0; i < scene->letter_count; i++) {
		const double *a = scene->letters[i].box;
		double low[2], high[2];
		rn_scene_to_paper(scene, a, low);
		rn_scene_to_paper(scene, a + 2, high);
		if (!(low[0] >= edge && high[0] <= scene->width - edge && high[1] >= edge && low[1] <= scene->height - edge))
			fail_msg("\"%s\" leaves the sheet", scene->letters[i].text);
		for (size_t k = 0; k < i; k++) {
			const double *b = scene->letters[k].box;
			if (a[0] + hair < b[2] && b[0] + hair < a[2] && a[1] + hair < b[3] && b[1] + hair < a[3])
				fail_msg("\"%s\" and \"%s\" overlap", scene->letters[i].text, scene->letters[k].text);
		}
	}
}

static inline rn_result *scenes_solved(const char *name, rn_document **document_out)
{
	rn_options options = rn_options_default();
	rn_result *result;
	*document_out = models_read(name);
	options.stretch_check = options.side_check = false;
	assert_int_equal(rn_solve((*document_out)->model, &options, &result), RN_OK);
	return result;
}

typedef rn_status (*scenes_maker)(const rn_allocator *allocator, const rn_result *result, int case_index, int of,
                                  const rn_figure_options *options, rn_scene *scene_out);

/* A case or a thing the model has none of has no scene. */
static inline void scenes_refused(scenes_maker make)
{
	rn_document *document;
	rn_result *result = scenes_solved("single-ring.xml", &document);
	rn_allocator allocator = rn_allocator_default();
	rn_scene scene;
	static const int wrong[][2] = {{0, -1}, {0, 99}, {99, 0}, {-1, 0}};
	for (int i = 0; i < 4; i++) {
		assert_int_equal(make(&allocator, result, wrong[i][0], wrong[i][1], NULL, &scene), RN_STATUS_ARGUMENT);
		rn_scene_release(&scene);
	}
	rn_result_destroy(result);
	rn_document_destroy(document);
}

/* Looks at the answer of every model but the store of gear; the sum of what each look returns. */
static inline int scenes_each_answer(int (*look)(const rn_result *result))
{
	DIR *folder = opendir(RN_MODELS_DIR);
	int sum = 0;
	assert_non_null(folder);
	for (struct dirent *entry; (entry = readdir(folder));) {
		const char *end = strrchr(entry->d_name, '.');
		if (!end || strcmp(end, ".xml") != 0 || strcmp(entry->d_name, "yard.xml") == 0)
			continue;
		rn_document *document;
		rn_result *result = scenes_solved(entry->d_name, &document);
		sum += look(result);
		rn_result_destroy(result);
		rn_document_destroy(document);
	}
	closedir(folder);
	return sum;
}

#endif
