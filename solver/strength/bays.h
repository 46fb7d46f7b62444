/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The forces in a stem: a straight cantilever from its foot, loaded by whatever the rigging does to it and
 * to its branches, and by its own weight and theirs.
 *
 *              | top           Heights are counted along the axis. t points up it, n across it to the
 *        bay 2 |               right; a lean to the right turns both clockwise:
 *     ropes -> o                   t = (sin lean, cos lean),  n = (cos lean, -sin lean)
 *        bay 1 |
 *    branch -> o               Between two heights where something enters, or a section stands, the
 *        bay 0 |               stem is one *bay*: what enters above it is three numbers.
 *            ----- foot
 */
#ifndef RN_STRENGTH_BAYS_H
#define RN_STRENGTH_BAYS_H

#include "solver/base/arena.h"
#include "solver/base/vec2.h"

/* A force that enters the stem. It acts where it acts: a rope on the bark half a diameter off the axis, a
 * branch's load out on the branch; its moment comes of that. */
typedef struct rn_stem_load {
	double height;      /* at which it enters [m] */
	double push, side;  /* along -t, along n [N] */
	double moment;      /* about the foot's axis point, to the right positive [N m] */
	bool rigging;       /* else the weight of a branch */
} rn_stem_load;

typedef struct rn_bay {
	double from, to;               /* [m] */
	double lower, upper;           /* diameters over the bark there [m] */
	double wall;                   /* [m]; 0 = solid */
	double push, side, moment;     /* of what enters above it, as in rn_stem_load */
	double rigging_push, rigging_side; /* the rigging's part of them [N] */
	double wood, wood_moment;      /* own weight above `to` [N], that times its way up from `to` [N m] */
} rn_bay;

/* The wood of a whole stem or branch. */
typedef struct rn_bays_wood {
	double weight;   /* [N] */
	double place[2]; /* of its centre of mass [m] */
} rn_bays_wood;

/* One stem at a time; the arrays are scratch, taken once. */
typedef struct rn_bays {
	int stem;
	rn_vec2 foot, along, across; /* the axis: its foot [m], t and n */
	double bark;                 /* [m] */
	double weight;               /* of its wood [N/m3] */
	double top;                  /* the higher of its last section and whatever is highest on it [m] */
	rn_stem_load *loads;
	double *breaks;
	rn_bay *bays;
	int load_count, break_count, count;
	rn_bays_wood *woods; /* one per stem */
} rn_bays;

/* Largest number of bays a stem of this model can have. */
int rn_bays_room(const rn_model *model);
/* Errors: MEMORY. */
rn_status rn_bays_create(rn_arena *arena, const rn_model *model, rn_bays *bays_out) RN_MUST_CHECK;

/* Overwrites *bays with those of one stem. The branches of a stem are loaded before it, so that their
 * weight is known: from the last stem of the model down to the first. */
void rn_bays_load(rn_bays *bays, const rn_model *model, const double *values, const rn_case_result *answer,
                  int stem);

/* The bay at a height, of two that meet there the upper or the lower one; NULL above the top, where
 * nothing is. There is no wood below the foot: there both are the lowest bay. */
const rn_bay *rn_bays_find(const rn_bays *bays, double height, bool upper);

typedef struct rn_bay_forces {
	double axial;  /* push positive [N] */
	double shear;  /* of what is above, to the right positive [N] */
	double moment; /* bends the top to the right and presses the right side when positive [N m] */
} rn_bay_forces;

/* What all that is above a height in a bay does to the section there, about its axis point. */
rn_bay_forces rn_bays_forces(const rn_bays *bays, const rn_bay *bay, double height);

/* Diameter of the wood there, without the bark [m]. */
double rn_bays_diameter(const rn_bays *bays, const rn_bay *bay, double height);

#endif
