/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/arrows.h"

#include <math.h>

static void add(rn_arrows *a, double x, double y, rn_object member, int other)
{
	if (a->count < RN_ARROWS_MOST && hypot(x, y) > rn_words_nothing)
		a->list[a->count++] = (rn_arrow){x, y, member, other};
}

/* A rope passes here without touching: it pulls on nothing. */
static bool is_passed_by(const rn_arrows *a, const rn_span_result *span)
{
	for (int i = 0; i < a->answer->pass_count; i++) {
		const rn_pass_result *pass = &a->answer->passes[i];
		bool ends_here = &a->answer->spans[pass->span_before] == span || &a->answer->spans[pass->span_after] == span;
		if (pass->node == a->node && pass->lifted && ends_here)
			return true;
	}
	return false;
}

static void add_spans(rn_arrows *a)
{
	for (int i = 0; i < a->answer->span_count; i++) {
		const rn_span_result *s = &a->answer->spans[i];
		double x = s->tension * cos(s->heading), y = s->tension * sin(s->heading);
		if ((s->from != a->node && s->to != a->node) || is_passed_by(a, s))
			continue;
		if (s->from == a->node)
			add(a, x, y, s->member, s->to);
		if (s->to == a->node)
			add(a, -x, -y, s->member, s->from);
	}
}

static void add_pushes(rn_arrows *a)
{
	for (int i = 0; i < a->answer->contact_count; i++) {
		const rn_contact_result *c = &a->answer->contacts[i];
		int other = c->a == a->node ? c->b : c->a;
		if (c->a != a->node && c->b != a->node)
			continue;
		const double *here = a->answer->nodes[a->node].place, *there = a->answer->nodes[other].place;
		double x = here[0] - there[0], y = here[1] - there[1], distance = hypot(x, y);
		add(a, c->push * x / distance, c->push * y / distance, rn_object_of(RN_NODE, other), other);
	}
}

/* Weight apart from outer forces; of a piece that is caught all of what stops it. */
static void add_loads(rn_arrows *a, const double *values)
{
	const rn_model *m = a->model;
	double x = a->answer->nodes[a->node].load[0], y = a->answer->nodes[a->node].load[1];
	const rn_case *c = &m->cases[a->answer->case_index];
	for (int i = c->first_force; i < c->first_force + c->force_count; i++) {
		rn_object outer = rn_object_of(RN_FORCE, i);
		if (m->forces[i].node != a->node || rn_node_is_fixed(&m->nodes[a->node]))
			continue;
		double size = rn_model_value(m, values, outer, RN_ATTRIBUTE_SIZE, 0);
		double toward = rn_model_value(m, values, outer, RN_ATTRIBUTE_TOWARD, 0);
		add(a, size * cos(toward), size * sin(toward), outer, RN_NONE);
		x -= size * cos(toward);
		y -= size * sin(toward);
	}
	add(a, x, y, rn_object_of(RN_CASE, a->answer->case_index), RN_NONE);
}

rn_arrows rn_arrows_at(const rn_model *model, const rn_case_result *answer, const double *values, int node)
{
	rn_arrows a = {.model = model, .answer = answer, .node = node};
	add_spans(&a);
	add_pushes(&a);
	add_loads(&a, values);
	return a;
}

void rn_arrows_hold(rn_arrows *a)
{
	double x = 0, y = 0;
	if (!rn_node_is_fixed(&a->model->nodes[a->node]))
		return;
	for (int i = 0; i < a->count; i++) {
		x -= a->list[i].x;
		y -= a->list[i].y;
	}
	add(a, x, y, rn_object_of(RN_STEM, a->model->nodes[a->node].stem), RN_NONE);
}

bool rn_arrows_caught(const rn_arrows *a)
{
	int fall = a->answer->caught.fall;
	if (fall == RN_NONE)
		return false;
	rn_object piece = a->model->falls[fall].piece;
	return piece.kind == RN_NODE && piece.index == a->node;
}

void rn_arrows_words(rn_buffer *buffer, const rn_arrows *a, int index)
{
	const rn_arrow *arrow = &a->list[index];
	switch (arrow->member.kind) {
	case RN_CASE: rn_buffer_text(buffer, rn_arrows_caught(a) ? "weight and inertia" : "weight"); return;
	case RN_FORCE: rn_buffer_text(buffer, "outer force"); return;
	case RN_STEM: rn_buffer_text(buffer, "what holds it"); return;
	case RN_NODE:
		rn_words_object(buffer, a->model, rn_object_of(RN_NODE, arrow->other));
		rn_buffer_text(buffer, " presses");
		return;
	default: break;
	}
	rn_words_part(buffer, a->model, arrow->member);
	rn_buffer_text(buffer, " to ");
	rn_words_object(buffer, a->model, rn_object_of(RN_NODE, arrow->other));
}
