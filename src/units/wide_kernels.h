// Which of the widths that an inner loop was compiled for a processor runs. The loop is compiled once for each by
// holdtrue_wide_kernels() of CMake; all give the same bits, so that the choice shows in time only.
#pragma once

#include <vector>

namespace holdtrue::units {

// Narrowest first. A width that was not compiled is null.
template <class Kernel>
std::vector<Kernel> kernels_that_run(const Kernel& baseline, const Kernel* avx2, const Kernel* avx512) {
    std::vector<Kernel> kernels{baseline};
#if defined(__x86_64__)
    if (avx2 && __builtin_cpu_supports("avx2"))
        kernels.push_back(*avx2);
    if (avx512 && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
        __builtin_cpu_supports("avx512vl"))
        kernels.push_back(*avx512);
#else
    (void)avx2, (void)avx512;
#endif
    return kernels;
}

} // namespace holdtrue::units
