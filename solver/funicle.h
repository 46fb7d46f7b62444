/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * funicle.h: the only door of solver/.
 *
 * Everything is SI: metres, newtons, radians, kilograms. x points right, y up, angles run
 * anticlockwise from +x. The data goes one way:
 *
 *     rn_model_add_... , rn_model_set_number      a model is built
 *     rn_model_check                              its rules are tested, what is missing is guessed;
 *                                                 from here on it is const and may be shared
 *     rn_solve                                    every case is settled, held against its limits
 *     rn_result                                   the answer, owned by the caller
 *
 * Words used here have one meaning each: a *line* or *sling leg* visits *stations*; between two
 * stations runs a *span*; at a through the rope bends by its *bend* round a tread. A *part* is
 * anything that has a limit; *demand* over *limit* is its *utilisation*.
 *
 * Ownership: a model owns every string and array in it; a result owns everything in it and keeps a
 * pointer to its model, which must outlive it. Nothing here prints, exits, or keeps global state.
 */
#ifndef FUNICLE_H
#define FUNICLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Of this header; rn_version_text is that of the library a program runs with. */
#define RN_VERSION_MAJOR 0
#define RN_VERSION_MINOR 1
#define RN_VERSION_PATCH 0
#define RN_VERSION_TEXT "0.1.0"
#define RN_VERSION_AT_LEAST(major, minor, patch)                                                   \
	(RN_VERSION_MAJOR * 1000000 + RN_VERSION_MINOR * 1000 + RN_VERSION_PATCH >=                \
	 (major) * 1000000 + (minor) * 1000 + (patch))

const char *rn_version_text(void);

#if defined(__GNUC__)
#define RN_MUST_CHECK __attribute__((warn_unused_result))
#else
#define RN_MUST_CHECK
#endif

#define RN_NONE (-1) /* "no such object" wherever an index is asked for */

/* ---- status -------------------------------------------------------------------------------- */

/* Why a call failed. An outcome (no equilibrium) and a verdict (over its limit) are not errors. */
#define RN_STATUS_LIST(X)                                                                          \
	X(OK, "done")                                                                              \
	X(MEMORY, "out of memory")                                                                 \
	X(LIMIT, "the model is larger than the program takes")                                     \
	X(INPUT, "the model breaks a rule")                                                        \
	X(ARGUMENT, "a call was given an argument it does not take")                               \
	X(STOPPED, "stopped on request")

typedef enum rn_status {
#define X(name, text) RN_STATUS_##name,
	RN_STATUS_LIST(X)
#undef X
} rn_status;

const char *rn_status_text(rn_status status);

#define RN_OK RN_STATUS_OK

/* Passes a failure on. Only for functions that own nothing (arenas own for them). */
#define RN_TRY(call)                                                                               \
	do {                                                                                       \
		rn_status rn_try_status_ = (call);                                                 \
		if (rn_try_status_ != RN_OK)                                                       \
			return rn_try_status_;                                                     \
	} while (0)

/* ---- words ----------------------------------------------------------------------------------- */

enum { RN_FAR = 0x7fff }; /* the distance of words nobody takes for each other */

/* Slips of the keyboard between two words (a letter wrong, missing, doubled, or two swapped), or letters
 * left out, "r1" for "ring1". Capitals do not count. RN_FAR when one was hardly meant for the other. */
int rn_word_distance(const char *word, size_t word_size, const char *other, size_t other_size);

/* ---- memory and options -------------------------------------------------------------------- */

/* All memory of solver/ comes through one such pair; `allocate` returns NULL when there is none. */
typedef struct rn_allocator {
	void *(*allocate)(void *context, size_t size);
	void (*release)(void *context, void *block);
	void *context;
} rn_allocator;

rn_allocator rn_allocator_default(void); /* malloc and free */

typedef struct rn_options {
	rn_allocator allocator;
	const volatile int *stop; /* read once per iteration; nonzero stops; may be NULL. A signal handler or another
	                             thread stores it atomically */
	int step_max;             /* Newton steps allowed in one stage [-] */
	bool stretch_check;       /* solve again with half the guessed stiffness */
	bool side_check;          /* solve again where both sides of a bend are possible */
	bool falls_only;          /* only the cases in which a piece falls */
	const char *only_case;    /* only this case, by its id; NULL: all */
} rn_options;

rn_options rn_options_default(void);

/* ---- objects and numbers ------------------------------------------------------------------- */

#define RN_OBJECT_LIST(X)                                                                          \
	X(RIGGING, "rigging")                                                                      \
	X(ITEM, "item")                                                                            \
	X(STEM, "stem")                                                                            \
	X(SECTION, "section")                                                                      \
	X(NODE, "node")                                                                            \
	X(SLING, "sling")                                                                          \
	X(LEG, "leg")                                                                              \
	X(LINE, "line")                                                                            \
	X(STATION, "station")                                                                      \
	X(PROP, "prop")                                                                            \
	X(STRETCH, "stretch")                                                                      \
	X(BEND, "bend")                                                                            \
	X(CUT, "cut")                                                                              \
	X(CASE, "case")                                                                            \
	X(FORCE, "force")                                                                          \
	X(FALL, "fall")

typedef enum rn_object_kind {
#define X(name, text) RN_##name,
	RN_OBJECT_LIST(X)
#undef X
	RN_OBJECT_KIND_COUNT
} rn_object_kind;

typedef struct rn_object {
	rn_object_kind kind;
	int index; /* into the model's array of that kind; RN_NONE = nothing */
} rn_object;

/* Kinds of quantity; the unit of a stored number follows from it. */
#define RN_QUANTITY_LIST(X)                                                                        \
	X(RATIO, "1")                                                                              \
	X(LENGTH, "m")                                                                             \
	X(FORCE, "N")                                                                              \
	X(ANGLE, "rad")                                                                            \
	X(ACCELERATION, "m/s2")                                                                    \
	X(DENSITY, "kg/m3")                                                                        \
	X(STRESS, "Pa")

typedef enum rn_quantity {
#define X(name, unit) RN_QUANTITY_##name,
	RN_QUANTITY_LIST(X)
#undef X
	RN_QUANTITY_COUNT
} rn_quantity;

/* Every number an object can have: name as written in a model file, quantity, meaning. */
#define RN_ATTRIBUTE_LIST(X)                                                                       \
	X(X, "x", LENGTH, "place, to the right")                                                   \
	X(Y, "y", LENGTH, "place, upward")                                                         \
	X(HEIGHT, "height", LENGTH, "height above the foot of the stem, along it")                 \
	X(LEAN, "lean", ANGLE, "lean of a stem off plumb, to the right positive")                  \
	X(DIAMETER, "diameter", LENGTH, "diameter of a rope, stem section")                        \
	X(WALL, "wall", LENGTH, "sound wall of a hollow section")                                  \
	X(WEIGHT, "weight", FORCE, "weight")                                                       \
	X(STRENGTH, "strength", FORCE, "breaking strength")                                        \
	X(WORKING_LOAD, "working-load", FORCE, "greatest working load allowed by its maker")       \
	X(DESIGN_FACTOR, "design-factor", RATIO, "strength over allowed load")                     \
	X(TREAD, "tread", LENGTH, "diameter of the seat the rope bends round")                     \
	X(EYE, "eye", LENGTH, "inner width of an eye")                                             \
	X(LONG, "long", LENGTH, "length of a sling or piece as made")                              \
	X(STIFFNESS, "stiffness", FORCE, "EA: force per unit stretch")                             \
	X(FRICTION, "friction", RATIO, "capstan exponent per radian of bend")                      \
	X(EFFICIENCY, "efficiency", RATIO, "of a sheave, over a bend of 180 deg")                  \
	X(TURNS, "turns", RATIO, "turns round a bollard")                                          \
	X(TAIL, "tail", RATIO, "turns held in reserve behind the hand")                            \
	X(REACH, "reach", LENGTH, "bark or anchor to the seat")                                    \
	X(ANGLE, "angle", ANGLE, "choke angle")                                                    \
	X(LENGTH, "length", LENGTH, "unstretched length")                                          \
	X(SLACK, "slack", LENGTH, "rope to spare as drawn")                                        \
	X(PRETENSION, "pretension", FORCE, "pull as drawn, before the weight")                     \
	X(LENGTH_ERROR, "length-error", RATIO, "how far the length may be off")                    \
	X(PULL, "pull", FORCE, "given pull at a held end")                                         \
	X(SIZE, "size", FORCE, "size of an outer force")                                           \
	X(TOWARD, "toward", ANGLE, "direction of an outer force")                                  \
	X(GRAVITY, "gravity", ACCELERATION, "acceleration of free fall")                           \
	X(PLACE_ERROR, "place-error", LENGTH, "how far a drawn place may be off")                  \
	X(DENSITY, "density", DENSITY, "green density")                                            \
	X(WET_FACTOR, "wet-factor", RATIO, "strength left when wet")                               \
	X(CONDITION_FACTOR, "condition-factor", RATIO, "strength left by wear and age")            \
	X(COMPRESSION, "compression", STRESS, "green strength of wood along the grain")            \
	X(MODULUS, "stiffness", STRESS, "modulus of elasticity of green wood")                     \
	X(LOAD, "load", FORCE, "pull at a point of a curve of load and stretch")                   \
	X(BY, "by", RATIO, "stretch at that pull, as a part of the length")                        \
	X(OVER, "over", RATIO, "diameter a rope bends round, over its own")                        \
	X(KEEPS, "keeps", RATIO, "strength left over such a bend")                                 \
	X(KNOT_FACTOR, "knot-factor", RATIO, "strength left at any knot or splice in it")          \
	X(CHOKE_FACTOR, "choke-factor", RATIO, "strength left where it is choked, angle apart")    \
	X(BENDING, "bending", STRESS, "green strength of wood in bending")                         \
	X(BARK, "bark", LENGTH, "thickness of the bark")                                           \
	X(AT, "at", LENGTH, "place of a cut, along the piece from its butt")                       \
	X(FURTHER, "further", LENGTH, "rope beyond the drawing, before where it is made fast")     \
	X(DROP, "drop", LENGTH, "how much higher than drawn a piece is let go")                    \
	X(BELOW, "below", LENGTH, "how far the piece reaches below its knot")                      \
	X(HAND, "hand", FORCE, "pull of the hand behind the turns while rope is let run")

typedef enum rn_attribute {
#define X(name, word, quantity, help) RN_ATTRIBUTE_##name,
	RN_ATTRIBUTE_LIST(X)
#undef X
	RN_ATTRIBUTE_COUNT
} rn_attribute;

const char *rn_attribute_word(rn_attribute attribute);
rn_quantity rn_attribute_quantity(rn_attribute attribute);
/* Whether such a number can have a value at all: no weight below nothing, no efficiency above 1. */
bool rn_attribute_allows(rn_attribute attribute, double value);

/* Where a number comes from. LISTED: a published row of a table of the program; ESTIMATED: a row from
 * memory or for a group of species, never good enough to count as checked; COMPUTED: from other numbers of
 * the model, and again whenever they change. */
typedef enum rn_origin {
	RN_GIVEN,
	RN_GUESSED,
	RN_DEFAULT,
	RN_LISTED,
	RN_ESTIMATED,
	RN_COMPUTED
} rn_origin;

/* One number of the model. Lists of one object are chained through `next`. */
typedef struct rn_number {
	double value, low, high; /* SI; low = high = value unless a range was given */
	rn_object object;
	rn_attribute attribute;
	rn_origin origin;
	int file, line; /* where it was written; line 0 = not in a file */
	int next;       /* index of the object's next number, RN_NONE at the end */
} rn_number;

/* ---- shape --------------------------------------------------------------------------------- */

/* Every object begins with where it was written and the head of its chain of numbers. */
typedef struct rn_place {
	int file, line;
	int first_number; /* kept by the model; leave 0 in a definition */
} rn_place;

#define RN_ITEM_KIND_LIST(X)                                                                       \
	X(ROPE, "rope")                                                                            \
	X(SLING, "sling")                                                                          \
	X(RING, "ring")                                                                            \
	X(BLOCK, "block")                                                                          \
	X(BOLLARD, "bollard")                                                                      \
	X(CONNECTOR, "connector")                                                                  \
	X(FORK, "fork")

typedef enum rn_item_kind {
#define X(name, word) RN_ITEM_##name,
	RN_ITEM_KIND_LIST(X)
#undef X
	RN_ITEM_KIND_COUNT
} rn_item_kind;

/* What a rope is made of; decides the range of stiffness that is guessed for it. */
#define RN_FIBRE_LIST(X)                                                                           \
	X(UNKNOWN, "unknown")                                                                      \
	X(NYLON, "nylon")                                                                          \
	X(POLYESTER, "polyester")                                                                  \
	X(ARAMID, "aramid")                                                                        \
	X(HMPE, "hmpe")                                                                            \
	X(POLYPROPYLENE, "polypropylene")                                                          \
	X(NATURAL, "natural")                                                                      \
	X(WIRE, "wire")

typedef enum rn_fibre {
#define X(name, word) RN_FIBRE_##name,
	RN_FIBRE_LIST(X)
#undef X
	RN_FIBRE_COUNT
} rn_fibre;

typedef enum rn_rope_state { RN_STATE_UNKNOWN, RN_STATE_NEW, RN_STATE_WORKED } rn_rope_state;

/* What a working load on a label holds for. Not said: for a straight pull, so that nothing is taken for
 * granted. */
#define RN_LABEL_FOR_LIST(X)                                                                           \
	X(STRAIGHT, "straight")                                                                    \
	X(CHOKE, "choke")                                                                          \
	X(BASKET, "basket")

typedef enum rn_label_for {
#define X(name, word) RN_LABEL_FOR_##name,
	RN_LABEL_FOR_LIST(X)
#undef X
} rn_label_for;

/* How a sling is made; decides what a choke takes off. */
#define RN_BODY_LIST(X)                                                                            \
	X(UNKNOWN, "unknown")                                                                      \
	X(ROPE, "rope")                                                                            \
	X(STRAP, "strap")                                                                          \
	X(ROUND, "round")

typedef enum rn_body {
#define X(name, word) RN_BODY_##name,
	RN_BODY_LIST(X)
#undef X
} rn_body;

/* A piece of gear. Numbers: STRENGTH WORKING_LOAD DESIGN_FACTOR WEIGHT DIAMETER TREAD EYE LONG
 * STIFFNESS FRICTION EFFICIENCY WET_FACTOR CONDITION_FACTOR KNOT_FACTOR CHOKE_FACTOR. */
typedef struct rn_item {
	rn_place place;
	const char *id;
	rn_item_kind kind;
	rn_fibre fibre;
	rn_rope_state state;
	rn_label_for label_for;
	rn_body body;
	const char *serial, *checked_on; /* may be NULL */
	int first_stretch, stretch_count; /* kept by the model, like the next pair */
	int first_bend, bend_count;
} rn_item;

/* Whether a stem bends under the pulls on it. Left to the program it does where a rope joins it to
 * another stem or the ground, which would carry nothing otherwise. */
typedef enum rn_give { RN_GIVE_NO, RN_GIVE_YES, RN_GIVE_AUTO } rn_give;

/* A stem, or with `on` a branch of one added before it. Numbers: X Y, or HEIGHT on the parent; LEAN off
 * plumb, DENSITY MODULUS COMPRESSION BENDING BARK DESIGN_FACTOR. */
typedef struct rn_stem {
	rn_place place;
	const char *id;
	const char *species;              /* may be NULL */
	const char *strength_like;        /* species whose strength is taken; NULL = its own */
	int first_section, section_count; /* kept by the model */
	rn_give give;
	int on; /* the stem a branch grows from, RN_NONE for a stem with a foot */
} rn_stem;

/* A point of an item's curve of load and stretch, which starts at nothing and goes on beyond its last
 * point as steep as before. Numbers: LOAD BY. Added in rising order, right behind their item. */
typedef struct rn_stretch {
	rn_place place;
	int item;
} rn_stretch;

/* A point of an item's curve of what is left of its strength over a bend. Numbers: OVER KEEPS. Added in
 * rising order, right behind their item. */
typedef struct rn_bend {
	rn_place place;
	int item;
} rn_bend;

/* Numbers: HEIGHT DIAMETER WALL. Sections of a stem are added in order of rising height. */
typedef struct rn_section {
	rn_place place;
	int stem;
} rn_section;

#define RN_NODE_KIND_LIST(X)                                                                       \
	X(ANCHOR, "anchor")                                                                        \
	X(FORK, "fork")                                                                            \
	X(HAND, "hand")                                                                            \
	X(BOLLARD, "bollard")                                                                      \
	X(RING, "ring")                                                                            \
	X(BLOCK, "block")                                                                          \
	X(JOINT, "joint")                                                                          \
	X(PIECE, "piece")

typedef enum rn_node_kind {
#define X(name, word) RN_NODE_##name,
	RN_NODE_KIND_LIST(X)
#undef X
	RN_NODE_KIND_COUNT
} rn_node_kind;

typedef enum rn_bark { RN_BARK_AXIS, RN_BARK_LEFT, RN_BARK_RIGHT, RN_BARK_UNSAID } rn_bark;

/* Numbers: X Y, or HEIGHT when `stem` is given; WEIGHT WORKING_LOAD TURNS TAIL PLACE_ERROR; DIAMETER of a
 * stump or post that slings bend round; of a piece of wood LONG and DENSITY.
 * The first four kinds do not move, the others do. */
typedef struct rn_node {
	rn_place place;
	const char *id;
	rn_node_kind kind;
	int gear;      /* item or RN_NONE */
	int connector; /* item or RN_NONE */
	int stem;      /* stem or RN_NONE */
	rn_bark bark;
	int sling; /* the sling whose hitch makes this anchor, RN_NONE for a drawn node */
} rn_node;

bool rn_node_is_fixed(const rn_node *node);

/* A sling. Numbers: ANGLE LENGTH_ERROR WORKING_LOAD. It has one leg, or two when a ring hangs on
 * each end. */
typedef struct rn_sling {
	rn_place place;
	const char *id;
	int gear, connector; /* items or RN_NONE */
	const char *hitch;   /* "straight", "choke", "basket", a hitch by name; NULL = not said */
	const char *knot;    /* at its ends, where it is a rope; NULL = not said */
	int first_leg, leg_count; /* kept by the model */
	bool wet, worn;
} rn_sling;

/* One leg of a sling, taut between two nodes. Numbers: REACH LENGTH SLACK PRETENSION. */
typedef struct rn_leg {
	rn_place place;
	int sling;
	int from, to;  /* nodes */
	int connector; /* at its end: item or RN_NONE */
} rn_leg;

typedef enum rn_station_kind { RN_TIE, RN_THROUGH, RN_GRIP, RN_HOLD } rn_station_kind;

/* A place a line comes to. Numbers: TREAD FRICTION EFFICIENCY PULL FURTHER. */
typedef struct rn_station {
	rn_place place;
	int line, node;
	rn_station_kind kind;
	int side;         /* +1 the rope turns left round the tread, -1 right, 0 as drawn (the check
	                     then finds it) */
	bool side_doubtful; /* kept by the model: drawn so straight that both sides are possible */
	int connector;    /* item or RN_NONE */
	const char *knot; /* NULL = not said */
} rn_station;

/* Numbers: LENGTH SLACK PRETENSION LENGTH_ERROR. Stations are added in order. */
typedef struct rn_line {
	rn_place place;
	const char *id;
	int gear; /* item or RN_NONE */
	bool wet, worn;
	int first_station, station_count; /* kept by the model */
} rn_line;

/* How wet the wood of a piece is. */
#define RN_MOISTURE_LIST(X)                                                                        \
	X(MIXED, "mixed")                                                                          \
	X(HEART, "heart")                                                                          \
	X(SAP, "sap")                                                                              \
	X(SOAKED, "soaked")

typedef enum rn_moisture {
#define X(name, word) RN_MOISTURE_##name,
	RN_MOISTURE_LIST(X)
#undef X
} rn_moisture;

/* The wood of a piece, from which its weight is worked out where none is given. Its numbers, LONG and
 * DENSITY, are those of the piece. Cuts are added in order from the butt. */
typedef struct rn_timber {
	rn_place place;
	rn_object piece; /* RN_NODE, or RN_PROP when hung at both ends */
	const char *species; /* may be NULL */
	rn_moisture moisture;
	bool barked; /* its bark is off */
	int first_cut, cut_count; /* kept by the model */
} rn_timber;

/* How thick a piece is at one place. Numbers: AT DIAMETER. */
typedef struct rn_cut {
	rn_place place;
	int timber;
} rn_cut;

/* A bar with a hinge at each end, that can push as well as pull; its own weight goes half to each end.
 * A piece hung at butt (`from`) and tip (`to`) is one too; with cuts and LONG its weight goes to them by
 * its centre of mass. Numbers: DIAMETER WALL WEIGHT COMPRESSION MODULUS
 * DESIGN_FACTOR. */
typedef struct rn_prop {
	rn_place place;
	const char *id;
	const char *species; /* may be NULL */
	int from, to;        /* nodes */
	bool is_piece;       /* the load itself: not a part with a limit */
} rn_prop;

typedef enum rn_level { RN_FRICTION_NONE, RN_FRICTION_LOW, RN_FRICTION_NOMINAL, RN_FRICTION_HIGH } rn_level;

typedef struct rn_case {
	rn_place place;
	const char *id, *title; /* title may be NULL */
	bool made;              /* made by the program, not written */
	rn_level level;
	bool raising;                  /* made case `raising`: bollard turns are off */
	const char *after;             /* case whose end it begins with, its rope held; NULL: it runs as said */
	int follows;                   /* that case, kept by the model; RN_NONE */
	int fall;                      /* what falls in it, kept by the model; RN_NONE */
	int first_run, run_count;      /* kept by the model, like the next two pairs */
	int first_force, force_count;
	int first_setting, setting_count;
} rn_case;

/* Which way a line runs in a case. */
typedef struct rn_run {
	int line;
	int toward_last; /* 1: toward the last station, 0: toward the first */
	int at;          /* the one station it runs over, RN_NONE = every through */
} rn_run;

/* An outer force on a node. Numbers: SIZE TOWARD. */
typedef struct rn_force {
	rn_place place;
	int case_index, node;
} rn_force;

/* A piece that falls in a case and is caught by its line. Numbers: DROP BELOW HAND. */
typedef struct rn_fall {
	rn_place place;
	int case_index;
	rn_object piece; /* RN_NODE, or RN_PROP when hung at both ends */
	int line;        /* the one that is let run, RN_NONE = the one that holds the piece */
	bool guided;     /* along its plumb line, not free to swing in under its block */
} rn_fall;

/* One number replaced in a case. */
typedef struct rn_setting {
	int number;
	double value;
} rn_setting;

/* ---- notes: everything solver/ has to say ---------------------------------------------------- */

/* Words are kept apart from values so that the border can print them in its own units.
 * {a} {b} {c} objects, {w} a word; {0:force} a value with its quantity: force, length, angle,
 * percent, stress, density, mass (of a weight in newtons), number, own (of the note's attribute). */
#define RN_NOTE_LIST(X)                                                                            \
	/* what a model may not do */                                                              \
	X(ID_TWICE, ERROR, "{a}: the name is used twice")                                          \
	X(NO_PLACE, ERROR, "{a}: where it is is not said (x and y, or on and height)")             \
	X(NUMBER_NONE, ERROR, "{a}: {w} comes to no number")                                       \
	X(NUMBER_ZERO, ERROR, "{a}: {w} is {0:own}; it must be more than 0")                       \
	X(NUMBER_LESS, ERROR, "{a}: {w} is {0:own}; it must be at least {1:own}")                  \
	X(NUMBER_MORE, ERROR, "{a}: {w} is {0:own}; it must be at most {1:own}")                   \
	X(LINE_SHORT, ERROR, "{a}: a line needs at least two stations")                            \
	X(LINE_END_THROUGH, ERROR, "{a}: ends in a through at {b}: an end must be tied or held")   \
	X(HOLD_MIDDLE, ERROR, "{a}: is held at {b}, but goes on: a hold is an end")                \
	X(TIE_MIDDLE, ERROR, "{a}: is tied at {b}, but goes on: a tie is an end, a grip is not")   \
	X(HOLD_PLACE, ERROR, "{a}: cannot be held at {b}: only a bollard or a hand holds")         \
	X(SAME_NODE, ERROR, "{a}: comes to {b} twice in a row")                                    \
	X(COINCIDENT, ERROR, "{a}: {b} and {c} are at the same place")                             \
	X(TREAD_TOO_LARGE, ERROR,                                                                  \
	  "{a}: the treads at {b} and {c} need {0:length}, but they are {1:length} apart")         \
	X(SIDE_NEEDED, ERROR, "{a}: runs dead straight through {b}: say on which side (side=)")    \
	X(LENGTH_TWICE, ERROR, "{a}: length, slack, pretension and pull exclude each other")       \
	X(NO_LINE, ERROR, "{a}: no rope and nothing else to solve")                                \
	X(STEM_SECTION, ERROR, "{a}: needs a section to have a bark (left or right)")              \
	X(STRETCH_FALLS, ERROR,                                                                    \
	  "{a}: a curve of load and stretch rises: each point has more load and more stretch")     \
	X(BEND_FALLS, ERROR,                                                                       \
	  "{a}: a curve of bends goes from sharp to wide: each point is over more, and keeps no less") \
	X(CASE_SETS, ERROR, "{a}: what this case sets makes it so")                               \
	X(SECTION_ORDER, ERROR, "{a}: sections go up the stem, each higher than the last")         \
	X(RUN_PLACE, ERROR, "{a}: cannot run there: {b} is not one of its stations")               \
	X(AFTER_UNKNOWN, ERROR, "{a}: follows \"{w}\", which is no case")                          \
	X(AFTER_ITSELF, ERROR, "{a}: follows itself, by way of {w}")                               \
	X(AFTER_RUNS, ERROR, "{a}: follows another case with its rope held: it cannot say which way that runs") \
	X(FALL_PICTURE, ERROR, "{a}: a picture under load shows one moment: nothing falls in it")  \
	X(FALL_AFTER, ERROR, "{a}: a piece is caught by rope that lies as drawn: it follows no case, and none follows it") \
	X(FALL_WEIGHT, ERROR, "{a}: {b} falls, and its weight is not given")                       \
	X(FALL_LINE, ERROR, "{a}: which line is let run is not plain: name one that is held by a bollard or a hand (line)") \
	X(FALL_RUN, ERROR, "{a}: {b} runs out toward the piece that falls, it cannot run the other way: leave its run out") \
	X(AFTER_PICTURE, ERROR, "{a}: a picture under load shows one moment: nothing follows another") \
	X(CUT_COUNT, ERROR,                                                                        \
	  "{a}: has {0:number} cut: its wood needs two, at the butt and at the tip, or three")     \
	X(CUT_FIRST, ERROR, "{a} is at {0:number} m: the first cut is at the butt, at 0 m")        \
	X(CUT_ORDER, ERROR,                                                                        \
	  "{a} is at {0:number} m, not beyond the one before it at {1:number} m: cuts go from the" \
	  " butt to the tip")                                                                      \
	X(CUT_LAST, ERROR,                                                                         \
	  "{a} is at {0:number} m, but the tip is at {1:number} m (long): the last cut is at the"  \
	  " tip")                                                                                  \
	X(TIMBER_LONG, ERROR, "{a}: its cuts give no weight without its length (long)")            \
	X(TIMBER_WOOD, ERROR, "{a}: its cuts give no weight without a species or a density")       \
	X(TIMBER_SPECIES, ERROR, "{a}: {w} is not in the table of densities: give its density")    \
	X(TIMBER_NEAR, ERROR,                                                                      \
	  "{a}: its species is not in the table of densities, the nearest name there is {w}: name"\
	  " it so, or give its density")                                                           \
	/* why there is no equilibrium */                                                          \
	X(NOTHING_HOLDS, OUTCOME, "nothing holds the {a}")                                             \
	X(NOTHING_HOLDS_ROPE, OUTCOME,                                                             \
	  "nothing holds the {a}: it would come down until the end of {b} meets {c}")                  \
	X(HAND_WEAK, OUTCOME, "{a} would fall: the pull of {0:force} cannot carry {1:force}")      \
	X(FALLS_AWAY, OUTCOME, "nothing was found that holds the {a}: it falls away")               \
	X(NOT_FOUND, OUTCOME, "no equilibrium was found: {0:force} is left over at {a}")           \
	X(PICTURE_OFF, OUTCOME,                                                                    \
	  "the picture is not in equilibrium: {0:force} is left over at {a}")                        \
	X(PICTURE_FAR, OUTCOME,                                                                    \
	  "the picture is not in equilibrium: {0:force} is left over at {a}, and {b} would have to"  \
	  " be moved {1:length} {w}")                                                               \
	X(FALL_NO_STRETCH, OUTCOME,                                                                \
	  "what {a} stretches is not known, and a catch hangs on it: give its stiffness, or its"   \
	  " strength and fibre")                                                                   \
	X(FALL_RUNS_AWAY, OUTCOME,                                                                 \
	  "nothing stops {a}: {b} slips at {0:force} and lets it go {1:length} and more")          \
	X(FALL_UNCAUGHT, OUTCOME, "nothing stops {a} within {0:length}")                           \
	X(FALL_BACKWARD, OUTCOME,                                                                  \
	  "{a} runs back over {b} while {c} is caught: friction there is not computed that way")   \
	X(FALL_TAUT, OUTCOME,                                                                      \
	  "{b} is taut already where {a} is let go, away from where its lines begin to hold: what" \
	  " it would give back is not computed; give it slack there, or let go elsewhere")         \
	X(FALL_SIDEWAYS, OUTCOME,                                                                  \
	  "{a} is pulled sideways with {0:force} while it falls, and where that takes it is not"   \
	  " computed: let the tag line run slack for the catch, leave the wind out")               \
	X(FALL_WEIGHTLESS, OUTCOME, "{a} weighs nothing in this case: nothing falls")              \
	X(FALL_LOST, OUTCOME, "the catch of {a} was lost {0:length} below where it was let go")    \
	X(FALL_GUIDE, OUTCOME,                                                                     \
	  "a guide would have to hold {a} with {0:force} sideways, more than a tenth of its"       \
	  " weight: let it swing")                                                                 \
	X(TOPPLES, OUTCOME, "{a} would topple: what holds its head is not enough")                 \
	/* what was seen on the way */                                                             \
	X(BOTH_ENDS_FIXED, REMARK,                                                                 \
	  "{a}: both ends are fixed here, so it carries only its pretension")                      \
	X(DOES_NOT_RUN, REMARK, "{a}: neither end is the one that runs, so it does not run here")  \
	X(TWO_LINES, REMARK,                                                                       \
	  "{a} hangs on more than one line: write a case that says which way each runs")           \
	X(SIDE_CHANGED, REMARK, "{a}: goes round {b} on the other side than drawn")                \
	X(LIFTED_OFF, REMARK, "{a}: does not touch {b}")                                                \
	X(AT_TREAD, REMARK, "{a}: {c} is drawn up to {b}")                                         \
	X(BOTH_SIDES, REMARK,                                                                      \
	  "{a}: both sides of {b} are possible here; the other one changes a tension by {0:percent}") \
	X(PUSHES, REMARK, "{a} and {b} press on each other with {0:force}")                        \
	X(SLACK_LINE, REMARK, "{a} is slack")                                                      \
	X(STRETCH_MATTERS, REMARK,                                                                 \
	  "the answer depends on the stretch of {a}: it carries {0:force} to {1:force}; "          \
	  "give its stiffness")                                                                    \
	X(TRAVEL, REMARK, "{a} moves {0:length} to {1:length}, as far as the stretch is known")    \
	X(STRONG_FRICTION, REMARK, "{a}: friction above 0.6 can have several answers")             \
	X(FALLS_FIRST, REMARK, "{a} falls {0:length} before its line holds: use funicle fall")     \
	X(FALL_BACK_SOME, REMARK,                                                                  \
	  "{a} slides back over {b} as it comes taut: the pull is up to {0:percent} too high")    \
	X(FALL_SNAPS, REMARK,                                                                      \
	  "{a} snaps over while {b} is caught: its pull is good to some {0:percent} only")        \
	X(FALL_SWINGS, REMARK,                                                                     \
	  "{a} swings in by {0:length}, and past its block to the other side: that is not computed," \
	  " keep clear on both sides")                                                             \
	X(FALL_GROUND, REMARK,                                                                     \
	  "{a} reaches the ground at the foot of {b} before it is stopped, {0:length} too low: it" \
	  " is not caught in the air")                                                             \
	X(FALL_BREAKS, REMARK,                                                                     \
	  "{b} is pulled past what it breaks at, {0:force}: it does not hold {a}, what is told"    \
	  " holds only if nothing breaks")                                                         \
	X(FALL_STAYS, REMARK, "{a} does not fall: its line carries it where it is let go")         \
	X(SINKS, REMARK, "{a} sinks {0:length} as its rope stretches") \
	X(PICTURE_LEFT_OVER, REMARK, "as drawn {0:force} is left over at {a}")                     \
	X(PICTURE_MOVE, REMARK, "the picture balances if {a} is moved {0:length} {w}")             \
	X(PICTURE_MOVE_TOO, REMARK, "and {a} {0:length} {w}")                                      \
	X(PICTURE_OPEN, REMARK,                                                                    \
	  "balance leaves {0:number} of the forces open: they are shared out by stretch, each leg"   \
	  " just taut in the picture")                                                             \
	X(PICTURE_EQUAL_STRETCH, REMARK,                                                           \
	  "no stiffness is given for {a}: how the load is shared rests on a guess")                 \
	X(PICTURE_RANGE, REMARK,                                                                   \
	  "{a} from {b} to {c}: balance alone allows {0:force} to {1:force}")                       \
	X(PICTURE_RANGE_OPEN, REMARK,                                                              \
	  "{a} from {b} to {c}: balance alone allows {0:force} and more: no upper limit from"        \
	  " equilibrium alone")                                                                    \
	X(STICKS, REMARK, "{a} sticks at {b}")                                                     \
	X(SLIPS, REMARK, "{a} slips at {b} toward {c}")                                            \
	X(NO_WEIGHT, REMARK, "the weight of {a} is not given")                                     \
	X(BEND_SHARP, REMARK, "{a} at {b}: bent round {0:ratio} times its diameter, less than {1:ratio} ({w})") \
	X(SLING_SHORT, REMARK,                                                                     \
	  "{a} is too short to go round {b}: it is {0:length} long and needs {1:length}")          \
	X(STEM_SLENDER, REMARK, "{a} carries {0:percent} of the push it would buckle at")          \
	X(STEM_BUCKLES, REMARK, "{a} would buckle: it carries {0:percent} of the push it buckles at") \
	X(GIVE_BUCKLES, REMARK,                                                                    \
	  "{a} carries {0:percent} of the push it buckles at: its give is larger than counted")    \
	X(SPECIES_UNKNOWN, REMARK, "{a}: its species is not in the tables; the nearest name there is {w}") \
	X(SPECIES_NOT_LISTED, REMARK, "{a}: {w} is not in the tables of species, nor any name near it") \
	X(LIKE_UNKNOWN, REMARK,                                                                    \
	  "{a}: no strength is known of what strength-like names; the nearest name there is {w}")  \
	X(STRENGTH_UNKNOWN, REMARK, "{a}: no strength is known of {w}: strength-like names a species that has one") \
	X(STRENGTH_ESTIMATED, REMARK, "{a}: the strength of {w} is from memory, an estimate")      \
	/* what can be, and nobody would mean: to be looked at again */                            \
	X(DOUBT_UNIT, DOUBT, "the {w} of {a} is {0:own}? {1:own} would be usual")                  \
	X(DOUBT_MORE, DOUBT, "the {w} of {a} is {0:own}? More than {1:own} is not usual")          \
	X(DOUBT_LESS, DOUBT, "the {w} of {a} is {0:own}? Less than {1:own} is not usual")          \
	X(DOUBT_FACTORED, DOUBT,                                                                   \
	  "the {w} of {a} is {0:own}? {1:own} would be usual for its diameter: is the design factor"  \
	  " taken off already, or is it the working load?")                                        \
	X(DOUBT_IS_STRENGTH, DOUBT,                                                                \
	  "the {w} of {a} is {0:own}? A rope of its diameter breaks at some {1:own}: is this its"   \
	  " strength?")                                                                            \
	X(DOUBT_SWAPPED, DOUBT,                                                                    \
	  "the {w} of {a} is {0:own}, and its strength {1:own}? Were the two changed about?")      \
	X(DOUBT_NEIGHBOUR, DOUBT,                                                                  \
	  "the {w} of {a} is {0:own}? No other gear here is near it; {b} carries {1:own}")         \
	X(DOUBT_HEAVY, DOUBT, "{a} weighs {0:own}? {b}, which it hangs on, breaks at {1:force}")   \
	X(DOUBT_HEAVY_UNIT, DOUBT,                                                                 \
	  "{a} weighs {0:own}? {b}, which it hangs on, breaks at {1:force}; {2:own} would be usual") \
	X(DOUBT_LIGHT, DOUBT, "{a} weighs {0:own}? {b} alone, which it hangs on, weighs {1:mass}") \
	X(DOUBT_LIGHT_UNIT, DOUBT,                                                                 \
	  "{a} weighs {0:own}? {b} alone, which it hangs on, weighs {1:mass}; {2:own} would be usual") \
	X(DOUBT_WEIGHTLESS, DOUBT, "{a} weighs nothing? A weight that is not known is better left out: then it is asked for") \
	X(DOUBT_LENGTH, DOUBT, "the {w} of {a} is {0:own}? It is drawn {1:length} long")           \
	X(DOUBT_LENGTH_UNIT, DOUBT,                                                                \
	  "the {w} of {a} is {0:own}? It is drawn {1:length} long; {2:own} would be near that")    \
	X(DOUBT_UPWARD, DOUBT,                                                                     \
	  "{b} is pulled up with {0:force}? Nothing but a hauling line does that; a load pulls down") \
	X(DOUBT_FAR, DOUBT,                                                                        \
	  "{a} is drawn {0:length} away from all the rest, which is {1:length} across?")           \
	X(DOUBT_SIZE, DOUBT, "the drawing is {0:length} across?")                                  \
	X(DOUBT_SIZE_UNIT, DOUBT, "the drawing is {0:length} across? {1:length} would be usual")   \
	/* what was taken for granted */                                                           \
	X(GUESS_FRICTION, GUESS, "friction of {a}: {0:number} to {1:number} (its kind)")           \
	X(GUESS_EFFICIENCY, GUESS, "efficiency of {a}: {0:number} to {1:number} (its kind)")       \
	X(GUESS_STIFFNESS, GUESS, "stiffness of {a}: {0:force} to {1:force} (fibre and strength)") \
	X(GUESS_STIFFNESS_NONE, GUESS, "stiffness of {a}: {0:force} (nothing known)")              \
	X(GUESS_TREAD, GUESS, "tread of {a}: taken as a point")                                    \
	X(GUESS_ROPE, GUESS, "diameter of {a}: taken as thin")                                     \
	X(GUESS_SIDE, GUESS, "{a}: on the axis of {b}, side not said")                             \
	X(GUESS_TURNS, GUESS, "turns on {a}: {0:number}")                                          \
	X(GUESS_MODULUS, GUESS, "stiffness of the wood of {a}: {0:stress}")                        \
	X(GUESS_DIAMETER, GUESS, "{a}: stiff, as its diameter is not said")                        \
	X(GUESS_WEIGHT, GUESS, "weight of {a}: none given, taken as nothing")                      \
	X(GUESS_KNOT, GUESS, "knot of {a}: not said, the worst of the table")                      \
	X(GUESS_KNOT_UNLISTED, GUESS, "knot of {a}: \"{w}\" is not in the table, its worst row")   \
	X(GUESS_HITCH, GUESS, "hitch of {a}: straight")                                            \
	X(GUESS_BODY, GUESS, "{a}: choked as a rope would be, how it is made is not said")         \
	X(WOOD_CHECKED_BY, GUESS, "strength of {a}: {w}, mean of small clear wood")                \
	X(WOOD_WHOLLY_BY, GUESS, "strength and stiffness of {a}: {w}, means of small clear wood")  \
	X(GUESS_STEM_WOOD, GUESS, "wood of {a}: {w}, {0:density} with its bark of {1:length}")     \
	X(GUESS_BRANCH_WOOD, GUESS, "wood of {a}: as {b}")                                         \
	X(GUESS_DENSITY, GUESS, "density of {a}: {0:density} ({w})")                               \
	X(GUESS_BARK, GUESS, "bark of {a}: {0:length} thick ({w})")                                \
	X(GUESS_BARK_NONE, GUESS, "bark of {a}: none, its sections taken as wood")                 \
	X(GUESS_TIMBER, GUESS, "weight of {a}: {0:mass} at most, {1:mass} by its middle figures ({w})") \
	X(GUESS_MODULUS_OF, GUESS, "stiffness of the wood of {a}: {0:stress} ({w})")

typedef enum rn_severity { RN_ERROR, RN_OUTCOME, RN_REMARK, RN_GUESS, RN_DOUBT } rn_severity;

typedef enum rn_note_kind {
#define X(name, severity, text) RN_NOTE_##name,
	RN_NOTE_LIST(X)
#undef X
	RN_NOTE_COUNT
} rn_note_kind;

typedef struct rn_note {
	rn_note_kind kind;
	rn_object a, b, c;
	const char *word; /* {w}; may be NULL */
	double value[3];
	rn_attribute attribute; /* what a value told in its own quantity is one of */
	int file, line; /* of a doubt: where it was written; its {c} is the case that sets it, if any */
} rn_note;

const char *rn_note_text(rn_note_kind kind); /* the template above */
rn_severity rn_note_severity(rn_note_kind kind);

typedef struct rn_notes {
	rn_note *items;
	int count;
} rn_notes;

/* ---- model --------------------------------------------------------------------------------- */

typedef struct rn_model {
	const char *title; /* may be NULL */
	rn_number *numbers;
	rn_item *items;
	rn_stem *stems;
	rn_section *sections;
	rn_node *nodes;
	rn_sling *slings;
	rn_leg *legs;
	rn_line *lines;
	rn_station *stations;
	rn_prop *props;
	rn_stretch *stretches;
	rn_bend *bends;
	rn_timber *timbers;
	rn_cut *cuts;
	rn_case *cases;
	rn_run *runs;
	rn_force *forces;
	rn_fall *falls;
	rn_setting *settings;
	int number_count, item_count, stem_count, section_count, node_count, sling_count, leg_count,
		line_count, station_count, prop_count, stretch_count, bend_count, timber_count, cut_count, case_count,
		run_count, force_count, fall_count, setting_count;
	bool made_cases; /* make the cases lowering and raising; default true */
	bool drawn_under_load; /* a picture of the rig carrying the piece: places are kept, forces
	                          found; false: drawn taut, the program finds where it settles */
	rn_place rigging; /* the root: GRAVITY PLACE_ERROR DESIGN_FACTOR */
	rn_notes findings;  /* errors found by rn_model_check, empty when it passed */
	rn_notes guesses;   /* what rn_model_check took for granted */
	rn_notes remarks;
	rn_notes doubts; /* what rn_model_check would have a person look at again */
	const char *const *files; /* names of the files that places count; may be NULL */
	int file_count;
	struct rn_model_memory *memory; /* private */
} rn_model;

/* An empty model. Errors: MEMORY. */
rn_status rn_model_create(const rn_allocator *allocator, rn_model **model_out) RN_MUST_CHECK;
void rn_model_destroy(rn_model *model); /* takes NULL */

/* Each copies *definition with its strings into the model. *index_out (may be NULL) gets its index.
 * References (gear, node, line...) must exist already. Errors: MEMORY, LIMIT. */
rn_status rn_model_set_title(rn_model *model, const char *title) RN_MUST_CHECK;
/* What the files are called that places count, for what is said of them. */
rn_status rn_model_set_files(rn_model *model, const char *const *names, int count) RN_MUST_CHECK;
rn_status rn_model_add_item(rn_model *, const rn_item *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_stem(rn_model *, const rn_stem *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_section(rn_model *, const rn_section *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_node(rn_model *, const rn_node *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_sling(rn_model *, const rn_sling *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_leg(rn_model *, const rn_leg *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_line(rn_model *, const rn_line *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_station(rn_model *, const rn_station *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_stretch(rn_model *, const rn_stretch *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_bend(rn_model *, const rn_bend *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_prop(rn_model *, const rn_prop *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_timber(rn_model *, const rn_timber *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_cut(rn_model *, const rn_cut *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_case(rn_model *, const rn_case *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_run(rn_model *, int case_index, const rn_run *definition) RN_MUST_CHECK;
rn_status rn_model_add_force(rn_model *, const rn_force *definition, int *index_out) RN_MUST_CHECK;
/* One to a case. Errors: also ARGUMENT, when it has one. */
rn_status rn_model_add_fall(rn_model *, const rn_fall *definition, int *index_out) RN_MUST_CHECK;
rn_status rn_model_add_setting(rn_model *, int case_index, const rn_setting *definition) RN_MUST_CHECK;

/* Gives an object a number, or a new value to one it has. `number` carries object, attribute,
 * value, low, high, origin, file, line; `next` is ignored. Errors: MEMORY, LIMIT, ARGUMENT. */
rn_status rn_model_set_number(rn_model *, const rn_number *number) RN_MUST_CHECK;

/* Index of a number in model->numbers, RN_NONE if the object has none of that attribute. */
int rn_model_find_number(const rn_model *, rn_object object, rn_attribute attribute);
bool rn_model_has(const rn_model *, rn_object object, rn_attribute attribute);

/* Value from `values` (one per number of the model, see rn_case_values), or `absent`. */
double rn_model_value(const rn_model *, const double *values, rn_object object, rn_attribute attribute,
                      double absent);

/* Looks up "log.weight", "r1.x", "bull.r1.friction" (the station of bull at r1), "pair.ra.reach" (the
 * leg of pair to ra),
 * "beech.section2.diameter" (sections count from 1), "rigging.gravity". RN_NONE if there is none.
 * The only place where a number is found by its name. */
int rn_model_number_by_name(const rn_model *, const char *name);

/* The object called `id`: items, stems, nodes, slings, lines and cases share one set of names.
 * index RN_NONE if there is none. */
rn_object rn_model_object_by_id(const rn_model *, const char *id);
const char *rn_object_id(const rn_model *, rn_object object); /* "?" for nameless ones */
rn_object rn_object_of(rn_object_kind kind, int index);

/* Whether anything is made of a piece of gear: a store names it for a whole yard. */
bool rn_item_is_used(const rn_model *, int item);

/* Tests every rule, collects all findings, guesses what is missing, makes the cases. After RN_OK
 * the model is const. Errors: INPUT (see model->findings), MEMORY, LIMIT. */
rn_status rn_model_check(rn_model *model) RN_MUST_CHECK;

/* The numbers of one case: model's values, its settings, its friction level, and what follows from those:
 * the weights that come from wood. `values` has room for model->number_count. */
void rn_case_values(const rn_model *, const rn_case *, double *values);
/* Whether a case replaces a number of the model by its own. */
bool rn_case_sets(const rn_model *, const rn_case *, int number);

/* A checked model as it would be had its file other numbers: told again, not yet checked, so that what follows from
 * them (sides, weights of wood, guesses, cases) follows anew. A number that was guessed counts as given then, and no
 * number keeps a range. The ends of a sling round a stem keep one height. What a case sets stays as it sets it, but in
 * the case called `also_in` (NULL: none). Shares strings with `model`, which must outlive it. Errors: MEMORY, LIMIT,
 * ARGUMENT (no such number, or the model was not checked). */
rn_status rn_model_altered(const rn_model *model, const rn_setting *changes, int change_count, const char *also_in,
                           rn_model **altered_out) RN_MUST_CHECK;
/* As rn_model_number_by_name; also "top.height" of a sling round a stem. */
int rn_altered_number(const rn_model *model, const char *name);

/* What the wood of a piece comes to. Its middle figures, and the largest that its shape and moisture
 * allow, which is what it is lifted with. */
typedef struct rn_weighed {
	double volume, volume_most;   /* [m3] */
	double density, density_most; /* [kg/m3] */
	double weight, weight_most;   /* [N] */
	double centre;                /* of mass, from the butt [m] */
	bool has_centre;              /* its cuts and its length are known */
	bool has_weight;              /* and its density, by the table or given */
} rn_weighed;

/* The wood of a piece (RN_NODE or RN_PROP), index into model->timbers, RN_NONE if its cuts are not given. */
int rn_timber_of(const rn_model *, rn_object piece);
/* `values` NULL: as the model has them. */
rn_weighed rn_timber_weighed(const rn_model *, const double *values, int timber);

/* +1: the part of a line between stations `first` and `last`, both made fast or held, runs over
 * `station` toward `last` in this case, -1: toward `first`, 0: it does not run. */
int rn_case_direction(const rn_model *, const rn_case *, int first, int last, int station);

/* The station at which the line of a fall is held, and can be let run: of the line it names, else of the only
 * line that is tied to the piece, else, where none is, of the only held line. RN_NONE: none, or not plain which. */
int rn_fall_hold(const rn_model *model, int fall);
/* A piece, or a long one; false for an object that is none. */
bool rn_is_piece(const rn_model *model, rn_object object);
/* Whether a rope meets a station as it does a sheave, by an efficiency, rather than by friction round a tread: as what
 * says either nearest has it, the station, the gear of its node or the node. */
bool rn_station_is_sheave(const rn_model *model, int station);
/* Place of a node as drawn [m], from x and y or from its stem. */
void rn_node_drawn(const rn_model *, const double *values, int node, double place_out[2]);
/* Axis point and diameter of a stem at a height along it [m]. */
void rn_stem_at(const rn_model *, const double *values, int stem, double height, double axis_out[2],
                double *diameter_out);

/* ---- answer -------------------------------------------------------------------------------- */

#define RN_OUTCOME_LIST(X)                                                                         \
	X(SETTLED, "settled")                                                                      \
	X(KEPT, "kept")                                                                            \
	X(NO_EQUILIBRIUM, "no-equilibrium")                                                        \
	X(NOT_FOUND, "not-found")

typedef enum rn_outcome {
#define X(name, text) RN_OUTCOME_##name,
	RN_OUTCOME_LIST(X)
#undef X
} rn_outcome;

const char *rn_outcome_text(rn_outcome outcome);

typedef struct rn_node_result {
	double drawn[2], place[2]; /* [m] */
	double pull[2];            /* fixed nodes: pull of the rigging on it [N]; else 0 */
	double load[2];            /* free nodes: weight and outer forces on it [N] */
} rn_node_result;

/* A straight part of a rope. */
typedef struct rn_span_result {
	rn_object member; /* RN_LINE, RN_SLING or RN_PROP */
	int index;        /* of the span in its line, of the leg in its sling */
	int from, to;     /* nodes */
	double tension;   /* [N]; negative: a prop that pushes */
	double length;    /* between the tangent points [m] */
	double heading;   /* direction of travel [rad] */
	double start[2], end[2]; /* tangent points [m] */
	double certified;        /* |tension - true tension| is at most this [N]; < 0 = no bound */
	/* What balance alone allows in a picture that leaves forces open [N]. open_below: no lower
	 * limit (a prop); open_above: no upper limit; the value itself is then 0. */
	bool has_range, open_below, open_above;
	double tension_least, tension_most;
} rn_span_result;

/* A rope bending round a tread. */
typedef struct rn_pass_result {
	int line, station, node;
	int span_before, span_after; /* into spans */
	double bend;                 /* [rad] */
	double before, after;        /* tensions [N] */
	double force[2];             /* of the rope on the node [N] */
	double radius;               /* of the rope's centre line round the tread [m]; 0 = point */
	int side;
	double arc_start; /* angle of the first tangent point seen from the node [rad]; the arc runs
	                     by side * bend from there */
	double friction_exponent; /* ln(after / before) that friction was allowed to give */
	bool lifted;              /* the rope does not touch here */
	bool guessed_side;
} rn_pass_result;

/* A line held by a hand, straight or behind the turns of a bollard. */
typedef struct rn_hold_result {
	int line, station, node;
	double turns;
	double tension;                /* of the rope that comes in [N] */
	double hand_least, hand_most;  /* pull that just holds, with best and poorest grip [N] */
} rn_hold_result;

typedef struct rn_contact_result {
	int a, b; /* nodes whose treads press on each other */
	double push; /* [N] */
} rn_contact_result;

typedef enum rn_governed {
	RN_BY_NOTHING,
	RN_BY_WORKING_LOAD,
	RN_BY_STRENGTH,
	RN_BY_CRUSHING, /* of a prop: compression strength x section; of a stem: its compressed side */
	RN_BY_BENDING,  /* of a stem: its side in tension, against bending strength */
	RN_BY_BUCKLING  /* of a prop: Euler's load; of a stem: that of the tapering cantilever */
} rn_governed;

/* What takes something off a limit, at one place. */
#define RN_FACTOR_LIST(X)                                                                          \
	X(KNOT, "knot")                                                                            \
	X(BEND, "bend")                                                                            \
	X(CHOKE, "choke")                                                                          \
	X(CHOKE_ANGLE, "choke angle")                                                              \
	X(EYE, "eye")                                                                              \
	X(WET, "wet")                                                                              \
	X(CONDITION, "condition")                                                                  \
	X(LEGS, "legs")

typedef enum rn_factor_kind {
#define X(name, text) RN_FACTOR_##name,
	RN_FACTOR_LIST(X)
#undef X
} rn_factor_kind;

const char *rn_factor_text(rn_factor_kind kind);

typedef struct rn_factor {
	rn_factor_kind kind;
	double value;       /* (0, 1] */
	double measure;     /* D/d of a bend [-], angle of choke [rad]; 0 = none */
	const char *word;   /* the knot's name, the table's row; NULL = none */
	const char *source; /* where the value comes from */
} rn_factor;

enum { RN_FACTORS_MOST = 6 };

typedef enum rn_unchecked {
	RN_CHECKED,
	RN_NO_RATING,        /* neither working load nor strength */
	RN_NO_DESIGN_FACTOR, /* strength, but no factor */
	RN_NO_GEAR,          /* nothing named */
	RN_STRETCH_UNKNOWN,  /* its tension depends on a stiffness nobody gave */
	RN_WOOD_UNKNOWN,     /* a prop whose diameter, wood or its stiffness nobody gave */
	RN_PULLED,           /* a prop that is pulled: its ends have no rating */
	RN_WOOD_ESTIMATED,   /* the strength of the wood is from memory */
	RN_BEND_UNKNOWN,     /* a bend whose tread or rope nobody gave, or sharper than the data go */
	RN_HITCH_NOT_SAID,   /* a sling round a stem whose hitch nobody named */
	RN_WEAR_UNKNOWN,     /* visibly worn, and nobody said what is left */
	RN_TOO_SHORT,        /* a sling too short to go round */
	RN_THICKNESS_UNKNOWN /* a stem pulled above where its thickness was measured */
} rn_unchecked;

/* Something with a limit. */
typedef struct rn_part_result {
	rn_object object; /* line, sling, prop, stem, node (ring, block, anchor, bollard), item (connector) */
	int at;           /* node where it is worst, RN_NONE */
	double demand;    /* [N] */
	double limit;     /* [N]; 0 when not checked */
	double utilisation; /* demand / limit; 0 when not checked */
	rn_governed governed;
	rn_unchecked unchecked;
	double strength, design_factor, working_load; /* as used, before factors; 0 = not given */
	double breaking; /* strength less what is taken off: what it fails at, as tested [N]; 0 = not known */
	rn_factor factors[RN_FACTORS_MOST]; /* that the limit at its worst place is multiplied by */
	int factor_count;
} rn_part_result;

/* A part with less than this part of the largest demand carries no load to speak of [-]: it need not be
 * checked. Only rounding lives down there. */
extern const double rn_loaded_least;

/* The largest buckling told [-]: of what is pushed so much too hard, and of what does not carry itself. */
extern const double rn_buckling_most;

/* What a stem or branch feels. Forces are those on the wood above a section. */
typedef struct rn_stem_result {
	int stem;
	double height;            /* of the worst section, along the stem [m] */
	double diameter, wall;    /* of its wood, without bark; 0 = solid [m] */
	double axial;             /* there; push positive [N] */
	double shear;             /* there, to the right positive [N] */
	double moment;            /* there, to the right positive [N m]; without `growth` */
	double compression, tension; /* stress at the pressed and at the drawn side, with `growth` [Pa] */
	double buckling;          /* push over the push at which it buckles, its own weight standing [-] */
	double growth;            /* what buckling multiplies moments by: 1 / (1 - buckling), 1 for what buckles */
	double pull;              /* of all rigging above the worst section; the most of any height where that
	                             is nothing [N] */
	double pull_direction;    /* of all rigging on the stem and its branches [rad] */
	double compression_strength, bending_strength; /* of its wood [Pa]; 0 = not known */
	double design_factor;     /* 0 = not given */
	double utilisation;       /* worst of pressing, bending, buckling times the design factor; 0 when
	                             something it needs is not known. What buckles is over whatever is known */
	rn_governed governed;
	rn_unchecked unchecked;
} rn_stem_result;

/* The inside of a stem at one height. */
typedef struct rn_stem_section {
	double height, diameter, wall; /* along the stem; of the wood, 0 = solid [m] */
	double axial, shear, moment;   /* as in rn_stem_result [N], [N m] */
	double compression, tension;   /* of the pressed and the drawn side, 0 where there is none [Pa] */
} rn_stem_section;

#define RN_HITCH_LIST(X)                                                                           \
	X(UNSAID, "not said")                                                                      \
	X(STRAIGHT, "straight")                                                                    \
	X(CHOKE, "choke")                                                                          \
	X(BASKET, "basket")                                                                        \
	X(KNOT, "knot") /* a rope made fast by a hitch of the table of knots, or an unlisted one */

typedef enum rn_hitch {
#define X(name, text) RN_HITCH_##name,
	RN_HITCH_LIST(X)
#undef X
} rn_hitch;

const char *rn_hitch_text(rn_hitch hitch);

/* A sling round a stem. */
typedef struct rn_hitch_result {
	int sling, stem;
	rn_hitch hitch;
	double girth;      /* of the stem there, over the bark [m]; 0 = not known */
	double bend_ratio; /* diameter of the stem over that of the sling [-]; 0 = not known */
	double taken;      /* length of sling that goes round the stem [m] */
	double reach;      /* the longest of its legs, bark to seat [m] */
	double made;       /* length as made [m]; 0 = not given */
	double left;       /* what that leaves for each leg [m]; below 0: it does not go round */
	double needed;     /* length it takes to go round and reach [m] */
	double angle;      /* of a choke: the smallest angle of choke; of a basket: between its legs [rad] */
	double spread;     /* between its two ends [m]; 0 when it has one */
	bool too_short;
} rn_hitch_result;

/* A piece that fell and was caught: all at its peak, when it has come to a stop at its lowest. */
typedef struct rn_caught {
	int fall;            /* of the model; RN_NONE: nothing falls in this case */
	double weight, peak; /* what it weighs, what its lines pull it up with [N] */
	double released, begins, height; /* of the knot, of a long piece of its middle: let go, lines begin to hold,
	                                    peak [m] */
	double travel;       /* from let go to the peak [m] */
	double across;       /* moved sideways meanwhile, to the right positive [m] */
	double lowest;       /* height of the lowest point of the piece, `below` counted [m] */
	double clear;        /* air it needs below where it is let go [m] */
	double clear_most;   /* the same with whatever is guessed of stretch [m] */
	double side;         /* force of a guide, to the right [N] */
	int slips;           /* station where a line slips, RN_NONE; at a pull in it of [N] */
	double slips_at;
	double run_out;      /* unstretched rope let run there [m] */
	/* where the work of the weight went [J] */
	double given, in_ropes, in_stems, in_bodies, raised, in_hands, in_friction;
	double jumped;       /* what ropes gained where something snapped over, which no weight gave [J] */
	int snaps;           /* a node that did, RN_NONE */
	double left_over;    /* of that, as a part of what was given: an independent sum [-] */
	double (*path)[2];   /* of the piece, from let go to the peak [m] */
	int path_count;
} rn_caught;

typedef struct rn_balance {
	double worst;    /* largest left-over force at a free node [N] */
	double relative; /* to the largest tension or load */
	double moment;   /* left-over moment of the whole [N m] */
	int worst_node;
	bool closed; /* the proof holds */
} rn_balance;

/* How well a picture of the loaded rig balances; all 0 or RN_NONE when drawn as rigged. */
typedef struct rn_picture {
	bool exact;          /* no place may be off: a textbook drawing */
	double left_over;    /* least force left over at the worst node, as drawn [N] */
	int left_over_node;
	double largest_move; /* to the nearest picture that balances [m] */
	int moved_node;
	int open_count;      /* how many times indeterminate */
} rn_picture;

typedef struct rn_solve_info {
	int steps;       /* Newton steps in all */
	int stages;
	double residual; /* the solver's own [N] */
	double energy;   /* [J]; frictionless cases */
	double gap;      /* energy - dual bound [J]; < 0 = no certificate */
} rn_solve_info;

typedef struct rn_case_result {
	int case_index;
	rn_outcome outcome;
	rn_node_result *nodes; /* one per node of the model */
	rn_span_result *spans;
	rn_pass_result *passes;
	rn_hold_result *holds;
	rn_contact_result *contacts;
	rn_part_result *parts; /* the same parts in the same order in every case */
	rn_stem_result *stems; /* one per stem of the model */
	rn_hitch_result *hitches; /* one per sling round a stem */
	int span_count, pass_count, hold_count, contact_count, part_count, hitch_count;
	rn_balance balance;
	rn_picture picture;
	rn_solve_info info;
	rn_notes notes;
	rn_caught caught;
	bool falls; /* a piece can fall before its line holds */
	bool unweighed; /* a piece has no weight in the file: its answer gets no verdict */
} rn_case_result;

typedef struct rn_verdict {
	bool over;          /* some part is over its limit */
	bool not_checked;   /* a loaded part has no limit, or a piece can fall first */
	int over_count, checked_count, not_checked_count; /* parts, over all cases */
	int worst_case, worst_part; /* RN_NONE when nothing is checked */
	int exit_class; /* 5, 4, 1 or 0: the worst of the cases */
} rn_verdict;

typedef struct rn_result {
	const rn_model *model;
	rn_case_result *cases;
	int case_count;
	rn_verdict verdict;
	struct rn_result_memory *memory; /* private */
} rn_result;

/* Settles every case of a checked model and holds every part against its limit.
 * Errors: MEMORY, LIMIT, STOPPED, ARGUMENT. */
rn_status rn_solve(const rn_model *model, const rn_options *options, rn_result **result_out) RN_MUST_CHECK;
/* The parts as they are rated, before anything pulls: one case, its parts without demand, bends and choke
 * angles as drawn. Errors: MEMORY, LIMIT. */
rn_status rn_rate(const rn_model *model, const rn_options *options, rn_result **result_out) RN_MUST_CHECK;
void rn_result_destroy(rn_result *result); /* takes NULL */

/* The item a part is, or is made of; RN_NONE when none is named. */
int rn_part_gear(const rn_model *model, rn_object part);

/* A number in (0, 1) that seed and index alone decide, the same on every machine: for exercises. */
double rn_random_of(uint64_t seed, uint64_t index);

/* ---- along a stem --------------------------------------------------------------------------- */

typedef struct rn_profile {
	rn_stem_section *sections; /* from the foot up; two where something enters: just below and just above it */
	int count;
	struct rn_result_memory *memory; /* private */
} rn_profile;

/* What a stem feels all along, in a case with an answer, caught or at rest: at both ends of every stretch between two heights
 * where something enters or a section was measured, and in equal steps between. Errors: MEMORY; ARGUMENT when the
 * stem has no section. */
rn_status rn_profile_find(const rn_result *result, int case_index, int stem, const rn_options *options,
                          rn_profile *profile_out) RN_MUST_CHECK;
void rn_profile_release(rn_profile *profile);

/* ---- ranges -------------------------------------------------------------------------------- */

typedef struct rn_spread {
	double least, most;
} rn_spread;

/* Everything a case can come to when nobody knows where the rope sticks or how long legs are exactly: least
 * and most over the states that were found. */
typedef struct rn_ranges {
	int case_index;       /* whose numbers they are; friction at its most */
	int unsure_count;     /* places where friction is open, and lengths that may be off */
	int state_count;      /* states found */
	int lost_count;       /* states tried for which nothing was found */
	rn_case_result *middle; /* the answer without friction and errors: shapes the lists below */
	rn_spread *tensions;   /* per span of `middle` [N] */
	rn_spread *pulls;      /* per node, fixed ones [N] */
	rn_spread *directions; /* per node [rad]: from, to, anticlockwise; a full turn apart = any */
	rn_spread *utilisations; /* per part; 0 and 0 when it is not checked */
	bool *may_be_slack;   /* per span */
	bool by_balance;      /* by linear programs: sharp, and over every state */
	struct rn_result_memory *memory; /* private */
} rn_ranges;

/* Ranges of one case. Over all corners of the box of what is unsure up to 8 places, else 256 corners by
 * Sobol's sequence, 64 points inside, and from the best of them one search along each coordinate. What is
 * found is found in so many states, not proved. Errors: MEMORY, STOPPED, ARGUMENT (a piece falls in the case). */
rn_status rn_ranges_find(const rn_model *model, const rn_options *options, int case_index,
                         rn_ranges *ranges_out) RN_MUST_CHECK;
void rn_ranges_release(rn_ranges *ranges);

/* ---- one part letting go --------------------------------------------------------------------- */

/* What then holds, in the case in which it is worst. */
typedef struct rn_loss {
	int part;            /* that lets go, into the parts of the answer */
	int case_index;      /* into the cases of the answer */
	rn_outcome outcome;  /* of what is left */
	bool falls;          /* a piece comes to rest only far below: a fall, no settling */
	rn_note why;         /* of no equilibrium; word NULL and kind RN_NOTE_COUNT when there is none */
	double drop;         /* the piece that sinks most sinks by so much [m] */
	int piece;           /* that piece, a node; RN_NONE when none does */
	int leads_to;        /* where its rope leads down to, so that it falls past; RN_NONE */
	int closest;         /* part that is closest to its limit then, RN_NONE when none is checked */
	double utilisation;  /* of it, after it has settled; at the jolt up to twice this */
	bool unchecked;      /* a loaded part has no limit */
} rn_loss;

typedef struct rn_losses {
	rn_loss *losses; /* one per part that carries load and can let go, in the order of the parts */
	int count;
	struct rn_result_memory *memory; /* private */
} rn_losses;

/* Lets each part that carries load go in its turn, in every case of an answer that came to rest. Errors:
 * MEMORY, STOPPED. */
rn_status rn_losses_find(const rn_result *result, const rn_options *options, rn_losses *losses_out) RN_MUST_CHECK;
void rn_losses_release(rn_losses *losses);

/* rn_solve without one part: a line, sling, node, connector (an item, at all its places) or stem with all
 * that is on it. Errors: MEMORY, STOPPED, ARGUMENT (it is no such part). */
rn_status rn_solve_without(const rn_model *model, const rn_options *options, rn_object part,
                           rn_result **result_out) RN_MUST_CHECK;

/* ---- what matters most ----------------------------------------------------------------------- */

/* What became of the answer with a number a step away. */
typedef enum rn_beside { RN_BESIDE_FOUND, RN_BESIDE_NOT_FOUND, RN_BESIDE_NO_SUCH_NUMBER } rn_beside;

/* How the share of one part depends on one number. */
typedef struct rn_matter {
	int number;            /* into the model's numbers */
	double slope;          /* of the share by the number [1/SI] */
	double step;           /* a change of it that a person can picture [SI] */
	double more, less;     /* change of the share when it is that much more, less, settled anew [-] */
	rn_beside more_how, less_how;
} rn_matter;

typedef struct rn_matters {
	int part, case_index;  /* into the answer's parts and cases */
	double share;          /* utilisation, or of a part that is not checked its demand [N] */
	bool is_demand;
	rn_matter *list;       /* the largest first */
	int count;
	double *slopes;        /* one per number of the model; 0 where nothing depends on it */
	struct rn_result_memory *memory; /* private */
} rn_matters;

/* What the share of a part depends on, in one case of an answer. Slopes by the adjoint of the equations of
 * equilibrium; the largest changes of a size that can be pictured are then settled anew, both ways: where a
 * rope goes slack in between the two sides differ. Errors: MEMORY, STOPPED, ARGUMENT (the case has no
 * answer at rest). */
rn_status rn_matters_find(const rn_result *result, const rn_options *options, int case_index, int part,
                          rn_matters *matters_out) RN_MUST_CHECK;
void rn_matters_release(rn_matters *matters);

/* ---- what may be otherwise ------------------------------------------------------------------ */

#define RN_RANGE_SOURCE_LIST(X)                                                                    \
	X(ASKED, "asked")               /* by who calls */                                         \
	X(GIVEN, "model")               /* a range in the model's file */                          \
	X(GUESSED, "guessed")           /* by the program */                                       \
	X(LENGTH_ERROR, "length-error") /* of a line or sling */                                   \
	X(PLACE_ERROR, "place-error")   /* of what is drawn */

typedef enum rn_range_source {
#define X(name, word) RN_RANGE_##name,
	RN_RANGE_SOURCE_LIST(X)
#undef X
} rn_range_source;

const char *rn_range_source_word(rn_range_source source);

/* A number that may lie anywhere between two ends. */
typedef struct rn_between {
	rn_range_source source;
	int number;       /* into the model's numbers */
	rn_object length; /* of a length error: the line or leg that is longer by `low` to `high` of itself; RN_NONE else */
	double low, high; /* SI */
} rn_between;

/* What becomes of a case, or of a trial, which is the worst of its cases; worse ones later. */
#define RN_TRIAL_LIST(X)                                                                           \
	X(NONE_OVER, "none over")             /* every loaded part has a limit, and none is over */ \
	X(NOT_CHECKED, "not checked")         /* none is over, but a loaded part has no limit */   \
	X(NOT_FOUND, "not found")             /* or its forces do not balance */                   \
	X(GROUND, "ground")                   /* a caught piece reaches the ground first */        \
	X(FALLS, "falls")                     /* a piece falls before its line holds */            \
	X(NO_EQUILIBRIUM, "no equilibrium")                                                        \
	X(OVER, "over")                       /* some part is over its limit */

typedef enum rn_trial {
#define X(name, text) RN_TRIAL_##name,
	RN_TRIAL_LIST(X)
#undef X
	RN_TRIAL_COUNT
} rn_trial;

const char *rn_trial_text(rn_trial trial);

/* Trials at most; and shares of the trials that are told: no more than this in 5, 50, 95 % of them, and in all that
 * have an answer. A trial without an answer counts as more than any other: HUGE_VAL where it decides. */
enum { RN_TRIALS_MOST = 65536, RN_THREADS_MOST = 64 };
typedef enum rn_rank { RN_RANK_5, RN_RANK_50, RN_RANK_95, RN_RANK_MOST, RN_RANK_COUNT } rn_rank;

typedef struct rn_scatter_asked {
	const rn_between *ranges; /* instead of the model's own of those numbers; only number, low and high are read */
	int range_count;
	int count, threads;       /* of trials; of threads, with more than one of which the allocator must serve all */
	/* told after each trial, by any thread, one at a time; may be NULL */
	void (*progress)(void *context, int done, int count);
	void *context;
} rn_scatter_asked;

/* One part over all trials, in each at its most over the cases with an answer. */
typedef struct rn_scatter_part {
	int over_count;      /* trials in which it is over its limit */
	int closest_count;   /* in which no other part is nearer to its limit */
	int unchecked_count; /* in which it carries load without a limit */
	bool is_demand;      /* it has not always a limit: what follows is its demand [N], else its utilisation [-] */
	double ranked[RN_RANK_COUNT];
} rn_scatter_part;

typedef struct rn_scatter_case {
	int case_index;             /* of the model */
	int counts[RN_TRIAL_COUNT]; /* trials by what becomes of it */
} rn_scatter_case;

typedef struct rn_scatter {
	rn_between *ranges; /* asked ones first */
	int range_count;
	int asked, count;   /* trials asked for; done, the first ones of them */
	bool stopped;       /* on request, before all were done */
	int counts[RN_TRIAL_COUNT];
	rn_scatter_case *cases; /* in the order of the answer's */
	int case_count;
	rn_scatter_part *parts; /* likewise */
	int part_count;
	double closest[RN_RANK_COUNT]; /* the utilisation of whatever part is closest to its limit [-] */
	/* trial by trial, in order: */
	rn_trial *trials;
	double *utilisations, *demands; /* per trial and part; a utilisation is -1 without a limit */
	struct rn_result_memory *memory; /* private */
} rn_scatter;

/* Settles an answer's cases again and again, each number with a range drawn anew: by Sobol's sequence, evenly over
 * its range. Numbers vary each by itself; what shares one number shares its draw; what a case sets itself stays as
 * it sets it. A trial depends on its place in the sequence alone, not on the number of threads. On request it stops
 * with the first trials, once those at hand are done; with none of them it is STOPPED. Errors: MEMORY; STOPPED;
 * ARGUMENT (drawn under load, nothing has a range, or what is asked cannot be). */
rn_status rn_scatter_find(const rn_result *result, const rn_options *options, const rn_scatter_asked *asked,
                          rn_scatter *scatter_out) RN_MUST_CHECK;
void rn_scatter_release(rn_scatter *scatter);

/* ---- the largest piece ---------------------------------------------------------------------- */

/* Why a piece may not be larger. */
typedef enum rn_halt_kind {
	RN_HALT_PART,      /* a part comes to its limit */
	RN_HALT_OUTCOME,   /* nothing holds it any more, or no equilibrium is found */
	RN_HALT_FALLS      /* it falls before its line holds: no static answer counts */
} rn_halt_kind;

typedef struct rn_halt {
	rn_halt_kind kind;
	int part;          /* into the parts of `at` */
	int case_index;    /* into the cases of `at` */
	int node;          /* where the part is worst, RN_NONE */
	bool guess_end;    /* first at an end of what is guessed of stiffness, not as guessed */
	double weight;     /* of the piece [N] */
} rn_halt;

enum { RN_HALTS_MOST = 3 };

/* How big a piece may be, over all cases and, with options.stretch_check, over all ends of what is guessed of
 * stiffness. A case that sets the weight keeps its ratio to the weight in the model. */
typedef struct rn_largest {
	rn_object piece;
	double drawn;      /* its weight in the model [N] */
	double weight;     /* the largest at which nothing checked is over [N]; 0: there is none */
	double looked_from, looked_to; /* the lightest and the heaviest that were looked at [N] */
	rn_halt working[RN_HALTS_MOST];  /* what stops it, and the next parts to come to their limit */
	rn_halt breaking[RN_HALTS_MOST]; /* the first parts to fail as tested, with no factor in reserve */
	int working_count, breaking_count;
	bool ended;        /* the walk ended at `end`, where there is no answer any more */
	rn_halt end;
	bool nothing_checked;
	bool under_load;   /* the drawing shows the piece hanging, so it fits no other weight; `at` is as drawn */
	bool guess_matters; /* the stiffness guessed would let a heavier piece hang than one of its ends does */
	bool several;      /* settled from the drawing with `weight` a part is over: there are several answers */
	rn_result *at;     /* the whole answer as guessed with the largest piece, or with the lightest when that
	                      is over */
} rn_largest;

/* Walks up from a light piece in steps of 2 %, because a utilisation need not grow with the piece, and
 * closes in on the first crossing of each part. `piece`: a node or a bar that is a piece, with a weight.
 * Errors: MEMORY, STOPPED, ARGUMENT (no such piece, or no weight to begin with). */
rn_status rn_largest_find(const rn_model *model, const rn_options *options, rn_object piece,
                          rn_largest *largest_out) RN_MUST_CHECK;
void rn_largest_release(rn_largest *largest);

/* ---- a caught piece: let run, and with other gear ---------------------------------------------- */

/* One way of catching it, in a line. */
typedef struct rn_caught_row {
	rn_outcome outcome;  /* SETTLED: it is stopped */
	double peak, travel, clear, run_out; /* as of rn_caught */
	double slips_at;     /* pull in the line where it slips, or is held when it does not [N] */
	double hand_least, hand_most; /* behind the turns there [N]; 0 when nobody holds */
	int anchor;          /* that is pulled hardest, a node; RN_NONE */
	double anchor_pull;  /* [N] */
	int closest;         /* part, RN_NONE when none is checked; its share [-] */
	double utilisation;
	bool unchecked;      /* a loaded part has no limit */
	bool ground;         /* the piece reaches the ground before it is stopped */
	bool breaks;         /* some part is pulled past what it breaks at */
} rn_caught_row;

/* A catch from locked to let run. */
typedef struct rn_let_run {
	int case_index, station; /* of the model: where the line runs */
	rn_caught_row *rows;     /* locked first, then by so much rope let run: */
	double *asked;           /* [m] */
	int count;
	bool has_least;          /* some run is the least at which nothing checked is over: */
	rn_caught_row least;
	const rn_case_result *shape; /* an answer that has the parts in their order */
	struct rn_result_memory *memory; /* private */
} rn_let_run;

/* From locked to what lets 8 m run, in one case in which a piece falls. Errors: MEMORY, STOPPED, ARGUMENT (nothing
 * falls in it, or no line of it is held). */
rn_status rn_let_run_find(const rn_model *model, const rn_options *options, int case_index,
                          rn_let_run *let_run_out) RN_MUST_CHECK;
void rn_let_run_release(rn_let_run *let_run);

#define RN_OTHERWISE_LIST(X)                                                                       \
	X(AS_IS, "as it is")                                                                       \
	X(LONGER, "with so much more line")           /* [m] */                                    \
	X(SOFTER, "with a rope so many times as stretchy") /* [-] */                               \
	X(RING, "with a ring in place of the block")  /* friction by its class [-] */              \
	X(BLOCK, "with a block in place of the ring") /* likewise */                               \
	X(DROP, "let go so much higher than drawn")   /* [m] */                                    \
	X(WEIGHT, "with another weight")              /* [N] */

typedef enum rn_otherwise_kind {
#define X(name, text) RN_OTHERWISE_##name,
	RN_OTHERWISE_LIST(X)
#undef X
} rn_otherwise_kind;

typedef struct rn_otherwise {
	rn_otherwise_kind kind;
	double amount;
	rn_caught_row row;
} rn_otherwise;

/* The same catch with one thing changed at a time. */
typedef struct rn_comparison {
	int case_index;
	int node; /* where a ring or block is changed, RN_NONE */
	int line; /* whose rope is changed, RN_NONE */
	rn_otherwise *list; /* as it is first */
	int count;
	const rn_case_result *shape; /* an answer that has the parts in their order */
	struct rn_result_memory *memory; /* private */
} rn_comparison;

/* Errors: MEMORY, STOPPED, ARGUMENT (nothing falls in the case). A longer line needs the number FURTHER at an end
 * of it, another drop the number DROP. */
rn_status rn_comparison_find(const rn_model *model, const rn_options *options, int case_index,
                             rn_comparison *comparison_out) RN_MUST_CHECK;
void rn_comparison_release(rn_comparison *comparison);

/* ---- one or two numbers varied ----------------------------------------------------------------- */

/* A number of the model and from where to where it is varied, in the unit of its quantity. */
typedef struct rn_varied_number {
	int number; /* into the model's numbers, see rn_altered_number */
	double from, to;
} rn_varied_number;

enum { RN_VARIED_MOST = 2 };

/* What became of the model with other numbers. */
#define RN_STAND_LIST(X)                                                                           \
	X(FOUND, "found")                                                                          \
	X(NO_EQUILIBRIUM, "no-equilibrium")                                                        \
	X(NOT_FOUND, "not-found")                                                                  \
	X(FALLS, "falls-first")                                                                    \
	X(CANNOT_BE, "cannot-be")

typedef enum rn_stand {
#define X(name, text) RN_STAND_##name,
	RN_STAND_LIST(X)
#undef X
} rn_stand;

const char *rn_stand_text(rn_stand stand);

/* The model with one choice of the numbers, all its cases settled as by rn_solve. */
typedef struct rn_tried {
	double value[RN_VARIED_MOST];
	rn_stand stand;
	rn_note why;         /* of what was not found; kind RN_NOTE_COUNT: nothing to say */
	int case_index;      /* where the governing part is closest, or that has no answer; into the cases of the model
	                        of the rn_varied */
	int part;            /* closest to its limit of all cases, RN_NONE when none is checked */
	double utilisation;  /* of it */
	int unchecked_count; /* loaded parts without a limit */
	/* the part asked about, in the case in which it is closest, else pulled hardest */
	int own_case;
	bool own_checked;
	double own_demand;      /* [N] */
	double own_utilisation; /* 0 when it is not checked */
	double own_stress;      /* of a stem: the larger of its pressed and its drawn side [Pa] */
	double own_height;      /* of a stem: of its worst section, along it [m] */
} rn_tried;

typedef enum rn_turn_kind {
	RN_TURN_OVER,    /* from here up a part is over its limit */
	RN_TURN_UNDER,   /* from here up none is */
	RN_TURN_GOVERNS, /* from here up another part is the closest */
	RN_TURN_LOST,    /* from here up there is no answer */
	RN_TURN_FOUND    /* from here up there is one */
} rn_turn_kind;

/* Where something changes between two steps of one number. */
typedef struct rn_turn {
	rn_turn_kind kind;
	rn_tried below, above; /* on either side of it, as near as it was closed in on */
	double value;
} rn_turn;

typedef struct rn_varied {
	rn_varied_number of[RN_VARIED_MOST];
	int of_count;
	int counts[RN_VARIED_MOST]; /* values of each, both ends included; 1 of a second there is not */
	rn_tried *tried;    /* the first number runs fastest; counts[0] x counts[1] */
	double *shares;     /* part_count for each tried: utilisation of every part, the most of all cases; below 0:
	                       no answer, or loaded without a limit */
	double *drawn_shares; /* likewise, with the numbers as the model has them */
	int part_count;
	int part;           /* asked about, RN_NONE */
	rn_turn *turns;     /* of one number, in order of its value */
	double *turn_shares; /* as `shares`, of below and above of each turn */
	int turn_count;
	bool has_least;     /* some choice is found with a checked part: the one with the least worst utilisation, of those
	                       that leave fewest parts unchecked, looked for between the steps too */
	rn_tried least;
	rn_tried drawn;     /* with the numbers as the model has them */
	rn_model *model;    /* so told; names the parts and cases above */
	rn_result *result;  /* its answer */
	int solved_count;   /* models that were solved */
	struct rn_result_memory *memory; /* private */
} rn_varied;

/* Settles a model with one or two of its numbers varied in equal steps; every answer is that of rn_solve on a model
 * told with these numbers, whatever was settled before; with options.only_case of that case alone, and the numbers count
 * there in place of what it sets. `part` kind RN_NODE and index RN_NONE: none is asked about.
 * Errors: MEMORY, STOPPED, ARGUMENT (no such number or part, an empty range, no step). */
rn_status rn_vary_find(const rn_model *model, const rn_options *options, const rn_varied_number *of, int of_count,
                       const int *steps, rn_object part, rn_varied *varied_out) RN_MUST_CHECK;
void rn_vary_release(rn_varied *varied);

/* ---- the best place ---------------------------------------------------------------------------- */

/* Where one or two numbers make the worst utilisation of all, or that of one part, the least. */
typedef struct rn_placed {
	rn_varied map;      /* everything between the bounds, in steps; its part is the one asked about */
	bool of_part;       /* one part is asked about */
	bool by_pull;       /* that part is not checked: its demand, of a stem its stress, is what is made least */
	bool found;         /* some choice has an answer that can be held against the model as drawn */
	bool better;        /* and is better than as drawn by more than can be told */
	rn_tried best;
	double goal, drawn_goal; /* what is made least [-], [N] or [Pa]; drawn_goal below 0: no answer as drawn */
	int drawn_unlike;   /* choices left out because a part is not checked there that is as drawn */
	int at_bound[RN_VARIED_MOST]; /* -1: the best is at the lower bound, 1: at the upper, 0: between */
	/* how far each number can be off, the other kept, for 5 % more: to here, or to its bound */
	double flat_from[RN_VARIED_MOST], flat_to[RN_VARIED_MOST];
	bool flat_from_bound[RN_VARIED_MOST], flat_to_bound[RN_VARIED_MOST];
	bool flat_from_lost[RN_VARIED_MOST], flat_to_lost[RN_VARIED_MOST]; /* beyond it there is no answer to propose */
	bool at_edge;       /* right beside the best there is none */
	rn_model *model;    /* told with the best numbers; NULL when none is found */
	rn_result *result;  /* its answer */
} rn_placed;

/* Looks for the best in the whole box. As rn_vary_find. Errors: also ARGUMENT when the model is a picture drawn under
 * load, which shows one moment: no other place fits it. */
rn_status rn_place_find(const rn_model *model, const rn_options *options, const rn_varied_number *of, int of_count,
                        const int *steps, rn_object part, rn_placed *placed_out) RN_MUST_CHECK;
void rn_place_release(rn_placed *placed);

/* ---- one case at a time, memory reused ------------------------------------------------------ */

typedef struct rn_workspace rn_workspace;

/* Everything one thread needs to settle cases of one model, again and again.
 * Errors: MEMORY, LIMIT. */
rn_status rn_workspace_create(const rn_model *model, const rn_options *options,
                              rn_workspace **workspace_out) RN_MUST_CHECK;
void rn_workspace_destroy(rn_workspace *workspace);
/* Settles one case with the given numbers. *result_out belongs to the workspace and lives until its
 * next use. `warm` starts from the places the last call left. Errors: MEMORY, STOPPED. */
rn_status rn_workspace_settle(rn_workspace *, const rn_case *, const double *values, bool warm,
                              const rn_case_result **result_out) RN_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
