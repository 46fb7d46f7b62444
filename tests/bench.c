/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How long it takes, and in how many steps. Prints tables and holds nothing against a limit.
 *
 *   1  the hanging chain of n tension-only springs, from a straight slack start, beside a general
 *      minimiser of the same energy (NLopt's LD_LBFGS, hand-written gradient), which finds the places alone; ours with
 *      and without what an answer has besides: strengths, notes, the two proofs
 *   2  a rigging of ten nodes, cold and warm; its three cases a second, on one thread and on two
 *   3  steps over random networks without friction
 *   4  square nets, beside CHOLMOD's factors of their stiffness alone, as many as there were steps
 *   5  what a factorisation takes, in a band and sparse, dense and sparse
 *   6  trials of the rigging with its load drawn, beside settling it alone, with one thread and more
 *
 *     bench [NUMBER...]      those of the six; all without
 */
#define _POSIX_C_SOURCE 199309L

#include <cholmod.h>
#include <math.h>
#include <nlopt.h>
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "solver/statics/settle.h"
#include "tests/build.h"
#include "tests/support.h"

static double read_clock(clockid_t clock)
{
	struct timespec t;
	clock_gettime(clock, &t);
	return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Processor time, which says the same on a machine that is busy with other things. */
static double now(void)
{
	return read_clock(CLOCK_THREAD_CPUTIME_ID);
}

static double wall(void)
{
	return read_clock(CLOCK_MONOTONIC);
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

/* Loading the case and finding the places. */
static double place_ours(chain c)
{
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	rn_arena arena = rn_arena_make(&allocator);
	rn_model *model = chain_model(&c);
	rn_settler settler;
	rn_notes notes = {0};
	double *values = rn_arena_take(&arena, (size_t)model->number_count, sizeof *values);
	double best = HUGE_VAL, started = now();
	need(values && rn_settler_create(&arena, model, &options, &settler) == RN_OK);
	settler.notes = &notes;
	settler.notes_arena = &arena;
	rn_case_values(model, &model->cases[0], values);
	do {
		rn_outcome came;
		double begun = now();
		rn_network_load(&settler.net, &model->cases[0], values);
		need(rn_settle(&settler, false, &came) == RN_OK && came == RN_OUTCOME_SETTLED);
		best = fmin(best, now() - begun);
	} while (now() - started < patience);
	rn_arena_release(&arena);
	rn_model_destroy(model);
	return best;
}

static void bench_chain(void)
{
	static const int counts[] = {10, 40, 200, 2000};
	double gradient[2 * SPRINGS_MOST];
	printf("1  hanging chain of n springs, straight slack start; left over by places, and by "
	       "tensions [N]\n");
	printf("     n   answer us  places us  steps   by places  by tensions   lbfgs us  calls   by places   "
	       "over answer  over places\n");
	for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
		chain c = chain_of(counts[i], gradient);
		double balance = 0;
		outcome ours = settle_ours(c, &balance), other = minimise_generally(c);
		double placed = place_ours(c);
		printf("  %4d  %10.1f  %9.1f  %5d  %10.1e  %11.1e  %9.1f  %5d  %10.1e  %11.2f  %11.2f\n", c.count,
		       1e6 * ours.time, 1e6 * placed, ours.steps, ours.residual, balance, 1e6 * other.time,
		       other.steps, other.residual, other.time / ours.time, other.time / placed);
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

static void bench_rounds(void);

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
	bench_rounds();
}

/* -- three cases a second -- */

typedef struct runner {
	const rn_model *models[3];
	int count, settled;
	double busy; /* processor time of its thread [s] */
} runner;

static void three_models(const rn_model *models[3])
{
	rn_allocator allocator = rn_allocator_default();
	for (int i = 0; i < 3; i++) {
		net_data n = net_rigging();
		n.friction = i > 0;
		n.lines[0].toward_last = i == 2;
		models[i] = net_model(&n, &allocator);
		need(models[i] != NULL);
	}
}

/* Each case in a workspace of its own, warm, its load up and down by 1 % in turn. */
static void *run_three(void *data)
{
	runner *r = data;
	rn_options options = rn_options_default();
	rn_workspace *w[3];
	double *values[3], kept[3];
	int load[3];
	for (int i = 0; i < 3; i++) {
		const rn_model *m = r->models[i];
		need(rn_workspace_create(m, &options, &w[i]) == RN_OK);
		values[i] = calloc((size_t)m->number_count, sizeof *values[i]);
		need(values[i] != NULL);
		rn_case_values(m, &m->cases[0], values[i]);
		load[i] = rn_model_find_number(m, rn_object_of(RN_FORCE, m->force_count - 1), RN_ATTRIBUTE_SIZE);
		kept[i] = values[i][load[i]];
	}
	double begun = now();
	for (int k = 0; k < r->count; k++)
		for (int i = 0; i < 3; i++) {
			const rn_case_result *answer;
			values[i][load[i]] = k % 2 ? kept[i] : 1.01 * kept[i];
			need(rn_workspace_settle(w[i], &r->models[i]->cases[0], values[i], true, &answer) == RN_OK);
			r->settled += answer->outcome == RN_OUTCOME_SETTLED;
		}
	r->busy = now() - begun;
	for (int i = 0; i < 3; i++) {
		free(values[i]);
		rn_workspace_destroy(w[i]);
	}
	return NULL;
}

/* Rounds of three a second, on so many threads that share the models; and in a second of processor time of each. */
static double rounds(const rn_model *const models[3], int threads, double *by_processor)
{
	enum { ROUNDS = 3000, THREADS = 2 };
	double best = 0, started = wall();
	*by_processor = 0;
	do {
		runner runners[THREADS];
		pthread_t other;
		double begun = wall();
		for (int i = 0; i < threads; i++)
			runners[i] = (runner){.models = {models[0], models[1], models[2]}, .count = ROUNDS};
		if (threads > 1)
			need(pthread_create(&other, NULL, run_three, &runners[1]) == 0);
		(void)run_three(&runners[0]);
		if (threads > 1)
			need(pthread_join(other, NULL) == 0);
		best = fmax(best, threads * ROUNDS / (wall() - begun));
		double each = 0;
		for (int i = 0; i < threads; i++) {
			need(runners[i].settled == 3 * ROUNDS);
			each += ROUNDS / runners[i].busy;
		}
		*by_processor = fmax(*by_processor, each);
	} while (wall() - started < 5 * patience);
	return best;
}

static void bench_rounds(void)
{
	const rn_model *models[3];
	three_models(models);
	double busy_one, busy_two, one = rounds(models, 1, &busy_one), two = rounds(models, 2, &busy_two);
	printf("  its three cases, warm: %.0f times a second on one thread, %.0f on two that share the models: "
	       "%.2f times\n",
	       one, two, two / one);
	printf("  the same in a second of processor time of each: %.0f, %.0f: %.2f times\n", busy_one, busy_two,
	       busy_two / busy_one);
	for (int i = 0; i < 3; i++)
		rn_model_destroy((rn_model *)models[i]);
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

static void bench_steps(void)
{
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
}

/* ---- 4: nets --------------------------------------------------------------------------------- */

/* Memory as it is taken; the size stands before each block. */
typedef struct meter {
	size_t now, most;
} meter;

enum { HEAD = 16 };

static void *metered_allocate(void *context, size_t size)
{
	meter *m = context;
	char *block = malloc(size + HEAD);
	if (!block)
		return NULL;
	memcpy(block, &size, sizeof size);
	m->now += size;
	m->most = m->now > m->most ? m->now : m->most;
	return block + HEAD;
}

static void metered_release(void *context, void *block)
{
	meter *m = context;
	size_t size;
	if (!block)
		return;
	memcpy(&size, (char *)block - HEAD, sizeof size);
	m->now -= size;
	free((char *)block - HEAD);
}

/* Meshes of 1 m, EA 100 kN, 10 N at every free node, hung from an edge that is 2 % wider than the net. */
static rn_model *hung_net(int side, meter *memory)
{
	rn_allocator allocator = {metered_allocate, metered_release, memory};
	rn_model *m;
	char id[32];
	need(rn_model_create(&allocator, &m) == RN_OK);
	for (int i = 0; i < side * (side + 1); i++) {
		int across = i % side, down = i / side;
		double x = down ? across : 1.02 * across - 0.01 * side;
		snprintf(id, sizeof id, "n%d", i);
		build_node(m, id, down ? RN_NODE_PIECE : RN_NODE_ANCHOR, x, -down, down ? 10 : 0);
	}
	for (int i = side; i < side * (side + 1); i++) {
		snprintf(id, sizeof id, "v%d", i);
		build_sling(m, id, i - side, i, 1e5, 1);
		snprintf(id, sizeof id, "h%d", i);
		if (i % side > 0)
			build_sling(m, id, i - 1, i, 1e5, 1);
	}
	need(rn_model_check(m) == RN_OK);
	return m;
}

/* The stiffness of the free nodes in the answer, lower half. */
static cholmod_sparse *stiffness_of(const rn_case_result *answer, int side, cholmod_common *c)
{
	size_t n = 2 * (size_t)(side * side), count = 0;
	cholmod_triplet *t = cholmod_allocate_triplet(n, n, 16 * (size_t)answer->span_count, -1, CHOLMOD_REAL, c);
	need(t != NULL);
	int *row = t->i, *column = t->j;
	double *value = t->x;
	for (int s = 0; s < answer->span_count; s++) {
		const rn_span_result *span = &answer->spans[s];
		double u[2] = {cos(span->heading), sin(span->heading)}, k = span->tension > 0 ? 1e5 : 0;
		int at[2] = {2 * (span->from - side), 2 * (span->to - side)};
		for (int e = 0; e < 16; e++) {
			int a = e / 4, b = e % 4, i = at[a / 2] + a % 2, j = at[b / 2] + b % 2;
			if (at[a / 2] < 0 || at[b / 2] < 0 || i < j)
				continue;
			double across = span->tension / span->length * ((a % 2 == b % 2) - u[a % 2] * u[b % 2]);
			row[count] = i;
			column[count] = j;
			value[count++] = (a / 2 == b / 2 ? 1 : -1) * (k * u[a % 2] * u[b % 2] + across) + (i == j ? 1e-6 : 0);
		}
	}
	t->nnz = count;
	cholmod_sparse *matrix = cholmod_triplet_to_sparse(t, count, c);
	need(matrix != NULL);
	cholmod_free_triplet(&t, c);
	return matrix;
}

/* Ordering once and so many factors, the quicker of simplicial and supernodal ones. */
static double factors_alone(const rn_case_result *answer, int side, int steps)
{
	static const int kinds[] = {CHOLMOD_SIMPLICIAL, CHOLMOD_SUPERNODAL, CHOLMOD_AUTO};
	double best = HUGE_VAL;
	for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
		cholmod_common c;
		cholmod_start(&c);
		c.supernodal = kinds[k];
		cholmod_sparse *matrix = stiffness_of(answer, side, &c);
		double started = now();
		do {
			double begun = now();
			cholmod_factor *factor = cholmod_analyze(matrix, &c);
			for (int i = 0; i < steps; i++)
				need(cholmod_factorize(matrix, factor, &c) && c.status == CHOLMOD_OK);
			best = fmin(best, now() - begun);
			cholmod_free_factor(&factor, &c);
		} while (now() - started < patience);
		cholmod_free_sparse(&matrix, &c);
		cholmod_finish(&c);
	}
	return best;
}

/* Slope of the logarithms, by least squares. */
static double exponent(const double *x, const double *y, int count)
{
	double sx = 0, sy = 0, sxx = 0, sxy = 0;
	for (int i = 0; i < count; i++) {
		sx += log(x[i]);
		sy += log(y[i]);
		sxx += log(x[i]) * log(x[i]);
		sxy += log(x[i]) * log(y[i]);
	}
	return (count * sxy - sx * sy) / (count * sxx - sx * sx);
}

/* With its own room made anew each time, as one who asks once would. */
static double settle_net(rn_model *model, meter *memory, double *settle_out, rn_workspace **kept_out,
                         const rn_case_result **answer_out)
{
	rn_options options = rn_options_default();
	options.allocator = (rn_allocator){metered_allocate, metered_release, memory};
	double *values = calloc((size_t)model->number_count, sizeof *values), best = HUGE_VAL, started = now();
	need(values != NULL);
	rn_case_values(model, &model->cases[0], values);
	*settle_out = HUGE_VAL;
	*kept_out = NULL;
	do {
		rn_workspace_destroy(*kept_out);
		double begun = now();
		need(rn_workspace_create(model, &options, kept_out) == RN_OK);
		double made = now();
		need(rn_workspace_settle(*kept_out, &model->cases[0], values, false, answer_out) == RN_OK);
		*settle_out = fmin(*settle_out, now() - made);
		best = fmin(best, now() - begun);
	} while (now() - started < patience);
	need((*answer_out)->outcome == RN_OUTCOME_SETTLED);
	free(values);
	return best;
}

static void bench_nets(void)
{
	static const int sides[] = {10, 18, 32, 56, 100};
	enum { COUNT = sizeof sides / sizeof *sides };
	double nodes[COUNT], times[COUNT], sizes[COUNT];
	printf("\n4  square nets hung from an edge; room: ordering and memory; cholmod: as many factors as steps, alone\n");
	printf("   nodes  with room ms  settle ms  steps    MB  proof   left/T  cholmod ms  settle/cholmod\n");
	for (int i = 0; i < COUNT; i++) {
		meter memory = {0, 0};
		rn_model *model = hung_net(sides[i], &memory);
		rn_workspace *w;
		const rn_case_result *answer;
		double settle, whole = settle_net(model, &memory, &settle, &w, &answer);
		double alone = factors_alone(answer, sides[i], answer->info.steps);
		nodes[i] = sides[i] * sides[i];
		times[i] = whole;
		sizes[i] = (double)memory.most;
		printf("  %6.0f  %12.2f  %9.2f  %5d  %4.0f  %s  %7.1e  %10.2f  %14.2f\n", nodes[i], 1e3 * whole, 1e3 * settle,
		       answer->info.steps, sizes[i] / 1e6, answer->balance.closed ? "closed" : "OPEN  ",
		       answer->balance.relative, 1e3 * alone, whole / alone);
		rn_workspace_destroy(w);
		rn_model_destroy(model);
	}
	printf("  growth with the nodes: time to the power %.2f, memory %.2f\n", exponent(nodes, times, COUNT),
	       exponent(nodes, sizes, COUNT));
}

/* ---- 5: factors ------------------------------------------------------------------------------ */

/* K of a net of points side x side, two unknowns each; the band as wide as the net. */
static rn_triplets net_matrix(int side, rn_arena *arena)
{
	rn_triplets t = {.room = 24 * side * side};
	t.items = rn_arena_take(arena, (size_t)t.room, sizeof *t.items);
	need(t.items != NULL);
	for (int i = 0; i < side * side; i++)
		for (int k = 0; k < 4; k++) {
			int row = 2 * i + k / 2, column = 2 * i + k % 2;
			if (row >= column)
				rn_triplets_add(&t, row, column, row == column ? 5 : 0.1);
			if (i % side > 0)
				rn_triplets_add(&t, row, column - 2, k % 3 ? 0.1 : -1);
			if (i >= side)
				rn_triplets_add(&t, row, column - 2 * side, k % 3 ? 0.1 : -1);
		}
	return t;
}

static void bench_symmetric(int side)
{
	rn_allocator allocator = rn_allocator_default();
	rn_arena arena = rn_arena_make(&allocator);
	rn_triplets t = net_matrix(side, &arena);
	int n = 2 * side * side, half = 2 * side + 1;
	rn_band band;
	rn_ldl ldl;
	double best[2] = {HUGE_VAL, HUGE_VAL}, order = now();
	need(rn_ldl_analyse(&arena, n, &t, &ldl) == RN_OK && rn_ldl_create(&arena, &ldl) == RN_OK);
	order = now() - order;
	need(rn_band_create(&arena, n, half, &band) == RN_OK);
	for (double started = now(); now() - started < patience;) {
		double begun = now();
		need(rn_band_factor(&band, &t, 1, 0) == 0);
		double between = now();
		need(rn_ldl_factor(&ldl, &t, 1, 0) == 0);
		best[0] = fmin(best[0], between - begun);
		best[1] = fmin(best[1], now() - between);
	}
	printf("  symmetric    %6d  %10.1f  %10.1f  %10.1f  %6.2f   products %.1e, %.1e\n", n, 1e6 * best[0], 1e6 * best[1],
	       1e6 * order, best[0] / best[1], n * (half + 1.0) * (half + 1.0), ldl.products);
	rn_arena_release(&arena);
}

/* Places and tensions of a chain. */
static void bench_unsymmetric(int n)
{
	rn_allocator allocator = rn_allocator_default();
	rn_arena arena = rn_arena_make(&allocator);
	rn_triplets t = {.room = 8 * n};
	t.items = rn_arena_take(&arena, (size_t)t.room, sizeof *t.items);
	double *x = rn_arena_take(&arena, (size_t)n, sizeof *x), best[2] = {HUGE_VAL, HUGE_VAL};
	need(t.items && x);
	for (int i = 0; i < n; i++)
		for (int k = -3; k <= 3; k++)
			if (i + k >= 0 && i + k < n)
				rn_triplets_add(&t, i, i + k, k == 0 ? 3 : sin(i * k));
	rn_dense dense;
	rn_lu lu;
	bool regular;
	need(rn_dense_create(&arena, n, &dense) == RN_OK && rn_lu_create(&arena, n, t.room, &lu) == RN_OK);
	for (double started = now(); now() - started < patience;) {
		double begun = now();
		(void)rn_dense_solve(&dense, n, &t, x);
		double between = now();
		need(rn_lu_solve(&lu, n, &t, x, &regular) == RN_OK);
		best[0] = fmin(best[0], between - begun);
		best[1] = fmin(best[1], now() - between);
	}
	printf("  unsymmetric  %6d  %10.1f  %10.1f  %10s  %6.2f\n", n, 1e6 * best[0], 1e6 * best[1], "", best[0] / best[1]);
	rn_arena_release(&arena);
}

static void bench_factors(void)
{
	static const int sides[] = {4, 8, 12, 16, 24, 40}, sizes[] = {12, 20, 30, 40, 60, 100, 200};
	printf("\n5  one factorisation of a net by band and sparse, one solution by dense QR and KLU [us]\n");
	printf("              unknowns  band/dense      sparse    ordering   ratio\n");
	for (size_t i = 0; i < sizeof sides / sizeof *sides; i++)
		bench_symmetric(sides[i]);
	for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
		bench_unsymmetric(sizes[i]);
}

/* ---- 6: trials ------------------------------------------------------------------------------- */

enum { TRIALS = 1024 };

static double shortest_trials(const rn_result *result, const rn_between *range, int threads)
{
	double best = HUGE_VAL, started = wall();
	do {
		rn_scatter_asked asked = {.ranges = range, .range_count = 1, .count = TRIALS, .threads = threads};
		rn_options options = rn_options_default();
		rn_scatter scatter;
		double begun = wall();
		need(rn_scatter_find(result, &options, &asked, &scatter) == RN_OK);
		best = fmin(best, wall() - begun);
		need(scatter.count == TRIALS && scatter.counts[RN_TRIAL_NOT_FOUND] == 0);
		rn_scatter_release(&scatter);
	} while (wall() - started < patience);
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
	printf("\n6  the ten-node rigging, %d trials with its load drawn from 0.8 to 1.2 of itself; alone: settled cold\n", TRIALS);
	printf("  threads  trial us  alone over trial  one thread over so many\n");
	for (int threads = 1; threads <= 4; threads *= 2) {
		double time = threads == 1 ? one : shortest_trials(result, &range, threads);
		printf("  %7d  %8.1f  %16.2f  %23.2f\n", threads, 1e6 * time / TRIALS, cold * TRIALS / time, one / time);
	}
	rn_result_destroy(result);
	bed_drop(&b);
}

int main(int count, char **words)
{
	static void (*const parts[])(void) = {bench_chain, bench_rigging, bench_steps, bench_nets, bench_factors,
	                                      bench_trials};
	for (int i = 0; i < 6; i++) {
		bool asked = count == 1;
		for (int k = 1; k < count; k++)
			asked = asked || atoi(words[k]) == i + 1;
		if (asked)
			parts[i]();
	}
	return 0;
}
