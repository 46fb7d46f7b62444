/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a stem feels all along, for diagrams.
 */
#include "solver/base/arena.h"
#include "solver/strength/stem.h"
#include "solver/study/workspace.h"

static rn_status find(rn_arena *arena, const rn_model *m, const rn_case_result *answer, int stem, rn_profile *out)
{
	double *values;
	rn_stems stems;
	rn_stem_result *scratch;
	RN_TAKE(arena, values, m->number_count + 1);
	RN_TAKE(arena, out->sections, rn_stem_profile_room(m) + 1);
	RN_TRY(rn_stems_create(arena, m, &stems, &scratch));
	rn_case_values(m, &m->cases[answer->case_index], values);
	out->count = rn_stem_profile(&stems, m, values, answer, stem, out->sections);
	return RN_OK;
}

rn_status rn_profile_find(const rn_result *result, int case_index, int stem, const rn_options *options,
                          rn_profile *profile_out)
{
	const rn_model *m = result->model;
	bool there = case_index >= 0 && case_index < result->case_count && stem >= 0 && stem < m->stem_count;
	if (!there || m->stems[stem].section_count == 0 || !rn_case_holds(&result->cases[case_index]))
		return RN_STATUS_ARGUMENT;
	rn_result_memory *memory;
	RN_TRY(rn_result_memory_create(options, &memory));
	rn_profile profile = {.memory = memory};
	rn_status status = find(&memory->arena, m, &result->cases[case_index], stem, &profile);
	if (status == RN_OK)
		*profile_out = profile;
	else
		rn_profile_release(&profile);
	return status;
}

void rn_profile_release(rn_profile *profile)
{
	rn_result_memory_release(&profile->memory);
}
