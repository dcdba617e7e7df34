// VERIFY(condition, message): stops the program where it contradicts itself. For our own bugs only; what a person
// can get wrong is an InputError, what a solver cannot finish is a status in its result.
#pragma once

#include <cstdio>
#include <cstdlib>

#define VERIFY(condition, message)                                                                                     \
    do {                                                                                                               \
        if (!(condition)) {                                                                                            \
            std::fprintf(stderr, "%s:%d: bug in holdtrue: %s (%s)\n", __FILE__, __LINE__, message, #condition);        \
            std::abort();                                                                                              \
        }                                                                                                              \
    } while (false)
