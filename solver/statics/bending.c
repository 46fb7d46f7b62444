/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/bending.h"

#include <math.h>
#include <string.h>

#include "solver/base/vec2.h"
#include "solver/model/give.h"

/* Two slings at one height would make F singular. Bark and eyes give a little on their own: this part
 * of what the wood gives there, across it and along it [-]. */
static const double bark_gives = 1e-3;

static bool sits(const rn_model *m, int node, int root)
{
	return m->nodes[node].stem != RN_NONE && rn_stem_root(m, m->nodes[node].stem) == root;
}

rn_status rn_bending_create(rn_arena *arena, const rn_model *m, rn_bending **bendings_out, int *count_out)
{
	rn_bending *bendings;
	int count = 0;
	RN_TAKE(arena, bendings, m->stem_count + 1);
	for (int s = 0; s < m->stem_count; s++) {
		if (m->stems[s].on != RN_NONE || !rn_stem_gives(m, s))
			continue;
		rn_bending *b = &bendings[count];
		b->stem = s;
		RN_TAKE(arena, b->nodes, m->node_count + 1);
		for (int i = 0; i < m->node_count; i++)
			if (sits(m, i, s))
				b->nodes[b->node_count++] = i;
		size_t n = (size_t)b->node_count;
		RN_TAKE(arena, b->stiffness, 4 * n * n + 1);
		RN_TAKE(arena, b->rest, 2 * n + 1);
		RN_TAKE(arena, b->height, n + 1);
		count += b->node_count > 0;
	}
	*bendings_out = bendings;
	*count_out = count;
	return RN_OK;
}

/* Overwrites the symmetric positive matrix a by its inverse; Gauss and Jordan, no pivoting needed. */
static void invert(double *a, int n)
{
	for (int p = 0; p < n; p++) {
		double pivot = 1 / a[p * n + p];
		a[p * n + p] = 1;
		for (int j = 0; j < n; j++)
			a[p * n + j] *= pivot;
		for (int i = 0; i < n; i++) {
			if (i == p)
				continue;
			double factor = a[i * n + p];
			a[i * n + p] = 0;
			for (int j = 0; j < n; j++)
				a[i * n + j] -= factor * a[p * n + j];
		}
	}
}

/* The foot itself does not move; a node there is held as stiffly as a hand's breadth above it. */
static const double height_least = 0.1; /* [m] */

/* A wood's own give across n and along a, f = F_nn n n^T + F_aa a a^T, a little of which is the bark's. */
static void add_bark(const rn_model *m, const double *values, int stem, const double own[4], double *f,
                     int row, int size)
{
	double lean = rn_model_value(m, values, rn_object_of(RN_STEM, stem), RN_ATTRIBUTE_LEAN, 0);
	const double u[2][2] = {{cos(lean), -sin(lean)}, {sin(lean), cos(lean)}};
	for (int d = 0; d < 2; d++) {
		double gives = 0;
		for (int k = 0; k < 4; k++)
			gives += own[k] * u[d][k / 2] * u[d][k % 2];
		for (int k = 0; k < 4; k++)
			f[(row + k / 2) * size + row + k % 2] += bark_gives * gives * u[d][k / 2] * u[d][k % 2];
	}
}

void rn_bending_load(rn_bending *b, const rn_model *m, const double *values)
{
	int n = b->node_count, size = 2 * n;
	double *f = b->stiffness, part[4];
	for (int i = 0; i < n; i++) {
		double z = rn_model_value(m, values, rn_object_of(RN_NODE, b->nodes[i]), RN_ATTRIBUTE_HEIGHT, 0);
		b->height[i] = fmax(z, height_least);
		rn_node_drawn(m, values, b->nodes[i], &b->rest[2 * i]);
	}
	for (int i = 0; i < n; i++)
		for (int j = 0; j <= i; j++) {
			rn_tree_bends(m, values, m->nodes[b->nodes[j]].stem, b->height[j],
			              m->nodes[b->nodes[i]].stem, b->height[i], part);
			for (int k = 0; k < 4; k++) {
				f[(2 * i + k / 2) * size + 2 * j + k % 2] = part[k];
				f[(2 * j + k % 2) * size + 2 * i + k / 2] = part[k];
			}
			if (i == j)
				add_bark(m, values, m->nodes[b->nodes[i]].stem, part, f, 2 * i, size);
		}
	invert(f, size);
}

double rn_bending_stiffest(const rn_bending *bendings, int count)
{
	double stiffest = 0;
	for (int b = 0; b < count; b++)
		for (int k = 0; k < 4 * bendings[b].node_count * bendings[b].node_count; k++)
			stiffest = fmax(stiffest, fabs(bendings[b].stiffness[k]));
	return stiffest;
}

double rn_bending_residual(const rn_bending *b, const double *place, int k)
{
	int n = 2 * b->node_count;
	double sum = 0;
	for (int j = 0; j < n; j++)
		sum += b->stiffness[k * n + j] * (place[2 * b->nodes[j / 2] + j % 2] - b->rest[j]);
	return sum;
}

double rn_bending_energy(const rn_bending *b, const double *place)
{
	double sum = 0;
	for (int k = 0; k < 2 * b->node_count; k++)
		sum += 0.5 * (place[2 * b->nodes[k / 2] + k % 2] - b->rest[k]) * rn_bending_residual(b, place, k);
	return sum;
}
