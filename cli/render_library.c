// SPDX-License-Identifier: MIT
// Loads librsvg, and through it cairo and GLib, at the first picture. See render_library.h for why.
#ifdef FH_RENDER
#define CLI_RENDER_LIBRARY_SOURCE
#include "render_library.h"

#include <dlfcn.h>
#include <string.h>

cli_render_functions cli_render_library;

// The name under which every version since 2.46 (2019) is installed; what we call came with that version.
static const char NAME[] = "librsvg-2.so.2";

typedef struct row {
  const char *name;
  void *place;  // the pointer to the function
} row;

const char *cli_render_library_load(void) {
  static bool loaded;
  if (loaded) {
    return NULL;
  }
  const row rows[] = {
#define X(name) {#name, &cli_render_library.name},
      CLI_RENDER_FUNCTIONS(X)
#undef X
  };
  void *library = dlopen(NAME, RTLD_NOW | RTLD_LOCAL);
  for (unsigned i = 0; library != NULL && i < sizeof rows / sizeof *rows; i++) {
    void *function = dlsym(library, rows[i].name);
    if (function == NULL) {
      return dlerror();
    }
    // POSIX has pointers to functions and to void alike (dlsym); C has no conversion between them.
    memcpy(rows[i].place, &function, sizeof function);
  }
  loaded = library != NULL;
  return loaded ? NULL : dlerror();
}

#else
typedef int cli_no_render_library;
#endif
