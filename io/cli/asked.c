/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/asked.h"

#include <string.h>

#include "io/base/words.h"
#include "io/xml/quantity.h"

static rn_status refuse(const rn_asked *asked, const char *text)
{
	rn_buffer_text(asked->message, text);
	return RN_STATUS_ARGUMENT;
}

/* ---- which piece ------------------------------------------------------------------------------- */

static bool is_end_of_bar(const rn_model *m, int node)
{
	for (int i = 0; i < m->prop_count; i++)
		if (m->props[i].from == node || m->props[i].to == node)
			return true;
	return false;
}

/* The n-th piece, from 0; a long one as a whole. */
static rn_object piece_of(const rn_model *m, int n)
{
	for (int i = 0; i < m->node_count; i++)
		if (m->nodes[i].kind == RN_NODE_PIECE && !is_end_of_bar(m, i) && n-- == 0)
			return rn_object_of(RN_NODE, i);
	for (int i = 0; i < m->prop_count; i++)
		if (m->props[i].is_piece && n-- == 0)
			return rn_object_of(RN_PROP, i);
	return rn_object_of(RN_NODE, RN_NONE);
}

static rn_status find_piece(const rn_asked *asked, const rn_model *m, rn_object *piece_out)
{
	int count = 0;
	*piece_out = rn_object_of(RN_NODE, RN_NONE);
	for (; piece_of(m, count).index != RN_NONE; count++)
		if (asked->piece && strcmp(rn_object_id(m, piece_of(m, count)), asked->piece) == 0)
			*piece_out = piece_of(m, count);
	if (piece_out->index != RN_NONE)
		return RN_OK;
	if (count == 1 && !asked->piece) {
		*piece_out = piece_of(m, 0);
		return RN_OK;
	}
	if (count == 0)
		return refuse(asked, "there is no piece in the model that could fall");
	rn_buffer_text(asked->message, asked->piece ? "no piece is called that" : "say which piece falls (--piece ID)");
	for (int i = 0; i < count; i++)
		rn_buffer_format(asked->message, "%s%s", i ? ", " : "; there is ", rn_object_id(m, piece_of(m, i)));
	return RN_STATUS_ARGUMENT;
}

/* ---- numbers ----------------------------------------------------------------------------------- */

static rn_status set(rn_model *m, rn_object object, rn_attribute attribute, double value, rn_origin origin)
{
	rn_number number = {.value = value, .low = value, .high = value, .object = object, .attribute = attribute,
	                    .origin = origin};
	return rn_model_set_number(m, &number);
}

static rn_status set_read(const rn_asked *asked, rn_model *m, int fall, const char *option, const char *text,
                          rn_attribute attribute)
{
	double value;
	rn_measure measure = (rn_measure)rn_attribute_quantity(attribute);
	double gravity = rn_words_gravity(m);
	if (!text)
		return RN_OK;
	rn_buffer_format(asked->message, "%s: ", option);
	if (!rn_quantity_read(text, measure, gravity > 0 ? gravity : RN_GRAVITY_STANDARD, &value, asked->message))
		return RN_STATUS_ARGUMENT;
	if (value < 0 || (attribute == RN_ATTRIBUTE_HAND && value == 0))
		return refuse(asked, attribute == RN_ATTRIBUTE_HAND ? "it must be more than 0" : "it must be 0 or more");
	asked->message->size = 0;
	return set(m, rn_object_of(RN_FALL, fall), attribute, value, RN_GIVEN);
}

static bool lets_run(const rn_model *m, int fall)
{
	return rn_model_has(m, rn_object_of(RN_FALL, fall), RN_ATTRIBUTE_HAND);
}

/* A line that is locked in one case and let run by a hand in another stays locked. */
static bool any_lets_run(const rn_model *m)
{
	for (int i = 0; i < m->fall_count; i++)
		if (lets_run(m, i))
			return true;
	return false;
}

static rn_status set_numbers(const rn_asked *asked, rn_model *m, int fall)
{
	RN_TRY(set_read(asked, m, fall, "--drop", asked->drop, RN_ATTRIBUTE_DROP));
	RN_TRY(set_read(asked, m, fall, "--below", asked->below, RN_ATTRIBUTE_BELOW));
	if (lets_run(m, fall) || !any_lets_run(m))
		RN_TRY(set_read(asked, m, fall, "--hand", asked->hand, RN_ATTRIBUTE_HAND));
	if (!asked->studied)
		return RN_OK;
	if (!rn_model_has(m, rn_object_of(RN_FALL, fall), RN_ATTRIBUTE_DROP))
		RN_TRY(set(m, rn_object_of(RN_FALL, fall), RN_ATTRIBUTE_DROP, 0, RN_DEFAULT));
	for (int i = 0; i < m->station_count; i++)
		if (m->stations[i].kind != RN_THROUGH && !rn_model_has(m, rn_object_of(RN_STATION, i), RN_ATTRIBUTE_FURTHER))
			RN_TRY(set(m, rn_object_of(RN_STATION, i), RN_ATTRIBUTE_FURTHER, 0, RN_DEFAULT));
	return RN_OK;
}

/* ---- cases ------------------------------------------------------------------------------------- */

static rn_status make_case(rn_model *m, rn_object piece, const char *id, rn_level level)
{
	if (rn_model_object_by_id(m, id).index != RN_NONE)
		return RN_OK;
	rn_case made = {.id = id, .made = true, .level = level};
	int index;
	RN_TRY(rn_model_add_case(m, &made, &index));
	rn_fall fall = {.case_index = index, .piece = piece, .line = RN_NONE};
	return rn_model_add_fall(m, &fall, NULL);
}

/* A piece asked for is the one that falls, in every case in which one does. */
static rn_status check_piece(const rn_asked *asked, const rn_model *m)
{
	rn_object piece;
	if (!asked->piece || !asked->falls)
		return RN_OK;
	RN_TRY(find_piece(asked, m, &piece));
	for (int i = 0; i < m->fall_count; i++)
		if (m->falls[i].piece.kind != piece.kind || m->falls[i].piece.index != piece.index)
			return refuse(asked, "--piece: in the cases of the model another piece falls; take its falls out, or write "
			                     "one for this piece");
	return RN_OK;
}

rn_status rn_asked_prepare(void *context, rn_model *m)
{
	const rn_asked *asked = context;
	if (m->fall_count == 0 && asked->falls) {
		rn_object piece;
		RN_TRY(find_piece(asked, m, &piece));
		RN_TRY(make_case(m, piece, "caught-low", RN_FRICTION_LOW));
		RN_TRY(make_case(m, piece, "caught-high", RN_FRICTION_HIGH));
	} else {
		RN_TRY(check_piece(asked, m));
	}
	for (int i = 0; i < m->fall_count; i++)
		RN_TRY(set_numbers(asked, m, i));
	return RN_OK;
}
