// SPDX-License-Identifier: MIT
// Runs a fuzz target once over every file of the directories and files named: what fuzzing found stays fixed.
// usage: replay_TARGET PATH ...   Fails when a path cannot be read, or when there was nothing to run.
#define _POSIX_C_SOURCE 200809L
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

// @return 1 when the file ran, -1 when it could not be read
static int replay_file(const char *path) {
  FILE *file = fopen(path, "rb");
  uint8_t *bytes = NULL;
  size_t count = 0;
  size_t room = 0;
  int result = -1;
  while (file != NULL) {
    if (count == room) {
      room = room == 0 ? 65536 : 2 * room;
      uint8_t *grown = realloc(bytes, room);
      if (grown == NULL) {
        break;
      }
      bytes = grown;
    }
    size_t got = fread(bytes + count, 1, room - count, file);
    count += got;
    if (got == 0) {
      result = ferror(file) ? -1 : 1;
      break;
    }
  }
  if (file != NULL) {
    (void)fclose(file);
  }
  if (result == 1) {
    // A copy of exactly this size, so that the sanitizer sees a read past the end.
    uint8_t *exact = malloc(count == 0 ? 1 : count);
    if (exact == NULL) {
      result = -1;
    } else {
      memcpy(exact, bytes, count);
      (void)LLVMFuzzerTestOneInput(exact, count);
      free(exact);
    }
  }
  free(bytes);
  return result;
}

// @return how many files ran, or -1
static int replay_path(const char *path) {
  DIR *directory = opendir(path);
  if (directory == NULL) {
    return replay_file(path);
  }
  int ran = 0;
  for (struct dirent *entry = readdir(directory); entry != NULL && ran >= 0; entry = readdir(directory)) {
    char name[4096];
    if (entry->d_name[0] == '.') {
      continue;
    }
    (void)snprintf(name, sizeof name, "%s/%s", path, entry->d_name);
    int one = replay_file(name);
    if (one < 0) {
      (void)fprintf(stderr, "%s: cannot be read\n", name);
    }
    ran = one < 0 ? -1 : ran + one;
  }
  (void)closedir(directory);
  return ran;
}

int main(int argc, char **argv) {
  int ran = 0;
  for (int i = 1; i < argc; i++) {
    int some = replay_path(argv[i]);
    if (some < 0) {
      (void)fprintf(stderr, "%s: cannot be read\n", argv[i]);
      return 1;
    }
    ran += some;
  }
  (void)printf("%d inputs replayed\n", ran);
  return ran > 0 ? 0 : 1;
}
