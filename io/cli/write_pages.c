/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * funicle-pages: prints what is made from the tables of the program, for the build.
 *
 *     funicle-pages program DATE       funicle(1)
 *     funicle-pages format DATE        funicle(5)
 *     funicle-pages completion DATE    for bash
 */
#include <stdio.h>
#include <string.h>

#include "io/cli/pages.h"

enum { DONE = 0, USAGE = 2, FAILED = 6 };

static const struct {
	const char *word;
	void (*write)(rn_buffer *, const char *date);
} pages[] = {{"program", rn_pages_program}, {"format", rn_pages_format}, {"completion", rn_pages_completion}};

static int print(void (*write)(rn_buffer *, const char *), const char *date)
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer out = rn_buffer_make(&allocator);
	write(&out, date);
	bool good = rn_buffer_status(&out) == RN_OK &&
	            fwrite(out.bytes, 1, out.size, stdout) == out.size && fflush(stdout) == 0;
	rn_buffer_release(&out);
	return good ? DONE : FAILED;
}

int main(int argument_count, char **arguments)
{
	for (size_t i = 0; argument_count == 3 && i < sizeof pages / sizeof *pages; i++)
		if (strcmp(arguments[1], pages[i].word) == 0)
			return print(pages[i].write, arguments[2]);
	fputs("usage: funicle-pages program|format|completion DATE\n", stderr);
	return USAGE;
}
