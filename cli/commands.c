// SPDX-License-Identifier: MIT
// What do the commands share? A scene and its gear come in from files; text and figures go out, each to its place.
#include "commands.h"

#include <stdio.h>
#include <string.h>

#include "file.h"
#include "render.h"
#include "yaml.h"

int cli_refuse(const char *message) {
  (void)fprintf(stderr, "firnhaul: %s\n", message);
  return CLI_INPUT_WRONG;
}

int cli_fail(fh_status status) {
  if (status == FH_OK) {
    return CLI_DONE;
  }
  (void)fprintf(stderr, "firnhaul: %s\n", fh_status_text(status));
  return CLI_FAILED;
}

// ---------------------------------------------------------------------------------------------------- in

static int gear_add_file(fh_gear *gear, const char *path) {
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  fh_status status = cli_yaml_read(path, &doc, &diag);
  if (status == FH_OK) {
    status = fh_gear_add(gear, doc, &diag);
  }
  fh_doc_destroy(doc);
  return cli_yaml_complain(path, status, &diag);
}

int cli_gear_open(const cli_options *o, fh_gear **gear) {
  *gear = NULL;
  int status = cli_fail(fh_gear_create(gear));
  for (int i = 0; i < o->gear_count && status == CLI_DONE; i++) {
    status = gear_add_file(*gear, o->gear[i]);
  }
  if (status != CLI_DONE) {
    fh_gear_destroy(*gear);
    *gear = NULL;
  }
  return status;
}

// Standard input can be read once.
static bool reads_standard_input_twice(const cli_options *o) {
  int times = o->operand != NULL && strcmp(o->operand, "-") == 0 ? 1 : 0;
  for (int i = 0; i < o->gear_count; i++) {
    times += strcmp(o->gear[i], "-") == 0 ? 1 : 0;
  }
  return times > 1;
}

int cli_case_open(const cli_options *o, cli_case *c) {
  *c = (cli_case){NULL, NULL};
  if (reads_standard_input_twice(o)) {
    return cli_refuse("standard input was asked for twice; accepted: - for one file only");
  }
  int status = cli_gear_open(o, &c->gear);
  if (status != CLI_DONE) {
    return status;
  }
  fh_doc *doc = NULL;
  fh_diag diag = {0};
  fh_status read = cli_yaml_read(o->operand, &doc, &diag);
  if (read == FH_OK) {
    read = fh_scene_create(doc, c->gear, &c->scene, &diag);
  }
  fh_doc_destroy(doc);
  status = cli_yaml_complain(o->operand, read, &diag);
  if (status != CLI_DONE) {
    cli_case_close(c);
    return status;
  }
  c->scene->language = cli_options_language(o);
  return status;
}

void cli_case_close(cli_case *c) {
  fh_scene_destroy(c->scene);
  fh_gear_destroy(c->gear);
  *c = (cli_case){NULL, NULL};
}

// ---------------------------------------------------------------------------------------------------- out

static const cli_option_id FIGURES[] = {CLI_SVG, CLI_PNG, CLI_PDF};

static bool is_standard(const cli_options *o, cli_option_id id) {
  return o->given[id] && strcmp(o->text[id], "-") == 0;
}

bool cli_wants_figure(const cli_options *o) {
  return o->given[CLI_SVG] || o->given[CLI_PNG] || o->given[CLI_PDF];
}

bool cli_main_is_free(const cli_options *o) {
  bool elsewhere = o->given[CLI_OUTPUT] && !is_standard(o, CLI_OUTPUT);
  return elsewhere || !(is_standard(o, CLI_SVG) || is_standard(o, CLI_PNG) || is_standard(o, CLI_PDF));
}

static int refuse_path(const char *what, const char *path, const char *accepted) {
  char shown[200];
  (void)fprintf(stderr, "firnhaul: %s '%s'; accepted: %s\n", what, cli_text_clean(shown, sizeof shown, path), accepted);
  return CLI_INPUT_WRONG;
}

// An output must not take the place of what was read, nor of another output. A scene put back as a scene may.
static int paths_agree(const cli_options *o) {
  static const cli_option_id OUT[] = {CLI_OUTPUT, CLI_SVG, CLI_PNG, CLI_PDF, CLI_HTML};
  bool reads_file = o->operand != NULL && o->command->operand != NULL && strcmp(o->command->operand, "FILE") == 0;
  for (size_t i = 0; i < sizeof OUT / sizeof OUT[0]; i++) {
    if (!o->given[OUT[i]]) {
      continue;
    }
    const char *path = o->text[OUT[i]];
    bool put_back = OUT[i] == CLI_OUTPUT && o->given[CLI_YAML];
    if (reads_file && !put_back && cli_same_file(path, o->operand)) {
      return refuse_path("this would write over the scene", path, "another file's name");
    }
    for (int g = 0; g < o->gear_count; g++) {
      if (cli_same_file(path, o->gear[g])) {
        return refuse_path("this would write over the gear", path, "another file's name");
      }
    }
    for (size_t k = 0; k < i; k++) {
      if (o->given[OUT[k]] && cli_same_file(path, o->text[OUT[k]])) {
        return refuse_path("two things for one file", path, "a file's name for each");
      }
    }
  }
  return CLI_DONE;
}

int cli_outputs_agree(const cli_options *o) {
  int forms = o->given[CLI_JSON] + o->given[CLI_CSV] + o->given[CLI_YAML];
  int standard = is_standard(o, CLI_SVG) + is_standard(o, CLI_PNG) + is_standard(o, CLI_PDF);
  if (forms > 1) {
    return cli_refuse("two forms at once; accepted: one of --json, --csv, --yaml");
  }
  if (standard > 1 || (standard == 1 && (forms == 1 || o->given[CLI_OUTPUT]) && !cli_main_is_free(o))) {
    return cli_refuse("two things for standard output; accepted: a file's name for all but one of them");
  }
  if (!cli_wants_figure(o) && o->given[CLI_FIGURE]) {
    return cli_refuse("--figure says which, not where; accepted: with --svg FILE, --png FILE or --pdf FILE");
  }
  return paths_agree(o);
}

static int write_to(const char *path, cli_write_fn fn, void *context) {
  cli_sink sink;
  if (!cli_sink_open(&sink, path)) {
    return CLI_FAILED;
  }
  fh_status status = fn(context, cli_sink_out(&sink));
  if (status != FH_OK && status != FH_ERR_WRITE) {
    cli_sink_abandon(&sink);
    return cli_fail(status);
  }
  return cli_sink_close(&sink) ? CLI_DONE : CLI_FAILED;
}

static const char *main_path(const cli_options *o) {
  return o->given[CLI_OUTPUT] ? o->text[CLI_OUTPUT] : "-";
}

int cli_write_main(const cli_options *o, cli_write_fn fn, void *context) {
  return write_to(main_path(o), fn, context);
}

typedef struct shown {
  const cli_options *o;
  cli_show_fn fn;
  void *context;
} shown;

static fh_status show(void *user, fh_out out) {
  const shown *what = user;
  cli_screen s;
  bool terminal = strcmp(main_path(what->o), "-") == 0;
  cli_screen_start(&s, out, cli_screen_width(cli_options_width(what->o)), cli_screen_colour(what->o->given[CLI_NO_COLOR], terminal));
  s.language = cli_options_language(what->o);
  fh_status status = what->fn(what->context, &s);
  fh_status end = cli_screen_end(&s);
  return end != FH_OK ? end : status;
}

int cli_show_main(const cli_options *o, cli_show_fn fn, void *context) {
  shown what = {o, fn, context};
  return cli_write_main(o, show, &what);
}

// A finished text, written out.
static fh_status write_buffer(void *user, fh_out out) {
  const cli_buffer *b = user;
  return out.write(out.user, b->text, b->used) == 0 ? FH_OK : FH_ERR_WRITE;
}

static int write_figure(const cli_options *o, cli_option_id id, const cli_buffer *svg) {
  const char *path = o->text[id];
  cli_buffer copy = *svg;
  return id == CLI_SVG ? write_to(path, write_buffer, &copy) : cli_render(svg->text, svg->used, id == CLI_PDF, path);
}

int cli_write_figures(const cli_options *o, cli_write_fn draw, void *context) {
  if (!cli_wants_figure(o)) {
    return CLI_DONE;
  }
  // Drawn once, in memory: a figure that fails then leaves no file at all.
  cli_buffer svg = {0};
  int status = cli_fail(draw(context, cli_buffer_out(&svg)));
  for (int i = 0; i < 3 && status == CLI_DONE; i++) {
    if (o->given[FIGURES[i]]) {
      status = write_figure(o, FIGURES[i], &svg);
    }
  }
  cli_buffer_free(&svg);
  return status;
}
