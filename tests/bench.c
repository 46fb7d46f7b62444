/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long it takes, and in how many steps. Prints tables and holds nothing against a limit.
 *
 *   1  the hanging chain of n tension-only springs, from a straight slack start, beside a general
 *      minimiser of the same energy (NLopt's LD_LBFGS, hand-written gradient)
 *   2  a rigging of ten nodes, cold and warm
 *   3  steps over random networks without friction
 *   4  trials of the rigging with its load drawn, beside settling it alone, with one thread and more
 */
#define _POSIX_C_SOURCE 199309L

#include <math.h>
#include <nlopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "tests/build.h"
#include "tests/support.h"

static double now(void)
{
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Each thing is repeated for this long, and the shortest time counts [s]. */
static const double patience = 0.3;

static void need(bool holds)
{
	if (!holds)
		abort();
}

/* ---- 1: the chain ---------------------------------------------------------------------------- */

/* Ends (0,0) and (2,-1) m, n springs of 10 n N/m and 2 sqrt(5)/n m, 1 kg at each inner node. */
typedef struct chain {
	int count;
	double rest, stiffness, weight;
	double *gradient; /* scratch: x, y of the inner nodes */
} chain;

enum { SPRINGS_MOST = 2000 };

static chain chain_of(int n, double *gradient)
{
	return (chain){n, 2 * sqrt(5) / n, 10.0 * n, 9.80665, gradient};
}

static void chain_place(const chain *c, const double *inner, int node, double out[2])
{
	for (int k = 0; k < 2; k++)
		out[k] = node == 0          ? 0
		         : node == c->count ? (k ? -1 : 2)
		                            : inner[2 * (node - 1) + k];
}

static double chain_energy(const chain *c, const double *inner, double *gradient)
{
	double energy = 0;
	for (int i = 0; i < c->count - 1; i++) {
		energy += c->weight * inner[2 * i + 1];
		gradient[2 * i] = 0;
		gradient[2 * i + 1] = c->weight;
	}
	for (int i = 0; i < c->count; i++) {
		double a[2], b[2];
		chain_place(c, inner, i, a);
		chain_place(c, inner, i + 1, b);
		double dx = b[0] - a[0], dy = b[1] - a[1];
		double length = sqrt(dx * dx + dy * dy), stretch = length - c->rest;
		if (stretch <= 0)
			continue;
		energy += 0.5 * c->stiffness * stretch * stretch;
		for (int k = 0; k < 2; k++) {
			double pull = c->stiffness * stretch * (b[k] - a[k]) / length;
			if (i > 0)
				gradient[2 * (i - 1) + k] -= pull;
			if (i < c->count - 1)
				gradient[2 * i + k] += pull;
		}
	}
	return energy;
}

static double largest(const double *v, int count)
{
	double most = 0;
	for (int i = 0; i < count; i++)
		most = fmax(most, fabs(v[i]));
	return most;
}

static double chain_residual(const chain *c, const double *inner)
{
	(void)chain_energy(c, inner, c->gradient);
	return largest(c->gradient, 2 * (c->count - 1));
}

typedef struct outcome {
	double time, residual;
	int steps;
} outcome;

/* -- the general minimiser -- */

/* Left-over force at which it may stop [N]. */
static const double residual_aim = 1e-8;

typedef struct search {
	chain c;
	nlopt_opt opt;
	double best;
	int calls;
} search;

static double objective(unsigned n, const double *x, double *gradient, void *data)
{
	search *s = data;
	double *g = gradient ? gradient : s->c.gradient, energy = chain_energy(&s->c, x, g);
	double residual = largest(g, (int)n);
	s->calls++;
	s->best = fmin(s->best, residual);
	if (residual <= residual_aim)
		nlopt_force_stop(s->opt);
	return energy;
}

static void chain_start(const chain *c, double *inner)
{
	for (int i = 1; i < c->count; i++) {
		inner[2 * i - 2] = 2.0 * i / c->count;
		inner[2 * i - 1] = -1.0 * i / c->count;
	}
}

static outcome minimise_remembering(chain c, unsigned storage)
{
	double inner[2 * SPRINGS_MOST], energy, started = now();
	outcome best = {HUGE_VAL, 0, 0};
	do {
		search s = {.c = c, .best = HUGE_VAL};
		chain_start(&c, inner);
		double begun = now();
		s.opt = nlopt_create(NLOPT_LD_LBFGS, (unsigned)(2 * c.count - 2));
		need(s.opt != NULL);
		nlopt_set_min_objective(s.opt, objective, &s);
		nlopt_set_ftol_rel(s.opt, 0);
		nlopt_set_xtol_rel(s.opt, 0);
		nlopt_set_maxeval(s.opt, 20000);
		nlopt_set_vector_storage(s.opt, storage);
		(void)nlopt_optimize(s.opt, inner, &energy);
		nlopt_destroy(s.opt);
		double time = now() - begun;
		if (time < best.time)
			best = (outcome){time, s.best, s.calls};
	} while (now() - started < patience);
	return best;
}

/* The quicker of a few lengths of its memory; 0 = its own choice. */
static outcome minimise_generally(chain c)
{
	static const unsigned storages[] = {0, 5, 20};
	outcome best = {HUGE_VAL, 0, 0};
	for (size_t i = 0; i < sizeof storages / sizeof *storages; i++) {
		outcome tried = minimise_remembering(c, storages[i]);
		best = tried.time < best.time ? tried : best;
	}
	return best;
}

/* -- ours -- */

static rn_model *chain_model(const chain *c)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m;
	double inner[2 * SPRINGS_MOST], place[2];
	need(rn_model_create(&allocator, &m) == RN_OK);
	chain_start(c, inner);
	for (int i = 0; i <= c->count; i++) {
		char id[16];
		bool end = i == 0 || i == c->count;
		snprintf(id, sizeof id, "n%d", i);
		chain_place(c, inner, i, place);
		build_node(m, id, end ? RN_NODE_ANCHOR : RN_NODE_PIECE, place[0], place[1],
		           end ? 0 : c->weight);
	}
	for (int i = 0; i < c->count; i++) {
		char id[16];
		snprintf(id, sizeof id, "s%d", i);
		build_sling(m, id, i, i + 1, c->stiffness * c->rest, c->rest);
	}
	need(rn_model_check(m) == RN_OK);
	return m;
}

typedef struct bed {
	rn_model *model;
	rn_workspace *workspace;
	double *values;
} bed;

static bed bed_make(rn_model *model)
{
	bed b = {.model = model};
	rn_options options = rn_options_default();
	need(rn_workspace_create(model, &options, &b.workspace) == RN_OK);
	b.values = calloc((size_t)model->number_count, sizeof *b.values);
	need(b.values != NULL);
	rn_case_values(model, &model->cases[0], b.values);
	return b;
}

static void bed_drop(bed *b)
{
	free(b->values);
	rn_workspace_destroy(b->workspace);
	rn_model_destroy(b->model);
}

static const rn_case_result *bed_settle(bed *b, bool warm, double *time_out)
{
	const rn_case_result *answer;
	double begun = now();
	need(rn_workspace_settle(b->workspace, &b->model->cases[0], b->values, warm, &answer) ==
	     RN_OK);
	*time_out = now() - begun;
	return answer;
}

static outcome settle_ours(chain c, double *balance_out)
{
	bed b = bed_make(chain_model(&c));
	outcome best = {HUGE_VAL, 0, 0};
	double inner[2 * SPRINGS_MOST], started = now(), time;
	do {
		const rn_case_result *answer = bed_settle(&b, false, &time);
		need(answer->outcome == RN_OUTCOME_SETTLED);
		for (int i = 1; i < c.count; i++)
			memcpy(&inner[2 * i - 2], answer->nodes[i].place,
			       sizeof answer->nodes[i].place);
		*balance_out = answer->balance.worst;
		if (time < best.time)
			best = (outcome){time, chain_residual(&c, inner), answer->info.steps};
	} while (now() - started < patience);
	bed_drop(&b);
	return best;
}

static void bench_chain(void)
{
	static const int counts[] = {10, 40, 200, 2000};
	double gradient[2 * SPRINGS_MOST];
	printf("1  hanging chain of n springs, straight slack start; left over by places, and by "
	       "tensions [N]\n");
	printf("     n   settle us  steps   by places  by tensions   lbfgs us  calls   by places   "
	       "ratio\n");
	for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
		chain c = chain_of(counts[i], gradient);
		double balance = 0;
		outcome ours = settle_ours(c, &balance), other = minimise_generally(c);
		printf("  %4d  %10.1f  %5d  %10.1e  %11.1e  %9.1f  %5d  %10.1e  %6.2f\n", c.count,
		       1e6 * ours.time, ours.steps, ours.residual, balance, 1e6 * other.time,
		       other.steps, other.residual, other.time / ours.time);
	}
}

/* ---- 2: the rigging -------------------------------------------------------------------------- */

/* Warm: the load goes up and down by 1 %, each time from where the last answer left it. */
static double shortest_warm(bed *b, int load, int *steps_out)
{
	double best = HUGE_VAL, started = now(), time, kept = b->values[load];
	for (int i = 0; now() - started < patience; i++) {
		b->values[load] = i % 2 ? kept : 1.01 * kept;
		*steps_out = bed_settle(b, true, &time)->info.steps;
		best = fmin(best, time);
	}
	b->values[load] = kept;
	return best;
}

static double shortest_cold(bed *b, int *steps_out, bool *closed_out)
{
	double best = HUGE_VAL, started = now(), time;
	do {
		const rn_case_result *answer = bed_settle(b, false, &time);
		need(answer->outcome == RN_OUTCOME_SETTLED);
		*steps_out = answer->info.steps;
		*closed_out = answer->balance.closed;
		best = fmin(best, time);
	} while (now() - started < patience);
	return best;
}

static void bench_rigging(void)
{
	static const char *const names[] = {"at rest", "lowering", "raising"};
	rn_allocator allocator = rn_allocator_default();
	printf("\n2  ten-node rigging: treads, sheaves, a ring with friction; warm: load changed "
	       "by 1 %%\n");
	printf("  case         cold us  steps     warm us  steps  proof\n");
	for (int i = 0; i < 3; i++) {
		net_data n = net_rigging();
		n.friction = i > 0;
		n.lines[0].toward_last = i == 2;
		bed b = bed_make(net_model(&n, &allocator));
		rn_object heaviest = rn_object_of(RN_FORCE, b.model->force_count - 1);
		int load = rn_model_find_number(b.model, heaviest, RN_ATTRIBUTE_SIZE), cold_steps,
		    warm_steps = 0;
		bool closed;
		double cold = shortest_cold(&b, &cold_steps, &closed),
		       warm = shortest_warm(&b, load, &warm_steps);
		printf("  %-9s  %9.1f  %5d  %10.1f  %5d  %s\n", names[i], 1e6 * cold, cold_steps,
		       1e6 * warm, warm_steps, closed ? "closed" : "OPEN");
		bed_drop(&b);
	}
}

/* ---- 3: random networks ---------------------------------------------------------------------- */

enum { DRAWS = 300 };

static int by_size(const void *a, const void *b)
{
	int x = *(const int *)a, y = *(const int *)b;
	return (x > y) - (x < y);
}

static rn_model *random_model(support_random *random, net_random_options options)
{
	rn_allocator allocator = rn_allocator_default();
	rn_model *m = NULL;
	while (!m) {
		net_data n = net_random(random, options);
		m = net_model(&n, &allocator);
	}
	return m;
}

static void bench_random(const char *name, net_random_options options)
{
	support_random random = support_random_from(300);
	int steps[DRAWS], settled = 0, open = 0;
	double time, most = 0;
	for (int i = 0; i < DRAWS; i++) {
		bed b = bed_make(random_model(&random, options));
		const rn_case_result *answer = bed_settle(&b, false, &time);
		bool found = answer->outcome == RN_OUTCOME_SETTLED;
		steps[i] = answer->info.steps;
		settled += found;
		open += found && !answer->balance.closed;
		most = fmax(most, time);
		bed_drop(&b);
	}
	qsort(steps, DRAWS, sizeof *steps, by_size);
	printf("  %-22s  %6d  %4d  %7d  %10d  %5d  %12.1f\n", name, steps[DRAWS / 2],
	       steps[DRAWS * 95 / 100], steps[DRAWS - 1], settled, open, 1e6 * most);
}

/* ---- 4: trials ------------------------------------------------------------------------------- */

enum { TRIALS = 1024 };

static double shortest_trials(const rn_result *result, const rn_between *range, int threads)
{
	double best = HUGE_VAL, started = now();
	do {
		rn_scatter_asked asked = {.ranges = range, .range_count = 1, .count = TRIALS, .threads = threads};
		rn_options options = rn_options_default();
		rn_scatter scatter;
		double begun = now();
		need(rn_scatter_find(result, &options, &asked, &scatter) == RN_OK);
		best = fmin(best, now() - begun);
		need(scatter.count == TRIALS && scatter.counts[RN_TRIAL_NOT_FOUND] == 0);
		rn_scatter_release(&scatter);
	} while (now() - started < patience);
	return best;
}

static void bench_trials(void)
{
	rn_allocator allocator = rn_allocator_default();
	net_data n = net_rigging();
	bed b = bed_make(net_model(&n, &allocator));
	int load = rn_model_find_number(b.model, rn_object_of(RN_FORCE, b.model->force_count - 1), RN_ATTRIBUTE_SIZE), steps;
	rn_between range = {.number = load, .low = 0.8 * b.values[load], .high = 1.2 * b.values[load]};
	rn_options options = rn_options_default();
	rn_result *result;
	bool closed;
	need(rn_solve(b.model, &options, &result) == RN_OK);
	double cold = shortest_cold(&b, &steps, &closed), one = shortest_trials(result, &range, 1);
	printf("\n4  the same, %d trials with its load drawn from 0.8 to 1.2 of itself; alone: settled cold\n", TRIALS);
	printf("  threads  trial us  alone over trial  one thread over so many\n");
	for (int threads = 1; threads <= 4; threads *= 2) {
		double time = threads == 1 ? one : shortest_trials(result, &range, threads);
		printf("  %7d  %8.1f  %16.2f  %23.2f\n", threads, 1e6 * time / TRIALS, cold * TRIALS / time, one / time);
	}
	rn_result_destroy(result);
	bed_drop(&b);
}

int main(void)
{
	bench_chain();
	bench_rigging();
	printf("\n3  steps over %d random networks without friction, 2 to 6 free nodes, 1 to 3 "
	       "lines\n",
	       DRAWS);
	printf("                          median  95 %%  largest  settled of  proof  slowest\n");
	printf("                                                       %4d   open       us\n",
	       DRAWS);
	bench_random("tame, points", (net_random_options){.free_least = 2, .free_most = 6});
	bench_random("tame, treads",
	             (net_random_options){.treads = true, .free_least = 2, .free_most = 6});
	bench_random("wild, points",
	             (net_random_options){.wild = true, .free_least = 2, .free_most = 6});
	bench_random("wild, treads",
	             (net_random_options){
			     .treads = true, .wild = true, .free_least = 2, .free_most = 6});
	bench_trials();
	return 0;
}
