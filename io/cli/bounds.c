/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/bounds.h"

#include <math.h>
#include <string.h>

#include "io/base/words.h"
#include "io/xml/near.h"
#include "io/xml/quantity.h"

typedef struct reading {
	const rn_model *model;
	rn_buffer *why;
	const rn_number *number;
	rn_measure measure;
	double gravity;
} reading;

static bool refuse(const reading *r, const char *text)
{
	rn_buffer_text(r->why, text);
	return false;
}

/* ---- which number ------------------------------------------------------------------------------ */

/* Which numbers an object has, for who named one that it has not. */
static void add_numbers_of(const reading *r, const char *name)
{
	const rn_model *m = r->model;
	const char *dot = strrchr(name, '.'), *before = "; it has ";
	rn_buffer own = rn_buffer_make(&r->why->allocator);
	for (int i = 0; dot && i < m->number_count; i++) {
		own.size = 0;
		bool named = rn_words_number_name(&own, m, i);
		const char *last = named && own.bytes ? strrchr(own.bytes, '.') : NULL;
		bool same = last && last - own.bytes == dot - name && memcmp(own.bytes, name, (size_t)(dot - name)) == 0;
		if (!same)
			continue;
		rn_buffer_format(r->why, "%s%s", before, last + 1);
		before = ", ";
	}
	rn_buffer_release(&own);
}

static void add_nearest(const reading *r, const char *name)
{
	rn_near near = rn_near_begin(name);
	rn_buffer best = rn_buffer_make(&r->why->allocator), own = rn_buffer_make(&r->why->allocator);
	for (int i = 0; i < r->model->number_count; i++) {
		own.size = 0;
		near.best = NULL;
		if (!rn_words_number_name(&own, r->model, i) || !own.bytes)
			continue;
		rn_near_offer(&near, own.bytes);
		if (!near.best)
			continue; /* no nearer than one before */
		best.size = 0;
		rn_buffer_add(&best, own.bytes, own.size);
	}
	if (best.size > 0)
		rn_buffer_format(r->why, "; did you mean %s?", best.bytes);
	else
		add_numbers_of(r, name);
	rn_buffer_release(&best);
	rn_buffer_release(&own);
}

static bool refuse_name(const reading *r, const char *name)
{
	rn_buffer_text(r->why, "the model has no number ");
	rn_words_plain(r->why, name);
	add_nearest(r, name);
	return false;
}

/* ---- its ends ---------------------------------------------------------------------------------- */

static bool is_error(rn_attribute attribute)
{
	return attribute == RN_ATTRIBUTE_LENGTH_ERROR || attribute == RN_ATTRIBUTE_PLACE_ERROR;
}

/* Places and directions begin wherever the drawing does: a share of one says nothing. */
static bool has_no_shares(rn_attribute attribute)
{
	return attribute == RN_ATTRIBUTE_X || attribute == RN_ATTRIBUTE_Y || attribute == RN_ATTRIBUTE_LEAN ||
	       attribute == RN_ATTRIBUTE_TOWARD;
}

static bool is_signed(const char *text)
{
	const char *second = strstr(text, "..");
	second = second ? second + 2 + strspn(second + 2, " ") : "";
	return strchr("+-", *text) || (*second && strchr("+-", *second));
}

static bool ends_in_percent(const char *text)
{
	size_t size = strlen(text);
	while (size > 0 && text[size - 1] == ' ')
		size--;
	return size > 0 && text[size - 1] == '%';
}

static bool shares_fit(const reading *r)
{
	if (has_no_shares(r->number->attribute))
		return refuse(r, "a place or a direction has no per cents: give both ends, or +-5 cm");
	return true;
}

static bool read_shares(const reading *r, const char *text, rn_range *range)
{
	double value = r->number->value;
	if (!shares_fit(r) || !rn_quantity_read_range(text, RN_MEASURE_RATIO, r->gravity, range, r->why))
		return false;
	*range = (rn_range){value * (1 + range->low), value * (1 + range->high)};
	return true;
}

static bool read_either_side(const reading *r, const char *text, rn_range *range)
{
	bool share = ends_in_percent(text) && r->measure != RN_MEASURE_RATIO;
	double value = r->number->value, off;
	if (share && !shares_fit(r))
		return false;
	if (!rn_quantity_read(text, share ? RN_MEASURE_RATIO : r->measure, r->gravity, &off, r->why))
		return false;
	if (!(off > 0))
		return refuse(r, "what stands behind +- is more than 0");
	if (share || ends_in_percent(text))
		off *= value;
	*range = (rn_range){value - off, value + off};
	return true;
}

static bool read_ends(const reading *r, const char *text, rn_range *range)
{
	if (strncmp(text, "+-", 2) == 0)
		return read_either_side(r, text + 2, range);
	if (ends_in_percent(text) && is_signed(text))
		return read_shares(r, text, range);
	if (ends_in_percent(text) && r->measure != RN_MEASURE_RATIO && !has_no_shares(r->number->attribute))
		return refuse(r, "per cents of what the model has are told by a sign: -10..+25 %");
	return rn_quantity_read_range(text, r->measure, r->gravity, range, r->why);
}

static bool ends_fit(const reading *r, const rn_range *range)
{
	if (!(range->low < range->high))
		return refuse(r, "the two ends are the same");
	if (rn_attribute_allows(r->number->attribute, range->low) && rn_attribute_allows(r->number->attribute, range->high))
		return true;
	rn_buffer_format(r->why, "%s cannot go from ", rn_attribute_word(r->number->attribute));
	rn_words_value_range(r->why, r->model, r->number->attribute, range->low, range->high, RN_METRIC);
	return false;
}

static bool read_all(reading *r, const char *name, const char *ends, rn_bounds *out)
{
	rn_range range;
	int number = rn_model_number_by_name(r->model, name);
	if (number == RN_NONE)
		return refuse_name(r, name);
	r->number = &r->model->numbers[number];
	r->measure = (rn_measure)rn_attribute_quantity(r->number->attribute);
	if (is_error(r->number->attribute))
		return refuse(r, "this number says how far another may be off, and is not taken for other than it is");
	if (!read_ends(r, ends, &range) || !ends_fit(r, &range))
		return false;
	*out = (rn_bounds){number, range.low, range.high};
	return true;
}

bool rn_bounds_read(const char *text, const rn_model *model, rn_bounds *bounds_out, rn_buffer *why)
{
	const char *equals = strrchr(text, '=');
	double gravity = rn_words_gravity(model);
	reading r = {.model = model, .why = why, .gravity = gravity > 0 ? gravity : RN_GRAVITY_STANDARD};
	if (!equals)
		return refuse(&r, "a name and its ends are due, such as log.weight=280..400 kg");
	rn_buffer name = rn_buffer_make(&why->allocator);
	size_t size = (size_t)(equals - text);
	while (size > 0 && text[size - 1] == ' ')
		size--;
	rn_buffer_add(&name, text, size);
	bool read = read_all(&r, name.bytes ? name.bytes : "", equals + 1 + strspn(equals + 1, " "), bounds_out);
	rn_buffer_release(&name);
	return read;
}
