# SPDX-License-Identifier: MIT
# The rows of pulls.sh as a figure: a bar for our range with a stroke at the likely value, diamonds for what was published.
function x(kn) { return sprintf("%.1f", LEFT + kn * SCALE) }
function text(px, py, size, rest, s) { printf "<text x=\"%s\" y=\"%s\" font-size=\"%s\"%s>%s</text>\n", px, py, size, rest, s }
function line(x1, y1, x2, y2, ink, wide, rest) {
  printf "<line x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\" stroke=\"%s\" stroke-width=\"%s\"%s/>\n", x1, y1, x2, y2, ink, wide, rest
}
function diamond(kn, cy, full) {
  printf "<path d=\"M%s %s l4 4 l-4 4 l-4 -4 z\" fill=\"%s\" stroke=\"%s\" stroke-width=\"1.2\"/>\n", x(kn), cy - 4, full ? THEIRS : "#ffffff", THEIRS
}
# An arrow from the value to where the truth lies.
function arrow(kn, cy, way) {
  line(x(kn), cy, x(kn) + way * 14, cy, THEIRS, 1.2, "")
  printf "<path d=\"M%s %s l%s -3 v6 z\" fill=\"%s\"/>\n", x(kn) + way * 18, cy, -way * 5, THEIRS
}
BEGIN {
  LEFT = 190; SCALE = 15.5; ROW = 17; TOP = 62; OURS = "#7fa6cc"; LIKELY = "#0a3a6b"; THEIRS = "#b3471d"; INK = "#16202a"
}
{ row[NR] = $0 }
END {
  high = TOP + NR * ROW
  print "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"Published pulls of anchors over the model\" width=\"600pt\" height=\"" high + 62 "pt\" viewBox=\"0 0 600 " high + 62 "\" font-family=\"'DejaVu Sans', sans-serif\">"
  print "<title>Published pulls of anchors over the model</title>"
  print "<desc>For each anchor a bar for the range that the model gives, a stroke at its likely value, and diamonds for the forces that were published.</desc>"
  print "<rect width=\"600\" height=\"" high + 62 "\" fill=\"#ffffff\"/>"
  text(8, 17, 11.5, " font-weight=\"bold\" fill=\"" INK "\"", "What anchors held, and what the model says")
  text(8, 30, 8, " fill=\"#47535f\"", "Bar: our range; stroke: our likely value. Diamonds: published; hollow where our figure was taken from it.")
  text(8, 41, 8, " fill=\"#47535f\"", "Arrows: it held at least this, or let go below this. Snow not graded in the text is taken as pencil.")
  for (kn = 0; kn <= 25; kn += 5) {
    line(x(kn), TOP - 6, x(kn), high, "#c9d1d9", 0.6, "")
    text(x(kn), TOP - 9, 8, " text-anchor=\"middle\" fill=\"#47535f\"", kn == 25 ? "25 kN" : kn)
  }
  for (i = 1; i <= NR; i++) {
    split(row[i], f, "|")
    cy = TOP + (i - 1) * ROW + ROW / 2
    full = f[7] != "fit"
    text(LEFT - 8, cy + 3, 8.5, " text-anchor=\"end\" fill=\"" INK "\"", f[1])
    printf "<rect x=\"%s\" y=\"%s\" width=\"%.1f\" height=\"9\" fill=\"%s\"/>\n", x(f[9] / 1000), cy - 4.5, (f[11] - f[9]) / 1000 * SCALE, OURS
    line(x(f[10] / 1000), cy - 6.5, x(f[10] / 1000), cy + 6.5, LIKELY, 2.2, "")
    if (f[6] == "is" && f[4] != f[5]) line(x(f[4]), cy, x(f[5]), cy, THEIRS, 1.2, "")
    if (f[6] == "most") { arrow(f[5], cy, -1); diamond(f[5], cy, full) }
    else if (f[6] == "least") { arrow(f[4], cy, 1); diamond(f[4], cy, full) }
    else { diamond(f[4], cy, full); if (f[4] != f[5]) diamond(f[5], cy, full) }
  }
  text(8, high + 18, 8, " fill=\"#47535f\"", "The last five rows are ice. \"Best\" rows are the most that was seen, not what to count on.")
  text(8, high + 30, 8, " fill=\"#47535f\"", "A skier's catch: no force was measured; it is reckoned from an estimated speed, see docs/anchor.md.")
  text(8, high + 46, 8, " font-weight=\"bold\" fill=\"" INK "\"", "Few and old pulls, read second-hand. Test the anchor on the spot, and back it up.")
  print "</svg>"
}
