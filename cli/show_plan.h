// SPDX-License-Identifier: MIT
// What plan says about the rigs that it found.
#ifndef CLI_SHOW_PLAN_H
#define CLI_SHOW_PLAN_H

#include "commands.h"

typedef struct cli_planned {
  const cli_options *o;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_plans *plans;
} cli_planned;

/// The list for people. A cli_show_fn; context is a cli_planned.
fh_status cli_show_plans(void *context, cli_screen *s);

#endif
