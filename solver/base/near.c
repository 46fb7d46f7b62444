/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How far a word is from another one: the core of every "did you mean".
 */
#include <limits.h>
#include <stdbool.h>
#include <stddef.h>

#include "solver/funicle.h"

/* Longer words are not guessed at: nobody misspells that much by accident. */
enum { WORD_MOST = 48, SHORTENED_MOST = 5 };

static char small(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static int least(int a, int b)
{
	return a < b ? a : b;
}

/* Slips between a and b: letters put in, left out, changed, or two neighbours swapped, in the
 * restricted form (no letter slips twice). Capitals do not count. Both at most WORD_MOST long. */
static int slips(const char *a, size_t a_size, const char *b, size_t b_size)
{
	int row[3]
	       [WORD_MOST + 1]; /* row[i % 3][j]: between the first i of a and the first j of b */
	for (size_t j = 0; j <= b_size; j++)
		row[0][j] = (int)j;
	for (size_t i = 1; i <= a_size; i++) {
		int *now = row[i % 3], *before = row[(i + 2) % 3], *twice = row[(i + 1) % 3];
		now[0] = (int)i;
		for (size_t j = 1; j <= b_size; j++) {
			bool same = small(a[i - 1]) == small(b[j - 1]);
			now[j] = least(before[j - 1] + !same, least(before[j], now[j - 1]) + 1);
			if (i > 1 && j > 1 && small(a[i - 1]) == small(b[j - 2]) &&
			    small(a[i - 2]) == small(b[j - 1]))
				now[j] = least(now[j], twice[j - 2] + 1);
		}
	}
	return row[a_size % 3][b_size];
}

/* Letters left out of `full`, when `brief` is what remains and both begin and end alike. */
static int shortened(const char *brief, size_t brief_size, const char *full, size_t full_size)
{
	if (brief_size < 2 || brief_size >= full_size || small(brief[0]) != small(full[0]) ||
	    small(brief[brief_size - 1]) != small(full[full_size - 1]))
		return RN_FAR;
	size_t kept = 0;
	for (size_t i = 0; i < full_size && kept < brief_size; i++)
		kept += small(full[i]) == small(brief[kept]);
	size_t gone = full_size - brief_size;
	return kept == brief_size && gone <= SHORTENED_MOST ? (int)gone : RN_FAR;
}

int rn_word_distance(const char *word, size_t word_size, const char *other, size_t other_size)
{
	if (word_size == 0 || word_size > WORD_MOST || other_size == 0 || other_size > WORD_MOST)
		return RN_FAR;
	int distance = slips(word, word_size, other, other_size);
	int most = (int)((word_size > other_size ? word_size : other_size) + 1) / 3;
	if (distance <= most)
		return distance;
	return least(shortened(word, word_size, other, other_size),
	             shortened(other, other_size, word, word_size));
}
