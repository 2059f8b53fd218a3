#!/bin/bash
# SPDX-License-Identifier: MIT
# What an import costs beside the stock sqlite3 shell doing the like, in turn, on the same files:
# prints figures, judges nothing.
#     tests/bench/import.sh [PICKS [TREES [ROUNDS]]]
# The shell reads the CSV and inserts it in one transaction, once into one table with the keys and
# indexes of `entry` ("one"), once into entry, amount and the search index as the log has them
# ("all"). Seconds of processor, user and system, since others may be busy too.
set -euo pipefail
picks=${1:-1000000} trees=${2:-10000} rounds=${3:-3}
program=${BOUGHBOOK_BIN:-build/boughbook}
room=$(mktemp -d "${TMPDIR:-/dev/shm}/boughbook-bench.XXXXXX")
trap 'rm -rf "$room"' EXIT

python3 - "$picks" "$trees" "$room" <<'PY'
import random, sys
picks, trees, room = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
random.seed(7)
labels = [f"R{at // 100 + 1:03d}-{at % 100 + 1:02d}" for at in range(trees)]
with open(room + "/trees.csv", "w") as file:
    file.write("label,species\n" + "".join(label + ",apple\n" for label in labels))
with open(room + "/picks.csv", "w") as file:
    file.write("tree,day,amount\n")
    for at in range(picks):
        file.write(f"{random.choice(labels)},{1990 + at * 36 // picks}-{random.randint(8, 10):02d}-"
                   f"{random.randint(1, 30):02d},{random.randint(1, 99) / 2} lb\n")
with open(room + "/weather.csv", "w") as file:
    file.write("day,min,max,rain\n")
    import datetime
    for at in range(40 * 365 + 10):
        day = datetime.date(1985, 1, 1) + datetime.timedelta(at)
        low = random.randint(-80, 200)
        file.write(f"{day},{low / 10},{(low + random.randint(10, 150)) / 10},{random.randint(0, 99) / 10}\n")
PY

base=$room/base.bough log=$room/log.bough
"$program" --log "$base" new --name Bench --lat 38 --units us >/dev/null
"$program" --log "$base" import trees "$room/trees.csv" >/dev/null

shell_sql() { # FILE NUMBER-OF-COLUMNS: the CSV as a table `stage`
	echo "PRAGMA synchronous = EXTRA; BEGIN;"
	echo "CREATE TABLE stage ($2);"
	echo ".mode csv"
	echo ".import --skip 1 $1 stage"
}
made="(SELECT id FROM change_set LIMIT 1)"
new_id="printf('01M8N9EX9R457EMC%010d', s.rowid)"
{
	shell_sql "$room/picks.csv" "tree TEXT, day TEXT, amount TEXT"
	echo "INSERT INTO entry (id, made, subject_kind, subject_id, kind, day, day_low, day_high,
		typed_at, words) SELECT $new_id, $made, 'tree', t.id, 'pick', s.day, s.day, s.day,
		'2026-11-24T12:00:00Z', 'picked ' || s.amount FROM stage s
		JOIN tree t ON t.label_folded = lower(s.tree);"
} >"$room/one.sql"
cp "$room/one.sql" "$room/all.sql"
cat >>"$room/all.sql" <<SQL
INSERT INTO amount (id, made, entry_id, field, base_unit, low, high, typed)
	SELECT $new_id, $made, $new_id, 'weight', 'mg', s.amount * 453592, s.amount * 453592, s.amount
	FROM stage s;
INSERT INTO word_index (rowid, body, table_name, row_id)
	SELECT row * 32 + 7, words, 'entry', id FROM entry;
SQL
{
	shell_sql "$room/weather.csv" "day TEXT, low REAL, high REAL, rain REAL"
	echo "INSERT INTO weather_day (id, made, day, min_decic, max_decic, rain_um)
		SELECT $new_id, $made, s.day, CAST(s.low * 10 AS INTEGER), CAST(s.high * 10 AS INTEGER),
		CAST(s.rain * 1000 AS INTEGER) FROM stage s;"
} >"$room/weather.sql"
for name in one all weather; do echo "DROP TABLE stage; COMMIT;" >>"$room/$name.sql"; done

timed() { # NAME COMMAND ...: seconds of processor and peak memory into NAME.times
	local name=$1
	shift
	/usr/bin/time -f '%U %S %M' -o "$room/time" "$@" >/dev/null
	awk '{ printf "%.2f %d\n", $1 + $2, $3 }' "$room/time" >>"$room/$name.times"
}
shell_round() {
	cp "$base" "$log"
	timed "shell-$1" sqlite3 "$log" ".read $room/$1.sql"
}
ours_round() { # NAME WORDS ...
	local name=$1
	shift
	timed "ours-$name" "$program" --log "$log" "$@"
}
for ((round = 0; round < rounds; round++)); do
	shell_round one
	shell_round all
	cp "$base" "$log"
	ours_round picks import picks "$room/picks.csv"
	ours_round again import picks "$room/picks.csv"
	shell_round weather
	cp "$base" "$log"
	ours_round weather weather import "$room/weather.csv" --units si
done

middle() { sort -n "$room/$1.times" | awk '{ s[NR] = $1; m[NR] = $2 } END { at = int((NR + 1) / 2)
	printf "%s %s %s %s", s[at], s[1], s[NR], m[at] }'; }
echo "$picks picks of $trees trees, 40 years of weather; $rounds rounds, middle (least to most)"
printf '%-42s %9s %17s %9s\n' "" "s of cpu" "" "kB"
declare -A seconds
for name in shell-one shell-all ours-picks ours-again shell-weather ours-weather; do
	read -r mid least most memory <<<"$(middle "$name")"
	seconds[$name]=$mid
	printf '%-42s %9s %17s %9s\n' "$name" "$mid" "($least to $most)" "$memory"
done
ratio() { awk -v a="${seconds[$1]}" -v b="${seconds[$2]}" 'BEGIN { printf "%.2f", a / b }'; }
echo "picks: $(ratio ours-picks shell-one) x one table, $(ratio ours-picks shell-all) x the same three"
echo "weather: $(ratio ours-weather shell-weather) x"
