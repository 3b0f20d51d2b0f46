// SPDX-License-Identifier: MIT
// The commands, and what they share: a scene and its gear read from files, and text, rows and figures written out.
#ifndef CLI_COMMANDS_H
#define CLI_COMMANDS_H

#include "options.h"
#include "screen.h"

/// Exit status of the program.
enum { CLI_DONE = 0, CLI_ANSWER_NO = 1, CLI_INPUT_WRONG = 2, CLI_FAILED = 3 };

int cli_run_check(const cli_options *o);
int cli_run_plan(const cli_options *o);
int cli_run_anchor(const cli_options *o);
int cli_run_page(const cli_options *o);
int cli_run_fit(const cli_options *o);
int cli_run_study(const cli_options *o);
int cli_run_team(const cli_options *o);
int cli_run_gear(const cli_options *o);
int cli_run_keys(const cli_options *o);
int cli_run_help(const cli_options *o);
int cli_run_version(const cli_options *o);

/// What most commands work on.
typedef struct cli_case {
  fh_gear *gear;
  fh_scene *scene;
} cli_case;

/// Reads the gear files. Says on standard error what is wrong. @return CLI_DONE or the exit status
int cli_gear_open(const cli_options *o, fh_gear **gear);
/// Reads gear files and the scene. @return CLI_DONE or the exit status
int cli_case_open(const cli_options *o, cli_case *c);
void cli_case_close(cli_case *c);

/// Says a wrong use of the options. @return CLI_INPUT_WRONG
int cli_refuse(const char *message);
/// Says what failed. @return CLI_FAILED, or CLI_DONE for FH_OK
int cli_fail(fh_status status);

/// Something that writes a document.
typedef fh_status (*cli_write_fn)(void *context, fh_out out);
/// Something that writes text for people.
typedef fh_status (*cli_show_fn)(void *context, cli_screen *screen);

/// Writes a document to -o FILE or standard output. @return CLI_DONE or CLI_FAILED
int cli_write_main(const cli_options *o, cli_write_fn fn, void *context);
/// Writes text for people there. @return CLI_DONE or CLI_FAILED
int cli_show_main(const cli_options *o, cli_show_fn fn, void *context);
/// Draws the figure to each of --svg, --png and --pdf that was given. @return CLI_DONE or CLI_FAILED
int cli_write_figures(const cli_options *o, cli_write_fn draw, void *context);

bool cli_wants_figure(const cli_options *o);
/// Is standard output free for the command's text? Not when a figure goes there.
bool cli_main_is_free(const cli_options *o);
/// Are the outputs asked for possible together? Says so when not. @return CLI_DONE or CLI_INPUT_WRONG
int cli_outputs_agree(const cli_options *o);

// ---------------------------------------------------------------------------------------------------- a rig, worked out

/// What check prints, and plan for the rig that was picked.
typedef struct cli_checked {
  const cli_options *o;
  const fh_scene *scene;
  const fh_gear *gear;
  const fh_rig *rig;
  const fh_check *check;
  const struct fh_chance *chance;  ///< NULL when not asked for
} cli_checked;

/// Works a rig out and writes all that was asked for. @return the exit status
int cli_check_rig(const cli_options *o, const fh_scene *scene, const fh_gear *gear, const fh_rig *rig);
/// The report for people. A cli_show_fn; context is a cli_checked.
fh_status cli_show_check(void *context, cli_screen *s);

#endif
