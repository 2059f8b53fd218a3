/* SPDX-License-Identifier: MIT */
/* The line mode: what is known of a tree, question by question. */
#include <string.h>

#include "core/text.h"
#include "facts.h"
#include "plain_inner.h"

bool plain_ask_form(struct plain *plain, struct form *form)
{
	char prompt[EDIT_SIZE + 200];
	plain_say(plain, "A blank line leaves what stands; a dash empties it.");
	for (int i = 0; i < form->count; i++) {
		const struct form_field *field = &form->fields[i];
		const char *now = form_text(form, i);
		(void)snprintf(prompt, sizeof prompt, "%s, now %s (%s)?", field->label,
			now[0] != '\0' ? now : "blank", field->hint);
		if (!plain_ask(plain, prompt))
			return false;
		if (plain->line[0] != '\0')
			form_load(form, i, strcmp(plain->line, "-") == 0 ? "" : plain->line);
	}
	return true;
}

void plain_facts(struct plain *plain, const struct tree *tree)
{
	struct facts *facts = block_new(sizeof *facts);
	struct arena *arena = arena_new();
	char asked[TEXT_SIZE] = "", said[TEXT_SIZE + 32];
	struct fault why = {.status = STATUS_OK};
	enum status status = facts_load(facts, plain->session, tree->id, arena, &why);
	if (status == STATUS_OK && plain_ask_form(plain, &facts->form)) {
		if (facts_differ(facts)) {
			status = facts_keep(facts, plain->session, asked, &why);
			(void)snprintf(said, sizeof said, "Saved. %s", asked);
			(void)plain_done(plain, status, said, &why);
		} else {
			plain_say(plain, "Nothing was changed.");
		}
	} else if (status != STATUS_OK) {
		plain_say(plain, "%s", why.text);
	}
	arena_free(arena);
	block_free(facts);
}
