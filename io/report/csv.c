/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/csv.h"

#include "io/report/csv_stream.h"

rn_status rn_csv_write(rn_buffer *buffer, const rn_result *result, const rn_answer_options *options)
{
	rn_csv_stream csv = rn_csv_stream_make(buffer);
	return rn_answer_tell(&csv.stream, result, options);
}
