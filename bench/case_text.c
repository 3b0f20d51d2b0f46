// SPDX-License-Identifier: MIT
// Numbers out and in again: our shortest text that reads back, against the C library's 17 digits and strtod.
#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "text.h"

enum { NUMBERS = 1000 };

static bool start(void **state) {
  double *numbers = malloc(NUMBERS * sizeof *numbers);
  for (int i = 0; numbers != NULL && i < NUMBERS; i++) {
    // Half of them what people write, half what a computation leaves.
    numbers[i] = i % 2 == 0 ? i / 8.0 : 1000.0 / (i + 3.0);
  }
  *state = numbers;
  return numbers != NULL;
}

static long ours(void *state) {
  const double *numbers = state;
  double sum = 0.0;
  for (int i = 0; i < NUMBERS; i++) {
    char text[32];
    double back = 0.0;
    fhi_shortest(text, sizeof text, numbers[i]);
    sum += fhi_parse_number(text, strlen(text), &back) ? back - numbers[i] : 1.0;
  }
  return sum < 0.0 || sum > 0.0 ? 0 : NUMBERS;
}

static long reference(void *state) {
  const double *numbers = state;
  double sum = 0.0;
  for (int i = 0; i < NUMBERS; i++) {
    char text[32];
    (void)snprintf(text, sizeof text, "%.17g", numbers[i]);
    sum += strtod(text, NULL) - numbers[i];
  }
  return sum < 0.0 || sum > 0.0 ? 0 : NUMBERS;
}

const bench_case bench_text = {
    "text",   "shortest text of a number and back; reference: the C library's 17 digits and strtod",
    "number", start,
    ours,     reference,
    free,     0.0,
    0.0,      0.0};
