// For tests that need CalculiX: skipped, with a word of why, where ccx is not installed.
#pragma once

#include "ccx_response.h"

#include <doctest/doctest.h>

namespace holdtrue::distortion::testing {

inline bool no_ccx() {
    if (ccx_is_there())
        return false;
    MESSAGE("skipped: ccx is not installed (Debian package calculix-ccx)");
    return true;
}

} // namespace holdtrue::distortion::testing
