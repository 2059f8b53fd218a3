/* SPDX-License-Identifier: MIT */
/* sha256.h - the digest SHA-256 (FIPS 180-4, section 6.2), for files that travel: `sha256sum`
 * works out the same. Allocates nothing. */
#ifndef CORE_SHA256_H
#define CORE_SHA256_H

#include <stddef.h>
#include <stdint.h>

enum { SHA256_TEXT_SIZE = 65, SHA256_BLOCK_SIZE = 64 };

struct sha256 {
	uint32_t state[8];
	uint64_t length; /* bytes so far */
	unsigned char block[SHA256_BLOCK_SIZE];
};

struct sha256 sha256_start(void);
void sha256_add(struct sha256 *digest, const void *bytes, size_t length);
/* 64 hexadecimal digits, small letters. The digest is used up. */
const char *sha256_end(struct sha256 *digest, char out[SHA256_TEXT_SIZE]);

#endif
