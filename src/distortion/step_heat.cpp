#include "distortion/step_heat.h"

#include "distortion/heat_strain.h"

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

void condense_heat(const CondensedPart& part, std::span<StepHeat> steps) {
    constexpr std::size_t width = 32; // columns of one product
    for (std::size_t first = 0; first < steps.size(); first += width) {
        const std::span<StepHeat> batch = steps.subspan(first, std::min(width, steps.size() - first));
        Eigen::MatrixXd strains(part.model().node_count(), static_cast<Eigen::Index>(batch.size()));
        for (std::size_t k = 0; k < batch.size(); ++k)
            strains.col(static_cast<Eigen::Index>(k)) = batch[k].strain_of_node;
        const Eigen::MatrixXd rows = part.of_strains() * strains;
        for (std::size_t k = 0; k < batch.size(); ++k)
            batch[k].of_rows = rows.col(static_cast<Eigen::Index>(k));
    }
}

} // namespace holdtrue::distortion
