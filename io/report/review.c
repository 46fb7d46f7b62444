/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/review.h"

#include <math.h>
#include <string.h>

#include "io/report/caught.h"
#include "io/report/cautions.h"
#include "io/report/explain.h"
#include "io/report/finite.h"
#include "io/report/fold.h"
#include "io/report/largest.h"
#include "io/report/losses.h"
#include "io/report/ranges.h"
#include "io/report/remarks.h"
#include "io/report/reviewer.h"
#include "io/report/rows.h"
#include "io/report/verdict.h"

/* ---- words ------------------------------------------------------------------------------------------- */

void rn_reviewer_say(rn_reviewer *w, const char *text)
{
	rn_buffer_text(w->line, text);
}

void rn_reviewer_say_object(rn_reviewer *w, rn_object object)
{
	rn_words_object(w->line, w->model, object);
}

void rn_reviewer_say_node(rn_reviewer *w, int node)
{
	rn_reviewer_say_object(w, rn_object_of(RN_NODE, node));
}

void rn_reviewer_say_case(rn_reviewer *w, int index)
{
	rn_reviewer_say_object(w, rn_object_of(RN_CASE, w->result->cases[index].case_index));
}

/* Without its folders: the title block has them. */
void rn_reviewer_say_place(rn_reviewer *w, int file, int line)
{
	const char *name = w->review->document->files[file], *slash = strrchr(name, '/');
	rn_words_plain(w->line, slash ? slash + 1 : name);
	rn_buffer_format(w->line, ":%d", line);
}

void rn_reviewer_chapter(rn_reviewer *w, const char *title)
{
	rn_buffer_format(w->line, "%d  %s", ++w->chapter, title);
	rn_folio_heading(w->folio, 1);
}

void rn_reviewer_section(rn_reviewer *w, const char *title)
{
	rn_reviewer_say(w, title);
	rn_folio_heading(w->folio, 2);
}

void rn_reviewer_paragraph(rn_reviewer *w, const char *text)
{
	rn_reviewer_say(w, text);
	rn_folio_block(w->folio, RN_BLOCK_PARAGRAPH);
}

void rn_reviewer_item(rn_reviewer *w, const char *text)
{
	rn_reviewer_say(w, text);
	rn_folio_block(w->folio, RN_BLOCK_ITEM);
}

void rn_reviewer_cell(rn_reviewer *w, const char *text)
{
	rn_reviewer_say(w, text);
	rn_folio_cell(w->folio);
}

/* What a part of the folio that another file tells was short of, the whole is. */
static void keep_status(rn_reviewer *w, rn_status status)
{
	if (status != RN_OK)
		w->folio->pool.failed = true;
}

int rn_reviewer_next_case(const rn_reviewer *w, int index)
{
	for (int c = index + 1; c < w->result->case_count; c++)
		if (w->shown[c] == c && rn_verdict_has_answer(&w->result->cases[c]))
			return c;
	return RN_NONE;
}

/* ---- title block ------------------------------------------------------------------------------------- */

static void title_row(rn_reviewer *w, const char *name, const char *text)
{
	rn_reviewer_cell(w, name);
	rn_words_plain(w->line, text ? text : "");
	rn_folio_cell(w->folio);
}

static bool has_note(const rn_document *d, const char *topic)
{
	for (int i = 0; i < d->remark_count; i++)
		if (d->remarks[i].topic && strcmp(d->remarks[i].topic, topic) == 0)
			return true;
	return false;
}

/* Words of several lines, on one. */
static void say_unbroken(rn_reviewer *w, const char *text)
{
	static const char blanks[] = " \t\r\n";
	for (size_t size; text && *text; text += size) {
		uint32_t code = ' ';
		size = strspn(text, blanks);
		if (size == 0)
			size = rn_words_character(text, &code);
		if (code == ' ' || code == '?')
			rn_buffer_char(w->line, (char)code);
		else
			rn_buffer_add(w->line, text, size);
	}
}

/* What the model says of the job, and room for what it does not. */
static void job_rows(rn_reviewer *w)
{
	static const char *const topics[] = {"site", "job", "revision", "status", "author", "checker"};
	const rn_document *d = w->review->document;
	for (int i = 0; i < d->remark_count; i++)
		if (d->remarks[i].file == 0) {
			rn_words_plain(w->line, d->remarks[i].topic ? d->remarks[i].topic : "note");
			rn_folio_cell(w->folio);
			say_unbroken(w, d->remarks[i].text);
			rn_folio_cell(w->folio);
		}
	for (size_t i = 0; i < sizeof topics / sizeof *topics; i++)
		if (!has_note(d, topics[i]))
			title_row(w, topics[i], "");
}

static void verdict_row(rn_reviewer *w)
{
	rn_reviewer_cell(w, "verdict");
	rn_verdict_sentence(w->line, w->result, w->units);
	rn_folio_cell(w->folio);
	if (rn_ranges_over(w->review->ranges, w->review->range_count))
		title_row(w, "and otherwise", "OVER ITS LIMIT where the rope runs or sticks otherwise than drawn, chapter 1");
}

void rn_reviewer_title(rn_reviewer *w, bool with_verdict)
{
	static const rn_columns columns = {.count = 2, .weights = {0.2, 0.8}, .row_height = 4.4};
	rn_folio_table(w->folio, &columns);
	if (with_verdict)
		verdict_row(w);
	job_rows(w);
	title_row(w, "date", w->review->date);
	title_row(w, "model", w->review->file);
	title_row(w, "its SHA-256", w->review->digest);
	if (*w->review->stores)
		title_row(w, "its stores", w->review->stores);
	title_row(w, "edition before", w->review->since ? w->review->since->file : "not compared");
	rn_reviewer_cell(w, "program");
	rn_reviewer_say(w, "funicle " RN_VERSION_TEXT " with its tables of knots, bends, hitches and wood; model format 1; ");
	rn_reviewer_cell(w, w->review->libraries);
	title_row(w, "command", w->review->command);
	if (with_verdict && w->review->answer_digest)
		title_row(w, "SHA-256, JSON", w->review->answer_digest);
	rn_folio_table_end(w->folio);
}

/* ---- verdict ----------------------------------------------------------------------------------------- */

static void write_unchecked(rn_reviewer *w)
{
	size_t start = w->line->size;
	rn_reviewer_say(w, "Not checked: ");
	size_t said = w->line->size;
	rn_verdict_unchecked(w->line, w->result);
	if (w->line->size == said && w->line->bytes)
		w->line->bytes[w->line->size = start] = '\0';
	else
		rn_reviewer_say(w, ".");
	rn_folio_block(w->folio, RN_BLOCK_STRONG);
}

/* A verdict of the runs that were drawn is not the last word where the rope may stick as well. */
void rn_reviewer_over_in_ranges(rn_reviewer *w, const char *where)
{
	for (int i = 0; i < w->review->range_count; i++) {
		const rn_ranges *ranges = &w->review->ranges[i];
		if (!rn_ranges_over(ranges, 1))
			continue;
		rn_reviewer_say(w, "OVER ITS LIMIT where the rope runs or sticks otherwise, ");
		if (w->model->cases[ranges->case_index].made)
			rn_reviewer_say(w, "any run");
		else
			rn_reviewer_say_object(w, rn_object_of(RN_CASE, ranges->case_index));
		rn_reviewer_say(w, ": ");
		rn_ranges_name_over(w->line, w->model, ranges);
		rn_reviewer_say(w, where);
		rn_folio_block(w->folio, RN_BLOCK_STRONG);
	}
}

static int unanswered_count(const rn_result *result)
{
	int count = 0;
	for (int c = 0; c < result->case_count; c++)
		count += !rn_verdict_has_answer(&result->cases[c]);
	return count;
}

static void write_verdict(rn_reviewer *w)
{
	const rn_verdict *v = &w->result->verdict;
	rn_reviewer_chapter(w, "Verdict");
	rn_verdict_sentence(w->line, w->result, w->units);
	rn_reviewer_say(w, ".");
	rn_folio_block(w->folio, RN_BLOCK_STRONG);
	if (rn_verdict_worst(w->result)) {
		rn_reviewer_say(w, "Closest: ");
		rn_verdict_closest(w->line, w->result, w->units);
		rn_reviewer_paragraph(w, ".");
	}
	write_unchecked(w);
	rn_reviewer_over_in_ranges(w, ", chapter \"how sure\".");
	rn_buffer_format(w->line, "Parts: %d checked, %d over, %d not checked. Taken for granted: %d. Warnings: %d, chapter "
	                          "\"warnings\". ",
	                 v->checked_count, v->over_count, v->not_checked_count, w->model->guesses.count,
	                 w->model->doubts.count + rn_remarks_note_count(w->result) + unanswered_count(w->result));
	rn_reviewer_paragraph(w, "What is not checked may be over.");
	keep_status(w, rn_rows_folio(w->folio, w->result, w->shown, w->units));
}

/* ---- figures ----------------------------------------------------------------------------------------- */

static int governing_case(const rn_reviewer *w)
{
	const rn_verdict *v = &w->result->verdict;
	return v->worst_case != RN_NONE ? v->worst_case : rn_reviewer_next_case(w, RN_NONE);
}

static int governing_node(const rn_reviewer *w)
{
	int c = governing_case(w), worst = w->result->verdict.worst_case == c ? w->result->verdict.worst_part : RN_NONE;
	return c == RN_NONE ? RN_NONE : rn_explain_node(&w->result->cases[c], worst);
}

static bool pulls_there(const rn_reviewer *w, int c, int node)
{
	int count = 0;
	const rn_case_result *answer = &w->result->cases[c];
	for (int i = 0; i < answer->span_count; i++)
		count += answer->spans[i].from == node || answer->spans[i].to == node;
	return count > 0;
}

static void figure_of_stem(rn_reviewer *w, int c, int stem)
{
	rn_reviewer_say(w, "Stem ");
	rn_reviewer_say_object(w, rn_object_of(RN_STEM, stem));
	rn_reviewer_say(w, " along its height, case ");
	rn_reviewer_say_case(w, c);
	rn_reviewer_say(w, ": push, shear, bending and stress.");
	rn_folio_figure(w->folio, RN_VIEW_STEM, c, stem);
}

/* The stem that is stressed most, in an answer that balances: of another there is no diagram. */
static int governing_stem(const rn_reviewer *w, int c)
{
	const rn_case_result *answer = &w->result->cases[c];
	int found = RN_NONE;
	for (int i = 0; answer->stems && answer->balance.closed && i < w->model->stem_count; i++) {
		bool drawn = answer->stems[i].diameter > 0 && answer->stems[i].pull > rn_words_nothing;
		if (drawn && (found == RN_NONE || answer->stems[i].compression > answer->stems[found].compression))
			found = i;
	}
	return found;
}

/* Where one rope or sling comes to there is nothing to be added up: what sums there are stand where that leads to.
 * RN_NONE: the node has sums of its own, or it leads to another anchor. */
static int node_behind(const rn_reviewer *w, int c, int node)
{
	const rn_case_result *answer = &w->result->cases[c];
	int behind = RN_NONE, count = 0;
	for (int i = 0; i < answer->span_count; i++) {
		const rn_span_result *s = &answer->spans[i];
		if (s->from != node && s->to != node)
			continue;
		behind = s->from == node ? s->to : s->from;
		count++;
	}
	return count == 1 && !rn_node_is_fixed(&w->model->nodes[behind]) ? behind : RN_NONE;
}

static void figure_of_node(rn_reviewer *w, int c, int node)
{
	int behind = node_behind(w, c, node), shown = behind != RN_NONE ? behind : node;
	rn_reviewer_say(w, "The force polygon of ");
	rn_words_part(w->line, w->model, rn_object_of(RN_NODE, shown));
	rn_reviewer_say(w, ", case ");
	rn_reviewer_say_case(w, c);
	rn_reviewer_say(w, ": it closes, or the forces do not balance.");
	rn_folio_figure(w->folio, RN_VIEW_POLYGON, c, shown);
}

static void write_figures(rn_reviewer *w)
{
	rn_reviewer_chapter(w, "The set-up as the program understood it, to scale");
	rn_reviewer_paragraph(w, "Each has a page of its own; the report as plain text has none, there funicle draw makes them. "
	                         "Compare the drawing with the job before the numbers: a rope on the wrong side of a ring, or a "
	                         "ring tied to the wrong stem, shows here and nowhere else.");
	for (int c = 0; c < w->result->case_count; c++) {
		if (w->shown[c] != c)
			continue;
		rn_reviewer_say(w, "The rigging in case ");
		rn_reviewer_say_case(w, c);
		rn_reviewer_say(w, ".");
		rn_folio_figure(w->folio, RN_VIEW_RIGGING, c, RN_NONE);
	}
	int c = governing_case(w), node = governing_node(w);
	if (c == RN_NONE)
		return;
	if (node != RN_NONE && pulls_there(w, c, node))
		figure_of_node(w, c, node);
	int stem = governing_stem(w, c);
	if (stem != RN_NONE)
		figure_of_stem(w, c, stem);
}

/* ---- how sure ---------------------------------------------------------------------------------------- */

static void write_sureness(rn_reviewer *w)
{
	const rn_review *r = w->review;
	rn_reviewer_chapter(w, "How sure these numbers are");
	for (int i = 0; i < r->range_count; i++) {
		if (!rn_verdict_has_answer(r->ranges[i].middle))
			continue;
		rn_reviewer_section(w, "Wherever the rope runs or sticks, within the friction and lengths that are given");
		keep_status(w, rn_ranges_folio(w->folio, w->model, &r->ranges[i], w->units));
	}
	if (r->losses && r->losses->count > 0) {
		rn_reviewer_section(w, "If one part lets go");
		keep_status(w, rn_losses_folio(w->folio, w->result, r->losses, w->units));
	}
	if (rn_reviewer_caught(w->result)) {
		rn_reviewer_section(w, "The catch");
		rn_caught_folio(w->folio, w->result, w->units);
		rn_reviewer_paragraph(w, "Ranges, and what happens if one part lets go, are not found of a case in which a piece falls.");
	}
	if (r->largest) {
		rn_reviewer_section(w, "How big a piece may be");
		keep_status(w, rn_largest_folio(w->folio, r->largest, w->units));
	}
	rn_reviewer_paragraph(w, "A tree is not a tested part. Between a computed pull and one measured on the job lie the weight "
	                         "that was guessed, friction that changes with rain and wear, and a drawing that is off by a "
	                         "hand's width: keep what is near its limit well below it.");
}

/* ---- limits and method ------------------------------------------------------------------------------- */

void rn_reviewer_limits(rn_reviewer *w)
{
	rn_reviewer_chapter(w, "Limits of this calculation");
	rn_cautions_sight(w->line, w->model);
	rn_reviewer_say(w, " It holds for ropes that carry no bending and weigh little beside their pulls, for treads that turn no "
	                   "rope sharper than the tables go, for stems of sound wood that are straight between their sections "
	                   "and clamped in the ground, for pulls that come on slowly. ");
	rn_reviewer_say(w, w->model->stem_count > 1
	                       ? "This model has more than one stem: it holds as far as they and all ropes lie in one upright plane."
	                       : "This model has one stem or none: nothing in it says that it leaves its plane.");
	rn_folio_block(w->folio, RN_BLOCK_BOXED);
	rn_reviewer_say(w, "Cautions: ");
	rn_cautions_words(w->line, w->model);
	rn_reviewer_say(w, " This program informs people who are trained; it certifies nothing, and does not replace a competent "
	                   "person.");
	rn_folio_block(w->folio, RN_BLOCK_BOXED);
}

static void write_method(rn_reviewer *w)
{
	rn_reviewer_chapter(w, "Method");
	rn_reviewer_paragraph(w, "Equilibrium: at every node that may move, the pulls of ropes, slings and props, weights and outer "
	                         "forces add up to nothing, x and y apart; unknown are places and tensions together, found by "
	                         "Newton's method on the potential energy and, with friction, on the equations themselves.");
	rn_reviewer_paragraph(w, "Ropes: one tension from end to end but for friction, T2 = T1 e^(mu theta) over a ring or bark "
	                         "(Euler and Eytelwein; textbook), T2 - T1 = R (1 - e) / (1 + e) over a sheave of efficiency e over "
	                         "half a turn, R what both parts pull together on its pin; each line runs the way the case says. "
	                         "Stretch: T = EA x (length / length at rest - 1), or the curve of the gear.");
	rn_reviewer_paragraph(w, "Limits: the smallest of strength / design factor, times the factors of the place, chapter \"taken "
	                         "off\", and of each working load, times those its label has not got in it already. Stems: axial force "
	                         "and bending of a tapering cantilever, stress N/A + M/W against green strength / design factor, "
	                         "buckling of the taper (textbook mechanics of materials). A catch: work of the weight against what "
	                         "ropes, friction and turns take up.");
	rn_reviewer_paragraph(w, "An independent sum of all forces is held against every answer, chapter \"checks\": where it does "
	                         "not close to rounding, DOES NOT CLOSE is said and the numbers are not to be used. Derivations and sources stand in the program's doc/theory.md, "
	                         "tests against published values in its tests.");
}

static void criterion(rn_reviewer *w, const rn_number *n)
{
	rn_reviewer_say_object(w, n->object);
	rn_folio_cell(w->folio);
	rn_words_number(w->line, n->value);
	rn_folio_cell(w->folio);
	if (n->origin == RN_GIVEN && n->line > 0) /* a branch has that of its stem */
		rn_reviewer_say_place(w, n->file, n->line);
	else
		rn_reviewer_say(w, "not written");
	rn_folio_cell(w->folio);
	rn_reviewer_cell(w, "");
}

static bool is_criterion(const rn_reviewer *w, const rn_number *n)
{
	bool kept = n->object.kind != RN_RIGGING && (n->object.kind != RN_ITEM || rn_item_is_used(w->model, n->object.index));
	return n->attribute == RN_ATTRIBUTE_DESIGN_FACTOR && kept;
}

static void write_criteria(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 4,
		.heads = {"design factor of", "value", "file and line", "standard or maker's sheet it comes from"},
		.weights = {0.22, 0.12, 0.26, 0.40},
		.to_the_right = {false, true, false, false},
		.row_height = 5,
	};
	rn_reviewer_chapter(w, "Criteria: what limits are held against");
	rn_reviewer_paragraph(w, "The program has no design factor of its own: each comes from the model, and the reviewer says by "
	                         "which standard, edition and clause. A strength is divided by it, a working load is not.");
	rn_folio_table(w->folio, &columns);
	for (int i = 0; i < w->model->number_count; i++)
		if (is_criterion(w, &w->model->numbers[i]))
			criterion(w, &w->model->numbers[i]);
	rn_folio_table_end(w->folio);
}

/* ---- one node by hand -------------------------------------------------------------------------------- */

static void write_by_hand(rn_reviewer *w)
{
	int c = governing_case(w), node = governing_node(w);
	if (c == RN_NONE || node == RN_NONE)
		return;
	rn_reviewer_chapter(w, "One place worked by hand");
	rn_reviewer_say(w, "The place of the closest part, ");
	rn_words_part(w->line, w->model, rn_object_of(RN_NODE, node));
	rn_reviewer_say(w, ", in case ");
	rn_reviewer_say_case(w, c);
	rn_reviewer_paragraph(w, ": to be added up again with a pencil. funicle explain does the same for any other.");
	keep_status(w, rn_explain_part(w->folio, w->result, c, node, w->units));
	int behind = node_behind(w, c, node);
	if (behind == RN_NONE)
		return;
	rn_reviewer_say(w, "Only one rope or sling comes to that place. Where it leads to, ");
	rn_words_part(w->line, w->model, rn_object_of(RN_NODE, behind));
	rn_reviewer_paragraph(w, ":");
	keep_status(w, rn_explain_part(w->folio, w->result, c, behind, w->units));
}

/* ---- warnings ---------------------------------------------------------------------------------------- */

static void write_warnings(rn_reviewer *w)
{
	rn_reviewer_chapter(w, "Warnings, and what nobody has verified");
	write_unchecked(w);
	rn_words_doubts(w->line, w->model, w->units);
	rn_reviewer_paragraph(w, "");
	rn_remarks_notes(w->line, w->result, w->units);
	rn_reviewer_paragraph(w, "");
	for (int c = 0; c < w->result->case_count; c++) {
		const rn_case_result *r = &w->result->cases[c];
		if (rn_verdict_has_answer(r))
			continue;
		rn_reviewer_say(w, "Case ");
		rn_reviewer_say_case(w, c);
		rn_reviewer_say(w, " has no answer (");
		rn_reviewer_say(w, rn_outcome_text(r->outcome));
		rn_reviewer_say(w, "): ");
		rn_words_notes(w->line, w->model, &r->notes, w->units);
		rn_folio_block(w->folio, RN_BLOCK_STRONG);
	}
	rn_reviewer_paragraph(w, "Weights, diameters, species and soundness of the wood are as the model says: nobody but the person "
	                         "on the job can verify them. Gear of which chapter \"gear\" says \"not said\" is as good as the "
	                         "person who looks at it on the day finds it.");
}

/* ---- references and signatures ------------------------------------------------------------------------- */

static bool seen_before(const rn_result *result, int c, int p, int k)
{
	const char *source = result->cases[c].parts[p].factors[k].source;
	for (int i = 0; i <= c; i++)
		for (int j = 0; j < result->cases[i].part_count; j++) {
			const rn_part_result *part = &result->cases[i].parts[j];
			for (int f = 0; f < part->factor_count; f++) {
				if (i == c && j == p && f == k)
					return false;
				if (part->factors[f].source && strcmp(part->factors[f].source, source) == 0)
					return true;
			}
		}
	return false;
}

/* The word for a factor that the gear brings along: no book to be looked up. */
static const char own_curve[] = "given for this gear";

static bool has_listed_wood(const rn_model *m)
{
	for (int i = 0; i < m->number_count; i++)
		if (m->numbers[i].origin == RN_LISTED || m->numbers[i].origin == RN_ESTIMATED)
			return true;
	return false;
}

static void write_references(rn_reviewer *w)
{
	rn_reviewer_chapter(w, "References");
	for (int c = 0; c < w->result->case_count; c++)
		for (int p = 0; p < w->result->cases[c].part_count; p++)
			for (int k = 0; k < w->result->cases[c].parts[p].factor_count; k++) {
				const char *source = w->result->cases[c].parts[p].factors[k].source;
				if (source && strcmp(source, own_curve) != 0 && !seen_before(w->result, c, p, k))
					rn_reviewer_item(w, source);
			}
	if (has_listed_wood(w->model))
		rn_reviewer_item(w, "Green wood: density and bark, USDA Forest Service, Forest Inventory and Analysis database, table "
		                    "REF_SPECIES (2022); strength and stiffness, Wood Handbook, FPL-GTR-282 (2021) and FPL-GTR-190 "
		                    "(2010), tables 5-3; an estimate is from memory.");
	rn_reviewer_item(w, "funicle " RN_VERSION_TEXT ", doc/theory.md: equations, with their sources; doc/manual.md: tables, with theirs.");
	rn_reviewer_item(w, "Local law, the standards and the makers' instructions that hold on this job: to be named here by the reviewer.");
}

void rn_reviewer_signatures(rn_reviewer *w)
{
	static const rn_columns columns = {
		.count = 5,
		.heads = {"", "name", "qualification", "date", "signature"},
		.weights = {0.22, 0.23, 0.2, 0.13, 0.22},
		.row_height = 13,
	};
	static const char *const rows[] = {"prepared by", "checked by, and how independent of it", "answers for the job"};
	rn_reviewer_chapter(w, "Signatures");
	rn_folio_table(w->folio, &columns);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rn_reviewer_cell(w, rows[i]);
		for (int k = 1; k < columns.count; k++)
			rn_reviewer_cell(w, "");
	}
	rn_folio_table_end(w->folio);
	rn_reviewer_paragraph(w, "Empty fields of the title block are filled in by hand, or by <note topic=\"revision\">2</note> and the "
	                         "like in the model.");
	rn_reviewer_paragraph(w, "Who signs answers for the inputs and for what is done with the figures. The program does not replace "
	                         "a competent person.");
}

static void write_machine_copy(rn_reviewer *w)
{
	rn_reviewer_chapter(w, "Copy for machines");
	rn_reviewer_say(w, "Written beside a report that is a file, with its name and .json; ");
	rn_reviewer_say(w, w->review->answer_command);
	rn_reviewer_paragraph(w, " gives the same bytes: every pull, limit and share unrounded. Its SHA-256 stands in "
	                         "the title block, with those of the model and its stores. Chapter \"how sure\" as numbers: "
	                         "--ranges and --without every of the same command, and funicle largest.");
}

/* ---- the whole ----------------------------------------------------------------------------------------- */

void rn_reviewer_begin(rn_reviewer *w, const char *what)
{
	rn_reviewer_say(w, what);
	if (w->model->title)
		rn_words_plain(w->line, w->model->title);
	else
		rn_words_plain(w->line, w->review->file);
	w->folio->title = rn_folio_keep(w->folio);
}

static void write_review(rn_reviewer *w)
{
	rn_reviewer_begin(w, "For review: ");
	rn_reviewer_title(w, true);
	write_verdict(w);
	write_figures(w);
	rn_reviewer_parts(w);
	rn_reviewer_pulls(w);
	rn_reviewer_factors(w);
	write_sureness(w);
	if (w->review->since)
		rn_reviewer_changes(w);
	rn_reviewer_chapter(w, "Stop and ask if");
	rn_reviewer_stops(w);
	rn_reviewer_inputs(w);
	rn_reviewer_guesses(w);
	rn_reviewer_gear(w);
	rn_reviewer_limits(w);
	write_method(w);
	write_criteria(w);
	rn_reviewer_checks(w);
	write_by_hand(w);
	write_warnings(w);
	write_references(w);
	write_machine_copy(w);
	rn_reviewer_signatures(w);
}

rn_status rn_reviewer_write(rn_folio *folio, const rn_review *review, void (*write)(rn_reviewer *))
{
	RN_TRY(rn_finite_check(review->result));
	int *shown = rn_pool_take(&folio->pool, (size_t)review->result->case_count + 1, sizeof *shown);
	if (!shown)
		return RN_STATUS_MEMORY;
	rn_fold_cases(review->result, shown);
	rn_reviewer w = {.folio = folio, .line = &folio->line, .review = review, .result = review->result,
	                 .model = review->result->model, .units = review->units, .shown = shown};
	write(&w);
	return rn_folio_status(folio);
}

rn_status rn_review_folio(rn_folio *folio, const rn_review *review)
{
	return rn_reviewer_write(folio, review, write_review);
}
