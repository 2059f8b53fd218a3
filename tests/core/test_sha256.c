/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "core/sha256.h"

/* Published: NIST, FIPS 180-2 (2002), appendix B.1 to B.3; the empty message: NIST, Cryptographic
 * Algorithm Validation Program, SHA256ShortMsg.rsp, Len = 0. */
static const struct {
	const char *part;
	int times;
	const char *want;
} messages[] = {
	{"abc", 1, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
	{"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 1,
		"248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"},
	{"a", 1000000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"},
	{"", 1, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
};

static void published_messages_have_their_digests(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof messages / sizeof messages[0]; i++) {
		struct sha256 digest = sha256_start();
		char got[SHA256_TEXT_SIZE];

		for (int times = 0; times < messages[i].times; times++)
			sha256_add(&digest, messages[i].part, strlen(messages[i].part));
		check_text(sha256_end(&digest, got), messages[i].want, messages[i].part);
	}
}

/* However the bytes come in, around the ends of blocks too. */
static void parts_give_the_digest_of_the_whole(void **state)
{
	char bytes[300];
	(void)state;

	for (size_t i = 0; i < sizeof bytes; i++)
		bytes[i] = (char)(i * 7);
	for (size_t length = 0; length <= sizeof bytes; length++) {
		struct sha256 whole = sha256_start();
		char want[SHA256_TEXT_SIZE];

		sha256_add(&whole, bytes, length);
		sha256_end(&whole, want);
		for (size_t size = 1; size < 130; size += 21) {
			struct sha256 parts = sha256_start();
			char got[SHA256_TEXT_SIZE];

			for (size_t at = 0; at < length; at += size)
				sha256_add(&parts, bytes + at,
					length - at < size ? length - at : size);
			check_text(sha256_end(&parts, got), want, "in parts");
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(published_messages_have_their_digests),
		cmocka_unit_test(parts_give_the_digest_of_the_whole),
	};
	int failed = cmocka_run_group_tests_name("sha256", tests, NULL, NULL);

	return failed != 0;
}
