/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A piece lowered into its catch, as a path: at each height of a guide the rigging settles, with its rope running
 * toward the piece, and F(y) is what it pulls the piece up with. The path does not depend on what the piece weighs.
 *
 *     released  o
 *               .   slack: F = 0, no path
 *     begins    +-------- found by climbing from where the piece hangs
 *               |   steps of five states each, halved until their work is right
 *     hangs     +   F = W
 *               |
 *               v   drawn out as far as anybody asks
 *
 * Work is integrated in each step over the polynomial of fourth degree through its five states.
 */
#ifndef RN_STUDY_LOWERING_H
#define RN_STUDY_LOWERING_H

#include "solver/statics/energy.h"
#include "solver/study/workspace.h"

/* States of one step of the path. */
enum { RN_FALL_NODES = 5 };

typedef struct rn_fall_step {
	double rest, down;  /* of the guide: where it begins, how far it goes [m] */
	double work, heat;  /* up to its beginning [J] */
	double across;      /* of the piece, at its end [m] */
	bool jumps;         /* something snaps over in it */
	double force[RN_FALL_NODES], height[RN_FALL_NODES]; /* F [N] and y [m] at equal steps of the guide */
} rn_fall_step;

typedef struct rn_catch {
	rn_arena *arena;
	rn_workspace *workspace;
	const rn_model *model;
	const rn_case *of;
	const double *values;
	const rn_fall *fall;
	const rn_unsure *outer; /* what was unsure before */
	rn_unsure unsure;
	rn_guide guide;
	/* the line that can slip */
	double *hold_pull;
	int slips;         /* station where it can, RN_NONE */
	double slips_at;   /* pull in it; infinite: it does not [N] */
	double slip_asked; /* the same, whatever the model says; 0: as the model says [N] */
	bool locked;       /* it does not slip in the state at hand */
	bool marked_locked[RN_MARK_COUNT];
	/* of the fall */
	double weight, path_weight; /* now, and as the path was drawn: rests of the guide are those of then [N] */
	double released, released_across, begin_across, energy_scale;
	bool lenient; /* an answer is wanted even where much rope ran back: its pull is too high, not too low */
	bool hangs;  /* there is an answer with the piece at rest, so there is a path */
	bool stays;  /* the line holds the piece where it is let go */
	bool failed; /* and why */
	rn_note failure;
	rn_outcome outcome;
	/* the state at hand */
	double height, across, force; /* [m], [m], [N] */
	rn_stored stored, stored_before; /* at the beginning of the path */
	/* the step at hand */
	double node_force[RN_FALL_NODES], node_height[RN_FALL_NODES], node_stored[RN_FALL_NODES];
	rn_heat_term *terms;
	double *term_a, *term_b; /* per term and node of the step */
	int term_count;
	/* the path */
	double rest, down, taken; /* of the guide: where it ends, how long its next step is to be and its last was [m] */
	double work, heat;        /* up to there [J] */
	bool left;                /* the step at hand is not the one that ends there */
	rn_fall_step *steps;
	int step_count, step_room;
	double jumped;   /* energy gained or lost where something snapped over [J] */
	double jumped_all; /* the same, gains and losses not set off against each other [J] */
	int snaps;       /* a node that did */
	bool snapped;    /* the last step tried ended at such a place */
	double *back, *unused; /* per stop: heat that rope running back over it would have given [J] */
} rn_catch;

const rn_network *rn_lowering_network(const rn_catch *c);
/* Weight of the piece, with what a case pulls down on it besides [N]. */
double rn_lowering_weight(const rn_catch *c);
/* Unstretched rope let run [m]. */
double rn_lowering_run_out(const rn_catch *c);
void rn_lowering_lock(rn_catch *c, bool locked);
/* What is at hand, to go back to. */
void rn_lowering_mark(rn_catch *c, rn_mark which);
/* To what was marked; RN_MARK_STEP is where the last step began. */
void rn_lowering_back(rn_catch *c, rn_mark which);

/* The rest of the guide, with the weight the path was drawn with, for which the piece comes to a height where its
 * lines pull so much. */
double rn_lowering_rest(const rn_catch *c, double height, double force);
/* Settles with the guide's rest, of that weight, at a height: the state at hand. Errors: MEMORY, STOPPED, like all below. */
rn_status rn_lowering_settle(rn_catch *c, double rest, bool *found) RN_MUST_CHECK;

/* The step at hand: its first state, then the four that follow it, `down` in all. */
rn_status rn_lowering_begin(rn_catch *c, double rest, bool *found) RN_MUST_CHECK;
rn_status rn_lowering_walk(rn_catch *c, double rest, double down, bool *found) RN_MUST_CHECK;
/* Its work on the piece, by every `stride`-th state [J]; its heat, with what came of rope running back added to
 * `back`, per stop [J]. */
double rn_lowering_work(const rn_catch *c, int stride);
double rn_lowering_heat(const rn_catch *c, double *back);

/* Finds where the path begins, from where the piece hangs. */
rn_status rn_lowering_find_beginning(rn_catch *c, bool *found) RN_MUST_CHECK;
/* Draws the path out by a step. False in *found: it ends here. */
rn_status rn_lowering_extend(rn_catch *c, bool *found) RN_MUST_CHECK;
/* Height, and work up to there, at a part of a step [m], [J]. */
void rn_fall_step_at(const rn_fall_step *step, double s, double *height_out, double *work_out);

#endif
