/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What an answer for other programs is told to: objects, lists, keys and values, one after the
 * other. An answer is told once; JSON and CSV are two forms it is written in, so they cannot differ
 * in a value.
 *
 *     rn_json_stream json = rn_json_stream_make(&buffer);
 *     rn_stream_open(&json.stream, NULL, '{');
 *     rn_stream_number(&json.stream, "x_m", 1.25);
 *     rn_stream_close(&json.stream, '}');
 *
 * Inside a list the key is NULL. Nothing here can fail half way: a failed append is remembered by
 * the buffer, a number that is not finite by the stream.
 */
#ifndef RN_IO_REPORT_STREAM_H
#define RN_IO_REPORT_STREAM_H

#include "io/base/buffer.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct rn_stream rn_stream;

/* The first member of every form's own struct. */
struct rn_stream {
	void (*open)(rn_stream *, const char *key, char bracket);
	void (*close)(rn_stream *, char bracket);
	void (*text)(rn_stream *, const char *key, const char *text);
	void (*number)(rn_stream *, const char *key, double value);
	void (*word)(rn_stream *, const char *key, const char *word); /* true, false, null */
	rn_buffer *buffer;
	bool not_finite; /* a number was infinite or none; null stands in its place */
};

void rn_stream_open(rn_stream *stream, const char *key, char bracket);
void rn_stream_close(rn_stream *stream, char bracket);
void rn_stream_text(rn_stream *stream, const char *key, const char *text); /* NULL = null */
void rn_stream_number(rn_stream *stream, const char *key, double value);
void rn_stream_whole(rn_stream *stream, const char *key, int value);
void rn_stream_bool(rn_stream *stream, const char *key, bool value);
void rn_stream_null(rn_stream *stream, const char *key);
/* MEMORY if an append failed, ARGUMENT if a number was not finite. */
rn_status rn_stream_status(const rn_stream *stream);

#ifdef __cplusplus
}
#endif

#endif
