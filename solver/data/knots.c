/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Most rows are tests of natural-fibre rope, seen in a second-hand copy: Day, The Art of Knotting and
 * Splicing (1970), and Dent, Ropework (Univ. of Minnesota Agricultural Extension and USDA, 1964). Where
 * sources differ the lower strength is kept. How much a knot leaves depends on the rope as much as on the
 * knot (Turner and van de Griend, History and Science of Knots, p. 193), so a test of the rope at hand,
 * `knot-factor`, goes before this table.
 */
#include "solver/data/knots.h"

#include <stdbool.h>
#include <stddef.h>

#define DAY_DENT "Day (1970) and Dent (1964), natural fibre; trade copy"
/* Kane, Breaking load of hitches and ropes used in rigging, AUF 38(1), 2012, abstract: clove, cow and timber
 * hitch and running bowline round a pole break alike; the lowest figure known of the four is taken. */
#define ALIKE "as the bowline, the lowest of four hitches that break alike (Kane 2012); common practice"

static const rn_knot knots[] = {
	{"eye splice", "spliced eye,splice", 0.95, DAY_DENT},
	{"short splice", NULL, 0.90, DAY_DENT},
	{"sewn eye", "sewn,stitched eye", 0.80,
	 "as a splice with thimble, over 80 %, knot handbook; common practice, no source"},
	{"clove hitch", NULL, 0.75, DAY_DENT},
	{"two half hitches", "half hitches", 0.75, DAY_DENT},
	{"anchor bend", "anchor hitch,fisherman's bend", 0.70, DAY_DENT},
	{"round turn and two half hitches", NULL, 0.70, "as the anchor bend; common practice, no source"},
	{"timber hitch", NULL, 0.70, DAY_DENT},
	{"pipe hitch", NULL, 0.70, DAY_DENT},
	{"bowline", NULL, 0.60, DAY_DENT ", kept below the 80 to 90 % of Fitch and Funderburke p. 38"},
	{"bowline on a bight", "bowline on the bight", 0.60, DAY_DENT},
	{"running bowline", NULL, 0.60, ALIKE},
	{"cow hitch", "girth hitch,lark's head,larks head,cow hitch with half hitch", 0.60, ALIKE},
	{"figure-eight", "figure of eight,figure eight loop,figure of eight loop,figure eight on a bight", 0.48,
	 DAY_DENT ", of the stopper at an end; loops on it by common practice"},
	{"square knot", "reef knot", 0.45, DAY_DENT},
	{"sheepshank", NULL, 0.45, DAY_DENT},
	{"butterfly", "alpine butterfly", 0.45, "as the lowest of Day and Dent; common practice, no source"},
	{"overhand", "overhand knot,overhand loop", 0.35,
	 "loses up to 65 % in polyester and polyamide, sailing reference; trade copy"},
};

enum { KNOT_COUNT = sizeof knots / sizeof *knots };

static bool counts(char c)
{
	return c != ' ' && c != '-' && c != '_' && c != '\'';
}

static char small(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* Whether `name` is the same as `row` up to its end or the next comma. */
static bool same(const char *name, const char *row)
{
	for (;;) {
		while (*name && !counts(*name))
			name++;
		while (*row && !counts(*row))
			row++;
		bool row_ends = *row == '\0' || *row == ',';
		if (*name == '\0' || row_ends)
			return *name == '\0' && row_ends;
		if (small(*name++) != small(*row++))
			return false;
	}
}

static bool is_called(const rn_knot *knot, const char *name)
{
	if (same(name, knot->name))
		return true;
	for (const char *also = knot->also; also && *also;) {
		if (same(name, also))
			return true;
		while (*also && *also != ',')
			also++;
		also += *also == ',';
	}
	return false;
}

const rn_knot *rn_knot_find(const char *name)
{
	for (int i = 0; i < KNOT_COUNT; i++)
		if (is_called(&knots[i], name))
			return &knots[i];
	return NULL;
}

const rn_knot *rn_knot_worst(void)
{
	const rn_knot *worst = &knots[0];
	for (int i = 1; i < KNOT_COUNT; i++)
		if (knots[i].keeps < worst->keeps)
			worst = &knots[i];
	return worst;
}

const rn_knot *rn_knot_row(int index)
{
	return index >= 0 && index < KNOT_COUNT ? &knots[index] : NULL;
}
