/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/sparse.h"

#include <float.h>
#include <limits.h>
#include <math.h>
#include <string.h>

#include <amd.h>
#include <klu.h>
#include <ldl.h>

/* ---- columns -------------------------------------------------------------------------------- */

static rn_status columns_create(rn_arena *arena, int size, int room, rn_sparse_columns *columns_out)
{
	rn_sparse_columns c = {.size = size, .room = room};
	RN_TAKE(arena, c.first, size + 1);
	RN_TAKE(arena, c.next, size + 1);
	RN_TAKE(arena, c.row, room);
	RN_TAKE(arena, c.value, room);
	RN_TAKE(arena, c.last, room);
	RN_TAKE(arena, c.slot, room);
	for (int k = 0; k < room; k++)
		c.last[k].row = RN_NONE;
	*columns_out = c;
	return RN_OK;
}

/* From counts per column in first[1..] to where each begins. */
static void begin_columns(int size, int *first, int *next)
{
	first[0] = 0;
	for (int j = 0; j < size; j++)
		first[j + 1] += first[j];
	memcpy(next, first, (size_t)size * sizeof *next);
}

/* Sorts entries into columns by rows and then back (two bucket sorts: each leaves the order of the one before), so
 * that rows rise in every column; entries at one place become one. `rows` and `columns` hold `count`. */
static void sort_columns(rn_sparse_columns *c, int count, const int *rows, const int *columns, int *by_row)
{
	memset(c->first, 0, ((size_t)c->size + 1) * sizeof *c->first);
	for (int k = 0; k < count; k++)
		c->first[rows[k] + 1]++;
	begin_columns(c->size, c->first, c->next);
	for (int k = 0; k < count; k++)
		by_row[c->next[rows[k]]++] = k;
	memset(c->first, 0, ((size_t)c->size + 1) * sizeof *c->first);
	for (int k = 0; k < count; k++)
		c->first[columns[k] + 1]++;
	begin_columns(c->size, c->first, c->next);
	for (int i = 0; i < count; i++)
		c->row[c->next[columns[by_row[i]]]++] = rows[by_row[i]];
	int kept = 0;
	for (int j = 0, from = 0; j < c->size; j++) {
		int to = c->first[j + 1], begin = kept;
		for (int i = from; i < to; i++)
			if (kept == begin || c->row[kept - 1] != c->row[i])
				c->row[kept++] = c->row[i];
		c->first[j] = begin;
		from = to;
	}
	c->first[c->size] = kept;
}

/* Where entry (row, column) is, RN_NONE if nowhere. */
static int slot_of(const rn_sparse_columns *c, int row, int column)
{
	int low = c->first[column], high = c->first[column + 1];
	while (low < high) {
		int middle = low + (high - low) / 2;
		if (c->row[middle] < row)
			low = middle + 1;
		else
			high = middle;
	}
	return low < c->first[column + 1] && c->row[low] == row ? low : RN_NONE;
}

/* ---- symmetric ------------------------------------------------------------------------------ */

/* Both halves without the diagonal, for the ordering. */
static int mirror(const rn_triplets *pattern, int *rows, int *columns)
{
	int count = 0;
	for (int k = 0; k < pattern->count; k++) {
		const rn_triplet *t = &pattern->items[k];
		if (t->row <= t->column)
			continue;
		rows[count] = columns[count + 1] = t->row;
		columns[count] = rows[count + 1] = t->column;
		count += 2;
	}
	return count;
}

/* amd_2 works in place, in memory of the caller; AMD's plain call takes its own by malloc. */
static rn_status find_order(rn_arena *scratch, rn_sparse_columns *both, int *order)
{
	int n = both->size, count = both->first[n];
	/* AMD's own choice of elbow room: a fifth more, and the order of each node */
	double room = 1.2 * count + 7.0 * n;
	if (room > INT_MAX)
		return RN_STATUS_LIMIT;
	int *at, *length, *votes, *next, *head, *eliminated, *degree, *mark, *begin;
	RN_TAKE(scratch, at, (size_t)room + 1);
	RN_TAKE(scratch, begin, n + 1);
	RN_TAKE(scratch, length, n + 1);
	RN_TAKE(scratch, votes, n + 1);
	RN_TAKE(scratch, next, n + 1);
	RN_TAKE(scratch, head, n + 1);
	RN_TAKE(scratch, eliminated, n + 1);
	RN_TAKE(scratch, degree, n + 1);
	RN_TAKE(scratch, mark, n + 1);
	memcpy(at, both->row, (size_t)count * sizeof *at);
	for (int j = 0; j < n; j++) {
		begin[j] = both->first[j];
		length[j] = both->first[j + 1] - both->first[j];
	}
	double control[AMD_CONTROL], info[AMD_INFO];
	amd_defaults(control);
	amd_2(n, begin, at, length, (int)room, count, votes, next, order, head, eliminated, degree, mark, control, info);
	return RN_OK;
}

/* The upper half in the order found. */
static int turn(const rn_ldl *ldl, const rn_triplets *pattern, int *rows, int *columns)
{
	int count = 0;
	for (int k = 0; k < pattern->count; k++) {
		const rn_triplet *t = &pattern->items[k];
		if (t->row < t->column)
			continue;
		int i = ldl->rank[t->row], j = ldl->rank[t->column];
		rows[count] = i < j ? i : j;
		columns[count++] = i < j ? j : i;
	}
	for (int i = 0; i < ldl->size; i++) /* for the shift */
		rows[count + i] = columns[count + i] = i;
	return count + ldl->size;
}

static rn_status analyse(rn_arena *arena, rn_arena *scratch, const rn_triplets *pattern, rn_ldl *ldl)
{
	int n = ldl->size, room = pattern->count + n;
	int *rows, *columns, *by_row;
	rn_sparse_columns both;
	RN_TAKE(scratch, rows, 2 * (size_t)room);
	RN_TAKE(scratch, columns, 2 * (size_t)room);
	RN_TAKE(scratch, by_row, 2 * (size_t)room);
	RN_TRY(columns_create(scratch, n, 2 * room, &both));
	sort_columns(&both, mirror(pattern, rows, columns), rows, columns, by_row);
	RN_TAKE(arena, ldl->order, n + 1);
	RN_TAKE(arena, ldl->rank, n + 1);
	RN_TRY(find_order(scratch, &both, ldl->order));
	for (int k = 0; k < n; k++)
		ldl->rank[ldl->order[k]] = k;
	RN_TRY(columns_create(arena, n, room, &ldl->upper));
	sort_columns(&ldl->upper, turn(ldl, pattern, rows, columns), rows, columns, by_row);
	RN_TAKE(arena, ldl->l_first, n + 1);
	RN_TAKE(arena, ldl->l_filled, n + 1);
	RN_TAKE(arena, ldl->parent, n + 1);
	RN_TAKE(arena, ldl->flag, n + 1);
	ldl_symbolic(n, ldl->upper.first, ldl->upper.row, ldl->l_first, ldl->parent, ldl->l_filled, ldl->flag, NULL, NULL);
	double entries = 0;
	for (int j = 0; j < n; j++) {
		entries += ldl->l_filled[j];
		ldl->products += 0.5 * ldl->l_filled[j] * (ldl->l_filled[j] + 1.0);
	}
	return entries > INT_MAX ? RN_STATUS_LIMIT : RN_OK;
}

rn_status rn_ldl_analyse(rn_arena *arena, int size, const rn_triplets *pattern, rn_ldl *ldl_out)
{
	rn_ldl ldl = {.size = size};
	if (pattern->count > INT_MAX / 8 - size)
		return RN_STATUS_LIMIT;
	rn_arena scratch = rn_arena_make(&arena->allocator);
	rn_status status = analyse(arena, &scratch, pattern, &ldl);
	rn_arena_release(&scratch);
	if (status == RN_OK)
		*ldl_out = ldl;
	return status;
}

rn_status rn_ldl_create(rn_arena *arena, rn_ldl *ldl)
{
	RN_TAKE(arena, ldl->l_row, ldl->l_first[ldl->size] + 1);
	RN_TAKE(arena, ldl->l, ldl->l_first[ldl->size] + 1);
	RN_TAKE(arena, ldl->path, ldl->size + 1);
	RN_TAKE(arena, ldl->pivot, ldl->size + 1);
	RN_TAKE(arena, ldl->work, ldl->size + 1);
	return RN_OK;
}

static int place_of(rn_ldl *ldl, const rn_triplets *triplets, int k)
{
	const rn_triplet *t = &triplets->items[k];
	rn_sparse_columns *c = &ldl->upper;
	bool kept = k < c->room;
	if (kept && c->last[k].row == t->row && c->last[k].column == t->column)
		return c->slot[k];
	int i = ldl->rank[t->row], j = ldl->rank[t->column];
	int slot = slot_of(c, i < j ? i : j, i < j ? j : i);
	if (kept) {
		c->last[k] = *t;
		c->slot[k] = slot;
	}
	return slot;
}

/* False if an entry has no place. */
static bool scatter(rn_ldl *ldl, const rn_triplets *triplets, double shift)
{
	rn_sparse_columns *c = &ldl->upper;
	bool fits = true;
	memset(c->value, 0, (size_t)c->first[ldl->size] * sizeof *c->value);
	for (int k = 0; k < triplets->count; k++) {
		if (triplets->items[k].row < triplets->items[k].column)
			continue;
		int slot = place_of(ldl, triplets, k);
		if (slot == RN_NONE)
			fits = false;
		else
			c->value[slot] += triplets->items[k].value;
	}
	for (int j = 0; j < ldl->size; j++) /* the diagonal is last of the upper half of a column */
		c->value[c->first[j + 1] - 1] += shift;
	return fits;
}

/* The columns of L that row k has entries in, in an order in which each comes after those it depends on: from every
 * entry of column k of the upper half up the elimination tree. They end up in path[top .. size - 1]. */
static int find_path(rn_ldl *ldl, int k)
{
	int top = ldl->size;
	ldl->flag[k] = k;
	for (int p = ldl->upper.first[k]; p < ldl->upper.first[k + 1]; p++) {
		int depth = 0;
		for (int i = ldl->upper.row[p]; ldl->flag[i] != k; i = ldl->parent[i]) {
			ldl->path[depth++] = i;
			ldl->flag[i] = k;
		}
		while (depth > 0)
			ldl->path[--top] = ldl->path[--depth];
		ldl->work[ldl->upper.row[p]] += ldl->upper.value[p];
	}
	return top;
}

/* Row k of L by a triangular solve with the rows above, as in LDL (Davis 2005, ACM TOMS 31, Algorithm 849); that
 * stops at a pivot of nothing, where here its unknown is held still. */
static double eliminate_row(rn_ldl *ldl, int k)
{
	int top = find_path(ldl, k);
	double pivot = ldl->work[k];
	ldl->work[k] = 0;
	for (; top < ldl->size; top++) {
		int i = ldl->path[top], end = ldl->l_first[i] + ldl->l_filled[i];
		double w = ldl->work[i], l = w / ldl->pivot[i];
		ldl->work[i] = 0;
		for (int p = ldl->l_first[i]; p < end; p++)
			ldl->work[ldl->l_row[p]] -= ldl->l[p] * w;
		pivot -= l * w;
		ldl->l_row[end] = k;
		ldl->l[end] = l;
		ldl->l_filled[i]++;
	}
	return pivot;
}

int rn_ldl_factor(rn_ldl *ldl, const rn_triplets *triplets, double shift, double tiny)
{
	int negative = !scatter(ldl, triplets, shift);
	for (int k = 0; k < ldl->size; k++) {
		ldl->l_filled[k] = 0;
		ldl->flag[k] = RN_NONE;
	}
	for (int k = 0; k < ldl->size; k++) {
		double pivot = eliminate_row(ldl, k);
		negative += pivot < -tiny;
		ldl->pivot[k] = fabs(pivot) <= tiny ? HUGE_VAL : pivot;
	}
	return negative;
}

void rn_ldl_solve(rn_ldl *ldl, double *right)
{
	for (int k = 0; k < ldl->size; k++)
		ldl->work[k] = right[ldl->order[k]];
	ldl_lsolve(ldl->size, ldl->work, ldl->l_first, ldl->l_row, ldl->l);
	ldl_dsolve(ldl->size, ldl->work, ldl->pivot);
	ldl_ltsolve(ldl->size, ldl->work, ldl->l_first, ldl->l_row, ldl->l);
	for (int k = 0; k < ldl->size; k++) {
		right[ldl->order[k]] = ldl->work[k];
		ldl->work[k] = 0;
	}
}

/* ---- unsymmetric ---------------------------------------------------------------------------- */

rn_status rn_lu_create(rn_arena *arena, int size, int room, rn_lu *lu_out)
{
	rn_lu lu = {.allocator = arena->allocator};
	RN_TRY(columns_create(arena, size, room + size, &lu.columns));
	RN_TAKE(arena, lu.rows, room + size);
	RN_TAKE(arena, lu.of, room + size);
	RN_TAKE(arena, lu.order, room + size);
	RN_TAKE(arena, lu.used, size + 1);
	*lu_out = lu;
	return RN_OK;
}

/* The triplets as columns, each with its place on the diagonal. Where each goes is looked for again only when they
 * come in another order. */
static void collect(rn_lu *lu, int size, const rn_triplets *triplets)
{
	rn_sparse_columns *c = &lu->columns;
	bool same = c->size == size && c->last_count == triplets->count;
	for (int k = 0; same && k < triplets->count; k++)
		same = c->last[k].row == triplets->items[k].row && c->last[k].column == triplets->items[k].column;
	for (int k = 0; !same && k < triplets->count; k++) {
		lu->rows[k] = triplets->items[k].row;
		lu->of[k] = triplets->items[k].column;
	}
	if (!same) {
		c->size = size;
		c->last_count = triplets->count;
		for (int i = 0; i < size; i++)
			lu->rows[triplets->count + i] = lu->of[triplets->count + i] = i;
		sort_columns(c, triplets->count + size, lu->rows, lu->of, lu->order);
	}
	for (int k = 0; !same && k < triplets->count; k++) {
		c->last[k] = triplets->items[k];
		c->slot[k] = slot_of(c, lu->rows[k], lu->of[k]);
	}
	memset(c->value, 0, (size_t)c->first[size] * sizeof *c->value);
	for (int k = 0; k < triplets->count; k++)
		c->value[c->slot[k]] += triplets->items[k].value;
}

/* A smallest pivot below this part of the largest says that the rank may not be full [-]. */
static const double pivot_least = DBL_EPSILON;

/* False if the rank may not be full; `right` is then as it was. Errors: MEMORY. */
static rn_status solve_by_klu(rn_lu *lu, double *right, bool *solved_out)
{
	rn_sparse_columns *c = &lu->columns;
	klu_common common;
	klu_defaults(&common);
	common.btf = 0;
	common.ordering = 1; /* COLAMD: half as many entries as AMD in nets */
	*solved_out = false;
	klu_symbolic *symbolic = klu_analyze(c->size, c->first, c->row, &common);
	klu_numeric *numeric = symbolic ? klu_factor(c->first, c->row, c->value, symbolic, &common) : NULL;
	if (numeric && common.status == KLU_OK && klu_rcond(symbolic, numeric, &common) && common.rcond > pivot_least)
		*solved_out = klu_solve(symbolic, numeric, c->size, 1, right, &common);
	if (*solved_out && klu_flops(symbolic, numeric, &common))
		lu->products = common.flops / 2;
	bool short_of_memory = common.status == KLU_OUT_OF_MEMORY;
	klu_free_numeric(&numeric, &common);
	klu_free_symbolic(&symbolic, &common);
	return short_of_memory ? RN_STATUS_MEMORY : RN_OK;
}

/* An unknown that is in no equation, in place of whose equation there is none, stays still: a node whose ropes are all
 * slack. */
static int hold_empty(rn_lu *lu, double *right)
{
	rn_sparse_columns *c = &lu->columns;
	int held = 0;
	memset(lu->used, 0, (size_t)c->size * sizeof *lu->used);
	for (int j = 0; j < c->size; j++)
		for (int k = c->first[j]; k < c->first[j + 1]; k++)
			if (c->value[k] != 0)
				lu->used[j] = lu->used[c->row[k]] = true;
	for (int j = 0; j < c->size; j++) {
		if (lu->used[j])
			continue;
		c->value[slot_of(c, j, j)] = 1;
		right[j] = 0;
		held++;
	}
	return held;
}

/* Where the rank is not full, least squares held back a little (Levenberg 1944): |A x - b|^2 + mu^2 |x|^2 is least
 * where
 *
 *     [ mu I   A   ] [ (b - A x)/mu ]   [ b ]
 *     [ A^T  -mu I ] [ x            ] = [ 0 ]
 *
 * which has factors L D L^T in any order (Vanderbei, SIAM J. Optim. 5, 1995). mu is this part of the largest entry
 * [-]: with a larger one weak directions are held back, with a smaller one digits are lost (Gill, Saunders, Shinnerl,
 * SIAM J. Matrix Anal. 17, 1996). What is left over is solved for again so often. */
static const double held_back = 1e-6;
enum { AGAIN = 4 };

static void write_squares(const rn_sparse_columns *c, double mu, rn_triplets *t)
{
	int n = c->size;
	for (int j = 0; j < n; j++) {
		rn_triplets_add(t, j, j, mu);
		rn_triplets_add(t, n + j, n + j, -mu);
		for (int k = c->first[j]; k < c->first[j + 1]; k++)
			rn_triplets_add(t, n + j, c->row[k], c->value[k]);
	}
}

static void subtract_product(const rn_sparse_columns *c, const double *x, double *left)
{
	for (int j = 0; j < c->size; j++)
		for (int k = c->first[j]; k < c->first[j + 1]; k++)
			left[c->row[k]] -= c->value[k] * x[j];
}

static rn_status solve_squares(rn_arena *scratch, rn_lu *lu, double *right)
{
	const rn_sparse_columns *c = &lu->columns;
	size_t n = (size_t)c->size;
	double *both, *x, most = 0;
	rn_triplets t = {.room = c->first[n] + 2 * c->size};
	rn_ldl ldl;
	RN_TAKE(scratch, t.items, t.room);
	RN_TAKE(scratch, both, 2 * n);
	RN_TAKE(scratch, x, n);
	for (int k = 0; k < c->first[n]; k++)
		most = fmax(most, fabs(c->value[k]));
	write_squares(c, held_back * most, &t);
	RN_TRY(rn_ldl_analyse(scratch, 2 * c->size, &t, &ldl));
	RN_TRY(rn_ldl_create(scratch, &ldl));
	(void)rn_ldl_factor(&ldl, &t, 0, 0);
	lu->products = ldl.products;
	for (int again = 0; again < AGAIN; again++) {
		memset(both, 0, 2 * n * sizeof *both);
		memcpy(both, right, n * sizeof *both);
		subtract_product(c, x, both);
		rn_ldl_solve(&ldl, both);
		for (size_t j = 0; j < n; j++)
			x[j] += both[n + j];
	}
	memcpy(right, x, n * sizeof *right);
	return RN_OK;
}

rn_status rn_lu_solve(rn_lu *lu, int size, const rn_triplets *triplets, double *right, bool *regular_out)
{
	*regular_out = true;
	if (size == 0)
		return RN_OK;
	collect(lu, size, triplets);
	int held = hold_empty(lu, right);
	RN_TRY(solve_by_klu(lu, right, regular_out));
	if (*regular_out) {
		*regular_out = held == 0;
		return RN_OK;
	}
	rn_arena scratch = rn_arena_make(&lu->allocator);
	rn_status status = solve_squares(&scratch, lu, right);
	rn_arena_release(&scratch);
	return status;
}
