// SPDX-License-Identifier: MIT
// How far is a number rounded before a person reads it? Card, sheet, figure and terminal ask here; the page rounds by the same rule
// (page/src/units.ts), and a test holds the two together.
#ifndef FHI_SHOWN_H
#define FHI_SHOWN_H

#include <stddef.h>

typedef enum fhi_side { FHI_DOWN, FHI_NEAREST, FHI_UP } fhi_side;

/// Two or three figures are all that friction on snow allows: to 1 below 100, to 5 below 1000, to 10 below 10,000, to 100 above.
/// Ends of a range go outward, so that it never looks narrower than it is. @param force in the unit that is shown  @return so rounded
double fhi_coarse(double force, fhi_side side);

/// A time never looks shorter than it is: up to half a minute, from ten on to a whole one. @param seconds [s] @return [min]
double fhi_minutes(double seconds);

/// "8.5"; past three hours "> 3 h", which takes no unit after it. @param seconds [s] @return to
const char *fhi_show_minutes(char *to, size_t size, double seconds);

/// For a sentence of the core, which speaks in newton: "365". @param force [N] @return to
const char *fhi_show_newton(char *to, size_t size, double force, fhi_side side);

/// Two forces that differ: in newton, and finer where rounding would make them look the same. @param more,less [N] @param to,other `size` bytes each
void fhi_show_compared(char *to, char *other, size_t size, double more, double less);

#endif
