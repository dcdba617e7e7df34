// Transient temperature of a part while it is welded: thickness-averaged conduction on the panel mesh,
//   dh/dt = div(k(T) grad T) + q_arc - losses of both faces - clamps      [W/m^3]
// with h the enthalpy per volume of material/steel.h. The unknown is h, the flux uses the Kirchhoff transform
// theta(T) = int k dT, so that what leaves one node reaches the next to the last bit.
// Panels exchange heat only where a tack, a run or a plug joins them, from the moment it is laid.
#pragma once

#include "material/thermal_material.h"
#include "part/mesh.h"

#include <functional>
#include <memory>
#include <stop_token>
#include <vector>

namespace holdtrue::heat {

struct Surroundings {
    double ambient_k = 293.15;
    double convection_w_per_m2k = 10; // each face
    double emissivity = 0.7;          // each face; EN 1993-1-2 cl. 2.2(2)
};

// The arc of one pass: net power spread as a Gaussian about a torch that moves along the pass at constant speed, or
// rests on a plug. `share_a` of it falls on the joint's panel_a, the rest on panel_b.
struct Arc {
    int pass = 0;
    bool reversed = false;
    double net_power_w = 0;
    double travel_m_per_s = 0; // runs and tacks
    double plug_s = 0;         // plugs: time the arc rests
    double sigma_m = 0.004;
    double share_a = 0.5;
    double throat_m = 0; // of the bead it leaves, through which the panels conduct afterwards
};

struct Energy {
    double brought_j = 0, stored_j = 0, lost_to_air_j = 0, lost_to_clamps_j = 0;
};

// Called after every time step (never while one is under way).
struct Moment {
    double time_s;
    bool arc_on;
    part::Point torch;
};
using Observer = std::function<void(const Moment&)>;

class WeldHeat {
public:
    // step_scale multiplies every time step; smaller ones are for showing that the steps taken are small enough.
    WeldHeat(std::shared_ptr<const part::Part> part, std::shared_ptr<const part::Mesh> mesh,
             const Surroundings& surroundings,
             const material::ThermalMaterial& material = material::ThermalMaterial::steel(), double step_scale = 1);
    ~WeldHeat();
    WeldHeat(const WeldHeat& other); // goes on from the same state on its own
    WeldHeat& operator=(const WeldHeat&) = delete;

    // Lays a pass: burns the arc along it, advances the clock, then lets the panels conduct through it.
    void weld(const Arc& arc, const Observer& observer = {}, std::stop_token stop = {});
    // Lets the part cool for a time, and then until no node is hotter than until_below_k (0: not asked).
    // Gives up after `at_most_s`.
    void wait(double time_s, double until_below_k, const Observer& observer = {}, std::stop_token stop = {},
              double at_most_s = 86400);
    void preheat(double kelvin); // brings every node to at least this temperature, evenly and at once
    void set_clamp(int clamp, bool fixed);

    double time_s() const;
    const std::vector<double>& temperature_k() const; // node_count
    double hottest_k() const;
    std::vector<double> peak_k() const;     // node_count; the hottest each node has been since the start
    double hottest_along_k(int pass) const; // over both panels, within the ISO 13916 distance of the pass's path
    Energy energy() const;                  // since the start
    int steps() const;
    const part::Part& part() const;
    const part::Mesh& mesh() const;
    const Surroundings& surroundings() const;
    const material::ThermalMaterial& material() const;
    long long node_stages() const; // work done: live nodes times stages of all steps

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace holdtrue::heat
