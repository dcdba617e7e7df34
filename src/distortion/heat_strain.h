// Thermal strain that the metal can pass on to its surroundings.
//   e(T) = m + clip(dl/l(T) - m, -s(T) / E(20 C), s(T) / E(20 C)),  m = mean dl/l of the panel
// Hot metal that wants to grow more than its neighbours is held back by them and yields: what it pushes with is capped
// by its yield s at that temperature. Even heating is not capped.
#pragma once

#include "distortion/strip_metal.h"
#include "part/mesh.h"

#include <span>

namespace holdtrue::distortion {

// One value per node; strains count from the part's ambient temperature.
Eigen::VectorXd heat_strain(const part::Part& part, const part::Mesh& mesh, std::span<const float> temperature_k,
                            const StripMetal& metal);

} // namespace holdtrue::distortion
