/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Any bytes into rn_document_read: it must come back with a checked model or with reasons, never
 * with anything else.
 */
#include "io/xml/reader.h"
#include "tests/fuzz.h"

static void check_findings(const rn_document *document)
{
	for (int i = 0; i < document->diagnostic_count; i++) {
		const rn_diagnostic *d = &document->diagnostics[i];
		fuzz_demand(d->file == 0, "a finding is about the file");
		fuzz_demand(d->line >= 0, "a finding has a line");
		fuzz_demand(d->text && *d->text, "a finding says something");
	}
}

/* Whole numbers only come out of whole text. */
static void check_model(const rn_model *model)
{
	for (int i = 0; i < model->number_count; i++) {
		const rn_number *n = &model->numbers[i];
		fuzz_demand(n->low <= n->high && n->value - n->value == 0, "a number is finite");
	}
	fuzz_demand(model->findings.count == 0, "a model that is read has passed its check");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	rn_status status =
		rn_document_read(&allocator, "fuzz", (const char *)data, size, NULL, &document);
	fuzz_demand(status == RN_OK || status == RN_STATUS_INPUT, "it is read or refused");
	fuzz_demand((status == RN_OK) == (document->model != NULL),
	       "a model comes only when it is read");
	fuzz_demand((status == RN_OK) == (document->diagnostic_count == 0), "a refusal has a reason");
	check_findings(document);
	if (document->model)
		check_model(document->model);
	rn_buffer text = rn_buffer_make(&allocator);
	rn_document_print(&text, document);
	rn_buffer_release(&text);
	rn_document_destroy(document);
	return 0;
}
