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
    double arc_s(int pass) const { return traces_[static_cast<std::size_t>(pass)].arc_s; }
    double heat_j(int pass) const { return traces_[static_cast<std::size_t>(pass)].heat_j; }

    struct Welded {
        int pass;
        bool reversed;
        double end_s;
        double share = 1; // of the table's heat
    };
    // `state` is overwritten.
    void at(double time_s, const std::vector<Welded>& welded, HeatState& state) const;
    Eigen::Vector3d halves_k(double time_s, const std::vector<Welded>& welded) const; // weld/halves.h
    // Hottest place along a pass, or (-1) along any.
    double hottest_k(double time_s, const std::vector<Welded>& welded, int pass) const;

    double temperature_k(double j_per_kg_above_ambient) const;
    std::size_t bytes() const;

private:
    // Of one pass in one direction, a column for each time after its end: rows as in HeatState one under the other, and
    // the enthalpy of some places along every pass. Floats: what is left out is far more than they round, and an order
    // spends much of its time reading them.
    struct Trace {
        double arc_s = 0, heat_j = 0;
        Eigen::MatrixXf after, along_j_per_kg;
    };
    struct Between {
        int column;
        double share; // of the next column
    };
    static Between between(double since_s);
    // Adds a matrix of the traces of all that was welded, `first` to `first + sum.size()` of its rows.
    void add(double time_s, const std::vector<Welded>& welded, Eigen::MatrixXf Trace::*what, int first,
             Eigen::VectorXd& sum) const;

    int rows_ = 0, groups_ = 0, passes_ = 0;
    double ambient_j_per_kg_ = 0;
    std::vector<Trace> traces_; // pass_count forwards, then pass_count backwards
    std::vector<double> temperature_of_heat_k_;
    bool ok_ = false;
};

} // namespace holdtrue::weld
