/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/symbols.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

/* Sizes on paper [mm]. */
static const double ring_least = 1.6, block_least = 1.9, dot = 1.2;

/* A place given in millimetres of paper, x ahead and y to the left of an angle, round a centre. */
static void offset(const rn_scene *scene, const double centre[2], double angle, double x, double y,
                   double out[2])
{
	double k = rn_scene_mm(scene, 1);
	out[0] = centre[0] + k * (x * cos(angle) - y * sin(angle));
	out[1] = centre[1] + k * (x * sin(angle) + y * cos(angle));
}

static void polygon(rn_scene *scene, rn_role role, const double centre[2], double angle,
                    const double (*corners)[2], int count)
{
	double points[24][2];
	for (int i = 0; i < count && i < 24; i++)
		offset(scene, centre, angle, corners[i][0], corners[i][1], points[i]);
	rn_scene_polygon(scene, role, (const double (*)[2])points, count < 24 ? count : 24);
}

static void stroke(rn_scene *scene, rn_role role, double width, const double centre[2],
                   double angle, double x0, double y0, double x1, double y1)
{
	double a[2], b[2];
	offset(scene, centre, angle, x0, y0, a);
	offset(scene, centre, angle, x1, y1, b);
	rn_scene_segment(scene, role, width, a, b);
}

/* Radius of the rope's centre line round the tread at a node [m]; 0 = none known. */
static double tread_radius(const rn_drawing *d, int node)
{
	double most = 0;
	for (int i = 0; d->settled && i < d->answer->pass_count; i++)
		if (d->answer->passes[i].node == node)
			most = fmax(most, d->answer->passes[i].radius);
	return most;
}

static double at_least_mm(const rn_drawing *d, double metres, double millimetres)
{
	return fmax(metres, rn_scene_mm(d->scene, millimetres));
}

/* Which way the rope pulls a node, summed over its bends [rad]; upward when nothing bends there. */
static double pull_angle(const rn_drawing *d, int node)
{
	double x = 0, y = 0;
	for (int i = 0; d->settled && i < d->answer->pass_count; i++)
		if (d->answer->passes[i].node == node) {
			x += d->answer->passes[i].force[0];
			y += d->answer->passes[i].force[1];
		}
	return hypot(x, y) > 0 ? atan2(y, x) : -pi / 2;
}

/* ---- one function for each kind of node ------------------------------------------------------ */

/* Two cheeks as one strap, reaching toward what holds the block. */
static void block_under(rn_drawing *d, int node, double radius)
{
	double mm = radius * d->scene->scale, half = mm + 0.5, tip = mm + 3.2;
	double corners[20][2];
	int count = 0;
	for (int i = 0; i <= 8; i++, count++) { /* round the sheave */
		double a = pi / 2 + pi * i / 8;
		corners[count][0] = half * cos(a);
		corners[count][1] = half * sin(a);
	}
	const double end[4][2] = {{half, -half * 0.8}, {tip, -0.9}, {tip, 0.9}, {half, half * 0.8}};
	for (int i = 0; i < 4; i++, count++) {
		corners[count][0] = end[i][0];
		corners[count][1] = end[i][1];
	}
	double holder = pull_angle(d, node) + pi;
	polygon(d->scene, RN_ROLE_STRAP, rn_drawing_place(d, node), holder,
	        (const double (*)[2])corners, count);
}

static void block_over(rn_drawing *d, int node, double radius)
{
	const double *place = rn_drawing_place(d, node);
	rn_scene_circle(d->scene, RN_ROLE_STRAP_LINE, place, radius);
	rn_scene_circle(d->scene, RN_ROLE_PIN, place, rn_scene_mm(d->scene, 0.5));
}

static void ring_over(rn_drawing *d, int node)
{
	double radius = at_least_mm(d, tread_radius(d, node), ring_least);
	rn_scene_circle(d->scene, RN_ROLE_STEEL, rn_drawing_place(d, node), radius);
}

/* An anchor on a stem is a band round it; elsewhere a fixed point with short strokes behind. */
static void band(rn_drawing *d, int node)
{
	const rn_node *n = &d->model->nodes[node];
	double height = rn_model_value(d->model, d->values, rn_object_of(RN_NODE, node),
	                               RN_ATTRIBUTE_HEIGHT, 0);
	double axis[2], above[2], diameter, unused;
	rn_stem_at(d->model, d->values, n->stem, height, axis, &diameter);
	rn_stem_at(d->model, d->values, n->stem, height + 1, above, &unused);
	double along = atan2(above[1] - axis[1], above[0] - axis[0]);
	double half = diameter / 2 * d->scene->scale + 0.4;
	const double corners[4][2] = {{-0.75, -half}, {0.75, -half}, {0.75, half}, {-0.75, half}};
	polygon(d->scene, RN_ROLE_BAND, axis, along, corners, 4);
}

/* Whether a prop pushes on a node: then the ground is where the force goes, not where it comes
 * from. */
static bool is_pushed(const rn_drawing *d, int node)
{
	for (int i = 0; d->settled && i < d->answer->span_count; i++)
		if ((d->answer->spans[i].from == node || d->answer->spans[i].to == node) &&
		    d->answer->spans[i].tension < 0)
			return true;
	return false;
}

static void fixed_point(rn_drawing *d, int node)
{
	const double *place = rn_drawing_place(d, node), *pull = d->answer->nodes[node].pull;
	double sign = is_pushed(d, node) ? 1 : -1;
	double away = d->settled && hypot(pull[0], pull[1]) > 0
	                      ? atan2(sign * pull[1], sign * pull[0])
	                      : pi / 2;
	stroke(d->scene, RN_ROLE_STEEL, 0.5, place, away, 1.6, -2.4, 1.6, 2.4);
	for (int i = -2; i <= 2; i++)
		stroke(d->scene, RN_ROLE_STEEL, 0.25, place, away, 1.6, i * 1.1, 2.9,
		       i * 1.1 + 0.9);
	stroke(d->scene, RN_ROLE_STEEL, 0.5, place, away, 0, 0, 1.6, 0);
}

static void anchor_over(rn_drawing *d, int node)
{
	if (d->model->nodes[node].stem != RN_NONE)
		band(d, node);
	else
		fixed_point(d, node);
	rn_scene_circle(d->scene, RN_ROLE_PIN, rn_drawing_place(d, node),
	                rn_scene_mm(d->scene, dot));
}

static void fork_over(rn_drawing *d, int node)
{
	const double *place = rn_drawing_place(d, node);
	double r = at_least_mm(d, tread_radius(d, node), 1.2) * d->scene->scale;
	double inside = pull_angle(d, node); /* the wood lies where the rope presses */
	double corners[13][2];
	for (int i = 0; i <= 10; i++) {
		double a = -pi / 2 - pi * i / 10;
		corners[i][0] = r * cos(a);
		corners[i][1] = r * sin(a);
	}
	corners[11][0] = 4.5 + r, corners[11][1] = r + 1;
	corners[12][0] = 4.5 + r, corners[12][1] = -r - 1;
	polygon(d->scene, RN_ROLE_PIECE, place, inside, (const double (*)[2])corners, 13);
}

static void bollard_over(rn_drawing *d, int node)
{
	enum { TURNS_MOST = 6 };
	const double *place = rn_drawing_place(d, node);
	const double post[12][2] = {{-3.6, -2.4}, {-3.0, -2.4}, {-3.0, -1.7}, {3.0, -1.7},
	                            {3.0, -2.4},  {3.6, -2.4},  {3.6, 2.4},   {3.0, 2.4},
	                            {3.0, 1.7},   {-3.0, 1.7},  {-3.0, 2.4},  {-3.6, 2.4}};
	polygon(d->scene, RN_ROLE_POST, place, pi / 2, post, 12);
	double turns = 0;
	for (int i = 0; d->settled && i < d->answer->hold_count; i++)
		if (d->answer->holds[i].node == node)
			turns = d->answer->holds[i].turns;
	int shown = turns > TURNS_MOST ? TURNS_MOST : (int)ceil(turns);
	for (int i = 0; i < shown; i++) {
		double x = -2.2 + 4.4 * (i + 0.5) / shown;
		stroke(d->scene, RN_ROLE_TURN, 0, place, pi / 2, x - 0.3, -1.7, x + 0.3, 1.7);
	}
}

static void hand_over(rn_drawing *d, int node)
{
	const double *place = rn_drawing_place(d, node);
	const double palm[8][2] = {{-1.9, -1.1}, {-1.2, -1.6}, {1.2, -1.6}, {1.9, -1.1},
	                           {1.9, 1.1},   {1.2, 1.6},   {-1.2, 1.6}, {-1.9, 1.1}};
	polygon(d->scene, RN_ROLE_HAND, place, 0, palm, 8);
	for (int i = -1; i <= 1; i++)
		stroke(d->scene, RN_ROLE_HAND, 0.3, place, 0, i * 0.95, -1.4, i * 0.95, 0.5);
}

/* A log with its growth rings. */
static void piece_over(rn_drawing *d, int node)
{
	const double *place = rn_drawing_place(d, node);
	double below[2];
	const double log[8][2] = {{-2.9, 0.9},  {-2.5, 1.3},  {2.5, 1.3},  {2.9, 0.9},
	                          {2.9, -7.6},  {2.5, -8.0},  {-2.5, -8.0}, {-2.9, -7.6}};
	polygon(d->scene, RN_ROLE_PIECE, place, 0, log, 8);
	offset(d->scene, place, 0, 0, -4.4, below);
	for (int i = 1; i <= 3; i++)
		rn_scene_circle(d->scene, RN_ROLE_GRAIN, below, rn_scene_mm(d->scene, 0.7 * i));
	rn_scene_circle(d->scene, RN_ROLE_PIN, place, rn_scene_mm(d->scene, 0.6));
}

static void joint_over(rn_drawing *d, int node)
{
	const double corners[4][2] = {{1.3, 0}, {0, 1.3}, {-1.3, 0}, {0, -1.3}};
	polygon(d->scene, RN_ROLE_PIN, rn_drawing_place(d, node), 0, corners, 4);
}

void rn_symbols_under(rn_drawing *d, int node)
{
	if (d->model->nodes[node].kind == RN_NODE_BLOCK)
		block_under(d, node, at_least_mm(d, tread_radius(d, node), block_least));
}

void rn_symbols_over(rn_drawing *d, int node)
{
	switch (d->model->nodes[node].kind) {
	case RN_NODE_ANCHOR: anchor_over(d, node); break;
	case RN_NODE_FORK: fork_over(d, node); break;
	case RN_NODE_HAND: hand_over(d, node); break;
	case RN_NODE_BOLLARD: bollard_over(d, node); break;
	case RN_NODE_RING: ring_over(d, node); break;
	case RN_NODE_BLOCK:
		block_over(d, node, at_least_mm(d, tread_radius(d, node), block_least));
		break;
	case RN_NODE_JOINT: joint_over(d, node); break;
	case RN_NODE_PIECE: piece_over(d, node); break;
	case RN_NODE_KIND_COUNT: break;
	}
}

double rn_symbols_reach(const rn_drawing *d, int node)
{
	static const double reach[] = {
		[RN_NODE_ANCHOR] = 2.2,  [RN_NODE_FORK] = 3.0,  [RN_NODE_HAND] = 2.6,
		[RN_NODE_BOLLARD] = 3.2, [RN_NODE_RING] = 2.4,  [RN_NODE_BLOCK] = 3.0,
		[RN_NODE_JOINT] = 2.0,   [RN_NODE_PIECE] = 3.8,
	};
	return fmax(reach[d->model->nodes[node].kind], tread_radius(d, node) * d->scene->scale + 1);
}

/* ---- signs that are not nodes ---------------------------------------------------------------- */

void rn_symbols_keep_out(rn_drawing *d, const double centre[2], double inner, double toward)
{
	enum { STROKES = 17 };
	const double half = 0.75, outer = inner + 3.2;
	for (int i = 0; i < STROKES; i++) {
		double a = toward - half + 2 * half * i / (STROKES - 1);
		stroke(d->scene, RN_ROLE_KEEP_OUT, 0, centre, a, inner, 0, outer, 0);
	}
	rn_scene_arc(d->scene, RN_ROLE_KEEP_OUT, 0.5, centre, rn_scene_mm(d->scene, outer),
	             toward - half, 2 * half);
}

void rn_symbols_arrow(rn_scene *scene, const double tail[2], const double tip[2])
{
	double angle = atan2(tip[1] - tail[1], tip[0] - tail[0]), neck[2];
	const double head[3][2] = {{0, 0}, {-3.2, 1.2}, {-3.2, -1.2}};
	offset(scene, tip, angle, -2.6, 0, neck);
	rn_scene_segment(scene, RN_ROLE_FORCE, 0, tail, neck);
	polygon(scene, RN_ROLE_FORCE_HEAD, tip, angle, head, 3);
}

void rn_symbols_run(rn_scene *scene, const double at[2], double heading, double width)
{
	double half = width / 2 + 0.75, length = 2 * half + 0.6;
	const double head[4][2] = {
		{length / 2, 0}, {-length / 2, half}, {-length / 4, 0}, {-length / 2, -half}};
	polygon(scene, RN_ROLE_RUN, at, heading, head, 4);
}
