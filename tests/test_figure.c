/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The figure is the result to scale, can be read, and says nothing by colour alone.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <libxml/parser.h>
#include <libxml/tree.h>

#include "io/figure/figure.h"
#include "tests/scenes.h"
#include "tests/fern_house.h"
#include "tests/support.h"

static const double log_weight = 3138.128; /* 320 kg [N] */

typedef struct job {
	fern_house house;
	rn_result *result;
} job;

static job job_make(double weight, double design_factor)
{
	rn_allocator a = rn_allocator_default();
	job j = {.house = fern_house_make(&a, weight, design_factor)};
	j.result = fern_house_solve(&j.house, &a);
	return j;
}

static void job_end(job *j)
{
	rn_result_destroy(j->result);
	rn_model_destroy(j->house.model);
}

static rn_scene scene_of(const rn_result *result, int c, rn_units units)
{
	rn_allocator a = rn_allocator_default();
	rn_figure_options options = {.units = units, .file = "models/fern-house.xml", .digest = "00ff"};
	rn_scene scene;
	assert_int_equal(rn_figure_scene(&a, result, c, &options, &scene), RN_OK);
	return scene;
}

static char *svg_of(const rn_result *result, int c, rn_units units)
{
	rn_allocator a = rn_allocator_default();
	rn_figure_options options = {.units = units, .file = "models/fern-house.xml", .digest = "00ff"};
	rn_buffer out = rn_buffer_make(&a);
	assert_int_equal(rn_figure_svg(&out, result, c, &options), RN_OK);
	return out.bytes;
}

static int marks_of(const rn_scene *scene, rn_role role, rn_shape shape)
{
	int count = 0;
	for (size_t i = 0; i < scene->mark_count; i++)
		count += scene->marks[i].role == role && scene->marks[i].shape == shape;
	return count;
}

static const char *group_of(const rn_scene *scene, size_t mark)
{
	for (size_t i = 0; i < scene->group_count; i++)
		if (mark >= scene->groups[i].first && mark < scene->groups[i].end)
			return scene->groups[i].title;
	return "";
}

static bool in_key(const rn_scene *scene, size_t mark)
{
	return strcmp(group_of(scene, mark), "key") == 0;
}

static bool letters_have(const rn_scene *scene, const char *words)
{
	for (size_t i = 0; i < scene->letter_count; i++)
		if (strstr(scene->letters[i].text, words))
			return true;
	return false;
}

/* ---- the document ---------------------------------------------------------------------------- */

static xmlDoc *parsed(const char *svg)
{
	xmlDoc *document = xmlReadMemory(svg, (int)strlen(svg), "figure.svg", NULL,
	                                 XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
	assert_non_null(document);
	return document;
}

static void expect_attribute(xmlNode *node, const char *name, const char *expected)
{
	xmlChar *value = xmlGetProp(node, (const xmlChar *)name);
	assert_non_null(value);
	assert_string_equal((const char *)value, expected);
	xmlFree(value);
}

static void expect_child(xmlNode *root, const char *name, const char *words)
{
	for (xmlNode *node = root->children; node; node = node->next) {
		if (node->type != XML_ELEMENT_NODE || strcmp((const char *)node->name, name) != 0)
			continue;
		xmlChar *content = xmlNodeGetContent(node);
		assert_non_null(strstr((const char *)content, words));
		xmlFree(content);
		return;
	}
	fail_msg("no <%s> in the figure", name);
}

static void figure_is_a_document_with_a_description(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	char *svg = svg_of(j.result, 1, RN_METRIC);
	xmlDoc *document = parsed(svg);
	xmlNode *root = xmlDocGetRootElement(document);
	assert_string_equal((const char *)root->name, "svg");
	expect_attribute(root, "role", "img");
	expect_attribute(root, "viewBox", "0 0 297 210"); /* lying, as that shows it larger */
	expect_attribute(root, "width", "297mm");
	expect_child(root, "title", "Fern House: one redirect on a long sling, Case raising");
	expect_child(root, "desc",
	             "NOT CHECKED: stem beech and stem ash (wood not known); bollard post (no rating)");
	expect_child(root, "desc",
	             "anchor top is pulled with 6.37 kN down and right, 36 deg off plumb");
	assert_non_null(
		strstr(svg, "<title>rope bull, 5.29 kN at most, 75.5 % of its limit</title>"));
	assert_null(strstr(svg, "nan"));
	assert_null(strstr(svg, "script"));
	assert_null(strstr(svg, "href"));
	xmlFreeDoc(document);
	free(svg);
	job_end(&j);
}

static void user_text_is_escaped(void **state)
{
	(void)state;
	rn_allocator a = rn_allocator_default();
	fern_house f = fern_house_start(&a, log_weight, 10);
	assert_int_equal(rn_model_set_title(f.model, "<b> & \"c\" \033 ]]> \xE2\x80\xAE"), RN_OK);
	assert_int_equal(rn_model_check(f.model), RN_OK);
	rn_result *result = fern_house_solve(&f, &a);
	char *svg = svg_of(result, 0, RN_METRIC);
	xmlDoc *document = parsed(svg);
	expect_child(xmlDocGetRootElement(document), "title", "<b> & \"c\" ? ]]> ?, Case lowering");
	xmlFreeDoc(document);
	free(svg);
	rn_result_destroy(result);
	rn_model_destroy(f.model);
}

/* ---- colours --------------------------------------------------------------------------------- */

/* Hue in degrees, and how far from grey in parts of 255. */
static void hue_of(const char *colour, double *hue_out, double *chroma_out)
{
	double rgb[3];
	for (int i = 0; i < 3; i++) {
		char pair[3] = {colour[1 + 2 * i], colour[2 + 2 * i], '\0'};
		rgb[i] = (double)strtol(pair, NULL, 16);
	}
	double most = fmax(rgb[0], fmax(rgb[1], rgb[2])),
	       least = fmin(rgb[0], fmin(rgb[1], rgb[2]));
	*chroma_out = most - least;
	if (most - least < 1)
		*hue_out = 0;
	else if (rgb[0] >= most)
		*hue_out = fmod(60 * (rgb[1] - rgb[2]) / (most - least) + 360, 360);
	else if (rgb[1] >= most)
		*hue_out = 60 * (rgb[2] - rgb[0]) / (most - least) + 120;
	else
		*hue_out = 60 * (rgb[0] - rgb[1]) / (most - least) + 240;
}

static void expect_no_green(const char *svg)
{
	int count = 0;
	for (const char *at = strchr(svg, '#'); at; at = strchr(at + 1, '#')) {
		double hue, chroma;
		assert_int_equal(strspn(at + 1, "0123456789ABCDEFabcdef"), 6);
		hue_of(at, &hue, &chroma);
		assert_true(chroma < 12 || hue < 60 || hue > 190);
		count++;
	}
	assert_true(count > 100);
	assert_null(strstr(svg, "green"));
	assert_null(strstr(svg, "rgb("));
}

static void nothing_is_green(void **state)
{
	(void)state;
	double hue, chroma;
	hue_of("#009E73", &hue, &chroma);
	assert_true(chroma > 12 && hue > 60 && hue < 190); /* the test would see it */
	static const double factors[] = {10, 20, 0};
	for (int i = 0; i < 3; i++) {
		job j = job_make(log_weight, factors[i]);
		for (int c = 0; c < 2; c++) {
			char *svg = svg_of(j.result, c, RN_METRIC);
			expect_no_green(svg);
			free(svg);
		}
		job_end(&j);
	}
}

/* ---- seen by everybody, and on a grey printer ------------------------------------------------ */

/* Relative luminance of "#rrggbb", sRGB (Web Content Accessibility Guidelines 2.1, section 1.4.3). */
static double luminance(const char *colour)
{
	static const double shares[] = {0.2126, 0.7152, 0.0722};
	double sum = 0;
	assert_int_equal(strlen(colour), 7);
	for (int i = 0; i < 3; i++) {
		const char pair[] = {colour[1 + 2 * i], colour[2 + 2 * i], 0};
		double part = (double)strtol(pair, NULL, 16) / 255;
		sum += shares[i] * (part <= 0.03928 ? part / 12.92 : pow((part + 0.055) / 1.055, 2.4));
	}
	return sum;
}

static double contrast_on_white(const char *colour)
{
	return 1.05 / (luminance(colour) + 0.05);
}

/* The same guidelines: 4.5 to 1 for text, 3 to 1 for graphics one has to see (1.4.3, 1.4.11). */
static void all_is_seen_on_white(void **state)
{
	(void)state;
	for (int hand = RN_TEXT_TITLE; hand <= RN_TEXT_ALERT; hand++)
		assert_true(contrast_on_white(rn_lettering_of((rn_hand_of_text)hand).colour) >= 4.5);
	for (int role = 0; role < RN_ROLE_COUNT; role++) {
		rn_style style = rn_style_of((rn_role)role);
		bool outlined = strcmp(style.stroke, "none") != 0 && strcmp(style.stroke, "#FFFFFF") != 0;
		const char *seen = outlined ? style.stroke : style.fill;
		if (role != RN_ROLE_PAPER)
			assert_true(contrast_on_white(seen) >= 3);
	}
}

/* In grey, blue and vermillion are near to each other: what is over is nearly twice as thick as well, and crossed. */
static void over_is_seen_without_colour(void **state)
{
	(void)state;
	static const rn_role pairs[][2] = {{RN_ROLE_ROPE, RN_ROLE_ROPE_OVER}, {RN_ROLE_SLING, RN_ROLE_SLING_OVER},
	                                   {RN_ROLE_PROP, RN_ROLE_PROP_OVER}, {RN_ROLE_CLOSEST, RN_ROLE_CLOSEST_OVER},
	                                   {RN_ROLE_CURVE_BAND, RN_ROLE_CURVE_OVER}};
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
		assert_true(rn_style_of(pairs[i][1]).width > 1.7 * rn_style_of(pairs[i][0]).width);
	assert_true(*rn_style_of(RN_ROLE_ROPE_SLACK).dash != 0);
	assert_true(*rn_style_of(RN_ROLE_SLING_SLACK).dash != 0);
}

/* ---- letters --------------------------------------------------------------------------------- */

static void letters_never_overlap(void **state)
{
	(void)state;
	static const double factors[] = {10, 20, 0};
	for (int i = 0; i < 3; i++)
		for (int units = RN_METRIC; units <= RN_US; units++) {
			job j = job_make(log_weight * (1 + i), factors[i]);
			for (int c = 0; c < 2; c++) {
				rn_scene scene = scene_of(j.result, c, (rn_units)units);
				scenes_letters_apart(&scene);
				assert_int_equal(scene.labels_left_out, 0);
				rn_scene_release(&scene);
			}
			job_end(&j);
		}
}

/* Every case of every model, on both papers, in both units. */
static int look_at_papers(const rn_result *result)
{
	rn_allocator a = rn_allocator_default();
	int drawn = 0;
	for (int i = 0; i < 4 * result->case_count; i++) {
		rn_figure_options options = {.units = (rn_units)(i % 2), .paper = (rn_paper)(i / 2 % 2),
		                             .file = "models/fern-house.xml", .digest = "00ff"};
		rn_scene scene;
		assert_int_equal(rn_figure_scene(&a, result, i / 4, &options, &scene), RN_OK);
		scenes_letters_apart(&scene);
		assert_int_equal(scene.labels_left_out, 0);
		bool letter = options.paper == RN_PAPER_LETTER;
		assert_true(fabs(fmax(scene.width, scene.height) * scene.print - (letter ? 279.4 : 297)) < 1e-9);
		assert_true(fabs(fmin(scene.width, scene.height) * scene.print - (letter ? 215.9 : 210)) < 1e-9);
		rn_scene_release(&scene);
		drawn++;
	}
	return drawn;
}

static void letters_of_models_never_overlap_on_any_paper(void **state)
{
	(void)state;
	assert_true(scenes_each_answer(look_at_papers) > 100);
}

static void letters_of_random_nets_never_overlap(void **state)
{
	(void)state;
	support_random random = support_random_from(815);
	rn_allocator a = rn_allocator_default();
	int drawn = 0;
	for (int i = 0; i < 25; i++) {
		net_data net = net_random(&random, (net_random_options){.treads = i % 2,
		                                                        .friction = i % 3 > 0,
		                                                        .wild = i % 4 == 0,
		                                                        .free_least = 1,
		                                                        .free_most = 4});
		rn_model *model = net_model(&net, &a);
		rn_options options = rn_options_default();
		rn_result *result = NULL;
		if (!model)
			continue;
		assert_int_equal(rn_solve(model, &options, &result), RN_OK);
		rn_scene scene = scene_of(result, 0, i % 2 ? RN_METRIC : RN_US);
		scenes_letters_apart(&scene);
		drawn++;
		rn_scene_release(&scene);
		rn_result_destroy(result);
		rn_model_destroy(model);
	}
	assert_true(drawn > 15);
}

static void everything_has_its_name(void **state)
{
	(void)state;
	static const char *const wanted[] = {"Fern House: one redirect on a long sling",
	                                     "Case lowering",
	                                     "NOT CHECKED",
	                                     "b1",
	                                     "r1",
	                                     "log",
	                                     "320 kg (3.14 kN)",
	                                     "top 5.21 kN",
	                                     "down and right, 31 deg off plumb",
	                                     "by hand 4.94 to 251 N",
	                                     "bull 2.65 kN",
	                                     "3.14 kN",
	                                     "s1 5.21 kN",
	                                     "beech",
	                                     "ash",
	                                     "moved 0.515 m",
	                                     "Key",
	                                     "sling s1",
	                                     "5.21 of 7.50 kN",
	                                     "not checked",
	                                     "2 m",
	                                     "pull on an anchor",
	                                     "one upright plane",
	                                     "swing, wind",
	                                     "competent",
	                                     "SHA-256 00ff",
	                                     "models/fern-house.xml",
	                                     NULL};
	job j = job_make(log_weight, 10);
	rn_scene scene = scene_of(j.result, 0, RN_METRIC);
	for (int i = 0; wanted[i]; i++)
		if (!letters_have(&scene, wanted[i]))
			fail_msg("\"%s\" is not in the figure", wanted[i]);
	rn_scene_release(&scene);
	job_end(&j);
}

static void every_mark_is_in_a_group(void **state)
{
	(void)state;
	job j = job_make(3000, 20);
	for (int c = 0; c < 2; c++) {
		rn_scene scene = scene_of(j.result, c, RN_METRIC);
		size_t next = 0;
		for (size_t i = 0; i < scene.group_count; i++) {
			assert_int_equal(scene.groups[i].first, next);
			next = scene.groups[i].end;
		}
		assert_int_equal(next, scene.mark_count);
		rn_scene_release(&scene);
	}
	job_end(&j);
}

/* ---- to scale -------------------------------------------------------------------------------- */

static void tails_are_as_long_as_the_pulls(void **state)
{
	(void)state;
	job j = job_make(2749.3, 10);
	for (int c = 0; c < 2; c++) {
		rn_scene scene = scene_of(j.result, c, RN_METRIC);
		assert_int_equal(scene.tail_count, 3); /* top, far, post */
		size_t tail = 0;
		for (size_t i = 0; i < scene.mark_count; i++) {
			const rn_mark *mark = &scene.marks[i];
			bool is_tail =
				mark->role == RN_ROLE_TAIL_ROPE || mark->role == RN_ROLE_TAIL_SLING;
			if (!is_tail || in_key(&scene, i))
				continue;
			const rn_tail *told = &scene.tails[tail++];
			const rn_node_result *node = &j.result->cases[c].nodes[told->node];
			double force = hypot(node->pull[0], node->pull[1]);
			const double *tip = scene.points[mark->first_point + 2];
			double out[2] = {tip[0] - node->place[0], tip[1] - node->place[1]};
			rn_assert_near(told->force, force, 1e-12, 0);
			rn_assert_near(told->length, force * scene.force_scale, 1e-12, 0);
			rn_assert_near(hypot(out[0], out[1]) * scene.scale, told->length, 1e-9, 0);
			rn_assert_near(atan2(out[1], out[0]), atan2(node->pull[1], node->pull[0]),
			               0, 1e-9);
			assert_int_equal(mark->role == RN_ROLE_TAIL_ROPE,
			                 told->node == j.house.post);
		}
		assert_int_equal(tail, 3);
		rn_scene_release(&scene);
	}
	job_end(&j);
}

static const rn_mark *segment_between(const rn_scene *scene, const double a[2], const double b[2])
{
	for (size_t i = 0; i < scene->mark_count; i++) {
		const rn_mark *mark = &scene->marks[i];
		if (mark->shape != RN_SHAPE_LINE || mark->point_count != 2)
			continue;
		const double *p = scene->points[mark->first_point],
			     *q = scene->points[mark->first_point + 1];
		if (hypot(p[0] - a[0], p[1] - a[1]) + hypot(q[0] - b[0], q[1] - b[1]) < 1e-12)
			return mark;
	}
	return NULL;
}

static void strokes_widen_with_the_tension(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	const rn_case_result *c = &j.result->cases[1];
	rn_scene scene = scene_of(j.result, 1, RN_METRIC);
	for (int i = 0; i < c->span_count; i++)
		for (int k = 0; k < c->span_count; k++) {
			const rn_mark *a =
				segment_between(&scene, c->spans[i].start, c->spans[i].end);
			const rn_mark *b =
				segment_between(&scene, c->spans[k].start, c->spans[k].end);
			assert_non_null(a);
			assert_non_null(b);
			assert_true((c->spans[i].tension > c->spans[k].tension) ==
			            (a->width > b->width));
			assert_true(a->role == (c->spans[i].member.kind == RN_LINE
			                                ? RN_ROLE_ROPE
			                                : RN_ROLE_SLING));
		}
	rn_scene_release(&scene);
	job_end(&j);
}

/* The arc of each bend begins and ends where the straight parts do. */
static void arcs_meet_the_tangent_points(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	const rn_case_result *c = &j.result->cases[0];
	rn_scene scene = scene_of(j.result, 0, RN_METRIC);
	assert_int_equal(marks_of(&scene, RN_ROLE_ROPE, RN_SHAPE_ARC), 2);
	int found = 0;
	for (size_t i = 0; i < scene.mark_count; i++) {
		const rn_mark *arc = &scene.marks[i];
		if (arc->role != RN_ROLE_ROPE || arc->shape != RN_SHAPE_ARC)
			continue;
		const rn_pass_result *pass = &c->passes[found++];
		const double *centre = scene.points[arc->first_point];
		for (int end = 0; end < 2; end++) {
			double angle = arc->from + end * arc->sweep;
			const double *tangent = end ? c->spans[pass->span_after].start
			                            : c->spans[pass->span_before].end;
			rn_assert_near(centre[0] + arc->radius * cos(angle), tangent[0], 0, 1e-9);
			rn_assert_near(centre[1] + arc->radius * sin(angle), tangent[1], 0, 1e-9);
		}
	}
	rn_scene_release(&scene);
	job_end(&j);
}

static void keep_out_lies_where_the_rope_pulls(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	const rn_case_result *c = &j.result->cases[0];
	rn_scene scene = scene_of(j.result, 0, RN_METRIC);
	int found = 0;
	for (size_t i = 0; i < scene.mark_count; i++) {
		const rn_mark *arc = &scene.marks[i];
		if (arc->role != RN_ROLE_KEEP_OUT || arc->shape != RN_SHAPE_ARC ||
		    in_key(&scene, i))
			continue;
		for (int p = 0; p < c->pass_count; p++) {
			const double *place = c->nodes[c->passes[p].node].place;
			const double *centre = scene.points[arc->first_point];
			if (hypot(place[0] - centre[0], place[1] - centre[1]) > 1e-12)
				continue;
			double middle = arc->from + arc->sweep / 2,
			       force = hypot(c->passes[p].force[0], c->passes[p].force[1]);
			rn_assert_near(cos(middle), c->passes[p].force[0] / force, 0, 1e-9);
			rn_assert_near(sin(middle), c->passes[p].force[1] / force, 0, 1e-9);
			found++;
		}
	}
	assert_int_equal(found, c->pass_count);
	rn_scene_release(&scene);
	job_end(&j);
}

/* ---- closest, over, and no answer
 * ---------------------------------------------------------------- */

static void closest_is_ringed_twice_and_lettered(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rn_scene scene = scene_of(j.result, 1, RN_METRIC);
	const double *centre = NULL;
	double radius = 0;
	int rings = 0, letters = 0;
	for (size_t i = 0; i < scene.mark_count; i++) {
		const rn_mark *mark = &scene.marks[i];
		if (mark->role != RN_ROLE_CLOSEST || in_key(&scene, i))
			continue;
		const double *here = scene.points[mark->first_point];
		if (centre) {
			assert_true(hypot(here[0] - centre[0], here[1] - centre[1]) < 1e-12);
			assert_true(mark->radius > radius);
		}
		centre = here;
		radius = mark->radius;
		rings++;
	}
	assert_int_equal(rings, 2);
	for (size_t i = 0; i < scene.letter_count; i++)
		letters += strcmp(scene.letters[i].text, "A") == 0;
	assert_int_equal(letters, 2); /* beside the rings, and in the list of parts */
	assert_int_equal(marks_of(&scene, RN_ROLE_CROSS, RN_SHAPE_LINE), 0);
	const rn_span_result *s1 = &j.result->cases[1].spans[3];
	assert_int_equal(s1->member.kind, RN_SLING);
	double middle[2] = {(s1->start[0] + s1->end[0]) / 2, (s1->start[1] + s1->end[1]) / 2};
	assert_true(hypot(centre[0] - middle[0], centre[1] - middle[1]) < s1->length / 2 + 1e-9);
	rn_scene_release(&scene);
	job_end(&j);
}

static void over_is_crossed_and_thick(void **state)
{
	(void)state;
	job j = job_make(3000, 20);
	rn_scene scene = scene_of(j.result, 1, RN_METRIC);
	int crosses = 0;
	for (size_t i = 0; i < scene.mark_count; i++)
		crosses += scene.marks[i].role == RN_ROLE_CROSS && !in_key(&scene, i);
	assert_int_equal(crosses, 6); /* two strokes for each of s1, bull, s2 */
	assert_int_equal(marks_of(&scene, RN_ROLE_ROPE_OVER, RN_SHAPE_LINE), 3);
	assert_int_equal(marks_of(&scene, RN_ROLE_SLING_OVER, RN_SHAPE_LINE), 2);
	assert_true(letters_have(&scene, "163 % OVER"));
	assert_true(letters_have(&scene, "B"));
	assert_true(letters_have(&scene, "over its limit"));
	rn_scene_release(&scene);
	job_end(&j);
}

static void what_did_not_settle_shows_no_force(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	j.result->cases[0].outcome = RN_OUTCOME_NO_EQUILIBRIUM;
	rn_scene scene = scene_of(j.result, 0, RN_METRIC);
	assert_int_equal(scene.tail_count, 0);
	assert_int_equal(marks_of(&scene, RN_ROLE_ROPE, RN_SHAPE_LINE), 0);
	assert_int_equal(marks_of(&scene, RN_ROLE_ROPE_SLACK, RN_SHAPE_LINE),
	                 4); /* one is in the key */
	assert_true(letters_have(&scene, "did not settle"));
	assert_false(letters_have(&scene, "5.21"));
	scenes_letters_apart(&scene);
	rn_scene_release(&scene);
	job_end(&j);
}

static void a_prop_is_as_thick_as_it_is(void **state)
{
	(void)state;
	rn_allocator a = rn_allocator_default();
	fern_house f = {.model = fern_spar(&a)};
	rn_result *result = fern_house_solve(&f, &a);
	rn_scene scene = scene_of(result, 0, RN_METRIC);
	int props = 0;
	for (size_t i = 0; i < scene.mark_count; i++) {
		const rn_mark *mark = &scene.marks[i];
		if (mark->role != RN_ROLE_PROP || in_key(&scene, i))
			continue;
		const double(*p)[2] = (const double(*)[2])&scene.points[mark->first_point];
		rn_assert_near(hypot(p[3][0] - p[0][0], p[3][1] - p[0][1]), 0.22, 1e-9, 0);
		props++;
	}
	assert_int_equal(props, 1);
	assert_true(letters_have(&scene, " push"));
	assert_true(letters_have(&scene, "prop spar"));
	scenes_letters_apart(&scene);
	rn_scene_release(&scene);
	rn_result_destroy(result);
	rn_model_destroy(f.model);
}

/* A wide rigging on a lying sheet, a high one on a standing sheet, each as large as it may be. */
static void the_sheet_turns_with_the_rigging(void **state)
{
	(void)state;
	static const double places[2][2] = {{0.2, 2}, {25, 26}};
	rn_allocator a = rn_allocator_default();
	for (int i = 0; i < 2; i++) {
		rn_model *model;
		assert_int_equal(rn_model_create(&a, &model), RN_OK);
		int top = build_node(model, "top", RN_NODE_ANCHOR, 0, 30, 0);
		int far = build_node(model, "far", RN_NODE_ANCHOR, 2 * places[i][0], 30, 0);
		int log = build_node(model, "log", RN_NODE_PIECE, places[i][0], places[i][1], 1000);
		build_sling(model, "left", top, log, 3e5, 0);
		build_sling(model, "right", far, log, 3e5, 0);
		assert_int_equal(rn_model_check(model), RN_OK);
		rn_options options = rn_options_default();
		rn_result *result;
		assert_int_equal(rn_solve(model, &options, &result), RN_OK);
		rn_scene scene = scene_of(result, 0, RN_METRIC);
		assert_int_equal(scene.height > scene.width, i == 0);
		assert_true(scene.scale * (i == 0 ? 28 : 50) > 120);
		scenes_letters_apart(&scene);
		rn_scene_release(&scene);
		rn_result_destroy(result);
		rn_model_destroy(model);
	}
}

/* ---- errors ---------------------------------------------------------------------------------- */

static void wrong_calls_are_refused(void **state)
{
	(void)state;
	job j = job_make(log_weight, 10);
	rn_allocator a = rn_allocator_default();
	rn_buffer out = rn_buffer_make(&a);
	assert_int_equal(rn_figure_svg(&out, j.result, 2, NULL), RN_STATUS_ARGUMENT);
	assert_int_equal(rn_figure_svg(&out, j.result, -1, NULL), RN_STATUS_ARGUMENT);
	j.result->cases[0].spans[1].start[0] = (double)NAN;
	assert_int_equal(rn_figure_svg(&out, j.result, 0, NULL), RN_STATUS_ARGUMENT);
	assert_int_equal(out.size, 0);
	rn_buffer_release(&out);
	job_end(&j);
}

static rn_status draw_with(const rn_result *result, support_memory *memory)
{
	rn_allocator a = support_memory_allocator(memory);
	rn_buffer out = rn_buffer_make(&a);
	rn_status status = rn_figure_svg(&out, result, 1, NULL);
	rn_buffer_release(&out);
	return status;
}

static void running_out_of_memory_is_said(void **state)
{
	(void)state;
	job j = job_make(3000, 20);
	support_memory whole = {0};
	assert_int_equal(draw_with(j.result, &whole), RN_OK);
	assert_int_equal(whole.live_count, 0);
	assert_true(whole.call_count > 10);
	for (long n = 1; n <= whole.call_count; n++)
		for (int for_good = 0; for_good <= 1; for_good++) {
			support_memory memory = {.fail_at = n, .for_good = for_good};
			assert_int_equal(draw_with(j.result, &memory), RN_STATUS_MEMORY);
			assert_int_equal(memory.live_count, 0);
		}
	job_end(&j);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(figure_is_a_document_with_a_description),
		cmocka_unit_test(user_text_is_escaped),
		cmocka_unit_test(nothing_is_green),
		cmocka_unit_test(all_is_seen_on_white),
		cmocka_unit_test(over_is_seen_without_colour),
		cmocka_unit_test(letters_never_overlap),
		cmocka_unit_test(letters_of_models_never_overlap_on_any_paper),
		cmocka_unit_test(letters_of_random_nets_never_overlap),
		cmocka_unit_test(everything_has_its_name),
		cmocka_unit_test(every_mark_is_in_a_group),
		cmocka_unit_test(tails_are_as_long_as_the_pulls),
		cmocka_unit_test(strokes_widen_with_the_tension),
		cmocka_unit_test(arcs_meet_the_tangent_points),
		cmocka_unit_test(keep_out_lies_where_the_rope_pulls),
		cmocka_unit_test(closest_is_ringed_twice_and_lettered),
		cmocka_unit_test(over_is_crossed_and_thick),
		cmocka_unit_test(what_did_not_settle_shows_no_force),
		cmocka_unit_test(a_prop_is_as_thick_as_it_is),
		cmocka_unit_test(the_sheet_turns_with_the_rigging),
		cmocka_unit_test(wrong_calls_are_refused),
		cmocka_unit_test(running_out_of_memory_is_said),
	};
	xmlInitParser();
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	xmlCleanupParser();
	return failed;
}
