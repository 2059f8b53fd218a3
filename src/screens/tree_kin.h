/* SPDX-License-Identifier: MIT */
/* tree_kin.h - parts of a tree's page that are worked out when it is read: where it came from and
 * what was raised from it, its stems, its photos. */
#ifndef SCREENS_TREE_KIN_H
#define SCREENS_TREE_KIN_H

#include "report/session.h"

/* "raised from seed of A3"; "" nothing is known. In arena. */
enum status tree_kin_origin(struct session *session, const struct tree *tree, struct arena *arena,
	const char **out, struct fault *why) MUST_CHECK;
/* "parent of B4 (seed), B5 (cutting) and 3 more"; "" of none. In arena. */
enum status tree_kin_children(struct session *session, const struct tree *tree, struct arena *arena,
	const char **out, struct fault *why) MUST_CHECK;
/* "3.1, 2.8 and 2 in across": each stem as it was measured last; "" of one. In arena. */
const char *tree_kin_stems(
	const struct dossier *dossier, enum unit_system units, struct arena *arena);
/* Entries that name a picture's file, newest first. In arena. */
int32_t tree_kin_photos(
	const struct dossier *dossier, struct arena *arena, const struct entry *const **out);
/* "pictures/a3-bloom.jpg; first flowers". Returns out. */
const char *tree_kin_photo(const struct entry *photo, char *out, size_t size);

#endif
