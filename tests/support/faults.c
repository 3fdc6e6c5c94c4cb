/* Loaded before the C library (LD_PRELOAD): makes the Nth call of a kind fail, or stops or kills
 * the program before it. TEARLINE_FAULT is "CALL:N:WHAT" with CALL one of write, fsync, mkdir,
 * create, rename, remove, malloc or any (any but malloc), N from 1, and WHAT an errno's number,
 * "stop" or "kill"; "CALL:N-:WHAT" from the Nth on. TEARLINE_FAULT_COUNT names a file that gets the
 * number of calls at the end. Writes to the terminal do not count. */
#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

static char call_[16], what_[16];
static long first_ = -1;
static int from_there_on_, ready_;
static long count_;

static void fail_no_more(void) { first_ = -1; }

__attribute__((constructor)) static void read_settings(void) {
    const char* given = getenv("TEARLINE_FAULT");
    if (given != NULL) {
        char number[24] = "";
        if (sscanf(given, "%15[^:]:%23[^:]:%15s", call_, number, what_) == 3) {
            from_there_on_ = strchr(number, '-') != NULL;
            first_ = atol(number);
        }
    }
    /* What the program itself starts is left alone, copies of itself too. */
    unsetenv("TEARLINE_FAULT");
    unsetenv("LD_PRELOAD");
    pthread_atfork(NULL, NULL, fail_no_more);
    ready_ = 1;
}

__attribute__((destructor)) static void tell(void) {
    const char* file = getenv("TEARLINE_FAULT_COUNT");
    if (file == NULL) return;
    char text[24];
    const int length = snprintf(text, sizeof text, "%ld", count_);
    const int out = (int)syscall(SYS_openat, AT_FDCWD, file, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    if (out >= 0 && syscall(SYS_write, out, text, length) == length) close(out);
}

static int fails(const char* call) {
    if (!ready_ || first_ < 0) return 0;
    const int any = strcmp(call_, "any") == 0 && strcmp(call, "malloc") != 0;
    if (!any && strcmp(call, call_) != 0) return 0;
    const long number = __atomic_add_fetch(&count_, 1, __ATOMIC_RELAXED);
    if (first_ == 0 || (from_there_on_ ? number < first_ : number != first_)) return 0;
    if (strcmp(what_, "stop") == 0) {
        raise(SIGSTOP);
        return 0;
    }
    if (strcmp(what_, "kill") == 0) raise(SIGKILL);
    errno = atoi(what_);
    return 1;
}

ssize_t write(int file, const void* bytes, size_t size) {
    if (file > 2 && fails("write")) return -1;
    return syscall(SYS_write, file, bytes, size);
}
int fsync(int file) {
    if (fails("fsync")) return -1;
    return (int)syscall(SYS_fsync, file);
}
int mkdir(const char* path, mode_t mode) {
    if (fails("mkdir")) return -1;
    return (int)syscall(SYS_mkdirat, AT_FDCWD, path, mode);
}
int mkdirat(int folder, const char* path, mode_t mode) {
    if (fails("mkdir")) return -1;
    return (int)syscall(SYS_mkdirat, folder, path, mode);
}
int openat(int folder, const char* path, int flags, ...) {
    va_list more;
    va_start(more, flags);
    const mode_t mode = (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg(more, mode_t) : 0;
    va_end(more);
    if ((flags & O_CREAT) != 0 && fails("create")) return -1;
    return (int)syscall(SYS_openat, folder, path, flags, mode);
}
int rename(const char* from, const char* to) {
    if (fails("rename")) return -1;
    return (int)syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0);
}
int renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags) {
    if (fails("rename")) return -1;
    return (int)syscall(SYS_renameat2, from_folder, from, to_folder, to, flags);
}
int unlinkat(int folder, const char* path, int flags) {
    if (fails("remove")) return -1;
    return (int)syscall(SYS_unlinkat, folder, path, flags);
}
int remove(const char* path) {
    if (fails("remove")) return -1;
    const int folder = (int)syscall(SYS_unlinkat, AT_FDCWD, path, AT_REMOVEDIR);
    return folder == 0 || errno != ENOTDIR ? folder : (int)syscall(SYS_unlinkat, AT_FDCWD, path, 0);
}
extern void* __libc_malloc(size_t size);
void* malloc(size_t size) {
    if (fails("malloc")) return NULL;
    return __libc_malloc(size);
}
