#include "arc/propose.h"

#include "arc/bead.h"
#include "arc/melting_rate.h"
#include "text/input_error.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace holdtrue::arc {
namespace {

// One wire feed (or TIG current), volts and travel.
struct Point {
    double drive = 0, volts = 0, travel = 0;
};

class Search {
public:
    Search(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
           const OpenFields& open, units::System system)
        : book_(book), card_(card), shop_(shop), section_(section), open_(open), system_(system),
          tig_(card.process == Process::tig_141), plug_(section.type == part::JointType::plug) {}

    SettingCard card_at(const Point& point) const {
        SettingCard card = card_;
        (tig_ ? card.current_a : card.wire_feed_m_per_s) = point.drive;
        card.volts_v = point.volts;
        card.travel_m_per_s = point.travel;
        return card;
    }
    std::vector<Finding> judge(const Point& point) const {
        return book_.judge(card_at(point), shop_, section_, system_);
    }

    struct Candidate {
        Point point;
        int fails = 0, cautions = 0;
        double score = 0;
        std::vector<RuleBook::Judged> judged;
    };
    std::vector<Candidate> candidates() const;
    static const Candidate& best(const std::vector<Candidate>& all) {
        return *std::ranges::min_element(all, {}, &Candidate::score);
    }
    Window grow(const Candidate& middle) const;

private:
    double usual_current_a() const;
    std::vector<double> drives() const;
    std::vector<double> volts_for(double drive) const;
    std::vector<double> travels_for(const Point& point) const;
    Candidate rate(const Point& point) const;
    ArcSetting setting_at(double drive) const;
    Span span(double low, double middle, double high, double step, bool is_open) const;

    const RuleBook& book_;
    const SettingCard card_;
    const Shop& shop_;
    const Section& section_;
    const OpenFields open_;
    const units::System system_;
    const bool tig_, plug_;
};

ArcSetting Search::setting_at(double drive) const {
    return arc_setting(card_at({drive, std::max(card_.volts_v, 1.0), 0.005}), shop_);
}

double Search::usual_current_a() const {
    const double thickness_m = governing_thickness_m(section_);
    const Rule& rule = *book_.find(tig_ ? "current.tig_by_thickness" : "current.by_thickness");
    const RuleRow row = rule.at(thickness_m);
    if (tig_)
        return (row.low + row.high) / 2;
    return row.usual * (plug_ ? 0.95 : 1.0);
}

std::vector<double> Search::drives() const {
    if (!open_.drive)
        return {tig_ ? card_.current_a : card_.wire_feed_m_per_s};
    const ArcSetting setting = setting_at(0.1);
    const MeltingRate rate = melting_rate(setting.wire_diameter_m, setting.wire.form, setting.wire.metal);
    const double extension_m = electrode_extension_m(card_.tip_distance_m);
    std::vector<double> all;
    const double usual = usual_current_a();
    for (double current = std::max(15.0, 0.5 * usual); current < std::min(500.0, 2.2 * usual); current *= 1.04)
        all.push_back(tig_ ? current : rate.feed_m_per_s(current, extension_m));
    return all;
}

std::vector<double> Search::volts_for(double drive) const {
    if (!open_.volts)
        return {card_.volts_v};
    // On the usual line of each transfer that this current could have.
    ArcSetting setting = setting_at(drive);
    std::vector<double> volts;
    for (const double probe : {18.0, 27.0}) {
        setting.volts_v = probe;
        volts.push_back(arc_state(setting).usual_volts_v);
    }
    if (volts[1] - volts[0] < 0.05)
        volts.pop_back();
    return volts;
}

std::vector<double> Search::travels_for(const Point& point) const {
    if (plug_ || !open_.travel)
        return {card_.travel_m_per_s > 0 ? card_.travel_m_per_s : 0.005};
    const Rule& hand = *book_.find("travel.by_hand");
    std::vector<double> travels;
    const SettingCard card = card_at({point.drive, point.volts, 0.005});
    const SetupFigures figures = setup_figures(card, shop_, section_);
    if (figures.joint_area_m2 > 0 && figures.arc.deposit_m3_per_s > 0)
        for (int passes = 1; passes <= 6; ++passes)
            for (const double leg : {1.0, 0.92, 1.08, 0.85, 1.18}) {
                const double travel = figures.arc.deposit_m3_per_s * passes / (figures.joint_area_m2 * leg * leg);
                if (travel >= *hand.low && travel <= *hand.high)
                    travels.push_back(travel);
            }
    if (travels.size() > 10) // fewest passes first: they come first
        travels.resize(10);
    if (travels.empty() || section_.type == part::JointType::butt || section_.type == part::JointType::edge)
        for (double travel = *hand.low * 1.05; travel < *hand.high; travel *= 1.15)
            travels.push_back(travel);
    return travels;
}

Search::Candidate Search::rate(const Point& point) const {
    Candidate candidate;
    candidate.point = point;
    const SettingCard card = card_at(point);
    const SetupFigures figures = setup_figures(card, shop_, section_);
    candidate.judged = book_.verdicts(card, shop_, section_, figures);
    for (const RuleBook::Judged& judged : candidate.judged) {
        candidate.fails += judged.verdict == Verdict::fail;
        candidate.cautions += judged.verdict == Verdict::caution;
    }
    const double current = std::max(figures.arc.current_a, 1.0);
    candidate.score = 1000.0 * candidate.fails + 20.0 * candidate.cautions +
                      10 * std::abs(std::log(current / usual_current_a())) + std::abs(figures.arc.state.off_volts_v) +
                      0.5 * (figures.passes - 1);
    if (figures.wanted_leg_m > 0 && figures.total_leg_m > 0)
        candidate.score += 5 * std::abs(std::log(figures.total_leg_m / figures.wanted_leg_m));
    return candidate;
}

std::vector<Search::Candidate> Search::candidates() const {
    std::vector<Candidate> all;
    for (const double drive : drives())
        for (const double volts : volts_for(drive))
            for (const double travel : travels_for({drive, volts, 0}))
                all.push_back(rate({drive, volts, travel}));
    if (!open_.volts || all.empty() || best(all).fails + best(all).cautions == 0)
        return all;
    // Off the usual line, about the best so far.
    const Point found = best(all).point;
    for (const double off : {-0.7, 0.7})
        for (const double drive : {1.0, 0.95, 1.05})
            if (open_.drive || drive == 1.0)
                all.push_back(rate({found.drive * drive, found.volts + off, found.travel}));
    return all;
}

// The first value on the grid of a step at or above `low`, at or below `high`; the value itself if the grid misses.
double rounded_up(double value, double step) { return std::ceil(value / step - 1e-6) * step; }
double rounded_down(double value, double step) { return std::floor(value / step + 1e-6) * step; }

Span Search::span(double low, double middle, double high, double step, bool is_open) const {
    Span span;
    span.open = is_open;
    span.low.value = low;
    span.high.value = high;
    span.middle = middle;
    if (!is_open)
        return span;
    const double up = rounded_up(low, step), down = rounded_down(high, step);
    const double near = std::clamp(std::round(middle / step) * step, up, std::max(up, down));
    if (up <= down) {
        span.low.value = up;
        span.high.value = down;
        span.middle = near;
    }
    return span;
}

Window Search::grow(const Candidate& start) const {
    // What the middle already shows may stay; nothing may be added or get worse.
    std::map<const Rule*, Verdict> allowed;
    for (const RuleBook::Judged& judged : start.judged)
        allowed[judged.rule] = judged.verdict;
    const auto breach = [&](const Point& point) -> std::optional<Finding> {
        const SettingCard card = card_at(point);
        const SetupFigures figures = setup_figures(card, shop_, section_);
        for (const RuleBook::Judged& judged : book_.verdicts(card, shop_, section_, figures)) {
            const auto known = allowed.find(judged.rule);
            if (judged.verdict == Verdict::pass || (known != allowed.end() && judged.verdict <= known->second))
                continue;
            const auto findings = book_.judge(card, shop_, section_, figures, system_);
            return *std::ranges::find(findings, judged.rule->id, &Finding::rule);
        }
        return std::nullopt;
    };

    struct Edge {
        double Point::*field;
        bool is_high;
        double step, most; // of the value, or volts
        bool open;
        std::optional<Finding> stopped_by;
        bool done = false;
    };
    const Point& p = start.point;
    const bool moves = open_.travel && !plug_;
    std::vector<Edge> edges;
    for (const bool high : {false, true}) {
        edges.push_back({&Point::drive, high, 0.0125 * p.drive, 0.60 * p.drive, open_.drive, {}, !open_.drive});
        edges.push_back({&Point::volts, high, 0.1, 4.0, open_.volts, {}, !open_.volts});
        edges.push_back({&Point::travel, high, 0.02 * p.travel, 0.80 * p.travel, moves, {}, !moves});
    }
    Point low = p, high = p;
    const auto corners_breach = [&](const Point& from, const Point& to) -> std::optional<Finding> {
        for (int corner = 0; corner < 8; ++corner)
            if (auto found = breach({corner & 1 ? to.drive : from.drive, corner & 2 ? to.volts : from.volts,
                                     corner & 4 ? to.travel : from.travel}))
                return found;
        return std::nullopt;
    };
    while (std::ranges::any_of(edges, [](const Edge& edge) { return !edge.done; }))
        for (Edge& edge : edges) {
            if (edge.done)
                continue;
            Point next_low = low, next_high = high;
            Point& next = edge.is_high ? next_high : next_low;
            next.*edge.field += edge.is_high ? edge.step : -edge.step;
            const double moved = next.*edge.field;
            if (std::abs(moved - p.*edge.field) > edge.most + 1e-12) {
                edge.done = true;
                continue;
            }
            // Only the corners on the moved face are new.
            Point face_low = next_low, face_high = next_high;
            Point& far = edge.is_high ? face_low : face_high;
            far.*edge.field = moved;
            if (auto found = corners_breach(face_low, face_high)) {
                edge.stopped_by = std::move(found);
                edge.done = true;
            } else {
                low = next_low;
                high = next_high;
            }
        }

    Window window;
    const bool metric = system_ == units::System::metric;
    const double drive_step = tig_ ? 1.0 : metric ? 0.1 / 60 : units::inch / 60;
    const double travel_step = metric ? 5e-3 / 60 : 0.1 * units::inch / 60;
    window.drive = span(low.drive, p.drive, high.drive, drive_step, open_.drive);
    window.volts = span(low.volts, p.volts, high.volts, 0.1, open_.volts);
    window.travel = span(low.travel, p.travel, high.travel, travel_step, moves);
    for (const Edge& edge : edges) {
        Span& span = edge.field == &Point::drive   ? window.drive
                     : edge.field == &Point::volts ? window.volts
                                                   : window.travel;
        Side& side = edge.is_high ? span.high : span.low;
        if (edge.stopped_by) {
            side.rule = edge.stopped_by->rule;
            side.reason = edge.stopped_by->sentence;
        } else
            side.reason = edge.open ? "no rule; kept near the middle" : "as set";
    }
    window.card = card_at({window.drive.middle, window.volts.middle, window.travel.middle});
    window.figures = setup_figures(window.card, shop_, section_);
    window.findings = book_.judge(window.card, shop_, section_, window.figures, system_);
    return window;
}

bool fails(const Search::Candidate& candidate, const std::string& rule) {
    return std::ranges::any_of(candidate.judged, [&](const RuleBook::Judged& judged) {
        return judged.verdict == Verdict::fail && judged.rule->id == rule;
    });
}

// Rules that fail at the best setting; and for each, what fails instead at the best setting that meets it.
std::vector<Finding> conflicts_of(const Search& search, const std::vector<Search::Candidate>& all,
                                  const Search::Candidate& best) {
    std::vector<Finding> conflicts;
    const auto add_failures = [&](const Search::Candidate& candidate) {
        for (Finding& finding : search.judge(candidate.point))
            if (finding.verdict == Verdict::fail &&
                std::ranges::find(conflicts, finding.rule, &Finding::rule) == conflicts.end())
                conflicts.push_back(std::move(finding));
    };
    add_failures(best);
    const std::vector<Finding> at_best = conflicts;
    for (const Finding& failed : at_best) {
        const Search::Candidate* cured = nullptr;
        for (const Search::Candidate& candidate : all)
            if (!fails(candidate, failed.rule) && (!cured || candidate.score < cured->score))
                cured = &candidate;
        if (cured)
            add_failures(*cured);
    }
    return conflicts;
}

std::optional<Window> window_of(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                                const OpenFields& open, units::System system) {
    const Search search(book, card, shop, section, open, system);
    const auto all = search.candidates();
    if (all.empty() || Search::best(all).fails > 0)
        return std::nullopt;
    return search.grow(Search::best(all));
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
        for (const material::GasMixture* gas : {&mixed, &spray})
            with_wire(own.diameter_m, gas, "take " + material::in_words(*gas));
        for (const double diameter_mm : {0.6, 0.8, 0.9, 1.0, 1.2}) {
            if (std::abs(diameter_mm * 1e-3 - own.diameter_m) < 5e-5)
                continue;
            with_wire(diameter_mm * 1e-3, nullptr, "take " + length(diameter_mm * 1e-3) + " wire");
            with_wire(diameter_mm * 1e-3, &spray,
                      "take " + length(diameter_mm * 1e-3) + " wire and " + material::in_words(spray));
        }
    }
    return all;
}

} // namespace

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
        throw text::InputError("", 0, "the shop has no wire for this process", "add one to the shop file");
    if (gases.empty())
        throw text::InputError("", 0, "the shop has no gas", "add one to the shop file");

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
            const Search search(book, tried, shop, section, open, units::System::metric);
            const auto all = search.candidates();
            const double unusual = std::abs(
                std::log(governing_thickness_m(section) / usual_thickness_m(find_wire(shop, tried).diameter_m)));
            const double score = Search::best(all).score + 2 * unusual;
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
    const bool sprays = thickness_m > 6e-3 && gas.co2 <= 0.20 + 1e-6;
    return sprays ? 18e-3 : 12e-3;
}

Proposal propose(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                 const OpenFields& open, units::System system, bool try_ways_out) {
    Proposal proposal;
    const Search search(book, card, shop, section, open, system);
    const auto all = search.candidates();
    const Search::Candidate& best = Search::best(all);
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
