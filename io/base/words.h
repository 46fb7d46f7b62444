/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How a quantity, a direction, an object and a note read. Every writer says them through here, so
 * that text, figure and JSON never differ in a word.
 *
 * Quantities have three significant figures and are rounded toward the cautious side: loads,
 * stresses, per cents and travel up, limits down, angles and places to the nearest. Numbers are put
 * together from integers, so no locale can change them.
 */
#ifndef RN_IO_BASE_WORDS_H
#define RN_IO_BASE_WORDS_H

#include "io/base/buffer.h"
#include "solver/funicle.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum rn_units { RN_METRIC, RN_US } rn_units;

typedef enum rn_rounding { RN_UP, RN_DOWN, RN_NEAREST } rn_rounding;

/* A force is "3.14 kN" (below 1 kN "314 N") or "706 lbf", a length "1.25 m" (below 10 cm "43.2 mm")
 * or "4.11 ft" (below 1 ft "5.25 in"), a ratio "87.4 %". */
void rn_words_force(rn_buffer *buffer, double force, rn_rounding rounding, rn_units units);
void rn_words_length(rn_buffer *buffer, double length, rn_rounding rounding, rn_units units);
/* "4.94 to 251 N", rounded up; "32.1 N" when both read alike. */
void rn_words_force_range(rn_buffer *buffer, double least, double most, rn_units units);
/* The same with the least rounded down, where it is a limit of what may be counted on. */
void rn_words_force_spread(rn_buffer *buffer, double least, double most, rn_units units);
/* "0.385 to 0.442 m" or "95.0 mm to 0.120 m", rounded up. */
void rn_words_length_range(rn_buffer *buffer, double least, double most, rn_units units);
/* Rounded up. A ratio above 1 never reads as 100 %. */
void rn_words_percent(rn_buffer *buffer, double ratio);
void rn_words_angle(rn_buffer *buffer, double angle); /* "37 deg" */
/* "42.0 MPa", "8.24 GPa" or "6100 psi". */
void rn_words_stress(rn_buffer *buffer, double stress, rn_rounding rounding, rn_units units);
/* "14.1 kN m" or "10400 lbf ft". */
void rn_words_moment(rn_buffer *buffer, double moment, rn_rounding rounding, rn_units units);
/* The mass of a weight, rounded up: "320 kg" or "706 lb"; gravity 0 stands for the standard one. */
void rn_words_mass(rn_buffer *buffer, double weight, double gravity, rn_units units);
/* "888 kg/m3" or "55.4 lb/ft3", to the nearest. */
void rn_words_density(rn_buffer *buffer, double density, rn_units units);
/* "0.495 m3" or "17.5 ft3". */
void rn_words_volume(rn_buffer *buffer, double volume, rn_rounding rounding, rn_units units);
/* Mass and force, both: "320 kg (3.14 kN)" or "706 lb (706 lbf)"; rounded up, or as said. */
void rn_words_weight(rn_buffer *buffer, double weight, double gravity, rn_units units);
void rn_words_weight_rounded(rn_buffer *buffer, double weight, double gravity, rn_rounding rounding,
                             rn_units units);
/* A number without a unit, six figures at most, no idle zeros: "0.14". */
void rn_words_number(rn_buffer *buffer, double value);

/* A whole number of things, "4,096". */
void rn_words_count(rn_buffer *buffer, int count);

/* For columns whose head carries the unit: always kN, always lbf. */
void rn_words_bare_force(rn_buffer *buffer, double force, rn_rounding rounding, rn_units units);
const char *rn_words_force_unit(rn_units units);

/* Forces smaller than this are printed as nothing [N]. */
extern const double rn_words_nothing;

/* Where a vector points, so that an arm can follow it: "straight down", "down and right, 31 deg off
 * plumb", "level to the left". The short form leaves out "off plumb"; the side form the angle. */
typedef enum rn_pointing { RN_POINT_FULL, RN_POINT_SHORT, RN_POINT_SIDE } rn_pointing;
void rn_words_direction(rn_buffer *buffer, const double vector[2], rn_pointing pointing);
/* The same as a place beside something, before its name: "straight below", "down and left of". */
void rn_words_beside(rn_buffer *buffer, const double vector[2]);

/* Of the model, which masses are told by [m/s2]; 0 when it has none. */
double rn_words_gravity(const rn_model *model);

/* The id, or for nameless things a phrase: "bull at r1", "section 2 of beech". */
void rn_words_object(rn_buffer *buffer, const rn_model *model, rn_object object);
/* By what name a command line can ask for a number: "log.weight", "bull.r1.friction", "beech.section2.diameter".
 * False, and nothing is added, when it has none. */
bool rn_words_number_name(rn_buffer *buffer, const rn_model *model, int number);
/* What such a number can be, to the nearest: "400 kg", "0.25", "12 deg", and from one to another, "280 to 400 kg". */
void rn_words_value(rn_buffer *buffer, const rn_model *model, rn_attribute attribute, double value, rn_units units);
void rn_words_value_range(rn_buffer *buffer, const rn_model *model, rn_attribute attribute, double low, double high,
                          rn_units units);
/* "block b1", "rope bull", "sling s1", "anchor top": kind, then name. */
void rn_words_part(rn_buffer *buffer, const rn_model *model, rn_object object);
const char *rn_words_kind(const rn_model *model, rn_object object);
/* "knot 0.60 (running bowline)", "bend 0.768 (D/d 4.75)", "choke angle 0.87 (91 deg)". */
void rn_words_factor(rn_buffer *buffer, const rn_factor *factor);
/* What a limit is made of: "strength 70.0 kN x knot 0.60 (running bowline) / 10". */
void rn_words_limit(rn_buffer *buffer, const rn_part_result *part, rn_units units);
/* Whether its worst section is its lowest: a height of nothing reads like one that is missing. */
bool rn_words_stem_at_foot(const rn_stem_result *stem);
/* Where its worst section is: "4.31 m up", "1.20 m along", "at its foot". */
void rn_words_stem_height(rn_buffer *buffer, const rn_model *model, const rn_stem_result *stem, rn_units units);
/* What decides of a stem: "pressed 6.54 MPa of 27.5 MPa / 5". */
void rn_words_stem_limit(rn_buffer *buffer, const rn_stem_result *stem, rn_units units);
const char *rn_words_unchecked(rn_unchecked reason); /* "no rating", "no design factor", ... */

/* A note's template with its objects and quantities put in. Of a range "{0:force} to {1:force}" in
 * one unit the first has none: "315 to 630 kN". */
void rn_words_note(rn_buffer *buffer, const rn_model *model, const rn_note *note, rn_units units);
/* All notes of a list, apart by "; ". Guesses that differ in {a} alone are said once, with all
 * their names. */
void rn_words_notes(rn_buffer *buffer, const rn_model *model, const rn_notes *notes,
                    rn_units units);

/* "Look again: ..." of all that the model has to be asked about; nothing where there is nothing. */
void rn_words_doubts(rn_buffer *buffer, const rn_model *model, rn_units units);

/* User text: control and direction-changing characters and broken UTF-8 become '?'. */
void rn_words_plain(rn_buffer *buffer, const char *text);
/* One character of UTF-8 at `text` (not at its end): its code, '?' for what rn_words_plain would
 * not let through. Returns how many bytes it takes. */
size_t rn_words_character(const char *text, uint32_t *code_out);

/* What is looked at and what is not: a sentence each. NULL at the end. */
const char *rn_words_sight(const rn_model *model, int index);
/* What every answer warns of, the last only when the model has more than one stem. NULL at the
 * end. */
const char *rn_words_caution(const rn_model *model, int index);

#ifdef __cplusplus
}
#endif

#endif
