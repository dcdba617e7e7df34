// Inner loops of dense algebra, in which an order's evaluation spends its time.
//
// As in heat/stage_kernel.h one source is compiled for several widths of vector instruction, the widest that the
// processor has is taken, and all give the same bits: sums run in a fixed number of lanes and nothing is contracted.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace holdtrue::distortion {

struct DenseKernel {
    std::string_view name;
    // a . b
    double (*dot)(const double* a, const double* b, int count);
    // sums[r] = rows[r] . x
    void (*dots)(const double* const* rows, int row_count, const double* x, int count, double* sums);
    // sums[c row_count + r] = rows[r] . columns[c]
    void (*products)(const double* const* rows, int row_count, const double* const* columns, int column_count,
                     int count, double* sums);
    // a[at[0]] b[0] + a[at[1]] b[1] + ...
    double (*gathered_dot)(const double* a, const int* at, const double* b, int count);
    // y += factor x
    void (*add)(double* y, double factor, const double* x, int count);
    // y += factors[0] columns[0] + factors[1] columns[1] + ...
    void (*add_columns)(double* y, const double* factors, const double* const* columns, int column_count, int count);
    void (*add_short_columns)(float* y, const float* factors, const std::int16_t* const* columns, int column_count,
                              int count);
};

// Memory that is read soon.
inline void ask_ahead(const void* memory) { __builtin_prefetch(memory); }

const DenseKernel& best_dense_kernel();             // the widest that this processor runs
std::vector<DenseKernel> available_dense_kernels(); // all that it runs, for the test

} // namespace holdtrue::distortion
