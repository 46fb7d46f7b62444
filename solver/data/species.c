/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/data/species.h"

#include <stddef.h>
#include <string.h>

/* The tables keep the units of their sources; here and nowhere else they become SI. */
#define PERCENT 0.01
#define MEGAPASCAL 1e6

enum { SPECIES = 0, GROUP = 1, PUBLISHED = 0, FROM_MEMORY = 1 };

static const rn_density_row densities[] = {
#define X(name, latin, gravity, moisture, wood, bark, share, with_bark, saturated, quality)               \
	{name, latin, gravity, (moisture) * PERCENT, wood, bark, (share) * PERCENT,                       \
	 with_bark, saturated, quality},
#include "solver/data/density.inc"
#undef X
};

static const rn_strength_row strengths[] = {
#define X(name, species, gravity, rupture, modulus, compression, shear, source, status)                   \
	{name, species, gravity, (rupture) * MEGAPASCAL, (modulus) * MEGAPASCAL,                          \
	 (compression) * MEGAPASCAL, (shear) * MEGAPASCAL, source, status},
#include "solver/data/strength.inc"
#undef X
};

enum {
	DENSITIES = sizeof densities / sizeof *densities,
	STRENGTHS = sizeof strengths / sizeof *strengths
};

const rn_density_row *rn_density_rows(int *count_out)
{
	*count_out = DENSITIES;
	return densities;
}

const rn_strength_row *rn_strength_rows(int *count_out)
{
	*count_out = STRENGTHS;
	return strengths;
}

/* ---- names --------------------------------------------------------------------------------- */

/* The next letter that counts, made small; 0 at the end. */
static char letter(const char **text)
{
	while (**text == ' ' || **text == '-')
		(*text)++;
	char c = **text;
	*text += c != '\0';
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool same_name(const char *a, const char *b)
{
	char first = letter(&a), second = letter(&b);
	for (; first && first == second; second = letter(&b))
		first = letter(&a);
	return first == second;
}

static const rn_strength_row *strength_named(const char *name)
{
	for (int i = 0; i < STRENGTHS; i++)
		if (same_name(strengths[i].name, name))
			return &strengths[i];
	return NULL;
}

static const rn_density_row *density_named(const char *name)
{
	for (int i = 0; i < DENSITIES; i++)
		if (same_name(densities[i].name, name) || same_name(densities[i].latin, name))
			return &densities[i];
	return NULL;
}

const rn_density_row *rn_density_of(const char *name)
{
	const rn_density_row *row = density_named(name);
	const rn_strength_row *part = row ? NULL : strength_named(name);
	return part ? density_named(part->species) : row;
}

static const rn_strength_row *weakest_of(const char *species)
{
	const rn_strength_row *weakest = NULL;
	for (int i = 0; i < STRENGTHS; i++)
		if (strcmp(strengths[i].species, species) == 0 &&
		    (!weakest || strengths[i].compression < weakest->compression))
			weakest = &strengths[i];
	return weakest;
}

const rn_strength_row *rn_strength_of(const char *name)
{
	const rn_strength_row *row = strength_named(name);
	const rn_density_row *species = row ? NULL : density_named(name);
	return species ? weakest_of(species->name) : row;
}

/* ---- nearest ------------------------------------------------------------------------------- */

/* Whether `name` stands in `whole` from some place on that begins a word, to its end: "red oak" in
 * "northern red oak". */
static bool ends_with(const char *whole, const char *name)
{
	for (const char *p = whole; *p; p++)
		if (p > whole && (p[-1] == ' ' || p[-1] == '-') && same_name(p, name))
			return true;
	return false;
}

typedef struct search {
	const char *name, *best;
	int distance; /* -1: it holds the name, which nothing beats */
} search;

static void offer(search *s, const char *candidate)
{
	int distance = ends_with(candidate, s->name)
	                       ? -1
	                       : rn_word_distance(s->name, strlen(s->name), candidate, strlen(candidate));
	if (distance >= s->distance)
		return;
	s->best = candidate;
	s->distance = distance;
}

const char *rn_species_near(const char *name, bool strong)
{
	search s = {name, NULL, RN_FAR};
	for (int i = 0; i < DENSITIES; i++) {
		if (strong && !weakest_of(densities[i].name))
			continue;
		offer(&s, densities[i].name);
		offer(&s, densities[i].latin);
	}
	for (int i = 0; i < STRENGTHS; i++)
		offer(&s, strengths[i].name);
	return s.best;
}
