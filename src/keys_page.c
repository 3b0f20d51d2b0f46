// SPDX-License-Identifier: MIT
// What may a scene say, for people? The table as a docs page in Markdown.
#include <string.h>

#include "keys.h"
#include "report.h"
#include "text.h"

static const char INTRO[] =
    "# Scene files\n"
    "\n"
    "A scene is one YAML document; JSON is YAML, so a JSON file works the same. UTF-8, at most 1 MiB. Keys end in "
    "their unit.\n"
    "Anything that this page does not list is an error that says where it stands and what is accepted: nothing is "
    "guessed.\n"
    "\n"
    "This page is made from the program's own table (`firnhaul keys --markdown`), and `scene.schema.json` beside it "
    "too.\n"
    "\n"
    "Any *number* may be written in four ways: `92` is exact; `[85, 100]` is a range, all of it as likely;\n"
    "`{low: 80, likely: 92, high: 110}` is a triangle; `{mean: 92, sd: 6}` is a normal distribution, cut at the "
    "accepted range.\n"
    "A *plain* number is exact. An *item* is a name of the catalogue (`firnhaul gear`). A default in round brackets is "
    "in words.\n"
    "\n"
    "Distances on the ground count back from the lip along the line of the haul. Defaults are wide on purpose: measure "
    "what you can.\n";

static const char RIG_NOTES[] = "\n"
                                "How a rig is written:\n"
                                "\n"
                                "* A rope's path lists its stations from its first end to its last. It starts with "
                                "`tie` or `loose` and ends with `tie`, `hand` or\n"
                                "  `loose`. Between the hole and the surface stands `{edge: lip}`.\n"
                                "* Bodies are `load`, `station`, `anchor` and the ones that grips make.\n"
                                "* A grip holds the strand between the station `after` (counted from 0) and the next "
                                "one. On `station` or `anchor` it is a tended\n"
                                "  capture: open while raising, locked while holding.\n"
                                "* One rope of the rig ends in the hand of the crew.\n";

static void put_range_cell(fhi_writer *w, const fh_key *key, fhi_form form) {
  char lo[32], hi[32];
  switch (form) {
  case FHI_FORM_NUMBER:
  case FHI_FORM_PLAIN:
  case FHI_FORM_RANGE:
  case FHI_FORM_INTEGER:
    fhi_putf(w, "%s to %s", fhi_shortest(lo, sizeof lo, key->lo), fhi_shortest(hi, sizeof hi, key->hi));
    break;
  case FHI_FORM_TEXT:
  case FHI_FORM_NAME: fhi_putf(w, "%d to %d bytes", (int)key->lo, (int)key->hi); break;
  case FHI_FORM_LIST: fhi_putf(w, "%d to %d entries", (int)key->lo, (int)key->hi); break;
  case FHI_FORM_CHOICE:
    for (const char *p = key->choices; *p != '\0'; p++) {
      fhi_put_bytes(w, *p == '|' ? ", " : p, *p == '|' ? 2 : 1);
    }
    break;
  case FHI_FORM_FLAG: fhi_put(w, "true, false"); break;
  case FHI_FORM_ITEM:
    for (unsigned c = 0, said = 0; c <= FH_ITEM_OTHER; c++) {
      if ((key->classes >> c & 1u) != 0) {
        fhi_putf(w, "%s%s", said++ == 0 ? "" : ", ", fhi_class_name((fh_item_class)c));
      }
    }
    break;
  case FHI_FORM_MAP: break;
  }
}

static void put_line(fhi_writer *w, int row) {
  const fh_key *key = &fh_key_list(NULL)[row];
  bool bare = key->unit[0] == '\0' || strcmp(key->unit, "1") == 0;
  bool words = key->fallback[0] == '(' || key->fallback[0] == '\0';
  const char *mark = key->required ? "**" : words ? "" : "`";
  fhi_putf(w, "| `%s` | %s%s%s | ", key->path, key->type, bare ? "" : ", ", bare ? "" : key->unit);
  put_range_cell(w, key, fhi_key_bind(row)->form);
  fhi_putf(w, " | %s%s%s | %s |\n", mark, key->required ? "required" : key->fallback, mark, key->help);
}

static bool top_level(const fh_key *key) {
  return strchr(key->path, '.') == NULL;
}

static bool has_children(int row) {
  fhi_form form = fhi_key_bind(row)->form;
  return form == FHI_FORM_MAP || form == FHI_FORM_LIST;
}

static void put_heading(fhi_writer *w, const char *heading) {
  fhi_putf(w, "\n## %s\n\n| key | type, unit | accepted | default | meaning |\n|---|---|---|---|---|\n", heading);
}

fh_status fh_keys_write_markdown(fh_out out) {
  fhi_writer w;
  int count = 0;
  const fh_key *keys = fh_key_list(&count);
  if (out.write == NULL) {
    return FH_ERR_ARG;
  }
  fhi_writer_start(&w, out);
  fhi_put(&w, INTRO);
  put_heading(&w, "The scene");
  for (int row = 0; row < count; row++) {
    if (top_level(&keys[row])) {
      put_line(&w, row);
    }
  }
  for (int row = 0; row < count; row++) {
    if (top_level(&keys[row]) && has_children(row)) {
      char name[FH_NAME];
      fhi_key_name(row, name, sizeof name);
      put_heading(&w, name);
    } else if (!top_level(&keys[row])) {
      put_line(&w, row);
    }
    bool last_of_rig =
        strncmp(keys[row].path, "rig.", 4) == 0 && (row + 1 == count || strncmp(keys[row + 1].path, "rig.", 4) != 0);
    if (last_of_rig) {
      fhi_put(&w, RIG_NOTES);
    }
  }
  return fhi_writer_end(&w);
}
