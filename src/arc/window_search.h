// The search behind propose(): settings on a grid, rated, and the window grown around the best of them.
#pragma once

#include "arc/propose.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace holdtrue::arc {

// One wire feed (or TIG current), volts and travel.
struct SettingPoint {
    double drive = 0, volts = 0, travel = 0;
};

class WindowSearch {
public:
    WindowSearch(const RuleBook& book, const SettingCard& card, const Shop& shop, const Section& section,
                 const OpenFields& open, units::System system)
        : book_(book), card_(card), shop_(shop), section_(section), open_(open), system_(system),
          tig_(card.process == Process::tig_141), plug_(section.type == part::JointType::plug) {}

    SettingCard card_at(const SettingPoint& point) const {
        SettingCard card = card_;
        (tig_ ? card.current_a : card.wire_feed_m_per_s) = point.drive;
        card.volts_v = point.volts;
        card.travel_m_per_s = point.travel;
        return card;
    }
    std::vector<Finding> judge(const SettingPoint& point) const {
        return book_.judge(card_at(point), shop_, section_, system_);
    }

    struct Candidate {
        SettingPoint point;
        int fails = 0, cautions = 0;
        double score = 0;
        std::vector<RuleBook::Judged> judged;
    };
    std::vector<Candidate> candidates() const;
    static const Candidate& best(const std::vector<Candidate>& all) {
        return *std::ranges::min_element(all, {}, &Candidate::score);
    }
    Window grow(const Candidate& middle) const;

    // Every drive with its usual volts at every travel that a hand keeps, in steps of 8 %, whatever size that leaves.
    std::vector<SettingPoint> grid() const;
    Candidate rate(const SettingPoint& point) const;

private:
    double usual_current_a() const;
    std::vector<double> drives() const;
    std::vector<double> volts_for(double drive) const;
    std::vector<double> travels_for(const SettingPoint& point) const;
    std::pair<double, double> hand_travel() const; // slowest and fastest
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

} // namespace holdtrue::arc
