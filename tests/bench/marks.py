#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""What the program costs beside the stock sqlite3 shell doing the like on the same file.

    marks.py [typical|large|big|TREESxYEARSxENTRIES ...]      one table a size
    marks.py growth [TREESxYEARSxENTRIES]                     the same at 1x, 10x, 100x

Each measure runs ROUNDS times (5) in turn with its yardstick: the middle one, the least and the
most, in milliseconds of processor and of the clock, and both ratios. Cold: the file's pages are
given up before each run. Prints figures, judges nothing. Logs are made once, in build/bench.
MEASURES= names those wanted, by the beginnings of their names; COLD=no leaves the cold ones out."""
import math, os, pty, random, resource, select, shutil, signal, statistics, subprocess, sys, time
import datetime

HERE = os.path.abspath(os.environ.get("B", "build"))
PROGRAM = os.environ.get("BOUGHBOOK_BIN", HERE + "/boughbook")
MAKE_YARD = HERE + "/tests/bench/make_yard"
ROOM = HERE + "/bench"
ROUNDS = int(os.environ.get("ROUNDS", "5"))
WANTED = os.environ.get("MEASURES", "").split()
TODAY = "2026-11-24"
LIMIT_S = 300  # of one run
# as make_yard has them
FULL_NAMES = {"typical": "60x15x20000", "large": "1000x20x200000", "big": "10000x40x1000000"}

# --- one run: (seconds of clock, seconds of processor, peak kB) ---


def run(command, script=None):
    def bound():
        resource.setrlimit(resource.RLIMIT_CPU, (LIMIT_S, LIMIT_S))

    began = time.monotonic()
    child = subprocess.Popen(command, stdin=subprocess.PIPE if script else subprocess.DEVNULL,
                             stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, preexec_fn=bound)
    if script:
        child.stdin.write(script.encode())
        child.stdin.close()
    said = child.stderr.read().decode()
    _, status, used = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode not in (0, 1):
        sys.exit(f"{command}: status {child.returncode}: {said[-400:]}")
    return time.monotonic() - began, used.ru_utime + used.ru_stime, used.ru_maxrss


def run_to_paint(log, keys, shows):
    """The screens up to the text that shows last; then they are ended at once."""
    began = time.monotonic()
    child, terminal = pty.fork()
    if child == 0:
        os.environ.update(TERM="xterm-256color", LINES="24", COLUMNS="80", LANG="C.UTF-8")
        os.execv(PROGRAM, [PROGRAM, "--log", log, "--today", TODAY])
    seen, keys = b"", list(keys)
    while shows not in seen or keys:
        if not select.select([terminal], [], [], LIMIT_S)[0]:
            sys.exit("the screen did not come")
        try:
            seen += os.read(terminal, 65536)
        except OSError:
            sys.exit("the program ended: " + seen[-400:].decode(errors="replace"))
        if shows in seen and keys:
            seen = b""
            os.write(terminal, keys.pop(0).encode())
    took = time.monotonic() - began
    os.kill(child, signal.SIGKILL)
    _, _, used = os.wait4(child, 0)
    os.close(terminal)
    return took, used.ru_utime + used.ru_stime, used.ru_maxrss


def give_up_pages(path):
    with open(path, "rb") as file:
        os.fsync(file.fileno())
        os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


# --- what is brought in ---


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


MADE = "(SELECT id FROM change_set LIMIT 1)"
NEW_ID = "printf('01M8N9EX9R457EMC%010d', s.rowid)"


def staged(path, columns, inserts):
    return (f"PRAGMA synchronous = EXTRA;\nBEGIN;\nCREATE TABLE stage ({columns});\n.mode csv\n"
            f".import --skip 1 {path} stage\n{inserts}\nDROP TABLE stage;\nCOMMIT;\n")


def shell_picks(path, all_three):
    entry = (f"INSERT INTO entry (id, made, subject_kind, subject_id, kind, day, day_low, day_high,"
             f" typed_at, words) SELECT {NEW_ID}, {MADE}, 'tree', t.id, 'pick', s.day, s.day, s.day,"
             f" '2026-11-24T12:00:00Z', 'picked ' || s.amount FROM stage s JOIN tree t"
             f" ON t.label_folded = lower(s.tree);")
    rest = (f"INSERT INTO amount (id, made, entry_id, field, base_unit, low, high, typed)"
            f" SELECT {NEW_ID}, {MADE}, {NEW_ID}, 'weight', 'mg', s.amount * 453592,"
            f" s.amount * 453592, s.amount FROM stage s;"
            f"INSERT INTO word_index (rowid, body, table_name, row_id)"
            f" SELECT row * 32 + 7, words, 'entry', id FROM entry;")
    return staged(path, "tree TEXT, day TEXT, amount TEXT", entry + (rest if all_three else ""))


def shell_weather(path):
    return staged(path, "day TEXT, low REAL, high REAL, rain REAL",
                  f"INSERT INTO weather_day (id, made, day, min_decic, max_decic, rain_um)"
                  f" SELECT {NEW_ID}, {MADE}, s.day, CAST(s.low * 10 AS INTEGER),"
                  f" CAST(s.high * 10 AS INTEGER), CAST(s.rain * 1000 AS INTEGER) FROM stage s;")


SHELL_ENTER = (
    "PRAGMA synchronous = EXTRA;"
    "INSERT INTO entry (id, made, subject_kind, subject_id, kind, day, day_low, day_high, typed_at,"
    f" words) SELECT '01M8N9EX9R457EMC0000000000', {MADE}, 'tree', id, 'pick', '2026-11-24',"
    " '2026-11-24', '2026-11-24', '2026-11-24T12:00:00Z', 'picked 3 lb' FROM tree"
    " WHERE label_folded = 'r1-05';")
SHELL_SEASON = ("SELECT subject_id, substr(day_low, 1, 4) AS year, sum(low) FROM entry e"
                " JOIN amount a ON a.entry_id = e.id WHERE kind = 'pick' AND field = 'weight'"
                " GROUP BY subject_id, year;")
SHELL_PICKS = (".mode csv\nSELECT t.label, e.day, e.season_year, a.typed, a.low, e.words, e.note,"
               " e.id FROM entry e JOIN tree t ON t.id = e.subject_id LEFT JOIN amount a"
               " ON a.entry_id = e.id AND a.field = 'weight' WHERE e.kind = 'pick'"
               " ORDER BY e.day_low;\n")
SHELL_ENTRIES = (".mode csv\nSELECT t.label, e.kind, e.day, e.season_year, a.field, a.typed, a.low,"
                 " d.field, d.value, e.words, e.note, e.batch, e.id FROM entry e JOIN tree t"
                 " ON t.id = e.subject_id LEFT JOIN amount a ON a.entry_id = e.id LEFT JOIN detail d"
                 " ON d.entry_id = e.id ORDER BY e.day_low;\n")
WHOLE = ("meta change_set change place area spot tree tree_spot identity entry amount detail"
         " measure product container container_weight weather_day").split()
SHELL_WHOLE = ".mode csv\n.headers on\n" + "".join(f"SELECT * FROM {name};\n" for name in WHOLE)
SHELL_FIND = ("SELECT e.day, e.words FROM word_index w JOIN entry e ON e.id = w.row_id"
              " WHERE word_index MATCH 'wasp*' AND w.table_name = 'entry'"
              " ORDER BY e.day_low DESC, e.id DESC;")

# --- the measures ---


class Size:
    def __init__(self, name):
        self.name = name
        self.log = f"{ROOM}/{FULL_NAMES.get(name, name)}.bough"
        self.copy = f"{ROOM}/copy.bough"
        if not os.path.exists(self.log):
            os.makedirs(ROOM, exist_ok=True)
            shm = f"/dev/shm/boughbook-bench-{os.getpid()}.bough"
            there = shm if os.path.isdir("/dev/shm") else self.log + ".part"
            subprocess.run([MAKE_YARD, name, there], check=True)
            shutil.move(there, self.log)
        counts = self.sql("SELECT count(*) FROM tree WHERE is_gone = 0; SELECT count(*) FROM entry;")
        self.trees, self.entries = (int(word) for word in counts.split())

    def sql(self, text):
        return subprocess.run(["sqlite3", self.log, text], check=True, capture_output=True,
                              text=True).stdout

    def fresh(self, kind):
        """A log to write to: a copy of this one, or one with bare trees."""
        base = self.log if kind == "copy" else f"{ROOM}/bare-{self.trees}.bough"
        if not os.path.exists(base):
            write_trees(f"{ROOM}/trees.csv", self.trees)
            run([PROGRAM, "--log", base, "new", "--name", "Bench", "--lat", "38", "--units", "us"])
            run([PROGRAM, "--log", base, "import", "trees", f"{ROOM}/trees.csv"])
        shutil.copyfile(base, self.copy)
        with open(self.copy, "rb") as file:
            os.fsync(file.fileno())

    def measures(self):
        """name, ours, the shell's script, mark, what to write to (None: reads alone)"""
        years = 40
        picks, weather = f"{ROOM}/picks-{self.entries}.csv", f"{ROOM}/weather.csv"
        if not os.path.exists(picks):
            write_picks(picks, self.trees, self.entries)
        if not os.path.exists(weather):
            write_weather(weather, years)

        def cli(*words):
            return [PROGRAM, "--log", self.log, "--today", TODAY, *words]

        def on_copy(*words):
            return [PROGRAM, "--log", self.copy, *words]

        out = f"{ROOM}/whole"
        mark = 6 if self.entries > 100000 else 3
        return [
            ("start to first paint", ("", b"its year now"), "SELECT count(*) FROM tree;", mark, None),
            ("review, nothing kept", cli("review"), "SELECT sum(length(words)) FROM entry;", 4, None),
            ("season table, all trees", cli("season"), SHELL_SEASON, 1.5, None),
            ("search all words", cli("find", "wasps"), SHELL_FIND, 2, None),
            ("export picks", cli("export", "picks", "-"), SHELL_PICKS, 2, None),
            ("export entries", cli("export", "entries", "-"), SHELL_ENTRIES, 2, None),
            ("export all", cli("export", "all", out), SHELL_WHOLE, 2, None),
            ("enter, one pick", on_copy("enter", "R1-05 picked 3 lb"), SHELL_ENTER, 1.5, "copy"),
            ("import picks, as many", on_copy("import", "picks", picks),
             shell_picks(picks, False), 1.5, "bare"),
            ("  into the same 3 tables", on_copy("import", "picks", picks),
             shell_picks(picks, True), None, "bare"),
            ("import 40 years of weather", on_copy("weather", "import", weather, "--units", "si"),
             shell_weather(weather), 2, "bare"),
        ]


def one(size, ours, writes, cold):
    if writes:
        size.fresh(writes)
    shutil.rmtree(f"{ROOM}/whole", ignore_errors=True)
    path = size.copy if writes else size.log
    if cold:
        give_up_pages(path)
    if isinstance(ours, str):
        return run(["sqlite3", path], ours)
    return run_to_paint(path, *ours) if isinstance(ours, tuple) else run(ours)


def spread(runs, column):
    values = sorted(row[column] * 1000 for row in runs)
    return statistics.median(values), values[0], values[-1]


def measure(size, row, cold):
    name, ours, shell, mark, writes = row
    runs = {"ours": [], "shell": []}
    if not cold and not writes:  # not counted; a copy just made is warm
        one(size, ours, writes, False)
        one(size, shell, writes, False)
    for _ in range(ROUNDS):
        runs["ours"].append(one(size, ours, writes, cold))
        runs["shell"].append(one(size, shell, writes, cold))
        if sum(run[0] for run in runs["ours"] + runs["shell"]) > LIMIT_S:
            break
    mine, least, most = spread(runs["ours"], 1)
    theirs = spread(runs["shell"], 1)[0]
    clock, their_clock = spread(runs["ours"], 0)[0], spread(runs["shell"], 0)[0]
    print(f"{name:27} {mine:8.1f} ({least:.0f}-{most:.0f}) {theirs:8.1f} {mine / theirs:6.2f}"
          f"{'  of ' + format(mark, 'g') if mark else '':8}{clock:9.1f} {their_clock:8.1f}"
          f" {clock / their_clock:6.2f} {max(run[2] for run in runs['ours']) / 1024:6.1f}",
          flush=True)
    return mine


def wanted(rows):
    return [row for row in rows if not WANTED or any(row[0].strip().startswith(w) for w in WANTED)]


def table(name, cold):
    size = Size(name)
    print(f"\n{name}, {'cold' if cold else 'warm'}: {size.trees} trees, {size.entries} entries, "
          f"{os.path.getsize(size.log) / 1e6:.0f} MB; up to {ROUNDS} rounds\n"
          f"{'':27} {'cpu ms':>8} (least-most) {'shell':>5} {'ratio':>6}  {'mark':6}"
          f"{'clock ms':>8} {'shell':>8} {'ratio':>6} {'MB':>6}")
    return {row[0]: measure(size, row, cold) for row in wanted(size.measures())}


def growth(base):
    trees, years, entries = (int(part) for part in base.split("x"))
    names = [f"{trees * by}x{years}x{entries * by}" for by in (1, 10, 100)]
    times = [table(name, False) for name in names]
    print(f"\ncpu grows with the size of the log to the power of ({', '.join(names)}):")
    for key in times[0]:
        found = [each[key] for each in times]
        print(f"{key:27} {math.log10(found[2] / found[0]) / 2:6.2f}   "
              + "  ".join(f"{value:.1f} ms" for value in found))


def sizes():
    room = f"{ROOM}/installed"
    shutil.rmtree(room, ignore_errors=True)
    subprocess.run(["make", "-s", "install", f"DESTDIR={room}"], check=True,
                   stdout=subprocess.DEVNULL)
    print("\ninstalled, in bytes (mark 2000000):")
    total = 0
    for folder, _, files in sorted(os.walk(room)):
        bytes_here = sum(os.path.getsize(os.path.join(folder, name)) for name in files)
        total += bytes_here
        if files:
            print(f"  {folder[len(room):]:42} {bytes_here:9}")
    print(f"  {'all':42} {total:9}")


def machine():
    with open("/proc/cpuinfo") as file:
        model = next(line.split(": ")[1].strip() for line in file if line.startswith("model name"))
    pages = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE") / 2**30
    print(f"{model}, {os.cpu_count()} cores, {pages:.0f} GB; load {os.getloadavg()[0]:.1f}")


def main(words):
    machine()
    if words[:1] == ["growth"]:
        growth(words[1] if len(words) > 1 else "100x40x10000")
        return
    for name in words or ["typical"]:
        table(name, False)
        if os.environ.get("COLD") != "no":
            table(name, True)
    sizes()


main(sys.argv[1:])
