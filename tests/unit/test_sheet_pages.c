// SPDX-License-Identifier: MIT
// The build sheet on paper: nothing leaves its page or lies on anything else, the card has all of it, no figure stands twice.
#include "fh_test.h"

#include <ctype.h>

#include "sheet_case.h"
#include "sheet_svg.h"

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
    char *yaml = fh_test_read(path).bytes;
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

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(no_text_of_any_example_leaves_its_page_or_lies_on_another),
      cmocka_unit_test(pages_have_the_size_of_iso_216),
      cmocka_unit_test(the_card_has_all_of_it_on_one_page),
      cmocka_unit_test(no_figure_is_printed_twice),
      cmocka_unit_test(two_columns_of_double_height_need_a_quarter_of_the_pages_at_best),
  };
  return cmocka_run_group_tests_name("sheet_pages", tests, NULL, NULL);
}
