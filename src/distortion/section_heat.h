// Heat across a section while a torch passes over it: conduction along the chain of strips, averaged over thickness,
//   t dh/dt = d/dy(t k dT/dy) + d/dx(t k dT/dx) + q(y, x) - losses of both faces        [W/m^2]
// with h the enthalpy per volume. Seen from the moving torch the field is steady, x = v * time, so the history of one
// section and the field along the plate are the same unknown T(time, strip), and d/dx = (1/v) d/dt. The axial term
// lowers a tendon force by some 1.5 % at 6 mm/s and 5 % at 3 mm/s; without it the equation marches in time alone.
// Backward Euler in time, finite volumes across; Newton iterations on temperature.
// Valid where the plate is heated through its thickness (thin plate), away from the ends of the weld.
#pragma once

#include "distortion/strip_metal.h"
#include "distortion/strip_section.h"

#include <vector>

namespace holdtrue::distortion {

struct TorchPass {
    double at_m = 0;               // weld line, on the chain
    double heat_j_per_m = 0;       // net
    double travel_m_per_s = 0.006; // > 0
    double sigma_m = 0.003;        // of the Gaussian spread of the arc, across and along
    // Of the heat, how much falls on strips below the weld line; negative: as the Gaussian lies, what would fall
    // beyond an edge being turned back.
    double share_below = -1;
};

struct HeatSettings {
    double ambient_k = 293.15;
    double convection_w_per_m2k = 10; // each face
    double emissivity = 0.7;          // each face; EN 1993-1-2 cl. 2.2(2)
    bool axial_conduction = true;
    double time_growth = 0.03; // a time step is this part of the time since the torch passed
    int steps_per_sigma = 8;   // time steps while the torch moves on by one sigma
};

// What both ways of solving share: [strip] and, along the chain, [strip - 1].
struct SectionConduction {
    SectionConduction(const StripSection& section, const StripMetal& metal, const HeatSettings& settings);

    double loss_w_per_m2(double temperature_k) const; // both faces
    double loss_slope_w_per_m2k(double temperature_k) const;

    const StripMetal& metal;
    HeatSettings settings;
    std::vector<double> area_m2, width_m;
    std::vector<double> link; // flux between neighbours [W/m] per difference of Kirchhoff potential [W/m]
};

// One row per time step that ends at a time: what the torch brings to each strip, and the temperatures it leaves.
struct PassField {
    std::vector<double> dt_s;                        // step_count
    std::vector<std::vector<double>> source_w_per_m; // [step][strip]
    std::vector<std::vector<double>> temperature_k;  // [step][strip]
};

// Adds the axial term to a field that was marched without it (axial_conduction.cpp). False where it did not settle.
bool couple_axially(const SectionConduction& section, double travel_m_per_s, const std::vector<double>& start_k,
                    PassField& field);

// From when its heat first matters at a section until it passes there.
double time_before_torch_s(const TorchPass& torch, const HeatSettings& settings);

class SectionHeat {
public:
    SectionHeat(const StripSection& section, const StripMetal& metal, const HeatSettings& settings, double start_k);

    // A torch passes: temperatures after each step, from before its heat arrives until its axial conduction has died
    // away. The clock moves on to the last of them.
    PassField pass(const TorchPass& torch);
    double cool(double at_most_s); // one step of cooling; returns the time advanced
    void set_uniform(double kelvin);

    const std::vector<double>& temperature_k() const { return temperature_k_; } // strip_count
    double hottest_k() const;
    bool is_even() const; // within 2 K: from here on metal shrinks alike and nothing yields
    double time_since_torch_s() const { return since_torch_s_; }
    bool converged() const { return converged_; }
    // Heat per metre of weld, since the start.
    double stored_j_per_m() const;
    double brought_j_per_m() const { return brought_j_per_m_; }
    double lost_j_per_m() const { return lost_j_per_m_; }

private:
    void step(double dt_s, const std::vector<double>& source_w_per_m);
    double content_j_per_m() const;

    StripSection section_;
    SectionConduction conduction_;
    std::vector<double> temperature_k_; // strip_count
    double since_torch_s_ = 0;
    double start_content_j_per_m_ = 0, brought_j_per_m_ = 0, lost_j_per_m_ = 0;
    bool converged_ = true;
};

} // namespace holdtrue::distortion
