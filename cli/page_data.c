// SPDX-License-Identifier: MIT
// Where is the page in the program? The assembler takes the file in as it is: no copy of half a megabyte as C text.
#include "page_data.h"

#ifdef FH_PAGE_FILE
#define PAGE_BYTES ".incbin \"" FH_PAGE_FILE "\"\n"
#else
#define PAGE_BYTES ""
#endif

// clang-format off
__asm__(
    ".pushsection .rodata\n"
    ".globl cli_page_count\n"
    ".globl cli_page\n"
    ".balign 8\n"
    "cli_page_count: .quad 1f - cli_page\n"
    "cli_page:\n"
    PAGE_BYTES
    "1: .byte 0\n"
    ".popsection\n");
