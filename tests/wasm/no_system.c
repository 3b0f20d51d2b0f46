// SPDX-License-Identifier: MIT
// Stands in for the system calls that wasi-libc's snprintf drags in, so that the module imports nothing. All of them refuse.
#include <stdint.h>

int32_t __imported_wasi_snapshot_preview1_fd_close(int32_t fd);
int32_t __imported_wasi_snapshot_preview1_fd_seek(int32_t fd, int64_t offset, int32_t whence, int32_t result);
int32_t __imported_wasi_snapshot_preview1_fd_write(int32_t fd, int32_t vectors, int32_t count, int32_t result);

enum { BAD_FILE = 8 };  // __WASI_ERRNO_BADF

int32_t __imported_wasi_snapshot_preview1_fd_close(int32_t fd) {
  (void)fd;
  return BAD_FILE;
}

int32_t __imported_wasi_snapshot_preview1_fd_seek(int32_t fd, int64_t offset, int32_t whence, int32_t result) {
  (void)fd;
  (void)offset;
  (void)whence;
  (void)result;
  return BAD_FILE;
}

int32_t __imported_wasi_snapshot_preview1_fd_write(int32_t fd, int32_t vectors, int32_t count, int32_t result) {
  (void)fd;
  (void)vectors;
  (void)count;
  (void)result;
  return BAD_FILE;
}
