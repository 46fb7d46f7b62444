/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How wide a text will be, so that labels can be placed before anything is drawn. Widths are those
 * of DejaVu Sans, the first font every figure asks for.
 */
#ifndef RN_IO_FIGURE_LETTERING_H
#define RN_IO_FIGURE_LETTERING_H

#include <stdbool.h>
#include <stddef.h>

#include "io/base/buffer.h"

/* How a text is written. */
typedef enum rn_hand_of_text {
	RN_TEXT_TITLE,
	RN_TEXT_STRONG, /* names, verdict */
	RN_TEXT_PLAIN,  /* values */
	RN_TEXT_SMALL,
	RN_TEXT_SMALL_STRONG,
	RN_TEXT_LETTER, /* the letter of the closest part */
	RN_TEXT_ALERT   /* over a limit */
} rn_hand_of_text;

typedef struct rn_lettering {
	double size; /* of the font [mm] */
	bool bold;
	const char *colour;
} rn_lettering;

rn_lettering rn_lettering_of(rn_hand_of_text hand);

/* Width of a text [mm]. */
double rn_lettering_width(const char *text, rn_hand_of_text hand);
/* How many bytes of a text fit in `width` [mm]; never part of a character. */
size_t rn_lettering_fit(const char *text, rn_hand_of_text hand, double width);
/* What fits of a text, and "..." where that is not all of it. */
void rn_lettering_cut(rn_buffer *buffer, const char *text, rn_hand_of_text hand, double width);
/* Above and below the base line [mm]: the room a line of text needs. */
double rn_lettering_rise(rn_hand_of_text hand);
double rn_lettering_drop(rn_hand_of_text hand);

#endif
