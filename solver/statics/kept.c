/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solver/statics/kept.h"

#include <math.h>
#include <string.h>

#include "solver/base/notes.h"
#include "solver/statics/geometry.h"

/* Free nodes beyond which the dense matrices of a picture would not be worth their time. */
enum { FREE_NODES_MOST = 400 };

/* A tape and a drawing made from it are off by about this [m]; a reader of photos says more. */
static const double error_default = 1e-3;

/* Only what is free to move must balance; what a stem is pulled by it holds, whether it gives or not. */
static void number_rows(const rn_model *m, rn_keeper *k)
{
	for (int i = 0; i < m->node_count; i++) {
		k->row[i] = rn_node_is_fixed(&m->nodes[i]) ? RN_NONE : k->rows;
		if (k->row[i] == RN_NONE)
			continue;
		k->node[k->rows / 2] = i;
		k->rows += 2;
	}
}

rn_status rn_keeper_create(rn_arena *arena, const rn_network *net, rn_keeper *keeper_out)
{
	rn_keeper k = {.places = 2 * net->model->node_count};
	RN_TAKE(arena, k.row, net->model->node_count + 1);
	RN_TAKE(arena, k.node, net->model->node_count + 1);
	number_rows(net->model, &k);
	if (k.rows > 2 * FREE_NODES_MOST)
		return RN_STATUS_LIMIT;
	size_t rows = (size_t)k.rows, places = (size_t)k.places;
	RN_TAKE(arena, k.rope_column, net->rope_count + 1);
	RN_TAKE(arena, k.contact_column, net->contact_count + 1);
	RN_TAKE(arena, k.by_place, rows * places + 1);
	RN_TAKE(arena, k.error, places + 1);
	RN_TAKE(arena, k.load, rows + 1);
	RN_TAKE(arena, k.drawn, places + 1);
	RN_TAKE(arena, k.shift, places + 1);
	RN_TAKE(arena, k.left_over, rows + 1);
	RN_TAKE(arena, k.balanced, rows + 1);
	RN_TAKE(arena, k.scratch, net->rope_count + net->contact_count + 1);
	RN_TAKE(arena, k.side_changed, net->stop_count + 1);
	RN_TRY(rn_bounded_create(arena, k.rows, net->rope_count + net->contact_count, &k.fit));
	*keeper_out = k;
	return RN_OK;
}

/* ---- what is unknown ------------------------------------------------------------------------- */

static void load_errors(const rn_network *net, rn_keeper *k)
{
	const rn_model *m = net->model;
	double whole = rn_model_value(m, net->values, rn_object_of(RN_RIGGING, 0),
	                              RN_ATTRIBUTE_PLACE_ERROR, error_default);
	k->exact = true;
	for (int i = 0; i < m->node_count; i++) {
		double own = rn_model_value(m, net->values, rn_object_of(RN_NODE, i),
		                            RN_ATTRIBUTE_PLACE_ERROR, whole);
		k->error[2 * i] = k->error[2 * i + 1] = own;
		k->exact = k->exact && own == 0;
	}
}

/* A rope between fixed nodes bears on nothing that must balance. */
static bool is_idle(const rn_network *net, const rn_keeper *k, const rn_rope *rope)
{
	for (int i = 0; i < rope->stop_count; i++)
		if (k->row[net->stops[rope->first_stop + i].node] != RN_NONE)
			return false;
	return true;
}

/* Part of the drawing within which bodies count as touching, besides the errors of their places [-]. */
static const double touching_hair = 1e-9;

static bool may_touch(const rn_network *net, const rn_keeper *k, const rn_contact *contact)
{
	rn_gap gap = rn_contact_gap(net, contact);
	double apart = k->error[2 * net->stops[contact->first].node] +
	               k->error[2 * net->stops[contact->second].node] + touching_hair * net->size;
	return gap.exists && gap.gap <= apart;
}

static void number_columns(rn_network *net, rn_keeper *k)
{
	k->columns = 0;
	for (int r = 0; r < net->rope_count; r++) {
		const rn_rope *rope = &net->ropes[r];
		k->rope_column[r] = rope->pulled || is_idle(net, k, rope) ? RN_NONE : k->columns;
		if (k->rope_column[r] == RN_NONE)
			continue;
		k->fit.is_free[k->columns] = rope->pushes;
		k->columns++;
	}
	for (int i = 0; i < net->contact_count; i++) {
		k->contact_column[i] = may_touch(net, k, &net->contacts[i]) ? k->columns : RN_NONE;
		if (k->contact_column[i] == RN_NONE)
			continue;
		k->fit.is_free[k->columns] = false;
		k->columns++;
	}
	k->fit.columns = k->columns;
}

/* ---- A, J, b ------------------------------------------------------------------------------- */

static void add_rope(const rn_settler *s, rn_keeper *k, const rn_rope *rope, int column)
{
	const rn_network *net = &s->net;
	const rn_terms *t = &s->terms;
	int n = 2 * rope->stop_count;
	double force = rope->tension / net->load_scale;
	for (int i = 0; i < n; i++) {
		int row = k->row[net->stops[rope->first_stop + i / 2].node];
		if (row == RN_NONE)
			continue;
		row += i % 2;
		if (column == RN_NONE)
			k->load[row] -= force * t->by_tension[i];
		else
			k->fit.matrix[(size_t)row * (size_t)k->columns + (size_t)column] += t->by_tension[i];
		for (int j = 0; j < n; j++) {
			int place = 2 * net->stops[rope->first_stop + j / 2].node + j % 2;
			k->by_place[(size_t)row * (size_t)k->places + (size_t)place] +=
				t->matrix[i * n + j] / net->load_scale;
		}
	}
}

/* A push acts on the second body along the line of centres, on the first against it; on this side
 * of the equation forces stand with the sign of what has to hold them. */
static void add_contact(const rn_network *net, rn_keeper *k, const rn_contact *contact, int column)
{
	rn_gap gap = rn_contact_gap(net, contact);
	if (!gap.exists)
		return;
	double push = k->fit.force[column] / gap.distance;
	double x = gap.direction.x, y = gap.direction.y;
	double turning[2][2] = {{push * (1 - x * x), -push * x * y}, {-push * x * y, push * (1 - y * y)}};
	double along[2] = {x, y};
	int nodes[2] = {net->stops[contact->first].node, net->stops[contact->second].node};
	for (int a = 0; a < 2; a++)
		for (int i = 0; i < 2 && k->row[nodes[a]] != RN_NONE; i++) {
			size_t row = (size_t)(k->row[nodes[a]] + i);
			k->fit.matrix[row * (size_t)k->columns + (size_t)column] += a ? -along[i] : along[i];
			for (int c = 0; c < 2; c++)
				for (int j = 0; j < 2; j++)
					k->by_place[row * (size_t)k->places + (size_t)(2 * nodes[c] + j)] +=
						a == c ? -turning[i][j] : turning[i][j];
		}
}

void rn_keep_assemble(rn_settler *s, rn_keeper *k)
{
	rn_network *net = &s->net;
	memset(k->fit.matrix, 0, (size_t)k->rows * (size_t)k->columns * sizeof(double));
	memset(k->by_place, 0, (size_t)k->rows * (size_t)k->places * sizeof(double));
	for (int i = 0; i < net->model->node_count; i++)
		for (int c = 0; c < 2 && k->row[i] != RN_NONE; c++)
			k->load[k->row[i] + c] = net->load[2 * i + c] / net->load_scale;
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		int column = k->rope_column[r];
		if (column == RN_NONE && !rope->pulled)
			continue;
		rope->tension = column == RN_NONE ? rope->pull : k->fit.force[column] * net->load_scale;
		rn_terms_compute(net, rope, &s->terms);
		add_rope(s, k, rope, column);
	}
	for (int i = 0; i < net->contact_count; i++)
		if (k->contact_column[i] != RN_NONE)
			add_contact(net, k, &net->contacts[i], k->contact_column[i]);
}

/* b - A t; returns the largest at one node, which is put in *node_out. */
static double measure_left_over(rn_keeper *k, int *node_out)
{
	double most = 0;
	*node_out = k->rows ? k->node[0] : 0;
	for (int i = 0; i < k->rows; i++) {
		k->left_over[i] = k->load[i];
		for (int c = 0; c < k->columns; c++)
			k->left_over[i] -=
				k->fit.matrix[(size_t)i * (size_t)k->columns + (size_t)c] * k->fit.force[c];
	}
	for (int i = 0; i + 1 < k->rows; i += 2) {
		double left = hypot(k->left_over[i], k->left_over[i + 1]);
		if (left > most) {
			most = left;
			*node_out = k->node[i / 2];
		}
	}
	return most;
}

/* ---- the drawn shape ------------------------------------------------------------------------- */

/* At the places as drawn. False if a rope cannot be laid there. */
static bool lay(rn_settler *s, rn_keeper *k)
{
	memcpy(s->net.place, k->drawn, (size_t)k->places * sizeof(double));
	memset(k->shift, 0, (size_t)k->places * sizeof(double));
	for (int r = 0; r < s->net.rope_count; r++)
		rn_rope_lay(&s->net, &s->net.ropes[r]);
	return rn_settler_measure(s);
}

static rn_status say_sides(rn_settler *s, const rn_keeper *k)
{
	for (int i = 0; i < s->net.stop_count; i++) {
		const rn_stop *p = &s->net.stops[i];
		if (!p->lifted && !k->side_changed[i])
			continue;
		RN_TRY(rn_notes_add(s->notes_arena, s->notes,
		                    (rn_note){.kind = p->lifted ? RN_NOTE_LIFTED_OFF : RN_NOTE_SIDE_CHANGED,
		                              .a = rn_object_of(RN_LINE, s->net.model->stations[p->station].line),
		                              .b = rn_stop_object(&s->net, i),
		                              .c = rn_object_of(RN_NODE, RN_NONE)}));
	}
	return RN_OK;
}

/* ---- the nearest picture ---------------------------------------------------------------------- */

/* Steps allowed; about twelve are enough for errors of a few hundredths of a span [-]. */
enum { STEPS_MOST = 60 };

/* The picture has come to rest when no place moves by more than this part of its error [-]; or, where
 * rounding keeps it from that, when moves have become small and fall no further. */
static const double rest = 1e-11, rest_rounded = 1e-3;
enum { IDLE_MOST = 4 };

/* S where J lacks rank, over the mean of its diagonal [-]; so small that it only decides where
 * nothing can be moved to balance. */
static const double floor_metric = 1e-12;

/* What is left open is kept small by this weight [-], so that the nearest picture is one picture. */
static const double tie_weight = 1e-10;

static void form_metric(rn_keeper *k)
{
	size_t rows = (size_t)k->rows, places = (size_t)k->places;
	for (size_t i = 0; i < rows; i++)
		for (size_t j = 0; j <= i; j++) {
			double sum = 0;
			for (size_t p = 0; p < places; p++)
				sum += k->by_place[i * places + p] * k->error[p] * k->error[p] *
				       k->by_place[j * places + p];
			k->fit.metric[i * rows + j] = k->fit.metric[j * rows + i] = sum;
		}
}

static void clear_metric(rn_keeper *k)
{
	memset(k->fit.metric, 0, (size_t)k->rows * (size_t)k->rows * sizeof(double));
}

/* dp = diag(s^2) J^T q; returns its largest change as a part of the error. */
static double set_shift(rn_keeper *k)
{
	double most = 0;
	for (int p = 0; p < k->places; p++) {
		double sum = 0;
		for (int i = 0; i < k->rows; i++)
			sum += k->by_place[(size_t)i * (size_t)k->places + (size_t)p] * k->fit.multiplier[i];
		double shift = k->error[p] * k->error[p] * sum;
		if (k->error[p] > 0)
			most = fmax(most, fabs(shift - k->shift[p]) / k->error[p]);
		k->shift[p] = shift;
	}
	return most;
}

static bool place(rn_settler *s, rn_keeper *k)
{
	for (int p = 0; p < k->places; p++)
		s->net.place[p] = k->drawn[p] + k->shift[p];
	return rn_settler_measure(s);
}

/* One step; the largest change of a place over its error, < 0 if no rope can be laid that way. */
static double step(rn_settler *s, rn_keeper *k)
{
	rn_keep_assemble(s, k);
	form_metric(k);
	for (int i = 0; i < k->rows; i++) {
		k->fit.right[i] = k->load[i];
		for (int p = 0; p < k->places; p++)
			k->fit.right[i] +=
				k->by_place[(size_t)i * (size_t)k->places + (size_t)p] * k->shift[p];
	}
	rn_bounded_solve(&k->fit, floor_metric);
	double change = set_shift(k);
	s->step_count++;
	return place(s, k) ? change : -1;
}

/* True if it came to rest. */
static bool approach(rn_settler *s, rn_keeper *k, bool *stopped_out)
{
	double least = HUGE_VAL;
	int idle = 0;
	for (int i = 0; i < STEPS_MOST; i++) {
		*stopped_out = s->stop && *s->stop;
		double change = *stopped_out ? -1 : step(s, k);
		if (change < 0 || !isfinite(change))
			return false;
		if (change <= rest)
			return true;
		idle = change < 0.9 * least ? 0 : idle + 1;
		least = fmin(least, change);
		if (idle == IDLE_MOST)
			break;
	}
	return least <= rest_rounded;
}

/* ---- least left over, as drawn ---------------------------------------------------------------- */

static void weigh(rn_keeper *k, double weight)
{
	for (int c = 0; c < k->columns; c++)
		k->fit.weight[c] = weight;
}

/* The forces that balance the picture best as drawn, and what they leave over at the worst node. */
static double fit_as_drawn(rn_settler *s, rn_keeper *k, int *node_out)
{
	memset(k->fit.force, 0, (size_t)k->columns * sizeof(double));
	rn_keep_assemble(s, k);
	clear_metric(k);
	memcpy(k->fit.right, k->load, (size_t)k->rows * sizeof(double));
	weigh(k, tie_weight);
	rn_bounded_solve(&k->fit, 1);
	/* the weight leaves a little more over where legs lie flat; without it for a moment */
	weigh(k, 0);
	rn_bounded_solve_same(&k->fit, 1);
	double left = measure_left_over(k, node_out);
	weigh(k, tie_weight);
	rn_bounded_solve_same(&k->fit, 1);
	return left;
}

/* ---- words --------------------------------------------------------------------------------- */

static const char *direction_word(double x, double y)
{
	static const char *const words[] = {"right", "up and right", "up",   "up and left",
	                                    "left",  "down and left", "down", "down and right"};
	int eighth = (int)lround(atan2(y, x) * 4 / RN_PI);
	return words[(eighth + 8) % 8];
}

static rn_object node_object(int node)
{
	return rn_object_of(RN_NODE, node);
}

static double move_of(const rn_keeper *k, int node)
{
	return hypot(k->shift[2 * node], k->shift[2 * node + 1]);
}

/* Left over as drawn below this part of the largest load is rounding of the file [-]. */
static const double left_over_least = 1e-6;

/* Nodes that move by less than this part of the farthest are not told [-], and no more than this. */
static const double move_told = 0.3;
enum { MOVES_TOLD = 3 };

static rn_status say_moves(rn_settler *s, const rn_keeper *k, const rn_picture *picture)
{
	double below = HUGE_VAL;
	for (int told = 0; told < MOVES_TOLD; told++) {
		int next = RN_NONE;
		for (int i = 0; i < s->net.model->node_count; i++)
			if (move_of(k, i) < below && (next == RN_NONE || move_of(k, i) > move_of(k, next)))
				next = i;
		if (next == RN_NONE || move_of(k, next) < move_told * picture->largest_move)
			break;
		below = move_of(k, next);
		rn_note note = {.kind = told ? RN_NOTE_PICTURE_MOVE_TOO : RN_NOTE_PICTURE_MOVE,
		                .a = node_object(next),
		                .b = node_object(RN_NONE),
		                .c = node_object(RN_NONE),
		                .word = direction_word(k->shift[2 * next], k->shift[2 * next + 1]),
		                .value = {below}};
		RN_TRY(rn_notes_add(s->notes_arena, s->notes, note));
	}
	return RN_OK;
}

static rn_status say_balanced(rn_settler *s, const rn_keeper *k, const rn_picture *picture)
{
	if (picture->left_over <= left_over_least * s->net.load_scale)
		return RN_OK;
	rn_note note = {.kind = RN_NOTE_PICTURE_LEFT_OVER,
	                .a = node_object(picture->left_over_node),
	                .b = node_object(RN_NONE),
	                .c = node_object(RN_NONE),
	                .value = {picture->left_over}};
	RN_TRY(rn_notes_add(s->notes_arena, s->notes, note));
	return say_moves(s, k, picture);
}

static rn_status say_off(rn_settler *s, const rn_keeper *k, const rn_picture *picture)
{
	int moved = picture->moved_node;
	rn_note note = {.kind = RN_NOTE_PICTURE_OFF,
	                .a = node_object(picture->left_over_node),
	                .b = node_object(RN_NONE),
	                .c = node_object(RN_NONE),
	                .value = {picture->left_over}};
	if (moved != RN_NONE) {
		note.kind = RN_NOTE_PICTURE_FAR;
		note.b = node_object(moved);
		note.word = direction_word(k->shift[2 * moved], k->shift[2 * moved + 1]);
		note.value[1] = picture->largest_move;
	}
	return rn_notes_add(s->notes_arena, s->notes, note);
}

/* ---- the whole ----------------------------------------------------------------------------- */

/* A picture whose places may be off by s is one of this rig if none moves farther than this many s. */
static const double move_most = 2;

/* After the nearest picture was found no more than this part of the largest load is left over [-]. */
static const double left_over_moved = 1e-9;

/* The largest move, in metres and over the error of its node. */
static double measure_moves(const rn_network *net, const rn_keeper *k, rn_picture *picture)
{
	double most = 0;
	for (int i = 0; i < net->model->node_count; i++) {
		double part = k->error[2 * i] > 0 ? move_of(k, i) / k->error[2 * i] : 0;
		if (part <= most)
			continue;
		most = part;
		picture->largest_move = move_of(k, i);
		picture->moved_node = i;
	}
	return most;
}

static void set_tensions(rn_network *net, const rn_keeper *k)
{
	for (int r = 0; r < net->rope_count; r++) {
		rn_rope *rope = &net->ropes[r];
		int column = k->rope_column[r];
		rope->tension = rope->pulled         ? rope->pull
		                : column == RN_NONE ? 0
		                                    : k->fit.force[column] * net->load_scale;
		rope->taut = rope->tension != 0;
	}
	for (int i = 0; i < net->contact_count; i++) {
		rn_contact *contact = &net->contacts[i];
		int column = k->contact_column[i];
		contact->push = column == RN_NONE ? 0 : k->fit.force[column] * net->load_scale;
		contact->touching = contact->push > 0;
	}
}

/* Where the nearest picture is none of this rig, one that balances as drawn is kept as it is: its places
 * are true to the last figure, but light rings would have to go far to balance that. */
static bool keep_as_drawn(rn_settler *s, rn_keeper *k, rn_picture *picture)
{
	if (picture->left_over > left_over_least * s->net.load_scale)
		return false;
	memset(k->shift, 0, (size_t)k->places * sizeof(double));
	picture->largest_move = 0;
	picture->moved_node = RN_NONE;
	picture->exact = true;
	if (!place(s, k))
		return false;
	(void)fit_as_drawn(s, k, &picture->left_over_node);
	return true;
}

/* Whether places could be moved to balance by no more than they may be off. */
static bool move_to_balance(rn_settler *s, rn_keeper *k, rn_picture *picture, bool *stopped_out)
{
	int node;
	if (!approach(s, k, stopped_out))
		return false;
	bool near = measure_moves(&s->net, k, picture) <= move_most;
	rn_keep_assemble(s, k);
	return measure_left_over(k, &node) <= left_over_moved && near;
}

/* Friction follows from the kept shape and the run: all of it counts at once. */
static void begin(rn_settler *s, rn_keeper *k)
{
	rn_network *net = &s->net;
	net->friction_share = 1;
	memcpy(k->drawn, net->place, (size_t)k->places * sizeof(double));
	memset(k->side_changed, 0, (size_t)net->stop_count * sizeof(bool));
	load_errors(net, k);
}

/* The nearest picture that balances, with every rope on the sides it has now. */
static bool find_nearest(rn_settler *s, rn_keeper *k, rn_picture *picture, bool *stopped_out)
{
	bool laid = lay(s, k);
	number_columns(&s->net, k);
	*picture = (rn_picture){.exact = k->exact,
	                        .left_over = s->net.load_scale,
	                        .left_over_node = k->rows ? k->node[0] : 0,
	                        .moved_node = RN_NONE};
	if (!laid)
		return false;
	picture->left_over = fit_as_drawn(s, k, &picture->left_over_node) * s->net.load_scale;
	bool kept = !k->exact && move_to_balance(s, k, picture, stopped_out);
	return kept || (!*stopped_out && keep_as_drawn(s, k, picture));
}

/* A ring cannot leave its rope: where the rope would have to push it, it runs round the other side; where it would
 * have to on both, it does not touch. One ring changes at a time, the worst. */
static bool change_side(rn_settler *s, rn_keeper *k)
{
	set_tensions(&s->net, k);
	int worst = rn_settler_most_pushed(s, rn_bend_negative);
	if (worst == RN_NONE)
		return false;
	s->net.stops[worst].untouched = k->side_changed[worst];
	s->net.stops[worst].side = -s->net.stops[worst].side;
	k->side_changed[worst] = true;
	return true;
}

static rn_status keep_loaded(rn_settler *s, rn_keeper *k, rn_outcome *outcome_out, rn_picture *picture)
{
	bool stopped = false, kept;
	begin(s, k);
	do
		kept = find_nearest(s, k, picture, &stopped);
	while (kept && change_side(s, k));
	if (stopped)
		return RN_STATUS_STOPPED;
	if (!kept)
		return say_off(s, k, picture);
	*outcome_out = RN_OUTCOME_KEPT;
	rn_keep_assemble(s, k);
	RN_TRY(rn_keep_share(s, k, &picture->open_count));
	RN_TRY(say_sides(s, k));
	return say_balanced(s, k, picture);
}

rn_status rn_keep(rn_settler *s, rn_keeper *k, rn_outcome *outcome_out, rn_picture *picture)
{
	bool holds;
	*picture = (rn_picture){.left_over_node = RN_NONE, .moved_node = RN_NONE};
	*outcome_out = RN_OUTCOME_NO_EQUILIBRIUM;
	s->step_count = s->stage_count = 0;
	RN_TRY(rn_existence_check(s, &holds));
	if (!holds)
		return RN_OK;
	k->columns = 0;
	if (s->net.load_scale == 0) { /* nothing pulls, and nothing holds */
		*outcome_out = RN_OUTCOME_KEPT;
		(void)rn_settler_measure(s);
		return RN_OK;
	}
	RN_TRY(keep_loaded(s, k, outcome_out, picture));
	if (*outcome_out == RN_OUTCOME_KEPT)
		set_tensions(&s->net, k);
	return RN_OK;
}
