// SPDX-License-Identifier: MIT
// The library in use: how much force reaches the load when a rope runs round two carabiners, and how surely?
// Build: cc three_to_one.c $(pkg-config --cflags --libs firnhaul) -o three_to_one
#include <firnhaul.h>
#include <math.h>
#include <stdio.h>

int main(void) {
  fh_gear *gear = NULL;
  if (fh_gear_create(&gear) != FH_OK) {
    return 3;
  }
  int carabiner = fh_gear_find(gear, "carabiner");
  fh_band eta = fh_number_band(fh_gear_figure(gear, carabiner, "efficiency", NULL));
  // Hand, first carabiner on the moving grip, second one at the station, back to the grip: 1 + k + k^2, less friction.
  const double given[] = {eta.lo, eta.likely, eta.hi};
  for (int i = 0; i < 3; i++) {
    double k = 1.0;
    if (fh_contact_ratio(false, given[i], 0.0, acos(-1.0), &k) == FH_OK) {
      printf("efficiency %.2f at each carabiner: advantage %.2f of an ideal 3\n", given[i], 1.0 + 1.0 / k + 1.0 / (k * k));
    }
  }
  printf("An estimate for training: see the cautions in README.md.\n");
  fh_gear_destroy(gear);
  return 0;
}
