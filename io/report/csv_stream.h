/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The CSV form of a stream: one long table, a row for every value,
 *
 *     case, kind, id, index, quantity, unit, value, checked
 *
 * by RFC 4180, except that lines end in a line feed alone. The kind is that of the list a value
 * stands in ("span", "part"); the first text of a thing in a list is its id; the index is its own,
 * or its place in the list. A key "tension_N" is the quantity "tension" in N; a number without a
 * unit has the unit 1. `checked` says of a part whether it has a limit. A text that a spreadsheet
 * would take for a formula begins with an apostrophe.
 */
#ifndef RN_IO_REPORT_CSV_STREAM_H
#define RN_IO_REPORT_CSV_STREAM_H

#include "io/report/stream.h"

enum { RN_CSV_DEPTH_MOST = 10 };

/* One object or list that is open. */
typedef struct rn_csv_level {
	const char *kind, *checked;
	bool is_list;
	int count;      /* things in a list so far */
	int index;      /* of an object; RN_NONE = not in a list */
	rn_buffer rows; /* of an object: "quantity,unit,value" lines that wait for its index */
} rn_csv_level;

typedef struct rn_csv_stream {
	rn_stream stream;
	rn_csv_level levels[RN_CSV_DEPTH_MOST];
	int depth;
	rn_buffer case_id, id;
	int case_depth, id_depth; /* of the objects these belong to; 0 = none */
} rn_csv_stream;

/* Writes the row of heads. The stream is released by closing all that was opened. */
rn_csv_stream rn_csv_stream_make(rn_buffer *buffer);

#endif
