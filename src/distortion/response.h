// How a part answers: values of its rows under actions (shrinkage, heat) while springs tie rows together.
//   K u = sum level_i f_i + sum over active springs k_r b_r (offset_r - value_r)
// Two implementations that must agree: FullResponse factors the whole sparse system anew after every change of the
// springs; CondensedResponse works on rows only.
#pragma once

#include "distortion/part_model.h"

#include <span>

namespace holdtrue::distortion {

// What the temperatures at the end of a step do to a part.
struct StepHeat {
    std::vector<double> group_k;    // group_count: mean temperature of the metal at each group
    Eigen::VectorXd strain_of_node; // heat_strain.h; may be empty where of_rows is enough
    Eigen::VectorXd of_rows;        // CondensedPart::of_strains times the above; empty: not yet worked out
};

class Response {
public:
    virtual ~Response() = default;

    // An action, at level 0 until set. Loads are columns of PartModel::loads with factors.
    virtual int add_loads(std::span<const std::pair<int, double>> loads) = 0;
    virtual int add_heat() = 0;                                      // of no strain
    virtual void replace_heat(int action, const StepHeat& heat) = 0; // its level becomes 0; `heat` must outlive this
    virtual void set_level(int action, double level) = 0;

    // Levels that move together, each by its own step: ramp_to(share) puts each where it would be after that share of
    // its step. set_level() still works in between and shifts the action's way.
    virtual void begin_ramp(std::span<const std::pair<int, double>> level_steps) = 0;
    virtual void ramp_to(double share) = 0;

    // Springs. `offset` is the value of the row at which its spring bears no force. Ties stay; what is fixed can be
    // released, and fixed again.
    virtual void tie(std::span<const int> rows, std::span<const double> offsets) = 0;
    virtual void fix(std::span<const int> rows, std::span<const double> offsets) = 0;
    virtual void release(std::span<const int> rows) = 0;

    // Answers about the present state.
    // Of any rows. `asked` changes no value, only what it costs: often, as a search for contacts does, or seldom.
    enum class Asked { often, seldom };
    virtual std::vector<double> values(std::span<const int> rows, Asked asked = Asked::often) = 0;
    double value(int row) { return values({&row, 1}).front(); }
    virtual double force(int row) = 0; // of an active spring: stiffness (value - offset)

    // Keeps the present state; displacements() gives the unknowns of all kept states, in order.
    virtual void keep() = 0;
    virtual std::vector<Eigen::VectorXd> displacements() = 0;
};

} // namespace holdtrue::distortion
