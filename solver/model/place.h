/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a model says about one place or member, in one call each.
 */
#ifndef RN_MODEL_PLACE_H
#define RN_MODEL_PLACE_H

#include "solver/funicle.h"

/* How a rope meets the node of a station. */
typedef struct rn_contact_law {
	double radius; /* of the rope's centre line round the tread [m]; 0 = point */
	bool is_sheave;
	double efficiency; /* of a sheave over 180 deg [-] */
	double friction;   /* capstan exponent per radian, when it is not a sheave [-] */
} rn_contact_law;

rn_contact_law rn_station_contact(const rn_model *model, const double *values, int station);
bool rn_station_friction_known(const rn_model *model, const double *values, int station);

/* Area of a solid or hollow round section [m2], and its second moment [m4]. */
double rn_section_area(double diameter, double wall);
double rn_section_inertia(double diameter, double wall);

/* EA of a line, sling or prop [N]; positive in a checked model. */
double rn_member_stiffness(const rn_model *model, const double *values, rn_object member);

#endif
