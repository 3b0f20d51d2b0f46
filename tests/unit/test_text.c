// SPDX-License-Identifier: MIT
// Text within bounds, numbers in and out in any locale, and the writer's escapes and failures.
#include "fh_test.h"

#include <float.h>
#include <locale.h>

#include "memory.h"
#include "text.h"

// ------------------------------------------------------------------------------------------------- bounded copies

static void a_copy_that_fits_is_whole(void **state) {
  (void)state;
  char to[6];
  assert_true(fhi_copy(to, sizeof to, "rope!"));
  assert_string_equal(to, "rope!");
  assert_true(fhi_copy(to, sizeof to, ""));
  assert_string_equal(to, "");
}

static void a_copy_is_cut_on_a_characters_edge(void **state) {
  (void)state;
  char to[16];
  assert_false(fhi_copy(to, 5, "rope!"));
  assert_string_equal(to, "rope");
  // One, two, three and four bytes a character, cut at every place: the text before it is always whole.
  const char *text = "a\xC3\xBC\xE2\x82\xAC\xF0\x9F\x8F\x94z";
  const size_t edges[] = {0, 1, 3, 6, 10};
  for (size_t size = 1; size <= 11; size++) {
    size_t want = 0;
    for (size_t i = 0; i < sizeof edges / sizeof *edges; i++) {
      want = edges[i] <= size - 1 ? edges[i] : want;
    }
    assert_false(fhi_copy(to, size, text));
    assert_int_equal(strlen(to), want);
    assert_memory_equal(to, text, want);
    assert_false(fhi_format(to, size, "%s", text));
    assert_int_equal(strlen(to), want);
  }
  assert_true(fhi_copy(to, 12, text));
  assert_true(fhi_format(to, 12, "%s", text));
  assert_string_equal(to, text);
}

static void no_room_is_left_alone(void **state) {
  (void)state;
  char to[1] = {'x'};
  assert_false(fhi_copy(to, 0, "rope"));
  assert_false(fhi_format(to, 0, "%s", "rope"));
  assert_int_equal(to[0], 'x');
}

static void text_that_is_not_utf8_is_cut_as_it_stands(void **state) {
  (void)state;
  char to[8];
  assert_false(fhi_copy(to, 7, "\x80\x80\x80\x80\x80\x80\x80\x80"));
  assert_int_equal(strlen(to), 6);
}

// ------------------------------------------------------------------------------------------------ numbers from text

static bool parse(const char *text, double *out) {
  return fhi_parse_number(text, strlen(text), out);
}

static void accepted_forms_are_read(void **state) {
  (void)state;
  static const struct {
    const char *text;
    double value;
  } CASES[] = {
      {"0", 0.0},
      {"-0", 0.0},
      {"7", 7.0},
      {"-7", -7.0},
      {"+5", 5.0},
      {"5.", 5.0},
      {".5", 0.5},
      {"+.5e1", 5.0},
      {"-5.e-1", -0.5},
      {"0.1", 0.1},
      {"1e3", 1000.0},
      {"1E+3", 1000.0},
      {"12.5e-1", 1.25},
      {"0.000", 0.0},
      {"0e999999999999", 0.0},
      {"1e22", 1e22},
      {"1e23", 1e23},
      {"9.80665", 9.80665},
      {"1e-400", 0.0},
      {"1e-99999999999", 0.0},
      {"0.00000000000000000000000000000000000000000000000001e50", 1.0},
      {"100000000000000000000000000000000000000000000000000e-50", 1.0},
  };
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    double value = -1.0;
    if (!parse(CASES[i].text, &value)) {
      fail_msg("refused: %s", CASES[i].text);
    }
    assert_exact(value, CASES[i].value);
  }
}

static void everything_else_is_refused(void **state) {
  (void)state;
  static const char *const CASES[] = {
      "",
      " ",
      "-",
      "+",
      ".",
      "e5",
      "1e",
      "1e+",
      "--1",
      "+-1",
      "1.2.3",
      "1 ",
      " 1",
      "1,5",
      "0x1",
      "010",
      "-00",
      "12kg",
      "nan",
      "inf",
      "NaN",
      "1e5.",
      "1_000",
      ("\xE2\x88\x92"
       "1"),
      "1e309",
      "-1e309",
      "1.7976931348623159e308",
      "1e99999999999999999999",
  };
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    double value = 42.0;
    if (parse(CASES[i], &value)) {
      fail_msg("accepted: %s as %.17g", CASES[i], value);
    }
    assert_exact(value, 42.0);
  }
  double value = 0.0;
  assert_false(fhi_parse_number("1\0", 2, &value));
  assert_true(fhi_parse_number("12kg", 2, &value));  // the count rules, not a NUL
  assert_exact(value, 12.0);
}

// Known hard cases: halfway between two doubles (IEEE 754 wants the even one), and the ends of the range. The values come
// from the definition of binary64: midpoints are sums of powers of two, written out exactly.
static void halves_go_to_even(void **state) {
  (void)state;
  static const struct {
    const char *text;
    double value;
  } CASES[] = {
      {"9007199254740993", 9007199254740992.0},  // 2^53 + 1: half way, to even
      {"9007199254740993.00000000000000000000000000000000000001", 9007199254740994.0},
      {"9007199254740995", 9007199254740996.0},
      {"9007199254740992.99999999999999999999999999999999999999", 9007199254740992.0},
      {"1.00000000000000011102230246251565404236316680908203125", 1.0},  // 1 + 2^-53
      {"1.00000000000000011102230246251565404236316680908203126", 1.0 + DBL_EPSILON},
      {"2.2250738585072011e-308", DBL_MIN - 0x1p-1074},  // next to the smallest normal number
      {"2.4703282292062327e-324", 0.0},                  // just below half the smallest number, 2^-1075
      {"2.4703282292062328e-324", 0x1p-1074},
      {"4.9e-324", 0x1p-1074},
      {"1.7976931348623158e308", DBL_MAX},
      {"179769313486231580793728971405301e276", DBL_MAX},
  };
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    double value = -1.0;
    assert_true(parse(CASES[i].text, &value));
    assert_exact(value, CASES[i].value);
  }
}

static void digits_past_the_last_place_still_break_a_tie(void **state) {
  (void)state;
  // 2^53 + 1, and then a digit ten thousand places behind the point.
  enum { ZEROS = 10000 };
  char *text = malloc(ZEROS + 32);
  assert_non_null(text);
  int n = sprintf(text, "9007199254740993.");
  memset(text + n, '0', ZEROS);
  strcpy(text + n + ZEROS, "1");
  double value = 0.0;
  assert_true(parse(text, &value));
  assert_exact(value, 9007199254740994.0);
  text[n + ZEROS] = '0';
  assert_true(parse(text, &value));
  assert_exact(value, 9007199254740992.0);
  free(text);
}

// ---------------------------------------------------------------------------------------------------- numbers to text

static void shortest_is_json_and_short(void **state) {
  (void)state;
  static const struct {
    double value;
    const char *text;
  } CASES[] = {
      {0.0, "0"},
      {-0.0, "0"},
      {1.0, "1"},
      {-1.5, "-1.5"},
      {0.1, "0.1"},
      {0.1 + 0.2, "0.30000000000000004"},
      {100.0, "100"},
      {1e16, "10000000000000000"},
      {1e17, "1e17"},
      {-1.25e300, "-1.25e300"},
      {1e-5, "0.00001"},
      {0.0123, "0.0123"},
      {1.5e-6, "1.5e-6"},
      {0x1p-1074, "5e-324"},
      {DBL_MAX, "1.7976931348623157e308"},
      {902.2118, "902.2118"},
      {1.0 / 3.0, "0.3333333333333333"},
      {12345678.9, "12345678.9"},
  };
  char text[32];
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    assert_string_equal(fhi_shortest(text, sizeof text, CASES[i].value), CASES[i].text);
  }
  assert_string_equal(fhi_shortest(text, sizeof text, (double)NAN), "null");
  assert_string_equal(fhi_shortest(text, sizeof text, (double)INFINITY), "null");
}

// Against the C library's strtod, in the "C" locale: all kinds of bits, then decimals around them.
static uint64_t next_random(uint64_t *state) {
  *state += UINT64_C(0x9E3779B97F4A7C15);  // splitmix64
  uint64_t z = *state;
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  return z ^ (z >> 31);
}

static double random_double(uint64_t *seed, int kind) {
  uint64_t bits = next_random(seed);
  double value = 0.0;
  if (kind == 0) {  // what scenes hold
    return (double)(bits % 2000001) / 1000.0 - 1000.0;
  }
  bits &= kind == 1 ? UINT64_C(0x800FFFFFFFFFFFFF) : UINT64_MAX;  // 1: below the smallest normal number
  memcpy(&value, &bits, sizeof value);
  return isfinite(value) ? value : 1.0;
}

static void shortest_reads_back_as_the_c_library_reads_it(void **state) {
  (void)state;
  uint64_t seed = 1;
  for (int i = 0; i < 3000; i++) {
    double value = random_double(&seed, i % 3);
    char text[32];
    char shorter[64];
    fhi_shortest(text, sizeof text, value);
    double ours = -1.0;
    assert_true(parse(text, &ours));
    assert_exact(ours, value);
    assert_exact(strtod(text, NULL), value);
    // No shorter one would do: one digit fewer reads as another number.
    int digits = 0;
    for (const char *c = text; *c != '\0' && *c != 'e'; c++) {
      digits += (*c >= '1' && *c <= '9') || (*c == '0' && digits > 0);
    }
    if (digits > 1 && fabs(value) < 1e15 && fabs(value) > 1e-5 && text[strlen(text) - 1] != '0') {
      (void)snprintf(shorter, sizeof shorter, "%.*e", digits - 2, value);
      assert_true(strtod(shorter, NULL) < value || strtod(shorter, NULL) > value);
    }
  }
}

// The numbers that answers hold, by the exact way: of 15, 16 and 17 digits of the C library the first that its strtod reads back.
static void shortest_of_everyday_numbers_is_the_c_librarys(void **state) {
  (void)state;
  uint64_t seed = 7;
  int exact = 0;
  for (int i = 0; i < 100000; i++) {
    double value = ldexp((double)((next_random(&seed) >> 11) | (UINT64_C(1) << 52)), -53 - (int)(next_random(&seed) % 80) + 45);
    value = i % 3 == 0 ? (double)(next_random(&seed) % 1000000) * pow(10.0, -(double)(i % 9)) : value;
    value = i % 11 == 0 ? nextafter(value, 0.0) : i % 11 == 1 ? ldexp(1.0, i % 60 - 30) : value;
    char want[40];
    for (int digits = 15; digits <= 17; digits++) {
      (void)snprintf(want, sizeof want, "%.*e", digits - 1, value);
      if (!(strtod(want, NULL) < value) && !(strtod(want, NULL) > value)) {
        break;
      }
    }
    uint64_t digits = 0;
    int tens = 0;
    exact += fhi_short_digits(value, &digits, &tens) ? 1 : 0;
    char got[40];
    fhi_shortest(got, sizeof got, value);
    char again[40];
    (void)snprintf(again, sizeof again, "%.16e", strtod(got, NULL));
    (void)snprintf(want, sizeof want, "%.16e", strtod(want, NULL));
    assert_string_equal(again, want);
  }
  assert_in_range(exact, 90000, 100000);
}

static void decimals_read_as_the_c_library_reads_them(void **state) {
  (void)state;
  uint64_t seed = 2;
  for (int i = 0; i < 3000; i++) {
    double value = random_double(&seed, i % 3);
    char text[1200];
    (void)snprintf(text, sizeof text, "%.*e", (int)(next_random(&seed) % (i % 50 == 0 ? 780 : 30)), value);
    double want = strtod(text, NULL);
    double got = -1.0;
    assert_int_equal(parse(text, &got), isfinite(want));
    if (isfinite(want)) {
      assert_exact(got, want);
    }
  }
}

// Values of every size, and ties: the C library rounds the exact value, halves to even.
static void fixed_is_what_the_c_library_prints(void **state) {
  (void)state;
  uint64_t seed = 3;
  for (int i = 0; i < 40000; i++) {
    int places = (int)(next_random(&seed) % 6);
    double unit = (double)(next_random(&seed) >> (i % 53 + 11));  // 53 bits to 1
    double value = i % 4 == 0 ? ldexp(unit, (int)(next_random(&seed) % 90) - 75) : i % 4 == 1 ? unit / 8.0 : i % 4 == 2 ? unit / 1000.0 : unit;
    value = i % 7 == 0 ? -value : value;
    char want[400];
    char got[400];
    (void)snprintf(want, sizeof want, "%.*f", places, value);
    bool zero = strspn(want, "-0.") == strlen(want);
    assert_string_equal(fhi_fixed(got, sizeof got, value, places), want + (zero && want[0] == '-' ? 1 : 0));
  }
}

static void fixed_has_a_point_and_no_minus_zero(void **state) {
  (void)state;
  char text[400];
  assert_string_equal(fhi_fixed(text, sizeof text, 1234.5678, 2), "1234.57");
  assert_string_equal(fhi_fixed(text, sizeof text, -1234.5678, 0), "-1235");
  assert_string_equal(fhi_fixed(text, sizeof text, -0.04, 1), "0.0");
  assert_string_equal(fhi_fixed(text, sizeof text, -0.0, 0), "0");
  assert_string_equal(fhi_fixed(text, sizeof text, -0.06, 1), "-0.1");
  assert_string_equal(fhi_fixed(text, sizeof text, 0.5, -3), "0");  // halves to even, as printf
  assert_string_equal(fhi_fixed(text, sizeof text, 1.0 / 3.0, 99), "0.333333333");
  assert_string_equal(fhi_fixed(text, sizeof text, (double)NAN, 1), "?");
  assert_string_equal(fhi_fixed(text, sizeof text, (double)INFINITY, 1), "inf");
  assert_string_equal(fhi_fixed(text, sizeof text, -(double)INFINITY, 1), "-inf");
  assert_int_equal(strlen(fhi_fixed(text, sizeof text, DBL_MAX, 9)), 319);
}

static void a_number_is_never_cut_short(void **state) {
  (void)state;
  char text[5] = "xxxx";
  assert_string_equal(fhi_fixed(text, sizeof text, 12345.0, 0), "?");
  assert_string_equal(fhi_fixed(text, sizeof text, 1234.0, 0), "1234");
  assert_string_equal(fhi_shortest(text, sizeof text, 12345.0), "");
  assert_string_equal(fhi_shortest(text, 4, (double)NAN), "");
  assert_string_equal(fhi_fixed(text, 1, 1.0, 0), "");
  text[0] = 'x';
  assert_int_equal(fhi_fixed(text, 0, 1.0, 0)[0], 'x');
}

// A locale whose decimal point is a comma, where the machine has one; the check of the plain locale has run either way.
static void numbers_do_not_follow_the_locale(void **state) {
  (void)state;
  static const char *const COMMA[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "de_AT.UTF-8", "nl_NL.UTF-8"};
  const char *set = NULL;
  for (size_t i = 0; i < sizeof COMMA / sizeof *COMMA && set == NULL; i++) {
    set = setlocale(LC_ALL, COMMA[i]);
  }
  if (set != NULL) {
    char raw[16];
    (void)snprintf(raw, sizeof raw, "%.1f", 1.5);
    assert_string_equal(raw, "1,5");
  } else {
    print_message("no locale with a decimal comma here\n");
  }
  char text[32];
  double value = 0.0;
  assert_string_equal(fhi_fixed(text, sizeof text, 1.5, 1), "1.5");
  assert_string_equal(fhi_shortest(text, sizeof text, 2.25), "2.25");
  assert_true(parse("2.25", &value));
  assert_exact(value, 2.25);
  (void)setlocale(LC_ALL, "C");
}

// ---------------------------------------------------------------------------------------------------------- writer

static void the_writer_passes_everything_on(void **state) {
  (void)state;
  fh_test_text text = {NULL, 0, 0};
  fhi_writer w;
  fhi_writer_start(&w, (fh_out){fh_test_collect, &text});
  size_t want = 0;
  char big[3000];
  memset(big, 'b', sizeof big);
  for (int i = 0; i < 200; i++) {  // past the buffer's edge at every kind of place
    fhi_putf(&w, "%d,", i);
    fhi_put(&w, "rope;");
    want += (i < 10 ? 2u : i < 100 ? 3u : 4u) + 5u;
  }
  fhi_put_bytes(&w, big, sizeof big);
  fhi_putf(&w, "%.*s", 2500, big);  // longer than the buffer
  fhi_put_bytes(&w, NULL, 0);
  want += sizeof big + 2500;
  assert_status(fhi_writer_end(&w), FH_OK);
  assert_int_equal(text.count, want);
  assert_memory_equal(text.bytes, "0,rope;1,rope;2,rope;", 21);
  free(text.bytes);
}

static void after_the_first_failure_the_writer_is_silent(void **state) {
  (void)state;
  fh_test_text text = {NULL, 0, 1500};
  fhi_writer w;
  fhi_writer_start(&w, (fh_out){fh_test_collect, &text});
  for (int i = 0; i < 1000; i++) {
    fhi_put(&w, "0123456789");
  }
  fhi_putf(&w, "%d", 1);
  size_t kept = text.count;
  assert_status(fhi_writer_end(&w), FH_ERR_WRITE);
  assert_int_equal(text.count, kept);
  assert_true(kept <= 1500 && kept > 0);
  free(text.bytes);
  fhi_writer_start(&w, (fh_out){NULL, NULL});
  fhi_put(&w, "nowhere");
  assert_status(fhi_writer_end(&w), FH_ERR_ARG);
}

static void a_long_format_without_memory_is_reported(void **state) {
  (void)state;
#ifdef FHI_FAULT
  fh_test_text text = {NULL, 0, 0};
  fhi_writer w;
  fhi_writer_start(&w, (fh_out){fh_test_collect, &text});
  fhi_fault_after(1);
  fhi_putf(&w, "%2000d", 1);
  fhi_fault_after(0);
  assert_status(fhi_writer_end(&w), FH_ERR_MEMORY);
  assert_int_equal(text.count, 0);
  free(text.bytes);
#else
#error "unit tests are built with FHI_FAULT"
#endif
}

static char *escaped(void (*put)(fhi_writer *, const char *), const char *raw, fh_test_text *text) {
  fhi_writer w;
  *text = (fh_test_text){NULL, 0, 0};
  fhi_writer_start(&w, (fh_out){fh_test_collect, text});
  put(&w, raw);
  fhi_put(&w, "|");
  assert_status(fhi_writer_end(&w), FH_OK);
  return text->bytes;
}

static void json_text_is_escaped(void **state) {
  (void)state;
  static const char *const CASES[][2] = {
      {"plain", "\"plain\"|"},
      {"a\"b\\c\n\r\t\x01\x1f/", "\"a\\\"b\\\\c\\n\\r\\t\\u0001\\u001f/\"|"},
      {"Z\xC3\xBCrich \xE2\x82\xAC \xF0\x9F\x8F\x94", "\"Z\xC3\xBCrich \xE2\x82\xAC \xF0\x9F\x8F\x94\"|"},
      // Not UTF-8 (RFC 3629): a stray tail, a cut character, too long a form, a surrogate, past U+10FFFF, no lead byte.
      {"a\x80z", "\"a\xEF\xBF\xBDz\"|"},
      {"a\xC3", "\"a\xEF\xBF\xBD\"|"},
      {"\xC0\xAF", "\"\xEF\xBF\xBD\xEF\xBF\xBD\"|"},
      {"\xED\xA0\x80", "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\"|"},
      {"\xF4\x90\x80\x80", "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\"|"},
      {"\xFF", "\"\xEF\xBF\xBD\"|"},
      {"", "\"\"|"},
  };
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    fh_test_text text;
    assert_string_equal(escaped(fhi_put_json_text, CASES[i][0], &text), CASES[i][1]);
    free(text.bytes);
  }
}

static void xml_text_is_escaped(void **state) {
  (void)state;
  static const char *const CASES[][2] = {
      {"plain \xC2\xB0", "plain \xC2\xB0|"},
      {"<a b=\"c\" d='e'>&", "&lt;a b=&quot;c&quot; d=&#39;e&#39;&gt;&amp;|"},
      {"a\nb\tc\rd", "a b c d|"},
      {"a\x01\x1b\x7f"
       "b",
       "ab|"},
      {"a\xC2\x85"
       "b\xEF\xBF\xBE"
       "c\xEF\xBF\xBF",
       "abc|"},  // U+0085, U+FFFE, U+FFFF
      {"\xC3", "\xEF\xBF\xBD|"},
  };
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    fh_test_text text;
    assert_string_equal(escaped(fhi_put_xml_text, CASES[i][0], &text), CASES[i][1]);
    free(text.bytes);
  }
}

static void json_numbers_are_shortest_or_null(void **state) {
  (void)state;
  fh_test_text text = {NULL, 0, 0};
  fhi_writer w;
  fhi_writer_start(&w, (fh_out){fh_test_collect, &text});
  fhi_put_json_number(&w, 0.1);
  fhi_put(&w, " ");
  fhi_put_json_number(&w, (double)NAN);
  fhi_put(&w, " ");
  fhi_put_json_number(&w, -DBL_MAX);
  assert_status(fhi_writer_end(&w), FH_OK);
  assert_string_equal(text.bytes, "0.1 null -1.7976931348623157e308");
  free(text.bytes);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_copy_that_fits_is_whole),
      cmocka_unit_test(a_copy_is_cut_on_a_characters_edge),
      cmocka_unit_test(no_room_is_left_alone),
      cmocka_unit_test(text_that_is_not_utf8_is_cut_as_it_stands),
      cmocka_unit_test(accepted_forms_are_read),
      cmocka_unit_test(everything_else_is_refused),
      cmocka_unit_test(halves_go_to_even),
      cmocka_unit_test(digits_past_the_last_place_still_break_a_tie),
      cmocka_unit_test(shortest_is_json_and_short),
      cmocka_unit_test(shortest_reads_back_as_the_c_library_reads_it),
      cmocka_unit_test(shortest_of_everyday_numbers_is_the_c_librarys),
      cmocka_unit_test(decimals_read_as_the_c_library_reads_them),
      cmocka_unit_test(fixed_is_what_the_c_library_prints),
      cmocka_unit_test(fixed_has_a_point_and_no_minus_zero),
      cmocka_unit_test(a_number_is_never_cut_short),
      cmocka_unit_test(numbers_do_not_follow_the_locale),
      cmocka_unit_test(the_writer_passes_everything_on),
      cmocka_unit_test(after_the_first_failure_the_writer_is_silent),
      cmocka_unit_test(a_long_format_without_memory_is_reported),
      cmocka_unit_test(json_text_is_escaped),
      cmocka_unit_test(xml_text_is_escaped),
      cmocka_unit_test(json_numbers_are_shortest_or_null),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
