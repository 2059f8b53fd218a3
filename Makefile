# SPDX-License-Identifier: MIT
# Boughbook. Everything built lies under $(B); the user's CFLAGS and LDFLAGS are added to ours.
# The targets are listed in DEVELOPERS.md, "Testing"; V=1 says more.
VERSION := 0.1.0

B ?= build
prefix ?= /usr/local
bindir ?= $(prefix)/bin
datadir ?= $(prefix)/share
mandir ?= $(datadir)/man
INSTALL ?= install
INSTALL_PROGRAM ?= $(INSTALL) -s

MAKEFLAGS += $(if $(filter 0,$(MAKELEVEL)),-j$(shell nproc 2>/dev/null || echo 2))
ifdef SAN
override B := build/sanitize
# gcc guesses at lengths through the instrumented code, and warns of cuts that cannot be
MODE_FLAGS := -O1 -fno-omit-frame-pointer -fsanitize=address,undefined \
	-fno-sanitize-recover=all -Wno-format-truncation -Wno-maybe-uninitialized
else ifdef COVERAGE
override B := build/coverage
MODE_FLAGS := -O0 --coverage
else
# Small, but for the layers in whose own code time is spent. gdb and perf unwind by -g. Relocations
# are packed where linker and libc know of it: tried by running a program.
SMALL := $(addprefix $(B)/src/,rules dossier report exchange screens cli)
MODE_FLAGS = -O$(if $(filter $(SMALL),$(@D)),s,2) -fno-asynchronous-unwind-tables \
	-ffunction-sections -fdata-sections
PACK := -Wl,-z,pack-relative-relocs
PROGRAM_LDFLAGS = -Wl,-O1,--as-needed,--gc-sections $(shell echo 'int main(void) { return 0; }' | \
	$(CC) -Wl,--fatal-warnings $(PACK) -x c - -o $(B)/try 2>/dev/null && $(B)/try && echo $(PACK))
endif

Q := $(if $(V),,@)
WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion -Wstrict-prototypes \
	-Wmissing-prototypes -Wwrite-strings -Wvla -Wundef $(if $(WERROR),-Werror)
OUR_CPPFLAGS := -Iinclude -Isrc -I$(B)/gen -D_XOPEN_SOURCE=700 -DNCURSES_WIDECHAR=1 \
	-DBOUGHBOOK_VERSION='"$(VERSION)"'
OUR_CFLAGS = -std=c17 -g $(MODE_FLAGS) $(WARNINGS)
OUR_LIBS := -lpanelw -lncursesw -lsqlite3 -lm
COMPILE = $(CC) $(OUR_CPPFLAGS) $(PLACE_CPPFLAGS) $(CPPFLAGS) $(OUR_CFLAGS) $(CFLAGS) -MMD -MP -c
LINK = $(CC) $(OUR_CFLAGS) $(CFLAGS) $(LDFLAGS)

MAIN := $(wildcard src/cli/main.c)
EMBED := src/almanac/embed_main.c
EMBEDDER ?= $(B)/embed_almanac
SOURCES := $(sort $(filter-out src/cli/main.c $(EMBED),$(shell find src -name '*.c' 2>/dev/null)))
OBJECTS := $(SOURCES:%.c=$(B)/%.o) $(B)/gen/schema.o $(B)/gen/rules_version.o $(B)/gen/almanac_tables.o
ARCHIVE := $(B)/libboughbook.a
PROGRAM := $(if $(MAIN),$(B)/boughbook)

TEST_SOURCES := $(sort $(shell find tests -name 'test_*.c'))
TEST_PROGRAMS := $(TEST_SOURCES:%.c=$(B)/%)
BENCH_PROGRAMS := $(patsubst %.c,$(B)/%,$(sort $(wildcard tests/bench/*.c)))
TEST_SCRIPTS := $(sort $(shell find tests -name 'test_*.sh' -o -name 'test_*.py'))
MANUALS := $(foreach page,$(wildcard man/*),man$(subst .,,$(suffix $(page)))/$(notdir $(page)).gz)
SUPPORT_OBJECTS := $(patsubst %.c,$(B)/%.o,$(filter-out tests/support/test_%, \
	$(wildcard tests/support/*.c)))
LINT_STAMPS := $(patsubst %,build/lint/%.tidy,$(SOURCES) $(MAIN) $(EMBED) $(sort $(shell find tests -name '*.c')))
RUN := B=$(B) tests/tools/run.sh

vpath gen/%.c $(B)
.PHONY: all demo check check-all check-outside check-quick check-one check-sanitize soak fuzz \
	fuzz-smoke sweep golden coverage lint lint-all lint-tree install uninstall clean keys bench
.DELETE_ON_ERROR .SECONDARY .SUFFIXES:

all: $(ARCHIVE) $(PROGRAM)

$(ARCHIVE): $(OBJECTS)
	@rm -f $@
	$(Q)$(AR) rcs $@ $^

$(B)/boughbook: $(B)/src/cli/main.o $(ARCHIVE)
	@echo '  link $@'
	$(Q)$(LINK) $(PROGRAM_LDFLAGS) -o $@ $^ $(OUR_LIBS) $(LDLIBS)

$(B)/tests/%.o: PLACE_CPPFLAGS := -Itests
$(B)/tests/core/test_file_faults: LDFLAGS += -Wl,--wrap=mkstemp,--wrap=mkdtemp,--wrap=open,--wrap=fdopen,--wrap=fchmod,--wrap=chmod,--wrap=fflush,--wrap=fsync,--wrap=fclose,--wrap=rename,--wrap=renameat2
$(B)/tests/slow/test_faults_calls: LDFLAGS += -Wl,--wrap=malloc,--wrap=calloc,--wrap=realloc

$(B)/%.o: %.c Makefile
	@mkdir -p $(@D)
	@echo '  cc   $<'
	$(Q)$(COMPILE) -o $@ $<

# The almanac, read and checked here, so that no start has to.
$(B)/embed_almanac: $(EMBED:%.c=$(B)/%.o) \
	$(filter $(B)/src/almanac/% $(B)/src/core/%,$(OBJECTS))
	@echo '  link $@'
	$(Q)$(LINK) -o $@ $^ $(LDLIBS) -lm
$(B)/gen/almanac_tables.c: $(EMBEDDER) $(sort $(wildcard share/almanac/*.csv))
	@mkdir -p $(@D)
	$(Q)$(EMBEDDER) share/almanac > $@
$(B)/gen/rules_version.c: src/report/rules_version.sh $(sort $(filter-out src/cli/% src/screens/%,$(SOURCES) $(wildcard include/*/*.h src/*/*.h)))
$(B)/gen/schema.c: schema/embed.sh $(sort $(wildcard schema/*.sql))
$(B)/gen/schema.c $(B)/gen/rules_version.c:
	$(Q)mkdir -p $(@D) && sh $^ > $@

$(TEST_PROGRAMS) $(BENCH_PROGRAMS): %: %.o $(SUPPORT_OBJECTS) $(ARCHIVE)
	@echo '  link $@'
	$(Q)$(LINK) -o $@ $^ -lcmocka $(OUR_LIBS) $(LDLIBS)

check:
	@tests/tools/need.sh check && $(MAKE) --no-print-directory check-all

check-all: all $(TEST_PROGRAMS)
	@$(RUN) $(TEST_PROGRAMS) $(TEST_SCRIPTS)

check-quick: all $(filter-out $(B)/tests/slow/%,$(TEST_PROGRAMS))
	@$(RUN) $(filter $(B)/tests/%,$^)

check-one: all $(filter $(B)/tests/$(T),$(TEST_PROGRAMS))
	@$(RUN) -v $(filter $(B)/tests/%,$^) $(filter tests/$(T).sh tests/$(T).py,$(TEST_SCRIPTS))

check-sanitize:
	@TEST_TIMEOUT=600 $(MAKE) --no-print-directory SAN=1 check

fuzz fuzz-smoke:
	@tests/tools/need.sh fuzz && tests/tools/fuzz.sh $@

soak: all $(filter $(B)/tests/slow/%,$(TEST_PROGRAMS))
	@LOGS=2000 KILL_ROUNDS=500 EVERY=1 TEST_TIMEOUT=7200 $(RUN) $(filter $(B)/tests/%,$^) \
		$(filter tests/slow/%,$(TEST_SCRIPTS))

keys: all $(B)/tests/screens/test_key_counts
	@$(B)/tests/screens/test_key_counts | grep '^|'

bench: all $(BENCH_PROGRAMS)
	@B=$(B) tests/bench/marks.py $(BENCH)

check-outside:
	@tests/tools/need.sh outside && $(MAKE) --no-print-directory all && \
		BOUGHBOOK_BIN=$(CURDIR)/$(B)/boughbook tests/tools/outside.py

sweep:
	@tests/tools/need.sh sweep && tests/tools/sweep.py && $(MAKE) check-one T=reckon/test_sun_outside

golden:
	@UPDATE_GOLDEN=1 $(MAKE) --no-print-directory check

coverage:
	@$(MAKE) --no-print-directory COVERAGE=1 check && tests/tools/coverage.sh build/coverage

demo:
	@tests/tools/need.sh demo
	@$(MAKE) --no-print-directory all
	@test -e build/demo.bough || $(B)/boughbook demo build/demo.bough
	@$(B)/boughbook --log build/demo.bough

lint:
	@tests/tools/need.sh lint && $(MAKE) --no-print-directory -k lint-all

lint-all: $(LINT_STAMPS) lint-tree

lint-tree: $(ARCHIVE)
	@tests/tools/lint.sh $(ARCHIVE)

$(LINT_STAMPS): build/lint/%.tidy: % .clang-tidy tests/tools/tidy.sh
	@echo '  tidy $<'
	@CC='$(CC)' tests/tools/tidy.sh $< $@ $(OUR_CPPFLAGS)

install: all
	$(INSTALL) -d $(addprefix $(DESTDIR),$(bindir) $(addprefix $(mandir)/man,1 5 7) \
		$(datadir)/doc/boughbook)
	$(INSTALL_PROGRAM) -m 755 $(B)/boughbook $(DESTDIR)$(bindir)
	for page in $(MANUALS); do gzip -n9 <man/$$(basename $$page .gz) >$(B)/man.gz && \
		$(INSTALL) -m 644 $(B)/man.gz $(DESTDIR)$(mandir)/$$page || exit; done
	$(INSTALL) -m 644 share/doc/* $(DESTDIR)$(datadir)/doc/boughbook
	tar -C share --sort=name --mtime=@0 --owner=0 --group=0 --numeric-owner -cf - almanac | \
		gzip -n9 > $(DESTDIR)$(datadir)/doc/boughbook/almanac.tar.gz

uninstall:
	rm -f $(DESTDIR)$(bindir)/boughbook $(MANUALS:%=$(DESTDIR)$(mandir)/%)
	rm -rf $(DESTDIR)$(datadir)/doc/boughbook

clean:
	rm -rf build

-include $(wildcard $(B)/gen/*.d) $(shell find $(B)/src $(B)/tests build/lint -name '*.d' 2>/dev/null)
