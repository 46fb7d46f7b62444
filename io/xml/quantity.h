/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Quantities as people write them, "12 kN", "12 ft 6 in", "30 deg left of down", into SI.
 *
 *     quantity   = number [unit]                 the unit glued on or after spaces
 *                | whole "ft" number "in"
 *     range      = quantity ".." quantity        the first may leave its unit to the second
 *     number     = [+-] figures [. figures] [e [+-] figures]
 *     direction  = right | up | left | down      angles run anticlockwise from +x
 *                | angle                         30 deg
 *                | angle side "of" upright       30 deg left of down
 *                | angle above|below side        20 deg above right
 *     lean       = angle left|right              to the right positive
 *
 * The locale never matters. kg, lb and t are masses: where a force is due they weigh mass times the
 * given gravity. lbf and kip are forces whatever the gravity; lb and lbf agree at 9.80665 m/s2.
 *
 * Every reader returns true, or false after appending one sentence to `why`: what is wrong and what
 * is due. Where a form of words is due ("such as ...") it can be copied into a file as it stands.
 */
#ifndef RN_IO_XML_QUANTITY_H
#define RN_IO_XML_QUANTITY_H

#include "io/base/buffer.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The quantities of the model, and those that only a file knows. */
typedef enum rn_measure {
	RN_MEASURE_RATIO = RN_QUANTITY_RATIO,
	RN_MEASURE_LENGTH = RN_QUANTITY_LENGTH,
	RN_MEASURE_FORCE = RN_QUANTITY_FORCE,
	RN_MEASURE_ANGLE = RN_QUANTITY_ANGLE,
	RN_MEASURE_ACCELERATION = RN_QUANTITY_ACCELERATION,
	RN_MEASURE_DENSITY = RN_QUANTITY_DENSITY,
	RN_MEASURE_PRESSURE = RN_QUANTITY_STRESS,
	RN_MEASURE_COUNT
} rn_measure;

#define RN_GRAVITY_STANDARD 9.80665 /* [m/s2] exact by definition */

typedef struct rn_range {
	double low, high; /* SI */
} rn_range;

bool rn_quantity_read(const char *text, rn_measure measure, double gravity, double *value_out,
		      rn_buffer *why);
bool rn_quantity_read_range(const char *text, rn_measure measure, double gravity,
			    rn_range *range_out, rn_buffer *why);
bool rn_quantity_read_direction(const char *text, double *angle_out, rn_buffer *why);
bool rn_quantity_read_lean(const char *text, double *angle_out, rn_buffer *why);

/* "a force", and "12 kN or 450 lb": for messages and the manual. */
const char *rn_measure_name(rn_measure measure);
const char *rn_measure_example(rn_measure measure);
/* All units of a measure, parted by spaces, appended to `list`. */
void rn_measure_units(rn_measure measure, rn_buffer *list);

#ifdef __cplusplus
}
#endif

#endif
