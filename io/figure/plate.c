/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/plate.h"

#include <math.h>

#include "io/report/verdict.h"

const double rn_plate_width = 297, rn_plate_height = 210, rn_plate_margin = 9;
const double rn_plate_top = 41, rn_plate_foot_top = 197;

static const double label_clear = 1.2; /* [mm] */

void rn_plate_begin(rn_plate *plate, rn_scene *scene, const rn_result *result, int case_index,
                    const rn_figure_options *options)
{
	plate->scene = scene;
	plate->result = result;
	plate->answer = &result->cases[case_index];
	plate->units = options->units;
	plate->text = rn_buffer_make(&scene->pool.allocator);
	plate->label_count = 0;
	scene->width = rn_plate_width;
	scene->height = rn_plate_height;
	if (options->paper == RN_PAPER_LETTER) { /* a little smaller as a whole, and white below */
		scene->print = 279.4 / rn_plate_width;
		scene->height = 215.9 / scene->print;
	}
	scene->scale = 1;
	scene->origin[1] = rn_plate_height;
}

void rn_plate_end(rn_plate *plate)
{
	rn_buffer_release(&plate->text);
}

const char *rn_plate_keep(rn_plate *plate)
{
	return rn_scene_keep(plate->scene, &plate->text);
}

void rn_plate_text(rn_plate *plate, rn_hand_of_text hand, double x, double y, const char *text)
{
	double at[2];
	rn_scene_from_paper(plate->scene, x, y, at);
	rn_scene_text(plate->scene, hand, at, text);
}

void rn_plate_line(rn_plate *plate, rn_role role, double x0, double y0, double x1, double y1)
{
	double a[2], b[2];
	rn_scene_from_paper(plate->scene, x0, y0, a);
	rn_scene_from_paper(plate->scene, x1, y1, b);
	rn_scene_segment(plate->scene, role, 0, a, b);
}

void rn_plate_label(rn_plate *plate, int rank, rn_hand_of_text hand, const char *text, const double at[2],
                    double toward_x, double toward_y)
{
	if (plate->label_count == RN_PLATE_LABELS)
		return;
	plate->labels[plate->label_count++] = (rn_label){
		.lines = {text}, .hands = {hand}, .line_count = 1, .targets = {{at[0], at[1]}}, .target_count = 1,
		.toward = {toward_x, toward_y}, .clear = label_clear, .rank = rank};
}

void rn_plate_place_labels(rn_plate *plate, const double area[4])
{
	rn_scene_open_group(plate->scene, "labels");
	rn_labels_place(plate->scene, plate->labels, plate->label_count, area);
	rn_scene_close_group(plate->scene);
	plate->label_count = 0;
}

/* A line of the head, with "..." where it is wider than the sheet. */
static void head_line(rn_plate *plate, rn_hand_of_text hand, double below, const char *text)
{
	rn_lettering_cut(&plate->text, text, hand, rn_plate_width - 2 * rn_plate_margin);
	rn_plate_text(plate, hand, rn_plate_margin, rn_plate_margin + below, rn_plate_keep(plate));
}

void rn_plate_title(rn_plate *plate, const char *subject, const char *verdict, bool alert)
{
	const rn_model *m = plate->result->model;
	const double left = rn_plate_margin, right = rn_plate_width - rn_plate_margin;
	rn_words_plain(&plate->text, m->title ? m->title : "Rigging");
	const char *title = rn_plate_keep(plate);
	head_line(plate, RN_TEXT_TITLE, 6, title);
	head_line(plate, RN_TEXT_PLAIN, 13, subject);
	head_line(plate, alert ? RN_TEXT_ALERT : RN_TEXT_STRONG, 19, verdict);
	rn_plate_line(plate, RN_ROLE_FRAME, left, rn_plate_top - 7, right, rn_plate_top - 7);
	rn_buffer_format(&plate->text, "%s: %s", title, subject);
	plate->scene->title = rn_plate_keep(plate);
}

void rn_plate_head(rn_plate *plate, const char *what, rn_object part)
{
	const rn_model *m = plate->result->model;
	rn_buffer_format(&plate->text, "%s ", what);
	rn_words_part(&plate->text, m, part);
	rn_buffer_text(&plate->text, ", case ");
	rn_words_object(&plate->text, m, rn_object_of(RN_CASE, plate->answer->case_index));
	if (plate->answer->caught.fall != RN_NONE)
		rn_buffer_text(&plate->text, ", at the peak of the catch");
	const char *subject = rn_plate_keep(plate);
	rn_verdict_sentence(&plate->text, plate->result, plate->units);
	rn_plate_title(plate, subject, rn_plate_keep(plate), plate->result->verdict.over);
}

void rn_plate_foot(rn_plate *plate, const rn_figure_options *options)
{
	rn_buffer_text(&plate->text, rn_words_caution(plate->result->model, 0));
	rn_plate_text(plate, RN_TEXT_SMALL, rn_plate_margin, rn_plate_foot_top, rn_plate_keep(plate));
	rn_buffer_text(&plate->text, "funicle " RN_VERSION_TEXT);
	if (options->file) {
		rn_buffer_text(&plate->text, ", model ");
		rn_words_plain(&plate->text, options->file);
	}
	if (options->digest)
		rn_buffer_format(&plate->text, ", SHA-256 %s", options->digest);
	rn_plate_text(plate, RN_TEXT_SMALL, rn_plate_margin, rn_plate_foot_top + 5, rn_plate_keep(plate));
}

double rn_plate_round_down(double most)
{
	double power = pow(10, floor(log10(most)));
	return most >= 5 * power ? 5 * power : most >= 2 * power ? 2 * power : power;
}
