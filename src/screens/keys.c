/* SPDX-License-Identifier: MIT */
/* What can be done, and the keys that hold on every screen. */
#include <assert.h>
#include <stdio.h>

#include "screen.h"

/* clang-format off */
static const struct action_row actions[ACTION_TOTAL] = {
	[ACTION_NONE] = {"nothing", "moving", "does nothing", false},
	[ACTION_UP] = {"up", "moving", "one line up", false},
	[ACTION_DOWN] = {"down", "moving", "one line down", false},
	[ACTION_PAGE_UP] = {"page up", "moving", "a screenful up", false},
	[ACTION_PAGE_DOWN] = {"page down", "moving", "a screenful down", false},
	[ACTION_FIRST] = {"first", "moving", "to the first line", false},
	[ACTION_LAST] = {"last", "moving", "to the last line", false},
	[ACTION_LEFT] = {"left", "moving", "to the left", false},
	[ACTION_RIGHT] = {"right", "moving", "to the right", false},
	[ACTION_OPEN] = {"open", "moving", "opens what the cursor is on; in a line, takes it", false},
	[ACTION_NEXT_FIELD] = {"next", "work", "takes this one and goes on; after the last, all of it", false},
	[ACTION_BACK] = {"back", "moving", "one screen back, or out of a line", false},
	[ACTION_NEXT_PART] = {"next part", "moving", "to the next part, field or order", false},
	[ACTION_HELP] = {"help", "program", "what can be done here, and its keys", false},
	[ACTION_FIND] = {"find", "moving", "finds a tree by letters of its label or name", false},
	[ACTION_UNDO] = {"undo", "work", "takes back what was done last", true},
	[ACTION_REDO] = {"redo", "work", "does again what was undone", true},
	[ACTION_QUIT] = {"leave", "program", "leaves; all that was saved is kept", true},
	[ACTION_YARD] = {"yard", "views", "every tree, and what needs you most", false},
	[ACTION_YEAR] = {"year", "views", "the year of every tree, a row each", false},
	[ACTION_WALK] = {"walk", "views", "tree by tree, with a line to log", true},
	[ACTION_REVIEW] = {"review", "views", "what is due or was ill-timed, worst first", false},
	[ACTION_SEASON] = {"season", "views", "what each tree gave", false},
	[ACTION_WEATHER] = {"weather", "views", "the last weeks, chill and warmth so far", false},
	[ACTION_FIGURES] = {"figures", "views", "water, feed, sun, kin of a tree; the yard's fruit, bloom", false},
	[ACTION_TREE] = {"tree", "views", "one tree's whole story", false},
	[ACTION_COMPARE] = {"compare", "views", "marks a tree; on another one: the two side by side", false},
	[ACTION_SAVE] = {"save", "work", "keeps all that was typed otherwise, as one act", false},
	[ACTION_FACTS] = {"facts", "work", "the tree's facts as a form, to be told otherwise", true},
	[ACTION_LIKELY] = {"which is it", "work", "which cultivar it could be, by what you see", false},
	[ACTION_ADD] = {"add", "work", "adds trees, one or a row of them", true},
	[ACTION_LINE] = {"log", "work", "a line to log work or a find at this tree", true},
	[ACTION_DONE] = {"done", "work", "its line comes filled in; saved, back to the next one", true},
	[ACTION_PUT_OFF] = {"put off", "work", "hides it for a fortnight", true},
	[ACTION_SET_ASIDE] = {"set aside", "work", "hides it for good; a reason is asked", true},
	[ACTION_WHY] = {"why", "views", "the figures, entries and source behind it", false},
	[ACTION_ALL] = {"all", "views", "shows what is folded or hidden, too", false},
	[ACTION_SAME_AGAIN] = {"same again", "work", "logs the last line again for this tree", true},
	[ACTION_EARLIER] = {"earlier", "moving", "the season, or the year, before", false},
	[ACTION_LATER] = {"later", "moving", "the season, or the year, after", false},
	[ACTION_COLOURS] = {"colours", "program", "the next of: own, day, night, none; kept", false},
	[ACTION_DEMO] = {"demo yard", "program", "opens an invented yard, kept beside yours", false},
	[ACTION_PLAN] = {"plan", "views", "the yard drawn to scale, or as a list", false},
	[ACTION_ROUTE] = {"short route", "work", "walks the shortest way found from the gate", true},
	[ACTION_FLAGS_LAYER] = {"flags", "signs", "the signs tell what is flagged", false},
	[ACTION_STAGE_LAYER] = {"stage", "signs", "the signs tell where a tree is in its year", false},
	[ACTION_PARTNER_LAYER] = {"partners", "signs", "the signs tell whose pollen serves this tree", false},
	[ACTION_SUN_LAYER] = {"sun", "signs", "the signs tell the sun of the longest day", false},
	[ACTION_YIELD_LAYER] = {"yield", "signs", "the signs tell last season's crop", false},
	[ACTION_CLOSER] = {"closer", "moving", "shows less of the yard, larger", false},
	[ACTION_WIDER] = {"wider", "moving", "shows more of the yard, smaller", false},
	[ACTION_WHOLE] = {"whole yard", "moving", "shows all of the yard", false},
	[ACTION_THREAD] = {"one thing", "views", "the crop, the saw, the feed or the work alone", false},
	[ACTION_NEXT_HERE] = {"next here", "moving", "the next tree or graft in the same place", false},
	[ACTION_PAGE_LEFT] = {"page left", "moving", "half a picture to the left", false},
	[ACTION_PAGE_RIGHT] = {"page right", "moving", "half a picture to the right", false},
	[ACTION_ALMANAC] = {"almanac", "views", "what is known of a kind, with every source", false},
	[ACTION_HISTORY] = {"history", "views", "what changed, and when", false},
	[ACTION_ANSWERS] = {"answered", "views", "what was put off, set aside or switched off", false},
	[ACTION_SEARCH] = {"search", "views", "all that is written, by words, tree or kind", false},
	[ACTION_EXPORT] = {"export", "program", "writes a paper, a table or the plan to a file", false},
	[ACTION_WRITE] = {"write", "program", "writes the file that is named", true},
	[ACTION_SHED] = {"shed", "views", "products to feed with, containers to pick into", false},
	[ACTION_NEW_PRODUCT] = {"product", "work", "adds a product: its name, and what its label tells", true},
	[ACTION_NEW_CONTAINER] = {"container", "work", "adds a container: its name, and what it weighs", true},
	[ACTION_REMOVE] = {"remove", "work", "takes what the cursor is on out of the list", true},
	[ACTION_TAKE_BACK] = {"take back", "work", "undoes what the cursor is on, that alone", true},
	[ACTION_NOTES] = {"notes", "views", "unfolds what is only to be known, or folds it", false},
	[ACTION_MERGE] = {"merge", "program", "takes in another copy of the log", false},
	[ACTION_KEEP_A] = {"keep a", "work", "keeps side a of what two copies changed", true},
	[ACTION_KEEP_B] = {"keep b", "work", "keeps side b", true},
	[ACTION_KEEP_C] = {"keep c", "work", "keeps side c, of three copies", true},
	[ACTION_KEEP_D] = {"keep d", "work", "keeps side d, of four", true},
	[ACTION_KEEP_BEFORE] = {"keep neither", "work", "keeps what was there before both", true},
	[ACTION_KEEP_OWN] = {"say it", "work", "keeps what you type instead", true},
};

static const struct key_row common[] = {
	{KEYS_UP, ACTION_UP, false},
	{KEYS_DOWN, ACTION_DOWN, false},
	{KEYS_PAGE_UP, ACTION_PAGE_UP, false},
	{KEYS_PAGE_DOWN, ACTION_PAGE_DOWN, false},
	{KEYS_HOME, ACTION_FIRST, false},
	{KEYS_END, ACTION_LAST, false},
	{KEYS_LEFT, ACTION_LEFT, false},
	{KEYS_RIGHT, ACTION_RIGHT, false},
	{KEYS_ENTER, ACTION_OPEN, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{'/', ACTION_FIND, false},
	{'y', ACTION_YARD, false},
	{'Y', ACTION_YEAR, false},
	{'w', ACTION_WALK, false},
	{'r', ACTION_REVIEW, false},
	{'s', ACTION_SEASON, false},
	{'u', ACTION_UNDO, false},
	{'U', ACTION_REDO, false},
	{'W', ACTION_WEATHER, false},
	{'P', ACTION_PLAN, false},
	{'M', ACTION_MERGE, false},
	{'C', ACTION_COLOURS, false},
	{'A', ACTION_ALMANAC, false},
	{'F', ACTION_SEARCH, false},
	{'H', ACTION_HISTORY, false},
	{'O', ACTION_ANSWERS, false},
	{'S', ACTION_SHED, false},
	{'X', ACTION_EXPORT, false},
	{'?', ACTION_HELP, false},
	{KEYS_F1, ACTION_HELP, false},
	{'q', ACTION_QUIT, false},
	{0, ACTION_NONE, false},
};

static const struct { uint32_t key; const char *name; } names[] = {
	{KEYS_UP, "Up"}, {KEYS_DOWN, "Down"}, {KEYS_LEFT, "Left"}, {KEYS_RIGHT, "Right"},
	{KEYS_HOME, "Home"}, {KEYS_END, "End"}, {KEYS_PAGE_UP, "PgUp"}, {KEYS_PAGE_DOWN, "PgDn"},
	{KEYS_DELETE, "Del"}, {KEYS_BACKSPACE, "Backspace"}, {KEYS_ENTER, "Enter"},
	{KEYS_ESCAPE, "Esc"}, {KEYS_TAB, "Tab"}, {KEYS_BACK_TAB, "Shift-Tab"},
	{KEYS_WORD_LEFT, "Ctrl-Left"}, {KEYS_WORD_RIGHT, "Ctrl-Right"}, {KEYS_PASTE, "paste"},
	{' ', "Space"}, {KEYS_F1, "F1"},
};
/* clang-format on */

const struct action_row *action_row(enum action action)
{
	assert(action >= ACTION_NONE && action < ACTION_TOTAL);
	return &actions[action];
}

const struct key_row *keys_common(void)
{
	return common;
}

const char *key_word(uint32_t key, char out[KEY_SIZE])
{
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
		if (names[i].key == key) {
			(void)snprintf(out, KEY_SIZE, "%s", names[i].name);
			return out;
		}
	}
	if (key < ' ')
		(void)snprintf(out, KEY_SIZE, "Ctrl-%c", (char)('@' + key));
	else
		(void)snprintf(out, KEY_SIZE, "%c", key < 127 ? (char)key : '?');
	return out;
}
