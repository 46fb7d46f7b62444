/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A net made ready for the equations, for tests of what happens inside a solution: its model, the
 * numbers of its one case, a settler with that case loaded at the places it was drawn.
 */
#ifndef RN_TESTS_LAID_H
#define RN_TESTS_LAID_H

#include <stdlib.h>

#include "solver/statics/settle.h"
#include "tests/support.h"

typedef struct laid {
	rn_model *model;
	rn_arena arena;
	rn_settler settler;
	rn_notes notes;
	double *values;
} laid;

static inline void laid_drop(laid *l)
{
	rn_arena_release(&l->arena);
	rn_model_destroy(l->model);
	free(l);
}

/* NULL if the net breaks a rule of the check: treads that need more room than there is, say. */
static inline laid *laid_from(const net_data *n)
{
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	laid *l = calloc(1, sizeof *l);
	if (!l)
		abort();
	l->model = net_model(n, &allocator);
	if (!l->model) {
		free(l);
		return NULL;
	}
	l->arena = rn_arena_make(&allocator);
	l->values = rn_arena_take(&l->arena, (size_t)l->model->number_count, sizeof *l->values);
	if (!l->values || rn_settler_create(&l->arena, l->model, &options, &l->settler) != RN_OK)
		abort();
	l->settler.notes = &l->notes;
	l->settler.notes_arena = &l->arena;
	rn_case_values(l->model, &l->model->cases[0], l->values);
	rn_network_load(&l->settler.net, &l->model->cases[0], l->values);
	return l;
}

/* The next random net that the check takes. */
static inline laid *laid_random(support_random *random, net_random_options options)
{
	laid *l = NULL;
	while (!l) {
		net_data n = net_random(random, options);
		l = laid_from(&n);
	}
	return l;
}

#endif
