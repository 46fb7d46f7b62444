/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Greedy placing. For one label after another a number of places round its targets are tried, from
 * near to far, each at a cost:
 *
 *     cost = distance + side it would rather not stand on + shunning of each mark under it
 *            + crowding
 *
 * Everything here is in millimetres of paper, y down.
 */
#include "io/figure/labels.h"

#include <math.h>
#include <stdlib.h>

/* Enough for every figure a person can read; more only cost time. */
enum { LABELS_MOST = 160, SEGMENTS_MOST = 6000, DIRECTIONS = 16, ARC_STEPS = 12 };

static const double two_pi = 6.28318530717958647693;
static const double gap = 0.7;          /* between a label and anything else [mm] */
static const double leader_from = 2.6;  /* farther than this from its target it needs a leader */
static const double forbidden = 1e6;    /* cost of standing on a label or off the area */
static const double cluttered = 45;     /* at such a cost something is hidden: look farther away */
static const double rope_avoid = 10;    /* what is shunned as much as this is a rope */
static const double spoiling = 110;     /* at such a cost a lesser label is better left out */
static const int may_be_left_out = 2;   /* rank from which on labels are lesser ones */
static const double edge = 1.2;         /* kept free inside the area [mm] */
static const double effort_most = 6e7;  /* some tenths of a second; what comes later is left out */
static const double distances[] = {0, 1.5, 3, 5, 8, 12, 17, 23, 30, 38, 48, 60, 75};

typedef struct box {
	double left, top, right, bottom;
} box;

typedef struct segment {
	double a[2], b[2], half, avoid;
} segment;

typedef struct placer {
	rn_scene *scene;
	box area;
	segment *segments;
	size_t segment_count, segment_room;
	box *taken;
	size_t taken_count;
	double effort; /* marks looked at so far */
} placer;

/* ---- what is in the way ---------------------------------------------------------------------- */

static bool same_place(const double a[2], const double b[2])
{
	const double apart = 0.5;
	return fabs(a[0] - b[0]) < apart && fabs(a[1] - b[1]) < apart;
}

/* The parts of a tackle lie over each other on paper; together they are in the way once. */
static bool is_covered(const placer *p, const double a[2], const double b[2], double avoid)
{
	for (size_t i = 0; avoid >= rope_avoid && i < p->segment_count; i++) {
		const segment *s = &p->segments[i];
		if (s->avoid >= rope_avoid && ((same_place(s->a, a) && same_place(s->b, b)) ||
		                               (same_place(s->a, b) && same_place(s->b, a))))
			return true;
	}
	return false;
}

static void add_segment(placer *p, const double a[2], const double b[2], double half, double avoid)
{
	if (p->segment_count >= SEGMENTS_MOST || is_covered(p, a, b, avoid))
		return;
	void *grown = rn_pool_grow(&p->scene->pool, p->segments, p->segment_count, &p->segment_room,
	                           sizeof *p->segments);
	if (!grown)
		return;
	p->segments = grown;
	p->segments[p->segment_count++] =
		(segment){.a = {a[0], a[1]}, .b = {b[0], b[1]}, .half = half, .avoid = avoid};
}

static void add_polyline(placer *p, const rn_mark *mark, double half, double avoid)
{
	double first[2], last[2], next[2];
	for (int i = 0; i < mark->point_count; i++) {
		rn_scene_to_paper(p->scene, p->scene->points[mark->first_point + (size_t)i], next);
		if (i > 0)
			add_segment(p, last, next, half, avoid);
		else
			first[0] = next[0], first[1] = next[1];
		last[0] = next[0], last[1] = next[1];
	}
	if (mark->shape == RN_SHAPE_POLYGON && mark->point_count > 2)
		add_segment(p, last, first, half, avoid);
}

static void add_round(placer *p, const rn_mark *mark, double half, double avoid)
{
	const double *centre = p->scene->points[mark->first_point];
	double from = mark->shape == RN_SHAPE_ARC ? mark->from : 0;
	double sweep = mark->shape == RN_SHAPE_ARC ? mark->sweep : two_pi;
	double last[2] = {0, 0};
	for (int i = 0; i <= ARC_STEPS; i++) {
		double angle = from + sweep * i / ARC_STEPS, next[2];
		double place[2] = {centre[0] + mark->radius * cos(angle),
		                   centre[1] + mark->radius * sin(angle)};
		rn_scene_to_paper(p->scene, place, next);
		if (i > 0)
			add_segment(p, last, next, half, avoid);
		last[0] = next[0], last[1] = next[1];
	}
}

static void gather_segments(placer *p)
{
	for (size_t i = 0; i < p->scene->mark_count; i++) {
		const rn_mark *mark = &p->scene->marks[i];
		rn_style style = rn_style_of(mark->role);
		double half = (mark->width > 0 ? mark->width : style.width) / 2;
		if (style.avoid <= 0)
			continue;
		if (mark->shape == RN_SHAPE_CIRCLE || mark->shape == RN_SHAPE_ARC)
			add_round(p, mark, half, style.avoid);
		else
			add_polyline(p, mark, half, style.avoid);
	}
}

/* ---- geometry -------------------------------------------------------------------------------- */

/* Length of a segment inside a box, by cutting it at the box's four sides in turn. */
static double length_inside(const double a[2], const double b[2], box r)
{
	if ((a[0] < r.left && b[0] < r.left) || (a[0] > r.right && b[0] > r.right) ||
	    (a[1] < r.top && b[1] < r.top) || (a[1] > r.bottom && b[1] > r.bottom))
		return -1; /* most of them */
	double t0 = 0, t1 = 1, d[2] = {b[0] - a[0], b[1] - a[1]};
	const double p[4] = {-d[0], d[0], -d[1], d[1]};
	const double q[4] = {a[0] - r.left, r.right - a[0], a[1] - r.top, r.bottom - a[1]};
	for (int i = 0; i < 4; i++) {
		if (fabs(p[i]) < 1e-12) {
			if (q[i] < 0)
				return -1;
			continue;
		}
		double t = q[i] / p[i];
		if (p[i] < 0)
			t0 = fmax(t0, t);
		else
			t1 = fmin(t1, t);
	}
	return t0 > t1 ? -1 : (t1 - t0) * hypot(d[0], d[1]);
}

static box widened(box r, double by)
{
	return (box){r.left - by, r.top - by, r.right + by, r.bottom + by};
}

static bool overlap(box a, box b)
{
	return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

static bool inside(box a, box area)
{
	return a.left >= area.left && a.right <= area.right && a.top >= area.top &&
	       a.bottom <= area.bottom;
}

static double clamp(double value, double least, double most)
{
	return fmin(fmax(value, least), most);
}

static void nearest_in(box r, const double point[2], double out[2])
{
	out[0] = clamp(point[0], r.left, r.right);
	out[1] = clamp(point[1], r.top, r.bottom);
}

/* ---- cost ------------------------------------------------------------------------------------ */

/* Between two ropes a label could be read as the other one's: each rope near by beyond the first
 * costs, as does another label. */
static double crowding(const placer *p, box r)
{
	const double near = 3.2, each = 1.5;
	int ropes = 0, labels = 0;
	box wide = widened(r, near);
	for (size_t i = 0; i < p->segment_count; i++)
		ropes += p->segments[i].avoid >= rope_avoid &&
		         length_inside(p->segments[i].a, p->segments[i].b, wide) > near;
	for (size_t i = 0; i < p->taken_count; i++)
		labels += overlap(wide, p->taken[i]);
	return each * ((ropes > 1 ? ropes - 1 : 0) + labels);
}

static double marks_under(const placer *p, box r, double limit)
{
	double cost = 0;
	for (size_t i = 0; i < p->segment_count && cost < limit; i++) {
		const segment *s = &p->segments[i];
		double inside_length = length_inside(s->a, s->b, widened(r, s->half + gap));
		if (inside_length >= 0)
			cost += s->avoid * (1 + inside_length);
	}
	return cost;
}

static bool crosses(const double a[2], const double b[2], const segment *s)
{
	double d[2] = {b[0] - a[0], b[1] - a[1]}, e[2] = {s->b[0] - s->a[0], s->b[1] - s->a[1]};
	double w[2] = {s->a[0] - a[0], s->a[1] - a[1]};
	double det = d[0] * e[1] - d[1] * e[0];
	if (fabs(det) < 1e-12)
		return false;
	double t = (w[0] * e[1] - w[1] * e[0]) / det, u = (w[0] * d[1] - w[1] * d[0]) / det;
	return t > 0.05 && t < 1 && u > 0 && u < 1;
}

static double leader_cost(const placer *p, const double target[2], double clear, box r)
{
	double end[2], cost = 0;
	nearest_in(r, target, end);
	if (hypot(end[0] - target[0], end[1] - target[1]) < clear + leader_from)
		return 0;
	for (size_t i = 0; i < p->taken_count; i++)
		if (length_inside(target, end, widened(p->taken[i], gap / 2)) >= 0)
			return forbidden;
	for (size_t i = 0; i < p->segment_count; i++)
		if (crosses(target, end, &p->segments[i]))
			cost += p->segments[i].avoid;
	return cost + 5; /* a leader is a line more to look at */
}

/* What standing on a box costs beside its distance; the dearer parts are not worked out once it
 * costs more than `limit`. */
static double box_cost(placer *p, const double target[2], double clear, box r, double limit)
{
	if (!inside(r, p->area))
		return forbidden;
	for (size_t i = 0; i < p->taken_count; i++)
		if (overlap(widened(r, gap / 2), p->taken[i]))
			return forbidden;
	p->effort += (double)p->segment_count;
	double cost = marks_under(p, r, limit);
	if (cost < limit)
		cost += crowding(p, r);
	if (cost < limit)
		cost += leader_cost(p, target, clear, r);
	return cost;
}

/* ---- one label ------------------------------------------------------------------------------- */

static double line_height(rn_hand_of_text hand)
{
	return rn_lettering_rise(hand) + rn_lettering_drop(hand);
}

static void label_size(const rn_label *label, double size_out[2])
{
	size_out[0] = size_out[1] = 0;
	for (int i = 0; i < label->line_count; i++) {
		size_out[0] =
			fmax(size_out[0], rn_lettering_width(label->lines[i], label->hands[i]));
		size_out[1] += line_height(label->hands[i]);
	}
}

/* The box that stands at `distance` from a target in some direction: beside it with its middle, or
 * in between for slanting directions. */
static box box_at(const double target[2], const double direction[2], double distance,
                  const double size[2])
{
	double lean[2] = {clamp(direction[0] * 1.5, -1, 1), clamp(direction[1] * 1.5, -1, 1)};
	double x = target[0] + direction[0] * distance + lean[0] * size[0] / 2;
	double y = target[1] + direction[1] * distance + lean[1] * size[1] / 2;
	return (box){x - size[0] / 2, y - size[1] / 2, x + size[0] / 2, y + size[1] / 2};
}

typedef struct choice {
	box place;
	double target[2], cost;
} choice;

static void try_ring(placer *p, const rn_label *label, const double size[2], double distance,
                     choice *best)
{
	for (int t = 0; t < label->target_count; t++) {
		double target[2];
		rn_scene_to_paper(p->scene, label->targets[t], target);
		for (int i = 0; i < DIRECTIONS; i++) {
			double angle = two_pi * i / DIRECTIONS;
			double direction[2] = {cos(angle), -sin(angle)};
			box place = box_at(target, direction, label->clear + distance, size);
			double along =
				direction[0] * label->toward[0] - direction[1] * label->toward[1];
			double cost = 0.8 * distance + 1.5 * (1 - along) + 0.4 * t;
			if (cost >= best->cost)
				continue;
			cost += box_cost(p, target, label->clear, place, best->cost - cost);
			if (cost < best->cost)
				*best = (choice){place, {target[0], target[1]}, cost};
		}
	}
}

/* When nothing near is fairly free: the whole area, in rows. */
static void try_anywhere(placer *p, const rn_label *label, const double size[2], choice *best)
{
	double target[2], step_x = 5, step_y = 3;
	rn_scene_to_paper(p->scene, label->targets[0], target);
	int columns = (int)((p->area.right - p->area.left - size[0]) / step_x);
	int rows = (int)((p->area.bottom - p->area.top - size[1]) / step_y);
	for (int k = 0; k <= rows; k++)
		for (int i = 0; i <= columns; i++) {
			double left = p->area.left + i * step_x, top = p->area.top + k * step_y;
			box place = {left, top, left + size[0], top + size[1]};
			double near[2];
			nearest_in(place, target, near);
			double cost = 20 + hypot(near[0] - target[0], near[1] - target[1]);
			if (cost >= best->cost)
				continue;
			cost += box_cost(p, target, label->clear, place, best->cost - cost);
			if (cost < best->cost)
				*best = (choice){place, {target[0], target[1]}, cost};
		}
}

static choice choose(placer *p, const rn_label *label, const double size[2])
{
	const size_t count = sizeof distances / sizeof *distances;
	choice best = {.cost = forbidden};
	for (size_t i = 0; i < count && 0.8 * distances[i] < best.cost; i++)
		try_ring(p, label, size, distances[i], &best);
	if (best.cost > cluttered)
		try_anywhere(p, label, size, &best);
	return best;
}

static void write_lines(placer *p, const rn_label *label, box r, const double target[2])
{
	/* lines begin at the side of the label that faces its target */
	double middle = (r.left + r.right) / 2, y = r.top;
	bool to_left = target[0] > r.right - (r.right - r.left) / 3;
	bool centred = fabs(target[0] - middle) < (r.right - r.left) / 6;
	for (int i = 0; i < label->line_count; i++) {
		double width = rn_lettering_width(label->lines[i], label->hands[i]);
		double x = to_left ? r.right - width : centred ? middle - width / 2 : r.left;
		double at[2];
		y += rn_lettering_rise(label->hands[i]);
		rn_scene_from_paper(p->scene, x, y, at);
		rn_scene_text(p->scene, label->hands[i], at, label->lines[i]);
		y += rn_lettering_drop(label->hands[i]);
	}
}

/* White under the letters, so that a line they could not avoid does not run through them. */
static void write_paper(placer *p, box r)
{
	double corners[4][2];
	rn_scene_from_paper(p->scene, r.left, r.top, corners[0]);
	rn_scene_from_paper(p->scene, r.right, r.top, corners[1]);
	rn_scene_from_paper(p->scene, r.right, r.bottom, corners[2]);
	rn_scene_from_paper(p->scene, r.left, r.bottom, corners[3]);
	rn_scene_polygon(p->scene, RN_ROLE_PAPER, (const double (*)[2])corners, 4);
}

static void write_leader(placer *p, const double target[2], box r, double clear)
{
	double end[2], from[2], a[2], b[2];
	nearest_in(r, target, end);
	double length = hypot(end[0] - target[0], end[1] - target[1]);
	if (length < clear + leader_from)
		return;
	double skip = fmin(clear, length / 2) / length;
	from[0] = target[0] + skip * (end[0] - target[0]);
	from[1] = target[1] + skip * (end[1] - target[1]);
	rn_scene_from_paper(p->scene, from[0], from[1], a);
	rn_scene_from_paper(p->scene, end[0], end[1], b);
	rn_scene_segment(p->scene, RN_ROLE_LEADER, 0, a, b);
	add_segment(p, from, end, 0.1, rn_style_of(RN_ROLE_LEADER).avoid);
}

static void place_one(placer *p, const rn_label *label)
{
	double size[2];
	label_size(label, size);
	choice best = {.cost = forbidden};
	if (p->effort < effort_most)
		best = choose(p, label, size);
	bool spoils = best.cost > spoiling && label->rank >= may_be_left_out;
	if (best.cost >= forbidden || spoils) {
		p->scene->labels_left_out++;
		return;
	}
	write_leader(p, best.target, best.place, label->clear);
	write_paper(p, best.place);
	write_lines(p, label, best.place, best.target);
	p->taken[p->taken_count++] = best.place;
}

/* ---- all labels ------------------------------------------------------------------------------ */

enum { RANKS = 7 };

void rn_labels_place(rn_scene *scene, const rn_label *labels, size_t count, const double area[4])
{
	placer p = {.scene = scene,
	            .area = widened((box){area[0], area[1], area[2], area[3]}, -edge)};
	p.taken = rn_pool_take(&scene->pool, LABELS_MOST, sizeof *p.taken);
	if (!p.taken)
		return;
	gather_segments(&p);
	size_t tried = 0;
	for (int rank = 0; rank < RANKS; rank++)
		for (size_t i = 0; i < count && tried < LABELS_MOST && !scene->pool.failed; i++)
			if (labels[i].rank == rank) {
				place_one(&p, &labels[i]);
				tried++;
			}
	scene->labels_left_out += (int)(count - tried);
}
