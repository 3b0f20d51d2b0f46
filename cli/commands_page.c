// SPDX-License-Identifier: MIT
// firnhaul page: the page in one file, with a scene to begin with if one is named; for a web site, its two side files as well.
#include "commands.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "file.h"
#include "page_data.h"
#include "report.h"

// What makes the page installable where it is served: a browser wants both as files of their own.
static const char MANIFEST[] =
    "{\"name\": \"firnhaul\", \"short_name\": \"firnhaul\", \"start_url\": \"firnhaul.html\", \"scope\": \"./\", \"display\": \"standalone\",\n"
    " \"background_color\": \"#eef3f6\", \"theme_color\": \"#00508c\",\n"
    " \"icons\": [{\"src\": \"firnhaul-icon.svg\", \"sizes\": \"any\", \"type\": \"image/svg+xml\", \"purpose\": \"any\"}]}\n";

static const char ICON[] =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 512 512\"><rect width=\"512\" height=\"512\" fill=\"#eef3f6\"/>"
    "<path d=\"M0 190h190l70 322H0zM260 190h252v322H420z\" fill=\"#b9cbd8\"/>"
    "<path d=\"M225 420V215q0-40 40-40h190\" fill=\"none\" stroke=\"#00508c\" stroke-width=\"26\" stroke-linecap=\"round\"/>"
    "<circle cx=\"225\" cy=\"420\" r=\"36\" fill=\"#10202c\"/></svg>\n";

// The page first from the net, so that a new one is seen at once; without the net from what was kept.
static const char OFFLINE[] =
    "'use strict';\n"
    "const KEPT = 'firnhaul-" FH_VERSION "';\n"
    "const FILES = ['firnhaul.html', 'firnhaul.webmanifest', 'firnhaul-icon.svg'];\n"
    "self.addEventListener('install', (event) => event.waitUntil(caches.open(KEPT).then((kept) => kept.addAll(FILES)).then(() => self.skipWaiting())));\n"
    "self.addEventListener('activate', (event) => event.waitUntil(caches.keys().then((names) => Promise.all(\n"
    "  names.filter((name) => name.startsWith('firnhaul-') && name !== KEPT).map((name) => caches.delete(name)))).then(() => self.clients.claim())));\n"
    "self.addEventListener('fetch', (event) => {\n"
    "  if (event.request.method === 'GET' && new URL(event.request.url).origin === location.origin) {\n"
    "    event.respondWith(fetch(event.request).catch(() => caches.match(event.request, {ignoreSearch: true})\n"
    "      .then((kept) => kept || caches.match('firnhaul.html'))));\n"
    "  }\n"
    "});\n";

// The scene to begin with, and what is said of it until the core runs in the page: two empty elements of the page, in this order.
static const char SCENE_PLACE[] = "id=\"start-scene\">";
static const char ANSWER_PLACE[] = "id=\"start-answer\">";

typedef struct beginning {
  cli_buffer scene;   // as the core writes it; empty: the page's own
  cli_buffer answer;  // as the core gives it (fhi_plans_write_brief)
} beginning;

// ---------------------------------------------------------------------------------------------------- the page itself

static const char *find_place(const char *place) {
  const char *at = strstr(cli_page, place);
  return at == NULL ? NULL : at + strlen(place);
}

static int put_bytes(fh_out out, const char *bytes, size_t count) {
  return count == 0 ? 0 : out.write(out.user, bytes, count);
}

// As a JSON text that no script element can end in: < and > are written as escapes.
static int put_as_json(fh_out out, const cli_buffer *scene) {
  int failed = put_bytes(out, "\"", 1);
  for (size_t i = 0; i < scene->used && failed == 0; i++) {
    char code[8];
    unsigned char c = (unsigned char)scene->text[i];
    if (c < 0x20 || c == '"' || c == '\\' || c == '<' || c == '>') {
      (void)fhi_format(code, sizeof code, "\\u%04x", (unsigned)c);
      failed = put_bytes(out, code, 6);
    } else {
      failed = put_bytes(out, scene->text + i, 1);
    }
  }
  return failed != 0 ? failed : put_bytes(out, "\"", 1);
}

static fh_status write_page(void *context, fh_out out) {
  const beginning *begin = context;
  const char *scene = find_place(SCENE_PLACE);
  const char *answer = find_place(ANSWER_PLACE);
  if (scene == NULL || answer == NULL || answer < scene) {
    return FH_ERR_WRITE;  // cannot be: the build puts them there
  }
  int failed = put_bytes(out, cli_page, (size_t)(scene - cli_page));
  if (failed == 0 && begin->scene.used > 0) {
    failed = put_as_json(out, &begin->scene);
  }
  if (failed == 0) {
    failed = put_bytes(out, scene, (size_t)(answer - scene));
  }
  if (failed == 0) {
    failed = put_bytes(out, begin->answer.text, begin->answer.used);
  }
  if (failed == 0) {
    failed = put_bytes(out, answer, (size_t)cli_page_count - (size_t)(answer - cli_page));
  }
  return failed == 0 ? FH_OK : FH_ERR_WRITE;
}

// ---------------------------------------------------------------------------------------------------- a site

static int write_file(const char *path, cli_write_fn fn, void *context) {
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

static fh_status write_text(void *context, fh_out out) {
  const char *text = context;
  return put_bytes(out, text, strlen(text)) == 0 ? FH_OK : FH_ERR_WRITE;
}

static int write_site(const char *folder, beginning *begin) {
  static const struct {
    const char *name, *text;
  } files[] = {{"firnhaul.webmanifest", MANIFEST}, {"firnhaul-icon.svg", ICON}, {"firnhaul-offline.js", OFFLINE}};
  char path[4096];
  if (mkdir(folder, 0777) != 0 && errno != EEXIST) {
    (void)fprintf(stderr, "firnhaul: %s: cannot make the folder: %s\n", folder, strerror(errno));
    return CLI_FAILED;
  }
  if (!fhi_format(path, sizeof path, "%s/firnhaul.html", folder)) {
    return cli_refuse("the folder's name is too long");
  }
  int status = write_file(path, write_page, begin);
  for (size_t i = 0; i < sizeof files / sizeof files[0] && status == CLI_DONE; i++) {
    (void)fhi_format(path, sizeof path, "%s/%s", folder, files[i].name);
    status = write_file(path, write_text, (void *)(uintptr_t)files[i].text);
  }
  return status;
}

// ---------------------------------------------------------------------------------------------------- the command

// What the page says of the scene in its first moment: numbers and set words of the core's, nothing of the scene's own text.
static fh_status write_answer(const cli_case *c, fh_out out) {
  fh_plan_opts opts = fh_plan_opts_default();
  fh_plans *plans = NULL;
  opts.prefer = c->scene->prefer;
  fh_status status = fh_plans_create(c->scene, c->gear, &opts, &plans);
  if (status == FH_OK) {
    status = fhi_plans_write_brief(c->scene, c->gear, plans, out);
  }
  fh_plans_destroy(plans);
  return status;
}

// The scene as the core writes it, checked like any other, and its answer.
static int read_scene(const cli_options *o, beginning *begin) {
  cli_case c;
  int status = cli_case_open(o, &c);
  if (status == CLI_DONE) {
    status = cli_fail(fh_scene_write_yaml(c.scene, c.gear, cli_buffer_out(&begin->scene)));
    status = status == CLI_DONE ? cli_fail(write_answer(&c, cli_buffer_out(&begin->answer))) : status;
    cli_case_close(&c);
  }
  return status;
}

int cli_run_page(const cli_options *o) {
  if (cli_page_count == 0) {
    (void)fprintf(stderr, "firnhaul: this program was built without the page; ./run page builds it\n");
    return CLI_FAILED;
  }
  if (o->given[CLI_SITE] && o->given[CLI_OUTPUT]) {
    return cli_refuse("two places for the page; accepted: --output FILE or --site DIR");
  }
  beginning begin = {0};
  int status = o->operand != NULL ? read_scene(o, &begin) : CLI_DONE;
  if (status == CLI_DONE) {
    status = o->given[CLI_SITE] ? write_site(o->text[CLI_SITE], &begin) : cli_write_main(o, write_page, &begin);
  }
  cli_buffer_free(&begin.scene);
  cli_buffer_free(&begin.answer);
  return status;
}
