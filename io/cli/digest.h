/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef RN_IO_CLI_DIGEST_H
#define RN_IO_CLI_DIGEST_H

#include <stddef.h>

enum { RN_DIGEST_SIZE = 65 };

/* SHA-256 (FIPS 180-4) of the bytes as 64 hex digits and a NUL. */
void rn_digest(const char *bytes, size_t size, char hex_out[RN_DIGEST_SIZE]);

#endif
