# SPDX-License-Identifier: MIT
"""Every command that only reads, and every screen with the keys that lead there from the yard."""

READING = """
place show; area list; spot list; spot show R1-05; obstacle list; route show; product list
container list; own list; tree list; tree list --gone; tree show R1-05; ask R1-05 pruned; plan list
entry list; entry list R1-05; history; history R1-05; find wasps; review; review --all
review --tree R1-05; rules; dose R1-05; water R1-05; volume mulch --area 500sqft --depth 3in; partners R1-05
partners --bloom; likely R1-05; descent R1-05; sun; sun R1-05; season; season --tree R1-05; stock
calendar; almanac; almanac apple; almanac apple --cultivars; weather show; weather show days
weather show years; weather show chill; weather show warmth; weather show harvest
weather show frost; export trees -; export entries -; export picks -; export flags -
export calendar -; export plan -; export report -; export walk -; export sheet - --tree R1-05
export all OUT; import picks PICKS --dry-run; weather import WEATHER --units si --dry-run
merge --clashes; verify; help
"""
WRITING = "new demo enter undo redo put-off set-aside rule backup".split()

# name, keys that lead there, the key to measure, whether its memory is told without flags kept too
SCREENS = [
    ("yard, the tree list", "", "Down", True),
    ("yard, a screenful", "", "PageDown", False),
    ("year", "Y", "Down", True),
    ("year, a screenful", "Y", "PageDown", False),
    ("plan", "P", "Right", True),
    ("plan, a screenful", "P", "PageDown", False),
    ("tree", "Enter", "Down", False),
    ("facts", "Enter e", "Down", False),
    ("figures", "Enter f", "Down", False),
    ("likely", "Enter i", "Down", False),
    ("walk, next tree", "w", "Down", True),
    ("walk, a letter", "w", "a", False),
    ("review", "r", "Down", True),
    ("season", "s", "Down", True),
    ("compare", "s c", "Down", False),
    ("weather", "W", "Down", True),
    ("almanac", "A", "Down", False),
    ("history", "H", "Down", False),
    ("answers", "O", "Down", False),
    ("search, a letter", "F", "w", False),
    ("export", "X", "Down", False),
    ("shed", "S", "Down", False),
    ("merge", "M", "u", False),
    ("add, a letter", "a", "u", False),
    ("help", "?", "Down", False),
]


def reading():
    return [one.strip() for line in READING.strip().split("\n") for one in line.split(";")]
