/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The model read back in sentences, one for each part, so that it can be held against the job.
 */
#include "io/report/check.h"

#include <math.h>
#include <string.h>

#include "io/report/cautions.h"
#include "io/report/paragraph.h"
#include "io/report/runs.h"
#include "io/report/verdict.h"

typedef struct reading {
	rn_buffer *out;
	rn_buffer line; /* the paragraph being put together */
	const rn_document *document;
	const rn_model *model;
	rn_units units;
	double *values;
	const rn_case_result *rated; /* its parts, before anything pulls */
} reading;

static void end_paragraph(reading *r)
{
	rn_paragraph_end(r->out, &r->line);
}

static void say(reading *r, const char *words)
{
	rn_buffer_text(&r->line, words);
}

static void say_object(reading *r, rn_object object)
{
	rn_words_object(&r->line, r->model, object);
}

static void say_node(reading *r, int node)
{
	say_object(r, rn_object_of(RN_NODE, node));
}

static void say_length(reading *r, double length)
{
	rn_words_length(&r->line, length, RN_NEAREST, r->units);
}

/* Begins a list with `first`, goes on with ", ". */
static void say_next(reading *r, const char **before, const char *after_first)
{
	say(r, *before);
	*before = after_first;
}

static double number_of(const reading *r, rn_object object, rn_attribute attribute, double absent)
{
	return object.index == RN_NONE
	               ? absent
	               : rn_model_value(r->model, r->values, object, attribute, absent);
}

static bool has_number(const reading *r, rn_object object, rn_attribute attribute)
{
	return object.index != RN_NONE &&
	       rn_model_find_number(r->model, object, attribute) != RN_NONE;
}

static double gravity(const reading *r)
{
	return number_of(r, rn_object_of(RN_RIGGING, 0), RN_ATTRIBUTE_GRAVITY, 0);
}

/* ---- the head -------------------------------------------------------------------------------- */

static void say_head(reading *r)
{
	say(r, "Understood, nothing solved yet: ");
	rn_words_plain(&r->line, r->model->title ? r->model->title : "a model without a title");
	say(r, r->model->drawn_under_load ? ", a picture of it under load. " : ", drawn before the load. ");
	say(r, r->document->file_count > 1 ? "Files: " : "File: ");
	const char *before = "";
	for (int i = 0; i < r->document->file_count; i++) {
		say_next(r, &before, ", ");
		rn_words_plain(&r->line, r->document->files[i]);
	}
	say(r, ". ");
}

static void say_count(reading *r, const char **before, int count, const char *one,
                      const char *many)
{
	if (count == 0)
		return;
	say_next(r, before, ", ");
	rn_buffer_format(&r->line, "%d %s", count, count == 1 ? one : many);
}

/* Nodes of a kind that were drawn; the hitches of slings are counted apart. */
static int drawn_nodes(const rn_model *m, rn_node_kind kind)
{
	int count = 0;
	for (int i = 0; i < m->node_count; i++)
		count += m->nodes[i].kind == kind && m->nodes[i].sling == RN_NONE;
	return count;
}

static int hitches(const rn_model *m)
{
	int count = 0;
	for (int i = 0; i < m->node_count; i++)
		count += m->nodes[i].sling != RN_NONE;
	return count;
}

static int branches(const rn_model *m)
{
	int count = 0;
	for (int i = 0; i < m->stem_count; i++)
		count += m->stems[i].on != RN_NONE;
	return count;
}

static void say_counts(reading *r)
{
	static const struct {
		const char *one, *many;
	} words[] = {
		[RN_NODE_ANCHOR] = {"anchor", "anchors"},    [RN_NODE_FORK] = {"fork", "forks"},
		[RN_NODE_HAND] = {"hand", "hands"},          [RN_NODE_RING] = {"ring", "rings"},
		[RN_NODE_BOLLARD] = {"bollard", "bollards"}, [RN_NODE_BLOCK] = {"block", "blocks"},
		[RN_NODE_JOINT] = {"joint", "joints"},       [RN_NODE_PIECE] = {"piece", "pieces"},
	};
	const rn_model *m = r->model;
	const char *before = "Made of ";
	say_count(r, &before, m->line_count, "rope", "ropes");
	say_count(r, &before, m->sling_count, "sling", "slings");
	say_count(r, &before, m->prop_count, "bar", "bars");
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		say_count(r, &before, drawn_nodes(m, (rn_node_kind)i), words[i].one, words[i].many);
	say_count(r, &before, hitches(m), "hitch round a stem", "hitches round stems");
	say_count(r, &before, m->stem_count - branches(m), "stem", "stems");
	say_count(r, &before, branches(m), "branch", "branches");
	say(r, ".");
	end_paragraph(r);
}

/* ---- parts ----------------------------------------------------------------------------------- */

/* A connector is a part at each place it is used. */
static const rn_part_result *rating_of(const reading *r, rn_object object, int at)
{
	for (int i = 0; i < r->rated->part_count; i++) {
		const rn_part_result *part = &r->rated->parts[i];
		if (part->object.kind == object.kind && part->object.index == object.index &&
		    (object.kind != RN_ITEM || part->at == at))
			return part;
	}
	return NULL;
}

/* "Limit 4.20 kN at log: strength 70.0 kN x knot 0.60 (running bowline) / 10" */
static void say_limit(reading *r, const rn_part_result *part)
{
	bool member = part->object.kind == RN_LINE || part->object.kind == RN_SLING;
	if (part->governed == RN_BY_WORKING_LOAD && part->factor_count == 0) {
		say(r, ". Working load ");
		rn_words_force(&r->line, part->limit, RN_DOWN, r->units);
		return;
	}
	say(r, ". Limit ");
	rn_words_force(&r->line, part->limit, RN_DOWN, r->units);
	if (member) {
		say(r, " at ");
		say_node(r, part->at);
	}
	say(r, ": ");
	rn_words_limit(&r->line, part, r->units);
}

static void say_rating(reading *r, rn_object object, int at)
{
	const rn_part_result *part = rating_of(r, object, at);
	if (part && part->unchecked != RN_CHECKED)
		rn_buffer_format(&r->line, ". Not checked: %s", rn_verdict_why(r->model, part));
	else if (part && object.kind == RN_PROP)
		say(r, ". Crushing and buckling are checked");
	else if (part && object.kind == RN_STEM)
		say(r, ". Pressing, bending and buckling are checked");
	else if (part)
		say_limit(r, part);
	say(r, ".");
	end_paragraph(r);
}

static void say_name(reading *r, rn_object object, int gear)
{
	say_object(r, object);
	say(r, ": ");
	const char *kind = rn_words_kind(r->model, object);
	rn_object item = rn_object_of(RN_ITEM, gear);
	bool said = gear != RN_NONE &&
	            strncmp(rn_object_id(r->model, item), kind, strlen(kind)) == 0;
	say(r, said ? "" : kind); /* "block16" is a block */
	say(r, said || gear == RN_NONE ? "" : " ");
	if (gear != RN_NONE)
		say_object(r, item);
}

static void say_held(reading *r, const rn_station *s)
{
	double turns = number_of(r, rn_object_of(RN_NODE, s->node), RN_ATTRIBUTE_TURNS, 0);
	if (r->model->nodes[s->node].kind != RN_NODE_BOLLARD) {
		say(r, " (held");
	} else {
		say(r, " (held, ");
		rn_words_number(&r->line, turns);
		say(r, turns > 1 || turns <= 0 ? " turns" : " turn");
	}
	rn_object station = rn_object_of(RN_STATION, (int)(s - r->model->stations));
	if (has_number(r, station, RN_ATTRIBUTE_PULL)) {
		say(r, " with ");
		rn_words_force(&r->line, number_of(r, station, RN_ATTRIBUTE_PULL, 0), RN_NEAREST,
		               r->units);
	}
	say(r, ")");
}

static void say_tied(reading *r, const rn_station *s, const char *how)
{
	rn_buffer_format(&r->line, " (%s", how);
	if (s->knot) {
		say(r, ", ");
		rn_words_plain(&r->line, s->knot);
	}
	say(r, ")");
}

static void say_station(reading *r, const rn_line *line, int index)
{
	const rn_station *s = &r->model->stations[line->first_station + index];
	say(r, index == 0                         ? ", from "
	       : index == line->station_count - 1 ? " to "
	       : s->kind != RN_THROUGH            ? " on to "
	       : s[-1].kind == RN_THROUGH         ? ", "
	                                          : " over ");
	say_node(r, s->node);
	if (s->kind == RN_HOLD)
		say_held(r, s);
	else if (s->kind != RN_THROUGH)
		say_tied(r, s, s->kind == RN_GRIP ? "gripped" : "tied");
}

/* How long it is, when that is not as drawn. */
static void say_given_length(reading *r, rn_object object)
{
	static const struct {
		rn_attribute attribute;
		const char *before, *behind;
	} rows[] = {{RN_ATTRIBUTE_LENGTH, ", ", " long"}, {RN_ATTRIBUTE_SLACK, ", ", " slack"}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (has_number(r, object, rows[i].attribute)) {
			say(r, rows[i].before);
			say_length(r, number_of(r, object, rows[i].attribute, 0));
			say(r, rows[i].behind);
		}
	if (has_number(r, object, RN_ATTRIBUTE_PRETENSION)) {
		say(r, ", pulled taut with ");
		rn_words_force(&r->line, number_of(r, object, RN_ATTRIBUTE_PRETENSION, 0),
		               RN_NEAREST, r->units);
	}
}

static void say_lines(reading *r)
{
	for (int i = 0; i < r->model->line_count; i++) {
		const rn_line *line = &r->model->lines[i];
		rn_object object = rn_object_of(RN_LINE, i);
		say_name(r, object, line->gear);
		for (int k = 0; k < line->station_count; k++)
			say_station(r, line, k);
		say_given_length(r, object);
		say_rating(r, object, RN_NONE);
	}
}

static void say_place(reading *r, int node)
{
	double place[2];
	rn_node_drawn(r->model, r->values, node, place);
	say_length(r, fabs(place[0]));
	say(r, place[0] < 0 ? " left, " : " right, ");
	say_length(r, fabs(place[1]));
	say(r, place[1] < 0 ? " down" : " up");
}

static void say_height(reading *r, int node)
{
	static const char *const sides[] = {[RN_BARK_AXIS] = ", on its axis",
	                                    [RN_BARK_LEFT] = ", left side",
	                                    [RN_BARK_RIGHT] = ", right side",
	                                    [RN_BARK_UNSAID] = ", on its axis"};
	const rn_node *n = &r->model->nodes[node];
	say_object(r, rn_object_of(RN_STEM, n->stem));
	say(r, " at ");
	say_length(r, number_of(r, rn_object_of(RN_NODE, node), RN_ATTRIBUTE_HEIGHT, 0));
	say(r, sides[n->bark]);
}

static void say_end(reading *r, int node)
{
	const rn_node *n = &r->model->nodes[node];
	if (n->sling != RN_NONE && n->stem != RN_NONE)
		say_height(r, node);
	else
		say_node(r, node);
}

static double reach_of(const reading *r, int leg)
{
	double a[2], b[2];
	rn_node_drawn(r->model, r->values, r->model->legs[leg].from, a);
	rn_node_drawn(r->model, r->values, r->model->legs[leg].to, b);
	return number_of(r, rn_object_of(RN_LEG, leg), RN_ATTRIBUTE_REACH,
	                 hypot(a[0] - b[0], a[1] - b[1]));
}

/* Where a sling of known length goes, and what it has left to reach with. */
static void say_length_left(reading *r, int sling)
{
	for (int i = 0; i < r->rated->hitch_count; i++) {
		const rn_hitch_result *h = &r->rated->hitches[i];
		if (h->sling != sling || h->made <= 0)
			continue;
		say(r, "; ");
		say_length(r, h->made);
		say(r, " long, ");
		say_length(r, h->taken);
		say(r, " goes round, ");
		if (h->left > 0) {
			say_length(r, h->left);
			say(r, r->model->slings[sling].leg_count > 1 ? " is left for each leg" : " is left to reach");
		} else {
			say(r, "nothing is left");
		}
	}
}

static void say_slings(reading *r)
{
	for (int i = 0; i < r->model->sling_count; i++) {
		const rn_sling *sling = &r->model->slings[i];
		say_name(r, rn_object_of(RN_SLING, i), sling->gear);
		say(r, ", ");
		rn_words_plain(&r->line, sling->hitch ? sling->hitch : "hitch not said");
		for (int k = sling->first_leg; k < sling->first_leg + sling->leg_count; k++) {
			say(r, k == sling->first_leg ? ", " : "; ");
			say_end(r, r->model->legs[k].from);
			say(r, " to ");
			say_node(r, r->model->legs[k].to);
			say(r, ", ");
			say_length(r, reach_of(r, k));
			say_given_length(r, rn_object_of(RN_LEG, k));
		}
		say_length_left(r, i);
		say_rating(r, rn_object_of(RN_SLING, i), RN_NONE);
	}
}

static void say_stems(reading *r)
{
	for (int i = 0; i < r->model->stem_count; i++) {
		const rn_stem *stem = &r->model->stems[i];
		rn_object object = rn_object_of(RN_STEM, i);
		if (!rating_of(r, object, RN_NONE))
			continue;
		say_name(r, object, RN_NONE);
		if (stem->species) {
			say(r, ", ");
			rn_words_plain(&r->line, stem->species);
		}
		double lean = number_of(r, object, RN_ATTRIBUTE_LEAN, 0), place[2], diameter;
		if (lean < 0 || lean > 0) {
			say(r, ", leaning ");
			rn_words_angle(&r->line, fabs(lean));
			say(r, lean < 0 ? " left" : " right");
		}
		for (int k = 0; k < stem->section_count; k++) {
			rn_object section = rn_object_of(RN_SECTION, stem->first_section + k);
			double height = number_of(r, section, RN_ATTRIBUTE_HEIGHT, 0);
			rn_stem_at(r->model, r->values, i, height, place, &diameter);
			say(r, ", ");
			say_length(r, diameter);
			say(r, " thick at ");
			say_length(r, height);
		}
		say_rating(r, object, RN_NONE);
	}
}

static void say_weight(reading *r, rn_object object)
{
	if (!has_number(r, object, RN_ATTRIBUTE_WEIGHT))
		return;
	say(r, ", ");
	rn_words_weight(&r->line, number_of(r, object, RN_ATTRIBUTE_WEIGHT, 0), gravity(r),
	                r->units);
}

/* "of white oak (mixed, bark on), 0.6 m thick at 0 m, 0.3 m at 3 m" */
static void say_cuts(reading *r, const rn_timber *timber)
{
	static const char *const moistures[] = {
#define X(name, word) word,
		RN_MOISTURE_LIST(X)
#undef X
	};
	bool dense = has_number(r, timber->piece, RN_ATTRIBUTE_DENSITY);
	say(r, ", of ");
	rn_words_plain(&r->line, timber->species ? timber->species : "wood");
	if (dense) {
		say(r, " of ");
		rn_words_density(&r->line, number_of(r, timber->piece, RN_ATTRIBUTE_DENSITY, 0), r->units);
	}
	say(r, " (");
	say(r, dense ? "" : moistures[timber->moisture]); /* a density that is given is that of its wood */
	say(r, dense ? "" : ", ");
	say(r, timber->barked ? "bark off)" : "bark on)");
	for (int i = 0; i < timber->cut_count; i++) {
		rn_object cut = rn_object_of(RN_CUT, timber->first_cut + i);
		say(r, ", ");
		say_length(r, number_of(r, cut, RN_ATTRIBUTE_DIAMETER, 0));
		say(r, i == 0 ? " thick at " : " at ");
		say_length(r, number_of(r, cut, RN_ATTRIBUTE_AT, 0));
	}
}

/* What its wood comes to, where a piece has cuts: behind its weight. */
static void say_wood(reading *r, rn_object piece)
{
	int timber = rn_timber_of(r->model, piece);
	if (timber == RN_NONE)
		return;
	rn_weighed wood = rn_timber_weighed(r->model, r->values, timber);
	int weight = rn_model_find_number(r->model, piece, RN_ATTRIBUTE_WEIGHT);
	if (weight != RN_NONE && r->model->numbers[weight].origin == RN_COMPUTED && wood.has_weight) {
		say(r, " at most, ");
		rn_words_mass(&r->line, wood.weight, gravity(r), r->units);
		say(r, " in the middle");
	}
	say_cuts(r, &r->model->timbers[timber]);
	if (!wood.has_centre)
		return;
	say(r, ", volume ");
	rn_words_volume(&r->line, wood.volume_most, RN_UP, r->units);
	say(r, " at most, ");
	rn_words_volume(&r->line, wood.volume, RN_NEAREST, r->units);
	say(r, " in the middle, centre of mass ");
	say_length(r, wood.centre);
	say(r, " from the butt");
}

static void say_props(reading *r)
{
	for (int i = 0; i < r->model->prop_count; i++) {
		rn_object object = rn_object_of(RN_PROP, i);
		say_name(r, object, RN_NONE);
		say_weight(r, object);
		say_wood(r, object);
		say(r, ", ");
		say_node(r, r->model->props[i].from);
		say(r, " to ");
		say_node(r, r->model->props[i].to);
		if (has_number(r, object, RN_ATTRIBUTE_DIAMETER)) {
			say(r, ", diameter ");
			say_length(r, number_of(r, object, RN_ATTRIBUTE_DIAMETER, 0));
		}
		if (r->model->props[i].species) {
			say(r, ", ");
			rn_words_plain(&r->line, r->model->props[i].species);
		}
		say_rating(r, object, RN_NONE);
	}
}

/* Tread and friction of what hangs there, as far as they were written; the rest is guessed. */
static void say_gear(reading *r, rn_object gear)
{
	static const struct {
		rn_attribute attribute;
		const char *word;
	} rows[] = {{RN_ATTRIBUTE_FRICTION, ", friction "}, {RN_ATTRIBUTE_EFFICIENCY, ", efficiency "}};
	if (has_number(r, gear, RN_ATTRIBUTE_TREAD)) {
		say(r, ", tread ");
		say_length(r, number_of(r, gear, RN_ATTRIBUTE_TREAD, 0));
	}
	for (size_t i = 0; gear.index != RN_NONE && i < sizeof rows / sizeof *rows; i++) {
		int number = rn_model_find_number(r->model, gear, rows[i].attribute);
		if (number == RN_NONE || r->model->numbers[number].origin != RN_GIVEN)
			continue;
		const rn_number *n = &r->model->numbers[number];
		say(r, rows[i].word);
		rn_words_number(&r->line, n->low);
		if (n->high > n->low) {
			say(r, " to ");
			rn_words_number(&r->line, n->high);
		}
	}
}

static void say_nodes(reading *r)
{
	for (int i = 0; i < r->model->node_count; i++) {
		const rn_node *n = &r->model->nodes[i];
		rn_object object = rn_object_of(RN_NODE, i);
		if (n->sling != RN_NONE && n->stem != RN_NONE)
			continue; /* told with its sling */
		say_name(r, object, n->gear);
		say_weight(r, object);
		say_wood(r, object);
		say_gear(r, rn_object_of(RN_ITEM, n->gear));
		say(r, n->stem == RN_NONE ? ", " : ", on ");
		if (n->stem == RN_NONE)
			say_place(r, i);
		else
			say_height(r, i);
		say_rating(r, object, i);
	}
}

static void say_connectors(reading *r)
{
	for (int i = 0; i < r->rated->part_count; i++) {
		const rn_part_result *part = &r->rated->parts[i];
		if (part->object.kind != RN_ITEM)
			continue;
		say_name(r, part->object, RN_NONE);
		say(r, " at ");
		say_node(r, part->at);
		say_rating(r, part->object, part->at);
	}
}

/* ---- cases ----------------------------------------------------------------------------------- */

static void say_toward(reading *r, const rn_reach *reach, int direction)
{
	int end = rn_runs_end(reach, direction);
	if (end == RN_NONE) {
		say(r, " does not run");
		return;
	}
	say(r, " runs toward ");
	say_node(r, r->model->stations[end].node);
	say(r, rn_runs_without_turns(r->model, end) ? " (turns off)" : "");
}

/* One way for the whole reach, or each through's own. */
static void say_reach(reading *r, const rn_case *c, int line, const rn_reach *reach,
                      const char **before)
{
	bool direct = reach->last == reach->first + 1;
	int first = rn_runs_direction(r->model, c, reach, reach->first + 1);
	bool same = true;
	for (int s = reach->first + 1; s < reach->last; s++)
		same = same && rn_runs_direction(r->model, c, reach, s) == first;
	for (int s = reach->first + 1; s < (same ? reach->first + 2 : reach->last + direct); s++) {
		say_next(r, before, ", ");
		say_object(r, rn_object_of(RN_LINE, line));
		if (!same) {
			say(r, " over ");
			say_node(r, r->model->stations[s].node);
		}
		say_toward(r, reach, rn_runs_direction(r->model, c, reach, s));
	}
}

static void say_value(reading *r, rn_attribute attribute, double value)
{
	static const struct {
		const char *metric, *us;
		double us_per_metric;
	} units[RN_QUANTITY_COUNT] = {
		[RN_QUANTITY_ACCELERATION] = {" m/s2", " ft/s2", 1 / 0.3048},
		[RN_QUANTITY_DENSITY] = {" kg/m3", " lb/ft3", 0.3048 * 0.3048 * 0.3048 / 0.45359237},
		[RN_QUANTITY_RATIO] = {"", "", 1}};
	rn_quantity quantity = rn_attribute_quantity(attribute);
	if (attribute == RN_ATTRIBUTE_WEIGHT) {
		rn_words_weight(&r->line, value, gravity(r), r->units);
	} else if (quantity == RN_QUANTITY_FORCE) {
		rn_words_force(&r->line, value, RN_NEAREST, r->units);
	} else if (quantity == RN_QUANTITY_LENGTH) {
		say_length(r, value);
	} else if (quantity == RN_QUANTITY_ANGLE) {
		rn_words_angle(&r->line, value);
	} else if (quantity == RN_QUANTITY_STRESS) {
		rn_words_stress(&r->line, value, RN_NEAREST, r->units);
	} else {
		bool us = r->units == RN_US;
		rn_words_number(&r->line, value * (us ? units[quantity].us_per_metric : 1));
		say(r, us ? units[quantity].us : units[quantity].metric);
	}
}

static void say_settings(reading *r, const rn_case *c, const char **before)
{
	for (int i = 0; i < c->setting_count; i++) {
		const rn_setting *setting = &r->model->settings[c->first_setting + i];
		const rn_number *n = &r->model->numbers[setting->number];
		say_next(r, before, ", ");
		say(r, rn_attribute_word(n->attribute));
		say(r, " of ");
		say_object(r, n->object);
		say(r, " ");
		say_value(r, n->attribute, setting->value);
	}
	for (int i = 0; i < c->force_count; i++) {
		rn_object force = rn_object_of(RN_FORCE, c->first_force + i);
		double toward = number_of(r, force, RN_ATTRIBUTE_TOWARD, 0);
		double way[2] = {cos(toward), sin(toward)};
		say_next(r, before, ", ");
		say_value(r, RN_ATTRIBUTE_SIZE, number_of(r, force, RN_ATTRIBUTE_SIZE, 0));
		say(r, " on ");
		say_node(r, r->model->forces[force.index].node);
		say(r, " ");
		rn_words_direction(&r->line, way, RN_POINT_FULL);
	}
}

static void say_fall(reading *r, const rn_case *c, const char **before)
{
	if (c->fall == RN_NONE)
		return;
	const rn_fall *fall = &r->model->falls[c->fall];
	rn_object numbers = rn_object_of(RN_FALL, c->fall);
	int hold = rn_fall_hold(r->model, c->fall);
	double hand = hold == RN_NONE ? 0 : number_of(r, rn_object_of(RN_STATION, hold), RN_ATTRIBUTE_PULL, 0);
	hand = number_of(r, numbers, RN_ATTRIBUTE_HAND, hand);
	double below = number_of(r, numbers, RN_ATTRIBUTE_BELOW, 0);
	say_next(r, before, ", ");
	say_object(r, fall->piece);
	say(r, " is let go ");
	say_value(r, RN_ATTRIBUTE_DROP, number_of(r, numbers, RN_ATTRIBUTE_DROP, 0));
	say(r, " higher than drawn and caught");
	if (below > 0) {
		say(r, ", reaches ");
		say_value(r, RN_ATTRIBUTE_BELOW, below);
		say(r, " below its knot");
	}
	if (fall->guided)
		say(r, ", kept on its plumb line");
	say(r, hand > 0 ? ", its line let run by a hand that pulls " : ", its line locked");
	if (hand > 0)
		say_value(r, RN_ATTRIBUTE_HAND, hand);
}

static void say_case(reading *r, int index)
{
	static const char *const levels[] = {
		[RN_FRICTION_NONE] = "no friction", [RN_FRICTION_LOW] = "low friction",
		[RN_FRICTION_NOMINAL] = "nominal friction", [RN_FRICTION_HIGH] = "high friction"};
	const rn_case *c = &r->model->cases[index];
	const char *before = ": ";
	say(r, "Case ");
	say_object(r, rn_object_of(RN_CASE, index));
	say(r, " (");
	say(r, c->made ? "made, " : "");
	say(r, levels[c->level]);
	say(r, ")");
	for (int line = 0; line < r->model->line_count; line++) {
		rn_reach reach = {RN_NONE, RN_NONE};
		while (c->level != RN_FRICTION_NONE && rn_runs_next(r->model, line, &reach))
			say_reach(r, c, line, &reach, &before);
	}
	say_settings(r, c, &before);
	say_fall(r, c, &before);
	say(r, ".");
}

static void say_cases(reading *r)
{
	for (int i = 0; i < r->model->case_count; i++) {
		say_case(r, i);
		end_paragraph(r);
	}
}

/* ---- what is missing ------------------------------------------------------------------------- */

static const char *why(const reading *r, int part)
{
	return rn_verdict_why(r->model, &r->rated->parts[part]);
}

static bool is_checked(const reading *r, int part)
{
	return r->rated->parts[part].unchecked == RN_CHECKED;
}

/* The first part for each reason, with those that share it behind. */
static void say_unchecked(reading *r)
{
	const char *before_reason = "Will not be checked: ";
	for (int i = 0; i < r->rated->part_count; i++) {
		bool told = is_checked(r, i);
		for (int k = 0; k < i; k++)
			told = told || (!is_checked(r, k) && why(r, k) == why(r, i));
		if (told)
			continue;
		say_next(r, &before_reason, "; ");
		const char *before = "";
		for (int k = i; k < r->rated->part_count; k++) {
			if (is_checked(r, k) || why(r, k) != why(r, i))
				continue;
			say_next(r, &before, ", ");
			rn_words_part(&r->line, r->model, r->rated->parts[k].object);
		}
		rn_buffer_format(&r->line, " (%s)", why(r, i));
	}
	say(r, before_reason[0] == ';' ? "." : "Every part has a limit.");
	end_paragraph(r);
}

static void say_notes(reading *r, const char *head, const rn_notes *notes)
{
	if (notes->count == 0)
		return;
	say(r, head);
	rn_words_notes(&r->line, r->model, notes, r->units);
	say(r, ".");
	end_paragraph(r);
}

static void say_cautions(reading *r)
{
	rn_cautions_sight(&r->line, r->model);
	end_paragraph(r);
	say(r, "Cautions: ");
	rn_cautions_words(&r->line, r->model);
	end_paragraph(r);
}

static void say_all(reading *r)
{
	say_head(r);
	say_counts(r);
	rn_words_doubts(&r->line, r->model, r->units);
	end_paragraph(r);
	rn_buffer_char(r->out, '\n');
	say_lines(r);
	say_slings(r);
	say_props(r);
	say_stems(r);
	say_nodes(r);
	say_connectors(r);
	rn_buffer_char(r->out, '\n');
	say_cases(r);
	say_unchecked(r);
	say_notes(r, "Guessed: ", &r->model->guesses);
	say_notes(r, "Notes: ", &r->model->remarks);
	say_cautions(r);
}

rn_status rn_check_text(rn_buffer *buffer, const rn_document *document, rn_units units)
{
	const rn_model *m = document->model;
	const rn_allocator *a = &buffer->allocator;
	reading r = {.out = buffer,
	             .line = rn_buffer_make(a),
	             .document = document,
	             .model = m,
	             .units = units};
	rn_options options = rn_options_default();
	options.allocator = *a;
	rn_result *rated;
	RN_TRY(rn_rate(m, &options, &rated));
	r.rated = &rated->cases[0];
	r.values = a->allocate(a->context, sizeof *r.values * ((size_t)m->number_count + 1));
	if (r.values) {
		for (int i = 0; i < m->number_count; i++)
			r.values[i] = m->numbers[i].value;
		say_all(&r);
		a->release(a->context, r.values);
	} else {
		buffer->failed = true;
	}
	rn_result_destroy(rated);
	return rn_buffer_status(buffer);
}

rn_status rn_check_cases_folio(rn_folio *folio, const rn_model *m, rn_units units)
{
	reading r = {.line = folio->line, .model = m, .units = units};
	r.values = rn_pool_take(&folio->pool, (size_t)m->number_count + 1, sizeof *r.values);
	if (!r.values)
		return RN_STATUS_MEMORY;
	for (int i = 0; i < m->number_count; i++)
		r.values[i] = m->numbers[i].value;
	for (int i = 0; i < m->case_count; i++) {
		say_case(&r, i);
		folio->line = r.line; /* it may have moved in growing */
		rn_folio_block(folio, RN_BLOCK_ITEM);
		r.line = folio->line;
	}
	return rn_folio_status(folio);
}
