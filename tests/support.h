/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the tests share: comparing doubles, an allocator that fails on request, seeded random
 * numbers, and networks written down as plain data, which can be turned, mirrored, shifted, scaled
 * and reordered before a model is made of them.
 */
#ifndef RN_TESTS_SUPPORT_H
#define RN_TESTS_SUPPORT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "solver/funicle.h"

/* ---- comparing ------------------------------------------------------------------------------- */

/* Fails unless |actual - expected| <= max(rel |expected|, abs). NaN never compares. Doubles, where
 * cmocka's own comparison casts to float. */
#define rn_assert_near(actual, expected, rel, abs)                                                 \
	support_assert_near((actual), (expected), (rel), (abs), #actual, __FILE__, __LINE__)

void support_assert_near(double actual, double expected, double rel, double abs, const char *text,
                         const char *file, int line);

/* ---- memory ---------------------------------------------------------------------------------- */

/* Counts calls from 1. Fails call `fail_at`, and every later one as well if `for_good`; 0 = never.
 * Every block is filled with rubbish, so that nothing can lean on its being zero. */
typedef struct support_memory {
	long call_count, fail_at, live_count;
	bool for_good;
} support_memory;

rn_allocator support_memory_allocator(support_memory *memory);

/* ---- random numbers -------------------------------------------------------------------------- */

/* The same numbers on every machine for one seed (splitmix64). */
typedef struct support_random {
	uint64_t state;
} support_random;

support_random support_random_from(uint64_t seed);
double support_random_between(support_random *random, double low, double high);
int support_random_below(support_random *random, int count);
bool support_random_chance(support_random *random, double probability);
void support_random_permute(support_random *random, int *items, int count); /* 0 .. count - 1 */

/* ---- networks as data ------------------------------------------------------------------------ */

enum { NET_NODES = 16, NET_SLINGS = 40, NET_LINES = 6, NET_STATIONS = 8 };

typedef struct net_node {
	rn_node_kind kind;
	double place[2], load[2];
} net_node;

typedef struct net_sling {
	int from, to;
	double stiffness, reach; /* reach 0: as drawn */
} net_sling;

typedef struct net_station {
	rn_station_kind kind;
	int node, side;    /* side 0: as drawn */
	double tread;      /* 0: a point */
	double friction;   /* capstan; used when efficiency is 0 */
	double efficiency; /* of a sheave */
	double pull;       /* of a hold; 0: none given */
} net_station;

typedef struct net_line {
	double stiffness, slack;
	int station_count;
	net_station stations[NET_STATIONS];
	bool toward_last;
} net_line;

typedef struct net_data {
	net_node nodes[NET_NODES];
	net_sling slings[NET_SLINGS];
	net_line lines[NET_LINES];
	int node_count, sling_count, line_count;
	bool friction; /* whether the one case has any */
} net_data;

int net_add_node(net_data *n, rn_node_kind kind, double x, double y, double weight);
void net_add_sling(net_data *n, int from, int to, double stiffness);
net_line *net_add_line(net_data *n, double stiffness, bool toward_last);
net_station *net_add_station(net_line *line, rn_station_kind kind, int node, double tread);

/* A model with one case, checked; NULL if the check finds something. Loads are forces of the case,
 * so that they can point anywhere. */
rn_model *net_model(const net_data *n, const rn_allocator *allocator);

/* Tame: every free node hangs below an anchor of its own, and lines visit them from left to right,
 * as a rigger would have it. Wild: nodes hang on nodes, lines go to and fro, loads fall for metres,
 * and what slides together slides together. */
typedef struct net_random_options {
	bool treads, friction, pulls, grips, wild;
	int free_least, free_most; /* nodes that move */
} net_random_options;

/* Anchors above, loads below, slings between, lines through several nodes. */
net_data net_random(support_random *random, net_random_options options);

/* A lowering line over a block, a floating ring on two slings through a joint, a low block, to a
 * bollard, with a tag line; ten nodes, treads, friction, what a rigger draws. */
net_data net_rigging(void);

typedef struct net_change {
	double angle; /* [rad] */
	bool mirror;  /* about the y axis, before the rotation */
	double shift[2], scale, load_scale;
	bool reverse;          /* lines and slings */
	uint64_t permute_seed; /* 0: order stays */
} net_change;

net_change net_change_none(void);

/* Where things went. */
typedef struct net_map {
	int node[NET_NODES], sling[NET_SLINGS], line[NET_LINES];
} net_map;

net_data net_changed(const net_data *n, net_change change, net_map *map_out);

/* Tension of a span of a line, or of a sling (span 0), in an answer. */
double net_tension(const rn_case_result *answer, rn_object_kind kind, int index, int span);
double net_largest_tension(const rn_case_result *answer);

#endif
