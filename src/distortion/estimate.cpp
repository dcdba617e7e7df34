#include "distortion/estimate.h"

#include "distortion/beam_axis.h"
#include "part/gauge.h"
#include "units/units.h"

#include <Eigen/Geometry>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace holdtrue::distortion {
namespace {

constexpr double modulus_pa = 210e9; // EN 1993-1-1 cl. 3.2.6
constexpr double tendon_n_per_j_per_m = 0.2;
constexpr double across_per_area = 0.10; // S t / A_w

using Field = std::vector<Eigen::Vector3d>; // one displacement per node

// Strain integrated over the metal beside a pass, per metre of pass: (m along u)(u u^T) for two directions.
struct Pull {
    part::Point place, along, across;
    double along_m2 = 0, across_m2 = 0; // shrinkage strain times area, positive when it shortens
};

// Which panels hold together: joints that came tacked, and every pass laid so far.
class TiedPanels {
public:
    explicit TiedPanels(const part::Part& part) : group_(part.panels.size()) {
        std::iota(group_.begin(), group_.end(), 0);
        for (const part::Joint& joint : part.joints)
            if (joint.tacked)
                tie(joint.panel_a, joint.panel_b);
    }
    void tie(int a, int b) {
        const int from = group_[static_cast<std::size_t>(b)], to = group_[static_cast<std::size_t>(a)];
        std::ranges::replace(group_, from, to);
    }
    std::vector<char> with(int panel) const {
        std::vector<char> included(group_.size());
        for (std::size_t k = 0; k < group_.size(); ++k)
            included[k] = group_[k] == group_[static_cast<std::size_t>(panel)];
        return included;
    }

private:
    std::vector<int> group_;
};

// Stretch and curvature of every station, and the displacement that they add up to.
struct BeamStrain {
    std::vector<double> stretch_m;             // of the line through the origin, over each station
    std::vector<Eigen::Vector2d> rotation_rad; // curvature times station length
};

void add_pull(BeamStrain& strain, const BeamAxis& beam, const SectionTable& sections, const std::vector<char>& included,
              const Pull& pull, double length_m) {
    const int station = beam.station(beam.along(pull.place));
    const BeamSection section = sections.section(station, included);
    if (section.area_m2 <= 0)
        return;
    const double cos_along = pull.along.dot(beam.axis), cos_across = pull.across.dot(beam.axis);
    const double volume =
        -length_m * (pull.along_m2 * cos_along * cos_along + pull.across_m2 * cos_across * cos_across);
    // A sheet seen edge-on has next to no second moment one way; a floor keeps the division sane.
    const double floor = 1e-9 * section.second_moment_m4.trace() + 1e-16;
    const Eigen::Matrix2d moment = section.second_moment_m4 + floor * Eigen::Matrix2d::Identity();
    const Eigen::Vector2d arm = beam.across(pull.place) - section.centroid_m;
    const Eigen::Vector2d rotation = volume * (moment.inverse() * arm);
    const auto at = static_cast<std::size_t>(station);
    strain.rotation_rad[at] += rotation;
    strain.stretch_m[at] += volume / section.area_m2 - rotation.dot(section.centroid_m);
}

// Integrates the beam from its middle, where it neither moves nor turns.
void add_beam_curve(Field& field, const part::Mesh& mesh, const BeamAxis& beam, const BeamStrain& strain) {
    const auto count = static_cast<std::size_t>(beam.station_count);
    std::vector<double> shift(count + 1, 0.0);
    std::vector<Eigen::Vector2d> slope(count + 1, Eigen::Vector2d::Zero()), sag(count + 1, Eigen::Vector2d::Zero());
    for (std::size_t k = 0; k < count; ++k) {
        shift[k + 1] = shift[k] + strain.stretch_m[k];
        slope[k + 1] = slope[k] + strain.rotation_rad[k];
        sag[k + 1] = sag[k] - 0.5 * beam.station_m * (slope[k] + slope[k + 1]);
    }
    struct Place {
        double shift;
        Eigen::Vector2d slope, sag;
    };
    const auto place_at = [&](double along_m) {
        const double s = std::clamp((along_m - beam.start_m) / beam.station_m, 0.0, static_cast<double>(count));
        const auto k = std::min(static_cast<std::size_t>(s), count - 1);
        const double f = s - static_cast<double>(k);
        const Eigen::Vector2d here = (1 - f) * slope[k] + f * slope[k + 1];
        return Place{(1 - f) * shift[k] + f * shift[k + 1], here,
                     sag[k] - 0.5 * f * beam.station_m * (slope[k] + here)};
    };
    const double middle_m = beam.start_m + 0.5 * static_cast<double>(count) * beam.station_m;
    const Place middle = place_at(middle_m);
    for (std::size_t node = 0; node < field.size(); ++node) {
        const double x = beam.along(mesh.position_m[node]);
        const Place place = place_at(x);
        const Eigen::Vector2d turn = place.slope - middle.slope;
        const Eigen::Vector2d move = place.sag - middle.sag + (x - middle_m) * middle.slope;
        field[node] += beam.axis * (place.shift - middle.shift + turn.dot(beam.across(mesh.position_m[node]))) +
                       beam.side_1 * move[0] + beam.side_2 * move[1];
    }
}

// The wing of a flat panel_b on the side of a fillet lifts towards panel_a.
void add_angular_change(Field& field, const part::Part& part, const part::Mesh& mesh, const Step& step) {
    const part::Pass& pass = part.passes[static_cast<std::size_t>(step.pass)];
    const part::Joint& joint = part.joints[static_cast<std::size_t>(pass.joint)];
    const part::Panel& flange = part.panels[static_cast<std::size_t>(joint.panel_b)];
    if (joint.type != part::JointType::fillet || pass.kind != part::PassKind::run ||
        flange.kind != part::PanelKind::plate)
        return;
    const double leg_in = step.throat_m * std::numbers::sqrt2 / units::inch;
    const double thickness_in = flange.thickness_m / units::inch;
    const double share = (pass.to_m - pass.from_m) / part::path_length_m(joint);
    const double angle = std::min(0.1, 0.04 * std::pow(leg_in, 1.3) / (thickness_in * thickness_in)) * share;

    const double middle_m = 0.5 * (pass.from_m + pass.to_m);
    const part::Point root = part::path_point(joint, middle_m), tangent = part::path_tangent(joint, middle_m);
    const part::Attachment web = part::attach(mesh, joint.panel_a, root);
    part::Point normal = part::at(part::attach(mesh, joint.panel_b, root), mesh.normal).normalized();
    const part::PanelGrid& web_grid = mesh.panels[static_cast<std::size_t>(joint.panel_a)];
    part::Point web_middle = part::Point::Zero();
    for (int k = 0; k < web_grid.nu * web_grid.nv; ++k)
        web_middle += mesh.position_m[static_cast<std::size_t>(web_grid.first_node + k)] / (web_grid.nu * web_grid.nv);
    if (normal.dot(web_middle - root) < 0)
        normal = -normal;

    // The path runs on one face of the web; where it runs on its middle, both wings share the change.
    const part::Point side = normal.cross(tangent).normalized();
    const double offset_m = side.dot(root - web.position);
    const part::PanelGrid& grid = mesh.panels[static_cast<std::size_t>(joint.panel_b)];
    for (int k = 0; k < grid.nu * grid.nv; ++k) {
        const auto node = static_cast<std::size_t>(grid.first_node + k);
        const double d = side.dot(mesh.position_m[node] - root);
        const double wing = std::abs(offset_m) < 1e-6 ? 0.5 : (d * offset_m > 0 ? 1.0 : 0.0);
        field[node] += wing * angle * std::abs(d) * normal;
    }
}

void add_pass(Field& field, const part::Part& part, const part::Mesh& mesh, const BeamAxis& beam,
              const SectionTable& sections, const TiedPanels& tied, const Step& step) {
    const part::Pass& pass = part.passes[static_cast<std::size_t>(step.pass)];
    const part::Joint& joint = part.joints[static_cast<std::size_t>(pass.joint)];
    const double across_m2 = across_per_area * step.deposit_area_m2; // S t, whatever the thickness
    const std::vector<char> included = tied.with(joint.panel_a);
    BeamStrain strain{
        std::vector<double>(static_cast<std::size_t>(beam.station_count), 0.0),
        std::vector<Eigen::Vector2d>(static_cast<std::size_t>(beam.station_count), Eigen::Vector2d::Zero())};
    const auto normal_at = [&](const part::Point& place) {
        return part::at(part::attach(mesh, joint.panel_b, place), mesh.normal).normalized().eval();
    };
    if (pass.kind == part::PassKind::plug) {
        // A plug pulls alike in every direction of its sheet: half its tendon strain along any two of them.
        const part::Point place = joint.path[static_cast<std::size_t>(std::lround(pass.from_m))];
        const part::Point normal = normal_at(place);
        const part::Point along = normal.unitOrthogonal();
        const double volume = 0.5 * tendon_n_per_j_per_m * step.heat_j / modulus_pa;
        add_pull(strain, beam, sections, included, {place, along, normal.cross(along), volume, volume}, 1.0);
    } else {
        const double length_m = pass.to_m - pass.from_m;
        const int pieces = std::max(1, static_cast<int>(std::ceil(length_m / (0.5 * beam.station_m))));
        for (int k = 0; k < pieces; ++k) {
            const double along_m = pass.from_m + (k + 0.5) / pieces * length_m;
            const part::Point place = part::path_point(joint, along_m), tangent = part::path_tangent(joint, along_m);
            const double tendon_m2 = tendon_n_per_j_per_m * step.heat_input_j_per_m / modulus_pa;
            add_pull(strain, beam, sections, included,
                     {place, tangent, normal_at(place).cross(tangent).normalized(), tendon_m2, across_m2},
                     length_m / pieces);
        }
    }
    add_beam_curve(field, mesh, beam, strain);
    add_angular_change(field, part, mesh, step);
}

std::vector<double> read_gauges(const part::Part& part, const std::vector<std::vector<part::Attachment>>& places,
                                const Field& field) {
    std::vector<double> readings;
    for (std::size_t g = 0; g < part.gauges.size(); ++g) {
        std::vector<part::Point> now;
        for (std::size_t k = 0; k < places[g].size(); ++k)
            now.push_back(part.gauges[g].point[k] + part::at(places[g][k], field));
        readings.push_back(part::read_gauge(part.gauges[g], now));
    }
    return readings;
}

} // namespace

Result estimate(const part::Part& part, const part::Mesh& mesh, const std::vector<Step>& steps, std::stop_token stop) {
    const BeamAxis beam = find_beam_axis(mesh);
    const SectionTable sections(mesh, beam);
    std::vector<std::vector<part::Attachment>> places;
    for (const part::Gauge& gauge : part.gauges) {
        places.emplace_back();
        for (std::size_t k = 0; k < gauge.point.size(); ++k)
            places.back().push_back(part::attach(mesh, gauge.panel[k], gauge.point[k]));
    }

    Result result;
    result.model = "beam-and-strip estimate";
    TiedPanels tied(part);
    Field field(mesh.position_m.size(), Eigen::Vector3d::Zero());
    const auto record = [&] {
        auto& stored = result.displacement_m.emplace_back();
        for (const Eigen::Vector3d& u : field)
            stored.push_back(u.cast<float>());
        result.gauge_after.push_back(read_gauges(part, places, field));
    };
    for (const Step& step : steps) {
        if (stop.stop_requested())
            break;
        if (step.kind == Step::Kind::weld) {
            const part::Joint& joint =
                part.joints[static_cast<std::size_t>(part.passes[static_cast<std::size_t>(step.pass)].joint)];
            tied.tie(joint.panel_a, joint.panel_b);
            add_pass(field, part, mesh, beam, sections, tied, step);
        }
        record();
    }
    record(); // a beam without clamps does not move when it is let go

    for (std::size_t g = 0; g < part.gauges.size(); ++g) {
        const double change = std::abs(result.gauge_after.back()[g] - part::nominal(part.gauges[g]));
        const double least = 0.1 * part.gauges[g].tolerance;
        result.bands.push_back({std::max(0.6 * change, least),
                                "estimate: published camber rules agree within 30 %, rules for shrinkage across a "
                                "weld differ by a factor of two"});
    }
    return result;
}

} // namespace holdtrue::distortion
