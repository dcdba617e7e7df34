#include "arc/power_source.h"
#include "arc/process_words.h"
#include "command_line/setup_report.h"

#include <nlohmann/json.hpp>

#include <cmath>

namespace holdtrue::command_line {
namespace {

using namespace arc;
using nlohmann::json;

json number(double value) { return std::isfinite(value) ? json(value) : json(nullptr); }
json number(const std::optional<double>& value) { return value ? number(*value) : json(nullptr); }

json mark(const Shop& shop, bool volts, double value) {
    if (shop.sources.empty())
        return nullptr;
    const auto& dial = volts ? shop.sources.front().volts_dial : shop.sources.front().feed_dial;
    return dial ? number(mark_if_measured(*dial, value)) : json(nullptr);
}

json card_json(const SettingCard& card, const Shop& shop) {
    const Wire& wire = find_wire(shop, card);
    return {{"process", std::string(process_number(card.process))},
            {"wire", {{"id", wire.id}, {"classification", wire.classification}, {"diameter_m", wire.diameter_m}}},
            {"gas", card.gas.empty() ? json(nullptr) : json(material::in_words(find_gas(shop, card)))},
            {"volts_v", number(card.volts_v)},
            {"volts_dial_mark", mark(shop, true, card.volts_v)},
            {"wire_feed_m_per_s", number(card.wire_feed_m_per_s)},
            {"wire_feed_dial_mark", mark(shop, false, card.wire_feed_m_per_s)},
            {"travel_m_per_s", number(card.travel_m_per_s)},
            {"tip_distance_m", number(card.tip_distance_m)},
            {"aim_on_first", number(card.aim)},
            {"preheat_k", card.preheat_k > 0 ? number(card.preheat_k) : json(nullptr)}};
}

json member_json(const MemberFusion& fusion, const BackFace& back) {
    return {{"penetration_m", number(fusion.penetration_m)},       {"penetration_low_m", number(fusion.low_m)},
            {"penetration_needed_m", number(fusion.needed_m)},     {"back_face_peak_k", number(back.peak_k)},
            {"back_face_molten_share", number(back.molten_share)}, {"back_face_spare_k", number(back.spare_k)}};
}

json preheat_json(const std::optional<Preheat>& preheat) {
    if (!preheat)
        return nullptr;
    return {{"ce_iiw", number(preheat->ce_iiw)},
            {"cet", number(preheat->cet)},
            {"pcm", number(preheat->pcm)},
            {"aws_d1_1_k", number(preheat->aws_k)},
            {"en_1011_2_method_b_k", number(preheat->method_b_k)},
            {"needed_k", number(preheat->needed_k)},
            {"governs", preheat->governs}};
}

json figures_json(const SetupFigures& figures) {
    const ArcFigures& arc = figures.arc;
    return {{"current_a", number(arc.current_a)},
            {"usual_volts_v", number(arc.state.usual_volts_v)},
            {"load_volts_v", number(figures.load_volts_v)},
            {"arc_condition", in_words(arc.state.condition)},
            {"transfer", std::string(in_words(arc.state.transfer))},
            {"spray_from_a", number(arc.state.spray_from_a)},
            {"short_circuits_per_s", number(arc.state.shorts_per_s)},
            {"steadiness", number(arc.state.steadiness)},
            {"arc_power_w", number(arc.arc_power_w)},
            {"net_power_w", number(arc.net_power_w)},
            {"efficiency_k", number(arc.efficiency)},
            {"heat_input_net_j_per_m", number(arc.heat_input_j_per_m)},
            {"arc_energy_j_per_m", number(arc.arc_energy_j_per_m)},
            {"t85_s", number(figures.cooling.seconds())},
            {"t85_two_dimensional_s", number(figures.cooling.two_dimensional_s)},
            {"t85_three_dimensional_s", number(figures.cooling.three_dimensional_s)},
            {"deposition_kg_per_h", number(arc.deposit_kg_per_s * 3600)},
            {"deposit_area_m2", number(arc.deposit_area_m2)},
            {"leg_m", number(arc.leg_m)},
            {"throat_m", number(arc.throat_m)},
            {"wanted_leg_m", number(figures.wanted_leg_m)},
            {"passes", figures.passes},
            {"plug_fill_s", number(arc.fill_s)},
            {"penetration_m", number(arc.penetration_m)},
            {"full_depth_width_m", number(figures.members.full_depth_width_m)},
            {"first_member", member_json(figures.members.fusion_a, figures.members.back_a)},
            {"second_member", member_json(figures.members.fusion_b, figures.members.back_b)},
            {"gas_group", figures.gas_group},
            {"governing_thickness_m", number(figures.governing_thickness_m)},
            {"preheat", preheat_json(figures.preheat)},
            {"duty", number(figures.duty)},
            {"length_m", number(figures.length_m)},
            {"arc_time_s", number(figures.arc_time_s)},
            {"wire_kg", number(figures.wire_kg)},
            {"gas_m3", number(figures.gas_m3)},
            {"gas_flow_m3_per_s", number(figures.gas_flow_m3_per_s)},
            {"cost", number(figures.cost)}};
}

json finding_json(const Finding& finding) {
    return {{"rule", finding.rule},
            {"about", finding.about},
            {"verdict", in_words(finding.verdict)},
            {"sentence", finding.sentence.english()},
            {"measured", finding.measured.english()},
            {"limit", finding.limit.english()},
            {"change", finding.change.english()},
            {"value", number(finding.value)},
            {"low", number(finding.low)},
            {"high", number(finding.high)},
            {"unit", finding.unit},
            {"source", finding.source},
            {"mark", in_words(finding.mark)}};
}

json findings_json(const std::vector<Finding>& findings) {
    json list = json::array();
    for (const Finding& finding : findings)
        list.push_back(finding_json(finding));
    return list;
}

json span_json(const Span& span) {
    const auto side_json = [](const Side& side) {
        return json{{"value", number(side.value)}, {"bound_by", side.rule}, {"reason", side.reason}};
    };
    return {{"low", side_json(span.low)},
            {"middle", number(span.middle)},
            {"high", side_json(span.high)},
            {"open", span.open}};
}

json window_json(const Window& window, Process process) {
    return {{"volts_v", span_json(window.volts)},
            {process == Process::tig_141 ? "current_a" : "wire_feed_m_per_s", span_json(window.drive)},
            {"travel_m_per_s", span_json(window.travel)}};
}

} // namespace

json setup_json(const SetupRequest& request, const SetupAnswer& answer) {
    json root;
    root["units"] = request.system == units::System::metric ? "metric" : "imperial";
    root["card"] = card_json(answer.card, request.shop);
    if (answer.proposed) {
        root["window"] =
            answer.proposal.window ? window_json(*answer.proposal.window, answer.card.process) : json(nullptr);
        if (!answer.proposal.window) {
            root["conflicts"] = findings_json(answer.proposal.conflicts);
            json ways = json::array();
            for (const WayOut& way : answer.proposal.ways_out)
                ways.push_back({{"change", way.words},
                                {"window", window_json(way.window, answer.card.process)},
                                {"current_a", number(way.window.figures.arc.current_a)},
                                {"passes", way.window.figures.passes}});
            root["ways_out"] = ways;
            return root;
        }
    }
    root["figures"] = figures_json(answer.figures);
    root["findings"] = findings_json(answer.findings);
    root["verdict"] = in_words(worst(answer.findings));
    return root;
}

} // namespace holdtrue::command_line
