/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/data/bends.h"

#include <stddef.h>

/* ---- bends --------------------------------------------------------------------------------- */

/* Wire rope over a pin or standing sheave, strength left by D/d. Two trade copies that agree; both ends
 * also in a training text after the Wire Rope Users Manual, fig. 38. */
static const struct {
	double ratio, keeps;
} wire_bends[] = {
	{1, 0.50}, {2, 0.65}, {4, 0.75}, {6, 0.79}, {8, 0.83}, {10, 0.86}, {15, 0.89}, {20, 0.91}, {30, 0.93}, {40, 0.95},
};

enum { WIRE_BEND_COUNT = sizeof wire_bends / sizeof *wire_bends };

/* Sharper than this the table of another material tells nothing of fibre rope [-]; the least D/d of
 * rigging blocks, arborist examination material (trade copy). */
static const double fibre_least = 4;

double rn_bend_keeps(double ratio, bool wire)
{
	if (!(ratio >= (wire ? wire_bends[0].ratio : fibre_least)))
		return 0;
	for (int i = 1; i < WIRE_BEND_COUNT; i++)
		if (ratio <= wire_bends[i].ratio) {
			double part = (ratio - wire_bends[i - 1].ratio) / (wire_bends[i].ratio - wire_bends[i - 1].ratio);
			return wire_bends[i - 1].keeps + part * (wire_bends[i].keeps - wire_bends[i - 1].keeps);
		}
	return wire_bends[WIRE_BEND_COUNT - 1].keeps;
}

const char *rn_bend_source(bool wire)
{
	return wire ? "bend table for wire rope, after the Wire Rope Users Manual; trade copy"
	            : "bend table for wire rope, a stand-in for fibre rope; trade copy";
}

static const struct {
	double ratio;
	const char *source;
} least_bends[] = {
	[RN_BEND_OF_ROPE] = {4, "rigging blocks, arborist examination material; trade copy"},
	[RN_BEND_OF_CHOKE] = {2, "29 CFR 1910.184 fig. N-184-4, choked load surface"},
	[RN_BEND_OF_BASKET] = {8, "29 CFR 1910.184 fig. N-184-4, basket bearing surface"},
	[RN_BEND_OF_EYE] = {2, "29 CFR 1910.184 fig. N-184-4, eye over a pin"},
};

double rn_bend_least(rn_bend_place place)
{
	return least_bends[place].ratio;
}

const char *rn_bend_least_source(rn_bend_place place)
{
	return least_bends[place].source;
}

/* ---- chokes -------------------------------------------------------------------------------- */

static bool is_textile(rn_body body)
{
	return body == RN_BODY_STRAP || body == RN_BODY_ROUND;
}

double rn_choke_keeps(rn_body body, bool wire)
{
	return wire || is_textile(body) ? 0.80 : 0.50;
}

const char *rn_choke_source(rn_body body, bool wire)
{
	if (wire || is_textile(body))
		return "AS 1353, AS 4497 and UK mode-factor tables, single choke; trade copy";
	return "29 CFR 1918 App. II Table 2, fibre rope slings, choker = 0.50 vertical; trade copy";
}

const char rn_choke_angle_source[] = "ASME B30.9 angle of choke, as printed by hire companies; trade copy";

double rn_choke_angle_keeps(double angle)
{
	static const struct {
		double above, keeps;
	} bands[] = {{120, 1.00}, {90, 0.87}, {60, 0.74}, {30, 0.62}};
	/* an angle typed as 90 deg must not fall below its band by the rounding of radians */
	const double degrees_per_radian = 180 / 3.14159265358979323846, rounding = 1e-9;
	double degrees = angle * degrees_per_radian;
	if (degrees > bands[0].above + rounding)
		return bands[0].keeps;
	for (size_t i = 1; i < sizeof bands / sizeof *bands; i++)
		if (degrees >= bands[i].above - rounding)
			return bands[i].keeps;
	return 0.49;
}

/* ---- wet ----------------------------------------------------------------------------------- */

/* Nylon: 5 to 25 % lost when wet (knot handbook, trade copy), 15 % (UFC 4-159-03 note to Table 6-8), 20 %
 * (Flory, Hearle and Goksoy 1990): the lowest is kept. What may be nylon, and natural fibre of which
 * nothing is known, lose as much; the others are not known to lose any (common practice). */
static bool loses_when_wet(rn_fibre fibre)
{
	return fibre == RN_FIBRE_NYLON || fibre == RN_FIBRE_UNKNOWN || fibre == RN_FIBRE_NATURAL;
}

double rn_wet_keeps(rn_fibre fibre)
{
	return loses_when_wet(fibre) ? 0.75 : 1;
}

const char *rn_wet_source(rn_fibre fibre)
{
	if (fibre == RN_FIBRE_NYLON)
		return "wet nylon loses 5 to 25 %, knot handbook; trade copy";
	return loses_when_wet(fibre) ? "as wet nylon, nothing better known; common practice, no source"
	                             : "no loss known when wet; common practice, no source";
}
