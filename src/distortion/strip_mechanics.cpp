#include "distortion/strip_mechanics.h"

#include "material/steel.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {
namespace {

// Below this part of the cold modulus metal carries nothing worth counting.
constexpr double no_stiffness = 1e-6;

} // namespace

StripMechanics::StripMechanics(StripSection section, const StripMetal& metal, const StripSupport& support,
                               double start_k)
    : section_(std::move(section)), metal_(metal), support_(support), plastic_(section_.strips.size(), 0.0) {
    double moment = 0;
    for (const Strip& strip : section_.strips) {
        area_m2_ += strip.area_m2();
        moment += strip.area_m2() * strip.lever_m;
        strongest_pa_ = std::max(strongest_pa_, strip.yield_pa);
    }
    for (const Strip& strip : section_.strips) {
        arm_m_.push_back(strip.lever_m - moment / area_m2_);
        reach_m_ = std::max(reach_m_, std::abs(arm_m_.back()));
    }
    VERIFY(std::abs(support.prior_stress_pa) < strongest_pa_, "stress already there is below yield");
    advance(std::vector<double>(plastic_.size(), start_k));
}

StripMechanics::Moment StripMechanics::moment(const StripSection& section, const StripMetal& metal,
                                              const std::vector<double>& temperature_k) {
    Moment moment{{}, metal.mechanical(*std::ranges::min_element(temperature_k))};
    for (std::size_t i = 0; i < temperature_k.size(); ++i) {
        const StripMetal::Mechanical now = metal.mechanical(temperature_k[i]);
        moment.strips.push_back({now.yield_ratio * section.strips[i].yield_pa, now.modulus_pa, now.expansion});
    }
    return moment;
}

double StripMechanics::stress_pa(std::size_t strip) const {
    const Strength& now = now_.strips[strip];
    const double strain = strain_ + curvature_per_m_ * arm_m_[strip] - now.expansion - plastic_[strip];
    return std::clamp(now.modulus_pa * strain, -now.yield_pa, now.yield_pa);
}

bool StripMechanics::balance() {
    const double close = 1e-8;
    const double soft_pa = 1e-4 * material::steel_modulus_20c_pa; // where all yields, the slope must not vanish
    const StripMetal::Mechanical& rest = now_.coldest;
    const double rest_stiff = rest.modulus_pa * support_.rest_area_m2, prior_pa = support_.prior_stress_pa;
    for (int iteration = 0; iteration < 500; ++iteration) {
        double force = prior_pa * support_.rest_area_m2 - rest_stiff * (strain_ - rest.expansion);
        double moment = 0, k00 = rest_stiff, k01 = 0, k11 = 0;
        for (std::size_t i = 0; i < plastic_.size(); ++i) {
            const double area = section_.strips[i].area_m2(), stress = stress_pa(i);
            // True slopes end the search in a few steps; where they hop to and fro, elastic slopes always settle.
            const bool yields = std::abs(stress) >= now_.strips[i].yield_pa && iteration < 40;
            const double stiff = ((yields ? 0 : now_.strips[i].modulus_pa) + soft_pa) * area;
            force += (prior_pa - stress) * area;
            moment += (prior_pa - stress) * area * arm_m_[i];
            k00 += stiff;
            k01 += stiff * arm_m_[i];
            k11 += stiff * arm_m_[i] * arm_m_[i];
        }
        const double scale = close * strongest_pa_ * (area_m2_ + support_.rest_area_m2);
        if (std::abs(force) < scale && (!support_.bends || std::abs(moment) < scale * reach_m_))
            return true;
        if (support_.bends) {
            const double determinant = k00 * k11 - k01 * k01;
            strain_ += (k11 * force - k01 * moment) / determinant;
            curvature_per_m_ += (k00 * moment - k01 * force) / determinant;
        } else {
            strain_ += force / k00;
        }
    }
    return false;
}

void StripMechanics::advance(const Moment& moment) {
    now_ = moment;
    converged_ = balance() && converged_;
    for (std::size_t i = 0; i < plastic_.size(); ++i) {
        const double carried = strain_ + curvature_per_m_ * arm_m_[i] - now_.strips[i].expansion;
        const double stress = stress_pa(i);
        if (now_.strips[i].modulus_pa < no_stiffness * material::steel_modulus_20c_pa)
            plastic_[i] = carried;
        else if (std::abs(stress) >= now_.strips[i].yield_pa)
            plastic_[i] = carried - stress / now_.strips[i].modulus_pa;
    }
}

void StripMechanics::cool_evenly(double from_k, double to_k) {
    const int steps = 8;
    for (int k = 1; k <= steps; ++k)
        advance(std::vector<double>(plastic_.size(), from_k + (to_k - from_k) * k / steps));
}

StripResult StripMechanics::result(double weld_line_m) const {
    StripResult result;
    result.plastic = plastic_;
    result.shortening = support_.prior_stress_pa / material::steel_modulus_20c_pa - strain_;
    result.curvature_per_m = curvature_per_m_;
    result.converged = converged_;
    for (std::size_t i = 0; i < plastic_.size(); ++i) {
        const Strip& strip = section_.strips[i];
        const std::size_t side = strip.at_m < weld_line_m ? 0 : 1;
        const double force = -material::steel_modulus_20c_pa * plastic_[i] * strip.area_m2();
        result.tendon_force_n += force;
        result.side_force_n[side] += force;
        result.side_strip_m[side] += 2 * force * std::abs(strip.at_m - weld_line_m);
        result.residual_pa.push_back(stress_pa(i));
    }
    for (int side : {0, 1})
        result.side_strip_m[side] =
            result.side_force_n[side] > 0 ? std::max(0.0, result.side_strip_m[side] / result.side_force_n[side]) : 0;
    return result;
}

} // namespace holdtrue::distortion
