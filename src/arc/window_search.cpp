#include "arc/window_search.h"

#include "arc/bead.h"
#include "arc/dial_fault.h"
#include "arc/melting_rate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace holdtrue::arc {

ArcSetting WindowSearch::setting_at(double drive) const {
    return arc_setting(card_at({drive, std::max(card_.volts_v, 1.0), 0.005}), shop_);
}

double WindowSearch::usual_current_a() const {
    const double thickness_m = governing_thickness_m(section_);
    const Rule& rule = *book_.find(tig_ ? "current.tig_by_thickness" : "current.by_thickness");
    const RuleRow row = rule.at(thickness_m);
    if (tig_)
        return (row.low + row.high) / 2;
    const Rule* root = book_.find("current.open_root");
    if (root && root->low && root->high && has_open_root(section_))
        return (*root->low + *root->high) / 2;
    return row.usual * (plug_ ? 0.95 : 1.0);
}

std::vector<double> WindowSearch::drives() const {
    if (!open_.drive)
        return {tig_ ? card_.current_a : card_.wire_feed_m_per_s};
    const ArcSetting setting = setting_at(0.1);
    const MeltingRate rate = melting_rate(setting.wire_diameter_m, setting.wire.form, setting.wire.metal);
    const double extension_m = electrode_extension_m(card_.tip_distance_m);
    std::vector<double> all;
    const double usual = usual_current_a();
    for (double current = std::max(15.0, 0.5 * usual); current < std::min(500.0, 2.2 * usual); current *= 1.04)
        all.push_back(tig_ ? current : rate.feed_m_per_s(current, extension_m));
    if (!tig_ && !shop_.sources.empty() && shop_.sources.front().feed_high_m_per_s > 0) {
        for (double& feed : all)
            feed = settable_feed_m_per_s(shop_.sources.front(), feed);
        all.erase(std::unique(all.begin(), all.end()), all.end());
    }
    return all;
}

std::vector<double> WindowSearch::volts_for(double drive) const {
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
    for (double& each : volts)
        if (!shop_.sources.empty() && shop_.sources.front().volts_high_v > 0)
            each = settable_volts_v(shop_.sources.front(), each);
    return volts;
}

std::pair<double, double> WindowSearch::hand_travel() const {
    const Rule* hand = book_.find(tig_ ? "travel.tig" : "travel.by_hand");
    return {hand && hand->low ? *hand->low : 3e-3, hand && hand->high ? *hand->high : 11e-3};
}

std::vector<SettingPoint> WindowSearch::grid() const {
    const bool moves = open_.travel && !plug_;
    const auto [slowest, fastest] = hand_travel();
    std::vector<SettingPoint> points;
    for (const double drive : drives())
        for (const double volts : volts_for(drive)) {
            if (!moves)
                points.push_back({drive, volts, travels_for({drive, volts, 0}).front()});
            for (double travel = slowest; moves && travel <= fastest; travel *= 1.08)
                points.push_back({drive, volts, travel});
        }
    return points;
}

std::vector<double> WindowSearch::travels_for(const SettingPoint& point) const {
    if (plug_ || !open_.travel)
        return {card_.travel_m_per_s > 0 ? card_.travel_m_per_s : 0.005};
    const auto [slowest, fastest] = hand_travel();
    std::vector<double> travels;
    const SettingCard card = card_at({point.drive, point.volts, 0.005});
    const SetupFigures figures = setup_figures(card, shop_, section_);
    if (figures.joint_area_m2 > 0 && figures.arc.deposit_m3_per_s > 0)
        for (int passes = 1; passes <= 6; ++passes)
            for (const double leg : {1.0, 0.92, 1.08, 0.85, 1.18}) {
                const double travel = figures.arc.deposit_m3_per_s * passes / (figures.joint_area_m2 * leg * leg);
                if (travel >= slowest && travel <= fastest)
                    travels.push_back(travel);
            }
    if (travels.size() > 10) // fewest passes first: they come first
        travels.resize(10);
    if (travels.empty() || section_.type == part::JointType::butt || section_.type == part::JointType::edge)
        for (double travel = slowest * 1.05; travel < fastest; travel *= 1.15)
            travels.push_back(travel);
    return travels;
}

WindowSearch::Candidate WindowSearch::rate(const SettingPoint& point) const {
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

std::vector<WindowSearch::Candidate> WindowSearch::candidates() const {
    std::vector<Candidate> all;
    for (const double drive : drives())
        for (const double volts : volts_for(drive))
            for (const double travel : travels_for({drive, volts, 0}))
                all.push_back(rate({drive, volts, travel}));
    if (!open_.volts || all.empty() || best(all).fails + best(all).cautions == 0)
        return all;
    // Off the usual line, about the best so far.
    const SettingPoint found = best(all).point;
    for (const double off : {-0.7, 0.7})
        for (const double drive : {1.0, 0.95, 1.05})
            if (open_.drive || drive == 1.0)
                all.push_back(rate({found.drive * drive, found.volts + off, found.travel}));
    return all;
}

// A value on the grid of a step, as near to its decimals as a double comes: 192 / 10 is 19.2, 192 * 0.1 is not.
double on_grid(double count, double step) {
    const double per_one = std::round(1 / step);
    return std::abs(per_one * step - 1) < 1e-12 ? count / per_one : count * step;
}
// The first value on the grid at or above, at or below another.
double rounded_up(double value, double step) { return on_grid(std::ceil(value / step - 1e-6), step); }
double rounded_down(double value, double step) { return on_grid(std::floor(value / step + 1e-6), step); }

Span WindowSearch::span(double low, double middle, double high, double step, bool is_open) const {
    Span span;
    span.open = is_open;
    span.low.value = low;
    span.high.value = high;
    span.middle = middle;
    if (!is_open)
        return span;
    // The values themselves if the grid misses.
    const double up = rounded_up(low, step), down = rounded_down(high, step);
    const double near = std::clamp(on_grid(std::round(middle / step), step), up, std::max(up, down));
    if (up <= down) {
        span.low.value = up;
        span.high.value = down;
        span.middle = near;
    }
    return span;
}

Window WindowSearch::grow(const Candidate& start) const {
    // What the middle already shows may stay; nothing may be added or get worse.
    std::map<const Rule*, Verdict> allowed;
    for (const RuleBook::Judged& judged : start.judged)
        allowed[judged.rule] = judged.verdict;
    const auto breach = [&](const SettingPoint& point) -> std::optional<Finding> {
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
        double SettingPoint::*field;
        bool is_high;
        double step, most; // of the value, or volts
        bool open;
        std::optional<Finding> stopped_by;
        bool done = false;
    };
    const SettingPoint& p = start.point;
    const bool moves = open_.travel && !plug_;
    std::vector<Edge> edges;
    for (const bool high : {false, true}) {
        edges.push_back({&SettingPoint::drive, high, 0.0125 * p.drive, 0.60 * p.drive, open_.drive, {}, !open_.drive});
        edges.push_back({&SettingPoint::volts, high, 0.1, 4.0, open_.volts, {}, !open_.volts});
        edges.push_back({&SettingPoint::travel, high, 0.02 * p.travel, 0.80 * p.travel, moves, {}, !moves});
    }
    SettingPoint low = p, high = p;
    const auto corners_breach = [&](const SettingPoint& from, const SettingPoint& to) -> std::optional<Finding> {
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
            SettingPoint next_low = low, next_high = high;
            SettingPoint& next = edge.is_high ? next_high : next_low;
            next.*edge.field += edge.is_high ? edge.step : -edge.step;
            const double moved = next.*edge.field;
            if (std::abs(moved - p.*edge.field) > edge.most + 1e-12) {
                edge.done = true;
                continue;
            }
            // Only the corners on the moved face are new.
            SettingPoint face_low = next_low, face_high = next_high;
            SettingPoint& far = edge.is_high ? face_low : face_high;
            far.*edge.field = moved;
            if (auto found = corners_breach(face_low, face_high)) {
                edge.stopped_by = std::move(found);
                edge.done = true;
            } else {
                low = next_low;
                high = next_high;
            }
        }

    // A butt has no leg that ties its travel: off the slow end, where the pool is about to fall through.
    SettingPoint middle = p;
    if (moves && (section_.type == part::JointType::butt || section_.type == part::JointType::edge)) {
        middle.travel = low.travel + 0.35 * (high.travel - low.travel);
        if (breach(middle))
            middle.travel = p.travel;
    }

    Window window;
    const bool metric = system_ == units::System::metric;
    const double drive_step = tig_ ? 1.0 : metric ? 0.1 / 60 : units::inch / 60;
    const double travel_step = metric ? 5e-3 / 60 : 0.1 * units::inch / 60;
    window.drive = span(low.drive, p.drive, high.drive, drive_step, open_.drive);
    window.volts = span(low.volts, p.volts, high.volts, 0.1, open_.volts);
    window.travel = span(low.travel, middle.travel, high.travel, travel_step, moves);
    for (const Edge& edge : edges) {
        Span& span = edge.field == &SettingPoint::drive   ? window.drive
                     : edge.field == &SettingPoint::volts ? window.volts
                                                          : window.travel;
        Side& side = edge.is_high ? span.high : span.low;
        if (edge.stopped_by) {
            side.rule = edge.stopped_by->rule;
            side.reason = edge.stopped_by->sentence.english();
        } else
            side.reason = edge.open ? "no rule; kept near the middle" : "as set";
    }
    window.card = card_at({window.drive.middle, window.volts.middle, window.travel.middle});
    window.figures = setup_figures(window.card, shop_, section_);
    window.findings = book_.judge(window.card, shop_, section_, window.figures, system_);
    return window;
}

} // namespace holdtrue::arc
