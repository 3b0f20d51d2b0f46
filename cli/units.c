// SPDX-License-Identifier: MIT
// How is a number shown? One table says unit and factor; one function says how far it is rounded.
#include "units.h"

#include <math.h>
#include <string.h>

#include "shown.h"
#include "words.h"

typedef struct unit_row {
  const char *metric, *imperial;
  double metric_size, imperial_size;  ///< SI per unit shown
} unit_row;

// Foot, pound and pound-force are exact by definition (international yard and pound agreement, 1959; g = 9.80665 m/s^2).
static const unit_row UNITS[CLI_QUANTITY_COUNT] = {
    [CLI_FORCE] = {"N", "lbf", 1.0, 4.4482216152605},
    [CLI_FORCE_LARGE] = {"kN", "lbf", 1000.0, 4.4482216152605},
    [CLI_LENGTH] = {"m", "ft", 1.0, 0.3048},
    [CLI_LENGTH_FINE] = {"m", "ft", 1.0, 0.3048},
    [CLI_MASS] = {"kg", "lb", 1.0, 0.45359237},
    [CLI_MINUTES] = {"min", "min", 60.0, 60.0},
    [CLI_ADVANTAGE] = {"", "", 1.0, 1.0},
    [CLI_IDEAL] = {"", "", 1.0, 1.0},
    [CLI_MARGIN] = {"", "", 1.0, 1.0},
    [CLI_SHARE] = {"", "", 1.0, 1.0},
};

const char *cli_unit(cli_quantity q, fh_units units) {
  return units == FH_IMPERIAL ? UNITS[q].imperial : UNITS[q].metric;
}

// Toward one side, yet not past what the last bit of a sum can push: 0.3 stays 0.3.
static double down(double value, double step) {
  return floor(value / step + 1e-9) * step;
}

static double up(double value, double step) {
  return ceil(value / step - 1e-9) * step;
}

static void show_force_large(char *to, double value, fhi_side side, fh_units units) {
  if (units == FH_IMPERIAL) {
    (void)fhi_fixed(to, CLI_NUMBER, fhi_coarse(value, side), 0);
  } else {
    (void)fhi_fixed(to, CLI_NUMBER, value, fabs(value) < 9.995 ? 2 : 1);
  }
}

static void show(char *to, double value, cli_quantity q, fhi_side side, fh_units units) {
  bool metric = units == FH_METRIC;
  switch (q) {
    case CLI_FORCE: (void)fhi_fixed(to, CLI_NUMBER, fhi_coarse(value, side), 0); break;
    case CLI_FORCE_LARGE: show_force_large(to, value, side, units); break;
    case CLI_LENGTH: (void)fhi_fixed(to, CLI_NUMBER, value, metric ? 1 : 0); break;
    case CLI_LENGTH_FINE: (void)fhi_fixed(to, CLI_NUMBER, value, metric ? 2 : 1); break;
    case CLI_MASS: (void)fhi_fixed(to, CLI_NUMBER, value, 0); break;
    case CLI_MINUTES: (void)fhi_show_minutes(to, CLI_NUMBER, 60.0 * value); break;
    case CLI_MARGIN: (void)fhi_fixed(to, CLI_NUMBER, down(value, 0.1), 1); break;
    case CLI_SHARE: (void)fhi_fixed(to, CLI_NUMBER, up(value, 0.05), 2); break;
    case CLI_IDEAL: (void)fhi_fixed(to, CLI_NUMBER, value, fabs(value - round(value)) < 0.005 ? 0 : 2); break;
    case CLI_ADVANTAGE:
    case CLI_QUANTITY_COUNT: (void)fhi_fixed(to, CLI_NUMBER, value, 1); break;
  }
}

static const char *value_at(char *to, double value, cli_quantity q, fhi_side side, fh_units units) {
  if (isnan(value)) {
    (void)fhi_copy(to, CLI_NUMBER, "?");
  } else if (isinf(value) || fabs(value) > 1e12) {
    (void)fhi_copy(to, CLI_NUMBER, "-");
  } else {
    show(to, value / (units == FH_IMPERIAL ? UNITS[q].imperial_size : UNITS[q].metric_size), q, side, units);
  }
  return to;
}

const char *cli_value(char *to, double value, cli_quantity q, fh_units units) {
  return value_at(to, value, q, FHI_NEAREST, units);
}

const char *cli_amount(char *to, double value, cli_quantity q, fh_units units) {
  char number[CLI_NUMBER];
  const char *unit = cli_value(number, value, q, units)[0] == '>' ? "" : cli_unit(q, units);
  (void)fhi_format(to, CLI_NUMBER, "%s%s%s", number, unit[0] != '\0' ? " " : "", unit);
  return to;
}

static const char *band_text(char *to, fh_band band, cli_quantity q, fh_units units, fh_language language, const char *unit) {
  char likely[CLI_NUMBER];
  char low[CLI_NUMBER];
  char high[CLI_NUMBER];
  (void)cli_value(likely, band.likely, q, units);
  unit = likely[0] == '>' ? "" : unit;  // "> 3 h" has its own
  const char *gap = unit[0] != '\0' ? " " : "";
  (void)cli_value(low, band.lo, q, units);
  (void)cli_value(high, band.hi, q, units);
  bool same = strcmp(low, high) == 0;  // a range below what is shown at all is none
  (void)value_at(low, band.lo, q, FHI_DOWN, units);
  (void)value_at(high, band.hi, q, FHI_UP, units);
  if (same) {
    (void)fhi_format(to, CLI_NUMBER, "%s%s%s", likely, gap, unit);
  } else {
    (void)fhi_format(to, CLI_NUMBER, "%s%s%s (%s%s%s)", likely, gap, unit, low, fhi_say(language, " to "), high);
  }
  return to;
}

const char *cli_band(char *to, fh_band band, cli_quantity q, fh_units units, fh_language language) {
  return band_text(to, band, q, units, language, cli_unit(q, units));
}

const char *cli_band_value(char *to, fh_band band, cli_quantity q, fh_units units, fh_language language) {
  return band_text(to, band, q, units, language, "");
}
