// SPDX-License-Identifier: MIT
// The page that ./run page builds (page/build.mjs), carried in the program as it is. Empty when the program was built without it.
#ifndef CLI_PAGE_DATA_H
#define CLI_PAGE_DATA_H

#include <stdint.h>

extern const uint64_t cli_page_count;  ///< [byte]
extern const char cli_page[];          ///< that many, then NUL

#endif
