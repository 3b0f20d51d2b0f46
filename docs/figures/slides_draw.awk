# SPDX-License-Identifier: MIT
# The rows of slides.sh as a figure: left the slides over curves of constant friction, right what it means for holding a fall.
function root(s) { return s > 0 ? sqrt(s) : 0 }
function share(deg, mu) { return root(1 - mu / (sin(deg * RAD) / cos(deg * RAD))) }
function x(deg) { return sprintf("%.1f", 40 + (deg - 15) * 6.2) }
function y(part) { return sprintf("%.1f", 62 + (1 - part) * 200) }
function text(px, py, size, rest, s) { printf "<text x=\"%s\" y=\"%s\" font-size=\"%s\"%s>%s</text>\n", px, py, size, rest, s }
function curve(mu,    deg, d) {
  d = ""
  for (deg = 15; deg <= 55; deg += 0.5) if (share(deg, mu) > 0) d = d (d == "" ? "M" : " L") x(deg) " " y(share(deg, mu))
  return d
}
function draw_curve(mu, dash) {
  printf "<path d=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"1.4\"%s/>\n", curve(mu), LIKELY, dash
  text(x(55) + 4, y(share(55, mu)) + 3, 8, " fill=\"" LIKELY "\"", mu)
}
function diamond(px, py) { printf "<path d=\"M%s %s l4.5 4.5 l-4.5 4.5 l-4.5 -4.5 z\" fill=\"%s\"/>\n", px, py - 4.5, THEIRS }
BEGIN {
  RAD = 3.14159265358979 / 180; OURS = "#7fa6cc"; LIKELY = "#0a3a6b"; THEIRS = "#b3471d"; INK = "#16202a"; GREY = "#47535f"
  print "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"Slides on firn and holding a fall\" width=\"600pt\" height=\"350pt\" viewBox=\"0 0 600 350\" font-family=\"'DejaVu Sans', sans-serif\">"
  print "<title>Slides on firn, and what their friction means for holding a fall</title>"
  print "<desc>Left: speed of a slide as a share of free fall over the slope, curves of constant friction, published slides as diamonds. Right: falls held of 100 by team size.</desc>"
  print "<rect width=\"600\" height=\"350\" fill=\"#ffffff\"/>"
  text(8, 17, 11.5, " font-weight=\"bold\" fill=\"" INK "\"", "Slides on hard firn")
  text(8, 30, 8, " fill=\"" GREY "\"", "Speed over that of a free fall from the same height; curves: friction.")
  text(8, 41, 8, " fill=\"" GREY "\"", "Diamonds: published. Joined: the text does not say what is compared.")
  for (p = 0; p <= 1.001; p += 0.25) {
    printf "<line x1=\"40\" y1=\"%s\" x2=\"%s\" y2=\"%s\" stroke=\"#c9d1d9\" stroke-width=\"0.6\"/>\n", y(p), x(55), y(p)
    text(34, y(p) + 3, 8, " text-anchor=\"end\" fill=\"" GREY "\"", p * 100 (p > 0.9 ? " %" : ""))
  }
  for (deg = 20; deg <= 50; deg += 10) text(x(deg), 276, 8, " text-anchor=\"middle\" fill=\"" GREY "\"", deg " deg")
  draw_curve(0.03, ""); draw_curve(0.19, " stroke-dasharray=\"5 3\""); draw_curve(0.36, ""); draw_curve(0.48, " stroke-dasharray=\"5 3\"")
  text(8, 292, 8, " fill=\"" GREY "\"", "Dashed: ski fabrics, 0.19 and 0.48, measured in a laboratory.")
}
$1 == "slide" {
  part = $4
  # A share of the speed on the same way down: the same height is less fall, so the share of that is higher.
  far = part / root(sin($3 * RAD))
  if ($5 == "either") {
    printf "<line x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\" stroke=\"%s\" stroke-width=\"1.4\"/>\n", x($3), y(part), x($3), y(far), THEIRS
    diamond(x($3), y(far))
  }
  diamond(x($3), y(part))
}
$1 == "held" { n++; name[n] = $2; for (i = 1; i <= 4; i++) held[n, i] = $(i + 2) }
END {
  split("two,three,four,six", size, ",")
  split("#0a3a6b,#5f8cbb,#bcd2e8,#ffffff", fill, ",")
  text(330, 17, 11.5, " font-weight=\"bold\" fill=\"" INK "\"", "Falls held of 100, by this model")
  text(330, 30, 8, " fill=\"" GREY "\"", "80 kg each, level firn, no knots, 15, 11, 9 and 9 m apart.")
  for (i = 1; i <= 4; i++) {
    left = 336 + (i - 1) * 64
    for (n = 1; n <= 4; n++) {
      h = held[n, i] * 2
      printf "<rect x=\"%s\" y=\"%s\" width=\"12\" height=\"%s\" fill=\"%s\" stroke=\"%s\" stroke-width=\"1\"/>\n", left + (n - 1) * 14, 262 - h, h, fill[n], LIKELY
      text(left + (n - 1) * 14 + 6, 258 - h, 8, " text-anchor=\"middle\" fill=\"" INK "\"", held[n, i])
    }
    text(left + 27, 276, 8, " text-anchor=\"middle\" fill=\"" GREY "\"", size[i])
  }
  for (n = 1; n <= 4; n++) {
    printf "<rect x=\"336\" y=\"%s\" width=\"8\" height=\"8\" fill=\"%s\" stroke=\"%s\"/>\n", 275 + n * 11, fill[n], LIKELY
    text(350, 282 + n * 11, 8, " fill=\"" INK "\"", name[n])
  }
  text(8, 342, 8, " font-weight=\"bold\" fill=\"" INK "\"", "Estimates for training. No text that we could read says how hard a team brakes: on hard firn even six may not hold.")
  print "</svg>"
}
