/* SPDX-License-Identifier: MIT */
/* review_inner.h - lists of review items, and the grower's answers laid on them. */
#ifndef REPORT_REVIEW_INNER_H
#define REPORT_REVIEW_INNER_H

#include "dossier/work.h"
#include "report/review.h"

/* The grower's answers, by key, those of one key oldest first. */
struct answers {
	struct answer *items;
	int32_t count;
	struct date today;
};
enum status answers_load(
	struct yard *yard, struct arena *arena, struct answers *out, struct fault *why) MUST_CHECK;
/* What they come to for a flag; an item is large, and many flags never become one. */
struct judged {
	enum flag_state state;
	struct maybe_date until;
	int32_t times_put_off;
	const char *reason;
};
struct judged answers_judge(const struct answers *answers, const struct flag *flag);
void item_take(struct review_item *item, const struct judged *judged);
/* Was this flag, of a tree by itself, put off or set aside? */
bool answers_has_own(const struct answers *answers, const struct flag *flag);

/* Items side by side; an item is large, so that they are moved where they lie. */
struct item_list {
	struct arena *arena;
	struct review_item *items;
	int32_t count;
	int32_t capacity;
};
/* Adds a copy that stands on its own: text of the flag is taken into the list's arena. */
void item_list_add(struct item_list *list, const struct review_item *item);
void item_list_sort(struct item_list *list);
/* order[i]: which of the items is to be the i-th; each once. It is used up. */
void item_list_order(struct item_list *list, int32_t *order);
/* Of a sorted list: open items that read alike come together, behind the first of them; fills
 * group. */
void item_list_group(struct item_list *list);

/* All trees that are looked at by themselves or with their grafts, and which are done. */
struct trees {
	char (*ids)[ID_SIZE];
	bool *done;
	int32_t count;
	int32_t *table; /* places of ids, counted from one, by what they mix to */
	size_t room;
};
enum status trees_load(
	struct store *store, struct arena *arena, struct trees *out, struct fault *why) MUST_CHECK;
bool *trees_done(const struct trees *trees, const char *tree_id); /* NULL: no such tree */

/* Questions of one kind are one line for the whole yard; of the facts that are missing, the three
 * that most trees wait for. */
enum {
	MISSING_LINES_MAX = 3,
	FOLD_LABELS_SIZE = 240, /* of "A1, A2 and 14 more" */
	FOLD_LABELS_MOST = FOLD_LABELS_SIZE / 3
};
struct fold {
	struct flag first; /* by its label */
	int32_t trees;
	const char *labels[FOLD_LABELS_MOST]; /* the first of them, in order */
	int32_t listed;
};
struct folds {
	struct arena *arena; /* for them and what they point at */
	struct fold **table; /* by rule and fact */
	size_t room;
	size_t count;
};
/* Would more of that flag be kept than its label? */
bool folds_want(const struct folds *folds, const struct flag *head);
void folds_add(struct folds *folds, const struct flag *flag);
/* The lines as items (not judged yet), those of most trees first. */
struct review_item *folds_lines(const struct folds *folds, int32_t *count);
/* The key of the folded line that a flag with a fact goes into. */
void folds_key(const struct flag *flag, char out[FLAG_KEY_SIZE]);

#endif
