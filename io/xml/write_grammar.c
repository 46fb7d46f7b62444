/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * funicle-tables: prints what is made from the table of the model file, for build and tests.
 *
 *     funicle-tables rng       the RELAX NG grammar
 *     funicle-tables format    the reference part of doc/format.md
 */
#include <stdio.h>
#include <string.h>

#include "io/xml/grammar.h"
#include "io/xml/manual.h"

enum { DONE = 0, USAGE = 2, FAILED = 6 };

static int print(void (*write)(rn_buffer *))
{
	rn_allocator allocator = rn_allocator_default();
	rn_buffer out = rn_buffer_make(&allocator);
	write(&out);
	bool good = rn_buffer_status(&out) == RN_OK &&
	            fwrite(out.bytes, 1, out.size, stdout) == out.size && fflush(stdout) == 0;
	rn_buffer_release(&out);
	return good ? DONE : FAILED;
}

int main(int argument_count, char **arguments)
{
	if (argument_count == 2 && strcmp(arguments[1], "rng") == 0)
		return print(rn_grammar_write);
	if (argument_count == 2 && strcmp(arguments[1], "format") == 0)
		return print(rn_manual_write);
	fputs("usage: funicle-tables rng|format\n", stderr);
	return USAGE;
}
