/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/lettering.h"

#include "io/base/words.h"

rn_lettering rn_lettering_of(rn_hand_of_text hand)
{
	static const rn_lettering table[] = {
		[RN_TEXT_TITLE] = {5.2, true, "#000000"},
		[RN_TEXT_STRONG] = {3.4, true, "#000000"},
		[RN_TEXT_PLAIN] = {3.4, false, "#000000"},
		[RN_TEXT_SMALL] = {2.8, false, "#000000"},
		[RN_TEXT_SMALL_STRONG] = {2.8, true, "#000000"},
		[RN_TEXT_LETTER] = {4.4, true, "#000000"},
		[RN_TEXT_ALERT] = {3.4, true, "#A34700"}, /* vermillion, dark enough to read */
	};
	return table[hand];
}

/* Advance widths of DejaVu Sans and DejaVu Sans Bold, blank to tilde [1/1000 of the size]. */
static const short advance[2][95] = {
	{
		318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
		636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
		1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
		603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
		500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
		635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
	},
	{
		348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365,
		696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580,
		1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995, 837, 850,
		733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500,
		500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687,
		716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
	},
};

/* Anything beyond: as wide as the widest letters of its kind, so that a box is never too small. */
static double advance_of(uint32_t code, bool bold)
{
	const double european = 0.85, square = 1.05;
	if (code >= 32 && code < 127)
		return advance[bold][code - 32] / 1000.0;
	return code < 0x1100 ? european : square;
}

double rn_lettering_width(const char *text, rn_hand_of_text hand)
{
	rn_lettering lettering = rn_lettering_of(hand);
	double width = 0;
	while (*text) {
		uint32_t code;
		text += rn_words_character(text, &code);
		width += advance_of(code, lettering.bold);
	}
	return width * lettering.size;
}

size_t rn_lettering_fit(const char *text, rn_hand_of_text hand, double width)
{
	rn_lettering lettering = rn_lettering_of(hand);
	size_t size = 0;
	double used = 0;
	while (text[size]) {
		uint32_t code;
		size_t step = rn_words_character(text + size, &code);
		used += advance_of(code, lettering.bold) * lettering.size;
		if (used > width)
			break;
		size += step;
	}
	return size;
}

void rn_lettering_cut(rn_buffer *buffer, const char *text, rn_hand_of_text hand, double width)
{
	size_t fits = rn_lettering_fit(text, hand, width);
	if (text[fits] != '\0')
		fits = rn_lettering_fit(text, hand, width - rn_lettering_width("...", hand));
	rn_buffer_add(buffer, text, fits);
	rn_buffer_text(buffer, text[fits] ? "..." : "");
}

double rn_lettering_rise(rn_hand_of_text hand)
{
	return 0.77 * rn_lettering_of(hand).size; /* of "d" and "("; capitals rise 0.73 */
}

double rn_lettering_drop(rn_hand_of_text hand)
{
	return 0.24 * rn_lettering_of(hand).size; /* of "g" and "," */
}
