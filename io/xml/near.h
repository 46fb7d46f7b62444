/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The known word that was most likely meant: fewest slips of the keyboard (a letter wrong, missing,
 * doubled, or two swapped), or the same word shortened, "r1" for "ring1".
 */
#ifndef RN_IO_XML_NEAR_H
#define RN_IO_XML_NEAR_H

typedef struct rn_near {
	const char *word; /* as found */
	const char *best; /* nearest so far; NULL while nothing is near enough */
	int best_distance;
} rn_near;

rn_near rn_near_begin(const char *word);
void rn_near_offer(rn_near *near, const char *candidate);
/* Offers every word of a list parted by spaces; `best` then points into the list, and ends at a
 * space or the NUL: rn_near_size tells where. */
void rn_near_offer_list(rn_near *near, const char *list);
int rn_near_size(const rn_near *near);

#endif
