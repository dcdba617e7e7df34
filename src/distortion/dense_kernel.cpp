#include "distortion/dense_kernel.h"

#include "units/wide_kernels.h"

namespace holdtrue::distortion {

extern const DenseKernel baseline_kernel;
#ifdef HOLDTRUE_WIDE_KERNELS
extern const DenseKernel avx2_kernel, avx512_kernel;
#endif

std::vector<DenseKernel> available_dense_kernels() {
#ifdef HOLDTRUE_WIDE_KERNELS
    return units::kernels_that_run(baseline_kernel, &avx2_kernel, &avx512_kernel);
#else
    return {baseline_kernel};
#endif
}

const DenseKernel& best_dense_kernel() {
    static const DenseKernel best = available_dense_kernels().back();
    return best;
}

} // namespace holdtrue::distortion
