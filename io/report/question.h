/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A published or independently found number as a row of text, asked of an answer:
 *
 *     row | quantity | expected | tolerance | source
 *
 *     quantity  = term [ / term | - term ] [ in CASE ]       the first case if none is named
 *     term      = tension MEMBER SPAN        of a line, or of a leg of a sling; counted from 0
 *               | length MEMBER SPAN         between the tangent points
 *               | direction MEMBER SPAN      of travel
 *               | path LINE                  all spans and arcs of a line
 *               | bend LINE PASS             counted from 0
 *               | force LINE PASS            of the rope on the node
 *               | force-direction LINE PASS
 *               | pull NODE                  of the rigging on a fixed node
 *               | pull-x NODE | pull-y NODE | pull-direction NODE
 *               | load NODE                  weight and outer forces on a free node
 *               | x NODE | y NODE
 *               | hand LINE least | most     pull that just holds the line
 *               | push NODE NODE             of two treads that press on each other
 *               | potential                  of the stretched ropes and of all loads
 *               | limit PART [NODE]          of a part, at one node where it is a part at several
 *               | share PART [NODE]          its utilisation
 *               | checked PART [NODE]        1 when it is held against a limit, 0 when not
 *               | peak | travel | clear | run-out    of a piece that is caught
 *     expected  = number [unit]              SI if no unit is given; angles are compared round the
 *                                            circle
 *     tolerance = rel number                 of the expected value
 *               | abs number                 in the unit of the expected value
 */
#ifndef RN_IO_REPORT_QUESTION_H
#define RN_IO_REPORT_QUESTION_H

#include "io/base/buffer.h"

enum { RN_QUESTION_FIELDS = 5, RN_QUESTION_FIELD_SIZE = 240 };

typedef struct rn_question {
	char row[RN_QUESTION_FIELD_SIZE], quantity[RN_QUESTION_FIELD_SIZE], expected[RN_QUESTION_FIELD_SIZE],
		tolerance[RN_QUESTION_FIELD_SIZE], source[RN_QUESTION_FIELD_SIZE];
} rn_question;

/* Takes the next row of `*text`, which moves on behind it; false: there is none. Lines that begin with # and rows that
 * have another number of fields are passed over. */
bool rn_question_next(const char **text, rn_question *question_out);

typedef struct rn_reply {
	double expected, actual; /* in `unit` */
	double off, room;        /* actual less expected, and how much of that is allowed [`unit`] */
	char unit[8];
	bool agrees;
} rn_reply;

/* False: it cannot be asked of this answer; `why` says what is wrong with it. */
bool rn_question_ask(const rn_result *result, const rn_question *question, rn_reply *reply_out, rn_buffer *why);

#endif
