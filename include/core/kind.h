/* SPDX-License-Identifier: MIT */
/* kind.h - the kinds of entry, as one table: their verbs, fields and words.
 *
 * The entry line, the form, the CSV columns, the manual's table and the check all read these
 * rows. A new kind is one row here (and, where it means something to a rule, one function). */
#ifndef CORE_KIND_H
#define CORE_KIND_H

#include "core/measure.h"

/* Order is part of nothing: the file keeps the key. */
enum entry_kind {
	KIND_CUT,
	KIND_FEED,
	KIND_PICK,
	KIND_LOSS,
	KIND_USE, /* what became of a crop after the pick */
	KIND_MEASURE,
	KIND_STAGE,
	KIND_SAW,
	KIND_WATER,
	KIND_MULCH,
	KIND_SPRAY,
	KIND_THIN,
	KIND_PLANT,
	KIND_MOVE,
	KIND_GRAFT,
	KIND_SOW,
	KIND_POT_UP,
	KIND_PROTECT,
	KIND_SOIL_TEST,
	KIND_PHOTO,
	KIND_LEAVE,
	KIND_NOTE,
	KIND_DIED,
	KIND_WEATHER, /* of the place: frost, rain, hail, wind, heat */
	KIND_TOTAL
};
/* Some of them, a bit each. */
struct kind_set {
	uint64_t bits;
};
#define KIND_BIT(kind) (UINT64_C(1) << (kind))

/* What one figure or word of an entry is about. The key of the table is what the file keeps. */
enum field {
	FIELD_NONE,
	/* figures: rows of `amount` */
	FIELD_WEIGHT,       /* mass of fruit, mulch, graft wood ... */
	FIELD_COUNT,        /* fruit, shoots, grafts, bags: pieces */
	FIELD_VOLUME,       /* fruit by volume, water, mulch */
	FIELD_SHARE_CROWN,  /* permille of the crown taken */
	FIELD_SHARE_SHOOTS, /* permille of last year's shoots taken */
	FIELD_SHARE,        /* permille of unsaid base: asked when it matters */
	FIELD_SHARE_OPEN,   /* permille of flowers open */
	FIELD_SHARE_LEFT,   /* permille of the crop still hanging */
	FIELD_BELOW_SIGN,   /* length cut below the last sign of disease */
	FIELD_PRODUCT_MASS,
	FIELD_PRODUCT_VOLUME,
	FIELD_NITROGEN,   /* mass of actual N, when that is what was said */
	FIELD_ANALYSIS_N, /* thousandths of a percent */
	FIELD_ANALYSIS_P2O5,
	FIELD_ANALYSIS_K2O,
	FIELD_GIRTH,
	FIELD_DIAMETER,
	FIELD_HEIGHT,
	FIELD_SPREAD,
	FIELD_SHOOT,     /* length of last season's shoots */
	FIELD_AT_HEIGHT, /* where on the trunk it was measured */
	FIELD_UNION,     /* the graft union above the soil: below zero where it is buried */
	FIELD_STAGE,     /* BBCH code */
	FIELD_DURATION,
	FIELD_EMITTERS,
	FIELD_FLOW,  /* of one emitter */
	FIELD_DEPTH, /* mulch, rain as depth, planting */
	FIELD_DAYS_TO_HARVEST,
	FIELD_REENTRY, /* seconds */
	FIELD_TEMPERATURE,
	FIELD_WIND,
	FIELD_PART,  /* the 1 of "1 of 3" */
	FIELD_PARTS, /* the 3 of "1 of 3" */
	FIELD_EVERY, /* days between, of a plan */
	FIELD_PH,    /* thousandths */
	FIELD_TOOK,  /* grafts that took, seeds that came up: pieces */
	/* words: rows of `detail` */
	FIELD_CUT_KIND, /* key of the cut_kind table */
	FIELD_REASON,
	FIELD_TOOLS_CLEANED, /* "yes" or "no" */
	FIELD_PRODUCT,
	FIELD_GRADE,
	FIELD_PARTIAL,      /* "partial", "last" */
	FIELD_CAUSE,        /* of a loss, a death */
	FIELD_SUBJECT_SEEN, /* pest, disease, damage */
	FIELD_SEVERITY,     /* trace light moderate heavy */
	FIELD_WORDS,        /* an amount said in words only: "plenty" */
	FIELD_UNTIL,        /* ISO 8601-2 day */
	FIELD_METHOD,       /* graft, watering, protection */
	FIELD_NAME,         /* cultivar planted or grafted, as said */
	FIELD_PLACE_TO,     /* spot moved to */
	FIELD_PATH,         /* file of a photo */
	FIELD_WEATHER,      /* frost rain hail wind storm heat snow */
	FIELD_PER,          /* "tree", "total" */
	FIELD_STAGE_WORD,   /* "bloom", "petal fall" as said */
	FIELD_WINDOW,       /* repeat window of a plan, as said */
	FIELD_BECAME,       /* key of the use table */
	FIELD_OUT_OF,       /* the store it was taken from: "dried", "frozen" */
	FIELD_BATCH,        /* name of what was raised together */
	FIELD_TOTAL
};

struct field_row {
	const char *key;          /* in the file and in CSV headings: "weight" */
	const char *label;        /* on forms: "weight" */
	enum dimension dimension; /* DIMENSION_NONE with is_word: a word */
	bool is_word;
	const char *help; /* one line for form and manual */
};

enum { KIND_FIELDS_MAX = 16 };

struct kind_row {
	const char *key;   /* in the file: "pick" */
	const char *title; /* on screens: "pick" */
	const char *past;  /* "picked": how a reading says it */
	const char *verbs; /* blank-separated words that name it on the line, lower case */
	char letter;       /* one-letter verb where a screen supplies the label; 0 none */
	enum field fields[KIND_FIELDS_MAX]; /* in reading order, ended by FIELD_NONE */
	const char *default_unit; /* what a bare number is; NULL: a bare number is asked */
	enum field free_field;    /* where unknown words go; FIELD_NONE: nowhere */
	bool place_too;           /* may stand without a tree */
	const char *example;      /* a whole line for help and manual */
	const char *help;
};

const struct kind_row *kind_row(enum entry_kind kind);
const struct field_row *field_row(enum field field);
/* By the file's key; KIND_TOTAL / FIELD_TOTAL when there is none. */
enum entry_kind kind_of_key(const char *key);
enum field field_of_key(const char *key);
/* The kind that this verb (one lower-case word) names; KIND_TOTAL when none does. */
enum entry_kind kind_of_verb(const char *verb);

/* The trade's kinds of cut. */
enum cut_kind {
	CUT_UNSAID,
	CUT_SANITATION, /* dead, damaged, diseased */
	CUT_SUCKER,     /* suckers and water shoots */
	CUT_THINNING,
	CUT_HEADING,
	CUT_HEIGHT,
	CUT_SHAPE,
	CUT_RENOVATION,
	CUT_SUMMER_TIP,
	CUT_TOTAL
};
struct cut_kind_row {
	const char *key;   /* "summer-tip" */
	const char *title; /* "summer tip" */
	/* blank-separated words that name it on the line; '_' stands for a blank */
	const char *words;
	const char *help;
};
const struct cut_kind_row *cut_kind_row(enum cut_kind kind);
enum cut_kind cut_kind_of_key(const char *key); /* CUT_UNSAID when unknown */

/* What becomes of fruit once it is picked. */
enum use_kind {
	USE_UNSAID,
	USE_FRESH, /* eaten, or kept to be eaten, as it is */
	USE_DRIED,
	USE_FROZEN,
	USE_MADE, /* juice, jam, cider: how is not for this program to say */
	USE_GIVEN,
	USE_SOLD,
	USE_LOST, /* spoiled after the pick */
	USE_TOTAL
};
struct use_kind_row {
	const char *key;   /* in the file: "frozen" */
	const char *title; /* "frozen" */
	const char *words; /* blank-separated, '_' stands for a blank */
	bool kept;         /* it goes into a store that can be drawn from */
};
const struct use_kind_row *use_kind_row(enum use_kind use);
enum use_kind use_kind_of_key(const char *key); /* USE_UNSAID when unknown */

#endif
