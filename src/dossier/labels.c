/* SPDX-License-Identifier: MIT */
/* Which labels of the yard may be near one another (label_is_near), told without a look at each
 * pair: labels by a mark of what near ones have in common. Two that share a mark by chance are
 * told to be near, and whoever asks then looks at the trees themselves. */
#include <string.h>

#include "core/label_range.h"
#include "core/text.h"
#include "dossier/inner.h"

struct label_mark {
	uint64_t bare; /* 0: none */
	uint64_t folded;
	bool several; /* more than one label has it */
};

struct label_marks {
	struct label_mark *table;
	size_t size;
};

struct marking {
	struct arena *arena;
	struct label_mark *marks;
	size_t count;
	size_t capacity;
};

static uint64_t mix_text(const char *text)
{
	uint64_t mix = 1469598103934665603U; /* FNV-1a */
	for (; *text != '\0'; text++)
		mix = (mix ^ (unsigned char)*text) * 1099511628211U;
	return mix | 1;
}

static struct label_mark mark_of(const char *folded)
{
	char bare[LABEL_FOLDED_SIZE];
	return (struct label_mark){
		.bare = mix_text(label_bare(folded, bare, sizeof bare)),
		.folded = mix_text(folded),
	};
}

static void take_label(void *context, const char *folded)
{
	struct marking *marking = context;
	if (marking->count == marking->capacity) {
		size_t size = sizeof *marking->marks;
		size_t capacity = marking->capacity == 0 ? 64 : marking->capacity * 2;
		marking->marks = arena_grow(
			marking->arena, marking->marks, marking->count * size, capacity * size);
		marking->capacity = capacity;
	}
	marking->marks[marking->count++] = mark_of(folded);
}

static struct label_mark *place_of(const struct label_marks *marks, uint64_t bare)
{
	size_t at = bare % marks->size;
	while (marks->table[at].bare != 0 && marks->table[at].bare != bare)
		at = (at + 1) % marks->size;
	return &marks->table[at];
}

static const struct label_marks *make_marks(struct arena *arena, const struct marking *marking)
{
	struct label_marks *marks = arena_alloc(arena, sizeof *marks);
	marks->size = 2 * marking->count + 1;
	marks->table = arena_array(arena, marks->size, sizeof *marks->table);
	for (size_t i = 0; i < marking->count; i++) {
		const struct label_mark *mark = &marking->marks[i];
		struct label_mark *place = place_of(marks, mark->bare);
		if (place->bare == 0)
			*place = *mark;
		else if (place->folded != mark->folded)
			place->several = true;
	}
	return marks;
}

enum status labels_load(struct yard *yard, struct fault *why)
{
	if (yard->labels != NULL)
		return STATUS_OK;
	struct marking marking = {.arena = arena_new()};
	enum status status = store_label_each(yard->store, take_label, &marking, why);
	if (status == STATUS_OK)
		yard->labels = make_marks(yard->arena, &marking);
	arena_free(marking.arena);
	return status;
}

bool labels_may_be_near(const struct label_marks *labels, const char *label)
{
	char folded[LABEL_FOLDED_SIZE];
	if (labels == NULL)
		return true;
	(void)text_fold(label, folded, sizeof folded);
	const struct label_mark own = mark_of(folded);
	const struct label_mark *place = place_of(labels, own.bare);
	return place->bare != 0 && (place->several || place->folded != own.folded);
}
