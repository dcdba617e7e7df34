// The body of stage_kernel.h, included once per instruction set with HOLDTRUE_KERNEL set to the kernel's name.
// It uses nothing of the standard library: an inline function compiled for a wide instruction set could otherwise be
// the copy that the linker keeps for everyone.
#include "heat/stage_kernel.h"

namespace holdtrue::heat {
namespace {

constexpr int chunk = kernel_chunk;
constexpr int lanes = 8; // partial sums of the loss, the same for every instruction set

using Pair = double __attribute__((vector_size(16)));

// {theta, loss} at h.
inline Pair value_at(const TableEntry& entry, double h) {
    Pair base, slope;
    __builtin_memcpy(&base, &entry.theta_base_w_per_m, sizeof base);
    __builtin_memcpy(&slope, &entry.theta_slope_m2_per_s, sizeof slope);
    return base + h * slope;
}

// theta and loss of `count` nodes. First where in the table each stands, which is done for many at once; then two by
// two what stands there, both columns in one instruction.
inline void look_up(const TableView& table, const double* __restrict h, double* __restrict theta,
                    double* __restrict loss, int count) {
    int index[chunk];
    const double last = table.count - 1;
    for (int begin = 0; begin < count; begin += chunk) {
        const int n = count - begin < chunk ? count - begin : chunk;
        const double* __restrict const here = h + begin;
        for (int k = 0; k < n; ++k) {
            const double x = (here[k] - table.first_j_per_m3) * table.entries_per_j_per_m3;
            const double low = x > 0 ? x : 0;
            index[k] = static_cast<int>(low < last ? low : last);
        }
        double* __restrict const t = theta + begin;
        double* __restrict const q = loss + begin;
        int k = 0;
        for (; k + 1 < n; k += 2) {
            const Pair a = value_at(table.entry[index[k]], here[k]);
            const Pair b = value_at(table.entry[index[k + 1]], here[k + 1]);
            const Pair thetas = {a[0], b[0]}, losses = {a[1], b[1]};
            __builtin_memcpy(t + k, &thetas, sizeof thetas);
            __builtin_memcpy(q + k, &losses, sizeof losses);
        }
        if (k < n) {
            const Pair a = value_at(table.entry[index[k]], here[k]);
            t[k] = a[0];
            q[k] = a[1];
        }
    }
}

// Calls combine(i, R_i) for every node and returns the heat lost by the faces.
template <bool skewed, class Combine>
inline double sweep(const PanelView& panel, const TableView& table, const double* __restrict h,
                    double* __restrict theta, double* __restrict loss, const Combine& combine) {
    const double* __restrict const east = panel.east_m;
    const double* __restrict const north = panel.north_m;
    const double* __restrict const north_east = panel.north_east_m;
    const double* __restrict const north_west = panel.north_west_m;
    const double* __restrict const face = panel.face_m2;
    const double* __restrict const inverse_volume = panel.inverse_volume_per_m3;
    const int s = panel.stride, count = panel.count;

    double sum[lanes] = {};
    double lost[chunk + lanes];
    int known = 0; // nodes looked up so far; loss[k] is that of node begin + k
    for (int begin = 0; begin < count; begin += chunk) {
        const int end = begin + chunk < count ? begin + chunk : count;
        const int needed = end + s + 1 < count ? end + s + 1 : count;
        look_up(table, h + known, theta + known, loss + (known - begin), needed - known);
        known = needed;

#pragma GCC ivdep // `out` may be `before`, index by index
        for (int i = begin; i < end; ++i) {
            const double t = theta[i];
            double flow = east[i] * (theta[i + 1] - t) - east[i - 1] * (t - theta[i - 1]);
            flow += north[i] * (theta[i + s] - t) - north[i - s] * (t - theta[i - s]);
            if constexpr (skewed) {
                flow += north_east[i] * (theta[i + s + 1] - t) - north_east[i - s - 1] * (t - theta[i - s - 1]);
                flow += north_west[i] * (theta[i + s - 1] - t) - north_west[i - s + 1] * (t - theta[i - s + 1]);
            }
            const double face_loss = face[i] * loss[i - begin];
            lost[i - begin] = face_loss;
            combine(i, (flow - face_loss) * inverse_volume[i]);
        }

        const int n = end - begin;
        for (int k = n; k < n + lanes; ++k)
            lost[k] = 0;
        for (int k = 0; k < n; k += lanes)
            for (int lane = 0; lane < lanes; ++lane)
                sum[lane] += lost[k + lane];
        __builtin_memmove(loss, loss + n, static_cast<unsigned long>(known - end) * sizeof *loss);
    }
    return ((sum[0] + sum[4]) + (sum[1] + sum[5])) + ((sum[2] + sum[6]) + (sum[3] + sum[7]));
}

template <class Combine>
inline double sweep(const PanelView& panel, const TableView& table, const double* h, double* theta, double* loss,
                    const Combine& combine) {
    return panel.skewed ? sweep<true>(panel, table, h, theta, loss, combine)
                        : sweep<false>(panel, table, h, theta, loss, combine);
}

double first(const PanelView& panel, const TableView& table, const double* h, double* theta, double* loss, double* rate,
             double* out, double rate_s) {
    double* __restrict const r = rate;
    double* __restrict const o = out;
    return sweep(panel, table, h, theta, loss, [=](int i, double value) {
        r[i] = value;
        o[i] = h[i] + rate_s * value;
    });
}

double later(const PanelView& panel, const TableView& table, const double* h, double* theta, double* loss,
             const double* before, const double* start, const double* start_rate, double* out,
             const StageCoefficients& c) {
    const StageCoefficients k = c;
    return sweep(panel, table, h, theta, loss, [=](int i, double value) {
        out[i] =
            k.mu * h[i] + k.nu * before[i] + k.kappa * start[i] + k.rate_s * value + k.start_rate_s * start_rate[i];
    });
}

} // namespace

extern const StageKernel HOLDTRUE_KERNEL;
const StageKernel HOLDTRUE_KERNEL{HOLDTRUE_KERNEL_NAME, first, later};

} // namespace holdtrue::heat
