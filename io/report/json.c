/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/json.h"

#include "io/report/json_stream.h"

rn_status rn_json_write(rn_buffer *buffer, const rn_result *result,
                        const rn_answer_options *options)
{
	rn_json_stream json = rn_json_stream_make(buffer);
	return rn_answer_tell(&json.stream, result, options);
}
