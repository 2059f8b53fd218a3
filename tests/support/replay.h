/* SPDX-License-Identifier: MIT */
/* replay.h - what a fuzzer found, run again as ordinary tests.
 *
 * Each tests/fuzz/test_NAME.c defines LLVMFuzzerTestOneInput. `make fuzz` links it with clang's
 * fuzzer, which looks for bytes that break it; here each file of tests/fuzz/corpus/NAME is a test
 * of its own, with the compiler at hand. */
#ifndef SUPPORT_REPLAY_H
#define SUPPORT_REPLAY_H

#include <stddef.h>
#include <stdint.h>

/* Bytes in, 0 out; what must never be is an assertion. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

/* How many files of the corpus failed; a corpus without files is a failure too. */
int replay_corpus(const char *name, int (*one)(const uint8_t *bytes, size_t length));

/* The bytes as text, NUL after them; the same room each time, at most `most` bytes. A NUL inside
 * ends it. */
enum { REPLAY_TEXT_SIZE = 8192 };
const char *replay_text(const uint8_t *bytes, size_t length);

#endif
