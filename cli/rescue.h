// SPDX-License-Identifier: MIT
// What haul, lose and sheet share: a scene that must hold a rig, what they work out of it, and the findings in words.
#ifndef CLI_RESCUE_H
#define CLI_RESCUE_H

#include "commands.h"
#include "firnhaul_rescue.h"
#include "units.h"

int cli_run_haul(const cli_options *o);
int cli_run_lose(const cli_options *o);
int cli_run_rope(const cli_options *o);
int cli_run_sheet(const cli_options *o);

/// What one of the commands tells about; what it does not need is NULL.
typedef struct cli_rescue {
  const cli_options *o;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  const fh_stages *stages;  ///< with findings
  const fh_haul *haul;
  const fh_lose *lose;
  const struct fh_haul_chance *haul_chance;  ///< NULL when not asked for
  const struct fh_lose_chance *lose_chance;  ///< NULL when not asked for
  fh_budget_in budget_in;
  fh_budget_out budget;
} cli_rescue;

/// Reads the scene and calls `work` with it when it holds a rig. @return the exit status
typedef int (*cli_rescue_fn)(cli_rescue *r);
int cli_rescue_run(const cli_options *o, bool needs_rig, cli_rescue_fn work);

/// Writes figures, then the report in the form asked for. NULL: that form is not offered. @return the exit status
typedef struct cli_rescue_forms {
  cli_write_fn draw, json, csv;
  cli_show_fn show;
} cli_rescue_forms;
int cli_rescue_write(cli_rescue *r, const cli_rescue_forms *forms);

/// One finding as a line: "step 4: ...".
const char *cli_finding(char *to, size_t size, const fh_finding *finding, fh_language language);
/// Findings on the screen, worst first.
void cli_put_findings(cli_screen *s, const fh_stages *stages);
/// A name and its figure, as check prints them.
void cli_put_fact(cli_screen *s, const char *name, const char *text);

fh_status cli_show_haul(void *context, cli_screen *s);  ///< a cli_show_fn; context is a cli_rescue
fh_status cli_show_lose(void *context, cli_screen *s);  ///< likewise
fh_status cli_show_rope(void *context, cli_screen *s);  ///< likewise

#endif
