/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/figure/page.h"

#include <cairo-pdf.h>
#include <math.h>

#include "io/figure/pen.h"

rn_status rn_page_pdf(rn_buffer *buffer, const rn_scene *scene, time_t date)
{
	double k = rn_pen_points * scene->print;
	cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(rn_pen_bytes, buffer, scene->width * k, scene->height * k);
	rn_pen_metadata(surface, scene->title, scene->description, date);
	cairo_t *page = cairo_create(surface);
	rn_buffer text = rn_buffer_make(&buffer->allocator);
	cairo_scale(page, k, k);
	cairo_tag_begin(page, "Document", NULL);
	cairo_tag_begin(page, "Figure", NULL);
	rn_pen_scene(page, scene, &text);
	cairo_tag_end(page, "Figure");
	cairo_tag_end(page, "Document");
	cairo_show_page(page);
	cairo_status_t status = cairo_status(page);
	cairo_destroy(page);
	cairo_surface_finish(surface);
	status = status == CAIRO_STATUS_SUCCESS ? cairo_surface_status(surface) : status;
	cairo_surface_destroy(surface);
	bool failed = text.failed;
	rn_buffer_release(&text);
	return failed ? RN_STATUS_MEMORY : rn_pen_status(status);
}

rn_status rn_page_png(rn_buffer *buffer, const rn_scene *scene, double dots_per_inch)
{
	double k = dots_per_inch / 25.4 * scene->print;
	cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)ceil(scene->width * k),
	                                                      (int)ceil(scene->height * k));
	cairo_t *page = cairo_create(surface);
	rn_buffer text = rn_buffer_make(&buffer->allocator);
	cairo_set_source_rgb(page, 1, 1, 1);
	cairo_paint(page); /* not for a PDF: to paint all of a page forgets its tags, and the nesting breaks */
	cairo_scale(page, k, k);
	rn_pen_scene(page, scene, &text);
	cairo_status_t status = cairo_status(page);
	cairo_destroy(page);
	cairo_surface_flush(surface);
	if (status == CAIRO_STATUS_SUCCESS)
		status = cairo_surface_write_to_png_stream(surface, rn_pen_bytes, buffer);
	cairo_surface_destroy(surface);
	bool failed = text.failed;
	rn_buffer_release(&text);
	return failed ? RN_STATUS_MEMORY : rn_pen_status(status);
}
