/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The verdict in words.
 */
#include "io/report/verdict.h"

#include <math.h>
#include <string.h>

enum { OVER_NAMED_MOST = 3 };

bool rn_verdict_has_answer(const rn_case_result *answer)
{
	return answer->outcome == RN_OUTCOME_SETTLED || answer->outcome == RN_OUTCOME_KEPT;
}

bool rn_verdict_is_over(const rn_part_result *part)
{
	return part->unchecked == RN_CHECKED && part->utilisation > 1;
}

static const char *case_id(const rn_result *result, int index)
{
	return rn_object_id(result->model, rn_object_of(RN_CASE, result->cases[index].case_index));
}

static int part_count(const rn_result *result)
{
	int most = 0;
	for (int c = 0; c < result->case_count; c++)
		most = result->cases[c].part_count > most ? result->cases[c].part_count : most;
	return most;
}

/* NULL in a case that did not settle: what its parts hold is no answer. */
static const rn_part_result *part_at(const rn_result *result, int c, int part)
{
	const rn_case_result *answer = &result->cases[c];
	bool told = rn_verdict_has_answer(answer) && part < answer->part_count;
	return told ? &answer->parts[part] : NULL;
}

static double loaded_above(const rn_result *result)
{
	double most = 0;
	for (int c = 0; c < result->case_count; c++)
		for (int i = 0; i < part_count(result); i++)
			if (part_at(result, c, i) && part_at(result, c, i)->demand > most)
				most = part_at(result, c, i)->demand;
	return rn_loaded_least * most;
}

const rn_part_result *rn_verdict_worst(const rn_result *result)
{
	const rn_verdict *v = &result->verdict;
	bool found = v->worst_case != RN_NONE && v->worst_part != RN_NONE;
	return found ? part_at(result, v->worst_case, v->worst_part) : NULL;
}

/* ---- what is over ---------------------------------------------------------------------------- */

/* The case in which a part is furthest over its limit, RN_NONE when it is not over. */
static int worst_case_of(const rn_result *result, int part)
{
	int worst = RN_NONE;
	double most = 0;
	for (int c = 0; c < result->case_count; c++) {
		const rn_part_result *p = part_at(result, c, part);
		if (!p || !rn_verdict_is_over(p) || (worst != RN_NONE && p->utilisation <= most))
			continue;
		worst = c;
		most = p->utilisation;
	}
	return worst;
}

/* How far over its limit a part is in its worst case, 0 when it is not over. */
static double over_share(const rn_result *result, int part)
{
	double most = 0;
	for (int c = 0; c < result->case_count; c++) {
		const rn_part_result *p = part_at(result, c, part);
		if (p && rn_verdict_is_over(p) && p->utilisation > most)
			most = p->utilisation;
	}
	return most;
}

/* Next part over its limit after `last` (RN_NONE = the first), from the worst down; those of one share as they stand. */
static int next_over(const rn_result *result, int last)
{
	int next = RN_NONE;
	double above = last == RN_NONE ? HUGE_VAL : over_share(result, last), most = 0;
	for (int part = 0; part < part_count(result); part++) {
		double share = over_share(result, part);
		bool named = share > above || (share >= above && part <= last);
		if (named || !(share > most))
			continue;
		next = part;
		most = share;
	}
	return next;
}

static void add_case(rn_buffer *buffer, const rn_result *result, int c)
{
	rn_buffer_text(buffer, " in ");
	rn_words_plain(buffer, case_id(result, c));
}

/* "sling s1 163 %, rope bull 145 % in raising; ring r1 104 % in lowering" */
static void over_sentence(rn_buffer *buffer, const rn_result *result)
{
	rn_buffer_text(buffer, "OVER ITS LIMIT: ");
	int named = 0, more = 0, before = RN_NONE;
	for (int part = next_over(result, RN_NONE); part != RN_NONE;
	     part = next_over(result, part)) {
		if (named == OVER_NAMED_MOST) {
			more++;
			continue;
		}
		int c = worst_case_of(result, part);
		if (named > 0 && c != before)
			add_case(buffer, result, before);
		rn_buffer_text(buffer, named == 0 ? "" : c == before ? ", " : "; ");
		rn_words_part(buffer, result->model, part_at(result, c, part)->object);
		rn_buffer_char(buffer, ' ');
		rn_words_percent(buffer, part_at(result, c, part)->utilisation);
		before = c;
		named++;
	}
	if (before != RN_NONE)
		add_case(buffer, result, before);
	if (more > 0)
		rn_buffer_format(buffer, "; and %d more", more);
}

/* ---- what happens instead of an answer ------------------------------------------------------- */

/* What a case has to say about why there is no verdict for it. */
static void outcome_words(rn_buffer *buffer, const rn_result *result, const rn_case_result *c,
                          rn_units units)
{
	bool said = false;
	for (int i = 0; i < c->notes.count; i++) {
		const rn_note *note = &c->notes.items[i];
		bool tells = rn_note_severity(note->kind) == RN_OUTCOME ||
		             (c->falls && note->kind == RN_NOTE_FALLS_FIRST) ||
		             note->kind == RN_NOTE_NO_WEIGHT;
		if (!tells)
			continue;
		rn_buffer_text(buffer, said ? ", " : "");
		rn_words_note(buffer, result->model, note, units);
		said = true;
	}
	if (said)
		return;
	if (c->outcome == RN_OUTCOME_NO_EQUILIBRIUM)
		rn_buffer_text(buffer, "nothing holds it");
	else if (c->outcome == RN_OUTCOME_NOT_FOUND)
		rn_buffer_text(buffer, "no equilibrium was found");
	else if (c->falls)
		rn_buffer_text(buffer, "a piece falls before its line holds: use funicle fall");
	else
		rn_buffer_text(buffer, "the pulls do not cancel: these numbers do not count");
}

static bool lacks_verdict(const rn_case_result *c)
{
	return !rn_verdict_has_answer(c) || c->falls || c->unweighed || !c->balance.closed;
}

static bool same_words(const rn_buffer *a, const rn_buffer *b)
{
	return a->size == b->size && (a->size == 0 || memcmp(a->bytes, b->bytes, a->size) == 0);
}

/* The words of case c, unless an earlier case said the same; then the ids of all that say them. */
static bool add_outcome(rn_buffer *buffer, const rn_result *result, int c, const char *before,
                        rn_units units)
{
	rn_buffer own = rn_buffer_make(&buffer->allocator);
	rn_buffer other = rn_buffer_make(&buffer->allocator);
	outcome_words(&own, result, &result->cases[c], units);
	bool repeated = false;
	size_t start = buffer->size;
	rn_buffer_text(buffer, before);
	rn_buffer_add(buffer, own.bytes, own.size);
	rn_buffer_text(buffer, " (");
	rn_words_plain(buffer, case_id(result, c));
	for (int i = 0; i < result->case_count; i++) {
		if (i == c || !lacks_verdict(&result->cases[i]))
			continue;
		rn_buffer_release(&other);
		outcome_words(&other, result, &result->cases[i], units);
		if (!same_words(&own, &other))
			continue;
		repeated = repeated || i < c;
		rn_buffer_text(buffer, ", ");
		rn_words_plain(buffer, case_id(result, i));
	}
	rn_buffer_char(buffer, ')');
	if (repeated && buffer->bytes) {
		buffer->size = start;
		buffer->bytes[start] = '\0';
	}
	buffer->failed = buffer->failed || own.failed || other.failed;
	rn_buffer_release(&own);
	rn_buffer_release(&other);
	return !repeated;
}

static bool outcomes_sentence(rn_buffer *buffer, const rn_result *result, const char *before,
                              rn_units units)
{
	bool any = false;
	for (int c = 0; c < result->case_count; c++)
		if (lacks_verdict(&result->cases[c]))
			any = add_outcome(buffer, result, c, any ? "; " : before, units) || any;
	return any;
}

/* ---- what is not checked --------------------------------------------------------------------- */

const char *rn_verdict_why(const rn_model *model, const rn_part_result *part)
{
	bool anchor = part->object.kind == RN_NODE && part->object.index != RN_NONE &&
	              rn_node_is_fixed(&model->nodes[part->object.index]);
	/* nobody names gear for a tree; what it lacks is a rating */
	bool bare = anchor && part->unchecked == RN_NO_GEAR;
	return rn_words_unchecked(bare ? RN_NO_RATING : part->unchecked);
}

/* The part in the first case in which it is not checked; NULL when it always is. */
static const rn_part_result *first_unchecked(const rn_result *result, int part, double above)
{
	for (int c = 0; c < result->case_count; c++) {
		const rn_part_result *p = part_at(result, c, part);
		if (p && p->unchecked != RN_CHECKED && p->demand > above)
			return p;
	}
	return NULL;
}

/* Parts for one reason: "anchor top and anchor oak (no rating)". */
static bool reason_words(rn_buffer *buffer, const rn_result *result, const char *reason,
                         double above, const char *before)
{
	int count = 0, named = 0;
	for (int pass = 0; pass < 2; pass++)
		for (int part = 0; part < part_count(result); part++) {
			const rn_part_result *p = first_unchecked(result, part, above);
			if (!p || strcmp(rn_verdict_why(result->model, p), reason) != 0)
				continue;
			if (pass == 0) {
				count++;
				continue;
			}
			rn_buffer_text(buffer, named == 0           ? before
			                       : named == count - 1 ? " and "
			                                            : ", ");
			rn_words_part(buffer, result->model, p->object);
			named++;
		}
	if (count > 0)
		rn_buffer_format(buffer, " (%s)", reason);
	return count > 0;
}

static bool unchecked_words(rn_buffer *buffer, const rn_result *result, double above,
                            const char *before)
{
	static const rn_unchecked reasons[] = {
		RN_NO_DESIGN_FACTOR, RN_HITCH_NOT_SAID, RN_TOO_SHORT,      RN_BEND_UNKNOWN, RN_WEAR_UNKNOWN,
		RN_STRETCH_UNKNOWN,  RN_WOOD_UNKNOWN,   RN_WOOD_ESTIMATED, RN_PULLED,       RN_NO_GEAR,
		RN_NO_RATING,        RN_THICKNESS_UNKNOWN,
	};
	bool any = false;
	for (size_t i = 0; i < sizeof reasons / sizeof *reasons; i++)
		any = reason_words(buffer, result, rn_words_unchecked(reasons[i]), above,
		                   any ? "; " : before) ||
		      any;
	return any;
}

void rn_verdict_unchecked(rn_buffer *buffer, const rn_result *result)
{
	unchecked_words(buffer, result, -1, "");
}

/* ---- the sentences --------------------------------------------------------------------------- */

static bool any_lacks_verdict(const rn_result *result)
{
	for (int c = 0; c < result->case_count; c++)
		if (lacks_verdict(&result->cases[c]))
			return true;
	return false;
}

static bool any_unchecked(const rn_result *result)
{
	double above = loaded_above(result);
	for (int part = 0; part < part_count(result); part++)
		if (first_unchecked(result, part, above))
			return true;
	return false;
}

/* The parts are looked at again beside the verdict of the result: were the two ever to differ, the
 * sentence must be the harder one. */
void rn_verdict_sentence(rn_buffer *buffer, const rn_result *result, rn_units units)
{
	const rn_verdict *v = &result->verdict;
	if (v->over || next_over(result, RN_NONE) != RN_NONE) {
		over_sentence(buffer, result);
		outcomes_sentence(buffer, result, "; and ", units);
		return;
	}
	if (!v->not_checked && !any_lacks_verdict(result) && !any_unchecked(result)) {
		rn_buffer_format(buffer, "NONE OVER ITS LIMIT (%d checked, %d not checked)",
		                 v->checked_count, v->not_checked_count);
		return;
	}
	rn_buffer_text(buffer, "NOT CHECKED: ");
	bool any = outcomes_sentence(buffer, result, "", units);
	unchecked_words(buffer, result, loaded_above(result), any ? "; " : "");
}

/* What the limit is made of; a working load that nothing is taken off is the limit itself. */
static void limit_source(rn_buffer *buffer, const rn_part_result *part, rn_units units)
{
	if (part->governed == RN_BY_WORKING_LOAD && part->factor_count == 0) {
		rn_buffer_text(buffer, " (working load)");
		return;
	}
	rn_buffer_text(buffer, " (");
	rn_words_limit(buffer, part, units);
	rn_buffer_char(buffer, ')');
}

void rn_verdict_closest(rn_buffer *buffer, const rn_result *result, rn_units units)
{
	const rn_part_result *part = rn_verdict_worst(result);
	if (!part)
		return;
	rn_words_part(buffer, result->model, part->object);
	if (part->object.kind == RN_STEM) {
		rn_buffer_text(buffer, ", ");
		rn_words_stem_height(buffer, result->model,
		                     &result->cases[result->verdict.worst_case].stems[part->object.index], units);
	}
	bool elsewhere = part->at != RN_NONE &&
	                 !(part->object.kind == RN_NODE && part->object.index == part->at);
	if (elsewhere) {
		rn_buffer_text(buffer, " at ");
		rn_words_object(buffer, result->model, rn_object_of(RN_NODE, part->at));
	}
	rn_buffer_text(buffer, ", ");
	rn_words_percent(buffer, part->utilisation);
	rn_buffer_text(buffer, " in ");
	rn_words_plain(buffer, case_id(result, result->verdict.worst_case));
	rn_buffer_text(buffer, ": ");
	if (part->object.kind == RN_STEM) {
		rn_words_stem_limit(buffer, &result->cases[result->verdict.worst_case].stems[part->object.index], units);
		return;
	}
	rn_words_bare_force(buffer, part->demand, RN_UP, units);
	rn_buffer_text(buffer, " of ");
	rn_words_bare_force(buffer, part->limit, RN_DOWN, units);
	rn_buffer_format(buffer, " %s", rn_words_force_unit(units));
	limit_source(buffer, part, units);
}
