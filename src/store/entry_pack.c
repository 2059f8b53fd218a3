/* SPDX-License-Identifier: MIT */
/* Both ways are one walk over the fields, so that what goes in comes out. Numbers take seven bits a
 * byte, the lowest first, with the sign beside the lowest bit. */
#include "entry_pack.h"

#include <assert.h>
#include <string.h>

enum { ROOM_FIRST = 512, SEVEN = 0x7F, MORE = 0x80, NUMBER_MOST = 10 };

struct coder {
	struct pack_room *room;    /* packing; NULL: unpacking */
	const unsigned char *from; /* unpacking: the next byte */
	struct arena *arena;       /* unpacking: of open texts and parts */
};

static void make_room(struct pack_room *room, size_t length)
{
	while (room->size - room->length < length)
		room->size = room->size == 0 ? ROOM_FIRST : room->size * 2;
	room->bytes = block_resize(room->bytes, room->size);
}

static void put_bytes(struct pack_room *room, const void *bytes, size_t length)
{
	if (room->size - room->length < length)
		make_room(room, length);
	if (length > 0)
		memcpy(room->bytes + room->length, bytes, length);
	room->length += length;
}

static void put_number(struct pack_room *room, int64_t value)
{
	uint64_t bits = ((uint64_t)value << 1) ^ (value < 0 ? UINT64_MAX : 0);
	if (room->size - room->length < NUMBER_MOST)
		make_room(room, NUMBER_MOST);
	for (; bits > SEVEN; bits >>= 7)
		room->bytes[room->length++] = (unsigned char)(bits | MORE);
	room->bytes[room->length++] = (unsigned char)bits;
}

static int64_t take_number(const unsigned char **from)
{
	uint64_t bits = 0;
	int shift = 0;
	for (; (**from & MORE) != 0; shift += 7)
		bits |= (uint64_t)(*(*from)++ & SEVEN) << shift;
	bits |= (uint64_t) * (*from)++ << shift;
	return (int64_t)(bits >> 1) ^ -(int64_t)(bits & 1);
}

/* --- each answers what it was given, or what was packed --- */

static int64_t number(struct coder *coder, int64_t value)
{
	if (coder->room == NULL)
		return take_number(&coder->from);
	put_number(coder->room, value);
	return value;
}

static int32_t number_i32(struct coder *coder, int32_t value)
{
	return (int32_t)number(coder, value);
}

static bool flag(struct coder *coder, bool value)
{
	return number(coder, value) != 0;
}

static void maybe_i64(struct coder *coder, struct maybe_i64 *value)
{
	value->known = flag(coder, value->known);
	value->value = number(coder, value->value);
}

static void maybe_day(struct coder *coder, struct maybe_date *value)
{
	value->known = flag(coder, value->known);
	value->value.day = number_i32(coder, value->value.day);
}

static void text(struct coder *coder, char *value, size_t size)
{
	size_t length = (size_t)number(coder, coder->room == NULL ? 0 : (int64_t)strlen(value));
	if (coder->room != NULL) {
		put_bytes(coder->room, value, length);
		return;
	}
	assert(length < size);
	memcpy(value, coder->from, length);
	coder->from += length;
}

static const char *open_text(struct coder *coder, const char *value)
{
	size_t length = (size_t)number(coder, coder->room == NULL ? 0 : (int64_t)strlen(value));
	if (coder->room != NULL) {
		put_bytes(coder->room, value, length);
		return value;
	}
	coder->from += length;
	return arena_text_n(coder->arena, (const char *)coder->from - length, length);
}

/* --- parts --- */

static void code_amount(struct coder *coder, struct amount *amount)
{
	amount->dimension = (enum dimension)number(coder, amount->dimension);
	amount->field = number_i32(coder, amount->field);
	maybe_i64(coder, &amount->low);
	maybe_i64(coder, &amount->high);
	amount->about = flag(coder, amount->about);
	amount->none = flag(coder, amount->none);
	text(coder, amount->typed, sizeof amount->typed);
	text(coder, amount->container, sizeof amount->container);
	maybe_i64(coder, &amount->containers_low);
	maybe_i64(coder, &amount->containers_high);
}

static void code_detail(struct coder *coder, struct detail *detail)
{
	detail->field = (enum field)number(coder, detail->field);
	text(coder, detail->text, sizeof detail->text);
}

static void code_stem(struct coder *coder, struct stem_measure *stem)
{
	stem->stem = number_i32(coder, stem->stem);
	stem->field = (enum field)number(coder, stem->field);
	stem->low_um = number(coder, stem->low_um);
	stem->high_um = number(coder, stem->high_um);
	stem->about = flag(coder, stem->about);
	maybe_i64(coder, &stem->at_height_um);
	stem->word_given = flag(coder, stem->word_given);
}

/* Room for parts that come out; NULL where there is none, or they go in. */
static void *parts_room(struct coder *coder, int32_t count, size_t size)
{
	return coder->room == NULL && count > 0 ? arena_array(coder->arena, (size_t)count, size)
						: NULL;
}

static void code_amounts(struct coder *coder, struct entry *entry)
{
	entry->amount_count = number_i32(coder, entry->amount_count);
	struct amount *made = parts_room(coder, entry->amount_count, sizeof *made);
	for (int32_t i = 0; i < entry->amount_count; i++) {
		struct amount amount = made == NULL ? entry->amounts[i] : made[i];
		code_amount(coder, made == NULL ? &amount : &made[i]);
	}
	if (made != NULL)
		entry->amounts = made;
}

static void code_details(struct coder *coder, struct entry *entry)
{
	entry->detail_count = number_i32(coder, entry->detail_count);
	struct detail *made = parts_room(coder, entry->detail_count, sizeof *made);
	for (int32_t i = 0; i < entry->detail_count; i++) {
		struct detail detail = made == NULL ? entry->details[i] : made[i];
		code_detail(coder, made == NULL ? &detail : &made[i]);
	}
	if (made != NULL)
		entry->details = made;
}

static void code_stems(struct coder *coder, struct entry *entry)
{
	entry->stem_count = number_i32(coder, entry->stem_count);
	struct stem_measure *made = parts_room(coder, entry->stem_count, sizeof *made);
	for (int32_t i = 0; i < entry->stem_count; i++) {
		struct stem_measure stem = made == NULL ? entry->stems[i] : made[i];
		code_stem(coder, made == NULL ? &stem : &made[i]);
	}
	if (made != NULL)
		entry->stems = made;
}

/* The id comes first: packed entries are compared by it. `asked` is never in the file. */
static void code_entry(struct coder *coder, struct entry *entry)
{
	text(coder, entry->id, sizeof entry->id);
	entry->subject.kind = (enum subject_kind)number(coder, entry->subject.kind);
	entry->kind = (enum entry_kind)number(coder, entry->kind);
	text(coder, entry->day.text, sizeof entry->day.text);
	maybe_day(coder, &entry->day.low);
	maybe_day(coder, &entry->day.high);
	entry->day.about = flag(coder, entry->day.about);
	entry->day.doubt = flag(coder, entry->day.doubt);
	text(coder, entry->typed_at, sizeof entry->typed_at);
	entry->words = open_text(coder, entry->words);
	entry->note = open_text(coder, entry->note);
	text(coder, entry->batch, sizeof entry->batch);
	entry->planned = flag(coder, entry->planned);
	entry->season_year.known = flag(coder, entry->season_year.known);
	entry->season_year.value = number_i32(coder, entry->season_year.value);
	code_amounts(coder, entry);
	code_details(coder, entry);
	code_stems(coder, entry);
}

const unsigned char *entry_pack(
	const struct entry *entry, struct pack_room *room, struct arena *arena)
{
	struct coder coder = {.room = room};
	struct entry copy = *entry;
	room->length = 0;
	code_entry(&coder, &copy);
	unsigned char *packed = arena_alloc(arena, room->length);
	return memcpy(packed, room->bytes, room->length);
}

void entry_unpack(const unsigned char *packed, struct arena *arena, struct entry *out)
{
	struct coder coder = {.from = packed, .arena = arena};
	code_entry(&coder, out);
}

int entry_pack_compare_ids(const unsigned char *left, const unsigned char *right)
{
	int64_t lengths[2] = {take_number(&left), take_number(&right)};
	size_t shared = (size_t)(lengths[0] < lengths[1] ? lengths[0] : lengths[1]);
	int order = memcmp(left, right, shared);
	return order != 0 ? order : lengths[0] < lengths[1] ? -1 : lengths[0] > lengths[1];
}
