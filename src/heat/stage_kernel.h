// One stage of a super-time-step on one panel: the loop in which the program spends its time.
//
// For node i of a structured grid, with theta = theta(h) and q = q(h) read from a table,
//   R_i = (sum_j K_ij (theta_j - theta_i) - S_i q_i) / V_i                        [W/m^3]
// where j are the (up to eight) neighbours, K_ij [m] the shape conductance of the link, S_i [m^2] the node's share of
// one face and V_i [m^3] its volume; and then
//   first stage   rate_i = R_i(h),  out_i = h_i + c R_i
//   later stages  out_i = mu h_i + nu before_i + kappa start_i + c R_i(h) + c0 rate_i
// The table is linear between equidistant enthalpies and goes on straight beyond its ends.
//
// The same source is compiled for several widths of vector instruction and the widest one that the processor has is
// taken. No operation is contracted or reordered, so that all give the same bits (test: every kernel gives the same).
#pragma once

#include <string_view>
#include <vector>

namespace holdtrue::heat {

// theta and q are linear in h over the interval: value = base + slope h.
struct TableEntry {
    double theta_base_w_per_m, loss_base_w_per_m2;
    double theta_slope_m2_per_s, loss_slope_m_per_s;
};

struct TableView {
    const TableEntry* entry;
    int count;
    double first_j_per_m3;
    double entries_per_j_per_m3;
};

// Pointers to a panel's first node. Every array may be read (not the outputs written) stride + 1 values before the
// first and after the last node; the conductances of links that do not exist are 0 there.
struct PanelView {
    const double* east_m;       // link (i) - (i + 1)
    const double* north_m;      // link (i) - (i + stride)
    const double* north_east_m; // link (i) - (i + stride + 1); read when `skewed`
    const double* north_west_m; // link (i) - (i + stride - 1); read when `skewed`
    const double* face_m2;
    const double* inverse_volume_per_m3;
    int count, stride;
    bool skewed;
};

struct StageCoefficients {
    double mu, nu, kappa; // of the previous stage, the one before, the start
    double rate_s;        // of R
    double start_rate_s;  // of the rate at the start
};

// `loss` is scratch of kernel_scratch(stride) values. `out` may be `before`.
// The kernels return the heat that the faces lose, sum S_i q_i [W].
struct StageKernel {
    std::string_view name;
    double (*first)(const PanelView&, const TableView&, const double* h, double* theta, double* loss, double* rate,
                    double* out, double rate_s);
    double (*later)(const PanelView&, const TableView&, const double* h, double* theta, double* loss,
                    const double* before, const double* start, const double* start_rate, double* out,
                    const StageCoefficients&);
};

inline constexpr int kernel_chunk = 256; // nodes handled at once, so that what was looked up is in the first cache
constexpr int kernel_scratch(int stride) { return 2 * kernel_chunk + stride + 2; }

const StageKernel& best_stage_kernel();             // the widest that this processor runs
std::vector<StageKernel> available_stage_kernels(); // all that it runs, for the test

} // namespace holdtrue::heat
