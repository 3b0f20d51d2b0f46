#!/bin/sh
# SPDX-License-Identifier: MIT
# Rules that can be read off the text: units and returns in the public header, what the core may not call, sizes, licences.
# usage: test_rules.sh BUILD SOURCE
set -eu
cd "$2"
bad=0

# report WHAT: fails when standard input has a line
report() {
  found=$(cat)
  if [ -n "$found" ]; then
    printf '%s:\n%s\n' "$1" "$found" >&2
    bad=1
  fi
}

sources=$(ls src/*.c src/*.h src/tables/*.c cli/*.c cli/*.h)
core=$(ls src/*.c src/tables/*.c)
[ "$(printf '%s\n' "$sources" | wc -l)" -ge 40 ] || { echo "the sources could not be listed" >&2; exit 1; }

# ---- the public header
# Every number says its unit, on its line or in the comment right above (a function's arguments).
awk '
  /^\/\/\// { above = above $0; next }
  /(double|fh_number|fh_band|fh_range) [a-z_, *]+(\[[A-Z_a-z]+\])*;/ && !/\(/ {
    if ((above $0) !~ /\[[^]]+\][^;]*$/ && (above $0) !~ /\/\/\/<.*\[/) print FILENAME ":" FNR ": " $0
  }
  { above = "" }' include/firnhaul.h | report "a number of the public header without its [unit]"
awk '
  /^\/\/\// { above = above $0; next }
  /^(double|fh_band|fh_number|fh_pull) fh_.*\(/ { if ((above $0) !~ /@return|\[/) print FILENAME ":" FNR ": " $0 }
  /^[a-z].*fh_[a-z_]*\(.*double / { if ((above $0) !~ /\[/) print FILENAME ":" FNR ": " $0 }
  { above = "" }' include/firnhaul.h | report "a function of the public header that does not say what it takes or returns"

# ---- what may not be called
# shellcheck disable=SC2086 # one word a file
grep -nE '(^|[^a-z_.])(sprintf|vsprintf|strcpy|strcat|strtok|atoi|atof|strtod|gets)\(' $sources | report "a banned function"
# shellcheck disable=SC2086
grep -nE '(^|[^a-z_])(malloc|calloc|realloc|free|strdup)\(' $core | grep -v '^src/memory.c:' | report "memory in the core that does not come from src/memory.c"
# shellcheck disable=SC2086
grep -nE '(^|[^a-z_])(printf|fprintf|puts|exit|abort|longjmp|setlocale|fopen|time|clock|rand|getenv)\(|(^|[^a-z_])errno([^a-z_]|$)' $core |
  grep -v '://' | grep -vE ':[0-9]+: *//' | report "the core prints, exits, or touches the world"
# shellcheck disable=SC2086
grep -nE '"[^"]*%[-+0-9.*]*[efgaEFGA]([^a-zA-Z0-9]|")' $core | grep -vE '^src/text_number.c:|//.*%' |
  grep -E 'fhi_(putf|format)' | report "a number format that follows the locale; use fhi_fixed or fhi_shortest"
# shellcheck disable=SC2086
grep -nE '^static [^(]*(;|=)' $core | grep -vE 'static (const|_Thread_local)|\* ?const |^src/memory.c:' | report "the core has a variable that lives on"
# shellcheck disable=SC2086
grep -nE '(^|[^a-z_])long double([^a-z_]|$)' $core | grep -vE ':[0-9]+: *//' | report "long double in the core: another width elsewhere"

# ---- licence, size, words
for file in $sources tests/unit/*.[ch] tests/refs/*.c tests/check/*.[ch] fuzz/*.c bench/*.[ch]; do
  head -n 2 "$file" | grep -q 'SPDX-License-Identifier: MIT' || echo "$file"
done | report "no licence line"
for file in $core cli/*.c; do
  case $file in src/tables/*) continue ;; esac
  lines=$(wc -l <"$file")
  [ "$lines" -le 600 ] || echo "$file: $lines lines"
done | report "a file longer than 600 lines"
git ls-files 2>/dev/null | grep -E '\.(c|h|md|sh|cmake|yaml|json|txt|check|mjs)$|^run$' | grep -v '^tests/house/' | while read -r file; do
  [ -f "$file" ] && grep -nHE '(^|[^a-z./_-])/(work|root|home)/|/tmp/[a-z_]*\.md' "$file"
done | report "a path of one machine"

# ---- one source for what the header counts on
version=$(sed -n 's/^#define FH_VERSION "\(.*\)"/\1/p' include/firnhaul.h)
[ -n "$version" ] || { echo "no version in the header" >&2; bad=1; }
exit "$bad"
