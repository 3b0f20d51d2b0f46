// SPDX-License-Identifier: MIT
// The build sheet: nothing leaves its page or lies on anything else, no step is missing, none is told twice, an unsafe rig
// gets no sheet, and what is said of the person hanging is what was published.
#define _POSIX_C_SOURCE 200809L  // glob
#include "fh_test.h"

#include <ctype.h>
#include <glob.h>

#include "firnhaul_rescue.h"
#include "memory.h"
#include "scene_text.h"
#include "sheet.h"
#include "sheet_svg.h"
#include "words.h"

typedef struct sheet_case {
  scene_text t;
  fh_sheet *sheet;
} sheet_case;

static char *slurp(const char *path) {
  fh_test_text text = {0};
  char part[4096];
  FILE *file = fopen(path, "rb");
  assert_non_null(file);
  for (size_t n = fread(part, 1, sizeof part, file); n > 0; n = fread(part, 1, sizeof part, file)) {
    assert_int_equal(fh_test_collect(&text, part, n), 0);
  }
  (void)fclose(file);
  return text.bytes;
}

static void open_file(sheet_case *c, const char *path, fh_paper paper, fh_units units) {
  char *yaml = slurp(path);
  *c = (sheet_case){.t = scene_read(yaml)};
  free(yaml);
  assert_true(c->t.scene->has_rig);
  assert_status(fh_sheet_create(c->t.scene, c->t.gear, &c->t.scene->rig, NULL, paper, units, &c->sheet), FH_OK);
}

static void open_yaml(sheet_case *c, const char *yaml) {
  *c = (sheet_case){.t = scene_read(yaml)};
  assert_status(fh_sheet_create(c->t.scene, c->t.gear, &c->t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &c->sheet), FH_OK);
}

static void close_sheet(sheet_case *c) {
  fh_sheet_destroy(c->sheet);
  scene_done(&c->t);
}

static char *page_of(const fh_sheet *sheet, int page) {
  fh_test_text text = {0};
  assert_status(fh_sheet_write_page(sheet, page, (fh_out){fh_test_collect, &text}), FH_OK);
  return text.bytes;
}

static char *text_of(const fh_sheet *sheet) {
  fh_test_text text = {0};
  assert_status(fh_sheet_write_text(sheet, (fh_out){fh_test_collect, &text}), FH_OK);
  return text.bytes;
}

static char *html_of(const fh_sheet *sheet) {
  fh_test_text text = {0};
  assert_status(fh_sheet_write_html(sheet, (fh_out){fh_test_collect, &text}), FH_OK);
  return text.bytes;
}

typedef void (*path_fn)(const char *path);

static void for_every_example(path_fn fn) {
  static const char *const WHERE[] = {"examples/*.yaml", "examples/rigs/*.yaml"};
  int seen = 0;
  for (int i = 0; i < 2; i++) {
    glob_t found;
    assert_int_equal(glob(WHERE[i], 0, NULL, &found), 0);
    for (size_t k = 0; k < found.gl_pathc; k++) {
      char *yaml = slurp(found.gl_pathv[k]);
      bool has_rig = strstr(yaml, "\nrig:") != NULL;  // some show a team on its feet
      free(yaml);
      if (has_rig) {
        fn(found.gl_pathv[k]);
        seen++;
      }
    }
    globfree(&found);
  }
  assert_true(seen >= 18);
}

// ---------------------------------------------------------------------------------------------------- pages

// A number stands at the end of one line and its unit begins the next.
static bool is_torn(const svg_page *page, int line) {
  char both[sizeof page->texts[0].text * 2];
  size_t end = line > 0 ? strlen(page->texts[line - 1].text) : 0;
  (void)snprintf(both, sizeof both, "%s %s", line > 0 ? page->texts[line - 1].text : "", page->texts[line].text);
  return end > 0 && fhi_is_tied(both, both + end);
}

static void look_at_pages(const char *path, fh_paper paper, fh_units units) {
  sheet_case c;
  open_file(&c, path, paper, units);
  if (!fh_sheet_refused(c.sheet)) {
    for (int i = 0; i < fh_sheet_page_count(c.sheet); i++) {
      char *svg = page_of(c.sheet, i);
      svg_page page;
      assert_null(svg_fault(svg));
      sheet_read(svg, &page);
      assert_near(page.width, paper == FH_PAPER_A6 ? 298.0 : 595.0, 0.0);
      assert_near(page.height, paper == FH_PAPER_A6 ? 420.0 : 842.0, 0.0);
      if (!svg_is_clear(&page, path)) {
        fail_msg("%s: page %d, %s", path, i + 1, paper == FH_PAPER_A6 ? "A6" : "A4");
      }
      assert_int_equal(svg_count(&page, "Training aid."), 1);
      for (int k = 0; k < page.count; k++) {
        assert_true(page.texts[k].size >= (paper == FH_PAPER_A6 ? 7.0 : 9.0) - 1e-9);
        assert_false(is_torn(&page, k));
      }
      svg_free(&page);
      free(svg);
    }
  }
  close_sheet(&c);
}

static void look_at_both_papers(const char *path) {
  look_at_pages(path, FH_PAPER_A6, FH_METRIC);
  look_at_pages(path, FH_PAPER_A4, FH_METRIC);
  look_at_pages(path, FH_PAPER_A6, FH_IMPERIAL);
}

static void no_text_of_any_example_leaves_its_page_or_lies_on_another(void **state) {
  (void)state;
  for_every_example(look_at_both_papers);
}

// ISO 216: A6 is 105 by 148 mm, A4 is 210 by 297 mm.
static void pages_have_the_size_of_iso_216(void **state) {
  (void)state;
  static const double MM[][2] = {{105.0, 148.0}, {210.0, 297.0}};
  for (int p = 0; p < 2; p++) {
    sheet_case c;
    double width = 0.0;
    double height = 0.0;
    open_file(&c, "examples/rigs/six.yaml", p == 0 ? FH_PAPER_A6 : FH_PAPER_A4, FH_METRIC);
    fh_sheet_size(c.sheet, &width, &height);
    assert_near(width * 25.4 / 72.0, MM[p][0], 1e-9);
    assert_near(height * 25.4 / 72.0, MM[p][1], 1e-9);
    close_sheet(&c);
  }
}

static int pages_of(const char *path, fh_paper paper) {
  sheet_case c;
  open_file(&c, path, paper, FH_METRIC);
  int pages = fh_sheet_page_count(c.sheet);
  close_sheet(&c);
  return pages;
}

// The heading with the comma of the language in its numbers. @return to
static const char *drawn_as(char *to, const char *heading, fh_language language) {
  size_t n = strlen(heading);
  for (size_t i = 0; i <= n; i++) {
    bool within = i > 0 && i + 1 < n && isdigit((unsigned char)heading[i - 1]) && isdigit((unsigned char)heading[i + 1]);
    to[i] = heading[i] == '.' && within && language != FH_ENGLISH ? ',' : heading[i];
  }
  return to;
}

// All of it on one page: what it gains, a dozen actions, the cautions, the person, within the page's frame.
static void look_at_card(const char *path) {
  for (int l = 0; l < FH_LANGUAGES; l++) {
    char *yaml = slurp(path);
    sheet_case c = {.t = scene_read(yaml)};
    free(yaml);
    c.t.scene->language = (fh_language)l;
    assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A4, FH_METRIC, &c.sheet), FH_OK);
    if (!fh_sheet_refused(c.sheet)) {
      const fhi_sheet_block *card = &c.sheet->blocks[0];
      char *svg = page_of(c.sheet, 0);
      svg_page page;
      int actions = 0;
      int facts = 0;
      int shown = 0;
      assert_true(card->card);
      for (int i = 0; i < card->count; i++) {
        actions += card->words[i].voice == FHI_VOICE_ACTION ? 1 : 0;
        facts += card->words[i].voice == FHI_VOICE_FACT ? 1 : 0;
      }
      if (actions < 8 || actions > 12 || facts < 5) {
        fail_msg("%s: %d actions, %d facts", path, actions, facts);
      }
      sheet_read(svg, &page);
      for (int k = 0; k < page.count; k++) {
        bool caution = page.texts[k].y1 > fhi_sheet_paper_of(c.sheet)->bottom;
        shown += caution ? 0 : 1;
        if (!caution && page.texts[k].y2 > fhi_sheet_paper_of(c.sheet)->bottom + 3.0) {
          fail_msg("%s, %s: the card does not fit its page", path, fh_language_code((fh_language)l));
        }
      }
      assert_true(shown > 40);
      char heading[sizeof card->heading];
      assert_int_equal(svg_count(&page, drawn_as(heading, card->heading, (fh_language)l)), 1);
      svg_free(&page);
      free(svg);
    }
    close_sheet(&c);
  }
}

static void the_card_has_all_of_it_on_one_page(void **state) {
  (void)state;
  for_every_example(look_at_card);
}

// The same surface is not drawn twice on paper.
static void no_figure_is_printed_twice(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/two-person.yaml", FH_PAPER_A4, FH_METRIC);
  int shown = 0;
  int hidden = 0;
  for (int a = 0; a < c.sheet->count; a++) {
    const fhi_sheet_block *x = &c.sheet->blocks[a];
    shown += x->show_wide ? 1 : 0;
    hidden += !x->show_wide && x->wide.text != NULL ? 1 : 0;
    for (int b = 0; b < a && x->show_wide; b++) {
      const fhi_sheet_block *y = &c.sheet->blocks[b];
      assert_false(y->show_wide && x->wide.used == y->wide.used && memcmp(x->wide.text, y->wide.text, x->wide.used) == 0);
    }
  }
  assert_true(shown >= 6 && hidden >= 2);
  close_sheet(&c);
}

static void two_columns_of_double_height_need_a_quarter_of_the_pages_at_best(void **state) {
  (void)state;
  int small = pages_of("examples/rigs/six.yaml", FH_PAPER_A6);
  int large = pages_of("examples/rigs/six.yaml", FH_PAPER_A4);
  assert_true(4 * large >= small && large < small);
}

// ---------------------------------------------------------------------------------------------------- steps

// Reads "Step 7: ..." and "Steps 12 to 20: ..." in the order in which they stand. @return the last number
static int count_through(const char *text) {
  int last = 0;
  for (const char *at = text; at != NULL; at = strchr(at, '\n'), at = at != NULL ? at + 1 : NULL) {
    int from = 0;
    int to = 0;
    if (sscanf(at, "Steps %d to %d:", &from, &to) == 2) {
      assert_int_equal(from, last + 1);
      assert_true(to > from);
      last = to;
    } else if (sscanf(at, "Step %d:", &from) == 1) {
      assert_int_equal(from, last + 1);
      last = from;
    }
  }
  return last;
}

static void look_for_steps(const char *path) {
  sheet_case c;
  open_file(&c, path, FH_PAPER_A6, FH_METRIC);
  if (!fh_sheet_refused(c.sheet)) {
    char *text = text_of(c.sheet);
    const fh_stages *stages = fh_sheet_stages(c.sheet);
    assert_true(stages->count >= 8);
    assert_int_equal(count_through(text), stages->stages[stages->count - 1].step);
    free(text);
  }
  close_sheet(&c);
}

static void steps_are_told_in_order_and_none_is_missing(void **state) {
  (void)state;
  for_every_example(look_for_steps);
}

// Every piece that the rig is made of is named on the sheet, in a step that puts it in place.
static void look_for_pieces(const char *path) {
  sheet_case c;
  open_file(&c, path, FH_PAPER_A6, FH_METRIC);
  const fh_rig *rig = &c.t.scene->rig;
  char *text = fh_sheet_refused(c.sheet) ? NULL : text_of(c.sheet);
  for (int i = 0; text != NULL && i < rig->station_count; i++) {
    if (rig->stations[i].kind == FH_RUN) {
      assert_non_null(strstr(text, fhi_item_said(c.t.scene->language, c.t.gear, rig->stations[i].item)));
      assert_non_null(strstr(text, rig->bodies[rig->stations[i].body]));
    }
  }
  for (int g = 0; text != NULL && g < rig->grip_count; g++) {
    assert_non_null(strstr(text, fhi_item_said(c.t.scene->language, c.t.gear, rig->grips[g].item)));
  }
  free(text);
  close_sheet(&c);
}

static void every_piece_of_every_example_is_named(void **state) {
  (void)state;
  for_every_example(look_for_pieces);
}

// Whoever lost the thread finds the rope's whole way at the first pull.
static void the_way_of_the_rope_is_told_to_its_end(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  char *text = text_of(c.sheet);
  assert_non_null(strstr(text, "Now: main runs: knot on load \xE2\x80\x93 lip \xE2\x80\x93 knot on anchor \xE2\x80\x93 lip \xE2\x80\x93 pulley on load "
                               "\xE2\x80\x93 lip \xE2\x80\x93 toothed capture on station \xE2\x80\x93 pulley on tractor \xE2\x80\x93 hand "
                               "(station: pulleys at the anchor; tractor: moving pulley)"));
  assert_non_null(strstr(text, "[ ] a cord for the friction hitch that takes the load off the harness and holds it while you build"));
  free(text);
  close_sheet(&c);
}

// A step that puts something in place has a figure, and every stage's list of checks and holds is there word for word.
static void each_step_has_figures_checks_and_what_holds_the_load(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  const fh_stages *stages = fh_sheet_stages(c.sheet);
  int steps = 0;
  for (int b = 0; b < c.sheet->count; b++) {
    const fhi_sheet_block *block = &c.sheet->blocks[b];
    if (block->step == 0) {
      continue;
    }
    const fh_stage *stage = &stages->stages[block->step - 1];
    assert_int_equal(stage->step, block->step);
    steps++;
    if (stage->kind == FH_STAGE_AWAY) {
      continue;
    }
    assert_non_null(block->side.text);
    assert_non_null(block->wide.text);
    assert_true(block->side.width > 50.0 && block->wide.width > 250.0);
    bool does = false;
    bool holds = false;
    int ticks = 0;
    for (int i = 0; i < block->count; i++) {
      does = does || strcmp(block->words[i].text, stage->text) == 0;
      holds = holds || (stage->held[0] != '\0' && strstr(block->words[i].text, stage->held) != NULL);
      ticks += block->words[i].voice == FHI_VOICE_ITEM ? 1 : 0;
    }
    assert_true(does && holds && ticks >= 2);
  }
  assert_true(steps >= 11);
  close_sheet(&c);
}

static char *figure_text(const fhi_sheet_figure *figure) {
  char *text = calloc(figure->used + 1, 1);
  assert_non_null(text);
  if (figure->used > 0) {
    memcpy(text, figure->text, figure->used);
  }
  return text;
}

// In the finished rig's figure of hauling the pull stands as check has it.
static void the_figure_of_hauling_shows_the_forces(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  fh_check *check = NULL;
  fh_check_opts opts = fh_check_opts_default();
  assert_status(fh_check_create(c.t.scene, c.t.gear, &c.t.scene->rig, &opts, &check), FH_OK);
  char force[FHI_WORD];
  char pull[FHI_WORD + 8];
  (void)snprintf(pull, sizeof pull, "pull %s", fhi_show_force(force, sizeof force, check->hand_force, FH_METRIC, FH_ENGLISH));
  int shown = 0;
  int printed = 0;
  for (int b = 0; b < c.sheet->count; b++) {
    char *wide = figure_text(&c.sheet->blocks[b].wide);
    shown += strstr(wide, pull) != NULL ? 1 : 0;
    printed += strstr(wide, pull) != NULL && c.sheet->blocks[b].show_wide ? 1 : 0;
    free(wide);
  }
  assert_int_equal(shown, 2);  // on the card, and in the step of hauling
  assert_int_equal(printed, 1);
  fh_check_destroy(check);
  close_sheet(&c);
}

// What is new is ringed in its step: on the surface, or at the load.
static void the_new_piece_is_ringed(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  const fh_stages *stages = fh_sheet_stages(c.sheet);
  int ringed = 0;
  for (int b = 0; b < c.sheet->count; b++) {
    const fhi_sheet_block *block = &c.sheet->blocks[b];
    if (block->step == 0 || block->wide.text == NULL) {
      continue;
    }
    const fh_stage *stage = &stages->stages[block->step - 1];
    bool fresh = stage->station >= 0 || stage->grip >= 0;
    char *wide = figure_text(&block->wide);
    char *side = figure_text(&block->side);
    bool ring = strstr(wide, "stroke=\"" FHI_WARN "\"") != NULL || strstr(side, "stroke=\"" FHI_WARN "\"") != NULL;
    assert_int_equal(ring, fresh);
    ringed += ring ? 1 : 0;
    free(wide);
    free(side);
  }
  assert_int_equal(ringed, 4);  // carabiner or pulley on the load, capture, hitch, pulley
  close_sheet(&c);
}

// ---------------------------------------------------------------------------------------------------- refusals

#define THREE_HEAD "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {turn_deg: 80}\nground: {station_m: 4, anchor_m: 6}\ncrew: []\n"
#define THREE_GRIP "  grips: [{body: tractor, hitch: prusik, rope: main, after: 1, at_m: 1.2}]\n"
#define THREE(run) THREE_HEAD "rig:\n  ropes: [{name: main, path: [{tie: load}, {edge: lip}, " run ", {run: tractor, on: pulley}, {hand: crew}]}]\n" THREE_GRIP

static void assert_no_sheet(const char *yaml, const char *word) {
  sheet_case c;
  open_yaml(&c, yaml);
  fh_test_text text = {0};
  fh_out out = {fh_test_collect, &text};
  assert_true(fh_sheet_refused(c.sheet));
  assert_int_equal(fh_sheet_page_count(c.sheet), 0);
  assert_status(fh_sheet_write_page(c.sheet, 0, out), FH_ERR_ARG);
  assert_status(fh_sheet_write_html(c.sheet, out), FH_ERR_ARG);
  assert_status(fh_sheet_write_text(c.sheet, out), FH_ERR_ARG);
  assert_null(text.bytes);
  const fh_stages *stages = fh_sheet_stages(c.sheet);
  bool said = false;
  for (int i = 0; i < stages->finding_count; i++) {
    said = said || (stages->findings[i].level == FH_NOTE_NO && stages->findings[i].step > 0 && strstr(stages->findings[i].text, word) != NULL);
  }
  if (!said) {
    fail_msg("no finding with a step says \"%s\"", word);
  }
  close_sheet(&c);
}

static void an_unsafe_rig_gets_no_sheet_and_the_step_is_named(void **state) {
  (void)state;
  sheet_case sound;
  open_yaml(&sound, THREE("{run: station, on: toothed-capture}"));
  assert_false(fh_sheet_refused(sound.sheet));
  close_sheet(&sound);
  assert_no_sheet(THREE("{run: station, on: pulley}"), "no capture");
  assert_no_sheet(THREE("{run: station, on: toothed-capture, reversed: true}"), "wrong way round");
}

static void a_grip_nearer_to_the_edge_than_safe_gets_no_sheet(void **state) {
  (void)state;
  sheet_case c;
  open_yaml(&c, THREE("{run: station, on: toothed-capture}"));
  c.t.scene->rig.grips[0].at = 0.2;
  fh_sheet *sheet = NULL;
  assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &sheet), FH_OK);
  assert_true(fh_sheet_refused(sheet));
  fh_sheet_destroy(sheet);
  close_sheet(&c);
}

#define TENDED(crew, run) "firnhaul: 1\nload: {mass_kg: 80}\nslot: {depth_m: 8}\nlip: {turn_deg: 80}\nground: {station_m: 4, anchor_m: 6}\n" \
  "crew: [" crew "]\nrig:\n  ropes: [{name: main, path: [{tie: load}, {edge: lip}, {run: station, on: pulley}, " run "{hand: crew}]}]\n" \
  "  grips:\n    - {body: station, hitch: prusik, rope: main, after: 1, at_m: 3.8}\n"
#define BLOCK "    - {body: tractor, hitch: prusik, rope: main, after: 1, at_m: 1.2}\n"

static char *tended_text(const char *yaml, fh_check **check) {
  sheet_case c;
  open_yaml(&c, yaml);
  assert_false(fh_sheet_refused(c.sheet));
  assert_status(fh_check_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, check), FH_OK);
  char *text = text_of(c.sheet);
  close_sheet(&c);
  return text;
}

static int notes_about(const fh_check *check, fh_note_level level, const char *word) {
  int count = 0;
  for (int i = 0; i < check->note_count; i++) {
    count += check->notes[i].level == level && strstr(check->notes[i].text, word) != NULL ? 1 : 0;
  }
  return count;
}

// Behind a moving block one walks away from the station; at a pull toward the lip one stands beside it.
static void who_is_alone_is_told_what_one_can_do(void **state) {
  (void)state;
  static const char *const OTHERS[] = {"Pull together", "someone", "somebody is there"};
  fh_check *check = NULL;
  char *text = tended_text(TENDED("{name: a}", "{run: tractor, on: pulley}, ") BLOCK, &check);
  for (size_t i = 0; i < sizeof OTHERS / sizeof OTHERS[0]; i++) {
    assert_null(strstr(text, OTHERS[i]));
  }
  assert_non_null(strstr(text, "Nobody is there to tend it"));
  assert_int_equal(notes_about(check, FH_NOTE_WARN, "alone you cannot tend"), 1);
  free(text);
  fh_check_destroy(check);
  text = tended_text(TENDED("{name: a}", ""), &check);
  assert_non_null(strstr(text, "You tend it yourself"));
  assert_int_equal(notes_about(check, FH_NOTE_WARN, "alone"), 0);
  assert_int_equal(notes_about(check, FH_NOTE_INFO, "alone you tend"), 1);
  free(text);
  fh_check_destroy(check);
  text = tended_text(TENDED("{name: a}, {name: b}", "{run: tractor, on: pulley}, ") BLOCK, &check);
  assert_non_null(strstr(text, "someone is there to tend it"));
  assert_non_null(strstr(text, "Pull together"));
  assert_int_equal(notes_about(check, FH_NOTE_WARN, "alone") + notes_about(check, FH_NOTE_INFO, "alone"), 0);
  free(text);
  fh_check_destroy(check);
}

// One number for one thing.
static void resets_and_time_are_those_of_the_haul(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/two-person.yaml", FH_PAPER_A4, FH_METRIC);
  const fh_haul *h = c.sheet->haul;
  char resets[FHI_WORD + 40];
  char *text = text_of(c.sheet);
  (void)snprintf(resets, sizeof resets, "Resets: %d (%d to %d)", h->resets, (int)h->strokes_range.lo - 1, (int)h->strokes_range.hi - 1);
  assert_non_null(strstr(text, resets));
  char time[FHI_WORD];
  (void)snprintf(resets, sizeof resets, "likely %s of hauling", fhi_sheet_time(time, sizeof time, h->time));
  assert_non_null(strstr(text, resets));
  (void)snprintf(resets, sizeof resets, "Time, with rests: %s\n", time);
  assert_non_null(strstr(text, resets));
  assert_null(strstr(text, "next card"));  // the words are read on pages as well
  assert_int_equal(c.sheet->check->resets, h->resets);
  assert_exact(c.sheet->check->time_rests.lo, h->time.lo);
  assert_exact(c.sheet->check->time_rests.likely, h->time.likely);
  assert_exact(c.sheet->check->time_rests.hi, h->time.hi);
  assert_null(strstr(text, "firnhaul lose"));
  free(text);
  close_sheet(&c);
}

static void missing_arguments_are_refused(void **state) {
  (void)state;
  sheet_case c;
  open_yaml(&c, THREE("{run: station, on: toothed-capture}"));
  fh_sheet *none = NULL;
  fh_test_text text = {0};
  fh_out out = {fh_test_collect, &text};
  assert_status(fh_sheet_create(NULL, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &none), FH_ERR_ARG);
  assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, (fh_paper)7, FH_METRIC, &none), FH_ERR_ARG);
  assert_status(fh_sheet_write_page(c.sheet, -1, out), FH_ERR_ARG);
  assert_status(fh_sheet_write_page(c.sheet, fh_sheet_page_count(c.sheet), out), FH_ERR_ARG);
  assert_status(fh_sheet_write_page(NULL, 0, out), FH_ERR_ARG);
  assert_null(none);
  assert_null(text.bytes);
  fh_sheet_destroy(NULL);
  close_sheet(&c);
}

// ---------------------------------------------------------------------------------------------------- words

// Rauch et al., Eur. J. Appl. Physiol. 2019, 119:1353: 12 of 40 tests, first at 13.4 min. NIOSH 2008, as abstracted: from
// 4 min (chest) and 5 min (back) on; 95 % lasted at least 7 and 11 min. Seddon, HSE CRR 451/2002: under 10 min.
// Giesbrecht & Brock 2022: 37 to 24.2 degrees in 4.65 h; Giesbrecht et al. 2022: 37 to 26.1 in 17.7 h (facts quoted there).
static void the_card_of_the_person_says_what_was_published(void **state) {
  (void)state;
  static const char *const SAID[] = {"12 of 40", "the first after 13 minutes", "4 to 5 minutes", "at least 7 to 11", "less than 10", "no safe time", "no countdown",
                                     "Rauch et al.", "NIOSH", "Seddon", "Giesbrecht", "ICAR", "Mortimer", "RR708", "lie flat at once", "never delay the raise"};
  assert_near((37.0 - 24.2) / 4.65, 2.8, 0.05);
  assert_near((37.0 - 26.1) / 17.7, 0.6, 0.05);
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  char *text = text_of(c.sheet);
  for (size_t i = 0; i < sizeof SAID / sizeof SAID[0]; i++) {
    if (strstr(text, SAID[i]) == NULL) {
      fail_msg("not said: %s", SAID[i]);
    }
  }
  assert_non_null(strstr(text, "0.6 and 2.8 degrees"));
  free(text);
  close_sheet(&c);
}

static void rescue_comes_first_and_other_ways_out_are_named(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  char *text = text_of(c.sheet);
  const char *call = strstr(text, "Call for rescue first");
  const char *step = strstr(text, "Step 1:");
  assert_non_null(call);
  assert_non_null(step);
  assert_true(call < step);
  static const char *const SAID[] = {"One rescuer alone should not start", "Climb out", "Be lowered to an exit", "More hands", "Wait for rescue"};
  for (size_t i = 0; i < sizeof SAID / sizeof SAID[0]; i++) {
    assert_non_null(strstr(text, SAID[i]));
  }
  free(text);
  close_sheet(&c);
}

static void the_html_stands_alone_and_says_the_same(void **state) {
  (void)state;
  sheet_case c;
  open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A6, FH_METRIC);
  char *html = html_of(c.sheet);
  assert_null(strstr(html, "<script"));
  assert_null(strstr(html, "<link"));
  assert_null(strstr(html, "url("));
  assert_null(strstr(html, " src="));
  assert_true(strncmp(html, "<!DOCTYPE html>", 15) == 0);
  for (const char *at = strstr(html, "http"); at != NULL; at = strstr(at + 4, "http")) {
    assert_int_equal(strncmp(at, "http://www.w3.org/2000/svg", 26), 0);  // a name, fetched by nobody
  }
  int sections = 0;
  for (const char *at = strstr(html, "<section>"); at != NULL; at = strstr(at + 9, "<section>")) {
    sections++;
  }
  assert_int_equal(sections, c.sheet->count);
  for (int b = 0; b < c.sheet->count; b++) {
    assert_non_null(strstr(html, c.sheet->blocks[b].heading));
  }
  free(html);
  close_sheet(&c);
}

static void hostile_words_of_a_scene_are_harmless(void **state) {
  (void)state;
  sheet_case c;
  c = (sheet_case){.t = scene_read(THREE("{run: station, on: toothed-capture}"))};
  (void)snprintf(c.t.scene->title, sizeof c.t.scene->title, "<script>alert(1)</script> \xE2\x80\xAE & ]]> \x1b[31m");
  (void)snprintf(c.t.scene->rig.bodies[3], FH_NAME, "<b>&\xE2\x80\xAE");
  assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &c.sheet), FH_OK);
  assert_false(fh_sheet_refused(c.sheet));
  char *html = html_of(c.sheet);
  assert_null(strstr(html, "<script"));
  assert_null(strstr(html, "<b>&"));
  assert_null(strstr(html, "\xE2\x80\xAE"));
  assert_null(strchr(html, 0x1b));
  free(html);
  for (int i = 0; i < fh_sheet_page_count(c.sheet); i++) {
    char *svg = page_of(c.sheet, i);
    assert_null(svg_fault(svg));
    assert_null(strstr(svg, "<script"));
    assert_null(strstr(svg, "\xE2\x80\xAE"));
    free(svg);
  }
  close_sheet(&c);
}

// ---------------------------------------------------------------------------------------------------- memory and writing

// Where no rig can be built paper has nothing else to say what it is about; a third of the crew's pull is what check has.
#define NO_RIG "firnhaul: 1\nload: {mass_kg: [70, 90], responds: silent}\nslot: {depth_m: [7, 9]}\nlip: {surface: padded, wall: overhangs}\nground: {}\n" \
  "crew: [{name: a}, {name: b}]\nropes: [{name: our-rope, length_m: 40}]\nkit: [{item: carabiner, count: 3}, {item: toothed-capture}]\n"
static void a_sheet_without_a_rig_has_the_scene(void **state) {
  (void)state;
  scene_text t = scene_read(NO_RIG);
  for (int units = FH_METRIC; units <= FH_IMPERIAL; units++) {
    fh_sheet *sheet = NULL;
    assert_status(fhi_sheet_create_care(t.scene, t.gear, (fh_units)units, &sheet), FH_OK);
    char all[2000] = "";
    for (int i = 0; i < sheet->blocks[0].count; i++) {
      size_t used = strlen(all);
      (void)snprintf(all + used, sizeof all - used, "%s: %s\n", sheet->blocks[0].words[i].lead, sheet->blocks[0].words[i].text);
    }
    char force[FHI_WORD];
    const fh_pull pull = fh_crew_pull(t.scene, t.gear);
    assert_non_null(strstr(all, fhi_show_likely(force, sizeof force, pull.force, (fh_units)units, FH_ENGLISH)));
    assert_non_null(strstr(all, fhi_show_likely(force, sizeof force, pull.sustained, (fh_units)units, FH_ENGLISH)));
    assert_non_null(strstr(all, units == FH_METRIC ? "Load: 70\xE2\x80\x93" "90 kg, 7\xE2\x80\x93" "9 m down; does not help; does not answer\n" : "154\xE2\x80\x93" "198 lb, 23\xE2\x80\x93" "29.5 ft down"));
    assert_non_null(strstr(all, "Lip (padded): turn 80"));
    assert_non_null(strstr(all, "The edge hangs over."));
    assert_non_null(strstr(all, "2 haul."));
    assert_non_null(strstr(all, units == FH_METRIC ? "Ropes: our-rope 40 m\n" : "Ropes: our-rope 131.2 ft\n"));
    assert_non_null(strstr(all, "In the bags: 3 x carabiner, 1 x toothed capture\n"));
    assert_true(sheet->count > 3);  // and what was there before: when not to raise, other ways out, the person
    fh_sheet_destroy(sheet);
  }
  for (long n = 1; n < 4; n++) {
    fh_sheet *sheet = NULL;
    fhi_fault_after(n);
    fh_status status = fhi_sheet_create_care(t.scene, t.gear, FH_METRIC, &sheet);
    fhi_fault_after(0);
    assert_true(status == FH_ERR_MEMORY || (status == FH_OK && n > 2));
    fh_sheet_destroy(sheet);
  }
  scene_done(&t);
}

static void every_allocation_may_fail(void **state) {
  (void)state;
  sheet_case c;
  open_yaml(&c, THREE("{run: station, on: toothed-capture}"));
  fhi_fault_after(0);
  fh_sheet *sheet = NULL;
  assert_status(fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &sheet), FH_OK);
  long all = fhi_fault_count();
  fh_sheet_destroy(sheet);
  assert_true(all > 50);
  // Every one of the first and the last hundred, and some between: the same few calls come again with every step.
  for (long n = 1; n <= all; n += n < 100 || n > all - 100 ? 1 : 7) {
    sheet = NULL;
    fhi_fault_after(n);
    fh_status status = fh_sheet_create(c.t.scene, c.t.gear, &c.t.scene->rig, NULL, FH_PAPER_A6, FH_METRIC, &sheet);
    fhi_fault_after(0);
    assert_status(status, FH_ERR_MEMORY);
    assert_null(sheet);
  }
  for (long n = 1; n < 40; n++) {
    fh_test_text text = {0};
    fhi_fault_after(n);
    fh_status status = fh_sheet_write_page(c.sheet, 3, (fh_out){fh_test_collect, &text});
    fhi_fault_after(0);
    free(text.bytes);
    if (status == FH_OK) {
      assert_true(n > 3);
      break;
    }
    assert_status(status, FH_ERR_MEMORY);
  }
  close_sheet(&c);
}

static void a_refused_write_is_reported(void **state) {
  (void)state;
  sheet_case c;
  open_yaml(&c, THREE("{run: station, on: toothed-capture}"));
  for (size_t limit = 1; limit < 3000; limit += 700) {
    fh_test_text text = {.limit = limit};
    assert_status(fh_sheet_write_page(c.sheet, 5, (fh_out){fh_test_collect, &text}), FH_ERR_WRITE);
    free(text.bytes);
    text = (fh_test_text){.limit = limit};
    assert_status(fh_sheet_write_html(c.sheet, (fh_out){fh_test_collect, &text}), FH_ERR_WRITE);
    free(text.bytes);
  }
  close_sheet(&c);
}

static void the_same_scene_gives_the_same_bytes(void **state) {
  (void)state;
  char *pages[2];
  for (int i = 0; i < 2; i++) {
    sheet_case c;
    open_file(&c, "examples/rigs/six.yaml", FH_PAPER_A4, FH_METRIC);
    pages[i] = page_of(c.sheet, 1);
    close_sheet(&c);
  }
  assert_string_equal(pages[0], pages[1]);
  free(pages[0]);
  free(pages[1]);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(no_text_of_any_example_leaves_its_page_or_lies_on_another),
      cmocka_unit_test(pages_have_the_size_of_iso_216),
      cmocka_unit_test(the_card_has_all_of_it_on_one_page),
      cmocka_unit_test(no_figure_is_printed_twice),
      cmocka_unit_test(who_is_alone_is_told_what_one_can_do),
      cmocka_unit_test(resets_and_time_are_those_of_the_haul),
      cmocka_unit_test(two_columns_of_double_height_need_a_quarter_of_the_pages_at_best),
      cmocka_unit_test(steps_are_told_in_order_and_none_is_missing),
      cmocka_unit_test(every_piece_of_every_example_is_named),
      cmocka_unit_test(the_way_of_the_rope_is_told_to_its_end),
      cmocka_unit_test(each_step_has_figures_checks_and_what_holds_the_load),
      cmocka_unit_test(the_figure_of_hauling_shows_the_forces),
      cmocka_unit_test(the_new_piece_is_ringed),
      cmocka_unit_test(an_unsafe_rig_gets_no_sheet_and_the_step_is_named),
      cmocka_unit_test(a_grip_nearer_to_the_edge_than_safe_gets_no_sheet),
      cmocka_unit_test(missing_arguments_are_refused),
      cmocka_unit_test(the_card_of_the_person_says_what_was_published),
      cmocka_unit_test(rescue_comes_first_and_other_ways_out_are_named),
      cmocka_unit_test(the_html_stands_alone_and_says_the_same),
      cmocka_unit_test(hostile_words_of_a_scene_are_harmless),
      cmocka_unit_test(a_sheet_without_a_rig_has_the_scene),
      cmocka_unit_test(every_allocation_may_fail),
      cmocka_unit_test(a_refused_write_is_reported),
      cmocka_unit_test(the_same_scene_gives_the_same_bytes),
  };
  return cmocka_run_group_tests_name("sheet", tests, NULL, NULL);
}
