#!/bin/sh
# SPDX-License-Identifier: MIT
# Published pulls of anchors over what the model says: docs/figures/pulls.svg, and the table of docs/anchor.md.
# usage: docs/figures/pulls.sh PROGRAM --svg|--markdown >OUT    (PROGRAM: firnhaul; the rows stand in pulls.csv)
set -eu
program=$1
form=$2
here=$(dirname "$0")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
LC_ALL=C
export LC_ALL

# holds KIND KEYS SNOW: what the model says one point of this kind holds: low likely high, in newton
holds() {
  cat >"$work/scene.yaml" <<END
firnhaul: 1
title: one point
load: {mass_kg: 80}
slot: {depth_m: 10}
lip: {turn_deg: 80}
ground: {station_m: 4}
anchor:
  ${3:-snow: pencil}
  points: [{kind: $1${2:+, $2}}]
END
  # Status 1 says that the point is too weak for some case, which is not asked here.
  "$program" anchor "$work/scene.yaml" --csv >"$work/out.csv" || [ $? -eq 1 ]
  awk -F, 'NR == 2 { print $10 "|" $11 "|" $12 }' "$work/out.csv"
}

grep -v '^#' "$here/pulls.csv" | while IFS='|' read -r label kind keys snow low high sense weight source; do
  echo "$label|$kind|$snow|$low|$high|$sense|$weight|$source|$(holds "$kind" "$keys" "$snow")"
done >"$work/rows"

case $form in
--markdown) awk -F'|' -f "$here/pulls_table.awk" "$work/rows" ;;
--svg) awk -F'|' -f "$here/pulls_draw.awk" "$work/rows" ;;
*) echo "accepted: --svg, --markdown" >&2; exit 2 ;;
esac
