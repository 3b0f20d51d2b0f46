// SPDX-License-Identifier: MIT
// The library in use: what must the hand pull on a Z, three to one, over a padded edge? The scene goes in event by event, so
// that any reader of YAML or JSON can feed it; here it is words with spaces between.
// Build: cc three_to_one.c $(pkg-config --cflags --libs firnhaul) -o three_to_one
#include <firnhaul.h>
#include <stdio.h>
#include <string.h>

static const char SCENE[] =
    "{ firnhaul 1 load { mass_kg [ 85 100 ] } slot { depth_m 8 } lip { surface padded } ground { station_m 4 } "
    "rig { ropes [ { name main path [ { tie load } { edge lip } { run station on toothed-capture } { run block on pulley } "
    "{ hand crew } ] } ] grips [ { body block hitch prusik rope main after 1 at_m 1.2 } ] } }";

static void feed(fh_doc *doc, const char *text) {
  for (size_t n; (n = strcspn(text, " ")) > 0; text += n + (text[n] == ' ')) {
    fh_status s = *text == '{'   ? fh_doc_map_begin(doc, 1, 1)
                  : *text == '}' ? fh_doc_map_end(doc)
                  : *text == '[' ? fh_doc_list_begin(doc, 1, 1)
                  : *text == ']' ? fh_doc_list_end(doc)
                                 : fh_doc_scalar(doc, text, n, false, 1, 1);
    if (s != FH_OK) {
      return;  // the scene then says what is missing
    }
  }
}

int main(void) {
  fh_doc *doc = NULL;
  fh_gear *gear = NULL;
  fh_scene *scene = NULL;
  fh_check *check = NULL;
  fh_diag wrong = {0};
  if (fh_doc_create(&doc) == FH_OK && fh_gear_create(&gear) == FH_OK) {
    feed(doc, SCENE);
    fh_status status = fh_scene_create(doc, gear, &scene, &wrong);
    status = status == FH_OK ? fh_check_create(scene, gear, &scene->rig, NULL, &check) : status;
    if (status != FH_OK) {
      printf("%s %s\n", fh_status_text(status), wrong.message);
    } else if (check->outcome != FH_OUTCOME_SOLVED) {
      printf("This rig does not raise the load: %s\n", check->why);
    } else {
      printf("Pull %.0f N, from %.0f to %.0f; advantage %.1f of an ideal %.0f.\n", check->hand_force.likely,
             check->hand_force.lo, check->hand_force.hi, check->actual_advantage.likely, check->ideal_advantage);
      printf("An estimate for training: see the cautions in README.md.\n");
    }
  }
  int done = check != NULL && check->outcome == FH_OUTCOME_SOLVED;
  fh_check_destroy(check);
  fh_scene_destroy(scene);
  fh_gear_destroy(gear);
  fh_doc_destroy(doc);
  return done ? 0 : 3;
}
