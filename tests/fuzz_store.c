/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A model and its gear files, parted by NUL bytes: whatever the store holds, the reader comes back with a model or with
 * reasons that name a file and a line.
 */
#include "io/xml/reader.h"
#include "tests/fuzz.h"

typedef struct shelf {
	const char *bytes;
	size_t size;
	int asked;
} shelf;

/* The n-th store asked for is the n-th piece of the bytes. */
static rn_status fetch(void *context, const char *href, char **bytes_out, size_t *size_out, const char **reason_out)
{
	shelf *s = context;
	(void)href;
	const char *from = s->bytes, *end = s->bytes + s->size;
	for (int i = 0; i < s->asked && from < end; i++) {
		const char *nul = memchr(from, '\0', (size_t)(end - from));
		from = nul ? nul + 1 : end;
	}
	s->asked++;
	*reason_out = "there is no such file";
	if (from >= end)
		return RN_STATUS_INPUT;
	const char *nul = memchr(from, '\0', (size_t)(end - from));
	*size_out = (size_t)((nul ? nul : end) - from);
	*bytes_out = malloc(*size_out + 1);
	fuzz_demand(*bytes_out != NULL, "memory");
	memcpy(*bytes_out, from, *size_out);
	return RN_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	rn_allocator allocator = rn_allocator_default();
	const char *bytes = (const char *)data, *nul = size ? memchr(bytes, '\0', size) : NULL;
	size_t own = nul ? (size_t)(nul - bytes) : size;
	shelf s = {nul ? nul + 1 : bytes, nul ? size - own - 1 : 0, 0};
	rn_fetch from = {fetch, &s};
	rn_document *document = NULL;
	rn_status status = rn_document_read(&allocator, "fuzz", bytes ? bytes : "", own, &from, &document);
	fuzz_demand(status == RN_OK || status == RN_STATUS_INPUT, "it is read or refused");
	for (int i = 0; i < document->diagnostic_count; i++) {
		const rn_diagnostic *d = &document->diagnostics[i];
		fuzz_demand(d->file >= 0 && d->file < document->file_count && d->line >= 0 && *d->text, "a finding has a place");
	}
	for (int i = 0; i < document->inputs.count; i++) {
		const rn_input *input = &document->inputs.items[i];
		fuzz_demand(input->file < document->file_count && input->line > 0 && input->owner && input->value,
		            "a value has a place");
	}
	rn_document_destroy(document);
	return 0;
}
