# SPDX-License-Identifier: MIT
# The rows of slides.sh as two tables: what friction a slide means, and in how many of 100 falls a team holds with it.
function sine(deg) { return sin(deg * 3.14159265358979 / 180) }
function cosine(deg) { return cos(deg * 3.14159265358979 / 180) }
# Coulomb: v^2 = 2 g s (sin - mu cos), so the friction that gives this share of a free fall.
function of_height(deg, share) { return (1 - share * share) * sine(deg) / cosine(deg) }
function of_path(deg, share) { return (sine(deg) - share * share) / cosine(deg) }
BEGIN {
  print "| published slide | source | friction, if the share is of the same height | of the same way down |"
  print "|---|---|---|---|"
}
$1 == "slide" {
  path = $5 == "height" ? "no slide is that fast" : sprintf("%.2f", of_path($3, $4))
  print "| " $2 " | `" $6 "` | " sprintf("%.2f", of_height($3, $4)) " | " path " |"
}
$1 == "held" {
  if (!tabled++) {
    print "\n| friction of those who hold | two | three | four | six |\n|---|---|---|---|---|"
  }
  print "| " $2 " | " $3 " | " $4 " | " $5 " | " $6 " |"
}
