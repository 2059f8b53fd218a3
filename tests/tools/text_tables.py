#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Writes src/core/text_tables.c from the Unicode data that python3 brings along (unicodedata).

Run by hand when a newer Unicode is wanted: tests/tools/text_tables.py > src/core/text_tables.c
"""
import unicodedata

LAST = 0x10FFFF
# Two blocks that C libraries take for wide (circled numbers on black squares, hexagrams).
# Characters not assigned yet are narrow: the terminal library shows them so.
WIDE_BLOCKS = ((0x3248, 0x324F), (0x4DC0, 0x4DFF))
FOLDED = list(range(0x0530)) + list(range(0x1E00, 0x2000))


def ranges(is_in):
    found, start = [], None
    for code in range(LAST + 2):
        if code <= LAST and is_in(code):
            start = code if start is None else start
        elif start is not None:
            found.append((start, code - 1))
            start = None
    return found


def is_wide(code):
    if any(first <= code <= last for first, last in WIDE_BLOCKS):
        return True
    char = chr(code)
    return unicodedata.category(char) != 'Cn' and unicodedata.east_asian_width(char) in 'WF'


def is_mark(code):
    # Vowels and final consonants of Korean syllables written apart join the one before.
    return unicodedata.category(chr(code)) in ('Mn', 'Me') or (
        0x1160 <= code <= 0x11FF or 0xD7B0 <= code <= 0xD7C6 or 0xD7CB <= code <= 0xD7FB)


def compositions():
    for code in range(0x2000):
        parts = unicodedata.decomposition(chr(code)).split()
        if len(parts) != 2 or parts[0].startswith('<'):
            continue
        base, mark = (int(part, 16) for part in parts)
        latin_greek_cyrillic = base < 0x0530 or base >= 0x1E00
        if latin_greek_cyrillic and unicodedata.normalize('NFC', chr(base) + chr(mark)) == chr(code):
            yield base, mark, code


def fold_of(code):
    char = chr(code)
    if unicodedata.combining(char):
        return code
    for folded in (char.casefold(), char.lower()):
        if len(folded) == 1:
            return ord(folded)
    return code


def single_of(code):
    parts = unicodedata.decomposition(chr(code)).split()
    return int(parts[0], 16) if len(parts) == 1 else code


def runs(other):
    """Runs of characters with one distance to their other character, step 1 or 2."""
    moved = [(code, other(code) - code) for code in FOLDED if other(code) != code]
    rows = []
    for code, distance in moved:
        if rows:
            first, last, step, same = rows[-1]
            gap = code - last
            if same == distance and (gap == step or (first == last and gap in (1, 2))):
                rows[-1] = (first, code, gap, distance)
                continue
        rows.append((code, code, 1, distance))
    return rows


def classes():
    """Combining classes of the marks that compose; 230 (above) is left out."""
    rows = []
    for code in range(0x0300, 0x0370):
        kind = unicodedata.combining(chr(code))
        if kind == 230:
            continue
        if rows and rows[-1][1] == code - 1 and rows[-1][2] == kind:
            rows[-1] = (rows[-1][0], code, kind)
        else:
            rows.append((code, code, kind))
    return rows


def table(kind, name, rows):
    rows = list(rows)
    print(f'\nconst struct {kind} text_{name}[] = {{')
    line = '\t'
    for row in rows:
        item = '{' + ', '.join(str(n) if abs(n) < 256 and place > 1 else f'0x{n:04X}' if n >= 0
                               else str(n) for place, n in enumerate(row)) + '},'
        if len(line.expandtabs(8)) + len(item) + 1 > 100:
            print(line.rstrip())
            line = '\t'
        line += item + ' '
    print(line.rstrip())
    print('};')
    print(f'const size_t text_{name}_count = sizeof text_{name} / sizeof *text_{name};')


print('/* SPDX-License-Identifier: MIT */')
print(f'/* Made by tests/tools/text_tables.py from Unicode {unicodedata.unidata_version}; '
      'not edited by hand. */')
print('#include "core/text_tables.h"')
print('\n/* clang-format off */')
table('text_range', 'wide', ranges(is_wide))
table('text_range', 'marks', ranges(is_mark))
table('text_composition', 'compositions', sorted(compositions()))
table('text_folding', 'foldings', runs(fold_of))
table('text_folding', 'singles', runs(single_of))
table('text_class', 'classes', classes())
