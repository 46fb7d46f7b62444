/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A streaming JSON writer. Instead of a tree from a library because the order of the keys is part
 * of the format, numbers must read back to the same double without the noise of seventeen digits,
 * every byte of memory has to come from the buffer's own allocator, and nothing here can fail half
 * way: a failed append is remembered by the buffer, a number that is not finite by the stream.
 *
 *     rn_json_stream json = rn_json_stream_make(&buffer);
 *     rn_json_stream_open(&json, NULL, '{');
 *     rn_json_stream_number(&json, "x_m", 1.25);
 *     rn_json_stream_close(&json, '}');
 *
 * Inside a list the key is NULL.
 */
#ifndef RN_IO_REPORT_JSON_STREAM_H
#define RN_IO_REPORT_JSON_STREAM_H

#include "io/base/buffer.h"

typedef struct rn_json_stream {
	rn_buffer *buffer;
	int depth;
	bool first;      /* nothing yet in the innermost object or list */
	bool not_finite; /* a number was infinite or none; null stands in its place */
} rn_json_stream;

rn_json_stream rn_json_stream_make(rn_buffer *buffer);
void rn_json_stream_open(rn_json_stream *json, const char *key, char bracket);
void rn_json_stream_close(rn_json_stream *json, char bracket);
void rn_json_stream_text(rn_json_stream *json, const char *key, const char *text); /* NULL = null */
void rn_json_stream_number(rn_json_stream *json, const char *key, double value);
void rn_json_stream_whole(rn_json_stream *json, const char *key, int value);
void rn_json_stream_bool(rn_json_stream *json, const char *key, bool value);
void rn_json_stream_null(rn_json_stream *json, const char *key);

#endif
