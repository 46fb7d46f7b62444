/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is worth saying about a settled case besides its numbers.
 */
#ifndef RN_STUDY_REMARKS_H
#define RN_STUDY_REMARKS_H

#include "solver/statics/settle.h"

/* Adds notes to *notes and sets answer->falls. Errors: MEMORY. */
rn_status rn_remarks_add(rn_settler *settler, rn_case_result *answer) RN_MUST_CHECK;

#endif
