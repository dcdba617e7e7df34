#include "distortion/step_heat.h"

#include "distortion/dense_kernel.h"
#include "distortion/heat_strain.h"

#include <algorithm>

namespace holdtrue::distortion {

namespace {

double mean_at(const WeldGroup& group, std::span<const float> temperature_k) {
    double sum = 0, count = 0;
    for (const WeldPoint& at : group.points)
        for (const part::Attachment* place : {&at.on_a, &at.on_b}) {
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
            const double* strain = step.strain_of_node.data();
            const int end = std::min(nodes, first + block);
            int n = first;
            for (; n + 4 <= end; n += 4) {
                const double* columns[4];
                for (int k = 0; k < 4; ++k)
                    columns[k] = part.of_strains().col(n + k).data();
                kernel.add_four(step.of_rows.data(), strain + n, columns, rows);
            }
            for (; n < end; ++n)
                kernel.add(step.of_rows.data(), strain[n], part.of_strains().col(n).data(), rows);
        }
}

} // namespace holdtrue::distortion
