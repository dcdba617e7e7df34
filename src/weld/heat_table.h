// What the heat of each pass alone does to a part in the time after it, so that the heat of any order is a sum:
//   H(t) = H_ambient + sum over passes welded before t of dH_pass(t - its end)
// for the enthalpy H at each weld, and the same for what the heat does to the rows of the condensed part. Enthalpies
// add up where temperatures do not: specific heat and elongation grow alike with temperature.
//
// Left out against heat::WeldHeat: that metal conducts less and loses more when it is hot already, and that heat finds
// more ways as more passes join the panels (here every tack and plug conducts, and the pass itself).
// tests/weld/rehearsal_test.cpp holds both side by side.
#pragma once

#include "distortion/condensed_part.h"
#include "heat/weld_heat.h"
#include "weld/packed_columns.h"

#include <stop_token>

namespace holdtrue::weld {

// Everything about the heat of a part that an order asks for, at one moment.
struct HeatState {
    Eigen::VectorXd of_rows;        // what the heat does to the condensed part's rows
    Eigen::VectorXd group_j_per_kg; // group_count: mean enthalpy above ambient at each group
};

class HeatTable {
public:
    // One arc per pass of the part that may be welded, forwards. Stops early, incomplete, when asked to; then ok() is
    // false.
    HeatTable(std::shared_ptr<const part::Part> part, std::shared_ptr<const part::Mesh> mesh,
              const distortion::CondensedPart& condensed, const std::vector<heat::Arc>& arcs, int threads,
              std::stop_token stop = {});

    bool ok() const { return ok_; }
    double arc_s(int pass) const { return arc_s_[static_cast<std::size_t>(pass)]; }
    double heat_j(int pass) const { return heat_j_[static_cast<std::size_t>(pass)]; }

    struct Welded {
        int pass;
        bool reversed;
        double end_s;
        double share = 1; // of the table's heat
    };
    // How what was welded is spread over the table at one moment: made once, asked several times.
    struct Moment {
        std::vector<PackedColumns::Term> terms;
        PackedColumns::Scratch scratch;
    };
    // `welded` in the order of its ends, none after `time_s`.
    void go_to(double time_s, const std::vector<Welded>& welded, Moment& moment) const;

    // `state` is overwritten.
    void at(Moment& moment, HeatState& state) const;
    Eigen::Vector3d halves_k(Moment& moment) const; // weld/halves.h
    // Hottest place along a pass, or (-1) along any.
    double hottest_k(Moment& moment, int pass) const;

    double temperature_k(double j_per_kg_above_ambient) const;
    std::size_t bytes() const { return after_.bytes() + along_.bytes(); }

private:
    int rows_ = 0, groups_ = 0, passes_ = 0;
    double ambient_j_per_kg_ = 0;
    std::vector<double> arc_s_, heat_j_; // pass_count
    // Of each pass forwards, then of each backwards, a column for each time after its end: rows as in HeatState one
    // under the other and the uneven halves; the enthalpy of some places along every pass.
    PackedColumns after_, along_;
    std::vector<double> temperature_of_heat_k_;
    bool ok_ = false;
};

} // namespace holdtrue::weld
