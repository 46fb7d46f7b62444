/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The one table of the model file: every element, where it stands, every attribute, what it holds
 * and what may be in it. The reader, its messages, the RELAX NG grammar and the reference part of
 * the manual are all made from it, so they cannot drift apart. A new attribute is a row here and a
 * place in the model.
 */
#ifndef RN_IO_XML_TABLE_H
#define RN_IO_XML_TABLE_H

#include "io/xml/quantity.h"

#define RN_NAMESPACE "urn:funicle:rigging"
#define RN_FORMAT "1"

/* The nodes stand in the order of rn_node_kind, the stations in that of rn_station_kind. Two
 * elements may share a name when they stand in different parents. */
#define RN_ELEMENT_LIST(X) \
	X(RIGGING)         \
	X(NOTE)            \
	X(STORE)           \
	X(GEAR)            \
	X(GEAR_FILE)       \
	X(ITEM)            \
	X(STRETCH)         \
	X(BEND)            \
	X(STEM)            \
	X(SECTION)         \
	X(ANCHOR)          \
	X(FORK)            \
	X(HAND)            \
	X(BOLLARD)         \
	X(RING)            \
	X(BLOCK)           \
	X(JOINT)           \
	X(PIECE)           \
	X(CUT)             \
	X(PIECE_END)       \
	X(SLING)           \
	X(END)             \
	X(LINE)            \
	X(TIE)             \
	X(THROUGH)         \
	X(GRIP)            \
	X(HOLD)            \
	X(PROP)            \
	X(CASE)            \
	X(RUN)             \
	X(FORCE)           \
	X(SET)             \
	X(FALL)            \
	X(CASES)

typedef enum rn_element {
#define X(name) RN_ELEMENT_##name,
	RN_ELEMENT_LIST(X)
#undef X
		RN_ELEMENT_COUNT
} rn_element;

typedef uint64_t rn_elements; /* a set of them, one bit each */
#define RN_ELEMENT_BIT(element) (UINT64_C(1) << (element))

typedef struct rn_element_row {
	const char *name;
	rn_elements parents; /* none: a root */
	const char *help;
	int least, most;     /* how many one parent holds; most 0 = any number */
	int form;            /* stands only in this form of its parent; 0 = in any */
	bool takes_text;
} rn_element_row;

typedef enum rn_value_kind {
	RN_VALUE_ID,        /* a name for this object */
	RN_VALUE_REFERENCE, /* the name of one of `targets`; items only of the kinds in `words` */
	RN_VALUE_LINE_END,  /* the name of a node at an end of the line, or start or end */
	RN_VALUE_PATH,      /* what a case replaces a number of */
	RN_VALUE_WORD,      /* one of `words` */
	RN_VALUE_TEXT,
	RN_VALUE_NUMBER, /* one quantity of `measure` */
	RN_VALUE_RANGE,  /* two of them */
	RN_VALUE_DIRECTION,
	RN_VALUE_LEAN,
	RN_VALUE_SETTING /* read like the attribute of that name of the object it belongs to */
} rn_value_kind;

/* What a number may be, in SI. */
typedef enum rn_demand {
	RN_DEMAND_ANY,
	RN_DEMAND_NOT_NEGATIVE,
	RN_DEMAND_POSITIVE,
	RN_DEMAND_SHARE,    /* (0, 1] */
	RN_DEMAND_SHEAVE,   /* [0.01, 1]: efficiency */
	RN_DEMAND_PART,     /* [0, 1) */
	RN_DEMAND_STRETCH,  /* (0, 10] */
	RN_DEMAND_FACTOR,   /* [1, ...) */
	RN_DEMAND_GRIPPY,   /* [0, 3]: friction */
	RN_DEMAND_WINDING,  /* [0, 20]: turns */
	RN_DEMAND_HALF_TURN /* [0, pi] */
} rn_demand;

typedef struct rn_attribute_row {
	rn_elements elements;
	const char *name;
	rn_value_kind kind;
	rn_measure measure;
	rn_demand demand;
	double times; /* read value times this is the number; 0 stands for 1 */
	int number;   /* rn_attribute it becomes, RN_NONE */
	rn_elements targets;
	const char *words;       /* parted by spaces */
	bool required;           /* in its form */
	int form;   /* 1 or 2: the element has exactly one of these forms; 0: in both */
	int one_of; /* at most one attribute of the same number; required: exactly one */
	const char *help;
} rn_attribute_row;

const rn_element_row *rn_table_element(rn_element element);
/* The element called `name` in a parent; RN_ELEMENT_COUNT if it holds none. */
rn_element rn_table_child(rn_element parent, const char *name);
bool rn_table_holds(rn_element parent, rn_element child);

/* Rows in the order of the table: next one of an element behind `row` (NULL: the first); NULL at
 * the end. */
const rn_attribute_row *rn_table_next(rn_element element, const rn_attribute_row *row);
const rn_attribute_row *rn_table_attribute(rn_element element, const char *name);
bool rn_table_has_forms(rn_element element);

bool rn_demand_met(rn_demand demand, double value);
const char *rn_demand_text(rn_demand demand); /* "0 or more" */

/* Index of `word` in a list parted by spaces, RN_NONE if it is not there. */
int rn_table_word_index(const char *words, const char *word);
/* Appends the list with ", " between the words. */
void rn_table_spell_words(rn_buffer *out, const char *words);

#endif
