/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/support.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/build.h"

void support_assert_near(double actual, double expected, double rel, double abs, const char *text,
                         const char *file, int line)
{
	double allowed = fmax(rel * fabs(expected), abs), off = fabs(actual - expected);
	if (off <= allowed)
		return;
	print_error("%s is %.17g, expected %.17g: off by %.3g, allowed %.3g\n", text, actual,
	            expected, off, allowed);
	_fail(file, line);
}

/* ---- memory ---------------------------------------------------------------------------------- */

static void *take(void *context, size_t size)
{
	support_memory *memory = context;
	memory->call_count++;
	bool failing =
		memory->fail_at > 0 && (memory->for_good ? memory->call_count >= memory->fail_at
	                                                 : memory->call_count == memory->fail_at);
	void *block = failing ? NULL : malloc(size);
	if (!block)
		return NULL;
	memory->live_count++;
	return memset(block, 0xa5, size);
}

static void release(void *context, void *block)
{
	support_memory *memory = context;
	memory->live_count -= block != NULL;
	free(block);
}

rn_allocator support_memory_allocator(support_memory *memory)
{
	return (rn_allocator){take, release, memory};
}

/* ---- random numbers -------------------------------------------------------------------------- */

support_random support_random_from(uint64_t seed)
{
	return (support_random){seed * 0x9e3779b97f4a7c15u + 0x632be59bd9b4e019u};
}

static uint64_t next(support_random *random)
{
	uint64_t z = random->state += 0x9e3779b97f4a7c15u;
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
	z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
	return z ^ (z >> 31);
}

double support_random_between(support_random *random, double low, double high)
{
	return low + (high - low) * ((double)(next(random) >> 11) * 0x1p-53);
}

int support_random_below(support_random *random, int count)
{
	return (int)(next(random) % (uint64_t)count);
}

bool support_random_chance(support_random *random, double probability)
{
	return support_random_between(random, 0, 1) < probability;
}

void support_random_permute(support_random *random, int *items, int count)
{
	for (int i = 0; i < count; i++)
		items[i] = i;
	for (int i = count - 1; i > 0; i--) {
		int k = support_random_below(random, i + 1), kept = items[i];
		items[i] = items[k];
		items[k] = kept;
	}
}

/* ---- networks as data ------------------------------------------------------------------------ */

int net_add_node(net_data *n, rn_node_kind kind, double x, double y, double weight)
{
	assert_true(n->node_count < NET_NODES);
	n->nodes[n->node_count] = (net_node){kind, {x, y}, {0, -weight}};
	return n->node_count++;
}

void net_add_sling(net_data *n, int from, int to, double stiffness)
{
	assert_true(n->sling_count < NET_SLINGS);
	n->slings[n->sling_count++] = (net_sling){from, to, stiffness, 0};
}

net_line *net_add_line(net_data *n, double stiffness, bool toward_last)
{
	assert_true(n->line_count < NET_LINES);
	n->lines[n->line_count] = (net_line){.stiffness = stiffness, .toward_last = toward_last};
	return &n->lines[n->line_count++];
}

net_station *net_add_station(net_line *line, rn_station_kind kind, int node, double tread)
{
	assert_true(line->station_count < NET_STATIONS);
	net_station *station = &line->stations[line->station_count++];
	*station = (net_station){.kind = kind, .node = node, .tread = tread};
	return station;
}

static void make_node(rn_model *m, const net_node *node, int index)
{
	char id[16];
	snprintf(id, sizeof id, "n%d", index);
	build_node(m, id, node->kind, node->place[0], node->place[1], 0);
	if (node->kind == RN_NODE_BOLLARD)
		build_number(m, rn_object_of(RN_NODE, index), RN_ATTRIBUTE_TURNS, 2);
}

static void make_station(rn_model *m, const net_station *station)
{
	rn_object object = rn_object_of(RN_STATION, build_station(m, station->kind, station->node,
	                                                          station->tread, station->side));
	if (station->kind == RN_THROUGH && station->efficiency > 0)
		build_number(m, object, RN_ATTRIBUTE_EFFICIENCY, station->efficiency);
	else if (station->kind != RN_TIE)
		build_number(m, object, RN_ATTRIBUTE_FRICTION, station->friction);
	if (station->pull > 0)
		build_number(m, object, RN_ATTRIBUTE_PULL, station->pull);
}

static void make_line(rn_model *m, const net_line *line, int index)
{
	char id[16];
	snprintf(id, sizeof id, "l%d", index);
	build_line(m, id, line->stiffness);
	if (line->slack > 0)
		build_number(m, rn_object_of(RN_LINE, index), RN_ATTRIBUTE_SLACK, line->slack);
	for (int i = 0; i < line->station_count; i++)
		make_station(m, &line->stations[i]);
}

static void make_case(rn_model *m, const net_data *n)
{
	rn_case d = {.id = "only", .level = n->friction ? RN_FRICTION_NOMINAL : RN_FRICTION_NONE};
	assert_int_equal(rn_model_add_case(m, &d, NULL), RN_OK);
	for (int i = 0; i < n->line_count; i++) {
		rn_run run = {.line = i, .toward_last = n->lines[i].toward_last, .at = RN_NONE};
		assert_int_equal(rn_model_add_run(m, 0, &run), RN_OK);
	}
	for (int i = 0; i < n->node_count; i++) {
		const double *load = n->nodes[i].load;
		int index;
		if (load[0] == 0 && load[1] == 0)
			continue;
		rn_force force = {.case_index = 0, .node = i};
		assert_int_equal(rn_model_add_force(m, &force, &index), RN_OK);
		build_number(m, rn_object_of(RN_FORCE, index), RN_ATTRIBUTE_SIZE,
		             hypot(load[0], load[1]));
		build_number(m, rn_object_of(RN_FORCE, index), RN_ATTRIBUTE_TOWARD,
		             atan2(load[1], load[0]));
	}
}

rn_model *net_model(const net_data *n, const rn_allocator *allocator)
{
	rn_model *m;
	assert_int_equal(rn_model_create(allocator, &m), RN_OK);
	m->made_cases = false;
	for (int i = 0; i < n->node_count; i++)
		make_node(m, &n->nodes[i], i);
	for (int i = 0; i < n->sling_count; i++) {
		const net_sling *s = &n->slings[i];
		char id[16];
		snprintf(id, sizeof id, "s%d", i);
		build_sling(m, id, s->from, s->to, s->stiffness, s->reach);
	}
	for (int i = 0; i < n->line_count; i++)
		make_line(m, &n->lines[i], i);
	make_case(m, n);
	if (rn_model_check(m) == RN_OK)
		return m;
	rn_model_destroy(m);
	return NULL;
}

/* ---- random networks ------------------------------------------------------------------------- */

typedef struct growing {
	net_data *n;
	support_random *random;
	net_random_options options;
	int anchor_count;
} growing;

static double between(growing *g, double low, double high)
{
	return support_random_between(g->random, low, high);
}

/* 20 kN to 5 MN: from a thin nylon line to a wire rope. */
static double random_stiffness(growing *g)
{
	return exp(between(g, log(2e4), log(5e6)));
}

static void grow_wild_nodes(growing *g, int free_count)
{
	g->anchor_count = 2 + support_random_below(g->random, 3);
	for (int i = 0; i < g->anchor_count; i++)
		net_add_node(g->n, RN_NODE_ANCHOR, between(g, 0, 10), between(g, 8, 12), 0);
	for (int i = 0; i < free_count; i++)
		net_add_node(g->n, RN_NODE_RING, between(g, 0, 10), between(g, 2, 8), 0);
}

/* Anchors some three metres apart, one more than free nodes; each of these below its own. */
static void grow_tame_nodes(growing *g, int free_count)
{
	g->anchor_count = free_count + 1;
	for (int i = 0; i < g->anchor_count; i++)
		net_add_node(g->n, RN_NODE_ANCHOR, 3 * i + between(g, -0.7, 0.7), between(g, 8, 12),
		             0);
	for (int i = 0; i < free_count; i++) {
		const double *above = g->n->nodes[i].place;
		net_add_node(g->n, RN_NODE_RING, above[0] + between(g, -0.7, 0.7),
		             above[1] - between(g, 1, 5), 0);
	}
}

static void grow_nodes(growing *g)
{
	const net_random_options *o = &g->options;
	int free_count =
		o->free_least + support_random_below(g->random, o->free_most - o->free_least + 1);
	if (o->wild)
		grow_wild_nodes(g, free_count);
	else
		grow_tame_nodes(g, free_count);
	for (int i = g->anchor_count; i < g->n->node_count; i++) {
		bool piece = i == g->n->node_count - 1 || support_random_chance(g->random, 0.4);
		g->n->nodes[i].kind = piece ? RN_NODE_PIECE : RN_NODE_RING;
		g->n->nodes[i].load[1] = -(piece ? between(g, 200, 4000) : between(g, 2, 60));
	}
}

static bool joined(const net_data *n, int a, int b)
{
	for (int i = 0; i < n->sling_count; i++)
		if ((n->slings[i].from == a && n->slings[i].to == b) ||
		    (n->slings[i].from == b && n->slings[i].to == a))
			return true;
	return false;
}

/* Every free node hangs on one or two nodes made before it, so everything is held. */
static void grow_slings(growing *g)
{
	for (int i = g->anchor_count; i < g->n->node_count; i++)
		for (int count = 1 + support_random_below(g->random, 2), k = 0; k < count; k++) {
			bool own = !g->options.wild && k == 0;
			int other = own ? i - g->anchor_count : support_random_below(g->random, i);
			if (!joined(g->n, i, other))
				net_add_sling(g->n, i, other, random_stiffness(g));
		}
}

static void sort_by_x(const growing *g, int *order, int count)
{
	const net_node *node = g->n->nodes + g->anchor_count;
	for (int i = 1; i < count; i++)
		for (int k = i; k > 0 && node[order[k]].place[0] < node[order[k - 1]].place[0];
		     k--) {
			int kept = order[k];
			order[k] = order[k - 1];
			order[k - 1] = kept;
		}
}

static void grow_through(growing *g, net_line *line, int node)
{
	bool tread = g->options.treads && support_random_chance(g->random, 0.8);
	net_station *s = net_add_station(line, RN_THROUGH, node, tread ? between(g, 0.03, 0.4) : 0);
	if (!g->options.friction)
		return;
	if (support_random_chance(g->random, 0.4))
		s->efficiency = between(g, 0.75, 0.97);
	else
		s->friction = between(g, 0.05, 0.35);
}

/* From an anchor or a hand through some free nodes to the last free node or another anchor. */
static void grow_line(growing *g)
{
	net_data *n = g->n;
	int order[NET_NODES], free_count = n->node_count - g->anchor_count;
	support_random_permute(g->random, order, free_count);
	int through_count = 1 + support_random_below(g->random, free_count < 3 ? free_count : 3);
	if (!g->options.wild)
		sort_by_x(g, order, through_count < free_count ? through_count + 1 : free_count);
	bool pulled = g->options.pulls && support_random_chance(g->random, 0.5);
	int first = support_random_below(g->random, g->anchor_count);
	if (pulled)
		n->nodes[first].kind = RN_NODE_HAND;
	net_line *line =
		net_add_line(n, random_stiffness(g), support_random_chance(g->random, 0.5));
	net_station *s = net_add_station(line, pulled ? RN_HOLD : RN_TIE, first, 0);
	s->pull = pulled ? between(g, 20, g->options.wild ? 1500 : 120) : 0;
	for (int i = 0; i < through_count; i++) {
		int node = g->anchor_count + order[i];
		bool grip = g->options.grips && !pulled && i > 0 &&
		            support_random_chance(g->random, 0.2);
		if (grip)
			net_add_station(line, RN_GRIP, node, 0);
		else
			grow_through(g, line, node);
	}
	int last = (first + 1) % g->anchor_count;
	if (through_count < free_count && support_random_chance(g->random, 0.6))
		last = g->anchor_count + order[through_count];
	net_add_station(line, RN_TIE, last, 0);
	line->slack = !pulled && support_random_chance(g->random, 0.2) ? between(g, 0, 0.5) : 0;
}

/* The side the rope turns to as drawn, so that no side is left to the check's judgement. */
static void take_sides(net_data *n)
{
	for (int l = 0; l < n->line_count; l++)
		for (int i = 1; i + 1 < n->lines[l].station_count; i++) {
			net_station *s = &n->lines[l].stations[i];
			const double *a = n->nodes[s[-1].node].place, *b = n->nodes[s->node].place,
				     *c = n->nodes[s[1].node].place;
			double turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
			s->side = turn > 0 ? 1 : -1;
		}
}

net_data net_random(support_random *random, net_random_options options)
{
	net_data n = {.friction = options.friction};
	growing g = {.n = &n, .random = random, .options = options};
	grow_nodes(&g);
	grow_slings(&g);
	for (int k = 1 + support_random_below(random, 3); k > 0; k--)
		grow_line(&g);
	take_sides(&n);
	return n;
}

/* ---- one rigging ----------------------------------------------------------------------------- */

net_data net_rigging(void)
{
	net_data n = {.friction = true};
	int top = net_add_node(&n, RN_NODE_ANCHOR, 0.23, 11.4, 0);
	int block = net_add_node(&n, RN_NODE_BLOCK, 0.31, 10.6, 23.5);
	int far = net_add_node(&n, RN_NODE_ANCHOR, 6.9, 9.7, 0);
	int side = net_add_node(&n, RN_NODE_ANCHOR, 5.1, 11.2, 0);
	int joint = net_add_node(&n, RN_NODE_JOINT, 5.4, 9.6, 4.1);
	int ring = net_add_node(&n, RN_NODE_RING, 5.0, 8.9, 8.8);
	int root = net_add_node(&n, RN_NODE_ANCHOR, 7.3, 0.2, 0);
	int low = net_add_node(&n, RN_NODE_BLOCK, 7.0, 0.9, 17.6);
	int post = net_add_node(&n, RN_NODE_BOLLARD, 9.6, 1.1, 0);
	int log = net_add_node(&n, RN_NODE_PIECE, -0.4, 7.3, 3138.1);
	net_add_sling(&n, top, block, 9.1e5);
	net_add_sling(&n, far, joint, 6.3e5);
	net_add_sling(&n, side, joint, 6.3e5);
	net_add_sling(&n, joint, ring, 8.7e5);
	net_add_sling(&n, root, low, 9.1e5);
	net_line *bull = net_add_line(&n, 4.2e5, false);
	net_add_station(bull, RN_TIE, log, 0);
	net_add_station(bull, RN_THROUGH, block, 0.127)->efficiency = 0.89;
	net_add_station(bull, RN_THROUGH, ring, 0.061)->friction = 0.21;
	net_add_station(bull, RN_THROUGH, low, 0.127)->efficiency = 0.92;
	net_add_station(bull, RN_HOLD, post, 0)->friction = 0.25;
	take_sides(&n);
	return n;
}

/* ---- changes that change nothing ------------------------------------------------------------- */

net_change net_change_none(void)
{
	return (net_change){.scale = 1, .load_scale = 1};
}

static void turned(const net_change *c, const double in[2], double out[2])
{
	double x = c->mirror ? -in[0] : in[0];
	out[0] = cos(c->angle) * x - sin(c->angle) * in[1];
	out[1] = sin(c->angle) * x + cos(c->angle) * in[1];
}

static net_node changed_node(const net_change *c, const net_node *node)
{
	net_node out = {.kind = node->kind};
	turned(c, node->place, out.place);
	turned(c, node->load, out.load);
	for (int k = 0; k < 2; k++) {
		out.place[k] = c->scale * out.place[k] + c->shift[k];
		out.load[k] *= c->load_scale;
	}
	return out;
}

static net_sling changed_sling(const net_change *c, const net_sling *sling, const net_map *map)
{
	int from = map->node[sling->from], to = map->node[sling->to];
	return (net_sling){c->reverse ? to : from, c->reverse ? from : to,
	                   sling->stiffness * c->load_scale, sling->reach * c->scale};
}

static net_line changed_line(const net_change *c, const net_line *line, const net_map *map)
{
	net_line out = *line;
	out.stiffness *= c->load_scale;
	out.slack *= c->scale;
	out.toward_last = line->toward_last != c->reverse;
	for (int i = 0; i < line->station_count; i++) {
		net_station *s = &out.stations[i];
		*s = line->stations[c->reverse ? line->station_count - 1 - i : i];
		s->node = map->node[s->node];
		s->side *= (c->mirror ? -1 : 1) * (c->reverse ? -1 : 1);
		s->tread *= c->scale;
		s->pull *= c->load_scale;
	}
	return out;
}

static void make_map(const net_data *n, uint64_t seed, net_map *map)
{
	support_random random = support_random_from(seed);
	struct {
		int *items, count;
	} orders[] = {{map->node, n->node_count},
	              {map->sling, n->sling_count},
	              {map->line, n->line_count}};
	for (size_t k = 0; k < sizeof orders / sizeof *orders; k++) {
		for (int i = 0; i < orders[k].count; i++)
			orders[k].items[i] = i;
		if (seed)
			support_random_permute(&random, orders[k].items, orders[k].count);
	}
}

net_data net_changed(const net_data *n, net_change change, net_map *map_out)
{
	net_data out = {.node_count = n->node_count,
	                .sling_count = n->sling_count,
	                .line_count = n->line_count,
	                .friction = n->friction};
	make_map(n, change.permute_seed, map_out);
	for (int i = 0; i < n->node_count; i++)
		out.nodes[map_out->node[i]] = changed_node(&change, &n->nodes[i]);
	for (int i = 0; i < n->sling_count; i++)
		out.slings[map_out->sling[i]] = changed_sling(&change, &n->slings[i], map_out);
	for (int i = 0; i < n->line_count; i++)
		out.lines[map_out->line[i]] = changed_line(&change, &n->lines[i], map_out);
	return out;
}

double net_tension(const rn_case_result *answer, rn_object_kind kind, int index, int span)
{
	for (int i = 0; i < answer->span_count; i++)
		if (answer->spans[i].member.kind == kind &&
		    answer->spans[i].member.index == index && answer->spans[i].index == span)
			return answer->spans[i].tension;
	return (double)NAN;
}

double net_largest_tension(const rn_case_result *answer)
{
	double most = 0;
	for (int i = 0; i < answer->span_count; i++)
		most = fmax(most, answer->spans[i].tension);
	return most;
}
