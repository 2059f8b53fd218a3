/* SPDX-License-Identifier: MIT */
#include "core/sha256.h"

#include <stdio.h>
#include <string.h>

/* FIPS 180-4, 4.2.2: the first bits of the fractions of the cube roots of the first 64 primes. */
/* clang-format off */
static const uint32_t constants[64] = {
	0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
	0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
	0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
	0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
	0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
	0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
	0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
	0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
};
/* clang-format on */

struct sha256 sha256_start(void)
{
	return (struct sha256){.state = {0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f,
				       0x9b05688c, 0x1f83d9ab, 0x5be0cd19}};
}

static uint32_t turn_right(uint32_t word, int bits)
{
	return word >> bits | word << (32 - bits);
}

static uint32_t read_word(const unsigned char *bytes)
{
	return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 |
	       bytes[3];
}

/* 6.2.2, step 1. */
static void make_schedule(const unsigned char *block, uint32_t words[64])
{
	for (int at = 0; at < 16; at++)
		words[at] = read_word(block + (ptrdiff_t)at * 4);
	for (int at = 16; at < 64; at++) {
		uint32_t early = words[at - 15];
		uint32_t late = words[at - 2];
		words[at] = (turn_right(late, 17) ^ turn_right(late, 19) ^ late >> 10) +
			    words[at - 7] +
			    (turn_right(early, 7) ^ turn_right(early, 18) ^ early >> 3) +
			    words[at - 16];
	}
}

/* 6.2.2, steps 2 to 4, in the letters of the standard. */
static void add_block(uint32_t state[8], const unsigned char *block)
{
	uint32_t words[64];
	make_schedule(block, words);
	uint32_t a = state[0], b = state[1], c = state[2], d = state[3];
	uint32_t e = state[4], f = state[5], g = state[6], h = state[7];
	for (int at = 0; at < 64; at++) {
		uint32_t one = h + (turn_right(e, 6) ^ turn_right(e, 11) ^ turn_right(e, 25)) +
			       ((e & f) ^ (~e & g)) + constants[at] + words[at];
		uint32_t two = (turn_right(a, 2) ^ turn_right(a, 13) ^ turn_right(a, 22)) +
			       ((a & b) ^ (a & c) ^ (b & c));
		h = g;
		g = f;
		f = e;
		e = d + one;
		d = c;
		c = b;
		b = a;
		a = one + two;
	}
	const uint32_t ended[8] = {a, b, c, d, e, f, g, h};
	for (int at = 0; at < 8; at++)
		state[at] += ended[at];
}

void sha256_add(struct sha256 *digest, const void *bytes, size_t length)
{
	const unsigned char *from = bytes;
	size_t filled = (size_t)(digest->length % SHA256_BLOCK_SIZE);
	digest->length += length;
	while (length > 0) {
		if (filled == 0 && length >= SHA256_BLOCK_SIZE) {
			add_block(digest->state, from);
			from += SHA256_BLOCK_SIZE;
			length -= SHA256_BLOCK_SIZE;
			continue;
		}
		size_t size = SHA256_BLOCK_SIZE - filled;
		if (size > length)
			size = length;
		memcpy(digest->block + filled, from, size);
		from += size;
		length -= size;
		filled += size;
		if (filled == SHA256_BLOCK_SIZE) {
			add_block(digest->state, digest->block);
			filled = 0;
		}
	}
}

/* 5.1.1: a one bit, zeros, and the length in bits. */
const char *sha256_end(struct sha256 *digest, char out[SHA256_TEXT_SIZE])
{
	static const unsigned char padding[SHA256_BLOCK_SIZE] = {0x80};
	unsigned char bits[8];
	uint64_t length = digest->length * 8;
	size_t filled = (size_t)(digest->length % SHA256_BLOCK_SIZE);
	for (int at = 0; at < 8; at++)
		bits[at] = (unsigned char)(length >> (56 - 8 * at));
	sha256_add(digest, padding, filled < 56 ? 56 - filled : 120 - filled);
	sha256_add(digest, bits, sizeof bits);
	for (int at = 0; at < 8; at++)
		snprintf(out + (ptrdiff_t)at * 8, 9, "%08x", (unsigned)digest->state[at]);
	return out;
}
