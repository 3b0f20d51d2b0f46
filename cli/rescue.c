// SPDX-License-Identifier: MIT
// What do haul, lose, rope and sheet have in common? Opening the scene, writing the forms, saying findings.
#include "rescue.h"

#include <stdio.h>

#include "words.h"

static int refuse_without_rig(const cli_options *o) {
  char shown[300];
  (void)fprintf(stderr, "%s:1:1: rig is missing: there is nothing to %s; accepted: a scene with a rig (firnhaul plan finds one)\n",
                cli_text_clean(shown, sizeof shown, o->operand), o->command->name);
  return CLI_INPUT_WRONG;
}

int cli_rescue_run(const cli_options *o, bool needs_rig, cli_rescue_fn work) {
  int status = cli_outputs_agree(o);
  if (status != CLI_DONE) {
    return status;
  }
  cli_case c;
  status = cli_case_open(o, &c);
  if (status != CLI_DONE) {
    return status;
  }
  if (needs_rig && !c.scene->has_rig) {
    status = refuse_without_rig(o);
  } else {
    cli_rescue r = {.o = o, .scene = c.scene, .gear = c.gear, .rig = &c.scene->rig};
    status = work(&r);
  }
  cli_case_close(&c);
  return status;
}

int cli_rescue_write(cli_rescue *r, const cli_rescue_forms *forms) {
  int status = cli_write_figures(r->o, forms->draw, r);
  if (status != CLI_DONE) {
    return status;
  }
  if (r->o->given[CLI_JSON]) {
    return cli_write_main(r->o, forms->json, r);
  }
  if (r->o->given[CLI_CSV]) {
    return cli_write_main(r->o, forms->csv, r);
  }
  return cli_main_is_free(r->o) ? cli_show_main(r->o, forms->show, r) : CLI_DONE;
}

const char *cli_finding(char *to, size_t size, const fh_finding *finding, fh_language language) {
  if (finding->step > 0) {
    (void)fhi_format(to, size, fhi_say(language, "step %d: %s"), finding->step, finding->text);
  } else {
    (void)fhi_copy(to, size, finding->text);
  }
  return to;
}

void cli_put_findings(cli_screen *s, const fh_stages *stages) {
  static const char *const leads[] = {"  - ", "  ! ", "  NO: "};
  static const cli_style styles[] = {CLI_PLAIN, CLI_WARN, CLI_BAD};
  char text[300];
  for (int level = FH_NOTE_NO; level >= FH_NOTE_INFO; level--) {
    for (int i = 0; i < stages->finding_count; i++) {
      if ((int)stages->findings[i].level == level) {
        cli_put_wrapped(s, styles[level], fhi_say(s->language, leads[level]), cli_finding(text, sizeof text, &stages->findings[i], s->language));
      }
    }
  }
}

void cli_put_fact(cli_screen *s, const char *name, const char *text) {
  char lead[64];
  cli_put_wrapped(s, CLI_PLAIN, cli_text_pad(lead, sizeof lead, name, 13), text);
}
