/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The largest piece, as a person reads it and for other programs.
 */
#ifndef RN_IO_REPORT_LARGEST_H
#define RN_IO_REPORT_LARGEST_H

#include "io/report/folio.h"
#include "io/report/tell.h"

/* How big, what stops it, what it rests on; without what was guessed and the cautions. Errors: MEMORY, ARGUMENT when
 * a number is not finite. */
rn_status rn_largest_folio(rn_folio *folio, const rn_largest *largest, rn_units units) RN_MUST_CHECK;
/* All of it as text. Errors: likewise. */
rn_status rn_largest_text(rn_buffer *buffer, const rn_largest *largest, rn_units units) RN_MUST_CHECK;
rn_status rn_largest_tell(rn_stream *stream, const rn_largest *largest, const rn_answer_options *options) RN_MUST_CHECK;

/* 1 when there is no largest piece or it rests on a guess of stiffness, else as the verdict of the answer with
 * it: 0 when every part that carries load was checked. */
int rn_largest_exit(const rn_largest *largest);

#endif
