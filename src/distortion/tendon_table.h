// Tendon force of one kind of pass (joint, heat, travel), tabulated over what changes while a part is welded: the
// temperature it starts at and the stress already there. Each row, of one temperature, is made when a look-up first
// needs it, which costs some 30 ms; a look-up some 50 ns. Any thread.
//
// Force with no stress there: strips of the joint as it is, with the width it has. Stress there: its effect hardly
// depends on the width (within 2 % up to 0.4 of yield), but as a dead load it would tear a hot narrow section apart
// that in truth is held by the part round it. So the table holds the ratio of the force with to that without it, of
// the same members made wide and held by cold metal.
#pragma once

#include "distortion/section_heat.h"
#include "distortion/strip_mechanics.h"

#include <algorithm>
#include <array>
#include <mutex>
#include <vector>

namespace holdtrue::distortion {

struct TendonCase {
    Member a, b;             // either side of the weld line
    bool b_across = false;   // b lies across the plane of a, as the flange of a tee
    bool bends = false;      // the joint is free to curve in the plane of a; false: the part keeps it straight
    double heat_j_per_m = 0; // net
    double share_a = -1;     // part of the heat that falls on a; negative: half, or as widths allow
    double travel_m_per_s = 0.006;
    double sigma_m = 0.003; // spread of the arc
    friend bool operator==(const TendonCase&, const TendonCase&) = default;
};

struct Tendon {
    std::array<double, 2> force_n{}; // on a and on b (all of it, where b goes on to both sides)
    std::array<double, 2> strip_m{}; // width of the strip beside the weld line that it acts on evenly
    double band_n = 0;               // of their sum: how far the other yield curve is from the one used
};

class TendonTable {
public:
    explicit TendonTable(const TendonCase& of, const HeatSettings& heat = {}, const Grading& grading = {})
        : of_(of), heat_(heat), grading_(grading) {}

    // Outside the table (start 20 to 300 C, stress -0.9 to 0.95 of the weaker member's yield; tension positive) the
    // nearest entry counts.
    Tendon at(double start_k, double prior_stress_pa) const;
    bool converged() const; // makes all rows

private:
    struct Curve {
        Tendon unstressed;
        std::vector<double> force_ratio, strip_ratio; // prior_count
    };
    struct Row {
        std::once_flag made;
        Curve used, other;
        bool converged = true;
    };
    static constexpr std::array start_k{293.15, 373.15, 473.15, 573.15};

    void make(Row& row, double start) const;
    const Row& row(std::size_t index) const;
    double yield_pa() const { return std::min(of_.a.yield_pa, of_.b.yield_pa); }

    TendonCase of_;
    HeatSettings heat_;
    Grading grading_;
    mutable std::array<Row, start_k.size()> rows_;
};

} // namespace holdtrue::distortion
