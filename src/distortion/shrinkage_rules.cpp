#include "distortion/shrinkage_rules.h"

#include "material/steel.h"
#include "units/units.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace holdtrue::distortion {
namespace {

using part::JointType;

bool laid_in_corner(JointType type) { return type == JointType::fillet || type == JointType::lap; }

bool laid_between(JointType type) {
    return type == JointType::butt || type == JointType::corner || type == JointType::edge;
}

// Mean expansion and heat capacity from 20 to 600 C, where most of the heat of a cooling weld lies.
double contraction_m(const PassOnMember& pass) {
    const double hot_k = units::celsius(600);
    const double volume_heat = material::steel_density_kg_per_m3 * material::steel_heat_content_j_per_kg(hot_k);
    return material::steel_elongation(hot_k) / volume_heat * pass.heat_j_per_m / pass.thickness_m;
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
                "any joint; the least there can be"};
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
    case AngleRule::flange:
        return {"flange", "0.02 z^1.3 / t^2, inches", "O. W. Blodgett, flange of a tee (from memory)",
                "fillets and laps on plates that are not heated through; twice the angle if meant over half the width"};
    case AngleRule::wedge:
        return {"wedge", "12 S e / t^2, S = 0.10 A / t, e = t / 6", "mechanics with O. W. Blodgett's shrinkage",
                "welds laid from one side"};
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
    return rule == AngleRule::flange ? laid_in_corner(pass.type) : laid_in_corner(pass.type) || laid_between(pass.type);
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
    if (rule == AngleRule::flange) {
        const double leg_in = pass.leg_m / units::inch, thickness_in = pass.thickness_m / units::inch;
        return 0.02 * std::pow(leg_in, 1.3) / (thickness_in * thickness_in);
    }
    const double arm_m = pass.thickness_m / 6;
    return 12 * across_m(AcrossRule::tenth, pass) * arm_m / (pass.thickness_m * pass.thickness_m);
}

AcrossRule usual_across_rule(part::JointType) { return AcrossRule::tenth; }

AngleRule usual_angle_rule(part::JointType type) { return laid_in_corner(type) ? AngleRule::flange : AngleRule::wedge; }

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
    if (applies(AngleRule::flange, pass)) // whether its W is the width or half of it
        figure.most = std::max(figure.most, 2 * angle_rad(AngleRule::flange, pass));
    return figure;
}

} // namespace holdtrue::distortion
