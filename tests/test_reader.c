/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Files into models. Good ones are in RN_TESTS_DIR/good; refused ones are NAME.xml in
 * RN_TESTS_DIR/bad, each with a NAME.expect:
 *
 *     exit 3                                    what the program would leave with
 *     grammar refuses | accepts | skip          what the RELAX NG grammar says of it (grammar.sh)
 *
 *     at FILE:LINE                              once for each finding, in order; line 0: the file
 *     the sentence, word for word
 */
#define _POSIX_C_SOURCE 200809L
#include <dirent.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <libxml/parser.h>
#include <libxml/xmlmemory.h>

#include "io/xml/reader.h"
#include "io/xml/scan.h"
#include "io/xml/table.h"
#include "tests/support.h"

#define PI 3.14159265358979323846

enum { PATH_ROOM = 600, NAME_ROOM = 128, FILE_MOST = 9 << 20, FILES_MOST = 200 };

/* ---- files --------------------------------------------------------------------------------- */

typedef struct bytes {
	char *at;
	size_t size;
} bytes;

static bool read_path(const char *path, bytes *out)
{
	FILE *file = fopen(path, "rb");
	if (!file)
		return false;
	out->at = malloc(FILE_MOST);
	assert_non_null(out->at);
	out->size = fread(out->at, 1, FILE_MOST - 1, file);
	out->at[out->size] = '\0';
	fclose(file);
	return true;
}

static bytes read_test_file(const char *folder, const char *name)
{
	char path[PATH_ROOM];
	bytes out;
	snprintf(path, sizeof path, "%s/%s/%s", RN_TESTS_DIR, folder, name);
	if (!read_path(path, &out))
		fail_msg("cannot read %s", path);
	return out;
}

static int compare_names(const void *a, const void *b)
{
	return strcmp(a, b);
}

/* Names in a folder that end in `ending`, which is cut off, in order. */
static int list_folder(const char *folder, const char *ending, char names[][NAME_ROOM])
{
	char path[PATH_ROOM];
	int count = 0;
	snprintf(path, sizeof path, "%s/%s", RN_TESTS_DIR, folder);
	DIR *open = opendir(path);
	assert_non_null(open);
	for (struct dirent *entry; (entry = readdir(open));) {
		size_t size = strlen(entry->d_name), cut = strlen(ending);
		if (size <= cut || size - cut >= NAME_ROOM ||
		    strcmp(entry->d_name + size - cut, ending) != 0)
			continue;
		assert_true(count < FILES_MOST);
		snprintf(names[count++], NAME_ROOM, "%.*s", (int)(size - cut), entry->d_name);
	}
	closedir(open);
	qsort(names, (size_t)count, NAME_ROOM, compare_names);
	return count;
}

typedef struct folder_shelf {
	const char *folder;
	const rn_allocator *allocator;
} folder_shelf;

static rn_status fetch_file(void *context, const char *href, char **bytes_out, size_t *size_out,
			    const char **reason_out)
{
	const folder_shelf *s = context;
	char path[PATH_ROOM];
	bytes found;
	snprintf(path, sizeof path, "%s/%s/%s", RN_TESTS_DIR, s->folder, href);
	if (!read_path(path, &found)) {
		*reason_out = "there is no such file";
		return RN_STATUS_INPUT;
	}
	*bytes_out = s->allocator->allocate(s->allocator->context, found.size + 1);
	if (*bytes_out)
		memcpy(*bytes_out, found.at, found.size);
	*size_out = found.size;
	free(found.at);
	return *bytes_out ? RN_OK : RN_STATUS_MEMORY;
}

static rn_status read_as(const rn_allocator *allocator, const char *folder, const char *name,
			 bytes file, rn_document **document_out)
{
	folder_shelf s = {folder, allocator};
	rn_fetch fetch = {fetch_file, &s};
	return rn_document_read(allocator, name, file.at, file.size, &fetch, document_out);
}

/* Reads text as a model without gear files, the way most tests here want it. */
static rn_document *read_text(const char *text, size_t size)
{
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	rn_status status = rn_document_read(&allocator, "text", text, size, NULL, &document);
	assert_true(status == RN_OK || status == RN_STATUS_INPUT);
	assert_non_null(document);
	assert_true((status == RN_OK) == (document->model != NULL));
	assert_true((status == RN_OK) == (document->diagnostic_count == 0));
	return document;
}

static void print_findings(const rn_document *document)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer text = rn_buffer_make(&allocator);
	rn_document_print(&text, document);
	print_error("%s", text.bytes ? text.bytes : "");
	rn_buffer_release(&text);
}

static rn_document *read_good(const char *name)
{
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	bytes file = read_test_file("good", name);
	rn_status status = read_as(&allocator, "good", name, file, &document);
	if (status != RN_OK && document)
		print_findings(document);
	assert_int_equal(status, RN_OK);
	free(file.at);
	return document;
}

/* ---- good files ---------------------------------------------------------------------------- */

static void good_files_are_read(void **state)
{
	(void)state;
	static char names[FILES_MOST][NAME_ROOM];
	int count = list_folder("good", ".xml", names), models = 0;
	for (int i = 0; i < count; i++) {
		char name[NAME_ROOM + 8];
		if (strcmp(names[i], "shed") == 0)
			continue; /* a gear file */
		snprintf(name, sizeof name, "%.*s.xml", NAME_ROOM, names[i]);
		rn_document *document = read_good(name);
		assert_string_equal(document->files[0], name);
		rn_document_destroy(document);
		models++;
	}
	assert_true(models >= 6);
}

static double value_of(const rn_model *model, const char *name)
{
	int number = rn_model_number_by_name(model, name);
	if (number == RN_NONE)
		fail_msg("%s: no such number", name);
	return model->numbers[number].value;
}

static const struct {
	const char *name;
	double value;
	int line;
} everything_numbers[] = {
	{"rigging.gravity", 9.81, 5},
	{"rigging.place-error", 0.002, 5},
	{"bull16.diameter", 0.016, 9},
	{"bull16.strength", 70e3, 9},
	{"bull16.stiffness", 500e3, 10},
	{"bull16.wet-factor", 0.9, 10},
	{"bull16.condition-factor", 0.85, 10},
	{"bull16.design-factor", 10, 8},
	{"ring28.tread", 0.044, 12},
	{"ring28.weight", 0.9 * 9.81, 12},
	{"ring28.working-load", 15e3, 12},
	{"ring28.friction", 0.2, 13},
	{"ring28.design-factor", 10, 8},
	{"block16.efficiency", 0.92, 15},
	{"sling20.working-load", 1800 * 9.81, 16},
	{"sling20.design-factor", 7, 17},
	{"sling20.eye", 0.08, 17},
	{"sling20.long", 3.5, 17},
	{"beech.x", 0, 20},
	{"beech.y", 0, 20},
	{"beech.lean", -3 * PI / 180, 20},
	{"beech.density", 980, 20},
	{"beech.section1.height", 0.3, 21},
	{"beech.section1.diameter", 1.95 / PI, 21},
	{"beech.section2.height", 12, 22},
	{"beech.section2.diameter", 0.3, 22},
	{"beech.section2.wall", 0.06, 22},
	{"ash.x", 6, 24},
	{"top.height", 11, 26},
	{"top.working-load", 8e3, 26},
	{"stump.x", -9, 27},
	{"stump.place-error", 0.05, 27},
	{"post.turns", 3, 30},
	{"post.tail", 1, 30},
	{"r1.weight", 0.2 * 9.81, 32},
	{"log.weight", 320 * 9.81, 36},
	{"s1.angle", 120 * PI / 180, 38},
	{"s1.length-error", 0.02, 39},
	{"s1.working-load", 9e3, 39},
	{"s2.reach", 1.9, 40},
	{"s3.pretension", 300, 41},
	{"s4.length", 4.5, 42},
	{"s5.slack", 0.1, 43},
	{"pair.ra.reach", 0.6, 45},
	{"pair.left.height", 10, 44},
	{"pair.right.height", 10, 44},
	{"bull.length-error", 0.01, 48},
	{"bull.slack", 0.2, 48},
	{"bull.b1.tread", 0.09, 50},
	{"bull.b1.efficiency", 0.95, 50},
	{"bull.r1.friction", 0.22, 51},
	{"tag.pretension", 20, 54},
	{"guy.length", 12, 57},
	{"belay.ground.pull", 50, 61},
	{"drum.friction", 0.25, 5},
	{"drum.design-factor", 5, 3},
	{"shackle.weight", 0.6 * 9.81, 6},
};

static void numbers_are_where_they_belong(void **state)
{
	(void)state;
	rn_document *document = read_good("everything.xml");
	const rn_model *m = document->model;
	for (size_t i = 0; i < sizeof everything_numbers / sizeof *everything_numbers; i++) {
		const char *name = everything_numbers[i].name;
		rn_assert_near(value_of(m, name), everything_numbers[i].value, 1e-15, 1e-15);
		const rn_number *n = &m->numbers[rn_model_number_by_name(m, name)];
		assert_int_equal(n->origin, RN_GIVEN);
		if (n->line != everything_numbers[i].line)
			fail_msg("%s: line %d, not %d", name, n->line, everything_numbers[i].line);
		bool in_shed = strncmp(name, "drum", 4) == 0 || strncmp(name, "shackle", 7) == 0;
		assert_int_equal(n->file, in_shed);
		if (strcmp(name, "ring28.friction") == 0) {
			rn_assert_near(n->low, 0.14, 1e-15, 0);
			rn_assert_near(n->high, 0.25, 1e-15, 0);
		} else
			assert_true(n->low == n->value && n->high == n->value);
	}
	int given = 0;
	for (int i = 0; i < m->number_count; i++)
		given += m->numbers[i].origin == RN_GIVEN;
	assert_int_equal(given, 92); /* nothing is read twice, nothing left out */
	rn_document_destroy(document);
}

static int index_of(const rn_model *model, const char *id, rn_object_kind kind)
{
	rn_object object = rn_model_object_by_id(model, id);
	assert_int_equal(object.kind, kind);
	assert_true(object.index != RN_NONE);
	return object.index;
}

static const rn_node *node_of(const rn_model *model, const char *id)
{
	return &model->nodes[index_of(model, id, RN_NODE)];
}

static void items_are_read(const rn_model *m)
{
	const rn_item *bull = &m->items[index_of(m, "bull16", RN_ITEM)];
	assert_int_equal(bull->kind, RN_ITEM_ROPE);
	assert_int_equal(bull->fibre, RN_FIBRE_POLYESTER);
	assert_int_equal(bull->state, RN_STATE_WORKED);
	assert_string_equal(bull->serial, "R-17");
	assert_string_equal(bull->checked_on, "2024-03-01");
	assert_int_equal(bull->label_for, RN_LABEL_FOR_STRAIGHT);
	const rn_item *sling = &m->items[index_of(m, "sling20", RN_ITEM)];
	assert_int_equal(sling->kind, RN_ITEM_SLING);
	assert_int_equal(sling->fibre, RN_FIBRE_HMPE);
	assert_int_equal(sling->state, RN_STATE_NEW);
	assert_int_equal(sling->label_for, RN_LABEL_FOR_CHOKE);
	static const struct {
		const char *id;
		rn_item_kind kind;
	} kinds[] = {{"ring28", RN_ITEM_RING},
	             {"block16", RN_ITEM_BLOCK},
	             {"bark", RN_ITEM_FORK},
	             {"drum", RN_ITEM_BOLLARD},
	             {"shackle", RN_ITEM_CONNECTOR}};
	for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
		const rn_item *item = &m->items[index_of(m, kinds[i].id, RN_ITEM)];
		assert_int_equal(item->kind, kinds[i].kind);
		assert_int_equal(item->fibre, RN_FIBRE_UNKNOWN);
		assert_int_equal(item->state, RN_STATE_UNKNOWN);
	}
}

static void nodes_are_read(const rn_model *m)
{
	static const struct {
		const char *id, *stem, *gear, *connector, *sling; /* NULL: none */
		rn_node_kind kind;
		rn_bark bark;
		int line;
	} rows[] = {
		{"top", "beech", NULL, "shackle", NULL, RN_NODE_ANCHOR, RN_BARK_RIGHT, 26},
		{"stump", NULL, "ring28", NULL, NULL, RN_NODE_ANCHOR, RN_BARK_AXIS, 27},
		{"crotch", "ash", "bark", NULL, NULL, RN_NODE_FORK, RN_BARK_LEFT, 28},
		{"ground", NULL, NULL, "shackle", NULL, RN_NODE_HAND, RN_BARK_AXIS, 29},
		{"post", "ash", "drum", NULL, NULL, RN_NODE_BOLLARD, RN_BARK_UNSAID, 30},
		{"b1", NULL, "block16", NULL, NULL, RN_NODE_BLOCK, RN_BARK_AXIS, 31},
		{"r1", NULL, "ring28", NULL, NULL, RN_NODE_RING, RN_BARK_AXIS, 32},
		{"rb", NULL, "shackle", NULL, NULL, RN_NODE_RING, RN_BARK_AXIS, 34},
		{"knot", NULL, "ring28", NULL, NULL, RN_NODE_JOINT, RN_BARK_AXIS, 35},
		{"log", NULL, "shackle", NULL, NULL, RN_NODE_PIECE, RN_BARK_AXIS, 36},
		{"pair.left", "beech", NULL, NULL, "pair", RN_NODE_ANCHOR, RN_BARK_LEFT, 45},
		{"pair.right", "beech", NULL, NULL, "pair", RN_NODE_ANCHOR, RN_BARK_RIGHT, 45},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const rn_node *n = node_of(m, rows[i].id);
		assert_int_equal(n->kind, rows[i].kind);
		assert_int_equal(n->bark, rows[i].bark);
		assert_int_equal(n->place.line, rows[i].line);
		assert_int_equal(n->stem,
		                 rows[i].stem ? index_of(m, rows[i].stem, RN_STEM) : RN_NONE);
		assert_int_equal(n->gear,
		                 rows[i].gear ? index_of(m, rows[i].gear, RN_ITEM) : RN_NONE);
		assert_int_equal(n->connector, rows[i].connector
		                                       ? index_of(m, rows[i].connector, RN_ITEM)
		                                       : RN_NONE);
		assert_int_equal(n->sling,
		                 rows[i].sling ? index_of(m, rows[i].sling, RN_SLING) : RN_NONE);
	}
	assert_int_equal(m->node_count, 13);
}

static void slings_are_read(const rn_model *m)
{
	const rn_sling *s1 = &m->slings[index_of(m, "s1", RN_SLING)];
	assert_int_equal(s1->gear, index_of(m, "sling20", RN_ITEM));
	assert_int_equal(s1->connector, index_of(m, "shackle", RN_ITEM));
	assert_string_equal(s1->hitch, "choke");
	assert_int_equal(s1->leg_count, 1);
	assert_int_equal(m->legs[s1->first_leg].from, index_of(m, "top", RN_NODE));
	assert_int_equal(m->legs[s1->first_leg].to, index_of(m, "b1", RN_NODE));
	const rn_sling *pair = &m->slings[index_of(m, "pair", RN_SLING)];
	assert_int_equal(pair->leg_count, 2);
	const rn_leg *legs = m->legs + pair->first_leg;
	assert_int_equal(legs[0].from, index_of(m, "pair.left", RN_NODE));
	assert_int_equal(legs[0].to, index_of(m, "ra", RN_NODE));
	assert_int_equal(legs[1].from, index_of(m, "pair.right", RN_NODE));
	assert_int_equal(legs[1].to, index_of(m, "rb", RN_NODE));
	assert_int_equal(rn_model_find_number(m, rn_object_of(RN_LEG, pair->first_leg + 1),
	                                      RN_ATTRIBUTE_REACH),
	                 RN_NONE);
}

static void lines_are_read(const rn_model *m)
{
	const rn_line *bull = &m->lines[index_of(m, "bull", RN_LINE)];
	assert_int_equal(bull->gear, index_of(m, "bull16", RN_ITEM));
	assert_true(bull->wet);
	assert_false(bull->worn);
	assert_int_equal(bull->station_count, 4);
	const rn_station *s = m->stations + bull->first_station;
	static const rn_station_kind kinds[] = {RN_TIE, RN_THROUGH, RN_THROUGH, RN_HOLD};
	static const char *const places[] = {"log", "b1", "r1", "post"};
	for (int i = 0; i < 4; i++) {
		assert_int_equal(s[i].kind, kinds[i]);
		assert_int_equal(s[i].node, index_of(m, places[i], RN_NODE));
		assert_int_equal(s[i].place.line, 49 + i);
	}
	assert_string_equal(s[0].knot, "running bowline");
	assert_int_equal(s[0].connector, index_of(m, "shackle", RN_ITEM));
	assert_int_equal(s[1].side, -1);
	assert_null(s[3].knot);
	const rn_line *tag = &m->lines[index_of(m, "tag", RN_LINE)];
	assert_int_equal(tag->gear, RN_NONE);
	assert_false(tag->wet);
	assert_int_equal(m->stations[tag->first_station + 1].kind, RN_GRIP);
	const rn_line *guy = &m->lines[index_of(m, "guy", RN_LINE)];
	assert_int_equal(m->stations[guy->first_station + 1].side, 1);
}

static void setting_is(const rn_model *m, int setting, const char *name, double value)
{
	assert_int_equal(m->settings[setting].number, rn_model_number_by_name(m, name));
	rn_assert_near(m->settings[setting].value, value, 1e-15, 0);
}

static void cases_are_read(const rn_model *m)
{
	assert_false(m->made_cases);
	assert_int_equal(m->case_count, 1);
	const rn_case *gust = &m->cases[0];
	assert_string_equal(gust->id, "gust");
	assert_string_equal(gust->title, "A gust from the left");
	assert_int_equal(gust->level, RN_FRICTION_HIGH);
	assert_false(gust->made);
	/* the exception at one node stands before the rule for the line */
	const rn_line *bull = &m->lines[index_of(m, "bull", RN_LINE)];
	assert_int_equal(gust->run_count, 2);
	assert_int_equal(m->runs[0].at, bull->first_station + 2);
	assert_int_equal(m->runs[0].toward_last, 0);
	assert_int_equal(m->runs[1].at, RN_NONE);
	assert_int_equal(m->runs[1].toward_last, 1);
	assert_int_equal(gust->force_count, 1);
	assert_int_equal(m->forces[0].node, index_of(m, "log", RN_NODE));
	rn_object force = rn_object_of(RN_FORCE, 0);
	rn_assert_near(m->numbers[rn_model_find_number(m, force, RN_ATTRIBUTE_SIZE)].value, 300,
	               1e-15, 0);
	rn_assert_near(m->numbers[rn_model_find_number(m, force, RN_ATTRIBUTE_TOWARD)].value,
	               -120 * PI / 180, 1e-15, 0);
	assert_int_equal(gust->setting_count, 5);
	setting_is(m, 0, "log.weight", 400 * 9.81);
	setting_is(m, 1, "bull.r1.friction", 0.3);
	setting_is(m, 2, "beech.section2.diameter", 0.28);
	setting_is(m, 3, "s2.reach", 2);
	setting_is(m, 4, "beech.lean", PI / 180);
}

static void shapes_are_as_written(void **state)
{
	(void)state;
	rn_document *document = read_good("everything.xml");
	const rn_model *m = document->model;
	assert_string_equal(m->title, "Fern House: everything at once");
	assert_int_equal(document->file_count, 2);
	assert_string_equal(document->files[1], "shed.xml");
	assert_int_equal(document->remark_count, 2);
	assert_string_equal(document->remarks[0].topic, "site");
	assert_string_equal(document->remarks[0].text, "Thornwick Botanic Garden (invented)");
	assert_null(document->remarks[1].topic);
	assert_string_equal(document->remarks[1].text, "kept by the door");
	assert_int_equal(document->remarks[1].file, 1);
	assert_int_equal(document->remarks[1].line, 4);
	assert_int_equal(m->rigging.line, 4);
	items_are_read(m);
	const rn_stem *beech = &m->stems[index_of(m, "beech", RN_STEM)];
	assert_string_equal(beech->species, "sugar maple");
	assert_int_equal(beech->section_count, 2);
	slings_are_read(m);
	lines_are_read(m);
	cases_are_read(m);
	rn_document_destroy(document);
}

static void nodes_are_as_written(void **state)
{
	(void)state;
	rn_document *document = read_good("everything.xml");
	nodes_are_read(document->model);
	rn_document_destroy(document);
}

static void feet_and_pounds(void **state)
{
	(void)state;
	rn_document *document = read_good("feet-and-pounds.xml");
	const rn_model *m = document->model;
	rn_assert_near(value_of(m, "log.weight"), 450 * 4.4482216152605, 1e-15, 0);
	rn_assert_near(value_of(m, "oak.section1.diameter"), 1.9812 / PI, 1e-15, 0);
	rn_assert_near(value_of(m, "me.x"), 3.81, 1e-15, 0);
	rn_assert_near(value_of(m, "pair.left.height"), 10.3632, 1e-15, 0);
	rn_assert_near(value_of(m, "line58.working-load"), 2000 * 4.4482216152605, 1e-15, 0);
	assert_true(m->made_cases);
	rn_document_destroy(document);
}

/* Entities, CDATA, a prefix, a mark at the start, carriage returns, tags over several lines. */
static void every_form_of_xml(void **state)
{
	(void)state;
	rn_document *document = read_good("form.xml");
	const rn_model *m = document->model;
	assert_string_equal(m->title, "Fern House: \xC3\xBC"
	                              "ber & & <b> \"log\" \xE2\x80\x94");
	assert_int_equal(document->remark_count, 1);
	assert_string_equal(document->remarks[0].topic, "a > b &#38;");
	assert_string_equal(document->remarks[0].text, "one <two> & three & four five");
	const rn_number *y = &m->numbers[rn_model_number_by_name(m, "up.y")];
	assert_int_equal(y->line, 13);
	rn_assert_near(y->value, 3, 1e-15, 0);
	assert_int_equal(node_of(m, "up")->place.line, 9);
	assert_int_equal(m->legs[0].from, index_of(m, "up", RN_NODE));
	rn_document_destroy(document);
}

static void runs_know_both_ends(void **state)
{
	(void)state;
	rn_document *document = read_good("runs.xml");
	const rn_model *m = document->model;
	const rn_case *out = &m->cases[index_of(m, "out", RN_CASE)];
	const rn_case *in = &m->cases[index_of(m, "in", RN_CASE)];
	int track = m->lines[index_of(m, "track", RN_LINE)].first_station;
	assert_int_equal(out->level, RN_FRICTION_NOMINAL);
	assert_int_equal(in->level, RN_FRICTION_LOW);
	assert_int_equal(m->runs[out->first_run].toward_last, 1);
	assert_int_equal(m->runs[out->first_run].at, track + 1);
	assert_int_equal(m->runs[out->first_run + 1].toward_last, 1);
	assert_int_equal(m->runs[in->first_run].toward_last, 0);
	assert_int_equal(m->runs[in->first_run + 1].toward_last, 0);
	rn_document_destroy(document);
}

/* Where a sling comes off the bark there are anchors nobody wrote, each with a name of its own. */
static void hitches_are_named(void **state)
{
	(void)state;
	static const char *const names[] = {"pair.right", "pair.right2", "axis.axis", "axis.axis2"};
	rn_document *document = read_good("one-side.xml");
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		const rn_node *hitch = node_of(document->model, names[i]);
		assert_int_equal(hitch->kind, RN_NODE_ANCHOR);
		assert_int_equal(hitch->bark, i < 2 ? RN_BARK_RIGHT : RN_BARK_AXIS);
		assert_int_equal(hitch->sling, i / 2);
	}
	rn_document_destroy(document);
}

enum { GOOD_FILES = 7 };

static bool in_a_good_file(const bytes *all, const char *word)
{
	for (int i = 0; i < GOOD_FILES; i++)
		if (strstr(all[i].at, word))
			return true;
	return false;
}

/* Every row of the table occurs in the good files, so that what the grammar
 * allows and what the reader takes are held against each other in full. */
static void good_files_use_the_whole_table(void **state)
{
	(void)state;
	bytes all[GOOD_FILES] = {
		read_test_file("good", "everything.xml"), read_test_file("good", "shed.xml"),
		read_test_file("good", "photo.xml"), read_test_file("good", "props-and-curves.xml"),
		read_test_file("good", "wood.xml"), read_test_file("good", "strength.xml"),
		read_test_file("good", "fall.xml")};
	for (int i = 0; i < RN_ELEMENT_COUNT; i++) {
		const rn_element_row *element = rn_table_element((rn_element)i);
		const rn_attribute_row *row = NULL;
		char word[NAME_ROOM];
		snprintf(word, sizeof word, "<%s", element->name);
		if (!in_a_good_file(all, word))
			fail_msg("<%s> is in no good file", element->name);
		while (i != RN_ELEMENT_SET &&
		       (row = rn_table_next((rn_element)i, row))) {
			snprintf(word, sizeof word, " %s=\"", row->name);
			if (!in_a_good_file(all, word))
				fail_msg("%s of <%s> is in no good file", row->name, element->name);
		}
	}
	for (int i = 0; i < GOOD_FILES; i++)
		free(all[i].at);
}

/* ---- refused files --------------------------------------------------------------------------- */

/* The next line of a text, cut at its end; NULL at the end of the text. */
static char *next_line(char **at)
{
	char *line = *at;
	if (!line || !*line)
		return NULL;
	char *end = strchr(line, '\n');
	*at = end ? end + 1 : NULL;
	if (end)
		*end = '\0';
	return line;
}

typedef struct expectation {
	char *file, *text;
	int line;
} expectation;

/* Findings of a .expect, in the text itself, which is cut up. */
static int read_expectations(char *text, expectation *found)
{
	int count = 0;
	bool exits = false;
	for (char *line; (line = next_line(&text));) {
		if (strcmp(line, "exit 3") == 0)
			exits = true;
		if (strncmp(line, "at ", 3) != 0)
			continue;
		char *colon = strrchr(line, ':');
		assert_non_null(colon);
		*colon = '\0';
		assert_true(count < RN_FINDINGS_MOST);
		found[count].file = line + 3;
		found[count].line = (int)strtol(colon + 1, NULL, 10);
		found[count++].text = next_line(&text);
	}
	assert_true(exits);
	assert_true(count > 0);
	return count;
}

static bool meets(const rn_document *document, const expectation *expected, int count)
{
	if (document->diagnostic_count != count)
		return false;
	for (int i = 0; i < count; i++) {
		const rn_diagnostic *d = &document->diagnostics[i];
		if (strcmp(document->files[d->file], expected[i].file) != 0 ||
		    d->line != expected[i].line || strcmp(d->text, expected[i].text) != 0 ||
		    d->severity != RN_ERROR)
			return false;
	}
	return true;
}

static void check_bad_file(const char *name)
{
	char full[NAME_ROOM + 8];
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	expectation expected[RN_FINDINGS_MOST];
	snprintf(full, sizeof full, "%s.expect", name);
	bytes text = read_test_file("bad", full);
	int count = read_expectations(text.at, expected);
	snprintf(full, sizeof full, "%s.xml", name);
	bytes file = read_test_file("bad", full);
	assert_int_equal(read_as(&allocator, "bad", full, file, &document), RN_STATUS_INPUT);
	if (!meets(document, expected, count)) {
		print_findings(document);
		fail_msg("%s.xml is refused otherwise than %s.expect says", name, name);
	}
	rn_document_destroy(document);
	free(file.at);
	free(text.at);
}

static void bad_files_are_refused_in_words(void **state)
{
	(void)state;
	static char names[FILES_MOST][NAME_ROOM], models[FILES_MOST][NAME_ROOM];
	int count = list_folder("bad", ".expect", names);
	assert_true(count >= 100);
	assert_int_equal(count, list_folder("bad", ".xml", models));
	for (int i = 0; i < count; i++) {
		assert_string_equal(names[i], models[i]);
		check_bad_file(names[i]);
	}
}

/* ---- what a finding looks like ------------------------------------------------------------- */

static const char model_head[] = "<rigging xmlns=\"urn:funicle:rigging\" format=\"1\">\n";

static rn_document *read_in_model(const char *inside)
{
	static char text[1 << 16];
	int size = snprintf(text, sizeof text, "%s%s\n</rigging>\n", model_head, inside);
	assert_true(size > 0 && (size_t)size < sizeof text);
	return read_text(text, (size_t)size);
}

static void a_finding_shows_its_line(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_buffer text = rn_buffer_make(&allocator);
	rn_document *document = read_in_model("\t  <ring id=\"r1\" x=\"1 m\" y=\"7\"/>  ");
	rn_document_print(&text, document);
	assert_string_equal(
		text.bytes,
		"text:2: error: <ring> y=\"7\": there is no unit: a length is due, such as "
		"3.5 m or 12 ft 6 in\n"
		"    <ring id=\"r1\" x=\"1 m\" y=\"7\"/>\n");
	rn_buffer_release(&text);
	rn_document_destroy(document);
}

/* What turns text around, hides it, or commands a terminal is shown as question marks. */
static void findings_are_clean(void **state)
{
	(void)state;
	rn_document *document = read_in_model("<ring id=\"r\xE2\x80\xAE"
	                                      "1\" x=\"&#x9b;31m\" y=\"\xC2\x85\"/>");
	assert_int_equal(document->diagnostic_count, 3);
	assert_string_equal(document->diagnostics[0].source,
	                    "<ring id=\"r?1\" x=\"&#x9b;31m\" y=\"?\"/>");
	assert_non_null(strstr(document->diagnostics[0].text, "id=\"r?1\": a name has"));
	assert_non_null(strstr(document->diagnostics[1].text, "x=\"?31m\": this does not"));
	rn_document_destroy(document);
}

static void long_lines_and_values_are_cut(void **state)
{
	(void)state;
	char inside[2000];
	memset(inside, 0, sizeof inside);
	strcpy(inside, "<note topic=\"t\"/><ring id=\"");
	for (int i = 0; i < 400; i++)
		strcat(inside, "\xC3\xA9");
	strcat(inside, "\" x=\"1 m\" y=\"1 m\"/>");
	rn_document *document = read_in_model(inside);
	assert_int_equal(document->diagnostic_count, 1);
	const rn_diagnostic *d = &document->diagnostics[0];
	assert_true(strlen(d->source) <= 240);
	assert_null(strchr(d->source, '?'));
	assert_true(strlen(d->text) < 240);
	assert_null(strchr(d->text, '?'));
	rn_document_destroy(document);
}

/* NULL: the print speaks of no others. */
static void print_ends_in(const rn_document *document, const char *ending)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer text = rn_buffer_make(&allocator);
	rn_document_print(&text, document);
	if (ending)
		assert_string_equal(text.bytes + text.size - strlen(ending), ending);
	else if (document->dropped_count == 0)
		assert_null(strstr(text.bytes, " more\n"));
	rn_buffer_release(&text);
}

static void twenty_findings_and_no_more(void **state)
{
	(void)state;
	for (int wrong = 19; wrong <= 23; wrong++) {
		char inside[4000] = "";
		for (int i = 0; i < wrong; i++)
			strcat(inside, "<ring id=\"r\" x=\"1 m\" y=\"1 m\" gaer=\"no\"/>\n");
		rn_document *document = read_in_model(inside);
		assert_int_equal(document->diagnostic_count, wrong < 20 ? wrong : 20);
		assert_int_equal(document->dropped_count, wrong < 20 ? 0 : wrong - 20);
		for (int i = 0; i < document->diagnostic_count; i++)
			assert_int_equal(document->diagnostics[i].line, i + 2);
		print_ends_in(document, wrong == 23 ? "\nand 3 more\n" : NULL);
		rn_document_destroy(document);
	}
}

static void stages_do_not_mix(void **state)
{
	(void)state;
	/* an unknown attribute hides an unknown name, which hides a line without ends */
	static const char *const insides[] = {
		"<ring id=\"r\" x=\"1 m\" y=\"1 m\" gear=\"none\" colour=\"red\"/><line id=\"l\"/>",
		"<ring id=\"r\" x=\"1 m\" y=\"1 m\" gear=\"none\"/><line id=\"l\"/>",
		"<ring id=\"r\" x=\"1 m\" y=\"1 m\"/><line id=\"l\"/>",
	};
	static const char *const words[] = {"colour", "nothing is called that", "two stations"};
	for (int i = 0; i < 3; i++) {
		rn_document *document = read_in_model(insides[i]);
		assert_int_equal(document->diagnostic_count, 1);
		assert_non_null(strstr(document->diagnostics[0].text, words[i]));
		rn_document_destroy(document);
	}
}

/* ---- limits: the limit, one more ------------------------------------------------------------ */

/* A growing text. */
typedef struct page {
	char *at;
	size_t size;
} page;

static page make_page(void)
{
	page p = {malloc(RN_SCAN_BYTES_MOST + 1000), 0};
	assert_non_null(p.at);
	return p;
}

static void write_text(page *p, const char *text)
{
	size_t size = strlen(text);
	assert_true(p->size + size < RN_SCAN_BYTES_MOST + 1000);
	memcpy(p->at + p->size, text, size);
	p->size += size;
}

static void fill(page *p, char c, size_t count)
{
	memset(p->at + p->size, c, count);
	p->size += count;
}

static const char small_model[] =
	"<anchor id=\"a\" x=\"0 m\" y=\"3 m\"/><joint id=\"j\" x=\"0 m\" "
	"y=\"1 m\" weight=\"1 kN\"/><sling id=\"s\" from=\"a\" to=\"j\"/>";

/* NULL: the page is a good model. */
static void page_gives(page *p, const char *finding)
{
	rn_document *document = read_text(p->at, p->size);
	if (!finding && document->diagnostic_count)
		print_findings(document);
	assert_true((finding == NULL) == (document->diagnostic_count == 0));
	if (finding)
		assert_string_equal(document->diagnostics[0].text, finding);
	rn_document_destroy(document);
	free(p->at);
}

static void limit_of_bytes(void **state)
{
	(void)state;
	for (size_t over = 0; over < 2; over++) {
		page p = make_page();
		write_text(&p, model_head);
		write_text(&p, small_model);
		write_text(&p, "</rigging>");
		fill(&p, '\n', RN_SCAN_BYTES_MOST - p.size + over);
		page_gives(&p, over ? "the file is larger than 4 MiB" : NULL);
	}
}

static void limit_of_one_value(void **state)
{
	(void)state;
	for (size_t over = 0; over < 2; over++) {
		page p = make_page();
		write_text(&p, model_head);
		write_text(&p, small_model);
		write_text(&p, "<note topic=\"");
		fill(&p, 'x', RN_SCAN_ATTRIBUTE_MOST + over);
		write_text(&p, "\"/></rigging>");
		page_gives(&p,
		           over ? "an attribute is longer than 4 KiB; is a quote missing?" : NULL);
	}
}

static void limit_of_one_tag(void **state)
{
	(void)state;
	for (size_t over = 0; over < 2; over++) {
		page p = make_page();
		write_text(&p, model_head);
		write_text(&p, small_model);
		fill(&p, '\n', 3);
		size_t start = p.size;
		write_text(&p, "<note");
		fill(&p, ' ', RN_SCAN_TAG_MOST - (p.size - start) - 1 + over);
		write_text(&p, "/></rigging>");
		page_gives(&p, over ? "a tag is longer than 64 KiB" : NULL);
	}
}

static void limit_of_attributes(void **state)
{
	(void)state;
	for (int over = 0; over < 2; over++) {
		page p = make_page();
		write_text(&p, model_head);
		write_text(&p, "<note");
		for (int i = 0; i < RN_SCAN_ATTRIBUTES_MOST + over; i++) {
			char attribute[16];
			snprintf(attribute, sizeof attribute, " a%d=\"\"", i);
			write_text(&p, attribute);
		}
		write_text(&p, "/></rigging>");
		page_gives(&p, over ? "a tag has more than 64 attributes"
		                    : "<note> has no attribute a0; it has topic");
	}
}

static void limit_of_depth(void **state)
{
	(void)state;
	for (int over = 0; over < 2; over++) {
		page p = make_page();
		int depth = RN_SCAN_DEPTH_MOST - 1 + over;
		write_text(&p, model_head);
		for (int i = 0; i < depth; i++)
			write_text(&p, "<note>");
		for (int i = 0; i < depth; i++)
			write_text(&p, "</note>");
		write_text(&p, "</rigging>");
		page_gives(
			&p,
			over ? "elements are nested more than 32 deep"
			     : "<note> holds no <note>; it stands in <rigging> or <gear>");
	}
}

static void limit_of_elements(void **state)
{
	(void)state;
	for (int over = 0; over < 2; over++) {
		page p = make_page();
		write_text(&p, model_head);
		write_text(&p, small_model);
		for (int i = 4; i < RN_SCAN_ELEMENTS_MOST + over; i++)
			write_text(&p, "<note/>");
		write_text(&p, "</rigging>");
		page_gives(&p, over ? "there are more than 50,000 elements" : NULL);
	}
}

/* libxml2's tree stops counting lines at 65,535. */
static void lines_are_right_far_down(void **state)
{
	(void)state;
	page p = make_page();
	write_text(&p, model_head);
	fill(&p, '\n', 69998);
	write_text(&p, "<ring id=\"r\"\n x=\"1 m\"\n\n y=\"1\"/>\n</rigging>");
	rn_document *document = read_text(p.at, p.size);
	assert_int_equal(document->diagnostic_count, 1);
	assert_int_equal(document->diagnostics[0].line, 70003);
	assert_string_equal(document->diagnostics[0].source, "y=\"1\"/>");
	rn_document_destroy(document);
	p.size -= strlen("</rigging>");
	document = read_text(p.at, p.size);
	assert_int_equal(document->diagnostics[0].line, 70004);
	rn_document_destroy(document);
	free(p.at);
}

/* ---- any bytes ----------------------------------------------------------------------------- */

static void single_bytes_are_refused(void **state)
{
	(void)state;
	for (int c = 0; c < 256; c++) {
		char byte = (char)c;
		rn_document *document = read_text(&byte, 1);
		assert_int_equal(document->diagnostic_count, 1);
		rn_document_destroy(document);
	}
	rn_document_destroy(read_text("", 0));
}

static void cut_files_are_refused(void **state)
{
	(void)state;
	bytes file = read_test_file("good", "feet-and-pounds.xml");
	size_t whole = file.size;
	while (file.at[whole - 1] != '>')
		whole--;
	for (size_t size = 0; size <= file.size; size++) {
		char *copy = malloc(size + 1); /* its own block: a read beyond the end shows */
		assert_non_null(copy);
		memcpy(copy, file.at, size);
		rn_document *document = read_text(copy, size);
		assert_true((document->diagnostic_count == 0) == (size >= whole));
		rn_document_destroy(document);
		free(copy);
	}
	free(file.at);
}

static void changed_bytes_do_no_harm(void **state)
{
	(void)state;
	static const char changes[] = {'\0', '<', '>', '"', '&', '9', '\xC3', '\n'};
	bytes file = read_test_file("good", "feet-and-pounds.xml");
	for (size_t i = 0; i < file.size; i++)
		for (size_t k = 0; k < sizeof changes; k++) {
			char kept = file.at[i];
			file.at[i] = changes[k];
			rn_document_destroy(read_text(file.at, file.size));
			file.at[i] = kept;
		}
	free(file.at);
}

/* ---- gear files ---------------------------------------------------------------------------- */

typedef struct made_shelf {
	int file_count; /* how many were asked for */
	size_t size;
} made_shelf;

/* As many gear files as one likes, each large and empty. */
static rn_status fetch_made(void *context, const char *href, char **bytes_out, size_t *size_out,
			    const char **reason_out)
{
	static const char text[] = "<gear xmlns=\"urn:funicle:rigging\" format=\"1\"/>";
	made_shelf *s = context;
	(void)href;
	(void)reason_out;
	s->file_count++;
	*bytes_out = malloc(s->size);
	assert_non_null(*bytes_out);
	memset(*bytes_out, ' ', s->size);
	memcpy(*bytes_out, text, sizeof text - 1);
	*size_out = s->size;
	return RN_OK;
}

static rn_document *read_with_stores(int count, size_t size, int *asked_out)
{
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	made_shelf shelf = {0, size};
	rn_fetch fetch = {fetch_made, &shelf};
	page p = make_page();
	write_text(&p, model_head);
	write_text(&p, small_model);
	for (int i = 0; i < count; i++) {
		char store[40];
		snprintf(store, sizeof store, "<store href=\"%d.xml\"/>", i);
		write_text(&p, store);
	}
	write_text(&p, "</rigging>");
	rn_status status = rn_document_read(&allocator, "text", p.at, p.size, &fetch, &document);
	assert_true(status == RN_OK || status == RN_STATUS_INPUT);
	*asked_out = shelf.file_count;
	free(p.at);
	return document;
}

static void limits_of_gear_files(void **state)
{
	(void)state;
	int asked;
	rn_document *document = read_with_stores(64, 100, &asked);
	assert_int_equal(document->diagnostic_count, 0);
	assert_int_equal(document->file_count, 65);
	rn_document_destroy(document);
	document = read_with_stores(65, 100, &asked);
	assert_int_equal(document->diagnostic_count, 1);
	assert_int_equal(asked, 64);
	assert_non_null(strstr(document->diagnostics[0].text, "more than 64"));
	rn_document_destroy(document);
	document = read_with_stores(2, RN_SCAN_BYTES_MOST, &asked);
	assert_int_equal(document->diagnostic_count, 0);
	rn_document_destroy(document);
	document = read_with_stores(3, RN_SCAN_BYTES_MOST, &asked);
	assert_int_equal(document->diagnostic_count, 1);
	assert_non_null(strstr(document->diagnostics[0].text, "larger than 8 MiB"));
	rn_document_destroy(document);
}

static void a_gear_file_is_named_once(void **state)
{
	(void)state;
	rn_document *document = read_in_model("<store href=\"a.xml\"/>");
	assert_int_equal(document->diagnostic_count, 1);
	assert_string_equal(
		document->diagnostics[0].text,
		"<store> href=\"a.xml\": this gear file cannot be read: gear files cannot be "
		"had here");
	rn_document_destroy(document);
	rn_allocator allocator = rn_allocator_default();
	made_shelf shelf = {0, 100};
	rn_fetch fetch = {fetch_made, &shelf};
	char text[500];
	snprintf(text, sizeof text, "%s%s<store href=\"a.xml\"/><store href=\"a.xml\"/></rigging>",
	         model_head, small_model);
	assert_int_equal(rn_document_read(&allocator, "text", text, strlen(text), &fetch,
	                                  &document),
	                 RN_STATUS_INPUT);
	assert_non_null(strstr(document->diagnostics[0].text, "it is named twice"));
	rn_document_destroy(document);
}

/* ---- memory -------------------------------------------------------------------------------- */

/* What libxml2 takes, counted and made to fail like an rn_allocator's. */
static support_memory xml_memory;
/* How the next reading is to fail. */
static support_memory failing;

static bool xml_fails(void)
{
	xml_memory.call_count++;
	return xml_memory.fail_at > 0 &&
	       (xml_memory.for_good ? xml_memory.call_count >= xml_memory.fail_at
	                            : xml_memory.call_count == xml_memory.fail_at);
}

static void *xml_malloc(size_t size)
{
	return xml_fails() ? NULL : malloc(size);
}

static void *xml_realloc(void *block, size_t size)
{
	return xml_fails() ? NULL : realloc(block, size);
}

static char *xml_strdup(const char *text)
{
	return xml_fails() ? NULL : strdup(text);
}

/* Everything a document says, in one text. */
static char *spell_document(rn_status status, const rn_document *document)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer text = rn_buffer_make(&allocator);
	rn_buffer_format(&text, "%s\n", rn_status_text(status));
	rn_document_print(&text, document);
	for (int i = 0; i < document->remark_count; i++)
		rn_buffer_format(&text, "%s\n", document->remarks[i].text);
	for (int i = 0; document->model && i < document->model->number_count; i++) {
		const rn_number *n = &document->model->numbers[i];
		rn_buffer_format(&text, "%d %s.%s ", n->line,
		                 rn_object_id(document->model, n->object),
		                 rn_attribute_word(n->attribute));
		rn_buffer_exact(&text, n->value);
	}
	assert_int_equal(rn_buffer_status(&text), RN_OK);
	return text.bytes; /* from malloc */
}

/* Reads a file with one allocation failing, of ours or, with `in_xml`, of libxml2's. true when the
 * failure was not reached. Where it was, only libxml2 may do without what it did not get, and then
 * nothing may be missing from the answer. */
static bool survives(const char *folder, const char *name, bytes file, const char *whole,
		     bool in_xml)
{
	support_memory own = in_xml ? (support_memory){0} : failing;
	xml_memory = in_xml ? failing : (support_memory){0};
	rn_allocator allocator = support_memory_allocator(&own);
	rn_document *document = NULL;
	rn_status status = read_as(&allocator, folder, name, file, &document);
	const support_memory *reached = in_xml ? &xml_memory : &own;
	bool done = reached->call_count < reached->fail_at;
	xml_memory = (support_memory){0};
	if (status != RN_STATUS_MEMORY) {
		char *found = spell_document(status, document);
		if (strcmp(found, whole) != 0 || !(done || in_xml))
			fail_msg("%s: allocation %ld%s%s: %s", name, failing.fail_at,
			         failing.for_good ? " and later" : "", in_xml ? " of libxml2" : "",
			         found);
		free(found);
	} else
		assert_false(done);
	rn_document_destroy(document);
	assert_int_equal(own.live_count, 0);
	return done;
}

static void every_allocation_may_fail(const char *folder, const char *name)
{
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	bytes file = read_test_file(folder, name);
	rn_status status = read_as(&allocator, folder, name, file, &document);
	char *whole = spell_document(status, document);
	rn_document_destroy(document);
	for (int way = 0; way < 4; way++) {
		long n = 0;
		do
			failing = (support_memory){.fail_at = ++n, .for_good = way & 1};
		while (!survives(folder, name, file, whole, way & 2));
		assert_true(n > 20);
	}
	free(whole);
	free(file.at);
}

static void memory_may_end_anywhere(void **state)
{
	(void)state;
	static const char *const bad[] = {"word-misspelt.xml",   "tag-unclosed.xml",
	                                  "attribute-twice.xml", "coincident.xml",
	                                  "store-faulty.xml",    "set-absent.xml"};
	every_allocation_may_fail("good", "everything.xml");
	every_allocation_may_fail("good", "form.xml");
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		every_allocation_may_fail("bad", bad[i]);
}

/* libxml2 tells of memory it did not get before there is a parser to tell. */
static void say_nothing(void *context, const char *message, ...)
{
	(void)context;
	(void)message;
}

int main(void)
{
	xmlSetGenericErrorFunc(NULL, say_nothing);
	xmlMemSetup(free, xml_malloc, xml_realloc, xml_strdup);
	xmlInitParser();
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(good_files_are_read),
		cmocka_unit_test(numbers_are_where_they_belong),
		cmocka_unit_test(shapes_are_as_written),
		cmocka_unit_test(nodes_are_as_written),
		cmocka_unit_test(feet_and_pounds),
		cmocka_unit_test(every_form_of_xml),
		cmocka_unit_test(runs_know_both_ends),
		cmocka_unit_test(hitches_are_named),
		cmocka_unit_test(good_files_use_the_whole_table),
		cmocka_unit_test(bad_files_are_refused_in_words),
		cmocka_unit_test(a_finding_shows_its_line),
		cmocka_unit_test(findings_are_clean),
		cmocka_unit_test(long_lines_and_values_are_cut),
		cmocka_unit_test(twenty_findings_and_no_more),
		cmocka_unit_test(stages_do_not_mix),
		cmocka_unit_test(limit_of_bytes),
		cmocka_unit_test(limit_of_one_value),
		cmocka_unit_test(limit_of_one_tag),
		cmocka_unit_test(limit_of_attributes),
		cmocka_unit_test(limit_of_depth),
		cmocka_unit_test(limit_of_elements),
		cmocka_unit_test(lines_are_right_far_down),
		cmocka_unit_test(single_bytes_are_refused),
		cmocka_unit_test(cut_files_are_refused),
		cmocka_unit_test(changed_bytes_do_no_harm),
		cmocka_unit_test(limits_of_gear_files),
		cmocka_unit_test(a_gear_file_is_named_once),
		cmocka_unit_test(memory_may_end_anywhere),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	xmlCleanupParser();
	return failed;
}
