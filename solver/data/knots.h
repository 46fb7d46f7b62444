/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What knots, hitches and splices leave of a rope's strength, with the source of each figure.
 */
#ifndef RN_DATA_KNOTS_H
#define RN_DATA_KNOTS_H

typedef struct rn_knot {
	const char *name;
	const char *also; /* other names, parted by commas; NULL */
	double keeps;     /* strength left [-] */
	const char *source;
} rn_knot;

/* By any of its names; capitals, hyphens and spaces do not count. NULL if it is not in the table. */
const rn_knot *rn_knot_find(const char *name);

/* The row that keeps least: what is taken for a knot nobody named, or one that is not listed. */
const rn_knot *rn_knot_worst(void);

/* Rows from 0; NULL behind the last. */
const rn_knot *rn_knot_row(int index);

#endif
