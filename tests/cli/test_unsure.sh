#!/bin/sh
# SPDX-License-Identifier: MIT
# Chances, studies, fits and anchors from outside: the same bytes for any number of threads, a killed study that goes on, a disk
# that fills, sizes said first, readings with gaps and mixed units.
set -eu
program=$1
root=$2
cd "$root"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
failed=0

bad() {
  printf 'FAILED: %s\n' "$*" >&2
  failed=$((failed + 1))
}

# run STATUS COMMAND ...: standard error goes to $work/err
run() {
  want=$1
  shift
  status=0
  "$@" >"$work/out" 2>"$work/err" </dev/null || status=$?
  [ "$status" = "$want" ] || bad "status $status, not $want: $* ($(cat "$work/err"))"
}

says() {
  grep -q -- "$1" "$work/err" || bad "standard error does not say '$1': $(cat "$work/err")"
}

# --- the same bytes for any number of threads
for n in 1 2 5; do
  run 0 "$program" check examples/two-person.yaml --why --json --samples 100000 --threads $n -o "$work/check.$n"
  run 0 "$program" study examples/studies/sampled.yaml --threads $n -o "$work/study.$n"
  run 0 "$program" haul examples/two-person.yaml --why --json --samples 1024 --threads $n -o "$work/haul.$n"
  run 0 "$program" lose examples/two-person.yaml --chance --json --samples 256 --threads $n -o "$work/lose.$n"
done
cmp "$work/haul.1" "$work/haul.2" && cmp "$work/haul.1" "$work/haul.5" || bad "haul --why depends on threads"
cmp "$work/lose.1" "$work/lose.2" && cmp "$work/lose.1" "$work/lose.5" || bad "lose --chance depends on threads"
cmp "$work/check.1" "$work/check.2" && cmp "$work/check.1" "$work/check.5" || bad "check --why depends on threads"
cmp "$work/study.1" "$work/study.2" && cmp "$work/study.1" "$work/study.5" || bad "study depends on threads"
[ "$(wc -l <"$work/study.1")" = 201 ] || bad "200 scenes and a header expected"
ls "$work"/*.part >/dev/null 2>&1 && bad "a journal was left behind"

# --- what haul and lose do not offer with chances is refused before anything is worked out
run 2 "$program" haul examples/two-person.yaml --chance --csv
says '--csv holds the trace of the likely raise; accepted with --chance or --why: --json, or neither'
run 2 "$program" lose examples/two-person.yaml --chance --csv
says '--csv holds the losses without their chances'
run 2 "$program" lose examples/two-person.yaml --why
says "unknown option '--why'; accepted: .*--chance"
run 2 "$program" haul examples/two-person.yaml --chance --samples 10
run 2 "$program" lose examples/two-person.yaml --chance --samples 2000000

# --- a scene without ranges says so; then only defaults and the catalogue are open
cat >"$work/exact.yaml" <<END
firnhaul: 1
load: {mass_kg: 50}
slot: {depth_m: 10}
lip: {turn_deg: 90, friction: 0.1}
ground: {station_m: 6, anchor_m: 9}
crew: [{name: a, pull_N: 800}]
reset_s: 30
walk_mps: 0.1
ropes: [{name: main, length_m: 40, modulus_kN: 50}]
rig: {ropes: [{name: main, path: [{tie: load}, {edge: lip}, {hand: crew}]}]}
END
run 1 "$program" haul "$work/exact.yaml" --chance  # without a capture the rig is refused
grep -q 'no number that this scene gives is a range' "$work/out" || bad "an exact scene does not say that it gives no range: $(cat "$work/out")"
grep -q 'must not be built so' "$work/out" || bad "chances hide that the rig is refused"
grep -q 'the raise goes well in 100 %' "$work/out" || bad "an exact raise that works is not sure"
sed 's/pull_N: 800/pull_N: 300/' "$work/exact.yaml" >"$work/weak.yaml"
run 1 "$program" haul "$work/weak.yaml" --chance
grep -q 'the raise goes well in 0 %' "$work/out" || bad "an exact raise that is too heavy is not impossible"
run 1 "$program" lose "$work/exact.yaml" --chance
grep -q 'no number that this scene gives is a range' "$work/out" || bad "an exact scene does not say that it gives no range: $(cat "$work/out")"

# --- a key of the base scene that does not go with what varies is told at its place there; one that varies at its place in the study
cp examples/two-person.yaml "$work/base.yaml"
for far in 30 -1; do
  printf 'firnhaul_study: 1\nscene: base.yaml\nsamples: 1024\nvary:\n  - {key: ground.station_m, values: [3, %s]}\n' "$far" >"$work/cross.yaml"
  run 2 "$program" study "$work/cross.yaml" -o "$work/cross.csv"
  case $far in
    30) says "^$work/base.yaml:$(grep -n 'anchor_m' "$work/base.yaml" | head -n 1 | cut -d: -f1):[0-9]*: ground.anchor_m: " ;;
    *) says "^$work/cross.yaml:5:[0-9]*: ground.station_m: " ;;
  esac
done

# --- a killed study goes on where it was, with the same result
cat >"$work/grid.yaml" <<END
firnhaul_study: 1
scene: $root/examples/two-person.yaml
samples: 262144
vary:
  - {key: lip.friction, from: 0.05, to: 0.5, steps: 6}
  - {key: load.mass_kg, from: 60, to: 120, steps: 5}
END
run 0 "$program" study "$work/grid.yaml" -o "$work/whole.csv"
# No clock: the journal's second line is waited for, then the study is killed.
"$program" study "$work/grid.yaml" -o "$work/killed.csv" --threads 1 2>/dev/null &
pid=$!
while kill -0 $pid 2>/dev/null && [ "$(cat "$work/killed.csv.part" 2>/dev/null | wc -l)" -lt 3 ]; do :; done
kill -9 $pid 2>/dev/null || :
wait $pid 2>/dev/null || :
if [ -e "$work/killed.csv.part" ]; then
  [ -e "$work/killed.csv" ] && bad "half a table was put in place"
  printf '29,0.5,1' >>"$work/killed.csv.part"  # a torn line
  run 0 "$program" study "$work/grid.yaml" -o "$work/killed.csv"
  says 'going on after'
fi
cmp "$work/whole.csv" "$work/killed.csv" || bad "a killed study gave another result"

# A journal of another study is not gone on with.
echo 'firnhaul-study 0000000000000000' >"$work/other.csv.part"
run 2 "$program" study "$work/grid.yaml" -o "$work/other.csv"
says 'another study'

# --- a disk that fills: said, and what is done is kept
if ( ulimit -f 1 ) 2>/dev/null; then
  status=0
  (ulimit -f 4 && exec "$program" study examples/studies/sampled.yaml -o "$work/full.csv") >/dev/null 2>"$work/err" || status=$?
  [ "$status" = 3 ] || bad "a full disk gave status $status"
  says 'cannot write'
  [ -e "$work/full.csv" ] && bad "a full disk left a table"
  run 0 "$program" study examples/studies/sampled.yaml -o "$work/full.csv"
  cmp "$work/full.csv" "$work/study.1" || bad "after a full disk the result is another"
fi

# --- size and time first
sed 's/steps: 6/steps: 1000/; s/steps: 5/steps: 1000/' "$work/grid.yaml" >"$work/huge.yaml"
cat >>"$work/huge.yaml" <<'END'
  - {key: slot.depth_m, from: 3, to: 12, steps: 1000}
  - {key: lip.turn_deg, from: 3, to: 12, steps: 1000}
END
run 2 "$program" study "$work/huge.yaml" -o "$work/huge.csv"
says '1000000000000 scenes'
says 'years'
says -- '--go'
run 2 "$program" study "$work/grid.yaml"
says 'accepted: -o FILE'
sed 's/from: 60/from: 6/' "$work/grid.yaml" >"$work/wrong.yaml"
run 2 "$program" study "$work/wrong.yaml" -o "$work/wrong.csv"
says 'wrong.yaml:6:5: load.mass_kg: out of range'

# --- the picture of the docs is what the study draws
run 0 "$program" study examples/studies/lip-and-load.yaml -o "$work/l.csv" --svg "$work/l.svg" --sqlite "$work/l.db"
cmp "$work/l.svg" docs/figures/lip-and-load.svg || bad "docs/figures/lip-and-load.svg is not what the study draws"
[ -s "$work/l.db" ] || bad "no database"

# --- readings
run 0 "$program" fit examples/readings/training-day.csv
grep -q 'does not fit' "$work/out" || bad "the wrong reading is not flagged"
run 0 "$program" fit examples/readings/training-day.csv --yaml -o "$work/own.yaml"
run 0 "$program" gear pulley --gear "$work/own.yaml"
grep -q 'fitted to load-cell readings' "$work/out" || bad "the gear file was not taken"
cp examples/readings/*.yaml "$work"
reading() {
  printf '%s\n' "$1" >"$work/r.csv"
  run 2 "$program" fit "$work/r.csv"
  says "$2"
}
reading 'scene,hand_N
three.yaml,' 'r.csv:2:12: hand_N: empty'
reading 'scene,hand_N,hand_kN
three.yaml,300,0.3' 'r.csv:1:14: hand_kN: a second column'
reading 'scene,hand_N
three.yaml,300 N' 'r.csv:2:12: hand_N: not a number: 300 N'
reading 'scene,hand_N
three.yaml,-3' 'r.csv:2:12: hand_N: out of range'
reading 'scene,pull
three.yaml,300' 'r.csv:1:7: pull: unknown column'
reading 'scene,hand_N
three.yaml' 'fewer cells than columns'
reading 'hand_N
300' 'scene: this column is missing'
reading 'scene,hand_N
none.yaml,300' 'r.csv:2:1: scene: '
says 'none.yaml: No such file or directory'
# Another unit inside one column: kN, kgf; and a load in kilograms under newtons.
reading 'scene,load_kg,hand_N
three.yaml,80,420
three.yaml,80,0.42' 'r.csv:3:15: hand_N: out of range'
sed 's/,1274,/,1.274,/' examples/readings/training-day.csv >"$work/r.csv"
run 2 "$program" fit "$work/r.csv"
says 'r.csv:5:1: a pull of 1.27 N, where the catalogue.s figures predict about .* N: another unit of pull or load'
sed 's/,1274,/,129.9,/' examples/readings/training-day.csv >"$work/r.csv"
run 2 "$program" fit "$work/r.csv"
says 'r.csv:5:1: a pull of 130 N'
sed 's/load_kg/load_N/' examples/readings/training-day.csv >"$work/r.csv"
run 2 "$program" fit "$work/r.csv"
says 'r.csv:4:1: a pull of 1224 N'
# As a spreadsheet saves it: a mark of UTF-8 first, lines that end in two characters.
{ printf '\357\273\277' && sed -e 's/$/\r/' examples/readings/training-day.csv; } >"$work/sheet.csv"
"$program" fit examples/readings/training-day.csv --json >"$work/want"
run 0 "$program" fit "$work/sheet.csv" --json
cmp "$work/out" "$work/want" || bad "a spreadsheet's file is fitted otherwise"

# --- anchors
run 0 "$program" anchor examples/anchors/two-legs.yaml
run 1 "$program" anchor examples/anchors/soft-bollard.yaml
printf 'firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {}\nground: {}\n' >"$work/bare.yaml"
run 2 "$program" anchor "$work/bare.yaml"
says 'anchor is missing'

[ "$failed" = 0 ] || exit 1
