// A small outcome made by hand, for tests of what reads outcomes.
#pragma once

#include "part/gauge.h"
#include "weld/outcome.h"

#include <cmath>
#include <memory>

namespace holdtrue::test {

inline part::Panel plate(const std::string& name, double thickness_m, part::Point a0, part::Point a1,
                         part::Point along) {
    part::Panel panel;
    panel.name = name;
    panel.thickness_m = thickness_m;
    panel.profile_a = {a0, a1};
    panel.profile_b = {a0 + along, a1 + along};
    return panel;
}

// A T of two 5 mm plates, 300 mm long, two fillets of three passes each.
inline std::shared_ptr<const part::Part> tee() {
    auto part = std::make_shared<part::Part>();
    part->name = "tee";
    part->title = "T of two plates";
    part->panels = {plate("flange", 0.005, {0, -0.05, 0}, {0, 0.05, 0}, {0.3, 0, 0}),
                    plate("web", 0.005, {0, 0, 0.0025}, {0, 0, 0.0825}, {0.3, 0, 0})};
    for (const double side : {-1.0, 1.0}) {
        part::Joint joint;
        joint.name = side < 0 ? "left" : "right";
        joint.panel_a = 1;
        joint.panel_b = 0;
        joint.path = {{0, side * 0.0025, 0.0025}, {0.3, side * 0.0025, 0.0025}};
        joint.size_m = 0.004;
        joint.tacked = true;
        joint.card_group = joint.name;
        part->joints.push_back(joint);
        for (int k = 0; k < 3; ++k)
            part->passes.push_back({joint.name + "/" + std::to_string(k + 1), static_cast<int>(part->joints.size()) - 1,
                                    part::PassKind::run, 0.1 * k, 0.1 * (k + 1), 0});
    }
    part->poses = {{"flat", {0, 0, 1}, 0}};
    part::Gauge bow;
    bow.name = "bow";
    bow.title = "bow of the flange";
    bow.kind = part::GaugeKind::bow;
    bow.panel = {0, 0, 0};
    bow.point = {{0, 0, 0}, {0.15, 0, 0}, {0.3, 0, 0}};
    bow.tolerance = 0.5e-3;
    bow.tolerance_source = std::string("own limit");
    part::Gauge length = bow;
    length.name = "length";
    length.title = "length along the web";
    length.kind = part::GaugeKind::distance;
    length.panel = {1, 1};
    length.point = {{0, 0, 0.04}, {0.3, 0, 0.04}};
    length.tolerance = 1e-3;
    length.tolerance_source = std::string("ISO 13920 class A, 120 to 400 mm");
    part->gauges = {bow, length};
    return part;
}

inline std::shared_ptr<const arc::Shop> shop() {
    auto shop = std::make_shared<arc::Shop>();
    shop->name = "bench";
    arc::PowerSource source;
    source.name = "bench source";
    source.volts_low_v = 14;
    source.volts_high_v = 30;
    source.feed_low_m_per_s = 0.03;
    source.feed_high_m_per_s = 0.3;
    source.rated_current_a = 250;
    source.rated_duty = 0.4;
    shop->sources = {source};
    shop->wires = {{"w10", "G 42 4 M21 3Si1", 0.001, arc::Process::mag_135}};
    arc::Gas gas;
    gas.id = "m21";
    gas.argon = 0.82;
    gas.co2 = 0.18;
    shop->gases = {gas};
    return shop;
}

// Six passes by turns; bowed by 0.4 mm and 0.3 mm shorter; hot along the web.
inline weld::Outcome outcome() {
    weld::Outcome outcome;
    outcome.program_version = "test";
    outcome.part = tee();
    outcome.shop = shop();
    auto mesh = std::make_shared<part::Mesh>(part::build_mesh(*outcome.part, 0.8));
    outcome.mesh = mesh;
    arc::SettingCard card;
    card.name = "seams";
    card.groups = {"left", "right"};
    card.wire = "w10";
    card.gas = "m21";
    card.gas_flow_m3_per_s = 12e-3 / 60;
    card.volts_v = 18.5;
    card.wire_feed_m_per_s = 5.0 / 60;
    card.travel_m_per_s = 6e-3;
    card.tip_distance_m = 0.012;
    outcome.plan.title = "Sides by turns";
    outcome.plan.trainee = "A. Trainee";
    outcome.plan.cards = {card};
    const int order[] = {1, 4, 0, 3, 2, 5};
    double clock_s = 0;
    for (const int pass : order) {
        outcome.plan.moves.push_back({weld::WeldPass{pass, pass % 2 == 1, 0}, 0});
        weld::MoveOutcome move;
        move.start_s = clock_s;
        move.end_s = clock_s += 22;
        move.welded = true;
        move.interpass_k = 320 + clock_s;
        move.peak_k = 1750;
        move.heat_j = 300 * 100;
        move.arc.heat_input_j_per_m = 300e3;
        move.arc.current_a = 140;
        move.arc.leg_m = 0.0045;
        move.gauge_contribution = {pass < 3 ? 0.2e-3 : -0.07e-3, -0.05e-3};
        outcome.moves.push_back(move);
    }
    outcome.plan.predictions = {{0, weld::Sense::grows}, {1, weld::Sense::shrinks}};
    outcome.total_s = 900;
    outcome.arc_s = 100;
    for (std::size_t g = 0; g < outcome.part->gauges.size(); ++g) {
        weld::GaugeOutcome gauge;
        gauge.nominal = part::nominal(outcome.part->gauges[g]);
        gauge.value = gauge.nominal + (g == 0 ? 0.39e-3 : -0.3e-3);
        gauge.band = 0.08e-3;
        gauge.band_source = std::string("made by hand");
        double reading = gauge.nominal;
        for (const weld::MoveOutcome& move : outcome.moves)
            gauge.after_move.push_back(reading += move.gauge_contribution[g]);
        outcome.gauges.push_back(gauge);
    }
    for (std::size_t n = 0; n < mesh->position_m.size(); ++n) {
        const part::Point& p = mesh->position_m[n];
        const double away = std::hypot(p.y(), p.z());
        outcome.peak_k.push_back(static_cast<float>(330 + 1500 * std::exp(-away / 0.012)));
    }
    outcome.displacement_m.assign(outcome.moves.size() + 1, {});
    for (auto& field : outcome.displacement_m)
        for (const part::Point& p : mesh->position_m) {
            const double x = p.x() - 0.15;
            field.emplace_back(static_cast<float>(-1e-3 * x + 0.02 * x * p.z()), 0.0F,
                               static_cast<float>(-0.4e-3 * x * x / (0.15 * 0.15) + 0.02 * std::abs(p.y())));
        }
    for (std::size_t k = 0; k < outcome.moves.size(); ++k) {
        weld::Frame frame;
        frame.time_s = outcome.moves[k].start_s;
        frame.move = static_cast<int>(k);
        frame.temperature_k = outcome.peak_k;
        outcome.frames.push_back(frame);
    }
    outcome.distortion_model = std::string("made by hand");
    outcome.energy = {1000, 600, 400, 0};
    return outcome;
}

} // namespace holdtrue::test
