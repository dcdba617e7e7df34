#include "heat/stage_kernel.h"

namespace holdtrue::heat {

extern const StageKernel baseline_kernel;
#ifdef HOLDTRUE_WIDE_KERNELS
extern const StageKernel avx2_kernel, avx512_kernel;
#endif

std::vector<StageKernel> available_stage_kernels() {
    std::vector<StageKernel> kernels{baseline_kernel};
#ifdef HOLDTRUE_WIDE_KERNELS
    if (__builtin_cpu_supports("avx2"))
        kernels.push_back(avx2_kernel);
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl"))
        kernels.push_back(avx512_kernel);
#endif
    return kernels;
}

const StageKernel& best_stage_kernel() {
    static const StageKernel best = available_stage_kernels().back();
    return best;
}

} // namespace holdtrue::heat
