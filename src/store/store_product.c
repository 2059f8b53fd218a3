/* SPDX-License-Identifier: MIT */
#include "rows.h"
#include "statements.h"

enum { PRODUCT_ADD, PRODUCT_LIST };

#define PRODUCT_FIELDS "name, n_mpct, p2o5_mpct, k2o_mpct, elements, bag_mg, cup_mg"

const struct statement product_statements[] = {
	[PRODUCT_ADD] = {"product.add",
		"INSERT INTO product (id, made, " PRODUCT_FIELDS ", name_folded) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)"},
	[PRODUCT_LIST] = {"product.list",
		"SELECT id, " PRODUCT_FIELDS
		" FROM product WHERE struck = 0 ORDER BY name_folded, id"},
	{NULL, NULL},
};

/* In the order of PRODUCT_FIELDS and the folded name. */
static enum status product_fields(struct store *store, const struct product *product,
	char folded[FOLDED_SIZE], struct row_fields *out, struct fault *why)
{
	out->table = "product";
	out->insert = &product_statements[PRODUCT_ADD];
	fields_add(out, "name", value_text(product->name));
	fields_add(out, "n_mpct", value_maybe_i32(product->n_mpct));
	fields_add(out, "p2o5_mpct", value_maybe_i32(product->p2o5_mpct));
	fields_add(out, "k2o_mpct", value_maybe_i32(product->k2o_mpct));
	fields_add(out, "elements", value_text(product->elements));
	fields_add(out, "bag_mg", value_maybe_i64(product->bag_mg));
	fields_add(out, "cup_mg", value_maybe_i64(product->cup_mg));
	fields_add(out, "name_folded", value_text(name_fold(product->name, folded)));
	enum status status = text_within(product->name, NAME_SIZE - 1, true, "product's name", why);
	if (status == STATUS_OK)
		status = name_is_free(store, "product", product->name, product->id, why);
	return status;
}

enum status store_product_add(struct store *store, struct product *product, struct fault *why)
{
	char folded[FOLDED_SIZE];
	struct row_fields fields = {0};
	enum status status = product_fields(store, product, folded, &fields, why);
	return status == STATUS_OK ? row_insert(store, &fields, product->id, why) : status;
}

enum status store_product_save(
	struct store *store, const struct product *product, struct fault *why)
{
	char folded[FOLDED_SIZE];
	struct row_fields fields = {0};
	enum status status = product_fields(store, product, folded, &fields, why);
	return status == STATUS_OK ? row_save(store, &fields, product->id, why) : status;
}

static void read_product(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	struct product *product = out;
	column_copy(statement, 0, product->id, sizeof product->id);
	column_copy(statement, 1, product->name, sizeof product->name);
	product->n_mpct = column_maybe_i32(statement, 2);
	product->p2o5_mpct = column_maybe_i32(statement, 3);
	product->k2o_mpct = column_maybe_i32(statement, 4);
	product->elements = column_arena(statement, 5, arena);
	product->bag_mg = column_maybe_i64(statement, 6);
	product->cup_mg = column_maybe_i64(statement, 7);
}

static const struct row_reader product_reader = {read_product, sizeof(struct product)};

enum status store_product_list(struct store *store, struct arena *arena, struct product **out,
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(store, &product_statements[PRODUCT_LIST],
		&product_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}
