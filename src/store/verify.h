/* SPDX-License-Identifier: MIT */
/* verify.h - the parts of store_verify. */
#ifndef STORE_VERIFY_H
#define STORE_VERIFY_H

#include "lines.h"

/* Every day that the log holds is one, and uncertain ones stand with their bounds. */
void verify_days(struct store *store, struct lines *lines);
/* No tree is its own ancestor. */
void verify_descent(struct store *store, struct lines *lines);

#endif
