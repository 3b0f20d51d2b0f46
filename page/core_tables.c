// SPDX-License-Identifier: MIT
// The core's own tables as JSON: every key of a scene with its limits, default and help, and every item of the catalogue.
// The page makes its form from these, so that nothing is written twice.
#include <string.h>

#include "core.h"

fh_status page_write_keys(fh_out out) {
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  int count = 0;
  const fh_key *keys = fh_key_list(&count);
  fhi_json_open(&j, NULL, '[');
  for (int i = 0; i < count; i++) {
    const fh_key *key = &keys[i];
    fhi_json_open(&j, NULL, '{');
    fhi_json_text(&j, "path", key->path);
    fhi_json_text(&j, "type", key->type);
    fhi_json_text(&j, "unit", key->unit);
    fhi_json_number(&j, "lo", key->lo);
    fhi_json_number(&j, "hi", key->hi);
    fhi_json_text(&j, "fallback", key->fallback);
    fhi_json_text(&j, "choices", key->choices);
    fhi_json_text(&j, "help", key->help);
    fhi_json_flag(&j, "required", key->required);
    fhi_json_integer(&j, "classes", (long long)key->classes);
    fhi_json_close(&j, '}');
  }
  fhi_json_close(&j, ']');
  return fhi_writer_end(&w);
}

fh_status page_write_sources(fh_out out) {
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  int count = 0;
  const fh_reference *all = fh_reference_list(&count);
  fhi_json_open(&j, NULL, '{');
  for (int i = 0; i < count; i++) {
    fhi_json_text(&j, all[i].key, all[i].text);
  }
  fhi_json_close(&j, '}');
  return fhi_writer_end(&w);
}

static void write_item(fhi_json *j, const fh_item *item) {
  fhi_json_open(j, NULL, '{');
  fhi_json_text(j, "name", item->name);
  fhi_json_integer(j, "class", (long long)item->item_class);
  fhi_json_text(j, "about", item->about);
  fhi_json_text(j, "standard", item->standard);
  fhi_json_open(j, "figures", '{');
  for (int i = 0; i < item->figure_count; i++) {
    const fh_figure *figure = &item->figures[i];
    if (strcmp(figure->what, "efficiency") == 0 || strcmp(figure->what, "friction") == 0 || strcmp(figure->what, "fall_modulus_N") == 0) {
      fhi_json_band(j, figure->what, fh_number_band(figure->value));
    }
  }
  fhi_json_close(j, '}');
  fhi_json_close(j, '}');
}

fh_status page_write_gear(page_state *p, fh_out out) {
  if (p->gear == NULL) {
    fh_status made = fh_gear_create(&p->gear);
    if (made != FH_OK) {
      return made;
    }
  }
  fhi_writer w;
  fhi_writer_start(&w, out);
  fhi_json j = {.w = &w, .depth = 0, .first = true};
  fhi_json_open(&j, NULL, '[');
  for (int i = 0; i < fh_gear_count(p->gear); i++) {
    write_item(&j, fh_gear_item(p->gear, i));
  }
  fhi_json_close(&j, ']');
  return fhi_writer_end(&w);
}
