/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/xml/reader.h"

#include <string.h>

#include "io/base/words.h"
#include "io/xml/build.h"
#include "io/xml/check.h"
#include "io/xml/collect.h"
#include "io/xml/names.h"
#include "io/xml/scan.h"

enum { STORES_MOST = 64, FILES_MOST = STORES_MOST + 1, STORE_BYTES_MOST = 8 << 20 };

typedef struct rn_document_memory {
	rn_pool pool; /* the document, this, and everything in both but the model */
} rn_document_memory;

typedef struct reader {
	rn_document *document;
	const rn_fetch *fetch;
	const rn_prepare *prepare; /* may be NULL */
	rn_findings findings;
	rn_source sources[FILES_MOST];
	const char **names;        /* of the sources */
	char *fetched[FILES_MOST]; /* bytes to be released */
	rn_tree_element *roots[FILES_MOST];
	int file_count, root_count;
	int elements_left;
	size_t bytes_left; /* for gear files */
	double gravity;
} reader;

/* ---- files --------------------------------------------------------------------------------- */

static rn_status add_source(reader *r, const char *name, const char *bytes, size_t size)
{
	const char *copy = rn_pool_copy_text(r->findings.pool, name);
	if (!copy)
		return RN_STATUS_MEMORY;
	r->names[r->file_count] = copy;
	r->sources[r->file_count++] = (rn_source){copy, bytes, size};
	return RN_OK;
}

static void release_fetched(reader *r)
{
	const rn_allocator *allocator = &r->findings.pool->allocator;
	for (int i = 0; i < FILES_MOST; i++)
		if (r->fetched[i])
			allocator->release(allocator->context, r->fetched[i]);
}

/* ---- roots --------------------------------------------------------------------------------- */

/* Begins and ends with the words given; always false. */
static bool refuse_root(reader *r, const rn_tree_element *root, int line, const char *before,
			const char *what, const char *behind)
{
	rn_buffer *text = rn_findings_begin(&r->findings, root->file, line);
	rn_buffer_format(text, "%s%.40s%s", before, what, behind);
	rn_findings_end(&r->findings);
	return false;
}

/* Whether a root begins a file of this language and version at all. */
static bool root_fits(reader *r, const rn_tree_element *root, rn_element as)
{
	if (root->is_foreign)
		return refuse_root(r, root, root->line, "<", root->name,
		                   "> is not in the namespace: write xmlns=\"" RN_NAMESPACE
		                   "\" in it");
	if (strcmp(root->name, rn_table_element(as)->name) != 0)
		return refuse_root(r, root, root->line, "the root is <", root->name,
		                   as == RN_ELEMENT_RIGGING ? ">; a model begins with <rigging>"
		                                            : ">; a gear file begins with <gear>");
	const rn_tree_attribute *format = rn_tree_attribute_named(root, "format");
	if (format && strcmp(format->value, RN_FORMAT) != 0)
		return refuse_root(r, root, format->line, "this file is format ", format->value,
		                   ", this program reads " RN_FORMAT);
	return true;
}

/* Reads file `file` up to its table stage. Errors: INPUT, MEMORY. */
static rn_status read_file(reader *r, int file, rn_element as)
{
	rn_tree_element *root = NULL;
	RN_TRY(rn_tree_read(&r->findings, file, &r->elements_left, &root));
	if (!root_fits(r, root, as))
		return RN_STATUS_INPUT;
	rn_check_tree(&r->findings, root, as, &r->gravity);
	r->roots[r->root_count++] = root;
	return rn_findings_status(&r->findings);
}

/* ---- gear files ---------------------------------------------------------------------------- */

static rn_status refuse_store(reader *r, const rn_tree_element *e, const char *reason)
{
	rn_buffer *text = rn_check_begin(&r->findings, e, rn_tree_attribute_named(e, "href"));
	rn_buffer_format(text, "this gear file cannot be read: %s", reason);
	rn_findings_end(&r->findings);
	return RN_STATUS_INPUT;
}

static bool is_twice(const reader *r, const char *href)
{
	for (int i = 1; i < r->file_count; i++)
		if (strcmp(r->names[i], href) == 0)
			return true;
	return false;
}

/* Errors: INPUT, MEMORY. */
static rn_status read_store(reader *r, const rn_tree_element *e)
{
	const char *href = rn_tree_value(e, "href"), *reason = "it cannot be had";
	char *bytes = NULL;
	size_t size = 0;
	if (!r->fetch)
		return refuse_store(r, e, "gear files cannot be had here");
	if (is_twice(r, href))
		return refuse_store(r, e, "it is named twice");
	if (r->file_count == FILES_MOST)
		return refuse_store(r, e, "there are more than 64 of them");
	rn_status status = r->fetch->read(r->fetch->context, href, &bytes, &size, &reason);
	if (status == RN_STATUS_MEMORY)
		return status;
	if (status != RN_OK)
		return refuse_store(r, e, reason);
	r->fetched[r->file_count] = bytes;
	if (size > r->bytes_left)
		return refuse_store(r, e, "gear files together are larger than 8 MiB");
	r->bytes_left -= size;
	RN_TRY(add_source(r, href, bytes, size));
	return read_file(r, r->file_count - 1, RN_ELEMENT_GEAR_FILE);
}

/* One that cannot be read does not keep the others from being looked at. Errors: MEMORY. */
static rn_status read_stores(reader *r)
{
	const rn_tree_element *root = r->roots[0];
	for (const rn_tree_element *e = root->first_child; e; e = e->next) {
		if (e->element != RN_ELEMENT_STORE || !rn_tree_attribute_named(e, "href"))
			continue;
		rn_status status = read_store(r, e);
		if (status != RN_OK && status != RN_STATUS_INPUT)
			return status;
	}
	return RN_OK;
}

/* ---- names and model ------------------------------------------------------------------------- */

static rn_status check_names(reader *r)
{
	rn_names names;
	RN_TRY(rn_names_collect(&r->findings, r->roots, r->root_count, &names));
	for (int i = 0; i < r->root_count; i++)
		rn_names_check(&r->findings, &names, r->roots[i], r->gravity);
	return rn_findings_status(&r->findings);
}

/* The place in the files that a note of the solver is about: that of its first object. */
static rn_place place_of(const rn_model *model, rn_object object)
{
	if (object.index == RN_NONE)
		return model->rigging;
	switch (object.kind) {
	case RN_ITEM: return model->items[object.index].place;
	case RN_STEM: return model->stems[object.index].place;
	case RN_SECTION: return model->sections[object.index].place;
	case RN_NODE: return model->nodes[object.index].place;
	case RN_SLING: return model->slings[object.index].place;
	case RN_LEG: return model->legs[object.index].place;
	case RN_LINE: return model->lines[object.index].place;
	case RN_STATION: return model->stations[object.index].place;
	case RN_PROP: return model->props[object.index].place;
	case RN_STRETCH: return model->stretches[object.index].place;
	case RN_BEND: return model->bends[object.index].place;
	case RN_CUT: return model->cuts[object.index].place;
	case RN_CASE: return model->cases[object.index].place;
	case RN_FORCE: return model->forces[object.index].place;
	case RN_FALL: return model->falls[object.index].place;
	case RN_RIGGING:
	case RN_OBJECT_KIND_COUNT: break;
	}
	return model->rigging;
}

static void tell_note(reader *r, const rn_model *model, rn_note note, rn_place place)
{
	rn_buffer *text = rn_findings_begin(&r->findings, place.file, place.line);
	rn_words_note(text, model, &note, RN_METRIC);
	rn_findings_end(&r->findings);
}

/* With what is doubted of it, which may be what is wrong. */
static void tell_notes(reader *r, const rn_model *model)
{
	for (int i = 0; i < model->findings.count; i++)
		tell_note(r, model, model->findings.items[i], place_of(model, model->findings.items[i].a));
	for (int i = 0; i < model->doubts.count; i++) {
		rn_note doubt = model->doubts.items[i];
		rn_place place = {.file = doubt.file, .line = doubt.line};
		doubt.line = 0; /* it stands in front of every diagnostic */
		tell_note(r, model, doubt, place);
	}
}

static rn_status build_and_check(reader *r, rn_model *model)
{
	RN_TRY(rn_model_set_files(model, r->names, r->file_count));
	RN_TRY(rn_build_model(model, &r->findings, r->roots, r->root_count));
	if (rn_findings_any(&r->findings))
		return RN_STATUS_INPUT;
	if (r->prepare)
		RN_TRY(r->prepare->add(r->prepare->context, model));
	rn_status status = rn_model_check(model);
	if (status == RN_STATUS_INPUT)
		tell_notes(r, model);
	return status;
}

static rn_status make_model(reader *r)
{
	rn_model *model = NULL;
	RN_TRY(rn_model_create(&r->findings.pool->allocator, &model));
	rn_status status = build_and_check(r, model);
	if (status == RN_OK)
		r->document->model = model;
	else
		rn_model_destroy(model);
	return status;
}

/* ---- notes of the files ---------------------------------------------------------------------- */

static rn_status keep_remarks(reader *r)
{
	rn_document *d = r->document;
	rn_remark *remarks = NULL;
	size_t count = 0, capacity = 0;
	for (int i = 0; i < r->root_count; i++)
		for (const rn_tree_element *e = r->roots[i]; e; e = rn_tree_following(e)) {
			if (e->element != RN_ELEMENT_NOTE || !e->text)
				continue;
			rn_remark *grown = rn_pool_grow(r->findings.pool, remarks, count, &capacity,
			                                sizeof *grown);
			if (!grown)
				return RN_STATUS_MEMORY;
			remarks = grown;
			remarks[count++] =
				(rn_remark){e->file, e->line, rn_tree_value(e, "topic"), e->text};
		}
	d->remarks = remarks;
	d->remark_count = (int)count;
	return RN_OK;
}

/* ---- the whole ----------------------------------------------------------------------------- */

static rn_status stage_done(reader *r)
{
	RN_TRY(rn_findings_status(&r->findings));
	return rn_findings_any(&r->findings) ? RN_STATUS_INPUT : RN_OK;
}

static rn_status read_all(reader *r, const char *name, const char *bytes, size_t size)
{
	RN_TRY(add_source(r, name, bytes, size));
	RN_TRY(read_file(r, 0, RN_ELEMENT_RIGGING));
	RN_TRY(read_stores(r));
	RN_TRY(stage_done(r));
	RN_TRY(check_names(r));
	RN_TRY(stage_done(r));
	RN_TRY(keep_remarks(r));
	RN_TRY(rn_inputs_collect(r->findings.pool, r->roots, r->root_count, &r->document->inputs));
	return make_model(r);
}

/* Errors: INPUT, when there are any and all could be kept, MEMORY. */
static rn_status keep_findings(reader *r)
{
	rn_document *d = r->document;
	rn_findings_sort(&r->findings);
	size_t count = (size_t)r->findings.count;
	rn_diagnostic *kept = rn_pool_take(r->findings.pool, count, sizeof *kept);
	RN_TRY(rn_findings_status(&r->findings));
	memcpy(kept, r->findings.items, count * sizeof *kept);
	d->diagnostics = kept;
	d->diagnostic_count = r->findings.count;
	d->dropped_count = r->findings.dropped;
	return RN_STATUS_INPUT;
}

/* The reader is too large for a small stack, and is gone with the document's pool. */
static reader *make_reader(rn_document *document, const rn_fetch *fetch)
{
	rn_pool *pool = &document->memory->pool;
	reader *r = rn_pool_take(pool, 1, sizeof *r);
	const char **names = rn_pool_take(pool, FILES_MOST, sizeof *names);
	if (!r || !names)
		return NULL;
	r->document = document;
	r->fetch = fetch;
	r->findings = rn_findings_make(pool);
	r->findings.sources = r->sources;
	r->names = names;
	r->elements_left = RN_SCAN_ELEMENTS_MOST;
	r->bytes_left = STORE_BYTES_MOST;
	r->gravity = RN_GRAVITY_STANDARD;
	return r;
}

static rn_status read_into(rn_document *document, const char *name, const char *bytes, size_t size,
			   const rn_fetch *fetch, const rn_prepare *prepare)
{
	reader *r = make_reader(document, fetch);
	if (!r)
		return RN_STATUS_MEMORY;
	r->prepare = prepare;
	rn_status status = read_all(r, name, bytes, size);
	if (status == RN_STATUS_INPUT)
		status = keep_findings(r);
	document->files = r->names;
	document->file_count = r->file_count;
	release_fetched(r);
	rn_findings_release(&r->findings);
	return status;
}

/* The pool that everything is in is kept in itself. */
static rn_document *make_document(const rn_allocator *allocator)
{
	rn_pool pool = rn_pool_make(allocator);
	rn_document *document = rn_pool_take(&pool, 1, sizeof *document);
	rn_document_memory *memory = rn_pool_take(&pool, 1, sizeof *memory);
	if (pool.failed) {
		rn_pool_release(&pool);
		return NULL;
	}
	memory->pool = pool;
	document->memory = memory;
	return document;
}

rn_status rn_document_read(const rn_allocator *allocator, const char *name, const char *bytes,
			   size_t size, const rn_fetch *fetch, rn_document **document_out)
{
	return rn_document_read_prepared(allocator, name, bytes, size, fetch, NULL, document_out);
}

rn_status rn_document_read_prepared(const rn_allocator *allocator, const char *name, const char *bytes,
				    size_t size, const rn_fetch *fetch, const rn_prepare *prepare,
				    rn_document **document_out)
{
	*document_out = NULL;
	rn_document *document = make_document(allocator);
	if (!document)
		return RN_STATUS_MEMORY;
	/* an empty file has no bytes, not even where they would begin */
	rn_status status = read_into(document, name, bytes ? bytes : "", size, fetch, prepare);
	if (status == RN_OK || status == RN_STATUS_INPUT)
		*document_out = document;
	else
		rn_document_destroy(document);
	return status;
}

void rn_document_destroy(rn_document *document)
{
	if (!document)
		return;
	rn_model_destroy(document->model);
	rn_pool pool = document->memory->pool;
	rn_pool_release(&pool);
}

/* ---- on screen ----------------------------------------------------------------------------- */

void rn_document_print(rn_buffer *buffer, const rn_document *document)
{
	for (int i = 0; i < document->diagnostic_count; i++) {
		const rn_diagnostic *d = &document->diagnostics[i];
		rn_words_plain(buffer, document->files[d->file]);
		if (d->line > 0)
			rn_buffer_format(buffer, ":%d", d->line);
		rn_buffer_format(buffer, ": error: %s\n", d->text);
		if (d->source)
			rn_buffer_format(buffer, "    %s\n", d->source);
	}
	if (document->dropped_count > 0)
		rn_buffer_format(buffer, "and %d more\n", document->dropped_count);
}
