/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * funicle: files and options in, answers and figures out. All thinking is done in the library.
 */
#define _POSIX_C_SOURCE 200809L
#include <gsl/gsl_errno.h>
#include <libxml/parser.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "io/cli/asked.h"
#include "io/cli/digest.h"
#include "io/cli/files.h"
#include "io/cli/options.h"
#include "io/figure/diagram.h"
#include "io/figure/figure.h"
#include "io/figure/page.h"
#include "io/figure/polygon.h"
#include "io/figure/svg.h"
#include "io/report/check.h"
#include "io/report/csv.h"
#include "io/report/csv_stream.h"
#include "io/report/drill.h"
#include "io/report/explain.h"
#include "io/report/json.h"
#include "io/report/json_stream.h"
#include "io/report/largest.h"
#include "io/report/losses.h"
#include "io/report/ranges.h"
#include "io/report/text.h"
#include "io/xml/reader.h"
#include "io/xml/scan.h"

/* What the program ends with; 1, 4 and 5 come from the verdict. */
enum { EXIT_NONE_OVER = 0, EXIT_USAGE = 2, EXIT_INPUT = 3, EXIT_NO_EQUILIBRIUM = 4, EXIT_MACHINE = 6 };

/* Everything a run owns; released in one place. */
typedef struct run {
	rn_allocator allocator;
	rn_command command;
	rn_buffer message, model_bytes, out;
	rn_document *document;
	rn_result *result;
	rn_largest largest;
	rn_ranges *ranges; /* one per case that is asked about */
	int range_count;
	rn_losses losses;
	rn_matters matters;
	rn_let_run *let_runs; /* one per fall, if asked for */
	rn_comparison *comparisons; /* likewise */
	int catch_count;
	char digest[RN_DIGEST_SIZE];
} run;

static int complain(const char *what, const char *why)
{
	fprintf(stderr, "funicle: %s%s%s\n", what, why ? ": " : "", why ? why : "");
	return EXIT_MACHINE;
}

/* ---- reading ------------------------------------------------------------------------------- */

typedef struct store_context {
	const run *run;
} store_context;

static rn_status fetch_store(void *context, const char *href, char **bytes_out, size_t *size_out,
                             const char **reason_out)
{
	const run *r = ((store_context *)context)->run;
	rn_buffer bytes = rn_buffer_make(&r->allocator);
	*reason_out = rn_files_read_beside(r->command.model, href, RN_SCAN_BYTES_MOST, &bytes);
	rn_status status = rn_buffer_status(&bytes);
	if (status == RN_OK && *reason_out)
		status = RN_STATUS_INPUT;
	if (status != RN_OK) {
		rn_buffer_release(&bytes);
		return status;
	}
	*bytes_out = bytes.bytes;
	*size_out = bytes.size;
	return RN_OK;
}

static void print_diagnostics(run *r)
{
	rn_document_print(&r->message, r->document);
	if (r->message.size > 0)
		fwrite(r->message.bytes, 1, r->message.size, stderr);
}

static const char *name_of_model(const run *r)
{
	return strcmp(r->command.model, "-") == 0 ? "standard input" : r->command.model;
}

typedef struct preparing {
	const run *run;
	rn_asked *asked;
} preparing;

static unsigned long seed_of(const run *r)
{
	return r->command.seed ? strtoul(r->command.seed, NULL, 10) : 1;
}

/* What the command line asks besides what the file says. */
static rn_status prepare_model(void *context, rn_model *model)
{
	const preparing *p = context;
	if (p->run->command.verb == RN_VERB_DRILL)
		return rn_drill_change(model, seed_of(p->run), p->run->command.units);
	return rn_asked_prepare(p->asked, model);
}

static int read_model(run *r)
{
	const char *path = r->command.model;
	const char *why = rn_files_read(path, RN_SCAN_BYTES_MOST, &r->model_bytes);
	if (why) { /* a model that cannot be had is no model, and no fault of the machine */
		complain(path, why);
		return EXIT_INPUT;
	}
	if (rn_buffer_status(&r->model_bytes) != RN_OK)
		return complain("out of memory", NULL);
	store_context context = {r};
	rn_fetch fetch = {fetch_store, &context};
	rn_asked asked = {.falls = r->command.verb == RN_VERB_FALL || r->command.drop,
	                  .studied = r->command.let_run || r->command.compare,
	                  .drop = r->command.drop,
	                  .below = r->command.below,
	                  .hand = r->command.hand,
	                  .piece = r->command.piece_id,
	                  .message = &r->message};
	rn_prepare prepare = {prepare_model, &(preparing){r, &asked}};
	rn_status status = rn_document_read_prepared(&r->allocator, name_of_model(r), r->model_bytes.bytes,
	                                             r->model_bytes.size, &fetch, &prepare, &r->document);
	if (status == RN_STATUS_ARGUMENT) {
		complain(r->message.bytes ? r->message.bytes : "out of memory", NULL);
		return EXIT_USAGE;
	}
	if (r->document)
		print_diagnostics(r);
	if (status == RN_STATUS_MEMORY)
		return complain(rn_status_text(status), NULL);
	return status == RN_OK ? EXIT_NONE_OVER : EXIT_INPUT;
}

/* ---- answering ----------------------------------------------------------------------------- */

static bool is_set(const char *variable)
{
	const char *value = getenv(variable);
	return value && *value;
}

/* Bold goes only to a terminal that shows it and whose owner wants it. */
static bool shows_bold(const run *r)
{
	const char *terminal = getenv("TERM");
	return !r->command.output && isatty(STDOUT_FILENO) && !is_set("NO_COLOR") && terminal &&
	       *terminal && strcmp(terminal, "dumb") != 0;
}

static const rn_matters *matters_of(const run *r)
{
	return r->command.matters ? &r->matters : NULL;
}

/* "every" is each part in its turn, unless a part is called that. */
static bool loses_every(const run *r)
{
	return r->command.without && strcmp(r->command.without, "every") == 0 &&
	       rn_model_object_by_id(r->document->model, "every").index == RN_NONE;
}

static rn_status write_answer(run *r)
{
	bool every = loses_every(r);
	const rn_losses *losses = every ? &r->losses : NULL;
	const char *without = every ? NULL : r->command.without;
	rn_answer_options options = {r->command.model, r->digest, r->command.units, r->ranges, r->range_count, losses,
	                             matters_of(r), r->let_runs, r->comparisons, r->catch_count, without};
	rn_text_options text = {shows_bold(r), r->ranges, r->range_count, losses, matters_of(r),
	                        r->let_runs, r->comparisons, r->catch_count, without};
	switch (r->command.format) {
	case RN_FORMAT_JSON: return rn_json_write(&r->out, r->result, &options);
	case RN_FORMAT_CSV: return rn_csv_write(&r->out, r->result, &options);
	case RN_FORMAT_TEXT: break;
	}
	return rn_text_write(&r->out, r->result, r->command.units, &text);
}

static rn_status write_check(run *r)
{
	rn_answer_options options = {.file = r->command.model, .sha256 = r->digest, .units = r->command.units};
	if (r->command.format == RN_FORMAT_TEXT)
		return rn_check_text(&r->out, r->document, r->command.units);
	if (r->command.format == RN_FORMAT_CSV) {
		rn_csv_stream csv = rn_csv_stream_make(&r->out);
		return rn_check_tell(&csv.stream, r->document, &options);
	}
	rn_json_stream json = rn_json_stream_make(&r->out);
	return rn_check_tell(&json.stream, r->document, &options);
}

/* The case asked for, else the one with the closest part, else the first without an answer. */
static int case_to_draw(const run *r)
{
	const rn_model *model = r->document->model;
	const rn_verdict *verdict = &r->result->verdict;
	if (!r->command.case_id && verdict->worst_case != RN_NONE)
		return verdict->worst_case;
	for (int i = 0; !r->command.case_id && i < r->result->case_count; i++)
		if (r->result->cases[i].outcome == RN_OUTCOME_NO_EQUILIBRIUM ||
		    r->result->cases[i].outcome == RN_OUTCOME_NOT_FOUND)
			return i;
	if (!r->command.case_id)
		return 0;
	rn_object found = rn_model_object_by_id(model, r->command.case_id);
	return found.kind == RN_CASE ? found.index : RN_NONE;
}

static int unknown_case(const run *r)
{
	const rn_model *model = r->document->model;
	rn_buffer name = rn_buffer_make(&r->allocator);
	rn_words_plain(&name, r->command.case_id);
	fprintf(stderr, "funicle: there is no case \"%s\"; the model has", name.bytes ? name.bytes : "?");
	rn_buffer_release(&name);
	for (int i = 0; i < model->case_count; i++)
		fprintf(stderr, "%s %s", i ? "," : "", model->cases[i].id);
	fputc('\n', stderr);
	return EXIT_USAGE;
}

static int deliver_to(run *r, const char *path, rn_status status)
{
	if (status == RN_OK)
		status = rn_buffer_status(&r->out);
	if (status != RN_OK)
		return complain(rn_status_text(status), NULL);
	bool over_model = path && r->command.model && rn_files_same(path, r->command.model);
	const char *why = over_model ? "it is the model itself" : rn_files_write(path, &r->out);
	if (why)
		return complain(path ? path : "standard output", why);
	return EXIT_NONE_OVER;
}

static int deliver(run *r, rn_status status)
{
	return deliver_to(r, r->command.output, status);
}

static int unknown(const run *r, const char *kind, const char *id)
{
	rn_buffer name = rn_buffer_make(&r->allocator);
	rn_words_plain(&name, id ? id : "");
	fprintf(stderr, "funicle: there is no %s \"%s\"\n", kind, name.bytes ? name.bytes : "?");
	rn_buffer_release(&name);
	return EXIT_USAGE;
}

/* The object of that kind called so; RN_NONE: none is, or `id` is NULL. */
static int named(const run *r, rn_object_kind kind, const char *id)
{
	rn_object found = rn_object_of(kind, RN_NONE);
	if (id)
		found = rn_model_object_by_id(r->document->model, id);
	return found.kind == kind ? found.index : RN_NONE;
}

/* A working, a polygon or a diagram of what has no answer, or carries nothing. */
static int nothing_there(const run *r)
{
	fprintf(stderr, "funicle: the case has no answer there, or nothing pulls on that node, or that stem has no section\n");
	int verdict = r->result->verdict.exit_class;
	return verdict >= EXIT_NO_EQUILIBRIUM ? verdict : EXIT_USAGE;
}

static bool ends_in(const char *path, const char *end)
{
	size_t size = path ? strlen(path) : 0, own = strlen(end);
	return size > own && strcmp(path + size - own, end) == 0;
}

/* As the name of the file says; SVG where it says nothing. The date of a PDF is the one asked for, so that the same
 * figure is the same file: reproducible-builds.org, SOURCE_DATE_EPOCH. */
static rn_status write_scene(run *r, const rn_scene *scene)
{
	const double print = 200; /* dots per inch: a hair of 0.13 mm */
	const char *epoch = getenv("SOURCE_DATE_EPOCH");
	if (ends_in(r->command.output, ".pdf"))
		return rn_page_pdf(&r->out, scene, epoch ? (time_t)strtoll(epoch, NULL, 10) : 0);
	if (ends_in(r->command.output, ".png"))
		return rn_page_png(&r->out, scene, print);
	rn_svg_write(&r->out, scene);
	return RN_OK;
}

/* The figure asked for, of one case, into the output buffer. *there_out: false when the case has none. */
static rn_status draw_case(run *r, int drawn, int node, int stem, bool *there_out)
{
	rn_figure_options options = {r->command.units, r->command.model, r->digest};
	rn_scene scene;
	rn_status status;
	if (node != RN_NONE)
		status = rn_polygon_scene(&r->allocator, r->result, drawn, node, &options, &scene);
	else if (stem != RN_NONE)
		status = rn_diagram_scene(&r->allocator, r->result, drawn, stem, &options, &scene);
	else
		status = rn_figure_scene(&r->allocator, r->result, drawn, &options, &scene);
	*there_out = status != RN_STATUS_ARGUMENT;
	if (status == RN_OK)
		status = write_scene(r, &scene);
	rn_scene_release(&scene);
	return status;
}

/* "dir/name.svg" and the case "lowering": "dir/name-lowering.svg". */
static void add_case_path(const run *r, int c, rn_buffer *path)
{
	const char *output = r->command.output, *slash = strrchr(output, '/'), *dot = strrchr(output, '.');
	size_t stem = dot && dot > (slash ? slash + 1 : output) ? (size_t)(dot - output) : strlen(output);
	rn_buffer_add(path, output, stem);
	rn_buffer_char(path, '-');
	rn_buffer_text(path, rn_object_id(r->document->model, rn_object_of(RN_CASE, r->result->cases[c].case_index)));
	rn_buffer_text(path, output + stem);
}

/* One file for each case that has such a figure. */
static int draw_all_cases(run *r, int node, int stem)
{
	rn_buffer path = rn_buffer_make(&r->allocator);
	int code = EXIT_NONE_OVER, count = 0;
	for (int c = 0; c < r->result->case_count && code == EXIT_NONE_OVER; c++) {
		bool there;
		r->out.size = path.size = 0;
		rn_status status = draw_case(r, c, node, stem, &there);
		if (!there)
			continue;
		add_case_path(r, c, &path);
		if (status == RN_OK)
			status = rn_buffer_status(&path);
		code = deliver_to(r, path.bytes, status);
		count++;
	}
	rn_buffer_release(&path);
	return count > 0 ? code : nothing_there(r);
}

static int draw(run *r)
{
	int drawn = case_to_draw(r);
	if (drawn == RN_NONE)
		return unknown_case(r);
	int node = named(r, RN_NODE, r->command.node_id), stem = named(r, RN_STEM, r->command.stem_id), code;
	if (r->command.node_id && node == RN_NONE)
		return unknown(r, "node", r->command.node_id);
	if (r->command.stem_id && stem == RN_NONE)
		return unknown(r, "stem", r->command.stem_id);
	if (r->command.all_cases) {
		code = draw_all_cases(r, node, stem);
	} else {
		bool there;
		rn_status status = draw_case(r, drawn, node, stem, &there);
		if (!there)
			return nothing_there(r);
		code = deliver(r, status);
	}
	int verdict = r->result->verdict.exit_class;
	return code ? code : verdict >= EXIT_NO_EQUILIBRIUM ? verdict : EXIT_NONE_OVER;
}

/* The case an exercise is made of: the one asked for, else that of the closest part, else the first that comes to
 * rest. */
static int case_to_drill(const run *r)
{
	int index = case_to_draw(r);
	if (r->command.case_id || (index != RN_NONE && r->result->cases[index].caught.fall == RN_NONE))
		return index;
	for (int i = 0; i < r->result->case_count; i++)
		if (r->result->cases[i].caught.fall == RN_NONE)
			return i;
	return index;
}

static int drill(run *r)
{
	int index = case_to_drill(r);
	if (index == RN_NONE)
		return unknown_case(r);
	rn_drill d = {.seed = seed_of(r), .units = r->command.units, .index = index, .key = r->command.key};
	d.node = r->command.node_id ? named(r, RN_NODE, r->command.node_id) : rn_drill_node(r->document->model, &r->result->cases[index]);
	if (d.node == RN_NONE)
		return unknown(r, "node", r->command.node_id);
	rn_status status = rn_drill_text(&r->out, r->result, &d);
	if (status == RN_STATUS_ARGUMENT) {
		fprintf(stderr, "funicle: the case does not come to rest, or nothing pulls there: no exercise can be made of it\n");
		return EXIT_USAGE;
	}
	return deliver(r, status);
}

static int explain(run *r)
{
	int index = case_to_draw(r);
	if (index == RN_NONE)
		return unknown_case(r);
	const rn_verdict *v = &r->result->verdict;
	int node = rn_explain_node(&r->result->cases[index], index == v->worst_case ? v->worst_part : RN_NONE);
	if (r->command.node_id)
		node = named(r, RN_NODE, r->command.node_id);
	if (node == RN_NONE)
		return unknown(r, "node", r->command.node_id);
	rn_status status = rn_explain_text(&r->out, r->result, index, node, r->command.units);
	if (status == RN_STATUS_ARGUMENT)
		return nothing_there(r);
	int code = deliver(r, status);
	return code ? code : v->exit_class;
}

/* Of the cases made by the program one is enough: they are ends of the same box. */
static bool is_ranged(const rn_model *m, int c)
{
	return m->cases[c].fall == RN_NONE && (!m->cases[c].made || c == 0);
}

static rn_status find_ranges(run *r, const rn_options *options)
{
	const rn_model *m = r->document->model;
	r->ranges = calloc((size_t)m->case_count + 1, sizeof *r->ranges);
	if (!r->ranges)
		return RN_STATUS_MEMORY;
	for (int c = 0; c < m->case_count; c++)
		if (is_ranged(m, c)) {
			rn_status status = rn_ranges_find(m, options, c, &r->ranges[r->range_count]);
			if (status != RN_OK)
				return status;
			r->range_count++;
		}
	return RN_OK;
}

/* The part asked for in the case in which it is closest to its limit, else pulled hardest; RN_NONE: there is
 * no such part. */
static int case_of_part(const rn_result *result, rn_object object, int *part_out)
{
	int found = RN_NONE;
	double most = -1;
	for (int c = 0; c < result->case_count; c++)
		for (int p = 0; p < result->cases[c].part_count; p++) {
			const rn_part_result *part = &result->cases[c].parts[p];
			double share = part->unchecked == RN_CHECKED ? 1e9 + part->utilisation : part->demand;
			bool is_it = part->object.kind == object.kind && part->object.index == object.index;
			if (!is_it || result->cases[c].outcome != RN_OUTCOME_SETTLED || share <= most ||
			    result->cases[c].caught.fall != RN_NONE)
				continue;
			most = share;
			found = c;
			*part_out = p;
		}
	return found;
}

/* The closest part of the cases that come to rest, RN_NONE: none is checked there. */
static int closest_at_rest(const rn_result *result, int *part_out)
{
	int found = RN_NONE;
	double most = 0;
	for (int c = 0; c < result->case_count; c++) {
		const rn_case_result *a = &result->cases[c];
		for (int p = 0; p < a->part_count; p++) {
			bool counts = a->outcome == RN_OUTCOME_SETTLED && a->caught.fall == RN_NONE &&
			              a->parts[p].unchecked == RN_CHECKED && a->parts[p].utilisation > most;
			if (!counts)
				continue;
			most = a->parts[p].utilisation;
			found = c;
			*part_out = p;
		}
	}
	return found;
}

static int find_matters(run *r, const rn_options *options)
{
	const rn_verdict *v = &r->result->verdict;
	int part = v->worst_part, c = v->worst_case;
	if (c != RN_NONE && r->result->cases[c].caught.fall != RN_NONE)
		c = closest_at_rest(r->result, &part);
	rn_object named = rn_model_object_by_id(r->document->model, r->command.matters);
	if (named.index != RN_NONE || strcmp(r->command.matters, "closest") != 0)
		c = named.index == RN_NONE ? RN_NONE : case_of_part(r->result, named, &part);
	rn_status status = c == RN_NONE ? RN_STATUS_ARGUMENT
	                                : rn_matters_find(r->result, options, c, part, &r->matters);
	if (status == RN_STATUS_ARGUMENT) {
		fprintf(stderr, "funicle: --matters: there is no such part with a settled answer\n");
		return EXIT_USAGE;
	}
	return status == RN_OK ? EXIT_NONE_OVER : complain(rn_status_text(status), NULL);
}

/* What is asked about every fall besides what becomes of it. */
static rn_status find_catches(run *r, const rn_options *options)
{
	const rn_model *m = r->document->model;
	size_t room = (size_t)m->fall_count + 1;
	r->let_runs = r->command.let_run ? calloc(room, sizeof *r->let_runs) : NULL;
	r->comparisons = r->command.compare ? calloc(room, sizeof *r->comparisons) : NULL;
	if ((r->command.let_run && !r->let_runs) || (r->command.compare && !r->comparisons))
		return RN_STATUS_MEMORY;
	for (int i = 0; i < m->fall_count; i++) {
		rn_status status = RN_OK;
		if (r->command.let_run)
			status = rn_let_run_find(m, options, m->falls[i].case_index, &r->let_runs[i]);
		if (status == RN_OK && r->command.compare)
			status = rn_comparison_find(m, options, m->falls[i].case_index, &r->comparisons[i]);
		r->catch_count = i + 1;
		if (status != RN_OK)
			return status;
	}
	return RN_OK;
}

static int refuse_let_run(void)
{
	fprintf(stderr, "funicle: --let-run: no line of the model is held by a bollard or a hand that could let it run, or "
	                "it is not plain which\n");
	return EXIT_USAGE;
}

static int solve(run *r, const rn_options *options)
{
	int matters = r->command.matters ? find_matters(r, options) : EXIT_NONE_OVER;
	if (matters)
		return matters;
	rn_status status = find_catches(r, options);
	if (status == RN_STATUS_ARGUMENT)
		return refuse_let_run();
	if (status == RN_OK && r->command.ranges)
		status = find_ranges(r, options);
	if (status == RN_OK && loses_every(r))
		status = rn_losses_find(r->result, options, &r->losses);
	int code = status == RN_OK ? deliver(r, write_answer(r)) : complain(rn_status_text(status), NULL);
	int verdict = r->result->verdict.exit_class;
	bool jolt = r->command.without && !loses_every(r) && rn_losses_over_at_jolt(r->result);
	bool over = jolt || rn_ranges_over(r->ranges, r->range_count);
	return code ? code : verdict == EXIT_NONE_OVER && over ? 1 : verdict;
}

/* ---- the largest piece ----------------------------------------------------------------------- */

static bool has_weight(const rn_model *m, rn_object piece)
{
	int number = rn_model_find_number(m, piece, RN_ATTRIBUTE_WEIGHT);
	return number != RN_NONE && m->numbers[number].value > 0;
}

/* The n-th piece with a weight, from 0; ends of a long one have none. */
static rn_object weighed_piece(const rn_model *m, int n)
{
	for (int k = 0; k < 2; k++)
		for (int i = 0; i < (k ? m->prop_count : m->node_count); i++) {
			rn_object object = rn_object_of(k ? RN_PROP : RN_NODE, i);
			if (rn_is_piece(m, object) && has_weight(m, object) && n-- == 0)
				return object;
		}
	return rn_object_of(RN_NODE, RN_NONE);
}

static int refuse_piece(const run *r, const char *why)
{
	const rn_model *m = r->document->model;
	fprintf(stderr, "funicle: %s", why);
	for (int i = 0; weighed_piece(m, i).index != RN_NONE; i++)
		fprintf(stderr, "%s%s", i ? ", " : "; there is ", rn_object_id(m, weighed_piece(m, i)));
	fputc('\n', stderr);
	return EXIT_USAGE;
}

static rn_object first_piece(const rn_model *m)
{
	for (int k = 0; k < 2; k++)
		for (int i = 0; i < (k ? m->prop_count : m->node_count); i++)
			if (rn_is_piece(m, rn_object_of(k ? RN_PROP : RN_NODE, i)))
				return rn_object_of(k ? RN_PROP : RN_NODE, i);
	return rn_object_of(RN_NODE, RN_NONE);
}

/* Nobody named a wrong piece: the model has none to walk up from. */
static int refuse_model(const run *r, rn_object piece)
{
	const char *file = name_of_model(r);
	if (piece.index == RN_NONE)
		fprintf(stderr, "funicle: %s: there is no piece in it\n", file);
	else
		fprintf(stderr, "funicle: %s: piece %s has no weight to begin with\n", file,
		        rn_object_id(r->document->model, piece));
	return EXIT_INPUT;
}

static rn_status write_largest(run *r)
{
	rn_answer_options options = {.file = r->command.model, .sha256 = r->digest, .units = r->command.units};
	if (r->command.format == RN_FORMAT_TEXT)
		return rn_largest_text(&r->out, &r->largest, r->command.units);
	if (r->command.format == RN_FORMAT_CSV) {
		rn_csv_stream csv = rn_csv_stream_make(&r->out);
		return rn_largest_tell(&csv.stream, &r->largest, &options);
	}
	rn_json_stream json = rn_json_stream_make(&r->out);
	return rn_largest_tell(&json.stream, &r->largest, &options);
}

static int largest(run *r, const rn_options *options)
{
	const rn_model *m = r->document->model;
	rn_object piece = r->command.piece_id ? rn_model_object_by_id(m, r->command.piece_id) : weighed_piece(m, 0);
	if (!r->command.piece_id && weighed_piece(m, 1).index != RN_NONE)
		return refuse_piece(r, "say which piece (--piece ID)");
	if (piece.index == RN_NONE && !r->command.piece_id)
		return refuse_model(r, first_piece(m));
	if (!rn_is_piece(m, piece))
		return refuse_piece(r, "no piece is called that");
	if (!has_weight(m, piece))
		return refuse_model(r, piece);
	rn_status status = rn_largest_find(m, options, piece, &r->largest);
	if (status != RN_OK)
		return complain(rn_status_text(status), NULL);
	int code = deliver(r, write_largest(r));
	return code ? code : rn_largest_exit(&r->largest);
}

/* ---- all verbs ------------------------------------------------------------------------------- */

/* What is wrong with a model is an answer as well, but as text it stands in standard error only. */
static int check(run *r, int read_code)
{
	bool told = r->document && (r->document->model || r->command.format != RN_FORMAT_TEXT);
	int code = told ? deliver(r, write_check(r)) : EXIT_NONE_OVER;
	return code ? code : read_code;
}

static rn_status solve_all_or_without(run *r, const rn_options *options)
{
	const rn_model *m = r->document->model;
	if (!r->command.without || loses_every(r))
		return rn_solve(m, options, &r->result);
	rn_object part = rn_model_object_by_id(m, r->command.without);
	return part.index == RN_NONE ? RN_STATUS_ARGUMENT : rn_solve_without(m, options, part, &r->result);
}

static int refuse_part(const run *r)
{
	rn_buffer name = rn_buffer_make(&r->allocator);
	rn_words_plain(&name, r->command.without);
	fprintf(stderr, "funicle: nothing called \"%s\" can let go: name a line, sling, anchor, ring, block, connector or stem, or every\n",
	        name.bytes ? name.bytes : "?");
	rn_buffer_release(&name);
	return EXIT_USAGE;
}

static int answer(run *r)
{
	rn_options options = rn_options_default();
	options.allocator = r->allocator;
	options.falls_only = r->command.verb == RN_VERB_FALL;
	int code = read_model(r);
	rn_digest(r->model_bytes.bytes, r->model_bytes.size, r->digest);
	if (r->command.verb == RN_VERB_CHECK)
		return check(r, code);
	if (code)
		return code;
	if (r->command.verb == RN_VERB_LARGEST)
		return largest(r, &options);
	rn_status status = solve_all_or_without(r, &options);
	if (status == RN_STATUS_ARGUMENT)
		return refuse_part(r);
	if (status != RN_OK)
		return complain(rn_status_text(status), NULL);
	if (r->command.verb == RN_VERB_EXPLAIN)
		return explain(r);
	if (r->command.verb == RN_VERB_DRILL)
		return drill(r);
	return r->command.verb == RN_VERB_DRAW ? draw(r) : solve(r, &options);
}

/* ---- the run ------------------------------------------------------------------------------- */

static const char version_text[] =
	"funicle " RN_VERSION_TEXT "\n"
	"Licence GPL-3.0-or-later. There is no warranty, to the extent that law permits.\n";

static int obey(run *r, int count, char **words)
{
	if (count < 2) {
		rn_options_help(&r->out);
		(void)deliver(r, RN_OK);
		return EXIT_USAGE;
	}
	if (!rn_options_read(count, words, &r->command, &r->message)) {
		fprintf(stderr, "funicle: %s (see funicle --help)\n",
		        r->message.bytes ? r->message.bytes : "out of memory");
		return EXIT_USAGE;
	}
	if (r->command.help)
		rn_options_help(&r->out);
	else if (r->command.version)
		rn_buffer_text(&r->out, version_text);
	else
		return answer(r);
	r->command.output = NULL;
	return deliver(r, RN_OK);
}

static void release(run *r)
{
	rn_result_destroy(r->result);
	rn_largest_release(&r->largest);
	for (int i = 0; i < r->range_count; i++)
		rn_ranges_release(&r->ranges[i]);
	free(r->ranges);
	for (int i = 0; i < r->catch_count; i++) {
		if (r->let_runs)
			rn_let_run_release(&r->let_runs[i]);
		if (r->comparisons)
			rn_comparison_release(&r->comparisons[i]);
	}
	free(r->let_runs);
	free(r->comparisons);
	rn_losses_release(&r->losses);
	rn_matters_release(&r->matters);
	rn_document_destroy(r->document);
	rn_buffer_release(&r->message);
	rn_buffer_release(&r->model_bytes);
	rn_buffer_release(&r->out);
}

/* libxml2 has a channel of its own for what no parser has been asked about. */
static void say_nothing(void *context, const char *message, ...)
{
	(void)context;
	(void)message;
}

int main(int count, char **words)
{
	run r = {.allocator = rn_allocator_default()};
	r.message = rn_buffer_make(&r.allocator);
	r.model_bytes = rn_buffer_make(&r.allocator);
	r.out = rn_buffer_make(&r.allocator);
	rn_files_begin();
	gsl_set_error_handler_off();
	LIBXML_TEST_VERSION
	xmlInitParser();
	xmlSetGenericErrorFunc(NULL, say_nothing);
	int code = obey(&r, count, words);
	release(&r);
	xmlCleanupParser();
	return code;
}
