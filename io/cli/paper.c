/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _POSIX_C_SOURCE 200809L
#include "io/cli/paper.h"

#include <stdlib.h>
#include <string.h>

#include "io/base/words.h"
#include "io/figure/book.h"
#include "io/figure/html.h"
#include "io/figure/page.h"
#include "io/figure/svg.h"
#include "io/figure/views.h"

bool rn_paper_is(const rn_job *job, const char *ending)
{
	const char *path = job->command.output;
	size_t size = path ? strlen(path) : 0, own = strlen(ending);
	return size > own && strcmp(path + size - own, ending) == 0;
}

bool rn_paper_is_figure(const rn_job *job)
{
	return rn_paper_is(job, ".svg") || rn_paper_is(job, ".pdf") || rn_paper_is(job, ".png");
}

rn_status rn_paper_scene(rn_job *r, const rn_scene *scene)
{
	const double print = 200; /* dots per inch: a hair of 0.13 mm */
	if (rn_paper_is(r, ".pdf"))
		return rn_page_pdf(&r->out, scene, rn_paper_date());
	if (rn_paper_is(r, ".png"))
		return rn_page_png(&r->out, scene, print);
	rn_svg_write(&r->out, scene);
	return RN_OK;
}

/* Whether SOURCE_DATE_EPOCH is a day of the four-figure years; what is none is not there. */
static bool read_epoch(time_t *date_out)
{
	static const long long year_ten_thousand = 253402300800; /* its first second */
	const char *epoch = getenv("SOURCE_DATE_EPOCH");
	char *end = NULL;
	long long seconds = epoch ? strtoll(epoch, &end, 10) : 0;
	bool is_day = epoch && end > epoch && !*end && seconds >= 0 && seconds < year_ten_thousand;
	*date_out = is_day ? (time_t)seconds : 0;
	return is_day;
}

time_t rn_paper_date(void)
{
	time_t date;
	(void)read_epoch(&date);
	return date;
}

bool rn_paper_day(char *text, size_t size)
{
	time_t date;
	struct tm day;
	return read_epoch(&date) && gmtime_r(&date, &day) && strftime(text, size, "%Y-%m-%d", &day) > 0;
}

/* What stands at the head of every page: which job, which model, so that a loose page can be put back. */
static void add_running(const rn_job *job, rn_folio *folio)
{
	const rn_model *m = job->document->model;
	if (m->title) {
		rn_words_plain(&folio->line, m->title);
		rn_buffer_text(&folio->line, ", ");
	}
	rn_words_plain(&folio->line, rn_job_model_name(job));
	rn_buffer_format(&folio->line, ", SHA-256 %.12s", job->digest);
	folio->running = rn_folio_keep(folio);
}

rn_status rn_paper_write(rn_job *job, rn_folio *folio)
{
	add_running(job, folio);
	folio->paper = job->command.paper;
	bool pdf = rn_paper_is(job, ".pdf");
	if (!pdf && !rn_paper_is(job, ".html"))
		return rn_folio_text(&job->out, folio);
	rn_figure_options options = {job->command.units, job->command.model, job->digest, job->command.paper};
	rn_views views;
	rn_status status = rn_views_make(&job->allocator, folio, job->result, &options, &views);
	if (status == RN_OK && pdf)
		status = rn_book_pdf(&job->out, folio, views.scenes, rn_paper_date());
	else if (status == RN_OK)
		status = rn_html_write(&job->out, folio, views.scenes);
	rn_views_release(&views);
	return status;
}
