/* SPDX-License-Identifier: MIT */
/* Whom a tree needs, where it comes from, and what became of the fruit. */
#include "plain_inner.h"

void plain_stock(struct plain *plain, const char *year)
{
	struct arena *arena = arena_new();
	struct stock_options options = {.year = {.known = year[0] != '\0'}};
	struct stock_report report;
	struct fault why = {.status = STATUS_OK};
	enum status status = STATUS_OK;
	if (options.year.known)
		status = season_parse(year, &options.year.value, &why);
	if (status == STATUS_OK)
		status = stock_report_make(plain->session->yard, &options, arena, &report, &why);
	if (status == STATUS_OK)
		status = print_stock(&plain->printer, &report, plain->session->yard, &why);
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
	arena_free(arena);
}

/* A page about the one tree that is named. */
static void say_of_tree(struct plain *plain, const char *label,
	enum status (*print)(const struct printer *printer, struct yard *yard, const char *tree_id,
		struct fault *why))
{
	struct tree tree;
	struct fault why = {.status = STATUS_OK};
	enum status status = store_tree_find(plain->session->store, label, &tree, &why);
	if (label[0] == '\0')
		plain_say(plain, "Say the tree's label after the word.");
	else if (status != STATUS_OK ||
		 print(&plain->printer, plain->session->yard, tree.id, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
}

void plain_partners(struct plain *plain, const char *label)
{
	say_of_tree(plain, label, print_partners);
}

void plain_descent(struct plain *plain, const char *label)
{
	say_of_tree(plain, label, print_descent);
}

void plain_bloom(struct plain *plain, const char *nothing)
{
	struct fault why = {.status = STATUS_OK};
	(void)nothing;
	if (print_bloom(&plain->printer, plain->session->yard, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
}
