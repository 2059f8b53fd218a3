/* SPDX-License-Identifier: MIT */
#include "rules/rule.h"

#include <string.h>

#include "cut_say.h"

/* To add a rule: see the header. The order matters once: a rule that keeps silent where another
 * already speaks of the same cause stands below it. */
/* clang-format off */
static const struct rule table[] = {
	{ .id = "flower-wood", .title = "a cut that takes the coming flowers or the hanging fruit",
	  .reason = "Each kind carries its flowers on wood of its own: cut at the wrong time and a "
		    "year's crop goes with the branch. The rows of the almanac say which cut, when.",
	  .source = "the almanac's cut rows, each with its source",
	  .max_urgency = URGENCY_ACT, .look = rule_flower_wood },
	{ .id = "cut-in-wet-season", .title = "a cut while wet-weather disease enters wounds",
	  .reason = "Spores of silver leaf, canker and dieback travel in rain; the months differ by "
		    "kind and climate. Of rows that agree the first is told, and the surest decides "
		    "how loud.",
	  .source = "the almanac's cut rows with reason disease, each with its source",
	  .max_urgency = URGENCY_ACT, .look = rule_cut_in_wet_season },
	{ .id = "cut-too-much", .title = "more cut in one season than the kind bears",
	  .reason = "Too much at once starves the roots, burns bark and answers with shoots instead "
		    "of fruit. What is counted (crown, or last year's shoots) is part of the limit. "
		    "Where another share is published for a tree brought down, both are told.",
	  .source = "the almanac's share limit of the kind",
	  .max_urgency = URGENCY_ACT, .look = rule_cut_too_much },
	{ .id = "shape-cut-due", .title = "the yearly cut, inside its clear window",
	  .reason = "Speaks only inside the clear window, where the kind is cut yearly and this "
		    "grower did so in two earlier seasons, or a target height is set; never for a "
		    "tree with no cut on record.",
	  .source = "the almanac's clear cut rows",
	  .max_urgency = URGENCY_DUE, .rests = true, .look = rule_shape_cut_due },
	{ .id = "feed-due", .title = "feeding, inside its clear window",
	  .reason = "Speaks only where this grower feeds this tree, it is in its first four years, or "
		    "its shoots fell short. Strong growth, a hard cut, fire blight or frost damage keep it silent.",
	  .source = "the almanac's feed windows",
	  .max_urgency = URGENCY_DUE, .rests = true, .look = rule_feed_due },
	{ .id = "feed-over", .title = "more nitrogen than the published rates",
	  .reason = "Actual N counts, not pounds of product. Rates differ by region: between them is a "
		    "note that names both, above all of them is harm.",
	  .source = "the almanac's feeding rates, each with its region and cap",
	  .max_urgency = URGENCY_ACT, .look = rule_feed_over },
	{ .id = "feed-late", .title = "a feed in the weeks to keep nitrogen away",
	  .reason = "Late nitrogen makes soft growth that frost and blight take first. A time for "
		    "feeding that you set by hand stands before the almanac's weeks to wait.",
	  .source = "the almanac's feed windows",
	  .max_urgency = URGENCY_ACT, .look = rule_feed_late },
	{ .id = "girth-stale", .title = "a trunk measure too old to feed by",
	  .reason = "Speaks only in the 60 days before feeding opens; over two years old, one year "
		    "for trees under eight.",
	  .source = "common practice",
	  .max_urgency = URGENCY_SOON, .look = rule_girth_stale },
	{ .id = "girth-or-diameter", .title = "a trunk that looks like a girth",
	  .reason = "A tape round the trunk reads three times the distance across: a dose from the "
		    "wrong one is three times too much.",
	  .source = "common practice",
	  .max_urgency = URGENCY_NOTE, .look = rule_girth_or_diameter },
	{ .id = "pick-soon", .title = "picking is near",
	  .reason = "A harvest that nears, always as a range: by this tree's own first picks where "
		    "there are two or more seasons of them, else by its bloom of this season and the "
		    "almanac's days from bloom, else by the almanac's months; never by a span that is "
		    "that of many cultivars.",
	  .source = "your picks or bloom, else the almanac's harvest windows",
	  .max_urgency = URGENCY_SOON, .look = rule_pick_soon },
	{ .id = "pick-unlogged", .title = "a harvest went by without a word",
	  .reason = "Asked only where picks were logged in two earlier seasons: a gap is never zero.",
	  .source = "your picks, else the almanac's harvest windows",
	  .max_urgency = URGENCY_NOTE, .look = rule_pick_unlogged },
	{ .id = "spray-interval", .title = "a pick inside the label's days to harvest",
	  .reason = "The label is the law for anything sprayed. The days are those typed from it.",
	  .source = "the product label, as typed",
	  .max_urgency = URGENCY_ACT, .look = rule_spray_interval },
	{ .id = "spray-in-bloom", .title = "an insect killer on open bloom",
	  .reason = "Bees on open flowers die of it, and with them goes the set. Speaks of what is "
		    "named an insect killer, or was sprayed for an insect, while the stage logged last "
		    "says that bloom is open.",
	  .source = "the almanac's caution on labels; Penn State Extension, monthly maintenance",
	  .max_urgency = URGENCY_ACT, .look = rule_spray_in_bloom },
	{ .id = "plan-due", .title = "work you planned",
	  .reason = "Planned entries come back like a window and are settled by the work.",
	  .source = "your own plan",
	  .max_urgency = URGENCY_DUE, .rests = true, .look = rule_plan_due },
	{ .id = "leave-alone", .title = "leave this tree alone until a day",
	  .reason = "Some trees need no more of anything for a while: said by the grower, or by the "
		    "almanac after a hard cut. It silences what would be due.",
	  .source = "the grower, or the almanac",
	  .max_urgency = URGENCY_ACT, .look = rule_leave_alone },
	{ .id = "facts-missing", .title = "a fact that dates and doses wait for",
	  .reason = "Nothing is guessed: an unknown kind or hemisphere gets a question, not a date. "
		    "One line a fact for the whole yard.",
	  .source = "needed for dates and doses",
	  .max_urgency = URGENCY_NOTE, .look = rule_facts_missing },
	/* cuts: how far, how fast, on what day */
	{ .id = "frosted-wait", .title = "frosted wood waits for new growth",
	  .reason = "What frost killed shows only when growth comes. Cut before that and live wood "
		    "goes too, and the dead twigs no longer shelter it from the next frost. Speaks "
		    "where frost damage was seen, or a night was as cold as hurts the kind.",
	  .source = "the almanac's facts on frosted wood, each with its source",
	  .max_urgency = URGENCY_ACT, .look = rule_frosted_wait },
	{ .id = "cut-near-frost", .title = "a cut too near frost",
	  .reason = "A cut in autumn pushes soft shoots, and the tissue round it hardens late; frost "
		    "takes both. Harm only where frost is near: by the first frost set for the place, "
		    "by frost stored or logged, or where winters are frosty; else a note. A night "
		    "forecast, by a line or by imported days, to hurt the tree within two weeks of "
		    "the cut counts until it is past. "
		    "Weeks that colder places keep free are a note where winters are hard.",
	  .source = "the almanac's cut rows with reason frost or regrowth, each with its source",
	  .max_urgency = URGENCY_ACT, .look = rule_cut_near_frost },
	{ .id = "cut-bares-or-bleeds", .title = "a cut that bares bark to the sun, or bleeds",
	  .reason = "Bark that stood in shade burns, and borers and canker follow; some kinds bleed "
		    "from cuts as the sap rises. Paint or shade logged since settles the first.",
	  .source = "the almanac's cut rows with reason sun or bleeding, each with its source",
	  .max_urgency = URGENCY_ACT, .look = rule_cut_bares_or_bleeds },
	{ .id = "cut-on-bad-day", .title = "a cut in rain, frost or wind",
	  .reason = "Wet wounds let disease in where the almanac says so for the kind; for all others "
		    "it is about people: a wet, icy or windy day is none for a ladder.",
	  .source = "stored or logged weather; the almanac's cut rows with reason disease",
	  .max_urgency = URGENCY_ACT, .look = rule_cut_on_bad_day },
	{ .id = "blight-cut-short", .title = "disease cut out too near its last sign",
	  .reason = "The disease is further down than it shows. Sources give distances that differ: "
		    "each is named with its region. Uncleaned tools carry it while the tree grows, and "
		    "so does rain.",
	  .source = "the almanac's distances for the disease, each with its source",
	  .max_urgency = URGENCY_ACT, .look = rule_blight_cut_short },
	{ .id = "renovation-pace", .title = "an old tree brought back too fast",
	  .reason = "Spread over the years that the sources give, an old tree answers with fruit wood; "
		    "all at once it answers with water shoots, burnt bark and rot.",
	  .source = "the almanac's years of renovation",
	  .max_urgency = URGENCY_ACT, .look = rule_renovation_pace },
	{ .id = "height-pace", .title = "a tree lowered too fast, or below the height set",
	  .reason = "Speaks only where heights before and after are known. A yearly trim is upkeep.",
	  .source = "the almanac's years of lowering; the height you set",
	  .max_urgency = URGENCY_NOTE, .look = rule_height_pace },
	{ .id = "suckers-standing", .title = "suckers seen and not cut",
	  .reason = "Speaks only where suckers were seen, or this grower cut them in two earlier "
		    "years. Below a graft they are the rootstock, and can take over the tree.",
	  .source = "the almanac's facts on suckers, each with its source",
	  .max_urgency = URGENCY_DUE, .rests = true, .look = rule_suckers_standing },
	{ .id = "feed-after-hard-cut", .title = "a feed that drives a tree just cut hard",
	  .reason = "A hard cut makes long soft shoots by itself; nitrogen on top makes more of them, "
		    "and no fruit.",
	  .source = "the almanac's facts on feeding after a hard cut",
	  .max_urgency = URGENCY_DUE, .look = rule_feed_after_hard_cut },
	/* fruit: thinning, bearing, yields */
	{ .id = "thin-due", .title = "thinning, inside its window",
	  .reason = "Speaks only to a grower who thinned this tree in two earlier seasons or saw a "
		    "heavy set. Early thinning helps the size of what is left and the flowers of next "
		    "year; the window moves with this tree's own bloom.",
	  .source = "the almanac's thinning windows, each with its source",
	  .max_urgency = URGENCY_DUE, .look = rule_thin_due },
	{ .id = "alternate-on", .title = "a heavy year is likely",
	  .reason = "Only where at least four seasons in a row took turns and no light one had frost, "
		    "hail or a bad cut to explain it. Silent where thin-due speaks.",
	  .source = "your picks; Monselise and Goldschmidt 1982, Horticultural Reviews 4: 128-173",
	  .max_urgency = URGENCY_NOTE, .look = rule_alternate_on },
	{ .id = "alternate-off", .title = "a light year is likely",
	  .reason = "The other half of alternate-on: nothing to thin, no hard cut and no extra "
		    "nitrogen, which make the swing wider.",
	  .source = "your picks; Monselise and Goldschmidt 1982, Horticultural Reviews 4: 128-173",
	  .max_urgency = URGENCY_NOTE, .look = rule_alternate_off },
	{ .id = "overbearing", .title = "more fruit than the tree should carry",
	  .reason = "A heavy set seen and not thinned, fruit on a tree just planted, or a crop far "
		    "above its own past or above what its trunk bears. Silent where thin-due or "
		    "alternate-off speaks of it.",
	  .source = "your picks, the almanac's crop loads, common practice",
	  .max_urgency = URGENCY_DUE, .look = rule_overbearing },
	{ .id = "bloom-missing", .title = "no bloom where there always was one",
	  .reason = "Asked once the bloom window is over, where bloom was logged in two earlier "
		    "seasons on this tree. It names what may lie behind it, never one cause.",
	  .source = "your bloom, else the almanac's bloom windows",
	  .max_urgency = URGENCY_NOTE, .look = rule_bloom_missing },
	{ .id = "late-to-bear", .title = "old enough to bear, and nothing yet",
	  .reason = "By the years its kind takes, by how it was raised, where picks are logged in this "
		    "yard and this tree has work or sights on record, but no flower or fruit; not of "
		    "one ten years past its time. One answer is for good.",
	  .source = "the almanac's years to crop",
	  .max_urgency = URGENCY_NOTE, .look = rule_late_to_bear },
	{ .id = "yield-low", .title = "a crop well under its own past",
	  .reason = "Under half the middle of at least three earlier complete seasons; a season in "
		    "progress, or one with picks not weighed, is never compared. What the log holds of "
		    "that season stands beside it, never as the one cause.",
	  .source = "your picks",
	  .max_urgency = URGENCY_NOTE, .look = rule_yield_low },
	{ .id = "manure-interval", .title = "raw manure too near a harvest",
	  .reason = "Germs from raw manure reach fruit by splash, dust and hands. Counted only where the "
		    "feed was said to be raw or fresh; composted manure is not.",
	  .source = "United States National Organic Program, 7 CFR 205.203 (c), as published by "
		    "extension services",
	  .max_urgency = URGENCY_ACT, .look = rule_manure_interval },
	/* weather and water */
	{ .id = "frost-in-bloom", .title = "a frost while buds or flowers stood open to it",
	  .reason = "Each stage dies at temperatures of its own, published for 30 minutes. The lowest "
		    "night at the tree's spot is held against the stage it was in: as logged, else by "
		    "its bloom window. Loss of flowers is not loss of crop.",
	  .source = "the almanac's frost table of the kind, each row with its source",
	  .max_urgency = URGENCY_DUE, .look = rule_frost_in_bloom },
	{ .id = "heat-scorch", .title = "days hotter than the kind bears",
	  .reason = "Reads stored or logged maxima against the kind's limit, for two weeks after. Young "
		    "and potted trees suffer first.",
	  .source = "the almanac's heat limit of the kind",
	  .max_urgency = URGENCY_DUE, .look = rule_heat_scorch },
	{ .id = "chill-short", .title = "too little winter chill",
	  .reason = "Speaks only in the last month of winter, from stored weather without large gaps, "
		    "and only where the days that are left cannot make up what is missing.",
	  .source = "the almanac's chill of the kind; Dynamic model of Fishman and Erez, chilling hours",
	  .max_urgency = URGENCY_NOTE, .look = rule_chill_short },
	{ .id = "water-short", .title = "the soil store used up",
	  .reason = "Only where this tree was watered in two earlier seasons, or was seen wilting, and "
		    "weather is stored day by day. Use and rain since the last watering are held "
		    "against what the root zone holds; pots run dry sooner.",
	  .source = "FAO Irrigation and Drainage Paper 56; for pots common practice",
	  .max_urgency = URGENCY_DUE, .look = rule_water_short },
	{ .id = "water-daily", .title = "watered every day",
	  .reason = "A little each day keeps roots near the surface and the soil without air. Pots, and "
		    "trees in their first year, are let be.",
	  .source = "the almanac's facts on watering",
	  .max_urgency = URGENCY_DUE, .look = rule_water_daily },
	{ .id = "water-first-summer", .title = "set late, and in its first summer",
	  .reason = "A tree that was set in leaf goes through its first summer on the roots it was "
		    "dug with. Speaks where the day of planting is known and lies between bloom and "
		    "autumn; a watering logged keeps it quiet for a week.",
	  .source = "common practice",
	  .max_urgency = URGENCY_NOTE, .look = rule_water_first_summer },
	{ .id = "mulch-due", .title = "the yearly mulch",
	  .reason = "Speaks only where this tree was mulched in two earlier seasons, at the time of year "
		    "it was done then.",
	  .source = "your own habit",
	  .max_urgency = URGENCY_DUE, .look = rule_mulch_due },
	{ .id = "mulch-on-trunk", .title = "mulch against the trunk, or too deep",
	  .reason = "Wet mulch on bark rots it and hides borers and mice; a deep layer keeps water and "
		    "air from the roots.",
	  .source = "common practice; depths by the almanac",
	  .max_urgency = URGENCY_DUE, .look = rule_mulch_on_trunk },
	/* planting, pots, grafts, records */
	{ .id = "entry-odd", .title = "a line that is likely not what was meant",
	  .reason = "A day after today, before the planting or after the end, ten times the usual "
		    "amount, a trunk that shrank, the same line twice. Asked once each; nothing is "
		    "refused or left out because of it.",
	  .source = "common practice",
	  .max_urgency = URGENCY_NOTE, .records = true, .look = rule_entry_odd },
	{ .id = "graft-check", .title = "grafts to look at",
	  .reason = "Some weeks after grafting it shows whether a graft took, and ties begin to cut in. "
		    "The grafts of one day are one line; anything logged of them settles it.",
	  .source = "the almanac's weeks, common practice",
	  .max_urgency = URGENCY_DUE, .look = rule_graft_check },
	{ .id = "seed-drying", .title = "seeds taken that must not dry",
	  .reason = "Seeds of loquat, avocado, citrus and chestnut die when they dry. Speaks only "
		    "after a line that says seeds were taken, until a sowing is logged.",
	  .source = "the almanac's facts on seeds, each with its source",
	  .max_urgency = URGENCY_NOTE, .look = rule_seed_drying },
	{ .id = "pot-small", .title = "a pot too small to bear in",
	  .reason = "Speaks of a tree in a container of known volume, once it is of an age to bear or "
		    "was picked.",
	  .source = "the almanac's least container of the kind",
	  .max_urgency = URGENCY_NOTE, .look = rule_pot_small },
	{ .id = "pot-up-due", .title = "a pot outgrown",
	  .reason = "Roots without room were seen, or the last potting that was logged is years back. "
		    "Never for a pot whose potting was not logged.",
	  .source = "what you saw, else common practice",
	  .max_urgency = URGENCY_DUE, .look = rule_pot_up_due },
	{ .id = "planted-deep", .title = "a tree set too deep",
	  .reason = "Bark under soil rots, and a top that roots above a buried union loses its "
		    "dwarfing stock. Speaks only where you said that it stands deep; act in the first "
		    "weeks, when it can still be eased up.",
	  .source = "the almanac's height of the union, with its sources",
	  .max_urgency = URGENCY_ACT, .look = rule_planted_deep },
	{ .id = "too-close", .title = "a tree nearer to another than its kind wants",
	  .reason = "Speaks in the first three years of the younger of the two, while it can be moved, "
		    "where both places are known: once, for it may be meant so.",
	  .source = "the almanac's spacing of the kind that wants less",
	  .max_urgency = URGENCY_NOTE, .look = rule_too_close },
	{ .id = "feed-young-hole", .title = "feed in the planting hole, or in the first year",
	  .reason = "Salts burn new roots. For the first year regions differ: those that say none and "
		    "those that give a token are both named.",
	  .source = "the almanac's first-year feeding, each with its region",
	  .max_urgency = URGENCY_ACT, .look = rule_feed_young_hole },
	{ .id = "feed-unknown-amount", .title = "feeds without an amount or analysis",
	  .reason = "Asked once a season of a grower whose other feeds have figures: one blank makes "
		    "the season's nitrogen unknown.",
	  .source = "needed for doses",
	  .max_urgency = URGENCY_NOTE, .look = rule_feed_unknown_amount },
	{ .id = "old-orchard-soil", .title = "soil that an orchard, or the same kind, stood in",
	  .reason = "A new tree can sit still where the same kind stood; old orchard land can hold lead "
		    "and arsenic. Told in the first two years, and of land you called an old orchard.",
	  .source = "the almanac's facts on replanting and orchard soil",
	  .max_urgency = URGENCY_NOTE, .look = rule_old_orchard_soil },
	{ .id = "label-lost", .title = "a tree whose label is gone, or never was one",
	  .reason = "A name is lost within a season of its label. Settled by a line that says a new "
		    "one hangs.",
	  .source = "common practice",
	  .max_urgency = URGENCY_NOTE, .look = rule_label_lost },
	{ .id = "doubt-in-name", .title = "a name in doubt that dates and doses rest on",
	  .reason = "What is suspected is advised as what it is taken for; between several kinds most "
		    "dates wait. One line for the yard says what it holds up. Two trees of nearly one "
		    "label, or of one spot, cultivar and planting where nothing is logged of the "
		    "later, are asked about once: they may be one.",
	  .source = "as you named it",
	  .max_urgency = URGENCY_NOTE, .look = rule_doubt_in_name },
	{ .id = "name-by-harvest", .title = "picked far from when its name ripens",
	  .reason = "A cultivar is one clone and ripens in its turn: fruit two months off speaks "
		    "against the scion or its label. Speaks where the almanac has the cultivar's days "
		    "against others of its kind; windfalls do not count.",
	  .source = "your picks; the almanac's cultivars, each with its source",
	  .max_urgency = URGENCY_NOTE, .look = rule_name_by_harvest },
	/* pests, diseases, what leaves the place */
	{ .id = "scout-due", .title = "time to look for what was seen here before",
	  .reason = "A pest found early is dealt with by hand. Speaks once a season of what this "
		    "grower saw on this tree, when it shows again by stage, months or heat; or, to "
		    "who looks the tree over each season, of what begins to show.",
	  .source = "the almanac's pests and degree-days, each with its source",
	  .max_urgency = URGENCY_NOTE, .look = rule_scout_due },
	{ .id = "sanitation-due", .title = "mummies, cankers, fallen leaves to clear away",
	  .reason = "What a disease or grub winters in is taken off before it starts again. Speaks "
		    "where the cause was seen in the year before, or the grower does it.",
	  .source = "the almanac's work of the year, each with its source",
	  .max_urgency = URGENCY_DUE, .look = rule_sanitation_due },
	{ .id = "quarantine-check", .title = "ask before wood, plants or fruit leave or enter",
	  .reason = "Some pests are to be reported, and their hosts may not be moved. Lists change: "
		    "the plant health authority has them.",
	  .source = "the almanac's pests and cautions, each with its source",
	  .max_urgency = URGENCY_NOTE, .look = rule_quarantine_check },
	/* neighbours */
	{ .id = "no-partner", .title = "nobody on record to give it pollen",
	  .reason = "A tree of bearing age whose cultivar, or kind, does not set alone, with nobody that "
		    "serves it, blooms with it and stands near: a triploid gives nothing, what is not "
		    "known is asked. Quiet where it has cropped in two seasons, and of no known "
		    "cultivar until it blooms for nothing. What is named beside a triploid serves "
		    "both.",
	  .source = "the almanac's cultivars, pairs and ways of pollination, each with its source",
	  .max_urgency = URGENCY_NOTE, .look = rule_no_partner },
	{ .id = NULL },
};
/* clang-format on */

const struct rule *rule_table(void)
{
	return table;
}

const struct rule *rule_find(const char *id)
{
	for (const struct rule *rule = table; rule->id != NULL; rule++)
		if (strcmp(rule->id, id) == 0)
			return rule;
	return NULL;
}

static bool is_left_alone(const struct flags *flags, int32_t from)
{
	for (int32_t i = from; i < flags->count; i++)
		if (flags->items[i].urgency == URGENCY_LEAVE)
			return true;
	return false;
}

/* Takes out due and soon of the rules that rest while the tree is left alone. */
static void silence_resting(struct flags *flags, int32_t from)
{
	int32_t kept = from;

	for (int32_t i = from; i < flags->count; i++) {
		const struct flag *flag = &flags->items[i];
		bool asks = flag->urgency == URGENCY_DUE || flag->urgency == URGENCY_SOON;

		if (asks && rule_find(flag->rule)->rests)
			continue;
		if (kept != i)
			flags->items[kept] = flags->items[i];
		kept++;
	}
	flags->count = kept;
}

/* What is dated after today has not happened yet: the rest of the story, or the story itself
 * where nothing is. */
static const struct dossier *story_until(
	const struct dossier *dossier, struct date today, struct arena *arena)
{
	int32_t kept = 0;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (!look_day(dossier->entries[i], &day) || date_compare(day, today) <= 0)
			kept++;
	if (kept == dossier->entry_count)
		return dossier;
	const struct entry **entries = arena_array(arena, (size_t)kept + 1, sizeof *entries);
	struct dossier *until = arena_alloc(arena, sizeof *until);
	*until = *dossier;
	until->entries = entries;
	until->entry_count = 0;
	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (!look_day(dossier->entries[i], &day) || date_compare(day, today) <= 0)
			entries[until->entry_count++] = dossier->entries[i];
	return until;
}

/* These go by what was done or typed; all others by the kind the tree is taken for. */
static bool goes_by_kind(const struct rule *rule)
{
	static const char *const others[] = {"girth-or-diameter", "spray-interval",
		"spray-in-bloom", "plan-due", "leave-alone", "facts-missing", "entry-odd",
		"mulch-on-trunk", "label-lost", "doubt-in-name", "feed-unknown-amount",
		"manure-interval"};
	for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
		if (strcmp(others[i], rule->id) == 0)
			return false;
	return true;
}

/* A guess never hardens into a fact: what rests on one says so among its evidence. */
static void mark_guess(
	const struct dossier *dossier, const struct rule *rule, int32_t from, struct flags *out)
{
	const struct tree_kind *kind = &dossier->kind;

	if (kind->species == NULL || kind->sure == SURE_CERTAIN || !goes_by_kind(rule))
		return;
	for (int32_t i = from; i < out->count; i++)
		if (strcmp(out->items[i].tree_id, dossier->tree.id) == 0 &&
			strcmp(out->items[i].rule, rule->id) == 0)
			flag_evidence(out, &out->items[i],
				"rests on a guess: the tree is taken for %s, which is not certain",
				kind->species->name);
}

void rules_look(const struct dossier *dossier, struct date today, struct flags *out)
{
	int32_t from = out->count;
	const struct dossier *until = story_until(dossier, today, out->arena);

	bool gone = dossier->tree.gone.text[0] != '\0';

	for (const struct rule *rule = table; rule->id != NULL; rule++) {
		const int32_t first = out->count;

		if (rule->records || !gone)
			rule->look(rule->records ? dossier : until, today, out);
		mark_guess(dossier, rule, first, out);
	}
	if (is_left_alone(out, from))
		silence_resting(out, from);
	look_days(dossier, today, out);
	if (dossier->host != NULL)
		look_days(dossier->host, today, out);
	for (int32_t i = 0; i < dossier->graft_count; i++)
		look_days(dossier->grafts[i], today, out);
}
