// The part cut in two through the middle of its metal, square to x, y and z in turn: how unevenly it is heated.
#pragma once

#include "part/mesh.h"

#include <array>
#include <span>

namespace holdtrue::weld {

class Halves {
public:
    explicit Halves(const part::Mesh& mesh);

    // Mean temperature of the half towards +x (+y, +z) less that of the other half. 0 for a cut that leaves less than
    // a fifth of the metal on one side, which says nothing. temperature_k: node_count.
    std::array<double, 3> difference_k(std::span<const double> temperature_k) const;

private:
    std::array<std::vector<double>, 3> weight_; // node_count each
};

} // namespace holdtrue::weld
