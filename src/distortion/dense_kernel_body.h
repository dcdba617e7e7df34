// Included by dense_kernel_*.cpp, which name HOLDTRUE_KERNEL.
#include "distortion/dense_kernel.h"

namespace holdtrue::distortion {
namespace {

constexpr int lanes = 16;

double folded(double* sum) {
    for (int width = lanes / 2; width > 0; width /= 2)
        for (int k = 0; k < width; ++k)
            sum[k] += sum[k + width];
    return sum[0];
}

double dot(const double* a, const double* b, int count) {
    double sum[lanes] = {};
    int i = 0;
    for (; i + lanes <= count; i += lanes)
        for (int k = 0; k < lanes; ++k)
            sum[k] += a[i + k] * b[i + k];
    for (int k = 0; i + k < count; ++k)
        sum[k] += a[i + k] * b[i + k];
    return folded(sum);
}

void dots(const double* const* rows, int row_count, const double* x, int count, double* sums) {
    for (int r = 0; r < row_count; ++r)
        sums[r] = dot(rows[r], x, count);
}

void add(double* y, double factor, const double* x, int count) {
    for (int i = 0; i < count; ++i)
        y[i] += factor * x[i];
}

void add_four(double* __restrict y, const double* factors, const double* const* columns, int count) {
    const double fa = factors[0], fb = factors[1], fc = factors[2], fd = factors[3];
    const double *a = columns[0], *b = columns[1], *c = columns[2], *d = columns[3];
    for (int i = 0; i < count; ++i)
        y[i] += (fa * a[i] + fb * b[i]) + (fc * c[i] + fd * d[i]);
}

void rotate(double* __restrict a, double* __restrict b, double c, double s, int count) {
    for (int i = 0; i < count; ++i) {
        const double was = a[i];
        a[i] = c * was - s * b[i];
        b[i] = c * b[i] + s * was;
    }
}

} // namespace

extern const DenseKernel HOLDTRUE_KERNEL;
const DenseKernel HOLDTRUE_KERNEL{HOLDTRUE_KERNEL_NAME, dot, dots, add, add_four, rotate};

} // namespace holdtrue::distortion
