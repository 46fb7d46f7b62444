/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/picture.h"

#include <stdint.h>
#include <string.h>

#include "io/xml/check.h"

static const char unit_px[] = "px";
static const char scale_due[] = "the scale of the photo is due, such as 840 px = 10 m";

enum { PX_MOST = 80 };

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* The part of `value` in front of px, without spaces, or SIZE_MAX if it does not end in px. */
static size_t size_before_px(const char *value, size_t size)
{
	while (size > 0 && is_space(value[size - 1]))
		size--;
	if (size < 2 || memcmp(value + size - 2, unit_px, 2) != 0)
		return SIZE_MAX;
	return size - 2;
}

bool rn_picture_is_px(const char *value)
{
	return size_before_px(value, strlen(value)) != SIZE_MAX;
}

static void forget(rn_buffer *why, size_t said)
{
	if (!why->bytes)
		return;
	why->size = said;
	why->bytes[said] = '\0';
}

/* A number of px: what stands in front of them is read as a number of metres is. */
static bool read_px(const char *value, size_t size, double *px_out, rn_buffer *why)
{
	char plain[PX_MOST + 3];
	size_t before = size_before_px(value, size), said = why->size;
	if (before <= PX_MOST) {
		memcpy(plain, value, before);
		memcpy(plain + before, " m", sizeof " m");
		if (rn_quantity_read(plain, RN_MEASURE_LENGTH, RN_GRAVITY_STANDARD, px_out, why))
			return true;
		forget(why, said); /* it speaks of metres */
	}
	rn_buffer_text(why, "a number of px is due, such as 1180 px or 1180.5 px");
	return false;
}

/* ---- the photo ----------------------------------------------------------------------------- */

static const rn_tree_element *root_of(const rn_tree_element *e)
{
	while (e->parent)
		e = e->parent;
	return e;
}

/* "840 px = 10 m" into m/px. */
static bool read_scale(const char *value, double *scale_out, rn_buffer *why)
{
	const char *equals = strchr(value, '=');
	double px, metres;
	if (!equals) {
		rn_buffer_text(why, scale_due);
		return false;
	}
	if (!read_px(value, (size_t)(equals - value), &px, why) ||
	    !rn_quantity_read(equals + 1, RN_MEASURE_LENGTH, RN_GRAVITY_STANDARD, &metres, why))
		return false;
	if (px <= 0 || metres <= 0) {
		rn_buffer_text(why, "both lengths must be more than 0");
		return false;
	}
	*scale_out = metres / px;
	return true;
}

static bool is_place(const rn_attribute_row *row)
{
	return row->number == RN_ATTRIBUTE_X || row->number == RN_ATTRIBUTE_Y ||
	       row->number == RN_ATTRIBUTE_PLACE_ERROR;
}

/* What the root says, if it says it well; what is wrong there is a finding of its own. */
static double scale_said(const rn_tree_element *root, rn_buffer *scratch)
{
	double scale;
	const char *picture = rn_tree_value(root, "picture");
	return picture && read_scale(picture, &scale, scratch) ? scale : 0;
}

static double ground_said(const rn_tree_element *root, rn_buffer *scratch)
{
	double ground;
	const char *value = rn_tree_value(root, "ground");
	return value && read_px(value, strlen(value), &ground, scratch) ? ground : 0;
}

static bool refuse(rn_buffer *why, const char *text)
{
	rn_buffer_text(why, text);
	return false;
}

bool rn_picture_read(const rn_tree_element *e, const rn_tree_attribute *a, const rn_attribute_row *row,
		     double *metres_out, rn_buffer *why)
{
	const rn_tree_element *root = root_of(e);
	double px;
	if (!is_place(row))
		return refuse(why, "px is for places in a photo: x, y and place-error");
	if (!rn_tree_value(root, "picture"))
		return refuse(why, "px needs the scale of the photo at <rigging>: "
		                   "picture=\"840 px = 10 m\"");
	bool is_y = row->number == RN_ATTRIBUTE_Y;
	if (is_y && !rn_tree_value(root, "ground"))
		return refuse(why, "y in px needs the ground of the photo at <rigging>, where y is 0: "
		                   "ground=\"1180 px\"");
	if (!read_px(a->value, strlen(a->value), &px, why))
		return false;
	size_t said = why->size;
	double scale = scale_said(root, why), ground = is_y ? ground_said(root, why) : 0;
	forget(why, said); /* that belongs to the root */
	*metres_out = (is_y ? ground - px : px) * scale + 0.0;
	return true;
}

bool rn_picture_places(const rn_tree_element *e)
{
	const char *x = rn_tree_value(e, "x"), *y = rn_tree_value(e, "y");
	return (x && rn_picture_is_px(x)) || (y && rn_picture_is_px(y));
}

/* ---- misuse -------------------------------------------------------------------------------- */

static void tell(rn_findings *findings, const rn_tree_element *e, const rn_tree_attribute *a,
		 const char *what)
{
	rn_buffer *text = rn_check_begin(findings, e, a);
	rn_buffer_text(text, what);
	rn_findings_end(findings);
}

static void check_value(rn_findings *findings, const rn_tree_element *root, const rn_tree_attribute *a,
			bool is_scale)
{
	rn_buffer why = rn_buffer_make(&findings->pool->allocator);
	double value;
	bool good = is_scale ? read_scale(a->value, &value, &why)
	                     : read_px(a->value, strlen(a->value), &value, &why);
	if (!good && !why.failed)
		tell(findings, root, a, why.bytes);
	findings->pool->failed |= why.failed;
	rn_buffer_release(&why);
}

static bool is_under_load(const rn_tree_element *root)
{
	const char *drawn = rn_tree_value(root, "drawn");
	return drawn && strcmp(drawn, "under-load") == 0;
}

static void check_root(rn_findings *findings, const rn_tree_element *root)
{
	const rn_tree_attribute *picture = rn_tree_attribute_named(root, "picture");
	const rn_tree_attribute *ground = rn_tree_attribute_named(root, "ground");
	if (picture && !is_under_load(root))
		tell(findings, root, picture,
		     "a photo shows the rig as it hangs: say drawn=\"under-load\"");
	if (ground && !picture)
		tell(findings, root, ground,
		     "this is where the ground is in a photo: give its scale as well, "
		     "picture=\"840 px = 10 m\"");
	if (picture)
		check_value(findings, root, picture, true);
	if (ground)
		check_value(findings, root, ground, false);
}

static void check_length(rn_findings *findings, const rn_tree_element *e)
{
	static const char *const refused[] = {"length", "slack", "pretension"};
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
		const rn_tree_attribute *a = rn_tree_attribute_named(e, refused[i]);
		if (a)
			tell(findings, e, a,
			     "drawn=\"under-load\" keeps every place as drawn and finds the "
			     "forces: length, slack and pretension say nothing there");
	}
}

void rn_picture_check(rn_findings *findings, const rn_tree_element *e)
{
	if (e->element == RN_ELEMENT_RIGGING)
		check_root(findings, e);
	if ((e->element == RN_ELEMENT_LINE || e->element == RN_ELEMENT_SLING) &&
	    is_under_load(root_of(e)))
		check_length(findings, e);
}
