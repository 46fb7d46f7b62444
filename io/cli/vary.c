/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/verbs.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "io/base/words.h"
#include "io/cli/bounds.h"
#include "io/cli/paper.h"
#include "io/figure/curve.h"
#include "io/figure/map.h"
#include "io/report/csv_stream.h"
#include "io/report/json_stream.h"
#include "io/report/placed.h"
#include "io/report/varied.h"

/* Steps where none are said: of one number, and of each of two. */
enum { STEPS = 20, STEPS_OF_TWO = 12 };

typedef struct asked {
	rn_varied_number of[RN_VARIED_MOST];
	int of_count, steps[RN_VARIED_MOST];
	rn_object part;
} asked;

static int refuse(rn_job *r, const char *option)
{
	fprintf(stderr, "funicle: %s: ", option);
	rn_job_print(r->message.bytes ? r->message.bytes : "out of memory");
	fputc('\n', stderr);
	return EXIT_USAGE;
}

/* "top.height" of a sling round a stem is asked for by the name of one of its ends. */
static void add_end_name(rn_buffer *words, const rn_model *m, const char *text)
{
	const char *equals = strchr(text, '=');
	rn_buffer name = rn_buffer_make(&words->allocator);
	rn_buffer_add(&name, text, equals ? (size_t)(equals - text) : strlen(text));
	int number = name.bytes ? rn_altered_number(m, name.bytes) : RN_NONE;
	bool other = number != RN_NONE && rn_model_number_by_name(m, name.bytes) == RN_NONE;
	if (!other || !rn_words_number_name(words, m, number))
		rn_buffer_add(words, name.bytes, name.size);
	rn_buffer_text(words, equals ? equals : "");
	rn_buffer_release(&name);
}

static int read_number(rn_job *r, const char *text, asked *a)
{
	rn_bounds bounds;
	rn_buffer words = rn_buffer_make(&r->allocator);
	add_end_name(&words, r->document->model, text);
	r->message.size = 0;
	bool read = rn_bounds_read(words.bytes ? words.bytes : "", r->document->model, &bounds, &r->message);
	rn_buffer_release(&words);
	if (!read)
		return refuse(r, "--of");
	for (int i = 0; i < a->of_count; i++)
		if (a->of[i].number == bounds.number) {
			rn_buffer_text(&r->message, "the same number twice");
			return refuse(r, "--of");
		}
	a->of[a->of_count++] = (rn_varied_number){bounds.number, bounds.low, bounds.high};
	return EXIT_NONE_OVER;
}

static int read_case(rn_job *r, rn_options *options)
{
	if (r->command.case_id && rn_job_named(r, RN_CASE, r->command.case_id) == RN_NONE)
		return rn_job_unknown_case(r);
	options->only_case = r->command.case_id;
	return EXIT_NONE_OVER;
}

static bool sets(const rn_model *m, const rn_case *c, int number)
{
	for (int i = 0; i < c->setting_count; i++)
		if (m->settings[c->first_setting + i].number == number)
			return true;
	return false;
}

/* A number that every case sets for itself would be varied in none. */
static int look_at_settings(rn_job *r, const asked *a)
{
	const rn_model *m = r->document->model;
	for (int i = 0; i < a->of_count && !r->command.case_id; i++) {
		int c = 0;
		while (c < m->case_count && sets(m, &m->cases[c], a->of[i].number))
			c++;
		if (c < m->case_count)
			continue;
		rn_buffer_text(&r->message, "every case sets this number itself: say in which it is varied (--case ID)");
		return refuse(r, r->command.of[i]);
	}
	return EXIT_NONE_OVER;
}

static int read_asked(rn_job *r, rn_options *options, asked *a)
{
	const rn_model *m = r->document->model;
	int code = EXIT_NONE_OVER;
	*a = (asked){.part = rn_object_of(RN_NODE, RN_NONE)};
	for (int i = 0; i < r->command.of_count && !code; i++)
		code = read_number(r, r->command.of[i], a);
	if (code)
		return code;
	int steps = r->command.steps ? (int)strtol(r->command.steps, NULL, 10) : a->of_count == 1 ? STEPS : STEPS_OF_TWO;
	for (int i = 0; i < RN_VARIED_MOST; i++)
		a->steps[i] = steps;
	r->message.size = 0;
	code = read_case(r, options);
	if (!code)
		code = look_at_settings(r, a);
	if (!code && r->command.part_id) {
		a->part = rn_model_object_by_id(m, r->command.part_id);
		if (a->part.index == RN_NONE)
			code = rn_job_unknown(r, "part", r->command.part_id);
	}
	return code;
}

static int refuse_study(const rn_job *r)
{
	if (r->document->model->drawn_under_load) {
		fputs("funicle: a picture drawn under load shows one moment: no other place fits it\n", stderr);
	} else {
		fputs("funicle: no part that can be held against a limit is called \"", stderr);
		rn_job_print(r->command.part_id ? r->command.part_id : "?");
		fputs("\"\n", stderr);
	}
	return EXIT_USAGE;
}

typedef rn_status tell_function(rn_stream *stream, const rn_job *r, const rn_answer_options *options);

static rn_status tell_varied(rn_stream *stream, const rn_job *r, const rn_answer_options *options)
{
	return rn_varied_tell(stream, &r->varied, options);
}

static rn_status tell_placed(rn_stream *stream, const rn_job *r, const rn_answer_options *options)
{
	return rn_placed_tell(stream, &r->placed, options);
}

static rn_status write_told(rn_job *r, tell_function *tell)
{
	rn_answer_options options = {.file = r->command.model, .sha256 = r->digest, .units = r->command.units};
	if (r->command.format == RN_FORMAT_CSV) {
		rn_csv_stream csv = rn_csv_stream_make(&r->out);
		return tell(&csv.stream, r, &options);
	}
	rn_json_stream json = rn_json_stream_make(&r->out);
	return tell(&json.stream, r, &options);
}

/* Curves of one number, a map of two. */
static int draw(rn_job *r, const rn_varied *varied, const rn_placed *placed)
{
	rn_figure_options options = {r->command.units, r->command.model, r->digest, r->command.paper};
	rn_scene scene;
	rn_status status;
	if (varied->of_count == 1)
		status = rn_curve_scene(&r->allocator, varied, placed, &options, &scene);
	else
		status = rn_map_scene(&r->allocator, varied, placed, &options, &scene);
	if (status == RN_OK)
		status = rn_paper_scene(r, &scene);
	rn_scene_release(&scene);
	int code = rn_job_deliver(r, status), answers = rn_varied_exit(varied);
	return code ? code : answers >= EXIT_NO_EQUILIBRIUM ? answers : EXIT_NONE_OVER;
}

int rn_verb_vary(rn_job *r, rn_options *options)
{
	asked a;
	int code = read_asked(r, options, &a);
	if (code)
		return code;
	rn_status status = rn_vary_find(r->document->model, options, a.of, a.of_count, a.steps, a.part, &r->varied);
	if (status == RN_STATUS_ARGUMENT)
		return refuse_study(r);
	if (status != RN_OK)
		return rn_job_complain(rn_status_text(status), NULL);
	if (rn_paper_is_figure(r))
		return draw(r, &r->varied, NULL);
	status = r->command.format == RN_FORMAT_TEXT ? rn_varied_text(&r->out, &r->varied, r->command.units)
	                                             : write_told(r, tell_varied);
	code = rn_job_deliver(r, status);
	return code ? code : rn_varied_exit(&r->varied);
}

int rn_verb_place(rn_job *r, rn_options *options)
{
	asked a;
	int code = read_asked(r, options, &a);
	if (code)
		return code;
	rn_status status = rn_place_find(r->document->model, options, a.of, a.of_count, a.steps, a.part, &r->placed);
	if (status == RN_STATUS_ARGUMENT)
		return refuse_study(r);
	if (status != RN_OK)
		return rn_job_complain(rn_status_text(status), NULL);
	if (rn_paper_is_figure(r))
		return draw(r, &r->placed.map, &r->placed);
	status = r->command.format == RN_FORMAT_TEXT ? rn_placed_text(&r->out, &r->placed, r->command.units)
	                                             : write_told(r, tell_placed);
	code = rn_job_deliver(r, status);
	return code ? code : rn_placed_exit(&r->placed);
}
