/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A growing list of notes in an arena.
 */
#ifndef RN_BASE_NOTES_H
#define RN_BASE_NOTES_H

#include "solver/base/arena.h"

/* Appends a copy. The same note twice is kept once. Errors: MEMORY. */
rn_status rn_notes_add(rn_arena *arena, rn_notes *notes, rn_note note) RN_MUST_CHECK;
/* The same for one that nobody can have added before: the list is not looked through. */
rn_status rn_notes_append(rn_arena *arena, rn_notes *notes, rn_note note) RN_MUST_CHECK;

#endif
