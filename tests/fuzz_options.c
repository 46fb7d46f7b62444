/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Any words as a command line, parted by line feeds: read, or refused with a sentence.
 */
#include "io/cli/options.h"
#include "tests/fuzz.h"

enum { WORDS_MOST = 40, ROOM = 4096 };

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char text[ROOM + 1], *words[WORDS_MOST + 1] = {"funicle"};
	int count = 1;
	size_t length = size < ROOM ? size : ROOM;
	if (length > 0)
		memcpy(text, data, length);
	text[length] = '\0';
	for (char *word = text; word && count < WORDS_MOST; count++) {
		words[count] = word;
		word = strchr(word, '\n');
		if (word)
			*word++ = '\0';
	}
	rn_allocator allocator = rn_allocator_default();
	rn_buffer message = rn_buffer_make(&allocator);
	rn_command command;
	bool good = rn_options_read(count, words, &command, &message);
	fuzz_demand(good == (message.size == 0), "it is read, or a sentence says why not");
	fuzz_demand(!good || command.model || command.help || command.version || command.verb == RN_VERB_SELFTEST,
	            "something is asked for");
	rn_buffer_release(&message);
	return 0;
}
