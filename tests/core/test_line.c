/* SPDX-License-Identifier: MIT */
/* Entry lines over the small yard of support/names.h. Today is Tuesday 24 November 2026. */
#include "core/line.h"

#include <string.h>

#include "core/text.h"
#include "support/names.h"
#include "support/table.h"
#include "support/test.h"

enum {
	AT_A3 = 1,     /* the screen stands at A3 */
	LONG_ONLY = 2, /* short labels are not taken */
	IS_PLAN = 4,   /* the word plan is left out */
	FROM_FILE = 8,
	FILE_DAY = 16, /* the file has said @ 2020-03-05 */
	US = 32,       /* US units and gallons */
};

struct good {
	const char *name;
	const char *line;
	int how;
	const char *said;
	const char *remark; /* "" none at all; NULL not looked at */
};

struct bad {
	const char *name;
	const char *line;
	int how;
	enum status status;
	int column;
	const char *says;
	const char *first_line; /* of those it would take; NULL none */
};

/* clang-format off */
static const struct good goods[] = {
	{"pick_weight_and_count", "A3 picked 6 lb 4 oz 85 fruit", US,
		"A3: picked 6 lb 4 oz, 85 fruit, today (24 November 2026)", ""},
	{"cut_with_day_and_note", "A3: cut shape 20% @ 12 may ; leader down to twelve feet", 0,
		"A3: cut, shape, 20 %, 12 May 2026", ""},
	{"cut_share_of_crown", "A3 cut shape 20% of the crown @ 12 may", 0,
		"A3: cut, shape, 20 % of the crown, 12 May 2026", ""},
	{"kind_word_before_the_verb", "A3 shape cut a third of the crown @ 12 may", 0,
		"A3: cut, shape, 33.3 % of the crown, 12 May 2026", ""},
	{"thinning_cut_is_a_cut", "A3 thinning cut 20% of crown @ 12 may", 0,
		"A3: cut, thinning cut, 20 % of the crown, 12 May 2026", ""},
	{"two_word_kind", "A3 summer tip cut @ 12 may", 0, "A3: cut, summer tip, 12 May 2026", ""},
	{"cut_share_of_shoots", "A3 cut heading half of shoots for light @ 12 may", 0,
		"A3: cut, heading cut, 50 % of the shoots, for light, 12 May 2026", ""},
	{"a_reason_ends_where_the_distance_begins", "A3 cut dead wood for fire blight 8 in below @ 12 may", 0,
		"A3: cut, sanitation, 8 in below the last sign, for fire blight, 12 May 2026", ""},
	{"sanitation_cut", "A3 pruned dead wood, tools cleaned, 12 in below, fire blight @ 12 may", 0,
		"A3: cut, sanitation, 12 in below the last sign, for fire blight, tools cleaned, 12 May 2026", ""},
	{"tools_not_cleaned", "A3 cut suckers tools not cleaned @ 12 may", 0,
		"A3: cut, suckers and water shoots, tools not cleaned, 12 May 2026", ""},
	{"cut_to_a_height", "A3 cut height to 12 ft @ 12 may", 0,
		"A3: cut, height reduction, down to 12 ft, 12 May 2026", ""},
	{"planned_limb", "A3 plan cut limb 1 of 3 @ feb 2027", 0,
		"A3: plan: cut, part 1 of 3, February 2027", ""},
	{"plan_command_leaves_the_word_out", "A3 cut limb 1 of 3 @ feb", IS_PLAN,
		"A3: plan: cut, part 1 of 3, February 2027", ""},
	{"repeat_with_windows", "T plan fed every 4-6 wks Feb to mid-Apr, then Oct to Xmas", 0,
		"T: plan: fed every 4-6 wks, Feb to mid-Apr, then Oct to Xmas, 24 November 2026", ""},
	{"comma_after_label", "fig by gate, fed 1 1/2 kg 10-10-10 @ yesterday", 0,
		"fig by gate: fed 1 1/2 kg of 10-10-10 (150 g N), 23 November 2026", ""},
	{"product_of_the_log", "A3 fed 3 kg Sulfate of Ammonia @ 12 may", 0,
		"A3: fed 3 kg of sulfate of ammonia, 12 May 2026", ""},
	{"girth", "A3 girth 41 cm at 1 ft @ 12 may", 0,
		"A3: measured girth 41 cm at 1 ft, 12 May 2026", ""},
	{"trunk", "A3 trunk 5 1/8 in @ 12 may", 0, "A3: measured trunk 5 1/8 in, 12 May 2026", ""},
	{"stems", "A3 stems 5 in, 6 in and 8 in @ 12 may", 0,
		"A3: measured trunk 5 in, 6 in, 8 in, 12 May 2026", ""},
	{"height_and_spread", "A3 height 12 ft spread 10 ft @ 12 may", 0,
		"A3: measured height 12 ft, spread 10 ft, 12 May 2026", ""},
	{"shoots", "A3 shoots 10-14 in @ 12 may", 0, "A3: measured shoots 10-14 in, 12 May 2026", ""},
	{"pest", "A3 saw aphids light @ 12 may", 0, "A3: saw aphids, light, 12 May 2026", ""},
	{"pest_with_share", "A3 saw heavy scab, 10% of leaves @ 12 may", 0,
		"A3: saw scab leaves, heavy, 10 %, 12 May 2026", ""},
	{"stage_code", "A3 stage 65 @ 12 may", 0, "A3: stage 65, 12 May 2026", ""},
	{"stage_of_three_figures", "A3 stage 605 @ 12 may", 0, "A3: stage 605, 12 May 2026", ""},
	{"stage_words", "A3 full bloom @ 12 may", 0, "A3: stage 65 (full bloom), 12 May 2026", ""},
	{"bloom_is_a_range", "A3 in flower @ 12 may", 0,
		"A3: stage 60 to 69 (in flower), 12 May 2026", ""},
	{"share_open_gives_the_code", "A3 bloom 30% open @ 12 may", 0,
		"A3: stage 63 (bloom), 30 % open, 12 May 2026", ""},
	{"petal_fall", "A3 petal fall @ 12 may", 0, "A3: stage 69 (petal fall), 12 May 2026", ""},
	{"water", "A3 watered 12 gal @ 12 may", US, "A3: watered 12 gal, 12 May 2026", ""},
	{"water_worked_out", "A3 watered 35 min 4 emitters 2 l/h @ 12 may", 0,
		"A3: watered 35 min, 4 emitters, 2 l/h each, 12 May 2026", "4 x 2 l/h x 35 min = 4.7 l"},
	{"gallon_taken_as_us_is_said", "A3 watered 12 gal @ 12 may", 0,
		"A3: watered 12 gal, 12 May 2026", "taken as US"},
	{"spray", "A3 sprayed sulfur, 7 days to harvest, re-entry 12 h @ 12 may", 0,
		"A3: sprayed sulfur, 7 days to harvest, re-entry 12 h, 12 May 2026",
		"the product's label is the law"},
	{"spray_label_cues", "A3 sprayed copper for leaf curl phi 7 rei 1 day @ 12 may", 0,
		"A3: sprayed copper, 7 days to harvest, re-entry 1 day, leaf curl, 12 May 2026",
		"the product's label is the law"},
	{"mulch", "A3 mulched 4 in wood chip @ 12 may", 0,
		"A3: mulched 4 in, wood chip, 12 May 2026", ""},
	{"thin", "A3 thinned 60 fruit @ 12 may", 0, "A3: thinned 60 fruit, 12 May 2026", ""},
	{"loss", "A3 lost 4 kg spoiled @ 12 may", 0, "A3: lost 4 kg, spoiled, 12 May 2026", ""},
	{"loss_verb_is_the_cause", "A3 dropped 20 fruit @ 12 may", 0,
		"A3: lost 20 fruit, dropped, 12 May 2026", ""},
	{"loss_in_words", "A3 lost birds @ 12 may", 0, "A3: lost birds, 12 May 2026", ""},
	{"graft", "A3 grafted Comice whip @ 12 may", 0, "A3: grafted Comice, whip, 12 May 2026",
		"wood from or for elsewhere may be under quarantine: check first"},
	{"pot_up", "A3 potted up 25 l @ 12 may", 0, "A3: potted up 25 l, 12 May 2026", ""},
	{"protect", "A3 covered frost cloth @ 12 may", 0,
		"A3: protected with frost cloth, 12 May 2026", ""},
	{"soil_test", "A3 soil test ph 6.5 @ 12 may", 0, "A3: soil test pH 6.5, 12 May 2026", ""},
	{"photo", "A3 photo pictures/a3 bloom.jpg @ 12 may", 0,
		"A3: photo pictures/a3 bloom.jpg, 12 May 2026", ""},
	{"leave", "A3 leave until 2027-10 @ 12 may ; hard cut", 0,
		"A3: leave until October 2027, 12 May 2026", ""},
	{"note", "A3 note 3 lb fewer than last year @ 12 may", 0,
		"A3: noted: 3 lb fewer than last year, 12 May 2026", ""},
	{"died", "A3 died fire blight @ 2019", 0, "A3: died, fire blight, 2019", ""},
	{"frost_of_the_place", "frost -2 C last night", 0,
		"place: frost -2 C, today (24 November 2026)", ""},
	{"rain_before_the_verb", "\xC2\xBD\" rain", 0, "place: rain \xC2\xBD\", today (24 November 2026)", ""},
	{"hail_alone", "hail @ 12 may", 0, "place: hail, 12 May 2026", ""},
	{"wind", "wind 60 km/h @ 12 may", 0, "place: wind 60 km/h, 12 May 2026", ""},
	{"degrees_from_the_place", "frost 28 @ 12 may", US, "place: frost 28 F, 12 May 2026", ""},
	{"spot_has_the_pick", "spot clump picked 12 lb @ 12 may", US,
		"spot clump: picked 12 lb, 12 May 2026", ""},
	{"graft_by_what_was_put_on", "graft Comice picked 2 kg @ 12 may", 0,
		"W1/Comice: picked 2 kg, 12 May 2026", ""},
	{"union_below_the_soil", "A3 union 2 cm below the soil @ 12 may", 0,
		"A3: measured graft union 2 cm below the soil, 12 May 2026", ""},
	{"union_with_a_minus", "A3 union \xE2\x88\x92" "2 cm @ 12 may", 0,
		"A3: measured graft union -2 cm, 12 May 2026", ""},
	{"graft_union_is_no_graft", "A3 graft union 3 in above @ 12 may", 0,
		"A3: measured graft union 3 in above, 12 May 2026", ""},
	{"bleach_is_warned_of", "A3 cut dead wood @ 12 may ; shears in bleach", 0,
		"A3: cut, sanitation, 12 May 2026",
		"bleach: never mix anything else in, the gas can kill; alcohol is kinder to tools"},
	{"what_the_sun_bleached_is_not", "A3 note label bleached @ 12 may", 0,
		"A3: noted: label bleached, 12 May 2026", ""},
	{"all_of_a_kind", "all figs watered 5 gal @ 12 may", US,
		"all figs: watered 5 gal each, 12 May 2026", ""},
	{"all_in_an_area_total", "all in north row watered 100 gal total @ 12 may", US,
		"all in north row: watered 100 gal in total, 12 May 2026", ""},
	{"label_with_a_verb_in_it", "cut leaf cut shape 10% @ 12 may", 0,
		"cut leaf: cut, shape, 10 %, 12 May 2026", ""},
	{"quoted_label", "\"fig wall\" picked 3 lb @ 12 may", 0, "fig wall: picked 3 lb, 12 May 2026", ""},
	{"short_label_prints_whole", "fig by picked 3 lb @ 12 may", 0,
		"fig by gate: picked 3 lb, 12 May 2026", ""},
	{"label_in_any_case", "a3 PICKED 3 LB @ 12 MAY", 0, "A3: picked 3 LB, 12 May 2026", ""},
	{"accents_in_a_label", "N\xC3\xADspero picked 3 kg @ 12 may", 0,
		"N\xC3\xADspero: picked 3 kg, 12 May 2026", ""},
	{"decomposed_accents_too", "Ni\xCC\x81spero picked 3 kg @ 12 may", 0,
		"N\xC3\xADspero: picked 3 kg, 12 May 2026", ""},
	{"reused_label_is_the_standing_tree", "A5 picked 3 lb @ 12 may", 0,
		"A5: picked 3 lb, 12 May 2026", ""},
	{"verb_alone_at_a_tree", "picked 3 lb @ 12 may", AT_A3, "A3: picked 3 lb, 12 May 2026", ""},
	{"letter_at_a_tree", "p 3 lb @ 12 may", AT_A3, "A3: picked 3 lb, 12 May 2026", ""},
	{"letter_g_is_girth", "g 41 cm @ 12 may", AT_A3, "A3: measured girth 41 cm, 12 May 2026", ""},
	{"letter_b_is_bloom", "b @ 12 may", AT_A3, "A3: stage 60 to 69 (bloom), 12 May 2026", ""},
	{"plan_at_a_tree", "plan c limb 1 of 2 @ feb 2027", AT_A3,
		"A3: plan: cut, part 1 of 2, February 2027", ""},
	{"other_label_at_a_tree", "T picked 3 lb @ 12 may", AT_A3, "T: picked 3 lb, 12 May 2026", ""},
	{"last_pick", "A3 picked last 3 kg @ 12 may", 0, "A3: picked 3 kg, the last pick, 12 May 2026", ""},
	{"kind_name_counts_fruit", "A3 picked 40 lemons @ 12 may", 0,
		"A3: picked 40 fruit, 12 May 2026", ""},
	{"known_container", "A3 picked 3 trays @ 12 may", 0, "A3: picked 3 trays, 12 May 2026", ""},
	{"unlikely_but_sure", "A3 picked 9000 lb sure @ 12 may", 0, "A3: picked 9000 lb, 12 May 2026", ""},
	{"same_amount_twice_is_one", "A3 picked 10 lb 4.5 kg @ 12 may", 0,
		"A3: picked 10 lb, 12 May 2026", ""},
	{"season_of_a_pick", "A3 picked 3 kg @ season 2025/26", 0, "A3: picked 3 kg, season 2025/26", ""},
	{"year_of_a_pick", "A3 picked 3 kg @ 2025", 0, "A3: picked 3 kg, season 2025", ""},
	{"aside_goes_to_the_note", "A3 picked 12 kg (two good trays) @ 12 may ; hot", 0,
		"A3: picked 12 kg, 12 May 2026", ""},
	{"future_day_is_kept", "A3 picked 3 kg @ 2026-12-24", 0, "A3: picked 3 kg, 24 December 2026",
		"after today: kept, and flagged"},
	{"file_day", "A3 picked 3 kg", FROM_FILE | FILE_DAY, "A3: picked 3 kg, 5 March 2020", ""},
	{"file_yesterday", "A3 picked 3 kg yesterday", FROM_FILE | FILE_DAY,
		"A3: picked 3 kg, 4 March 2020", ""},
	{"pink_bud", "A3 pink bud @ 12 may", 0, "A3: stage 57 (pink bud), 12 May 2026", ""},
	{"fruit_set", "A3 fruit set @ 12 may", 0, "A3: stage 71 (fruit set), 12 May 2026", ""},
	{"share_before_bloom", "A3 10% bloom @ 12 may", 0, "A3: stage 61, 10 % open, 12 May 2026", ""},
	{"plural_of_a_kind", "A3 thinned 40 peaches @ 12 may", 0, "A3: thinned 40 fruit, 12 May 2026", ""},
	{"thinned_to", "A3 thinned to one per cluster @ 12 may", 0,
		"A3: thinned to one per cluster, 12 May 2026", ""},
	{"lost_all", "A3 lost all to frost @ 12 may", 0, "A3: lost 100 %, frost, 12 May 2026", ""},
	{"lost_half_of_the_crop", "A3 lost half of the crop to birds @ 12 may", 0,
		"A3: lost 50 %, birds, 12 May 2026", ""},
	{"headed_is_a_heading_cut", "A3 headed back 20% @ 12 may", 0,
		"A3: cut, heading cut, 20 %, 12 May 2026", ""},
	{"cut_back_hard", "A3 cut back hard @ 12 may", 0, "A3: cut, renovation, 12 May 2026", ""},
	{"removed_is_kept", "A3 removed @ 12 may", 0, "A3: died, removed, 12 May 2026", ""},
	{"last_year_needs_no_sign", "A3 picked 3 kg last year", 0, "A3: picked 3 kg, season 2025", ""},
	{"leave_until_next_spring", "A3 leave until next spring @ 12 may", 0,
		"A3: leave until spring 2027, 12 May 2026", ""},
	{"words_without_amount", "A3 picked plenty but not full @ 12 may", 0,
		"A3: picked plenty but not full, 12 May 2026", "kept in words"},
};

static const struct bad bads[] = {
	{"empty", "   ", 0, STATUS_SYNTAX, 0, "empty", NULL},
	{"only_a_note", "; nothing", 0, STATUS_SYNTAX, 0, "nothing but a note", NULL},
	{"no_verb", "A3", 0, STATUS_SYNTAX, 0, "no word here says what was done", NULL},
	{"unknown_verb", "A3 danced 3 lb", 0, STATUS_SYNTAX, 0, "no word here says", NULL},
	{"no_label", "picked 3 lb", 0, STATUS_SYNTAX, 0, "whom is it for", NULL},
	{"letters_only_at_a_tree", "A3 p 3 lb", 0, STATUS_SYNTAX, 0, "no word here says", NULL},
	{"unknown_label", "A9 picked 3 lb", 0, STATUS_ABSENT, 0, "nothing is called 'A9'", NULL},
	{"unknown_spot", "spot hole picked 3 lb", 0, STATUS_ABSENT, 0, "nothing is called 'spot hole'", NULL},
	{"short_label_not_taken", "fig by picked 3 lb", LONG_ONLY, STATUS_ABSENT, 0, "'fig by gate' whole", NULL},
	{"short_label_of_two", "fig picked 3 lb", 0, STATUS_DOUBT, 0, "'fig by gate' or for 'fig wall'", NULL},
	{"one_letter_is_no_short_label", "a picked 3 lb", 0, STATUS_ABSENT, 0, "nothing is called 'a'", NULL},
	{"two_trees_of_one_label", "G1 picked 3 lb", 0, STATUS_DOUBT, 0, "'G1' or for 'G1'", NULL},
	{"before_it_was_planted", "A5 picked 3 lb @ 2019", 0, STATUS_DOUBT, 17, "before 'A5' was planted", NULL},
	{"unknown_word_with_a_number", "A3 picked 12 K", 0, STATUS_SYNTAX, 13, "not understood: 'K'; after ; it is a note", NULL},
	{"unknown_word_in_a_cut", "A3 cut nicely 20%", 0, STATUS_SYNTAX, 7, "not understood: 'nicely'", NULL},
	{"negative", "A3 picked -3 kg", 0, STATUS_RANGE, 10, "never below zero", NULL},
	{"not_a_number", "A3 picked 1e9", 0, STATUS_SYNTAX, 10, "'1e9' is not an amount", NULL},
	{"two_weights", "A3 picked 3 lb 5 lb @ 12 may", 0, STATUS_DOUBT, 15, "one line logs one thing", "A3 picked 3 lb @ 12 may"},
	{"aside_disagrees", "A3 picked 10 lb (5.5 kg)", 0, STATUS_DOUBT, 17, "not the same amount", NULL},
	{"pick_and_loss", "A3 picked 29 lb and 2 buckets rotten", 0, STATUS_DOUBT, 20, "is a loss", "A3 picked 29 lb"},
	{"two_kinds_of_cut", "A3 cut suckers and shape", 0, STATUS_DOUBT, 19, "two kinds of cut", "A3 cut suckers"},
	{"length_of_a_cut", "A3 cut 12 in", 0, STATUS_DOUBT, 7, "'12 in below'", NULL},
	{"share_above_the_whole", "A3 cut 120% of crown", 0, STATUS_RANGE, 7, "at most 100 %", NULL},
	{"part_above_parts", "A3 plan cut limb 4 of 3 @ feb 2027", 0, STATUS_RANGE, 12, "part 4 of 3", NULL},
	{"analysis_above_the_whole", "A3 fed 90-20-10", 0, STATUS_RANGE, 7, "more than 100 %", NULL},
	{"bare_feed", "A3 fed 12", 0, STATUS_DOUBT, 7, "'12' of what", NULL},
	{"bare_water", "A3 watered 12", 0, STATUS_DOUBT, 11, "gal, l", NULL},
	{"degrees_of_no_scale", "frost 12", 0, STATUS_DOUBT, 6, "12 F or 12 C", NULL},
	{"round_or_across", "A3 measured 41 cm", 0, STATUS_DOUBT, 12, "girth 41 cm", NULL},
	{"too_wide_across", "A3 diameter 4'7\"", 0, STATUS_DOUBT, 12, "17.5 in across", NULL},
	{"union_above_or_below", "A3 union 2 cm", 0, STATUS_DOUBT, 9, "above or below the soil", NULL},
	{"two_girths", "A3 girth 41 cm 52 cm", 0, STATUS_DOUBT, 15, "stems 5 in", "A3 girth 41 cm"},
	{"open_measure", "A3 girth 41+ cm", 0, STATUS_SYNTAX, 9, "no top", NULL},
	{"stage_without_code", "A3 stage", 0, STATUS_SYNTAX, 8, "BBCH", NULL},
	{"stage_of_four_figures", "A3 stage 1000", 0, STATUS_RANGE, 9, "no stage", NULL},
	{"saw_nothing", "A3 saw", 0, STATUS_SYNTAX, 6, "saw what", NULL},
	{"leave_without_a_day", "A3 leave alone", 0, STATUS_SYNTAX, 14, "until when", NULL},
	{"leave_until_no_day", "A3 leave until doomsday", 0, STATUS_SYNTAX, 15, "is not a day", NULL},
	{"plan_without_a_day", "A3 plan cut shape", 0, STATUS_SYNTAX, 17, "planned for when", NULL},
	{"every_without_plan", "A3 fed 2 kg every 6 weeks", 0, STATUS_SYNTAX, 12, "for work that is planned", NULL},
	{"bad_day", "A3 picked 3 lb @ 31 april", 0, STATUS_RANGE, 17, "30", NULL},
	{"day_said_twice", "A3 picked 3 lb yesterday @ 12 may", 0, STATUS_DOUBT, 15, "write one of them", NULL},
	{"file_yesterday_without_a_day", "A3 picked 3 lb yesterday", FROM_FILE, STATUS_DOUBT, 15, "'@ DAY'", NULL},
	{"removed_a_part", "A3 removed 3 suckers", 0, STATUS_DOUBT, 3, "write cut", NULL},
	{"good_years", "A3 picked good crop 2013 and 2015", 0, STATUS_DOUBT, 20, "2 years", "A3 picked good crop @ 2013"},
	{"year_or_count", "A3 picked 2013", 0, STATUS_DOUBT, 10, "'2013 fruit'", NULL},
	{"control_character", "A3 picked 3\x01lb", 0, STATUS_SYNTAX, 0, "U+0001", NULL},
	{"broken_utf8", "A3 picked \xFF", 0, STATUS_SYNTAX, 0, "UTF-8", NULL},
	{"line_end_inside", "A3 picked 3 lb\nT picked 4 lb", 0, STATUS_SYNTAX, 0, "U+000A", NULL},
};
/* clang-format on */

static struct line_context context_of(int how)
{
	struct line_context context = fixture_context();
	context.label = (how & AT_A3) != 0 ? "A3" : NULL;
	context.short_labels = (how & LONG_ONLY) == 0;
	context.is_plan = (how & IS_PLAN) != 0;
	context.from_file = (how & FROM_FILE) != 0;
	if ((how & US) != 0)
		context.numbers.units = UNITS_US;
	if ((how & FILE_DAY) != 0) {
		context.file_day.known = true;
		check_ok(date_parse_iso("2020-03-05", &context.file_day.value, NULL), NULL);
	}
	return context;
}

static void reads_line(const void *one)
{
	const struct good *good = one;
	struct line_context context = context_of(good->how);
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	check_ok(line_read(good->line, &context, arena, reading, NULL, &why), &why);
	check_text(reading->said, good->said, "said");
	check_text(reading->draft.words, good->line, "words");
	if (good->remark != NULL && good->remark[0] == '\0')
		check_text(reading->remarks, "", "remarks");
	else if (good->remark != NULL)
		check_has(reading->remarks, good->remark, "remarks");
	arena_free(arena);
}

static void refuses_line(const void *one)
{
	const struct bad *bad = one;
	struct line_context context = context_of(bad->how);
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	size_t column = 999;
	check_refused(line_read(bad->line, &context, arena, reading, &column, &why), bad->status,
		&why, bad->says);
	check_int((int64_t)column, bad->column, "column");
	check_int(reading->line_count > 0, bad->first_line != NULL, "offers lines");
	if (bad->first_line != NULL)
		check_text(reading->lines[0], bad->first_line, "first line offered");
	check_text(reading->draft.words, bad->line, "words kept");
	arena_free(arena);
}

/* Each line that a refusal offers is itself taken. */
static void offered_lines_are_taken(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	for (size_t i = 0; i < sizeof(bads) / sizeof(bads[0]); i++) {
		if (bads[i].first_line == NULL)
			continue;
		struct arena *arena = arena_new();
		struct reading *reading = arena_alloc(arena, sizeof(*reading));
		struct reading *again = arena_alloc(arena, sizeof(*again));
		struct fault why = {0};
		check_int(line_read(bads[i].line, &context, arena, reading, NULL, &why),
			STATUS_DOUBT, bads[i].line);
		for (int32_t line = 0; line < reading->line_count; line++)
			check_ok(
				line_read(reading->lines[line], &context, arena, again, NULL, &why),
				&why);
		arena_free(arena);
	}
}

static void every_example_of_the_kind_table_reads(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	context.short_labels = false;
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		struct arena *arena = arena_new();
		struct reading *reading = arena_alloc(arena, sizeof(*reading));
		struct fault why = {0};
		const struct kind_row *row = kind_row((enum entry_kind)kind);
		check_ok(line_read(row->example, &context, arena, reading, NULL, &why), &why);
		check_int(reading->draft.kind, kind, row->example);
		arena_free(arena);
	}
}

/* Where an entry says it has a field, the kind's row lists it, or a plan or words added it. */
static void every_verb_reads_as_its_kind(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		char verbs[400];
		const char *table = kind_row((enum entry_kind)kind)->verbs;
		memcpy(verbs, table, strlen(table) + 1);
		for (char *verb = strtok(verbs, " "); verb != NULL; verb = strtok(NULL, " ")) {
			struct arena *arena = arena_new();
			struct reading *reading = arena_alloc(arena, sizeof(*reading));
			struct fault why = {0};
			char line[100];
			(void)snprintf(line, sizeof(line), "A3 %s", verb);
			enum status status = line_read(line, &context, arena, reading, NULL, &why);
			if (status == STATUS_OK)
				check_int(reading->draft.kind, kind, line);
			else
				check_int(status, STATUS_SYNTAX, why.text);
			arena_free(arena);
		}
	}
}

static void note_and_aside_are_kept_raw(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	const char *line =
		"A3 picked 12 kg (two good trays) ;  \xE2\x80\x98hot\xE2\x80\x99; dry @ noon ";
	check_ok(line_read(line, &context, arena, reading, NULL, &why), &why);
	check_text(reading->draft.note, "\xE2\x80\x98hot\xE2\x80\x99; dry @ noon (two good trays)",
		"note");
	check_int(reading->day_given, false, "no day given");
	arena_free(arena);
}

static void stems_keep_their_height_and_word(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	check_ok(line_read("A3 stems 20 cm, 30 cm round at 1 ft", &context, arena, reading, NULL,
			 &why),
		&why);
	const struct entry *draft = &reading->draft;
	check_int(draft->stem_count, 2, "stems");
	for (int i = 0; i < 2; i++) {
		check_int(draft->stems[i].stem, i + 1, "number");
		check_int(draft->stems[i].field, FIELD_GIRTH, "girth");
		check_int(draft->stems[i].word_given, true, "round was said");
		check_int(draft->stems[i].at_height_um.value, 304800, "at 1 ft");
	}
	check_ok(line_read("A3 trunk 60 cm", &context, arena, reading, NULL, &why), &why);
	check_int(draft->stems[0].word_given, false, "no word: may be asked about");
	check_int(draft->stems[0].field, FIELD_DIAMETER, "across");
	check_int(draft->stems[0].at_height_um.known, false, "height not said");
	arena_free(arena);
}

static void weighed_beats_containers(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	check_ok(line_read("T picked 3 bags + two 5-gal buckets, 47 lb on the food bank's scale",
			 &context, arena, reading, NULL, &why),
		&why);
	check_int(reading->draft.amount_count, 1, "one amount");
	check_int(entry_amount(&reading->draft, FIELD_WEIGHT)->low.value, 21318841, "47 lb");
	check_text(entry_detail(&reading->draft, FIELD_WORDS), "3 bags + two 5-gal buckets",
		"containers in words");
	arena_free(arena);
}

static void season_outside_the_line_is_taken(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	context.season = "2014/15";
	check_ok(line_read("T picked 3 kg", &context, arena, reading, NULL, &why), &why);
	check_int(reading->draft.season_year.value, 2014, "season");
	context.season = "soon";
	check_refused(line_read("T picked 3 kg", &context, arena, reading, NULL, &why),
		STATUS_SYNTAX, &why, "season soon");
	arena_free(arena);
}

static void day_line_sets_a_day(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	check_ok(line_read("@ 5 march 2020", &context, arena, reading, NULL, &why), &why);
	check_int(reading->is_day_line, true, "a day line");
	check_text(reading->draft.day.text, "2020-03-05", "day");
	arena_free(arena);
}

static void batches_name_what_they_are_for(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	check_ok(line_read("all figs fed 1 kg urea", &context, arena, reading, NULL, &why), &why);
	check_int(reading->batch, BATCH_ALL_KIND, "of a kind");
	check_text(reading->batch_name, "fig", "kind");
	check_int(reading->is_total, false, "each");
	check_ok(line_read("all in north row watered 100 l total", &context, arena, reading, NULL,
			 &why),
		&why);
	check_int(reading->batch, BATCH_ALL_AREA, "in an area");
	check_text(reading->batch_name, "01AREA000000000000000NORTH", "area");
	check_int(reading->is_total, true, "undivided");
	check_ok(line_read("all trees watered 10 l", &context, arena, reading, NULL, &why), &why);
	check_int(reading->batch, BATCH_ALL, "all");
	check_refused(line_read("all quinces watered 10 l", &context, arena, reading, NULL, &why),
		STATUS_ABSENT, &why, "all quinces");
	arena_free(arena);
}

static void labels_hold_nothing_the_line_uses(void **state)
{
	(void)state;
	const char *const fine[] = {"A3", "fig by gate", "=SUM(A1)", "a,b", "a|b", "3/7", "-12",
		"\xE5\xAF\x8C\xE6\x9C\x89", "\xF0\x9F\x8D\x8B", "allspice", "N/A",
		"1234567890123456789012345678901234567890"};
	const char *const bad[] = {"", "   ", "a;b", "a@b", "a\"b", "a\tb", "a\nb", "all figs",
		"spot 1", "area x", "graft y", "All trees",
		"12345678901234567890123456789012345678901"};
	struct fault why = {0};
	for (size_t i = 0; i < sizeof(fine) / sizeof(fine[0]); i++)
		check_ok(label_check(fine[i], &why), &why);
	for (size_t i = 0; i < sizeof(bad) / sizeof(bad[0]); i++)
		check_refused(label_check(bad[i], &why), STATUS_RANGE, &why, "");
}

static void long_lines_are_refused_whole(void **state)
{
	(void)state;
	struct line_context context = fixture_context();
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof(*reading));
	struct fault why = {0};
	char *line = arena_alloc(arena, LINE_SIZE + 10);
	memset(line, 'x', LINE_SIZE + 5);
	memcpy(line, "A3 note ", 8);
	check_refused(line_read(line, &context, arena, reading, NULL, &why), STATUS_RANGE, &why,
		"at most 4400");
	line[700] = '\0';
	check_refused(line_read(line, &context, arena, reading, NULL, &why), STATUS_RANGE, &why,
		"after ';'");
	line[8] = ';';
	check_ok(line_read(line, &context, arena, reading, NULL, &why), &why);
	arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(offered_lines_are_taken),
		cmocka_unit_test(every_example_of_the_kind_table_reads),
		cmocka_unit_test(every_verb_reads_as_its_kind),
		cmocka_unit_test(note_and_aside_are_kept_raw),
		cmocka_unit_test(stems_keep_their_height_and_word),
		cmocka_unit_test(weighed_beats_containers),
		cmocka_unit_test(season_outside_the_line_is_taken),
		cmocka_unit_test(day_line_sets_a_day),
		cmocka_unit_test(batches_name_what_they_are_for),
		cmocka_unit_test(labels_hold_nothing_the_line_uses),
		cmocka_unit_test(long_lines_are_refused_whole),
	};
	int failed = RUN_CASES("lines read", goods, reads_line);
	failed += RUN_CASES("lines asked or refused", bads, refuses_line);
	failed += cmocka_run_group_tests_name("line", tests, NULL, NULL);
	return failed != 0;
}
