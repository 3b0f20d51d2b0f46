# SPDX-License-Identifier: MIT
# The rows of pulls.sh as a table: theirs, ours, how far off.
function kN(n) { return sprintf("%.1f", n / 1000) }
# How far the likely value lies outside what was published, as a share of it; positive: ours promises more.
function miss(lo, hi, ours, top, sense,    m) {
  m = 0
  if (sense == "top") m = top < lo ? top / lo - 1 : 0
  else if (ours > hi && sense != "least") m = ours / hi - 1
  else if (ours < lo && sense != "most") m = ours / lo - 1
  return m < 0.005 && m > -0.005 ? 0 : m
}
function said(lo, hi, sense) {
  return (sense == "most" ? "let go below " hi : sense == "least" ? "held " lo : sense == "top" ? "up to " hi : lo == hi ? lo : lo " to " hi)
}
BEGIN {
  print "| what | published kN | source | ours kN (range) | off | |"
  print "|---|---|---|---|---|---|"
}
{
  lo = $4; hi = $5; sense = $6
  m = miss(lo, hi, $10 / 1000, $11 / 1000, sense)
  off = m == 0 ? "0" : sprintf("%+.0f %%", 100 * m)
  print "| " $1 " (" $2 ") | " said(lo, hi, sense) " | `" $8 "` | " kN($10) " (" kN($9) " to " kN($11) ") | " off " | " ($7 == "fit" ? "ours comes from it" : "") " |"
  if ($7 == "other" && sense != "top") {
    n++
    inside += ($9 / 1000 <= hi || sense == "least") && ($11 / 1000 >= lo || sense == "most")
    above += m > 0
    below += m < 0
  }
}
END {
  printf "\nOf the %d rows that nothing of ours comes from (the best ever seen left out), our range meets %d. The likely value promises more\n", n, inside
  printf "than was published in %d, less in %d.\n", above, below
}
