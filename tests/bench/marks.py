#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""What the program costs beside the stock sqlite3 shell doing the like on the same file.

    marks.py [typical|large|big|TREESxYEARSxENTRIES|growth ...]

Without a word: typical, large, big and growth. For each size: every measure in turn with its yardstick
(yardsticks.py), up to ROUNDS times (5), the middle one, the least and the most, warm and cold (the
file's pages given up before each run); what a key costs on each screen; the memory of every reading
command and screen (reaches.py). growth is three sizes, 1x, 10x and 100x of GROWTH= (100x40x10000).
At the end one table of all. Prints figures, judges nothing.

Logs are made once, in build/bench. BUDGET_S= bounds the rounds of a size (300; each measure runs
once at least), KEYS= is how many keys of each (20), COLD=no leaves the cold runs out; MEASURES= names
those wanted, by the beginnings of their names, without keys and memory."""
import collections, functools, math, os, shlex, shutil, statistics, subprocess, sys, time

sys.dont_write_bytecode = True
import reaches, yardsticks
from terminal import Terminal

HERE = os.path.abspath(os.environ.get("B", "build"))
PROGRAM = os.environ.get("BOUGHBOOK_BIN", HERE + "/boughbook")
COST = HERE + "/tests/bench/cost"
ROOM = HERE + "/bench"
ROUNDS = int(os.environ.get("ROUNDS", "5"))
BUDGET_S = float(os.environ.get("BUDGET_S", "300"))
REST_S = 90  # at most, until a screen that was reached has read what it reads in quiet moments
KEYS = int(os.environ.get("KEYS", "20"))
WANTED = os.environ.get("MEASURES", "").split()
SMALL = 50000  # entries: the bound of what is held to a typical log's marks
TODAY, WEATHER_YEARS, PAINTED = "2026-11-24", 40, b"its year now"
# as make_yard has them
FULL_NAMES = {"typical": "60x15x20000", "large": "1000x20x200000", "big": "10000x40x1000000"}
GROWTH = os.environ.get("GROWTH", "100x40x10000")

# `on` is what it runs on: the log; kept, with all flags in it; after, kept and one entry more; copy,
# one that is written to; bare, the trees alone, anew for each run.
Measure = collections.namedtuple("Measure", "name ours yardsticks mark on")
Cost = collections.namedtuple("Cost", "ms ratio")

# --- one run: (seconds by the clock, of processor, peak kB) ---


def run(command, script=None, fine=(0, 1)):
    done = subprocess.run([COST, *command], input=(script or "").encode(), stderr=subprocess.PIPE,
                          stdout=subprocess.DEVNULL)
    said = done.stderr.decode()
    if done.returncode not in fine:
        sys.exit(f"{command}: status {done.returncode}: {said[-400:]}")
    seconds, processor_s, peak_kb = said.splitlines()[-1].split()
    return float(seconds), float(processor_s), int(peak_kb)


def ours(path, words, fine=(0, 1)):
    return run([PROGRAM, "--log", path, "--today", TODAY, *words], fine=fine)


def screens(path):
    terminal = Terminal([PROGRAM, "--log", path, "--today", TODAY])
    terminal.expect(PAINTED)
    return terminal


def give_up_pages(path):
    with open(path, "rb") as file:
        os.fsync(file.fileno())
        os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


# --- a log, and what is made of it ---


@functools.cache
def size_of(name):
    return Size(name)


class Size:
    def __init__(self, name):
        self.name, full = name, FULL_NAMES.get(name, name)
        self.log, self.kept = f"{ROOM}/{full}.bough", f"{ROOM}/{full}-kept.bough"
        self.copy = f"{ROOM}/copy.bough"
        os.makedirs(ROOM, exist_ok=True)
        self.made(self.log, lambda part: subprocess.run(
            [f"{HERE}/tests/bench/make_yard", name, part], check=True))
        self.keep()
        counts = self.sql("SELECT count(*) FROM tree WHERE is_gone = 0; SELECT count(*) FROM entry;")
        self.trees, self.entries = (int(word) for word in counts.split())
        self.bare = f"{ROOM}/bare-{self.trees}.bough"
        self.picks, self.weather = f"{ROOM}/picks-{self.entries}.csv", f"{ROOM}/weather.csv"
        self.made(self.bare, self.begin)
        yardsticks.write_picks(self.picks, self.trees, self.entries)
        yardsticks.write_weather(self.weather, WEATHER_YEARS)

    def made(self, path, make):
        if not os.path.exists(path):
            shm = f"/dev/shm/boughbook-bench-{os.getpid()}.bough"
            part = shm if os.path.isdir("/dev/shm") else path + ".part"
            make(part)
            shutil.move(part, path)

    def keep(self):
        """Anew in each run: flags kept by other rules than the program's count for nothing."""
        shutil.copyfile(self.log, self.kept)
        subprocess.run([f"{HERE}/tests/bench/keep_flags", self.kept, TODAY], check=True)

    def begin(self, path):
        trees = f"{ROOM}/trees.csv"
        yardsticks.write_trees(trees, self.trees)
        ours(path, ["new", "--name", "Bench", "--lat", "38", "--units", "us"])
        ours(path, ["import", "trees", trees])

    def sql(self, text):
        return subprocess.run(["sqlite3", self.log, text], check=True, capture_output=True,
                              text=True).stdout

    def place(self, on):
        """Where to run; a copy to write to is made here."""
        if on in ("log", "kept"):
            return self.log if on == "log" else self.kept
        shutil.copyfile({"bare": self.bare, "after": self.kept, "copy": self.log}[on], self.copy)
        if on == "after":
            ours(self.copy, ["enter", "R1-05 picked 3 lb"])
        with open(self.copy, "rb") as file:
            os.fsync(file.fileno())
        return self.copy

    def measures(self):
        first = 6 if self.entries > SMALL else 3
        return [
            Measure("start to first paint", None, [yardsticks.COUNT], first, "log"),
            Measure("the same, all flags kept", None, [yardsticks.COUNT], first, "kept"),
            Measure("review, nothing kept", ["review"], [yardsticks.READ], 4, "log"),
            Measure("review, all flags kept", ["review"], [yardsticks.READ], None, "kept"),
            Measure("review after one new entry", ["review"], [yardsticks.READ], 0.05, "after"),
            Measure("season table, all trees", ["season"], [yardsticks.SEASON], 1.5, "log"),
            Measure("find across all words", ["find", "wasps"], [yardsticks.FIND], 2, "log"),
            Measure("export picks", ["export", "picks", "-"], [yardsticks.PICKS], 2, "log"),
            Measure("export entries", ["export", "entries", "-"], [yardsticks.ENTRIES], 2, "log"),
            Measure("export all", ["export", "all", f"{ROOM}/whole"], [yardsticks.WHOLE], 2, "log"),
            Measure("enter, one pick", ["enter", "R1-05 picked 3 lb"], [yardsticks.ENTER], 1.5,
                    "copy"),
            Measure("import of as many picks", ["import", "picks", self.picks],
                    yardsticks.picks(self.picks), 1.5, "bare"),
            Measure("import of 40 years of weather",
                    ["weather", "import", self.weather, "--units", "si"],
                    yardsticks.weather(self.weather), 2, "bare"),
        ]


# --- measures beside their yardsticks ---


def one(size, row, which, path, cold):
    """which: -1 ours, else the yardstick"""
    path = path or size.place(row.on)
    shutil.rmtree(f"{ROOM}/whole", ignore_errors=True)
    if cold:
        give_up_pages(path)
    if which >= 0:
        return run(["sqlite3", path], row.yardsticks[which][1])
    return ours(path, row.ours) if row.ours else screens(path).end()


def measure(size, row, cold, budget_s):
    """Prints a line for each yardstick; a Cost for each."""
    path = None if row.on == "bare" else size.place(row.on)
    turns = range(-1, len(row.yardsticks))
    if not cold and row.on != "bare":  # not counted; a copy just made is warm
        for which in turns:
            one(size, row, which, path, False)
    runs, began = {which: [] for which in turns}, time.monotonic()
    for at in range(ROUNDS):
        for which in turns if at % 2 == 0 else reversed(turns):
            runs[which].append(one(size, row, which, path, cold))
        if time.monotonic() - began > budget_s:
            break
    found = []
    for which in turns[1:]:
        (mine, theirs), (clock, their_clock) = [
            [statistics.median(each[column] * 1000 for each in runs[who]) for who in (-1, which)]
            for column in (1, 0)]
        spreads = [f"({min(each[1] for each in runs[who]) * 1000:.0f}-"
                   f"{max(each[1] for each in runs[who]) * 1000:.0f})" for who in (-1, which)]
        name = row.name if which == 0 else "  " + row.yardsticks[which][0][:25]
        mark = f"of {row.mark:g}" if row.mark and which == 0 else ""
        print(f"{name:29} {len(runs[-1])} {mine:8.1f} {spreads[0]:15} {theirs:8.1f} {spreads[1]:15}"
              f" {mine / theirs:6.2f} {mark:7} {clock:8.1f} {their_clock:8.1f}"
              f" {clock / their_clock:6.2f} {max(each[2] for each in runs[-1]) / 1024:6.1f}",
              flush=True)
        found.append(Cost(mine, mine / theirs))
    return found


def wanted(rows):
    return [row for row in rows if not WANTED or any(row.name.startswith(word) for word in WANTED)]


def table(size, cold):
    rows = wanted(size.measures())
    if cold and size.entries > SMALL:  # an import begins with a bare log, whatever the size
        rows = [row for row in rows if row.on != "bare"]
    print(f"\n{size.name}, {'cold' if cold else 'warm'}: {size.trees} trees, {size.entries} entries, "
          f"{os.path.getsize(size.log) / 1e6:.0f} MB\n{'':27} rounds  cpu ms (least-most)      shell "
          f"(least-most)     ratio  mark    clock ms   shell  ratio     MB")
    return {row.name: measure(size, row, cold, BUDGET_S / 2 / len(rows) / (3 if cold else 1))
            for row in rows}


# --- screens and memory ---


def reach(path, way):
    terminal = screens(path)
    for key in way.split():
        terminal.press(key, REST_S)
    if not terminal.settle(REST_S):
        print(f"  still reading after {REST_S} s: its next key is told with that")
    return terminal


def keys(size, peaks):
    """Keys on each screen, flags kept: {screen: (middle ms, worst ms, middle bytes, most bytes)}"""
    print(f"\n{size.name}: a key, of {KEYS} (mark 2 ms, 4096 bytes): {'ms':>8} {'worst':>8} "
          f"{'bytes':>8} {'most':>6} {'MB':>6}")
    found = {}
    for name, way, key, _ in reaches.SCREENS:
        terminal = reach(size.kept, way)
        costs = [terminal.press(key) for _ in range(KEYS)]
        peaks[f"screen {name}"] = terminal.peak_mb()
        terminal.end()
        spent, sent = zip(*costs)
        found[name] = (statistics.median(spent), max(spent), statistics.median(sent), max(sent))
        print(f"  {name:22} {key:9} {'':14} {found[name][0]:8.2f} {found[name][1]:8.2f} "
              f"{found[name][2]:8.0f} {found[name][3]:6} {peaks['screen ' + name]:6.1f}", flush=True)
    return found


def memory(size, peaks):
    """The most each reading command and screen held, in MB, into peaks."""
    for name, way, _, bare in reaches.SCREENS:
        if bare:
            terminal = reach(size.log, way)
            peaks[f"screen {name}, nothing kept"] = terminal.peak_mb()
            terminal.end()
    names = {"OUT": f"{ROOM}/whole", "PICKS": size.picks, "WEATHER": size.weather}
    for command in reaches.reading():
        shutil.rmtree(f"{ROOM}/whole", ignore_errors=True)
        words = [names.get(word, word) for word in shlex.split(command)]
        peaks[command] = ours(size.log, words, (0, 1, 2))[2] / 1024  # 2: it lacks what is asked of
    mark = 48 if size.entries > SMALL else 12
    worst = sorted(peaks, key=peaks.get, reverse=True)
    over = sum(peak > mark for peak in peaks.values())
    print(f"\n{size.name}: most MB resident, of {len(peaks)} commands and screens (mark {mark}):")
    for name in worst[:max(over, 5)]:
        print(f"  {name:50} {peaks[name]:6.1f}", flush=True)
    return worst[0], peaks[worst[0]]


def unreached():
    """Commands that reaches.py has no row for."""
    said = subprocess.run([PROGRAM, "help"], capture_output=True, text=True).stdout
    names = [line.split()[0] for line in said.splitlines() if line.startswith("  ")]
    known = {command.split()[0] for command in reaches.reading()} | set(reaches.WRITING)
    return [name for name in names if name not in known and name.isalpha()]


def all_of(name):
    size = size_of(name)
    warm = table(size, False)
    cold = {} if os.environ.get("COLD") == "no" else table(size, True)
    if WANTED:
        return {"warm": warm, "cold": cold, "keys": {}, "peak": None}
    peaks = {}
    return {"warm": warm, "cold": cold, "keys": keys(size, peaks), "peak": memory(size, peaks)}


def installed():
    room = f"{ROOM}/installed"
    shutil.rmtree(room, ignore_errors=True)
    subprocess.run(["make", "-s", "install", f"DESTDIR={room}"], check=True,
                   stdout=subprocess.DEVNULL)
    sizes = {os.path.join(folder, name)[len(room):]: os.path.getsize(os.path.join(folder, name))
             for folder, _, names in os.walk(room) for name in names}
    print("\ninstalled, in bytes:")
    for name in sorted(sizes):
        print(f"  {name:52} {sizes[name]:9}")
    return sum(sizes.values())


# --- the whole, as DEVELOPERS.md has it ---


def screens_of(beginning):
    return [name for name, *_ in reaches.SCREENS if name.startswith(beginning)]


def dearest(costs, names):
    name = max(names, key=lambda each: costs[each][0])
    return (f"{costs[name][0]:.2f} ms, {costs[name][2]:.0f} B ({name}); at most "
            f"{max(costs[each][1] for each in names):.1f}, {max(costs[each][3] for each in names)}")


def power(values):
    return f"{math.log10(values[2] / values[0]) / 2:.2f}" if len(values) == 3 else ""


def line(*cells):
    print("| " + " | ".join(cells) + " |")


def summary(found, sizes, steps, in_all):
    """found: by full name; sizes: the columns; steps: the three of the growth, or none"""
    def told(cost):
        return f"{cost.ms:.{0 if cost.ms >= 10 else 1}f}, {cost.ratio:.2g} x" if cost else "-"

    def of(name, part):
        return found[FULL_NAMES.get(name, name)][part]

    small = "typical" if "typical" in sizes else sizes[0]
    line("measure", *sizes, f"cold, {small}", "growth", "mark")
    line(*["---"] * (len(sizes) + 4))
    for row in wanted(size_of(small).measures()):
        for at in range(len(row.yardsticks)):
            costs = [of(name, "warm")[row.name][at] for name in sizes]
            cold = of(small, "cold").get(row.name)
            line(row.name if at == 0 else "the same, shell filling three tables",
                 *map(told, costs), told(cold[at] if cold else None),
                 power([found[step]["warm"][row.name][0].ms for step in steps]),
                 "3 x, 6 x" if row.ours is None else f"{row.mark:g} x" if row.mark and at == 0 else "-")
    if WANTED:
        return
    for name, those in [("key in the tree list", screens_of("yard")), ("key in the plan",
            screens_of("plan")), ("key on any screen", screens_of(""))]:
        line(name, *[dearest(of(one, "keys"), those) for one in sizes], "-",
             power([max(found[step]["keys"][each][0] for each in those) for step in steps]),
             "2 ms, 4096 B")
    line("most memory", *["{1:.1f} MB ({0})".format(*of(name, "peak")) for name in sizes], "-",
         power([found[step]["peak"][1] for step in steps]), "12, 48 MB")
    line("installed, stripped", f"{in_all / 1e6:.2f} MB", *["-"] * (len(sizes) + 1), "2 MB")


def key_growth(found, steps):
    print("\nA key's processor goes with the size to the power of, by screen:")
    for name, *_ in reaches.SCREENS:
        spent = [found[step]["keys"][name][0] for step in steps]
        print(f"  {name:22} {power(spent):>6}  ", *[f"{each:7.2f} ms" for each in spent])


def machine():
    with open("/proc/cpuinfo") as file:
        model = next(line.split(": ")[1].strip() for line in file if line.startswith("model name"))
    pages = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE") / 2**30
    shell = subprocess.run(["sqlite3", "--version"], capture_output=True, text=True).stdout.split()[0]
    return f"{model}, {os.cpu_count()} cores, {pages:.0f} GB, SQLite {shell}"


def main(words):
    began, load = time.monotonic(), os.getloadavg()[0]
    print(machine())
    if unreached():
        print("reaches.py has no row for:", *unreached())
    trees, years, entries = (int(part) for part in GROWTH.split("x"))
    steps = [f"{trees * by}x{years}x{entries * by}" for by in (1, 10, 100) if "growth" in words]
    sizes = [word for word in words if word != "growth"]
    found = {}
    for name in sizes + [step for step in steps if step not in map(FULL_NAMES.get, sizes)]:
        found[FULL_NAMES.get(name, name)] = all_of(name)
    in_all = 0 if WANTED else installed()
    print(f"\n{machine()}; load {load:.1f} before, {os.getloadavg()[0]:.1f} after; "
          f"{(time.monotonic() - began) / 60:.0f} minutes. Middle of up to {ROUNDS} rounds, ms of "
          "processor, ratio to the shell; growth: the power of the size.\n")
    summary(found, sizes or steps, steps, in_all)
    if steps and not WANTED:
        key_growth(found, steps)
    print("\nThe shell:", *[f"- {row.name}: {'; '.join(said for said, _ in row.yardsticks)}"
          for row in wanted(size_of((sizes or steps)[0]).measures())], sep="\n")


main(sys.argv[1:] or [*FULL_NAMES, "growth"])
