/* SPDX-License-Identifier: MIT */
#include "core/clock.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>
#include <sys/types.h>
#include <time.h>

static const int64_t MS_A_DAY = 86400000;
static const int64_t MS_NOON = 43200000;

struct clock clock_system(void)
{
	return (struct clock){.seeded = false};
}

struct clock clock_pinned(struct date today)
{
	return (struct clock){.pinned = known_date(today)};
}

/* One second before noon, because the first stamp steps on to the next whole second. */
static int64_t before_noon_ms(struct date day)
{
	return day.day * MS_A_DAY + MS_NOON - 1000;
}

struct clock clock_seeded(struct date today, uint64_t seed)
{
	return (struct clock){.pinned = known_date(today),
		.seeded = true,
		.seed = seed,
		.tick_ms = before_noon_ms(today)};
}

void clock_move(struct clock *clock, struct date today)
{
	clock->pinned = known_date(today);
	if (clock->seeded && before_noon_ms(today) > clock->tick_ms)
		clock->tick_ms = before_noon_ms(today);
}

struct date clock_today(const struct clock *clock)
{
	if (clock->pinned.known)
		return clock->pinned.value;
	time_t now = time(NULL);
	struct tm local;
	struct date today = {0};
	tzset();
	if (localtime_r(&now, &local) == NULL || date_make(local.tm_year + 1900, local.tm_mon + 1,
							 local.tm_mday, &today, NULL) != STATUS_OK)
		today.day = 0;
	return today;
}

int32_t clock_zone_min(struct date day, int32_t minute)
{
	time_t moment = (time_t)(day.day * (MS_A_DAY / 1000) + (int64_t)minute * 60);
	struct tm local;
	struct date there;
	tzset();
	if (localtime_r(&moment, &local) == NULL ||
		date_make(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday, &there, NULL) !=
			STATUS_OK)
		return 0;
	return date_days_between(day, there) * 1440 + local.tm_hour * 60 + local.tm_min - minute;
}

double clock_monotonic_s(void)
{
	struct timespec now = {0};
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static int64_t now_ms(void)
{
	struct timespec now = {0};
	clock_gettime(CLOCK_REALTIME, &now);
	int64_t ms = (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
	return ms < 0 ? 0 : ms;
}

/* What the stamp says, in ms since 1970. */
static int64_t stamp_ms(struct clock *clock)
{
	if (clock->seeded) {
		clock->tick_ms = (clock->tick_ms / 1000 + 1) * 1000;
		return clock->tick_ms;
	}
	int64_t ms = now_ms();
	if (clock->pinned.known)
		ms = clock->pinned.value.day * MS_A_DAY + ms % MS_A_DAY;
	return ms;
}

static void put_two_digits(char *out, int32_t number)
{
	out[0] = (char)('0' + number / 10 % 10);
	out[1] = (char)('0' + number % 10);
}

static const char *format_stamp(int64_t ms, char out[STAMP_TEXT_SIZE])
{
	int64_t of_day_ms = (ms % MS_A_DAY + MS_A_DAY) % MS_A_DAY;
	struct date day = date_add_days((struct date){0}, (int32_t)((ms - of_day_ms) / MS_A_DAY));
	int32_t seconds = (int32_t)(of_day_ms / 1000);
	char iso[DATE_SIZE];
	memcpy(out, date_format(day, iso), DATE_SIZE - 1);
	memcpy(out + DATE_SIZE - 1, "T00:00:00Z", sizeof "T00:00:00Z");
	put_two_digits(out + DATE_SIZE, seconds / 3600 % 24);
	put_two_digits(out + DATE_SIZE + 3, seconds / 60 % 60);
	put_two_digits(out + DATE_SIZE + 6, seconds % 60);
	return out;
}

const char *clock_stamp(struct clock *clock, char out[STAMP_TEXT_SIZE])
{
	return format_stamp(stamp_ms(clock), out);
}

const char *clock_stamp_of_midnight(const struct clock *clock, char out[STAMP_TEXT_SIZE])
{
	const struct date today = clock_today(clock);
	int64_t ms = today.day * MS_A_DAY;
	if (!clock->pinned.known)
		ms -= clock_zone_min(today, 0) * INT64_C(60000);
	return format_stamp(ms, out);
}

/* splitmix64 (Steele, Lea and Flood 2014): a whole period of 2^64 from any seed. */
static uint64_t next_seeded(uint64_t *state)
{
	*state += UINT64_C(0x9E3779B97F4A7C15);
	uint64_t mixed = *state;
	mixed = (mixed ^ (mixed >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
	mixed = (mixed ^ (mixed >> 27)) * UINT64_C(0x94D049BB133111EB);
	return mixed ^ (mixed >> 31);
}

static void ask_random(void *numbers, size_t size)
{
	while (getrandom(numbers, size, 0) != (ssize_t)size) {
		if (errno != EINTR) {
			fputs("boughbook: the system gives no random numbers\n", stderr);
			exit(3);
		}
	}
}

uint64_t clock_random(struct clock *clock)
{
	uint64_t number = 0;
	if (clock->seeded)
		return next_seeded(&clock->seed);
	ask_random(&number, sizeof number);
	return number;
}

static uint64_t next_random(struct clock *clock, struct random_stock *stock)
{
	if (clock->seeded || stock == NULL)
		return clock_random(clock);
	if (stock->left == 0) {
		ask_random(stock->numbers, sizeof stock->numbers);
		stock->left = RANDOM_STOCK;
	}
	return stock->numbers[--stock->left];
}

const char *clock_new_id(struct clock *clock, char out[ID_SIZE])
{
	return clock_new_id_of(clock, NULL, out);
}

const char *clock_new_id_of(struct clock *clock, struct random_stock *stock, char out[ID_SIZE])
{
	static const char digits[] = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
	int64_t ms = clock->seeded ? clock->tick_ms : now_ms();
	if (ms <= clock->tick_ms)
		ms = clock->tick_ms + 1;
	clock->tick_ms = ms;
	ms &= INT64_C(0xFFFFFFFFFFFF); /* the 48 bits a ULID has for time, also before 1970 */
	for (int place = 9; place >= 0; place--) {
		out[place] = digits[ms & 31];
		ms >>= 5;
	}
	for (int half = 0; half < 2; half++) {
		uint64_t random = next_random(clock, stock);
		for (int place = 0; place < 8; place++) {
			out[10 + half * 8 + place] = digits[random >> 59];
			random <<= 5;
		}
	}
	out[26] = '\0';
	return out;
}
