#include "distortion/shrinkage_rules.h"

#include "material/steel.h"
#include "units/units.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace holdtrue::distortion {
namespace {

using part::JointType;

constexpr double thick_m = 0.006; // from which the rules drawn from shipyard plates may speak

bool laid_in_corner(JointType type) { return type == JointType::fillet || type == JointType::lap; }

// The flange of a tee: what ends at the weld line is not stood on.
bool under_foot(const PassOnMember& pass) { return pass.type == JointType::fillet && pass.through; }

bool laid_between(JointType type) {
    return type == JointType::butt || type == JointType::corner || type == JointType::edge;
}

// Mean expansion and heat capacity from 20 to 600 C, where most of the heat of a cooling weld lies.
double contraction_m(const PassOnMember& pass) {
    const double hot_k = units::celsius(600);
    const double volume_heat = material::steel_density_kg_per_m3 * material::steel_heat_content_j_per_kg(hot_k);
    return material::steel_elongation(hot_k) / volume_heat * pass.heat_j_per_m / pass.thickness_m;
}

// Kinks of whole plates from the runs listed in tests/reference/RESULTS.md: the thicker and faster, the less a plate is
// heated through.
struct KinkRun {
    double heat_j_per_m3, angle_rad; // q / t^2
};
struct KinkCurve {
    double travel_thickness_m2_per_s; // v t
    std::array<KinkRun, 4> runs;      // from no heat, no kink; level beyond the last, which three runs repeat

    double at(double heat_j_per_m3) const {
        KinkRun before{0, 0};
        for (const KinkRun& run : runs) {
            if (heat_j_per_m3 <= run.heat_j_per_m3)
                return before.angle_rad + (run.angle_rad - before.angle_rad) * (heat_j_per_m3 - before.heat_j_per_m3) /
                                              (run.heat_j_per_m3 - before.heat_j_per_m3);
            before = run;
        }
        return before.angle_rad;
    }
};
using KinkCurves = std::array<KinkCurve, 3>;

constexpr KinkCurves bead_on_plate{
    {{18e-6, {{{5.0e9, 0}, {10.0e9, 0.0007}, {16.7e9, 0.0023}, {16.7e9, 0.0023}}}},
     {30e-6, {{{5.0e9, 0.0014}, {7.2e9, 0.0050}, {10.0e9, 0.0096}, {10.0e9, 0.0096}}}},
     {48e-6, {{{3.125e9, 0.0034}, {6.25e9, 0.0210}, {10.0e9, 0.0218}, {10.0e9, 0.0218}}}}}};
constexpr KinkCurves fillet_on_flange{
    {{18e-6, {{{5.0e9, 0}, {10.0e9, 0.0011}, {16.7e9, 0.0072}, {16.7e9, 0.0072}}}},
     {30e-6, {{{5.2e9, 0.0008}, {7.2e9, 0.0040}, {10.0e9, 0.0109}, {14.0e9, 0.0168}}}},
     {48e-6, {{{3.125e9, 0.0016}, {6.25e9, 0.0133}, {10.0e9, 0.0253}, {10.0e9, 0.0253}}}}}};

double kink_rad(const KinkCurves& curves, const PassOnMember& pass) {
    const double heat = pass.pass_heat_j_per_m / (pass.thickness_m * pass.thickness_m);
    const double place = std::clamp(pass.travel_m_per_s * pass.thickness_m, curves.front().travel_thickness_m2_per_s,
                                    curves.back().travel_thickness_m2_per_s);
    const std::size_t i = place < curves[1].travel_thickness_m2_per_s ? 0 : 1;
    const KinkCurve &low = curves[i], &high = curves[i + 1];
    const double part =
        (place - low.travel_thickness_m2_per_s) / (high.travel_thickness_m2_per_s - low.travel_thickness_m2_per_s);
    return (1 - part) * low.at(heat) + part * high.at(heat);
}

template <typename Rules, typename Evaluate>
Figure with_span(double value, const Rules& rules, Evaluate evaluate) {
    Figure figure{value, value, value};
    for (const auto rule : rules)
        if (const auto other = evaluate(rule)) {
            figure.least = std::min(figure.least, *other);
            figure.most = std::max(figure.most, *other);
        }
    return figure;
}

} // namespace

RuleNote note(AcrossRule rule) {
    switch (rule) {
    case AcrossRule::contraction:
        return {"contraction", "alpha q / (rho c t)", "heat balance of a free plate, steel of EN 1993-1-2",
                "any joint whose gap can close; a bead on a sound plate shrinks by 0.8 of it"};
    case AcrossRule::tenth:
        return {"tenth", "0.10 A / t", "O. W. Blodgett, as quoted", "measured on butts; used for every joint"};
    case AcrossRule::malisius:
        return {"malisius", "0.18 A / t", "W. Malisius, constants 0.16 to 0.20 (from memory)", "butts"};
    case AcrossRule::spraragen:
        return {"spraragen", "0.20 A / t + 0.05 d", "Spraragen and Ettinger 1950 (from memory)", "butts"};
    case AcrossRule::leg:
        return {"leg", "tee 0.51, lap 0.76 mm z / t per fillet", "K. Masubuchi after Cline (from memory)",
                "fillets and laps, z <= 0.75 t"};
    }
    return {};
}

RuleNote note(AngleRule rule) {
    switch (rule) {
    case AngleRule::solid:
        return {"solid", "f(q / t^2, v t)", "our own thermo-elastic-plastic solid runs, tests/reference",
                "one face heated; v t of 18 to 48 mm2/s, held at the ends"};
    case AngleRule::foot:
        return {"foot", "f(q / t^2, v t)", "our own thermo-elastic-plastic solid runs of tees, tests/reference",
                "flange under the fillet of a web as thick; v t of 18 to 48 mm2/s, held at the ends"};
    case AngleRule::flange:
        return {"flange", "0.02 z^1.3 / t^2, inches", "O. W. Blodgett, flange of a tee (from memory)",
                "fillets and laps on plates of 6 mm and more"};
    case AngleRule::wedge:
        return {"wedge", "12 S e / t^2, S = 0.10 A / t, e = t / 6", "mechanics with O. W. Blodgett's shrinkage",
                "vees laid from one side, 6 mm and more"};
    }
    return {};
}

bool applies(AcrossRule rule, const PassOnMember& pass) {
    if (pass.thickness_m <= 0)
        return false;
    switch (rule) {
    case AcrossRule::contraction:
        return pass.heat_j_per_m > 0;
    case AcrossRule::tenth:
        return true;
    case AcrossRule::malisius:
    case AcrossRule::spraragen:
        return pass.type == JointType::butt;
    case AcrossRule::leg:
        return laid_in_corner(pass.type) && pass.leg_m <= 0.75 * pass.thickness_m;
    }
    return false;
}

bool applies(AngleRule rule, const PassOnMember& pass) {
    if (pass.thickness_m <= 0)
        return false;
    switch (rule) {
    case AngleRule::solid:
        return pass.pass_heat_j_per_m > 0 && pass.type != JointType::plug && !under_foot(pass);
    case AngleRule::foot:
        return pass.pass_heat_j_per_m > 0 && under_foot(pass);
    case AngleRule::flange:
        return laid_in_corner(pass.type) && pass.thickness_m >= thick_m;
    case AngleRule::wedge:
        return laid_between(pass.type) && pass.thickness_m >= thick_m;
    }
    return false;
}

double across_m(AcrossRule rule, const PassOnMember& pass) {
    const double area_ratio = pass.deposit_area_m2 / pass.thickness_m;
    switch (rule) {
    case AcrossRule::contraction:
        return contraction_m(pass);
    case AcrossRule::tenth:
        return 0.10 * area_ratio;
    case AcrossRule::malisius:
        return 0.18 * area_ratio;
    case AcrossRule::spraragen:
        return 0.20 * area_ratio + 0.05 * pass.root_gap_m / 2;
    case AcrossRule::leg:
        return (pass.type == JointType::lap ? 0.76 : 0.51) * units::mm * pass.leg_m / pass.thickness_m;
    }
    return 0;
}

double angle_rad(AngleRule rule, const PassOnMember& pass) {
    if (rule == AngleRule::solid)
        return kink_rad(bead_on_plate, pass) * (pass.through ? 1 : 0.5);
    if (rule == AngleRule::foot)
        return kink_rad(fillet_on_flange, pass);
    if (rule == AngleRule::flange) {
        const double leg_in = pass.leg_m / units::inch, thickness_in = pass.thickness_m / units::inch;
        return 0.02 * std::pow(leg_in, 1.3) / (thickness_in * thickness_in);
    }
    const double arm_m = pass.thickness_m / 6;
    return 12 * across_m(AcrossRule::tenth, pass) * arm_m / (pass.thickness_m * pass.thickness_m);
}

AcrossRule usual_across_rule(part::JointType) { return AcrossRule::tenth; }

AngleRule usual_angle_rule(const PassOnMember& pass) { return under_foot(pass) ? AngleRule::foot : AngleRule::solid; }

Figure across(const PassOnMember& pass, AcrossRule rule) {
    return with_span(across_m(rule, pass), all_across_rules, [&](AcrossRule other) -> std::optional<double> {
        return applies(other, pass) ? std::optional(across_m(other, pass)) : std::nullopt;
    });
}

Figure angle(const PassOnMember& pass, AngleRule rule) {
    if (!applies(rule, pass))
        return {};
    Figure figure = with_span(angle_rad(rule, pass), all_angle_rules, [&](AngleRule other) -> std::optional<double> {
        return applies(other, pass) ? std::optional(angle_rad(other, pass)) : std::nullopt;
    });
    if (applies(AngleRule::foot, pass)) {
        // Twice what the second fillet of a tee changes about the first, and what it gains itself, after warming.
        const double foot = angle_rad(AngleRule::foot, pass);
        figure.least = std::min(figure.least, 0.8 * foot);
        figure.most = std::max(figure.most, 1.3 * foot);
        return figure;
    }
    // Like plates come out alike, but a bead on a sound plate is not yet a joint.
    const double solid = applies(AngleRule::solid, pass) ? angle_rad(AngleRule::solid, pass) : figure.value;
    figure.least = std::min(figure.least, 0.7 * solid);
    figure.most = std::max(figure.most, 1.5 * solid);
    return figure;
}

Figure warmed(const Figure& angle_rad, double start_k) {
    const double warmer = std::clamp(start_k - units::celsius(20), 0.0, 200.0) / 100;
    const double value = angle_rad.value * (1 + 0.06 * warmer);
    // What the rules disagree on when cold and what the start does are apart from each other.
    const double up = std::hypot(angle_rad.most - angle_rad.value, 0.21 * warmer * angle_rad.value);
    const double down = std::hypot(angle_rad.value - angle_rad.least, 0.27 * warmer * angle_rad.value);
    return {value, value - down, value + up};
}

} // namespace holdtrue::distortion
