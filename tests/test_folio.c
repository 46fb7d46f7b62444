/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Written answers as text: how columns stand, where they are broken, that no word is lost; what is kept of a model as it
 * was written; and that a report which runs out of memory says so and leaves nothing behind.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "io/report/paragraph.h"
#include "io/report/review.h"
#include "tests/models.h"
#include "tests/support.h"

/* ---- blocks by hand ------------------------------------------------------------------------------------ */

static rn_folio blank_folio(void)
{
	rn_allocator allocator = rn_allocator_default();
	return rn_folio_make(&allocator);
}

static void cell(rn_folio *f, const char *text)
{
	rn_buffer_text(&f->line, text);
	rn_folio_cell(f);
}

static void block(rn_folio *f, rn_block_kind kind, const char *text)
{
	rn_buffer_text(&f->line, text);
	if (kind == RN_BLOCK_HEADING)
		rn_folio_heading(f, 1);
	else
		rn_folio_block(f, kind);
}

/* The folio as text, which the caller releases; the folio is gone. */
static rn_buffer told(rn_folio *f)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer text = rn_buffer_make(&allocator);
	assert_int_equal(rn_folio_text(&text, f), RN_OK);
	rn_folio_release(f);
	return text;
}

static void expect(rn_folio *f, const char *expected)
{
	rn_buffer text = told(f);
	assert_string_equal(text.bytes ? text.bytes : "", expected);
	rn_buffer_release(&text);
}

static void columns_are_as_wide_as_what_is_in_them(void **state)
{
	(void)state;
	const rn_columns columns = {.count = 3, .heads = {"part", "at", "pull"}, .to_the_right = {false, false, true}};
	rn_folio f = blank_folio();
	rn_folio_table(&f, &columns);
	cell(&f, "rope bull"), cell(&f, "b1"), cell(&f, "3.14 kN");
	cell(&f, "top"), cell(&f, ""), cell(&f, "98 N");
	rn_folio_table_end(&f);
	expect(&f, "  part       at     pull\n"
	           "  rope bull  b1  3.14 kN\n"
	           "  top               98 N\n");
}

/* A letter is a column however many bytes it has: e with an accent 2, theta 2, the euro 3. */
static void letters_are_counted_not_bytes(void **state)
{
	(void)state;
	const rn_columns columns = {.count = 2, .to_the_right = {false, true}};
	rn_folio f = blank_folio();
	rn_folio_table(&f, &columns);
	cell(&f, "h\xc3\xaatre"), cell(&f, "\xce\xb8");
	cell(&f, "beech"), cell(&f, "\xe2\x82\xac 9");
	rn_folio_table_end(&f);
	expect(&f, "  h\xc3\xaatre    \xce\xb8\n"
	           "  beech  \xe2\x82\xac 9\n");
}

static void blocks_stand_as_they_are_meant(void **state)
{
	(void)state;
	const rn_columns columns = {.count = 1, .heads = {"only"}};
	rn_folio f = blank_folio();
	block(&f, RN_BLOCK_HEADING, "1  First");
	block(&f, RN_BLOCK_PARAGRAPH, ""); /* of nothing is none */
	block(&f, RN_BLOCK_PARAGRAPH, "words");
	block(&f, RN_BLOCK_ITEM, "one of a list;");
	rn_folio_sheet(&f);
	rn_folio_figure(&f, RN_VIEW_RIGGING, 0, RN_NONE);
	rn_folio_table(&f, &columns); /* without a row is none */
	rn_folio_table_end(&f);
	cell(&f, "lost: there is no table");
	block(&f, RN_BLOCK_HEADING, "2  Second");
	for (int i = 0; i < 2; i++) {
		rn_folio_table(&f, &columns);
		cell(&f, "a row");
		rn_folio_table_end(&f);
	}
	block(&f, RN_BLOCK_BOXED, "end");
	expect(&f, "1  First\nwords\n- one of a list;\n\n2  Second\n  only\n  a row\n\n  only\n  a row\nend\n");
}

static void long_words_are_broken_and_whole(void **state)
{
	(void)state;
	const rn_columns columns = {.count = 2, .heads = {"what", "size"}, .to_the_right = {false, true}};
	char word[201];
	rn_folio f = blank_folio();
	for (int i = 0; i < 200; i++)
		word[i] = (char)('a' + i % 26);
	word[200] = '\0';
	rn_folio_table(&f, &columns);
	cell(&f, word), cell(&f, "1.00 kN");
	rn_folio_table_end(&f);
	rn_buffer text = told(&f);
	size_t found = 0;
	char *size = strstr(text.bytes, "1.00 kN\n");
	assert_non_null(size);
	memset(size, ' ', strlen("1.00 kN"));
	for (const char *c = strchr(text.bytes, '\n'); *c; c++) /* behind the heads */
		if (*c != ' ' && *c != '\n')
			assert_int_equal(*c, word[found++]);
	assert_int_equal(found, 200);
	rn_buffer_release(&text);
}

/* ---- any table ------------------------------------------------------------------------------------------- */

enum { ROWS = 6, CELL = 160 };

typedef struct random_table {
	rn_columns columns;
	char cells[ROWS][RN_FOLIO_COLUMNS][CELL];
	int row_count;
} random_table;

/* Words of letters of one to three bytes, each cell with letters of its own so that it can be found again. */
static void fill_cell(support_random *random, char *text, int row, int column)
{
	static const char *const marks[] = {"", "\xc3\xa9", "\xe2\x82\xac"};
	int words = support_random_below(random, 9);
	size_t size = 0;
	for (int w = 0; w < words && size + 24 < CELL; w++) {
		size += (size_t)snprintf(text + size, CELL - size, "%s%c%c%d%s", size ? " " : "", 'A' + row, 'a' + column, w,
		                         marks[support_random_below(random, 3)]);
		for (int i = support_random_below(random, 12); i > 0 && size + 8 < CELL; i--)
			text[size++] = 'x';
		text[size] = '\0';
	}
}

static void make_table(support_random *random, random_table *t)
{
	memset(t, 0, sizeof *t);
	t->columns.count = 1 + support_random_below(random, 6); /* so many fit a line at their narrowest */
	t->row_count = 1 + support_random_below(random, ROWS);
	for (int c = 0; c < t->columns.count; c++) {
		t->columns.to_the_right[c] = support_random_chance(random, 0.5);
		for (int r = 0; r < t->row_count; r++)
			fill_cell(random, t->cells[r][c], r, c);
	}
}

static void lines_keep_their_width(const char *text)
{
	for (const char *end; *text; text = end + 1) {
		char line[512];
		end = strchr(text, '\n');
		assert_non_null(end);
		snprintf(line, sizeof line, "%.*s", (int)(end - text), text);
		assert_true(rn_paragraph_columns(line) <= rn_paragraph_width);
		assert_true(end == text || end[-1] != ' ');
	}
}

/* Of a cell that is wide enough for each of its words. */
static bool has_all_words(const char *text, const char *words)
{
	char copy[CELL];
	snprintf(copy, sizeof copy, "%s", words);
	for (const char *word = strtok(copy, " "); word; word = strtok(NULL, " "))
		if (!strstr(text, word))
			return false;
	return true;
}

static void no_word_is_lost(void **state)
{
	(void)state;
	support_random random = support_random_from(20261127);
	static random_table t;
	for (int i = 0; i < 400; i++) {
		rn_folio f = blank_folio();
		make_table(&random, &t);
		rn_folio_table(&f, &t.columns);
		for (int r = 0; r < t.row_count; r++)
			for (int c = 0; c < t.columns.count; c++)
				cell(&f, t.cells[r][c]);
		rn_folio_table_end(&f);
		rn_buffer text = told(&f);
		lines_keep_their_width(text.bytes);
		for (int r = 0; r < t.row_count; r++)
			for (int c = 0; c < t.columns.count; c++)
				assert_true(t.columns.count > 4 || has_all_words(text.bytes, t.cells[r][c]));
		rn_buffer_release(&text);
	}
}

/* A page has room for three cases beside each other; more stand below. */
static void many_cases_stand_below_each_other(void **state)
{
	(void)state;
	rn_allocator allocator = rn_allocator_default();
	rn_table table = rn_table_make(&allocator, 4);
	rn_table_row *row = rn_table_add_row(&table, "bull", "log to b1");
	assert_non_null(row);
	table.title = "kN";
	for (int c = 0; c < 4; c++) {
		static const char *const heads[] = {"one", "two", "three", "four"};
		table.heads[c] = heads[c];
		row->cells[c] = (rn_table_cell){.number = "3.14", .share = c == 3 ? "102 %" : "", .words = c == 3 ? "OVER" : ""};
	}
	rn_folio f = blank_folio();
	rn_folio_add_table(&f, &table);
	rn_table_release(&table);
	assert_int_equal(f.count, 2);
	expect(&f, "  kN               one   two   three\n"
	           "  bull  log to b1  3.14  3.14  3.14\n"
	           "\n"
	           "  kN               four\n"
	           "  bull  log to b1  3.14, 102 %, OVER\n");
}

/* ---- values as they were written ---------------------------------------------------------------------------- */

static const char yard[] = "<gear xmlns=\"urn:funicle:rigging\" format=\"1\">\n"
                           "<item id=\"bull\" kind=\"rope\" strength=\"70 kN\"\n"
                           " diameter=\"16 mm\"><bend over=\"2\" keeps=\"66 %\"/><bend over=\"4\" keeps=\"79 %\"/></item>\n"
                           "<item id=\"spare\" kind=\"rope\" strength=\"40 kN\"><bend over=\"3\" keeps=\"70 %\"/></item>\n"
                           "<item id=\"ring28\" kind=\"ring\" working-load=\"15 kN\" friction=\"0.2\" friction-range=\"0.14..0.25\"/>\n"
                           "</gear>\n";
static const char job[] = "<rigging xmlns=\"urn:funicle:rigging\" format=\"1\" title=\"two &amp; two\">\n"
                          "<note topic=\"site\">here</note>\n"
                          "<store href=\"yard.xml\"/>\n"
                          "<anchor id=\"left\" x=\"-1 m\" y=\"5 m\"/>\n"
                          "<anchor id=\"right\" x=\"1 m\"\n y=\"16.4 ft\"/>\n"
                          "<ring id=\"r1\" x=\"0 m\" y=\"4 m\" gear=\"ring28\"/>\n"
                          "<piece id=\"log\" x=\"0 m\" y=\"2 m\" weight=\"100 kg\"/>\n"
                          "<sling id=\"s\" from=\"r1\" to=\"log\"/>\n"
                          "<line id=\"l\" gear=\"bull\"><tie at=\"left\"/><through at=\"r1\"/><tie at=\"right\"/></line>\n"
                          "<case id=\"gust\"><set of=\"log\" weight=\"120 kg\"/><force at=\"log\" size=\"50 N\" toward=\"30 deg\"/>\n"
                          "<force at=\"log\" size=\"60 N\" toward=\"left\"/></case>\n"
                          "</rigging>\n";

static rn_status fetch_yard(void *context, const char *href, char **bytes_out, size_t *size_out, const char **reason_out)
{
	(void)context, (void)href, (void)reason_out;
	*size_out = strlen(yard);
	*bytes_out = malloc(sizeof yard);
	assert_non_null(*bytes_out);
	memcpy(*bytes_out, yard, sizeof yard);
	return RN_OK;
}

static const rn_input *input_of(const rn_inputs *inputs, const char *owner, const char *attribute)
{
	const rn_input *found = NULL;
	for (int i = 0; i < inputs->count; i++)
		if (strcmp(inputs->items[i].owner, owner) == 0 && strcmp(inputs->items[i].attribute, attribute) == 0) {
			assert_null(found);
			found = &inputs->items[i];
		}
	if (!found)
		print_error("no %s of %s\n", attribute, owner);
	assert_non_null(found);
	return found;
}

static void values_are_kept_as_written(void **state)
{
	(void)state;
	static const struct {
		const char *owner, *attribute, *value;
		int file, line;
		bool is_used, is_number;
		double low, high;
	} rows[] = {
		{"rigging", "title", "two & two", 0, 1, true, false, 0, 0},
		{"store 1", "href", "yard.xml", 0, 3, true, false, 0, 0},
		{"anchor right", "y", "16.4 ft", 0, 6, true, true, 4.99872, 4.99872},
		{"piece log", "weight", "100 kg", 0, 8, true, true, 980.665, 980.665},
		{"line l, tie 1", "at", "left", 0, 10, true, false, 0, 0},
		{"line l, through 1", "at", "r1", 0, 10, true, false, 0, 0},
		{"line l, tie 2", "at", "right", 0, 10, true, false, 0, 0},
		{"case gust, set 1", "weight", "120 kg", 0, 11, true, true, 1176.798, 1176.798},
		{"case gust, force 1", "toward", "30 deg", 0, 11, true, true, 0.52359877559829887, 0.52359877559829887},
		{"case gust, force 2", "size", "60 N", 0, 12, true, true, 60, 60},
		{"gear", "format", "1", 1, 1, true, false, 0, 0},
		{"item bull", "diameter", "16 mm", 1, 3, true, true, 0.016, 0.016},
		{"item bull, bend 2", "keeps", "79 %", 1, 3, true, true, 0.79, 0.79},
		{"item spare", "strength", "40 kN", 1, 4, false, true, 40e3, 40e3},
		{"item spare, bend 1", "over", "3", 1, 4, false, true, 3, 3},
		{"item ring28", "friction-range", "0.14..0.25", 1, 5, true, true, 0.14, 0.25},
	};
	rn_allocator allocator = rn_allocator_default();
	rn_fetch fetch = {fetch_yard, NULL};
	rn_document *d = NULL;
	assert_int_equal(rn_document_read(&allocator, "job.xml", job, strlen(job), &fetch, &d), RN_OK);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const rn_input *in = input_of(&d->inputs, rows[i].owner, rows[i].attribute);
		assert_string_equal(in->value, rows[i].value);
		assert_int_equal(in->file, rows[i].file);
		assert_int_equal(in->line, rows[i].line);
		assert_int_equal(in->is_used, rows[i].is_used);
		assert_int_equal(in->is_number, rows[i].is_number);
		if (in->is_number) {
			rn_assert_near(in->amount.low, rows[i].low, 1e-12, 0);
			rn_assert_near(in->amount.high, rows[i].high, 1e-12, 0);
		}
	}
	int attributes = 0;
	for (int i = 0; i < d->inputs.count; i++) { /* in the order of the files, names of things left out */
		const rn_input *in = &d->inputs.items[i], *before = i > 0 ? in - 1 : in;
		assert_true(in->file > before->file || (in->file == before->file && in->line >= before->line));
		assert_string_not_equal(in->attribute, "id");
		assert_string_not_equal(in->attribute, "topic");
		attributes++;
	}
	assert_int_equal(attributes, 43);
	rn_document_destroy(d);
}

/* ---- memory ends --------------------------------------------------------------------------------------------- */

typedef struct studied {
	rn_document *document;
	rn_result *result;
	rn_ranges ranges;
	rn_losses losses;
	rn_largest largest;
} studied;

static studied study(const char *name)
{
	rn_options options = rn_options_default();
	studied s = {.document = models_read(name)};
	const rn_model *m = s.document->model;
	assert_int_equal(rn_solve(m, &options, &s.result), RN_OK);
	assert_int_equal(rn_ranges_find(m, &options, 0, &s.ranges), RN_OK);
	assert_int_equal(rn_losses_find(s.result, &options, &s.losses), RN_OK);
	rn_object log = rn_object_of(RN_NODE, -1);
	while (m->nodes[++log.index].kind != RN_NODE_PIECE)
		continue;
	assert_int_equal(rn_largest_find(m, &options, log, &s.largest), RN_OK);
	return s;
}

static void forget(studied *s)
{
	rn_largest_release(&s->largest);
	rn_losses_release(&s->losses);
	rn_ranges_release(&s->ranges);
	rn_result_destroy(s->result);
	rn_document_destroy(s->document);
}

typedef rn_status (*teller)(rn_folio *, const rn_review *);

/* `taken` bytes of the folio's memory are gone before: so its blocks end at other places of the code. */
static rn_status tell(teller teller_of, const rn_review *review, size_t taken, support_memory *memory)
{
	rn_allocator allocator = support_memory_allocator(memory);
	rn_folio folio = rn_folio_make(&allocator);
	rn_buffer text = rn_buffer_make(&allocator);
	(void)rn_pool_take(&folio.pool, taken, 1);
	rn_status status = teller_of(&folio, review);
	if (status == RN_OK)
		status = rn_folio_text(&text, &folio);
	assert_true(status != RN_OK || text.size > 400);
	rn_buffer_release(&text);
	rn_folio_release(&folio);
	return status;
}

/* Once or for good, at every call there is. */
static void fail_each(teller teller_of, const rn_review *review)
{
	int failures = 0;
	for (size_t taken = 1; taken < 4096; taken += 113)
		for (long at = 1, failed = 1; failed; at++) {
			support_memory memory = {.fail_at = at, .for_good = taken % 2 == 0};
			rn_status status = tell(teller_of, review, taken, &memory);
			failed = memory.call_count >= at;
			failures += failed != 0;
			assert_int_equal(status, failed ? RN_STATUS_MEMORY : RN_OK);
			assert_int_equal(memory.live_count, 0);
		}
	assert_true(failures > 200);
}

static void a_report_says_that_memory_ended(void **state)
{
	(void)state;
	static const char digest[] = "5e250761c1f85db13d06a02b1aa47f14c4e7f74dc246259a5b209f9294ee4d88";
	studied now = study("floating-redirect.xml"), before = study("three-legs.xml");
	for (int i = 0; i < 2; i++) {
		studied *s = i == 0 ? &now : &before, *other = i == 0 ? &before : &now;
		rn_edition since = {other->document, other->result, "before.xml", digest};
		rn_review review = {.document = s->document, .result = s->result, .units = i == 0 ? RN_METRIC : RN_US,
		                    .file = "now.xml", .digest = digest, .command = "funicle report now.xml",
		                    .libraries = "none", .answer_digest = digest, .answer_command = "funicle solve now.xml", .stores = "",
		                    .ranges = &s->ranges, .range_count = 1, .losses = &s->losses, .largest = &s->largest};
		fail_each(rn_review_folio, &review);
		fail_each(rn_review_card_folio, &review);
		fail_each(rn_review_inputs_folio, &review);
		review.since = &since;
		fail_each(rn_review_folio, &review);
	}
	forget(&now);
	forget(&before);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(columns_are_as_wide_as_what_is_in_them),
		cmocka_unit_test(letters_are_counted_not_bytes),
		cmocka_unit_test(blocks_stand_as_they_are_meant),
		cmocka_unit_test(long_words_are_broken_and_whole),
		cmocka_unit_test(no_word_is_lost),
		cmocka_unit_test(many_cases_stand_below_each_other),
		cmocka_unit_test(values_are_kept_as_written),
		cmocka_unit_test(a_report_says_that_memory_ended),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
