/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How far the answer of a frictionless case can be from the true one. For any tensions and span
 * forces that balance, the dual energy D is a lower bound of the energy Pi of every shape (Fenchel
 * duality; for networks of ropes e.g. Strang, Introduction to Applied Mathematics, 2.4):
 *
 *   q_s = T u_s plus what is left over beyond span s, carried along a tree of taut spans to anchors
 *   T^  = max |q_s| over the spans of a rope
 *   D   = sum_a a . R_a  -  sum_ropes (T^^2 L0 / 2EA + T^ L0)
 *         + sum_arcs T^ r bend(q)  -  sum_spans (T^ - |q_s|) pi |rho_s|
 *
 * and by the convexity of the energy |T - T*| <= sqrt(2 EA/L0 (Pi - D)).
 *
 * Pi and D are large and nearly equal, so their difference is summed term by term, each small and
 * none negative. With k = EA/L0, alpha the angle from u_s to q_s, and d = t u - rho n:
 *
 *   Pi - D = sum_ropes (T^ - k (L - L0))^2 / 2k
 *          + sum_spans t ((T^ - |q|) + |q| (1 - cos alpha))
 *                      - rho ((T^ - |q|) alpha + |q| (alpha - sin alpha)) + (T^ - |q|) pi |rho|
 */
#include <float.h>
#include <math.h>

#include "solver/statics/answer.h"

typedef struct dual {
	const rn_network *net;
	rn_vec2 *force; /* q per span slot */
	rn_vec2 *left;  /* left over per node */
	int *parent;    /* span slot toward the anchor, per node; RN_NONE = not reached */
	int *queue;
} dual;

static int node_of(const rn_network *net, int stop)
{
	return net->stops[stop].node;
}

static bool carries(const rn_rope *rope)
{
	return rope->taut && !rope->pulled && rope->tension > 0;
}

static void take_forces(dual *d)
{
	for (int i = 0; i < d->net->model->node_count; i++)
		d->left[i] = rn_vec2_of(&d->net->load[2 * i]);
	for (int r = 0; r < d->net->rope_count; r++) {
		const rn_rope *rope = &d->net->ropes[r];
		for (int i = 0; rope->taut && i < rope->span_count; i++) {
			const rn_span *span = &d->net->spans[rope->first_span + i];
			rn_vec2 q = rn_vec2_scale(rope->tension, span->u);
			d->force[rope->first_span + i] = q;
			rn_vec2 *from = &d->left[node_of(d->net, span->from)];
			rn_vec2 *to = &d->left[node_of(d->net, span->to)];
			*from = rn_vec2_add(*from, q);
			*to = rn_vec2_sub(*to, q);
		}
	}
}

/* Walks the taut spans outward from the anchors; returns how many nodes the queue holds. */
static int grow_tree(dual *d)
{
	const rn_network *net = d->net;
	int count = 0;
	for (int i = 0; i < net->model->node_count; i++) {
		d->parent[i] = RN_NONE;
		if (rn_node_is_fixed(&net->model->nodes[i]))
			d->queue[count++] = i;
	}
	for (int head = 0; head < count; head++)
		for (int v = net->first_visit[d->queue[head]]; v < net->first_visit[d->queue[head] + 1]; v++) {
			const rn_rope *rope = &net->ropes[net->visits[v]];
			for (int i = 0; carries(rope) && i < rope->span_count; i++) {
				int slot = rope->first_span + i;
				int a = node_of(net, net->spans[slot].from), b = node_of(net, net->spans[slot].to);
				int next = a == d->queue[head] ? b : b == d->queue[head] ? a : RN_NONE;
				if (next == RN_NONE || d->parent[next] != RN_NONE ||
				    rn_node_is_fixed(&net->model->nodes[next]))
					continue;
				d->parent[next] = slot;
				d->queue[count++] = next;
			}
		}
	return count;
}

/* From the leaves inward each node hands what it has left over to the node nearer to an anchor. */
static bool carry_left_over(dual *d)
{
	int count = grow_tree(d);
	for (int k = count - 1; k >= 0; k--) {
		int node = d->queue[k], slot = d->parent[node];
		if (slot == RN_NONE)
			continue;
		const rn_span *span = &d->net->spans[slot];
		bool outward = node_of(d->net, span->from) == node;
		rn_vec2 left = d->left[node];
		d->force[slot] = rn_vec2_add(d->force[slot], rn_vec2_scale(outward ? -1 : 1, left));
		int nearer = node_of(d->net, outward ? span->to : span->from);
		d->left[nearer] = rn_vec2_add(d->left[nearer], left);
		d->left[node] = (rn_vec2){0, 0};
	}
	for (int i = 0; i < d->net->model->node_count; i++)
		if (!rn_node_is_fixed(&d->net->model->nodes[i]) && rn_vec2_length(d->left[i]) > 0)
			return false;
	return true;
}

/* alpha - sin alpha, also where the two are nearly equal. */
static double arc_less_sine(double alpha)
{
	return fabs(alpha) < 1e-2 ? alpha * alpha * alpha / 6 : alpha - sin(alpha);
}

static double span_gap(const dual *d, int slot, double most)
{
	const rn_span *span = &d->net->spans[slot];
	rn_vec2 q = d->force[slot];
	double size = rn_vec2_length(q), spare = most - size;
	double alpha = atan2(rn_vec2_cross(span->u, q), rn_vec2_dot(span->u, q));
	double half = sin(alpha / 2);
	return span->length * (spare + 2 * size * half * half) -
	       span->offset * (spare * alpha + size * arc_less_sine(alpha)) +
	       spare * RN_PI * fabs(span->offset);
}

static double rope_gap(const dual *d, const rn_rope *rope)
{
	double most = rope->pulled ? rope->pull : 0, gap = 0;
	for (int i = 0; i < rope->span_count && !rope->pulled; i++)
		most = fmax(most, rn_vec2_length(d->force[rope->first_span + i]));
	for (int i = 0; i < rope->span_count; i++)
		gap += span_gap(d, rope->first_span + i, most) +
		       rn_span_further(rope, i) * (most - rn_vec2_length(d->force[rope->first_span + i]));
	if (rope->pulled)
		return gap;
	/* what rounding of the length makes of the tension counts as well */
	double k = rope->stiffness / rope->length0;
	double off = fabs(most - k * (rope->length - rope->length0)) + k * DBL_EPSILON * rope->length;
	return gap + off * off / (2 * k);
}

static double whole_gap(const dual *d)
{
	double gap = 0;
	for (int r = 0; r < d->net->rope_count; r++)
		if (d->net->ropes[r].taut)
			gap += rope_gap(d, &d->net->ropes[r]);
	return gap;
}

static bool applies(const rn_network *net, const rn_case_result *answer)
{
	bool elastic = false;
	if (net->bending_count > 0)
		return false;
	for (int r = 0; r < net->rope_count; r++) {
		if (net->ropes[r].runs || net->ropes[r].pushes || net->ropes[r].curve != RN_NONE)
			return false;
		elastic = elastic || carries(&net->ropes[r]);
	}
	return elastic && answer->contact_count == 0 && net->smoothing == 0;
}

static void fill_bounds(const rn_network *net, double gap, rn_case_result *answer)
{
	int k = 0;
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		for (int i = 0; i + 1 < rope->stop_count; i++, k++)
			answer->spans[k].certified =
				rope->pulled ? 0 : sqrt(2 * rope->stiffness / rope->length0 * gap);
	}
}

static rn_status make_dual(rn_arena *arena, const rn_network *net, dual *d)
{
	int n = net->model->node_count;
	*d = (dual){.net = net};
	RN_TAKE(arena, d->force, net->span_room + 1);
	RN_TAKE(arena, d->left, n + 1);
	RN_TAKE(arena, d->parent, n + 1);
	RN_TAKE(arena, d->queue, n + 1);
	return RN_OK;
}

static void certify(const rn_network *net, dual *d, rn_case_result *answer)
{
	take_forces(d);
	if (!carry_left_over(d))
		return;
	double gap = whole_gap(d);
	if (!isfinite(gap) || gap < 0)
		return;
	answer->info.energy = rn_network_energy(net);
	answer->info.gap = gap;
	fill_bounds(net, gap, answer);
}

rn_status rn_certificate_fill(rn_settler *settler, rn_case_result *answer)
{
	if (!applies(&settler->net, answer))
		return RN_OK;
	dual d;
	rn_arena arena = rn_arena_make(&settler->notes_arena->allocator);
	rn_status status = make_dual(&arena, &settler->net, &d);
	if (status == RN_OK)
		certify(&settler->net, &d, answer);
	rn_arena_release(&arena);
	return status;
}
