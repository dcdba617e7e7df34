// Small parts for the distortion tests, and jobs on them with made-up temperatures.
#pragma once

#include "distortion/evaluate.h"
#include "distortion/response.h"
#include "part/gauge.h"

#include <memory>
#include <numeric>
#include <string>

namespace holdtrue::distortion::testing {

using part::Point;

inline part::Panel plate(const std::string& name, std::vector<Point> a, std::vector<Point> b, double thickness_m) {
    part::Panel panel;
    panel.name = name;
    panel.profile_a = std::move(a);
    panel.profile_b = std::move(b);
    panel.thickness_m = thickness_m;
    return panel;
}

inline void add_passes(part::Part& part, int joint, double length_m, int runs, int tacks) {
    const std::string name = part.joints[static_cast<std::size_t>(joint)].name;
    for (int k = 0; k < tacks; ++k) {
        const double at = tacks == 1 ? 0.5 * length_m : 0.01 + (length_m - 0.02) * k / (tacks - 1);
        part.passes.push_back(
            {name + "/tack" + std::to_string(k + 1), joint, part::PassKind::tack, at - 0.006, at + 0.006, 0});
    }
    for (int k = 0; k < runs; ++k)
        part.passes.push_back({name + "/" + std::to_string(k + 1), joint, part::PassKind::run, length_m * k / runs,
                               length_m * (k + 1) / runs, 0});
}

// Where the part was drawn.
inline void tie_all(Response& response, const WeldGroup& group) {
    const std::vector<int> rows = group.tie_rows();
    response.tie(rows, std::vector<double>(rows.size(), 0));
}

inline part::Gauge gauge(const std::string& name, part::GaugeKind kind, std::vector<int> panels,
                         std::vector<Point> points, const Point& direction) {
    part::Gauge g;
    g.name = name;
    g.kind = kind;
    g.panel = std::move(panels);
    g.point = std::move(points);
    g.direction = direction;
    g.tolerance = 1e-3;
    return g;
}

// Two U halves that make a box along x: seams (butts) on its left (y < 0) and right, halves above and below z = 0.
// Symmetric about y = 0 and about mid-length.
inline part::Part box(double length_m, double width_m, double height_m, double thickness_m, double element_m, int runs,
                      int tacks) {
    part::Part part;
    part.name = "box";
    part.element_m = element_m;
    part.poses.push_back({"up", {0, 0, 1}, 0});
    const double w = width_m / 2, h = height_m / 2;
    for (const double side : {-1.0, 1.0}) {
        std::vector<Point> a{{0, -w, 0}, {0, -w, side * h}, {0, w, side * h}, {0, w, 0}}, b = a;
        for (Point& p : b)
            p.x() = length_m;
        part.panels.push_back(plate(side < 0 ? "lower" : "upper", a, b, thickness_m));
        part.panels.back().kind = part::PanelKind::channel;
    }
    for (const double side : {-1.0, 1.0}) {
        part::Joint joint;
        joint.name = side < 0 ? "left" : "right";
        joint.type = part::JointType::butt;
        joint.panel_a = 1;
        joint.panel_b = 0;
        joint.path = {{0, side * w, 0}, {length_m, side * w, 0}};
        joint.size_m = thickness_m;
        part.joints.push_back(joint);
        add_passes(part, static_cast<int>(part.joints.size()) - 1, length_m, runs, tacks);
    }
    const double x = length_m;
    part.gauges.push_back(
        gauge("bow", part::GaugeKind::bow, {0, 0, 0}, {{0, 0, -h}, {x / 2, 0, -h}, {x, 0, -h}}, {0, 1, 0}));
    part.gauges.push_back(
        gauge("sag", part::GaugeKind::bow, {0, 0, 0}, {{0, 0, -h}, {x / 2, 0, -h}, {x, 0, -h}}, {0, 0, 1}));
    part.gauges.push_back(gauge("length", part::GaugeKind::distance, {0, 0}, {{0, 0, -h}, {x, 0, -h}}, {1, 0, 0}));
    part.gauges.push_back(gauge("twist", part::GaugeKind::twist, {0, 0, 1, 1},
                                {{0, -w, -h}, {0, w, -h}, {x, -w, h}, {x, w, h}}, {1, 0, 0}));
    part.gauges.push_back(
        gauge("width", part::GaugeKind::distance, {0, 1}, {{x / 2, -w, -h}, {x / 2, w, h}}, {0, 1, 0}));
    return part;
}

// A flange in z = 0 with a web standing on it, along x; the fillet on the web's left side and the one on its right.
inline part::Part tee(double length_m, double flange_m, double web_m, double thickness_m, double element_m, int runs,
                      int tacks) {
    part::Part part;
    part.name = "tee";
    part.element_m = element_m;
    part.poses.push_back({"up", {0, 0, 1}, 0});
    const double f = flange_m / 2, foot = thickness_m / 2;
    part.panels.push_back(plate("flange", {{0, -f, 0}, {0, 0, 0}, {0, f, 0}},
                                {{length_m, -f, 0}, {length_m, 0, 0}, {length_m, f, 0}}, thickness_m));
    part.panels.push_back(plate("web", {{0, 0, foot}, {0, 0, foot + web_m}},
                                {{length_m, 0, foot}, {length_m, 0, foot + web_m}}, thickness_m));
    for (const double side : {-1.0, 1.0}) {
        part::Joint joint;
        joint.name = side < 0 ? "left" : "right";
        joint.type = part::JointType::fillet;
        joint.panel_a = 1;
        joint.panel_b = 0;
        joint.path = {{0, side * foot, foot}, {length_m, side * foot, foot}};
        joint.size_m = thickness_m;
        part.joints.push_back(joint);
        add_passes(part, static_cast<int>(part.joints.size()) - 1, length_m, runs, side < 0 ? tacks : 0);
    }
    const double x = length_m, top = foot + web_m;
    part.gauges.push_back(
        gauge("camber", part::GaugeKind::bow, {1, 1, 1}, {{0, 0, top}, {x / 2, 0, top}, {x, 0, top}}, {0, 0, 1}));
    part.gauges.push_back(
        gauge("bow", part::GaugeKind::bow, {1, 1, 1}, {{0, 0, top}, {x / 2, 0, top}, {x, 0, top}}, {0, 1, 0}));
    part.gauges.push_back(
        gauge("lean", part::GaugeKind::angle, {0, 0, 1}, {{x / 2, 0, 0}, {x / 2, f, 0}, {x / 2, 0, top}}, {0, 0, 1}));
    part.gauges.push_back(gauge("flange", part::GaugeKind::flatness, {0, 0, 0, 0},
                                {{x / 2, -f, 0}, {x / 2, 0, 0}, {x / 2, f, 0}, {0, f, 0}}, {0, 0, 1}));
    part.gauges.push_back(gauge("length", part::GaugeKind::distance, {0, 0}, {{0, 0, 0}, {x, 0, 0}}, {1, 0, 0}));
    return part;
}

// Jobs with their temperature fields.
class Job {
public:
    Job(const part::Part& part, const part::Mesh& mesh) : part_(&part), mesh_(&mesh) { add_field(20); }

    // Heats the metal beside the pass to `beside_c`, falling to nothing over 60 mm, and lets what was hot cool by half.
    Job& weld(int pass, double q_j_per_m, double beside_c = 400, bool reversed = false) {
        const part::Pass& p = part_->passes[static_cast<std::size_t>(pass)];
        const part::Joint& joint = part_->joints[static_cast<std::size_t>(p.joint)];
        std::vector<float> field = *fields_.back();
        for (std::size_t n = 0; n < field.size(); ++n) {
            double distance = 1;
            for (int k = 0; k <= 10; ++k)
                distance = std::min(
                    distance,
                    (mesh_->position_m[n] - part::path_point(joint, p.from_m + 0.1 * k * (p.to_m - p.from_m))).norm());
            const double rise = (beside_c - 20) * std::max(0.0, 1 - distance / 0.06);
            field[n] = static_cast<float>(293.15 + 0.5 * (static_cast<double>(field[n]) - 293.15) + rise);
        }
        Step step;
        step.kind = Step::Kind::weld;
        step.pass = pass;
        step.reversed = reversed;
        step.heat_input_j_per_m = q_j_per_m;
        step.heat_j = q_j_per_m * (p.to_m - p.from_m);
        step.travel_m_per_s = 0.006;
        step.throat_m = 0.003;
        step.deposit_area_m2 = 9e-6;
        step.interpass_k = 293.15;
        return add(step, std::move(field));
    }
    Job& wait_until(double celsius) {
        return add({}, std::vector<float>(mesh_->position_m.size(), static_cast<float>(celsius + 273.15)));
    }
    Job& clamp(int clamp, bool fix) {
        Step step;
        step.kind = fix ? Step::Kind::fix_clamp : Step::Kind::free_clamp;
        step.clamp = clamp;
        return add(step, *fields_.back());
    }
    const std::vector<Step>& steps() const { return steps_; }

private:
    void add_field(double celsius) {
        fields_.push_back(
            std::make_unique<std::vector<float>>(mesh_->position_m.size(), static_cast<float>(celsius + 273.15)));
    }
    Job& add(Step step, std::vector<float> field) {
        fields_.push_back(std::make_unique<std::vector<float>>(std::move(field)));
        step.temperature_end_k = *fields_.back();
        steps_.push_back(step);
        return *this;
    }
    const part::Part* part_;
    const part::Mesh* mesh_;
    std::vector<std::unique_ptr<std::vector<float>>> fields_;
    std::vector<Step> steps_;
};

} // namespace holdtrue::distortion::testing
