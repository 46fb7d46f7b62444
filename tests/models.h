/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Models of models/, read with the stores they name. Needs RN_MODELS_DIR.
 */
#ifndef RN_TESTS_MODELS_H
#define RN_TESTS_MODELS_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "io/xml/reader.h"
#include "tests/support.h"

static inline char *models_slurp(const char *path, size_t *size_out)
{
	FILE *file = fopen(path, "rb");
	if (!file)
		return NULL;
	char *bytes = malloc(1 << 18);
	assert_non_null(bytes);
	*size_out = fread(bytes, 1, 1 << 18, file);
	fclose(file);
	return bytes;
}

static inline rn_status models_fetch(void *context, const char *href, char **bytes_out, size_t *size_out,
                                     const char **reason_out)
{
	char path[1024];
	(void)context;
	snprintf(path, sizeof path, "%s/%s", RN_MODELS_DIR, href);
	*bytes_out = models_slurp(path, size_out);
	*reason_out = *bytes_out ? NULL : "it cannot be read";
	return *bytes_out ? RN_OK : RN_STATUS_INPUT;
}

static inline rn_document *models_parse(const char *bytes, size_t size, const rn_prepare *prepare)
{
	rn_allocator allocator = rn_allocator_default();
	rn_fetch store = {models_fetch, NULL};
	rn_document *document = NULL;
	assert_int_equal(rn_document_read_prepared(&allocator, "model", bytes, size, &store, prepare, &document), RN_OK);
	return document;
}

/* A model in a few lines: what stands inside its outermost element. */
static inline rn_document *models_from(const char *body)
{
	char text[8192];
	int size = snprintf(text, sizeof text, "<rigging xmlns=\"urn:funicle:rigging\" format=\"1\">%s</rigging>", body);
	assert_true(size > 0 && size < (int)sizeof text);
	return models_parse(text, (size_t)size, NULL);
}

/* `prepare` may be NULL. */
static inline rn_document *models_read_prepared(const char *name, const rn_prepare *prepare)
{
	char path[1024];
	size_t size = 0;
	snprintf(path, sizeof path, "%s/%s", RN_MODELS_DIR, name);
	char *bytes = models_slurp(path, &size);
	assert_non_null(bytes);
	rn_document *document = models_parse(bytes, size, prepare);
	free(bytes);
	return document;
}

static inline rn_document *models_read(const char *name)
{
	return models_read_prepared(name, NULL);
}

/* A model written in the test itself, or by its name where it is no XML. */
static inline rn_document *models_read_either(const char *model, const rn_prepare *prepare)
{
	return *model == '<' ? models_parse(model, strlen(model), prepare) : models_read_prepared(model, prepare);
}

static inline rn_document *models_read_text(const char *xml)
{
	return models_parse(xml, strlen(xml), NULL);
}

#endif
