#include "report/outcome_json.h"

#include "arc/process_words.h"
#include "part/gauge_text.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace holdtrue::report {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

// Fields over the mesh are rounded to what they carry, so that the text stays short.
Json fixed(double value, int decimals) {
    const double scale = std::pow(10, decimals);
    return number(std::round(value * scale) / scale);
}

const char* word(part::GaugeKind kind) {
    switch (kind) {
    case part::GaugeKind::distance:
        return "distance";
    case part::GaugeKind::bow:
        return "bow";
    case part::GaugeKind::twist:
        return "twist";
    case part::GaugeKind::squareness:
        return "squareness";
    case part::GaugeKind::flatness:
        return "flatness";
    case part::GaugeKind::angle:
        return "angle";
    case part::GaugeKind::tilt:
        return "tilt";
    }
    return "";
}

const char* word(grading::Aspect aspect) {
    switch (aspect) {
    case grading::Aspect::settings:
        return "settings";
    case grading::Aspect::order_and_heat:
        return "order_and_heat";
    case grading::Aspect::gauges:
        return "gauges";
    case grading::Aspect::prediction:
        return "prediction";
    case grading::Aspect::time_and_handling:
        return "time_and_handling";
    case grading::Aspect::help:
        return "help";
    }
    return "";
}

const char* word(grading::Verdict verdict) {
    switch (verdict) {
    case grading::Verdict::pass:
        return "pass";
    case grading::Verdict::caution:
        return "caution";
    case grading::Verdict::fail:
        return "fail";
    }
    return "";
}

Json card_json(const arc::SettingCard& card) {
    return {
        {"name", card.name},
        {"groups", card.groups},
        {"process", std::string(arc::process_number(card.process))},
        {"wire", card.wire},
        {"gas", card.gas},
        {"gas_flow_m3_per_s", number(card.gas_flow_m3_per_s)},
        {"polarity", card.polarity == arc::Polarity::electrode_positive ? "electrode positive" : "electrode negative"},
        {"volts_v", number(card.volts_v)},
        {"wire_feed_m_per_s", number(card.wire_feed_m_per_s)},
        {"travel_m_per_s", number(card.travel_m_per_s)},
        {"tip_distance_m", number(card.tip_distance_m)},
        {"motion", card.motion == arc::TorchMotion::push ? "push" : "drag"},
        {"aim", number(card.aim)},
        {"preheat_k", card.preheat_k > 0 ? number(card.preheat_k) : Json(nullptr)}};
}

Json move_json(const weld::Outcome& outcome, std::size_t k) {
    const weld::MoveOutcome& done = outcome.moves[k];
    Json json{{"move", k + 1}};
    std::visit(weld::OfMove{[&](const weld::WeldPass& weld) {
                                json["kind"] = "weld";
                                json["pass"] = outcome.part->passes[static_cast<std::size_t>(weld.pass)].name;
                                json["reversed"] = weld.reversed;
                                json["card"] = outcome.plan.cards[static_cast<std::size_t>(weld.card)].name;
                            },
                            [&](const weld::Wait& wait) {
                                json["kind"] = "wait";
                                json["at_least_s"] = number(wait.time_s);
                                json["until_below_k"] =
                                    wait.until_below_k ? number(*wait.until_below_k) : Json(nullptr);
                            },
                            [&](const weld::Turn& turn) {
                                json["kind"] = "turn";
                                json["pose"] = outcome.part->poses[static_cast<std::size_t>(turn.pose)].name;
                            },
                            [&](const weld::ClampMove& clamp) {
                                json["kind"] = clamp.fix ? "fix_clamp" : "free_clamp";
                                json["clamp"] = outcome.part->clamps[static_cast<std::size_t>(clamp.clamp)].name;
                            }},
               outcome.plan.moves[k].what);
    json["start_s"] = number(done.start_s);
    json["end_s"] = number(done.end_s);
    if (done.welded) {
        json["setup_change"] = {
            {"wire", done.setup_change.wire}, {"gas", done.setup_change.gas}, {"dials", done.setup_change.dials}};
        json["setup_change_s"] = number(done.setup_change_s);
        json["current_a"] = number(done.arc.current_a);
        json["net_power_w"] = number(done.arc.net_power_w);
        json["efficiency"] = number(done.arc.efficiency);
        json["heat_input_j_per_m"] = number(done.arc.heat_input_j_per_m);
        json["heat_j"] = number(done.heat_j);
        json["deposit_area_m2"] = number(done.arc.deposit_area_m2);
        json["leg_m"] = number(done.arc.leg_m);
        json["throat_m"] = number(done.arc.throat_m);
        json["interpass_k"] = number(done.interpass_k);
        json["peak_k"] = number(done.peak_k);
        json["t85_s"] = number(done.t85_s);
        json["width_500_m"] = number(done.width_500_m);
        json["width_800_m"] = number(done.width_800_m);
    }
    Json& change = json["gauge_change"] = Json::object();
    for (std::size_t g = 0; g < done.gauge_contribution.size(); ++g)
        change[outcome.part->gauges[g].name] = number(done.gauge_contribution[g]);
    return json;
}

Json gauge_json(const weld::Outcome& outcome, std::size_t g) {
    const part::Gauge& gauge = outcome.part->gauges[g];
    const weld::GaugeOutcome& found = outcome.gauges[g];
    Json after = Json::array();
    for (const double value : found.after_move)
        after.push_back(number(value));
    return {{"name", gauge.name},
            {"title", gauge.title},
            {"kind", word(gauge.kind)},
            {"unit", part::is_angle(gauge.kind) ? "rad" : "m"},
            {"nominal", number(found.nominal)},
            {"value", number(found.value)},
            {"error", number(found.value - found.nominal)},
            {"tolerance", number(gauge.tolerance)},
            {"tolerance_source", gauge.tolerance_source.english()},
            {"within", std::abs(found.value - found.nominal) <= gauge.tolerance},
            {"band", number(found.band)},
            {"band_source", found.band_source.english()},
            {"after_move", after},
            {"peak_k", number(found.peak_k)}};
}

Json mark_json(const grading::Exercise& exercise, const weld::Outcome& outcome, const grading::Mark& mark) {
    Json aspects = Json::object();
    for (std::size_t a = 0; a < grading::aspect_count; ++a)
        aspects[word(static_cast<grading::Aspect>(a))] = {{"reached", number(mark.reached[a])},
                                                          {"possible", number(mark.possible[a])}};
    Json remarks = Json::array();
    for (const grading::Remark& remark : mark.remarks) {
        Json one{{"aspect", word(remark.aspect)}, {"verdict", word(remark.verdict)}};
        one["move"] = remark.move >= 0 ? Json(remark.move + 1) : Json(nullptr);
        one["card"] =
            remark.card >= 0 ? Json(outcome.plan.cards[static_cast<std::size_t>(remark.card)].name) : Json(nullptr);
        one["gauge"] =
            remark.gauge >= 0 ? Json(outcome.part->gauges[static_cast<std::size_t>(remark.gauge)].name) : Json(nullptr);
        one["chosen"] = remark.chosen.english();
        one["measured"] = remark.measured.english();
        one["limit"] = remark.limit.english();
        one["source"] = remark.source.english();
        one["consequence"] = remark.consequence.english();
        one["try_this"] = remark.try_this.english();
        one["points_lost"] = number(remark.points_lost);
        one["must_be_met"] = remark.must_be_met;
        remarks.push_back(std::move(one));
    }
    return {{"total", number(mark.total)},
            {"passed", mark.passed},
            {"why_not", mark.why_not.english()},
            {"pass_mark", number(exercise.pass_mark)},
            {"aspects", aspects},
            {"hint_points", number(mark.hint_points)},
            {"remarks", remarks}};
}

Json nodes_json(const weld::Outcome& outcome) {
    Json position = Json::array(), peak = Json::array(), displacement = Json::array();
    for (const part::Point& p : outcome.mesh->position_m)
        position.push_back({fixed(p.x(), 7), fixed(p.y(), 7), fixed(p.z(), 7)});
    for (const float kelvin : outcome.peak_k)
        peak.push_back(fixed(static_cast<double>(kelvin), 2));
    if (!outcome.displacement_m.empty())
        for (const Eigen::Vector3f& u : outcome.displacement_m.back())
            displacement.push_back({fixed(static_cast<double>(u.x()), 9), fixed(static_cast<double>(u.y()), 9),
                                    fixed(static_cast<double>(u.z()), 9)});
    return {{"position_m", position},
            {"panel", outcome.mesh->panel_of_node},
            {"peak_k", peak},
            {"displacement_m", displacement}};
}

} // namespace

std::string outcome_json(const grading::Exercise& exercise, const weld::Outcome& outcome, const grading::Mark& mark) {
    Json json;
    json["schema"] = "holdtrue.outcome/1";
    json["program_version"] = outcome.program_version;
    json["status"] = outcome.status == weld::Status::finished ? "finished" : "cancelled";
    json["exercise"] = {{"name", exercise.name},
                        {"title", exercise.title},
                        {"variant", exercise.variant},
                        {"variant_words", exercise.variant_words}};
    json["part"] = {{"name", outcome.part->name},
                    {"title", outcome.part->title},
                    {"node_count", outcome.mesh->node_count()},
                    {"cell_count", outcome.mesh->cell_count()}};
    json["plan"] = {{"title", outcome.plan.title}, {"trainee", outcome.plan.trainee}};
    json["distortion_model"] = outcome.distortion_model.english();
    json["heat_steps"] = outcome.heat_steps;
    json["total_s"] = number(outcome.total_s);
    json["arc_s"] = number(outcome.arc_s);
    json["setup_changes"] = outcome.setup_changes();
    json["setup_change_s"] = number(outcome.setup_change_s());
    json["energy"] = {{"brought_j", number(outcome.energy.brought_j)},
                      {"stored_j", number(outcome.energy.stored_j)},
                      {"lost_to_air_j", number(outcome.energy.lost_to_air_j)},
                      {"lost_to_clamps_j", number(outcome.energy.lost_to_clamps_j)},
                      {"error", number(outcome.energy.error())}};
    json["cards"] = Json::array();
    for (const arc::SettingCard& card : outcome.plan.cards)
        json["cards"].push_back(card_json(card));
    json["moves"] = Json::array();
    for (std::size_t k = 0; k < outcome.moves.size(); ++k)
        json["moves"].push_back(move_json(outcome, k));
    json["gauges"] = Json::array();
    for (std::size_t g = 0; g < outcome.gauges.size(); ++g)
        json["gauges"].push_back(gauge_json(outcome, g));
    json["mark"] = mark_json(exercise, outcome, mark);
    json["frames"] = Json::array();
    for (const weld::Frame& frame : outcome.frames) {
        float hottest = 0;
        for (const float kelvin : frame.temperature_k)
            hottest = std::max(hottest, kelvin);
        Json one{{"time_s", number(frame.time_s)}, {"move", frame.move + 1}, {"arc_on", frame.arc_on}};
        one["torch_m"] = frame.arc_on
                             ? Json{fixed(frame.torch.x(), 6), fixed(frame.torch.y(), 6), fixed(frame.torch.z(), 6)}
                             : Json(nullptr);
        one["hottest_k"] = fixed(static_cast<double>(hottest), 2);
        json["frames"].push_back(std::move(one));
    }
    json["nodes"] = nodes_json(outcome);
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace holdtrue::report
