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
/* Fills state, until, times_put_off and reason of an item whose flag is set. */
void answers_judge(const struct answers *answers, struct review_item *item);
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

/* Questions of one kind are one line for the whole yard; of the facts that are missing, the three
 * that most trees wait for. */
enum { FOLDS_MAX = 48, MISSING_LINES_MAX = 3, FOLD_LABELS_SIZE = 240 };
struct folds {
	struct arena *arena; /* for what the first of a fold rests on */
	struct {
		struct flag first;
		int32_t trees;
		char labels[FOLD_LABELS_SIZE]; /* "A1, A2 and 14 more" */
		int32_t listed;                /* of them by name */
	} items[FOLDS_MAX];
	int32_t count;
};
/* False: there are too many kinds of question already; the flag stands by itself. */
bool folds_add(struct folds *folds, const struct flag *flag);
/* The lines as items (not judged yet), those of most trees first. What they point at lives in
 * folds, which they complete. Returns how many. */
int32_t folds_lines(struct folds *folds, struct review_item out[FOLDS_MAX]);
/* The key of the folded line that a flag with a fact goes into. */
void folds_key(const struct flag *flag, char out[FLAG_KEY_SIZE]);

#endif
