// SPDX-License-Identifier: MIT
// How the search grows with kit and bounds.
#ifndef BENCH_GROWTH_H
#define BENCH_GROWTH_H

/// Searches a row of kits with growing bounds; writes a table (Markdown) and a plot (SVG, time over bound, one line a kit).
/// @return 0, or 1 when a search or a file failed
int bench_growth(const char *markdown, const char *svg);

#endif
