/* SPDX-License-Identifier: MIT */
/* Shares, pieces and the grower's own containers. */
#include <string.h>

#include "core/line_parts.h"

enum { PHRASE_WORDS_MAX = 4 };

static const struct {
	const char *words;
	int64_t permille;
} share_words[] = {
	{"a_third one_third third_of", 333},
	{"two_thirds", 667},
	{"a_half one_half half", 500},
	{"a_quarter one_quarter quarter_of", 250},
	{"three_quarters", 750},
	{"a_fifth one_fifth", 200},
	{"a_tenth one_tenth", 100},
	{"nearly_all almost_all", 950},
};

static const char *const container_nouns[] = {"bag", "sack", "bucket", "pail", "basket", "box",
	"crate", "bin", "tray", "punnet", "tub", "pot", "stockpot", "pan", "bowl", "jar",
	"wheelbarrow", "barrow", "barrowload", "colander", "flat", "lug", "trug", "hamper",
	"carton", "tote", "hat", "jug", "can", "hatful", "bagful", "bucketful", "barrel", "tin"};

/* --- shares --- */

/* A share of what is named behind it; how many bytes that takes. */
static size_t share_base(struct line_work *work, size_t at, enum field *field)
{
	const char *low = work->low + at + strspn(work->low + at, " ");
	size_t of = plain_word_of(low, "of of_the of_its off_the");
	low += of + (of > 0);
	size_t crown = plain_word_of(low, "crown canopy tree top head leaf wood");
	size_t shoots = plain_word_of(low,
		"shoots new_shoots last_year's_shoots last_years_shoots last_year's_growth "
		"this_year's_growth last_season's_shoots growth new_growth twigs shoot");
	*field = crown > 0 ? FIELD_SHARE_CROWN : shoots > 0 ? FIELD_SHARE_SHOOTS : FIELD_SHARE;
	if (crown + shoots == 0)
		return 0;
	return (size_t)(low - (work->low + at)) + crown + shoots;
}

static bool word_share(struct line_work *work, size_t at, struct quantity *out)
{
	const char *low = work->low + at;
	size_t about = plain_word_of(low, "about around roughly nearly some almost");
	about += about > 0 && low[about] == ' ';
	if (low[0] == '~')
		about = 1;
	for (size_t i = 0; i < sizeof(share_words) / sizeof(share_words[0]); i++) {
		size_t used = plain_word_of(low + about, share_words[i].words);
		const char *rest = low + about + used;
		/* "half a wheelbarrow", "half an inch": an amount, not a share. */
		if (used == 0 || plain_word_of(rest + (*rest == ' '), "a an dozen") > 0)
			continue;
		out->amount.low = known_i64(share_words[i].permille);
		out->to = at + about + used;
		out->amount.about = about > 0;
		return true;
	}
	return false;
}

enum status line_scan_share(struct line_work *work, size_t at, struct quantity *out)
{
	*out = (struct quantity){.from = at};
	if (word_share(work, at, out)) {
		out->amount.high = out->amount.low;
	} else {
		enum status status = line_scan_quantity(work, at, out);
		if (status != STATUS_OK)
			return STATUS_ABSENT;
		/* 1/3 and its like: a bare fraction of one; "half a" is the start of an amount. */
		bool fraction = out->amount.dimension == DIMENSION_NONE && out->notes.low > 0 &&
				out->notes.high < 1 && out->amount.high.known &&
				strstr(out->amount.typed, "half") == NULL;
		if (!fraction && out->amount.dimension != DIMENSION_SHARE)
			return STATUS_ABSENT;
	}
	size_t used = out->to - at;
	if (used >= TYPED_SIZE)
		return STATUS_ABSENT;
	out->amount.dimension = DIMENSION_SHARE;
	memcpy(out->amount.typed, work->text + at, used);
	out->amount.typed[used] = '\0';
	return STATUS_OK;
}

/* "20% of crown", "a third", "half of the shoots", "10 % of leaves". */
enum status line_read_share(struct line_work *work)
{
	struct quantity share;
	if (!line_has_field(work, FIELD_SHARE) ||
		line_scan_share(work, work->at, &share) != STATUS_OK)
		return STATUS_ABSENT;
	enum field field = FIELD_SHARE;
	work->has_number = true;
	if (share.amount.high.known && share.amount.high.value > 1000)
		return line_fail(work, STATUS_RANGE, share.from,
			"'%s' is more than the whole: a share is at most 100 %%",
			share.amount.typed);
	size_t base = share_base(work, share.to, &field);
	if (!line_has_field(work, field)) {
		field = FIELD_SHARE;
		base = 0;
	}
	enum status status = line_add_amount(work, field, &share);
	if (status == STATUS_OK)
		line_take(work, share.to + base - work->at);
	return status;
}

/* --- pieces --- */

size_t line_piece_noun(enum entry_kind kind, const char *low)
{
	switch (kind) {
	case KIND_CUT:
		return plain_word_of(low,
			"limb limbs branch branches shoots stubs strikes cuts stems leaders twigs");
	case KIND_FEED:
		return plain_word_of(low, "stakes spikes tablets sticks plugs pellets");
	case KIND_GRAFT:
		return plain_word_of(low, "grafts scions buds");
	case KIND_SOW:
		return plain_word_of(low, "seeds stones pips nuts kernels");
	case KIND_THIN:
	case KIND_PICK:
	case KIND_LOSS:
	case KIND_USE:
		return plain_word_of(low, "fruitlets fruits fruit clusters bunches");
	case KIND_PLANT:
		return plain_word_of(low, "trees plants");
	case KIND_MEASURE:
	case KIND_STAGE:
	case KIND_SAW:
	case KIND_WATER:
	case KIND_MULCH:
	case KIND_SPRAY:
	case KIND_MOVE:
	case KIND_POT_UP:
	case KIND_PROTECT:
	case KIND_SOIL_TEST:
	case KIND_PHOTO:
	case KIND_LEAVE:
	case KIND_NOTE:
	case KIND_DIED:
	case KIND_WEATHER:
	case KIND_TOTAL:
		break;
	}
	return 0;
}

/* --- containers --- */

/* A container's name in the words at some place. */
struct holder {
	size_t to; /* where the words end */
	bool is_known;
	char name[NAME_SIZE]; /* the log's own, or as typed in the singular */
	struct quantity each; /* "5-gal buckets": what one holds; from == to when nothing is said */
};

static bool is_noun(const char *low, size_t length, size_t *singular)
{
	for (size_t i = 0; i < sizeof(container_nouns) / sizeof(container_nouns[0]); i++) {
		size_t size = strlen(container_nouns[i]);
		if (length < size || strncmp(low, container_nouns[i], size) != 0)
			continue;
		bool plural = (length == size + 1 && low[size] == 's') ||
			      (length == size + 2 && strncmp(low + size, "es", 2) == 0);
		*singular = size;
		if (length == size || plural)
			return true;
	}
	return false;
}

/* One of the log's containers named by text[from..to), plural or not. */
static bool find_known(struct line_work *work, size_t from, size_t to, struct holder *out)
{
	struct name_match match;
	int32_t count = line_find(work, NAME_CONTAINER, from, to, &match, 1);
	if (count < 1 && to > from + 1 && work->low[to - 1] == 's')
		count = line_find(work, NAME_CONTAINER, from, to - 1, &match, 1);
	if (count < 1 && to > from + 2 && strncmp(work->low + to - 2, "es", 2) == 0)
		count = line_find(work, NAME_CONTAINER, from, to - 2, &match, 1);
	if (count < 1)
		return false;
	out->is_known = true;
	out->to = to;
	text_copy(out->name, sizeof(out->name), match.label);
	return true;
}

/* The words as they name it, without the asterisks of *large*. */
static void copy_name(const struct line_work *work, size_t from, size_t to, char out[NAME_SIZE])
{
	size_t at = 0;
	for (size_t i = from; i < to && at < NAME_SIZE - 1; i++) {
		if (work->text[i] != '*')
			out[at++] = work->text[i];
	}
	out[at] = '\0';
}

/* Up to four words that end in a container's noun, or that the log knows as a container. */
static bool holder_at(struct line_work *work, size_t from, struct holder *out)
{
	size_t ends[PHRASE_WORDS_MAX];
	int words = 0;
	size_t at = from;
	bool found = false;
	while (words < PHRASE_WORDS_MAX && !found) {
		size_t length = 0;
		size_t word = line_word(work, at, &length);
		size_t bare = length;
		while (bare > 0 && strchr("*.", work->low[word + bare - 1]) != NULL)
			bare--;
		bool stops =
			length == 0 || plain_is_digit(work->low[word]) ||
			plain_word_of(work->low + word, "of and from off to in on or with") > 0;
		if (stops)
			break;
		size_t singular = 0;
		size_t star = work->low[word] == '*';
		ends[words++] = word + length;
		if (is_noun(work->low + word + star, bare - star, &singular)) {
			copy_name(work, from, word + star + singular, out->name);
			out->to = word + length;
			found = true;
		}
		if (work->low[word + length] != ' ')
			break;
		at = word + length;
	}
	for (int i = words - 1; i >= 0; i--) {
		if (find_known(work, from, ends[i], out))
			return true;
	}
	return found;
}

/* "five-gallon buckets" behind a number: a volume, then a holder. */
static bool sized_holder_at(struct line_work *work, size_t from, struct holder *out)
{
	struct quantity each;
	struct fault *why = work->why;
	work->why = NULL;
	bool volume = line_scan_quantity(work, from, &each) == STATUS_OK &&
		      each.amount.dimension == DIMENSION_VOLUME && each.amount.high.known &&
		      each.amount.high.value == each.amount.low.value;
	work->why = why;
	if (!volume)
		return false;
	size_t at = each.to + strspn(work->low + each.to, " ");
	if (!holder_at(work, at, out))
		return false;
	out->each = each;
	copy_name(work, from, out->to, out->name);
	size_t length = strlen(out->name);
	if (length > 0 && out->name[length - 1] == 's' && !out->is_known)
		out->name[length - 1] = '\0';
	return true;
}

static enum field holder_field(const struct line_work *work, bool sized)
{
	if (work->kind == KIND_PICK || work->kind == KIND_LOSS || work->kind == KIND_USE)
		return sized ? FIELD_VOLUME : FIELD_WEIGHT;
	if (work->kind == KIND_WATER || work->kind == KIND_MULCH)
		return FIELD_VOLUME;
	if (work->kind == KIND_FEED)
		return sized ? FIELD_PRODUCT_VOLUME : FIELD_WORDS;
	return FIELD_NONE;
}

/* So many thousandths of what one holds, rounded once where it was said in one unit. */
static int64_t times(const struct quantity *each, int64_t thousandths)
{
	double count = (double)thousandths / 1000;
	const struct unit *unit = each->notes.unit;
	int64_t one = each->amount.low.value;
	if (unit != NULL && unit_to_base(unit, each->notes.low, false) == one)
		return unit_to_base(unit, count * each->notes.low, false);
	return round_i64(count * (double)one);
}

static enum status add_holder(
	struct line_work *work, struct quantity *count, const struct holder *holder)
{
	bool sized = holder->each.to > holder->each.from;
	enum field field = holder_field(work, sized);
	if (field == FIELD_WORDS) {
		enum status status = line_add_detail(work, field, count->from, holder->to);
		line_take(work, holder->to - work->at);
		return status;
	}
	struct amount *amount = &count->amount;
	double most = (double)amount->low.value / 1000 * (double)holder->each.amount.low.value;
	double top = (double)amount->high.value / 1000 * (double)holder->each.amount.low.value;
	if (most > AMOUNT_BASE_MAX || top > AMOUNT_BASE_MAX)
		return line_fail(
			work, STATUS_RANGE, count->from, "'%s' is too large", amount->typed);
	amount->dimension = field_row(field)->dimension;
	amount->containers_low = amount->low;
	amount->containers_high = amount->high;
	amount->low.known = sized;
	amount->high.known = sized && amount->high.known;
	if (sized) {
		amount->low.value = times(&holder->each, amount->containers_low.value);
		amount->high.value = times(&holder->each, amount->containers_high.value);
	} else {
		amount->low.value = 0;
		amount->high.value = 0;
	}
	text_copy(amount->container, sizeof(amount->container), holder->name);
	text_copy_n(amount->typed, sizeof(amount->typed), work->text + count->from,
		holder->to - count->from);
	count->to = holder->to;
	enum status status = line_add_amount(work, field, count);
	if (status == STATUS_OK)
		line_take(work, holder->to - work->at);
	return status;
}

enum status line_take_containers(struct line_work *work, struct quantity *count)
{
	bool bare = count->notes.unit == NULL && count->amount.dimension == DIMENSION_NONE;
	if (!bare || holder_field(work, false) == FIELD_NONE)
		return STATUS_ABSENT;
	struct holder holder = {.to = 0};
	size_t at = count->to + strspn(work->low + count->to, " ");
	if (!sized_holder_at(work, at, &holder) && !holder_at(work, at, &holder))
		return STATUS_ABSENT;
	return add_holder(work, count, &holder);
}

/* "a large wicker laundry basket", "bucket of compost": one. */
enum status line_read_containers(struct line_work *work)
{
	if (holder_field(work, false) == FIELD_NONE)
		return STATUS_ABSENT;
	size_t article = plain_word_of(work->low + work->at, "a an one");
	struct quantity one = {
		.from = work->at, .amount = {.low = known_i64(1000), .high = known_i64(1000)}};
	struct holder holder = {.to = 0};
	size_t at = work->at + article + (article > 0);
	if (!sized_holder_at(work, at, &holder) && !holder_at(work, at, &holder))
		return STATUS_ABSENT;
	/* Without an article the noun must come first, or the words mean something else. */
	size_t length = 0;
	(void)line_word(work, at, &length);
	if (article == 0 && !holder.is_known && at + length < holder.to)
		return STATUS_ABSENT;
	return add_holder(work, &one, &holder);
}
