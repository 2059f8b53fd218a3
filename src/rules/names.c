/* SPDX-License-Identifier: MIT */
/* Rules about what the log rests on: names in doubt, labels lost, feeds without figures. Each is
 * one line for the yard. */
#include <stdio.h>
#include <string.h>

#include "core/label_range.h"
#include "core/text.h"
#include "look.h"
#include "reckon/dose.h"

static bool is_own(const struct dossier *dossier, const struct entry *entry)
{
	return strcmp(entry->subject.id, dossier->tree.id) == 0;
}

/* --- label-lost --- */

static const char *const label_gone =
	"label gone|label is gone|label has gone|label lost|label is lost|label missing|"
	"label is missing|label faded|label has faded|label blown|label blew off|label fell off|"
	"label broken|label unreadable|label illegible|no label|lost its label|lost the label|"
	"tag gone|tag is gone|tag lost|tag missing|tag is missing|tag faded|tag fell off|"
	"tag unreadable|no tag|lost its tag|cannot read the label|can't read the label|"
	"cannot read the tag|can't read the tag";
static const char *const label_back =
	"new label|new tag|relabelled|relabeled|label back|label is back|label on again|"
	"label renewed|tag renewed|label replaced|tag replaced|wrote the label|label written";

/* What says that the label is gone, where nothing since says that a new one hangs. */
struct label_word {
	bool gone;
	const struct entry *entry; /* NULL: it is written about the tree itself */
};

static struct label_word label_word(const struct dossier *dossier)
{
	struct label_word word = {.gone = look_text_tells(dossier->tree.note, label_gone)};
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if ((entry->kind != KIND_SAW && entry->kind != KIND_NOTE) ||
			!is_own(dossier, entry) || !look_day(entry, &day))
			continue;
		if (look_tells(entry, label_back))
			word = (struct label_word){.gone = false};
		else if (look_tells(entry, label_gone))
			word = (struct label_word){.gone = true, .entry = entry};
	}
	return word;
}

/* A label that stands for none. */
static bool is_placeholder(const char *label)
{
	static const char *const starts[] = {"unknown", "unlabel", "unnamed", "no label", "nolabel",
		"no name", "noname", "nameless", "tbd", "to be named", "xxx"};
	size_t length = strlen(label);

	for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++)
		if (text_starts(label, starts[i]))
			return true;
	return length > 0 && label[length - 1] == '?';
}

static void flag_placeholder(const struct dossier *dossier, struct flags *out)
{
	struct flag *flag = flags_add(out, "label-lost", dossier, URGENCY_NOTE);

	text_copy(flag->fact, sizeof flag->fact, "label");
	look_say(&flag->says, "label only stands for one");
	look_say(&flag->action,
		"Give it a label of its own and hang it on the tree: tree rename %.80s NEW. The "
		"old "
		"one is still found.",
		dossier->tree.label);
	flag_evidence(out, flag, "the label: %s", dossier->tree.label);
	flag_key_set(flag, 0, "label");
}

static void flag_label_gone(
	const struct dossier *dossier, const struct entry *said, struct flags *out)
{
	struct flag *flag = flags_add(out, "label-lost", dossier, URGENCY_NOTE);
	const struct tree *tree = &dossier->tree;

	text_copy(flag->fact, sizeof flag->fact, "label-gone");
	look_say(&flag->says, "label gone or not to be read");
	look_say(&flag->action,
		"Hang a new one while you know which tree it is: %s, %s%s%s. Then log it: %.80s "
		"note "
		"new label.",
		tree->label, dossier->kind.name, dossier->kind.cultivar[0] != '\0' ? " " : "",
		dossier->kind.cultivar, tree->label);
	flag->settles = KIND_NOTE;
	snprintf(flag->fills, sizeof flag->fills, "%s note new label ", tree->label);
	flag_key_set(flag, 0, said == NULL ? "label-gone" : said->id);
	if (said == NULL) {
		flag_evidence(out, flag, "as written about the tree: %s", tree->note);
		return;
	}
	flag->began = date_span_first(&said->day);
	proof_entry(out, flag, "", said);
}

void rule_label_lost(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct label_word word = label_word(dossier);

	(void)today;
	if (word.gone)
		flag_label_gone(dossier, word.entry, out);
	else if (dossier->tree.host_id[0] == '\0' && is_placeholder(dossier->tree.label))
		flag_placeholder(dossier, out);
}

/* --- doubt-in-name --- */

static struct flag *flag_doubt(const struct dossier *dossier, const char *cause, struct flags *out)
{
	struct flag *flag = flags_add(out, "doubt-in-name", dossier, URGENCY_NOTE);

	text_copy(flag->fact, sizeof flag->fact, "name");
	flag->source = "as you named it";
	flag_key_set(flag, 0, cause);
	return flag;
}

/* The newest work whose dates and amounts go by the kind; NULL none. */
static const struct entry *tended(const struct dossier *dossier)
{
	for (int32_t i = dossier->entry_count; i-- > 0;) {
		enum entry_kind kind = dossier->entries[i]->kind;

		if (kind == KIND_CUT || kind == KIND_FEED || kind == KIND_PICK ||
			kind == KIND_THIN || kind == KIND_SPRAY)
			return dossier->entries[i];
	}
	return NULL;
}

static void doubt_between(const struct dossier *dossier, struct flags *out)
{
	const struct tree_kind *kind = &dossier->kind;
	struct flag *flag = flag_doubt(dossier, "which-kind", out);
	char names[200];
	struct text_builder list = text_builder_fixed(names, sizeof names);

	for (int32_t i = 0; i < kind->candidate_count; i++)
		text_add_format(&list, "%s%s",
			i == 0                           ? ""
			: i + 1 == kind->candidate_count ? " or "
							 : ", ",
			kind->candidates[i]->name);
	look_say(&flag->says,
		"It could be %s: picking, feeding and most dates for the saw wait for one name.",
		names);
	look_say(&flag->action,
		"Compare leaf, bloom and fruit, or ask who planted it; then: tree identify %.80s "
		"--species KIND.",
		dossier->tree.label);
	flag_evidence(out, flag, "as you named it: %s, each a candidate", names);
}

static void doubt_kind(const struct dossier *dossier, struct flags *out)
{
	struct flag *flag = flag_doubt(dossier, "kind-in-doubt", out);

	proof_entry(out, flag, "rests on it,", tended(dossier));
	look_say(&flag->says,
		"Taken for %s without being sure: every date and dose for it is that of this kind.",
		dossier->kind.species->name);
	look_say(&flag->action,
		"When its fruit has told you: tree identify %.80s --species KIND --sure certain.",
		dossier->tree.label);
}

/* Has the almanac cut rows for this cultivar by name? */
static bool has_own_rows(const struct species *species, const char *cultivar)
{
	for (int32_t i = 0; i < species->cut_count; i++) {
		const char *at = species->cuts[i].cultivar;

		while (*at != '\0') {
			size_t length = strcspn(at, ";");
			char name[NAME_SIZE];

			text_copy_n(name, sizeof name, at, length);
			if (text_same(text_trim_in_place(name), cultivar))
				return true;
			at += length + (at[length] == ';' ? 1 : 0);
		}
	}
	return false;
}

static void doubt_cultivar(const struct dossier *dossier, struct flags *out)
{
	struct flag *flag = flag_doubt(dossier, "cultivar-in-doubt", out);

	proof_entry(out, flag, "rests on it,", tended(dossier));
	look_say(&flag->says,
		"Taken for %s without being sure: the saw's dates for it are that cultivar's own.",
		dossier->kind.cultivar);
	look_say(&flag->action,
		"When its fruit has told you: tree identify %.80s --cultivar NAME --sure certain.",
		dossier->tree.label);
}

/* --- one tree kept twice --- */

static bool same_kind(const struct tree_kind *a, const struct tree_kind *b)
{
	return a->species != NULL && a->species == b->species && a->cultivar[0] != '\0' &&
	       text_same(a->cultivar, b->cultivar);
}

/* Without a look at the others: is there any in its spot, while nothing is logged of this one? */
static bool may_share_spot(const struct dossier *dossier)
{
	const bool tenants_told =
		dossier->spot != NULL && strcmp(dossier->spot->id, dossier->tree.spot_id) == 0;

	return dossier->entry_count == 0 && dossier->tree.spot_id[0] != '\0' &&
	       (!tenants_told || dossier->tenant_count > 0);
}

/* A standing tree that may be this one under another label: of nearly the same label, kinds not
 * known to differ; or of one spot, cultivar and planting, while nothing is logged of this one. Of
 * two the one that was added later asks. NULL: none. */
static const struct neighbour *twin_of(const struct dossier *dossier, struct flags *out)
{
	const struct tree *tree = &dossier->tree;

	if ((!dossier->label_is_near && !may_share_spot(dossier)) ||
		!look_has_neighbours(dossier, out))
		return NULL;
	for (int32_t i = 0; i < dossier->neighbour_count; i++) {
		const struct neighbour *other = &dossier->neighbours[i];
		const bool one_spot = tree->spot_id[0] != '\0' &&
				      strcmp(tree->spot_id, other->spot_id) == 0 &&
				      tree->host_id[0] == '\0' && other->host_id[0] == '\0';
		const bool kinds_differ = dossier->kind.species != NULL &&
					  other->kind.species != NULL &&
					  dossier->kind.species != other->kind.species;

		if (strcmp(other->tree_id, tree->id) >= 0 || tree->over_fence != other->over_fence)
			continue;
		if (label_is_near(tree->label, other->label) && !kinds_differ)
			return other;
		if (one_spot && dossier->entry_count == 0 && tree->planted.text[0] != '\0' &&
			strcmp(tree->planted.text, other->planted.text) == 0 &&
			same_kind(&dossier->kind, &other->kind))
			return other;
	}
	return NULL;
}

static void doubt_twice(const struct dossier *dossier, struct flags *out)
{
	const struct neighbour *twin = twin_of(dossier, out);

	if (twin == NULL)
		return;
	struct flag *flag = flag_doubt(dossier, twin->tree_id, out);
	flag->fact[0] = '\0'; /* a question about two trees, never folded with others */
	look_say(&flag->says, "Is it the same tree as %.80s? Both stand in the log.", twin->label);
	look_say(&flag->action,
		"If it is one tree: tree remove %.80s \"the same as %.80s\". If they are two, set "
		"this aside and it is not asked again.",
		dossier->tree.label, twin->label);
	flag_evidence(out, flag, "the labels: %s, %s%s", dossier->tree.label, twin->label,
		dossier->kind.cultivar[0] != '\0' && same_kind(&dossier->kind, &twin->kind)
			? "; one cultivar"
			: "");
}

void rule_doubt_in_name(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct tree_kind *kind = &dossier->kind;

	(void)today;
	doubt_twice(dossier, out);
	if (kind->species == NULL && kind->candidate_count > 1)
		doubt_between(dossier, out);
	else if (kind->species == NULL || tended(dossier) == NULL)
		return;
	else if (kind->sure != SURE_CERTAIN)
		doubt_kind(dossier, out);
	else if (kind->cultivar[0] != '\0' && kind->cultivar_sure != SURE_CERTAIN &&
		 has_own_rows(kind->species, kind->cultivar))
		doubt_cultivar(dossier, out);
}

/* --- feed-unknown-amount --- */

static bool is_dosed(const struct entry *feed)
{
	return !look_tells(feed, "compost|manure|leaf mould|leaf mold|castings|mulch|seaweed|lime|"
				 "gypsum|ash|ashes");
}

void rule_feed_unknown_amount(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct entry *blank = NULL;
	bool doses = false;
	char when[80], cause[16];
	struct date day;

	if (dossier->kind.species == NULL || dossier->host != NULL)
		return;
	int32_t year = look_work_year(dossier, today);
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *feed = dossier->entries[i];

		if (feed->kind != KIND_FEED || !is_own(dossier, feed) || !look_day(feed, &day))
			continue;
		if (dose_nitrogen_of_entry(feed, dossier->products, dossier->product_count).known)
			doses = true;
		else if (is_dosed(feed) && (look_work_year(dossier, day) == year ||
						   date_days_between(day, today) <= ACT_DAYS))
			blank = feed;
	}
	if (!doses || blank == NULL)
		return;
	struct flag *flag = flags_add(out, "feed-unknown-amount", dossier, URGENCY_NOTE);
	snprintf(cause, sizeof cause, "figures");
	text_copy(flag->fact, sizeof flag->fact, "feed-figures");
	look_say(&flag->says,
		"The feed of %s has no amount, or no analysis of its bag: this season's nitrogen "
		"is "
		"not known.",
		date_span_format_plain(&blank->day, when, sizeof when));
	look_say(&flag->action,
		"Say it anew with both (entry mend %s LINE), or keep the bag's figures once: "
		"product "
		"add NAME --analysis 10-10-10.",
		blank->id);
	flag->began = date_span_first(&blank->day);
	flag->source = "needed for doses";
	proof_entry(out, flag, "", blank);
	flag_key_set(flag, year, cause);
}
