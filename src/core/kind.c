/* SPDX-License-Identifier: MIT */
#include "core/kind.h"

#include <assert.h>
#include <string.h>

/* clang-format off */
static const struct field_row field_rows[FIELD_TOTAL] = {
	[FIELD_NONE] = {"none", "nothing", DIMENSION_NONE, false, "no field"},
	[FIELD_WEIGHT] = {"weight", "weight", DIMENSION_MASS, false,
		"as weighed: 6 lb 4 oz, 2.5 kg; or in a container of your own: 3 trays"},
	[FIELD_COUNT] = {"count", "how many", DIMENSION_COUNT, false, "pieces: 85 fruit, 4 doz"},
	[FIELD_VOLUME] = {"volume", "volume", DIMENSION_VOLUME, false, "12 gal, 60 l, 1/2 bu"},
	[FIELD_SHARE_CROWN] = {"share-crown", "share of the crown", DIMENSION_SHARE, false,
		"20% of crown"},
	[FIELD_SHARE_SHOOTS] = {"share-shoots", "share of last year's shoots", DIMENSION_SHARE, false,
		"half of shoots"},
	[FIELD_SHARE] = {"share", "share", DIMENSION_SHARE, false, "20%, a third, half"},
	[FIELD_SHARE_OPEN] = {"share-open", "flowers open", DIMENSION_SHARE, false, "30% open"},
	[FIELD_SHARE_LEFT] = {"share-left", "crop still hanging", DIMENSION_SHARE, false, "60% left"},
	[FIELD_BELOW_SIGN] = {"below-sign", "below the last sign", DIMENSION_LENGTH, false,
		"12 in below: how far under the last sign of disease it was cut"},
	[FIELD_PRODUCT_MASS] = {"product-mass", "weight of product", DIMENSION_MASS, false,
		"what was weighed out of the bag: 1 1/2 kg"},
	[FIELD_PRODUCT_VOLUME] = {"product-volume", "volume of product", DIMENSION_VOLUME, false,
		"2 cups, 1 tbsp, 20 l"},
	[FIELD_NITROGEN] = {"nitrogen", "actual N", DIMENSION_MASS, false,
		"1 lb N: the nutrient, not the product"},
	[FIELD_ANALYSIS_N] = {"analysis-n", "N of the bag", DIMENSION_ANALYSIS, false,
		"the first figure of 10-10-10"},
	[FIELD_ANALYSIS_P2O5] = {"analysis-p2o5", "P2O5 of the bag", DIMENSION_ANALYSIS, false,
		"the second figure of 10-10-10"},
	[FIELD_ANALYSIS_K2O] = {"analysis-k2o", "K2O of the bag", DIMENSION_ANALYSIS, false,
		"the third figure of 10-10-10"},
	[FIELD_GIRTH] = {"girth", "girth", DIMENSION_LENGTH, false, "a tape round the trunk: 41 cm round"},
	[FIELD_DIAMETER] = {"diameter", "diameter", DIMENSION_LENGTH, false, "across the trunk: 5 1/8 in"},
	[FIELD_HEIGHT] = {"height", "height", DIMENSION_LENGTH, false, "12 ft"},
	[FIELD_SPREAD] = {"spread", "spread", DIMENSION_LENGTH, false, "across the crown: 3.5 m"},
	[FIELD_SHOOT] = {"shoot", "shoot growth", DIMENSION_LENGTH, false,
		"length of last season's shoots: 10-14 in"},
	[FIELD_AT_HEIGHT] = {"at-height", "measured at", DIMENSION_LENGTH, false,
		"where on the trunk: at 1 ft"},
	[FIELD_UNION] = {"union", "graft union", DIMENSION_LENGTH, false,
		"the graft union above the soil: union 3 in above; 2 cm below is kept as -2 cm"},
	[FIELD_STAGE] = {"stage", "growth stage", DIMENSION_CODE, false,
		"a BBCH code: 65; loquat 600 to 609 in bloom"},
	[FIELD_DURATION] = {"duration", "how long", DIMENSION_DURATION, false, "35 min, 2 h"},
	[FIELD_EMITTERS] = {"emitters", "emitters", DIMENSION_COUNT, false, "4 emitters"},
	[FIELD_FLOW] = {"flow", "flow of one emitter", DIMENSION_FLOW, false, "2 l/h, 1 gal/h"},
	[FIELD_DEPTH] = {"depth", "depth", DIMENSION_LENGTH, false, "4 in of mulch, 13 mm of rain"},
	[FIELD_DAYS_TO_HARVEST] = {"days-to-harvest", "days to harvest", DIMENSION_DAYS, false,
		"from the label: 7 days to harvest"},
	[FIELD_REENTRY] = {"re-entry", "re-entry", DIMENSION_DURATION, false,
		"from the label: re-entry 12 h"},
	[FIELD_TEMPERATURE] = {"temperature", "temperature", DIMENSION_TEMPERATURE, false, "-2 C, 28 F"},
	[FIELD_WIND] = {"wind", "wind", DIMENSION_SPEED, false, "60 km/h, 35 mph"},
	[FIELD_PART] = {"part", "part", DIMENSION_COUNT, false, "the 1 of 1 of 3"},
	[FIELD_PARTS] = {"parts", "of parts", DIMENSION_COUNT, false, "the 3 of 1 of 3"},
	[FIELD_EVERY] = {"every", "every", DIMENSION_DAYS, false, "of a plan: every 3 weeks"},
	[FIELD_PH] = {"ph", "pH", DIMENSION_NONE, false, "ph 6.5"},
	[FIELD_CUT_KIND] = {"cut-kind", "kind of cut", DIMENSION_NONE, true,
		"sanitation, sucker, thinning, heading, height, shape, renovation, summer tip"},
	[FIELD_REASON] = {"reason", "reason", DIMENSION_NONE, true, "fire blight; for light"},
	[FIELD_TOOLS_CLEANED] = {"tools-cleaned", "tools cleaned", DIMENSION_NONE, true,
		"tools cleaned, tools not cleaned"},
	[FIELD_PRODUCT] = {"product", "product", DIMENSION_NONE, true, "what the bag or bottle says"},
	[FIELD_GRADE] = {"grade", "grade", DIMENSION_NONE, true, "first grade, seconds, windfalls, small"},
	[FIELD_PARTIAL] = {"partial", "how much of it", DIMENSION_NONE, true,
		"partial while fruit still hangs, last when it was the last pick"},
	[FIELD_CAUSE] = {"cause", "cause", DIMENSION_NONE, true, "birds, frost, fire blight"},
	[FIELD_SUBJECT_SEEN] = {"seen", "what was seen", DIMENSION_NONE, true, "aphids, scab, split fruit"},
	[FIELD_SEVERITY] = {"severity", "how bad", DIMENSION_NONE, true, "trace, light, moderate, heavy"},
	[FIELD_WORDS] = {"words", "in words", DIMENSION_NONE, true, "an amount only in words: plenty"},
	[FIELD_UNTIL] = {"until", "until", DIMENSION_NONE, true, "until 2026-10"},
	[FIELD_METHOD] = {"method", "how", DIMENSION_NONE, true, "drip, whip graft, frost cloth"},
	[FIELD_NAME] = {"name", "name", DIMENSION_NONE, true, "the cultivar, as said"},
	[FIELD_PLACE_TO] = {"place-to", "to where", DIMENSION_NONE, true, "the spot it was moved to"},
	[FIELD_PATH] = {"path", "file", DIMENSION_NONE, true, "the picture's file, kept where it is"},
	[FIELD_WEATHER] = {"weather", "weather", DIMENSION_NONE, true,
		"frost, rain, hail, wind, storm, heat, snow"},
	[FIELD_PER] = {"per", "per", DIMENSION_NONE, true, "tree, total, week"},
	[FIELD_STAGE_WORD] = {"stage-word", "stage in words", DIMENSION_NONE, true, "bloom, petal fall"},
	[FIELD_TOOK] = {"took", "took", DIMENSION_COUNT, false,
		"how many of them took or came up: 19 took"},
	[FIELD_BECAME] = {"became", "became", DIMENSION_NONE, true,
		"fresh, dried, frozen, made into something, given, sold, lost"},
	[FIELD_OUT_OF] = {"out-of", "out of", DIMENSION_NONE, true,
		"the store it was taken from: from the dried, from the freezer"},
	[FIELD_BATCH] = {"batch", "batch", DIMENSION_NONE, true,
		"what was raised together, by one name: batch whips-26"},
	[FIELD_WINDOW] = {"window", "repeat window", DIMENSION_NONE, true, "Feb to mid-Apr"},
};

static const struct kind_row kind_rows[KIND_TOTAL] = {
	[KIND_CUT] = {"cut", "cut", "cut",
		"cut cuts cutting pruned prune prunes pruning trimmed trim lopped headed topped pinched", 'c',
		{FIELD_CUT_KIND, FIELD_SHARE_CROWN, FIELD_SHARE_SHOOTS, FIELD_SHARE, FIELD_PART,
			FIELD_PARTS, FIELD_COUNT, FIELD_HEIGHT, FIELD_BELOW_SIGN, FIELD_REASON,
			FIELD_TOOLS_CLEANED},
		NULL, FIELD_NONE, false, "A3 cut shape 20% of crown @ 12 may ; leader down to twelve feet",
		"wood taken off: the kind of cut and its share of the crown or of the shoots"},
	[KIND_FEED] = {"feed", "feed", "fed",
		"fed feed feeds feeding fertilised fertilized fertilise fertilize fertilising "
		"fertilizing manured", 'f',
		{FIELD_PRODUCT_MASS, FIELD_PRODUCT_VOLUME, FIELD_NITROGEN, FIELD_COUNT, FIELD_WORDS,
			FIELD_ANALYSIS_N, FIELD_ANALYSIS_P2O5, FIELD_ANALYSIS_K2O, FIELD_PRODUCT, FIELD_PER},
		NULL, FIELD_PRODUCT, false, "A3 fed 1 1/2 kg 10-10-10 @ yesterday",
		"fertiliser: the product, its analysis, and the amount of this one feed"},
	[KIND_PICK] = {"pick", "pick", "picked",
		"picked pick picks picking harvested harvest harvests harvesting gathered gather", 'p',
		{FIELD_WEIGHT, FIELD_COUNT, FIELD_VOLUME, FIELD_WORDS, FIELD_GRADE, FIELD_PARTIAL,
			FIELD_SHARE, FIELD_SHARE_LEFT, FIELD_CAUSE, FIELD_METHOD, FIELD_BECAME, FIELD_PER},
		"fruit", FIELD_NONE, false, "A3 picked 6 lb 4 oz 85 fruit",
		"fruit picked: weighed, counted, by volume or in your own container; none is a zero"},
	[KIND_LOSS] = {"loss", "loss", "lost",
		"lost lose loses loss losses dropped drop drops spoiled spoilt rotted", 0,
		{FIELD_WEIGHT, FIELD_COUNT, FIELD_VOLUME, FIELD_SHARE, FIELD_CAUSE, FIELD_WORDS, FIELD_PER},
		"fruit", FIELD_CAUSE, false, "A3 lost 4 kg spoiled",
		"fruit that was there and was not picked: dropped, spoiled, taken by birds"},
	[KIND_USE] = {"use", "use", "used", "used use uses using kept keep dried sold", 0,
		{FIELD_WEIGHT, FIELD_COUNT, FIELD_VOLUME, FIELD_BECAME, FIELD_OUT_OF, FIELD_NAME,
			FIELD_WORDS, FIELD_PER},
		"fruit", FIELD_NONE, false, "A3 used 8 lb dried",
		"what became of fruit once picked: fresh, dried, frozen, made into something, given, sold, "
		"lost; weighed as it was picked"},
	[KIND_MEASURE] = {"measure", "measure", "measured",
		"measured measure measures measuring girth trunk trunks stem stems diameter dbh height "
		"tall spread shoot shoots union", 'g',
		{FIELD_GIRTH, FIELD_DIAMETER, FIELD_HEIGHT, FIELD_SPREAD, FIELD_SHOOT, FIELD_AT_HEIGHT,
			FIELD_UNION, FIELD_WORDS},
		NULL, FIELD_NONE, false, "A3 girth 41 cm at 1 ft",
		"girth is a tape round the trunk, diameter is across it; stems 5 in, 6 in and 8 in are three"},
	[KIND_STAGE] = {"stage", "growth stage", "stage",
		"stage stages bloom blooms bloomed blooming flower flowers flowered flowering blossom "
		"blossoms blossomed blossoming petal budburst bbch bud buds pink balloon set ripe "
		"ripening dormant leafing", 'b',
		{FIELD_STAGE, FIELD_STAGE_WORD, FIELD_SHARE_OPEN, FIELD_WORDS},
		NULL, FIELD_NONE, false, "A3 bloom 30% open",
		"a BBCH code or words: bud burst, pink bud, bloom, full bloom, petal fall, fruit set"},
	[KIND_SAW] = {"saw", "saw", "saw",
		"saw see seen sees noticed notice spotted found observed", 's',
		{FIELD_SUBJECT_SEEN, FIELD_SEVERITY, FIELD_SHARE, FIELD_WORDS},
		NULL, FIELD_SUBJECT_SEEN, true, "A3 saw aphids light",
		"a pest, a disease, damage, and how bad it is"},
	[KIND_WATER] = {"water", "water", "watered",
		"watered water waters watering irrigated irrigate irrigation soaked", 'w',
		{FIELD_VOLUME, FIELD_DEPTH, FIELD_DURATION, FIELD_EMITTERS, FIELD_FLOW, FIELD_METHOD,
			FIELD_PER, FIELD_WORDS},
		NULL, FIELD_NONE, true, "A3 watered 35 min 4 emitters 2 l/h",
		"a volume, or a time with the emitters and the flow of one; a time alone is no volume"},
	[KIND_MULCH] = {"mulch", "mulch", "mulched", "mulched mulch mulches mulching", 0,
		{FIELD_DEPTH, FIELD_VOLUME, FIELD_WEIGHT, FIELD_PRODUCT, FIELD_SPREAD, FIELD_PER},
		NULL, FIELD_PRODUCT, false, "A3 mulched 4 in wood chip",
		"what was laid, and how deep; keep it clear of the trunk"},
	[KIND_SPRAY] = {"spray", "spray", "sprayed", "sprayed spray sprays spraying", 0,
		{FIELD_PRODUCT, FIELD_PRODUCT_VOLUME, FIELD_PRODUCT_MASS, FIELD_DAYS_TO_HARVEST,
			FIELD_REENTRY, FIELD_SUBJECT_SEEN, FIELD_PER},
		NULL, FIELD_PRODUCT, false, "A3 sprayed sulfur, 7 days to harvest, re-entry 12 h",
		"the product as named, and what its label says: days to harvest, re-entry; the label is the law"},
	[KIND_THIN] = {"thin", "thin", "thinned", "thinned thin thins thinning", 't',
		{FIELD_COUNT, FIELD_WEIGHT, FIELD_SHARE, FIELD_WORDS},
		"fruit", FIELD_NONE, false, "A3 thinned 60 fruit",
		"young fruit taken off so that the rest grow"},
	[KIND_PLANT] = {"plant", "plant", "planted", "planted plant plants planting", 0,
		{FIELD_NAME, FIELD_METHOD, FIELD_DEPTH, FIELD_COUNT, FIELD_WORDS},
		NULL, FIELD_NAME, true, "A3 planted bare root",
		"set in the ground; ask for buried lines before you dig"},
	[KIND_MOVE] = {"move", "move", "moved",
		"moved move moves moving transplanted transplant", 0,
		{FIELD_PLACE_TO, FIELD_METHOD, FIELD_WORDS},
		NULL, FIELD_PLACE_TO, false, "A3 moved to the north corner",
		"to another spot; the tree keeps its record"},
	[KIND_GRAFT] = {"graft", "graft", "grafted",
		"grafted graft grafts grafting budded topworked regrafted", 0,
		{FIELD_NAME, FIELD_METHOD, FIELD_COUNT, FIELD_TOOK, FIELD_BATCH, FIELD_WORDS},
		NULL, FIELD_NAME, false, "A3 grafted Comice whip",
		"the cultivar put on, and how"},
	[KIND_SOW] = {"sow", "sow", "sowed", "sowed sown sow sows sowing", 0,
		{FIELD_NAME, FIELD_COUNT, FIELD_TOOK, FIELD_BATCH, FIELD_WORDS},
		NULL, FIELD_NAME, true, "spot bench sowed 12 seeds of A3",
		"seeds set to raise trees from"},
	[KIND_POT_UP] = {"pot-up", "pot up", "potted up",
		"potted pot pots potting repotted repot repots repotting", 0,
		{FIELD_VOLUME, FIELD_WORDS},
		NULL, FIELD_WORDS, false, "A3 potted up 25 l",
		"into a larger pot: its volume"},
	[KIND_PROTECT] = {"protect", "protect", "protected",
		"protected protect protects protecting covered cover wrapped wrap netted shaded", 0,
		{FIELD_METHOD, FIELD_WORDS},
		NULL, FIELD_METHOD, true, "A3 covered frost cloth",
		"against frost, sun, birds or deer: what was used"},
	[KIND_SOIL_TEST] = {"soil-test", "soil test", "soil test",
		"soil soiltest tested test tests", 0,
		{FIELD_PH, FIELD_WORDS},
		NULL, FIELD_WORDS, true, "A3 soil test ph 6.5",
		"pH, and the rest of the report in words"},
	[KIND_PHOTO] = {"photo", "photo", "photo",
		"photo photos photographed photograph picture pictures", 0,
		{FIELD_PATH},
		NULL, FIELD_PATH, true, "A3 photo pictures/a3-bloom.jpg",
		"the name of a picture's file; the file stays where it is"},
	[KIND_LEAVE] = {"leave", "leave", "leave", "leave leaving", 0,
		{FIELD_UNTIL, FIELD_REASON},
		NULL, FIELD_REASON, false, "A3 leave until 2026-10 ; hard cut in winter",
		"no cutting or feeding is due until then"},
	[KIND_NOTE] = {"note", "note", "noted", "note notes noted noting remark", 'n',
		{FIELD_WORDS},
		NULL, FIELD_WORDS, true, "A3 note fruit smaller than last year",
		"anything else, in your own words"},
	[KIND_DIED] = {"died", "died or removed", "died",
		"died die dies dead removed remove felled gone killed", 0,
		{FIELD_CAUSE},
		NULL, FIELD_CAUSE, false, "A3 died fire blight",
		"the tree stands no more; its record is kept"},
	[KIND_WEATHER] = {"weather", "weather", "weather",
		"weather frost frosts frosted froze freeze rain rained rainfall hail hailed wind windy "
		"storm storms stormed heat heatwave snow snowed", 0,
		{FIELD_WEATHER, FIELD_TEMPERATURE, FIELD_DEPTH, FIELD_WIND, FIELD_DURATION, FIELD_WORDS},
		NULL, FIELD_WORDS, true, "frost -2 C last night",
		"of the whole place, with no label: frost, rain, hail, wind, storm, heat, snow"},
};

static const struct cut_kind_row cut_kind_rows[CUT_TOTAL] = {
	[CUT_UNSAID] = {"unsaid", "kind not said", "",
		"no kind given: judged as a shape cut, and asked"},
	[CUT_SANITATION] = {"sanitation", "sanitation",
		"sanitation dead_wood deadwood dead dieback diseased disease damaged broken cankers "
		"cankered blighted strikes mummies dangerous hazardous hanging",
		"dead, damaged, diseased or dangerous wood; at any time of the year"},
	[CUT_SUCKER] = {"sucker", "suckers and water shoots",
		"sucker suckers water_shoot water_shoots watershoot watershoots water_sprout "
		"water_sprouts watersprouts root_shoots",
		"shoots from the root or straight up from old wood"},
	[CUT_THINNING] = {"thinning", "thinning cut",
		"thinning thinning_cut thinning_cuts thinned_out opened_up opening",
		"whole branches taken out where they start"},
	[CUT_HEADING] = {"heading", "heading cut",
		"heading heading_cut heading_cuts headed headed_back heading_back tipped_back shortened",
		"shoots shortened partway"},
	[CUT_HEIGHT] = {"height", "height reduction",
		"height height_reduction lowered lowering topped leader",
		"the top brought down"},
	[CUT_SHAPE] = {"shape", "shape",
		"shape shaped shaping form formative training trained structure",
		"the yearly cut that keeps the crown in form"},
	[CUT_RENOVATION] = {"renovation", "renovation",
		"renovation renovated renovating rejuvenation hard hard_cut restoration",
		"a hard cut to bring an old tree back, best spread over years"},
	[CUT_SUMMER_TIP] = {"summer-tip", "summer tip",
		"summer_tip summer_tips summer_tipping tip tips tipping pinched pinching summer",
		"soft tips taken off in growth"},
};

static const struct use_kind_row use_kind_rows[USE_TOTAL] = {
	[USE_UNSAID] = {"unsaid", "not said", "", false},
	[USE_FRESH] = {"fresh", "fresh", "fresh eaten ate eaten_fresh", false},
	[USE_DRIED] = {"dried", "dried", "dried for_drying to_dry drying", true},
	[USE_FROZEN] = {"frozen", "frozen",
		"frozen for_freezing to_freeze for_the_freezer in_the_freezer into_the_freezer freezing",
		true},
	[USE_MADE] = {"made", "made into something",
		"made_into made juiced pressed juice cider perry wine jam jelly sauce cooked", true},
	[USE_GIVEN] = {"given", "given away",
		"given_away given gave_away donated shared as_gifts as_a_gift", false},
	[USE_SOLD] = {"sold", "sold", "sold", false},
	[USE_LOST] = {"lost", "lost after the pick",
		"lost spoiled spoilt rotten rotted mouldy moldy thrown_away thrown_out composted wasted",
		false},
};
/* clang-format on */

const struct kind_row *kind_row(enum entry_kind kind)
{
	assert((int)kind >= 0 && kind < KIND_TOTAL);
	return &kind_rows[kind];
}

const struct field_row *field_row(enum field field)
{
	assert((int)field >= 0 && field < FIELD_TOTAL);
	return &field_rows[field];
}

enum entry_kind kind_of_key(const char *key)
{
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		if (strcmp(kind_rows[kind].key, key) == 0)
			return (enum entry_kind)kind;
	}
	return KIND_TOTAL;
}

enum field field_of_key(const char *key)
{
	for (int field = FIELD_NONE + 1; field < FIELD_TOTAL; field++) {
		if (strcmp(field_rows[field].key, key) == 0)
			return (enum field)field;
	}
	return FIELD_TOTAL;
}

/* Is word one of the blank-separated words? */
static bool is_listed(const char *words, const char *word)
{
	size_t length = strlen(word);
	for (const char *at = words; *at != '\0';) {
		size_t size = strcspn(at, " ");
		if (size == length && memcmp(at, word, size) == 0)
			return length > 0;
		at += size + strspn(at + size, " ");
	}
	return false;
}

enum entry_kind kind_of_verb(const char *verb)
{
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		if (is_listed(kind_rows[kind].verbs, verb))
			return (enum entry_kind)kind;
	}
	return KIND_TOTAL;
}

const struct cut_kind_row *cut_kind_row(enum cut_kind kind)
{
	assert((int)kind >= 0 && kind < CUT_TOTAL);
	return &cut_kind_rows[kind];
}

enum cut_kind cut_kind_of_key(const char *key)
{
	for (int kind = CUT_UNSAID + 1; kind < CUT_TOTAL; kind++) {
		if (strcmp(cut_kind_rows[kind].key, key) == 0)
			return (enum cut_kind)kind;
	}
	return CUT_UNSAID;
}

const struct use_kind_row *use_kind_row(enum use_kind use)
{
	assert((int)use >= 0 && use < USE_TOTAL);
	return &use_kind_rows[use];
}

enum use_kind use_kind_of_key(const char *key)
{
	for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++) {
		if (strcmp(use_kind_rows[use].key, key) == 0)
			return (enum use_kind)use;
	}
	return USE_UNSAID;
}
