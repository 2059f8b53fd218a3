/* SPDX-License-Identifier: MIT */
/* golden.h - answers kept in files and compared as text. `make golden` rewrites them. */
#ifndef SUPPORT_GOLDEN_H
#define SUPPORT_GOLDEN_H

/* The text is what the file (path relative to the top of the source) holds; if not, the first
 * line that differs is shown and the test fails. A file that is not there fails too. With
 * UPDATE_GOLDEN set in the environment the file is written instead. */
#define check_golden(text, path) check_golden_at((text), (path), __FILE__, __LINE__)

void check_golden_at(const char *text, const char *path, const char *file, int line);

#endif
