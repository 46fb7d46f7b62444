/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How an answer that is not of one state alone ends: with what was remarked and guessed of the model, what is looked at
 * and what is not, and what every answer warns of.
 */
#ifndef RN_IO_REPORT_CAUTIONS_H
#define RN_IO_REPORT_CAUTIONS_H

#include "io/base/words.h"
#include "io/report/folio.h"

/* What is looked at and what is not; what every answer warns of: all sentences, parted by blanks. */
void rn_cautions_sight(rn_buffer *line, const rn_model *model);
void rn_cautions_words(rn_buffer *line, const rn_model *model);

void rn_cautions_folio(rn_folio *folio, const rn_model *model, rn_units units);

#endif
