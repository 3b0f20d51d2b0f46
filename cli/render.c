// SPDX-License-Identifier: MIT
// How does a figure become a picture or a page? librsvg reads the SVG, cairo writes PNG or PDF. Text stays text in a PDF.
#include "render.h"

#include <stdio.h>

#include "commands.h"
#include "file.h"
#include "text.h"

#ifdef FH_RENDER

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "render_library.h"

static const double PIXELS = 3.0;  // [1/pt] 216 dpi: sharp on a phone, 9 pt numbers 27 pixels high

// A fixed day, for those who set no date: what it is does not matter, that it stays the same does.
static const char FIXED_DATE[] = "2000-01-01T00:00:00Z";

typedef struct drawing {
  RsvgHandle *handle;
  double width, height;  // [pt]
} drawing;

// One line, whatever the library says.
static int complain(const char *what, const char *why) {
  (void)fprintf(stderr, "firnhaul: cannot draw the figure: %s%s%.*s\n", what, why[0] != '\0' ? ": " : "", (int)strcspn(why, "\n"), why);
  return CLI_FAILED;
}

static bool open_drawing(const char *svg, size_t count, drawing *d) {
  GError *error = NULL;
  d->handle = rsvg_handle_new_from_data((const guint8 *)svg, count, &error);
  if (d->handle == NULL) {
    (void)complain("the SVG reader refused it", error != NULL ? error->message : "");
    g_clear_error(&error);
    return false;
  }
  gboolean has_width = FALSE;
  gboolean has_height = FALSE;
  RsvgLength width = {0};
  RsvgLength height = {0};
  rsvg_handle_get_intrinsic_dimensions(d->handle, &has_width, &width, &has_height, &height, NULL, NULL);
  d->width = width.length;
  d->height = height.length;
  // The figures say their size in points.
  if (!has_width || !has_height || width.unit != RSVG_UNIT_PT || height.unit != RSVG_UNIT_PT || !(d->width >= 1.0 && d->height >= 1.0)) {
    g_object_unref(d->handle);
    (void)complain("it has no size in points", "");
    return false;
  }
  return true;
}

static int draw(const drawing *d, cairo_surface_t *surface, double scale) {
  RsvgRectangle page = {0.0, 0.0, d->width * scale, d->height * scale};
  GError *error = NULL;
  cairo_t *cr = cairo_create(surface);
  gboolean drawn = rsvg_handle_render_document(d->handle, cr, &page, &error);
  cairo_status_t status = cairo_status(cr);
  cairo_destroy(cr);
  if (!drawn || status != CAIRO_STATUS_SUCCESS) {
    int result = complain("drawing failed", error != NULL ? error->message : cairo_status_to_string(status));
    g_clear_error(&error);
    return result;
  }
  return CLI_DONE;
}

static cairo_status_t take(void *user, const unsigned char *bytes, unsigned count) {
  const fh_out *out = user;
  return out->write(out->user, (const char *)bytes, count) == 0 ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

// ISO 8601 in UTC.
static void find_date(char *to, size_t size) {
  const char *epoch = getenv("SOURCE_DATE_EPOCH");
  double seconds = 0.0;
  struct tm parts;
  if (epoch != NULL && fhi_parse_number(epoch, strlen(epoch), &seconds) && seconds >= 0.0 && seconds < 253402300800.0) {
    time_t when = (time_t)seconds;
    const struct tm *utc = gmtime(&when);
    if (utc != NULL) {
      parts = *utc;
      if (strftime(to, size, "%Y-%m-%dT%H:%M:%SZ", &parts) > 0) {
        return;
      }
    }
  }
  (void)fhi_copy(to, size, FIXED_DATE);
}

// cairo keeps what its stream refused in the surface's status; the sink has said why by then.
static int end_surface(cairo_surface_t *surface, int status) {
  cairo_surface_finish(surface);
  cairo_status_t ended = cairo_surface_status(surface);
  cairo_surface_destroy(surface);
  if (status == CLI_DONE && ended != CAIRO_STATUS_SUCCESS && ended != CAIRO_STATUS_WRITE_ERROR) {
    return complain("drawing failed", cairo_status_to_string(ended));
  }
  return status;
}

static int draw_png(const drawing *d, fh_out *out) {
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)ceil(d->width * PIXELS), (int)ceil(d->height * PIXELS));
  int status = cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS ? draw(d, surface, PIXELS) : CLI_DONE;
  if (status == CLI_DONE && cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS) {
    cairo_status_t written = cairo_surface_write_to_png_stream(surface, take, out);
    if (written != CAIRO_STATUS_SUCCESS && written != CAIRO_STATUS_WRITE_ERROR) {
      status = complain("the picture could not be made", cairo_status_to_string(written));
    }
  }
  return end_surface(surface, status);
}

static int draw_pdf(const drawing *d, fh_out *out) {
  char date[40];
  find_date(date, sizeof date);
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(take, out, d->width, d->height);
  if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) {
    return end_surface(surface, CLI_DONE);
  }
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "firnhaul " FH_VERSION);
  return end_surface(surface, draw(d, surface, 1.0));
}

int cli_render(const char *svg, size_t count, bool pdf, const char *path) {
  const char *missing = cli_render_library_load();
  if (missing != NULL) {
    return complain("librsvg is needed for PNG and PDF", missing);
  }
  drawing d;
  if (!open_drawing(svg, count, &d)) {
    return CLI_FAILED;
  }
  cli_sink sink;
  int status = CLI_FAILED;
  if (cli_sink_open(&sink, path)) {
    fh_out out = cli_sink_out(&sink);
    status = pdf ? draw_pdf(&d, &out) : draw_png(&d, &out);
    if (status != CLI_DONE) {
      cli_sink_abandon(&sink);
    } else if (!cli_sink_close(&sink)) {
      status = CLI_FAILED;
    }
  }
  g_object_unref(d.handle);
  return status;
}

// One page; the figure's own size in whole points is stretched to the paper's by less than a thousandth.
static int draw_page(cairo_surface_t *surface, const char *svg, size_t count, double width, double height) {
  drawing d;
  if (!open_drawing(svg, count, &d)) {
    return CLI_FAILED;
  }
  RsvgRectangle page = {0.0, 0.0, d.width, d.height};
  GError *error = NULL;
  cairo_t *cr = cairo_create(surface);
  cairo_scale(cr, width / d.width, height / d.height);
  gboolean drawn = rsvg_handle_render_document(d.handle, cr, &page, &error);
  cairo_show_page(cr);
  cairo_status_t status = cairo_status(cr);
  cairo_destroy(cr);
  g_object_unref(d.handle);
  if (drawn && status == CAIRO_STATUS_SUCCESS) {
    return CLI_DONE;
  }
  int result = complain("drawing failed", error != NULL ? error->message : cairo_status_to_string(status));
  g_clear_error(&error);
  return result;
}

static int draw_pages(const char *const *svgs, const size_t *counts, int pages, double width, double height, fh_out *out) {
  char date[40];
  find_date(date, sizeof date);
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(take, out, width, height);
  int status = CLI_DONE;
  if (cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS) {
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "firnhaul " FH_VERSION);
    for (int i = 0; i < pages && status == CLI_DONE; i++) {
      status = draw_page(surface, svgs[i], counts[i], width, height);
    }
  }
  return end_surface(surface, status);
}

int cli_render_pages(const char *const *svgs, const size_t *counts, int pages, double width, double height, const char *path) {
  const char *missing = cli_render_library_load();
  if (missing != NULL) {
    return complain("librsvg is needed for PNG and PDF", missing);
  }
  cli_sink sink;
  if (!cli_sink_open(&sink, path)) {
    return CLI_FAILED;
  }
  fh_out out = cli_sink_out(&sink);
  int status = draw_pages(svgs, counts, pages, width, height, &out);
  if (status != CLI_DONE) {
    cli_sink_abandon(&sink);
    return status;
  }
  return cli_sink_close(&sink) ? CLI_DONE : CLI_FAILED;
}

#else

int cli_render_pages(const char *const *svgs, const size_t *counts, int pages, double width, double height, const char *path) {
  (void)counts;
  (void)pages;
  (void)width;
  (void)height;
  return cli_render(svgs[0], 0, true, path);  // which says that it cannot
}

int cli_render(const char *svg, size_t count, bool pdf, const char *path) {
  (void)svg;
  (void)count;
  (void)path;
  (void)fprintf(stderr, "firnhaul: this build cannot write %s; use --svg\n", pdf ? "PDF" : "PNG");
  return CLI_FAILED;
}

#endif
