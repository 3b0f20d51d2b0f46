// SPDX-License-Identifier: MIT
// Which commands and options are there? Two tables; everything that speaks of them reads these.
#include "help.h"

#include <string.h>

#include "commands.h"
#include "rescue.h"
#include "text.h"

#define COUNT(array) ((int)(sizeof(array) / sizeof(array)[0]))

const char *const CLI_ABOUT =
    "firnhaul works out raising rigs for crevasse rescue: what a rig gains, what each strand, bend and grip carries, what the crew must "
    "pull, and which rigs can be built from the kit at hand.";

const char *const CLI_EXIT_STATUS =
    "0  done\n"
    "1  done, and the answer is no: no rig works, or a limit is broken\n"
    "2  the input is wrong; the place is on standard error\n"
    "3  the program failed: no memory, the output could not be written, or the search was stopped before it found anything";

const char *const CLI_CAUTIONS =
    "Training aid. It does not replace instruction, local rules, makers' instructions or qualified practice; these come first.\n"
    "\n"
    "Figures are estimates with ranges. Friction at the lip, snow, knots and people vary more than any table says. A rig that works here "
    "can fail on the glacier.";

static const cli_option OPTIONS[CLI_OPTION_COUNT] = {
    [CLI_JSON] = {"json", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Print one JSON object, metric, with ranges."},
    [CLI_CSV] = {"csv", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Print rows for a spreadsheet, metric."},
    [CLI_YAML] = {"yaml", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false,
                  "Print the scene with the rig in it, to keep or to change. With plan: the rig of --pick, or the first one."},
    [CLI_OUTPUT] = {"output", 'o', CLI_KIND_FILE, "FILE", NULL, 0, 0, false, "Write the text there instead of to standard output."},
    [CLI_SVG] = {"svg", 0, CLI_KIND_FILE, "FILE", NULL, 0, 0, false, "Draw a figure as SVG; - is standard output."},
    [CLI_PNG] = {"png", 0, CLI_KIND_FILE, "FILE", NULL, 0, 0, false, "Draw a figure as PNG; - is standard output."},
    [CLI_PDF] = {"pdf", 0, CLI_KIND_FILE, "FILE", NULL, 0, 0, false, "Draw a figure as PDF; - is standard output."},
    [CLI_FIGURE] = {"figure", 0, CLI_KIND_CHOICE, "WHICH", "section|plan-view|angle|plans|chance", 0, 0, false,
                    "Which figure: the cut through hole and surface, the view from above, advantage against the pull's angle, or pull against "
                    "pieces of all kept rigs (plan only), or which unknown matters most. Default: section for check, plans for plan."},
    [CLI_ANGLE] = {"angle", 0, CLI_KIND_NUMBER, "DEG", NULL, 0, 90, false, "Pull so far off the haul line, seen from above: 0 to 90 degrees."},
    [CLI_LOWER] = {"lower", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Work out lowering as well."},
    [CLI_PREFER] = {"prefer", 0, CLI_KIND_CHOICE, "WHAT", "pull|time|pieces|safe|chance", 0, 0, false,
                    "What comes first: least pull, least time, fewest pieces, the largest margin, or the best chance. Default: the scene's."},
    [CLI_CHANCE] = {"chance", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false,
                    "Sample what is not known: the chance that the crew can pull it and that every limit holds; with lose, that it is caught and borne."},
    [CLI_WHY] = {"why", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "As --chance, and which unknown matters most."},
    [CLI_SAMPLES] = {"samples", 0, CLI_KIND_INTEGER, "N", NULL, 1024, 4e9, false, "Samples: 1,024 to 4e9. Default: 16,384."},
    [CLI_RAISES] = {"samples", 0, CLI_KIND_INTEGER, "N", NULL, 1024, 4e9, false, "Raises to sample: 1,024 to 4e9. Default: 4,096."},
    [CLI_LOSSES] = {"samples", 0, CLI_KIND_INTEGER, "N", NULL, 256, 1e6, false, "Times to let everything go: 256 to 1e6. Default: 512."},
    [CLI_SEED] = {"seed", 0, CLI_KIND_INTEGER, "N", NULL, 0, 4294967295.0, false, "Another set of samples. The same seed gives the same numbers. Default: 1."},
    [CLI_THREADS] = {"threads", 0, CLI_KIND_INTEGER, "N", NULL, 1, 256, false, "Threads; the numbers do not depend on it. Default: one a core."},
    [CLI_SQLITE] = {"sqlite", 0, CLI_KIND_FILE, "FILE", NULL, 0, 0, false, "Write the table as a SQLite database as well."},
    [CLI_GO] = {"go", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Start a study that takes more than ten minutes or has more than a million scenes."},
    [CLI_ALL] = {"all", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Keep every sound rig, not only those that no other beats."},
    [CLI_CONTACTS] = {"contacts", 0, CLI_KIND_INTEGER, "N", NULL, 0, 9, false, "Search rigs with up to N bends behind the capture: 0 to 9."},
    [CLI_PICK] = {"pick", 0, CLI_KIND_INTEGER, "N", NULL, 1, 1000000, false, "Work out the rig with number N of the list in full, as check does."},
    [CLI_ROWS] = {"rows", 0, CLI_KIND_INTEGER, "N", NULL, 0, 1000000, false, "List at most N rigs for people to read; 0 lists all. Default: 12."},
    [CLI_STEP] = {"step", 0, CLI_KIND_INTEGER, "N", NULL, 1, 1000, false, "Show step N in full: each element that bears, what catches, how hard."},
    [CLI_PAPER] = {"paper", 0, CLI_KIND_CHOICE, "WHICH", "a6|a4", 0, 0, false, "Cards of A6, or pages of A4: one card with all of it, then the long version. Default: a6."},
    [CLI_PAGE] = {"page", 0, CLI_KIND_INTEGER, "N", NULL, 1, 10000, false, "Which page --svg and --png show. Default: 1."},
    [CLI_HTML] = {"html", 0, CLI_KIND_FILE, "FILE", NULL, 0, 0, false, "Write the sheet as one HTML file without scripts; - is standard output."},
    [CLI_SITE] = {"site", 0, CLI_KIND_FILE, "DIR", NULL, 0, 0, false,
                  "Write the page into a folder for a web server, with the files that let a phone install it."},
    [CLI_CHOOSE] = {"choose", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false,
                    "Try ways to rope up: team sizes, spacings, knots, ropes. Weighs falls that are stopped against the raise after it."},
    [CLI_DESIGNS] = {"designs", 0, CLI_KIND_INTEGER, "N", NULL, 1, 4096, false, "With --choose: try about N ways, 1 to 4,096. Default: 500."},
    [CLI_FALLS] = {"samples", 0, CLI_KIND_INTEGER, "N", NULL, 0, 1e6, false, "Falls to sample, with --choose for each way; 0: likely values only. Default: 2,000."},
    [CLI_TEAM_FIGURE] = {"figure", 0, CLI_KIND_CHOICE, "WHICH", "paths|section|trade|sheet", 0, 0, false,
                         "Which figure: paths and forces over time, the cut through hole and surface, the trade between stopping and raising (with --choose), "
                         "or the trip sheet. Default: paths; with --choose, trade."},
    [CLI_GEAR] = {"gear", 0, CLI_KIND_FILE, "FILE", NULL, 0, 0, true, "Own gear: adds to the catalogue or overrides it. May be given again."},
    [CLI_MARKDOWN] = {"markdown", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Print the table as a page in Markdown."},
    [CLI_SCHEMA] = {"schema", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Print the table as a JSON Schema."},
    [CLI_MAN_SOURCE] = {"man-source", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Print the manual page's source (scdoc)."},
    [CLI_BASH] = {"bash", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Print the completion for bash."},
    [CLI_ZSH] = {"zsh", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Print the completion for zsh."},
    [CLI_UNITS] = {"units", 0, CLI_KIND_CHOICE, "WHICH", "metric|imperial", 0, 0, false,
                   "Units of what you read. JSON, CSV and files stay metric. Default: metric."},
    [CLI_LANGUAGE] = {"language", 0, CLI_KIND_CHOICE, "WHICH", "en|de|fr|it", 0, 0, false,
                      "Language of what you read: English, German, French, Italian. Keys, names, CSV and files stay English. Default: en."},
    [CLI_WIDTH] = {"width", 0, CLI_KIND_INTEGER, "N", NULL, 20, 1000, false, "Columns to write for: 20 to 1000. Default: the terminal's, else 80."},
    [CLI_NO_COLOR] = {"no-color", 0, CLI_KIND_FLAG, NULL, NULL, 0, 0, false,
                      "No colour. There is none anyway when the output is no terminal or NO_COLOR is set."},
    [CLI_HELP] = {"help", 'h', CLI_KIND_FLAG, NULL, NULL, 0, 0, false, "Print this help."},
};

static const cli_option_id CHECK_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_YAML, CLI_OUTPUT, CLI_SVG, CLI_PNG, CLI_PDF, CLI_FIGURE, CLI_ANGLE,
                                              CLI_LOWER, CLI_CHANCE, CLI_WHY, CLI_SAMPLES, CLI_SEED, CLI_THREADS, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE, CLI_WIDTH,
                                              CLI_NO_COLOR, CLI_HELP};
static const cli_option_id PLAN_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_YAML, CLI_OUTPUT, CLI_PREFER, CLI_ALL, CLI_CONTACTS, CLI_PICK, CLI_ROWS, CLI_SVG,
                                             CLI_PNG, CLI_PDF, CLI_FIGURE, CLI_ANGLE, CLI_LOWER, CLI_CHANCE, CLI_WHY, CLI_SAMPLES, CLI_SEED, CLI_THREADS, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE, CLI_WIDTH, CLI_NO_COLOR,
                                             CLI_HELP};
static const cli_option_id ANCHOR_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_OUTPUT, CLI_SVG, CLI_PNG, CLI_PDF, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE, CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id PAGE_OPTIONS[] = {CLI_OUTPUT, CLI_SITE, CLI_HELP};
static const cli_option_id STUDY_OPTIONS[] = {CLI_OUTPUT, CLI_SQLITE, CLI_SVG, CLI_PNG, CLI_PDF, CLI_THREADS, CLI_GO, CLI_GEAR, CLI_HELP};
static const cli_option_id FIT_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_YAML, CLI_OUTPUT, CLI_SVG, CLI_PNG, CLI_PDF, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE, CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id HAUL_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_OUTPUT, CLI_SVG, CLI_PNG, CLI_PDF, CLI_CHANCE, CLI_WHY, CLI_RAISES, CLI_SEED, CLI_THREADS, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE, CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id ROPE_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_OUTPUT, CLI_SVG, CLI_PNG, CLI_PDF, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE, CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id LOSE_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_OUTPUT, CLI_SVG, CLI_PNG, CLI_PDF, CLI_STEP, CLI_CHANCE, CLI_LOSSES, CLI_SEED, CLI_THREADS, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE, CLI_WIDTH,
                                             CLI_NO_COLOR, CLI_HELP};
static const cli_option_id SHEET_OPTIONS[] = {CLI_JSON, CLI_OUTPUT, CLI_PAPER, CLI_PDF, CLI_HTML, CLI_SVG, CLI_PNG, CLI_PAGE, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE,
                                              CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id TEAM_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_OUTPUT, CLI_CHOOSE, CLI_DESIGNS, CLI_FALLS, CLI_SEED, CLI_THREADS, CLI_SVG, CLI_PNG, CLI_PDF,
                                             CLI_TEAM_FIGURE, CLI_GEAR, CLI_UNITS, CLI_LANGUAGE, CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id GEAR_OPTIONS[] = {CLI_JSON, CLI_CSV, CLI_OUTPUT, CLI_GEAR, CLI_UNITS, CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id KEYS_OPTIONS[] = {CLI_MARKDOWN, CLI_SCHEMA, CLI_OUTPUT, CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id HELP_OPTIONS[] = {CLI_MAN_SOURCE, CLI_BASH, CLI_ZSH, CLI_OUTPUT, CLI_WIDTH, CLI_NO_COLOR, CLI_HELP};
static const cli_option_id VERSION_OPTIONS[] = {CLI_OUTPUT, CLI_HELP};

static const cli_command COMMANDS[] = {
    {"check", "FILE", true, "work out the rig in a scene",
     "FILE is a scene in YAML or JSON; - reads standard input. The scene must hold a rig.\n"
     "\n"
     "Prints first whether this crew can raise the load. Then the pull, the advantage, and the force in each strand, bend, body and grip "
     "while raising and while holding; each limit with its margin and source; stroke, resets, time and rope. Where a rope at rest leaves a "
     "force open, its range is given.",
     "firnhaul check examples/two-person.yaml\n"
     "firnhaul check scene.yaml --json\n"
     "firnhaul check scene.yaml --figure plan-view --angle 20 --png view.png",
     CHECK_OPTIONS, COUNT(CHECK_OPTIONS), cli_run_check},
    {"plan", "FILE", true, "find the rigs that the kit can build",
     "FILE is a scene in YAML or JSON; - reads standard input. A rig in it is not looked at.\n"
     "\n"
     "Builds every different rig that kit, rope and ground allow, within bounds that it states, and keeps those that no other beats in pull, "
     "time, pieces, rope and margin. When none works it says what is missing.",
     "firnhaul plan examples/two-person.yaml\n"
     "firnhaul plan scene.yaml --prefer pieces --pick 1\n"
     "firnhaul plan scene.yaml --pick 2 --yaml -o rigged.yaml",
     PLAN_OPTIONS, COUNT(PLAN_OPTIONS), cli_run_plan},
    {"anchor", "FILE", true, "work out what the rig hangs on",
     "FILE is a scene in YAML or JSON; - reads standard input. Its anchor block lists the points and legs; without one, ground.anchor is a single "
     "point.\n"
     "\n"
     "Prints what each point holds and what sets that; what each leg carries while hauling, holding, at a reset's jolt and in a caught drop, with "
     "margins; and what is left when one point lets go. Exit status 1: at the likely figures some case is too much.",
     "firnhaul anchor examples/anchors/two-legs.yaml\n"
     "firnhaul anchor scene.yaml --svg anchor.svg",
     ANCHOR_OPTIONS, COUNT(ANCHOR_OPTIONS), cli_run_anchor},
    {"page", "FILE", false, "write the page: all of this in one file, for a phone",
     "Writes one HTML file that works without a net: open it from disk, or mail it to a phone. It holds the same core, makes no request, and "
     "sends nothing. With FILE it opens with that scene.\n"
     "\n"
     "On a web server with https the page can be installed; --site writes it together with what that takes.",
     "firnhaul page -o firnhaul.html\n"
     "firnhaul page examples/two-person.yaml -o two.html\n"
     "firnhaul page --site public",
     PAGE_OPTIONS, COUNT(PAGE_OPTIONS), cli_run_page},
    {"study", "FILE", true, "the same question over many scenes",
     "FILE is a study in YAML: a base scene, what varies (values, spans, or sets of keys), as a grid or a sample, with the rig of the scene or the best "
     "that the kit can build. -o FILE takes the table (CSV), --svg a heat map of the chance.\n"
     "\n"
     "Runs on all cores; built with MPI also over several machines (mpirun), with the same bytes as on one. Says size and time first. What is done is "
     "kept beside the output: after Ctrl-C, a kill or a full disk the same command goes on where it was.",
     "firnhaul study examples/studies/one-rescuer.yaml -o one-rescuer.csv --svg one-rescuer.svg\n"
     "firnhaul study study.yaml -o study.csv --sqlite study.db --threads 2",
     STUDY_OPTIONS, COUNT(STUDY_OPTIONS), cli_run_study},
    {"fit", "FILE", true, "fit your own gear to load-cell readings",
     "FILE is a table of readings (CSV): a line of column names, then one line a reading. Columns: scene (a file with the rig that was pulled), hand_N "
     "(or hand_kN, hand_kgf, hand_lbf), load_kg (or load_N, load_kN), turn_deg, note. - reads standard input.\n"
     "\n"
     "Fits the efficiencies of the items in those rigs and the friction at the lip, with 95 % intervals; says which readings do not fit; draws "
     "prediction against reading. --yaml writes a gear file that every command takes with --gear.",
     "firnhaul fit examples/readings/training-day.csv\n"
     "firnhaul fit readings.csv --yaml -o own-gear.yaml --svg fit.svg",
     FIT_OPTIONS, COUNT(FIT_OPTIONS), cli_run_fit},
    {"haul", "FILE", true, "run the raise in time",
     "FILE is a scene in YAML or JSON; - reads standard input. The scene must hold a rig.\n"
     "\n"
     "Runs the raise from the first pull to the lip: strokes, resets, rope pulled, stretch lost, set-back, slack gained and when to tie the next "
     "backup knot, pull, time and effort; then what it takes to get over the edge. --csv holds the trace. The figure shows load height, pull and "
     "what the capture holds against time. --chance runs it over the ranges of the scene and says how often it works, for how long, and with what pull; --why "
     "ranks what is open, and the figure then shows that.",
     "firnhaul haul examples/two-person.yaml\n"
     "firnhaul haul examples/two-person.yaml --why\n"
     "firnhaul haul scene.yaml --csv -o trace.csv --svg haul.svg",
     HAUL_OPTIONS, COUNT(HAUL_OPTIONS), cli_run_haul},
    {"lose", "FILE", true, "see what falls when one thing lets go",
     "FILE is a scene in YAML or JSON; - reads standard input. The scene must hold a rig.\n"
     "\n"
     "Takes away each element at each step of building, hauling, resetting and at the lip: what holds then, how far the load can drop, how hard it "
     "is caught, and what of the catch may be over its limit. Steps that hang on one thing are named. The figure is a matrix: steps across, "
     "elements down. --chance asks it over the ranges of the scene: how often it is caught, how far it falls, and whether what catches bears it.",
     "firnhaul lose examples/two-person.yaml\n"
     "firnhaul lose examples/two-person.yaml --chance\n"
     "firnhaul lose scene.yaml --step 8\n"
     "firnhaul lose scene.yaml --svg lose.svg",
     LOSE_OPTIONS, COUNT(LOSE_OPTIONS), cli_run_lose},
    {"rope", "FILE", true, "see where a team's rope goes",
     "FILE is a scene in YAML or JSON; - reads standard input. One of its ropes must state its length; people and spacing come from its team.\n"
     "\n"
     "Adds up spans, coils, knots and tie-ins; says what either end has for a drop loop or a direct raise, what is missing, and the widest spacing "
     "that still leaves enough. The figure is the rope as a bar, to scale.",
     "firnhaul rope examples/two-person.yaml\n"
     "firnhaul rope scene.yaml --svg rope.svg",
     ROPE_OPTIONS, COUNT(ROPE_OPTIONS), cli_run_rope},
    {"sheet", "FILE", true, "write the sheet to build the rig by",
     "FILE is a scene in YAML or JSON; - reads standard input. The scene must hold a rig.\n"
     "\n"
     "Each step of building and using the rig, in an order that keeps the load held: a figure to scale, what to do, what to check, what holds the "
     "load at that moment. As text, or with --pdf as a set of cards, with --html as one file. A rig that would be unsafe to build gets no sheet: "
     "the reason is said with its step, exit status 1.",
     "firnhaul sheet examples/rigs/six.yaml\n"
     "firnhaul sheet scene.yaml --pdf cards.pdf\n"
     "firnhaul sheet scene.yaml --paper a4 --pdf page.pdf --html sheet.html",
     SHEET_OPTIONS, COUNT(SHEET_OPTIONS), cli_run_sheet},
    {"team", "FILE", true, "let one of the rope team fall in",
     "FILE is a scene in YAML or JSON; - reads standard input. The scene must hold a team.\n"
     "\n"
     "Works out the fall of the first one: how deep, how far the others slide, how hard the rope pulls, whether they stop it; over the ranges given, how often. "
     "With --choose it tries ways to rope up and weighs stopped falls against the rope and the rig that are left for the raise. --figure sheet draws the sheet "
     "to rope up by.",
     "firnhaul team examples/team-three.yaml\n"
     "firnhaul team scene.yaml --figure sheet --pdf trip.pdf\n"
     "firnhaul team scene.yaml --choose --png trade.png",
     TEAM_OPTIONS, COUNT(TEAM_OPTIONS), cli_run_team},
    {"gear", "ITEM", false, "show the catalogue",
     "Prints all items with each figure's range, unit, basis and source; with ITEM, that one in full, with its sources.",
     "firnhaul gear\n"
     "firnhaul gear carabiner\n"
     "firnhaul gear --gear own-gear.yaml --csv",
     GEAR_OPTIONS, COUNT(GEAR_OPTIONS), cli_run_gear},
    {"keys", NULL, false, "show every key of a scene file",
     "Prints the table that scenes are read with: key, unit, accepted range, default, and what it means.",
     "firnhaul keys\n"
     "firnhaul keys --schema -o scene.schema.json",
     KEYS_OPTIONS, COUNT(KEYS_OPTIONS), cli_run_keys},
    {"help", "COMMAND", false, "show help",
     "Prints the help of COMMAND, or of the whole program.",
     "firnhaul help check",
     HELP_OPTIONS, COUNT(HELP_OPTIONS), cli_run_help},
    {"version", NULL, false, "show the version",
     "Prints the version.",
     "firnhaul version",
     VERSION_OPTIONS, COUNT(VERSION_OPTIONS), cli_run_version},
};

const cli_command *cli_command_list(int *count) {
  *count = COUNT(COMMANDS);
  return COMMANDS;
}

const cli_command *cli_command_find(const char *name) {
  for (int i = 0; i < COUNT(COMMANDS); i++) {
    if (strcmp(COMMANDS[i].name, name) == 0) {
      return &COMMANDS[i];
    }
  }
  return NULL;
}

const cli_option *cli_option_row(cli_option_id id) {
  return &OPTIONS[id];
}

bool cli_command_takes(const cli_command *command, cli_option_id id) {
  for (int i = 0; i < command->option_count; i++) {
    if (command->options[i] == id) {
      return true;
    }
  }
  return false;
}

const char *cli_option_form(char *to, cli_option_id id) {
  const cli_option *row = &OPTIONS[id];
  char letter[8] = "";
  if (row->letter != 0) {
    (void)fhi_format(letter, sizeof letter, "-%c, ", row->letter);
  }
  (void)fhi_format(to, 128, "%s--%s%s%s", letter, row->name, row->argument != NULL ? " " : "",
                   row->choices != NULL ? row->choices : row->argument != NULL ? row->argument : "");
  return to;
}
