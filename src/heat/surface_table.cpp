#include "heat/surface_table.h"

#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::heat {
namespace {

constexpr int entry_count = 2048;
constexpr double coldest_k = 100, hottest_k = 3300;

} // namespace

double SurfaceLaw::loss_w_per_m2(double temperature_k) const {
    const double t2 = temperature_k * temperature_k, s2 = surroundings_k * surroundings_k;
    return convection_w_per_m2k * (temperature_k - surroundings_k) +
           emissivity * units::stefan_boltzmann * (t2 * t2 - s2 * s2) - inflow_w_per_m2;
}

SurfaceTable::SurfaceTable(const material::ThermalMaterial& material, std::span<const SurfaceLaw> laws) {
    // One entry begins at h = 0, 20 C, where the curves of steel have a corner and most parts begin.
    const double coldest = material.enthalpy_j_per_m3(coldest_k);
    per_entry_ = (material.enthalpy_j_per_m3(hottest_k) - coldest) / entry_count;
    first_ = std::floor(coldest / per_entry_) * per_entry_;

    std::vector<double> theta, loss;
    for (int k = 0; k <= entry_count; ++k) {
        const double t = material.temperature_k(first_ + k * per_entry_);
        temperature_k_.push_back(t);
        theta.push_back(material.kirchhoff_w_per_m(t));
        double sum = 0;
        for (const SurfaceLaw& law : laws)
            sum += law.loss_w_per_m2(t);
        loss.push_back(sum);
    }
    for (std::size_t k = 0; k < entry_count; ++k) {
        const double h = first_ + static_cast<double>(k) * per_entry_;
        const double theta_slope = (theta[k + 1] - theta[k]) / per_entry_,
                     loss_slope = (loss[k + 1] - loss[k]) / per_entry_;
        entries_.push_back({theta[k] - theta_slope * h, loss[k] - loss_slope * h, theta_slope, loss_slope});
        steepest_theta_ = std::max(steepest_theta_, theta_slope);
        steepest_loss_ = std::max(steepest_loss_, std::abs(loss_slope));
    }
}

TableView SurfaceTable::view() const { return {entries_.data(), entry_count, first_, 1 / per_entry_}; }

SurfaceTable::Place SurfaceTable::place(double enthalpy_j_per_m3) const {
    const double x = (enthalpy_j_per_m3 - first_) * (1 / per_entry_);
    const auto entry = static_cast<std::size_t>(std::clamp(x, 0.0, entry_count - 1.0));
    return {entry, x - static_cast<double>(entry)};
}

double SurfaceTable::loss_w_per_m2(double enthalpy_j_per_m3) const {
    const TableEntry& entry = entries_[place(enthalpy_j_per_m3).entry];
    return entry.loss_base_w_per_m2 + enthalpy_j_per_m3 * entry.loss_slope_m_per_s;
}

double SurfaceTable::temperature_k(double enthalpy_j_per_m3) const {
    const Place at = place(enthalpy_j_per_m3);
    return temperature_k_[at.entry] + at.part * (temperature_k_[at.entry + 1] - temperature_k_[at.entry]);
}

} // namespace holdtrue::heat
