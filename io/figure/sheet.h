/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The sheet of paper round a drawing, A4 or letter, lying or standing, whichever shows the rigging larger.
 *
 *     +--------------------------------------+      +---------------------+
 *     | head: title, case, verdict           |      | head                |
 *     +---------------------------+----------+      +---------------------+
 *     | area: the drawing         | panel:   |      | area                |
 *     |                           | parts,   |      |                     |
 *     |                           | key      |      +----------+----------+
 *     +---------------------------+----------+      | parts    | key      |
 *     | foot: scales, cautions, model        |      +----------+----------+
 *     +--------------------------------------+      | foot                |
 *                                                   +---------------------+
 */
#ifndef RN_IO_FIGURE_SHEET_H
#define RN_IO_FIGURE_SHEET_H

#include "io/figure/drawing.h"
#include "io/report/folio.h"

enum { RN_SHEET_LINES = 14 };

/* A text broken into lines that fit. */
typedef struct rn_sheet_text {
	const char *lines[RN_SHEET_LINES];
	int count;
} rn_sheet_text;

/* Rectangles on paper: left, top, right, bottom [mm]. */
typedef struct rn_sheet {
	double head[4], area[4], parts[4], key[4], foot[4];
	double long_side, short_side; /* of the paper [mm] */
	bool standing;
	rn_sheet_text verdict, cautions;
	const char *title, *case_line, *source;
} rn_sheet;

/* Lays the sheet out and gives the scene its size, scale and origin. `file` and `sha256` may be
 * NULL. */
void rn_sheet_lay_out(rn_sheet *sheet, rn_drawing *drawing, const char *file, const char *sha256, rn_paper paper);

/* Everything on the sheet but the drawing; after it, for only then is it known what needs a key. */
void rn_sheet_add(const rn_sheet *sheet, rn_drawing *drawing);

#endif
