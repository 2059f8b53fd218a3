# SPDX-License-Identifier: MIT
"""What the stock sqlite3 shell does beside each measure, and the files that are brought in.

It opens the file as it comes: no references checked (but where said), nothing kept in memory, its
rows written to nowhere as ours are. What it inserts bears the same keys, indexes and checks of the
schema; it neither looks at what a cell means nor makes history or season turns."""
import datetime, random

MADE = "(SELECT id FROM change_set LIMIT 1)"
NEW_ID = "printf('01M8N9EX9R457EMC%010d', s.rowid)"
ENTRY = "INSERT INTO entry (id, made, subject_kind, subject_id, kind, day, day_low, day_high, typed_at, words)"

COUNT = ("counts the trees", "SELECT count(*) FROM tree;")
READ = ("sums the length of all entries' words, one full read", "SELECT sum(length(words)) FROM entry;")
SEASON = ("one grouped sum over picks",
          "SELECT subject_id, substr(day_low, 1, 4) AS year, sum(low) FROM entry e"
          " JOIN amount a ON a.entry_id = e.id WHERE kind = 'pick' AND field = 'weight'"
          " GROUP BY subject_id, year;")
FIND = ("the FTS5 query, joined with the entries found, latest first",
        "SELECT e.day, e.words FROM word_index w JOIN entry e ON e.id = w.row_id"
        " WHERE word_index MATCH 'wasp*' AND w.table_name = 'entry'"
        " ORDER BY e.day_low DESC, e.id DESC;")
PICKS = ("picks with their tree and weight as CSV, by day",
         ".mode csv\nSELECT t.label, e.day, e.season_year, a.typed, a.low, e.words, e.note,"
         " e.id FROM entry e JOIN tree t ON t.id = e.subject_id LEFT JOIN amount a"
         " ON a.entry_id = e.id AND a.field = 'weight' WHERE e.kind = 'pick'"
         " ORDER BY e.day_low;\n")
ENTRIES = ("entries with their tree, figures and details as CSV, by day",
           ".mode csv\nSELECT t.label, e.kind, e.day, e.season_year, a.field, a.typed, a.low,"
           " d.field, d.value, e.words, e.note, e.batch, e.id FROM entry e JOIN tree t"
           " ON t.id = e.subject_id LEFT JOIN amount a ON a.entry_id = e.id LEFT JOIN detail d"
           " ON d.entry_id = e.id ORDER BY e.day_low;\n")
WHOLE_TABLES = ("meta change_set change place area spot tree tree_spot identity entry amount detail"
                " measure product container container_weight weather_day").split()
WHOLE = ("dumps the tables as CSV",
         ".mode csv\n.headers on\n" + "".join(f"SELECT * FROM {name};\n" for name in WHOLE_TABLES))
ENTER = ("inserts one entry, synchronous = EXTRA",
         f"PRAGMA synchronous = EXTRA;\n{ENTRY} SELECT printf('01M8N9EX9R457EMC%010d', abs(random())"
         f" % 9999999999), {MADE}, 'tree', id, 'pick', '2026-11-24', '2026-11-24', '2026-11-24',"
         " '2026-11-24T12:00:00Z', 'picked 3 lb' FROM tree WHERE label_folded = 'r1-05';")


def staged(path, columns, inserts):
    return (f"PRAGMA synchronous = EXTRA;\nBEGIN;\nCREATE TABLE stage ({columns});\n.mode csv\n"
            f".import --skip 1 {path} stage\n{inserts}\nDROP TABLE stage;\nCOMMIT;\n")


def picks(path):
    """Two: the table of entries alone, and all that a pick is, with its references checked."""
    entry = (f"{ENTRY} SELECT {NEW_ID}, {MADE}, 'tree', t.id, 'pick', s.day, s.day, s.day,"
             " '2026-11-24T12:00:00Z', 'picked ' || s.amount FROM stage s JOIN tree t"
             " ON t.label_folded = lower(s.tree);")
    rest = ("INSERT INTO amount (id, made, entry_id, field, base_unit, low, high, typed)"
            f" SELECT {NEW_ID}, {MADE}, {NEW_ID}, 'weight', 'mg', s.amount * 453592,"
            " s.amount * 453592, s.amount FROM stage s;"
            "INSERT INTO word_index (rowid, body, table_name, row_id)"
            " SELECT row * 32 + 7, words, 'entry', id FROM entry;")
    columns = "tree TEXT, day TEXT, amount TEXT"
    return [("imports the CSV and inserts it into the table of entries, one transaction",
             staged(path, columns, entry)),
            ("the same into the three tables that a pick fills, references checked",
             "PRAGMA foreign_keys = ON;\n" + staged(path, columns, entry + rest))]


def weather(path):
    return [("imports the CSV and inserts it into the table of days, one transaction",
             staged(path, "day TEXT, low REAL, high REAL, rain REAL",
                    "INSERT INTO weather_day (id, made, day, min_decic, max_decic, rain_um)"
                    f" SELECT {NEW_ID}, {MADE}, s.day, CAST(s.low * 10 AS INTEGER),"
                    " CAST(s.high * 10 AS INTEGER), CAST(s.rain * 1000 AS INTEGER) FROM stage s;"))]


def write_picks(path, trees, count):
    dice = random.Random(7)
    with open(path, "w") as file:
        file.write("tree,day,amount\n")
        for at in range(count):
            tree = dice.randrange(trees)
            file.write(f"R{tree // 100 + 1}-{tree % 100 + 1:02d},{1990 + at * 36 // count}-"
                       f"{dice.randint(8, 10):02d}-{dice.randint(1, 30):02d},"
                       f"{dice.randint(1, 99) / 2} lb\n")


def write_trees(path, trees):
    with open(path, "w") as file:
        file.write("label,species\n")
        for tree in range(trees):
            file.write(f"R{tree // 100 + 1}-{tree % 100 + 1:02d},apple\n")


def write_weather(path, years):
    dice = random.Random(8)
    with open(path, "w") as file:
        file.write("day,min,max,rain\n")
        for at in range(years * 365 + years // 4):
            day = datetime.date(1985, 1, 1) + datetime.timedelta(at)
            low = dice.randint(-80, 200)
            file.write(f"{day},{low / 10},{(low + dice.randint(10, 150)) / 10},"
                       f"{dice.randint(0, 99) / 10}\n")
