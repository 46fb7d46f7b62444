/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * libxml2 is given bytes that rn_scan_bytes has let through, and calls back element by element. No
 * handler for document types, entities or anything outside the bytes is set, so there is nothing it
 * could load; no handler of the process is touched.
 */
#include "io/xml/tree.h"

#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <libxml/xmlerror.h>
#include <string.h>

#include "io/xml/scan.h"

typedef struct tree_builder {
	rn_findings *findings;
	int file;
	const char *end; /* of the bytes */
	const rn_scan *scan;
	size_t next_tag;
	xmlParserCtxtPtr parser;
	rn_tree_element *root, *open;        /* open: the element whose end has not come yet */
	rn_buffer run;                       /* text since the last tag */
	int run_line;                        /* where it stops being space */
	int error_code, error_line;          /* the first one; code 0: none */
	const char *error_text, *error_word; /* the word may be NULL */
} tree_builder;

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* ---- text ---------------------------------------------------------------------------------- */

static void on_characters(void *context, const xmlChar *characters, int size)
{
	tree_builder *b = context;
	const char *bytes = (const char *)characters;
	int space = 0;
	if (b->run.size == 0) {
		while (space < size && is_space(bytes[space]))
			space++;
		if (space == size)
			return;
		b->run_line = b->parser->input->line; /* at the end of these characters */
		for (int i = space; i < size; i++)
			b->run_line -= bytes[i] == '\n';
	}
	rn_buffer_add(&b->run, bytes + space, (size_t)(size - space));
}

/* What was read since the last tag belongs to the open element. */
static void keep_run(tree_builder *b)
{
	size_t size = b->run.size;
	while (size > 0 && is_space(b->run.bytes[size - 1]))
		size--;
	if (size && b->open) {
		b->open->text = rn_pool_copy(b->findings->pool, b->run.bytes, size);
		/* a carriage return alone comes as a new line, and is none to the parser's count */
		b->open->text_line = b->run_line > b->open->line ? b->run_line : b->open->line;
	}
	b->run.size = 0;
}

/* ---- elements ------------------------------------------------------------------------------ */

static const char *full_name(tree_builder *b, const xmlChar *prefix, const xmlChar *name)
{
	rn_buffer text = rn_buffer_make(&b->findings->pool->allocator);
	if (prefix)
		rn_buffer_format(&text, "%s:", (const char *)prefix);
	rn_buffer_text(&text, (const char *)name);
	const char *copy = NULL;
	if (!text.failed)
		copy = rn_pool_copy(b->findings->pool, text.bytes, text.size);
	b->findings->pool->failed |= text.failed;
	rn_buffer_release(&text);
	return copy;
}

/* libxml2 leaves an ampersand of a value written as "&#38;" when it is not asked to put entities
 * in. Spaces around a value mean nothing. */
static const char *value_of(tree_builder *b, const char *begin, const char *end)
{
	static const char ampersand[] = "&#38;";
	while (begin < end && is_space(*begin))
		begin++;
	while (end > begin && is_space(end[-1]))
		end--;
	char *copy = rn_pool_copy(b->findings->pool, begin, (size_t)(end - begin));
	if (!copy)
		return NULL;
	char *to = copy;
	for (const char *from = copy; *from; to++) {
		bool written = strncmp(from, ampersand, sizeof ampersand - 1) == 0;
		*to = *from;
		from += written ? sizeof ampersand - 1 : 1;
	}
	*to = '\0';
	return copy;
}

enum {
	SAX_PARTS = 5
}; /* of an attribute in libxml2's array: name, prefix, namespace, value, end */

static void read_attributes(tree_builder *b, rn_tree_element *element, const rn_scan_tag *tag,
			    const xmlChar **given)
{
	size_t count = element->attribute_count;
	rn_tree_attribute *attributes = rn_pool_take(b->findings->pool, count, sizeof *attributes);
	int *lines = rn_pool_take(b->findings->pool, count, sizeof *lines);
	if (!attributes || !lines) {
		element->attribute_count = 0;
		return;
	}
	rn_scan_attribute_lines(tag, b->end, lines, count);
	for (size_t i = 0; i < count; i++) {
		const xmlChar **part = given + i * SAX_PARTS;
		attributes[i].name = full_name(b, part[1], part[0]);
		attributes[i].value = value_of(b, (const char *)part[3], (const char *)part[4]);
		attributes[i].line = lines[i];
	}
	element->attributes = attributes;
}

static void hang(tree_builder *b, rn_tree_element *element)
{
	element->parent = b->open;
	if (!b->open)
		b->root = element;
	else if (b->open->last_child)
		b->open->last_child->next = element;
	else
		b->open->first_child = element;
	if (b->open)
		b->open->last_child = element;
	b->open = element;
}

static bool memory_is_out(const tree_builder *b)
{
	return b->findings->pool->failed || b->run.failed;
}

static void on_start(void *context, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri,
		     int namespace_count, const xmlChar **namespaces, int attribute_count,
		     int defaulted_count, const xmlChar **attributes)
{
	tree_builder *b = context;
	(void)namespace_count;
	(void)namespaces;
	(void)defaulted_count;
	keep_run(b);
	if (b->next_tag == b->scan->count)
		return; /* a tag without end: libxml2 says so next */
	rn_tree_element *element = rn_pool_take(b->findings->pool, 1, sizeof *element);
	if (!element) {
		xmlStopParser(b->parser);
		return;
	}
	const rn_scan_tag *tag = &b->scan->tags[b->next_tag++];
	element->is_foreign = !uri || strcmp((const char *)uri, RN_NAMESPACE) != 0;
	element->name = full_name(b, element->is_foreign ? prefix : NULL, name);
	element->file = b->file;
	element->line = tag->line;
	element->element = RN_ELEMENT_COUNT;
	element->index = RN_NONE;
	element->attribute_count = (size_t)attribute_count;
	read_attributes(b, element, tag, attributes);
	hang(b, element);
	if (memory_is_out(b))
		xmlStopParser(b->parser);
}

static void on_end(void *context, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri)
{
	tree_builder *b = context;
	(void)name;
	(void)prefix;
	(void)uri;
	keep_run(b);
	b->open = b->open ? b->open->parent : NULL;
}

/* ---- errors -------------------------------------------------------------------------------- */

/* Only the first counts: what follows it is mostly its echo. */
static void on_error(void *context, xmlErrorPtr error)
{
	tree_builder *b = context;
	if (error->level < XML_ERR_ERROR || b->error_code)
		return;
	b->error_code = error->code;
	b->error_line = error->line;
	b->error_text = rn_pool_copy_text(b->findings->pool, error->message ? error->message : "");
	if (error->str1)
		b->error_word = rn_pool_copy_text(b->findings->pool, error->str1);
	xmlStopParser(b->parser);
}

/* What people do to a file by hand, in words for people; the rest in libxml2's own. */
static const struct {
	int code;
	const char *text;
	bool names; /* and which one it is */
} form_errors[] = {
	{XML_ERR_DOCUMENT_EMPTY, "the file is no XML: it does not begin with <", false},
	{XML_ERR_DOCUMENT_END, "there is something behind the end of the root element", false},
	{XML_ERR_LT_IN_ATTRIBUTE, "a < stands in a value; is a quote missing? The sign is &lt;",
	 false},
	{XML_ERR_ATTRIBUTE_NOT_STARTED, "a value stands in quotes: name=\"value\"", false},
	{XML_ERR_ATTRIBUTE_WITHOUT_VALUE, "an attribute has no value", true},
	{XML_ERR_ATTRIBUTE_REDEFINED, "an attribute is written twice in one tag", true},
	{XML_ERR_SPACE_REQUIRED, "a space is missing between attributes; is a quote missing?",
	 false},
	{XML_ERR_GT_REQUIRED, "a tag does not end in >", false},
	{XML_ERR_NAME_REQUIRED, "a name is missing behind < or &; the signs are &lt; and &amp;",
	 false},
	{XML_ERR_ENTITYREF_SEMICOL_MISSING, "an & stands alone; the sign is &amp;", false},
	{XML_ERR_UNDECLARED_ENTITY, "only &amp; &lt; &gt; &quot; &apos; and &#number; are read",
	 true},
	{XML_ERR_COMMENT_NOT_FINISHED, "a comment is not closed: -->", false},
	{XML_NS_ERR_UNDEFINED_NAMESPACE, "a prefix is used that no xmlns: declares", true},
};

static bool add_form_text(const tree_builder *b, rn_buffer *text)
{
	for (size_t i = 0; i < sizeof form_errors / sizeof *form_errors; i++)
		if (form_errors[i].code == b->error_code) {
			rn_buffer_text(text, form_errors[i].text);
			if (form_errors[i].names && b->error_word)
				rn_buffer_format(text, " (%.40s)", b->error_word);
			return true;
		}
	return false;
}

/* An end tag that does not fit, or the end of the file: what is still open says more than where it
 * was noticed. */
static bool is_about_open(const tree_builder *b)
{
	return b->open && (b->error_code == XML_ERR_TAG_NAME_MISMATCH ||
	                   b->error_code == XML_ERR_TAG_NOT_FINISHED);
}

static void tell_form_error(tree_builder *b)
{
	rn_buffer *text = rn_findings_begin(b->findings, b->file, b->error_line);
	if (is_about_open(b))
		rn_buffer_format(text, "<%s> of line %d is not closed before this", b->open->name,
		                 b->open->line);
	else if (!add_form_text(b, text)) {
		const char *said = b->error_text ? b->error_text : "";
		rn_buffer_text(text, "this is not well-formed XML: ");
		rn_buffer_add(text, said, strcspn(said, "\n"));
	}
	rn_findings_end(b->findings);
}

/* ---- the whole ----------------------------------------------------------------------------- */

static xmlParserCtxtPtr make_parser(tree_builder *b)
{
	const rn_source *source = &b->findings->sources[b->file];
	xmlParserCtxtPtr parser = xmlCreateMemoryParserCtxt(source->bytes, (int)source->size);
	if (!parser)
		return NULL;
	xmlCtxtUseOptions(parser, XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING |
	                                  XML_PARSE_BIG_LINES | XML_PARSE_IGNORE_ENC);
	*parser->sax = (xmlSAXHandler){
		.initialized = XML_SAX2_MAGIC,
		.startElementNs = on_start,
		.endElementNs = on_end,
		.characters = on_characters,
		.ignorableWhitespace = on_characters,
		.cdataBlock = on_characters,
		.serror = on_error,
	};
	parser->userData = b;
	return parser;
}

/* Errors: INPUT, then error_code says why, MEMORY. */
static rn_status parse(tree_builder *b)
{
	b->parser = make_parser(b);
	if (!b->parser)
		return RN_STATUS_MEMORY;
	int result = xmlParseDocument(b->parser);
	int code = b->parser->errNo;
	bool whole = result == 0 && b->parser->wellFormed && b->next_tag == b->scan->count;
	xmlFreeParserCtxt(b->parser);
	xmlResetLastError(); /* libxml2 keeps a copy of its own per thread */
	if (memory_is_out(b) || code == XML_ERR_NO_MEMORY || b->error_code == XML_ERR_NO_MEMORY)
		return RN_STATUS_MEMORY;
	return whole && !b->error_code && b->root && !b->open ? RN_OK : RN_STATUS_INPUT;
}

static bool same_text(const char *a, const char *b)
{
	return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool same_error(const tree_builder *a, const tree_builder *b)
{
	return a->error_code == b->error_code && a->error_line == b->error_line &&
	       same_text(a->error_text, b->error_text) && same_text(a->error_word, b->error_word);
}

/* Where memory ends, libxml2 2.9 mostly says so, but some of its functions take the text for broken
 * instead. So a text counts as broken only when a second look finds the same. */
static rn_status parse_twice(tree_builder *b)
{
	const tree_builder fresh = *b;
	rn_status status = parse(b);
	if (status != RN_STATUS_INPUT)
		return status;
	tree_builder again = fresh;
	again.run = rn_buffer_make(&b->findings->pool->allocator);
	status = parse(&again);
	rn_buffer_release(&again.run);
	if (status != RN_STATUS_INPUT || !same_error(b, &again))
		return RN_STATUS_MEMORY;
	tell_form_error(b);
	return RN_STATUS_INPUT;
}

rn_status rn_tree_read(rn_findings *findings, int file, int *elements_left,
		       rn_tree_element **root_out)
{
	rn_scan scan;
	RN_TRY(rn_scan_bytes(findings, file, elements_left, &scan));
	const rn_source *source = &findings->sources[file];
	tree_builder b = {.findings = findings,
	                  .file = file,
	                  .end = source->bytes + source->size,
	                  .scan = &scan,
	                  .run = rn_buffer_make(&findings->pool->allocator)};
	rn_status status = parse_twice(&b);
	rn_buffer_release(&b.run);
	RN_TRY(status);
	*root_out = b.root;
	return rn_findings_status(findings);
}

/* ---- finding one's way ----------------------------------------------------------------------- */

rn_tree_attribute *rn_tree_attribute_named(const rn_tree_element *element, const char *name)
{
	for (size_t i = 0; i < element->attribute_count; i++)
		if (strcmp(element->attributes[i].name, name) == 0)
			return &element->attributes[i];
	return NULL;
}

const char *rn_tree_value(const rn_tree_element *element, const char *name)
{
	const rn_tree_attribute *attribute = rn_tree_attribute_named(element, name);
	return attribute ? attribute->value : NULL;
}

rn_tree_element *rn_tree_child(const rn_tree_element *element, rn_element kind, int n)
{
	rn_tree_element *child = element->first_child;
	while (child && (child->element != kind || --n > 0))
		child = child->next;
	return child;
}

rn_tree_element *rn_tree_following(const rn_tree_element *element)
{
	if (element->first_child)
		return element->first_child;
	while (element && !element->next)
		element = element->parent;
	return element ? element->next : NULL;
}
