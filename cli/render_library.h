// SPDX-License-Identifier: MIT
// librsvg and cairo, loaded when the first picture is asked for and not before: they bring some fifty libraries, whose
// loading takes ten times as long as working out a rig. Include this in place of their headers, then call them as usual.
#ifndef CLI_RENDER_LIBRARY_H
#define CLI_RENDER_LIBRARY_H

#include <stdbool.h>

#include <cairo-pdf.h>
#include <librsvg/rsvg.h>

// Every function that is called, cairo's and GLib's too: librsvg depends on both, so that they are found through it.
#define CLI_RENDER_FUNCTIONS(X)           \
  X(rsvg_handle_new_from_data)            \
  X(rsvg_handle_get_intrinsic_dimensions) \
  X(rsvg_handle_render_document)          \
  X(g_clear_error)                        \
  X(g_object_unref)                       \
  X(cairo_create)                         \
  X(cairo_destroy)                        \
  X(cairo_status)                         \
  X(cairo_status_to_string)               \
  X(cairo_surface_finish)                 \
  X(cairo_surface_status)                 \
  X(cairo_surface_destroy)                \
  X(cairo_surface_write_to_png_stream)    \
  X(cairo_image_surface_create)           \
  X(cairo_pdf_surface_create_for_stream)  \
  X(cairo_pdf_surface_set_metadata)       \
  X(cairo_scale)                          \
  X(cairo_show_page)

typedef struct cli_render_functions {
#define X(name) __typeof__(name) *name;
  CLI_RENDER_FUNCTIONS(X)
#undef X
} cli_render_functions;

extern cli_render_functions cli_render_library;

/// Loads them; at once when that is done already. @return NULL, or why it cannot be done
const char *cli_render_library_load(void);

#ifndef CLI_RENDER_LIBRARY_SOURCE
#define rsvg_handle_new_from_data (*cli_render_library.rsvg_handle_new_from_data)
#define rsvg_handle_get_intrinsic_dimensions (*cli_render_library.rsvg_handle_get_intrinsic_dimensions)
#define rsvg_handle_render_document (*cli_render_library.rsvg_handle_render_document)
#define g_clear_error (*cli_render_library.g_clear_error)
#define g_object_unref (*cli_render_library.g_object_unref)
#define cairo_create (*cli_render_library.cairo_create)
#define cairo_destroy (*cli_render_library.cairo_destroy)
#define cairo_status (*cli_render_library.cairo_status)
#define cairo_status_to_string (*cli_render_library.cairo_status_to_string)
#define cairo_surface_finish (*cli_render_library.cairo_surface_finish)
#define cairo_surface_status (*cli_render_library.cairo_surface_status)
#define cairo_surface_destroy (*cli_render_library.cairo_surface_destroy)
#define cairo_surface_write_to_png_stream (*cli_render_library.cairo_surface_write_to_png_stream)
#define cairo_image_surface_create (*cli_render_library.cairo_image_surface_create)
#define cairo_pdf_surface_create_for_stream (*cli_render_library.cairo_pdf_surface_create_for_stream)
#define cairo_pdf_surface_set_metadata (*cli_render_library.cairo_pdf_surface_set_metadata)
#define cairo_scale (*cli_render_library.cairo_scale)
#define cairo_show_page (*cli_render_library.cairo_show_page)
#endif

#endif
