/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What every page drawn by cairo is drawn with. A page is in millimetres from its top left corner.
 */
#ifndef RN_IO_FIGURE_PEN_H
#define RN_IO_FIGURE_PEN_H

#include <cairo.h>
#include <pango/pangocairo.h>
#include <time.h>

#include "io/figure/scene.h"

extern const double rn_pen_points; /* in a millimetre: 1 in = 25.4 mm = 72 points */

/* "#rrggbb" */
void rn_pen_colour(cairo_t *page, const char *colour);
/* Letters where they are meant to be: hinting would move them by the pixel of a screen that nobody has. */
void rn_pen_unhinted(cairo_t *page);
/* `text` becomes what of `from` can be shown. */
void rn_pen_plain(rn_buffer *text, const char *from);

/* The caller gives both back by g_object_unref. Size in millimetres. */
PangoContext *rn_pen_context(cairo_t *page);
PangoLayout *rn_pen_layout(PangoContext *context, const rn_buffer *text, double size, bool bold);

/* All of a scene; `text` is scratch. */
void rn_pen_scene(cairo_t *page, const rn_scene *scene, rn_buffer *text);

/* A cairo_write_func_t into a rn_buffer. */
cairo_status_t rn_pen_bytes(void *buffer, const unsigned char *bytes, unsigned int size);
rn_status rn_pen_status(cairo_status_t status); /* OK, MEMORY or LIMIT */
/* Title, subject and the only date of a PDF: without one cairo says the time of day, and no two files are alike. */
void rn_pen_metadata(cairo_surface_t *surface, const char *title, const char *subject, time_t date);

#endif
