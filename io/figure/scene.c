/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/scene.h"

#include <string.h>

rn_scene rn_scene_make(const rn_allocator *allocator)
{
	return (rn_scene){
		.pool = rn_pool_make(allocator), .scale = 1, .print = 1, .title = "", .description = ""};
}

void rn_scene_release(rn_scene *scene)
{
	rn_pool_release(&scene->pool);
}

rn_status rn_scene_status(const rn_scene *scene)
{
	return scene->pool.failed ? RN_STATUS_MEMORY : RN_OK;
}

const char *rn_scene_keep(rn_scene *scene, rn_buffer *text)
{
	scene->pool.failed = scene->pool.failed || text->failed;
	const char *copy = text->bytes ? rn_pool_copy(&scene->pool, text->bytes, text->size) : "";
	text->size = 0;
	if (text->bytes)
		text->bytes[0] = '\0';
	return copy ? copy : "";
}

double rn_scene_mm(const rn_scene *scene, double millimetres)
{
	return millimetres / scene->scale;
}

void rn_scene_from_paper(const rn_scene *scene, double x, double y, double place_out[2])
{
	place_out[0] = (x - scene->origin[0]) / scene->scale;
	place_out[1] = (scene->origin[1] - y) / scene->scale;
}

void rn_scene_to_paper(const rn_scene *scene, const double place[2], double paper_out[2])
{
	paper_out[0] = scene->origin[0] + scene->scale * place[0];
	paper_out[1] = scene->origin[1] - scene->scale * place[1];
}

static void add_point(rn_scene *scene, const double point[2])
{
	void *grown = rn_pool_grow(&scene->pool, scene->points, scene->point_count,
	                           &scene->point_room, sizeof *scene->points);
	if (!grown)
		return;
	scene->points = grown;
	scene->points[scene->point_count][0] = point[0];
	scene->points[scene->point_count][1] = point[1];
	scene->point_count++;
}

static void add_mark(rn_scene *scene, rn_mark mark, const double (*points)[2], int count)
{
	mark.first_point = scene->point_count;
	mark.point_count = count;
	for (int i = 0; i < count; i++)
		add_point(scene, points[i]);
	void *grown = rn_pool_grow(&scene->pool, scene->marks, scene->mark_count, &scene->mark_room,
	                           sizeof *scene->marks);
	if (!grown || scene->pool.failed)
		return;
	scene->marks = grown;
	scene->marks[scene->mark_count++] = mark;
}

void rn_scene_line(rn_scene *scene, rn_role role, double width, const double (*points)[2],
                   int count)
{
	add_mark(scene, (rn_mark){.shape = RN_SHAPE_LINE, .role = role, .width = width}, points,
	         count);
}

void rn_scene_segment(rn_scene *scene, rn_role role, double width, const double a[2],
                      const double b[2])
{
	const double points[2][2] = {{a[0], a[1]}, {b[0], b[1]}};
	rn_scene_line(scene, role, width, points, 2);
}

void rn_scene_polygon(rn_scene *scene, rn_role role, const double (*points)[2], int count)
{
	add_mark(scene, (rn_mark){.shape = RN_SHAPE_POLYGON, .role = role}, points, count);
}

void rn_scene_circle(rn_scene *scene, rn_role role, const double centre[2], double radius)
{
	const double point[1][2] = {{centre[0], centre[1]}};
	add_mark(scene, (rn_mark){.shape = RN_SHAPE_CIRCLE, .role = role, .radius = radius}, point,
	         1);
}

void rn_scene_arc(rn_scene *scene, rn_role role, double width, const double centre[2],
                  double radius, double from, double sweep)
{
	const double point[1][2] = {{centre[0], centre[1]}};
	rn_mark mark = {.shape = RN_SHAPE_ARC,
	                .role = role,
	                .width = width,
	                .radius = radius,
	                .from = from,
	                .sweep = sweep};
	add_mark(scene, mark, point, 1);
}

void rn_scene_text(rn_scene *scene, rn_hand_of_text hand, const double at[2], const char *text)
{
	void *grown = rn_pool_grow(&scene->pool, scene->letters, scene->letter_count,
	                           &scene->letter_room, sizeof *scene->letters);
	if (!grown)
		return;
	scene->letters = grown;
	double drop = rn_scene_mm(scene, rn_lettering_drop(hand));
	double rise = rn_scene_mm(scene, rn_lettering_rise(hand));
	double width = rn_scene_mm(scene, rn_lettering_width(text, hand));
	scene->letters[scene->letter_count++] = (rn_letters){
		.text = text,
		.hand = hand,
		.at = {at[0], at[1]},
		.box = {at[0], at[1] - drop, at[0] + width, at[1] + rise},
	};
}

void rn_scene_open_group(rn_scene *scene, const char *title)
{
	void *grown = rn_pool_grow(&scene->pool, scene->groups, scene->group_count,
	                           &scene->group_room, sizeof *scene->groups);
	if (!grown)
		return;
	scene->groups = grown;
	scene->groups[scene->group_count++] = (rn_mark_group){
		.title = title, .first = scene->mark_count, .end = scene->mark_count};
}

void rn_scene_close_group(rn_scene *scene)
{
	if (scene->group_count > 0)
		scene->groups[scene->group_count - 1].end = scene->mark_count;
}
