/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A model made ready for the equations of one case.
 *
 *     line:   tie ---- through ---- grip ------------ hold
 *     ropes:  [ rope 0: 3 stops, 2 spans ][ rope 1: 2 stops, 1 span ]
 *
 * A *rope* is the part of a line between two places where it is made fast or held, one leg of a
 * sling, or a prop, which differs only in that it can push: along it the tension differs by friction
 * only, so it has one unknown tension. Its *stops* are the nodes it comes to. The unknowns are the
 * places of the free nodes and the tension in the first span of each taut rope.
 */
#ifndef RN_STATICS_NETWORK_H
#define RN_STATICS_NETWORK_H

#include "solver/base/arena.h"
#include "solver/base/vec2.h"
#include "solver/funicle.h"
#include "solver/statics/bending.h"

typedef struct rn_stop {
	int node, station; /* station RN_NONE for a sling */
	double radius;     /* as used now; 0 = point */
	double tread_radius; /* as the gear has it [m] */
	int side;          /* +1 or -1; a point has the side it turns to */
	int side_drawn;
	bool through;      /* the rope bends here; false at the two ends of a rope */
	bool captured;     /* a ring or block: the rope cannot leave it */
	bool lifted;       /* the rope does not touch it now: it is passed by */
	bool untouched;    /* a ring that hangs on its own slings: lifted for good */
	bool gone;         /* it has let go: the rope goes on without it */
	int flips;         /* how often it went to the other side */
	bool at_tread;     /* an end was drawn up to this tread, which then counts as a point */
	bool doubtful;     /* the drawing does not tell the side */
	bool is_sheave;
	double friction;   /* capstan exponent per radian, or (1 - eta)/(1 + eta) of a sheave */
	double turns;      /* whole turns round a post on top of the bend [-] */
	int run;           /* +1 rope runs toward the last stop, -1 toward the first, 0 not */
	double bend;       /* followed from step to step [rad] */
	double log_ratio, log_ratio_slope; /* ln(T_after/T_before) and its slope by the bend */
} rn_stop;

typedef struct rn_span {
	int from, to;       /* stops, indices into rn_network.stops */
	rn_vec2 u;          /* direction of travel; shorter than 1 only for a span of no length */
	double length;      /* t, between the tangent points [m] */
	double distance;    /* |d| between the nodes [m] */
	double offset;      /* rho [m] */
	double heading;     /* phi [rad]; only where a stop of the rope bends */
	double share;       /* E: tension over that of the first span (or over the pull) */
} rn_span;

typedef struct rn_rope {
	rn_object member;
	int member_span; /* index of its first span in the member */
	int first_stop, stop_count, first_span, span_count; /* span_count: of the stops not lifted */
	double length0;   /* unstretched [m] */
	double further[2]; /* runs on so far beyond the drawing before its first and last stop [m] */
	double drawn;     /* length as drawn [m] */
	double stiffness; /* EA [N]; on a curve that of its part, with length0 to go with it */
	int curve;        /* item whose curve it follows, RN_NONE for a plain EA */
	int curve_part;
	double length0_made; /* unstretched, before the curve's part shifted it [m] */
	double stiffness_used; /* softer while a first shape is looked for [N] */
	bool pulled;      /* held with a given pull instead of a length */
	bool pull_at_last;
	double pull;      /* at that end of the rope [N] */
	bool pushes;      /* a prop: never slack, its tension may be negative */
	bool taut;        /* carries load now */
	double tension;   /* of the first span, or the pull where it is given [N] */
	double length;    /* now [m] */
	bool bends;       /* has a through */
	bool gone;        /* it has let go: carries nothing */
	bool laid;        /* it could be laid as drawn; else nobody knows how long it is drawn */
	bool runs;        /* has friction now */
} rn_rope;

typedef struct rn_contact {
	int first, second; /* neighbouring stops with treads */
	double reach;      /* distance at which they touch [m] */
	double push;       /* [N] */
	bool exists;       /* both stops have a tread now */
	bool touching;
} rn_contact;

/* What nobody knows exactly, and what has let go, instead of what the case says; every array may be NULL. */
typedef struct rn_unsure {
	const double *grip;     /* per station, -1 .. 1: friction there hinders with this part of its most,
	                           positive as if the rope ran toward its last station */
	const double *line_off; /* per line: its length is off by this part of itself */
	const double *leg_off;  /* per leg likewise */
	const bool *node_gone, *line_gone, *leg_gone; /* let go: nothing is made fast there, carries or bends */
	const bool *station_gone; /* what makes a line fast there has let go */
	/* per station, at a hold: above 0 the rope slips there at this pull in it, below 0 it is locked, whatever
	 * pull the model gives; 0: as the model says [N] */
	const double *hold_pull;
} rn_unsure;

/* A piece held at a height, free to go sideways: by a spring whose rest is moved, so that every height it
 * comes to is one of equilibrium, whatever the spring. It carries what the rigging leaves of the weight. */
typedef struct rn_guide {
	int nodes[2];     /* whose heights make up the height of the piece; may be the same */
	double share[2];  /* of each, 1 in all [-] */
	double rest;      /* height of the spring's rest [m] */
	double stiffness; /* [N/m] */
	bool plumb;       /* held sideways too, by a spring so much stiffer that it gives no way to speak of */
	double across;    /* where [m] */
} rn_guide;

typedef struct rn_network {
	const rn_model *model;
	const rn_unsure *unsure; /* NULL: all is as the case says */
	const rn_guide *guide;   /* NULL: nothing is held but by the rigging */
	const double *values;
	const rn_case *c;
	rn_rope *ropes;
	rn_stop *stops;
	rn_span *spans;
	rn_contact *contacts;
	rn_bending *bendings; /* stems that give */
	int bending_count;
	bool keep_bending; /* the stems are those of the last load: their stiffness costs more than all else of one */
	int rope_count, stop_count, span_room, contact_count;
	int stop_most; /* of one rope */
	double *place; /* x, y per node [m] */
	double *load;  /* x, y per node, free nodes only [N] */
	bool *moves;   /* free nodes, and those on a stem that gives */
	int *unknown;  /* of a node's x; RN_NONE = does not move */
	int *order;    /* nodes in the order of their unknowns */
	int *visits;   /* ropes that come to each node, rising, once for each time they do; */
	int *first_visit; /* those of node i: first_visit[i] .. first_visit[i + 1] - 1 */
	int unknown_count, half_band;
	double contact_stiffness;
	bool bodiless;         /* rings do not meet, while a first shape is looked for */
	double friction_share; /* 0 none .. 1 all of it */
	double smoothing;      /* eps of a span of no length [m] */
	double size;           /* of the drawing [m] */
	double load_scale;     /* largest load or pull [N] */
} rn_network;

/* Ropes, stops and the numbering of unknowns, from the shape alone. Errors: MEMORY. */
rn_status rn_network_create(rn_arena *arena, const rn_model *model, rn_network *network_out) RN_MUST_CHECK;

/* Numbers of one case: places as drawn, sides, lengths, loads, friction. `values` stays borrowed. */
void rn_network_load(rn_network *network, const rn_case *c, const double *values);

/* A rope that is to be as long as drawn and that nobody could draw: an end lies within a tread next to it, or two
 * treads lie in each other. RN_NONE if there is none. No file has one, but numbers that were drawn from their ranges can. */
int rn_network_undrawn(const rn_network *network);

/* Lets no rope be stiffer than `most` [N], and bodies stiffer than the ropes in proportion. */
void rn_network_stiffen(rn_network *network, double most);

/* Lets the rope run round this part of the tread of every ring and block; bodies keep their size. */
void rn_network_grow_treads(rn_network *network, double part);

/* Puts every rope on the part of its curve that its mean tension lies on; with `one_step` only one
 * rope, by one part. True if a rope changed its part. */
bool rn_network_follow_curves(rn_network *network, bool one_step);

/* For ropes whose length as loaded is known: gives every taut one on a curve the secant stiffness at
 * its mean tension. True if one moved. */
bool rn_network_take_secants(rn_network *network);

/* What span i of those measured runs on beyond the drawing [m]. */
static inline double rn_span_further(const rn_rope *rope, int i)
{
	return (i == 0 ? rope->further[0] : 0) + (i + 1 == rope->span_count ? rope->further[1] : 0);
}

/* Whether rope is hauled in at this end of a rope, which takes the turns off a bollard there. */
bool rn_network_hauls(const rn_network *network, const rn_rope *rope, int stop);

/* ln of what the turns round the post at an end multiply a pull by; 0 at a hand. */
double rn_network_turned(const rn_network *network, int stop);

/* Stiffness of a guide sideways over that along its plumb line [-]. */
extern const double rn_guide_plumb;

/* Height of a guided piece, and where it is sideways [m]. */
double rn_guide_height(const rn_network *network);
double rn_guide_across(const rn_network *network);
/* Force of the guide on the piece, upward and to the right [N]. */
double rn_guide_lift(const rn_network *network);
double rn_guide_side(const rn_network *network);

/* How far the rope is wound round a stop, whole turns and all; below 0 it would have to push it [rad]. */
static inline double rn_stop_wound(const rn_stop *stop)
{
	return stop->bend + 2 * RN_PI * stop->turns;
}

/* The node, as an object for notes. */
static inline rn_object rn_stop_object(const rn_network *network, int stop)
{
	return rn_object_of(RN_NODE, network->stops[stop].node);
}

#endif
