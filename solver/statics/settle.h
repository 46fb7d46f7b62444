/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Finding where everything settles.
 *
 *   1  minimise   without friction, ropes softened: the energy is convex for points, and a minimum
 *                 is found from any start, slack or not
 *   2  newton     places and tensions together, ropes as stiff as they are
 *   3  friction   brought in at once, or by halves where that fails
 *   4  look       bends that have gone negative change side or lift off; ends drawn up to a tread;
 *                 again from 1 or 2 while something changed
 */
#ifndef RN_STATICS_SETTLE_H
#define RN_STATICS_SETTLE_H

#include "solver/statics/equations.h"
#include "solver/statics/linear.h"
#include "solver/statics/network.h"

/* Places, bends and tensions to go back to. */
typedef struct rn_snapshot {
	double *place, *bend, *tension, *push; /* push < 0: apart */
	bool *taut;
} rn_snapshot;

/* Errors: MEMORY. */
rn_status rn_snapshot_create(rn_arena *arena, const rn_network *network,
                             rn_snapshot *snapshot) RN_MUST_CHECK;

/* Tension of a span over its length; as logarithms what a round of the start began with, was renewed to, their
 * difference, and how far it was renewed to from where the round before was. */
typedef struct rn_density {
	double now; /* [N/m] */
	double begun, renewed, change, step;
} rn_density;

typedef struct rn_settler {
	rn_network net;
	rn_terms terms;
	rn_triplets triplets;
	rn_symmetric symmetric;
	rn_full full;
	double *residual;   /* R over the unknown places, then S over the taut ropes */
	double *step;       /* the same length */
	rn_snapshot step_kept;  /* of one step of an iteration */
	rn_snapshot stage_kept; /* of a stage that may fail */
	rn_snapshot start_kept; /* of a start that may not be one */
	double *place_drawn;
	rn_density *densities; /* of the spans, while a start is looked for */
	int *rope_unknown;    /* row of a taut rope's tension, RN_NONE otherwise */
	int *contact_unknown; /* row of the push of two bodies that touch, RN_NONE otherwise */
	double energy;
	int toppled; /* the prop, a rope of the network */
	int step_count, stage_count;
	int step_max;
	double work; /* spent on this case, counted in products of the linear systems */
	const volatile int *stop;
	rn_status stopped_by; /* why a stage ended with RN_ENDED_STOPPED: STOPPED or MEMORY */
	rn_arena *notes_arena; /* of the answer being made */
	rn_notes *notes;
} rn_settler;

/* Errors: MEMORY, LIMIT. */
rn_status rn_settler_create(rn_arena *arena, const rn_model *model, const rn_options *options,
                            rn_settler *settler_out) RN_MUST_CHECK;

/* Settles the case loaded into settler->net. `warm`: its places and tensions are near already.
 * Errors: MEMORY, STOPPED. */
rn_status rn_settle(rn_settler *settler, bool warm, rn_outcome *outcome_out) RN_MUST_CHECK;

/* ---- stages, each testable on its own ------------------------------------------------------- */

/* Measures every rope at the present places. False if a tangent does not exist. */
bool rn_settler_measure(rn_settler *settler);

typedef enum rn_ended {
	RN_ENDED_WELL,
	RN_ENDED_STUCK,
	RN_ENDED_FALLING, /* the energy has no bottom */
	RN_ENDED_TOPPLED, /* a prop lies down, or balances on its edge */
	RN_ENDED_TURNED,  /* a rope has come well off its ring on the way: see net.stops */
	RN_ENDED_STOPPED  /* see stopped_by */
} rn_ended;

/* Moves the free nodes to a better start if most ropes are slack where they are; see start.c. */
void rn_start_loose(rn_settler *settler);
/* The same by ropes that come to their lengths, as stiff as they are. False, with the nodes anywhere: most are not slack,
 * or it takes too long. */
bool rn_start_by_lengths(rn_settler *settler);

/* Lowers the energy without friction until no node has more than `aim` [N] left over, or no more
 * than `enough` where rounding lets it fall no further. */
rn_ended rn_minimise(rn_settler *settler, double aim, double enough);

/* Gradient and stiffness of the frictionless energy at the places last measured, into residual and
 * triplets (lower half). `first`: ropes as long as drawn count as taut, though they carry nothing yet. */
void rn_minimise_assemble(rn_settler *settler, bool first);

/* Adds the force of the guide, over `force_unit`, and its stiffness times `turning`, if there is one. */
void rn_guide_add(rn_settler *settler, double force_unit, double turning, bool lower_half);

/* Moves what props stand on its edge off it; see topple.c. */
void rn_topple_nudge(rn_settler *settler);
/* Whether the energy has no minimum at the present places, as read off its tangent. */
bool rn_topple_on_edge(rn_settler *settler);
/* The prop (a rope of the network) that topples at the present places, RN_NONE if none does. `drawn`
 * holds the places as drawn. */
int rn_topple_check(rn_settler *settler, const double *drawn);

/* Solves R = 0, S = 0 for places and tensions together, with friction as net.friction_share says. */
rn_ended rn_newton(rn_settler *settler);

/* Fills residual and triplets of the full system and returns its size. */
int rn_newton_assemble(rn_settler *settler);
/* Moves places, tensions and pushes by so much of settler->step, which is in the units of the system last
 * assembled. */
void rn_newton_move(rn_settler *settler, double part);

/* Keeps, and goes back to, places, bends and tensions. Going back does not measure. */
void rn_settler_keep(const rn_settler *settler, rn_snapshot *snapshot);
void rn_settler_return(rn_settler *settler, const rn_snapshot *snapshot);

/* Whether some rope has come so far off its ring that it must change side now: followed on, it would
 * wind itself round backwards, and its length would have no bottom. */
bool rn_settler_unwound(const rn_settler *settler);

/* Whether some bend has changed since by more than one step may. */
bool rn_settler_swings(const rn_settler *settler, const rn_snapshot *kept);

/* A bend of less than this is taken for none [rad]: far above rounding, far below sight. */
extern const double rn_bend_negative;

/* The ring with the most negative bend below `least` [rad] on a rope that carries load, RN_NONE if none. */
int rn_settler_most_pushed(const rn_settler *settler, double least);

/* Adds what a step costs; false when the case has had its share. The share is some seconds for the
 * largest systems, and more steps than any small one needs. */
bool rn_settler_spend(rn_settler *settler, double work);

/* Sizes of all loads together [N]. */
double rn_settler_loads(const rn_settler *settler);

/* Whether it has so many unknowns that it takes the ways of a net. */
bool rn_settler_is_large(const rn_settler *settler);

/* Left-over that rounding alone can make [N]: 1e-10 of the largest load, or 8 eps EA/L0 (L + |x|)
 * of the stiffest rope, whichever is larger. */
double rn_settler_tolerance(const rn_settler *settler);

/* Whether something holds every load; says what would fall if not. Errors: MEMORY. */
rn_status rn_existence_check(rn_settler *settler, bool *holds_out) RN_MUST_CHECK;
/* Says which load falls after a minimisation ran away. Errors: MEMORY. */
rn_status rn_existence_explain(rn_settler *settler) RN_MUST_CHECK;

#endif
