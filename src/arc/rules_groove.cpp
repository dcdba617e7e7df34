#include "arc/bead.h"
#include "arc/evaluators.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

bool butt(const Facts& facts) { return facts.is(part::JointType::butt); }
bool square(const Facts& facts) { return butt(facts) && !facts.section.groove_angle_rad; }
bool vee(const Facts& facts) { return butt(facts) && facts.section.groove_angle_rad; }

std::optional<Finding> square_one_side(const Rule& rule, const Facts& facts) {
    if (!square(facts) || facts.section.backing || facts.section.both_sides)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The thickness of this square butt"), facts.section.thinner_m(), rule.high,
                              worded("one side does not reach the root"),
                              worded("bevel the edges to 60°, weld from both sides, or use a backing bar")));
}

std::optional<Finding> square_both_sides(const Rule& rule, const Facts& facts) {
    if (!square(facts) || (!facts.section.backing && !facts.section.both_sides))
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The thickness of this square butt"), facts.section.thinner_m(), rule.high,
                              worded("the passes do not meet in the middle"), worded("bevel the edges")));
}

std::optional<Finding> square_gap(const Rule& rule, const Facts& facts) {
    constexpr double sheet_below_m = 3e-3;
    if (!square(facts) || facts.section.backing)
        return std::nullopt;
    const double t = facts.section.thinner_m();
    const bool half = t < sheet_below_m || facts.section.both_sides;
    const double most = half ? *rule.share : rule.high_or_stop();
    return judge_band(rule, facts,
                      at_most(worded("The root gap against the thickness"), facts.section.root_gap_m / t, most,
                              worded("the pool falls through"), Remedy(Adjustable::gap, most * t)));
}

std::optional<Finding> bevel_angle(const Rule& rule, const Facts& facts) {
    if (!vee(facts) || facts.section.backing)
        return std::nullopt;
    return judge_band(rule, facts,
                      {worded("The included angle"), *facts.section.groove_angle_rad, rule.low, rule.high,
                       worded("the torch does not reach the root"), worded("it takes needless metal and pulls more"),
                       Remedy(Adjustable::groove_angle, rule.low_or_stop()),
                       Remedy(Adjustable::groove_angle, rule.high_or_stop())});
}

std::optional<Finding> root_face(const Rule& rule, const Facts& facts) {
    if (!vee(facts) || !facts.section.root_face_m)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The root face"), *facts.section.root_face_m, rule.high,
                              worded("the arc does not melt it through"),
                              Remedy(Adjustable::root_face, rule.high_or_stop())));
}

std::optional<Finding> v_gap(const Rule& rule, const Facts& facts) {
    if (!vee(facts) || facts.section.backing)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The root gap"), facts.section.root_gap_m, rule.high,
                              worded("the pool falls through"), Remedy(Adjustable::gap, rule.high_or_stop())));
}

std::optional<Finding> v_thickness(const Rule& rule, const Facts& facts) {
    if (!vee(facts) || facts.section.both_sides)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The thickness of this single V"), facts.section.thinner_m(), rule.high,
                              worded("it takes twice the metal of a double V and pulls to one side"),
                              worded("prepare both sides")));
}

std::optional<Finding> root_fused(const Rule& rule, const Facts& facts) {
    const bool part_way = facts.section.size_m > 0 && facts.section.size_m < 0.95 * facts.section.thinner_m();
    if (!butt(facts) || part_way || facts.section.kind == part::PassKind::tack)
        return std::nullopt;
    const double root_m =
        facts.section.root_face_m.value_or(facts.section.groove_angle_rad ? 0.0 : facts.section.thinner_m()) /
        (facts.section.both_sides ? 2 : 1);
    // Molten through by the plate solution, or melted deep enough by the arc itself.
    const BackFace& back = facts.figures.members.back_a;
    const double by_arc = root_m > 0 ? facts.figures.members.fusion_a.penetration_m / root_m : 1;
    const double by_plate = facts.section.both_sides || facts.section.groove_angle_rad ? 0 : back.molten_share;
    return judge_band(rule, facts,
                      at_least(worded("The share of the root that melts"), std::min(1.0, std::max(by_arc, by_plate)),
                               rule.low, worded("the root is not welded through"),
                               Remedy(Adjustable::travel, 0.9 * facts.card.travel_m_per_s)
                                   .or_else(worded("raise the wire feed, or open the gap"))));
}

std::optional<Finding> hanging_pool(const Rule& rule, const Facts& facts) {
    if (!butt(facts) || facts.section.backing)
        return std::nullopt;
    return judge_band(
        rule, facts,
        at_most(worded("The width molten through the sheet"),
                facts.figures.members.full_depth_width_m > 0
                    ? facts.figures.members.full_depth_width_m + facts.section.root_gap_m / 2
                    : 0,
                rule.high, worded("the pool hangs free and may fall"),
                Remedy(Adjustable::travel, 1.2 * facts.card.travel_m_per_s).or_else(worded("lay a backing bar"))));
}

std::optional<Finding> excess_weld(const Rule& rule, const Facts& facts) {
    if (!butt(facts) || facts.figures.joint_area_m2 <= 0)
        return std::nullopt;
    const double width = std::max(facts.figures.arc.face_width_m, 1e-3);
    const double laid = facts.figures.passes * facts.figures.arc.deposit_area_m2;
    const double cap = std::max(0.0, laid - groove_area_m2(facts.section)) * 1.5 / width;
    return judge_band(rule, facts,
                      at_most(worded("The cap"), cap, std::min(*rule.base + *rule.share * width, rule.high_or_stop()),
                              worded("metal and heat for nothing, and sharp toes"),
                              Remedy(Adjustable::travel, facts.card.travel_m_per_s * laid /
                                                             std::max(facts.figures.joint_area_m2, 0.5 * laid))));
}

std::optional<Finding> edge_thickness(const Rule& rule, const Facts& facts) {
    if (!facts.is(part::JointType::edge))
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The thickness of the sheets"), facts.section.thicker_m(), rule.high,
                              worded("an edge weld holds only the rims of thicker plate"),
                              worded("choose a fillet or a butt")));
}

} // namespace

std::span<const Evaluator> groove_evaluators() {
    static constexpr std::array table{
        Evaluator{"butt.square_one_side", square_one_side},
        Evaluator{"butt.square_both_sides", square_both_sides},
        Evaluator{"butt.square_gap", square_gap},
        Evaluator{"butt.bevel_angle", bevel_angle},
        Evaluator{"butt.root_face", root_face},
        Evaluator{"butt.v_gap", v_gap},
        Evaluator{"butt.v_thickness", v_thickness},
        Evaluator{"butt.root_fused", root_fused},
        Evaluator{"butt.hanging_pool", hanging_pool},
        Evaluator{"butt.excess_weld", excess_weld},
        Evaluator{"edge.thickness", edge_thickness},
    };
    return table;
}

} // namespace holdtrue::arc
