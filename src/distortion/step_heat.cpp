#include "distortion/step_heat.h"

#include "distortion/dense_kernel.h"
#include "distortion/heat_strain.h"

#include <algorithm>
#include <array>

namespace holdtrue::distortion {

namespace {

double mean_at(const WeldGroup& group, std::span<const float> temperature_k) {
    double sum = 0, count = 0;
    for (const WeldPoint& at : group.points)
        for (const part::Attachment* place : {&at.on_a.bend, &at.on_b.bend}) {
            for (std::size_t k = 0; k < 4; ++k)
                sum += place->weight[k] * static_cast<double>(temperature_k[static_cast<std::size_t>(place->node[k])]);
            count += 1;
        }
    return sum / count;
}

} // namespace

StepHeat step_heat(const PartModel& model, std::span<const float> temperature_k, const StripMetal& metal) {
    StepHeat heat;
    for (const WeldGroup& group : model.groups())
        heat.group_k.push_back(mean_at(group, temperature_k));
    heat.strain_of_node = heat_strain(model.part(), model.mesh(), temperature_k, metal);
    return heat;
}

// Nodes in blocks whose columns stay in the second cache while all steps use them.
void condense_heat(const CondensedPart& part, std::span<StepHeat> steps) {
    const DenseKernel& kernel = best_dense_kernel();
    const int rows = part.model().row_count(), nodes = part.model().node_count();
    for (StepHeat& step : steps)
        step.of_rows = Eigen::VectorXd::Zero(rows);
    constexpr int block = 64;
    for (int first = 0; first < nodes; first += block)
        for (StepHeat& step : steps) {
            std::array<const double*, block> columns;
            std::array<double, block> strains;
            int count = 0;
            for (int node = first; node < std::min(first + block, nodes); ++node)
                if (const double strain = step.strain_of_node[node]; strain != 0) {
                    columns[static_cast<std::size_t>(count)] = part.of_strains().col(node).data();
                    strains[static_cast<std::size_t>(count++)] = strain;
                }
            kernel.add_columns(step.of_rows.data(), strains.data(), columns.data(), count, rows);
        }
}

} // namespace holdtrue::distortion
