/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The rigging of one case as marks in a scene, and the labels that go with it. Everything comes
 * from the result: places, tangent points, arcs, pulls; nothing is worked out a second time.
 */
#ifndef RN_IO_FIGURE_DRAWING_H
#define RN_IO_FIGURE_DRAWING_H

#include "io/figure/labels.h"
#include "io/figure/scene.h"
#include "io/base/words.h"

/* What can stand on a sheet and is then explained in its key. */
typedef enum rn_sign {
	RN_SIGN_ROPE,
	RN_SIGN_SLING,
	RN_SIGN_SLACK,
	RN_SIGN_PROP,
	RN_SIGN_RUN,
	RN_SIGN_TAIL,
	RN_SIGN_KEEP_OUT,
	RN_SIGN_GHOST,
	RN_SIGN_PATH,
	RN_SIGN_UNSETTLED,
	RN_SIGN_CLOSEST,
	RN_SIGN_OVER,
	RN_SIGN_FORCE,
	RN_SIGN_COUNT
} rn_sign;

enum { RN_LETTERED_MOST = 6 };

typedef struct rn_drawing {
	rn_scene *scene;
	const rn_result *result;
	const rn_case_result *answer;
	const rn_model *model;
	rn_units units;
	double *values; /* the numbers of this case */
	rn_buffer text; /* scratch */
	bool settled;
	double tension_most; /* [N] */
	int lettered[RN_LETTERED_MOST]; /* parts with a letter: the closest, then others over */
	int lettered_count;
	bool expects[RN_SIGN_COUNT]; /* signs that may come; known before anything is drawn */
	bool uses[RN_SIGN_COUNT];    /* signs that have come */
	rn_label *labels;
	size_t label_count, label_room;
} rn_drawing;

/* Looks at the case: what is closest, how hard the hardest rope is pulled, which signs may come. */
void rn_drawing_study(rn_drawing *drawing);

/* Left, bottom, right, top of everything drawn to scale [m]. */
void rn_drawing_extent(const rn_drawing *drawing, double extent_out[4]);

/* Draws the case. The scene has its scale; `area` on paper: left, top, right, bottom [mm]. */
void rn_drawing_add(rn_drawing *drawing, const double area[4]);

/* Where a node stands: settled, or as drawn when nothing settled [m]. */
const double *rn_drawing_place(const rn_drawing *drawing, int node);
/* A stroke's width for a tension [mm]. */
double rn_drawing_stroke(const rn_drawing *drawing, double tension);

#endif
