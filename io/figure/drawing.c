/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The rigging of one case, from the ground up: stems, what was drawn, pulls, sides to keep out of,
 * ropes, signs, what is closest to its limit. The labels are gathered here and placed last.
 */
#include "io/figure/drawing.h"

#include <math.h>

#include "io/figure/symbols.h"
#include "io/report/verdict.h"

static const double pi = 3.14159265358979323846;

/* On paper [mm]. */
static const double stroke_least = 0.45, stroke_most = 2.0;
static const double tail_most = 26, tail_half = 2.4, tail_tip = 3.5;
static const double moved_least = 1.2; /* a smaller move cannot be seen */
static const double ring_inner = 3.5, ring_outer = 4.3;

const double *rn_drawing_place(const rn_drawing *d, int node)
{
	const rn_node_result *n = &d->answer->nodes[node];
	return d->settled ? n->place : n->drawn;
}

double rn_drawing_stroke(const rn_drawing *d, double tension)
{
	double share = d->tension_most > 0 ? tension / d->tension_most : 0;
	return stroke_least + (stroke_most - stroke_least) * share;
}

static const char *keep(rn_drawing *d)
{
	return rn_scene_keep(d->scene, &d->text);
}

static const rn_part_result *part_of(const rn_drawing *d, rn_object object)
{
	for (int i = 0; i < d->answer->part_count; i++)
		if (d->answer->parts[i].object.kind == object.kind &&
		    d->answer->parts[i].object.index == object.index)
			return &d->answer->parts[i];
	return NULL;
}

static bool is_over(const rn_drawing *d, rn_object object)
{
	const rn_part_result *part = d->settled ? part_of(d, object) : NULL;
	return part && rn_verdict_is_over(part);
}

static bool same_object(rn_object a, rn_object b)
{
	return a.kind == b.kind && a.index == b.index;
}

/* ---- study ----------------------------------------------------------------------------------- */

/* The parts that get a letter: the closest first, then any other that is over, hardest first. */
static int next_lettered(const rn_drawing *d)
{
	int next = RN_NONE;
	for (int i = 0; i < d->answer->part_count; i++) {
		const rn_part_result *p = &d->answer->parts[i];
		bool candidate = p->unchecked == RN_CHECKED && p->demand > rn_words_nothing &&
		                 (d->lettered_count == 0 || rn_verdict_is_over(p));
		for (int k = 0; k < d->lettered_count; k++)
			candidate = candidate && d->lettered[k] != i;
		if (candidate &&
		    (next == RN_NONE || p->utilisation > d->answer->parts[next].utilisation))
			next = i;
	}
	return next;
}

/* Which signs may come, so that room for their key can be kept; slack and runs are small enough to
 * be kept room for whenever there are ropes. */
static void expect_signs(rn_drawing *d)
{
	bool *expects = d->expects;
	bool lines = d->model->line_count > 0, slings = d->model->sling_count > 0;
	expects[RN_SIGN_UNSETTLED] = !d->settled;
	expects[RN_SIGN_PROP] = d->model->prop_count > 0;
	expects[RN_SIGN_FORCE] = d->model->force_count > 0;
	if (!d->settled)
		return;
	expects[RN_SIGN_ROPE] = expects[RN_SIGN_RUN] = lines;
	expects[RN_SIGN_SLING] = slings;
	expects[RN_SIGN_TAIL] = expects[RN_SIGN_GHOST] = true;
	expects[RN_SIGN_PATH] = d->answer->caught.path_count > 0;
	expects[RN_SIGN_KEEP_OUT] = d->answer->pass_count > 0;
	expects[RN_SIGN_CLOSEST] = d->lettered_count > 0;
	for (int i = 0; i < d->lettered_count; i++)
		if (rn_verdict_is_over(&d->answer->parts[d->lettered[i]]))
			expects[RN_SIGN_OVER] = true;
	for (int i = 0; i < d->answer->span_count; i++)
		if (d->answer->spans[i].tension <= rn_words_nothing)
			expects[RN_SIGN_SLACK] = true;
}

void rn_drawing_study(rn_drawing *d)
{
	d->settled = rn_verdict_has_answer(d->answer);
	for (int i = 0; d->settled && i < d->answer->span_count; i++)
		if (d->answer->spans[i].member.kind != RN_PROP)
			d->tension_most = fmax(d->tension_most, d->answer->spans[i].tension);
	while (d->settled && d->lettered_count < RN_LETTERED_MOST) {
		int next = next_lettered(d);
		if (next == RN_NONE)
			break;
		d->lettered[d->lettered_count++] = next;
	}
	expect_signs(d);
}

/* ---- extent ---------------------------------------------------------------------------------- */

static void take_in(double extent[4], const double place[2])
{
	extent[0] = fmin(extent[0], place[0]);
	extent[1] = fmin(extent[1], place[1]);
	extent[2] = fmax(extent[2], place[0]);
	extent[3] = fmax(extent[3], place[1]);
}

/* How high a stem is drawn: to its last section, or to the highest thing on it. */
static double stem_height(const rn_drawing *d, int stem)
{
	double height = 0;
	const rn_stem *s = &d->model->stems[stem];
	for (int i = 0; i < s->section_count; i++)
		height = fmax(height, rn_model_value(d->model, d->values,
		                                     rn_object_of(RN_SECTION, s->first_section + i),
		                                     RN_ATTRIBUTE_HEIGHT, 0));
	for (int i = 0; i < d->model->node_count; i++)
		if (d->model->nodes[i].stem == stem)
			height = fmax(height, 0.3 + rn_model_value(d->model, d->values,
			                                           rn_object_of(RN_NODE, i),
			                                           RN_ATTRIBUTE_HEIGHT, 0));
	return height;
}

static void take_in_stem(const rn_drawing *d, int stem, double extent[4])
{
	for (int end = 0; end < 2; end++) {
		double axis[2], diameter;
		double height = end ? stem_height(d, stem) : 0;
		rn_stem_at(d->model, d->values, stem, height, axis, &diameter);
		double left[2] = {axis[0] - diameter / 2, axis[1]};
		double right[2] = {axis[0] + diameter / 2, axis[1]};
		take_in(extent, left);
		take_in(extent, right);
	}
}

void rn_drawing_extent(const rn_drawing *d, double extent[4])
{
	extent[0] = extent[1] = HUGE_VAL;
	extent[2] = extent[3] = -HUGE_VAL;
	for (int i = 0; i < d->model->node_count; i++) {
		take_in(extent, d->answer->nodes[i].drawn);
		take_in(extent, rn_drawing_place(d, i));
	}
	for (int i = 0; d->settled && i < d->answer->caught.path_count; i++)
		take_in(extent, d->answer->caught.path[i]);
	for (int i = 0; i < d->model->stem_count; i++)
		take_in_stem(d, i, extent);
}

/* ---- labels ---------------------------------------------------------------------------------- */

static rn_label *add_label(rn_drawing *d, int rank, double clear)
{
	rn_label *grown = rn_pool_grow(&d->scene->pool, d->labels, d->label_count, &d->label_room,
	                               sizeof *d->labels);
	if (!grown)
		return NULL;
	d->labels = grown;
	rn_label *label = &d->labels[d->label_count++];
	*label = (rn_label){.rank = rank, .clear = clear};
	return label;
}

static void add_target(rn_label *label, const double place[2])
{
	if (!label || label->target_count == RN_LABEL_TARGETS)
		return;
	label->targets[label->target_count][0] = place[0];
	label->targets[label->target_count][1] = place[1];
	label->target_count++;
}

/* Takes what stands in the scratch buffer as the label's next line. */
static void end_line(rn_drawing *d, rn_label *label, rn_hand_of_text hand)
{
	const char *text = keep(d);
	if (!label || label->line_count == RN_LABEL_LINES)
		return;
	label->lines[label->line_count] = text;
	label->hands[label->line_count++] = hand;
}

/* A name that leaves room for the figure. */
static void add_name(rn_drawing *d, rn_object object)
{
	const double name_most = 34;
	size_t before = d->text.size;
	rn_words_object(&d->text, d->model, object);
	if (!d->text.bytes)
		return;
	size_t fits = rn_lettering_fit(d->text.bytes + before, RN_TEXT_STRONG, name_most);
	if (before + fits < d->text.size) {
		d->text.size = before + fits;
		d->text.bytes[d->text.size] = '\0';
		rn_buffer_text(&d->text, "...");
	}
}

/* ---- ground and stems ------------------------------------------------------------------------ */

/* Bark to the left (-1) or right (+1) at a height. */
static void bark(const rn_drawing *d, int stem, double height, int side, double out[2])
{
	double axis[2], above[2], diameter, unused;
	rn_stem_at(d->model, d->values, stem, height, axis, &diameter);
	rn_stem_at(d->model, d->values, stem, height + 1, above, &unused);
	out[0] = axis[0] + side * diameter / 2 * (above[1] - axis[1]);
	out[1] = axis[1] - side * diameter / 2 * (above[0] - axis[0]);
}

static void label_stem(rn_drawing *d, int stem, const double foot[2])
{
	rn_label *label = add_label(d, 6, 2.2);
	add_target(label, foot);
	if (label)
		label->toward[1] = -1;
	add_name(d, rn_object_of(RN_STEM, stem));
	end_line(d, label, RN_TEXT_SMALL);
}

static void draw_stem(rn_drawing *d, int stem)
{
	enum { LEVELS = 12 };
	double outline[2 * LEVELS][2], foot[2], unused, height = stem_height(d, stem);
	for (int i = 0; i < LEVELS; i++) {
		bark(d, stem, height * i / (LEVELS - 1), -1, outline[i]);
		bark(d, stem, height * i / (LEVELS - 1), +1, outline[2 * LEVELS - 1 - i]);
	}
	rn_buffer_text(&d->text, "stem ");
	rn_words_object(&d->text, d->model, rn_object_of(RN_STEM, stem));
	rn_scene_open_group(d->scene, keep(d));
	rn_scene_polygon(d->scene, RN_ROLE_STEM, (const double (*)[2])outline, 2 * LEVELS);
	rn_scene_close_group(d->scene);
	rn_stem_at(d->model, d->values, stem, 0, foot, &unused);
	if (d->model->stems[stem].on == RN_NONE) /* the name stands at the foot; a branch has none */
		label_stem(d, stem, foot);
}

static void soil_stroke(rn_drawing *d, double x, double y)
{
	double a[2] = {x, y};
	double b[2] = {x - rn_scene_mm(d->scene, 1.6), y - rn_scene_mm(d->scene, 1.8)};
	rn_scene_segment(d->scene, RN_ROLE_SOIL, 0, a, b);
}

/* Ground from place to place, level or sloping, with soil under it. */
static void ground_between(rn_drawing *d, const double a[2], const double b[2])
{
	double step = rn_scene_mm(d->scene, 3.2), length = hypot(b[0] - a[0], b[1] - a[1]);
	int count = (int)fmin(length / step, 200);
	rn_scene_segment(d->scene, RN_ROLE_GROUND, 0, a, b);
	for (int i = 0; i < count; i++) {
		double t = (i + 0.7) / count;
		soil_stroke(d, a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]));
	}
}

/* The stem whose foot is the next one to the right of x; RN_NONE at the end. */
static int next_foot(const rn_drawing *d, double x, double foot_out[2])
{
	int next = RN_NONE;
	for (int i = 0; i < d->model->stem_count; i++) {
		double foot[2], unused;
		if (d->model->stems[i].on != RN_NONE)
			continue;
		rn_stem_at(d->model, d->values, i, 0, foot, &unused);
		if (foot[0] > x && (next == RN_NONE || foot[0] < foot_out[0])) {
			next = i;
			foot_out[0] = foot[0];
			foot_out[1] = foot[1];
		}
	}
	return next;
}

static void draw_ground(rn_drawing *d, const double area[4])
{
	double left[2], right[2], here[2], foot[2];
	rn_scene_from_paper(d->scene, area[0] + 2, 0, left);
	rn_scene_from_paper(d->scene, area[2] - 2, 0, right);
	if (next_foot(d, -HUGE_VAL, here) == RN_NONE)
		return;
	rn_scene_open_group(d->scene, "ground");
	double first[2] = {fmin(left[0], here[0]), here[1]};
	ground_between(d, first, here);
	while (next_foot(d, here[0], foot) != RN_NONE) {
		ground_between(d, here, foot);
		here[0] = foot[0];
		here[1] = foot[1];
	}
	double last[2] = {fmax(right[0], here[0]), here[1]};
	ground_between(d, here, last);
	rn_scene_close_group(d->scene);
}

/* ---- as drawn -------------------------------------------------------------------------------- */

static bool has_moved(const rn_drawing *d, int node)
{
	const rn_node_result *n = &d->answer->nodes[node];
	double moved = hypot(n->place[0] - n->drawn[0], n->place[1] - n->drawn[1]);
	return d->settled && moved * d->scene->scale > moved_least;
}

static void ghost_span(rn_drawing *d, int from, int to)
{
	if (!has_moved(d, from) && !has_moved(d, to))
		return;
	rn_scene_segment(d->scene, RN_ROLE_GHOST, 0, d->answer->nodes[from].drawn,
	                 d->answer->nodes[to].drawn);
	d->uses[RN_SIGN_GHOST] = true;
}

static void draw_ghosts(rn_drawing *d)
{
	rn_scene_open_group(d->scene, "as drawn, before it settled");
	for (int i = 0; i < d->model->line_count; i++) {
		const rn_station *s = &d->model->stations[d->model->lines[i].first_station];
		for (int k = 0; k + 1 < d->model->lines[i].station_count; k++)
			ghost_span(d, s[k].node, s[k + 1].node);
	}
	for (int i = 0; i < d->model->leg_count; i++)
		ghost_span(d, d->model->legs[i].from, d->model->legs[i].to);
	for (int i = 0; i < d->model->prop_count; i++)
		ghost_span(d, d->model->props[i].from, d->model->props[i].to);
	for (int i = 0; i < d->model->node_count; i++)
		if (has_moved(d, i))
			rn_scene_circle(d->scene, RN_ROLE_GHOST, d->answer->nodes[i].drawn,
			                rn_scene_mm(d->scene, 1.3));
	rn_scene_close_group(d->scene);
}

/* The way of a piece that falls: from where it is let go, by way of where its line begins to hold, to where it
 * stops. */
static void draw_path(rn_drawing *d)
{
	const rn_caught *caught = &d->answer->caught;
	if (!d->settled || caught->path_count == 0)
		return;
	rn_scene_open_group(d->scene, "way of the piece");
	rn_scene_line(d->scene, RN_ROLE_PATH, 0, (const double(*)[2])caught->path, caught->path_count);
	rn_scene_circle(d->scene, RN_ROLE_PATH_END, caught->path[0], rn_scene_mm(d->scene, 1));
	rn_scene_close_group(d->scene);
	d->uses[RN_SIGN_PATH] = true;
	rn_label *label = add_label(d, 2, 1.6);
	add_target(label, caught->path[0]);
	rn_buffer_text(&d->text, "let go here");
	end_line(d, label, RN_TEXT_STRONG);
	rn_buffer_text(&d->text, "stopped ");
	rn_words_length(&d->text, caught->travel, RN_UP, d->units);
	rn_buffer_text(&d->text, " below");
	end_line(d, label, RN_TEXT_SMALL);
}

/* ---- pulls on anchors ------------------------------------------------------------------------ */

static const rn_hold_result *hold_at(const rn_drawing *d, int node)
{
	for (int i = 0; d->settled && i < d->answer->hold_count; i++)
		if (d->answer->holds[i].node == node)
			return &d->answer->holds[i];
	return NULL;
}

/* A hand that holds is not an anchor: it pulls. */
static bool is_hand(const rn_drawing *d, int node)
{
	return d->model->nodes[node].kind == RN_NODE_HAND && hold_at(d, node);
}

static double pull_on(const rn_drawing *d, int node)
{
	const double *pull = d->answer->nodes[node].pull;
	bool told = d->settled && rn_node_is_fixed(&d->model->nodes[node]) && !is_hand(d, node);
	return told ? hypot(pull[0], pull[1]) : 0;
}

static bool tail_fits(const rn_drawing *d, int node, double scale, const double area[4])
{
	double paper[2];
	const double *pull = d->answer->nodes[node].pull;
	rn_scene_to_paper(d->scene, rn_drawing_place(d, node), paper);
	double x = paper[0] + scale * pull[0], y = paper[1] - scale * pull[1];
	return x > area[0] + 1 && x < area[2] - 1 && y > area[1] + 1 && y < area[3] - 1;
}

/* The largest round number of mm per kN or per 100 lbf at which the hardest pull has the length of
 * a finger's joint and no tail leaves the area. */
static void choose_force_scale(rn_drawing *d, const double area[4])
{
	static const double steps[] = {8, 6, 5, 4, 3, 2, 1.5, 1};
	const int step_count = sizeof steps / sizeof *steps;
	double most = 0, unit = d->units == RN_US ? 444.82216152605 : 1000;
	for (int i = 0; i < d->model->node_count; i++)
		most = fmax(most, pull_on(d, i));
	if (most <= rn_words_nothing)
		return;
	int power = (int)ceil(log10(tail_most * unit / most));
	for (int tried = 0; tried < 3 * step_count; tried++) {
		double scale =
			steps[tried % step_count] * pow(10, power - tried / step_count) / unit;
		bool fits = scale * most <= tail_most;
		for (int i = 0; i < d->model->node_count && fits; i++)
			fits = pull_on(d, i) <= 0 || tail_fits(d, i, scale, area);
		d->scene->force_scale = scale;
		if (fits)
			return;
	}
}

static bool touches_line(const rn_drawing *d, int node)
{
	for (int i = 0; i < d->model->station_count; i++)
		if (d->model->stations[i].node == node)
			return true;
	return false;
}

static void record_tail(rn_drawing *d, int node, double force, double length)
{
	rn_scene *s = d->scene;
	rn_tail *grown =
		rn_pool_grow(&s->pool, s->tails, s->tail_count, &s->tail_room, sizeof *s->tails);
	if (!grown)
		return;
	s->tails = grown;
	s->tails[s->tail_count++] = (rn_tail){.node = node, .force = force, .length = length};
}

/* A ribbon that runs out of the anchor the way it is pulled and ends in a point. */
static void draw_tail(rn_drawing *d, int node)
{
	double force = pull_on(d, node), length = force * d->scene->force_scale;
	if (force <= rn_words_nothing)
		return;
	const double *place = rn_drawing_place(d, node), *pull = d->answer->nodes[node].pull;
	double u[2] = {pull[0] / force, pull[1] / force}, k = rn_scene_mm(d->scene, 1);
	double neck = fmax(length - tail_tip, 0), half = tail_half;
	const double shape[5][2] = {
		{0, half}, {neck, half}, {length, 0}, {neck, -half}, {0, -half}};
	double points[5][2];
	for (int i = 0; i < 5; i++) {
		points[i][0] = place[0] + k * (shape[i][0] * u[0] - shape[i][1] * u[1]);
		points[i][1] = place[1] + k * (shape[i][0] * u[1] + shape[i][1] * u[0]);
	}
	rn_role role = touches_line(d, node) ? RN_ROLE_TAIL_ROPE : RN_ROLE_TAIL_SLING;
	rn_scene_polygon(d->scene, role, (const double (*)[2])points, 5);
	record_tail(d, node, force, length);
	d->uses[RN_SIGN_TAIL] = true;
}

static void draw_tails(rn_drawing *d)
{
	rn_scene_open_group(d->scene, "pulls on anchors, to the force scale");
	for (int i = 0; i < d->model->node_count; i++)
		draw_tail(d, i);
	rn_scene_close_group(d->scene);
}

/* ---- sides to keep out of -------------------------------------------------------------------- */

static void draw_keep_out(rn_drawing *d, int node)
{
	double x = 0, y = 0;
	for (int i = 0; i < d->answer->pass_count; i++)
		if (d->answer->passes[i].node == node && !d->answer->passes[i].lifted) {
			x += d->answer->passes[i].force[0];
			y += d->answer->passes[i].force[1];
		}
	if (hypot(x, y) <= rn_words_nothing)
		return;
	double inner = rn_symbols_reach(d, node) + 3.2;
	rn_symbols_keep_out(d, rn_drawing_place(d, node), inner, atan2(y, x));
	d->uses[RN_SIGN_KEEP_OUT] = true;
}

static void draw_keep_outs(rn_drawing *d)
{
	rn_scene_open_group(d->scene, "sides to keep out of");
	for (int i = 0; d->settled && i < d->model->node_count; i++)
		draw_keep_out(d, i);
	rn_scene_close_group(d->scene);
}

/* ---- ropes and slings ------------------------------------------------------------------------ */

typedef struct member_roles {
	rn_role taut, slack, over;
} member_roles;

static member_roles roles_of(rn_object member)
{
	static const member_roles rope = {RN_ROLE_ROPE, RN_ROLE_ROPE_SLACK, RN_ROLE_ROPE_OVER};
	static const member_roles sling = {RN_ROLE_SLING, RN_ROLE_SLING_SLACK, RN_ROLE_SLING_OVER};
	return member.kind == RN_LINE ? rope : sling;
}

/* Which way a line runs, read off its tensions: toward where friction has left more of it. */
static int runs_toward(const rn_drawing *d, int line)
{
	for (int i = 0; i < d->answer->pass_count; i++) {
		const rn_pass_result *p = &d->answer->passes[i];
		double change = p->after - p->before;
		if (p->line == line && fabs(change) > 1e-6 * fmax(p->after, p->before))
			return change > 0 ? 1 : -1;
	}
	return 0;
}

static void draw_run(rn_drawing *d, const rn_span_result *s, double stroke)
{
	int runs = s->member.kind == RN_LINE ? runs_toward(d, s->member.index) : 0;
	double length = s->length * d->scene->scale;
	if (runs == 0 || length < 12)
		return;
	double at[2] = {s->start[0] + 0.36 * (s->end[0] - s->start[0]),
	                s->start[1] + 0.36 * (s->end[1] - s->start[1])};
	rn_symbols_run(d->scene, at, runs > 0 ? s->heading : s->heading + pi, stroke);
	d->uses[RN_SIGN_RUN] = true;
}

/* A prop is as thick as it is, but never too thin to see. */
static double prop_half(const rn_drawing *d, int prop)
{
	double diameter = rn_model_value(d->model, d->values, rn_object_of(RN_PROP, prop),
	                                 RN_ATTRIBUTE_DIAMETER, 0);
	return fmax(diameter, rn_scene_mm(d->scene, 1.8)) / 2;
}

static void draw_prop(rn_drawing *d, int prop)
{
	const rn_prop *p = &d->model->props[prop];
	const double *a = rn_drawing_place(d, p->from), *b = rn_drawing_place(d, p->to);
	double length = hypot(b[0] - a[0], b[1] - a[1]), half = prop_half(d, prop);
	if (length <= 0)
		return;
	double n[2] = {-half * (b[1] - a[1]) / length, half * (b[0] - a[0]) / length};
	const double corners[4][2] = {{a[0] + n[0], a[1] + n[1]}, {b[0] + n[0], b[1] + n[1]},
	                              {b[0] - n[0], b[1] - n[1]}, {a[0] - n[0], a[1] - n[1]}};
	bool over = is_over(d, rn_object_of(RN_PROP, prop));
	rn_role role = over ? RN_ROLE_PROP_OVER : p->is_piece ? RN_ROLE_PIECE : RN_ROLE_PROP;
	rn_scene_polygon(d->scene, role, corners, 4);
	d->uses[RN_SIGN_PROP] = d->uses[RN_SIGN_PROP] || !p->is_piece;
}

static void draw_props(rn_drawing *d)
{
	rn_scene_open_group(d->scene, "props and pieces with two ends");
	for (int i = 0; i < d->model->prop_count; i++)
		draw_prop(d, i);
	rn_scene_close_group(d->scene);
}

static void draw_span(rn_drawing *d, const rn_span_result *s)
{
	member_roles roles = roles_of(s->member);
	double stroke = rn_drawing_stroke(d, s->tension);
	if (s->tension <= rn_words_nothing) {
		rn_scene_segment(d->scene, roles.slack, 0, s->start, s->end);
		d->uses[RN_SIGN_SLACK] = true;
	} else if (is_over(d, s->member)) {
		rn_scene_segment(d->scene, roles.over, fmax(stroke, 1.8), s->start, s->end);
	} else {
		rn_scene_segment(d->scene, roles.taut, stroke, s->start, s->end);
		d->uses[s->member.kind == RN_LINE ? RN_SIGN_ROPE : RN_SIGN_SLING] = true;
	}
}

static void draw_arc(rn_drawing *d, const rn_pass_result *p)
{
	double tension = fmax(p->before, p->after);
	if (p->lifted || p->radius <= 0 || tension <= rn_words_nothing)
		return;
	rn_object line = rn_object_of(RN_LINE, p->line);
	rn_role role = is_over(d, line) ? roles_of(line).over : roles_of(line).taut;
	rn_scene_arc(d->scene, role, rn_drawing_stroke(d, tension), d->answer->nodes[p->node].place,
	             p->radius, p->arc_start, p->side * p->bend);
}

static double hardest(const rn_drawing *d, rn_object member)
{
	double most = 0;
	for (int i = 0; i < d->answer->span_count; i++)
		if (same_object(d->answer->spans[i].member, member))
			most = fmax(most, d->answer->spans[i].tension);
	return most;
}

/* "rope bull, 4.32 kN at most, 61.8 % of its limit": read out where the figure cannot be seen. */
static const char *member_title(rn_drawing *d, rn_object member)
{
	const rn_part_result *part = part_of(d, member);
	rn_words_part(&d->text, d->model, member);
	rn_buffer_text(&d->text, ", ");
	rn_words_force(&d->text, hardest(d, member), RN_UP, d->units);
	rn_buffer_text(&d->text, " at most, ");
	if (part && part->unchecked == RN_CHECKED) {
		rn_words_percent(&d->text, part->utilisation);
		rn_buffer_text(&d->text,
		               rn_verdict_is_over(part) ? " of its limit: over" : " of its limit");
	} else {
		rn_buffer_text(&d->text, "not checked");
	}
	return keep(d);
}

static void draw_member(rn_drawing *d, rn_object member)
{
	rn_scene_open_group(d->scene, member_title(d, member));
	for (int i = 0; i < d->answer->span_count; i++)
		if (same_object(d->answer->spans[i].member, member))
			draw_span(d, &d->answer->spans[i]);
	for (int i = 0; member.kind == RN_LINE && i < d->answer->pass_count; i++)
		if (d->answer->passes[i].line == member.index)
			draw_arc(d, &d->answer->passes[i]);
	for (int i = 0; i < d->answer->span_count; i++) {
		const rn_span_result *s = &d->answer->spans[i];
		if (same_object(s->member, member) && s->tension > rn_words_nothing)
			draw_run(d, s, rn_drawing_stroke(d, s->tension));
	}
	rn_scene_close_group(d->scene);
}

/* What did not settle is shown as it was drawn. */
static void draw_unsettled(rn_drawing *d)
{
	rn_scene_open_group(d->scene, "ropes as drawn");
	d->uses[RN_SIGN_UNSETTLED] = true;
	for (int i = 0; i < d->model->line_count; i++) {
		const rn_station *s = &d->model->stations[d->model->lines[i].first_station];
		for (int k = 0; k + 1 < d->model->lines[i].station_count; k++)
			rn_scene_segment(d->scene, RN_ROLE_ROPE_SLACK, 0,
			                 rn_drawing_place(d, s[k].node),
			                 rn_drawing_place(d, s[k + 1].node));
	}
	for (int i = 0; i < d->model->leg_count; i++)
		rn_scene_segment(d->scene, RN_ROLE_SLING_SLACK, 0,
		                 rn_drawing_place(d, d->model->legs[i].from),
		                 rn_drawing_place(d, d->model->legs[i].to));
	rn_scene_close_group(d->scene);
}

static void draw_members(rn_drawing *d)
{
	if (!d->settled) {
		draw_unsettled(d);
		return;
	}
	for (int i = 0; i < d->model->sling_count; i++)
		draw_member(d, rn_object_of(RN_SLING, i));
	for (int i = 0; i < d->model->line_count; i++)
		draw_member(d, rn_object_of(RN_LINE, i));
}

/* The longest span of a member carries its name. */
static bool is_longest(const rn_drawing *d, const rn_span_result *span)
{
	for (int i = 0; i < d->answer->span_count; i++) {
		const rn_span_result *s = &d->answer->spans[i];
		if (same_object(s->member, span->member) &&
		    (s->length > span->length ||
		     (!(s->length < span->length) && s->index < span->index)))
			return false;
	}
	return true;
}

static void label_span(rn_drawing *d, const rn_span_result *s)
{
	static const double along[RN_LABEL_TARGETS] = {0.55, 0.45, 0.68, 0.3, 0.8};
	bool named = is_longest(d, s);
	bool prop = s->member.kind == RN_PROP;
	double half = prop ? prop_half(d, s->member.index) * d->scene->scale
	                   : rn_drawing_stroke(d, s->tension) / 2;
	rn_label *label = add_label(d, named ? 4 : 5, half + 0.8);
	for (int i = 0; i < RN_LABEL_TARGETS; i++) {
		double at[2] = {s->start[0] + along[i] * (s->end[0] - s->start[0]),
		                s->start[1] + along[i] * (s->end[1] - s->start[1])};
		add_target(label, at);
	}
	if (named) {
		add_name(d, s->member);
		rn_buffer_char(&d->text, ' ');
	}
	if (prop || s->tension > rn_words_nothing)
		rn_words_force(&d->text, fabs(s->tension), RN_UP, d->units);
	else
		rn_buffer_text(&d->text, "slack");
	if (prop)
		rn_buffer_text(&d->text, s->tension < 0 ? " push" : " pull");
	end_line(d, label, is_over(d, s->member) ? RN_TEXT_ALERT : RN_TEXT_PLAIN);
}

/* ---- nodes ----------------------------------------------------------------------------------- */

static void draw_nodes(rn_drawing *d, bool over)
{
	rn_scene_open_group(d->scene, over ? "anchors, rings, blocks, pieces" : "straps of blocks");
	for (int i = 0; i < d->model->node_count; i++)
		if (over)
			rn_symbols_over(d, i);
		else
			rn_symbols_under(d, i);
	rn_scene_close_group(d->scene);
}

static void add_pull_lines(rn_drawing *d, rn_label *label, int node)
{
	rn_object object = rn_object_of(RN_NODE, node);
	add_name(d, object);
	rn_buffer_char(&d->text, ' ');
	rn_words_force(&d->text, pull_on(d, node), RN_UP, d->units);
	end_line(d, label, is_over(d, object) ? RN_TEXT_ALERT : RN_TEXT_STRONG);
	rn_words_direction(&d->text, d->answer->nodes[node].pull, RN_POINT_FULL);
	end_line(d, label, RN_TEXT_SMALL);
}

/* "crew pulls 499 N" and which way: against what the rigging does to the hand. */
static void add_hand_pull(rn_drawing *d, rn_label *label, int node)
{
	const double *pull = d->answer->nodes[node].pull;
	double own[2] = {-pull[0], -pull[1]};
	rn_buffer_text(&d->text, " pulls ");
	rn_words_force(&d->text, hypot(own[0], own[1]), RN_UP, d->units);
	end_line(d, label, RN_TEXT_STRONG);
	rn_words_direction(&d->text, own, RN_POINT_FULL);
	end_line(d, label, RN_TEXT_SMALL);
}

static void add_hand_line(rn_drawing *d, rn_label *label, const rn_hold_result *hold)
{
	rn_buffer_text(&d->text, "by hand ");
	if (hold->turns > 0) {
		rn_words_force_range(&d->text, hold->hand_least, hold->hand_most, d->units);
		rn_buffer_text(&d->text, ", ");
		rn_words_number(&d->text, hold->turns);
		rn_buffer_text(&d->text, " turns");
	} else {
		rn_words_force(&d->text, hold->hand_most, RN_UP, d->units);
		rn_buffer_text(&d->text, ", no turns");
	}
	end_line(d, label, RN_TEXT_SMALL);
}

static void add_weight_line(rn_drawing *d, rn_label *label, int node)
{
	double weight = rn_model_value(d->model, d->values, rn_object_of(RN_NODE, node),
	                               RN_ATTRIBUTE_WEIGHT, 0);
	double gravity = rn_model_value(d->model, d->values, rn_object_of(RN_RIGGING, 0),
	                                RN_ATTRIBUTE_GRAVITY, 0);
	if (d->model->nodes[node].kind != RN_NODE_PIECE || weight <= 0)
		return;
	rn_words_weight(&d->text, weight, gravity, d->units);
	end_line(d, label, RN_TEXT_SMALL);
}

/* What holds a piece that is caught, at the worst. */
static bool add_peak_line(rn_drawing *d, rn_label *label, int node)
{
	const rn_caught *caught = &d->answer->caught;
	if (!d->settled || caught->fall == RN_NONE)
		return false;
	rn_object piece = d->model->falls[caught->fall].piece;
	if (piece.kind != RN_NODE || piece.index != node)
		return false;
	rn_buffer_text(&d->text, "pulled up with ");
	rn_words_force(&d->text, caught->peak, RN_UP, d->units);
	end_line(d, label, RN_TEXT_SMALL);
	return true;
}

static bool moves_most(const rn_drawing *d, int node, double move_out[2])
{
	double most = 0;
	int which = RN_NONE;
	for (int i = 0; i < d->model->node_count; i++) {
		const rn_node_result *n = &d->answer->nodes[i];
		double moved = hypot(n->place[0] - n->drawn[0], n->place[1] - n->drawn[1]);
		if (moved > most) {
			most = moved;
			which = i;
		}
	}
	const rn_node_result *n = &d->answer->nodes[node];
	move_out[0] = n->place[0] - n->drawn[0];
	move_out[1] = n->place[1] - n->drawn[1];
	return which == node && has_moved(d, node);
}

static void add_move_line(rn_drawing *d, rn_label *label, int node)
{
	double move[2];
	if (!moves_most(d, node, move))
		return;
	rn_buffer_text(&d->text, "moved ");
	rn_words_length(&d->text, hypot(move[0], move[1]), RN_UP, d->units);
	end_line(d, label, RN_TEXT_SMALL);
}

/* A thing on a stem may be named at the far bark as well, where its band comes out again. */
static void add_far_bark(rn_drawing *d, rn_label *label, int node)
{
	const rn_node *n = &d->model->nodes[node];
	double axis[2], diameter;
	if (n->stem == RN_NONE)
		return;
	rn_stem_at(d->model, d->values, n->stem,
	           rn_model_value(d->model, d->values, rn_object_of(RN_NODE, node),
	                          RN_ATTRIBUTE_HEIGHT, 0),
	           axis, &diameter);
	const double *place = rn_drawing_place(d, node);
	double far[2] = {2 * axis[0] - place[0], 2 * axis[1] - place[1]};
	add_target(label, far);
}

static void label_node(rn_drawing *d, int node)
{
	bool pulled = pull_on(d, node) > rn_words_nothing;
	const rn_hold_result *hold = hold_at(d, node);
	rn_label *label = add_label(d, pulled ? 1 : 2, rn_symbols_reach(d, node) - 0.6);
	add_target(label, rn_drawing_place(d, node));
	add_far_bark(d, label, node);
	if (label && d->model->nodes[node].kind == RN_NODE_PIECE) {
		const double *place = rn_drawing_place(d, node);
		double middle[2] = {place[0], place[1] - rn_scene_mm(d->scene, 4.4)};
		add_target(label, middle);
		label->toward[1] = -1;
	}
	if (label && pulled) { /* behind the anchor, where its tail does not run */
		label->toward[0] = -d->answer->nodes[node].pull[0] / pull_on(d, node);
		label->toward[1] = -d->answer->nodes[node].pull[1] / pull_on(d, node);
	}
	if (pulled) {
		add_pull_lines(d, label, node);
	} else {
		add_name(d, rn_object_of(RN_NODE, node));
		if (is_hand(d, node))
			add_hand_pull(d, label, node);
		else
			end_line(d, label,
			         is_over(d, rn_object_of(RN_NODE, node)) ? RN_TEXT_ALERT
			                                                 : RN_TEXT_STRONG);
	}
	if (hold && !is_hand(d, node))
		add_hand_line(d, label, hold);
	add_weight_line(d, label, node);
	if (!add_peak_line(d, label, node))
		add_move_line(d, label, node);
}

/* ---- outer forces ---------------------------------------------------------------------------- */

static void draw_force(rn_drawing *d, int index)
{
	const double length = 11;
	rn_object force = rn_object_of(RN_FORCE, index);
	int node = d->model->forces[index].node;
	double toward = rn_model_value(d->model, d->values, force, RN_ATTRIBUTE_TOWARD, 0);
	double size = rn_model_value(d->model, d->values, force, RN_ATTRIBUTE_SIZE, 0);
	double u[2] = {cos(toward), sin(toward)}, reach = rn_symbols_reach(d, node);
	const double *place = rn_drawing_place(d, node);
	double near = rn_scene_mm(d->scene, reach), far = rn_scene_mm(d->scene, reach + length);
	double tail[2] = {place[0] + near * u[0], place[1] + near * u[1]};
	double tip[2] = {place[0] + far * u[0], place[1] + far * u[1]};
	rn_symbols_arrow(d->scene, tail, tip);
	d->uses[RN_SIGN_FORCE] = true;
	rn_label *label = add_label(d, 3, 1);
	add_target(label, tip);
	if (label) {
		label->toward[0] = u[0];
		label->toward[1] = u[1];
	}
	rn_words_force(&d->text, size, RN_UP, d->units);
	rn_buffer_char(&d->text, ' ');
	rn_words_direction(&d->text, u, RN_POINT_SIDE);
	end_line(d, label, RN_TEXT_SMALL);
}

static void draw_forces(rn_drawing *d)
{
	rn_scene_open_group(d->scene, "outer forces");
	for (int i = 0; i < d->model->force_count; i++)
		if (d->model->forces[i].case_index == d->answer->case_index)
			draw_force(d, i);
	rn_scene_close_group(d->scene);
}

/* ---- closest to its limit -------------------------------------------------------------------- */

/* A place on the member's hardest span, near where it is worst but clear of the sign there. */
static bool member_spot(const rn_drawing *d, const rn_part_result *part, double spot_out[2])
{
	const rn_span_result *hard = NULL;
	for (int i = 0; i < d->answer->span_count; i++) {
		const rn_span_result *s = &d->answer->spans[i];
		if (same_object(s->member, part->object) && (!hard || s->tension > hard->tension))
			hard = s;
	}
	if (!hard)
		return false;
	double along = fmin(0.5, 13 / fmax(hard->length * d->scene->scale, 1e-9));
	if (hard->to == part->at)
		along = 1 - along;
	spot_out[0] = hard->start[0] + along * (hard->end[0] - hard->start[0]);
	spot_out[1] = hard->start[1] + along * (hard->end[1] - hard->start[1]);
	return true;
}

static bool part_spot(const rn_drawing *d, const rn_part_result *part, double spot_out[2])
{
	if (part->object.kind == RN_LINE || part->object.kind == RN_SLING ||
	    part->object.kind == RN_PROP)
		return member_spot(d, part, spot_out);
	if (part->at == RN_NONE)
		return false;
	const double *place = rn_drawing_place(d, part->at);
	spot_out[0] = place[0];
	spot_out[1] = place[1];
	return true;
}

static void draw_cross(rn_drawing *d, const double spot[2])
{
	double k = rn_scene_mm(d->scene, 1.9);
	for (int side = -1; side <= 1; side += 2) {
		double a[2] = {spot[0] - k, spot[1] - side * k};
		double b[2] = {spot[0] + k, spot[1] + side * k};
		rn_scene_segment(d->scene, RN_ROLE_CROSS, 0, a, b);
	}
}

static void draw_lettered(rn_drawing *d, int which)
{
	const rn_part_result *part = &d->answer->parts[d->lettered[which]];
	double spot[2];
	if (!part_spot(d, part, spot))
		return;
	bool over = rn_verdict_is_over(part);
	rn_role role = over ? RN_ROLE_CLOSEST_OVER : RN_ROLE_CLOSEST;
	rn_scene_circle(d->scene, role, spot, rn_scene_mm(d->scene, ring_inner));
	if (which == 0)
		rn_scene_circle(d->scene, role, spot,
		                rn_scene_mm(d->scene, ring_outer + (over ? 0.5 : 0)));
	if (over)
		draw_cross(d, spot);
	d->uses[RN_SIGN_OVER] = d->uses[RN_SIGN_OVER] || over;
	d->uses[RN_SIGN_CLOSEST] = true;
	rn_label *label = add_label(d, 0, ring_outer + 0.6);
	add_target(label, spot);
	rn_buffer_char(&d->text, (char)('A' + which));
	end_line(d, label, RN_TEXT_LETTER);
}

/* ---- all of it ------------------------------------------------------------------------------- */

void rn_drawing_add(rn_drawing *d, const double area[4])
{
	draw_ground(d, area);
	for (int i = 0; i < d->model->stem_count; i++)
		draw_stem(d, i);
	draw_ghosts(d);
	choose_force_scale(d, area);
	draw_tails(d);
	draw_keep_outs(d);
	draw_nodes(d, false);
	draw_props(d);
	draw_members(d);
	draw_path(d);
	draw_nodes(d, true);
	draw_forces(d);
	rn_scene_open_group(d->scene, "closest to its limit");
	for (int i = 0; i < d->lettered_count; i++)
		draw_lettered(d, i);
	rn_scene_close_group(d->scene);
	for (int i = 0; i < d->model->node_count; i++)
		label_node(d, i);
	for (int i = 0; d->settled && i < d->answer->span_count; i++)
		label_span(d, &d->answer->spans[i]);
	rn_scene_open_group(d->scene, "labels");
	rn_labels_place(d->scene, d->labels, d->label_count, area);
	rn_scene_close_group(d->scene);
}
