// SPDX-License-Identifier: MIT
// Figures as PNG and PDF.
#ifndef CLI_RENDER_H
#define CLI_RENDER_H

#include <stdbool.h>
#include <stddef.h>

/// Turns a figure's SVG text into a PNG or PDF file. The same text gives the same bytes on one machine: a PDF carries the
/// date of SOURCE_DATE_EPOCH, or a fixed one. @param path "-" is standard output @return CLI_DONE, or CLI_FAILED after saying why
int cli_render(const char *svg, size_t count, bool pdf, const char *path);

/// Several figures as the pages of one PDF, each filling its page.
/// @param svgs their SVG texts, sizes in bytes in counts  @param width,height [pt] of every page  @return as above
int cli_render_pages(const char *const *svgs, const size_t *counts, int pages, double width, double height, const char *path);

#endif
