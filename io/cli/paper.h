/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is written on paper or for a browser: its form follows from the name of the file it goes to.
 */
#ifndef RN_IO_CLI_PAPER_H
#define RN_IO_CLI_PAPER_H

#include <time.h>

#include "io/cli/job.h"
#include "io/figure/scene.h"
#include "io/report/folio.h"

/* Whether the output has a name that ends so, such as ".pdf". */
bool rn_paper_is(const rn_job *job, const char *ending);

/* The date of what is written: the one asked for, so that the same input gives the same file
 * (reproducible-builds.org, SOURCE_DATE_EPOCH); 0: none is. */
/* Whether the file asked for is a figure by its name: .svg, .pdf, .png. */
bool rn_paper_is_figure(const rn_job *job);
/* A scene as the name of the file says, SVG where it says nothing, into job->out. Errors: MEMORY. */
rn_status rn_paper_scene(rn_job *job, const rn_scene *scene) RN_MUST_CHECK;
time_t rn_paper_date(void);

/* The same as a day, "2026-11-27"; false: none is asked for. */
bool rn_paper_day(char *text, size_t size);

/* A folio of job->result as PDF (.pdf), as a page for a browser (.html), else as text, into job->out. Errors: MEMORY;
 * ARGUMENT for a figure that the answer does not give. */
rn_status rn_paper_write(rn_job *job, rn_folio *folio) RN_MUST_CHECK;

#endif
