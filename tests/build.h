/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Models in a few lines, for tests that go past the file format.
 */
#ifndef RN_TESTS_BUILD_H
#define RN_TESTS_BUILD_H

#include <stdlib.h>

#include "solver/funicle.h"

static inline void build_number(rn_model *m, rn_object o, rn_attribute a, double v)
{
	rn_number n = {.value = v, .low = v, .high = v, .object = o, .attribute = a, .origin = RN_GIVEN};
	if (rn_model_set_number(m, &n) != RN_OK)
		abort();
}

static inline int build_node(rn_model *m, const char *id, rn_node_kind kind, double x, double y,
                             double weight)
{
	rn_node d = {.id = id, .kind = kind, .gear = RN_NONE, .connector = RN_NONE, .stem = RN_NONE,
	             .sling = RN_NONE};
	int i;
	if (rn_model_add_node(m, &d, &i) != RN_OK)
		abort();
	build_number(m, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_X, x);
	build_number(m, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_Y, y);
	if (weight > 0)
		build_number(m, rn_object_of(RN_NODE, i), RN_ATTRIBUTE_WEIGHT, weight);
	return i;
}

/* A sling with one leg; length 0 = as drawn. Its stiffness is its own. */
static inline int build_sling(rn_model *m, const char *id, int from, int to, double ea, double length)
{
	rn_sling d = {.id = id, .gear = RN_NONE, .connector = RN_NONE};
	int i, leg;
	if (rn_model_add_sling(m, &d, &i) != RN_OK)
		abort();
	rn_leg l = {.sling = i, .from = from, .to = to, .connector = RN_NONE};
	if (rn_model_add_leg(m, &l, &leg) != RN_OK)
		abort();
	build_number(m, rn_object_of(RN_SLING, i), RN_ATTRIBUTE_STIFFNESS, ea);
	if (length > 0)
		build_number(m, rn_object_of(RN_LEG, leg), RN_ATTRIBUTE_REACH, length);
	return i;
}

static inline int build_line(rn_model *m, const char *id, double ea)
{
	rn_line d = {.id = id, .gear = RN_NONE};
	int i;
	if (rn_model_add_line(m, &d, &i) != RN_OK)
		abort();
	build_number(m, rn_object_of(RN_LINE, i), RN_ATTRIBUTE_STIFFNESS, ea);
	return i;
}

static inline int build_station(rn_model *m, rn_station_kind kind, int node, double tread, int side)
{
	rn_station d = {.line = m->line_count - 1, .node = node, .kind = kind, .side = side,
	                .connector = RN_NONE};
	int i;
	if (rn_model_add_station(m, &d, &i) != RN_OK)
		abort();
	if (kind == RN_THROUGH && tread > 0)
		build_number(m, rn_object_of(RN_STATION, i), RN_ATTRIBUTE_TREAD, tread);
	return i;
}

#endif
