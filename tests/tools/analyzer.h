/* SPDX-License-Identifier: MIT */
/* analyzer.h - read by clang-tidy before each source, never by the compiler.
 *
 * The analyzer sees one file at a time, so it takes for possible that fault_set answers STATUS_OK
 * and that the caller goes on with values never set. Here it is told that the answer is the
 * status it was given. */
#ifndef TOOLS_ANALYZER_H
#define TOOLS_ANALYZER_H

#include "core/fault.h"

#define fault_set(why, status, ...) ((void)(fault_set)((why), (status), __VA_ARGS__), (status))

#endif
