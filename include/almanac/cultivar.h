/* SPDX-License-Identifier: MIT */
/* cultivar.h - named cultivars of a kind as published, and whose pollen serves whom: the tables
 * cultivars.csv, pollination.csv and pollen.csv. Const, and alive as long as the almanac.
 *
 * "" and unknown widen, they never exclude. A cell may hold several words parted by '/', likelier
 * first: each may be seen on the same cultivar. Weight is no trait: it follows crop and site. */
#ifndef ALMANAC_CULTIVAR_H
#define ALMANAC_CULTIVAR_H

#include "almanac/species.h"

enum self_fruitful { SELF_UNKNOWN, SELF_NO, SELF_PARTLY, SELF_YES };
const char *self_fruitful_word(enum self_fruitful self); /* "partly"; "" unknown */

/* Within one kind and one yard. */
enum bloom_class {
	BLOOM_UNKNOWN,
	BLOOM_EARLY,
	BLOOM_EARLY_MID,
	BLOOM_MID,
	BLOOM_MID_LATE,
	BLOOM_LATE,
	BLOOM_VERY_LATE
};
const char *bloom_class_word(enum bloom_class bloom); /* "mid-late"; "" unknown */

const char *known_by_word(enum known_by sure); /* for people: "from memory" */

enum pollen_worth { POLLEN_UNSTATED, POLLEN_NONE, POLLEN_POOR, POLLEN_GOOD };
enum ploidy { PLOIDY_UNSTATED, PLOIDY_2X, PLOIDY_3X, PLOIDY_PERHAPS_3X, PLOIDY_4X, PLOIDY_6X };

/* A trait that was learned elsewhere than the row as a whole. */
struct trait_source {
	const char *traits; /* names of columns, or of `more`, parted by blanks */
	const char *source;
	enum known_by sure;
};

struct cultivar {
	const char *species; /* key; may be a kind known by name only */
	const char *name;
	const char *aliases; /* parted by "; " */
	const char *type;    /* group within the kind: gage, nectarine, smyrna, pcna, protandrous */
	const char *flesh;
	const char *skin;
	const char *shape;
	const char *size;      /* class within the kind; the weakest trait */
	const char *season;    /* of ripening: very-early .. very-late, or months "feb-apr" */
	struct maybe_i32 days; /* of ripening, from `against`: good to a week or two */
	const char *against;   /* a reference cultivar, or "full bloom" */
	enum self_fruitful self;
	enum bloom_class bloom;
	const char *group;   /* incompatibility group, or flower letter of an avocado */
	const char *alleles; /* "S3 S4'": ' lets its own pollen through, ~ on the style's side, * on
	                        a side not known */
	const char *shows;   /* hazelnut: the alleles its pollen shows; "" not known */
	enum ploidy ploidy;
	enum pollen_worth pollen;
	const char *bears; /* spur, part-tip, tip; walnut: lateral, terminal */
	const char *more;  /* other traits, "russet: full; keep: long" */
	const char *notes;
	const struct trait_source *traits;
	int32_t trait_count;
	const char *source; /* of all that `traits` does not name */
	enum known_by sure;
	const char *folded; /* name and aliases, for comparing */
};

/* How a kind is pollinated. */
enum pollen_model {
	POLLEN_GSI,     /* each grain carries one allele, stopped where the pistil has it */
	POLLEN_SSI,     /* pollen shows its dominant alleles, stopped where the pistil has one */
	POLLEN_GROUPS,  /* groups: only across */
	POLLEN_LETTERS, /* the avocado's two daily clocks */
	POLLEN_DAYS,    /* all are fertile, only the days must meet */
	POLLEN_OWN,     /* sets with its own; another is no harm */
	POLLEN_PARTH,   /* sets fruit without any */
	POLLEN_WIND,
	POLLEN_CLONE, /* any other clone with good pollen */
	POLLEN_TABLE  /* many sets of chromosomes: never worked out, only listed */
};

struct pollination {
	const char *pool; /* kinds of one pool serve one another by the receiver's model */
	enum pollen_model model;
	enum self_fruitful alone; /* what a tree of this kind does alone, cultivar not stated */
	bool unstated_serves;     /* another cultivar serves where alleles are not on record */
	const char *carried;      /* "bees" */
	const char *text;         /* what a partner is, one plain sentence */
	const char *source;
	enum known_by sure;
};

enum pair_answer { PAIR_NO, PAIR_PARTLY, PAIR_YES, PAIR_UNKNOWN };

/* A pair that was tested or listed; stands before what is worked out. */
struct pollen_pair {
	const char *receiver_species; /* key */
	const char *receiver;         /* "" any, a cultivar, or "type:hybrid" */
	const char *giver_species;    /* key; may be a kind known by name only */
	const char *giver_kind;       /* its plain name */
	const char *giver;
	enum pair_answer answer;
	bool harm; /* it sets, and spoils: browned nuts, seeds where none are wanted */
	const char *text;
	const char *source;
	enum known_by sure;
};

/* By name or alias, case, blanks and punctuation aside ("Coxs orange pippin"); NULL: none. A name
 * that is only part of one ("Cox's Orange") is not found. */
const struct cultivar *cultivar_find(const struct species *species, const char *name);
/* Whence a trait is: the name of a column, or of `more`. */
const char *cultivar_source(
	const struct cultivar *cultivar, const char *trait, enum known_by *sure);
/* The words of a trait in `more` ("russet"); false and "" when it has none. */
bool cultivar_more(const struct cultivar *cultivar, const char *trait, char *out, int size);

#endif
