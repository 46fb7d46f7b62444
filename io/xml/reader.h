/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A model file becomes a model, or a list of what is wrong with it: bytes in, no files opened, no
 * state kept. The stages, each of which must find nothing before the next begins:
 *
 *     bytes        size, UTF-8, limits, no DOCTYPE                 scan.c
 *     XML form     libxml2                                         tree.c
 *     table        elements, attributes, values                    check.c; gear files come in here
 *     names        ids, references, what cases set                 names.c
 *     model        built, then rn_model_check                      build.c
 *
 * The program calls xmlInitParser once before its first thread reads.
 */
#ifndef RN_IO_XML_READER_H
#define RN_IO_XML_READER_H

#include "io/base/buffer.h"
#include "io/xml/findings.h"
#include "io/xml/inputs.h"

#ifdef __cplusplus
extern "C" {
#endif

/* How the reader comes to the bytes of a gear file. */
typedef struct rn_fetch {
	/* *bytes_out is taken from the allocator that the document is read with, and released by
	 * the reader. Any status but OK and MEMORY: it cannot be had; *reason_out says why, as a
	 * phrase that outlives the call ("there is no such file"). */
	rn_status (*read)(void *context, const char *href, char **bytes_out, size_t *size_out,
	                  const char **reason_out);
	void *context;
} rn_fetch;

/* What is asked of a model besides what its file says. */
typedef struct rn_prepare {
	/* Called once the model is built, before its rules are tested: it may add to it. Any status but OK ends
	 * the reading with it. */
	rn_status (*add)(void *context, rn_model *model);
	void *context;
} rn_prepare;

/* A <note> of a file. */
typedef struct rn_remark {
	int file, line;
	const char *topic; /* NULL if not said */
	const char *text;
} rn_remark;

typedef struct rn_document {
	rn_model *model;          /* checked; NULL when there are diagnostics */
	const char *const *files; /* their names: the model's own, then its gear files as written */
	int file_count;
	const rn_diagnostic *diagnostics; /* by file and line */
	int diagnostic_count;
	int dropped_count; /* more were found than are listed */
	const rn_remark *remarks;
	int remark_count;
	rn_inputs inputs; /* all that was written, of a model that is whole */
	struct rn_document_memory *memory; /* private */
} rn_document;

/* Reads a model. `name` is what its file is called in diagnostics; `fetch` may be NULL, then gear
 * files cannot be had. *document_out is set on OK and on INPUT (its diagnostics say why), and to
 * NULL otherwise. The document owns its model, and keeps nothing of `bytes`.
 * Errors: INPUT, MEMORY, LIMIT. */
rn_status rn_document_read(const rn_allocator *allocator, const char *name, const char *bytes,
			   size_t size, const rn_fetch *fetch,
			   rn_document **document_out) RN_MUST_CHECK;
/* The same, asking something besides; `prepare` may be NULL. Errors: also any that it ends with. */
rn_status rn_document_read_prepared(const rn_allocator *allocator, const char *name, const char *bytes,
				    size_t size, const rn_fetch *fetch, const rn_prepare *prepare,
				    rn_document **document_out) RN_MUST_CHECK;
void rn_document_destroy(rn_document *document); /* takes NULL */

/* Each diagnostic as `file:line: error: text` and its source line, then how many were left out. */
void rn_document_print(rn_buffer *buffer, const rn_document *document);

#ifdef __cplusplus
}
#endif

#endif
