/* SPDX-License-Identifier: MIT */
/* Flags as text: figures that end with a blank, and texts behind the count of their bytes. */
#include "kept.h"

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

/* What a review goes by comes first; of many flags nothing else is ever read. */
static void put_head(
	struct text_builder *out, const struct kept_tree *tree, const struct flag *flag)
{
	const bool own = strcmp(flag->tree_id, tree->tree_id) == 0;
	put_number(out, rule_find(flag->rule) - rule_table());
	put_text(out, own ? "" : flag->tree_id);
	put_text(out, flag->label);
	put_number(out, flag->urgency);
	put_text(out, flag->key);
	put_text(out, flag->fact);
}

static void put_body(struct text_builder *out, const struct flag *flag)
{
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
	put_text(out, flag->fills);
	put_number(out, flag->evidence_count);
	for (int32_t i = 0; i < flag->evidence_count; i++)
		put_text(out, flag->evidence[i]);
	put_number(out, flag->settles);
}

static void put_flag(struct text_builder *out, struct arena *arena, const struct kept_tree *tree,
	const struct flag *flag)
{
	struct text_builder body = text_builder_in(arena);
	put_body(&body, flag);
	put_head(out, tree, flag);
	put_text(out, body.text);
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
			put_flag(&out, arena, tree, &tree->found.items[k]);
	}
	return out.text;
}

/* --- reading --- */

/* What is left of the text; `bad` once something is not as it was written. */
struct reading_kept {
	const char *at;
	const char *end;
	struct arena *arena;
	int32_t rules; /* how many there are */
	bool bad;
};

static int64_t take_number(struct reading_kept *in)
{
	enum { DIGITS_MOST = 18 };
	const bool below = *in->at == '-';
	const char *first = in->at + below;
	const char *at = first;
	int64_t number = 0;
	for (; *at >= '0' && *at <= '9' && at - first < DIGITS_MOST; at++)
		number = number * 10 + (*at - '0');
	in->bad = in->bad || at == first || *at != ' ' || at >= in->end;
	if (in->bad)
		return 0;
	in->at = at + 1;
	return below ? -number : number;
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
	in->bad = in->bad || *length > (size_t)(in->end - in->at);
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
	return rule_table()[take_small(in, 0, in->rules - 1)].id;
}

static void take_head(struct reading_kept *in, const struct kept_tree *tree, struct flag *flag)
{
	flag->rule = take_rule(in);
	take_text(in, flag->tree_id, sizeof flag->tree_id);
	if (flag->tree_id[0] == '\0')
		memcpy(flag->tree_id, tree->tree_id, sizeof flag->tree_id);
	take_text(in, flag->label, sizeof flag->label);
	flag->urgency = (enum urgency)take_small(in, URGENCY_ACT, URGENCY_LEAVE);
	take_text(in, flag->key, sizeof flag->key);
	take_text(in, flag->fact, sizeof flag->fact);
}

static void take_body(struct reading_kept *in, struct flag *flag)
{
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
	take_text(in, flag->fills, sizeof flag->fills);
	flag->evidence_count = take_small(in, 0, FLAG_EVIDENCE_MAX);
	for (int32_t i = 0; i < flag->evidence_count; i++)
		flag->evidence[i] = take_long_text(in);
	flag->settles = (enum entry_kind)take_small(in, 0, KIND_TOTAL);
}

/* Of one that is not wanted the rest says nothing. */
static void leave_body(struct flag *flag)
{
	flag->began = flag->window_from = flag->window_to = (struct maybe_date){0};
	flag->crop_at_risk_mg = flag->crop_at_risk_low_mg = flag->crop_at_risk_high_mg =
		(struct maybe_i64){0};
	flag->says[0] = flag->action[0] = flag->basis[0] = flag->fills[0] = '\0';
	flag->source = "";
	flag->seasons = flag->entry_count = flag->evidence_count = 0;
	flag->settles = KIND_TOTAL;
}

static void take_flag(struct reading_kept *in, const struct kept_wish *wish,
	const struct kept_tree *tree, struct flag *flag)
{
	size_t length;
	take_head(in, tree, flag);
	struct reading_kept body = {.at = take_bytes(in, &length), .arena = in->arena};
	body.end = body.at + length;
	if (in->bad || (wish != NULL && !wish->wants(wish->owner, tree, flag))) {
		leave_body(flag);
		return;
	}
	take_body(&body, flag);
	in->bad = body.bad || body.at != body.end;
}

/* Room for so many flags, not cleared: each of their fields is set by who reads. */
static struct flag *make_room(struct kept_whole *whole, int32_t used, int32_t count)
{
	struct kept_room *room = whole->room;
	if (room == NULL || used + count > room->capacity)
		return arena_array(whole->arena, (size_t)count + 1, sizeof(struct flag));
	return room->flags + used;
}

static void take_tree(struct reading_kept *in, const struct kept_wish *wish,
	struct kept_whole *whole, int32_t *used)
{
	enum { FLAGS_MOST = 10000 };
	struct kept_tree *tree = kept_add(whole);
	take_text(in, tree->tree_id, sizeof tree->tree_id);
	tree->over_fence = take_small(in, 0, 1) == 1;
	int32_t count = take_small(in, 0, FLAGS_MOST);
	if (in->bad)
		return;
	tree->found.items = make_room(whole, *used, count);
	tree->found.capacity = count;
	*used += count;
	while (!in->bad && tree->found.count < count)
		take_flag(in, wish, tree, &tree->found.items[tree->found.count++]);
}

static int32_t rules_count(void)
{
	int32_t count = 0;
	while (rule_table()[count].id != NULL)
		count++;
	return count;
}

bool kept_read(const char *text, const struct kept_wish *wish, struct kept_whole *out)
{
	struct reading_kept in = {.at = text,
		.end = text + strlen(text),
		.arena = out->arena,
		.rules = rules_count()};
	int32_t used = 0;
	while (!in.bad && *in.at != '\0')
		take_tree(&in, wish, out, &used);
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
