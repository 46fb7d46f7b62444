/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One verdict for all cases. The worst counts, in the order: proof failed or not found (5), no
 * equilibrium (4), over or not checked (1), none over (0).
 */
#include "solver/strength/verdict.h"

const double rn_loaded_least = 1e-9;

static int severity(int exit_class)
{
	return exit_class == 0 ? 0 : exit_class == 1 ? 1 : exit_class == 4 ? 2 : 3;
}

static void worsen(rn_verdict *v, int exit_class)
{
	if (severity(exit_class) > severity(v->exit_class))
		v->exit_class = exit_class;
}

static bool has_answer(const rn_case_result *answer)
{
	return answer->outcome == RN_OUTCOME_SETTLED || answer->outcome == RN_OUTCOME_KEPT;
}

static double largest_demand(const rn_result *result)
{
	double most = 0;
	for (int c = 0; c < result->case_count; c++)
		for (int p = 0; has_answer(&result->cases[c]) && p < result->cases[c].part_count; p++)
			if (result->cases[c].parts[p].demand > most)
				most = result->cases[c].parts[p].demand;
	return most;
}

typedef struct tally {
	bool checked, unchecked, over;
} tally;

/* One part over all cases: it counts as not checked if it ever carries load unchecked. */
static tally tally_part(const rn_result *result, int p, double loaded, rn_verdict *v)
{
	tally t = {false, false, false};
	for (int c = 0; c < result->case_count; c++) {
		const rn_case_result *answer = &result->cases[c];
		if (!has_answer(answer))
			continue;
		const rn_part_result *part = &answer->parts[p];
		if (part->unchecked != RN_CHECKED) {
			t.unchecked = t.unchecked || part->demand > loaded;
			continue;
		}
		t.checked = true;
		t.over = t.over || part->utilisation > 1;
		if (v->worst_case == RN_NONE ||
		    part->utilisation > result->cases[v->worst_case].parts[v->worst_part].utilisation) {
			v->worst_case = c;
			v->worst_part = p;
		}
	}
	return t;
}

rn_verdict rn_verdict_of(const rn_result *result)
{
	rn_verdict v = {.worst_case = RN_NONE, .worst_part = RN_NONE};
	double loaded = rn_loaded_least * largest_demand(result);
	int part_count = result->case_count ? result->cases[0].part_count : 0;
	for (int p = 0; p < part_count; p++) {
		tally t = tally_part(result, p, loaded, &v);
		v.over_count += t.over;
		v.not_checked_count += t.unchecked;
		v.checked_count += t.checked && !t.unchecked;
	}
	v.over = v.over_count > 0;
	v.not_checked = v.not_checked_count > 0;
	for (int c = 0; c < result->case_count; c++) {
		const rn_case_result *answer = &result->cases[c];
		v.not_checked = v.not_checked || answer->falls || answer->unweighed;
		if (answer->outcome == RN_OUTCOME_NO_EQUILIBRIUM)
			worsen(&v, 4);
		else if (answer->outcome == RN_OUTCOME_NOT_FOUND || !answer->balance.closed)
			worsen(&v, 5);
	}
	if (v.over || v.not_checked)
		worsen(&v, 1);
	return v;
}
