/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/model/ties.h"

#include <stddef.h>
#include <strings.h>

#include "solver/base/notes.h"
#include "solver/data/knots.h"
#include "solver/model/memory.h"

/* ---- words --------------------------------------------------------------------------------- */

rn_hitch rn_hitch_of(const rn_sling *sling)
{
	static const struct {
		const char *word;
		rn_hitch hitch;
	} words[] = {
		{"straight", RN_HITCH_STRAIGHT}, {"vertical", RN_HITCH_STRAIGHT}, {"choke", RN_HITCH_CHOKE},
		{"choked", RN_HITCH_CHOKE},      {"choker", RN_HITCH_CHOKE},      {"basket", RN_HITCH_BASKET},
	};
	if (!sling->hitch)
		return RN_HITCH_UNSAID;
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (strcasecmp(sling->hitch, words[i].word) == 0)
			return words[i].hitch;
	return RN_HITCH_KNOT;
}

static bool is_on_stem(const rn_model *m, int node)
{
	return rn_node_is_fixed(&m->nodes[node]) && m->nodes[node].stem != RN_NONE;
}

int rn_hitch_node(const rn_model *m, int leg)
{
	const rn_leg *l = &m->legs[leg];
	return is_on_stem(m, l->from) ? l->from : is_on_stem(m, l->to) ? l->to : RN_NONE;
}

int rn_hitch_far(const rn_model *m, int leg)
{
	const rn_leg *l = &m->legs[leg];
	return rn_hitch_node(m, leg) == l->to ? l->from : l->to;
}

bool rn_hitch_both(const rn_model *m, int leg)
{
	int far = rn_hitch_far(m, leg);
	const rn_node *node = &m->nodes[far];
	bool bare = node->gear == RN_NONE && node->connector == RN_NONE && m->legs[leg].connector == RN_NONE &&
	            m->slings[m->legs[leg].sling].connector == RN_NONE;
	return rn_hitch_node(m, leg) != RN_NONE && bare && is_on_stem(m, far);
}

/* ---- what is taken where nothing is said ----------------------------------------------------- */

static rn_status say(rn_model *m, rn_note_kind kind, rn_object a, const char *word)
{
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	rn_note note = {.kind = kind, .a = a, .b = none, .c = none, .word = word};
	return rn_notes_add(&m->memory->arena, &m->guesses, note);
}

static bool has(const rn_model *m, int item, rn_attribute attribute)
{
	return rn_model_has(m, rn_object_of(RN_ITEM, item), attribute);
}

/* Only gear with a rating has something to lose. */
static bool is_rated(const rn_model *m, int item)
{
	return item != RN_NONE && (has(m, item, RN_ATTRIBUTE_STRENGTH) || has(m, item, RN_ATTRIBUTE_WORKING_LOAD));
}

static rn_status guess_knot(rn_model *m, rn_object where, int item, const char *knot)
{
	if (has(m, item, RN_ATTRIBUTE_KNOT_FACTOR))
		return RN_OK;
	if (!knot)
		return say(m, RN_NOTE_GUESS_KNOT, where, NULL);
	return rn_knot_find(knot) ? RN_OK : say(m, RN_NOTE_GUESS_KNOT_UNLISTED, where, knot);
}

static rn_status guess_line(rn_model *m, const rn_line *line)
{
	for (int i = 0; i < line->station_count; i++) {
		const rn_station *s = &m->stations[line->first_station + i];
		if (s->kind == RN_TIE || s->kind == RN_GRIP)
			RN_TRY(guess_knot(m, rn_object_of(RN_STATION, line->first_station + i), line->gear, s->knot));
	}
	return RN_OK;
}

static bool is_of_unknown_make(const rn_model *m, int item)
{
	const rn_item *it = &m->items[item];
	return it->kind != RN_ITEM_ROPE && it->body == RN_BODY_UNKNOWN && it->fibre != RN_FIBRE_WIRE &&
	       !has(m, item, RN_ATTRIBUTE_CHOKE_FACTOR);
}

static rn_status guess_sling(rn_model *m, int index)
{
	const rn_sling *sling = &m->slings[index];
	rn_object object = rn_object_of(RN_SLING, index);
	rn_hitch hitch = rn_hitch_of(sling);
	bool round_stem = rn_hitch_node(m, sling->first_leg) != RN_NONE;
	if (hitch == RN_HITCH_UNSAID && !round_stem)
		RN_TRY(say(m, RN_NOTE_GUESS_HITCH, object, NULL));
	if (hitch == RN_HITCH_KNOT)
		RN_TRY(guess_knot(m, object, sling->gear, sling->hitch));
	if (hitch == RN_HITCH_CHOKE && is_of_unknown_make(m, sling->gear))
		RN_TRY(say(m, RN_NOTE_GUESS_BODY, object, NULL));
	if (m->items[sling->gear].kind == RN_ITEM_ROPE)
		RN_TRY(guess_knot(m, object, sling->gear, sling->knot));
	return RN_OK;
}

rn_status rn_model_guess_ties(rn_model *m)
{
	for (int i = 0; i < m->line_count; i++)
		if (is_rated(m, m->lines[i].gear))
			RN_TRY(guess_line(m, &m->lines[i]));
	for (int i = 0; i < m->sling_count; i++)
		if (is_rated(m, m->slings[i].gear) && m->slings[i].leg_count > 0)
			RN_TRY(guess_sling(m, i));
	return RN_OK;
}
