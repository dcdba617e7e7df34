#include "heat/weld_heat.h"

#include "heat/conduction.h"
#include "heat/moving_source.h"
#include "heat/pass_track.h"
#include "heat/super_step.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <optional>

namespace holdtrue::heat {
namespace {

// While the part cools, a step is this share of the time since something last happened, or as much longer as takes no
// more work: the field smooths out as that time grows. A quarter of it moves the hottest place by less than 0.5 K
// (test).
constexpr double step_growth = 0.05;
constexpr double longest_step_s = 20;
constexpr double until_within_k = 0.05; // how near a wait stops to the temperature it waits for

} // namespace

struct WeldHeat::State {
    std::shared_ptr<const part::Part> part;
    std::shared_ptr<const part::Mesh> mesh;
    Surroundings surroundings;
    material::ThermalMaterial material;
    Conduction conduction;
    std::vector<int> clamp_law;    // per clamp
    std::vector<bool> clamp_fixed; // per clamp
    double quiet_s = 0;            // since something last happened
    double step_scale = 1;
    std::map<int, PassTrack> tracks;
    std::map<int, std::vector<int>> along;
    mutable std::vector<double> temperature_k;
    mutable int temperature_step = -1; // conduction step that temperature_k belongs to

    static std::vector<FaceLaws> faces(const part::Mesh& mesh, const Surroundings& s) {
        const SurfaceLaw air{s.ambient_k, s.convection_w_per_m2k, s.emissivity, 0};
        return std::vector<FaceLaws>(mesh.panels.size(), FaceLaws{air, air});
    }

    State(std::shared_ptr<const part::Part> the_part, std::shared_ptr<const part::Mesh> the_mesh, const Surroundings& s,
          const material::ThermalMaterial& metal)
        : part(std::move(the_part)), mesh(std::move(the_mesh)), surroundings(s), material(metal),
          conduction(mesh, material, faces(*mesh, s), s.ambient_k) {
        for (const part::Clamp& clamp : part->clamps) {
            clamp_law.push_back(conduction.add_law({s.ambient_k, clamp.contact_w_per_m2k, 0, 0}));
            clamp_fixed.push_back(clamp.fixed_at_start);
        }
        press_clamps();
    }

    const PassTrack& track_of(int pass) {
        const auto found = tracks.find(pass);
        return found != tracks.end() ? found->second : tracks.emplace(pass, track(*part, *mesh, pass)).first->second;
    }

    // Each clamp's contact is shared, by area, among the nodes under it, or if it is smaller than a cell among the
    // corners of the cell it stands on.
    void press_clamps() {
        std::vector<SurfacePatch> patches;
        for (std::size_t c = 0; c < part->clamps.size(); ++c) {
            const part::Clamp& clamp = part->clamps[c];
            if (!clamp_fixed[c] || clamp.contact_area_m2 <= 0 || clamp.contact_w_per_m2k <= 0)
                continue;
            const part::Attachment place = attach(*mesh, clamp.panel, clamp.at);
            const double radius_m = std::sqrt(clamp.contact_area_m2 / std::numbers::pi);
            const part::PanelGrid& grid = mesh->panels[clamp.panel];
            std::vector<std::pair<int, double>> under;
            double sum = 0;
            for (int node = grid.first_node; node < grid.first_node + grid.nu * grid.nv; ++node)
                if (mesh->node_alive[node] && (mesh->position_m[node] - place.position).norm() <= radius_m) {
                    const double face_m2 = conduction.grid().face_m2[conduction.grid().slot_of_node[node]];
                    under.emplace_back(node, face_m2);
                    sum += face_m2;
                }
            if (under.size() < 4) {
                under.clear();
                sum = 1;
                for (std::size_t k = 0; k < 4; ++k)
                    under.emplace_back(place.node[k], place.weight[k]);
            }
            for (const auto& [node, share] : under)
                patches.push_back({node, clamp.contact_area_m2 * share / sum, clamp_law[c], Account::block});
        }
        conduction.set_patches(std::move(patches));
    }

    const std::vector<double>& temperatures() const {
        if (temperature_step != conduction.steps()) {
            conduction.temperatures_k(temperature_k);
            temperature_step = conduction.steps();
        }
        return temperature_k;
    }
};

WeldHeat::WeldHeat(std::shared_ptr<const part::Part> part, std::shared_ptr<const part::Mesh> mesh,
                   const Surroundings& surroundings, const material::ThermalMaterial& material, double step_scale)
    : state_(std::make_unique<State>(std::move(part), std::move(mesh), surroundings, material)) {
    state_->step_scale = step_scale;
}
WeldHeat::~WeldHeat() = default;
WeldHeat::WeldHeat(const WeldHeat& other) : state_(std::make_unique<State>(*other.state_)) {}

void WeldHeat::weld(const Arc& arc, const Observer& observer, std::stop_token stop) {
    State& s = *state_;
    const PassTrack& track = s.track_of(arc.pass);
    const MovingSource source(*s.mesh, s.conduction.grid(), track, arc);
    std::vector<Bridge> bead = bridges(*s.part, *s.mesh, arc.pass, track, arc.throat_m);
    if (arc.reversed)
        std::ranges::reverse(bead);
    s.conduction.plan_bridges(bead);
    std::size_t laid = 0; // bridges behind the torch

    const double start_s = s.conduction.time_s();
    const double step_s =
        s.step_scale * SuperStep(source.longest_step_s(), s.conduction.explicit_step_s()).cheapest_s();
    const int steps = std::max(1, static_cast<int>(std::ceil(source.duration_s() / step_s)));
    const auto since = [&](int step) { return source.duration_s() * step / steps; };
    for (int k = 0; k < steps && !stop.stop_requested(); ++k) {
        s.conduction.set_sources(source.powers(since(k), since(k + 1)));
        s.conduction.advance(since(k + 1) - since(k));

        // The metal conducts where it has been laid; a plug once it is full.
        const auto behind = static_cast<std::size_t>(static_cast<double>(bead.size()) * (k + 1) / steps);
        if (track.length_m > 0 || k + 1 == steps)
            s.conduction.lay_bridges(behind - std::exchange(laid, behind));
        if (observer)
            observer({start_s + since(k + 1), true, source.torch(since(k + 1))});
    }
    s.conduction.set_sources({});
    s.quiet_s = 0;
}

void WeldHeat::wait(double time_s, double until_below_k, const Observer& observer, std::stop_token stop,
                    double at_most_s) {
    State& s = *state_;
    const double begin_s = s.conduction.time_s();
    const double first_s = std::min(s.conduction.explicit_step_s(), 1.0);
    const auto hot = [&] { return until_below_k > 0 && s.conduction.hottest_k() > until_below_k; };
    while (!stop.stop_requested()) {
        const double waited_s = s.conduction.time_s() - begin_s;
        const double left_s = time_s - waited_s;
        const bool timed = left_s > 1e-9 * std::max(1.0, time_s);
        if (!timed && (!hot() || waited_s >= at_most_s))
            return;
        const double grown_s = std::clamp(step_growth * s.quiet_s, first_s, longest_step_s);
        double step_s = s.step_scale * SuperStep(grown_s, s.conduction.explicit_step_s()).longest_s();
        if (timed)
            step_s = left_s < 1.5 * step_s ? left_s : step_s;
        else
            step_s = std::min(step_s, std::max(at_most_s - waited_s, 1e-6));

        const double before_k = s.conduction.hottest_k();
        s.conduction.advance(step_s);
        // Past the temperature waited for: go back and take the part of the step that reaches it.
        for (int attempt = 0; !timed && attempt < 6; ++attempt) {
            const double now_k = s.conduction.hottest_k();
            if (now_k >= until_below_k - until_within_k || now_k >= before_k)
                break;
            step_s *= std::clamp((before_k - until_below_k + 0.5 * until_within_k) / (before_k - now_k), 0.01, 0.99);
            s.conduction.undo();
            s.conduction.advance(step_s);
        }
        s.quiet_s += step_s;
        if (observer)
            observer({s.conduction.time_s(), false, part::Point::Zero()});
    }
}

void WeldHeat::preheat(double kelvin) {
    State& s = *state_;
    for (int node = 0; node < s.mesh->node_count(); ++node)
        if (s.mesh->node_alive[node] && s.conduction.temperature_k(node) < kelvin)
            s.conduction.set_temperature(node, kelvin);
    s.temperature_step = -1;
    s.quiet_s = 0;
}

void WeldHeat::set_clamp(int clamp, bool fixed) {
    state_->clamp_fixed[clamp] = fixed;
    state_->press_clamps();
    state_->quiet_s = 0;
}

double WeldHeat::time_s() const { return state_->conduction.time_s(); }
const std::vector<double>& WeldHeat::temperature_k() const { return state_->temperatures(); }
double WeldHeat::hottest_k() const { return state_->conduction.hottest_k(); }

std::vector<double> WeldHeat::peak_k() const {
    std::vector<double> peak;
    state_->conduction.peaks_k(peak);
    return peak;
}

double WeldHeat::hottest_along_k(int pass) const {
    State& s = *state_;
    if (!s.along.contains(pass))
        s.along[pass] = nodes_along(*s.mesh, s.track_of(pass));
    double hottest = 0;
    for (const int node : s.along[pass])
        hottest = std::max(hottest, s.conduction.temperature_k(node));
    return hottest;
}

Energy WeldHeat::energy() const {
    const HeatAccounts a = state_->conduction.accounts();
    return {a.brought_j, a.stored_j, a.lost_j[static_cast<std::size_t>(Account::air)],
            a.lost_j[static_cast<std::size_t>(Account::block)]};
}

int WeldHeat::steps() const { return state_->conduction.steps(); }
const part::Part& WeldHeat::part() const { return *state_->part; }
const part::Mesh& WeldHeat::mesh() const { return *state_->mesh; }
const Surroundings& WeldHeat::surroundings() const { return state_->surroundings; }
const material::ThermalMaterial& WeldHeat::material() const { return state_->material; }
long long WeldHeat::node_stages() const { return state_->conduction.node_stages(); }

} // namespace holdtrue::heat
