// SPDX-License-Identifier: MIT
// What a status means, in one sentence. The sentences stand in the public header, beside the names.
#include "firnhaul.h"

const char *fh_status_text(fh_status status) {
  switch (status) {
#define X(name, text) case name: return text;
    FH_STATUS_LIST(X)
#undef X
  }
  return "an unknown status";  // a caller's cast from a foreign integer
}
