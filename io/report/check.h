/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What was understood of a model, read back before anything is solved: what there is, what it is
 * rated for, how ropes run, what was guessed, what will not be checked, what is wrong.
 */
#ifndef RN_IO_REPORT_CHECK_H
#define RN_IO_REPORT_CHECK_H

#include "io/report/folio.h"
#include "io/report/tell.h"
#include "io/xml/reader.h"

/* As sentences; of a model that is whole only. Errors: MEMORY. */
rn_status rn_check_text(rn_buffer *buffer, const rn_document *document,
                        rn_units units) RN_MUST_CHECK;
/* Its cases alone, as items: which way ropes run, with how much friction, what is set. Errors: MEMORY. */
rn_status rn_check_cases_folio(rn_folio *folio, const rn_model *model, rn_units units) RN_MUST_CHECK;
/* For other programs, described by doc/check.schema.json; diagnostics as well. Errors: MEMORY,
 * ARGUMENT as of rn_json_write. */
rn_status rn_check_tell(rn_stream *stream, const rn_document *document,
                        const rn_answer_options *options) RN_MUST_CHECK;

#endif
