/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is wrong with a file, collected: at most RN_FINDINGS_MOST with text, the rest counted. Text
 * that came out of a file is cleaned, so that a terminal shows it and does nothing else.
 */
#ifndef RN_IO_XML_FINDINGS_H
#define RN_IO_XML_FINDINGS_H

#include "io/base/buffer.h"
#include "io/base/pool.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { RN_FINDINGS_MOST = 20 };

typedef struct rn_diagnostic {
	int file; /* index into the document's files */
	int line; /* 0: the file as a whole */
	rn_severity severity;
	const char *text;   /* one sentence, without full stop */
	const char *source; /* the line it is about, cleaned; NULL if there is none */
} rn_diagnostic;

/* A file that is being read. */
typedef struct rn_source {
	const char *name;
	const char *bytes;
	size_t size;
} rn_source;

typedef struct rn_findings {
	rn_pool *pool;
	const rn_source *sources; /* by file index */
	rn_diagnostic items[RN_FINDINGS_MOST];
	int count, dropped;
	rn_buffer text; /* of the finding begun */
	int file, line;
} rn_findings;

rn_findings rn_findings_make(rn_pool *pool);
void rn_findings_release(rn_findings *findings);

/* Begins a finding; its sentence is written into the buffer that comes back, then rn_findings_end
 * keeps it, or only counts it when there are enough. */
rn_buffer *rn_findings_begin(rn_findings *findings, int file, int line);
void rn_findings_end(rn_findings *findings);
/* A finding whose sentence is `text`. */
void rn_findings_add(rn_findings *findings, int file, int line, const char *text);

/* Whether one more would be kept: if not, its sentence need not be thought about for long. */
bool rn_findings_have_room(const rn_findings *findings);
bool rn_findings_any(const rn_findings *findings);
/* Orders by file and line; equal ones stay as they came. */
void rn_findings_sort(rn_findings *findings);
/* MEMORY if any text could not be kept. */
rn_status rn_findings_status(const rn_findings *findings);

#ifdef __cplusplus
}
#endif

#endif
