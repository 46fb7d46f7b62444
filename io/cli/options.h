/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The command line, from one table of verbs and one of options.
 */
#ifndef RN_IO_CLI_OPTIONS_H
#define RN_IO_CLI_OPTIONS_H

#include "io/base/words.h"
#include "io/report/folio.h"

typedef enum rn_verb {
	RN_VERB_SOLVE,
	RN_VERB_CHECK,
	RN_VERB_DRAW,
	RN_VERB_LARGEST,
	RN_VERB_VARY,
	RN_VERB_PLACE,
	RN_VERB_FALL,
	RN_VERB_EXPLAIN,
	RN_VERB_DRILL,
	RN_VERB_REPORT,
	RN_VERB_SELFTEST,
	RN_VERB_SCATTER,
	RN_VERB_COUNT
} rn_verb;
typedef enum rn_format { RN_FORMAT_TEXT, RN_FORMAT_JSON, RN_FORMAT_CSV } rn_format;

enum { RN_BETWEEN_MOST = 64 };

typedef struct rn_command {
	rn_verb verb;
	const char *model;   /* path, "-" = standard input */
	const char *output;  /* NULL = standard output */
	const char *case_id; /* NULL = not said */
	const char *node_id, *stem_id; /* likewise */
	const char *piece_id; /* likewise */
	const char *matters;  /* a part, or "closest"; likewise */
	const char *without;  /* a part, or "every"; likewise */
	const char *since; /* an earlier edition of the model; likewise */
	const char *seed; /* of a drill, as typed; likewise */
	const char *between[RN_BETWEEN_MOST]; /* numbers and their ends, as typed */
	int between_count;
	const char *trials, *threads; /* as typed; likewise */
	const char *drop, *below, *hand; /* of a fall, as typed; likewise */
	const char *of[RN_VARIED_MOST]; /* numbers to vary, with their ends, as typed */
	int of_count;
	const char *steps, *part_id; /* likewise; NULL = not said */
	rn_format format;
	rn_units units;
	rn_paper paper;
	bool ranges, all_cases, key, card, for_checker, let_run, compare, quiet, help, version;
} rn_command;

/* Reads the words of the command line. False: `message` says what is wrong with them. */
bool rn_options_read(int count, char **words, rn_command *command_out, rn_buffer *message);

void rn_options_help(rn_buffer *buffer);

/* The tables row by row, for what is made from them; NULL behind the last. */
typedef struct rn_verb_row {
	const char *word, *help;
} rn_verb_row;

typedef struct rn_option_row {
	const char *word, *letter; /* "--output", "-o"; letter NULL = none */
	const char *value;         /* "FILE", "text|json|csv"; NULL = takes none */
	const char *help;
} rn_option_row;

const rn_verb_row *rn_options_verb(int index);
const rn_option_row *rn_options_row(int index);

#endif
