/* SPDX-License-Identifier: MIT */
/* rules_version.h - a digest of the sources that flags are worked out by, made by the Makefile. */
#ifndef REPORT_RULES_VERSION_H
#define REPORT_RULES_VERSION_H

extern const char rules_version[];

#endif
