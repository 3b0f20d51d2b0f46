# SPDX-License-Identifier: MIT
# What the command line's tests share. Use: . lib.sh; each check counts; finish tells and exits.
# $1 the program, $2 the project's root.
set -u
[ -x "$1" ] || { echo "no program: $1" >&2; exit 99; }
program=$1
root=$2
here=$root/tests/cli
work=$(mktemp -d) || exit 99
trap 'rm -rf "$work"' EXIT
unset NO_COLOR COLUMNS 2>/dev/null || true
LC_ALL=C
export LC_ALL
checks=0
failures=0

fail() {
  failures=$((failures + 1))
  echo "FAIL: $*" >&2
}

# run WANTED-STATUS ARGS...: output in $work/out, errors in $work/err
run() {
  wanted=$1
  shift
  checks=$((checks + 1))
  "$program" "$@" >"$work/out" 2>"$work/err"
  got=$?
  if [ $got -ne "$wanted" ]; then
    fail "exit $got, wanted $wanted: firnhaul $*"
    sed 's/^/  | /' "$work/err" >&2
  fi
}

# says FILE TEXT: the text stands in the file, as written
says() {
  checks=$((checks + 1))
  grep -qF -e "$2" "$1" || { fail "not said: $2"; sed 's/^/  | /' "$1" | head -20 >&2; }
}

says_not() {
  checks=$((checks + 1))
  if grep -qF -e "$2" "$1"; then fail "said, but should not be: $2"; fi
}

one_line() {
  checks=$((checks + 1))
  [ "$(wc -l <"$1")" -eq 1 ] || { fail "not one line:"; sed 's/^/  | /' "$1" >&2; }
}

empty() {
  checks=$((checks + 1))
  [ ! -s "$1" ] || { fail "should be empty:"; sed 's/^/  | /' "$1" | head -5 >&2; }
}

absent() {
  checks=$((checks + 1))
  [ ! -e "$1" ] || fail "should not exist: $1"
}

same() {
  checks=$((checks + 1))
  cmp -s "$1" "$2" || { fail "differ: $1 $2"; diff "$1" "$2" | head -20 >&2; }
}

finish() {
  if [ $checks -eq 0 ]; then
    echo "nothing was checked" >&2
    exit 1
  fi
  echo "$checks checks, $failures failed"
  [ $failures -eq 0 ]
  exit $?
}
