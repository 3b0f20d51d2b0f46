// SPDX-License-Identifier: MIT
// firnhaul sheet: the build sheet as cards, as a page, as HTML, as text. A rig that would be unsafe to build gets none.
#include "rescue.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "file.h"
#include "render.h"
#include "report.h"
#include "words.h"

typedef struct sheet_case {
  cli_rescue *r;
  const fh_sheet *sheet;
} sheet_case;

static fh_status write_json(void *context, fh_out out) {
  const sheet_case *c = context;
  return fh_stages_write_json(c->r->scene, c->r->gear, c->r->rig, fh_sheet_stages(c->sheet), out);
}

static fh_status write_html(void *context, fh_out out) {
  const sheet_case *c = context;
  return fh_sheet_write_html(c->sheet, out);
}

static fh_status draw_page(void *context, fh_out out) {
  const sheet_case *c = context;
  return fh_sheet_write_page(c->sheet, c->r->o->given[CLI_PAGE] ? (int)c->r->o->number[CLI_PAGE] - 1 : 0, out);
}

// ---------------------------------------------------------------------------------------------------- text

static int put_line(void *user, const char *bytes, size_t count) {
  return cli_buffer_out(user).write(user, bytes, count);
}

// Paragraphs come one a line; here they are broken to the screen.
static void put_paragraphs(cli_screen *s, char *text) {
  bool heading = true;
  for (char *line = text; line != NULL && *line != '\0';) {
    char *end = strchr(line, '\n');
    if (end != NULL) {
      *end = '\0';
    }
    if (line[0] == '\0') {
      cli_put(s, "\n");
      heading = true;
    } else if (heading) {
      cli_put_heading(s, line);
      heading = false;
    } else {
      size_t lead = strncmp(line, "  [ ] ", 6) == 0 ? 6 : strncmp(line, "  !! ", 5) == 0 ? 5 : 2;
      char mark[8];
      (void)fhi_format(mark, sizeof mark, "%.*s", (int)lead, line);
      cli_put_wrapped(s, lead == 5 ? CLI_WARN : CLI_PLAIN, mark, line + lead);
    }
    line = end != NULL ? end + 1 : NULL;
  }
}

static fh_status show(void *context, cli_screen *s) {
  const sheet_case *c = context;
  cli_buffer b = {0};
  fh_status status = fh_sheet_write_text(c->sheet, (fh_out){put_line, &b});
  if (status == FH_OK) {
    if (c->r->scene->title[0] != '\0') {
      cli_put_heading(s, c->r->scene->title);
      cli_put(s, "\n");
    }
    put_paragraphs(s, b.text);
    cli_put(s, "\n");
    cli_put_wrapped(s, CLI_PLAIN, "", fhi_say(s->language, FHI_CAUTION));
  }
  cli_buffer_free(&b);
  return status;
}

// ---------------------------------------------------------------------------------------------------- files

// All pages are drawn before the first byte is written.
static int write_pdf(const sheet_case *c) {
  int pages = fh_sheet_page_count(c->sheet);
  cli_buffer *buffers = calloc((size_t)pages, sizeof *buffers);
  const char **svgs = calloc((size_t)pages, sizeof *svgs);
  size_t *counts = calloc((size_t)pages, sizeof *counts);
  bool there = buffers != NULL && svgs != NULL && counts != NULL;
  int status = there ? CLI_DONE : cli_fail(FH_ERR_MEMORY);
  for (int i = 0; there && i < pages && status == CLI_DONE; i++) {
    status = cli_fail(fh_sheet_write_page(c->sheet, i, cli_buffer_out(&buffers[i])));
    svgs[i] = buffers[i].text;
    counts[i] = buffers[i].used;
  }
  if (status == CLI_DONE) {
    double width = 0.0;
    double height = 0.0;
    fh_sheet_size(c->sheet, &width, &height);
    status = cli_render_pages(svgs, counts, pages, width, height, c->r->o->text[CLI_PDF]);
  }
  for (int i = 0; there && i < pages; i++) {
    cli_buffer_free(&buffers[i]);
  }
  free(counts);
  free(svgs);
  free(buffers);
  return status;
}

static int write_one_page(const sheet_case *c) {
  cli_options one = *c->r->o;
  one.given[CLI_PDF] = false;
  return cli_write_figures(&one, draw_page, (void *)(uintptr_t)c);
}

static int write_html_file(const sheet_case *c) {
  cli_options one = *c->r->o;
  one.given[CLI_OUTPUT] = true;
  one.text[CLI_OUTPUT] = one.text[CLI_HTML];
  return cli_write_main(&one, write_html, (void *)(uintptr_t)c);
}

static int write_files(const sheet_case *c) {
  const cli_options *o = c->r->o;
  int status = CLI_DONE;
  if (o->given[CLI_PDF]) {
    status = write_pdf(c);
  }
  if (status == CLI_DONE && (o->given[CLI_SVG] || o->given[CLI_PNG])) {
    status = write_one_page(c);
  }
  if (status == CLI_DONE && o->given[CLI_HTML]) {
    status = write_html_file(c);
  }
  return status;
}

// ---------------------------------------------------------------------------------------------------- the answer

// Why there is no sheet, one line a reason, with its step.
static int refuse(const sheet_case *c) {
  const fh_stages *stages = fh_sheet_stages(c->sheet);
  char text[300];
  char clean[600];
  for (int i = 0; i < stages->finding_count; i++) {
    if (stages->findings[i].level == FH_NOTE_NO) {
      cli_finding(text, sizeof text, &stages->findings[i], stages->language);
      (void)fprintf(stderr, "firnhaul: %s%s\n", fhi_say(stages->language, "no sheet, it would be unsafe to build by it: "),
                    cli_text_clean(clean, sizeof clean, text));
    }
  }
  return CLI_ANSWER_NO;
}

static int check_page(const sheet_case *c) {
  const cli_options *o = c->r->o;
  int pages = fh_sheet_page_count(c->sheet);
  if (o->given[CLI_PAGE] && (int)o->number[CLI_PAGE] > pages) {
    (void)fprintf(stderr, "firnhaul: --page does not take '%d'; accepted: a whole number from 1 to %d\n", (int)o->number[CLI_PAGE], pages);
    return CLI_INPUT_WRONG;
  }
  return CLI_DONE;
}

static bool main_is_free(const cli_options *o) {
  bool html = o->given[CLI_HTML] && strcmp(o->text[CLI_HTML], "-") == 0;
  return cli_main_is_free(o) && (!html || (o->given[CLI_OUTPUT] && strcmp(o->text[CLI_OUTPUT], "-") != 0));
}

static int write_all(const sheet_case *c) {
  const cli_options *o = c->r->o;
  void *context = (void *)(uintptr_t)c;  // the writers take it back as const
  if (fh_sheet_refused(c->sheet)) {
    int status = o->given[CLI_JSON] ? cli_write_main(o, write_json, context) : CLI_DONE;
    return status == CLI_DONE ? refuse(c) : status;
  }
  int status = check_page(c);
  if (status == CLI_DONE) {
    status = write_files(c);
  }
  if (status == CLI_DONE && o->given[CLI_JSON]) {
    status = cli_write_main(o, write_json, context);
  } else if (status == CLI_DONE && main_is_free(o)) {
    status = cli_show_main(o, show, context);
  }
  return status;
}

static int work(cli_rescue *r) {
  fh_paper paper = r->o->given[CLI_PAPER] && r->o->choice[CLI_PAPER] == 1 ? FH_PAPER_A4 : FH_PAPER_A6;
  fh_sheet *sheet = NULL;
  int status = cli_fail(fh_sheet_create(r->scene, r->gear, r->rig, NULL, paper, cli_options_units(r->o), &sheet));
  if (status == CLI_DONE) {
    sheet_case c = {r, sheet};
    status = write_all(&c);
  }
  fh_sheet_destroy(sheet);
  return status;
}

int cli_run_sheet(const cli_options *o) {
  bool html = o->given[CLI_HTML] && strcmp(o->text[CLI_HTML], "-") == 0;
  if (html && (!cli_main_is_free(o) || o->given[CLI_JSON])) {
    return cli_refuse("two things for standard output; accepted: a file's name for all but one of them");
  }
  if (o->given[CLI_PAGE] && !o->given[CLI_SVG] && !o->given[CLI_PNG]) {
    return cli_refuse("--page says which, not where; accepted: with --svg FILE or --png FILE (a PDF holds all pages)");
  }
  return cli_rescue_run(o, true, work);
}
