// SPDX-License-Identifier: MIT
// Scenes for the benchmark, read as users write them.
#ifndef BENCH_SCENES_H
#define BENCH_SCENES_H

#include "firnhaul.h"

typedef struct bench_scene {
  fh_gear *gear;
  fh_scene *scene;
} bench_scene;

/// Reads a scene from YAML text. @return NULL when it is refused (the reason goes to standard error)
bench_scene *bench_scene_create(const char *yaml);
void bench_scene_destroy(void *scene);

/// A scene with a kit of so many pieces, in YAML. @param text at least 2048 bytes
void bench_kit_yaml(char *text, size_t size, int captures, int pulleys, int carabiners, int hitches, int ropes, int cords);

#endif
