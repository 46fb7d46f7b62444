/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/table.h"

#include <float.h>
#include <string.h>

#define PI 3.14159265358979323846

#define E(name) RN_ELEMENT_BIT(RN_ELEMENT_##name)
#define FIXED (E(ANCHOR) | E(FORK) | E(HAND) | E(BOLLARD))
#define FREE (E(RING) | E(BLOCK) | E(JOINT) | E(PIECE))
#define NODES (FIXED | FREE)
#define ENDS E(PIECE_END)
#define PLACES (NODES | ENDS)
#define STATIONS (E(TIE) | E(THROUGH) | E(GRIP) | E(HOLD))

/* Of one kind on one line: far above any real rigging, and the reader walks along a line for each
 * name of a station. */
enum { STATIONS_MOST = 200 };

/* ---- elements ------------------------------------------------------------------------------ */

/* clang-format off: a row is a row */
static const rn_element_row elements[RN_ELEMENT_COUNT] = {
	[RN_ELEMENT_RIGGING] = {"rigging", 0,
	 .help = "the root of a model; its children stand in any order"},
	[RN_ELEMENT_NOTE] = {"note", E(RIGGING) | E(GEAR) | E(GEAR_FILE),
	 .help = "words for people; printed with the answer, never used", .takes_text = true},
	[RN_ELEMENT_STORE] = {"store", E(RIGGING),
	 .help = "a gear file, in the folder of the model or below"},
	[RN_ELEMENT_GEAR] = {"gear", E(RIGGING), .help = "the gear of this job"},
	[RN_ELEMENT_GEAR_FILE] = {"gear", 0, .help = "the root of a gear file"},
	[RN_ELEMENT_ITEM] = {"item", E(GEAR) | E(GEAR_FILE),
	 .help = "a piece of gear: what is on its label, what was measured"},
	[RN_ELEMENT_STRETCH] = {"stretch", E(ITEM),
	 .help = "a point of the curve of load and stretch, from nothing up"},
	[RN_ELEMENT_BEND] = {"bend", E(ITEM),
	 .help = "a point of the curve of what is left of its strength over a bend, from the sharpest on"},
	[RN_ELEMENT_STEM] = {"stem", E(RIGGING), .help = "a stem, from its foot up"},
	[RN_ELEMENT_SECTION] = {"section", E(STEM),
	 .help = "how thick a stem is at one height; they go upward"},
	[RN_ELEMENT_ANCHOR] = {"anchor", E(RIGGING), .help = "a point that does not move"},
	[RN_ELEMENT_FORK] = {"fork", E(RIGGING),
	 .help = "a bark or wood edge the rope runs over and can lift off"},
	[RN_ELEMENT_HAND] = {"hand", E(RIGGING),
	 .help = "a hand on the rope: pulls, or is asked how hard it must"},
	[RN_ELEMENT_BOLLARD] = {"bollard", E(RIGGING),
	 .help = "a fixed post that holds a rope by turns round it"},
	[RN_ELEMENT_RING] = {"ring", E(RIGGING), .help = "a ring, free to move"},
	[RN_ELEMENT_BLOCK] = {"block", E(RIGGING), .help = "a block with a sheave, free to move"},
	[RN_ELEMENT_JOINT] = {"joint", E(RIGGING),
	 .help = "a point where ropes meet, free to move"},
	[RN_ELEMENT_PIECE] = {"piece", E(RIGGING),
	 .help = "what is lowered or lifted, free to move"},
	[RN_ELEMENT_CUT] = {"cut", E(PIECE),
	 .help = "how thick the piece is at one place: at both ends, or at a third between as well", .most = 3},
	[RN_ELEMENT_PIECE_END] = {"end", E(PIECE),
	 .help = "of a piece hung at both: the butt, then the tip; its weight goes to them by its centre of mass "
		 "where cuts and long give it, else half to each", .least = 2,
	 .most = 2, .form = 2},
	[RN_ELEMENT_SLING] = {"sling", E(RIGGING),
	 .help = "a leg between two nodes, or a sling round a stem"},
	[RN_ELEMENT_END] = {"end", E(SLING),
	 .help = "one end of a sling round a stem", .least = 1, .most = 2, .form = 2},
	[RN_ELEMENT_LINE] = {"line", E(RIGGING),
	 .help = "one rope from end to end, through its stations in order"},
	[RN_ELEMENT_TIE] = {"tie", E(LINE), .help = "an end made fast", .most = STATIONS_MOST},
	[RN_ELEMENT_THROUGH] = {"through", E(LINE),
	 .help = "the rope runs through or over a node", .most = STATIONS_MOST},
	[RN_ELEMENT_GRIP] = {"grip", E(LINE),
	 .help = "the rope is held fast and goes on", .most = STATIONS_MOST},
	[RN_ELEMENT_HOLD] = {"hold", E(LINE),
	 .help = "an end held by a hand, or round a bollard", .most = STATIONS_MOST},
	[RN_ELEMENT_PROP] = {"prop", E(RIGGING),
	 .help = "a bar hinged at both ends, that can push: a strut, a spar on its heel"},
	[RN_ELEMENT_CASE] = {"case", E(RIGGING),
	 .help = "the model with some numbers replaced, and which way ropes run"},
	[RN_ELEMENT_RUN] = {"run", E(CASE), .help = "which way a line runs"},
	[RN_ELEMENT_FORCE] = {"force", E(CASE), .help = "an outer force, such as wind or a push"},
	[RN_ELEMENT_SET] = {"set", E(CASE), .help = "numbers of one object, replaced in this case"},
	[RN_ELEMENT_FALL] = {"fall", E(CASE),
	 .help = "a piece that falls and is caught by its line: the case shows it where it comes to a stop",
	 .most = 1},
	[RN_ELEMENT_CASES] = {"cases", E(RIGGING),
	 .help = "leaves out the cases made by the program", .most = 1},
};

/* ---- attributes ---------------------------------------------------------------------------- */

#define WORD(name, word) word " "
#define ITEM_KINDS RN_ITEM_KIND_LIST(ITEM_KIND)
#define ITEM_KIND(name, word) WORD(name, word)
#define FIBRES RN_FIBRE_LIST(FIBRE)
#define BODIES RN_BODY_LIST(WORD)
#define LABELS RN_LABEL_FOR_LIST(WORD)
#define MOISTURES RN_MOISTURE_LIST(WORD)
#define FIBRE(name, word) WORD(name, word)

#define NUMBER(attribute, unit, bound)                                                      \
	.kind = RN_VALUE_NUMBER, .measure = RN_MEASURE_##unit, .demand = RN_DEMAND_##bound, \
	.number = RN_ATTRIBUTE_##attribute
#define UNKEPT(unit, bound)                                                                 \
	.kind = RN_VALUE_NUMBER, .measure = RN_MEASURE_##unit, .demand = RN_DEMAND_##bound, \
	.number = RN_NONE
#define PLAIN(what) .kind = RN_VALUE_##what, .number = RN_NONE
#define WORDS(list) PLAIN(WORD), .words = (list)
#define REFERENCE(set) PLAIN(REFERENCE), .targets = (set)
#define GEAR_OF(kinds) PLAIN(REFERENCE), .targets = E(ITEM), .words = (kinds)

static const rn_attribute_row attributes[] = {
	{E(RIGGING) | E(GEAR_FILE), "format", WORDS(RN_FORMAT), .required = true,
	 .help = "the version of this language, " RN_FORMAT},
	{E(RIGGING), "title", PLAIN(TEXT), .help = "one line over the answer"},
	{E(RIGGING), "drawn", WORDS("as-rigged under-load"),
	 .help = "taut before the weight comes on, which is taken if not said; or a picture of it "
		 "carrying the piece"},
	{E(RIGGING), "gravity", NUMBER(GRAVITY, ACCELERATION, POSITIVE),
	 .help = "acceleration of free fall; 9.80665 m/s2 if not said"},
	{E(RIGGING), "picture", PLAIN(TEXT),
	 .help = "scale of a photo, such as 840 px = 10 m: then x, y and place-error may be in px, from "
		 "its top left"},
	{E(RIGGING), "ground", PLAIN(TEXT),
	 .help = "where in the photo y is 0, such as 1180 px"},

	{E(NOTE), "topic", PLAIN(TEXT), .help = "what the note is about"},
	{E(STORE), "href", PLAIN(TEXT), .required = true, .help = "name of the gear file"},
	{E(GEAR) | E(GEAR_FILE), "design-factor", UNKEPT(RATIO, FACTOR),
	 .help = "for items that name none: strength over allowed load"},

	{E(ITEM) | E(STEM) | PLACES | E(SLING) | E(LINE) | E(PROP) | E(CASE), "id", PLAIN(ID),
	 .required = true, .help = "its name: letters a to z, figures, - and _"},

	{E(ITEM), "kind", WORDS(ITEM_KINDS), .required = true, .help = "what it is"},
	{E(ITEM), "strength", NUMBER(STRENGTH, FORCE, POSITIVE),
	 .help = "breaking strength when new"},
	{E(ITEM), "working-load", NUMBER(WORKING_LOAD, FORCE, POSITIVE),
	 .help = "greatest load its maker allows"},
	{E(ITEM), "label-for", WORDS(LABELS),
	 .help = "the hitch the working load on the label is for; straight if not said"},
	{E(ITEM), "design-factor", NUMBER(DESIGN_FACTOR, RATIO, FACTOR),
	 .help = "strength over allowed load"},
	{E(ITEM), "weight", NUMBER(WEIGHT, FORCE, NOT_NEGATIVE), .help = "its own weight"},
	{E(ITEM), "diameter", NUMBER(DIAMETER, LENGTH, POSITIVE), .help = "of a rope or sling"},
	{E(ITEM), "tread", NUMBER(TREAD, LENGTH, NOT_NEGATIVE),
	 .help = "diameter of the seat the rope bends round"},
	{E(ITEM), "eye", NUMBER(EYE, LENGTH, POSITIVE),
	 .help = "diameter of the pin or seat the eye of a sling sits on"},
	{E(ITEM), "long", NUMBER(LONG, LENGTH, POSITIVE), .help = "length as made"},
	{E(ITEM), "fibre", WORDS(FIBRES), .help = "what a rope is made of"},
	{E(ITEM), "state", WORDS("new worked"),
	 .help = "a worked rope stretches less than a new one"},
	{E(ITEM), "stiffness", NUMBER(STIFFNESS, FORCE, POSITIVE),
	 .help = "EA: force over stretch as a part of the length"},
	{E(ITEM), "friction", NUMBER(FRICTION, RATIO, GRIPPY), .one_of = 1,
	 .help = "of a rope sliding over it: natural log of the pulls' ratio, per radian of bend"},
	{E(ITEM), "friction-range", .kind = RN_VALUE_RANGE, .measure = RN_MEASURE_RATIO,
	 .demand = RN_DEMAND_GRIPPY, .number = RN_NONE, .help = "how far the friction may be off"},
	{E(ITEM), "efficiency", NUMBER(EFFICIENCY, RATIO, SHEAVE), .one_of = 1,
	 .help = "of a sheave: smaller pull over larger, over a bend of 180 deg"},
	{E(STRETCH), "load", NUMBER(LOAD, FORCE, POSITIVE), .required = true, .help = "the pull"},
	{E(STRETCH), "by", NUMBER(BY, RATIO, STRETCH), .required = true,
	 .help = "how far it stretches at that pull, as a part of its length"},
	{E(ITEM), "wet-factor", NUMBER(WET_FACTOR, RATIO, SHARE), .help = "strength left when wet"},
	{E(ITEM), "condition-factor", NUMBER(CONDITION_FACTOR, RATIO, SHARE),
	 .help = "strength left by wear and age"},
	{E(ITEM), "knot-factor", NUMBER(KNOT_FACTOR, RATIO, SHARE),
	 .help = "strength left at any knot or splice in it, by test; else that of the table"},
	{E(ITEM), "choke-factor", NUMBER(CHOKE_FACTOR, RATIO, SHARE),
	 .help = "strength left where it is choked, the choke angle apart, by its maker; else by how it is made"},
	{E(ITEM), "body", WORDS(BODIES),
	 .help = "how a sling is made; one of unknown make is choked as a rope is"},
	{E(BEND), "over", NUMBER(OVER, RATIO, POSITIVE), .required = true,
	 .help = "diameter it is bent round, over its own"},
	{E(BEND), "keeps", NUMBER(KEEPS, RATIO, SHARE), .required = true,
	 .help = "strength left over such a bend"},
	{E(ITEM), "serial", PLAIN(TEXT), .help = "number on the label"},
	{E(ITEM), "checked-on", PLAIN(TEXT), .help = "day of the last inspection"},

	{E(STEM), "x", NUMBER(X, LENGTH, ANY), .required = true, .form = 1,
	 .help = "its foot, to the right"},
	{E(STEM), "y", NUMBER(Y, LENGTH, ANY), .required = true, .form = 1, .help = "its foot, upward"},
	{E(STEM), "on", REFERENCE(E(STEM)), .required = true, .form = 2,
	 .help = "for a branch: the stem or branch it grows from"},
	{E(STEM), "height", NUMBER(HEIGHT, LENGTH, NOT_NEGATIVE), .required = true, .form = 2,
	 .help = "for a branch: where on that it grows, along it"},
	{E(STEM), "lean", .kind = RN_VALUE_LEAN, .number = RN_ATTRIBUTE_LEAN,
	 .measure = RN_MEASURE_ANGLE, .help = "off plumb, and which way"},
	{E(STEM), "species", PLAIN(TEXT), .help = "kind of tree"},
	{E(STEM), "density", NUMBER(DENSITY, DENSITY, POSITIVE), .help = "of the green wood"},
	{E(STEM), "strength-like", PLAIN(TEXT),
	 .help = "species whose strength is taken, where its own has none in the tables"},
	{E(STEM), "compression", NUMBER(COMPRESSION, PRESSURE, POSITIVE),
	 .help = "strength of the green wood along the grain"},
	{E(STEM), "bending", NUMBER(BENDING, PRESSURE, POSITIVE),
	 .help = "strength of the green wood in bending"},
	{E(STEM), "bark", NUMBER(BARK, LENGTH, NOT_NEGATIVE),
	 .help = "thickness of its bark, which carries nothing; by the species if not said"},
	{E(STEM) | E(PROP), "stiffness", NUMBER(MODULUS, PRESSURE, POSITIVE),
	 .help = "modulus of elasticity of the green wood"},
	{E(STEM), "give", WORDS("no yes"),
	 .help = "whether it bends under a pull; if not said, where a rope joins it to another "
	         "stem or the ground, or three legs meet"},
	{E(STEM), "design-factor", NUMBER(DESIGN_FACTOR, RATIO, FACTOR),
	 .help = "strength over allowed stress; a stem is not judged without"},

	{E(SECTION), "height", NUMBER(HEIGHT, LENGTH, NOT_NEGATIVE), .required = true,
	 .help = "above the foot, along the stem"},
	{E(SECTION), "girth", NUMBER(DIAMETER, LENGTH, POSITIVE), .times = 1 / PI, .one_of = 1,
	 .required = true, .help = "by tape, over the bark"},
	{E(SECTION), "diameter", NUMBER(DIAMETER, LENGTH, POSITIVE), .one_of = 1, .required = true,
	 .help = "over the bark"},
	{E(SECTION), "wall", NUMBER(WALL, LENGTH, POSITIVE), .help = "sound wood, if hollow"},

	{(FREE & ~E(PIECE)) | ENDS, "x", NUMBER(X, LENGTH, ANY), .required = true,
	 .help = "where it is drawn, to the right"},
	{(FREE & ~E(PIECE)) | ENDS, "y", NUMBER(Y, LENGTH, ANY), .required = true,
	 .help = "where it is drawn, upward"},
	{E(PIECE), "x", NUMBER(X, LENGTH, ANY), .required = true, .form = 1,
	 .help = "where it is drawn, to the right"},
	{E(PIECE), "y", NUMBER(Y, LENGTH, ANY), .required = true, .form = 1,
	 .help = "where it is drawn, upward"},
	{FIXED, "x", NUMBER(X, LENGTH, ANY), .required = true, .form = 1, .help = "to the right"},
	{FIXED, "y", NUMBER(Y, LENGTH, ANY), .required = true, .form = 1, .help = "upward"},
	{FIXED, "on", REFERENCE(E(STEM)), .required = true, .form = 2, .help = "the stem it is on"},
	{FIXED, "height", NUMBER(HEIGHT, LENGTH, NOT_NEGATIVE), .required = true, .form = 2,
	 .help = "above the foot of the stem, along it"},
	{FIXED, "side", WORDS("axis left right"), .form = 2,
	 .help = "on the bark at its left or right, or on its axis, which is taken if not said"},
	{E(ANCHOR), "girth", NUMBER(DIAMETER, LENGTH, POSITIVE), .times = 1 / PI, .one_of = 1,
	 .help = "of a stump, post or stem that is not drawn, by tape: what slings on it bend round"},
	{E(ANCHOR), "diameter", NUMBER(DIAMETER, LENGTH, POSITIVE), .one_of = 1, .help = "the same across"},
	{E(ANCHOR), "gear", GEAR_OF("ring block connector fork"),
	 .help = "what the rope runs through"},
	{E(FORK), "gear", GEAR_OF("fork"), .help = "its friction and tread"},
	{E(BOLLARD), "gear", GEAR_OF("bollard"), .help = "its friction and tread"},
	{E(RING), "gear", GEAR_OF("ring connector"), .help = "which ring"},
	{E(BLOCK), "gear", GEAR_OF("block"), .help = "which block"},
	{E(JOINT), "gear", GEAR_OF("ring connector"), .help = "what joins the ropes"},
	{E(PIECE), "gear", GEAR_OF("ring block connector"), .help = "what is fixed to it"},
	{E(ANCHOR) | E(FORK) | E(HAND), "connector", GEAR_OF("connector"),
	 .help = "connector between it and the rope"},
	{FIXED, "working-load", NUMBER(WORKING_LOAD, FORCE, POSITIVE),
	 .help = "what it may be pulled; not checked if not said"},
	{FREE, "weight", NUMBER(WEIGHT, FORCE, NOT_NEGATIVE),
	 .help = "its weight; that of its gear comes on top"},
	{E(PIECE), "species", PLAIN(TEXT), .help = "kind of tree; with long and cuts it gives the weight"},
	{E(PIECE), "density", NUMBER(DENSITY, DENSITY, POSITIVE), .help = "of the green wood, instead of the species'"},
	{E(PIECE), "long", NUMBER(LONG, LENGTH, POSITIVE), .help = "length of the piece"},
	{E(PIECE), "wood", WORDS(MOISTURES),
	 .help = "mixed as in a whole log, which is taken if not said; sap and soaked are the heavier"},
	{E(PIECE), "bark", WORDS("on off"), .help = "whether its bark is on"},
	{E(CUT), "at", NUMBER(AT, LENGTH, NOT_NEGATIVE), .required = true,
	 .help = "from the butt, along the piece"},
	{E(CUT), "girth", NUMBER(DIAMETER, LENGTH, POSITIVE), .times = 1 / PI, .one_of = 1,
	 .required = true, .help = "by tape, over the bark if it is on"},
	{E(CUT), "diameter", NUMBER(DIAMETER, LENGTH, POSITIVE), .one_of = 1, .required = true,
	 .help = "over the bark if it is on"},
	{E(BOLLARD), "diameter", NUMBER(DIAMETER, LENGTH, POSITIVE),
	 .help = "of the drum or post the rope bends round, if its gear does not say"},
	{E(BOLLARD), "turns", NUMBER(TURNS, RATIO, WINDING), .help = "turns of rope round it"},
	{E(BOLLARD), "tail", NUMBER(TAIL, RATIO, WINDING),
	 .help = "turns held in reserve behind the hand"},
	{E(RIGGING) | PLACES, "place-error", NUMBER(PLACE_ERROR, LENGTH, NOT_NEGATIVE),
	 .help = "how far a drawn place may be off"},

	{E(SLING), "from", REFERENCE(PLACES), .required = true, .form = 1,
	 .help = "node it hangs on"},
	{E(SLING), "to", REFERENCE(PLACES), .required = true, .form = 1, .help = "node it holds"},
	{E(SLING), "on", REFERENCE(E(STEM)), .required = true, .form = 2,
	 .help = "stem it goes round"},
	{E(SLING), "height", NUMBER(HEIGHT, LENGTH, NOT_NEGATIVE), .required = true, .form = 2,
	 .help = "above the foot of the stem, along it"},
	{E(SLING), "gear", GEAR_OF("sling rope"), .help = "which sling"},
	{E(SLING), "hitch", PLAIN(TEXT),
	 .help = "straight, choke, basket, or the hitch a rope is made fast with; round a stem it must be said"},
	{E(SLING), "knot", PLAIN(TEXT),
	 .help = "at its ends, where it is a rope; the worst of the table if not said"},
	{E(SLING), "angle", NUMBER(ANGLE, ANGLE, HALF_TURN), .help = "choke angle"},
	{E(SLING) | E(END), "connector", GEAR_OF("connector"), .help = "connector at its end"},
	{E(SLING), "working-load", NUMBER(WORKING_LOAD, FORCE, POSITIVE),
	 .help = "greatest load in this hitch"},
	{E(SLING), "reach", NUMBER(REACH, LENGTH, POSITIVE), .form = 1, .one_of = 1,
	 .help = "from the bark or anchor to the seat"},
	{E(SLING), "length", NUMBER(LENGTH, LENGTH, POSITIVE), .form = 1, .one_of = 1,
	 .help = "length without load; as drawn if nothing is said"},
	{E(SLING), "slack", NUMBER(SLACK, LENGTH, NOT_NEGATIVE), .form = 1, .one_of = 1,
	 .help = "longer than drawn by this"},
	{E(SLING), "pretension", NUMBER(PRETENSION, FORCE, NOT_NEGATIVE), .form = 1, .one_of = 1,
	 .help = "pull as drawn, before the weight"},
	{E(SLING) | E(LINE), "length-error", NUMBER(LENGTH_ERROR, RATIO, PART),
	 .help = "how far the length may be off, as a part of it"},
	{E(END), "to", REFERENCE(FREE | ENDS), .required = true, .help = "node it holds"},
	{E(END), "side", WORDS("axis left right"),
	 .help = "side of the stem it hangs from; the axis is taken if not said"},
	{E(END), "reach", NUMBER(REACH, LENGTH, POSITIVE), .help = "from the bark to the seat"},

	{E(LINE), "gear", GEAR_OF("rope"), .help = "which rope"},
	{E(LINE), "length", NUMBER(LENGTH, LENGTH, POSITIVE), .one_of = 1,
	 .help = "length without load; as drawn if nothing is said"},
	{E(LINE), "slack", NUMBER(SLACK, LENGTH, NOT_NEGATIVE), .one_of = 1,
	 .help = "longer than drawn by this"},
	{E(LINE), "pretension", NUMBER(PRETENSION, FORCE, NOT_NEGATIVE), .one_of = 1,
	 .help = "pull as drawn, before the weight"},
	{E(SLING) | E(LINE), "wet", WORDS("no yes"), .help = "whether it is wet"},
	{E(SLING) | E(LINE), "worn", WORDS("no yes"), .help = "whether it is visibly worn"},

	{E(PROP), "from", REFERENCE(PLACES), .required = true, .help = "its heel"},
	{E(PROP), "to", REFERENCE(PLACES), .required = true, .help = "its head"},
	{E(PROP), "diameter", NUMBER(DIAMETER, LENGTH, POSITIVE), .help = "of the bar"},
	{E(PROP), "wall", NUMBER(WALL, LENGTH, POSITIVE), .help = "of a tube or a hollow bar"},
	{E(PROP), "weight", NUMBER(WEIGHT, FORCE, NOT_NEGATIVE),
	 .help = "its own weight, half to each end"},
	{E(PROP), "species", PLAIN(TEXT), .help = "kind of wood"},
	{E(PROP), "compression", NUMBER(COMPRESSION, PRESSURE, POSITIVE),
	 .help = "strength of the green wood along the grain"},
	{E(PROP), "design-factor", NUMBER(DESIGN_FACTOR, RATIO, FACTOR),
	 .help = "strength over allowed load"},

	{STATIONS & ~E(HOLD), "at", REFERENCE(PLACES), .required = true, .help = "the node"},
	{E(HOLD), "at", REFERENCE(E(BOLLARD) | E(HAND)), .required = true,
	 .help = "the bollard or hand"},
	{E(TIE) | E(GRIP), "knot", PLAIN(TEXT),
	 .help = "how it is made fast; the worst of the table if not said"},
	{E(TIE), "connector", GEAR_OF("connector"), .help = "connector at the knot"},
	{E(THROUGH), "side", WORDS("left right"),
	 .help = "which way the rope turns round it, seen along the rope; as drawn if not said"},
	{E(THROUGH), "tread", NUMBER(TREAD, LENGTH, NOT_NEGATIVE), .help = "own seat of this rope"},
	{E(THROUGH), "friction", NUMBER(FRICTION, RATIO, GRIPPY), .one_of = 1,
	 .help = "own friction of this groove"},
	{E(THROUGH), "efficiency", NUMBER(EFFICIENCY, RATIO, SHEAVE), .one_of = 1,
	 .help = "own efficiency of this sheave"},
	{E(HOLD), "pull", NUMBER(PULL, FORCE, NOT_NEGATIVE),
	 .help = "given pull at this end; asked for if not said"},
	{E(TIE) | E(HOLD), "further", NUMBER(FURTHER, LENGTH, NOT_NEGATIVE),
	 .help = "rope that runs on beyond the drawing before it is made fast or held: it stretches too"},

	{E(CASE), "title", PLAIN(TEXT), .help = "one line over its column"},
	{E(CASE), "friction", WORDS("low nominal high"),
	 .help = "end of the range; nominal if not said"},
	{E(CASE), "after", PLAIN(TEXT),
	 .help = "the case, written or made, that it follows with its rope held: it sticks and slips from there"},
	{E(RUN), "line", REFERENCE(E(LINE)), .required = true, .help = "the line"},
	{E(RUN), "toward", PLAIN(LINE_END), .required = true,
	 .help = "the node at the end it runs to; start or end when both ends are at one node"},
	{E(RUN), "at", REFERENCE(PLACES), .help = "runs over this node only"},
	{E(FORCE), "at", REFERENCE(FREE | ENDS), .required = true, .help = "the node"},
	{E(FORCE), "size", NUMBER(SIZE, FORCE, NOT_NEGATIVE), .required = true, .help = "how much"},
	{E(FORCE), "toward", .kind = RN_VALUE_DIRECTION, .number = RN_ATTRIBUTE_TOWARD,
	 .measure = RN_MEASURE_ANGLE, .required = true, .help = "which way it pushes"},
	{E(FALL), "of", REFERENCE(E(PIECE)), .required = true, .help = "the piece"},
	{E(FALL), "drop", NUMBER(DROP, LENGTH, NOT_NEGATIVE),
	 .help = "how much higher than drawn it is let go; as drawn if not said"},
	{E(FALL), "below", NUMBER(BELOW, LENGTH, NOT_NEGATIVE),
	 .help = "how far it reaches below its knot, for the clear air it needs"},
	{E(FALL), "hand", NUMBER(HAND, FORCE, POSITIVE),
	 .help = "pull of the hand behind the turns: the line is let run at what that holds; locked if not said"},
	{E(FALL), "line", REFERENCE(E(LINE)),
	 .help = "the line that is let run; the one that holds the piece if not said"},
	{E(FALL), "guide", WORDS("plumb"),
	 .help = "kept on its plumb line, not free to swing in under its block"},
	{E(SET), "of", PLAIN(PATH), .required = true,
	 .help = "the object; a station is line.node, a section stem.section2, a sling's end sling.node"},
#define X(attribute, word, unit, meaning)                                                          \
	{E(SET), word, .kind = RN_VALUE_SETTING, .measure = (rn_measure)RN_QUANTITY_##unit,        \
	 .number = RN_ATTRIBUTE_##attribute, .help = meaning},
	RN_ATTRIBUTE_LIST(X)
#undef X
	{E(CASES), "made", WORDS("none"), .required = true, .help = "none: only the written cases"},
};

/* clang-format on */

static const size_t attribute_count = sizeof attributes / sizeof *attributes;

/* ---- finding rows ---------------------------------------------------------------------------- */

const rn_element_row *rn_table_element(rn_element element)
{
	return &elements[element];
}

bool rn_table_holds(rn_element parent, rn_element child)
{
	return (elements[child].parents & RN_ELEMENT_BIT(parent)) != 0;
}

rn_element rn_table_child(rn_element parent, const char *name)
{
	int child = 0;
	while (child < RN_ELEMENT_COUNT && (!rn_table_holds(parent, (rn_element)child) ||
	                                    strcmp(elements[child].name, name) != 0))
		child++;
	return (rn_element)child;
}

const rn_attribute_row *rn_table_next(rn_element element, const rn_attribute_row *row)
{
	const rn_attribute_row *end = attributes + attribute_count;
	for (row = row ? row + 1 : attributes; row < end; row++)
		if (row->elements & RN_ELEMENT_BIT(element))
			return row;
	return NULL;
}

const rn_attribute_row *rn_table_attribute(rn_element element, const char *name)
{
	const rn_attribute_row *row = NULL;
	while ((row = rn_table_next(element, row)) && strcmp(row->name, name) != 0) {
	}
	return row;
}

bool rn_table_has_forms(rn_element element)
{
	const rn_attribute_row *row = NULL;
	while ((row = rn_table_next(element, row)))
		if (row->form)
			return true;
	return false;
}

/* ---- demands and words ----------------------------------------------------------------------- */

static const struct {
	double least, most;
	bool least_itself, most_itself;
	const char *text;
} demands[] = {
	[RN_DEMAND_ANY] = {-DBL_MAX, DBL_MAX, true, true, "any number"},
	[RN_DEMAND_NOT_NEGATIVE] = {0, DBL_MAX, true, true, "0 or more"},
	[RN_DEMAND_POSITIVE] = {0, DBL_MAX, false, true, "more than 0"},
	[RN_DEMAND_SHARE] = {0, 1, false, true, "more than 0, at most 1"},
	[RN_DEMAND_SHEAVE] = {0.01, 1, true, true, "from 0.01 to 1"},
	[RN_DEMAND_PART] = {0, 1, true, false, "from 0 to below 1"},
	[RN_DEMAND_STRETCH] = {0, 10, false, true, "more than 0, at most 10"},
	[RN_DEMAND_FACTOR] = {1, DBL_MAX, true, true, "1 or more"},
	[RN_DEMAND_GRIPPY] = {0, 3, true, true, "from 0 to 3"},
	[RN_DEMAND_WINDING] = {0, 20, true, true, "from 0 to 20"},
	[RN_DEMAND_HALF_TURN] = {0, PI, true, true, "from 0 to 180 deg"},
};

bool rn_demand_met(rn_demand demand, double value)
{
	bool above = demands[demand].least_itself ? value >= demands[demand].least
	                                          : value > demands[demand].least;
	bool below = demands[demand].most_itself ? value <= demands[demand].most
	                                         : value < demands[demand].most;
	return above && below;
}

const char *rn_demand_text(rn_demand demand)
{
	return demands[demand].text;
}

int rn_table_word_index(const char *words, const char *word)
{
	size_t size = strlen(word);
	for (int i = 0; *words; i++) {
		size_t own = strcspn(words, " ");
		if (own == size && memcmp(words, word, size) == 0)
			return i;
		words += own + (words[own] == ' ');
	}
	return RN_NONE;
}

void rn_table_spell_words(rn_buffer *out, const char *words)
{
	const char *between = "";
	while (*words) {
		size_t own = strcspn(words, " ");
		rn_buffer_text(out, between);
		rn_buffer_add(out, words, own);
		words += own + (words[own] == ' ');
		between = ", ";
	}
}
