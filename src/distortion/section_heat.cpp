#include "distortion/section_heat.h"

#include "text/verify.h"
#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {
namespace {

constexpr double diffusivity_m2_per_s = 15e-6; // of cold steel, the fastest: sets how far a torch is felt

double normal_cdf(double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }

// Share of the heat that each strip takes. What the Gaussian would drop beyond an edge stays on the plate.
std::vector<double> shares(const StripSection& section, const TorchPass& torch) {
    std::vector<double> share;
    double below = 0, above = 0;
    for (const Strip& strip : section.strips) {
        const double from = (strip.at_m - strip.width_m / 2 - torch.at_m) / torch.sigma_m;
        const double to = from + strip.width_m / torch.sigma_m;
        share.push_back(normal_cdf(to) - normal_cdf(from));
        (strip.at_m < torch.at_m ? below : above) += share.back();
    }
    const double wanted_below = torch.share_below >= 0 ? torch.share_below : below / (below + above);
    for (std::size_t i = 0; i < share.size(); ++i) {
        const bool is_below = section.strips[i].at_m < torch.at_m;
        const double side = is_below ? below : above;
        share[i] *= side > 0 ? (is_below ? wanted_below : 1 - wanted_below) / side : 0;
    }
    return share;
}

// Ends of the time steps of a passing torch, which is at the section at time 0: even while its heat comes down,
// wider and wider before and after.
std::vector<double> pass_times(const TorchPass& torch, const HeatSettings& settings) {
    const double sigma_s = torch.sigma_m / torch.travel_m_per_s;
    const double reach_s =
        settings.axial_conduction ? diffusivity_m2_per_s / (torch.travel_m_per_s * torch.travel_m_per_s) : 0;
    const double fine_s = sigma_s / settings.steps_per_sigma;
    const double ahead_growth = 3 * settings.time_growth;
    std::vector<double> ahead;
    for (double t = 4 * sigma_s; t < 4 * sigma_s + 10 * reach_s;) {
        t += std::max(fine_s, ahead_growth * t);
        ahead.push_back(-t);
    }
    std::vector<double> times(ahead.rbegin(), ahead.rend());
    const int steps = 8 * settings.steps_per_sigma;
    for (int k = 0; k <= steps; ++k)
        times.push_back(sigma_s * (8.0 * k / steps - 4));
    while (times.back() < 40 * reach_s)
        times.push_back(times.back() + std::max(fine_s, settings.time_growth * times.back()));
    return times;
}

} // namespace

double time_before_torch_s(const TorchPass& torch, const HeatSettings& settings) {
    return -pass_times(torch, settings).front();
}

SectionConduction::SectionConduction(const StripSection& section, const StripMetal& of, const HeatSettings& with)
    : metal(of), settings(with) {
    const std::vector<Strip>& strips = section.strips;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        area_m2.push_back(strips[i].area_m2());
        width_m.push_back(strips[i].width_m);
        if (i > 0)
            link.push_back(
                2 / (strips[i - 1].width_m / strips[i - 1].thickness_m + strips[i].width_m / strips[i].thickness_m));
    }
}

double SectionConduction::loss_w_per_m2(double temperature_k) const {
    const double a = settings.ambient_k, t = temperature_k;
    return 2 * (settings.convection_w_per_m2k * (t - a) +
                settings.emissivity * units::stefan_boltzmann * (t * t * t * t - a * a * a * a));
}

double SectionConduction::loss_slope_w_per_m2k(double temperature_k) const {
    return 2 * (settings.convection_w_per_m2k +
                4 * settings.emissivity * units::stefan_boltzmann * temperature_k * temperature_k * temperature_k);
}

SectionHeat::SectionHeat(const StripSection& section, const StripMetal& metal, const HeatSettings& settings,
                         double start_k)
    : section_(section), conduction_(section_, metal, settings), temperature_k_(section.strips.size(), start_k) {
    start_content_j_per_m_ = content_j_per_m();
}

void SectionHeat::set_uniform(double kelvin) { std::ranges::fill(temperature_k_, kelvin); }

double SectionHeat::hottest_k() const { return *std::ranges::max_element(temperature_k_); }

bool SectionHeat::is_even() const {
    const auto [coldest, hottest] = std::ranges::minmax(temperature_k_);
    return hottest - coldest < 2;
}

double SectionHeat::content_j_per_m() const {
    double sum = 0;
    for (std::size_t i = 0; i < temperature_k_.size(); ++i)
        sum += conduction_.area_m2[i] * conduction_.metal.thermal(temperature_k_[i]).enthalpy_j_per_m3;
    return sum;
}

double SectionHeat::stored_j_per_m() const { return content_j_per_m() - start_content_j_per_m_; }

void SectionHeat::step(double dt_s, const std::vector<double>& source_w_per_m) {
    const SectionConduction& c = conduction_;
    const std::size_t n = temperature_k_.size();
    std::vector<StripMetal::Thermal> now(n);
    std::vector<double> start(n), diagonal(n), right(n);
    for (std::size_t i = 0; i < n; ++i)
        start[i] = c.metal.thermal(temperature_k_[i]).enthalpy_j_per_m3;

    const double close_k = 1e-7;
    bool settled = false;
    for (int iteration = 0; iteration < 80 && !settled; ++iteration) {
        for (std::size_t i = 0; i < n; ++i)
            now[i] = c.metal.thermal(temperature_k_[i]);
        // Heat that does not add up yet, and its slope, strip by strip.
        for (std::size_t i = 0; i < n; ++i) {
            diagonal[i] = c.area_m2[i] / dt_s * now[i].capacity_j_per_m3k +
                          c.width_m[i] * c.loss_slope_w_per_m2k(temperature_k_[i]);
            right[i] = source_w_per_m[i] - c.width_m[i] * c.loss_w_per_m2(temperature_k_[i]) -
                       c.area_m2[i] / dt_s * (now[i].enthalpy_j_per_m3 - start[i]);
        }
        for (std::size_t i = 0; i + 1 < n; ++i) {
            const double flux = c.link[i] * (now[i + 1].kirchhoff_w_per_m - now[i].kirchhoff_w_per_m);
            right[i] += flux;
            right[i + 1] -= flux;
            diagonal[i] += c.link[i] * now[i].conductivity_w_per_mk;
            diagonal[i + 1] += c.link[i] * now[i + 1].conductivity_w_per_mk;
        }
        // Tridiagonal elimination: beside its diagonal, row i holds -link k of each neighbour.
        for (std::size_t i = 0; i + 1 < n; ++i) {
            const double factor = -c.link[i] * now[i].conductivity_w_per_mk / diagonal[i];
            diagonal[i + 1] += factor * c.link[i] * now[i + 1].conductivity_w_per_mk;
            right[i + 1] -= factor * right[i];
        }
        double largest_k = 0;
        for (std::size_t i = n; i-- > 0;) {
            if (i + 1 < n)
                right[i] += c.link[i] * now[i + 1].conductivity_w_per_mk * right[i + 1];
            right[i] /= diagonal[i];
            largest_k = std::max(largest_k, std::abs(right[i]));
        }
        // The enthalpy has kinks (transformation, melting); whole steps could hop across one for ever.
        const double damping = iteration < 20 ? 1.0 : 0.5;
        for (std::size_t i = 0; i < n; ++i)
            temperature_k_[i] += damping * right[i];
        settled = largest_k < close_k;
    }
    converged_ = converged_ && settled;
    since_torch_s_ += dt_s;
}

PassField SectionHeat::pass(const TorchPass& torch) {
    VERIFY(torch.travel_m_per_s > 0 && torch.sigma_m > 0 && torch.heat_j_per_m >= 0, "a torch moves and has a size");
    const std::vector<double> share = shares(section_, torch), start_k = temperature_k_;
    const std::vector<double> times = pass_times(torch, conduction_.settings);
    const double sigma_s = torch.sigma_m / torch.travel_m_per_s;
    const double whole = normal_cdf(4) - normal_cdf(-4);
    auto arrived = [&](double time_s) {
        return (normal_cdf(std::clamp(time_s / sigma_s, -4.0, 4.0)) - normal_cdf(-4)) / whole;
    };

    PassField field;
    for (std::size_t k = 0; k + 1 < times.size(); ++k) {
        field.dt_s.push_back(times[k + 1] - times[k]);
        const double power = torch.heat_j_per_m * (arrived(times[k + 1]) - arrived(times[k])) / field.dt_s[k];
        std::vector<double> source(share.size());
        for (std::size_t i = 0; i < share.size(); ++i)
            source[i] = power * share[i];
        step(field.dt_s[k], source);
        field.source_w_per_m.push_back(std::move(source));
        field.temperature_k.push_back(temperature_k_);
    }
    if (conduction_.settings.axial_conduction && torch.heat_j_per_m > 0)
        converged_ = couple_axially(conduction_, torch.travel_m_per_s, start_k, field) && converged_;

    brought_j_per_m_ += torch.heat_j_per_m;
    for (std::size_t k = 0; k < field.dt_s.size(); ++k)
        for (std::size_t i = 0; i < share.size(); ++i)
            lost_j_per_m_ +=
                field.dt_s[k] * conduction_.width_m[i] * conduction_.loss_w_per_m2(field.temperature_k[k][i]);
    temperature_k_ = field.temperature_k.back();
    since_torch_s_ = times.back();
    return field;
}

double SectionHeat::cool(double at_most_s) {
    const double dt_s = std::min(at_most_s, std::max(0.05, conduction_.settings.time_growth * since_torch_s_));
    step(dt_s, std::vector<double>(temperature_k_.size(), 0.0));
    for (std::size_t i = 0; i < temperature_k_.size(); ++i)
        lost_j_per_m_ += dt_s * conduction_.width_m[i] * conduction_.loss_w_per_m2(temperature_k_[i]);
    return dt_s;
}

} // namespace holdtrue::distortion
