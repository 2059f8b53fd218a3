/* SPDX-License-Identifier: MIT */
/* The almanac, the history, what was answered, and the search, line by line. */
#include <string.h>

#include "core/text.h"
#include "plain_inner.h"
#include "store/search.h"

enum { ACTS_MAX = 20, DONE_MAX = 40, HITS_MAX = 50 };

static void say_fault(struct plain *plain, enum status status, const struct fault *why)
{
	if (status != STATUS_OK)
		plain_say(plain, "%s", why->text);
}

void plain_almanac(struct plain *plain, const char *kind)
{
	const struct almanac_question question = {
		.kind = kind[0] != '\0' ? kind : NULL, .on_screen = true};
	struct fault why = {.status = STATUS_OK};
	const struct session *session = plain->session;
	say_fault(plain,
		print_almanac(&plain->printer, session->almanac, session->yard, &question, &why),
		&why);
}

/* One act and what it did; then it can be taken back. */
static void say_act(struct plain *plain, const struct change_row *act, struct arena *arena)
{
	struct change_row *rows = NULL;
	int32_t count = 0;
	struct fault why = {.status = STATUS_OK};
	plain_say(plain, "%.10s: %s%s%s", act->typed_at, act->taken_back ? "taken back: " : "",
		strcmp(act->kind, "undo") == 0 ? "undone: " : "", act->what);
	say_fault(plain,
		store_history_set(
			plain->session->store, act->set_id, DONE_MAX, arena, &rows, &count, &why),
		&why);
	const char *words = history_words(rows, count, arena);
	for (const char *at = words; *at != '\0';) {
		const size_t length = strcspn(at, "\n");
		plain_say(plain, "  %.*s", (int)length, at);
		at += length + (at[length] == '\n');
	}
}

static void take_back(struct plain *plain, const struct change_row *act)
{
	char what[TEXT_SIZE] = "", said[TEXT_SIZE + 32];
	struct fault why = {.status = STATUS_OK};
	enum status status = store_undo_set(plain->session->store, act->set_id, what, &why);
	struct text_builder words = text_builder_fixed(said, sizeof said);
	text_add_format(&words, "Taken back: %s", what);
	(void)plain_done(plain, status, said, &why);
}

void plain_history(struct plain *plain)
{
	struct arena *arena = arena_new();
	struct change_row *acts = NULL;
	int32_t count = 0;
	struct fault why = {.status = STATUS_OK};
	say_fault(plain,
		store_history(plain->session->store, NULL, ACTS_MAX, arena, &acts, &count, &why),
		&why);
	for (int32_t i = 0; i < count; i++) {
		say_act(plain, &acts[i], arena);
		if (!plain_ask(plain, "Enter: the act before. x: take it back. q: enough."))
			break;
		if (plain_is(plain, "x"))
			take_back(plain, &acts[i]);
		if (plain->line[0] != '\0')
			break;
	}
	arena_free(arena);
}

void plain_answered(struct plain *plain)
{
	const struct review_options options = {.all = true};
	struct arena *arena = arena_new();
	struct review review = {.count = 0};
	struct fault why = {.status = STATUS_OK};
	int32_t told = 0;
	enum status status = review_make(plain->session->yard, &options, arena, &review, &why);
	say_fault(plain, status, &why);
	for (int32_t i = 0; status == STATUS_OK && i < review.count; i++) {
		const struct review_item *item = &review.items[i];
		if (item->state == FLAG_OPEN)
			continue;
		told++;
		plain_say(plain, "%s, %s: %s%s%s", item->flag.label, flag_state_key(item->state),
			item->flag.says,
			item->reason != NULL && item->reason[0] != '\0' ? " Because: " : "",
			item->reason != NULL ? item->reason : "");
		if (!plain_ask(plain, "Enter: the next. x: ask about it again. q: enough."))
			break;
		if (plain_is(plain, "x")) {
			status = work_ask_again(plain->session->yard, item->flag.key, &why);
			(void)plain_done(plain, status, "The review speaks of it again.", &why);
		}
		if (plain->line[0] != '\0')
			break;
	}
	if (told == 0)
		plain_say(plain, "Nothing is put off or set aside.");
	arena_free(arena);
}

void plain_search(struct plain *plain, const char *text)
{
	struct arena *arena = arena_new();
	struct search_hit *hits = NULL;
	int32_t count = 0;
	struct fault why = {.status = STATUS_OK};
	say_fault(plain,
		store_search(plain->session->store, text, HITS_MAX, arena, &hits, &count, &why),
		&why);
	for (int32_t i = 0; i < count; i++)
		plain_say(plain, "%s%s%s, %s: %s", hits[i].day, hits[i].day[0] != '\0' ? ", " : "",
			hits[i].table_name, hits[i].label, hits[i].words);
	if (count == 0)
		plain_say(plain, text[0] == '\0' ? "Say what to look for after the word."
						 : "Nothing written holds this.");
	arena_free(arena);
}
