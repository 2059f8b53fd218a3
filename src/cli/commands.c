/* SPDX-License-Identifier: MIT */
#include <string.h>

#include "command.h"

#define PLACE_OPTIONS                                                                       \
	"name= lat= lon= hemisphere= wet= winter= units= last-frost= first-frost= gallon= " \
	"numbers= "                                                                         \
	"dates="
#define SPOT_OPTIONS                                                                             \
	"kind= area= east= north= volume= offset= soil= root-depth= cover= watering= emitters= " \
	"flow= efficiency= day="
#define TREE_OPTIONS                                                                      \
	"species= cultivar= sure= planted= spot= east= north= host= parent= how= batch= " \
	"rootstock= "                                                                     \
	"target-height= hazard= over-fence private note= gone gone-on= sense= day= by= reason="

/* clang-format off */
static const struct command table[] = {
	{ .name = "new", .need = NEED_NOTHING, .run = cmd_new, .options = PLACE_OPTIONS,
	  .usage = "--name NAME [--lat D --lon D] [--hemisphere north|south] "
		   "[--wet winter|summer|all|little] [--winter hard|frosty|mild] [--units us|si]",
	  .help = "begin a log" },
	{ .name = "demo", .need = NEED_ALMANAC, .run = cmd_demo, .options = "",
	  .usage = "FILE", .help = "write an invented yard, several seasons of it, to try things on" },
	{ .name = "place", .need = NEED_WRITE, .lists = true, .run = cmd_place, .options = PLACE_OPTIONS,
	  .usage = "show | set [options of new] [--last-frost MM-DD --first-frost MM-DD] "
		   "[--gallon us|imperial] [--numbers point|comma] [--dates dmy|mdy]",
	  .help = "where the yard is and how figures are read there" },
	{ .name = "area", .need = NEED_WRITE, .lists = true, .run = cmd_area, .options = "",
	  .usage = "add NAME | list | rename NAME NEW | remove NAME", .help = "parts of the place" },
	{ .name = "spot", .need = NEED_WRITE, .lists = true, .run = cmd_spot, .options = SPOT_OPTIONS,
	  .usage = "add NAME [--kind hole|container|off-place] [--area NAME] [--east 3m --north 4m] "
		   "[--volume 60l] ... | list | show NAME | set NAME ... | remove NAME",
	  .help = "planting holes and containers" },
	{ .name = "obstacle", .need = NEED_WRITE, .lists = true, .run = cmd_obstacle,
	  .options = "kind= points= length-unit= height=",
	  .usage = "add NAME --kind wall|house|gate|line --points \"0,0 12,0\" [--length-unit ft|m] "
		   "[--height 2m] | list | remove NAME",
	  .help = "walls, houses, gates and lines on the plan" },
	{ .name = "route", .need = NEED_WRITE, .lists = true, .run = cmd_route, .options = "",
	  .usage = "show | set SPOT ... | auto",
	  .help = "the order of the walk: as set, or a short way from the gate" },
	{ .name = "product", .need = NEED_WRITE, .lists = true, .run = cmd_product,
	  .options = "analysis= bag= cup= elements=",
	  .usage = "add NAME [--analysis 10-10-10] [--bag 20kg] [--cup 8oz] | list | set NAME ... "
		   "| remove NAME",
	  .help = "fertilisers in the shed, by their analysis" },
	{ .name = "container", .need = NEED_WRITE, .lists = true, .run = cmd_container,
	  .options = "species= weight= volume= from=",
	  .usage = "add NAME [--species S --weight 9lb] [--volume 5gal] [--from DAY] | list "
		   "| remove NAME",
	  .help = "buckets and trays that picks are counted in" },
	{ .name = "own", .need = NEED_WRITE, .lists = true, .run = cmd_own, .options = "per=",
	  .usage = "window LABEL|KIND WINDOW MM-DD MM-DD | rate LABEL|KIND 0.1lb --per "
		   "inch|year-of-age|feed|year | choice RULE SOURCE | list | remove ID",
	  .help = "windows, rates and choices of your own" },
	{ .name = "tree", .need = NEED_WRITE, .lists = true, .run = cmd_tree, .options = TREE_OPTIONS,
	  .usage = "add LABEL|A1..A12 [--species S] [--cultivar C] [--planted DAY] [--spot NAME] ... "
		   "| list [--gone] [--day DAY] | show LABEL | set LABEL ... | rename LABEL NEW "
		   "| remove LABEL REASON | identify LABEL ... | trait LABEL NAME=VALUE ...",
	  .help = "the trees" },
	{ .name = "enter", .need = NEED_WRITE, .run = cmd_enter, .options = "keep-good short",
	  .usage = "LINE ... | - [--keep-good] [--short]", .help = "log a line, or a file of lines" },
	{ .name = "ask", .need = NEED_READ, .run = cmd_ask, .options = "",
	  .usage = "LINE", .help = "what would be flagged if this were done; logs nothing" },
	{ .name = "plan", .need = NEED_WRITE, .lists = true, .run = cmd_plan, .options = "",
	  .usage = "LINE | list", .help = "work meant for a day" },
	{ .name = "undo", .need = NEED_WRITE, .run = cmd_undo, .options = "",
	  .usage = "", .help = "take back the last act" },
	{ .name = "redo", .need = NEED_WRITE, .run = cmd_redo, .options = "",
	  .usage = "", .help = "bring back what undo took" },
	{ .name = "entry", .need = NEED_WRITE, .lists = true, .run = cmd_entry, .options = "",
	  .usage = "list [LABEL] | mend ID LINE | strike ID", .help = "entries as they stand" },
	{ .name = "history", .need = NEED_READ, .run = cmd_history, .options = "",
	  .usage = "[LABEL]", .help = "what changed, when" },
	{ .name = "find", .need = NEED_READ, .run = cmd_find, .options = "",
	  .usage = "TEXT", .help = "search everything written" },
	{ .name = "review", .need = NEED_READ, .run = cmd_review, .options = "tree= all",
	  .usage = "[--tree LABEL] [--all]", .help = "what is due, near, or was ill-timed" },
	{ .name = "put-off", .need = NEED_WRITE, .run = cmd_put_off, .options = "",
	  .usage = "LABEL RULE [DAY]", .help = "put a flag off, a fortnight or to a day" },
	{ .name = "set-aside", .need = NEED_WRITE, .run = cmd_set_aside, .options = "",
	  .usage = "LABEL RULE REASON", .help = "set a flag aside with a reason" },
	{ .name = "rules", .need = NEED_NOTHING, .run = cmd_rules, .options = "",
	  .usage = "", .help = "every rule with its reason and source" },
	{ .name = "rule", .need = NEED_WRITE, .run = cmd_rule, .options = "",
	  .usage = "off|on ID [LABEL]", .help = "keep a rule quiet for the yard or one tree" },
	{ .name = "dose", .need = NEED_READ, .run = cmd_dose, .options = "product=",
	  .usage = "LABEL [--product NAME]", .help = "how much feed, by which rule" },
	{ .name = "water", .need = NEED_READ, .run = cmd_water, .options = "",
	  .usage = "LABEL", .help = "what a tree draws in a week, and how long to run" },
	{ .name = "volume", .need = NEED_NOTHING, .run = cmd_volume,
	  .options = "across= bottom= depth= trunk= gap= area= ball= ball-bottom= ball-depth= bag=",
	  .usage = "mulch [LABEL] [--across 6ft --gap 6in [--trunk 4in]] [--area 500sqft] --depth 3in "
		   "[--bag 2cuft] | pot --across 12in --bottom 10in --depth 11in | hole --across 36in "
		   "--depth 12in [--ball 12in --ball-depth 12in [--ball-bottom 10in]]",
	  .help = "how much mulch, mix or soil, in bags too" },
	{ .name = "partners", .need = NEED_READ, .run = cmd_partners, .options = "bloom",
	  .usage = "LABEL | --bloom", .help = "who gives it pollen, and whom it serves" },
	{ .name = "likely", .need = NEED_READ, .run = cmd_likely, .options = "",
	  .usage = "LABEL [TRAIT=VALUE ...]",
	  .help = "which cultivar it could be, by what was noted of it" },
	{ .name = "descent", .need = NEED_READ, .run = cmd_descent, .options = "",
	  .usage = "LABEL", .help = "where a tree comes from, and what came from it" },
	{ .name = "sun", .need = NEED_READ, .run = cmd_sun, .options = "day= level=",
	  .usage = "[SPOT|LABEL] [--day DAY] [--level 1m]",
	  .help = "rise and set, and hours of direct sun at the spots" },
	{ .name = "season", .need = NEED_READ, .run = cmd_season, .options = "tree=",
	  .usage = "[YEAR|YEAR/YY] [--tree LABEL]", .help = "what each tree gave" },
	{ .name = "stock", .need = NEED_READ, .run = cmd_stock, .options = "",
	  .usage = "[YEAR|YEAR/YY]", .help = "what became of the fruit, and what is in store" },
	{ .name = "calendar", .need = NEED_READ, .run = cmd_calendar, .options = "",
	  .usage = "", .help = "the year ahead: clear windows, plans, put-offs" },
	{ .name = "almanac", .need = NEED_ALMANAC, .run = cmd_almanac, .options = "cultivars part=",
	  .usage = "[KIND] [--part PART | --cultivars]", .help = "what is known of a kind, with sources" },
	{ .name = "weather", .need = NEED_WRITE, .lists = true, .run = cmd_weather,
	  .options = "columns= layout= units= column-units= numbers= missing= kind= station= dates= encoding= "
		     "dry-run season= days= from= to=",
	  .usage = "show [days|years|chill|warmth|harvest|frost] [--season YEAR | --days N | "
		   "--from DAY --to DAY] "
		   "| import FILE --columns day=COLUMN,min=COLUMN,max=COLUMN,rain=COLUMN,wind=COLUMN "
		   "[--units us|si] [--column-units wind=km/h,...] [--numbers point|comma] "
		   "[--missing WORD,...] [--kind observed|forecast] [--station NAME] [--layout NAME] "
		   "[--dry-run]",
	  .help = "chill, warmth and frost so far; bring in a station's days or hours" },
	{ .name = "import", .need = NEED_WRITE, .run = cmd_import,
	  .options = "columns= species= length-unit= unit= day= season= years= dry-run layout= encoding= "
		     "dates= numbers= missing=",
	  .usage = "trees|picks|entries FILE --columns label=COLUMN,... [--species S] [--unit U] "
		   "[--length-unit ft|m] [--season NAME] [--years 2019..2024] [--day DAY] "
		   "[--dates dmy|mdy] [--numbers point|comma] [--missing WORD,...] "
		   "[--encoding utf8|utf16|latin1] [--layout NAME] [--dry-run] | all DIR [--dry-run]",
	  .help = "bring in a file of trees, picks or entries, or a whole log" },
	{ .name = "export", .need = NEED_READ, .run = cmd_export, .html = true,
	  .options = "tree= without-private day= season=",
	  .usage = "trees|entries|picks|flags|calendar|plan FILE|- | report|walk|sheet FILE|- [--tree LABEL] "
		   "[--format text|html] [--without-private] [--day DAY] [--season YEAR] "
		   "| all DIR [--without-private]",
	  .help = "write records out, papers to print, or the whole log" },
	{ .name = "merge", .need = NEED_WRITE, .run = cmd_merge,
	  .options = "dry-run unrelated clashes keep=", .reading = "dry-run clashes",
	  .usage = "OTHER [--dry-run] [--unrelated] | --clashes | --keep NUMBER a|b|before|own VALUE",
	  .help = "take in another copy of this log; settle what both changed" },
	{ .name = "verify", .need = NEED_READ, .run = cmd_verify, .options = "",
	  .usage = "", .help = "check the log's structure and history" },
	{ .name = "backup", .need = NEED_NOTHING, .run = cmd_backup, .options = "restore=",
	  .usage = "[--restore FILE]", .help = "a checked copy beside the log" },
	{ .name = "help", .need = NEED_NOTHING, .run = cmd_help, .options = "",
	  .usage = "[COMMAND]", .help = "this list, or one command's usage" },
	{ .name = NULL },
};
/* clang-format on */

const struct command *command_table(void)
{
	return table;
}

const struct command *command_find(const char *name)
{
	for (const struct command *command = table; command->name != NULL; command++)
		if (strcmp(command->name, name) == 0)
			return command;
	return NULL;
}
