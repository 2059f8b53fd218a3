/* SPDX-License-Identifier: MIT */
/* Flags as text: figures that end with a blank, and texts behind the count of their bytes. */
#include "kept.h"

#include <stdlib.h>
#include <string.h>

#include "core/sha256.h"
#include "core/text.h"
#include "report/rules_version.h"
#include "rules/rule.h"

struct kept_tree *kept_add(struct kept_whole *whole)
{
	if (whole->count == whole->capacity) {
		int32_t capacity = whole->capacity == 0 ? 4 : whole->capacity * 2;
		size_t size = sizeof *whole->trees;
		whole->trees = arena_grow(whole->arena, whole->trees, (size_t)whole->count * size,
			(size_t)capacity * size);
		whole->capacity = capacity;
	}
	struct kept_tree *tree = &whole->trees[whole->count++];
	tree->found.arena = whole->arena;
	return tree;
}

/* --- writing --- */

static void put_number(struct text_builder *out, int64_t number)
{
	text_add_format(out, "%lld ", (long long)number);
}

static void put_text(struct text_builder *out, const char *text)
{
	put_number(out, (int64_t)strlen(text));
	text_add(out, text);
}

static void put_day(struct text_builder *out, struct maybe_date day)
{
	put_number(out, day.known);
	put_number(out, day.known ? day.value.day : 0);
}

static void put_amount(struct text_builder *out, struct maybe_i64 amount)
{
	put_number(out, amount.known);
	put_number(out, amount.known ? amount.value : 0);
}

static void put_flag(struct text_builder *out, const struct flag *flag)
{
	put_text(out, flag->rule);
	put_text(out, flag->tree_id);
	put_text(out, flag->label);
	put_number(out, flag->urgency);
	put_day(out, flag->began);
	put_day(out, flag->window_from);
	put_day(out, flag->window_to);
	put_text(out, flag->says);
	put_text(out, flag->action);
	put_text(out, flag->source);
	put_text(out, flag->basis);
	put_amount(out, flag->crop_at_risk_mg);
	put_amount(out, flag->crop_at_risk_low_mg);
	put_amount(out, flag->crop_at_risk_high_mg);
	put_number(out, flag->seasons);
	put_number(out, flag->entry_count);
	for (int32_t i = 0; i < flag->entry_count; i++)
		put_text(out, flag->entries[i]);
	put_text(out, flag->key);
	put_text(out, flag->fact);
	put_text(out, flag->fills);
	put_number(out, flag->evidence_count);
	for (int32_t i = 0; i < flag->evidence_count; i++)
		put_text(out, flag->evidence[i]);
	put_number(out, flag->settles);
}

const char *kept_write(const struct kept_whole *whole, struct arena *arena)
{
	struct text_builder out = text_builder_in(arena);
	text_add(&out, "");
	for (int32_t i = 0; i < whole->count; i++) {
		const struct kept_tree *tree = &whole->trees[i];
		put_text(&out, tree->tree_id);
		put_number(&out, tree->over_fence);
		put_number(&out, tree->found.count);
		for (int32_t k = 0; k < tree->found.count; k++)
			put_flag(&out, &tree->found.items[k]);
	}
	return out.text;
}

/* --- reading --- */

/* What is left of the text; `bad` once something is not as it was written. */
struct reading_kept {
	const char *at;
	struct arena *arena;
	bool bad;
};

static int64_t take_number(struct reading_kept *in)
{
	char *end;
	long long number = strtoll(in->at, &end, 10);
	in->bad = in->bad || end == in->at || *end != ' ';
	if (in->bad)
		return 0;
	in->at = end + 1;
	return number;
}

static int32_t take_small(struct reading_kept *in, int32_t least, int32_t most)
{
	int64_t number = take_number(in);
	in->bad = in->bad || number < least || number > most;
	return in->bad ? least : (int32_t)number;
}

/* Its first byte, and its length. */
static const char *take_bytes(struct reading_kept *in, size_t *length)
{
	*length = (size_t)take_small(in, 0, INT32_MAX);
	in->bad = in->bad || strnlen(in->at, *length) < *length;
	if (in->bad)
		*length = 0;
	const char *bytes = in->at;
	in->at += *length;
	return bytes;
}

static void take_text(struct reading_kept *in, char *out, size_t size)
{
	size_t length;
	const char *bytes = take_bytes(in, &length);
	in->bad = in->bad || length >= size;
	if (in->bad)
		return;
	memcpy(out, bytes, length);
	out[length] = '\0';
}

static const char *take_long_text(struct reading_kept *in)
{
	size_t length;
	const char *bytes = take_bytes(in, &length);
	return arena_text_n(in->arena, bytes, length);
}

static struct maybe_date take_day(struct reading_kept *in)
{
	bool known = take_small(in, 0, 1) == 1;
	struct date day = {take_small(in, INT32_MIN, INT32_MAX)};
	return known ? known_date(day) : (struct maybe_date){0};
}

static struct maybe_i64 take_amount(struct reading_kept *in)
{
	bool known = take_small(in, 0, 1) == 1;
	int64_t amount = take_number(in);
	return known ? known_i64(amount) : (struct maybe_i64){0};
}

static const char *take_rule(struct reading_kept *in)
{
	char id[KEY_SIZE] = "";
	take_text(in, id, sizeof id);
	const struct rule *rule = in->bad ? NULL : rule_find(id);
	in->bad = rule == NULL;
	return in->bad ? "" : rule->id;
}

static void take_flag(struct reading_kept *in, struct flag *flag)
{
	flag->rule = take_rule(in);
	take_text(in, flag->tree_id, sizeof flag->tree_id);
	take_text(in, flag->label, sizeof flag->label);
	flag->urgency = (enum urgency)take_small(in, URGENCY_ACT, URGENCY_LEAVE);
	flag->began = take_day(in);
	flag->window_from = take_day(in);
	flag->window_to = take_day(in);
	take_text(in, flag->says, sizeof flag->says);
	take_text(in, flag->action, sizeof flag->action);
	flag->source = take_long_text(in);
	take_text(in, flag->basis, sizeof flag->basis);
	flag->crop_at_risk_mg = take_amount(in);
	flag->crop_at_risk_low_mg = take_amount(in);
	flag->crop_at_risk_high_mg = take_amount(in);
	flag->seasons = take_small(in, INT32_MIN, INT32_MAX);
	flag->entry_count = take_small(in, 0, FLAG_ENTRIES_MAX);
	for (int32_t i = 0; i < flag->entry_count; i++)
		take_text(in, flag->entries[i], ID_SIZE);
	take_text(in, flag->key, sizeof flag->key);
	take_text(in, flag->fact, sizeof flag->fact);
	take_text(in, flag->fills, sizeof flag->fills);
	flag->evidence_count = take_small(in, 0, FLAG_EVIDENCE_MAX);
	for (int32_t i = 0; i < flag->evidence_count; i++)
		flag->evidence[i] = take_long_text(in);
	flag->settles = (enum entry_kind)take_small(in, 0, KIND_TOTAL);
}

static void take_tree(struct reading_kept *in, struct kept_tree *tree)
{
	enum { FLAGS_MOST = 10000 };
	take_text(in, tree->tree_id, sizeof tree->tree_id);
	tree->over_fence = take_small(in, 0, 1) == 1;
	int32_t count = take_small(in, 0, FLAGS_MOST);
	tree->found.items = arena_array(in->arena, (size_t)count + 1, sizeof(struct flag));
	tree->found.capacity = count + 1;
	while (!in->bad && tree->found.count < count)
		take_flag(in, &tree->found.items[tree->found.count++]);
}

bool kept_read(const char *text, struct kept_whole *out)
{
	struct reading_kept in = {.at = text, .arena = out->arena};
	while (!in.bad && *in.at != '\0')
		take_tree(&in, kept_add(out));
	return !in.bad;
}

/* --- the digest --- */

const char *kept_digest(const struct yard *yard, char out[KEPT_DIGEST_SIZE])
{
	enum { DIGITS = 32 };
	char hex[SHA256_TEXT_SIZE];
	struct sha256 digest = sha256_start();
	const char *almanac = almanac_digest(yard_almanac(yard));
	const char *units = yard_told_in(yard) == UNITS_US ? "us" : "si";
	sha256_add(&digest, rules_version, strlen(rules_version) + 1);
	sha256_add(&digest, almanac, strlen(almanac) + 1);
	sha256_add(&digest, units, strlen(units) + 1);
	/* what was kept speaks of private entries too */
	if (store_leaves_out_private(yard_store(yard)))
		sha256_add(&digest, "private", sizeof "private");
	(void)text_copy_n(out, KEPT_DIGEST_SIZE, sha256_end(&digest, hex), DIGITS);
	return out;
}
