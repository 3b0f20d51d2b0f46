# SPDX-License-Identifier: MIT
# Output that the world refuses: exit 3, one line that says what and why, an old file untouched, no half file, no temporary one.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99
rig=examples/two-person.yaml

refused() {
  text=$1
  shift
  run 3 "$@"
  one_line "$work/err"
  says "$work/err" "$text"
}

nothing_left() {
  checks=$((checks + 1))
  left=$(ls -A "$1")
  [ "$left" = "$2" ] || fail "left in $1: $left"
}

# A full device.
if [ -w /dev/full ]; then
  for form in "" --json --csv --yaml; do
    checks=$((checks + 1))
    # shellcheck disable=SC2086
    "$program" check $rig $form >/dev/full 2>"$work/err"
    got=$?
    [ $got -eq 3 ] || fail "exit $got on a full device, check $form"
    one_line "$work/err"
    says "$work/err" "standard output: cannot write: No space left on device"
  done
  "$program" plan $rig --json >/dev/full 2>"$work/err"
  got=$?
  checks=$((checks + 1))
  [ $got -eq 3 ] || fail "exit $got on a full device, plan"
  refused "/dev/full: cannot write: No space left" check $rig -o /dev/full
  refused "/dev/full: cannot write: No space left" check $rig --svg /dev/full
  refused "/dev/full: cannot write: No space left" gear -o /dev/full
  checks=$((checks + 1))
  [ -c /dev/full ] || fail "/dev/full was replaced"
fi

# A closed pipe: reported, not a silent death. Opened both ways, then the reading end is closed: no reader is left.
mkfifo "$work/pipe"
exec 3<>"$work/pipe"
exec 4>"$work/pipe"
exec 3<&-
"$program" gear >&4 2>"$work/err"
got=$?
exec 4>&-
checks=$((checks + 1))
[ $got -eq 3 ] || fail "exit $got on a closed pipe"
one_line "$work/err"
says "$work/err" "standard output: cannot write: Broken pipe"

# No such directory, a directory in the way.
refused "cannot write: No such file" check $rig -o "$work/none/report.txt"
mkdir "$work/dir"
refused "cannot write: Is a directory" check $rig -o "$work/dir"
refused "cannot write: Is a directory" check $rig --svg "$work/dir"

# A size limit stands in for a disk that fills: the old file stays as it was, nothing else is left.
mkdir "$work/full"
echo old >"$work/full/plans.json"
cp "$work/full/plans.json" "$work/old"
checks=$((checks + 1))
(ulimit -f 8; "$program" plan examples/three-on-a-rope.yaml --json -o "$work/full/plans.json" >"$work/out" 2>"$work/err")
got=$?
[ $got -eq 3 ] || fail "exit $got when the file grew too large"
says "$work/err" "cannot write: File too large"
same "$work/full/plans.json" "$work/old"
nothing_left "$work/full" plans.json
for form in svg png pdf; do
  checks=$((checks + 1))
  (ulimit -f 1; "$program" check $rig --$form "$work/full/figure.$form" >"$work/out" 2>"$work/err")
  got=$?
  [ $got -eq 3 ] || fail "exit $got when the $form grew too large"
  nothing_left "$work/full" plans.json
done

# Read-only: root may write anywhere, so this needs another user.
if [ "$(id -u)" -ne 0 ]; then
  chmod 444 "$work/full/plans.json"
  refused "cannot write: Permission denied" check $rig -o "$work/full/plans.json"
  same "$work/full/plans.json" "$work/old"
  chmod 644 "$work/full/plans.json"
fi

# What works: a file is replaced whole, keeps its mode, and a link stays a link.
chmod 640 "$work/full/plans.json"
ln -s plans.json "$work/full/link"
run 0 check $rig --json -o "$work/full/link"
checks=$((checks + 2))
[ -L "$work/full/link" ] || fail "the link was replaced"
[ "$(stat -c %a "$work/full/plans.json")" = 640 ] || fail "the mode changed to $(stat -c %a "$work/full/plans.json")"
says "$work/full/plans.json" '"hand_force_N"'
(umask 027; "$program" check $rig -o "$work/full/new.txt") || fail "a new file"
checks=$((checks + 1))
[ "$(stat -c %a "$work/full/new.txt")" = 640 ] || fail "a new file's mode is $(stat -c %a "$work/full/new.txt")"
rm "$work/full/new.txt" "$work/full/link"
nothing_left "$work/full" plans.json

# Wrong input leaves the old file alone, too.
cp "$work/full/plans.json" "$work/old"
run 2 check /dev/null --json -o "$work/full/plans.json"
same "$work/full/plans.json" "$work/old"
nothing_left "$work/full" plans.json
finish
