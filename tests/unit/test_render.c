// SPDX-License-Identifier: MIT
// Pictures and pages: sizes, text that stays text in embedded fonts, the same bytes each time, and nothing left behind
// when it fails. The width table is held against what cairo measures in the font itself.
#define _POSIX_C_SOURCE 200809L  // popen, setenv, mkdtemp
#include "fh_test.h"

#include <sys/stat.h>
#include <unistd.h>

#include "commands.h"
#include "draw_scenes.h"
#include "render.h"
#include "svg.h"
#include "svg_font.h"

#ifdef FH_RENDER

#include <cairo.h>

static char folder[64];

static const char *in_folder(const char *name) {
  static char path[160];
  (void)snprintf(path, sizeof path, "%s/%s", folder, name);
  return path;
}

static int make_folder(void **state) {
  (void)state;
  (void)snprintf(folder, sizeof folder, "/tmp/fh-render-XXXXXX");
  return mkdtemp(folder) == NULL ? 1 : 0;
}

static int drop_folder(void **state) {
  (void)state;
  static const char *const NAMES[] = {"a.png", "a.pdf", "b.pdf", "a.txt"};
  for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++) {
    (void)unlink(in_folder(NAMES[i]));
  }
  return rmdir(folder);  // fails when anything else was left
}

static fh_test_text draw_one(void) {
  draw_scene d;
  fh_check *check = NULL;
  fh_test_text text = {0};
  fh_check_opts opts = fh_check_opts_default();
  scene_loop_six(&d);
  assert_status(fh_check_create(d.scene, d.gear, &d.scene->rig, &opts, &check), FH_OK);
  assert_status(fh_draw_section(d.scene, d.gear, &d.scene->rig, check, FH_METRIC, (fh_out){fh_test_collect, &text}), FH_OK);
  fh_check_destroy(check);
  draw_stop(&d);
  return text;
}

static fh_test_text run_tool(const char *command) {
  fh_test_text text = {0};
  char part[4096];
  FILE *pipe = popen(command, "r");
  assert_non_null(pipe);
  for (size_t n = fread(part, 1, sizeof part, pipe); n > 0; n = fread(part, 1, sizeof part, pipe)) {
    assert_int_equal(fh_test_collect(&text, part, n), 0);
  }
  assert_int_equal(pclose(pipe), 0);
  assert_non_null(text.bytes);
  return text;
}

// PNG, ISO/IEC 15948: eight bytes of signature, then the header chunk with width and height, big-endian.
static void a_png_has_three_pixels_a_point(void **state) {
  (void)state;
  fh_test_text svg = draw_one();
  assert_int_equal(cli_render(svg.bytes, svg.count, false, in_folder("a.png")), CLI_DONE);
  fh_test_text png = fh_test_read(in_folder("a.png"));
  assert_true(png.count > 1000);
  assert_memory_equal(png.bytes, "\x89PNG\r\n\x1a\n", 8);
  const unsigned char *b = (const unsigned char *)png.bytes;
  assert_int_equal(b[16] << 24 | b[17] << 16 | b[18] << 8 | b[19], 894);
  free(png.bytes);
  free(svg.bytes);
}

// The ground is white and the ink is there: a picture that is all of one colour was not drawn.
static void a_png_shows_ink_on_a_white_ground(void **state) {
  (void)state;
  fh_test_text svg = draw_one();
  assert_int_equal(cli_render(svg.bytes, svg.count, false, in_folder("a.png")), CLI_DONE);
  cairo_surface_t *surface = cairo_image_surface_create_from_png(in_folder("a.png"));
  assert_int_equal(cairo_surface_status(surface), CAIRO_STATUS_SUCCESS);
  const unsigned char *data = cairo_image_surface_get_data(surface);
  int stride = cairo_image_surface_get_stride(surface);
  int wide = cairo_image_surface_get_width(surface);
  int tall = cairo_image_surface_get_height(surface);
  assert_int_equal(data[0] & data[1] & data[2], 255);
  long dark = 0;
  for (int y = 0; y < tall; y++) {
    for (int x = 0; x < wide; x++) {
      const unsigned char *p = data + (ptrdiff_t)y * stride + (ptrdiff_t)4 * x;
      dark += p[0] < 100 && p[1] < 100 && p[2] < 100 ? 1 : 0;
    }
  }
  assert_within((double)dark / ((double)wide * tall), 0.01, 0.2);
  cairo_surface_destroy(surface);
  free(svg.bytes);
}

static void a_pdf_is_one_page_of_a6_width_with_its_text_in_embedded_fonts(void **state) {
  (void)state;
  char command[300];
  fh_test_text svg = draw_one();
  assert_int_equal(cli_render(svg.bytes, svg.count, true, in_folder("a.pdf")), CLI_DONE);
  (void)snprintf(command, sizeof command, "pdftotext -layout %s -", in_folder("a.pdf"));
  fh_test_text words = run_tool(command);
  static const char *const SAID[] = {"Two on a rope, one in the slot", "Training aid.", "toothed capture", "pull ", "\xE2\x80\x93", "80\xC2\xB0"};
  for (size_t i = 0; i < sizeof SAID / sizeof SAID[0]; i++) {
    if (strstr(words.bytes, SAID[i]) == NULL) {
      fail_msg("the page does not say \"%s\"", SAID[i]);
    }
  }
  free(words.bytes);
  (void)snprintf(command, sizeof command, "pdfinfo %s", in_folder("a.pdf"));
  fh_test_text info = run_tool(command);
  assert_non_null(strstr(info.bytes, "Pages:           1\n"));
  assert_non_null(strstr(info.bytes, "Page size:       298 x "));
  free(info.bytes);
  (void)snprintf(command, sizeof command, "pdffonts %s", in_folder("a.pdf"));
  fh_test_text fonts = run_tool(command);
  assert_non_null(strstr(fonts.bytes, "DejaVuSans"));
  int rows = 0;
  char *save = NULL;
  for (char *line = strtok_r(fonts.bytes, "\n", &save); line != NULL; line = strtok_r(NULL, "\n", &save)) {
    if (strchr(line, '+') != NULL) {
      assert_non_null(strstr(line, "yes yes yes"));  // embedded, subset, with a map back to characters
      rows++;
    }
  }
  assert_true(rows >= 2);
  free(fonts.bytes);
  free(svg.bytes);
}

static void the_same_figure_gives_the_same_bytes(void **state) {
  (void)state;
  fh_test_text svg = draw_one();
  assert_int_equal(cli_render(svg.bytes, svg.count, true, in_folder("a.pdf")), CLI_DONE);
  assert_int_equal(cli_render(svg.bytes, svg.count, true, in_folder("b.pdf")), CLI_DONE);
  fh_test_text a = fh_test_read(in_folder("a.pdf"));
  fh_test_text b = fh_test_read(in_folder("b.pdf"));
  assert_int_equal(a.count, b.count);
  assert_memory_equal(a.bytes, b.bytes, a.count);
  free(a.bytes);
  free(b.bytes);
  free(svg.bytes);
}

static void a_pdf_carries_the_date_that_was_asked_for(void **state) {
  (void)state;
  static const struct {
    const char *epoch, *date;
  } DATES[] = {{"86400", "1970"}, {"1700000000", "2023"}, {"not a number", "2000"}, {"-5", "2000"}, {"1e300", "2000"}, {NULL, "2000"}};
  char command[300];
  fh_test_text svg = draw_one();
  for (size_t i = 0; i < sizeof DATES / sizeof DATES[0]; i++) {
    if (DATES[i].epoch != NULL) {
      assert_int_equal(setenv("SOURCE_DATE_EPOCH", DATES[i].epoch, 1), 0);
    } else {
      assert_int_equal(unsetenv("SOURCE_DATE_EPOCH"), 0);
    }
    assert_int_equal(cli_render(svg.bytes, svg.count, true, in_folder("a.pdf")), CLI_DONE);
    (void)snprintf(command, sizeof command, "pdfinfo %s", in_folder("a.pdf"));
    fh_test_text info = run_tool(command);
    const char *line = strstr(info.bytes, "CreationDate:");
    assert_non_null(line);
    const char *end = strchr(line, '\n');
    const char *found = strstr(line, DATES[i].date);
    assert_true(found != NULL && found < end);
    free(info.bytes);
  }
  (void)unsetenv("SOURCE_DATE_EPOCH");
  free(svg.bytes);
}

static void what_is_no_figure_leaves_no_file(void **state) {
  (void)state;
  static const char *const BAD[] = {"", "not SVG", "<svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"/>",
                                    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"0pt\" height=\"10pt\"/>"};
  for (size_t i = 0; i < sizeof BAD / sizeof BAD[0]; i++) {
    for (int pdf = 0; pdf < 2; pdf++) {
      const char *path = in_folder("a.txt");
      struct stat info;
      assert_int_equal(cli_render(BAD[i], strlen(BAD[i]), pdf == 1, path), CLI_FAILED);
      assert_int_not_equal(stat(path, &info), 0);
    }
  }
}

static void a_place_that_cannot_be_written_fails(void **state) {
  (void)state;
  fh_test_text svg = draw_one();
  for (int pdf = 0; pdf < 2; pdf++) {
    assert_int_equal(cli_render(svg.bytes, svg.count, pdf == 1, "/nonexistent/folder/a.png"), CLI_FAILED);
    assert_int_equal(cli_render(svg.bytes, svg.count, pdf == 1, "/dev/full"), CLI_FAILED);
  }
  free(svg.bytes);
}

// ------------------------------------------------------------------------------------------------ the width table

// Advance of one character at 2048 units, unhinted.
static double measured(cairo_t *cr, unsigned code) {
  char text[8];
  int n = 0;
  if (code < 0x80) {
    text[n++] = (char)code;
  } else if (code < 0x800) {
    text[n++] = (char)(0xC0 | (code >> 6));
    text[n++] = (char)(0x80 | (code & 0x3F));
  } else {
    text[n++] = (char)(0xE0 | (code >> 12));
    text[n++] = (char)(0x80 | ((code >> 6) & 0x3F));
    text[n++] = (char)(0x80 | (code & 0x3F));
  }
  text[n] = '\0';
  cairo_text_extents_t e;
  cairo_text_extents(cr, text, &e);
  return e.x_advance;
}

static void the_width_table_is_the_font_s_own(void **state) {
  (void)state;
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 8, 8);
  cairo_t *cr = cairo_create(surface);
  cairo_font_options_t *options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(cr, options);
  cairo_set_font_size(cr, FHI_FONT_EM);
  int compared = 0;
  for (int bold = 0; bold < 2; bold++) {
    cairo_select_font_face(cr, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL, bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    for (unsigned code = 0x20; code < 0x2300; code++) {
      int width = fhi_font_advance(code, bold == 1);
      if (width > 0) {
        assert_near((double)width, measured(cr, code), 1.0);  // the font's own numbers are whole
        compared++;
      }
    }
  }
  assert_true(compared > 1000);
  cairo_font_options_destroy(options);
  cairo_destroy(cr);
  cairo_surface_destroy(surface);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_png_has_three_pixels_a_point),
      cmocka_unit_test(a_png_shows_ink_on_a_white_ground),
      cmocka_unit_test(a_pdf_is_one_page_of_a6_width_with_its_text_in_embedded_fonts),
      cmocka_unit_test(the_same_figure_gives_the_same_bytes),
      cmocka_unit_test(a_pdf_carries_the_date_that_was_asked_for),
      cmocka_unit_test(what_is_no_figure_leaves_no_file),
      cmocka_unit_test(a_place_that_cannot_be_written_fails),
      cmocka_unit_test(the_width_table_is_the_font_s_own),
  };
  return cmocka_run_group_tests_name("render", tests, make_folder, drop_folder);
}

#else

static void without_a_renderer_it_says_so(void **state) {
  (void)state;
  assert_int_equal(cli_render("", 0, true, "-"), CLI_FAILED);
}

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(without_a_renderer_it_says_so)};
  return cmocka_run_group_tests_name("render", tests, NULL, NULL);
}

#endif
