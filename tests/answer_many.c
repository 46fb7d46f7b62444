/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The program without its files, for who asks a hundred thousand times (tests/balance.py). Standard input is models, each
 * after a line with its size in bytes; for each standard output has a line with the code the program would end with and a
 * size, and so many bytes: the answer as JSON, or what is wrong with the model. One that takes a minute of the processor
 * ends it.
 */
#define _XOPEN_SOURCE 700
#include <stdio.h>
#include <stdlib.h>
#include <sys/time.h>

#include "io/report/json.h"
#include "io/xml/reader.h"

enum { SECONDS = 60, SIZE_MOST = 1 << 22, EXIT_INPUT = 3, EXIT_MEMORY = 7 };

/* The code, and in `out` what is printed. */
static int answer(const char *bytes, size_t size, rn_buffer *out)
{
	rn_allocator allocator = rn_allocator_default();
	rn_options options = rn_options_default();
	rn_answer_options form = {.units = RN_METRIC};
	rn_document *document = NULL;
	rn_result *result = NULL;
	int code = EXIT_MEMORY;
	rn_status status = rn_document_read(&allocator, "rig", bytes, size, NULL, &document);
	if (status == RN_STATUS_INPUT) {
		rn_document_print(out, document);
		code = EXIT_INPUT;
	}
	if (status == RN_OK)
		status = rn_solve(document->model, &options, &result);
	if (status == RN_OK)
		status = rn_json_write(out, result, &form);
	if (status == RN_OK)
		code = result->verdict.exit_class;
	rn_result_destroy(result);
	rn_document_destroy(document);
	return code;
}

static void allow(int seconds)
{
	struct itimerval timer = {.it_value.tv_sec = seconds};
	if (setitimer(ITIMER_PROF, &timer, NULL) != 0)
		exit(1);
}

int main(void)
{
	char *bytes = malloc(SIZE_MOST), line[32];
	while (bytes && fgets(line, sizeof line, stdin)) {
		size_t size = strtoul(line, NULL, 10);
		if (size >= SIZE_MOST || fread(bytes, 1, size, stdin) != size)
			return 1;
		rn_allocator allocator = rn_allocator_default();
		rn_buffer out = rn_buffer_make(&allocator);
		allow(SECONDS);
		int code = answer(bytes, size, &out);
		allow(0);
		printf("%d %zu\n", code, out.size);
		fwrite(out.bytes, 1, out.size, stdout);
		fflush(stdout);
		rn_buffer_release(&out);
	}
	free(bytes);
	return 0;
}
