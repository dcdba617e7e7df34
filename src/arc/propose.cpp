#include "arc/propose.h"

#include "arc/window_search.h"
#include "text/input_error.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace holdtrue::arc {
namespace {

bool fails(const WindowSearch::Candidate& candidate, const std::string& rule) {
    return std::ranges::any_of(candidate.judged, [&](const RuleBook::Judged& judged) {
        return judged.verdict == Verdict::fail && judged.rule->id == rule;
    });
}

// Rules that fail at the best setting; and for each, what fails instead at the best setting that meets it.
std::vector<Finding> conflicts_of(const WindowSearch& search, const std::vector<WindowSearch::Candidate>& all,
                                  const WindowSearch::Candidate& best) {
    std::vector<Finding> conflicts;
    const auto add_failures = [&](const WindowSearch::Candidate& candidate) {
        for (Finding& finding : search.judge(candidate.point))
            if (finding.verdict == Verdict::fail &&
                std::ranges::find(conflicts, finding.rule, &Finding::rule) == conflicts.end())
                conflicts.push_back(std::move(finding));
    };
    add_failures(best);
    const std::vector<Finding> at_best = conflicts;
    for (const Finding& failed : at_best) {
        const WindowSearch::Candidate* cured = nullptr;
        for (const WindowSearch::Candidate& candidate : all)
            if (!fails(candidate, failed.rule) && (!cured || candidate.score < cured->score))
                cured = &candidate;
        if (cured)
            add_failures(*cured);
    }
    return conflicts;
}

// Thickness that a solid wire is most used for: 0.8 mm wire for about 3 mm. common practice, no source
double usual_thickness_m(double wire_diameter_m) {
    constexpr std::array<std::pair<double, double>, 5> usual{
        {{0.6e-3, 1e-3}, {0.8e-3, 3e-3}, {0.9e-3, 4e-3}, {1.0e-3, 5.5e-3}, {1.2e-3, 10e-3}}};
    if (wire_diameter_m <= usual.front().first)
        return usual.front().second;
    for (std::size_t i = 1; i < usual.size(); ++i)
        if (wire_diameter_m <= usual[i].first)
            return std::lerp(usual[i - 1].second, usual[i].second,
                             (wire_diameter_m - usual[i - 1].first) / (usual[i].first - usual[i - 1].first));
    return usual.back().second;
}

// A change of wire, gas, preheat or preparation to try.
struct Change {
    std::string words;
    SettingCard card;
    Shop shop;
    Section section;
};

std::vector<Change> changes(const SettingCard& card, const Shop& shop, const Section& section, units::System system) {
    std::vector<Change> all;
    const Wire own = find_wire(shop, card);
    const auto length = [&](double si) { return units::quantity_text(si, units::length, system); };
    const auto with_wire = [&](double diameter_m, const material::GasMixture* gas, const std::string& words) {
        Change change{words, card, shop, section};
        Wire wire = own;
        wire.id = "other wire";
        wire.diameter_m = diameter_m;
        change.shop.wires.push_back(wire);
        change.card.wire = wire.id;
        if (gas) {
            Gas other;
            static_cast<material::GasMixture&>(other) = *gas;
            other.id = "other gas";
            change.shop.gases.push_back(other);
            change.card.gas = other.id;
        }
        const material::GasMixture used = find_gas(change.shop, change.card);
        change.card.tip_distance_m = usual_tip_distance_m(card.process, governing_thickness_m(section), used);
        all.push_back(std::move(change));
    };

    // The section itself.
    if (section.type == part::JointType::butt) {
        Change both{"weld from both sides", card, shop, section};
        both.section.both_sides = true;
        Change bar{"lay a backing bar, root gap 6 mm", card, shop, section};
        bar.section.backing = true;
        bar.section.root_gap_m = 6e-3;
        Change bevel{"bevel the edges to 60°, root face " + length(1e-3) + ", gap " + length(2e-3), card, shop,
                     section};
        bevel.section.groove_angle_rad = 1.0471975511965976;
        bevel.section.root_face_m = 1e-3;
        bevel.section.root_gap_m = 2e-3;
        if (section.thinner_m() >= 3e-3) {
            all.push_back(std::move(both));
            if (!section.groove_angle_rad)
                all.push_back(std::move(bevel));
        }
        if (!section.backing && section.thinner_m() >= 3e-3)
            all.push_back(std::move(bar));
    }
    if (section.size_m > 0 && section.type != part::JointType::plug && section.type != part::JointType::butt) {
        Change size{"leave the size to the rules: leg " + length(usual_leg_m(section)), card, shop, section};
        size.section.size_m = 0;
        size.section.passes = 0;
        all.push_back(std::move(size));
    }
    const double warm_k = units::celsius(100);
    if (section.thicker_m() >= 5e-3 && card.preheat_k < warm_k) {
        Change warm{"preheat to " + units::quantity_text(warm_k, units::temperature, system), card, shop, section};
        warm.card.preheat_k = warm_k;
        all.push_back(std::move(warm));
    }
    if (card.aim != usual_aim(section)) {
        Change aim{"aim " + units::significant_text(100 * usual_aim(section)) + " % of the arc on the first member",
                   card, shop, section};
        aim.card.aim = usual_aim(section);
        all.push_back(std::move(aim));
    }
    // Wire, gas, both.
    if (card.process == Process::mag_135 && section.metal == material::Metal::mild_steel) {
        const material::GasMixture mixed = material::parse_gas("75Ar 25CO2"), spray = material::parse_gas("82Ar 18CO2");
        const auto is_own = [&](const material::GasMixture& gas) {
            return material::in_words(gas) == material::in_words(find_gas(shop, card));
        };
        for (const material::GasMixture* gas : {&mixed, &spray})
            if (!is_own(*gas))
                with_wire(own.diameter_m, gas, "take " + material::in_words(*gas));
        for (const double diameter_mm : {0.6, 0.8, 0.9, 1.0, 1.2}) {
            if (std::abs(diameter_mm * 1e-3 - own.diameter_m) < 5e-5)
                continue;
            with_wire(diameter_mm * 1e-3, nullptr, "take " + length(diameter_mm * 1e-3) + " wire");
            if (!is_own(spray))
                with_wire(diameter_mm * 1e-3, &spray,
                          "take " + length(diameter_mm * 1e-3) + " wire and " + material::in_words(spray));
        }
    }
    return all;
}

} // namespace

std::optional<Window> window_of(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                                const OpenFields& open, units::System system) {
    const WindowSearch search(book, card, shop, section, open, system);
    const auto all = search.candidates();
    if (all.empty() || WindowSearch::best(all).fails > 0)
        return std::nullopt;
    return search.grow(WindowSearch::best(all));
}

SettingCard choose_consumables(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                               const OpenFields& open, const OpenConsumables& choose) {
    std::vector<std::string> wires{card.wire}, gases{card.gas};
    if (choose.wire) {
        wires.clear();
        for (const Wire& wire : shop.wires)
            if (wire.process == card.process)
                wires.push_back(wire.id);
    }
    if (choose.gas) {
        gases.clear();
        for (const Gas& gas : shop.gases)
            gases.push_back(gas.id);
    }
    if (wires.empty())
        throw text::InputError("", 0, text::worded("the shop has no wire for this process"),
                               text::worded("add one to the shop file"));
    if (gases.empty())
        throw text::InputError("", 0, text::worded("the shop has no gas"), text::worded("add one to the shop file"));

    SettingCard chosen = card;
    double best_score = 0;
    bool first = true;
    for (const std::string& wire : wires)
        for (const std::string& gas : gases) {
            SettingCard tried = card;
            tried.wire = wire;
            tried.gas = gas;
            if (choose.tip_distance)
                tried.tip_distance_m =
                    usual_tip_distance_m(card.process, governing_thickness_m(section), find_gas(shop, tried));
            const WindowSearch search(book, tried, shop, section, open, units::System::metric);
            const auto all = search.candidates();
            const double unusual = std::abs(
                std::log(governing_thickness_m(section) / usual_thickness_m(find_wire(shop, tried).diameter_m)));
            const double score = WindowSearch::best(all).score + 2 * unusual;
            if (first || score < best_score) {
                chosen = tried;
                best_score = score;
                first = false;
            }
        }
    return chosen;
}

double usual_aim(const Section& section) {
    if (section.thicker_m() < 1.5 * section.thinner_m())
        return 0.5;
    return section.thickness_a_m > section.thickness_b_m ? 0.65 : 0.35;
}

double usual_tip_distance_m(Process process, double thickness_m, const material::GasMixture& gas) {
    if (process == Process::fcaw_gas_136)
        return 20e-3;
    if (process == Process::fcaw_self_114)
        return 16e-3;
    constexpr double short_circuits_to_m = 6e-3, most_co2_to_spray = 0.20;
    if (thickness_m <= short_circuits_to_m)
        return 12e-3;
    return gas.co2 <= most_co2_to_spray + 1e-6 ? 18e-3 : 15e-3;
}

Proposal propose(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                 const OpenFields& open, units::System system, bool try_ways_out) {
    Proposal proposal;
    const WindowSearch search(book, card, shop, section, open, system);
    const auto all = search.candidates();
    const WindowSearch::Candidate& best = WindowSearch::best(all);
    if (best.fails == 0) {
        proposal.window = search.grow(best);
        return proposal;
    }
    proposal.conflicts = conflicts_of(search, all, best);
    if (!try_ways_out)
        return proposal;
    // Of all that help, the three with the fewest cautions, whose wire is most used for the thickness.
    constexpr std::size_t enough = 3;
    std::vector<std::pair<double, WayOut>> helping;
    for (const Change& change : changes(card, shop, section, system))
        if (auto window = window_of(book, change.card, change.shop, change.section, open, system)) {
            const auto cautions = std::ranges::count(window->findings, Verdict::caution, &Finding::verdict);
            const double unusual = std::abs(std::log(
                governing_thickness_m(section) / usual_thickness_m(find_wire(change.shop, change.card).diameter_m)));
            helping.push_back({2 * static_cast<double>(cautions) + unusual, {change.words, std::move(*window)}});
        }
    std::ranges::stable_sort(helping, {}, [](const auto& one) { return one.first; });
    for (std::size_t i = 0; i < std::min(enough, helping.size()); ++i)
        proposal.ways_out.push_back(std::move(helping[i].second));
    return proposal;
}

} // namespace holdtrue::arc
