#include "arc/power_source.h"
#include "arc/process_words.h"
#include "command_line/setup_report.h"
#include "material/gas_words.h"
#include "units/amount_text.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace holdtrue::command_line {
namespace {

using namespace arc;

const char* joint_words(part::JointType type) {
    switch (type) {
    case part::JointType::butt:
        return "butt";
    case part::JointType::fillet:
        return "fillet";
    case part::JointType::lap:
        return "lap";
    case part::JointType::corner:
        return "corner";
    case part::JointType::edge:
        return "edge";
    case part::JointType::plug:
        return "plug";
    }
    return "";
}

class Sheet {
public:
    Sheet(const SetupRequest& request, const SetupAnswer& answer)
        : request_(request), answer_(answer), card_(answer.card), figures_(answer.figures), system_(request.system) {}

    std::string text(bool all_rules) {
        heading();
        if (answer_.proposed)
            window();
        if (!answer_.proposed || answer_.proposal.window) {
            arc_lines();
            heat_lines();
            bead_lines();
            work_lines();
            findings(all_rules);
        }
        text_ += "Local codes and a qualified procedure come first; try every setting on scrap.\n";
        return text_;
    }

private:
    std::string say(double si, const units::Dimension& dimension) const {
        return units::quantity_text(si, dimension, system_);
    }
    void line(const std::string& label, const std::string& words) {
        text_ += "  " + label + std::string(label.size() < 18 ? 18 - label.size() : 1, ' ') + words + "\n";
    }
    bool tig() const { return card_.process == Process::tig_141; }
    bool plug() const { return request_.section.type == part::JointType::plug; }
    const PowerSource* source() const {
        return request_.shop.sources.empty() ? nullptr : &request_.shop.sources.front();
    }
    // ", dial mark 4.6", or that the dial was not measured there.
    std::string dial(double value, bool volts) const {
        if (!source())
            return "";
        const auto& dial = volts ? source()->volts_dial : source()->feed_dial;
        if (!dial)
            return "";
        const auto mark = mark_if_measured(*dial, value);
        return mark ? ", dial mark " + units::significant_text(*mark) : ", dial not measured there";
    }
    std::string drive_words(double value) const {
        return tig() ? say(value, units::current) : say(value, units::wire_feed);
    }

    void heading();
    void window();
    void span(const std::string& label, const Span& span, const std::function<std::string(double)>& say);
    void arc_lines();
    void heat_lines();
    void bead_lines();
    void work_lines();
    void findings(bool all_rules);

    const SetupRequest& request_;
    const SetupAnswer& answer_;
    const SettingCard& card_;
    const SetupFigures& figures_;
    units::System system_;
    std::string text_;
};

void Sheet::heading() {
    const Section& section = request_.section;
    const Wire& wire = find_wire(request_.shop, card_);
    const std::string gas = card_.gas.empty() ? "no gas" : material::with_group(find_gas(request_.shop, card_));
    text_ += std::string(process_number(card_.process)) + " " + static_cast<const char*>(process_words(card_.process)) +
             ", " + say(wire.diameter_m, units::length) + " " + wire.classification + ", " + gas + "\n";
    text_ += std::string(joint_words(section.type)) + ", " + say(section.thickness_a_m, units::length) + " to " +
             say(section.thickness_b_m, units::length) + " " +
             (section.metal == material::Metal::mild_steel  ? section.steel
              : section.metal == material::Metal::stainless ? "stainless"
                                                            : "aluminium") +
             (tig() ? std::string() : ", tip distance " + say(card_.tip_distance_m, units::length)) +
             "; units: " + (system_ == units::System::metric ? "metric" : "imperial") + "\n\n";
}

void Sheet::span(const std::string& label, const Span& span, const std::function<std::string(double)>& words) {
    if (!span.open) {
        line(label, words(span.middle) + " (as set)");
        return;
    }
    line(label,
         "low " + words(span.low.value) + "   middle " + words(span.middle) + "   high " + words(span.high.value));
    const auto side_line = [&](const char* which, const Side& side) {
        line("", std::string(which) + ": " + (side.rule.empty() ? side.reason : side.rule + ": " + side.reason));
    };
    side_line("below", span.low);
    side_line("above", span.high);
}

void Sheet::window() {
    const Proposal& proposal = answer_.proposal;
    if (!proposal.window) {
        text_ += "No window: no volts, wire feed and travel meet every rule here. In conflict:\n";
        for (const Finding& finding : proposal.conflicts)
            line(finding.rule, finding.sentence.english() +
                                   (finding.change.empty() ? "" : " To cure it: " + finding.change.english() + "."));
        text_ += proposal.ways_out.empty() ? "No single change of those tried gives a window: change the joint, or "
                                             "qualify a procedure by trial.\n"
                                           : "Ways out, each tried and found to give a window:\n";
        for (const WayOut& way : proposal.ways_out)
            line("-", way.words + ": about " + say(way.window.figures.arc.current_a, units::current) + ", " +
                          say(way.window.volts.middle, units::voltage) + ", " + drive_words(way.window.drive.middle) +
                          (plug() ? "" : ", " + say(way.window.travel.middle, units::travel)) +
                          (way.window.figures.passes > 1 ? ", " + std::to_string(way.window.figures.passes) + " passes"
                                                         : ""));
        text_ += "\n";
        return;
    }
    const Window& window = *proposal.window;
    text_ += "Window (any low, middle and high may be combined; settings below are the middle)\n";
    span("volts", window.volts, [&](double v) { return say(v, units::voltage) + dial(v, true); });
    span(tig() ? "current" : "wire feed", window.drive,
         [&](double v) { return drive_words(v) + (tig() ? "" : dial(v, false)); });
    if (!plug())
        span("travel", window.travel, [&](double v) { return say(v, units::travel); });
    text_ += "\n";
}

void Sheet::arc_lines() {
    const ArcFigures& arc = figures_.arc;
    text_ += "Arc\n";
    line("volts", say(card_.volts_v, units::voltage) + dial(card_.volts_v, true) + "; usual at this current " +
                      say(arc.state.usual_volts_v, units::voltage) + "; load line " +
                      say(figures_.load_volts_v, units::voltage));
    if (!tig())
        line("wire feed", say(card_.wire_feed_m_per_s, units::wire_feed) + dial(card_.wire_feed_m_per_s, false));
    line("current", say(arc.current_a, units::current) + (tig() ? "" : " (from feed and tip distance)"));
    if (!tig() ||
        request_.section.metal != material::Metal::aluminium) // aluminium is TIG welded on alternating current
        line("polarity", card_.polarity == Polarity::electrode_negative ? "electrode negative" : "electrode positive");
    line("arc", std::string(in_words(arc.state.condition)) + ", " + std::string(in_words(arc.state.transfer)) +
                    (arc.state.spray_from_a ? "; spray from " + say(*arc.state.spray_from_a, units::current) : ""));
    if (arc.state.shorts_per_s > 0)
        line("short circuits", "about " + units::significant_text(std::round(arc.state.shorts_per_s)) +
                                   " per s, steadiness " + units::significant_text(arc.state.steadiness) + " of 1");
    if (figures_.duty)
        line("duty cycle", units::significant_text(100 * *figures_.duty) + " % at this current");
}

void Sheet::heat_lines() {
    const ArcFigures& arc = figures_.arc;
    text_ += "Heat\n";
    line("power", units::significant_text(arc.arc_power_w / 1000) + " kW, of which " +
                      units::significant_text(arc.net_power_w / 1000) + " kW net");
    if (!plug()) {
        line("travel", say(card_.travel_m_per_s, units::travel) + " (" +
                           units::significant_text(card_.travel_m_per_s * 1e3) + " mm/s)");
        line("heat input", units::heat_input_text(arc.heat_input_j_per_m, system_) +
                               " net (EN 1011-1, k = " + units::significant_text(arc.efficiency) + "); " +
                               units::heat_input_text(arc.arc_energy_j_per_m, system_) +
                               " arc energy (AWS D1.1, k = 1)");
        if (request_.section.metal == material::Metal::mild_steel)
            line("t8/5", units::significant_text(figures_.cooling.seconds()) + " s (EN 1011-2, " +
                             (figures_.cooling.two_dimensional_governs ? "two" : "three") + "-dimensional)");
    }
    const Members& members = figures_.members;
    const Section& section = request_.section;
    if (section.type == part::JointType::butt) {
        if (!section.groove_angle_rad && !section.both_sides && !section.backing)
            line("molten through",
                 members.full_depth_width_m > 0 ? say(members.full_depth_width_m, units::length) + " wide" : "no");
    } else if (section.type != part::JointType::edge) {
        if (!plug())
            line("back face, first", say(members.back_a.peak_k, units::temperature) + " at most");
        line("back face, second", say(members.back_b.peak_k, units::temperature) + " at most");
    }
    if (figures_.preheat) {
        const Preheat& preheat = *figures_.preheat;
        line("preheat", say(preheat.needed_k, units::temperature) + " by " + preheat.governs + ", the stricter (AWS " +
                            say(preheat.aws_k, units::temperature) + ", EN 1011-2 method B " +
                            (preheat.method_b_k ? say(*preheat.method_b_k, units::temperature)
                                                : "none: " + preheat.method_b_note) +
                            ")");
        line("", "CE " + units::number_text(preheat.ce_iiw, 3) + ", CET " + units::number_text(preheat.cet, 3) +
                     ", Pcm " + units::number_text(preheat.pcm, 3) + ", typical of " + request_.section.steel);
    }
}

void Sheet::bead_lines() {
    const ArcFigures& arc = figures_.arc;
    text_ += "Bead\n";
    line("deposit", units::mass_rate_text(arc.deposit_kg_per_s, system_) +
                        (plug() || arc.deposit_area_m2 <= 0 ? "" : ", " + say(arc.deposit_area_m2, units::area)));
    if (plug())
        line("fill",
             "hole " + say(request_.section.size_m, units::length) + " filled in " + say(arc.fill_s, units::time));
    else if (arc.leg_m > 0)
        line("leg, throat", say(arc.leg_m, units::length) + ", " + say(arc.throat_m, units::length) +
                                " in one pass; wanted leg " + say(figures_.wanted_leg_m, units::length));
    else if (figures_.passes > 1)
        line("fill", "one pass fills 1 part in " + std::to_string(figures_.passes) + " of the groove");
    else if (arc.throat_m > 0)
        line("depth", say(arc.throat_m, units::length) + " filled and melted in one pass");
    if (!plug())
        line("passes", std::to_string(figures_.passes));
    const auto melts = [&](const char* label, const MemberFusion& fusion) {
        line(label, say(fusion.penetration_m, units::length) + " +-30 % (Jackson 1960), needs " +
                        say(fusion.needed_m, units::length));
    };
    if (!plug())
        melts("melts, first", figures_.members.fusion_a);
    melts("melts, second", figures_.members.fusion_b);
}

void Sheet::work_lines() {
    const std::string whole = plug() ? "one plug" : say(figures_.length_m, units::length);
    text_ += "Work, for " + whole + "\n";
    line("arc time", units::duration_text(figures_.arc_time_s));
    line("wire, gas",
         units::mass_text(figures_.wire_kg, system_) + ", " + units::gas_text(figures_.gas_m3, system_) +
             (figures_.gas_flow_m3_per_s > 0 ? " at " + say(figures_.gas_flow_m3_per_s, units::flow) : ""));
    if (figures_.cost)
        line("cost", units::number_text(*figures_.cost, 2) + " " + request_.shop.currency + " (arc time, wire, gas)");
    text_ += "\n";
}

void Sheet::findings(bool all_rules) {
    int passed = 0;
    for (const Verdict wanted : {Verdict::fail, Verdict::caution, Verdict::pass})
        for (const Finding& finding : answer_.findings) {
            if (finding.verdict != wanted)
                continue;
            passed += wanted == Verdict::pass;
            if (wanted == Verdict::pass && !all_rules)
                continue;
            text_ += std::string(wanted == Verdict::fail      ? "FAIL     "
                                 : wanted == Verdict::caution ? "CAUTION  "
                                                              : "pass     ") +
                     finding.rule + ": " + finding.sentence.english() + "\n";
            if (!finding.change.empty())
                text_ += "         Change: " + finding.change.english() + ".\n";
            if (wanted != Verdict::pass || all_rules)
                text_ += "         Source: " + finding.source + " [" + in_words(finding.mark) + "]\n";
        }
    text_ += std::to_string(passed) + " of " + std::to_string(answer_.findings.size()) + " rules pass" +
             (all_rules || passed == 0 ? ".\n" : " (--all lists them).\n");
}

} // namespace

std::string setup_text(const SetupRequest& request, const SetupAnswer& answer, bool all_rules) {
    return Sheet(request, answer).text(all_rules);
}

} // namespace holdtrue::command_line
