// How a part answers: values of its rows under actions (shrinkage, heat) while springs tie rows together.
//   K u = sum level_i f_i + sum over active springs k_r b_r (offset_r - value_r)
// Two implementations that must agree: FullResponse factors the whole sparse system anew after every change of the
// springs; CondensedResponse works on rows only.
#pragma once

#include "distortion/part_model.h"

#include <span>

namespace holdtrue::distortion {

class Response {
public:
    virtual ~Response() = default;

    // An action, at level 0 until set. Loads are columns of PartModel::loads with factors.
    virtual int add_loads(std::span<const std::pair<int, double>> loads) = 0;
    virtual int add_thermal(const Eigen::VectorXd& strain_of_node) = 0;
    virtual void replace_thermal(int action, const Eigen::VectorXd& strain_of_node) = 0; // its level becomes 0
    virtual void set_level(int action, double level) = 0;

    // Springs. `offset` is the value of the row at which its spring bears no force.
    virtual void fix(int row, double offset) = 0;
    virtual void set_offset(int row, double offset) = 0;
    virtual void release(int row) = 0;

    // Answers about the present state.
    virtual double value(int row) = 0; // of any row
    virtual double force(int row) = 0; // of an active spring: stiffness (value - offset)

    // Keeps the present state; displacements() gives the unknowns of all kept states, in order.
    virtual void keep() = 0;
    virtual std::vector<Eigen::VectorXd> displacements() = 0;
};

} // namespace holdtrue::distortion
