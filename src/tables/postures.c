// SPDX-License-Identifier: MIT
// How a person pulls. Model section 8.
// `pull_N` is one short effort, `sustained_N` for minutes. `hands` is the number of hands whose grip carries the pull (0: the
// rope hangs on the harness). `footing_share` is the part of the pull that the feet must hold by friction (0: feet braced
// against a step, or the pull presses the feet into the ground).
#include "tables.h"

// clang-format off
static const fh_figure BRACED[] = {
    {"pull_N", "N", FHI_LIKELY(130.0, 300.0, 500.0), FH_BASIS_MEMORY, "mil-std-1472", "feet braced 500 N (memory); low end 130 N seated [kodak-1986]"},
    {"sustained_N", "N", FHI_LIKELY(75.0, 150.0, 225.0), FH_BASIS_PRACTICE, "", "common practice, no source: about half of the short effort"},
    {"hands", "1", FHI_EXACT(2.0), FH_BASIS_PRACTICE, "", "common practice, no source"},
    {"footing_share", "1", FHI_EXACT(0.0), FH_BASIS_PRACTICE, "", "common practice, no source: the step holds the feet"},
};
static const fh_figure HARNESS[] = {
    {"pull_N", "N", FHI_LIKELY(200.0, 300.0, 500.0), FH_BASIS_MEMORY, "mil-std-1472", "good traction 300 N, feet braced 500 N (memory); trained pullers reach 1042 +- 124 N [cayero-2022]"},
    {"sustained_N", "N", FHI_LIKELY(107.0, 155.0, 300.0), FH_BASIS_MEMORY, "snook-1991", "sustained pull from 155 N (memory); low end an industry guideline [ergo-guideline]"},
    {"hands", "1", FHI_EXACT(0.0), FH_BASIS_PRACTICE, "", "common practice, no source: a hitch clips the rope to the harness"},
    {"footing_share", "1", FHI_EXACT(1.0), FH_BASIS_PRACTICE, "", "common practice, no source"},
};
static const fh_figure KNEELING[] = {
    {"pull_N", "N", FHI_LIKELY(110.0, 188.0, 225.0), FH_BASIS_PUBLISHED, "kodak-1986", "kneeling 188 N; arms extended 110 N, standing 225 N"},
    {"sustained_N", "N", FHI_LIKELY(75.0, 107.0, 150.0), FH_BASIS_PRACTICE, "", "common practice, no source: about half of the short effort"},
    {"hands", "1", FHI_EXACT(2.0), FH_BASIS_PRACTICE, "", "common practice, no source"},
    {"footing_share", "1", FHI_EXACT(1.0), FH_BASIS_PRACTICE, "", "common practice, no source"},
};
static const fh_figure LIFTING[] = {
    {"pull_N", "N", FHI_RANGE(226.0, 445.0), FH_BASIS_PUBLISHED, "guide-site-lifting", "a squat lift of about 100 lb at the lip; low end the 23 kg limit of lifting guidelines, from memory"},
    {"sustained_N", "N", FHI_RANGE(107.0, 226.0), FH_BASIS_PRACTICE, "", "common practice, no source: about half of the short effort"},
    {"hands", "1", FHI_EXACT(2.0), FH_BASIS_PRACTICE, "", "common practice, no source"},
    {"footing_share", "1", FHI_EXACT(0.0), FH_BASIS_PRACTICE, "", "common practice, no source: lifting presses the feet down"},
};
static const fh_figure WALKING[] = {
    {"pull_N", "N", FHI_LIKELY(147.0, 225.0, 386.0), FH_BASIS_PUBLISHED, "kodak-1986", "whole body, standing 225 N; 222 N in rope-rescue planning [fire-haul]; low end 15 kgf [hse-rr228], high end the best task of 120 [isometric-29]"},
    {"sustained_N", "N", FHI_LIKELY(107.0, 155.0, 225.0), FH_BASIS_PUBLISHED, "ergo-guideline", "107 N, two hands; 155 N from memory [snook-1991]; high end the short effort [kodak-1986]"},
    {"hands", "1", FHI_EXACT(2.0), FH_BASIS_PRACTICE, "", "common practice, no source"},
    {"footing_share", "1", FHI_EXACT(1.0), FH_BASIS_PRACTICE, "", "common practice, no source"},
};

static const fh_item ITEMS[] = {
    FHI_ITEM("braced", FH_ITEM_POSTURE, BRACED, "", "seated, feet against a step or axe, both hands"),
    FHI_ITEM("harness", FH_ITEM_POSTURE, HARNESS, "", "walking with the rope clipped to the harness"),
    FHI_ITEM("kneeling", FH_ITEM_POSTURE, KNEELING, "", "kneeling, both hands"),
    FHI_ITEM("lifting", FH_ITEM_POSTURE, LIFTING, "", "standing at the lip and lifting the rope straight up with the legs"),
    FHI_ITEM("walking", FH_ITEM_POSTURE, WALKING, "", "standing or walking, both hands on the rope"),
};
// clang-format on

const fhi_table FHI_POSTURES = {ITEMS, FHI_COUNT(ITEMS)};
