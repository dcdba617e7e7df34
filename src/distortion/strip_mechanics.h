// Longitudinal shrinkage of a weld, from first principles. The section is divided into strips along the weld, each
// under the temperature that the passing torch gives it; plane sections stay plane:
//   strain(i) = e + k (lever_i - centroid),   stress(i) = E(T) (strain - thermal - plastic),   |stress| <= yield(T)
//   sum stress dA = N,   sum stress lever dA = M,   N and M being those of a uniform stress already there.
// Elastic, perfectly plastic: what hardening adds lies inside the band of the two yield curves. Metal too hot to carry
// stress (above 1200 C), molten metal included, forgets its plastic strain. Left when all is cold is a plastic
// shortening beside the weld, which the cold steel round it feels as a force,
//   F = -E sum plastic dA,     the tendon force.
// Left out: stress across the weld, the ends of the weld, transformation plasticity.
// Sources: Okerblom 1958 (plate strips), White, Leggatt and Dwight 1980 (tendon force), both from memory; steel's
// curves are EN 1993-1-2.
#pragma once

#include "distortion/strip_metal.h"
#include "distortion/strip_section.h"

#include <array>
#include <vector>

namespace holdtrue::distortion {

struct StripResult {
    double tendon_force_n = 0; // positive: shortens
    // Below and above the weld line: the force, and the half width of the strip that feels it evenly, twice the
    // distance of the force from the line.
    std::array<double, 2> side_force_n{}, side_strip_m{};
    double shortening = 0;                    // of the centroid, beyond the elastic strain of the stress already there
    double curvature_per_m = 0;               // positive: the strips of small lever got shorter
    std::vector<double> plastic, residual_pa; // strip_count
    bool converged = true; // false: no balance was found, as where a hot section cannot carry the stress asked of it
};

struct StripSupport {
    bool bends = true; // in the plane of the lever arms; otherwise the rest of the part keeps the section straight
    double prior_stress_pa = 0; // uniform; below the yield either way
    // Metal of the part, elastic and as cold as the coldest strip, that is not divided into strips but shortens with
    // them. Without it the stress already there is a dead load, and a hot narrow section cannot carry much of it.
    double rest_area_m2 = 0;
};

class StripMechanics {
public:
    StripMechanics(StripSection section, const StripMetal& metal, const StripSupport& support, double start_k);

    // The metal of a section at one moment: what many histories of stress have in common when it is heated alike.
    struct Strength { // of one strip
        double yield_pa, modulus_pa, expansion;
    };
    struct Moment {
        std::vector<Strength> strips;
        StripMetal::Mechanical coldest;
    };
    static Moment moment(const StripSection& section, const StripMetal& metal,
                         const std::vector<double>& temperature_k); // strip_count

    // Balances the section and lets its metal yield. Steps of some tens of kelvin.
    void advance(const Moment& moment);
    void advance(const std::vector<double>& temperature_k) { advance(moment(section_, metal_, temperature_k)); }
    void cool_evenly(double from_k, double to_k);

    StripResult result(double weld_line_m) const;
    double curvature_per_m() const { return curvature_per_m_; }
    double strain() const { return strain_; } // of the centroid
    const std::vector<double>& plastic() const { return plastic_; }

private:
    double stress_pa(std::size_t strip) const;
    bool balance(); // finds strain_ and curvature_per_m_ for now_

    StripSection section_;
    const StripMetal& metal_;
    StripSupport support_;
    std::vector<double> arm_m_, plastic_; // strip_count
    Moment now_;
    double area_m2_ = 0, reach_m_ = 0, strongest_pa_ = 0;
    double strain_ = 0, curvature_per_m_ = 0;
    bool converged_ = true;
};

} // namespace holdtrue::distortion
