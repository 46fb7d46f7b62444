/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The JSON form of a stream. Instead of a tree from a library because the order of the keys is part
 * of the format, numbers must read back to the same double without the noise of seventeen digits,
 * and every byte of memory has to come from the buffer's own allocator.
 */
#ifndef RN_IO_REPORT_JSON_STREAM_H
#define RN_IO_REPORT_JSON_STREAM_H

#include "io/report/stream.h"

typedef struct rn_json_stream {
	rn_stream stream;
	int depth;
	bool first; /* nothing yet in the innermost object or list */
} rn_json_stream;

rn_json_stream rn_json_stream_make(rn_buffer *buffer);

#endif
