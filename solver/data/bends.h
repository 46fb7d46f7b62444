/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What bends and chokes leave of a rope's or sling's strength, with the source of each figure, and the
 * smallest diameters that rules of the trade ask for.
 */
#ifndef RN_DATA_BENDS_H
#define RN_DATA_BENDS_H

#include <stdbool.h>

#include "solver/funicle.h"

/* Strength left where a rope of diameter d bends round a diameter D, by the table for wire rope; linear
 * between rows, level above the last [-]. For fibre rope it stands in only down to D/d 4, below that
 * nothing is known: 0. */
double rn_bend_keeps(double ratio, bool wire);
const char *rn_bend_source(bool wire);

/* Strength left in a choke at a free angle, by how the sling is made. */
double rn_choke_keeps(rn_body body, bool wire);
const char *rn_choke_source(rn_body body, bool wire);

/* Part of the choke rating left at an angle of choke: between the pulling part and the part of the body it
 * comes through, pi = straight on [rad]. */
double rn_choke_angle_keeps(double angle);
extern const char rn_choke_angle_source[];

/* Strength left when wet, by fibre. */
double rn_wet_keeps(rn_fibre fibre);
const char *rn_wet_source(rn_fibre fibre);

/* The least D/d that a rule asks for where a rope or sling bends, and who says so. */
typedef enum rn_bend_place { RN_BEND_OF_ROPE, RN_BEND_OF_CHOKE, RN_BEND_OF_BASKET, RN_BEND_OF_EYE } rn_bend_place;
double rn_bend_least(rn_bend_place place);
const char *rn_bend_least_source(rn_bend_place place);

#endif
