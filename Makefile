# SPDX-License-Identifier: MIT
# Boughbook. Everything built lies under $(B); the user's CFLAGS and LDFLAGS are added to ours.
#   make            the program            make check          everything the suite holds
#   make demo       the demo yard, opened  make check-quick    the compiled tests only
#   make install    (prefix, DESTDIR)      make check-one T=core/test_date [SAN=1]
VERSION := 0.1.0

B ?= build
prefix ?= /usr/local
bindir ?= $(prefix)/bin
datadir ?= $(prefix)/share
mandir ?= $(datadir)/man
INSTALL ?= install

ifeq ($(MAKELEVEL),0)
MAKEFLAGS += -j$(shell nproc 2>/dev/null || echo 2)
endif
ifdef SAN
override B := build/sanitize
MODE_FLAGS := -O1 -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all
else
MODE_FLAGS := -O2
endif
ifdef COVERAGE
override B := build/coverage
MODE_FLAGS := -O0 --coverage
endif

Q := $(if $(V),,@)
WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion -Wstrict-prototypes \
	-Wmissing-prototypes -Wwrite-strings -Wvla -Wundef $(if $(WERROR),-Werror)
OUR_CPPFLAGS := -Iinclude -Isrc -I$(B)/gen -D_XOPEN_SOURCE=700 -DNCURSES_WIDECHAR=1 \
	-DBOUGHBOOK_VERSION='"$(VERSION)"'
OUR_CFLAGS := -std=c17 -g $(MODE_FLAGS) $(WARNINGS)
OUR_LIBS := -lpanelw -lncursesw -lsqlite3 -lm
COMPILE = $(CC) $(OUR_CPPFLAGS) $(PLACE_CPPFLAGS) $(CPPFLAGS) $(OUR_CFLAGS) $(CFLAGS) -MMD -MP -c
LINK = $(CC) $(OUR_CFLAGS) $(CFLAGS) $(LDFLAGS)

MAIN := $(wildcard src/cli/main.c)
SOURCES := $(sort $(filter-out src/cli/main.c,$(shell find src -name '*.c' 2>/dev/null)))
OBJECTS := $(SOURCES:%.c=$(B)/%.o) $(B)/gen/schema.o
ARCHIVE := $(B)/libboughbook.a
PROGRAM := $(if $(MAIN),$(B)/boughbook)

TEST_SOURCES := $(sort $(shell find tests -name 'test_*.c'))
TEST_PROGRAMS := $(TEST_SOURCES:%.c=$(B)/%)
TEST_SCRIPTS := $(sort $(shell find tests -name 'test_*.sh' -o -name 'test_*.py'))
SUPPORT_OBJECTS := $(patsubst %.c,$(B)/%.o,$(filter-out tests/support/test_%, \
	$(wildcard tests/support/*.c)))
RUN := B=$(B) tests/tools/run.sh

.DELETE_ON_ERROR:
.SUFFIXES:
.PHONY: all check check-quick check-one check-all check-sanitize golden clean install uninstall
.SECONDARY:

all: $(ARCHIVE) $(PROGRAM)

$(ARCHIVE): $(OBJECTS)
	@rm -f $@
	$(Q)$(AR) rcs $@ $^

$(B)/boughbook: $(B)/src/cli/main.o $(ARCHIVE)
	@echo '  link $@'
	$(Q)$(LINK) -o $@ $^ $(OUR_LIBS) $(LDLIBS)

$(B)/src/almanac/%.o: PLACE_CPPFLAGS := -DDATA_BUILT='"$(CURDIR)/share/almanac"' \
	-DDATA_INSTALLED='"$(datadir)/boughbook/almanac"'
$(B)/tests/%.o: PLACE_CPPFLAGS := -Itests

$(B)/%.o: %.c
	@mkdir -p $(@D)
	@echo '  cc   $<'
	$(Q)$(COMPILE) -o $@ $<

$(B)/gen/%.o: $(B)/gen/%.c
	@echo '  cc   $<'
	$(Q)$(COMPILE) -o $@ $<

$(B)/gen/schema.c: schema/embed.sh $(sort $(wildcard schema/*.sql))
	@mkdir -p $(@D)
	$(Q)sh $^ > $@

$(TEST_PROGRAMS): %: %.o $(SUPPORT_OBJECTS) $(ARCHIVE)
	@echo '  link $@'
	$(Q)$(LINK) -o $@ $^ -lcmocka $(OUR_LIBS) $(LDLIBS)

check:
	@tests/tools/need.sh check
	@$(MAKE) --no-print-directory check-all

check-all: all $(TEST_PROGRAMS)
	@$(RUN) $(TEST_PROGRAMS) $(TEST_SCRIPTS)

check-quick: all $(filter-out $(B)/tests/slow/%,$(TEST_PROGRAMS))
	@$(RUN) $(filter $(B)/tests/%,$^)

check-one: all $(filter $(B)/tests/$(T),$(TEST_PROGRAMS))
	@$(RUN) -v $(filter $(B)/tests/%,$^) $(filter tests/$(T).sh tests/$(T).py,$(TEST_SCRIPTS))

check-sanitize:
	@$(MAKE) --no-print-directory SAN=1 check

golden:
	@UPDATE_GOLDEN=1 $(MAKE) --no-print-directory check

clean:
	rm -rf build

-include $(wildcard $(B)/gen/*.d) $(shell find $(B)/src $(B)/tests -name "*.d" 2>/dev/null)
