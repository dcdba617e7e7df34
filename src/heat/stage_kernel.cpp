#include "heat/stage_kernel.h"

#include "units/wide_kernels.h"

namespace holdtrue::heat {

extern const StageKernel baseline_kernel;
#ifdef HOLDTRUE_WIDE_KERNELS
extern const StageKernel avx2_kernel, avx512_kernel;
#endif

std::vector<StageKernel> available_stage_kernels() {
#ifdef HOLDTRUE_WIDE_KERNELS
    return units::kernels_that_run(baseline_kernel, &avx2_kernel, &avx512_kernel);
#else
    return {baseline_kernel};
#endif
}

const StageKernel& best_stage_kernel() {
    static const StageKernel best = available_stage_kernels().back();
    return best;
}

} // namespace holdtrue::heat
