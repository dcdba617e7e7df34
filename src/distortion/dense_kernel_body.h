// Included by dense_kernel_*.cpp, which name HOLDTRUE_KERNEL.
#include "distortion/dense_kernel.h"

#include <cstddef>
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

// Tiles of four rows and four columns: eight loads for sixteen products.
void tile(const double* const* rows, const double* const* columns, int count, double* sums, int stride) {
    const double *a = rows[0], *b = rows[1], *c = rows[2], *d = rows[3];
    const double *x = columns[0], *y = columns[1], *z = columns[2], *w = columns[3];
    Lanes ax{}, ay{}, az{}, aw{}, bx{}, by{}, bz{}, bw{}, cx{}, cy{}, cz{}, cw{}, dx{}, dy{}, dz{}, dw{};
    int i = 0;
    for (; i + lanes <= count; i += lanes) {
        const Lanes xi = load(x + i), yi = load(y + i), zi = load(z + i), wi = load(w + i);
        const Lanes ai = load(a + i), bi = load(b + i), ci = load(c + i), di = load(d + i);
        ax += ai * xi, ay += ai * yi, az += ai * zi, aw += ai * wi;
        bx += bi * xi, by += bi * yi, bz += bi * zi, bw += bi * wi;
        cx += ci * xi, cy += ci * yi, cz += ci * zi, cw += ci * wi;
        dx += di * xi, dy += di * yi, dz += di * zi, dw += di * wi;
    }
    const Lanes all[4][4] = {{ax, bx, cx, dx}, {ay, by, cy, dy}, {az, bz, cz, dz}, {aw, bw, cw, dw}};
    for (int column = 0; column < 4; ++column)
        for (int row = 0; row < 4; ++row) {
            double sum = folded(all[column][row]);
            for (int k = i; k < count; ++k)
                sum += rows[row][k] * columns[column][k];
            sums[column * stride + row] = sum;
        }
}

void products(const double* const* rows, int row_count, const double* const* columns, int column_count, int count,
              double* sums) {
    int c = 0;
    for (; c + 4 <= column_count; c += 4) {
        double* of_columns = sums + static_cast<std::ptrdiff_t>(c) * row_count;
        int r = 0;
        for (; r + 4 <= row_count; r += 4)
            tile(rows + r, columns + c, count, of_columns + r, row_count);
        for (; r < row_count; ++r) {
            double of_row[4];
            dots(columns + c, 4, rows[r], count, of_row);
            for (int k = 0; k < 4; ++k)
                of_columns[k * row_count + r] = of_row[k];
        }
    }
    for (; c < column_count; ++c)
        dots(rows, row_count, columns[c], count, sums + static_cast<std::ptrdiff_t>(c) * row_count);
}

double gathered_dot(const double* a, const int* at, const double* b, int count) {
    double s0 = 0, s1 = 0, s2 = 0, s3 = 0;
    int i = 0;
    for (; i + 4 <= count; i += 4) {
        s0 += a[at[i]] * b[i];
        s1 += a[at[i + 1]] * b[i + 1];
        s2 += a[at[i + 2]] * b[i + 2];
        s3 += a[at[i + 3]] * b[i + 3];
    }
    double sum = (s0 + s1) + (s2 + s3);
    for (; i < count; ++i)
        sum += a[at[i]] * b[i];
    return sum;
}

template <class Number, class Stored>
void add_column(Number* __restrict y, Number factor, const Stored* x, int count) {
    for (int i = 0; i < count; ++i)
        y[i] += factor * static_cast<Number>(x[i]);
}

// Four columns at a time, so that y is read and written once for all of them.
template <class Number, class Stored>
void add_columns(Number* __restrict y, const Number* factors, const Stored* const* columns, int column_count,
                 int count) {
    int k = 0;
    for (; k + 4 <= column_count; k += 4) {
        const Number fa = factors[k], fb = factors[k + 1], fc = factors[k + 2], fd = factors[k + 3];
        const Stored *a = columns[k], *b = columns[k + 1], *c = columns[k + 2], *d = columns[k + 3];
        for (int i = 0; i < count; ++i)
            y[i] += (fa * static_cast<Number>(a[i]) + fb * static_cast<Number>(b[i])) +
                    (fc * static_cast<Number>(c[i]) + fd * static_cast<Number>(d[i]));
    }
    for (; k < column_count; ++k)
        add_column(y, factors[k], columns[k], count);
}

} // namespace

extern const DenseKernel HOLDTRUE_KERNEL;
const DenseKernel HOLDTRUE_KERNEL{HOLDTRUE_KERNEL_NAME,
                                  dot,
                                  dots,
                                  products,
                                  gathered_dot,
                                  add_column<double, double>,
                                  add_columns<double, double>,
                                  add_columns<float, std::int16_t>};

} // namespace holdtrue::distortion
