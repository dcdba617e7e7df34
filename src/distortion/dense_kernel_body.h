// Included by dense_kernel_*.cpp, which name HOLDTRUE_KERNEL.
#include "distortion/dense_kernel.h"

#include <cstring>

namespace holdtrue::distortion {
namespace {

// Four lanes whatever the processor has; the compiler cuts them to its width.
using Lanes = double __attribute__((vector_size(32)));
constexpr int lanes = 4;

Lanes load(const double* from) {
    Lanes all;
    std::memcpy(&all, from, sizeof all);
    return all;
}

double folded(const Lanes& s) { return (s[0] + s[2]) + (s[1] + s[3]); }

double dot(const double* a, const double* b, int count) {
    Lanes s0{}, s1{}, s2{}, s3{};
    int i = 0;
    for (; i + 4 * lanes <= count; i += 4 * lanes) {
        s0 += load(a + i) * load(b + i);
        s1 += load(a + i + lanes) * load(b + i + lanes);
        s2 += load(a + i + 2 * lanes) * load(b + i + 2 * lanes);
        s3 += load(a + i + 3 * lanes) * load(b + i + 3 * lanes);
    }
    for (; i + lanes <= count; i += lanes)
        s0 += load(a + i) * load(b + i);
    double sum = folded((s0 + s1) + (s2 + s3));
    for (; i < count; ++i)
        sum += a[i] * b[i];
    return sum;
}

// Four rows at a time, so that x is read once for all of them.
void dots(const double* const* rows, int row_count, const double* x, int count, double* sums) {
    int r = 0;
    for (; r + 4 <= row_count; r += 4) {
        const double *a = rows[r], *b = rows[r + 1], *c = rows[r + 2], *d = rows[r + 3];
        Lanes a0{}, a1{}, b0{}, b1{}, c0{}, c1{}, d0{}, d1{};
        int i = 0;
        for (; i + 2 * lanes <= count; i += 2 * lanes) {
            const Lanes x0 = load(x + i), x1 = load(x + i + lanes);
            a0 += load(a + i) * x0;
            a1 += load(a + i + lanes) * x1;
            b0 += load(b + i) * x0;
            b1 += load(b + i + lanes) * x1;
            c0 += load(c + i) * x0;
            c1 += load(c + i + lanes) * x1;
            d0 += load(d + i) * x0;
            d1 += load(d + i + lanes) * x1;
        }
        double of_a = folded(a0 + a1), of_b = folded(b0 + b1), of_c = folded(c0 + c1), of_d = folded(d0 + d1);
        for (; i < count; ++i) {
            of_a += a[i] * x[i];
            of_b += b[i] * x[i];
            of_c += c[i] * x[i];
            of_d += d[i] * x[i];
        }
        sums[r] = of_a;
        sums[r + 1] = of_b;
        sums[r + 2] = of_c;
        sums[r + 3] = of_d;
    }
    for (; r < row_count; ++r)
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
