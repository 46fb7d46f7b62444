/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/finite.h"

#include <math.h>

static bool pair_finite(const double pair[2])
{
	return isfinite(pair[0]) && isfinite(pair[1]);
}

static bool node_finite(const rn_node_result *n)
{
	return pair_finite(n->drawn) && pair_finite(n->place) && pair_finite(n->pull) &&
	       pair_finite(n->load);
}

static bool span_finite(const rn_span_result *s)
{
	return isfinite(s->tension) && isfinite(s->length) && isfinite(s->heading) &&
	       isfinite(s->certified) && pair_finite(s->start) && pair_finite(s->end) &&
	       isfinite(s->tension_least) && isfinite(s->tension_most);
}

static bool pass_finite(const rn_pass_result *p)
{
	return isfinite(p->bend) && isfinite(p->before) && isfinite(p->after) &&
	       isfinite(p->radius) && isfinite(p->arc_start) && isfinite(p->friction_exponent) &&
	       pair_finite(p->force);
}

static bool hold_finite(const rn_hold_result *h)
{
	return isfinite(h->turns) && isfinite(h->tension) && isfinite(h->hand_least) &&
	       isfinite(h->hand_most);
}

static bool part_finite(const rn_part_result *p)
{
	bool finite = true;
	for (int i = 0; i < p->factor_count; i++)
		finite = finite && isfinite(p->factors[i].value) && isfinite(p->factors[i].measure);
	return finite && isfinite(p->demand) && isfinite(p->limit) && isfinite(p->utilisation) &&
	       isfinite(p->strength) && isfinite(p->design_factor) && isfinite(p->working_load) &&
	       isfinite(p->breaking);
}

static bool stem_finite(const rn_stem_result *s)
{
	return isfinite(s->height) && isfinite(s->diameter) && isfinite(s->wall) && isfinite(s->axial) && isfinite(s->shear) &&
	       isfinite(s->moment) && isfinite(s->compression) && isfinite(s->tension) && isfinite(s->buckling) &&
	       isfinite(s->growth) && isfinite(s->pull) && isfinite(s->pull_direction) && isfinite(s->utilisation);
}

static bool hitch_finite(const rn_hitch_result *h)
{
	return isfinite(h->girth) && isfinite(h->bend_ratio) && isfinite(h->taken) && isfinite(h->reach) &&
	       isfinite(h->made) && isfinite(h->left) && isfinite(h->needed) && isfinite(h->angle) && isfinite(h->spread);
}

static bool balance_finite(const rn_balance *b)
{
	return isfinite(b->worst) && isfinite(b->relative) && isfinite(b->moment);
}

static bool caught_finite(const rn_caught *c)
{
	double sum = c->weight + c->peak + c->released + c->begins + c->height + c->travel + c->across + c->lowest +
	             c->clear + c->clear_most + c->side + c->slips_at + c->run_out + c->given + c->in_ropes + c->in_stems +
	             c->in_bodies + c->raised + c->in_hands + c->in_friction + c->jumped +
	             c->left_over;
	for (int i = 0; i < c->path_count; i++)
		sum += c->path[i][0] + c->path[i][1];
	return isfinite(sum);
}

static bool case_finite(const rn_model *model, const rn_case_result *c)
{
	bool finite = balance_finite(&c->balance) && isfinite(c->picture.left_over) &&
	              isfinite(c->picture.largest_move) && isfinite(c->info.residual) &&
	              isfinite(c->info.energy) && isfinite(c->info.gap) && caught_finite(&c->caught);
	for (int i = 0; c->nodes && i < model->node_count; i++)
		finite = finite && node_finite(&c->nodes[i]);
	for (int i = 0; i < c->span_count; i++)
		finite = finite && span_finite(&c->spans[i]);
	for (int i = 0; i < c->pass_count; i++)
		finite = finite && pass_finite(&c->passes[i]);
	for (int i = 0; i < c->hold_count; i++)
		finite = finite && hold_finite(&c->holds[i]);
	for (int i = 0; i < c->contact_count; i++)
		finite = finite && isfinite(c->contacts[i].push);
	for (int i = 0; i < c->part_count; i++)
		finite = finite && part_finite(&c->parts[i]);
	for (int i = 0; c->stems && i < model->stem_count; i++)
		finite = finite && stem_finite(&c->stems[i]);
	for (int i = 0; i < c->hitch_count; i++)
		finite = finite && hitch_finite(&c->hitches[i]);
	return finite;
}

rn_status rn_finite_check(const rn_result *result)
{
	for (int i = 0; i < result->case_count; i++)
		if (!case_finite(result->model, &result->cases[i]))
			return RN_STATUS_ARGUMENT;
	return RN_OK;
}
