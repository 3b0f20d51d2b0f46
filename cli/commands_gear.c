// SPDX-License-Identifier: MIT
// firnhaul gear: the catalogue. Every figure with its range, its unit, what it rests on, and its source.
#include "commands.h"

#include <math.h>
#include <string.h>

#include "json.h"
#include "report.h"
#include "table.h"
#include "units.h"

typedef struct shelf {
  const cli_options *o;
  const fh_gear *gear;
  int first, last;  // the items to show
} shelf;

// Catalogue figures are shown to four figures, in other units than their own to three.
static const char *number_text(char *to, double value, double size) {
  double shown = value / size;
  if (shown != 0.0 && isfinite(shown)) {
    double scale = pow(10.0, (size == 1.0 ? 3.0 : 2.0) - floor(log10(fabs(shown))));
    shown = round(shown * scale) / scale;
  }
  return fhi_shortest(to, CLI_NUMBER, shown);
}

// The unit to show a figure in, and how much of SI one of it is.
static const char *shown_unit(const char *unit, fh_units units, double *size) {
  static const struct {
    const char *metric, *imperial;
    double size;
  } rows[] = {{"N", "lbf", 4.4482216152605}, {"m", "ft", 0.3048}, {"kg", "lb", 0.45359237}, {"m/s", "ft/s", 0.3048}, {"kg/m", "lb/ft", 1.4881639}};
  *size = 1.0;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    if (units == FH_IMPERIAL && strcmp(unit, rows[i].metric) == 0) {
      *size = rows[i].size;
      return rows[i].imperial;
    }
  }
  return strcmp(unit, "1") == 0 ? "" : unit;
}

// "strength_N" is called "strength" here: its unit has a column.
static void figure_name(char *to, size_t size, const fh_figure *figure) {
  (void)fhi_copy(to, size, figure->what);
  size_t n = strlen(to);
  size_t u = strlen(figure->unit);
  if (n > u + 1 && to[n - u - 1] == '_' && strcmp(to + n - u, figure->unit) == 0) {
    to[n - u - 1] = '\0';
  }
  for (char *c = to; *c != '\0'; c++) {
    *c = *c == '_' ? ' ' : *c;
  }
}

static void value_text(char *to, size_t size, const fh_figure *figure, fh_units units) {
  fh_band band = fh_number_band(figure->value);
  double si;
  char lo[CLI_NUMBER];
  char likely[CLI_NUMBER];
  char hi[CLI_NUMBER];
  (void)shown_unit(figure->unit, units, &si);
  (void)number_text(lo, band.lo, si);
  (void)number_text(likely, band.likely, si);
  (void)number_text(hi, band.hi, si);
  if (band.lo == band.hi) {
    (void)fhi_copy(to, size, likely);
  } else {
    (void)fhi_format(to, size, "%s (%s to %s)", likely, lo, hi);
  }
}

static const char *source_text(const fh_figure *figure) {
  if (figure->ref != NULL && figure->ref[0] != '\0') {
    return figure->ref;
  }
  return figure->basis == FH_BASIS_MEMORY ? "from memory" : figure->basis == FH_BASIS_OWN ? "own" : "no source";
}

static const char *class_heading(fh_item_class item_class) {
  switch (item_class) {
    case FH_ITEM_BAR: return "Bars: a rope runs over them";
    case FH_ITEM_SHEAVE: return "Sheaves: a rope runs over them";
    case FH_ITEM_CAPTURE: return "Captures: sheaves that hold the rope one way";
    case FH_ITEM_HITCH: return "Hitches and clamps: they grip a rope";
    case FH_ITEM_SURFACE: return "Edges: what the lip is made of";
    case FH_ITEM_ROPE: return "Ropes";
    case FH_ITEM_POSTURE: return "Postures: how a person pulls";
    case FH_ITEM_ANCHOR: return "Anchors";
    case FH_ITEM_OTHER: return "Other";
  }
  return "Other";
}

static void add_item(cli_table *t, const fh_item *item, fh_units units) {
  for (int i = 0; i < item->figure_count; i++) {
    const fh_figure *figure = &item->figures[i];
    char name[64];
    char value[200];
    double si;
    figure_name(name, sizeof name, figure);
    value_text(value, sizeof value, figure, units);
    cli_table_add(t, CLI_PLAIN, (const char *const[6]){i == 0 ? item->name : "", name, value, shown_unit(figure->unit, units, &si),
                                                       fhi_basis_name(figure->basis), source_text(figure)});
  }
  if (item->figure_count == 0) {
    cli_table_add(t, CLI_PLAIN, (const char *const[6]){item->name, "", "", "", "", ""});
  }
}

// All items of one class in one table. @return the first item of the next class
static int show_class(const shelf *sh, cli_screen *s, int first, fh_status *status) {
  static const cli_column columns[] = {{"item", false, 10}, {"figure", false, 8}, {"likely (range)", false, 10},
                                       {"unit", false, 0}, {"basis", false, 0}, {"source", false, 9}};
  fh_item_class item_class = fh_gear_item(sh->gear, first)->item_class;
  cli_table *t = cli_table_create(columns, 6);
  if (t == NULL) {
    *status = FH_ERR_MEMORY;
    return sh->last + 1;
  }
  int next = first;
  for (; next <= sh->last && fh_gear_item(sh->gear, next)->item_class == item_class; next++) {
    add_item(t, fh_gear_item(sh->gear, next), cli_options_units(sh->o));
  }
  cli_put_heading(s, class_heading(item_class));
  *status = cli_table_write(t, s);
  cli_put(s, "\n");
  cli_table_destroy(t);
  return next;
}

static fh_status show_all(void *context, cli_screen *s) {
  const shelf *sh = context;
  fh_status status = FH_OK;
  for (int next = sh->first; next <= sh->last && status == FH_OK;) {
    next = show_class(sh, s, next, &status);
  }
  cli_put_wrapped(s, CLI_PLAIN, "",
                  "Basis: published, standard (a limit that the standard demands), practice (common practice, no source), memory (written from "
                  "memory of the source), own (your gear file). firnhaul gear ITEM tells each source in full.");
  return status;
}

static void show_reference(cli_screen *s, const fh_reference *reference) {
  char text[800];
  if (reference != NULL) {
    (void)fhi_format(text, sizeof text, "%s. Read: %s.", reference->text, reference->read);
    cli_put_wrapped(s, CLI_PLAIN, "      ", text);
  }
}

static void show_figure(cli_screen *s, const fh_figure *figure, fh_units units) {
  char name[64];
  char value[200];
  char line[512];
  double si;
  figure_name(name, sizeof name, figure);
  value_text(value, sizeof value, figure, units);
  const char *unit = shown_unit(figure->unit, units, &si);
  (void)fhi_format(line, sizeof line, "%s: %s%s%s", name, value, unit[0] != '\0' ? " " : "", unit);
  cli_put_wrapped(s, CLI_BOLD, "  ", line);
  bool said = strncmp(figure->note, "common practice, no source", 26) == 0;
  const char *basis = said ? "" : fhi_basis_name(figure->basis);
  bool sourced = figure->ref != NULL && figure->ref[0] != '\0';
  (void)fhi_format(line, sizeof line, "%s%s%s%s%s", basis, sourced ? ", " : "", sourced ? figure->ref : "",
                   figure->note[0] != '\0' && !said ? ": " : "", figure->note);
  cli_put_wrapped(s, CLI_PLAIN, "    ", line);
  show_reference(s, fh_reference_find(figure->ref != NULL ? figure->ref : ""));
}

static fh_status show_one(void *context, cli_screen *s) {
  const shelf *sh = context;
  const fh_item *item = fh_gear_item(sh->gear, sh->first);
  char line[400];
  (void)fhi_format(line, sizeof line, "%s: %s", item->name, item->about);
  cli_put_heading(s, line);
  (void)fhi_format(line, sizeof line, "%s. Standard: %s.", class_heading(item->item_class), item->standard[0] != '\0' ? item->standard : "none");
  cli_put_wrapped(s, CLI_PLAIN, "", line);
  cli_put(s, "\n");
  for (int i = 0; i < item->figure_count; i++) {
    show_figure(s, &item->figures[i], cli_options_units(sh->o));
  }
  return FH_OK;
}

// ---------------------------------------------------------------------------------------------------- for machines

static void write_json_figure(fhi_json *j, const fh_figure *figure) {
  const fh_reference *reference = fh_reference_find(figure->ref != NULL ? figure->ref : "");
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "what", figure->what);
  fhi_json_text(j, "unit", figure->unit);
  fhi_json_band(j, "value", fh_number_band(figure->value));
  fhi_json_text(j, "basis", fhi_basis_name(figure->basis));
  fhi_json_text(j, "source", figure->ref != NULL ? figure->ref : "");
  fhi_json_text(j, "source_text", reference != NULL ? reference->text : "");
  fhi_json_text(j, "read", reference != NULL ? reference->read : "");
  fhi_json_text(j, "note", figure->note);
  fhi_json_close(j, '}');
}

static fh_status write_json(void *context, fh_out out) {
  const shelf *sh = context;
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {&w, 0, true};
  fhi_json_open(&j, NULL, '{');
  fhi_json_text(&j, "firnhaul", FH_VERSION);
  fhi_json_open(&j, "items", '[');
  for (int i = sh->first; i <= sh->last; i++) {
    const fh_item *item = fh_gear_item(sh->gear, i);
    fhi_json_open(&j, NULL, '{');
    fhi_json_text(&j, "name", item->name);
    fhi_json_text(&j, "class", fhi_class_name(item->item_class));
    fhi_json_text(&j, "about", item->about);
    fhi_json_text(&j, "standard", item->standard);
    fhi_json_open(&j, "figures", '[');
    for (int k = 0; k < item->figure_count; k++) {
      write_json_figure(&j, &item->figures[k]);
    }
    fhi_json_close(&j, ']');
    fhi_json_close(&j, '}');
  }
  fhi_json_close(&j, ']');
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

static fh_status write_csv(void *context, fh_out out) {
  const shelf *sh = context;
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_put(&w, "item,class,figure,unit,low,likely,high,basis,source,note\r\n");
  for (int i = sh->first; i <= sh->last; i++) {
    const fh_item *item = fh_gear_item(sh->gear, i);
    for (int k = 0; k < item->figure_count; k++) {
      const fh_figure *figure = &item->figures[k];
      const char *const head[] = {item->name, fhi_class_name(item->item_class), figure->what, figure->unit};
      for (int c = 0; c < 4; c++) {
        fhi_csv_text(&w, head[c]);
        fhi_put(&w, ",");
      }
      fhi_csv_band(&w, fh_number_band(figure->value));
      fhi_putf(&w, ",%s,", fhi_basis_name(figure->basis));
      fhi_csv_text(&w, figure->ref != NULL ? figure->ref : "");
      fhi_put(&w, ",");
      fhi_csv_text(&w, figure->note);
      fhi_put(&w, "\r\n");
    }
  }
  return fhi_writer_end(&w);
}

static int refuse_item(const char *name) {
  char shown[120];
  char message[300];
  (void)fhi_format(message, sizeof message, "no item '%s'; accepted: a name that firnhaul gear lists", cli_text_clean(shown, sizeof shown, name));
  return cli_refuse(message);
}

static int write_shelf(const cli_options *o, shelf *sh) {
  if (o->given[CLI_JSON]) {
    return cli_write_main(o, write_json, sh);
  }
  if (o->given[CLI_CSV]) {
    return cli_write_main(o, write_csv, sh);
  }
  return cli_show_main(o, o->operand != NULL ? show_one : show_all, sh);
}

int cli_run_gear(const cli_options *o) {
  fh_gear *gear = NULL;
  int status = cli_outputs_agree(o);
  if (status == CLI_DONE) {
    status = cli_gear_open(o, &gear);
  }
  if (status != CLI_DONE) {
    return status;
  }
  shelf sh = {o, gear, 0, fh_gear_count(gear) - 1};
  if (o->operand != NULL) {
    sh.first = sh.last = fh_gear_find(gear, o->operand);
  }
  status = sh.first < 0 ? refuse_item(o->operand) : write_shelf(o, &sh);
  fh_gear_destroy(gear);
  return status;
}
