// SPDX-License-Identifier: MIT
// What the files of the page's module share.
#ifndef PAGE_CORE_H
#define PAGE_CORE_H

#include <stdint.h>

#include "firnhaul_rescue.h"
#include "firnhaul_team.h"
#include "json.h"

// Natively only for measuring (tests/native.c).
#ifdef __wasm__
#define EXPORT(name) __attribute__((export_name(#name)))
#else
#define EXPORT(name)
#endif

/// What can be asked; the page's script has the same list (src/core.ts).
enum {
  PAGE_KEYS,          ///< the scene's table
  PAGE_GEAR,          ///< the catalogue
  PAGE_PLAN,          ///< a: contacts, -1 for the core's choice; b: 1 for every sound rig, 2 for what one line says of them
  PAGE_YAML,          ///< the scene
  PAGE_PLANS_FIGURE,
  PAGE_CHECK,         ///< a: 1 with lowering, 2 at a glance, as fhi_check_write_summary, 3 the same without running the raise through: its time is a first guess
  PAGE_SECTION,
  PAGE_MOVED,         ///< a: [m] rise of the load, b: [m] rise that the blocks' places of this stroke belong to
  PAGE_PLAN_VIEW,     ///< a: [degrees]
  PAGE_ANGLE,
  PAGE_IDEAL,         ///< the rig without losses
  PAGE_RIG,
  PAGE_HAUL,
  PAGE_LOSE,
  PAGE_SHEET,         ///< the build sheet, block by block
  PAGE_SHEET_FIGURE,  ///< a: index of the block, b: 0 the whole, 1 the surface
  PAGE_SHEET_PAGE,    ///< a: page of A4, as it is printed
  PAGE_MOVING,        ///< as PAGE_MOVED, without the names and forces at strands
  PAGE_CARE,          ///< what to read where no rig can be built, as PAGE_SHEET's blocks
  PAGE_TEAM,          ///< a: falls to count, 0 for the likely one alone; b: 1 with the trace
  PAGE_TEAM_MOMENT,   ///< a: [s] of the likely fall
  PAGE_TEAM_SECTION,  ///< a: falls
  PAGE_TEAM_PATHS,    ///< a: falls
  PAGE_TEAM_RAISES,   ///< a: falls
  PAGE_TEAM_SHEET,    ///< a: falls
  PAGE_DESIGNS_START, ///< a: ways to rope up at most, b: falls a way
  PAGE_DESIGNS_STEP,  ///< a: which step
  PAGE_DESIGNS,       ///< once all steps are done
  PAGE_DESIGNS_FIGURE,
  PAGE_SOURCES,       ///< of the catalogue's figures: key and title
};

typedef struct page_state {
  fh_gear *gear;
  fh_scene *scene;
  fh_check *check;  ///< of the scene's rig, once it was asked for
  bool timed;       ///< the check has its time
  fh_plans *plans;
  fh_haul *haul;
  fh_lose *lose;
  fh_sheet *sheet;
  fh_team_result *team;
  int team_samples;  ///< that `team` was asked for with
  fh_designs *designs;
  char *text;
  size_t used, room;
} page_state;

/// Drops what was worked out of the scene.
void page_forget(page_state *p);
/// Works the scene's rig out if that has not been done. @return FH_ERR_ARG when there is no rig
fh_status page_check(page_state *p);

fh_status page_write_keys(fh_out out);
fh_status page_write_sources(fh_out out);
fh_status page_write_gear(page_state *p, fh_out out);
fh_status page_answer_rescue(page_state *p, int what, double a, double b, fh_units units, fh_out out);
void page_forget_rescue(page_state *p);
fh_status page_answer_team(page_state *p, int what, double a, double b, fh_units units, fh_out out);
fh_status page_write_care(const fh_scene *scene, const fh_gear *gear, fh_units units, fh_out out);
void page_forget_team(page_state *p);
void page_write_diag(const fh_diag *diag, fh_out out);

void *fhp_alloc(uint32_t count);
void fhp_free(void *block);
const char *fhp_text(void);
void fhp_say(int language, const char *text, int whole);
uint32_t fhp_text_count(void);
int fhp_read(const uint8_t *events, uint32_t size);
int fhp_ask(int what, double a, double b, int units);

#endif
