/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Texts and properties of the enumerations of funicle.h, each from its one list.
 */
#include "solver/funicle.h"

const char *rn_version_text(void)
{
	return RN_VERSION_TEXT;
}

const char *rn_status_text(rn_status status)
{
	static const char *const texts[] = {
#define X(name, text) text,
		RN_STATUS_LIST(X)
#undef X
	};
	return texts[status];
}

static const struct {
	const char *word;
	rn_quantity quantity;
} attributes[] = {
#define X(name, word, quantity, help) {word, RN_QUANTITY_##quantity},
	RN_ATTRIBUTE_LIST(X)
#undef X
};

const char *rn_attribute_word(rn_attribute attribute)
{
	return attributes[attribute].word;
}

rn_quantity rn_attribute_quantity(rn_attribute attribute)
{
	return attributes[attribute].quantity;
}

static const struct {
	rn_severity severity;
	const char *text;
} notes[] = {
#define X(name, severity, text) {RN_##severity, text},
	RN_NOTE_LIST(X)
#undef X
};

const char *rn_note_text(rn_note_kind kind)
{
	return notes[kind].text;
}

rn_severity rn_note_severity(rn_note_kind kind)
{
	return notes[kind].severity;
}

const char *rn_factor_text(rn_factor_kind kind)
{
	static const char *const texts[] = {
#define X(name, text) text,
		RN_FACTOR_LIST(X)
#undef X
	};
	return texts[kind];
}

const char *rn_hitch_text(rn_hitch hitch)
{
	static const char *const texts[] = {
#define X(name, text) text,
		RN_HITCH_LIST(X)
#undef X
	};
	return texts[hitch];
}

const char *rn_outcome_text(rn_outcome outcome)
{
	static const char *const texts[] = {
#define X(name, text) text,
		RN_OUTCOME_LIST(X)
#undef X
	};
	return texts[outcome];
}
