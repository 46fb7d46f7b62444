/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cli/digest.h"

#include <nettle/sha2.h>

void rn_digest(const char *bytes, size_t size, char hex_out[RN_DIGEST_SIZE])
{
	static const char digits[] = "0123456789abcdef";
	struct sha256_ctx context;
	uint8_t digest[SHA256_DIGEST_SIZE];
	sha256_init(&context);
	sha256_update(&context, size, (const uint8_t *)bytes);
	sha256_digest(&context, sizeof digest, digest);
	for (size_t i = 0; i < sizeof digest; i++) {
		hex_out[2 * i] = digits[digest[i] >> 4];
		hex_out[2 * i + 1] = digits[digest[i] & 15];
	}
	hex_out[RN_DIGEST_SIZE - 1] = '\0';
}
