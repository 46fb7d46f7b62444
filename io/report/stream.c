/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/report/stream.h"

#include <math.h>

void rn_stream_open(rn_stream *stream, const char *key, char bracket)
{
	stream->open(stream, key, bracket);
}

void rn_stream_close(rn_stream *stream, char bracket)
{
	stream->close(stream, bracket);
}

void rn_stream_text(rn_stream *stream, const char *key, const char *text)
{
	if (text)
		stream->text(stream, key, text);
	else
		rn_stream_null(stream, key);
}

void rn_stream_number(rn_stream *stream, const char *key, double value)
{
	if (!isfinite(value)) {
		stream->not_finite = true;
		rn_stream_null(stream, key);
		return;
	}
	const double plain_zero = value + 0.0; /* turns -0 into 0 */
	stream->number(stream, key, plain_zero);
}

void rn_stream_whole(rn_stream *stream, const char *key, int value)
{
	stream->number(stream, key, value);
}

void rn_stream_bool(rn_stream *stream, const char *key, bool value)
{
	stream->word(stream, key, value ? "true" : "false");
}

void rn_stream_null(rn_stream *stream, const char *key)
{
	stream->word(stream, key, "null");
}

rn_status rn_stream_status(const rn_stream *stream)
{
	RN_TRY(rn_buffer_status(stream->buffer));
	return stream->not_finite ? RN_STATUS_ARGUMENT : RN_OK;
}
