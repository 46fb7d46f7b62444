/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Places read off a photo: drawn="under-load" picture="840 px = 10 m" ground="1180 px". A photo counts
 * from its top left, x to the right and y down; the model's y runs up from the ground.
 *
 *     x [m] = x [px] scale      y [m] = (ground - y) [px] scale      scale = 10 m / 840 px
 *
 * Only x, y and place-error may be in px.
 */
#ifndef RN_IO_XML_PICTURE_H
#define RN_IO_XML_PICTURE_H

#include "io/xml/tree.h"

/* How far a place read off a photo may be off if nothing is said [m]. */
#define RN_PICTURE_ERROR 0.05

bool rn_picture_is_px(const char *value);

/* Reads a value in px into metres. false after appending to `why`. */
bool rn_picture_read(const rn_tree_element *element, const rn_tree_attribute *attribute,
		     const rn_attribute_row *row, double *metres_out, rn_buffer *why);

/* What an element may not say about a picture: the root about its scale, a line or sling about its
 * length. All that is wrong becomes findings. */
void rn_picture_check(rn_findings *findings, const rn_tree_element *element);

/* Whether the place of a node or stem was read off a photo. */
bool rn_picture_places(const rn_tree_element *element);

#endif
