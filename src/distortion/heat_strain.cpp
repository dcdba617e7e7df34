#include "distortion/heat_strain.h"

#include "distortion/shrinkage.h"
#include "material/steel.h"

#include <algorithm>

namespace holdtrue::distortion {

Eigen::VectorXd heat_strain(const part::Part& part, const part::Mesh& mesh, std::span<const float> temperature_k,
                            const StripMetal& metal) {
    Eigen::VectorXd strain(mesh.node_count());
    const double at_ambient = material::steel_elongation(part.ambient_k);
    for (std::size_t p = 0; p < mesh.panels.size(); ++p) {
        const part::PanelGrid& grid = mesh.panels[p];
        const auto first = static_cast<std::size_t>(grid.first_node);
        const std::size_t count = static_cast<std::size_t>(grid.nu) * static_cast<std::size_t>(grid.nv);
        double mean = 0;
        for (std::size_t n = first; n < first + count; ++n) {
            strain[static_cast<Eigen::Index>(n)] = material::steel_elongation(temperature_k[n]) - at_ambient;
            mean += strain[static_cast<Eigen::Index>(n)] / static_cast<double>(count);
        }
        for (std::size_t n = first; n < first + count; ++n) {
            const double cap = carried_strain(metal, static_cast<double>(temperature_k[n]), part.panels[p].yield_pa);
            double& value = strain[static_cast<Eigen::Index>(n)];
            value = mean + std::clamp(value - mean, -cap, cap);
        }
    }
    return strain;
}

} // namespace holdtrue::distortion
