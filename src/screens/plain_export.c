/* SPDX-License-Identifier: MIT */
/* Line mode: what goes out, and to which file. */
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "core/text.h"
#include "going_out.h"
#include "plain_inner.h"

static void say_words(struct plain *plain)
{
	char title[LABEL_SIZE + 64];
	for (int32_t i = 0; i < going_out_count(); i++) {
		const struct going_out one = {.what = i};
		plain_say(plain, "export %s: %s", going_out_word(i),
			going_out_title(&one, title, sizeof title));
	}
}

/* A tree's label or a season behind the word. */
static bool read_of(struct plain *plain, const char *text, struct going_out *out)
{
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	if (text[0] == '\0')
		return true;
	if (season_parse(text, &out->year.value, NULL) == STATUS_OK) {
		out->year.known = true;
		return true;
	}
	if (store_tree_find(plain->session->store, text, &tree, &why) != STATUS_OK) {
		plain_say(plain, "%s", why.text);
		return false;
	}
	(void)text_copy(out->tree_id, sizeof out->tree_id, tree.id);
	(void)text_copy(out->label, sizeof out->label, tree.label);
	return true;
}

/* What stands there is replaced only when that was said. */
static bool may_write(struct plain *plain, const char *path)
{
	if (access(path, F_OK) != 0)
		return true;
	if (plain_ask(plain, "That file is there. Replace it? y or blank>") && plain_is(plain, "y"))
		return true;
	plain_say(plain, "Nothing was written.");
	return false;
}

static void ask_and_write(struct plain *plain, struct going_out *out)
{
	char path[FILE_PATH_SIZE], title[LABEL_SIZE + 64];
	struct fault why = {.status = STATUS_OK};
	going_out_usual(out, plain->session, path);
	plain_say(plain, "%s, to %s.", going_out_title(out, title, sizeof title), path);
	if (!plain_ask(plain, "Blank: so. Else another file, or stop>") || plain_is(plain, "stop"))
		return;
	if (plain->line[0] != '\0')
		(void)text_copy(path, sizeof path, plain->line);
	if (!may_write(plain, path))
		return;
	if (going_out_leaves_out(out)) {
		if (!plain_ask(plain, "Leave out trees marked private? y or blank>"))
			return;
		out->without_private = plain_is(plain, "y");
	}
	if (going_out_write(out, plain->session, path, &why) == STATUS_OK)
		plain_say(plain, "Written: %s", path);
	else
		plain_say(plain, "Not written: %s", why.text);
}

void plain_export(struct plain *plain, const char *words)
{
	const size_t length = strcspn(words, " ");
	struct going_out out = {.what = going_out_find(words, length)};
	if (out.what < 0)
		say_words(plain);
	else if (read_of(plain, words + length + strspn(words + length, " "), &out))
		ask_and_write(plain, &out);
}
