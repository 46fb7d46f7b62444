/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is known of green wood by species: its density, and apart from that its strength. A species is
 * found by its common or its Latin name; capitals, hyphens and spaces do not count.
 */
#ifndef RN_DATA_SPECIES_H
#define RN_DATA_SPECIES_H

#include "solver/funicle.h"

/* Whole-log averages of a living tree; see density.inc for the source and what it leaves out. */
typedef struct rn_density_row {
	const char *name, *latin;
	double specific_gravity; /* oven-dry mass over green volume, relative to water [-] */
	double moisture;         /* of green wood, as a part of its oven-dry mass [-] */
	double wood, bark;       /* [kg/m3] */
	double bark_share;       /* volume of the bark over that of the wood [-] */
	double with_bark;        /* [kg/m3] */
	double saturated;        /* of waterlogged wood: no wood is heavier [kg/m3] */
	bool is_group;           /* average of a genus or a group of species */
} rn_density_row;

/* Means of small clear green specimens; see strength.inc. */
typedef struct rn_strength_row {
	const char *name;
	const char *species; /* name in the table of densities; "" = not there */
	double specific_gravity;
	double bending, modulus, compression, shear; /* [Pa]; 0 = no value */
	const char *source;
	bool from_memory; /* never good enough to count as checked */
} rn_strength_row;

const rn_density_row *rn_density_rows(int *count_out);
const rn_strength_row *rn_strength_rows(int *count_out);

/* NULL when there is no such species. "coast Douglas-fir", a name of the table of strengths, finds the
 * density of Douglas-fir. */
const rn_density_row *rn_density_of(const char *name);

/* NULL when nothing is known of its strength. Of a species that the table splits (Douglas-fir by region,
 * redwood by age) the plain name finds the weakest row: what is not said is not flattered. */
const rn_strength_row *rn_strength_of(const char *name);

/* The name in the tables that was most likely meant: one that holds the whole word ("red oak" in
 * "northern red oak"), else the one with the fewest slips; NULL when none is near. With `strong` only
 * among those whose strength is known. */
const char *rn_species_near(const char *name, bool strong);

#endif
