/* SPDX-License-Identifier: MIT */
/* spray-in-bloom: an insect killer on open flowers. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "pests.h"

enum {
	OPEN_DAYS = 21,        /* a bloom that nobody logged the end of (common practice) */
	BLOOM_SPRAY_DAYS = 60, /* how long it is told of */
	STAGE_OPEN = 60,
	STAGE_OVER = 69,
	STAGE_LOQUAT = 600, /* three digits: of the loquat's own scale */
};

/* What growers call what kills insects: no product, no rate comes from here. */
static const char killers[] =
	"insecticide|insect killer|bug spray|bug killer|pyrethrin|pyrethrins|pyrethroid|pyrethrum|"
	"permethrin|bifenthrin|cyfluthrin|cypermethrin|deltamethrin|cyhalothrin|malathion|"
	"carbaryl|spinosad|imidacloprid|acetamiprid|thiamethoxam|clothianidin|dimethoate|"
	"neonicotinoid|chlorpyrifos|diazinon|phosmet";

static bool kills_insects(const struct dossier *dossier, const struct entry *spray)
{
	const struct pest_row *fits[SEEN_FITS_MAX];

	if (look_tells(spray, killers))
		return true;
	const char *against = entry_detail(spray, FIELD_SUBJECT_SEEN);
	int32_t count = against[0] == '\0' ? 0
					   : species_find_pests(dossier->kind.species, against,
						     fits, SEEN_FITS_MAX);
	count = count > SEEN_FITS_MAX ? SEEN_FITS_MAX : count;
	for (int32_t i = 0; i < count; i++)
		if (fits[i]->group != PEST_INSECT && fits[i]->group != PEST_MITE)
			return false;
	return count > 0;
}

/* The two digits of a stage; -1 none. */
static int32_t stage_of(const struct entry *entry)
{
	const struct amount *stage = entry_amount(entry, FIELD_STAGE);

	if (entry->kind != KIND_STAGE || stage == NULL || !stage->low.known)
		return -1;
	int32_t code = (int32_t)stage->low.value;
	return code >= STAGE_LOQUAT ? STAGE_OPEN + (code - STAGE_LOQUAT) : code;
}

/* The bloom that was open on the day, by the stage logged last; NULL none. */
static const struct entry *open_bloom(const struct dossier *dossier, struct date day)
{
	const struct entry *open = NULL;
	struct date on;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		int32_t stage = stage_of(entry);

		if (stage < 0 || !look_day(entry, &on) || date_compare(on, day) > 0)
			continue;
		bool is_open = stage >= STAGE_OPEN && stage < STAGE_OVER &&
			       date_days_between(on, day) <= OPEN_DAYS;
		open = is_open ? entry : NULL;
	}
	return open;
}

static void flag_spray(const struct dossier *dossier, const struct entry *spray,
	const struct entry *bloom, struct date day, struct date today, struct flags *out)
{
	const struct fact_row *label = species_fact(dossier->kind.species, "caution-label");
	char when[24], since[80], sentence[FLAG_SAYS_SIZE];
	struct flag *flag = flags_add(
		out, "spray-in-bloom", dossier, look_harm_urgency(day, today, label->sure));

	look_say(&flag->says,
		"An insect killer %s on %s, with its bloom open as of %s: it kills the bees that "
		"set "
		"the fruit.",
		spray->asked ? "would be sprayed" : "was sprayed",
		date_format_plain(day, when, sizeof when),
		date_span_format_plain(&bloom->day, since, sizeof since));
	look_say(&flag->action, "%s until the petals are down; tell a keeper of bees near by. %s",
		spray->asked ? "Wait" : "Spray no more",
		look_sentence(label->text, sentence, sizeof sentence));
	flag->began = known_date(day);
	flag->source = label->source;
	snprintf(flag->basis, sizeof flag->basis, "your bloom");
	proof_entry(out, flag, "the spray", spray);
	proof_entry(out, flag, "the bloom", bloom);
	flag_key_set(flag, look_work_year(dossier, day), spray->id);
}

void rule_spray_in_bloom(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct date day;

	if (dossier->kind.species == NULL ||
		species_fact(dossier->kind.species, "caution-label") == NULL)
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *spray = dossier->entries[i];

		if (spray->kind != KIND_SPRAY || !look_day(spray, &day) ||
			date_compare(day, today) > 0 ||
			date_days_between(day, today) > BLOOM_SPRAY_DAYS ||
			!kills_insects(dossier, spray))
			continue;
		const struct entry *bloom = open_bloom(dossier, day);
		flags_change_on(out, today, date_add_days(day, ACT_DAYS + 1));
		flags_change_on(out, today, date_add_days(day, BLOOM_SPRAY_DAYS + 1));
		if (bloom != NULL)
			flag_spray(dossier, spray, bloom, day, today, out);
	}
}
