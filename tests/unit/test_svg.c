// SPDX-License-Identifier: MIT
// What figures are made of: ropes that grey tells apart, text that is cut and broken where it may be, labels that find room.
#include "fh_test.h"

#include "draw_common.h"
#include "draw_svg.h"

// In grey only dashes and hollow lines tell ropes apart.
static void no_two_ropes_look_alike_in_grey(void **state) {
  (void)state;
  enum { ROPES = 8 };
  char *looks[ROPES];
  for (int i = 0; i < ROPES; i++) {
    fhi_svg *svg = NULL;
    assert_status(fhi_svg_create(100.0, FH_ENGLISH, &svg), FH_OK);
    fhi_path p;
    fhi_path_clear(&p);
    fhi_path_move(&p, 0.0, 0.0);
    fhi_path_line(&p, 50.0, 0.0);
    fhi_draw_rope(svg, &p, i, true, 1.0);
    fh_test_text text = {0};
    assert_status(fhi_svg_end(svg, 10.0, "", "", (fh_out){fh_test_collect, &text}), FH_OK);
    for (char *at = strstr(text.bytes, "stroke=\"#"); at != NULL; at = strstr(at + 1, "stroke=\"#")) {
      memset(at + 9, strncmp(at + 9, "ffffff", 6) == 0 ? 'f' : '0', 6);  // every colour the same, paper stays paper
    }
    looks[i] = text.bytes;
    fhi_svg_destroy(svg);
  }
  for (int i = 0; i < ROPES; i++) {
    for (int j = i + 1; j < ROPES; j++) {
      assert_string_not_equal(looks[i], looks[j]);
    }
  }
  for (int i = 0; i < ROPES; i++) {
    free(looks[i]);
  }
}

static void text_is_cut_at_a_character_with_dots(void **state) {
  (void)state;
  char text[100];
  fhi_font font = {10.0, false, "#000000"};
  fhi_text_fit(text, sizeof text, "short", font, 100.0);
  assert_string_equal(text, "short");
  fhi_text_fit(text, sizeof text, "caf\xC3\xA9s and more words", font, 40.0);
  assert_true(fhi_text_width(text, 10.0, false) <= 40.0);
  assert_non_null(strstr(text, "\xE2\x80\xA6"));
  assert_null(strstr(text, "\xC3\xE2"));  // not in the middle of a character
}

static void lines_break_at_words_and_words_where_they_must(void **state) {
  (void)state;
  fhi_font font = {10.0, false, "#000000"};
  size_t next = 0;
  const char *text = "one two three";
  size_t count = fhi_text_line(text, font, fhi_text_width("one two", 10.0, false) + 0.1, &next);
  assert_int_equal(count, 7);
  assert_int_equal(next, 8);
  const char *word = "abcdefghijklmnop";
  count = fhi_text_line(word, font, fhi_text_width("abcde", 10.0, false) + 0.1, &next);
  assert_int_equal(count, 5);
  assert_int_equal(next, 5);
  count = fhi_text_line(word, font, 1.0, &next);  // narrower than a character: one at a time, so that it ends
  assert_true(next >= 1);
  assert_true(count >= 1);
}

static void a_callout_without_room_is_refused(void **state) {
  (void)state;
  fhi_svg *svg = NULL;
  assert_status(fhi_svg_create(100.0, FH_ENGLISH, &svg), FH_OK);
  fhi_svg_keep_out(svg, (fhi_box){0.0, 0.0, 100.0, 100.0});
  fhi_callout label = {.x = 50.0, .y = 50.0, .field = {0.0, 0.0, 100.0, 100.0}, .font = fhi_font_main(), .text = "1200 N"};
  assert_false(fhi_svg_callout(svg, &label));
  fh_test_text text = {0};
  assert_status(fhi_svg_end(svg, 10.0, "", "", (fh_out){fh_test_collect, &text}), FH_OK);
  assert_null(strstr(text.bytes, "1200"));
  free(text.bytes);
  fhi_svg_destroy(svg);
}

static void a_callout_goes_where_it_is_free(void **state) {
  (void)state;
  fhi_svg *svg = NULL;
  assert_status(fhi_svg_create(200.0, FH_ENGLISH, &svg), FH_OK);
  fhi_svg_text(svg, 80.0, 50.0, FHI_START, fhi_font_main(), "in the way");
  fhi_callout label = {.x = 100.0, .y = 50.0, .field = {0.0, 0.0, 200.0, 100.0}, .font = fhi_font_main(), .text = "beside"};
  assert_true(fhi_svg_callout(svg, &label));
  fh_test_text text = {0};
  assert_status(fhi_svg_end(svg, 100.0, "", "", (fh_out){fh_test_collect, &text}), FH_OK);
  svg_page page;
  svg_read(text.bytes, &page);
  assert_int_equal(page.count, 2);
  assert_true(svg_is_clear(&page, "callout"));
  svg_free(&page);
  free(text.bytes);
  fhi_svg_destroy(svg);
}

// The test above all others here has to be able to fail.
static void text_on_text_and_text_off_the_page_are_seen(void **state) {
  (void)state;
  static const struct {
    double x, y;
    bool clear;
  } SECOND[] = {{10.0, 40.0, true}, {30.0, 22.0, false}, {80.0, 60.0, false}, {10.0, 99.0, false}};
  for (int i = 0; i < 4; i++) {
    char svg[400];
    svg_page page;
    (void)snprintf(svg, sizeof svg, "<svg width=\"100pt\" height=\"100pt\"><text x=\"10\" y=\"20\" font-size=\"9\">1200 N</text><text x=\"%.0f\" y=\"%.0f\" font-size=\"9\">300 N</text></svg>",
                   SECOND[i].x, SECOND[i].y);
    svg_read(svg, &page);
    assert_int_equal(page.count, 2);
    assert_true(svg_is_clear(&page, i == 0 ? "clear" : "meant to be seen") == SECOND[i].clear);
    svg_free(&page);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(no_two_ropes_look_alike_in_grey),
      cmocka_unit_test(text_is_cut_at_a_character_with_dots),
      cmocka_unit_test(lines_break_at_words_and_words_where_they_must),
      cmocka_unit_test(a_callout_without_room_is_refused),
      cmocka_unit_test(a_callout_goes_where_it_is_free),
      cmocka_unit_test(text_on_text_and_text_off_the_page_are_seen),
  };
  return cmocka_run_group_tests_name("svg", tests, NULL, NULL);
}
