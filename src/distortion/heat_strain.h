// Thermal strain that the metal can pass on to its surroundings.
//   e(T) = m + clip(dl/l(T) - m, -s(T) / E, s(T) / E),  m = mean dl/l of the panel
// Hot metal that wants to grow more than its neighbours is held back by them and yields: what it pushes with is capped
// by its strength s at that temperature (0.2 % proof or effective yield of EN 1993-1-2). Even heating is not capped.
#pragma once

#include "part/mesh.h"

#include <span>

namespace holdtrue::distortion {

enum class YieldCurve { proof, effective }; // material::steel_proof_factor, material::steel_yield_factor

// One value per node; strains count from the part's ambient temperature.
Eigen::VectorXd heat_strain(const part::Part& part, const part::Mesh& mesh, std::span<const float> temperature_k,
                            YieldCurve curve);

} // namespace holdtrue::distortion
