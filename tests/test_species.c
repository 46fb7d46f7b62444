/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The tables of species: every row against itself, names found and not found, and what a model takes from
 * them.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "solver/data/species.h"
#include "solver/model/give.h"
#include "solver/model/place.h"
#include "tests/build.h"
#include "tests/support.h"

/* ---- rows ------------------------------------------------------------------------------------ */

/* FIADB: wood = 1000 SG (1 + moisture), with bark by volume; Wood Handbook FPL-GTR-282 (2021) eq. 4-3:
 * saturated = 1000 + 351 SG. The table rounds SG to 0.01 and moisture to 1 %: 1.5 % together. */
static void test_density_rows_agree_with_themselves(void **state)
{
	(void)state;
	int count;
	const rn_density_row *rows = rn_density_rows(&count);
	assert_int_equal(count, 77);
	for (int i = 0; i < count; i++) {
		const rn_density_row *r = &rows[i];
		rn_assert_near(r->wood, 1000 * r->specific_gravity * (1 + r->moisture), 0.015, 0);
		rn_assert_near(r->with_bark, (r->wood + r->bark_share * r->bark) / (1 + r->bark_share), 0, 1);
		rn_assert_near(r->saturated, 1000 + 351 * r->specific_gravity, 0, 2.5);
		assert_true(r->saturated > r->wood);
		assert_true(r->bark_share > 0.05 && r->bark_share < 0.26);
		assert_true(r->bark > 400 && r->bark < 1300);
		assert_true(strchr(r->latin, ' ') != NULL);
	}
}

/* Compression over modulus of rupture: 0.37 to 0.56 in this table's own head. */
static void test_strength_rows_agree_with_themselves(void **state)
{
	(void)state;
	int count, published = 0;
	const rn_strength_row *rows = rn_strength_rows(&count);
	assert_int_equal(count, 61);
	for (int i = 0; i < count; i++) {
		const rn_strength_row *r = &rows[i];
		double ratio = r->compression / r->bending, least = r->from_memory ? 0.35 : 0.42;
		assert_true(ratio > least - 0.005 && ratio < 0.60);
		assert_true(r->bending > 30e6 && r->bending < 100e6);
		assert_true(r->modulus > 5e9 && r->modulus < 13e9);
		assert_true(r->shear == 0 || (r->shear > 4e6 && r->shear < 11e6));
		assert_true(strstr(r->source, "Wood Handbook") == r->source);
		/* one wood has one specific gravity, whichever table it stands in */
		const rn_density_row *density = rn_density_of(r->name);
		assert_true((density != NULL) == (r->species[0] != '\0'));
		if (density)
			rn_assert_near(density->specific_gravity, r->specific_gravity, 0, 0.0201);
		published += !r->from_memory;
	}
	assert_int_equal(published, 37);
}

/* Every name finds its own row: none is written twice in another way. */
static void test_every_name_finds_its_row(void **state)
{
	(void)state;
	int count;
	const rn_density_row *rows = rn_density_rows(&count);
	for (int i = 0; i < count; i++) {
		assert_ptr_equal(rn_density_of(rows[i].name), &rows[i]);
		assert_ptr_equal(rn_density_of(rows[i].latin), &rows[i]);
	}
	const rn_strength_row *strong = rn_strength_rows(&count);
	for (int i = 0; i < count; i++)
		assert_ptr_equal(rn_strength_of(strong[i].name), &strong[i]);
}

/* ---- names ----------------------------------------------------------------------------------- */

static void test_names(void **state)
{
	(void)state;
	static const struct {
		const char *name, *density, *strength; /* NULL: none */
	} rows[] = {
		{"Northern Red-Oak", "northern red oak", "northern red oak"},
		{"QUERCUS RUBRA", "northern red oak", "northern red oak"},
		{"yellow poplar", "yellow-poplar", "yellow-poplar"},
		{"coast Douglas-fir", "Douglas-fir", "coast Douglas-fir"},
		{"coast douglas fir", "Douglas-fir", "coast Douglas-fir"},
		{"interior west Douglas fir", "Douglas-fir", "interior west Douglas-fir"},
		/* the weakest region, the weakest age */
		{"Douglas-fir", "Douglas-fir", "interior north Douglas-fir"},
		{"Pseudotsuga menziesii", "Douglas-fir", "interior north Douglas-fir"},
		{"redwood", "redwood", "young-growth redwood"},
		{"old-growth redwood", "redwood", "old-growth redwood"},
		{"Old Growth Redwood", "redwood", "old-growth redwood"},
		{"California red fir", NULL, "California red fir"},
		{"European beech", "European beech", NULL},
		{"gingko", NULL, NULL},
		{"", NULL, NULL},
		{"-", NULL, NULL},
		{"oak", NULL, NULL},
		{"white oaks", NULL, NULL},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const rn_density_row *density = rn_density_of(rows[i].name);
		const rn_strength_row *strength = rn_strength_of(rows[i].name);
		assert_int_equal(density != NULL, rows[i].density != NULL);
		assert_int_equal(strength != NULL, rows[i].strength != NULL);
		if (density)
			assert_string_equal(density->name, rows[i].density);
		if (strength)
			assert_string_equal(strength->name, rows[i].strength);
	}
}

static void test_near_names(void **state)
{
	(void)state;
	static const struct {
		const char *name, *near;
		bool strong;
	} rows[] = {
		{"suger maple", "sugar maple", false},
		{"Sugar mapel", "sugar maple", false},
		{"Quercus rubar", "Quercus rubra", false},
		{"red oak", "northern red oak", false},
		{"Douglas fri", "Douglas-fir", false},
		{"europan beech", "European beech", false},
		{"beech", "American beech", true},
		{"red alders", "red alder", true},
		{"xyzzy", NULL, false},
		{"", NULL, false},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const char *near = rn_species_near(rows[i].name, rows[i].strong);
		assert_int_equal(near != NULL, rows[i].near != NULL);
		if (near)
			assert_string_equal(near, rows[i].near);
	}
	/* a name that is offered for its strength has one */
	static const char *const misspelt[] = {"europan beech", "norway mapel", "pin oka", "Fagus sylvatcia"};
	for (size_t i = 0; i < sizeof misspelt / sizeof *misspelt; i++) {
		const char *near = rn_species_near(misspelt[i], true);
		assert_true(!near || rn_strength_of(near));
	}
}

/* ---- what a model takes from them ------------------------------------------------------------ */

/* A stem with two sections, 0.62 m and 0.24 m thick, and a log on a sling from its top. */
static rn_model *stem_with(const char *species, const char *like, bool carries)
{
	rn_model *m;
	rn_allocator allocator = rn_allocator_default();
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	rn_stem stem = {.id = "spar", .species = species, .strength_like = like, .on = RN_NONE};
	assert_int_equal(rn_model_add_stem(m, &stem, NULL), RN_OK);
	rn_object object = rn_object_of(RN_STEM, 0);
	build_number(m, object, RN_ATTRIBUTE_X, 0.3);
	build_number(m, object, RN_ATTRIBUTE_Y, 0.1);
	for (int k = 0; k < 2; k++) {
		rn_section section = {.stem = 0};
		assert_int_equal(rn_model_add_section(m, &section, NULL), RN_OK);
		build_number(m, rn_object_of(RN_SECTION, k), RN_ATTRIBUTE_HEIGHT, k ? 11.3 : 0);
		build_number(m, rn_object_of(RN_SECTION, k), RN_ATTRIBUTE_DIAMETER, k ? 0.24 : 0.62);
	}
	rn_node node = {.id = "top", .kind = RN_NODE_ANCHOR, .gear = RN_NONE, .connector = RN_NONE,
	                .stem = carries ? 0 : RN_NONE, .sling = RN_NONE};
	assert_int_equal(rn_model_add_node(m, &node, NULL), RN_OK);
	if (carries) {
		build_number(m, rn_object_of(RN_NODE, 0), RN_ATTRIBUTE_HEIGHT, 10.7);
	} else {
		build_number(m, rn_object_of(RN_NODE, 0), RN_ATTRIBUTE_X, 0.3);
		build_number(m, rn_object_of(RN_NODE, 0), RN_ATTRIBUTE_Y, 10.8);
	}
	int log = build_node(m, "log", RN_NODE_PIECE, 0.4, 7.7, 2345);
	build_sling(m, "leg", 0, log, 1e6, 0);
	return m;
}

static const rn_number *number_of(const rn_model *m, rn_object_kind kind, rn_attribute attribute)
{
	int i = rn_model_find_number(m, rn_object_of(kind, 0), attribute);
	return i == RN_NONE ? NULL : &m->numbers[i];
}

static const rn_note *said(const rn_notes *notes, rn_note_kind kind)
{
	for (int i = 0; i < notes->count; i++)
		if (notes->items[i].kind == kind)
			return &notes->items[i];
	return NULL;
}

static void assert_number(const rn_model *m, rn_attribute attribute, double value, rn_origin origin)
{
	const rn_number *n = number_of(m, RN_STEM, attribute);
	assert_non_null(n);
	rn_assert_near(n->value, value, 1e-12, 0);
	assert_int_equal(n->origin, origin);
}

static void test_published_species(void **state)
{
	(void)state;
	rn_model *m = stem_with("Acer saccharum", NULL, true);
	assert_int_equal(rn_model_check(m), RN_OK);
	/* green-density.csv and green-strength.csv, rows of sugar maple */
	assert_number(m, RN_ATTRIBUTE_DENSITY, 901, RN_LISTED);
	assert_number(m, RN_ATTRIBUTE_COMPRESSION, 27.7e6, RN_LISTED);
	assert_number(m, RN_ATTRIBUTE_BENDING, 65e6, RN_LISTED);
	assert_number(m, RN_ATTRIBUTE_MODULUS, 10.7e9, RN_LISTED);
	/* closed form: a stem of 0.62 m holds 1 + 0.156 volumes of its wood */
	double bark = number_of(m, RN_STEM, RN_ATTRIBUTE_BARK)->value, wood = 0.62 - 2 * bark;
	rn_assert_near(0.62 * 0.62 / (wood * wood), 1.156, 1e-12, 0);
	assert_string_equal(said(&m->guesses, RN_NOTE_WOOD_WHOLLY_BY)->word, "sugar maple");
	assert_null(said(&m->remarks, RN_NOTE_STRENGTH_ESTIMATED));
	assert_non_null(said(&m->guesses, RN_NOTE_GUESS_STEM_WOOD));
	rn_model_destroy(m);
}

static void test_what_is_given_stays(void **state)
{
	(void)state;
	static const rn_attribute attributes[] = {RN_ATTRIBUTE_DENSITY, RN_ATTRIBUTE_COMPRESSION,
	                                          RN_ATTRIBUTE_BENDING, RN_ATTRIBUTE_MODULUS,
	                                          RN_ATTRIBUTE_BARK};
	static const double values[] = {917, 21.3e6, 48.1e6, 7.7e9, 0.0113};
	rn_model *m = stem_with("suger maple", NULL, true);
	for (int k = 0; k < 5; k++)
		build_number(m, rn_object_of(RN_STEM, 0), attributes[k], values[k]);
	assert_int_equal(rn_model_check(m), RN_OK);
	for (int k = 0; k < 5; k++)
		assert_number(m, attributes[k], values[k], RN_GIVEN);
	assert_int_equal(m->remarks.count, 0); /* the slip in its name does no harm */
	assert_int_equal(m->guesses.count, 0);
	rn_model_destroy(m);
}

static void test_from_memory_and_group(void **state)
{
	(void)state;
	rn_model *m = stem_with("European beech", "American beech", true);
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_number(m, RN_ATTRIBUTE_DENSITY, 917, RN_ESTIMATED);
	assert_number(m, RN_ATTRIBUTE_COMPRESSION, 24.5e6, RN_ESTIMATED);
	assert_number(m, RN_ATTRIBUTE_BENDING, 59e6, RN_ESTIMATED);
	assert_number(m, RN_ATTRIBUTE_MODULUS, 9.5e9, RN_ESTIMATED);
	assert_string_equal(said(&m->remarks, RN_NOTE_STRENGTH_ESTIMATED)->word, "American beech");
	assert_null(said(&m->guesses, RN_NOTE_WOOD_CHECKED_BY));
	assert_null(said(&m->guesses, RN_NOTE_WOOD_WHOLLY_BY));
	rn_model_destroy(m);
}

/* {species, like} and the one remark it makes; no strength is taken. */
static void test_unknown(void **state)
{
	(void)state;
	static const struct {
		const char *species, *like, *word;
		rn_note_kind kind;
		bool dense;
	} rows[] = {
		{"European beech", NULL, "European beech", RN_NOTE_STRENGTH_UNKNOWN, true},
		{"European beech", "Norway maple", "Norway maple", RN_NOTE_STRENGTH_UNKNOWN, true},
		{"European beech", "suger maple", "sugar maple", RN_NOTE_LIKE_UNKNOWN, true},
		{"suger maple", NULL, "sugar maple", RN_NOTE_SPECIES_UNKNOWN, false},
		{"xyzzy", NULL, "xyzzy", RN_NOTE_SPECIES_NOT_LISTED, false},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_model *m = stem_with(rows[i].species, rows[i].like, true);
		assert_int_equal(rn_model_check(m), RN_OK);
		assert_int_equal(m->remarks.count, 1);
		assert_int_equal(m->remarks.items[0].kind, rows[i].kind);
		assert_string_equal(m->remarks.items[0].word, rows[i].word);
		assert_null(number_of(m, RN_STEM, RN_ATTRIBUTE_COMPRESSION));
		assert_null(number_of(m, RN_STEM, RN_ATTRIBUTE_BENDING));
		assert_int_equal(number_of(m, RN_STEM, RN_ATTRIBUTE_DENSITY) != NULL, rows[i].dense);
		rn_model_destroy(m);
	}
}

static void test_nothing_for_an_idle_stem(void **state)
{
	(void)state;
	rn_model *m = stem_with("sugar maple", NULL, false);
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_null(number_of(m, RN_STEM, RN_ATTRIBUTE_DENSITY));
	assert_null(number_of(m, RN_STEM, RN_ATTRIBUTE_BARK));
	assert_int_equal(m->remarks.count + m->guesses.count, 0);
	rn_model_destroy(m);
}

/* A branch carries, so the stem it grows from does. */
static void test_branch_loads_its_stem(void **state)
{
	(void)state;
	rn_model *m = stem_with("sugar maple", NULL, false);
	rn_stem limb = {.id = "limb", .on = 0};
	assert_int_equal(rn_model_add_stem(m, &limb, NULL), RN_OK);
	build_number(m, rn_object_of(RN_STEM, 1), RN_ATTRIBUTE_HEIGHT, 6.1);
	rn_node node = {.id = "tip", .kind = RN_NODE_ANCHOR, .gear = RN_NONE, .connector = RN_NONE,
	                .stem = 1, .sling = RN_NONE};
	int tip;
	assert_int_equal(rn_model_add_node(m, &node, &tip), RN_OK);
	build_number(m, rn_object_of(RN_NODE, tip), RN_ATTRIBUTE_HEIGHT, 1.7);
	build_sling(m, "guy", tip, 1, 1e6, 0);
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_number(m, RN_ATTRIBUTE_DENSITY, 901, RN_LISTED);
	rn_model_destroy(m);
}

static int add_grown(rn_model *m, const char *id, const char *species, int on, double diameter)
{
	rn_stem stem = {.id = id, .species = species, .on = on};
	int i;
	assert_int_equal(rn_model_add_stem(m, &stem, &i), RN_OK);
	rn_object object = rn_object_of(RN_STEM, i);
	if (on == RN_NONE) {
		build_number(m, object, RN_ATTRIBUTE_X, 9);
		build_number(m, object, RN_ATTRIBUTE_Y, 0);
	} else {
		build_number(m, object, RN_ATTRIBUTE_HEIGHT, 3);
		build_number(m, object, RN_ATTRIBUTE_LEAN, 1);
	}
	for (int k = 0; k < 2; k++) {
		rn_section section = {.stem = i};
		int s;
		assert_int_equal(rn_model_add_section(m, &section, &s), RN_OK);
		build_number(m, rn_object_of(RN_SECTION, s), RN_ATTRIBUTE_HEIGHT, k ? 5 : 0);
		build_number(m, rn_object_of(RN_SECTION, s), RN_ATTRIBUTE_DIAMETER, k ? diameter / 2 : diameter);
	}
	return i;
}

/* A twig on a branch is of the tree the branch grows on, which is not the first of the model; the twig's bark is as thick
 * for its own thickness. */
static void test_a_twig_is_of_its_own_tree(void **state)
{
	(void)state;
	rn_model *m = stem_with("sugar maple", NULL, true);
	int oak = add_grown(m, "oak", "northern red oak", RN_NONE, 0.5);
	int limb = add_grown(m, "limb", NULL, oak, 0.3), twig = add_grown(m, "twig", NULL, limb, 0.12);
	rn_node node = {.id = "tip", .kind = RN_NODE_ANCHOR, .gear = RN_NONE, .connector = RN_NONE, .stem = twig, .sling = RN_NONE};
	int tip;
	assert_int_equal(rn_model_add_node(m, &node, &tip), RN_OK);
	build_number(m, rn_object_of(RN_NODE, tip), RN_ATTRIBUTE_HEIGHT, 1.7);
	build_sling(m, "guy", tip, 1, 1e6, 0);
	assert_int_equal(rn_model_check(m), RN_OK);
	double bark[3];
	for (int k = 0; k < 3; k++) {
		int i = rn_model_find_number(m, rn_object_of(RN_STEM, oak + k), RN_ATTRIBUTE_DENSITY);
		assert_int_not_equal(i, RN_NONE);
		rn_assert_near(m->numbers[i].value, 1071, 1e-12, 0); /* density.inc, northern red oak with its bark */
		i = rn_model_find_number(m, rn_object_of(RN_STEM, oak + k), RN_ATTRIBUTE_BARK);
		assert_int_not_equal(i, RN_NONE);
		bark[k] = m->numbers[i].value;
	}
	rn_assert_near(bark[1] / bark[0], 0.3 / 0.5, 1e-12, 0);
	rn_assert_near(bark[2] / bark[0], 0.12 / 0.5, 1e-12, 0);
	assert_number(m, RN_ATTRIBUTE_DENSITY, 901, RN_LISTED); /* the maple beside it */
	rn_model_destroy(m);
}

/* Bark carries nothing: a stem with bark bends as one that is thinner by twice its thickness. */
static void test_bark_does_not_stiffen(void **state)
{
	(void)state;
	double bends[2];
	for (int k = 0; k < 2; k++) {
		rn_model *m = stem_with(NULL, NULL, true);
		const double bark = 0.0173;
		build_number(m, rn_object_of(RN_STEM, 0), RN_ATTRIBUTE_MODULUS, 9.1e9);
		if (k == 0)
			build_number(m, rn_object_of(RN_STEM, 0), RN_ATTRIBUTE_BARK, bark);
		for (int s = 0; k == 1 && s < 2; s++)
			build_number(m, rn_object_of(RN_SECTION, s), RN_ATTRIBUTE_DIAMETER,
			             (s ? 0.24 : 0.62) - 2 * bark);
		double values[64];
		for (int i = 0; i < m->number_count; i++)
			values[i] = m->numbers[i].value;
		bends[k] = rn_stem_bends(m, values, 0, 9.3, 6.2);
		double tree[4];
		rn_tree_bends(m, values, 0, 9.3, 0, 6.2, tree);
		rn_assert_near(tree[0], bends[k], 1e-12, 0);
		rn_model_destroy(m);
	}
	rn_assert_near(bends[0], bends[1], 1e-13, 0);
}

static void test_bark_thicker_than_the_stem(void **state)
{
	(void)state;
	rn_model *m = stem_with(NULL, NULL, true);
	build_number(m, rn_object_of(RN_STEM, 0), RN_ATTRIBUTE_BARK, 0.5);
	double values[64];
	for (int i = 0; i < m->number_count; i++)
		values[i] = m->numbers[i].value;
	rn_assert_near(rn_stem_wood(m, values, 0, 0), 0.0062, 1e-12, 0);
	rn_model_destroy(m);
}

/* ---- props ----------------------------------------------------------------------------------- */

/* A prop of a species, 0.24 m thick and 6.3 m long, that stands upright under 20 kN. */
static void solve_prop(const char *species, double factor, rn_part_result *out, rn_model **model_out, rn_result **result_out)
{
	rn_model *m;
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	assert_int_equal(rn_model_create(&allocator, &m), RN_OK);
	int heel = build_node(m, "heel", RN_NODE_ANCHOR, 0, 0, 0);
	int head = build_node(m, "head", RN_NODE_JOINT, 0, 6.3, 20e3);
	int left = build_node(m, "left", RN_NODE_ANCHOR, -7, 0.2, 0);
	int right = build_node(m, "right", RN_NODE_ANCHOR, 6.7, 0.1, 0);
	build_sling(m, "guy-left", left, head, 4e5, 0);
	build_sling(m, "guy-right", right, head, 4e5, 0);
	rn_prop prop = {.id = "spar", .species = species, .from = heel, .to = head};
	assert_int_equal(rn_model_add_prop(m, &prop, NULL), RN_OK);
	build_number(m, rn_object_of(RN_PROP, 0), RN_ATTRIBUTE_DIAMETER, 0.24);
	if (factor > 0)
		build_number(m, rn_object_of(RN_PROP, 0), RN_ATTRIBUTE_DESIGN_FACTOR, factor);
	assert_int_equal(rn_model_check(m), RN_OK);
	assert_int_equal(rn_solve(m, &options, result_out), RN_OK);
	const rn_case_result *c = &(*result_out)->cases[0];
	for (int i = 0; i < c->part_count; i++)
		if (c->parts[i].object.kind == RN_PROP)
			*out = c->parts[i];
	*model_out = m;
}

static void test_prop_by_its_species(void **state)
{
	(void)state;
	static const struct {
		const char *species;
		rn_unchecked unchecked;
		double compression, modulus; /* rows of the table */
	} rows[] = {
		{"western larch", RN_CHECKED, 25.9e6, 10.1e9}, /* Wood Handbook FPL-GTR-282 (2021) Table 5-3a */
		{"Larix occidentalis", RN_CHECKED, 25.9e6, 10.1e9},
		{"American beech", RN_WOOD_ESTIMATED, 24.5e6, 9.5e9}, /* from memory */
		{"European beech", RN_WOOD_UNKNOWN, 0, 0},
		{"larhc", RN_WOOD_UNKNOWN, 0, 0},
		{NULL, RN_WOOD_UNKNOWN, 0, 0},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_model *m;
		rn_result *result;
		rn_part_result part = {.object = {RN_NODE, RN_NONE}};
		solve_prop(rows[i].species, 5, &part, &m, &result);
		assert_int_equal(part.unchecked, rows[i].unchecked);
		if (rows[i].unchecked == RN_CHECKED) {
			const double pi = 3.14159265358979323846, length = 6.3;
			double euler = pi * pi * rows[i].modulus * pi / 64 * pow(0.24, 4) / (length * length);
			double crush = rows[i].compression * pi / 4 * 0.24 * 0.24;
			/* the head sinks a little: the length is that of the drawing within 1e-4 */
			rn_assert_near(part.limit, fmin(euler, crush) / 5, 3e-4, 0);
		} else {
			assert_true(part.limit == 0);
		}
		rn_result_destroy(result);
		rn_model_destroy(m);
		/* without a design factor that is what is said, unless its wood is not known well enough either */
		solve_prop(rows[i].species, 0, &part, &m, &result);
		assert_int_equal(part.unchecked, rows[i].unchecked == RN_CHECKED ? RN_NO_DESIGN_FACTOR : rows[i].unchecked);
		assert_true(part.limit == 0 && part.utilisation == 0 && part.breaking == 0);
		rn_result_destroy(result);
		rn_model_destroy(m);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_density_rows_agree_with_themselves),
		cmocka_unit_test(test_strength_rows_agree_with_themselves),
		cmocka_unit_test(test_every_name_finds_its_row),
		cmocka_unit_test(test_names),
		cmocka_unit_test(test_near_names),
		cmocka_unit_test(test_published_species),
		cmocka_unit_test(test_what_is_given_stays),
		cmocka_unit_test(test_from_memory_and_group),
		cmocka_unit_test(test_unknown),
		cmocka_unit_test(test_nothing_for_an_idle_stem),
		cmocka_unit_test(test_branch_loads_its_stem),
		cmocka_unit_test(test_a_twig_is_of_its_own_tree),
		cmocka_unit_test(test_bark_does_not_stiffen),
		cmocka_unit_test(test_bark_thicker_than_the_stem),
		cmocka_unit_test(test_prop_by_its_species),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
