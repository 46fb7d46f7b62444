/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whether there is anything to find. Nodes joined by ropes of given length move as one group; a
 * group with a load on it needs an anchor in it. A rope whose end nothing holds carries nothing.
 * A given pull is no anchor: whether it is enough comes out of the solution.
 */
#include <math.h>

#include "solver/base/notes.h"
#include "solver/statics/settle.h"

static bool loaded(const rn_network *net, int node)
{
	return net->load[2 * node] != 0 || net->load[2 * node + 1] != 0;
}

/* Union-find over the nodes, ways halved as they are walked (Tarjan 1975). */
static int root_of(int *group, int node)
{
	while (group[node] != node)
		node = group[node] = group[group[node]];
	return node;
}

static void join(int *group, int a, int b)
{
	group[root_of(group, a)] = root_of(group, b);
}

/* How many ropes still count that come to a node, this one and others, in any way. */
static int ropes_at(const rn_network *net, const bool *dead, int node)
{
	int count = 0;
	for (int v = net->first_visit[node]; v < net->first_visit[node + 1]; v++)
		count += !dead[net->visits[v]];
	return count;
}

static bool end_is_loose(const rn_network *net, const bool *dead, int stop)
{
	int node = net->stops[stop].node;
	return !rn_node_is_fixed(&net->model->nodes[node]) && !loaded(net, node) &&
	       ropes_at(net, dead, node) == 1;
}

/* Marks ropes with a loose end, again while that loosens others. Returns one of them that bends,
 * RN_NONE if no such rope. */
static int drop_loose(const rn_network *net, bool *dead)
{
	int bending = RN_NONE;
	bool more = true;
	while (more) {
		more = false;
		for (int r = 0; r < net->rope_count; r++) {
			const rn_rope *rope = &net->ropes[r];
			int last = rope->first_stop + rope->stop_count - 1;
			if (dead[r] || rope->pulled ||
			    (!end_is_loose(net, dead, rope->first_stop) && !end_is_loose(net, dead, last)))
				continue;
			dead[r] = true;
			more = true;
			bending = rope->bends ? r : bending;
		}
	}
	return bending;
}

static void form_groups(const rn_network *net, const bool *dead, int *group)
{
	for (int i = 0; i < net->model->node_count; i++)
		group[i] = i;
	for (int r = 0; r < net->rope_count; r++)
		for (int i = 1; !dead[r] && !net->ropes[r].pulled && i < net->ropes[r].stop_count; i++) {
			const rn_stop *s = &net->stops[net->ropes[r].first_stop];
			join(group, s[0].node, s[i].node);
		}
}

/* Marks the roots of groups that something holds. */
static void mark_held(const rn_network *net, const bool *dead, int *group, bool *held)
{
	for (int k = 0; net->guide && k < 2; k++)
		held[root_of(group, net->guide->nodes[k])] = true;
	for (int i = 0; i < net->model->node_count; i++)
		if (rn_node_is_fixed(&net->model->nodes[i]))
			held[root_of(group, i)] = true;
	for (int r = 0; r < net->rope_count; r++)
		for (int i = 0; !dead[r] && net->ropes[r].pulled && i < net->ropes[r].stop_count; i++)
			/* perhaps: the solution will tell */
			held[root_of(group, net->stops[net->ropes[r].first_stop + i].node)] = true;
}

/* The first fixed node a rope comes to past its loose end, for "until the end meets". */
static int met_by_end(const rn_network *net, const rn_rope *rope)
{
	for (int i = 1; i + 1 < rope->stop_count; i++) {
		int node = net->stops[rope->first_stop + i].node;
		if (rn_node_is_fixed(&net->model->nodes[node]))
			return node;
	}
	return net->stops[rope->first_stop + 1].node;
}

rn_status rn_existence_check(rn_settler *s, bool *holds_out)
{
	const rn_network *net = &s->net;
	rn_arena arena = rn_arena_make(&s->notes_arena->allocator);
	bool *dead = rn_arena_take(&arena, (size_t)net->rope_count + 1, sizeof *dead);
	int *group = rn_arena_take(&arena, (size_t)net->model->node_count + 1, sizeof *group);
	bool *held = rn_arena_take(&arena, (size_t)net->model->node_count + 1, sizeof *held);
	if (!dead || !group || !held) {
		rn_arena_release(&arena);
		return RN_STATUS_MEMORY;
	}
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	for (int r = 0; r < net->rope_count; r++)
		dead[r] = net->ropes[r].gone;
	int loose = drop_loose(net, dead);
	form_groups(net, dead, group);
	mark_held(net, dead, group, held);
	rn_status status = RN_OK;
	*holds_out = true;
	for (int i = 0; i < net->model->node_count && status == RN_OK; i++) {
		if (!loaded(net, i) || held[root_of(group, i)])
			continue;
		*holds_out = false;
		rn_note note = {.kind = RN_NOTE_NOTHING_HOLDS, .a = rn_object_of(RN_NODE, i), .b = none, .c = none};
		if (loose != RN_NONE) {
			note.kind = RN_NOTE_NOTHING_HOLDS_ROPE;
			note.b = net->ropes[loose].member;
			note.c = rn_object_of(RN_NODE, met_by_end(net, &net->ropes[loose]));
		}
		status = rn_notes_add(s->notes_arena, s->notes, note);
	}
	rn_arena_release(&arena);
	return status;
}

/* The loaded node that has gone farthest the way its load points: the one that falls. */
static int falling_node(const rn_settler *s)
{
	int node = 0;
	double most = -HUGE_VAL;
	for (int i = 0; i < s->net.model->node_count; i++) {
		double gone = 0;
		for (int k = 2 * i; k < 2 * i + 2; k++)
			gone += s->net.load[k] * (s->net.place[k] - s->place_drawn[k]);
		if (loaded(&s->net, i) && gone > most) {
			most = gone;
			node = i;
		}
	}
	return node;
}

/* The given pull on a rope that comes to the node, or the largest of all. */
static double pull_on(const rn_network *net, int node)
{
	double own = 0, any = 0;
	for (int r = 0; r < net->rope_count; r++) {
		any = fmax(any, net->ropes[r].pull);
		for (int i = 0; i < net->ropes[r].stop_count; i++)
			if (net->stops[net->ropes[r].first_stop + i].node == node)
				own = fmax(own, net->ropes[r].pull);
	}
	return own > 0 ? own : any;
}

rn_status rn_existence_explain(rn_settler *s)
{
	int node = falling_node(s);
	rn_object none = rn_object_of(RN_NODE, RN_NONE);
	rn_note note = {.kind = RN_NOTE_HAND_WEAK, .a = rn_object_of(RN_NODE, node), .b = none, .c = none};
	note.value[0] = pull_on(&s->net, node);
	if (note.value[0] == 0)
		note.kind = RN_NOTE_FALLS_AWAY;
	note.value[1] = hypot(s->net.load[2 * node], s->net.load[2 * node + 1]);
	return rn_notes_add(s->notes_arena, s->notes, note);
}
