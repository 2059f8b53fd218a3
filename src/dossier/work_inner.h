/* SPDX-License-Identifier: MIT */
/* work_inner.h - what the files of the grower's acts share. */
#ifndef DOSSIER_WORK_INNER_H
#define DOSSIER_WORK_INNER_H

#include "core/text.h"
#include "dossier/work.h"

/* One line being logged inside an open act. */
struct logging {
	struct yard *yard;
	struct arena *arena;
	const struct reading *reading;
	struct text_builder said; /* the answer as it grows */
};

/* What comes along with an entry that is in the log now: a tree closes, moves, bears a graft. */
enum status work_follow(
	struct logging *logging, const struct entry *entry, struct fault *why) MUST_CHECK;
/* The answer says which pest of the almanac the words may mean, where only one fits. */
enum status work_name_seen(struct logging *logging, const struct entry *entry,
	const struct tree *tree, struct fault *why) MUST_CHECK;
/* Containers named for the first time are kept, to be weighed once. */
enum status work_keep_containers(
	struct logging *logging, const struct entry *entry, struct fault *why) MUST_CHECK;

/* What a planned entry says of coming again, kept beside it. */
enum status work_plan_put(
	struct yard *yard, const struct entry *entry, struct fault *why) MUST_CHECK;

/* The spot of that name; made, of this kind, when there is none. */
enum status work_spot_named(struct yard *yard, const char *name, enum spot_kind kind,
	struct spot *out, struct fault *why) MUST_CHECK;
/* Turns the end of an act: commits when all went well, else takes it back. */
enum status work_end(struct yard *yard, enum status status, struct fault *why) MUST_CHECK;
/* Opens an act; what undo will name, cut to size. */
enum status work_begin(struct yard *yard, const char *what, struct fault *why) MUST_CHECK;

/* Writes the opinions of one identify inside the open act; what is in doubt is put into asked. */
enum status work_opinions_add(struct yard *yard, const char *tree_id,
	const struct new_identity *identity, struct text_builder *asked,
	struct fault *why) MUST_CHECK;

#endif
