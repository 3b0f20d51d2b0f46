// SPDX-License-Identifier: MIT
// Numbers for people: unit, decimals and rounding by what is measured. Never finer than the figure deserves, and never
// rounded to the comfortable side: margins go down, demands on the crew and times go up.
#ifndef CLI_UNITS_H
#define CLI_UNITS_H

#include "text.h"

typedef enum cli_quantity {
  CLI_FORCE,        ///< [N] N or lbf
  CLI_FORCE_LARGE,  ///< [N] kN or lbf
  CLI_LENGTH,       ///< [m] m or ft
  CLI_LENGTH_FINE,  ///< [m] to the centimetre, or a tenth of a foot
  CLI_MASS,         ///< [kg] kg or lb
  CLI_MINUTES,      ///< [s] in minutes, rounded up
  CLI_ADVANTAGE,    ///< [1] to a tenth
  CLI_IDEAL,        ///< [1] ideal advantage: a whole number stays one
  CLI_MARGIN,       ///< [1] rounded down
  CLI_SHARE,        ///< [1] rounded up
  CLI_QUANTITY_COUNT,
} cli_quantity;

enum { CLI_NUMBER = 96 };  ///< room for one number or range with its unit

const char *cli_unit(cli_quantity q, fh_units units);  ///< @return "N", "lbf", ..., or ""
/// Without its unit. Not known: "?"; without bound: "-". @param to CLI_NUMBER bytes  @return to
const char *cli_value(char *to, double value, cli_quantity q, fh_units units);
/// With its unit: "250 N". @param to CLI_NUMBER bytes  @return to
const char *cli_amount(char *to, double value, cli_quantity q, fh_units units);
/// Likely value and range: "250 N (210 to 310)", or "250 N" when both ends show the same. @param to CLI_NUMBER bytes  @return to
const char *cli_band(char *to, fh_band band, cli_quantity q, fh_units units, fh_language language);
/// The same without the unit, for a column. @param to CLI_NUMBER bytes  @return to
const char *cli_band_value(char *to, fh_band band, cli_quantity q, fh_units units, fh_language language);

#endif
