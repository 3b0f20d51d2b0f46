#!/bin/sh
# SPDX-License-Identifier: MIT
# Published slides on firn over Coulomb's friction, and what that friction means for holding a fall: docs/figures/slides.svg,
# and a table of docs/team.md.
# usage: docs/figures/slides.sh PROGRAM --svg|--markdown >OUT    (PROGRAM: firnhaul; the slides stand in slides.csv)
set -eu
program=$1
form=$2
here=$(dirname "$0")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
LC_ALL=C
export LC_ALL

# held PEOPLE METRES-APART FRICTION-KEYS: in how many of 100 falls the first one is stopped
held() {
  people='{mass_kg: 80, behind_m: 0}'
  i=1
  while [ "$i" -lt "$1" ]; do
    people="$people, {mass_kg: 80, behind_m: $((i * $2))}"
    i=$((i + 1))
  done
  cat >"$work/scene.yaml" <<END
firnhaul: 1
title: a team on level firn
load: {mass_kg: 80}
slot: {depth_m: 15}
lip: {turn_deg: 80, surface: firn}
ground: {station_m: 4}
ropes: [{name: main, length_m: 100, kind: single}]
team: {${3:+$3, }people: [$people]}
END
  # Status 1 says that the fall is not held.
  "$program" team "$work/scene.yaml" --width 1000 >"$work/out" || [ $? -eq 1 ]
  sed -n 's/.*the fall is stopped in \([0-9]*\) of 100,.*/\1/p' "$work/out"
}

{
  grep -v '^#' "$here/slides.csv" | sed 's/^/slide|/'
  for friction in 'soft snow, braking 0.19 to 0.8|snow: soft' 'snow not known, braking 0.03 to 0.8|' 'hard firn, 0.03 to 0.36|snow: firn' 'ice, 0.03 to 0.23|snow: ice'; do
    ours=${friction#*|}
    echo "held|${friction%|*}|$(held 2 15 "$ours")|$(held 3 11 "$ours")|$(held 4 9 "$ours")|$(held 6 9 "$ours")"
  done
} >"$work/rows"

case $form in
--markdown) awk -F'|' -f "$here/slides_table.awk" "$work/rows" ;;
--svg) awk -F'|' -f "$here/slides_draw.awk" "$work/rows" ;;
*) echo "accepted: --svg, --markdown" >&2; exit 2 ;;
esac
