#include "distortion/dense_kernel.h"

namespace holdtrue::distortion {

extern const DenseKernel baseline_kernel;
#ifdef HOLDTRUE_WIDE_KERNELS
extern const DenseKernel avx2_kernel, avx512_kernel;
#endif

std::vector<DenseKernel> available_dense_kernels() {
    std::vector<DenseKernel> kernels{baseline_kernel};
#ifdef HOLDTRUE_WIDE_KERNELS
    if (__builtin_cpu_supports("avx2"))
        kernels.push_back(avx2_kernel);
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl"))
        kernels.push_back(avx512_kernel);
#endif
    return kernels;
}

const DenseKernel& best_dense_kernel() {
    static const DenseKernel best = available_dense_kernels().back();
    return best;
}

} // namespace holdtrue::distortion
