/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet, A4 lying, for what is not to the scale of the model: polygons and diagrams. One metre of its scene is one
 * millimetre of paper; places are from its top left corner [mm].
 */
#ifndef RN_IO_FIGURE_PLATE_H
#define RN_IO_FIGURE_PLATE_H

#include "io/base/words.h"
#include "io/figure/figure.h"
#include "io/figure/labels.h"

enum { RN_PLATE_LABELS = 400 };

typedef struct rn_plate {
	rn_scene *scene;
	const rn_result *result;
	const rn_case_result *answer;
	rn_units units;
	rn_buffer text; /* scratch */
	rn_label labels[RN_PLATE_LABELS];
	size_t label_count;
} rn_plate;

extern const double rn_plate_width, rn_plate_height, rn_plate_margin;
/* The field below the head and above the foot [mm]. */
extern const double rn_plate_top, rn_plate_foot_top;

/* Makes the scene a sheet. */
void rn_plate_begin(rn_plate *plate, rn_scene *scene, const rn_result *result, int case_index,
                    const rn_figure_options *options);
void rn_plate_end(rn_plate *plate);

/* A copy of what is in the scratch text, which is emptied. */
const char *rn_plate_keep(rn_plate *plate);
void rn_plate_text(rn_plate *plate, rn_hand_of_text hand, double x, double y, const char *text);
void rn_plate_line(rn_plate *plate, rn_role role, double x0, double y0, double x1, double y1);

/* A label of one line at a place of the scene; dropped beyond RN_PLATE_LABELS. */
void rn_plate_label(rn_plate *plate, int rank, rn_hand_of_text hand, const char *text, const double at[2],
                    double toward_x, double toward_y);
/* All labels since the last time, into left, top, right, bottom. */
void rn_plate_place_labels(rn_plate *plate, const double area[4]);

/* Title, what the sheet is of, what it says; also the title of the scene. `alert`: something is over its limit. */
void rn_plate_title(rn_plate *plate, const char *subject, const char *verdict, bool alert);
/* The same with "<what> <part>, case <id>" and the verdict of the answer. */
void rn_plate_head(rn_plate *plate, const char *what, rn_object part);
/* Caution and source. */
void rn_plate_foot(rn_plate *plate, const rn_figure_options *options);

/* The largest of 1, 2, 5 times a power of ten that is not larger. */
double rn_plate_round_down(double most);

#endif
