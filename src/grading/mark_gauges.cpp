#include "grading/aspects.h"
#include "grading/grade.h"
#include "part/gauge_text.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

namespace holdtrue::grading {
namespace {

Sentence consequence_of(part::GaugeKind kind) {
    switch (kind) {
    case part::GaugeKind::distance:
        return worded("what is fitted between these places will not go in, or will rattle");
    case part::GaugeKind::bow:
        return worded("the part is no longer straight and will not lie against what it is fitted to");
    case part::GaugeKind::twist:
        return worded("its ends are turned against each other, so that pins and bolts bind");
    case part::GaugeKind::squareness:
        return worded("the frame is a lozenge: nothing square will fit it");
    case part::GaugeKind::flatness:
        return worded("the face rocks on a flat bed and cannot be bolted down without strain");
    case part::GaugeKind::angle:
        return worded("the faces no longer meet at the drawn angle");
    case part::GaugeKind::tilt:
        return worded("the axis leans, so that a pin through it binds and wears on one side");
    }
    return {};
}

// How far each joint, and each pass, pushed a gauge towards its error (positive) or back. A pass goes on pulling while
// it cools, so what moves during waits and turns counts for the pass before.
struct Pulls {
    std::map<int, double> by_joint;
    int worst_move = -1;
    double worst = 0;
};

Pulls find_pulls(const Marking& marking, std::size_t g) {
    const weld::GaugeOutcome& found = marking.outcome.gauges[g];
    const double sense = found.value > found.nominal ? 1.0 : -1.0;
    std::map<int, double> by_move;
    int owner = -1;
    for (std::size_t k = 0; k < marking.outcome.moves.size(); ++k) {
        const auto& contribution = marking.outcome.moves[k].gauge_contribution;
        if (g >= contribution.size())
            continue;
        const auto& what = marking.outcome.plan.moves[k].what;
        const bool weld = std::holds_alternative<weld::WeldPass>(what);
        const bool clamp = std::holds_alternative<weld::ClampMove>(what);
        if (weld)
            owner = static_cast<int>(k);
        by_move[clamp || owner < 0 ? static_cast<int>(k) : owner] += sense * contribution[g];
    }
    if (!found.after_move.empty() && owner >= 0)
        by_move[owner] += sense * (found.value - found.after_move.back());

    Pulls pulls;
    for (const auto& [move, pull] : by_move) {
        const auto* weld =
            std::get_if<weld::WeldPass>(&marking.outcome.plan.moves[static_cast<std::size_t>(move)].what);
        if (weld)
            pulls.by_joint[marking.part().passes[static_cast<std::size_t>(weld->pass)].joint] += pull;
        if (pull > pulls.worst) {
            pulls.worst = pull;
            pulls.worst_move = move;
        }
    }
    return pulls;
}

// The last move that welds a joint (-1: any), or -1.
int last_weld(const Marking& marking, int joint) {
    const std::vector<weld::Move>& moves = marking.outcome.plan.moves;
    for (std::size_t k = moves.size(); k-- > 0;)
        if (const auto* weld = std::get_if<weld::WeldPass>(&moves[k].what))
            if (joint < 0 || marking.part().passes[static_cast<std::size_t>(weld->pass)].joint == joint)
                return static_cast<int>(k);
    return -1;
}

// "raise the travel speed from 360 to 480 mm/min": the least change that leaves about the leg asked for and breaks no
// rule that is kept now. nullopt: there is none.
std::optional<Sentence> travel_for_leg(const Marking& marking, const arc::SettingCard& card, const part::Joint& joint,
                                       double leg_now_m) {
    constexpr double about = 1.1;
    const arc::RuleBook& rules = *marking.exercise.rules;
    const arc::Shop& shop = *marking.outcome.shop;
    arc::Section section = arc::section_of(marking.part(), joint);
    section.start_k = std::max(marking.part().ambient_k, card.preheat_k);
    const auto broken = [&](const arc::SettingCard& tried, const arc::SetupFigures& figures) {
        std::set<const arc::Rule*> broken_rules;
        for (const arc::RuleBook::Judged& judged : rules.verdicts(tried, shop, section, figures))
            if (judged.verdict != arc::Verdict::pass)
                broken_rules.insert(judged.rule);
        return broken_rules;
    };
    const auto broken_now = broken(card, arc::setup_figures(card, shop, section));
    const double share = leg_now_m / joint.size_m; // metal goes with the square of the leg, and against the travel
    const arc::Remedy faster(arc::Adjustable::travel, card.travel_m_per_s * share * share);
    const auto found = arc::settle(faster, card, shop, section, marking.system, [&](const arc::Setting& travel) {
        arc::SettingCard tried = card;
        arc::put(travel, tried, section);
        const arc::SetupFigures figures = arc::setup_figures(tried, shop, section);
        return figures.arc.leg_m <= about * joint.size_m && std::ranges::includes(broken_now, broken(tried, figures));
    });
    return found ? std::optional(arc::in_words(*found, card, shop, section, marking.system)) : std::nullopt;
}

// One thing to try, read off what pulled the gauge and what pulled it back.
Sentence advice(const Marking& marking, std::size_t g, const Pulls& pulls) {
    const part::Part& part = marking.part();
    const part::Gauge& gauge = part.gauges[g];
    if (pulls.worst_move < 0)
        return not_computed(worded("Plan the order so that pulls on opposite sides cancel"));
    const double sense = marking.outcome.gauges[g].value > marking.outcome.gauges[g].nominal ? 1.0 : -1.0;
    const auto pulled = [&](double pull) { return part::gauge_change_text(gauge, sense * pull, marking.system); };
    const auto moved_by = [&](Sentence try_this) {
        return not_computed({worded("It was moved most by {0} and the cooling after it ({1}). {2}"),
                             {name_of_move(marking, pulls.worst_move), pulled(pulls.worst), std::move(try_this)}});
    };
    const auto name = [&](int joint) { return part.joints[static_cast<std::size_t>(joint)].name; };
    const auto* weld =
        std::get_if<weld::WeldPass>(&marking.outcome.plan.moves[static_cast<std::size_t>(pulls.worst_move)].what);
    if (!weld)
        return moved_by(worded("Let the part cool further, or weld more of it, before this move"));

    const int joint = part.passes[static_cast<std::size_t>(weld->pass)].joint;
    const arc::ArcFigures& arc = marking.outcome.moves[static_cast<std::size_t>(pulls.worst_move)].arc;
    const arc::SettingCard& card = marking.outcome.plan.cards[static_cast<std::size_t>(weld->card)];
    const part::Joint& of_joint = part.joints[static_cast<std::size_t>(joint)];
    const double wanted_m = of_joint.size_m;
    const part::JointType type = of_joint.type;
    if ((type == part::JointType::fillet || type == part::JointType::lap) && arc.leg_m > 1.25 * wanted_m) {
        const auto travel = travel_for_leg(marking, card, of_joint, arc.leg_m);
        return moved_by(
            {worded("Its leg is {0} where {1} is asked for, and less metal pulls less: {2} on card '{3}'"),
             {units::length_text(arc.leg_m, marking.system), units::length_text(wanted_m, marking.system),
              travel.value_or(worded("lower the wire feed or travel faster")), Sentence::of_file(card.name)}});
    }

    const int last = last_weld(marking, -1);
    int counter = -1;
    for (const auto& [other, pull] : pulls.by_joint)
        if (other != joint && pull < -0.1 * pulls.worst && (counter < 0 || pull < pulls.by_joint.at(counter)))
            counter = other;
    if (counter >= 0 && last_weld(marking, counter) > pulls.worst_move)
        return moved_by({worded("Joint '{0}' pulls it the other way ({1}): weld '{0}' sooner, or by turns with '{2}'"),
                         {name(counter), pulled(pulls.by_joint.at(counter)), name(joint)}});
    if (counter >= 0)
        return moved_by({worded("Joint '{0}' pulls it the other way ({1}): leave some of '{0}' until after it, or weld "
                                "it by turns with '{2}'"),
                         {name(counter), pulled(pulls.by_joint.at(counter)), name(joint)}});
    if (pulls.worst_move == last)
        return moved_by(worded("Nothing in this plan pulls it back: turn its direction round, or let the part cool "
                               "before it; compare with other orders to see what single changes do"));
    return moved_by(worded("Nothing in this plan pulls it back: weld this pass later, when more of the part holds it, "
                           "or turn its direction round; compare with other orders to see what single changes do"));
}

} // namespace

double gauge_credit(double error, double tolerance) {
    return 1 / (1 + std::pow(std::abs(error) / (1.25 * tolerance), 4));
}

AspectMark mark_gauges(const Marking& marking) {
    AspectMark result;
    const part::Part& part = marking.part();
    const auto count = static_cast<double>(part.gauges.size());
    for (std::size_t g = 0; g < part.gauges.size(); ++g) {
        const part::Gauge& gauge = part.gauges[g];
        const weld::GaugeOutcome& found = marking.outcome.gauges[g];
        const double error = found.value - found.nominal;
        const double lost = (1 - gauge_credit(error, gauge.tolerance)) / count;
        result.credit -= lost;

        const bool met = std::abs(error) <= gauge.tolerance;
        const bool sure = std::abs(std::abs(error) - gauge.tolerance) > found.band; // also where no band was worked out
        Remark remark;
        remark.gauge = static_cast<int>(g);
        remark.points_lost = lost;
        // From here on a gauge within its limit costs points that are worth a word.
        constexpr double far_share = 0.55;
        const double share = std::abs(error) / gauge.tolerance;
        remark.verdict = !met ? Verdict::fail : sure && share < far_share ? Verdict::pass : Verdict::caution;
        remark.topic = Sentence::of_file(gauge.title);
        remark.chosen = Sentence(worded("gauge '{0}'"), {Sentence::of_file(gauge.title)});
        std::string measured = part::gauge_error_text(gauge, error, marking.system);
        std::string limit = "±" + part::gauge_text(gauge, gauge.tolerance, marking.system);
        if (found.nominal != 0) {
            measured = part::gauge_text(gauge, found.value, marking.system) + " (" + measured + ")";
            limit = part::gauge_text(gauge, found.nominal, marking.system) + " " + limit;
        }
        remark.measured = std::move(measured);
        remark.limit = std::move(limit);
        remark.source = gauge.tolerance_source;
        if (remark.verdict != Verdict::pass) {
            const Pulls pulls = find_pulls(marking, g);
            remark.move = pulls.worst_move;
            remark.try_this = advice(marking, g, pulls);
        }
        if (!met) {
            remark.must_be_met = must_be_met(marking.exercise, gauge.name);
            remark.consequence = consequence_of(gauge.kind);
        } else if (remark.verdict == Verdict::caution) {
            remark.consequence = Sentence(
                worded("within the limit, of which it takes {0} %: the nearer to the drawing, the more points"),
                {units::number_text(100 * share, 0)});
            if (!sure)
                remark.consequence =
                    Sentence(worded("{0}; what is left is less than the model's own error of {1}"),
                             {remark.consequence, part::gauge_text(gauge, found.band, marking.system)});
        }
        result.remarks.push_back(std::move(remark));
    }
    result.credit = std::max(0.0, result.credit);
    return result;
}

} // namespace holdtrue::grading
