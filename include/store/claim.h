/* SPDX-License-Identifier: MIT */
/* claim.h - the entries of the log that an import finds again. Each is claimed by one row of the
 * file at most, so that of equal rows as many are the same as the log holds, and no more. What the
 * import itself writes is never found. */
#ifndef STORE_CLAIM_H
#define STORE_CLAIM_H

#include "store/records.h"

struct claims;

/* Over the log as it stands now. */
enum status store_claims_open(
	struct store *store, struct claims **out, struct fault *why) MUST_CHECK;
void store_claims_close(struct claims *claims); /* NULL is fine */

/* Claims the first entry that is this one: subject, day, kind, words, season and amounts agree.
 * Its words and note are in arena; claimed false when there is none. */
struct claim {
	bool claimed;
	char id[ID_SIZE];
	const char *words;
	const char *note;
};
enum status store_claim_same(struct claims *claims, const struct entry *entry, struct arena *arena,
	struct claim *out, struct fault *why) MUST_CHECK;
/* Claims the entry that an import called `what` made for the same subject, day, kind and season,
 * with figures of the same fields, whatever they are. STATUS_DOUBT: there are several. */
enum status store_claim_made(struct claims *claims, const struct entry *entry, const char *what,
	struct arena *arena, struct claim *out, struct fault *why) MUST_CHECK;

#endif
