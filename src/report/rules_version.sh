#!/bin/sh
# SPDX-License-Identifier: MIT
# Prints the C file with a digest of the sources given: what flags are worked out by. Flags that
# another program kept in a log are not taken for its own.
set -eu
digest=$(cat "$@" | sha256sum | cut -c1-16)
printf '#include "report/rules_version.h"\n\nconst char rules_version[] = "%s";\n' "$digest"
