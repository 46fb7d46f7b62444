/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/paper.h"

#include <stdlib.h>
#include <string.h>

#include "io/figure/book.h"
#include "io/figure/html.h"
#include "io/figure/views.h"

bool rn_paper_is(const rn_job *job, const char *ending)
{
	const char *path = job->command.output;
	size_t size = path ? strlen(path) : 0, own = strlen(ending);
	return size > own && strcmp(path + size - own, ending) == 0;
}

time_t rn_paper_date(void)
{
	const char *epoch = getenv("SOURCE_DATE_EPOCH");
	return epoch ? (time_t)strtoll(epoch, NULL, 10) : 0;
}

rn_status rn_paper_write(rn_job *job, const rn_folio *folio)
{
	bool pdf = rn_paper_is(job, ".pdf");
	if (!pdf && !rn_paper_is(job, ".html"))
		return rn_folio_text(&job->out, folio);
	rn_figure_options options = {job->command.units, job->command.model, job->digest};
	rn_views views;
	rn_status status = rn_views_make(&job->allocator, folio, job->result, &options, &views);
	if (status == RN_OK && pdf)
		status = rn_book_pdf(&job->out, folio, views.scenes, rn_paper_date());
	else if (status == RN_OK)
		status = rn_html_write(&job->out, folio, views.scenes);
	rn_views_release(&views);
	return status;
}
