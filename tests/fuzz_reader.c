/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Any bytes into rn_document_read: it must come back with a checked model or with reasons, never
 * with anything else. Built with -fsanitize=fuzzer it is a libFuzzer target, with RN_FUZZ_REPLAY
 * defined a program that plays the files named as its arguments once more.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include "io/xml/reader.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand(bool met, const char *what)
{
	if (met)
		return;
	fprintf(stderr, "broken: %s\n", what);
	abort();
}

static void check_findings(const rn_document *document)
{
	for (int i = 0; i < document->diagnostic_count; i++) {
		const rn_diagnostic *d = &document->diagnostics[i];
		demand(d->file == 0, "a finding is about the file");
		demand(d->line >= 0, "a finding has a line");
		demand(d->text && *d->text, "a finding says something");
	}
}

/* Whole numbers only come out of whole text. */
static void check_model(const rn_model *model)
{
	for (int i = 0; i < model->number_count; i++) {
		const rn_number *n = &model->numbers[i];
		demand(n->low <= n->high && n->value - n->value == 0, "a number is finite");
	}
	demand(model->findings.count == 0, "a model that is read has passed its check");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	rn_allocator allocator = rn_allocator_default();
	rn_document *document = NULL;
	rn_status status =
		rn_document_read(&allocator, "fuzz", (const char *)data, size, NULL, &document);
	demand(status == RN_OK || status == RN_STATUS_INPUT, "it is read or refused");
	demand((status == RN_OK) == (document->model != NULL),
	       "a model comes only when it is read");
	demand((status == RN_OK) == (document->diagnostic_count == 0), "a refusal has a reason");
	check_findings(document);
	if (document->model)
		check_model(document->model);
	rn_buffer text = rn_buffer_make(&allocator);
	rn_document_print(&text, document);
	rn_buffer_release(&text);
	rn_document_destroy(document);
	return 0;
}

#ifdef RN_FUZZ_REPLAY
static void replay(const char *path)
{
	enum { ROOM = 5 << 20 };
	FILE *file = fopen(path, "rb");
	uint8_t *bytes = malloc(ROOM);
	demand(file && bytes, path);
	size_t size = fread(bytes, 1, ROOM, file);
	fclose(file);
	LLVMFuzzerTestOneInput(bytes, size);
	free(bytes);
}

int main(int argument_count, char **arguments)
{
	for (int i = 1; i < argument_count; i++)
		replay(arguments[i]);
	return 0;
}
#endif
