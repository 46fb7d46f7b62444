/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One case at a time, with a change to the shape that only the studies ask for.
 */
#ifndef RN_STUDY_WORKSPACE_H
#define RN_STUDY_WORKSPACE_H

#include "solver/statics/settle.h"

/* Where an answer that is handed out keeps everything it owns, itself included. */
typedef struct rn_result_memory {
	rn_arena arena;
} rn_result_memory;

/* Errors: MEMORY. */
rn_status rn_result_memory_create(const rn_options *options, rn_result_memory **memory_out) RN_MUST_CHECK;
/* Gives back all of it, itself included, and leaves NULL; takes NULL. */
void rn_result_memory_release(rn_result_memory **memory);

/* A copy of an answer that outlives its workspace. Errors: MEMORY. */
rn_status rn_case_result_copy(rn_arena *arena, const rn_model *model, const rn_case_result *from,
                              rn_case_result *copy_out) RN_MUST_CHECK;

/* As rn_workspace_settle, from the drawing, with the rope on the other side of one through.
 * Errors: MEMORY, STOPPED. */
rn_status rn_workspace_settle_flipped(rn_workspace *workspace, const rn_case *c, const double *values,
                                      int station, const rn_case_result **result_out) RN_MUST_CHECK;

/* The parts as they are rated, with nothing pulling. Only for a workspace that is then thrown away. */
void rn_workspace_rate(rn_workspace *w, const rn_case *c, const double *values, const rn_case_result **result_out);

/* Unstretched length of rope before each through, up to the middle of its arc, at the last answer; 0 at other
 * stations. Of a line whose first end has a given pull it is counted from the last end, backward, so that it
 * grows the same way. One per station [m]. */
void rn_workspace_lengths(const rn_workspace *w, double *before_out);

/* What is asked beside the model, in every case of the chain alike. */
typedef struct rn_held_with {
	int scaled; /* a number that is taken `scale` times, RN_NONE */
	double scale;
	const struct rn_drawn *drawn; /* numbers that are drawn; NULL: none */
	const rn_unsure *unsure; /* what is gone or longer; its grip is not looked at. May be NULL */
} rn_held_with;

/* Settles a case that follows another, with its rope held: from the end of that case its numbers change in
 * small steps, and every through sticks until its friction is used up. As rn_workspace_settle else.
 * Errors: MEMORY, STOPPED. */
rn_status rn_held_settle(rn_arena *scratch, rn_workspace *w, const rn_model *model, const rn_case *c,
                         const rn_held_with *with, const rn_case_result **result_out) RN_MUST_CHECK;
/* Whether an answer is one: settled or kept, and its forces balance. */
bool rn_case_holds(const rn_case_result *answer);
/* Whether it was settled with nothing falling before. */
bool rn_case_stays(const rn_case_result *answer);
/* Whether it holds, and is at rest there: no catch at its peak. */
bool rn_case_rests(const rn_case_result *answer);
/* A note to the last answer. Errors: MEMORY. */
rn_status rn_workspace_note(rn_workspace *w, rn_note note) RN_MUST_CHECK;

/* The equations at the last answer, or near it: R = 0 there. */
typedef struct rn_system {
	int size;
	const double *residual;     /* R, in the units of the system [-] */
	const rn_triplets *tangent; /* dR/dx */
	const rn_case_result *answer; /* what the places and tensions at hand come to */
} rn_system;

/* Keeps places, tensions and pushes of the last answer, in which ropes are taut as they are, and looks at
 * them with other numbers, or with unknown `shifted` (RN_NONE: none) moved by `by`. False when a tangent does
 * not exist there. */
bool rn_workspace_look(rn_workspace *w, const rn_case *c, const double *values, int shifted, double by,
                       rn_system *system_out);
/* Solves A x = right in place with the workspace's own room; `matrix` of rn_workspace_look's size. Errors: MEMORY. */
rn_status rn_workspace_solve(rn_workspace *w, int size, const rn_triplets *matrix, double *right) RN_MUST_CHECK;

/* What is unsure counts from the next settling on, instead of what the case says; NULL: nothing is. It stays
 * the caller's. */
void rn_workspace_unsure(rn_workspace *w, const rn_unsure *unsure);

/* ---- a piece lowered by a guide: for the catch --------------------------------------------------- */

/* The piece is held by a guide from the next settling on; NULL: by the rigging alone. It stays the caller's. While
 * there is one the stems do not change. */
void rn_workspace_guide(rn_workspace *w, const rn_guide *guide);
/* Takes the numbers of a case without settling it. */
void rn_workspace_load(rn_workspace *w, const rn_case *c, const double *values);
/* Settles near the last place that was found, and looks at nothing but the places. False in *found_out: nothing
 * was found, and the last place stays. Errors: MEMORY, STOPPED. */
rn_status rn_workspace_lower(rn_workspace *w, const rn_case *c, const double *values, bool *found_out);
/* Marks can be set, to come back to where the last settling that found something had left everything then. */
typedef enum rn_mark { RN_MARK_STEP, RN_MARK_CLIMB, RN_MARK_GIVEN, RN_MARK_COUNT } rn_mark;
void rn_workspace_mark(rn_workspace *w, rn_mark mark);
void rn_workspace_back(rn_workspace *w, rn_mark mark);
/* Places of all nodes then [m]. */
const double *rn_workspace_marked(const rn_workspace *w, rn_mark mark);
/* The network as the last settling left it. */
const rn_network *rn_workspace_network(const rn_workspace *w);
/* The whole answer where the last settling left it, with what the guide carries taken off the piece's load.
 * Errors: MEMORY. */
rn_status rn_workspace_let_go(rn_workspace *w, const rn_case *c, const double *values,
                              const rn_case_result **result_out) RN_MUST_CHECK;
/* Forgets what the last answer had to say. */
void rn_workspace_forget_notes(rn_workspace *w);
/* What became of the fall, for the last answer; `outcome` other than SETTLED takes its verdict away. */
void rn_workspace_caught(rn_workspace *w, const rn_caught *caught, rn_outcome outcome);

/* Settles a case in which a piece falls: where it comes to a stop. As rn_workspace_settle else.
 * Errors: MEMORY, STOPPED. */
rn_status rn_fall_settle(rn_arena *scratch, rn_workspace *w, const rn_model *model, const rn_case *c,
                         const double *values, const rn_case_result **result_out) RN_MUST_CHECK;
/* The same with the line slipping at a pull in it, whatever the model says; infinite: locked. */
rn_status rn_fall_settle_slipping(rn_arena *scratch, rn_workspace *w, const rn_model *model, const rn_case *c,
                                  const double *values, double slips_at,
                                  const rn_case_result **result_out) RN_MUST_CHECK;

/* Sets what is guessed of stiffness to its ends. `turn` counts from 0: all low, all high, then two for each
 * guess if there are more. False when there is no such turn. */
bool rn_guess_turn(const rn_model *model, double *values, int turn);

/* rn_solve with one number multiplied in every case. Errors: MEMORY, STOPPED. */
rn_status rn_solve_scaled(const rn_model *model, const rn_options *options, int number, double scale,
                          rn_result **result_out) RN_MUST_CHECK;

/* rn_solve with something unsure, or gone, in every case. Errors: MEMORY, STOPPED. */
rn_status rn_solve_unsure(const rn_model *model, const rn_options *options, const rn_unsure *unsure,
                          rn_result **result_out) RN_MUST_CHECK;

#endif
