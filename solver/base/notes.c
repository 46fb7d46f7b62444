/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/base/notes.h"

#include <string.h>

static bool same_object(rn_object a, rn_object b)
{
	return a.kind == b.kind && a.index == b.index;
}

static bool same_note(const rn_note *a, const rn_note *b)
{
	return a->kind == b->kind && same_object(a->a, b->a) && same_object(a->b, b->b) &&
	       same_object(a->c, b->c) && a->attribute == b->attribute;
}

rn_status rn_notes_append(rn_arena *arena, rn_notes *notes, rn_note note)
{
	/* full exactly at powers of two from 8 on: no capacity field in a public struct */
	int count = notes->count;
	if (count == 0 || (count >= 8 && (count & (count - 1)) == 0)) {
		rn_note *larger;
		RN_TAKE(arena, larger, count ? 2 * count : 8);
		if (count)
			memcpy(larger, notes->items, (size_t)count * sizeof *larger);
		notes->items = larger;
	}
	notes->items[notes->count++] = note;
	return RN_OK;
}

rn_status rn_notes_add(rn_arena *arena, rn_notes *notes, rn_note note)
{
	for (int i = 0; i < notes->count; i++)
		if (same_note(&notes->items[i], &note))
			return RN_OK;
	return rn_notes_append(arena, notes, note);
}
