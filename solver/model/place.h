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

/* Whether a node is on a stem or on a branch of it. */
bool rn_node_grows_on(const rn_model *model, int node, int stem);

/* Of the model, standard gravity where it says nothing [m/s2]. */
double rn_gravity(const rn_model *model, const double *values);

/* Whether a station is on the piece of a fall. */
bool rn_fall_is_on(const rn_model *model, rn_object piece, int station);
/* Which way a line runs while a piece is caught: toward the piece it is tied to, else as it lowers a load; 1 toward its last
 * station, -1 toward its first, 0 not plain. */
int rn_fall_direction(const rn_model *model, const rn_case *c, int line);

/* The number of what says it nearest: the station, the gear of its node, the node; RN_NONE if none does. */
int rn_station_number(const rn_model *model, int station, rn_attribute attribute);
rn_contact_law rn_station_contact(const rn_model *model, const double *values, int station);

/* Diameter of the wood of a stem at a height along it, its bark (given or taken by its species) off: what
 * bends and carries [m]. Never below a hundredth of what is outside. */
double rn_stem_wood(const rn_model *model, const double *values, int stem, double height);

/* Area of a solid or hollow round section [m2], and its second moment [m4]. */
double rn_section_area(double diameter, double wall);
double rn_section_inertia(double diameter, double wall);

/* Sound wall of a stem at a height along it [m], 0 = solid: that of the nearest section at or below it, of the
 * first one under that. */
double rn_stem_wall(const rn_model *model, const double *values, int stem, double height);

/* The item whose curve of load and stretch a line or sling follows, RN_NONE if it has none. */
int rn_member_curve(const rn_model *model, rn_object member);
/* The straight part of that curve a pull lies on, counted from 0: stretch = offset + slope pull. */
typedef struct rn_curve_part {
	int index;
	double offset, slope; /* [-], [1/N] */
} rn_curve_part;
rn_curve_part rn_curve_part_at(const rn_model *model, const double *values, int item, double pull);
rn_curve_part rn_curve_part_of(const rn_model *model, const double *values, int item, int index);
/* Stretch at a pull on that curve [-]. */
double rn_curve_stretch(const rn_model *model, const double *values, int item, double pull);

/* EA of a line, sling or prop [N]; positive in a checked model. Of a curve the slope at its start. */
double rn_member_stiffness(const rn_model *model, const double *values, rn_object member);

#endif
