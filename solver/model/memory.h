/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The private side of a model: its arena and how far its arrays have grown.
 */
#ifndef RN_MODEL_MEMORY_H
#define RN_MODEL_MEMORY_H

#include "solver/base/arena.h"

typedef struct rn_model_memory {
	rn_arena arena;
	rn_allocator allocator;
	int number_room, item_room, stem_room, section_room, node_room, sling_room, leg_room, line_room,
		station_room, prop_room, stretch_room, bend_room, timber_room, cut_room, case_room, run_room,
		force_room, fall_room, setting_room;
	bool checked;
	rn_model told; /* the model as it was told, before the check added to it */
} rn_model_memory;

/* Keeps the model as it is told now. Errors: MEMORY. */
rn_status rn_model_keep_told(rn_model *model) RN_MUST_CHECK;

/* Adds a number whose origin is a guess or a default. Errors: MEMORY, LIMIT. */
rn_status rn_model_guess(rn_model *model, rn_object object, rn_attribute attribute, double value,
                         double low, double high, rn_origin origin) RN_MUST_CHECK;

/* Appends lowering, raising and no-friction as they apply. Errors: MEMORY, LIMIT. */
rn_status rn_model_make_cases(rn_model *model) RN_MUST_CHECK;

#endif
