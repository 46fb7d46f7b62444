/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A figure as a list of marks and letters, in metres of the model, with the sheet of paper it is
 * meant for. Whoever draws it needs the scale and the origin and nothing else:
 *
 *     on paper [mm]:  (origin[0] + scale x, origin[1] - scale y)   from the top left corner
 *
 * Sizes that belong to paper (strokes, letters, symbols) are turned into metres by rn_scene_mm.
 * Marks are drawn in the order they were added, letters after all marks.
 */
#ifndef RN_IO_FIGURE_SCENE_H
#define RN_IO_FIGURE_SCENE_H

#include "io/base/buffer.h"
#include "io/base/pool.h"
#include "io/figure/lettering.h"
#include "io/figure/style.h"
#include "solver/funicle.h"

typedef enum rn_shape { RN_SHAPE_LINE, RN_SHAPE_POLYGON, RN_SHAPE_CIRCLE, RN_SHAPE_ARC } rn_shape;

typedef struct rn_mark {
	rn_shape shape;
	rn_role role;
	double width;        /* of the stroke [mm]; 0 = as its role says */
	size_t first_point;  /* into the scene's points; circle and arc: their centre */
	int point_count;
	double radius;       /* circle, arc [m] */
	double from, sweep;  /* arc: first angle and how far it runs, left positive [rad] */
} rn_mark;

/* Marks that belong together, with a title that is read out: "rope bull, 3.64 kN". */
typedef struct rn_mark_group {
	const char *title;
	size_t first, end;
} rn_mark_group;

/* One line of text. */
typedef struct rn_letters {
	const char *text;
	rn_hand_of_text hand;
	double at[2];  /* left end of the base line [m] */
	double box[4]; /* left, bottom, right, top [m] */
} rn_letters;

/* A pull drawn to the force scale. */
typedef struct rn_tail {
	int node;
	double force;  /* [N] */
	double length; /* on paper [mm] */
} rn_tail;

typedef struct rn_scene {
	rn_pool pool; /* everything in the scene lives in it */
	double width, height; /* of the sheet [mm] */
	double print;         /* how large it is printed; 1 = as it was laid out [-] */
	double scale;         /* mm on paper per m */
	double origin[2];
	double force_scale;   /* mm on paper per N */
	double (*points)[2];
	rn_mark *marks;
	rn_mark_group *groups;
	rn_letters *letters;
	rn_tail *tails;
	size_t point_count, mark_count, group_count, letter_count, tail_count;
	size_t point_room, mark_room, group_room, letter_room, tail_room;
	const char *title, *description;
	int labels_left_out; /* for want of room */
} rn_scene;

rn_scene rn_scene_make(const rn_allocator *allocator);
void rn_scene_release(rn_scene *scene);
/* Errors: MEMORY if anything was lost on the way. */
rn_status rn_scene_status(const rn_scene *scene);

double rn_scene_mm(const rn_scene *scene, double millimetres);
/* From a place on paper [mm from the top left corner] to metres, and back. */
void rn_scene_from_paper(const rn_scene *scene, double x, double y, double place_out[2]);
void rn_scene_to_paper(const rn_scene *scene, const double place[2], double paper_out[2]);

void rn_scene_line(rn_scene *scene, rn_role role, double width, const double (*points)[2],
                   int count);
void rn_scene_segment(rn_scene *scene, rn_role role, double width, const double a[2],
                      const double b[2]);
void rn_scene_polygon(rn_scene *scene, rn_role role, const double (*points)[2], int count);
void rn_scene_circle(rn_scene *scene, rn_role role, const double centre[2], double radius);
void rn_scene_arc(rn_scene *scene, rn_role role, double width, const double centre[2],
                  double radius, double from, double sweep);
/* `at`: left end of the base line. */
void rn_scene_text(rn_scene *scene, rn_hand_of_text hand, const double at[2], const char *text);

/* All marks added between the two belong together. Groups do not nest, and a mark in none is not
 * drawn. */
void rn_scene_open_group(rn_scene *scene, const char *title);
void rn_scene_close_group(rn_scene *scene);

/* A copy of what is in the buffer, which is emptied; "" when memory ends. */
const char *rn_scene_keep(rn_scene *scene, rn_buffer *text);

#endif
