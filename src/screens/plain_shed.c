/* SPDX-License-Identifier: MIT */
/* Line mode: products and containers. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "dossier/shed.h"
#include "plain_inner.h"
#include "shed.h"

struct stock {
	struct product *products;
	struct container *containers;
	struct container_weight *weights;
	int32_t product_count, container_count, weight_count;
};

static bool read_stock(struct plain *plain, struct arena *arena, struct stock *out)
{
	struct fault why = {.status = STATUS_OK};
	struct store *store = plain->session->store;
	*out = (struct stock){.product_count = 0};
	enum status status =
		store_product_list(store, arena, &out->products, &out->product_count, &why);
	if (status == STATUS_OK)
		status = store_container_list(store, arena, &out->containers, &out->container_count,
			&out->weights, &out->weight_count, &why);
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
	return status == STATUS_OK;
}

void plain_shed(struct plain *plain)
{
	struct arena *arena = arena_new();
	struct stock stock;
	const bool is_read = read_stock(plain, arena, &stock);
	for (int32_t i = 0; is_read && i < stock.product_count; i++)
		plain_say(plain, "product %s: %s. %s", stock.products[i].name,
			shed_product_words(&stock.products[i], plain->session, arena),
			stock.products[i].elements);
	for (int32_t i = 0; is_read && i < stock.container_count; i++) {
		const struct container *container = &stock.containers[i];
		plain_say(plain, "container %s. %s", container->name,
			shed_container_words(container, plain->session, arena));
		const char *at = shed_weight_words(
			container, stock.weights, stock.weight_count, plain->session, arena);
		for (; *at != '\0'; at += strcspn(at, "\n") + 1)
			plain_say(plain, "  %.*s", (int)strcspn(at, "\n"), at);
	}
	if (is_read && stock.product_count + stock.container_count == 0)
		plain_say(plain, "Nothing is kept here yet; say product or container.");
	arena_free(arena);
}

/* "" : none is called so. */
static const char *id_named(const struct stock *stock, bool is_container, const char *name)
{
	for (int32_t i = 0; !is_container && i < stock->product_count; i++)
		if (text_same(stock->products[i].name, name))
			return stock->products[i].id;
	for (int32_t i = 0; is_container && i < stock->container_count; i++)
		if (text_same(stock->containers[i].name, name))
			return stock->containers[i].id;
	return "";
}

void plain_shed_tell(struct plain *plain, bool is_container, const char *name)
{
	struct arena *arena = arena_new();
	struct shed_form *shed = block_new(sizeof *shed);
	struct stock stock;
	struct fault why = {.status = STATUS_OK};
	if (read_stock(plain, arena, &stock)) {
		const char *id = id_named(&stock, is_container, name);
		shed_form_start(shed, is_container);
		if (id[0] != '\0')
			(void)shed_form_load(shed, plain->session, id, arena);
		else
			form_load(&shed->form, 0, name);
		if (plain_ask_form(plain, &shed->form) && shed_form_differs(shed))
			(void)plain_done(
				plain, shed_form_keep(shed, plain->session, &why), "Saved.", &why);
		else
			plain_say(plain, "Nothing was changed.");
	}
	block_free(shed);
	arena_free(arena);
}

void plain_shed_remove(struct plain *plain, const char *words)
{
	struct arena *arena = arena_new();
	struct stock stock;
	struct fault why = {.status = STATUS_OK};
	const bool is_container = text_starts(words, "container ");
	const char *name = words + strcspn(words, " ");
	name += strspn(name, " ");
	if (!is_container && !text_starts(words, "product ")) {
		plain_say(plain, "Say remove product NAME, or remove container NAME.");
	} else if (read_stock(plain, arena, &stock)) {
		const char *id = id_named(&stock, is_container, name);
		if (id[0] == '\0')
			plain_say(plain, "There is none called %s; say shed for the list.", name);
		else
			(void)plain_done(plain,
				shed_remove(plain->session->yard,
					is_container ? "container" : "product", id, name, &why),
				"Removed; undo brings it back.", &why);
	}
	arena_free(arena);
}
