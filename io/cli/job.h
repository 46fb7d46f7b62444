/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One job of the program: the command, the model it names, the answers found on the way, the bytes that go out.
 * Everything a job owns is released in one place.
 */
#ifndef RN_IO_CLI_JOB_H
#define RN_IO_CLI_JOB_H

#include "io/base/buffer.h"
#include "io/cli/digest.h"
#include "io/cli/options.h"
#include "io/xml/reader.h"

/* What the program ends with; 1, 4 and 5 come from the verdict. */
enum { EXIT_NONE_OVER = 0, EXIT_USAGE = 2, EXIT_INPUT = 3, EXIT_NO_EQUILIBRIUM = 4, EXIT_NOT_FOUND = 5,
       EXIT_MACHINE = 6 };

typedef struct rn_job {
	rn_allocator allocator;
	rn_command command;
	char **words; /* of the command line, NULL: none was typed */
	int word_count;
	rn_buffer message, model_bytes, out;
	rn_buffer stores; /* files of gear that were read, each with its digest: "yard.xml 5e25..., " */
	rn_document *document;
	rn_result *result;
	rn_largest largest;
	rn_varied varied;
	rn_placed placed;
	rn_ranges *ranges; /* one per case that is asked about */
	int range_count;
	rn_losses losses;
	rn_matters matters;
	rn_let_run *let_runs; /* one per fall, if asked for */
	rn_comparison *comparisons; /* likewise */
	int catch_count;
	rn_scatter scatter;
	char digest[RN_DIGEST_SIZE];
} rn_job;

rn_job rn_job_make(const rn_allocator *allocator);
void rn_job_release(rn_job *job);

/* The functions that return an int return what the program ends with, EXIT_NONE_OVER when all went well; they have
 * said on standard error what did not. */

int rn_job_complain(const char *what, const char *why); /* EXIT_MACHINE */

/* Reads the model the command names into job->document. */
int rn_job_read(rn_job *job);
const char *rn_job_model_name(const rn_job *job);

/* Writes job->out where the command says, or to `path`; `status`: of what filled it. */
int rn_job_deliver(rn_job *job, rn_status status);
int rn_job_deliver_to(rn_job *job, const char *path, rn_status status);

/* The case asked for, else the one with the closest part, else the first without an answer. RN_NONE: there is none
 * called so. */
int rn_job_case(const rn_job *job);
/* The object of that kind called so; RN_NONE: none is, or `id` is NULL. */
int rn_job_named(const rn_job *job, rn_object_kind kind, const char *id);
unsigned long rn_job_seed(const rn_job *job);

/* On standard error, with nothing that turns a terminal: control characters and broken UTF-8 become '?'. */
void rn_job_print(const char *text);
int rn_job_unknown_case(const rn_job *job);                               /* EXIT_USAGE */
int rn_job_unknown(const rn_job *job, const char *kind, const char *id); /* EXIT_USAGE */
/* A working, a polygon or a diagram of what has no answer, or carries nothing. */
int rn_job_nothing_there(const rn_job *job);

#endif
