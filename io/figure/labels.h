/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Finds a free place for every label: near what it names, off ropes and symbols as far as there is
 * room, never over another label, never off its area. A label that ends up away from its target
 * gets a thin leader.
 */
#ifndef RN_IO_FIGURE_LABELS_H
#define RN_IO_FIGURE_LABELS_H

#include "io/figure/scene.h"

enum { RN_LABEL_LINES = 3, RN_LABEL_TARGETS = 5 };

typedef struct rn_label {
	const char *lines[RN_LABEL_LINES];
	rn_hand_of_text hands[RN_LABEL_LINES];
	int line_count;
	double targets[RN_LABEL_TARGETS][2]; /* what it may stand at; one is enough [m] */
	int target_count;
	double toward[2]; /* where it would rather stand, seen from its target; 0, 0 = anywhere */
	double clear;     /* distance kept from the target [mm] */
	int rank;         /* 0 to 6; lower ones choose first and are the last to be left out */
} rn_label;

/* Places all labels in the area (paper: left, top, right, bottom [mm]) and adds their letters and
 * leaders to the scene. Those for which there is no room are counted in labels_left_out. */
void rn_labels_place(rn_scene *scene, const rn_label *labels, size_t count, const double area[4]);

#endif
