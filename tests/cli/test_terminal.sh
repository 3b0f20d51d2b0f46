# SPDX-License-Identifier: MIT
# On a terminal and off it: widths, colour, units, hostile titles, where the text goes.
. "$2/tests/cli/lib.sh"
cd "$root" || exit 99

# No line is wider than asked for, on any example, in either units; none ends in a space.
for width in 30 40 60 80 120; do
  for file in $(grep -l "^rig:" examples/*.yaml) examples/rigs/six.yaml; do
    for units in metric imperial; do
      "$program" check "$file" --width $width --units $units >"$work/out" 2>"$work/err"
      checks=$((checks + 2))
      wide=$(awk -v w=$width 'length($0) > w' "$work/out" | head -1)
      [ -z "$wide" ] || fail "$file wider than $width: $wide"
      spaces=$(grep -n ' $' "$work/out" | head -1)
      [ -z "$spaces" ] || fail "$file: a line ends in a space: $spaces"
    done
  done
  for what in "plan examples/three-on-a-rope.yaml" gear keys "gear pulley"; do
    # shellcheck disable=SC2086
    "$program" $what --width $width >"$work/out" 2>"$work/err"
    checks=$((checks + 1))
    wide=$(awk -v w=$width 'length($0) > w' "$work/out" | head -1)
    [ -z "$wide" ] || fail "$what wider than $width: $wide"
  done
done

# COLUMNS counts when there is no terminal, --width counts more; a silly COLUMNS is not believed.
COLUMNS=50 "$program" keys >"$work/a"
"$program" keys --width 50 >"$work/b"
same "$work/a" "$work/b"
COLUMNS=50 "$program" keys --width 90 >"$work/a"
"$program" keys --width 90 >"$work/b"
same "$work/a" "$work/b"
COLUMNS=-7 "$program" keys >"$work/a"
"$program" keys --width 80 >"$work/b"
same "$work/a" "$work/b"

# Colour only on a terminal, and never when it was refused. script(1) gives a terminal.
escape=$(printf '\033')
run 0 check examples/rigs/six.yaml
says_not "$work/out" "$escape"
if command -v script >/dev/null; then
  seen() { script -qec "$1" /dev/null </dev/null >"$work/tty" 2>/dev/null; }
  TERM=xterm seen "$program plan examples/two-person.yaml"
  says "$work/tty" "$escape["
  NO_COLOR=1 TERM=xterm seen "$program plan examples/two-person.yaml"
  says_not "$work/tty" "$escape["
  TERM=xterm seen "$program plan examples/two-person.yaml --no-color"
  says_not "$work/tty" "$escape["
  TERM=dumb seen "$program plan examples/two-person.yaml"
  says_not "$work/tty" "$escape["
  TERM=xterm seen "$program plan examples/two-person.yaml -o $work/file.txt"
  says_not "$work/file.txt" "$escape["
else
  echo "no script(1): no terminal was tried"
fi

# A title cannot steer the terminal, whether it is refused or cleaned; in JSON it is escaped.
sed 's/^title:.*/title: "x\\e[31mred\\u202Eback"/' examples/rigs/three.yaml >"$work/title.yaml"
"$program" check "$work/title.yaml" >"$work/out" 2>"$work/err"
says_not "$work/out" "$escape"
says_not "$work/err" "$escape"
"$program" check "$work/title.yaml" --json >"$work/out" 2>"$work/err"
says_not "$work/out" "$escape"

# The text goes where -o says, and nothing to standard output.
run 0 check examples/rigs/six.yaml -o "$work/report.txt"
empty "$work/out"
run 0 check examples/rigs/six.yaml
same "$work/out" "$work/report.txt"
run 0 check - <examples/rigs/six.yaml
same "$work/out" "$work/report.txt"

# The answer comes first, in one of three words; the caution comes last.
for file in $(grep -l "^rig:" examples/*.yaml); do
  "$program" check "$file" >"$work/out"
  checks=$((checks + 1))
  sed -n 2p "$work/out" | grep -qE '^(YES|PERHAPS|NO)  ' || fail "$file: no answer in the second line"
  says "$work/out" "Training aid. It does not replace instruction"
  "$program" plan "$file" >"$work/out"
  checks=$((checks + 1))
  sed -n 2p "$work/out" | grep -qE '^(YES|PERHAPS|NO)  ' || fail "$file: no answer of plan in the second line"
done

# What does not work says why in words, and still exits 1.
sed 's/{run: station, on: toothed-capture}/{run: station, on: toothed-capture, reversed: true}/' examples/rigs/three.yaml >"$work/reversed.yaml"
run 1 check "$work/reversed.yaml"
says "$work/out" "NO  "
run 1 check "$work/reversed.yaml" --json
says "$work/out" '"answer": "no"'

# On ground so steep that nobody can pull back, the crew is there and pulls nothing.
sed 's/station_m: 3.5/slope_deg: 45, station_m: 3.5/' examples/two-person.yaml >"$work/steep.yaml"
run 1 check "$work/steep.yaml" --width 200
says "$work/out" "This crew cannot raise it with this rig. The pull is 270 N (185 to 400); this crew can pull 0 N"
says_not "$work/out" "names no crew"
says_not "$work/out" "Share"
run 1 check "$work/steep.yaml" --width 200 --chance --samples 1024
says "$work/out" "Crew       0 N in the middle"
says_not "$work/out" "Share"
run 1 check "$work/steep.yaml" --json --chance --samples 1024
says "$work/out" '"crew_share": {'
says "$work/out" '"p50": null'
run 1 haul "$work/steep.yaml" --width 200
says "$work/out" "at the worst nobody here keeps any pull up: the time has no upper end"
run 0 haul examples/two-person.yaml
says_not "$work/out" "no upper end"

# Own gear is read, overrides, and shows up with its basis.
printf 'firnhaul_gear: 1\nitems:\n  - {name: my-pulley, like: pulley, efficiency: [0.7, 0.8]}\n' >"$work/gear.yaml"
run 0 gear my-pulley --gear "$work/gear.yaml"
says "$work/out" "0.7 to 0.8"
says "$work/out" "own"
sed 's/on: pulley/on: my-pulley/' examples/rigs/three.yaml >"$work/own.yaml"
run 2 check "$work/own.yaml"
run 0 check "$work/own.yaml" --gear "$work/gear.yaml"
says "$work/out" "my-pulley"

# The generated pages are the ones in docs.
run 0 keys --markdown
same "$work/out" docs/scene.md
run 0 keys --schema
same "$work/out" docs/scene.schema.json
finish
